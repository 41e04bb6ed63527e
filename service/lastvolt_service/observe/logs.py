"""Logs as JSON, one object a line."""

import json
import logging
import re
from datetime import UTC, datetime
from typing import Any

# What gunicorn could not read is quoted after the kind of fault, and may be a broken header.
_UNREADABLE = re.compile(r"(Invalid request from ip=\S*: [A-Za-z ]*).*", re.DOTALL)


class JSONFormatter(logging.Formatter):
    """One record as one line of JSON."""

    def format(self, record: logging.LogRecord) -> str:
        """Write a record.

        Parameters
        ----------
        record : logging.LogRecord
            With what belongs to a request in its attribute ``request``.

        Returns
        -------
        str
            JSON without line feeds.
        """
        message = record.getMessage()
        if record.name == "gunicorn.error":
            message = _UNREADABLE.sub(r"\1", message)
        line: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "process": record.process,
            "message": message,
            **getattr(record, "request", {}),
        }
        if record.exc_info:
            line["exception"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=True)


def logging_config(*, request_log: bool) -> dict[str, Any]:
    """Configure logging for a server.

    Returns
    -------
    dict
        As `logging.config.dictConfig` takes it.
    """
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {"json": {"()": JSONFormatter}},
        "handlers": {
            "stderr": {
                "class": "logging.StreamHandler",
                "formatter": "json",
                "stream": "ext://sys.stderr",
            },
        },
        "root": {"level": "WARNING", "handlers": ["stderr"]},
        "loggers": {
            "lastvolt_service": {"level": "INFO"},
            "lastvolt_service.requests": {"level": "INFO" if request_log else "WARNING"},
            "gunicorn.error": {"level": "INFO", "handlers": ["stderr"], "propagate": False},
            # A request has its line already.
            "gunicorn.access": {"level": "CRITICAL"},
        },
    }
