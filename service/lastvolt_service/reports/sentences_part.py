"""Sentences about single parts: wires, fuses, coils, contacts, solenoids, batteries, switches."""

from collections.abc import Callable, Mapping
from typing import Any

from lastvolt_service.reports.amounts import amount
from lastvolt_service.reports.sentences import Told

Request = Mapping[str, Any]


def _v(value: float) -> str:
    return amount(value, "V")


def _a(value: float) -> str:
    return amount(value, "A")


def _c(value: float) -> str:
    return amount(value, "degC")


def _ohm(value: float) -> str:
    return amount(value, "ohm")


def _spare(margin_v: float) -> str:
    return f"{_v(margin_v)} to spare" if margin_v >= 0 else f"{_v(-margin_v)} short"


<<<<<<< HEAD
def _wire_sizing(request: Request, answer: Any) -> Told:
    tried = answer.candidates
    if answer.size is None:
        last = tried[-1]
        return Told(
            f"No size up to {last.size} passes everything.",
            (f"{last.size} fails: {', '.join(last.failing)}.",),
            verdict="Fails",
        )
    smaller = tuple(
        f"{each.size} is too small: {', '.join(each.failing)}." for each in reversed(tried[:-1])
    )
    return Told(
        f"{answer.size} is the smallest size that carries {_a(request['load_current_a'])} over "
        f"{amount(request['length_m'], 'm')} one way.",
        (
            f"It loses {_v(answer.drop_v)} of the {_v(answer.limit_drop_v)} allowed, reaches "
            f"{_c(answer.conductor_temperature_c)} in air of {_c(answer.ambient_c)}, and takes a "
            f"fuse of {_a(answer.fuse_rating_a)} ({answer.fuse_family}).",
            *smaller[:1],
=======
def _wire_resistance(request: Request, answer: Any) -> Told:
    return Told(
        f"{amount(request['length_m'], 'm')} of {answer.size} have {_ohm(answer.resistance_ohm)} "
        f"at {_c(request['temperature_c'])}.",
        (
            f"That is {answer.resistance_ohm_per_m * 1000:.3g} mΩ for each metre; "
            f"{amount(answer.area_mm2, 'mm2')} of metal, size by {answer.standard}.",
>>>>>>> house
        ),
    )


<<<<<<< HEAD
def _fuse_selection(request: Request, answer: Any) -> Told:
    window = (
        f"the load asks for {_a(answer.lower_a)} or more, the wire is protected up to "
        f"{_a(answer.upper_a)}"
    )
    bears = f"The wire may carry {_a(answer.permissible_current_a)} at {_c(answer.ambient_c)}."
    if answer.fuse_rating_a is None:
        return Told(f"No standard rating fits: {window}.", (bears,))
    return Told(
        f"A fuse of {_a(answer.fuse_rating_a)} ({answer.fuse_family}) carries "
        f"{_a(request['load_current_a'])} and protects the wire: {window}.",
        (bears,),
        ("fuse carries the load", "fuse protects the wire"),
    )


PART_SENTENCES: Mapping[str, Callable[[Request, Any], Told]] = {
    "wire-sizing": _wire_sizing,
    "fuse-selection": _fuse_selection,
=======
PART_SENTENCES: Mapping[str, Callable[[Request, Any], Told]] = {
    "wire-resistance": _wire_resistance,
>>>>>>> house
}
