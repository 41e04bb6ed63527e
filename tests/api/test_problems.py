"""Every type of problem: reachable, explained at its own path, and with the headers it needs."""

import io
import math
import re
from dataclasses import dataclass

import pytest
from werkzeug.exceptions import ServiceUnavailable

from lastvolt_service import errors
from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.api.problems import MEDIA_TYPE, PROBLEMS
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.fields import Fields
from lastvolt_service.schemas.described import schema_class

WIRE = {"size": "12 AWG", "length_m": 1}
PART = {"kind": "resistance", "name": "a", "resistance_ohm": 1}
JSON = "application/json"


def post(path, body):
    return lambda client: client.post(path, json=body)


# What a caller does to meet each type of problem. The faults of networks and of our own making are
# met below.
REACHED = {
    "not-json": lambda client: client.post("/v1/wire-resistance", data="{", content_type=JSON),
    "bad-request": lambda client: client.post(
        "/v1/wire-resistance",
        input_stream=io.BytesIO(b"{"),
        content_type=JSON,
        environ_overrides={"CONTENT_LENGTH": "100"},
    ),
    "not-found": lambda client: client.get("/nowhere"),
    "method-not-allowed": lambda client: client.delete("/v1/wire-resistance"),
    "too-large": lambda client: client.post(
        "/v1/wire-resistance", data=b" " * (Config().max_body_bytes + 1), content_type=JSON
    ),
    "unsupported-media-type": lambda client: client.post("/v1/wire-resistance", data="{}"),
    "link-too-long": lambda client: client.get(f"/v1/reports/voltage-drop.md?request={'A' * 5000}"),
    "invalid-request": post("/v1/wire-resistance", {}),
    "unknown-size": post("/v1/wire-resistance", {**WIRE, "size": "99 AWG"}),
    "not-covered": post("/v1/wire-resistance", {**WIRE, "size": "12 SAE", "construction": "solid"}),
    "no-operating-point": post(
        "/v1/voltage-drop", {"supply_v": 12, "load_current_a": 13, "segments": [PART]}
    ),
    "conflicting-fields": post(
        "/v1/solenoid-pull-in",
        {
            "rated": {"pull_in_v": 8},
            "temperature_c": 20,
            "supply_v": 12,
            "path_resistance_ohm": 0.1,
        },
    ),
}


# The very same request may succeed later: it came too slowly, too often, or at a bad time.
RETRYABLE = {"request-timeout", "rate-limited", "unavailable"}


def assert_told_whether_to_repeat(response):
    """In the head, in the body, and where the type is explained: the same."""
    problem = response.get_json()
    expected = problem["type"].removeprefix("/problems/") in RETRYABLE
    assert problem["retryable"] is expected
    assert response.headers.getlist("Lastvolt-Retry") == ["yes" if expected else "no"]


@pytest.mark.parametrize("code", REACHED)
def test_problem_is_reached(client, code):
    response = REACHED[code](client)
    assert response.content_type == MEDIA_TYPE
    problem = response.get_json()
    expected = PROBLEMS[code]
    assert problem["type"] == f"/problems/{code}"
    assert (problem["status"], problem["title"]) == (expected.status, expected.title)
    assert response.status_code == expected.status
    assert_told_whether_to_repeat(response)
    assert problem["instance"].startswith("/")
    explained = client.get(problem["type"])
    assert explained.status_code == 200
    assert explained.get_json()["title"] == expected.title


@pytest.mark.parametrize("code", PROBLEMS)
def test_problem_is_explained(client, code):
    explained = client.get(f"/problems/{code}").get_json()
    assert explained["code"] == code
    assert explained["meaning"].endswith(".")
    assert explained["retryable"] is (code in RETRYABLE)
    assert 400 <= explained["status"] <= 599


def test_unknown_problem_is_not_found(client):
    assert client.get("/problems/nothing").get_json()["type"] == "/problems/not-found"


class Nothing(Fields):
    """No fields."""


@dataclass
class Answer:
    number: float


def service(function):
    """A client of an application with one more operation."""

    def made(_asked):
        return function()

    app = create_app(Config())
    app.register_blueprint(topic("made", [Operation(made, schema_class(Nothing)())]))
    return app.test_client()


def below(kind):
    return [each for inner in kind.__subclasses__() for each in (inner, *below(inner))]


CALCULATION_ERRORS = below(errors.CalculationError)


def code_of(kind):
    return re.sub(r"\B([A-Z])", r"-\1", kind.__name__).lower()


