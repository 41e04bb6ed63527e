"""Linear algebra on one thread, by whatever door the service is reached."""

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import requests
from threadpoolctl import threadpool_info

from lastvolt_service.blas import GENERAL, VARIABLES, prepare

from .conftest import Server, free_port, until

CLEAN = {name: value for name, value in os.environ.items() if name not in VARIABLES}
CORES = len(os.sched_getaffinity(0))
TOLD = "import json; from threadpoolctl import threadpool_info as info; print(json.dumps(sorted(" \
    "pool['num_threads'] for pool in info() if pool['user_api'] == 'blas')))"  # fmt: skip
SOLVE = """
from lastvolt import Client
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
with Client() as client:
    client.call("circuit-check", CircuitCheckRequest.example)
"""


def run(code: str, **environment: str) -> Any:
    found = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True, text=True, check=False, env=CLEAN | environment, timeout=60,
    )  # fmt: skip
    assert found.returncode == 0, found.stderr
    return json.loads(found.stdout)


def threads_of(process: int) -> int:
    return len(list(Path(f"/proc/{process}/task").iterdir()))


def large_circuit(rungs: int = 160) -> dict[str, Any]:
    """A ladder with so many loops that a library with more threads than one uses them."""
    names = ["post", *(f"n{place}" for place in range(rungs))]
    contact = {"kind": "contact", "part": "connector", "resistance_ohm": 0.001}
    rung = {"kind": "resistance", "resistance_ohm": 100.0}
    return {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": [
                {**contact, "name": f"c{place}", "nodes": names[place : place + 2]}
                for place in range(rungs)
            ] + [
                {**rung, "name": f"r{place}{side}", "nodes": [names[place + 1], "ground"]}
                for place in range(rungs) for side in "ab"
            ],
            "loads": [
                {"name": "lamp", "kind": "resistance", "resistance_ohm": 6,
                 "nodes": [names[-1], "ground"]}
            ],
        },
        "cases": [{"name": "a"}],
    }  # fmt: skip


def test_the_tests_themselves() -> None:
    assert {pool["num_threads"] for pool in threadpool_info()} == {1}


@pytest.mark.parametrize(
    "door",
    [
        SOLVE,
        "import lastvolt_service.wsgi",
        "import lastvolt_service.gunicorn_conf, lastvolt_service.wsgi",
        "import lastvolt_service.operations.circuits.check",
        "import lastvolt_service, scipy.linalg, lastvolt_service.app",
    ],
)
def test_one_thread_by_every_door(door: str) -> None:
    assert set(run(f"{door}\n{TOLD}")) == {1}


def test_no_thread_waits_for_work() -> None:
    """Not even one that sleeps: a library that was told in time starts none."""
    code = "import lastvolt_service.wsgi, os; print(len(os.listdir('/proc/self/task')))"
    assert run(code) == 1


@pytest.mark.skipif(CORES < 2, reason="one core has one thread anyway")
@pytest.mark.parametrize("name", ["OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"])
def test_what_the_operator_says_counts(name: str) -> None:
    assert run(f"{SOLVE}\n{TOLD}", **{name: "2"}) == [2]


def test_the_general_variable_speaks_for_all() -> None:
    assert prepared({GENERAL: "3"}) == {GENERAL: "3"}
    ones = dict.fromkeys(VARIABLES, "1")
    assert prepared({}) == ones
    assert prepared({"MKL_NUM_THREADS": "4"}) == {**ones, "MKL_NUM_THREADS": "4"}


def prepared(environment: dict[str, str]) -> dict[str, str]:
    with pytest.MonkeyPatch.context() as patch:
        patch.delitem(sys.modules, "numpy")
        prepare(environment)
    return environment


