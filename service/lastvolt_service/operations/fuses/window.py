"""The window of a fuse: from what its load needs up to what its wire bears."""

import math
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import NotCovered
from lastvolt_service.fields import ABSENT, Fields, choice, quantity
from lastvolt_service.laws import is_recording, named, published
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.judging import (
    FAIL,
    NOT_ASKED,
    UNKNOWN,
    Fault,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given, merge
from lastvolt_service.physics import fuse as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    Texts,
    Words,
    are,
    count_of,
    given,
    negate,
    number,
    pick,
    plain,
    some,
)
from lastvolt_service.tables import fuses as tables

# Multiple of its rating that a fuse of any family need not interrupt for ever: the first gate of
# the blade fuses. From there to 135 % it may take its minutes, and so long the wire stays within
# the overload that its insulation is made for.
PROTECTION_MULTIPLE = 1.10
FIRST_GATE = "first gate of the blade fuses: a multiple that they need not interrupt"
GIVEN = Given("given by the caller")


class FusedLoad(Fields):
    """A load, and what its fuse has to bear."""

    load_current_a: Numbers = quantity("steady current of the load", minimum=1e-6)
    inrush_current_a: Numbers = quantity("first current of the load", default=ABSENT)
    inrush_time_s: Numbers = quantity(
        "how long the first current flows", minimum=1e-3, maximum=3600.0, default=0.1
    )
    fuse_ambient_c: Numbers = quantity(
        "temperature around the fuse, where it is not that of the wire",
        maximum=250.0,
        default=ABSENT,
    )
    fuse_family: Texts = choice(
        "family of fuses; by default the first that has a rating which fits",
        tables.fuse_families(),
        default=ABSENT,
    )


class Window(NamedTuple):
    """What fuses may be; NaN or None where no rating lies inside.

    Attributes
    ----------
    rating_a : float or ndarray
        Smallest standard rating inside. [A]
    lower_a, upper_a : float or ndarray
        Ends of the window, of the family found, else of the first one looked at. [A]
    family : str, None or Words
        Of the rating.
    ambient_c : float or ndarray
        Around the fuse. [degC]
    judged : mapping of str to Judged
        By code of the check.
    beyond : Fault
        Where the ambient is beyond what is known of fuses.
    """

    rating_a: Numbers
    lower_a: Numbers
    upper_a: Numbers
    family: Texts
    ambient_c: Numbers
    judged: Mapping[str, Judged]
    beyond: Fault


def fuse_window(asked: FusedLoad, permissible_current_a: Numbers, ambient_c: Numbers) -> Window:
    """Find the window of fuses, and the smallest standard rating inside it.

    Parameters
    ----------
    asked : FusedLoad
        One load or many.
    permissible_current_a : float or ndarray
        Steady current that the wire may carry. [A]
    ambient_c : float or ndarray
        Around the wire, and the fuse unless that is told. [degC]
    """
    fuse_c = pick(given(asked.fuse_ambient_c), asked.fuse_ambient_c, ambient_c)
    factor = read_off(
        tables.ambient_curve(),
        fuse_c,
        "ambient_factor",
        "current that opens a fuse at its ambient, over that at 25 degC",
        along="ambient_c",
        below=NOT_GIVEN,
        above=NOT_GIVEN,
    )
    upper_a = named(
        "upper_a",
        plain(
            physics.largest_rating_a(
                permissible_current_a=permissible_current_a,
                protection_multiple=published(
                    "protection_multiple", PROTECTION_MULTIPLE, "multiple held for ever", FIRST_GATE
                ),
                ambient_factor=factor,
            )
        ),
        "largest rating that protects the wire",
    )
    rating_a, lower_a = NOT_GIVEN, NOT_GIVEN
    chosen: Any = -1
    for place, name in enumerate(tables.fuse_families()):
        is_open = negate(given(asked.fuse_family)) | are(asked.fuse_family, name)
        looked_at = is_open & negate(given(rating_a))
        if some(looked_at) or not place:
            needed_a = _lower_a(asked, factor, name)
            ratings = _ratings(name)
            smallest_a = plain(ratings[np.searchsorted(ratings[:-1], needed_a)])
            inside = looked_at & (smallest_a <= upper_a)
            first = inside | (looked_at & (chosen < 0))
            rating_a = pick(inside, smallest_a, rating_a)
            lower_a, chosen = pick(first, needed_a, lower_a), pick(first, place, chosen)
    family = _name(chosen, given(rating_a))
    if is_recording() and isinstance(family, str):
        meaning = f"smallest standard rating of {family} between lower_a and upper_a"
        source = window_basis(asked, rating_a, family)[-1]
        rating_a = published("fuse_rating_a", rating_a, meaning, source)
    return Window(
        rating_a,
        lower_a,
        upper_a,
        family,
        fuse_c,
        _judged(asked, rating_a, lower_a, upper_a, permissible_current_a),
        Fault(
            given(fuse_c) & negate(given(factor)),
            NotCovered,
            ("fuse_ambient_c",),
            tables.beyond_ambient,
        ),
    )


