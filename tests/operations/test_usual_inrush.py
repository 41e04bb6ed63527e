"""A usual first current is an estimate: it makes no wire larger by itself, and is measured.

Common practice: 15 A blade fuses and 14 AWG feed two headlamps of 55 W everywhere.
"""

import pytest

from lastvolt_service.operations.judging import VERDICTS

HEADLAMPS = {
    "load_current_a": 9, "load_profile": "lamp", "size": "14 AWG", "insulation": "GXL",
    "zone": "engine_bay",
}  # fmt: skip
FAN = {**HEADLAMPS, "load_current_a": 9.5, "load_profile": "motor"}


def judged(found):
    return {check.code: check for check in found.checks}


@pytest.mark.parametrize(("asked", "rating_a"), [(HEADLAMPS, 15), (FAN, 15)])
def test_a_fuse_that_only_the_usual_inrush_rules_out_is_undecided(run, asked, rating_a):
    found = run("fuse-selection", **asked)
    carries = judged(found)["fuse_carries_load"]
    assert (carries.verdict, found.fuse_rating_a) == ("undecided", rating_a)
    assert carries.limit > found.fuse_rating_a
    assert "inrush_current_a" in carries.message
    assert "fuse_window" not in judged(found)
    assert "Not decided" in found.headline


def test_a_measured_first_current_decides(run):
    mild = run("fuse-selection", **HEADLAMPS, inrush_current_a=20, inrush_time_s=0.05)
    assert judged(mild)["fuse_carries_load"].verdict == "pass"
    hard = run("fuse-selection", **HEADLAMPS, inrush_current_a=200, inrush_time_s=1)
    assert judged(hard)["fuse_window"].verdict == "fail"


def test_too_large_a_load_fails_whatever_its_start(run):
    found = run("fuse-selection", **{**HEADLAMPS, "load_current_a": 40})
    assert judged(found)["fuse_window"].verdict == "fail"


def test_sizing_asks_for_no_larger_wire_for_an_estimate(run):
    asked = {key: value for key, value in HEADLAMPS.items() if key != "size"}
    way = {"supply_v": 13.8, "length_m": 3, "return_path": "body", "source_resistance_ohm": 0.02}
    sizes = []
    for amps in (6, 8, 9, 10, 12, 15, 20, 30):
        found = run("wire-sizing", **{**asked, **way, "load_current_a": amps})
        sizes.append(found.area_mm2)
    assert sizes == sorted(sizes)


def test_columns_say_the_same(client):
    rows = [HEADLAMPS, FAN, {**HEADLAMPS, "load_current_a": 2}, {**HEADLAMPS, "load_current_a": 40}]
    columns = {key: [row[key] for row in rows] for key in HEADLAMPS}
    batch = client.post("/v1/batch/fuse-selection", json={"columns": columns}).json
    single = [client.post("/v1/fuse-selection", json=row).json for row in rows]
    got = batch["columns"]
    assert got["fuse_rating_a"] == [each["fuse_rating_a"] for each in single]
    assert [VERDICTS[code] for code in got["verdict"]] == [each["verdict"] for each in single]


def test_no_estimate_is_asked_for_where_the_steady_current_leaves_no_fuse(run):
    """22 A of a fan: by its running current alone the wire bears none, whatever it starts with."""
    asked = {
        "load_current_a": 22, "size": "12 AWG", "insulation": "GXL", "zone": "engine_bay"
    }  # fmt: skip
    steady, motor = (
        run("fuse-selection", **asked, load_profile=profile) for profile in ("steady", "motor")
    )
    assert steady.fuse_rating_a is motor.fuse_rating_a is None
    assert (motor.lower_a, motor.upper_a) == (steady.lower_a, steady.upper_a)
