"""Which part a fault is laid on, and what is no fault, by a careful mechanic: common practice.

Sums are by pencil and paper, for 12.6 V with hardly any resistance of the source.
"""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import contact, load, resistance, wire
from .test_letting_go import RELAY

SOURCE = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.0}
# Feeds the lamps of every circuit below.
FUSE = contact("fuse", "post", "fed", 0.0, part="fuse", rating_a=20, fuse_family="blade C")


def ask(run, branches, loads, *cases, relays=(), further_sources=(), source=SOURCE):
    circuit = {
        "source": source, "branches": branches, "loads": loads, "relays": list(relays),
        "further_sources": list(further_sources),
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=list(cases) or [{"name": "now"}],
               nominal_v=12)  # fmt: skip


def told(answer, code):
    return [check for state in answer.cases for check in state.checks if check.code == code]


def switch(name, start, end, ohm=0.002, rating_a=30):
    return contact(name, start, end, ohm, part="switch", rating_a=rating_a)


# A pump relay that a push button closes and its own contact keeps in, until another one opens.
BUTTONS = [
    FUSE, switch("start button", "fed", "86"), switch("stop button", "85", "ground"),
    wire("m", "87", "pump", "12 AWG", 2),
]  # fmt: skip
HOLDING = {**RELAY, "coil_nodes": ["86", "85"], "contact_nodes": ["fed", "87"]}
PUMP = load("pump", "pump", "ground", resistance_ohm=2) | {"needed_v": 11}
HELD = {"name": "held", "without": ["start button"], "held": ["relay"]}


@pytest.mark.parametrize("case", [{"name": "pressed"}, HELD])
def test_a_relay_with_a_start_and_a_stop_button_holds_itself_by_design(run, case):
    hold = wire("hold", "87", "86", "16 AWG", 0.3)
    (check,) = told(ask(run, [*BUTTONS, hold], [PUMP], case, relays=[HOLDING]), "holds_itself")
    assert (check.verdict, check.detail) == ("unknown", "hold")
    assert "If it is to" in check.message


@pytest.mark.parametrize(
    ("hold", "buttons", "pump"),
    [
        (resistance("chafe", "87", "86", 0.5), BUTTONS, PUMP),
        (wire("old wire", "87", "86", "16 AWG", 0.3),
         [each if each["name"] != "stop button" else {**each, "part": "ground", "rating_a": None}
          for each in BUTTONS], PUMP),
        (wire("old wire", "87", "86", "16 AWG", 0.3), BUTTONS,
         {**PUMP, "circuit": "starter_control"}),
    ],
)  # fmt: skip
def test_one_that_a_chafe_or_an_old_wire_keeps_in_runs_on(run, hold, buttons, pump):
    """A neutral switch that opens stops no starter whose key was let go."""
    branches = [{k: v for k, v in each.items() if v is not None} for each in [*buttons, hold]]
    answer = ask(run, branches, [pump], relays=[HOLDING])
    assert {check.verdict for check in told(answer, "holds_itself")} == {"fail"}


GENERATOR = {
    "name": "generator", "kind": "charger", "nodes": ["B+", "ground"], "regulated_v": 14.2,
    "internal_resistance_ohm": 0.02, "limit_a": 55,
}  # fmt: skip


def test_a_coil_on_d_plus_is_fed_while_the_generator_charges(run):
    lamp = load("fridge", "fridge", "ground", resistance_ohm=3)
    branches = [
        switch("fridge switch", "87", "fridge"), contact("exciter", "B+", "86", 0.05),
        wire("charge wire", "B+", "post", "6 AWG", 1),
    ]  # fmt: skip
    behind = ask(run, branches, [lamp], relays=[RELAY], further_sources=[GENERATOR])
    (check,) = told(behind, "always_closed")
    assert (check.verdict, check.detail) == ("unknown", "generator")
    assert "D+" in check.message
    at_post = [{**each, "nodes": ["post", "86"]} if each["name"] == "exciter" else each
               for each in branches]  # fmt: skip
    (check,) = told(ask(run, at_post, [lamp], relays=[RELAY], further_sources=[GENERATOR]),
                    "always_closed")  # fmt: skip
    assert (check.verdict, check.detail) == ("undecided", None)


