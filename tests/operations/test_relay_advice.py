"""What a careful mechanic would say to a relay: advice and reasons, case by case.

All of it is common practice, no source: the advice was written before the code that gives it. The
numbers beside a case are those of a pocket calculator, by Ohm's law alone.
"""

import copy

import pytest

from .retrofit_circuits import (
    asked,
    checked,
    contact,
    cranking,
    fan,
    headlamps,
    starter,
    told,
    wire,
)

# Advice, and the part or parts that are to be made sound.
CASES = {
    # 12.6 V over 1.56 ohm: 10.6 V reach lamps that need 10.8 V; switch sound, 12.1 V do.
    "12 V lamps, worn switch": (lambda: headlamps(switch_ohm=0.2), "mend", ("switch",)),
    "12 V lamps, green plug": (lambda: headlamps(plug_ohm=0.2), "mend", ("plug",)),
    "12 V lamps, rusty ground": (lambda: headlamps(ground_ohm=0.2), "mend", ("lamp ground",)),
    "12 V lamps, switch and ground": (
        lambda: headlamps(switch_ohm=0.2, ground_ohm=0.2), "mend", ("lamp ground", "switch"),
    ),
    "12 V lamps, all sound": (headlamps, "nothing_needed", ()),
    # 20 A through a switch for 25 A.
    "12 V fan, switch near its rating": (lambda: fan(rating_a=25), "insurance", ()),
    "12 V fan, switch over its rating": (lambda: fan(rating_a=15), "relay", ()),
    # 12.6 V over 0.9 ohm and 22 m of 12 AWG, 0.12 ohm: 11.0 V, and at 120 degC 10.9 V are needed.
    "12 V starter, long thin wires": (
        lambda: starter(length_m=11, zone_c=120), "relay", (),
    ),
    "12 V starter, long thin wires and a bad strap": (
        lambda: starter(length_m=11, zone_c=120, strap=0.25), "mend_then_relay", ("engine strap",),
    ),
    # 6.3 V over 0.6 ohm and 8 m of 18 AWG, 0.17 ohm: 4.8 V, and 4.7 V are needed.
    "6 V starter, thin wires": (
        lambda: starter(6, pull_in_v=4.7, ohm=0.6, size="18 AWG", length_m=4), "relay", (),
    ),
    "6 V starter, worn switch": (
        lambda: starter(6, pull_in_v=4.6, ohm=0.6, switch=0.3), "mend", ("key switch",),
    ),
    "24 V starter, long thin wires": (
        lambda: starter(24, pull_in_v=15.6, ohm=1.8, zone_c=100, size="16 AWG", length_m=12),
        "relay", (),
    ),
    "24 V starter, sound": (lambda: starter(24, pull_in_v=14, ohm=3.6), "nothing_needed", ()),
    # Rested at 10.5 V, empty: 9.8 V reach a solenoid that needs 10.0 V; full, 11.8 V do.
    "12 V starter, flat battery": (lambda: starter(rest_v=10.5, zone_c=92), "battery_first", ()),
    # 200 A over 0.03 ohm inside: 6.5 V are left at the posts.
    "12 V cranking, worn battery": (lambda: cranking(inside_ohm=0.03), "battery_first", ()),
    # 200 A over 0.017 ohm at the clamp: 3.4 V, and 7.9 V are left.
    "12 V cranking, corroded clamp": (
        lambda: cranking(clamp_ohm=0.017, hold_v=7.8), "mend", ("post clamp",),
    ),
    "12 V lamps that need more than any battery has": (
        lambda: copy.deepcopy(headlamps()), "not_the_wiring", (),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_advice(run, name):
    make, advice, parts = CASES[name]
    body = make()
    if advice == "not_the_wiring":
        body["circuit"]["loads"][0]["needed_v"] = 13.0
    answer = run("relay-retrofit", **body)
    assert answer.advice == advice, [reason.message for reason in answer.reasons]
    found = answer.plan.parts if answer.plan else ()
    assert tuple(sorted(found)) == parts
    # A proposal that is advised does not fail; nothing passes that is to be mended.
    if advice in {"mend", "mend_then_relay", "battery_first", "not_the_wiring"}:
        assert answer.verdict in {"fail", "marginal"}
    else:
        assert answer.verdict != "fail"


def test_a_battery_is_named_and_no_wiring(run):
    flat = run("relay-retrofit", **starter(rest_v=10.5, zone_c=92))
    assert flat.reasons[0].code == "battery_low"
    assert not {"mend_brings", "costs_load"} & told(flat)
    worn = run("relay-retrofit", **cranking(inside_ohm=0.03))
    assert worn.reasons[0].code == "battery_weak"
    assert worn.reasons[0].values["internal_resistance_ohm"] == 0.03


def test_a_load_of_a_few_milliamperes_is_not_taken_for_the_coil(run):
    """A gauge of 0.05 A behind a connector of 30 ohm: the coil would take three times as much."""
    gauge = {"name": "gauge", "kind": "resistance", "resistance_ohm": 240, "needed_v": 11}
    body = asked(
        wire("feed", "18 AWG", 3),
        contact("switch", "switch", 0.01, rating_a=10),
        contact("plug", "connector", 30),
        gauge,
        contact("gauge ground", "ground", 0.01),
        load=gauge,
        fuse_a=5,
    )
    answer = run("relay-retrofit", **body)
    assert (answer.advice, answer.plan.parts) == ("mend", ("plug",))
    # The relay leaves it in the coil's path and not in the load's: it works with it, too.
    assert next(way for way in answer.ways if way.code == "relay").works


# 200 A over 0.6 and over 1.5 milliohm, 0.12 and 0.3 V, of 0.1 V that a sound one drops at most.
@pytest.mark.parametrize(("clamp_ohm", "advice"), [(0.0006, "nothing_needed"), (0.0015, "mend")])
def test_a_corroded_clamp_is_mended_and_a_little_one_let_be(run, clamp_ohm, advice):
    answer = run("relay-retrofit", **cranking(clamp_ohm=clamp_ohm, hold_v=5.0))
    assert answer.advice == advice
    mended = answer.plan.parts == ("post clamp",)
    assert mended == (advice == "mend")
    assert (("contact_drop", "post clamp") in checked(answer, "fail")) == mended


def test_a_contact_that_takes_much_is_mended_whatever_the_load_can_spare(run):
    # 0.8 V at a clamp; 9 V and 40 W in a switch of 24 V.
    for body, name in (
        (cranking(clamp_ohm=0.004, hold_v=5.0), "post clamp"),
        (starter(24, pull_in_v=14, ohm=3.6, switch=2.0), "key switch"),
    ):
        answer = run("relay-retrofit", **body)
        assert (answer.advice, answer.plan.parts) == ("mend", (name,))
        assert ("contact_drop", name) in checked(answer, "fail")


def test_a_weak_battery_in_one_case_does_not_hide_thin_wires(run):
    """Full, it leaves less than is needed, and the relay leaves enough with it weak."""
    body = starter(length_m=20, zone_c=120)
    body["cases"].append({**body["cases"][0], "name": "a cold start", "open_circuit_v": 12.1})
    answer = run("relay-retrofit", **body)
    assert answer.advice == "relay"
    assert "battery_falls_short" in told(answer)


def test_a_main_cable_given_as_a_resistance_is_mentioned_too(run):
    body = cranking(hold_v=5.0)
    clamp = body["circuit"]["branches"][0]
    body["circuit"]["branches"][0] = {
        "name": "main cable", "kind": "resistance", "nodes": clamp["nodes"], "resistance_ohm": 0.004
    }  # fmt: skip
    answer = run("relay-retrofit", **body)
    assert answer.advice == "nothing_needed"
    costs = next(each for each in answer.reasons if each.code == "resistance_costs")
    assert costs.part == "main cable"
    assert costs.values["drop_v"] == pytest.approx(0.004 * 207, rel=0.03)


@pytest.mark.parametrize(
    ("rating_a", "verdict", "advice"), [(15, "pass", "relay"), (100, "fail", "unsafe")]
)
def test_a_wire_behind_a_fuse_that_feeds_others_too_is_judged_by_it(run, rating_a, verdict, advice):
    """The feed taken from a fuse box: a short behind it has that fuse to open, and no other."""
    body = starter(length_m=11, zone_c=120)
    box = [
        {**contact("box fuse", "fuse", 0.002, rating_a=rating_a), "nodes": ["post", "box"]},
        {**contact("other", "switch", 0.01, rating_a=10), "nodes": ["box", "elsewhere"]},
    ]
    body["circuit"]["branches"] += box
    body["proposal"]["feed_node"] = "box"
    body["proposal"]["feed"].pop(0)
    answer = run("relay-retrofit", **body)
    assert answer.advice == advice
    assert ("fuse_protection", "relay feed") in checked(answer, verdict)


def test_either_of_two_switches_may_rule_the_load(run):
    body = starter(length_m=11, zone_c=120)
    key = body["circuit"]["branches"][1]
    body["circuit"]["branches"].append({**key, "name": "button", "resistance_ohm": 0.01})
    assert run("relay-retrofit", **body).advice == "relay"


def test_what_mending_brings_is_no_perfect_part(run):
    answer = run("relay-retrofit", **headlamps(switch_ohm=0.2))
    mends = {each.name: each for each in answer.mend_first}
    assert mends["switch"].regained_v < mends["switch"].costs_v
    # A wire of its size and length is sound: nothing to regain.
    assert mends["to the lamps"].regained_v == 0 < mends["to the lamps"].costs_v
    # A sound switch drops 0.05 V of the 0.1 V that it may, at the current that flows with it:
    # 12.6 V over 1.31 ohm, 0.008 inside, 0.005 of joints, 0.0160 and 0.0169 of copper.
    rest_ohm = 1.31 + 0.008 + 0.005 + 0.0160 + 0.0169
    sound_ohm = 0.05 / (12.6 / rest_ohm)
    as_is_v, sound_v = (12.6 * 1.31 / (rest_ohm + ohm) for ohm in (0.2, sound_ohm))
    assert mends["switch"].sound_ohm == pytest.approx(sound_ohm, rel=0.01)
    assert mends["switch"].regained_v == pytest.approx(sound_v - as_is_v, rel=0.02)


def test_a_resistor_is_asked_about_and_not_mended(run):
    """A ballast of 0.9 ohm before a coil of 1.5 ohm is there by design."""
    coil = {"name": "coil", "kind": "resistance", "resistance_ohm": 1.5, "needed_v": 9}
    body = asked(
        wire("feed", "14 AWG", 2),
        contact("switch", "switch", 0.005, rating_a=20),
        {"name": "ballast", "kind": "resistance", "resistance_ohm": 0.9},
        coil,
        load=coil,
    )
    answer = run("relay-retrofit", **body)
    assert ("by_design", "ballast") in checked(answer, "unknown")
    assert answer.advice == "find_out_first"


def test_what_is_known_within_bounds_is_measured_first(run):
    # 12.6 V over 1.36 to 1.56 ohm: between 12.2 and 10.6 V, and 10.8 V are needed.
    body = headlamps(switch_ohm={"low": 0.0, "high": 0.2})
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first"
    measure = next(each for each in answer.reasons if each.code == "measure")
    assert measure.part == "switch"
    body = starter(length_m=11, zone_c=120)
    body["circuit"]["source"]["open_circuit_v"] = {"low": 11.5, "high": 12.8}
    answer = run("relay-retrofit", **body)
    assert (answer.advice, answer.reasons[0].code) == ("find_out_first", "measure")
    assert answer.reasons[0].part is None


def test_the_relay_is_said_to_be_needed_since_mending_does_not_do(run):
    answer = run("relay-retrofit", **starter(length_m=11, zone_c=120, switch=0.02))
    assert answer.advice == "relay"
    short = next(each for each in answer.reasons if each.code == "mend_leaves_little")
    assert short.part == "key switch"
    assert short.values["gain_v"] > 0


@pytest.mark.parametrize(("open_circuit_v", "said"), [(11.7, True), (12.5, False)])
def test_a_low_battery_is_named_first_whatever_is_advised(run, open_circuit_v, said):
    """Common practice: a battery with 11.7 V at rest is flat, and is charged before all else."""
    body = starter(length_m=20, zone_c=120)
    body["circuit"]["source"]["open_circuit_v"] = open_circuit_v
    answer = run("relay-retrofit", **body)
    assert (answer.reasons[0].code == "battery_low") == said
    assert ("charge it before anything else" in answer.headline) == (
        said and answer.advice != "battery_first"
    )
