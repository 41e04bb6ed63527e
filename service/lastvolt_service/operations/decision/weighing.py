"""A proposal weighed beside what is there: once, and again at the ends of what is not known."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Pins
from lastvolt_service.operations.circuits.judge import Asked, judge_all
from lastvolt_service.operations.circuits.mended import carried_once_sound_a
from lastvolt_service.operations.circuits.weakest import GROSSLY
from lastvolt_service.operations.decision.advice import Advice, Decision, decide
from lastvolt_service.operations.decision.given_ways import (
    GivenWay,
    thicker,
    thicker_beside_relay,
)
from lastvolt_service.operations.decision.proposal import (
    DecisionRequest,
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.decision.screen import screen
from lastvolt_service.operations.decision.to_measure import to_measure
from lastvolt_service.operations.decision.to_stay import in_its_start, staying
from lastvolt_service.operations.decision.ways import (
    MOST_TOGETHER,
    Treatment,
    Tried,
    Ways,
    battery_of,
    poor_contacts,
)
from lastvolt_service.operations.decision.worn import worn_in
from lastvolt_service.operations.results import Check, relative_margin
from lastvolt_service.operations.starting.starter import StarterMotor
from lastvolt_service.words import catalogue

# Where the battery or the circuit is at fault anyway, no interval of the wiring changes the advice.
SETTLED: frozenset[Advice] = frozenset({"find_out_first", "not_the_wiring"})
# What may fit new parts.
OF_NEW_PARTS: frozenset[Advice] = frozenset({"mend", "relay", "mend_then_relay", "insurance"})
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
        In every case, within all bounds; None where no relay is proposed.
    costs : tuple of Mend
        What the parts cost the load as it is, in its poorest case.
    screened : tuple of Check
        What the proposal was looked at for.
    decision : Decision
        What is advised.
    """

    ways: Ways
    as_is: Tried
    proposed: Tried | None
    costs: tuple[Mend, ...]
    screened: tuple[Check, ...]
    decision: Decision

    @property
    def poorest(self) -> int:
        """Place of the case in which the load has the least to spare as it is."""
        return self.as_is.poorest(self.ways.asked.load)


def weigh(
    asked: DecisionRequest,
    given: Sequence[GivenWay] = (),
    not_to_be_had: AbstractSet[str] = frozenset(),
    *,
    rewires: bool = False,
    starter: StarterMotor | None = None,
) -> Weighed:
    """Weigh a proposal, or what is there without one, in every case.

    Parameters
    ----------
    asked : DecisionRequest
        The question.
    given : sequence of GivenWay
        Ways beside those that are made.
    not_to_be_had : set of str
        Parts that can be neither cleaned nor bought.
    rewires : bool
        Whether thicker wires are weighed as well, after any relay.
    starter : StarterMotor or None
        That the load closes on the battery: its start is gone through in every way.

    Raises
    ------
    CalculationError
        As `judge_all`.
    """
    new, nominal_v = with_relay(asked), float(asked.system_v)
    as_is, proposed = _solved(asked, new, not_to_be_had, starter)
    relay = asked.proposal.relay.name if asked.proposal else None
    mends = poor_contacts(as_is, proposed, asked.load, relay)
    poorest = as_is.judged[as_is.poorest(asked.load)]
    costs = mending(poorest.state, asked.load, poorest.case.usual_ageing)
    batteries = {each.case.name: battery_of(asked, each) for each in as_is.judged}
    states = [judged.state for judged in as_is.judged]
    mends, hidden = _with_hidden(Ways(asked, new, batteries, mends), as_is, nominal_v)
    mends = tuple(each for each in mends if each.name not in not_to_be_had)
    ways = Ways(
        asked,
        new,
        batteries,
        mends,
        tuple(
            each.treatment(asked, carried_once_sound_a(states, each.sound))
            for each in sorted(given, key=lambda each: each.asks_for)
        ),
        tuple(_rewired(asked, costs, mends, proposed)) if rewires else (),
        not_to_be_had,
        starter,
        hidden,
    )
    words = catalogue()["relay-retrofit"]
    with_it = proposed.judged if proposed else ()
    screened = tuple(
        replace(each, way="relay").told(words)
        for each in screen(asked, new, with_it, poorest.state, costs, nominal_v)
    )
    decision = decide(ways, as_is, proposed, screened, nominal_v)
    weighed = Weighed(ways, as_is, proposed, costs, screened, decision)
    open_questions = not_said(decision.plan.treatment) if decision.plan else ()
    if open_questions and decision.advice in OF_NEW_PARTS:
        decision = replace(decision, advice="find_out_first", asked_first=open_questions)
        return replace(weighed, decision=decision)
    decides = _decides(weighed, given, rewires=rewires)
    if not decides:
        return weighed
    flips = to_measure(decides, as_is.judged[weighed.poorest], as_is.judged, asked.load)
    found_out = replace(decision, advice="find_out_first", asked_first=(flips,))
    return replace(weighed, decision=found_out)


