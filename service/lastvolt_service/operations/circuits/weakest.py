"""Which check of a circuit is told first: what makes others fail, and what can hurt someone."""

import math
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from enum import IntEnum
from typing import NamedTuple

from lastvolt_service.operations.judging import VERDICTS_WORST_FIRST
from lastvolt_service.operations.results import Check, relative_margin

# What bursts, then what a chafe sets alight whatever the load does.
BURSTS = ("source_voltage", "freezing")
ALIGHT = ("fuse_bypassed", "fuse_overload")
# Nobody stops what goes on with its switch open.
RUNS_ON = frozenset(
    {
        "closes_alone",
        "holds_itself",
        "kept_closed",
        "bridged",
        "isolates_one",
        "cranks_alone",
        "crossed",
        "fed_past_isolator",
    }
)
# No wiring cures a part that is made for another voltage, or worn itself.
OF_THE_PART = ("coil_resistance", "relay_voltage", "made_for", "full_voltage")
OF_A_LOAD = frozenset({"motor_stands", "made_for", "full_voltage", "not_joined"})
# What draws too much makes a battery sag: that says less of it than the others.
CAUSES = (
    *BURSTS,
    "motor_stands",
    "switches_nothing",
    "coil_over_break",
    "not_joined",
    "coil_open",
    "lost_joint",
    "shunted",
    "drawn_past",
    "charge",
    "battery_resistance",
    *OF_THE_PART,
    "in_series",
    "sag",
    "cranking_rating",
)
# Made for less, a part draws too much: wires that get hot are no fault of their own.
FOR_LESS = frozenset({"for_less", "lamp_for_less"})
# A relay that stays open leaves its load dark, and that is no fault of the load's wires.
OPENS = frozenset({"relay_rest", "coil_over_break", "pick_up_at_ambient", "pick_up_warm", "hold"})
OF_LOADS = frozenset({"load_voltage", "path_drop"})
# What a part that lies elsewhere is no cause by.
OF_A_PART = frozenset({"fuse_load", "contact_drop", "contact_current"})
# Of a sum of drops, from which on the contacts in it are told before it. Common practice.
BLAMED_SHARE = 0.5
# A contact that drops so many times what it may is no matter of a battery that is low, but not
# empty. [%]. Common practice.
GROSSLY, EMPTY_PERCENT = 7.0, 10.0
# What most contacts may drop. [V]; and currents that are the same.
USUAL_LIMIT_V, ALIKE = 0.1, 0.05
# Sums of drops on a way.
SUMS = frozenset({"path_drop", "control_drop"})
# A battery that is not frozen is no weak point, however near to it, nor is the right part.
NEVER_WEAK = frozenset({"freezing", *OF_THE_PART})
# A fault behind a fuse that gets too little is the fault of what resists, and what a fuse might let
# through for hours is no matter of today.
OF_HOURS = frozenset({"far_short", "fuse_protection"})
# Told before all that is marginal.
LEADS = frozenset({"release_force", "drained", "never_on"})
# What may be meant so: told before all that passes, and after all that is weak.
MAY_BE_MEANT = frozenset({"left_dark", "open_end", "switches_nothing", "resistor_open"})
# A part at a wrong place, whatever fails for it.
TOLD_AS_FAILED = frozenset({"crossed", "switches_nothing"})
TOLD_AS_KNOWN = LEADS | MAY_BE_MEANT
OF_JOINED = frozenset({"joined", "dead_cell", "frozen_or_dead"})
UNSOUND = frozenset({"fail", "undecided"})
CURRENTS = frozenset({"permissible_current", "duty_current"})
HEAT = CURRENTS | {
    "conductor_temperature",
    "wires_heat",
    "diverted_current",
    "burns_once_mended",
}
# What may burst or burn is told as if it did: a chafe that may set its loom alight as well.
MAY_BURN = frozenset({*BURSTS, *HEAT, "contact_heat", "short", *TOLD_AS_FAILED})
SPARED = HEAT | {"fuse_overload", "contact_heat", "steady_current", "contact_current"}
# A rating that is exceeded by so little is no reason to look past what is much too much.
SLIGHTLY = 0.25
RATINGS = frozenset({"steady_current", "contact_current"})
# A wire that burns bears what a clean contact lets through still less.
BURNS_NOW = frozenset({"contact_heat", "short", "resistor_heat"})
BURNING = BURNS_NOW | {"conductor_temperature", "wires_heat"}
SETS_ALIGHT = HEAT | {
    *ALIGHT,
    "contact_heat",
    "short",
    "short_once_on",
    "resistor_heat",
    "fuse_protection",
    "charger_current",
}


