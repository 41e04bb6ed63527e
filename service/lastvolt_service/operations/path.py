"""A series path as the formulas need it: its wires, its resistances, where its load rests."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from lastvolt_service.errors import (
    CalculationError,
    ImpossibleLoad,
    NoOperatingPoint,
    NoSteadyTemperature,
)
from lastvolt_service.operations import wire_resistance
from lastvolt_service.operations.conductors import Conductor, conductor
from lastvolt_service.operations.results import show
from lastvolt_service.operations.solved import Fault
from lastvolt_service.operations.wires.heated_wire import HeatedWire, heated_wire
from lastvolt_service.operations.wires.warming import temperature_of
from lastvolt_service.physics.network import solve
from lastvolt_service.physics.network_elements import (
    CurrentLoads,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.physics.path import power_load_voltages, resistive_load_current
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, pick, plain, some

DEFAULT_WIRE_C = 20.0
Segments = Sequence[Mapping[str, Any]]
PathWires = Mapping[int, Conductor | HeatedWire]


@dataclass(frozen=True, slots=True)
class Load:
    """A load by the one value that it keeps.

    Attributes
    ----------
    current_a, resistance_ohm, power_w : float or ndarray
        Exactly one is given in each row, the others are NaN.
    """

    current_a: Numbers = NOT_GIVEN
    resistance_ohm: Numbers = NOT_GIVEN
    power_w: Numbers = NOT_GIVEN


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """Where a load at the end of a path comes to rest.

    Attributes
    ----------
    current_a : float or ndarray
        Current round the path. [A]
    load_voltage_v : float or ndarray
        Voltage at the load. [V]
    unstable_v : float or ndarray
        The unstable root of a load of constant power, else NaN. [V]
    faults : tuple of Fault
        Where the path cannot deliver the current or the power.
    """

    current_a: Numbers
    load_voltage_v: Numbers
    unstable_v: Numbers
    faults: tuple[Fault, ...]


def in_series(resistances_ohm: Iterable[Numbers]) -> Numbers:
    """Add resistances up, so that their order does not matter.

    Parameters
    ----------
    resistances_ohm : iterable of float or ndarray
        Parts of a path. [ohm]

    Returns
    -------
    float or ndarray
        The sum; what each addition rounds away is added at the end. [ohm]
    """
    total: Numbers = 0.0
    lost: Numbers = 0.0
    for each in resistances_ohm:
        raised = total + each
        share = raised - total
        lost = lost + ((total - (raised - share)) + (each - share))
        total = raised
    return total + lost


def operating_point(supply_v: Numbers, path_ohm: Numbers, load: Load) -> OperatingPoint:
    """Find where a load at the end of a path comes to rest.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    path_ohm : float or ndarray
        Resistance of the path. [ohm]
    load : Load
        What is fed.

    Returns
    -------
    OperatingPoint
    """
    lost = load.current_a * path_ohm
    current, load_v = load.current_a, supply_v - lost
    unstable: Numbers = NOT_GIVEN
    faults: tuple[Fault, ...] = (
        Fault(
            lost > supply_v,
            NoOperatingPoint,
            ("load_current_a",),
            _too_much_current,
            (load.current_a, lost, supply_v, path_ohm),
        ),
    )
    by_resistance, by_power = given(load.resistance_ohm), given(load.power_w)
    if some(by_resistance):
        flowing = resistive_load_current(
            supply_v=supply_v, path_resistance_ohm=path_ohm, load_resistance_ohm=load.resistance_ohm
        )
        current = pick(by_resistance, flowing, current)
        load_v = pick(by_resistance, flowing * load.resistance_ohm, load_v)
    if some(by_power):
        stable, unstable = map(
            plain,
            power_load_voltages(
                supply_v=supply_v, path_resistance_ohm=path_ohm, load_power_w=load.power_w
            ),
        )
        current = pick(by_power, load.power_w / stable, current)
        load_v = pick(by_power, stable, load_v)
        faults = (
            *faults,
            Fault(
                by_power > given(stable),
                NoOperatingPoint,
                ("load_power_w",),
                _too_much_power,
                (load.power_w, supply_v, path_ohm),
            ),
        )
    return OperatingPoint(current, load_v, unstable, faults)


def _too_much_current(load_a: float, lost_v: float, supply_v: float, path_ohm: float) -> str:
    return (
        f"No operating point exists: {show(load_a, 'A')} would drop {show(lost_v, 'V')} on the "
        f"path, more than the supply's {show(supply_v, 'V')}. The path carries at most "
        f"{show(supply_v / path_ohm, 'A')} into a dead short."
    )


def _too_much_power(power_w: float, supply_v: float, path_ohm: float) -> str:
    return (
        f"No operating point exists: the path can deliver at most "
        f"{show(supply_v**2 / 4 / path_ohm, 'W')} to any load, and {show(power_w, 'W')} is asked "
        "for. The voltage would collapse; lower the path's resistance."
    )


def path_wires(segments: Segments) -> PathWires:
    """Look up the wires of a path.

    Parameters
    ----------
    segments : sequence of mapping
        Parts of the path.

    Returns
    -------
    dict of int to Conductor or HeatedWire
        By index of the segment; heated where the segment gives an ambient.

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a wire is in no table or does not fit its insulation; the path points at the segment.
    """
    found: dict[int, Conductor | HeatedWire] = {}
    for index, segment in enumerate(segments):
        if segment["kind"] == "wire":
            try:
                found[index] = _wire(segment)
            except CalculationError as error:
                raise error.below("segments", index) from error
    return found


def _wire(segment: Mapping[str, Any]) -> Conductor | HeatedWire:
    if "ambient_c" not in segment:
        return conductor(
            segment["size"],
            segment.get("standard"),
            segment["material"],
            segment["construction"],
        )
    return heated_wire(
        size=segment["size"],
        standard=segment.get("standard"),
        material=segment["material"],
        construction=segment["construction"],
        ambient_c=segment["ambient_c"],
        insulation_kind=segment.get("insulation"),
        insulation_limit_c=segment.get("insulation_limit_c"),
        grouped_conductors=segment["grouped_conductors"],
        altitude_m=segment["altitude_m"],
        outer_diameter_mm=segment.get("outer_diameter_mm"),
    )


def path_metal(wire: Conductor | HeatedWire) -> Conductor:
    """Tell the conductor of a wire.

    Parameters
    ----------
    wire : Conductor or HeatedWire
        The wire.

    Returns
    -------
    Conductor
    """
    return wire.conductor if isinstance(wire, HeatedWire) else wire


def path_temperatures(
    segments: Segments, wires: PathWires, supply_v: float, load: Load
) -> dict[int, float]:
    """Find the temperature of each wire of a path, given or solved together with the current.

    Parameters
    ----------
    segments : sequence of mapping
        Parts of the path.
    wires : mapping of int to Conductor or HeatedWire
        As `path_wires` gives them.
    supply_v : float
        Voltage at the start of the path. [V]
    load : Load
        What is fed.

    Returns
    -------
    dict of int to float
        By index of the segment. [degC]

    Raises
    ------
    NoSteadyTemperature
        If a wire heats up without end.
    NoOperatingPoint
        If the path, warm from its current, cannot feed the load.
    """
    known_c = {index: segments[index].get("temperature_c", DEFAULT_WIRE_C) for index in wires}
    heated = {index: wire for index, wire in wires.items() if isinstance(wire, HeatedWire)}
    if not heated:
        return known_c
    network = _chain(segments, wires, known_c, heated, supply_v, load)
    try:
        solved = solve(network=network).wire_temperature_c
    except NoSteadyTemperature as error:
        index = int(error.nodes[0])
        raise NoSteadyTemperature(
            f"{segments[index]['name']} heats up without end at its current: it reaches no steady "
            "temperature. Take a larger size or less current.",
            ("segments", index),
            error.nodes,
        ) from error
    except ImpossibleLoad as error:
        raise NoOperatingPoint(
            "No operating point exists: the path, warm from its current, cannot feed the load. "
            "Lower its resistance.",
            ("load_current_a" if given(load.current_a) else "load_power_w",),
        ) from error
    return dict(zip(wires, solved.tolist(), strict=True))


def _chain(
    segments: Segments,
    wires: PathWires,
    known_c: Mapping[int, float],
    heated: Mapping[int, HeatedWire],
    supply_v: float,
    load: Load,
) -> Network:
    """The path as a network: node k lies before segment k, the last node is the post again."""
    count = len(segments)
    # The load stands after the last part: where it stands in a chain does not matter.
    ends = {"start": [count], "end": [count + 1]}
    metals = {index: path_metal(wire) for index, wire in wires.items()}
    others = [
        (index, index + 1, segment["resistance_ohm"])
        for index, segment in enumerate(segments)
        if index not in wires
    ]
    if given(load.resistance_ohm):
        others.append((count, count + 1, load.resistance_ohm))
    return Network(
        node_names=tuple(str(index) for index in range(count + 2)),
        reference=count + 1,
        wires=Wires(
            start=np.array(list(wires)),
            end=np.array(list(wires)) + 1,
            resistance_20_ohm=np.array(
                [
                    metal.resistance_20_ohm_per_m * segments[index]["length_m"]
                    for index, metal in metals.items()
                ]
            ),
            temperature_coefficient_per_k=np.array(
                [metal.temperature_coefficient_per_k for metal in metals.values()]
            ),
            temperature_of=temperature_of([heated.get(i) for i in wires], list(known_c.values())),
        ),
        resistors=Resistors(
            start=np.array([start for start, _, _ in others]),
            end=np.array([end for _, end, _ in others]),
            resistance_ohm=np.array([ohm for _, _, ohm in others]),
        ),
        sources=Sources(
            start=np.array([0]),
            end=np.array([count + 1]),
            emf_v=np.array([supply_v]),
            internal_resistance_ohm=np.zeros(1),
        ),
        current_loads=CurrentLoads(**_load(load.current_a, "current_a", ends)),
        power_loads=PowerLoads(**_load(load.power_w, "power_w", ends)),
    )


def _load(value: Numbers, name: str, ends: Mapping[str, list[int]]) -> dict[str, Any]:
    if not given(value):
        return {}
    return {**{key: np.array(nodes) for key, nodes in ends.items()}, name: np.array([value])}


def path_resistances(
    segments: Segments, wires: PathWires, temperatures: Mapping[int, float]
) -> list[float]:
    """Resistance of each part of a path.

    Parameters
    ----------
    segments : sequence of mapping
        Parts of the path.
    wires : mapping of int to Conductor or HeatedWire
        As `path_wires` gives them.
    temperatures : mapping of int to float
        As `path_temperatures` gives them. [degC]

    Returns
    -------
    list of float
        [ohm]
    """
    ohms = [segment.get("resistance_ohm", 0.0) for segment in segments]
    if wires:
        # All wires of the path in one array: a numpy call costs more than the sum it does.
        metals = [path_metal(wire) for wire in wires.values()]
        warm = wire_resistance.solve(
            resistance_20_ohm_per_m=np.array([m.resistance_20_ohm_per_m for m in metals]),
            temperature_coefficient_per_k=np.array(
                [m.temperature_coefficient_per_k for m in metals]
            ),
            temperature_c=np.array([temperatures[index] for index in wires]),
            length_m=np.array([segments[index]["length_m"] for index in wires]),
        )
        for index, ohm in zip(wires, warm.columns["resistance_ohm"].tolist(), strict=True):
            ohms[index] = ohm
    return ohms
