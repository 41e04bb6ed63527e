"""The application factory."""

from flask import Flask, Response
from werkzeug.exceptions import HTTPException

from lastvolt_service.api import BLUEPRINTS, problems
from lastvolt_service.api.operations import cacheable
from lastvolt_service.config import Config
from lastvolt_service.errors import CalculationError
from lastvolt_service.openapi import document_json


def create_app(config: Config | None = None) -> Flask:
    """Make an application.

    Parameters
    ----------
    config : Config, optional
        Settings; by default from the environment.

    Returns
    -------
    flask.Flask
        A WSGI application.
    """
    config = config or Config.from_environment()
    app = Flask(__name__, static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = config.max_body_bytes
    app.url_map.strict_slashes = False
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    app.add_url_rule("/openapi.json", view_func=_openapi, methods=["GET"])
    app.register_error_handler(problems.Refused, problems.answer_refused)
    app.register_error_handler(CalculationError, problems.answer_calculation_error)
    app.register_error_handler(HTTPException, problems.answer_http_error)
    app.register_error_handler(Exception, problems.answer_fault)
    return app


def _openapi() -> Response:
    return cacheable(Response(document_json(), content_type="application/json"))
