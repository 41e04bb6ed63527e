"""What to do: the plainest safe way that works in every case."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.operations.circuits.load_way import Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.source_checks import BATTERY
from lastvolt_service.operations.circuits.weakest import UNSOUND
from lastvolt_service.operations.decision.proposal import DecisionRequest
from lastvolt_service.operations.decision.start_in_way import Starts
from lastvolt_service.operations.decision.ways import (
    MOST_TOGETHER,
    WORKS,
    Harm,
    Tried,
    WayCode,
    Ways,
    key_of,
)
from lastvolt_service.operations.decision.worn import WORTH_GAINING_SHARE, unfit, worn_in
from lastvolt_service.operations.results import Check

Advice = Literal[
    "mend",
    "relay",
    "mend_then_relay",
    "insurance",
    "not_the_wiring",
    "battery_first",
    "nothing_needed",
    "find_out_first",
    "unsafe",
    "none_suffices",
]
OF_WAYS: dict[WayCode, Advice] = {
    "as_is": "nothing_needed",
    "battery": "battery_first",
    "mend": "mend",
    "battery_and_mend": "battery_first",
    "relay": "relay",
    "mend_then_relay": "mend_then_relay",
    "all_of_these": "battery_first",
}
# Insurance where the switch carries more than this share of its rating, or the relay brings this
# much of a 12 V system's voltage or more. Common practice.
AT_RISK_SHARE = 0.5
# What no wiring is weighed beside: of any source, of those beside the battery, and of the load.
OF_ANY_SOURCE = frozenset({"source_voltage"})
OF_FURTHER = frozenset({"freezing", "charge", "battery_resistance"})
OF_LOAD = frozenset({"made_for", "full_voltage"})
STANDS, OF_ROW = frozenset({"motor_stands"}), frozenset({"in_series"})
UNJOINED = frozenset({"not_joined"})
LACKS = frozenset({"load_voltage"})  # it names a resistance that takes most, where one does


@dataclass(frozen=True, slots=True)
class Decision:
    """What is advised, and what it was weighed by.

    Attributes
    ----------
    advice : str
        See `Advice`.
    plan : Tried or None
        The way that is taken, or would do; None where none does.
    tried : tuple of (Tried, bool)
        Every way, and whether it works.
    beyond, wrong, missing : tuple of Check
        What is wrong with what feeds or with the load, what must not be built so, and what the
        proposal does not say.
    measured : Tried or None
        The way whose outcome flips within the bounds of the inputs; None where that decides
        nothing.
    at_risk : bool
        Whether the switch is, though nothing is short.
    weighing : Weighing
        What decides whether a way works.
    nearest : Tried or None
        Where no way is taken, the one that leaves the load most.
    asked_first : tuple of Check
        Fuses of the load alone that it overcharges, of which a relay's would be the next; or that
        its motor stands; or that it hangs on nothing; or that a resistance takes most of what it
        lacks; or that what is advised is not the same within all bounds, and what to measure; empty
        where it is.
    """

    advice: Advice
    plan: Tried | None
    tried: tuple[tuple[Tried, bool], ...]
    beyond: tuple[Check, ...]
    wrong: tuple[Check, ...]
    missing: tuple[Check, ...]
    measured: Tried | None
    at_risk: bool
    weighing: "Weighing"
    nearest: Tried | None = None
    asked_first: tuple[Check, ...] = ()

    @property
    def lost_as_it_cranks(self) -> tuple[Check, ...]:
        """Contacts in the starter's own way that take too much yet with what is advised."""
        starts, way = self.weighing.starts, self.plan or self.nearest or self.tried[0][0]
        lost = starts.lost_as_it_cranks(way) if starts is not None else ()
        return tuple(each for each in lost if each.part not in way.treatment.sound)


