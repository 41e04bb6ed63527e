"""Requests about circuits: what is refused, with a pointer to it, and what has no answer."""

import copy
import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest

CHECK, RETROFIT, PLAN = "/v1/circuit-check", "/v1/relay-retrofit", "/v1/meter-plan"
BODIES = {
    CHECK: CircuitCheckRequest.example,
    RETROFIT: RelayRetrofitRequest.example,
    PLAN: MeterPlanRequest.example,
}
DUPLICATE = "Another part has this name."


def edited(path, *edits):
    """The example with some places changed; None takes a place out."""
    body = copy.deepcopy(BODIES[path])
    for place, value in edits:
        *way, last = place.split("/")
        holder = body
        for key in way:
            holder = holder[int(key)] if isinstance(holder, list) else holder.setdefault(key, {})
        if isinstance(holder, list):
            holder[int(last) : int(last) + 1] = [value]
        elif value is None:
            del holder[last]
        else:
            holder[last] = value
    return body


def refused(client, path, body):
    response = client.post(path, json=body)
    assert response.status_code == 422, response.text[:300]
    return response.get_json()


def pointers(client, path, body):
    return {error["pointer"]: error["detail"] for error in refused(client, path, body)["errors"]}


WIRE = {"name": "wire", "kind": "wire", "nodes": ["a", "b"], "size": "12 AWG", "length_m": 1}
LAMP = {"name": "lamp", "kind": "resistance", "nodes": ["a", "b"], "resistance_ohm": 1}
RELAY = {
    "name": "relay",
    "coil_resistance_ohm": 90,
    "pick_up_v": 7,
    "drop_out_v": 1,
    "contact_resistance_ohm": 0.01,
    "coil_nodes": ["key out", "ground"],
    "contact_nodes": ["battery post", "lamp"],
}


@pytest.mark.parametrize(
    ("place", "value", "pointer"),
    [
        ("circuit/branches/1/name", "feed to key switch", "#/circuit/branches/0/name"),
        ("circuit/branches/1/name", "starter solenoid", "#/circuit/loads/0/name"),
        ("circuit/branches/0/nodes", ["a", "a"], "#/circuit/branches/0/nodes"),
        ("circuit/branches/0/nodes", ["a"], "#/circuit/branches/0/nodes"),
        ("circuit/branches/0/nodes", ["a", "b", "c"], "#/circuit/branches/0/nodes"),
        ("circuit/branches/0/nodes", ["a", ""], "#/circuit/branches/0/nodes/1"),
        ("circuit/branches/0/kind", "rope", "#/circuit/branches/0/kind"),
        ("circuit/branches/1/resistance_ohm", -1, "#/circuit/branches/1/resistance_ohm"),
        ("circuit/branches/1/part", "spoon", "#/circuit/branches/1/part"),
        ("circuit/branches/1/colour", "red", "#/circuit/branches/1/colour"),
        ("circuit/loads/0/windings", None, "#/circuit/loads/0"),
        (
            "circuit/loads/0/rated",
            {"pull_in_v": 8, "resistance_ohm": 1},
            "#/circuit/loads/0/windings",
        ),
        ("circuit/loads/0/current_a", 5, "#/circuit/loads/0/current_a"),
        ("circuit/loads", [], "#/circuit/loads"),
        ("circuit/branches", None, "#/circuit/branches"),
        (
            "circuit/source/battery",
            {"nominal_v": 12, "cold_cranking_a": 600},
            "#/circuit/source/battery",
        ),
        ("circuit/source/open_circuit_v", None, "#/circuit/source"),
        (
            "circuit/source/internal_resistance_ohm",
            None,
            "#/circuit/source/internal_resistance_ohm",
        ),
        ("circuit/relays", [{**RELAY, "drop_out_v": 7}], "#/circuit/relays/0/drop_out_v"),
        (
            "circuit/relays",
            [{**RELAY, "coil_nodes": ["ground", "ground"]}],
            "#/circuit/relays/0/coil_nodes",
        ),
        (
            "circuit/relays",
            [{**RELAY, "contact_nodes": ["x", "x"]}],
            "#/circuit/relays/0/contact_nodes",
        ),
        (
            "circuit/relays",
            [{**RELAY, "break_nodes": ["x", "x"]}],
            "#/circuit/relays/0/break_nodes",
        ),
        ("circuit/relays", [RELAY] * 51, "#/circuit/relays"),
        ("cases", [], "#/cases"),
        ("cases", [{"name": str(n)} for n in range(21)], "#/cases"),
        ("cases/1/name", "frosty morning", "#/cases/0/name"),
        ("cases/0/without", ["key"], "#/cases/0/without/0"),
        ("cases/0/held", ["starter solenoid", "nobody"], "#/cases/0/held/1"),
        ("cases/0/ageing_factor", 0, "#/cases/0/ageing_factor"),
        ("cases/0/zone_ambients_c", {"bay": 1000}, "#/cases/0/zone_ambients_c/bay"),
        (
            "cases/0/zone_ambients_c",
            {"bay": {"low": 90, "high": 60}},
            "#/cases/0/zone_ambients_c/bay/low",
        ),
        ("cases/0/zone_ambients_c", {"": 20}, "#/cases/0/zone_ambients_c/"),
        ("cases/0/zone_ambients_c", [], "#/cases/0/zone_ambients_c"),
        (
            "cases/0/zone_ambients_c",
            {str(n): 20 for n in range(51)},
            "#/cases/0/zone_ambients_c",
        ),
        ("decisive_load", "key switch", "#/decisive_load"),
        ("nominal_v", 13, "#/nominal_v"),
    ],
)
def test_what_is_wrong_is_pointed_at(client, place, value, pointer):
    assert pointer in pointers(client, CHECK, edited(CHECK, (place, value)))


