"""In which stage a plan's reading is taken: a start before and after its main contact, an engine
that runs, a battery at rest. By Ohm's law."""

import pytest

from .planned import (
    FUSE,
    GROUND,
    INSIDE,
    LAMP,
    SWITCH,
    WIRE_OHM,
    by,
    lamp,
    off_a,
    off_v,
    plan,
    starter,
)
from .test_meter_plan import held_to

PULL_IN, HOLD_IN, MOTOR = 0.6, 1.2, 0.05
NOMINAL = {"6 V": 0.5, "12 V": 1.0, "24 V": 2.0}


def two_windings(**more):
    """A solenoid of two windings, and the motor that its contact switches; all at 20 degC."""
    body = starter(**more)
    body["circuit"]["loads"][0] = {
        "name": "reading lamp", "kind": "solenoid", "circuit": "starter_control",
        "nodes": ["n3", "n4"],
        "windings": {
            "pull_in_resistance_ohm": PULL_IN, "hold_in_resistance_ohm": HOLD_IN,
            "pull_in_turns": 200, "hold_in_turns": 200, "motor_resistance_ohm": 0.0,
            "ampere_turns": 3000, "hold_ampere_turns": 600,
        },
    }  # fmt: skip
    body["circuit"]["loads"].append(
        {"name": "motor", "kind": "resistance", "resistance_ohm": MOTOR, "circuit": "starter_motor",
         "nodes": ["post", "ground"]}
    )  # fmt: skip
    return body


def test_once_the_motor_turns_the_hold_in_winding_alone_draws():
    """The main contact bridges the pull-in winding: what a meter has time for is the other."""
    answer = plan(two_windings())
    rest = FUSE + SWITCH + WIRE_OHM + HOLD_IN + GROUND
    both = 1 / (1 / rest + 1 / MOTOR)
    amps = 12.6 / (both + INSIDE) * both / rest
    for code, part, value, off in (
        ("through_part", None, amps, off_a),
        ("across_switch", None, SWITCH * amps, off_v),
        ("across_part", "lamp ground", GROUND * amps, off_v),
        ("across_load", None, HOLD_IN * amps, off_v),
    ):
        found = by(answer, code, part)
        held_to(found["as_is"], value, off)
        assert (found["phase"], found["to_be_caught"]) == ("cranking", False)
    # Three times as bad a switch shows.
    worse = two_windings()
    worse["circuit"]["branches"][1]["resistance_ohm"] = 3 * SWITCH
    read_v = by(plan(worse), "across_switch")["as_is"]["usual"]
    assert read_v > by(answer, "across_switch")["as_is"]["high"]


def test_what_pulls_the_plunger_in_is_caught_before_the_motor_draws():
    """Both windings, and no motor yet: that decides, and is read by hold, record or known load."""
    answer = plan(two_windings())
    windings = 1 / (1 / PULL_IN + 1 / HOLD_IN)
    amps = 12.6 / (INSIDE + FUSE + SWITCH + WIRE_OHM + windings + GROUND)
    found = by(answer, "pulling_in")
    held_to(found["as_is"], windings * amps, off_v)
    assert (found["phase"], found["to_be_caught"]) == ("pull_in", True)
    assert found["on"] == ["reading lamp"]
    for word in ("recording", "a known load of 0.4 Ω"):
        assert word in found["how"]
    # What decides is what pulls it in, and not what holds it: 3000 turns need 15 A of each winding.
    assert answer["at_load"]["number"] == found["number"]
    assert answer["at_load"]["low_v"] == pytest.approx(windings * amps)
    (check,) = (each for each in answer["checks"] if each["code"] == "load_voltage")
    assert check["value"] == pytest.approx(windings * amps)
    assert check["limit"] == pytest.approx(answer["at_load"]["needed_v"])


