"""A motor that makes no voltage stands: what it then takes is no fault of switch, ground or cable.

By practice a jammed window motor takes three to five times what it takes as it turns.
"""

import copy

import pytest

from .circuit_parts import SOURCE, contact, load, wire
from .retrofit_circuits import asked
from .retrofit_circuits import contact as part
from .retrofit_circuits import wire as lead


def window(run, back_v=0.0, **motor):
    """By hand (12.6 - 0) V over 0.43 ohm are 29 A, and (12.6 - 7) V 13 A; the switch bears 20."""
    branches = [
        contact("window fuse", "post", "fused", 0.003, part="fuse", rating_a=25),
        wire("feed", "fused", "in", "12 AWG", 2, insulation="GXL"),
        contact("window switch", "in", "motor", 0.006, part="switch", rating_a=20),
        contact("pillar ground", "earth", "ground", 0.01, part="ground"),
    ]
    given = {"name": "window motor", "kind": "motor", "nodes": ["motor", "earth"],
             "resistance_ohm": 0.4, "needed_v": 9.5, "circuit": "continuous", **motor}  # fmt: skip
    given |= {} if back_v is None else {"back_v": back_v}
    circuit = {"source": SOURCE, "branches": branches, "loads": [given]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "up", "duration_s": 6}])


@pytest.mark.parametrize("back_v", [0.0, None])
def test_a_jammed_motor_is_told_and_not_its_switch(run, back_v):
    answer = window(run, back_v)
    assert (answer.weakest.code, answer.weakest.part) == ("motor_stands", "window motor")
    assert "jammed" in answer.headline
    assert "give the back_v" in answer.headline


def test_a_motor_that_turns_is_not_said_to_stand(run):
    answer = window(run, 7.0)
    assert "motor_stands" not in {c.code for c in answer.checks}
    assert answer.verdict in {"pass", "marginal"}


def test_what_burns_leads_over_a_motor_that_stands(run):
    """40 A through a bare 18 AWG that bears 24."""
    branches = [wire("pump wire", "post", "pump", "18 AWG", 0.5, insulation="GXL")]
    pump = {"name": "pump", "kind": "motor", "nodes": ["pump", "ground"], "resistance_ohm": 0.3}
    circuit = {"source": SOURCE, "branches": branches, "loads": [pump]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 20}])
    assert answer.weakest.part == "pump wire"


def test_a_motor_that_is_no_matter_of_the_question_leads_nothing(run):
    """The lamp's switch drops 1.2 V; of the blower nobody said how it turns."""
    branches = [contact("lamp switch", "post", "lamp", 0.15, part="switch")]
    lamp = {**load("lamp", "lamp", "ground", resistance_ohm=1.4), "needed_v": 11.8}
    blower = {"name": "blower", "kind": "motor", "nodes": ["post", "ground"], "resistance_ohm": 2}
    circuit = {"source": SOURCE, "branches": branches, "loads": [lamp, blower]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert answer.weakest.part == "lamp switch"


def test_a_starter_is_reckoned_at_a_stand_by_custom(run):
    motor = {"name": "starter", "kind": "motor", "nodes": ["post", "ground"],
             "resistance_ohm": 0.02, "circuit": "starter_motor"}  # fmt: skip
    circuit = {"source": SOURCE, "branches": [], "loads": [motor]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert "motor_stands" not in {c.code for c in answer.checks}


@pytest.mark.parametrize(
    ("size", "code", "part"),
    [("50 mm2", "motor_stands", "starter"), ("16 mm2", "path_drop", "starter")],
)
@pytest.mark.parametrize("back_v", [0.0, None])
def test_no_starter_cable_is_blamed_for_what_a_motor_takes_at_a_stand(
    run, size, code, part, back_v
):
    """Of copper 4 m of 50 mm2 are 1.4 mohm, and of 16 mm2 4.4 mohm; 0.5 V may be lost.

    At a stand some 450 A lose 0.6 V and some 400 A 1.8 V; a third of them, as it turns, 0.2 and
    0.6 V.
    """
    motor = {"name": "starter", "kind": "motor", "nodes": ["post 2", "ground"],
             "resistance_ohm": 0.02, "needed_v": 7, "circuit": "starter_motor"}  # fmt: skip
    motor |= {} if back_v is None else {"back_v": back_v}
    circuit = {"source": {**SOURCE, "internal_resistance_ohm": 0.006}, "loads": [motor],
               "branches": [wire("starter cable", "post", "post 2", size, 4)]}  # fmt: skip
    case = {"name": "crank", "duration_s": 5}
    answer = run("circuit-check", circuit=circuit, cases=[case])
    assert [c.part for c in answer.checks if c.code == code and c.verdict != "pass"] == [part]
    assert (code == "path_drop") == ("The most in starter cable" in answer.headline)


def jammed(**more):
    motor = {"name": "window motor", "kind": "motor", "resistance_ohm": 0.4, "needed_v": 9.5,
             "circuit": "continuous", **more}  # fmt: skip
    return asked(
        lead("feed", "12 AWG", 2),
        part("window switch", "switch", 0.006, rating_a=20),
        lead("to the motor", "14 AWG", 1.5),
        motor,
        part("pillar ground", "ground", 0.01),
        load=motor, switch="window switch", kind="motor", fuse_a=30, case={"duration_s": 6},
    )  # fmt: skip


def test_no_relay_and_no_mending_is_advised_for_a_motor_that_stands(run):
    body = jammed(back_v=0.0)
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first"
    assert answer.reasons[0].check == "motor_stands"
    assert "jammed" in answer.headline
    asked_openly = {key: value for key, value in copy.deepcopy(body).items() if key != "proposal"}
    answer = run("remedy-choice", **asked_openly)
    assert answer.advice == "find_out_first"
    assert "jammed" in answer.headline
    assert run("relay-retrofit", **jammed(back_v=7.0)).advice != "find_out_first"


def fan(run, *, rating_a=20, fuse_a=30, case=None):
    """Turning it takes 12.6 - 6.5 V over 0.42 ohm, 14.5 A; at a stand 12.6 V over that, 30 A."""
    branches = [
        contact("fan fuse", "post", "fused", 0.003, part="fuse", rating_a=fuse_a,
                fuse_family="blade C"),
        wire("feed", "fused", "in", "12 AWG", 1, insulation="GXL"),
        contact("thermostat", "in", "motor", 0.005, part="switch", rating_a=rating_a),
    ]  # fmt: skip
    motor = {"name": "fan", "kind": "motor", "nodes": ["motor", "ground"],
             "resistance_ohm": 0.4, "back_v": 6.5, "needed_v": 11}  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": [motor]}
    answer = run("circuit-check", circuit=circuit, cases=[case or {"name": "hot"}])
    return [each for each in answer.checks if each.code == "stall"]


def test_a_fan_that_stalls_is_asked_of_its_switch(run):
    """A fuse of 30 A need not open at 30 A; 20 A are half as much, and 25 A a fifth less."""
    (check,) = fan(run)
    assert (check.part, check.detail, check.verdict) == ("thermostat", "fan", "fail")
    assert check.value == pytest.approx(12.6 / (0.4 + 0.018), rel=0.02)
    (check,) = fan(run, rating_a=25)
    assert check.verdict == "marginal"


@pytest.mark.parametrize(
    "asked",
    [{"rating_a": 40}, {"fuse_a": 20}, {"case": {"name": "a moment", "duration_s": 2}}],
)
def test_what_bears_it_or_is_cut_off_by_the_fuse_is_not_told(run, asked):
    """20 A of this family are sure to open at 27 A."""
    assert not fan(run, **asked)


def stalls(run, load, *, fuse_a=30, rating_a=20, relay=None):
    """What is told of a stall of a load behind a fuse, or none, and a switch or a relay."""
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=fuse_a,
                   fuse_family="blade C")  # fmt: skip
    if fuse_a is None:
        fuse = contact("stud", "post", "in", 0.0005, part="terminal")
    switch = contact("switch", "in", "motor", 0.005, part="switch", rating_a=rating_a)
    made = {"name": "fan", "nodes": ["motor", "ground"], **load}
    circuit = {"source": SOURCE, "branches": [fuse], "loads": [made], "relays": []}
    if relay is None:
        circuit["branches"].append(switch)
    else:
        more = {"coil_nodes": ["post", "ground"], "contact_nodes": ["in", "motor"]}
        circuit["relays"].append({**relay, **more})
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}])
    return [each for each in answer.checks if each.code == "stall"]


