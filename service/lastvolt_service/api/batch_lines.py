"""Batches of what no row of a table holds: a request a line, an answer a line, each on its own."""

import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from flask import Blueprint, Response, current_app, g, request, stream_with_context

from lastvolt_service.api import problems
from lastvolt_service.api.batch import BATCH_PREFIX, BATCHES, refuse_query
from lastvolt_service.api.body import parse, read_bytes
from lastvolt_service.api.operations import Operation, respond
from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError

MEDIA_TYPE = "application/x-ndjson"
MAX_LINES = 1000


def lined(operations: Sequence[Operation]) -> list[Operation]:
    """Choose the operations whose requests come as lines: those that have no columns."""
    in_columns = {batch.name for batch in BATCHES}
    return [each for each in operations if each.method == "POST" and each.name not in in_columns]


def path_of(operation: Operation) -> str:
    """Tell where the lines of an operation go."""
    return f"{BATCH_PREFIX}/{operation.name}"


def lines(operations: Sequence[Operation]) -> Blueprint:
    """Make the blueprint of the batches of lines."""
    blueprint = Blueprint("batches of lines", __name__)
    for operation in lined(operations):
        blueprint.add_url_rule(
            path_of(operation),
            endpoint=operation.name,
            view_func=_view(operation),
            methods=["POST"],
        )
    return blueprint


def _view(operation: Operation) -> Callable[[], Response]:
    def answer_lines() -> Response:
        """Stream a line for each line, blank ones left out; too many are refused with 413."""
        refuse_query()
        lines = [
            (number, line)
            for number, line in enumerate(read_bytes(request, MEDIA_TYPE).split(b"\n"), 1)
            if line.strip()
        ]
        if len(lines) > MAX_LINES:
            raise Refused("too-large", f"A batch may have at most {MAX_LINES} lines: split it.")
        g.rows = len(lines)
        answers = stream_with_context(_answers(operation, lines))
        return Response(answers, content_type=MEDIA_TYPE)

    return answer_lines


def _answers(operation: Operation, lines: list[tuple[int, bytes]]) -> Iterator[str]:
    service: Any = current_app
    ends_at = time.monotonic() + service.settings.batch_deadline_s
    for number, line in lines:
        # The view has ended and its deadline with it: each line has one, and all have together.
        seconds = min(service.settings.deadline_s, ends_at - time.monotonic())
        found = _answer(service, operation, line, seconds)
        key = "answer" if found.status_code == 200 else "problem"
        text = found.get_data(as_text=True)
        yield f'{{"line":{number},"status":{found.status_code},"{key}":{text}}}\n'


def _answer(service: Any, operation: Operation, line: bytes, seconds: float) -> Response:
    def work() -> Response:
        return respond(operation.answer(parse(line)))

    if seconds <= 0:
        late = Refused("deadline-exceeded", "The lines before took all the time there was.")
        return problems.answer_refused(late)
    try:
        answered: Response = service.deadlines.run(work, seconds=seconds)
    except Refused as refused:
        return problems.answer_refused(refused)
    except CalculationError as error:
        return problems.answer_calculation_error(error)
    except Exception as error:  # ours: it shall not keep the other lines
        return problems.answer_fault(error)
    return answered
