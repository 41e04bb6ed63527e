"""Readings on a live circuit: what the meter leaves open, and what mending gives back."""

from lastvolt_service.laws import KIRCHHOFF, law
from lastvolt_service.physics import Real
from lastvolt_service.rows import pick


@law(
    "uncertainty_v = resolution_v + accuracy_percent / 100 * reading_v"
    "  # largest error of the reading",
    source="one step of the last digit and the percentage, as meters are specified",
)
def reading_uncertainty(*, reading_v: Real, resolution_v: Real, accuracy_percent: Real) -> Real:
    """Largest error of a voltmeter's reading: the worst case, not a standard deviation.

    Parameters
    ----------
    reading_v : float or ndarray
        What the meter shows, whichever way round its leads are: zero or more. [V]
    resolution_v : float or ndarray
        One step of the last digit. [V]
    accuracy_percent : float or ndarray
        Error of the meter, of what it reads. [%]

    Returns
    -------
    uncertainty_v : float or ndarray
        Broadcast shape. [V]
    """
    return resolution_v + accuracy_percent / 100.0 * reading_v


@law(
    "excess_v = max(measured_v - expected_v, 0)  # beyond what is expected",
    source=KIRCHHOFF,
)
def excess_voltage(*, measured_v: Real, expected_v: Real) -> Real:
    """Voltage beyond what is expected.

    Parameters
    ----------
    measured_v, expected_v : float or ndarray
        Both. [V]

    Returns
    -------
    excess_v : float or ndarray
        Broadcast shape; 0 where no more is measured. [V]
    """
    over = measured_v - expected_v
    found: Real = pick(over > 0, over, 0.0)
    return found


@law(
    "regained_v = load_voltage_v * excess_v / (source_v - excess_v)"
    "  # more at a load of constant resistance",
    source="voltages of a series circuit stand for resistances at the same current",
)
def regained_voltage(*, source_v: Real, load_voltage_v: Real, excess_v: Real) -> Real:
    """Voltage that a load of constant resistance gains when part of the drop before it is mended.

    Parameters
    ----------
    source_v : float or ndarray
        Voltage at the start of the path: at the load and dropped, together. [V]
    load_voltage_v : float or ndarray
        At the load before, above zero and no more than `source_v`. [V]
    excess_v : float or ndarray
        Dropped before by the resistance that is taken out; no more than ``source_v -
        load_voltage_v``. [V]

    Returns
    -------
    regained_v : float or ndarray
        Broadcast shape; less than `excess_v` where other drops remain, since they grow with the
        current. [V]
    """
    return load_voltage_v * excess_v / (source_v - excess_v)
