"""The order of a plan: one walk a case from the battery along the wiring and back."""

import copy

import pytest

from .planned import as_plan, by, example, lamp, plan, starter
from .retrofit_circuits import headlamps
from .test_work_sheet import horn

WALKS = {
    "lamp": (lamp, [
        "at_rest", "supply", "lamp fuse", "dash switch", "to the lamp", "new_feed", "across_coil",
        "across_contact", "live_side", "across_load", "clamp to the lamp", "lamp ground",
        "switched_off",
    ]),
    "starter": (starter, [
        "at_rest", "supply", "cranking", "lamp fuse", "dash switch", "to the lamp", "live_side",
        "across_load", "clamp to the lamp", "lamp ground", "switched_off",
    ]),
    "the coach": (example, 2 * [
        "at_rest", "supply", "cranking", "key fuse", "feed to key switch", "key switch",
        "wire to the rear", "new_feed", "across_coil", "across_contact", "live_side",
        "across_load", "clamp wire to the rear", "clamp relay to solenoid", "engine strap",
        "switched_off",
    ]),
    "lamps": (lambda: as_plan(headlamps()), [
        "at_rest", "supply", "feed", "switch", "plug", "to the lamps", "new_feed", "across_coil",
        "across_contact", "live_side", "across_load", "clamp to the lamps", "clamp relay to load",
        "lamp ground", "switched_off",
    ]),
    # A ring in the ground lead: the way back leads through it, and the relay grounds the horns.
    "horn": (lambda: as_plan(horn()), [
        "at_rest", "supply", "horn fuse", "to the horns", "new_feed", "across_coil",
        "across_contact", "live_side", "across_load", "clamp to the horns", "clamp relay to load",
        "ground_side", "from the horns", "horn ring", "switched_off",
    ]),
}  # fmt: skip


@pytest.mark.parametrize("name", WALKS)
def test_one_walk_leads_from_the_battery_along_the_wiring_and_back(name):
    make, expected = WALKS[name]
    answer = plan(make())
    named = {"across_part", "across_switch"}
    walked = [
        each["part"] if each["code"] in named
        else f"clamp {each['clamp']}" if each["clamp"]
        else each["code"]
        for each in answer["readings"]
    ]  # fmt: skip
    assert walked == expected
    assert [each["number"] for each in answer["readings"]] == list(range(1, len(walked) + 1))


def test_the_coldest_case_comes_first_and_each_is_one_walk():
    body = example()
    body["cases"].reverse()
    answer = plan(body)
    assert [each["case"] for each in answer["rounds"]] == [
        "frosty morning", "hot restart, aged switch"
    ]  # fmt: skip
    assert [each["ambient_c"] for each in answer["rounds"]] == [-10, 115]
    for each in answer["rounds"]:
        readings = answer["readings"][each["first"] - 1 : each["last"]]
        assert {reading["case"] for reading in readings} == {each["case"]}
        assert readings[0]["code"] == "at_rest"
    assert answer["rounds"][-1]["last"] == len(answer["readings"])


def test_of_ways_beside_each_other_one_is_walked_and_dead_ends_are_not():
    body = lamp(way=False)
    spare = {"kind": "contact", "part": "connector", "resistance_ohm": 0.01}
    body["circuit"]["branches"] += [
        {**spare, "name": "spur", "nodes": ["n1", "spur end"]},
        {**spare, "name": "second plug", "nodes": ["n2", "n2b"]},
        {**spare, "name": "third plug", "nodes": ["n2b", "n3"]},
    ]
    assert walked(body) == ["lamp fuse", "dash switch", "to the lamp", "lamp ground"]


def walked(body):
    """Names of the parts that are read, in order."""
    codes = {"across_part", "across_switch"}
    return [each["part"] for each in plan(body)["readings"] if each["code"] in codes]


def plug(name, *nodes, **more):
    return {"name": name, "kind": "contact", "part": "connector", "nodes": list(nodes),
            "resistance_ohm": 0.01} | more  # fmt: skip


def test_the_way_leads_through_the_switch_and_meets_no_node_twice():
    body = lamp(way=False)
    fuse, switch, to_lamp, ground = body["circuit"]["branches"]
    switch["nodes"].reverse()  # written from the far end
    there = ["lamp fuse", "dash switch", "to the lamp"]
    assert walked(body) == [*there, "lamp ground"]
    # Round the fuse to the switch's far end and from its near end on: longer, and not taken.
    far = [plug("a", "post", "r"), plug("b", "r", "n2"), plug("c", "n1", "s"), plug("d", "s", "n3")]
    body["circuit"]["branches"] = [*far, fuse, switch, to_lamp, ground]
    assert walked(body) == [*there, "lamp ground"]
    switch["nodes"].reverse()
    assert walked(body) == [*there, "lamp ground"]
    # A plug beside a switch at the post, and a short way past both: the switch is still read.
    switch["nodes"] = ["post", "n2"]
    beside = plug("beside", "post", "n2")
    row = [plug("e", "n2", "t"), plug("f", "t", "u"), plug("g", "u", "n3")]
    body["circuit"]["branches"] = [beside, plug("past", "post", "n3"), switch, *row, ground]
    assert walked(body) == ["dash switch", "e", "f", "g", "lamp ground"]


def test_no_wiring_leads_through_a_pilot_lamp_but_for_want_of_any_other():
    body = lamp(way=False)
    ground = body["circuit"]["branches"][-1]
    ground["nodes"] = ["n4", "n5"]
    pilot = {
        "name": "pilot",
        "kind": "resistance",
        "resistance_ohm": 500,
        "nodes": ["n4", "ground"],
    }
    body["circuit"]["branches"] += [plug("body joint", "n5", "ground"), pilot]
    assert walked(body)[-2:] == ["lamp ground", "body joint"]
    body = lamp(way=False, needed_v=3.0)
    body["circuit"]["branches"][0] = {
        "name": "ballast", "kind": "resistance", "resistance_ohm": 1.5, "nodes": ["post", "n1"]
    }  # fmt: skip
    assert walked(body)[0] == "ballast"
    assert "more resistance than was given" in by(plan(body), "across_part", "ballast")[
        "means_if_more"
    ]  # fmt: skip


def test_nobody_reads_a_vehicle_of_years_to_come():
    """The same case older by half is read as it is today, and once."""
    body = example()
    for each in body["cases"]:
        each["ageing_factor"] = 1.0
    today = plan(body)
    aged = copy.deepcopy(body)
    aged["cases"][-1]["ageing_factor"] = 1.5
    assert plan(aged)["readings"] == today["readings"]
    assert "ageing" in plan(aged)["rounds"][-1]["text"]
    twice = copy.deepcopy(body)
    twice["cases"].append({**twice["cases"][-1], "name": "older", "ageing_factor": 2.0})
    assert [each["case"] for each in plan(twice)["rounds"]] == [
        each["case"] for each in today["rounds"]
    ]
    assert "to be read today: older" in plan(twice)["rounds"][-1]["text"]
