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


@pytest.mark.parametrize("ambient_c", [125.5, 150, 240])
def test_a_wire_where_no_fuse_may_be_has_one_elsewhere_and_that_is_asked_for(run, ambient_c):
    """Of 200 degC by an exhaust: its fuse hangs in no such place, and nothing is refused."""
    asked = {"supply_v": 13.8, "load_current_a": 10, "length_m": 2, "return_path": "wire",
             "ambient_c": ambient_c, "load_profile": "steady"}  # fmt: skip
    found = run("wire-sizing", **asked, insulation_limit_c=250)
    cool = run("wire-sizing", **asked, insulation_limit_c=250, fuse_ambient_c=50)
    assert (found.size, found.fuse_rating_a) == (cool.size, cool.fuse_rating_a)
    if found.fuse_rating_a is not None:
        assert window(found).verdict == "undecided"
        assert "give fuse_ambient_c" in window(found).message
    nothing_left = run("wire-sizing", **asked, insulation="GXL")
    assert nothing_left.verdict == "fail"
    assert "No size helps" in nothing_left.headline


def test_the_same_of_rows(client):
    columns = {"ambient_c": [20, 150, 150], "fuse_ambient_c": [None, None, 50]}
    constants = {"load_current_a": 10, "size": "12 AWG", "insulation_limit_c": 200,
                 "load_profile": "steady"}  # fmt: skip
    answer = client.post(
        "/v1/batch/fuse-selection", json={"columns": columns, "constants": constants}
    ).get_json()
    assert not answer["errors"]
    cold, hot, placed = answer["columns"]["fuse_rating_a"]
    assert cold == hot == placed
