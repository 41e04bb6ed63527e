"""A solenoid: the voltage that moves its plunger when hot, and what may stand in the way."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service import tables
from lastvolt_service.errors import ConflictingFields
from lastvolt_service.operations.conductors import copper_change, copper_coefficient_per_k
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Result,
    at_least,
    show,
    unknown,
)
from lastvolt_service.physics import solenoid as physics
from lastvolt_service.physics.conductors import temperature_at_ratio
from lastvolt_service.physics.path import resistive_load_current
from lastvolt_service.tables.materials import material

SCALING = tables.citation("solenoids", "scaling")


@dataclass(frozen=True, slots=True, kw_only=True)
class SolenoidPullIn(Result):
    """Answer of ``solenoid-pull-in``."""

    pull_in_v: Annotated[float, "voltage at the terminal that moves the plunger"]
    pull_in_current_a: Annotated[
        float | None, "current at which it moves, the same at any temperature"
    ]
    resistance_ohm: Annotated[
        float | None, "between terminal and ground before it closes, at temperature_c"
    ]
    available_v: Annotated[float, "voltage that reaches the terminal with its current flowing"]
    margin_v: Annotated[float, "available_v over pull_in_v"]
    hold_in_v: Annotated[
        float | None, "voltage that keeps it closed, with the pull-in winding shorted out"
    ]
    hold_margin_v: Annotated[float | None, "dip_v over hold_in_v"]
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
    pull_in_v, hold_in_v : float or None
        Voltages at the terminal. [V]
    resistance_ohm, hold_resistance_ohm : float or None
        Between terminal and ground, before and after it has closed. [ohm]
    reference_c : float
        Temperature of all of these. [degC]
    basis : tuple of str
        What they rest on.
    """

    pull_in_v: float
    hold_in_v: float | None
    resistance_ohm: float | None
    hold_resistance_ohm: float | None
    reference_c: float
    basis: tuple[str, ...]

    @property
    def pull_in_current_a(self) -> float | None:
        """Current at which the plunger moves. [A]."""
        # Ampere-turns are constant and all copper warms alike, so this current is too.
        return None if self.resistance_ohm is None else self.pull_in_v / self.resistance_ohm


def solenoid_pull_in(
    *,
    temperature_c: float,
    rated: Mapping[str, float] | None = None,
    windings: Mapping[str, float] | None = None,
    plunger: Mapping[str, float] | None = None,
    available_v: float | None = None,
    supply_v: float | None = None,
    path_resistance_ohm: float | None = None,
    dip_v: float | None = None,
) -> SolenoidPullIn:
    """Whether a solenoid pulls in, hot, with what reaches it.

    The plunger moves at a number of ampere-turns, so the voltage it needs grows with the
    resistance of its copper. A starter solenoid's pull-in winding returns through the motor and
    is shorted once the main contacts close; from then on only the hold-in winding holds. All
    resistances of the solenoid, the motor's included, are taken to warm alike.

    Returns
    -------
    SolenoidPullIn

    Raises
    ------
    ConflictingFields
        If a path is given for a solenoid of unknown resistance.
    """
    solenoid = describe(rated, windings, plunger)
    change = copper_change(temperature_c, solenoid.reference_c)
    needed = solenoid.pull_in_v * change
    ohm = None if solenoid.resistance_ohm is None else solenoid.resistance_ohm * change
    source_v, path_ohm = _source(available_v, supply_v, path_resistance_ohm, ohm)
    arrives = source_v
    if path_ohm and ohm is not None:
        arrives = ohm * float(
            resistive_load_current(
                supply_v=source_v, path_resistance_ohm=path_ohm, load_resistance_ohm=ohm
            )
        )
    hold = None if solenoid.hold_in_v is None else solenoid.hold_in_v * change
    spare_ohm = _maximum_path(source_v, solenoid, ohm)
    hottest = _maximum_temperature(source_v, path_ohm, solenoid)
    return SolenoidPullIn(
        pull_in_v=needed,
        pull_in_current_a=solenoid.pull_in_current_a,
        resistance_ohm=ohm,
        available_v=arrives,
        margin_v=arrives - needed,
        hold_in_v=hold,
        hold_margin_v=None if hold is None or dip_v is None else dip_v - hold,
        maximum_path_resistance_ohm=spare_ohm,
        maximum_temperature_c=hottest,
        checks=(
            _pull_in_check(arrives, needed, temperature_c, spare_ohm, hottest),
            _hold_check(dip_v, hold),
        ),
        basis=(SCALING, *solenoid.basis, material("copper").citation),
        cautions=(STARTER, SHORT_CIRCUIT, HOT_SURFACE, DEFERENCE),
    )


def describe(
    rated: Mapping[str, float] | None,
    windings: Mapping[str, float] | None,
    plunger: Mapping[str, float] | None,
) -> Solenoid:
    """Reduce one of the three descriptions.

    Parameters
    ----------
    rated, windings, plunger : mapping or None
        As in requests; exactly one is given.

    Returns
    -------
    Solenoid
    """
    if rated is not None:
        return Solenoid(
            rated["pull_in_v"],
            rated.get("hold_in_v"),
            rated.get("resistance_ohm"),
            rated.get("resistance_ohm"),
            rated["reference_temperature_c"],
            ("pull-in voltage given by the caller",),
        )
    if windings is not None:
        return _from_windings(windings)
    return _from_plunger(plunger or {})


