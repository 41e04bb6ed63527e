"""The window of a fuse: from what its load needs up to what its wire bears."""

import math
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import NotCovered
from lastvolt_service.operations.results import (
    Check,
    merge,
    show,
    spoken,
    unknown,
)
from lastvolt_service.operations.solved import (
    FAIL,
    NOT_ASKED,
    UNKNOWN,
    Fault,
    Judged,
    Solved,
    asked_if,
    reaches,
    refuse,
    stays_within,
)
from lastvolt_service.physics import fuse as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    Texts,
    Words,
    are,
    given,
    number,
    optional,
    pick,
    plain,
    some,
)
from lastvolt_service.tables import fuses as tables

# Multiple of its rating that a fuse of any family need not interrupt for ever: the first gate of
# the blade fuses. From there to 135 % it may take its minutes, and so long the wire stays within
# the overload that its insulation is made for.
PROTECTION_MULTIPLE = 1.10


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
    solved = solve_window(
        load_current_a=load_current_a,
        inrush_current_a=inrush_current_a,
        inrush_time_s=inrush_time_s,
        permissible_current_a=permissible_current_a,
        fuse_ambient_c=fuse_ambient_c,
        family=family,
    )
    refuse(solved.faults)
    return window_of(solved, inrush=inrush_current_a > 0)


def window_of(solved: Solved, *, inrush: bool) -> Window:
    """Say what one window rests on.

    Parameters
    ----------
    solved : Solved
        As `solve_window` finds it.
    inrush : bool
        Whether the load has one.

    Returns
    -------
    Window
    """
    family = solved.aside["family"]
    rating = number(solved.columns["fuse_rating_a"])
    return Window(
        None if rating is None else family,
        rating,
        float(solved.columns["lower_a"]),
        float(solved.columns["upper_a"]),
        window_basis(family, rating, inrush=inrush),
    )


def solve_window(
    *,
    load_current_a: Numbers,
    inrush_current_a: Numbers,
    inrush_time_s: Numbers,
    permissible_current_a: Numbers,
    fuse_ambient_c: Numbers,
    family: Texts,
) -> Solved:
    """Find the windows of one fuse or many; parameters as in `fuse_window`.

    Returns
    -------
    Solved
        ``family`` stands aside: of the rating found, else the first looked at.
    """
    factor = tables.ambient_factors(fuse_ambient_c)
    upper = plain(
        physics.largest_rating_a(
            permissible_current_a=permissible_current_a,
            protection_multiple=PROTECTION_MULTIPLE,
            ambient_factor=factor,
        )
    )
    any_family = given(family) < True
    rating: Numbers = NOT_GIVEN
    lower: Numbers = NOT_GIVEN
    chosen: Any = -1
    for place, name in enumerate(tables.fuse_families()):
        looked_at = (any_family | are(family, name)) > given(rating)
        if not some(looked_at):
            continue
        needed = _lower_a(load_current_a, inrush_current_a, inrush_time_s, factor, name)
        ratings = _ratings(name)
        smallest = plain(ratings[np.searchsorted(ratings[:-1], needed)])
        inside = looked_at & (smallest <= upper)
        here = inside | (looked_at & (chosen < 0))
        rating = pick(inside, smallest, rating)
        lower, chosen = pick(here, needed, lower), pick(here, place, chosen)
    return Solved(
        {"fuse_rating_a": rating, "lower_a": lower, "upper_a": upper},
        {},
        (
            Fault(
                given(fuse_ambient_c) > given(factor),
                NotCovered,
                ("fuse_ambient_c",),
                tables.beyond_ambient,
            ),
        ),
        aside={"family": _name_of(chosen)},
    )


def _name_of(chosen: Any) -> Texts:
    families = tables.fuse_families()
    return Words((*families, None), chosen) if np.ndim(chosen) else families[chosen]


@cache
def _ratings(family: str) -> NDArray[np.float64]:
    """Ratings of a family, and at their end one that nothing holds."""
    return np.array([*(fuse.rating_a for fuse in tables.fuses(family)), math.inf])


