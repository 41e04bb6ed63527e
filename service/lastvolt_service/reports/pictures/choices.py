"""Which relay does in which place: a field each, with its rank or what speaks against it."""

from collections.abc import Mapping, Sequence
from typing import Any

from lastvolt_service.operations.decision.choice_told import Ranked, Rejected, WiredPlace
from lastvolt_service.operations.decision.relay_choice import RelayChoice
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, and_more, headed, top
from lastvolt_service.reports.plain import cut, shorten, with_short_names
from lastvolt_service.reports.svg import FAINT, SOFT, WIDTH, Svg, wrap
from lastvolt_service.words import catalogue
from lastvolt_service.words.amounts import amount

# Those that do, the best first, are always the first of them.
MOST_RELAYS = 24
_NAMES, _TINY, _LINE = 112.0, 10.0, 12.0
_ROW, _MARGIN = 47.0, 8.0
_WHY: Mapping[str, str] = {
    "no_answer": "no answer",
    "mend_before": "mend first",
    "low_supply": "too little there",
    "ambient": "too hot for any wire",
    "fixed_drop": "too much lost elsewhere",
    "no_size": "no wire does",
    "no_fuse": "no fuse does",
    "no_current": "draws nothing there",
}
_Found = Ranked | Rejected | None


def relay_choice_picture(request: Any, answer: RelayChoice) -> str:
    """Draw relays and places as a table of what was found, the winner framed, as SVG."""
    relays, left = _relays(request, answer)
    fields = _fields(answer)
    told = with_short_names(answer.headline, request)
    width = (WIDTH - 2 * SIDE - _NAMES) / len(answer.places)
    columns = [SIDE + _NAMES + width * place for place in range(len(answer.places))]
    heads = [(*_head(place, width - 8), x) for place, x in zip(answer.places, columns, strict=True)]
    head = _LINE * max(len(name) + len(wiring) for name, wiring, _ in heads) + 14
    below = _MARGIN + head + _ROW * len(relays) + (18 if left else 0) + _MARGIN
    said = " ".join(_said(name, answer.places, fields) for name in relays)
    svg = headed("Which relay, and where", told, below, desc=said)
    y = top(told) + _MARGIN
    for name, wiring, x in heads:
        _draw_lines(svg, name, x, y + 12, size=SMALL, bold=True)
        _draw_lines(svg, wiring, x, y + 14 + _LINE * len(name), size=_TINY, ink=SOFT)
    y += head
    for relay in relays:
        svg.line((SIDE, y), (WIDTH - SIDE, y), ink=FAINT)
        _draw_lines(svg, wrap(relay, _NAMES - 10, SMALL, 3), SIDE, y + 14, size=SMALL)
        for place, x in zip(answer.places, columns, strict=True):
            found = _found(fields, relay, place.name)
            _draw_field(svg, answer, found, x, y, width - 8)
        y += _ROW
    if left:
        svg.text(SIDE, y + 12, and_more(left, "relay"), ink=SOFT)
    return str(svg)


def _relays(request: Any, answer: RelayChoice) -> tuple[list[str], int]:
    """Names of the relays that are drawn, and how many others there are."""
    names = dict.fromkeys([each.candidate for each in answer.ranking])
    names |= dict.fromkeys(each.name for each in request.candidates)
    return list(names)[:MOST_RELAYS], max(0, len(names) - MOST_RELAYS)


def _fields(answer: RelayChoice) -> dict[tuple[str | None, str], _Found]:
    """What was found of a relay in a place; of None, of any relay there."""
    found: dict[tuple[str | None, str], _Found] = {}
    for rejected in answer.rejected:
        found |= dict.fromkeys(((rejected.candidate, name) for name in rejected.places), rejected)
    return found | {(each.candidate, each.place): each for each in answer.ranking}


def _found(fields: Mapping[tuple[str | None, str], _Found], name: str, place: str) -> _Found:
    return fields.get((name, place)) or fields.get((None, place))


def _head(place: WiredPlace, room: float) -> tuple[list[str], list[str]]:
    """Lines of a place: its name, and its heat and wiring."""
    said = f"{amount(place.ambient_c, 'degC')}, {amount(place.length_m, 'm')}"
    if place.size is not None and place.fuse_rating_a is not None:
        said += f", {place.size}, fuse {amount(place.fuse_rating_a, 'A')}"
    return wrap(place.name, room, SMALL, 3, bold=True), wrap(said, room, _TINY, 3, shorter=shorten)


def _draw_field(
    svg: Svg, answer: RelayChoice, found: _Found, x: float, y: float, room: float
) -> None:
    if found is None:
        _draw_lines(svg, wrap("not looked at", room, _TINY, 3), x, y + 14, size=_TINY, ink=SOFT)
        return
    if isinstance(found, Rejected):
        lines = wrap(_why(found), room, _TINY, 3, shorter=shorten)
        _draw_lines(svg, lines, x, y + 14, size=_TINY, ink=SOFT)
        return
    best = answer.best
    if best is not None and (found.candidate, found.place) == (best.candidate, best.place):
        svg.box(x - 5, y + 2, room + 8, _ROW - 4)
    svg.text(x, y + 17, _rank(found), bold=True)
    _draw_lines(svg, wrap(_spare(found), room, _TINY, 2, shorter=shorten), x, y + 29, size=_TINY)


def _why(found: Rejected) -> str:
    name = _WHY.get(found.code) or catalogue()["relay-choice"].name(found.code)
    return name if found.verdict == "fail" else f"to find out: {name}"


def _rank(found: Ranked) -> str:
    return f"no. {found.rank}"


def _spare(found: Ranked) -> str:
    return f"{amount(found.margin_v, 'V')} to spare{'' if found.has_reserve else ', little'}"


def _draw_lines(
    svg: Svg, lines: Sequence[str], x: float, y: float, *, size: float, **how: Any
) -> None:
    for index, line in enumerate(lines):
        svg.text(x, y + _LINE * index, line, size=size, **how)


def _said(
    name: str,
    places: Sequence[WiredPlace],
    fields: Mapping[tuple[str | None, str], _Found],
) -> str:
    told = []
    for place in places:
        found = _found(fields, name, place.name)
        if isinstance(found, Ranked):
            told.append(f"{cut(place.name)}: {_rank(found)}, {_spare(found)}")
        else:
            told.append(f"{cut(place.name)}: {_why(found) if found else 'not looked at'}")
    return f"{cut(name)}: {'; '.join(told)}."
