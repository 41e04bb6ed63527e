"""The tools for agents and bots: plain JSON Schema that takes what the service takes."""

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest

from lastvolt_service.openapi_tools import TOOLS, tools

DESCRIBED = {tool["path"].removeprefix("/v1/"): tool for tool in tools()["tools"]}


def validator(tool: dict[str, Any]) -> Any:
    # Here, for its import alone takes seconds, and every worker reads this file.
    from jsonschema import Draft202012Validator

    return Draft202012Validator(tool["parameters"])


def test_the_service_serves_the_tools(client):
    answer = client.get("/openapi-tools.json")
    assert answer.get_json() == json.loads(json.dumps(tools()))
    assert answer.content_type == "application/json"
    again = client.get("/openapi-tools.json", headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_it_lists_the_few_tools():
    assert list(DESCRIBED) == list(TOOLS)


@pytest.mark.parametrize("name", TOOLS)
def test_a_tool_is_complete_in_itself(name):
    tool = DESCRIBED[name]
    validator(tool).check_schema(tool["parameters"])
    assert tool["parameters"]["type"] == "object"
    # What agents' interfaces take for a name, and short enough to choose by.
    assert tool["name"].isidentifier()
    assert 20 < len(tool["description"]) < 200
    names = {f"#/$defs/{each}" for each in tool["parameters"].get("$defs", {})}
    assert set(references(tool["parameters"])) == names
    text = json.dumps(tool)
    assert "components" not in text
    assert "discriminator" not in text


def references(schema: Any) -> Iterator[str]:
    if isinstance(schema, dict):
        if "$ref" in schema:
            yield schema["$ref"]
        schema = list(schema.values())
    if isinstance(schema, list):
        for item in schema:
            yield from references(item)


@pytest.mark.parametrize("name", TOOLS)
def test_an_example_fits_and_is_answered(client, name):
    tool = DESCRIBED[name]
    assert tool["examples"]
    for example in tool["examples"]:
        validator(tool).validate(example)
        answer = client.open(tool["path"], method=tool["method"], json=example)
        assert answer.status_code == 200
        assert answer.get_json()["checks"]
        words = client.post(f"/v1/reports/{name}.md", json=example)
        assert words.content_type.startswith("text/markdown")


def wrong_ones(example: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The example with one fault each: a field more, a field of a wrong type, one too large."""
    yield {**example, "no_such_field": 1}
    for name, value in example.items():
        yield {**example, name: None}
        if isinstance(value, float | int) and not isinstance(value, bool):
            yield {**example, name: str(value)}
            yield {**example, name: 1e9}
        if isinstance(value, list):
            yield {**example, name: [{**value[0], "kind": "no such kind"}, *value[1:]]}
            for inner in value[0]:
                broken = copy.deepcopy(example)
                broken[name][0][inner] = None
                yield broken


@pytest.mark.parametrize("name", TOOLS)
def test_a_wrong_one_fits_neither_the_schema_nor_the_service(client, name):
    tool = DESCRIBED[name]
    faults = list(wrong_ones(tool["examples"][0]))
    assert len(faults) > 3
    for fault in faults:
        assert not validator(tool).is_valid(fault), fault
        answer = client.open(tool["path"], method=tool["method"], json=fault)
        assert answer.status_code == 422, fault


def test_units_stand_in_the_descriptions():
    supply = DESCRIBED["voltage-drop"]["parameters"]["properties"]["supply_v"]
    assert supply["description"].endswith(" [V]")
    assert "x-unit" not in supply
