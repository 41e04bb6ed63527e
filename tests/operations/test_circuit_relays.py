"""Relays in circuits: what closes, what drops out when the supply sags, and what chatters."""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import checks

SOURCE = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.02}
RELAY = {
    "name": "relay",
    "nominal_v": 12,
    "coil_resistance_ohm": 90,
    "pick_up_v": 7.0,
    "drop_out_v": 4.0,
    "thermal_resistance_k_per_w": 0.001,
    "highest_ambient_c": 85,
    "suppression": {"kind": "diode"},
    "contact_resistance_ohm": 0.004,
    "rating_a": 1000,
    "rated_v": 12,
    "load_kind": "resistive",
    "coil_nodes": ["trigger", "ground"],
    "contact_nodes": ["post", "out"],
}
LAMP = {"name": "lamp", "kind": "resistance", "resistance_ohm": 2, "nodes": ["out", "ground"]}


def key(ohm=0.02):
    return {
        "name": "key",
        "kind": "contact",
        "part": "switch",
        "resistance_ohm": ohm,
        "rating_a": 20,
        "nodes": ["post", "trigger"],
    }


def ask(run, *cases, relays=(RELAY,), loads=(LAMP,), branches=None, source=SOURCE):
    made = {
        "source": source,
        "branches": [key()] if branches is None else branches,
        "loads": list(loads),
        "relays": list(relays),
    }
    return run("circuit-check", circuit=made, cases=list(cases) or [{"name": "only"}])


def verdicts(state):
    return {(check.code, check.part): check.verdict for check in state.checks}


def test_closed_relay_feeds_its_load(run):
    state = ask(run).cases[0]
    relay = state.relays[0]
    assert relay.energised
    assert not relay.chatters
    # By hand: 12.6 V behind 0.02 ohm, the lamp and the coil in parallel behind it.
    both_ohm = 1 / (1 / 2.004 + 1 / 90.02)
    post_v = 12.6 * both_ohm / (both_ohm + 0.02)
    # Its coil warms by 2 mK: to seven digits it has 90 ohm.
    assert_allclose(state.source_v, post_v, rtol=1e-6)
    assert_allclose(relay.coil_v, post_v * 90 / 90.02, rtol=1e-6)
    assert_allclose(state.loads[0].voltage_v, post_v * 2 / 2.004, rtol=1e-6)
    assert verdicts(state)["pick_up_at_ambient", "relay"] == "pass"
    assert verdicts(state)["pick_up_warm", "relay"] == "pass"
    assert verdicts(state)["hold", "relay"] == "pass"


def test_open_key_leaves_the_load_without_a_volt_and_no_check_fails(run):
    state = ask(run, {"name": "off", "without": ["key"]}).cases[0]
    assert not state.relays[0].energised
    assert state.loads[0].voltage_v == 0
    # Of a relay whose coil is off it is its place alone that is judged.
    said = {code: verdict for (code, part), verdict in verdicts(state).items() if part == "relay"}
    assert said == {"highest_ambient": "pass", "relay_voltage": "pass"}


def test_a_coil_that_sees_too_little_is_a_failed_pick_up(run):
    state = ask(run, branches=[key(90.0)]).cases[0]
    assert not state.relays[0].energised
    (check,) = [check for check in state.checks if check.code == "pick_up_at_ambient"]
    assert check.verdict == "fail"
    # By hand: the key's 90 ohm take as much as the coil's 90.
    assert_allclose(check.value, 12.6 * 90 / 180.02, rtol=1e-5)
    assert check.limit == 7.0
    assert state.loads[0].current_a == 0


def test_pick_up_is_judged_before_the_contact_pulls_the_supply_down(run):
    heavy = {**LAMP, "resistance_ohm": 0.03}
    state = ask(run, loads=[heavy]).cases[0]
    checks = {(check.code, check.part): check for check in state.checks}
    open_v = 12.6 * 90 / 90.04
    assert_allclose(checks["pick_up_at_ambient", "relay"].value, open_v, rtol=1e-7)
    assert checks["hold", "relay"].value < open_v - 4
    assert state.relays[0].energised


