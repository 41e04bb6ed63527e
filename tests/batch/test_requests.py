"""What a batch as a whole refuses, and what it says of single rows."""

import json
from typing import Any

import numpy as np
import pytest
from flask.testing import FlaskClient

from lastvolt_service.api import OPERATIONS, problems
from lastvolt_service.api.batch import BATCHES
from lastvolt_service.api.batch_lines import lined, path_of
from lastvolt_service.api.document import document_json
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.openapi_batch import flat

WIRE = "/v1/batch/wire-resistance"


def ask(client: FlaskClient, columns: Any, constants: Any = None, path: str = WIRE) -> Any:
    return client.post(path, json={"columns": columns, "constants": constants or {}})


def pointers(response: Any) -> list[str]:
    return [error["pointer"] for error in response.get_json()["errors"]]


@pytest.mark.parametrize("operation", BATCHES, ids=lambda operation: operation.name)
def test_rows_that_all_lack_what_is_required_have_errors_and_no_results(
    client: FlaskClient, operation: Any
) -> None:
    """Each field of the example by itself: nothing is left to work out then."""
    name = operation.path.rpartition("/")[2]
    example = flat(next(each for each in OPERATIONS if each.name == name).schema.example)
    for column, value in example.items():
        answer = ask(client, {column: [value, value]}, path=operation.path)
        assert answer.status_code == 200, (column, answer.get_json())
        found = answer.get_json()
        assert {each["row"] for each in found["errors"]} == {0, 1}, column
        assert all(values == [None, None] for values in found["columns"].values()), column


def test_a_bad_row_is_named_and_spoils_no_other(client: FlaskClient) -> None:
    given = {"size": ["12 AWG", "12 AWG", "99 AWG", "12"], "length_m": [1.0, -1.0, 3.0, 4.0]}
    answer = ask(client, given).get_json()
    assert answer["rows"] == 4
    assert [(e["row"], e["field"]) for e in answer["errors"]] == [
        (1, "length_m"),
        (2, "size"),
        (3, "size"),
    ]
    assert "from 0 to 1000" in answer["errors"][0]["detail"]
    alone = ask(client, {"size": ["12 AWG"], "length_m": [1.0]}).get_json()
    for name, column in answer["columns"].items():
        assert column == [alone["columns"][name][0], None, None, None]


SPELT = ["12 AWG", "awg 12", "12 gauge", "#12", "2.5mm\u00b2", "2,5 mm2", "12"]


@pytest.mark.parametrize("size", SPELT)
def test_a_size_in_a_column_is_read_as_in_a_request(client: FlaskClient, size: str) -> None:
    """As a cell among others, which may say the same size, and as a constant."""
    alone = client.post("/v1/wire-resistance", json={"size": size, "length_m": 2.0})
    cells = ask(client, {"size": [*SPELT, size], "length_m": [1.0] * len(SPELT) + [2.0]}).get_json()
    constant = ask(client, {"length_m": [2.0]}, {"size": size})
    if alone.status_code == 422:
        assert [error["row"] for error in cells["errors"]] == [len(SPELT) - 1, len(SPELT)]
        assert constant.status_code == 422
        return
    expected = alone.get_json()["resistance_ohm"]
    assert cells["columns"]["resistance_ohm"][-1] == expected
    assert constant.get_json()["columns"]["resistance_ohm"] == [expected]


def test_where_no_row_is_good_there_are_no_results(client: FlaskClient) -> None:
    answer = ask(client, {"size": ["12 AWG"], "length_m": [-1]}).get_json()
    assert set(answer["columns"]) == {
        "standard", "area_mm2", "temperature_c", "temperature_source",
        "resistance_ohm_per_m", "resistance_ohm", "check_wires_heat", "verdict",
    }  # fmt: skip
    assert all(column == [None] for column in answer["columns"].values())


