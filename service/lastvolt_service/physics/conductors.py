"""Geometry and resistance of round conductors."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.constants import PI

MM_PER_INCH = 25.4
MM2_PER_CIRCULAR_MIL = np.pi / 4 * (MM_PER_INCH / 1000) ** 2


@law(
    "solid_diameter_mm = 0.005 * 25.4 * 92 ** ((36 - gauge) / 39)"
    "  # diameter of the solid wire of that gauge",
    source="ASTM B258, standard nominal diameters of AWG sizes",
)
def awg_diameter_mm(*, gauge: Real) -> Real:
    """Diameter of a solid wire of the American wire gauge.

    Parameters
    ----------
    gauge : float or ndarray
        Gauge number; 1/0, 2/0, 3/0 and 4/0 are 0, -1, -2 and -3.

    Returns
    -------
    diameter_mm : float or ndarray
        Diameter, shape of `gauge`. [mm]

    Notes
    -----
    36 AWG is 0.005 in and 4/0 AWG is 0.46 in, with 39 equal steps between them.

    References
    ----------
    ASTM B258, standard nominal diameters of AWG sizes.
    """
    return 0.005 * MM_PER_INCH * 92.0 ** ((36.0 - gauge) / 39.0)


@law(
    "area_mm2 = pi / 4 * diameter_mm ** 2  # section",
    source="geometry",
    constants=(PI,),
)
def circle_area_mm2(*, diameter_mm: Real) -> Real:
    """Area of a circle.

    Parameters
    ----------
    diameter_mm : float or ndarray
        Diameter. [mm]

    Returns
    -------
    area_mm2 : float or ndarray
        Area, shape of `diameter_mm`. [mm2]
    """
    return np.pi / 4 * diameter_mm**2


@law(
    "ratio = 1 + temperature_coefficient_per_k * (temperature_c - 20)"
    "  # resistance over that at 20 degC",
    source="linear law of the copper tables",
)
def resistance_ratio(*, temperature_c: Real, temperature_coefficient_per_k: Real) -> Real:
    """Resistance of a metal at a temperature over its resistance at 20 degC.

    Parameters
    ----------
    temperature_c : float or ndarray
        Temperature of the metal. [degC]
    temperature_coefficient_per_k : float or ndarray
        Temperature coefficient of resistance at 20 degC. [1/K]

    Returns
    -------
    ratio : float or ndarray
        R(T) / R(20 degC), broadcast shape; 1 at 20 degC.

    Notes
    -----
    It holds to some tenths of a percent from -60 to 250 degC.

    References
    ----------
    IEC 28 (1913), International standard of resistance for copper.
    """
    return 1.0 + temperature_coefficient_per_k * (temperature_c - 20.0)


@law(
    "temperature_c = 20 + (ratio - 1) / temperature_coefficient_per_k"
    "  # temperature at which the metal has that resistance",
    source="linear law of the copper tables",
)
def temperature_at_ratio(*, ratio: Real, temperature_coefficient_per_k: Real) -> Real:
    """Temperature at which a metal has a given multiple of its resistance at 20 degC.

    Parameters
    ----------
    ratio : float or ndarray
        R(T) / R(20 degC).
    temperature_coefficient_per_k : float or ndarray
        Temperature coefficient of resistance at 20 degC. [1/K]

    Returns
    -------
    temperature_c : float or ndarray
        Temperature of the metal, broadcast shape. [degC]

    Notes
    -----
    The inverse of `resistance_ratio`; it is how a winding's temperature is found from its
    resistance.
    """
    return 20.0 + (ratio - 1.0) / temperature_coefficient_per_k


@law(
    "change = (1 + temperature_coefficient_per_k * (temperature_c - 20)) / "
    "(1 + temperature_coefficient_per_k * (reference_temperature_c - 20))"
    "  # resistance over that at the reference",
    source="linear law of the copper tables",
)
def resistance_change(
    *,
    temperature_c: Real,
    reference_temperature_c: Real,
    temperature_coefficient_per_k: Real,
) -> Real:
    """Resistance of a metal at one temperature over its resistance at another.

    Parameters
    ----------
    temperature_c : float or ndarray
        Temperature asked for. [degC]
    reference_temperature_c : float or ndarray
        Temperature at which the resistance is known. [degC]
    temperature_coefficient_per_k : float or ndarray
        Temperature coefficient of resistance at 20 degC. [1/K]

    Returns
    -------
    ratio : float or ndarray
        R(T) / R(T_ref), broadcast shape.

    Notes
    -----
    A winding that needs a given current needs a voltage that grows by the same ratio: the
    pull-in and drop-out voltages of relays and solenoids scale by it.
    """
    hot = resistance_ratio(
        temperature_c=temperature_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    known = resistance_ratio(
        temperature_c=reference_temperature_c,
        temperature_coefficient_per_k=temperature_coefficient_per_k,
    )
    return hot / known


@law(
    "ohm_per_m = resistivity_ohm_mm2_per_m * lay_factor / area_mm2  # resistance for each metre",
    source="resistance of a conductor: resistivity times length over section",
)
def resistance_per_length(
    *, resistivity_ohm_mm2_per_m: Real, area_mm2: Real, lay_factor: Real = 1.0
) -> Real:
    """Resistance per metre of a conductor of known section.

    Parameters
    ----------
    resistivity_ohm_mm2_per_m : float or ndarray
        Resistivity of the metal at the temperature asked for. [ohm*mm2/m]
    area_mm2 : float or ndarray
        Section of metal. [mm2]
    lay_factor : float or ndarray
        Length of a strand over the length of the conductor: 1 for solid, about 1.02 for stranded.

    Returns
    -------
    resistance_ohm_per_m : float or ndarray
        Resistance per metre of conductor, broadcast shape. [ohm/m]
    """
    return resistivity_ohm_mm2_per_m * lay_factor / area_mm2


@law(
    "conductor_diameter_mm = strand_ratio * sqrt(4 * area_mm2 / pi)  # over the strands",
    source="geometry",
    constants=(PI,),
)
def diameter_over_strands_mm(*, area_mm2: Real, strand_ratio: Real) -> Real:
    """Diameter of a conductor of known section.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Section of metal. [mm2]
    strand_ratio : float or ndarray
        Diameter over the strands, over that of solid metal.

    Returns
    -------
    diameter_mm : float or ndarray
        Broadcast shape. [mm]
    """
    return strand_ratio * (4.0 * area_mm2 / np.pi) ** 0.5
