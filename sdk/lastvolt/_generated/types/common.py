# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several topics share."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Literal, NotRequired, TypedDict

from lastvolt.answers import Judged, Model

Standard = Literal["AWG", "SAE", "IEC 60228", "ISO 6722"]
"""What `standard` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComputedBy(Model):
    """Versions that reproduce an answer.

    Attributes
    ----------
    service : str
        Version of the service.
    tables : str
        Hash of the published tables that the service carries.
    """

    service: str
    """Version of the service."""
    tables: str
    """Hash of the published tables that the service carries."""


Material = Literal["copper", "aluminium", "copper_clad_aluminium", "tinned_copper"]
"""What `material` may be."""

Construction = Literal["stranded", "solid"]
"""What `construction` may be."""

Number = float | Decimal | Fraction | str
"""A number in the unit that its name ends in, or text with a unit: ``15 ft``. An object that
carries a unit of its own is refused: its number alone could be in another one.
"""

Verdict = Literal["fail", "undecided", "unknown", "marginal", "pass"]
"""What `verdict` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotJudged(Model):
    """What a reader would expect to be judged, and was not.

    Attributes
    ----------
    code : str
        Code of the check.
    name : str
        What is checked.
    part : str or None
        What the request calls the part.
    message : str
        Why, and what to give.
    """

    code: str
    """Code of the check."""
    name: str
    """What is checked."""
    part: str | None
    """What the request calls the part."""
    message: str
    """Why, and what to give."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Model):
    """One question that a practitioner would ask of the circuit, and its answer.

    Attributes
    ----------
    name : str
        What is checked.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        Worst first: fail; undecided, where it flips within what is known; unknown, where an input
        that it needs was not given; marginal; pass.
    value : float or None
        The number that is judged, in `unit`.
    limit : float or None
        The number that it is judged against, in `unit`.
    unit : str
        Unit of value, limit and margin.
    margin : float or None
        Distance from the limit in `unit`: positive is on the good side.
    basis : str
        Publication of the limit, or common practice, or given by the caller.
    message : str
        One sentence to act on.
    code : str
        Which check it is, in a word that stays the same.
    part : str or None
        What the request calls the part that is checked.
    case : str or None
        The case that it is checked in, as the request names it.
    way : str or None
        The circuit that it is checked in: `as_is` or proposed.
    detail : str or None
        What else it is about: the kind of contact, the fuse that protects a wire, the load that
        should get a relay first, why there is no answer, or what a reading tells.
    """

    name: str
    """What is checked."""
    verdict: Verdict
    """Worst first: fail; undecided, where it flips within what is known; unknown, where an input
    that it needs was not given; marginal; pass.
    """
    value: float | None
    """The number that is judged, in `unit`."""
    limit: float | None
    """The number that it is judged against, in `unit`."""
    unit: str
    """Unit of value, limit and margin."""
    margin: float | None
    """Distance from the limit in `unit`: positive is on the good side."""
    basis: str
    """Publication of the limit, or common practice, or given by the caller."""
    message: str
    """One sentence to act on."""
    code: str
    """Which check it is, in a word that stays the same."""
    part: str | None
    """What the request calls the part that is checked."""
    case: str | None
    """The case that it is checked in, as the request names it."""
    way: str | None
    """The circuit that it is checked in: `as_is` or proposed."""
    detail: str | None
    """What else it is about: the kind of contact, the fuse that protects a wire, the load that
    should get a relay first, why there is no answer, or what a reading tells.
    """


StepKind = Literal["given", "published", "solved", "computed"]
"""What `Step.kind` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Model):
    """One step of a calculation: a number that is taken, or one that follows from those before.

    Attributes
    ----------
    symbol : str
        Name of the number in formulas; its end is its unit.
    meaning : str
        What it is.
    kind : {"given", "published", "solved", "computed"}
        Given in the request; published in a table or known of a model; solved: found by trial, and
        verified by the steps after it where they balance; or computed by the formula.
    formula : str or None
        With + - * / ** ( ), sqrt, ln, log10, exp, min, max and symbols of steps before; None where
        nothing is computed.
    inputs : mapping of str to float
        Numbers put into the formula, by symbol.
    value : float
        The result, in `unit`.
    unit : str
        Unit of the value; 1 for a plain number.
    source : str
        Publication, law or model that it comes from.
    """

    symbol: str
    """Name of the number in formulas; its end is its unit."""
    meaning: str
    """What it is."""
    kind: StepKind
    """Given in the request; published in a table or known of a model; solved: found by trial,
    and verified by the steps after it where they balance; or computed by the formula.
    """
    formula: str | None
    """With + - * / ** ( ), sqrt, ln, log10, exp, min, max and symbols of steps before; None
    where nothing is computed.
    """
    inputs: Mapping[str, float] = field(hash=False)
    """Numbers put into the formula, by symbol."""
    value: float
    """The result, in `unit`."""
    unit: str
    """Unit of the value; 1 for a plain number."""
    source: str
    """Publication, law or model that it comes from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change(Model):
    """A field of the request with its new value.

    Attributes
    ----------
    pointer : str
        JSON Pointer to the field as a URI fragment.
    new_value : float, str, bool or None
        To be put there; None to leave the field out.
    """

    pointer: str
    """JSON Pointer to the field as a URI fragment."""
    new_value: float | str | bool | None
    """To be put there; None to leave the field out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy(Model):
    """A change and what it brings: the request asked again with the change made.

    Attributes
    ----------
    code : str
        What kind of change it is, in a word that stays the same.
    change : str
        What to do, in words.
    changes : tuple of Change
        The same in fields of the request.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst check with the change made.
    check : str
        Name of the failed check that the change is for.
    check_code : str
        Code of that check.
    check_part : str or None
        Part of that check.
    check_case : str or None
        Case of that check.
    check_way : str or None
        Circuit of that check: `as_is` or proposed.
    check_detail : str or None
        What else that check is about.
    check_verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        Of that check with the change made; pass where it is gone.
    value_before : float or None
        Of that check, in `unit`.
    value_after : float or None
        Of that check with the change made; None where it is no longer made.
    limit_before : float or None
        What `value_before` is held against.
    limit_after : float or None
        What `value_after` is held against.
    unit : str
        Unit of the values.
    message : str
        One sentence: what the change brings.
    """

    code: str
    """What kind of change it is, in a word that stays the same."""
    change: str
    """What to do, in words."""
    changes: tuple[Change, ...]
    """The same in fields of the request."""
    verdict: Verdict
    """The worst check with the change made."""
    check: str
    """Name of the failed check that the change is for."""
    check_code: str
    """Code of that check."""
    check_part: str | None
    """Part of that check."""
    check_case: str | None
    """Case of that check."""
    check_way: str | None
    """Circuit of that check: `as_is` or proposed."""
    check_detail: str | None
    """What else that check is about."""
    check_verdict: Verdict
    """Of that check with the change made; pass where it is gone."""
    value_before: float | None
    """Of that check, in `unit`."""
    value_after: float | None
    """Of that check with the change made; None where it is no longer made."""
    limit_before: float | None
    """What `value_before` is held against."""
    limit_after: float | None
    """What `value_after` is held against."""
    unit: str
    """Unit of the values."""
    message: str
    """One sentence: what the change brings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result(Judged[Check]):
    """What every answer with checks has.

    Attributes
    ----------
    headline : str
        What it comes to, in one sentence that stands alone.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst of all checks.
    not_judged : tuple of NotJudged
        What a reader would expect to be judged and was not, for lack of an input: the unknown
        checks, each once though it is so in several cases.
    checks : tuple of Check
        Every question asked of the circuit, with its verdict.
    basis : tuple of str
        Publications, formulas and practice the answer rests on.
    cautions : tuple of str
        What can hurt someone here, and who decides.
    computed_by : ComputedBy
        Versions that reproduce this answer.
    steps : tuple of Step
        The calculation, in order; only with explain in the request.
    remedies : tuple of Remedy
        Changes that better a failed check, the best first, each computed; only with explain in the
        request.
    """

    headline: str
    """What it comes to, in one sentence that stands alone."""
    verdict: Verdict
    """The worst of all checks."""
    not_judged: tuple[NotJudged, ...]
    """What a reader would expect to be judged and was not, for lack of an input: the unknown
    checks, each once though it is so in several cases.
    """
    checks: tuple[Check, ...]
    """Every question asked of the circuit, with its verdict."""
    basis: tuple[str, ...]
    """Publications, formulas and practice the answer rests on."""
    cautions: tuple[str, ...]
    """What can hurt someone here, and who decides."""
    computed_by: ComputedBy
    """Versions that reproduce this answer."""
    steps: tuple[Step, ...] = ()
    """The calculation, in order; only with explain in the request."""
    remedies: tuple[Remedy, ...] = ()
    """Changes that better a failed check, the best first, each computed; only with explain in
    the request.
    """


Nominal = Literal[6, 12, 24]
"""What `nominal_v` may be."""

CircuitKind = Literal["continuous", "intermittent", "starter_control", "starter_motor"]
"""What `circuit` may be."""

Insulation = Literal[
    "ISO class A",
    "ISO class B",
    "ISO class C",
    "ISO class D",
    "ISO class E",
    "ISO class F",
    "ISO class G",
    "ISO class H",
    "GPT",
    "TXL",
    "GXL",
    "SXL",
    "TWP",
    "HDT",
    "SGT",
    "SGX",
    "STX",
]
"""What `insulation` may be."""

Part = Literal["switch", "relay", "connector", "ground", "terminal", "fuse"]
"""What `part` may be."""

FuseFamily = Literal["blade C", "blade F", "blade E", "bolt-in SF30", "bolt-in SF51"]
"""What `fuse_family` may be."""

SuppressionKind = Literal["none", "diode", "resistor", "zener"]
"""What `Suppression.kind` may be."""


class Suppression(TypedDict):
    """What is wired across a coil against its switch-off peak."""

    kind: SuppressionKind
    """None, diode, resistor or zener."""
    resistance_ohm: NotRequired[Number]
    """Of the resistor across the coil. From 1 to 1000000. [ohm]"""
    zener_v: NotRequired[Number]
    """Clamping voltage of the zener with the diode in series with it. From 1 to 1000. [V]"""


class DeratingPoint(TypedDict):
    """One point of a maker's derating curve."""

    ambient_c: Number
    """Temperature around the part. From -60 to 250. [degC]"""
    current_a: Number
    """Current allowed at it. From 0 to 10000. [A]"""


