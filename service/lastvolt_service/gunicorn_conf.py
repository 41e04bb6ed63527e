"""Settings of gunicorn, the same for ``lastvolt serve`` and for the container image."""

import os
from pathlib import Path

wsgi_app = "lastvolt_service.wsgi:application"
bind = os.environ.get("LASTVOLT_BIND", "127.0.0.1:8752")
workers = int(os.environ.get("LASTVOLT_WORKERS", os.cpu_count() or 1))
worker_class = "gthread"
threads = 4
preload_app = True
# A request takes milliseconds: a worker silent this long is stuck.
timeout = 30
graceful_timeout = 20
# Above the keep-alive of the usual proxies, so that they close first.
keepalive = 75
# The limits of what is read before the application sees anything.
limit_request_line = 4094
limit_request_fields = 50
limit_request_field_size = 4096
# Heartbeat files in memory: the image runs with a read-only file system.
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108  (no data goes there)
control_socket_disable = True
