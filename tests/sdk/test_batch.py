"""Batches through the client: pieces in order, of the kind that was given, asked for again."""

import itertools
import json
import math
from collections.abc import Iterator
from typing import Any

import numpy as np
import pandas
import pyarrow
import pytest
import requests
import responses

from lastvolt import EMBEDDED, Client, InvalidRequest, RowError, ServerUnavailable, batch, columns
from lastvolt_service.operations.circuits.check import CircuitCheckRequest

URL = "http://lastvolt.test"
LENGTHS = [float(n) for n in range(1, 11)]
FIXED = {"size": "12 AWG"}


@pytest.fixture
def client() -> Iterator[Client]:
    with Client(EMBEDDED) as found:
        yield found


def ohms(client: Client, columns: Any, **options: Any) -> list[float]:
    pieces = client.batch("wire-resistance", columns, constants=FIXED, **options)
    return [ohm for piece in pieces for ohm in piece.columns["resistance_ohm"]]


def test_pieces_come_in_order_and_say_how_far(client: Client) -> None:
    told: list[tuple[int, int | None]] = []
    pieces = [
        *client.batch(
            "wire-resistance",
            {"length_m": LENGTHS},
            constants=FIXED,
            piece_rows=3,
            progress=lambda done, total: told.append((done, total)),
        )
    ]
    assert [(piece.first_row, piece.rows) for piece in pieces] == [(0, 3), (3, 3), (6, 3), (9, 1)]
    assert told == [(3, 10), (6, 10), (9, 10), (10, 10)]
    alone = client.wire_resistance(size="12 AWG", length_m=1)
    found = [ohm for piece in pieces for ohm in piece.columns["resistance_ohm"]]
    assert found == pytest.approx([alone.resistance_ohm * length for length in LENGTHS])
    assert pieces[0].cautions == alone.cautions
    assert pieces[0].computed_by == alone.computed_by
    assert pieces[0].verdicts[0] == "pass"


def test_an_operation_may_be_named_as_its_method(client: Client) -> None:
    rows = {"length_m": LENGTHS}
    (by_path,) = client.batch("wire-resistance", rows, constants=FIXED)
    (by_method,) = client.batch("wire_resistance", rows, constants=FIXED)
    assert by_method.columns == by_path.columns


def test_errors_count_rows_from_the_beginning(client: Client) -> None:
    lengths = [*LENGTHS[:4], -1.0]
    pieces = [
        *client.batch("wire-resistance", {"length_m": lengths}, constants=FIXED, piece_rows=2)
    ]
    errors = [error for piece in pieces for error in piece.errors]
    assert errors == [RowError(4, "length_m", "This must be from 0 to 1000 m.")]
    assert pieces[-1].columns["resistance_ohm"] == [None]


def test_any_number_of_rows_is_read_as_it_is_used(client: Client) -> None:
    taken = itertools.count()
    endless = ({"length_m": [float(next(taken) + 1)]} for _ in itertools.count())
    pieces = client.batch("wire-resistance", endless, constants=FIXED, connections=2)
    first = [next(pieces).first_row for _ in range(5)]
    pieces.close()
    assert first == [0, 1, 2, 3, 4]
    assert next(taken) < 12


def test_numpy_in_numpy_out(client: Client) -> None:
    given = {"length_m": np.array(LENGTHS)}
    (piece,) = client.batch("wire-resistance", given, constants=FIXED)
    assert piece.columns["resistance_ohm"].dtype == float
    assert piece.columns["standard"].tolist() == ["AWG"] * 10


def test_frames_in_frames_out(client: Client) -> None:
    frame = pandas.DataFrame({"length_m": LENGTHS}, index=range(100, 110))
    pieces = [*client.batch("wire-resistance", frame, constants=FIXED, piece_rows=6)]
    joined = pandas.concat([piece.columns for piece in pieces])
    assert joined.index.tolist() == frame.index.tolist()
    assert joined["resistance_ohm"].tolist() == ohms(client, {"length_m": LENGTHS})


@pytest.mark.parametrize("dtype", ["Float64", "Int64", "float64", "object"])
def test_what_a_frame_lacks_is_not_given(client: Client, dtype: str) -> None:
    given = pandas.Series([20, None], dtype=dtype)
    frame = pandas.DataFrame({"length_m": [1.0, 1.0], "temperature_c": given})
    one, other = ohms(client, frame)
    assert one == other