def test_the_jumper_and_its_fuse_bear_both_windings_before_the_motor_draws():
    windings = 1 / (1 / PULL_IN + 1 / HOLD_IN)
    amps = 12.6 / (INSIDE + 0.02 + windings + GROUND)
    assert plan(two_windings())["jumper"]["current_a"] == pytest.approx(amps)


def test_a_motor_that_a_case_leaves_out_bridges_nothing():
    body = two_windings()
    body["cases"][0]["without"] = ["motor"]
    answer = plan(body)
    assert "pulling_in" not in {each["code"] for each in answer["readings"]}
    assert by(answer, "across_load")["phase"] == "pull_in"


def test_a_starters_winding_given_as_ohms_is_a_plunger_too():
    body = starter()
    body["circuit"]["loads"][0] = {
        "name": "reading lamp", "kind": "resistance", "resistance_ohm": 0.4, "needed_v": 8.0,
        "circuit": "starter_control", "nodes": ["n3", "n4"],
    }  # fmt: skip
    answer = plan(body)
    assert by(answer, "across_load")["phase"] == "pull_in"
    assert "a known load of 0.4 Ω" in by(answer, "across_load")["how"]
    assert answer["jumper"]["current_a"] == pytest.approx(plan(starter())["jumper"]["current_a"])


def test_a_known_load_is_told_with_its_heat():
    """At 0.4 ohm it takes as many watts as the whole of the circuit leaves it."""
    answer = plan(starter())
    amps = 12.6 / (INSIDE + FUSE + SWITCH + WIRE_OHM + 0.4 + GROUND)
    watts = 0.4 * amps**2
    assert 170 < watts < 190
    how = by(answer, "across_load")["how"]
    assert "gets red hot" in how
    told = float(how.split(" W")[0].rsplit(" ", 1)[1])
    assert watts <= told <= 1.01 * watts + 1


def charged(**more):
    body = lamp(way=False, emf=12.6)
    body["circuit"]["further_sources"] = [
        {"name": "alternator", "kind": "charger", "nodes": ["post", "ground"], "regulated_v": 14.2,
         "internal_resistance_ohm": 0.02, "limit_a": 45}
    ]  # fmt: skip
    return body | more


def test_a_case_with_an_alternator_is_read_with_the_engine_running():
    answer = plan(charged())
    assert "the engine too" in by(answer, "at_rest")["how"]
    for each in answer["readings"][1:-1]:
        assert "With the engine running" in each["how"]
        assert "exhaust" in each["how"]
    assert "engine running" in answer["rounds"][0]["text"]
    found = by(answer, "supply")
    assert found["as_is"]["usual"] > 13.5
    # What a battery alone would show tells of the alternator, and of no battery.
    assert "alternator" in found["means_if_less"]
    assert "its lead" in found["means_if_less"]
    assert "regulator" in found["means_if_more"]
    body = charged()
    body["cases"].append({"name": "standing", "without": ["alternator"], "ambient_c": 20})
    for each in plan(body)["readings"]:
        is_on = each["phase"] not in {"at_rest", "switched_off"}
        running = each["case"] == "evening" and is_on
        assert ("With the engine running" in each["how"]) == running


@pytest.mark.parametrize("name", NOMINAL)
def test_no_battery_rests_at_what_a_generator_holds(name):
    """At 13.2 V and more of 12 V something charges: nothing is read of it at rest."""
    scale = NOMINAL[name]
    answer = plan(lamp(way=False, emf=14.2 * scale, needed_v=8.0 * scale))
    assert "at_rest" not in {each["code"] for each in answer["readings"]}
    assert "engine running" in answer["rounds"][0]["text"]
    found = by(answer, "supply")
    assert "With the engine running" in found["how"]
    amps = 14.2 * scale / (INSIDE + FUSE + SWITCH + WIRE_OHM + LAMP + GROUND)
    assert found["as_is"]["usual"] == pytest.approx(14.2 * scale - INSIDE * amps)
    rests = plan(lamp(way=False, emf=13.1 * scale, needed_v=8.0 * scale))
    assert rests["readings"][0]["code"] == "at_rest"
