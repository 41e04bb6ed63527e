"""Answers about conductors, single wires and paths."""

from dataclasses import dataclass
from typing import Literal

from lastvolt.models.base import ComputedBy, Model, Result


@dataclass(frozen=True, slots=True)
class ConductorSize(Model):
    """One size of a standard, as stranded copper.

    Attributes
    ----------
    size, standard : str
        The size as requests name it, and the standard that defines it.
    area_mm2 : float
        Section of copper: geometric, minimum or nominal by standard. [mm2]
    resistance_ohm_per_m : float
        At 20 degC. [ohm/m]
    basis : tuple of str
        Where the numbers come from.
    """

    size: str
    standard: str
    area_mm2: float
    resistance_ohm_per_m: float
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conductors(Model):
    """The sizes that requests may name.

    Attributes
    ----------
    sizes : tuple of ConductorSize
        By standard, smallest first.
    cautions : tuple of str
        Who decides.
    computed_by : ComputedBy
        Versions that reproduce this answer.
    """

    sizes: tuple[ConductorSize, ...]
    cautions: tuple[str, ...]
    computed_by: ComputedBy


@dataclass(frozen=True, slots=True, kw_only=True)
class WireResistance(Result):
    """Answer of `lastvolt.Client.wire_resistance`.

    Attributes
    ----------
    size, standard : str
        The size as asked, and the standard whose size it is.
    area_mm2 : float
        Section of metal: geometric, minimum or nominal by standard. [mm2]
    resistance_ohm_per_m : float
        At the temperature asked for. [ohm/m]
    resistance_ohm : float
        Of the whole length. [ohm]
    """

    size: str
    standard: str
    area_mm2: float
    resistance_ohm_per_m: float
    resistance_ohm: float


@dataclass(frozen=True, slots=True)
class SegmentDrop(Model):
    """What one part of a path takes.

    Attributes
    ----------
    name, kind : str
        As in the request.
    resistance_ohm : float
        Of the part. [ohm]
    drop_v : float
        Voltage across the part. [V]
    power_w : float
        Heat made in the part. [W]
    share_percent : float
        Share of the whole drop. [%]
    temperature_c : float or None
        Of the conductor; None for parts that are no wire. [degC]
    temperature_source : str or None
        ``given`` by the caller or by default, or ``solved`` from the ambient and the current.
    """

    name: str
    kind: str
    resistance_ohm: float
    drop_v: float
    power_w: float
    share_percent: float
    temperature_c: float | None
    temperature_source: Literal["given", "solved"] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageDrop(Result):
    """Answer of `lastvolt.Client.voltage_drop`.

    Attributes
    ----------
    load_voltage_v : float
        Voltage that reaches the load. [V]
    current_a : float
        Current round the path. [A]
    load_power_w : float
        Power that the load gets. [W]
    path_resistance_ohm : float
        Of all parts together. [ohm]
    drop_v : float
        Voltage lost on the path, out and back. [V]
    drop_percent : float
        The same, of the supply. [%]
    limit_drop_v : float
        Limit that the drop is held against. [V]
    nominal_v : float
        Nominal voltage of the system that the limit is for. [V]
    unstable_load_voltage_v : float or None
        For a load of constant power, the other root: a circuit does not rest there. [V]
    worst_segment : str or None
        Name of the part that drops most; None where none drops.
    segments : tuple of SegmentDrop
        Every part in order.
    """

    load_voltage_v: float
    current_a: float
    load_power_w: float
    path_resistance_ohm: float
    drop_v: float
    drop_percent: float
    limit_drop_v: float
    nominal_v: float
    unstable_load_voltage_v: float | None
    worst_segment: str | None
    segments: tuple[SegmentDrop, ...]
