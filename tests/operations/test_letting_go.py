"""Whether a relay opens with its switch: pencil and paper, and what a starter that runs on costs.

12.6 V without resistance; a coil of 100 ohm that 8 V close and that opens below 2 V.
"""

from copy import deepcopy

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

from .circuit_parts import contact, load, resistance, wire

RELAY = {
    "name": "relay", "nominal_v": 12, "coil_resistance_ohm": 100, "pick_up_v": 8.0,
    "drop_out_v": 2.0, "contact_resistance_ohm": 0.002, "rating_a": 40,
    "coil_nodes": ["86", "ground"], "contact_nodes": ["post", "87"],
}  # fmt: skip
SWITCH = contact("switch", "post", "86", 0.001, part="switch", rating_a=10)
ON, OFF = {"name": "on"}, {"name": "off", "without": ["switch"]}
OFF_AGAIN = {"name": "off again", "without": ["switch"], "held": ["relay"]}
RUNS_ON = {"closes_alone", "holds_itself", "kept_closed", "bridged"}


def ask(run, *branches, cases=(ON, OFF), switches=(SWITCH,), loads=(), relays=(), **relay):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.0},
        "branches": [*switches, *branches], "relays": [{**RELAY, **relay}, *relays],
        "loads": [load("lamp", "87", "ground", resistance_ohm=3) | {"needed_v": 10.8}, *loads],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=list(cases), nominal_v=12)


def told(answer):
    checks = (check for state in answer.cases for check in state.checks)
    return {(c.code, c.part, c.case): c for c in checks if c.code in RUNS_ON}


def test_a_relay_that_nothing_else_feeds_lets_go(run):
    answer = ask(run, cases=(ON, OFF, OFF_AGAIN))
    assert not told(answer)
    # Off, it is asked neither to close nor to feed its lamp.
    off = {(c.code, c.verdict) for c in answer.cases[1].checks}
    assert ("load_off", "pass") in off
    assert not {code for code, _ in off} & {"pick_up_warm", "pick_up_at_ambient", "load_voltage"}


@pytest.mark.parametrize("case", [ON, OFF, OFF_AGAIN])
def test_the_old_wire_left_on_the_load_keeps_it_closed(run, case):
    """From 87 back to 86: the contact feeds the coil, the lamps burn on, and so says every case."""
    answer = ask(run, wire("old wire", "86", "87", "14 AWG", 0.3), cases=[case])
    (check,) = told(answer).values()
    assert (check.code, check.verdict, check.detail) == ("holds_itself", "fail", "old wire")
    assert_allclose(check.value, 12.6, rtol=5e-3)
    assert answer.weakest == check
    assert "runs on" in answer.headline
    assert "pull the fuse" in answer.headline


@pytest.mark.parametrize(
    ("ohm", "code", "value"),
    [
        (40, "closes_alone", 12.6 * 100 / 140),  # 9.0 V close it, with no switch at all
        (60, "kept_closed", 12.6 * 100 / 160),  # 7.9 V do not, and keep it
        (500, "kept_closed", 12.6 * 100 / 600),  # 2.1 V keep it
    ],
)
@pytest.mark.parametrize("case", [ON, OFF])
def test_a_leak_across_the_open_switch_is_held_against_what_it_opens_at(
    run, case, ohm, code, value
):
    answer = ask(run, resistance("lit switch", "post", "86", ohm), cases=[case], pick_up_v=8.5)
    (check,) = told(answer).values()
    assert (check.code, check.verdict, check.detail) == (code, "fail", "lit switch")
    assert_allclose(check.value, value, rtol=2e-2)
    wanted = [c for c in answer.checks if c.verdict == "fail"]
    assert wanted == [check]  # nobody is sent to feed a coil that must not be fed


