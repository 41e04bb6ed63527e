# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several topics share."""

from collections.abc import Mapping
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
