"""Loads that a state has off: nothing arrives there, and nothing is to be mended for it."""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import ask, checks, contact, load, resistance, wire
from .test_letting_go import RELAY

POOR = {"fail", "undecided"}


def lamp(name, start, end, watts, needed_v=None):
    made = {"name": name, "kind": "lamp", "nodes": [start, end], "rated_power_w": watts}
    return {**made, "rated_v": 12, **({"needed_v": needed_v} if needed_v else {})}


def dip(run, *more, relays=(), loads=(), at="86", **case):
    """A dip relay: its 87 feeds the high beams, its 87a the low ones."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact("light switch", "post", "30", 0.005, part="switch", rating_a=30),
            contact("dip switch", "30", at, 0.005, part="switch", rating_a=10), *more,
        ],
        "relays": [{**RELAY, "coil_nodes": ["86", "ground"], "contact_nodes": ["30", "high"],
                    "break_nodes": ["30", "low"]}, *relays],
        "loads": [lamp("high beam", "high", "ground", 110, 11),
                  lamp("low beam", "low", "ground", 110, 11), *loads],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", **case}], nominal_v=12)


def off(answer):
    return {c.part: c for state in answer.cases for c in state.checks if c.code == "load_off"}


@pytest.mark.parametrize(("left_out", "dark"), [([], "low beam"), (["dip switch"], "high beam")])
def test_the_other_throw_of_a_relay_is_off(run, left_out, dark):
    answer = dip(run, without=left_out)
    assert off(answer).keys() == {dark}
    assert off(answer)[dark].verdict == "pass"
    assert not {c.code for c in answer.checks if c.verdict in POOR}


def test_what_a_thrown_relay_feeds_the_coil_of_is_off_too(run):
    """Fog lamps go out with the high beam: their relay hangs on the dip relay's 87a."""
    fog = {**RELAY, "name": "fog relay", "coil_nodes": ["low", "ground"],
           "contact_nodes": ["30", "fog"]}  # fmt: skip
    lamps = [lamp("fog lamps", "fog", "ground", 70, 11)]
    assert off(dip(run, relays=[fog], loads=lamps)).keys() == {"low beam", "fog lamps"}
    assert off(dip(run, relays=[fog], loads=lamps, without=["dip switch"])).keys() == {"high beam"}


def test_a_relay_that_stays_open_for_a_fault_is_no_design(run):
    """60 ohm before a coil of 100 leave it 7.9 V of the 8 V that close it: no high beams."""
    answer = dip(run, contact("plug", "at switch", "86", 60.0), at="at switch")
    assert not off(answer)
    failing = {c.part for c in answer.checks if c.code == "load_voltage" and c.verdict == "fail"}
    assert failing == {"high beam"}


def charge_lamp(run, *charges, joined=()):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.008},
        "branches": [
            contact("ignition", "post", "15", 0.005, part="switch", rating_a=30),
            wire("d+ wire", "61", "d+", "14 AWG", 2), *joined,
        ],
        "loads": [lamp("charge lamp", "15", "61", 3, 9),
                  lamp("other lamp", "15", "ground", 20, 10.5)],
        "further_sources": [*charges],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)


def test_a_charge_lamp_is_dark_while_the_alternator_charges(run):
    alternator = {"name": "alternator", "kind": "charger", "nodes": ["d+", "ground"],
                  "regulated_v": 14.2, "internal_resistance_ohm": 0.02, "limit_a": 45}  # fmt: skip
    main = wire("charge wire", "d+", "post", "8 AWG", 2)
    answer = charge_lamp(run, alternator, joined=[main])
    assert off(answer)["charge lamp"].verdict == "pass"
    assert not {c.code for c in answer.checks if c.verdict in POOR and c.part == "charge lamp"}


def test_with_the_engine_off_it_is_lit(run):
    """Through the field of 4 ohm, 12.6 V less what that takes: it needs 9 V and has them."""
    field = contact("brushes and field", "d+", "ground", 4.0, part="connector")
    answer = charge_lamp(run, joined=[field])
    assert not off(answer)
    assert_allclose(next(each.voltage_v for each in answer.cases[0].loads), 11.7, atol=0.3)


def test_a_load_with_both_ends_at_the_battery_is_asked_about(run):
    """Nothing charges: its ground end has been joined to the wrong post."""
    answer = charge_lamp(run, joined=[wire("wrong", "d+", "post", "14 AWG", 1)])
    assert off(answer)["charge lamp"].verdict == "unknown"
    assert "Not judged" in answer.headline


