"""Text with a unit in place of a number: what is taken, what is refused, and by which name."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import constants

from lastvolt import Client, InvalidRequest, units
from lastvolt.encoding import encoded
from lastvolt.links import pack

SERVICE = Path(__file__).parents[2] / "service" / "lastvolt_service"
DOCUMENT = json.loads((SERVICE / "openapi.json").read_text("utf-8"))

# scipy.constants, a general-purpose reference library, for what it knows of the same units.
REFERENCE = [
    ("1 ft", "m", pytest.approx(constants.foot, rel=1e-15)),
    ("1 in", "m", constants.inch),
    ("1 in", "mm", pytest.approx(constants.inch / constants.milli, rel=1e-15)),
    ("1 yd", "m", pytest.approx(constants.yard, rel=1e-15)),
    ("1 in2", "mm2", pytest.approx(constants.inch**2 / constants.milli**2, rel=1e-15)),
    ("1 h", "s", constants.hour),
    ("1 min", "s", constants.minute),
    ("1 lbf", "N", pytest.approx(constants.pound_force, rel=1e-15)),
    *(
        (
            f"{number} degF",
            "degC",
            pytest.approx(constants.convert_temperature(number, "F", "C"), abs=1e-12),
        )
        for number in (32, 212, -40, 180)
    ),
    ("0 K", "degC", -constants.zero_Celsius),
]


@pytest.mark.parametrize(("text", "unit", "value"), REFERENCE)
def test_units_are_those_of_the_reference(text: str, unit: str, value: float) -> None:
    assert units.parse(text, unit) == value


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("15 ft", "m", 4.572),  # 15 times 0.3048 exactly
        ("60 mohm", "ohm", 0.06),
        ("60 mΩ", "ohm", 0.06),
        ("4.7kohm", "ohm", 4700),
        ("  +.5 kV ", "V", 500),
        ("1.2e-3 A", "A", 1.2e-3),
        ("12. V", "V", 12),
        ("4 mohm/m", "ohm/m", 0.004),
        ("55 %", "%", 55),
        ("220", "1", 220),
    ],
)
def test_what_is_taken(text: str, unit: str, value: float) -> None:
    assert units.parse(text, unit) == value


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "m", "15", "15 parsec", "15 FT", "15 V", "15 ft 3 in", "15 ft\n", "15\tft",
        "1 5 ft", "nan m", "NaN m", "inf m", "-inf m", "infinity m", "1_0 m", "1,5 m", "0x10 m",
        "1e m", "\u0661\u0665 m", "\uff13 m", "9**9**9 m", "1/3 m", "1e999 m", "- 3 m", "--3 m",
        "__import__('os') m", "9" * 100_000 + " m", "1" + " " * 1_000_000 + "\n",
    ],
)  # fmt: skip
def test_what_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not understood: write a number and a unit") as caught:
        units.parse(text, "m")
    assert len(str(caught.value)) < 200


def test_every_number_that_a_request_may_hold_has_a_unit_that_can_be_written() -> None:
    found = {
        name: field["x-unit"]
        for schema in DOCUMENT["components"]["schemas"].values()
        for name, field in schema.get("properties", {}).items()
        if "x-unit" in field
    }
    assert len(found) > 60
    assert {name: units.unit_of(name) for name in found} == found
    assert set(found.values()) <= units.ALLOWED.keys()
    for unit in set(found.values()) - {"1"}:
        assert units.parse(f"2 {unit}", unit) == 2


def test_fields_at_any_depth_are_converted_and_texts_are_left() -> None:
    body = {
        "length_m": "15 ft",
        "size": "14 AWG",
        "name": "15 ft of wire",
        "segments": ({"size": "2.5 mm2", "length_m": "25 mm", "ages": True, "held": ["1 V"]},),
        "zone_ambients_c": {"bay_m": "212 degF", "cabin": 20},
        "pick_up_v": {"low": "6500 mV", "high": 7},
        "columns": {"size": ["14 AWG"], "gap_mm": [1, "0.5 in"], "current_a": np.array(["2 A"])},
    }  # fmt: skip
    assert json.loads(encoded(body)) == {
        "length_m": 4.572,
        "size": "14 AWG",
        "name": "15 ft of wire",
        "segments": [{"size": "2.5 mm2", "length_m": 0.025, "ages": True, "held": ["1 V"]}],
        "zone_ambients_c": {"bay_m": 100, "cabin": 20},
        "pick_up_v": {"low": 6.5, "high": 7},
        "columns": {"size": ["14 AWG"], "gap_mm": [1, 12.7], "current_a": [2]},
    }
    assert body["length_m"] == "15 ft"  # what the caller handed over stays as it was


def test_a_link_carries_numbers() -> None:
    assert pack({"length_m": "15 ft"}) == pack({"length_m": 4.572})


@pytest.mark.parametrize(
    ("fields", "argument", "text"),
    [
        ({"length_m": "15 parsec"}, "length_m", "15 parsec"),
        ({"length_m": "15"}, "length_m", "15"),
        ({"segments": [{"length_m": 3}, {"length_m": "3 V"}]}, "segments[1].length_m", "3 V"),
        ({"zone_ambients_c": {"bay": "hot"}}, "zone_ambients_c.bay", "hot"),
        ({"pick_up_v": {"low": "6 X", "high": 7}}, "pick_up_v.low", "6 X"),
    ],
)
def test_an_error_names_the_argument_as_written(
    fields: dict[str, Any], argument: str, text: str
) -> None:
    with Client("http://lastvolt.test") as client, pytest.raises(InvalidRequest) as caught:
        client.call("wire-resistance", fields)  # and nothing is sent
    assert [error.argument for error in caught.value.field_errors] == [argument]
    assert str(caught.value).startswith(f"The request cannot be sent: {argument}: '{text}'")


def test_a_structure_without_end_is_refused() -> None:
    endless: dict[str, Any] = {"length_m": "1 ft"}
    endless["endless"] = endless
    with pytest.raises(InvalidRequest, match="no form in JSON"):
        encoded(endless)
