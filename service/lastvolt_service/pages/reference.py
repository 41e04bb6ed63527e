"""The OpenAPI document as pages tell it: operations, the shapes they take and give, an example."""

import base64
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from http import HTTPMethod
from typing import Any

from markupsafe import Markup

from lastvolt_service.pages.formulas import html

JSONObject = Mapping[str, Any]

_INTERVAL = {"low", "high"}
_METHODS = {method.lower() for method in HTTPMethod}


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a shape.

    Attributes
    ----------
    name : str
        As in JSON.
    kind : markupsafe.Markup
        What it holds, with links to other shapes.
    limits : str
        Bounds with their unit, or the words it may be.
    required : bool
        Whether it must be given.
    default : str
        What is taken without it; empty where that is nothing.
    meaning : markupsafe.Markup
        In words.
    """

    name: str
    kind: Markup
    limits: str
    required: bool
    default: str
    meaning: Markup


@dataclass(frozen=True, slots=True)
class Shape:
    """An object of JSON.

    Attributes
    ----------
    name : str
        Of the component.
    meaning : markupsafe.Markup
        In words.
    fields : list of Field
    """

    name: str
    meaning: Markup
    fields: list[Field]


@dataclass(frozen=True, slots=True)
class Entry:
    """One operation.

    Attributes
    ----------
    name, topic, method, path, summary, description : str
        As the document says; the name is the operationId with hyphens.
    query : list of Field
        Parameters in path and query.
    takes, gives : list of Shape
        The request's body and the answer, each with the shapes that it refers to.
    media : list of str
        Media types of the answer.
    example, body_media, example_path : str
        The worked example: its body and the media type, empty without one, and its path with the
        query.
    """

    name: str
    topic: str
    method: str
    path: str
    summary: str
    description: str
    query: list[Field]
    takes: list[Shape]
    gives: list[Shape]
    media: list[str]
    example: str
    body_media: str
    example_path: str


def entries(document: JSONObject) -> dict[str, Entry]:
    """Read all operations of a document.

    Returns
    -------
    dict of str to Entry
        By name, in the document's order.
    """
    found = (
        _entry(method, path, item, document)
        for path, item in document["paths"].items()
        for method in item
        if method in _METHODS
    )
    return {entry.name: entry for entry in found}


def _entry(method: str, path: str, item: JSONObject, document: JSONObject) -> Entry:
    operation = item[method]
    schemas = document["components"]["schemas"]
    parameters = [_follow(each, document) for each in operation.get("parameters", ())]
    answer = operation["responses"].get("200", {}).get("content", {})
    body_media, body = _content(operation)
    # A link carries the body that the same path takes when it is posted.
    posted = body or _content(item.get("post", {}))[1]
    example = _example(posted, _in_path(parameters), document)
    schema = body.get("schema", {})
    return Entry(
        name=operation["operationId"].replace("_", "-"),
        topic=operation["tags"][0],
        method=method.upper(),
        path=path,
        summary=operation["summary"].rstrip("."),
        description=operation["description"],
        query=[
            _field(each["name"], {**each["schema"], **each}, required=each.get("required", False))
            for each in parameters
        ],
        # A body that may be that of any operation is told on their own pages.
        takes=[] if "anyOf" in schema else _shapes(schema, schemas),
        gives=_shapes(answer.get("application/json", {}).get("schema", {}), schemas),
        media=list(answer),
        example=written(example) if body else "",
        body_media=body_media,
        example_path=_path(path, parameters, example),
    )


def _follow(value: JSONObject, document: JSONObject) -> JSONObject:
    """Give what a reference within the document stands for."""
    found = value
    if "$ref" in value:
        found = document
        for key in value["$ref"].split("/")[1:]:
            found = found[key]
    return found


def _example(body: JSONObject, words: Mapping[str, str], document: JSONObject) -> Any:
    """Choose the worked example: that of the operation in the path, where there is one."""
    examples = body.get("examples", {})
    named = [examples[word] for word in words.values() if word in examples]
    chosen: JSONObject = next(iter([*named, *examples.values()]), {})
    return _follow(chosen, document).get("value")


def _in_path(parameters: Sequence[JSONObject]) -> dict[str, str]:
    """Take the first of the words that each parameter in the path may be."""
    return {each["name"]: each["schema"]["enum"][0] for each in parameters if each["in"] == "path"}


def _path(path: str, parameters: Sequence[JSONObject], example: Any) -> str:
    """Fill in a path; a query that must carry a whole request carries that of the example."""
    packed = base64.urlsafe_b64encode(json.dumps(example).encode()).decode().rstrip("=")
    query = [
        f"{each['name']}={packed}"
        for each in parameters
        if each["in"] == "query" and each.get("required")
    ]
    return path.format_map(_in_path(parameters)) + ("?" + "&".join(query) if query else "")


def _content(operation: JSONObject) -> tuple[str, JSONObject]:
    """Media type and description of an operation's body; empty without one."""
    content: JSONObject = operation.get("requestBody", {}).get("content", {})
    return next(iter(content.items()), ("", {}))


