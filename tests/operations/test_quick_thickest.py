"""New wire is of a size that one fits, and where no size does, what would do is said.

By hand, of copper at 20 degC in mohm a metre: 4 mm2 4.6, 6 mm2 3.1, 10 mm2 1.8, 16 mm2 1.15,
25 mm2 0.73, 35 mm2 0.53, 4/0 AWG 0.16; in the heat of an engine, 90 degC, 28 % more.
"""

import math

import pytest

QUICK = "quick-answer"
# As the trade lists them, rounded.
MM2_OF = {"10 AWG": 5.3, "12 AWG": 3.3, "14 AWG": 2.1}
SYSTEM = {"system_v": 12, "wear": "used", "fails": "always"}


def drawn(answer):
    return next(step for step in answer.plan if step.code in {"rewire", "relay"})


def test_forty_amperes_over_eight_metres_take_no_cable_of_a_starter(run):
    """16 mm2 takes 0.47 V of it and 25 mm2 0.3: who draws 35 or 50 for another 0.1 V?"""
    step = drawn(run(QUICK, **SYSTEM, current_a=40, distance_m=8, wire="10 mm2"))
    assert step.size in {"16 mm2", "25 mm2"}
    assert "where 0.5 V are usual" in step.message
    assert "would keep to the usual" in step.message


@pytest.mark.parametrize("metres", [5, 6])
def test_six_amperes_and_back_take_no_battery_cable(run, metres):
    """12 m of 4 mm2 take 0.33 V of 6 A, 10 mm2 0.13: the trade fits 2.5 or 4, and no tail."""
    body = {"current_a": 6, "distance_m": metres, "wire": "1.5 mm2", "return_path": "wire"}
    step = drawn(run(QUICK, **SYSTEM, **body))
    assert step.size in {"2.5 mm2", "4 mm2"}
    assert "a tail" not in step.message
    assert "0.5 V are lost on it" not in step.message


def test_lamps_get_the_wire_that_their_harness_has(run):
    """6 A of 24 V over 8 m: 14 AWG keeps to the usual volt, and nobody saves copper on lamps."""
    body = SYSTEM | {"system_v": 24}
    step = drawn(run(QUICK, **body, load="headlamps", distance_m=8))
    assert step.size in {"14 AWG", "12 AWG"}
    assert "1 V are lost on it" in step.message


def test_ten_amperes_and_back_take_a_relay_of_the_usual_size(run):
    """12 m of 6 mm2, onto blades of 6.3 mm, take 0.45 V of 10 A hot: no relay for 80 A for that."""
    answer = run(
        QUICK, system_v=12, load="pump", distance_m=6, wear="very_old", fails="hot",
        switch_to_be_had=False, return_path="wire", wire="1 mm2",
    )  # fmt: skip
    step = drawn(answer)
    assert (step.code, step.size, step.relay_a) == ("relay", "6 mm2", 40.0)


def test_thirty_five_amperes_over_six_metres_take_what_charts_give(run):
    """6 AWG at 1.3 mohm takes 0.27 V cold, and 4 AWG 0.17, beside 0.4 V of contacts and body."""
    step = drawn(run(QUICK, **SYSTEM, current_a=35, distance_m=6))
    assert (step.code, step.size) == ("rewire", "6 AWG")
    assert "only 3 AWG would keep to the usual" in step.message


@pytest.mark.parametrize(("current_a", "size"), [(14, "14 AWG"), (20, "12 AWG")])
def test_nobody_takes_a_thicker_wire_for_hundredths_of_a_volt(run, current_a, size):
    """Of the trade: 14 AWG bears 15 A, 12 AWG 20 A; 0.05 V more show in no motor."""
    body = SYSTEM | {"load": "wipers", "zone": "cabin", "distance_m": 2}
    step = drawn(run(QUICK, **body, current_a=current_a))
    assert (step.code, step.size) == ("rewire", size)
    assert "AWG would keep to the usual" in step.message


@pytest.mark.parametrize(("load", "current_a", "metres"), [("wipers", 10, 3), ("other", 6, 4)])
def test_tenths_of_a_volt_are_worth_a_size(run, load, current_a, metres):
    """14 AWG of 10 A over 3 m, or 18 AWG of 6 A over 4 m, takes 0.25 to 0.5 V before contacts."""
    body = SYSTEM | {"load": load, "zone": "cabin", "distance_m": metres}
    step = drawn(run(QUICK, **body, current_a=current_a))
    assert "would keep to the usual" not in step.message
    assert MM2_OF[step.size] > 2


def test_eighty_amperes_over_25_metres_get_the_thickest_and_the_truth(run):
    """4/0 AWG takes 0.41 V hot, contacts and body 0.3: more than is usual, and it works."""
    answer = run(QUICK, **SYSTEM, current_a=80, distance_m=25)
    step = drawn(answer)
    assert (step.code, step.size) == ("rewire", "4/0 AWG")
    assert "no wire of the trade keeps to that" in step.message
    assert "a battery of its own beside the load" in step.message


def test_where_no_wire_does_it_is_said_what_would(run):
    """100 A: 4/0 AWG hot takes 20 mV a metre, so 1 V over 50 m; half a volt is worth its copper."""
    answer = run(QUICK, **SYSTEM, current_a=100, distance_m=50)
    last = answer.plan[-1]
    assert last.code == "out_of_reach"
    reach_m = math.floor(0.04 * 12 / (100 * 0.16e-3 * 1.28))
    assert f"no more than {reach_m - 1} m" in last.message or f"{reach_m} m" in last.message
    assert "3 such cables side by side" in last.message
    assert "for 24 V" in last.message
    assert last.message in answer.headline


@pytest.mark.parametrize(
    ("volts", "amps", "metres"), [(6, 60, 12), (12, 90, 40), (24, 100, 50), (12, 100, 30)]
)
def test_no_plan_ends_without_what_would_do(run, volts, amps, metres):
    body = {"system_v": volts, "current_a": amps, "distance_m": metres, "wear": "used"}
    plan = run(QUICK, **body, fails="always").plan
    assert {"rewire", "relay", "out_of_reach"} & {step.code for step in plan}
