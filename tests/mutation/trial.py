"""Runs of the tests in a copy of the tree, each in a process of its own that forks from this one.

What tests import from others is imported here once; what is ours, in the copy, by each process.
"""

import ctypes
import importlib
import json
import os
import resource
import shutil
import signal
import sys
import time
import traceback
import warnings
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import _lru_cache_wrapper
from pathlib import Path
from typing import Any

# Tests that judge numbers and words. Not among them those that hold answers against the committed
# document: it carries what the code once answered, and is no oracle.
TESTS = (
    "physics", "reference", "tables", "units", "words", "operations", "explain", "schemas",
    "reports", "batch", "trade", "api/test_work.py",
)  # fmt: skip
LEFT_OUT = {".git", ".venv", "__pycache__", ".hypothesis", "node_modules"}
MEMORY_BYTES = 3 * 1024**3
# What a process ends with, beside the codes of pytest.
PASSED, FAILED, NO_COLLECTION, NO_TESTS, NO_IMPORT, BROKEN = 0, 1, 2, 5, 70, 71
# A test that takes so long hangs; of its usual time, and at least.
HANGS_TIMES, HANGS_S = 20.0, 20.0
CHILDREN_DIE_WITH_US = 1  # PR_SET_PDEATHSIG of prctl


def copied(root: Path, to: Path) -> Path:
    """Copy the tree, so that no fault ever stands in it."""
    shutil.copytree(
        root, to, ignore=lambda _folder, names: {n for n in names if n in LEFT_OUT or n[0] == "."}
    )
    return to


class Watch:
    """A plugin: which tests run, in which order, and how far it is."""

    def __init__(self, folder: Path, wanted: Iterable[str] | None = None) -> None:
        self.progress = folder / "progress"
        self.order = None if wanted is None else {name: i for i, name in enumerate(wanted)}
        self.failed: list[str] = []
        self.seconds: dict[str, float] = {}

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        if self.order is not None:
            order = self.order
            items[:] = sorted(
                (item for item in items if item.nodeid in order), key=lambda i: order[i.nodeid]
            )

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.progress.write_text(nodeid)

    def pytest_runtest_logreport(self, report: Any) -> None:
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration
        if report.failed:
            self.failed.append(report.nodeid)


class Map(Watch):
    """The same, and which lines each test runs."""

    def __init__(self, folder: Path, tracer: Any) -> None:
        super().__init__(folder)
        self.tracer = tracer

    def pytest_runtest_setup(self, item: Any) -> None:
        # What is remembered between tests would be seen by the first of them only.
        for name, module in list(sys.modules.items()):
            if name.startswith("lastvolt_service"):
                for each in vars(module).values():
                    if type(each) is _lru_cache_wrapper:
                        each.cache_clear()
        self.tracer.switch_context(item.nodeid)

    def pytest_runtest_teardown(self) -> None:
        self.tracer.switch_context("")


def run_tests(copy: Path, paths: list[str], watch: Watch, *, stop: bool) -> int:
    """Run pytest in this process."""
    import pytest
    from hypothesis import HealthCheck, Phase, settings

    # What fails is enough; a smaller example of it is of no use here.
    quick = settings(
        derandomize=True, database=None, deadline=None, phases=(Phase.explicit, Phase.generate),
        suppress_health_check=[HealthCheck.too_slow],
    )  # fmt: skip
    settings.register_profile("faults", quick)
    options = ["-q", "--tb=line", "--hypothesis-profile=faults", "-p", "no:cacheprovider"]
    options += ["-p", "no:xdist", "--rootdir", str(copy), "-c", str(copy / "pyproject.toml")]
    # What was imported before the fork cannot be rewritten, and need not.
    options += ["-W", "ignore::pytest.PytestAssertRewriteWarning", *(["-x"] if stop else [])]
    return int(pytest.main([*options, *paths], plugins=[watch]))


def map_tests(copy: Path, folder: Path) -> None:
    """Run all tests once, and write down what each takes, and which lines it runs."""
    import coverage

    service = str(copy / "service" / "lastvolt_service")
    tracer = coverage.Coverage(data_file=None, source=[service], config_file=False)
    tracer.start()
    watch = Map(folder, tracer)
    tests = [f"tests/{name}" for name in TESTS if (copy / "tests" / name).exists()]
    run_tests(copy, tests, watch, stop=False)
    tracer.stop()
    data = tracer.get_data()
    seen = {
        str(Path(file).relative_to(copy)): {
            str(line): [name for name in names if name]
            for line, names in data.contexts_by_lineno(file).items()
        }
        for file in data.measured_files()
    }
    others = sorted(
        {name for name in sys.modules if not name.startswith(("lastvolt", "tests", "__main__"))}
    )
    found = {"seen": seen, "seconds": watch.seconds, "failed": watch.failed, "modules": others}
    (folder / "map.json").write_text(json.dumps(found))


def preload(modules: Iterable[str]) -> None:
    """Import what tests import from others."""
    for name in modules:
        with suppress(Exception), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            importlib.import_module(name)


class Child:
    """A forked process at work in a copy, and the clock on it."""

    def __init__(self, copy: Path, folder: Path, work: Callable[[], int], ceiling_s: float) -> None:
        self.copy, self.folder, self.ends_at = copy, folder, time.monotonic() + ceiling_s
        self.progress = folder / "progress"
        self.progress.unlink(missing_ok=True)
        self.pid = os.fork()
        if self.pid == 0:
            self._work(work)

    def _work(self, work: Callable[[], int]) -> None:
        code = BROKEN
        try:
            os.setpgid(0, 0)
            ctypes.CDLL(None).prctl(CHILDREN_DIE_WITH_US, signal.SIGKILL)
            resource.setrlimit(resource.RLIMIT_DATA, (MEMORY_BYTES, MEMORY_BYTES))
            with (self.folder / "output").open("w") as output:
                os.dup2(output.fileno(), 1)
                os.dup2(output.fileno(), 2)
            sys.dont_write_bytecode = True
            os.chdir(self.copy)
            ours = [str(self.copy / name) for name in ("service", "sdk", "")]
            sys.path[:] = [*ours, *(path for path in sys.path if path)]
            os.environ["PYTHONPATH"] = os.pathsep.join(ours[:2])
            code = NO_IMPORT
            from lastvolt_service import app

            assert str(app.__file__).startswith(str(self.copy))
            code = work()
        except BaseException:
            traceback.print_exc()
        finally:
            sys.stdout.flush()
            os._exit(code)

    def ended(self) -> int | None:
        """The exit code, or None while it is at work."""
        pid, status = os.waitpid(self.pid, os.WNOHANG)
        if not pid:
            return None
        self._end_all()
        return os.waitstatus_to_exitcode(status)

    def kill(self) -> None:
        self._end_all()
        os.waitpid(self.pid, 0)

    def _end_all(self) -> None:
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self.pid, signal.SIGKILL)

    def is_late(self) -> bool:
        return time.monotonic() > self.ends_at

    def hangs(self, usual_s: Mapping[str, float]) -> bool:
        """Whether one test takes many times as long as it did without the fault."""
        try:
            name, since = self.progress.read_text(), self.progress.stat().st_mtime
        except FileNotFoundError:
            return False
        return time.time() - since > max(HANGS_S, HANGS_TIMES * usual_s.get(name, 0.0))
