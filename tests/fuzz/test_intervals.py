"""An interval in the place of any quantity of a circuit: answered or refused, explained as well."""

import copy
from collections.abc import Iterator
from typing import Any

import pytest

CIRCUIT = {
    "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
    "branches": [
        {"name": "main fuse", "kind": "contact", "part": "fuse", "nodes": ["post", "fused"],
         "resistance_ohm": 0.003, "rating_a": 30},
        {"name": "feed", "kind": "wire", "nodes": ["fused", "in"], "size": "18 AWG",
         "length_m": 3.0, "insulation": "GXL", "insulation_limit_c": 110, "ambient_c": 40,
         "outer_diameter_mm": 2.9, "altitude_m": 500},
        {"name": "lamp switch", "kind": "contact", "part": "switch", "nodes": ["in", "out"],
         "resistance_ohm": 0.06, "rating_a": 15},
        {"name": "to the lamps", "kind": "wire", "nodes": ["out", "lamp"], "size": "16 AWG",
         "length_m": 6.0, "temperature_c": 60},
        {"name": "joint", "kind": "resistance", "nodes": ["back", "ground"],
         "resistance_ohm": 0.004},
    ],
    "loads": [
        {"name": "headlamps", "kind": "resistance", "resistance_ohm": 1.3,
         "nodes": ["lamp", "back"], "needed_v": 11.8, "circuit": "continuous"},
    ],
}  # fmt: skip
CASE = {"name": "summer", "ambient_c": 40, "ageing_factor": 1.5}
PROPOSAL = {
    "relay": {
        "name": "new relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7.2,
        "drop_out_v": 1.2, "thermal_resistance_k_per_w": 30, "coil_limit_c": 155,
        "highest_ambient_c": 105, "contact_resistance_ohm": 0.002, "rating_a": 40,
        "rating_ambient_c": 85, "make_rating_a": 240, "rated_v": 12, "load_kind": "lamp",
        "suppression": {"kind": "diode"},
    },
    "feed_node": "post",
    "feed": [
        {"name": "new fuse", "kind": "contact", "part": "fuse", "resistance_ohm": 0.003,
         "rating_a": 20},
        {"name": "new feed", "kind": "wire", "size": "14 AWG", "length_m": 1.0,
         "insulation": "GXL", "insulation_limit_c": 110, "ambient_c": 40},
    ],
    "outlet": [{"name": "outlet", "kind": "wire", "size": "14 AWG", "length_m": 1.0,
                "insulation": "TXL"}],
}  # fmt: skip
CHECK = {"circuit": CIRCUIT, "cases": [CASE]}
RETROFIT = {**CHECK, "load": "headlamps", "switch": "lamp switch", "proposal": PROPOSAL}


def numbers(asked: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Where numbers stand."""
    items = asked.items() if isinstance(asked, dict) else enumerate(asked)
    for key, value in items:
        if isinstance(value, dict | list):
            yield from numbers(value, (*path, key))
        elif isinstance(value, int | float):
            yield (*path, key)


def spread(asked: dict[str, Any], path: tuple[Any, ...], share: float) -> dict[str, Any]:
    """Put an interval in the place of a number."""
    made = copy.deepcopy(asked)
    there: Any = made
    for key in path[:-1]:
        there = there[key]
    value = there[path[-1]]
    there[path[-1]] = {"low": value * (1.0 - share), "high": value * (1.0 + share)}
    return made


@pytest.mark.parametrize("path", list(numbers(CHECK)), ids=lambda path: "-".join(map(str, path)))
def test_any_quantity_of_a_circuit_may_be_an_interval(client, path):
    asked = {**spread(CHECK, path, 0.3), "explain": True}
    answer = client.post("/v1/circuit-check", json=asked)
    assert answer.status_code == 200, answer.text
    assert answer.json["cases"][0]["spreads"]


@pytest.mark.long
@pytest.mark.parametrize("path", list(numbers(RETROFIT)), ids=lambda path: "-".join(map(str, path)))
def test_any_quantity_of_a_retrofit_may_be_an_interval(client, path):
    answer = client.post(
        "/v1/relay-retrofit", json={**spread(RETROFIT, path, 0.3), "explain": True}
    )
    assert answer.status_code == 200, answer.text
    assert answer.json["advice"]
