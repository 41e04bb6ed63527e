"""A relay's contact: carrying, closing on and breaking its load where it is mounted."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service import tables
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    Check,
    Result,
    merge,
    show,
    spoken,
    unknown,
)
from lastvolt_service.operations.solved import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    Judged,
    Solved,
    reaches,
    stays_within,
)
from lastvolt_service.physics.contact import derated_current, joule_power
from lastvolt_service.rows import Numbers, given, number, one_row, optional, pick
from lastvolt_service.tables.limits import contact_limits, inrush

MINIMUM_CURRENT_A = 0.1  # silver contacts; common practice, no source
GIVEN = "rating given by the caller"
CAUTIONS = (FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE)


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayContact(Result):
    """Answer of ``relay-contact``."""

    derated_current_a: Annotated[
        float | None, "current allowed at this ambient; null above the maker's last point"
    ]
    utilisation_percent: Annotated[float | None, "load current of that"]
    inrush_current_a: Annotated[float, "first current of the load, given or estimated"]
    inrush_estimated: Annotated[bool, "whether the inrush comes from a published multiple"]
    contact_drop_v: Annotated[float | None, "voltage across the closed contact"]
    contact_power_w: Annotated[float | None, "heat made in the closed contact"]


def relay_contact(
    *,
    rating_a: float,
    rating_ambient_c: float,
    derating: Sequence[Mapping[str, float]],
    supply_v: float,
    rated_v: float,
    load_current_a: float,
    load_kind: str,
    ambient_c: float,
    make_rating_a: float | None = None,
    inrush_current_a: float | None = None,
    contact_resistance_ohm: float | None = None,
    minimum_current_a: float | None = None,
) -> RelayContact:
    """Whether a relay's contact carries, closes on and breaks its load.

    The steady current is held against the rating at this ambient, interpolated between the
    maker's points and never beyond them; the inrush against the make rating; the supply against
    the rated DC voltage. An inrush that is not given is estimated from published multiples for
    the kind of load, at their high end.

    Returns
    -------
    RelayContact
    """
    multiple = inrush()[load_kind]
    solved = solve(
        rating_a=rating_a,
        rating_ambient_c=rating_ambient_c,
        derating=derating,
        make_rating_a=optional(make_rating_a),
        supply_v=supply_v,
        rated_v=rated_v,
        load_current_a=load_current_a,
        inrush_factor=multiple.highest_multiple,
        inrush_current_a=optional(inrush_current_a),
        contact_resistance_ohm=optional(contact_resistance_ohm),
        minimum_current_a=optional(minimum_current_a),
        ambient_c=ambient_c,
    )
    estimate = multiple.citation if inrush_current_a is None else ""
    steady, first, voltage, drop, least = solved.checks.items()
    return RelayContact(
        **one_row(solved.columns),
        inrush_estimated=inrush_current_a is None,
        checks=(
            _steady_check(*steady, ambient_c),
            _inrush_check(*first, estimate, own_limit=make_rating_a is not None),
            _voltage_check(*voltage),
            _drop_check(*drop),
            _least_check(*least, own_limit=minimum_current_a is not None),
        ),
        basis=merge((GIVEN,), (estimate,) if estimate else ()),
        cautions=CAUTIONS,
    )


def solve(
    *,
    rating_a: Numbers,
    rating_ambient_c: Numbers,
    derating: Sequence[Mapping[str, Numbers]],
    make_rating_a: Numbers,
    supply_v: Numbers,
    rated_v: Numbers,
    load_current_a: Numbers,
    inrush_factor: Numbers,
    inrush_current_a: Numbers,
    contact_resistance_ohm: Numbers,
    minimum_current_a: Numbers,
    ambient_c: Numbers,
) -> Solved:
    """Work out one contact or many; parameters as in requests, NaN where not given.

    Parameters
    ----------
    inrush_factor : float or ndarray
        Published multiple of the kind of load. [1]

    Returns
    -------
    Solved
    """
    allowed = derated_current(
        ambient_c=ambient_c,
        curve_ambient_c=[rating_ambient_c, *(point["ambient_c"] for point in derating)],
        curve_current_a=[rating_a, *(point["current_a"] for point in derating)],
    )
    measured = pick(inrush_current_a < load_current_a, load_current_a, inrush_current_a)
    first = pick(given(inrush_current_a), measured, inrush_factor * load_current_a)
    drop = load_current_a * contact_resistance_ohm
    own_limit = given(make_rating_a)
    closing = stays_within(first, pick(own_limit, make_rating_a, rating_a))
    # A rating for steady current says that a lower inrush is good, not that a higher one is bad.
    unproved = (first > rating_a) > own_limit
    least = pick(given(minimum_current_a), minimum_current_a, MINIMUM_CURRENT_A)
    smallest = reaches(load_current_a, least)
    return Solved(
        {
            "derated_current_a": allowed,
            "utilisation_percent": 100 * load_current_a / pick(allowed > 0, allowed, math.nan),
            "inrush_current_a": first,
            "contact_drop_v": drop,
            "contact_power_w": joule_power(
                current_a=load_current_a, resistance_ohm=contact_resistance_ohm
            ),
        },
        {
            "steady current": stays_within(load_current_a, allowed),
            "inrush": closing._replace(verdict=pick(unproved, UNKNOWN, closing.verdict)),
            # A rated voltage is made to be used in full: reaching it is no small margin.
            "rated voltage": stays_within(supply_v, rated_v, 0.0),
            "drop of the contact": stays_within(drop, contact_limits()["relay"].limit_v),
            # It may work for years: a matter of material, so never worse than marginal.
            "smallest current": smallest._replace(
                verdict=pick(smallest.verdict == FAIL, MARGINAL, smallest.verdict)
            ),
        },
    )


def _steady_check(name: str, judged: Judged, ambient_c: float) -> Check:
    at = show(ambient_c, "degC")
    if judged.verdict == UNKNOWN:
        return unknown(
            name,
            "A",
            GIVEN,
            f"No rating is given for {at}, and none is extrapolated: add the maker's derating up "
            "to there.",
            value=number(judged.value),
        )
    takes, may = show(judged.value, "A"), show(judged.limit, "A")
    return spoken(
        name,
        judged,
        "A",
        GIVEN,
        {
            "pass": f"The contact carries {takes} of the {may} it may carry at {at}.",
            "fail": f"The contact may carry {may} at {at} and the load takes {takes}: mount it "
            "cooler, or take a larger relay.",
        },
    )


def _inrush_check(name: str, judged: Judged, estimate: str, *, own_limit: bool) -> Check:
    how = " It is an estimate at the high end of published multiples; measure it." * bool(estimate)
    first, limit = show(judged.value, "A"), show(judged.limit, "A")
    if judged.verdict == UNKNOWN:
        return unknown(
            name,
            "A",
            estimate or GIVEN,
            f"The load starts with {first}, above the steady rating: give make_rating_a to judge "
            f"it.{how}",
            value=number(judged.value),
        )
    basis = GIVEN if own_limit else "steady rating, for want of a make rating"
    return spoken(
        name,
        judged,
        "A",
        f"{basis}; {estimate}" if estimate else basis,
        {
            "pass": f"The contact may close on {limit} and the load starts with {first}.{how}",
            "fail": f"The load starts with {first} and the contact may close on {limit}: it can "
            f"weld shut.{how}",
        },
    )


def _voltage_check(name: str, judged: Judged) -> Check:
    rated = show(judged.limit, "V")
    return spoken(
        name,
        judged,
        "V",
        GIVEN,
        {
            "pass": f"The contact may break {rated} DC.",
            "fail": f"The contact may break {rated} DC and the supply reaches "
            f"{show(judged.value, 'V')}: its arc may not go out. Take a relay made for this "
            "voltage.",
        },
    )


def _drop_check(name: str, judged: Judged) -> Check:
    limit = contact_limits()["relay"]
    if judged.verdict == UNKNOWN:
        return unknown(name, "V", limit.citation, "Give contact_resistance_ohm, or measure it.")
    drop = show(judged.value, "V")
    return spoken(
        name,
        judged,
        "V",
        limit.citation,
        {
            "pass": f"The contact drops {drop}, as a sound one does.",
            "fail": f"The contact drops {drop}, a sound one at most {show(limit.limit_v, 'V')}: "
            "it is worn or too small.",
        },
    )


def _least_check(name: str, judged: Judged, *, own_limit: bool) -> Check:
    enough = "The load is large enough to keep the contact clean."
    little = (
        f"{show(judged.value, 'A')} is too little to keep the contact clean: it may fail to "
        "conduct in time. Take a relay made for small loads."
    )
    return spoken(
        name,
        judged,
        "A",
        GIVEN if own_limit else tables.citation("relays", "minimum_current"),
        {"pass": enough, "marginal": little} if judged.margin < 0 else {"pass": enough},
    )
