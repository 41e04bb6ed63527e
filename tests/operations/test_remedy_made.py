"""Ways that are made, and which is taken where none leaves much: by what a mechanic would do."""

import pytest

from .retrofit_circuits import asked as one_load
from .retrofit_circuits import contact, headlamps, lamps, told, wire
from .test_remedy_choice import asked, checked, named, relay_of

DIM = {"name": "headlamps", "kind": "resistance", "resistance_ohm": 0.4, "needed_v": 5.66}


def two_wire(**more):
    """A trailer without a metal body: as thin on the way back as on the way out."""
    load = lamps()
    return one_load(
        wire("out", "16 AWG", 14),
        contact("switch", "switch", 0.005, rating_a=20),
        wire("onward", "16 AWG", 2),
        load,
        wire("back", "16 AWG", 16),
        load=load,
        rest_v=12.6,
        **more,
    )


def test_thin_wires_out_and_back_are_all_replaced(run):
    """24 m of 16 AWG at 9 A lose 2.9 V; twelve of them new leave 1.5 V, all of them new 0.5 V."""
    body = two_wire()
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "mend"
    assert sorted(each.part for each in answer.plan) == ["back", "onward", "out"]
    sizes = {step.part: {"size": step.size} for step in answer.plan}
    assert answer.chosen.load_voltage_v == pytest.approx(checked(run, body, **sizes), rel=1e-9)
    assert all(f"{part} ({each['size']})" in answer.headline for part, each in sizes.items())


@pytest.mark.parametrize(("switch_ohm", "first"), [(0.3, "mend"), (0.03, "new_wire")])
def test_what_takes_most_comes_first(run, switch_ohm, first):
    """Each of three 8 m of 16 AWG takes about 1 V; a switch of 0.3 ohm more, one of 0.03 less."""
    body = two_wire()
    named(body, "switch")["resistance_ohm"] = switch_ohm
    answer = run("remedy-choice", **asked(body))
    codes = [step.code for step in answer.plan]
    assert codes[0] == first
    assert {*codes} <= {"mend", "new_wire"}
    assert "new_wire" in codes


def test_one_thin_wire_is_replaced_alone(run):
    body = headlamps()
    named(body, "to the lamps").update(size="18 AWG", length_m=8)
    answer = run("remedy-choice", **asked(body))
    assert [(step.code, step.part) for step in answer.plan] == [("new_wire", "to the lamps")]


def test_a_relay_with_a_thin_way_back_gets_that_new_too(run):
    """With the relay 12 m of 16 AWG are left, 1.5 V: a new way back, or all wires new, is enough.

    The relay with a new way back is one more of the ways.
    """
    body = two_wire()
    answer = run("remedy-choice", **asked(body, relay_of(body)))
    both = [each for each in answer.options if each.relay and each.new]
    assert [each.new[0].startswith("back (") for each in both] == [True]
    assert both[0].works
    assert "back" in answer.headline


def dim(**more):
    """Lamps of 6 V over two joints that are a little poor, and thin wires."""
    return one_load(
        wire("feed", "14 AWG", 0.5),
        contact("switch", "switch", 0.02, rating_a=25),
        wire("lamp wire", "16 AWG", 1.9),
        DIM,
        contact("lamp ground", "ground", 0.02),
        load=DIM,
        volts=6,
        rest_v=6.3,
        inside_ohm=0.006,
        **more,
    )


def test_of_ways_that_leave_little_the_one_that_leaves_clearly_more_is_taken(run):
    """0.06 V to spare is a bulb from being dark; a new wire beside it leaves six times as much."""
    answer = run("remedy-choice", **asked(dim()))
    assert answer.advice == "mend"
    assert not any(each.works for each in answer.options)
    enough = [each for each in answer.options if each.margin_v > 0]
    assert enough[0].margin_v < 0.1
    assert answer.chosen.margin_v > enough[0].margin_v + 0.2
    assert [step.code for step in answer.plan] == ["new_wire", "mend", "mend"]


def test_what_fails_bars_a_way_before_what_is_little(run):
    """A larger wire lets 16 A through a fuse of 15 A: the fuse bars it, not a small margin."""
    body = headlamps()
    named(body, "switch")["resistance_ohm"] = 0.005
    named(body, "to the lamps").update(size="16 AWG", length_m=6)
    named(body, "feed").update(size="16 AWG", length_m=2)
    old = named(body, "switch")
    fuse = contact("lamp fuse", "fuse", 0.003, rating_a=15) | {"nodes": [old["nodes"][0], "fused"]}
    old["nodes"][0] = "fused"
    body["circuit"]["branches"].append(fuse)
    ends = body["circuit"]["loads"][0]["nodes"]
    spots = {"name": "spots", "kind": "resistance", "resistance_ohm": 1.8, "nodes": ends}
    body["circuit"]["loads"].append(spots)
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "none_suffices"
    assert (answer.barred_by.code, answer.barred_by.verdict) == ("fuse_load", "fail")
    assert answer.barred_by.message in answer.headline
    assert "small" not in answer.headline


@pytest.mark.parametrize("ohm", [0.1, 0.12])
def test_a_worn_switch_that_cannot_be_had_is_no_sound_one(run, ohm):
    """It drops 0.9 V where a sound one drops 0.1 V: the textbook case for a relay."""
    body = headlamps(switch_ohm=ohm)
    answer = run("remedy-choice", **asked(body), not_to_be_had=["switch"])
    assert answer.advice == "none_suffices"
    assert answer.verdict == "fail"
    (bar,) = [each for each in answer.checks if each.code == "contact_drop"]
    assert (bar.part, bar.verdict) == ("switch", "fail")
    assert (answer.barred_by.code, answer.barred_by.part) == ("contact_drop", "switch")
    assert answer.barred_by.message in answer.headline
    assert "clean" not in bar.message + answer.headline
    assert "No relay is among the ways" in answer.headline
    assert "worn_contact" not in told(answer)
    fitted = run("remedy-choice", **asked(body, relay_of(body)), not_to_be_had=["switch"])
    assert fitted.advice == "relay"


def test_a_switch_that_burns_and_cannot_be_had_is_not_to_be_cleaned(run):
    answer = run("remedy-choice", **asked(headlamps(switch_ohm=0.3)), not_to_be_had=["switch"])
    assert answer.burns.part == "switch"
    assert "clean" not in answer.headline


def test_a_blown_fuse_is_not_just_renewed(run):
    """Nearly all of 12.6 V stand across it: it has opened, and a new one opens, too."""
    body = headlamps()
    old = named(body, "switch")
    fuse = contact("lamp fuse", "fuse", 1000, rating_a=15) | {"nodes": [old["nodes"][0], "fused"]}
    old["nodes"][0] = "fused"
    body["circuit"]["branches"].append(fuse)
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "mend"
    assert "Find out why lamp fuse blew" in answer.headline
    fuse["resistance_ohm"] = 0.1  # its holder is dirty, and it carries the lamps
    dirty = run("remedy-choice", **asked(body))
    assert dirty.advice == "mend"
    assert "blew" not in dirty.headline


def test_of_a_ground_that_cannot_be_had_no_relay_is_promised(run):
    """It lies behind the load: whatever feeds that, its ground takes as much."""
    body = headlamps(ground_ohm=0.15)
    answer = run("remedy-choice", **asked(body), not_to_be_had=["lamp ground"])
    assert (answer.barred_by.code, answer.barred_by.part) == ("contact_drop", "lamp ground")
    assert "No relay is among the ways" not in answer.headline
    assert "a ground of its own" in answer.headline
