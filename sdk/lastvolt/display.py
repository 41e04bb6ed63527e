"""Answers to look at: as a table in a terminal, as Markdown to post, as HTML in a notebook.

Made from the answer alone; no service is asked. `lastvolt.Client.report` has shorter words.
"""

import base64
import re
import textwrap
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import Field, fields
from decimal import Decimal
from html import escape
from math import floor, log10
from typing import Any, ClassVar, Protocol

from lastvolt._generated.service import DECIMALS, SYMBOLS, TWO_DIGITS_BELOW
from lastvolt.units import SUFFIXES

UNITS = {end: unit for end, unit in SUFFIXES.items() if end.startswith("_")}
COLUMNS = 100
# Of more checks than these, those that pass are only counted.
MOST_CHECKS = 12

# Decimals of the least number that is shown of a unit that a meter shows.
_THOUSANDTHS = 3
_COMMON = frozenset(
    {"headline", "verdict", "not_judged", "checks", "basis", "cautions", "computed_by"}
)
_MARKUP = re.compile(r"([\\`*_\[\]<>|@#~&$])")
# What starts a mention or a link: many forums look for it in the finished page.
_CATCHES = re.compile(r"(?<=[@#])(?=\S)|(?<=:)(?=\S)|(?<=[^\W\d_])\.(?=[^\W\d_])|(?<=/)(?=/)")
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})


class CheckLike(Protocol):
    """A check, as far as it is shown."""

    @property
    def name(self) -> str:
        """What is checked."""

    @property
    def verdict(self) -> str:
        """How it came out."""

    @property
    def message(self) -> str:
        """One sentence to act on."""

    @property
    def limit(self) -> float | None:
        """What its number is held against."""

    @property
    def margin(self) -> float | None:
        """Distance from the limit; positive is on the good side."""


class VersionsLike(Protocol):
    """What computed an answer."""

    @property
    def service(self) -> str:
        """Version of the service."""

    @property
    def tables(self) -> str:
        """Version of its tables."""


class ResultLike(Protocol):
    """An answer that judges, as far as it is shown; its other fields are shown as they are."""

    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]

    @property
    def verdict(self) -> str:
        """The worst of its checks."""

    @property
    def headline(self) -> str:
        """What it comes to, in one sentence."""

    @property
    def checks(self) -> Sequence[CheckLike]:
        """What was judged."""

    @property
    def basis(self) -> Sequence[str]:
        """What it rests on."""

    @property
    def cautions(self) -> Sequence[str]:
        """What can hurt someone."""

    @property
    def computed_by(self) -> VersionsLike:
        """What computed it."""


def number(value: float, unit: str = "") -> str:
    """Write a number with its unit, rounded as the service rounds in its reports."""
    decimals = least = DECIMALS.get(unit)
    if unit in TWO_DIGITS_BELOW:
        least = _THOUSANDTHS
        if value and abs(value) < TWO_DIGITS_BELOW[unit]:
            decimals = min(1 - floor(log10(abs(value))), least)
    if decimals is None:
        text = _three_digits(value)
    else:
        text = f"{value:.{decimals}f}"
        if decimals and text[-1] == "0":
            text = text.rstrip("0").rstrip(".")
        text = "0" if text == "-0" else text
        if text == "0" and value and least:
            text = f"less than {10.0**-least:g}"
    return f"{text} {SYMBOLS.get(unit, unit)}".rstrip()


def _three_digits(value: float) -> str:
    if abs(value) >= 999.5:
        return f"{value:.0f}"
    text = f"{value + 0.0:.3g}"  # there is no -0
    # Small numbers in full, too: nobody reads 1e-05 on a meter.
    return f"{Decimal(text):f}" if "e" in text and abs(value) > 1e-9 else text


def numbers(result: ResultLike) -> Iterator[tuple[str, str]]:
    """Give the plain fields of an answer with their units, leaving out what is None.

    Yields
    ------
    name : str
        The field without its unit.
    value : str
    """
    for field in fields(result):
        value = getattr(result, field.name)
        if field.name in _COMMON or value is None or not isinstance(value, str | float | bool):
            continue
        end = next((end for end in UNITS if field.name.endswith(end)), "")
        if isinstance(value, float):
            shown = number(value, UNITS.get(end, ""))
            yield _spaced(field.name.removesuffix(end)), shown
        else:
            shown = ("yes" if value else "no") if isinstance(value, bool) else value
            yield _spaced(field.name), _tidy(shown)