def written(example: Any) -> str:
    """Write JSON with indentation; what is text already, such as one object a line, stays."""
    if isinstance(example, str):
        return example
    return json.dumps(example, indent=2, ensure_ascii=False)


def _shapes(schema: JSONObject, schemas: JSONObject) -> list[Shape]:
    """Collect the shapes that a schema refers to, itself first."""
    names = list(dict.fromkeys(_references(schema)))
    for name in names:  # grows while it is walked
        names += [each for each in dict.fromkeys(_references(schemas[name])) if each not in names]
    own = [_shape("Answer", schema)] if "properties" in schema else []
    return own + [_shape(name, schemas[name]) for name in names]


def _references(schema: Any) -> Iterator[str]:
    if isinstance(schema, Mapping):
        if "$ref" in schema:
            yield _name(schema)
        for key, inner in schema.items():
            if key != "discriminator":
                yield from _references(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from _references(inner)


def _name(schema: JSONObject) -> str:
    name: str = schema["$ref"].rpartition("/")[2]
    return name


def _shape(name: str, schema: JSONObject) -> Shape:
    required = schema.get("required", ())
    fields = [
        _field(key, value, required=key in required)
        for key, value in schema.get("properties", {}).items()
    ]
    # What must be given comes first.
    fields.sort(key=lambda field: not field.required)
    return Shape(name, html(schema.get("description", "")), fields)


def _field(name: str, schema: JSONObject, *, required: bool) -> Field:
    default = schema.get("default")
    return Field(
        name=name,
        kind=_kind(schema),
        limits=_limits(schema),
        required=required,
        default="" if default in (None, [], {}) else json.dumps(default, ensure_ascii=False),
        meaning=html(schema.get("description", "")),
    )


def _kind(schema: JSONObject) -> Markup:
    if "$ref" in schema:
        return Markup('<a href="#{0}">{0}</a>').format(_name(schema))
    for key in ("oneOf", "anyOf"):
        if key in schema:
            return Markup(" or ").join(map(_kind, schema[key]))
    if schema.get("type") == "array":
        return Markup("list of ") + _kind(schema["items"])
    if set(schema.get("properties", ())) == _INTERVAL:
        return Markup("{low, high}")
    values = schema.get("additionalProperties")
    if isinstance(values, Mapping):
        return Markup("object of ") + _kind(values)
    kinds = schema.get("type", "any")
    return Markup(" or ").join([kinds] if isinstance(kinds, str) else kinds)


def _limits(schema: JSONObject) -> str:
    unit = schema.get("x-unit", "")
    unit = "" if unit == "1" else f" {unit}"
    if "oneOf" in schema:
        return _limits({**schema["oneOf"][0], "x-unit": unit.strip()})
    if "enum" in schema:
        words = schema["enum"]
        return f"{', '.join(map(str, words))}{unit}" if len(words) > 1 else f'"{words[0]}"'
    if "minimum" in schema and "maximum" in schema:
        return f"{schema['minimum']:.10g} to {schema['maximum']:.10g}{unit}"
    if "maxItems" in schema:
        return f"{schema.get('minItems', 0)} to {schema['maxItems']} items"
    if "maxLength" in schema:
        return f"up to {schema['maxLength']} characters"
    return unit.strip()
