"""Headers of security, and the pages of other origins."""

import pytest
from flask.testing import FlaskClient

from lastvolt_service.app import create_app
from lastvolt_service.config import Config

from .conftest import WIRE

PATH = "/v1/wire-resistance"
SHOP = "https://shop.example"
PREFLIGHT = {"Access-Control-Request-Method": "POST"}
POLICY = "default-src 'none'; frame-ancestors 'none'"


@pytest.mark.parametrize("path", [PATH, "/livez", "/nowhere", "/v1/conductors", "/openapi.json"])
def test_every_answer_is_kept_from_being_taken_for_a_page(client: FlaskClient, path: str) -> None:
    response = client.get(path)
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Content-Security-Policy"] == POLICY
    assert response.headers["Referrer-Policy"] == "no-referrer"
    assert "Strict-Transport-Security" not in response.headers
    assert "Set-Cookie" not in response.headers


def test_only_what_has_an_etag_may_be_kept(client: FlaskClient) -> None:
    assert client.post(PATH, json=WIRE).headers["Cache-Control"] == "no-store"
    assert client.post(PATH, json={}).headers["Cache-Control"] == "no-store"
    assert client.get("/readyz").headers["Cache-Control"] == "no-store"
    assert "no-store" not in client.get("/v1/conductors").headers.get("Cache-Control", "")


def test_a_view_may_know_better() -> None:
    app = create_app(Config())
    policy = {"Content-Security-Policy": "default-src 'self'", "Cache-Control": "max-age=60"}
    app.add_url_rule("/page", view_func=lambda: ("", policy), methods=["GET"])
    headers = app.test_client().get("/page").headers
    assert headers.getlist("Content-Security-Policy") == ["default-src 'self'"]
    assert headers.getlist("Cache-Control") == ["max-age=60"]


def test_tls_is_insisted_on_by_setting() -> None:
    headers = create_app(Config(hsts_s=3600)).test_client().get("/livez").headers
    assert headers["Strict-Transport-Security"] == "max-age=3600"


def test_no_origin_may_ask_by_default(client: FlaskClient) -> None:
    for response in (
        client.post(PATH, json=WIRE, headers={"Origin": SHOP}),
        client.options(PATH, headers={"Origin": SHOP, **PREFLIGHT}),
    ):
        assert not [name for name, _ in response.headers if name.startswith("Access-Control")]


@pytest.fixture
def shared() -> FlaskClient:
    return create_app(Config(cors_origins=(SHOP, "http://b.example:81"))).test_client()


@pytest.mark.parametrize("origin", [SHOP, "http://b.example:81"])
def test_a_named_origin_may_ask(shared: FlaskClient, origin: str) -> None:
    headers = shared.post(PATH, json=WIRE, headers={"Origin": origin}).headers
    assert headers["Access-Control-Allow-Origin"] == origin
    assert "Origin" in headers["Vary"]
    assert {"Retry-After", "Lastvolt-Retry"} <= set(
        headers["Access-Control-Expose-Headers"].split(", ")
    )
    assert "Access-Control-Allow-Credentials" not in headers
    asked = shared.options(PATH, headers={"Origin": origin, **PREFLIGHT})
    assert asked.status_code == 200
    assert "POST" in asked.headers["Access-Control-Allow-Methods"]
    assert "Content-Type" in asked.headers["Access-Control-Allow-Headers"]
    assert "Authorization" in asked.headers["Access-Control-Allow-Headers"]


@pytest.mark.parametrize(
    "origin",
    ["https://evil.example", f"{SHOP}.evil.example", "http://shop.example", f"{SHOP}:444", "null",
     f"{SHOP}/", "https://SHOP.example", "*", ""],
)  # fmt: skip
def test_no_other_origin_may(shared: FlaskClient, origin: str) -> None:
    headers = shared.post(PATH, json=WIRE, headers={"Origin": origin}).headers
    assert "Access-Control-Allow-Origin" not in headers
    assert "Origin" in headers["Vary"]
