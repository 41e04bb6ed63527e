# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.remedy_choice`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.circuits import Advice, BatteryState, Code
from lastvolt._generated.types.circuits_answers import Remark, Version, Way
from lastvolt._generated.types.common import Check, Result
from lastvolt.answers import Model

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
    size : str or None
        Of a new wire; None of what is none.
    brings_v : float
        More voltage at the load, in the case that is poorest as it is, after those before. [V]
    load_voltage_v : float
        That reaches the load then, in that case. [V]
    """

    code: PlanStepCode
    """Battery, mend, `own_ground`, `new_wire`, `new_switch` or relay."""
    part: str | None
    """What it is done to, or is new; None of the battery."""
    size: str | None
    """Of a new wire; None of what is none."""
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
    code : Code
        `as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`.
    parts : tuple of str
        What is made sound: cleaned, tightened or replaced.
    new : tuple of str
        What is new, or takes the place of the old, without a relay's own; a wire with its size.
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
    code: Code
    """`as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`."""
    parts: tuple[str, ...]
    """What is made sound: cleaned, tightened or replaced."""
    new: tuple[str, ...]
    """What is new, or takes the place of the old, without a relay's own; a wire with its size."""
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
    advice : Advice
        Mend: restore what is there; relay; `mend_then_relay`; insurance: nothing is short, but the
        switch is at risk or the relay brings much; `not_the_wiring`: what feeds it, or it, is
        wrong; `battery_first`; `nothing_needed`; `find_out_first`: what is not known decides;
        unsafe: no relay that is given may be built as it stands; `none_suffices`.
    battery_state : {"frozen_or_dead", "frozen", "dead", "low", "weak"} or None
        The poorest in any case: `frozen_or_dead`; frozen, or nearly so; dead, with less than a flat
        one has; low; weak, by its resistance; None of a sound one.
    chosen : Way or None
        The way that is advised; of what is unsafe or not known well enough, the one that would do;
        None where none does.
    nearest : Way or None
        Where no way suffices, the one that leaves the load most; else None.
    barred_by : Check or None
        What speaks against that way first; else None.
    relay_to_be_weighed : bool
        Whether nothing suffices, no relay is among the ways, and one might help: grounds and
        clamps, which it leaves in the load's way, do not take too much.
    plan : tuple of PlanStep
        Its steps in order of work; empty where nothing is to do.
    reasons : tuple of Remark
        Why, in order of weight.
    burns : Check or None
        What runs on or catches fire in what stays, whatever is advised; None where nothing does.
    burns_as_it_is : Check or None
        What catches fire until that is done; None where nothing does.
    cranking_loss : Check or None
        The contact in the starter's own way, as a strap or a clamp of its main cable, that takes
        most while it cranks, where that is too much and no step mends it; None elsewhere, and where
        no starter is given.
    options : tuple of Option
        Every way that was weighed, the plainest first.
    spared : Spared or None
        What the relay would take off the switch; None where none is given.
    new_risks : tuple of Remark
        What a relay brings with it; empty without one.
    """

    advice: Advice
    """Mend: restore what is there; relay; `mend_then_relay`; insurance: nothing is short, but
    the switch is at risk or the relay brings much; `not_the_wiring`: what feeds it, or it, is
    wrong; `battery_first`; `nothing_needed`; `find_out_first`: what is not known decides;
    unsafe: no relay that is given may be built as it stands; `none_suffices`.
    """
    battery_state: BatteryState | None
    """The poorest in any case: `frozen_or_dead`; frozen, or nearly so; dead, with less than a
    flat one has; low; weak, by its resistance; None of a sound one.
    """
    chosen: Way | None
    """The way that is advised; of what is unsafe or not known well enough, the one that would
    do; None where none does.
    """
    nearest: Way | None
    """Where no way suffices, the one that leaves the load most; else None."""
    barred_by: Check | None
    """What speaks against that way first; else None."""
    relay_to_be_weighed: bool
    """Whether nothing suffices, no relay is among the ways, and one might help: grounds and
    clamps, which it leaves in the load's way, do not take too much.
    """
    plan: tuple[PlanStep, ...]
    """Its steps in order of work; empty where nothing is to do."""
    reasons: tuple[Remark, ...]
    """Why, in order of weight."""
    burns: Check | None
    """What runs on or catches fire in what stays, whatever is advised; None where nothing does."""
    burns_as_it_is: Check | None
    """What catches fire until that is done; None where nothing does."""
    cranking_loss: Check | None
    """The contact in the starter's own way, as a strap or a clamp of its main cable, that takes
    most while it cranks, where that is too much and no step mends it; None elsewhere, and where
    no starter is given.
    """
    options: tuple[Option, ...]
    """Every way that was weighed, the plainest first."""
    spared: Spared | None
    """What the relay would take off the switch; None where none is given."""
    new_risks: tuple[Remark, ...]
    """What a relay brings with it; empty without one."""
