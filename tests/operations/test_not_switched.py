"""A switch that something leads past, and a relay that no switch rules.

From the trade: a jumper left across a switch, or a switch or relay that has welded, leaves its load
on; a relay coil on terminal 30 without a switch is closed day and night, and a battery is flat by
the end of the week.
"""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import contact, load, resistance, wire
from .test_letting_go import OFF, ON, RELAY, SWITCH, ask

LAMP_SWITCH = contact("lamp switch", "post", "lamp", 0.002, part="switch", rating_a=20)
LAMP = load("marker", "lamp", "ground", resistance_ohm=6) | {"needed_v": 10.8}


def told(answer, code):
    return {c.part: c for state in answer.cases for c in state.checks if c.code == code}


@pytest.mark.parametrize("case", [ON, {"name": "off", "without": ["lamp switch"]}])
@pytest.mark.parametrize(
    "past",
    [
        [wire("jumper", "post", "lamp", "14 AWG", 0.2)],
        [contact("weld", "post", "lamp", 0.001, part="terminal")],
        [wire("jumper", "post", "x", "14 AWG", 0.2), contact("plug", "x", "lamp", 0.002)],
    ],
)
def test_what_leads_past_a_lamps_switch_is_told(run, case, past):
    answer = ask(run, *past, switches=(SWITCH, LAMP_SWITCH), loads=[LAMP], cases=[case])
    found = told(answer, "bridged")
    assert found.keys() == {"lamp switch"}
    assert found["lamp switch"].verdict == "fail"
    assert found["lamp switch"].detail == ", ".join(each["name"] for each in past)
    assert "runs on" in answer.headline


def test_the_switch_of_a_relay_is_no_other(run):
    """A jumper across the switch of its coil: the relay is closed day and night for that alone."""
    answer = ask(run, wire("jumper", "post", "86", "14 AWG", 0.2), cases=[ON])
    assert told(answer, "bridged").keys() == {"switch"}
    assert not told(answer, "always_closed")
    assert "jumper" in answer.headline


def test_a_switch_on_the_ground_side_is_asked_the_same(run):
    horn = load("horn", "post", "horn", resistance_ohm=2)
    button = contact("button", "horn", "ground", 0.01, part="switch", rating_a=10)
    chafe = contact("chafe", "horn", "ground", 0.05, part="connector")
    assert not told(ask(run, button, loads=[horn], cases=[ON]), "bridged")
    assert told(ask(run, button, chafe, loads=[horn], cases=[ON]), "bridged").keys() == {"button"}


@pytest.mark.parametrize(
    "beside",
    [
        [contact("other", "post", "lamp", 0.002, part="switch", rating_a=20)],  # either one
        [resistance("pilot", "post", "lamp", 500)],
        [wire("second wire", "post", "lamp 2", "14 AWG", 0.2)],  # leads elsewhere
    ],
)
def test_what_is_no_bridge_is_not_told(run, beside):
    loads = [LAMP, load("other lamp", "lamp 2", "ground", resistance_ohm=6)]
    switches = (SWITCH, LAMP_SWITCH, contact("s2", "post", "lamp 2", 0.002, part="switch"))
    extra = [] if beside[0]["name"] == "second wire" else [switches[2]]
    answer = ask(run, *beside, *extra, switches=switches[:2], loads=loads, cases=[ON])
    assert not told(answer, "bridged")


@pytest.mark.parametrize("ohm", [0.001, 0.01, 0.05])
@pytest.mark.parametrize("turned", [False, True])
def test_a_contact_that_has_welded_may_be_drawn_across_that_of_its_relay(run, ohm, turned):
    """As one of a relay: it is closed wherever no case leaves it out, and its load runs on."""
    ends = RELAY["contact_nodes"][::-1] if turned else RELAY["contact_nodes"]
    weld = contact("weld", *ends, ohm, part="relay")
    found = told(ask(run, weld, cases=[OFF]), "bridged")
    assert {name: (c.verdict, c.detail) for name, c in found.items()} == {"relay": ("fail", "weld")}
    open_ = {**OFF, "without": [*OFF["without"], "weld"]}
    assert not told(ask(run, weld, cases=[open_]), "bridged")


