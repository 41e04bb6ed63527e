"""What can hurt someone is told first, whatever else is wrong, and with the part that it is of.

Common practice: a contact of plastic that makes 10 W for minutes is brown, one of lead or brass
stands 30 W.
"""

import pytest

from .circuit_parts import SOURCE, contact, load, resistance, wire
from .test_letting_go import RELAY


def test_a_fuse_that_opens_hides_no_other_wire_that_burns(run):
    """70 A in 12 AWG, which bears some 47, of one circuit; 9 A through 5 A of another."""
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=5, fuse_family="blade C")
    hot = wire("inverter wire", "post", "inverter", "12 AWG", 1, insulation="GXL")
    loads = [
        load("lamp", "in", "ground", resistance_ohm=1.35),
        load("inverter", "inverter", "ground", resistance_ohm=0.17),
    ]
    circuit = {"source": SOURCE, "branches": [fuse, hot], "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert answer.weakest.part == "inverter wire"
    # A wire behind the fuse gets hot for no longer than this takes to open.
    rest = wire("rest", "in", "end", "18 AWG", 1, insulation="GXL")
    circuit = {"source": SOURCE, "branches": [fuse, rest]}
    circuit["loads"] = [load("short", "end", "ground", resistance_ohm=0.1)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fuse")


def test_what_burns_now_leads_over_what_a_chafe_might(run):
    """A fan's own fuse opens, another wire has a fuse too large, and a third burns."""
    blade = {"part": "fuse", "fuse_family": "blade C"}
    branches = [
        contact("fan fuse", "post", "fan", 0.002, rating_a=20, **blade),
        contact("lamp fuse", "post", "in", 0.002, rating_a=40, **blade),
        wire("lamp wire", "in", "lamp", "14 AWG", 1, insulation="GXL"),
        wire("inverter wire", "post", "inverter", "14 AWG", 1, insulation="GXL"),
    ]
    loads = [
        load("fan", "fan", "ground", resistance_ohm=0.2),
        load("lamp", "lamp", "ground", resistance_ohm=2),
        load("inverter", "inverter", "ground", resistance_ohm=0.25),
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert answer.weakest.part == "inverter wire"


@pytest.mark.parametrize(("load_ohm", "leads"), [(0.41, "rest"), (0.2, "fuse")])
def test_a_fuse_that_need_not_open_hides_no_wire(run, load_ohm, leads):
    """30 A in 18 AWG, which bears 23, behind 30 A that hold 40; with 60 A the fuse opens."""
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=30, fuse_family="blade C")
    rest = wire("rest", "in", "end", "18 AWG", 0.2, insulation="GXL")
    circuit = {"source": SOURCE, "branches": [fuse, rest]}
    circuit["loads"] = [load("heater", "end", "ground", resistance_ohm=load_ohm)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert answer.weakest.part == leads


def test_a_short_past_every_load_is_not_to_be_tightened(run):
    chafe = contact("chafe", "in", "ground", 0.05, part="terminal")
    lead = contact("lead", "post", "in", 0.001, part="terminal")
    circuit = {"source": SOURCE, "branches": [lead, chafe]}
    circuit["loads"] = [load("lamp", "in", "ground", resistance_ohm=2)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    (check,) = [each for each in answer.checks if each.part == "chafe"]
    assert (check.code, check.verdict) == ("short", "fail")
    assert "a short" in answer.headline or "do not tighten" in answer.headline


def _heated(run, part, ohm, load_ohm, **case):
    """A circuit over one poor contact, whose wires are thick."""
    joint = contact("joint", "post", "in", ohm, part=part)
    lead = wire("lead", "in", "lamp", "4 AWG", 1, insulation="GXL")
    circuit = {"source": SOURCE, "branches": [joint, lead]}
    circuit["loads"] = [load("lamp", "lamp", "ground", resistance_ohm=load_ohm)]
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", **case}])


@pytest.mark.parametrize(
    ("part", "ohm", "load_ohm"),
    # By hand, 12.6 V squared times the joint over all resistances squared: 70, 21, 36 W.
    [("fuse", 0.03, 0.22), ("connector", 0.2, 0.9), ("ground", 0.05, 0.41)],
)
def test_a_contact_that_burns_its_holder_leads(run, part, ohm, load_ohm):
    answer = _heated(run, part, ohm, load_ohm)
    volts = 12.6 / (0.004 + ohm + load_ohm)
    assert (answer.weakest.code, answer.weakest.part) == ("contact_heat", "joint")
    assert answer.weakest.value == pytest.approx(volts**2 * ohm, rel=0.01)


@pytest.mark.parametrize(
    ("part", "ohm", "load_ohm", "case"),
    [
        ("switch", 0.1, 1.2, {}),  # 9 W
        ("terminal", 0.05, 0.5, {}),  # 26 W, in metal
        ("fuse", 0.004, 0.22, {}),  # 13 W, as every fuse has that carries so much
        ("connector", 0.2, 0.9, {"duration_s": 10}),  # 26 W, for seconds
    ],
)
def test_a_contact_that_stays_cool_has_no_heat_to_tell_of(run, part, ohm, load_ohm, case):
    answer = _heated(run, part, ohm, load_ohm, **case)
    assert not [check for check in answer.checks if check.code == "contact_heat"]


def test_what_may_burn_leads_over_what_is_only_worn(run):
    """An unfused wire that bears 38 A and may have to carry 55, beside a worn switch."""
    branches = [
        contact("switch", "post", "out", 0.05, part="switch"),
        wire("feed", "out", "lamp", "10 AWG", 1, insulation="GXL"),
        wire("heater wire", "post", "heater", "14 AWG", 3, insulation="GXL"),
    ]
    loads = [
        {**load("lamp", "lamp", "ground", resistance_ohm=1.3), "needed_v": 11.8},
        load("heater", "heater", "ground", resistance_ohm={"low": 0.2, "high": 0.6}),
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert (answer.weakest.verdict, answer.weakest.part) == ("undecided", "heater wire")


def test_a_relay_that_welds_leads_over_a_fuse_that_opens(run):
    """24 A of lamps behind a contact that closes on 20; 2 A through a fuse of 1 A."""
    branches = [contact("radio fuse", "post", "radio", 0.01, part="fuse", rating_a=1)]
    relay = {
        "name": "relay", "nominal_v": 12, "coil_nodes": ["post", "ground"],
        "coil_resistance_ohm": 90, "pick_up_v": 7.2, "drop_out_v": 1.2,
        "contact_nodes": ["post", "lamps"], "contact_resistance_ohm": 0.002,
        "load_kind": "lamp", "make_rating_a": 20, "rating_a": 40,
    }  # fmt: skip
    loads = [
        load("radio", "radio", "ground", resistance_ohm=6),
        load("lamps", "lamps", "ground", resistance_ohm=0.8),
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": loads, "relays": [relay]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert (answer.weakest.code, answer.weakest.part) == ("inrush", "relay")
    assert "fuse carries its load (radio fuse)" in answer.headline


@pytest.mark.parametrize(("at", "leads"), [("post", "switch"), ("lamp", "small fuse")])
def test_a_fuse_leads_where_the_load_that_decides_hangs_on_it(run, at, leads):
    """A worn switch; 2 A through a fuse of 1 A, which is the radio's or the lamp's own."""
    switch_end = "lamp" if at == "post" else "fused"
    branches = [
        contact("switch", "post", switch_end, 0.1, part="switch"),
        contact("small fuse", *(("post", "radio") if at == "post" else ("fused", "lamp")), 0.01,
                part="fuse", rating_a=1),
    ]  # fmt: skip
    loads = [
        {**load("lamp", "lamp", "ground", resistance_ohm=2), "needed_v": 12.2},
        load("radio", "radio" if at == "post" else "post", "ground", resistance_ohm=6),
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert answer.weakest.part == leads


def test_a_seized_fan_is_told_by_its_fuse_and_not_by_its_relay(run):
    """12 V over 0.17 ohm: 70 A through a fuse of 30 A and a relay of 40 A, both right for it."""
    branches = [
        contact("fan fuse", "post", "fused", 0.003, part="fuse", rating_a=30),
        wire("feed", "fused", "30", "10 AWG", 1, insulation="GXL"),
    ]
    relay = {
        "name": "fan relay", "nominal_v": 12, "coil_nodes": ["post", "ground"],
        "coil_resistance_ohm": 90, "pick_up_v": 7.2, "drop_out_v": 1.2,
        "contact_nodes": ["30", "fan"], "contact_resistance_ohm": 0.002,
        "load_kind": "motor", "make_rating_a": 120, "rating_a": 40,
    }  # fmt: skip
    fan = {"name": "fan", "kind": "motor", "nodes": ["fan", "ground"],
           "resistance_ohm": 0.15, "back_v": 0}  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": [fan], "relays": [relay]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fan fuse")
    assert "Find out whether its loads should draw so much" in answer.headline


@pytest.mark.parametrize(("rating_a", "leads"), [(10.5, "ground joint"), (6, "switch")])
def test_a_rating_exceeded_by_little_hides_no_great_drop(run, rating_a, leads):
    """Some 11 A: a twentieth over 10.5 A beside 1.1 V over a ground; nearly twice 6 A."""
    branches = [
        contact("switch", "post", "lamp", 0.003, part="switch", rating_a=rating_a),
        contact("ground joint", "earth", "ground", 0.1, part="ground"),
    ]
    lamp = {**load("lamp", "lamp", "earth", resistance_ohm=1.02), "needed_v": 11.8}
    circuit = {"source": SOURCE, "branches": branches, "loads": [lamp]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert answer.weakest.part == leads


def test_what_flows_into_a_dead_battery_is_that_batterys_fault(run):
    """By hand: (12.6 - 10.5) V over 0.03 ohm are 70 A, for which nobody fits a larger fuse."""
    split = contact("split fuse", "post", "leisure post", 0.01, part="fuse", rating_a=50)
    leisure = {
        "name": "leisure", "kind": "battery", "nodes": ["leisure post", "ground"],
        "open_circuit_v": 10.5, "internal_resistance_ohm": 0.016,
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [split], "further_sources": [leisure]}
    circuit["loads"] = [load("lamp", "post", "ground", resistance_ohm=3)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)
    assert answer.weakest.part == "leisure"
    assert "cell" in answer.headline


@pytest.mark.parametrize(("fridge_at", "verdict"), [("leisure post", "pass"), ("post", "fail")])
def test_a_load_hangs_on_the_source_that_is_next_to_it(run, fridge_at, verdict):
    """By hand: 20 A charge the second battery over 0.04 ohm, 0.8 V that its fridge never had."""
    split = contact("split relay", "post", "leisure post", 0.04, part="connector")
    lead = {"leisure post": 0.01, "post": 0.2}[fridge_at]
    wires = contact("fridge plug", fridge_at, "fridge", lead, part="connector")
    leisure = {
        "name": "leisure", "kind": "battery", "nodes": ["leisure post", "ground"],
        "open_circuit_v": 12.3, "internal_resistance_ohm": 0.01,
    }  # fmt: skip
    circuit = {"source": {**SOURCE, "open_circuit_v": 13.3}, "branches": [split, wires],
               "further_sources": [leisure]}  # fmt: skip
    fridge = {**load("fridge", "fridge", "ground", resistance_ohm=3), "circuit": "continuous"}
    circuit["loads"] = [fridge]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)
    (check,) = [each for each in answer.checks if each.code == "path_drop"]
    assert check.verdict == verdict


def test_a_wire_that_burns_leads_over_a_contact_that_makes_heat(run):
    """28 A in 18 AWG, which bears 23, without a fuse; 17 W in another circuit's switch."""
    branches = [
        contact("switch", "post", "lamp", 0.03, part="switch"),
        wire("seat wire", "post", "seat", "18 AWG", 1, insulation="GXL"),
    ]
    loads = [
        load("lamp", "lamp", "ground", resistance_ohm=0.5),
        load("seat", "seat", "ground", resistance_ohm=0.42),
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert answer.weakest.part == "seat wire"
    assert "heat of the contact (switch)" in answer.headline


def test_what_burns_once_a_contact_is_clean_is_told_before_it_is_cleaned(run):
    """By hand: 12.6 V over 0.36 ohm are 35 A, 0.26 without the bad ground 48 A; it bears 38."""
    branches = [
        wire("heater wire", "post", "heater", "14 AWG", 0.5, insulation="GXL"),
        contact("heater ground", "earth", "ground", 0.1, part="ground"),
    ]
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("heater", "heater", "earth", resistance_ohm=0.255)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert (answer.weakest.code, answer.weakest.part) == ("burns_once_mended", "heater wire")
    assert answer.weakest.value == pytest.approx(12.6 / 0.26, rel=0.03)
    assert "heater ground is mended" in answer.headline


@pytest.mark.parametrize("ground_ohm", [0.1, 50.0, 1000.0])
def test_a_dead_heater_on_a_bare_wire_is_told_before_its_ground_is_mended(run, ground_ohm):
    """By hand: 12.6 V over 0.27 ohm are 47 A as soon as the ground is sound; it bears 38."""
    branches = [
        wire("heater wire", "post", "heater", "14 AWG", 0.5, insulation="GXL"),
        contact("heater ground", "earth", "ground", ground_ohm, part="ground"),
    ]
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("heater", "heater", "earth", resistance_ohm=0.255)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert answer.weakest.part == "heater wire"
    assert answer.weakest.value == pytest.approx(47, rel=0.05)


def test_a_drained_battery_is_told_where_all_else_is_sound(run):
    dead = {
        "name": "alternator", "kind": "charger", "nodes": ["post", "ground"],
        "internal_resistance_ohm": 0.02, "regulated_v": 14.0, "limit_a": 0.5,
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [], "further_sources": [dead]}
    lamp = {**load("lamp", "post", "ground", resistance_ohm=1.2), "needed_v": 10.8}
    answer = run("circuit-check", circuit={**circuit, "loads": [lamp]}, cases=[{"name": "now"}])
    assert answer.weakest.code == "drained"
    assert "drained" in answer.headline


def test_a_chafe_that_is_a_wire_is_the_short_and_not_its_fuse(run):
    branches = [
        contact("lamp fuse", "post", "fused", 0.003, part="fuse", rating_a=15),
        wire("chafed", "fused", "ground", "16 AWG", 2, insulation="GXL"),
        wire("to the lamp", "fused", "lamp", "14 AWG", 2, insulation="GXL"),
    ]
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("lamp", "lamp", "ground", resistance_ohm=2)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    assert {check.part for check in answer.checks if check.code == "short"} == {"chafed"}


def test_a_way_that_is_not_closed_is_said_so(run):
    clamp = contact("clamp", "post", "lamp", 0.0003, part="terminal")
    circuit = {"source": SOURCE, "branches": [clamp]}
    lamp = {**load("lamp", "lamp", "chassis", resistance_ohm=2), "circuit": "continuous"}
    answer = run("circuit-check", circuit={**circuit, "loads": [lamp]}, cases=[{"name": "now"}])
    codes = {check.code for check in answer.checks if check.verdict == "fail"}
    assert codes == {"not_joined"}
    assert "clamp" not in answer.headline


def test_a_switch_is_not_bought_for_what_its_fuse_does_not_bear_either(run):
    """36 A of a fan that should take 20, behind 30 A and a switch for 25."""
    branches = [
        contact("fan fuse", "post", "fused", 0.003, part="fuse", rating_a=30),
        contact("fan switch", "fused", "fan", 0.002, part="switch", rating_a=25),
    ]
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("fan", "fan", "ground", resistance_ohm=0.34)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fan fuse")


@pytest.mark.parametrize(
    ("held", "limit_v", "verdict"), [(True, 0.1, "fail"), (False, 0.17, "fail")]
)
def test_what_holds_a_plunger_is_no_moment(run, held, limit_v, verdict):
    """By hand: 25 milliohm drop 0.26 V of the hold-in's 10 A, and 0.43 V of both windings' 17.

    A sound key has 10 milliohm at the most: 0.17 V of these.
    """
    key = contact("key", "post", "50", 0.025, part="switch", rating_a=30)
    windings = {
        "pull_in_turns": 190, "pull_in_resistance_ohm": 1.7, "hold_in_turns": 190,
        "hold_in_resistance_ohm": 1.2, "ampere_turns": 2500, "hold_ampere_turns": 480,
    }  # fmt: skip
    solenoid = {"name": "solenoid", "kind": "solenoid", "circuit": "starter_control",
                "nodes": ["50", "ground"], "windings": windings}  # fmt: skip
    circuit = {"source": SOURCE, "branches": [key], "loads": [solenoid]}
    case = {"name": "now", "held": ["solenoid"] if held else []}
    answer = run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)
    (check,) = [c for c in answer.cases[0].checks if (c.code, c.part) == ("contact_drop", "key")]
    assert check.value == pytest.approx(0.26 if held else 0.43, abs=0.02)
    assert (check.limit, check.verdict) == (pytest.approx(limit_v, abs=0.005), verdict)


def test_a_relay_that_closes_on_a_shorted_load_is_told_after_its_fuse(run):
    """A flame plug of 0.05 ohm takes 200 A: nobody begins with the relay, rated for 120 A."""
    relay = {
        "name": "relay", "coil_nodes": ["post", "ground"], "contact_nodes": ["in", "plug"],
        "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7.2, "drop_out_v": 1.2,
        "contact_resistance_ohm": 0.003, "rating_a": 40, "rating_ambient_c": 85,
        "make_rating_a": 120, "load_kind": "resistive",
    }  # fmt: skip
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=30, fuse_family="blade C")
    plug = load("flame plug", "plug", "ground", resistance_ohm=0.05)
    circuit = {"source": SOURCE, "branches": [fuse], "loads": [plug], "relays": [relay]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "heat", "duration_s": 30}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fuse")
    codes = {c.code for c in answer.cases[0].checks if c.part == "relay" and c.verdict == "fail"}
    assert "inrush" in codes


def test_of_what_is_alike_in_every_case_no_case_is_named(run):
    """A relay for 24 V is so with its switch on or off: an odd case beside it says nothing."""
    for_24_v = {**RELAY, "nominal_v": 24, "pick_up_v": 14.4, "contact_nodes": ["post", "lamp"]}
    switch = contact("switch", "post", "86", 0.005, part="switch", rating_a=10)
    circuit = {
        "source": SOURCE, "branches": [switch], "relays": [for_24_v],
        "loads": [load("lamp", "lamp", "ground", resistance_ohm=3) | {"needed_v": 11}],
    }  # fmt: skip
    cases = [{"name": "tuesday", "without": ["switch"]}, {"name": "on"}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    assert answer.is_everywhere
    assert answer.headline.startswith("Weakest in every case, relay needs")
    only = run("circuit-check", circuit=circuit, cases=cases[1:], nominal_v=12)
    assert only.headline.startswith("Weakest in on, ")
    poor = contact("plug", "86", "86x", 30, part="connector")
    circuit["relays"] = [
        {**RELAY, "coil_nodes": ["86x", "ground"], "contact_nodes": ["post", "lamp"]}
    ]
    circuit["branches"] = [switch, poor]
    found = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    assert not found.is_everywhere
    assert found.headline.startswith("Weakest in on, plug")


def test_where_all_passes_an_end_that_leads_nowhere_is_told(run):
    """A gauge that reads over a chafe alone, for its sender has lost its ground."""
    branches = [
        wire("sender wire", "out", "in", "18 AWG", 3, insulation="GXL"),
        resistance("sender", "in", "tank", 60), resistance("chafe", "in", "ground", 40),
    ]  # fmt: skip
    gauge = load("gauge", "post", "out", resistance_ohm=60) | {"needed_v": 4}
    circuit = {"source": SOURCE, "branches": branches, "loads": [gauge]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)
    assert (answer.weakest.code, answer.weakest.part) == ("open_end", "sender")
    assert "sender: nothing else is at tank" in answer.headline


@pytest.mark.parametrize("ohm", [0.03, 0.05, 0.08])
def test_a_key_that_a_shorted_solenoid_overloads_is_not_blamed_alone(run, ohm):
    """12 V over 0.05 ohm are 200 A, and no sound solenoid of 12 V draws a quarter of that."""
    solenoid = {
        "name": "solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
        "circuit": "starter_control", "rated": {"pull_in_v": 7, "resistance_ohm": ohm},
    }  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [contact("key", "post", "50", 0.01, part="switch", rating_a=50)],
        "loads": [solenoid],
    }
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "start", "duration_s": 10}])
    assert answer.weakest.part == "key"
    assert "read its amperes" in answer.headline