MOTOR = {
    "name": "motor",
    "kind": "resistance",
    "resistance_ohm": 0.012,
    "nodes": ["post", "ground"],
}


@pytest.mark.parametrize(("drop_out_v", "holds"), [(4.0, True), (5.5, False)])
def test_held_relay_in_a_cranking_dip(run, drop_out_v, holds):
    # By hand: the motor pulls the post down to 12.6 V * 0.012 / 0.032 = 4.7 V.
    relay = {**RELAY, "drop_out_v": drop_out_v}
    answer = ask(
        run,
        {"name": "engine off", "without": ["motor"]},
        {"name": "cranking", "held": ["relay"]},
        relays=[relay],
        loads=[LAMP, MOTOR],
    )
    off, cranking = answer.cases
    assert off.relays[0].energised
    assert {check.verdict for check in off.checks if check.part != "lamp"} == {"pass"}
    assert cranking.relays[0].energised == holds
    assert verdicts(cranking)["hold", "relay"] == ("pass" if holds else "fail")
    assert ("pick_up_warm", "relay") not in verdicts(cranking)
    assert 4.5 < cranking.source_v < 4.75
    if not holds:
        assert answer.worst_case == "cranking"
        # The post that sags to that is named before what it makes fail.
        assert (answer.weakest.code, answer.weakest.case) == ("sag", "cranking")
        assert cranking.loads[0].voltage_v == 0


def test_not_held_it_would_not_even_pull_in_while_cranking(run):
    state = ask(run, {"name": "cranking"}, loads=[LAMP, MOTOR]).cases[0]
    assert not state.relays[0].energised
    assert verdicts(state)["pick_up_warm", "relay"] == "fail"


def test_a_relay_that_takes_its_own_coil_voltage_away_chatters(run):
    # Its contact feeds the motor from the node that feeds its coil, behind half an ohm.
    feed = {
        "name": "thin feed",
        "kind": "resistance",
        "resistance_ohm": 0.5,
        "nodes": ["post", "trigger"],
    }
    relay = {**RELAY, "contact_nodes": ["trigger", "out"]}
    motor = {**MOTOR, "resistance_ohm": 0.1, "nodes": ["out", "ground"]}
    answer = ask(run, branches=[feed], relays=[relay], loads=[motor])
    state = answer.cases[0]
    assert state.relays[0].chatters
    assert verdicts(state)["relay_rest", "relay"] == "fail"
    assert state.verdict == "fail"
    assert (answer.weakest.code, answer.weakest.part) == ("relay_rest", "relay")


def test_changeover_feeds_one_load_or_the_other(run):
    relay = {**RELAY, "break_nodes": ["post", "rest"]}
    idle = {**LAMP, "name": "idle lamp", "nodes": ["rest", "ground"]}
    off, on = ask(
        run, {"name": "off", "without": ["key"]}, {"name": "on"}, relays=[relay], loads=[LAMP, idle]
    ).cases
    assert [load.name for load in off.loads] == ["lamp", "idle lamp"]
    assert off.loads[0].current_a == 0
    assert off.loads[1].voltage_v > 12
    assert on.loads[0].voltage_v > 12
    assert on.loads[1].current_a == 0
    # Both contacts are told, 87 before 87a, by the one name.
    assert [part.kind for part in on.parts] == ["contact", "relay", "relay"]
    assert on.parts[1].current_a > 0
    assert on.parts[2].current_a == 0


