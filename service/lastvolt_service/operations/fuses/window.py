"""The window of a fuse: from what its load needs up to what its wire bears."""

from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import NotCovered
from lastvolt_service.fields import ABSENT, choice, quantity
from lastvolt_service.laws import is_recording, named, published
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.fuses.overload import FusedWire, Overload, overload
from lastvolt_service.operations.fuses.profile import (
    Profile,
    ProfiledLoad,
    gates_citation,
    least_rating_a,
    no_inrush,
    profile_of,
)
from lastvolt_service.operations.fuses.shorts import Feed, judge_shorts
from lastvolt_service.operations.judging import (
    FAIL,
    NOT_ASKED,
    UNDECIDED,
    UNKNOWN,
    Fault,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.results import merge
from lastvolt_service.physics import fuse as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    Texts,
    Words,
    are,
    given,
    negate,
    number,
    pick,
    plain,
    some,
)
from lastvolt_service.tables import fuses as tables
from lastvolt_service.tables.practice import zones

_NOTHING = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_ASKED)


class FusedLoad(ProfiledLoad):
    """A load, and what its fuse has to bear."""

    fuse_ambient_c: Numbers = quantity(
        "temperature around the fuse, where it is not that of the wire",
        maximum=250.0,
        default=ABSENT,
    )
    fuse_family: Texts = choice(
        "family of fuses; by default the first of known operating times that has a rating which "
        "fits",
        tables.fuse_families(),
        default=ABSENT,
    )
    holder_rating_a: Numbers = quantity(
        "current that holder, socket and terminals of the fuse are rated for; by default the usual "
        "one of the family",
        minimum=1e-3,
        default=ABSENT,
    )
    source_resistance_ohm: Numbers = quantity(
        "of battery and cables up to the fuse, full and warm: for the largest short circuit",
        minimum=1e-5,
        maximum=10.0,
        default=ABSENT,
    )


class Window(NamedTuple):
    """What fuses may be; NaN or None where no rating lies inside.

    Attributes
    ----------
    columns : mapping of str to float, str, None, ndarray or Words
        By name of the result: rating and family found, the ends of the window (of the family
        found, else of the first one looked at), and the overload that is worst for the wire.
    ambient_c : float or ndarray
        Around the fuse. [degC]
    judged : mapping of str to Judged
        By code of the check.
    beyond : Fault
        Where the ambient is beyond what is known of fuses.
    """

    columns: Mapping[str, Any]
    ambient_c: Numbers
    judged: Mapping[str, Judged]
    beyond: Fault


class _Tried(NamedTuple):
    """The smallest rating of one family that carries the loads, held against all else."""

    rating_a: Numbers
    lower_a: Numbers
    upper_a: Numbers
    overload: Overload
    judged: dict[str, Judged]

    @property
    def fits_wire(self) -> Any:
        """Where nothing but its holder may say no."""
        found: Any = given(self.rating_a)
        for code in ("fuse_protects_wire", "fuse_overload"):
            found = found & (self.judged[code].verdict != FAIL)
        return found

    @property
    def fits(self) -> Any:
        """Where nothing says no."""
        return self.fits_wire & (self.judged["fuse_holder"].verdict != FAIL)