LoadKind = Literal["resistive", "motor", "lamp", "solenoid", "starter_solenoid", "capacitive"]
"""What `load_kind` may be."""


class Interval(TypedDict):
    """A number known only within bounds, which the answer carries through."""

    low: Number
    """Its lower end."""
    high: Number
    """Its upper end."""


Quantity = Number | Interval
"""`Number` or `Interval`."""


class CircuitBattery(TypedDict):
    """The battery of a circuit by its ratings and state."""

    nominal_v: Nominal
    """Nominal voltage: 6, 12 or 24. [V]"""
    cold_cranking_a: Quantity
    """Cold-cranking rating: the current that it delivers for 30 s at -18 degC. From 1 to 5000.
    [A]
    """
    state_of_charge_percent: NotRequired[Quantity]
    """State of charge; left out it is taken as full, and told as not judged. From 0 to 100. [%]"""
    temperature_c: NotRequired[Quantity]
    """Temperature of the electrolyte; by default the ambient of the case. From -60 to 100.
    [degC]
    """
    internal_resistance_ohm: NotRequired[Quantity]
    """Measured at this temperature and state of charge, in place of the estimate. From 0.00001
    to 10. [ohm]
    """


class Source(TypedDict):
    """What feeds the circuit, at a battery post.

    Give exactly one of `open_circuit_v`, battery. `open_circuit_v` needs `internal_resistance_ohm`.
    """

    plus: str
    """Node at the positive post; with positive ground that is the ground's. From 1 to 80
    characters.
    """
    minus: NotRequired[str]
    """Node at the negative post; by default the ground. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    open_circuit_v: NotRequired[Quantity]
    """Voltage without load. From 0.1 to 60. [V]"""
    internal_resistance_ohm: NotRequired[Quantity]
    """Of the source. From 0 to 10. [ohm]"""
    battery: NotRequired[CircuitBattery]
    """The battery by its ratings."""


class CircuitWire(TypedDict):
    """A wire of a circuit.

    Give at most one of `temperature_c`, `ambient_c`.
    """

    insulation: NotRequired[Insulation]
    """Kind of insulated wire."""
    insulation_limit_c: NotRequired[Quantity]
    """Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
    [degC]
    """
    outer_diameter_mm: NotRequired[Quantity]
    """Over the insulation, in place of the usual one. From 0.2 to 60. [mm]"""
    grouped_conductors: NotRequired[int]
    """Loaded conductors side by side in the loom, itself included. From 1 to 200, by default 1."""
    altitude_m: NotRequired[Quantity]
    """Height above the sea. From 0 to 6000, by default 0. [m]"""
    ambient_c: NotRequired[Quantity]
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
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["wire"]
    """Wire."""
    length_m: Quantity
    """Length of the wire, one way. From 0 to 1000. [m]"""
    temperature_c: NotRequired[Quantity]
    """Temperature of the conductor; without it the current and the ambient decide. From -60 to
    300. [degC]
    """
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """


