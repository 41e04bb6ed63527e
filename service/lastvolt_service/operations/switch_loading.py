"""A switch of several positions: what it carries, and what relays take off it."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service import tables
from lastvolt_service.errors import NoOperatingPoint
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    Check,
    Result,
    at_most,
    show,
)
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.tables.limits import contact_limits

GIVEN = "rating given by the caller"
Loads = Sequence[Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class SwitchPosition:
    """What the switch carries in one position."""

    position: Annotated[str, "the position as the request names it"]
    current_a: Annotated[float, "through the switch; relays with their coils only"]
    drop_v: Annotated[float, "across its contacts"]
    drop_percent: Annotated[float | None, "the same, of supply_v; null without it"]
    power_w: Annotated[float, "heat made in its contacts"]
    utilisation_percent: Annotated[float, "current of the rating"]
    loads: Annotated[tuple[str, ...], "names of what is fed in it"]


@dataclass(frozen=True, slots=True)
class SwitchRelief:
    """What one relay would take off the switch."""

    name: Annotated[str, "load that would get the relay"]
    positions: Annotated[tuple[str, ...], "positions that it relieves"]
    current_after_a: Annotated[float, "through the switch in its then worst position"]
    power_after_w: Annotated[float, "heat in the switch in that position"]
    power_saved_w: Annotated[float, "heat taken out of the worst position"]


@dataclass(frozen=True, slots=True)
class SwitchStep:
    """The switch after one more relay."""

    name: Annotated[str, "load that gets this relay, on top of those before"]
    worst_position: Annotated[str, "position that then carries most"]
    current_a: Annotated[float, "through the switch in it"]
    power_w: Annotated[float, "heat in the switch in it"]
    utilisation_percent: Annotated[float, "current of the rating"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchLoading(Result):
    """Answer of ``switch-loading``."""

    worst_position: Annotated[str, "position that carries most"]
    positions: Annotated[tuple[SwitchPosition, ...], "every position, as they are first named"]
    relief: Annotated[
        tuple[SwitchRelief, ...],
        "one relay for each load that has none and takes more than a relay's coil, the one that "
        "relieves the switch most first",
    ]
    cumulative: Annotated[
        tuple[SwitchStep, ...],
        "relays one after the other, the best choice at each step, until the worst position "
        "passes every check or no relay helps any more; empty where it passes as it is",
    ]


@dataclass(frozen=True, slots=True)
class _Switch:
    """A switch with its loads, as the functions below share it."""

    rating_a: float
    resistance_ohm: float
    coil_a: float
    loads: Loads

    @property
    def positions(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(name for load in self.loads for name in load["positions"]))

    @property
    def relayed(self) -> frozenset[str]:
        return frozenset(load["name"] for load in self.loads if load["through_relay"])

    def currents(self, relayed: AbstractSet[str]) -> dict[str, float]:
        """Current in each position [A] with relays on these loads."""
        found = dict.fromkeys(self.positions, 0.0)
        for load in self.loads:
            current = self.coil_a if load["name"] in relayed else load["current_a"]
            for position in load["positions"]:
                found[position] += current
        return found

    def power_w(self, current_a: float) -> float:
        return float(joule_power(current_a=current_a, resistance_ohm=self.resistance_ohm))

    def ranked(self, relayed: AbstractSet[str]) -> list[Mapping[str, Any]]:
        """Loads that a relay would lighten, the one that relieves the switch most first."""
        # The worst position decides, then the next one: a relay that relieves one of two equal
        # positions is a step, though the worst current stays.
        return sorted(
            (
                load
                for load in self.loads
                if load["name"] not in relayed and load["current_a"] > self.coil_a
            ),
            key=lambda load: self._heaviest_first(relayed | {load["name"]}),
        )

    def _heaviest_first(self, relayed: AbstractSet[str]) -> list[float]:
        return sorted(self.currents(relayed).values(), reverse=True)


def switch_loading(
    *,
    rating_a: float,
    contact_resistance_ohm: float,
    relay_coil_current_a: float,
    loads: Loads,
    supply_v: float | None = None,
) -> SwitchLoading:
    """What a switch carries in each position, and which loads should get a relay.

    The heat in its contacts grows with the square of the current, so the last load added costs
    most. A load with a relay leaves only the relay's coil on the switch. Current, drop and heat
    of every position are held against the rating and published practice.

    Returns
    -------
    SwitchLoading

    Raises
    ------
    NoOperatingPoint
        If the contacts would drop more than the supply.
    """
    switch = _Switch(rating_a, contact_resistance_ohm, relay_coil_current_a, loads)
    currents = switch.currents(switch.relayed)
    worst = max(currents, key=currents.__getitem__)
    ranked = switch.ranked(switch.relayed)
    if supply_v is not None and currents[worst] * contact_resistance_ohm > supply_v:
        raise NoOperatingPoint(
            f"No operating point exists: in position {worst} the contacts alone would drop "
            f"{show(currents[worst] * contact_resistance_ohm, 'V')}, more than the supply's "
            f"{show(supply_v, 'V')}.",
            ("contact_resistance_ohm",),
        )
    return SwitchLoading(
        worst_position=worst,
        positions=tuple(_position(switch, name, currents[name], supply_v) for name in currents),
        relief=tuple(_relief(switch, load) for load in ranked),
        cumulative=tuple(_steps(switch)),
        checks=tuple(
            check
            for name, current in currents.items()
            for check in _position_checks(
                switch,
                name,
                current,
                next((load["name"] for load in ranked if name in load["positions"]), None),
            )
        ),
        basis=(
            GIVEN,
            contact_limits()["switch"].citation,
            tables.citation("switches", "heat"),
            tables.citation("switches", "relay_coil"),
        ),
        cautions=(FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE),
    )


def _position(switch: _Switch, name: str, current: float, supply_v: float | None) -> SwitchPosition:
    drop = current * switch.resistance_ohm
    return SwitchPosition(
        position=name,
        current_a=current,
        drop_v=drop,
        drop_percent=None if supply_v is None else 100 * drop / supply_v,
        power_w=switch.power_w(current),
        utilisation_percent=100 * current / switch.rating_a,
        loads=tuple(load["name"] for load in switch.loads if name in load["positions"]),
    )


def _relief(switch: _Switch, load: Mapping[str, Any]) -> SwitchRelief:
    before = max(switch.currents(switch.relayed).values())
    after = max(switch.currents(switch.relayed | {load["name"]}).values())
    return SwitchRelief(
        name=load["name"],
        positions=tuple(load["positions"]),
        current_after_a=after,
        power_after_w=switch.power_w(after),
        power_saved_w=switch.power_w(before) - switch.power_w(after),
    )


def _steps(switch: _Switch) -> list[SwitchStep]:
    relayed = switch.relayed
    steps: list[SwitchStep] = []
    while not _passes(switch, max(switch.currents(relayed).values())):
        load = next(iter(switch.ranked(relayed)), None)
        if load is None:
            break
        relayed |= {load["name"]}
        currents = switch.currents(relayed)
        worst = max(currents, key=currents.__getitem__)
        steps.append(
            SwitchStep(
                name=load["name"],
                worst_position=worst,
                current_a=currents[worst],
                power_w=switch.power_w(currents[worst]),
                utilisation_percent=100 * currents[worst] / switch.rating_a,
            )
        )
    return steps


def _passes(switch: _Switch, current: float) -> bool:
    checks = _position_checks(switch, "", current, None)
    return all(check.verdict == "pass" for check in checks)


def _position_checks(
    switch: _Switch, position: str, current: float, first: str | None
) -> tuple[Check, ...]:
    advice = (
        f"Move {first} to a relay first."
        if first is not None
        else "No relay relieves it any more: take a switch of a higher rating."
    )
    limit = contact_limits()["switch"]
    drop = current * switch.resistance_ohm
    heat = switch.power_w(current)
    stands = switch.rating_a * limit.limit_v
    rating = show(switch.rating_a, "A")
    carried = f"In position {position} the switch carries {show(current, 'A')}"
    lost = f"In position {position} its contacts drop {show(drop, 'V')}"
    made = f"In position {position} its contacts make {show(heat, 'W')}"
    return (
        at_most(
            f"current in {position}",
            current,
            switch.rating_a,
            "A",
            GIVEN,
            {
                "pass": f"{carried} of its {rating}.",
                "marginal": f"{carried} of its {rating}; little is left. {advice}",
                "fail": f"{carried}, more than its {rating}. {advice}",
            },
        ),
        at_most(
            f"drop in {position}",
            drop,
            limit.limit_v,
            "V",
            limit.citation,
            {
                "pass": f"{lost}, as those of a sound switch do.",
                "fail": f"{lost}, those of a sound switch at most {show(limit.limit_v, 'V')}: they "
                f"are worn, or carry too much. {advice}",
            },
        ),
        at_most(
            f"heat in {position}",
            heat,
            stands,
            "W",
            f"{tables.citation('switches', 'heat')}; {limit.citation}",
            {
                "pass": f"{made}.",
                "fail": f"{made}, and a sound switch at its {rating} at most "
                f"{show(stands, 'W')}: they age fast. {advice}",
            },
        ),
    )