def test_warm_coil_needs_more_and_resists_more(run):
    hot = {**RELAY, "zone": "engine bay", "thermal_resistance_k_per_w": 30}
    case = {"name": "hot", "zone_ambients_c": {"engine bay": 85}}
    state = ask(run, case, relays=[hot]).cases[0].relays[0]
    alone = run(
        "relay-coil",
        nominal_v=12,
        coil_resistance_ohm=90,
        pick_up_v=7.0,
        drop_out_v=4.0,
        ambient_c=85,
        available_v=12,
        maximum_v=12.6,
        thermal_resistance_k_per_w=30,
        energised_before=True,
    )
    # The other operation, with the coil warm from the same voltage, agrees to the last digits.
    assert_allclose(state.coil_temperature_c, alone.coil_temperature_c, rtol=1e-12)
    assert_allclose(state.pick_up_v, alone.hot_pick_up_v, rtol=1e-12)
    assert_allclose(state.drop_out_v, alone.hot_drop_out_v, rtol=1e-12)
    assert state.coil_temperature_c > 110


# Common practice, no source: the coil of the relay that relieves a 12 V starter switch takes
# about 0.2 A. 90 ohm is the coil of a common plug-in relay at 20 degC.
def test_relay_coil_in_practice(run):
    state = ask(run).cases[0]
    key_a = state.parts[0].current_a
    assert 0.1 < key_a < 0.25


SOLENOID = {
    "name": "solenoid",
    "kind": "solenoid",
    "nodes": ["trigger", "ground"],
    "windings": {
        "pull_in_turns": 200,
        "pull_in_resistance_ohm": 0.40,
        "hold_in_turns": 200,
        "hold_in_resistance_ohm": 1.6,
        "motor_resistance_ohm": 0.01,
        "ampere_turns": 4200,
        "hold_ampere_turns": 650,
    },
}


def test_closed_solenoid_uses_its_hold_in_winding_only(run):
    pulling, holding = ask(
        run,
        {"name": "pulls in"},
        {"name": "holds", "held": ["solenoid"]},
        relays=[],
        loads=[SOLENOID],
    ).cases
    path_ohm = 0.04
    # By hand: both windings side by side, the pull-in one with the motor; then the hold-in alone.
    both_ohm = 1 / (1 / 1.6 + 1 / 0.41)
    assert_allclose(pulling.loads[0].current_a, 12.6 / (path_ohm + both_ohm), rtol=1e-9)
    assert_allclose(holding.loads[0].current_a, 12.6 / (path_ohm + 1.6), rtol=1e-9)
    # 650 ampere-turns through 200 turns of 1.6 ohm.
    assert_allclose(holding.loads[0].needed_v, 650 / 200 * 1.6, rtol=1e-9)
    assert verdicts(holding)["load_voltage", "solenoid"] == "pass"


# Common practice, no source: once closed, a starter solenoid of a 12 V passenger car takes about
# 7.5 A through its control wire, and 9 to 10 A where its terminal sees a full battery.
def test_solenoid_hold_in_practice(run):
    state = ask(run, {"name": "holds", "held": ["solenoid"]}, relays=[], loads=[SOLENOID]).cases[0]
    assert 7 < state.loads[0].current_a < 10


def test_held_solenoid_that_says_not_what_holds_it_is_unknown(run):
    windings = {k: v for k, v in SOLENOID["windings"].items() if k != "hold_ampere_turns"}
    load = {**SOLENOID, "windings": windings}
    state = ask(run, {"name": "holds", "held": ["solenoid"]}, relays=[], loads=[load]).cases[0]
    assert verdicts(state)["load_voltage", "solenoid"] == "unknown"
    assert state.loads[0].margin_v is None


def neighbour(**changes):
    """A relay whose contact loads the node that feeds the coil of the other."""
    return {**RELAY, "name": "neighbour", "contact_nodes": ["bus", "heater"], **changes}


BUS = {"name": "bus feed", "kind": "resistance", "resistance_ohm": 0.5, "nodes": ["post", "bus"]}
HEATER = {
    "name": "heater",
    "kind": "resistance",
    "resistance_ohm": 0.996,  # 1 ohm with the contact of the neighbour
    "nodes": ["heater", "ground"],
}
ON_BUS = {**RELAY, "coil_nodes": ["bus", "ground"], "contact_nodes": ["bus", "out"]}


