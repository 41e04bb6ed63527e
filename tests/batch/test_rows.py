"""Each row of a batch is what the operation says of that row alone."""

import json
import math
from typing import Any

import numpy as np
import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from marshmallow import validate

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json
from lastvolt_service.api.batch import BATCHES, BatchOperation
from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError
from lastvolt_service.operations import batch
from lastvolt_service.schemas.column_names import kinds_of
from lastvolt_service.schemas.fields import Count, Flag, Many, Name, Part, Quantity, Size

from ..cost import some

SINGLE = {operation.name: operation for operation in OPERATIONS}
SIZES = ("12 AWG", "18 AWG", "2/0 AWG", "40 AWG", "12 SAE", "2.5 mm2", "0.75 mm2", "7 AWG", "9 mm2")
# Where most vehicles lie; any value within the bounds of the field is drawn as well.
USUAL = {
    "supply_v": (9, 28), "available_v": (6, 14), "length_m": (0, 12), "temperature_c": (0, 120),
    "ambient_c": (0, 100), "load_current_a": (0.1, 40), "current_a": (0.1, 80),
    "resistance_ohm": (1e-3, 0.05), "pick_up_v": (5, 9), "drop_out_v": (0.5, 4),
    "coil_resistance_ohm": (40, 200), "rating_a": (5, 40), "outer_diameter_mm": (3, 20),
    "permissible_current_a": (5, 80), "inrush_current_a": (1, 150), "fuse_ambient_c": (-20, 80),
    "on_time_s": (0.1, 600), "insulation_limit_c": (80, 150),
}  # fmt: skip
# Of what a single answer holds and columns do not: lists, the request's own words, whole texts.
NESTED = {
    "checks",
    "headline",
    "not_judged",
    "verdict",
    "basis",
    "cautions",
    "computed_by",
    "candidates",
}
OWN = {"size", "standard", "suppression_kind", "permissible_basis"}
OF_ITEMS = ("_name", "_kind")


def value(name: str, field: Any) -> st.SearchStrategy[Any]:
    rule = field.validators[0] if field.validators else None
    if isinstance(field, Size):
        return st.sampled_from(SIZES)
    if isinstance(field, Name):
        return st.sampled_from(["feed", "key switch", "ground"])
    if isinstance(field, Flag):
        return st.booleans()
    if isinstance(rule, validate.OneOf):
        return st.sampled_from([*rule.choices])
    if isinstance(field, Count):
        return st.integers(rule.min, rule.max)
    assert isinstance(field, Quantity)
    anywhere = st.floats(rule.min, rule.max)
    usual = next((ends for end, ends in USUAL.items() if name.endswith(end)), None)
    if usual is None:
        return anywhere
    low, high = max(usual[0], rule.min), min(usual[1], rule.max)
    if low > high:
        return anywhere
    return st.one_of(st.floats(low, high), st.floats(low, high), st.floats(low, high), anywhere)


@st.composite
def request(draw: st.DrawFn, schema: Any) -> dict[str, Any]:
    """Draw a request as JSON has it; groups are seldom broken."""
    left_out: set[str] = set()
    needed = {name for names in schema.together for name in names}
    if draw(st.integers(0, 9)):
        for names in (*schema.exactly_one_of, *schema.at_most_one_of):
            kept = draw(st.sampled_from(names))
            left_out |= set(names) - {kept}
            needed.add(kept)
        for names in schema.at_least_one_of:
            needed.add(draw(st.sampled_from(names)))
        for names in schema.together:
            if left_out & set(names):
                left_out |= set(names)
    found: dict[str, Any] = {}
    for name, field in schema.fields.items():
        if name in left_out or not (field.required or name in needed or draw(st.booleans())):
            continue
        if isinstance(field, Part):
            found[name] = draw(request(field.schema))
        elif isinstance(field, Many):
            items = st.one_of(*map(request, kinds_of(field.inner)))
            found[name] = draw(st.lists(items, min_size=field.minimum, max_size=3))
            for place, item in enumerate(found[name], 1):
                if "name" in item:  # each its own, so that checks tell which they are about
                    item["name"] += f" {place}"
        else:
            found[name] = draw(value(name, field))
    return found


def flat(given: dict[str, Any], prefix: str = "") -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, item in given.items():
        if isinstance(item, dict):
            found |= flat(item, f"{prefix}{name}_")
        elif isinstance(item, list):
            for place, each in enumerate(item, 1):
                found |= flat(each, f"{prefix}{name}_{place}_")
        else:
            found[prefix + name] = item
    return found


def alone(operation: BatchOperation, row: dict[str, Any]) -> Any:
    """Answer of the operation on one, or why there is none."""
    try:
        answer = SINGLE[operation.name].answer(row)
        return json.loads(to_json(answer))
    except Refused as refused:
        return {error["detail"] for error in refused.errors}
    except CalculationError as error:
        return {error.detail}
    except ValueError:  # a result beyond all numbers
        return {"The inputs are too extreme: a result is not a finite number."}


def same(one: Any, other: Any) -> bool:
    if isinstance(one, float | int) and isinstance(other, float | int):
        # Vector and scalar routines of numpy may round the last of 16 digits differently, and
        # differences of nearly equal numbers lose some.
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    return bool(one == other)


