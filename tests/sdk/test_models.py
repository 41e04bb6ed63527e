"""Answers: frozen, typed, patient with new fields, and judged by their worst check."""

import dataclasses
import json
from typing import Any

import pytest

from lastvolt import types

from .conftest import COMPUTED_BY, WIRE

CHECK = {
    "name": "pick-up",
    "verdict": "pass",
    "value": 9.6,
    "limit": 8,
    "unit": "V",
    "margin": None,
    "basis": "common practice, no source",
    "message": "It closes.",
    "code": "pick_up",
    "part": None,
    "case": None,
    "way": None,
    "detail": None,
}
DROP = {
    "load_voltage_v": 10.7,
    "current_a": 8.6,
    "load_power_w": 92,
    "path_resistance_ohm": 0.17,
    "drop_v": 1.5,
    "drop_percent": 12.3,
    "limit_drop_v": 1.0,
    "limited_drop_v": 1.5,
    "limit_applies_to": "both_windings",
    "duration_s": 10.0,
    "nominal_v": 12.0,
    "unstable_load_voltage_v": None,
    "worst_segment": "key switch",
    "worst_drop_v": 0.5,
    "begin_with": "key switch",
    "worst_share_percent": 34.0,
    "assumed_wire_c": None,
    "segments": [
        {
            "name": "key switch",
            "kind": "contact",
            "resistance_ohm": 0.06,
            "drop_v": 0.5,
            "power_w": 4.4,
            "share_percent": 34.0,
            "temperature_c": None,
            "temperature_source": None,
        }
    ],
    "headline": "10.7 V reach the load.",
    "verdict": "pass",
    "checks": [CHECK],
    "basis": [],
    "not_judged": [],
    "cautions": ["hot"],
    "computed_by": COMPUTED_BY,
}


def result(*verdicts: str) -> types.WireResistance:
    checks = [{**CHECK, "verdict": verdict, "name": verdict} for verdict in verdicts]
    return types.WireResistance.from_json({**WIRE, "checks": checks})


def test_nested_answers_are_typed_through() -> None:
    drop = types.VoltageDrop.from_json(DROP)
    assert drop.segments[0].name == "key switch"
    assert isinstance(drop.segments[0], types.SegmentDrop)
    assert isinstance(drop.checks, tuple)
    assert drop.computed_by == types.ComputedBy(service="1.2.3", tables="0123abcd")
    assert (type(drop.load_power_w), drop.load_power_w) == (float, 92.0)
    assert drop.unstable_load_voltage_v is None


def test_there_and_back() -> None:
    drop = types.VoltageDrop.from_json(DROP)
    assert drop.to_dict() == DROP
    assert types.VoltageDrop.from_json(json.loads(json.dumps(drop.to_dict()))) == drop


def test_new_fields_are_left_aside() -> None:
    later: dict[str, Any] = {**WIRE, "later": [1], "computed_by": {**COMPUTED_BY, "host": "x"}}
    assert types.WireResistance.from_json(later) == types.WireResistance.from_json(WIRE)


def test_answers_cannot_be_changed() -> None:
    wire = types.WireResistance.from_json(WIRE)
    with pytest.raises(dataclasses.FrozenInstanceError):
        wire.resistance_ohm = 0.0
    assert hash(wire) == hash(types.WireResistance.from_json(WIRE))
    assert not hasattr(wire, "__dict__")


def test_the_verdict_is_that_of_the_service() -> None:
    later = {**WIRE, "verdict": "a later word"}
    assert types.WireResistance.from_json(WIRE).verdict == "unknown"
    assert types.WireResistance.from_json(later).verdict == "a later word"


def test_failing_lists_the_failed_checks_in_order() -> None:
    answer = result("fail", "pass", "marginal", "fail", "unknown")
    assert [check.verdict for check in answer.failing()] == ["fail", "fail"]
    assert result("pass", "unknown").failing() == ()
