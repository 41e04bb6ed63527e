"""Each type of problem as the SDK shows it, in this process and over a socket."""

import http.client
from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
import requests

from lastvolt import Client, InvalidRequest, RequestRefused
from lastvolt_service.api.problems import PROBLEMS

# Types that a caller meets who sends JSON objects through the SDK, and what brings them about.
REACHED = {
    "invalid-request": lambda client: client.wire_resistance(size="12 AWG", length_m=-1),
    "unknown-size": lambda client: client.wire_resistance(size="99 AWG", length_m=1),
    "not-covered": lambda client: client.wire_resistance(
        size="12 SAE", length_m=1, construction="solid"
    ),
    "no-operating-point": lambda client: client.voltage_drop(
        supply_v=12,
        load_power_w=1000,
        segments=[{"kind": "resistance", "name": "a", "resistance_ohm": 1}],
    ),
    "conflicting-fields": lambda client: client.solenoid_pull_in(
        rated={"pull_in_v": 8}, temperature_c=20, supply_v=12, path_resistance_ohm=0.1
    ),
}


@pytest.fixture(params=["embedded", "remote"])
def client(request: pytest.FixtureRequest) -> Client:
    found: Client = request.getfixturevalue(request.param)
    return found


@pytest.mark.parametrize("code", REACHED)
def test_refusals_point_at_the_field(client: Client, code: str) -> None:
    call: Callable[[Client], object] = REACHED[code]
    with pytest.raises(InvalidRequest) as caught:
        call(client)
    assert caught.value.code == code
    assert caught.value.title == PROBLEMS[code].title
    assert caught.value.field_errors[0].pointer.startswith("#/")
    assert caught.value.field_errors[0].argument in str(caught.value)


def test_an_unknown_operation_is_refused(client: Client) -> None:
    with pytest.raises(RequestRefused) as caught:
        client.call("no-such-thing", {})
    assert caught.value.status == 404


def test_a_body_too_large_is_refused(client: Client) -> None:
    with pytest.raises(RequestRefused) as caught:
        client.call("wire-resistance", {"size": "x" * (1024 * 1024)})
    assert (caught.value.status, caught.value.code) == (413, "too-large")


def test_a_chunked_body_too_large_is_refused(server_url: str) -> None:
    def body() -> object:
        for _ in range(20):
            yield b" " * 65536

    answer = requests.post(
        f"{server_url}/v1/wire-resistance",
        data=body(),
        headers={"Content-Type": "application/json"},
        timeout=10,
    )
    assert answer.status_code == 413


@pytest.mark.parametrize(
    ("line", "header"),
    [
        pytest.param("/v1/" + "x" * 5000, "", id="a request line beyond the limit"),
        pytest.param("/livez", "x" * 9000, id="a header beyond the limit"),
    ],
)
def test_the_server_itself_refuses_what_is_too_long(
    server_url: str, line: str, header: str
) -> None:
    connection = http.client.HTTPConnection(urlsplit(server_url).netloc, timeout=10)
    connection.request("GET", line, headers={"X-Long": header} if header else {})
    assert 400 <= connection.getresponse().status < 500
    connection.close()
