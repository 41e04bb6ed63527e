"""What all tests share: a clean environment, the application, operations without HTTP, a server."""

import gc
import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest
import requests
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, settings
from werkzeug.test import TestResponse

from lastvolt_service.api import OPERATIONS
from lastvolt_service.app import create_app
from lastvolt_service.config import Config

STARTUP_S = 30
# Of the service as tests ask it: however busy the machine is, an answer is wanted and not 422.
# Those about the deadline set their own.
DEADLINE_S = 120.0

# The gate tries the same examples each time, so that what it says is about the change at hand. New
# ones are for the long job: `--hypothesis-profile random`. Neither judges by the clock.
_UNHURRIED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("gate", derandomize=True, database=None, **_UNHURRIED)
settings.register_profile("random", print_blob=True, **_UNHURRIED)
settings.load_profile("gate")

# Images of Python often set this. Here hundreds of programs are started, and each would compile
# the whole service anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


# Each collected test lives to the end. Looking through them all for garbage, over and over, takes
# a tenth of the time; what is made later is looked through as ever, in larger portions.
gc.set_threshold(20_000, 20, 20)


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    """Look for garbage only among what the tests themselves make."""
    gc.freeze()


@pytest.fixture(autouse=True)
def clean_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither proxies nor settings of the machine reach a test."""
    for name in os.environ:
        if name.lower().endswith("_proxy") or name.startswith("LASTVOLT_"):
            monkeypatch.delenv(name)


@pytest.fixture(scope="session")
def app() -> Flask:
    return create_app(Config(deadline_s=DEADLINE_S, batch_deadline_s=DEADLINE_S))


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture(scope="session")
def worked(app: Flask) -> Callable[[str], TestResponse]:
    """Ask an operation's path for its worked example: once, for all that look at the answer."""
    by_name = {operation.name: operation for operation in OPERATIONS}

    @cache
    def response(name: str) -> TestResponse:
        operation = by_name[name]
        how = "query_string" if operation.method == "GET" else "json"
        example = {how: operation.schema.example}
        return app.test_client().open(operation.path, method=operation.method, **example)

    return response


@pytest.fixture(scope="session")
def run() -> Callable[..., Any]:
    """Run an operation as its path does, defaults and checks of its schema included."""
    by_name = {operation.name: operation for operation in OPERATIONS}

    def answer(name: str, **fields: Any) -> Any:
        return by_name[name].answer(fields)

    return answer


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
    environment |= dict.fromkeys(
        ("LASTVOLT_DEADLINE_S", "LASTVOLT_BATCH_DEADLINE_S"), str(DEADLINE_S)
    )
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


@pytest.fixture(scope="session")
def programs() -> Callable[..., tuple[str, ...]]:
    """Find programs beside Python that a test needs."""

    def find(*names: str, packages: str) -> tuple[str, ...]:
        found = [shutil.which(name) for name in names]
        if not all(found):
            missing = f"{', '.join(names)} needed; on Debian: apt-get install {packages}"
            if os.environ.get("CI"):
                pytest.fail(missing, pytrace=False)
            pytest.skip(missing)  # elsewhere: not every contributor has them
        return tuple(map(str, found))

    return find


@pytest.fixture(scope="session")
def node(programs: Callable[..., tuple[str, ...]]) -> str:
    """Where node is."""
    return programs("node", "npm", packages="nodejs npm")[0]
