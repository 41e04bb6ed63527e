"""What was not judged stands in the list, in the verdict, and in the first line."""

import pytest

from lastvolt_service.operations.results import NotJudged
from lastvolt_service.words import with_unjudged

PATH = {
    "supply_v": 12.2,
    "load_current_a": 60,
    "circuit": "continuous",
    "segments": [{"name": "feed", "kind": "wire", "size": "14 AWG", "length_m": 0.3048}],
}


def test_sixty_amperes_through_a_foot_of_thin_wire_are_never_said_to_pass(run):
    """Common practice: 14 AWG is good for some 15 to 35 A; at 60 A it smokes, whatever it drops."""
    answer = run("voltage-drop", **PATH)
    assert answer.verdict == "unknown"
    (missing,) = answer.not_judged
    assert (missing.code, missing.name) == ("wires_heat", "heat of the wires")
    assert "feed" in missing.message
    assert "insulation" in missing.message
    assert answer.headline.endswith("Not judged: heat of the wires.")


def test_with_insulation_and_ambient_it_is_judged_and_fails(run):
    (feed,) = PATH["segments"]
    laid = {**feed, "insulation": "GXL", "ambient_c": 40}
    answer = run("voltage-drop", **{**PATH, "segments": [laid]})
    assert answer.not_judged == ()
    assert answer.verdict == "fail"
    assert "Not judged" not in answer.headline


@pytest.mark.parametrize("insulation", [{}, {"insulation": "GXL"}])
def test_a_circuit_names_its_wires_of_unknown_insulation_once_for_all_cases(run, insulation):
    wire = {"name": "feed", "kind": "wire", "nodes": ["post", "lamp"], "size": "12 AWG"}
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [{**wire, "length_m": 2.0, **insulation}],
        "loads": [
            {"name": "lamp", "kind": "resistance", "nodes": ["lamp", "ground"], "resistance_ohm": 2}
        ],
    }
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "cold"}, {"name": "hot"}])
    named = [each for each in answer.not_judged if each.code == "wires_heat"]
    assert len(named) == (0 if insulation else 1)
    assert ("heat of the wires" in answer.headline) == (not insulation)


def named(*names):
    return tuple(NotJudged("code", name, None, "Give it.") for name in names)


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ((), "It runs."),
        (("hold",), "It runs. Not judged: hold."),
        (("hold", "hold"), "It runs. Not judged: hold."),
        (("a", "b", "c"), "It runs. Not judged: a, b, c."),
        (("a", "b", "c", "d", "e"), "It runs. Not judged: a, b, c, 2 more."),
    ],
)
def test_the_first_line_names_three_at_most(names, said):
    assert with_unjudged("It runs.", named(*names)) == said
