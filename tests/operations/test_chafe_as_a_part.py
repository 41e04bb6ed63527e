"""A chafe that is drawn as a contact: it is taken out, and never cleaned.

From the trade: what has rubbed through conducts badly, and looks like a poor joint to a meter;
made to conduct better it is a dead short, or feeds what its switch should stop.
"""

import pytest

from .circuit_parts import contact, load, wire

CASES = [
    {"name": "both"},
    {"name": "tail", "without": ["brake switch"]},
    {"name": "brake", "without": ["side switch"]},
]


def checked(run, chafe, *more, ground_ohm=0.003):
    """Brake and tail lamps behind their fuses and switches, and a chafe."""
    branches = [
        contact("brake fuse", "post", "s0", 0.003, part="fuse", rating_a=10, fuse_family="blade C"),
        contact("brake switch", "s0", "s1", 0.01, part="switch", rating_a=15),
        wire("brake wire", "s1", "s2", "16 AWG", 4, insulation="GXL"),
        contact("tail fuse", "post", "t0", 0.003, part="fuse", rating_a=10, fuse_family="blade C"),
        contact("side switch", "t0", "t1", 0.01, part="switch", rating_a=15),
        wire("tail wire", "t1", "t2", "16 AWG", 4, insulation="GXL"),
        contact("lamp ground", "g", "ground", ground_ohm, part="ground"),
    ]
    lamps = [
        load("brake lamps", "s2", "g", resistance_ohm=3.4),
        load("tail lamps", "t2", "g", resistance_ohm=14.4),
    ]
    lamps = [{**each, "circuit": "continuous"} for each in lamps]
    answer = run(
        "circuit-check",
        circuit={
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": [*branches, chafe, *more], "loads": lamps,
        },
        cases=CASES,
        nominal_v=12,
    )  # fmt: skip
    assert answer.verdict == "fail"
    return answer


@pytest.mark.parametrize("ohm", [0.05, 0.3, 2])
@pytest.mark.parametrize(
    ("ends", "code", "part"),
    [
        (("s2", "ground"), "short", "chafe"),
        (("s2", "t2"), "crossed", "chafe"),
        (("s0", "s1"), "bridged", "brake switch"),
        (("s0", "t2"), "bridged", "side switch"),
    ],
)
def test_it_is_named_and_neither_cleaned_nor_mended(run, ohm, ends, code, part):
    answer = checked(run, contact("chafe", *ends, ohm))
    assert (answer.weakest.code, answer.weakest.part) == (code, part)
    for check in answer.checks:
        assert check.part != "chafe" or "clean" not in check.message
    assert "chafe" not in {each.name for each in answer.mend_first}


@pytest.mark.parametrize("ohm", [0.05, 3, 30])
@pytest.mark.parametrize("at", ["ground", "frame"])
@pytest.mark.parametrize("turned", [False, True])
def test_across_the_battery_it_is_a_short_and_neither_refused_nor_its_strap_blamed(
    run, ohm, at, turned
):
    """12.6 V over 30 ohm are 0.42 A; at a frame on which nothing hangs, its strap carries them."""
    ends = (at, "post") if turned else ("post", at)
    strap = contact("strap", "frame", "ground", 0.0004, part="ground")
    answer = checked(run, contact("chafe", *ends, ohm), strap)
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")
    assert "do not tighten" in answer.headline
    assert not {"chafe", "strap"} & {each.name for each in answer.mend_first}


@pytest.mark.parametrize("ohm", [4, 6, 10])
@pytest.mark.parametrize("ends", [("s0", "s1"), ("t0", "s2"), ("post", "s2")])
def test_one_that_takes_most_of_the_voltage_past_an_open_switch_is_not_cleaned(run, ohm, ends):
    """Of 12.6 V 4 ohm before a lamp of 3.4 ohm take 6.8 V, and make 11.6 W."""
    answer = checked(run, contact("chafe", *ends, ohm))
    found = {c.part: c for each in answer.cases for c in each.checks if c.code == "bridged"}
    assert found.keys() == {"brake switch"}
    assert "chafe" in found["brake switch"].detail
    assert (answer.weakest.code, answer.weakest.part) == ("bridged", "brake switch")
    (switched_off,) = [each for each in answer.cases if each.name == "tail"]
    for check in switched_off.checks:
        assert check.part != "chafe" or "clean" not in check.message
    assert "clean" not in answer.headline
    assert "chafe" not in {each.name for each in answer.mend_first}


