"""Drawn vehicles with one fault each, and what a meter shows, solved here and nowhere else.

One feeds its solenoid through the key switch, the other by a relay whose coil the switch feeds.
Nodes are solved by Ohm's and Kirchhoff's laws; a relay is in where its coil has what it needs to
close. The meter's factor is common to its readings, and each is rounded to its last digit.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

OPEN_OHM, PICK_UP_V, NEEDED_V = 1e7, 7.0, 10.0
# Copper at 20 degC: IEC 60028, 1.724 microohm cm; 12 AWG has 3.309 mm2, ASTM B258.
FEED_M, REAR_M, METRE_OHM = 6.0, 8.0, 0.01724 / 3.309
# Name, ends, kind, ohms drawn of a sound one, and the interval that is asked about.
Row = tuple[str, str, str, str, tuple[float, float], tuple[float, float] | None]
DIRECT: tuple[Row, ...] = (
    ("fuse", "post", "fused", "fuse", (0.002, 0.006), (0.0005, 0.4)),
    ("feed", "fused", "key in", "wire", (FEED_M, FEED_M), None),
    ("switch", "key in", "key out", "switch", (0.003, 0.008), (0.001, 1.2)),
    ("plug", "key out", "plug out", "connector", (0.002, 0.007), (0.001, 1.2)),
    ("rear wire", "plug out", "t50", "wire", (REAR_M, REAR_M), None),
    ("solenoid", "t50", "block", "load", (1.0, 1.3), (0.9, 1.4)),
    ("strap", "block", "ground", "ground", (0.0005, 0.004), (0.0002, 0.6)),
)
RELAYED: tuple[Row, ...] = (
    ("fuse", "post", "r30", "fuse", (0.002, 0.006), (0.0005, 0.4)),
    ("relay", "r30", "r87", "relay", (0.002, 0.006), (0.001, 0.6)),
    ("rear wire", "r87", "t50", "wire", (REAR_M, REAR_M), None),
    ("solenoid", "t50", "block", "load", (1.0, 1.3), (0.9, 1.4)),
    ("strap", "block", "ground", "ground", (0.0005, 0.004), (0.0002, 0.6)),
    ("coil feed", "post", "key in", "wire", (FEED_M, FEED_M), None),
    ("switch", "key in", "key out", "switch", (0.005, 0.05), (0.001, 1.2)),
    ("coil plug", "key out", "r86", "connector", (0.005, 0.05), (0.001, 1.2)),
    ("coil", "r86", "r85", "coil", (80.0, 95.0), (75.0, 100.0)),
    ("coil ground", "r85", "ground", "ground", (0.005, 0.05), (0.001, 1.2)),
)


@dataclass
class Faulty:
    """A vehicle, its one fault, and which wiring it has."""

    rows: tuple[Row, ...]
    emf_v: float
    internal_ohm: float
    ohm: dict[str, float]
    fault: str
    is_open: bool = False
    volts: dict[str, float] = field(default_factory=dict)
    amps: dict[str, float] = field(default_factory=dict)

    def solve(self) -> "Faulty":
        """With the key on; a relay is tried open, and then closed if its coil has enough."""
        relay = self.ohm.get("relay")
        if relay is not None:
            self._solve(self.ohm | {"relay": OPEN_OHM})
            at_coil = abs(self.volts["r86"] - self.volts["r85"])
            if at_coil < PICK_UP_V or self.ohm["coil"] == OPEN_OHM:
                return self
        return self._solve(self.ohm)

    def _solve(self, ohm: dict[str, float]) -> "Faulty":
        nodes = sorted({end for row in self.rows for end in row[1:3]} - {"ground"})
        place = {name: at for at, name in enumerate(nodes)}
        matrix, right = np.zeros((len(nodes), len(nodes))), np.zeros(len(nodes))
        for name, first, last, *_ in self.rows:
            for one, other in ((first, last), (last, first)):
                if one in place:
                    matrix[place[one], place[one]] += 1.0 / ohm[name]
                    if other in place:
                        matrix[place[one], place[other]] -= 1.0 / ohm[name]
        matrix[place["post"], place["post"]] += 1.0 / self.internal_ohm
        right[place["post"]] += self.emf_v / self.internal_ohm
        self.volts = dict(zip(nodes, np.linalg.solve(matrix, right).tolist(), strict=True))
        self.volts["ground"] = 0.0
        self.amps = {
            name: (self.volts[first] - self.volts[last]) / ohm[name]
            for name, first, last, *_ in self.rows
        }
        return self


def drawn(random: np.random.Generator, kind: str) -> Faulty:
    """A vehicle with a fault of a kind: a part, a part that is open, or the battery."""
    rows = RELAYED if kind.startswith("coil side") else DIRECT
    ohm = {
        row[0]: random.uniform(*row[4]) * (METRE_OHM if row[3] == "wire" else 1.0) for row in rows
    }
    found = Faulty(rows, random.uniform(12.5, 12.8), random.uniform(0.006, 0.012), ohm, kind)
    if kind == "battery":
        found.emf_v = random.uniform(11.3, 11.8)
    elif kind == "coil side":
        names = ["coil feed", "switch", "coil plug", "coil", "coil ground"]
        found.fault, found.is_open = str(random.choice(names)), True
        ohm[found.fault] = OPEN_OHM
    elif kind == "wire":
        found.fault = str(random.choice(["feed", "rear wire"]))
        ohm[found.fault] += random.uniform(0.15, 0.8)
    elif kind != "sound":
        ohm[kind] = random.uniform(0.08, 0.5)
    return found.solve()


def shown(volts: float, factor: float) -> float:
    """What a meter of 6000 counts shows."""
    return round(volts * factor, 3 if abs(volts) < 6.0 else 2)


def readings(random: np.random.Generator, vehicle: Faulty) -> list[dict[str, Any]]:
    """The battery at rest and under load, the current, the load, and the drops of a good round."""
    factor, of_clamp = 1.0 + random.uniform(-0.004, 0.004), 1.0 + random.uniform(-0.015, 0.015)

    def volts(first: str, last: str) -> dict[str, Any]:
        value = vehicle.volts[first] - vehicle.volts[last]
        return {"case": "on", "between": [first, last], "value_v": shown(value, factor)}

    off = {"case": "off", "between": ["post", "ground"], "value_v": shown(vehicle.emf_v, factor)}
    found = [off, volts("post", "ground"), volts("t50", "block")]
    if vehicle.rows is DIRECT:
        amps = round(vehicle.amps["solenoid"] * of_clamp, 2)
        found.append({"case": "on", "through": "solenoid", "value_a": amps})
        across = (("key in", "key out"), ("key out", "plug out"), ("block", "ground"))
        found += [volts(*each) for each in across]
    else:
        found += [volts(node, "ground") for node in ("key in", "key out", "r86", "r85")]
    return found


def request(vehicle: Faulty, read: list[dict[str, Any]]) -> dict[str, Any]:
    """The circuit as a mechanic would ask about it."""

    def between(ends: tuple[float, float]) -> dict[str, float]:
        return {"low": ends[0], "high": ends[1]}

    branches, loads, relays = [], [], []
    for name, first, last, kind, sound, asked in vehicle.rows:
        own = {"name": name, "nodes": [first, last]}
        if kind == "wire":
            branches.append(own | {"kind": "wire", "size": "12 AWG", "length_m": sound[0],
                                   "insulation": "GXL"})  # fmt: skip
        elif kind == "load":
            loads.append(own | {"kind": "resistance", "resistance_ohm": between(asked),
                                "needed_v": NEEDED_V})  # fmt: skip
        elif kind not in {"relay", "coil"}:
            branches.append(own | {"kind": "contact", "part": kind,
                                   "resistance_ohm": between(asked)})  # fmt: skip
    rows = {row[0]: row for row in vehicle.rows}
    if "relay" in rows:
        relay, coil = rows["relay"], rows["coil"]
        relays = [{"name": "relay", "coil_nodes": list(coil[1:3]),
                   "contact_nodes": list(relay[1:3]), "nominal_v": 12, "pick_up_v": PICK_UP_V,
                   "drop_out_v": 1.2, "coil_resistance_ohm": between(coil[5]),
                   "contact_resistance_ohm": between(relay[5])}]  # fmt: skip
    return {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": between((11.0, 13.0)),
                       "internal_resistance_ohm": between((0.004, 0.2))},
            "branches": branches, "loads": loads, "relays": relays,
        },
        "cases": [{"name": "off", "ambient_c": 20, "without": ["switch"]},
                  {"name": "on", "ambient_c": 20, "duration_s": 5}],
        "load": "solenoid", "worst_case": "on", "readings": read,
    }  # fmt: skip
