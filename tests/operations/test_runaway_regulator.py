"""What a regulator holds too high is its own fault: no coil passes by it, no winding is blamed.

A 12 V system charges at 14.4 V, gasses its battery from 15 V on, and reaches 16 V at most (ISO
16750-2); one of 24 V the double.
"""

import pytest

from .test_relay_coil import coil

SOLENOID = {"pull_in_v": 7.8, "resistance_ohm": 0.3, "hold_in_v": 3.0}


def verdict(found, code="source_voltage"):
    return next((check.verdict for check in found.checks if check.code == code), None)


def pull_in(run, supply_v, *, explain=False, **rated):
    asked = {
        "explain": explain,
        "supply_v": supply_v,
        "path_resistance_ohm": 0.02,
        "temperature_c": 60,
        "dip_v": 7,
    }
    return run("solenoid-pull-in", rated=SOLENOID | rated, **asked)


@pytest.mark.parametrize(
    ("nominal_v", "maximum_v", "judged"),
    [
        (12, 14.4, None), (12, 15.2, "marginal"), (12, 16, "marginal"), (12, 16.1, "fail"),
        (12, 18, "fail"), (6, 7.2, None), (6, 8.5, "fail"), (24, 28.8, None), (24, 33, "fail"),
        (24, 36, "fail"),
    ],
)  # fmt: skip
def test_a_coil_does_not_pass_on_what_boils_the_battery(run, nominal_v, maximum_v, judged):
    share = nominal_v / 12
    found = coil(
        run, "dip_v", "suppression", nominal_v=nominal_v, maximum_v=maximum_v,
        pick_up_v=7 * share, drop_out_v=1.2 * share, available_v=12 * share,
        coil_resistance_ohm=120 * share**2, dip_v=6.5 * share, suppression={"kind": "diode"},
    )  # fmt: skip
    assert verdict(found) == judged
    assert verdict(found, "continuous_voltage") in {"pass", "marginal"}
    assert found.verdict == (judged or "pass")
    assert ("mend the regulator" in found.headline) == (judged == "fail")


def test_a_relay_for_another_voltage_is_no_regulators_fault(run):
    found = coil(run, maximum_v=28.8, available_v=25)
    assert verdict(found) is None


def test_a_runaway_hides_neither_the_feed_nor_what_the_relay_does(run):
    found = coil(run, maximum_v=18, available_v=5, dip_v=5)
    assert "mend the regulator" in found.headline
    assert "5 V arrive" in found.headline
    (failed,) = (check for check in found.checks if check.code == "pick_up_at_ambient")
    assert "Mend the coil's feed" in failed.message
    assert "regulator" not in failed.message


@pytest.mark.parametrize(
    ("supply_v", "judged"),
    [(12.4, None), (15.2, "marginal"), (16, "marginal"), (16.5, "fail"), (17, "fail"),
     (19, "fail")],
)  # fmt: skip
def test_no_solenoid_is_bought_for_a_runaway_regulator(run, supply_v, judged):
    """One that pulls in at 7.8 V of 12 V is made for 12 V."""
    found = pull_in(run, supply_v)
    assert verdict(found) == judged
    assert verdict(found, "made_for") is None
    assert "lower voltage" not in found.headline
    assert ("mend the regulator" in found.headline) == (judged == "fail")


def test_a_solenoid_on_twice_its_voltage_is_still_told(run):
    found = pull_in(run, 24)
    assert "made for a lower voltage" in found.headline
    assert verdict(found) is None


def test_one_of_24_v_that_sags_is_no_runaway(run):
    found = pull_in(run, 18, pull_in_v=15.6, resistance_ohm=1.2, hold_in_v=6)
    assert verdict(found) is None
    assert verdict(found, "made_for") is None


def test_a_mended_regulator_holds_no_more_than_a_battery_bears(run):
    contact = {
        "rating_a": 40, "rated_v": 12, "load_kind": "resistive", "supply_v": 18,
        "load_current_a": 5, "ambient_c": 20, "rating_ambient_c": 23, "explain": True,
    }  # fmt: skip
    for found in (
        coil(run, maximum_v=18, explain=True),
        pull_in(run, 17, explain=True),
        run("relay-contact", **contact),
    ):
        (remedy,) = found["remedies"]
        (change,) = remedy.changes
        assert change.new_value == 15
        assert "regulator mended" in remedy.change
