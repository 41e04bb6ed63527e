"""Resistance of one wire."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.conductors import conductor
from lastvolt_service.operations.results import DEFERENCE, Result
from lastvolt_service.operations.solved import Solved
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.rows import Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class WireResistance(Result):
    """Answer of ``wire-resistance``."""

    size: Annotated[str, "the size as asked"]
    standard: Annotated[str, "the standard whose size it is"]
    area_mm2: Annotated[float, "section of metal: geometric, minimum or nominal by standard"]
    resistance_ohm_per_m: Annotated[float, "at the temperature asked for"]
    resistance_ohm: Annotated[float, "of the whole length, at the temperature asked for"]


def wire_resistance(
    *,
    size: str,
    length_m: float,
    temperature_c: float,
    material: str,
    construction: str,
    standard: str | None = None,
) -> WireResistance:
    """Resistance of a wire by size, length and temperature.

    Solid AWG from the standard diameter, stranded with 2 % for the lay; SAE from the minimum
    area, about a tenth less copper than AWG of the same number; metric sizes by the published
    maximum. Copper, tinned copper, aluminium and copper-clad aluminium.

    Returns
    -------
    WireResistance

    Raises
    ------
    UnknownSize
        If there is no such size.
    NotCovered
        If no publication gives a resistance for the combination.
    """
    wire = conductor(size, standard, material, construction)
    solved = solve(
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
        temperature_c=temperature_c,
        length_m=length_m,
    )
    return WireResistance(
        size=size,
        standard=wire.standard,
        area_mm2=wire.area_mm2,
        **solved.columns,
        checks=(),
        basis=wire.basis,
        cautions=(DEFERENCE,),
    )


def solve(
    *,
    resistance_20_ohm_per_m: Numbers,
    temperature_coefficient_per_k: Numbers,
    temperature_c: Numbers,
    length_m: Numbers,
) -> Solved:
    """Work out one wire or many.

    Parameters
    ----------
    resistance_20_ohm_per_m, temperature_coefficient_per_k : float or ndarray
        Of the conductor. [ohm/m], [1/K]
    temperature_c, length_m : float or ndarray
        As in requests. [degC], [m]

    Returns
    -------
    Solved
    """
    ratio = resistance_ratio(
        temperature_c=temperature_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    ohm_per_m = resistance_20_ohm_per_m * ratio
    return Solved({"resistance_ohm_per_m": ohm_per_m, "resistance_ohm": ohm_per_m * length_m}, {})
