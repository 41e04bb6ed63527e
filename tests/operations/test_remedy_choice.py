"""Ways that are given beside those that are made: what each does, and which is taken.

Promises are solved again by circuit-check, in a circuit changed by hand.
"""

import copy

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError

from .retrofit_circuits import contact, headlamps, starter, wire


def asked(body, *ways, **more):
    """The question without its relay, with ways."""
    question = {key: copy.deepcopy(each) for key, each in body.items() if key != "proposal"}
    return {**question, "ways": list(ways), **more}


def relay_of(body, **more):
    return {"name": "the relay", "relay": body["proposal"], **more}


def options(answer):
    return {each.name or each.code: each for each in answer.options}


def checked(run, body, **changes):
    """Volts at the load of a circuit whose branches are changed by hand."""
    circuit = copy.deepcopy(body["circuit"])
    for branch in circuit["branches"]:
        branch.update(changes.get(branch["name"].replace(" ", "_"), {}))
    state = run("circuit-check", circuit=circuit, cases=body["cases"], nominal_v=12).cases[0]
    return next(each.voltage_v for each in state.loads if each.name == body["load"])


def test_a_way_that_is_given_brings_what_the_changed_circuit_has(run):
    body = headlamps(switch_ohm=0.08)
    thick = {"name": "thick", "wires": [wire("to the lamps", "8 AWG", 2, insulation="GXL")]}
    new = {"name": "new switch", "switch": {"resistance_ohm": 0.004, "rating_a": 20}}
    found = options(run("remedy-choice", **asked(body, thick, new)))
    assert_allclose(
        found["thick"].load_voltage_v,
        checked(run, body, to_the_lamps={"size": "8 AWG", "insulation": "GXL"}),
        rtol=1e-9,
    )
    assert_allclose(
        found["new switch"].load_voltage_v, checked(run, body, switch={"resistance_ohm": 0.004}),
        rtol=1e-9,
    )  # fmt: skip


def test_a_ground_of_its_own_goes_round_a_bad_one(run):
    body = headlamps(ground_ohm=0.1)
    own = [contact("own joint", "ground", 0.002), wire("own wire", "10 AWG", 2, insulation="GXL")]
    answer = run("remedy-choice", **asked(body, {"name": "own ground", "own_ground": own}))
    found = options(answer)
    assert found["own ground"].works
    assert found["own ground"].load_voltage_v > found["as_is"].load_voltage_v + 0.6


def test_the_steps_add_up_to_what_is_promised(run):
    body = headlamps(switch_ohm=0.06, ground_ohm=0.06)
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "mend"
    assert {step.part for step in answer.plan} == {"switch", "lamp ground"}
    before = options(answer)["as_is"].load_voltage_v
    assert_allclose(before + sum(s.brings_v for s in answer.plan), answer.chosen.load_voltage_v)
    assert all(step.brings_v > 0 for step in answer.plan)


def test_a_switch_that_cannot_be_had_is_relieved(run):
    """A worn switch in a sound harness is mended, if it can be; else the relay takes its load."""
    body = headlamps(switch_ohm=0.12)
    assert run("remedy-choice", **asked(body, relay_of(body))).advice == "mend"
    old = run("remedy-choice", **asked(body, relay_of(body), not_to_be_had=["switch"]))
    assert old.advice == "relay"
    assert [step.code for step in old.plan] == ["relay"]


def test_what_cannot_be_had_is_shown_and_not_advised(run):
    body = headlamps(switch_ohm=0.12)
    way = {"name": "new switch", "switch": {"resistance_ohm": 0.004}, "available": False}
    answer = run("remedy-choice", **asked(body, relay_of(body), way, not_to_be_had=["switch"]))
    found = options(answer)
    assert not found["new switch"].available
    assert not found["new switch"].is_advised
    assert found["new switch"].margin_v > 0
    assert answer.advice == "relay"


def test_of_two_relays_the_one_that_may_be_built_is_weighed(run):
    body = headlamps(switch_ohm=0.12)
    wrong = copy.deepcopy(body["proposal"])
    wrong["relay"].update(make_rating_a=20, name="weak relay")
    for field in ("feed", "outlet"):
        for part in wrong[field]:
            part["name"] = f"weak {part['name']}"
    ways = [{"name": "weak", "relay": wrong}, relay_of(body)]
    for given in (ways, ways[::-1]):
        answer = run("remedy-choice", **asked(body, *given, not_to_be_had=["switch"]))
        found = options(answer)
        assert (answer.advice, found["the relay"].is_advised) == ("relay", True)
        assert not found["weak"].works
        assert any("weld" in each for each in found["weak"].against)


