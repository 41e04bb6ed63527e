"""The service twice: in this process, and as a real gunicorn on loopback."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator

import pytest
import requests

from lastvolt import EMBEDDED, Client
from lastvolt.embedded import application

STARTUP_S = 30


@pytest.fixture(scope="session")
def server_url() -> Iterator[str]:
    """Start gunicorn with the settings that the image and ``lastvolt serve`` use."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    environment = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith("LASTVOLT_") and not name.lower().endswith("_proxy")
    }
    environment |= {"LASTVOLT_BIND": f"127.0.0.1:{port}", "LASTVOLT_WORKERS": "1"}
    command = ["-m", "gunicorn", "--config", "python:lastvolt_service.gunicorn_conf"]
    server = subprocess.Popen([sys.executable, *command], env=environment)
    url = f"http://127.0.0.1:{port}"
    try:
        _wait_until_ready(url, server)
        yield url
    finally:
        server.terminate()
        server.wait(STARTUP_S)


def _wait_until_ready(url: str, server: "subprocess.Popen[bytes]") -> None:
    end = time.monotonic() + STARTUP_S
    while time.monotonic() < end:
        assert server.poll() is None, "gunicorn ended before it was ready"
        try:
            if requests.get(f"{url}/readyz", timeout=1).status_code == 200:
                return
        except requests.ConnectionError:
            time.sleep(0.05)
    raise AssertionError(f"gunicorn was not ready within {STARTUP_S} s")


@pytest.fixture
def remote(server_url: str) -> Iterator[Client]:
    with Client(server_url) as client:
        yield client


@pytest.fixture
def embedded() -> Iterator[Client]:
    application.cache_clear()
    with Client(EMBEDDED) as client:
        yield client
