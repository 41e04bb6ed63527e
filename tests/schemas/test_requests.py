"""Requests: fields that fit one by one, but not together, and the published examples."""

import pytest
from marshmallow import ValidationError

from lastvolt_service.api import OPERATIONS
from lastvolt_service.fields import Fields
from lastvolt_service.operations.relays import coil, contact
from lastvolt_service.operations.solenoids import pull_in
from lastvolt_service.operations.sources import battery
from lastvolt_service.operations.wires import drop_request
from lastvolt_service.schemas.described import schema_class

RelayCoilRequest = schema_class(coil.RelayCoilRequest)
RelayContactRequest = schema_class(contact.RelayContactRequest)
BatteryVoltageRequest = schema_class(battery.BatteryVoltageRequest)
VoltageDropRequest = schema_class(drop_request.VoltageDropRequest)
SolenoidPullInRequest = schema_class(pull_in.SolenoidPullInRequest)

RATED = {"rated": {"pull_in_v": 7.5}, "temperature_c": 20}
WINDINGS = SolenoidPullInRequest.example["windings"]
BATTERY = {"nominal_v": 12, "cold_cranking_a": 500, "temperature_c": 20, "current_a": 100}
PATH = {"supply_v": 12, "segments": VoltageDropRequest.example["segments"]}


def refused(schema, body):
    with pytest.raises(ValidationError) as caught:
        schema().load(body)
    return caught.value.messages


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
def test_example_is_taken(operation):
    found = operation.schema.load(operation.schema.example)
    assert set(operation.schema.example) <= set(vars(found) if isinstance(found, Fields) else found)


def test_exactly_one_load():
    assert refused(VoltageDropRequest, PATH) == {
        "_schema": ["Give one of: load_current_a, load_resistance_ohm, load_power_w."]
    }
    two = {**PATH, "load_current_a": 1, "load_power_w": 1}
    assert list(refused(VoltageDropRequest, two)) == ["load_power_w"]


def test_at_most_one_limit():
    both = {**PATH, "load_current_a": 1, "limit_drop_v": 1, "limit_drop_percent": 3}
    assert list(refused(VoltageDropRequest, both)) == ["limit_drop_percent"]


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({}, "_schema"),
        ({"supply_v": 12}, "path_resistance_ohm"),
        ({"available_v": 12, "path_resistance_ohm": 1}, "supply_v"),
        ({"available_v": 12, "supply_v": 12, "path_resistance_ohm": 1}, "supply_v"),
        ({"available_v": 12, "windings": WINDINGS}, "windings"),
    ],
)
def test_solenoid_is_described_once_and_fed_once(fields, wrong):
    assert list(refused(SolenoidPullInRequest, {**RATED, **fields})) == [wrong]


def test_hold_force_and_gap_belong_together():
    plunger = {
        "force_n": 1, "gap_mm": 1, "area_mm2": 1, "turns": 1, "resistance_ohm": 1, "hold_force_n": 1
    }  # fmt: skip
    body = {"plunger": plunger, "temperature_c": 20, "available_v": 12}
    assert refused(SolenoidPullInRequest, body) == {
        "plunger": {"hold_gap_mm": ["These belong together: hold_force_n, hold_gap_mm."]}
    }


def test_relay_opens_below_where_it_closes():
    body = {**RelayCoilRequest.example, "drop_out_v": 6.9}
    assert refused(RelayCoilRequest, body) == {"drop_out_v": ["This must be below pick_up_v."]}


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"available_v": 14.5}, "This must not be below available_v."),
        ({"dip_v": 14.5}, "This must not be below dip_v."),
        ({"maximum_v": 11}, "This must not be below available_v."),
    ],
)
def test_the_highest_voltage_of_a_coil_is_not_below_another(changes, told):
    """The example has 14.4 V at most, and 11.4 V at least."""
    body = {**RelayCoilRequest.example, **changes}
    assert refused(RelayCoilRequest, body) == {"maximum_v": [told]}


@pytest.mark.parametrize("changes", [{"available_v": 14.4}, {"dip_v": 12}, {"maximum_v": None}])
def test_voltages_of_a_coil_that_stand_together(changes):
    """It may hold at more than it has to close at: the engine runs by then."""
    both = {**RelayCoilRequest.example, **changes}
    RelayCoilRequest().load({name: value for name, value in both.items() if value is not None})


def test_a_solenoid_holds_with_what_pulls_it_in():
    body = {"rated": {"pull_in_v": 7.5, "hold_in_v": 7.6}, "temperature_c": 20, "available_v": 12}
    assert refused(SolenoidPullInRequest, body) == {
        "rated": {"hold_in_v": ["This must not exceed pull_in_v."]}
    }


@pytest.mark.parametrize(
    ("suppression", "wrong"),
    [
        ({"kind": "resistor"}, "resistance_ohm"),
        ({"kind": "zener"}, "zener_v"),
        ({"kind": "diode", "zener_v": 24}, "zener_v"),
        ({"kind": "none", "resistance_ohm": 680}, "resistance_ohm"),
        ({}, "kind"),
    ],
)
def test_suppression_has_the_value_of_its_kind(suppression, wrong):
    body = {**RelayCoilRequest.example, "suppression": suppression}
    assert list(refused(RelayCoilRequest, body)["suppression"]) == [wrong]


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        ([(85, 30), (85, 20)], {1: {"ambient_c"}}),
        ([(20, 30)], {0: {"ambient_c"}}),
        ([(85, 30), (125, 31)], {1: {"current_a"}}),
        ([(10, 41)], {0: {"ambient_c", "current_a"}}),
    ],
)
def test_derating_falls_as_it_gets_hotter(points, expected):
    derating = [{"ambient_c": ambient, "current_a": current} for ambient, current in points]
    body = {**RelayContactRequest.example, "derating": derating}
    found = refused(RelayContactRequest, body)["derating"]
    assert {index: set(fields) for index, fields in found.items()} == expected


@pytest.mark.parametrize(
    ("kind", "body", "field", "said"),
    [
        (VoltageDropRequest, {**PATH, "load_current_a": 1, "limit_drop_percent": 0.03},
         "limit_drop_percent", "write 3 for 3 %"),
        (BatteryVoltageRequest, {**BATTERY, "state_of_charge_percent": 0.8},
         "state_of_charge_percent", "write 80 for 80 %"),
    ],
)  # fmt: skip
def test_a_share_for_a_percentage_is_asked_for_again(kind, body, field, said):
    """0.8 taken as 0.8 % makes a good battery flat, and 0.03 of a drop no wire thick enough."""
    (message,) = refused(kind, body)[field]
    assert said in message


def test_a_battery_may_be_at_nothing_or_at_one_percent():
    for percent in (0, 1, 80):
        body = {**BATTERY, "state_of_charge_percent": percent}
        assert BatteryVoltageRequest().load(body).state_of_charge_percent == percent
