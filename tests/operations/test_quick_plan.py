"""The order in which a mechanic reads and works: posts first, load on, while it is weak.

Common practice, no source; volts are those of a pocket calculator, from the tables of practice.
"""

import json
import re
from functools import cache

import pytest

from lastvolt_service.api import OPERATIONS

from .retrofit_circuits import fan, starter

BY_NAME = {each.name: each for each in OPERATIONS}
FAILS = ("hot", "cold", "always", "never")


@cache
def asked_once(body):
    return BY_NAME["quick-answer"].answer(json.loads(body))


def quick(load="headlamps", **more):
    """One answer for all checks of it."""
    return asked_once(json.dumps({"system_v": 12, "load": load, "distance_m": 5} | more))


def steps(answer):
    return [(step.code, step.only_if) for step in answer.plan]


def step(answer, code):
    return next(each for each in answer.plan if each.code == code)


def readings(answer):
    return [each for each in answer.plan if each.expected_low_v is not None]


def test_a_tired_battery_is_found_before_wire_or_relay_is_blamed():
    """10.8 V under the 30 A of a solenoid starve it by a sound key: no relay cures that."""
    answer = quick("starter_solenoid", distance_m=8, wear="old", fails="hot")
    assert steps(answer) == [
        ("read_battery", None), ("charge", "less"), ("read_at_load", "more"),
        ("see_to_load", "more"), ("read_others", "less"), ("relay", "less"),
    ]  # fmt: skip
    # Charged to three quarters, 12.4 V, less 6 mohm times 25 A: of 0.3 ohm cold, 0.42 ohm hot.
    posts = answer.plan[0]
    assert posts.limit_v == posts.expected_low_v == pytest.approx(12.4 - 25 * 0.006, abs=0.02)


def test_a_frosty_battery_keeps_less():
    """At twice its resistance in the cold: 12.4 V less 6 A over 12 mohm."""
    cold, warm = (quick("horn", current_a=6, fails=each) for each in ("cold", "always"))
    assert cold.plan[0].limit_v == pytest.approx(12.4 - 6 * 0.012, abs=0.01)
    assert warm.plan[0].limit_v == pytest.approx(12.4 - 6 * 0.006, abs=0.01)


@pytest.mark.parametrize(
    ("load", "fails"), [("fan", "hot"), ("glow_plugs", "cold"), ("headlamps", "always")]
)
def test_the_posts_come_first_and_the_engine_is_off_in_every_reading(load, fails):
    """With 14.2 V at the posts a switch may take 2 V and all the bands would still be kept."""
    answer = quick(load, distance_m=3, fails=fails)
    assert answer.advice == "find_out_first"
    assert steps(answer)[:2] == [("read_battery", None), ("charge", "less")]
    _, second = readings(answer)
    assert second.only_if == "more"
    for each in readings(answer):
        assert re.search(r"engine (off|just stopped|not yet started)", each.message, re.IGNORECASE)
        assert {"hot": "hot", "cold": "cold"}.get(fails, "") in each.message


@pytest.mark.parametrize("fails", ["hot", "cold", "always", ""])
def test_a_solenoid_is_read_before_it_has_pulled_in(fails):
    """Then it takes a third, and the motor pulls the battery to 10 V: a sound car reads short."""
    answer = quick(
        "starter_solenoid", distance_m=8, wear="old", **({"fails": fails} if fails else {})
    )
    assert len(readings(answer)) == 2
    for each in readings(answer):
        if not fails:  # the motor is kept from turning
            assert "does not turn" in each.message
        else:
            assert "does not pull in" in each.message
        assert {"hot": "Hot", "cold": "In the cold"}.get(fails, "") in each.message


@pytest.mark.parametrize("load", ["horn", "fan"])
def test_a_load_of_two_terminals_is_read_across_both(load):
    """A horn with its ring on the ground side shows the whole battery to its housing."""
    answer = quick(load, wear="used", fails="always")
    assert "across the two terminals" in step(answer, "read_at_load").message


def test_a_solenoid_with_a_return_wire_is_not_read_across_its_heavy_terminals():
    answer = quick("starter_solenoid", wear="used", fails="always", return_path="wire")
    assert "not between its heavy terminals" in step(answer, "read_at_load").message


