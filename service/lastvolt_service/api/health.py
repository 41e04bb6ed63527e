"""Probes for whoever keeps the service running, and the texts of the problem types."""

import math
from typing import Any

from flask import Blueprint, Response
from werkzeug.exceptions import NotFound

from lastvolt_service.api.answers import to_json
from lastvolt_service.api.problems import PROBLEMS
from lastvolt_service.operations.results import computed_by
from lastvolt_service.operations.wires.resistance import OPERATION, WireResistanceRequest

# 12 AWG solid copper, 1000 ft at 20 degC: 1.588 ohm in the copper wire tables of
# NBS Circular 31, as printed.
KNOWN_OHM = 1.588

ALIVE = b'{"alive":true}'

blueprint = Blueprint("health", __name__)


@blueprint.get("/livez")
def livez() -> Response:
    """Say that the process answers.

    Returns
    -------
    flask.Response
        200, without any work.
    """
    return Response(ALIVE, content_type="application/json")


@blueprint.get("/readyz")
def readyz() -> Response:
    """Say whether one known calculation comes out right.

    Returns
    -------
    flask.Response
        200 with the versions, or 503.
    """
    ready, body = readiness()
    return Response(body, status=200 if ready else 503, content_type="application/json")


def readiness(*, ending: bool = False) -> tuple[bool, bytes]:
    """Whether to send requests here, and the same as JSON; not to a process that is ending."""
    asked = WireResistanceRequest(
        size="12 AWG", length_m=304.8, temperature_c=20.0, material="copper", construction="solid"
    )
    found: Any = OPERATION.answer(asked)
    ready = not ending and math.isclose(found.resistance_ohm, KNOWN_OHM, abs_tol=0.0005)
    return ready, to_json({"ready": ready, "computed_by": computed_by()})


@blueprint.get("/problems/<code>")
def problem(code: str) -> Response:
    """Explain one type of problem.

    Returns
    -------
    flask.Response
        What it means and what to do.
    """
    if code not in PROBLEMS:
        raise NotFound
    return Response(to_json(PROBLEMS[code]), content_type="application/json")
