"""What a sound part shows, beside what was given of it: by Ohm's law and published limits."""

import pytest

from .planned import (
    FUSE,
    GROUND,
    INSIDE,
    LAMP,
    SWITCH,
    WIRE_OHM,
    as_plan,
    by,
    lamp,
    off_v,
    plan,
    starter,
)
from .retrofit_circuits import cranking
from .test_plan_stages import HOLD_IN, MOTOR, PULL_IN, two_windings

# Of the Navy's training text for a switch; by practice of a ground and of a fuse with its holder.
SWITCH_V, GROUND_V, FUSE_V = 0.1, 0.1, 0.2
# Of three quarters of a charge, and of a battery's cranking power at 20 degC, between 65 % at 0 and
# 100 % at 26.7 degC; of a sound battery ten milliohm by practice.
CHARGED_V, POWER, BATTERY_OHM = 12.45, 0.65 + 0.35 * 20 / 26.7, 0.010


def gain_v(switch_ohm):
    """What the lamp gains from a sound switch, all other contacts sound, too.

    Sound is half of what a sound one may drop, at the current that flows without any contact.
    """
    amps = 12.0 / (INSIDE + WIRE_OHM + LAMP)
    sound = {
        "fuse": min(0.5 * FUSE_V / amps, FUSE),
        "switch": min(0.5 * SWITCH_V / amps, switch_ohm),
        "ground": min(0.5 * GROUND_V / amps, GROUND),
    }
    rest = INSIDE + sound["fuse"] + WIRE_OHM + LAMP + sound["ground"]
    return LAMP * 12.0 * (1 / (rest + sound["switch"]) - 1 / (rest + switch_ohm))


def test_what_passes_may_be_a_fault_and_is_told_as_one():
    """A switch that may be sound or nearly open: whatever it shows passes as it was given."""
    body = lamp(way=False, switch={"low": 0.005, "high": 1000})
    answer = plan(body)
    found = by(answer, "across_switch")
    assert found["as_is"]["low"] < 0.06
    assert found["as_is"]["high"] > 11.9
    sound = found["sound_as_is"]
    assert (sound["most"], sound["least"], sound["given"]) == (SWITCH_V, None, "may_be_poor")
    rest = INSIDE + FUSE + WIRE_OHM + LAMP + GROUND
    assert sound["costs_v"] == pytest.approx(LAMP * 12.0 / (rest + 0.005), rel=0.01)
    for said in ("100 mV at most", "may not be so", "From 150 mV on", "costs reading lamp 11."):
        assert said in sound["text"]
    assert "dash switch may be worn as it was given" in answer["headline"]
    assert answer["part_message"] in answer["headline"]
    assert f"reading {found['number']}" in answer["part_message"]


@pytest.mark.parametrize("ohm", [0.1, 0.5, 1000.0])
def test_what_is_given_worse_than_sound_is_told_with_what_it_costs(ohm):
    answer = plan(lamp(way=False, switch=ohm))
    sound = by(answer, "across_switch")["sound_as_is"]
    assert sound["given"] == "poor"
    assert sound["costs_v"] == pytest.approx(gain_v(ohm), rel=1e-3)
    assert "what passes is a fault" in sound["text"]
    assert "dash switch is worse than sound" in answer["headline"]
    for part in ("lamp fuse", "to the lamp", "lamp ground"):
        others = by(answer, "across_part", part)["sound_as_is"]
        assert (others["given"], others["costs_v"]) == ("sound", None)


@pytest.mark.parametrize(("drops_v", "given"), [(0.14, "sound"), (0.16, "poor")])
def test_a_little_more_than_a_sound_one_takes_is_no_fault_yet(drops_v, given):
    """As circuit-check has it: half more is marginal, what drops more than that is worn."""
    others = INSIDE + FUSE + WIRE_OHM + LAMP + GROUND
    ohm = others / (12.0 / drops_v - 1)  # in series with them it takes that of 12 V
    found = by(plan(lamp(way=False, switch=ohm)), "across_switch")
    assert found["as_is"]["usual"] == pytest.approx(drops_v)
    assert found["sound_as_is"]["given"] == given


