"""Sheets in words: whole, numbered as in the answer, and deaf to names from strangers."""

import re
from copy import deepcopy
from typing import Any

import pytest
from flask.testing import FlaskClient
from markdown_it import MarkdownIt
from markdown_it.token import Token

from lastvolt_service.reports.sheet import band
from lastvolt_service.reports.sheet_words import SECTIONS, sheet_words
from lastvolt_service.words import case_name
from lastvolt_service.words.amounts import amount

from .conftest import POSTED, solve
from .test_sheet_page import renamed

SHEET, PLAN = POSTED["work-sheet"].schema.example, POSTED["meter-plan"].schema.example
READ = MarkdownIt("gfm-like", {"html": True}).disable(["linkify", "replacements"])
FIRST = {
    "work-sheet": "Parts to have at hand",
    "meter-plan": "Before the first reading",
    "gain-proof": "What it is of",
}
NASTY = ["<b>x</b> [y](http://www.example.com) @all | `", "# z", "1. z", "- z", "> z", "+ z"]


def written(name: str, body: dict[str, Any], *, markdown: bool = False) -> tuple[str, Any]:
    asked, answer = solve(name, body)
    return sheet_words(name, asked, answer, markdown=markdown).replace("\u200b", ""), answer


def test_the_whole_sheet_is_told() -> None:
    text, answer = written("work-sheet", SHEET)
    for each in (*answer.parts, *answer.order, *answer.readings):
        assert each.text in text
    for each in answer.order:
        assert f"\n{each.number}. {each.text}\n" in text
    for each in answer.wires:
        line = next(one for one in text.splitlines() if one.startswith(f"- {each.name}: "))
        assert each.size in line
        assert each.why in line
        assert (each.colour or "colour ____") in line
        cut = "____" if each.cut_length_m is None else amount(each.cut_length_m, "m", side="up")
        assert f"cut {cut}." in line
    for each in answer.wiring:
        line = next(
            one for one in text.splitlines() if one.startswith(f"{each.number}. {each.from_part}")
        )
        for part, terminal in (
            (each.from_part, each.from_terminal),
            (each.to_part, each.to_terminal),
        ):
            assert f"{part} [{terminal}]" in line if terminal else part in line
        assert each.wire is None or line.endswith(f" by {each.wire}")
    assert "engine block (ring, stud ____ mm)" in text
    assert answer.meter_note in text
    for each in answer.readings:
        for one in each.expected:
            assert f"{case_name(one.case)} " in text
            assert f"{amount(one.with_relay_v, 'V')} with the relay" in text
    assert answer.old_wires[0].name in text


@pytest.mark.parametrize("fuse", [None, "none"])
def test_where_there_is_no_sheet_it_says_why_and_no_more(fuse: str | None) -> None:
    body = deepcopy(SHEET)
    body["proposal"]["feed"].pop(0)
    if fuse:
        body["proposal"]["fuse"] = fuse
    text, answer = written("work-sheet", body)
    assert answer.sheet != "ready"
    assert text.splitlines()[1:] == [
        "Why there is no sheet", *(f"- {each.message}" for each in answer.missing)
    ]  # fmt: skip


@pytest.mark.parametrize("way", [True, False])
def test_the_whole_plan_is_told(way: bool) -> None:
    body = {key: value for key, value in PLAN.items() if way or key != "way"}
    text, answer = written("meter-plan", body)
    lines = text.splitlines()
    for each in (*answer.before, *answer.rounds):
        assert each.text in text
    for each in answer.readings:
        line = next(one for one in lines if one.startswith(f"{each.number}. ") and each.text in one)
        leads = f"Clamp round {each.clamp}" if each.clamp else f"Red {each.red}, black {each.black}"
        assert leads in line
        assert (f"as it is {band(each.as_is, each.unit)}, read ____" in line) == bool(each.as_is)
        assert (f"with start relay {band(each.with_way, each.unit)}" in line) == bool(each.with_way)
        assert line.endswith(f"If more: {each.means_if_more} If less: {each.means_if_less}")
        how = next(one for one in lines if one.endswith(f": {each.how}") and
                   str(each.number) in re.split(r"\D+", one.partition(":")[0]))  # fmt: skip
        assert how
    assert ("start relay" in text) == way
    for each in (answer.jumper.text, answer.jumper.if_it_cranks, answer.jumper.again):
        assert each in text


@pytest.mark.parametrize("name", SECTIONS)
def test_it_is_numbered_as_the_answer_is(name: str) -> None:
    """Markdown counts on from the first number of a list: no line may break one."""
    text, answer = written(name, POSTED[name].schema.example, markdown=True)
    starts = [int(each.attrs.get("start", 1)) for each in READ.parse(text)
              if each.type == "ordered_list_open"]  # fmt: skip
    firsts = {"work-sheet": [1, 1, 1], "meter-plan": [1, 1, 17], "gain-proof": []}
    if name == "meter-plan":
        assert [each.first for each in answer.rounds] == [1, 17]
    assert starts == firsts[name]


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("work-sheet", ["relay to solenoid", "BK/YE", "start relay", "engine block",
                        "wire to the rear", "relay fuse"]),
        ("gain-proof", ["battery post", "key switch", "key held", "shop meter", "firewall",
                        "key in"]),
        ("meter-plan", ["battery post", "key switch", "frosty morning", "engine block",
                        "wire to the rear", "start relay"]),
    ],
)  # fmt: skip
def test_names_from_strangers_are_text_and_nothing_else(name: str, parts: list[str]) -> None:
    body = POSTED[name].schema.example
    plain, _ = written(name, body, markdown=True)
    for part, nasty in zip(parts, NASTY, strict=True):
        body = renamed(deepcopy(body), part, nasty)
    marked, _ = written(name, body, markdown=True)
    assert kinds(marked) == kinds(plain)
    shown = "".join(each.content for each in tokens(marked) if each.type != "inline")
    assert all(nasty in shown for nasty in NASTY)


def tokens(text: str) -> list[Token]:
    return [one for each in READ.parse(text) for one in (each, *(each.children or ()))]


def kinds(text: str) -> list[str]:
    return [each.type for each in tokens(text) if each.type not in {"text", "text_special"}]


def test_it_follows_the_words_of_the_report(client: FlaskClient) -> None:
    for name in SECTIONS:
        for form in ("md", "txt"):
            path = f"/v1/reports/{name}.{form}"
            text = client.post(path, json=POSTED[name].schema.example).text
            words, _, sheet = text.partition("\n\n## " if form == "md" else "\n\n")
            assert words.rstrip().splitlines()[-1].startswith("- Caution: ")
            assert sheet.startswith(FIRST[name])
    without = client.post(
        "/v1/reports/wire-resistance.md", json=POSTED["wire-resistance"].schema.example
    )
    assert "##" not in without.text


def test_what_is_sound_is_shown_as_its_sentence_has_it() -> None:
    answer = POSTED["meter-plan"].compute(POSTED["meter-plan"].arguments(PLAN))
    told = [
        sound
        for each in answer.readings
        for sound in (each.sound_as_is, each.sound_with_way)
        if sound is not None
    ]
    assert len(told) > 20
    assert [each.text for each in told if each.shown not in each.text] == []