@pytest.mark.parametrize(
    ("load", "distance_m", "switch", "most"),
    # Common practice: a sound key has 10 milliohm, and takes 0.3 V at most while a plunger moves;
    # both windings of such a starter take 30 A and more.
    [("starter_solenoid", 3, "key switch", "0.3 V"), ("horn", 5, "horn button", "0.1 V")],
)
def test_a_relay_is_the_way_where_the_switch_that_cannot_be_had_takes_too_much(
    load, distance_m, switch, most
):
    answer = quick(
        load, distance_m=distance_m, wear="very_old", fails="hot", switch_to_be_had=False
    )
    others, relay = step(answer, "read_others"), step(answer, "relay")
    before, _, after = others.message.partition("clean, tighten or replace")
    assert switch in before
    assert switch not in after
    assert f"takes more than {most}, a" in others.message
    assert f"If {switch} takes more than {most}" in relay.message
    assert (relay.only_if, relay.brings_v > 0.5) == ("less", True)


def test_a_wire_that_is_too_thin_at_its_best_gets_a_relay_once_the_battery_is_read():
    """12 m of 1.5 mm2 have 0.15 ohm and more (IEC 60228): no clean contact makes up for that."""
    asked = {"distance_m": 12, "wear": "used", "fails": "hot"}
    answer = quick("starter_solenoid", **asked, wire="1.5 mm2")
    assert answer.load_voltage_v.high_v < answer.needed_v.high_v
    codes = [each.code for each in answer.plan]
    assert codes == ["read_battery", "charge", "relay", "see_to_load"]
    assert [each.only_if for each in answer.plan] == [None, "less", "more", None]
    assert "If it keeps enough, fit a relay" in answer.headline


def test_a_wire_that_may_leave_enough_is_read_behind_first():
    asked = {"distance_m": 12, "wear": "used", "fails": "hot"}
    answer = quick("starter_solenoid", **asked, wire="10 AWG")
    codes = [each.code for each in answer.plan]
    assert codes.index("read_at_load") < codes.index("relay")
    assert "fit a relay" not in answer.headline


def test_what_such_a_switch_takes_is_not_mended_elsewhere():
    answer = quick(
        "fan", current_a=10, distance_m=6, wire="10 AWG", wear="very_old", fails="always",
        switch_to_be_had=False,
    )  # fmt: skip
    (place,) = [at for at, each in enumerate(answer.plan) if each.code == "read_across"]
    assert answer.plan[place].part == "fan switch"
    assert {each.code for each in answer.plan if each.only_if == "more"} == {"read_across", "relay"}
    assert answer.plan[place + 1].code == "relay"
    # A switch that takes 1 V hides nothing from a relay.
    assert answer.plan[place + 1].brings_v > 0.5
    assert not [each for each in answer.plan if each.code == "ask_again"]


def test_a_switch_beyond_the_relays_of_the_trade_wants_another_of_its_current():
    answer = quick(
        "other", system_v=24, current_a=90, fails="always", wire="1 AWG",
        switch_to_be_had=False,
    )  # fmt: skip
    assert not answer.request.ways
    assert "90 A" in step(answer, "ask_again").message


@pytest.mark.parametrize(
    ("system_v", "more"),
    [(6, {"distance_m": 6, "wear": "new", "fails": "never", "current_a": 60, "wire": "14 AWG"}),
     (12, {"distance_m": 8, "wear": "old", "fails": "hot"})],
)  # fmt: skip
def test_a_relay_is_told_with_its_sizes(system_v, more):
    """What a forum is told is bought: no wire that lies about, and no fuse that happens to fit."""
    answer = quick("starter_solenoid", system_v=system_v, **more)
    proposal = answer.request.ways[0].relay
    relay = step(answer, "relay")
    assert f"a relay for {system_v} V and {proposal.relay.rating_a:g} A" in relay.message
    assert f"a fuse of {proposal.feed[0].rating_a:g} A" in relay.message
    assert f"{proposal.outlet[0].size} wire" in relay.message


@pytest.mark.parametrize(
    ("body", "amps"),
    [
        ({"system_v": 6, "load": "headlamps", "wire": "20 AWG"}, 14),
        ({"system_v": 12, "load": "fan", "wire": "18 AWG", "wear": "used", "fails": "hot"}, 20),
    ],
)
def test_what_may_burn_at_the_most_that_is_assumed_is_said(body, amps):
    """A loom's 20 AWG of PVC bears some 10 A, 18 AWG some 14.

    Two lamps of 6 V take up to 15 A, and some 14 over so thin a wire.
    """
    answer = quick(**body, distance_m=3)
    (heat,) = [each for each in answer.checks if each.code == "permissible_current"]
    assert heat.verdict == "undecided"
    assert heat.limit < 0.9 * amps < heat.value < 1.1 * amps
    assert answer.verdict != "pass"
    # Said before the load is switched on to be read.
    first = answer.plan[0]
    assert (first.code, first.part) == ("leave_off", "feed wire")
    assert "a DC clamp meter" in first.message  # one for AC alone reads nothing of it
    assert first.message in answer.headline