@pytest.mark.parametrize("ohm", [0.002, 0.5, 2, 8])
def test_one_door_switch_beside_another_is_none_however_worn(run, ohm):
    other = contact("other", "post", "lamp", ohm, part="switch", rating_a=20)
    off = {"name": "one door", "without": ["lamp switch"]}
    answer = ask(run, other, switches=(SWITCH, LAMP_SWITCH), loads=[LAMP], cases=[off])
    assert not told(answer, "bridged")


def test_a_relay_contact_bridged_behind_its_key_is_told_too(run):
    """Both hang on the key; the button no longer rules the lamp."""
    key = contact("key", "post", "15", 0.002, part="switch", rating_a=30)
    jumper = wire("jumper", "15", "87", "12 AWG", 0.2)
    answer = ask(run, key, jumper, cases=[ON], contact_nodes=["15", "87"])
    assert told(answer, "bridged").keys() == {"relay"}


@pytest.mark.parametrize("case", [ON, OFF])
def test_a_relay_on_terminal_30_is_closed_day_and_night(run, case):
    """100 ohm at 12.6 V draw .126 A, and its lamp of 3 ohm 4.2 A: 4.33 A out of the battery."""
    always = {**RELAY, "name": "always", "coil_nodes": ["post", "ground"],
              "contact_nodes": ["post", "88"]}  # fmt: skip
    lamp = load("lamp 2", "88", "ground", resistance_ohm=3)
    answer = ask(run, relays=[always], loads=[lamp], cases=[case])
    found = told(answer, "always_closed")
    assert found.keys() == {"always"}
    assert found["always"].verdict == "undecided"
    assert_allclose(found["always"].value, 0.126, rtol=1e-2)
    assert "day and night" in answer.headline
    assert "battery" in answer.headline


def test_one_behind_a_relay_that_a_switch_rules_is_ruled(run):
    second = {**RELAY, "name": "second", "coil_nodes": ["87", "ground"],
              "contact_nodes": ["post", "88"]}  # fmt: skip
    answer = ask(run, relays=[second], cases=[ON])
    assert not told(answer, "always_closed")


def test_where_no_switch_is_given_at_all_it_is_asked_for(run):
    """Of a bench set-up nobody says that it empties a battery."""
    answer = ask(run, wire("lead", "post", "86", "14 AWG", 0.2), switches=(), cases=[ON])
    found = told(answer, "always_closed")
    assert {part: check.verdict for part, check in found.items()} == {"relay": "unknown"}


def test_one_that_an_isolator_alone_cuts_is_on_for_as_long_as_that(run):
    """It is there to be opened over night: what hangs on it alone draws while somebody drives."""
    main = contact("main", "post", "bus", 0.001, part="switch", rating_a=100, isolates=True)
    lamp = load("lamp 2", "88", "ground", resistance_ohm=3)
    always = {**RELAY, "name": "always", "coil_nodes": ["bus", "ground"],
              "contact_nodes": ["bus", "88"]}  # fmt: skip
    switch = {**SWITCH, "nodes": ["bus", "86"]}
    answer = ask(
        run, main, switches=(switch,), relays=[always], loads=[lamp], cases=[ON],
        contact_nodes=["bus", "87"],
    )  # fmt: skip
    assert not told(answer, "always_closed")


