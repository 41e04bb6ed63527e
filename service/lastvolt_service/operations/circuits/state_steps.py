"""Steps round a load of a circuit at rest, told by hand, with Kirchhoff's laws as checks.

A network is solved as a whole: no chain of formulas leads to its state. What can be told is that
the state is one, by what is known of each part and by the sums round loops and at nodes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lastvolt_service.fields import known
from lastvolt_service.laws import KIRCHHOFF, OHM, recording
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.joints import shortest_way
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.solenoids.descriptions import needed_by_load
from lastvolt_service.operations.steps import GIVEN, Steps
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.heat_steps import told_balance_steps

LINEAR = "IEC 28 (1913): the resistance of copper rises on a straight line from 20 degC"
LOOPS = "loop currents of the whole network, solved with all temperatures and relays"
# Longer ways than this are told by their ends.
MOST_PARTS = 30
_GROUPS = ("wires", "resistors", "contacts")
_GIVING = frozenset({"sources", "chargers"})


@dataclass(frozen=True, slots=True)
class _Way:
    """A part on the way, its place in its group, and whether it is passed start to end."""

    part: Part
    group: str
    index: int
    forward: bool


# Heat balances are long: only those of the wires that drop most are gone through.
MOST_BALANCES = 3


def tell_state(steps: Steps, state: State, case: Case, load_name: str, p: str = "") -> None:
    """Tell the source, the way to a load and back, and what the load needs; `p` begins symbols."""
    _source(steps, state, p)
    load = next((w for w in _loads(state) if w.part.name == load_name), None)
    if load is None:  # off in this case
        return
    flow = state.flow(load.group)
    volts, amps = float(flow.drop_v[load.index]), float(flow.current_a[load.index])
    ways = _path(state, load)
    for place, way in enumerate(ways[:MOST_PARTS], 1):
        _part(steps, state, way, case, f"{p}part_{place}_")
    steps.solved(f"{p}load_voltage_v", volts, f"across {load_name}", LOOPS)
    steps.solved(f"{p}load_current_a", amps, f"through {load_name}", LOOPS)
    if ways and len(ways) <= MOST_PARTS:
        _voltage_law(steps, state, ways, volts, p)
        _current_law(steps, state, ways, p)
    _balances(steps, state, ways, case, p)
    _needed(steps, load.part, case, volts, p)


def _source(steps: Steps, state: State, p: str) -> None:
    model, source = state.model, state.solution.sources
    steps.given(f"{p}open_circuit_v", model.emf_v, "of the source, in this case")
    steps.given(f"{p}internal_resistance_ohm", model.internal_ohm, "of the source, in this case")
    steps.solved(
        f"{p}source_current_a", float(source.current_a[0]), "out of the positive post", LOOPS
    )
    steps.computed(
        f"{p}source_v",
        f"{p}open_circuit_v - {p}source_current_a * {p}internal_resistance_ohm",
        float(source.drop_v[0]),
        "at the posts",
        OHM,
    )


def _loads(state: State) -> Iterator[_Way]:
    for group in LOAD_GROUPS:
        for index, part in enumerate(state.model.parts[group]):
            if part.is_load:
                yield _Way(part, group, index, True)


def _conducting(state: State) -> Iterator[_Way]:
    for group in _GROUPS:
        for index, part in enumerate(state.model.parts[group]):
            amps = float(state.flow(group).current_a[index])
            if amps != 0.0 and not part.is_load:
                yield _Way(part, group, index, amps > 0)


def _path(state: State, load: _Way) -> list[_Way]:
    """From the live post to the load and on to the ground, as the current of the mirror image."""
    live, grounded = state.model.posts
    leaving: dict[str, list[tuple[_Way, str]]] = {}
    for way in _conducting(state):
        first, last = way.part.nodes if way.forward else way.part.nodes[::-1]
        leaving.setdefault(first, []).append((way, last))
    start, end = load.part.nodes
    if float(state.flow(load.group).current_a[load.index]) < 0:
        start, end = end, start

    def beside(node: str) -> Sequence[tuple[_Way, str]]:
        return leaving.get(node, ())

    out, back = shortest_way(live, {start}, beside), shortest_way(end, {grounded}, beside)
    return [] if out is None or back is None else [*out, *back]


def _part(steps: Steps, state: State, way: _Way, case: Case, q: str) -> None:
    """Resistance, current and drop of a part; the drop follows from both others."""
    part, flow = way.part, state.flow(way.group)
    amps = abs(float(flow.current_a[way.index]))
    steps.solved(f"{q}current_a", amps, f"through {part.name}", LOOPS)
    if way.group == "wires":
        _wire(steps, state, way, q)
    else:
        asked = part.asked
        ohm = asked.contact_resistance_ohm if way.group == "contacts" else asked.resistance_ohm
        steps.given(f"{q}new_resistance_ohm", ohm, f"of {part.name}, by the request")
        factor = case.ageing_factor if getattr(asked, "ages", False) else 1.0
        steps.given(f"{q}ageing_factor", factor, f"of {part.name} in this case")
        steps.computed(
            f"{q}resistance_ohm",
            f"{q}new_resistance_ohm * {q}ageing_factor",
            ohm * factor,
            f"of {part.name} in this case",
            GIVEN,
        )
    steps.computed(
        f"{q}drop_v",
        f"{q}current_a * {q}resistance_ohm",
        amps * steps.value(f"{q}resistance_ohm"),
        f"across {part.name}",
        OHM,
    )


def _wire(steps: Steps, state: State, way: _Way, q: str) -> None:
    part, wire = way.part, state.model.wires[way.index]
    if wire is None:
        metal = conductor(
            part.asked.size, part.asked.standard, part.asked.material, part.asked.construction
        )
        conductor_steps(steps, metal, part.asked.material, part.asked.construction, q)
    else:
        conductor_steps(steps, wire.conductor, wire.one.material, wire.one.construction, q)
    hot = float(state.solution.wire_temperature_c[way.index])
    take = steps.given if wire is None else steps.solved
    take(f"{q}temperature_c", hot, f"of {part.name}", GIVEN if wire is None else LOOPS)
    steps.given(f"{q}length_m", part.asked.length_m, f"of {part.name}")
    steps.computed(
        f"{q}resistance_ohm",
        f"{q}resistance_20_ohm_per_m * (1 + {q}temperature_coefficient_per_k * "
        f"({q}temperature_c - 20)) * {q}length_m",
        float(state.solution.wire_resistance_ohm[way.index]),
        f"of {part.name}, warm",
        LINEAR,
    )


def _voltage_law(steps: Steps, state: State, ways: Sequence[_Way], load_v: float, p: str) -> None:
    drops = [abs(float(state.flow(way.group).drop_v[way.index])) for way in ways]
    names = "".join(f" - {p}part_{place}_drop_v" for place in range(1, len(ways) + 1))
    steps.computed(
        f"{p}voltage_left_v",
        f"{p}source_v{names} {'-' if load_v >= 0 else '+'} {p}load_voltage_v",
        float(state.solution.sources.drop_v[0]) - sum(drops) - abs(load_v),
        "left over round the loop: nothing, but for rounding",
        KIRCHHOFF,
    )


def _current_law(steps: Steps, state: State, ways: Sequence[_Way], p: str) -> None:
    """At each node between the parts of the way, what comes in goes out."""
    every = [
        # A source gives out of its first node what any other part takes in there.
        (part.nodes[::-1] if group in _GIVING else part.nodes, float(amps), part.name, group)
        for group in state.model.parts
        for part, amps in zip(
            state.model.parts[group], state.flow(group).current_a.tolist(), strict=True
        )
    ]
    nodes = dict.fromkeys(node for way in ways for node in way.part.nodes)
    for place, node in enumerate(nodes, 1):
        joined = [each for each in every if node in each[0]]
        if len(joined) > MOST_PARTS:
            continue
        terms, total = [], 0.0
        for number, (ends, amps, name, _) in enumerate(joined, 1):
            into = state.model.sign * (amps if ends[1] == node else -amps)
            symbol = steps.solved(
                f"{p}node_{place}_into_{number}_a",
                into,
                f"into {node} from {name or 'the source'}",
                LOOPS,
            )
            terms.append(symbol)
            total += into
        steps.computed(
            f"{p}node_{place}_left_a",
            " + ".join(terms),
            total,
            f"left over at {node}: nothing, but for rounding",
            KIRCHHOFF,
        )


def _balances(steps: Steps, state: State, ways: Sequence[_Way], case: Case, p: str) -> None:
    """Verify the steady temperatures of the wires of the way that get hottest."""
    if known(case.duration_s):
        return  # they are on the way to it
    heated = sorted(
        (-float(state.solution.wire_temperature_c[way.index]), place)
        for place, way in enumerate(ways[:MOST_PARTS], 1)
        if way.group == "wires" and state.model.wires[way.index] is not None
    )
    for _, place in heated[:MOST_BALANCES]:
        wire = state.model.wires[ways[place - 1].index]
        q = f"{p}part_{place}_"
        if wire is not None:
            told_balance_steps(steps, wire, q, f"{q}current_a", f"{q}temperature_c")


def _needed(steps: Steps, load: Part, case: Case, volts: float, p: str) -> None:
    if load.needed_v is None:
        return
    meaning = f"lowest voltage at which {load.name} works in this case"
    if load.kind == "solenoid":
        held = load.name in case.held
        with recording():
            needed = needed_by_load(load.asked, load.ambient_c, held=held, prefix=p)
        steps.result(f"{p}needed_v", needed.volts, meaning)
    if f"{p}needed_v" not in steps:
        steps.given(f"{p}needed_v", load.needed_v, meaning)
    steps.computed(
        f"{p}margin_v",
        f"{p}load_voltage_v - {p}needed_v",
        volts - load.needed_v,
        "to spare",
        KIRCHHOFF,
    )


def conductor_steps(
    steps: Steps, wire: Conductor, material: str, construction: str, prefix: str
) -> None:
    """Take the steps from a size to section, resistance at 20 degC and temperature coefficient."""
    with recording(), steps.within(prefix):
        metal = conductor(wire.size, wire.standard, material, construction)
        for name in ("temperature_coefficient_per_k", "area_mm2", "resistance_20_ohm_per_m"):
            steps.result(name, getattr(metal, name), "")