def bus_v(*ohms):
    """By hand: volts on the bus with these between it and ground."""
    both_ohm = 1 / sum(1 / ohm for ohm in ohms)
    return 12.6 * both_ohm / (both_ohm + 0.02 + 0.5)


def pick_up(run, *cases, **changes):
    other = neighbour(coil_nodes=["bus", "ground"], **changes)
    answer = ask(run, *cases, branches=[BUS], loads=[LAMP, HEATER], relays=[ON_BUS, other])
    (state,) = answer.cases
    checks = {(check.code, check.part): check for check in state.checks}
    return state, checks["pick_up_at_ambient", "relay"]


def test_pick_up_is_judged_with_a_held_neighbour_closed(run):
    # The neighbour could not pull in by itself: it holds, as it was, and loads the bus.
    case = {"name": "neighbour on", "held": ["neighbour"]}
    state, check = pick_up(run, case, pick_up_v=12.5, drop_out_v=2.0)
    assert state.relays[1].energised
    assert_allclose(check.value, bus_v(90, 90, 1.0), rtol=1e-5)
    assert check.value < 8.5
    # Released it is no load, and the same relay has 3.7 V more.
    state, check = pick_up(run, {"name": "neighbour off"}, pick_up_v=12.5, drop_out_v=2.0)
    assert not state.relays[1].energised
    assert_allclose(check.value, bus_v(90, 90), rtol=1e-5)


def test_pick_up_is_judged_with_a_neighbour_that_pulls_in_by_itself(run):
    state, check = pick_up(run, {"name": "both"}, pick_up_v=6.0, drop_out_v=2.0)
    assert state.relays[1].energised
    assert_allclose(check.value, bus_v(90, 90, 1.0), rtol=1e-5)


def test_pick_up_within_bounds_is_by_the_voltage_before_closing_too(run):
    """After closing the relay's own load takes the bus below its pick-up: that is no shortfall."""
    load = {**LAMP, "resistance_ohm": 0.996}
    relay = {**ON_BUS, "pick_up_v": {"low": 8.9, "high": 9.1}, "drop_out_v": 2.0}
    (state,) = ask(run, branches=[BUS], loads=[load], relays=[relay]).cases
    assert state.relays[0].coil_v < 8.5
    (spread,) = [each for each in state.spreads if each.code == "coil_margin"]
    assert_allclose([spread.low_v, spread.high_v], [bus_v(90) - 9.1, bus_v(90) - 8.9], rtol=1e-4)
    assert not [check for check in state.checks if check.verdict == "undecided"]


def test_a_suppression_resistor_burdens_wire_and_switch(run):
    """Its current flows through the key like the coil's; by hand, the lamp left out."""
    resistor = {**RELAY, "suppression": {"kind": "resistor", "resistance_ohm": 2}}
    state = ask(run, {"name": "only", "without": ["lamp"]}, relays=(resistor,)).cases[0]
    both_ohm = 1 / (1 / 90 + 1 / 2)
    key_a = next(part.current_a for part in state.parts if part.name == "key")
    assert_allclose(key_a, 12.6 / (0.02 + 0.02 + both_ohm), rtol=1e-5)
    assert_allclose(state.relays[0].coil_v, key_a * both_ohm, rtol=1e-5)
    assert verdicts(state)["suppression_resistor", "relay"] == "fail"


def test_a_coil_that_gets_more_than_is_said_of_it_is_judged_by_what_it_gets(run):
    """The source has 30 V and nothing lies before the coil: 14 V at most was a slip of the pen."""
    told = {**RELAY, "maximum_v": 14.0}
    state = ask(run, relays=(told,), source={**SOURCE, "open_circuit_v": 30}).cases[0]
    assert verdicts(state)["continuous_voltage", "relay"] == "fail"