def headline(result: ResultLike) -> str:
    """Say in a few words what an answer comes to.

    Returns
    -------
    str
        Its advice where it gives one, else the worst of its checks.
    """
    advice = getattr(result, "advice", None)
    return _spaced(advice) if isinstance(advice, str) else result.verdict


def _worth_showing(result: ResultLike) -> tuple[list[CheckLike], int]:
    """The checks to show, and how many that pass are left out."""
    if len(result.checks) <= MOST_CHECKS:
        return list(result.checks), 0
    shown = [check for check in result.checks if check.verdict != "pass"]
    return shown, len(result.checks) - len(shown)


def text(result: ResultLike) -> str:
    """Write an answer as a table for a terminal."""
    lines = [f"{type(result).__name__}: {headline(result)}", *_row("", 8, _tidy(result.headline))]
    shown, more = _worth_showing(result)
    for check in shown:
        lines += _row(check.verdict, 8, f"{_tidy(check.name)}: {_tidy(check.message)}")
    lines += _row("pass", 8, f"{more} more checks") if more else []
    listed = list(numbers(result))
    width = max((len(name) for name, _ in listed), default=0)
    for name, value in listed:
        lines += _row(name, width, value)
    lines += [line for caution in result.cautions for line in _row("caution", 8, _tidy(caution))]
    return "\n".join(lines)


def _row(head: str, width: int, tail: str) -> list[str]:
    indent = " " * (width + 4)
    return textwrap.wrap(
        tail, COLUMNS, initial_indent=f"  {head:<{width}}  ", subsequent_indent=indent
    ) or [f"  {head}"]


def markdown(result: ResultLike) -> str:
    """Write an answer as Markdown; a label in it can neither ping nor link."""
    lines = [f"**{type(result).__name__}: {_safe(headline(result))}**", ""]
    lines += [_safe(result.headline), ""] if result.headline else []
    shown, more = _worth_showing(result)
    lines += [
        f"- **{_safe(check.verdict)}** {_safe(check.name)}: {_safe(check.message)}"
        for check in shown
    ]
    lines += [f"- **pass** {more} more checks"] if more else []
    lines += [f"- {_safe(name)}: {_safe(value)}" for name, value in numbers(result)]
    lines += [f"- Basis: {'; '.join(map(_safe, result.basis))}"] if result.basis else []
    lines += [f"- Caution: {_safe(caution)}" for caution in result.cautions]
    by = result.computed_by
    lines.append(f"- lastvolt {_safe(by.service)}, tables {_safe(by.tables)}")
    return "\n".join(lines) + "\n"


def html(result: ResultLike, picture: str | None = None) -> str:
    """Write an answer as HTML."""
    shown, more = _worth_showing(result)
    checks = "".join(_check_row(check) for check in shown)
    checks += f"<tr><td>pass</td><td>{more} more checks</td><td></td></tr>" if more else ""
    listed = "".join(
        f"<tr><td>{escape(name)}</td><td>{escape(value)}</td></tr>"
        for name, value in numbers(result)
    )
    cautions = "".join(f"<li>{escape(caution)}</li>" for caution in result.cautions)
    image = ""
    if picture is not None:
        # As an image: whatever the SVG holds, it runs nothing and loads nothing.
        packed = base64.b64encode(picture.encode()).decode()
        image = f'<img alt="picture of the answer" src="data:image/svg+xml;base64,{packed}">'
    return (
        f"<div><b>{type(result).__name__}: {escape(headline(result))}</b>"
        f"<p>{escape(result.headline)}</p>"
        f"<table>{checks}</table><table>{listed}</table>{image}<ul>{cautions}</ul></div>"
    )


def _check_row(check: CheckLike) -> str:
    cells = (check.verdict, check.name, check.message)
    return f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in cells)}</tr>"


def _spaced(name: str) -> str:
    return name.replace("_", " ")


def _tidy(value: str) -> str:
    """Take out what cannot be seen: controls that would steer the terminal among it."""
    spaced = (" " if character.isspace() else character for character in value)
    return "".join(each for each in spaced if unicodedata.category(each) not in _UNSEEN)


def _safe(value: str) -> str:
    disarmed = _CATCHES.sub(lambda found: f"{found[0]}\u200b", _tidy(value))
    return _MARKUP.sub(r"\\\1", disarmed)