def test_what_holds_others_that_are_wrong_is_pointed_at_beside_them(client):
    """Too much work, and two cases of one name; a case that parts the way, and a part nowhere."""
    case = BODIES[CHECK]["cases"][0]
    cases = [{**case, "name": "twice" if k < 2 else f"case {k}"} for k in range(20)]
    relays = [
        {**RELAY, "name": f"relay {k}", "contact_nodes": ["battery post", "ground"]}
        for k in range(30)
    ]
    body = edited(CHECK, ("cases", cases), ("circuit/relays", relays))
    assert {"#/cases", "#/circuit", "#/cases/0/name", "#/cases/1/name"} <= pointers(
        client, CHECK, body
    ).keys()
    body = edited(PLAN, ("cases/0/without", ["wire to the rear", "nobody"]))
    found = pointers(client, PLAN, body)
    assert {"#/cases/0/without", "#/cases/0/without/1"} <= found.keys()


def test_a_wire_has_one_temperature(client):
    both = [("circuit/branches/0/temperature_c", 20), ("circuit/branches/0/ambient_c", 20)]
    assert "#/circuit/branches/0/ambient_c" in pointers(client, CHECK, edited(CHECK, *both))


@pytest.mark.parametrize(
    ("place", "value", "pointer"),
    [
        ("load", "key switch", "#/load"),
        ("switch", "starter solenoid", "#/switch"),
        ("switch", "wire to the rear", "#/switch"),
        ("proposal/feed_node", "nowhere", "#/proposal/feed_node"),
        ("proposal/coil_ground_node", "nowhere", "#/proposal/coil_ground_node"),
        ("proposal/relay/name", "key switch", "#/proposal/relay"),
        ("proposal/feed/0/name", "start relay", "#/proposal/feed"),
        ("proposal/outlet/0/name", "relay fuse", "#/proposal/outlet"),
        ("proposal/feed/0/nodes", ["a", "b"], "#/proposal/feed/0/nodes"),
        ("proposal/outlet/0/size", "99 AWG", "#/proposal/outlet/0/size"),
        ("proposal/feed/1/size", "99 AWG", "#/proposal/feed/1/size"),
        ("circuit/branches/2/size", "99 AWG", "#/circuit/branches/2/size"),
        ("cases/0/without", ["start relay"], "#/cases/0/without/0"),
        ("cases/1/without", ["engine strap", "starter solenoid"], "#/cases/1/without/1"),
        ("cases/1/without", ["key switch"], "#/cases/1/without/0"),
        ("cases/1/held", ["nobody"], "#/cases/1/held/0"),
    ],
)
def test_what_is_wrong_with_a_proposal_is_pointed_at(client, place, value, pointer):
    assert pointer in pointers(client, RETROFIT, edited(RETROFIT, (place, value)))


