"""Logs, metrics and traces: what they tell, and what they never do."""

import os
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest
import requests
from flask.testing import FlaskClient
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter
from prometheus_client.parser import text_string_to_metric_families

from lastvolt import Client
from lastvolt.errors import InvalidRequest
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.observe import tracing

from .conftest import WIRE, Server, free_port, until

PATH = "/v1/wire-resistance"
TRACE = "0af7651916cd43dd8448eb211c80319c"  # the example of W3C Trace Context, section 3.2
PARENT = "b7ad6b7169203331"


@pytest.mark.parametrize("given", ["a", "A.b_c-9", "x" * 64])
def test_a_request_id_is_taken_over(client: FlaskClient, given: str) -> None:
    response = client.post(PATH, json=WIRE, headers={"X-Request-ID": given})
    assert response.headers.getlist("X-Request-ID") == [given]


@pytest.mark.parametrize("given", ["", "x" * 65, "a b", 'a"b', "\u00e9", "a,b", "{}", "a\x7f"])
def test_any_other_request_id_is_replaced(client: FlaskClient, given: str) -> None:
    found = [
        client.post(PATH, json=WIRE, headers={"X-Request-ID": given}).headers["X-Request-ID"]
        for _ in range(2)
    ]
    assert found[0] != found[1]
    assert given not in found
    assert all(len(each) == 16 and each.isalnum() for each in found)


@pytest.mark.parametrize("path", ["/livez", "/nowhere", PATH])
def test_every_answer_has_an_id(client: FlaskClient, path: str) -> None:
    assert client.get(path).headers["X-Request-ID"]


def test_the_embedded_service_writes_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    with Client() as client:
        client.wire_resistance(**WIRE)
        with pytest.raises(InvalidRequest, match=r"Request [0-9a-f]{16}: "):
            client.call("wire-resistance", {})
    assert capfd.readouterr() == ("", "")


def test_a_request_is_a_line(serve: Callable[..., Server]) -> None:
    server = serve(WORKERS="1")
    secret = "not-for-the-log"
    headers = {
        "X-Request-ID": "mine",
        "traceparent": f"00-{TRACE}-{PARENT}-01",
        "Authorization": f"Bearer {secret}",
    }
    server.post(PATH, WIRE, headers=headers)
    server.post(f"{PATH}?{secret}", {"size": secret})
    server.post(f"/v1/{secret}", {"size": secret})
    requests.get(f"{server.url}/livez", headers={"traceparent": f"00-{'0' * 32}-{PARENT}-01"})
    with server.connect() as connection:
        connection.sendall(f"GET / HTTP/1.1\r\nAuthorization {secret}\r\n\r\n".encode())
        assert b"400" in connection.recv(1000)
    assert server.stop() == 0
    lines = server.lines()
    first, second, third, probe = [
        line for line in lines if "status" in line and line["operation"] != "/readyz"
    ]
    assert (first["request_id"], first["trace_id"]) == ("mine", TRACE)
    assert (first["method"], first["operation"], first["status"]) == ("POST", PATH, 200)
    assert first["rows"] == 1
    assert 0 < first["duration_ms"] < 10_000
    assert (second["operation"], second["status"]) == (PATH, 422)
    assert "rows" not in second
    assert third["operation"] == "unmatched"
    assert "trace_id" not in probe
    assert any("Invalid request from ip=127.0.0.1" in line["message"] for line in lines)
    assert secret not in server.log.read_text()


def test_lines_of_requests_can_be_left_out(serve: Callable[..., Server]) -> None:
    server = serve(WORKERS="1", REQUEST_LOG="off")
    assert server.post(PATH, WIRE).status_code == 200
    assert server.stop() == 0
    assert server.lines()
    assert not [line for line in server.lines() if "status" in line]


def samples(port: int) -> dict[tuple[str, str], float]:
    text = requests.get(f"http://127.0.0.1:{port}/metrics", timeout=5).text
    return {
        (sample.name, sample.labels.get("operation", "")): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
        if not sample.name.endswith("_bucket")
    }


