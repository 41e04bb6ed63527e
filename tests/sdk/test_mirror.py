"""The package says what the OpenAPI document says: arguments, choices, fields and their types."""

import dataclasses
import inspect
import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints, is_typeddict

import pytest

from lastvolt import Client, inputs, models
from lastvolt.inputs import Omit

DOCUMENT = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))
SCHEMAS = DOCUMENT["components"]["schemas"]
OPERATIONS = {
    operation["operationId"]: operation
    for path, item in DOCUMENT["paths"].items()
    if path.startswith("/v1/") and not path.startswith(("/v1/reports/", "/v1/batch/"))
    for operation in item.values()
}
METHODS = {
    name: method
    for name, method in inspect.getmembers(Client, inspect.isfunction)
    if not name.startswith("_")
    and name not in {"call", "close", "report", "report_link", "batch", "batch_circuits"}
}
# An interval has bounds of its own in each place, so that the document spells it out there.
INTERVAL = "Interval"
TYPED_DICTS = {
    name: each
    for name, each in vars(inputs).items()
    if is_typeddict(each) and not name.startswith("_") and name != INTERVAL
}
RESULTS = {
    name: each
    for name, each in vars(models).items()
    if dataclasses.is_dataclass(each) and name not in {"Model", "Result"}
}
WORDS = {float: "number", int: "integer", str: "string", bool: "boolean"}

# Both sides are brought to the same form: a word for a plain type, a name for an object, a
# frozenset for alternatives, a list of one for an array and of two for a map.
Shape = str | frozenset[Any] | list[Any]


def shape_of_schema(schema: Mapping[str, Any]) -> Shape:
    if "$ref" in schema:
        return str(schema["$ref"]).rpartition("/")[2]
    if alternatives := schema.get("oneOf") or schema.get("anyOf"):
        return frozenset(shape_of_schema(each) for each in alternatives)
    if "enum" in schema:
        return frozenset(schema["enum"])
    if schema.get("properties", {}).keys() == inputs.Interval.__required_keys__:
        return INTERVAL
    if "additionalProperties" in schema:
        return [WORDS[str], shape_of_schema(schema["additionalProperties"])]
    if schema["type"] == "array":
        return [shape_of_schema(schema["items"])]
    return frozenset(schema["type"]) if isinstance(schema["type"], list) else str(schema["type"])


def shape_of_hint(hint: Any) -> Shape:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin is Literal:
        return frozenset(arguments)
    if origin in {tuple, Sequence}:
        return [shape_of_hint(arguments[0])]
    if origin is Mapping:
        return [shape_of_hint(each) for each in arguments]
    if origin in {Union, UnionType}:
        # A number may come as text with its unit, Decimal or Fraction, which the package turns into
        # a number; what may be a truth value too is the new value of any field, text among them.
        given = {str, Decimal, Fraction} if float in arguments and bool not in arguments else set()
        shapes = [shape_of_hint(each) for each in arguments if each not in {Omit, *given}]
        return shapes[0] if len(shapes) == 1 else frozenset(shapes)
    if hint is NoneType:
        return "null"
    return WORDS.get(hint) or str(hint.__name__)


def shapes_of_hints(owner: Any) -> dict[str, Shape]:
    return {name: shape_of_hint(hint) for name, hint in get_type_hints(owner).items()}


def shapes_of_schemas(schemas: Mapping[str, Any]) -> dict[str, Shape]:
    return {name: shape_of_schema(schema) for name, schema in schemas.items()}


def answer_of(operation: str) -> Mapping[str, Any]:
    answer: Mapping[str, Any] = OPERATIONS[operation]["responses"]["200"]["content"]
    return answer["application/json"]


def test_one_method_for_each_operation() -> None:
    assert METHODS.keys() == OPERATIONS.keys()


@pytest.mark.parametrize("operation", OPERATIONS)
def test_arguments_are_the_fields_of_the_request(operation: str) -> None:
    described = OPERATIONS[operation]
    if "requestBody" in described:
        schema = described["requestBody"]["content"]["application/json"]["schema"]
        request = SCHEMAS[shape_of_schema(schema)]
    else:
        given = described["parameters"]
        request = {
            "properties": {each["name"]: each["schema"] for each in given},
            "required": [each["name"] for each in given if each["required"]],
        }
    shapes = shapes_of_hints(METHODS[operation])
    result = shapes.pop("return")
    assert shapes == shapes_of_schemas(request["properties"])
    assert result == shape_of_schema(answer_of(operation)["schema"])

    parameters = [*inspect.signature(METHODS[operation]).parameters.values()][1:]
    assert {each.kind for each in parameters} == {inspect.Parameter.KEYWORD_ONLY}
    required = {each.name for each in parameters if each.default is inspect.Parameter.empty}
    assert required == set(request.get("required", ()))
    assert all(each.default in {inspect.Parameter.empty, Omit.OMIT} for each in parameters)


@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_worked_answer_is_read_whole(operation: str) -> None:
    examples = answer_of(operation)["examples"]
    assert examples
    model = get_type_hints(METHODS[operation])["return"]
    for example in examples.values():
        assert model.from_json(example["value"]).to_dict() == example["value"]


@pytest.mark.parametrize("name", TYPED_DICTS)
def test_parts_of_requests(name: str) -> None:
    schema = SCHEMAS[name]
    assert shapes_of_hints(TYPED_DICTS[name]) == shapes_of_schemas(schema["properties"])
    assert set(schema.get("required", ())) == TYPED_DICTS[name].__required_keys__


@pytest.mark.parametrize("name", RESULTS)
def test_answers_and_their_parts(name: str) -> None:
    schema = SCHEMAS[name]
    assert shapes_of_hints(RESULTS[name]) == shapes_of_schemas(schema["properties"])
    explained = {"steps", "remedies"} if issubclass(RESULTS[name], models.Result) else set()
    assert set(schema["required"]) == set(schema["properties"]) - explained


def test_no_part_is_left_out() -> None:
    requests = {name for name in SCHEMAS if name.endswith("Request")}
    assert SCHEMAS.keys() - requests - {"Problem"} == TYPED_DICTS.keys() | RESULTS.keys()
