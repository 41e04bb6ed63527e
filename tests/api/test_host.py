"""The host that a request names stands in no answer: no link and no redirect can lead there."""

import re
from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient

STRANGER = "stranger.example"
NAMED = {"Host": STRANGER, "X-Forwarded-Host": STRANGER, "X-Forwarded-Proto": "https",
         "X-Original-URL": f"https://{STRANGER}/", "Forwarded": f"host={STRANGER}"}  # fmt: skip
FILLED = {
    "/problems/<code>": "not-json",
    "/static/<name>": "docs.js",
    "/docs/<name>": "voltage-drop",
}


def paths(app: Flask) -> list[str]:
    """Every path there is, with something in the place of what it leaves open."""
    rules = [rule.rule for rule in app.url_map.iter_rules()]
    return [re.sub(r"<\w+>", lambda _, rule=rule: FILLED[rule], rule) for rule in rules]


def spelt(path: str) -> Iterator[str]:
    """The path as it is, and as a careless or a cunning caller spells it."""
    yield path
    yield f"{path}/"
    yield f"{path}//"
    for place in (match.start() for match in re.finditer("/", path)):
        yield f"{path[:place]}/{path[place:]}"
    yield f"/{path}".replace("//", f"//{STRANGER}/", 1)
    yield f"/.{path}"
    yield f"/x/..{path}"


def test_there_are_paths(app: Flask) -> None:
    assert {"/", "/v1/conductors", "/static/docs.js", "/docs/voltage-drop"} <= set(paths(app))


@pytest.mark.parametrize("method", ["GET", "POST", "OPTIONS", "DELETE"])
def test_no_path_is_redirected_however_it_is_spelt(
    app: Flask, client: FlaskClient, method: str
) -> None:
    for path in paths(app):
        for spelling in spelt(path):
            # As a server passes it on: the test client itself would take //x for a host.
            answer = client.open("/", method=method, environ_overrides={"PATH_INFO": spelling})
            assert not 300 <= answer.status_code < 400, (spelling, answer.headers)
            assert answer.status_code < 500, spelling


def test_a_doubled_slash_is_another_path(client: FlaskClient) -> None:
    answer = client.get("/v1//conductors", headers=NAMED)
    assert answer.status_code == 404
    assert answer.get_json()["type"] == "/problems/not-found"


@pytest.mark.parametrize("method", ["GET", "POST", "OPTIONS"])
def test_the_host_stands_in_no_answer(app: Flask, client: FlaskClient, method: str) -> None:
    for path in [*paths(app), "/nowhere", "/v1//x"]:
        answer = client.open(path, method=method, headers=NAMED)
        assert STRANGER not in str(answer.headers), path
        assert STRANGER not in answer.text, path


@pytest.mark.parametrize(
    "host", ["", "a b", "a\\b", "[::1", "x" * 5000, "a:b:c", "\u00e9", "a/b", "a@b"]
)
def test_a_host_that_is_none_harms_nothing(client: FlaskClient, host: str) -> None:
    for path in ("/", "/v1/conductors", "/v1//conductors", "/docs"):
        answer = client.get(path, headers={"Host": host})
        assert answer.status_code in {200, 400, 404}
