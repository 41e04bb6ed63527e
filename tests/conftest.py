"""What all tests share: a clean environment, the application, and operations without HTTP."""

import os
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from lastvolt_service.api import OPERATIONS
from lastvolt_service.app import create_app
from lastvolt_service.config import Config


@pytest.fixture(autouse=True)
def clean_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither proxies nor settings of the machine reach a test."""
    for name in os.environ:
        if name.lower().endswith("_proxy") or name.startswith("LASTVOLT_"):
            monkeypatch.delenv(name)


@pytest.fixture(scope="session")
def app() -> Flask:
    return create_app(Config())


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture(scope="session")
def run() -> Callable[..., Any]:
    """Run an operation as its path does, defaults and checks of its schema included."""
    by_name = {operation.name: operation for operation in OPERATIONS}

    def answer(name: str, **fields: Any) -> Any:
        return by_name[name].answer(fields)

    return answer