def window_basis(family: str, rating_a: float | None, *, inrush: bool) -> tuple[str, ...]:
    """Say what a window rests on.

    Parameters
    ----------
    family : str
        Family looked at.
    rating_a : float or None
        Rating found; infinite for any of them. [A]
    inrush : bool
        Whether the load has one.

    Returns
    -------
    tuple of str
    """
    fuses = [f.citation for f in tables.fuses(family) if rating_a in {f.rating_a, math.inf}]
    return merge(
        (tables.continuous_citation(), tables.ambient_citation()),
        (_gates_basis(family),) if inrush else (),
        fuses,
    )


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
    return float(_carried_multiple(family, time_s)), _gates_basis(family)


def _carried_multiple(family: str, time_s: Numbers) -> Numbers:
    gates = tables.gates(family)
    if not gates:
        return 1.0
    return physics.carried_multiple(
        time_s=time_s,
        gate_multiple=np.array([gate.rating_multiple for gate in gates]),
        gate_shortest_s=np.array([gate.shortest_s for gate in gates]),
    )


def _gates_basis(family: str) -> str:
    gates = tables.gates(family)
    if gates:
        return gates[0].citation
    return f"{family}: operating times not known, trusted with its rating and no more"


def _lower_a(
    load_a: Numbers, inrush_a: Numbers, inrush_s: Numbers, ambient_factor: Numbers, family: str
) -> Numbers:
    has_inrush = inrush_a > 0
    multiple: Numbers = 1.0
    if some(has_inrush):
        multiple = pick(has_inrush, plain(_carried_multiple(family, inrush_s)), 1.0)
    found: Numbers = plain(
        physics.smallest_rating_a(
            load_current_a=load_a,
            continuous_share=tables.CONTINUOUS_SHARE,
            inrush_current_a=inrush_a,
            carried_multiple=multiple,
            ambient_factor=ambient_factor,
        )
    )
    return found


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
    judged = judge_window(
        optional(window.rating_a), window.lower_a, window.upper_a, bears_a, optional(inrush_a)
    )
    empty, carried, protected, inrush = judged.items()
    if window.rating_a is None:
        return (_empty(*empty),)
    found = (
        spoken(
            *carried,
            "A",
            tables.continuous_citation(),
            {"pass": f"The load needs a fuse of {show(window.lower_a, 'A')} or more."},
        ),
        spoken(
            *protected,
            "A",
            bears_basis,
            {
                "pass": f"The fuse holds {show(protected[1].value, 'A')} at most for ever and the "
                f"wire bears {show(bears_a, 'A')}."
            },
        ),
    )
    if inrush_a is not None:
        return found
    message = "Give inrush_current_a to be sure of it."
    return (*found, unknown(inrush[0], "A", "given by the caller", message))


def judge_window(
    rating_a: Numbers, lower_a: Numbers, upper_a: Numbers, bears_a: Numbers, inrush_a: Numbers
) -> dict[str, Judged]:
    """Judge windows.

    Parameters
    ----------
    rating_a : float or ndarray
        Rating found inside; NaN where there is none. [A]
    lower_a, upper_a : float or ndarray
        Ends of the windows. [A]
    bears_a : float or ndarray
        Steady current that the wire may carry. [A]
    inrush_a : float or ndarray
        First current of the load; NaN where it is not known. [A]

    Returns
    -------
    dict of str to Judged
    """
    has_fuse = given(rating_a)
    empty = stays_within(lower_a, upper_a)
    # What the fuse may hold for ever, cold as it may be: at the upper end just what the wire bears.
    held_a = bears_a * (rating_a / pick(upper_a > 0, upper_a, NOT_GIVEN))
    nothing = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
    return {
        "fuse window": empty._replace(verdict=pick(has_fuse, NOT_ASKED, FAIL)),
        # The practice of 75 %, and the multiple, are the margins.
        "fuse carries the load": asked_if(has_fuse, reaches(rating_a, lower_a, 0.0)),
        "fuse protects the wire": asked_if(has_fuse, stays_within(held_a, bears_a, 0.0)),
        "inrush": asked_if(has_fuse > given(inrush_a), nothing),
    }


def _empty(name: str, judged: Judged) -> Check:
    least, most = show(judged.value, "A"), show(judged.limit, "A")
    return spoken(
        name,
        judged,
        "A",
        tables.continuous_citation(),
        {
            "pass": "",
            "fail": f"The load needs a fuse of {least} or more and the wire bears one of {most} at "
            "most: take a larger wire, better insulation or a cooler place, or split the load."
            if judged.margin < 0
            else f"No standard rating lies between {least} and {most}: take the next larger wire, "
            "or another family of fuses.",
        },
    )
