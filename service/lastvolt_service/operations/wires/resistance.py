"""Resistance of a wire by size, length and temperature.

Solid AWG from the standard diameter, stranded with 2 % for the lay; SAE from the minimum area,
about a tenth less copper than AWG of the same number; metric sizes by the published maximum.
Copper, tinned copper, aluminium and copper-clad aluminium.
"""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service.fields import quantity
from lastvolt_service.laws import OHM, by, named
from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import DEFERENCE, Result
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.fields import HIGHEST_CONDUCTOR_C, LENGTH, WireSize
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.rows import Numbers


class WireResistanceRequest(WireSize):
    """One wire."""

    length_m: Numbers = quantity(LENGTH)
    temperature_c: Numbers = quantity(
        "temperature of the conductor", maximum=HIGHEST_CONDUCTOR_C, default=20.0
    )

    example: ClassVar = {"size": "12 AWG", "length_m": 6.5, "temperature_c": 60}


@dataclass(frozen=True, slots=True, kw_only=True)
class WireResistance(Result):
    """Answer of ``wire-resistance``."""

    size: Annotated[str, "the size as asked"]
    standard: Annotated[str, "the standard whose size it is"]
    area_mm2: Annotated[float, "section of metal: geometric, minimum or nominal by standard"]
    resistance_ohm_per_m: Annotated[float, "at the temperature asked for"]
    resistance_ohm: Annotated[float, "of the whole length, at the temperature asked for"]


def known_conductors(asked: WireSize) -> Found[Conductor]:
    """Look up the conductors of requests."""
    return look_up(
        _conductor,
        size=asked.size,
        standard=asked.standard,
        material=asked.material,
        construction=asked.construction,
    )


def _conductor(
    size: str | None, standard: str | None, material: str, construction: str
) -> Conductor | None:
    return None if size is None else conductor(size, standard, material, construction)


def warm_ohm_per_m(known: Found[Conductor], temperature_c: Numbers, prefix: str = "") -> Numbers:
    """Resistance per metre of conductors at a temperature; the prefix is for steps. [ohm/m]."""
    ratio = resistance_ratio(
        temperature_c=temperature_c,
        temperature_coefficient_per_k=known.numbers(lambda c: c.temperature_coefficient_per_k),
    )
    ratio = named(f"{prefix}ratio", ratio, "resistance over that at 20 degC")
    found: Numbers = known.numbers(lambda c: c.resistance_20_ohm_per_m) * ratio
    return found


def solve(asked: WireResistanceRequest) -> Outcome:
    """Work out one wire or many."""
    known = known_conductors(asked)
    ohm_per_m = named(
        "resistance_ohm_per_m", warm_ohm_per_m(known, asked.temperature_c), "each metre, warm"
    )
    return Outcome(
        {
            "standard": known.words(lambda c: c.standard),
            "area_mm2": known.numbers(lambda c: c.area_mm2),
            "resistance_ohm_per_m": ohm_per_m,
            "resistance_ohm": by(OHM, ohm_per_m * asked.length_m),
        },
        (),
        known.basis(lambda c: c.basis),
        (DEFERENCE,),
        refusals=known.refusals(),
    )


OPERATION = Operation("wire-resistance", __doc__, WireResistanceRequest, WireResistance, solve)
