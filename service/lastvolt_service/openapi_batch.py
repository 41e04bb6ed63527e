"""The part of the OpenAPI document about batches."""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import orjson
from apispec.ext.marshmallow.openapi import OpenAPIConverter

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.batch import BATCHES, BatchOperation
from lastvolt_service.api.batch_lines import MAX_LINES, MEDIA_TYPE, lined, path_of
from lastvolt_service.api.operations import Operation
from lastvolt_service.config import Config
from lastvolt_service.schemas.column_names import kinds_of, names

JSONObject = dict[str, Any]

TAG = {"name": "batch", "description": "Many rows of an operation in one request, as columns."}
_TEXT = {"type": "string"}
_DESCRIPTION = (
    "Each column has one value per row; a constant is the same in all rows. The fields, their "
    "bounds and the results are those of {path}, nested names joined by an underscore and items "
    "of lists counted from 1. A cell may be null: nothing is given in that row. A row at fault is "
    "named in errors, its results are null, and the other rows are computed. Columns that begin "
    "with check_ hold codes of verdicts, whose texts stand once in verdicts; verdict is the worst "
    "of a row. At most {rows} rows, or as many as the service is set to."
)


def batch_paths(problems: JSONObject) -> Iterator[tuple[str, JSONObject]]:
    """Describe every batch.

    Yields
    ------
    tuple of str and dict
        Path and its methods.
    """
    for operation in BATCHES:
        yield operation.path, {"post": _described(operation, problems)}
    for each in lined(OPERATIONS):
        yield path_of(each), {"post": _lines(each, problems)}


def request_name(operation: BatchOperation) -> str:
    """Name the schema of a batch."""
    return "".join(word.title() for word in operation.name.split("-")) + "BatchRequest"


def request_schema(operation: BatchOperation, converter: OpenAPIConverter) -> JSONObject:
    """Describe what a batch takes."""
    cells = {
        name: _cell(converter, [field]) for name, field in names(operation.schema).single.items()
    }
    listed = dict(_listed(converter, operation.schema, ""))
    return {
        "type": "object",
        "description": f"Rows of {operation.name}, as columns.",
        "properties": {
            "columns": {
                "type": "object",
                "description": "one list per field, all of one length",
                "minProperties": 1,
                **_named(
                    {name: _column(cell) for name, cell in cells.items()},
                    {name: _column(cell) for name, cell in listed.items()},
                ),
            },
            "constants": {
                "type": "object",
                "description": "values that all rows share, of the same fields, one each",
                **_named(cells, listed),
            },
            "results": {
                "type": "array",
                "description": "names of the results that are wanted; by default all",
                "items": {"type": "string"},
            },
        },
        "required": ["columns"],
        "additionalProperties": False,
    }


def _named(cells: JSONObject, listed: JSONObject) -> JSONObject:
    """Describe members by their names, and those with a number by what their names look like.

    Generators of clients know no pattern: they read what an additional member may be, and some
    then hold every member to it, so that it allows the kinds of all. The names stay bound.
    """
    if not listed:
        return {"properties": cells, "additionalProperties": False}
    kinds = {json.dumps(_plain(cell)): _plain(cell) for cell in (cells | listed).values()}
    return {
        "properties": cells,
        "patternProperties": {f"^{name}$": cell for name, cell in listed.items()},
        "propertyNames": {"pattern": f"^({'|'.join([*cells, *listed])})$"},
        "additionalProperties": {"anyOf": list(kinds.values())},
    }


def _plain(cell: JSONObject) -> JSONObject:
    """Keep the type of a cell or a column, without its bounds."""
    kept = {"type": cell["type"]}
    return kept | {"items": _plain(cell["items"])} if "items" in cell else kept


def _listed(
    converter: OpenAPIConverter, schema: Any, before: str
) -> Iterator[tuple[str, JSONObject]]:
    """Describe the columns of lists by what their names look like."""
    for name, many in names(schema).listed.items():
        start = f"{before}{name}({_up_to(many.maximum)})_"
        kinds = kinds_of(many.inner)
        for field in dict.fromkeys(field for kind in kinds for field in names(kind).single):
            found = [names(kind).single[field] for kind in kinds if field in names(kind).single]
            yield start + field, _cell(converter, found)
        for kind in kinds:
            yield from _listed(converter, kind, start)


def _up_to(most: int) -> str:
    """Write the numbers from 1 to one as a pattern."""
    digits = str(most)
    parts = ["[1-9]" + "[0-9]" * more for more in range(len(digits) - 1)]
    for place, digit in enumerate(digits):
        least = 0 if place else 1
        if int(digit) > least:
            rest = "[0-9]" * (len(digits) - place - 1)
            parts.append(f"{digits[:place]}[{least}-{int(digit) - 1}]{rest}")
    return "|".join([*parts, digits])


