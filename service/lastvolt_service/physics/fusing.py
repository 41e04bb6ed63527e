"""Heat of a conductor that has no time to cool: short circuits, and when wire melts."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.conductors import (
    MM2_PER_CIRCULAR_MIL,
    resistance_ratio,
    temperature_at_ratio,
)

# C [A/mm**1.5] of Preece's law for copper: 10,244 A/in**1.5.
PREECE_COPPER = 10_244.0 / 25.4**1.5
_COPPER_MELTING_C = 1083.0


@law(
    "integral_a2s = heat_capacity_j_per_m_k"
    " / (temperature_coefficient_per_k * resistance_20_ohm_per_m)"
    " * ln((1 + temperature_coefficient_per_k * (end_c - 20))"
    " / (1 + temperature_coefficient_per_k * (start_c - 20)))"
    "  # squared current over time from one temperature to the other, no heat lost",
    source="IEC 60949, adiabatic law",
)
def adiabatic_a2s(
    *,
    start_c: Real,
    end_c: Real,
    heat_capacity_j_per_m_k: Real,
    resistance_20_ohm_per_m: Real,
    temperature_coefficient_per_k: Real,
) -> Real:
    """Integral of the squared current that takes a conductor from one temperature to another.

    Parameters
    ----------
    start_c : float or ndarray
        Temperature before. [degC]
    end_c : float or ndarray
        Temperature after: the short-circuit limit of the insulation, or melting. [degC]
    heat_capacity_j_per_m_k : float or ndarray
        Of what heats up; metal alone for a short circuit. [J/(m*K)]
    resistance_20_ohm_per_m : float or ndarray
        Resistance at 20 degC. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        Of that resistance, at 20 degC; above zero. [1/K]

    Returns
    -------
    integral_a2s : float or ndarray
        Broadcast shape; negative where the end is colder than the start. [A2s]

    Notes
    -----
    No heat leaves the conductor: for copper wires good to some tenths of a second in the thinnest
    and to several seconds in battery cables, and on the safe side beyond.

    References
    ----------
    IEC 60949, Calculation of thermally permissible short-circuit currents: the same law with the
    constants of a metal drawn together, ``I**2 t = (K S)**2 ln((b + T2) / (b + T1))``.
    """
    ratio = resistance_ratio(
        temperature_c=end_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    ) / resistance_ratio(
        temperature_c=start_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    scale = heat_capacity_j_per_m_k / (temperature_coefficient_per_k * resistance_20_ohm_per_m)
    integral: Real = scale * np.log(ratio)
    return integral


def adiabatic_temperature_c(
    *,
    start_c: Real,
    integral_a2s: Real,
    heat_capacity_j_per_m_k: Real,
    resistance_20_ohm_per_m: Real,
    temperature_coefficient_per_k: Real,
) -> Real:
    """Temperature of a conductor after an integral of the squared current.

    Parameters
    ----------
    start_c : float or ndarray
        Temperature before. [degC]
    integral_a2s : float or ndarray
        For example what a fuse lets through. [A2s]
    heat_capacity_j_per_m_k : float or ndarray
        Of what heats up. [J/(m*K)]
    resistance_20_ohm_per_m : float or ndarray
        Resistance at 20 degC. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        Of that resistance, at 20 degC; above zero. [1/K]

    Returns
    -------
    temperature_c : float or ndarray
        Broadcast shape; infinite where the integral is beyond all reason. [degC]

    Notes
    -----
    The inverse of `adiabatic_a2s`.
    """
    scale = temperature_coefficient_per_k * resistance_20_ohm_per_m / heat_capacity_j_per_m_k
    before = resistance_ratio(
        temperature_c=start_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    with np.errstate(over="ignore"):
        growth = np.exp(scale * integral_a2s)
    return temperature_at_ratio(
        ratio=before * growth, temperature_coefficient_per_k=temperature_coefficient_per_k
    )


def onderdonk_a2s(*, area_mm2: Real, ambient_c: Real) -> Real:
    """Integral of the squared current that melts a copper wire, by Onderdonk.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Section of copper. [mm2]
    ambient_c : float or ndarray
        Temperature before. [degC]

    Returns
    -------
    integral_a2s : float or ndarray
        Broadcast shape: the time to melt is this over the squared current. [A2s]

    Notes
    -----
    ``I**2 t = A**2 / 33 * log10((Tm - Ta) / (234 + Ta) + 1)``, A in circular mils and Tm 1083
    degC. An older rounding of `adiabatic_a2s` for copper, without the heat of melting: for times
    up to some seconds. It says when wire melts, not what wire may carry.

    References
    ----------
    E. R. Stauffacher, Short-time current carrying capacity of copper wire, General Electric
    Review 31 (1928), where it is ascribed to I. M. Onderdonk.
    """
    heating = np.log10((_COPPER_MELTING_C - ambient_c) / (234.0 + ambient_c) + 1.0)
    integral: Real = (area_mm2 / MM2_PER_CIRCULAR_MIL) ** 2 / 33.0 * heating
    return integral


def preece_current_a(*, diameter_mm: Real, coefficient: Real = PREECE_COPPER) -> Real:
    """Steady current that melts a bare wire in free air, by Preece.

    Parameters
    ----------
    diameter_mm : float or ndarray
        Of the wire. [mm]
    coefficient : float or ndarray
        Of the metal, in A/mm**1.5; by default copper.

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape. [A]

    Notes
    -----
    ``I = C * d**1.5``. For wires of a few tenths of a millimetre to a few millimetres, long, bare
    and in still air, after seconds to minutes. It says when wire melts, not what wire may carry.

    References
    ----------
    W. H. Preece, On the heating effects of electric currents, Proceedings of the Royal Society
    36 (1884) and 44 (1888).
    """
    return coefficient * diameter_mm**1.5