@dataclass(frozen=True, slots=True)
class Weighing:
    """What decides whether a way works."""

    load: str
    own: frozenset[str]
    before: Harm  # what fails as it is
    relieved: Harm  # of that, what the relay takes away
    not_to_be_had: AbstractSet[str]
    nominal_v: float
    starts: Starts | None = None

    @classmethod
    def of(
        cls,
        asked: DecisionRequest,
        as_is: Tried,
        proposed: Tried | None,
        others: Sequence[Tried] = (),
        ways: Ways | None = None,
    ) -> "Weighing":
        """Hold what fails with the relay, or else in other ways, against what fails as it is."""
        load, own = asked.load, asked.new_names
        if proposed is None:
            in_all = frozenset.intersection(as_is.harm, *(each.harm for each in others))
            relieved = as_is.harm - in_all
        elif any(check.verdict == "fail" for check in proposed.short(load, own)):
            # What carries nothing relieves nothing.
            relieved = frozenset(each for each in as_is.harm if each[1] == asked.switch)
        else:
            relieved = as_is.harm - proposed.harm
        # A switch that carries too much is no matter of cleaning, nor of a relay that leaves it so.
        overloaded = {each for each in as_is.harm if each[1:] == (asked.switch, "contact_current")}
        harm = as_is.harm
        relieved |= overloaded
        nominal_v = float(asked.system_v)
        if ways is None:
            return cls(load, own, harm, relieved, frozenset(), nominal_v)
        return cls(load, own, harm, relieved, ways.not_to_be_had, nominal_v, Starts(ways))

    def works(self, tried: Tried, *, with_reserve: bool = True) -> bool:
        """Whether the load has enough, nothing fails that should not, and a start goes through."""
        short = tried.short(self.load, self.own)
        if not with_reserve:
            short = tuple(check for check in short if check.verdict == "fail")
        bars = short or self._harm(tried) or self._stays(tried)
        return not (bars or self.start_breaks(tried))

    def bars(self, tried: Tried) -> tuple[Check, ...]:
        """What keeps a way from working, and then from a reserve."""
        harm = self._harm(tried)
        checks = [check for judged in tried.judged for check in judged.checks]
        found = (
            *tried.short(self.load, self.own),
            *(each for each in checks if key_of(each) in harm),
            *self._stays(tried),
            *self.start_breaks(tried),
        )
        return tuple(sorted(found, key=lambda each: each.verdict != "fail"))

    def start_breaks(self, tried: Tried) -> tuple[Check, ...]:
        """What breaks the start off; nothing where none is gone through."""
        return self.starts.broken(tried) if self.starts is not None else ()

    def _stays(self, tried: Tried) -> tuple[Check, ...]:
        """What is worn, and can be neither mended nor bought: its current must be led round it."""
        drops = worn_in(tried, self.nominal_v)
        return tuple(each for each in drops if each.part in self.not_to_be_had)

    def _harm(self, tried: Tried) -> Harm:
        """What fails with it and did not, or need not."""
        return (tried.harm & self.relieved) | (tried.harm - self.before)


