"""The pages in Debian's Chromium, against a real server on loopback."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import axe_core_python
import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

from ..service.conftest import Server, served

PATIENCE_S = 15
DESK, PHONE = 1200, 320
AXE = (Path(axe_core_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
# Nothing but the loopback address has a name, so whatever leaves it fails and is seen.
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-dev-shm-usage",
    "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)  # fmt: skip


class Browser:
    """A browser with what these tests ask of a page."""

    def __init__(self, profile: Path, chromium: str, driver: str) -> None:
        options = webdriver.ChromeOptions()
        options.binary_location = chromium
        for flag in (*FLAGS, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self.driver = webdriver.Chrome(options=options, service=Service(driver))
        self.url = ""
        # Statuses that a test asks for on purpose; the browser reports each on its console.
        self.expected: set[int] = set()

    def look(self, *, width: int = DESK, dark: bool = False) -> None:
        """Be as wide as asked, in light or dark."""
        metrics = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})

    def open(self, path: str) -> None:
        self.driver.get(self.url + path)

    def find(self, css: str) -> WebElement:
        return self.driver.find_element(By.CSS_SELECTOR, css)

    def texts(self, css: str) -> list[str]:
        return [found.text for found in self.driver.find_elements(By.CSS_SELECTOR, css)]

    def script(self, text: str) -> Any:
        return self.driver.execute_script(text)

    def fill(self, **values: str) -> None:
        """Write into inputs and choose in selects, by id with ``_`` for ``-``."""
        for name, value in values.items():
            element = self.find(f"#{name.replace('_', '-')}")
            if element.tag_name == "input":
                element.clear()
            element.send_keys(value)

    def said(self, part: str = "") -> str:
        """Wait for what is read out to those who do not see, and return it."""
        WebDriverWait(self.driver, PATIENCE_S, poll_frequency=0.05).until(
            lambda _: self.script(
                "const text = document.getElementById('status').textContent;"
                f"return text.includes({json.dumps(part)}) && text !== '' &&"
                "!document.querySelector('[aria-busy]')"
            )
        )
        text: str = self.script("return document.getElementById('status').textContent")
        return text

    def run(self) -> str:
        """Send the form, and return what is read out."""
        self.script("document.getElementById('status').textContent = ''")
        self.find("form button[type=submit]").click()
        return self.said()

    def violations(self) -> list[str]:
        """What the accessibility check finds, one line each."""
        self.script(AXE)
        found = self.driver.execute_async_script(
            "const done = arguments[0]; axe.run().then((found) => done(found.violations))"
        )
        return [f"{each['id']}: {each['nodes'][0]['target']}" for each in found]

    def overflow(self) -> int:
        """How many pixels the page is wider than the screen."""
        wider: int = self.script("return document.documentElement.scrollWidth - window.innerWidth")
        return wider

    def complaints(self) -> list[str]:
        """What stands on the console that should not."""
        refused = [f"status of {status}" for status in self.expected]
        return [
            line["message"]
            for line in self.driver.get_log("browser")
            if not any(text in line["message"] for text in refused)
        ]

    def strayed(self) -> list[str]:
        """Requests that went elsewhere than to the server."""
        logged = [
            json.loads(line["message"])["message"] for line in self.driver.get_log("performance")
        ]
        asked = [
            event["params"]["request"]["url"]
            for event in logged
            if event["method"] == "Network.requestWillBeSent"
        ]
        assert asked, "the performance log is empty"
        return [url for url in asked if not url.startswith((f"{self.url}/", "data:"))]


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with served(tmp_path_factory.mktemp("pages") / "log", WORKERS="1", DEADLINE_S="120") as running:
        yield running


@pytest.fixture(scope="session")
def chromium(
    tmp_path_factory: pytest.TempPathFactory, programs: Callable[..., tuple[str, ...]]
) -> Iterator[Browser]:
    paths = programs("chromium", "chromedriver", packages="chromium chromium-driver")
    started = Browser(tmp_path_factory.mktemp("profile"), *paths)
    yield started
    started.driver.quit()


@pytest.fixture
def browser(chromium: Browser, server: Server) -> Iterator[Browser]:
    """A browser that complains of nothing and asks nobody else, whatever the test does."""
    chromium.url = server.url
    chromium.expected = set()
    chromium.open("/livez")
    chromium.complaints()  # whatever the browser itself opened before is no matter of ours
    chromium.driver.get_log("performance")
    chromium.look()
    yield chromium
    complaints, strayed = chromium.complaints(), chromium.strayed()
    assert complaints == []
    assert strayed == []
