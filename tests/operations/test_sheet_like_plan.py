"""A sheet shows what the plan told, whatever of it is posted on: relay, fuse, wire, way back.

Common practice, no source: half of what a load with a wire back loses is lost on that.
"""

import json

import pytest

from lastvolt_service.api.answers import to_json
from lastvolt_service.api.problems import Refused

from .retrofit_circuits import starter
from .test_quick_several import _without_nulls

WORN = {"system_v": 12, "wear": "very_old", "fails": "always", "return_path": "wire"}


def planned(run, **more):
    """A quick answer as JSON, and the sheet for its relay as a caller goes on with it."""
    quick = json.loads(to_json(run("quick-answer", **(WORN | more))))
    full = _without_nulls(quick["request"])
    kept = {key: full[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    sheet = run("work-sheet", **kept, proposal=full["ways"][0]["relay"])
    return next(each for each in quick["plan"] if each["code"] == "relay"), sheet


@pytest.mark.parametrize(
    ("load", "more"), [("pump", {}), ("blower", {}), ("other", {"current_a": 12})]
)
def test_a_return_wire_of_the_plan_is_on_the_sheet(run, load, more):
    step, sheet = planned(run, load=load, distance_m=5, **more)
    assert "return wire as thick" in step["message"]
    assert sheet.sheet == "ready"
    (back,) = [each for each in sheet.wires if each.name == "return wire"]
    assert back.size == step["size"]
    assert back.length_m == 5
    (line,) = [each for each in sheet.wiring if each.wire == "return wire"]
    assert (line.from_terminal, line.to_part) == ("load out", "return")
    (draw,) = [each.text for each in sheet.order if each.code == "draw_anew"]
    assert step["size"] in draw
    codes = [each.code for each in sheet.order]
    assert codes.index("read_before") < codes.index("draw_anew") < codes.index("read_after")


@pytest.mark.parametrize(
    "more", [{"wire": "10 AWG"}, {"return_path": "body"}, {"load": "starter_solenoid"}]
)
def test_a_return_that_is_none_or_thick_enough_is_not_drawn_anew(run, more):
    _, sheet = planned(run, **{"load": "pump", "distance_m": 5} | more)
    assert "draw_anew" not in {each.code for each in sheet.order}
    assert "return wire" not in {each.name for each in sheet.wires}


@pytest.mark.parametrize("load", ["pump", "fan", "headlamps", "heated_screen"])
def test_the_sheet_has_the_sizes_of_the_plan(run, load):
    step, sheet = planned(run, load=load, distance_m=4)
    feed = next(each for each in sheet.wires if "feed" in each.name)
    ratings = {each.code: each.rating_a for each in sheet.parts}
    assert feed.size == step["size"]
    assert (ratings["fuse"], ratings["relay"]) == (step["fuse_a"], step["relay_a"])


def test_a_wire_in_the_place_of_none_is_pointed_at(run):
    body = starter()
    body["proposal"]["wires"] = [
        {"name": "no such", "kind": "wire", "size": "10 AWG", "length_m": 1}
    ]
    with pytest.raises(Refused) as found:
        run("relay-retrofit", **body)
    assert "/proposal/wires/0/name" in str(found.value.errors)


@pytest.mark.parametrize(
    ("family", "said"),
    [("blade C", "standard"), ("blade F", "mini"), ("blade E", "maxi"), (None, None)],
)
def test_a_fuse_is_called_what_a_shop_calls_it(run, family, said):
    """ISO 8820-3 names its types C, E and F; nobody asks for those over a counter."""
    body = starter()
    fuse = next(e for e in body["proposal"]["feed"] if e.get("part") == "fuse")
    fuse.pop("fuse_family", None)
    if family is not None:
        fuse["fuse_family"] = family
    sheet = run("work-sheet", **body)
    texts = [each.text for each in sheet.parts if each.code == "fuse"]
    assert sheet.sheet == "ready"
    words = {each for each in ("standard", "mini", "maxi") if each in texts[0]}
    assert words == ({said} if said else set())
