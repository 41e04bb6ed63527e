"""A load that one contact does not serve is given as many as it takes.

Common practice, no source: each beam of headlamps has a relay, or the dip switch has nothing to
switch; a motor that turns both ways has two, which rest on ground; wipers park by a wire of theirs.
"""

import json

import pytest

from lastvolt_service.api.answers import to_json

QUICK = "quick-answer"
WORN = {"system_v": 12, "wear": "very_old", "fails": "always", "switch_to_be_had": False}


@pytest.mark.parametrize(
    ("load", "code", "said"),
    [
        ("headlamps", "relay", "for dipped and one for main beam"),
        ("power_window", "relay", "to 87 of both, ground to 87a of both"),
        ("wipers", "relay", "may overrun behind a plain relay"),
        ("winch", "rewire", "a set that reverses it"),
    ],
)
def test_new_contacts_serve_all_that_the_old_switch_did(run, load, code, said):
    worn = {**WORN, "wear": "used", "switch_to_be_had": True} if load == "winch" else WORN
    steps = [e for e in run(QUICK, **worn, load=load, distance_m=4).plan if e.code == code]
    assert steps
    assert all(said in each.message for each in steps)


@pytest.mark.parametrize("load", ["horn", "fan", "blower", "pump", "heated_screen"])
def test_a_load_that_one_relay_serves_gets_one(run, load):
    steps = [e for e in run(QUICK, **WORN, load=load, distance_m=4).plan if e.code == "relay"]
    assert steps
    assert not any(said in e.message for e in steps for said in ("beam", "87a", "speed", "set"))


def test_a_wire_drawn_by_way_of_the_switch_needs_no_second_contact(run):
    """The switch that is there goes on doing what it does."""
    body = {"system_v": 12, "load": "power_window", "distance_m": 3, "wear": "old"}
    step = run(QUICK, **body, fails="cold").plan[-1]
    assert step.code == "rewire"
    assert "87a" not in step.message


@pytest.mark.parametrize(("distance_m", "last"), [(4, "rewire"), (11, "relay")])
def test_far_from_the_battery_a_starter_gets_a_relay_at_its_cable(run, distance_m, last):
    """Common practice: nobody draws 11 m through key and loom where the heavy cable is at hand."""
    body = {"system_v": 24, "load": "starter_solenoid", "wear": "used", "fails": "hot"}
    assert run(QUICK, **body, distance_m=distance_m).plan[-1].code == last


def sheet_of(run, load, **more):
    """The sheet for the relay that a quick answer proposes, as a caller goes on with it."""
    full = json.loads(to_json(run(QUICK, **(WORN | more), load=load, distance_m=4)))["request"]
    full = _without_nulls(full)
    kept = {key: full[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    return run("work-sheet", **kept, proposal=full["ways"][0]["relay"])


def _without_nulls(found):
    if isinstance(found, dict):
        return {key: _without_nulls(each) for key, each in found.items() if each is not None}
    return [_without_nulls(each) for each in found] if isinstance(found, list) else found


@pytest.mark.parametrize(("load", "each"), [("headlamps", "beam"), ("wipers", "speed")])
def test_a_sheet_says_which_of_several_relays_it_shows(run, load, each):
    """Before any work, on the line of the relay that is bought, and in the first line."""
    sheet = sheet_of(run, load)
    assert sheet.sheet == "ready"
    first = next(e for e in sheet.order if e.code != "advice_first")
    assert first.code == f"shows_one_{each}"
    assert f"for one {each}" in sheet.headline
    bought = {e.code: e.text for e in sheet.parts}
    for code in ("relay", "relay_socket", "fuse", "fuse_holder"):
        assert f"One for each {each}" in bought[code]


@pytest.mark.parametrize(
    ("load", "more"),
    [("power_window", {}), ("winch", {"current_a": 20, "wear": "old", "switch_to_be_had": True})],
)
def test_no_sheet_draws_a_plain_relay_for_a_motor_that_turns_both_ways(run, load, more):
    """Its lead for the other direction is grounded by the switch, and would come off the motor."""
    sheet = sheet_of(run, load, **more)
    assert sheet.sheet == "not_safe"
    assert sheet.missing[0].code == "turns_both_ways"
    assert "87a of both" in sheet.headline
    assert not sheet.wiring


def test_a_sheet_for_a_load_that_one_relay_serves_tells_of_one(run):
    sheet = sheet_of(run, "fan")
    assert sheet.sheet == "ready"
    assert not any(each.code.startswith("shows_one") for each in sheet.order)
    assert not any("One for each" in each.text for each in sheet.parts)


def test_a_zone_is_written_as_one_says_it(run):
    (mount,) = [e.text for e in sheet_of(run, "headlamps").order if e.code == "mount"]
    assert mount.endswith("Its zone: engine bay.")


@pytest.mark.parametrize("load", ["glow_plugs", "winch"])
def test_of_what_no_sheet_shows_the_wiring_is_told(run, load):
    """A contactor has two studs and two small terminals: whoever has no sheet must know which."""
    plan = run("quick-answer", system_v=12, load=load, distance_m=3, wear="old", fails="cold").plan
    drawn = next(each for each in plan if each.code == "rewire")
    if load == "winch":
        assert "go by its maker's diagram" in drawn.message
        return
    assert "No work sheet shows a contactor" in drawn.message
    said = drawn.message[drawn.message.index("Wire it so") :]
    assert said.index("fuse to one stud") < said.index("to glow plugs") < said.index("old wire to")