def _lower_a(asked: FusedLoad, ambient_factor: Numbers, family: str) -> Numbers:
    steady_a: Numbers = physics.carrying_rating_a(
        current_a=asked.load_current_a,
        carried_multiple=published(
            "continuous_share",
            tables.CONTINUOUS_SHARE,
            "share of its rating that it carries for ever",
            tables.continuous_citation(),
        ),
        ambient_factor=ambient_factor,
    )
    has_inrush = asked.inrush_current_a > 0
    if some(has_inrush):
        first_a = physics.carrying_rating_a(
            current_a=asked.inrush_current_a,
            carried_multiple=_carried_multiple(family, asked.inrush_time_s),
            ambient_factor=ambient_factor,
        )
        steady_a = pick(has_inrush & (first_a > steady_a), first_a, steady_a)
    lower_a: Numbers = plain(steady_a)
    return named("lower_a", lower_a, "smallest rating that carries the load and its inrush")


def _carried_multiple(family: str, time_s: Numbers) -> Numbers:
    curve = tables.carried_curve(family)
    if curve is None:
        return published("carried_multiple", 1.0, "of its rating, and no more", _gates(family))
    return read_off(
        curve,
        time_s,
        "carried_multiple",
        "multiple of its rating that it is sure to carry so long",
        along="inrush_time_s",
        logarithmic=True,
    )


def carried_multiple_of(family: str, time_s: float) -> tuple[float, str]:
    """Tell what multiple of its rating a fuse is sure to carry for a time, and who says so. [s]."""
    return float(_carried_multiple(family, time_s)), _gates(family)


def _gates(family: str) -> str:
    curve = tables.carried_curve(family)
    if curve is None:
        return f"{family}: operating times not known, trusted with its rating and no more"
    return curve.citation


@cache
def _ratings(family: str) -> NDArray[np.float64]:
    """Ratings of a family, and at their end one that nothing holds."""
    return np.array([*(fuse.rating_a for fuse in tables.fuses(family)), math.inf])


def _name(place: Any, has_fuse: Any) -> Texts:
    families = (*tables.fuse_families(), None)
    if isinstance(has_fuse, np.ndarray):
        return Words(families, np.where(has_fuse, place, len(families) - 1))
    return families[place] if has_fuse else None


def _judged(
    asked: FusedLoad, rating_a: Numbers, lower_a: Numbers, upper_a: Numbers, bears_a: Numbers
) -> dict[str, Judged]:
    has_fuse = given(rating_a)
    empty = stays_within(lower_a, upper_a)
    # What the fuse may hold for ever, cold as it may be: at the upper end just what the wire bears.
    held_a = bears_a * (rating_a / pick(upper_a > 0, upper_a, NOT_GIVEN))
    nothing = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
    return {
        "fuse_window": empty._replace(verdict=pick(has_fuse, NOT_ASKED, FAIL)),
        # The practice of 75 %, and the multiple, are the margins.
        "fuse_carries_load": asked_if(has_fuse, reaches(rating_a, lower_a, 0.0)),
        "fuse_protects_wire": asked_if(has_fuse, stays_within(held_a, bears_a, 0.0)),
        "inrush": asked_if(has_fuse & negate(given(asked.inrush_current_a)), nothing),
    }


def window_checks(judged: Mapping[str, Judged], bears_basis: str) -> tuple[Checked, ...]:
    """Give the checks of a window, the wire's permissible current being someone's word."""
    share = tables.continuous_citation()
    return (
        Checked("fuse_window", judged["fuse_window"], "A", share),
        Checked("fuse_carries_load", judged["fuse_carries_load"], "A", share),
        Checked("fuse_protects_wire", judged["fuse_protects_wire"], "A", bears_basis),
        Checked("inrush", judged["inrush"], "A", GIVEN),
    )


def window_basis(asked: FusedLoad, rating_a: Numbers, family: Texts) -> tuple[str, ...]:
    """Say what the window of one rests on, or those of many: on all families."""
    has_inrush = some(asked.inrush_current_a > 0)
    if count_of(asked) is not None:
        every = (_basis(each, math.inf, has_inrush) for each in tables.fuse_families())
        return merge(*every)
    looked_at = family or asked.fuse_family or tables.fuse_families()[0]
    return _basis(str(looked_at), number(rating_a), has_inrush)


@cache
def _basis(family: str, rating_a: float | None, has_inrush: bool) -> tuple[str, ...]:
    """What a rating of a family rests on, one found or, where it is infinite, any of them."""
    return merge(
        (tables.continuous_citation(), tables.ambient_citation()),
        (_gates(family),) if has_inrush else (),
        [f.citation for f in tables.fuses(family) if rating_a in {f.rating_a, math.inf}],
    )
