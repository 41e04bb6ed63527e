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


@dataclass(frozen=True)
class Asked:
    name: str
    verdict: str
    part: str | None = None
    is_harmful: bool = False
    way: str | None = None
    is_of_a_load: bool = False


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


def lamps(*names, **more):
    """A battery, a switch and lamps beside each other; nobody says what they need."""
    return {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            {"name": "knob", "kind": "contact", "part": "switch", "nodes": ["post", "out"],
             "resistance_ohm": 0.02, "rating_a": 20},
        ],
        "loads": [
            {"name": name, "kind": "lamp", "nodes": ["out", "ground"], "rated_power_w": 5,
             "rated_v": 12, **more}
            for name in names
        ],
    }  # fmt: skip


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("cab lamp",), "Not judged: voltage at the load (cab lamp)."),
        (("left", "right"), "Not judged: voltage at the load (left, right)."),
        (tuple("abcde"), "Not judged: voltage at the load (a, b, c, 2 more)."),
    ],
)
def test_the_first_line_says_of_which_loads_nobody_told_what_they_need(run, names, said):
    answer = run("circuit-check", circuit=lamps(*names), cases=[{"name": "on"}])
    assert answer.verdict == "unknown"
    assert answer.headline.endswith(said)
    assert {each.part for each in answer.not_judged} == {*names}
    assert all("give its needed_v, or its circuit" in each.message for each in answer.not_judged)


@pytest.mark.parametrize("told", [{"needed_v": 10}, {"circuit": "continuous"}])
def test_a_load_of_which_either_is_known_is_judged(run, told):
    answer = run("circuit-check", circuit=lamps("cab lamp", **told), cases=[{"name": "on"}])
    assert answer.verdict == "pass"
    assert "Not judged" not in answer.headline


def test_it_stands_before_all_else_that_was_not_judged():
    """However much that is: a load is what all the wiring is for."""
    checks = [Asked(name, "unknown") for name in "abcd"]
    checks.append(Asked("volts", "unknown", "lamp", is_of_a_load=True))
    assert first_line("It runs.", checks) == "It runs. Not judged: volts (lamp), a, b, 2 more."


@pytest.mark.parametrize(
    ("length_m", "needed_v", "verdict", "is_open"),
    [(0.3, None, "pass", False), (6.0, None, "unknown", True), (6.0, 11.0, "marginal", False)],
)
def test_a_little_more_drop_than_usual_leaves_open_whether_it_is_enough(
    run, length_m, needed_v, verdict, is_open
):
    """By hand: 2.5 mm2 has 7 milliohms a metre or more; warm, 6 m drop over 0.5 V at 11 A."""
    wire = {"name": "feed", "kind": "wire", "size": "2.5 mm2", "length_m": length_m}
    asked = {"supply_v": 12.4, "load_current_a": 11, "circuit": "continuous"}
    asked["segments"] = [{**wire, "insulation": "GXL", "ambient_c": 40}]
    needed = {} if needed_v is None else {"needed_v": needed_v}
    answer = run("voltage-drop", **asked, **needed)
    assert answer.verdict == verdict
    assert answer.headline.endswith("Not judged: voltage at the load.") == is_open