@pytest.mark.parametrize(("amps", "size"), [(60, "6 AWG"), (100, "4 AWG")])
def test_a_wire_that_nobody_has_read_is_read_before_it_is_said_to_burn(amps, size):
    """In air of 90 degC a 10 AWG bears some 42 A, an 8 AWG 55 A, a 6 AWG 76 A, a 4 AWG 103 A."""
    answer = quick("other", current_a=amps, distance_m=3, wear="used")
    first = answer.plan[0]
    assert first.code == "read_size"
    assert f"thinner than {size}" in first.message
    assert "size of the wire" in answer.headline
    assert answer.verdict != "fail"
    (taken,) = (each for each in answer.assumed if each.code == "size")
    assert taken.value.startswith(size)
    assert not [each for each in answer.plan if each.code == "rewire" and each.only_if is None]


def test_of_a_load_that_never_fails_only_the_wire_is_read():
    answer = quick("other", current_a=60, distance_m=3, wear="new", fails="never")
    assert steps(answer) == [("read_size", None)]
    assert (answer.advice, answer.measure_first) == (
        "find_out_first", "/circuit/branches/1/size"
    )  # fmt: skip


def test_no_wire_is_read_that_bears_what_is_usual():
    answer = quick("headlamps", distance_m=3, fails="always")
    assert answer.plan[0].code == "read_battery"
    assert not [each for each in answer.checks if each.code == "permissible_current"]


@pytest.mark.parametrize("wear", ["used", "old", "very_old"])
@pytest.mark.parametrize("distance_m", [2, 4])
@pytest.mark.parametrize(
    ("load", "last"), [("headlamps", "relay"), ("fan", "relay"), ("wipers", "rewire")]
)
def test_lamps_and_fans_get_a_relay_however_worn_their_switch_is(load, last, distance_m, wear):
    """Their whole current through an old switch again is no mend; wipers run at two speeds."""
    answer = quick(load, distance_m=distance_m, wear=wear, fails="always")
    assert [each.code for each in answer.plan if each.size] == [last]


@pytest.mark.parametrize("amps", [60, 100])
@pytest.mark.parametrize("fails", ["always", "never"])
def test_a_switch_that_may_burn_and_cannot_be_had_is_spared_by_a_contactor(amps, fails):
    """A very old contact drops half a volt: 30 W and more, and no relay of the trade bears it."""
    answer = quick("winch", current_a=amps, distance_m=4, wear="very_old", fails=fails,
                   switch_to_be_had=False)  # fmt: skip
    assert [each.code for each in answer.plan] == ["leave_off", "rewire"]
    assert "contactor" in answer.plan[1].message
    assert answer.advice == "mend"


@pytest.mark.parametrize(("load", "amps"), [("air_horns", 16), ("horn", 12)])
def test_a_horn_whose_button_grounds_it_is_wired_otherwise(load, amps):
    """Its old wire is live at all times: a coil between it and ground would never let go."""
    told = step(quick(load, current_a=amps, wear="old", fails="always"), "relay")
    assert "85 to the wire from the button" in told.message


def test_where_no_relay_spares_a_worn_switch_the_way_past_it_is_pointed_at():
    answer = quick("glow_plugs", distance_m=3, wear="old", fails="cold", switch_to_be_had=False)
    assert step(answer, "ask_again").message.endswith("what the last step says: that spares it.")
    assert "contactor" in answer.plan[-1].message


def test_what_fails_in_frost_is_told_of_the_frost():
    """Copper at -18 degC has 15 % less resistance than at 20: 7.44 V become 6.33 V."""
    answer = quick("starter_solenoid", fails="cold", wear="used")
    assert answer.case == "frosty morning"
    assert answer.needed_v.high_v == pytest.approx(7.44 * (1 - 0.00393 * 38), rel=1e-3)
    assert "frosty morning" in answer.headline


def test_the_first_line_says_that_no_start_was_judged():
    """Nobody told of the starter's motor: how far the battery sags while it draws is not known."""
    said = "Whether starter solenoid stays in while the motor draws is not judged."
    for more in ({"fails": "hot"}, {"wear": "new", "fails": "never"}):
        answer = quick("starter_solenoid", **more)
        assert answer.leaves_start_open is True
        assert said in answer.headline
    lamps = quick("headlamps", fails="hot")
    assert lamps.leaves_start_open is False
    assert "motor draws" not in lamps.headline


