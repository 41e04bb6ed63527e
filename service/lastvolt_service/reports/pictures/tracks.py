"""A circuit as current tracks, each from the post or a node drawn before down to the ground."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import (
    AnyLoad,
    CurrentLoad,
    LampLoad,
    MotorLoad,
    PowerLoad,
    SolenoidLoad,
)
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.reports.pictures.routes import Edge, edges, route
from lastvolt_service.units import Interval
from lastvolt_service.words.amounts import SYMBOLS, amount

# Terminal numbers of DIN 72552: battery plus, ground, starter control, and those of a relay.
PLUS, MINUS, STARTER = "30", "31", "50"
# A band of contacts is written in thousandths below this. [ohm]
MILLIOHMS_BELOW = 0.1
COIL, MAKE, BREAK = ("86", "85"), ("30", "87"), ("30", "87a")


@dataclass(frozen=True, slots=True)
class Item:
    """One symbol.

    Attributes
    ----------
    symbol : str
        Which one.
    name, detail : str
        Its labels.
    numbers : tuple of str
        Terminal numbers above and below it; empty where there is none.
    """

    symbol: str
    name: str
    detail: str
    numbers: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class Track:
    """Symbols in series.

    Attributes
    ----------
    nodes : sequence of str
        From above, one more than items.
    at_post, at_ground : bool
        Whether it starts at the post, and ends at the ground.
    items : sequence of Item
        From above.
    """

    nodes: Sequence[str]
    at_post: bool
    at_ground: bool
    items: Sequence[Item]


def tracks(circuit: Circuit, decisive: str) -> list[Track]:
    """Lay a circuit out, each part once.

    Parameters
    ----------
    circuit : Circuit
        As requested.
    decisive : str
        Name of the load that comes first.
    """
    plus, minus = circuit.posts
    parts = edges(circuit)
    met, drawn = {plus, minus}, set[int]()
    found = []

    def track(nodes: list[str], items: list[Item]) -> None:
        found.append(Track(nodes, nodes[0] == plus, nodes[-1] == minus, items))
        met.update(nodes)

    for (near, far), item in sorted(_consumers(circuit), key=lambda each: each[1].name != decisive):
        if near == minus or far == plus:
            near, far = far, near
        up = _walk(route(parts, plus, near) or [], plus, near)
        last = max((place for place, (node, _) in enumerate(up) if node in met), default=0)
        down = _walk(route(parts, far, minus) or [], far, far)
        first = next((place for place, (node, _) in enumerate(down) if node in met), len(down))
        way = [part for _, part in up[last + 1 :]]
        back = [part for _, part in down[1 : first + 1]]
        drawn.update(id(part) for part in (*way, *back))
        nodes = [node for node, _ in up[last:]] + [node for node, _ in down[: first + 1]]
        track(nodes, [*map(_item, way), item, *map(_item, back)])
    for part in parts:
        if id(part) not in drawn:
            track(list(part.nodes), [_item(part)])
    return found


def _walk(parts: Sequence[Edge], start: str, alone: str) -> list[tuple[str, Any]]:
    """Nodes on the way, each with the part that leads to it; the first has none."""
    if not parts:
        return [(alone, None)]
    found: list[tuple[str, Any]] = [(start, None)]
    for part in parts:
        found.append((part.other(found[-1][0]), part))
    return found


def _consumers(circuit: Circuit) -> Iterator[tuple[Sequence[str], Item]]:
    sides = Sides(circuit)
    for load in circuit.loads:
        above = STARTER if isinstance(load, SolenoidLoad) and _of_a_starter(load) else ""
        yield load.nodes, Item(load.kind, load.name, _load_detail(load), (above, ""))
    for source in circuit.further_sources:
        charges = isinstance(source, Charger)
        volts = source.regulated_v if isinstance(source, Charger) else source.open_circuit_v
        detail = f"{'charges at' if charges else 'battery,'} {_amount(volts, 'V')}"
        yield source.nodes, Item(source.kind, source.name, detail)
    for relay in circuit.relays:
        ohm: Any = relay.coil_resistance_ohm
        detail = f"coil {_amount(ohm, 'ohm')}"
        ends = sides.live_first(relay.coil_nodes)
        numbers = COIL if ends == tuple(relay.coil_nodes) else COIL[::-1]
        yield ends, Item("coil", relay.name, detail, numbers)


def _of_a_starter(load: SolenoidLoad) -> bool:
    return load.windings is not None or (load.circuit or "").startswith("starter")


def _load_detail(load: AnyLoad) -> str:
    if isinstance(load, SolenoidLoad):
        return "solenoid"
    if isinstance(load, CurrentLoad):
        return f"load of {_amount(load.current_a, 'A')}"
    if isinstance(load, LampLoad):
        return f"lamp of {_amount(load.rated_power_w, 'W')}"
    if isinstance(load, MotorLoad):
        return f"motor, {_amount(load.resistance_ohm, 'ohm')}"
    if isinstance(load, PowerLoad):
        return f"load of {_amount(load.power_w, 'W')}"
    return f"load of {_amount(load.resistance_ohm, 'ohm')}"


def _item(part: Edge) -> Item:
    asked = part.asked
    if part.kind == "wire":
        return Item("wire", part.name, f"{asked.size}, {_amount(asked.length_m, 'm')}")
    if part.kind == "relay":
        breaks = tuple(asked.break_nodes) == part.nodes
        return Item(
            "break" if breaks else "make",
            part.name,
            "its contact",
            BREAK if breaks else MAKE,
        )
    ohm = _amount(asked.resistance_ohm, "ohm")
    if part.kind == "resistance":
        return Item("resistance", part.name, ohm)
    rating = f", {_amount(asked.rating_a, 'A')}" if known(asked.rating_a) else ""
    return Item(asked.part, part.name, f"{asked.part}{rating}, {ohm}")


def _amount(value: float | Interval, unit: str) -> str:
    if isinstance(value, Interval) and unit == "ohm" and value.high < MILLIOHMS_BELOW:
        # Beside a symbol is no room for more, and a number cut in its middle is another.
        return f"{1e3 * value.low:.2g} to {1e3 * value.high:.2g} m{SYMBOLS[unit]}"
    if isinstance(value, Interval):
        return f"{value.low:.3g} to {amount(value.high, unit)}"
    return amount(value, unit)
