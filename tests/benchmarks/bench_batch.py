"""What a batch costs beside other ways to the same numbers, side by side in one run.

Run it by hand; it prints rates and ratios of one run, and judges nothing. The row is a path of a
wire out, a contact and a wire back, with a constant current: the light end of what is asked. Needs
gunicorn; the pint loop is left out where pint is not installed. ``--rows`` and ``--memory`` set how
long it takes.
"""

import argparse
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import orjson
import requests

from lastvolt import Client
from lastvolt.batch import PIECE_ROWS
from lastvolt_service.api.batch import BATCHES, parse_fast
from lastvolt_service.operations.batch import compute
from lastvolt_service.schemas import columns

SIZES = {"12 AWG": 5.31e-3, "10 AWG": 3.34e-3, "16 AWG": 13.4e-3, "2.5 mm2": 7.98e-3}
FIXED = {
    "segments_1_kind": "wire", "segments_1_name": "feed",
    "segments_2_kind": "contact", "segments_2_name": "switch", "segments_2_part": "switch",
    "segments_3_kind": "wire", "segments_3_name": "return", "circuit": "continuous",
}  # fmt: skip
THREE = ["load_voltage_v", "drop_v", "verdict"]
OPERATION = next(operation for operation in BATCHES if operation.name == "voltage-drop")
SINGLE = {
    "supply_v": 12.6,
    "load_current_a": 8.0,
    "segments": [
        {"name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 5.0, "temperature_c": 60},
        {"name": "switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.004},
        {"name": "return", "kind": "wire", "size": "10 AWG", "length_m": 2.0, "temperature_c": 60},
    ],
}


def draw(rows: int) -> dict[str, Any]:
    """Draw paths."""
    random = np.random.default_rng(5)
    names = np.array([*SIZES])
    return {
        "supply_v": random.uniform(11, 14, rows),
        "load_current_a": random.uniform(0.5, 15, rows),
        "segments_1_size": names[random.integers(0, 4, rows)],
        "segments_1_length_m": random.uniform(0.5, 9, rows),
        "segments_1_temperature_c": random.uniform(20, 90, rows),
        "segments_3_size": names[random.integers(0, 4, rows)],
        "segments_3_length_m": random.uniform(0.5, 9, rows),
        "segments_2_resistance_ohm": random.uniform(1e-3, 1e-2, rows),
    }


def cut(given: dict[str, Any], start: int, rows: int = PIECE_ROWS) -> dict[str, Any]:
    return {name: column[start : start + rows] for name, column in given.items()}


def bare(given: dict[str, Any]) -> float:
    """The same numbers in numpy, as a script has them: no bounds, no checks, no words."""
    total = 0.0
    sizes = {name: code for code, name in enumerate(SIZES)}
    per_m = np.array([*SIZES.values()])
    feed = np.array([sizes[name] for name in given["segments_1_size"].tolist()])
    back = np.array([sizes[name] for name in given["segments_3_size"].tolist()])
    codes = {"feed": feed, "back": back}
    start_s = time.perf_counter()
    for start in range(0, len(feed), PIECE_ROWS):
        part = cut(given, start)
        rows = slice(start, start + PIECE_ROWS)
        ohm_feed = per_m[codes["feed"][rows]] * part["segments_1_length_m"]
        ohm_feed *= 1 + 0.00393 * (part["segments_1_temperature_c"] - 20)
        ohm_back = per_m[codes["back"][rows]] * part["segments_3_length_m"]
        contact = part["segments_2_resistance_ohm"]
        current, supply = part["load_current_a"], part["supply_v"]
        path = ohm_feed + ohm_back + contact
        drop = current * path
        drops = np.stack([current * ohm_feed, current * contact, current * ohm_back])
        found = [
            drop, supply - drop, current * (supply - drop), 100 * drop / supply, path, *drops,
            *(current * drops), drops.argmax(axis=0), drop > 0.5, drops[1] > 0.1,
        ]  # fmt: skip
        total += float(found[0].sum())
    return time.perf_counter() - start_s


def our_numpy(given: dict[str, Any], rows: int) -> float:
    """This package's own formulas and checks on arrays, without text and without HTTP."""
    parts = [
        columns.read(
            OPERATION.schema,
            {name: column.tolist() for name, column in cut(given, start).items()},
            FIXED,
        )
        for start in range(0, rows, PIECE_ROWS)
    ]
    start_s = time.perf_counter()
    for part in parts:
        compute(OPERATION.rows, part.data, part.good)
    return time.perf_counter() - start_s


def python_loop(given: dict[str, Any], rows: int) -> float:
    table = [
        dict(zip(given, row, strict=True))
        for row in zip(*(c[:rows].tolist() for c in given.values()), strict=True)
    ]
    start_s = time.perf_counter()
    for row in table:
        feed = SIZES[row["segments_1_size"]] * row["segments_1_length_m"]
        feed *= 1 + 0.00393 * (row["segments_1_temperature_c"] - 20)
        back = SIZES[row["segments_3_size"]] * row["segments_3_length_m"]
        path = feed + back + row["segments_2_resistance_ohm"]
        drop = row["load_current_a"] * path
        parts = {"feed": feed, "contact": row["segments_2_resistance_ohm"], "back": back}
        worst = max(parts, key=parts.__getitem__)
        row.update(drop=drop, load=row["supply_v"] - drop, worst=worst, bad=drop > 0.5)
    return time.perf_counter() - start_s


def pint_loop(given: dict[str, Any], rows: int) -> float | None:
    try:
        import pint
    except ImportError:
        return None
    units: Any = pint.UnitRegistry()
    quantity = units.Quantity
    table = [*zip(*(c[:rows].tolist() for c in given.values()), strict=True)]
    start_s = time.perf_counter()
    for supply, current, feed_size, feed_m, feed_c, back_size, back_m, contact in table:
        ratio = 1 + quantity(0.00393, "1/delta_degC") * (
            quantity(feed_c, "degC") - quantity(20, "degC")
        )
        feed = quantity(SIZES[feed_size], "ohm/m") * quantity(feed_m, "m") * ratio
        back = quantity(SIZES[back_size], "ohm/m") * quantity(back_m, "m")
        path = (feed + back + quantity(contact, "ohm")).to("ohm")
        drop = (quantity(current, "A") * path).to("V")
        _ = (quantity(supply, "V") - drop).to("V"), drop > quantity(0.5, "V")
    return time.perf_counter() - start_s


@contextmanager
def server(workers: int) -> Iterator[tuple[str, int]]:
    """Serve on loopback; give the URL and the id of the process above the workers."""
    environment = {**os.environ, "LASTVOLT_WORKERS": str(workers), "LASTVOLT_BIND": "127.0.0.1:0"}
    with subprocess.Popen(  # our own interpreter
        [sys.executable, "-m", "gunicorn", "--config", "python:lastvolt_service.gunicorn_conf"],
        env=environment,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            stream: Any = process.stderr
            found = next(
                match for line in stream if (match := re.search(r"http://127\.0\.0\.1:\d+", line))
            )
            # What it logs further on must go somewhere.
            threading.Thread(target=lambda: [None for _ in stream], daemon=True).start()
            url = found[0]
            while True:
                try:
                    requests.get(f"{url}/livez", timeout=1)
                    break
                except requests.ConnectionError:
                    time.sleep(0.05)
            yield url, process.pid
        finally:
            process.send_signal(signal.SIGTERM)
            process.wait()


def over_http(url: str, given: dict[str, Any], results: list[str] | None = None) -> float:
    with Client(url) as client:
        start_s = time.perf_counter()
        for _ in client.batch("voltage-drop", given, constants=FIXED, results=results):
            pass
        return time.perf_counter() - start_s


def heat_over_http(url: str, rows: int) -> float:
    """Many wires and their heat balance."""
    random = np.random.default_rng(6)
    given = {
        "current_a": random.uniform(1, 20, rows),
        "ambient_c": random.uniform(20, 80, rows),
        "size": np.array([*SIZES])[random.integers(0, 4, rows)],
    }
    with Client(url) as client:
        start_s = time.perf_counter()
        for _ in client.batch("wire-heating", given, constants={"insulation": "GXL"}):
            pass
        return time.perf_counter() - start_s


def pint_heat_loop(rows: int) -> float | None:
    """Eight damped sweeps of the heat balance of a wire with pint, a row at a time."""
    try:
        import pint
    except ImportError:
        return None
    units: Any = pint.UnitRegistry()
    quantity = units.Quantity
    ohm_per_m, diameter = quantity(8e-3, "ohm/m"), quantity(3e-3, "m")
    convection, sigma = quantity(12.0, "W/m**2/K"), quantity(5.67e-8, "W/m**2/K**4")
    ambient, reference = quantity(313.15, "K"), quantity(293.15, "K")
    start_s = time.perf_counter()
    for _ in range(rows):
        hot = ambient
        for _ in range(8):
            ratio = 1 + quantity(0.00393, "1/K") * (hot - reference)
            heat = (quantity(10.0, "A") ** 2 * ohm_per_m * ratio).to("W/m")
            radiation = 0.9 * sigma * (hot**2 + ambient**2) * (hot + ambient)
            rise = heat / (np.pi * diameter * (convection + radiation))
            hot = 0.5 * hot + 0.5 * (ambient + rise.to("K"))
    return time.perf_counter() - start_s


def bodies(given: dict[str, Any], rows: int) -> list[bytes]:
    """Requests as text, so that the client does next to nothing."""
    return [
        orjson.dumps(
            {"columns": {n: c.tolist() for n, c in cut(given, at).items()}, "constants": FIXED}
        )
        for at in range(0, rows, PIECE_ROWS)
    ]


def send(url: str, texts: list[bytes], connections: int) -> float:
    """Send what is text already, over a few connections, and read the answers unparsed."""
    sessions = [requests.Session() for _ in range(connections)]

    def ask(place: int) -> None:
        for text in texts[place::connections]:
            answer = sessions[place].post(
                f"{url}/v1/batch/voltage-drop",
                data=text,
                headers={"Content-Type": "application/json"},
                stream=True,
            )
            answer.raw.read()

    with ThreadPoolExecutor(connections) as pool:
        start_s = time.perf_counter()
        [*pool.map(ask, range(connections))]
        return time.perf_counter() - start_s


def one_by_one(url: str, rows: int) -> float:
    session = requests.Session()
    session.trust_env = False
    start_s = time.perf_counter()
    for _ in range(rows):
        session.post(f"{url}/v1/voltage-drop", json=SINGLE).json()
    return time.perf_counter() - start_s


def stages(given: dict[str, Any]) -> dict[str, float]:
    """Time of each step of the service on one piece. [s]."""
    (text,) = bodies(given, PIECE_ROWS)
    best: dict[str, float] = {}
    for _ in range(9):
        marks = [time.perf_counter()]
        parsed = parse_fast(text)
        marks.append(time.perf_counter())
        rows = columns.read(OPERATION.schema, parsed["columns"], parsed["constants"])
        marks.append(time.perf_counter())
        found = compute(OPERATION.rows, rows.data, rows.good)
        marks.append(time.perf_counter())
        orjson.dumps(found.columns, option=orjson.OPT_SERIALIZE_NUMPY)
        marks.append(time.perf_counter())
        for name, one, two in zip(
            ("text in", "bounds", "formulas", "text out"), marks, marks[1:], strict=False
        ):
            best[name] = min(best.get(name, 1e9), two - one)
    return best


def peak_kib(process: Path) -> int:
    """Largest memory so far of a process, 0 if it is gone. [KiB]."""
    try:
        found = re.search(r"^VmHWM:\s+(\d+)", (process / "status").read_text(), re.M)
    except OSError:
        return 0
    return int(found[1]) if found else 0


def below(pid: int) -> list[Path]:
    """List the processes that a process has started."""
    return [
        stat.parent
        for stat in Path("/proc").glob("[0-9]*/stat")
        if stat.read_text().rpartition(")")[2].split()[1] == str(pid)
    ]


def memory(rows: int) -> tuple[int, int]:
    """Peak memory of the command and of a worker on a file of so many rows. [KiB]."""
    with tempfile.TemporaryDirectory() as folder, server(1) as (url, pid):
        file, out = Path(folder, "in.csv"), Path(folder, "out.csv")
        line = "12 AWG,5.5,40,8\n"
        with file.open("w") as target:
            target.write(
                "segments_1_size,segments_1_length_m,segments_1_temperature_c,load_current_a\n"
            )
            for start in range(0, rows, 10_000):
                target.write(line * min(10_000, rows - start))
        command = [
            sys.executable, "-c", "from lastvolt.cli import main; main()", "batch", "voltage-drop",
            str(file), "-o", str(out), "--set", "supply_v=13", "--set", "segments_1_kind=wire",
            "--set", "segments_1_name=feed", "--only", "fail", "--url", url,
        ]  # fmt: skip
        highest = 0
        with subprocess.Popen(command, stderr=subprocess.DEVNULL) as process:
            while process.poll() is None:  # what the system tells at the end counts us as well
                highest = max(highest, peak_kib(Path("/proc", str(process.pid))))
                time.sleep(0.05)
        return highest, max(map(peak_kib, below(pid)))


def say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def rates(rows: int) -> None:
    """Print the rates and their ratios."""
    given = draw(rows)
    few = min(rows, 2_000)
    best: dict[str, float] = {}

    def note(name: str, seconds: float | None, count: int) -> None:
        if seconds is not None:
            best[name] = max(best.get(name, 0.0), count / seconds)

    texts = bodies(given, min(rows, 40 * PIECE_ROWS))
    sent = min(rows, 40 * PIECE_ROWS)
    with server(1) as (one, _), server(2) as (two, _):
        for _ in range(3):
            note("numpy, bare", bare(given), rows)
            note("numpy, ours", our_numpy(given, min(rows, 200_000)), min(rows, 200_000))
            note("client, 1 worker", over_http(one, given), rows)
            note("client, 2 workers", over_http(two, given), rows)
            note("client, 3 results", over_http(two, given, THREE), rows)
            note("client, heat", heat_over_http(two, 100_000), 100_000)
            note("pint loop, heat", pint_heat_loop(20), 20)
            note("text ready, 1 worker", send(one, texts, 4), sent)
            note("text ready, 2 workers", send(two, texts, 4), sent)
            note("one request a row", one_by_one(one, few), few)
            note("Python loop", python_loop(given, 50_000), min(rows, 50_000))
            note("pint loop", pint_loop(given, 500), 500)
    for name, rate in best.items():
        say(f"{name:24s} {rate:12,.0f} rows/s")
    best["batch"] = max(best["client, 1 worker"], best["client, 2 workers"])
    best["batch, 3 results"] = best["client, 3 results"]
    best["text ready"] = max(best["text ready, 1 worker"], best["text ready, 2 workers"])
    ratios = {
        f"{one} / {other}": best[one] / best[other]
        for one in ("batch", "batch, 3 results", "text ready")
        for other in ("numpy, bare", "numpy, ours", "one request a row", "Python loop", "pint loop")
        if other in best
    }
    if "pint loop, heat" in best:
        ratios["client, heat / pint loop, heat"] = best["client, heat"] / best["pint loop, heat"]
    for how in ("client", "text ready"):
        ratios[f"2 workers / 1, {how}"] = best[f"{how}, 2 workers"] / best[f"{how}, 1 worker"]
    for name, ratio in ratios.items():
        say(f"{name:40s} {ratio:10.2f}")
    for name, seconds in stages(given).items():
        say(f"service, {name:10s} {1e9 * seconds / PIECE_ROWS:8.0f} ns a row")


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, default=1_000_000)
    parser.add_argument("--memory", type=int, nargs="*", default=[100_000, 1_000_000])
    options = parser.parse_args()
    say(f"Python {sys.version.split()[0]}, numpy {np.__version__}, {os.cpu_count()} cores")
    rates(options.rows)
    for rows in options.memory:
        command_kib, worker_kib = memory(rows)
        mib = f"command {command_kib / 1024:.0f} MiB, worker {worker_kib / 1024:.0f} MiB"
        say(f"{rows:12,d} rows: {mib}")


if __name__ == "__main__":
    main()