@pytest.mark.parametrize(("left_out", "turned"), [("down", False), ("up", True)])
def test_a_window_motor_that_relays_turn_round_is_no_starved_one(run, left_out, turned):
    """Either relay lifts one end of the motor off the ground and onto 12.6 V."""
    relays = [
        {**RELAY, "name": f"{way} relay", "coil_nodes": [f"86 {way}", "ground"],
         "contact_nodes": [end, "post"], "break_nodes": [end, "ground"]}
        for way, end in (("up", "a"), ("down", "b"))
    ]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact(way, "post", f"86 {way}", 0.02, part="switch", rating_a=10)
            for way in ("up", "down")
        ],
        "relays": relays,
        "loads": [{"name": "window motor", "kind": "motor", "nodes": ["a", "b"], "needed_v": 9.5,
                   "resistance_ohm": 0.6, "back_v": 6}],
    }  # fmt: skip
    case = {"name": "now", "without": [left_out], "duration_s": 6}
    answer = run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)
    assert not {c.code for c in answer.checks if c.verdict in POOR and c.part == "window motor"}
    assert bool(off(answer)) == turned
    assert all(each.verdict == "unknown" for each in off(answer).values())


def trailer(run, *left_out):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact("brake switch", "post", "b", 0.01, part="switch", rating_a=15),
            contact("tail switch", "post", "t", 0.01, part="switch", rating_a=15),
            contact("trailer ground", "frame", "ground", 0.002, part="ground"),
        ],
        "loads": [lamp("brake lamp", "b", "frame", 21, 10.8),
                  lamp("tail lamp", "t", "frame", 5, 10.8)],
    }  # fmt: skip
    case = {"name": "braking", "without": [*left_out]}
    return run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)


def test_a_lamp_whose_ground_is_left_out_is_dark_for_a_fault(run):
    """A trailer that lost its ground: the brake lamp does not work; the tail lamp is off anyway."""
    answer = trailer(run, "tail switch", "trailer ground")
    (check,) = [c for c in answer.checks if c.verdict == "fail"]
    assert (check.code, check.part, check.detail) == ("not_joined", "brake lamp", "trailer ground")
    assert off(answer).keys() == {"tail lamp"}
    assert not {c for c in trailer(run, "tail switch").checks if c.verdict in POOR}


def relay_of_a_lamp(run, *left_out):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact("lamp switch", "post", "86", 0.01, part="switch", rating_a=15),
            contact("coil ground", "85", "ground", 0.002, part="ground"),
            contact("lamp ground", "frame", "ground", 0.002, part="ground"),
        ],
        "relays": [{"name": "lamp relay", "nominal_v": 12, "coil_resistance_ohm": 90,
                    "pick_up_v": 7.2, "drop_out_v": 1.2, "contact_resistance_ohm": 0.003,
                    "coil_nodes": ["86", "85"], "contact_nodes": ["post", "lamp"]}],
        "loads": [lamp("head lamp", "lamp", "frame", 55, 10.8)],
    }  # fmt: skip
    case = {"name": "lights on", "without": [*left_out]}
    return run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)


def test_a_relay_whose_ground_is_left_out_stays_open_for_a_fault(run):
    """Its lamp is dark though the switch is on: no one calls that good. Switched off it is."""
    for others in ([], ["lamp ground"]):
        answer = relay_of_a_lamp(run, "coil ground", *others)
        (check,) = [c for c in answer.checks if (c.code, c.part) == ("not_joined", "lamp relay")]
        assert (check.verdict, check.detail) == ("fail", "coil ground")
        assert "without coil ground" in answer.headline
    for left_out in ([], ["lamp switch"], ["lamp switch", "coil ground"]):
        answer = relay_of_a_lamp(run, *left_out)
        assert "not_joined" not in {c.code for c in answer.checks}


def test_a_load_beside_a_resistance_works_though_metal_joins_both_its_ends(run):
    """By hand: 10 and 10 ohm side by side, 10 ohm behind them: a third of 12.6 V, and not off."""
    branches = [resistance("shunt", "post", "middle", 10)]
    loads = [load("lamp", "post", "middle", resistance_ohm=10),
             load("heater", "middle", "ground", resistance_ohm=10)]  # fmt: skip
    (state,) = ask(run, branches, loads)
    assert ("load_off", "lamp") not in checks(state)
    assert state.loads[0].voltage_v == pytest.approx(4.2, abs=0.01)


