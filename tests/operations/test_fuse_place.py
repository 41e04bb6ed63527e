"""Where nobody says where the fuse is, its assumed heat fails no circuit and asks for no wire."""

import pytest

HOT = {"insulation": "GXL", "zone": "engine_bay", "load_profile": "steady"}


def select(run, **fields):
    return run("fuse-selection", **{**HOT, **fields})


def window(found):
    return next((check for check in found.checks if check.code == "fuse_window"), None)


# 14 AWG behind 15 A, 10 AWG behind 30 A: the commonest circuits there are.
@pytest.mark.parametrize(("size", "load_a", "fuse_a"), [("14 AWG", 10, 15), ("10 AWG", 20, 30)])
def test_an_assumed_place_leaves_the_fuse_undecided(run, size, load_a, fuse_a):
    found = select(run, size=size, load_current_a=load_a)
    check = window(found)
    assert (found.fuse_rating_a, check.verdict) == (fuse_a, "undecided")
    assert "give fuse_ambient_c" in check.message
    assert "Not decided: fuse window." in found.headline
    cool = select(run, size=size, load_current_a=load_a, fuse_ambient_c=50)
    assert (cool.fuse_rating_a, window(cool)) == (fuse_a, None)
    hot = select(run, size=size, load_current_a=load_a, fuse_ambient_c=90)
    assert (hot.fuse_rating_a, window(hot).verdict) == (None, "fail")


def test_what_no_place_helps_still_fails(run):
    found = select(run, size="18 AWG", load_current_a=40)
    assert (found.fuse_rating_a, window(found).verdict) == (None, "fail")
    # Nor is there a cooler place than one in the cabin.
    cabin = select(run, size="18 AWG", load_current_a=18, zone="cabin")
    assert window(cabin) is None or window(cabin).verdict == "fail"


@pytest.mark.parametrize("length_m", [0, 0.5])
def test_no_thicker_wire_is_asked_for_by_an_assumed_place(run, length_m):
    asked = {**HOT, "supply_v": 13.8, "load_current_a": 20, "length_m": length_m,
             "return_path": "wire"}  # fmt: skip
    found = run("wire-sizing", **asked)
    cool = run("wire-sizing", **asked, fuse_ambient_c=50)
    assert (found.size, found.fuse_rating_a) == (cool.size, cool.fuse_rating_a) == ("10 AWG", 30)
    assert window(found).verdict == "undecided"
    assert "fuse window" in found.headline


def test_the_place_that_was_reckoned_with_stands_in_the_first_line(run):
    found = run(
        "fuse-selection", load_current_a=10, size="14 AWG", insulation="GXL", zone="engine_bay"
    )
    assert "(blade C), at 50 °C, carries 10 A" in found.headline