def test_one_that_it_opens_below_passes_and_its_margin_is_told(run):
    """1000 ohm leave 12.6 x 100 / 1100 = 1.15 V of the 2 V that keep it."""
    (check,) = told(ask(run, resistance("lit switch", "post", "86", 1000), cases=[ON])).values()
    assert (check.code, check.verdict) == ("kept_closed", "pass")
    assert_allclose(check.value, 12.6 * 100 / 1100, rtol=2e-2)
    (check,) = told(ask(run, resistance("lit switch", "post", "86", 570), cases=[ON])).values()
    assert check.verdict == "marginal"  # 1.88 V


def test_a_lamp_across_the_switch_leaks_as_a_resistance_does(run):
    """One of 3 W for 12 V has 48 ohm hot and less cold: it closes the relay by itself."""
    lit = {
        "name": "lit", "kind": "lamp", "rated_power_w": 3, "rated_v": 12, "nodes": ["post", "86"],
    }  # fmt: skip
    codes = {code for code, _, _ in told(ask(run, cases=[ON], loads=[lit]))}
    assert codes <= {"closes_alone", "kept_closed"}
    assert codes


def test_a_ballast_that_leads_back_keeps_a_start_relay_closed_while_the_engine_runs(run):
    """Run contact, 1.5 ohm, ignition coil of 1.5 ohm, and its bypass on 86: half of 12.6 V."""
    run_contact = contact("run contact", "post", "15", 0.001, part="switch", rating_a=10)
    answer = ask(
        run, run_contact, resistance("ballast", "15", "1", 1.5),
        wire("bypass", "1", "86", "14 AWG", 1), cases=[ON],
        loads=[load("ignition coil", "1", "ground", resistance_ohm=1.5)],
    )  # fmt: skip
    (check,) = told(answer).values()
    assert (check.code, check.detail) == ("kept_closed", "bypass, ballast")
    assert_allclose(check.value, 6.3, rtol=2e-2)


def test_switches_side_by_side_open_together(run):
    """Either of two buttons may close it; with both open nothing does, and a leak is found."""
    two = (SWITCH, contact("button", "post", "86", 0.001, part="switch", rating_a=10))
    assert not told(ask(run, cases=[ON], switches=two))
    leak = resistance("alarm lead", "post", "86", 60)
    (check,) = told(ask(run, leak, cases=[ON], switches=two)).values()
    assert (check.code, check.detail) == ("kept_closed", "alarm lead")
    # One of them left out, the other one closed: it is on, and rightly so.
    assert not told(ask(run, cases=[OFF], switches=two))


def test_each_of_switches_in_a_row_is_opened_alone(run):
    """A second wire from behind the key holds it past the neutral switch alone."""
    row = (
        contact("key", "post", "50 out", 0.001, part="switch", rating_a=10),
        contact("neutral switch", "50 out", "86", 0.001, part="switch", rating_a=10),
    )
    assert not told(ask(run, cases=[ON], switches=row))
    leak = resistance("leak", "50 out", "86", 60)
    (check,) = told(ask(run, leak, cases=[ON], switches=row)).values()
    assert (check.code, check.detail) == ("kept_closed", "leak")
    # Held past both, it is told once.
    answer = ask(run, wire("old wire", "86", "87", "14 AWG", 0.3), cases=[ON], switches=row)
    codes = [c.code for c in answer.cases[0].checks if c.code in RUNS_ON]
    assert codes == ["holds_itself"]


def test_a_switch_on_the_ground_side_is_asked_the_same(run):
    ground_side = (contact("switch", "85", "ground", 0.001, part="switch", rating_a=10),)
    so = {"switches": ground_side, "coil_nodes": ["post", "85"], "cases": [ON]}
    assert not told(ask(run, **so))
    (check,) = told(ask(run, resistance("damp", "85", "ground", 60), **so)).values()
    assert (check.code, check.detail) == ("kept_closed", "damp")


def test_a_welded_contact_is_told(run):
    weld = contact("weld", "post", "87", 0.001, part="terminal")
    found = told(ask(run, weld))
    assert {(code, case) for code, _, case in found} == {("bridged", "on"), ("bridged", "off")}
    assert {check.detail for check in found.values()} == {"weld"}


