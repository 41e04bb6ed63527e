"""What a network at rest is like: of one scenario, or of many with an axis for them in front."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from lastvolt_service.errors import ImpossibleLoad, NetworkFault
from lastvolt_service.physics.network.elements import BoolArray, FloatArray, Network
from lastvolt_service.physics.network.equations import Plan
from lastvolt_service.physics.network.topology import Topology
from lastvolt_service.rows import plain


@dataclass(frozen=True, slots=True, eq=False)
class Flow:
    """What goes through the elements of one kind.

    Attributes
    ----------
    current_a : ndarray, shape (..., elements)
        Current from start to end; of sources and chargers what they deliver, out of the plus
        post. [A]
    drop_v : ndarray, shape (..., elements)
        Voltage of start against end; of an open contact the voltage across the gap. [V]
    """

    current_a: FloatArray
    drop_v: FloatArray

    @property
    def power_w(self) -> FloatArray:
        """Power of each element; of sources and chargers what leaves their posts. [W]."""
        return self.current_a * self.drop_v


@dataclass(frozen=True, slots=True, eq=False)
class PowerSums:
    """Where the power comes from and where it goes, each of shape (...).

    Attributes
    ----------
    emf_w : float or ndarray
        Of all sources and chargers before their internal resistance. [W]
    internal_w : float or ndarray
        Turned to heat in the internal resistances; of chargers also what their regulators hold
        back. [W]
    wires_w, resistors_w, coils_w, contacts_w, diodes_w, lamps_w : float or ndarray
        Turned to heat in the branches. [W]
    motors_w : float or ndarray
        Taken by the motors, for heat and work. [W]
    current_loads_w, power_loads_w : float or ndarray
        Taken by the loads. [W]
    """

    emf_w: Any
    internal_w: Any
    wires_w: Any
    resistors_w: Any
    coils_w: Any
    contacts_w: Any
    motors_w: Any
    diodes_w: Any
    lamps_w: Any
    current_loads_w: Any
    power_loads_w: Any


class Solution:
    """A network at rest, in one scenario or in many.

    Where there are many, every array has an axis for them in front, written (...); NaN where a
    scenario has no state of rest.

    Attributes
    ----------
    node_voltage_v : ndarray, shape (..., nodes)
        Voltage of each node against the reference; within a part that open contacts cut off,
        against the part's lowest node. [V]
    wire_temperature_c, wire_resistance_ohm : ndarray, shape (..., wires)
        Temperature of each wire, and its resistance there. [degC], [ohm]
    energised : ndarray of bool, shape (..., relays)
        Which relays have pulled in.
    closed : ndarray of bool, shape (..., contacts)
        Which relay contacts conduct.
    before_v : ndarray, shape (..., relays)
        Voltage at each coil when its relay last moved, its neighbours as they were at that moment;
        of one that never moved at rest. [V]
    moved : tuple of int, or list of them
        Relays that moved on the way.
    drawing : ndarray of bool, shape (..., loads)
        Which loads draw if they are fed: those of constant current, then those of constant power.
    chatter : tuple of int, or list of them
        Relays that neither hold nor release. When there are any, everything else describes one
        of the states that the network passes through, not a state of rest.
    cycle : tuple of tuple of bool, or list of them
        These states of all relays, in their order.
    without_operating_point : dict of int to ImpossibleLoad, or list of them
        Loads, counted as in `drawing`, that would have to draw and cannot: they are off. With why.
    fault : NetworkFault or None, or list of them
        Why a scenario has no state of rest.
    runaway : ndarray of bool, shape (..., wires)
        Wires that heat up without end.
    residual_v : float or ndarray
        Largest difference between a wire's or lamp's voltage and what its current makes of it. [V]
    lines : list of Line or ndarray
        That touch the bent elements, for a search that begins here.
    iterations : int or list of int
        Linear systems solved.
    """

    def __init__(
        self,
        topology: Topology,
        networks: Sequence[Network],
        plans: Sequence[Plan],
        states: Mapping[str, Any],
    ) -> None:
        self.topology, self._networks, self.plans, self._states = topology, networks, plans, states
        self.modes: Any = states["modes"]
        self.moved: Any = states["moved"]
        self.chatter: Any = states["chatter"]
        self.cycle: Any = states["cycle"]
        self.without_operating_point: Any = states["refused"]
        self.fault: Any = states["fault"]
        self.lines: Any = states["lines"]
        self.residual_v: Any = states["residual_v"]
        self.iterations: Any = states["iterations"]

    def scenario(self, place: int) -> "Solution":
        """Take one scenario out of many.

        Parameters
        ----------
        place : int
            Which one.

        Returns
        -------
        Solution
            Without an axis for scenarios. Of a network with rows, its power is not told.
        """
        states = {name: value[place] for name, value in self._states.items()}
        own = self._networks if len(self._networks) == 1 else [self._networks[place]]
        return Solution(self.topology, own, [self.plans[place]], states)

    # Whoever asks for one voltage shall not wait for arrays of all that there is.
    def _numbers(self, name: str) -> FloatArray:
        return np.asarray(self._states[name], dtype=np.float64)

    def _flags(self, name: str) -> BoolArray:
        return np.asarray(self._states[name], dtype=np.bool_)

    @cached_property
    def branch_a(self) -> FloatArray:
        """Current of all branches from start to end, kind after kind. [A]."""
        return self._numbers("flow")

    @cached_property
    def load_a(self) -> FloatArray:
        """Current of all loads. [A]."""
        return self._numbers("load_a")

    @cached_property
    def node_voltage_v(self) -> FloatArray:
        """Voltage of each node. [V]."""
        return self._numbers("volts")

    @cached_property
    def wire_temperature_c(self) -> FloatArray:
        """Temperature of each wire. [degC]."""
        return self._numbers("temperature_c")

    @cached_property
    def wire_resistance_ohm(self) -> FloatArray:
        """Resistance of each wire at its temperature. [ohm]."""
        return self._numbers("resistance_ohm")

    @cached_property
    def before_v(self) -> FloatArray:
        """Voltage at each coil when its relay last moved. [V]."""
        return self._numbers("before_v")

    @cached_property
    def energised(self) -> BoolArray:
        """Which relays have pulled in."""
        return self._flags("energised")

    @cached_property
    def drawing(self) -> BoolArray:
        """Which loads draw if they are fed."""
        return self._flags("drawing")

    @cached_property
    def runaway(self) -> BoolArray:
        """Wires that heat up without end."""
        return self._flags("runaway")

    @cached_property
    def closed(self) -> BoolArray:
        """Which relay contacts conduct."""
        contacts = self._networks[0].contacts
        return np.asarray(self.energised[..., contacts.relay] != contacts.normally_closed)

    @cached_property
    def connected(self) -> BoolArray:
        """Which nodes are in one part with the reference, shape (..., nodes)."""
        reference = self.topology.reference
        parts = [[p == plan.loops.part[reference] for p in plan.loops.part] for plan in self.plans]
        return np.array(parts if self.node_voltage_v.ndim > 1 else parts[0])

    @cached_property
    def _ends(self) -> tuple[Any, Any]:
        topology = self.topology
        return (np.array(topology.start, dtype=np.int64), np.array(topology.end, dtype=np.int64))

    def _of(self, kind: str, sign: float = 1.0) -> Flow:
        span = self.topology.spans[kind]
        start, end = self._ends
        volts = self.node_voltage_v
        drop = volts[..., start[span]] - volts[..., end[span]]
        if span.start >= self.topology.branches:
            first = self.topology.branches
            return Flow(self.load_a[..., span.start - first : span.stop - first], drop)
        return Flow(sign * self.branch_a[..., span], drop)

    @cached_property
    def wires(self) -> Flow:
        """Of the wires."""
        return self._of("wires")

    @cached_property
    def resistors(self) -> Flow:
        """Of the resistances."""
        return self._of("resistors")

    @cached_property
    def coils(self) -> Flow:
        """Of the relays' coils."""
        return self._of("coils")

    @cached_property
    def contacts(self) -> Flow:
        """Of the relays' contacts."""
        return self._of("contacts")

    @cached_property
    def sources(self) -> Flow:
        """Of the batteries."""
        return self._of("sources", -1.0)

    @cached_property
    def chargers(self) -> Flow:
        """Of the charging sources."""
        return self._of("chargers", -1.0)

    @cached_property
    def motors(self) -> Flow:
        """Of the motors."""
        return self._of("motors")

    @cached_property
    def diodes(self) -> Flow:
        """Of the diodes."""
        return self._of("diodes")

    @cached_property
    def lamps(self) -> Flow:
        """Of the lamps."""
        return self._of("lamps")

    @cached_property
    def current_loads(self) -> Flow:
        """Of the loads of constant current."""
        return self._of("current_loads")

    @cached_property
    def power_loads(self) -> Flow:
        """Of the loads of constant power."""
        return self._of("power_loads")

    @cached_property
    def power(self) -> PowerSums:
        """Where the power comes from and where it goes."""
        given = (self.sources, self.chargers)
        volts = (self._values("sources", "emf_v"), self._values("chargers", "regulated_v"))
        emf_w = sum(
            np.sum(flow.current_a * each, axis=-1) for flow, each in zip(given, volts, strict=True)
        )
        kinds = (
            "wires",
            "resistors",
            "coils",
            "contacts",
            "motors",
            "diodes",
            "lamps",
            "current_loads",
            "power_loads",
        )
        return PowerSums(
            emf_w=plain(emf_w),
            internal_w=plain(emf_w - sum(np.sum(flow.power_w, axis=-1) for flow in given)),
            **{f"{kind}_w": plain(np.sum(getattr(self, kind).power_w, axis=-1)) for kind in kinds},
        )

    def _values(self, kind: str, field: str) -> FloatArray:
        rows = [getattr(getattr(network, kind), field) for network in self._networks]
        return np.asarray(rows[0] if len(rows) == 1 else np.stack(rows))

    @cached_property
    def residual_a(self) -> Any:
        """Largest sum of the currents into a node, shape (...). [A]."""
        start, end = self._ends
        amps = np.concatenate([self.branch_a, self.load_a], axis=-1)
        into = np.zeros((self.node_voltage_v.shape[-1], *amps.shape[:-1]))
        np.add.at(into, start, np.moveaxis(amps, -1, 0))
        np.subtract.at(into, end, np.moveaxis(amps, -1, 0))
        return plain(np.max(np.abs(into), axis=0))

    def refuse(self) -> None:
        """Raise what is wrong with the one scenario: without a state of rest, or with a load off.

        Raises
        ------
        NetworkFault
            If it has no state of rest.
        ImpossibleLoad
            If a load that would have to draw cannot.
        """
        fault: NetworkFault | None = self.fault
        if fault is not None:
            raise fault
        refused: dict[int, ImpossibleLoad] = self.without_operating_point
        for error in refused.values():
            raise error
