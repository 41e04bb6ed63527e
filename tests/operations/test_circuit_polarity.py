"""Positive ground, switches in the ground lead, and loads given the other way round."""

import copy

import pytest

from lastvolt_service.api.problems import Refused
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

from .retrofit_circuits import asked, contact, fan, headlamps, starter, wire

CIRCUITS = {
    "published": lambda: copy.deepcopy(RelayRetrofitRequest.example),
    "lamps": headlamps,
    "worn switch": lambda: headlamps(switch_ohm=0.2),
    "rusty ground": lambda: headlamps(ground_ohm=0.2),
    "overloaded": lambda: fan(rating_a=15),
    "thin wires": lambda: starter(length_m=11, zone_c=120),
}


def mirrored(body):
    """The same vehicle with the positive post at the ground."""
    body = copy.deepcopy(body)
    source = body["circuit"]["source"]
    live = source["plus"]
    source.update(plus=source.get("minus", "ground"), minus=live)
    return body


def turned(body):
    body = copy.deepcopy(body)
    for load in body["circuit"]["loads"]:
        load["nodes"].reverse()
    return body


def judged(answer):
    return [
        (check.code, check.case, check.part, check.verdict, check.margin)
        for check in answer.checks
        if check.code != "coil_polarity"
    ]


def a_check(body):
    return {key: body[key] for key in ("circuit", "cases")}


@pytest.mark.parametrize("name", CIRCUITS)
def test_mirroring_changes_nothing_but_signs(run, name):
    body = CIRCUITS[name]()
    usual, other = (run("circuit-check", **a_check(each)) for each in (body, mirrored(body)))
    assert usual.headline == other.headline
    for one, two in zip(usual.cases, other.cases, strict=True):
        assert [n.voltage_v for n in one.nodes] == [-n.voltage_v for n in two.nodes]
        assert [(p.current_a, p.drop_v) for p in one.parts] == [
            (-p.current_a, -p.drop_v) for p in two.parts
        ]
        assert (one.loads, one.checks, one.source_v) == (two.loads, two.checks, two.source_v)
        assert one.source_v > 0 < one.source_current_a


@pytest.mark.parametrize("name", CIRCUITS)
@pytest.mark.parametrize("change", [mirrored, turned])
def test_the_advice_knows_no_polarity(run, name, change):
    body = CIRCUITS[name]()
    usual, other = (run("relay-retrofit", **each) for each in (body, change(body)))
    mind = " Not judged: which way round the relay's coil is."  # a diode alone has a polarity
    assert usual.headline == other.headline.replace(mind, "")
    assert usual.ways == other.ways
    assert judged(usual) == judged(other)


def test_an_unfused_wire_from_the_live_post_is_told_on_positive_ground(run):
    body = a_check(CircuitCheckRequest.example)
    body = copy.deepcopy(body)
    del body["circuit"]["branches"][-1]
    body["circuit"]["branches"][0]["nodes"][0] = "battery post"
    for circuit in (body, mirrored(body)):
        answer = run("circuit-check", **circuit)
        assert "Not judged: a wire without a fuse" in answer.headline
        (first, _) = [check for check in answer.checks if check.code == "no_fuse"]
        assert "feed to key switch, wire to the rear" in first.message


def test_positive_ground_is_told_through_a_strap(run):
    """Neither post is the ground's node; a strap joins the positive one to it."""
    body = a_check(copy.deepcopy(CircuitCheckRequest.example))
    body["circuit"]["source"].update(plus="strapped post", minus="battery post")
    strap = {**body["circuit"]["branches"][3], "name": "battery strap"}
    body["circuit"]["branches"].append({**strap, "nodes": ["strapped post", "ground"]})
    answer = run("circuit-check", **body)
    volts = {node.name: node.voltage_v for node in answer.cases[0].nodes}
    assert volts["battery post"] < volts["terminal 50"] < 0 < volts["strapped post"]
    assert answer.cases[0].loads[0].voltage_v > 9


def test_both_posts_at_one_node_are_refused(run):
    body = a_check(copy.deepcopy(CircuitCheckRequest.example))
    body["circuit"]["source"]["plus"] = "ground"
    with pytest.raises(Refused) as refused:
        run("circuit-check", **body)
    assert refused.value.errors[0]["pointer"] == "#/circuit/source/minus"


def horn(**relay):
    """12.6 V, 3 m of 14 AWG to a horn of 1.1 ohm, and 2 m back through a button of 0.1 ohm.

    By hand: 14 AWG has 8.3 milliohm a metre, 41 in all; with the button and its fuse 0.15 ohm lie
    in the way: 12.6 V x 1.1 / 1.26 = 11 V, and 10 A through a button for 5 A.
    """
    blown = {
        "name": "horn", "kind": "resistance", "resistance_ohm": 1.1, "needed_v": 10.5
    }  # fmt: skip
    return asked(
        contact("fuse", "fuse", 0.003, rating_a=15),
        wire("to the horn", "14 AWG", 3),
        blown,
        wire("to the button", "14 AWG", 2),
        contact("horn button", "switch", 0.1, rating_a=5),
        load=blown,
        rest_v=12.6,
        switch="horn button",
        kind="resistive",
        relay=relay,
    )