def test_metrics_are_those_of_all_workers(serve: Callable[..., Server]) -> None:
    port = free_port()
    server = serve("slow_app", WORKERS="2", METRICS=f"127.0.0.1:{port}")
    with ThreadPoolExecutor(8) as pool:
        answers = pool.map(lambda _: server.post(PATH, WIRE).status_code, range(40))
        assert set(answers) == {200}
    for number in range(20):
        assert server.post(f"/v1/nowhere-{number}", {}).status_code == 404
    assert len({line["process"] for line in server.lines() if line.get("status") == 200}) == 2
    total, rows = ("lastvolt_requests_total", PATH), ("lastvolt_rows_total", PATH)
    for _ in range(6):  # whichever worker answers
        found = samples(port)
        assert (found[total], found[rows]) == (40, 40)
        assert found["lastvolt_request_duration_seconds_count", PATH] == 40
        assert found["lastvolt_requests_total", "unmatched"] == 20
    assert not any("nowhere" in operation for _, operation in found)

    # A worker that is killed takes what it was doing out of the gauge, and leaves what it counted.
    running = ("lastvolt_requests_running", "")
    slow = threading.Thread(target=_ask_and_lose, args=(server,))
    slow.start()
    until(lambda: samples(port)[running] == 1, "the slow request runs")
    for worker in server.workers():
        os.kill(worker, signal.SIGKILL)
    slow.join()
    until(lambda: len(server.workers()) == 2, "two workers again")
    until(lambda: samples(port)[running] == 0, "nothing runs")
    assert samples(port)[total] == 40


def _ask_and_lose(server: Server) -> None:
    with pytest.raises(requests.ConnectionError):
        server.post("/v1/slow", {"time_s": 8})


def test_metrics_are_nowhere_else(serve: Callable[..., Server]) -> None:
    port = free_port()
    server = serve(WORKERS="1", METRICS=f"127.0.0.1:{port}")
    inside = f"http://127.0.0.1:{port}"
    assert requests.get(f"{inside}/metrics", timeout=5).status_code == 200
    assert requests.get(f"{server.url}/metrics", timeout=5).status_code == 404
    told = {"Host": f"127.0.0.1:{port}", "X-Forwarded-Port": str(port)}
    assert requests.get(f"{server.url}/metrics", headers=told, timeout=5).status_code == 404
    assert requests.get(f"{inside}/livez", timeout=5).status_code == 404
    assert requests.post(f"{inside}{PATH}", json=WIRE, timeout=5).status_code == 404


def test_there_are_no_metrics_by_default(client: FlaskClient) -> None:
    assert client.get("/metrics").status_code == 404


def test_a_span_continues_the_trace_of_the_caller() -> None:
    spans = InMemorySpanExporter()
    provider = TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(spans))
    app = create_app(Config())
    tracing.trace_requests(app, provider)
    client = app.test_client()
    traceparent = {"traceparent": f"00-{TRACE}-{PARENT}-01", "X-Request-ID": "mine"}
    client.post(PATH, json=WIRE, headers=traceparent)
    client.post("/v1/nowhere", json=WIRE)
    told, alone = spans.get_finished_spans()
    assert told.name == f"POST {PATH}"
    assert told.context is not None
    assert f"{told.context.trace_id:032x}" == TRACE
    assert told.parent is not None
    assert f"{told.parent.span_id:016x}" == PARENT
    attributes = dict(told.attributes or {})
    assert attributes["http.response.status_code"] == 200
    assert attributes["lastvolt.request_id"] == "mine"
    assert alone.parent is None
    assert alone.name == "POST unmatched"


class Collector(BaseHTTPRequestHandler):
    """Takes spans by OTLP over HTTP."""

    def do_POST(self) -> None:
        length = int(self.headers["Content-Length"])
        self.server.taken.append((self.path, self.rfile.read(length)))
        self.send_response(200)
        self.end_headers()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture
def collector() -> Iterator[HTTPServer]:
    with HTTPServer(("127.0.0.1", 0), Collector) as server:
        server.taken = []
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield server
        server.shutdown()
        thread.join()


def test_spans_are_sent_by_setting(collector: HTTPServer, monkeypatch: pytest.MonkeyPatch) -> None:
    url = f"http://127.0.0.1:{collector.server_port}"
    monkeypatch.setenv("OTEL_EXPORTER_OTLP_ENDPOINT", url)
    monkeypatch.setenv("OTEL_EXPORTER_OTLP_COMPRESSION", "none")
    made = tracing.provider()
    monkeypatch.setattr(tracing, "provider", lambda: made)
    assert create_app(Config(otel=True)).test_client().get("/livez").status_code == 200
    made.shutdown()
    ((path, spans),) = collector.taken
    assert path == "/v1/traces"
    assert b"GET /livez" in spans
    assert b"lastvolt" in spans
