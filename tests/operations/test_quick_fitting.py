"""What a plan has fitted can be fitted: to terminals, to the way back, and to the heat there.

Common practice, no source: a receptacle of 6.3 mm grips up to 6 mm2 (10 AWG has 5.3, 8 AWG 8.4),
one of 9.5 mm up to 10 mm2; a relay for more than 40 A has blades of 9.5 mm.
"""

import pytest

from lastvolt_service.operations.decision.usual_relay import usual_relays
from lastvolt_service.rows import number

from .relay_lists import place, post, relay

QUICK = "quick-answer"
OF_CHOICE = {"circuit", "cases", "nominal_v", "load", "switch"}
MM2 = {
    "18 AWG": 0.82, "16 AWG": 1.3, "14 AWG": 2.1, "12 AWG": 3.3, "10 AWG": 5.3, "8 AWG": 8.4,
    "6 mm2": 6.0, "4 mm2": 4.0, "2.5 mm2": 2.5, "10 mm2": 10.0,
    "6 AWG": 13.3, "4 AWG": 21.2, "2 AWG": 33.6, "1/0 AWG": 53.5, "2/0 AWG": 67.4,
}  # fmt: skip


def last(answer):
    return answer.plan[-1]


@pytest.mark.parametrize(
    "body",
    [
        # By drop alone 4 AWG and 8 AWG: no blade of a relay takes them, or not that relay's.
        {"system_v": 6, "load": "headlamps", "distance_m": 4, "wear": "old", "fails": "always"},
        {"system_v": 12, "load": "fan", "distance_m": 5, "wear": "used", "fails": "hot"},
    ],
)
def test_the_wire_of_a_relay_goes_onto_its_blades(run, body):
    relay = last(run(QUICK, **body))
    assert relay.code == "relay"
    assert MM2[relay.size] <= (6.0 if relay.relay_a <= 40 else 10.0)


def test_what_is_fitted_stands_the_heat_whenever_the_load_fails(run):
    """An engine is hot in summer, too, if its starter fails in frost: the same wire and fuse."""
    body = {"system_v": 12, "load": "starter_solenoid", "distance_m": 9, "wear": "used"}
    cold, hot = (last(run(QUICK, **body, fails=each)) for each in ("cold", "hot"))
    assert (cold.size, cold.fuse_a) == (hot.size, hot.fuse_a)


@pytest.mark.parametrize(
    ("volts", "metres", "one_winding_a", "fuse_a"), [(12, 9, 14.0, 20.0), (6, 4, 28.0, 40.0)]
)
def test_a_list_of_relays_gets_the_fuse_that_the_quick_answer_fits(
    volts, metres, one_winding_a, fuse_a
):
    """Both windings of a starter take 40 A of 12 V for a moment; one holds, with a third of that.

    No fuse for 40 A: it has a moment's current for a moment. A fuse bears three quarters of its
    rating for long, and less in the heat of an engine.
    """
    assert one_winding_a < 0.75 * fuse_a < 2 * one_winding_a
    body = {"system_v": volts, "load": "starter_solenoid", "distance_m": metres, "fails": "hot",
            "wear": "old"}  # fmt: skip
    quick = post(QUICK, body)
    whole = {key: each for key, each in quick["request"].items() if key in OF_CHOICE}
    places = [place("bulkhead", "engine_bay", "splash") | {"feed_node": "heavy cable"}]
    candidates = [relay("one", volts=volts, rating_a=80, derating=[
        {"ambient_c": 85, "current_a": 60}, {"ambient_c": 125, "current_a": 40}])]  # fmt: skip
    best = post("relay-choice", whole | {"candidates": candidates, "places": places})["best"]
    assert quick["plan"][-1]["fuse_a"] == best["fuse_rating_a"] == fuse_a
    assert quick["plan"][-1]["size"] == best["size"]


@pytest.mark.parametrize(("wire", "said"), [(None, True), ("10 AWG", False)])
def test_a_thin_return_wire_is_drawn_anew_with_the_feed(run, wire, said):
    """Half of what is lost is lost on the way back, which no relay shortens."""
    body = {"system_v": 12, "load": "pump", "distance_m": 5, "return_path": "wire"}
    more = {} if wire is None else {"wire": wire}
    relay = last(run(QUICK, **body, **more, wear="very_old", fails="always"))
    assert ("return wire as thick" in relay.message) is said


