"""Metrics for Prometheus: on a listener of their own, summed over all workers."""

import os

from flask import Flask, Response, g, request
from prometheus_client import (
    CONTENT_TYPE_LATEST,
    CollectorRegistry,
    Counter,
    Gauge,
    Histogram,
    generate_latest,
)
from prometheus_client.multiprocess import MultiProcessCollector
from werkzeug.exceptions import NotFound

from lastvolt_service.observe.requests import duration_s, operation, rows

PATH = "/metrics"
MULTIPROCESS = "PROMETHEUS_MULTIPROC_DIR"  # the library reads it when it is imported
METHODS = frozenset({"GET", "HEAD", "OPTIONS", "POST"})
# From a single call on an idle machine to the deadline of a batch.
BUCKETS_S = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1.0, 5.0, 10.0, 60.0)


def measure(app: Flask, *, listener: str) -> None:
    """Count requests, and answer ``/metrics`` on one listener and nothing else there."""
    port = listener.rpartition(":")[2]
    registry = CollectorRegistry()
    requests = Counter(
        "lastvolt_requests",
        "Requests answered, by rule.",
        ("operation", "method", "status"),
        registry=registry,
    )
    computed = Counter(
        "lastvolt_rows", "Rows computed, by rule.", ("operation",), registry=registry
    )
    durations = Histogram(
        "lastvolt_request_duration_seconds",
        "Time to answer, by rule.",
        ("operation",),
        buckets=BUCKETS_S,
        registry=registry,
    )
    running = Gauge(
        "lastvolt_requests_running",
        "Requests being answered.",
        multiprocess_mode="livesum",
        registry=registry,
    )

    def metrics() -> Response:
        asked = registry
        if MULTIPROCESS in os.environ:
            asked = CollectorRegistry()
            MultiProcessCollector(asked)  # type: ignore[no-untyped-call]  # the library is untyped here
        return Response(generate_latest(asked), content_type=CONTENT_TYPE_LATEST)

    app.add_url_rule(PATH, view_func=metrics, methods=["GET"])

    @app.before_request
    def begin() -> None:
        own = request.environ["SERVER_PORT"] == port
        if own != (request.endpoint == "metrics"):
            raise NotFound
        if not own:
            g.measured = True
            running.inc()

    @app.after_request
    def end(response: Response) -> Response:
        if "measured" in g:
            method = request.method if request.method in METHODS else "other"
            requests.labels(operation(), method, str(response.status_code)).inc()
            durations.labels(operation()).observe(duration_s())
            computed.labels(operation()).inc(rows(response.status_code))
        return response

    @app.teardown_request
    def over(_error: BaseException | None) -> None:
        if g.pop("measured", False):
            running.dec()
