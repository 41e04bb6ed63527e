"""How a load fails, where its volts tell little of it, leads to what a mechanic looks at first.

Common practice, no source: a fuse that blows is replaced by none larger, and its load is unplugged
first; what melted is replaced with its terminals; a starter that pulls in and is slow wants battery
and heavy cables read while it turns; what is not charged is read at a fast idle.
"""

import pytest

from lastvolt_service.api.problems import Refused

QUICK = "quick-answer"
# As the trade lists them, rounded.
MM2 = {"8 AWG": 8.4, "6 AWG": 13.3, "4 AWG": 21.2, "3 AWG": 26.7, "2 AWG": 33.6, "1 AWG": 42.4,
       "1/0 AWG": 53.5}  # fmt: skip


@pytest.mark.parametrize("wear", ["new", "very_old"])
@pytest.mark.parametrize(
    ("load", "fails", "said", "unsaid"),
    [
        ("headlamps", "blows_fuse", "Fit no larger fuse. Unplug headlamps", "relay for"),
        ("horn", "gets_hot", "Leave horn off.", "Volts tell"),
        (
            "starter_solenoid",
            "turns_slowly",
            "the posts of the battery: less than 9.6 V",
            "key held",
        ),
        ("headlamps", "not_charged", "if that is not 1 V more, see to the belt", "relay for"),
    ],
)
def test_the_first_line_says_what_to_look_at_first(run, load, fails, said, unsaid, wear):
    answer = run(QUICK, system_v=12, load=load, distance_m=4, fails=fails, wear=wear)
    assert answer.advice == "find_out_first"
    assert answer.plan[0].code == "look_first"
    assert said in answer.headline
    assert answer.headline.startswith(f"Find out first: {answer.plan[0].message}")
    assert "Not decided" not in answer.headline
    assert unsaid not in answer.headline


def test_what_melted_is_spared_by_a_relay_once_it_is_replaced(run):
    body = {"system_v": 12, "load": "horn", "distance_m": 2, "wear": "very_old"}
    assert [e.code for e in run(QUICK, **body, fails="gets_hot").plan] == ["look_first", "relay"]


@pytest.mark.parametrize(
    "body",
    [
        {"load": "glow_plugs", "distance_m": 2, "wear": "used"},
        {"current_a": 60, "distance_m": 3, "wear": "used", "wire": "4 AWG"},
    ],
    ids=["glow plugs", "60 A"],
)
def test_a_switch_that_no_relay_with_blades_spares_is_spared_by_a_contactor(run, body):
    """45 A and more melt the next key switch as well: from the trade, a contactor carries them."""
    plan = run(QUICK, system_v=12, **body, fails="gets_hot").plan
    assert [each.code for each in plan] == ["look_first", "rewire"]
    assert "To spare the switch, draw new wire" in plan[1].message
    assert "a contactor, or a relay with studs" in plan[1].message
    assert MM2.get(plan[1].size, 0) > 8


@pytest.mark.parametrize("load", ["starter_solenoid", "headlamps", "pump", "horn"])
def test_what_comes_and_goes_is_shaken_and_read_while_it_fails(run, load):
    """From the trade: a thin wire is thin always; what comes and goes is loose, and no relay's."""
    body = {"system_v": 12, "load": load, "distance_m": 8, "wear": "old"}
    answer = run(QUICK, **body, fails="sometimes")
    assert [each.code for each in answer.plan] == ["look_first"]
    assert "while it fails" in answer.headline
    assert ("shake and press" in answer.headline) == (load != "starter_solenoid")


def test_nobody_shakes_what_turns_or_sparks_at_a_tank(run):
    for load in ("fan", "pump", "winch"):
        said = run(QUICK, system_v=12, load=load, distance_m=4, fails="sometimes").headline
        assert "Keep hands off what turns or winds, and shake nothing in fuel vapour" in said


@pytest.mark.parametrize("load", ["starter_solenoid", "headlamps", "glow_plugs"])
def test_a_hot_switch_that_cannot_be_had_is_left_with_a_coil_only(run, load):
    """From the trade: nobody replaces what is made no more; a relay or contactor takes its load."""
    body = {"system_v": 12, "load": load, "distance_m": 5, "wear": "old", "fails": "gets_hot"}
    told = "which cannot be had, it must carry no more than the coil"
    assert told not in run(QUICK, **body).headline
    answer = run(QUICK, **body, switch_to_be_had=False)
    assert told in answer.headline
    assert "To spare the switch" in answer.plan[1].message


def test_of_a_starter_that_comes_and_goes_it_is_asked_what_is_heard(run):
    """A clatter is the battery, one click the heavy side, silence the small wire; it may turn."""
    said = run(
        QUICK, system_v=24, load="starter_solenoid", distance_m=9, fails="sometimes"
    ).headline
    for sign, part in (("clatters", "battery"), ("clicks once", "heavy cables"),
                       ("nothing is heard", "terminal 50")):  # fmt: skip
        assert said.index(sign) < said.index(part, said.index(sign))
    assert "It may turn at any moment" in said
    assert "shake" not in said