def test_a_load_far_off_with_a_wire_back_gets_a_relay_and_no_cable(run):
    """10 A over 15 m and back, 16 AWG: by drop alone 3 AWG, which no relay takes, nor a shop.

    30 m of 8 AWG at 2.06 mohm and 1.2 ohm of load: with 12.55 V and some 35 mohm of battery, fuse,
    relay and ground 11.6 V arrive. As it is 13.2 mohm a metre and two contacts more leave 9.1 V.
    """
    answer = run(
        QUICK, system_v=12, load="other", current_a=10, distance_m=15, return_path="wire",
        wear="used", wire="16 AWG", fails="always",
    )  # fmt: skip
    assert answer.advice == "relay"
    (relay,) = answer.plan
    assert (relay.code, relay.size) == ("relay", "8 AWG")
    assert "contactor" not in relay.message
    assert relay.brings_v == pytest.approx(2.5, abs=0.2)
    (way,) = answer.request.ways
    assert [(each.name, each.size) for each in way.relay.wires] == [("return wire", "8 AWG")]


@pytest.mark.parametrize(
    "body",
    [
        {"system_v": 12, "load": "headlamps", "distance_m": 8, "wire": "18 AWG"},
        {"system_v": 6, "load": "headlamps", "distance_m": 5, "wire": "12 AWG"},
        {"system_v": 24, "load": "fan", "distance_m": 15, "wire": "16 AWG"},
        {"system_v": 6, "load": "heated_screen", "distance_m": 4, "wire": "14 AWG"},
    ],
)
def test_new_wire_is_told_once_for_the_whole_way(run, body):
    plan = run(QUICK, **body, return_path="wire", wear="used", fails="always").plan
    said = [each.message for each in plan]
    assert len(set(said)) == len(said)
    assert sum(each.code in {"rewire", "relay"} for each in plan) == 1


def test_no_wire_is_called_thin_that_is_as_thick_as_it_must_be(run):
    """7 A over 3 m of 10 AWG lose 0.07 V: what is short there is corroded, not thin."""
    answer = run(
        QUICK, system_v=12, load="horn", distance_m=3, wire="10 AWG", wear="used", fails="always"
    )
    assert (last(answer).code, last(answer).size) == ("rewire", "10 AWG")
    assert "as thick as it must be, so it is corroded" in last(answer).message


def test_who_tells_square_millimetres_is_told_them(run):
    answer = run(
        QUICK, system_v=12, load="headlamps", distance_m=6, wire="2.5 mm2", wear="old",
        fails="always",
    )  # fmt: skip
    assert last(answer).size in {"4 mm2", "6 mm2"}


def test_the_relay_of_a_starter_is_fed_where_the_heavy_cable_ends(run):
    """Half a metre of feed does not reach to a battery 8 m off."""
    answer = run(QUICK, system_v=12, load="starter_solenoid", distance_m=8, fails="hot")
    assert answer.request.ways[0].relay.feed_node == answer.request.circuit.source.plus
    assert answer.request.circuit.source.plus == "heavy cable"


@pytest.mark.parametrize(
    ("load", "metres"), [("starter_solenoid", 2), ("headlamps", 5), ("fan", 5)]
)
def test_what_never_fails_and_has_enough_at_the_worst_is_left(run, load, metres):
    """New, short, never weak: nobody takes a heavy cable off to read what works."""
    answer = run(QUICK, system_v=12, load=load, distance_m=metres, wear="new", fails="never")
    assert answer.load_voltage_v.low_v > answer.needed_v.high_v
    assert answer.advice == "nothing_needed"


@pytest.mark.parametrize(
    ("volts", "load", "metres"),
    [(6, "starter_solenoid", 2), (12, "fan", 4), (12, "wipers", 4), (12, "starter_solenoid", 4)],
)
def test_what_is_new_and_never_fails_is_left_and_told_of_nothing_poor(run, volts, load, metres):
    """All at its worst at once it never met: in the middle a tenth is to spare.

    Of 6 V: 67 A of pull-in through 2 m of 10 AWG at 3.28 mohm are 0.44 V, new contacts 0.2 V, the
    battery 0.2 V of 6.27 V: some 5.4 V reach what needs 4.9 V hot. What flows for the moment in
    which the plunger moves warms no contact.
    """
    body = {"system_v": volts, "load": load, "distance_m": metres, "wear": "new"}
    answer = run(QUICK, **body, fails="never")
    assert (answer.advice, answer.plan, answer.verdict) == ("nothing_needed", (), "pass")
    assert "It never fails: leave it as it is." in answer.headline
    assert run(QUICK, **body, fails="hot").advice != "nothing_needed"


