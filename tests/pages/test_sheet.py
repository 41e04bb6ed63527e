"""Sheets in the browser: their style holds, and they print on few pages of either paper."""

import base64
import json
import re
import zlib

import pytest

from lastvolt_service.api import OPERATIONS

from .conftest import Browser

EXAMPLES = {each.name: each.schema.example for each in OPERATIONS if each.method == "POST"}
# Of a plan one for each case, and what is wired wrong and the test with a jumper.
PAGES = {"work-sheet": 1, "meter-plan": 3}
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "US Letter": (8.5, 11.0)}  # ISO 216, ANSI/ASME Y14.1


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("paper", PAPERS)
def test_the_example_prints_on_few_pages(browser: Browser, paper: str, name: str) -> None:
    packed = zlib.compress(json.dumps(EXAMPLES[name]).encode(), 9)
    text = base64.urlsafe_b64encode(packed).decode().rstrip("=")
    browser.open(f"/v1/reports/{name}.html?request={text}")
    assert (
        browser.script("return getComputedStyle(document.querySelector('ol')).listStyleType")
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
