"""Stories of work on a starter's circuit at 6, 12 and 24 V: what is true, and what a meter shows.

A battery, a key's path and a winding; what was done to it, rightly or not, and what else changed
meanwhile. Ohm's and Kirchhoff's laws are solved here for the nodes, without fit and engine.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from .measured_vehicles import stamp

# System: volts at rest, ohms inside; of the winding; volts it needs; of the relay's coil ohms and
# pick-up; ohms of both wires, which are given by size and length.
SYSTEMS: dict[int, dict[str, Any]] = {
    6: {"emf": 6.35, "load": 0.42, "need": 4.2, "coil": 22.0, "pick": 3.4,
        "feed": ("4 mm2", 4.0), "aft": ("4 mm2", 5.0)},
    12: {"emf": 12.62, "load": 0.95, "need": 7.8, "coil": 85.0, "pick": 6.8,
         "feed": ("12 AWG", 6.0), "aft": ("12 AWG", 8.0)},
    24: {"emf": 25.3, "load": 2.4, "need": 16.0, "coil": 300.0, "pick": 14.0,
         "feed": ("2.5 mm2", 7.0), "aft": ("2.5 mm2", 9.0)},
}  # fmt: skip
# Of a metre, by IEC 60228 for a flexible conductor and by ASTM B258 with 2 % for the lay; a length
# is given within a tenth, which holds what these are off.
OHM_PER_M = {"4 mm2": 4.95e-3, "2.5 mm2": 7.41e-3, "12 AWG": 5.21e-3 * 1.02, "10 AWG": 3.34e-3}
LOAD = "starter solenoid"
OPEN = ("relay [30]", "relay [87]", "relay [load]")
POSTS = ("post", "ground")
ALONG = [POSTS, ("terminal", "block"), ("key in", "key out"), ("key out", "plug out"),
         ("block", "ground")]  # fmt: skip
WITH_RELAY = [POSTS, (OPEN[2], "block"), ("post", OPEN[0]), ("block", "ground"), "key switch"]


@dataclass(frozen=True)
class Vehicle:
    """Volts and ohms of the battery, and nodes and ohms of each part."""

    system: int
    emf_v: float
    internal_ohm: float
    parts: dict[str, tuple[str, str, float]]

    def with_(self, **ohm: float) -> "Vehicle":
        """Another value of some parts; their names with underscores."""
        named = {name.replace("_", " "): value for name, value in ohm.items()}
        put = {n: (*self.parts[n][:2], value) for n, value in named.items()}
        return replace(self, parts=self.parts | put)

    def solved(self, *, switch: bool = True) -> tuple[dict[str, float], dict[str, float]]:
        """Volts of nodes, amperes of parts; without the switch the relay is open, too."""
        out = set() if switch else {"key switch", "relay"}
        parts = {n: each for n, each in self.parts.items() if n not in out}
        names = list(dict.fromkeys(["ground", "post", *(n for e in parts.values() for n in e[:2])]))
        matrix, right = 1e-12 * np.eye(len(names)), np.zeros(len(names))
        for first, second, ohm in parts.values():
            stamp(matrix, names.index(first), names.index(second), 1.0 / max(ohm, 1e-9))
        stamp(matrix, 1, 0, 1.0 / self.internal_ohm)
        right[1] += self.emf_v / self.internal_ohm
        volts = np.zeros(len(names))
        volts[1:] = np.linalg.solve(matrix[1:, 1:], right[1:])
        named = dict(zip(names, volts.tolist(), strict=True))
        return named, {n: (named[a] - named[b]) / max(r, 1e-9) for n, (a, b, r) in parts.items()}

    @property
    def load_v(self) -> float:
        """Volts at the winding."""
        volts, _ = self.solved()
        first, second, _ = self.parts["load"]
        return volts[first] - volts[second]


def vehicle(
    system: int, switch: float, plug: float, ground: float = 0.004, inside: float = 0.012
) -> Vehicle:
    """A circuit as it was, by its ohms."""
    own = SYSTEMS[system]
    feed, aft = (OHM_PER_M[own[key][0]] * own[key][1] for key in ("feed", "aft"))
    parts = {
        "key fuse": ("post", "fused", 0.004),
        "feed": ("fused", "key in", feed),
        "key switch": ("key in", "key out", switch),
        "plug": ("key out", "plug out", plug),
        "wire aft": ("plug out", "terminal", aft),
        "load": ("terminal", "block", own["load"]),
        "strap": ("block", "ground", ground),
    }
    return Vehicle(system, own["emf"], inside, parts)


def with_relay(
    each: Vehicle, *, fed_from: str = "post", at_30: float = 0.0, at_87: float = 0.0,
    old_wire: bool = False,
) -> Vehicle:  # fmt: skip
    """The same with a relay beside its winding, its coil on the old wire."""
    per_m, own = OHM_PER_M["10 AWG"], SYSTEMS[each.system]
    new = {
        "relay fuse": (fed_from, "relay fused", 0.002),
        "relay feed": ("relay fused", OPEN[0], 0.8 * per_m + at_30),
        "relay": (OPEN[0], OPEN[1], 0.002),
        "outlet": (OPEN[1], OPEN[2], 0.4 * per_m + at_87),
        "coil": ("terminal", "block", own["coil"]),
        "load": (OPEN[2], "block", own["load"]),
    }
    if old_wire:
        new["left on"] = ("terminal", OPEN[2], 0.001)
    return replace(each, parts=each.parts | new)


class Meter:
    """Within 0.5 % and 2 digits of 2,000, a clamp 2 % and 5 digits: drawn once, and per reading."""

    def __init__(self, random: np.random.Generator) -> None:
        self.random = random
        self.factors = {
            "v": 1 + random.uniform(-0.005, 0.005),
            "a": 1 + random.uniform(-0.02, 0.02),
        }

    def shows(self, unit: str, value: float) -> float:
        """What it shows, in the finest range that holds it."""
        finest, digits = (1e-4, 2) if unit == "v" else (1e-2, 5)
        value *= self.factors[unit]
        ranges = max(0, math.ceil(math.log10(max(abs(value) / (2000 * finest), 1.0)) - 1e-9))
        step = finest * 10.0**ranges
        return round(round((value + self.random.uniform(-digits, digits) * step) / step) * step, 6)


def readings(each: Vehicle, meter: Meter, where: Sequence[Any]) -> list[dict[str, Any]]:
    """At rest over the posts, and then with the key held."""
    found = []
    for case, place in [("off", POSTS), *(("held", one) for one in where)]:
        volts, amps = each.solved(switch=case == "held")
        if isinstance(place, str):
            found.append({"case": case, "through": place, "value_a": meter.shows("a", amps[place])})
        else:
            value = meter.shows("v", volts[place[0]] - volts[place[1]])
            found.append({"case": case, "between": list(place), "value_v": value})
    return found


def request(system: int) -> dict[str, Any]:
    """The circuit as its owner describes it, without a way and readings."""
    own, most = SYSTEMS[system], 0.3 if system == 6 else 0.4

    def contact(name: str, part: str, first: str, second: str, high: float) -> dict[str, Any]:
        ohm = {"low": 0.0, "high": high}
        return {"name": name, "kind": "contact", "part": part, "nodes": [first, second],
                "resistance_ohm": ohm}  # fmt: skip

    def wire(name: str, size: str, length_m: float, *nodes: str) -> dict[str, Any]:
        return {"name": name, "kind": "wire", "nodes": list(nodes), "size": size,
                "length_m": length_m, "insulation": "GXL"}  # fmt: skip

    return {
        "nominal_v": system,
        "circuit": {
            "source": {
                "plus": "post",
                "open_circuit_v": {"low": 0.96 * own["emf"], "high": 1.03 * own["emf"]},
                "internal_resistance_ohm": {"low": 0.004, "high": 0.04},
            },
            "branches": [
                contact("key fuse", "fuse", "post", "fused", 0.05),
                wire("feed", *own["feed"], "fused", "key in"),
                contact("key switch", "switch", "key in", "key out", most),
                contact("plug", "connector", "key out", "plug out", most),
                wire("wire aft", *own["aft"], "plug out", "terminal"),
                contact("strap", "ground", "block", "ground", 0.2),
            ],
            "loads": [
                {"name": LOAD, "kind": "resistance", "copper": True, "nodes": ["terminal", "block"],
                 "resistance_ohm": {"low": 0.7 * own["load"], "high": 1.35 * own["load"]},
                 "needed_v": own["need"]},
            ],
        },
        "cases": [
            {"name": "off", "ambient_c": 20, "without": ["key switch"]},
            {"name": "held", "ambient_c": 20, "duration_s": 5},
        ],
        "load": LOAD,
    }  # fmt: skip


def relay_way(system: int) -> dict[str, Any]:
    """That relay as it was planned."""
    own = SYSTEMS[system]
    wire = {"kind": "wire", "size": "10 AWG", "insulation": "GXL"}
    relay = {
        "name": "relay", "nominal_v": system, "coil_resistance_ohm": own["coil"],
        "pick_up_v": own["pick"], "drop_out_v": 0.2 * own["pick"], "contact_resistance_ohm": 0.002,
        "rating_a": 40, "suppression": {"kind": "diode"},
    }  # fmt: skip
    fuse = {"name": "relay fuse", "kind": "contact", "part": "fuse", "resistance_ohm": 0.002,
            "rating_a": 30}  # fmt: skip
    feed = [fuse, {**wire, "name": "relay feed", "length_m": 0.8}]
    outlet = [{**wire, "name": "outlet", "length_m": 0.4}]
    proposal = {"relay": relay, "feed_node": "post", "feed": feed, "outlet": outlet}
    return {"name": "relay at the starter", "relay": proposal}


def story(
    before: Vehicle, after: Vehicle, *, mended: Sequence[str] = (), seed: int = 0,
    where: Sequence[Any] = (), first: Sequence[Any] = ALONG,
) -> dict[str, Any]:  # fmt: skip
    """What is posted: a relay was fitted, or what is `mended` was."""
    meter = Meter(np.random.default_rng(seed))
    way = {"name": "mended", "sound": list(mended)} if mended else relay_way(before.system)
    usual = ALONG if mended else WITH_RELAY
    return request(before.system) | {
        "switch": "key switch",
        "way": way,
        "before": readings(before, meter, first),
        "after": readings(after, meter, where or usual),
    }
