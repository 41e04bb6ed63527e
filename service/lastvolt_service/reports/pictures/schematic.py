"""A simple schematic: current tracks beside each other, post above, ground below."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any

from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest, with_relay
from lastvolt_service.operations.decision.wiring_table import Fitting
from lastvolt_service.operations.decision.work_sheet import WorkSheet, WorkSheetRequest
from lastvolt_service.operations.starting.starter import (
    HOLD_IN,
    MAIN,
    MOTOR,
    PULL_IN,
    StartSequenceRequest,
    with_starter,
)
from lastvolt_service.reports.pictures.heading import and_more
from lastvolt_service.reports.pictures.tracks import MINUS, PLUS, STARTER, Item, Track, tracks
from lastvolt_service.reports.plain import cut
from lastvolt_service.reports.svg import SOFT, WIDTH, Svg, fit, told_only, wrap
from lastvolt_service.words.amounts import amount

COLUMNS = 3
MOST_PARTS = 60
_COLUMN = (WIDTH - 24) / COLUMNS
_ITEM = 50.0
_END = 30.0
_SMALL = 10.0
_PEN = 2.0


def circuit_check_schematic(request: CircuitCheckRequest, answer: Any) -> str:
    """Draw the circuit of ``circuit-check`` as SVG."""
    return _draw("The circuit", tracks(request.circuit, answer.decisive_load))


def relay_retrofit_schematic(request: RelayRetrofitRequest, _answer: Any) -> str:
    """Draw the circuit of ``relay-retrofit`` as proposed, as SVG."""
    circuit = with_relay(request)
    title = f"The circuit with {cut(request.proposal.relay.name)}"
    return _draw(title, tracks(circuit, request.load))


def start_sequence_schematic(request: StartSequenceRequest, _answer: Any) -> str:
    """Draw the circuit of ``start-sequence``, the starter's windings and contact in it, as SVG."""
    starter = request.starter
    found = tracks(with_starter(request, back_v=starter.back_v), starter.called(MOTOR))
    own = {
        starter.called(name): (Item(symbol, name, amount(ohm, "ohm"), (number, "")), node)
        for symbol, name, ohm, number, node in (
            ("coil", PULL_IN, starter.pull_in_resistance_ohm, STARTER, starter.control_node),
            ("coil", HOLD_IN, starter.hold_in_resistance_ohm, STARTER, starter.control_node),
            ("make", MAIN, starter.contact_resistance_ohm, PLUS, starter.stud_node),
            ("motor", MOTOR, starter.motor_resistance_ohm, "", starter.motor_node),
        )
    }
    title = f"The circuit with {cut(starter.name)}"
    return _draw(title, [_with_starters_own(track, own) for track in found])


def _with_starters_own(track: Track, own: Mapping[str, tuple[Item, str]]) -> Track:
    """Draw what is reckoned as a contact or a load as the part of a starter that it is.

    Its terminal number stands at the end that is at that terminal's node.
    """
    items = []
    for item, above in zip(track.items, track.nodes, strict=False):
        part, node = own.get(item.name, (item, above))
        items.append(part if above == node else replace(part, numbers=part.numbers[::-1]))
    return replace(track, items=items)


def work_sheet_schematic(
    request: WorkSheetRequest, answer: WorkSheet, *, narrow: bool = False
) -> str:
    """Draw the circuit of ``work-sheet`` as SVG; none where there is no sheet.

    A narrow one is no wider than its tracks.
    """
    if answer.sheet != "ready":
        return told_only(answer.headline)
    found = tracks(Fitting.of(request).circuit, request.load)
    return _draw(f"The circuit with {cut(request.proposal.relay.name)}", found, narrow=narrow)


def _draw(title: str, found: Sequence[Track], *, narrow: bool = False) -> str:
    shown: list[Track] = []
    count = 0
    for track in found:
        if shown and count + len(track.items) > MOST_PARTS:
            break
        shown.append(replace(track, items=track.items[:MOST_PARTS]))
        count += len(track.items)
    left = sum(len(track.items) for track in found) - sum(len(track.items) for track in shown)
    rows = [shown[place : place + COLUMNS] for place in range(0, len(shown), COLUMNS)]
    heights = [max(2 * _END + _ITEM * len(track.items) for track in row) + 22 for row in rows]
    width = 24 + _COLUMN * min(COLUMNS, len(shown)) if narrow else WIDTH
    svg = Svg(44 + sum(heights) + (22 if left else 0), title, _told(shown), width)
    svg.text(12, 24, fit(title, width - 24, 15, bold=True), size=15, bold=True)
    top = 44.0
    joints = {node for track in found for node in _loose_ends(track)}
    for row, height in zip(rows, heights, strict=True):
        for column, track in enumerate(row):
            _draw_track(svg, track, 12 + column * _COLUMN, top, joints)
        top += height
    if left:
        svg.text(12, top + 10, and_more(left, "part"), ink=SOFT)
    return str(svg)


def _loose_ends(track: Track) -> list[str]:
    """Nodes that a track shares with one drawn elsewhere."""
    start = [] if track.at_post else [track.nodes[0]]
    return start + ([] if track.at_ground else [track.nodes[-1]])


