"""The OpenAPI document, made from the schemas, the result classes and the docstrings.

``python -m lastvolt_service.openapi FILE`` writes it, with what the extra ``dev`` brings. What is
served is the committed file.
"""

import json
import sys
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from apispec.ext.marshmallow.openapi import OpenAPIConverter
from marshmallow import Schema
from marshmallow.fields import Dict

from lastvolt_service.api import OPERATIONS, TOPICS
from lastvolt_service.api.answers import to_json
from lastvolt_service.api.batch import BATCHES
from lastvolt_service.api.operations import Operation
from lastvolt_service.api.problems import MEDIA_TYPE, PROBLEMS, RETRY_HEADER
from lastvolt_service.api.reports import reported
from lastvolt_service.fields import Fields
from lastvolt_service.openapi_batch import TAG as BATCH_TAG
from lastvolt_service.openapi_batch import batch_paths, request_name, request_schema
from lastvolt_service.openapi_reports import ONLY_REPORTS, problem_answers, report_paths
from lastvolt_service.operations.remedies.asking import Remedy
from lastvolt_service.operations.results import DEFERENCE, Result, computed_by
from lastvolt_service.operations.steps import Step
from lastvolt_service.schemas.base import EXPLAIN, EXPLAIN_MEANING
from lastvolt_service.schemas.described import schema_class
from lastvolt_service.schemas.fields import Kinded, Quantity
from lastvolt_service.units import Interval, unit_of
from lastvolt_service.words.amounts import DECIMALS, SYMBOLS, TWO_DIGITS_BELOW

JSONObject = dict[str, Any]

DESCRIPTION = (
    "Works out, for 6 V, 12 V and 24 V vehicle wiring, whether a switched DC circuit delivers "
    "enough voltage to its load, safely, when it is hot, cold and old.\n\n"
    "Every quantity's name ends in its unit; temperatures are in degC. Every POST is a pure "
    "function of its body and safe to retry. Requests with unknown fields are refused; answers "
    "may gain fields.\n\n" + DEFERENCE
)
# What moves inside when a number may also be an interval, and what its ends are called.
# Of the numbers in worked answers; what is less is a computer's last digits.
PRINTED_DIGITS, NOISE = 6, 1e-9
_NUMBER_KEYS = ("type", "minimum", "maximum")
_INTERVAL = "a number known only within bounds, which the answer carries through"
_ENDS = {"low": "its lower end", "high": "its upper end"}
# Statuses that no operation answers: that of other methods, and our own faults.
_NO_OPERATION = {405, 500}
_ONLY_WITH_A_BODY = {400, 408, 413, 415}
_HEADERS = {
    401: ("WWW-Authenticate", "how to send a key", "string"),
    429: ("Retry-After", "seconds to wait before the next request", "integer"),
    503: ("Retry-After", "seconds to wait before the next try", "integer"),
}
_RETRYABLE = "whether the very same request may succeed when it is sent again"
_RETRY = {
    "description": f"{_RETRYABLE}; the member `retryable` says the same",
    "schema": {"type": "string", "enum": ["yes", "no"]},
}
_UNCHANGED = {"description": "The answer that the ETag in If-None-Match stands for is still good."}
_KEY = {
    "type": "http",
    "scheme": "bearer",
    "description": "only where whoever runs the service has set keys",
}
# What an answer has besides its fields when it was asked to explain itself.
_EXPLAINED = {
    "steps": Annotated[
        tuple[Step, ...], "the calculation, in order; only with explain in the request"
    ],
    "remedies": Annotated[
        tuple[Remedy, ...],
        "changes that better a failed check, the best first, each computed; only with explain in "
        "the request",
    ],
}
_EXPLAIN_FIELD = {"type": "boolean", "default": False, "description": EXPLAIN_MEANING}
_SIMPLE = {str: "string", float: "number", int: "integer", bool: "boolean", NoneType: "null"}


def _component_name(schema: type[Schema] | Schema | str) -> str:
    found = schema if isinstance(schema, type) else type(schema)
    return found.__name__


def _kinded(converter: OpenAPIConverter, field: object, **_kwargs: object) -> JSONObject:
    """Describe a `Kinded` field; apispec calls this as a method of its converter."""
    if not isinstance(field, Kinded):
        return {}
    refs = {
        kind: converter.resolve_nested_schema(schema)  # type: ignore[no-untyped-call]  # apispec is untyped here
        for kind, schema in field.schemas.items()
    }
    return {
        "oneOf": list(refs.values()),
        "discriminator": {
            "propertyName": "kind",
            "mapping": {kind: ref["$ref"] for kind, ref in refs.items()},
        },
    }


