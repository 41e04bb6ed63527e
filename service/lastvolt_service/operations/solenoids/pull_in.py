"""Whether a solenoid pulls in, hot, with what reaches it.

The plunger moves at a number of ampere-turns, so the voltage it needs grows with the resistance of
its copper. A starter solenoid's pull-in winding returns through the motor and is shorted once the
main contacts close; from then on only the hold-in winding holds. All resistances of the solenoid,
the motor's included, are taken to warm alike.
"""

from dataclasses import dataclass, replace
from typing import Annotated, ClassVar

from lastvolt_service.errors import ConflictingFields
from lastvolt_service.fields import ABSENT, Fields, Groups, changed, part, quantity
from lastvolt_service.laws import KIRCHHOFF, by, named
from lastvolt_service.operations.common_fields import MOST_OF_12_V, supply
from lastvolt_service.operations.judging import FAIL, NOT_ASKED, PASS, Fault, asked_if, reaches
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.options import (
    full_battery_v,
    mended_regulator_v,
    sound_ohm,
    system_of,
)
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
)
from lastvolt_service.operations.solenoids.descriptions import (
    SCALING,
    Plunger,
    RatedSolenoid,
    Solenoid,
    SolenoidWindings,
    bare_system_v,
    describe,
    described_by,
    judge_made_for,
)
from lastvolt_service.operations.solenoids.fault import MEANING as FAULTS
from lastvolt_service.operations.solenoids.fault import SolenoidFault, overcharged, solenoid_fault
from lastvolt_service.operations.sources.supply import judge_too_high, judge_too_low
from lastvolt_service.operations.wires.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.physics import solenoid as physics
from lastvolt_service.physics.conductors import temperature_at_ratio
from lastvolt_service.physics.path import resistive_load_current
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, negate, number, pick
from lastvolt_service.tables.battery import TABLE_NOMINAL_V, open_circuit
from lastvolt_service.tables.materials import material

SAME_CURRENT = "ampere-turns are constant, and so is the current that moves the plunger"
COLDEST_WINDING_C = 20.0
# Of the nominal voltage: what a sound path loses at a solenoid's current, half of what it may, and
# what then reaches the terminal from a battery in use. Common practice.
SOUND_PATH_SHARE, SOUND_TERMINAL_SHARE = 0.5 / 12, 0.9
# Of a full battery's voltage, what one keeps that is charged well enough. Common practice.
IN_USE_SHARE = 0.95
LEAST_C = -60.0  # no vehicle is colder, and no request may be


