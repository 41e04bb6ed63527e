"""The page of a circuit: one circuit from the form to the answer."""

import hashlib
from decimal import Decimal
from pathlib import Path

import pytest
from selenium.webdriver.common.keys import Keys

from ..service.conftest import served
from .conftest import DESK, PHONE, Browser

# Ohm's law by hand: 10 A from 13 V through 0.05 ohm of switch and 0.003 ohm of fuse, and nothing
# else, leave 12.47 V.
BY_HAND = {
    "supply": "13", "inside": "0", "length": "0", "switch": "0.05", "ground": "0",
    "load_current": "10", "needed": "12",
}  # fmt: skip


def row(browser: Browser, name: str) -> list[str]:
    """Cells of the row of that name."""
    rows = [text.rsplit("\n") for text in browser.texts("#result tbody tr")]
    return (
        next(" ".join(cells) for cells in rows if cells[0].startswith(name)).split(name)[1].split()
    )


def test_what_is_filled_in_is_answered(browser: Browser) -> None:
    browser.open("/circuit")
    browser.fill(**BY_HAND)
    assert browser.run() == "The load works, but another check fails."
    assert row(browser, "voltage that arrives") == ["12.47", "V"]
    assert row(browser, "power") == ["125", "W"]
    assert row(browser, "switch") == ["0.5", "V", "5", "W", "\N{EN DASH}"]
    assert any("switch: it alone drops 0.5 V" in text for text in browser.texts(".checks li"))
    browser.fill(needed="12.6")
    assert browser.run() == "Not enough: the voltage that it needs does not arrive."
    browser.fill(switch="0.005", needed="11")
    assert browser.run() == "It works: every check passes."


def test_the_defaults_work(browser: Browser) -> None:
    browser.open("/circuit")
    assert browser.run() == "It works: every check passes."


@pytest.mark.parametrize(
    ("load", "values"),
    [
        ("current", {"load_current": "8"}),
        ("power", {"load_power": "100"}),
        ("resistance", {"load_resistance": "1.5"}),
        ("pull-in voltage", {"pull_in": "7", "coil": "0.8"}),
    ],
)
@pytest.mark.parametrize("back", ["through body", "by a wire"])
def test_every_load_and_way_back(
    browser: Browser, load: str, values: dict[str, str], back: str
) -> None:
    browser.open("/circuit")
    browser.fill(load=load, **{"return": back}, **values)
    browser.run()
    assert browser.find("#result .verdict").is_displayed()
    assert browser.texts(".error") == [""] * len(browser.texts(".error"))


def test_the_example_leads_to_the_relay_and_its_picture(browser: Browser) -> None:
    browser.open("/circuit")
    browser.find("#example").click()
    assert browser.said().startswith("Fit the relay")
    picture = browser.find("#picture img")
    browser.script("return document.querySelector('#picture img').decode().then(() => true)")
    assert picture.size["width"] > 200
    assert picture.get_attribute("alt")
    assert row(browser, "current in the switch")[0] > row(browser, "current in the switch")[2]


def test_an_error_stands_beside_its_field(browser: Browser) -> None:
    browser.expected = {422}
    browser.open("/circuit")
    browser.fill(size="13 XWG", length="far", supply="")
    assert browser.run() == "No answer yet. See the fields that are marked."
    for name, words in (
        ("supply", "This must be a number."),
        ("size", "This is no conductor size"),
        ("length", "This must be a number."),
    ):
        field = browser.find(f"#{name}")
        assert field.get_attribute("aria-invalid") == "true"
        assert f"{name}-error" in str(field.get_attribute("aria-describedby"))
        error = browser.find(f"#{name}-error")
        assert words in error.text
        # Below its field, in the same column.
        assert error.location["y"] > field.location["y"]
        assert error.location["x"] == field.location["x"]
    assert browser.driver.switch_to.active_element == browser.find("#supply")
    assert browser.violations() == []
    browser.fill(size=Keys.CONTROL + "a" + Keys.NULL + "12 AWG", length="3", supply="12.4")
    assert browser.run() == "It works: every check passes."
    assert browser.texts("[aria-invalid]") == []


