"""Where a load at the end of a path comes to rest."""

from collections.abc import Sequence
from typing import Any, Protocol

from lastvolt_service.errors import NoOperatingPoint
from lastvolt_service.laws import JOULE, KIRCHHOFF, OHM, by, named
from lastvolt_service.operations.judging import Fault
from lastvolt_service.physics.path import power_load_voltages, resistive_load_current
from lastvolt_service.rows import NOT_GIVEN, Numbers, Texts, given, negate, pick, plain, some
from lastvolt_service.words.amounts import amount


class Fed(Protocol):
    """A load by its current, its resistance or its power; NaN where that is not given."""

    supply_v: Numbers
    load_current_a: Numbers
    load_resistance_ohm: Numbers
    load_power_w: Numbers


def at_rest(
    asked: Fed, path_ohm: Numbers, ohms: Sequence[Numbers], names: Sequence[Texts]
) -> tuple[Numbers, Numbers, Numbers, tuple[Fault, ...]]:
    """Where the load comes to rest: current, voltages, and rows in which it does not.

    Those name the part of the path that resists most.
    """
    supply_v, load_a = asked.supply_v, asked.load_current_a
    load_ohm, load_w = asked.load_resistance_ohm, asked.load_power_w
    lost_v = load_a * path_ohm
    current_a, load_v, unstable_v = load_a, by(KIRCHHOFF, supply_v - lost_v), NOT_GIVEN
    faults = [
        Fault(
            lost_v > supply_v,
            NoOperatingPoint,
            ("load_current_a",),
            _too_much_current,
            (load_a, lost_v, supply_v, *names, *ohms),
        )
    ]
    by_ohm, by_power = given(load_ohm), given(load_w)
    if some(by_ohm):
        flows_a = resistive_load_current(
            supply_v=supply_v, path_resistance_ohm=path_ohm, load_resistance_ohm=load_ohm
        )
        flows_a = named("current_a", flows_a, "current round the path")
        current_a = pick(by_ohm, flows_a, current_a)
        load_v = pick(by_ohm, by(OHM, flows_a * load_ohm), load_v)
    if some(by_power):
        stable_v, other_v = power_load_voltages(
            supply_v=supply_v, path_resistance_ohm=path_ohm, load_power_w=load_w
        )
        stable_v = named("load_voltage_v", plain(stable_v), "voltage that reaches the load")
        unstable_v = plain(other_v)
        current_a = pick(by_power, by(JOULE, load_w / stable_v), current_a)
        load_v = pick(by_power, stable_v, load_v)
        faults.append(
            Fault(
                by_power & negate(given(stable_v)),
                NoOperatingPoint,
                ("load_power_w",),
                _too_much_power,
                (load_w, supply_v, *names, *ohms),
            )
        )
    return (
        named("current_a", current_a, "current round the path"),
        named("load_voltage_v", load_v, "voltage that reaches the load"),
        unstable_v,
        tuple(faults),
    )


def most_resists(*parts: Any) -> tuple[float, str]:
    """What a path resists, and a sentence that names the part that does so most.

    Parameters
    ----------
    *parts : str or None, float
        Names of all parts, and then what each resists; NaN where there is no such part. [ohm]
    """
    middle = len(parts) // 2
    there = [
        (ohm, name or f"part {place}")
        for place, (name, ohm) in enumerate(zip(parts[:middle], parts[middle:], strict=True), 1)
        if ohm > 0
    ]
    whole_ohm = sum(ohm for ohm, _ in there)
    if not there:
        return whole_ohm, ""
    most_ohm, name = max(there, key=lambda each: each[0])
    of_all = f", {amount(most_ohm, 'ohm')} of {amount(whole_ohm, 'ohm')}" if there[1:] else ""
    return whole_ohm, f" {name} resists most{of_all}: begin there, unless the load takes too much."


def _too_much_current(load_a: float, lost_v: float, supply_v: float, *parts: Any) -> str:
    path_ohm, begin = most_resists(*parts)
    return (
        f"No operating point exists: {amount(load_a, 'A')} would drop {amount(lost_v, 'V')} on the "
        f"path, more than the supply's {amount(supply_v, 'V')}. The path carries at most "
        f"{amount(supply_v / path_ohm, 'A')} into a dead short.{begin}"
    )


def _too_much_power(power_w: float, supply_v: float, *parts: Any) -> str:
    path_ohm, begin = most_resists(*parts)
    return (
        f"No operating point exists: the path can deliver at most "
        f"{amount(supply_v**2 / 4 / path_ohm, 'W')} to any load, and {amount(power_w, 'W')} is "
        f"asked for. The voltage would collapse.{begin}"
    )