@pytest.mark.parametrize("amps", [2, 3.5])
def test_what_is_told_more_is_no_less_sure(amps):
    """A used contact takes 0.15 V at the most, at whatever current: no reason to mend anything."""
    body = {"system_v": 24, "load": "horn", "distance_m": 2, "wear": "used", "fails": "never",
            "return_path": "wire"}  # fmt: skip
    less = quick(**body)
    more = quick(**body, current_a=amps)
    assert less.advice == more.advice == "nothing_needed"


def test_the_house_finds_its_own_relay_no_fault():
    """A fuse opens later in the cold: the wire of the made way bears that, too."""
    answer = quick(
        system_v=6, current_a=35, distance_m=0.3, zone="cabin", wire="12 AWG",
        fails="cold", load="other",
    )  # fmt: skip
    assert answer.advice != "unsafe"
    full = BY_NAME["remedy-choice"].compute(answer.request)
    assert not [each for each in full.checks if each.way == "relay" and each.verdict == "fail"]


def test_only_what_may_start_an_engine_is_said_to_move_the_vehicle(run):
    """A radio starts nothing; a solenoid does, and so may a load of which no kind is told."""
    moves = "can move the vehicle"
    for load, said in (({"load": "starter_solenoid"}, True), ({"load": "headlamps"}, False),
                       ({"load": "other", "current_a": 3, "zone": "cabin"}, False)):  # fmt: skip
        answer = run("quick-answer", system_v=12, distance_m=3, **load)
        assert any(moves in each for each in answer.cautions) == said
    for retrofit, said in ((fan(), True), (starter(), True)):
        answer = run("relay-retrofit", **retrofit)
        assert any(moves in each for each in answer.cautions) == said
    lamp = fan()
    lamp["circuit"]["loads"][0]["circuit"] = "continuous"
    assert not any(moves in each for each in run("relay-retrofit", **lamp).cautions)


OF_LOADS = {
    "pump": "fuel vapour", "fan": "may start by itself", "winch": "in line of the rope",
    "glow_plugs": "starting fluid", "horn": "air bags", "wipers": "as soon as it is fed",
}  # fmt: skip


@pytest.mark.parametrize("load", [*OF_LOADS, "headlamps"])
def test_what_a_load_calls_for_is_warned_of_first(run, load):
    """And of what may be near any work on a vehicle in every answer."""
    cautions = run("quick-answer", system_v=12, distance_m=3, load=load).cautions
    assert OF_LOADS.get(load, "slipped tool") in cautions[0]
    for each in ("fuel vapour", "air bags", "hydrogen"):
        assert sum(each in said for said in cautions) == 1


def test_every_answer_that_sends_to_the_vehicle_warns_of_sparks(run):
    for retrofit in (fan(), starter()):
        said = " ".join(run("relay-retrofit", **retrofit).cautions)
        assert "fuel vapour" in said
        assert "air bags" in said


BY_HAND = {"relay", "rewire", "mend", "read_others"}


@pytest.mark.parametrize(
    "more",
    [
        {"load": "starter_solenoid", "fails": "hot", "wear": "old", "distance_m": 11},
        {"load": "starter_solenoid", "wear": "used", "system_v": 6},
        {"load": "starter_solenoid", "fails": "cold", "switch_to_be_had": False},
        {"load": "headlamps", "fails": "always", "wear": "very_old"},
        {"load": "headlamps", "fails": "always", "return_path": "positive_body", "system_v": 6},
        {"load": "winch", "fails": "always", "wear": "used"},
        {"load": "pump", "fails": "hot", "current_a": 6, "wire": "1 mm2"},
        {"load": "glow_plugs", "fails": "cold", "wear": "very_old", "return_path": "wire"},
    ],
)
def test_each_step_that_works_on_unfused_wires_takes_the_ground_cable_off_first(run, more):
    """Common practice, no source: a spanner between a live cable and the body welds."""
    plan = run("quick-answer", **({"system_v": 12, "distance_m": 4} | more)).plan
    by_hand = [e for e in plan if e.code in BY_HAND or "heavy cable off" in e.message]
    assert by_hand
    for each in by_hand:
        assert "battery's ground cable" in each.message, each


def test_the_heavy_cable_comes_off_once(run):
    """What is off for the first reading is off for the next; told twice, one looks for another."""
    first, _, second, *_ = run(
        "quick-answer", system_v=24, load="starter_solenoid", distance_m=14
    ).plan
    assert "the heavy cable off the starter with all that is on its stud" in first.message
    assert "Take" not in second.message
    assert "With the heavy cable still off the starter" in second.message
