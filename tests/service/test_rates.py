"""How much a caller may ask: counted by key or address, in memory or in Redis."""

import contextlib
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from lastvolt import Client, RateLimited
from lastvolt_service.app import create_app
from lastvolt_service.config import Config

from .conftest import WIRE, Server, free_port, until
from .test_access import bearer, table

PATH = "/v1/wire-resistance"


def statuses(client: FlaskClient, count: int, **headers: str) -> list[int]:
    return [client.post(PATH, json=WIRE, headers=headers).status_code for _ in range(count)]


def test_too_many_requests_get_429() -> None:
    client = create_app(Config(rate_limit="3/minute")).test_client()
    assert statuses(client, 3) == [200] * 3
    response = client.post(PATH, json=WIRE)
    assert response.status_code == 429
    assert response.content_type == "application/problem+json"
    assert response.get_json()["type"] == "/problems/rate-limited"
    assert 0 < int(response.headers["Retry-After"]) <= 61
    assert response.headers["Lastvolt-Retry"] == "yes"
    assert response.get_json()["retryable"] is True


def test_all_operations_count_together_and_probes_do_not() -> None:
    client = create_app(Config(rate_limit="3/minute")).test_client()
    assert [client.get(path).status_code for path in ("/livez", "/readyz") * 5] == [200] * 10
    assert statuses(client, 2) == [200] * 2
    assert client.get("/v1/conductors").status_code == 200
    assert client.get("/v1/conductors").status_code == 429
    assert client.get("/livez").status_code == 200


def test_no_limit_by_default(client: FlaskClient) -> None:
    assert set(statuses(client, 200)) == {200}


def test_each_key_has_a_rate_of_its_own(tmp_path: Path) -> None:
    file = tmp_path / "keys.toml"
    file.write_text(table("a", "ka", 'rate = "2/minute"') + table("b", "kb") + table("c", "kc"))
    client = create_app(Config(api_keys_file=str(file), rate_limit="4/minute")).test_client()
    assert statuses(client, 3, **bearer("ka")) == [200, 200, 429]
    assert statuses(client, 5, **bearer("kb")) == [200] * 4 + [429]
    assert statuses(client, 1, **bearer("kc")) == [200]
    assert statuses(client, 1, **bearer("kx")) == [401]


def test_a_key_without_a_rate_is_free_where_there_is_none(tmp_path: Path) -> None:
    file = tmp_path / "keys.toml"
    file.write_text(table("a", "ka", 'rate = "1/minute"') + table("b", "kb"))
    client = create_app(Config(api_keys_file=str(file))).test_client()
    assert statuses(client, 2, **bearer("ka")) == [200, 429]
    assert statuses(client, 50, **bearer("kb")) == [200] * 50


@pytest.mark.parametrize(("proxies", "second"), [(0, 429), (1, 200)])
def test_only_a_trusted_proxy_says_who_asks(proxies: int, second: int) -> None:
    client = create_app(Config(rate_limit="1/minute", trusted_proxies=proxies)).test_client()
    assert statuses(client, 1, **{"X-Forwarded-For": "192.0.2.1"}) == [200]
    assert statuses(client, 1, **{"X-Forwarded-For": "192.0.2.2"}) == [second]
    # What the client itself put in front of the proxy's word counts for nothing.
    assert statuses(client, 1, **{"X-Forwarded-For": "192.0.2.3, 192.0.2.1"}) == [429]


