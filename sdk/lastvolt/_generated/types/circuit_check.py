# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.circuit_check`."""

from dataclasses import dataclass

from lastvolt._generated.types.circuits_answers import Influence, Mend, OutputSpread
from lastvolt._generated.types.common import Check, Result, Verdict
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
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
    """The node."""
    voltage_v: float
    """Against the ground. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartState(Model):
    """A branch or a relay's contact at rest.

    Attributes
    ----------
    name : str
        The part as the request names it.
    kind : str
        Wire, contact, resistance or relay.
    current_a : float
        From its first node to its second. [A]
    drop_v : float
        Of its first node against its second. [V]
    power_w : float
        Heat made in it. [W]
    temperature_c : float or None
        Of a wire's conductor; None for other parts, and for a wire that heats up without end.
        [degC]
    """

    name: str
    """The part as the request names it."""
    kind: str
    """Wire, contact, resistance or relay."""
    current_a: float
    """From its first node to its second. [A]"""
    drop_v: float
    """Of its first node against its second. [V]"""
    power_w: float
    """Heat made in it. [W]"""
    temperature_c: float | None
    """Of a wire's conductor; None for other parts, and for a wire that heats up without end.
    [degC]
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadState(Model):
    """A load at rest.

    Attributes
    ----------
    name : str
        The load as the request names it.
    voltage_v : float
        Across it. [V]
    current_a : float
        Through it. [A]
    power_w : float
        That it takes. [W]
    needed_v : float or None
        Lowest voltage that it works at in this case. [V]
    margin_v : float or None
        `voltage_v` over `needed_v`. [V]
    """

    name: str
    """The load as the request names it."""
    voltage_v: float
    """Across it. [V]"""
    current_a: float
    """Through it. [A]"""
    power_w: float
    """That it takes. [W]"""
    needed_v: float | None
    """Lowest voltage that it works at in this case. [V]"""
    margin_v: float | None
    """`voltage_v` over `needed_v`. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayState(Model):
    """A relay at rest.

    Attributes
    ----------
    name : str
        The relay as the request names it.
    energised : bool
        Whether it has pulled in.
    chatters : bool
        Whether it neither holds nor releases.
    coil_v : float
        Voltage at its coil. [V]
    coil_temperature_c : float
        Of its coil, warm from use. [degC]
    pick_up_v : float
        That closes it at that temperature. [V]
    drop_out_v : float
        Below which it opens. [V]
    """

    name: str
    """The relay as the request names it."""
    energised: bool
    """Whether it has pulled in."""
    chatters: bool
    """Whether it neither holds nor releases."""
    coil_v: float
    """Voltage at its coil. [V]"""
    coil_temperature_c: float
    """Of its coil, warm from use. [degC]"""
    pick_up_v: float
    """That closes it at that temperature. [V]"""
    drop_out_v: float
    """Below which it opens. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceState(Model):
    """A further battery or a charger at rest.

    Attributes
    ----------
    name : str
        The source as the request names it.
    voltage_v : float
        At its posts. [V]
    current_a : float
        Out of its positive post; below zero it is charged. [A]
    """

    name: str
    """The source as the request names it."""
    voltage_v: float
    """At its posts. [V]"""
    current_a: float
    """Out of its positive post; below zero it is charged. [A]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseState(Model):
    """The circuit in one case.

    Attributes
    ----------
    name : str
        The case as the request names it.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst of its checks.
    duration_s : float or None
        How long it was reckoned to last; None for ever. [s]
    source_v : float
        At the posts of the source, with its current flowing. [V]
    source_current_a : float
        Out of the positive post. [A]
    nodes : tuple of NodeVoltage
        Every node.
    parts : tuple of PartState
        Every branch and relay contact, in the order of the request.
    loads : tuple of LoadState
        Every load.
    relays : tuple of RelayState
        Every relay.
    further_sources : tuple of SourceState
        Every other battery, and what charges.
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
    """The case as the request names it."""
    verdict: Verdict
    """The worst of its checks."""
    duration_s: float | None
    """How long it was reckoned to last; None for ever. [s]"""
    source_v: float
    """At the posts of the source, with its current flowing. [V]"""
    source_current_a: float
    """Out of the positive post. [A]"""
    nodes: tuple[NodeVoltage, ...]
    """Every node."""
    parts: tuple[PartState, ...]
    """Every branch and relay contact, in the order of the request."""
    loads: tuple[LoadState, ...]
    """Every load."""
    relays: tuple[RelayState, ...]
    """Every relay."""
    further_sources: tuple[SourceState, ...]
    """Every other battery, and what charges."""
    checks: tuple[Check, ...]
    """Every check of every part."""
    spreads: tuple[OutputSpread, ...]
    """Empty where no input is an interval."""
    influences: tuple[Influence, ...]
    """Of the inputs that are, strongest first."""
    residual_a: float
    """Largest sum of currents into a node, which should be zero. [A]"""
    iterations: int
    """Linear systems that were solved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitCheck(Result):
    """Answer of ``circuit-check``.

    Attributes
    ----------
    cases : tuple of CaseState
        The circuit in every case.
    sound_cases : int
        How many cases have no failed, undecided or marginal check.
    worst_case : str
        The case with the worst check.
    is_everywhere : bool
        Whether that check says the same in every case, of several: it is no matter of one.
    weakest : Check or None
        The check that fails most, or has the least to spare; None without any.
    starves : Check or None
        What keeps a load from what it needs, where something that bursts, runs on, catches fire or
        is rated for less is told before it; None elsewhere.
    decisive_load : str
        The load that the mending is ordered by.
    mend_first : tuple of Mend
        Parts by what mending them brings the decisive load in the worst case, then by what they
        cost it.
    """

    cases: tuple[CaseState, ...]
    """The circuit in every case."""
    sound_cases: int
    """How many cases have no failed, undecided or marginal check."""
    worst_case: str
    """The case with the worst check."""
    is_everywhere: bool
    """Whether that check says the same in every case, of several: it is no matter of one."""
    weakest: Check | None
    """The check that fails most, or has the least to spare; None without any."""
    starves: Check | None
    """What keeps a load from what it needs, where something that bursts, runs on, catches fire
    or is rated for less is told before it; None elsewhere.
    """
    decisive_load: str
    """The load that the mending is ordered by."""
    mend_first: tuple[Mend, ...]
    """Parts by what mending them brings the decisive load in the worst case, then by what they
    cost it.
    """