def test_what_is_to_be_taken_out_is_not_what_belongs_there(run):
    """A chafed button wire, and not the button's ground; a jumper, and not the fuse before it."""
    button = contact("button", "horn", "column", 0.01, part="switch", rating_a=10)
    column = contact("column ground", "column", "ground", 0.002, part="ground")
    chafe = contact("chafe", "horn", "ground", 0.05)
    horn = load("horn", "post", "horn", resistance_ohm=2)
    answer = ask(run, button, column, chafe, loads=[horn], cases=[ON])
    assert told(answer, "bridged")["button"].detail == "chafe"
    fuse = contact("fuse", "post", "fused", 0.002, part="fuse", rating_a=20)
    feed = wire("feed", "fused", "in", "14 AWG", 1)
    switch = {**LAMP_SWITCH, "nodes": ["in", "lamp"]}
    other = load("other", "in", "ground", resistance_ohm=6)
    for loads in ([LAMP], [LAMP, other]):
        for start in ("post", "fused"):
            jumper = wire("jumper", start, "lamp", "14 AWG", 0.2)
            answer = ask(run, fuse, feed, switch, jumper, loads=loads, cases=[ON])
            assert told(answer, "bridged")["lamp switch"].detail == "jumper"


@pytest.mark.parametrize("by_relay", [True, False])
@pytest.mark.parametrize(("fuse_a", "verdict"), [(5, "unknown"), (60, "fail")])
def test_a_small_fuse_past_a_battery_switch_keeps_a_clock_going(run, by_relay, fuse_a, verdict):
    """5 A past 200: the clock's. 60 A: somebody did away with the switch."""
    fuse = contact("memory fuse", "post", "bus", 0.02, part="fuse", rating_a=fuse_a)
    marker = load("marker", "bus", "ground", resistance_ohm=60)
    if by_relay:
        relay = RELAY | {"name": "battery relay", "contact_nodes": ["post", "bus"], "rating_a": 200}
        answer = ask(run, fuse, loads=[marker], relays=[relay], cases=[ON])
    else:
        switch = contact("battery relay", "post", "bus", 0.0004, part="switch", rating_a=200)
        answer = ask(run, switch, fuse, loads=[marker], cases=[ON])
    bypassed = any(told(answer, "fuse_bypassed"))
    assert bypassed == (by_relay and verdict == "fail")
    check = told(answer, "bridged")["battery relay"]
    assert (check.verdict, check.detail) == (verdict, "memory fuse")


@pytest.mark.parametrize(("fuse_a", "is_told"), [(5, False), (60, True)])
def test_the_cables_of_a_battery_switch_lead_past_no_clocks_fuse(run, fuse_a, is_told):
    """Post, cable, switch, cable, bus, and the clock's fuse from the post to the bus."""
    parts = [
        wire("cable", "post", "in", "2 AWG", 0.5), wire("bus cable", "out", "bus", "2 AWG", 1),
        contact("battery switch", "in", "out", 0.0004, part="switch", rating_a=200, isolates=True),
        contact("clock fuse", "post", "bus", 0.02, part="fuse", rating_a=fuse_a),
    ]  # fmt: skip
    marker = load("marker", "bus", "ground", resistance_ohm=60)
    answer = ask(run, *parts, loads=[marker], cases=[ON])
    assert bool(told(answer, "fuse_bypassed")) == is_told


@pytest.mark.parametrize(("pick_up_v", "is_closed"), [(8.0, True), (13.3, False)])
def test_a_relay_that_waits_for_a_voltage_is_not_closed_day_and_night(run, pick_up_v, is_closed):
    """One of a second battery, on terminal 30 by design: it closes as the engine charges."""
    always = {"coil_nodes": ["post", "ground"], "pick_up_v": pick_up_v}
    answer = ask(run, cases=[{"name": "parked"}], **always)
    assert bool(told(answer, "always_closed")) == is_closed


