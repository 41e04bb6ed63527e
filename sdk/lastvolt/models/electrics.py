"""Answers about batteries and switches."""

from dataclasses import dataclass

from lastvolt.models.base import Model, Result


@dataclass(frozen=True, slots=True, kw_only=True)
class BatteryVoltage(Result):
    """Answer of `lastvolt.Client.battery_voltage`.

    Attributes
    ----------
    open_circuit_v : float
        At the posts without load, rested. [V]
    internal_resistance_ohm : float
        Of the battery at this temperature. [ohm]
    internal_resistance_estimated : bool
        Whether it is told from the cold-cranking rating, not measured.
    terminal_v : float
        At the posts with the current flowing. [V]
    short_circuit_a : float
        Into a dead short across the posts. [A]
    """

    open_circuit_v: float
    internal_resistance_ohm: float
    internal_resistance_estimated: bool
    terminal_v: float
    short_circuit_a: float


@dataclass(frozen=True, slots=True)
class SwitchPosition(Model):
    """What a switch carries in one position.

    Attributes
    ----------
    position : str
        The position as the call names it.
    current_a : float
        Through the switch; relays with their coils only. [A]
    drop_v : float
        Across its contacts. [V]
    drop_percent : float or None
        The same, of the supply; None without it. [%]
    power_w : float
        Heat made in its contacts. [W]
    utilisation_percent : float
        Current of the rating. [%]
    loads : tuple of str
        Names of what is fed in it.
    """

    position: str
    current_a: float
    drop_v: float
    drop_percent: float | None
    power_w: float
    utilisation_percent: float
    loads: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SwitchRelief(Model):
    """What one relay would take off a switch.

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
    positions: tuple[str, ...]
    current_after_a: float
    power_after_w: float
    power_saved_w: float


@dataclass(frozen=True, slots=True)
class SwitchStep(Model):
    """A switch after one more relay.

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
    worst_position: str
    current_a: float
    power_w: float
    utilisation_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchLoading(Result):
    """Answer of `lastvolt.Client.switch_loading`.

    Attributes
    ----------
    worst_position : str
        Position that carries most.
    positions : tuple of SwitchPosition
        Every position, as they are first named.
    relief : tuple of SwitchRelief
        One relay for each load that has none, the one that relieves the switch most first.
    cumulative : tuple of SwitchStep
        Relays one after the other until the worst position passes, or no relay helps any more.
    """

    worst_position: str
    positions: tuple[SwitchPosition, ...]
    relief: tuple[SwitchRelief, ...]
    cumulative: tuple[SwitchStep, ...]
