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
    ("ohm", "verdict"),
    [(0.008, "pass"), (0.0095, "marginal"), (0.011, "marginal"), (0.016, "fail")],
)
def test_drop_against_a_sound_switch(run, ohm, verdict):
    found = switch(run, load("a", 10, "run"), contact_resistance_ohm=ohm)
    assert verdicts(found)["drop", "run"] == verdict


# A sound switch at 15 A makes at most 15 A * 0.1 V = 1.5 W.
@pytest.mark.parametrize(
    ("ohm", "verdict"),
    [(0.01, "pass"), (0.014, "marginal"), (0.022, "marginal"), (0.023, "fail")],
)
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


def test_relays_follow_until_the_switch_bears_every_position(run):
    found = switch(run, *LOADS, rating_a=13)
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


def test_one_relay_in_the_right_place_in_place_of_two(run):
    """Common practice: one relay for the load that stands in both positions is one part less.

    It leaves 12.2 A of 15 A and 12.2^2 * 10 mohm = 1.49 W of 1.5 W; the contacts still drop too
    much, and are cleaned.
    """
    loads = [load("x", 12, "1"), load("y", 8, "1", "2"), load("z", 12, "2")]
    found = switch(run, *loads, contact_resistance_ohm=0.01)
    assert [each.name for each in found.cumulative] == ["y"]
    assert_allclose(found.cumulative[0].current_a, 12.2, rtol=1e-14)
    assert found.relays_suffice


def test_two_equal_positions_are_relieved_one_after_the_other(run):
    found = switch(run, load("a", 20, "left"), load("b", 20, "right"))
    assert [each.name for each in found.cumulative] == ["a", "b"]
    assert [each.current_a for each in found.cumulative] == [20, COIL_A]


def test_where_no_relay_helps_a_larger_switch_is_told(run):
    found = switch(run, load("a", 0.2, "run"), rating_a=0.1)
    assert found.relief == found.cumulative == ()
    assert "higher rating" in found.checks[0].message


def test_a_worn_switch_is_mended_and_not_relieved(run):
    """A sound one of 15 A drops 0.1 V at that: 7 milliohm. This has 200, and carries 4.5 A."""
    coil = load("coil", 4.5, "run", "start")
    found = switch(run, coil, rating_a=15, contact_resistance_ohm=0.2)
    assert (found.worn, found.cumulative) == (True, ())
    failed = [check for check in found.checks if check.verdict == "fail"]
    assert {check.code for check in failed} == {"drop", "heat"}
    for check in failed:
        assert "They are worn: clean or replace the switch" in check.message
        assert "relay" not in check.message


def test_a_sound_switch_with_too_much_is_relieved_and_not_replaced(run):
    found = switch(run, load("fan", 26, "run"), rating_a=15, contact_resistance_ohm=0.006)
    assert not found.worn
    messages = [check.message for check in found.checks if check.verdict == "fail"]
    assert len(messages) == 3
    assert all("Move fan to a relay first" in message for message in messages)
    assert not any("worn" in message for message in messages)


def test_a_position_that_nothing_saves_leaves_the_others_their_relays(run):
    stuck = [load(f"gauge {index}", 0.2, "accessory") for index in range(10)]
    found = switch(run, load("pump", 9, "run"), *stuck, rating_a=1.5)
    assert [each.name for each in found.cumulative] == ["pump"]
    assert not found.relays_suffice
    messages = {(check.code, check.part): check.message for check in found.checks}
    assert "Move pump to a relay first" in messages["current", "run"]
    assert "take a sound switch" in messages["current", "accessory"]


def test_fewer_relays_than_one_after_the_other(run):
    """By hand: the largest load stands in both positions; two others do what it cannot.

    A relay for the fan leaves 14.2 A in both positions, more than 13 A, and two more are wanted
    then; one for each pump leaves 10.2 A.
    """
    loads = [
        load("fan", 10, "run", "start"),
        load("left pump", 14, "run"),
        load("right pump", 14, "start"),
    ]
    found = switch(run, *loads, rating_a=13)
    assert found.relief[0].name == "fan"
    assert {each.name for each in found.cumulative} == {"left pump", "right pump"}
    assert found.relays_suffice
    assert found.fewest_proven


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
        # Sums in another order may differ in their last digit.
        assert afters_a[0] == pytest.approx(min(afters_a), rel=1e-12)


def brute_force(loads, rating_a, ohm):
    """Every set of relays in turn, by the words of the rules: the size and the heat of the best.

    What worn contacts drop, and the heat of that, is no matter of relays. 0.1 V is a sound switch
    (NAVEDTRA 14050), and a tenth more no fault yet.
    """
    worn = rating_a * ohm > 0.11

    def carried(names):
        found = {}
        for each in loads:
            for place in each["positions"]:
                amps = COIL_A if each["name"] in names else each["current_a"]
                found[place] = found.get(place, 0.0) + amps
        return found

    def level(amps):
        return amps > rating_a or (not worn and amps**2 * ohm > rating_a * 0.1)

    useful = [each["name"] for each in loads if each["current_a"] > COIL_A]
    best_levels = {place: level(amps) for place, amps in carried(set(useful)).items()}
    for count in range(len(useful) + 1):
        fitting = []
        for names in itertools.combinations(useful, count):
            found = carried(set(names))
            if all(level(amps) <= best_levels[place] for place, amps in found.items()):
                # Nanoamperes: sums in another order differ in their last digits.
                fitting.append(sorted((round(each, 9) for each in found.values()), reverse=True))
        if fitting:
            return count, min(fitting), not any(best_levels.values())
    raise AssertionError("all relays together do what all relays together do")


