"""Work that goes on too long is ended; nothing else is."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from lastvolt_service.api.deadline import TICK_S, DeadlineExceeded, Deadlines
from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.api.problems import Refused
from lastvolt_service.app import Service, create_app, create_embedded
from lastvolt_service.config import Config
from lastvolt_service.schemas.described import schema_class

from .slow_app import SlowRequest, slow


def spin(time_s: float) -> str:
    end = time.monotonic() + time_s
    while time.monotonic() < end:
        pass
    return "done"


def test_work_in_time_is_answered() -> None:
    assert Deadlines().run(lambda: spin(0.01), seconds=5) == "done"


def test_what_work_raises_comes_out() -> None:
    with pytest.raises(ZeroDivisionError):
        Deadlines().run(lambda: 1 / 0, seconds=5)


def test_endless_work_is_ended() -> None:
    def careless() -> None:
        while True:
            try:
                spin(0.001)
            except Exception:
                continue

    with pytest.raises(Refused) as caught:
        Deadlines().run(careless, seconds=0.2)
    assert caught.value.problem.code == "deadline-exceeded"


def test_an_interrupt_never_hits_what_comes_after() -> None:
    """Work that ends just as its time does: refused or answered, and no interrupt is left over."""
    deadlines = Deadlines()

    def race(shift: int) -> str:
        try:
            try:
                outcome = deadlines.run(lambda: spin(2 * TICK_S + shift * 1e-4), seconds=TICK_S)
            except Refused:
                outcome = "refused"
            spin(2 * TICK_S)
        except DeadlineExceeded:
            return "leaked"
        return outcome

    with ThreadPoolExecutor(8) as pool:
        outcomes = set(pool.map(race, range(-16, 16)))
    assert outcomes <= {"done", "refused"}


def test_an_idle_process_has_no_watching_thread() -> None:
    deadlines = Deadlines()
    deadlines.run(lambda: None, seconds=5)
    time.sleep(5 * TICK_S)
    assert not any("deadlines" in thread.name for thread in threading.enumerate())
    assert deadlines.run(lambda: spin(0.01), seconds=5) == "done"


def test_a_slow_operation_is_refused_and_not_to_be_repeated() -> None:
    app = create_app(Config(deadline_s=0.2))
    app.register_blueprint(topic("slow", [Operation(slow, schema_class(SlowRequest)())]))
    client = app.test_client()
    response = client.post("/v1/slow", json={"time_s": 60})
    assert response.status_code == 422
    assert response.headers["Lastvolt-Retry"] == "no"
    assert "Retry-After" not in response.headers
    assert response.get_json()["type"] == "/problems/deadline-exceeded"
    assert client.post("/v1/slow", json={"time_s": 0.01}).status_code == 200


def test_a_thread_that_no_exception_reaches_is_told_of(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lastvolt_service.api.deadline.STUCK_S", 0.3)
    lock = threading.Lock()
    lock.acquire()
    deadlines = Deadlines()
    told_s: list[float] = []

    def let_go() -> None:
        told_s.append(time.monotonic())
        if len(told_s) == 1:
            lock.release()

    deadlines.on_stuck = let_go
    began_s = time.monotonic()
    with pytest.raises(Refused):  # the exception lands when the lock is there
        deadlines.run(lock.acquire, seconds=0.2)
    assert told_s[0] - began_s >= 0.5


def test_in_process_a_call_may_take_as_long_as_a_batch() -> None:
    embedded, served = create_embedded(), create_app(Config())
    assert isinstance(embedded, Service)
    assert isinstance(served, Service)
    assert embedded.settings.deadline_s == served.settings.batch_deadline_s
    assert served.settings.deadline_s < served.settings.batch_deadline_s