def test_where_no_row_is_good_a_lone_column_makes_no_fault(client: FlaskClient) -> None:
    """One column of numbers without a good one leaves arrays of no rows beside plain numbers."""
    answer = ask(client, {"grouped_conductors": [0, -1]}, path="/v1/batch/fuse-selection")
    assert answer.status_code == 200
    assert {error["row"] for error in answer.get_json()["errors"]} == {0, 1}


@pytest.mark.parametrize(
    ("operation", "field"),
    [
        ("wire-resistance", "size"),
        ("wire-resistance", "material"),
        ("voltage-drop", "circuit"),
        ("wire-heating", "insulation"),
        ("wire-sizing", "material"),
        ("wire-sizing", "standard"),
        ("fuse-selection", "fuse_family"),
        ("relay-coil", "suppression_kind"),
        ("relay-contact", "load_kind"),
    ],
)
def test_a_word_that_no_good_row_says_is_looked_up_nowhere(
    client: FlaskClient, operation: str, field: str
) -> None:
    response = ask(client, {field: ["ã", "x"]}, path=f"/v1/batch/{operation}")
    assert response.status_code == 200
    answer = response.get_json()
    assert {(e["row"], e["field"]) for e in answer["errors"]} >= {(0, field), (1, field)}
    assert all(column == [None, None] for column in answer["columns"].values())


def test_null_is_not_given(client: FlaskClient) -> None:
    given = {
        "size": ["12 AWG"] * 3,
        "length_m": [1, 1, None],
        "temperature_c": [20, None, None],
        "standard": [None, "AWG", None],
        "material": [None, "copper", None],
    }
    answer = ask(client, given).get_json()
    ohm = answer["columns"]["resistance_ohm"]
    assert ohm[0] == ohm[1]
    assert answer["errors"] == [{"row": 2, "field": "length_m", "detail": "This is required."}]


def test_words_stand_once(client: FlaskClient) -> None:
    answer = ask(client, {"length_m": [1, 2]}, {"size": "12 AWG"}).get_json()
    single = client.post("/v1/wire-resistance", json={"size": "12 AWG", "length_m": 1}).get_json()
    for name in ("basis", "cautions", "computed_by"):
        assert answer[name] == single[name]
    assert answer["verdicts"]["2"] == "fail"


@pytest.mark.parametrize(
    ("columns", "constants", "pointer"),
    [
        pytest.param({"size": "12 AWG"}, {}, "#/columns/size", id="no list"),
        pytest.param({"length_m": [1, 2], "size": ["12 AWG"]}, {}, "#/columns/size", id="length"),
        pytest.param({"length_m": [1, "2"]}, {}, "#/columns/length_m/1", id="text for a number"),
        pytest.param({"length_m": [1, True]}, {}, "#/columns/length_m/1", id="true for a number"),
        pytest.param({"size": ["12 AWG", 12]}, {}, "#/columns/size/1", id="number for a text"),
        pytest.param({"size": ["12 AWG", []]}, {}, "#/columns/size/1", id="list for a text"),
        pytest.param({"lenght_m": [1]}, {}, "#/columns/lenght_m", id="unknown column"),
        pytest.param({"length_m": [1]}, {"sise": "x"}, "#/constants/sise", id="unknown constant"),
        pytest.param({"size": ["12 AWG"]}, {"length_m": -1}, "#/constants/length_m", id="range"),
        pytest.param({"length_m": [1]}, {"size": None}, "#/constants/size", id="null constant"),
        pytest.param({"length_m": [1]}, {"length_m": 1}, "#/constants/length_m", id="both"),
        pytest.param({"length_m": [1]}, {"size": "99 AWG"}, "#/constants/size", id="no such size"),
        pytest.param({}, {"length_m": 1}, "#/columns", id="no column"),
        pytest.param({"length_m": []}, {}, "#/columns", id="no row"),
        pytest.param([], {}, "#/columns", id="no object"),
    ],
)
def test_a_wrong_column_is_one_refusal(
    client: FlaskClient, columns: Any, constants: Any, pointer: str
) -> None:
    response = ask(client, columns, constants)
    assert response.status_code == 422
    assert pointers(response) == [pointer]


