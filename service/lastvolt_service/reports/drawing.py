"""Which pictures there are, and how they become pixels."""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from lastvolt_service.reports.pictures.choices import relay_choice_picture
from lastvolt_service.reports.pictures.curves import (
    solenoid_pull_in_picture,
    wire_heating_picture,
)
from lastvolt_service.reports.pictures.fits import circuit_fit_readings, circuit_fit_values
from lastvolt_service.reports.pictures.paths import (
    circuit_check_picture,
    relay_retrofit_picture,
    voltage_drop_picture,
)
from lastvolt_service.reports.pictures.proofs import gain_proof_picture
from lastvolt_service.reports.pictures.recordings import recording_picture
from lastvolt_service.reports.pictures.remedies import remedy_choice_ageing, remedy_choice_picture
from lastvolt_service.reports.pictures.schematic import (
    circuit_check_schematic,
    relay_retrofit_schematic,
    start_sequence_schematic,
    work_sheet_schematic,
)
from lastvolt_service.reports.pictures.starts import start_sequence_picture

Draw = Callable[[Any, Any], str]  # of request and answer

# The first of an operation is the one that is drawn when none is asked for.
PICTURES: Mapping[str, Mapping[str, Draw]] = {
    "voltage-drop": {"voltage": voltage_drop_picture},
    "wire-heating": {"temperature": wire_heating_picture},
    "solenoid-pull-in": {"voltage": solenoid_pull_in_picture},
    "circuit-check": {"voltage": circuit_check_picture, "schematic": circuit_check_schematic},
    "relay-retrofit": {"voltage": relay_retrofit_picture, "schematic": relay_retrofit_schematic},
    "remedy-choice": {"voltage": remedy_choice_picture, "ageing": remedy_choice_ageing},
    "relay-choice": {"places": relay_choice_picture},
    "start-sequence": {"stages": start_sequence_picture, "schematic": start_sequence_schematic},
    "circuit-fit": {"values": circuit_fit_values, "readings": circuit_fit_readings},
    "gain-proof": {"voltage": gain_proof_picture},
    "recording": {"time": recording_picture},
    "work-sheet": {"schematic": work_sheet_schematic},
}
# Pixels for each pixel of the drawing: sharp on today's screens and when printed, or one where the
# picture would get too heavy for a post.
ZOOM = 1.5
HEAVY = 60_000


class NoRenderer(Exception):
    """What makes pixels is not installed; the text says what is missing."""


def to_png(svg: str) -> bytes:
    """Turn a drawing into pixels.

    Returns
    -------
    bytes
        PNG.

    Raises
    ------
    NoRenderer
        If the extra ``pictures`` or a font is missing.
    """
    try:
        has_font = _has_font()
    except ImportError as error:
        raise NoRenderer(
            "This service makes no PNG: it was installed without the extra lastvolt[pictures]. "
            "Ask for .svg."
        ) from error
    if not has_font:
        raise NoRenderer("This service makes no PNG: it has no font. Ask for .svg.")
    sharp = _render(svg, ZOOM)
    return sharp if len(sharp) <= HEAVY else _render(svg, 1)


def _render(svg: str, zoom: float) -> bytes:
    import resvg_py  # the extra "pictures"

    return bytes(resvg_py.svg_to_bytes(svg_string=svg, zoom=zoom))


@cache
def _has_font() -> bool:
    """Whether a letter leaves a mark: without a font the renderer leaves all text out."""
    frame = '<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20">{}</svg>'
    letter = '<text x="2" y="16" font-family="DejaVu Sans, sans-serif">W</text>'
    return _render(frame.format(letter), 1) != _render(frame.format(""), 1)
