"""Resistance of a wire by size, length and temperature.

Solid AWG from the standard diameter, stranded with 2 % for the lay; SAE from the minimum area,
about a tenth less copper than AWG of the same number; metric sizes by the published maximum.
Copper, tinned copper, aluminium and copper-clad aluminium.
"""

from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

import numpy as np

from lastvolt_service.fields import ABSENT, quantity
from lastvolt_service.laws import OHM, by, named, published
from lastvolt_service.operations.judging import UNKNOWN, Judged
from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import DEFERENCE, Result, merge
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.fields import HIGHEST_CONDUCTOR_C, LENGTH, WireSize
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, Texts, Words, given, negate, pick, some
from lastvolt_service.tables import Unproven

# What is reckoned with where nobody says how warm a conductor is. A hot one has more resistance.
ASSUMED_C = 20.0
ASSUMED = Unproven(
    "assumed, as it is not given: a conductor of 20 degC; a hot one has more resistance"
)


NO_CURRENT = "no current is given"
NOT_ASKED_OF_IT = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)


class WireResistanceRequest(WireSize):
    """One wire."""

    length_m: Numbers = quantity(LENGTH)
    temperature_c: Numbers = quantity(
        "temperature of the conductor; without it 20 degC, and said to be assumed",
        maximum=HIGHEST_CONDUCTOR_C,
        default=ABSENT,
    )

    example: ClassVar = {"size": "12 AWG", "length_m": 6.5, "temperature_c": 60}


@dataclass(frozen=True, slots=True, kw_only=True)
class WireResistance(Result):
    """Answer of ``wire-resistance``."""

    size: Annotated[str, "the size as asked"]
    standard: Annotated[str, "the standard whose size it is"]
    area_mm2: Annotated[float, "section of metal: geometric, minimum or nominal by standard"]
    temperature_c: Annotated[float, "of the conductor, that was reckoned with"]
    temperature_source: Annotated[Literal["given", "assumed"], "whose it is"]
    resistance_ohm_per_m: Annotated[float, "at that temperature"]
    resistance_ohm: Annotated[float, "of the whole length, at that temperature"]


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


def source_of(is_given: Flags) -> Texts:
    """Say whose temperatures are."""
    if isinstance(is_given, np.ndarray):
        return Words(("given", "assumed"), np.where(is_given, 0, 1))
    return "given" if is_given else "assumed"


def solve(asked: WireResistanceRequest) -> Outcome:
    """Work out one wire or many."""
    known = known_conductors(asked)
    own = given(asked.temperature_c)
    assumed_c = published(
        "temperature_c", ASSUMED_C, "temperature of the conductor, not given", ASSUMED
    )
    temperature_c = pick(own, asked.temperature_c, assumed_c)
    ohm_per_m = named(
        "resistance_ohm_per_m", warm_ohm_per_m(known, temperature_c), "each metre, warm"
    )
    return Outcome(
        {
            "standard": known.words(lambda c: c.standard),
            "area_mm2": known.numbers(lambda c: c.area_mm2),
            "temperature_c": temperature_c,
            "temperature_source": source_of(own),
            "resistance_ohm_per_m": ohm_per_m,
            "resistance_ohm": by(OHM, ohm_per_m * asked.length_m),
        },
        (Checked("wires_heat", NOT_ASKED_OF_IT, "degC", NO_CURRENT),),
        merge(known.basis(lambda c: c.basis), (ASSUMED,) if some(negate(own)) else ()),
        (DEFERENCE,),
        refusals=known.refusals(),
    )


OPERATION = Operation("wire-resistance", __doc__, WireResistanceRequest, WireResistance, solve)