def test_results_may_be_chosen(client: FlaskClient) -> None:
    body = {"columns": {"length_m": [1, 2]}, "constants": {"size": "12 AWG"}}
    whole = client.post(WIRE, json=body).get_json()
    some = client.post(WIRE, json={**body, "results": ["resistance_ohm"]}).get_json()
    assert some["columns"] == {"resistance_ohm": whole["columns"]["resistance_ohm"]}
    for wrong in (["no_such_ohm"], [1], "resistance_ohm"):
        response = client.post(WIRE, json={**body, "results": wrong})
        assert response.status_code == 422
        assert pointers(response) == ["#/results"]


def test_unknown_members_are_refused(client: FlaskClient) -> None:
    response = client.post(WIRE, json={"columns": {"length_m": [1]}, "rows": 1})
    assert response.status_code == 422
    assert pointers(response) == ["#/rows"]


@pytest.mark.parametrize(
    "body",
    [
        pytest.param('{"columns": {"length_m": [1], "length_m": [2]}}', id="key twice"),
        pytest.param('{"columns": {"length_m": [1]}, "columns": {}}', id="member twice"),
        pytest.param('{"columns": {"length_m": [NaN]}}', id="NaN"),
        pytest.param('{"columns": {"length_m": [1e999]}}', id="infinite"),
        pytest.param('{"columns": {"size": ["\\ud800"]}}', id="half a pair"),
        pytest.param('{"columns": {"length_m": [1,]}}', id="comma"),
        pytest.param("", id="nothing"),
    ],
)
def test_json_is_as_strict_as_for_one(client: FlaskClient, body: str) -> None:
    response = client.post(WIRE, data=body, content_type="application/json")
    assert response.status_code == 400
    assert response.get_json()["type"] == "/problems/not-json"


def test_a_colon_in_a_text_is_no_key(client: FlaskClient) -> None:
    answer = ask(client, {"size": ["12: AWG"], "length_m": [1]}).get_json()
    assert [error["field"] for error in answer["errors"]] == ["size"]


def test_too_many_rows_are_413() -> None:
    client = create_app(Config(max_batch_rows=3)).test_client()
    assert ask(client, {"length_m": [1] * 3}, {"size": "12 AWG"}).status_code == 200
    response = ask(client, {"length_m": [1] * 4}, {"size": "12 AWG"})
    assert response.status_code == 413
    assert "3 rows" in response.get_json()["detail"]


def test_numbers_beyond_all_bounds_are_errors_of_their_rows(client: FlaskClient) -> None:
    answer = ask(client, {"length_m": [10**40, 1]}, {"size": "12 AWG"}).get_json()
    assert [error["row"] for error in answer["errors"]] == [0]


def test_groups_are_held_row_by_row(client: FlaskClient) -> None:
    given = {
        "load_current_a": [5, None, 5, None],
        "load_power_w": [None, 60, 60, None],
        "segments_1_length_m": [1.0] * 4,
    }
    fixed = {
        "supply_v": 12.6, "segments_1_name": "feed", "segments_1_kind": "wire",
        "segments_1_size": "12 AWG",
    }  # fmt: skip
    answer = ask(client, given, fixed, "/v1/batch/voltage-drop").get_json()
    assert [(error["row"], error["field"]) for error in answer["errors"]] == [
        (2, "load_power_w"),
        (3, ""),
    ]
    current = answer["columns"]["current_a"]
    assert current[0] == 5.0
    assert current[1] == pytest.approx(60 / answer["columns"]["load_voltage_v"][1])
    codes = answer["columns"]["check_voltage_collapse"][:2]
    told = [answer["verdicts"][str(code)] for code in codes]
    assert told == ["nothing to check in this row", "pass"]