def lamp(name, start, end, watts, needed_v=None):
    made = {"name": name, "kind": "lamp", "nodes": [start, end], "rated_power_w": watts}
    return {**made, "rated_v": 12, **({"needed_v": needed_v} if needed_v else {})}


CLUSTER = [
    FUSE, switch("brake switch", "fed", "stop"), switch("tail switch", "fed", "tail"),
    wire("front wire", "tail", "front", "16 AWG", 3),
]  # fmt: skip
GROUND = contact("cluster ground", "cluster", "ground", 0.001, part="ground")
LAMPS = [lamp("stop lamp", "stop", "cluster", 21, 11), lamp("tail lamp", "tail", "cluster", 5),
         lamp("front lamp", "front", "ground", 5)]  # fmt: skip


@pytest.mark.parametrize("left_out", [[], ["tail switch"]])
def test_a_lost_ground_sends_the_brake_lamps_current_through_the_tail_lamp(run, left_out):
    """Both lamps of the cluster glow or go dark, and neither is to be replaced."""
    case = {"name": "braking", "without": left_out}
    answer = ask(run, CLUSTER, LAMPS, case)
    (check,) = told(answer, "lost_joint")
    assert (check.part, check.verdict, check.detail) == ("stop lamp", "fail", "cluster")
    assert answer.weakest == check
    assert not told(answer, "in_series")
    assert not told(ask(run, [*CLUSTER, GROUND], LAMPS, case), "lost_joint")


@pytest.mark.parametrize("volts", [12, None])
def test_a_lost_ground_is_told_whatever_is_said_of_what_the_lamps_need(run, volts):
    """A trailer's: its brake lamps find their ground over its tail lamps and the vehicle's own."""
    lamps = [lamp("stop lamp", "stop", "cluster", 21), lamp("tail lamp", "tail", "cluster", 5),
             lamp("front lamp", "front", "ground", 5)]  # fmt: skip
    if volts is None:
        lamps = [{**each, "circuit": "continuous"} for each in lamps]
    case = {"name": "braking", "without": ["tail switch"]}
    answer = ask(run, CLUSTER, lamps, case)
    (check,) = told(answer, "lost_joint")
    assert (check.part, check.verdict, check.detail) == ("stop lamp", "fail", "cluster")
    assert answer.weakest == check
    assert not told(ask(run, [*CLUSTER, GROUND], lamps, case), "lost_joint")


def test_a_pilot_lamp_with_its_resistor_between_the_lamps_of_both_sides_has_lost_nothing(run):
    """Either side's lamp is its ground while the other flashes."""
    branches = [FUSE, *(switch(each, "fed", each) for each in ("left", "right"))]
    pilot = {**lamp("pilot", "left", "between", 2), "rated_v": 6}
    loads = [lamp("left lamp", "left", "ground", 21), lamp("right lamp", "right", "ground", 21),
             pilot, load("resistor", "between", "right", resistance_ohm=18)]  # fmt: skip
    case = {"name": "left flashes", "without": ["right"]}
    assert not told(ask(run, branches, loads, case), "lost_joint")


def test_lamps_that_are_in_series_by_design_have_lost_nothing(run):
    """Two of 6 V on 12.6 V, each with what it needs or a little less; their switch open, too."""
    row = [lamp("one", "fed", "between", 10, 5.5), lamp("two", "between", "out", 10, 6.4)]
    branches = [FUSE, switch("switch", "out", "ground")]
    assert not told(ask(run, branches, row), "lost_joint")
    off = ask(run, branches, row, {"name": "off", "without": ["switch"]})
    assert {check.verdict for check in told(off, "load_off")} == {"pass"}


IGNITION = [FUSE, switch("ignition", "fed", "15"), resistance("ballast", "15", "coil", 1.4)]
COIL = load("ignition coil", "coil", "ground", resistance_ohm=1.6) | {"needed_v": 6}


