"""A small writer of SVG: text stays text, everything from outside is escaped, nothing is loaded."""

import math
import unicodedata
from collections.abc import Callable, Iterable
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from lastvolt_service.reports.plain import cut, shorten, tidy

Shorter = Callable[[str, int], str]

WIDTH = 600
FONTS = "DejaVu Sans, Verdana, Arial, Helvetica, sans-serif"
INK = "#111111"
SOFT = "#5f5f5f"
FAINT = "#d5d5d5"
# Far apart in lightness too, so that they differ in grey; shape or dash differs as well.
ACCENT = "#0b5394"
WARN = "#b45309"
# Of letters, their width over their height in the widest of the fonts above, and in its bold.
_WIDTHS = {
    letter: (regular, bold)
    for letters, regular, bold in (
        (" .,:;'|ijlI", 0.34, 0.4),
        ("!()-/[]frt", 0.42, 0.5),
        ("DGHNOQU&\u03a9", 0.79, 0.88),
        ("+<=>#~\u2212", 0.84, 0.84),
        ("Mw", 0.87, 1.0),
        ("%@Wm\u2014\u2026", 1.0, 1.11),
    )
    for letter in letters
}
_CAPITAL, _LETTER, _SQUARE = (0.7, 0.78), (0.64, 0.72), (1.16, 1.16)
# From one slanting line to the next, in pixels.
_HATCH = 5.0

Point = tuple[float, float]


def number(value: float) -> str:
    """Write a coordinate.

    Returns
    -------
    str
        With one decimal at most.
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Estimate how wide a text gets at most.

    Returns
    -------
    float
        In pixels.
    """
    return sum(_width(each)[bold] for each in text) * size


@lru_cache(maxsize=4096)
def _width(letter: str) -> tuple[float, float]:
    if letter in _WIDTHS:
        return _WIDTHS[letter]
    if unicodedata.east_asian_width(letter) in "WF":
        return _SQUARE
    return _CAPITAL if letter.isupper() else _LETTER


def fit(text: str, width: float, size: float, *, bold: bool = False, shorter: Shorter = cut) -> str:
    """Shorten a text to a width.

    Parameters
    ----------
    text : str
        Any text.
    width, size : float
        Room for it, and of its letters, in pixels.
    bold : bool
        Whether it is written so.
    shorter : callable
        How: `cut` for a name, `shorten` for a sentence.
    """
    text = tidy(text)
    longest = len(text)
    while longest > 1 and text_width(shorter(text, longest), size, bold=bold) > width:
        longest -= 1
    return shorter(text, longest)


def wrap(
    text: str,
    width: float,
    size: float,
    lines: int,
    *,
    bold: bool = False,
    shorter: Shorter = cut,
) -> list[str]:
    """Break a text into lines; the last one is shortened.

    Parameters
    ----------
    text : str
        Any text.
    width, size : float
        Room for each line, and of its letters, in pixels.
    lines : int
        How many there may be.
    bold : bool
        Whether it is written so.
    shorter : callable
        As for `fit`.
    """
    found: list[str] = []
    left = tidy(text)
    while left and len(found) < lines - 1:
        words = left.split(" ")
        count = len(words)
        while count > 1 and text_width(" ".join(words[:count]), size, bold=bold) > width:
            count -= 1
        if text_width(words[0], size, bold=bold) > width:
            break
        found.append(" ".join(words[:count]))
        left = " ".join(words[count:])
    return [*found, fit(left, width, size, bold=bold, shorter=shorter)] if left else found


