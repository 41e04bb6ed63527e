"""What is generated: up to date, complete, and told as the document tells it."""

import ast
import dataclasses
import inspect
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, get_type_hints, is_typeddict

import pytest
from numpydoc.docscrape import FunctionDoc

from generate.render import rendered
from lastvolt import Client, types
from lastvolt.asking import Omit

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "sdk" / "lastvolt" / "_generated"
DOCUMENT = json.loads((ROOT / "service" / "lastvolt_service" / "openapi.json").read_text("utf-8"))
SCHEMAS = DOCUMENT["components"]["schemas"]
OPERATIONS = {
    operation["operationId"]: operation
    for item in DOCUMENT["paths"].values()
    for operation in item.values()
    if not {"batch", "reports"} & set(operation["tags"])
}
TYPES = {
    name: kind
    for name in types.__all__
    if isinstance(kind := getattr(types, name), type) and name in SCHEMAS
}


def test_what_is_committed_is_what_the_document_makes() -> None:
    committed = {
        file.relative_to(FOLDER).as_posix(): file.read_text("utf-8")
        for file in FOLDER.rglob("*.py")
    }
    made = rendered(DOCUMENT)
    assert committed.keys() == made.keys(), "run python sdk/generate"
    for path, text in made.items():
        assert committed[path] == text, f"{path} is stale: run python sdk/generate"
        assert text.startswith("# Generated from openapi.json by sdk/generate: do not edit.\n")


def test_one_method_for_each_operation() -> None:
    by_hand = {"call", "close", "report", "report_link", "batch", "batch_lines"}
    methods = {
        name
        for name, _ in inspect.getmembers(Client, inspect.isfunction)
        if not name.startswith("_")
    }
    assert methods - by_hand == OPERATIONS.keys()


def request(operation: str) -> tuple[Mapping[str, Any], set[str]]:
    described = OPERATIONS[operation]
    if "requestBody" not in described:
        given = described["parameters"]
        return (
            {each["name"]: {**each["schema"], **each} for each in given},
            {each["name"] for each in given if each["required"]},
        )
    schema = described["requestBody"]["content"]["application/json"]["schema"]
    found = SCHEMAS[schema["$ref"].rpartition("/")[2]]
    return found["properties"], set(found["required"])


@pytest.mark.parametrize("operation", OPERATIONS)
def test_arguments_are_the_fields_of_the_request(operation: str) -> None:
    properties, required = request(operation)
    parameters = [*inspect.signature(getattr(Client, operation)).parameters.values()][1:]
    assert {each.name for each in parameters} == properties.keys()
    assert {each.kind for each in parameters} == {inspect.Parameter.KEYWORD_ONLY}
    empty = inspect.Parameter.empty
    assert {each.name for each in parameters if each.default is empty} == required
    assert all(each.default in {empty, Omit.OMIT} for each in parameters)
    places = [each.default is empty for each in parameters]
    assert places == sorted(places, reverse=True)  # the required ones first


@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_worked_answer_is_read_whole(operation: str) -> None:
    answer = OPERATIONS[operation]["responses"]["200"]["content"]["application/json"]
    model = get_type_hints(getattr(Client, operation))["return"]
    assert model.__name__ == answer["schema"]["$ref"].rpartition("/")[2]
    assert answer["examples"]
    for example in answer["examples"].values():
        assert model.from_json(example["value"]).to_dict() == example["value"]


@pytest.mark.parametrize("name", TYPES)
def test_parts_have_the_fields_of_their_schema(name: str) -> None:
    schema, kind = SCHEMAS[name], TYPES[name]
    required = set(schema.get("required", ()))
    if is_typeddict(kind):
        assert kind.__annotations__.keys() == schema["properties"].keys()
        assert kind.__required_keys__ == required  # type: ignore[attr-defined]  # of a TypedDict
    else:
        fields = dataclasses.fields(kind)  # type: ignore[arg-type]  # no TypedDict, so a dataclass
        assert {each.name for each in fields} == schema["properties"].keys()
        assert {each.name for each in fields if each.default is dataclasses.MISSING} == required