MORE = st.lists(
    st.tuples(
        # Whole tenths of an ampere away from 0.2 A, so that no limit is met to the last digit.
        st.integers(3, 200).map(lambda tenths: tenths / 10 + 0.0123),
        st.lists(st.sampled_from("abcd"), min_size=1, unique=True),
    ),
    min_size=1,
    max_size=8,
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(MORE, st.sampled_from([2.0, 5.0, 8.0, 15.0, 30.0]), st.sampled_from([0.002, 0.006, 0.02]))
def test_the_relays_are_those_of_brute_force(run, many, rating_a, ohm):
    loads = [load(str(index), current_a, *fed) for index, (current_a, fed) in enumerate(many)]
    count, heat, suffice = brute_force(loads, rating_a, ohm)
    found = switch(run, *loads, rating_a=rating_a, contact_resistance_ohm=ohm)
    assert found.fewest_proven
    assert found.relays_suffice == suffice
    assert len(found.cumulative) == count
    relayed = {each.name for each in found.cumulative}
    after = switch(
        run,
        *({**each, "through_relay": each["name"] in relayed} for each in loads),
        rating_a=rating_a,
        contact_resistance_ohm=ohm,
    )
    assert_allclose(
        sorted((each.current_a for each in after.positions), reverse=True), heat, atol=2e-9
    )


def test_a_search_without_end_is_ended_and_said(run):
    """Fifty loads, each fed in two to five of ten positions in its own way."""
    places = "abcdefghij"
    fed = [
        tuple(places[(index * step + shift) % 10] for step in range(2 + index % 4))
        for index, shift in zip(range(50), itertools.cycle((0, 3, 7, 1, 9, 4, 6)), strict=False)
    ]
    loads = [
        load(str(index), 3 + 0.017 * index, *dict.fromkeys(places_of))
        for index, places_of in enumerate(fed)
    ]
    found = switch(run, *loads, rating_a=20, contact_resistance_ohm=0.001)
    relayed = {each.name for each in found.cumulative}
    after = switch(
        run,
        *({**each, "through_relay": each["name"] in relayed} for each in loads),
        rating_a=20,
        contact_resistance_ohm=0.001,
    )
    assert set(verdicts(after).values()) == {"pass", "marginal"}
    assert found.relays_suffice
    assert not found.fewest_proven


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(MANY, st.floats(0, 0.1))
def test_another_load_never_cools_the_switch(run, many, ohm):
    loads = [load(str(index), current_a, *fed) for index, (current_a, fed) in enumerate(many)]
    fewer, more = (switch(run, *part, contact_resistance_ohm=ohm) for part in (loads[:1], loads))
    hottest_w = [max(each.power_w for each in found.positions) for found in (fewer, more)]
    assert hottest_w[0] <= hottest_w[1]


# A sound switch of 15 A: a relay takes all but its coil off it, and nothing else is wrong.
@pytest.mark.parametrize("loads_a", [(14,), (14.9,), (15,), (7.5, 7.5)])
def test_a_switch_that_is_nearly_full_is_spared_by_a_relay(run, loads_a):
    loads = [load(f"load {place}", amps, "run") for place, amps in enumerate(loads_a)]
    found = switch(run, *loads, contact_resistance_ohm=0.006)
    (check,) = (each for each in found.checks if each.code == "current")
    assert (check.verdict, check.detail) == ("marginal", "load 0")
    assert "A relay for load 0, fed through its own fuse, would spare it." in check.message
    assert "No relay helps" not in check.message


def test_no_relay_spares_a_switch_what_are_relays_coils_already(run):
    coils = [load(str(place), 0.2, "run") for place in range(47)]
    found = switch(run, *coils, rating_a=10)
    (check,) = (each for each in found.checks if each.code == "current")
    assert check.verdict == "marginal"
    assert "No relay helps" in check.message


def test_first_currents_are_not_passed_in_silence(run):
    found = switch(run, load("headlamps", 8, "run"))
    assert any("ask relay-contact" in caution for caution in found.cautions)


# A new key switch with its plug has 3 to 10 mohm: 0.105 and 0.15 V at 15 A, of 0.1 V; 1.6 and 2.2 W
# of the 2 W of a sound one at 20 A. An isolator makes 0.135 V and 12 W at 90 A, of 10 W.
@pytest.mark.parametrize(
    ("ohm", "current_a", "rating_a"),
    [(0.007, 15, 20), (0.009, 15, 20), (0.0099, 15, 20), (0.0015, 90, 100), (0.013, 8, 15)],
)
def test_a_switch_a_little_over_its_bar_is_neither_worn_nor_overloaded(
    run, ohm, current_a, rating_a
):
    found = switch(run, load("a", current_a, "run"), contact_resistance_ohm=ohm, rating_a=rating_a)
    assert verdicts(found)["drop", "run"] == "marginal"
    assert "fail" not in verdicts(found).values()
    said = " ".join(check.message for check in found.checks if check.code != "current")
    assert "look at it again before long" in said
    for wrong in ("replace", "relay", "too much"):
        assert wrong not in said


@pytest.mark.parametrize(("ohm", "worn"), [(0.011, True), (0.0055, False)])
def test_a_switch_well_over_its_bar_is_mended_or_relieved(run, ohm, worn):
    """15 A through 11 mohm are 0.165 V. 5.5 mohm are sound at 20 A, and drop as much at 30 A."""
    current_a = 15 if worn else 30
    found = switch(run, load("a", current_a, "run"), contact_resistance_ohm=ohm, rating_a=20)
    assert verdicts(found)["drop", "run"] == "fail"
    (said,) = (check.message for check in found.checks if check.code == "drop")
    assert ("clean or replace" in said) == worn
    assert ('Move "a" to a relay' in said) != worn
    assert "No relay helps" not in said
