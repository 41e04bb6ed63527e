"""The fuse between what its load needs and what its wire bears."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.fuse_window import fuse_window, window_checks
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Result,
    merge,
)
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heated_wire import ambient_of, heated_wire
from lastvolt_service.rows import optional
from lastvolt_service.tables import fuses as tables

GIVEN_PERMISSIBLE = "permissible current given by the caller"
CAUTIONS = (
    f"{FUSE_NEAR_SOURCE} ({tables.near_source_citation()})",
    SHORT_CIRCUIT,
    DEFERENCE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseSelection(Result):
    """Answer of ``fuse-selection``."""

    fuse_rating_a: Annotated[
        float | None, "smallest standard rating inside the window; null where there is none"
    ]
    fuse_family: Annotated[str | None, "family of that rating"]
    lower_a: Annotated[float, "smallest rating that carries the load and its inrush"]
    upper_a: Annotated[float, "largest rating that protects the wire"]
    permissible_current_a: Annotated[float, "steady current that the wire may carry"]
    ambient_c: Annotated[float, "ambient of the wire that was reckoned with"]
    fuse_ambient_c: Annotated[float, "ambient of the fuse that was reckoned with"]


def fuse_selection(
    *,
    load_current_a: float,
    inrush_time_s: float,
    material: str,
    construction: str,
    grouped_conductors: int,
    altitude_m: float,
    inrush_current_a: float | None = None,
    permissible_current_a: float | None = None,
    size: str | None = None,
    standard: str | None = None,
    ambient_c: float | None = None,
    zone: str | None = None,
    insulation: str | None = None,
    insulation_limit_c: float | None = None,
    outer_diameter_mm: float | None = None,
    fuse_ambient_c: float | None = None,
    fuse_family: str | None = None,
) -> FuseSelection:
    """Standard fuse rating between what the load needs and what the wire bears.

    At least the load over 0.75, corrected for the ambient of the fuse, and at least what carries
    the inrush for its time; at most what protects the wire at its own ambient. The smallest
    standard rating inside is the answer. An empty window is a failed check that says what to
    change.

    Returns
    -------
    FuseSelection

    Raises
    ------
    UnknownSize, NotCovered
        If the tables do not know the wire, or the ambient is beyond what is known of fuses.
    ConflictingFields
        If the insulation does not fit round the conductor.
    """
    settled, ambient_basis = ambient_of(Zoned(ambient_c=optional(ambient_c), zone=zone))
    ambient = float(settled)
    may = GIVEN_PERMISSIBLE
    wire_basis: tuple[str, ...] = (may,)
    bears = permissible_current_a
    if bears is None:
        wire = heated_wire(
            size=size or "",
            ambient_c=ambient,
            standard=standard,
            material=material,
            construction=construction,
            insulation_kind=insulation,
            insulation_limit_c=insulation_limit_c,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            outer_diameter_mm=outer_diameter_mm,
        )
        found = permissible(wire)
        bears, may = float(found.current_a), found.citation()
        wire_basis = merge(wire.basis, (may,))
    fuse_ambient = ambient if fuse_ambient_c is None else fuse_ambient_c
    window = fuse_window(
        load_current_a=load_current_a,
        inrush_current_a=inrush_current_a or 0.0,
        inrush_time_s=inrush_time_s,
        permissible_current_a=bears,
        fuse_ambient_c=fuse_ambient,
        family=fuse_family,
    )
    return FuseSelection(
        fuse_rating_a=window.rating_a,
        fuse_family=window.family,
        lower_a=window.lower_a,
        upper_a=window.upper_a,
        permissible_current_a=bears,
        ambient_c=ambient,
        fuse_ambient_c=fuse_ambient,
        checks=window_checks(window, bears, may, inrush_current_a),
        basis=merge(wire_basis, ambient_basis, window.citations),
        cautions=CAUTIONS,
    )
