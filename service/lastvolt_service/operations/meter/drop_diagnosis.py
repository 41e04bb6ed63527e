"""Which part of a live path to mend first, from the voltage across each.

A wire is held against a new one of its size, length and temperature at the same current; a contact
against the most that a sound one drops. Readings that do not hold together, or are taken at a
trickle of current, blame no part and call none sound. Only an excess beyond the largest error of
meter, current and temperature counts as proven. With the voltages of supply and load, what is lost
where nothing was read shows too, and what mending gives back is worked out for a load of constant
resistance.
"""

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from lastvolt_service.fields import changed
from lastvolt_service.laws import KIRCHHOFF, OHM, by, named, published
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.meter.checks import (
    PATH_ADDS_UP,
    at_this_current,
    balance,
    cable_check,
    doubted,
    held_against,
    is_poor,
    is_unsure,
    judge_load,
    judge_supply,
    matters,
    part_check,
    supply_is,
)
from lastvolt_service.operations.meter.consistency import Consistency, consistency
from lastvolt_service.operations.meter.diagnosis_next import next_message
from lastvolt_service.operations.meter.heat import OVERDRAWN, contact_heat, judge_heat, lets_flow
from lastvolt_service.operations.meter.part import PartDiagnosis
from lastvolt_service.operations.meter.readings import (
    LEAST_SHOWN_A,
    UNCERTAINTY_BASIS,
    ContactReading,
    DropDiagnosisRequest,
    Readings,
    ReadPart,
    WireReading,
    added,
    current_at_work,
    take_readings,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    ON_THE_VEHICLE,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.wires.drop_limits import NOMINAL, nominal_voltage
from lastvolt_service.physics.diagnosis import regained_voltage
from lastvolt_service.rows import NOT_GIVEN, given, pick, plain
from lastvolt_service.tables.cables import cable_limits
from lastvolt_service.tables.limits import Limit, drop_limits

Advice = Literal["mend_the_wiring", "open_part", "path_is_sound", "not_proven", "unmeasured_part"]
Reason = Literal[
    "excess_proven",
    "open_part",
    "load_open",
    "shorted",
    "leads_swapped",
    "lost_elsewhere",
    "read_twice",
    "readings_contradict",
    "current_contradicts",
    "trickle",
    "too_coarse",
    "too_thin",
    "too_thin_at_least",
    "may_be_too_thin",
    "draws_too_much",
    "parts_are_sound",
]
DEFAULT_NOMINAL_V = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class DropDiagnosis(Result):
    """Answer of ``drop-diagnosis``."""

    advice: Annotated[
        Advice,
        "mend_the_wiring: an excess is proven; open_part: nearly all of the supply stands across "
        "a part or the load, and no current flows; unmeasured_part: voltage is lost where nothing "
        "was read; not_proven: the readings cannot tell; path_is_sound: no part can hide an excess "
        "that matters",
    ]
    reason: Annotated[
        Reason,
        "why: an excess is proven; a part is open; the load is open or off; it is shorted; leads "
        "are swapped; voltage is lost elsewhere; a part was read within another; readings, load "
        "and supply contradict each other; the wires contradict the current; it is a trickle; an "
        "excess that matters could hide within the errors; all parts are sound and together they "
        "drop too much; they do whatever the errors hide, and one may be poor besides; all parts "
        "are sound, and whether a wire bears the current is not known; all parts are sound, and "
        "the load draws too much; all parts are sound",
    ]
    mend_first: Annotated[
        tuple[str, ...], "parts of proven excess, the most worthwhile first, or what is open"
    ]
    overlap: Annotated[
        tuple[str, ...], "parts without which the readings make up the supply: read twice"
    ]
    too_hot: Annotated[
        tuple[str, ...],
        "wires that the current at work overheats in the best of insulation and place",
    ]
    may_be_too_hot: Annotated[
        tuple[str, ...],
        "wires that bear the current at work in some insulation and place, and not in all",
    ]
    load_is: Annotated[
        Literal["overdrawn", "shorted"] | None,
        "whether the load is looked at first: overdrawn where far more than working_current_a "
        "flows, or more and a wire burns; shorted where it keeps next to nothing while more flows "
        "than any load takes so; else null",
    ]
    sound_path_beyond_v: Annotated[
        float | None,
        "what the path drops beyond its limit, once these are mended: its wires are too thin or "
        "too long; null where it does not, or nothing is to be mended",
    ]
    order: Annotated[
        Literal["wires_first", "wires_after"] | None,
        "whether that is more than mending them brings; null where it is none",
    ]
    largest_drop: Annotated[
        str,
        "the part that drops most: of the wires, where half of what they drop makes up for what is "
        "lost beyond the limit, else of the wires or of the contacts, whichever drop more",
    ]
    supply_is: Annotated[
        Literal["too_low", "low", "low_unless_cranking", "too_high", "unsettled", "of_other_system"]
        | None,
        "whether the supply itself is at fault, wherever the path may be, too: low for a warm "
        "battery that cranks; low_unless_cranking: flat, unless the starter turned; unsettled "
        "where a 6 V system or a flat 12 V battery may be read",
    ]
    supply_first: Annotated[
        bool, "whether the supply falls short by more volts than mending the path brings"
    ]
    next_message: Annotated[
        str | None, "which reading to take next, in a sentence; null where none tells more"
    ]
    swapped: Annotated[tuple[str, ...], "parts read with the leads the wrong way round"]
    regained_v: Annotated[float, "what the load gains when all of these are mended"]
    total_measured_v: Annotated[float, "sum of the readings"]
    total_uncertainty_v: Annotated[float, "largest error of that sum"]
    unaccounted_v: Annotated[
        float | None,
        "supply less load less readings: lost where nothing was read, or, below zero, read twice; "
        "null without supply_v and load_voltage_v",
    ]
    unaccounted_uncertainty_v: Annotated[float | None, "largest error of that"]
    current_at_work_a: Annotated[
        float,
        "current that limits and heat are judged at: what flows at work, or flowed where that is "
        "not given",
    ]
    nominal_v: Annotated[float, "nominal voltage of the system that the limits are for"]
    readings: Annotated[tuple[PartDiagnosis, ...], "every reading in order"]


def solve(asked: DropDiagnosisRequest) -> Outcome:
    """Work out the readings of one path."""
    shows = asked.current_a > LEAST_SHOWN_A
    asked = changed(asked, current_a=pick(shows, asked.current_a, LEAST_SHOWN_A))
    taken = take_readings(asked)
    order = sorted(taken.parts, key=lambda each: (-each.excess_v, -each.reading.measured_v))
    nominal_v = _nominal_v(asked, taken)
    held = consistency(asked, taken, nominal_v)
    whole = at_this_current(drop_limits()[asked.circuit, int(nominal_v)], taken.share)
    proven = [each for each in order if is_poor(each, whole)] if held.doubt is None else []
    unsure = [each for each in order if is_unsure(each, whole)]
    whole_check = held_against("path_drop", taken.total_v, whole, taken.total_uncertainty_v)
    beyond_v = -whole_check.judged.margin if whole_check.verdict == "fail" else 0.0
    heat, too_hot, may_be_too_hot = judge_heat(
        asked,
        is_known=held.doubt != "current_contradicts",
        is_shorted=held.doubt == "shorted",
    )
    advice, reason = _advice(taken, held, proven, unsure, whole, beyond_v)
    if too_hot and advice == "path_is_sound":
        reason = "too_thin"
    elif may_be_too_hot and reason == "parts_are_sound":
        reason = "may_be_too_thin"
    load = judge_load(asked, held)
    burns = any(each.detail == OVERDRAWN for each in heat)
    overdrawn = OVERDRAWN if any(each.verdict == "fail" or burns for each in load) else None
    if overdrawn and reason == "parts_are_sound":
        reason = "draws_too_much"
    wires = [each for each in taken.parts if isinstance(each.reading, WireReading)]
    cables = wires if asked.circuit == STARTER_MOTOR else []
    cable_limit = at_this_current(cable_limits()[int(nominal_v)], taken.share)
    # A short pulls down any battery.
    supply = () if held.doubt == "shorted" else judge_supply(asked, nominal_v)
    excess_v = sum(each.excess_v for each in proven)
    # A wire that is too thin for its heat is told of by that.
    mends = reason == "excess_proven" and not too_hot and not overdrawn
    still_v = max(beyond_v - excess_v, 0.0) if mends else 0.0
    opened = held.parts if held.doubt == "open_part" else ()
    return Outcome(
        {
            "advice": advice,
            "reason": reason,
            "mend_first": opened or tuple(each.reading.name for each in proven),
            "overlap": held.parts if held.doubt == "read_twice" else (),
            "too_hot": too_hot,
            "may_be_too_hot": may_be_too_hot,
            "load_is": "shorted" if held.doubt == "shorted" else overdrawn,
            "current_at_work_a": named(
                "current_at_work_a", current_at_work(asked), "that limits and heat are judged at"
            ),
            "sound_path_beyond_v": still_v if still_v > 0 else NOT_GIVEN,
            "order": _order(still_v, excess_v),
            "largest_drop": _largest_drop(taken, still_v or beyond_v),
            "supply_is": supply_is(supply),
            "supply_first": advice in _OF_THE_PATH
            and not overdrawn
            and _short_v(supply) > max(excess_v, beyond_v),
            "next_message": next_message(asked, taken, reason, supply_is(supply), proven, unsure),
            "swapped": held.parts if held.doubt == "leads_swapped" else (),
            "regained_v": _regained_v(asked, taken, _proven_excess_v(proven), "regained_v"),
            "total_measured_v": taken.total_v,
            "total_uncertainty_v": taken.total_uncertainty_v,
            "unaccounted_v": taken.unaccounted_v,
            "unaccounted_uncertainty_v": taken.unaccounted_uncertainty_v,
            "nominal_v": nominal_v,
            **_part_columns(asked, taken, order, nominal_v),
        },
        (
            *load,
            *(
                doubted(part_check(each, whole, taken.share, float(current_at_work(asked))), held)
                for each in taken.parts
            ),
            *(
                doubted(
                    cable_check(each, cable_limit, whole, is_within=whole_check.verdict != "fail"),
                    held,
                )
                for each in cables
            ),
            doubted(whole_check, held),
            doubted(balance(taken), held) if held.doubt == "leads_swapped" else balance(taken),
            *(doubted(each, held) for each in contact_heat(asked, taken, nominal_v)),
            *heat,
            *supply,
        ),
        merge(*(each.basis for each in taken.parts), (whole.citation, UNCERTAINTY_BASIS)),
        (
            *((STARTER,) if asked.circuit.startswith("starter") else ()),
            *ON_THE_VEHICLE,
            FUSE_NEAR_SOURCE,
            DEFERENCE,
        ),
    )


def _largest_drop(taken: Readings, beyond_v: float) -> str:
    """A sound contact gets no better: wires of twice the size do, where those are enough."""
    kinds: dict[str, list[ReadPart]] = {}
    for each in taken.parts:
        kinds.setdefault(each.reading.kind, []).append(each)
    drops_v = {kind: added(each.reading.measured_v for each in kinds[kind]) for kind in kinds}
    cures = 0.0 < beyond_v <= drops_v.get("wire", 0.0) / 2
    most = kinds["wire" if cures else max(drops_v, key=drops_v.__getitem__)]
    return max(most, key=lambda part: part.reading.measured_v).reading.name


def _part_columns(
    asked: DropDiagnosisRequest, taken: Readings, order: list[ReadPart], nominal_v: float
) -> dict[str, Any]:
    ranks = {each.column: rank for rank, each in enumerate(order, 1)}
    columns: dict[str, Any] = {}
    for each in taken.parts:
        p, reading = f"{each.column}_", each.reading
        share = 100 * reading.measured_v / taken.total_v if taken.total_v > 0 else 0.0
        columns |= {
            f"{p}name": reading.name,
            f"{p}kind": reading.kind,
            f"{p}part": reading.part if isinstance(reading, ContactReading) else None,
            f"{p}measured_v": reading.measured_v,
            f"{p}uncertainty_v": each.uncertainty_v,
            f"{p}expected_v": each.expected_v,
            f"{p}excess_v": each.excess_v,
            f"{p}excess_uncertainty_v": each.excess_uncertainty_v,
            f"{p}excess_resistance_ohm": named(
                f"{p}excess_resistance_ohm",
                by(OHM, each.excess_v / asked.current_a),
                f"the excess of {reading.name} as a resistance",
            ),
            f"{p}excess_at_work_v": named(
                f"{p}excess_at_work_v",
                by(OHM, each.excess_v / taken.share),
                f"the excess of {reading.name} at the working current",
            )
            if lets_flow(asked, reading.measured_v, taken.share, nominal_v)
            else NOT_GIVEN,
            f"{p}proven": each.proven,
            f"{p}rank": ranks[each.column],
            f"{p}regained_v": _regained_v(asked, taken, each.excess_v, f"{p}regained_v"),
            f"{p}share_percent": named(
                f"{p}share_percent", share, f"share of {reading.name} in all that is measured"
            ),
        }
    return columns


def _proven_excess_v(proven: list[ReadPart]) -> float:
    if not proven:
        return published("proven_excess_v", 0.0, "no excess is beyond its error", PATH_ADDS_UP)
    total_v = by(KIRCHHOFF, added(each.excess_v for each in proven))
    return named("proven_excess_v", total_v, "of all parts whose excess is beyond its error")


def _regained_v(
    asked: DropDiagnosisRequest, taken: Readings, excess_v: float, symbol: str
) -> float:
    """Voltage that the load gains without an excess; the excess itself at a constant current."""
    if not given(asked.load_voltage_v) or asked.load_voltage_v == 0.0:
        return named(symbol, excess_v, "what the load gains when mended, at a constant current")
    # What is read along the path stands before the load, whatever the supply reads.
    total_v = taken.total_v
    if any(each.reading.measured_v < 0 for each in taken.parts):  # leads are swapped: no sum
        total_v = added(abs(each.reading.measured_v) for each in taken.parts)
    before_v = asked.load_voltage_v + total_v
    source_v = asked.supply_v if asked.supply_v > before_v else before_v
    gained_v: float = plain(
        regained_voltage(
            source_v=named("source_v", source_v, "at the start of the path"),
            load_voltage_v=asked.load_voltage_v,
            excess_v=excess_v,
        )
    )
    return named(symbol, gained_v, "what the load gains when mended, at a constant resistance")


def _nominal_v(asked: DropDiagnosisRequest, taken: Readings) -> float:
    if given(asked.nominal_v):
        found: float = plain(asked.nominal_v)
        return found
    nominal = DEFAULT_NOMINAL_V
    if given(asked.supply_v):
        nominal = nominal_voltage(asked.supply_v)
    elif given(asked.load_voltage_v):
        nominal = nominal_voltage(asked.load_voltage_v + taken.total_v)
    source = f"{NOMINAL}; {DEFAULT_NOMINAL_V} V where no supply is known"
    return published("nominal_v", float(nominal), "nominal voltage of the system", source)


_OF_THE_PATH = frozenset({"mend_the_wiring", "path_is_sound"})


def _short_v(supply: tuple[Checked, ...]) -> float:
    """What a supply lacks to be that of a sound battery; 0 where it is, or is not known. [V]."""
    of_battery = (each for each in supply if each.code == "supply" and each.detail is None)
    return next((-each.judged.margin for each in of_battery if each.judged.margin < 0), 0.0)


def _order(still_v: float, excess_v: float) -> Literal["wires_first", "wires_after"] | None:
    """What comes first, of what is lost beyond a limit in sound parts, and of an excess."""
    if still_v <= 0:
        return None
    return "wires_first" if still_v > excess_v else "wires_after"


def _advice(
    taken: Readings,
    held: Consistency,
    proven: list[ReadPart],
    unsure: list[ReadPart],
    whole: Limit,
    beyond_v: float,
) -> tuple[Advice, Reason]:
    """What to do, and why; `beyond_v` is what the path drops beyond its limit. [V]."""
    if held.doubt is not None:
        is_open = held.doubt in {"open_part", "load_open"}
        return "open_part" if is_open else "not_proven", held.doubt
    if proven:
        return "mend_the_wiring", "excess_proven"
    if taken.missing_v > 0:
        return "unmeasured_part", "lost_elsewhere"
    if taken.contradiction_v > 0:
        return "not_proven", "readings_contradict"
    # What a part is known to drop more, and needs no mending for, hides nothing.
    hidden_v = added(each.error_v if each.proven else each.hidden_v for each in taken.parts)
    # Whatever the errors hide, sound parts that drop far too much together are too thin.
    if beyond_v > hidden_v:
        return ("not_proven", "too_thin_at_least") if unsure else ("path_is_sound", "too_thin")
    if unsure or matters(hidden_v, whole):
        return "not_proven", "too_coarse"
    return "path_is_sound", "too_thin" if beyond_v > 0 else "parts_are_sound"


OPERATION = Operation("drop-diagnosis", __doc__, DropDiagnosisRequest, DropDiagnosis, solve)
