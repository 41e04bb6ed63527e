"""Starter batteries: lead and acid, values of a 12 V battery of six cells."""

from functools import cache

from lastvolt_service import tables
from lastvolt_service.tables.curves import Curve, curve

TABLE_NOMINAL_V = 12.0  # of the battery that all these values are for
CHARGE_TEMPERATURE_C = 26.7  # of the open-circuit voltages
TEMPERATURE_COEFFICIENT_V_PER_K = 0.024 / (10 / 1.8)  # of these voltages
COLD_CRANKING_TEMPERATURE_C = -18.0
COLD_CRANKING_V = 7.2


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


def temperature_citation() -> str:
    """Cite `TEMPERATURE_COEFFICIENT_V_PER_K`."""
    return tables.citation("battery", "temperature")


def cold_cranking_citation() -> str:
    """Cite `COLD_CRANKING_V` and its temperature."""
    return tables.citation("battery", "cold_cranking")
