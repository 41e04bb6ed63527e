# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_retrofit`."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.circuits import Quantity
from lastvolt._generated.types.circuits_answers import Influence, Mend, OutputSpread
from lastvolt._generated.types.common import (
    Construction,
    FuseFamily,
    Insulation,
    Material,
    Part,
    Result,
    Standard,
    Verdict,
)
from lastvolt.answers import Model


class RelayData(TypedDict):
    """What is known of a relay, wherever it is wired."""

    name: str
    """What the answer calls this relay. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    coil_resistance_ohm: Quantity
    """Of the coil at the reference temperature. From 0.1 to 1000000. [ohm]"""
    pick_up_v: Quantity
    """Voltage at which the relay is sure to close, at the reference temperature. From 0.1 to 60.
    [V]
    """
    drop_out_v: Quantity
    """Voltage below which the relay opens, at the reference temperature. From 0.01 to 60. [V]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of these values. From -60 to 400, by default 20. [degC]"""
    thermal_resistance_k_per_w: NotRequired[Quantity]
    """Rise of the coil per watt; without it the coil is as warm as its zone. From 0.001 to
    10000. [K/W]
    """
    contact_resistance_ohm: Quantity
    """Of the closed contact. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That the contact is rated for at its ambient. From 0.001 to 10000. [A]"""
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
    coil_ground_node: NotRequired[str]
    """Node that terminal 85 is grounded at; by default where the load is. From 1 to 80
    characters.
    """


RelayRetrofitAdvice = Literal["worth_it", "insurance_only", "not_the_remedy", "change_the_proposal"]
"""What `RelayRetrofit.advice` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark(Model):
    """One sentence about a decision, with its code and its numbers.

    Attributes
    ----------
    code : str
        What kind of remark it is, in a word that stays the same.
    message : str
        The same in a sentence.
    case : str or None
        The case that shows it, as the request names it.
    part : str or None
        The part that it is about, as the request names it.
    check : str or None
        Code of the check that it repeats.
    values : mapping of str to float
        Its numbers by name.
    """

    code: str
    """What kind of remark it is, in a word that stays the same."""
    message: str
    """The same in a sentence."""
    case: str | None
    """The case that shows it, as the request names it."""
    part: str | None
    """The part that it is about, as the request names it."""
    check: str | None
    """Code of the check that it repeats."""
    values: Mapping[str, float] = field(hash=False)
    """Its numbers by name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version(Model):
    """The circuit as it is, or as proposed, in one case.

    Attributes
    ----------
    load_voltage_v : float
        Voltage that reaches the load. [V]
    needed_v : float
        Lowest voltage that it works at in this case. [V]
    margin_v : float
        `load_voltage_v` over `needed_v`. [V]
    switch_current_a : float
        Through the switch. [A]
    switch_power_w : float
        Heat made in the switch. [W]
    tolerated_contact_ohm : float or None
        Further resistance of the switch until the load fails, at most 1000; None where it fails as
        it is. [ohm]
    hottest_winding_c : float or None
        Highest temperature of the load at which it still works, at most 400; None where it works at
        none. [degC]
    coil_v : float or None
        At the relay's coil before it closes; None as it is. [V]
    pick_up_v : float or None
        That closes the relay, its coil warm; None as it is. [V]
    spreads : tuple of OutputSpread
        Empty where no input is an interval.
    influences : tuple of Influence
        Of the inputs that are, strongest first.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst check of the load and of the proposed parts.
    """

    load_voltage_v: float
    """Voltage that reaches the load. [V]"""
    needed_v: float
    """Lowest voltage that it works at in this case. [V]"""
    margin_v: float
    """`load_voltage_v` over `needed_v`. [V]"""
    switch_current_a: float
    """Through the switch. [A]"""
    switch_power_w: float
    """Heat made in the switch. [W]"""
    tolerated_contact_ohm: float | None
    """Further resistance of the switch until the load fails, at most 1000; None where it fails
    as it is. [ohm]
    """
    hottest_winding_c: float | None
    """Highest temperature of the load at which it still works, at most 400; None where it works
    at none. [degC]
    """
    coil_v: float | None
    """At the relay's coil before it closes; None as it is. [V]"""
    pick_up_v: float | None
    """That closes the relay, its coil warm; None as it is. [V]"""
    spreads: tuple[OutputSpread, ...]
    """Empty where no input is an interval."""
    influences: tuple[Influence, ...]
    """Of the inputs that are, strongest first."""
    verdict: Verdict
    """The worst check of the load and of the proposed parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RetrofitCase(Model):
    """Both versions in one case.

    Attributes
    ----------
    name : str
        The case as the request names it.
    as_is : Version
        The circuit as it is.
    proposed : Version
        The circuit with the relay.
    gain_v : float
        More voltage at the load with the relay. [V]
    """

    name: str
    """The case as the request names it."""
    as_is: Version
    """The circuit as it is."""
    proposed: Version
    """The circuit with the relay."""
    gain_v: float
    """More voltage at the load with the relay. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of ``relay-retrofit``.

    Attributes
    ----------
    advice : RelayRetrofitAdvice
        `worth_it`, `insurance_only`, `not_the_remedy` or `change_the_proposal`.
    reasons : tuple of Remark
        Why, in order of weight.
    new_risks : tuple of Remark
        What the relay brings with it.
    cases : tuple of RetrofitCase
        Both versions in every case.
    poorest_case : str
        The case in which the load has the least to spare as it is.
    mend_first : tuple of Mend
        Parts by the volts they cost the load as it is, in its poorest case.
    """

    advice: RelayRetrofitAdvice
    """`worth_it`, `insurance_only`, `not_the_remedy` or `change_the_proposal`."""
    reasons: tuple[Remark, ...]
    """Why, in order of weight."""
    new_risks: tuple[Remark, ...]
    """What the relay brings with it."""
    cases: tuple[RetrofitCase, ...]
    """Both versions in every case."""
    poorest_case: str
    """The case in which the load has the least to spare as it is."""
    mend_first: tuple[Mend, ...]
    """Parts by the volts they cost the load as it is, in its poorest case."""
