"""What comes back when it goes wrong: the right error, with all that helps."""

import os
import pickle
import socket
from collections.abc import Callable
from email.utils import formatdate
from typing import Any

import pytest
import requests
import responses

import lastvolt
from lastvolt import Client, errors, types

from .conftest import HANG, RESET, WIRE, Stage, answer

URL = "http://lastvolt.test"
ASKED = {"size": "12 AWG", "length_m": 6.5}
GOOD = answer("200 OK", WIRE, "Content-Type: application/json")
BUSY = answer("503 Service Unavailable", b"<h1>busy</h1>", "Content-Type: text/html")
PROBLEM = {
    "type": "/problems/invalid-request",
    "title": "The request does not fit",
    "status": 422,
    "detail": "Two fields are wrong.",
    "instance": "/v1/voltage-drop",
    "errors": [
        {"pointer": "#/segments/2/length_m", "detail": "This must be a number."},
        {"pointer": "#/a~1b%20c~0d", "detail": "There is no such field."},
    ],
}


def ask(url: str, **options: Any) -> types.WireResistance:
    with Client(url, **options) as client:
        return client.wire_resistance(size="12 AWG", length_m=6.5)


@pytest.fixture
def request_id(monkeypatch: pytest.MonkeyPatch) -> str:
    """The id that every request gets."""
    monkeypatch.setattr(os, "urandom", lambda _count: b"\x7f\x3a")
    return "7f3a"


class TestProblems:
    @responses.activate
    def test_field_errors_are_attached_and_named(self, request_id: str) -> None:
        responses.post(
            f"{URL}/v1/wire-resistance",
            json=PROBLEM,
            status=422,
            content_type="application/problem+json",
            headers={"X-Request-ID": request_id},
        )
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            ask(URL)
        error = caught.value
        assert (error.status, error.type) == (422, "/problems/invalid-request")
        assert (error.title, error.detail) == (PROBLEM["title"], PROBLEM["detail"])
        names = [field.argument for field in error.field_errors]
        assert names == ["segments[2].length_m", "a/b c~d"]
        assert error.code == "invalid-request"
        assert error.field_errors[0].pointer == "#/segments/2/length_m"
        assert error.request_id == "7f3a"
        assert error.response is not None
        assert error.request is error.response.request
        assert str(error).splitlines() == [
            "Request 7f3a: 422 The request does not fit",
            "  Two fields are wrong.",
            "  segments[2].length_m: This must be a number.",
            "  a/b c~d: There is no such field.",
        ]

    @responses.activate
    def test_a_sentence_is_said_once(self, request_id: str) -> None:
        detail = "No operating point exists: lower the resistance."
        errors = [{"pointer": "#/load_current_a", "detail": detail}]
        problem = {"title": "No solution", "detail": detail, "errors": errors}
        responses.post(f"{URL}/v1/wire-resistance", json=problem, status=422)
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            ask(URL)
        assert (
            str(caught.value) == f"Request {request_id}: 422 No solution: load_current_a: {detail}"
        )
        assert caught.value.detail == detail

    @pytest.mark.parametrize(
        ("status", "kind"),
        [
            (400, lastvolt.RequestRefused),
            (401, lastvolt.RequestRefused),
            (404, lastvolt.RequestRefused),
            (413, lastvolt.RequestRefused),
            (415, lastvolt.RequestRefused),
            (422, lastvolt.InvalidRequest),
            (429, lastvolt.RateLimited),
            (500, lastvolt.ServerFault),
            (502, lastvolt.ServerUnavailable),
            (503, lastvolt.ServerUnavailable),
            (504, lastvolt.ServerUnavailable),
        ],
    )
    @pytest.mark.parametrize(
        "body", [b"", b"<html><p>Not\x00 here</p>", b'{"title": "No"}', b"[1]"]
    )
    @responses.activate
    def test_class_follows_the_status_whatever_the_body(
        self, status: int, kind: type[lastvolt.ErrorAnswer], body: bytes
    ) -> None:
        responses.post(f"{URL}/v1/wire-resistance", body, status=status)
        with pytest.raises(lastvolt.ErrorAnswer) as caught:
            ask(URL, retries=0)
        assert type(caught.value) is kind
        assert caught.value.status == status
        assert str(status) in str(caught.value)
        assert caught.value.field_errors == ()

    @responses.activate
    def test_a_page_of_a_proxy_is_quoted_in_short(self) -> None:
        page = "<html><head><title>Gone</title></head><body>" + "word " * 1000
        responses.post(f"{URL}/v1/wire-resistance", page, status=502, content_type="text/html")
        with pytest.raises(lastvolt.ServerUnavailable, match="text/html: Gone word") as caught:
            ask(URL, retries=0)
        assert len(str(caught.value)) < 200

    @pytest.mark.parametrize("odd", [{"errors": 3}, {"errors": ["x", {}]}, {"title": None}])
    @responses.activate
    def test_odd_problem_details_do_no_harm(self, odd: dict[str, object]) -> None:
        responses.post(f"{URL}/v1/wire-resistance", json=odd, status=400)
        with pytest.raises(lastvolt.RequestRefused, match="400"):
            ask(URL)

    @responses.activate
    def test_errors_survive_another_process(self) -> None:
        responses.post(f"{URL}/v1/wire-resistance", json=PROBLEM, status=422)
        with pytest.raises(lastvolt.InvalidRequest) as caught:
            ask(URL)
        twin = pickle.loads(pickle.dumps(caught.value))
        assert str(twin) == str(caught.value)
        assert twin.field_errors == caught.value.field_errors
        assert twin.response.status_code == 422

    def test_the_tree_in_the_docstring_is_the_tree(self) -> None:
        drawn = errors.__doc__ or ""
        classes = [
            each
            for each in vars(errors).values()
            if isinstance(each, type) and issubclass(each, errors.LastvoltError)
        ]
        rows = {row.split("+-- ")[-1].split()[0]: row for row in drawn.splitlines() if row.strip()}
        for each in classes:
            depth = sum(issubclass(base, errors.LastvoltError) for base in each.__mro__) - 1
            assert rows[each.__name__].index(each.__name__) == 4 + 4 * depth


