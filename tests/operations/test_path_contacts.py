"""Fuses and switches in a path: what is wrong with them, and what is not."""

import pytest

FUSE = {"kind": "contact", "name": "main fuse", "part": "fuse", "resistance_ohm": 0.002}


def drop(run, *segments, **fields):
    asked = {"supply_v": 12.5, "circuit": "continuous", "segments": list(segments), **fields}
    return run("voltage-drop", **asked)


def the(found, code):
    return next(check for check in found.checks if check.code == code)


# A fuse carries three quarters of its rating without end, and at most all of it.
@pytest.mark.parametrize(
    ("load_a", "verdict"),
    [(10, "pass"), (10.8, "marginal"), (14.5, "marginal"), (15, "marginal"), (15.1, "fail")],
)
def test_a_fuse_is_held_to_its_share(run, load_a, verdict):
    found = drop(run, {**FUSE, "rating_a": 15}, load_current_a=load_a)
    check = the(found, "fuse_load")
    assert (check.verdict, check.limit) == (verdict, 11.25)
    assert "contact_current" not in {each.code for each in found.checks}
    assert "ages" not in check.message or 11.25 < load_a <= 15


def test_a_fuse_that_opens_is_no_call_for_a_larger_one(run):
    found = drop(run, {**FUSE, "rating_a": 30}, load_current_a=40)
    said = the(found, "fuse_load").message
    assert "it opens sooner or later. Look for what draws so much" in said
    assert "a larger fuse only if the wire bears it" in said
    assert "larger part" not in said
    assert "relay" not in said
    assert the(found, "fuse_load").is_harmful
    assert found.headline.startswith(said)


def test_a_fuse_carries_its_rating_for_a_while(run):
    found = drop(run, {**FUSE, "rating_a": 15}, load_current_a=13, duration_s=10)
    assert (the(found, "fuse_load").verdict, the(found, "fuse_load").limit) == ("pass", 15)


SWITCH = {"kind": "contact", "name": "key", "part": "switch", "rating_a": 15}


# 5 mohm drop 0.075 V at 15 A: sound. 20 mohm drop 0.3 V there: worn.
@pytest.mark.parametrize(
    ("ohm", "load_a", "drops"),
    [(0.005, 25, None), (0.02, 25, "fail"), (0.005, 10, "pass"), (0.02, 10, "fail")],
)
def test_a_sound_switch_that_carries_too_much_is_not_called_worn(run, ohm, load_a, drops):
    found = drop(run, {**SWITCH, "resistance_ohm": ohm}, load_current_a=load_a)
    judged = {check.code: check.verdict for check in found.checks}
    assert judged.get("contact_drop") == drops
    assert judged["contact_current"] == ("fail" if load_a > 15 else "pass")
    assert ("clean, tighten" in str([each.message for each in found.checks])) == (drops == "fail")


def test_a_contact_that_drops_much_may_be_too_small(run):
    key = {"kind": "contact", "name": "key", "part": "switch", "measured_v": 0.2}
    found = run("drop-diagnosis", current_a=27, readings=[key], nominal_v=12, circuit="continuous")
    said = next(check.message for check in found.checks if check.code == "contact_drop")
    assert "it is poor, or too small. Clean, tighten or replace the switch." in said


# 18 AWG, at 40 degC, bears some 24 A, 14 AWG some 37 A; a fuse is sure to open at 1.35 times.
@pytest.mark.parametrize(
    ("size", "rating_a", "verdict"),
    [("18 AWG", 100, "fail"), ("18 AWG", 60, "fail"), ("14 AWG", 60, "fail"),
     ("18 AWG", 30, "marginal"), ("18 AWG", 15, None), ("10 AWG", 30, None)],
)  # fmt: skip
def test_a_fuse_too_large_for_its_wire_is_not_passed_in_silence(run, size, rating_a, verdict):
    """No voltage tells that the wire burns first."""
    thin = {"kind": "wire", "name": "feed", "size": size, "length_m": 2,
            "insulation": "GXL", "ambient_c": 40}  # fmt: skip
    fuse = {**FUSE, "rating_a": rating_a}
    found = drop(run, fuse, thin, load_current_a=5)
    told = [each for each in found.checks if each.code == "fuse_protects_wire"]
    assert [each.verdict for each in told] == ([verdict] if verdict else [])
    if verdict == "fail":
        assert found.headline.startswith(told[0].message)
    # What lies before it a fuse does not protect at all.
    before = drop(run, thin, fuse, load_current_a=5)
    assert "fuse_protects_wire" not in {each.code for each in before.checks}
    assert any("ask fuse-selection" in caution for caution in found.cautions)


