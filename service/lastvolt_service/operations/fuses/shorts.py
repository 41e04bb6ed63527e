"""Short circuits behind a fuse: the largest that it has to interrupt, the least that opens it."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from lastvolt_service.laws import OHM, by, named, published
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    NOT_ASKED,
    UNKNOWN,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given, merge
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, pick
from lastvolt_service.tables import short_circuit as tables
from lastvolt_service.tables.fuses import Band, Family

GIVEN = Given("given by the caller")
_NOTHING = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)


class Feed(NamedTuple):
    """What feeds a fuse, and what lies behind it; NaN where it is not known.

    Attributes
    ----------
    supply_v : float or ndarray
        [V]
    source_ohm : float or ndarray
        Of battery and cables before the fuse, at its lowest. [ohm]
    loop_ohm : float or ndarray
        Of all that a short at the far end runs through behind the fuse, hot. [ohm]
    """

    supply_v: Numbers
    source_ohm: Numbers
    loop_ohm: Numbers


def judge_shorts(
    feed: Feed, family: Family, band: Band | None, cold_rating_a: Numbers
) -> dict[str, Judged]:
    """Judge the short circuits behind a fuse.

    Parameters
    ----------
    feed : Feed
        As above.
    family : Family
        Of the fuse.
    band : Band or None
        Its longest times.
    cold_rating_a : float or ndarray
        Its rating times what a cold place lets it hold more. [A]
    """
    supply_v, source_ohm = feed.supply_v, feed.source_ohm
    full_v = nominal_of(supply_v, NOT_GIVEN) * (tables.FULL_CELL_V / tables.CELL_NOMINAL_V)
    full_v = pick(given(supply_v), np.fmax(full_v, supply_v), NOT_GIVEN)
    most_a = named(
        "highest_short_a",
        by(OHM, full_v / pick(source_ohm > 0, source_ohm, NOT_GIVEN)),
        "short at the fuse, full and warm battery",
    )
    breaking = stays_within(most_a, family.breaking_capacity_a, 0.0)
    breaking = breaking._replace(verdict=pick(given(most_a), breaking.verdict, UNKNOWN))
    return {
        "breaking_capacity": breaking,
        "fuse_voltage": asked_if(given(supply_v), stays_within(full_v, family.rated_v, 0.0)),
        "far_short": _far_short(feed, band, cold_rating_a),
    }


def _far_short(feed: Feed, band: Band | None, cold_rating_a: Numbers) -> Judged:
    """Whether the least short circuit, at the far end and hot, opens the fuse soon enough."""
    good_ohm = published(
        "battery_ohm",
        tables.GOOD_BATTERY_OHM,
        "at most, of a good battery",
        tables.battery_citation(),
    )
    cold = published(
        "cold_multiple", tables.COLD_MULTIPLE, "of a cold battery", tables.cold_citation()
    )
    # Of what lies before the fuse no more than a good battery's share grows with the cold.
    source_ohm = pick(given(feed.source_ohm), feed.source_ohm, good_ohm)
    battery_ohm = pick(source_ohm < good_ohm, source_ohm, good_ohm)
    least_a = named(
        "lowest_short_a",
        by(OHM, feed.supply_v / (source_ohm + (cold - 1.0) * battery_ohm + feed.loop_ohm)),
        "short at the far end, cold battery and hot wire",
    )
    judged = judge_least(least_a, band, cold_rating_a)
    return judged._replace(verdict=pick(given(least_a), judged.verdict, UNKNOWN))


def judge_least(least_a: Numbers, band: Band | None, cold_rating_a: Numbers) -> Judged:
    """Judge whether a fault current opens a fuse: within `SHORT_TIME_S`, later, or not at all."""
    if band is None:
        return _NOTHING._replace(value=least_a)
    opens_a = band.opening_multiple * cold_rating_a
    soon = reaches(least_a, band.short_multiple * cold_rating_a, 0.0)
    verdict = pick(soon.verdict == FAIL, pick(least_a < opens_a, FAIL, MARGINAL), soon.verdict)
    return soon._replace(verdict=verdict)


def short_checks(judged: Mapping[str, Judged], family_basis: str) -> tuple[Checked, ...]:
    """Give the checks of short circuits."""
    return tuple(
        Checked(code, judged.get(code, _NOTHING._replace(verdict=NOT_ASKED)), unit, basis)
        for code, unit, basis in (
            ("breaking_capacity", "A", family_basis),
            ("fuse_voltage", "V", family_basis),
            ("far_short", "A", tables.five_seconds_citation()),
        )
    )


def shorts_basis() -> tuple[str, ...]:
    """Say what short circuits rest on."""
    return merge(
        (tables.five_seconds_citation(), tables.cold_citation(), tables.full_citation()),
        (tables.battery_citation(),),
    )
