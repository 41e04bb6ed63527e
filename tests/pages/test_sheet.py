"""A work sheet in the browser: its style holds, and it prints on one page of either paper."""

import base64
import json
import re
import zlib

import pytest

from lastvolt_service.api import OPERATIONS

from .conftest import Browser

EXAMPLE = next(each for each in OPERATIONS if each.name == "work-sheet").schema.example
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "US Letter": (8.5, 11.0)}  # ISO 216, ANSI/ASME Y14.1


@pytest.mark.parametrize("paper", PAPERS)
def test_the_example_prints_on_one_page(browser: Browser, paper: str) -> None:
    packed = base64.urlsafe_b64encode(zlib.compress(json.dumps(EXAMPLE).encode(), 9)).decode()
    browser.open(f"/v1/reports/work-sheet.html?request={packed.rstrip('=')}")
    assert (
        browser.script("return getComputedStyle(document.querySelector('ol')).listStyleType")
        == "none"
    )
    width, height = PAPERS[paper]
    printed = browser.driver.execute_cdp_cmd(
        "Page.printToPDF", {"paperWidth": width, "paperHeight": height, "printBackground": True}
    )
    pdf = base64.b64decode(printed["data"])
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1
    # Nothing sticks out on the right: what does is shrunk, or lost.
    assert browser.overflow() <= 0
