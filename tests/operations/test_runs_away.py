"""A load that draws too much for its wire gets an answer, and the fuse is named first."""

import pytest

FUSE = {"kind": "contact", "name": "f", "part": "fuse", "resistance_ohm": 0.003, "rating_a": 30}
AIR = {"insulation": "GXL", "ambient_c": 40}
# By hand, cold at 40 degC: 16 AWG has 13.2 mohm a metre at 20 degC, and 8 % more at 40.
OHM_16_AWG = 2 * 0.0132 * 1.079


def wire(name, size, length_m=2):
    return {"kind": "wire", "name": name, "size": size, "length_m": length_m, **AIR}


def drop(run, *segments, **fields):
    return run("voltage-drop", supply_v=12.5, segments=list(segments), **fields)


def the(found, code, part):
    return next((each for each in found.checks if (each.code, each.part) == (code, part)), None)


# A fan that sticks has its armature alone, 0.15 ohm; a dead short has next to nothing.
@pytest.mark.parametrize("load_ohm", [0.15, 0.02])
@pytest.mark.parametrize("size", ["16 AWG", "14 AWG"])
def test_a_load_that_sticks_gets_an_answer(run, load_ohm, size):
    found = drop(run, FUSE, wire("a", size), load_resistance_ohm=load_ohm)
    assert found.verdict == "fail"
    (fuse,) = (each for each in found.checks if each.code == "fuse_load")
    assert found.headline.startswith(fuse.message)
    hot = the(found, "conductor_temperature", "a")
    assert (hot.verdict, hot.value) == ("fail", None)
    assert "heats up without end" in hot.message
    assert hot.message.index("find what draws so much") < hot.message.index("a larger size")
    assert found.segments[1].temperature_c is None
    if size == "16 AWG":
        assert found.current_a == pytest.approx(12.5 / (load_ohm + 0.003 + OHM_16_AWG), rel=0.02)


def test_beside_it_no_wire_is_called_cool(run):
    found = drop(run, wire("thin", "18 AWG"), wire("thick", "6 AWG"), load_current_a=90)
    assert the(found, "conductor_temperature", "thin").verdict == "fail"
    assert the(found, "conductor_temperature", "thick") is None


def test_its_steps_and_remedies_are_told(run):
    found = drop(run, FUSE, wire("a", "16 AWG"), load_resistance_ohm=0.15, explain=True)
    assert {each.kind for each in found["steps"]} >= {"given", "computed"}