def _from_windings(windings: Mapping[str, float]) -> Solenoid:
    ohms = {
        name: windings[name]
        for name in ("pull_in_resistance_ohm", "motor_resistance_ohm", "hold_in_resistance_ohm")
    }
    pull_in = physics.two_winding_pull_in(
        ampere_turns=windings["ampere_turns"],
        pull_in_turns=windings["pull_in_turns"],
        hold_in_turns=windings["hold_in_turns"],
        **ohms,
    )
    hold = windings.get("hold_ampere_turns")
    if hold is not None:
        hold *= windings["hold_in_resistance_ohm"] / windings["hold_in_turns"]
    return Solenoid(
        float(pull_in),
        hold,
        float(physics.two_winding_resistance(**ohms)),
        windings["hold_in_resistance_ohm"],
        windings["reference_temperature_c"],
        (tables.citation("solenoids", "two_windings"),),
    )


def _from_plunger(plunger: Mapping[str, float]) -> Solenoid:
    def volts(force_n: float, gap_mm: float) -> float:
        ampere_turns = physics.ampere_turns_for_force(
            force_n=force_n, gap_mm=gap_mm, area_mm2=plunger["area_mm2"]
        )
        return float(ampere_turns) / plunger["turns"] * plunger["resistance_ohm"]

    holds = "hold_force_n" in plunger
    return Solenoid(
        volts(plunger["force_n"], plunger["gap_mm"]),
        volts(plunger["hold_force_n"], plunger["hold_gap_mm"]) if holds else None,
        plunger["resistance_ohm"],
        plunger["resistance_ohm"],
        plunger["reference_temperature_c"],
        (tables.citation("solenoids", "force"),),
    )


def _source(
    available_v: float | None,
    supply_v: float | None,
    path_ohm: float | None,
    resistance_ohm: float | None,
) -> tuple[float, float]:
    """Voltage and resistance [V, ohm] that the solenoid hangs on."""
    if supply_v is None or path_ohm is None:
        return available_v or 0.0, 0.0
    if resistance_ohm is None:
        raise ConflictingFields(
            "A path needs the solenoid's resistance_ohm to know its current; give it, or give "
            "available_v in place of supply_v.",
            ("rated", "resistance_ohm"),
        )
    return supply_v, path_ohm


def _maximum_path(source_v: float, solenoid: Solenoid, ohm: float | None) -> float | None:
    if ohm is None or solenoid.pull_in_current_a is None:
        return None
    spare = float(
        physics.path_resistance_to_spare(
            supply_v=source_v,
            pull_in_current_a=solenoid.pull_in_current_a,
            winding_resistance_ohm=ohm,
        )
    )
    return spare if spare >= 0 else None


def _maximum_temperature(source_v: float, path_ohm: float, solenoid: Solenoid) -> float | None:
    if solenoid.resistance_ohm is None or solenoid.pull_in_current_a is None:
        ratio = source_v / solenoid.pull_in_v
    else:
        ratio = float(
            physics.winding_ratio_to_spare(
                supply_v=source_v,
                pull_in_current_a=solenoid.pull_in_current_a,
                path_resistance_ohm=path_ohm,
                winding_resistance_ohm=solenoid.resistance_ohm,
            )
        )
    if ratio <= 0:
        return None
    to_20 = copper_change(solenoid.reference_c, 20.0)
    return float(
        temperature_at_ratio(
            ratio=ratio * to_20, temperature_coefficient_per_k=copper_coefficient_per_k()
        )
    )


def _pull_in_check(
    arrives: float,
    needed: float,
    temperature_c: float,
    spare_ohm: float | None,
    hottest: float | None,
) -> Check:
    at = f"with its windings at {show(temperature_c, 'degC')}"
    path = "" if spare_ohm is None else f" The path may have up to {show(spare_ohm, 'ohm')}."
    heat = (
        "" if hottest is None else f" It would pull in with windings up to {show(hottest, 'degC')}."
    )
    return at_least(
        "pull-in",
        arrives,
        needed,
        "V",
        SCALING,
        {
            "pass": f"The solenoid pulls in {at}: {show(arrives, 'V')} arrives and it needs "
            f"{show(needed, 'V')}.{path}{heat}",
            "fail": f"The solenoid will not pull in {at}: it needs {show(needed, 'V')} and only "
            f"{show(arrives, 'V')} arrives.{path}{heat} Lower the path's resistance.",
        },
    )


def _hold_check(dip_v: float | None, hold_v: float | None) -> Check:
    name = "hold-in"
    if hold_v is None or dip_v is None:
        return unknown(
            name, "V", SCALING, "Give dip_v and what keeps the plunger closed to judge holding."
        )
    return at_least(
        name,
        dip_v,
        hold_v,
        "V",
        SCALING,
        {
            "pass": f"Once closed it holds down to {show(hold_v, 'V')}; the dip stays above it.",
            "fail": f"Once closed it needs {show(hold_v, 'V')} to hold and the dip reaches "
            f"{show(dip_v, 'V')}: it will let go and chatter.",
        },
    )
