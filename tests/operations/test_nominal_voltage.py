"""A supply that lies between two systems is taken for neither: the nominal voltage is asked for.

ISO 16750-2:2010, Tables 1 and 2: supplies of 12 V systems reach to 16 V (codes A to D) and have 9 V
in use (code C); TM 9-2320-211-20 lets a 24 V truck sag to 18 V while it cranks. That a 6 V system
charges at 7.5 V at most, and that one of 24 V has 20 V in use, is common practice, no source.
"""

import pytest

SEGMENT = {
    "kind": "contact", "name": "plug", "part": "connector", "resistance_ohm": 0.01,
}  # fmt: skip
CONTACT = {"kind": "contact", "name": "plug", "part": "connector", "measured_v": 0.05}
LAMP = {
    "name": "lamp", "kind": "resistance", "nodes": ["out", "ground"], "resistance_ohm": 5,
    "needed_v": 5,
}  # fmt: skip
SWITCH = {
    "name": "switch", "kind": "contact", "part": "switch", "nodes": ["post", "out"],
    "resistance_ohm": 0.01, "rating_a": 20,
}  # fmt: skip


def drop(volts, **more):
    return "voltage-drop", {
        "supply_v": volts, "load_current_a": 5, "segments": [SEGMENT], **more
    }  # fmt: skip


def sizing(volts, **more):
    return "wire-sizing", {
        "supply_v": volts, "load_current_a": 5, "length_m": 2, "ambient_c": 30,
        "insulation": "GXL", "return_path": "wire", **more,
    }  # fmt: skip


def readings(volts, **more):
    return "drop-diagnosis", {
        "current_a": 5, "supply_v": volts, "load_voltage_v": volts - 0.05, "readings": [CONTACT],
        **more,
    }  # fmt: skip


def circuit(volts, **more):
    source = {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.01}
    lamp = {**LAMP, "circuit": "continuous"}
    return "circuit-check", {
        "circuit": {"source": source, "branches": [SWITCH], "loads": [lamp]},
        "cases": [{"name": "on"}], **more,
    }  # fmt: skip


def retrofit(volts, **more):
    _, body = circuit(volts)
    relay = {
        "name": "relay", "coil_resistance_ohm": 320, "pick_up_v": 14.8, "drop_out_v": 2.4,
        "contact_resistance_ohm": 0.002, "rating_a": 20,
    }  # fmt: skip
    return "relay-retrofit", {
        **body, "load": "lamp", "switch": "switch",
        "proposal": {"relay": relay, "feed_node": "post"}, **more,
    }  # fmt: skip


@pytest.mark.parametrize("volts", [8.0, 17.0, 18.0, 19.0])
@pytest.mark.parametrize("make", [drop, sizing, readings, circuit, retrofit])
def test_between_two_systems_the_nominal_voltage_is_asked_for(client, make, volts):
    name, body = make(volts)
    answer = client.post(f"/v1/{name}", json=body)
    assert answer.status_code == 422, answer.get_json()
    (error,) = answer.get_json()["errors"]
    assert error["pointer"] == "#/nominal_v"
    assert "6, 12 or 24" in error["detail"]
    name, body = make(volts, nominal_v=24)
    assert client.post(f"/v1/{name}", json=body).status_code == 200


@pytest.mark.parametrize("volts", [6.3, 7.5, 9.0, 12.6, 14.4, 16.0, 20.0, 28.0])
@pytest.mark.parametrize("make", [drop, sizing, readings, circuit])
def test_within_a_system_it_is_told_from_the_supply(client, make, volts):
    name, body = make(volts)
    assert client.post(f"/v1/{name}", json=body).status_code == 200


def test_where_nothing_depends_on_it_nothing_is_asked(client):
    for name, body in (drop(18, limit_drop_v=0.5), drop(18, limit_drop_percent=3)):
        assert client.post(f"/v1/{name}", json=body).status_code == 200
    name, body = circuit(18)
    del body["circuit"]["loads"][0]["circuit"]
    assert client.post(f"/v1/{name}", json=body).status_code == 200


def test_a_row_of_a_batch_is_asked_alone(client):
    columns = {
        "supply_v": [12.4, 18.0, 18.0], "nominal_v": [None, None, 24],
        "load_current_a": [5, 5, 5], "segments_1_kind": ["contact"] * 3,
        "segments_1_name": ["plug"] * 3, "segments_1_part": ["connector"] * 3,
        "segments_1_resistance_ohm": [0.01] * 3,
    }  # fmt: skip
    told = client.post("/v1/batch/voltage-drop", json={"columns": columns}).get_json()
    assert [(error["row"], error["field"]) for error in told["errors"]] == [(1, "nominal_v")]
    assert told["columns"]["limit_drop_v"] == [0.5, None, 1.0]


def test_a_battery_says_what_its_system_is(client):
    """A 24 V battery in a case of 18 V at its posts is no question."""
    name, body = circuit(18)
    body["circuit"]["source"] = {
        "plus": "post", "battery": {"nominal_v": 24, "cold_cranking_a": 700},
    }  # fmt: skip
    body["cases"][0]["open_circuit_v"] = 18
    answer = client.post(f"/v1/{name}", json=body)
    assert answer.status_code == 200
    limit = next(
        check for check in answer.get_json()["cases"][0]["checks"] if check["code"] == "path_drop"
    )
    assert limit["limit"] == 1.0