def test_the_sdk_waits_as_long_as_it_is_told(
    serve: Callable[..., Server], monkeypatch: pytest.MonkeyPatch
) -> None:
    server = serve(WORKERS="1", RATE_LIMIT="1/second")

    def ask(retries: int, until: Callable[[], bool]) -> None:
        """Ask until something has happened: a busy machine may need a second for a call."""
        with Client(server.url, retries=retries) as client:
            for _ in range(40):
                client.wire_resistance(**WIRE)
                if until():
                    return

    with pytest.raises(RateLimited) as caught:
        ask(0, until=lambda: False)
    assert caught.value.retry_after_s in {1, 2}
    waits_s, sleep = [], time.sleep
    monkeypatch.setattr("lastvolt.transport.time.sleep", lambda s: (waits_s.append(s), sleep(s)))
    ask(1, until=lambda: len(waits_s) >= 3)  # and what it was told suffices: once is enough
    assert len(waits_s) >= 3
    # Whole seconds, as the header tells them: waits of its own are drawn at random.
    assert set(waits_s) <= {1, 2}


class Redis:
    def __init__(self, program: str, folder: Path) -> None:
        self.program = program
        self.port = free_port()
        self.url = f"redis://127.0.0.1:{self.port}/0"
        self.folder = folder
        self.start()

    def start(self) -> None:
        command = [self.program, "--port", str(self.port), "--bind", "127.0.0.1", "--save", ""]
        self.process = subprocess.Popen(
            [*command, "--dir", str(self.folder)], stdout=subprocess.DEVNULL
        )
        until(self._answers, "Redis answers")

    def _answers(self) -> bool:
        import redis

        with redis.Redis(port=self.port) as client:
            try:
                return bool(client.ping())
            except redis.ConnectionError:
                return False

    def counted(self) -> int:
        """How many callers it counts."""
        import redis

        with redis.Redis(port=self.port) as client:
            return int(client.dbsize())

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()


@pytest.fixture
def redis_server(tmp_path: Path, programs: Callable[..., tuple[str, ...]]) -> Iterator[Redis]:
    server = Redis(*programs("redis-server", packages="redis-server"), tmp_path)
    yield server
    server.stop()


def test_redis_counts_all_workers_together(
    redis_server: Redis, serve: Callable[..., Server]
) -> None:
    server = serve(WORKERS="2", RATE_LIMIT="20/minute", RATE_STORAGE=redis_server.url)
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda _: server.post(PATH, WIRE).status_code, range(60)))
    assert sorted(found) == [200] * 20 + [429] * 40
    # Which worker gets a call is for the kernel to say; over all 60, both have their share.
    assert len({line["process"] for line in server.lines() if line.get("status")}) == 2


def test_without_redis_each_worker_counts_on(redis_server: Redis) -> None:
    client = create_app(Config(rate_limit="3/minute", rate_storage=redis_server.url)).test_client()
    assert statuses(client, 2) == [200, 200]
    redis_server.stop()
    assert statuses(client, 4) == [200, 200, 200, 429]


def test_only_a_refused_call_is_told_to_wait() -> None:
    client = create_app(Config(rate_limit="2/minute")).test_client()
    for response in (
        client.post(PATH, json=WIRE),
        client.post(PATH, json={}),
        client.get("/livez"),
        client.get("/nowhere"),
    ):
        assert "Retry-After" not in response.headers
    assert "Retry-After" in client.post(PATH, json=WIRE).headers


class Silent:
    """A storage that accepts connections and never says a word."""

    def __init__(self) -> None:
        self.listener = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.listener.setblocking(False)
        self.url = f"redis://127.0.0.1:{self.listener.getsockname()[1]}/0"

    def __enter__(self) -> "Silent":
        return self

    def __exit__(self, *_exception: object) -> None:
        self.listener.close()

    def connections(self) -> int:
        """How often it was asked since the last time."""
        count = 0
        with contextlib.suppress(BlockingIOError):
            while True:
                self.listener.accept()[0].close()
                count += 1
        return count


def test_a_storage_that_hangs_holds_one_request_once() -> None:
    """It is tried once; then the worker counts for itself, and asks now and then."""
    with Silent() as storage:
        config = Config(rate_limit="3/minute", rate_storage=storage.url, deadline_s=60)
        client = create_app(config).test_client()
        assert statuses(client, 5) == [200, 200, 200, 429, 429]
        assert storage.connections() == 1
