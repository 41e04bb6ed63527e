"""Steps to the resistance of a wire, and to the voltage at the end of a path."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service.laws import JOULE, KIRCHHOFF, OHM
from lastvolt_service.operations.conductors import conductor
from lastvolt_service.operations.drop_limits import GIVEN as OWN_LIMIT
from lastvolt_service.operations.drop_limits import NOMINAL
from lastvolt_service.operations.explain.conductors import LINEAR, conductor_steps
from lastvolt_service.operations.path import PathWires, path_metal, path_wires
from lastvolt_service.operations.steps import MOST_ITEMS, Steps
from lastvolt_service.operations.voltage_drop import SegmentDrop, VoltageDrop
from lastvolt_service.operations.wire_resistance import WireResistance
from lastvolt_service.operations.wires.heat_steps import told_balance_steps
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.tables.limits import drop_limits

# Heat balances are long: only those of the wires that drop most are gone through.
MOST_BALANCES = 3
COLLAPSE = "largest power through a resistance"
SOLVED_C = "heat balance, solved together with the current of the path"


def explain_resistance(arguments: Mapping[str, Any], answer: WireResistance, steps: Steps) -> None:
    """Explain ``wire-resistance``."""
    material, construction = arguments["material"], arguments["construction"]
    wire = conductor(arguments["size"], answer.standard, material, construction)
    conductor_steps(steps, wire, material, construction)
    steps.given("temperature_c", arguments["temperature_c"], "temperature of the conductor")
    steps.given("length_m", arguments["length_m"], "length of the wire")
    steps.computed(
        "resistance_ohm_per_m",
        "resistance_20_ohm_per_m * (1 + temperature_coefficient_per_k * (temperature_c - 20))",
        answer.resistance_ohm_per_m,
        "resistance per metre, warm",
        LINEAR,
    )
    steps.computed(
        "resistance_ohm",
        "resistance_ohm_per_m * length_m",
        answer.resistance_ohm,
        "resistance of the whole length",
        OHM,
    )


def explain_drop(arguments: Mapping[str, Any], answer: VoltageDrop, steps: Steps) -> None:
    """Explain ``voltage-drop``."""
    segments = arguments["segments"]
    wires = path_wires(segments)
    places = _metals(steps, segments, wires)
    for place, (segment, part) in enumerate(zip(segments, answer.segments, strict=True)):
        _segment(steps, place, segment, part, places)
    total = " + ".join(f"segment_{place}_resistance_ohm" for place in range(1, len(segments) + 1))
    steps.computed(
        "path_resistance_ohm", total, answer.path_resistance_ohm, "of all parts in series", OHM
    )
    steps.given("supply_v", arguments["supply_v"], "voltage at the start of the path")
    _operating_point(steps, arguments, answer)
    _limit(steps, arguments, answer)
    for place, part in enumerate(answer.segments[:MOST_ITEMS], 1):
        _shares(steps, f"segment_{place}_", part)
    _balances(steps, wires, answer.segments)


def _metals(steps: Steps, segments: Any, wires: PathWires) -> dict[int, str]:
    """The conductors of a path, each once; and the prefix of each wire's."""
    known: dict[tuple[Any, ...], str] = {}
    found = {}
    for index, wire in wires.items():
        metal, segment = path_metal(wire), segments[index]
        key = (metal.size, metal.standard, segment["material"], segment["construction"])
        if key not in known:
            known[key] = f"wire_{len(known) + 1}_"
            conductor_steps(steps, metal, segment["material"], segment["construction"], known[key])
        found[index] = known[key]
    return found


def _segment(
    steps: Steps, index: int, segment: Mapping[str, Any], part: SegmentDrop, metals: dict[int, str]
) -> None:
    p = f"segment_{index + 1}_"
    if index not in metals:
        steps.given(f"{p}resistance_ohm", part.resistance_ohm, f"of {part.name}")
        return
    metal, hot = metals[index], part.temperature_c or 0.0
    meaning = f"temperature of {part.name}"
    if part.temperature_source == "solved":
        steps.solved(f"{p}temperature_c", hot, meaning, SOLVED_C)
    else:
        steps.given(f"{p}temperature_c", hot, meaning)
    steps.given(f"{p}length_m", segment["length_m"], f"length of {part.name}")
    steps.computed(
        f"{p}resistance_ohm",
        f"{metal}resistance_20_ohm_per_m * (1 + {metal}temperature_coefficient_per_k * "
        f"({p}temperature_c - 20)) * {p}length_m",
        part.resistance_ohm,
        f"resistance of {part.name}, warm",
        LINEAR,
    )