def test_of_a_sound_circuit_nothing_is_said():
    body = lamp(way=False, emf=12.6, switch=0.01, ground=0.005)
    body["circuit"]["source"]["internal_resistance_ohm"] = 0.005
    answer = plan(body)
    for each in answer["readings"][:-1]:  # with the switch off there is nothing
        assert each["sound_as_is"]["given"] == "sound", each["code"]
        assert "fault" not in each["sound_as_is"]["text"]
    assert answer["part_message"] is None
    assert "sound" not in answer["headline"]


def test_each_bar_is_that_of_practice_at_this_current(run):
    body = lamp(way=False)
    answer = plan(body)
    amps = 12.0 / (INSIDE + FUSE + SWITCH + WIRE_OHM + LAMP + GROUND)
    free = 12.0 / (INSIDE + WIRE_OHM + LAMP)
    bars = {
        ("across_part", "lamp fuse"): FUSE_V,
        ("across_switch", None): SWITCH_V,
        ("across_part", "lamp ground"): GROUND_V,
    }
    for (code, part), most in bars.items():
        assert by(answer, code, part)["sound_as_is"]["most"] == most
    wire_v = by(answer, "across_part", "to the lamp")["sound_as_is"]["most"]
    assert WIRE_OHM * amps < wire_v < WIRE_OHM * free + off_v(WIRE_OHM * free)
    side = by(answer, "live_side")["sound_as_is"]["most"]
    assert FUSE_V + SWITCH_V + WIRE_OHM * amps < side < FUSE_V + SWITCH_V + WIRE_OHM * free + 0.01
    load = by(answer, "across_load")["sound_as_is"]
    assert (load["least"], load["most"]) == (10.0, None)
    amperes = by(answer, "through_part")["sound_as_is"]
    assert amperes["least"] == pytest.approx(10.0 / LAMP)
    supply = by(answer, "supply")["sound_as_is"]["least"]
    assert supply == pytest.approx(CHARGED_V - amps * BATTERY_OHM / POWER)
    assert by(answer, "at_rest")["sound_as_is"]["least"] == CHARGED_V
    # As the same circuit is judged.
    checks = run("circuit-check", circuit=body["circuit"], cases=body["cases"]).checks
    limits = {each.part: each.limit for each in checks if each.code == "contact_drop"}
    assert limits["dash switch"] == SWITCH_V
    assert limits["lamp ground"] == GROUND_V


@pytest.mark.parametrize(("nominal_v", "scale"), [(6, 0.5), (12, 1.0), (24, 2.0)])
def test_a_low_battery_passes_as_given_and_is_told(nominal_v, scale):
    body = lamp(way=False, emf=12.0 * scale, needed_v=8.0 * scale) | {"nominal_v": nominal_v}
    answer = plan(body)
    sound = by(answer, "at_rest")["sound_as_is"]
    assert (sound["least"], sound["given"]) == (CHARGED_V * scale, "poor")
    amps = by(answer, "through_part")["as_is"]["usual"]
    supply = by(answer, "supply")["sound_as_is"]["least"]
    assert supply == pytest.approx((CHARGED_V - amps * BATTERY_OHM / POWER) * scale)
    body = lamp(way=False, emf={"low": 12.0 * scale, "high": 12.7 * scale}, needed_v=8.0 * scale)
    sound = by(plan(body | {"nominal_v": nominal_v}), "at_rest")["sound_as_is"]
    assert sound["given"] == "may_be_poor"


def test_a_load_that_falls_short_as_given_is_told_at_its_readings():
    for needed_v, given in ((10.0, "sound"), (11.9, "poor")):
        answer = plan(lamp(way=False, needed_v=needed_v))
        for code in ("across_load", "through_part"):
            sound = by(answer, code)["sound_as_is"]
            assert sound["given"] == given
    amps = by(plan(lamp(way=False, needed_v=11.9)), "through_part")
    assert amps["sound_as_is"]["least"] == pytest.approx(5.95)
    # What the clamp reads is no measure where it lies round another load, too, nor of a lamp's
    # filament, which takes less in proportion.
    body = lamp(way=False)
    more = {**body["circuit"]["loads"][0], "name": "other", "nodes": ["n3", "ground"]}
    body["circuit"]["loads"].append(more)
    assert by(plan(body), "through_part")["sound_as_is"] is None


