"""What a relay leaves as it is: mended first where it still carries much, else let be.

Common practice. Currents by hand: a coil of 90 ohm takes 0.13 A, and 0.04 V over 0.3 ohm.
"""

import copy

import pytest

from .retrofit_circuits import asked, contact, headlamps, wire

HORN = {"name": "horn", "kind": "resistance", "resistance_ohm": 2.0, "needed_v": 10.5}


def horn(ring_ohm):
    return asked(
        wire("feed", "14 AWG", 3),
        HORN,
        wire("to the column", "14 AWG", 2),
        contact("ring", "switch", ring_ohm, rating_a=8),
        load=HORN,
        switch="ring",
    )


def test_a_worn_ring_that_then_carries_a_coil_alone_stays(run):
    """0.3 ohm take 1.4 V of the horn's current, and 0.04 V of a coil's."""
    answer = run("relay-retrofit", **horn(0.3))
    works = {way.code: way.works for way in answer.ways}
    assert works["relay"]
    assert answer.advice in {"mend", "relay"}


def two_lamps(switch_ohm):
    """Headlamps, and spots of as much on the same switch, which stay there."""
    body = headlamps(switch_ohm=switch_ohm)
    first = next(b for b in body["circuit"]["branches"] if b["name"] == "switch")
    spots = {**copy.deepcopy(body["circuit"]["loads"][0]), "name": "spots"}
    body["circuit"]["loads"].append({**spots, "nodes": [first["nodes"][1], "ground"]})
    return body


def test_a_worn_switch_that_still_feeds_others_is_mended_first(run):
    """0.05 ohm drop 0.9 V of both, and half of it with the relay: four times a sound one."""
    answer = run("relay-retrofit", **two_lamps(0.05))
    assert answer.advice in {"mend", "mend_then_relay"}
    assert "switch" in answer.plan.parts
    assert ("contact_drop", "switch") in {
        (check.code, check.part) for check in answer.checks if check.verdict == "fail"
    }


@pytest.mark.parametrize(("at", "advice"), [("post", "mend_then_relay"), ("block", "relay")])
@pytest.mark.parametrize("ohm", [0.03, 0.3])
def test_a_poor_clamp_is_mended_though_the_relay_goes_round_it(run, ohm, at, advice):
    """The starter and the charge go through a clamp, whatever of them is given; not so a joint."""
    body = headlamps()
    joint = contact("clamp", "terminal", ohm if at == "post" else 0.0003, nodes=["post", "block"])
    other = contact("joint", "terminal", ohm if at != "post" else 0.0003, nodes=["block", "feed"])
    for branch in body["circuit"]["branches"]:
        branch["nodes"] = ["feed" if node == "post" else node for node in branch["nodes"]]
        if branch["name"] == "to the lamps":  # too thin, so that mending alone does not do
            branch.update(size="18 AWG", length_m=8)
    body["circuit"]["branches"] += [joint, other]
    body["proposal"]["feed_node"] = at
    answer = run("relay-retrofit", **body)
    assert answer.advice == advice
    assert ("clamp first" in answer.headline) == (at == "post")
    failed = {(check.code, check.part) for check in answer.checks if check.verdict == "fail"}
    assert (("contact_drop", "clamp") in failed) == (at == "post")


def test_a_rubbed_wire_is_taken_out_whatever_else_is_done(run):
    body = headlamps(switch_ohm=0.1)
    rubbed = next(b for b in body["circuit"]["branches"] if b["name"] == "switch")["nodes"][1]
    rub = contact("rub", "terminal", 2.0, nodes=[rubbed, "ground"])
    body["circuit"]["branches"].append(rub)
    answer = run("relay-retrofit", **body)
    assert (answer.burns.code, answer.burns.part) == ("short", "rub")
    shorts = {check.part for check in answer.checks if check.code == "short"}
    assert shorts == {"rub"}
    assert "rub: it joins the live side to the ground" in answer.headline


def solenoid(rating_a):
    """Both windings take some 30 A until the plunger is home, and 10 A after."""
    windings = {
        "pull_in_turns": 190, "pull_in_resistance_ohm": 0.55, "hold_in_turns": 190,
        "hold_in_resistance_ohm": 1.5, "ampere_turns": 2800, "hold_ampere_turns": 480,
    }  # fmt: skip
    starter = {"name": "solenoid", "kind": "solenoid", "circuit": "starter_control",
               "windings": windings}  # fmt: skip
    return asked(
        wire("feed", "8 AWG", 2),
        contact("key", "switch", 0.002, rating_a=rating_a),
        wire("to 50", "8 AWG", 2),
        starter,
        load=starter,
        switch="key",
        kind="solenoid",
        fuse_a=30,
        case={"duration_s": 10},
    )


def test_a_key_that_closes_on_both_windings_is_no_reason_for_a_relay(run):
    answer = run("relay-retrofit", **solenoid(25))
    assert answer.advice in {"nothing_needed", "insurance"}


def test_a_fuse_that_its_load_overcharges_is_no_reason_for_a_relay(run):
    """A pump that is stuck takes 12 A behind its 10 A: the relay's larger fuse feeds that on."""
    pump = {"name": "pump", "kind": "motor", "resistance_ohm": 1.0, "back_v": 0, "needed_v": 9}
    body = asked(
        contact("pump fuse", "fuse", 0.003, rating_a=10),
        wire("feed", "12 AWG", 2),
        contact("ignition", "switch", 0.003, rating_a=20),
        wire("to the pump", "12 AWG", 2),
        pump,
        load=pump,
        switch="ignition",
        kind="motor",
    )
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first"
    assert "pump fuse" in answer.headline
    assert "should draw so much" in answer.headline


def test_beside_an_unfit_relay_what_would_do_is_said(run):
    sound = headlamps(relay={"make_rating_a": 20})
    answer = run("relay-retrofit", **sound)
    assert answer.advice == "unsafe"
    assert "Nor is a relay needed" in answer.headline
    worn = headlamps(switch_ohm=0.08, relay={"make_rating_a": 20})
    answer = run("relay-retrofit", **worn)
    assert answer.advice == "unsafe"
    assert "Without a relay, with switch clean, tight or new," in answer.headline


@pytest.mark.parametrize("name", ["switch", "plug", "lamp ground"])
@pytest.mark.parametrize("ohm", [20.0, 900.0])
def test_an_open_contact_is_mended_and_not_gone_round(run, name, ohm):
    body = headlamps()
    part = next(b for b in body["circuit"]["branches"] if b["name"] == name)
    part["resistance_ohm"] = ohm
    lamps = body["circuit"]["loads"][0]
    body["circuit"]["loads"][0] = {
        "name": lamps["name"], "nodes": lamps["nodes"], "needed_v": 10.8,
        "kind": "lamp", "rated_power_w": 110, "rated_v": 12,
    }  # fmt: skip
    answer = run("relay-retrofit", **body)
    assert (answer.advice, answer.plan.parts) == ("mend", (name,))


@pytest.mark.parametrize("ohm", [3.0, 50.0])
def test_an_open_contact_hides_no_second_one(run, ohm):
    """With the switch mended the ground's 0.1 ohm cost 0.8 V: both are to be seen to, no relay."""
    answer = run("relay-retrofit", **headlamps(switch_ohm=ohm, ground_ohm=0.1))
    assert answer.advice == "mend"
    assert set(answer.plan.parts) == {"switch", "lamp ground"}
