"""The checks of a fuse window, and what they rest on."""

from collections.abc import Mapping
from functools import cache

from lastvolt_service.operations.fuses.overload import BASIS
from lastvolt_service.operations.fuses.profile import (
    CRANKING,
    gates_citation,
    profile_of,
)
from lastvolt_service.operations.fuses.shorts import short_checks, shorts_basis
from lastvolt_service.operations.fuses.window import FusedLoad, most_a, ratings_basis
from lastvolt_service.operations.judging import (
    UNDECIDED,
    Judged,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given, merge
from lastvolt_service.rows import (
    Numbers,
    Texts,
    are,
    count_of,
    given,
    number,
    some,
    text_if,
)
from lastvolt_service.tables import fuses as tables

GIVEN = Given("given by the caller")


def window_checks(
    asked: FusedLoad, judged: Mapping[str, Judged], fuse_family: Texts, bears_basis: str
) -> tuple[Checked, ...]:
    """Give the checks of a window, the wire's permissible current being someone's word."""
    share = tables.continuous_citation()
    family = _family_told(asked, fuse_family)
    of_family = tables.families()[family]
    gates = gates_citation(family)
    holder: str = GIVEN if some(given(asked.holder_rating_a)) else of_family.holder_citation
    shut = judged["fuse_window"]
    why = (
        text_if(are(asked.load_profile, CRANKING), "cranking", "")
        or text_if(shut.limit <= 0.0, "nothing_left", "")
        or text_if(shut.verdict == UNDECIDED, "fuse_place", "")
        or text_if(shut.limit == most_a(asked), "family_ends", "")
        or None
    )
    return (
        Checked("fuse_window", shut, "A", share, detail=why),
        Checked("fuse_carries_load", judged["fuse_carries_load"], "A", share),
        Checked("fuse_protects_wire", judged["fuse_protects_wire"], "A", f"{gates}; {bears_basis}"),
        Checked(
            "fuse_overload",
            judged["fuse_overload"],
            "degC",
            f"{gates}; {BASIS}",
            detail="unknown_times" if tables.band(family) is None else None,
        ),
        Checked("fuse_holder", judged["fuse_holder"], "A", holder),
        *short_checks(judged, of_family.citation),
        Checked("inrush", judged["inrush"], "A", GIVEN),
    )


def _family_told(asked: FusedLoad, fuse_family: Texts) -> str:
    """The family of one answer; of many the first, as columns carry no such texts."""
    for texts in (fuse_family, asked.fuse_family):
        if isinstance(texts, str):
            return texts
    return tables.fuse_families()[0]


def window_basis(asked: FusedLoad, rating_a: Numbers, fuse_family: Texts) -> tuple[str, ...]:
    """Say what the window of one rests on, or those of many: on all families."""
    shared = merge(
        (tables.continuous_citation(), tables.ambient_citation()),
        profile_of(asked).basis,
        shorts_basis(),
    )
    if count_of(asked) is not None:
        every = (_basis(each, None) for each in tables.fuse_families())
        return merge(shared, *every)
    return merge(shared, _basis(_family_told(asked, fuse_family), number(rating_a)))


@cache
def _basis(family: str, rating_a: float | None) -> tuple[str, ...]:
    of_family = tables.families()[family]
    return merge(
        (gates_citation(family), of_family.citation, of_family.holder_citation),
        ratings_basis(family, rating_a),
    )
