"""Relays in places, each put into the circuit and judged as relay-retrofit judges a proposal."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.judge import Asked, Judged, judge
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.decision.advice import Weighing, new_harm
from lastvolt_service.operations.decision.choice_request import RelayChoiceRequest, relay_in
from lastvolt_service.operations.decision.choice_wires import Wired
from lastvolt_service.operations.decision.proposal import (
    Proposal,
    RelayRetrofitRequest,
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.decision.screen import screen
from lastvolt_service.operations.decision.ways import TOLD_ONLY, Treatment, Tried
from lastvolt_service.operations.decision.worn import unfit
from lastvolt_service.operations.judging import WORN_MULTIPLE
from lastvolt_service.operations.results import Check
from lastvolt_service.tables.limits import contact_limits, cranking_contact_limits
from lastvolt_service.words import catalogue

AT_ONCE = 16  # as many are judged side by side
NO_ANSWER = "no_answer"
RELAY = Treatment("relay", relay=True)
OF_HEAT = 2  # so many of a preference say how hot it is there
UNKNOWN = frozenset({"unknown", "undecided"})


@dataclass(frozen=True, slots=True)
class Pair:
    """A relay of the list in a place.

    Attributes
    ----------
    candidate : int
        Place in the list.
    wired : Wired
        Where it is mounted.
    preference : tuple
        The less, the sooner it is taken; nothing in it comes from names or from order.
    """

    candidate: int
    wired: Wired
    preference: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Looked:
    """What a pair comes to in the circuit.

    Attributes
    ----------
    pair : Pair
        The relay and its place.
    asked : RelayRetrofitRequest
        The same as a proposal.
    tried : Tried
        The circuit with it, in every case; in none where it has no state of rest.
    works, has_reserve, is_open : bool
        Whether it may be built and the load gets enough, whether with a tenth to spare, and whether
        something of it is not judged, or drops more than a sound one does.
    why_not : tuple of Check
        What speaks against it, the worst first.
    error : str
        Why there is no answer.
    """

    pair: Pair
    asked: RelayRetrofitRequest
    tried: Tried
    works: bool = False
    has_reserve: bool = False
    is_open: bool = False
    why_not: tuple[Check, ...] = ()
    error: str = ""

    @property
    def order(self) -> tuple[float, ...]:
        """What has something to spare first, not in heat, known and sound; then by preference."""
        heat, others = self.pair.preference[:OF_HEAT], self.pair.preference[OF_HEAT:]
        return (float(not self.has_reserve), *heat, float(self.is_open), *others)

    def margin(self, code: str) -> float | None:
        """Least margin of the relay in a check, in any case; None where it was not judged."""
        found = [
            check.margin
            for judged in self.tried.judged
            for check in judged.checks
            if check.part == self.asked.proposal.relay.name
            and check.code == code
            and check.margin is not None
        ]
        return min(found, default=None)


@dataclass(frozen=True, slots=True)
class AsIs:
    """The circuit as it is, and what its parts cost the load in its poorest case."""

    tried: Tried
    poorest: State
    costs: tuple[Mend, ...]

    @classmethod
    def of(cls, asked: RelayChoiceRequest, judged: Sequence[Judged]) -> "AsIs":
        """Look at the circuit as it is, judged in every case."""
        tried = Tried(Treatment("as_is"), tuple(judged))
        poorest = judged[tried.poorest(asked.load)]
        costs = mending(poorest.state, asked.load, poorest.case.usual_ageing)
        return cls(tried, poorest.state, costs)


def proposal_of(asked: RelayChoiceRequest, pair: Pair) -> Proposal:
    """Make a proposal of a relay in a place, with wires and fuse."""
    candidate = asked.candidates[pair.candidate]
    return pair.wired.proposal(asked, relay_in(asked, candidate, pair.wired.place))


def look_at(asked: RelayChoiceRequest, as_is: AsIs, pairs: Sequence[Pair]) -> Iterator[Looked]:
    """Put pairs into the circuit, some at once, and judge each."""
    for start in range(0, len(pairs), AT_ONCE):
        some = pairs[start : start + AT_ONCE]
        questions = [asked.asked_of(proposal_of(asked, pair)) for pair in some]
        circuits = [with_relay(question) for question in questions]
        found = judge(
            [
                Asked(
                    circuit,
                    case_with_relay(case, asked.load, question.proposal),
                    asked.system_v,
                    asked.load,
                    "relay",
                )
                for circuit, question in zip(circuits, questions, strict=True)
                for case in asked.cases
            ]
        )
        count = len(asked.cases)
        for place, (pair, question, new) in enumerate(zip(some, questions, circuits, strict=True)):
            row = found[place * count : (place + 1) * count]
            judged = tuple(each for each in row if isinstance(each, Judged))
            if len(judged) < count:
                error = next(each for each in row if not isinstance(each, Judged))
                yield Looked(pair, question, Tried(RELAY, ()), error=error.detail)
                continue
            tried = Tried(RELAY, judged)
            screened = tuple(
                replace(each, way="relay").told(catalogue()["relay-retrofit"])
                for each in screen(
                    question, new, judged, as_is.poorest, as_is.costs, asked.system_v
                )
            )
            yield _looked(pair, question, as_is, tried, screened)


def _looked(
    pair: Pair,
    question: RelayRetrofitRequest,
    as_is: AsIs,
    tried: Tried,
    screened: Sequence[Check],
) -> Looked:
    own = frozenset(question.proposal.names)
    weighing = Weighing.of(question, as_is.tried, tried)
    short = tried.short(question.load, own)
    fails = (
        *(check for check in screened if check.verdict == "fail"),
        *(check for check in short if check.verdict == "fail"),
        *unfit([tried], own, float(question.system_v)),
        *new_harm(as_is.tried, tried),
    )
    open_ones = (
        *(check for check in screened if check.verdict == "unknown"),
        *tried.undecided({question.load, *own}),
    )
    works = weighing.works(tried, with_reserve=False) and not (fails or open_ones)
    return Looked(
        pair,
        question,
        tried,
        works,
        works and weighing.works(tried),
        bool(tried.found(None, UNKNOWN, own) or _drops_much(question, tried)),
        tuple(dict.fromkeys((*fails, *open_ones, *short))),
    )


def _drops_much(question: RelayRetrofitRequest, tried: Tried) -> bool:
    """Whether something of it drops more than a sound one does.

    A relay's own contact is held against one limit here, whatever it is rated for: of two that are
    known to have the same ohms the larger one is no worse.
    """
    name = question.proposal.relay.name
    if tried.found(TOLD_ONLY, parts=frozenset(question.proposal.names) - {name}):
        return True
    usual, heavy = contact_limits()["relay"].limit_v, cranking_contact_limits()["relay"].limit_v
    return any(
        check.value > WORN_MULTIPLE * (heavy if check.limit >= heavy else usual)
        for judged in tried.judged
        for check in judged.checks
        if (check.part, check.code) == (name, "contact_drop")
        and check.value is not None
        and check.limit is not None
    )
