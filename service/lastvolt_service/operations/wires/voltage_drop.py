"""Voltage that reaches a load at the end of a series path.

Every part of the path stands in `segments`: the wire out, switch, fuse and connectors, and the
return through a wire or a ground joint. The load keeps a current, a resistance or a power. Without
a limit of your own, the whole drop is held against published practice for the kind of circuit, and
each contact against the limit for its part.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service.laws import JOULE, OHM, by, named, published
from lastvolt_service.operations.fuses.profile import (
    CRANKING,
)
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    NOT_ASKED,
    UNDECIDED,
    Judged,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.sources.supply import (
    judge_system,
    judge_too_high,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.at_rest import at_rest
from lastvolt_service.operations.wires.drop_checks import (
    LARGEST_POWER,
    by_design,
    cables_ohm,
    cold_drop_v,
    collapse,
    judge_battery,
    poor_contacts,
)
from lastvolt_service.operations.wires.drop_limits import (
    LIMIT_APPLIES_TO,
    allowed_drop,
    different,
    judge_need,
    judge_path,
)
from lastvolt_service.operations.wires.drop_request import (
    VoltageDropRequest,
    flows_for_a_moment,
    for_a_time,
)
from lastvolt_service.operations.wires.heat_steps import balance_steps
from lastvolt_service.operations.wires.path_checks import (
    blown_a,
    contact_checks,
    wire_checks,
)
from lastvolt_service.operations.wires.path_columns import begin_with, found_of, worst_of
from lastvolt_service.operations.wires.path_parts import (
    PathPart,
    SegmentDrop,
    in_series,
    path_part,
)
from lastvolt_service.operations.wires.path_remedies import mend_path
from lastvolt_service.operations.wires.resistance import ASSUMED, ASSUMED_C
from lastvolt_service.operations.wires.sure_heat import cold_wires, fused_wires
from lastvolt_service.operations.wires.warm_parts import at_work, temperatures
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    are,
    given,
    negate,
    pick,
)

# Heat balances are long: only those of the wires that drop most are gone through.
MOST_BALANCES = 3
OVERDRAWN = "overdrawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageDrop(Result):
    """Answer of ``voltage-drop``."""

    load_voltage_v: Annotated[float, "voltage that reaches the load"]
    current_a: Annotated[float, "current round the path"]
    load_power_w: Annotated[float, "power that the load gets"]
    path_resistance_ohm: Annotated[float, "of all parts together"]
    drop_v: Annotated[float, "voltage lost on the path, out and back"]
    drop_percent: Annotated[float, "the same, of the supply"]
    limited_drop_v: Annotated[
        float,
        "what of the drop is held against the limit, where that speaks of it: of cables only, and "
        "not of a resistance of 1 ohm or more",
    ]
    limit_drop_v: Annotated[float, "limit that the drop is held against"]
    limit_applies_to: Annotated[str | None, LIMIT_APPLIES_TO]
    duration_s: Annotated[
        float | None, "how long the current was reckoned to flow; null for without end"
    ]
    nominal_v: Annotated[float, "nominal voltage of the system that the limit is for"]
    unstable_load_voltage_v: Annotated[
        float | None,
        "for a load of constant power, the other root: a circuit does not rest there",
    ]
    assumed_wire_c: Annotated[
        float | None,
        "temperature of the wires for which none is given; null where there is no such wire",
    ]
    worst_segment: Annotated[str | None, "name of the part that drops most; null where none does"]
    worst_drop_v: Annotated[float, "voltage across that part"]
    begin_with: Annotated[
        str | None,
        "where a path that drops too much is mended first: the contact that drops most beyond a "
        "sound one where the path passes with sound contacts, else the part that drops most",
    ]
    worst_share_percent: Annotated[float, "its share of the whole drop; 0 where nothing drops"]
    by_design: Annotated[
        str | None,
        "the resistance of the path that takes most of what may be meant, as a ballast does; null "
        "without any",
    ]
    by_design_v: Annotated[float | None, "what such resistances take together; null without any"]
    segments: Annotated[tuple[SegmentDrop, ...], "every part in order"]


def solve(asked: VoltageDropRequest) -> Outcome:
    """Work out one path or many."""
    own_s = asked.duration_s
    asked = for_a_time(asked)
    parts = [path_part(segment, place) for place, segment in enumerate(asked.segments)]
    hot_c, cold_faults = temperatures(parts, asked)
    warm_c = at_work(parts, hot_c)
    ohms = [
        named(f"{part.column}_resistance_ohm", part.ohm(each), f"of {part.segment.name}")
        for part, each in zip(parts, warm_c, strict=True)
    ]
    path_ohm = named(
        "path_resistance_ohm",
        in_series(ohms),
        "of all parts in series",
    )
    names = [part.segment.name for part in parts]
    current_a, load_v, unstable_v, faults = at_rest(asked, path_ohm, ohms, names)
    drop_v = named("drop_v", by(OHM, current_a * path_ohm), "voltage lost on the path")
    is_moment = flows_for_a_moment(own_s, asked, load_v)
    allowed = allowed_drop(asked)
    is_cold = allowed.is_for_both_windings
    limited_v = pick(is_cold, cold_drop_v(asked, parts, warm_c, drop_v), drop_v)
    of_cables = are(allowed.applies_to, CRANKING)
    limited_v = pick(of_cables, by(OHM, current_a * cables_ohm(parts, ohms)), limited_v)
    segments: dict[str, Any] = {}
    whole_ohm = pick(path_ohm > 0, path_ohm, 1.0)  # of nothing, every share is 0
    for part, ohm, each_c in zip(parts, ohms, hot_c, strict=True):
        segments |= found_of(part, ohm, each_c, current_a, whole_ohm)
    # A limit of the caller's is for all of the path, and one for cables speaks of no resistor.
    asks = allowed.is_practice & negate(of_cables)
    resistors = [(pick(asks, v, 0.0), sure) for v, sure in by_design(parts, segments)]
    meant_v = sum(pick(sure, volts, 0.0) for volts, sure in resistors)
    limited_v = pick(meant_v > 0, limited_v - meant_v, limited_v)
    columns: dict[str, Any] = {
        "load_voltage_v": load_v,
        "current_a": current_a,
        "load_power_w": pick(
            given(asked.load_power_w), asked.load_power_w, by(JOULE, current_a * load_v)
        ),
        "path_resistance_ohm": path_ohm,
        "drop_v": drop_v,
        "drop_percent": 100 * drop_v / asked.supply_v,
        "limited_drop_v": limited_v,
        "limit_drop_v": allowed.limit_v,
        "limit_applies_to": allowed.applies_to,
        "duration_s": asked.duration_s,
        "nominal_v": allowed.nominal_v,
        "unstable_load_voltage_v": unstable_v,
    }
    columns |= worst_of(parts, segments, drop_v)
    assumed_c = published(
        "assumed_wire_c", ASSUMED_C, "temperature of wires where none is given", ASSUMED
    )
    most_a = blown_a(parts, current_a, asked.duration_s)
    contacts = [
        check
        for part in parts
        for check in contact_checks(part, segments, current_a, asked.duration_s, is_moment, most_a)
    ]
    excess_v = poor_contacts(parts, contacts, of_cables)
    maybe_v = sum(pick(sure, 0.0, volts) for volts, sure in resistors)
    path, rest = (
        judge_path(
            allowed.limit_v,
            asked.needed_v,
            each_v,
            is_for_both_windings=is_cold,
            is_practice=allowed.is_practice & (sum(excess_v) <= 0),
        )
        for each_v in (limited_v, limited_v - maybe_v)
    )
    fails, both = path.verdict == FAIL, (path.verdict == FAIL) & (rest.verdict == FAIL)
    flips = path._replace(verdict=pick(fails, UNDECIDED, path.verdict))
    path = Judged(*map(pick, [both] * 4, rest, flips))
    cures = (sum(excess_v) > 0) & (limited_v - sum(excess_v) <= allowed.limit_v)
    meant = [volts for volts, _ in resistors]
    columns["by_design"] = begin_with(parts, meant, sum(meant) > 0, None)
    columns["by_design_v"] = pick(sum(meant) > 0, sum(meant), NOT_GIVEN)
    lost = segments | {
        f"{part.column}_drop_v": pick(volts > 0, 0.0, segments[f"{part.column}_drop_v"])
        for part, (volts, _) in zip(parts, resistors, strict=True)
    }
    most = worst_of(parts, lost, drop_v)
    columns["begin_with"] = begin_with(parts, excess_v, cures, most["worst_segment"])
    overdrawn = OVERDRAWN if (most_a < current_a) is True else None
    columns["assumed_wire_c"] = pick(_any_assumed(parts), assumed_c, NOT_GIVEN)
    return Outcome(
        columns | segments,
        (
            Checked(
                "path_drop",
                path,
                "V",
                allowed.source,
                detail=overdrawn
                or ("poor_contacts" if cures is True else None)
                or (None if columns["by_design"] is None else "by_design"),
            ),
            judge_battery(asked, allowed.nominal_v, current_a, load_v),
            judge_too_high(asked.supply_v, allowed.nominal_v),
            judge_system(asked.supply_v, allowed.nominal_v),
            judge_need(asked, load_v, decides=(path.verdict == MARGINAL) & (path.margin < 0.0)),
            collapse(asked, path_ohm),
            *contacts,
            *(
                check
                for part in parts
                for check in wire_checks(part, segments, current_a, asked.duration_s, overdrawn)
            ),
            *fused_wires(parts),
            *cold_wires(parts, current_a, asked.duration_s, asked.circuit, overdrawn),
        ),
        merge(*(part.basis for part in parts), allowed.basis),
        cautions(different(asked.circuit)),
        (*(fault for part in parts for fault in part.faults), *cold_faults, *faults),
        [refusal for part in parts for refusal in part.refusals],
    )


def _any_assumed(parts: Sequence[PathPart]) -> Flags:
    found: Flags = False
    for part in parts:
        found = found | part.is_assumed
    return found


ASK_FUSE_SELECTION = (
    "Whether a fuse protects the wires behind it is not judged here: ask fuse-selection for each."
)


def cautions(circuits: Sequence[str]) -> tuple[str, ...]:
    """Say what can hurt someone at kinds of circuit."""
    starter = any(circuit.startswith("starter") for circuit in circuits)
    return (
        *((STARTER,) if starter else ()),
        SHORT_CIRCUIT,
        FUSE_NEAR_SOURCE,
        ASK_FUSE_SELECTION,
        DEFERENCE,
    )


def mend(asked: VoltageDropRequest, answer: VoltageDrop, trials: Trials) -> None:
    """Look for what cures a failed check."""
    mend_path(asked.segments, answer.segments, answer.current_a, trials)


def tell(asked: VoltageDropRequest, outcome: Outcome, steps: Steps) -> None:
    """Verify temperatures that were found by trial, and say what the path can deliver."""
    for check in outcome.checks:
        if check.code == "voltage_collapse" and check.judged.verdict != NOT_ASKED:
            steps.result("most_power_w", check.judged.limit, LARGEST_POWER)
    found = outcome.columns
    parts = [path_part(segment, place) for place, segment in enumerate(asked.segments)]
    brief = given(found["duration_s"])
    heated = [(part, part.wire) for part in parts if part.wire is not None and not brief]
    heated = [each for each in heated if given(found[f"{each[0].column}_temperature_c"])]
    heated.sort(key=lambda each: -found[f"{each[0].column}_drop_v"])
    for part, wire in heated[:MOST_BALANCES]:
        with steps.within(f"{part.column}_"):
            balance_steps(
                steps,
                wire,
                current_a=found["current_a"],
                conductor_c=found[f"{part.column}_temperature_c"],
            )


OPERATION = Operation("voltage-drop", __doc__, VoltageDropRequest, VoltageDrop, solve, mend, tell)