def test_a_relay_that_senses_what_charges_is_asked_for_and_not_replaced(run):
    """13.3 V close it, whatever the air: that is no coil of 12 V, and no fault of one either."""
    senses = {"coil_nodes": ["post", "ground"], "pick_up_v": 13.3, "drop_out_v": 12.8}
    answer = ask(run, cases=[{"name": "parked"}], **senses)
    assert told(answer, "relay_voltage")["relay"].verdict == "unknown"
    assert "Take another relay" not in answer.headline
    assert not [
        c for s in answer.cases for c in s.checks if c.part == "relay" and c.verdict == "fail"
    ]
    # A relay of 24 V that is given as what it is stays a wrong one.
    wrong = told(ask(run, nominal_v=24, pick_up_v=15.0), "relay_voltage")["relay"]
    assert (wrong.verdict, wrong.detail) == ("fail", "for_more")


SEAT = contact("seat switch", "key", "seat", 0.01, part="switch", rating_a=20)
KEY = contact("key", "post", "key", 0.01, part="switch", rating_a=20)
LEVER = contact("lever", "seat", "lamp", 0.01, part="switch", rating_a=20)


@pytest.mark.parametrize(
    ("past", "of"),
    [
        (("post", "lamp"), {"key", "seat switch", "lever"}),
        (("post", "seat"), {"key", "seat switch"}),
        (("key", "lamp"), {"seat switch", "lever"}),
    ],
)
@pytest.mark.parametrize("left_out", [[], ["seat switch"]])
def test_one_wire_past_several_switches_in_a_row_is_told_of_each(run, past, of, left_out):
    """An interlock of which nothing is left: what it is to stop runs on."""
    jumper = wire("jumper", *past, "14 AWG", 0.2)
    case = {"name": "now", "without": left_out}
    answer = ask(run, jumper, switches=(KEY, SEAT, LEVER), loads=[LAMP], cases=[case])
    found = told(answer, "bridged")
    assert found.keys() == of
    assert {(c.verdict, c.detail) for c in found.values()} == {("fail", "jumper")}
    assert answer.verdict == "fail"
    assert "runs on" in answer.headline


def test_switches_in_a_row_and_side_by_side_are_no_bridge(run):
    """Two-way switches, and two buttons for one key: with all of them open nothing is on."""
    up, down = (
        [contact(f"{end} {throw}", *at, 0.01, part="switch", rating_a=20) for end, at in ends]
        for throw, ends in (
            ("up", (("front", ("post", "t1")), ("rear", ("t1", "lamp")))),
            ("down", (("front", ("post", "t2")), ("rear", ("t2", "lamp")))),
        )
    )
    ways = (*up, *down)
    answer = ask(run, switches=ways, loads=[LAMP], cases=[{"name": "x", "without": ["rear up"]}])
    assert not told(answer, "bridged")
    beside = contact("second button", "post", "seat", 0.01, part="switch", rating_a=20)
    answer = ask(run, beside, switches=(KEY, SEAT, LEVER), loads=[LAMP], cases=[ON])
    assert not told(answer, "bridged")


@pytest.mark.parametrize(
    ("ohm", "is_told"),
    [(0.5, True), (6.0, False)],  # 12.4 V of 6 / 6.5, and a dimmer's half
)
def test_a_chafe_past_an_open_switch_leaves_its_lamp_on(run, ohm, is_told):
    past = resistance("chafe", "post", "lamp", ohm)
    for left_out, tells in ((["lamp switch"], is_told), ([], False)):
        case = {"name": "now", "without": left_out}
        answer = ask(run, past, switches=(SWITCH, LAMP_SWITCH), loads=[LAMP], cases=[case])
        found = told(answer, "bridged")
        assert found.keys() == ({"lamp switch"} if tells else set())
        assert {c.detail for c in found.values()} <= {"chafe"}