def test_no_part_is_left_out() -> None:
    by_hand = {name for name in SCHEMAS if name.endswith("Request")} | {"Problem"}
    assert SCHEMAS.keys() - by_hand == TYPES.keys()


def number_of(schema: Mapping[str, Any]) -> Mapping[str, Any]:
    """The number in a field: the field itself, what it lists, or its first alternative."""
    inner = schema.get("items") or schema.get("additionalProperties") or schema
    first = inner["oneOf"][0] if "oneOf" in inner else inner
    return {"x-unit": inner.get("x-unit", ""), **first}


def written(value: float) -> str:
    return rf"{re.escape(f'{value:.6f}'.rstrip('0').rstrip('.'))}(?![0-9.]*[0-9])"


def assert_told(text: str, schema: Mapping[str, Any]) -> None:
    """A hover text says meaning, bounds, default and unit."""
    text = " ".join(text.split())
    number = number_of(schema)
    unit = number["x-unit"]
    assert text.endswith(f". [{unit}]" if unit not in {"", "1"} else "."), text
    assert text[0] == text[0].upper()
    meaning = re.findall(r"\w+", schema["description"].replace("null", "None"))
    told = re.findall(r"\w+", text)[: len(meaning)]
    assert [word.lower() for word in told] == [word.lower() for word in meaning]
    if "minimum" in number:
        bounds = f"{written(number['minimum'])} to {written(number['maximum'])}"
        assert re.search(f"[Ff]rom {bounds}", text), text
    if "default" in schema:
        assert "by default" in text.lower(), text
        if isinstance(schema["default"], float | int) and not isinstance(schema["default"], bool):
            assert re.search(rf"[Bb]y default {written(schema['default'])}", text), text


@pytest.mark.parametrize("operation", OPERATIONS)
def test_an_editor_tells_every_argument(operation: str) -> None:
    properties, required = request(operation)
    method = getattr(Client, operation)
    listed = {each.name: each for each in FunctionDoc(method)["Parameters"]}
    assert listed.keys() == properties.keys()
    for name, schema in properties.items():
        assert_told(" ".join(listed[name].desc), schema)
        assert listed[name].type.endswith(", optional") == (name not in required)
    summary = OPERATIONS[operation]["summary"]
    assert " ".join(inspect.getdoc(method).split()).startswith(f"{summary}.")  # type: ignore[union-attr]  # it has one


def attribute_docstrings() -> Iterator[tuple[str, str, str]]:
    """Class, attribute and the string below it, of all generated types: what a hover shows."""
    for file in (FOLDER / "types").glob("*.py"):
        for kind in ast.parse(file.read_text("utf-8")).body:
            if isinstance(kind, ast.ClassDef):
                for field, text in zip(kind.body, kind.body[1:], strict=False):
                    if isinstance(field, ast.AnnAssign):
                        assert isinstance(field.target, ast.Name)
                        assert isinstance(text, ast.Expr), field.target.id
                        assert isinstance(text.value, ast.Constant)
                        yield kind.name, field.target.id, str(text.value.value)


def test_an_editor_tells_every_field() -> None:
    told = {(kind, field): text for kind, field, text in attribute_docstrings()}
    shared = {field for kind, field in told if kind == "Result"}
    for name, kind in TYPES.items():
        for field, schema in SCHEMAS[name]["properties"].items():
            owner = "Result" if issubclass(kind, types.Result) and field in shared else name
            assert_told(told[owner, field], schema)
            if not is_typeddict(kind) and owner == name:
                assert f"{field} : " in (kind.__doc__ or "")


def test_lines_are_short_and_no_type_is_left_open() -> None:
    for file in FOLDER.rglob("*.py"):
        text = file.read_text("utf-8")
        assert max(map(len, text.splitlines())) <= 100
        named = {node.id for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Name)}
        assert file == FOLDER / "types" / "__init__.py" or not {"Any", "object"} & named, file