def _cell(converter: OpenAPIConverter, fields: Sequence[Any]) -> JSONObject:
    """Describe a cell; where items are of several kinds, whatever any of them may have."""
    cells = [converter.field2property(field) for field in fields]
    found: JSONObject = {}
    for cell in cells:
        found |= {key: value for key, value in cell.items() if key != "default"}
    for key, widest in (("minimum", min), ("maximum", max)):
        if key in found:
            found[key] = widest(cell[key] for cell in cells)
    if "enum" in found:
        found["enum"] = list(dict.fromkeys(word for cell in cells for word in cell["enum"]))
    said = dict.fromkeys(cell["description"] for cell in cells if "description" in cell)
    return {**found, "description": "; ".join(said)}


def _column(cell: JSONObject) -> JSONObject:
    items = {name: value for name, value in cell.items() if name != "description"}
    items["type"] = [items["type"], "null"]
    if "enum" in items:
        items["enum"] = [*items["enum"], None]
    # Bounds hold row by row: a row outside of them is an error of that row.
    return {"type": "array", "description": cell["description"], "items": items}


def _described(operation: BatchOperation, problems: JSONObject) -> JSONObject:
    example = {"columns": {n: [v] for n, v in flat(operation.schema.example).items()}}
    answer = orjson.dumps(operation.answer(example, max_rows=1), option=orjson.OPT_SERIALIZE_NUMPY)
    single = f"/v1/{operation.name}"
    description = _DESCRIPTION.format(path=single, rows=f"{Config().max_batch_rows:,}")
    return {
        "operationId": f"batch_{operation.name.replace('-', '_')}",
        "summary": f"Many rows of {operation.name}",
        "description": description,
        "tags": [TAG["name"]],
        "requestBody": {
            "required": True,
            "content": {
                "application/json": {
                    "schema": {"$ref": f"#/components/schemas/{request_name(operation)}"},
                    "examples": {"worked": {"value": example}},
                }
            },
        },
        "responses": {
            "200": {
                "description": "The answers, in the order of the rows.",
                "content": {
                    "application/json": {
                        "schema": _answer(),
                        "examples": {"worked": {"value": json.loads(answer)}},
                    }
                },
            },
            **problems,
        },
    }


def flat(example: Mapping[str, Any], prefix: str = "") -> JSONObject:
    """Write a request as one row.

    Returns
    -------
    dict
        By name of the column.
    """
    found: JSONObject = {}
    for name, value in example.items():
        if isinstance(value, Mapping):
            found |= flat(value, f"{prefix}{name}_")
        elif isinstance(value, list):
            for place, item in enumerate(value, 1):
                found |= flat(item, f"{prefix}{name}_{place}_")
        else:
            found[prefix + name] = value
    return found


def _answer() -> JSONObject:
    texts = {"type": "array", "items": _TEXT}
    error = {
        "type": "object",
        "properties": {
            "row": {"type": "integer", "description": "index of the row, from 0"},
            "field": {**_TEXT, "description": "name of its column; empty for the whole row"},
            "detail": {**_TEXT, "description": "what it must be, or why there is no answer"},
        },
        "required": ["row", "field", "detail"],
    }
    cell = {"type": ["number", "string", "boolean", "null"]}
    return {
        "type": "object",
        "properties": {
            "rows": {"type": "integer", "description": "how many were sent"},
            "columns": {
                "type": "object",
                "description": "one list per result; null where a row has none",
                "additionalProperties": {"type": "array", "items": cell},
            },
            "verdicts": {
                "type": "object",
                "description": "text of each code in the columns of checks",
                "additionalProperties": _TEXT,
            },
            "errors": {"type": "array", "description": "rows at fault", "items": error},
            "basis": {**texts, "description": "what the answers rest on, each once"},
            "cautions": {**texts, "description": "what can hurt someone here, and who decides"},
            "computed_by": {"$ref": "#/components/schemas/ComputedBy"},
        },
        "required": [
            "rows", "columns", "verdicts", "errors", "basis", "cautions", "computed_by",
        ],
    }  # fmt: skip


def _lines(operation: Operation, problems: JSONObject) -> JSONObject:
    lines = "one JSON object a line"
    return {
        "operationId": f"batch_{operation.name.replace('-', '_')}",
        "summary": f"Many requests of {operation.name}",
        "description": (
            f"One request of {operation.path} a line, at most {MAX_LINES:,}; one answer a line, in "
            "the same order, sent as they are found: line, status, and answer or problem. One that "
            "is refused does not keep the others."
        ),
        "tags": [TAG["name"]],
        "requestBody": {
            "required": True,
            "content": {
                MEDIA_TYPE: {
                    "schema": {**_TEXT, "description": lines},
                    "examples": {"worked": {"value": f"{json.dumps(operation.schema.example)}\n"}},
                }
            },
        },
        "responses": {
            "200": {
                "description": "The answers.",
                "content": {MEDIA_TYPE: {"schema": {**_TEXT, "description": lines}}},
            },
            **problems,
        },
    }
