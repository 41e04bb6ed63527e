"""The start page in a browser: what a layman types, and what he is shown."""

import base64
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import requests
from selenium.webdriver.common.keys import Keys

from ..service.conftest import served
from ..service.test_access import table
from .conftest import DESK, PHONE, Browser

SCREENS = [(PHONE, False), (DESK, True)]
ANSWERED = "/?system_v=12&load=starter_solenoid&distance_m=11&wear=old&fails=hot"
WRONG = "/?system_v=12&load=horn&distance_m=far&wire=13+XWG"


@contextmanager
def without_script(browser: Browser) -> Iterator[None]:
    """Let pages run no script of theirs."""
    command = "Emulation.setScriptExecutionDisabled"
    browser.driver.execute_cdp_cmd(command, {"value": True})
    try:
        yield
    finally:
        browser.driver.execute_cdp_cmd(command, {"value": False})


def test_a_layman_types_four_things(browser: Browser) -> None:
    asked = {"system_v": 24, "load": "horn", "distance_m": 6.4008, "wear": "new"}
    answer = requests.post(f"{browser.url}/v1/quick-answer", json=asked, timeout=60).json()
    with without_script(browser):
        browser.open("/")
        for name, typed in (("system_v", "24"), ("load", "horn"), ("wear", "new")):
            browser.find(f"#{name}").send_keys(typed)
        browser.find("#distance_m").send_keys("21 ft" + Keys.ENTER)
        assert browser.texts("h1") == [answer["headline"]]
        assert browser.texts(".cautions li") == answer["cautions"]
        # What he said stands in the form again, to be mended.
        assert browser.find("#distance_m").get_attribute("value") == "21 ft"
        assert browser.find("#load").get_attribute("value") == "horn"


def test_the_first_error_has_the_focus(browser: Browser) -> None:
    browser.expected = {422}
    browser.open(WRONG)
    active = browser.driver.switch_to.active_element
    assert active.get_attribute("id") == "distance_m"
    described = str(active.get_attribute("aria-describedby")).split()
    assert "This must be a number." in [browser.find(f"#{each}").text for each in described]
    error, field = browser.find("#wire-error"), browser.find("#wire")
    assert error.text.startswith("This is no conductor size")
    assert (error.location["x"], error.location["y"] > field.location["y"]) == (
        field.location["x"],
        True,
    )


def test_all_is_reached_by_keyboard_in_the_order_that_is_seen(browser: Browser) -> None:
    browser.open("/")
    wanted = browser.script(
        "return [...document.querySelectorAll('#ask [id][name]')].map((e) => e.id)"
    )
    browser.find("body").send_keys(Keys.TAB)
    reached = []
    for _ in range(30):
        active = browser.driver.switch_to.active_element
        reached.append(active.get_attribute("id"))
        if active.get_attribute("type") == "submit":
            break
        active.send_keys(Keys.TAB)
    assert reached[-1 - len(wanted) : -1] == wanted


@pytest.mark.parametrize(("width", "dark"), SCREENS)
def test_it_fits_a_phone_and_everyone(browser: Browser, width: int, dark: bool) -> None:
    browser.expected = {422}
    browser.look(width=width, dark=dark)
    for path in ("/", ANSWERED, WRONG):
        browser.open(path)
        assert browser.violations() == [], path
        assert browser.overflow() <= 0, path


def test_a_plan_prints_on_two_pages(browser: Browser) -> None:
    """A4, without the form; shrunk, and told so, if anything stuck out."""
    browser.open(ANSWERED)
    paper = {"paperWidth": 210 / 25.4, "paperHeight": 297 / 25.4}
    printed = browser.driver.execute_cdp_cmd("Page.printToPDF", paper)
    pdf = base64.b64decode(printed["data"])
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 2


def test_a_key_is_sent_and_stands_in_no_address(browser: Browser, tmp_path: Path) -> None:
    keys = tmp_path / "keys.toml"
    keys.write_text(table("reader", "lv_reader"))
    browser.expected = {401, 422}
    with served(tmp_path / "log", WORKERS="1", API_KEYS_FILE=str(keys)) as closed:
        browser.url = closed.url
        browser.open("/?system_v=24&load=horn&distance_m=far")
        assert browser.driver.switch_to.active_element == browser.find("#key")
        browser.find("#key").send_keys("lv_reader" + Keys.ENTER)
        assert browser.said() == "No answer yet · lastvolt"
        assert browser.driver.switch_to.active_element == browser.find("#distance_m")
        browser.find("#distance_m").clear()
        browser.find("#distance_m").send_keys("4" + Keys.ENTER)
        assert browser.said("horn").endswith("horn · lastvolt")
        assert browser.find("h1.verdict").is_displayed()
        assert "lv_reader" not in browser.driver.current_url
        assert browser.script("return [localStorage.length, sessionStorage.length]") == [0, 0]
