"""Wires of any size held against what one load or many ask of them."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from lastvolt_service.laws import KIRCHHOFF, OHM, by, named, solved
from lastvolt_service.operations.fuses.overload import FusedWire
from lastvolt_service.operations.fuses.shorts import Feed
from lastvolt_service.operations.fuses.window import FusedLoad, Window, fuse_window
from lastvolt_service.operations.judging import (
    FAIL,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.wires.ampacity import Permissible, judge_temperature, permissible
from lastvolt_service.operations.wires.heated_wire import MODEL_BASIS, HeatedWire
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.rows import Numbers, given, plain

FUSE_COLUMNS = ("fuse_rating_a", "fuse_family", "overload_current_a", "overload_time_s")


class Needs(NamedTuple):
    """What is asked of any size, by one load or by many.

    Attributes
    ----------
    load : FusedLoad
        As in requests.
    supply_v, ambient_c : float or ndarray
        At the start of the path, and around the wire. [V], [degC]
    loop_length_m, body_resistance_ohm : float or ndarray
        Length of wire that the drop is reckoned over, and what the body adds. [m], [ohm]
    limit_drop_v : float or ndarray
        Limit of the drop. [V]
    minimum_area_mm2 : float or ndarray
        Section of the least size that lasts. [mm2]
    """

    load: FusedLoad
    supply_v: Numbers
    ambient_c: Numbers
    loop_length_m: Numbers
    body_resistance_ohm: Numbers
    limit_drop_v: Numbers
    minimum_area_mm2: Numbers


class Held(NamedTuple):
    """Wires held against needs.

    Attributes
    ----------
    columns : mapping of str to float, str, None, ndarray or Words
        What was found, by name of the result.
    judged : mapping of str to Judged
        By code of the check.
    surface_c : float or ndarray
        Of the insulation. [degC]
    may : Permissible
        What they may carry.
    window : Window
        Of their fuses.
    """

    columns: Mapping[str, Any]
    judged: Mapping[str, Judged]
    surface_c: Numbers
    may: Permissible
    window: Window

    @property
    def failing(self) -> tuple[str, ...]:
        """Codes of the checks that one wire fails."""
        return tuple(code for code, judged in self.judged.items() if judged.verdict == FAIL)


def hold(wires: HeatedWire, needs: Needs) -> Held:
    """Hold wires, each with a limit, against needs: each against its own, or all against one's."""
    physics, current_a = wires.physics, needs.load.load_current_a
    steady = conductor_temperature(current_a=current_a, wire=physics, ceiling_c=wires.ceiling_c)
    hot_c = solved(
        "conductor_temperature_c",
        plain(steady.conductor_temperature_c),
        "steady temperature of the conductor",
        MODEL_BASIS,
    )
    ratio = resistance_ratio(
        temperature_c=hot_c, temperature_coefficient_per_k=wires.temperature_coefficient_per_k
    )
    loop_ohm = named(
        "loop_resistance_ohm",
        wires.resistance_20_ohm_per_m * ratio * needs.loop_length_m + needs.body_resistance_ohm,
        "of the whole loop, hot",
    )
    drop_v = named("drop_v", by(OHM, current_a * loop_ohm), "voltage lost on the whole loop")
    load_v = by(KIRCHHOFF, needs.supply_v - drop_v)
    may = permissible(wires, physics)
    may_a = named("permissible_current_a", may.current_a, "steady current that it may carry")
    feed = Feed(needs.supply_v, needs.load.source_resistance_ohm, _hot_loop_ohm(wires, needs))
    window = fuse_window(needs.load, FusedWire(may_a, True, wires, hot_c), feed, needs.ambient_c)
    return Held(
        {
            "area_mm2": wires.area_mm2,
            "drop_v": drop_v,
            "load_voltage_v": named("load_voltage_v", load_v, "voltage that reaches the load"),
            "conductor_temperature_c": hot_c,
            "permissible_current_a": may_a,
            **{name: window.columns[name] for name in FUSE_COLUMNS},
        },
        {
            # Sizes are steps: the least one is meant to be used.
            "mechanical_minimum": reaches(wires.area_mm2, needs.minimum_area_mm2, 0.0),
            "loop_drop": asked_if(given(drop_v), stays_within(drop_v, needs.limit_drop_v)),
            "conductor_temperature": judge_temperature(hot_c, wires.limit_c, wires.ambient_c),
            "permissible_current": stays_within(current_a, may_a),
            **window.judged,
        },
        solved(
            "surface_temperature_c",
            plain(steady.surface_temperature_c),
            "of its surface",
            MODEL_BASIS,
        ),
        may,
        window,
    )


def _hot_loop_ohm(wires: HeatedWire, needs: Needs) -> Numbers:
    """Resistance of the loop at the highest temperature that its insulation bears. [ohm]."""
    ratio = resistance_ratio(
        temperature_c=wires.limit_c,
        temperature_coefficient_per_k=wires.temperature_coefficient_per_k,
    )
    return named(
        "hot_loop_ohm",
        wires.resistance_20_ohm_per_m * ratio * needs.loop_length_m + needs.body_resistance_ohm,
        "of the loop at the limit of the insulation",
    )
