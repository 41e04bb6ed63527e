"""Clients that were used before a fork: every answer belongs to its question, nobody waits.

All of it runs in processes of its own, which end after `HANG_S` at the latest.
"""

import json
import pickle
import socketserver
import subprocess
import sys
import threading
from collections.abc import Iterator
from typing import Any

import pytest

from lastvolt import EMBEDDED, Client

HANG_S = 120

PROLOGUE = """
import json, multiprocessing, os, signal, sys, threading, warnings
import lastvolt, requests
warnings.simplefilter("ignore", DeprecationWarning)  # of 3.12, of a fork beside threads
url = sys.argv[1]

def ohms(client, length_m):
    return client.wire_resistance(size="12 AWG", length_m=length_m).resistance_ohm

def in_child(work, seconds=10):
    # What a child tells, or that it hung.
    reads, writes = os.pipe()
    pid = os.fork()
    if pid == 0:
        signal.alarm(seconds)
        try:
            told = work()
        except BaseException as error:
            told = f"{type(error).__name__}: {error}"
        os.write(writes, json.dumps(told).encode())
        os._exit(0)
    os.close(writes)
    with os.fdopen(reads, "rb") as stream:
        told = stream.read()
    os.waitpid(pid, 0)
    return json.loads(told) if told else "hung"
"""


def run(program: str, url: str = EMBEDDED) -> Any:
    done = subprocess.run(
        [sys.executable, "-c", PROLOGUE + program, url],
        stdout=subprocess.PIPE, text=True, check=True, timeout=HANG_S,
    )  # fmt: skip
    return json.loads(done.stdout)


@pytest.fixture
def counting() -> Iterator[tuple[str, list[int]]]:
    """Keep connections open, echo ids, answer a length with its number of ohms; count."""
    asked: list[int] = []  # requests of each connection

    class Handler(socketserver.StreamRequestHandler):
        def handle(self) -> None:
            place = len(asked)
            asked.append(0)
            while self.rfile.readline():
                asked[place] += 1
                headers = {}
                while (line := self.rfile.readline()) not in {b"\r\n", b""}:
                    name, _, value = line.decode().partition(":")
                    headers[name.lower()] = value.strip()
                length_m = json.loads(self.rfile.read(int(headers["content-length"])))["length_m"]
                body = json.dumps({
                    "size": "12 AWG", "standard": "AWG", "area_mm2": 3.3, "checks": [],
                    "resistance_ohm_per_m": 1.0, "resistance_ohm": length_m, "basis": [],
                    "not_judged": [], "cautions": [],
                    "computed_by": {"service": "1", "tables": "2"},
                    "temperature_c": 20.0, "temperature_source": "given",
                    "verdict": "unknown", "headline": "",
                })  # fmt: skip
                self.wfile.write(
                    f"HTTP/1.1 200 OK\r\nX-Request-ID: {headers.get('x-request-id', '')}\r\n"
                    f"Content-Length: {len(body)}\r\n\r\n{body}".encode()
                )

    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Handler) as there:
        there.daemon_threads = True
        threading.Thread(target=there.serve_forever, args=(0.01,), daemon=True).start()
        yield f"http://127.0.0.1:{there.server_address[1]}", asked
        there.shutdown()


def test_each_process_has_connections_of_its_own(counting: tuple[str, list[int]]) -> None:
    url, asked = counting
    told = run(
        """
client = lastvolt.Client(url)
first = ohms(client, 1.0)
def work():
    return [ohms(client, 2.0), ohms(client, 3.0), in_child(lambda: ohms(client, 4.0))]
child = in_child(work)
print(json.dumps([first, child, ohms(client, 5.0)]))
""",
        url,
    )
    assert told == [1.0, [2.0, 3.0, 4.0], 5.0]
    assert sorted(asked) == [1, 2, 2]  # grandchild, child, parent


def test_a_session_of_ones_own_belongs_to_one_process(counting: tuple[str, list[int]]) -> None:
    url, asked = counting
    told = run(
        """
client = lastvolt.Client(url, session=requests.Session())
first = ohms(client, 1.0)
print(json.dumps([first, in_child(lambda: ohms(client, 2.0)), ohms(client, 3.0)]))
""",
        url,
    )
    assert told[::2] == [1.0, 3.0]
    assert told[1].startswith("LastvoltError: The session")
    assert asked == [2]


