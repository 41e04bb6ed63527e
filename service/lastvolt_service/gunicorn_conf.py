"""Settings of gunicorn, the same for ``lastvolt serve`` and for the container image."""

import logging
import os
import shutil
import signal
import struct
import tempfile
from functools import partial
from pathlib import Path
from socket import SO_RCVTIMEO, SOL_SOCKET
from typing import Any

from gunicorn.http.errors import ExpectationFailed

from lastvolt_service.app import BATCH_PREFIX, Service
from lastvolt_service.config import Config, or_exit
from lastvolt_service.observe.logs import logging_config
from lastvolt_service.probes import listen

_settings = or_exit(Config.from_environment)
_memory = "/dev/shm"  # noqa: S108  (heartbeats and counters, no secrets)

wsgi_app = "lastvolt_service.wsgi:application"
# The second listener is for Prometheus; the application answers nothing else there.
bind = [_settings.bind, _settings.metrics] if _settings.metrics else _settings.bind
workers = _settings.workers
threads = _settings.threads
worker_class = "gthread"
preload_app = True
# Connections of one worker, most of them idle between two requests; one more waits in the kernel.
# A slow client holds a thread: the proxy in service/deploy takes requests in and answers out whole.
worker_connections = 1000
# A worker whose event loop is silent for so long is stuck. Threads that are stuck are ended by the
# deadline of the application, long before.
timeout = 30
# A request that was accepted is finished; none takes longer than the deadline of a single one, but
# a batch may be cut off.
graceful_timeout = 20
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
    if host in {"127.0.0.1", "[::1]", "localhost"}:
        return
    log = logging.getLogger("lastvolt_service")
    log.warning(
        "Listening on %s: fit for a network that is trusted. Slow clients can hold all threads;"
        " the proxy in service/deploy keeps them away.",
        _settings.bind,
    )
    if not _settings.api_keys_file:
        log.warning(
            "Listening on %s without keys: everyone who reaches it may ask.", _settings.bind
        )


def post_worker_init(worker: Any) -> None:
    """Answer probes, and bound what gunicorn leaves without an end."""
    # gunicorn waits for the rest of a head for ever. Connections inherit this from the listener.
    patience = struct.pack("ll", int(_settings.stall_s), int(_settings.stall_s % 1 * 1e6))
    for listener in worker.sockets:
        listener.setsockopt(SOL_SOCKET, SO_RCVTIMEO, patience)
    if isinstance(worker.wsgi, Service):
        worker.wsgi.deadlines.on_stuck = partial(_end, worker)
    if _settings.probes:
        listen(_settings.probes, worker)


def _end(worker: Any) -> None:
    worker.log.critical("A thread cannot be ended: this worker ends, and its requests with it")
    os.kill(worker.pid, signal.SIGKILL)


def pre_request(_worker: Any, request: Any) -> None:
    """Refuse a body announced as too large, before gunicorn tells the client to send it."""
    headers = dict(request.headers)
    if "EXPECT" not in headers:
        return
    limit = _settings.max_body_bytes
    if request.path.startswith(BATCH_PREFIX):
        limit = _settings.max_batch_body_bytes
    if int(headers.get("CONTENT-LENGTH", "0")) > limit:
        raise ExpectationFailed(f"a body of at most {limit} bytes")


def child_exit(_server: Any, worker: Any) -> None:
    """Take a dead worker out of the gauges; what it counted stays."""
    if _counters:
        from prometheus_client.multiprocess import mark_process_dead

        mark_process_dead(worker.pid)  # type: ignore[no-untyped-call]  # the library is untyped here


def on_exit(_server: Any) -> None:
    """Clear the counters away."""
    if _counters:
        shutil.rmtree(_counters, ignore_errors=True)
