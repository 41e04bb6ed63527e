"""The reports in the OpenAPI document: one path for each form, the operation a parameter."""

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import Any

from lastvolt_service.api.links import MAX_UNPACKED, PARAMETER, PATTERN
from lastvolt_service.api.operations import Operation
from lastvolt_service.api.reports import (
    MEDIA_TYPES,
    PREFIX,
    PRINTED,
    UNITS,
    WORDS,
    forms,
    reported,
)
from lastvolt_service.operations.decision.quick_link import MAX_LINK
from lastvolt_service.reports.drawing import PICTURES

JSONObject = dict[str, Any]

_WHAT = {
    "md": "in words, as Markdown that can be posted as it is; a plan, a sheet and a proof whole",
    "txt": "in words, as plain text; a plan, a sheet and a proof whole",
    "svg": "as a picture",
    "png": "as a picture in pixels",
    "html": "as a page to print",
}
_TEXT = {"type": "string"}
_NOWHERE, _LONG, _NOT_MADE = 404, 414, 501
# Statuses that reports alone answer, and those that a link without a body cannot meet.
ONLY_REPORTS = {_NOWHERE, _LONG, _NOT_MADE}
_ONLY_POSTED = {408, 415}


def problem_answers(statuses: Iterable[int]) -> JSONObject:
    """Point at the answers that are problems.

    Returns
    -------
    dict
        By status.
    """
    return {
        str(status): {"$ref": f"#/components/responses/Problem{status}"}
        for status in sorted(statuses)
    }


def report_paths(
    operations: Sequence[Operation], posted: AbstractSet[int]
) -> Iterator[tuple[str, JSONObject]]:
    """Describe the reports.

    Parameters
    ----------
    operations : sequence of Operation
        All operations.
    posted : set of int
        Statuses of the problems that a posted operation meets.

    Yields
    ------
    path : str
    methods : dict
        What the path takes.
    """
    for form, media_type in MEDIA_TYPES.items():
        covered = [each for each in reported(operations) if form in forms(each)]
        answers: JSONObject = {
            "200": {
                "description": f"The answer {_WHAT[form]}.",
                "content": {media_type.partition(";")[0]: {"schema": _schema(form)}},
            }
        }
        own = posted | {_NOWHERE} | ({_NOT_MADE} if form == "png" else set())
        common: JSONObject = {"summary": f"An answer {_WHAT[form]}", "tags": ["reports"]}
        options = [_operation_parameter(covered), *_options(form)]
        yield (
            f"{PREFIX}/{{operation}}.{form}",
            {
                "post": {
                    **common,
                    "operationId": f"report_{form}",
                    "description": "Takes the body of the operation itself, with the same rules "
                    "and errors.",
                    "parameters": options,
                    "requestBody": {
                        "required": True,
                        "content": {"application/json": _body(covered)},
                    },
                    "responses": {**answers, **problem_answers(own)},
                },
                "get": {
                    **common,
                    "operationId": f"linked_report_{form}",
                    "description": "The same by a link that carries the whole request, so that a "
                    "post can embed the answer and anyone can reproduce it.",
                    "parameters": [*options, _link_parameter()],
                    "responses": {
                        **answers,
                        "304": {"description": "The answer that you have is still good."},
                        **problem_answers((own - _ONLY_POSTED) | {_LONG}),
                    },
                },
            },
        )


def _schema(form: str) -> JSONObject:
    return {} if form == "png" else _TEXT


def _body(covered: Sequence[Operation]) -> JSONObject:
    refs = [{"$ref": f"#/components/schemas/{type(each.schema).__name__}"} for each in covered]
    return {
        "schema": {"anyOf": refs},
        "examples": {each.name: {"$ref": f"#/components/examples/{each.name}"} for each in covered},
    }


def _operation_parameter(covered: Sequence[Operation]) -> JSONObject:
    return {
        "name": "operation",
        "in": "path",
        "required": True,
        "description": "the operation, as in its own path",
        "schema": {**_TEXT, "enum": [each.name for each in covered]},
    }


def _options(form: str) -> list[JSONObject]:
    if form in WORDS:
        return [
            {
                "name": "units",
                "in": "query",
                "description": "us shows feet and degrees Fahrenheit beside SI",
                "schema": {**_TEXT, "enum": list(UNITS), "default": UNITS[0]},
            }
        ]
    if form in PRINTED:
        return []
    kinds = dict.fromkeys(kind for pictures in PICTURES.values() for kind in pictures)
    described = "; ".join(f"{name}: {', '.join(offered)}" for name, offered in PICTURES.items())
    return [
        {
            "name": "picture",
            "in": "query",
            "description": f"which picture, by default the first of {described}",
            "schema": {**_TEXT, "enum": list(kinds)},
        }
    ]


def _link_parameter() -> JSONObject:
    return {
        "name": PARAMETER,
        "in": "query",
        "required": True,
        "description": "the request as JSON in UTF-8, as it is or compressed by zlib (RFC 1950; "
        f"at most {MAX_UNPACKED} bytes unpacked), in base64url (RFC 4648, section 5)",
        "schema": {**_TEXT, "maxLength": MAX_LINK, "pattern": PATTERN},
    }