class CircuitContact(TypedDict):
    """A contact of a circuit."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["contact"]
    """Contact."""
    part: Part
    """What makes the contact."""
    resistance_ohm: Quantity
    """Of the contact as it is. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That the part is rated for. From 0.001 to 10000. [A]"""
    fuse_family: NotRequired[FuseFamily]
    """Family of a fuse; by default any of those that have its rating."""
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on it. By default ``True``."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    isolates: NotRequired[bool]
    """Whether it is an isolator: what is new must be dead when it is open. By default ``False``."""


class CircuitResistance(TypedDict):
    """A known resistance of a circuit."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["resistance"]
    """Resistance."""
    resistance_ohm: Quantity
    """Of the part. From 0 to 1000000. [ohm]"""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """


CircuitPart = CircuitWire | CircuitContact | CircuitResistance
"""`CircuitWire` or `CircuitContact` or `CircuitResistance`, told apart by `kind`."""


class ResistanceLoad(TypedDict):
    """A load of constant resistance, or of a copper winding."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["resistance"]
    """Resistance."""
    resistance_ohm: Quantity
    """Of the load at 20 degC. From 0.0001 to 1000000. [ohm]"""
    copper: NotRequired[bool]
    """Whether it is a copper winding as warm as its zone. By default ``False``."""


