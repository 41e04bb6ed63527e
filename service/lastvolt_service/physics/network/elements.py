"""A network as data: elements of a kind side by side in arrays, joined at numbered nodes."""

from collections.abc import Callable
from dataclasses import dataclass, field, fields
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray: TypeAlias = NDArray[np.float64]
IntArray: TypeAlias = NDArray[np.int64]
BoolArray: TypeAlias = NDArray[np.bool_]
TemperatureOf: TypeAlias = Callable[[FloatArray], FloatArray]


def _none() -> FloatArray:
    return np.empty(0)


def _no_nodes() -> IntArray:
    return np.empty(0, dtype=np.int64)


def at_20_c(current_a: FloatArray) -> FloatArray:
    """Temperature of wires that stay at 20 degC.

    Parameters
    ----------
    current_a : ndarray
        Current of each wire. [A]

    Returns
    -------
    temperature_c : ndarray
        20 degC, shape of `current_a`. [degC]
    """
    return np.full_like(current_a, 20.0)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Elements:
    """Two-terminal elements of one kind; any sequences of equal length, or numbers for all.

    A value may also have a row for each of many scenarios, shape (scenarios, elements). Which node
    an element is at, and which relay moves it, is the same in all of them.

    Attributes
    ----------
    start, end : ndarray of int
        Nodes of the two ends. Voltage and current count from start to end.
    """

    start: IntArray = field(default_factory=_no_nodes)
    end: IntArray = field(default_factory=_no_nodes)

    def __post_init__(self) -> None:
        """Turn whatever sequences came in into arrays of one length."""
        self._set("start", self.start, np.int64, None)
        for item in fields(self)[1:]:
            if item.name != "temperature_of":
                kind = _DTYPES.get(item.name, np.float64)
                self._set(item.name, getattr(self, item.name), kind, self.start.shape)

    def _set(self, name: str, value: ArrayLike, kind: type, shape: tuple[int, ...] | None) -> None:
        array: NDArray[Any] = np.asarray(value, dtype=kind)
        if shape is not None and array.shape[-1:] != shape:
            array = np.broadcast_to(array, (*array.shape[:-1], *shape))
        object.__setattr__(self, name, array)

    def __len__(self) -> int:
        """Count the elements."""
        return len(self.start)


_DTYPES: dict[str, type] = {
    "start": np.int64,
    "end": np.int64,
    "relay": np.int64,
    "normally_closed": np.bool_,
}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Wires(Elements):
    """Conductors whose resistance follows their temperature, and that their current.

    Attributes
    ----------
    resistance_20_ohm : ndarray
        Resistance of the whole wire at 20 degC; zero for a wire without length. [ohm]
    temperature_coefficient_per_k : ndarray
        Of the resistance at 20 degC. [1/K]
    temperature_of : callable
        Temperature of every wire at the magnitude of its current: takes an array whose last axis
        counts the wires and gives one of the same shape. NaN where there is no steady temperature.
        With rows for scenarios the axis before the last counts these, and `chosen(places)` gives
        one for some of them. Many with an equal, hashable `together` are put into one such by
        `side_by_side(sequence)`. `singles`, if there are any, is a callable for each wire on plain
        numbers.
    """

    resistance_20_ohm: FloatArray = field(default_factory=_none)
    temperature_coefficient_per_k: FloatArray = field(default_factory=_none)
    temperature_of: TemperatureOf = at_20_c


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Resistors(Elements):
    """Constant resistances: contacts, joints, loads of constant resistance, windings.

    Attributes
    ----------
    resistance_ohm : ndarray
        Zero for a perfect contact. [ohm]
    """

    resistance_ohm: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Sources(Elements):
    """Ideal voltages behind an internal resistance; start is the plus post, end the minus post.

    Attributes
    ----------
    emf_v : ndarray
        Open-circuit voltage. [V]
    internal_resistance_ohm : ndarray
        Zero for an ideal source. [ohm]
    """

    emf_v: FloatArray = field(default_factory=_none)
    internal_resistance_ohm: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Chargers(Elements):
    """Generators behind diodes with a regulator; start is the plus post, end the minus post.

    Each holds its voltage less what its own resistance takes, delivers its limit where more is
    asked for, and takes nothing where the network stands higher.

    Attributes
    ----------
    regulated_v : ndarray
        Voltage that it holds without load. [V]
    internal_resistance_ohm : ndarray
        Above zero. [ohm]
    limit_a : ndarray
        The most that it delivers. [A]
    """

    regulated_v: FloatArray = field(default_factory=_none)
    internal_resistance_ohm: FloatArray = field(default_factory=_none)
    limit_a: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Motors(Resistors):
    """Motors that turn: a resistance behind a back voltage, without current in reverse.

    Attributes
    ----------
    resistance_ohm : ndarray
        Above zero. [ohm]
    back_v : ndarray
        Of start against end at its speed; zero of one that stands. [V]
    """

    back_v: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Diodes(Resistors):
    """Diodes that conduct from start to end.

    Attributes
    ----------
    resistance_ohm : ndarray
        Above zero. [ohm]
    forward_v : ndarray
        Voltage from which it conducts, zero or more. [V]
    """

    forward_v: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Lamps(Elements):
    """Filaments: ``current = rated_a * (voltage / rated_v) ** exponent``, odd in the voltage.

    Attributes
    ----------
    rated_v, rated_a : ndarray
        One point of it, both above zero. [V], [A]
    exponent : ndarray
        Above zero, at most 1: a filament's resistance grows with its voltage.
    """

    rated_v: FloatArray = field(default_factory=_none)
    rated_a: FloatArray = field(default_factory=_none)
    exponent: FloatArray = field(default_factory=_none)


