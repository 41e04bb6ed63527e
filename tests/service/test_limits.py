"""Limits of what is read and computed, for every operation."""

import copy
import math
import re
import socket
from collections.abc import Iterator
from typing import Any

import flask
import pytest
from flask.testing import FlaskClient
from marshmallow import Schema, fields, validate

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.body import read_json
from lastvolt_service.app import create_app
from lastvolt_service.config import Config

from ..cost import is_spared

CALCULATIONS = [operation for operation in OPERATIONS if operation.method == "POST"]
# The ends of the numbers of IEEE 754: near the largest, the smallest denormal, zero with a sign;
# and one that only an integer can hold.
EXTREMES = [1e308, -1e308, 5e-324, -0.0, 10**29]


def numbers(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], float]]:
    """Paths of all numbers in a JSON value, and the numbers."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from numbers(inner, (*path, index))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, value


def of_each_field(found: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    """Of the items of a list one for each field, a later one for each further field."""
    paths: dict[tuple[Any, ...], list[tuple[Any, ...]]] = {}
    for path in found:
        paths.setdefault(tuple("*" if isinstance(k, int) else k for k in path), []).append(path)
    return [own[place % len(own)] for place, own in enumerate(paths.values())]


def replaced(request: Any, path: tuple[Any, ...], value: Any) -> Any:
    changed = copy.deepcopy(request)
    place = changed
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return changed


@pytest.mark.hypothesis  # for the long job, which spares none
@pytest.mark.parametrize("operation", CALCULATIONS, ids=lambda operation: operation.name)
def test_extreme_number_gets_an_answer_or_422(client: FlaskClient, operation: Any) -> None:
    example, most = operation.schema.example, len(EXTREMES)
    paths = [path for path, _ in numbers(example)]
    if is_spared(operation.name):
        # What these take they share: a field meets another extreme in each, a quarter of them here.
        paths, most = of_each_field(paths)[CALCULATIONS.index(operation) % 4 :: 4], 1
    for place, path in enumerate(paths, CALCULATIONS.index(operation)):
        for extreme in [*EXTREMES, *EXTREMES][place % len(EXTREMES) :][:most]:
            response = client.post(operation.path, json=replaced(example, path, extreme))
            assert response.status_code in {200, 422}, (path, extreme, response.text[:300])
            assert all(math.isfinite(value) for _, value in numbers(response.get_json()))


@pytest.mark.parametrize("operation", CALCULATIONS, ids=lambda operation: operation.name)
def test_all_numbers_extreme_at_once(client: FlaskClient, operation: Any) -> None:
    for extreme in EXTREMES:
        request = operation.schema.example
        for path, _ in numbers(request):
            request = replaced(request, path, extreme)
        assert client.post(operation.path, json=request).status_code in {200, 422}


def schemas(schema: Schema) -> Iterator[tuple[str, fields.Field]]:
    """All fields of a schema and of those inside it."""
    for name, field in schema.fields.items():
        yield from inside(f"{type(schema).__name__}.{name}", field)


def inside(name: str, field: fields.Field) -> Iterator[tuple[str, fields.Field]]:
    yield name, field
    if isinstance(field, fields.List):
        yield from inside(f"{name}[]", field.inner)
    elif isinstance(field, fields.Nested):
        yield from schemas(field.schema)
    for inner in getattr(field, "schemas", {}).values():  # one of several kinds
        yield from schemas(inner if isinstance(inner, Schema) else inner())


FIELDS = {name: field for operation in OPERATIONS for name, field in schemas(operation.schema)}


def test_texts_and_lists_are_bounded() -> None:
    """A text has a greatest length, is one of a list, or matches a pattern that cannot go on."""
    texts = lists = 0
    for name, field in FIELDS.items():
        kinds = field.validators
        long = any(isinstance(kind, validate.Length) and kind.max for kind in kinds)
        if isinstance(field, fields.List):
            lists += 1
            assert long, name
        elif isinstance(field, fields.String):
            texts += 1
            one_of = any(isinstance(kind, validate.OneOf) for kind in kinds)
            pattern = field.metadata.get("pattern", "*")
            assert long or one_of or not re.search(r"[*+]|,\}", pattern), name
    assert texts > 10
    assert lists > 1


def test_a_batch_has_limits_of_its_own() -> None:
    """Paths of batches take larger bodies, and nothing beside them does."""
    app = create_app(Config(max_body_bytes=100, max_batch_body_bytes=200))

    @app.post("/v1/batch/made")
    def made() -> str:

        return str(len(read_json(flask.request)))

    client = app.test_client()

    def send(path: str, length: int) -> int:
        body = b'["a"]'.ljust(length)
        return client.post(path, data=body, content_type="application/json").status_code

    assert [send("/v1/batch/made", length) for length in (101, 200, 201)] == [200, 200, 413]
    assert [send("/v1/wire-resistance", length) for length in (100, 101)] == [422, 413]


def test_no_operation_asks_another_machine(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing that a request holds makes the service open a connection."""

    def refuse(*_: Any, **__: Any) -> None:
        raise AssertionError("a connection was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    for operation in CALCULATIONS:
        assert client.post(operation.path, json=operation.schema.example).status_code == 200
    segment = {"kind": "resistance", "name": "http://192.0.2.1/", "resistance_ohm": 0}
    body = {"supply_v": 12, "load_current_a": 5, "segments": [segment]}
    assert client.post("/v1/voltage-drop", json=body).status_code == 200