class Told(IntEnum):
    """In which order poor checks are told, for the harm that they tell of."""

    (BURSTS, RUNS_ON, FOR_LESS, SHORTS, BURNS, HEATS, ALIGHT, HARMS, OPENS, REST, ELSEWHERE) = (
        range(11)
    )


def weakest(
    of_cases: Sequence[Sequence[Check]],
    *,
    load: str | None = None,
    elsewhere: AbstractSet[str] = frozenset(),
    causes: bool = False,
) -> tuple[int, Check | None]:
    """Place of the worst of several cases, and the worst check of all.

    What bursts, burns or catches fire is told first, and then what makes others fail: a poor
    source, a part that no wiring cures; of loads that of `load`, where it is given, and what is
    `elsewhere` last. Where causes alone are asked for, they come first.
    """
    ranked = []
    for place, checks in enumerate(of_cases):
        about = _About.of(checks, load, elsewhere, causes=causes)
        ranked += [
            (*about.rank(check), place, check)
            for check in checks
            if (check.margin is not None or check.verdict in UNSOUND or check.code in TOLD_AS_KNOWN)
            and (check.verdict != "pass" or check.code not in NEVER_WEAK)
        ]
    if not ranked:
        return 0, None
    *_, place, check = min(ranked, key=lambda row: row[:-1])
    return place, check


def burns(checks: Sequence[Check], own: AbstractSet[str] = frozenset()) -> Check | None:
    """What runs on, or catches fire, whatever is advised, but for some parts; None for nothing."""
    failed = [check for check in checks if check.verdict == "fail" and check.part not in own]
    _, check = weakest([[check for check in failed if check.code in SETS_ALIGHT | RUNS_ON]])
    return check


class _About(NamedTuple):
    """What else is known of a case: loads that stay dark, fuses that open."""

    has_open_relay: bool
    opened: frozenset[str | None]
    poor: frozenset[str | None]  # contacts that drop too much
    charged: frozenset[str | None]  # those of them that open by what a charger gives
    load: str | None
    elsewhere: AbstractSet[str]
    causes: bool
    blamed_v: float  # what contacts drop that are named themselves
    is_gross: bool  # whether one of them drops many times what it may
    # What flows through fuses that do not bear it, and to motors that stand; and contacts of relays
    # that carry as much: what they close on is as much too large.
    overdrawn_a: tuple[float, ...]
    overdrawn: frozenset[str | None]

    @classmethod
    def of(
        cls,
        checks: Sequence[Check],
        load: str | None,
        elsewhere: AbstractSet[str],
        *,
        causes: bool,
    ) -> "_About":
        failed = [check for check in checks if check.verdict == "fail"]
        opened = frozenset(check.part for check in failed if check.code == "fuse_load")
        poor = frozenset(check.part for check in failed if check.code == "contact_drop")
        charged = frozenset(check.part for check in failed if check.code == "charger_fuse")
        dark = any(check.code in OPENS for check in failed)
        blamed_v = sum(check.value or 0.0 for check in failed if check.code == "contact_drop")
        gross = any(c.code == "contact_drop" and relative_margin(c) < -GROSSLY for c in failed)
        over_a = tuple(
            check.value
            for check in checks
            if check.verdict in UNSOUND
            and (check.code == "fuse_load" or _stands(check, load))
            and check.value is not None
        )
        overdrawn = frozenset(
            check.part
            for check in failed
            if check.code == "steady_current" and _is_alike(check, over_a)
        )
        known = dark, opened, poor, charged, load, elsewhere, causes, blamed_v, gross
        return cls(*known, over_a, overdrawn)

    def rank(self, check: Check) -> tuple[int, int, int, bool, float]:
        """What is told first has the least."""
        # So is what others fail for.
        as_failed = check.code in MAY_BURN or _stands(check, self.load)
        as_failed &= check.verdict in UNSOUND
        is_meant = check.code in MAY_BE_MEANT and check.verdict == "unknown"
        as_told = "fail" if as_failed else "marginal" if is_meant else check.verdict
        verdict = VERDICTS_WORST_FIRST.index(as_told)
        dark = check.code in OF_LOADS | {"pull_in_force"} and self.has_open_relay
        # A sum says less than the contact that is most of it.
        dark |= check.code in SUMS and self.blamed_v >= BLAMED_SHARE * (check.value or 0.0)
        # A relay that chatters for a poor contact names it, and a fuse what charges through it.
        dark |= check.code == "relay_rest" and check.detail is not None
        dark |= check.code == "fuse_load" and check.part in self.charged
        dark |= self._is_for_a_poor_one(check)
        if check.verdict == "pass":
            return verdict, 0, 0, dark, relative_margin(check)
        if is_meant:
            return verdict, Told.ELSEWHERE, 0, True, 0.0
        margin = relative_margin(check)
        if self.causes:  # what hurts and is no cause is told after them
            harm = int(check.is_harmful and check.code not in {"fuse_load", *BURSTS})
            harm = max(harm, int(self._is_elsewhere(check)))
        else:
            harm = self._told(check)
        if self.causes and check.code in {"contact_drop", "lead_drop"}:
            margin = -(check.value or 0.0) / USUAL_LIMIT_V  # what brings most volts
        cause = _cause(check, self.load)
        if check.code == "charge" and self.is_gross and (check.value or 0.0) > EMPTY_PERCENT:
            cause = len(CAUSES)
        return verdict, harm, cause, dark, margin

    def _told(self, check: Check) -> Told:
        if self._is_elsewhere(check):
            return Told.ELSEWHERE
        if self._is_overdrawn(check) or self._is_for_a_poor_one(check):
            return Told.REST
        return _harm(check, self.opened)

    def _is_for_a_poor_one(self, check: Check) -> bool:
        """Whether what it carries is too much for a contact that names itself."""
        return check.code in RATINGS | {"fuse_load"} and check.detail in self.poor

    def _is_overdrawn(self, check: Check) -> bool:
        """Whether a rating is exceeded by what a fuse in the same way does not bear, either."""
        if check.code == "inrush" and check.part in self.overdrawn:
            return True
        return check.code in {*RATINGS, "inrush"} and _is_alike(check, self.overdrawn_a)

    def _is_elsewhere(self, check: Check) -> bool:
        is_told_last = check.code == "stall"  # nothing of today
        return is_told_last or (check.code in OF_A_PART and check.part in self.elsewhere)