def test_each_worker_has_one_thread(
    serve: Callable[..., Server], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in VARIABLES:
        monkeypatch.delenv(name, raising=False)
    server = serve("blas_app", WORKERS="2")
    seen: dict[int, list[int]] = {}
    until(lambda: _ask(server, seen) and len(seen) == 2, "both workers were asked")
    assert set(map(tuple, seen.values())) == {(1,)}


def _ask(server: Server, seen: dict[int, list[int]]) -> bool:
    told = requests.get(f"{server.url}/threads", timeout=5).json()
    seen[told["process"]] = told["threads"]
    return True


@pytest.mark.skipif(CORES < 2, reason="one core has one thread anyway")
def test_serve_starts_no_thread_of_linear_algebra(tmp_path: Path) -> None:
    """Seen from outside, by what the operator may ask for instead: with two there is one more."""
    assert _threads_after_work(tmp_path, OPENBLAS_NUM_THREADS="2") == 1 + _threads_after_work(
        tmp_path
    )


def _threads_after_work(folder: Path, **environment: str) -> int:
    bind = f"127.0.0.1:{free_port()}"
    clean = {
        name: value
        for name, value in CLEAN.items()
        if not name.startswith("LASTVOLT_") and not name.lower().endswith("_proxy")
    }
    with (folder / "log").open("wb") as log:
        server = subprocess.Popen(
            [Path(sys.executable).with_name("lastvolt"), "serve", "--bind", bind, "--workers", "1"],
            env=clean | {"LASTVOLT_THREADS": "1"} | environment, stdout=log, stderr=log,
        )  # fmt: skip
    try:
        until(lambda: _answers(bind, server), (folder / "log").read_text())
        answer = requests.post(f"http://{bind}/v1/circuit-check", json=large_circuit(), timeout=30)
        assert answer.status_code == 200, answer.text
        time.sleep(0.5)  # the thread that watched over the deadline goes
        (worker,) = Path(f"/proc/{server.pid}/task/{server.pid}/children").read_text().split()
        return threads_of(int(worker))
    finally:
        server.terminate()
        server.wait(30)


def _answers(bind: str, server: "subprocess.Popen[bytes]") -> bool:
    assert server.poll() is None
    try:
        return requests.get(f"http://{bind}/readyz", timeout=1).status_code == 200
    except requests.RequestException:
        return False


NUMPY_FIRST = f"""
import json, os, threading, warnings
from concurrent.futures import ThreadPoolExecutor
import numpy as np
from threadpoolctl import threadpool_info
from lastvolt_service import blas
from lastvolt_service.physics.network import loops

def threads():
    return [pool["num_threads"] for pool in threadpool_info()]

inside = []
class Linalg:
    LinAlgError = np.linalg.LinAlgError
    def solve(*arguments):
        inside.append(threads())
        return np.linalg.solve(*arguments)
class Watched:
    linalg = Linalg
    def __getattr__(self, name):
        return getattr(np, name)
loops.np = Watched()
before = threads()
{SOLVE}
after = threads()

# A process made while another thread is inside waits until it is out, so that the child has its
# own threads and no lock that is held.
entered, leave = threading.Event(), threading.Event()
@blas.one_thread
def stay():
    entered.set()
    leave.wait(0.5)
    return threads()
@blas.one_thread
def look():
    return threads()
with ThreadPoolExecutor(2) as pool:
    staying = pool.submit(stay)
    entered.wait(10)
    looking = pool.submit(look)
    reading, writing = os.pipe()
    warnings.simplefilter("ignore", DeprecationWarning)  # Python 3.12 on: a fork beside threads
    child = os.fork()
    if not child:
        os.write(writing, json.dumps([threads(), look(), threads()]).encode())
        os._exit(0)
    os.waitpid(child, 0)
print(json.dumps({{
    "before": before, "inside": sorted(set(map(tuple, inside))), "after": after,
    "both": [staying.result(), looking.result()], "child": json.loads(os.read(reading, 1000)),
    "at the end": threads(),
}}))
"""


@pytest.mark.skipif(CORES < 2, reason="one core has one thread anyway")
def test_where_numpy_came_first_its_threads_are_held_back_and_let_go() -> None:
    assert run(NUMPY_FIRST) == {
        "before": [CORES],
        "inside": [[1]],
        "after": [CORES],
        "both": [[1], [1]],
        "child": [[CORES], [1], [CORES]],
        "at the end": [CORES],
    }
