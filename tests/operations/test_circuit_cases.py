"""What a case lays over a circuit: zones, age, time, the battery, and what is left out."""

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.api.problems import Refused
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.wires.conductors import copper_changes
from lastvolt_service.schemas.described import schema_class

from .circuit_parts import SOURCE, ask, checks, contact, load, resistance, wire


def part(state, name):
    return next(item for item in [*state.parts, *state.loads] if item.name == name)


def ohms(state, name):
    told = part(state, name)
    return told.drop_v / told.current_a


def test_age_acts_on_what_ages_only(run):
    branches = [
        contact("old", "post", "a", 0.02, "switch"),
        contact("gold", "a", "b", 0.02, ages=False),
        resistance("shunt", "b", "c", 0.02),
        wire("lead", "c", "d", "12 AWG", 3, temperature_c=20),
    ]
    relay = {
        "name": "relay",
        "coil_resistance_ohm": 90,
        "pick_up_v": 7,
        "drop_out_v": 1,
        "contact_resistance_ohm": 0.01,
        "coil_nodes": ["post", "ground"],
        "contact_nodes": ["d", "e"],
    }
    steady = {**relay, "name": "sealed relay", "contact_nodes": ["e", "f"], "ages": False}
    new, aged = run(
        "circuit-check",
        circuit={
            "source": SOURCE,
            "branches": branches,
            "loads": [load("lamp", "f", "ground", resistance_ohm=2)],
            "relays": [relay, steady],
        },
        cases=[{"name": "new"}, {"name": "aged", "ageing_factor": 3}],
    ).cases
    for name, factor in [
        ("old", 3),
        ("gold", 1),
        ("shunt", 1),
        ("lead", 1),
        ("relay", 3),
        ("sealed relay", 1),
    ]:
        assert_allclose(ohms(aged, name) / ohms(new, name), factor, rtol=1e-9)


def test_zones_give_each_part_its_ambient(run):
    branches = [
        wire("cool", "post", "a", "12 AWG", 3, insulation="GXL", zone="cabin"),
        wire("warm", "a", "b", "12 AWG", 3, insulation="GXL", zone="engine bay"),
        wire("own", "b", "c", "12 AWG", 3, insulation="GXL", zone="engine bay", ambient_c=50),
        wire("elsewhere", "c", "d", "12 AWG", 3, insulation="GXL", zone="roof"),
    ]
    loads = [load("lamp", "d", "ground", current_a=0.01)]
    (state,) = ask(
        run,
        branches,
        loads,
        {
            "name": "soak",
            "ambient_c": 30,
            "zone_ambients_c": {"engine bay": 95, "cabin": 40, "no part is here": 200},
        },
    )
    # Ten milliamperes warm a wire by far less than a hundredth of a kelvin.
    told = {item.name: item.temperature_c for item in state.parts}
    for name, ambient_c in [("cool", 40), ("warm", 95), ("own", 50), ("elsewhere", 30)]:
        assert_allclose(told[name], ambient_c, atol=0.01)


def test_copper_loads_warm_with_their_zone(run):
    loads = [
        load("winding", "post", "ground", resistance_ohm=2, copper=True, zone="bay"),
        load("lamp", "post", "ground", resistance_ohm=2, zone="bay"),
    ]
    cold, hot = ask(
        run, [], loads, {"name": "cold"}, {"name": "hot", "zone_ambients_c": {"bay": 120}}
    )
    assert_allclose(part(cold, "winding").current_a, part(cold, "lamp").current_a, rtol=1e-12)
    warm = part(hot, "winding")
    # IEC 60028: 0.00393 per kelvin, from 20 degC.
    assert_allclose(warm.voltage_v / warm.current_a, 2 * (1 + 0.00393 * 100), rtol=1e-9)
    # What is not said to be a winding is none.
    assert_allclose(part(hot, "lamp").voltage_v / part(hot, "lamp").current_a, 2, rtol=1e-9)


