"""What is made up where nothing is said, and how much each of it matters."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.decision.quick_circuit import (
    Guess,
    Guessed,
    Sizes,
    guessed,
    usual_sizes,
)
from lastvolt_service.operations.decision.quick_heat import bearing
from lastvolt_service.operations.decision.quick_question import full_request
from lastvolt_service.operations.decision.quick_request import ZONES, QuickAnswerRequest
from lastvolt_service.operations.decision.quick_step import NAME
from lastvolt_service.operations.decision.quick_study import (
    NEEDED,
    VOLTS,
    Studied,
    Within,
    studied,
)
from lastvolt_service.operations.decision.remarks import remark
from lastvolt_service.operations.decision.remedy_choice import RemedyChoiceRequest
from lastvolt_service.operations.decision.usual_relay import RELAY
from lastvolt_service.operations.results import Check
from lastvolt_service.tables import usual
from lastvolt_service.units import Interval

# Unit of each number that may be assumed, and what is said of why; of what is no number, too.
UNITS = {
    "open_circuit_v": "V",
    "internal_resistance_ohm": "ohm",
    "resistance_ohm": "ohm",
    "length_m": "m",
    "current_a": "A",
    "needed_v": "V",
    "pull_in_v": "V",
    "on_time_s": "s",
}
WHY = {
    "open_circuit_v": "why_charged",
    "internal_resistance_ohm": "why_sound",
    "resistance_ohm": "why_worn",
    "length_m": "why_about",
    "current_a": "why_usual_current",
    "needed_v": "why_needed",
    "pull_in_v": "why_pull_in",
    "on_time_s": "why_on_time",
    "cases": "why_cases",
    "zone": "why_zone",
    "size": "why_usual_size",
}


@dataclass(frozen=True, slots=True)
class MadeUp:
    """What was found of the circuit with each size that its wire may have.

    Attributes
    ----------
    full : RemedyChoiceRequest
        With the thinnest.
    guesses : list of Guess
        What nobody said.
    each : list of Studied
        The thinnest first.
    sizes : Sizes
        Those sizes.
    heat : Check or None
        Current of the wire at the most that is assumed, where its usual or given size may burn.
    case : str
        The one in which it fails, else the poorest.
    """

    full: RemedyChoiceRequest
    guesses: list[Guess]
    each: list[Studied]
    sizes: Sizes
    heat: Check | None
    case: str

    @property
    def thin(self) -> Studied:
        """With the thinnest."""
        return self.each[0]

    def within(self, what: str, case: str) -> Within:
        """What a voltage does in a case, whatever the size."""
        spreads = [each.spread(what, case) for each in self.each]
        return Within(min(each.low for each in spreads), max(each.high for each in spreads))


def made_up(asked: QuickAnswerRequest) -> MadeUp:
    """Make up the circuit with each size that its wire may have, and solve it within its bounds."""
    sizes, heat = bearing(asked, usual_sizes(asked))
    thin, *thicker = [guessed(asked, size, sizes) for size in sizes.names]
    full = full_request(asked, thin)
    others = [changed(full, circuit=each.circuit, cases=each.cases) for each in thicker]
    each = [studied(full), *map(studied, others)]
    fails = [case.name for case in usual.cases() if case.fails == asked.fails != "always"]
    return MadeUp(full, thin.guesses, each, sizes, heat, *(fails or [each[0].poorest]))


@dataclass(frozen=True, slots=True)
class Assumed:
    """Something that the request did not say, and what was taken in its place."""

    code: Annotated[
        str,
        "open_circuit_v, internal_resistance_ohm, resistance_ohm, length_m, current_a, needed_v, "
        "pull_in_v, on_time_s, size, zone, cases or relay",
    ]
    field: Annotated[str, "JSON Pointer to where it stands in the full request"]
    part: Annotated[str | None, "that it belongs to, as the full request calls it"]
    low: Annotated[float | None, "the least, in `unit`; null of what is no number"]
    high: Annotated[float | None, "the most, in `unit`; null of what is no number"]
    value: Annotated[str | None, "what is no number, such as a size; null of numbers"]
    unit: Annotated[str, "of low and high; empty where there are none"]
    why: Annotated[str, "why it is taken so, in a sentence"]
    mark: Annotated[str, "publication, or common practice"]
    matters_v: Annotated[
        float, "how much it moves what the load has to spare, from one end to the other"
    ]


def assumptions(asked: QuickAnswerRequest, made: MadeUp) -> tuple[Assumed, ...]:
    """What was not said, what matters most first; then what matters nothing."""
    effects = made.thin.effects[made.case]
    told = []
    for each in made.guesses:
        bounds = each.value if isinstance(each.value, Interval) else None
        told.append(
            Assumed(
                each.field,
                _pointer(each.path[:3] if each.field == "current_a" else each.path),
                each.part,
                bounds.low if bounds else None,
                bounds.high if bounds else None,
                None if isinstance(each.value, Interval) else each.value,
                UNITS.get(each.field, "") if bounds else "",
                remark(WHY[each.field], part=each.part, of=NAME).message,
                each.mark,
                _matters_v(asked, made, each, effects),
            )
        )
    if made.full.ways:
        mark, why = usual.relays()[0].citation, remark("why_relay", of=NAME).message
        told.append(
            Assumed(
                "relay", "/ways/0/relay/relay", RELAY, None, None, "usual relay", "", why, mark, 0.0
            )
        )
    return tuple(sorted(told, key=lambda each: -each.matters_v))


def _matters_v(
    asked: QuickAnswerRequest, made: MadeUp, guess: Guess, effects: dict[Path, float]
) -> float:
    if guess.field == "zone":
        return _zone_matters_v(asked, made)
    if guess.field == "size":
        return _apart(made.each, made.case)
    return abs(effects.get(guess.path, 0.0))


def _zone_matters_v(asked: QuickAnswerRequest, made: MadeUp) -> float:
    """From the coolest place to the hottest."""
    size = made.sizes.names[0]
    ends = []
    for zone in (min(ZONES), "on_the_engine"):
        there: Guessed = guessed(changed(asked, zone=zone), size, made.sizes)
        ends.append(studied(changed(made.full, circuit=there.circuit, cases=there.cases)))
    return _apart(ends, made.case)


def _apart(ends: list[Studied], case: str) -> float:
    """How far what the load has to spare lies apart, with all else in the middle. [V]."""
    margins = [
        each.spread(VOLTS, case).nominal - each.spread(NEEDED, case).nominal for each in ends
    ]
    return max(margins) - min(margins)


def _pointer(path: Path) -> str:
    return "".join(f"/{each}" for each in path)