@pytest.mark.parametrize(
    ("volts", "metres", "wear"), [(12, 4, "used"), (24, 14, "used"), (12, 0.5, "very_old")]
)
def test_of_a_starter_that_never_fails_nothing_is_taken_apart(run, volts, metres, wear):
    """Its contacts lose more than the usual, and enough arrives as a rule: one looks, no more.

    From the trade: no heavy cable comes off a starter that starts.
    """
    body = {"system_v": volts, "load": "starter_solenoid", "distance_m": metres, "wear": wear}
    answer = run(QUICK, **body, fails="never")
    assert answer.advice == "nothing_needed"
    assert "Nothing to mend" in answer.headline
    assert "It never fails: leave it as it is." in answer.headline
    (only,) = answer.plan
    assert only.code == "look"
    assert "key switch" in only.message
    assert len(run(QUICK, **body).plan) > 1  # of which nobody said that it never fails


@pytest.mark.parametrize(
    "more",
    [
        {"system_v": 6, "distance_m": 5, "wear": "new"},
        {"system_v": 12, "distance_m": 9, "wear": "old"},
        {"system_v": 12, "distance_m": 12, "wear": "used", "wire": "1.5 mm2"},
    ],
)
def test_a_starter_that_never_fails_is_looked_at_though_the_numbers_decide_nothing(run, more):
    """Hot it may be short by the worst of all guesses; a thousand starts say more than they do.

    From the trade: the heavy cable stays on, and what is not known is told.
    """
    answer = run(QUICK, load="starter_solenoid", fails="never", **more)
    assert answer.load_voltage_v.low_v < answer.needed_v.high_v
    assert answer.advice == "nothing_needed"
    assert [step.code for step in answer.plan] == ["look"]
    assert "Not decided: voltage at the load" in answer.headline
    assert run(QUICK, load="starter_solenoid", fails="hot", **more).advice != "nothing_needed"


def test_a_starter_with_an_insulated_return_gets_a_relay_and_no_welding_cable(run):
    """15 m from the battery the heavy cables, out and back, both end at the starter.

    From the trade: a relay there needs half a metre each way, of 12 AWG; 2 AWG to the solenoid and
    a contactor are what nobody fits.
    """
    answer = run(
        QUICK, system_v=12, load="starter_solenoid", distance_m=15, fails="hot", wear="used",
        return_path="wire",
    )  # fmt: skip
    assert last(answer).code == "relay"
    assert MM2[last(answer).size] <= 6.0
    assert answer.request.circuit.branches[5].length_m == pytest.approx(0.5)


@pytest.mark.parametrize(("amps", "wire"), [(15, "1.5 mm2"), (12, "1 mm2"), (20, "2.5 mm2")])
def test_a_plan_of_a_relay_alone_is_not_headed_by_mending(run, amps, wire):
    """15 A over 20 m of 1.5 mm2 lose 3.5 V. The wire back is drawn with the relay, in one step."""
    answer = run(QUICK, system_v=12, load="other", current_a=amps, distance_m=10, wire=wire,
                 return_path="wire", wear="used", fails="always")  # fmt: skip
    assert [step.code for step in answer.plan] == ["relay"]
    assert answer.advice == "relay"
    assert answer.headline.startswith("Fit the relay")


def test_a_relay_is_rated_for_the_heat_of_its_own_place():
    """A cabin of 50 degC leaves 15 A of a relay for 20 A of 24 V, an engine bay of 90 degC 14.4.

    Of 15 A at 85 degC and 10 at 125: 15 - 5 x 5 / 40. On a straight line, as its sheet has it.
    """
    assert usual_relays(24.0, 14.9, 14.9, 50.0)[0].rating_a == 20
    assert usual_relays(24.0, 14.3, 14.3, 90.0)[0].rating_a == 20
    assert usual_relays(24.0, 14.5, 14.5, 90.0)[0].rating_a == 50
    assert not usual_relays(24.0, 38.2, 38.2, 90.0)