def fog(run, **case):
    """Fog lamps that the high beam puts out: their relay's coil ends at it and not at ground."""
    switches = [contact("low switch", "post", "lo", 0.005, part="switch", rating_a=20),
                contact("high switch", "post", "hi", 0.005, part="switch", rating_a=20),
                contact("fog switch", "lo", "86", 0.01, part="switch", rating_a=10)]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": switches,
        "relays": [{**RELAY, "name": "fog relay", "coil_nodes": ["86", "hi"],
                    "contact_nodes": ["post", "fog"]}],
        "loads": [lamp("fog lamp", "fog", "ground", 55, 11), lamp("high", "hi", "ground", 60)],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", **case}], nominal_v=12)


def test_a_coil_between_two_live_ends_leaves_its_load_off_and_is_asked_about(run):
    answer = fog(run)
    assert (off(answer)["fog lamp"].verdict, off(answer)["fog lamp"].detail) == (
        "unknown",
        "coil_live",
    )
    assert not {c.code for c in answer.checks if c.verdict in POOR}
    # Through the filament, which is cold.
    assert off(fog(run, without=["high switch"])).keys() == {"high"}


def test_a_load_that_no_case_switches_on_is_never_called_good(run):
    """A window motor whose ground is missing: both cases have it dark, and none says why."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact(f"{way} {side}", *at, 0.005, part="switch", rating_a=20)
            for way, side, at in (("up", "live", ("post", "a")), ("up", "ground", ("b", "ground")),
                                  ("down", "live", ("post", "b")),
                                  ("down", "ground", ("a", "ground")))
        ],
        "loads": [{"name": "lift", "kind": "motor", "nodes": ["a", "b"], "resistance_ohm": 0.6,
                   "back_v": 6, "needed_v": 10}],
    }  # fmt: skip
    up = ["down live", "down ground"]
    for more, code in (([], None), (["up ground"], "never_on")):
        case = {"name": "up", "without": [*up, *more]}
        answer = run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)
        assert ("never_on" in {c.code for c in answer.checks}) is (code == "never_on")
        assert (answer.verdict == "unknown" and answer.weakest.code == "never_on") is bool(code)


@pytest.mark.parametrize("make_rating_a", [150, None])
def test_what_does_not_help_is_not_asked_for_of_a_change_over_relay(run, make_rating_a):
    """Low beams on its 87a, of which make_rating_a tells nothing; that they are lamps is seen."""
    given = {"make_rating_a": make_rating_a} if make_rating_a else {}
    relay = {**RELAY, **given, "rating_a": 40, "break_rating_a": 30,
             "coil_nodes": ["86", "ground"], "contact_nodes": ["30", "high"],
             "break_nodes": ["30", "low"]}  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [contact("light switch", "post", "30", 0.002, part="switch", rating_a=30),
                     contact("dip switch", "30", "86", 0.005, part="switch", rating_a=10)],
        "relays": [relay],
        "loads": [lamp("high beam", "high", "ground", 110, 11),
                  lamp("low beam", "low", "ground", 110, 11)],
    }  # fmt: skip
    cases = [{"name": "low", "without": ["dip switch"]}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    (told,) = [c for c in answer.checks if c.code in {"inrush", "break_inrush"}]
    assert (told.code, told.verdict) == ("break_inrush", "unknown")
    assert not {word for word in ("load_kind", "give make_rating_a") if word in told.message}
    assert answer.weakest.code != "break_inrush"


def fogs(run, *left_out, beams=("left", "right"), lit=("beam switch",)):
    """A fog relay that finds its ground over the main beams: these put the fogs out."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact("fog switch", "post", "86", 0.005, part="switch", rating_a=5),
            contact("beam switch", "post", "beams", 0.005, part="switch", rating_a=30),
        ],
        "relays": [{**RELAY, "name": "fog relay", "coil_nodes": ["86", "beams"],
                    "contact_nodes": ["post", "fogs"]}],
        "loads": [lamp("fogs", "fogs", "ground", 110, 11),
                  *(lamp(name, "beams", "ground", 60) for name in beams)],
    }  # fmt: skip
    cases = [{"name": "lit", "without": [*lit]}, {"name": "now", "without": [*left_out]}]
    return run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)


def dark(answer):
    return {c.detail for c in answer.cases[1].checks if c.code == "left_dark"}


