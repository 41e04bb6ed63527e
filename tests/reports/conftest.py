"""Answers with the requests that they came from, as reports see both."""

import json
from collections.abc import Callable
from functools import lru_cache
from typing import Any

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.reports.words import words

POSTED = {operation.name: operation for operation in OPERATIONS if operation.method == "POST"}

Tell = Callable[..., str]


def solve(name: str, body: dict[str, Any]) -> tuple[dict[str, Any], Any]:
    """The arguments of an operation, and its answer."""
    return _solve(name, json.dumps(body))


@lru_cache(maxsize=64)
def _solve(name: str, body: str) -> tuple[dict[str, Any], Any]:
    operation = POSTED[name]
    arguments = operation.arguments(json.loads(body))
    return arguments, operation.compute(arguments)


@pytest.fixture(scope="session")
def tell() -> Tell:
    """Put the answer to a body into words."""

    def told(name: str, body: dict[str, Any], **how: Any) -> str:
        return words(name, *solve(name, body), **{"markdown": False, **how})

    return told
