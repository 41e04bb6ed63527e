"""Lead-acid starter batteries: voltage at rest and under load, and resistance from the ratings."""

from lastvolt_service.laws import OHM, law
from lastvolt_service.physics import Real
from lastvolt_service.rows import pick


@law(
    "open_circuit_v = rested_v + rise_v_per_k * (temperature_c - rested_at_c)"
    "  # without load, at the temperature asked for",
    source="voltage of a rested battery, shifted on a straight line to another temperature",
)
def open_circuit_voltage(
    *, rested_v: Real, temperature_c: Real, rested_at_c: Real, rise_v_per_k: Real
) -> Real:
    """Voltage of a rested battery without load.

    Parameters
    ----------
    rested_v : float or ndarray
        At the temperature of the published voltages. [V]
    temperature_c : float or ndarray
        Temperature of the electrolyte. [degC]
    rested_at_c : float or ndarray
        Temperature of the published voltages. [degC]
    rise_v_per_k : float or ndarray
        Rise of the voltage with temperature. [V/K]

    Returns
    -------
    open_circuit_v : float or ndarray
        Broadcast shape. [V]
    """
    return rested_v + rise_v_per_k * (temperature_c - rested_at_c)


@law(
    "terminal_v = max(open_circuit_v - current_a * internal_resistance_ohm, 0)"
    "  # at the posts with the current flowing",
    source=OHM,
)
def terminal_voltage(
    *, open_circuit_v: Real, internal_resistance_ohm: Real, current_a: Real
) -> Real:
    """Voltage that a source keeps at its terminals.

    Parameters
    ----------
    open_circuit_v : float or ndarray
        Without load. [V]
    internal_resistance_ohm : float or ndarray
        Behind it. [ohm]
    current_a : float or ndarray
        Drawn from it, up to that of a dead short. [A]

    Returns
    -------
    terminal_v : float or ndarray
        Broadcast shape; 0 where rounding at the very current of a short would leave less. [V]
    """
    kept = open_circuit_v - current_a * internal_resistance_ohm
    found: Real = pick(kept < 0, 0.0, kept)
    return found


@law(
    "internal_resistance_ohm = (open_circuit_v - cold_cranking_v) / cold_cranking_a"
    "  # at the temperature of the rating",
    source="SAE J537: what the cold-cranking rating promises",
)
def cold_cranking_resistance(
    *, open_circuit_v: Real, cold_cranking_v: Real, cold_cranking_a: Real
) -> Real:
    """Internal resistance that the cold-cranking rating stands for.

    Parameters
    ----------
    open_circuit_v : float or ndarray
        Of the full battery at the temperature of the rating. [V]
    cold_cranking_v : float or ndarray
        Voltage that the rating promises at its current. [V]
    cold_cranking_a : float or ndarray
        The rating, above zero. [A]

    Returns
    -------
    internal_resistance_ohm : float or ndarray
        At the temperature of the rating, broadcast shape. [ohm]

    Notes
    -----
    A battery just within its rating has this resistance after 30 s; a better one has less.
    Polarisation is counted in, so the sag of the first second is smaller.

    References
    ----------
    SAE J537, cold-cranking performance test.
    """
    return (open_circuit_v - cold_cranking_v) / cold_cranking_a


@law(
    "internal_resistance_ohm = resistance_ohm * reference_percent / power_percent"
    "  # at the temperature asked for",
    source="largest power of a source: E**2 / (4 R)",
)
def resistance_at_power(
    *, resistance_ohm: Real, reference_percent: Real, power_percent: Real
) -> Real:
    """Internal resistance at another temperature, told from the cranking power at both.

    Parameters
    ----------
    resistance_ohm : float or ndarray
        At the reference temperature. [ohm]
    reference_percent : float or ndarray
        Cranking power at the reference temperature. [%]
    power_percent : float or ndarray
        Cranking power at the temperature asked for, above zero. [%]

    Returns
    -------
    internal_resistance_ohm : float or ndarray
        Broadcast shape. [ohm]

    Notes
    -----
    The largest power that a source delivers goes as one over its resistance. The few percent by
    which its voltage changes with temperature are left out.
    """
    return resistance_ohm * reference_percent / power_percent


@law(
    "internal_resistance_ohm = resistance_ohm * charge_factor * ageing_factor"
    "  # of an old battery that is not full",
    source="resistance grows with sulphate and corrosion, by discharge and by age",
)
def aged_resistance(*, resistance_ohm: Real, charge_factor: Real, ageing_factor: Real) -> Real:
    """Internal resistance of a battery that is old and not full.

    Parameters
    ----------
    resistance_ohm : float or ndarray
        Of it new and full. [ohm]
    charge_factor, ageing_factor : float or ndarray
        What its state of charge and its age multiply that by, 1 or more. [1]

    Returns
    -------
    internal_resistance_ohm : float or ndarray
        Broadcast shape. [ohm]
    """
    return resistance_ohm * charge_factor * ageing_factor
