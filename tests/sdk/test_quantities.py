"""What is taken for a number, and what is refused by name because its unit would be lost."""

import json
import math
from array import array
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pandas as pd
import pint
import pyarrow
import pytest
import responses

import lastvolt
from lastvolt import EMBEDDED, Client, units
from lastvolt.encoding import encoded

from .conftest import URL

FOOT = pint.UnitRegistry().foot


class Feet(float):
    """A number that knows its unit."""


class Rod:
    """What many packages have: a number within, and a way to get at it."""

    magnitude = 21.0

    def tolist(self) -> float:
        return self.magnitude

    def __float__(self) -> float:
        return self.magnitude


class Rods(np.ndarray):
    """An array that knows its unit."""


UNITS_WITHIN = [
    pytest.param(value, id=type(value).__name__)
    for value in (
        21 * FOOT,
        Feet(21.0),
        Rod(),
        np.array([21.0]).view(Rods),
        np.timedelta64(21, "ns"),
        np.datetime64("2026-01-01"),
        np.complex128(21),
        pd.Timedelta(21, "s"),
        b"21",
        object(),
        {21},
    )
]
COLUMNS = [
    pytest.param(value, row, id=f"{type(value).__name__} {row or 'whole'}")
    for value, row in (
        (np.array([1.0, 21.0]) * FOOT, ""),
        (np.array([1.0, 21.0]).view(Rods), ""),
        (np.array([1, 21], dtype="timedelta64[ns]"), ""),
        (pd.Series(pd.to_timedelta([1, 21], unit="s")), ""),
        (pd.Series(pd.to_datetime(["2026-01-01", "2026-01-02"])), ""),
        (np.array([1.0, 21.0], dtype=complex), ""),
        (np.array([[1.0], [21.0]]), ""),
        (21.0, ""),
        ("21", ""),
        ({"a": 1}, ""),
        ([1.0, 21 * FOOT], "/1"),
        ([1.0, Feet(21)], "/1"),
        ([1.0, True], "/1"),
        ([1.0, Rod()], "/1"),
        ([1.0, math.inf], "/1"),
        (np.array([1.0, -math.inf]), "/1"),
        (np.array([1.0, 21 * FOOT], dtype=object), "/1"),
        (pd.Series([1.0, 21 * FOOT], dtype=object), "/1"),
        (["1 m", "21 parsec"], "/1"),
    )
]


@pytest.fixture
def nothing_sent() -> Iterator[None]:
    with responses.RequestsMock() as server:
        yield
        assert len(server.calls) == 0


@pytest.mark.usefixtures("nothing_sent")
class TestRefused:
    @pytest.mark.parametrize("value", UNITS_WITHIN)
    @pytest.mark.parametrize(
        ("path", "pointer"),
        [
            (("length_m",), "#/length_m"),
            (("segments", 1, "length_m"), "#/segments/1/length_m"),
            (("zone_ambients_c", "bay"), "#/zone_ambients_c/bay"),
            (("pick_up_v", "low"), "#/pick_up_v/low"),
            (("grouped_conductors",), "#/grouped_conductors"),
            (("derating", 0, 1), "#/derating/0/1"),
        ],
    )
    def test_at_any_depth(self, value: Any, path: tuple[Any, ...], pointer: str) -> None:
        body: Any = value
        for key in reversed(path):
            body = [0] * key + [body] if isinstance(key, int) else {key: body}
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            Client(URL).call("x", body)
        (error,) = caught.value.field_errors
        assert error.pointer.startswith(pointer)

    @pytest.mark.parametrize(
        "call",
        [
            lambda client, length: client.wire_resistance(size="12 AWG", length_m=length),
            lambda client, length: client.report("wire-resistance", {"length_m": length}),
            lambda client, length: client.report_link("wire-resistance", {"length_m": length}),
            lambda client, length: client.call("conductors", {"length_m": length}),
            lambda client, length: [
                *client.batch("x", {"size": ["12 AWG"]}, constants={"length_m": length})
            ],
        ],
    )
    @pytest.mark.parametrize("length", [21 * FOOT, math.nan, True])
    def test_at_every_door(self, call: Callable[[Client, Any], Any], length: Any) -> None:
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            call(Client(URL), length)
        (error,) = caught.value.field_errors
        assert error.pointer.endswith("/length_m")
        assert caught.value.status is None

    @pytest.mark.parametrize(("column", "row"), COLUMNS)
    def test_columns(self, column: Any, row: str) -> None:
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            [*Client(URL).batch("x", {"length_m": column})]
        (error,) = caught.value.field_errors
        assert error.pointer == f"#/columns/length_m{row}"

    def test_the_row_is_counted_from_the_first_of_all(self) -> None:
        lengths = [1.0] * 9 + [21 * FOOT]
        with (
            pytest.raises(lastvolt.InvalidRequest) as caught,
            Client(EMBEDDED) as client,
        ):
            [*client.batch("wire-resistance", {"length_m": lengths},
                           constants={"size": "12 AWG"}, piece_rows=4)]  # fmt: skip
        assert caught.value.field_errors[0].pointer == "#/columns/length_m/9"

    @pytest.mark.parametrize("volts", [12 * FOOT, math.nan, True])
    def test_a_circuit_that_cannot_be_sent_is_refused_alone(self, volts: Any) -> None:
        circuits = [{"cases": []}, {"cases": [{"supply_v": volts}]}]
        with Client(EMBEDDED) as client:
            first, second = client.batch_lines("circuit-check", circuits)
        assert first["status"] == second["status"] == 422
        (error,) = second["problem"]["errors"]
        assert error["pointer"] == "#/cases/0/supply_v"

    def test_the_message_says_what_to_write(self) -> None:
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            Client(URL).wire_resistance(size="12 AWG", length_m=21 * FOOT)
        assert str(caught.value) == (
            "The request cannot be sent: length_m: A Quantity is no plain number: "
            "give a number in m, or text with its unit, such as '3 m'."
        )


