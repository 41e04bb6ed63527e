"""Which relay of those at hand, and where to mount it: the best of all, with wires and fuse.

For each place feed and outlet are sized as one wire, with a fuse at its start, by wire-sizing, for
what the load takes there. Each relay is put into the circuit in each place and judged, in every
case, as relay-retrofit judges a proposal. Of those that work, with a tenth to spare, the one in the
kindest place is taken: not on the hot part, which soaks through in the 15 to 30 minutes after a
stop, near, and dry, each step of which is worth 2 m of wire, and not over 85 degC, which is worth
4 m to one that bears it (practice); then the cheapest, then the one with most in hand. It comes as
a whole proposal, to be posted to relay-retrofit, and all others with the reason against them.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Any

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.judge import Asked, judge_all
from lastvolt_service.operations.circuits.loads import starter_cautions
from lastvolt_service.operations.circuits.source_checks import battery_cautions
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.circuits.work import MOST_OF_CHOICES
from lastvolt_service.operations.decision import blades, relay_retrofit
from lastvolt_service.operations.decision.advice import Advice
from lastvolt_service.operations.decision.choice_judge import (
    NO_ANSWER,
    AsIs,
    Looked,
    Pair,
    look_at,
)
from lastvolt_service.operations.decision.choice_request import RelayChoiceRequest
from lastvolt_service.operations.decision.choice_screen import Alone, look_alone, most_ohm
from lastvolt_service.operations.decision.choice_told import (
    NAME,
    Best,
    PlaceLooked,
    Ranked,
    Rejected,
    Wanted,
    WiredPlace,
    best_of,
    grouped,
    is_open,
    mends_in,
    nearest_of,
    ranked,
    reasons_for,
    rejection,
    too_little,
    wanted_of,
    without_check,
)
from lastvolt_service.operations.decision.choice_wires import (
    Wired,
    best_relay,
    through,
    usual_coil_ohm,
    wired,
)
from lastvolt_service.operations.decision.proposal import (
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.decision.relay_retrofit import BatteryState, battery_state
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.start_in_way import LEAVES_START_OPEN, leaves_start_open
from lastvolt_service.operations.decision.ways import TOLD_ONLY
from lastvolt_service.operations.decision.weighing import Weighed, weigh
from lastvolt_service.operations.judging import FAIL, Judged
from lastvolt_service.operations.judging import UNKNOWN as NOT_KNOWN
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
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
from lastvolt_service.operations.steps import Steps
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.units import high_end, low_end

MEND_FIRST = "mend_before"
OPEN = frozenset({"fail", "unknown", "undecided"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayChoice(Result):
    """Answer of ``relay-choice``.

    Its checks are those of the relay that is advised, of its wires and of the load, and whatever
    else of the circuit fails or is not judged.
    """

    best: Annotated[Best | None, "what is advised; null where none suits"]
    suits: Annotated[bool, "whether any relay does in any place"]
    advice: Annotated[
        Advice | None,
        "what relay-retrofit advises with that proposal: mending alone may do; where none suits "
        "battery_first if the battery is poor, else null",
    ]
    mend: Annotated[
        tuple[str, ...], "what is to be made sound then, in place of the relay or before it"
    ]
    first: Annotated[
        Remark | None, "what relay-retrofit says of that proposal first; null where none suits"
    ]
    battery_state: Annotated[
        BatteryState | None,
        "the poorest in any case, as relay-retrofit tells it; null of a sound one",
    ]
    burns: Annotated[
        Check | None,
        "what runs on or catches fire in what stays, whatever is advised; null where none suits",
    ]
    burns_as_it_is: Annotated[Check | None, "what catches fire until the best is fitted"]
    nearest: Annotated[
        Rejected | None,
        "where none suits, a relay whose ratings do: its feed, its place or what is not known "
        "keeps it out; else null",
    ]
    ranking: Annotated[tuple[Ranked, ...], "all that work, the best first"]
    rejected: Annotated[tuple[Rejected, ...], "all others, those of one relay alike together"]
    places: Annotated[tuple[WiredPlace, ...], "the places with their wires, as requested"]
    wanted: Annotated[
        Wanted | None, "what would do where none suits; null where one does, or no relay would help"
    ]
    not_looked_at: Annotated[
        int,
        "relays in places that passed alone and were not put into the circuit: kinder places and "
        "cheaper relays were",
    ]
    reasons: Annotated[tuple[Remark, ...], "why there, and what the lengths cost"]
    leaves_start_open: Annotated[bool, LEAVES_START_OPEN]


@dataclass(slots=True)
class _Search:
    """What was found on the way: places, pairs that passed alone, and what was rejected."""

    asked: RelayChoiceRequest
    places: list[PlaceLooked] = field(default_factory=list)
    pairs: list[Pair] = field(default_factory=list)
    rejected: list[Rejected] = field(default_factory=list)
    thinner: dict[tuple[str, str], Wired] = field(default_factory=dict)

    def look_alone(self) -> None:
        """Wire every place, and look at every relay there by itself."""
        for place in self.asked.places:
            laid = wired(self.asked, place)
            if laid.why_not is not None:
                self.places.append(PlaceLooked(laid, ()))
                self.rejected.append(without_check(None, laid, laid.why_not, laid.error))
                continue
            faultless = laid.proposal(self.asked, best_relay(self.asked, place, 0.0))
            try:
                best = through(self.asked, faultless)
                poor_ohm = max(most_ohm(self.asked, each) for each in best)
                coil_ohm = usual_coil_ohm(self.asked.system_v)
                poor = laid.proposal(self.asked, best_relay(self.asked, place, poor_ohm, coil_ohm))
                worst = through(self.asked, poor)
            except CalculationError as error:
                self.places.append(PlaceLooked(laid, ()))
                self.rejected.append(without_check(None, laid, NO_ANSWER, error.detail))
                continue
            here = PlaceLooked(laid, tuple(best), tuple(worst))
            self.places.append(here)
            if too_little(here) is not None:
                self.rejected.append(_short(self.asked, here))
            else:
                self._pairs(here, look_alone(self.asked, laid, best, worst))

    def _pairs(self, here: PlaceLooked, alone: Alone) -> None:
        for index, candidate in enumerate(self.asked.candidates):
            if index in alone.failed:
                check = alone.failed[index]
                self.rejected.append(rejection(candidate.name, here.wired, check))
                continue
            cost = float(high_end(candidate.cost))
            preference = (
                *here.preference,
                math.inf if math.isnan(cost) else cost,
                _digits(alone.contact_use[index]),
                _digits(alone.coil_use[index]),
            )
            laid = self._onto_blades(here.wired, float(low_end(candidate.rating_a)))
            self.pairs.append(Pair(index, laid, preference))
        self.pairs.sort(key=lambda each: each.preference)

    def _onto_blades(self, laid: Wired, rating_a: float) -> Wired:
        """The place with wire that goes onto the blades of a contact of such a rating.

        As it is where they take it, or where the load does not work through what they take.
        """
        if math.isnan(rating_a) or laid.size is None:
            return laid
        standard = self.asked.standard
        if blades.grips(blades.of_contact(rating_a), laid.size, standard):
            return laid
        key = laid.place.name, blades.thickest(rating_a, standard)
        if key not in self.thinner:
            self.thinner[key] = wired(self.asked, laid.place, key[1])
        thin = self.thinner[key]
        return laid if thin.why_not is not None else thin


def _digits(value: float) -> float:
    """Without the last digits, which hang on where in a column a number stands."""
    return float(f"{float(value):.9g}")


def _short(asked: RelayChoiceRequest, here: PlaceLooked) -> Rejected:
    """What a load that gets too little through the best of relays speaks against: the place."""
    index = too_little(here) or 1
    found, case = here.best[index - 1], asked.cases[index - 1]
    judged = Judged(found.load_v, found.needed_v, found.load_v - found.needed_v, FAIL)
    check = Checked(
        "load_voltage", judged, "V", COMMON_PRACTICE, part=asked.load, case=case.name
    ).told(relay_retrofit.OPERATION.words)
    return rejection(None, here.wired, check)


def solve(asked: RelayChoiceRequest) -> Outcome:
    """Choose among all relays in all places.

    Raises
    ------
    CalculationError
        If the circuit as it is has no answer, or none that was looked at suits and some were not.
    """
    asked = with_usual_starts(asked)
    cases = [
        Asked(asked.circuit, case, asked.system_v, asked.load, "as_is") for case in asked.cases
    ]
    as_is = AsIs.of(asked, judge_all(cases))
    search = _Search(asked)
    search.look_alone()
    room = 1 + (MOST_OF_CHOICES - asked.least_units) // asked.proposed_work.units
    looked = list(look_at(asked, as_is, search.pairs[:room]))
    left = max(len(search.pairs) - room, 0)
    works = [each for each in looked if each.works]
    if left and not works:
        raise ConflictingFields(
            f"Of {len(search.pairs):,} relays in places that pass alone {room:,} were put into the "
            f"circuit, for {MOST_OF_CHOICES:,} units of work, and none does. Ask with fewer "
            "relays, places or cases at once.",
            ("candidates",),
        )
    search.rejected += (_why_not(asked, each) for each in looked if not each.works)
    spent = asked.least_units + max(len(looked) - 1, 0) * asked.proposed_work.units
    looks = 1 + max(MOST_OF_CHOICES - spent, 0) // asked.last_look.units
    rows, found = _last_look(asked, ranked(asked, works), search.rejected, looks)
    best = rows[0][1] if rows else None
    told = best_of(*rows[0]) if rows else None
    wanted = None if told else wanted_of(asked, search.places)
    # Where no relay suits, what is there may be why.
    poor = None if told else weigh(asked.asked_alone())
    nearest = None if told else nearest_of(search.rejected)
    kindest = {each.wired.place.name: each.preference for each in search.places}
    checks = () if best is None else _checks(asked, best)
    return Outcome(
        {
            "best": told,
            "suits": told is not None,
            "advice": found["advice"] if found else _before_any(poor),
            "mend": _mends(poor, found),
            "first": next(iter(found["reasons"]), None) if found else None,
            "battery_state": found["battery_state"] if found else poor and battery_state(poor.ways),
            "burns": found["burns"] if found else None,
            "burns_as_it_is": found["burns_as_it_is"] if found else None,
            "nearest": nearest,
            "ranking": tuple(row for row, _ in rows),
            "rejected": tuple(grouped(search.rejected, kindest)),
            "places": tuple(each.told() for each in search.places),
            "wanted": wanted,
            "not_looked_at": left,
            "reasons": (
                *_on_studs(told),
                *reasons_for(told, search.places, wanted, left, poor, nearest),
            ),
            "leaves_start_open": leaves_start_open(asked.circuit, asked.load, asked.load_kind),
        },
        () if checks else (_none(search.places, nearest),),
        merge((COMMON_PRACTICE,), *([check.basis] for check in checks)),
        (
            *starter_cautions(asked.circuit.loads),
            *ON_THE_VEHICLE,
            FUSE_NEAR_SOURCE,
            HOT_SURFACE,
            *battery_cautions(check for each in as_is.tried.judged for check in each.checks),
            DEFERENCE,
        ),
        told_checks=checks,
    )


def _mends(poor: Weighed | None, found: Mapping[str, Any] | None) -> tuple[str, ...]:
    """What is to be mended without a relay, or beside the best."""
    if poor is not None:
        return mends_in(poor)
    return found["plan"].parts if found and found["plan"] else ()


def _before_any(poor: Weighed | None) -> Advice | None:
    """What is to be done before any relay where none suits: a poor battery may be why."""
    is_poor = poor is not None and poor.decision.advice == "battery_first"
    return "battery_first" if is_poor else None


def _why_not(asked: RelayChoiceRequest, looked: Looked) -> Rejected:
    name, laid = asked.candidates[looked.pair.candidate].name, looked.pair.wired
    if not looked.why_not:
        return without_check(name, laid, NO_ANSWER, looked.error)
    return rejection(name, laid, looked.why_not[0])


def _last_look(
    asked: RelayChoiceRequest,
    rows: list[tuple[Ranked, Looked]],
    rejected: list[Rejected],
    looks: int,
) -> tuple[list[tuple[Ranked, Looked]], Mapping[str, Any] | None]:
    """Ask relay-retrofit of the best; it looks at what becomes of it with the rest mended, too.

    What it finds unsafe gives way to the next, as often as may be, and so does what it has still to
    ask about to one that is known.
    """
    open_ones: dict[int, Mapping[str, Any]] = {}  # by their pairs
    for _ in range(looks):
        if not rows:
            return [], None
        row, looked = rows[0]
        known_one = open_ones.get(id(looked.pair))
        found = known_one or relay_retrofit.advice_on(looked.asked)
        if known_one is None and _asks_about(looked, found):
            open_ones[id(looked.pair)] = found
            others = (each for _, each in rows[1:])
            rows = ranked(asked, [replace(looked, is_open=True), *others])
            continue
        if found["advice"] != "unsafe":
            return rows, found
        why = found["reasons"][0]
        rejected.append(
            Rejected(
                row.candidate, (row.place,), why.check or why.code, "fail", why.part, why.case,
                why.message,
            )
        )  # fmt: skip
        rows = ranked(asked, [each for _, each in rows[1:]])
    left = [each for _, each in rows if id(each.pair) in open_ones]
    seen = {id(each) for each in left}
    rejected += (
        without_check(row.candidate, each.pair.wired, MEND_FIRST)
        for row, each in rows
        if id(each) not in seen
    )
    rows = ranked(asked, left)
    return rows, open_ones[id(rows[0][1].pair)] if rows else None


def _asks_about(looked: Looked, found: Mapping[str, Any]) -> bool:
    """Whether what is to be found out first is about the relay or its wires."""
    first = next(iter(found["reasons"]), None)
    return (
        found["advice"] == "find_out_first"
        and first is not None
        and first.part in looked.asked.proposal.names
    )


def _on_studs(best: Best | None) -> Iterator[Remark]:
    """That no blade of the best takes its wire, nor a thinner one does for the load."""
    if best is not None and blades.needs_studs(best.proposal):
        yield remark("needs_studs", part=best.candidate, of=NAME)


def _checks(asked: RelayChoiceRequest, best: Looked) -> tuple[Check, ...]:
    """Those of what is new and of the load, and what else of the circuit does not pass."""
    own = {*best.asked.proposal.names}
    mine = {asked.load, asked.switch, *own}
    found = (check for each in best.tried.judged for check in each.checks)
    return tuple(
        check
        for check in found
        if (check.part in mine or check.verdict in OPEN)
        and not (check.code in TOLD_ONLY and check.verdict == "fail" and check.part not in own)
    )


def _none(places: Sequence[PlaceLooked], nearest: Rejected | None) -> Checked:
    """Say that nothing suits, or is known to: how much a contact must carry."""
    most_a = max((each.load_a for here in places for each in here.best), default=NOT_GIVEN)
    judged = Judged(NOT_GIVEN, most_a, NOT_GIVEN, NOT_KNOWN if is_open(nearest) else FAIL)
    return Checked("suitable_relay", judged, "A", COMMON_PRACTICE)


# By hand: networks are solved as a whole.
def tell_all(asked: RelayChoiceRequest, answer: RelayChoice, steps: Steps) -> None:
    """Tell the circuit with the best in its poorest case, from the solved state."""
    if answer.best is None:
        return
    row = answer.ranking[0]
    question = with_usual_starts(asked).asked_of(answer.best.proposal)
    case = next(each for each in question.cases if each.name == row.case)
    circuit, here = plain(
        with_relay(question), case_with_relay(case, asked.load, question.proposal)
    )
    tell_state(steps, rest(circuit, here), here, asked.load, "best_")


OPERATION = Operation(NAME, __doc__, RelayChoiceRequest, RelayChoice, solve, tell_all=tell_all)
