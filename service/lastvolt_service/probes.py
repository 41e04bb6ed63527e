"""Probes on an address of their own, which a worker answers whatever its threads are doing.

Every worker listens there, and the kernel gives a probe to one of them. The thread that answers
needs the interpreter for some microseconds, so it gets its turn beside any number of busy ones.
"""

import threading
from socket import AF_INET, AF_INET6
from socketserver import BaseRequestHandler, ThreadingTCPServer
from typing import Any

from lastvolt_service.api.health import ALIVE, readiness

PATIENCE_S = 1.0
HEAD_BYTES = 4096


def listen(address: str, worker: Any) -> None:
    """Answer ``/livez`` and ``/readyz`` for as long as the process lives.

    Parameters
    ----------
    address : str
        Address and port.
    worker : gunicorn.workers.base.Worker
        The worker, which is not ready any more once it was told to end.
    """
    listener = _Listener(address, worker)
    threading.Thread(target=listener.serve_forever, name="lastvolt probes", daemon=True).start()


class _Listener(ThreadingTCPServer):
    allow_reuse_address = True
    allow_reuse_port = True
    daemon_threads = True
    request_queue_size = 128

    def __init__(self, address: str, worker: Any) -> None:
        host, _, port = address.rpartition(":")
        self.address_family = AF_INET6 if host.startswith("[") else AF_INET
        self.worker = worker
        super().__init__((host.strip("[]"), int(port)), _Probe)

    def handle_error(self, _request: Any, _address: Any) -> None:
        self.worker.log.exception("A probe failed")


class _Probe(BaseRequestHandler):
    server: _Listener

    def handle(self) -> None:
        self.request.settimeout(PATIENCE_S)
        try:
            # One piece, or it is no probe: whoever sends byte by byte holds no thread.
            words = self.request.recv(HEAD_BYTES).split(b" ", 2)
            self.request.sendall(self._answer(words[1] if len(words) == 3 else b""))
        except OSError:  # gone
            return

    def _answer(self, path: bytes) -> bytes:
        status, body = "404 Not Found", b"{}"
        if path == b"/livez":
            status, body = "200 OK", ALIVE
        elif path == b"/readyz":
            ready, body = readiness(ending=not self.server.worker.alive)
            status = "200 OK" if ready else "503 Service Unavailable"
        head = (
            f"HTTP/1.1 {status}\r\nContent-Type: application/json\r\nCache-Control: no-store\r\n"
            f"Content-Length: {len(body)}\r\nConnection: close\r\n\r\n"
        )
        return head.encode("ascii") + body
