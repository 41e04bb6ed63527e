"""The demo: short, whole at any width, and nothing in it that the operations do not answer."""

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner

from lastvolt import EMBEDDED, Client
from lastvolt.cli import coach
from lastvolt.cli.commands import lastvolt
from lastvolt.cli.demo import named, tell
from lastvolt.display import number

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "sdk" / "examples" / "will-it-start-hot.json"
DATA = coach.coach()


class Once:
    """A client that asks each question once: the widths of a screen change no answer."""

    def __init__(self, client: Client) -> None:
        self._client = client
        self._known: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        def ask(*given: Any, **named_: Any) -> Any:
            key = json.dumps([name, given, named_], sort_keys=True)
            if key not in self._known:
                self._known[key] = getattr(self._client, name)(*given, **named_)
            return self._known[key]

        return ask


@pytest.fixture(scope="module")
def client() -> Iterator[Any]:
    with Client(EMBEDDED) as found:
        yield Once(found)


def told(client: Any, columns: int = 80, *, whole: bool = False) -> str:
    return click.unstyle("\n".join(tell(client, columns, whole=whole))) + "\n"


@pytest.fixture(scope="module")
def short(client: Any) -> str:
    return told(client)


@pytest.fixture(scope="module")
def fit(client: Any) -> Any:
    return client.circuit_fit(**coach.fit_of(DATA))


@pytest.fixture(scope="module")
def choice(client: Any, fit: Any) -> Any:
    return client.remedy_choice(**coach.choice_of(DATA, fit.fitted.circuit))


@pytest.fixture(scope="module")
def proof(client: Any, choice: Any) -> Any:
    return client.gain_proof(**coach.proof_of(DATA, list(choice.chosen.parts)))


def flowing(text: str) -> str:
    """A text without the ends of its lines."""
    return " ".join(text.split())


def row(text: str, *cells: str) -> None:
    """The text has a line of these cells and no others."""
    assert cells in [tuple(re.split(r"\s{2,}", line)) for line in text.splitlines()], cells


def test_it_is_forty_lines_of_eighty_columns(short: str) -> None:
    lines = short.splitlines()
    assert len(lines) <= 40
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize("columns", [60, 80, 120])
def test_nothing_is_cut_off_at_any_width(columns: int, client: Any, short: str) -> None:
    text = told(client, columns)
    lines = text.splitlines()
    assert max(map(len, lines)) <= columns
    assert all(line == line.rstrip() for line in lines)
    assert "…" not in text
    assert "\u00a0" not in text
    # The same words and numbers, whatever stands beside and under each other.
    assert sorted(text.split()) == sorted(short.split())
    for line in lines:  # no unit without its number
        assert not re.match(r"\s*(V|A|Ω|m|°C)\b", line)


def test_the_verdict_stands_first_and_is_that_of_the_service(short: str, choice: Any) -> None:
    title, *_ = short.splitlines()
    assert title.startswith(DATA["place"])
    assert "invented" in title
    assert flowing(short.removeprefix(title)).startswith(choice.headline)
    assert choice.advice == "mend_then_relay"


def test_the_plan_has_the_volts_of_each_step(short: str, choice: Any) -> None:
    arrive, done = choice.options[0].load_voltage_v, ("clean, tighten or replace", "fit")
    for place, (verb, step) in enumerate(zip(done, choice.plan, strict=True), 1):
        arrive += step.brings_v
        does = f"{place}. {verb} {step.part}"
        row(short, does, f"{step.brings_v:+.2f} V", f"{arrive:.2f} V")


def test_the_ways_are_those_of_the_service(short: str, choice: Any) -> None:
    shown = [each for each in choice.options if each.name or each.is_advised]
    assert {each.name for each in shown} >= {each["name"] for each in DATA["ways"]}
    for each in (choice.options[0], *shown):
        enough = "advised" if each.is_advised else "yes" if each.works else "no"
        row(
            short, named(each), f"{each.load_voltage_v:.2f} V", f"{each.margin_v:+.2f} V",
            f"{each.switch_current_a:.1f} A", enough,
        )  # fmt: skip
    assert "new key switch (not to be had)" in short
    decides = next(each for each in choice.reasons if each.code == "mend_leaves_little")
    assert decides.message in flowing(short)


def test_each_reading_stands_beside_what_it_tells(short: str, fit: Any) -> None:
    assert fit.agreement == "agrees"
    found = {each.name: each for each in fit.estimates}
    for part, (reading, unit) in {
        "resistance of key switch": ("1.07 V", "Ω"),
        "resistance of engine strap": ("0.329 V", "Ω"),
        "length of key switch to the rear": ("1.217 V", "m"),
        "open circuit voltage of source": ("12.59 V", "V"),
        "pull in resistance of starter solenoid": ("20.4 A", "Ω"),
    }.items():
        low, high = (number(end, found[part].unit) for end in (found[part].low, found[part].high))
        row(short, part, reading, f"{low.removesuffix(f' {unit}')} to {high}")
    # By hand: what the switch drops over what flows, within 2 % and 5 digits of the clamp.
    assert found["resistance of key switch"].estimate == pytest.approx(1.07 / 20.4, rel=0.03)
    assert found["resistance of engine strap"].estimate == pytest.approx(0.329 / 20.4, rel=0.03)
    for reading in DATA["before"]:
        value = reading.get("value_v", reading.get("value_a"))
        assert f" {value:g} " in short.replace("\n", " \n")


