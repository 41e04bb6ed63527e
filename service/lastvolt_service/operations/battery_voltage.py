"""A starter battery: voltage at rest, internal resistance, and the sag under a load."""

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from lastvolt_service.errors import NoOperatingPoint, NotCovered
from lastvolt_service.operations.results import (
    DEFERENCE,
    SHORT_CIRCUIT,
    Check,
    Result,
    at_least,
    at_most,
    merge,
    show,
    unknown,
)
from lastvolt_service.physics import battery as physics
from lastvolt_service.tables import battery as table

CHARGE_BASIS = (
    "state of charge acts on the open-circuit voltage only; the estimated resistance is that of a "
    "charged battery"
)
MEASURED_BASIS = "internal resistance given by the caller"
RATING_BASIS = "cold-cranking rating given by the caller"
ESTIMATED = (
    "The internal resistance is an estimate from the cold-cranking rating and the temperature: a "
    "discharged, sulphated or old battery has more. Measure it where it decides: the sag at a "
    "known current, over that current."
)
FROZEN = (
    "Never charge or jump-start a battery whose electrolyte may be frozen: it can burst. Warm it "
    "up first."
)
# A freezing point counts as near within a tenth of this, 5 K; common practice, no source.
FREEZING_SCALE_K = 50.0


@dataclass(frozen=True, slots=True)
class BatterySource:
    """A battery as a circuit sees it.

    Attributes
    ----------
    emf_v : float
        Open-circuit voltage. [V]
    internal_resistance_ohm : float
        Behind it. [ohm]
    estimated : bool
        Whether the resistance is told from the ratings.
    basis : tuple of str
        What the values rest on.
    """

    emf_v: float
    internal_resistance_ohm: float
    estimated: bool
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BatteryVoltage(Result):
    """Answer of ``battery-voltage``."""

    open_circuit_v: Annotated[float, "at the posts without load, rested"]
    internal_resistance_ohm: Annotated[float, "of the battery at this temperature"]
    internal_resistance_estimated: Annotated[
        bool, "whether it is told from the cold-cranking rating, not measured"
    ]
    terminal_v: Annotated[float, "at the posts with the current flowing"]
    short_circuit_a: Annotated[float, "into a dead short across the posts"]


def battery_source(
    *,
    nominal_v: int,
    cold_cranking_a: float,
    state_of_charge_percent: float,
    temperature_c: float,
    internal_resistance_ohm: float | None = None,
) -> BatterySource:
    """Tell what a battery is to a circuit: a voltage behind a resistance.

    Parameters
    ----------
    nominal_v : int
        6, 12 or 24. [V]
    cold_cranking_a : float
        Cold-cranking rating. [A]
    state_of_charge_percent : float
        State of charge. [%]
    temperature_c : float
        Temperature of the electrolyte. [degC]
    internal_resistance_ohm : float, optional
        Measured, in place of the estimate. [ohm]

    Returns
    -------
    BatterySource

    Raises
    ------
    NotCovered
        If it is colder than the published cranking power and no resistance is given.
    """
    emf = _open_circuit_v(nominal_v, state_of_charge_percent, temperature_c)
    basis = (table.open_circuit().citation, table.temperature_citation())
    if internal_resistance_ohm is not None:
        return BatterySource(emf, internal_resistance_ohm, False, (*basis, MEASURED_BASIS))
    ohm = _estimated_ohm(nominal_v, cold_cranking_a, temperature_c)
    cold = (table.cold_cranking_citation(), table.cranking_power().citation, CHARGE_BASIS)
    return BatterySource(emf, ohm, True, (*basis, *cold))


def _open_circuit_v(nominal_v: int, charge_percent: float, temperature_c: float) -> float:
    curve = table.open_circuit()
    of_table = physics.open_circuit_voltage(
        state_of_charge_percent=charge_percent,
        temperature_c=temperature_c,
        curve_percent=curve.x,
        curve_v=curve.y,
        curve_temperature_c=table.CHARGE_TEMPERATURE_C,
        temperature_coefficient_v_per_k=table.TEMPERATURE_COEFFICIENT_V_PER_K,
    )
    return float(of_table) * nominal_v / table.TABLE_NOMINAL_V


def _estimated_ohm(nominal_v: int, cold_cranking_a: float, temperature_c: float) -> float:
    curve = table.cranking_power()
    cold_percent, power_percent = np.asarray(
        physics.cranking_power(
            temperature_c=np.array([table.COLD_CRANKING_TEMPERATURE_C, temperature_c]),
            curve_temperature_c=curve.x,
            curve_percent=curve.y,
        )
    ).tolist()
    if math.isnan(power_percent):
        raise NotCovered(
            f"No published cranking power reaches below {show(curve.x[0], 'degC')}, and none is "
            "extrapolated: give a measured internal_resistance_ohm.",
            ("temperature_c",),
        )
    cold_ohm = physics.cold_cranking_resistance(
        open_circuit_v=_open_circuit_v(nominal_v, 100.0, table.COLD_CRANKING_TEMPERATURE_C),
        cold_cranking_v=table.COLD_CRANKING_V * nominal_v / table.TABLE_NOMINAL_V,
        cold_cranking_a=cold_cranking_a,
    )
    return float(
        physics.resistance_at_power(
            resistance_ohm=cold_ohm, reference_percent=cold_percent, power_percent=power_percent
        )
    )


