"""Where to hold a meter's leads before and after, and what it should show."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.decision.sheet_words import sentence
from lastvolt_service.operations.decision.wiring_table import Fitting
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.meter.leads import WholeCode, between, leads, volts


@dataclass(frozen=True, slots=True)
class Expected:
    """What the meter should show in one case."""

    case: Annotated[str, "the case as the request names it"]
    as_is_v: Annotated[float | None, "before; null where there is nothing to measure yet"]
    with_relay_v: Annotated[float | None, "with the relay, and nothing else changed"]


@dataclass(frozen=True, slots=True)
class SheetReading:
    """One reading, with the switch closed and the load on."""

    number: Annotated[int, "of the line"]
    code: Annotated[WholeCode, "what is measured"]
    red: Annotated[str, "where the red lead goes: a node, or a part with its terminal"]
    black: Annotated[str, "where the black lead goes"]
    expected: Annotated[tuple[Expected, ...], "in every case, in the order of the request"]
    text: Annotated[str, "what it tells"]


def readings(
    fit: Fitting, as_is: Sequence[State], with_relay: Sequence[State], cases: Sequence[str]
) -> tuple[SheetReading, ...]:
    """Tell each reading of a sheet, its red lead where there is plus.

    Parameters
    ----------
    fit : Fitting
        The relay in its circuit.
    as_is, with_relay : sequence of State
        At rest, case by case.
    cases : sequence of str
        Names of these.
    """
    before, after = [volts(each) for each in as_is], [volts(each) for each in with_relay]
    places = leads(fit.asked.circuit, fit.old, fit.asked.switch, fit)
    found = []
    for number, (code, (first, second)) in enumerate(places.items(), 1):
        expected = [
            Expected(
                name,
                between(first.as_is, second.as_is, old),
                between(first.with_relay, second.with_relay, new),
            )
            for name, old, new in zip(cases, before, after, strict=True)
        ]
        shown = [v for each in expected for v in (each.as_is_v, each.with_relay_v) if v is not None]
        red, black = first.label, second.label
        if sum(shown) < 0.0:
            red, black = black, red
            expected = [_turned(each) for each in expected]
        text = sentence(code, load=fit.old.name, switch=fit.asked.switch)
        found.append(SheetReading(number, code, red, black, tuple(expected), text))
    return tuple(found)


def note(fit: Fitting) -> str:
    """What to heed with the meter: a plunger moves faster than it reads, and a starter cranks."""
    pulls_in = None
    if kept_still(fit):
        pulls_in = "starter"
    elif isinstance(fit.old, SolenoidLoad) and not fit.of_a_starter:
        pulls_in = "other"
    return sentence("meter_note", load=fit.old.name, pulls_in=pulls_in, switch=fit.asked.switch)


def kept_still(fit: Fitting) -> bool:
    """Whether the volts are those of a starter that does not turn: nobody said what it draws."""
    told = any(each.circuit == STARTER_MOTOR for each in fit.asked.circuit.loads)
    return isinstance(fit.old, SolenoidLoad) and fit.of_a_starter and not told


def _turned(each: Expected) -> Expected:
    old, new = (None if v is None else 0.0 - v for v in (each.as_is_v, each.with_relay_v))
    return Expected(each.case, old, new)