class SolenoidPullInRequest(Fields):
    """A solenoid, the temperature of its windings, and what reaches it."""

    exactly_one_of: ClassVar[Groups] = (
        ("rated", "windings", "plunger"),
        ("available_v", "supply_v"),
    )
    together: ClassVar[Groups] = (("supply_v", "path_resistance_ohm"),)

    rated: RatedSolenoid | None = part(
        RatedSolenoid, "the solenoid by its pull-in voltage", default=ABSENT
    )
    windings: SolenoidWindings | None = part(
        SolenoidWindings, "the solenoid by its two windings", default=ABSENT
    )
    plunger: Plunger | None = part(Plunger, "the solenoid by force and air gap", default=ABSENT)
    temperature_c: Numbers = quantity(
        "temperature of the windings when it must pull in", maximum=250.0
    )
    available_v: Numbers = supply(
        "voltage at the solenoid's terminal with its current flowing", default=ABSENT
    )
    supply_v: Numbers = supply(
        "voltage at the start of the path, with its path_resistance_ohm", default=ABSENT
    )
    path_resistance_ohm: Numbers = quantity(
        "of the path to the solenoid, out and back", maximum=1e3, default=ABSENT
    )
    dip_v: Numbers = quantity(
        "lowest voltage at the terminal while it must hold, such as in a cranking dip",
        maximum=60.0,
        default=ABSENT,
    )

    example: ClassVar = {
        "windings": {
            "pull_in_turns": 200,
            "pull_in_resistance_ohm": 0.35,
            "hold_in_turns": 200,
            "hold_in_resistance_ohm": 1.1,
            "motor_resistance_ohm": 0.02,
            "ampere_turns": 4500,
            "hold_ampere_turns": 700,
        },
        "temperature_c": 110,
        "supply_v": 12.2,
        "path_resistance_ohm": 0.06,
        "dip_v": 7.0,
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class SolenoidPullIn(Result):
    """Answer of ``solenoid-pull-in``."""

    hot_pull_in_v: Annotated[
        float, "voltage at the terminal that moves the plunger at temperature_c"
    ]
    pull_in_current_a: Annotated[
        float | None, "current at which it moves, the same at any temperature"
    ]
    hot_resistance_ohm: Annotated[
        float | None, "between terminal and ground before it closes, at temperature_c"
    ]
    available_v: Annotated[float, "voltage that reaches the terminal with its current flowing"]
    margin_v: Annotated[float, "available_v over hot_pull_in_v"]
    hot_hold_in_v: Annotated[
        float | None,
        "voltage that keeps it closed at temperature_c, with the pull-in winding shorted out",
    ]
    hold_margin_v: Annotated[float | None, "dip_v over hot_hold_in_v"]
    maximum_path_resistance_ohm: Annotated[
        float | None,
        "largest path resistance from supply_v at which it still pulls in (beyond available_v, if "
        "that was given); null where none is small enough or the resistance is not known",
    ]
    fault: Annotated[SolenoidFault | None, FAULTS]
    cooling_can_help: Annotated[
        bool, "whether windings of 20 degC would pull in, where these do not"
    ]
    path_can_help: Annotated[
        bool,
        "whether a sound path would bring enough: from supply_v, or, where available_v was given "
        "and is not as much already as a sound path brings, from a full battery",
    ]
    battery_can_help: Annotated[
        bool,
        "whether supply_v is less than a battery in use has, and a full one would bring enough",
    ]
    maximum_temperature_c: Annotated[
        float | None,
        "highest winding temperature at which it still pulls in; null where there is none",
    ]


def solve(asked: SolenoidPullInRequest) -> Outcome:
    """Work out one solenoid or many."""
    solenoid = describe(asked.rated, asked.windings, asked.plunger)
    windings = asked.windings and changed(asked.windings, motor_resistance_ohm=0.0)
    bare = describe(asked.rated, windings, asked.plunger)
    change = named(
        "change",
        copper_changes(asked.temperature_c, solenoid.reference_c),
        "resistance of copper at temperature_c over that at the reference",
    )
    needed_v = named(
        "hot_pull_in_v", by(SCALING, solenoid.pull_in_v * change), "that moves the plunger"
    )
    hold_v = named(
        "hot_hold_in_v", by(SCALING, solenoid.hold_in_v * change), "that keeps it closed"
    )
    ohm = named("hot_resistance_ohm", solenoid.resistance_ohm * change, "of the solenoid")
    # Ampere-turns are constant and all copper warms alike, so this current is constant too.
    current_a = named(
        "pull_in_current_a",
        by(SAME_CURRENT, solenoid.pull_in_v / solenoid.resistance_ohm),
        "at which it moves, at any temperature",
    )
    by_path = given(asked.supply_v)
    source_v = pick(by_path, asked.supply_v, asked.available_v)
    path_ohm = pick(by_path, asked.path_resistance_ohm, 0.0)
    flowing_a = resistive_load_current(
        supply_v=source_v, path_resistance_ohm=path_ohm, load_resistance_ohm=ohm
    )
    arrives_v = pick(path_ohm > 0, by(KIRCHHOFF, ohm * flowing_a), source_v)
    arrives_v = named("available_v", arrives_v, "voltage that reaches the terminal")
    hottest_c = _hottest(source_v, path_ohm, current_a, solenoid)
    is_runaway = overcharged(bare, source_v)
    nominal_v = nominal_of(pick(is_runaway, MOST_OF_12_V, source_v), NOT_GIVEN)
    made_for = _made_for(bare, nominal_v)
    is_its = made_for.judged.verdict != FAIL
    # What is lost before a terminal is not known, and so the battery is of what it is made for.
    system_v = nominal_of(source_v, NOT_GIVEN)
    unknown_v = pick(system_v > bare_system_v(bare), system_v, bare_system_v(bare))
    system_v = pick(by_path, system_v, unknown_v)
    best_v = _full_v(source_v, system_v)
    too_high = judge_too_high(source_v, nominal_v)
    low = judge_too_low(source_v, system_v, flowing_a, starts=True)
    spare_ohm = physics.path_resistance_to_spare(
        supply_v=source_v, pull_in_current_a=current_a, winding_resistance_ohm=ohm
    )
    return Outcome(
        {
            "hot_pull_in_v": needed_v,
            "pull_in_current_a": current_a,
            "hot_resistance_ohm": ohm,
            "available_v": arrives_v,
            "margin_v": arrives_v - needed_v,
            "hot_hold_in_v": hold_v,
            "hold_margin_v": asked.dip_v - hold_v,
            "maximum_path_resistance_ohm": pick(spare_ohm >= 0, spare_ohm, NOT_GIVEN),
            "fault": solenoid_fault(
                solenoid, bare, change, made_for, best_v, is_runaway, asked.windings
            ),
            "cooling_can_help": hottest_c >= COLDEST_WINDING_C,
            "path_can_help": pick(
                by_path,
                source_v - SOUND_PATH_SHARE * system_v >= needed_v,
                (source_v < SOUND_TERMINAL_SHARE * system_v) & (best_v >= needed_v),
            ),
            "battery_can_help": by_path
            & (source_v < IN_USE_SHARE * best_v)
            & (arrives_v < needed_v)
            & (arrives_v * best_v >= needed_v * source_v),
            "maximum_temperature_c": hottest_c,
        },
        (
            Checked("pull_in", reaches(arrives_v, needed_v), "V", SCALING),
            Checked("hold_in", reaches(asked.dip_v, hold_v), "V", SCALING),
            made_for,
            replace(low, judged=asked_if(by_path & is_its, low.judged)),
            replace(too_high, judged=asked_if(is_its, too_high.judged)),
        ),
        (
            SCALING,
            *described_by(asked.rated, asked.windings, asked.plunger),
            material("copper").citation,
        ),
        (STARTER, SHORT_CIRCUIT, HOT_SURFACE, DEFERENCE),
        (
            Fault(
                by_path & negate(given(ohm)),
                ConflictingFields,
                ("rated", "resistance_ohm"),
                lambda: (
                    "A path needs the solenoid's resistance_ohm to know its current; give "
                    "it, or give available_v in place of supply_v."
                ),
            ),
        ),
    )


def _hottest(
    source_v: Numbers, path_ohm: Numbers, current_a: Numbers, solenoid: Solenoid
) -> Numbers:
    """Highest temperature at which it still pulls in; NaN where there is none. [degC]."""
    through_path = physics.winding_ratio_to_spare(
        supply_v=source_v,
        pull_in_current_a=current_a,
        path_resistance_ohm=path_ohm,
        winding_resistance_ohm=solenoid.resistance_ohm,
    )
    ratio = pick(given(solenoid.resistance_ohm), through_path, source_v / solenoid.pull_in_v)
    largest = named("largest_change", ratio, "resistance it may have, over that at the reference")
    hottest: Numbers = temperature_at_ratio(
        ratio=largest * copper_changes(solenoid.reference_c, 20.0),
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )
    found: Numbers = pick((ratio > 0) & (hottest >= LEAST_C), hottest, NOT_GIVEN)
    return found


def _full_v(known_v: Numbers, system_v: Numbers) -> Numbers:
    """What the system of a voltage gives at best: that of its full battery. [V]."""
    full_v = open_circuit().y[-1] * system_v / TABLE_NOMINAL_V
    found: Numbers = pick(full_v > known_v, full_v, known_v)
    return found


def _made_for(bare: Solenoid, nominal_v: Numbers) -> Checked:
    """Whether its windings are made for such a system: one that closes far below is not."""
    judged = judge_made_for(bare.pull_in_v, nominal_v)
    judged = judged._replace(verdict=pick(judged.verdict == PASS, NOT_ASKED, judged.verdict))
    return Checked("made_for", judged, "V", COMMON_PRACTICE)


def mend(asked: SolenoidPullInRequest, answer: SolenoidPullIn, trials: Trials) -> None:
    """Look for what cures a failed check."""
    if trials.decisive.code == "source_voltage":
        for field in ("supply_v", "available_v"):
            now_v = float(getattr(asked, field))
            if given(now_v):
                volts = mended_regulator_v(float(system_of(min(now_v, MOST_OF_12_V))))
                trials.offer(Said("regulator", {"new": (volts, "V")}), (Put((field,), volts),))
        return
    if trials.decisive.code == "hold_in":
        trials.search("dip_v", asked.dip_v, full_battery_v(float(asked.dip_v)))
        return
    path_ohm, current_a = number(asked.path_resistance_ohm), answer.pull_in_current_a
    if path_ohm is not None and current_a is not None and answer.path_can_help:
        ohm = sound_ohm("relay", current_a)
        if ohm < path_ohm:
            puts = (Put(("path_resistance_ohm",), ohm),)
            trials.offer(Said("relay", {"new": (ohm, "ohm")}), puts)
        # From near what it may have: an open or mistyped path is orders of magnitude away.
        spare_ohm = number(answer.maximum_path_resistance_ohm) or path_ohm
        trials.search("path_resistance_ohm", min(path_ohm, 2.0 * spare_ohm), 0.0)
    trials.search("temperature_c", asked.temperature_c, COLDEST_WINDING_C)
    for field in ("supply_v", "available_v"):
        now_v = getattr(asked, field)
        if given(now_v):
            trials.search(field, now_v, full_battery_v(float(now_v)))


OPERATION = Operation(
    "solenoid-pull-in", __doc__, SolenoidPullInRequest, SolenoidPullIn, solve, mend
)