def test_a_load_without_a_needed_voltage_cannot_be_weighed(client):
    lamp = {**LAMP, "name": "starter solenoid", "nodes": ["terminal 50", "engine block"]}
    body = edited(RETROFIT, ("circuit/loads/0", lamp))
    assert "needed_v" in pointers(client, RETROFIT, body)["#/load"]


def test_a_held_load_must_say_what_holds_it(client):
    body = edited(
        RETROFIT,
        ("circuit/loads/0/windings/hold_ampere_turns", None),
        ("cases/1/held", ["starter solenoid"]),
    )
    assert "#/cases/1/held" in pointers(client, RETROFIT, body)
    body["circuit"]["loads"][0]["needed_v"] = 5
    assert client.post(RETROFIT, json=body).status_code == 200


INTERVAL = {"low": 0.01, "high": 0.03}


@pytest.mark.parametrize(
    ("value", "pointer"),
    [
        ({"low": 0.03, "high": 0.01}, "/low"),
        ({"low": 0.03}, ""),
        ({"low": 0.01, "high": 0.03, "middle": 0.02}, ""),
        ({"low": "0.01", "high": 0.03}, ""),
        ({"low": 0.01, "high": 1e9}, ""),
        ([0.01, 0.03], ""),
    ],
)
def test_bounds_that_are_none_are_pointed_at(client, value, pointer):
    place = "circuit/branches/1/resistance_ohm"
    assert f"#/{place}{pointer}" in pointers(client, CHECK, edited(CHECK, (place, value)))


def test_how_bounds_are_written_is_told(client):
    body = edited(CHECK, ("circuit/branches/1/resistance_ohm", [0.01, 0.03]))
    (error,) = client.post(CHECK, json=body).json["errors"]
    assert error["detail"] == "This must be a number or an object of low and high."


def test_only_circuits_take_bounds(client):
    body = {"size": "12 AWG", "length_m": {"low": 1, "high": 2}}
    assert "#/length_m" in pointers(client, "/v1/wire-resistance", body)


@pytest.mark.parametrize(("count", "status"), [(16, 200), (17, 422)])
def test_sixteen_bounds_and_no_more(client, count, status):
    body = edited(CHECK)
    contact = body["circuit"]["branches"][3]
    body["circuit"]["branches"] += [
        {**contact, "name": f"strap {n}", "resistance_ohm": INTERVAL} for n in range(count)
    ]
    body["cases"] = body["cases"][:1]
    response = client.post(CHECK, json=body)
    assert response.status_code == status
    if status == 422:
        assert "16" in response.get_json()["errors"][0]["detail"]


def chain(parts):
    """A path of so many wires of no heat from the post to a lamp."""
    wires = [
        {
            "name": f"wire {n}",
            "kind": "resistance",
            "nodes": [f"node {n}", f"node {n + 1}"],
            "resistance_ohm": 1e-3,
        }
        for n in range(parts)
    ]
    source = {"plus": "node 0", "open_circuit_v": 12, "internal_resistance_ohm": 0.01}
    lamp = {**LAMP, "nodes": [f"node {parts}", "ground"]}
    return {
        "circuit": {"source": source, "branches": wires, "loads": [lamp]},
        "cases": [{"name": "only"}],
    }


@pytest.mark.parametrize(("parts", "status"), [(198, 200), (199, 422)])
def test_two_hundred_nodes_and_no_more(client, parts, status):
    response = client.post(CHECK, json=chain(parts))
    assert response.status_code == status
    if status == 422:
        assert "200 nodes" in response.text