def test_a_poor_joint_of_the_circuit_is_still_to_be_cleaned(run):
    """Without it no lamp is fed: 3.5 A over 0.3 ohm are a volt."""
    answer = checked(run, contact("chafe", "s0", "s1", 0.1), ground_ohm=0.3)
    said = [each.message for each in answer.checks if each.part == "lamp ground"]
    assert any("clean, tighten" in each for each in said)
    assert answer.mend_first[0].name == "lamp ground"


def starting(run, *more):
    """A solenoid behind its key and its gear switch."""
    branches = [
        contact("fuse", "post", "k1", 0.003, part="fuse", rating_a=40, fuse_family="blade C"),
        contact("key", "k1", "k2", 0.005, part="switch", rating_a=50),
        wire("between", "k2", "n1", "10 AWG", 1, insulation="GXL"),
        contact("gear switch", "n1", "n2", 0.005, part="switch", rating_a=50),
        wire("start wire", "n2", "50", "10 AWG", 1, insulation="GXL"), *more,
    ]  # fmt: skip
    solenoid = {
        "name": "solenoid",
        "kind": "solenoid",
        "nodes": ["50", "ground"],
        "circuit": "starter_control",
        "rated": {"pull_in_v": 8, "resistance_ohm": 0.4},
    }
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    circuit = {"source": source, "branches": branches, "loads": [solenoid]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "on", "duration_s": 1}])


@pytest.mark.parametrize(
    ("ends", "names"), [(("k1", "k2"), {"key"}), (("n1", "n2"), {"gear switch"})]
)
def test_what_leads_past_one_switch_may_be_that_switch(run, ends, names):
    answer = starting(run, contact("bridge", *ends, 0.005))
    assert {each.part for each in answer.checks if each.code == "bridged"} == names
    assert "has welded" in answer.headline


def test_of_what_leads_past_two_in_a_row_none_is_said_to_have_welded(run):
    """Had one of them welded the other would still stop it: neither is to be replaced."""
    answer = starting(run, contact("bridge", "k1", "50", 0.005))
    told = [each for each in answer.checks if each.code == "bridged"]
    assert {each.part for each in told} == {"key", "gear switch"}
    assert {each.value for each in told} == {2}
    assert "bridge leads past it and what is in a row with it" in answer.headline
    assert not any("welded" in each.message or "replace" in each.message for each in told)


def test_past_a_switch_beside_two_in_a_row_that_one_is_named(run):
    """A wiper's switch, and its park contact behind the other side of the switch."""
    branches = [
        contact("switch", "post", "w3", 0.01, part="switch", rating_a=20),
        contact("park contact", "post", "p", 0.01, part="switch", rating_a=20),
        contact("park side", "p", "w3", 0.01, part="switch", rating_a=20),
        contact("bridge", "post", "w3", 0.005),
    ]
    wiper = load("wiper", "w3", "ground", resistance_ohm=3)
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    circuit = {"source": source, "branches": branches, "loads": [wiper]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}])
    assert {each.part for each in answer.checks if each.code == "bridged"} == {"switch"}


def test_past_a_relay_its_chafe_is_named_and_not_its_feed(run):
    """The coil is fed from 30, and is no load of that contact."""
    relay = {"name": "relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7,
             "drop_out_v": 1.2, "contact_resistance_ohm": 0.002, "rating_a": 40,
             "coil_nodes": ["30", "85"], "contact_nodes": ["30", "87"]}  # fmt: skip
    branches = [
        contact("fuse", "post", "f", 0.003, part="fuse", rating_a=20, fuse_family="blade C"),
        wire("feed", "f", "30", "12 AWG", 1, insulation="GXL"),
        wire("out", "87", "h", "12 AWG", 1, insulation="GXL"),
        contact("button", "85", "ground", 0.01, part="switch", rating_a=5),
        contact("chafe", "f", "h", 0.01),
    ]
    horn = load("horn", "h", "ground", current_a=6)
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    circuit = {"source": source, "branches": branches, "loads": [horn], "relays": [relay]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}])
    (told,) = [each for each in answer.checks if each.code == "bridged"]
    assert (told.part, told.detail) == ("relay", "chafe")
