"""What was not judged stands in the list, in the verdict, and in the first line."""

from dataclasses import dataclass

import pytest

from lastvolt_service.words import first_line

PATH = {
    "supply_v": 12.2,
    "load_current_a": 60,
    "circuit": "continuous",
    "segments": [{"name": "feed", "kind": "wire", "size": "14 AWG", "length_m": 0.3048}],
}


def test_sixty_amperes_through_a_foot_of_thin_wire_are_never_said_to_pass(run):
    """Common practice: 14 AWG is good for some 15 to 35 A; at 60 A it smokes, whatever it drops."""
    assert run("voltage-drop", **PATH).verdict == "fail"
    answer = run("voltage-drop", **{**PATH, "load_current_a": 30})
    assert answer.verdict == "unknown"
    (missing,) = answer.not_judged
    assert (missing.code, missing.name) == ("wires_heat", "heat of the wires")
    assert "feed" in missing.message
    assert "insulation" in missing.message
    assert answer.headline.startswith("Not judged: heat of the wires.")


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


@dataclass(frozen=True)
class Asked:
    name: str
    verdict: str
    part: str | None = None
    is_harmful: bool = False
    way: str | None = None


@pytest.mark.parametrize(
    ("checks", "said"),
    [
        ((), "It runs."),
        ((("hold", "unknown"),), "It runs. Not judged: hold."),
        ((("hold", "unknown"), ("hold", "unknown")), "It runs. Not judged: hold."),
        (tuple((name, "unknown") for name in "abcde"), "It runs. Not judged: a, b, c, 2 more."),
        (
            (("sag", "undecided"), ("drop", "unknown"), ("heat", "fail"), ("hold", "pass")),
            "It runs. What fails: heat. Not decided: sag. Not judged: drop.",
        ),
        (
            tuple((name, "fail", None, name in "dhijk") for name in "abcdhijk"),
            "It runs. What fails: d, h, i, j, k, 3 more.",
        ),
        # What is to be mended fails as it is, and no more once it is.
        (
            (("drop", "fail", "strap", False, "as_is"), ("sag", "unknown", None, False, "as_is")),
            "It runs. What fails as it is: drop (strap). Not judged: sag.",
        ),
        (
            (("drop", "fail", None, False, "as_is"), ("hold", "fail", None, False, "relay")),
            "It runs. What fails: drop, hold.",
        ),
    ],
)
def test_the_first_line_names_three_of_each_verdict_and_all_that_hurts(checks, said):
    assert first_line("It runs.", [Asked(*each) for each in checks]) == said


COIL = {
    "nominal_v": 12, "coil_resistance_ohm": 22, "pick_up_v": 3.6, "drop_out_v": 1.2,
    "ambient_c": 85, "available_v": 11.4, "maximum_v": 14.4, "thermal_resistance_k_per_w": 30,
    "coil_limit_c": 155, "highest_ambient_c": 105, "suppression": {"kind": "diode"},
}  # fmt: skip
CONTACT = {
    "rating_a": 30, "load_current_a": 10, "load_kind": "resistive", "ambient_c": 20,
    "supply_v": 28.8, "rated_v": 12, "contact_resistance_ohm": 0.003,
}  # fmt: skip


@pytest.mark.parametrize(
    ("operation", "request_", "named"),
    [
        ("relay-coil", COIL, "What fails: continuous voltage"),  # it burns, whatever is to spare
        ("relay-contact", CONTACT, "What fails: rated voltage"),  # its arc does not go out
    ],
)
def test_what_fails_is_not_praised_first(run, operation, request_, named):
    answer = run(operation, **request_)
    assert answer.verdict == "fail"
    assert "to spare" not in answer.headline
    assert named in answer.headline
