"""A switch of several positions: sums, limits, and which relay comes first."""

import itertools

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.errors import NoOperatingPoint

COIL_A = 0.2


def load(name, current_a, *positions, through_relay=False):
    return {
        "name": name,
        "current_a": current_a,
        "positions": list(positions),
        "through_relay": through_relay,
    }


LOADS = [
    load("coil", 4, "run", "start"),
    load("pump", 9, "run", "start"),
    load("solenoid", 10, "start"),
    load("lamps", 6, "accessory", "run"),
]


def switch(run, *loads, rating_a=15, contact_resistance_ohm=0.005, **fields):
    return run(
        "switch-loading",
        rating_a=rating_a,
        contact_resistance_ohm=contact_resistance_ohm,
        loads=list(loads),
        **fields,
    )


def verdicts(found):
    return {(check.code, check.part): check.verdict for check in found.checks}


def test_positions_add_up_what_is_fed_in_them(run):
    found = switch(run, *LOADS, supply_v=12.5)
    by_name = {each.name: each for each in found.positions}
    assert list(by_name) == ["run", "start", "accessory"]
    assert [each.current_a for each in found.positions] == [19, 23, 6]
    assert found.worst_position == "start"
    start = by_name["start"]
    assert_allclose(start.power_w, 23**2 * 0.005, rtol=1e-14)
    assert_allclose(start.drop_v, 23 * 0.005, rtol=1e-14)
    assert_allclose(start.drop_percent, 100 * 23 * 0.005 / 12.5, rtol=1e-14)
    assert_allclose(start.utilisation_percent, 100 * 23 / 15, rtol=1e-14)
    assert start.loads == ("coil", "pump", "solenoid")
    assert switch(run, *LOADS).positions[0].drop_percent is None


def test_relay_leaves_its_coil_on_the_switch(run):
    found = switch(run, load("blower", 20, "run", through_relay=True), relay_coil_current_a=0.15)
    assert found.positions[0].current_a == 0.15
    assert found.relief == found.cumulative == ()
    assert set(verdicts(found).values()) == {"pass"}


@pytest.mark.parametrize(
    ("current_a", "verdict"), [(10, "pass"), (13.4, "pass"), (13.6, "marginal"), (15.1, "fail")]
)
def test_current_against_the_rating(run, current_a, verdict):
    found = switch(run, load("a", current_a, "run"), contact_resistance_ohm=1e-3)
    assert verdicts(found)["current", "run"] == verdict


@pytest.mark.parametrize(
    ("ohm", "verdict"), [(0.008, "pass"), (0.0095, "marginal"), (0.011, "fail")]
)
def test_drop_against_a_sound_switch(run, ohm, verdict):
    found = switch(run, load("a", 10, "run"), contact_resistance_ohm=ohm)
    assert verdicts(found)["drop", "run"] == verdict


# A sound switch at 15 A makes at most 15 A * 0.1 V = 1.5 W.
@pytest.mark.parametrize(("ohm", "verdict"), [(0.01, "pass"), (0.014, "marginal"), (0.016, "fail")])
def test_heat_against_a_sound_switch(run, ohm, verdict):
    found = switch(run, load("a", 10, "run"), contact_resistance_ohm=ohm)
    assert verdicts(found)["heat", "run"] == verdict


def test_relief_is_ranked_by_the_worst_position(run):
    found = switch(run, *LOADS)
    # Worst position without each: 14.2 A at start; 19 A in run; 19.2 A and 23 A at start.
    assert [each.name for each in found.relief] == ["pump", "solenoid", "coil", "lamps"]
    pump, *_, lamps = found.relief
    assert_allclose(pump.current_after_a, 23 - 9 + COIL_A, rtol=1e-14)
    assert_allclose(pump.power_saved_w, (23**2 - 14.2**2) * 0.005, rtol=1e-13)
    assert (lamps.current_after_a, lamps.power_saved_w) == (23, 0)


def test_relays_follow_until_the_worst_position_passes(run):
    found = switch(run, *LOADS)
    assert [each.name for each in found.cumulative] == ["pump", "solenoid"]
    assert_allclose([each.current_a for each in found.cumulative], [14.2, 10.2], rtol=1e-14)
    assert [each.worst_position for each in found.cumulative] == ["start", "run"]
    relayed = [{**each, "through_relay": each["name"] in {"pump", "solenoid"}} for each in LOADS]
    assert set(verdicts(switch(run, *relayed)).values()) == {"pass"}


def test_message_names_the_load_to_move_first_in_that_position(run):
    found = switch(run, *LOADS, rating_a=5)
    messages = {(check.code, check.part): check.message for check in found.checks}
    assert "Move pump to a relay first" in messages["current", "start"]
    assert "Move lamps to a relay first" in messages["current", "accessory"]
    assert {check.detail for check in found.checks if check.part == "start"} == {"pump"}


def test_two_equal_positions_are_relieved_one_after_the_other(run):
    found = switch(run, load("a", 20, "left"), load("b", 20, "right"))
    assert [each.name for each in found.cumulative] == ["a", "b"]
    assert [each.current_a for each in found.cumulative] == [20, COIL_A]


def test_where_no_relay_helps_a_larger_switch_is_told(run):
    found = switch(run, load("a", 0.2, "run"), rating_a=0.1)
    assert found.relief == found.cumulative == ()
    assert "higher rating" in found.checks[0].message


def test_bad_contacts_end_the_relays_at_the_last_load(run):
    found = switch(run, *LOADS, contact_resistance_ohm=10)
    assert {each.name for each in found.cumulative} == {each["name"] for each in LOADS}


def test_contacts_that_would_take_more_than_the_supply(run):
    with pytest.raises(NoOperatingPoint, match="start") as caught:
        switch(run, *LOADS, contact_resistance_ohm=0.6, supply_v=12)
    assert caught.value.path == ("contact_resistance_ohm",)


def test_perfect_contacts_take_nothing(run):
    found = switch(run, *LOADS, contact_resistance_ohm=0, rating_a=30)
    assert {each.power_w for each in found.positions} == {0}
    assert set(verdicts(found).values()) == {"pass"}


MANY = st.lists(
    st.tuples(st.floats(0.001, 50), st.lists(st.sampled_from("abcd"), min_size=1, unique=True)),
    min_size=1,
    max_size=5,
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(MANY, st.floats(1, 40))
def test_each_step_relieves_and_the_first_is_the_best(run, many, rating_a):
    loads = [load(str(index), current_a, *fed) for index, (current_a, fed) in enumerate(many)]
    found = switch(run, *loads, rating_a=rating_a)
    before_a = max(each.current_a for each in found.positions)
    currents_a = [before_a, *(each.current_a for each in found.cumulative)]
    assert all(later <= earlier for earlier, later in itertools.pairwise(currents_a))
    if found.relief:
        afters_a = [each.current_after_a for each in found.relief]
        assert afters_a[0] == min(afters_a)
    if found.cumulative:
        assert found.cumulative[0].name == found.relief[0].name
        assert found.cumulative[0].current_a == found.relief[0].current_after_a


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(MANY, st.floats(0, 0.1))
def test_another_load_never_cools_the_switch(run, many, ohm):
    loads = [load(str(index), current_a, *fed) for index, (current_a, fed) in enumerate(many)]
    fewer, more = (switch(run, *part, contact_resistance_ohm=ohm) for part in (loads[:1], loads))
    hottest_w = [max(each.power_w for each in found.positions) for found in (fewer, more)]
    assert hottest_w[0] <= hottest_w[1]
