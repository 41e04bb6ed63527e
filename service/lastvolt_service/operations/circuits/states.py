"""How a circuit at rest is told: every node, part, load and relay of a case."""

from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.operations.judging import Verdict
from lastvolt_service.operations.results import Check
from lastvolt_service.rows import number


@dataclass(frozen=True, slots=True)
class NodeVoltage:
    """Voltage of a node."""

    name: Annotated[str, "the node"]
    voltage_v: Annotated[float, "against the ground"]


@dataclass(frozen=True, slots=True)
class PartState:
    """A branch or a relay's contact at rest."""

    name: Annotated[str, "the part as the request names it"]
    kind: Annotated[str, "wire, contact, resistance or relay"]
    current_a: Annotated[float, "from its first node to its second"]
    drop_v: Annotated[float, "of its first node against its second"]
    power_w: Annotated[float, "heat made in it"]
    temperature_c: Annotated[
        float | None,
        "of a wire's conductor; null for other parts, and for a wire that heats up without end",
    ]


@dataclass(frozen=True, slots=True)
class LoadState:
    """A load at rest."""

    name: Annotated[str, "the load as the request names it"]
    voltage_v: Annotated[float, "across it"]
    current_a: Annotated[float, "through it"]
    power_w: Annotated[float, "that it takes"]
    needed_v: Annotated[float | None, "lowest voltage that it works at in this case"]
    margin_v: Annotated[float | None, "voltage_v over needed_v"]


@dataclass(frozen=True, slots=True)
class RelayState:
    """A relay at rest."""

    name: Annotated[str, "the relay as the request names it"]
    energised: Annotated[bool, "whether it has pulled in"]
    chatters: Annotated[bool, "whether it neither holds nor releases"]
    coil_v: Annotated[float, "voltage at its coil"]
    coil_temperature_c: Annotated[float, "of its coil, warm from use"]
    pick_up_v: Annotated[float, "that closes it at that temperature"]
    drop_out_v: Annotated[float, "below which it opens"]


Output = Literal["load_voltage", "load_margin", "coil_voltage", "coil_margin"]


@dataclass(frozen=True, slots=True)
class OutputSpread:
    """What an output does within the bounds of all inputs."""

    code: Annotated[Output, "load_voltage, load_margin, coil_voltage or coil_margin"]
    part: Annotated[str, "the load or the relay"]
    nominal_v: Annotated[float, "with all inputs in the middle of their bounds"]
    low_v: Annotated[float, "the least that was found"]
    high_v: Annotated[float, "the most that was found"]
    is_about: Annotated[
        bool,
        "whether a relay or a load switches within the bounds, so that just before or after that "
        "there may be less or more",
    ]


@dataclass(frozen=True, slots=True)
class Influence:
    """What one input does to the decisive load."""

    input: Annotated[str, "JSON path of the input in the request, parts separated by slashes"]
    change_v: Annotated[
        float, "change of the decisive load's voltage from the low to the high end of the input"
    ]


@dataclass(frozen=True, slots=True)
class SourceState:
    """A further battery or a charger at rest."""

    name: Annotated[str, "the source as the request names it"]
    voltage_v: Annotated[float, "at its posts"]
    current_a: Annotated[float, "out of its positive post; below zero it is charged"]


@dataclass(frozen=True, slots=True)
class CaseState:
    """The circuit in one case."""

    name: Annotated[str, "the case as the request names it"]
    verdict: Annotated[Verdict, "the worst of its checks"]
    duration_s: Annotated[float | None, "how long it was reckoned to last; null for ever"]
    source_v: Annotated[float, "at the posts of the source, with its current flowing"]
    source_current_a: Annotated[float, "out of the positive post"]
    nodes: Annotated[tuple[NodeVoltage, ...], "every node"]
    parts: Annotated[
        tuple[PartState, ...], "every branch and relay contact, in the order of the request"
    ]
    loads: Annotated[tuple[LoadState, ...], "every load"]
    relays: Annotated[tuple[RelayState, ...], "every relay"]
    further_sources: Annotated[tuple[SourceState, ...], "every other battery, and what charges"]
    checks: Annotated[tuple[Check, ...], "every check of every part"]
    spreads: Annotated[tuple[OutputSpread, ...], "empty where no input is an interval"]
    influences: Annotated[tuple[Influence, ...], "of the inputs that are, strongest first"]
    residual_a: Annotated[float, "largest sum of currents into a node, which should be zero"]
    iterations: Annotated[int, "linear systems that were solved"]


def node_voltages(state: State) -> tuple[NodeVoltage, ...]:
    """Tell the voltage of every node."""
    names = state.model.network.node_names
    voltages = (state.model.sign * state.solution.node_voltage_v + 0.0).tolist()
    return tuple(map(NodeVoltage, names, voltages))


def part_states(state: State) -> tuple[PartState, ...]:
    """Tell every branch and relay contact, in the order of the request."""
    warm, sign = map(number, state.wire_temperatures_c), state.model.sign
    powers = (
        power
        for group in ("wires", "resistors", "contacts")
        for power in state.flow(group).power_w.tolist()
    )
    found = [
        PartState(part.name, part.kind, sign * amps, sign * drop, power, next(warm, None))
        for (part, drop, amps), power in zip(
            state.carrying("wires", "resistors", "contacts"), powers, strict=True
        )
        if not part.is_load
    ]
    return tuple(sorted(found, key=lambda told: state.model.order[told.name]))


def load_states(state: State) -> tuple[LoadState, ...]:
    """Tell every load, in the order of the request."""
    powers = (power for group in LOAD_GROUPS for power in state.flow(group).power_w.tolist())
    found = []
    for (part, volts, amps), power in zip(state.carrying(*LOAD_GROUPS), powers, strict=True):
        if part.is_load:
            margin = None if part.needed_v is None else volts - part.needed_v
            found.append(LoadState(part.name, volts, amps, power, part.needed_v, margin))
    return tuple(sorted(found, key=lambda told: state.model.order[told.name]))


def source_states(state: State) -> tuple[SourceState, ...]:
    """Tell every source but the battery, in the order of the request."""
    found = [
        SourceState(part.name, volts, amps)
        for part, volts, amps in state.carrying("sources", "chargers")
        if part.name
    ]
    return tuple(sorted(found, key=lambda told: state.model.order[told.name]))


def relay_states(state: State) -> tuple[RelayState, ...]:
    """Tell every relay."""
    solution = state.solution
    return tuple(
        RelayState(
            relay.name,
            bool(solution.energised[index]),
            index in solution.chatter,
            abs(float(solution.coils.drop_v[index])),
            relay.coil_c,
            relay.pick_up_v,
            relay.drop_out_v,
        )
        for index, relay in enumerate(state.model.relays)
    )
