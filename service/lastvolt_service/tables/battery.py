"""Starter batteries: lead and acid, values of a 12 V battery of six cells."""

from functools import cache

from lastvolt_service import tables
from lastvolt_service.tables.curves import Curve, curve

TABLE_NOMINAL_V = 12.0  # of the battery that all these values are for
CHARGE_TEMPERATURE_C = 26.7  # of the open-circuit voltages
TEMPERATURE_COEFFICIENT_V_PER_K = 0.024 / (10 / 1.8)  # of these voltages
COLD_CRANKING_TEMPERATURE_C = -18.0
COLD_CRANKING_V = 7.2
NEW_SHARE = 0.7  # of the resistance that the rating stands for: a battery better than it
AGEING_FACTOR = 2.0  # on the resistance, at the end of its life
SOUND_OHM = 0.010  # most of a sound one in the warm; common practice where no rating is known
CHARGED_PERCENT = 75.0  # before a load test
LOW_PERCENT = 50.0
FLAT_PERCENT = 25.0


@cache
def open_circuit() -> Curve:
    """Read the open-circuit voltage by state of charge.

    Returns
    -------
    Curve
        At `CHARGE_TEMPERATURE_C`. [%], [V]
    """
    return curve("battery_open_circuit", "state_of_charge_percent", "open_circuit_v")


@cache
def freezing() -> Curve:
    """Read the freezing point of the electrolyte by state of charge.

    Returns
    -------
    Curve
        [%], [degC]
    """
    return curve("battery_freezing", "state_of_charge_percent", "freezing_c")


@cache
def cranking_power() -> Curve:
    """Read the cranking power by temperature.

    Returns
    -------
    Curve
        [degC], [%]
    """
    return curve("battery_cranking", "temperature_c", "cranking_power_percent")


@cache
def load_test() -> Curve:
    """Read the least voltage at half of the cold-cranking current, by temperature.

    Returns
    -------
    Curve
        [degC], [V]
    """
    return curve("battery_load_test", "temperature_c", "load_test_v")


@cache
def charge_resistance() -> Curve:
    """Read the internal resistance by state of charge.

    Returns
    -------
    Curve
        Over that of the same battery when it is full. [%], [1]
    """
    return curve("battery_charge_resistance", "state_of_charge_percent", "resistance_factor")


def ageing_citation() -> str:
    """Cite `NEW_SHARE` and `AGEING_FACTOR`."""
    return tables.citation("battery", "ageing")


def charged_citation() -> str:
    """Cite `CHARGED_PERCENT`, `LOW_PERCENT` and `FLAT_PERCENT`."""
    return tables.citation("battery", "charged")


def temperature_citation() -> str:
    """Cite `TEMPERATURE_COEFFICIENT_V_PER_K`."""
    return tables.citation("battery", "temperature")


def cold_cranking_citation() -> str:
    """Cite `COLD_CRANKING_V` and its temperature."""
    return tables.citation("battery", "cold_cranking")
