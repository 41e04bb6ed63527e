# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_retrofit`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.circuits import AdviceKind
from lastvolt._generated.types.circuits_answers import Influence, Mend, OutputSpread, Remark
from lastvolt._generated.types.common import Check, Result, Verdict
from lastvolt.answers import Model

BatteryState = Literal["frozen", "dead", "low", "weak"]
"""What `RelayRetrofit.battery_state` may be."""

WayCode = Literal[
    "as_is", "battery", "mend", "battery_and_mend", "relay", "mend_then_relay", "all_of_these"
]
"""What `Way.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way(Model):
    """A way to help the load, and what it comes to.

    Attributes
    ----------
    code : WayCode
        `as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`.
    parts : tuple of str
        What is made sound: cleaned, tightened or replaced.
    works : bool
        Whether the load gets what it needs in every case, with a tenth to spare, nothing that was
        sound fails, and the relay, where it is fitted, may be built so.
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
    """

    code: WayCode
    """`as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`."""
    parts: tuple[str, ...]
    """What is made sound: cleaned, tightened or replaced."""
    works: bool
    """Whether the load gets what it needs in every case, with a tenth to spare, nothing that was
    sound fails, and the relay, where it is fitted, may be built so.
    """
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

    Its checks are those of the proposal, and where something is to be mended or charged those of
    the circuit as it is: a verdict of ``pass`` never stands beside something to mend.

    Attributes
    ----------
    advice : AdviceKind
        Mend, relay, `mend_then_relay`; insurance: nothing is short, but the switch is at risk or
        the relay brings much; `not_the_wiring`: what feeds it, or it, is wrong; `battery_first`;
        `nothing_needed`; `find_out_first`: what is not known decides; unsafe: the proposal must not
        be built as it stands; `none_suffices`.
    battery_state : {"frozen", "dead", "low", "weak"} or None
        The poorest in any case: frozen, or nearly so; dead, with less than a flat one has; low;
        weak, by its resistance; None of a sound one.
    plan : Way or None
        The way that is advised; of a proposal that is unsafe or not known well enough, the one that
        would do; None where none does.
    reasons : tuple of Remark
        Why, in order of weight.
    burns : Check or None
        What catches fire in what stays, whatever is advised; None where nothing does.
    ways : tuple of Way
        What was weighed, the plainest first.
    new_risks : tuple of Remark
        What the relay brings with it.
    cases : tuple of RetrofitCase
        As it is and with the relay, in every case.
    poorest_case : str
        The case in which the load has the least to spare as it is.
    mend_first : tuple of Mend
        Parts by what mending them brings the load as it is, in its poorest case.
    """

    advice: AdviceKind
    """Mend, relay, `mend_then_relay`; insurance: nothing is short, but the switch is at risk or
    the relay brings much; `not_the_wiring`: what feeds it, or it, is wrong; `battery_first`;
    `nothing_needed`; `find_out_first`: what is not known decides; unsafe: the proposal must not
    be built as it stands; `none_suffices`.
    """
    battery_state: BatteryState | None
    """The poorest in any case: frozen, or nearly so; dead, with less than a flat one has; low;
    weak, by its resistance; None of a sound one.
    """
    plan: Way | None
    """The way that is advised; of a proposal that is unsafe or not known well enough, the one
    that would do; None where none does.
    """
    reasons: tuple[Remark, ...]
    """Why, in order of weight."""
    burns: Check | None
    """What catches fire in what stays, whatever is advised; None where nothing does."""
    ways: tuple[Way, ...]
    """What was weighed, the plainest first."""
    new_risks: tuple[Remark, ...]
    """What the relay brings with it."""
    cases: tuple[RetrofitCase, ...]
    """As it is and with the relay, in every case."""
    poorest_case: str
    """The case in which the load has the least to spare as it is."""
    mend_first: tuple[Mend, ...]
    """Parts by what mending them brings the load as it is, in its poorest case."""
