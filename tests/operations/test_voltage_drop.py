"""Voltage drop along a path: limits, verdicts and what is named."""

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.errors import NoOperatingPoint, UnknownSize

WIRE = {"kind": "wire", "name": "lead", "size": "12 AWG", "length_m": 5}
SWITCH = {"kind": "contact", "name": "key", "part": "switch", "resistance_ohm": 0.02}
JOINT = {"kind": "resistance", "name": "joint", "resistance_ohm": 0.1}


def drop(run, *segments, supply_v=12, **fields):
    return run("voltage-drop", supply_v=supply_v, segments=list(segments), **fields)


@pytest.mark.parametrize(
    "load", [{"load_current_a": 8}, {"load_resistance_ohm": 1.5}, {"load_power_w": 60}]
)
def test_sums_close(run, load):
    found = drop(run, WIRE, SWITCH, JOINT, **load)
    assert_allclose(found.load_voltage_v + found.drop_v, 12, rtol=1e-14)
    assert_allclose(sum(part.drop_v for part in found.segments), found.drop_v, rtol=1e-14)
    assert_allclose(sum(part.share_percent for part in found.segments), 100, rtol=1e-14)
    assert_allclose(found.drop_percent, 100 * found.drop_v / 12, rtol=1e-14)
    heat_w = sum(part.power_w for part in found.segments)
    assert_allclose(heat_w + found.load_power_w, 12 * found.current_a, rtol=1e-14)
    worst = max(found.segments, key=lambda part: part.drop_v)
    assert found.worst_segment == worst.name == "joint"
    assert [part.temperature_c for part in found.segments] == [20, None, None]


@pytest.mark.parametrize(
    "load", [{"load_current_a": 8}, {"load_resistance_ohm": 1.5}, {"load_power_w": 96}]
)
def test_path_of_no_length_takes_nothing(run, load):
    found = drop(run, {**WIRE, "length_m": 0}, **load)
    assert found.load_voltage_v == 12
    assert_allclose(found.current_a, 8, rtol=1e-15)
    assert (found.drop_v, found.worst_segment) == (0, None)
    assert found.segments[0].share_percent == 0
    assert found.checks[0].verdict == "pass"


@pytest.mark.parametrize("load", [{"load_current_a": 0}, {"load_power_w": 0}])
def test_load_that_takes_nothing(run, load):
    found = drop(run, JOINT, **load)
    assert (found.load_voltage_v, found.current_a, found.worst_segment) == (12, 0, None)


def test_current_that_the_path_just_carries(run):
    assert drop(run, JOINT, load_current_a=120).load_voltage_v == 0
    with pytest.raises(NoOperatingPoint, match="120 A into a dead short") as caught:
        drop(run, JOINT, load_current_a=120.001)
    assert caught.value.path == ("load_current_a",)


def test_power_that_the_path_just_delivers(run):
    found = drop(run, JOINT, load_power_w=12**2 / 4 / 0.1)
    assert found.load_voltage_v == found.unstable_load_voltage_v == 6
    with pytest.raises(NoOperatingPoint, match="360 W to any load") as caught:
        drop(run, JOINT, load_power_w=360.001)
    assert caught.value.path == ("load_power_w",)


def test_only_a_power_load_has_an_unstable_root(run):
    found = drop(run, JOINT, load_power_w=60)
    assert 0 < found.unstable_load_voltage_v < found.load_voltage_v
    assert drop(run, JOINT, load_current_a=5).unstable_load_voltage_v is None


def test_collapse_is_checked_for_power_loads(run):
    checks = {check.code: check for check in drop(run, JOINT, load_power_w=350).checks}
    check = checks["voltage_collapse"]
    assert (check.verdict, check.unit) == ("marginal", "W")
    assert_allclose(check.limit, 360, rtol=1e-14)


def test_collapse_is_no_matter_without_a_path(run):
    """A denormal resistance would make the largest power infinite."""
    for ohm in (0, 5e-324, 1e-308):
        found = drop(run, {**JOINT, "resistance_ohm": ohm}, load_power_w=60)
        assert [check.code for check in found.checks] == ["path_drop"]


