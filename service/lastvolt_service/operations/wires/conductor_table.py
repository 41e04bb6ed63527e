"""The table of conductor sizes that requests may name."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service.fields import ABSENT, Fields, choice
from lastvolt_service.operations.results import DEFERENCE, ComputedBy, computed_by
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.tables.sizes import STANDARDS, sizes


class ConductorsQuery(Fields):
    """Which conductor sizes to list."""

    standard: str | None = choice(
        "list the sizes of this standard only", tuple(STANDARDS), default=ABSENT
    )

    example: ClassVar = {"standard": "SAE"}


@dataclass(frozen=True, slots=True)
class ConductorSize:
    """One size of a standard, as stranded copper."""

    size: Annotated[str, "the size as requests name it"]
    standard: Annotated[str, "the standard that defines the size"]
    area_mm2: Annotated[float, "section of copper: geometric, minimum or nominal by standard"]
    resistance_ohm_per_m: Annotated[float, "stranded copper at 20 degC"]
    basis: Annotated[tuple[str, ...], "where the numbers come from"]


@dataclass(frozen=True, slots=True)
class Conductors:
    """The sizes that requests may name."""

    sizes: Annotated[tuple[ConductorSize, ...], "by standard, smallest first"]
    cautions: Annotated[tuple[str, ...], "who decides"]
    computed_by: Annotated[ComputedBy, "versions that reproduce this answer"]


# No check and no sentence: a table needs no `Operation`.
def conductors(asked: ConductorsQuery) -> Conductors:
    """List the conductor sizes with area and resistance.

    All sizes that requests may name, of one standard or of all, as stranded copper at 20 degC.
    SAE sizes hold about a tenth less copper than the AWG of the same number.
    """
    standards = STANDARDS if asked.standard is None else (asked.standard,)
    listed = (conductor(size, name) for name in standards for size in sizes(name))
    return Conductors(
        sizes=tuple(
            ConductorSize(
                each.size, each.standard, each.area_mm2, each.resistance_20_ohm_per_m, each.basis
            )
            for each in listed
        ),
        cautions=(DEFERENCE,),
        computed_by=computed_by(),
    )