@pytest.mark.parametrize("change", [copy.deepcopy, mirrored])
def test_a_relay_spares_a_button_in_the_ground_lead(run, change):
    """Common practice: button to the coil, the horn grounded at once and fed by the contact."""
    answer = run("relay-retrofit", **change(horn()))
    case = answer.cases[0]
    assert abs(case.as_is.switch_current_a) > 9
    assert abs(case.proposed.switch_current_a) < 0.2
    assert case.gain_v > 1
    ways = {way.code: way.works for way in answer.ways}
    # A new button of the same kind burns like the old one.
    assert (ways["mend"], ways["relay"]) == (False, True)
    assert answer.advice in {"relay", "mend_then_relay"}


def test_the_load_may_be_grounded_elsewhere(run):
    body = horn()
    body["proposal"]["load_ground_node"] = body["circuit"]["branches"][-1]["nodes"][0]
    answer = run("relay-retrofit", **body)
    # Its current runs through the button again.
    assert abs(answer.cases[0].proposed.switch_current_a) > 9


@pytest.mark.parametrize("node", ["ground", "lamp ground node"])
def test_a_feed_from_the_ground_side_is_refused(run, node):
    body = headlamps()
    ends = {load["nodes"][1] for load in body["circuit"]["loads"]}
    body["proposal"]["feed_node"] = "ground" if node == "ground" else ends.pop()
    with pytest.raises(Refused) as refused:
        run("relay-retrofit", **body)
    assert refused.value.errors[0]["pointer"] == "#/proposal/feed_node"


def test_a_switch_aside_of_the_load_is_refused(run):
    """One in another branch, and one whose relay switches the load already."""
    body = headlamps()
    branches = body["circuit"]["branches"]
    branches.append(
        {**contact("dome switch", "switch", 0.01, rating_a=5), "nodes": ["post", "dome"]}
    )
    dome = {"name": "dome lamp", "kind": "resistance", "resistance_ohm": 20}
    body["circuit"]["loads"].append({**dome, "nodes": ["dome", "ground"]})
    with pytest.raises(Refused) as refused:
        run("relay-retrofit", **{**body, "switch": "dome switch"})
    assert refused.value.errors[0]["pointer"] == "#/switch"


@pytest.mark.parametrize(
    ("suppression", "told"),
    [
        ({"kind": "diode"}, True),
        ({"kind": "zener", "zener_v": 24}, True),
        ({"kind": "resistor", "resistance_ohm": 680}, False),
        ({"kind": "none"}, False),
    ],
)
def test_a_diode_across_a_coil_is_told_on_positive_ground(run, suppression, told):
    """The wrong way round it conducts, and burns the switch: common practice."""
    body = copy.deepcopy(a_check(CircuitCheckRequest.example))
    body["circuit"]["relays"] = [
        {
            "name": "horn relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7,
            "drop_out_v": 1.5, "contact_resistance_ohm": 0.003, "rating_a": 30,
            "coil_nodes": ["key out", "ground"], "contact_nodes": ["key in", "horn"],
            "suppression": suppression,
        }
    ]  # fmt: skip
    for circuit, expected in ((body, False), (mirrored(body), told)):
        answer = run("circuit-check", **circuit)
        assert ("which way round" in answer.headline) == expected
        circuit["circuit"]["relays"][0]["coil_nodes"].reverse()  # 86 and 85 change places
        answer = run("circuit-check", **circuit)
        assert ("which way round" in answer.headline) == (told and not expected)


@pytest.mark.parametrize("ohm", [4, 60, 200])
def test_a_pilot_lamp_joins_no_sides(run, ohm):
    """Between a fused live wire and the ground it turns no load round, and unfuses nothing."""
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    branches = [
        {"name": "fuse", "kind": "contact", "part": "fuse", "nodes": ["post", "in"],
         "resistance_ohm": 0.002, "rating_a": 10, "fuse_family": "blade C"},
        {"name": "feed", "kind": "wire", "nodes": ["in", "lamp"], "size": "14 AWG", "length_m": 2,
         "insulation": "GXL"},
        {"name": "pilot", "kind": "resistance", "nodes": ["lamp", "ground"],
         "resistance_ohm": ohm},
        {"name": "body joint", "kind": "contact", "part": "ground", "nodes": ["foot", "ground"],
         "resistance_ohm": 0.002},
    ]  # fmt: skip
    lamp = {"name": "lamp", "kind": "resistance", "resistance_ohm": 2, "needed_v": 11}
    for nodes in (["lamp", "foot"], ["foot", "lamp"]):
        circuit = {"source": source, "branches": branches, "loads": [{**lamp, "nodes": nodes}]}
        body = {"circuit": circuit, "cases": [{"name": "now"}]}
        for each in (body, mirrored({**body, "load": "lamp"})):
            answer = run("circuit-check", **a_check(each))
            assert answer.cases[0].loads[0].voltage_v > 11
            assert not [c for c in answer.checks if c.code == "no_fuse" or c.verdict == "fail"]
