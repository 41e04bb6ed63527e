"""The one list of units."""

import pytest

from lastvolt_service.units import UNITS, unit_of


@pytest.mark.parametrize(
    ("name", "symbol"),
    [
        ("supply_v", "V"),
        ("load_current_a", "A"),
        ("resistance_ohm", "ohm"),
        ("resistance_ohm_per_m", "ohm/m"),
        ("resistivity_ohm_mm2_per_m", "ohm*mm2/m"),
        ("thermal_resistance_k_per_w", "K/W"),
        ("temperature_coefficient_per_k", "1/K"),
        ("temperature_coefficient_v_per_k", "V/K"),
        ("area_mm2", "mm2"),
        ("gap_mm", "mm"),
        ("length_m", "m"),
        ("power_per_length_w_per_m", "W/m"),
        ("ambient_c", "degC"),
        ("rise_k", "K"),
        ("force_n", "N"),
        ("drop_percent", "%"),
        ("ampere_turns", "A"),
        ("hold_ampere_turns", "A"),
        ("pull_in_turns", "1"),
        ("let_through_a2s", "A2s"),
    ],
)
def test_longest_suffix_wins(name, symbol):
    assert unit_of(name).symbol == symbol


@pytest.mark.parametrize("name", ["size", "kind", "material", "load_kind", "pull_in", "standard"])
def test_names_without_a_unit(name):
    assert unit_of(name) is None


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.suffix)
def test_each_unit_is_found_and_bounded(unit):
    assert unit_of(f"x{unit.suffix}" if unit.suffix[0] == "_" else unit.suffix) is unit
    assert unit.minimum < unit.maximum
    assert unit.quantity
    # Denormal numbers overflow when something is divided by them: zero, or well above it.
    assert unit.minimum == 0 or abs(unit.minimum) >= 1e-6


def test_suffixes_are_unique():
    assert len({unit.suffix for unit in UNITS}) == len(UNITS)