def test_a_wire_past_a_ballast_burns_the_coil(run):
    """12.6 V times 1.6/3.0 are 6.72 V, and 6 V do: more is too much."""
    answer = ask(run, [*IGNITION, wire("jumper", "15", "coil", "12 AWG", 0.2)], [COIL])
    (check,) = told(answer, "shunted")
    assert (check.part, check.verdict, check.detail) == ("ballast", "fail", "jumper")
    assert_allclose(check.limit, 6.72, rtol=0.02)
    assert answer.weakest == check
    assert "Take that way off" in answer.headline


@pytest.mark.parametrize("at", ["post", "fed"])
@pytest.mark.parametrize("left_out", [[], ["ignition"]])
def test_a_wire_from_before_the_key_past_a_ballast_burns_the_coil(run, at, left_out):
    """It was meant for the start contact: 12.6 V stay on the coil, with the key off, too."""
    bypass = [wire("starter cable", at, "starter", "4 AWG", 1),
              wire("bypass", "starter", "coil", "12 AWG", 0.2)]  # fmt: skip
    answer = ask(run, [*IGNITION, *bypass], [COIL], {"name": "now", "without": left_out})
    (check,) = told(answer, "shunted")
    assert (check.part, check.verdict, check.detail) == ("ballast", "fail", "bypass")
    assert answer.weakest == check


def test_a_resistor_from_the_key_to_what_is_live_anyway_has_nothing_led_past_it(run):
    """As the one beside a charge lamp, from the key to the generator's lead; the radio hangs on the
    battery."""
    branches = [FUSE, switch("key", "fed", "15"), resistance("beside the lamp", "15", "D", 50),
                wire("charge wire", "D", "post", "6 AWG", 1)]  # fmt: skip
    at_d = {**GENERATOR, "nodes": ["D", "ground"]}
    radio = load("radio", "post", "ground", resistance_ohm=150) | {"needed_v": 8}
    assert not told(ask(run, branches, [radio], further_sources=[at_d]), "shunted")


@pytest.mark.parametrize("left_out", [[], ["ignition"], ["start contact"]])
def test_a_start_contact_from_before_the_key_is_there_by_design(run, left_out):
    start = [switch("start contact", "fed", "out"), wire("bypass", "out", "coil", "12 AWG", 0.2)]
    case = {"name": "now", "without": left_out}
    assert not told(ask(run, [*IGNITION, *start], [COIL], case), "shunted")


@pytest.mark.parametrize(
    ("beside", "needed_v"),
    [
        ([switch("start contact", "15", "coil")], 6),  # opens again
        ([contact("spare fuse", "15", "coil", 0.002, part="fuse", rating_a=20)], 6),
        ([wire("strap", "15", "coil", "12 AWG", 0.2)], 11),  # the resistance alone were too much
        ([resistance("second", "15", "coil", 1.4)], 6),
        ([], 6),
    ],
)
def test_what_leads_past_a_resistance_by_design_is_not_told(run, beside, needed_v):
    answer = ask(run, [*IGNITION, *beside], [{**COIL, "needed_v": needed_v}])
    assert not told(answer, "shunted")


def test_a_chafe_before_a_sender_makes_the_gauge_read_full(run):
    """12.6 V over 60 and 60 ohm: 6.3 V; the wire to the sender itself leads past nothing."""
    branches = [FUSE, wire("sender wire", "out", "tank", "18 AWG", 4),
                resistance("sender", "tank", "ground", 60),
                resistance("chafe", "out", "ground", 0.05)]  # fmt: skip
    gauge = load("gauge", "fed", "out", resistance_ohm=60) | {"needed_v": 4}
    (check,) = told(ask(run, branches, [gauge]), "shunted")
    assert (check.part, check.detail) == ("sender", "chafe")
    assert_allclose([check.value, check.limit], [12.6, 6.3], rtol=0.01)