@pytest.mark.parametrize("kind", CALCULATION_ERRORS, ids=code_of)
def test_each_calculation_error_is_a_problem(kind):
    def made():
        raise kind("It cannot be.", ("segments", 2, "a/b"))

    response = service(made).post("/v1/made", json={})
    problem = response.get_json()
    assert response.status_code == 422
    assert problem["type"] == f"/problems/{code_of(kind)}"
    assert problem["title"] == kind.title
    assert problem["detail"] == "It cannot be."
    assert problem["errors"] == [{"pointer": "#/segments/2/a~1b", "detail": "It cannot be."}]


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_result_that_is_not_finite(number):
    def made():
        return Answer(number)

    response = service(made).post("/v1/made", json={})
    assert response.status_code == 422
    assert response.get_json()["type"] == "/problems/out-of-range"


def test_our_own_fault_tells_nothing_of_our_inside(caplog):
    def made():
        raise ZeroDivisionError("secret")

    response = service(made).post("/v1/made", json={})
    assert response.status_code == 500
    assert response.content_type == MEDIA_TYPE
    assert response.get_json()["type"] == "/problems/server-fault"
    assert "secret" not in response.text
    assert "ZeroDivision" not in response.text
    assert "secret" in caplog.text
    assert_told_whether_to_repeat(response)


def test_every_type_is_met_in_a_test():
    made = {"out-of-range", "server-fault", "no-pictures", *map(code_of, CALCULATION_ERRORS)}
    # Met in tests/service, where the service has keys, rates and deadlines.
    made |= {
        "unavailable",
        "no-key",
        "forbidden",
        "rate-limited",
        "deadline-exceeded",
        "request-timeout",
    }
    assert set(REACHED) | made == set(PROBLEMS)


@pytest.mark.parametrize(
    ("method", "path", "allow"),
    [
        ("GET", "/v1/wire-resistance", {"POST", "OPTIONS"}),
        ("PUT", "/v1/voltage-drop", {"POST", "OPTIONS"}),
        ("POST", "/v1/conductors", {"GET", "HEAD", "OPTIONS"}),
        ("DELETE", "/openapi.json", {"GET", "HEAD", "OPTIONS"}),
        ("BREW", "/livez", {"GET", "HEAD", "OPTIONS"}),
    ],
)
def test_wrong_method_keeps_allow(client, method, path, allow):
    response = client.open(path, method=method)
    assert response.status_code == 405
    assert response.content_type == MEDIA_TYPE
    assert_told_whether_to_repeat(response)
    assert {name.strip() for name in response.headers["Allow"].split(",")} == allow


def test_unavailable_keeps_retry_after():
    def made():
        raise ServiceUnavailable(retry_after=7)

    response = service(made).post("/v1/made", json={})
    assert response.status_code == 503
    assert response.headers["Retry-After"] == "7"
    assert response.content_type == MEDIA_TYPE
    assert response.get_json()["type"] == "/problems/unavailable"
    assert_told_whether_to_repeat(response)


@pytest.mark.parametrize("path", ['/nope/\u00e9"<', "/" + "x" * 5000, "/v1/", "/%00"])
def test_strange_path(client, path):
    response = client.get(path)
    assert response.status_code == 404
    assert response.content_type == MEDIA_TYPE
    instance = response.get_json()["instance"]
    assert instance.isascii()
    assert len(instance) < 1000
    assert not set('"<> ') & set(instance)


@pytest.mark.parametrize(
    ("sent", "meant"),
    [
        ("/v1/voltage_drop", "/v1/voltage-drop"),
        ("/v1/Voltage-Drop", "/v1/voltage-drop"),
        ("/v1/voltagedrop", "/v1/voltage-drop"),
        ("/v1/v1/voltage-drop", "/v1/voltage-drop"),
        ("/v1/batch/wire-resistence", "/v1/batch/wire-resistance"),
        ("/v1/reports/wire-sizing.svg", "/v1/reports/wire-sizing.md"),  # it has no picture
        ("/openapi", "/openapi.json"),
    ],
)
def test_the_path_that_may_have_been_meant_is_told(client, sent, meant):
    response = client.post(sent, json={})
    assert response.status_code == 404
    detail = response.get_json()["detail"]
    assert detail == f"One like it is {meant}. GET /openapi.json lists all paths."


@pytest.mark.parametrize(
    "path", ["/favicon.ico", "/x", "/v2/\N{CYRILLIC SMALL LETTER A}", "/" + "v" * 3000]
)
def test_a_path_like_none_gets_no_other_told(client, path):
    response = client.get(path)
    assert response.status_code == 404
    assert response.get_json()["detail"] == "GET /openapi.json lists all paths."