TAKES_12_A = [{"kind": "current", "current_a": 12}, {"kind": "power", "power_w": 150}]


@pytest.mark.parametrize("load", TAKES_12_A)
@pytest.mark.parametrize(("fuse_a", "rating_a"), [(30, 20), (None, 30)])
def test_of_what_may_be_a_motor_no_stall_is_judged(run, load, fuse_a, rating_a):
    """A fuse of 30 A is sure to open at 41 A, and a switch of 20 A bears 25 A for a while."""
    (check,) = stalls(run, load, fuse_a=fuse_a, rating_a=rating_a)
    assert (check.verdict, check.part, check.detail) == ("unknown", "switch", "fan")
    assert "give fan as a motor" in check.message


@pytest.mark.parametrize(
    ("load", "asked"),
    [
        ({"kind": "lamp", "rated_power_w": 150, "rated_v": 12}, {}),
        ({"kind": "resistance", "resistance_ohm": 1}, {}),
        ({"kind": "current", "current_a": 5}, {}),
        (TAKES_12_A[0], {"fuse_a": 15}),  # opens at 20 A
        ({**TAKES_12_A[0], "circuit": "starter_motor"}, {}),
    ],
)
def test_of_lamps_and_of_what_a_fuse_cuts_off_nothing_is_said(run, load, asked):
    assert not stalls(run, load, **asked)


@pytest.mark.parametrize(("kind", "is_asked"), [("motor", True), ("resistive", False)])
def test_a_relay_that_is_for_a_motor_tells_that_its_load_is_one(run, kind, is_asked):
    """By ohms, too: 12 A behind a relay of 20 A and a fuse that is sure to open at 41 A."""
    relay = {
        "name": "fan relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7.2,
        "drop_out_v": 1.2, "contact_resistance_ohm": 0.003, "rating_a": 20, "load_kind": kind,
    }  # fmt: skip
    for made in ({"kind": "resistance", "resistance_ohm": 1}, TAKES_12_A[0]):
        found = stalls(run, made, relay=relay)
        assert [each.part for each in found] == (["fan relay"] if is_asked else [])


def test_of_a_motor_without_a_fuse_no_smaller_one_is_spoken_of(run):
    motor = {"kind": "motor", "resistance_ohm": 0.2, "back_v": 8}
    (check,) = stalls(run, motor, fuse_a=None, rating_a=30)
    assert check.verdict == "fail"
    assert "smaller" not in check.message