class TestUnreadable:
    @pytest.mark.parametrize(
        "body", [b"", b"<html>Welcome", b'{"size": "12 A', b"[]", b"\xff\xfe\x00", b"[" * 100_000]
    )
    @responses.activate
    def test_a_good_status_without_a_json_object(self, body: bytes) -> None:
        responses.post(f"{URL}/v1/wire-resistance", body)
        with pytest.raises(lastvolt.UnreadableAnswer, match="not a JSON object") as caught:
            ask(URL)
        assert caught.value.response is not None

    @pytest.mark.parametrize(
        ("change", "text"),
        [
            ({"resistance_ohm": "0.03"}, "resistance_ohm: '0.03' is no float"),
            ({"resistance_ohm": True}, "resistance_ohm: True is no float"),
            ({"resistance_ohm": None}, "resistance_ohm: None is no float"),
            ({"computed_by": {"service": "1"}}, "computed_by: tables is missing"),
            ({"checks": [1]}, "checks: 1 is no dict"),
        ],
    )
    @responses.activate
    def test_an_answer_that_does_not_fit(self, change: dict[str, object], text: str) -> None:
        responses.post(f"{URL}/v1/wire-resistance", json={**WIRE, **change})
        with pytest.raises(lastvolt.UnreadableAnswer, match=text) as caught:
            ask(URL)
        assert caught.value.response is not None

    @responses.activate
    def test_a_redirect_is_told_and_not_followed(self) -> None:
        there = "https://secure.test/v1/wire-resistance"
        responses.post(f"{URL}/v1/wire-resistance", status=301, headers={"Location": there})
        with pytest.raises(lastvolt.UnreadableAnswer, match="redirects to https://secure"):
            ask(URL, api_key="secret")
        assert len(responses.calls) == 1

    @pytest.mark.parametrize("header", ["Content-Length: 5000", "Transfer-Encoding: chunked"])
    def test_cut_off(self, stage: Callable[..., Stage], header: str) -> None:
        there = stage(f'HTTP/1.1 200 OK\r\n{header}\r\n\r\n400\r\n{{"size"'.encode())
        with pytest.raises(lastvolt.UnreadableAnswer, match="cut off"):
            ask(there.url, retries=0)

    def test_gzip_that_is_none(self, stage: Callable[..., Stage]) -> None:
        with pytest.raises(lastvolt.UnreadableAnswer):
            ask(stage(answer("200 OK", b"plain", "Content-Encoding: gzip")).url)


