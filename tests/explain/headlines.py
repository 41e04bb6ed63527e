"""The numbers of an answer that its steps must lead to, by the symbol that they have there."""

from collections.abc import Iterator, Mapping
from typing import Any

JSON = Mapping[str, Any]
# Of lists longer than this the rest has no steps of its own.
MOST_ITEMS = 20


def numbers(answer: JSON, prefix: str = "") -> Iterator[tuple[str, float]]:
    for name, value in answer.items():
        if isinstance(value, float | int) and not isinstance(value, bool) and name != "rank":
            yield prefix + name, float(value)


def listed(items: Any, prefix: str) -> Iterator[tuple[str, float]]:
    for place, item in enumerate(items[:MOST_ITEMS], 1):
        yield from numbers(item, f"{prefix}_{place}_")


def headlines(name: str, answer: JSON) -> dict[str, float]:
    found = dict(numbers(answer))
    if name == "voltage-drop":
        found |= dict(listed(answer["segments"], "segments"))
    elif name == "wire-sizing":
        # The size before the one that passes, or the last one where none does.
        place = len(answer["candidates"]) - bool(answer["size"])
        if place:
            found |= dict(numbers(answer["candidates"][place - 1], f"candidates_{place}_"))
    elif name == "relay-coil":
        found |= dict(numbers(answer["suppression"], "suppression_"))
    elif name == "switch-loading":
        for each in ("positions", "relief", "cumulative"):
            found |= dict(listed(answer[each], each))
    elif name == "drop-diagnosis":
        found |= dict(listed(answer["readings"], "readings"))
    elif name == "circuit-check":
        del found["sound_cases"]  # counted
        case = next(each for each in answer["cases"] if each["name"] == answer["worst_case"])
        found |= {key: case[key] for key in ("source_v", "source_current_a")}
        found |= _load(case, answer["decisive_load"])
    elif name == "start-sequence":
        case = next(each for each in answer["cases"] if each["name"] == answer["worst_case"])
        for stage in case["stages"]:
            wanted = ("ampere_turns", "motor_v", "pull_in_current_a", "hold_in_current_a")
            found |= {f"{stage['name']}_{key}": stage[key] for key in wanted}
    elif name == "work-sheet":
        found |= dict(listed(answer["wires"], "wires"))
    elif name == "relay-choice":
        del found["not_looked_at"]  # counted
        for key in ("load_voltage_v", "margin_v") if answer["best"] else ():
            found |= {f"best_{key}": answer["best"][key]}
    elif name == "relay-retrofit":
        told = min(answer["cases"], key=lambda each: each["as_is"]["margin_v"])
        found["gain_v"] = told["gain_v"]
        for version in ("as_is", "proposed"):
            each = dict(numbers(told[version], f"{version}_"))
            for searched in ("tolerated_contact_ohm", "hottest_winding_c"):
                each.pop(f"{version}_{searched}", None)  # by solving the circuit many times
            found |= each
    return found


def _load(case: JSON, name: str) -> dict[str, float]:
    load = next(each for each in case["loads"] if each["name"] == name)
    told = {"load_voltage_v": load["voltage_v"], "load_current_a": load["current_a"]}
    return told | {k: load[k] for k in ("needed_v", "margin_v") if load[k] is not None}
