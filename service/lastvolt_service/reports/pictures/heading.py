"""What every picture begins with: its title, and what it comes to in a sentence."""

from lastvolt_service.reports.plain import shorten
from lastvolt_service.reports.svg import WIDTH, Svg, fit, wrap

SMALL = 11.0
SIDE = 12.0
_LINE = 14.0


def headed(title: str, told: str, below: float, *, lines: int = 4, desc: str = "") -> Svg:
    """Begin a picture that has so much below its heading.

    Parameters
    ----------
    title, told : str
        The title, and what the answer comes to.
    below : float
        Height of what comes below, which begins at `top` of the same `told` and `lines`.
    lines : int
        How many the sentence may take.
    desc : str
        What screen readers are told beside it.
    """
    svg = Svg(top(told, lines) + below, title, f"{told} {desc}")
    svg.text(
        SIDE, 24, fit(title, WIDTH - 2 * SIDE, 15, bold=True, shorter=shorten), size=15, bold=True
    )
    for index, line in enumerate(_told(told, lines)):
        svg.text(SIDE, 42 + _LINE * index, line, size=SMALL)
    return svg


def top(told: str, lines: int = 4) -> float:
    """Tell how far down a heading reaches."""
    return 34.0 + _LINE * len(_told(told, lines))


def and_more(left: int, noun: str) -> str:
    """Say how many were left off."""
    return f"and {left} more {noun}{'' if left == 1 else 's'}"


def _told(told: str, lines: int) -> list[str]:
    return wrap(told, WIDTH - 2 * SIDE, SMALL, lines, shorter=shorten)