def test_what_is_on_for_a_while_gets_no_wire_of_what_is_on_without_end(run):
    """By practice glow plugs of 45 A hang on 10 or 16 mm2, and are on for 20 s."""
    body = {"system_v": 12, "distance_m": 2, "wear": "used", "fails": "cold"}
    glow = run("quick-answer", **body, load="glow_plugs", current_a=45)
    last = glow.plan[-1]
    assert last.code in {"rewire", "relay"}
    assert last.size in {"8 AWG", "6 AWG"}
    assert last.fuse_a >= 45
    assumed = next(each for each in glow.assumed if each.code == "on_time_s")
    assert (assumed.low, assumed.unit) == (20, "s")
    assert {each.duration_s for each in glow.request.cases} == {20}
    # Those of 30 A go over a relay of the trade, and what never fails is left on the wire it has.
    assert run("quick-answer", **body, load="glow_plugs", current_a=30).plan[-1].code == "relay"
    sound = run("quick-answer", **body | {"fails": "never"}, load="glow_plugs")
    assert (sound.advice, sound.plan) == ("nothing_needed", ())


def test_a_winch_pulls_for_minutes_and_gets_no_cable_of_what_never_ends(run):
    """80 A over 4 m: by practice 16 to 35 mm2 behind a fuse of 80 to 125 A, and a contactor.

    With 0.6 V for wire 8 AWG would do by drop: it is heat that decides, and two minutes warm a
    thick wire a little only. A tow yard's winch of 250 A is sized by wire-sizing.
    """
    body = {"system_v": 12, "distance_m": 4, "wear": "used", "fails": "always", "current_a": 80}
    winch, endless = (run(QUICK, **body, load=each) for each in ("winch", "other"))
    assert {each.duration_s for each in winch.request.cases} == {120}
    (its,), (other,) = ([e for e in a.plan if e.size] for a in (winch, endless))
    assert its.size in {"6 AWG", "4 AWG", "2 AWG"}
    assert 80 <= its.fuse_a <= 125
    assert MM2[its.size] < MM2[other.size]
    assert "contactor" in its.message
    assert "its coil fed by the old wire" in its.message  # else nothing switches it


@pytest.mark.parametrize(
    ("load", "on_time_s"),
    [("wipers", None), ("power_window", 10), ("air_horns", 10), ("fan", None), ("pump", None)],
)
def test_motors_of_a_vehicle_are_on_for_as_long_as_such_ones_are(run, load, on_time_s):
    """A fuse carries three quarters of its rating for long, and is no more than a motor needs."""
    answer = run(QUICK, system_v=12, load=load, distance_m=4, wear="old", fails="always")
    (last,) = [each for each in answer.plan if each.fuse_a]
    most_a = {"wipers": 8, "power_window": 15, "air_horns": 20, "fan": 20, "pump": 8}[load]
    assert 1.25 * most_a <= last.fuse_a <= 2.5 * most_a
    assert {number(each.duration_s) for each in answer.request.cases} == {on_time_s}


@pytest.mark.parametrize(("system_v", "amps"), [(12, 0.5), (12, 2), (6, 2.5), (24, 1)])
def test_a_small_load_gets_new_wire_and_no_relay(run, system_v, amps):
    """Common practice: any switch carries 3 A, and a coil would take a tenth of so little.

    Where the switch can be neither cleaned nor bought there is no other way.
    """
    body = {"system_v": system_v, "current_a": amps, "distance_m": 12, "wear": "old",
            "fails": "always"}  # fmt: skip
    assert last(run(QUICK, **body)).code == "rewire"
    assert last(run(QUICK, **body, switch_to_be_had=False)).code == "relay"


@pytest.mark.parametrize(
    ("load", "amps", "metres", "by_heat"), [("winch", 100, 2, True), ("fan", 30, 6, False)]
)
def test_a_wire_that_heat_makes_thick_is_said_to_be_so(run, load, amps, metres, by_heat):
    """By hand: 2 m of 2 AWG (0.52 mohm a metre) lose 0.13 V of the 1 V of a winch at 125 A.

    6 m of 6 AWG (1.3 mohm a metre, a quarter more at 90 degC) lose 0.3 V at 31 A, and with the two
    tenths that contacts keep of half a volt nothing is left: there the drop asks for more.
    """
    answer = run(QUICK, system_v=12, load=load, current_a=amps, distance_m=metres, fails="always",
                 wear="old")  # fmt: skip
    assert ("for the heat on its way, 90" in last(answer).message) is by_heat


