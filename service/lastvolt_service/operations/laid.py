"""Wires with their insulation, where they lie, in columns: what heat and currents follow from."""

from collections.abc import Mapping
from dataclasses import dataclass

from lastvolt_service.physics import air
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.fusing import adiabatic_a2s
from lastvolt_service.physics.heating import permissible_current_a
from lastvolt_service.physics.transient import heat_capacity_j_per_m_k
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, pick

# Beyond its limit by this much an insulation is gone, where no short-circuit temperature is known.
BEYOND_LIMIT_K = 100.0
# Where no limit is given at all, the search for a steady temperature ends here.
HIGHEST_CEILING_C = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Wires where they lie; NaN where nothing is known.

    Attributes
    ----------
    resistance_20_ohm_per_m, temperature_coefficient_per_k, area_mm2 : ndarray
        Of the conductor. [ohm/m], [1/K], [mm2]
    metal_j_per_m3_k, insulation_j_per_m3_k : ndarray
        Heat capacities. [J/(m3*K)]
    conductor_diameter_mm, outer_diameter_mm : ndarray
        Over the strands and over the insulation. [mm]
    insulation_w_per_m_k : ndarray
        Thermal conductivity. [W/(m*K)]
    limit_c, short_circuit_c : ndarray
        What the insulation bears, for ever and after a short circuit. [degC]
    grouping_factor : ndarray
        On the permissible current. [1]
    ambient_c, altitude_m : ndarray
        Where they lie. [degC], [m]
    """

    resistance_20_ohm_per_m: Numbers
    temperature_coefficient_per_k: Numbers
    area_mm2: Numbers
    metal_j_per_m3_k: Numbers
    conductor_diameter_mm: Numbers
    outer_diameter_mm: Numbers
    insulation_w_per_m_k: Numbers
    insulation_j_per_m3_k: Numbers
    limit_c: Numbers
    short_circuit_c: Numbers
    grouping_factor: Numbers
    ambient_c: Numbers
    altitude_m: Numbers

    @property
    def physics(self) -> Wire:
        """As the heat balance takes them."""
        return Wire(
            resistance_20_ohm_per_m=self.resistance_20_ohm_per_m,
            temperature_coefficient_per_k=self.temperature_coefficient_per_k,
            conductor_diameter_mm=self.conductor_diameter_mm,
            outer_diameter_mm=self.outer_diameter_mm,
            insulation_w_per_m_k=self.insulation_w_per_m_k,
            ambient_c=self.ambient_c,
            pressure_pa=air.pressure_at_altitude_pa(altitude_m=self.altitude_m),
            grouping_factor=self.grouping_factor,
        )

    @property
    def ceiling_c(self) -> Numbers:
        """Temperature beyond which they are no longer wires. [degC]."""
        return ceiling(self.limit_c, self.short_circuit_c)

    @property
    def heat_capacity_j_per_m_k(self) -> Numbers:
        """Metal and the share of the insulation that follows it. [J/(m*K)]."""
        return heat_capacity_j_per_m_k(
            area_mm2=self.area_mm2,
            metal_j_per_m3_k=self.metal_j_per_m3_k,
            conductor_diameter_mm=self.conductor_diameter_mm,
            outer_diameter_mm=self.outer_diameter_mm,
            insulation_j_per_m3_k=self.insulation_j_per_m3_k,
        )

    @property
    def short_circuit_a2s(self) -> Numbers:
        """Let-through from the limit to the short-circuit temperature. [A2s]."""
        # Metal alone: in the time that this law is good for, the insulation takes up nothing.
        let_through = adiabatic_a2s(
            start_c=self.limit_c,
            end_c=self.short_circuit_c,
            heat_capacity_j_per_m_k=self.area_mm2 * 1e-6 * self.metal_j_per_m3_k,
            resistance_20_ohm_per_m=self.resistance_20_ohm_per_m,
            temperature_coefficient_per_k=self.temperature_coefficient_per_k,
        )
        found: Numbers = pick(self.short_circuit_c > self.limit_c, let_through, NOT_GIVEN)
        return found


def ceiling(limit_c: Numbers, short_circuit_c: Numbers) -> Numbers:
    """Temperature beyond which a wire is no longer one.

    Parameters
    ----------
    limit_c, short_circuit_c : float or ndarray
        What its insulation bears, for ever and after a short circuit; NaN for not known. [degC]

    Returns
    -------
    float or ndarray
        [degC]
    """
    gone = pick(given(short_circuit_c), short_circuit_c, limit_c + BEYOND_LIMIT_K)
    found: Numbers = pick(given(limit_c), pick(gone > limit_c, gone, limit_c), HIGHEST_CEILING_C)
    return found


def permissible_currents(laid: Laid, wire: Wire, published_a: Numbers) -> Mapping[str, Numbers]:
    """Steady currents that wires may carry: the lower of the model and a published table.

    Parameters
    ----------
    laid : Laid
        The wires.
    wire : Wire
        Their `Laid.physics`, which is not made twice.
    published_a : float or ndarray
        By a table that covers them, alone; NaN where there is none. [A]

    Returns
    -------
    mapping of str to float or ndarray
        ``model_a``, ``table_a`` with the grouping factor, and ``current_a``, the lower of both.
    """
    limits = pick(given(laid.limit_c), laid.limit_c, 0.0)
    model = permissible_current_a(limit_c=limits, wire=wire)
    table = published_a * laid.grouping_factor
    return {"model_a": model, "table_a": table, "current_a": pick(table < model, table, model)}


def no_room(outer_mm: float, size: str, conductor_mm: float) -> str:
    """Say that the insulation does not fit round the conductor.

    Parameters
    ----------
    outer_mm, conductor_mm : float
        Over the insulation and over the strands. [mm]
    size : str
        Of the conductor.

    Returns
    -------
    str
    """
    return f"{outer_mm:g} mm is less than the conductor of {size} itself, {conductor_mm:.2f} mm."
