"""Traces of OpenTelemetry: one span a request, a child of the caller's."""

from flask import Flask, Response, g, request
from opentelemetry import trace
from opentelemetry.propagate import extract
from opentelemetry.trace import SpanKind, Status, StatusCode, TracerProvider

from lastvolt_service.observe.requests import ENVIRON_ID, operation


def provider() -> TracerProvider:
    """Make a provider that sends spans by OTLP; ``OTEL_`` variables say where and how."""
    from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
    from opentelemetry.sdk.resources import SERVICE_NAME, OTELResourceDetector, Resource
    from opentelemetry.sdk.trace import TracerProvider as SDKTracerProvider
    from opentelemetry.sdk.trace.export import BatchSpanProcessor

    named = Resource({SERVICE_NAME: "lastvolt"}).merge(OTELResourceDetector().detect())
    made = SDKTracerProvider(resource=named)
    made.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return made


def trace_requests(app: Flask, spans: TracerProvider) -> None:
    """Make a span of each request that runs an operation."""
    tracer = spans.get_tracer("lastvolt_service")

    @app.before_request
    def begin() -> None:
        g.span = tracer.start_span(
            f"{request.method} {operation()}",
            context=extract({name.lower(): value for name, value in request.headers}),
            kind=SpanKind.SERVER,
            attributes={"http.request.method": request.method, "http.route": operation()},
        )

    @app.after_request
    def end(response: Response) -> Response:
        span: trace.Span = g.span
        span.set_attribute("http.response.status_code", response.status_code)
        span.set_attribute("lastvolt.request_id", request.environ[ENVIRON_ID])
        if response.status_code >= 500:
            span.set_status(Status(StatusCode.ERROR))
        span.end()
        return response
