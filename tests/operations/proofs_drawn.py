"""Drawn starts, before and after a relay was fitted, rightly or not; without fit and engine.

A battery, a key's path and a winding; then a relay beside the winding, its coil on the old wire.
Ohm's and Kirchhoff's laws are solved here for the nodes. What a meter shows is as in
`measured_vehicles`: one factor for all its readings, before and after, digits that round.
Between the two the battery was charged or not, and every contact moved a little.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from .measured_vehicles import CLAMP, VOLTS, Point, stamp

EMF, INTERNAL = (12.1, 12.9), (0.004, 0.04)
HOT_C, AGEING = 85.0, 1.5
NEEDED_V = 8.0
COIL_OHM = 90.0
# Name, nodes, ohms between which it is drawn; of a winding copper, of a contact ageing.
BEFORE = {
    "key fuse": ("post", "fused", (0.0, 0.02)),
    "feed": ("fused", "key in", (0.06, 0.06)),
    "switch": ("key in", "key out", (0.0, 0.4)),
    "connector": ("key out", "firewall", (0.0, 0.2)),
    "wire": ("firewall", "terminal", (0.07, 0.07)),
    "strap": ("block", "ground", (0.0, 0.03)),
    "winding": ("terminal", "block", (0.7, 1.1)),
}
CONTACTS = ("key fuse", "switch", "connector", "strap")
WIRED = {
    "feed": 0.004, "outlet": 0.003, "relay fuse": 0.002, "relay": 0.003,
}  # fmt: skip
NODE = {"30": "start [30]", "87": "start [87]", "load": "start [load]"}
LOOSE_OHM = 0.1
LOOSE = ("loose at 30", "loose at 87", "loose at the load")
WRONG = ("coil_swapped", "old_wire_left_on", "fed behind the key", "fed before the key")
BLOWN, DEAD, OPEN_COIL = "blown fuse", "dead relay", "open coil"
OPEN_OHM = 1e9
FAULTS = (*LOOSE, *WRONG)


@dataclass(frozen=True)
class Start:
    """A start as it is: volts, and ohms by part; `fault` is what was done wrong after.

    One that `runs_on` keeps its relay closed with the key off: welded, or held by an old wire.
    """

    emf_v: float
    internal_ohm: float
    ohm: dict[str, float]
    new: dict[str, float]
    built: bool = False
    fault: str = ""
    ageing: float = 1.0
    runs_on: bool = False

    def parts(self, *, switch: bool = True) -> dict[str, tuple[str, str, float]]:
        """Nodes and ohms of every part."""
        found = {n: (a, b, self.ohm[n]) for n, (a, b, _) in BEFORE.items()}
        if not switch:
            del found["switch"]
        if not self.built:
            return found
        loose = LOOSE_OHM * self.ageing
        more = {place: loose * (self.fault == f"loose at {place}") for place in ("30", "87")}
        more["load"] = loose * (self.fault == "loose at the load")
        stud = {"fed behind the key": "key out", "fed before the key": "key in"}
        begin, coil = stud.get(self.fault, "post"), "terminal"
        at_30 = NODE["30"]
        if self.fault == "coil_swapped":
            coil, at_30 = at_30, "terminal"
        new = self.new
        found |= {
            "relay fuse": (begin, "fused 30", new["relay fuse"]),
            "relay feed": ("fused 30", NODE["30"], new["feed"] + more["30"]),
            "start": (at_30, NODE["87"], new["relay"]),
            "outlet": (NODE["87"], NODE["load"], new["outlet"] + more["87"] + more["load"]),
            "winding": (NODE["load"], "block", self.ohm["winding"]),
            "coil": (coil, "block", COIL_OHM),
        }
        if self.fault == "old_wire_left_on":
            found["left on"] = ("terminal", NODE["load"], 0.001)
        if self.fault == BLOWN:
            found["relay fuse"] = (begin, "fused 30", OPEN_OHM)
        if self.fault == OPEN_COIL:
            del found["coil"]
        is_in = switch or self.runs_on or self.fault == "coil_swapped"
        if not is_in or self.fault in {DEAD, OPEN_COIL}:
            del found["start"]  # the relay is open
        return found

    def hot(self) -> "Start":
        """Hot and aged: copper (IEC 60028) and every contact, the relay's too."""
        winding = self.ohm["winding"] * (234.5 + HOT_C) / 254.5
        aged = {name: self.ohm[name] * AGEING for name in CONTACTS}
        new = {n: self.new[n] * AGEING for n in ("relay fuse", "relay")}
        return replace(
            self, ohm=self.ohm | aged | {"winding": winding}, new=self.new | new, ageing=AGEING
        )

    def ideal(self, point: Point) -> float:
        """What an ideal meter shows."""
        volts, amps = solved(self, switch=point.case != "off")
        if point.between is None:
            return amps.get(point.through, 0.0)
        return volts[point.between[0]] - volts[point.between[1]]

    @property
    def load_v(self) -> float:
        """Volts at the winding."""
        first, second, _ = self.parts()["winding"]
        volts, _ = solved(self)
        return volts[first] - volts[second]


