"""Wires of any size held against what one load or many ask of them."""

from collections.abc import Mapping
from dataclasses import dataclass

from lastvolt_service.operations.drop_limits import (
    limit_of,
    nominal_of,
)
from lastvolt_service.operations.fuse_window import (
    judge_window,
    solve_window,
)
from lastvolt_service.operations.solved import (
    Solved,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.wires.ampacity import judge_temperature, permissible
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.rows import Numbers, Texts, are, given, pick
from lastvolt_service.tables.limits import GROUND_RETURN_OHM


@dataclass(frozen=True, slots=True)
class Duty:
    """What is asked of any size; NaN where not given.

    Attributes
    ----------
    supply_v, load_current_a : float or ndarray
        As in requests. [V], [A]
    loop_length_m, body_resistance_ohm : float or ndarray
        Length of wire that the drop is reckoned over, and what the body adds. [m], [ohm]
    limit_drop_v : float or ndarray
        Limit of the drop. [V]
    inrush_current_a, inrush_time_s : float or ndarray
        First current of the load, and how long it flows. [A], [s]
    fuse_ambient_c : float or ndarray
        Temperature around the fuse. [degC]
    fuse_family : str, None or Words
        Family to look in.
    minimum_area_mm2 : float or ndarray
        Section of the least size that lasts. [mm2]
    """

    supply_v: Numbers
    load_current_a: Numbers
    loop_length_m: Numbers
    body_resistance_ohm: Numbers
    limit_drop_v: Numbers
    inrush_current_a: Numbers
    inrush_time_s: Numbers
    fuse_ambient_c: Numbers
    fuse_family: Texts
    minimum_area_mm2: Numbers


def loop(
    length_m: Numbers, body_resistance_ohm: Numbers, return_path: Texts
) -> tuple[Numbers, Numbers]:
    """Settle what the current runs through besides a wire out.

    Parameters
    ----------
    length_m, body_resistance_ohm : float or ndarray
        As in requests. [m], [ohm]
    return_path : str or Words
        ``"wire"`` or ``"body"``.

    Returns
    -------
    loop_length_m : float or ndarray
        Length of wire, out and back. [m]
    body_resistance_ohm : float or ndarray
        0 with a return wire. [ohm]
    """
    by_body = are(return_path, "body")
    body_ohm = pick(given(body_resistance_ohm), body_resistance_ohm, GROUND_RETURN_OHM)
    return pick(by_body, length_m, 2 * length_m), pick(by_body, body_ohm, 0.0)


def drop_limit_v(
    supply_v: Numbers,
    nominal_v: Numbers,
    published_v: Mapping[int, Numbers],
    limit_drop_v: Numbers,
    limit_drop_percent: Numbers,
) -> Numbers:
    """Settle what the loop may drop: no more than there is.

    Parameters
    ----------
    supply_v, nominal_v, limit_drop_v, limit_drop_percent : float or ndarray
        As in requests. [V], [V], [V], [%]
    published_v : mapping of int to float or ndarray
        As `published_drops` gives it. [V]

    Returns
    -------
    float or ndarray
        [V]
    """
    nominal = nominal_of(supply_v, nominal_v)
    limit = limit_of(supply_v, nominal, published_v, limit_drop_v, limit_drop_percent)
    found: Numbers = pick(limit <= supply_v, limit, supply_v)
    return found


def solve(*, wires: HeatedWire, duty: Duty) -> Solved:
    """Hold wires against what is asked: the sizes for one load, or one size each for many.

    Parameters
    ----------
    wires : HeatedWire
        The wires, each with a limit.
    duty : Duty
        What is asked of them.

    Returns
    -------
    Solved
    """
    physics = wires.physics
    current_a = duty.load_current_a
    hot = conductor_temperature(
        current_a=current_a, wire=physics, ceiling_c=wires.ceiling_c
    ).conductor_temperature_c
    ratio = resistance_ratio(
        temperature_c=hot, temperature_coefficient_per_k=wires.temperature_coefficient_per_k
    )
    loop_ohm = wires.resistance_20_ohm_per_m * ratio * duty.loop_length_m
    drop = current_a * (loop_ohm + duty.body_resistance_ohm)
    may = permissible(wires, physics)
    bears = may.current_a
    inrush = duty.inrush_current_a
    window = solve_window(
        load_current_a=current_a,
        inrush_current_a=pick(given(inrush), inrush, 0.0),
        inrush_time_s=duty.inrush_time_s,
        permissible_current_a=bears,
        fuse_ambient_c=duty.fuse_ambient_c,
        family=duty.fuse_family,
    )
    rating, lower, upper = window.columns.values()
    return Solved(
        {
            "area_mm2": wires.area_mm2,
            "drop_v": drop,
            "load_voltage_v": duty.supply_v - drop,
            "conductor_temperature_c": hot,
            "permissible_current_a": bears,
            **window.columns,
        },
        {
            # Sizes are steps: the least one is meant to be used.
            "mechanical minimum": reaches(wires.area_mm2, duty.minimum_area_mm2, 0.0),
            "drop of the loop": asked_if(given(drop), stays_within(drop, duty.limit_drop_v)),
            "conductor temperature": judge_temperature(hot, wires.limit_c, wires.ambient_c),
            "permissible current": stays_within(current_a, bears),
            **judge_window(rating, lower, upper, bears, inrush),
        },
        window.faults,
        aside=window.aside,
    )
