"""Ways that are given beside those that are made: what each does, and which is taken.

Promises are solved again by circuit-check, in a circuit changed by hand.
"""

import copy
import re

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError

from .retrofit_circuits import contact, fan, headlamps, starter, wire


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


def test_a_ground_of_its_own_that_is_too_thin_wants_a_larger_size(run):
    # A fan of 20 A and a ground of 0.3 ohm that cannot be had: the new lead carries it all.
    body = fan()
    next(b for b in body["circuit"]["branches"] if b["name"] == "fan ground")["resistance_ohm"] = (
        0.3
    )
    own = [wire("own wire", "20 AWG", 0.3, insulation="GXL")]
    given = {"name": "own ground", "own_ground": own}
    answer = run("remedy-choice", **asked(body, given), not_to_be_had=["fan ground"])
    against = " ".join(options(answer)["own ground"].against)
    assert "own wire: The wire may carry" in against
    assert "take a larger size" in against
    assert "no larger wire" not in answer.headline + against


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


def named(body, name):
    return next(each for each in body["circuit"]["branches"] if each["name"] == name)


def thin_lamps():
    """9 A through 6 m of 16 AWG, all contacts sound."""
    body = headlamps()
    named(body, "to the lamps").update(size="16 AWG", length_m=8)
    return body


def test_a_thicker_wire_is_told_with_its_size_and_not_as_a_clean_one(run):
    """Cleaned, or new of its own size, a sound wire brings nothing."""
    answer = run("remedy-choice", **asked(thin_lamps()))
    assert answer.advice == "mend"
    assert answer.chosen.parts == ()
    (new,) = answer.chosen.new
    (step,) = answer.plan
    assert (step.code, new) == ("new_wire", f"to the lamps ({step.size})")
    assert f"with new {new}, " in answer.headline
    assert "clean" not in answer.headline


def sizes_drawn(answer, of=""):
    new = (new for each in answer.options for new in each.new if new.startswith(of))
    return [int(re.search(r"([0-9]+) AWG", each)[1]) for each in new]


@pytest.mark.parametrize("length_m", [8, 14, 20, 60])
def test_no_wire_is_drawn_that_goes_onto_no_terminal_of_the_switch(run, length_m):
    """A receptacle for a blade of 6.3 mm grips 6 mm2, a 10 AWG: an 8 AWG goes onto no switch.

    60 m of 10 AWG have 0.2 ohm: of 12.6 V they leave the lamps, 1.31 ohm, less than 10.9 V, and
    they are to have a tenth more than 10.8 V.
    """
    body = thin_lamps()
    named(body, "to the lamps").update(size="14 AWG", length_m=length_m)
    answer = run("remedy-choice", **asked(body))
    assert all(each >= 10 for each in sizes_drawn(answer))
    assert (answer.advice == "none_suffices") == (length_m == 60)
    assert answer.relay_to_be_weighed == (length_m == 60)


def test_a_wire_on_studs_is_drawn_as_thick_as_it_must_be(run):
    """8 AWG, 8.4 mm2, goes onto no blade of 6.3 mm: what it is on takes 10 mm2, no more is known.

    6 AWG, 13.3 mm2, goes onto no blade at all: it is on studs, which take any, here four sizes up.
    """
    body = thin_lamps()
    for size, thickest in (("8 AWG", 8), ("6 AWG", 1)):
        named(body, "to the lamps").update(size=size, length_m=120)
        answer = run("remedy-choice", **asked(body))
        assert min(sizes_drawn(answer, "to the lamps"), default=8) == thickest


@pytest.mark.parametrize("insulation", ["GXL", None])
def test_a_new_wire_that_is_not_said_to_bear_its_current_is_asked_about(run, insulation):
    """A short way of 20 AWG behind 15 A: whether it bears that is not known without insulation."""
    short = wire("to the lamps", "20 AWG", 0.5)
    short["insulation"] = insulation
    way = {"name": "short", "wires": [{k: v for k, v in short.items() if v is not None}]}
    answer = run("remedy-choice", **asked(thin_lamps(), way))
    told = options(answer)["short"]
    if insulation is None:
        assert answer.advice == "find_out_first"
        assert {check.code for check in answer.not_judged} >= {"wire_judged"}
        assert any("is not known" in each for each in told.against)
    else:
        assert answer.advice != "find_out_first"
    assert bool(told.works) or told.against


def test_a_new_switch_of_no_rating_is_asked_about(run):
    way = {"name": "new", "switch": {"resistance_ohm": 0.003}}
    body = asked(headlamps(switch_ohm=0.12), way, not_to_be_had=["switch"])
    assert run("remedy-choice", **body).advice == "find_out_first"
    way["switch"]["rating_a"] = 30
    assert run("remedy-choice", **body).advice == "mend"