class CurrentLoad(TypedDict):
    """A load of constant current."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["current"]
    """Current."""
    current_a: Quantity
    """That it takes at any voltage. From 0 to 10000. [A]"""
    works_from_v: NotRequired[Quantity]
    """Voltage below which it draws nothing; by default it draws at any. From 0.01 to 60. [V]"""


class PowerLoad(TypedDict):
    """A load of constant power."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["power"]
    """Power."""
    power_w: Quantity
    """That it takes at any voltage. From 0 to 1000000. [W]"""
    works_from_v: NotRequired[Quantity]
    """Voltage below which it draws nothing; by default it draws at any. From 0.01 to 60. [V]"""


class LampLoad(TypedDict):
    """A filament lamp: it takes less current at less voltage, but not in proportion."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["lamp"]
    """Lamp."""
    rated_power_w: Quantity
    """That is stamped on it. From 0.01 to 1000000. [W]"""
    rated_v: Quantity
    """Voltage that this power is for. From 0.1 to 60. [V]"""


class MotorLoad(TypedDict):
    """A motor: a resistance behind the back voltage of its speed."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["motor"]
    """Motor."""
    resistance_ohm: Quantity
    """Between its terminals. From 0.0001 to 1000000. [ohm]"""
    back_v: NotRequired[Quantity]
    """Voltage that it makes at its speed; 0 where it stands. From 0 to 60, by default 0. [V]"""


class CircuitRated(TypedDict):
    """A solenoid of a circuit by its pull-in voltage."""

    pull_in_v: Quantity
    """Voltage at which the plunger is sure to move. From 0.1 to 60. [V]"""
    hold_in_v: NotRequired[Quantity]
    """Voltage below which it lets go. From 0.01 to 60. [V]"""
    resistance_ohm: Quantity
    """Between its terminal and ground before it closes. From 0.001 to 1000000. [ohm]"""
    reference_temperature_c: NotRequired[Quantity]
    """Winding temperature of these values. From -60 to 400, by default 20. [degC]"""
    held_resistance_ohm: NotRequired[Quantity]
    """The same once it has closed, as of a starter's, of which one winding then holds alone; if
    not given, as before. From 0.001 to 1000000. [ohm]
    """


class CircuitWindings(TypedDict):
    """A starter solenoid of a circuit by its two windings."""

    pull_in_turns: Quantity
    """Turns of the pull-in winding. From 1 to 1000000."""
    pull_in_resistance_ohm: Quantity
    """Of the pull-in winding, which returns through the motor. From 0.001 to 1000000. [ohm]"""
    hold_in_turns: Quantity
    """Turns of the hold-in winding. From 1 to 1000000."""
    hold_in_resistance_ohm: Quantity
    """Of the hold-in winding, which goes to ground. From 0.001 to 1000000. [ohm]"""
    motor_resistance_ohm: NotRequired[Quantity]
    """Of the starter motor at rest. From 0 to 1000000, by default 0. [ohm]"""
    ampere_turns: Quantity
    """Of both windings together at which the plunger moves. From 0.001 to 1000000. [A]"""
    hold_ampere_turns: NotRequired[Quantity]
    """That keep the closed plunger. From 0.001 to 1000000. [A]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of these resistances. From -60 to 400, by default 20. [degC]"""


