"""A series path as the formulas need it: its wires, its resistances, where its load rests."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from lastvolt_service.errors import (
    CalculationError,
    ImpossibleLoad,
    NoOperatingPoint,
    NoSteadyTemperature,
)
from lastvolt_service.operations.conductors import Conductor, conductor
from lastvolt_service.operations.results import show
from lastvolt_service.operations.thermal import HeatedWire, heated_wire, temperature_of
from lastvolt_service.physics.conductors import resistance_ratio
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

DEFAULT_WIRE_C = 20.0
Segments = Sequence[Mapping[str, Any]]
PathWires = Mapping[int, Conductor | HeatedWire]


@dataclass(frozen=True, slots=True)
class Load:
    """A load by the one value that it keeps.

    Attributes
    ----------
    current_a, resistance_ohm, power_w : float or None
        Exactly one is given.
    """

    current_a: float | None = None
    resistance_ohm: float | None = None
    power_w: float | None = None


def operating_point(
    supply_v: float, path_ohm: float, load: Load
) -> tuple[float, float, float | None]:
    """Find where a load at the end of a path comes to rest.

    Parameters
    ----------
    supply_v : float
        Voltage at the start of the path. [V]
    path_ohm : float
        Resistance of the path. [ohm]
    load : Load
        What is fed.

    Returns
    -------
    current_a : float
        Current round the path. [A]
    load_voltage_v : float
        Voltage at the load. [V]
    unstable_v : float or None
        The unstable root of a load of constant power. [V]

    Raises
    ------
    NoOperatingPoint
        If the path cannot deliver the current or the power.
    """
    if load.resistance_ohm is not None:
        current = float(
            resistive_load_current(
                supply_v=supply_v,
                path_resistance_ohm=path_ohm,
                load_resistance_ohm=load.resistance_ohm,
            )
        )
        return current, current * load.resistance_ohm, None
    if load.current_a is not None:
        lost = load.current_a * path_ohm
        if lost > supply_v:
            raise NoOperatingPoint(
                f"No operating point exists: {show(load.current_a, 'A')} would drop "
                f"{show(lost, 'V')} on the path, more than the supply's {show(supply_v, 'V')}. "
                f"The path carries at most {show(supply_v / path_ohm, 'A')} into a dead short.",
                ("load_current_a",),
            )
        return load.current_a, supply_v - lost, None
    power = load.power_w or 0.0
    stable, unstable = power_load_voltages(
        supply_v=supply_v, path_resistance_ohm=path_ohm, load_power_w=power
    )
    if math.isnan(stable):
        raise NoOperatingPoint(
            f"No operating point exists: the path can deliver at most "
            f"{show(supply_v**2 / 4 / path_ohm, 'W')} to any load, and {show(power, 'W')} is "
            "asked for. The voltage would collapse; lower the path's resistance.",
            ("load_power_w",),
        )
    return power / float(stable), float(stable), float(unstable)


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
    given = {index: segments[index].get("temperature_c", DEFAULT_WIRE_C) for index in wires}
    heated = {index: wire for index, wire in wires.items() if isinstance(wire, HeatedWire)}
    if not heated:
        return given
    network = _chain(segments, wires, given, heated, supply_v, load)
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
            ("load_power_w" if load.current_a is None else "load_current_a",),
        ) from error
    return dict(zip(wires, solved.tolist(), strict=True))


def _chain(
    segments: Segments,
    wires: PathWires,
    given: Mapping[int, float],
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
    if load.resistance_ohm is not None:
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
            temperature_of=temperature_of([heated.get(i) for i in wires], list(given.values())),
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


def _load(value: float | None, name: str, ends: Mapping[str, list[int]]) -> dict[str, Any]:
    if value is None:
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
        ratios = resistance_ratio(
            temperature_c=np.array([temperatures[index] for index in wires]),
            temperature_coefficient_per_k=np.array(
                [metal.temperature_coefficient_per_k for metal in metals]
            ),
        )
        for index, metal, ratio in zip(wires, metals, np.atleast_1d(ratios), strict=True):
            length = segments[index]["length_m"]
            ohms[index] = metal.resistance_20_ohm_per_m * float(ratio) * length
    return ohms