def solved(start: Start, *, switch: bool = True) -> tuple[dict[str, float], dict[str, float]]:
    """Volts of the nodes and amperes of the parts."""
    parts = start.parts(switch=switch)
    names = list(dict.fromkeys(["ground", *(n for a, b, _ in parts.values() for n in (a, b))]))
    matrix, right = np.zeros((len(names), len(names))), np.zeros(len(names))
    for first, second, ohm in parts.values():
        stamp(matrix, names.index(first), names.index(second), 1.0 / max(ohm, 1e-9))
    post, own = names.index("post"), 1.0 / start.internal_ohm
    stamp(matrix, post, 0, own)
    right[post] += start.emf_v * own
    matrix += 1e-12 * np.eye(len(names))  # what hangs on nothing is at the ground
    volts = np.zeros(len(names))
    volts[1:] = np.linalg.solve(matrix[1:, 1:], right[1:])
    named = dict(zip(names, volts.tolist(), strict=True))
    amps = {n: (named[a] - named[b]) / max(ohm, 1e-9) for n, (a, b, ohm) in parts.items()}
    return named, amps


def drawn(random: np.random.Generator, fault: str = "") -> tuple[Start, Start]:
    """A start before and after."""
    ohm = {name: float(random.uniform(*bounds)) for name, (*_, bounds) in BEFORE.items()}
    new = {n: value * random.uniform(0.7, 1.5) for n, value in WIRED.items() if n != "feed"}
    new = {"feed": WIRED["feed"], **new, "outlet": WIRED["outlet"]}
    before = Start(random.uniform(*EMF), random.uniform(*INTERNAL), ohm, new)
    moved = {n: ohm[n] * random.uniform(0.97, 1.03) for n in CONTACTS}
    after = replace(
        before,
        emf_v=random.uniform(*EMF),
        internal_ohm=random.uniform(*INTERNAL),
        ohm=ohm | moved,
        built=True,
        fault=fault,
    )
    return before, after


def points() -> tuple[list[Point], list[Point]]:
    """What a person reads before and after."""
    key = "key"
    ground = [Point("off", ("post", "ground")), Point(key, ("post", "ground"))]
    before = [
        *ground, Point(key, ("terminal", "block")), Point(key, through="wire"),
        Point(key, ("key in", "firewall")), Point(key, ("block", "ground")),
        Point(key, ("post", "fused")),
    ]  # fmt: skip
    after = [
        *ground, Point(key, (NODE["load"], "block")), Point(key, through="start"),
        Point(key, through="switch"), Point(key, ("post", NODE["30"])),
        Point(key, (NODE["30"], NODE["87"])), Point(key, ("block", "ground")),
    ]  # fmt: skip
    return before, after


