"""Batches of lines: a request a line, an answer a line, each on its own."""

import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.batch_lines import lined
from lastvolt_service.operations.circuits.check import CircuitCheckRequest

NDJSON = "application/x-ndjson"
CIRCUITS = "/v1/batch/circuit-check"
LINED = lined(OPERATIONS)


def answers(response: Any) -> list[Any]:
    return [json.loads(line) for line in response.data.splitlines()]


@pytest.mark.parametrize("operation", LINED, ids=lambda operation: operation.name)
def test_each_line_is_answered_or_refused_on_its_own(
    client: FlaskClient, worked: Any, operation: Any
) -> None:
    good = json.dumps(operation.schema.example)
    body = "\n".join(['{"circuit": 1}', "", "{", good, "{"])
    response = client.post(f"/v1/batch/{operation.name}", data=body, content_type=NDJSON)
    assert response.status_code == 200
    assert response.mimetype == NDJSON
    found = answers(response)
    assert [(each["line"], each["status"]) for each in found] == [
        (1, 422), (3, 400), (4, 200), (5, 400),
    ]  # fmt: skip
    assert found[2]["answer"] == worked(operation.name).get_json()
    assert found[0]["problem"]["type"] == "/problems/invalid-request"


def test_what_has_columns_takes_no_lines(client: FlaskClient) -> None:
    response = client.post("/v1/batch/wire-resistance", data="{}", content_type=NDJSON)
    assert response.status_code == 415


def test_answers_are_streamed(client: FlaskClient) -> None:
    body = "\n".join([json.dumps(CircuitCheckRequest.example)] * 3)
    response = client.post(CIRCUITS, data=body, content_type=NDJSON, buffered=False)
    assert response.is_streamed
    assert json.loads(next(response.iter_encoded()))["line"] == 1
    response.close()


@pytest.mark.parametrize(
    ("data", "content_type", "status"),
    [("{}\n" * 1001, NDJSON, 413), ("{}", "application/json", 415)],
)
def test_lines_refused_as_a_whole(
    client: FlaskClient, data: str, content_type: str, status: int
) -> None:
    assert client.post(CIRCUITS, data=data, content_type=content_type).status_code == status