def test_a_load_that_cannot_be_fed_is_told(browser: Browser) -> None:
    browser.open("/circuit")
    browser.fill(load="power", load_power="90000")
    assert browser.run().startswith("Not enough")


def test_feet_are_metres_to_the_service(browser: Browser) -> None:
    browser.open("/circuit")
    browser.fill(length_unit="feet", length="10")
    browser.run()
    # The international foot is 0.3048 m.
    assert '"length_m":3.048,' in str(
        browser.find("#result details pre").get_attribute("textContent")
    )
    assert "in ft" in browser.find("label[for=length]").text


def test_it_is_used_by_keyboard_alone(browser: Browser) -> None:
    browser.open("/circuit")
    body = browser.find("body")
    body.send_keys(Keys.TAB)
    assert browser.driver.switch_to.active_element.get_attribute("class") == "skip"
    reached = []
    for _ in range(40):
        active = browser.driver.switch_to.active_element
        reached.append(active.get_attribute("id"))
        if active.get_attribute("id") == "load-current":
            active.send_keys(Keys.CONTROL + "a" + Keys.NULL + "5")
        if active.get_attribute("type") == "submit":
            break
        active.send_keys(Keys.TAB)
    shown = browser.script(
        "return [...document.querySelectorAll('form input, form select')]"
        ".filter((field) => field.checkVisibility()).map((field) => field.id)"
    )
    assert [name for name in reached if name in shown] == shown
    browser.driver.switch_to.active_element.send_keys(Keys.ENTER)
    assert browser.said() == "It works: every check passes."
    assert row(browser, "current") == ["5", "A"]


def test_it_keeps_nothing(browser: Browser) -> None:
    browser.open("/circuit")
    browser.run()
    assert browser.script("return [localStorage.length, sessionStorage.length]") == [0, 0]
    assert browser.driver.get_cookies() == []


@pytest.mark.parametrize(("width", "dark"), [(PHONE, False), (DESK, True)])
def test_it_fits_a_phone_and_everyone(browser: Browser, width: int, dark: bool) -> None:
    browser.look(width=width, dark=dark)
    browser.open("/circuit")
    assert browser.violations() == []
    assert browser.run() == "It works: every check passes."
    assert browser.violations() == []
    browser.find("#example").click()
    browser.said("Fit the relay")
    assert browser.violations() == []
    assert browser.overflow() <= 0


def test_a_key_is_asked_for_where_one_is_needed(browser: Browser, tmp_path: Path) -> None:
    keys = tmp_path / "keys.toml"
    hashed = hashlib.sha256(b"lv_reader").hexdigest()
    keys.write_text(f'[[keys]]\nname = "reader"\nsha256 = "{hashed}"\n')
    browser.expected = {401}
    with served(tmp_path / "log", WORKERS="1", API_KEYS_FILE=str(keys)) as closed:
        browser.url = closed.url
        browser.open("/circuit")
        assert not browser.find("#key").is_displayed()
        assert browser.run() == "No answer yet. A key is needed"
        assert browser.driver.switch_to.active_element == browser.find("#key")
        browser.fill(key="lv_reader")
        assert browser.run() == "It works: every check passes."


def test_numbers_are_rounded_as_in_sentences_and_add_up(browser: Browser) -> None:
    """Volts to a hundredth; arrives less needed is to spare, as they are printed."""
    browser.open("/circuit")
    browser.find("#example").click()
    browser.run()
    arrives, needed, spare = (
        row(browser, name) for name in ("voltage at the load", "voltage needed", "to spare")
    )
    for place in (0, 2):
        shown = [Decimal(cells[place]) for cells in (arrives, needed, spare)]
        assert shown[0] - shown[1] == shown[2]
        assert all(-each.as_tuple().exponent <= 2 for each in shown)
