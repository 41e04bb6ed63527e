"""Paths warmed by their own current, held against a bracketing root finder on the heat balance."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.warm_path import WarmPath, warm_path

# Copper of about 2 mm2 in a wall of half a millimetre, and one of a tenth of its section.
THICK = {"resistance_20_ohm_per_m": 8.5e-3, "conductor_diameter_mm": 1.9, "outer_diameter_mm": 2.9}
THIN = {"resistance_20_ohm_per_m": 85e-3, "conductor_diameter_mm": 0.6, "outer_diameter_mm": 1.2}
COPPER_PER_K = 0.00393
CEILING_C = 250.0


def wire(kinds, ambient_c, grouping=1.0):
    shape = np.shape(ambient_c)
    fields = {name: np.array([[kind[name] for kind in kinds]] * shape[0]) for name in THICK}
    return Wire(
        **fields,
        temperature_coefficient_per_k=np.full(shape, COPPER_PER_K),
        insulation_w_per_m_k=np.full(shape, 0.2),
        ambient_c=np.asarray(ambient_c, dtype=float),
        pressure_pa=np.full(shape, 101_325.0),
        emissivity=np.full(shape, 0.9),
        grouping_factor=np.full(shape, grouping),
        metal_j_per_m_k=np.full(shape, np.nan),  # nothing asks for heat in time here
        insulation_j_per_m_k=np.full(shape, np.nan),
    )


def settled(
    kinds, ambient_c, length_m, *, supply_v=12.0, other_ohm=0.01, on_time_s=np.nan, **load
) -> WarmPath:
    rows = len(ambient_c)
    names = ("load_current_a", "load_resistance_ohm", "load_power_w")
    loads = {name: np.full(rows, load.get(name, np.nan), dtype=float) for name in names}
    return warm_path(
        supply_v=np.full(rows, supply_v),
        other_ohm=np.full(rows, other_ohm),
        length_m=np.asarray(length_m, dtype=float),
        wire=wire(kinds, ambient_c),
        ceiling_c=np.full(np.shape(ambient_c), CEILING_C),
        on_time_s=np.full(rows, on_time_s),
        **loads,
    )


def warm_ohm(kinds, hot_c, length_m, other_ohm=0.01):
    ohm = [
        kind["resistance_20_ohm_per_m"] * (1 + COPPER_PER_K * (c - 20)) * length
        for kind, c, length in zip(kinds, hot_c, length_m, strict=True)
    ]
    return sum(ohm) + other_ohm


def path_ohm(kinds, ambient_c, length_m, current_a, other_ohm=0.01):
    """Of one row, by the heat balance of each wire."""
    hot_c = conductor_temperature(
        current_a=current_a, wire=wire(kinds, [ambient_c]), ceiling_c=CEILING_C
    ).conductor_temperature_c[0]
    return warm_ohm(kinds, hot_c, length_m, other_ohm), hot_c


@settings(max_examples=40, deadline=None)
@given(
    ambient_c=st.tuples(st.floats(-40, 110), st.floats(-40, 110)),
    length_m=st.tuples(st.floats(0, 8), st.floats(0, 2)),
    ohm=st.floats(1.0, 100.0),
)
def test_a_resistance_draws_what_the_warm_path_lets_through(ambient_c, length_m, ohm):
    found = settled([THICK, THIN], [ambient_c], [length_m], load_resistance_ohm=ohm)

    def over_v(current_a):
        path, _ = path_ohm([THICK, THIN], ambient_c, length_m, current_a)
        return current_a * (path + ohm) - 12.0

    amperes = np.linspace(0.0, 12.0 / (0.01 + ohm), 60)
    tried = np.array([over_v(each) for each in amperes])
    if found.runaway.any():
        # No current at which the wires find a balance makes up the supply.
        assert np.isnan(tried[-1])
        assert np.nanmax(tried) < 0
        return
    above = np.flatnonzero(tried >= 0)
    if len(above):  # the root is bracketed by currents with a balance
        current_a = brentq(over_v, 0.0, amperes[above[0]], xtol=1e-14, rtol=1e-14)
    else:
        current_a = 12.0 / (warm_ohm([THICK, THIN], found.temperature_c[0], length_m) + ohm)
    _, hot_c = path_ohm([THICK, THIN], ambient_c, length_m, current_a)
    # The balance closes within 1e-10 of the heat, which is about 1e-8 K.
    assert_allclose(found.temperature_c[0], hot_c, rtol=0, atol=1e-7)


@pytest.mark.parametrize("power_w", [0.0, 1.0, 30.0, 80.0])
def test_a_power_load_rests_at_the_smaller_current(power_w):
    ambient_c, length_m = (40.0, 85.0), (6.0, 0.5)
    found = settled([THICK, THIN], [ambient_c], [length_m], load_power_w=power_w)

    def short_w(current_a):
        path, _ = path_ohm([THICK, THIN], ambient_c, length_m, current_a)
        return current_a * (12.0 - current_a * path) - power_w

    current_a = 0.0 if power_w == 0 else brentq(short_w, 0.0, 12.0, xtol=1e-14, rtol=1e-14)
    _, hot_c = path_ohm([THICK, THIN], ambient_c, length_m, current_a)
    assert_allclose(found.temperature_c[0], hot_c, rtol=0, atol=1e-7)
    assert not found.exhausted.any()


def test_the_largest_power_is_found_and_no_more():
    """Where the path carries that much, the power delivered no longer grows with the current."""
    ambient_c, length_m = (20.0,), (60.0,)

    def power_w(current_a):
        return current_a * (12.0 - current_a * path_ohm([THICK], ambient_c, length_m, current_a)[0])

    most_w = max(power_w(current_a) for current_a in np.linspace(5, 15, 4001))
    asked_w = [0.9999 * most_w, 1.0001 * most_w]
    found = settled([THICK], [ambient_c] * 2, [length_m] * 2, load_power_w=asked_w)
    assert found.exhausted.tolist() == [False, True]
    assert np.isfinite(found.temperature_c[0]).all()
    assert np.isnan(found.temperature_c[1]).all()


@pytest.mark.parametrize(
    "load", [{"load_current_a": 60.0}, {"load_resistance_ohm": 0.05}, {"load_power_w": 300.0}]
)
def test_the_wire_that_heats_up_without_end_is_told(load):
    found = settled([THICK, THIN], [(20.0, 20.0)], [(0.1, 0.1)], **load)
    assert found.runaway.tolist() == [[False, True]]
    assert not found.exhausted.any()


def test_an_ambient_above_the_ceiling_is_no_place_for_a_wire():
    found = settled([THICK], [(CEILING_C + 1,)], [(1.0,)], load_resistance_ohm=10.0)
    assert found.runaway.all()


def test_rows_do_not_touch_each_other_and_may_have_fewer_wires():
    random = np.random.default_rng(7)
    rows = 60
    ambient_c = random.uniform(-40, 110, (rows, 2))
    length_m = random.uniform(0, 6, (rows, 2))
    ambient_c[::3, 1] = np.nan  # these have one wire
    ohm = random.uniform(0.5, 20, rows)
    whole = settled([THICK, THIN], ambient_c, length_m, load_resistance_ohm=ohm)
    for row in range(rows):
        alone = settled(
            [THICK, THIN], ambient_c[row : row + 1], length_m[row : row + 1],
            load_resistance_ohm=ohm[row],
        )  # fmt: skip
        assert_allclose(whole.temperature_c[row], alone.temperature_c[0], rtol=1e-14)
        assert whole.runaway[row].tolist() == alone.runaway[0].tolist()
    one = settled([THICK], ambient_c[:1, :1], length_m[:1, :1], load_resistance_ohm=ohm[0])
    assert_allclose(whole.temperature_c[0, 0], one.temperature_c[0, 0], rtol=1e-14)
    assert np.isnan(whole.temperature_c[::3, 1]).all()
    assert np.isfinite(whole.temperature_c[:, 0]).any()
