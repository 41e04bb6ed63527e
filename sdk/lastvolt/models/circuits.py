"""Answers about whole circuits."""

from dataclasses import dataclass
from typing import Literal

from lastvolt.models.base import Check, Model, Result, Verdict


@dataclass(frozen=True, slots=True)
class NodeVoltage(Model):
    """Voltage of a node.

    Attributes
    ----------
    name : str
        The node.
    voltage_v : float
        Against the ground. [V]
    """

    name: str
    voltage_v: float


@dataclass(frozen=True, slots=True)
class PartState(Model):
    """A branch or a relay's contact at rest.

    Attributes
    ----------
    name : str
        The part as the call names it.
    kind : str
        Wire, contact, resistance or relay, in lower case.
    current_a : float
        From its first node to its second. [A]
    drop_v : float
        Of its first node against its second. [V]
    power_w : float
        Heat made in it. [W]
    temperature_c : float or None
        Of a wire's conductor; None for other parts. [degC]
    """

    name: str
    kind: str
    current_a: float
    drop_v: float
    power_w: float
    temperature_c: float | None


@dataclass(frozen=True, slots=True)
class LoadState(Model):
    """A load at rest.

    Attributes
    ----------
    name : str
        The load as the call names it.
    voltage_v, current_a, power_w : float
        Across it, through it, and taken by it. [V], [A], [W]
    needed_v : float or None
        Lowest voltage that it works at in this case. [V]
    margin_v : float or None
        `voltage_v` over `needed_v`. [V]
    """

    name: str
    voltage_v: float
    current_a: float
    power_w: float
    needed_v: float | None
    margin_v: float | None


@dataclass(frozen=True, slots=True)
class RelayState(Model):
    """A relay at rest.

    Attributes
    ----------
    name : str
        The relay as the call names it.
    energised : bool
        Whether it has pulled in.
    chatters : bool
        Whether it neither holds nor releases.
    coil_v : float
        Voltage at its coil. [V]
    coil_temperature_c : float
        Of its coil, warm from use. [degC]
    pick_up_v, drop_out_v : float
        That closes it, and below which it opens, at that temperature. [V]
    """

    name: str
    energised: bool
    chatters: bool
    coil_v: float
    coil_temperature_c: float
    pick_up_v: float
    drop_out_v: float


@dataclass(frozen=True, slots=True)
class OutputSpread(Model):
    """What an output does within the bounds of all inputs.

    Attributes
    ----------
    output : str
        Load voltage, load margin, or coil voltage, with the part's name.
    nominal_v : float
        With all inputs in the middle of their bounds. [V]
    low_v, high_v : float
        The least and the most. [V]
    """

    output: str
    nominal_v: float
    low_v: float
    high_v: float


@dataclass(frozen=True, slots=True)
class Influence(Model):
    """What one input does to the decisive load.

    Attributes
    ----------
    input : str
        Path of the input in the call, parts separated by slashes.
    change_v : float
        Change of the load's voltage from the low to the high end of the input. [V]
    """

    input: str
    change_v: float


@dataclass(frozen=True, slots=True)
class CaseState(Model):
    """A circuit in one case.

    Attributes
    ----------
    name : str
        The case as the call names it.
    verdict : str
        The worst of its checks.
    source_v : float
        At the posts of the source, with its current flowing. [V]
    source_current_a : float
        Out of the positive post. [A]
    nodes : tuple of NodeVoltage
        Every node.
    parts : tuple of PartState
        Every branch and relay contact.
    loads : tuple of LoadState
        Every load.
    relays : tuple of RelayState
        Every relay.
    checks : tuple of Check
        Every check of every part.
    spreads : tuple of OutputSpread
        Empty where no input is an interval.
    influences : tuple of Influence
        Of the inputs that are, strongest first.
    residual_a : float
        Largest sum of currents into a node, which should be zero. [A]
    iterations : int
        Linear systems that were solved.
    """

    name: str
    verdict: Verdict
    source_v: float
    source_current_a: float
    nodes: tuple[NodeVoltage, ...]
    parts: tuple[PartState, ...]
    loads: tuple[LoadState, ...]
    relays: tuple[RelayState, ...]
    checks: tuple[Check, ...]
    spreads: tuple[OutputSpread, ...]
    influences: tuple[Influence, ...]
    residual_a: float
    iterations: int