@pytest.mark.parametrize(
    ("value", "number"),
    [
        (Decimal("0.5"), 0.5),
        (Fraction(1, 4), 0.25),
        (np.float32(0.5), 0.5),
        (np.longdouble("0.5"), 0.5),
        (np.int8(3), 3),
        (np.array(0.5), 0.5),
        (np.array([0.5, 3]), [0.5, 3.0]),
        (np.array([1.5, 2.5], dtype=np.longdouble), [1.5, 2.5]),
        ([Decimal("0.5"), "50 cm", 3], [0.5, 0.5, 3]),
        (np.array(["50 cm"]), [0.5]),
    ],
)
def test_numbers_are_taken(value: Any, number: Any) -> None:
    assert json.loads(encoded({"length_m": value})) == {"length_m": number}


@pytest.mark.parametrize(
    ("value", "pointer"),
    [
        (Decimal("NaN"), "#/length_m"),
        (Decimal("sNaN"), "#/length_m"),
        (Decimal("1e999"), "#/length_m"),
        pytest.param(Fraction(10**400), "#/length_m", id="large"),
        pytest.param(10**5000, "#/length_m", id="long"),
        pytest.param([1, 10**5000], "#/length_m/1", id="long in a list"),
        (np.array([0.5, math.inf]), "#/length_m/1"),
    ],
)
def test_what_is_no_finite_number_is_not(value: Any, pointer: str) -> None:
    with pytest.raises(lastvolt.InvalidRequest) as caught:
        encoded({"length_m": value})
    assert caught.value.field_errors[0].pointer == pointer


@pytest.mark.parametrize(
    "column",
    [
        [Decimal(1), Fraction(2), 3.0],
        (1, 2.0, "300 cm"),
        range(1, 4),
        array("d", [1, 2, 3]),
        np.array([1, 2, 3]),
        np.ma.array([1.0, 2.0, 3.0]),
        np.array(["1 m", "200 cm", "3 m"]),
        pd.Series([1, 2, 3], dtype="Int64"),
        pd.Series([1, 2, 3], dtype="float32"),
        pyarrow.array([1.0, 2.0, 3.0]),
        pyarrow.array([Decimal(1), Decimal(2), Decimal(3)]),
    ],
    ids=lambda column: type(column).__name__,
)
@pytest.mark.parametrize("rows", [2, 3])
def test_columns_of_many_kinds_are_taken(column: Any, rows: int) -> None:
    with Client(EMBEDDED) as client:
        one = client.wire_resistance(size="12 AWG", length_m=1).resistance_ohm
        pieces = client.batch("wire-resistance", {"length_m": column},
                              constants={"size": "12 AWG"}, piece_rows=rows)  # fmt: skip
        found = [ohm for piece in pieces for ohm in piece.columns["resistance_ohm"]]
    assert found == pytest.approx([one, 2 * one, 3 * one])


def test_a_masked_cell_is_not_given() -> None:
    lengths = np.ma.array([1.0, 2.0], mask=[False, True])
    with Client(EMBEDDED) as client:
        (piece,) = client.batch("wire-resistance", {"length_m": lengths},
                                constants={"size": "12 AWG"})  # fmt: skip
    assert [(error.row, error.field) for error in piece.errors] == [(1, "length_m")]


WRONG = [
    lambda client: client.call(5, {}),
    lambda client: client.report("x", {}, "pdf"),
    lambda client: client.report("x", {}, ["md"]),
    lambda client: client.report_link("x", {}, "pdf"),
    lambda client: client.report_link("x", {}, units=5),
    lambda client: client.report("x", {}, units=5),
    lambda client: client.call("x", {1: 2}),
    lambda client: [*client.batch("x", 5)],
    lambda client: [*client.batch("x", [5])],
    lambda client: [*client.batch("x", {"length_m": {}.values()})],
    lambda client: [*client.batch("x", {"length_m": [1]}, piece_rows=0)],
    lambda client: [*client.batch("x", {"length_m": [1]}, connections=0)],
    lambda client: [*client.batch("x", {"length_m": [1]}, constants={1: 2})],
    lambda client: [*client.batch(5, {"length_m": [1]})],
    lambda client: [*client.batch_lines("circuit-check", 5)],
    lambda client: [*client.batch_lines("circuit-check", [{}], piece_lines=0)],
    lambda client: [*client.batch_lines("circuit-check", [{}], connections=0)],
    lambda _client: units.parse("1 m", "furlong"),
    lambda _client: units.parse(1, "m"),
]


@pytest.mark.usefixtures("nothing_sent")
@pytest.mark.parametrize("wrong", WRONG)
def test_every_error_is_of_the_family(wrong: Callable[[Any], Any]) -> None:
    with pytest.raises(lastvolt.LastvoltError):
        wrong(Client(URL))


@pytest.mark.parametrize(
    "url", ["http://a..b", "http://" + "a" * 300, "http://a b", "http://\ud800"],
)  # fmt: skip
def test_a_url_that_leads_nowhere_is_told_and_not_tried_again(url: str, waits: list[float]) -> None:
    with Client(url) as client, pytest.raises(lastvolt.ConnectionFailed):
        client.call("x", {})
    assert waits == []
