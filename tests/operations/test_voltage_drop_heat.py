"""Voltage drop of wires that their own current warms: current and temperature fit each other."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from lastvolt_service.errors import ConflictingFields, NoOperatingPoint

HOT = {
    "kind": "wire",
    "name": "feed",
    "size": "14 AWG",
    "length_m": 6,
    "ambient_c": 85,
    "insulation": "GXL",
}
BACK = {**HOT, "name": "return", "size": "4 mm2", "ambient_c": 40, "grouped_conductors": 4}
COLD = {"kind": "wire", "name": "pigtail", "size": "16 AWG", "length_m": 0.4, "temperature_c": 60}
SWITCH = {"kind": "contact", "name": "key", "part": "switch", "resistance_ohm": 0.02}
JOINT = {"kind": "resistance", "name": "joint", "resistance_ohm": 0.01}
PATH = (HOT, SWITCH, COLD, BACK, JOINT)
PLACE = (
    "size",
    "standard",
    "material",
    "construction",
    "ambient_c",
    "insulation",
    "insulation_limit_c",
    "grouped_conductors",
    "altitude_m",
    "outer_diameter_mm",
)


def drop(run, *segments, supply_v=12.6, **fields):
    return run("voltage-drop", supply_v=supply_v, segments=list(segments), **fields)


def steady_c(run, segment, current_a):
    """Temperature of the segment's wire alone, by the other operation."""
    place = {name: segment[name] for name in PLACE if name in segment}
    if not {"insulation", "insulation_limit_c"} & place.keys():
        place["insulation"] = "ISO class A"  # what an unstated insulation is reckoned as
    return run("wire-heating", current_a=current_a, **place).conductor_temperature_c


def parts(found):
    return {part.name: part for part in found.segments}


def check_of(found, code):
    (check,) = [check for check in found.checks if check.code == code]
    assert check.part == "feed"
    return check


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"size": "4 mm2", "standard": "ISO 6722"},
        {"size": "10 SAE", "insulation": "SXL"},
        {"material": "aluminium", "grouped_conductors": 5},
        {"construction": "solid", "altitude_m": 4000},
        {"outer_diameter_mm": 6, "insulation_limit_c": 150},
        {"ambient_c": -40},
    ],
)
@pytest.mark.parametrize("current_a", [0, 1e-3, 4, 17])
def test_constant_current_is_as_warm_as_wire_heating_says(run, fields, current_a):
    segment = {**HOT, **fields}
    found = drop(run, SWITCH, segment, load_current_a=current_a)
    expected_c = steady_c(run, segment, current_a)
    assert found.segments[1].temperature_c == expected_c
    # A wire at that temperature, given as such, drops as much.
    place = ("size", "standard", "material", "construction")
    at_rest = {name: value for name, value in segment.items() if name in place}
    given_c = {"kind": "wire", "name": "feed", "length_m": 6, "temperature_c": expected_c}
    told = drop(run, SWITCH, {**given_c, **at_rest}, load_current_a=current_a)
    assert found.drop_v == told.drop_v


@pytest.mark.parametrize("length_m", [0, 1e-3, 1000])
def test_heat_of_a_constant_current_knows_no_length(run, length_m):
    found = drop(run, {**HOT, "length_m": length_m}, load_current_a=1)
    assert found.segments[0].temperature_c == steady_c(run, HOT, 1)
    assert (found.drop_v == 0) == (length_m == 0)


def test_source_of_each_temperature_is_told(run):
    bare = {name: value for name, value in COLD.items() if name != "temperature_c"}
    found = drop(run, *PATH, {**bare, "name": "by default"}, load_current_a=8)
    assert [part.temperature_source for part in found.segments] == [
        "solved",
        None,
        "given",
        "solved",
        None,
        "assumed",
    ]
    named = parts(found)
    assert named["pigtail"].temperature_c == 60
    assert named["by default"].temperature_c == 20
    assert named["key"].temperature_c is None
    assert named["feed"].temperature_c > 85


def path_ohm(run, current_a):
    """Resistance of `PATH` at a current: each warm wire as a given temperature, summed up."""
    warm = [
        {**segment, "temperature_c": steady_c(run, segment, current_a)}
        if "ambient_c" in segment
        else segment
        for segment in PATH
    ]
    given_only = [
        {name: value for name, value in each.items() if name not in PLACE[4:]} for each in warm
    ]
    return drop(run, *given_only, load_current_a=0).path_resistance_ohm


# Of a load: what it would take from the supply behind a path, less what it takes.
BALANCES = {
    "load_resistance_ohm": lambda volts, current_a, ohm: volts - current_a * ohm,
    "load_power_w": lambda volts, current_a, watts: volts - watts / current_a,
}