def _toleranced(_converter: OpenAPIConverter, field: object, **given: Any) -> JSONObject:
    """Describe a quantity that may be an interval; apispec calls this likewise."""
    if not (isinstance(field, Quantity) and field.toleranced):
        return {}
    number = {key: given["ret"].pop(key) for key in _NUMBER_KEYS if key in given["ret"]}
    interval = {
        "type": "object",
        "x-name": "Interval",
        "description": _INTERVAL,
        "properties": {end: {**number, "description": _ENDS[end]} for end in Interval._fields},
        "required": list(Interval._fields),
        "additionalProperties": False,
    }
    return {"x-name": "Quantity", "oneOf": [number, interval]}


def _keyed(converter: OpenAPIConverter, field: object, **_kwargs: object) -> JSONObject:
    """Describe the names that a mapping takes; apispec itself knows of its values only."""
    if not isinstance(field, Dict) or field.key_field is None:
        return {}
    return {"propertyNames": converter.field2property(field.key_field)}


class _Document:
    """One OpenAPI document in the making."""

    def __init__(self) -> None:
        self.plugin = MarshmallowPlugin(schema_name_resolver=_component_name)
        self.spec = APISpec(
            title="lastvolt",
            version=computed_by().service,
            openapi_version="3.1.0",
            info={
                "description": DESCRIPTION,
                "contact": {"name": "whoever runs this service"},
                "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
            },
            security=[{}, {"key": []}],
            servers=[{"url": "/", "description": "the service that serves this document"}],
            plugins=[self.plugin],
        )
        converter = self.plugin.converter
        if converter is None:
            raise TypeError("apispec made no converter")
        self.converter = converter
        converter.add_attribute_function(_kinded)  # type: ignore[no-untyped-call]  # apispec is untyped here
        converter.add_attribute_function(_keyed)  # type: ignore[no-untyped-call]  # as above
        converter.add_attribute_function(_toleranced)  # type: ignore[no-untyped-call]  # as above

    def result(self, kind: Any, name: str = "") -> JSONObject:
        """Describe a type of the answers; `name` is the field that has it."""
        if get_origin(kind) is Annotated:
            inner, description = get_args(kind)
            return {**self.result(inner, name), "description": description}
        if isinstance(kind, type) and is_dataclass(kind):
            return self._component(kind)
        if isinstance(kind, type) and issubclass(kind, Fields):  # to be sent on
            schema = schema_class(kind)()
            found: JSONObject = self.converter.resolve_nested_schema(schema)  # type: ignore[no-untyped-call]  # as above
            return found
        if get_origin(kind) is Literal:
            return {"type": "string", "enum": list(get_args(kind))}
        if get_origin(kind) is tuple:
            return {"type": "array", "items": self.result(get_args(kind)[0], name)}
        if get_origin(kind) is dict:
            return {"type": "object", "additionalProperties": self.result(get_args(kind)[1])}
        if get_origin(kind) in {Union, UnionType}:
            return self._union(get_args(kind), name)
        unit = unit_of(name) if kind is float else None
        return {"type": _SIMPLE[kind]} | ({"x-unit": unit.symbol} if unit else {})

    def _union(self, kinds: Sequence[Any], name: str) -> JSONObject:
        parts = [self.result(kind, name) for kind in kinds]
        if all(set(part) <= {"type", "x-unit"} for part in parts):
            merged: JSONObject = {key: value for part in parts for key, value in part.items()}
            return {**merged, "type": [part["type"] for part in parts]}
        return {"anyOf": parts}

    def _component(self, kind: type) -> JSONObject:
        name = kind.__name__
        if name not in self.spec.components.schemas:
            self.spec.components.schema(name, {})  # known first: types may hold one another
            hints = get_type_hints(kind, include_extras=True)
            names = [field.name for field in fields(kind)]
            properties = {field: self.result(hints[field], field) for field in names}
            if issubclass(kind, Result):
                properties |= {field: self.result(hint) for field, hint in _EXPLAINED.items()}
            self.spec.components.schemas[name] = {
                "type": "object",
                "description": (kind.__doc__ or "").strip(),
                "properties": properties,
                "required": names,
            }
        return {"$ref": f"#/components/schemas/{name}"}

    def add(self, operation: Operation, topic: str) -> None:
        """Describe one operation of a topic."""
        summary, description = operation.texts
        example = operation.schema.example
        answer = _as_printed(json.loads(to_json(operation.answer(example))))
        described: JSONObject = {
            "operationId": operation.operation_id,
            "summary": summary,
            "description": " ".join(filter(None, (description or summary, operation.schema.bound))),
            "tags": [topic],
            "responses": {
                "200": {
                    "description": "The answer.",
                    "content": {
                        "application/json": {
                            "schema": self.result(operation.result),
                            "examples": {"worked": {"value": answer}},
                        }
                    },
                },
                **({"304": _UNCHANGED} if operation.method == "GET" else {}),
                **self._problems(operation.method),
            },
        }
        if operation.method == "GET":
            described["parameters"] = [{"in": "query", "schema": operation.schema}]
        else:
            described["requestBody"] = {
                "required": True,
                "content": {
                    "application/json": {
                        "schema": operation.schema,
                        "examples": {"worked": {"value": example}},
                    }
                },
            }
        self.spec.path(path=operation.path, operations={operation.method.lower(): described})

    def _problems(self, method: str) -> JSONObject:
        statuses = {problem.status for problem in PROBLEMS.values()} - _NO_OPERATION
        if method == "GET":
            statuses -= _ONLY_WITH_A_BODY
        return problem_answers(statuses - ONLY_REPORTS)


