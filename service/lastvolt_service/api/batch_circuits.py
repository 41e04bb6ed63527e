"""A batch of circuits: one request a line, one answer a line, each on its own."""

import time
from collections.abc import Iterator
from typing import Any

from flask import Blueprint, Response, current_app, g, request, stream_with_context

from lastvolt_service.api import circuits, problems
from lastvolt_service.api.batch import refuse_query
from lastvolt_service.api.body import parse, read_bytes
from lastvolt_service.api.operations import API_PREFIX, respond
from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError

MEDIA_TYPE = "application/x-ndjson"
MAX_CIRCUITS = 1000
CHECK = circuits.OPERATIONS[0]
PATH = f"{API_PREFIX}/batch/{CHECK.name}"

blueprint = Blueprint("batch circuits", __name__)


@blueprint.post(PATH)
def check_circuits() -> Response:
    """Answer a batch of circuits.

    Returns
    -------
    flask.Response
        Streamed; a line for each line, blank ones left out.

    Raises
    ------
    Refused
        413 for too many circuits.
    """
    refuse_query()
    lines = [
        (number, line)
        for number, line in enumerate(read_bytes(request, MEDIA_TYPE).split(b"\n"), 1)
        if line.strip()
    ]
    if len(lines) > MAX_CIRCUITS:
        raise Refused("too-large", f"A batch may have at most {MAX_CIRCUITS} circuits: split it.")
    g.rows = len(lines)
    return Response(stream_with_context(_answers(lines)), content_type=MEDIA_TYPE)


def _answers(lines: list[tuple[int, bytes]]) -> Iterator[str]:
    service: Any = current_app
    ends_at = time.monotonic() + service.settings.batch_deadline_s
    for number, line in lines:
        # The view has ended and its deadline with it: each circuit has one, and all have together.
        seconds = min(service.settings.deadline_s, ends_at - time.monotonic())
        found = _answer(service, line, seconds)
        key = "answer" if found.status_code == 200 else "problem"
        text = found.get_data(as_text=True)
        yield f'{{"line":{number},"status":{found.status_code},"{key}":{text}}}\n'


def _answer(service: Any, line: bytes, seconds: float) -> Response:
    def work() -> Response:
        return respond(CHECK.answer(parse(line)))

    if seconds <= 0:
        late = Refused("deadline-exceeded", "The circuits before took all the time there was.")
        return problems.answer_refused(late)
    try:
        answered: Response = service.deadlines.run(work, seconds=seconds)
    except Refused as refused:
        return problems.answer_refused(refused)
    except CalculationError as error:
        return problems.answer_calculation_error(error)
    except Exception as error:  # ours: it shall not keep the other circuits
        return problems.answer_fault(error)
    return answered
