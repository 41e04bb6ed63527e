"""The few operations that an agent or a bot needs, described in plain JSON Schema."""

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.document import document_json

JSONObject = dict[str, Any]

TOOLS = (
    "voltage-drop", "wire-sizing", "fuse-selection", "relay-coil", "solenoid-pull-in",
    "relay-retrofit", "drop-diagnosis", "quick-answer",
)  # fmt: skip
DIALECT = "https://json-schema.org/draft/2020-12/schema"
DESCRIPTION = (
    "Send the arguments of a tool as JSON to its path. An answer lists checks, each with a verdict "
    "(pass, marginal, fail or unknown) and a message to act on, cautions, and the basis of its "
    "numbers; the same by POST to /v1/reports/NAME.md, NAME as in the path, is text that can be "
    "posted. Units stand at the end of each name; temperatures are in degC."
)
_COMPONENTS = "#/components/schemas/"
_DEFINITIONS = "#/$defs/"


def _plain(schema: Any) -> Any:
    """Leave out what is OpenAPI's own, and say the unit in the description instead."""
    if isinstance(schema, list):
        return [_plain(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    found = {
        name: _plain(value)
        for name, value in schema.items()
        if name not in {"discriminator", "x-unit"}
    }
    if "x-unit" in schema and "description" in schema:
        found["description"] += f" [{schema['x-unit']}]"
    if isinstance(found.get("$ref"), str):
        found["$ref"] = found["$ref"].replace(_COMPONENTS, _DEFINITIONS)
    return found


def _named(schema: Any) -> Iterator[str]:
    """List what a schema refers to."""
    if isinstance(schema, dict) and isinstance(schema.get("$ref"), str):
        yield schema["$ref"].removeprefix(_DEFINITIONS)
    below = schema.values() if isinstance(schema, dict) else schema
    if isinstance(schema, dict | list):
        for item in below:
            yield from _named(item)


def _parameters(name: str, components: Mapping[str, JSONObject]) -> JSONObject:
    """Write the schema of a request with all that it refers to inside."""
    root = _plain(components[name])
    definitions: JSONObject = {}
    wanted = list(_named(root))
    while wanted:
        each = wanted.pop()
        if each not in definitions:
            definitions[each] = _plain(components[each])
            wanted += _named(definitions[each])
    defined = {"$defs": dict(sorted(definitions.items()))} if definitions else {}
    return {"$schema": DIALECT, **root, **defined}


def tools() -> JSONObject:
    """Describe the tools.

    Returns
    -------
    dict
        With a list of tools: `parameters` is a JSON Schema (2020-12) that needs nothing outside
        itself, and every example fits it.
    """
    components = json.loads(document_json())["components"]["schemas"]
    by_name = {operation.name: operation for operation in OPERATIONS}
    return {
        "description": DESCRIPTION,
        "tools": [
            {
                "name": operation.operation_id,
                "description": f"{operation.texts[0]}.",
                "method": operation.method,
                "path": operation.path,
                "parameters": _parameters(type(operation.schema).__name__, components),
                "examples": [operation.schema.example],
            }
            for operation in map(by_name.__getitem__, TOOLS)
        ],
    }


@cache
def tools_json() -> str:
    """Write the tools as text.

    Returns
    -------
    str
        JSON.
    """
    return json.dumps(tools(), ensure_ascii=False, allow_nan=False)
