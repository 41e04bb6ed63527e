"""Names from strangers: in a post they neither ping, nor link, nor mark up, nor break lines.

Held against markdown-it with the extensions of GitHub's Markdown and its finder of links.
"""

import unicodedata
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from linkify_it import LinkifyIt
from markdown_it import MarkdownIt
from markdown_it.token import Token

from lastvolt_service.reports.plain import LONGEST_NAME, cut, tidy
from lastvolt_service.reports.words import words

from .conftest import solve

MARKDOWN = MarkdownIt("gfm-like")
LINKS = LinkifyIt()
OWN = {"paragraph_open", "paragraph_close", "bullet_list_open", "bullet_list_close",
       "list_item_open", "list_item_close", "inline", "strong_open", "strong_close",
       "text", "text_special"}  # fmt: skip

NASTY = [
    "@everyone", "\\@here", "&#64;everyone", "<@123456>", "<!channel>", "#42", "GH#7",
    "[a](https://example.com)", "![](http://example.com/x.png)", "https://example.com/x",
    "www.example.com", "example.com", "me@example.com", "mailto:me@example.com",
    "<b>x</b>", "<script>alert(1)</script>", "`x`", "```", "**x**", "__x__", "~~x~~", "||x||",
    "# x", "> x", "- x", "1. x", "---", "$x$", ":smile:", "a | b", "\\", "\\\\", "&lt;",
    "javascript:alert(1)", "//example.com", "\u202eevil", "\u2028x", "\u2066@\u200beveryone",
    "x" * 80, "\u200b", " ", "a\u00a0b", "*" * 80, "[" * 40,
]  # fmt: skip
NAMES = st.one_of(
    st.sampled_from(NASTY),
    st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1, max_size=80),
    st.text("@#[]()<>`*_~|$&\\:/.!-aw 1", min_size=1, max_size=80),
)


def path(name: str) -> dict[str, Any]:
    part = {"kind": "contact", "part": "switch", "resistance_ohm": 0.5}
    return {"supply_v": 12, "load_current_a": 5, "segments": [{**part, "name": name}]}


def reports(name: str) -> tuple[str, str]:
    request, answer = solve("voltage-drop", path(name))
    plain, marked = (
        words("voltage-drop", request, answer, markdown=each) for each in (False, True)
    )
    return plain, marked


def tokens(text: str) -> list[Token]:
    found = []
    for token in MARKDOWN.parse(text):
        found += [token, *(token.children or ())]
    return found


def shown(text: str) -> str:
    """What a reader sees of Markdown."""
    inner = [token.content for token in tokens(text) if token.type in {"text", "text_special"}]
    return "".join(inner).replace("\u200b", "")


@settings(deadline=None, max_examples=150)
@given(NAMES)
def test_markdown_shows_the_name_and_does_nothing_with_it(name: str) -> None:
    _, marked = reports(name)
    assert {token.type for token in tokens(marked)} <= OWN
    assert sum(token.type == "strong_open" for token in tokens(marked)) == 1
    label = tidy(cut(name) if len(name) > LONGEST_NAME else name)
    assert label.replace("\u200b", "") in shown(marked)


@settings(deadline=None, max_examples=150)
@given(NAMES)
def test_nothing_pings_or_links_in_either_form(name: str) -> None:
    for text in reports(name):
        lines = [line for line in text.split("\n") if line]
        assert 3 <= len(lines) <= 6
        assert all(line.startswith("- ") for line in lines[1:])
        assert not LINKS.match(text.replace("\\", ""))
        for place, character in enumerate(text[:-1]):
            if character in "@#":
                assert text[place + 1] in "\u200b \n", text
        unseen = {each for each in text if unicodedata.category(each) in {"Cf", "Cc", "Co", "Cn"}}
        assert unseen <= {"\u200b", "\n"}


@pytest.mark.parametrize("name", NASTY)
def test_known_tricks(name: str) -> None:
    for text in reports(name):
        for trick in ("@everyone", "@here", "https://", "www.example", "@example", "//example"):
            assert trick not in text


def test_the_finders_of_this_test_find_something() -> None:
    assert LINKS.match("see www.example.com")
    assert "link_open" in {token.type for token in tokens("https://example.com")}
    assert "html_inline" in {token.type for token in tokens("a <b>x</b>")}


def test_long_names_are_cut_in_every_sentence() -> None:
    name = "lead " * 16
    for text in reports(name.strip()):
        assert "lead " * 9 not in text
        assert "…" in text