# No 14 AWG bears 80 A, no 18 AWG 40 A, wherever it lies; 20 A some 16 AWG.
@pytest.mark.parametrize("told", [{}, {"temperature_c": 40}])
@pytest.mark.parametrize(
    ("size", "load_a", "verdict"),
    [("14 AWG", 80, "fail"), ("18 AWG", 40, "fail"), ("16 AWG", 20, "unknown")],
)
def test_a_wire_that_burns_anywhere_needs_no_surroundings(run, size, load_a, verdict, told):
    wire = {"kind": "wire", "name": "a", "size": size, "length_m": 0.3, **told}
    found = drop(run, wire, load_current_a=load_a)
    assert the(found, "wires_heat").verdict == found.verdict == verdict
    assert ("even alone in cool air" in the(found, "wires_heat").message) == (verdict == "fail")
    brief = drop(run, wire, load_current_a=load_a, circuit="intermittent")
    assert the(brief, "wires_heat").verdict == "unknown"


KEY = {"kind": "contact", "name": "key", "part": "switch", "resistance_ohm": 0.003}
LEAD = {"kind": "wire", "name": "lead", "size": "10 AWG", "length_m": 2, "temperature_c": 20}


# A plunger moves within tenths of a second. 12.4 V on 0.39 ohm: some 30 A through a key of 25 A.
@pytest.mark.parametrize("part", ["switch", "relay"])
@pytest.mark.parametrize(
    ("more", "verdict"),
    [
        ({"rating_a": 25}, "marginal"),
        ({"rating_a": 40}, "pass"),
        ({"rating_a": 14}, "fail"),  # twice its rating and more
        ({"rating_a": 25, "duration_s": 10}, "fail"),  # held so long
        ({"rating_a": 25, "needed_v": 12.3}, "fail"),  # it sticks, and draws as much till let go
        ({"rating_a": 25, "circuit": "continuous"}, "fail"),
        ({"rating_a": 25, "circuit": "continuous", "duration_s": 0.5}, "marginal"),
    ],
)
def test_a_key_bears_a_plunger_for_its_moment(run, part, more, verdict):
    asked = {"supply_v": 12.4, "circuit": "starter_control", "load_resistance_ohm": 0.39, **more}
    key = {**KEY, "part": part, "rating_a": asked.pop("rating_a")}
    check = the(drop(run, key, LEAD, **asked), "contact_current")
    assert check.verdict == verdict
    assert ("for a moment" in check.message) == (verdict == "marginal")
    if verdict == "fail":
        assert ("with a relay" in check.message) == (part != "relay")


# Common practice: 10 W for minutes char plastic, 30 W a post of lead. By hand, amperes squared
# times ohms: a fuse holder of 30 mohm at 50 A makes 75 W, a plug of 0.1 ohm at 15 A 22 W.
@pytest.mark.parametrize(
    ("part", "ohm", "load_a", "more", "hot"),
    [("fuse", 0.03, 50, {}, True), ("connector", 0.1, 15, {}, True), ("ground", 0.1, 15, {}, False),
     ("connector", 0.1, 5, {}, False), ("connector", 0.1, 15, {"duration_s": 5}, False)],
)  # fmt: skip
def test_a_contact_that_chars_its_holder_is_told_first(run, part, ohm, load_a, more, hot):
    poor = {"kind": "contact", "name": "x", "part": part, "resistance_ohm": ohm, "rating_a": 100}
    found = drop(run, poor, load_current_a=load_a, limit_drop_v=3, **more)
    assert ("contact_heat" in {each.code for each in found.checks}) == hot
    if hot:
        check = the(found, "contact_heat")
        assert found.headline.startswith(check.message)
        assert check.value == pytest.approx(load_a**2 * ohm)
        assert "before it is used again" in check.message
