"""Starting: what is wrong is said in one line; what ``lastvolt serve`` is told is a setting."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest
import requests

from lastvolt_service.app import create_app
from lastvolt_service.config import or_exit

from .conftest import free_port, until

SERVE = (str(Path(sys.executable).with_name("lastvolt")), "serve")
GUNICORN = (sys.executable, "-m", "gunicorn", "--config", "python:lastvolt_service.gunicorn_conf")
CLEAN = {
    name: value
    for name, value in os.environ.items()
    if not name.startswith("LASTVOLT_") and not name.lower().endswith("_proxy")
}
PATIENCE_S = 30

KEYS = {
    "missing": None,
    "a folder": None,
    "unreadable": None,
    "empty": b"",
    "not TOML": b"keys = [",
    "not text": b"\xff\xfe",
    "no tables": b"keys = 3",
    "wrong types": b"[[keys]]\nname = 3\nsha256 = []",
    "no key": b"[[key]]\n",
    "wrong rate": b'[[keys]]\nname = "a"\nsha256 = "%s"\nrate = 3' % (b"a" * 64),
    "wrong paths": b'[[keys]]\nname = "a"\nsha256 = "%s"\npaths = [3]' % (b"a" * 64),
}


def start(command: tuple[str, ...], **settings: str) -> subprocess.CompletedProcess[str]:
    """Start what is to end by itself."""
    environment = CLEAN | {"LASTVOLT_BIND": f"127.0.0.1:{free_port()}"} | settings
    return subprocess.run(
        command, env=environment, capture_output=True, text=True, timeout=PATIENCE_S, check=False
    )


def assert_refused(found: subprocess.CompletedProcess[str], *words: str) -> None:
    """One line for a person, and no traceback."""
    assert found.returncode == 1
    assert_one_line(found.stderr, *words)


def assert_one_line(told: str, *words: str) -> None:
    (line,) = told.splitlines()
    assert line.startswith("lastvolt: ")
    for word in words:
        assert word in line


def broken(folder: Path, state: str) -> str:
    """A file of keys in that state."""
    file = folder / "keys.toml"
    content = KEYS[state]
    if state == "a folder":
        file.mkdir()
    elif state == "unreadable":
        file.symlink_to(file)  # root reads the rest
    elif content is not None:
        file.write_bytes(content)
    return str(file)


@pytest.mark.parametrize("state", KEYS)
def test_broken_keys_end_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, state: str
) -> None:
    """As `wsgi` makes the application: what reaches the terminal is what ends the program."""
    file = broken(tmp_path, state)
    monkeypatch.setenv("LASTVOLT_API_KEYS_FILE", file)
    with pytest.raises(SystemExit) as ended:
        or_exit(create_app)
    assert_one_line(str(ended.value), file)


@pytest.mark.parametrize("command", [SERVE, GUNICORN], ids=["serve", "gunicorn"])
@pytest.mark.parametrize("state", ["a folder", "not TOML"])
def test_broken_keys_end_the_program(tmp_path: Path, command: tuple[str, ...], state: str) -> None:
    file = broken(tmp_path, state)
    assert_refused(start(command, LASTVOLT_API_KEYS_FILE=file), file)


@pytest.mark.parametrize("command", [SERVE, GUNICORN], ids=["serve", "gunicorn"])
@pytest.mark.parametrize(
    ("name", "text", "word"),
    [
        ("LASTVOLT_WORKERS", "100000", "from 1 to 64"),
        ("LASTVOLT_WORKER", "1", "did you mean LASTVOLT_WORKERS?"),
        ("LASTVOLT_RATE_STORAGE", "redis:hunter2", "LASTVOLT_RATE_STORAGE must be"),
    ],
)
def test_a_wrong_setting_ends_in_one_line(
    command: tuple[str, ...], name: str, text: str, word: str
) -> None:
    found = start(command, **{name: text})
    assert_refused(found, word)
    assert "hunter2" not in found.stderr + found.stdout


@pytest.mark.parametrize(
    "options", [("--workers", "65"), ("--workers", "0"), ("--bind", "8752"), ("--workers", "two")]
)
def test_a_wrong_option_of_serve_ends_in_one_line(options: tuple[str, ...]) -> None:
    assert_refused(start((*SERVE, *options)), options[1], options[0][2:].upper())


@pytest.fixture
def lines(tmp_path: Path) -> Iterator[Callable[..., list[Mapping[str, str]]]]:
    """Start ``lastvolt serve``, wait until it answers, and read its log."""
    running = []

    def serve(address: str, *options: str, **settings: str) -> list[Mapping[str, str]]:
        log = tmp_path / "log"
        with log.open("wb") as stream:
            process = subprocess.Popen(
                (*SERVE, *options), env=CLEAN | settings, stdout=stream, stderr=stream
            )
        running.append(process)

        def answers() -> bool:
            assert process.poll() is None, log.read_text()
            try:
                return requests.get(f"http://{address}/livez", timeout=1).status_code == 200
            except requests.RequestException:
                return False

        until(answers, f"{options} answers")
        return [json.loads(line) for line in log.read_text().splitlines()]

    yield serve
    for process in running:
        process.terminate()
        process.wait(PATIENCE_S)


OPEN = "without keys: everyone who reaches it may ask"


def test_serve_warns_of_the_open_address_that_it_is_told(
    lines: Callable[..., list[Mapping[str, str]]],
) -> None:
    port = free_port()
    # All of 127.0.0.0/8 is this machine, and this address is none of those known for it.
    told = lines(f"127.0.0.2:{port}", "--bind", f"127.0.0.2:{port}", "--workers", "1")
    assert [line for line in told if OPEN in line["message"] and str(port) in line["message"]]


def test_serve_does_not_warn_of_loopback(lines: Callable[..., list[Mapping[str, str]]]) -> None:
    address = f"127.0.0.1:{free_port()}"
    told = lines(
        address, "--bind", address, "--workers", "1", LASTVOLT_BIND=f"0.0.0.0:{free_port()}"
    )
    assert not [line for line in told if OPEN in line["message"]]


def test_serve_keeps_the_listener_for_metrics(
    lines: Callable[..., list[Mapping[str, str]]],
) -> None:
    address, metrics = f"127.0.0.1:{free_port()}", f"127.0.0.1:{free_port()}"
    lines(address, "--bind", address, "--workers", "1", LASTVOLT_METRICS=metrics)
    assert "lastvolt" in requests.get(f"http://{metrics}/metrics", timeout=5).text
