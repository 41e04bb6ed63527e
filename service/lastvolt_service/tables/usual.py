"""Common practice in vehicles of which little is known: loads, wires, wear, batteries, relays."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables
from lastvolt_service.units import Interval

# The tables are of 12 V vehicles: watts are the same in others. [V]
OF_V = 12.0
# Vehicles of old, some of whose loads are weaker than those of 12 V. [V]
SIX_V = 6.0


@dataclass(frozen=True, slots=True)
class UsualLoad:
    """A kind of load.

    Attributes
    ----------
    kind : str
        ``solenoid``, ``lamp`` or ``resistance``.
    current_a : Interval or None
        At the nominal voltage, in a 12 V vehicle; None of one of which nothing is known. [A]
    of_6_v_a : Interval or None
        In a 6 V vehicle, where its watts are others there; None where they are the same. [A]
    needed_share : Interval
        Of the nominal voltage, that it works from.
    lasting_share : float
        Of its current, that flows for longer than a moment.
    zone, switch : str
        Where it lies, and what its switch is called.
    relay_load_kind : str or None
        For the inrush on a relay's contact.
    circuit : str
        Whose limit says what the way to it may lose.
    load_profile : str or None
        That tells how long it is on; None of one that may be on without end.
    citation : str
        Who says so.
    """

    kind: str
    current_a: Interval | None
    of_6_v_a: Interval | None
    needed_share: Interval
    lasting_share: float
    zone: str
    switch: str
    relay_load_kind: str | None
    circuit: str
    load_profile: str | None
    citation: str


@dataclass(frozen=True, slots=True)
class UsualWire:
    """What wire a harness has for a current up to `up_to_a`, thinnest and thickest. [A]."""

    up_to_a: float
    thin: str
    thick: str
    citation: str


@dataclass(frozen=True, slots=True)
class UsualBattery:
    """A charged and sound battery: volts at rest and resistance, of 12 V. [V], [ohm]."""

    rest_v: Interval
    internal_ohm: float
    citation: str


@dataclass(frozen=True, slots=True)
class UsualCase:
    """A condition: when it fails that points at it, ambient [degC], whether zones are hot."""

    name: str
    fails: str
    ambient_c: float
    zones_are_hot: bool
    battery: str
    citation: str


@dataclass(frozen=True, slots=True)
class UsualRelay:
    """A relay of the trade: ratings at 23, 85 and 125 degC, and to close on. [V], [ohm], [A]."""

    nominal_v: float
    coil_ohm: float
    pick_up_v: float
    drop_out_v: float
    contact_ohm: float
    rating_a: float
    at_85_c_a: float
    at_125_c_a: float
    make_rating_a: float
    citation: str


def _within(row: dict[str, str], quantity: str) -> Interval:
    return Interval(float(row[f"lowest_{quantity}"]), float(row[f"highest_{quantity}"]))


@cache
def loads() -> dict[str, UsualLoad]:
    """Read the kinds of load, by name as in requests."""
    return {
        row["load"]: UsualLoad(
            row["kind"],
            _within(row, "a") if row["lowest_a"] else None,
            _within(row, "of_6_v_a") if row["lowest_of_6_v_a"] else None,
            Interval(*(each / 100.0 for each in _within(row, "needed_percent"))),
            float(row["lasting_percent"]) / 100.0,
            row["zone"],
            row["switch"],
            row["relay_load_kind"] or None,
            row["circuit"],
            row["load_profile"] or None,
            tables.citation("usual_loads", row["source"]),
        )
        for row in tables.rows("usual_loads")
    }


@cache
def wires() -> tuple[UsualWire, ...]:
    """Read the wires of harnesses, for the least current first."""
    return tuple(
        UsualWire(
            float(row["up_to_a"]),
            row["thin"],
            row["thick"],
            tables.citation("usual_wires", row["source"]),
        )
        for row in tables.rows("usual_wires")
    )


@cache
def sizes() -> tuple[str, ...]:
    """The sizes of all of them, the thinnest first."""
    return tuple(dict.fromkeys(size for each in wires() for size in (each.thin, each.thick)))


@cache
def wear() -> dict[str, dict[str, tuple[Interval, str]]]:
    """Read what contacts drop [V] and who says so, by wear and by what makes the contact."""
    found: dict[str, dict[str, tuple[Interval, str]]] = {}
    for row in tables.rows("usual_wear"):
        citation = tables.citation("usual_wear", row["source"])
        found.setdefault(row["wear"], {})[row["part"]] = (_within(row, "v"), citation)
    return found


@cache
def batteries() -> dict[str, UsualBattery]:
    """Read the batteries, by how warm they are."""
    return {
        row["state"]: UsualBattery(
            _within(row, "rest_v"),
            float(row["internal_ohm"]),
            tables.citation("usual_batteries", row["source"]),
        )
        for row in tables.rows("usual_batteries")
    }


@cache
def cases() -> tuple[UsualCase, ...]:
    """Read the conditions that a load is to work in."""
    return tuple(
        UsualCase(
            row["case"],
            row["fails"],
            float(row["ambient_c"]),
            row["zones_are_hot"] == "yes",
            row["battery"],
            tables.citation("usual_cases", row["source"]),
        )
        for row in tables.rows("usual_cases")
    )


@cache
def relays() -> tuple[UsualRelay, ...]:
    """Read the relays of the trade, of one voltage the smaller first."""
    return tuple(
        UsualRelay(
            float(row["nominal_v"]),
            float(row["coil_resistance_ohm"]),
            float(row["pick_up_v"]),
            float(row["drop_out_v"]),
            float(row["contact_resistance_ohm"]),
            float(row["rating_a"]),
            float(row["at_85_c_a"]),
            float(row["at_125_c_a"]),
            float(row["make_rating_a"]),
            tables.citation("usual_relays", row["source"]),
        )
        for row in tables.rows("usual_relays")
    )
