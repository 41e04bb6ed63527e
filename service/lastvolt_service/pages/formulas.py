"""Laws, principles and tables behind an operation, told by working its example and variants of it.

What a page shows is what numbers have met on their way, and what answers and their steps cite: it
cannot tell another story than the code does.
"""

import importlib
import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import cycle, takewhile
from typing import Any

from markupsafe import Markup, escape

from lastvolt_service import tables
from lastvolt_service.laws import REQUEST, Law, meeting
from lastvolt_service.operations.steps import ARITHMETIC, Step
from lastvolt_service.units import unit_of

Body = dict[str, Any]

_CODE = re.compile(r"(``?)([^`]+)\1")

# Wires of each table of conductors and of diameters, given in turn to the wires of an example.
_WIRES = (
    {"size": "12 SAE", "insulation": "GXL", "grouped_conductors": 3},
    {"size": "2.5 mm2", "standard": "ISO 6722", "insulation": "ISO class B"},
    {"size": "2.5 mm2", "standard": "IEC 60228", "insulation": "TXL"},
    {"size": "12 AWG", "material": "tinned_copper", "insulation": "GXL"},
)
_HOT = {"zone": None, "ambient_c": 50, "insulation_limit_c": 105}
_WARM_WIRE = {"name": "feed", "kind": "wire", "size": "12 SAE", "length_m": 5, "ambient_c": 60}
_BATTERY = {"nominal_v": 12, "cold_cranking_a": 700}
_PLUNGER = {"force_n": 40, "gap_mm": 6, "area_mm2": 400, "turns": 200, "resistance_ohm": 0.4}
# Whoever opens a page waits for what it works. Two fits, and decisions among many circuits, take
# seconds; the wires that one may have are told beside a single fit, check or retrofit.
_ONCE = frozenset({"gain-proof", "relay-choice", "remedy-choice", "work-sheet"})
# What the example of an operation leaves out, by the path to it; null takes a field away.
_CHANGES: Mapping[str, tuple[Mapping[str, Any], ...]] = {
    "conductors": tuple({"standard": each} for each in ("AWG", "IEC 60228", "ISO 6722")),
    "voltage-drop": (
        {"load_resistance_ohm": None, "load_power_w": 60},
        {"segments.0": {**_WARM_WIRE, "insulation": "GXL", "grouped_conductors": 3}},
    ),
    "wire-heating": (_HOT, {"on_time_s": 60, "off_time_s": 60}),
    "wire-sizing": (
        {**_HOT, "contacts_resistance_ohm": None},
        {"standard": "SAE", "circuit": "starter_control", "limit_drop_percent": None},
        {"standard": "ISO 6722"},
        {"standard": "IEC 60228"},
        {"material": "tinned_copper"},
    ),
    "fuse-selection": (_HOT, {"inrush_current_a": None, "load_profile": "lamp"}),
    "relay-contact": ({"inrush_current_a": None},),
    "solenoid-pull-in": ({"windings": None, "plunger": _PLUNGER},),
    "drop-diagnosis": ({"circuit": "starter_motor"}, {"working_current_a": 300}),
    "circuit-check": (
        {"circuit.source": {"plus": "battery post", "battery": _BATTERY}},
        {"circuit.branches.1.part": "fuse"},
    ),
}


@dataclass(frozen=True, slots=True)
class Formula:
    """A law as a page tells it: texts as safe HTML, and symbols with unit and meaning."""

    law: Law
    summary: Markup
    notes: list[Markup]
    symbols: list[tuple[str, str, Markup]]


@dataclass(frozen=True, slots=True)
class Table:
    """A table of published data: its file's name, what it holds, and where its rows come from."""

    name: str
    title: str
    sources: list[tables.Source]


@dataclass(frozen=True, slots=True)
class Explained:
    """What an operation rests on; principles are those that its steps name without a law."""

    formulas: list[Formula]
    principles: list[str]
    tables: list[Table]


