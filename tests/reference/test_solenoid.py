"""Solenoids against textbook problems, and against networkx for the two windings."""

import math

import networkx
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics.solenoid import plunger_force


# Textbook problem: 500 turns, 10 A, 0.3 m2, 1 m gives 4.712 N. A check of the formula alone: no
# such solenoid could be built.
def test_force_formula():
    found_n = plunger_force(ampere_turns=500 * 10.0, gap_mm=1000.0, area_mm2=0.3e6)
    assert_allclose(found_n, 4.712, atol=0.0005)


# Sarma, Introduction to Electrical Engineering, exercise 12.1.1: 1800 turns, 1 A, two gaps of
# 0.125 cm in series, core of 1.25 cm diameter. Each gap gets half of the ampere-turns.
# 39.97 N a gap, calculated from the printed data as B**2 * A / (2 * mu_0) with B = 0.905 T.
def test_two_gaps():
    area_mm2 = math.pi / 4 * 12.5**2
    found_n = plunger_force(ampere_turns=1800 / 2, gap_mm=1.25, area_mm2=area_mm2)
    assert_allclose(found_n, 39.97, atol=0.005)


# Hughes, Electrical and Electronic Technology, the relay of figure 35.16: 110 V, 5000 turns,
# 5.5 kohm, core of 20 mm diameter, gap of 1.5 mm. 0.877 N, calculated from the printed data.
# Backwards: that force takes 110 V, and half a unit of 0.877 N is 0.03 % of them.
def test_relay_of_a_textbook(run):
    area_mm2 = math.pi / 4 * 20.0**2
    found_n = plunger_force(ampere_turns=5000 * 110 / 5500.0, gap_mm=1.5, area_mm2=area_mm2)
    assert_allclose(found_n, 0.877, atol=0.0005)
    found = run(
        "solenoid-pull-in",
        plunger={
            "force_n": 0.877,
            "gap_mm": 1.5,
            "area_mm2": area_mm2,
            "turns": 5000,
            "resistance_ohm": 5500,
        },
        temperature_c=20,
        available_v=60,
    )
    assert_allclose(found.hot_pull_in_v, 110, rtol=0.0003)
    assert_allclose(found.pull_in_current_a, 0.020, rtol=0.0003)


# TM 5-3805-258-24-1 pp. 3-170 and 3-171: the pull-in winding is in series with the motor, the
# hold-in winding goes to ground. networkx.resistance_distance solves that ladder, fed by a path.
@pytest.mark.parametrize("path_ohm", [0.05, 0.4])
def test_windings_are_a_ladder(run, path_ohm):
    pull_in_ohm, motor_ohm, hold_in_ohm = 0.30, 0.02, 1.0
    ladder = networkx.Graph()
    ladder.add_edge("battery", "50", ohm=path_ohm)
    ladder.add_edge("50", "motor", ohm=pull_in_ohm)
    ladder.add_edge("motor", "31", ohm=motor_ohm)
    ladder.add_edge("50", "31", ohm=hold_in_ohm)
    whole_ohm = networkx.resistance_distance(ladder, "battery", "31", weight="ohm")
    found = run(
        "solenoid-pull-in",
        windings={
            "pull_in_turns": 200,
            "pull_in_resistance_ohm": pull_in_ohm,
            "hold_in_turns": 200,
            "hold_in_resistance_ohm": hold_in_ohm,
            "motor_resistance_ohm": motor_ohm,
            "ampere_turns": 5000,
        },
        temperature_c=20,
        supply_v=12,
        path_resistance_ohm=path_ohm,
    )
    assert_allclose(found.hot_resistance_ohm, whole_ohm - path_ohm, rtol=1e-10)
    current_a = 12 / whole_ohm
    assert_allclose(found.available_v, 12 - current_a * path_ohm, rtol=1e-10)


# A vehicle manual's bench test at 10 V of 12 V units: both windings 60 to 85 A, hold-in 10 to 20 A.
# Windings made for the middle of both ranges, 72 A and 15 A, draw that again.
def test_windings_from_a_bench_test(run):
    found = run(
        "solenoid-pull-in",
        windings={
            "pull_in_turns": 200,
            "pull_in_resistance_ohm": 10 / (72 - 15),
            "hold_in_turns": 200,
            "hold_in_resistance_ohm": 10 / 15,
            "ampere_turns": 200 * 72,
        },
        temperature_c=20,
        available_v=10,
    )
    assert_allclose(found.hot_resistance_ohm, 10 / 72, rtol=1e-12)
    assert_allclose(found.hot_pull_in_v, 10, rtol=1e-12)
