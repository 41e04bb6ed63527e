"""Solenoids by rating, by windings or by force, reduced to what answers need."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, ClassVar

from lastvolt_service import tables
from lastvolt_service.fields import ABSENT, Broken, Fields, Groups, quantity, recorded
from lastvolt_service.laws import OHM, by, named
from lastvolt_service.laws import given as told
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.judging import FAIL, MARGINAL, Judged, reaches
from lastvolt_service.operations.results import Given, merge
from lastvolt_service.operations.wires.conductors import copper_changes
from lastvolt_service.physics import solenoid as physics
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, pick, plain
from lastvolt_service.units import high_end, low_end

SCALING = tables.citation("solenoids", "scaling")
SAME_CURRENT = "ampere-turns are constant, and so is the current that moves the plunger"
COLDEST_WINDING_C = 20.0
HIGHEST_V = 60.0
# A solenoid closes cold at half to three quarters of the voltage that it is made for: one of the
# system not below the first share of its voltage, one of half as much not above the second.
# Common practice.
LEAST_PULL_IN_SHARE, MOST_OF_HALF_SHARE = 0.4, 0.35
MOST_SHARE = 2 * LEAST_PULL_IN_SHARE  # from here on it is one for twice the voltage


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

    def broken_rules(self) -> Iterator[Broken]:
        """What moves the plunger holds it, too."""
        wrong = high_end(self.hold_in_v) > low_end(self.pull_in_v)
        yield wrong, ("hold_in_v",), "This must not exceed pull_in_v."


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


def judge_made_for(pull_in_v: Numbers, system_v: Numbers) -> Judged:
    """Judge whether a solenoid that closes so early, cold, is made for so much. [V]."""
    judged = reaches(pull_in_v, LEAST_PULL_IN_SHARE * system_v, 0.0)
    doubtful = (judged.verdict == FAIL) & (pull_in_v > MOST_OF_HALF_SHARE * system_v)
    return judged._replace(verdict=pick(doubtful, MARGINAL, judged.verdict))


def bare_system_v(bare: Solenoid) -> Numbers:
    """The least system that a solenoid can be made for, by what it closes at, cold. [V]."""
    volts = bare.pull_in_v
    found: Numbers = pick(volts < MOST_SHARE * 6, 6.0, pick(volts < MOST_SHARE * 12, 12.0, 24.0))
    return found


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
    ohm, held_ohm = rated.resistance_ohm, getattr(rated, "held_resistance_ohm", NOT_GIVEN)
    held_ohm = pick(given(held_ohm), held_ohm, ohm)
    return Solenoid(rated.pull_in_v, rated.hold_in_v, ohm, held_ohm, rated.reference_temperature_c)


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
