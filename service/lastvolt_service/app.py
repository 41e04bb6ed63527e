"""The application factory."""

from dataclasses import replace
from pathlib import Path

from flask import Flask, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException
from werkzeug.middleware.proxy_fix import ProxyFix

from lastvolt_service.api import BLUEPRINTS, OPERATIONS, pages, problems
from lastvolt_service.api.access import allow_origins, require_keys
from lastvolt_service.api.deadline import Deadlines
from lastvolt_service.api.document import document_json
from lastvolt_service.api.headers import secure
from lastvolt_service.api.operations import API_PREFIX, cacheable
from lastvolt_service.api.rates import limit_rates
from lastvolt_service.config import Config, WrongSetting
from lastvolt_service.errors import CalculationError
from lastvolt_service.keys import load
from lastvolt_service.observe.requests import watch
from lastvolt_service.openapi_tools import tools_json

BATCH_PREFIX = f"{API_PREFIX}/batch/"


class Service(Flask):
    """The application: every view has a deadline, and batches have limits of their own.

    Parameters
    ----------
    settings : Config
        Settings.
    """

    def __init__(self, settings: Config) -> None:
        super().__init__(__name__, static_folder=None)
        self.settings = settings
        self.config["MAX_CONTENT_LENGTH"] = settings.max_body_bytes
        self.config["MAX_BATCH_ROWS"] = settings.max_batch_rows
        self.deadlines = Deadlines()

    def dispatch_request(self) -> ResponseReturnValue:
        """Run the view that the request asks for.

        Returns
        -------
        flask.typing.ResponseReturnValue
            What it returns.
        """
        seconds = self.settings.deadline_s
        if request.path.startswith(BATCH_PREFIX):
            seconds = self.settings.batch_deadline_s
            request.max_content_length = self.settings.max_batch_body_bytes
        # gunicorn lets a thread wait for the rest of a body for ever, and for the client to take
        # the answer.
        connection = request.environ.get("gunicorn.socket")
        if connection is not None:
            connection.settimeout(self.settings.stall_s)
        try:
            return self.deadlines.run(super().dispatch_request, seconds=seconds)
        finally:
            if connection is not None:
                connection.settimeout(seconds)


def create_app(config: Config | None = None) -> Flask:
    """Make an application.

    Returns
    -------
    flask.Flask
        A WSGI application.
    """
    config = config or Config.from_environment()
    app = Service(config)
    # A path is answered or it is not: a redirect would name the host that the request names.
    app.url_map.strict_slashes = False
    app.url_map.merge_slashes = False
    app.url_map.redirect_defaults = False
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    app.register_blueprint(pages.mount(OPERATIONS))
    app.add_url_rule("/openapi.json", view_func=_openapi, methods=["GET"])
    app.add_url_rule("/openapi-tools.json", view_func=_openapi_tools, methods=["GET"])
    app.register_error_handler(problems.Refused, problems.answer_refused)
    app.register_error_handler(CalculationError, problems.answer_calculation_error)
    app.register_error_handler(HTTPException, problems.answer_http_error)
    app.register_error_handler(Exception, problems.answer_fault)
    _observe(app, config)
    _admit(app, config)
    secure(app, hsts_s=config.hsts_s)
    watch(app)
    return app


def create_embedded() -> Flask:
    """Make an application for callers within the same process.

    The entry point of ``lastvolt.embedded``. Settings are those of a server, which this is not, so
    none of the environment reach it: no keys, no rates, no second listener. Its work holds up
    nobody but its caller, and may take as long as a batch.

    Returns
    -------
    flask.Flask
        A WSGI application.
    """
    bare = Config()
    return create_app(replace(bare, deadline_s=bare.batch_deadline_s))


def _observe(app: Flask, config: Config) -> None:
    """Measure requests: first, because Flask hands an answer to what comes first last."""
    try:
        if config.metrics:
            from lastvolt_service.observe.metrics import measure

            measure(app, listener=config.metrics)
        if config.otel:
            from lastvolt_service.observe.tracing import provider, trace_requests

            trace_requests(app, provider())
    except ImportError as error:
        raise WrongSetting(
            "LASTVOLT_METRICS and LASTVOLT_OTEL need more packages: "
            "pip install 'lastvolt[metrics,otel]'."
        ) from error


def _admit(app: Flask, config: Config) -> None:
    """Say who may ask, and how much."""
    if config.trusted_proxies:
        # Flask itself is the application; what it is wrapped in goes here.
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=config.trusted_proxies, x_proto=0, x_host=0)  # type: ignore[method-assign]  # Flask's own place for it
    if config.cors_origins:
        allow_origins(app, config.cors_origins)
    keys = load(Path(config.api_keys_file)) if config.api_keys_file else ()
    if keys:
        require_keys(app, keys)
    limit_rates(app, rate=config.rate_limit, storage=config.rate_storage, keys=keys)


def _openapi() -> Response:
    return cacheable(Response(document_json(), content_type="application/json"))


def _openapi_tools() -> Response:
    return cacheable(Response(tools_json(), content_type="application/json"))
