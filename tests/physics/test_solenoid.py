"""Solenoids: force and its inverse, two windings, and what is left to spare."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.path import resistive_load_current
from lastvolt_service.physics.solenoid import (
    ampere_turns_for_force,
    path_resistance_to_spare,
    plunger_force,
    two_winding_pull_in,
    two_winding_resistance,
    winding_ratio_to_spare,
)

GAPS_MM = st.floats(1e-3, 1e3)
AREAS_MM2 = st.floats(0.1, 1e5)
OHMS = st.floats(1e-3, 1e3)


@given(st.floats(1e-3, 1e6), GAPS_MM, AREAS_MM2)
def test_force_and_ampere_turns_are_inverse(force_n, gap_mm, area_mm2):
    ampere_turns = ampere_turns_for_force(force_n=force_n, gap_mm=gap_mm, area_mm2=area_mm2)
    found_n = plunger_force(ampere_turns=ampere_turns, gap_mm=gap_mm, area_mm2=area_mm2)
    assert_allclose(found_n, force_n, rtol=1e-13)


def test_half_the_gap_four_times_the_force():
    near_n, far_n = plunger_force(ampere_turns=1000.0, gap_mm=np.array([1.0, 2.0]), area_mm2=100.0)
    assert_allclose(near_n, 4 * far_n, rtol=1e-15)


def test_equal_windings_share_the_current():
    found_ohm = two_winding_resistance(
        pull_in_resistance_ohm=1.0, motor_resistance_ohm=0.0, hold_in_resistance_ohm=1.0
    )
    assert found_ohm == 0.5


@given(OHMS, st.floats(0, 1), OHMS, st.floats(1, 1e4), st.floats(1, 1e4), st.floats(1, 1e5))
def test_pull_in_voltage_makes_the_ampere_turns(
    pull_in_ohm, motor_ohm, hold_in_ohm, pull_in_turns, hold_in_turns, ampere_turns
):
    pull_in_v = two_winding_pull_in(
        ampere_turns=ampere_turns,
        pull_in_turns=pull_in_turns,
        pull_in_resistance_ohm=pull_in_ohm,
        motor_resistance_ohm=motor_ohm,
        hold_in_turns=hold_in_turns,
        hold_in_resistance_ohm=hold_in_ohm,
    )
    pull_in_a = pull_in_v / (pull_in_ohm + motor_ohm)
    hold_in_a = pull_in_v / hold_in_ohm
    assert_allclose(pull_in_a * pull_in_turns + hold_in_a * hold_in_turns, ampere_turns, rtol=1e-12)


@given(st.floats(0.1, 60), st.floats(0.1, 100), OHMS)
def test_spare_path_just_feeds_the_winding(supply_v, pull_in_a, winding_ohm):
    path_ohm = path_resistance_to_spare(
        supply_v=supply_v, pull_in_current_a=pull_in_a, winding_resistance_ohm=winding_ohm
    )
    current_a = resistive_load_current(
        supply_v=supply_v, path_resistance_ohm=path_ohm, load_resistance_ohm=winding_ohm
    )
    # The spare path is a difference: winding and path may cancel to the last digits of either.
    scale = max(1.0, winding_ohm * pull_in_a / supply_v)
    assert_allclose(current_a, pull_in_a, rtol=1e-14 * scale)


@given(st.floats(0.1, 60), st.floats(0.1, 100), st.floats(0, 10), OHMS)
def test_spare_ratio_just_feeds_the_winding(supply_v, pull_in_a, path_ohm, winding_ohm):
    ratio = winding_ratio_to_spare(
        supply_v=supply_v,
        pull_in_current_a=pull_in_a,
        path_resistance_ohm=path_ohm,
        winding_resistance_ohm=winding_ohm,
    )
    current_a = resistive_load_current(
        supply_v=supply_v, path_resistance_ohm=path_ohm, load_resistance_ohm=ratio * winding_ohm
    )
    scale = max(1.0, path_ohm * pull_in_a / supply_v)
    assert_allclose(current_a, pull_in_a, rtol=1e-14 * scale)
