# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.switch_loading`."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NotRequired, TypedDict

from lastvolt._generated.types.common import Number, Result
from lastvolt.answers import Model


class SwitchLoad(TypedDict):
    """One load that a switch feeds."""

    name: str
    """What the answer calls this load. From 1 to 80 characters."""
    current_a: Number
    """Steady current of the load itself. From 0.001 to 10000. [A]"""
    positions: Sequence[str]
    """Positions of the switch in which it is fed; you choose their names. From 1 to 10 of them."""
    through_relay: NotRequired[bool]
    """Whether it has a relay, so that the switch carries the relay's coil only. By default
    ``False``.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPosition(Model):
    """What the switch carries in one position.

    Attributes
    ----------
    name : str
        The position as the request names it.
    current_a : float
        Through the switch; relays with their coils only. [A]
    drop_v : float
        Across its contacts. [V]
    drop_percent : float or None
        The same, of `supply_v`; None without it. [%]
    power_w : float
        Heat made in its contacts. [W]
    utilisation_percent : float
        Current of the rating. [%]
    loads : tuple of str
        Names of what is fed in it.
    """

    name: str
    """The position as the request names it."""
    current_a: float
    """Through the switch; relays with their coils only. [A]"""
    drop_v: float
    """Across its contacts. [V]"""
    drop_percent: float | None
    """The same, of `supply_v`; None without it. [%]"""
    power_w: float
    """Heat made in its contacts. [W]"""
    utilisation_percent: float
    """Current of the rating. [%]"""
    loads: tuple[str, ...]
    """Names of what is fed in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchRelief(Model):
    """What one relay would take off the switch.

    Attributes
    ----------
    name : str
        Load that would get the relay.
    positions : tuple of str
        Positions that it relieves.
    current_after_a : float
        Through the switch in its then worst position. [A]
    power_after_w : float
        Heat in the switch in that position. [W]
    power_saved_w : float
        Heat taken out of the worst position. [W]
    """

    name: str
    """Load that would get the relay."""
    positions: tuple[str, ...]
    """Positions that it relieves."""
    current_after_a: float
    """Through the switch in its then worst position. [A]"""
    power_after_w: float
    """Heat in the switch in that position. [W]"""
    power_saved_w: float
    """Heat taken out of the worst position. [W]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchStep(Model):
    """The switch after one more relay.

    Attributes
    ----------
    name : str
        Load that gets this relay, on top of those before.
    worst_position : str
        Position that then carries most.
    current_a : float
        Through the switch in it. [A]
    power_w : float
        Heat in the switch in it. [W]
    utilisation_percent : float
        Current of the rating. [%]
    """

    name: str
    """Load that gets this relay, on top of those before."""
    worst_position: str
    """Position that then carries most."""
    current_a: float
    """Through the switch in it. [A]"""
    power_w: float
    """Heat in the switch in it. [W]"""
    utilisation_percent: float
    """Current of the rating. [%]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchLoading(Result):
    """Answer of ``switch-loading``.

    Attributes
    ----------
    worst_position : str
        Position that carries most.
    positions : tuple of SwitchPosition
        Every position, as they are first named.
    relief : tuple of SwitchRelief
        One relay for each load that has none and takes more than a relay's coil, the one that
        relieves the switch most first.
    cumulative : tuple of SwitchStep
        The fewest relays with which the switch bears the current and the heat of every position,
        and of these sets the coolest; one after the other, the one that relieves most first.
        Positions that no relays can save are left out.
    worn : bool
        Whether its contacts have more resistance than a sound switch of its rating, so that no
        relay is reckoned for their heat: they are mended.
    relays_suffice : bool
        Whether with these the switch bears current and heat of every position.
    fewest_proven : bool
        Whether every set of relays was looked at; else a smaller or cooler one may do, too.
    """

    worst_position: str
    """Position that carries most."""
    positions: tuple[SwitchPosition, ...]
    """Every position, as they are first named."""
    relief: tuple[SwitchRelief, ...]
    """One relay for each load that has none and takes more than a relay's coil, the one that
    relieves the switch most first.
    """
    cumulative: tuple[SwitchStep, ...]
    """The fewest relays with which the switch bears the current and the heat of every position,
    and of these sets the coolest; one after the other, the one that relieves most first.
    Positions that no relays can save are left out.
    """
    worn: bool
    """Whether its contacts have more resistance than a sound switch of its rating, so that no
    relay is reckoned for their heat: they are mended.
    """
    relays_suffice: bool
    """Whether with these the switch bears current and heat of every position."""
    fewest_proven: bool
    """Whether every set of relays was looked at; else a smaller or cooler one may do, too."""
