"""Wires with their insulation as the tables know them, wherever they lie."""

from dataclasses import dataclass
from functools import lru_cache

from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.fields import WireInPlace
from lastvolt_service.tables.insulation import Dimensions, Insulation, dimensions
from lastvolt_service.tables.insulation import insulation as kind_of_insulation

# Where the kind of insulation is not given: thin and of the poorest material, which errs on the
# hot side but for large cables.
UNSTATED_KIND = "ISO class A"
UNSTATED_BASIS = "insulation not stated: reckoned as a thin wall of the poorest material"


@dataclass(frozen=True, slots=True)
class InsulatedWire:
    """A wire as the tables know it by its texts, wherever it lies."""

    conductor: Conductor
    material: str
    construction: str
    insulation: Insulation
    dimensions: Dimensions
    is_stated: bool

    @property
    def limit_c(self) -> float | None:
        """Temperature that the conductor may have, where the insulation was stated. [degC]."""
        return self.insulation.limit_c if self.is_stated else None

    @property
    def basis(self) -> tuple[str, ...]:
        """What conductor and insulation rest on."""
        if not self.is_stated:
            return (*self.conductor.basis, UNSTATED_BASIS)
        covers = self.insulation
        return (*self.conductor.basis, covers.citation, covers.material_citation)


@lru_cache(maxsize=4096)
def insulated_wire(
    *,
    size: str | None,
    standard: str | None,
    material: str,
    construction: str,
    insulation: str | None,
) -> InsulatedWire | None:
    """Look a wire up; None without a size.

    Raises
    ------
    UnknownSize, NotCovered
        If the tables do not know it.
    """
    if size is None:
        return None
    metal_wire = conductor(size, standard, material, construction)
    kind = kind_of_insulation(insulation or UNSTATED_KIND)
    diameters = dimensions(
        kind=kind.kind, size=size, area_mm2=metal_wire.area_mm2, construction=construction
    )
    return InsulatedWire(
        metal_wire, material, construction, kind, diameters, is_stated=insulation is not None
    )


def known_wires(asked: WireInPlace) -> Found[InsulatedWire]:
    """Look up the wires of requests by their texts."""
    return look_up(
        insulated_wire,
        size=asked.size,
        standard=asked.standard,
        material=asked.material,
        construction=asked.construction,
        insulation=asked.insulation,
    )
