"""Answers for people: the operation's own request in, words or a picture out."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from flask import Blueprint, Response, request
from marshmallow import ValidationError

from lastvolt_service.api.body import read_json
from lastvolt_service.api.links import PARAMETER, unpack
from lastvolt_service.api.operations import API_PREFIX, Operation, cacheable, query, respond
from lastvolt_service.api.problems import Refused, invalid
from lastvolt_service.reports.drawing import PICTURES, NoRenderer, to_png
from lastvolt_service.reports.sheet import PAGES, policy
from lastvolt_service.reports.sheet_words import sheet_words
from lastvolt_service.reports.words import words

PREFIX = f"{API_PREFIX}/reports"
MEDIA_TYPES = {
    "md": "text/markdown; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "svg": "image/svg+xml; charset=utf-8",
    "png": "image/png",
    "html": "text/html; charset=utf-8",
}
WORDS, DRAWN, PRINTED = ("md", "txt"), ("svg", "png"), ("html",)
UNITS = ("si", "us")
# A report changes with the version of the service only; its ETag tells.
CACHE_S = 3600


def reports(operations: Sequence[Operation]) -> Blueprint:
    """Make the blueprint of the reports of all calculations."""
    blueprint = Blueprint("reports", __name__)
    for operation in reported(operations):
        for form in forms(operation):
            blueprint.add_url_rule(
                f"{PREFIX}/{operation.name}.{form}",
                endpoint=f"{operation.name}-{form}",
                view_func=_view(operation, form),
                methods=["GET", "POST"],
            )
    return blueprint


def reported(operations: Sequence[Operation]) -> list[Operation]:
    """Choose the operations that have reports."""
    return [operation for operation in operations if operation.method == "POST"]


def forms(operation: Operation) -> tuple[str, ...]:
    """Tell what the answer of an operation can become.

    Returns
    -------
    tuple of str
        Ends of paths.
    """
    drawn = DRAWN if operation.name in PICTURES else ()
    return (*WORDS, *drawn, *(PRINTED if operation.name in PAGES else ()))


def _view(operation: Operation, form: str) -> Callable[[], Response]:
    choices: dict[str, Sequence[str]] = {}
    if form in WORDS:
        choices = {"units": UNITS}
    elif form in DRAWN:
        choices = {"picture": tuple(PICTURES[operation.name])}

    def report() -> Response:
        given = query()
        linked = request.method != "POST"
        text = given.pop(PARAMETER, None) if linked else None
        chosen = _choose(given, choices)
        if linked and text is None:
            raise invalid(ValidationError({PARAMETER: ["This is required."]}))
        asked = read_json(request) if text is None else unpack(text)
        arguments = operation.arguments(asked)
        answer = operation.compute(arguments)
        respond(answer)  # refuses what JSON would refuse
        made = Response(
            _made(operation.name, form, chosen, arguments, answer),
            content_type=MEDIA_TYPES[form],
        )
        if form in PRINTED:
            made.headers["Content-Security-Policy"] = policy()
        if not linked:
            return made
        made.cache_control.max_age = CACHE_S
        return cacheable(made)

    return report


def _choose(given: Mapping[str, str], choices: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """The options of a report, the first of each where none is given."""
    wrong = {name: ["There is no such query parameter."] for name in given if name not in choices}
    chosen = {}
    for name, offered in choices.items():
        chosen[name] = given.get(name, offered[0])
        if chosen[name] not in offered:
            wrong[name] = [f"This must be one of: {', '.join(offered)}."]
    if wrong:
        raise invalid(ValidationError(wrong))
    return chosen


def _made(
    name: str, form: str, chosen: Mapping[str, str], arguments: dict[str, Any], answer: Any
) -> str | bytes:
    if form in WORDS:
        us = chosen["units"] == "us"
        markdown = form == "md"
        told = words(name, arguments, answer, markdown=markdown, us=us)
        return told + sheet_words(name, arguments, answer, markdown=markdown)
    if form in PRINTED:
        return PAGES[name](arguments, answer)
    svg = PICTURES[name][chosen["picture"]](arguments, answer)
    if form == "svg":
        return svg
    try:
        return to_png(svg)
    except NoRenderer as error:
        raise Refused("no-pictures", str(error)) from error