def test_what_is_fitted_is_judged_and_not_what_it_replaces(run):
    """The old wire is too thin for its fuse; the new one is judged in its place."""
    body = thin_lamps()
    named(body, "to the lamps")["size"] = "20 AWG"
    thick = {"name": "thick", "wires": [wire("to the lamps", "10 AWG", 8)]}
    answer = run("remedy-choice", **asked(body, thick))
    assert answer.chosen.new == ("to the lamps (10 AWG)",)
    mine = [check for check in answer.checks if check.part == "to the lamps"]
    assert {check.code for check in mine} >= {"conductor_temperature"}
    assert all(check.verdict in {"pass", "marginal"} for check in mine)


def test_where_nothing_suffices_the_nearest_way_and_what_bars_it_are_told(run):
    """A switch for 5 A carries 9 A: cleaning it gives the lamps enough, and it still burns."""
    body = headlamps(switch_ohm=0.25)
    named(body, "switch")["rating_a"] = 5
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "none_suffices"
    assert answer.nearest.parts == ("switch",)
    assert answer.nearest.margin_v > 0
    assert (answer.barred_by.code, answer.barred_by.part) == ("contact_current", "switch")
    assert answer.barred_by.message in answer.headline
    assert "No relay is among the ways" in answer.headline
    assert all(each.against for each in answer.options if not each.works)


def test_no_relay_is_asked_for_where_the_ground_is_at_fault(run):
    """A rusty frame that nobody can mend: whatever feeds the lamps, the current must come back."""
    body = headlamps(ground_ohm=0.3)
    (joint,) = [e["name"] for e in body["circuit"]["branches"] if e.get("part") == "ground"]
    answer = run("remedy-choice", **asked(body), not_to_be_had=[joint])
    assert answer.advice == "none_suffices"
    assert "relay" not in answer.headline


def two_ways(ohm, cost, work_h):
    return {"name": f"switch for {cost}", "switch": {"resistance_ohm": ohm, "rating_a": 20},
            "cost": cost, "work_h": work_h}  # fmt: skip


@pytest.mark.parametrize(
    ("ways", "taken"),
    [
        # 9 A over 4 and 3 mohm are 9 mV apart: the cheaper, though it comes last.
        ([two_ways(0.003, 60, 1), two_ways(0.004, 20, 1)], "switch for 20"),
        # The same money, and an hour less.
        ([two_ways(0.003, 20, 2) | {"name": "long"}, two_ways(0.004, 20, 1)], "switch for 20"),
    ],
)
def test_of_ways_that_nobody_can_tell_apart_the_plainer_is_taken(run, ways, taken):
    """The old switch, at 80 mohm, cannot be cleaned."""
    body = headlamps(switch_ohm=0.08)
    answer = run("remedy-choice", **asked(body, *ways), not_to_be_had=["switch"])
    (advised,) = [each for each in answer.options if each.is_advised]
    assert advised.name == taken
    (told,) = [each for each in answer.reasons if each.code == "as_good"]
    assert told.part != taken
    assert abs(told.values["load_voltage_v"] - told.values["other_v"]) < 0.1


def test_ways_that_lie_apart_are_not_called_equal(run):
    """9 A over 4 and 20 mohm are 0.15 V apart, and the worse leaves enough, too: it is cheaper."""
    body = headlamps(switch_ohm=0.08)
    ways = [two_ways(0.004, 60, 1), two_ways(0.02, 20, 1)]
    answer = run("remedy-choice", **asked(body, *ways), not_to_be_had=["switch"])
    assert "as_good" not in {each.code for each in answer.reasons}


def test_a_battery_that_is_not_enough_is_said_so(run):
    """Flat, and the way of 30 m so thin that a full one is too little, too."""
    body = starter(length_m=30, size="16 AWG")
    body["circuit"]["source"]["open_circuit_v"] = 11.9
    answer = run("remedy-choice", **asked(body))
    assert answer.advice == "battery_first"
    works = {each.code: each.works for each in answer.options}
    assert not works["battery"]
    assert "alone is not enough" in answer.headline


@pytest.mark.parametrize(
    ("poor", "state"),
    [({"internal_resistance_ohm": 0.03}, "weak"), ({"open_circuit_v": 12.0}, "low")],
)
def test_a_poor_battery_comes_first_and_then_what_a_sound_one_would_have(run, poor, state):
    """36 m of 16 AWG: once the battery is seen to, the relay is plainest with a reserve."""
    body = starter(length_m=18, size="16 AWG")
    sound = run("remedy-choice", **asked(body, relay_of(body)))
    assert sound.advice == "relay"
    body["circuit"]["source"].update(poor)
    answer = run("remedy-choice", **asked(body, relay_of(body)))
    assert (answer.advice, answer.battery_state) == ("battery_first", state)
    assert [each.code for each in answer.plan] == ["battery", *(e.code for e in sound.plan)]


def test_a_fuse_that_the_load_overcharges_is_asked_about_though_nothing_is_short(run):
    """A fan that takes 20 A through a fuse for 15 A: perhaps it is stiff."""
    body = fan()
    old = named(body, "switch")
    fuse = contact("fan fuse", "fuse", 0.002, rating_a=15) | {"nodes": [old["nodes"][0], "fused"]}
    old["nodes"][0] = "fused"
    body["circuit"]["branches"].append(fuse)
    assert run("remedy-choice", **asked(body)).advice == "find_out_first"
