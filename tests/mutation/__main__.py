"""``python -m tests.mutation``: put faults in by hand, one by one, and see whether a test fails.

It tries a sample in copies of the tree. What survives every test that sees it is listed; what
explained.toml does not explain fails the run.
"""

import argparse
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ[name] = "1"  # a process that has threads must not fork

from .explained import explained, unheld
from .faults import Fault, faults, sample
from .seen import Seen
from .trial import (
    FAILED,
    NO_COLLECTION,
    NO_IMPORT,
    NO_TESTS,
    PASSED,
    Child,
    Watch,
    copied,
    map_tests,
    preload,
    run_tests,
)

ROOT = Path(__file__).parents[2]
MAP_CEILING_S = 1800.0
KILLED = {FAILED, NO_COLLECTION, NO_IMPORT}
CONTROL = 300  # tests that must pass where nothing is changed


def arguments(given: list[str] | None = None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--number", type=int, default=200, help="how many faults are tried")
    parser.add_argument("--all", action="store_true", help="try every one: takes hours")
    parser.add_argument("--seed", type=int, default=1, help="of the sample")
    parser.add_argument("--only", default="", help="files whose path has this in it")
    parser.add_argument("--jobs", type=int, default=1, help="how many at a time")
    parser.add_argument("--ceiling", type=float, default=60.0, help="seconds for each fault")
    parser.add_argument("--budget", type=float, default=1500.0, help="seconds for all of them")
    parser.add_argument("--map", type=Path, help="file of which test sees what: kept, or used")
    return parser.parse_args(given)


def drawn(options: argparse.Namespace) -> list[Fault]:
    found = faults(ROOT)
    if options.only:
        found = {part: [f for f in all_ if options.only in f.path] for part, all_ in found.items()}
    if options.all or (options.only and sum(map(len, found.values())) <= options.number):
        return [fault for all_ in found.values() for fault in all_]
    return sample(found, options.number, options.seed)


class Trials:
    """Tries faults, some at a time, each in a copy of the tree that it has alone."""

    def __init__(self, seen: Seen, folder: Path, jobs: int, ceiling_s: float) -> None:
        self.seen, self.ceiling_s = seen, ceiling_s
        self.free = []
        for number in range(jobs):
            place = folder / f"job{number}"
            place.mkdir()
            self.free.append((copied(ROOT, place / "tree"), place))
        self.busy: list[tuple[Child, Fault, str, int]] = []

    def all(self, wanted: list[Fault], budget_s: float) -> Iterator[tuple[Fault, str]]:
        """Give each fault with what became of it: "" if a test failed."""
        waiting = list(reversed(wanted))
        end = time.monotonic() + budget_s
        while waiting or self.busy:
            if time.monotonic() > end:
                waiting.clear()
            while waiting and self.free:
                fault = waiting.pop()
                if not self._begin(fault, self.seen.by(fault)):
                    yield fault, "no test sees it"
            for each in list(self.busy):
                became = self._became(each)
                if became is not None:
                    self._end(each)
                    yield each[1], became
            time.sleep(0.02)

    def control(self) -> None:
        """See that nothing fails where nothing is changed; or everything would seem killed."""
        names = sorted(self.seen.seconds, key=self.seen.seconds.__getitem__)[:CONTROL]
        sound = [name for name in names if name not in self.seen.failed]
        nothing = Fault("service/lastvolt_service/__init__.py", 1, 0, 0, "", "control", (1, 1))
        self._begin(nothing, sound)
        while (became := self._became(self.busy[0])) is None:
            time.sleep(0.02)
        self._end(self.busy[0])
        if not became:
            sys.exit(f"Tests fail without a fault:\n{(self.free[-1][1] / 'output').read_text()}")

    def _begin(self, fault: Fault, names: list[str]) -> bool:
        if not names:
            return False
        copy, place = self.free.pop()
        file = copy / fault.path
        text = file.read_text("utf-8")
        file.write_text(fault.applied(text), "utf-8")
        # Compiled files are known by whole seconds: an older one must not pass for the fault.
        later = time.time() + 10
        os.utime(file, (later, later))
        paths = list(dict.fromkeys(name.partition("::")[0] for name in names))
        watch = Watch(place, names)
        child = Child(copy, place, lambda: run_tests(copy, paths, watch, stop=True), self.ceiling_s)
        self.busy.append((child, fault, text, len(names)))
        return True

    def _became(self, each: tuple[Child, Fault, str, int]) -> str | None:
        child, _, _, count = each
        code = child.ended()
        if code is None:
            if child.hangs(self.seen.seconds):
                child.kill()
                return ""
            if not child.is_late():
                return None
            child.kill()
            return f"none of the tests that had time of {count} fails within {self.ceiling_s:g} s"
        if code == PASSED:
            return f"none of {count} tests fails"
        if code == NO_TESTS:
            return f"none of {count} tests is collected"
        if code not in KILLED:
            sys.exit(f"Ended with {code}:\n{(child.folder / 'output').read_text()[-3000:]}")
        return ""

    def _end(self, each: tuple[Child, Fault, str, int]) -> None:
        child, fault, text, _ = each
        (child.copy / fault.path).write_text(text, "utf-8")
        shutil.copystat(ROOT / fault.path, child.copy / fault.path)
        self.busy.remove(each)
        self.free.append((child.copy, child.folder))


def mapped(options: argparse.Namespace, folder: Path) -> Seen:
    """Know which test sees what: from a file, or from a run of all tests."""
    if options.map and options.map.exists():
        return Seen(options.map, ROOT)
    place = folder / "map"
    place.mkdir()
    copy = copied(ROOT, place / "tree")

    def work() -> int:
        map_tests(copy, place)
        return 0

    child = Child(copy, place, work, MAP_CEILING_S)
    while (code := child.ended()) is None:
        if child.is_late():
            child.kill()
            break
        time.sleep(0.2)
    if code != 0:
        sys.exit(f"The tests could not be run:\n{(place / 'output').read_text()[-3000:]}")
    if options.map:
        shutil.copy(place / "map.json", options.map)
    return Seen(place / "map.json", ROOT)


def main(given: list[str] | None = None) -> int:
    options = arguments(given)
    wanted, known = drawn(options), explained()
    survivors = []
    begun = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="faults-") as scratch:
        folder = Path(scratch).resolve()
        seen = mapped(options, folder)
        if seen.failed:
            print("fail without a fault, and are left out:", *seen.failed, sep="\n  ")
        print(f"{len(seen.seconds)} tests mapped in {time.monotonic() - begun:.0f} s", flush=True)
        preload(seen.modules)
        tried = killed = 0
        trials = Trials(seen, folder, options.jobs, options.ceiling)
        trials.control()
        for fault, became in trials.all(wanted, options.budget):
            tried += 1
            killed += not became
            if became:
                before, after = fault.told((ROOT / fault.path).read_text("utf-8"))
                reason = known.get((fault.path, before, after), known.get((fault.path, before, "")))
                reason = reason or unheld(ROOT / fault.path, fault.line) or None
                print(f"{fault.path}:{fault.line} {fault.kind}: {became}")
                print(f"    - {before}\n    + {after}")
                print(f"    {reason or 'UNEXPLAINED'}", flush=True)
                survivors.append(reason)
    left = survivors.count(None)
    print(
        f"{tried} of {len(wanted)} faults tried in {time.monotonic() - begun:.0f} s: {killed} "
        f"killed, {len(survivors) - left} explained, {left} unexplained"
    )
    return FAILED if left or seen.failed else PASSED


if __name__ == "__main__":
    sys.exit(main())
