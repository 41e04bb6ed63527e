"""The command as its users call it: what it prints, and the status it ends with."""

import json
import os
import pty
import socket
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from lastvolt import embedded
from lastvolt.cli.commands import lastvolt

DROP: dict[str, Any] = {
    "supply_v": 12.2,
    "load_current_a": 10,
    "segments": [{"kind": "resistance", "name": "feed [bold]", "resistance_ohm": 0.02}],
}


@pytest.fixture(autouse=True)
def fresh_application() -> None:
    embedded.application.cache_clear()


def run(*arguments: str) -> Result:
    return CliRunner().invoke(lastvolt, arguments, env={"COLUMNS": "120", "LASTVOLT_URL": None})


def request_file(folder: Path, content: object) -> str:
    file = folder / "request.json"
    file.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return str(file)


def ask(folder: Path, *options: str, operation: str = "voltage-drop", **changes: Any) -> Result:
    content = {"operation": operation, "request": {**DROP, **changes}}
    return run("check", request_file(folder, content), *options)


def test_demo_without_a_service_says_how_to_get_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.metadata.entry_points", lambda **_: ())
    result = run("demo")
    assert result.exit_code == 2
    assert "pip install 'lastvolt[service]'" in result.stderr


def test_a_passed_check_ends_with_0(tmp_path: Path) -> None:
    result = ask(tmp_path)
    assert result.exit_code == 0
    assert result.output.startswith("Passes: 12 V of 12.2 V reach the load at 10 A")
    assert "feed [bold]" in result.output  # a name is text, and no markup


def test_a_failed_check_ends_with_1(tmp_path: Path) -> None:
    result = ask(tmp_path, limit_drop_v=0.1)
    assert result.exit_code == 1
    assert result.output.startswith("Fails: ")


@pytest.mark.parametrize(
    ("form", "starts"), [("md", b"**Passes:** "), ("svg", b"<svg "), ("png", b"\x89PNG")]
)
def test_an_answer_has_the_forms_of_the_reports(tmp_path: Path, form: str, starts: bytes) -> None:
    result = ask(tmp_path, "--as", form)
    assert result.exit_code == 0
    assert result.stdout_bytes.startswith(starts)


def in_a_terminal(*arguments: str, columns: int) -> tuple[int, str]:
    """Run the command as in a terminal of this width."""
    ours, theirs = pty.openpty()
    command = [str(Path(sys.executable).with_name("lastvolt")), *arguments]
    env = {**os.environ, "COLUMNS": str(columns)}
    with subprocess.Popen(command, stdout=theirs, stderr=theirs, env=env) as running:
        os.close(theirs)
        text = b""
        with suppress(OSError):  # its end
            while more := os.read(ours, 4096):
                text += more
        os.close(ours)
        return running.wait(60), text.decode().replace("\r\n", "\n")


def test_in_a_terminal_words_are_broken_where_they_fit(tmp_path: Path) -> None:
    file = request_file(tmp_path, {"operation": "voltage-drop", "request": DROP})
    status, text = in_a_terminal("check", file, columns=60)
    assert status == 0
    assert max(map(len, text.splitlines())) <= 60
    piped = run("check", file).output  # is posted: who reads it breaks it
    assert text.split() == piped.split()
    assert max(map(len, piped.splitlines())) > 60


def test_a_terminal_is_not_sent_pixels(tmp_path: Path) -> None:
    file = request_file(tmp_path, {"operation": "voltage-drop", "request": DROP})
    status, text = in_a_terminal("check", file, "--as", "png", columns=80)
    assert status == 2
    assert text == "A terminal cannot show this: --as png > FILE\n"


def test_a_form_that_an_answer_does_not_have_is_named(tmp_path: Path) -> None:
    result = ask(tmp_path, "--as", "html")
    assert result.exit_code == 2
    assert result.stderr == "There is no html of voltage-drop: --as json has all of it.\n"


def test_json_is_the_raw_answer(tmp_path: Path) -> None:
    result = ask(tmp_path, "--as", "json")
    assert result.exit_code == 0
    answer = json.loads(result.output)
    assert answer["drop_v"] == pytest.approx(0.2, rel=1e-12)
    assert answer["computed_by"].keys() == {"service", "tables"}


def test_refused_input_ends_with_2_and_names_the_field(tmp_path: Path) -> None:
    result = ask(tmp_path, supply_v=-1)
    assert result.exit_code == 2
    assert "#/supply_v" in result.stderr
    assert result.stderr.count("This must be from") == 1  # each is told once
    assert result.stdout == ""


