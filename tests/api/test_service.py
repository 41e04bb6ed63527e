"""Probes, conditional requests, settings, and the one view behind all operations."""

import pytest

from lastvolt_service.api import OPERATIONS, health
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.operations.results import computed_by


@pytest.mark.parametrize("path", ["/v1/conductors", "/v1/conductors?standard=SAE", "/openapi.json"])
def test_etag(client, path):
    first = client.get(path)
    etag = first.headers["ETag"]
    assert etag.startswith('"')
    assert client.get(path).headers["ETag"] == etag
    again = client.get(path, headers={"If-None-Match": etag})
    assert (again.status_code, again.data) == (304, b"")
    assert again.headers["ETag"] == etag
    other = client.get(path, headers={"If-None-Match": '"other"'})
    assert (other.status_code, other.data) == (200, first.data)


def test_etags_differ_with_the_query(client):
    tags = {client.get(f"/v1/conductors{query}").headers["ETag"] for query in ("", "?standard=SAE")}
    assert len(tags) == 2


def test_livez(client):
    assert client.get("/livez").get_json() == {"alive": True}


def test_readyz(client, monkeypatch):
    ready = client.get("/readyz")
    assert ready.status_code == 200
    versions = {"service": computed_by().service, "tables": computed_by().tables}
    assert ready.get_json() == {"ready": True, "computed_by": versions}
    monkeypatch.setattr(health, "KNOWN_OHM", 1.6)
    wrong = client.get("/readyz")
    assert (wrong.status_code, wrong.get_json()["ready"]) == (503, False)


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
def test_same_body_same_answer(client, worked, operation):
    first = worked(operation.name)
    if operation.method == "GET":
        second = client.get(operation.path, query_string=operation.schema.example)
    else:
        second = client.post(operation.path, json=operation.schema.example)
    assert first.status_code == 200
    assert first.content_type == "application/json"
    assert first.data == second.data
    assert first.get_json()["computed_by"]["tables"] == computed_by().tables
    assert any("licensed practice" in text for text in first.get_json()["cautions"])


CALCULATIONS = [operation for operation in OPERATIONS if operation.method == "POST"]


@pytest.mark.parametrize("operation", CALCULATIONS, ids=lambda operation: operation.name)
def test_checks_are_whole(worked, operation):
    for check in worked(operation.name).get_json()["checks"]:
        assert check["verdict"] in {"pass", "marginal", "fail", "unknown", "undecided"}
        assert check["name"]
        assert check["basis"]
        assert check["message"].endswith(".")
        if check["margin"] is not None:
            assert abs(check["margin"]) == pytest.approx(abs(check["value"] - check["limit"]))


def test_limit_of_the_body_is_a_setting():
    client = create_app(Config(max_body_bytes=100)).test_client()
    body = b'{"size": "12 AWG", "length_m": 3.2}'
    sent = {"content_type": "application/json"}
    assert client.post("/v1/wire-resistance", data=body.ljust(100), **sent).status_code == 200
    assert client.post("/v1/wire-resistance", data=body.ljust(101), **sent).status_code == 413


def test_settings_from_the_environment():
    assert Config.from_environment({}) == Config()
    assert Config.from_environment({"LASTVOLT_MAX_BODY_BYTES": "5"}).max_body_bytes == 5
    assert Config.from_environment({"MAX_BODY_BYTES": "5"}) == Config()


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "1e3", "\u0661", "many"])
def test_wrong_setting_is_named(text):
    with pytest.raises(ValueError, match="LASTVOLT_MAX_BODY_BYTES"):
        Config.from_environment({"LASTVOLT_MAX_BODY_BYTES": text})
