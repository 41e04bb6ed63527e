"""What a load loses is lost where its own current runs, however much another load's part takes."""

import pytest

from .circuit_parts import SOURCE, contact, wire

CASE = {"name": "night", "ambient_c": 20}


def lamp_and_horn(run, *, horn_ohm, lamp="18 AWG", lamp_switch=0.004):
    """A lamp of 2.6 ohm on 9 m and back, beside a horn of 2.2 ohm behind its own switch."""
    branches = [
        contact("lamp fuse", "post", "a", 0.004, part="fuse", rating_a=10, fuse_family="blade C"),
        wire("long wire", "a", "b", lamp, 9, insulation="GXL"),
        contact("lamp switch", "b", "lamp", lamp_switch, part="switch", rating_a=15),
        contact("horn fuse", "post", "c", 0.004, part="fuse", rating_a=15, fuse_family="blade C"),
        wire("horn wire", "c", "d", "12 AWG", 1, insulation="GXL"),
        contact("horn switch", "d", "horn", horn_ohm, part="switch", rating_a=15),
    ]
    loads = [
        {"name": "lamp", "kind": "resistance", "nodes": ["lamp", "ground"],
         "resistance_ohm": 2.6, "circuit": "continuous"},
        {"name": "horn", "kind": "resistance", "nodes": ["horn", "ground"], "resistance_ohm": 2.2},
    ]  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": loads}
    answer = run("circuit-check", circuit=circuit, cases=[CASE], nominal_v=12)
    (drop,) = [
        check for case in answer.cases for check in case.checks
        if (check.code, check.part) == ("path_drop", "lamp")
    ]  # fmt: skip
    return drop


@pytest.mark.parametrize("horn_ohm", [0.002, 0.18, 0.2, 0.22])
def test_a_contact_of_another_load_is_not_blamed(run, horn_ohm):
    """By hand: 4.5 A over 9 m of 18 AWG, 21 mohm/m, lose 0.85 V; 5.2 A over 0.2 ohm lose 1.04 V."""
    drop = lamp_and_horn(run, horn_ohm=horn_ohm)
    assert drop.verdict == "fail"
    assert drop.detail == "long wire"


def test_a_contact_of_its_own_is(run):
    drop = lamp_and_horn(run, horn_ohm=0.2, lamp="10 AWG", lamp_switch=0.3)
    assert drop.verdict == "fail"
    assert drop.detail == "lamp switch"