def test_a_key_that_moves_a_plunger_may_drop_more_for_that_moment():
    """By practice 10 milliohm for less than a second, and 0.1 V of what is held.

    By hand: 12.6 V over 0.4 ohm, 0.05 of the battery, 0.021 of wire, 0.01 of sound contacts.
    """
    body = starter()
    assert by(plan(body), "across_switch")["sound_as_is"]["most"] == pytest.approx(0.262, abs=0.003)
    body["cases"][0]["held"] = ["reading lamp"]
    assert by(plan(body), "across_switch")["sound_as_is"]["most"] == 0.1


def test_with_the_relay_the_old_switch_need_be_no_better_than_the_coil_wants():
    answer = plan(lamp(switch=0.5))
    found = by(answer, "across_switch")
    assert found["sound_as_is"]["given"] == "poor"
    assert found["sound_with_way"]["given"] == "sound"
    coil = by(answer, "across_coil")["sound_with_way"]
    assert (coil["given"], coil["most"]) == ("sound", None)
    assert 7.0 <= coil["least"] < 9.0  # 7 V where it is cold, more as the coil gets warm
    assert by(answer, "across_contact")["sound_with_way"]["most"] == 0.1
    assert by(answer, "new_feed")["sound_with_way"]["most"] == pytest.approx(FUSE_V)


def test_a_low_battery_is_no_fault_of_the_relay():
    body = lamp(emf=12.0)
    body["way"]["relay"]["pick_up_v"] = 13.9
    answer = plan(body)
    assert "relay" not in by(answer, "at_rest")["sound_with_way"]["text"]
    for code in ("across_load", "across_coil", "across_contact", "live_side"):
        assert "With the relay as it is described" in by(answer, code)["sound_with_way"]["text"]


def test_a_relay_that_has_closed_before_need_only_hold():
    answer = plan(as_plan(cranking(inside_ohm=0.03, hold_v=4.0)))
    coil = by(answer, "across_coil")["sound_with_way"]
    assert "holds down to" in coil["text"]
    assert 1.0 < coil["least"] < 3.0


def test_a_trickle_makes_no_bad_switch_sound():
    """With the ground nearly open a switch of an ohm drops 12 mV, and 4 V once that is mended."""
    body = lamp(way=False, switch=1.0, ground=1000.0)
    found = by(plan(body), "across_switch")
    assert found["as_is"]["high"] < 0.02
    sound = found["sound_as_is"]
    assert (sound["most"], sound["given"]) == (SWITCH_V, "poor")
    free = 12.0 / (INSIDE + WIRE_OHM + LAMP)
    rest = INSIDE + FUSE + WIRE_OHM + LAMP + 0.5 * GROUND_V / free
    amps = 12.0 / (rest + 0.5 * SWITCH_V / free)
    assert sound["at_a"] == pytest.approx(amps, rel=1e-3)
    assert "at 5.7 A; with less flowing it takes less" in sound["text"]
    assert by(plan(body), "across_part", "lamp ground")["sound_as_is"]["given"] == "poor"


def test_as_it_cranks_a_contact_is_held_to_what_flows_then():
    """The hold-in winding's amperes, and 0.1 V; what it costs is told of the plunger's moment."""
    body = two_windings()
    body["circuit"]["branches"][1]["resistance_ohm"] = {"low": 0.005, "high": 0.05}
    found = by(plan(body), "across_switch")["sound_as_is"]
    assert (found["most"], found["given"]) == (SWITCH_V, "may_be_poor")

    def held_a(ohm):
        rest = WIRE_OHM + HOLD_IN + ohm
        both = 1 / (1 / rest + 1 / MOTOR)
        return 12.6 / (both + INSIDE) * both / rest

    ground = min(0.5 * GROUND_V / held_a(0.0), GROUND)
    amps = held_a(FUSE + 0.005 + ground)
    assert found["at_a"] == pytest.approx(amps, rel=1e-3)
    both = 1 / (1 / PULL_IN + 1 / HOLD_IN)
    free = 12.6 / (INSIDE + WIRE_OHM + both)
    switch = 0.5 * SWITCH_V / free  # of the ground as much, of the fuse twice that
    rest = INSIDE + 2 * switch + WIRE_OHM + both + switch
    lost = both * 12.6 * (1 / (rest + switch) - 1 / (rest + 0.05))
    assert found["costs_v"] == pytest.approx(lost, rel=1e-2)
