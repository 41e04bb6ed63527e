"""Readings on a live circuit: what the meter leaves open, and what mending gives back."""

import numpy as np

from lastvolt_service.physics import Real


def reading_uncertainty(*, reading_v: Real, resolution_v: Real, accuracy_percent: Real) -> Real:
    """Largest error of a voltmeter's reading.

    Parameters
    ----------
    reading_v : float or ndarray
        What the meter shows. [V]
    resolution_v : float or ndarray
        One step of the last digit. [V]
    accuracy_percent : float or ndarray
        Error of the meter, of what it reads. [%]

    Returns
    -------
    uncertainty_v : float or ndarray
        Broadcast shape. [V]

    Notes
    -----
    One step of the last digit and the percentage are added, as meters are specified: the worst
    case, not a standard deviation.
    """
    return resolution_v + accuracy_percent / 100.0 * np.abs(reading_v)


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

    Notes
    -----
    All voltages of a series circuit stand for resistances at the same current. Without the excess
    the load gets ``V_L * V_S / (V_S - e)``: ``V_L * e / (V_S - e)`` more.
    """
    return load_voltage_v * excess_v / (source_v - excess_v)
