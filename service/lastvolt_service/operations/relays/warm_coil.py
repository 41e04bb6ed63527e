"""Temperature of a relay's coil, and what it does to the coil's resistance."""

from collections.abc import Mapping
from typing import NamedTuple

from lastvolt_service import tables
from lastvolt_service.laws import named, published
from lastvolt_service.operations.relays.data import CoilData
from lastvolt_service.operations.wires.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.physics import coil as physics
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, given, negate, pick, plain, some

# Of a coil's warming where it is not known: a short one, which errs on the hot side.
ASSUMED_TIME_CONSTANT_S = 60.0
ASSUMED_TIME_CONSTANT = tables.citation("relays", "time_constant")


class WarmCoil(NamedTuple):
    """A coil cold at its ambient, and warm from use; NaN where its heat is not known.

    Attributes
    ----------
    change_cold, change_warm : float or ndarray
        Resistance of copper then, over that at the reference temperature.
    warm_c : float or ndarray
        Temperature of the warm coil. [degC]
    time_constant_s : float or ndarray
        That was reckoned with; NaN of one that is on for hours. [s]
    assumed : bool or ndarray of bool
        Whether that is the practice's, for want of its own.
    thermal : mapping
        What the functions of its heat take.
    """

    change_cold: Numbers
    change_warm: Numbers
    warm_c: Numbers
    time_constant_s: Numbers
    assumed: Flags
    thermal: Mapping[str, Numbers]


def warm_coil(
    coil: CoilData, *, ambient_c: Numbers, drive_v: Numbers, duration_s: Numbers, prefix: str = ""
) -> WarmCoil:
    """Bring a coil to temperature.

    Parameters
    ----------
    coil : CoilData
        One or many.
    ambient_c : float or ndarray
        Around the relay. [degC]
    drive_v : float or ndarray
        At the coil while it warms. [V]
    duration_s : float or ndarray
        For how long, from a start at ambient; NaN for hours. [s]
    prefix : str
        Of the symbols, where this is told in steps.
    """
    reference_c = coil.reference_temperature_c
    change_cold = named(
        f"{prefix}change_cold",
        copper_changes(ambient_c, reference_c),
        "resistance of copper at the ambient over that at the reference",
    )
    cold_ohm = named(
        f"{prefix}cold_resistance_ohm",
        coil.coil_resistance_ohm * change_cold,
        "of the coil at the ambient",
    )
    for_a_time = given(duration_s)
    own_s = coil.thermal_time_constant_s
    assumed_s = published(
        f"{prefix}assumed_time_constant_s",
        ASSUMED_TIME_CONSTANT_S,
        "of the coil's warming, for want of its own",
        ASSUMED_TIME_CONSTANT,
    )
    constant_s = pick(given(own_s), own_s, assumed_s)
    share: Numbers = 1.0
    if some(for_a_time):
        reached = physics.heated_share(duration_s=duration_s, time_constant_s=constant_s)
        share = pick(
            for_a_time,
            named(f"{prefix}heated_share", plain(reached), "of the settled rise, in that time"),
            1.0,
        )
    thermal = {
        "resistance_ohm": cold_ohm,
        "ambient_c": ambient_c,
        "thermal_resistance_k_per_w": coil.thermal_resistance_k_per_w,
        "temperature_coefficient_per_k": copper_coefficient_per_k(),
        "share": share,
    }
    rise_k = plain(physics.self_heating_rise(coil_v=drive_v, **thermal))
    warm_c = named(f"{prefix}warm_temperature_c", ambient_c + rise_k, "of a coil warm from use")
    change_warm = named(
        f"{prefix}change_warm",
        copper_changes(warm_c, reference_c),
        "resistance of copper at warm_temperature_c over that at the reference",
    )
    has_heat = for_a_time & given(warm_c)
    return WarmCoil(
        change_cold,
        change_warm,
        warm_c,
        pick(has_heat, constant_s, NOT_GIVEN),
        has_heat & negate(given(own_s)),
        thermal,
    )