def test_a_gauge_that_reads_over_the_sender_that_is_selected_is_on(run):
    """Two tanks, and a switch for each: 12.6 V over 60 and 60 ohm leave the gauge 6.3 V."""
    selects = [contact(f"tank {n}", "out", n, 0.02, part="switch", rating_a=2) for n in "ab"]
    senders = [resistance(f"sender {n}", n, "ground", 60) for n in "ab"]
    gauge = load("gauge", "post", "out", resistance_ohm=60) | {"needed_v": 3}
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [*selects, *senders], "loads": [gauge],
    }  # fmt: skip
    cases = [{"name": "a", "without": ["tank b"]}, {"name": "off", "without": ["tank a", "tank b"]}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    on, off = ({c.code for c in case.checks if c.part == "gauge"} for case in answer.cases)
    assert "load_voltage" in on
    assert off == {"load_off"}


def test_what_is_left_out_on_trial_hides_nothing_that_is_weak(run):
    """An unplugged trailer is dark by design; 3.2 A over 30 mohm of pin are 0.096 V of 0.1."""
    plugs = [contact("pin 58", "lit", "out", 0.03), contact("pin 31", "back", "ground", 0.002),
             contact("pin 54", "brake", "stop", 0.002),
             wire("tail wire", "out", "tail", "18 AWG", 7, insulation="GXL")]  # fmt: skip
    switches = [contact(n, "post", at, 0.002, part="switch", rating_a=10)
                for n, at in (("lights", "lit"), ("pedal", "brake"))]  # fmt: skip
    loads = [lamp("tail lamps", "tail", "back", 40, 11), lamp("stop lamps", "stop", "back", 42, 11)]
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [*switches, *plugs], "loads": loads,
    }  # fmt: skip
    cases = [{"name": "night"}, {"name": "solo", "without": ["pin 58", "pin 31", "pin 54"]}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    details = {c.part: c.detail for c in answer.checks if c.code == "left_dark"}
    assert details == {"tail lamps": "pin 58, pin 31", "stop lamps": "pin 31, pin 54"}
    assert (answer.weakest.part, answer.weakest.verdict) == ("pin 58", "marginal")


def test_a_relay_that_has_lost_the_lamp_it_finds_its_ground_over_is_told(run):
    assert dark(fogs(run, "beam switch", "left", "right")) == {"left, right"}
    assert dark(fogs(run, "beam switch", "left", beams=["left"])) == {"left"}


@pytest.mark.parametrize(
    "left_out",
    [
        ("beam switch",), ("beam switch", "left"),  # the other one leads on
        ("left",), (),  # the beams have put it out
        ("beam switch", "fog switch", "left", "right"), ("beam switch", "fogs", "left", "right"),
    ],
)  # fmt: skip
def test_of_one_that_has_another_or_is_off_nothing_is_told(run, left_out):
    assert not dark(fogs(run, *left_out))


def test_where_no_case_has_them_lit_that_is_told_first(run):
    blown = ("beam switch", "left", "right")
    answer = fogs(run, *blown, lit=blown)
    assert (answer.weakest.code, answer.weakest.part) == ("never_on", "fogs")


@pytest.mark.parametrize(
    "chafe",
    [
        contact("chafe", "in", "ground", 0.005, part="connector"),
        contact("warning", "in", "ground", 0.005, part="switch"),
        resistance("shunt", "in", "ground", 0.001),
        None,
    ],
)
@pytest.mark.parametrize("without", [[], ["lamp switch"]])
def test_a_sender_whose_wire_has_chafed_through_is_told(run, chafe, without):
    """The gauge reads full. What is switched to ground, or lies over a shunt, is so by design."""
    branches = [contact("ignition", "post", "15", 0.01, part="switch", rating_a=10),
                contact("lamp switch", "post", "l", 0.01, part="switch", rating_a=10),
                wire("sender wire", "out", "in", "18 AWG", 4),
                contact("tank ground", "tank", "ground", 0.02, part="ground"),
                *([chafe] if chafe else [])]  # fmt: skip
    loads = [load("gauge", "15", "out", resistance_ohm=60), lamp("lamp", "l", "ground", 5),
             load("sender", "in", "tank", resistance_ohm=60)]  # fmt: skip
    (state,) = ask(run, branches, loads, {"name": "now", "without": without})
    found = {part for (code, part), check in checks(state).items()
             if (code, check.verdict) == ("load_off", "fail")}  # fmt: skip
    assert found == ({"sender"} if chafe and chafe["name"] == "chafe" else set())