@pytest.mark.parametrize(("beside", "status"), [(497, 200), (498, 422)])
def test_five_hundred_parts_and_no_more(client, beside, status):
    body = chain(2)
    body["circuit"]["branches"] += [
        {**body["circuit"]["branches"][0], "name": f"beside {n}"} for n in range(beside)
    ]
    response = client.post(CHECK, json=body)
    assert response.status_code == status
    if status == 422:
        assert "500 parts" in response.text


def test_a_part_that_floats_is_named(client):
    island = {**WIRE, "name": "island", "nodes": ["left over", "lost"]}
    body = edited(CHECK)
    body["circuit"]["branches"].append(island)
    detail = refused(client, CHECK, body)["detail"]
    assert detail.startswith("In frosty morning: ")
    assert '"left over"' in detail
    assert '"lost"' in detail


def test_a_short_across_the_source_is_named(client):
    spanner = {
        "name": "spanner",
        "kind": "resistance",
        "nodes": ["battery post", "ground"],
        "resistance_ohm": 0,
    }
    body = edited(CHECK)
    body["circuit"]["branches"].append(spanner)
    detail = refused(client, CHECK, body)["detail"]
    assert '"battery post"' in detail
    assert '"ground"' in detail
    assert detail.startswith("In frosty morning: ")


def test_a_load_beyond_what_can_be_fed_is_named_in_its_case(client):
    # By hand: 12 V behind 0.01 + 0.002 ohm feed 3 kW at most, and 24 V four times as much.
    body = chain(2)
    body["circuit"]["loads"] = [
        {"name": "winch", "kind": "power", "power_w": 5000, "nodes": ["node 2", "ground"]}
    ]
    body["cases"] = [{"name": "two batteries", "open_circuit_v": 24}, {"name": "one battery"}]
    cases = client.post(CHECK, json=body).get_json()["cases"]
    found = {
        (case["name"], check["verdict"])
        for case in cases
        for check in case["checks"]
        if check["code"] == "operating_point" and check["part"] == "winch"
    }
    assert ("one battery", "fail") in found
    assert ("two batteries", "fail") not in found


def test_battery_too_cold_for_the_tables_is_pointed_at(client):
    battery = {"plus": "battery post", "battery": {"nominal_v": 12, "cold_cranking_a": 600}}
    body = edited(CHECK, ("circuit/source", battery), ("cases/0/ambient_c", -55))
    assert any(
        pointer.startswith("#/circuit/source/battery") for pointer in pointers(client, CHECK, body)
    )


def places(value, path=()):
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield (*path, key)
            yield from places(inner, (*path, key))


NODES = ["battery post", "key in", "key out", "terminal 50", "engine block", "ground", "nowhere"]
PARTS = ["key switch", "starter solenoid", "wire to the rear", "start relay", "relay fuse"]
WORTHY = st.one_of(
    st.sampled_from([0, 1e-6, 1e-3, 0.02, 1, 12, 20, 60, 1e3, -40]),
    st.floats(0, 100),
    st.sampled_from([*NODES, *PARTS, "wire", "contact", "resistance", "power", "24 AWG"]),
    st.lists(st.sampled_from([*NODES, *PARTS]), max_size=2),
    st.builds(lambda low, high: {"low": low, "high": high}, st.floats(0, 20), st.floats(0, 20)),
)


@pytest.mark.hypothesis
@pytest.mark.parametrize("path", [CHECK, RETROFIT])
def test_no_near_miss_is_our_fault(app, path):
    client = app.test_client()

    @settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def check(data):
        body = copy.deepcopy(BODIES[path])
        for _ in range(data.draw(st.integers(1, 4))):
            if not body:
                break
            *way, key = data.draw(st.sampled_from(list(places(body))))
            holder = body
            for step in way:
                holder = holder[step]
            if data.draw(st.integers(0, 4)):
                holder[key] = data.draw(WORTHY)
            else:
                del holder[key]
        response = client.post(path, json=body)
        assert response.status_code in {200, 422}, body
        answer = json.loads(response.text, parse_constant=pytest.fail)
        if response.status_code == 422:
            assert answer["type"] != "/problems/out-of-range", body

    check()