def decide(
    ways: Ways, as_is: Tried, proposed: Tried | None, screened: Sequence[Check], nominal_v: float
) -> Decision:
    """Weigh every way, the plainest first.

    Parameters
    ----------
    ways : Ways
        What may be done.
    as_is, proposed : Tried
        The circuit as it is and with the relay, within all bounds; None where none is proposed.
    screened : sequence of Check
        What the proposal was looked at for.
    nominal_v : float
        Of the system. [V]
    """
    asked = ways.asked
    load, own = asked.load, asked.new_names
    others = _solved(ways, None) if proposed is None else []
    weighing = Weighing.of(asked, as_is, proposed, others, ways)
    enough = weighing.works(as_is)
    mendable = {each.name for each in ways.mends[:MOST_TOGETHER]}
    worn = ({check.part for check in worn_in(as_is, nominal_v)} | ways.hidden) & mendable
    # With the relay, what carries its coil alone is left as it is; but for a battery's clamp.
    still = worn & as_is.clamps
    with_it = {check.part for check in worn_in(proposed, nominal_v)} if proposed else worn
    still |= with_it & mendable - own
    poor = ways.battery_first
    if proposed is not None:
        # Where nothing is to be done, only what was asked about is solved.
        needless = enough and not (worn or poor or ways.given)
        others = [proposed] if needless else _solved(ways, proposed)
    tried = [as_is, *others]
    wrong = (*_failed(screened), *unfit(tried, own, nominal_v))
    if proposed and enough and not weighing.works(proposed, with_reserve=False):
        wrong = (*wrong, *new_harm(as_is, proposed))
    if proposed and wrong:
        # What draws too much from the relay draws it as it is, too.
        draws = any(check.code == "steady_current" for check in wrong)
        opens = _failed(as_is.found(frozenset({"fuse_load"}))) if draws else ()
        wrong = tuple(dict.fromkeys((*opens, *wrong, *proposed.found(WORKS, parts=own))))
    # What is worn is mended, or its current taken away; a poor battery is seen to whatever else is
    # done.
    thorough = [
        each
        for each in tried
        if (still if each.treatment.relay else worn) <= each.treatment.seen_to
        and each.treatment.battery >= poor
        and each.treatment.available
    ]
    plan = _plainest(thorough, weighing, barred=bool(wrong))
    missing = tuple(check for check in screened if check.verdict == "unknown")
    # Where nothing is short, nothing is to be found out about a resistor that a relay goes round.
    goes_round = any(check.code == "by_design" for check in missing)
    in_hand = plan is as_is and not goes_round
    at_risk = bool(proposed and in_hand and _at_risk(ways, as_is, proposed, nominal_v))
    if proposed and weighing.start_breaks(proposed):
        at_risk = False  # nor does a relay that chatters in a start spare anything
    advice: Advice = "none_suffices" if plan is None else OF_WAYS[plan.treatment.code]
    if at_risk:
        advice = "insurance"
    measured = _flips(ways, plan, as_is, proposed)
    if measured is not None or _decides(advice, plan, missing):
        advice = "find_out_first"
    overdrawn = _overdrawn(as_is, load)
    if plan is not None and not plan.treatment.relay and not wrong:
        overdrawn = tuple(each for each in overdrawn if key_of(each) in plan.harm)
    # Nothing is wired better for a motor that stands, nor for what hangs on nothing.
    overdrawn = overdrawn or as_is.found(STANDS, UNSOUND, {load})
    overdrawn = overdrawn or as_is.found(UNJOINED, parts={load}) or _drawn_past(as_is, load)
    if advice == "none_suffices" and not (overdrawn or wrong):
        overdrawn = tuple(each for each in as_is.found(LACKS, parts={load}) if each.detail)
    if overdrawn:
        advice = "find_out_first"
    if poor and measured is None:
        advice = "battery_first"
    if wrong and not overdrawn:
        advice = "unsafe"
    if beyond := _beyond_wiring(as_is, None if poor else load):
        advice = "not_the_wiring"
    verdicts = tuple(
        (each, weighing.works(each) and not (wrong and each.treatment.relay)) for each in tried
    )
    had = [each for each in tried if each.treatment.available and each is not as_is]
    safe = [each for each in had if not (wrong and each.treatment.relay)]
    nearest = _nearest(safe, load, own) if plan is None else None
    return Decision(
        advice, plan, verdicts, beyond, wrong, missing, measured, at_risk, weighing, nearest,
        overdrawn,
    )  # fmt: skip


def _nearest(tried: Sequence[Tried], load: str, own: frozenset[str]) -> Tried | None:
    """The plainest way with enough for the load, else the one that leaves it most."""
    enough = (each for each in tried if not each.short(load, own))
    return next(enough, max(tried, key=lambda each: each.least_share(load), default=None))


def _beyond_wiring(as_is: Tried, load: str | None) -> tuple[Check, ...]:
    """What is wrong with what feeds, or with the load; the battery's own charge is a way's.

    Of a load that a poor battery feeds nothing is said: none, then.
    """
    return (
        *as_is.found(OF_ANY_SOURCE, UNSOUND),
        *(check for check in as_is.found(OF_FURTHER) if check.part != BATTERY),
        *(check for check in as_is.found(OF_LOAD) if check.part == load),
        *(as_is.found(OF_ROW) if load and as_is.found(LACKS, parts={load}) else ()),
    )


def _overdrawn(as_is: Tried, load: str) -> tuple[Check, ...]:
    """Fuses that the load alone overcharges: whether it should draw so much comes first."""
    metal = Metal(as_is.judged[0].state.model)
    alone = {
        fuse.name for fuse in metal.fuses if [e.name for e in metal.loads_behind(fuse)] == [load]
    }
    return as_is.found(frozenset({"fuse_load"}), parts=alone)


def _drawn_past(as_is: Tried, load: str) -> tuple[Check, ...]:
    """What leads past the load and starves it, or past one in series with it, which then burns."""
    found = list[Check]()
    for judged in as_is.judged:
        currents, part = Currents(judged.state), judged.state.named(load)
        through = {each.part.name for each in currents.through(part)} if part else set[str]()
        found += [
            check
            for check in judged.checks
            if check.code == "drawn_past" and (check.detail == load or check.part in through)
        ]
    return tuple(found)


