"""A proposal weighed beside what is there: once, and again at the ends of what is not known."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Pins
from lastvolt_service.operations.circuits.judge import Asked, Judged, judge_all
from lastvolt_service.operations.decision.advice import Advice, Decision, decide
from lastvolt_service.operations.decision.proposal import (
    RelayRetrofitRequest,
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.decision.screen import screen
from lastvolt_service.operations.decision.ways import (
    Treatment,
    Tried,
    Ways,
    battery_of,
    part_at,
    poor_contacts,
)
from lastvolt_service.operations.judging import UNDECIDED
from lastvolt_service.operations.judging import Judged as Verdict
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.words import catalogue

# Where the battery or the circuit is at fault anyway, no interval of the wiring changes the advice.
SETTLED: frozenset[Advice] = frozenset({"find_out_first", "not_the_wiring"})
# Nothing needs to be done in either.
AS_GOOD: Mapping[Advice, Advice] = {"insurance": "nothing_needed"}


@dataclass(frozen=True, slots=True)
class Weighed:
    """A proposal that was weighed.

    Attributes
    ----------
    ways : Ways
        What may be done, with the question.
    as_is, proposed : Tried
        In every case, within all bounds.
    costs : tuple of Mend
        What the parts cost the load as it is, in its poorest case.
    screened : tuple of Check
        What the proposal was looked at for.
    decision : Decision
        What is advised.
    """

    ways: Ways
    as_is: Tried
    proposed: Tried
    costs: tuple[Mend, ...]
    screened: tuple[Check, ...]
    decision: Decision

    @property
    def poorest(self) -> int:
        """Place of the case in which the load has the least to spare as it is."""
        return self.as_is.poorest(self.ways.asked.load)


def weigh(asked: RelayRetrofitRequest) -> Weighed:
    """Weigh a proposal in every case.

    Raises
    ------
    CalculationError
        As `judge_all`.
    """
    new, system_v = with_relay(asked), asked.system_v
    pairs = _solved(asked, new)
    as_is = Tried(Treatment("as_is"), tuple(each for each, _ in pairs))
    proposed = Tried(Treatment("relay", relay=True), tuple(each for _, each in pairs))
    ways = Ways(
        asked,
        new,
        {each.case.name: battery_of(asked, each) for each in as_is.judged},
        poor_contacts(as_is, proposed, asked.load, asked.proposal.relay.name),
    )
    poorest = as_is.judged[as_is.poorest(asked.load)]
    costs = mending(poorest.state, asked.load, poorest.case.usual_ageing)
    words = catalogue()["relay-retrofit"]
    screened = tuple(
        replace(each, way="relay").told(words)
        for each in screen(asked, new, proposed.judged, costs, float(system_v))
    )
    decision = decide(ways, as_is, proposed, screened, float(system_v))
    weighed = Weighed(ways, as_is, proposed, costs, screened, decision)
    decides = _decides(weighed)
    if not decides:
        return weighed
    part = part_at(decides, asked.circuit)
    undecided = Verdict(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNDECIDED)
    flips = Checked("advice", undecided, "V", COMMON_PRACTICE, part=part).told(words)
    found_out = replace(decision, advice="find_out_first", asked_first=(flips,))
    return replace(weighed, decision=found_out)


def _solved(asked: RelayRetrofitRequest, new: Circuit) -> list[tuple[Judged, Judged]]:
    """The circuit as it is and with the relay, in every case."""
    load, system_v = asked.load, asked.system_v
    with_it = [case_with_relay(case, load, asked.proposal) for case in asked.cases]
    found = judge_all(
        [
            version
            for case, here in zip(asked.cases, with_it, strict=True)
            for version in (
                Asked(asked.circuit, case, system_v, load, "as_is"),
                Asked(new, here, system_v, load, "relay"),
            )
        ]
    )
    return list(zip(found[::2], found[1::2], strict=True))


def _decides(weighed: Weighed) -> list[str]:
    """Path of the input that decides what is advised, within its bounds; empty where none does.

    The advice is asked for again where the intervals leave the load least, and most.
    """
    asked, decision = weighed.ways.asked, weighed.decision
    pins = Pins(asked)
    if not pins.given or decision.advice in SETTLED:
        return []
    effects = _effects(weighed)
    strongest = max(pins.given, key=lambda each: abs(effects.get(_named(asked, each[0]), 0.0)))
    for values in _corners(weighed, pins, effects):
        try:
            there = weigh(pins.put(iter(values))).decision.advice
        except CalculationError:
            continue  # the study of the bounds tells of that
        if AS_GOOD.get(there, there) != AS_GOOD.get(decision.advice, decision.advice):
            return [*map(str, strongest[0])]
    return []


def _effects(weighed: Weighed) -> dict[tuple[str | int, ...], float]:
    """What each interval does to what the load has to spare, in the poorest case. [V]."""
    within = weighed.as_is.judged[weighed.poorest].within
    return within.effects("load_margin", weighed.ways.asked.load)


def _corners(
    weighed: Weighed, pins: Pins, effects: Mapping[tuple[str | int, ...], float]
) -> Iterator[list[float]]:
    """Values of all intervals that leave the load least, and those that leave it most.

    What says nothing of that in the poorest case stays in its middle.
    """
    for sign in (1.0, -1.0):
        values = []
        for path, each in pins.given:
            effect = sign * effects.get(_named(weighed.ways.asked, path), 0.0)
            ends = (each.low, 0.5 * (each.low + each.high), each.high)
            values.append(ends[1] if effect == 0.0 else ends[0] if effect > 0.0 else ends[2])
        yield values


def _named(asked: RelayRetrofitRequest, path: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """The path with the name of a case in place of its number."""
    field, *rest = path
    if field != "cases":
        return path
    return (field, asked.cases[int(rest[0])].name, *rest[1:])