def test_relays_one_after_the_other_open_with_the_one_switch(run):
    """The first feeds the coil of the second; a leak at the second's coil is the second's."""
    second = {
        **RELAY, "name": "second", "coil_nodes": ["87", "ground"], "contact_nodes": ["post", "out"],
    }  # fmt: skip
    assert not told(ask(run, relays=[second]))
    found = told(ask(run, resistance("leak", "post", "87", 1.0), relays=[second], cases=[ON]))
    assert {part for _, part, _ in found} == {"second"}


@pytest.mark.parametrize("contact_nodes", [["post", "86"], ["post", "bus"]])
def test_a_relay_that_holds_coils_alone_is_there_for_a_push_button(run, contact_nodes):
    """It and the pump relay beside it stay closed, as they should; with a lamp on it they don't."""
    pump = {**RELAY, "name": "pump relay", "contact_nodes": ["post", "87"]}
    holds = {"contact_nodes": contact_nodes, "relays": [pump], "cases": [ON, OFF, OFF_AGAIN]}
    bus = wire("bus wire", "bus", "86", "14 AWG", 0.3)
    assert not told(ask(run, bus, **holds))
    lamp = load("telltale", "86", "ground", resistance_ohm=60)
    assert {part for _, part, _ in told(ask(run, bus, loads=[lamp], **holds))} == {
        "relay", "pump relay",
    }  # fmt: skip


@pytest.mark.parametrize("case", [ON, OFF])
def test_two_relays_that_hold_each_other_are_told_in_any_case(run, case):
    """The second closes over the first, and feeds the first one's coil: neither opens again."""
    second = {**RELAY, "name": "second", "coil_nodes": ["87", "ground"],
              "contact_nodes": ["post", "87 b"]}  # fmt: skip
    back = wire("back", "87 b", "86", "14 AWG", 0.3)
    lamp = load("other lamp", "87 b", "ground", resistance_ohm=3)
    found = told(ask(run, back, relays=[second], loads=[lamp], cases=[case]))
    assert {part for _, part, _ in found} & {"relay", "second"}
    assert {check.verdict for check in found.values()} == {"fail"}


def test_a_stop_button_in_its_own_way_lets_a_relay_go(run):
    """From 87 over a stop button to 86, with a lamp on 87: pushed on, it stays on by design."""
    stop = contact("stop button", "87", "86", 0.002, part="switch", rating_a=10)
    assert not told(ask(run, stop, cases=(ON, OFF, OFF_AGAIN)))


SOLENOID = {
    "name": "solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
    "rated": {"pull_in_v": 8.0, "hold_in_v": 3.0, "resistance_ohm": 1.0},
}  # fmt: skip


@pytest.mark.parametrize(
    ("ohm", "code", "verdict"),
    [
        (0.4, "closes_alone", "fail"),  # 9.0 V
        (1.5, "kept_closed", "fail"),  # 5.0 V keep it: 3 do
        (3.4, "kept_closed", "marginal"),  # 2.9 V
        (30, "kept_closed", "pass"),
    ],
)
def test_a_solenoid_without_a_relay_is_asked_the_same(run, ohm, code, verdict):
    key = contact("switch", "post", "50", 0.001, part="switch", rating_a=30)
    lead = resistance("alarm lead", "post", "50", ohm)
    for case in (ON, OFF):
        answer = ask(run, lead, switches=(SWITCH, {**key, "name": "key"}), loads=[SOLENOID],
                     cases=[{**case, "without": ["key"]} if case is OFF else case])  # fmt: skip
        (check,) = told(answer).values()
        assert (check.code, check.verdict, check.part) == (code, verdict, "solenoid")
        assert check.detail == "alarm lead"


def test_a_solenoid_that_a_relay_feeds_is_not_blamed_for_it(run):
    fed = {**SOLENOID, "nodes": ["87", "ground"]}
    assert not told(ask(run, loads=[fed], cases=[ON]))
    leak = resistance("leak", "post", "86", 60)
    assert {part for _, part, _ in told(ask(run, leak, loads=[fed], cases=[ON]))} == {"relay"}