@pytest.mark.parametrize(
    ("fields", "limit_v"),
    [
        ({"limit_drop_v": 0.3}, 0.3),
        ({"limit_drop_percent": 3}, 0.36),
        ({"circuit": "starter_control"}, 1.0),
        ({}, 0.5),
    ],
)
def test_limit_in_use(run, fields, limit_v):
    found = drop(run, JOINT, load_current_a=1, **fields)
    assert_allclose(found.limit_drop_v, limit_v, rtol=1e-15)
    assert found.checks[0].limit == found.limit_drop_v
    assert ("given by the caller" in found.checks[0].basis) == (
        "circuit" not in fields and fields != {}
    )


@pytest.mark.parametrize(
    ("supply_v", "nominal_v"),
    [(5, 6), (7.5, 6), (9, 12), (14.4, 12), (16, 12), (20, 24), (29, 24)],
)
def test_nominal_voltage_is_told_from_the_supply(run, supply_v, nominal_v):
    assert drop(run, JOINT, supply_v=supply_v, load_current_a=1).nominal_v == nominal_v


def test_nominal_voltage_of_the_caller_wins(run):
    found = drop(run, JOINT, supply_v=7, nominal_v=12, load_current_a=1)
    assert (found.nominal_v, found.limit_drop_v) == (12, 0.5)


@pytest.mark.parametrize(
    ("ohm", "verdict"), [(0.002, "pass"), (0.0095, "marginal"), (0.02, "fail")]
)
def test_contact_that_alone_drops_too_much_is_named(run, ohm, verdict):
    found = drop(run, {**SWITCH, "resistance_ohm": ohm}, load_current_a=10)
    check = found.checks[1]
    assert (check.code, check.part, check.verdict) == ("contact_drop", "key", verdict)


@pytest.mark.parametrize(("rating_a", "verdict"), [(9.9, "fail"), (10.5, "marginal"), (15, "pass")])
def test_rating_of_a_contact(run, rating_a, verdict):
    found = drop(run, {**SWITCH, "rating_a": rating_a}, load_current_a=10)
    check = found.checks[2]
    assert (check.code, check.part, check.verdict) == ("contact_current", "key", verdict)


def test_unknown_size_points_into_the_path(run):
    with pytest.raises(UnknownSize) as caught:
        drop(run, JOINT, {**WIRE, "size": "99 AWG"}, load_current_a=1)
    assert caught.value.path == ("segments", 1, "size")


def test_starter_circuits_warn_of_the_starter(run):
    cautions = drop(run, JOINT, load_current_a=1, circuit="starter_motor").cautions
    assert any("starter" in text for text in cautions)
    assert not any("chocked" in text for text in drop(run, JOINT, load_current_a=1).cautions)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(["load_current_a", "load_resistance_ohm", "load_power_w"]),
    st.floats(0.5, 50),
    st.lists(st.floats(0, 100), min_size=2, max_size=2),
    st.lists(st.floats(-60, 300), min_size=2, max_size=2),
)
def test_longer_and_hotter_never_raise_load_voltage(run, load, value, lengths_m, temperatures_c):
    def load_voltage_v(length_m, temperature_c):
        wire = {**WIRE, "length_m": length_m, "temperature_c": temperature_c}
        try:
            return drop(run, wire, SWITCH, **{load: value}).load_voltage_v
        except NoOperatingPoint:
            return -math.inf

    near_v, far_v = map(load_voltage_v, sorted(lengths_m), sorted(temperatures_c))
    assert near_v >= far_v


def test_the_limit_of_cables_is_held_against_the_cables_alone(run):
    """200 A: two cables of 1.5 mohm together drop 0.3 V, and what is between them 0.4 V."""
    between = {"kind": "contact", "name": "relay", "part": "relay", "resistance_ohm": 0.002}
    joint = {"kind": "contact", "name": "post", "part": "terminal", "resistance_ohm": 0.0015}
    found = drop(run, between, joint, load_current_a=200, circuit="starter_motor")
    assert_allclose(found.limited_drop_v, 0.3, rtol=1e-14)
    assert "of which the cables lose 0.3 V and may lose 0.5 V" in found.headline
    other = drop(run, between, joint, load_current_a=200)
    assert_allclose(other.limited_drop_v, 0.7, rtol=1e-14)
    assert "cables" not in other.headline
