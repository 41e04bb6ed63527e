"""The forum bot's handler: text in, posted answer out."""

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest

from lastvolt import EMBEDDED, Client

QUESTION = "supply = 12.2 V; load = 8 A; size = 12 AWG; length = 15 ft; return = body"
EVIL = "@everyone [x](https://example.org) <b> `1`"


@pytest.fixture(scope="session")
def bot(example: Callable[[str], ModuleType]) -> ModuleType:
    return example("bot")


@pytest.fixture
def client() -> Iterator[Client]:
    with Client(EMBEDDED) as found:
        yield found


def wire(name: str, **fields: float) -> dict[str, object]:
    return {"kind": "wire", "name": name, "size": "12 AWG", "length_m": 4.572, **fields}


@pytest.mark.parametrize(
    ("message", "segments"),
    [
        (QUESTION, [wire("wire out")]),
        (QUESTION.replace("body", "wire"), [wire("wire out"), wire("wire back")]),
        (QUESTION.replace("; ", "\n").replace(" ", "").replace("AWG", " AWG"), [wire("wire out")]),
        (f"{QUESTION}; temperature = 140 degF", [wire("wire out", temperature_c=60)]),
    ],
)
def test_a_question_is_answered(
    bot: ModuleType, client: Client, message: str, segments: list[dict[str, object]]
) -> None:
    asked = {"supply_v": 12.2, "load_current_a": 8, "segments": segments}
    answer = bot.answer(message, client)
    assert answer == client.report("voltage-drop", asked)
    # What a wire bears at 60 degC, 140 degF, nobody knows without its insulation.
    hot = "temperature" in message
    assert answer.startswith("**Passes as far as it was judged:**" if hot else "**Passes:**")


@pytest.mark.parametrize(
    ("message", "why"),
    [
        ("", "Missing: supply, load, size, length, return."),
        (EVIL, "Each part is a known key"),
        (f"{EVIL} = 1 V", "Each part is a known key"),
        (f"{QUESTION}; temperature = {EVIL}", "temperature is a number and one of these units"),
        (QUESTION.replace("12 AWG", EVIL), "size: it is in no table"),
        (QUESTION.replace("12 AWG", "99 AWG"), "size: it is in no table"),
        (QUESTION.replace("body", EVIL), "return is one of: wire, body."),
        (QUESTION.replace("15 ft", "15"), "length is a number and one of these units: m, mm"),
        (QUESTION.replace("15 ft", "nan ft"), "length is a number and one of these units: m, mm"),
        (QUESTION.replace("15 ft", "9000 ft"), "length: This must be from 0 to 1000 m."),
        (f"{QUESTION}; load = 2 A", "load is there twice."),
        (QUESTION * 10, "That is too long."),
        # 30 m out of 40 AWG carry nothing like that.
        (QUESTION.replace("12 AWG", "40 AWG").replace("15 ft", "30 m"), "operating point"),
    ],
)
def test_anything_else_is_told_how_to_ask(
    bot: ModuleType, client: Client, message: str, why: str
) -> None:
    answer = bot.answer(message, client)
    assert why in answer
    assert answer.endswith(bot.HOW_TO_ASK)
    assert "everyone" not in answer
    assert "example.org" not in answer


def test_a_service_that_is_away_is_no_crash(bot: ModuleType) -> None:
    with Client("http://127.0.0.1:9", retries=0) as client:  # the port of the discard service
        assert bot.answer(QUESTION, client).startswith("The service does not answer")


def test_it_runs_as_a_command(bot: ModuleType, client: Client) -> None:
    done = subprocess.run(
        [sys.executable, str(Path(bot.__file__ or ""))], input=QUESTION,
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.strip() == bot.answer(QUESTION, client).strip()