@pytest.mark.parametrize("ends", [("washer", "button"), ("button", "washer")])
@pytest.mark.parametrize("beside", [[], [resistance("suppressor", "button", "ground", 1e4)]])
def test_a_chafe_before_the_wire_to_an_open_button_leaves_its_load_on(run, ends, beside):
    """No current flows in the wire that leads on to the button: 12.4 V of 2 / 2.1 are left."""
    washer = load("washer", "post", "washer", resistance_ohm=2)
    button = contact("button", "button", "ground", 0.01, part="switch", rating_a=10)
    parts = [wire("lead", *ends, "16 AWG", 3), resistance("chafe", "washer", "ground", 0.1)]
    case = {"name": "rest", "without": ["button"]}
    answer = ask(run, button, *parts, *beside, loads=[washer], cases=[case])
    (found,) = told(answer, "bridged").values()
    assert (found.part, found.verdict) == ("button", "fail")
    assert "chafe" in found.detail.split(", ")
    assert beside or "lead" not in found.detail
    sound = ask(run, button, parts[0], *beside, loads=[washer], cases=[case])
    assert not told(sound, "bridged")


@pytest.mark.parametrize(
    ("past", "volts"),
    [
        (wire("jumper", "post", "50", "10 AWG", 0.1), 12.5),
        (resistance("chafe", "post", "50", 0.3), 7.5),  # 12.6 V of 0.45 / 0.75
        (None, None),
    ],
)
@pytest.mark.parametrize("left_out", ["key", "neutral"])
def test_a_starter_that_is_fed_past_all_its_switches_cranks_with_any_of_them_open(
    run, past, volts, left_out
):
    """A lamp hangs between key and neutral switch: each may feed it, and neither is bridged."""
    switches = (KEY, contact("neutral", "key", "50", 0.01, part="switch", rating_a=40))
    solenoid = load("solenoid", "50", "ground", resistance_ohm=0.45)
    loads = [solenoid | {"circuit": "starter_control", "needed_v": 7},
             load("start lamp", "key", "ground", resistance_ohm=70)]  # fmt: skip
    case = {"name": "now", "without": [left_out]}
    more = [past] if past else []
    answer = ask(run, *more, switches=switches, loads=loads, cases=[case])
    found = told(answer, "cranks_alone")
    assert found.keys() == ({"solenoid"} if past else set())
    if past:
        assert_allclose(found["solenoid"].value, volts, atol=0.2)
        assert found["solenoid"].detail == past["name"]
        assert answer.weakest.code == "cranks_alone"


@pytest.mark.parametrize("left_out", [["isolator"], []])
@pytest.mark.parametrize("positive_ground", [False, True])
@pytest.mark.parametrize(
    ("linked", "at", "is_told"),
    [
        ("metal", "ground", True),  # past the isolator, from the trade: nothing is dead
        ("metal", "frame post", False),  # behind it, as it should be
        ("switch", "ground", False),  # a battery of its own, that a switch parts
    ],
)
def test_an_isolator_in_the_ground_of_one_of_two_batteries_isolates_nothing(
    run, left_out, positive_ground, linked, at, is_told
):
    isolates = {"part": "switch", "rating_a": 200, "isolates": True}
    link = contact("link", "post", "second post", 0.001, part="terminal")
    link |= {"part": "switch", "rating_a": 200} if linked == "switch" else {}
    branches = [contact("isolator", "frame post", "ground", 0.0005, **isolates), link]
    ends = {"plus": "post", "minus": "frame post"}
    nodes = ["second post", at]
    if positive_ground:
        ends, nodes = {"plus": "frame post", "minus": "post"}, nodes[::-1]
    second = {"name": "second", "kind": "battery", "nodes": nodes}
    state = {"open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    lamp = load("lamp", "post", "ground", resistance_ohm=6)
    made = {"source": ends | state, "branches": branches, "loads": [lamp],
            "further_sources": [second | state]}  # fmt: skip
    answer = run("circuit-check", circuit=made, cases=[{"name": "now", "without": left_out}])
    found = told(answer, "isolates_one")
    expected = {"isolator": "second"} if is_told else {}
    assert {part: each.detail for part, each in found.items()} == expected
    assert ("nothing is dead" in answer.headline) == is_told