def test_a_starter_has_no_thin_wire_back_to_draw(run):
    """Its heavy cable back begins at it: what is thin is only the wire to its terminal 50."""
    body = {"system_v": 24, "load": "starter_solenoid", "distance_m": 12, "fails": "cold"}
    plan = run(QUICK, **body, wear="very_old", return_path="wire").plan
    assert plan[-1].code in {"rewire", "relay"}
    assert not any("return wire as thick" in each.message for each in plan)


@pytest.mark.parametrize(("metres", "code"), [(11, "relay"), (2.5, "rewire")])
def test_a_starter_far_off_gets_a_relay_at_its_cable_before_new_wire_all_the_way(run, metres, code):
    """The battery's cable ends at it: a metre of wire there does what twice 11 m would."""
    body = {"system_v": 24, "load": "starter_solenoid", "wear": "old", "fails": "hot"}
    last_step = last(run(QUICK, **body, distance_m=metres))
    assert (last_step.code, last_step.only_if) == (code, "less")


@pytest.mark.parametrize(("current_a", "is_told"), [(6, False), (25, True)])
def test_old_wire_is_taken_for_pvc(run, current_a, is_told):
    """1 mm2 of PVC in a loom bears some 12 to 15 A in the cabin's heat, and no 25 A.

    Common practice, as charts of trailer and caravan wiring have it for thin PVC.
    """
    found = run("quick-answer", system_v=12, load="heated_screen", distance_m=4, fails="never",
                current_a=current_a, wire="1 mm2")  # fmt: skip
    heat = {"conductor_temperature", "permissible_current"}
    assert bool(heat & {c.code for c in found.checks if c.verdict == "fail"}) is is_told
    wires = [each for each in found.request.circuit.branches if each.kind == "wire"]
    assert {each.insulation for each in wires} == {"GPT"}


@pytest.mark.parametrize(
    ("volts", "amps", "wire", "codes"),
    [
        # A cable as thick as it must be is there, and still no dash switch breaks such a current.
        (24, 80, "50 mm2", {"rewire"}),
        (12, 80, "50 mm2", {"rewire"}),
        (24, 35, "10 mm2", {"relay", "rewire"}),
        (12, 45, "25 mm2", {"relay", "rewire"}),
    ],
)
def test_what_no_switch_bears_goes_over_a_contactor_or_relay(run, volts, amps, wire, codes):
    """Common practice, no source: a dash switch bears 30 A on 6 and 12 V, 20 A on 24 V."""
    body = {"system_v": volts, "load": "winch", "current_a": amps, "zone": "cabin"}
    steps = run("quick-answer", **body, wire=wire, distance_m=4, wear="used", fails="hot").plan
    last = steps[-1]
    assert last.code in codes
    assert last.relay_a >= amps
    assert "by way of the switch" not in last.message


@pytest.mark.parametrize(("volts", "amps"), [(24, 18), (12, 28)])
def test_what_a_switch_bears_goes_on_by_way_of_it(run, volts, amps):
    body = {"system_v": volts, "load": "winch", "current_a": amps, "zone": "cabin"}
    steps = run("quick-answer", **body, distance_m=3, wear="used", fails="hot").plan
    assert "by way of the switch" in steps[-1].message


@pytest.mark.parametrize("metres", [6, 8, 12])
@pytest.mark.parametrize("wire", [None, "1.5 mm2"])
def test_a_small_load_with_a_long_way_gets_no_large_relay(run, metres, wire):
    """A refrigerator of 6 A: its drop makes the wire thick, and a tail goes onto any terminal."""
    body = {"system_v": 12, "current_a": 6, "zone": "cabin", "return_path": "wire"}
    body |= {"wear": "used", "fails": "always", "distance_m": metres}
    body |= {"wire": wire} if wire else {}
    step = run("quick-answer", **body).plan[-1]
    assert step.code == "rewire"
    assert "by way of the switch" in step.message
    # Without the switch a small relay is fitted, with what its blades take.
    worn = run("quick-answer", **body, switch_to_be_had=False).plan[-1]
    assert (worn.code, worn.relay_a) == ("relay", 40)
    assert worn.size in {"10 AWG", "6 mm2", "4 mm2"}