def _responses() -> dict[str, JSONObject]:
    """Describe the answers that are problems, by name."""
    found: dict[str, JSONObject] = {}
    for status in sorted({problem.status for problem in PROBLEMS.values()} - _NO_OPERATION):
        types = [problem for problem in PROBLEMS.values() if problem.status == status]
        described: JSONObject = {
            "description": " ".join(f"{each.title} (/problems/{each.code})." for each in types),
            "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
        }
        described["headers"] = {RETRY_HEADER: _RETRY}
        if header := _HEADERS.get(status):
            name, description, kind = header
            described["headers"][name] = {"description": description, "schema": {"type": kind}}
        found[f"Problem{status}"] = described
    return found


def _problem_schema() -> JSONObject:
    text = {"type": "string"}
    return {
        "type": "object",
        "description": "Problem details (RFC 9457).",
        "properties": {
            "type": {
                **text,
                "format": "uri-reference",
                "description": "path that explains this type of problem",
                "examples": [f"/problems/{code}" for code in PROBLEMS],
            },
            "title": {**text, "description": "the type of problem in words"},
            "status": {"type": "integer", "description": "HTTP status"},
            "detail": {**text, "description": "what is wrong with this request"},
            "instance": {**text, "format": "uri-reference", "description": "path asked for"},
            "retryable": {"type": "boolean", "description": _RETRYABLE},
            "errors": {
                "type": "array",
                "description": "each field at fault",
                "items": {
                    "type": "object",
                    "properties": {
                        "pointer": {
                            **text,
                            "description": "JSON Pointer to the field as a URI fragment",
                        },
                        "detail": {**text, "description": "what the field must be"},
                    },
                    "required": ["pointer", "detail"],
                },
            },
        },
        "required": ["type", "title", "status", "detail", "instance", "retryable"],
    }


def document() -> JSONObject:
    """Describe the whole service.

    Returns
    -------
    dict
        An OpenAPI 3.1 document.
    """
    making = _Document()
    making.spec.components.schema("Problem", _problem_schema())
    for name, response in _responses().items():
        making.spec.components.response(name, response)
    making.spec.components.security_scheme("key", _KEY)
    for topic in TOPICS:
        name = topic.blueprint.name
        making.spec.tag({"name": name, "description": topic.__doc__})
        for operation in topic.OPERATIONS:
            making.add(operation, name)
    posted = {problem.status for problem in PROBLEMS.values()} - _NO_OPERATION
    for operation in reported(OPERATIONS):
        making.spec.components.example(operation.name, {"value": operation.schema.example})
    for path, methods in report_paths(OPERATIONS, posted - ONLY_REPORTS):
        making.spec.path(path=path, operations=methods)
    for batch in BATCHES:
        making.spec.components.schema(request_name(batch), request_schema(batch, making.converter))
    for path, methods in batch_paths(problem_answers(posted - ONLY_REPORTS)):
        making.spec.path(path=path, operations=methods)
    making.spec.tag(BATCH_TAG)
    making.spec.tag({"name": "reports", "description": "Answers in words and in pictures."})
    made = making.spec.to_dict()
    made["x-decimals"] = DECIMALS
    made["x-two-digits-below"] = TWO_DIGITS_BELOW
    made["x-symbols"] = SYMBOLS
    for (schema, *_), name in making.converter.refs.items():
        words = " ".join(((schema.__doc__ or "").partition("\n")[0], schema.rules())).strip()
        made["components"]["schemas"][name]["description"] = words
    for operation in reported(OPERATIONS):
        request = made["components"]["schemas"][_component_name(operation.schema)]
        request["properties"][EXPLAIN] = _EXPLAIN_FIELD
    return made


def _as_printed(value: Any) -> Any:
    """Round the numbers of an answer: their last digits are those of one processor."""
    if isinstance(value, dict):
        return {name: _as_printed(each) for name, each in value.items()}
    if isinstance(value, list):
        return [_as_printed(each) for each in value]
    if isinstance(value, float):
        return 0.0 if abs(value) < NOISE else float(f"{value:.{PRINTED_DIGITS}g}")
    return value


def written() -> str:
    """Write the document as text.

    Returns
    -------
    str
        Indented JSON with a line feed at its end.
    """
    return json.dumps(document(), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(written(), encoding="utf-8")
