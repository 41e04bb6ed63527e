"""A load that one contact does not serve is given as many as it takes.

Common practice, no source: each beam of headlamps has a relay, or the dip switch has nothing to
switch; a motor that turns both ways has two, which rest on ground; wipers park by a wire of theirs.
"""

import pytest

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


@pytest.mark.parametrize("load", ["horn", "fan", "pump", "heated_screen"])
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