def fuse_window(asked: FusedLoad, fused: FusedWire, feed: Feed, ambient_c: Numbers) -> Window:
    """Find the window of fuses, and the smallest standard rating inside it.

    Parameters
    ----------
    asked : FusedLoad
        One load or many.
    fused : FusedWire
        What is to be protected.
    feed : Feed
        What feeds the fuse, and the loop behind it.
    ambient_c : float or ndarray
        Around the wire, and the fuse unless that is told. [degC]
    """
    is_placed, cool_c = given(asked.fuse_ambient_c), zones()["cabin"].ambient_c
    fuse_c = pick(is_placed, asked.fuse_ambient_c, ambient_c)
    # No fuse hangs where none may be, and some wires do.
    is_cooler: Any = negate(is_placed) & (ambient_c > tables.hottest_c())
    fuse_c = pick(is_cooler, cool_c, fuse_c)
    factor = _ambient_factor(fuse_c)
    profile = profile_of(asked)
    beyond = given(fuse_c) & negate(given(factor))
    found, chosen, done = _search(asked, profile, fused, feed, factor)
    is_cooler = is_cooler & done
    # That the fuse hangs where the wire does is assumed: in a cooler place there may be one.
    assumed = negate(is_placed) & (fuse_c > cool_c) & negate(done | beyond)
    if some(assumed):
        cool_c = published("fuse_ambient_c", cool_c, "in a fuse box", zones()["cabin"].citation)
        cooler = _search(asked, profile, fused, feed, _ambient_factor(cool_c), assumed)
        helps = assumed & cooler[2]
        found = _of(helps, cooler[0], found)
        chosen, done, is_cooler = pick(helps, cooler[1], chosen), done | helps, is_cooler | helps
        fuse_c = pick(helps, cool_c, fuse_c)
    # A usual first current that leaves no fuse is an estimate: without it there may be one.
    guessed = given(profile.first_a) & negate(given(asked.inrush_current_a)) & negate(done)
    if some(guessed):
        steady = profile._replace(first_a=NOT_GIVEN, first_time_s=NOT_GIVEN, decay_s=NOT_GIVEN)
        found, chosen, done = _without_first(
            guessed, (found, chosen, done), _search(asked, steady, fused, feed, factor, guessed)
        )
    family = _name(chosen, done)
    rating_a = pick(done, found.rating_a, NOT_GIVEN)
    if is_recording() and isinstance(family, str):
        meaning = f"smallest standard rating of {family} that carries the load"
        source = ratings_basis(family, number(rating_a))[-1]
        rating_a = published("fuse_rating_a", rating_a, meaning, source)
    judged = _of_empty(done, found, most_a(asked))
    shut = judged["fuse_window"]
    judged["fuse_window"] = shut._replace(verdict=pick(is_cooler, UNDECIDED, shut.verdict))
    judged["inrush"] = asked_if(done & no_inrush(profile), _NOTHING._replace(verdict=UNKNOWN))
    return Window(
        {
            "fuse_rating_a": rating_a,
            "fuse_family": family,
            "lower_a": found.lower_a,
            "upper_a": found.upper_a,
            "overload_current_a": pick(done, found.overload.current_a, NOT_GIVEN),
            "overload_time_s": pick(done, found.overload.time_s, NOT_GIVEN),
        },
        fuse_c,
        judged,
        Fault(
            beyond,
            NotCovered,
            ("ambient_c" if is_placed is False else "fuse_ambient_c",),
            tables.beyond_ambient,
        ),
    )


def _ambient_factor(fuse_c: Numbers) -> Numbers:
    return read_off(
        tables.ambient_curve(),
        fuse_c,
        "ambient_factor",
        "current that opens a fuse at its ambient, over that at 25 degC",
        along="ambient_c",
        below=NOT_GIVEN,
        above=NOT_GIVEN,
    )


_Searched = tuple[_Tried, Any, Any]


def _search(
    asked: FusedLoad,
    profile: Profile,
    fused: FusedWire,
    feed: Feed,
    factor: Numbers,
    wanted: Any = True,
) -> _Searched:
    """Try family after family: what was found, the place of its family, and where one fits.

    Where none does, the first is told of which only the holder is too small, else the first. What
    is found of those that are not `wanted` says nothing.
    """
    found: _Tried | None = None
    chosen: Any = -1
    done: Any = False
    barred: Any = False
    for place, name in enumerate(tables.fuse_families()):
        is_open = are(asked.fuse_family, name)
        if tables.band(name) is not None:  # one of unknown times is taken only where it is named
            is_open = is_open | negate(given(asked.fuse_family))
        looked_at = is_open & negate(done) & wanted
        if some(looked_at) or found is None:
            tried = _tried(asked, profile, fused, feed, factor, name, looked_at)
            fits = looked_at & tried.fits
            bars = looked_at & tried.fits_wire & negate(fits | barred)
            first = fits | bars | (looked_at & (chosen < 0))
            barred = barred | bars
            found = tried if found is None else _of(first, tried, found)
            chosen, done = pick(first, place, chosen), done | fits
    if found is None:
        raise TypeError("There are no fuses.")
    return found, chosen, done


def _without_first(guessed: Any, first: _Searched, steady: _Searched) -> _Searched:
    """Take the fuse of the steady current where the usual first one leaves none: undecided.

    Where that leaves none either, it is what is asked for, and no estimate.
    """
    asked_for, _, _ = first
    found, chosen, done = steady
    fits = guessed & done
    margin_a = found.rating_a - asked_for.lower_a
    carries = Judged(
        *(
            pick(fits, guess, sure)
            for guess, sure in zip(
                (found.rating_a, asked_for.lower_a, margin_a, UNDECIDED),
                found.judged["fuse_carries_load"],
                strict=True,
            )
        )
    )
    found = found._replace(judged={**found.judged, "fuse_carries_load": carries})
    return _of(guessed, found, asked_for), pick(guessed, chosen, first[1]), first[2] | fits


