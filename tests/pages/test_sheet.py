"""Sheets in the browser: they print on few pages of either paper, and are read on a phone."""

import base64
import json
import re
import zlib

import pytest

from lastvolt_service.api import OPERATIONS

from .conftest import PHONE, Browser

EXAMPLES = {each.name: each.schema.example for each in OPERATIONS if each.method == "POST"}
# Of a plan one for each case, and what is wired wrong and the test with a jumper.
PAGES = {"work-sheet": 1, "meter-plan": 3, "gain-proof": 1}
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "US Letter": (8.5, 11.0)}  # ISO 216, ANSI/ASME Y14.1


def linked(name: str) -> str:
    """The example as a link carries it."""
    packed = zlib.compress(json.dumps(EXAMPLES[name]).encode(), 9)
    return base64.urlsafe_b64encode(packed).decode().rstrip("=")


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("paper", PAPERS)
def test_the_example_prints_on_few_pages(browser: Browser, paper: str, name: str) -> None:
    browser.open(f"/v1/reports/{name}.html?request={linked(name)}")
    assert (
        browser.script("return getComputedStyle(document.querySelector('ul')).listStyleType")
        == "none"
    )
    width, height = PAPERS[paper]
    printed = browser.driver.execute_cdp_cmd(
        "Page.printToPDF", {"paperWidth": width, "paperHeight": height, "printBackground": True}
    )
    pdf = base64.b64decode(printed["data"])
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == PAGES[name]
    # Nothing sticks out on the right: what does is shrunk, or lost.
    assert browser.overflow() <= 0


@pytest.mark.parametrize("name", PAGES)
def test_the_sheet_is_read_on_a_phone(browser: Browser, name: str) -> None:
    browser.look(width=PHONE)
    browser.open(f"/v1/reports/{name}.html?request={linked(name)}")
    assert browser.overflow() <= 0
    # A word of a cell is broken over lines where there is no room for it.
    broken = """
        const cut = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        while (walk.nextNode()) {
            const node = walk.currentNode;
            if (!node.parentElement.closest("td, th")) continue;
            for (const word of node.data.matchAll(/[A-Za-z]{2,}/g)) {
                const range = document.createRange();
                range.setStart(node, word.index);
                range.setEnd(node, word.index + word[0].length);
                if (range.getClientRects().length > 1) cut.push(word[0]);
            }
        }
        return cut;"""
    assert browser.script(broken) == []
    smallest = """return Math.min(...[...document.querySelectorAll("td, li, p")].map(
        each => parseFloat(getComputedStyle(each).fontSize)))"""
    assert browser.script(smallest) >= 12  # px: below, text on a phone is zoomed to be read
