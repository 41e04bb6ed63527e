"""A plan of readings as a sheet to print: whole, with columns to fill in, deaf to strangers."""

from copy import deepcopy
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.reports.sheet import meter_plan_page, policy

from .conftest import POSTED, solve
from .test_sheet_page import NASTY, Page, renamed

EXAMPLE = POSTED["meter-plan"].schema.example


def page(body: dict[str, Any]) -> tuple[Page, Any]:
    asked, answer = solve("meter-plan", body)
    return Page(meter_plan_page(asked, answer)), answer


def without_a_relay() -> dict[str, Any]:
    body = deepcopy(EXAMPLE)
    del body["way"]
    return body


@pytest.mark.parametrize("body", [EXAMPLE, without_a_relay()], ids=["relay", "none"])
def test_the_whole_plan_stands_on_the_page(body: dict[str, Any]) -> None:
    found, answer = page(body)
    text = found.text()
    for each in (*answer.before, *answer.rounds):
        assert each.text in text
    for each in (*answer.cautions, answer.headline, answer.jumper.text, answer.jumper.again):
        assert each in text
    for each in answer.readings:
        said = (each.red, each.black) if each.red else (f"clamp round {each.clamp}",)
        for one in (*said, each.text, each.how, each.means_if_more, each.means_if_less):
            assert one in text
    # A blank beside each band, and one for each outcome of the jumper.
    blanks = [tag for tag in found.elements if tag == ("td", {"class": "fill"})]
    assert len(blanks) == len(answer.readings) * (2 if "way" in body else 1) + 2
    assert ("start relay" in text) == ("way" in body)


def test_bands_are_rounded_outwards_to_the_last_digit_of_the_meter() -> None:
    """So that whoever reads what passes, passes; what is small is shown as millivolts."""
    body = without_a_relay()
    source = body["circuit"]["source"]
    source |= {"open_circuit_v": {"low": 12.307, "high": 12.703}}
    found, answer = page(body)
    rest = answer.readings[0].as_is
    assert rest.low == pytest.approx(12.307 * 0.995 - 0.025)  # 12.220
    assert rest.high == pytest.approx(12.703 * 1.005 + 0.025)  # 12.792
    assert ("td", "12.22 … 12.8 V") in found.said
    strap = next(each for each in answer.readings if each.part == "engine strap")
    assert strap.as_is.high < 0.2
    told = next(text for _, text in found.said if text.endswith("mV"))
    low, high = (float(each) for each in told.removesuffix(" mV").split(" … "))
    fuse = next(each for each in answer.readings if each.part == "key fuse")
    assert 0 <= 1e3 * fuse.as_is.low - low < 0.1
    assert 0 <= high - 1e3 * fuse.as_is.high < 0.1


def test_what_is_sound_stands_below_what_to_expect_and_is_marked_where_less_was_given() -> None:
    found, answer = page(EXAMPLE)
    cells = [text for tag, text in found.said if tag in {"td", "p"}]
    switch = next(each for each in answer.readings if each.code == "across_switch")
    assert switch.sound_as_is.given == "may_be_poor"
    low = next(k for k, text in enumerate(cells) if text.startswith("0.244"))
    # By practice 10 milliohm while the plunger moves: with all sound 26 A flow.
    assert switch.sound_as_is.at_a == pytest.approx(26, abs=0.5)
    assert cells[low + 1] == "≤ 0.26 V !"
    fuse = next(each for each in answer.readings if each.part == "key fuse")
    assert fuse.sound_as_is.given == "sound"
    low = next(k for k, text in enumerate(cells) if text.startswith("64.7"))
    assert cells[low + 1] == "≤ 0.26 V"
    text = found.text()
    assert f"{switch.number}: {switch.sound_as_is.text}" in text
    for wrong in switch.wired_wrong:
        assert f"{wrong.text}: reading" in text
    bare, _ = page(without_a_relay())
    assert "how it is wired" not in bare.text()


def test_without_a_starter_there_is_no_jumper_on_the_page() -> None:
    body = without_a_relay()
    load = body["circuit"]["loads"][0]
    body["circuit"]["loads"] = [
        {"name": load["name"], "kind": "resistance", "resistance_ohm": 2.0, "needed_v": 9.0,
         "nodes": load["nodes"]}
    ]  # fmt: skip
    found, answer = page(body)
    assert answer.jumper is None
    assert "jumper" not in found.text()


@pytest.mark.parametrize(
    "name",
    ["start relay", "key switch", "wire to the rear", "battery post", "engine block",
     "starter solenoid", "hot restart, aged switch"],
)  # fmt: skip
def test_names_from_strangers_are_text_and_nothing_else(name: str) -> None:
    body = renamed(deepcopy(EXAMPLE), name, NASTY)
    assert body != EXAMPLE
    found, _ = page(body)
    plain, _ = page(EXAMPLE)
    assert [tag for tag, _ in found.elements] == [tag for tag, _ in plain.elements]
    assert not any(NASTY in (v or "") for _, given in found.elements for v in given.values())
    assert NASTY in found.text()


def test_a_browser_takes_the_style_and_nothing_else(client: FlaskClient) -> None:
    answered = client.post("/v1/reports/meter-plan.html", json=EXAMPLE)
    assert answered.content_type == "text/html; charset=utf-8"
    assert answered.headers["Content-Security-Policy"] == policy()
    found = Page(answered.get_data(as_text=True))
    assert not {tag for tag, _ in found.elements} & {"script", "a", "img", "link", "iframe"}
    assert not any({"href", "src", "style"} & set(given) for _, given in found.elements)
