"""The README as a package index shows it: nothing in it may need the repository around it."""

import re
from pathlib import Path

from readme_renderer.markdown import render

README = Path(__file__).parents[2] / "README.md"
# A picture that is not there is shown by the sentence that stands for it.
LEAST_ALT = 30


def test_it_renders_and_its_links_lead_somewhere() -> None:
    text = README.read_text(encoding="utf-8")
    shown = render(text)
    assert shown is not None
    assert "<h2" in shown
    links = re.findall(r'<a href="([^"]*)"', shown)
    assert all(link.startswith(("http://", "https://", "#")) for link in links), links
    pictures = re.findall(r"!\[([^]]*)]", text)
    assert all(len(alt) >= LEAST_ALT for alt in pictures)
