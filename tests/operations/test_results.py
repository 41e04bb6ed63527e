"""Verdicts, margins and words that all operations share."""

from importlib import metadata

import pytest

from lastvolt_service import tables
from lastvolt_service.operations.results import at_least, at_most, computed_by, judge, merge, show

MESSAGES = {"pass": "It holds.", "fail": "It does not."}


@pytest.mark.parametrize(
    ("margin", "scale", "verdict"),
    [
        (-1e-12, 10, "fail"),
        (0, 10, "marginal"),
        (0.999, 10, "marginal"),
        (1, 10, "pass"),
        (0.999, -10, "marginal"),
        (0, 0, "pass"),
    ],
)
def test_judge(margin, scale, verdict):
    assert judge(margin, scale) == verdict


@pytest.mark.parametrize(("value", "verdict"), [(9.9, "fail"), (10.5, "marginal"), (12, "pass")])
def test_at_least(value, verdict):
    check = at_least("a", value, 10.0, "V", "b", MESSAGES)
    assert (check.verdict, check.margin) == (verdict, value - 10)
    assert check.message.startswith(MESSAGES["fail" if verdict == "fail" else "pass"])
    assert check.message.endswith("The margin is small.") == (verdict == "marginal")


@pytest.mark.parametrize(("value", "verdict"), [(10.1, "fail"), (9.5, "marginal"), (8, "pass")])
def test_at_most(value, verdict):
    check = at_most("a", value, 10.0, "V", "b", MESSAGES)
    assert (check.verdict, check.margin) == (verdict, 10 - value)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.21749, "0.217 V"),
        (0.0, "0 V"),
        (-12.345, "-12.3 V"),
        (999.4, "999 V"),
        (999.5, "1000 V"),
        (1449.6, "1450 V"),
    ],
)
def test_show(value, said):
    assert show(value, "V") == said


def test_merge_keeps_order_and_drops_repeats():
    assert merge(("b", "a"), ("a", "c")) == ("b", "a", "c")


def test_computed_by_names_both_versions():
    assert computed_by().service == metadata.version("lastvolt")
    assert computed_by().tables == tables.version()