@pytest.mark.parametrize("zone_c", [-30, 20, 120])
def test_warm_solenoid_needs_and_resists_more(run, zone_c):
    solenoid = {
        "name": "solenoid",
        "kind": "solenoid",
        "nodes": ["post", "ground"],
        "rated": {"pull_in_v": 8, "resistance_ohm": 1.2},
    }
    (state,) = ask(run, [], [solenoid], {"name": "case", "ambient_c": zone_c})
    told = part(state, "solenoid")
    change = copper_changes(zone_c, 20)
    assert_allclose(told.needed_v, 8 * change, rtol=1e-12)
    assert_allclose(told.voltage_v / told.current_a, 1.2 * change, rtol=1e-9)
    alone = run(
        "solenoid-pull-in",
        rated={"pull_in_v": 8, "resistance_ohm": 1.2},
        temperature_c=zone_c,
        supply_v=12.6,
        path_resistance_ohm=0.004,
    )
    assert_allclose(told.margin_v, alone.margin_v, rtol=1e-9)


def test_starter_cable_bears_the_crank_but_not_for_ever(run):
    cable = wire("starter cable", "post", "motor", "4 AWG", 2, insulation="SGT", ambient_c=40)
    motor = load("motor", "motor", "ground", current_a=300)
    crank, stuck = ask(
        run,
        [cable],
        [motor],
        {"name": "crank", "duration_s": 10},
        {"name": "stuck", "duration_s": 120},
    )
    name = ("conductor_temperature", "starter cable")
    assert checks(crank)[name].verdict == "pass"
    assert checks(stuck)[name].verdict == "fail"
    assert (
        40 < part(crank, "starter cable").temperature_c < part(stuck, "starter cable").temperature_c
    )
    # As warm as the other operation has it after the same time.
    alone = run(
        "wire-heating", size="4 AWG", current_a=300, ambient_c=40, insulation="SGT", on_time_s=10
    )
    assert_allclose(
        part(crank, "starter cable").temperature_c, alone.temperature_after_on_time_c, atol=1e-6
    )


@pytest.mark.parametrize(
    ("of_solenoid", "without", "lasts"),
    [
        ("starter_control", ["lamp"], "seconds"),
        (None, ["lamp"], "seconds"),  # beside a starter's motor it is that's
        (None, [], "for ever"),  # lamps may stay on
        ("continuous", ["lamp"], "for ever"),  # it is said to be another's
    ],
)
def test_where_nothing_but_a_starter_is_fed_a_case_lasts_as_long_as_a_key_is_held(
    run, of_solenoid, without, lasts
):
    """4 AWG bears 300 A for the seconds of a start, and not for hours."""
    cable = wire("starter cable", "post", "motor", "4 AWG", 2, insulation="SGT", ambient_c=40)
    motor = {**load("motor", "motor", "ground", current_a=300), "circuit": "starter_motor"}
    lamp = load("lamp", "post", "ground", resistance_ohm=3)
    solenoid = {
        "name": "solenoid",
        "kind": "solenoid",
        "nodes": ["post", "ground"],
        "rated": {"pull_in_v": 7, "resistance_ohm": 1.2},
        **({"circuit": of_solenoid} if of_solenoid else {}),
    }
    solenoid["nodes"] = ["out", "ground"]
    key = contact("key", "post", "out", 0.01, part="switch")
    case = {"name": "start", "without": without}
    (state,) = ask(run, [cable, key], [motor, solenoid, lamp], case)
    heat = checks(state)["conductor_temperature", "starter cable"]
    assert heat.verdict == ("pass" if lasts == "seconds" else "fail")


def test_a_crank_without_end_leaves_no_cable_and_is_answered(run):
    cable = wire("starter cable", "post", "motor", "4 AWG", 2, insulation="SGT", ambient_c=40)
    motor = load("motor", "motor", "ground", current_a=300)
    (state,) = ask(run, [cable], [motor], {"name": "stuck"})
    heat = checks(state)["conductor_temperature", "starter cable"]
    assert (heat.verdict, heat.value) == ("fail", None)
    assert "without end" in heat.message
    (part,) = state.parts
    assert part.temperature_c is None