def test_the_proof_is_that_of_the_service(short: str, proof: Any) -> None:
    assert proof.proof == "proven"
    assert proof.headline in flowing(short)
    gain = proof.gain
    for each in (gain.before_v, gain.after_v, proof.promise.load_voltage_v):
        assert number(each, "V") in short.partition("Proven")[2]


@pytest.mark.parametrize("columns", [60, 80])
def test_all_of_it_is_whole(columns: int, client: Any, choice: Any) -> None:
    text = told(client, columns, whole=True)
    assert max(map(len, text.splitlines())) <= columns
    assert all(line == line.rstrip() for line in text.splitlines())
    flow = flowing(text)
    for each in choice.options:
        assert f"- {named(each)}: " in flow
        assert all(against in flow for against in each.against)
    for said in (*choice.reasons, *choice.new_risks):
        assert said.message in flow
    sheet = client.work_sheet(**coach.sheet_of(DATA))
    assert sheet.sheet == "ready"
    assert all(f"{task.number}. {task.text}" in flow for task in sheet.order)
    plan = client.meter_plan(**coach.plan_of(DATA))
    assert all(f"{each.number}. " in flow and each.text in flow for each in plan.readings)
    start = client.start_sequence(**coach.start_of(DATA))
    assert start.headline in flow
    assert {each.name: each.outcome for each in start.cases} == {
        "frosty morning": "starts", "hot restart": "hums",
    }  # fmt: skip
    checked = client.circuit_check(
        circuit=client.circuit_fit(**coach.fit_of(DATA)).fitted.circuit, cases=DATA["cases"]
    )
    assert all(f"- {each.verdict}: {each.message}" in flow for each in checked.checks)
    assert all(each in flow for each in choice.cautions)
    before = client.remedy_choice(**coach.choice_of(DATA, coach.not_measured(DATA)))
    assert before.advice == "find_out_first"
    assert before.headline in flow


def test_the_readings_are_such_as_its_meters_show() -> None:
    """2,000 counts of 0.1 mV and 10 mA at the finest; each range is ten times the one before."""
    for reading in (*DATA["before"], *DATA["after"]):
        value, finest = reading.get("value_v"), 1e-4
        if value is None:
            value, finest = reading["value_a"], 1e-2
        ranges = math.ceil(math.log10(value / (2000 * finest)))
        step = finest * 10 ** max(0, ranges)
        assert value / step == pytest.approx(round(value / step), abs=1e-6), reading


def test_the_circuit_as_it_was_found_is_within_what_the_readings_tell(fit: Any) -> None:
    circuit = DATA["circuit"]
    parts = {each["name"]: each for each in circuit["branches"]}
    solenoid = circuit["loads"][0]["windings"]
    by_input = {each.input: each for each in fit.estimates}
    assert len(by_input) == sum(map(len, DATA["not_known"].values()))
    for path, each in by_input.items():
        *_, group, place, field = ("", *path.split("/"))
        if group == "circuit":
            value = circuit["source"][field]
        elif group == "branches":
            value = parts[circuit["branches"][int(place)]["name"]][field]
        else:
            value = solenoid[field]
        assert each.low <= value <= each.high, path


def test_the_question_of_the_readme_is_that_of_the_demo() -> None:
    question = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    assert question == {
        "operation": "remedy-choice", "request": coach.choice_of(DATA, DATA["circuit"])
    }  # fmt: skip


def test_the_picture_of_the_readme_is_current(client: Any) -> None:
    asked = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    drawn = client.report(asked["operation"], asked["request"], form="svg")
    assert drawn == EXAMPLE.with_suffix(".svg").read_text(encoding="utf-8")


def test_the_readme_shows_what_the_demo_says(short: str, proof: Any) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.search(r"```text\n(.*?)```", readme, re.DOTALL)
    assert shown is not None
    assert shown[1] in short
    assert len(shown[1].splitlines()) > 10
    before, after = (number(each, "V") for each in (proof.gain.before_v, proof.gain.after_v))
    assert f"{before} before, {after} after." in readme


@pytest.mark.parametrize("flags", [(), ("--all",)])
def test_the_command_is_as_wide_as_the_screen_and_not_wider_than_reads_well(
    flags: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    def heard(_: Client, width: int, *, whole: bool) -> Iterator[str]:
        yield click.style(f"{width} {whole}", bold=True)  # which none sees who is no terminal

    monkeypatch.setattr("lastvolt.cli.demo.tell", heard)
    for columns, width in ((60, 60), (300, 100)):
        found = CliRunner().invoke(lastvolt, ["demo", *flags], env={"COLUMNS": str(columns)})
        assert found.output == f"{width} {bool(flags)}\n"
