"""Requests about batteries, switches and readings: edges, defaults, and what is refused."""

import copy

import pytest
from marshmallow import ValidationError

from lastvolt_service.operations.meter import readings
from lastvolt_service.operations.relays import switch_loading
from lastvolt_service.operations.sources import battery
from lastvolt_service.schemas.described import schema_class

BatteryVoltageRequest = schema_class(battery.BatteryVoltageRequest)
BATTERY = BatteryVoltageRequest.example
SwitchLoadingRequest = schema_class(switch_loading.SwitchLoadingRequest)
SWITCH = SwitchLoadingRequest.example
DropDiagnosisRequest = schema_class(readings.DropDiagnosisRequest)
DIAGNOSIS = DropDiagnosisRequest.example
LOAD = {"name": "a", "current_a": 1, "positions": ["run"]}
CONTACT = {"kind": "contact", "name": "key", "part": "switch", "measured_v": 0.1}


def refused(schema, body):
    with pytest.raises(ValidationError) as caught:
        schema().load(body)
    return caught.value.messages


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("nominal_v", 48),
        ("nominal_v", 12.5),
        ("cold_cranking_a", 0),
        ("cold_cranking_a", "600"),
        ("state_of_charge_percent", 100.1),
        ("state_of_charge_percent", -1),
        ("temperature_c", 101),
        ("temperature_c", None),
        ("current_a", -1),
        ("internal_resistance_ohm", 0),
        ("capacity_ah", 60),
    ],
)
def test_battery_is_refused(field, value):
    assert list(refused(BatteryVoltageRequest, {**BATTERY, field: value})) == [field]


def test_battery_of_a_circuit_takes_the_temperature_of_its_case():
    given = {"nominal_v": 12, "cold_cranking_a": 600}
    found = schema_class(battery.Battery)().load(given)
    assert given.items() <= vars(found).items()
    assert list(refused(BatteryVoltageRequest, {**given, "current_a": 1})) == ["temperature_c"]


@pytest.mark.parametrize("edge", [{"state_of_charge_percent": 0}, {"current_a": 0}])
def test_battery_takes_the_edges(edge):
    assert vars(BatteryVoltageRequest().load({**BATTERY, **edge})).items() >= edge.items()


def test_switch_has_the_coil_of_common_practice():
    loaded = SwitchLoadingRequest().load({**SWITCH, "loads": [LOAD]})
    assert loaded.relay_coil_current_a == 0.2
    assert loaded.loads[0].through_relay is False


@pytest.mark.parametrize(
    ("load", "wrong"),
    [
        ({**LOAD, "positions": []}, "positions"),
        ({**LOAD, "positions": ["run", "run"]}, "positions"),
        ({**LOAD, "positions": [str(number) for number in range(11)]}, "positions"),
        ({**LOAD, "positions": "run"}, "positions"),
        ({**LOAD, "current_a": 0}, "current_a"),
        ({**LOAD, "through_relay": 1}, "through_relay"),
        ({**LOAD, "name": ""}, "name"),
    ],
)
def test_load_of_a_switch_is_refused(load, wrong):
    found = refused(SwitchLoadingRequest, {**SWITCH, "loads": [load]})
    assert list(found["loads"][0]) == [wrong]


def test_every_load_has_a_name_of_its_own():
    found = refused(SwitchLoadingRequest, {**SWITCH, "loads": [LOAD, {**LOAD, "name": "b"}, LOAD]})
    assert found == {"loads": {2: {"name": ["Another one has this name."]}}}


def test_switch_has_ten_positions_at_most():
    loads = [{**LOAD, "name": str(number), "positions": [str(number)]} for number in range(11)]
    assert len(SwitchLoadingRequest().load({**SWITCH, "loads": loads[:10]}).loads) == 10
    found = refused(SwitchLoadingRequest, {**SWITCH, "loads": loads})
    assert found == {"loads": ["A switch may have 10 positions at most."]}


@pytest.mark.parametrize(
    ("meter", "expected"),
    [
        (None, {"resolution_v": 0.01, "accuracy_percent": 0.5}),
        ({}, {"resolution_v": 0.01, "accuracy_percent": 0.5}),
        ({"resolution_v": 0.1}, {"resolution_v": 0.1, "accuracy_percent": 0.5}),
    ],
)
def test_meter_that_is_not_described(meter, expected):
    body = {"current_a": 5, "readings": [CONTACT]} | ({} if meter is None else {"meter": meter})
    loaded = DropDiagnosisRequest().load(body)
    assert vars(loaded.meter) == expected
    assert loaded.circuit == "continuous"
    assert (loaded.current_accuracy_percent, loaded.temperature_accuracy_k) == (1, 10)


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"current_a": -1}, "current_a"),
        ({"meter": {"resolution_v": 0}}, "meter"),
        ({"load_voltage_v": -1}, "load_voltage_v"),
        ({"nominal_v": 13}, "nominal_v"),
        ({"circuit": "lamp"}, "circuit"),
        ({"readings": []}, "readings"),
        ({"readings": [{**CONTACT, "measured_v": -61}]}, "readings"),
        ({"readings": [{**CONTACT, "length_m": 1}]}, "readings"),
        ({"readings": [{**CONTACT, "kind": "wire"}]}, "readings"),
        ({"readings": [{**CONTACT, "kind": "resistance"}]}, "readings"),
    ],
)
def test_diagnosis_is_refused(fields, wrong):
    assert list(refused(DropDiagnosisRequest, {**DIAGNOSIS, **fields})) == [wrong]


def test_every_reading_has_a_name_of_its_own():
    body = copy.deepcopy(DIAGNOSIS)
    body["readings"].append(body["readings"][0])
    found = refused(DropDiagnosisRequest, body)
    assert found == {"readings": {5: {"name": ["Another one has this name."]}}}
