"""Before a sheet's relay is fitted the old wire is tried: many a horn button is on the ground side.

Common practice, no source: such a horn is live at all times. Its relay takes 30 and 86 from the
fuse, 85 goes to the wire from the button, and the horn's other terminal to the ground.
"""

import json

import pytest

from lastvolt_service.api.answers import to_json

from .test_quick_several import _without_nulls
from .test_sheet_like_plan import WORN, planned
from .test_work_sheet import EXAMPLE, horn, texts


@pytest.mark.parametrize("load", ["horn", "air_horns", "fan"])
def test_a_switch_on_the_live_side_is_tried_before_anything_comes_off(run, load):
    _, sheet = planned(run, load=load, current_a=12, distance_m=3, return_path="body")
    (side,) = texts(sheet, "try_side")
    for each in ("30 and 86 to the fuse", "85 to the wire from", "Ask again"):
        assert each in side
    codes = [each.code for each in sheet.order]
    assert codes.index("try_side") < codes.index("post_off") < codes.index("old_lead_off")


def test_positive_ground_has_no_wiring_of_negative_ground(run):
    """There the fused wire is minus, and 86 of a relay with a diode takes plus: it would short."""
    _, sheet = planned(
        run, load="air_horns", current_a=12, distance_m=3, return_path="positive_body"
    )
    (side,) = texts(sheet, "try_side")
    assert "Ask again" in side
    assert "86" not in side


def test_a_button_known_to_ground_has_its_wiring_and_is_not_asked_about(run):
    sheet = run("work-sheet", **horn())
    assert texts(sheet, "try_side") == []
    (at_85,) = [each for each in sheet.wiring if each.to_terminal == "85"]
    (at_86,) = [each for each in sheet.wiring if each.to_terminal == "86"]
    assert (at_85.from_part, at_86.from_part) == ("from the horns", "to the horns")


def test_nobody_looks_for_a_grounded_key(run):
    assert texts(run("work-sheet", **EXAMPLE), "try_side") == []


@pytest.mark.parametrize(("load", "code"), [("headlamps", "shows_one_beam"),
                                            ("wipers", "shows_one_speed")])  # fmt: skip
def test_a_sheet_for_one_of_several_says_so_first(run, load, code):
    """Whoever builds one relay of two for a pair of beams has half of them."""
    worn = {"load": load, "distance_m": 5, "wire": "1 mm2", "switch_to_be_had": False}
    quick = json.loads(to_json(run("quick-answer", **WORN | worn | {"return_path": "body"})))
    full = _without_nulls(quick["request"])
    kept = {key: full[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    sheet = run("work-sheet", **kept, proposal=full["ways"][0]["relay"])
    assert sheet.sheet == "ready"
    assert sheet.order[0].code == code
    assert "relay, a fuse and leads of its own" in sheet.order[0].text
