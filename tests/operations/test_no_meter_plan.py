"""What a plan of readings refuses, and where it points."""

import pytest

from .planned import lamp


def changed(**more):
    return lamp() | more


def in_way(**more):
    body = lamp()
    body["way"] |= more
    return body


def off(part):
    body = lamp()
    body["cases"][0]["without"] = [part]
    return body


def long_way():
    """A row of 41 plugs before the lamp."""
    body = lamp(way=False)
    plugs = [
        {"name": f"plug {k}", "kind": "contact", "part": "connector", "resistance_ohm": 1e-4,
         "nodes": [f"p{k}", f"p{k + 1}"]}
        for k in range(41)
    ]  # fmt: skip
    body["circuit"]["branches"] += plugs
    plugs[0]["nodes"][0], plugs[-1]["nodes"][1] = "n3", "at lamp"
    body["circuit"]["loads"][0]["nodes"][0] = "at lamp"
    return body


A_METER = {"name": "m", "kind": "volts"}
REFUSED = {
    "no such load": (changed(load="fan"), "load", "No load"),
    "no such switch": (changed(switch="fan"), "switch", "No contact"),
    "a ground is no switch": (changed(switch="lamp ground"), "switch", "no relay spares"),
    "ohms": (changed(meters=[{"name": "m", "kind": "ohms"}]), "meters/0/kind", "by a clamp"),
    "two voltmeters": (
        changed(meters=[A_METER, {**A_METER, "name": "n"}]), "meters/1/kind", "Another meter",
    ),
    "three meters": (changed(meters=3 * [A_METER]), "meters", "2"),
    "a feed from the ground": (in_way(feed_node="ground"), "way/feed_node", "live side"),
    "a feed from nowhere": (in_way(feed_node="x"), "way/feed_node", "no such node"),
    "a name twice": (
        in_way(feed=[{"name": "lamp fuse", "kind": "contact", "part": "fuse",
                                  "resistance_ohm": 0.002}]), "way/feed", "Another part",
    ),
    "a fuse denied": (in_way(fuse="none"), "way/fuse", "stands in the feed"),
    "the switch left out": (off("dash switch"), "cases/0/without/0", "must be there"),
    "a part of the way left out": (off("to the lamp"), "cases/0/without", "Nothing reaches"),
    "a proposal": (lamp() | {"proposal": lamp()["way"]}, "proposal", "no such field"),
    "too long a way": (long_way(), "cases/0", "45 parts"),
    "a wire that is in no table": (
        in_way(outlet=[{"name": "w", "kind": "wire", "size": "99 AWG", "length_m": 1}]),
        "way/outlet/0/size", "",
    ),
    "no state of rest": (lamp() | {"circuit": lamp()["circuit"] | {"loads": [
        {"name": "reading lamp", "kind": "power", "power_w": 5000, "needed_v": 10,
         "nodes": ["n3", "n4"]}]}}, "", "In evening"),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_wrong_is_pointed_at(client, name):
    body, pointer, said = REFUSED[name]
    response = client.post("/v1/meter-plan", json=body)
    assert response.status_code == 422, response.get_json()
    told = {each["pointer"]: each["detail"] for each in response.get_json()["errors"]}
    wanted = f"#/{pointer}" if pointer else "#"
    assert wanted in told, told
    assert said in told[wanted]
