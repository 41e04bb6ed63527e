"""What a reading shows with a relay that is wired wrong, and what a plan judges of a relay."""

import numpy as np
import pytest

from .measured_vehicles import stamp
from .planned import (
    COIL,
    FUSE,
    GROUND,
    INSIDE,
    LAMP,
    NEW_CONTACT,
    NEW_FUSE,
    SWITCH,
    WIRE_OHM,
    as_plan,
    by,
    lamp,
    plan,
)
from .test_work_sheet import horn, positive_ground

OPEN = 1e9
# Every part of the lamp with its relay, by hand: name, nodes, ohms.
RIGHT = {
    "lamp fuse": ("post", "n1", FUSE),
    "dash switch": ("n1", "n2", SWITCH),
    "to the lamp": ("n2", "n3", WIRE_OHM),
    "new fuse": ("post", "30", NEW_FUSE),
    "contact": ("30", "87", NEW_CONTACT),
    "coil": ("n3", "n4", COIL),
    "lamp": ("87", "n4", LAMP),
    "lamp ground": ("n4", "ground", GROUND),
}
FAULTS = {
    "coil_swapped": {"contact": ("n3", "87", NEW_CONTACT), "coil": ("30", "n4", COIL)},
    "old_wire_left_on": {"left on": ("n3", "87", 0.001)},
    "fed_from": {"new fuse": ("n2", "30", NEW_FUSE)},
    "coil_not_switched": {"coil": ("30", "n4", COIL)},
    "does_not_close": {"coil": ("n3", "n4", OPEN), "contact": ("30", "87", OPEN)},
}
SWITCHED_OFF = {"dash switch": ("n1", "n2", OPEN)}


def solved(change):
    """Volts of the nodes and amperes of the parts of a circuit with a fault, by Kirchhoff."""
    parts = RIGHT | change
    names = list(dict.fromkeys(["ground", *(n for a, b, _ in parts.values() for n in (a, b))]))
    matrix, right = np.zeros((len(names), len(names))), np.zeros(len(names))
    for first, second, ohm in parts.values():
        stamp(matrix, names.index(first), names.index(second), 1.0 / ohm)
    post = names.index("post")
    stamp(matrix, post, 0, 1.0 / INSIDE)
    right[post] += 12.0 / INSIDE
    volts = np.zeros(len(names))
    volts[1:] = np.linalg.solve(matrix[1:, 1:], right[1:])
    at = dict(zip(names, volts.tolist(), strict=True))
    return at, {name: (at[a] - at[b]) / ohm for name, (a, b, ohm) in parts.items()}


def shown(answer, code, fault, part=None, node=None):
    """What a reading of a plan is said to show with a fault; None where that is not told apart."""
    return next(
        (
            each["shows"]
            for each in by(answer, code, part)["wired_wrong"]
            if each["code"] == fault and node in {None, each["node"]}
        ),
        None,
    )


@pytest.mark.parametrize("fault", FAULTS)
def test_each_fault_of_the_wiring_is_told_with_what_it_shows(fault):
    answer = plan(lamp())
    volts, amps = solved(FAULTS[fault])
    right_v, right_a = solved({})
    node = "n2" if fault == "fed_from" else None
    for code, part, exact, right in (
        ("across_switch", None, volts["n1"] - volts["n2"], right_v["n1"] - right_v["n2"]),
        ("across_part", "to the lamp", volts["n2"] - volts["n3"], right_v["n2"] - right_v["n3"]),
        ("across_load", None, volts["87"] - volts["n4"], right_v["87"] - right_v["n4"]),
        ("through_part", "to the lamp", amps["to the lamp"], right_a["to the lamp"]),
    ):
        found = shown(answer, code, fault, part, node)
        apart = abs(exact - right)
        if apart > 0.26 * max(abs(exact), abs(right)):
            assert found == pytest.approx(exact, rel=1e-6, abs=1e-6), code
        elif apart < 0.1 and apart < 0.24 * max(abs(exact), abs(right)):
            assert found is None, code


@pytest.mark.parametrize("fault", ["coil_swapped", "fed_from"])
def test_a_sound_switch_is_not_called_worn_where_the_relay_is_wired_wrong(fault):
    """It drops as much as before: what he sees first is how the relay is wired."""
    answer = plan(lamp())
    found = by(answer, "across_switch")
    reads_v = shown(answer, "across_switch", fault)
    assert reads_v > found["with_way"]["high"]
    more = found["means_if_more_with_way"]
    assert more.index("See first how lamp relay is wired") < more.index("is worn or dirty")
    assert "coil and contact of lamp relay are changed about" in more
    assert "the feed is taken from n2 and not from post" in more
    assert found["means_if_more"] == "dash switch is worn or dirty: clean it or renew it."
    clamp = by(answer, "through_part", "to the lamp")["means_if_more_with_way"]
    assert "coil and contact" in clamp
    assert "the old wire is on reading lamp still" in clamp


def test_at_the_relay_the_leads_are_at_what_is_marked_there():
    """Changed about, the old wire is on 30: over the contact there is no more than before."""
    volts, _ = solved(FAULTS["coil_swapped"])
    answer = plan(lamp())
    assert shown(answer, "across_contact", "coil_swapped") is None
    found = shown(answer, "new_feed", "coil_swapped")
    assert found == pytest.approx(volts["post"] - volts["n3"])
    assert shown(answer, "across_contact", "does_not_close") == pytest.approx(12.0, abs=1e-6)


