"""The reference in a browser: every example runs, and every page is fit for everyone."""

import json

import pytest

from .conftest import DESK, PHONE, Browser


def links(browser: Browser) -> list[str]:
    browser.open("/docs")
    found: list[str] = browser.script(
        "return [...document.querySelectorAll('.operations a')].map((link) => link.pathname)"
    )
    return found


def test_an_example_runs_and_can_be_changed(browser: Browser) -> None:
    browser.expected = {422}
    browser.open("/docs")
    browser.find(".operations a[href$='/wire-resistance']").click()
    assert browser.run().startswith("Answered: 200")
    answer = json.loads(browser.find("#answer pre").text)
    assert answer["resistance_ohm"] > 0
    browser.find("#body").clear()
    browser.find("#body").send_keys('{"size": "12 AWG"}')
    assert browser.run().startswith("Refused: 422")
    assert "#/length_m" in browser.find("#answer pre").text
    browser.find("form button[type=reset]").click()
    assert browser.run().startswith("Answered: 200")
    assert json.loads(browser.find("#answer pre").text) == answer


def test_every_example_runs(browser: Browser) -> None:
    paths = links(browser)
    assert len(paths) >= 14
    for path in paths:
        browser.open(path)
        assert browser.run().startswith("Answered: 200"), path


def test_a_picture_is_shown_as_one(browser: Browser) -> None:
    browser.open("/docs/linked-report-svg")
    browser.run()
    assert browser.find("#answer img").size["width"] > 200


@pytest.mark.parametrize(("width", "dark"), [(PHONE, False), (DESK, True)])
def test_it_fits_a_phone_and_everyone(browser: Browser, width: int, dark: bool) -> None:
    browser.look(width=width, dark=dark)
    browser.open("/docs")
    assert browser.violations() == []
    assert browser.overflow() <= 0
    for name in ("conductors", "relay-coil", "circuit-check", "report-svg"):
        browser.open(f"/docs/{name}")
        browser.run()
        assert browser.violations() == [], name
        assert browser.overflow() <= 0, name