def _tried(
    asked: FusedLoad,
    profile: Profile,
    fused: FusedWire,
    feed: Feed,
    factor: Numbers,
    name: str,
    wanted: Any,
) -> _Tried:
    """Hold the smallest rating of a family that carries the loads against all that limits it."""
    band, family = tables.band(name), tables.families()[name]
    opening_multiple = published(
        "opening_multiple",
        tables.opening_multiple(name),
        "of its rating, at which it is sure to open",
        gates_citation(name),
    )
    upper_a = plain(
        physics.largest_rating_a(
            permissible_current_a=fused.permissible_a,
            opening_multiple=opening_multiple,
            ambient_factor=factor,
        )
    )
    lower_a = least_rating_a(profile, factor, name)
    ratings = _ratings(name)
    rating_a = plain(ratings[np.searchsorted(ratings[:-1], lower_a)])
    rating_a = pick(np.isfinite(rating_a), rating_a, NOT_GIVEN)
    cold_rating_a = rating_a * np.maximum(factor, 1.0)
    opens_a = plain(
        physics.opening_current_a(
            rating_a=rating_a, opening_multiple=opening_multiple, ambient_factor=factor
        )
    )
    # The multiple at which it is sure to open, and the practice of 75 %, are the margins.
    protects = stays_within(opens_a, fused.permissible_a, 0.0)
    # Where even that is too much nobody asks for larger currents.
    asks = wanted & given(rating_a) & (protects.verdict != FAIL)
    worst = overload(fused, band, cold_rating_a, asks)
    if band is None:
        verdict = pick(protects.verdict == FAIL, FAIL, UNKNOWN)
        protects = protects._replace(verdict=verdict)
    usual_a = family.holder_a
    holder_a = pick(given(asked.holder_rating_a), asked.holder_rating_a, usual_a)
    holder = stays_within(rating_a, holder_a, 0.0)
    return _Tried(
        rating_a,
        lower_a,
        named("upper_a", upper_a, "largest rating whose opening current the wire bears"),
        worst,
        {
            "fuse_carries_load": reaches(rating_a, lower_a, 0.0),
            "fuse_protects_wire": protects,
            "fuse_overload": worst.judged,
            "fuse_holder": asked_if(np.isfinite(holder_a), holder),
            **judge_shorts(feed, family, band, cold_rating_a),
        },
    )


def _of(where: Any, new: Any, old: Any) -> Any:
    """Take what was found of another family, row by row and part by part."""
    if isinstance(new, dict):
        return {name: _of(where, new[name], old[name]) for name in new}
    if isinstance(new, tuple):
        parts = [_of(where, one, other) for one, other in zip(new, old, strict=True)]
        return type(new)(*parts)  # named ones only
    return pick(where, new, old)


def most_a(asked: FusedLoad) -> Numbers:
    """Largest rating of the family that is asked for, else of all whose times are known. [A]."""
    largest = {name: _ratings(name)[-2] for name in tables.fuse_families()}
    most: Numbers = max(float(a) for name, a in largest.items() if tables.band(name) is not None)
    for name, each_a in largest.items():
        most = pick(are(asked.fuse_family, name), float(each_a), most)
    return most


def _of_empty(has_fuse: Any, found: _Tried, largest_a: Numbers) -> dict[str, Judged]:
    """Keep of an empty window what made it so, the first that says no."""
    judged = {code: asked_if(has_fuse, each) for code, each in found.judged.items()}
    is_empty = negate(has_fuse)
    # No larger wire makes good a family that ends before.
    ends = (found.lower_a > largest_a) & (found.upper_a > 0)
    crossed = stays_within(found.lower_a, pick(ends, largest_a, found.upper_a))
    too_large = negate(given(found.rating_a)) | (found.judged["fuse_protects_wire"].verdict == FAIL)
    judged["fuse_window"] = crossed._replace(verdict=pick(is_empty & too_large, FAIL, NOT_ASKED))
    told = too_large
    for code in ("fuse_overload", "fuse_holder"):
        says_no = is_empty & negate(told) & (found.judged[code].verdict == FAIL)
        verdict = pick(says_no, FAIL, judged[code].verdict)
        judged[code] = found.judged[code]._replace(verdict=verdict)
        told = told | says_no
    return judged


@cache
def _ratings(family: str) -> NDArray[np.float64]:
    """Ratings of known times, or all where none are; at their end one that nothing holds."""
    timed_from_a = tables.families()[family].timed_from_a
    every = [fuse.rating_a for fuse in tables.fuses(family)]
    timed = [rating_a for rating_a in every if rating_a >= timed_from_a]
    return np.array([*(timed or every), np.inf])


def _name(place: Any, has_fuse: Any) -> Texts:
    families = (*tables.fuse_families(), None)
    if isinstance(has_fuse, np.ndarray):
        return Words(families, np.where(has_fuse, place, len(families) - 1))
    return families[place] if has_fuse else None


@cache
def ratings_basis(family: str, rating_a: float | None) -> tuple[str, ...]:
    """What a rating of a family rests on, one found or any of them."""
    cited = [f.citation for f in tables.fuses(family) if rating_a in {f.rating_a, None}]
    return merge(cited or [tables.fuses(family)[0].citation])
