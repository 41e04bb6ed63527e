"""Whether a solenoid pulls in, hot, with what reaches it.

The plunger moves at a number of ampere-turns, so the voltage it needs grows with the resistance of
its copper. A starter solenoid's pull-in winding returns through the motor and is shorted once the
main contacts close; from then on only the hold-in winding holds. All resistances of the solenoid,
the motor's included, are taken to warm alike.
"""

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from lastvolt_service import tables
from lastvolt_service.errors import ConflictingFields
from lastvolt_service.fields import ABSENT, Fields, Groups, part, quantity, recorded
from lastvolt_service.laws import KIRCHHOFF, OHM, by, named
from lastvolt_service.laws import given as told
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.judging import Fault, reaches
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.operations.remedies.trials import Put, Said, Trials
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Given,
    Result,
    merge,
)
from lastvolt_service.operations.wires.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.physics import solenoid as physics
from lastvolt_service.physics.conductors import temperature_at_ratio
from lastvolt_service.physics.path import resistive_load_current
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, negate, number, pick, plain
from lastvolt_service.tables.materials import material

SCALING = tables.citation("solenoids", "scaling")
SAME_CURRENT = "ampere-turns are constant, and so is the current that moves the plunger"
COLDEST_WINDING_C = 20.0
HIGHEST_V = 60.0


class RatedSolenoid(Fields):
    """A solenoid by its maker's pull-in voltage, or by a test on the bench."""

    pull_in_v: Numbers = supply("voltage at which the plunger is sure to move")
    hold_in_v: Numbers = supply("voltage below which it lets go", minimum=0.01, default=ABSENT)
    resistance_ohm: Numbers = quantity(
        "between its terminal and ground before it closes, for currents and paths",
        minimum=1e-3,
        default=ABSENT,
    )
    reference_temperature_c: Numbers = quantity("winding temperature of these values", default=20.0)


class SolenoidWindings(Fields):
    """A starter solenoid by its two windings."""

    pull_in_turns: Numbers = quantity("turns of the pull-in winding")
    pull_in_resistance_ohm: Numbers = quantity(
        "of the pull-in winding, which returns through the motor", minimum=1e-3
    )
    hold_in_turns: Numbers = quantity("turns of the hold-in winding")
    hold_in_resistance_ohm: Numbers = quantity(
        "of the hold-in winding, which goes to ground", minimum=1e-3
    )
    motor_resistance_ohm: Numbers = quantity("of the starter motor at rest", default=0.0)
    ampere_turns: Numbers = quantity("of both windings together at which the plunger moves")
    hold_ampere_turns: Numbers = quantity("that keep the closed plunger", default=ABSENT)
    reference_temperature_c: Numbers = quantity("temperature of these resistances", default=20.0)


class Plunger(Fields):
    """A solenoid by the force that its plunger needs."""

    together: ClassVar[Groups] = (("hold_force_n", "hold_gap_mm"),)

    force_n: Numbers = quantity("force that moves the plunger")
    gap_mm: Numbers = quantity("air gap before it moves")
    area_mm2: Numbers = quantity("area of the pole", minimum=0.1)
    turns: Numbers = quantity("turns of the winding")
    resistance_ohm: Numbers = quantity("of the winding at the reference temperature", minimum=1e-3)
    hold_force_n: Numbers = quantity("force that keeps the closed plunger", default=ABSENT)
    hold_gap_mm: Numbers = quantity("air gap that is left when it has closed", default=ABSENT)
    reference_temperature_c: Numbers = quantity("temperature of this resistance", default=20.0)


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
    maximum_temperature_c: Annotated[
        float | None,
        "highest winding temperature at which it still pulls in; null where there is none",
    ]


@dataclass(frozen=True, slots=True)
class Solenoid:
    """Any of the three descriptions, reduced to what answers need, at its reference.

    Attributes
    ----------
    pull_in_v, hold_in_v : float or ndarray
        Voltages at the terminal; NaN where not known, as all of these. [V]
    resistance_ohm, hold_resistance_ohm : float or ndarray
        Between terminal and ground, before and after it has closed. [ohm]
    reference_c : float or ndarray
        Temperature of all of these. [degC]
    """

    pull_in_v: Numbers = NOT_GIVEN
    hold_in_v: Numbers = NOT_GIVEN
    resistance_ohm: Numbers = NOT_GIVEN
    hold_resistance_ohm: Numbers = NOT_GIVEN
    reference_c: Numbers = NOT_GIVEN


def describe(
    rated: RatedSolenoid | None, windings: SolenoidWindings | None, plunger: Plunger | None
) -> Solenoid:
    """Reduce the one description that is given; in columns, each row's own."""
    one = Solenoid()
    for other in (
        None if rated is None else _from_rating(rated),
        None if windings is None else _from_windings(windings),
        None if plunger is None else _from_plunger(plunger),
    ):
        if other is not None:
            here = given(other.pull_in_v)
            pairs = zip(_values(other), _values(one), strict=True)
            one = Solenoid(*(pick(here, new, old) for new, old in pairs))
    return one


def _values(solenoid: Solenoid) -> tuple[Numbers, ...]:
    return (
        solenoid.pull_in_v,
        solenoid.hold_in_v,
        solenoid.resistance_ohm,
        solenoid.hold_resistance_ohm,
        solenoid.reference_c,
    )


def described_by(rated: object, windings: object, plunger: object) -> tuple[str, ...]:
    """Say what a description rests on."""
    return merge(
        (Given("pull-in voltage given by the caller"),) if rated is not None else (),
        (tables.citation("solenoids", "two_windings"),) if windings is not None else (),
        (tables.citation("solenoids", "force"),) if plunger is not None else (),
    )


