# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.voltage_drop`."""

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import (
    Construction,
    Insulation,
    Material,
    Number,
    Part,
    Result,
    Standard,
)
from lastvolt.answers import Model


class WireSegment(TypedDict):
    """A wire in a path, at a given temperature or at the one that its current heats it to.

    Give at most one of `temperature_c`, `ambient_c`.
    """

    insulation: NotRequired[Insulation]
    """Kind of insulated wire."""
    insulation_limit_c: NotRequired[Number]
    """Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
    [degC]
    """
    outer_diameter_mm: NotRequired[Number]
    """Over the insulation, in place of the usual one. From 0.2 to 60. [mm]"""
    grouped_conductors: NotRequired[int]
    """Loaded conductors side by side in the loom, itself included. From 1 to 200, by default 1."""
    altitude_m: NotRequired[Number]
    """Height above the sea. From 0 to 6000, by default 0. [m]"""
    ambient_c: NotRequired[Number]
    """Temperature of the air around the wire. From -60 to 250. [degC]"""
    material: NotRequired[Material]
    """Metal of the conductor. By default ``"copper"``."""
    construction: NotRequired[Construction]
    """Stranded or solid. By default ``"stranded"``."""
    size: str
    """Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'."""
    standard: NotRequired[Standard]
    """Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written."""
    name: str
    """What the answer calls this wire. From 1 to 80 characters."""
    kind: Literal["wire"]
    """Wire."""
    length_m: Number
    """Length of the wire, one way. From 0 to 1000. [m]"""
    temperature_c: NotRequired[Number]
    """Temperature of the conductor; without it and without `ambient_c` 20 degC are assumed. From
    -60 to 300. [degC]
    """


class ContactSegment(TypedDict):
    """A contact in a path."""

    name: str
    """What the answer calls this contact. From 1 to 80 characters."""
    kind: Literal["contact"]
    """Contact."""
    part: Part
    """What makes the contact."""
    resistance_ohm: Number
    """Resistance of the contact as it is. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Number]
    """Steady current that the part is rated for. From 0.001 to 10000. [A]"""


class ResistanceSegment(TypedDict):
    """A known resistance in a path."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    kind: Literal["resistance"]
    """Resistance."""
    resistance_ohm: Number
    """Resistance of the part. From 0 to 1000000. [ohm]"""


Segment = WireSegment | ContactSegment | ResistanceSegment
"""`WireSegment` or `ContactSegment` or `ResistanceSegment`, told apart by `kind`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SegmentDrop(Model):
    """What one part of the path takes.

    Attributes
    ----------
    name : str
        The part as the request names it.
    kind : str
        Wire, contact or resistance.
    resistance_ohm : float
        Of the part. [ohm]
    drop_v : float
        Voltage across the part. [V]
    power_w : float
        Heat made in the part. [W]
    share_percent : float
        Share of the whole drop; 0 where nothing drops. [%]
    temperature_c : float or None
        Of the conductor; None for parts that are no wire, and where one heats up without end.
        [degC]
    temperature_source : {"given", "assumed", "solved"} or None
        Given by the caller; assumed, 20 degC, where he gives none; or solved from `ambient_c` and
        the current.
    """

    name: str
    """The part as the request names it."""
    kind: str
    """Wire, contact or resistance."""
    resistance_ohm: float
    """Of the part. [ohm]"""
    drop_v: float
    """Voltage across the part. [V]"""
    power_w: float
    """Heat made in the part. [W]"""
    share_percent: float
    """Share of the whole drop; 0 where nothing drops. [%]"""
    temperature_c: float | None
    """Of the conductor; None for parts that are no wire, and where one heats up without end.
    [degC]
    """
    temperature_source: Literal["given", "assumed", "solved"] | None
    """Given by the caller; assumed, 20 degC, where he gives none; or solved from `ambient_c` and
    the current.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageDrop(Result):
    """Answer of ``voltage-drop``.

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
    limited_drop_v : float
        What of the drop is held against the limit, where that speaks of it: of cables only, and not
        of a resistance of 1 ohm or more. [V]
    limit_drop_v : float
        Limit that the drop is held against. [V]
    limit_applies_to : str or None
        What the limit speaks of: load (its own current, the whole path out and back with its
        contacts), `both_windings` (of a starter's solenoid in, at 20 degC, the whole path), or
        cranking (both battery cables together); None for a limit of the caller's.
    duration_s : float or None
        How long the current was reckoned to flow; None for without end. [s]
    nominal_v : float
        Nominal voltage of the system that the limit is for. [V]
    unstable_load_voltage_v : float or None
        For a load of constant power, the other root: a circuit does not rest there. [V]
    assumed_wire_c : float or None
        Temperature of the wires for which none is given; None where there is no such wire. [degC]
    worst_segment : str or None
        Name of the part that drops most; None where none does.
    worst_drop_v : float
        Voltage across that part. [V]
    begin_with : str or None
        Where a path that drops too much is mended first: the contact that drops most beyond a sound
        one where the path passes with sound contacts, else the part that drops most.
    worst_share_percent : float
        Its share of the whole drop; 0 where nothing drops. [%]
    by_design : str or None
        The resistance of the path that takes most of what may be meant, as a ballast does; None
        without any.
    by_design_v : float or None
        What such resistances take together; None without any. [V]
    segments : tuple of SegmentDrop
        Every part in order.
    """

    load_voltage_v: float
    """Voltage that reaches the load. [V]"""
    current_a: float
    """Current round the path. [A]"""
    load_power_w: float
    """Power that the load gets. [W]"""
    path_resistance_ohm: float
    """Of all parts together. [ohm]"""
    drop_v: float
    """Voltage lost on the path, out and back. [V]"""
    drop_percent: float
    """The same, of the supply. [%]"""
    limited_drop_v: float
    """What of the drop is held against the limit, where that speaks of it: of cables only, and
    not of a resistance of 1 ohm or more. [V]
    """
    limit_drop_v: float
    """Limit that the drop is held against. [V]"""
    limit_applies_to: str | None
    """What the limit speaks of: load (its own current, the whole path out and back with its
    contacts), `both_windings` (of a starter's solenoid in, at 20 degC, the whole path), or
    cranking (both battery cables together); None for a limit of the caller's.
    """
    duration_s: float | None
    """How long the current was reckoned to flow; None for without end. [s]"""
    nominal_v: float
    """Nominal voltage of the system that the limit is for. [V]"""
    unstable_load_voltage_v: float | None
    """For a load of constant power, the other root: a circuit does not rest there. [V]"""
    assumed_wire_c: float | None
    """Temperature of the wires for which none is given; None where there is no such wire. [degC]"""
    worst_segment: str | None
    """Name of the part that drops most; None where none does."""
    worst_drop_v: float
    """Voltage across that part. [V]"""
    begin_with: str | None
    """Where a path that drops too much is mended first: the contact that drops most beyond a
    sound one where the path passes with sound contacts, else the part that drops most.
    """
    worst_share_percent: float
    """Its share of the whole drop; 0 where nothing drops. [%]"""
    by_design: str | None
    """The resistance of the path that takes most of what may be meant, as a ballast does; None
    without any.
    """
    by_design_v: float | None
    """What such resistances take together; None without any. [V]"""
    segments: tuple[SegmentDrop, ...]
    """Every part in order."""
