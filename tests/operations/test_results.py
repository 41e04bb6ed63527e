"""Verdicts, margins and words that all operations share."""

from importlib import metadata

import pytest

from lastvolt_service import tables
from lastvolt_service.operations.judging import VERDICTS, reaches, stays_within, verdict_code
from lastvolt_service.operations.results import computed_by, merge, worst


@pytest.mark.parametrize(
    ("margin", "scale", "verdict"),
    [
        (-1e-12, 10, "fail"),
        (0, 10, "marginal"),
        (0.999, 10, "marginal"),
        (1, 10, "pass"),
        (0.999, -10, "marginal"),
        (0, 0, "pass"),
        (float("nan"), 10, "unknown"),
    ],
)
def test_a_margin_is_judged_by_its_scale(margin, scale, verdict):
    assert VERDICTS[int(verdict_code(margin, scale))] == verdict


@pytest.mark.parametrize(("value", "verdict"), [(9.9, "fail"), (10.5, "marginal"), (12, "pass")])
def test_reaches(value, verdict):
    judged = reaches(value, 10.0)
    assert (VERDICTS[int(judged.verdict)], judged.margin) == (verdict, value - 10)


@pytest.mark.parametrize(("value", "verdict"), [(10.1, "fail"), (9.5, "marginal"), (8, "pass")])
def test_stays_within(value, verdict):
    judged = stays_within(value, 10.0)
    assert (VERDICTS[int(judged.verdict)], judged.margin) == (verdict, 10 - value)


@pytest.mark.parametrize(
    ("verdicts", "found"),
    [
        ((), "unknown"),
        (("pass",), "pass"),
        (("pass", "marginal"), "marginal"),
        (("marginal", "unknown", "pass"), "unknown"),
        (("unknown", "undecided"), "undecided"),
        (("pass", "fail", "undecided"), "fail"),
    ],
)
def test_the_worst_verdict(verdicts, found):
    assert worst(verdicts) == found


def test_merge_keeps_order_and_drops_repeats():
    assert merge(("b", "a"), ("a", "c")) == ("b", "a", "c")


def test_computed_by_names_both_versions():
    assert computed_by().service == metadata.version("lastvolt")
    assert computed_by().tables == tables.version()