def _nothing() -> FloatArray:
    return np.zeros(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CurrentLoads(Elements):
    """Loads that take a constant current from start to end, with start positive against end.

    Attributes
    ----------
    current_a : ndarray
        Zero or more. [A]
    works_from_v : ndarray
        Below this voltage it draws nothing; by default 0. [V]
    """

    current_a: FloatArray = field(default_factory=_none)
    works_from_v: FloatArray = field(default_factory=_nothing)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PowerLoads(Elements):
    """Loads that take a constant power, with start positive against end.

    Attributes
    ----------
    power_w : ndarray
        Zero or more. [W]
    works_from_v : ndarray
        Below this voltage it draws nothing; by default 0. [V]
    """

    power_w: FloatArray = field(default_factory=_none)
    works_from_v: FloatArray = field(default_factory=_nothing)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Coils(Resistors):
    """Relay coils: one relay each; the polarity does not matter.

    Attributes
    ----------
    pick_up_v, drop_out_v : ndarray
        The relay pulls in at `pick_up_v` or more and falls off below `drop_out_v`. [V]
    """

    pick_up_v: FloatArray = field(default_factory=_none)
    drop_out_v: FloatArray = field(default_factory=_none)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Contacts(Resistors):
    """Contacts that relays move; a changeover relay has two of them.

    Attributes
    ----------
    relay : ndarray of int
        Index of the coil that moves the contact.
    normally_closed : ndarray of bool
        False for a contact that the relay makes (87), True for one that it breaks (87a).
    """

    relay: IntArray = field(default_factory=_no_nodes)
    normally_closed: BoolArray = field(default_factory=lambda: np.empty(0, dtype=np.bool_))

    def closed(self, energised: BoolArray) -> BoolArray:
        """Tell which contacts conduct.

        Parameters
        ----------
        energised : ndarray of bool
            Whether each relay has pulled in.

        Returns
        -------
        ndarray of bool
        """
        return np.asarray(energised[self.relay] != self.normally_closed)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Network:
    """Elements that meet at nodes. A contact that is open for good is simply left out.

    A solenoid with two windings needs no kind of its own: the pull-in winding is a resistor to
    the motor's terminal, the hold-in winding one to ground, the motor a third.

    Attributes
    ----------
    node_names : tuple of str
        Names of nodes 0, 1, ... as errors give them.
    reference : int
        The node at 0 V.
    islands : bool
        Whether nodes that nothing joins to it are dead, and not refused.
    wires, resistors, coils, contacts, sources, chargers, motors, diodes, lamps, current_loads, \
    power_loads : Elements
        The elements by kind.
    """

    node_names: tuple[str, ...]
    reference: int = 0
    islands: bool = False
    wires: Wires = field(default_factory=lambda: _EMPTY["wires"])
    resistors: Resistors = field(default_factory=lambda: _EMPTY["resistors"])
    sources: Sources = field(default_factory=lambda: _EMPTY["sources"])
    chargers: Chargers = field(default_factory=lambda: _EMPTY["chargers"])
    motors: Motors = field(default_factory=lambda: _EMPTY["motors"])
    diodes: Diodes = field(default_factory=lambda: _EMPTY["diodes"])
    lamps: Lamps = field(default_factory=lambda: _EMPTY["lamps"])
    current_loads: CurrentLoads = field(default_factory=lambda: _EMPTY["current_loads"])
    power_loads: PowerLoads = field(default_factory=lambda: _EMPTY["power_loads"])
    coils: Coils = field(default_factory=lambda: _EMPTY["coils"])
    contacts: Contacts = field(default_factory=lambda: _EMPTY["contacts"])


# Elements whose voltage follows from their current, then those whose current is asked for.
BRANCH_KINDS = (
    "wires",
    "resistors",
    "coils",
    "contacts",
    "sources",
    "chargers",
    "motors",
    "diodes",
    "lamps",
)
LOAD_KINDS = ("current_loads", "power_loads")
# They change nothing, so that one of each serves all networks.
_EMPTY: dict[str, Any] = {
    "wires": Wires(),
    "resistors": Resistors(),
    "coils": Coils(),
    "contacts": Contacts(),
    "sources": Sources(),
    "chargers": Chargers(),
    "motors": Motors(),
    "diodes": Diodes(),
    "lamps": Lamps(),
    "current_loads": CurrentLoads(),
    "power_loads": PowerLoads(),
}