def _operating_point(steps: Steps, arguments: Mapping[str, Any], answer: VoltageDrop) -> None:
    if arguments.get("load_power_w") is not None:
        _power_load(steps, arguments["load_power_w"], answer)
    elif arguments.get("load_resistance_ohm") is not None:
        steps.given("load_resistance_ohm", arguments["load_resistance_ohm"], "of the load")
        formula = "supply_v / (path_resistance_ohm + load_resistance_ohm)"
        steps.computed("current_a", formula, answer.current_a, "current round the path", OHM)
        formula = "current_a * load_resistance_ohm"
        steps.computed("load_voltage_v", formula, answer.load_voltage_v, "at the load", OHM)
    else:
        steps.given("current_a", answer.current_a, "current of the load, and round the path")
        steps.computed(
            "load_voltage_v",
            "supply_v - current_a * path_resistance_ohm",
            answer.load_voltage_v,
            "voltage that reaches the load",
            KIRCHHOFF,
        )
    for symbol, formula, meaning, source in (
        ("load_power_w", "current_a * load_voltage_v", "power that the load gets", JOULE),
        ("drop_v", "current_a * path_resistance_ohm", "voltage lost on the path", OHM),
        ("drop_percent", "100 * drop_v / supply_v", "the same, of the supply", "proportion"),
    ):
        steps.computed(symbol, formula, getattr(answer, symbol), meaning, source)


def _power_load(steps: Steps, power_w: float, answer: VoltageDrop) -> None:
    roots = "roots of V**2 - supply * V + power * resistance = 0"
    steps.given("asked_power_w", power_w, "power that the load asks for")
    steps.computed(
        "load_voltage_v",
        "(supply_v + sqrt(supply_v ** 2 - 4 * asked_power_w * path_resistance_ohm)) / 2",
        answer.load_voltage_v,
        "voltage that reaches the load: the higher root, at which circuits rest",
        roots,
    )
    steps.computed(
        "unstable_load_voltage_v",
        "asked_power_w * path_resistance_ohm / load_voltage_v",
        answer.unstable_load_voltage_v or 0.0,
        "the other root, by the product of both",
        roots,
    )
    steps.computed(
        "current_a", "asked_power_w / load_voltage_v", answer.current_a, "round the path", JOULE
    )
    most = next((c for c in answer.checks if c.name == "distance from voltage collapse"), None)
    if most is not None and most.limit is not None:
        steps.computed(
            "most_power_w",
            "supply_v ** 2 / (4 * path_resistance_ohm)",
            most.limit,
            "largest power that the path can deliver",
            COLLAPSE,
        )


def _limit(steps: Steps, arguments: Mapping[str, Any], answer: VoltageDrop) -> None:
    if arguments.get("nominal_v") is None:
        steps.published("nominal_v", answer.nominal_v, "nominal voltage of the system", NOMINAL)
    else:
        steps.given("nominal_v", answer.nominal_v, "nominal voltage of the system")
    limit_steps(steps, arguments, answer.limit_drop_v, answer.nominal_v)


def limit_steps(
    steps: Steps, arguments: Mapping[str, Any], limit_v: float, nominal_v: float
) -> None:
    """Take the steps to what a path may drop.

    Parameters
    ----------
    steps : Steps
        Where to.
    arguments : mapping
        Of the operation.
    limit_v, nominal_v : float
        As it answers. [V]
    """
    meaning = "what the path may drop"
    if arguments.get("limit_drop_v") is not None:
        steps.given("limit_drop_v", limit_v, meaning)
    elif arguments.get("limit_drop_percent") is not None:
        steps.given("limit_drop_percent", arguments["limit_drop_percent"], "the same, of supply_v")
        formula = "supply_v * limit_drop_percent / 100"
        steps.computed("limit_drop_v", formula, limit_v, meaning, OWN_LIMIT)
    else:
        cited = drop_limits()[arguments["circuit"], int(nominal_v)].citation
        steps.published("limit_drop_v", limit_v, meaning, cited)


def _shares(steps: Steps, p: str, part: SegmentDrop) -> None:
    ohm = f"{p}resistance_ohm"
    steps.computed(f"{p}drop_v", f"current_a * {ohm}", part.drop_v, f"across {part.name}", OHM)
    steps.computed(
        f"{p}power_w", f"current_a ** 2 * {ohm}", part.power_w, f"heat in {part.name}", JOULE
    )
    drops = steps.value("path_resistance_ohm") > 0
    steps.computed(
        f"{p}share_percent",
        f"100 * {ohm} / path_resistance_ohm" if drops else "0",
        part.share_percent,
        f"share of {part.name} in the drop",
        OHM,
    )


def _balances(steps: Steps, wires: PathWires, parts: tuple[SegmentDrop, ...]) -> None:
    heated = sorted(
        ((-parts[index].drop_v, index) for index, w in wires.items() if isinstance(w, HeatedWire))
    )
    for _, index in heated[:MOST_BALANCES]:
        wire = wires[index]
        if isinstance(wire, HeatedWire):
            p = f"segment_{index + 1}_"
            told_balance_steps(steps, wire, p, "current_a", f"{p}temperature_c")
