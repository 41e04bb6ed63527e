"""Columns of lists: names with a number, items of several kinds, and rows that have fewer."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np
import pytest
from marshmallow import ValidationError

from lastvolt_service.fields import ABSENT, Fields, choice, many, name, quantity
from lastvolt_service.openapi_batch import _up_to
from lastvolt_service.rows import given
from lastvolt_service.schemas.column_names import names
from lastvolt_service.schemas.columns import read
from lastvolt_service.schemas.described import schema_class


class Rope(Fields):
    """One kind of item."""

    kind: str = choice("rope", ("rope",))
    name: str = name("of the rope")
    length_m: float = quantity("of the rope", maximum=10.0)
    altitude_m: float = quantity("where it hangs", default=7.0)


class Knot(Fields):
    """Another kind, of which nothing but the name is shared."""

    at_most_one_of: ClassVar = (("power_w", "current_a"),)

    kind: str = choice("knot", ("knot",))
    name: str = name("of the knot")
    length_m: float = quantity("taken by the knot", maximum=1.0)
    power_w: float = quantity("that it bears", default=ABSENT)
    current_a: float = quantity("that it bears", default=ABSENT)


class Either(Rope, Knot):
    """A rope or a knot."""


class Tackle(Fields):
    """Items in order."""

    items: list[Either] = many(
        {"rope": Rope, "knot": Knot}, "items", minimum=2, maximum=12, made=Either
    )
    duration_s: float = quantity("how long it holds", default=1.0)


SCHEMA: Any = schema_class(Tackle)()
ROPE = {"items_1_kind": "rope", "items_1_name": "a", "items_1_length_m": 5.0}
KNOT = {"items_2_kind": "knot", "items_2_name": "b", "items_2_length_m": 0.5}


def asked(rows: list[dict[str, Any]], **constants: Any) -> Any:
    found = {each for row in rows for each in row}
    return read(SCHEMA, {each: [row.get(each) for row in rows] for each in found}, constants)


def told(rows: Any) -> list[tuple[int, str, str]]:
    return [tuple(error) for error in rows.errors]


@pytest.mark.parametrize(
    ("known", "unknown"),
    [
        ("items_1_length_m", "items_0_length_m"),
        ("items_12_power_w", "items_13_power_w"),
        ("items_2_altitude_m", "items_2_height_m"),
        ("duration_s", "items_2"),
        ("items_3_kind", "items_03_kind"),
        ("items_3_name", "items_\uff13_name"),
    ],
)
def test_a_name_is_known_by_walking_the_schema(known: str, unknown: str) -> None:
    assert names(SCHEMA).knows(known)
    assert not names(SCHEMA).knows(unknown)
    with pytest.raises(ValidationError) as caught:
        read(SCHEMA, {known: [None], unknown: [None]}, {})
    assert caught.value.messages == {"columns": {unknown: ["There is no such field."]}}


@pytest.mark.parametrize(
    ("sent", "meant"),
    [
        ("duration", "duration_s, in s"),
        ("Duration_S", "duration_s, in s"),
        ("items_12_lenght_m", "items_12_length_m, in m"),
        ("items_1_length_ft", "items_1_length_m, in m"),
        ("lenght_m", "items_1_length_m, in m"),
        ("length_m", "items_1_length_m, in m"),
        ("items_2_duraton_s", "duration_s, in s"),
    ],
)
def test_the_column_that_may_have_been_meant_is_told(sent: str, meant: str) -> None:
    with pytest.raises(ValidationError) as caught:
        read(SCHEMA, {"duration_s": [1], sent: [None]}, {})
    told = f"There is no such field: one like it is {meant}."
    assert caught.value.messages == {"columns": {sent: [told]}}


def test_rows_may_differ_in_kind_and_in_number() -> None:
    other = {"items_1_kind": "knot", "items_1_name": "k", "items_1_length_m": 1.0}
    third = {"items_3_kind": "knot", "items_3_name": "c", "items_3_length_m": 0.1, "duration_s": 2}
    rows = asked([{**ROPE, **KNOT}, {**other, **KNOT, **third}])
    assert rows.errors == []
    first, second, last = rows.data.items
    assert all(type(item) is Either for item in rows.data.items)
    assert [first.kind.values[code] for code in first.kind.codes] == ["rope", "knot"]
    assert first.length_m.tolist() == [5.0, 1.0]
    assert second.length_m.tolist() == [0.5, 0.5]
    assert given(last.kind).tolist() == [False, True]
    assert np.isnan(last.length_m).tolist() == [True, False]
    assert rows.data.duration_s.tolist() == [1.0, 2.0]
    # A default stands where its kind does; of what nobody sent there is no column.
    assert np.all(first.altitude_m == 7.0)
    assert np.ndim(second.power_w) == 0


def cases() -> Mapping[str, tuple[dict[str, Any], tuple[str, str]]]:
    whole = {**ROPE, **KNOT}
    third = {key.replace("_2_", "_4_"): value for key, value in KNOT.items()}
    return {
        "bound of its kind": ({**whole, "items_2_length_m": 5.0}, ("items_2_length_m", "from 0")),
        "other's field": ({**whole, "items_2_altitude_m": 1.0}, ("items_2_altitude_m", "no such")),
        "kind that is none": ({**whole, "items_2_kind": "net"}, ("items_2_kind", "rope, knot")),
        "no kind": ({**whole, "items_2_kind": None}, ("items_2_kind", "rope, knot")),
        "nothing else": ({**whole, "items_2_name": None}, ("items_2_name", "required")),
        "group": (
            {**whole, "items_2_power_w": 1.0, "items_2_current_a": 1.0},
            ("items_2_current_a", "only one"),
        ),
        "gap": ({**whole, **third}, ("items_3", "without a gap")),
        "gap at the start": (KNOT, ("items_1", "without a gap")),
        "too few": (ROPE, ("items", "from 2 to 12 items")),
        "none": ({"duration_s": 1.0}, ("items", "required")),
    }  # fmt: skip


@pytest.mark.parametrize("name", cases())
def test_a_row_at_fault_is_named_and_spoils_no_other(name: str) -> None:
    row, (field, detail) = cases()[name]
    rows = asked([{**ROPE, **KNOT}, row, {**ROPE, **KNOT}])
    assert rows.good.tolist() == [True, False, True]
    errors = [(place, at) for place, at, said in told(rows) if detail in said]
    assert (1, field) in errors
    assert {place for place, _, _ in told(rows)} == {1}


def test_constants_are_of_the_kinds_that_there_are() -> None:
    rows = asked([{"items_1_length_m": 5.0}, {"items_1_length_m": 6.0}], items_1_kind="rope",
                 items_1_name="a", **KNOT)  # fmt: skip
    assert rows.errors == []
    assert rows.data.items[0].kind == "rope"
    assert rows.data.items[1].length_m == 0.5
    with pytest.raises(ValidationError) as caught:
        asked([ROPE], **{**KNOT, "items_2_length_m": 5.0})
    assert caught.value.messages == {
        "constants": {"items_2_length_m": ["This must be from 0 to 1 m."]}
    }


@pytest.mark.parametrize("most", [1, 5, 9, 10, 12, 20, 99, 100, 101, 507, 1000])
def test_numbers_of_items_as_a_pattern(most: int) -> None:
    import re

    pattern = re.compile(f"^({_up_to(most)})$")
    assert [n for n in range(1200) if pattern.match(str(n))] == [*range(1, most + 1)]
    assert pattern.match("01") is None
