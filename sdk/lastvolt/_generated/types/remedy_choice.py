# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.remedy_choice`."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.circuits import (
    AdviceKind,
    BatteryState,
    ChainPart,
    ChainWire,
    CodeKind,
    Proposal,
    Quantity,
)
from lastvolt._generated.types.circuits_answers import Remark, Version, Way
from lastvolt._generated.types.common import Check, Result
from lastvolt.answers import Model


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
    """Contacts that are cleaned, tightened or replaced. At most 100 of them, by default none."""
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


PlanStepCode = Literal["battery", "mend", "own_ground", "new_wire", "new_switch", "relay"]
"""What `PlanStep.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep(Model):
    """One step of a plan, done after those before it.

    Attributes
    ----------
    code : PlanStepCode
        Battery, mend, `own_ground`, `new_wire`, `new_switch` or relay.
    part : str or None
        What it is done to, or is new; None of the battery.
    brings_v : float
        More voltage at the load, in the case that is poorest as it is, after those before. [V]
    load_voltage_v : float
        That reaches the load then, in that case. [V]
    """

    code: PlanStepCode
    """Battery, mend, `own_ground`, `new_wire`, `new_switch` or relay."""
    part: str | None
    """What it is done to, or is new; None of the battery."""
    brings_v: float
    """More voltage at the load, in the case that is poorest as it is, after those before. [V]"""
    load_voltage_v: float
    """That reaches the load then, in that case. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option(Model):
    """A way that was weighed.

    Attributes
    ----------
    name : str or None
        As the request calls it; None of one that was made.
    code : CodeKind
        `as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`.
    parts : tuple of str
        What is made sound, replaced or new, without a relay's own.
    relay : str or None
        The relay that is fitted.
    is_advised : bool
        Whether it is the one that is advised.
    works : bool
        Whether the load gets what it needs in every case, with a reserve, nothing that was sound
        fails, and the relay, where it is fitted, may be built so.
    available : bool
        Whether it can be had.
    against : tuple of str
        What speaks against it, in sentences.
    case : str
        The case in which the load then has the least to spare.
    load_voltage_v : float
        That reaches the load in that case. [V]
    needed_v : float
        Lowest voltage that it works at there. [V]
    margin_v : float
        `load_voltage_v` over `needed_v`. [V]
    gain_v : float
        More voltage at the load, in the case that is poorest as it is. [V]
    switch_current_a : float
        Through the switch in that case. [A]
    switch_power_w : float
        Heat made in the switch there. [W]
    tolerated_contact_ohm : float or None
        Further resistance of the switch until the load fails there, at most 1000; None where it
        fails as it is. [ohm]
    new_parts : int
        How many parts are new.
    cost : float or None
        As the request gives it.
    work_h : float or None
        As the request gives it. [h]
    """

    name: str | None
    """As the request calls it; None of one that was made."""
    code: CodeKind
    """`as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`."""
    parts: tuple[str, ...]
    """What is made sound, replaced or new, without a relay's own."""
    relay: str | None
    """The relay that is fitted."""
    is_advised: bool
    """Whether it is the one that is advised."""
    works: bool
    """Whether the load gets what it needs in every case, with a reserve, nothing that was sound
    fails, and the relay, where it is fitted, may be built so.
    """
    available: bool
    """Whether it can be had."""
    against: tuple[str, ...]
    """What speaks against it, in sentences."""
    case: str
    """The case in which the load then has the least to spare."""
    load_voltage_v: float
    """That reaches the load in that case. [V]"""
    needed_v: float
    """Lowest voltage that it works at there. [V]"""
    margin_v: float
    """`load_voltage_v` over `needed_v`. [V]"""
    gain_v: float
    """More voltage at the load, in the case that is poorest as it is. [V]"""
    switch_current_a: float
    """Through the switch in that case. [A]"""
    switch_power_w: float
    """Heat made in the switch there. [W]"""
    tolerated_contact_ohm: float | None
    """Further resistance of the switch until the load fails there, at most 1000; None where it
    fails as it is. [ohm]
    """
    new_parts: int
    """How many parts are new."""
    cost: float | None
    """As the request gives it."""
    work_h: float | None
    """As the request gives it. [h]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spared(Model):
    """What the relay takes off the switch, in the case that is poorest as it is.

    Attributes
    ----------
    case : str
        The case as the request names it.
    as_is : Version
        The circuit as it is.
    with_relay : Version
        The circuit with the relay.
    """

    case: str
    """The case as the request names it."""
    as_is: Version
    """The circuit as it is."""
    with_relay: Version
    """The circuit with the relay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyChoice(Result):
    """Answer of ``remedy-choice``.

    Attributes
    ----------
    advice : AdviceKind
        Mend: restore what is there; relay; `mend_then_relay`; insurance: nothing is short, but the
        switch is at risk or the relay brings much; `not_the_wiring`: what feeds it, or it, is
        wrong; `battery_first`; `nothing_needed`; `find_out_first`: what is not known decides;
        unsafe: no relay that is given may be built as it stands; `none_suffices`.
    battery_state : {"frozen", "dead", "low", "weak"} or None
        The poorest in any case: frozen, or nearly so; dead, with less than a flat one has; low;
        weak, by its resistance; None of a sound one.
    chosen : Way or None
        The way that is advised; of what is unsafe or not known well enough, the one that would do;
        None where none does.
    plan : tuple of PlanStep
        Its steps in order of work; empty where nothing is to do.
    reasons : tuple of Remark
        Why, in order of weight.
    burns : Check or None
        What catches fire in what stays, whatever is advised; None where nothing does.
    options : tuple of Option
        Every way that was weighed, the plainest first.
    spared : Spared or None
        What the relay would take off the switch; None where none is given.
    new_risks : tuple of Remark
        What a relay brings with it; empty without one.
    """

    advice: AdviceKind
    """Mend: restore what is there; relay; `mend_then_relay`; insurance: nothing is short, but
    the switch is at risk or the relay brings much; `not_the_wiring`: what feeds it, or it, is
    wrong; `battery_first`; `nothing_needed`; `find_out_first`: what is not known decides;
    unsafe: no relay that is given may be built as it stands; `none_suffices`.
    """
    battery_state: BatteryState | None
    """The poorest in any case: frozen, or nearly so; dead, with less than a flat one has; low;
    weak, by its resistance; None of a sound one.
    """
    chosen: Way | None
    """The way that is advised; of what is unsafe or not known well enough, the one that would
    do; None where none does.
    """
    plan: tuple[PlanStep, ...]
    """Its steps in order of work; empty where nothing is to do."""
    reasons: tuple[Remark, ...]
    """Why, in order of weight."""
    burns: Check | None
    """What catches fire in what stays, whatever is advised; None where nothing does."""
    options: tuple[Option, ...]
    """Every way that was weighed, the plainest first."""
    spared: Spared | None
    """What the relay would take off the switch; None where none is given."""
    new_risks: tuple[Remark, ...]
    """What a relay brings with it; empty without one."""