class TestRetries:
    @pytest.mark.parametrize(
        "line",
        [
            BUSY,
            answer("429 Too Many Requests", b""),
            answer("502 Bad Gateway", b""),
            answer("504 Gateway Timeout", b""),
            RESET,
        ],
    )
    def test_a_post_is_repeated_as_it_was(
        self, stage: Callable[..., Stage], waits: list[float], line: bytes
    ) -> None:
        there = stage(line, line, GOOD)
        assert ask(there.url).size == "12 AWG"
        assert len(there.heard) == 3
        assert len(set(there.heard)) == 1
        assert len(waits) == 2

    def test_an_answer_that_breaks_off_is_asked_for_again(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        cut = GOOD[:-10]
        there = stage(cut, cut, GOOD)
        assert ask(there.url).size == "12 AWG"
        assert len(set(there.heard)) == 1
        assert len(waits) == 2
        with pytest.raises(lastvolt.UnreadableAnswer, match="cut off"):
            ask(stage(cut, cut).url, retries=1)

    def test_waits_double_with_jitter_up_to_a_ceiling(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        there = stage(*[BUSY] * 9)
        with pytest.raises(lastvolt.ServerUnavailable, match="busy"):
            ask(there.url, retries=8)
        ceilings = [0.25, 0.5, 1, 2, 4, 8, 8, 8]
        assert len(waits) == len(ceilings)
        for wait, ceiling in zip(waits, ceilings, strict=True):
            assert ceiling / 2 <= wait <= ceiling
        assert len({wait / ceiling for wait, ceiling in zip(waits, ceilings, strict=True)}) > 1

    @pytest.mark.parametrize(("asked", "waited"), [("7", 7), ("30", 30), ("21600", 30)])
    @pytest.mark.parametrize("status", ["429 Too Many Requests", "503 Service Unavailable"])
    def test_retry_after_goes_before_up_to_a_ceiling(
        self,
        stage: Callable[..., Stage],
        waits: list[float],
        status: str,
        asked: str,
        waited: float,
    ) -> None:
        there = stage(answer(status, b"", f"Retry-After: {asked}"), GOOD)
        assert ask(there.url).size == "12 AWG"
        assert waits == [waited]

    def test_retry_after_as_a_date(self, stage: Callable[..., Stage], waits: list[float]) -> None:
        distant = formatdate(4_000_000_000, usegmt=True)
        ask(stage(answer("503 Busy", b"", f"Retry-After: {distant}"), GOOD).url)
        assert waits == [30]

    @pytest.mark.parametrize("nonsense", ["soon", "-5", "", "9" * 5000, "0", "1.5"])
    def test_retry_after_without_sense_falls_back(
        self, stage: Callable[..., Stage], waits: list[float], nonsense: str
    ) -> None:
        ask(stage(answer("503 Busy", b"", f"Retry-After: {nonsense}"), GOOD).url)
        assert len(waits) == 1
        assert 0.125 <= waits[0] <= 0.25

    def test_what_the_server_asked_is_on_the_last_error(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        limited = answer("429 Too Many Requests", {"title": "Slowly"}, "Retry-After: 120")
        with pytest.raises(lastvolt.RateLimited, match="429 Slowly") as caught:
            ask(stage(limited, limited).url, retries=1)
        assert caught.value.retry_after_s == 120
        assert waits == [30]

    @pytest.mark.parametrize("status", ["500 Oops", "400 Bad", "422 Unfit", "404 Not Found"])
    def test_what_would_fail_again_is_not_repeated(
        self, stage: Callable[..., Stage], waits: list[float], status: str
    ) -> None:
        there = stage(answer(status, b""))
        with pytest.raises(lastvolt.ErrorAnswer):
            ask(there.url)
        assert (len(there.heard), waits) == (1, [])

    def test_none_if_none_are_wanted(self, stage: Callable[..., Stage], waits: list[float]) -> None:
        there = stage(BUSY)
        with pytest.raises(lastvolt.ServerUnavailable):
            ask(there.url, retries=0)
        assert (len(there.heard), waits) == (1, [])


class TestConnections:
    def test_nobody_there(self, waits: list[float]) -> None:
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))  # bound but not listening: refused
            url = f"http://127.0.0.1:{taken.getsockname()[1]}"
            with pytest.raises(lastvolt.ConnectionFailed, match="refused") as caught:
                ask(url, retries=2)
        assert type(caught.value) is lastvolt.ConnectionFailed
        assert url in str(caught.value)
        assert caught.value.request is not None
        assert caught.value.response is None
        assert len(waits) == 2

    def test_hung_up_on_every_time(self, stage: Callable[..., Stage], waits: list[float]) -> None:
        there = stage(*[RESET] * 4)
        with pytest.raises(lastvolt.ConnectionFailed):
            ask(there.url)
        assert (len(there.heard), len(waits)) == (4, 3)

    @pytest.mark.parametrize("retries", [0, 1])
    def test_no_answer_in_time(
        self, stage: Callable[..., Stage], waits: list[float], retries: int
    ) -> None:
        there = stage(HANG, HANG)
        with pytest.raises(lastvolt.Timeout, match="in time"):
            ask(there.url, timeout=0.1, retries=retries)
        assert (len(there.heard), len(waits)) == (1 + retries, retries)

    @pytest.mark.parametrize(
        "raised", [requests.ConnectTimeout("slow"), requests.ReadTimeout("slow")]
    )
    @pytest.mark.usefixtures("waits")
    @responses.activate
    def test_both_time_outs_are_one_error(self, raised: Exception) -> None:
        responses.post(f"{URL}/v1/wire-resistance", raised)
        with pytest.raises(lastvolt.Timeout):
            ask(URL)

    @pytest.mark.parametrize(
        ("given", "used"), [({}, (3.05, 10.0)), ({"timeout": 2.0}, (2.0, 2.0))]
    )
    @responses.activate
    def test_there_is_always_a_time_out(self, given: dict[str, Any], used: object) -> None:
        matcher = responses.matchers.request_kwargs_matcher({"timeout": used})
        responses.post(f"{URL}/v1/wire-resistance", json=WIRE, match=[matcher])
        assert ask(URL, **given).size == "12 AWG"