class CircuitPlunger(TypedDict):
    """A solenoid of a circuit by the force that its plunger needs.

    `hold_force_n` and `hold_gap_mm` belong together.
    """

    force_n: Quantity
    """Force that moves the plunger. From 0.001 to 1000000. [N]"""
    gap_mm: Quantity
    """Air gap before it moves. From 0.001 to 1000. [mm]"""
    area_mm2: Quantity
    """Area of the pole. From 0.1 to 100000. [mm2]"""
    turns: Quantity
    """Turns of the winding. From 1 to 1000000."""
    resistance_ohm: Quantity
    """Of the winding at the reference temperature. From 0.001 to 1000000. [ohm]"""
    hold_force_n: NotRequired[Quantity]
    """Force that keeps the closed plunger. From 0.001 to 1000000. [N]"""
    hold_gap_mm: NotRequired[Quantity]
    """Air gap that is left when it has closed. From 0.001 to 1000. [mm]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of this resistance. From -60 to 400, by default 20. [degC]"""


class SolenoidLoad(TypedDict):
    """A solenoid as warm as its zone; the voltage it needs follows from that.

    Give exactly one of rated, windings, plunger.
    """

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The two nodes that it joins; currents count from the first to the second. Exactly 2 of
    them.
    """
    needed_v: NotRequired[Quantity]
    """Lowest voltage that it works at. From 0.1 to 60. [V]"""
    circuit: NotRequired[CircuitKind]
    """Kind of circuit, to hold the drop from the source to the load and back against practice."""
    kind: Literal["solenoid"]
    """Solenoid."""
    rated: NotRequired[CircuitRated]
    """The solenoid by its pull-in voltage."""
    windings: NotRequired[CircuitWindings]
    """The solenoid by its two windings."""
    plunger: NotRequired[CircuitPlunger]
    """The solenoid by force and air gap."""


Load = ResistanceLoad | CurrentLoad | PowerLoad | LampLoad | MotorLoad | SolenoidLoad
"""`ResistanceLoad` or `CurrentLoad` or `PowerLoad` or `LampLoad` or `MotorLoad` or
`SolenoidLoad`, told apart by `kind`.
"""


class Relay(TypedDict):
    """A relay of a circuit: terminals 85, 86, 30 and 87, and 87a where it changes over."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    rating_a: NotRequired[Quantity]
    """Steady current that the contact is rated for. From 0.001 to 10000. [A]"""
    rating_ambient_c: NotRequired[Quantity]
    """Ambient temperature of that rating. From -60 to 250, by default 23. [degC]"""
    derating: NotRequired[Sequence[DeratingPoint]]
    """The maker's points above the rating's ambient, in rising order of temperature. At most 20
    of them, by default none.
    """
    make_rating_a: NotRequired[Quantity]
    """Current that the contact may close on. From 0.001 to 10000. [A]"""
    rated_v: NotRequired[Quantity]
    """DC voltage that the contact is rated for; one of 6, 12 or 24 V is fit for the customary
    voltages of such a system. From 1 to 1000. [V]
    """
    load_kind: NotRequired[LoadKind]
    """Kind of load that the contact closes on, for its inrush; that of a single solenoid or coil
    is told from the circuit.
    """
    inrush_current_a: NotRequired[Quantity]
    """First current of the load, measured or from its maker. From 0 to 10000. [A]"""
    contact_resistance_ohm: Quantity
    """Of the closed contact. From 0 to 1000. [ohm]"""
    minimum_current_a: NotRequired[Quantity]
    """Smallest current that keeps the contact material clean. From 0 to 10000. [A]"""
    nominal_v: NotRequired[Quantity]
    """Nominal voltage of the coil. From 0.1 to 60. [V]"""
    coil_resistance_ohm: Quantity
    """Of the coil at the reference temperature. From 0.1 to 1000000. [ohm]"""
    pick_up_v: Quantity
    """Voltage at which the relay is sure to close, at the reference temperature. From 0.1 to 60.
    [V]
    """
    drop_out_v: Quantity
    """Voltage below which the relay opens, at the reference temperature. From 0.01 to 60. [V]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of the maker's values. From -60 to 400, by default 20. [degC]"""
    maximum_v: NotRequired[Quantity]
    """Highest lasting voltage at the coil; by default that of the source without load, which is
    too much where a resistor lies before the coil. From 0.1 to 60. [V]
    """
    thermal_resistance_k_per_w: NotRequired[Quantity]
    """Rise of the coil per watt. From 0.001 to 10000. [K/W]"""
    thermal_time_constant_s: NotRequired[Quantity]
    """Of the coil's warming, for one that is on for a time; by default a short one, as practice
    has it. From 0.1 to 1000000. [s]
    """
    coil_limit_c: NotRequired[Quantity]
    """Highest temperature of the coil's insulation. From -60 to 400. [degC]"""
    highest_ambient_c: NotRequired[Quantity]
    """Highest temperature around the relay that its maker allows. From -60 to 250. [degC]"""
    suppression: NotRequired[Suppression]
    """What is wired across the coil; kind none where nothing is."""
    switch_limit_v: NotRequired[Quantity]
    """Highest voltage that the switch or driver of the coil stands. From 1 to 10000. [V]"""
    break_rating_a: NotRequired[Quantity]
    """Steady current that the break contact, 87a, is rated for at `rating_ambient_c`. From 0.001
    to 10000. [A]
    """
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on its contact. By default ``True``."""
    coil_nodes: Sequence[str]
    """Nodes at 86 and 85. Exactly 2 of them."""
    contact_nodes: Sequence[str]
    """Nodes at 30 and 87. Exactly 2 of them."""
    break_nodes: NotRequired[Sequence[str]]
    """Nodes at 30 and 87a. Exactly 2 of them."""


class FurtherBattery(TypedDict):
    """Another battery: a second one of the vehicle, or that of a helper."""

    name: str
    """What the answer calls it. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The nodes at its positive and at its negative post. Exactly 2 of them."""
    kind: Literal["battery"]
    """Battery."""
    open_circuit_v: Quantity
    """Voltage without load. From 0.1 to 60. [V]"""
    internal_resistance_ohm: Quantity
    """Of it. From 0.00001 to 10. [ohm]"""


class Charger(TypedDict):
    """A generator or charger with a regulator: it gives its limit at most, and takes nothing."""

    name: str
    """What the answer calls it. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    nodes: Sequence[str]
    """The nodes at its positive and at its negative post. Exactly 2 of them."""
    kind: Literal["charger"]
    """Charger."""
    regulated_v: Quantity
    """Voltage that it holds. From 0.1 to 60. [V]"""
    internal_resistance_ohm: Quantity
    """Of it, with what its voltage falls by under load. From 0.0001 to 10. [ohm]"""
    limit_a: Quantity
    """Most that it gives at this speed. From 0.001 to 10000. [A]"""