def _solved(ways: Ways, proposed: Tried | None) -> list[Tried]:
    """Every way but that as it is; one that has no state of rest is none."""
    treatments = [*ways.treatments()]
    others = [each for each in treatments if proposed is None or each != proposed.treatment]
    solved = {id(each.treatment): each for each in ways.solve(others)}
    if proposed is not None:
        solved |= {id(each): proposed for each in treatments if each == proposed.treatment}
    return [solved[id(each)] for each in treatments if id(each) in solved]


def _failed(checks: Sequence[Check]) -> tuple[Check, ...]:
    return tuple(check for check in checks if check.verdict == "fail")


def new_harm(as_is: Tried, proposed: Tried) -> tuple[Check, ...]:
    """What works as it is, and not with the relay."""
    new = proposed.harm - as_is.harm
    return tuple(
        check for judged in proposed.judged for check in judged.checks if key_of(check) in new
    )


def _plainest(tried: Sequence[Tried], weighing: Weighing, *, barred: bool) -> Tried | None:
    """The first way that works; where none has a reserve, one that works without.

    That is the first but where another leaves clearly more; what is enough as it is stays. Beside
    a proposal that must not be built, a way without a reserve is no answer: a better proposal might
    have one.
    """
    at_last = [each for each in tried if each.treatment.code == "all_of_these"]
    plainer = [each for each in tried if each not in at_last]
    safe = [e for e in (*plainer, *at_last) if not (barred and e.treatment.relay)]
    if ample := next((each for each in safe if weighing.works(each)), None):
        return ample
    scant = [each for each in safe if weighing.works(each, with_reserve=False)]
    return _clearly_best(scant, weighing.load) if scant and not barred else None


def _clearly_best(tried: Sequence[Tried], load: str) -> Tried:
    """The first, but where another leaves the load clearly more."""
    best = tried[0]
    if best.treatment.code == "as_is":
        return best
    for each in tried[1:]:
        if each.least_share(load) - best.least_share(load) >= WORTH_GAINING_SHARE:
            best = each
    return best


def _at_risk(ways: Ways, as_is: Tried, proposed: Tried, nominal_v: float) -> bool:
    """Whether the relay would spare a switch that is at risk, or bring much."""
    asked = ways.asked
    if proposed.short(asked.load, asked.new_names):
        return False
    loaded = any(
        check.value is not None
        and check.limit is not None
        and check.value > AT_RISK_SHARE * check.limit
        for judged in as_is.judged
        for check in judged.checks
        if check.code == "contact_current" and check.part == asked.switch
    )
    gains_v = [
        proposed.volts(place, asked.load)[0] - as_is.volts(place, asked.load)[0]
        for place in range(len(as_is.judged))
    ]
    return loaded or max(gains_v) >= WORTH_GAINING_SHARE * nominal_v


def _flips(ways: Ways, plan: Tried | None, as_is: Tried, proposed: Tried | None) -> Tried | None:
    """The way whose outcome is not known within the bounds of the inputs, and decides.

    As it is, if the load may have enough or not; else the way that is taken.
    """
    load, own = ways.asked.load, ways.asked.new_names
    spreads = (spread for judged in as_is.judged for spread in judged.within.spreads)
    if any(
        each.part == load and each.code == "load_margin" and each.low_v < 0 <= each.high_v
        for each in spreads
    ) or as_is.undecided({load}):
        return as_is
    if plan is None or plan is as_is:
        return None
    studied = plan
    if plan is not proposed:
        studied = next(iter(ways.solve([plan.treatment], within_bounds=True)), plan)
    mine = {load, *own} if plan.treatment.relay else {load}
    return studied if studied.undecided(mine) else None


def _decides(advice: Advice, plan: Tried | None, missing: Sequence[Check]) -> bool:
    """Whether what the proposal does not say decides: only where its relay would be fitted.

    Where nothing suffices, a resistor that is no fault may be what is wanting.
    """
    if plan is None:
        return any(check.code == "by_design" for check in missing)
    return bool(missing) and (plan.treatment.relay or advice == "insurance")