def test_with_the_switch_open_again_the_load_is_read_once_more():
    """A relay that holds itself by the old wire, or is not switched at all, shows there alone."""
    answer = plan(lamp())
    found = by(answer, "switched_off")
    assert found == answer["readings"][-1]
    assert (found["as_is"], found["with_way"]["usual"], found["on"]) == (None, 0.0, [])
    assert -0.03 < found["with_way"]["low"] < 0 < found["with_way"]["high"] < 0.03
    for fault in ("old_wire_left_on", "coil_not_switched"):
        volts, _ = solved(FAULTS[fault] | SWITCHED_OFF)
        reads_v = shown(answer, "switched_off", fault)
        assert reads_v == pytest.approx(volts["87"] - volts["n4"], rel=1e-6)
        assert reads_v > 11
    for fault in ("coil_swapped", "does_not_close"):
        assert shown(answer, "switched_off", fault) is None
    assert "ground off the battery first" in found["means_if_more_with_way"]
    without = by(plan(lamp(way=False)), "switched_off")
    assert (without["as_is"]["usual"], without["with_way"]) == (0.0, None)


def test_a_coil_past_a_switch_in_the_ground_lead_is_not_switched_either():
    body = as_plan(horn())
    reads_v = shown(plan(body), "switched_off", "coil_not_switched")
    assert reads_v == pytest.approx(by(plan(body), "across_load")["with_way"]["usual"], rel=0.01)


def test_without_a_relay_nothing_is_said_of_one():
    for each in plan(lamp(way=False))["readings"]:
        assert each["wired_wrong"] == []
        assert each["means_if_more_with_way"] is None
        assert each["sound_with_way"] is None


def checks(answer):
    return {each["code"]: each for each in answer["checks"] if each["way"] == "proposed"}


def test_a_relay_that_cannot_close_fails_its_plan():
    body = lamp()
    body["way"]["relay"]["pick_up_v"] = 13.9
    answer = plan(body)
    assert answer["verdict"] == "fail"
    found = checks(answer)
    assert found["relay_closes"]["verdict"] == "fail"
    assert "does not close in evening" in found["relay_closes"]["message"]
    assert (found["load_voltage"]["verdict"], found["load_voltage"]["value"]) == ("fail", 0.0)
    for code in ("across_load", "across_contact", "across_coil"):
        sound = by(answer, code)["sound_with_way"]
        assert sound["given"] == "poor"
        assert "as it is described it may not be so" in sound["text"]
    assert checks(plan(lamp()))["relay_closes"]["verdict"] == "pass"


def test_a_relay_that_closes_at_some_ends_only_is_undecided():
    body = lamp(switch={"low": 0.01, "high": 90.0})
    found = checks(plan(body))["relay_closes"]
    assert found["verdict"] == "undecided"
    assert "may be" in found["message"]


def test_a_relay_for_another_voltage_fails_its_plan():
    answer = plan(lamp(emf=25.0, needed_v=20.0))
    assert answer["verdict"] == "fail"
    assert checks(answer)["relay_voltage"]["verdict"] == "fail"
    assert "lower voltage" in checks(answer)["relay_voltage"]["message"]


def test_a_feed_from_behind_the_switch_spares_nothing():
    body = lamp()
    body["way"]["feed_node"] = "n2"
    found = checks(plan(body))["switch_spared"]
    assert found["verdict"] == "fail"
    _, amps = solved(FAULTS["fed_from"])
    assert found["value"] == pytest.approx(amps["dash switch"])
    assert "switch_spared" not in checks(plan(lamp()))


def test_that_the_way_itself_is_not_judged_is_said_first_and_listed():
    """Whether wires and fuse bear it is for relay-retrofit: a plan says so, whatever they are."""
    answer = plan(lamp())
    assert [each["code"] for each in answer["not_judged"]] == ["way_built"]
    assert "relay-retrofit" in answer["not_judged"][0]["message"]
    assert answer["way_message"] in answer["headline"]
    assert answer["verdict"] == "unknown"
    answer = plan(lamp(way=False, needed_v=8.0))
    assert (answer["not_judged"], answer["way_message"]) == ([], None)
    assert answer["verdict"] == "pass"


def test_with_positive_ground_the_load_has_the_volts_that_a_meter_shows():
    right, left = plan(lamp(way=False)), plan(positive_ground(lamp(way=False)))
    assert left["at_load"] == right["at_load"]
    assert left["headline"] == right["headline"]
    body = positive_ground(lamp(way=False))
    body["circuit"]["loads"][0]["nodes"].reverse()
    assert plan(body)["at_load"]["low_v"] == pytest.approx(right["at_load"]["low_v"])


def test_nothing_is_read_with_both_leads_at_one_place():
    """A relay on the ground side brings the load to the body: no way back is left to read."""
    answer = plan(as_plan(horn()))
    for each in answer["readings"]:
        for nodes in (each["between"], each["between_with_way"]):
            assert not nodes or nodes[0] != nodes[1]
    found = by(answer, "ground_side")
    assert (found["between_with_way"], found["with_way"]) == ([], None)
    assert found["as_is"] is not None


def test_only_what_has_a_winding_is_said_to():
    assert "winding" not in by(plan(lamp(way=False)), "through_part")["means_if_more"]
    copper = plan(lamp(way=False, copper=True))
    assert "a winding of reading lamp" in by(copper, "through_part")["means_if_more"]