class Svg:
    """One drawing in the making.

    Parameters
    ----------
    height : float
        In pixels.
    title, description : str
        What screen readers say of it.
    width : float
        In pixels.
    """

    def __init__(self, height: float, title: str, description: str, width: float = WIDTH) -> None:
        self.height, self.width = height, width
        self._title = tidy(title)
        self._description = tidy(description)
        self._parts: list[str] = []

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = 12,
        anchor: str = "start",
        bold: bool = False,
        ink: str = INK,
        clear: bool = False,
    ) -> None:
        """Write a line of text, its base line at y; `clear` wipes what lies below it."""
        weight = ' font-weight="bold"' if bold else ""
        where = "" if anchor == "start" else f' text-anchor="{anchor}"'
        if clear:
            width = text_width(text, size, bold=bold)
            left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * width
            self._parts.append(
                f'<rect x="{number(left - 1)}" y="{number(y - size)}" width="{number(width + 2)}" '
                f'height="{number(1.3 * size)}" fill="#ffffff"/>'
            )
        colour = "" if ink == INK else f' fill="{ink}"'
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{where}{weight}'
            f"{colour}>{escape(tidy(text))}</text>"
        )

    def line(
        self, start: Point, end: Point, *, width: float = 1, ink: str = INK, dash: str = ""
    ) -> None:
        """Draw a straight line."""
        (x1, y1), (x2, y2) = start, end
        self._parts.append(
            f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
            f"{_pen(width, ink, dash)}/>"
        )

    def path(
        self, points: Iterable[Point], *, width: float = 1, ink: str = INK, dash: str = ""
    ) -> None:
        """Draw a line through points."""
        listed = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        self._parts.append(
            f'<polyline points="{listed}" fill="none" stroke-linejoin="round"'
            f"{_pen(width, ink, dash)}/>"
        )

    def shape(self, points: Iterable[Point], *, ink: str = INK) -> None:
        """Fill the area between points."""
        listed = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        self._parts.append(f'<polygon points="{listed}" fill="{ink}"/>')

    def box(
        self, x: float, y: float, width: float, height: float, *, fill: str = "#ffffff"
    ) -> None:
        """Draw a rectangle by its upper left corner."""
        self._parts.append(
            f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" '
            f'height="{number(height)}" fill="{fill}"{_pen(1.5, INK, "")}/>'
        )

    def hatched(self, x: float, y: float, width: float, height: float) -> None:
        """Draw a rectangle filled with slanting lines, which show without colour, too."""
        self.box(x, y, width, height)
        points: list[Point] = []
        for place in range(1, math.ceil((width + height) / _HATCH)):
            left = x - height + _HATCH * place
            low, high = max(left, x), min(left + height, x + width)
            ends = [(low, y + height - (low - left)), (high, y + height - (high - left))]
            corner = (x, y + height)
            if place % 2 == 0:  # back again: one line in all, which runs along the edges between
                ends, corner = ends[::-1], (x + width, y)
            if points and points[-1][0] != ends[0][0] and points[-1][1] != ends[0][1]:
                points.append(corner)
            points += ends
        self.path(points)

    def circle(self, centre: Point, radius: float, *, fill: str = INK, width: float = 1.5) -> None:
        """Draw a circle."""
        x, y = centre
        self._parts.append(
            f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" '
            f'fill="{fill}"{_pen(width, INK, "")}/>'
        )

    def __str__(self) -> str:
        """Write the whole drawing."""
        size = f'width="{number(self.width)}" height="{number(self.height)}"'
        view = f'viewBox="0 0 {number(self.width)} {number(self.height)}"'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} role="img" '
            f'aria-labelledby="title desc" font-family={quoteattr(FONTS)} fill="{INK}">'
            f'<title id="title">{escape(self._title)}</title>'
            f'<desc id="desc">{escape(self._description)}</desc>'
            f'<rect {size} fill="#ffffff"/>{"".join(self._parts)}</svg>\n'
        )


def _pen(width: float, ink: str, dash: str) -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{ink}" stroke-width="{number(width)}"{dashes}'


def told_only(text: str) -> str:
    """Write a text in place of a drawing that would have nothing to show."""
    svg = Svg(60, text, text)
    for index, line in enumerate(wrap(text, WIDTH - 24, 15, 2, shorter=shorten)):
        svg.text(12, 26 + 18 * index, line, size=15, bold=True)
    return str(svg)