@pytest.mark.parametrize("chafe_ohm", [0.05, None])
def test_so_does_one_before_a_sender_that_has_a_ground_of_its_own(run, chafe_ohm):
    branches = [FUSE, wire("sender wire", "out", "in", "18 AWG", 4),
                resistance("sender", "in", "tank", 60),
                contact("tank ground", "tank", "ground", 0.02, part="ground")]  # fmt: skip
    if chafe_ohm:
        branches.append(resistance("chafe", "in", "ground", chafe_ohm))
    gauge = load("gauge", "fed", "out", resistance_ohm=60) | {"needed_v": 4}
    found = told(ask(run, branches, [gauge]), "shunted")
    assert [(c.part, "chafe" in c.detail) for c in found] == ([("sender", True)] * bool(chafe_ohm))


def gauge_of(run, tank_ohm, chafe_ohm):
    """12.6 V over a gauge of 60 ohm and a sender of 60, that has a ground of its own."""
    branches = [FUSE, wire("sender wire", "out", "in", "18 AWG", 4),
                resistance("sender", "in", "tank", 60),
                contact("tank ground", "tank", "ground", tank_ohm, part="ground"),
                resistance("chafe", "in", "ground", chafe_ohm)]  # fmt: skip
    gauge = load("gauge", "fed", "out", resistance_ohm=60) | {"needed_v": 4}
    return ask(run, branches, [gauge])


@pytest.mark.parametrize("tank_ohm", [0.02, 20, 200, 1000])
@pytest.mark.parametrize("chafe_ohm", [0.05, 5])
def test_a_chafe_before_a_sender_is_told_however_poor_its_ground(run, tank_ohm, chafe_ohm):
    """Past the chafe nothing flows in that ground, and it drops nothing."""
    answer = gauge_of(run, tank_ohm, chafe_ohm)
    (check,) = told(answer, "shunted")
    assert (check.part, check.verdict, check.detail) == ("sender", "fail", "chafe")
    assert answer.weakest.part == "sender"


@pytest.mark.parametrize(("chafe_ohm", "volts"), [(20, 10.08), (60, 8.4)])
def test_one_that_lets_half_through_is_asked_about(run, chafe_ohm, volts):
    """60 beside 60 ohm are 30: 12.6 * 60 / 90 = 8.4 V; beside 20 they are 15: 10.1 V."""
    answer = gauge_of(run, 0.02, chafe_ohm)
    (check,) = told(answer, "shunted")
    assert (check.verdict, check.detail) == ("undecided", "chafe")
    assert_allclose([check.value, check.limit], [volts, 6.3], rtol=0.01)
    assert answer.weakest == check
    assert not told(gauge_of(run, 0.02, 300), "shunted")


PLUGGED = [*IGNITION, wire("lead", "coil", "plug", "14 AWG", 1, insulation="GXL"),
           contact("plug", "plug", "lit", 0.002)]  # fmt: skip
LIT = load("ignition coil", "lit", "ground", resistance_ohm=1.5) | {"needed_v": 4}


@pytest.mark.parametrize("part", ["fuse", "ballast", "lead", "plug"])
def test_a_load_that_is_dark_for_a_part_is_not_passed_over(run, part):
    """A case where all is on beside it: what is left out in the other one stands in its line."""
    answer = ask(run, PLUGGED, [LIT], {"name": "on"}, {"name": "pulled", "without": [part]})
    assert (answer.weakest.code, answer.weakest.case) == ("left_dark", "pulled")
    assert f"without {part} it is dark" in answer.headline
    answer = ask(run, PLUGGED, [LIT], {"name": "pulled", "without": [part]})
    (check,) = told(answer, "left_dark")
    assert (check.part, check.verdict, check.detail) == ("ignition coil", "unknown", part)
    off = ask(run, IGNITION, [COIL], {"name": "off", "without": ["ignition"]})
    assert not told(off, "left_dark")


def test_what_leads_past_a_button_is_not_its_own_wire(run):
    horn = load("horn", "fed", "horn", resistance_ohm=2)
    branches = [FUSE, wire("own wire", "horn", "button", "14 AWG", 1.5),
                switch("button", "button", "ground"),
                resistance("chafe", "horn", "ground", 0.02)]  # fmt: skip
    (check,) = told(ask(run, branches, [horn]), "bridged")
    assert (check.part, check.detail) == ("button", "chafe")