FurtherBatteryOrCharger = FurtherBattery | Charger
"""`FurtherBattery` or `Charger`, told apart by `kind`."""


class Circuit(TypedDict):
    """A network as it lies in the vehicle; nodes are there because parts name them."""

    ground: NotRequired[str]
    """Node at 0 V; by default 'ground'. From 1 to 80 characters."""
    source: Source
    """What feeds the circuit."""
    branches: Sequence[CircuitPart]
    """Wires, contacts and resistances, the body and its joints included. At most 500 of them."""
    loads: Sequence[Load]
    """What is fed. From 1 to 500 of them."""
    relays: NotRequired[Sequence[Relay]]
    """Relays. At most 50 of them, by default none."""
    further_sources: NotRequired[Sequence[FurtherBatteryOrCharger]]
    """Other batteries, and what charges. At most 10 of them, by default none."""


class Case(TypedDict):
    """A named condition, laid over the circuit."""

    name: str
    """What the answer calls this case. From 1 to 80 characters."""
    ambient_c: NotRequired[Quantity]
    """Ambient of all zones that are not named. From -60 to 250, by default 20. [degC]"""
    zone_ambients_c: NotRequired[Mapping[str, Quantity]]
    """Ambient by zone. At most 50 of them, each from -60 to 250. [degC]"""
    open_circuit_v: NotRequired[Quantity]
    """In place of that of the source. From 0.1 to 60. [V]"""
    internal_resistance_ohm: NotRequired[Quantity]
    """In place of that of the source. From 0 to 10. [ohm]"""
    state_of_charge_percent: NotRequired[Quantity]
    """Of the battery, in place of its own. From 0 to 100. [%]"""
    ageing_factor: NotRequired[Quantity]
    """On the resistance of every contact that ages. From 0.1 to 100, by default 1."""
    without: NotRequired[Sequence[str]]
    """Parts left out: open switches, loads that are off. At most 500 of them, by default none."""
    held: NotRequired[Sequence[str]]
    """Relays and solenoids that have pulled in before. At most 500 of them, by default none."""
    duration_s: NotRequired[Quantity]
    """How long it lasts, from a start at ambient; by default as long as a key is held in a start
    and where nothing but a starter is fed, else for ever. From 0.01 to 86400. [s]
    """


