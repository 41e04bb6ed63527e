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
    assert answer.advice == "source_first"
    assert said in answer.headline
    assert source["name"] in answer.headline


def test_a_battery_that_is_charged_to_bursting_comes_first(run):
    answer = ask(run, open_circuit_v=16.8)
    assert answer.advice == "source_first"
    assert "stop charging" in answer.headline


def test_sound_sources_change_no_advice(run):
    alone = run("relay-retrofit", **EXAMPLE)
    assert ask(run, {**HELPER, "open_circuit_v": 12.4}, ALTERNATOR).advice != "source_first"
    assert alone.advice != "source_first"