@pytest.mark.parametrize("fails", ["cold", "hot", "always"])
def test_one_whose_starter_is_slow_is_told_to_ask_so(run, fails):
    """Most that fail cold pull in and turn slowly: volts at its solenoid tell nothing of that."""
    body = {"system_v": 12, "load": "starter_solenoid", "distance_m": 4, "wear": "old"}
    first = run(QUICK, **body, fails=fails).plan[0]
    assert "turns slowly, these volts do not hold: ask again and say so" in first.message


@pytest.mark.parametrize(("volts", "cranking"), [(6, "4.8 V"), (24, "19.2 V")])
def test_what_the_posts_keep_is_of_the_system(run, volts, cranking):
    body = {"system_v": volts, "load": "starter_solenoid", "distance_m": 4}
    assert f"less than {cranking}" in run(QUICK, **body, fails="turns_slowly").headline


def test_a_low_battery_while_it_turns_is_tested_before_it_is_blamed(run):
    """Practice: a starter that drags, or a stiff engine, pulls a sound one as low."""
    body = {"system_v": 12, "load": "starter_solenoid", "distance_m": 4}
    said = run(QUICK, **body, fails="turns_slowly").headline
    assert said.index("have it tested") < said.index("a starter that drags")


def test_only_a_starter_turns_slowly(run):
    with pytest.raises(Refused) as refused:
        run(QUICK, system_v=12, load="fan", distance_m=2, fails="turns_slowly")
    assert "/fails" in str(refused.value.errors)


def test_what_melts_because_its_wire_is_too_thin_gets_thicker_wire_too(run):
    """60 A through 14 AWG, which bears less than half of it: a new switch would melt as well."""
    body = {"system_v": 12, "current_a": 60, "wire": "14 AWG", "distance_m": 3}
    plan = run(QUICK, **body, fails="gets_hot").plan
    assert plan[0].code == "look_first"
    assert [e for e in plan if e.code == "rewire" and MM2[e.size] > 10]


def test_a_fuse_is_tried_with_its_load_unplugged_and_switched_on(run):
    """Switched off, a wire that is chafed past the switch blows none, and the load is blamed."""
    body = {"distance_m": 4, "fails": "blows_fuse", "system_v": 12}
    said = run(QUICK, load="fan", **body).headline
    assert said.index("Unplug fan") < said.index("switch on") < said.index("plug fan in again")
    # Practice: a loose fuse heats, and melts at less than its rating.
    assert "With less see whether the fuse sits loose in its holder" in said
    held = run(QUICK, load="starter_solenoid", **body).headline
    assert held.index("ground cable off") < held.index("terminal 50") < held.index("hold the key")
    assert "clamp meter" not in held  # a plunger moves in less time than such a meter takes


@pytest.mark.parametrize(
    ("load", "fails", "said"),
    [
        ("glow_plugs", "blows_fuse", "far fewer ohms than the others"),
        ("glow_plugs", "gets_hot", "goes off once the engine runs"),
        ("winch", "blows_fuse", "cables off the motor of winch"),
        ("winch", "gets_hot", "without a load on the rope"),
        # 100 A flow while it pulls; more than 50 A without a load say that it is stiff.
        ("winch", "gets_hot", "more than half of 100 A"),
        ("headlamps", "blows_fuse", "a bulb of more watts"),
        ("wipers", "blows_fuse", "stiff, or a winding is shorted"),
        ("starter_solenoid", "gets_hot", "heavy cable off the starter as well"),
    ],
)
def test_what_is_looked_at_is_of_its_load(run, load, fails, said):
    """From the trade: plugs are read one by one, a winch has studs and no plug, lamps turn not."""
    first = run(QUICK, system_v=12, load=load, distance_m=3, wear="used", fails=fails).plan[0]
    assert said in first.message
    for wrong in ("plugs is", "lamps is", "wipers is", "Unplug glow", "Unplug winch"):
        assert wrong not in first.message


@pytest.mark.parametrize("fails", ["blows_fuse", "gets_hot"])
def test_a_wire_that_may_be_too_thin_is_read_whatever_else_is_looked_at(run, fails):
    """Where 100 A are asked for, the thinnest wire in use, about 70 A, gets hot and blows fuses."""
    body = {"system_v": 12, "current_a": 100, "distance_m": 20, "zone": "cabin"}
    codes = [each.code for each in run(QUICK, **body, fails=fails).plan]
    assert codes[:2] == ["look_first", "read_size"]


def test_a_wire_that_bears_too_little_is_told_with_the_wire_it_needs(run):
    """60 A through 14 AWG: once a meter says so, he must know what to buy."""
    body = {"system_v": 12, "current_a": 60, "wire": "14 AWG", "distance_m": 3}
    plan = run(QUICK, **body, fails="blows_fuse").plan
    told = next(each.message for each in plan if each.code == "leave_off")
    new = next(each for each in plan if each.code == "rewire")
    assert told.endswith(
        f"needs new wire of {new.size}, with a fuse of {new.fuse_a:g} A at its start."
    )