def _is_alike(check: Check, amps: Sequence[float]) -> bool:
    return any(math.isclose(check.value or 0.0, each, rel_tol=ALIKE) for each in amps)


def _stands(check: Check, load: str | None) -> bool:
    """Whether what it tells comes of a motor that stands, not of what leads to it."""
    return check.code == "motor_stands" and load in {None, check.part}


def _cause(check: Check, load: str | None) -> int:
    # What another load is made for is no cause of what is wrong with the one that decides.
    if check.code not in CAUSES or (check.code in OF_A_LOAD and load not in {None, check.part}):
        return len(CAUSES)
    return CAUSES.index(check.code)


def _harm(check: Check, opened: AbstractSet[str | None]) -> Told:
    if check.verdict not in UNSOUND:
        return Told.OPENS if check.code in LEADS else Told.REST
    if check.code in BURSTS:
        return Told.BURSTS
    if check.code in RUNS_ON:
        return Told.RUNS_ON
    if check.detail in FOR_LESS or check.code == "shunted":
        return Told.FOR_LESS
    # Wires that burn before a fuse of which nobody knows when it opens burn for it.
    if check.code in {"short", "short_once_on"} and check.verdict == "fail":
        return Told.SHORTS
    # What gets hot behind a fuse that opens does so until then, and begins hot.
    if check.code in SPARED and check.detail in opened:
        return Told.REST
    if check.code in RATINGS and relative_margin(check) > -SLIGHTLY:
        return Told.REST
    for told, codes in ((Told.BURNS, HEAT), (Told.HEATS, BURNS_NOW), (Told.ALIGHT, ALIGHT)):
        if check.code in codes:
            return told
    if check.code == "drawn_past" or (check.code, check.detail) == ("in_series", "shorted"):
        return Told.HARMS  # for it a fuse opens, and ratings are exceeded
    # A fuse that opens has done what it is for, and what is driven into a battery that is none is
    # that battery's fault. A coil that is open lets nothing of what is behind it flow.
    joined = check.code == "charge" and check.detail in OF_JOINED
    opens = check.code in {"fuse_load", "coil_resistance"} or (
        check.code == "charger_fuse" and check.part in opened
    )
    if opens or joined:
        return Told.OPENS
    return Told.HARMS if check.is_harmful and check.code not in OF_HOURS else Told.REST
