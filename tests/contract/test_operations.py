"""Every SDK method answers the published example, in this process and over a socket alike."""

from typing import Any

import pytest

from lastvolt import Client
from lastvolt.answers import Model
from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.operations import Operation


@pytest.fixture(params=OPERATIONS, ids=lambda operation: operation.name)
def operation(request: pytest.FixtureRequest) -> Operation:
    found: Operation = request.param
    return found


def ask(client: Client, operation: Operation) -> Model:
    arguments: dict[str, Any] = operation.schema.example
    answer: Model = getattr(client, operation.operation_id)(**arguments)
    return answer


def test_socket_and_process_give_the_same_answer_and_the_whole_one(
    embedded: Client, remote: Client, worked: Any, operation: Operation
) -> None:
    typed = ask(embedded, operation)
    assert typed == ask(remote, operation)
    assert typed.to_dict() == worked(operation.name).get_json()