def explain(
    name: str, example: Body, work: Callable[[Body], tuple[str, tuple[Step, ...]]]
) -> Explained:
    """Collect what an operation rests on.

    Parameters
    ----------
    name : str
        Of the operation.
    example : dict
        Its worked example.
    work : callable
        Gives the answer to a request, steps included, as text, and the steps.
    """
    texts, sources = "", dict[str, None]()
    with meeting() as met:
        for body in requests(name, example):
            text, steps = work(body)
            texts += text
            sources |= {step.source: None for step in steps if step.kind in {"computed", "solved"}}
    found = [table for table in _tables() if any(each.citation in texts for each in table.sources)]
    cited = {each.citation for table in found for each in table.sources}
    told = {REQUEST, ARITHMETIC, *cited, *(law.source for law in met.values())}
    return Explained(
        [formula(law) for law in met.values()],
        [source for source in sources if source not in told],
        found,
    )


def requests(name: str, example: Body) -> Iterator[Body]:
    """Give the worked example of an operation and what varies it."""
    yield example
    if name in _ONCE:
        return
    count = str(example).count("'size':")
    for first in range(0, len(_WIRES) if count else 0, count or 1):
        yield _rewired(example, cycle(_WIRES[first:] + _WIRES[:first]))
    for changes in _CHANGES.get(name, ()):
        body = deepcopy(example)
        for path, value in changes.items():
            *above, last = (int(key) if key.isdigit() else key for key in path.split("."))
            inner: Any = body
            for key in above:
                inner = inner[key]
            inner[last] = value
        yield {key: value for key, value in body.items() if value is not None}


def _rewired(value: Any, wires: Iterator[Mapping[str, Any]]) -> Any:
    """Copy a request with other wires in it, insulated only where its own are."""
    if isinstance(value, list):
        return [_rewired(each, wires) for each in value]
    if not isinstance(value, Mapping):
        return value
    found = {key: _rewired(each, wires) for key, each in value.items()}
    if "size" in found:
        bare = {"size", "standard", "material"}
        put = next(wires).items()
        found |= {key: each for key, each in put if key in bare or "insulation" in found}
    return found


def formula(law: Law) -> Formula:
    """Tell a law, with what the docstring of its function says of meaning and validity."""
    text = inspect.getdoc(getattr(importlib.import_module(law.module), law.name)) or ""
    notes = _section(text, "Notes").split("\n\n")
    given = _meanings(_section(text, "Parameters"))
    meanings = {name: given.get(name, "") for name in law.parameters}
    meanings |= {each.symbol: f"{each.meaning} ({each.source})" for each in law.constants}
    meanings |= {line.symbol: line.meaning for line in law.lines}
    units = {name: unit.symbol if (unit := unit_of(name)) else "1" for name in meanings}
    units |= {each.symbol: each.unit for each in law.constants}
    return Formula(
        law,
        html(text.partition("\n\n")[0]),
        [html(note) for note in notes if note],
        [(name, units[name], html(meaning)) for name, meaning in meanings.items()],
    )


def _section(text: str, heading: str) -> str:
    """The section of a docstring under a heading, up to the next one."""
    _, _, below = text.partition(f"\n\n{heading}\n{'-' * len(heading)}\n")
    own, _, _ = below.partition("\n---")
    return own.rpartition("\n\n")[0] if own != below else own


def _meanings(section: str) -> dict[str, str]:
    """Meanings of parameters, without their units."""
    found: dict[str, str] = {}
    names: list[str] = []
    for line in section.splitlines():
        if line.startswith(" "):
            found |= {name: f"{found.get(name, '')} {line}".split(" [")[0] for name in names}
        else:
            names = line.partition(" : ")[0].split(", ")
    return found


def html(text: str) -> Markup:
    """Escape a text; what stands in backticks is code."""
    plain = str(escape(" ".join(text.split())))
    return Markup(_CODE.sub(r"<code>\2</code>", plain))  # noqa: S704  (escaped one line above)


@cache
def _tables() -> tuple[Table, ...]:
    """All tables, each with its title from the comment at the head of its sources."""
    found = []
    for entry in sorted(files(tables).iterdir(), key=lambda entry: entry.name):
        name, _, ending = entry.name.rpartition(".")
        if ending == "toml":
            lines = entry.read_text("utf-8").splitlines()
            comment = takewhile(lambda line: line[:1] == "#", lines)
            title = " ".join(line.lstrip("# ") for line in comment)
            found.append(Table(name, title, list(tables.sources(name).values())))
    return tuple(found)