def _rewired(
    asked: DecisionRequest, costs: Sequence[Mend], mends: Sequence[Mend], proposed: Tried | None
) -> Iterator[Treatment]:
    """Thicker wires, and with a relay that leaves the load too little those that are still thin."""
    yield from thicker(asked, costs, mends)
    if proposed is not None and proposed.short(asked.load, asked.new_names):
        poorest = proposed.judged[proposed.poorest(asked.load)]
        left = mending(poorest.state, asked.load, poorest.case.usual_ageing)
        yield from thicker_beside_relay(asked, left, mends)


def not_said(treatment: Treatment) -> tuple[Check, ...]:
    """What is not said of new parts, and decides whether they bear what they carry."""
    words, changes = catalogue()["relay-retrofit"], treatment.changes
    return tuple(each.told(words) for each in changes.unjudged) if changes else ()


def _with_hidden(
    ways: Ways, as_is: Tried, nominal_v: float
) -> tuple[tuple[Mend, ...], frozenset[str]]:
    """What is worth mending, and what is so once that is done: an open contact hides the next.

    With them the names of those of the latter that are worn.
    """
    mends = ways.mends
    drops = as_is.found(frozenset({"contact_drop"}))
    if not any(relative_margin(check) < -GROSSLY for check in drops):
        return mends, frozenset()
    shown = {check.part for check in drops}  # with a relay others are, too
    first = [each for each in mends if each.name in shown] or mends
    sound = {each.name: each.sound_ohm or 0.0 for each in first[:MOST_TOGETHER]}
    solved = ways.solve([Treatment("mend", sound)])
    found = [each for tried in solved for each in poor_contacts(tried, None, ways.asked.load, None)]
    worn = {str(check.part) for tried in solved for check in worn_in(tried, nominal_v)}
    known = {each.name for each in mends}
    more = tuple(each for each in found if each.name not in known)
    return (*mends, *more), frozenset(worn - sound.keys())


def _solved(
    asked: DecisionRequest,
    new: Circuit,
    not_to_be_had: AbstractSet[str],
    starter: StarterMotor | None,
) -> tuple[Tried, Tried | None]:
    """The circuit as it is, and with the relay where one is proposed, in every case."""
    load, system_v, cases = asked.load, asked.system_v, asked.cases
    as_is = [Asked(asked.circuit, case, system_v, load, "as_is") for case in cases]
    with_it = [case_with_relay(case, load, asked.proposal) for case in cases if asked.proposal]
    proposed = [Asked(new, case, system_v, load, "relay") for case in with_it]
    found = [staying(each, not_to_be_had) for each in judge_all([*as_is, *proposed])]
    if starter is not None:
        found = [*map(in_its_start, found)]
    if asked.proposal is None:
        return Tried(Treatment("as_is"), tuple(found)), None
    return (
        Tried(Treatment("as_is"), tuple(found[: len(cases)])),
        Tried(Treatment("relay", relay=True), tuple(found[len(cases) :])),
    )


def _decides(
    weighed: Weighed,
    given: Sequence[GivenWay],
    *,
    rewires: bool,
) -> tuple[str | int, ...]:
    """Path of the input that decides what is advised, within its bounds; empty where none does.

    The advice is asked for again where the intervals leave the load least, and most.
    """
    ways, decision = weighed.ways, weighed.decision
    asked = ways.asked
    pins = Pins(asked)
    if not pins.given or decision.advice in SETTLED:
        return ()
    effects = _effects(weighed)
    strongest = max(pins.given, key=lambda each: abs(effects.get(_named(asked, each[0]), 0.0)))
    for values in _corners(weighed, pins, effects):
        try:
            here = pins.put(iter(values))
            again = weigh(here, given, ways.not_to_be_had, rewires=rewires, starter=ways.starter)
            there = again.decision.advice
        except CalculationError:
            continue  # the study of the bounds tells of that
        if AS_GOOD.get(there, there) != AS_GOOD.get(decision.advice, decision.advice):
            return _named(asked, strongest[0])
    return ()


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


def _named(asked: DecisionRequest, path: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """The path with the name of a case in place of its number."""
    field, *rest = path
    if field != "cases":
        return path
    return (field, asked.cases[int(rest[0])].name, *rest[1:])
