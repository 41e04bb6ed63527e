"""Steps to a fuse, and to the size of a wire."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service.laws import KIRCHHOFF, OHM
from lastvolt_service.operations.drop_limits import GIVEN as OWN_LIMIT
from lastvolt_service.operations.drop_limits import nominal_voltage
from lastvolt_service.operations.explain.conductors import LINEAR, conductor_steps
from lastvolt_service.operations.fuse_selection import FuseSelection
from lastvolt_service.operations.fuse_window import (
    PROTECTION_MULTIPLE,
    Window,
    carried_multiple_of,
    fuse_window,
)
from lastvolt_service.operations.steps import Steps, interpolated
from lastvolt_service.operations.wire_sizing import WHOLE_SUPPLY, Candidate, WireSizing
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heat_steps import told_ampacity_steps, told_balance_steps
from lastvolt_service.operations.wires.heated_wire import (
    MODEL_BASIS,
    HeatedWire,
    ambient_of,
    heated_wire,
)
from lastvolt_service.rows import optional
from lastvolt_service.tables import fuses, rows
from lastvolt_service.tables.limits import drop_limits, ground_return_citation
from lastvolt_service.tables.practice import minimum_sizes

FIRST_GATE = "first gate of the blade fuses: a multiple that they need not interrupt"
STEP_OF_SIZES = "the sizes of the standard, one after the other"


COMMON = ("size", "standard", "material", "construction", "grouped_conductors", "altitude_m")


def wire_of(arguments: Mapping[str, Any], size: str | None = None) -> HeatedWire:
    """Look up the wire of a request about heat, or another size of it."""
    fields: dict[str, Any] = {name: arguments.get(name) for name in COMMON}
    return heated_wire(
        **{**fields, "size": size or arguments["size"]},
        ambient_c=float(_ambient(arguments)[0]),
        insulation_kind=arguments.get("insulation"),
        insulation_limit_c=arguments.get("insulation_limit_c"),
        outer_diameter_mm=arguments.get("outer_diameter_mm"),
    )


def _ambient(arguments: Mapping[str, Any]) -> Any:
    own = optional(arguments.get("ambient_c"))
    return ambient_of(Zoned(ambient_c=own, zone=arguments.get("zone")))


def zone_steps(steps: Steps, arguments: Mapping[str, Any]) -> None:
    """Take the ambient of a request, given or that of its zone."""
    ambient, basis = _ambient(arguments)
    if basis:
        steps.published("ambient_c", ambient, f"ambient in {arguments['zone']}", basis[0])
    else:
        steps.given("ambient_c", ambient, "temperature around the wire")


def window_steps(
    steps: Steps, arguments: Mapping[str, Any], window: Window, fuse_ambient_c: float, prefix: str
) -> None:
    """Take the steps to the window of a fuse.

    Parameters
    ----------
    steps : Steps
        Where to; ``load_current_a`` and the permissible current are there.
    arguments : mapping
        Of the operation.
    window : Window
        As found.
    fuse_ambient_c : float
        Around the fuse. [degC]
    prefix : str
        Of the wire's symbols.
    """
    p = prefix
    steps.given("fuse_ambient_c", fuse_ambient_c, "temperature around the fuse")
    factor = interpolated(
        steps,
        "ambient_factor",
        "fuse_ambient_c",
        tuple((float(r["ambient_c"]), float(r["factor"])) for r in rows("fuse_ambient")),
        fuses.ambient_factor(fuse_ambient_c),
        "current that opens a fuse at its ambient, over that at 25 degC",
        fuses.ambient_citation(),
    )
    share = fuses.continuous_citation()
    steps.published(
        "continuous_share", fuses.CONTINUOUS_SHARE, "share of its rating that it carries", share
    )
    needs = "load_current_a / continuous_share"
    if arguments.get("inrush_current_a"):
        _carried(steps, window.family or _family(arguments), arguments, p)
        needs = f"max({needs}, inrush_current_a / {p}carried_multiple)"
    steps.computed(
        f"{p}lower_a",
        f"{needs} / {factor}",
        window.lower_a,
        "smallest rating that carries the load",
        share,
    )
    steps.published(
        "protection_multiple", PROTECTION_MULTIPLE, "multiple held for ever", FIRST_GATE
    )
    steps.computed(
        f"{p}upper_a",
        f"{p}permissible_current_a / (protection_multiple * max({factor}, 1))",
        window.upper_a,
        "largest rating that protects the wire",
        FIRST_GATE,
    )
    if window.rating_a is not None:
        steps.published(
            f"{p}fuse_rating_a",
            window.rating_a,
            f"smallest standard rating of {window.family} between lower_a and upper_a",
            window.citations[-1],
        )


def _family(arguments: Mapping[str, Any]) -> str:
    return str(arguments.get("fuse_family") or fuses.fuse_families()[0])


def _carried(steps: Steps, family: str, arguments: Mapping[str, Any], p: str) -> None:
    steps.given("inrush_current_a", arguments["inrush_current_a"], "first current of the load")
    steps.given("inrush_time_s", arguments["inrush_time_s"], "how long it flows")
    multiple, citation = carried_multiple_of(family, arguments["inrush_time_s"])
    gates = sorted((gate.shortest_s, gate.rating_multiple) for gate in fuses.gates(family))
    meaning = "multiple of its rating that it is sure to carry so long"
    if not gates:
        steps.published(f"{p}carried_multiple", multiple, meaning, citation)
        return
    interpolated(
        steps,
        f"{p}carried_multiple",
        "inrush_time_s",
        tuple(gates),
        multiple,
        meaning,
        citation,
        logarithmic=True,
    )


def explain_fuse(arguments: Mapping[str, Any], answer: FuseSelection, steps: Steps) -> None:
    """Explain ``fuse-selection``."""
    zone_steps(steps, arguments)
    steps.given("load_current_a", arguments["load_current_a"], "steady current of the load")
    if arguments.get("permissible_current_a") is None:
        wire = wire_of(arguments)
        told_ampacity_steps(steps, wire, "")
    else:
        steps.given(
            "permissible_current_a", answer.permissible_current_a, "that the wire may carry"
        )
    window = fuse_window(
        load_current_a=arguments["load_current_a"],
        inrush_current_a=arguments.get("inrush_current_a") or 0.0,
        inrush_time_s=arguments["inrush_time_s"],
        permissible_current_a=answer.permissible_current_a,
        fuse_ambient_c=answer.fuse_ambient_c,
        family=arguments.get("fuse_family"),
    )
    window_steps(steps, arguments, window, answer.fuse_ambient_c, "")


def explain_sizing(arguments: Mapping[str, Any], answer: WireSizing, steps: Steps) -> None:
    """Explain ``wire-sizing``."""
    zone_steps(steps, arguments)
    for symbol, meaning in (
        ("supply_v", "voltage at the start of the path"),
        ("load_current_a", "steady current of the load"),
        ("length_m", "length of the way, one way"),
    ):
        steps.given(symbol, arguments[symbol], meaning)
    _loop(steps, arguments, answer)
    _drop_limit(steps, arguments, answer)
    least = minimum_sizes()[answer.standard]
    steps.published(
        "minimum_area_mm2",
        wire_of(arguments, least.size).conductor.area_mm2,
        f"section of {least.size}, the least that lasts",
        least.citation,
    )
    chosen = answer.candidates[-1]
    _candidate(steps, arguments, answer, chosen, "" if answer.size else "largest_")
    if answer.size and len(answer.candidates) > 1:
        _candidate(steps, arguments, answer, answer.candidates[-2], "smaller_")


def _loop(steps: Steps, arguments: Mapping[str, Any], answer: WireSizing) -> None:
    body, meaning = answer.body_resistance_ohm, "of the return through the body"
    if arguments["return_path"] == "body":
        steps.computed(
            "loop_length_m", "length_m", answer.loop_length_m, "length of wire: out", OHM
        )
        if arguments.get("body_resistance_ohm") is None:
            steps.published("body_resistance_ohm", body, meaning, ground_return_citation())
            return
    else:
        formula = "2 * length_m"
        steps.computed(
            "loop_length_m", formula, answer.loop_length_m, "length of wire: out and back", OHM
        )
    steps.given("body_resistance_ohm", body, f"{meaning}; 0 with a return wire")


def _drop_limit(steps: Steps, arguments: Mapping[str, Any], answer: WireSizing) -> None:
    if answer.limit_drop_v == arguments["supply_v"]:
        meaning = "what the loop may drop"
        steps.computed("limit_drop_v", "supply_v", answer.limit_drop_v, meaning, WHOLE_SUPPLY)
        return
    nominal = arguments.get("nominal_v") or nominal_voltage(arguments["supply_v"])
    limit_steps(steps, arguments, answer.limit_drop_v, nominal)


def _candidate(
    steps: Steps, arguments: Mapping[str, Any], answer: WireSizing, found: Candidate, p: str
) -> None:
    wire: HeatedWire = wire_of(arguments, found.size)
    conductor_steps(steps, wire.conductor, arguments["material"], arguments["construction"], p)
    told_ampacity_steps(steps, wire, p)
    if found.conductor_temperature_c is not None:
        hot = steps.solved(
            f"{p}conductor_temperature_c",
            found.conductor_temperature_c,
            f"steady temperature of {found.size}",
            MODEL_BASIS,
        )
        told_balance_steps(steps, wire, p, "load_current_a", hot)
        _drops(steps, arguments, found, p)
    fuse_c = arguments.get("fuse_ambient_c")
    fuse_c = answer.ambient_c if fuse_c is None else fuse_c
    window = fuse_window(
        load_current_a=arguments["load_current_a"],
        inrush_current_a=arguments.get("inrush_current_a") or 0.0,
        inrush_time_s=arguments["inrush_time_s"],
        permissible_current_a=found.permissible_current_a,
        fuse_ambient_c=fuse_c,
        family=arguments.get("fuse_family"),
    )
    window_steps(steps, arguments, window, fuse_c, p)
    _failing(steps, found, p)


def _drops(steps: Steps, arguments: Mapping[str, Any], found: Candidate, p: str) -> None:
    drop = found.drop_v or 0.0
    steps.computed(
        f"{p}drop_v",
        f"load_current_a * ({p}resistance_20_ohm_per_m * (1 + {p}temperature_coefficient_per_k * "
        f"({p}conductor_temperature_c - 20)) * loop_length_m + body_resistance_ohm)",
        drop,
        f"voltage lost on the whole loop of {found.size}",
        f"{OHM}; {LINEAR}",
    )
    left = arguments["supply_v"] - drop
    steps.computed(
        f"{p}load_voltage_v", f"supply_v - {p}drop_v", left, "that reaches the load", KIRCHHOFF
    )


# What each check of a size compares: good where the first is no larger than the second.
_COMPARED = {
    "mechanical minimum": ("minimum_area_mm2", "{p}area_mm2"),
    "drop of the loop": ("{p}drop_v", "limit_drop_v"),
    "conductor temperature": ("{p}conductor_temperature_c", "{p}insulation_limit_c"),
    "permissible current": ("load_current_a", "{p}permissible_current_a"),
    "fuse window": ("{p}lower_a", "{p}upper_a"),
}


def _failing(steps: Steps, found: Candidate, p: str) -> None:
    """By how much a size fails each check that it fails."""
    for name in found.failing:
        asked, there = (text.format(p=p) for text in _COMPARED[name])
        unit = {"mechanical minimum": "mm2", "drop of the loop": "v"}.get(name, "a")
        unit = "k" if name == "conductor temperature" else unit
        steps.computed(
            f"{p}short_of_{name.replace(' ', '_')}_{unit}",
            f"{asked} - {there}",
            steps.value(asked) - steps.value(there),
            f"{found.size} fails by this: {name}"
            if steps.value(asked) > steps.value(there)
            else f"{name}: the room there is, in which no standard rating lies",
            STEP_OF_SIZES,
        )


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
