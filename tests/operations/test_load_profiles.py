"""Loads over time: the phase that a limit speaks of, heat over all phases, and what has no fuse."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.operations.wires.fields import CIRCUITS
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.load_profiles import load_profiles

from ..cost import some

# A starter's control circuit: hold-in 10 A, both windings 45 A at the supply, for 0.3 s.
SOLENOID = {
    "supply_v": 12.2,
    "load_current_a": 10,
    "inrush_current_a": 45,
    "inrush_time_s": 0.3,
    "length_m": 6,
    "return_path": "body",
    "circuit": "starter_control",
    "insulation": "GPT",
    "ambient_c": 40,
}
CRANKING = {
    "supply_v": 12.2,
    "load_current_a": 250,
    "length_m": 1.2,
    "return_path": "wire",
    "circuit": "starter_motor",
    "insulation": "SGX",
    "ambient_c": 60,
}


def sizing(run, base, **fields):
    return run("wire-sizing", **{**base, **fields})


def check(found, code):
    return next((each for each in found.checks if each.code == code), None)


def both_windings(run, size, standard="AWG", **fields):
    """The same path by voltage-drop, with both windings as the resistance that they are."""
    wire = {"kind": "wire", "name": "feed", "size": size, "length_m": 6, "temperature_c": 20}
    wire["standard"] = standard
    body = {"kind": "resistance", "name": "body", "resistance_ohm": 0.005}  # AC 43.13-1B
    return run(
        "voltage-drop",
        supply_v=12.2,
        load_resistance_ohm=12.2 / 45,
        circuit="starter_control",
        segments=[wire, body],
        **fields,
    )


# Both windings. ---------------------------------------------------------------------------------


@pytest.mark.parametrize("standard", ["AWG", "SAE", "ISO 6722"])
def test_a_control_circuit_is_sized_with_both_windings_in(run, standard):
    """TM 5-2420-230-24-2 p. 13-33: pull-in and hold-in on, 20 degC, 1.0 V at 12 V."""
    found = sizing(
        run, SOLENOID, standard=standard, contacts_resistance_ohm=0, body_resistance_ohm=0.005
    )
    assert found.limit_applies_to == "both_windings"
    drop = both_windings(run, found.size, standard)
    assert_allclose(found.drop_v, drop.drop_v, rtol=1e-12)
    assert drop.drop_v <= 1.0
    smaller = found.candidates[-2]
    assert "loop_drop" in smaller.failing
    assert both_windings(run, smaller.size, standard).drop_v > 1.0
    # Volts over ohms, and no fixed current: less flows than at the supply itself.
    assert drop.current_a < 45


def test_a_thin_wire_that_holds_and_does_not_pull_in_is_refused(run):
    thin = next(
        each for each in sizing(run, SOLENOID, standard="SAE").candidates if each.size == "14 SAE"
    )
    assert "loop_drop" in thin.failing


def test_the_temperature_of_the_limit_is_that_of_the_path(run):
    """It says 20 degC: a hot engine bay does not change what it speaks of."""
    cold, hot = (sizing(run, SOLENOID, ambient_c=ambient_c) for ambient_c in (0, 70))
    assert (cold.size, cold.drop_v) == (hot.size, hot.drop_v)
    wire = {"kind": "wire", "name": "feed", "size": "10 AWG", "length_m": 6, "temperature_c": 90}
    shared = {"supply_v": 12.2, "load_resistance_ohm": 0.5, "circuit": "starter_control"}
    warm = run("voltage-drop", segments=[wire], **shared)
    cool = run("voltage-drop", segments=[{**wire, "temperature_c": 20}], **shared)
    assert warm.drop_v > cool.drop_v
    assert_allclose(check(warm, "path_drop").value, cool.drop_v, rtol=1e-12)


def test_what_the_solenoid_needs_decides_where_it_is_known(run):
    found = sizing(run, SOLENOID, needed_v=8)
    assert check(found, "loop_drop").verdict == "marginal"
    assert check(found, "loop_drop").value > 1.0
    assert check(found, "load_voltage").verdict == "pass"
    assert "decides" in check(found, "loop_drop").message
    wanting = sizing(run, SOLENOID, needed_v=11.5)
    assert "load_voltage" in wanting.candidates[-2].failing
    assert check(both_windings(run, "14 AWG", needed_v=8), "path_drop").verdict == "marginal"
    needy = both_windings(run, "14 AWG", needed_v=11.9)
    assert check(needy, "load_voltage").verdict == "fail"
    # Of other loads a limit is a limit.
    lamp = sizing(run, SOLENOID, circuit="continuous", needed_v=8)
    assert check(lamp, "loop_drop").verdict != "fail"
    assert lamp.drop_v <= 0.5


def test_windings_that_nobody_gives_are_reckoned_as_usual(run):
    """Vehicle manuals: both windings take up to 5.7 times the hold-in winding."""
    asked = {name: value for name, value in SOLENOID.items() if "inrush" not in name}
    asked["load_current_a"] = 6
    usual = sizing(run, asked)
    assert_allclose(usual.drop_v, sizing(run, asked, inrush_current_a=34.2).drop_v, rtol=1e-12)
    assert any("5.7" in text for text in usual.basis)


def test_a_solenoid_that_does_not_pull_in_heats_its_wire_while_the_key_is_held(run):
    found = sizing(run, SOLENOID, limit_drop_v=12, inrush_current_a=60)
    judged = check(found, "both_windings_held")
    alone = run(
        "wire-heating", size=found.size, insulation="GPT", ambient_c=40, current_a=60, on_time_s=10
    )
    assert_allclose(judged.value, alone.temperature_after_on_time_c, rtol=1e-9)
    assert (judged.limit, judged.verdict) == (85, "pass")
    assert check(sizing(run, SOLENOID, circuit="continuous"), "both_windings_held") is None


# Conditions. ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("circuit", "applies_to", "words"),
    [
        ("continuous", "load", "own current"),
        ("intermittent", "load", "own current"),
        ("starter_control", "both_windings", "both windings of the solenoid in, at 20 °C"),
        ("starter_motor", "cranking", "both battery cables together"),
    ],
)
def test_an_answer_names_what_its_limit_speaks_of(run, circuit, applies_to, words):
    assert circuit in CIRCUITS
    found = sizing(run, SOLENOID, circuit=circuit)
    assert found.limit_applies_to == applies_to
    assert words in check(found, "loop_drop").message
    path = [{"kind": "resistance", "name": "all", "resistance_ohm": 0.01}]
    drop = run("voltage-drop", supply_v=12.2, load_current_a=5, segments=path, circuit=circuit)
    assert drop.limit_applies_to == applies_to
    assert words in check(drop, "path_drop").message
    own = sizing(run, SOLENOID, circuit=circuit, limit_drop_v=3)
    assert own.limit_applies_to is None
    assert "That limit" not in check(own, "loop_drop").message


# Cranking. --------------------------------------------------------------------------------------


def test_main_cable_of_a_starter_motor_has_no_fuse(run):
    found = sizing(run, CRANKING)
    assert (found.fuse_rating_a, found.fuse_family) == (None, None)
    assert not [each for each in found.checks if "fuse" in each.code or each.code == "far_short"]
    assert any("has no fuse" in text for text in found.cautions)
    assert not any("needs a fuse" in text for text in found.cautions)
    # 0.5 V over both cables; heat for seconds only.
    assert found.drop_v <= 0.5
    assert "loop_drop" in found.candidates[-2].failing
    assert check(found, "permissible_current") is None
    steady = sizing(run, CRANKING, circuit="continuous", limit_drop_v=0.5)
    assert steady.size is None or steady.area_mm2 > found.area_mm2


def test_seconds_count(run):
    short = {**CRANKING, "length_m": 0.1, "on_time_s": 10}
    once = sizing(run, short)
    alone = run(
        "wire-heating", size=once.size, insulation="SGX", ambient_c=60, current_a=250, on_time_s=10
    )
    assert_allclose(once.duty_current_a, alone.duty_current_a, rtol=1e-9)
    longer = sizing(run, short, on_time_s=120)
    assert longer.area_mm2 > once.area_mm2


# Other loads that rest. -------------------------------------------------------------------------


def test_both_windings_take_no_less_than_the_one_that_holds(run):
    none, hold = (sizing(run, SOLENOID, inrush_current_a=amps) for amps in (0, 10))
    assert none.drop_v == hold.drop_v > 0


@pytest.mark.parametrize("load_profile", ["glow_plug", "horn"])
def test_a_load_that_rests_needs_less_than_one_that_does_not(run, load_profile):
    """Common practice, no source: glow plugs of 48 A heat for some seconds."""
    asked = {**CRANKING, "circuit": "intermittent", "load_current_a": 48, "insulation": "TXL"}
    resting = sizing(run, asked, load_profile=load_profile)
    steady = sizing(run, asked, load_profile="steady")
    assert resting.fuse_rating_a < steady.fuse_rating_a
    assert resting.area_mm2 <= steady.area_mm2
    assert check(resting, "duty_current").verdict == "pass"
    assert load_profiles()[load_profile].citation in resting.basis


@settings(max_examples=some(20, 60), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    current_a=st.floats(2, 60),
    on_s=st.floats(0.5, 300),
    off_s=st.floats(0.5, 300),
    harder=st.floats(1, 10),
    ambient_c=st.floats(0, 80),
)
def test_a_harder_duty_never_gets_a_smaller_wire(run, current_a, on_s, off_s, harder, ambient_c):
    asked = {**CRANKING, "circuit": "intermittent", "load_current_a": current_a, "length_m": 0.5}
    asked |= {"ambient_c": ambient_c, "limit_drop_v": 6, "insulation": "TXL", "standard": "SAE"}
    times = {"on_time_s": on_s, "off_time_s": off_s}
    easy = sizing(run, asked, **times)
    areas = [
        sizing(run, asked, **{**times, **change}).area_mm2
        for change in (
            {"on_time_s": on_s * harder},
            {"off_time_s": off_s / harder},
            {"load_current_a": current_a * harder},
        )
    ]
    areas.append(sizing(run, asked).area_mm2)
    if easy.area_mm2 is None:
        assert set(areas) == {None}
    assert all(area is None or area >= easy.area_mm2 for area in areas)


def test_what_no_size_changes_keeps_none_from_being_found(run):
    """A battery post of 5 mohm may feed 2.5 kA into a fault, whatever the wire behind the fuse."""
    asked = {**SOLENOID, "circuit": "continuous", "load_current_a": 5}
    found, other = sizing(run, asked, source_resistance_ohm=0.005), sizing(run, asked)
    assert found.size == other.size is not None
    assert check(found, "breaking_capacity").verdict == found.verdict == "fail"
    assert check(other, "breaking_capacity").verdict == "unknown"


@pytest.mark.parametrize("operation", ["wire-sizing", "fuse-selection"])
def test_columns_of_mixed_loads_get_what_each_gets_alone(client, run, operation):
    random = np.random.default_rng(50)
    count = 60
    columns = {
        "load_current_a": random.uniform(0.5, 80, count).tolist(),
        "load_profile": random.choice([*load_profiles(), None], count).tolist(),
        "on_time_s": [None if x < 0.5 else 20 * x for x in random.uniform(0, 1, count)],
        "inrush_current_a": [None if x < 0.6 else 200 * x for x in random.uniform(0, 1, count)],
        "inrush_decay_s": [None if x < 0.5 else 0.2 * x for x in random.uniform(0, 1, count)],
        "holder_rating_a": [None if x < 0.7 else 100 * x for x in random.uniform(0, 1, count)],
        "source_resistance_ohm": [
            None if x < 0.5 else 0.02 * x for x in random.uniform(0, 1, count)
        ],
        "fuse_family": random.choice([*fuse_families(), None, None, None], count).tolist(),
    }
    constants = {"ambient_c": 40, "insulation": "GXL", "supply_v": 12.6}
    if operation == "wire-sizing":
        columns["circuit"] = random.choice([*CIRCUITS], count).tolist()
        columns["needed_v"] = [None if x < 0.5 else 12 * x for x in random.uniform(0, 1, count)]
        constants |= {"length_m": 3, "return_path": "body"}
    else:
        columns["size"] = random.choice(["16 AWG", "10 AWG", "4 AWG"], count).tolist()
        columns["loop_resistance_ohm"] = [
            None if x < 0.5 else x / 10 for x in random.uniform(0, 1, count)
        ]
    body = {"columns": columns, "constants": constants}
    answer = client.post(f"/v1/batch/{operation}", json=body).get_json()
    assert answer["errors"] == []
    verdicts, seen = answer["verdicts"], set()
    for row in range(count):
        asked = {name: each[row] for name, each in columns.items() if each[row] is not None}
        alone = run(operation, **constants, **asked)
        told = {check.code: check.verdict for check in alone.checks}
        for code, verdict in told.items():
            assert verdicts[str(answer["columns"][f"check_{code}"][row])] == verdict, (row, code)
        for name in ("fuse_rating_a", "fuse_family", "overload_current_a", "overload_time_s"):
            found, expected = answer["columns"][name][row], getattr(alone, name)
            if isinstance(expected, float):
                assert_allclose(found, expected, rtol=1e-9)
            else:
                assert found == expected
        seen |= set(told.items())
    assert {"pass", "fail", "unknown"} <= {verdict for _, verdict in seen}
