"""A relay's contact: carrying, closing on and breaking its load where it is mounted."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from lastvolt_service import tables
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    Check,
    Result,
    at_least,
    at_most,
    merge,
    show,
    unknown,
)
from lastvolt_service.physics.contact import derated_current, joule_power
from lastvolt_service.tables.limits import contact_limits, inrush

MINIMUM_CURRENT_A = 0.1  # silver contacts; common practice, no source
GIVEN = "rating given by the caller"


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
    derated = float(
        derated_current(
            ambient_c=ambient_c,
            curve_ambient_c=np.array([rating_ambient_c, *(p["ambient_c"] for p in derating)]),
            curve_current_a=np.array([rating_a, *(p["current_a"] for p in derating)]),
        )
    )
    allowed = None if math.isnan(derated) else derated
    estimated = inrush_current_a is None
    multiple = inrush()[load_kind]
    first = (
        multiple.highest_multiple * load_current_a
        if inrush_current_a is None
        else max(inrush_current_a, load_current_a)
    )
    ohm = contact_resistance_ohm
    drop = None if ohm is None else load_current_a * ohm
    heat = None
    if ohm is not None:
        heat = float(joule_power(current_a=load_current_a, resistance_ohm=ohm))
    return RelayContact(
        derated_current_a=allowed,
        utilisation_percent=100 * load_current_a / allowed if allowed else None,
        inrush_current_a=first,
        inrush_estimated=estimated,
        contact_drop_v=drop,
        contact_power_w=heat,
        checks=(
            _steady_check(load_current_a, allowed, ambient_c),
            _inrush_check(first, make_rating_a, rating_a, multiple.citation if estimated else ""),
            _voltage_check(supply_v, rated_v),
            _drop_check(drop),
            _least_check(load_current_a, minimum_current_a),
        ),
        basis=merge((GIVEN,), (multiple.citation,) if estimated else ()),
        cautions=(FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE),
    )


def _steady_check(load_a: float, allowed: float | None, ambient_c: float) -> Check:
    name = "steady current"
    there = f"at {show(ambient_c, 'degC')}"
    if allowed is None:
        return unknown(
            name,
            "A",
            GIVEN,
            f"No rating is given for {show(ambient_c, 'degC')}, and none is extrapolated: add "
            "the maker's derating up to there.",
            value=load_a,
        )
    return at_most(
        name,
        load_a,
        allowed,
        "A",
        GIVEN,
        {
            "pass": f"The contact carries {show(load_a, 'A')} of the {show(allowed, 'A')} it "
            f"may carry {there}.",
            "fail": f"The contact may carry {show(allowed, 'A')} {there} and the load takes "
            f"{show(load_a, 'A')}: mount it cooler, or take a larger relay.",
        },
    )


def _inrush_check(
    first: float, make_rating_a: float | None, rating_a: float, estimate: str
) -> Check:
    name = "inrush"
    how = " It is an estimate at the high end of published multiples; measure it." * bool(estimate)
    limit, basis = make_rating_a, GIVEN
    if limit is None:
        if first > rating_a:
            return unknown(
                name,
                "A",
                estimate or GIVEN,
                f"The load starts with {show(first, 'A')}, above the steady rating: give "
                f"make_rating_a to judge it.{how}",
                value=first,
            )
        limit, basis = rating_a, "steady rating, for want of a make rating"
    return at_most(
        name,
        first,
        limit,
        "A",
        f"{basis}; {estimate}" if estimate else basis,
        {
            "pass": f"The contact may close on {show(limit, 'A')} and the load starts with "
            f"{show(first, 'A')}.{how}",
            "fail": f"The load starts with {show(first, 'A')} and the contact may close on "
            f"{show(limit, 'A')}: it can weld shut.{how}",
        },
    )


def _voltage_check(supply_v: float, rated_v: float) -> Check:
    # A rated voltage is made to be used in full: reaching it is no small margin.
    margin = rated_v - supply_v
    good = margin >= 0
    return Check(
        "rated voltage",
        "pass" if good else "fail",
        supply_v,
        rated_v,
        "V",
        margin,
        GIVEN,
        f"The contact may break {show(rated_v, 'V')} DC."
        if good
        else f"The contact may break {show(rated_v, 'V')} DC and the supply reaches "
        f"{show(supply_v, 'V')}: its arc may not go out. Take a relay made for this voltage.",
    )


def _drop_check(drop: float | None) -> Check:
    name = "drop of the contact"
    limit = contact_limits()["relay"]
    if drop is None:
        return unknown(name, "V", limit.citation, "Give contact_resistance_ohm, or measure it.")
    return at_most(
        name,
        drop,
        limit.limit_v,
        "V",
        limit.citation,
        {
            "pass": f"The contact drops {show(drop, 'V')}, as a sound one does.",
            "fail": f"The contact drops {show(drop, 'V')}, a sound one at most "
            f"{show(limit.limit_v, 'V')}: it is worn or too small.",
        },
    )


def _least_check(load_a: float, minimum_a: float | None) -> Check:
    least = MINIMUM_CURRENT_A if minimum_a is None else minimum_a
    basis = GIVEN if minimum_a is not None else tables.citation("relays", "minimum_current")
    check = at_least(
        "smallest current",
        load_a,
        least,
        "A",
        basis,
        {
            "pass": "The load is large enough to keep the contact clean.",
            "fail": f"{show(load_a, 'A')} is too little to keep the contact clean: it may fail "
            "to conduct in time. Take a relay made for small loads.",
        },
    )
    # It may work for years: a matter of material, so never worse than marginal.
    if check.verdict == "fail":
        return Check(
            "smallest current", "marginal", load_a, least, "A", check.margin, basis, check.message
        )
    return check
