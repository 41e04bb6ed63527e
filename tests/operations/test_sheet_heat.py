"""A sheet tells of the heat in which a load fails: where its relay goes, and when to read.

Common practice, no source: after a stop heat soaks through for a quarter of an hour or two, and a
load that is weak only then is read then, before and after.
"""

import pytest

from .test_sheet_like_plan import planned
from .test_work_sheet import texts

BAY = {"load": "fan", "distance_m": 3, "return_path": "body", "wear": "old"}


def soaked(sheet):
    """Whether it tells where heat soaks to, and to read in it."""
    said = [*texts(sheet, "mount"), *texts(sheet, "read_before"), *texts(sheet, "read_after")]
    found = {"after a stop" in each for each in said}
    assert len(said) == 3
    assert len(found) == 1
    return found.pop()


@pytest.mark.parametrize(
    "more",
    [
        {"fails": "gets_hot"},
        {"fails": "hot"},
        {"fails": "gets_hot", "load": "pump", "distance_m": 5},
        {"fails": "gets_hot", "load": "air_horns"},
    ],
    ids=["gets hot", "fails hot", "pump", "air horns"],
)
def test_heat_that_was_complained_of_is_on_the_sheet(run, more):
    _, sheet = planned(run, **BAY | more)
    assert sheet.sheet == "ready"
    assert soaked(sheet)
    assert "hot engine" in {each.case for line in sheet.readings for each in line.expected}


@pytest.mark.parametrize(
    "more",
    [{"fails": "always"}, {"fails": "cold"}, {"fails": "gets_hot", "load": "blower"}],
    ids=["always", "cold", "in the cabin"],
)
def test_no_heat_is_told_where_there_is_none(run, more):
    _, sheet = planned(run, **BAY | more)
    assert sheet.sheet == "ready"
    assert not soaked(sheet)
