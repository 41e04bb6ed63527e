"""Requests of every operation, varied."""

from copy import deepcopy
from typing import Any

from hypothesis import strategies as st

from lastvolt_service.api import OPERATIONS
from lastvolt_service.tables.insulation import insulation_kinds

POSTED = {each.name: each for each in OPERATIONS if each.method == "POST"}


def example(name: str, **changes: Any) -> dict[str, Any]:
    body = {**deepcopy(POSTED[name].schema.example), **changes}
    return {field: value for field, value in body.items() if value is not None}


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_subnormal=False)


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


# Nobody states an accuracy of 1e-200, whose band a float cannot hold apart from its middle.
ACCURACIES = st.just(0.0) | between(0.001, 5)
SIZES = st.sampled_from(["18 AWG", "14 AWG", "10 AWG", "2/0 AWG", "12 SAE", "2.5 mm2", "16 mm2"])
METALS = st.sampled_from(["copper", "tinned_copper", "aluminium", "copper_clad_aluminium"])
CONSTRUCTIONS = st.sampled_from(["stranded", "stranded", "solid"])
KINDS = st.sampled_from(insulation_kinds())
WIRE = {"size": SIZES, "material": METALS, "construction": CONSTRUCTIONS}
PLACE = {
    "zone": st.none(),
    "ambient_c": between(-40, 90),
    "insulation": KINDS,
    "grouped_conductors": st.integers(1, 12),
    "altitude_m": between(0, 4000),
}
HOT_WIRE = {key: PLACE[key] for key in ("ambient_c", "grouped_conductors", "altitude_m")}
SEGMENT = st.one_of(
    st.fixed_dictionaries(
        {"kind": st.just("wire"), **WIRE, "length_m": between(0, 12)},
        optional={"temperature_c": between(-40, 200)},
    ),
    st.fixed_dictionaries(
        {"kind": st.just("wire"), **WIRE, "length_m": between(0.1, 12), **HOT_WIRE}
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("contact"),
            "part": st.sampled_from(["switch", "fuse", "ground"]),
            "resistance_ohm": between(0, 0.1),
        }
    ),
)


def named(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{**item, "name": f"part {place}"} for place, item in enumerate(items)]


SEGMENTS = st.lists(SEGMENT, min_size=1, max_size=6).map(named)
LOADS = st.one_of(
    st.fixed_dictionaries({"load_current_a": between(1, 20)}),
    st.fixed_dictionaries({"load_resistance_ohm": between(0.5, 20)}),
    st.fixed_dictionaries({"load_power_w": between(5, 80)}),
)
LIMITS = st.one_of(
    st.just({}),
    st.fixed_dictionaries({"limit_drop_v": between(0.1, 3)}),
    st.fixed_dictionaries({"limit_drop_percent": between(1, 10)}),
)
RATED = {"pull_in_v": 8.0, "hold_in_v": 2.5, "resistance_ohm": 0.4}
PLUNGER = {
    "force_n": 90.0, "gap_mm": 6.0, "area_mm2": 400.0, "turns": 220.0, "resistance_ohm": 0.45,
    "hold_force_n": 60.0, "hold_gap_mm": 0.3,
}  # fmt: skip
DESCRIPTIONS = st.sampled_from(
    [
        {},
        {"windings": None, "rated": RATED},
        {"windings": None, "rated": {"pull_in_v": 8.0}, "supply_v": None, "available_v": 9.0,
         "path_resistance_ohm": None},
        {"windings": None, "plunger": PLUNGER},
    ]
)  # fmt: skip
FUSED = {
    "inrush_current_a": maybe(between(0, 200)),
    "inrush_time_s": between(0.01, 500),
    "fuse_ambient_c": between(-40, 110),
    "fuse_family": maybe(st.sampled_from(["blade C", "blade E", "bolt-in SF30", "bolt-in SF51"])),
    "load_profile": maybe(st.sampled_from(["steady", "lamp", "motor", "glow_plug"])),
    "on_time_s": maybe(between(0.5, 100)),
    "holder_rating_a": maybe(between(5, 100)),
    "source_resistance_ohm": maybe(between(0.003, 0.05)),
}


def merged(*parts: dict[str, Any]) -> dict[str, Any]:
    return {name: value for part in parts for name, value in part.items()}