def test_only_an_unsafe_relay_is_unsafe_with_what_would_do(run):
    body = headlamps(switch_ohm=0.12, relay={"make_rating_a": 20})
    answer = run("remedy-choice", **asked(body, relay_of(body)))
    assert answer.advice == "unsafe"
    assert [step.part for step in answer.plan] == ["switch"]


def test_nothing_to_do_has_no_plan(run):
    answer = run("remedy-choice", **asked(headlamps()))
    assert (answer.advice, answer.plan) == ("nothing_needed", ())
    assert answer.spared is None


def test_what_a_relay_takes_off_the_switch_is_told_though_it_is_not_needed(run):
    body = headlamps()
    answer = run("remedy-choice", **asked(body, relay_of(body)))
    assert answer.spared.with_relay.switch_current_a < 0.3 < answer.spared.as_is.switch_current_a
    assert options(answer)["the relay"].tolerated_contact_ohm > 1


@pytest.mark.parametrize(
    ("way", "pointer"),
    [
        ({"name": "a", "sound": ["nothing"]}, "#/ways/0/sound/0"),
        ({"name": "a", "wires": [wire("nothing", "8 AWG", 1)]}, "#/ways/0/wires/0/name"),
        ({"name": "a"}, "#/ways/0"),
        ({"name": "a", "own_ground": [wire("feed", "8 AWG", 1)]}, "#/ways/0/own_ground/0"),
    ],
)
def test_a_way_that_does_not_fit_is_refused_by_field(run, way, pointer):
    with pytest.raises(Refused) as refused:
        run("remedy-choice", **asked(headlamps(), way))
    assert refused.value.errors[0]["pointer"] == pointer


def test_a_relay_of_a_way_is_refused_by_field(run):
    body = headlamps()
    body["proposal"]["feed_node"] = "nowhere"
    with pytest.raises(Refused) as refused:
        run("remedy-choice", **asked(body, relay_of(body)))
    assert refused.value.errors[0]["pointer"] == "#/ways/0/relay/feed_node"


def test_a_wire_of_no_table_is_refused_by_field(run):
    body = starter()
    body["proposal"]["feed"][-1]["size"] = "0.3 mm2"
    with pytest.raises(CalculationError) as refused:
        run("remedy-choice", **asked(body, relay_of(body)))
    assert refused.value.path[:4] == ("ways", 0, "relay", "feed")


def test_a_relay_that_cannot_be_had_is_shown_and_not_advised(run):
    body = headlamps(switch_ohm=0.12)
    answer = run("remedy-choice", **asked(body, relay_of(body, available=False)))
    found = options(answer)
    assert answer.advice == "mend"
    assert answer.spared is None
    assert (found["the relay"].available, found["the relay"].is_advised) == (False, False)
    assert found["the relay"].margin_v > 0


def test_a_contact_that_no_case_has_in_it_is_mended_for_nothing(run):
    body = headlamps()
    spare = contact("spare joint", "ground", 0.1, nodes=["n6", "ground"])
    body["circuit"]["branches"].append(
        {**spare, "nodes": list(body["circuit"]["branches"][-1]["nodes"])}
    )
    body["cases"][0]["without"] = ["spare joint"]
    found = options(run("remedy-choice", **asked(body, {"name": "a", "sound": ["spare joint"]})))
    assert found["a"].gain_v == 0


def test_only_contacts_are_not_to_be_had(run):
    with pytest.raises(Refused) as refused:
        run("remedy-choice", **asked(headlamps(), not_to_be_had=["feed"]))
    assert refused.value.errors[0]["pointer"] == "#/not_to_be_had/0"


def test_a_way_that_is_given_is_shown_though_nothing_is_needed(run):
    body = headlamps()
    thick = {"name": "thick", "wires": [wire("to the lamps", "8 AWG", 2, insulation="GXL")]}
    answer = run("remedy-choice", **asked(body, relay_of(body), thick))
    assert answer.advice in {"nothing_needed", "insurance"}
    assert {"as_is", "the relay", "thick"} <= options(answer).keys()