class RelayData(TypedDict):
    """What is known of a relay, wherever it is wired; what is not given is not judged, and told."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    rating_a: NotRequired[Quantity]
    """Steady current that the contact is rated for. From 0.001 to 10000. [A]"""
    rating_ambient_c: NotRequired[Quantity]
    """Ambient temperature of that rating. From -60 to 250, by default 23. [degC]"""
    derating: NotRequired[Sequence[DeratingPoint]]
    """The maker's points above the rating's ambient, in rising order of temperature. At most 20
    of them, by default none.
    """
    make_rating_a: NotRequired[Quantity]
    """Current that the contact may close on. From 0.001 to 10000. [A]"""
    rated_v: NotRequired[Quantity]
    """DC voltage that the contact is rated for; one of 6, 12 or 24 V is fit for the customary
    voltages of such a system. From 1 to 1000. [V]
    """
    load_kind: NotRequired[LoadKind]
    """Kind of load that the contact closes on, for its inrush; that of a single solenoid or coil
    is told from the circuit.
    """
    inrush_current_a: NotRequired[Quantity]
    """First current of the load, measured or from its maker. From 0 to 10000. [A]"""
    contact_resistance_ohm: Quantity
    """Of the closed contact. From 0 to 1000. [ohm]"""
    minimum_current_a: NotRequired[Quantity]
    """Smallest current that keeps the contact material clean. From 0 to 10000. [A]"""
    nominal_v: NotRequired[Quantity]
    """Nominal voltage of the coil. From 0.1 to 60. [V]"""
    coil_resistance_ohm: Quantity
    """Of the coil at the reference temperature. From 0.1 to 1000000. [ohm]"""
    pick_up_v: Quantity
    """Voltage at which the relay is sure to close, at the reference temperature. From 0.1 to 60.
    [V]
    """
    drop_out_v: Quantity
    """Voltage below which the relay opens, at the reference temperature. From 0.01 to 60. [V]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of the maker's values. From -60 to 400, by default 20. [degC]"""
    maximum_v: NotRequired[Quantity]
    """Highest lasting voltage at the coil; by default that of the source without load, which is
    too much where a resistor lies before the coil. From 0.1 to 60. [V]
    """
    thermal_resistance_k_per_w: NotRequired[Quantity]
    """Rise of the coil per watt. From 0.001 to 10000. [K/W]"""
    thermal_time_constant_s: NotRequired[Quantity]
    """Of the coil's warming, for one that is on for a time; by default a short one, as practice
    has it. From 0.1 to 1000000. [s]
    """
    coil_limit_c: NotRequired[Quantity]
    """Highest temperature of the coil's insulation. From -60 to 400. [degC]"""
    highest_ambient_c: NotRequired[Quantity]
    """Highest temperature around the relay that its maker allows. From -60 to 250. [degC]"""
    suppression: NotRequired[Suppression]
    """What is wired across the coil; kind none where nothing is."""
    switch_limit_v: NotRequired[Quantity]
    """Highest voltage that the switch or driver of the coil stands. From 1 to 10000. [V]"""
    break_rating_a: NotRequired[Quantity]
    """Steady current that the break contact, 87a, is rated for at `rating_ambient_c`. From 0.001
    to 10000. [A]
    """
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on its contact. By default ``True``."""


class ChainWire(TypedDict):
    """A wire; its ambient is that of its zone unless it gives its own.

    Give at most one of `temperature_c`, `ambient_c`.
    """

    insulation: NotRequired[Insulation]
    """Kind of insulated wire."""
    insulation_limit_c: NotRequired[Quantity]
    """Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
    [degC]
    """
    outer_diameter_mm: NotRequired[Quantity]
    """Over the insulation, in place of the usual one. From 0.2 to 60. [mm]"""
    grouped_conductors: NotRequired[int]
    """Loaded conductors side by side in the loom, itself included. From 1 to 200, by default 1."""
    altitude_m: NotRequired[Quantity]
    """Height above the sea. From 0 to 6000, by default 0. [m]"""
    ambient_c: NotRequired[Quantity]
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
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["wire"]
    """Wire."""
    length_m: Quantity
    """Length of the wire, one way. From 0 to 1000. [m]"""
    temperature_c: NotRequired[Quantity]
    """Temperature of the conductor; without it the current and the ambient decide. From -60 to
    300. [degC]
    """


class ChainContact(TypedDict):
    """A contact: a switch, a connector, a fuse, a ground joint."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["contact"]
    """Contact."""
    part: Part
    """What makes the contact."""
    resistance_ohm: Quantity
    """Of the contact as it is. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That the part is rated for. From 0.001 to 10000. [A]"""
    fuse_family: NotRequired[FuseFamily]
    """Family of a fuse; by default any of those that have its rating."""
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on it. By default ``True``."""


class ChainResistance(TypedDict):
    """A known resistance."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["resistance"]
    """Resistance."""
    resistance_ohm: Quantity
    """Of the part. From 0 to 1000000. [ohm]"""