@pytest.mark.parametrize(
    ("load", "value"),
    [
        ("load_resistance_ohm", 0.7),
        ("load_resistance_ohm", 12.0),
        ("load_resistance_ohm", 1e4),
        ("load_power_w", 120.0),
        ("load_power_w", 5.0),
    ],
)
def test_current_and_temperature_fit_each_other(run, load, value):
    """scipy's bracketing root finder on the same balance, temperatures by wire-heating."""

    def residual_v(current_a):
        left_v = 12.6 - current_a * path_ohm(run, current_a)
        return BALANCES[load](left_v, current_a, value)

    found = drop(run, *PATH, **{load: value})
    # Below the root on one side; above it the wires still find a balance up to 30 A. A load of
    # constant power has a second root at a higher current, beyond 20 A here.
    low_a, high_a = (1e-4, 30.0) if load == "load_resistance_ohm" else (0.1, 20.0)
    current_a = brentq(residual_v, low_a, high_a, xtol=1e-12, rtol=1e-13)
    assert_allclose(found.current_a, current_a, rtol=1e-9)
    for segment in (HOT, BACK):
        expected_c = steady_c(run, segment, current_a)
        assert_allclose(parts(found)[segment["name"]].temperature_c, expected_c, atol=1e-6)
    assert_allclose(found.load_voltage_v + found.drop_v, 12.6, rtol=1e-12)


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    st.sampled_from(["load_current_a", "load_resistance_ohm", "load_power_w"]),
    st.floats(0.3, 60),
    st.floats(-40, 150),
    st.floats(0, 30),
    st.sampled_from(["20 AWG", "14 AWG", "6 AWG", "2.5 mm2", "8 SAE"]),
)
def test_every_answer_is_in_balance(run, load, value, ambient_c, length_m, size):
    wire = {**HOT, "ambient_c": ambient_c, "length_m": length_m, "size": size}
    try:
        found = drop(run, wire, SWITCH, JOINT, **{load: value})
    except NoOperatingPoint:
        return
    if found.segments[0].temperature_c is None:
        assert check_of(found, "conductor_temperature").verdict == "fail"
        return
    expected_c = steady_c(run, wire, found.current_a)
    assert_allclose(found.segments[0].temperature_c, expected_c, atol=1e-5)
    assert_allclose(found.load_voltage_v + found.drop_v, 12.6, rtol=1e-9)
    hot_ohm = found.segments[0].resistance_ohm
    assert_allclose(found.path_resistance_ohm, hot_ohm + 0.03, rtol=1e-12)


def test_hot_path_drops_more_than_the_cold_one(run):
    drops_v = [
        drop(run, {**HOT, "ambient_c": ambient_c}, load_current_a=15).drop_v
        for ambient_c in (-40, 20, 85, 105)
    ]
    assert drops_v == sorted(drops_v)
    # Copper, 0.00393/K at 20 degC: at 105 degC a third more than cold, and its own heat on top.
    assert drops_v[3] / drops_v[1] > 1.25


# Runaway. --------------------------------------------------------------------------------------


THIN = (
    SWITCH,
    {**HOT, "size": "4/0 AWG"},
    {**HOT, "name": "thin", "size": "22 AWG", "length_m": 0.2},
)


@pytest.mark.parametrize(
    "load", [{"load_current_a": 300}, {"load_resistance_ohm": 0.01}, {"load_power_w": 500}]
)
def test_runaway_fails_its_wire(run, load):
    found = run("voltage-drop", supply_v=12.6, segments=THIN, **load)
    failed = [each for each in found.checks if each.code == "conductor_temperature"]
    assert [(each.part, each.verdict, each.value) for each in failed] == [("thin", "fail", None)]
    assert failed[0].message.startswith("thin: it heats up without end")


@pytest.mark.parametrize(
    ("load", "value", "length_m"), [("load_current_a", 11, 130), ("load_power_w", 90, 50)]
)
def test_path_too_long_once_it_is_warm(run, load, value, length_m):
    """At 20 degC it would carry the load, hot from the engine it cannot."""
    cold = {"kind": "wire", "name": "feed", "size": "14 AWG", "length_m": length_m}
    assert drop(run, cold, **{load: value}).load_voltage_v >= 0
    hot = {**cold, "ambient_c": 110, "insulation": "GXL"}
    with pytest.raises(NoOperatingPoint) as caught:
        drop(run, hot, **{load: value})
    assert caught.value.path == (load,)


