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


def _wire_resistance(request: Request, answer: Any) -> Told:
    return Told(
        f"{amount(request['length_m'], 'm')} of {answer.size} have {_ohm(answer.resistance_ohm)} "
        f"at {_c(request['temperature_c'])}.",
        (
            f"That is {answer.resistance_ohm_per_m * 1000:.3g} mΩ for each metre; "
            f"{amount(answer.area_mm2, 'mm2')} of metal, size by {answer.standard}.",
        ),
    )


PART_SENTENCES: Mapping[str, Callable[[Request, Any], Told]] = {
    "wire-resistance": _wire_resistance,
}