def circuit(name: str) -> st.SearchStrategy[dict[str, Any]]:
    def body(
        switch: float,
        length: float,
        ambient: float,
        ageing: float,
        time: float | None,
        hot: float | None,
    ) -> Any:
        found = example(name)
        found["circuit"]["branches"][0]["length_m"] = length
        if hot is not None:
            found["circuit"]["branches"][0]["temperature_c"] = hot
        found["circuit"]["branches"][1]["resistance_ohm"] = switch
        case = {"ambient_c": ambient, "ageing_factor": ageing, "duration_s": time}
        found["cases"] = [
            {**each, **{k: v for k, v in case.items() if v is not None}} for each in found["cases"]
        ]
        if time is None:
            for each in found["cases"]:
                del each["duration_s"]
        return found

    return st.builds(
        body,
        between(0, 0.2),
        between(0, 20),
        between(-20, 60),
        between(1, 5),
        maybe(between(1, 60)),
        maybe(between(-20, 90)),
    )


def built(name: str, **fields: Any) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(fields).map(lambda given: example(name, **given))


def recorded() -> st.SearchStrategy[dict[str, Any]]:
    """Steps of any size with noise: on for some of the time, with an inrush or none."""

    def body(
        count: int, step: float, height: float, inrush: float, noise: list[float], between: str,
        winding: bool, path: float,
    ) -> dict[str, Any]:  # fmt: skip
        on = [count // 4 <= place < 3 * count // 4 for place in range(count)]
        rough = [noise[place % len(noise)] for place in range(count)]
        amperes = [
            is_on * height * (1 + inrush * 2.0 ** -(place - count // 4)) + each
            for place, (is_on, each) in enumerate(zip(on, rough, strict=True))
        ]
        volts = {
            "load": [is_on * (12 - path * a) for is_on, a in zip(on, amperes, strict=True)],
            "path": [path * a for a in amperes],
            "battery": [12.6 - path * a for a in amperes],
        }[between]
        return {
            "time_s": [step * place for place in range(count)], "volts_v": volts,
            "current_a": amperes, "between": between, "winding": winding,
        }  # fmt: skip

    return st.builds(
        body, st.integers(8, 80), st.sampled_from([1e-4, 1e-3, 0.1]), between(-50, 50),
        st.sampled_from([0.0, 0.0, 5.0]), st.lists(between(-0.5, 0.5), min_size=1, max_size=20),
        st.sampled_from(["load", "path", "battery"]), st.booleans(), between(0, 0.2),
    )  # fmt: skip


def fitted() -> st.SearchStrategy[dict[str, Any]]:
    """Readings taken away, turned, read wrong; a load whose need is met, missed or not known."""

    def body(keep: list[bool], off: list[float], turn: bool, pull_in_v: float) -> Any:
        found = example("circuit-fit")
        readings = found["readings"]
        for each, factor in zip(readings, off, strict=True):
            value = next(key for key in each if key.startswith("value_"))
            each[value] *= factor
        if turn:
            readings[1]["value_v"] *= -1
        found["readings"] = [e for e, k in zip(readings, keep, strict=True) if k] or readings
        found["circuit"]["loads"][0]["rated"]["pull_in_v"] = pull_in_v
        return found

    factors = st.sampled_from([1.0, 1.0, 1.0, 1.002, 0.97, 1.3])
    return st.builds(
        body, st.lists(st.booleans(), min_size=6, max_size=6),
        st.lists(factors, min_size=6, max_size=6), st.booleans(), between(2, 9),
    )  # fmt: skip


def proven() -> st.SearchStrategy[dict[str, Any]]:
    """Readings after taken away or read wrong; a load whose need is met, missed or not known."""

    def body(keep: list[bool], off: list[float], switch_a: float, pull_in_v: float) -> Any:
        found = example("gain-proof")
        readings = found["after"]
        for each, factor in zip(readings, off, strict=True):
            value = next(key for key in each if key.startswith("value_"))
            each[value] *= factor
        readings[5]["value_a"] = switch_a
        found["after"] = [e for e, k in zip(readings, keep, strict=True) if k] or readings
        found["circuit"]["loads"][0]["rated"]["pull_in_v"] = pull_in_v
        return found

    factors = st.sampled_from([1.0, 1.0, 1.0, 1.002, 0.97, 2.0])
    return st.builds(
        body, st.lists(st.booleans(), min_size=7, max_size=7),
        st.lists(factors, min_size=7, max_size=7),
        st.sampled_from([0.13, 0.13, 6.5]), between(2, 9),
    )  # fmt: skip


# What lies between two systems wants its nominal voltage.
SUPPLIES = st.one_of(between(5, 7.5), between(9, 16), between(20, 30))

VARIED: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "wire-resistance": built(
        "wire-resistance", **WIRE, length_m=between(0, 100), temperature_c=between(-60, 300)
    ),
    "voltage-drop": st.builds(
        lambda segments, load, limit, supply: {
            "segments": segments, **load, **limit, "supply_v": supply
        },
        SEGMENTS, LOADS, LIMITS, SUPPLIES,
    ),
    "wire-heating": built(
        "wire-heating", **WIRE, **PLACE, current_a=between(1, 80),
        on_time_s=maybe(between(0.1, 1000)),
    ),
    "wire-sizing": built(
        "wire-sizing", **PLACE, **FUSED, load_current_a=between(1, 60), length_m=between(0.1, 20),
        return_path=st.sampled_from(["wire", "body"]), supply_v=SUPPLIES,
        standard=st.sampled_from(["AWG", "SAE", "IEC 60228"]),
        limit_drop_percent=maybe(between(1, 10)), needed_v=maybe(between(4, 12)),
        circuit=st.sampled_from(["continuous", "starter_control", "starter_motor"]),
    ),
    "fuse-selection": built(
        "fuse-selection", **WIRE, **PLACE, **FUSED, load_current_a=between(0.1, 60),
        supply_v=maybe(between(6, 40)), loop_resistance_ohm=maybe(between(0.001, 1)),
    ),
    "relay-coil": built(
        "relay-coil", ambient_c=between(-40, 120), maximum_v=maybe(between(8, 30)),
        thermal_resistance_k_per_w=maybe(between(1, 80)), available_v=between(4, 20),
        coil_limit_c=maybe(between(20, 180)), drop_out_v=maybe(between(0.1, 6)),
        energised_before=st.booleans(), reference_temperature_c=between(0, 40),
        suppression=st.sampled_from([
            {"kind": "none"}, {"kind": "diode"}, {"kind": "zener", "zener_v": 24.0},
            {"kind": "resistor", "resistance_ohm": 470.0},
        ]),
    ).filter(lambda body: body.get("maximum_v", 60) >= body["available_v"]),
    "relay-contact": built(
        "relay-contact", ambient_c=between(-40, 140), load_current_a=between(0.1, 60),
        inrush_current_a=maybe(between(0, 300)), contact_resistance_ohm=maybe(between(0, 0.1)),
        load_kind=st.sampled_from(["motor", "lamp", "resistive"]),
    ),
    "solenoid-pull-in": st.builds(
        lambda description, temperature, dip: example(
            "solenoid-pull-in", **merged(description, {"temperature_c": temperature, "dip_v": dip})
        ),
        DESCRIPTIONS, between(-40, 200), maybe(between(0, 12)),
    ),
    "battery-voltage": built(
        "battery-voltage", state_of_charge_percent=between(1, 100), temperature_c=between(-29, 60),
        current_a=between(0, 600), nominal_v=st.sampled_from([6, 12, 24]),
        internal_resistance_ohm=maybe(between(0.002, 0.02)),
    ),
    "switch-loading": built(
        "switch-loading", rating_a=between(1, 40), contact_resistance_ohm=between(0, 0.05),
        relay_coil_current_a=between(0.05, 1), supply_v=maybe(between(6, 28)),
    ),
    "drop-diagnosis": built(
        "drop-diagnosis", current_a=between(1, 30), supply_v=maybe(between(11, 16)),
        load_voltage_v=maybe(between(8, 11)), current_accuracy_percent=ACCURACIES,
        temperature_accuracy_k=ACCURACIES,
    ),
    "circuit-check": circuit("circuit-check"),
    "start-sequence": built("start-sequence"),
    "circuit-fit": fitted(),
    "meter-plan": circuit("meter-plan"),
    "gain-proof": proven(),
    "relay-retrofit": circuit("relay-retrofit"),
    "work-sheet": circuit("work-sheet"),
    "relay-choice": circuit("relay-choice"),
    "quick-answer": built(
        "quick-answer", distance_m=between(0.5, 20), current_a=maybe(between(1, 60)),
        load=st.sampled_from(["starter_solenoid", "headlamps", "fan"]),
        wear=maybe(st.sampled_from(["new", "used", "old", "very_old"])),
        fails=maybe(st.sampled_from(["never", "hot", "cold", "always"])),
        return_path=st.sampled_from(["body", "positive_body", "wire"]),
    ),
    "remedy-choice": circuit("remedy-choice"),
    "recording": recorded(),
}  # fmt: skip
