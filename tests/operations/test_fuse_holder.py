"""Where no fuse fits, what bars it is told: its holder, the end of its family, or the wire.

30 A ask for 40 A by the practice of 75 %, and a little more in warm air. Blade C ends at 40 A,
blade F at 30 A; blade E has 50 A.
"""

import pytest

PASSES, FAILS, NOT_ASKED = 0, 2, 5
FUSED = {
    "insulation": "GXL", "fuse_ambient_c": 40, "supply_v": 13.5, "source_resistance_ohm": 0.02,
    "load_current_a": 30, "load_profile": "steady",
}  # fmt: skip


def select(run, **fields):
    loop = {"size": "6 AWG", "zone": "engine_bay", "loop_resistance_ohm": 0.05}
    return run("fuse-selection", **{**FUSED, **loop, **fields})


def size(run, **fields):
    path = {"length_m": 3, "return_path": "body", "zone": "cabin"}
    return run("wire-sizing", **{**FUSED, **path, **fields})


def failing(found):
    return {check.code: check for check in found.checks if check.verdict == "fail"}


@pytest.mark.parametrize("ask", [select, size])
@pytest.mark.parametrize("holder_a", [20, 40])
def test_a_holder_that_is_too_small_is_named_and_no_wire(run, ask, holder_a):
    fits = ask(run)
    assert (fits.fuse_rating_a, fits.fuse_family) == (50, "blade E")
    found = ask(run, holder_rating_a=holder_a)
    assert found.fuse_rating_a is None
    assert set(failing(found)) == {"fuse_holder"}
    check = failing(found)["fuse_holder"]
    assert (check.value, check.limit) == (50, holder_a)
    assert "arger wire" not in check.message
    assert ask(run, holder_rating_a=60).fuse_rating_a == 50


@pytest.mark.parametrize("ask", [select, size])
def test_a_family_that_ends_is_named_and_no_wire(run, ask):
    found = ask(run, fuse_family="blade F", load_current_a=35)
    assert set(failing(found)) == {"fuse_window"}
    check = failing(found)["fuse_window"]
    assert (check.limit, check.detail) == (30, "family_ends")
    assert check.value > 35 / 0.75
    assert check.message.startswith("blade F ends at 30 A, and the load asks for a fuse of 4")
    assert "arger wire" not in check.message


def test_a_load_beyond_every_family_is_told_so(run):
    found = select(run, load_current_a=700, size="4/0 AWG")
    check = failing(found)["fuse_window"]
    assert check.detail == "family_ends"
    assert check.message.startswith("Fuses whose times are known here end at ")


def test_a_wire_that_is_too_thin_is_still_named(run):
    """16 AWG in a hot bay bears less than 35 A in any insulation."""
    found = select(run, size="16 AWG", holder_rating_a=20)
    assert "arger wire" in failing(found)["fuse_window"].message


def test_the_largest_size_is_not_to_be_taken_larger(run):
    """1 km of 4/0 AWG has 0.16 ohm: 1.6 V at 10 A."""
    found = size(run, load_current_a=10, length_m=1000, insulation="GXL")
    assert found.size is None
    said = failing(found)["loop_drop"].message
    assert "take a shorter way" in said
    assert "larger size" not in said


def test_rows_are_told_apart(client):
    rows = {"holder_rating_a": [20, 60, None], "fuse_family": [None, None, "blade F"]}
    constants = {
        **FUSED, "load_current_a": 35, "size": "6 AWG", "zone": "engine_bay",
        "loop_resistance_ohm": 0.05,
    }  # fmt: skip
    answer = client.post(
        "/v1/batch/fuse-selection", json={"columns": rows, "constants": constants}
    ).get_json()
    columns = answer["columns"]
    assert columns["fuse_rating_a"] == [None, 50, None]
    assert columns["check_fuse_holder"] == [FAILS, PASSES, NOT_ASKED]
    assert columns["check_fuse_window"] == [NOT_ASKED, NOT_ASKED, FAILS]
