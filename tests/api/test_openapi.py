"""The OpenAPI document: current, valid, and true of what the service does."""

import json

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.document import document_json
from lastvolt_service.openapi import written
from lastvolt_service.units import UNITS, unit_of

DOCUMENT = json.loads(document_json())
SCHEMAS = DOCUMENT["components"]["schemas"]
OPERATIONS_BY_ID = {
    spec["operationId"]: (method, path, spec)
    for path, methods in DOCUMENT["paths"].items()
    if not path.startswith(("/v1/reports/", "/v1/batch/"))  # their own tests hold them
    for method, spec in methods.items()
}
NUMERIC = {"number", "integer"}


def test_committed_document_is_current():
    """If not: python -m lastvolt_service.openapi service/lastvolt_service/openapi.json."""
    assert document_json() == written()


def test_document_is_valid():
    # Here, for its import alone takes seconds, and every worker reads this file.
    from openapi_spec_validator import OpenAPIV31SpecValidator

    assert DOCUMENT["openapi"].startswith("3.1.")
    OpenAPIV31SpecValidator(DOCUMENT).validate()


def test_service_serves_the_document(client):
    assert client.get("/openapi.json").text == document_json()


def test_every_operation_is_described():
    assert set(OPERATIONS_BY_ID) == {operation.operation_id for operation in OPERATIONS}
    for _, path, spec in OPERATIONS_BY_ID.values():
        assert spec["summary"], path
        assert spec["description"], path
        assert spec["tags"], path
        assert "422" in spec["responses"], path


def content(part):
    return part["content"]["application/json"]


@pytest.mark.parametrize("operation_id", OPERATIONS_BY_ID)
def test_examples_are_answered_as_published(client, worked, operation_id):
    method, path, spec = OPERATIONS_BY_ID[operation_id]
    answers = content(spec["responses"]["200"])["examples"]
    operation = next(item for item in OPERATIONS if item.path == path)
    found = {"worked": worked(operation.name)}
    if method == "post":
        asked = {
            name: each["value"] for name, each in content(spec["requestBody"])["examples"].items()
        }
        assert set(asked) == set(answers)
        assert asked.pop("worked") == operation.schema.example
        found |= {name: client.post(path, json=body) for name, body in asked.items()}
    for name, response in found.items():
        assert response.status_code == 200
        answer, published = response.get_json(), dict(answers[name]["value"])
        assert answer.pop("computed_by").keys() == published.pop("computed_by").keys()
        assert_as_printed(answer, published)


def assert_as_printed(answer, published):
    """Numbers are published to six digits: half of the last is 5e-6 of the least such number."""
    if isinstance(published, dict):
        assert answer.keys() == published.keys()
        for name, each in published.items():
            assert_as_printed(answer[name], each)
    elif isinstance(published, list):
        for mine, each in zip(answer, published, strict=True):
            assert_as_printed(mine, each)
    elif isinstance(published, float):
        assert answer == pytest.approx(published, rel=5.1e-6, abs=1e-9)
    else:
        assert answer == published


def resolve(schema):
    while "$ref" in schema:
        schema = SCHEMAS[schema["$ref"].rpartition("/")[2]]
    return schema


def numbers(schema, name, seen):
    """Every number below a schema, with the name of the property that holds it."""
    if "$ref" in schema:
        if schema["$ref"] in seen:
            return
        seen.add(schema["$ref"])
    schema = resolve(schema)
    kinds = schema.get("type", ())
    if NUMERIC & set([kinds] if isinstance(kinds, str) else kinds):
        yield name, schema
    if "x-unit" in schema and "oneOf" in schema:  # a number or an interval of it
        number, interval = schema["oneOf"]
        for end in (number, *interval["properties"].values()):
            yield name, {**schema, **end}
        return
    for inner, value in schema.get("properties", {}).items():
        yield from numbers(value, inner, seen)
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from numbers(schema[key], name, seen)
    for key in ("oneOf", "anyOf", "allOf"):
        for value in schema.get(key, ()):
            yield from numbers(value, name, seen)


def asked_numbers():
    seen = set()
    for method, path, spec in OPERATIONS_BY_ID.values():
        if method == "get":
            for parameter in spec["parameters"]:
                yield from numbers(parameter["schema"], parameter["name"], seen)
        else:
            yield from numbers(content(spec["requestBody"])["schema"], path, seen)


def answered_numbers():
    seen = set()
    for _, path, spec in OPERATIONS_BY_ID.values():
        yield from numbers(content(spec["responses"]["200"])["schema"], path, seen)


def test_numbers_of_requests_have_unit_bounds_and_description():
    found = list(asked_numbers())
    assert len(found) > 40
    for name, schema in found:
        unit = unit_of(name)
        assert schema.get("x-unit") == (unit.symbol if unit else None), name
        # What has no unit is counted, and whole.
        assert unit or schema["type"] == "integer", name
        assert schema["description"], name
        if "enum" in schema:
            assert schema["enum"], name
        else:
            assert schema["minimum"] < schema["maximum"], name
            assert unit is None or unit.minimum <= schema["maximum"], name


# Numbers of answers that bear no unit in their name: those of checks, steps and remedies are in the
# unit that stands beside them or in that of a field, the others are counted in what has none.
UNITLESS_ANSWERS = {
    "value", "limit", "margin", "inputs", "new_value", "value_before", "value_after",
    "limit_before", "limit_after", "low", "high", "release_time_constants", "values",
    # Of a fit: in the unit that stands beside them, or plain numbers.
    "estimate", "given_low", "given_high", "standard_uncertainty", "coverage_factor", "together",
    "read", "fitted", "normalised", "expected_low", "expected_high", "chi_squared",
    "degrees_of_freedom", "probability", "new_samples", "correlation",
    # Of a plan of readings: in the unit of the reading.
    "usual", "step", "least", "most", "shows",
}  # fmt: skip


def test_numbers_of_answers_have_unit_and_description():
    found = list(answered_numbers())
    assert len(found) > 40
    for name, schema in found:
        unit = unit_of(name)
        assert schema.get("x-unit") == (unit.symbol if unit else None), name
        assert unit or name in UNITLESS_ANSWERS or schema["type"] == "integer", name
        assert schema.get("description"), name


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_property_is_described(name):
    assert SCHEMAS[name].get("description"), name
    for field, schema in SCHEMAS[name].get("properties", {}).items():
        kinds = resolve(schema)
        assert schema.get("description") or kinds.get("description"), f"{name}.{field}"


def test_symbols_are_known():
    symbols = {schema["x-unit"] for _, schema in asked_numbers() if "x-unit" in schema}
    assert symbols <= {unit.symbol for unit in UNITS}


def test_requests_are_closed_and_answers_are_open():
    for method, path, spec in OPERATIONS_BY_ID.values():
        if method != "get":
            asked = resolve(content(spec["requestBody"])["schema"])
            assert asked["additionalProperties"] is False, path
        answered = resolve(content(spec["responses"]["200"])["schema"])
        assert answered.get("additionalProperties", True) is True, path
