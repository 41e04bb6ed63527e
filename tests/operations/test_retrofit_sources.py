"""No wiring is weighed beside sources that harm: they come first, whatever else is advised."""

import copy

import pytest

from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

EXAMPLE = RelayRetrofitRequest.example
HELPER = {
    "name": "second battery", "kind": "battery", "nodes": ["battery post", "ground"],
    "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01,
}  # fmt: skip
ALTERNATOR = {
    "name": "alternator", "kind": "charger", "nodes": ["battery post", "ground"],
    "regulated_v": 14.2, "internal_resistance_ohm": 0.02, "limit_a": 30,
}  # fmt: skip


def ask(run, *sources, **battery):
    body = copy.deepcopy(EXAMPLE)
    body["circuit"]["further_sources"] = list(sources)
    body["circuit"]["source"].update(battery)
    return run("relay-retrofit", nominal_v=12, **body)


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ({**HELPER, "open_circuit_v": 25.2}, "do not join them"),
        ({**HELPER, "nodes": ["ground", "battery post"]}, "wrong way round"),
        ({**HELPER, "open_circuit_v": 11.4}, "Do not charge it or jump-start it"),
        ({**HELPER, "internal_resistance_ohm": 0.3}, "replace it if it fails"),
        ({**ALTERNATOR, "regulated_v": 17.5}, "mend the regulator"),
    ],
)
def test_a_source_that_harms_comes_first(run, source, said):
    answer = ask(run, source)
    assert answer.advice == "not_the_wiring"
    assert said in answer.headline
    assert source["name"] in answer.headline


def test_a_helper_that_nobody_measured_is_measured_before_it_is_joined(run):
    answer = ask(run, {**HELPER, "open_circuit_v": {"low": 12, "high": 25}})
    assert answer.advice == "not_the_wiring"
    assert "measure open circuit voltage of second battery" in answer.headline


def test_a_battery_that_is_charged_to_bursting_comes_first(run):
    answer = ask(run, open_circuit_v=16.8)
    assert answer.advice == "not_the_wiring"
    assert "stop charging" in answer.headline


def test_a_dead_battery_beside_a_sound_one_fails(run):
    answer = ask(run, HELPER, open_circuit_v=9.0)
    assert (answer.advice, answer.verdict) == ("not_the_wiring", "fail")


def test_sound_sources_change_no_advice(run):
    alone = run("relay-retrofit", **EXAMPLE)
    assert ask(run, {**HELPER, "open_circuit_v": 12.4}, ALTERNATOR).advice != "not_the_wiring"
    assert alone.advice != "not_the_wiring"


def lamps(run, **load):
    """Of the example's proposal, with what else hangs at the end of its wires."""
    body = copy.deepcopy(EXAMPLE)
    (old,) = body["circuit"]["loads"]
    body["circuit"]["loads"] = [{"name": old["name"], "nodes": old["nodes"], **load}]
    return run("relay-retrofit", nominal_v=12, **body)


def test_a_load_of_another_system_is_not_wired_better(run):
    answer = lamps(run, kind="lamp", rated_power_w=60, rated_v=24, needed_v=11)
    assert answer.advice == "not_the_wiring"
    assert "only glows" in answer.headline


def test_a_seized_motor_gets_no_larger_relay(run):
    """0.05 ohm at a stand draw what opens the old fuse: that is told before the relay's rating."""
    answer = lamps(run, kind="motor", resistance_ohm=0.05, back_v=0, needed_v=8)
    assert answer.advice == "find_out_first"
    assert answer.reasons[0].check == "fuse_load"
    assert "Find out whether its loads should draw so much" in answer.headline


def test_what_burns_and_stays_is_told_whatever_is_advised(run):
    body = copy.deepcopy(EXAMPLE)
    body["circuit"]["branches"].append(
        {
            "name": "fog wire", "kind": "wire", "nodes": ["battery post", "fog"], "size": "18 AWG",
            "length_m": 1, "insulation": "GXL",
        }
    )  # fmt: skip
    fog = {"name": "fog lamps", "kind": "resistance", "resistance_ohm": 0.3}
    body["circuit"]["loads"].append({**fog, "nodes": ["fog", "ground"]})
    for case in body["cases"]:
        case["duration_s"] = 3600
    answer = run("relay-retrofit", nominal_v=12, **body)
    assert answer.burns is not None
    assert answer.burns.part == "fog wire"
    assert "Whatever else is done: in " in answer.headline
    assert "fog wire" in answer.headline
    assert run("relay-retrofit", **EXAMPLE).burns is None


def test_another_circuits_fuse_is_no_reason_against_a_proposal(run):
    """The proposal's own harm leads: what a fog lamp's fuse does is no matter of it."""
    body = copy.deepcopy(EXAMPLE)
    small = {"kind": "contact", "part": "fuse", "resistance_ohm": 0.003, "rating_a": 5}
    body["circuit"]["branches"].append(
        {**small, "name": "fog fuse", "nodes": ["battery post", "fog"]}
    )
    fog = {"name": "fog lamps", "kind": "resistance", "resistance_ohm": 1.3}
    body["circuit"]["loads"].append({**fog, "nodes": ["fog", "ground"]})
    body["proposal"]["relay"]["rated_v"] = 6  # its own harm
    answer = run("relay-retrofit", nominal_v=12, **body)
    assert answer.advice == "unsafe"
    assert answer.reasons[0].check == "rated_voltage"


@pytest.mark.parametrize(
    ("ambient_c", "state", "said"),
    [
        (25, "dead", "Find out before it is charged"),
        (-20, "frozen_or_dead", "Neither charge it nor jump-start it: warm it up, then find out"),
    ],
)
def test_a_dead_cell_is_not_charged_unseen(run, ambient_c, state, said):
    """9.5 V are less than a flat battery of 12 V has; flat, it would freeze below -10 degC."""
    body = copy.deepcopy(EXAMPLE)
    body["circuit"]["source"]["open_circuit_v"] = 9.5
    body["circuit"]["loads"] = [
        {"name": body["load"], "kind": "resistance", "resistance_ohm": 1, "needed_v": 9,
         "nodes": body["circuit"]["loads"][0]["nodes"]}
    ]  # fmt: skip
    for case in body["cases"]:
        case["ambient_c"] = ambient_c
        case.pop("zone_ambients_c", None)
    answer = run("relay-retrofit", nominal_v=12, **body)
    assert (answer.advice, answer.battery_state) == ("battery_first", state)
    assert "a cell may be dead" in answer.headline
    assert said in answer.headline
    assert "charge or replace" not in answer.headline