def shown(random: np.random.Generator, sides: Any) -> list[list[float]]:
    """What the meters show on each side, each with one factor for both."""
    factors = {each: 1.0 + random.uniform(-each[0], each[0]) / 100 for each in (VOLTS, CLAMP)}
    found = []
    for start, where in sides:
        values = []
        for each in where:
            true = start.ideal(each) * factors[each.percent_and_digits]
            step = each.step(true)
            steps = true / step + random.uniform(-1, 1) * each.percent_and_digits[1]
            values.append(float(np.round(steps) * step))
        found.append(values)
    return found


def request() -> dict[str, Any]:
    """What is asked, without readings."""

    def part(name: str) -> dict[str, Any]:
        first, second, (low, high) = BEFORE[name]
        if low == high:
            return {"name": name, "kind": "resistance", "nodes": [first, second],
                    "resistance_ohm": low}  # fmt: skip
        kind = "switch" if name == "switch" else "ground" if name == "strap" else "connector"
        return {"name": name, "kind": "contact", "part": kind, "nodes": [first, second],
                "resistance_ohm": {"low": 0.0, "high": high}}  # fmt: skip

    relay = {
        "name": "start", "nominal_v": 12, "coil_resistance_ohm": COIL_OHM, "pick_up_v": 6.0,
        "drop_out_v": 1.2, "contact_resistance_ohm": WIRED["relay"], "rating_a": 50,
    }  # fmt: skip
    low, high = BEFORE["winding"][2]
    return {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": {"low": EMF[0], "high": EMF[1]},
                       "internal_resistance_ohm": {"low": INTERNAL[0], "high": INTERNAL[1]}},
            "branches": [part(name) for name in BEFORE if name != "winding"],
            "loads": [{"name": "winding", "kind": "resistance", "nodes": ["terminal", "block"],
                       "resistance_ohm": {"low": low, "high": high}, "copper": True,
                       "needed_v": NEEDED_V}],
        },
        "cases": [{"name": "off", "without": ["switch"]}, {"name": "key"},
                  {"name": "hot", "ambient_c": HOT_C, "ageing_factor": AGEING}],
        "load": "winding",
        "switch": "switch",
        "worst_case": "hot",
        "way": {
            "name": "relay",
            "relay": {
                "relay": relay,
                "feed_node": "post",
                "feed": [{"name": "relay fuse", "kind": "contact", "part": "fuse",
                          "resistance_ohm": WIRED["relay fuse"]},
                         {"name": "relay feed", "kind": "resistance",
                          "resistance_ohm": WIRED["feed"]}],
                "outlet": [{"name": "outlet", "kind": "resistance",
                            "resistance_ohm": WIRED["outlet"]}],
            },
        },
        "meters": [
            {"name": "meter", "kind": "volts", "accuracy_percent": VOLTS[0],
             "accuracy_digits": VOLTS[1]},
            {"name": "clamp", "kind": "amperes", "accuracy_percent": CLAMP[0],
             "accuracy_digits": CLAMP[1]},
        ],
    }  # fmt: skip


def asked(seed: int, fault: str = "") -> tuple[dict[str, Any], Start, Start]:
    """A request with drawn readings, and the truth."""
    random = np.random.default_rng(seed)
    before, after = drawn(random, fault)
    where = points()
    values = shown(random, zip((before, after), where, strict=True))
    read = [
        [each.asked(value) for each, value in zip(*side, strict=True)]
        for side in zip(where, values, strict=True)
    ]
    return request() | {"before": read[0], "after": read[1]}, before, after


def true_gain_v(before: Start, after: Start) -> float:
    """More volts at the winding, hot and aged, at the supply of before."""
    once = replace(after, emf_v=before.emf_v, internal_ohm=before.internal_ohm)
    return once.hot().load_v - before.hot().load_v