def test_a_resistor_that_its_coil_is_fed_through_is_no_leak(run):
    """A ballast in the coil's own way is switched with it."""
    switches = (contact("switch", "post", "86 in", 0.001, part="switch", rating_a=10),)
    assert not told(ask(run, resistance("before", "86 in", "86", 20), switches=switches))


@pytest.mark.parametrize("case", [ON, OFF])
def test_a_wet_plug_across_the_switch_leaks_as_a_resistance_does(run, case):
    """By hand: 12.6 V x 100 / 140 are 9 V, and 8 V close it."""
    plug = contact("wet plug", "post", "86", 40, part="connector")
    (check,) = told(ask(run, plug, cases=[case])).values()
    assert (check.code, check.verdict, check.detail) == ("closes_alone", "fail", "wet plug")
    assert_allclose(check.value, 9.0, rtol=2e-2)


@pytest.mark.parametrize("ohm", [30, 300])
def test_no_relay_is_fitted_where_a_lead_over_the_key_holds_it(run, ohm):
    """As it is .4 A at most do nothing; at a coil of 90 ohm, which opens at 1.2 V, 2.9 V and more.

    The starter would run as soon as the battery is joined, or never stop.
    """
    example = deepcopy(RelayRetrofitRequest.example)
    lead = resistance("alarm lead", "key in", "key out", ohm)
    example["circuit"]["branches"].append(lead)
    answer = run("relay-retrofit", **example)
    assert answer.advice == "unsafe"
    assert "alarm lead" in answer.headline
    assert "pull the fuse" in answer.headline
    assert all(not way.works for way in answer.ways if way.code == "relay")
    sheet = run("work-sheet", **example)
    assert (sheet.sheet, sheet.order) == ("not_safe", ())
    example["circuit"]["branches"][-1]["resistance_ohm"] = 5000.0  # .2 V
    assert run("relay-retrofit", **example).advice != "unsafe"


def test_another_relay_that_holds_itself_is_told_whatever_is_advised(run):
    """A horn relay whose old wire was left on: no matter of the starter, and no less a runaway."""
    example = deepcopy(RelayRetrofitRequest.example)
    example["circuit"]["branches"] += [
        contact("horn button", "key in", "86", 0.01, part="switch", rating_a=10),
        wire("old wire", "86", "horn", "14 AWG", 1),
    ]
    horn = {**RELAY, "name": "horn relay", "contact_nodes": ["key in", "horn"]}
    example["circuit"]["relays"] = [horn]
    example["circuit"]["loads"].append(load("horn", "horn", "ground", resistance_ohm=2))
    answer = run("relay-retrofit", **example)
    assert answer.burns is not None
    assert (answer.burns.code, answer.burns.part) == ("holds_itself", "horn relay")
    assert "Whatever else is done" in answer.headline
    assert "may burn" not in answer.headline


@pytest.mark.parametrize("ohm", [600, 300])
def test_a_wire_behind_a_leak_is_live_no_longer_than_its_switch_is_on(run, ohm):
    """12.6 V over 600 ohm are 21 mA: no wire gets hot of that, whatever its fuse."""

    def failed(*leak):
        feed = [
            contact("fuse", "post", "in", 0.002, part="fuse", rating_a=30, fuse_family="blade C"),
            contact("switch", "in", "out", 0.001, part="switch", rating_a=30),
            wire("thin wire", "out", "lamp", "14 AWG", 5, insulation="GXL"),
        ]
        circuit = {
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
            "branches": [*feed, *leak], "loads": [load("lamp", "lamp", "ground", resistance_ohm=1)],
        }  # fmt: skip
        cases = [{"name": "on", "ambient_c": 85, "duration_s": 10}]
        answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
        return {(c.code, c.part) for c in answer.checks if c.verdict == "fail"}

    assert failed(resistance("leak", "in", "out", ohm)) == failed()
    assert failed(resistance("bridge", "in", "out", 0.5)) > failed()