@dataclass(frozen=True, slots=True)
class WeakestPart(Model):
    """The part that fails first.

    Attributes
    ----------
    name : str
        The part.
    case : str
        The case that shows it.
    check : Check
        Its check.
    """

    name: str
    case: str
    check: Check


@dataclass(frozen=True, slots=True)
class Mend(Model):
    """A part and what a jumper across it would bring.

    Attributes
    ----------
    name : str
        The part.
    regained_v : float
        More voltage at the decisive load, with the part bridged. [V]
    """

    name: str
    regained_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitCheck(Result):
    """Answer of `lastvolt.Client.circuit_check`.

    Attributes
    ----------
    cases : tuple of CaseState
        The circuit in every case.
    worst_case : str
        The case with the worst check.
    weakest_part : WeakestPart or None
        None where nothing could be judged.
    decisive_load : str
        The load that the mending is ordered by.
    mend_first : tuple of Mend
        Parts by the volts that they cost the decisive load in the worst case.
    """

    cases: tuple[CaseState, ...]
    worst_case: str
    weakest_part: WeakestPart | None
    decisive_load: str
    mend_first: tuple[Mend, ...]


@dataclass(frozen=True, slots=True)
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
    switch_current_a, switch_power_w : float
        Through the switch, and heat made in it. [A], [W]
    tolerated_contact_ohm : float or None
        Further resistance of the switch until the load fails, at most 1000; None where it fails
        as it is. [ohm]
    hottest_winding_c : float or None
        Highest temperature of the load at which it still works, at most 400; None where it works
        at none. [degC]
    coil_v, pick_up_v : float or None
        At the relay's coil before it closes, and what closes it; None as it is. [V]
    spreads : tuple of OutputSpread
        What the decisive voltages do within all bounds; empty where no input is an interval.
    influences : tuple of Influence
        What each such input does to the load's voltage, strongest first.
    verdict : str
        The worst check of the load and of the proposed parts.
    """

    load_voltage_v: float
    needed_v: float
    margin_v: float
    switch_current_a: float
    switch_power_w: float
    tolerated_contact_ohm: float | None
    hottest_winding_c: float | None
    coil_v: float | None
    pick_up_v: float | None
    spreads: tuple[OutputSpread, ...]
    influences: tuple[Influence, ...]
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class RetrofitCase(Model):
    """Both versions in one case.

    Attributes
    ----------
    name : str
        The case as the call names it.
    as_is, proposed : Version
        The circuit as it is, and with the relay.
    gain_v : float
        More voltage at the load with the relay. [V]
    """

    name: str
    as_is: Version
    proposed: Version
    gain_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of `lastvolt.Client.relay_retrofit`.

    Attributes
    ----------
    advice : str
        ``worth_it``, ``insurance_only``, ``not_the_remedy`` or ``change_the_proposal``.
    advice_text : str
        The same in words.
    reasons : tuple of str
        Why, in order of weight.
    new_risks : tuple of str
        What the relay brings with it.
    cases : tuple of RetrofitCase
        Both versions in every case.
    mend_first : tuple of Mend
        Parts by the volts that they cost the load as it is, in its worst case.
    """

    advice: Literal["worth_it", "insurance_only", "not_the_remedy", "change_the_proposal"]
    advice_text: str
    reasons: tuple[str, ...]
    new_risks: tuple[str, ...]
    cases: tuple[RetrofitCase, ...]
    mend_first: tuple[Mend, ...]