def battery_voltage(
    *,
    nominal_v: int,
    cold_cranking_a: float,
    state_of_charge_percent: float,
    temperature_c: float,
    current_a: float,
    internal_resistance_ohm: float | None = None,
) -> BatteryVoltage:
    """Voltage that a battery keeps under a load, by charge and temperature.

    The open-circuit voltage follows from the state of charge. The internal resistance is
    estimated: from the cold-cranking rating at -18 degC, and from published cranking power at
    other temperatures, never below the coldest published one. A measured one replaces it. The sag
    is held against what a load test asks for.

    Returns
    -------
    BatteryVoltage

    Raises
    ------
    NotCovered
        If it is colder than the published cranking power and no resistance is given.
    NoOperatingPoint
        If the current is more than a dead short would draw.
    """
    source = battery_source(
        nominal_v=nominal_v,
        cold_cranking_a=cold_cranking_a,
        state_of_charge_percent=state_of_charge_percent,
        temperature_c=temperature_c,
        internal_resistance_ohm=internal_resistance_ohm,
    )
    short = source.emf_v / source.internal_resistance_ohm
    if current_a > short:
        raise NoOperatingPoint(
            f"No operating point exists: {show(current_a, 'A')} is asked for, and a dead short "
            f"across the posts would draw {show(short, 'A')}.",
            ("current_a",),
        )
    # At the very current of a short, rounding must leave no voltage below zero.
    terminal = max(source.emf_v - current_a * source.internal_resistance_ohm, 0.0)
    freezing = _freezing_check(state_of_charge_percent, temperature_c)
    return BatteryVoltage(
        open_circuit_v=source.emf_v,
        internal_resistance_ohm=source.internal_resistance_ohm,
        internal_resistance_estimated=source.estimated,
        terminal_v=terminal,
        short_circuit_a=short,
        checks=(
            _sag_check(terminal, current_a, cold_cranking_a, temperature_c, nominal_v),
            _rating_check(current_a, cold_cranking_a),
            freezing,
        ),
        basis=merge(source.basis, (RATING_BASIS,)),
        cautions=(
            SHORT_CIRCUIT,
            *((ESTIMATED,) if source.estimated else ()),
            *(() if freezing.verdict == "pass" else (FROZEN,)),
            DEFERENCE,
        ),
    )


def _sag_check(
    terminal: float, current_a: float, cold_cranking_a: float, temperature_c: float, nominal_v: int
) -> Check:
    name = "sag under the load"
    curve = table.load_test()
    tested = cold_cranking_a / 2
    if current_a > tested:
        return unknown(
            name,
            "V",
            curve.citation,
            f"Load tests draw half of the cold-cranking rating, {show(tested, 'A')}: there is no "
            f"published limit for {show(current_a, 'A')}. Hold it against what the load needs.",
            value=terminal,
        )
    if temperature_c < curve.x[0]:
        return unknown(
            name,
            "V",
            curve.citation,
            f"No load test is published below {show(curve.x[0], 'degC')}.",
            value=terminal,
        )
    limit = float(np.interp(temperature_c, curve.x, curve.y)) * nominal_v / table.TABLE_NOMINAL_V
    kept = f"The posts keep {show(terminal, 'V')} at {show(current_a, 'A')}"
    asked = f"a load test asks a sound battery for {show(limit, 'V')} at {show(tested, 'A')}"
    return at_least(
        name,
        terminal,
        limit,
        "V",
        curve.citation,
        {
            "pass": f"{kept}; {asked}.",
            "fail": f"{kept}, and {asked}: charge it, test it again, and replace it if it fails.",
        },
    )


def _rating_check(current_a: float, cold_cranking_a: float) -> Check:
    return at_most(
        "current within the cold-cranking rating",
        current_a,
        cold_cranking_a,
        "A",
        RATING_BASIS,
        {
            "pass": f"The load takes {show(current_a, 'A')} of the {show(cold_cranking_a, 'A')} "
            "that the battery is rated for in the cold.",
            "fail": f"The load takes {show(current_a, 'A')}, more than the "
            f"{show(cold_cranking_a, 'A')} that the battery is rated for in the cold: take a "
            "larger battery, or look for what makes the load so heavy.",
        },
    )


def _freezing_check(charge_percent: float, temperature_c: float) -> Check:
    curve = table.freezing()
    limit = float(np.interp(charge_percent, curve.x, curve.y))
    freezes = f"At {show(charge_percent, '%')} charge the electrolyte freezes at"
    return at_least(
        "freezing of the electrolyte",
        temperature_c,
        limit,
        "degC",
        curve.citation,
        {
            "pass": f"{freezes} {show(limit, 'degC')}.",
            "fail": f"{freezes} {show(limit, 'degC')}, and it is {show(temperature_c, 'degC')}: "
            "it may be frozen. Do not charge it or jump-start it; warm it up, then charge it.",
        },
        scale=FREEZING_SCALE_K,
    )
