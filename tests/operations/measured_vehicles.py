"""Drawn vehicles and what a meter shows of them, written without the fit and without the engine.

A battery, a feed with fuse, switch and connector to a winding, a heater from the connector to
ground, and an engine strap. Ohm's and Kirchhoff's laws are solved here for the nodes; the meter's
factor is common to its readings, its last digit rectangular and rounded; contacts and temperatures
wander a little from one reading to the next.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

NODES = ["ground", "post", "fused", "key in", "key out", "firewall", "terminal 50", "block"]
# Name, nodes, kind, ohms drawn between, and whether it is given as an interval.
PARTS = (
    ("fuse", "post", "fused", "contact", (0.001, 0.03), True),
    ("feed", "fused", "key in", "resistance", (0.05, 0.05), False),
    ("switch", "key in", "key out", "contact", (0.0, 0.4), True),
    ("connector", "key out", "firewall", "contact", (0.0, 0.4), True),
    ("wire", "firewall", "terminal 50", "resistance", (0.06, 0.06), False),
    ("strap", "block", "ground", "contact", (0.0005, 0.06), True),
    ("winding", "terminal 50", "block", "load", (0.7, 1.3), True),
    ("heater", "key out", "ground", "load", (1.8, 3.5), True),
)
EMF, INTERNAL = (12.1, 12.9), (0.004, 0.04)
CASES = ("off", "key", "key and heater")
WITHOUT = {"off": ["switch"], "key": ["heater"], "key and heater": []}
AMBIENT = {"off": 20.0, "key": 20.0, "key and heater": 45.0}
NEEDED_V = 8.0
VOLTS, CLAMP = (0.5, 2), (2.0, 5)  # percent and digits
CONTACT_DRIFT, KELVIN_DRIFT = 0.001, 0.3


@dataclass
class Vehicle:
    """What it is made of: volts and ohms by name."""

    emf_v: float
    internal_ohm: float
    ohm: dict[str, float]

    @property
    def values(self) -> np.ndarray:
        """What was not known, in the order of `inputs`."""
        return np.array([self.emf_v, self.internal_ohm, *(self.ohm[n] for n in UNKNOWN)])

    @classmethod
    def of(cls, values: np.ndarray) -> "Vehicle":
        known = {name: low for name, _, _, _, (low, _), open_ in PARTS if not open_}
        return cls(values[0], values[1], known | dict(zip(UNKNOWN, values[2:], strict=True)))


UNKNOWN = [name for name, *_, open_ in PARTS if open_]
BOUNDS = np.array([EMF, INTERNAL, *(each for *_, each, open_ in PARTS if open_)])


def inputs() -> list[str]:
    """Paths of what is not known, in the order of `Vehicle.values`."""
    branches = [each for each in PARTS if each[3] != "load"]
    loads = [each for each in PARTS if each[3] == "load"]
    paths = {each[0]: f"circuit/branches/{place}" for place, each in enumerate(branches)}
    paths |= {each[0]: f"circuit/loads/{place}" for place, each in enumerate(loads)}
    source = ["circuit/source/open_circuit_v", "circuit/source/internal_resistance_ohm"]
    return [*source, *(f"{paths[name]}/resistance_ohm" for name in UNKNOWN)]


def drawn(random: np.random.Generator) -> Vehicle:
    return Vehicle.of(random.uniform(BOUNDS[:, 0], BOUNDS[:, 1]))


def request() -> dict[str, Any]:
    """The circuit as it is asked about, without readings."""

    def ohm(bounds, open_):
        return {"low": bounds[0], "high": bounds[1]} if open_ else bounds[0]

    branches = [
        {"name": name, "kind": kind, "nodes": [a, b], "resistance_ohm": ohm(bounds, open_),
         **({"part": "connector"} if kind == "contact" else {})}
        for name, a, b, kind, bounds, open_ in PARTS if kind != "load"
    ]  # fmt: skip
    loads = [
        {"name": name, "kind": "resistance", "nodes": [a, b], "resistance_ohm": ohm(bounds, open_),
         "copper": True}
        for name, a, b, kind, bounds, open_ in PARTS if kind == "load"
    ]  # fmt: skip
    loads[0]["needed_v"] = NEEDED_V
    return {
        "circuit": {
            "source": {
                "plus": "post",
                "open_circuit_v": {"low": EMF[0], "high": EMF[1]},
                "internal_resistance_ohm": {"low": INTERNAL[0], "high": INTERNAL[1]},
            },
            "branches": branches,
            "loads": loads,
        },
        "cases": [
            {"name": name, "ambient_c": AMBIENT[name], "without": WITHOUT[name]} for name in CASES
        ],
        "load": "winding",
        "worst_case": "key and heater",
        "meters": [
            {"name": "meter", "kind": "volts", "accuracy_percent": VOLTS[0],
             "accuracy_digits": VOLTS[1]},
            {"name": "clamp", "kind": "amperes", "accuracy_percent": CLAMP[0],
             "accuracy_digits": CLAMP[1]},
        ],
    }  # fmt: skip


def solved(vehicle: Vehicle, case: str, drift=None) -> tuple[dict[str, float], dict[str, float]]:
    """Volts of the nodes and amperes of the parts."""
    count = len(NODES)
    matrix, right = np.zeros((count, count)), np.zeros(count)
    siemens = {}
    for name, first, last, kind, *_ in PARTS:
        if name in WITHOUT[case]:
            continue
        ohm = vehicle.ohm[name]
        kelvin = 0.0 if drift is None else drift.uniform(-KELVIN_DRIFT, KELVIN_DRIFT)
        if kind == "contact" and drift is not None:
            ohm *= 1.0 + drift.uniform(-CONTACT_DRIFT, CONTACT_DRIFT)
        if kind == "load":  # IEC 60028: copper
            ohm *= (234.5 + AMBIENT[case] + kelvin) / 254.5
        siemens[name] = 1.0 / max(ohm, 1e-9)
        stamp(matrix, NODES.index(first), NODES.index(last), siemens[name])
    battery = 1.0 / vehicle.internal_ohm
    stamp(matrix, 1, 0, battery)
    right[1] += vehicle.emf_v * battery
    free = [node for node in range(1, count) if matrix[node, node] > 0.0]
    volts = np.zeros(count)
    volts[free] = np.linalg.solve(matrix[np.ix_(free, free)], right[free])
    named = dict(zip(NODES, volts.tolist(), strict=True))
    ends = {name: (first, last) for name, first, last, *_ in PARTS}
    amps = {n: (named[ends[n][0]] - named[ends[n][1]]) * each for n, each in siemens.items()}
    return named, amps


def stamp(matrix: np.ndarray, first: int, last: int, siemens: float) -> None:
    for a, b in ((first, last), (last, first)):
        matrix[a, a] += siemens
        matrix[a, b] -= siemens


@dataclass
class Point:
    """Where a meter is held, and in which case."""

    case: str
    between: tuple[str, str] | None = None
    through: str | None = None
    also: dict[str, Any] = field(default_factory=dict)

    def ideal(self, vehicle: Vehicle, drift=None) -> float:
        volts, amps = solved(vehicle, self.case, drift)
        if self.between is None:
            return amps[self.through]
        return volts[self.between[0]] - volts[self.between[1]]

    @property
    def percent_and_digits(self) -> tuple[float, int]:
        return VOLTS if self.between else CLAMP

    def step(self, value: float) -> float:
        """Of the last digit: 2,000 counts in ranges of tens."""
        step = 1e-4 if self.between else 1e-2
        while abs(value) > 2000 * step * (1 + 1e-12):
            step *= 10
        return step

    def uncertainty(self, value: float) -> tuple[float, float]:
        """Standard uncertainty by digits and rounding, and of the factor."""
        percent, digits = self.percent_and_digits
        step = self.step(value)
        own = np.hypot(digits * step, 0.5 * step) / np.sqrt(3)
        return float(own), float(percent / 100 / np.sqrt(3))

    def asked(self, value: float) -> dict[str, Any]:
        if self.between:
            return {"case": self.case, "between": list(self.between), "value_v": value,
                    "meter": "meter"}  # fmt: skip
        return {"case": self.case, "through": self.through, "value_a": value, "meter": "clamp"}


def points() -> list[Point]:
    """All that a person would read."""
    found = [Point("off", ("post", "ground"))]
    for case in CASES[1:]:
        for name, first, last, *_ in PARTS:
            if name not in WITHOUT[case]:
                found.append(Point(case, (first, last)))
        found += [Point(case, ("post", "ground")), Point(case, ("terminal 50", "ground"))]
        found += [Point(case, through=name) for name in ("feed", "winding")]
        found += [Point(case, ("post", "key out")), Point(case, ("key in", "firewall"))]
    return found


def shown(random: np.random.Generator, vehicle: Vehicle, where: list[Point]) -> list[float]:
    """What the meters show, each with one factor."""
    factors = {
        each[0]: 1.0 + random.uniform(-each[0], each[0]) / 100 for each in (VOLTS, CLAMP)
    }  # fmt: skip
    values = []
    for each in where:
        percent, digits = each.percent_and_digits
        true = each.ideal(vehicle, random) * factors[percent]
        step = each.step(true)
        steps = true / step + random.uniform(-digits, digits)
        values.append(float(np.round(steps) * step))
    return values
