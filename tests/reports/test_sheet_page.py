"""A work sheet as a page to print: whole, deaf to names from strangers, and self-contained."""

import base64
import hashlib
from copy import deepcopy
from html.parser import HTMLParser
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.reports.plain import tidy
from lastvolt_service.reports.sheet import MOST_CASES, policy, work_sheet_page
from lastvolt_service.words.amounts import amount

from .conftest import POSTED, solve

EXAMPLE = POSTED["work-sheet"].schema.example
NASTY = "<script>alert(1)</script>\"'&amp;{{ 7 * 7 }}"
VOID = {"meta"}


class Page(HTMLParser):
    """A page taken apart: its elements with their attributes, and the text of each."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.said: list[tuple[str, str]] = []
        self.feed(text)
        self.close()
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.said.append((self.open[-1], data))

    def text(self) -> str:
        return " ".join(each for tag, each in self.said if tag != "style")


def page(body: dict[str, Any]) -> tuple[Page, Any]:
    asked, answer = solve("work-sheet", body)
    return Page(work_sheet_page(asked, answer)), answer


def test_the_whole_sheet_stands_on_the_page() -> None:
    found, answer = page(EXAMPLE)
    text = found.text()
    for each in (*answer.order, *answer.parts, *answer.readings):
        assert each.text in text
    for each in (*answer.cautions, answer.headline, answer.meter_note, answer.vehicle):
        assert each in text
    for each in answer.wires:
        assert each.name in text
        assert each.why in text
        if each.cut_length_m is not None:
            assert amount(each.cut_length_m, "m", side="up") in text
    for each in answer.wiring:
        assert each.from_part in text
        assert each.to_part in text
    for each in answer.readings:
        for one in each.expected:
            assert amount(one.with_relay_v, "V").removesuffix(" V") in text
    assert found.elements.count(("h2", {})) == 5
    drawn = [tag for tag, _ in found.elements if tag == "svg"]
    assert drawn == ["svg"]


def test_the_drawing_has_every_part_and_86_where_the_table_has_it() -> None:
    body = deepcopy(EXAMPLE)
    body["circuit"]["source"] |= {"plus": "ground", "minus": "battery post"}
    for given, numbers in ((EXAMPLE, ["86", "85"]), (body, ["85", "86"])):
        found, _ = page(given)
        drawn = [text for tag, text in found.said if tag == "text"]
        names = [each["name"] for each in given["circuit"]["branches"]]
        names += [each["name"] for each in given["proposal"]["feed"]]
        for name in (*names, "start relay", "starter solenoid", "relay to solenoid"):
            assert name in drawn
        assert [each for each in drawn if each in {"85", "86"}] == numbers


def renamed(body: Any, old: str, new: str) -> Any:
    """The same request with a name changed wherever it stands."""
    if isinstance(body, dict):
        return {renamed(k, old, new): renamed(v, old, new) for k, v in body.items()}
    if isinstance(body, list):
        return [renamed(each, old, new) for each in body]
    return new if body == old else body


@pytest.mark.parametrize(
    "name",
    ["Mobile-library coach of Lindwater County", "start relay", "relay fuse", "relay to solenoid",
     "starter solenoid", "key switch", "wire to the rear", "battery post", "engine block",
     "terminal 50", "engine bay", "hot restart, aged switch", "BK/YE"],
)  # fmt: skip
def test_names_from_strangers_are_text_and_nothing_else(name: str) -> None:
    body = renamed(deepcopy(EXAMPLE), name, NASTY)
    assert body != EXAMPLE
    found, answer = page(body)
    assert answer.sheet == "ready"
    plain, _ = page(EXAMPLE)
    assert [tag for tag, _ in found.elements] == [tag for tag, _ in plain.elements]
    for tag, attributes in found.elements:
        assert tag not in {"script", "a", "img", "link", "iframe", "object", "form"}
        assert not any(each.startswith("on") for each in attributes)
        assert not {"href", "src", "style"} & set(attributes)
        assert not any(NASTY in (value or "") for value in attributes.values())
    if name != "hot restart, aged switch" or MOST_CASES > 1:
        assert NASTY in found.text()


def test_a_colour_stands_to_the_letter_and_a_name_cannot_turn_the_page() -> None:
    body = deepcopy(EXAMPLE)
    body["colours"]["relay to solenoid"] = " two  blanks "
    body["vehicle"] = "coach \u202eegats"
    found, answer = page(body)
    assert ("bdi", " two  blanks ") in found.said
    assert "\u202e" not in found.text()
    assert tidy(answer.vehicle) in found.text()


@pytest.mark.parametrize("fuse", [None, "none"])
def test_without_a_sheet_the_page_says_why_and_no_more(fuse: str | None) -> None:
    body = deepcopy(EXAMPLE)
    body["proposal"]["feed"].pop(0)
    if fuse:
        body["proposal"]["fuse"] = fuse
    found, answer = page(body)
    assert answer.missing[0].message in found.text()
    tags = {tag for tag, _ in found.elements}
    assert not tags & {"table", "ol", "svg", "h2"}
    assert len(found.text()) < 1500


def test_a_browser_takes_the_style_and_nothing_else(client: FlaskClient) -> None:
    answered = client.post("/v1/reports/work-sheet.html", json=EXAMPLE)
    assert answered.content_type == "text/html; charset=utf-8"
    found = Page(answered.get_data(as_text=True))
    (style,) = [text for tag, text in found.said if tag == "style"]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    told = answered.headers["Content-Security-Policy"]
    assert told == policy()
    assert told == f"default-src 'none'; style-src 'sha256-{digest}'; frame-ancestors 'none'"
    assert not any(word in style for word in ("url(", "@import", "@font-face"))
    refused = client.post("/v1/reports/work-sheet.html?units=us", json=EXAMPLE)
    assert refused.status_code == 422
    assert client.post("/v1/reports/voltage-drop.html", json={}).status_code == 404


def test_a_coil_gets_a_thin_lead_with_a_fuse_where_the_old_wire_is_thick() -> None:
    """A receptacle for 6.3 mm is crimped to 6 mm2 at most; the old wire has 16 (practice)."""
    body = deepcopy(EXAMPLE)
    for each in body["circuit"]["branches"]:
        if each["name"] == "wire to the rear":
            each["size"] = "16 mm2"
    found, answer = page(body)
    leads = [each for each in answer.terminals if each.terminal in {"85", "86"}]
    assert not any(each.is_gripped for each in leads)
    assert "fused with 5 A where it leaves a live wire" in found.text()
    assert "a relay with studs" not in found.text()


def test_no_number_in_the_drawing_is_cut() -> None:
    """18.9 to 35.4 thousandths of an ohm, to two digits: with four it would end in its middle."""
    body = deepcopy(EXAMPLE)
    contacts = [each for each in body["circuit"]["branches"] if each.get("kind") == "contact"]
    for each in contacts:
        each |= {"part": "connector", "resistance_ohm": {"low": 0.01891, "high": 0.03543}}
        each.pop("rating_a", None)
    found, _ = page(body)
    shown = [text for tag, text in found.said if tag == "text" and text.startswith("connector, ")]
    assert contacts
    assert shown == ["connector, 19 to 35 mΩ"] * len(contacts)
