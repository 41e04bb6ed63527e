"""The values of a network's elements: of one scenario in plain numbers, of many in arrays.

Both carry the same methods, so that everything above them is written once. Vectors run over the
branches or the nodes first, and in arrays over the scenarios second.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from lastvolt_service.physics.network.bends import Line, Warmth, lamp_line, wire_line
from lastvolt_service.physics.network.elements import FloatArray, Network
from lastvolt_service.physics.network.topology import Topology
from lastvolt_service.physics.network.warmths import Warmths

# Fields of each kind of straight branch: resistance and voltage.
STRAIGHT = {
    "resistors": ("resistance_ohm", None),
    "coils": ("resistance_ohm", None),
    "contacts": ("resistance_ohm", None),
    "sources": ("internal_resistance_ohm", "emf_v"),
    "chargers": ("internal_resistance_ohm", "regulated_v"),
    "motors": ("resistance_ohm", "back_v"),
    "diodes": ("resistance_ohm", "forward_v"),
}
# Those of all kinds but lamps, which begin as their rated resistances.
_OHM_AND_EMF = {"wires": ("resistance_20_ohm", None), **STRAIGHT}
LOADS = {"current_loads": "current_a", "power_loads": "power_w"}
# A wire's drop and its resistance times its current agree to this many volts, in full and per volt
# of the highest voltage.
TOLERANCE_V = 1e-9
TOLERANCE_V_PER_V = 1e-12
# Volts and amperes beyond this come of branches a hair from perfect across a source; smaller ones
# have squares that a double holds.
LARGEST = 1e100

Bends = Sequence[Line]


@dataclass(frozen=True, slots=True)
class Limits:
    """What the search for a state of rest holds the voltages of one scenario against.

    Attributes
    ----------
    pick_up_v, drop_out_v : list of float
        Of each coil. [V]
    ohm, emf_v, limit_a : list of float
        Of the guarded branches, chargers, motors and diodes; endless limits but for chargers.
        [ohm], [V], [A]
    asked : list of float
        Of the loads. [A] or [W]
    works_from_v : list of float
        Of the loads. [V]
    """

    pick_up_v: list[float]
    drop_out_v: list[float]
    ohm: list[float]
    emf_v: list[float]
    limit_a: list[float]
    asked: list[float]
    works_from_v: list[float]


class Few:
    """Values of one scenario, as plain numbers."""

    is_one = True

    def __init__(self, topology: Topology, network: Network) -> None:
        self.topology = topology
        self.ohm: list[float] = []
        self.emf: list[float] = []
        for kind, (ohm, emf) in _OHM_AND_EMF.items():
            elements = getattr(network, kind)
            if len(elements.start):
                ohms = getattr(elements, ohm).tolist()
                self.ohm += ohms
                self.emf += getattr(elements, emf).tolist() if emf else [0.0] * len(ohms)
        self._wires = topology.spans["wires"].stop
        self._lamps = topology.spans["lamps"]
        self._lamp_rows: list[tuple[float, float, float]] = []
        if len(network.lamps):
            lamps = network.lamps
            self._lamp_rows = list(
                zip(
                    lamps.rated_v.tolist(),
                    lamps.rated_a.tolist(),
                    lamps.exponent.tolist(),
                    strict=True,
                )
            )
            self.ohm += [volts / amps for volts, amps, _ in self._lamp_rows]
            self.emf += [0.0] * len(self._lamp_rows)
        self.bent = [*range(self._wires), *range(self._lamps.start, self._lamps.stop)]
        self.limit: list[float] = network.chargers.limit_a.tolist()
        self.asked: list[float] = []
        works: list[float] = []
        for kind, field in LOADS.items():
            loads = getattr(network, kind)
            if len(loads.start):
                self.asked += getattr(loads, field).tolist()
                works += loads.works_from_v.tolist()
        guarded = topology.guarded
        self.limits = [
            Limits(
                network.coils.pick_up_v.tolist(),
                network.coils.drop_out_v.tolist(),
                [self.ohm[branch] for branch in guarded],
                [self.emf[branch] for branch in guarded],
                self.limit + [np.inf] * (len(guarded) - len(self.limit)),
                self.asked,
                works,
            )
        ]
        self._alpha: list[float] = network.wires.temperature_coefficient_per_k.tolist()
        self._temperature_of = network.wires.temperature_of
        singles = getattr(self._temperature_of, "singles", None)
        self._warmth = None if singles is None else [_pair(each) for each in singles]

    @property
    def weight(self) -> list[float]:
        """Resistance of every branch, for the tree. [ohm]."""
        return self.ohm

    def bends(self, flow: Sequence[float], before: Bends | None = None) -> list[Line]:
        """Lines that touch the bent elements at the currents of all branches."""
        count = self._wires
        earlier: Any = [None] * count if before is None else before
        if self._warmth is None:
            found = self._together(flow[:count], earlier[:count]) if count else []
        else:
            found = [
                wire_line(
                    current_a=flow[place],
                    before=earlier[place],
                    resistance_20_ohm=self.ohm[place],
                    temperature_coefficient_per_k=self._alpha[place],
                    warmth=warmth,
                )
                for place, warmth in enumerate(self._warmth)
            ]
        for branch, (volts, amps, exponent) in enumerate(self._lamp_rows, self._lamps.start):
            found.append(
                lamp_line(current_a=flow[branch], rated_v=volts, rated_a=amps, exponent=exponent)
            )
        return found

    def _together(self, flow: Sequence[float], earlier: Sequence[Any]) -> list[Line]:
        """Wires whose temperatures are only told side by side."""
        count = self._wires

        def warmth(lower: FloatArray, upper: FloatArray) -> tuple[FloatArray, FloatArray]:
            warm, warmer = self._temperature_of(np.stack([lower, upper]))
            return warm, warmer

        line = wire_line(
            current_a=np.array(flow),
            before=None if earlier[0] is None else Line(*map(np.array, zip(*earlier, strict=True))),
            resistance_20_ohm=np.array(self.ohm[:count]),
            temperature_coefficient_per_k=np.array(self._alpha),
            warmth=warmth,
        )
        columns = [np.broadcast_to(value, (count,)).tolist() for value in line]
        return [Line(*row) for row in zip(*columns, strict=True)]

    def lay(self, ohm: list[float], emf: list[float], bends: Bends) -> None:
        """Put the lines in the place of the bent elements."""
        for branch, line in zip(self.bent, bends, strict=True):
            ohm[branch] = line.slope_ohm
            emf[branch] = line.drop_v - line.slope_ohm * line.current_a

    def at_bends(self, bends: Bends) -> list[float]:
        """Currents of all branches, zero but for the bent elements: those of the lines. [A]."""
        flow = [0.0] * len(self.ohm)
        for branch, line in zip(self.bent, bends, strict=True):
            flow[branch] = line.current_a
        return flow

    def misses(
        self,
        flow: Sequence[float],
        volts: Sequence[float],
        bends: Bends,
        bent: Sequence[int] | None = None,
    ) -> tuple[bool, float]:
        """Tell whether lines and elements still disagree, and by how much at most. [V]."""
        start, end = self.topology.start, self.topology.end
        limit = TOLERANCE_V + TOLERANCE_V_PER_V * max(map(abs, volts))
        worst, moved = 0.0, False
        for branch, line in zip(self.bent if bent is None else bent, bends, strict=True):
            if line.lost:
                continue
            missed = abs(volts[start[branch]] - volts[end[branch]] - line.drop_v)
            worst = max(worst, missed)
            moved = moved or line.current_a != flow[branch]
        return moved or worst > limit, worst

    def open_ones(self, flow: Sequence[float], volts: Sequence[float], bends: Bends) -> Any:
        """Tell which bent elements still disagree with their lines: shape (elements, 1)."""
        return np.array(
            [
                self.misses(flow, volts, [line], [branch])[0]
                for branch, line in zip(self.bent, bends, strict=True)
            ]
        )[:, None]

    def out_of_reach(self, flow: Sequence[float], volts: Sequence[float]) -> bool:
        """Tell whether currents or voltages are no numbers, or endless."""
        return not (
            all(abs(value) < LARGEST for value in flow)
            and all(abs(value) < LARGEST for value in volts)
        )


class Many:
    """Values of many scenarios, as arrays (elements, scenarios)."""

    is_one = False

    def __init__(self, topology: Topology, parts: dict[str, Any], warmth: Warmths) -> None:
        self.topology = topology
        self.parts, self._warmth = parts, warmth
        self.ohm: FloatArray = parts["ohm"]
        self.emf: FloatArray = parts["emf"]
        self.limit: FloatArray = parts["limit"]
        self.asked: FloatArray = parts["asked"]
        self._wires = topology.spans["wires"].stop
        self._lamps = topology.spans["lamps"]
        self.bent = np.r_[0 : self._wires, self._lamps]
        self._start = np.array(topology.start, dtype=np.int64)[self.bent]
        self._end = np.array(topology.end, dtype=np.int64)[self.bent]

    @classmethod
    def of(cls, topology: Topology, networks: Sequence[Network], count: int) -> "Many":
        """Line up the values of networks of one shape, or of one with rows for its scenarios."""

        def column(kind: str, field: str | None) -> FloatArray:
            span = topology.spans[kind]
            size = span.stop - span.start
            if field is None or not size:
                return np.zeros((size, count))
            if len(networks) == 1:
                value = getattr(getattr(networks[0], kind), field)
                return np.array(np.broadcast_to(value, (count, size)).T)
            return np.stack([getattr(getattr(one, kind), field) for one in networks], axis=1)

        amps = column("lamps", "rated_a")
        lamps = (column("lamps", "rated_v"), amps, column("lamps", "exponent"))
        rated = lamps[0] / amps
        parts = {
            "ohm": np.concatenate([*(column(k, o) for k, (o, _) in _OHM_AND_EMF.items()), rated]),
            "emf": np.concatenate(
                [*(column(k, e) for k, (_, e) in _OHM_AND_EMF.items()), np.zeros_like(rated)]
            ),
            "limit": column("chargers", "limit_a"),
            "asked": np.concatenate([column(k, f) for k, f in LOADS.items()]),
            "works": np.concatenate([column(k, "works_from_v") for k in LOADS]),
            "alpha": column("wires", "temperature_coefficient_per_k"),
            "lamps": np.stack(lamps),
            "coils": np.stack([column("coils", f) for f in ("pick_up_v", "drop_out_v")]),
        }
        return cls(topology, parts, Warmths.of(networks, count))

    @property
    def limits(self) -> list[Limits]:
        """For each scenario."""
        parts, guarded = self.parts, list(self.topology.guarded)
        limit = np.full((len(guarded), self.ohm.shape[1]), np.inf)
        limit[: len(self.limit)] = self.limit
        columns = [
            array.T.tolist()
            for array in (
                *parts["coils"],
                self.ohm[guarded],
                self.emf[guarded],
                limit,
                self.asked,
                parts["works"],
            )
        ]
        return [Limits(*row) for row in zip(*columns, strict=True)]

    def chosen(self, scenarios: Sequence[int]) -> "Many":
        """Values of some scenarios."""
        if list(scenarios) == list(range(self.ohm.shape[1])):
            return self
        parts = {name: array[..., scenarios] for name, array in self.parts.items()}
        return Many(self.topology, parts, self._warmth.chosen(scenarios))

    @property
    def weight(self) -> list[float]:
        """Largest resistance of every branch, for the tree. [ohm]."""
        found: list[float] = self.ohm.max(axis=1).tolist()
        return found

    def bends(self, flow: FloatArray, before: Bends | None = None) -> list[Line]:
        """Lines that touch the bent elements at the currents of all branches."""
        found, count = [], self._wires
        if count:
            found.append(
                wire_line(
                    current_a=flow[:count],
                    before=None if before is None else before[0],
                    resistance_20_ohm=self.ohm[:count],
                    temperature_coefficient_per_k=self.parts["alpha"],
                    warmth=self._warmth,
                )
            )
        if self._lamps.start < self._lamps.stop:
            volts, amps, exponent = self.parts["lamps"]
            found.append(
                lamp_line(
                    current_a=flow[self._lamps], rated_v=volts, rated_a=amps, exponent=exponent
                )
            )
        return found

    def lay(self, ohm: FloatArray, emf: FloatArray, bends: Bends) -> None:
        """Put the lines in the place of the bent elements."""
        for span, line in zip(self._spans(), bends, strict=True):
            ohm[span] = line.slope_ohm
            emf[span] = line.drop_v - line.slope_ohm * line.current_a

    def at_bends(self, bends: Bends) -> FloatArray:
        """Currents of all branches, zero but for the bent elements: those of the lines. [A]."""
        flow = np.zeros_like(self.ohm)
        for span, line in zip(self._spans(), bends, strict=True):
            flow[span] = line.current_a
        return flow

    def packed(self, bends: Bends) -> FloatArray:
        """Put lines into one array, shape (5, bent elements, scenarios)."""
        shapes = [line.drop_v.shape for line in bends]
        rows = [
            np.concatenate(
                [np.broadcast_to(line[place], s) for line, s in zip(bends, shapes, strict=True)]
            )
            for place in range(5)
        ]
        return np.stack(rows)

    def unpacked(self, lines: FloatArray) -> list[Line]:
        """Take lines out of such an array."""
        spans = [span.stop - span.start for span in self._spans()]
        cut = np.split(lines, np.cumsum(spans)[:-1], axis=1)
        return [Line._make([*rows, False]) for rows in cut]

    def misses(self, flow: FloatArray, volts: FloatArray, bends: Bends) -> tuple[Any, Any]:
        """Tell where lines and elements still disagree, and by how much at most. [V]."""
        if not bends:
            return np.zeros(flow.shape[1], dtype=np.bool_), np.zeros(flow.shape[1])
        moved, missed, limit = self._disagreeing(flow, volts, bends)
        worst = np.max(missed, axis=0)
        return np.any(moved, axis=0) | (worst > limit), worst

    def open_ones(self, flow: FloatArray, volts: FloatArray, bends: Bends) -> Any:
        """Tell which bent elements still disagree with their lines: (elements, scenarios)."""
        moved, missed, limit = self._disagreeing(flow, volts, bends)
        return moved | (missed > limit)

    def _disagreeing(self, flow: FloatArray, volts: FloatArray, bends: Bends) -> Any:
        limit = TOLERANCE_V + TOLERANCE_V_PER_V * np.max(np.abs(volts), axis=0)
        drop = np.concatenate([line.drop_v for line in bends])
        current = np.concatenate([line.current_a for line in bends])
        lost = np.concatenate([np.broadcast_to(line.lost, line.drop_v.shape) for line in bends])
        missed = np.where(lost, 0.0, np.abs(volts[self._start] - volts[self._end] - drop))
        return ~lost & (current != flow[self.bent]), missed, limit

    def out_of_reach(self, flow: FloatArray, volts: FloatArray) -> Any:
        """Tell where currents or voltages are no numbers, or endless."""
        ok = np.all(np.abs(flow) < LARGEST, axis=0) & np.all(np.abs(volts) < LARGEST, axis=0)
        return ~ok

    def _spans(self) -> list[slice]:
        whole = (slice(0, self._wires), self._lamps)
        return [span for span in whole if span.start < span.stop]


def _pair(single: Callable[[float], float]) -> Warmth:
    return lambda lower, upper: (single(lower), single(upper))
