"""Which way to help a load, in which order, and what each step brings.

Ways that are given stand beside those that are made: the circuit as it is, the battery seen to,
each poor contact mended, all of them. Each is screened, solved in every case and held against what
the load needs; the plainest that works with a reserve is taken. Of several relays the one that is
safe, works and asks for least is weighed. Where the advice is not the same within all bounds, what
to measure comes first.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar
from weakref import WeakKeyDictionary

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import ABSENT, Broken, many, part
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Cases, with_usual_starts
from lastvolt_service.operations.circuits.load_checks import JOINTS
from lastvolt_service.operations.circuits.loads import AnyLoad, starter_cautions
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.source_checks import battery_cautions
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.circuits.switching import ruled
from lastvolt_service.operations.circuits.weakest import burns
from lastvolt_service.operations.circuits.work import BOUND_OF_REMEDIES
from lastvolt_service.operations.decision.advice import Advice
from lastvolt_service.operations.decision.given_ways import GivenWay
from lastvolt_service.operations.decision.options import Option, as_good, options_of, ways_of
from lastvolt_service.operations.decision.plan import PlanStep, steps_of
from lastvolt_service.operations.decision.proposal import (
    DecisionRequest,
    RelayRetrofitRequest,
    at_the_proposal,
)
from lastvolt_service.operations.decision.reasons import reasons_for
from lastvolt_service.operations.decision.relay_retrofit import (
    NEW_RISKS,
    BarredBy,
    BatteryState,
    Nearest,
    barred_by,
    battery_state,
    burns_until_then,
    checks_of,
    nearest_way,
    staying,
)
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.versions import Version, in_full, side_by_side
from lastvolt_service.operations.decision.ways import Tried, Way
from lastvolt_service.operations.decision.weighing import Weighed, weigh
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    ON_THE_VEHICLE,
    Check,
    Result,
    merge,
)
from lastvolt_service.operations.starting.starter import StarterMotor
from lastvolt_service.operations.steps import Steps

NAME = "remedy-choice"
MOST_WAYS = 8


class RemedyChoiceRequest(DecisionRequest):
    """A circuit as it is, a load that is to be helped, and the ways that are thought of."""

    bound: ClassVar[str] = BOUND_OF_REMEDIES

    ways: Sequence[GivenWay] = many(
        GivenWay, "ways beside those that are made", minimum=0, maximum=MOST_WAYS
    )
    not_to_be_had: Sequence[str] = many(
        label("a contact"),
        "contacts that can be neither cleaned nor bought, such as an old key switch",
        minimum=0,
    )
    starter: StarterMotor | None = part(
        StarterMotor,
        "main contact and motor of the starter whose solenoid the load is: each way is held "
        "against a whole start, and one in which a relay or the plunger lets go is not advised",
        default=ABSENT,
    )

    example: ClassVar = {
        **{
            key: RelayRetrofitRequest.example[key] for key in ("circuit", "cases", "load", "switch")
        },
        "ways": [
            {
                "name": "relay at the starter",
                "relay": RelayRetrofitRequest.example["proposal"],
                "work_h": 2.5,
            },
            {
                "name": "new key switch",
                "switch": {"resistance_ohm": 0.003, "rating_a": 30},
                "work_h": 1.0,
                "available": False,
            },
            {
                "name": "thicker feed",
                "wires": [
                    {
                        "name": "feed to key switch",
                        "kind": "wire",
                        "size": "8 AWG",
                        "length_m": 10.5,
                        "insulation": "GXL",
                    }
                ],
                "work_h": 4.0,
            },
        ],
    }

    def broken_rules(self) -> Iterator[Broken]:
        """As for any decision; and each way has a name of its own and fits the circuit."""
        yield from super().broken_rules()
        taken, names = Cases.known_names(self), set[str]()
        for place, way in enumerate(self.ways):
            twice = way.name in names
            yield twice, ("ways", place, "name"), "Another way has this name."
            names.add(way.name)
            yield from way.fits(self, taken, ("ways", place))
        contacts = {each.name for each in self.circuit.branches if isinstance(each, CircuitContact)}
        for place, name in enumerate(self.not_to_be_had):
            wrong = name not in contacts
            yield wrong, ("not_to_be_had", place), "No contact of the circuit has this name."
        yield from self._fits_the_starter()

    def _is_ruled(self, load: AnyLoad) -> bool:
        """A load with a relay of its own already is mended as it is: its switch feeds the coil."""
        alone = all(each.relay is None for each in self.ways)
        own = alone and ruled(self.circuit, load, self.switch, frozenset())
        return own or super()._is_ruled(load)

    def _fits_the_starter(self) -> Iterator[Broken]:
        """A start is reckoned from both windings, and the motor hangs on the circuit."""
        if self.starter is None:
            return
        load: Any = next((each for each in self.circuit.loads if each.name == self.load), None)
        wanting = load is not None and getattr(load, "windings", None) is None
        yield wanting, ("starter",), "Give the load as a solenoid by its windings to have a start."
        unknown = self.starter.stud_node not in self.circuit.node_names()
        yield unknown, ("starter", "stud_node"), "The circuit has no such node."

    def questions(self) -> list[tuple[DecisionRequest, GivenWay | None]]:
        """What is weighed: each relay beside what is there, and what is there alone.

        That is left out where a relay can be had: it is weighed beside it.
        """
        found: list[tuple[DecisionRequest, GivenWay | None]] = [
            (self.asked_of(way.relay), way) for way in self.ways if way.relay is not None
        ]
        can_be_had = any(way is not None and way.available for _, way in found)
        return found if can_be_had else [(self.asked_alone(), None), *found]


@dataclass(frozen=True, slots=True)
class Spared:
    """What the relay takes off the switch, in the case that is poorest as it is."""

    case: Annotated[str, "the case as the request names it"]
    as_is: Annotated[Version, "the circuit as it is"]
    with_relay: Annotated[Version, "the circuit with the relay"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyChoice(Result):
    """Answer of ``remedy-choice``."""

    advice: Annotated[
        Advice,
        "mend: restore what is there; relay; mend_then_relay; insurance: nothing is short, but the "
        "switch is at risk or the relay brings much; not_the_wiring: what feeds it, or it, is "
        "wrong; battery_first; nothing_needed; find_out_first: what is not known decides; unsafe: "
        "no relay that is given may be built as it stands; none_suffices",
    ]
    battery_state: Annotated[
        BatteryState | None,
        "the poorest in any case: frozen_or_dead; frozen, or nearly so; dead, with less than a "
        "flat one has; low; "
        "weak, by its resistance; null of a sound one",
    ]
    chosen: Annotated[
        Way | None,
        "the way that is advised; of what is unsafe or not known well enough, the one that would "
        "do; null where none does",
    ]
    nearest: Nearest
    barred_by: BarredBy
    relay_to_be_weighed: Annotated[
        bool,
        "whether nothing suffices, no relay is among the ways, and one might help: grounds and "
        "clamps, which it leaves in the load's way, do not take too much",
    ]
    plan: Annotated[
        tuple[PlanStep, ...], "its steps in order of work; empty where nothing is to do"
    ]
    reasons: Annotated[tuple[Remark, ...], "why, in order of weight"]
    burns: Annotated[
        Check | None,
        "what runs on or catches fire in what stays, whatever is advised; null where nothing does",
    ]
    burns_as_it_is: Annotated[
        Check | None, "what catches fire until that is done; null where nothing does"
    ]
    cranking_loss: Annotated[
        Check | None,
        "the contact in the starter's own way, as a strap or a clamp of its main cable, that takes "
        "most while it cranks, where that is too much and no step mends it; null elsewhere, and "
        "where no starter is given",
    ]
    options: Annotated[tuple[Option, ...], "every way that was weighed, the plainest first"]
    spared: Annotated[
        Spared | None, "what the relay would take off the switch; null where none is given"
    ]
    new_risks: Annotated[tuple[Remark, ...], "what a relay brings with it; empty without one"]


@dataclass(frozen=True, slots=True)
class Decided:
    """What to do, without what every way brings, which costs as much again.

    Attributes
    ----------
    relay_gain_v : float or None
        What the way of the best relay brings; None without one. [V]
    """

    advice: Advice
    chosen: Way | None
    plan: tuple[PlanStep, ...]
    burns: Check | None
    burns_as_it_is: Check | None
    relay_gain_v: float | None
    basis: tuple[str, ...]
    cautions: tuple[str, ...]


def decided(asked: RemedyChoiceRequest) -> Decided:
    """Weigh every way, and tell the one that is advised."""
    _, best = _choice(asked)
    asked = with_usual_starts(asked)
    decision, as_is = best.decision, best.as_is
    told = decision.plan
    works = any(ok for tried, ok in decision.tried if tried is told)
    relays = [tried for tried, _ in decision.tried if tried.treatment.relay]
    own = next((tried for tried in relays if tried.treatment.name), best.proposed)
    return Decided(
        decision.advice,
        None if told is None else told.told(asked.load, works, as_is),
        _steps(best),
        burns(staying(decision), best.ways.asked.new_names),
        burns_until_then(as_is),
        None if own is None else own.told(asked.load, works, as_is).gain_v,
        merge(*(each.state.model.basis for each in as_is.judged), (COMMON_PRACTICE,)),
        (
            *starter_cautions(asked.circuit.loads),
            *ON_THE_VEHICLE,
            FUSE_NEAR_SOURCE,
            HOT_SURFACE,
            *battery_cautions(check for each in as_is.judged for check in each.checks),
            DEFERENCE,
        ),
    )


def solve(asked: RemedyChoiceRequest) -> Outcome:
    """Weigh every way."""
    found = decided(asked)
    weighed, best = _choice(asked)
    asked = with_usual_starts(asked)
    decision, ways, as_is = best.decision, best.ways, best.as_is
    both = [
        side_by_side(ways.asked.load, ways.asked.switch, *each)
        for each in zip(as_is.judged, (best.proposed or as_is).judged, strict=True)
    ]
    # Only this case is told in full, and only where there is a relay.
    poorest = best.proposed and in_full(ways.asked, ways.new, both[best.poorest])
    options = options_of(asked, weighed, best)
    bar = barred_by(decision)
    lost = decision.lost_as_it_cranks
    return Outcome(
        {
            "advice": found.advice,
            "battery_state": battery_state(ways),
            "chosen": found.chosen,
            "nearest": nearest_way(best),
            "barred_by": bar,
            "relay_to_be_weighed": _relay_to_be_weighed(best, bar),
            "plan": found.plan,
            "reasons": (*reasons_for(decision, ways, both), *as_good(options, ways.asked.system_v)),
            "burns": found.burns,
            "burns_as_it_is": found.burns_as_it_is,
            "cranking_loss": lost[0] if lost else None,
            "options": options,
            "spared": poorest and Spared(poorest.name, poorest.as_is, poorest.proposed),
            "new_risks": tuple(remark(code) for code in NEW_RISKS) if best.proposed else (),
        },
        (),
        found.basis,
        found.cautions,
        told_checks=(*checks_of(best), *lost[:1]),
    )


_Choice = tuple[list[tuple[Weighed, GivenWay | None]], Weighed]
# How an answer came about is told, and drawn, from what it rests on. Nothing of that may hold the
# request itself, or it would never be let go.
_CHOICES: WeakKeyDictionary[RemedyChoiceRequest, _Choice] = WeakKeyDictionary()


def _choice(asked: RemedyChoiceRequest) -> _Choice:
    """All that was weighed, and the best of it."""
    found = _CHOICES.get(asked)
    if found is None:
        weighed = _all_weighed(with_usual_starts(asked))
        found = _CHOICES[asked] = weighed, _best(weighed)
    return found


def advised(asked: RemedyChoiceRequest) -> Advice:
    """The advice alone, without what each way brings."""
    return _choice(asked)[1].decision.advice


def weighed_ways(asked: RemedyChoiceRequest) -> list[tuple[Weighed, Tried]]:
    """What the options of the answer rest on, in their order."""
    return list(ways_of(*_choice(asked)))


def _all_weighed(asked: RemedyChoiceRequest) -> list[tuple[Weighed, GivenWay | None]]:
    """Each relay weighed beside what is there and may be done without it."""
    leave = frozenset(asked.not_to_be_had)
    others = [each for each in asked.ways if each.relay is None]
    found = []
    for question, way in asked.questions():
        # What a way has beside its relay makes it one more.
        more = [way] if way is not None and way.has_more else []
        try:
            weighed = weigh(question, [*others, *more], leave, rewires=True, starter=asked.starter)
            found.append((weighed, way))
        except CalculationError as error:
            if way is None or way.relay is None:
                raise
            path = ("ways", asked.ways.index(way), "relay")
            raise at_the_proposal(error, asked.circuit, way.relay, path) from error
    return found


def _best(weighed: Sequence[tuple[Weighed, GivenWay | None]]) -> Weighed:
    """What is there, with the best of the relays that can be had."""
    return min((each for each in weighed if each[1] is None or each[1].available), key=_poorness)[0]


def _poorness(each: tuple[Weighed, GivenWay | None]) -> tuple[bool | float, ...]:
    """The best relay is safe, known, works, and asks for least; then it leaves most to spare."""
    weighed, way = each
    if way is None or weighed.proposed is None:
        return ()
    with_relay = [works for tried, works in weighed.decision.tried if tried.treatment.relay]
    volts, needed_v = weighed.proposed.volts(
        weighed.proposed.poorest(weighed.ways.asked.load), weighed.ways.asked.load
    )
    _, cost, work_h = way.asks_for
    new = len(weighed.ways.asked.new_names)
    unsafe = bool(weighed.decision.wrong)
    missing, fails = bool(weighed.decision.missing), not any(with_relay)
    return unsafe, missing, fails, new, cost, work_h, needed_v - volts


def _relay_to_be_weighed(best: Weighed, bar: Check | None) -> bool:
    """Whether one might help where nothing that was weighed does: it leaves clamps and grounds."""
    if best.proposed is not None or best.decision.advice != "none_suffices":
        return False
    asked, state = best.ways.asked, best.as_is.judged[best.poorest].state
    lost_v = {
        each.name: abs(state.across_v(each.name))
        for each in asked.circuit.branches
        if isinstance(each, CircuitContact) and each.part in JOINTS
    }
    _, needed_v = best.as_is.volts(best.poorest, asked.load)
    bars = bar is not None and bar.part in lost_v
    return not bars and abs(state.model.drive_v) - sum(lost_v.values()) >= needed_v


def _steps(best: Weighed) -> tuple[PlanStep, ...]:
    plan = best.decision.plan
    if plan is None or best.decision.advice in {"nothing_needed", "not_the_wiring"}:
        return ()
    return steps_of(best.ways, plan.treatment, best.as_is)


def tell_all(asked: RemedyChoiceRequest, _: RemedyChoice, steps: Steps) -> None:
    """Tell the circuit as it is and as it is advised, in the poorest case, by hand."""
    best = _choice(asked)[1]
    asked = with_usual_starts(asked)
    case = best.as_is.judged[best.poorest].case
    plan = best.decision.plan
    told = [(asked.circuit, case, "as_is_")]
    if plan is not None and plan.treatment.code != "as_is":
        question = best.ways.question(plan.treatment, case)
        told.append((question.circuit, question.case, "advised_"))
    for circuit, its_case, p in told:
        here, plain_case = plain(circuit, its_case)
        tell_state(steps, rest(here, plain_case), plain_case, asked.load, p)


OPERATION = Operation(NAME, __doc__, RemedyChoiceRequest, RemedyChoice, solve, tell_all=tell_all)
