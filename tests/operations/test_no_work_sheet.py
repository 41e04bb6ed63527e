"""What must not be built, or is not known well enough, gives no sheet; nor does bad input."""

import json
from pathlib import Path

import pytest

from lastvolt_service.api.problems import Refused

from .retrofit_circuits import headlamps, starter
from .test_relay_proposal import UNFIT
from .test_work_sheet import LONG, example, texts

CASES = Path(__file__).parents[1] / "trade" / "cases"
LISTS = (
    "wires", "parts", "terminals", "wiring", "old_wires", "interlocks", "order", "readings",
    "blanks",
)  # fmt: skip


def without_fuse(body, **more):
    body["proposal"]["feed"].pop(0)
    body["proposal"] |= more
    return body


def less(body, *fields):
    for each in fields:
        body["proposal"]["relay"].pop(each)
    return body


UNSAID = {
    "no word of a fuse": (lambda: without_fuse(example()), "not_known", "feed_fuse"),
    "no fuse": (lambda: without_fuse(example(), fuse="none"), "not_safe", "feed_fuse"),
    "no rating": (
        lambda: less(example(), "rating_a", "derating"), "not_known", "rating_given",
    ),
    "no word of a fuse, mending would do": (
        lambda: without_fuse(headlamps(switch_ohm=0.2)), "not_known", "feed_fuse",
    ),
    "no fuse, battery flat": (
        lambda: without_fuse(starter(rest_v=10.5, zone_c=92), fuse="none"),
        "not_safe",
        "feed_fuse",
    ),
    "no word of a fuse, battery flat": (
        lambda: without_fuse(starter(rest_v=10.5, zone_c=92)), "not_known", "feed_fuse",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", UNSAID)
def test_what_must_not_be_built_gives_nothing_to_take_along(run, name):
    make, state, code = UNSAID[name]
    answer = run("work-sheet", **make())
    assert answer.sheet == state
    assert answer.verdict == {"not_safe": "fail", "not_known": "unknown"}[state]
    assert code in {each.code for each in answer.missing}
    assert answer.missing[0].message in answer.headline
    assert answer.headline.startswith("No sheet")
    assert not any(getattr(answer, each) for each in LISTS)
    assert answer.meter_note is None


# Cases that a mechanic wrote without sight of any code: not to be built, or not before something is
# found out.
@pytest.mark.parametrize("name", ["c17", "c18", "s17", "s18"])
def test_what_a_mechanic_would_not_build_gives_no_sheet(run, name):
    case = json.loads((CASES / f"{name}.json").read_text("utf-8"))
    assert case["operation"] == "relay-retrofit"
    asked = {key: value for key, value in case["request"].items() if key != "explain"}
    answer = run("work-sheet", **asked)
    assert answer.verdict in case["verdicts"]
    assert answer.verdict in {"fail", "unknown"}
    assert not answer.order
    assert not answer.wiring


@pytest.mark.parametrize("name", UNFIT)
def test_an_unfit_relay_gives_no_sheet(run, name):
    make, (code, part) = UNFIT[name]
    body = make()
    if part == "relay fuse":
        body["proposal"]["feed"][0]["rating_a"] = 10
    answer = run("work-sheet", **body)
    assert answer.sheet == "not_safe"
    assert answer.verdict == "fail"
    assert (code, part) in {(each.code, each.part) for each in answer.missing}
    assert not answer.order


def test_a_relay_that_does_not_do_it_gives_no_sheet(run):
    body = starter(**LONG)
    body["circuit"]["loads"][0]["rated"]["pull_in_v"] = 11.9
    answer = run("work-sheet", **body)
    assert answer.sheet == "falls_short"
    assert answer.verdict == "fail"
    assert not answer.order


def test_what_is_to_be_mended_comes_before_the_relay_and_after_the_first_readings(run):
    body = starter(**LONG, strap=0.25)
    answer = run("work-sheet", **body)
    assert answer.advice == "mend_then_relay"
    assert "engine strap" in texts(answer, "mend_first")[0]
    # Mended before it is read nothing is proved, and nothing is mended with the battery on.
    codes = [each.code for each in answer.order]
    steps = ("read_before", "post_off", "mend_first", "mount", "read_after")
    assert [each for each in codes if each in steps] == list(steps)
    lamps = run("work-sheet", **headlamps(switch_ohm=0.2))
    assert lamps.advice == "mend"
    first = lamps.order[0]
    assert first.code == "advice_first"
    assert lamps.advice_headline in lamps.headline
    # A step of one line says what to do; numbers and what is not decided stand at the top.
    assert first.text.startswith("Before any of this: mend what the headline names")
    assert "once the first readings are taken" in first.text
    assert "Not decided" not in first.text
    lamps_wait = run("work-sheet", **headlamps(switch_ohm={"low": 0.005, "high": 0.2}))
    assert lamps_wait.advice == "find_out_first"
    assert lamps_wait.order[0].text.startswith("Before any of this: measure what the headline")


@pytest.mark.parametrize(
    ("field", "value", "pointer"),
    [
        ("colours", {"wire to the raer": "BK"}, "#/colours/wire%20to%20the%20raer"),
        ("colours", {"wire to the rear": 3}, "#/colours/wire%20to%20the%20rear"),
        ("slack_of_wire_percent", {"key fuse": 5}, "#/slack_of_wire_percent/key%20fuse"),
        ("slack_percent", -5, "#/slack_percent"),
        ("blade_mm", {"31": 6.3}, "#/blade_mm/31"),
        ("blade_mm", {"30": 0.1}, "#/blade_mm/30"),
        ("vehicle", "", "#/vehicle"),
        ("vehicle", "a\nb", "#/vehicle"),
    ],
)
def test_what_is_not_there_is_refused_where_it_stands(run, field, value, pointer):
    with pytest.raises(Refused) as found:
        run("work-sheet", **{**example(), field: value})
    assert pointer in str(found.value.errors)