def test_each_of_several_faults_is_told_once(tmp_path: Path) -> None:
    result = ask(tmp_path, supply_v=-1, segments=[])
    assert result.exit_code == 2
    first, *fields = result.stderr.splitlines()
    assert first.endswith("422 The request does not fit its schema")
    assert [line.split(":")[0].strip() for line in fields] == ["#/supply_v", "#/segments"]


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig"])
def test_a_request_comes_from_standard_input(tmp_path: Path, coding: str) -> None:
    content = json.dumps({"operation": "voltage-drop", "request": DROP}).encode(coding)
    result = CliRunner().invoke(lastvolt, ["check", "-"], input=content, env={"LASTVOLT_URL": None})
    assert result.exit_code == 0
    assert result.output == ask(tmp_path).output


def test_text_in_another_coding_is_told(tmp_path: Path) -> None:
    file = tmp_path / "request.json"
    file.write_text(json.dumps({"operation": "voltage-drop", "request": DROP}), encoding="utf-16")
    result = run("check", str(file))
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"{file}: this is not UTF-8 text: save it as such.\n"


def into(target: str | int, folder: Path) -> tuple[int, str]:
    """Ask in a process whose standard output goes there; status and standard error."""
    file = request_file(folder, {"operation": "voltage-drop", "request": DROP})
    code = "from lastvolt.cli import main; main()"
    command = [sys.executable, "-c", code, "check", file]
    out = os.open(target, os.O_WRONLY) if isinstance(target, str) else target
    try:
        done = subprocess.run(
            command, stdout=out, stderr=subprocess.PIPE, text=True, check=False, timeout=120
        )
    finally:
        os.close(out)
    return done.returncode, done.stderr


def test_an_answer_that_cannot_be_written_is_no_failed_check(tmp_path: Path) -> None:
    assert into("/dev/full", tmp_path) == (
        2,
        "The answer could not be written: No space left on device\n",
    )


def test_a_pipe_that_is_closed_is_no_failed_check(tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    assert into(writing, tmp_path) == (2, "")


@pytest.mark.parametrize(
    "content",
    [
        pytest.param("{", id="no JSON"),
        pytest.param("[]", id="no object"),
        pytest.param({"operation": "voltage-drop"}, id="no request"),
        pytest.param({"operation": 1, "request": {}}, id="operation that is no text"),
        pytest.param({"operation": "voltage-drop", "request": []}, id="request that is no object"),
        pytest.param({"operation": "x", "request": {}, "more": 1}, id="one field too many"),
    ],
)
def test_a_file_of_another_shape_ends_with_2(tmp_path: Path, content: object) -> None:
    result = run("check", request_file(tmp_path, content))
    assert result.exit_code == 2
    assert "request.json" in result.stderr


def test_an_unknown_operation_ends_with_2(tmp_path: Path) -> None:
    result = ask(tmp_path, operation="no-such-thing")
    assert result.exit_code == 2
    assert "404" in result.stderr


def test_a_server_that_is_not_there_ends_with_2(tmp_path: Path) -> None:
    result = ask(tmp_path, "--url", "ftp://nowhere")
    assert result.exit_code == 2
    assert "http://" in result.stderr


def test_why_no_connection_came_about_is_told_in_words(tmp_path: Path) -> None:
    with socket.socket() as unheard:
        unheard.bind(("127.0.0.1", 0))  # and does not listen
        url = f"http://127.0.0.1:{unheard.getsockname()[1]}"
        result = ask(tmp_path, "--url", url)
    assert result.exit_code == 2
    assert f"No answer from {url}/v1/voltage-drop: Failed to establish" in result.stderr
    assert "HTTPConnection" not in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_version_is_that_of_the_package() -> None:
    from importlib.metadata import version

    assert version("lastvolt") in run("--version").output


def test_a_quick_answer_needs_no_file() -> None:
    asked = ["quick-answer", "--system-v", "12", "--load", "headlamps", "--distance-m"]
    found = run(*asked, "5")
    assert found.exit_code == 0
    assert found.output.startswith("Find out first: ")
    assert "across lamp switch" in found.output
    in_feet = json.loads(run(*asked, "15 ft", "--no-switch-to-be-had", "--as", "json").output)
    wires = [each for each in in_feet["request"]["circuit"]["branches"] if "size" in each]
    assert wires[0]["length_m"] == pytest.approx(0.5 * 15 * 0.3048, rel=1e-3)
    assert in_feet["request"]["not_to_be_had"] == ["lamp switch"]


def test_each_flag_of_a_quick_answer_says_what_it_is() -> None:
    told = run("quick-answer", "--help").output
    for flag in ("--system-v [6|12|24]", "--wear [new|used|old|very_old]", "[required]", "[m]"):
        assert flag in told
    assert "`" not in told  # marks of a docstring


@pytest.mark.parametrize(
    "more", [["--wear", "ancient"], ["--load", "radio"], ["--distance-m", "0"]]
)
def test_a_quick_answer_refuses_what_it_does_not_know(more: list[str]) -> None:
    found = run("quick-answer", "--system-v", "12", "--current-a", "3", "--distance-m", "5", *more)
    assert found.exit_code == 2
    assert more[1] in found.output or "distance_m" in found.output