def _from_rating(rated: RatedSolenoid) -> Solenoid:
    ohm = rated.resistance_ohm
    return Solenoid(rated.pull_in_v, rated.hold_in_v, ohm, ohm, rated.reference_temperature_c)


def _from_windings(windings: SolenoidWindings) -> Solenoid:
    ohms = {
        "pull_in_resistance_ohm": windings.pull_in_resistance_ohm,
        "motor_resistance_ohm": windings.motor_resistance_ohm,
        "hold_in_resistance_ohm": windings.hold_in_resistance_ohm,
    }
    pull_in_v = physics.two_winding_pull_in(
        ampere_turns=windings.ampere_turns,
        pull_in_turns=windings.pull_in_turns,
        hold_in_turns=windings.hold_in_turns,
        **ohms,
    )
    hold_ohm = windings.hold_in_resistance_ohm
    hold_in_v = windings.hold_ampere_turns * (hold_ohm / windings.hold_in_turns)
    return Solenoid(
        named("reference_pull_in_v", pull_in_v, "at terminal 50, both windings pulling alike"),
        named(
            "reference_hold_in_v",
            by(tables.citation("solenoids", "two_windings"), hold_in_v),
            "with the pull-in winding shorted out",
        ),
        named(
            "reference_resistance_ohm",
            physics.two_winding_resistance(**ohms),
            "both windings in parallel",
        ),
        hold_ohm,
        windings.reference_temperature_c,
    )


def _from_plunger(plunger: Plunger) -> Solenoid:
    ohm = plunger.resistance_ohm

    def volts(force_n: Numbers, gap_mm: Numbers, symbol: str) -> Numbers:
        ampere_turns: Numbers = plain(
            physics.ampere_turns_for_force(
                force_n=force_n, gap_mm=gap_mm, area_mm2=plunger.area_mm2
            )
        )
        return named(symbol, by(OHM, ampere_turns / plunger.turns * ohm), "at the winding")

    return Solenoid(
        volts(plunger.force_n, plunger.gap_mm, "reference_pull_in_v"),
        volts(plunger.hold_force_n, plunger.hold_gap_mm, "reference_hold_in_v"),
        ohm,
        ohm,
        plunger.reference_temperature_c,
    )


@dataclass(frozen=True, slots=True)
class Needed:
    """What a solenoid in a circuit needs, and what it is to the network.

    Attributes
    ----------
    volts : float
        At its terminal; NaN where it is not known. [V]
    resistance_ohm : float
        Of it, likewise. [ohm]
    basis : tuple of str
        What both rest on.
    """

    volts: Numbers
    resistance_ohm: Numbers
    basis: tuple[str, ...]


def needed_by_load(load: Any, winding_c: float, *, held: bool, prefix: str = "") -> Needed:
    """Work out a solenoid that is a load of a circuit, as warm as its zone.

    Parameters
    ----------
    load : Fields
        With one of `rated`, `windings` and `plunger`.
    winding_c : float
        Temperature of its windings. [degC]
    held : bool
        Whether it has closed and must hold.
    prefix : str
        Of the symbols, where this is told in steps.
    """
    described = [
        None if each is None else recorded(each, prefix)
        for each in (load.rated, load.windings, load.plunger)
    ]
    solenoid = describe(*described)
    warm_c = told(f"{prefix}winding_c", winding_c, "of the windings: that of their zone")
    change = copper_changes(warm_c, solenoid.reference_c)
    volts = solenoid.hold_in_v if held else solenoid.pull_in_v
    ohm = solenoid.hold_resistance_ohm if held else solenoid.resistance_ohm
    return Needed(by(SCALING, volts * change), ohm * change, described_by(*described))


def solve(asked: SolenoidPullInRequest) -> Outcome:
    """Work out one solenoid or many."""
    solenoid = describe(asked.rated, asked.windings, asked.plunger)
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
            "maximum_temperature_c": _hottest(source_v, path_ohm, current_a, solenoid),
        },
        (
            Checked("pull_in", reaches(arrives_v, needed_v), "V", SCALING),
            Checked("hold_in", reaches(asked.dip_v, hold_v), "V", SCALING),
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
    found: Numbers = pick(ratio > 0, hottest, NOT_GIVEN)
    return found


def mend(asked: SolenoidPullInRequest, answer: SolenoidPullIn, trials: Trials) -> None:
    """Look for what cures a failed check."""
    if trials.decisive.code == "hold_in":
        trials.search("dip_v", asked.dip_v, HIGHEST_V)
        return
    path_ohm, current_a = number(asked.path_resistance_ohm), answer.pull_in_current_a
    if path_ohm is not None and current_a is not None:
        ohm = sound_ohm("relay", current_a)
        if ohm < path_ohm:
            puts = (Put(("path_resistance_ohm",), ohm),)
            trials.offer(Said("relay", {"new": (ohm, "ohm")}), puts)
        trials.search("path_resistance_ohm", path_ohm, 0.0)
    trials.search("temperature_c", asked.temperature_c, COLDEST_WINDING_C)
    for field in ("supply_v", "available_v"):
        now_v = getattr(asked, field)
        trials.search(field, now_v, min(HIGHEST_V, 3.0 * now_v))


OPERATION = Operation(
    "solenoid-pull-in", __doc__, SolenoidPullInRequest, SolenoidPullIn, solve, mend
)
