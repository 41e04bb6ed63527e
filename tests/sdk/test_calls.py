"""One call with all its attempts: what is repeated, whose answer it is, and what it may cost."""

import itertools
import math
import pickle
import ssl
from collections.abc import Callable
from typing import Any

import pytest
import requests
import responses
from urllib3.exceptions import MaxRetryError, SSLError

import lastvolt
from lastvolt import EMBEDDED, Client

from .conftest import URL, WIRE, Stage, answer

GOOD = answer("200 OK", WIRE)
TOO_LATE = {"type": "/problems/deadline-exceeded", "title": "The computation took too long"}


def ask(url: str, **options: Any) -> lastvolt.types.WireResistance:
    with Client(url, **options) as client:
        return client.wire_resistance(size="12 AWG", length_m=6.5)


def batch(url: str, **options: Any) -> list[Any]:
    with Client(url, **options) as client:
        return [*client.batch("wire-resistance", {"length_m": [1.0]}, constants={"size": "12 AWG"})]


class TestRepeating:
    @pytest.mark.parametrize("call", [ask, batch])
    @pytest.mark.parametrize("status", ["503 Service Unavailable", "429 Too Many Requests"])
    def test_what_the_server_says_cannot_succeed_is_asked_once(
        self,
        stage: Callable[..., Stage],
        waits: list[float],
        call: Callable[[str], Any],
        status: str,
    ) -> None:
        there = stage(answer(status, TOO_LATE, "Retry-After: 5", "Lastvolt-Retry: no"), GOOD)
        with pytest.raises(lastvolt.ErrorAnswer, match="took too long") as caught:
            call(there.url)
        assert (len(there.heard), waits) == (1, [])
        assert not caught.value.retryable
        assert caught.value.retry_after_s == 5

    @pytest.mark.parametrize("status", ["500 Oops", "408 Request Timeout", "503 Busy"])
    def test_what_the_server_says_may_succeed_is_repeated(
        self, stage: Callable[..., Stage], waits: list[float], status: str
    ) -> None:
        there = stage(answer(status, {"title": "No"}, "Lastvolt-Retry: yes"), GOOD)
        assert ask(there.url).size == "12 AWG"
        assert (len(there.heard), len(waits)) == (2, 1)

    @pytest.mark.parametrize("nonsense", ["", "perhaps", "nope"])
    @pytest.mark.parametrize(("status", "attempts"), [("503 Busy", 2), ("500 Oops", 1)])
    def test_without_a_word_of_it_the_status_decides(
        self,
        stage: Callable[..., Stage],
        waits: list[float],
        nonsense: str,
        status: str,
        attempts: int,
    ) -> None:
        there = stage(*[answer(status, b"", f"Lastvolt-Retry: {nonsense}")] * 2)
        with pytest.raises(lastvolt.ServerFault) as caught:
            ask(there.url, retries=1)
        assert (len(there.heard), len(waits)) == (attempts, attempts - 1)
        assert caught.value.retryable == (attempts == 2)

    def test_a_piece_of_a_batch_is_asked_for_more_often(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        there = stage(*[answer("503 Busy", b"")] * 8)
        with pytest.raises(lastvolt.ServerUnavailable):
            batch(there.url)
        assert (len(there.heard), len(waits)) == (8, 7)

    @responses.activate
    def test_a_certificate_stays_as_wrong_as_it_is(self, waits: list[float]) -> None:
        with Client("https://127.0.0.1:1") as client:
            wrong = SSLError(ssl.SSLCertVerificationError("self-signed certificate"))
            reason = MaxRetryError(None, "/", wrong)
            responses.post("https://127.0.0.1:1/v1/x", requests.exceptions.SSLError(reason))
            with pytest.raises(lastvolt.ConnectionFailed, match="self-signed") as caught:
                client.call("x", {})
        assert (waits, caught.value.retryable) == ([], False)


class TestWhoseAnswer:
    def test_the_answer_to_another_request_is_none(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        foreign = answer("200 OK", {**WIRE, "resistance_ohm": 7.0}, "X-Request-ID: not-mine")
        there = stage(foreign, GOOD)
        assert ask(there.url).resistance_ohm == WIRE["resistance_ohm"]
        assert (len(there.heard), len(waits)) == (2, 1)

    @pytest.mark.usefixtures("waits")
    @pytest.mark.parametrize("status", ["200 OK", "422 Unfit", "503 Busy"])
    def test_in_the_end_it_is_an_error(self, stage: Callable[..., Stage], status: str) -> None:
        there = stage(*[answer(status, WIRE, "X-Request-ID: not-mine")] * 2)
        with pytest.raises(lastvolt.UnreadableAnswer, match="answered another request") as caught:
            ask(there.url, retries=1)
        assert len(there.heard) == 2
        sent = caught.value.request
        assert sent is not None
        assert caught.value.request_id == sent.headers["X-Request-ID"]

    @pytest.mark.usefixtures("waits")
    def test_a_connection_that_mixed_them_up_is_not_used_again(
        self, stage: Callable[..., Stage]
    ) -> None:
        foreign = answer("200 OK", WIRE, "X-Request-ID: not-mine", "Connection: keep-alive")
        there = stage(foreign, GOOD)
        ask(there.url)
        assert there.connections == 2

    def test_every_call_has_an_id_of_its_own(self, stage: Callable[..., Stage]) -> None:
        there = stage(GOOD, GOOD)
        for _ in range(2):
            ask(there.url)
        ids = [
            line
            for heard in there.heard
            for line in heard.split(b"\r\n")
            if line.lower().startswith(b"x-request-id:")
        ]
        assert len(set(ids)) == 2


class TestCost:
    @pytest.mark.parametrize(
        "wrong",
        [
            {"timeout": 0}, {"timeout": -1.0}, {"timeout": math.nan}, {"timeout": math.inf},
            {"timeout": None}, {"timeout": "3"}, {"timeout": (1,)}, {"timeout": (1, 0)},
            {"timeout": True}, {"total_timeout": 0}, {"total_timeout": None},
            {"total_timeout": math.inf}, {"retries": -1}, {"retries": 1.5}, {"retries": True},
            {"max_answer_bytes": 0}, {"max_answer_bytes": 1e6}, {"api_key": "se\ncret"},
        ],
        ids=str,
    )  # fmt: skip
    def test_limits_without_sense_are_refused_at_once(self, wrong: dict[str, Any]) -> None:
        with pytest.raises(lastvolt.WrongArgument) as caught:
            Client(URL, **wrong)
        assert isinstance(caught.value, ValueError)

    @pytest.mark.parametrize("url", [5, b"http://there", ["http://there"]], ids=str)
    def test_a_url_that_is_no_text_is_refused(self, url: Any) -> None:
        with pytest.raises(lastvolt.WrongArgument, match="URL of a service is text"):
            Client(url)

    def test_no_wait_goes_beyond_the_end(
        self, stage: Callable[..., Stage], waits: list[float]
    ) -> None:
        there = stage(*[answer("429 Slowly", b"", "Retry-After: 30")] * 2)
        with pytest.raises(lastvolt.RateLimited) as caught:
            ask(there.url, total_timeout=20)
        assert (len(there.heard), waits) == (1, [])
        assert caught.value.retry_after_s == 30

    @pytest.mark.parametrize("spare", [-1, 0])
    def test_an_answer_may_be_as_large_as_it_may_be(
        self, stage: Callable[..., Stage], spare: int
    ) -> None:
        size = len(GOOD.partition(b"\r\n\r\n")[2])
        there = stage(GOOD)
        if spare < 0:
            with pytest.raises(lastvolt.UnreadableAnswer, match="max_answer_bytes") as caught:
                ask(there.url, max_answer_bytes=size + spare)
            twin = pickle.loads(pickle.dumps(caught.value))
            assert twin.response.content == b""  # nobody reads on
        else:
            assert ask(there.url, max_answer_bytes=size + spare).size == "12 AWG"
        assert len(there.heard) == 1

    def test_a_piece_of_a_batch_may_be_larger(self, stage: Callable[..., Stage]) -> None:
        piece = {
            "rows": 1, "columns": {"resistance_ohm": [1.0]}, "verdicts": {}, "errors": [],
            "basis": [], "not_judged": [], "cautions": [],
            "computed_by": {"service": "1", "tables": "2"},
        }  # fmt: skip
        there = stage(answer("200 OK", piece))
        (found,) = batch(there.url, max_answer_bytes=100)
        assert found.columns == {"resistance_ohm": [1.0]}

    def test_the_service_in_this_process_is_asked_once(
        self, monkeypatch: pytest.MonkeyPatch, waits: list[float]
    ) -> None:
        asked = itertools.count(1)

        def busy(_environ: Any, start_response: Any) -> list[bytes]:
            next(asked)
            start_response("503 Busy", [])
            return []

        monkeypatch.setattr("lastvolt.client.application", lambda: busy)
        with Client(EMBEDDED) as client, pytest.raises(lastvolt.ServerUnavailable):
            client.call("x", {})
        assert (next(asked), waits) == (2, [])
