"""The fuse between what its load needs and what its wire bears."""

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from lastvolt_service.errors import NotCovered
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Check,
    Result,
    at_least,
    at_most,
    merge,
    show,
    unknown,
)
from lastvolt_service.operations.thermal import (
    ambient_of,
    heated_wire,
    permissible,
    physics_wire,
)
from lastvolt_service.physics import fuse as physics
from lastvolt_service.tables import fuses as tables

# Multiple of its rating that a fuse of any family need not interrupt for ever: the first gate of
# the blade fuses. From there to 135 % it may take its minutes, and so long the wire stays within
# the overload that its insulation is made for.
PROTECTION_MULTIPLE = 1.10
DEFAULT_INRUSH_S = 0.1
GIVEN_PERMISSIBLE = "permissible current given by the caller"


@dataclass(frozen=True, slots=True)
class Window:
    """What a fuse may be.

    Attributes
    ----------
    family : str or None
        Family of the rating found; None where none has one inside.
    rating_a : float or None
        Smallest standard rating inside. [A]
    lower_a, upper_a : float
        Ends of the window. [A]
    citations : tuple of str
        What it rests on.
    """

    family: str | None
    rating_a: float | None
    lower_a: float
    upper_a: float
    citations: tuple[str, ...]


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


def fuse_window(
    *,
    load_current_a: float,
    inrush_current_a: float,
    inrush_time_s: float,
    permissible_current_a: float,
    fuse_ambient_c: float,
    family: str | None,
) -> Window:
    """Find the window of a fuse and the smallest standard rating inside it.

    Parameters
    ----------
    load_current_a, inrush_current_a : float
        Steady and first current; 0 for no inrush. [A]
    inrush_time_s : float
        How long the first current flows. [s]
    permissible_current_a : float
        Steady current that the wire may carry. [A]
    fuse_ambient_c : float
        Ambient of the fuse. [degC]
    family : str or None
        Family to look in; by default each in turn, until one has a rating inside.

    Returns
    -------
    Window
        Of the family found, else of the first one looked at.

    Raises
    ------
    NotCovered
        If the ambient is beyond what is known of fuses.
    """
    try:
        factor = tables.ambient_factor(fuse_ambient_c)
    except NotCovered as error:  # whether it was given as such or taken from the wire
        raise NotCovered(error.detail, ("fuse_ambient_c",)) from error
    windows = []
    for name in (family,) if family else tables.fuse_families():
        lower, citations = _lower_a(load_current_a, inrush_current_a, inrush_time_s, factor, name)
        upper = float(
            physics.largest_rating_a(
                permissible_current_a=permissible_current_a,
                protection_multiple=PROTECTION_MULTIPLE,
                ambient_factor=factor,
            )
        )
        inside = [fuse for fuse in tables.fuses(name) if lower <= fuse.rating_a <= upper]
        if inside:
            found = inside[0]
            return Window(name, found.rating_a, lower, upper, merge(citations, (found.citation,)))
        windows.append(Window(None, None, lower, upper, citations))
    return windows[0]


def carried_multiple_of(family: str, time_s: float) -> tuple[float, str]:
    """Multiple of its rating that a fuse of a family is sure to carry for a time.

    Parameters
    ----------
    family : str
        One of the families that the tables know.
    time_s : float
        How long. [s]

    Returns
    -------
    multiple : float
        1 where the operating times of the family are not known.
    citation : str
        Who says so.
    """
    gates = tables.gates(family)
    if not gates:
        return 1.0, f"{family}: operating times not known, trusted with its rating and no more"
    multiple = physics.carried_multiple(
        time_s=time_s,
        gate_multiple=np.array([gate.rating_multiple for gate in gates]),
        gate_shortest_s=np.array([gate.shortest_s for gate in gates]),
    )
    return float(multiple), gates[0].citation


def _lower_a(
    load_a: float, inrush_a: float, inrush_s: float, ambient_factor: float, family: str
) -> tuple[float, tuple[str, ...]]:
    citations = [tables.continuous_citation(), tables.ambient_citation()]
    multiple = 1.0
    if inrush_a > 0:
        multiple, cited = carried_multiple_of(family, inrush_s)
        citations.append(cited)
    lower = physics.smallest_rating_a(
        load_current_a=load_a,
        continuous_share=tables.CONTINUOUS_SHARE,
        inrush_current_a=inrush_a,
        carried_multiple=multiple,
        ambient_factor=ambient_factor,
    )
    return float(lower), tuple(citations)


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
    ambient, ambient_basis = ambient_of(ambient_c, zone)
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
        found = permissible([wire], physics_wire([wire]))[0]
        bears, may = found.current_a, found.citation
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
        cautions=(
            f"{FUSE_NEAR_SOURCE} ({tables.near_source_citation()})",
            SHORT_CIRCUIT,
            DEFERENCE,
        ),
    )


def window_checks(
    window: Window, bears_a: float, bears_basis: str, inrush_a: float | None
) -> tuple[Check, ...]:
    """Judge a window.

    Parameters
    ----------
    window : Window
        As found.
    bears_a : float
        Steady current that the wire may carry. [A]
    bears_basis : str
        Who says so.
    inrush_a : float or None
        First current of the load, if it is known. [A]

    Returns
    -------
    tuple of Check
    """
    if window.rating_a is None:
        return (_empty(window),)
    carried = at_least(
        "fuse carries the load",
        window.rating_a,
        window.lower_a,
        "A",
        tables.continuous_citation(),
        {"pass": f"The load needs a fuse of {show(window.lower_a, 'A')} or more."},
        scale=0.0,  # the practice of 75 % is the margin
    )
    # What the fuse may hold for ever, cold as it may be: at the upper end just what the wire bears.
    held_a = bears_a * (window.rating_a / window.upper_a)
    protected = at_most(
        "fuse protects the wire",
        held_a,
        bears_a,
        "A",
        bears_basis,
        {
            "pass": f"The fuse holds {show(held_a, 'A')} at most for ever and the "
            f"wire bears {show(bears_a, 'A')}."
        },
        scale=0.0,  # the multiple is the margin
    )
    if inrush_a is not None:
        return carried, protected
    return (
        carried,
        protected,
        unknown("inrush", "A", "given by the caller", "Give inrush_current_a to be sure of it."),
    )


def _empty(window: Window) -> Check:
    crossed = window.lower_a > window.upper_a
    return Check(
        "fuse window",
        "fail",
        window.lower_a,
        window.upper_a,
        "A",
        window.upper_a - window.lower_a,
        tables.continuous_citation(),
        f"The load needs a fuse of {show(window.lower_a, 'A')} or more and the wire bears one of "
        f"{show(window.upper_a, 'A')} at most: take a larger wire, better insulation or a cooler "
        "place, or split the load."
        if crossed
        else f"No standard rating lies between {show(window.lower_a, 'A')} and "
        f"{show(window.upper_a, 'A')}: take the next larger wire, or another family of fuses.",
    )
