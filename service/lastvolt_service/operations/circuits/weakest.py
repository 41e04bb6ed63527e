"""Which check of a circuit is told first: what makes others fail, and what can hurt someone."""

from collections.abc import Sequence

from lastvolt_service.operations.circuits.source_checks import OF_SOURCES
from lastvolt_service.operations.judging import VERDICTS_WORST_FIRST
from lastvolt_service.operations.results import Check, relative_margin

# No wiring cures a part that is made for another voltage, or worn itself.
OF_THE_PART = ("relay_voltage", "made_for", "full_voltage")
# What draws too much makes a battery sag: these say less of it than the others of `OF_SOURCES`.
OF_THE_DRAW = ("sag", "cranking_rating")
# A relay that stays open leaves its load dark, and that is no fault of the load's wires.
OPENS = frozenset({"relay_rest", "pick_up_at_ambient", "pick_up_warm", "hold"})
CAUSES = (*(code for code in OF_SOURCES if code not in OF_THE_DRAW), *OF_THE_PART, *OF_THE_DRAW)
OF_LOADS = frozenset({"load_voltage", "path_drop"})
# A battery that is not frozen is no weak point, however near to it, nor is the right part.
NEVER_WEAK = frozenset({"freezing", *OF_THE_PART})
UNSOUND = frozenset({"fail", "undecided"})


def weakest(of_cases: Sequence[Sequence[Check]]) -> tuple[int, Check | None]:
    """Place of the worst of several cases, and the worst check of all.

    Named before all that it makes fail is a poor source, then a part that no wiring cures, then
    what can hurt someone; but for a fault that gets too little, for what resists leads then.
    """
    opens = [
        any(check.code in OPENS and check.verdict == "fail" for check in checks)
        for checks in of_cases
    ]
    ranked = [
        (
            # What may be frozen is told before what else is low of it.
            check.code != "freezing" or check.verdict not in UNSOUND,
            VERDICTS_WORST_FIRST.index(check.verdict),
            CAUSES.index(check.code) if is_poor and check.code in CAUSES else len(CAUSES),
            not (check.is_harmful and check.code != "far_short" and check.verdict in UNSOUND),
            # A fuse that opens leaves no wire behind it hot.
            check.code != "fuse_load",
            check.code in OF_LOADS and opens[place],
            relative_margin(check),
            place,
            check,
        )
        for place, checks in enumerate(of_cases)
        for check in checks
        for is_poor in [check.verdict != "pass"]
        if (check.margin is not None or check.verdict in UNSOUND)
        and (is_poor or check.code not in NEVER_WEAK)
    ]
    if not ranked:
        return 0, None
    *_, place, check = min(ranked, key=lambda row: row[:-1])
    return place, check
