"""The service twice: in this process, and as a real gunicorn on loopback."""

from collections.abc import Iterator

import pytest

from lastvolt import EMBEDDED, Client
from lastvolt.embedded import application


@pytest.fixture
def remote(server_url: str) -> Iterator[Client]:
    with Client(server_url) as client:
        yield client


@pytest.fixture
def embedded() -> Iterator[Client]:
    application.cache_clear()
    with Client(EMBEDDED) as client:
        yield client
