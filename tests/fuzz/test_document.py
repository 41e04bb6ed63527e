"""schemathesis over the whole OpenAPI document: what it promises holds, whatever is sent.

It tries every example, the edges of every bound, then generated requests, right and wrong ones, and
methods that are not there. All its checks are on, and two of our own.
"""

import json
import re

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import Status, from_schema
from schemathesis.engine.events import FatalError, NonFatalError, ScenarioFinished

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.batch_lines import lined, path_of
from lastvolt_service.app import create_app
from lastvolt_service.config import Config

from ..cost import DEAR, some, tries

BATCHES, REPORTS = "/v1/batch/", "/v1/reports/"
LINED = {path_of(each) for each in lined(OPERATIONS)}  # each line has a status of its own
REFUSALS = ["400", "404", "413", "414", "415", "422"]
SETTINGS = {
    "analysis": {"constants": {"enabled": False}},  # it looks for constants in our own source
    "checks": {
        # Some rules are beyond a schema: exactly one of two fields, nodes that must exist, a
        # circuit without an operating point. `only_rules_refuse` sees to it that it is these alone.
        "positive_data_acceptance": {"expected-statuses": ["200", "422"]},
        "negative_data_rejection": {"expected-statuses": REFUSALS},
    },
    "operations": [
        {
            # A cell out of bounds is an error of its row: `bad_cells_are_told`.
            "include-path-regex": f"^{BATCHES}",
            "checks": {"negative_data_rejection": {"expected-statuses": ["200", *REFUSALS]}},
        },
        {
            # A text of base64 may hold no JSON: no pattern can say that.
            "include-path-regex": f"^{REPORTS}",
            "checks": {"positive_data_acceptance": {"expected-statuses": ["200", "400", "422"]}},
        },
    ],
}
# What the fields themselves refuse, and the document therefore has to say.
OF_FIELDS = re.compile(
    r"This (is required|may not be null|must be (a |text|true|one of|from )|must (list|have) )"
    r"|There is no such (field|query)"
)
OF_CIRCUITS = ("start-sequence",)  # dear by their edges alone
# Only for long: the edges of all bounds once more in each form of report, in columns, and in a
# request that has those of a circuit and its own. They are two thirds of all requests.
BRIEF = {
    "include-path-regex": (f"^({REPORTS}|{BATCHES}|/v1/({'|'.join([*OF_CIRCUITS, *DEAR])}))"),
    "phases": {"coverage": {"enabled": False}},
}
# A circuit has more edges than all the rest together: in the gate those that fit alone.
# Of what is dear fewer are drawn.
FEW = {
    "include-path-regex": f"^/v1/(batch/)?({'|'.join(DEAR)})$",
    "generation": {"max-examples": tries("remedy-choice", 10)},
}
RIGHT_EDGES = {
    "include-path-regex": "^/v1/circuit-check$",
    "phases": {"coverage": {"generation": {"mode": "positive"}}},
}


def load(*more, **generation):
    """Read the document from the application; `more` are settings of single operations."""
    wanted = {**SETTINGS, "operations": [*SETTINGS["operations"], *more], "generation": generation}
    config = SchemathesisConfig.from_dict(wanted)
    return schemathesis.openapi.from_wsgi(
        "/openapi.json", create_app(Config(deadline_s=120)), config=config
    )


@schemathesis.serializer("application/x-ndjson")
def lines(_context, value):
    """Send a text as it is, and anything else as one line of JSON."""
    return (value if isinstance(value, str) else json.dumps(value)).encode(errors="replace")


@schemathesis.check
def only_rules_refuse(_context, response, case):
    """A request that fits the document is refused by a rule between fields at most."""
    if case.meta is None or not case.meta.generation.mode.is_positive:
        return
    # A report takes the requests of all operations; whether one fits is for its path to say.
    if response.status_code == 422 and not case.operation.path.startswith(REPORTS):
        for error in response.json().get("errors", ()):
            assert not OF_FIELDS.match(error["detail"]), error


@schemathesis.check
def bad_cells_are_told(_context, response, case):
    """A batch that does not fit the document is refused, or its rows at fault are named."""
    if case.meta is None or case.meta.generation.mode.is_positive:
        return
    columns = case.operation.path.startswith(BATCHES) and case.operation.path not in LINED
    if response.status_code == 200 and columns and case.method == "POST":
        told = response.json()
        assert told["errors"] or not told["rows"], told


@load(BRIEF, FEW, RIGHT_EDGES, **{"max-examples": some(6, 10)}).parametrize()
@settings(deadline=None, suppress_health_check=list(HealthCheck))
def test_document_holds(case):
    case.call_and_validate()


@pytest.mark.long
def test_document_holds_for_long():
    found = []
    for event in from_schema(load(**{"max-examples": 1000})).execute():
        assert not isinstance(event, NonFatalError | FatalError), event
        if isinstance(event, ScenarioFinished) and event.status in {Status.FAILURE, Status.ERROR}:
            checks = [check for checks in event.recorder.checks.values() for check in checks]
            wrong = {
                f"{check.name}: {check.failure_info}" for check in checks if check.failure_info
            }
            found.append((event.label, wrong))
    assert found == []