def test_arrow_in_arrow_out(client: Client) -> None:
    table = pyarrow.table({"length_m": LENGTHS})
    (piece,) = client.batch("wire-resistance", table, constants=FIXED)
    assert piece.columns["resistance_ohm"].to_pylist() == ohms(client, {"length_m": LENGTHS})


@pytest.mark.parametrize("kind", [list, np.array])
@pytest.mark.parametrize("fast", [True, False])
def test_nothing_given_is_none_or_nan(
    client: Client, monkeypatch: pytest.MonkeyPatch, kind: Any, fast: bool
) -> None:
    if not fast:
        for module in (batch, columns):
            monkeypatch.setattr(module, "orjson", lambda: None)
    given = {"length_m": kind([1.0, 1.0]), "temperature_c": kind([20.0, float("nan")])}
    one, other = ohms(client, given)
    assert one == other


def test_a_wrong_column_is_an_error(client: Client) -> None:
    with pytest.raises(InvalidRequest) as caught:
        ohms(client, {"lenght_m": [1.0]})
    assert caught.value.field_errors[0].pointer == "#/columns/lenght_m"


@responses.activate
def test_a_piece_is_asked_for_again(waits: list[float]) -> None:
    answer = {
        "rows": 1, "columns": {"resistance_ohm": [1.0]}, "verdicts": {}, "errors": [],
        "basis": [], "cautions": [], "computed_by": {"service": "1", "tables": "2"},
    }  # fmt: skip
    url = f"{URL}/v1/batch/wire-resistance"
    responses.post(url, status=503)
    responses.post(url, body=requests.ConnectionError("gone"))
    responses.post(url, json=answer)
    with Client(URL, session=requests.Session()) as client:
        assert ohms(client, {"length_m": [1.0]}) == [1.0]
    assert len(waits) == 2
    sent = json.loads(responses.calls[-1].request.body)
    assert sent == {"columns": {"length_m": [1.0]}, "constants": FIXED}


@pytest.mark.usefixtures("waits")
@responses.activate
def test_in_the_end_the_error_comes_out() -> None:
    responses.post(f"{URL}/v1/batch/wire-resistance", status=503)
    with (
        Client(URL, session=requests.Session()) as client,
        pytest.raises(ServerUnavailable),
    ):
        ohms(client, {"length_m": [1.0]})


def test_circuits_are_answered_one_by_one(client: Client) -> None:
    example = CircuitCheckRequest.example
    found = [*client.batch_lines("circuit-check", [example, {}, example], piece_lines=2)]
    assert [each["status"] for each in found] == [200, 422, 200]
    assert found[0]["answer"] == client.call("circuit-check", example)


def test_a_circuit_that_cannot_be_sent_costs_no_other(client: Client) -> None:
    example = CircuitCheckRequest.example
    endless: dict[str, Any] = {}
    endless["circuit"] = endless
    poisoned = [
        {"circuit": math.nan},
        {"circuit": {"length_m": "12 parsecs"}},
        {"circuit": object()},
        {"circuit": "x" * (1 << 20)},
        {("a", "tuple"): 1},
        endless,
        [1],
        b"",
        b"{",
        b'{"a": 1, "a": 1}',
        b'{"circuit":\n1}',
    ]
    given: list[Any] = [part for each in poisoned for part in (each, example)]
    found = [*client.batch_lines("circuit-check", given, piece_lines=3)]
    assert len(found) == len(given)
    assert [each["status"] for each in found[1::2]] == [200] * len(poisoned)
    for each in found[::2]:
        assert each["status"] in {400, 422}
        assert each["problem"]["detail"]
    assert found[0]["problem"]["errors"] == [
        {"pointer": "#/circuit", "detail": "This must be a finite number, not nan."}
    ]
    assert found[2]["problem"]["errors"][0]["pointer"] == "#/circuit/length_m"
    alone = [*client.batch_lines("circuit-check", poisoned[:3])]
    assert [each["status"] for each in alone] == [422] * 3


@pytest.mark.parametrize("kind", [list, np.array])
@pytest.mark.parametrize("endless", [math.inf, -math.inf])
def test_an_endless_number_is_not_taken_for_none(client: Client, kind: Any, endless: float) -> None:
    columns = {"temperature_c": kind([20.0, 30.0, endless])}
    with pytest.raises(InvalidRequest) as caught:
        next(client.batch("wire-resistance", columns, constants={"size": "12 AWG", "length_m": 1}))
    assert caught.value.field_errors[0].pointer == "#/columns/temperature_c/2"
    assert "finite" in caught.value.field_errors[0].detail