def test_a_relay_for_another_voltage_is_named_before_what_it_leaves_dark(run):
    """Common practice: a 24 V relay in a 12 V vehicle stays open; its wires are not to blame."""
    relay = {**RELAY, "nominal_v": 24, "pick_up_v": 14.5, "coil_resistance_ohm": 320}
    lamp = {**LAMP, "needed_v": 11, "circuit": "continuous"}
    answer = ask(run, relays=[relay], loads=[lamp])
    assert answer.headline.startswith("Weakest in only, relay needs 14.5 V")
    assert "made for a higher voltage" in answer.headline
    # Starved by its key it is not to blame itself.
    starved = ask(run, branches=[key(100)], loads=[lamp])
    assert (starved.weakest.code, starved.weakest.part) == ("contact_drop", "key")
    weak = ask(run, relays=[{**RELAY, "pick_up_v": 12.58}], loads=[lamp])
    assert weak.weakest.part == "relay"


@pytest.mark.parametrize(
    ("loads", "most_a"),
    [
        # A motor takes 12.6 V over its resistance at first, and no more.
        ([{"kind": "motor", "resistance_ohm": 0.5, "back_v": 8}], 12.6 / 0.5),
        # Both windings of a starter's solenoid are what its control circuit is judged by.
        ([{"kind": "resistance", "resistance_ohm": 0.5, "circuit": "starter_control"}], None),
        # A cold lamp has up to 18 times less than a hot one, as is published; its path has not.
        ([{"kind": "resistance", "resistance_ohm": 4}], 12.6 / (0.024 + 4 / 18)),
    ],
)
def test_a_load_takes_at_first_what_its_resistance_lets_through(run, loads, most_a):
    made = [
        {"name": f"load {place}", "nodes": ["out", "ground"], **each}
        for place, each in enumerate(loads)
    ]
    relay = {**RELAY, "make_rating_a": 60, "load_kind": "lamp"}
    (state,) = ask(run, relays=[relay], loads=made).cases
    check = checks(state)["inrush", relay["name"]]
    assert check.value == pytest.approx(most_a or state.loads[0].current_a, rel=0.02)


def test_a_load_whose_relay_is_switched_off_is_off(run):
    """With its key open it is dark by intent; with a key that lets too little through it is not."""
    lamp = {**LAMP, "needed_v": 11, "circuit": "continuous"}
    off = {"name": "off", "without": ["key"]}
    (state,) = ask(run, off, loads=[lamp]).cases
    assert verdicts(state)["load_off", "lamp"] == "pass"
    assert not [check for check in state.checks if check.verdict == "fail"]
    poor = {"name": "poor", "without": ["other"]}
    other = {**LAMP, "name": "other"}
    (state,) = ask(run, poor, branches=[key(80)], loads=[lamp, other]).cases
    assert verdicts(state)["load_voltage", "lamp"] == "fail"


def test_nothing_arrives_at_a_motor_whose_relay_stays_open(run):
    """What it would make itself at its speed is no voltage that arrives."""
    fan = {
        "name": "fan", "kind": "motor", "resistance_ohm": 0.5, "back_v": 10.5, "needed_v": 10,
        "nodes": ["out", "ground"],
    }  # fmt: skip
    dead = {**RELAY, "coil_nodes": ["trigger", "nowhere"]}
    (state,) = ask(run, relays=[dead], loads=[fan]).cases
    check = checks(state)["load_voltage", "fan"]
    assert (check.verdict, check.value) == ("fail", 0.0)


def test_the_lamp_of_a_lit_switch_feeds_no_load(run):
    """600 ohm across an open switch light its own lamp and no headlamps: they are off."""
    lit = {"name": "lit", "kind": "resistance", "nodes": ["post", "out"], "resistance_ohm": 600}
    switch = {**key(0.005), "name": "switch", "nodes": ["post", "out"]}
    lamp = {**LAMP, "needed_v": 11, "circuit": "continuous"}
    off = {"name": "off", "without": ["switch"]}
    (state,) = ask(run, off, relays=[], branches=[switch, lit], loads=[lamp]).cases
    assert verdicts(state)["load_off", "lamp"] == "pass"