def test_closing_in_a_child_closes_nothing_of_the_parent(counting: tuple[str, list[int]]) -> None:
    url, asked = counting
    told = run(
        """
client = lastvolt.Client(url)
ohms(client, 1.0)
in_child(client.close)
print(json.dumps(ohms(client, 2.0)))
""",
        url,
    )
    assert (told, asked) == (2.0, [2])


def test_a_batch_does_not_go_on_in_a_child() -> None:
    told = run("""
client = lastvolt.Client(url)
pieces = client.batch("wire-resistance", {"length_m": [1.0] * 100},
                      constants={"size": "12 AWG"}, piece_rows=1)
next(pieces)
child = in_child(lambda: next(pieces).first_row)
anew = in_child(lambda: next(client.batch("wire-resistance", {"length_m": [1.0]},
                                          constants={"size": "12 AWG"})).rows)
print(json.dumps([child, anew, next(pieces).first_row]))
""")
    assert told[0].startswith("LastvoltError: A batch")
    assert told[1:] == [1, 1]


IN_PROCESS = """
client = lastvolt.Client(url)
one = ohms(client, 1.0)
assert ohms(client, 3.0) == 3 * one
over = threading.Event()

def keep_asking():
    while not over.is_set():
        ohms(client, 2.0)

for _ in range(3):
    threading.Thread(target=keep_asking, daemon=True).start()
told = [in_child(lambda: ohms(client, 3.0)) for _ in range(ROUNDS)]
over.set()
answers = [each for each in told if each != "hung"]
wrong = [each for each in answers if each != 3 * one]
print(json.dumps([len(told) - len(answers), len(wrong)]))
"""


def test_the_service_in_this_process_answers_after_a_fork() -> None:
    assert run(IN_PROCESS.replace("ROUNDS", "8")) == [0, 0]


def test_a_lock_that_is_held_at_the_fork_holds_up_no_child() -> None:
    told = run("""
from lastvolt.embedded import application
client = lastvolt.Client(url)
one = ohms(client, 1.0)
with application().deadlines._lock:
    child = in_child(lambda: ohms(client, 1.0))
print(json.dumps([child == one, ohms(client, 1.0) == one]))
""")
    assert told == [True, True]


def test_a_client_can_be_sent_to_another_process() -> None:
    with Client(EMBEDDED) as client, pickle.loads(pickle.dumps(client)) as twin:
        answer = twin.wire_resistance(size="12 AWG", length_m=1)
        assert answer == client.wire_resistance(size="12 AWG", length_m=1)


@pytest.mark.long
def test_many_forks_beside_threads_that_ask() -> None:
    hung, wrong = run(IN_PROCESS.replace("ROUNDS", "200"))
    sys.stdout.write(f"\n200 forks beside 3 threads that ask: hung {hung}, wrong {wrong}\n")
    assert (hung, wrong) == (0, 0)


# A used client in four children and their parent at once, two threads in each.
MANY = """
import concurrent.futures
CHILDREN, CALLS = 4, 300
client = lastvolt.Client(url)
one = ohms(client, 1.0)

def ask(number):
    length_m = 1.0 + number % 997
    try:
        return "right" if abs(ohms(client, length_m) / length_m / one - 1) < 1e-9 else "wrong"
    except lastvolt.LastvoltError as error:
        return repr(error)

def work(place):
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        told = [*pool.map(ask, range(place * CALLS, (place + 1) * CALLS))]
    return {each: told.count(each) for each in set(told)}

def tell(place, writes):
    signal.alarm(100)
    os.write(writes, json.dumps(work(place)).encode() + b"\\n")

reads, writes = os.pipe()
start = multiprocessing.get_context("fork").Process
children = [start(target=tell, args=(place, writes)) for place in range(1, 1 + CHILDREN)]
for child in children:
    child.start()
tell(0, writes)
for child in children:
    child.join()
os.close(writes)
with os.fdopen(reads) as stream:
    print(json.dumps([json.loads(line) for line in stream]))
"""


@pytest.mark.long
def test_every_answer_belongs_to_its_question(server_url: str) -> None:
    rounds, totals = 10, {"right": 0, "wrong": 0}
    for _ in range(rounds):
        told = run(MANY, server_url)
        assert len(told) == 5  # nobody hung
        for each in told:
            for outcome, count in each.items():
                totals[outcome] = totals.get(outcome, 0) + count
    asked = rounds * 5 * 300
    lost = asked - totals["right"] - totals["wrong"]
    sys.stdout.write(f"\n{asked} calls over forks: lost {lost}, wrong {totals['wrong']}\n")
    assert totals == {"right": asked, "wrong": 0}