ChainPart = ChainWire | ChainContact | ChainResistance
"""`ChainWire` or `ChainContact` or `ChainResistance`, told apart by `kind`."""


class Proposal(TypedDict):
    """A relay near the load, its coil on the old wire, its contact fed from elsewhere."""

    relay: RelayData
    """The relay."""
    feed_node: str
    """Node that the relay's contact is fed from, such as the heavy cable's end. From 1 to 80
    characters.
    """
    feed: NotRequired[Sequence[ChainPart]]
    """Parts from there to terminal 30, in order: the fuse belongs here. At most 20 of them, by
    default none.
    """
    outlet: NotRequired[Sequence[ChainPart]]
    """Parts from terminal 87 to the load, in order. At most 20 of them, by default none."""
    wires: NotRequired[Sequence[ChainWire]]
    """Wires that are drawn anew with it, such as a thin return wire, each with the name of the
    one whose place it takes. At most 20 of them, by default none.
    """
    fuse: NotRequired[Literal["none"]]
    """None where the feed is to have no fuse; left out where one stands in the feed, or is not
    known.
    """
    one_for_each: NotRequired[Literal["beam", "speed", "direction"]]
    """What the load takes such a relay for each of: beam or speed; direction, of a motor that
    turns both ways, which takes changeover relays; left out where this one is all.
    """
    coil_feed_node: NotRequired[str]
    """Node that terminal 86 is fed from; by default the load's old wire. From 1 to 80
    characters.
    """
    coil_ground_node: NotRequired[str]
    """Node that terminal 85 is grounded at; by default where the load is. From 1 to 80
    characters.
    """
    load_ground_node: NotRequired[str]
    """Node that the load is grounded at then; by default where it is, and the ground where the
    switch lies in its ground lead, which then is the coil's. From 1 to 80 characters.
    """


class NewSwitch(TypedDict):
    """A new switch in the place of the old one."""

    resistance_ohm: Quantity
    """Of its contact. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That it is rated for. From 0.001 to 10000. [A]"""


class GivenWay(TypedDict):
    """Something that may be done for the load; several things together, where several are given."""

    name: str
    """What the answer calls this way. From 1 to 80 characters."""
    relay: NotRequired[Proposal]
    """A relay and its wires."""
    sound: NotRequired[Sequence[str]]
    """Contacts that are cleaned, tightened or replaced; of a relay, that it is replaced. At most
    100 of them, by default none.
    """
    wires: NotRequired[Sequence[ChainWire]]
    """Wires that are replaced, each with the name of the one whose place it takes. At most 20 of
    them, by default none.
    """
    switch: NotRequired[NewSwitch]
    """A new switch in the place of `switch`."""
    own_ground: NotRequired[Sequence[ChainPart]]
    """Parts of a ground of its own, from the load's ground end to the ground, in order. At most
    20 of them, by default none.
    """
    battery: NotRequired[bool]
    """Whether the battery is charged, or replaced, until it is sound. By default ``False``."""
    cost: NotRequired[Quantity]
    """What it costs, in the same money as the others. From 0 to 1000000000."""
    work_h: NotRequired[Quantity]
    """Time that it takes. From 0 to 1000. [h]"""
    available: NotRequired[bool]
    """Whether it can be had. By default ``True``."""
