"""Where to hold a meter's leads before and after, and what it should show."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.states import node_voltages
from lastvolt_service.operations.decision.sheet_words import sentence
from lastvolt_service.operations.decision.wiring_table import Fitting

ReadingCode = Literal[
    "supply",
    "across_load",
    "live_side",
    "ground_side",
    "across_switch",
    "across_contact",
    "across_coil",
]


@dataclass(frozen=True, slots=True)
class Expected:
    """What the meter should show in one case."""

    case: Annotated[str, "the case as the request names it"]
    as_is_v: Annotated[float | None, "before; null where there is nothing to measure yet"]
    with_relay_v: Annotated[float | None, "with the relay, and nothing else changed"]


@dataclass(frozen=True, slots=True)
class SheetReading:
    """One reading, with the switch closed and the load on."""

    number: Annotated[int, "of the line"]
    code: Annotated[ReadingCode, "what is measured"]
    red: Annotated[str, "where the red lead goes: a node, or a part with its terminal"]
    black: Annotated[str, "where the black lead goes"]
    expected: Annotated[tuple[Expected, ...], "in every case, in the order of the request"]
    text: Annotated[str, "what it tells"]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a lead goes: what it is called, and its node as it is and with the relay."""

    label: str
    as_is: str | None
    with_relay: str


def readings(
    fit: Fitting, as_is: Sequence[State], with_relay: Sequence[State], cases: Sequence[str]
) -> tuple[SheetReading, ...]:
    """Tell each reading of a sheet, its red lead where there is plus.

    Parameters
    ----------
    fit : Fitting
        The relay in its circuit.
    as_is, with_relay : sequence of State
        At rest, case by case.
    cases : sequence of str
        Names of these.
    """
    before, after = [_volts(each) for each in as_is], [_volts(each) for each in with_relay]
    found = []
    for number, (code, first, second) in enumerate(_places(fit), 1):
        expected = [
            Expected(
                name,
                _between(first.as_is, second.as_is, old),
                _between(first.with_relay, second.with_relay, new),
            )
            for name, old, new in zip(cases, before, after, strict=True)
        ]
        shown = [v for each in expected for v in (each.as_is_v, each.with_relay_v) if v is not None]
        red, black = first.label, second.label
        if sum(shown) < 0.0:
            red, black = black, red
            expected = [_turned(each) for each in expected]
        text = sentence(code, load=fit.old.name, switch=fit.asked.switch)
        found.append(SheetReading(number, code, red, black, tuple(expected), text))
    return tuple(found)


def note(fit: Fitting) -> str:
    """What to heed with the meter."""
    pulls_in = isinstance(fit.old, SolenoidLoad)
    return sentence("meter_note", load=fit.old.name, pulls_in=pulls_in, switch=fit.asked.switch)


def _places(fit: Fitting) -> Iterator[tuple[ReadingCode, _Place, _Place]]:
    circuit, relay = fit.circuit, fit.circuit.relays[-1]
    live, ground = ((_same(node)) for node in circuit.posts)
    new_live, new_ground = fit.moved.nodes
    at_load = _Place(f"{fit.old.name} [{fit.terminal}]", fit.terminal, new_live)
    at_ground = _Place(f"{fit.old.name} [{fit.ground}]", fit.ground, new_ground)
    switch = next(each for each in circuit.branches if each.name == fit.asked.switch)
    near, far = (_same(node) for node in switch.nodes)
    yield "supply", live, ground
    yield "across_load", at_load, at_ground
    yield "live_side", live, at_load
    yield "ground_side", at_ground, ground
    yield "across_switch", near, far
    at_30, at_87 = (
        _new(relay.name, *each) for each in zip(("30", "87"), relay.contact_nodes, strict=True)
    )
    at_86, at_85 = (
        _new(relay.name, *each) for each in zip(("86", "85"), relay.coil_nodes, strict=True)
    )
    yield "across_contact", at_30, at_87
    yield "across_coil", at_86, at_85


def _same(node: str) -> _Place:
    return _Place(node, node, node)


def _new(relay: str, terminal: str, node: str) -> _Place:
    return _Place(f"{relay} [{terminal}]", None, node)


def _volts(state: State) -> Mapping[str, float]:
    return {each.name: each.voltage_v for each in node_voltages(state)}


def _between(first: str | None, second: str | None, volts: Mapping[str, float]) -> float | None:
    """Voltage of one node against another; None where a case leaves one of them out."""
    if first is None or second is None or first not in volts or second not in volts:
        return None
    return volts[first] - volts[second] + 0.0


def _turned(each: Expected) -> Expected:
    old, new = (None if v is None else 0.0 - v for v in (each.as_is_v, each.with_relay_v))
    return Expected(each.case, old, new)
