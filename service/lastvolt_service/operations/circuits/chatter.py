"""Relays that find no rest: for what feeds their coils, or because two bar each other."""

from collections.abc import Iterator

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.judging import FAIL, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING


def chatter_checks(state: State, metal: Metal) -> Iterator[Checked]:
    """Say of every relay that neither holds nor releases what makes it so."""
    model, coils = state.model, state.model.parts["coils"]
    moving = {coils[index].name: index for index in state.solution.chatter}
    cut_off = {name: over for name in moving if (over := _cut_off(state, metal, name, moving))}
    rests = bool(moving) and any(_rests_with(state, name) for name in moving)
    for name, index in moving.items():
        volts, limit = abs(float(state.flow("coils").drop_v[index])), model.relays[index].pick_up_v
        code, judged, detail = "relay_rest", flatly(FAIL, volts, limit), cut_off.get(name)
        if rests:
            code, judged = "first_wins", flatly(UNKNOWN)
        elif detail is not None:
            code = "coil_over_break"
        elif _follows(state, metal, name, cut_off):
            continue  # one that is cut off makes it come and go
        else:
            detail = _takes_its_voltage(state, metal, coils[index], limit - volts)
        yield Checked(code, judged, "V", SCALING, part=name, detail=detail)


def _contacts(state: State, relay: str, *, breaks: bool) -> list[Part]:
    opens = state.model.network.contacts.normally_closed
    return [
        part
        for part, is_break in zip(state.model.parts["contacts"], opens, strict=True)
        if part.name == relay and bool(is_break) == breaks
    ]


def _cut_off(state: State, metal: Metal, name: str, moving: dict[str, int]) -> str | None:
    """The relay, itself first, over whose break contact it is fed; a resistor is no other way."""
    coil = state.model.parts["coils"][moving[name]]
    resistances = [part for part in state.model.parts["resistors"] if part.kind == "resistance"]
    for other in (name, *(each for each in moving if each != name)):
        contact = _contacts(state, other, breaks=True)
        if not contact:
            continue
        fed = metal.sides(resistances).feed(coil)
        if not metal.sides(contact).feed(coil) or (
            fed and not metal.sides([*resistances, *contact]).feed(coil)
        ):
            return other
    return None


def _follows(state: State, metal: Metal, name: str, others: dict[str, str]) -> bool:
    coil = state.model.parts["coils"][[r.name for r in state.model.relays].index(name)]
    return any(
        not metal.sides(_contacts(state, other, breaks=False)).feed(coil)
        for other in others
        if other != name
    )


def _rests_with(state: State, name: str) -> bool:
    """Whether all find rest where one has pulled in before the others."""
    model = state.model
    try:
        held = rest(model.circuit, changed(model.case, held=[*model.case.held, name]))
    except CalculationError:
        return False
    return not held.solution.chatter


def _takes_its_voltage(state: State, metal: Metal, coil_part: Part, wanting_v: float) -> str | None:
    """The contact before a coil without whose drop it would have what it wants; None where none."""
    drops = {
        part.name: abs(drop_v)
        for part, drop_v, _ in state.carrying("resistors")
        if part.kind == "contact"
        and abs(drop_v) >= wanting_v
        and not metal.sides([part]).feed(coil_part)
    }
    return max(drops, key=drops.__getitem__, default=None)
