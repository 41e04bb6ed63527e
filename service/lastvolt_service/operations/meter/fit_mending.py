"""What a fit says of the parts: what to stop, what to mend first, what is sound, what is not told.

Nothing is judged here: circuit-check has judged the fitted circuit, and `fit_condition` its parts.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.weakest import OF_HOURS, burns, weakest
from lastvolt_service.operations.judging import FAIL, MARGINAL, PASS, UNDECIDED
from lastvolt_service.operations.judging import Judged as Judgement
from lastvolt_service.operations.meter.fit_condition import (
    WIRES,
    Condition,
    Conditions,
    poor_from_v,
)
from lastvolt_service.operations.meter.fit_outputs import clamped, element
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_supply import poor_battery
from lastvolt_service.operations.meter.fit_told import sentence
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.words.amounts import amount

MOST_NAMED = 3
# A current is told well enough to say that something burns. Common practice.
SURE_SHARE = 0.25
LEAST_SOUND_A = 0.5
# What a poor contact burns is told with it.
OF_THE_PART = "contact_heat"
PROTECTION = "fuse_protection"
# And what a fuse might let through some day is no reason to leave it off now.
NOT_NOW = OF_HOURS | {OF_THE_PART}
# What is said of one part, and of several together.
_CODES = {
    "fail": ("poor", "poor_together"),
    "undecided": ("straddles", "straddles_together"),
    "marginal": ("worn", "worn"),  # of several it is never known which
    "likely": ("likely", "likely_together"),
    "pass": ("sound", "sound_together"),
    "unknown": ("unread", "held_down_together"),  # the sum is told, and nothing to hold it against
}
_VERDICTS = {"fail": FAIL, "undecided": UNDECIDED, "marginal": MARGINAL, "pass": PASS}


@dataclass(frozen=True, slots=True)
class Mending:
    """What is said first.

    Attributes
    ----------
    danger, battery, mend, fuse, sound, likely, unread : str or None
        What burns, the battery if it is poor, what to mend or to read closer, a fuse that protects
        no wire, what is sound, what is so as far as the meter tells, and of what no reading tells.
    parts : tuple of Condition
        Of every part.
    """

    danger: str | None = None
    battery: str | None = None
    mend: str | None = None
    fuse: str | None = None
    sound: str | None = None
    likely: str | None = None
    unread: str | None = None
    parts: tuple[Condition, ...] = ()

    @property
    def asked_of(self) -> Condition | None:
        """Several parts of which one is or may be poor, the worst that are named."""
        failed = [each for each in self.parts if each.verdict == "fail"]
        named = failed + [each for each in self.parts if each.verdict == "undecided"][:1]
        return next((each for each in named if len(each.parts) > 1), None)

    @property
    def asks(self) -> str | None:
        """What to read across each of them."""
        row = self.asked_of
        if row is None:
            return None
        return sentence("ask_each", part=listed(row.parts), case=row.case)

    def costs_more(self, more_v: float, part: str) -> bool:
        """Whether others that are poor take more beyond what is sound than so much of one part."""
        return any(
            each.drop_v - each.limit_v > more_v
            for each in self.parts
            if each.verdict == "fail" and each.limit_v is not None and part not in each.parts
        )

    def checks(self) -> Iterator[Checked]:
        """Judge the parts by the worst of them."""
        worst = next((each for each in self.parts if each.verdict in _VERDICTS), None)
        if worst is None or worst.limit_v is None:
            return
        value, limit = worst.drop_v, worst.limit_v
        judged = Judgement(value, limit, limit - value, _VERDICTS[worst.verdict])
        names = listed(worst.parts)
        yield Checked("parts", judged, "V", COMMON_PRACTICE, part=names, case=worst.case)


def mending(
    asked: CircuitFitRequest,
    solved: Solved,
    *,
    is_told: bool,
    agrees: bool,
    lacks: bool,
    possible: Sequence[Solved] = (),
    said: frozenset[str] = frozenset(),
) -> Mending:
    """Say what is worth mending; of readings that contradict each other only what burns.

    And what is wrong with the battery by all fits that are `possible`, whichever of them is right.
    Of parts that are `said` to be at fault already no sentence is made.
    """
    try:
        found = Conditions(asked, solved)
    except CalculationError:
        return Mending()
    danger = _danger(found, solved)
    fuse = _fuse(found)
    if danger and fuse and fuse in danger:
        fuse = None
    batteries = [poor_battery(asked, each) for each in possible]
    battery = batteries[0] if batteries and all(batteries) else None
    if not is_told:
        return Mending(danger, battery, fuse=fuse)
    parts = tuple(replace(each, message=_message(each)) for each in found.told())
    failed = [each for each in parts if each.verdict == "fail" and said.isdisjoint(each.parts)]
    poor = [each.message for each in failed[:MOST_NAMED]]
    if failed:
        poor += _heat(found, failed[0])
    mend = poor + [each.message for each in parts if each.verdict == "undecided"][:1]
    little = [each.message for each in parts if each.verdict == "marginal"][:1]
    mend_rows = [e.message for e in parts if e.verdict == "unknown" and len(e.parts) > 1][:1]
    untold = any(each.verdict in {"unknown", "likely"} for each in parts)
    if lacks and parts and not (mend or battery or untold):
        mend = [sentence("too_thin", part=asked.load)]
    mend += [*little, *mend_rows]
    # Whether the little that a coil takes flows at all is not told where readings contradict.
    least_a = 0.0 if agrees else LEAST_SOUND_A
    sound = [each for each in parts if each.verdict == "pass" and each.current_a >= least_a]
    named = ", ".join(f"{listed(each.parts)} ({amount(each.drop_v, 'V')})" for each in sound)
    likely = ", ".join(
        f"{listed(each.parts)} ({amount(each.high_v, 'V', side='up')} at most)"
        for each in parts
        if each.verdict == "likely"
    )
    unread = ", ".join(
        each.parts[0] for each in parts if each.verdict == "unknown" and len(each.parts) == 1
    )
    return Mending(
        danger,
        battery,
        " ".join(mend) or None,
        fuse,
        sentence("all_sound", part=named) if named else None,
        sentence("all_likely", part=likely) if likely else None,
        sentence("all_unread", part=unread) if unread else None,
        parts,
    )


def listed(names: Sequence[str]) -> str:
    """Name several."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def either(names: Sequence[str]) -> str:
    """Name several of which it is one."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _message(each: Condition) -> str:
    code = _CODES[each.verdict][len(each.parts) > 1]
    if each.kind in WIRES and each.verdict == "fail":
        code = "poor_wire"
    if code == "straddles" and each.is_read:
        code = "straddles_read"
    is_one = each.verdict == "undecided" and len(each.parts) == 1
    if is_one and each.limit_v and each.low_v > poor_from_v(each.kind, each.limit_v):
        code = "straddles_amps"
    if code == "likely" and not each.is_read:
        code = "likely_unread"
    if code == "straddles_together" and each.limit_v is not None and each.high_v <= each.limit_v:
        code = "hides_together"
    texts: dict[str, str | None] = {
        "part": listed(each.parts),
        "kind": each.kind,
        "case": each.case,
        "volts": amount(each.drop_v, "V"),
        "low": amount(each.low_v, "V"),
        "high": amount(each.high_v, "V"),
        "amps": amount(each.current_a, "A"),
    }
    if each.limit_v is not None:
        texts["most"] = amount(each.limit_v, "V")
    if each.measure_between:
        texts["red"], texts["black"] = each.measure_between
    return sentence(code, **texts)


def _heat(found: Conditions, poor: Condition) -> list[str]:
    """What circuit-check says of a poor contact that burns what holds it."""
    return [
        check.message
        for place in found.cases
        for check in found.checks[place]
        if check.code == OF_THE_PART and check.verdict == "fail" and check.part in poor.parts
        if check.message and len(poor.parts) == 1 and check.case == poor.case
    ]


def _danger(found: Conditions, solved: Solved) -> str | None:
    """What runs on or catches fire at currents that are told; None for nothing."""
    sure = [_sure(found, solved, place) for place in found.cases]
    others = [[check for check in checks if check.code not in NOT_NOW] for checks in sure]
    _, worst = weakest([[check] for checks in others if (check := burns(checks))])
    if worst is None or worst.message is None:
        return None
    return sentence("stop", text=worst.message, case=worst.case)


def _fuse(found: Conditions) -> str | None:
    """What circuit-check says of a fuse that is too large for its wire, whatever flows today."""
    checks = (check for place in found.cases for check in found.checks[place])
    failed = (each for each in checks if each.code in OF_HOURS and each.verdict == "fail")
    first = next((each for each in failed if each.code == PROTECTION), None)
    return None if first is None else first.message


def _sure(found: Conditions, solved: Solved, place: int) -> list[Check]:
    """Checks of a case of what carries a current that is told."""
    state, here = found.states[place], None
    kept = []
    for check in found.checks[place]:
        at = element(state.model, str(check.part))
        if check.verdict != "fail" or at is None:
            continue
        here = here or solved.problem.model.here(place, solved.point)
        slopes = here.slopes([clamped(here.state.model, *at)])[0]
        half = COVERAGE_FACTOR * solved.of(slopes)
        if half <= SURE_SHARE * abs(state.current_a(str(check.part))):
            kept.append(check)
    return kept