def test_a_temperature_that_nobody_gives_is_assumed_and_said(run):
    cold = {"kind": "wire", "name": "feed", "size": "14 AWG", "length_m": 4}
    told = {**cold, "name": "back", "temperature_c": 20}
    found = drop(run, cold, told, load_current_a=5)
    assert [part.temperature_source for part in found.segments] == ["assumed", "given"]
    assert found.assumed_wire_c == 20
    assert any("assumed" in text for text in found.basis)
    known = drop(run, told, load_current_a=5)
    assert known.assumed_wire_c is None
    assert not any("assumed" in text for text in known.basis)


# Judgement. ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("current_a", "verdict"), [(5, "pass"), (32, "fail")])
def test_heat_is_judged_by_the_insulation(run, current_a, verdict):
    found = drop(run, {**HOT, "length_m": 0.1}, load_current_a=current_a)
    check = check_of(found, "conductor_temperature")
    assert (check.verdict, check.limit, check.unit) == (verdict, 125, "degC")
    assert check.value == found.segments[0].temperature_c
    assert check.message.startswith("feed: ")


def test_heat_without_an_insulation_is_not_judged(run):
    place = {name: value for name, value in HOT.items() if name != "insulation"}
    found = drop(run, place, load_current_a=5)
    check = check_of(found, "conductor_temperature")
    assert (check.verdict, check.value) == ("unknown", found.segments[0].temperature_c)
    assert "insulation_limit_c" in check.message
    assert any("poorest material" in text for text in found.basis)
    assert found.segments[0].temperature_c == steady_c(run, place, 5)


def test_given_temperatures_are_not_judged(run):
    found = drop(run, COLD, load_current_a=5)
    assert [(each.code, each.verdict) for each in found.checks] == [
        ("path_drop", "pass"),
        ("wires_heat", "unknown"),
    ]


def test_basis_tells_of_the_model_where_it_is_used(run):
    assert any("Churchill" in text for text in drop(run, HOT, load_current_a=5).basis)
    assert not any("Churchill" in text for text in drop(run, COLD, load_current_a=5).basis)


# Requests. -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "pointer"),
    [
        ({"temperature_c": 60}, "#/segments/1/ambient_c"),
        ({"zone": "cabin"}, "#/segments/1/zone"),
        ({"ambient_c": 251}, "#/segments/1/ambient_c"),
        ({"grouped_conductors": 2.5}, "#/segments/1/grouped_conductors"),
        ({"insulation": "paper"}, "#/segments/1/insulation"),
        ({"outer_diameter_mm": 1}, "#/segments/1/outer_diameter_mm"),
    ],
)
def test_refused(client, fields, pointer):
    body = {"supply_v": 12.6, "load_current_a": 5, "segments": [SWITCH, {**HOT, **fields}]}
    answer = client.post("/v1/voltage-drop", json=body)
    assert answer.status_code == 422
    assert [error["pointer"] for error in answer.json["errors"]] == [pointer]


def test_insulation_that_does_not_fit_points_into_the_path(run):
    with pytest.raises(ConflictingFields) as caught:
        drop(run, SWITCH, {**HOT, "outer_diameter_mm": 1.5}, load_current_a=5)
    assert caught.value.path == ("segments", 1, "outer_diameter_mm")


def test_many_wires_are_solved_together(run):
    wires = [{**HOT, "name": str(index), "ambient_c": 2.0 * index} for index in range(60)]
    found = drop(run, *wires, load_resistance_ohm=2, supply_v=24)
    temperatures_c = [part.temperature_c for part in found.segments]
    expected_c = [steady_c(run, wire, found.current_a) for wire in wires]
    assert_allclose(temperatures_c, expected_c, atol=1e-6)
    assert (np.diff(temperatures_c) > 0).all()
    assert math.isclose(found.load_voltage_v + found.drop_v, 24, rel_tol=1e-12)


# In air of 125 degC insulation for 125 degC bears nothing: a larger size is bought in vain, as
# wire-heating says of the same wire.
@pytest.mark.parametrize(
    ("ambient_c", "duration_s", "size_helps"),
    [(125, None, False), (130, None, False), (125, 10, False), (110, None, True)],
)
def test_no_larger_size_is_advised_where_the_air_leaves_nothing(
    run, ambient_c, duration_s, size_helps
):
    wire = {"kind": "wire", "name": "feed", "size": "16 AWG", "length_m": 2.0,
            "insulation": "GXL", "ambient_c": ambient_c}  # fmt: skip
    lasting = {} if duration_s is None else {"duration_s": duration_s}
    found = drop(run, wire, load_current_a=40, **lasting)
    failed = [check for check in found.checks if check.verdict == "fail" and check.part == "feed"]
    assert failed
    for check in failed:
        assert ("larger size" in check.message) == size_helps
        assert ("no size helps" in check.message) != size_helps