def _draw_track(svg: Svg, track: Track, x: float, top: float, joints: AbstractSet[str]) -> None:
    wire = x + 20
    _draw_start(svg, track, wire, top)
    y = top + _END
    for place, item in enumerate(track.items):
        _draw_item(svg, item, wire, y)
        y += _ITEM
        below = track.nodes[place + 1]
        if below in joints and place + 1 < len(track.items):
            svg.circle((wire, y), 3)
            svg.text(
                wire + 10,
                y + 3,
                fit(below, _COLUMN - 34, _SMALL, bold=True),
                size=_SMALL,
                bold=True,
            )
    _draw_end(svg, track, wire, y)


def _draw_start(svg: Svg, track: Track, x: float, y: float) -> None:
    room = _COLUMN - 40
    if track.at_post:
        svg.line((x - 12, y + 4), (x + 12, y + 4), width=3)
        svg.text(
            x + 18, y + 9, fit(f"{PLUS}  {track.nodes[0]}", room, 11, bold=True), size=11, bold=True
        )
        svg.line((x, y + 4), (x, y + _END), width=_PEN)
    else:
        svg.circle((x, y + 5), 3)
        svg.text(
            x + 18, y + 9, fit(f"from {track.nodes[0]}", room, 11, bold=True), size=11, bold=True
        )
        svg.line((x, y + 8), (x, y + _END), width=_PEN)


def _draw_end(svg: Svg, track: Track, x: float, y: float) -> None:
    room = _COLUMN - 40
    svg.line((x, y), (x, y + 14), width=_PEN)
    if track.at_ground:
        for place, half in enumerate((10, 6, 2)):
            level = y + 14 + 4 * place
            svg.line((x - half, level), (x + half, level), width=_PEN)
        svg.text(
            x + 18,
            y + 20,
            fit(f"{MINUS}  {track.nodes[-1]}", room, 11, bold=True),
            size=11,
            bold=True,
        )
    else:
        svg.circle((x, y + 16), 3)
        svg.text(
            x + 18, y + 20, fit(f"to {track.nodes[-1]}", room, 11, bold=True), size=11, bold=True
        )


def _draw_item(svg: Svg, item: Item, x: float, y: float) -> None:
    _draw_symbol(svg, item.symbol, x, y)
    for number, level in zip(item.numbers, (y + 9, y + _ITEM - 3), strict=True):
        if number:
            svg.text(x - 5, level, number, size=_SMALL, anchor="end", bold=True)
    room = _COLUMN - 46
    lines = wrap(item.name, room, 11, 2)
    first = y + 20 - 6 * (len(lines) - 1)
    for place, line in enumerate(lines):
        svg.text(x + 22, first + 13 * place, line, size=11)
    detail = fit(item.detail, room, _SMALL)
    svg.text(x + 22, first + 13 * len(lines), detail, size=_SMALL, ink=SOFT)


# In a circle, as IEC 60617 draws machines; other loads alike.
_LETTERS = {"current": "I", "power": "P", "motor": "M", "charger": "G"}


def _draw_symbol(svg: Svg, symbol: str, x: float, y: float) -> None:
    upper, lower = y + 14, y + 34
    if symbol == "wire":
        svg.line((x, y), (x, y + _ITEM), width=_PEN)
        return
    svg.line((x, y), (x, upper), width=_PEN)
    svg.line((x, lower), (x, y + _ITEM), width=_PEN)
    middle = (upper + lower) / 2
    if symbol in {"switch", "make", "break", "relay"}:
        svg.circle((x, upper), 2)
        svg.circle((x, lower), 2)
        tip = (x + 1, upper) if symbol == "break" else (x - 10, upper + 2)
        svg.line((x, lower), tip, width=_PEN)
    elif symbol in {"resistance", "fuse"}:
        svg.box(x - 5, upper, 10, lower - upper)
        if symbol == "fuse":
            svg.line((x, upper), (x, lower), width=_PEN)
    elif symbol in {"coil", "solenoid"}:
        svg.box(x - 14, upper, 28, lower - upper)
        svg.line((x - 14, lower), (x + 14, upper), width=1.5)
        if symbol == "solenoid":
            svg.line((x - 14, upper), (x + 14, lower), width=1.5)
    elif symbol in _LETTERS:
        svg.circle((x, middle), 10, fill="#ffffff")
        svg.text(x, middle + 4, _LETTERS[symbol], size=11, anchor="middle")
    elif symbol == "lamp":
        svg.circle((x, middle), 10, fill="#ffffff")
        for side in (-7, 7):
            svg.line((x - 7, middle + side), (x + 7, middle - side), width=1.5)
    elif symbol == "battery":
        svg.line((x - 12, upper), (x + 12, upper), width=_PEN)
        svg.line((x - 6, lower), (x + 6, lower), width=_PEN)
    else:  # connectors, terminals, ground joints
        svg.line((x, upper), (x, lower), width=_PEN)
        svg.circle((x, middle), 5, fill="#ffffff")


def _told(shown: Sequence[Track]) -> str:
    said = []
    for track in shown:
        names = ", ".join(f"{item.name} ({item.detail})" for item in track.items)
        said.append(f"From {track.nodes[0]} through {names} to {track.nodes[-1]}.")
    return " ".join(said)
