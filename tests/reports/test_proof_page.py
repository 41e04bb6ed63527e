"""The page that proves: what was read, with what, by whom, and what follows, on one sheet."""

from copy import deepcopy
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.reports.plain import disarm
from lastvolt_service.reports.proof import SIGNATURE, SIGNED_FOR
from lastvolt_service.reports.sheet import gain_proof_page
from lastvolt_service.reports.sheet_words import BLANK, sheet_words

from .conftest import POSTED, solve
from .test_sheet_page import NASTY, Page, renamed

EXAMPLE = POSTED["gain-proof"].schema.example


def page(body: dict[str, Any]) -> tuple[Page, Any]:
    asked, answer = solve("gain-proof", body)
    return Page(gain_proof_page(asked, answer)), answer


def rows(found: Page) -> list[str]:
    return [text.strip() for tag, text in found.said if tag == "td"]


def contradicted() -> dict[str, Any]:
    """The battery's volts after are misread by 3 V."""
    body = deepcopy(EXAMPLE)
    body["after"][1]["value_v"] = 9.42
    return body


@pytest.mark.parametrize("body", [EXAMPLE, contradicted()], ids=["proven", "contradicted"])
def test_the_page_holds_what_it_rests_on(body: dict[str, Any]) -> None:
    found, answer = page(body)
    text = found.text()
    for each in (*body["before"], *body["after"]):
        value = next(each[key] for key in each if key.startswith("value_"))
        assert f"{value:g} ± " in text or f"{value:.2f} ± " in text
        for node in each.get("between", [each.get("through")]):
            assert node in text
    for name in SIGNED_FOR:
        assert name in text
    assert SIGNATURE in text
    assert found.elements.count(("span", {"class": "blank"})) == len(SIGNED_FOR) + 1
    for each in (answer.headline, *answer.cautions, body["way"]["name"]):
        assert each in text
    for each in (*answer.look_at, *answer.not_judged):
        assert each.message in text
    assert (answer.next_message or "") in text
    assert "shop meter: volts, 0.5 % and 2 digits" in text
    assert "shop clamp: amperes, 2 % and 5 digits (usual, by practice)" in text
    for each in body["cases"]:
        assert f"{each['name']}: {each['ambient_c']} °C" in text
    assert "12.2 V to 12.9 V at rest" in text


def test_before_and_after_of_one_place_stand_in_one_row() -> None:
    found, _ = page(EXAMPLE)
    cells = rows(found)
    at = cells.index("red key in, black firewall")
    assert cells[at + 1 : at + 3] == ["2.86 ± 0.03 V", "0.0415 ± 0.0004 V"]
    # A place that was read on one side only leaves the other empty.
    at = cells.index("clamp round wire to the rear")
    assert cells[at + 1].startswith("9.31 ± ")
    assert cells[at + 2] == "key held"


def test_a_place_that_was_read_twice_has_a_row_for_each() -> None:
    body = deepcopy(EXAMPLE)
    body["after"].append({**body["after"][1], "value_v": 12.43})
    found, _ = page(body)
    cells = rows(found)
    assert cells.count("red battery post, black ground") == 3
    assert "12.43 ± 0.08 V" in cells


def test_a_reading_keeps_its_last_zero_and_no_meter_is_worse_than_its_sheet() -> None:
    """12.4 V of JSON were 12.40 on a meter of 0.01 V; 0.5 % and 2.5 digits are 0.087 V at most.

    Where the share alone errs, that at most: 0.062 V, and not 1.96 times its standard uncertainty.
    """
    body = deepcopy(EXAMPLE)
    body["after"][1]["value_v"] = 12.4
    found, _ = page(body)
    assert "12.40 ± 0.08 V" in rows(found)
    body["meters"][0] |= {"accuracy_digits": 0, "counts": 1_000_000}
    found, _ = page(body)
    assert "12.40 ± 0.07 V" in rows(found)


def test_what_contradicts_is_marked_and_nothing_else_is() -> None:
    found, answer = page(contradicted())
    marked = [each for each in rows(found) if each.endswith("†")]
    assert len(marked) == len(answer.contradicts_after) + len(answer.contradicts_before)
    assert "† contradicts" in found.text()
    assert answer.contradicts_after
    found, _ = page(EXAMPLE)
    assert "†" not in found.text()


def test_where_nothing_follows_no_table_says_what_does() -> None:
    """Readings that contradict each other have no gain: its numbers are none."""
    found, answer = page(contradicted())
    assert answer.gain.gain_v is not None
    assert "What follows" not in found.text()
    assert "svg" not in {tag for tag, _ in found.elements}
    text = sheet_words("gain-proof", *solve("gain-proof", contradicted()), markdown=False)
    assert "What follows" not in text
    assert answer.look_at[0].message in found.text()


def test_the_words_hold_the_same() -> None:
    asked, answer = solve("gain-proof", EXAMPLE)
    text = sheet_words("gain-proof", asked, answer, markdown=False)
    assert "- key held, red key in, black firewall: before 2.86 ± 0.03 V; after" in text
    assert "clamp round wire to the rear: before 9.31 ± 0.22 A; after not read." in text
    for each in (*SIGNED_FOR, SIGNATURE):
        assert f"{each} {BLANK}" in text
    for case in answer.by_case:
        assert disarm(case.case) in text
    assert "enough: yes" in text


@pytest.mark.parametrize(
    "name", ["relay at the starter", "key held", "battery post", "shop meter", "starter solenoid"]
)
def test_names_from_strangers_are_text_and_nothing_else(name: str) -> None:
    body = renamed(deepcopy(EXAMPLE), name, NASTY)
    found, _ = page(body)
    plain, _ = page(EXAMPLE)
    drawn = {"text", "tspan"}  # a long name takes more lines of a drawing
    kinds = [[tag for tag, _ in each.elements if tag not in drawn] for each in (found, plain)]
    assert kinds[0] == kinds[1]
    assert not any(NASTY in (value or "") for _, each in found.elements for value in each.values())
    assert NASTY in found.text()


def test_it_is_asked_for_as_any_page(client: FlaskClient) -> None:
    answered = client.post("/v1/reports/gain-proof.html", json=EXAMPLE)
    assert answered.content_type == "text/html; charset=utf-8"
    assert "style-src 'sha256-" in answered.headers["Content-Security-Policy"]
