"""Settings of gunicorn, the same for ``lastvolt serve`` and for the container image."""

import logging
import os
import shutil
import tempfile
from pathlib import Path
from typing import Any

from lastvolt_service.config import Config, or_exit
from lastvolt_service.observe.logs import logging_config

_settings = or_exit(Config.from_environment)
_memory = "/dev/shm"  # noqa: S108  (heartbeats and counters, no secrets)

wsgi_app = "lastvolt_service.wsgi:application"
# The second listener is for Prometheus; the application answers nothing else there.
bind = [_settings.bind, _settings.metrics] if _settings.metrics else _settings.bind
workers = _settings.workers
threads = _settings.threads
worker_class = "lastvolt_service.gunicorn_worker.BufferingWorker"
preload_app = True
# Connections of one worker, most of them idle between two requests; one more waits in the kernel.
worker_connections = 1000
# A worker whose event loop is silent for so long is stuck. Threads that are stuck are ended by the
# deadline of the application, long before.
timeout = 30
# A request that was accepted is finished; none takes longer than the deadline of a single one, but
# a batch may be cut off.
graceful_timeout = int(_settings.drain_s) + 20
# Above the keep-alive of the usual proxies (60 s), so that they close first and never send a
# request into a connection that is being closed.
keepalive = 75
# Paths are short, and the only query is that of a table.
limit_request_line = 4094
# A browser behind two proxies sends about thirty fields; a long one is a token or a cookie.
limit_request_fields = 50
limit_request_field_size = 4096
# Heartbeat files in memory: the image runs with a read-only file system.
worker_tmp_dir = _memory if Path(_memory).is_dir() else None
control_socket_disable = True
logconfig_dict = logging_config(request_log=_settings.request_log)

_counters = ""
if _settings.metrics:
    # prometheus_client keeps the counters of each worker in a file, and reads this name when it is
    # imported. A folder of our own is empty at the start: no counter of an earlier run is added.
    _counters = tempfile.mkdtemp(prefix="lastvolt-metrics-", dir=worker_tmp_dir)
    os.environ["PROMETHEUS_MULTIPROC_DIR"] = _counters


def on_starting(_server: Any) -> None:
    """Warn of a service that is open to everyone."""
    host = _settings.bind.rpartition(":")[0]
    if host not in {"127.0.0.1", "[::1]", "localhost"} and not _settings.api_keys_file:
        logging.getLogger("lastvolt_service").warning(
            "Listening on %s without keys: everyone who reaches it may ask.", _settings.bind
        )


def child_exit(_server: Any, worker: Any) -> None:
    """Take a dead worker out of the gauges; what it counted stays."""
    if _counters:
        from prometheus_client.multiprocess import mark_process_dead

        mark_process_dead(worker.pid)  # type: ignore[no-untyped-call]  # the library is untyped here


def on_exit(_server: Any) -> None:
    """Clear the counters away."""
    if _counters:
        shutil.rmtree(_counters, ignore_errors=True)
