"""The start page: the short form in the query, the plan in the page, and no script needed."""

import json
import shlex
from collections.abc import Mapping
from typing import Any
from urllib.parse import unquote, urlencode, urlsplit

from flask import Blueprint, Response, g, request

from lastvolt_service.api import reports
from lastvolt_service.api.operations import Operation, query, respond
from lastvolt_service.api.page import bare, page
from lastvolt_service.api.problems import MEDIA_TYPE
from lastvolt_service.operations.decision.quick_answer import QuickAnswer
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.decision.remedy_choice import NAME as FULL
from lastvolt_service.pages.short_form import inputs, request_of, said
from lastvolt_service.words.amounts import amount
from lastvolt_service.words.labels import quantity

TEMPLATE = "start.html"
NO_KEY = (401, 403)


def mount_start(blueprint: Blueprint, operation: Operation) -> None:
    """Add the page that asks for a quick answer by a form."""
    form = inputs(QuickAnswerRequest)
    always: dict[str, Any] = {
        "form": form,
        "least": 1 + max(place for place, each in enumerate(form) if each.required),
        "example": urlencode(operation.schema.example),
    }

    @blueprint.get("/")
    def start() -> Response:
        if not request.query_string:
            return page(TEMPLATE, typed={}, **always)
        typed = query()
        asked = request_of(QuickAnswerRequest, typed)
        arguments = operation.arguments(asked)
        answer = operation.compute(arguments)
        respond(answer)  # refuses what JSON would refuse
        return page(
            TEMPLATE,
            typed=typed,
            **always,
            answer=answer,
            said=said(form, arguments),
            scale=_scale(answer, arguments.system_v),
            links=_links(answer),
            curl=_curl(operation.path, asked),
            amount=amount,
            quantity=quantity,
        )

    @blueprint.after_request
    def explain(response: Response) -> Response:
        """Show a problem in the page that asked, each error beside its field."""
        if request.endpoint != f"{blueprint.name}.{start.__name__}":
            return response
        if response.mimetype != MEDIA_TYPE:
            return response
        problem = response.get_json()
        beside, others = _errors(problem, {each.name for each in form})
        shown = bare(
            TEMPLATE,
            typed=request.args,
            **always,
            problem=problem,
            beside=beside,
            others=others,
            wants_key=response.status_code in NO_KEY,
        )
        response.set_data(shown.get_data())
        for name in ("Content-Type", "Content-Security-Policy"):
            response.headers[name] = shown.headers[name]
        return response


def _errors(problem: Mapping[str, Any], names: set[str]) -> tuple[dict[str, str], list[str]]:
    """Errors by field of the form, and those of no field of it."""
    beside: dict[str, str] = {}
    others: list[str] = []
    for each in problem.get("errors", ()):
        name = unquote(each["pointer"]).removeprefix("#/")
        if name in names:
            beside[name] = each["detail"]
        else:
            others.append(f"{name}: {each['detail']}" if name != "#" else each["detail"])
    return beside, others if beside or others else [problem["detail"]]


def _scale(answer: QuickAnswer, system_v: float) -> dict[str, Any]:
    """Where the two ranges of volts lie on a line, and its marks. [% of the line]."""
    arrives, needed = answer.load_voltage_v, answer.needed_v
    step = int(system_v) // 6
    top = 1.04 * max(arrives.high_v, needed.high_v, system_v)
    marks = range(0, int(top) + 1, step)
    return {
        "ranges": [
            {"from": 100 * each.low_v / top, "wide": 100 * (each.high_v - each.low_v) / top}
            for each in (arrives, needed)
        ],
        "marks": [(100 * volts / top, volts) for volts in marks],
        "step": step,
        "enough": 100 * needed.high_v / top,
    }


def _links(answer: QuickAnswer) -> dict[str, str]:
    """Links that carry the whole circuit; none where it is too long, or a key would be needed."""
    if "key" in g or answer.link is None:
        return {}
    query_string = urlsplit(answer.link).query
    return {
        "words": f"{reports.PREFIX}/{FULL}.txt?{query_string}",
        "circuit": f"/docs/{FULL}?{query_string}",
    }


def _curl(path: str, asked: Mapping[str, Any]) -> str:
    body = shlex.quote(json.dumps(asked))
    return f"""curl "$LASTVOLT_URL{path}" -H 'Content-Type: application/json' -d {body}"""