def test_log_counts_rows(app: Any, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level("INFO", logger="lastvolt_service.requests")
    ask(app.test_client(), {"length_m": [1, 2, 3]}, {"size": "12 AWG"})
    assert caplog.records[-1].request["rows"] == 3


def test_the_document_describes_what_is_answered(client: FlaskClient) -> None:
    paths = {
        path: methods["post"]
        for path, methods in json.loads(document_json())["paths"].items()
        if path.startswith("/v1/batch/")
    }
    in_lines = {path_of(operation) for operation in lined(OPERATIONS)}
    assert paths.keys() == {*in_lines, *(operation.path for operation in BATCHES)}
    for path, described in paths.items():
        if path in in_lines:
            continue
        content = described["requestBody"]["content"]["application/json"]
        answer = client.post(path, json=content["examples"]["worked"]["value"]).get_json()
        published = described["responses"]["200"]["content"]["application/json"]
        assert answer == published["examples"]["worked"]["value"]
        assert answer["errors"] == []


def test_a_flat_row_joins_names() -> None:
    assert flat({"a": {"b": 1}, "c": [{"d": 2}, {"d": 3}]}) == {"a_b": 1, "c_1_d": 2, "c_2_d": 3}


def test_a_million_cells_take_no_more_memory_than_their_text(client: FlaskClient) -> None:
    """Columns stay columns: no object for each row is left behind by a request."""
    import tracemalloc

    rows = np.arange(1, 50_001) / 100
    body = json.dumps({"columns": {"length_m": rows.tolist()}, "constants": {"size": "12 AWG"}})
    client.post(WIRE, data=body, content_type="application/json")
    tracemalloc.start()
    client.post(WIRE, data=body, content_type="application/json")
    kept, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert kept < 1_000_000
    # Two results of each row beside the two of it alone: what was reckoned with, and whose it is.
    assert peak < 30 * len(body) + 50_000 * 200


NAMES = [f"column_{number}" for number in range(100_000)]


@pytest.mark.parametrize(
    ("body", "first"),
    [
        pytest.param(
            {"columns": {name: [1] for name in NAMES}}, "#/columns/column_0", id="columns"
        ),
        pytest.param({"columns": dict.fromkeys(NAMES, 1)}, "#/columns/column_0", id="no lists"),
        pytest.param(
            {"columns": {"length_m": [1]}, "constants": dict.fromkeys(NAMES, 1)},
            "#/constants/column_0",
            id="constants",
        ),
        pytest.param(dict.fromkeys(NAMES, 1), "#/column_0", id="members"),
    ],
)
def test_names_without_end_are_counted_and_the_first_told(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch, body: Any, first: str
) -> None:
    """A million of them took a minute: each got its pointer written."""
    written: list[object] = []
    pointer = problems.pointer

    def count(path: Any) -> str:
        written.append(path)
        return pointer(path)

    monkeypatch.setattr(problems, "pointer", count)
    response = client.post(WIRE, data=json.dumps(body), content_type="application/json")
    assert response.status_code == 422
    detail = f"{first}: There is no such field. (99999 more) Only the first 50 are listed."
    assert response.get_json()["detail"] == detail
    assert pointers(response) == [first.replace("_0", f"_{number}") for number in range(50)]
    assert len(written) == 50


def test_unknown_fields_of_one_request_are_counted(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[object] = []
    pointer = problems.pointer
    monkeypatch.setattr(problems, "pointer", lambda path: written.append(path) or pointer(path))
    body = {"size": "12 AWG", "length_m": 1, **dict.fromkeys(NAMES[:30_000], 1)}
    response = client.post("/v1/wire-resistance", json=body)
    assert response.status_code == 422
    assert "(29999 more) Only the first 50" in response.get_json()["detail"]
    assert len(written) == 50