def test_a_switch_left_open_on_purpose_turns_its_load_off(run):
    """What is left out of a load's way is no fault of the rest of it."""
    lamp = {**load("lamp", "out", "ground", resistance_ohm=2), "needed_v": 10,
            "circuit": "continuous"}  # fmt: skip
    key = contact("key", "post", "out", 0.01, part="switch")
    on, off = ask(run, [key], [lamp], {"name": "on"}, {"name": "off", "without": ["key"]})
    assert checks(on)["load_voltage", "lamp"].verdict == "pass"
    assert {code for code, part in checks(off) if part == "lamp"} == {"load_off"}
    assert off.verdict == "pass"


def test_case_replaces_the_source(run):
    loads = [load("lamp", "post", "ground", resistance_ohm=1.2)]
    own, other = ask(
        run,
        [],
        loads,
        {"name": "own"},
        {"name": "other", "open_circuit_v": 10.0, "internal_resistance_ohm": 0.05},
    )
    assert_allclose(own.source_v, 12.6 * 1.2 / 1.204, rtol=1e-12)
    assert_allclose(other.source_v, 10.0 * 1.2 / 1.25, rtol=1e-12)


def test_a_charge_that_would_be_left_out_of_account_is_refused(run):
    # 12.6 V at rest are those of a full battery: a case that calls it empty contradicts that.
    with pytest.raises(Refused) as refused:
        run(
            "circuit-check",
            circuit={
                "source": SOURCE,
                "branches": [contact("switch", "post", "a", 0.002, "switch")],
                "loads": [load("lamp", "a", "ground", resistance_ohm=2)],
            },
            cases=[{"name": "new"}, {"name": "flat", "state_of_charge_percent": 0}],
        )
    pointers = [error["pointer"] for error in refused.value.errors]
    assert pointers == ["#/cases/1/state_of_charge_percent"]


def test_cold_half_charged_battery_in_one_line(run):
    source = {"plus": "post", "battery": {"nominal_v": 12, "cold_cranking_a": 600}}
    motor = [load("motor", "post", "ground", current_a=250)]
    (state,) = ask(
        run,
        [],
        motor,
        {"name": "cold crank", "ambient_c": -15, "state_of_charge_percent": 50},
        source=source,
    )
    alone = run(
        "battery-voltage",
        nominal_v=12,
        cold_cranking_a=600,
        state_of_charge_percent=50,
        temperature_c=-15,
        current_a=250,
    )
    assert_allclose(state.source_v, alone.terminal_v, rtol=1e-12)


def test_battery_keeps_its_own_temperature_and_charge(run):
    battery = {
        "nominal_v": 12,
        "cold_cranking_a": 600,
        "temperature_c": 10,
        "state_of_charge_percent": 75,
    }
    motor = [load("motor", "post", "ground", current_a=250)]
    told = [
        state.source_v
        for state in ask(
            run,
            [],
            motor,
            {"name": "cold", "ambient_c": -15},
            {"name": "warm", "ambient_c": 30},
            {"name": "full", "state_of_charge_percent": 100},
            source={"plus": "post", "battery": battery},
        )
    ]
    assert told[0] == told[1] < told[2]


def test_battery_is_as_cold_as_its_zone(run):
    source = {
        "plus": "post",
        "zone": "battery box",
        "battery": {"nominal_v": 12, "cold_cranking_a": 600},
    }
    motor = [load("motor", "post", "ground", current_a=250)]
    box, all_cold = ask(
        run,
        [],
        motor,
        {"name": "box", "ambient_c": 20, "zone_ambients_c": {"battery box": -10}},
        {"name": "all", "ambient_c": -10},
        source=source,
    )
    assert box.source_v == all_cold.source_v


def test_an_open_switch_carries_nothing():
    lamp = load("lamp", "a", "ground", resistance_ohm=2)
    made = {
        "source": SOURCE,
        "branches": [contact("switch", "post", "a", 0.02, "switch")],
        "loads": [lamp, load("horn", "post", "ground", resistance_ohm=2)],
    }
    asked = schema_class(CircuitCheckRequest)().load(
        {"circuit": made, "cases": [{"name": "off", "without": ["switch"]}]}
    )
    state = rest(asked.circuit, asked.cases[0])
    assert state.current_a("switch") == 0
    assert state.across_v("switch") == 0
    assert state.current_a("horn") == pytest.approx(12.6 / 2.004)