def assert_row(single: Any, row: dict[str, Any], verdicts: dict[str, str]) -> None:
    values = flat({key: v for key, v in single.items() if key not in NESTED})
    for key, expected in values.items():
        if key in row or not (key in OWN or key.endswith(OF_ITEMS)):
            assert same(row[key], expected), (key, row[key], expected)
    places = {part["name"]: place for place, part in enumerate(single.get("segments", ()), 1)}
    sure = True
    for check in single["checks"]:
        told = check["code"] or check["name"].replace(",", " ").replace("-", " ")
        place = f"segments_{places[check['part']]}_" if check["part"] in places else ""
        column = f"check_{place}{'_'.join(told.split())}"
        said = verdicts[str(row[column])]
        edge = min(
            abs(check["margin"] or 1.0),
            abs((check["margin"] or 1.0) - 0.1 * abs(check["limit"] or 0.0)),
        )
        if edge > 1e-9:
            assert said == check["verdict"], (check, said)
        else:
            sure = False
    if sure and single["checks"]:
        worst = next(
            verdict
            for verdict in ("fail", "undecided", "unknown", "marginal", "pass")
            if any(check["verdict"] == verdict for check in single["checks"])
        )
        assert verdicts[str(row["verdict"])] == worst


def ask(client: FlaskClient, operation: BatchOperation, rows: list[dict[str, Any]]) -> Any:
    given = [flat(row) for row in rows]
    names = {name for row in given for name in row}
    columns = {name: [row.get(name) for row in given] for name in names}
    response = client.post(operation.path, json={"columns": columns})
    assert response.status_code == 200, response.text
    return response.get_json()


@pytest.mark.hypothesis
@pytest.mark.parametrize("operation", BATCHES, ids=lambda operation: operation.name)
def test_each_row_is_the_single_answer(app: Any, operation: BatchOperation) -> None:
    seen = {"answered": 0, "refused": 0}

    @settings(
        max_examples=some(25, 60), deadline=None, suppress_health_check=[HealthCheck.too_slow]
    )
    @given(st.lists(request(operation.schema), min_size=2, max_size=8))
    def check(rows: list[dict[str, Any]]) -> None:
        rows = [row for row in rows if flat(row)]
        if not rows:
            return
        answer = ask(app.test_client(), operation, rows)
        errors: dict[int, set[str]] = {}
        for error in answer["errors"]:
            errors.setdefault(error["row"], set()).add(error["detail"])
        for index, given_row in enumerate(rows):
            single = alone(operation, given_row)
            row = {name: column[index] for name, column in answer["columns"].items()}
            if isinstance(single, set):
                seen["refused"] += 1
                assert errors[index] & single, (errors.get(index), single)
                assert set(row.values()) <= {None}
            else:
                seen["answered"] += 1
                assert index not in errors, errors[index]
                assert_row(single, row, answer["verdicts"])

    check()
    assert seen["answered"] > 5
    assert seen["refused"] > 0


@pytest.mark.parametrize("operation", BATCHES, ids=lambda operation: operation.name)
@settings(
    max_examples=some(5, 12),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(data=st.data())
def test_order_of_rows_does_not_matter(
    app: Any, operation: BatchOperation, data: st.DataObject
) -> None:
    rows = data.draw(st.lists(request(operation.schema).filter(flat), min_size=2, max_size=6))
    order = data.draw(st.permutations(range(len(rows))))
    straight = ask(app.test_client(), operation, rows)
    mixed = ask(app.test_client(), operation, [rows[place] for place in order])
    for name, column in straight["columns"].items():
        assert mixed["columns"][name] == [column[place] for place in order], name
    assert sorted((order[e["row"]], e["field"], e["detail"]) for e in mixed["errors"]) == sorted(
        (e["row"], e["field"], e["detail"]) for e in straight["errors"]
    )


@pytest.mark.parametrize("operation", BATCHES, ids=lambda operation: operation.name)
def test_a_constant_is_a_column_of_the_same(client: FlaskClient, operation: BatchOperation) -> None:
    row = flat(operation.schema.example)
    first, *_ = row
    as_columns = ask(client, operation, [operation.schema.example] * 3)
    constants = {name: item for name, item in row.items() if name != first}
    body = {"columns": {first: [row[first]] * 3}, "constants": constants}
    answer = client.post(operation.path, json=body).get_json()
    columns, others = answer.pop("columns"), as_columns.pop("columns")
    assert answer == as_columns
    assert columns.keys() == others.keys()
    for name, column in columns.items():
        assert all(map(same, column, others[name])), name


def test_a_row_that_comes_to_no_finite_number_is_refused_and_no_other():
    """Whatever of its columns it is in; what is not known, NaN, is no fault."""
    columns = {
        "drop_v": np.array([1.0, np.inf, np.nan, 1.0]),
        "current_a": np.array([1.0, 1.0, 1.0, -np.inf]),
        "count": np.arange(4),
    }
    assert [refusal.row for refusal in batch._extreme(columns, 4)] == [1, 3]
