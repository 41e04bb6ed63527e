# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_choice`."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.circuits import Advice, BatteryState
from lastvolt._generated.types.circuits_answers import Remark
from lastvolt._generated.types.common import (
    Check,
    DeratingPoint,
    Insulation,
    LoadKind,
    Number,
    Proposal,
    Quantity,
    Result,
    Suppression,
    Verdict,
)
from lastvolt.answers import Model


class RelayCandidate(TypedDict):
    """A relay of the caller's own parts list."""

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
    cost: NotRequired[Quantity]
    """Of the relay, in the same money as the others'. From 0 to 1000000000."""


Exposure = Literal["dry", "splash", "drips", "stones", "on_the_hot_part"]
"""What `RelayPlace.exposure` may be."""


class RelayPlace(TypedDict):
    """A place where a relay may be mounted, and how far it is from there."""

    name: str
    """What the answer calls this place. From 1 to 80 characters."""
    zone: str
    """Zone that it lies in, for its ambient in each case. From 1 to 80 characters."""
    exposure: Exposure
    """What it is exposed to."""
    feed_node: str
    """Node that the relay's contact would be fed from, at its fuse. From 1 to 80 characters."""
    feed_length_m: Number
    """Of wire from there to the relay. From 0.01 to 50. [m]"""
    outlet_length_m: Number
    """Of wire from the relay to the load. From 0.01 to 50. [m]"""
    insulation: NotRequired[Insulation]
    """Kind of insulated wire for its feed and outlet. By default ``"GXL"``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Best(Model):
    """The relay that is advised, where, and with what.

    Attributes
    ----------
    candidate : str
        The relay as the request names it.
    place : str
        Where it is mounted.
    size : str
        Of feed and outlet.
    fuse_rating_a : float
        Of the fuse at the start of the feed. [A]
    fuse_family : str
        Of that fuse.
    holder_rating_a : float or None
        Usual rating of its holder; None where one is made for each rating. [A]
    load_voltage_v : float
        That reaches the load in its poorest case. [V]
    margin_v : float
        That it has above what it needs there. [V]
    proposal : Proposal
        As relay-retrofit takes it, beside the circuit, cases, load and switch.
    """

    candidate: str
    """The relay as the request names it."""
    place: str
    """Where it is mounted."""
    size: str
    """Of feed and outlet."""
    fuse_rating_a: float
    """Of the fuse at the start of the feed. [A]"""
    fuse_family: str
    """Of that fuse."""
    holder_rating_a: float | None
    """Usual rating of its holder; None where one is made for each rating. [A]"""
    load_voltage_v: float
    """That reaches the load in its poorest case. [V]"""
    margin_v: float
    """That it has above what it needs there. [V]"""
    proposal: Proposal = field(hash=False)
    """As relay-retrofit takes it, beside the circuit, cases, load and switch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejected(Model):
    """A relay that does not do in some places, or places that do for none.

    Attributes
    ----------
    candidate : str or None
        The relay as the request names it; None of any relay.
    places : tuple of str
        Where, the kindest first.
    code : str
        Why: code of the check that it fails or that could not be judged; `no_answer`;
        `mend_before`; or of a place without a wire: ambient, `fixed_drop`, `no_size`, `no_fuse`,
        `no_current`.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        Fail; unknown or undecided where it is to be found out.
    part : str or None
        The part that it is about.
    case : str or None
        The case that shows it.
    message : str
        The same in a sentence, of the first of these places.
    """

    candidate: str | None
    """The relay as the request names it; None of any relay."""
    places: tuple[str, ...]
    """Where, the kindest first."""
    code: str
    """Why: code of the check that it fails or that could not be judged; `no_answer`;
    `mend_before`; or of a place without a wire: ambient, `fixed_drop`, `no_size`, `no_fuse`,
    `no_current`.
    """
    verdict: Verdict
    """Fail; unknown or undecided where it is to be found out."""
    part: str | None
    """The part that it is about."""
    case: str | None
    """The case that shows it."""
    message: str
    """The same in a sentence, of the first of these places."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked(Model):
    """A relay in a place, which works there.

    Attributes
    ----------
    rank : int
        1 for the best; those that nothing tells apart have the same.
    candidate : str
        The relay as the request names it.
    place : str
        Where it is mounted.
    size : str
        Of feed and outlet there: thinner than the place's where its blades take no thicker.
    has_reserve : bool
        Whether the load has a tenth to spare in every case.
    case : str
        The case in which the load has the least to spare.
    load_voltage_v : float
        That reaches the load in that case. [V]
    needed_v : float
        Lowest voltage that it works at there. [V]
    margin_v : float
        `load_voltage_v` over `needed_v`. [V]
    coil_margin_v : float or None
        At the coil, warm, over what closes it, in the worst case; cold where its heat is not known;
        None where it has pulled in before. [V]
    contact_margin_a : float or None
        That the contact may carry over what it does; None where that is not known. [A]
    ambient_c : float
        Highest around it in any case. [degC]
    length_m : float
        Of both new wires. [m]
    wires_drop_v : float
        That they take, at most, in any case. [V]
    cost : float or None
        As the request says; None where it does not.
    """

    rank: int
    """1 for the best; those that nothing tells apart have the same."""
    candidate: str
    """The relay as the request names it."""
    place: str
    """Where it is mounted."""
    size: str
    """Of feed and outlet there: thinner than the place's where its blades take no thicker."""
    has_reserve: bool
    """Whether the load has a tenth to spare in every case."""
    case: str
    """The case in which the load has the least to spare."""
    load_voltage_v: float
    """That reaches the load in that case. [V]"""
    needed_v: float
    """Lowest voltage that it works at there. [V]"""
    margin_v: float
    """`load_voltage_v` over `needed_v`. [V]"""
    coil_margin_v: float | None
    """At the coil, warm, over what closes it, in the worst case; cold where its heat is not
    known; None where it has pulled in before. [V]
    """
    contact_margin_a: float | None
    """That the contact may carry over what it does; None where that is not known. [A]"""
    ambient_c: float
    """Highest around it in any case. [degC]"""
    length_m: float
    """Of both new wires. [m]"""
    wires_drop_v: float
    """That they take, at most, in any case. [V]"""
    cost: float | None
    """As the request says; None where it does not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiredPlace(Model):
    """A place with the wires that a relay would get there.

    Attributes
    ----------
    name : str
        The place as the request names it.
    ambient_c : float
        Highest in any case. [degC]
    length_m : float
        Of feed and outlet. [m]
    size : str or None
        Of both; None where none does.
    fuse_rating_a : float or None
        Of the fuse at their start; None likewise. [A]
    fuse_family : str or None
        Of that fuse.
    wires_drop_v : float or None
        That the wires take, at most, in any case. [V]
    current_a : float or None
        That the load takes there, at most. [A]
    """

    name: str
    """The place as the request names it."""
    ambient_c: float
    """Highest in any case. [degC]"""
    length_m: float
    """Of feed and outlet. [m]"""
    size: str | None
    """Of both; None where none does."""
    fuse_rating_a: float | None
    """Of the fuse at their start; None likewise. [A]"""
    fuse_family: str | None
    """Of that fuse."""
    wires_drop_v: float | None
    """That the wires take, at most, in any case. [V]"""
    current_a: float | None
    """That the load takes there, at most. [A]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted(Model):
    """What a relay would have to be.

    Attributes
    ----------
    place : str
        Where: the kindest that has a wire.
    nominal_v : float
        Of its coil. [V]
    current_a : float
        That its contact must carry at that ambient. [A]
    ambient_c : float
        That it must bear. [degC]
    coil_v : float
        That reaches its coil, at least: warm there, it must close on less. [V]
    """

    place: str
    """Where: the kindest that has a wire."""
    nominal_v: float
    """Of its coil. [V]"""
    current_a: float
    """That its contact must carry at that ambient. [A]"""
    ambient_c: float
    """That it must bear. [degC]"""
    coil_v: float
    """That reaches its coil, at least: warm there, it must close on less. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayChoice(Result):
    """Answer of ``relay-choice``.

    Its checks are those of the relay that is advised, of its wires and of the load, and whatever
    else of the circuit fails or is not judged.

    Attributes
    ----------
    best : Best or None
        What is advised; None where none suits.
    suits : bool
        Whether any relay does in any place.
    advice : Advice or None
        What relay-retrofit advises with that proposal: mending alone may do; where none suits
        `battery_first` if the battery is poor, else None.
    mend : tuple of str
        What is to be made sound then, in place of the relay or before it.
    first : Remark or None
        What relay-retrofit says of that proposal first; None where none suits.
    battery_state : {"frozen_or_dead", "frozen", "dead", "low", "weak"} or None
        The poorest in any case, as relay-retrofit tells it; None of a sound one.
    burns : Check or None
        What runs on or catches fire in what stays, whatever is advised; None where none suits.
    burns_as_it_is : Check or None
        What catches fire until the best is fitted.
    nearest : Rejected or None
        Where none suits, a relay whose ratings do: its feed, its place or what is not known keeps
        it out; else None.
    ranking : tuple of Ranked
        All that work, the best first.
    rejected : tuple of Rejected
        All others, those of one relay alike together.
    places : tuple of WiredPlace
        The places with their wires, as requested.
    wanted : Wanted or None
        What would do where none suits; None where one does, or no relay would help.
    not_looked_at : int
        Relays in places that passed alone and were not put into the circuit: kinder places and
        cheaper relays were.
    reasons : tuple of Remark
        Why there, and what the lengths cost.
    leaves_start_open : bool
        True of a starter's solenoid: whether it and a relay stay while the motor draws is not
        judged here, but by remedy-choice with its starter; false of any other load.
    """

    best: Best | None
    """What is advised; None where none suits."""
    suits: bool
    """Whether any relay does in any place."""
    advice: Advice | None
    """What relay-retrofit advises with that proposal: mending alone may do; where none suits
    `battery_first` if the battery is poor, else None.
    """
    mend: tuple[str, ...]
    """What is to be made sound then, in place of the relay or before it."""
    first: Remark | None
    """What relay-retrofit says of that proposal first; None where none suits."""
    battery_state: BatteryState | None
    """The poorest in any case, as relay-retrofit tells it; None of a sound one."""
    burns: Check | None
    """What runs on or catches fire in what stays, whatever is advised; None where none suits."""
    burns_as_it_is: Check | None
    """What catches fire until the best is fitted."""
    nearest: Rejected | None
    """Where none suits, a relay whose ratings do: its feed, its place or what is not known keeps
    it out; else None.
    """
    ranking: tuple[Ranked, ...]
    """All that work, the best first."""
    rejected: tuple[Rejected, ...]
    """All others, those of one relay alike together."""
    places: tuple[WiredPlace, ...]
    """The places with their wires, as requested."""
    wanted: Wanted | None
    """What would do where none suits; None where one does, or no relay would help."""
    not_looked_at: int
    """Relays in places that passed alone and were not put into the circuit: kinder places and
    cheaper relays were.
    """
    reasons: tuple[Remark, ...]
    """Why there, and what the lengths cost."""
    leaves_start_open: bool
    """True of a starter's solenoid: whether it and a relay stay while the motor draws is not
    judged here, but by remedy-choice with its starter; false of any other load.
    """
