"""The service twice: in this process, and as a real gunicorn on loopback."""

from collections.abc import Iterator

import pytest

from lastvolt import EMBEDDED, Client
from lastvolt.embedded import application

from ..conftest import DEADLINE_S


@pytest.fixture
def remote(server_url: str) -> Iterator[Client]:
    with Client(server_url) as client:
        yield client


@pytest.fixture
def embedded(monkeypatch: pytest.MonkeyPatch) -> Iterator[Client]:
    monkeypatch.setenv("LASTVOLT_DEADLINE_S", str(DEADLINE_S))  # as the server has it
    application.cache_clear()
    with Client(EMBEDDED) as client:
        yield client
