"""Step pictures of the operations that have a path."""

from collections.abc import Sequence
from typing import Any

from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.states import (
    LoadState,
    NodeVoltage,
    PartState,
    load_states,
    node_voltages,
    part_states,
)
from lastvolt_service.operations.decision.proposal import (
    RelayRetrofitRequest,
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.wires.drop_request import VoltageDropRequest
from lastvolt_service.operations.wires.voltage_drop import VoltageDrop
from lastvolt_service.reports.pictures.routes import edges, route
from lastvolt_service.reports.pictures.steps import Step, Way, draw_steps
from lastvolt_service.reports.plain import cut
from lastvolt_service.reports.svg import told_only

NEEDED = "needed"


def voltage_drop_picture(request: VoltageDropRequest, answer: VoltageDrop) -> str:
    """Draw the path of ``voltage-drop``; it does not tell where its load sits, so the end is it."""
    steps = [Step(part.name, part.drop_v) for part in answer.segments]
    supply_v = float(request.supply_v)
    way = Way("", "supply", supply_v, steps, supply_v - answer.limit_drop_v)
    return draw_steps("Voltage along the path, out and back", [way], "lowest allowed")


def circuit_check_picture(request: CircuitCheckRequest, answer: Any) -> str:
    """Draw the path to the decisive load in the worst case in which it is on, as SVG."""
    name = answer.decisive_load
    ranked = sorted(answer.cases, key=lambda case: case.name != answer.worst_case)
    for case in ranked:
        load = next((each for each in case.loads if each.name == name), None)
        if load is not None:
            way = path_to("", request.circuit, load, case.nodes, case.parts)
            return draw_steps(_title(name, case.name), [way], NEEDED)
    return told_only(f"{cut(name)} is off in every case")


def relay_retrofit_picture(request: RelayRetrofitRequest, answer: Any) -> str:
    """Draw the path to the load as it is and with the relay, in its poorest case, as SVG."""
    cases = with_usual_starts(request).cases
    case = next(each for each in cases if each.name == answer.poorest_case)
    load, proposal = request.load, request.proposal
    ways = []
    for heading, circuit, its_case in (
        ("As it is", request.circuit, case),
        (
            "With the relay",
            with_relay(request),
            case_with_relay(case, load, proposal),
        ),
    ):
        state = rest(*plain(circuit, its_case))
        fed = next(each for each in load_states(state) if each.name == load)
        ways.append(path_to(heading, circuit, fed, node_voltages(state), part_states(state)))
    return draw_steps(_title(request.load, case.name), ways, NEEDED)


def _title(load: str, case: str) -> str:
    return f"Voltage on the way to {cut(load)} and back: {cut(case)}"


def path_to(
    heading: str,
    circuit: Circuit,
    load: LoadState,
    nodes: Sequence[NodeVoltage],
    parts: Sequence[PartState],
) -> Way:
    """Lay out the way that a load is fed by, out and back."""
    sign = -1.0 if circuit.positive_ground else 1.0
    volts = {node.name: sign * node.voltage_v for node in nodes}
    flows: dict[str, list[float]] = {}
    for part in parts:
        flows.setdefault(part.name, []).append(part.current_a)
    plus, minus = circuit.posts
    ends = next(each.nodes for each in circuit.loads if each.name == load.name)
    near, far = sorted(ends, key=lambda node: -volts[node])
    walkable = edges(circuit, flows)
    steps = [
        *_steps(route(walkable, plus, near), plus, near, volts),
        Step(load.name, 0.0, is_load=True),
        *_steps(route(walkable, far, minus), far, minus, volts),
    ]
    return Way(heading, plus, volts[plus] - volts[minus], steps, load.needed_v)


def _steps(
    parts: Sequence[Any] | None, start: str, goal: str, volts: dict[str, float]
) -> list[Step]:
    if parts is None:  # through other loads
        return [Step("other parts", volts[start] - volts[goal])]
    found, node = [], start
    for part in parts:
        beyond = part.other(node)
        label = f"{part.name}, contact" if part.kind == "relay" else part.name
        found.append(Step(label, volts[node] - volts[beyond]))
        node = beyond
    return found