def test_a_wire_that_takes_what_the_load_lacks_is_named(run):
    """5 m of 18 AWG have 0.1 ohm and some, of 1.1 ohm in all: about 1.3 V are lost in it."""
    thin = wire("thin wire", "fed", "lamp", "18 AWG", 5, temperature_c=20)
    answer = ask(run, [FUSE, thin], [load("lamp", "lamp", "ground", resistance_ohm=1)
                                     | {"needed_v": 11.5}])  # fmt: skip
    (check,) = told(answer, "wire_drop")
    assert (check.part, check.detail) == ("thin wire", "lamp")
    assert_allclose(check.value, 12.6 * 0.105 / 1.105, rtol=0.05)
    poor = contact("plug", "lamp", "end", 0.3)
    dirty = ask(run, [FUSE, thin, poor], [load("lamp", "end", "ground", resistance_ohm=1)
                                          | {"needed_v": 11.5}])  # fmt: skip
    assert not told(dirty, "wire_drop")


def test_of_four_glow_plugs_the_shorted_one_is_named_with_the_fuse(run):
    """126 A in 0.1 ohm, and 14 A in each of 0.9 ohm."""
    plugs = [load(f"plug {at}", "fed", "ground", resistance_ohm=0.9) for at in (1, 2, 3)]
    strip = {**FUSE, "rating_a": 80, "resistance_ohm": 0.0001}
    del strip["fuse_family"]
    shorted = load("plug 4", "fed", "ground", resistance_ohm=0.1)
    (check,) = told(ask(run, [strip], [*plugs, shorted]), "fuse_load")
    assert (check.verdict, check.detail) == ("fail", "plug 4")
    assert "so much for plug 4" in check.message


@pytest.mark.parametrize("chafe_ohm", [0.2, 0.5, 1.0])
def test_a_sound_key_drops_more_for_a_chafe_behind_it(run, chafe_ohm):
    """10 A through 5 mohm are 0.05 V; with 12.6, 25 or 63 A more they are up to 0.36 V."""
    branches = [FUSE, switch("key", "fed", "out", 0.005), wire("w", "out", "horn", "10 AWG", 0.5),
                resistance("chafe", "horn", "ground", chafe_ohm)]  # fmt: skip
    horn = load("horn", "horn", "ground", resistance_ohm=1.26) | {"needed_v": 10}
    answer = ask(run, branches, [horn])
    (short,) = told(answer, "short")
    assert (short.part, short.verdict) == ("chafe", "fail")
    assert answer.weakest.part == "chafe"
    blamed = {c.code for c in answer.checks if c.part == "key" and c.verdict == "fail"}
    assert not blamed
    poor = [{**each, "resistance_ohm": 0.05} if each["name"] == "key" else each
            for each in branches]  # fmt: skip
    blamed = {c.code for c in ask(run, poor, [horn]).checks if c.part == "key"
              and c.verdict == "fail"}  # fmt: skip
    assert "contact_drop" in blamed


def test_the_short_is_where_the_ohms_are(run):
    """3 A through 4 ohm: of the plug in its way, and the wire, nothing burns."""
    branches = [FUSE, contact("plug", "fed", "D+", 0.05), wire("w", "D+", "field", "14 AWG", 1),
                resistance("field", "field", "ground", 4)]  # fmt: skip
    found = told(ask(run, branches, [lamp("lamp", "fed", "ground", 21)]), "short")
    assert {(check.part, check.verdict) for check in found} == {("field", "undecided")}


@pytest.mark.parametrize(
    "posts", [{"plus": "ground", "minus": "post"}, {"plus": "strap", "minus": "post"}]
)
def test_a_chafe_turns_no_polarity_round(run, posts):
    """With positive ground, too, it is the chafe that burns, and not the feed before it."""
    branches = [
        wire("feed", "post", "fed", "10 AWG", 1),
        resistance("chafe", "fed", "ground", 0.03),
    ]
    if posts["plus"] != "ground":
        branches.append(contact("bolt", "strap", "ground", 0.0004, part="ground"))
    answer = ask(run, branches, [lamp("lamp", "fed", "ground", 21)], source={**SOURCE, **posts})
    assert {check.part for check in told(answer, "short")} == {"chafe"}
