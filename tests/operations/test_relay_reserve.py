"""How much to spare is little, and what that does to the advice. Common practice."""

import pytest

from lastvolt_service.api.problems import Refused

from .retrofit_circuits import asked, contact, fan, starter, wire


def lamp_circuit(*, needed_v=12.42, switch_ohm=0.02, size="14 AWG", **more):
    """Lamps of 10 A on 13.8 V behind 6 m of wire: at most 1.38 V to spare, whatever is built."""
    lamps = {
        "name": "headlamps", "kind": "resistance", "resistance_ohm": 1.38, "needed_v": needed_v
    }  # fmt: skip
    return asked(
        contact("main fuse", "fuse", 0.003, rating_a=20),
        wire("feed", size, 2),
        contact("lamp switch", "switch", switch_ohm, rating_a=25),
        wire("to the lamps", size, 4),
        lamps,
        contact("body joint", "ground", 0.004),
        load=lamps,
        rest_v=13.8,
        inside_ohm=0.01,
        switch="lamp switch",
        kind="lamp",
        **more,
    )


def works(answer):
    return {(way.code, way.parts): way.works for way in answer.ways}


def test_most_of_what_there_can_be_is_not_little(run):
    answer = run("relay-retrofit", **lamp_circuit(size="8 AWG", switch_ohm=0.004))
    assert answer.advice == "nothing_needed"
    assert (answer.verdict, works(answer)["as_is", ()]) == ("pass", True)


def test_what_is_advised_works(run):
    """A switch of 0.12 ohm loses 1.1 V; with it mended the lamps have 0.95 V to spare."""
    answer = run("relay-retrofit", **lamp_circuit(size="10 AWG", switch_ohm=0.12))
    assert answer.advice == "mend"
    assert works(answer)["mend", ("lamp switch",)]
    assert not works(answer)["as_is", ()]


def test_a_higher_source_asks_for_no_more_to_spare(run):
    """A switch of 0.05 ohm is mended; the battery's charger beside it is no reason for a relay."""
    body = lamp_circuit(needed_v=11.5, switch_ohm=0.05, size="12 AWG")
    body["circuit"]["source"]["open_circuit_v"] = 12.6
    alone = run("relay-retrofit", **body)
    body["circuit"]["further_sources"] = [
        {
            "name": "alternator", "kind": "charger", "nodes": ["post", "ground"],
            "regulated_v": 14.2, "limit_a": 45, "internal_resistance_ohm": 0.02,
        }
    ]  # fmt: skip
    charged = run("relay-retrofit", **body)
    assert (alone.advice, charged.advice) == ("mend", "mend")
    assert charged.plan.load_voltage_v > alone.plan.load_voltage_v


def test_a_hundredth_of_a_volt_to_spare_is_no_cure(run):
    """By hand: the switch is worth 0.13 V; what they need lies 0.01 V below what that brings."""
    body = lamp_circuit(needed_v=13.05)
    mended = run("relay-retrofit", **body)
    (way,) = [each for each in mended.ways if each.code == "mend"]
    assert 0 < way.margin_v < 0.1
    assert not way.works
    assert mended.advice in {"relay", "mend_then_relay"}


@pytest.mark.parametrize("ambient_c", [20, -10])
def test_a_worn_switch_is_mended_whether_it_starts_or_not(run, ambient_c):
    body = starter(switch=0.06)
    body["cases"][0]["ambient_c"] = ambient_c
    answer = run("relay-retrofit", **body)
    assert (answer.advice, answer.plan.parts) == ("mend", ("key switch",))
    assert answer.verdict == "fail"


def test_what_is_said_of_the_circuit_as_it_is_does_not_hang_on_the_proposal(run):
    near = lamp_circuit(size="16 AWG", needed_v=12.25, switch_ohm=0.008)
    behind_feed = near["circuit"]["branches"][2]["nodes"][0]
    far = {**near, "proposal": {**near["proposal"], "feed_node": behind_feed}}
    first, second = (run("relay-retrofit", **body) for body in (near, far))
    as_is = [next(way for way in each.ways if way.code == "as_is") for each in (first, second)]
    assert as_is[0] == as_is[1]
    assert not as_is[0].works
    for answer in (first, second):
        assert "little" in answer.headline


@pytest.mark.parametrize("name", ["main fuse", "body joint"])
def test_no_relay_spares_a_fuse_or_a_ground(run, name):
    with pytest.raises(Refused) as refused:
        run("relay-retrofit", **{**lamp_circuit(), "switch": name})
    assert refused.value.errors[0]["pointer"] == "#/switch"


def test_a_feed_from_behind_the_switch_spares_nothing(run):
    body = lamp_circuit(size="16 AWG", needed_v=12.1, switch_ohm=0.008)
    body["proposal"]["feed_node"] = body["circuit"]["loads"][0]["nodes"][0]
    answer = run("relay-retrofit", **body)
    assert answer.advice == "unsafe"
    assert "begins behind lamp switch" in answer.headline


def test_the_first_current_is_what_to_find_out(run):
    """20 A of a fan may start with 204 A, of which the contact closes on 150 A: measure it."""
    answer = run("relay-retrofit", **fan(rating_a=15, relay={"make_rating_a": 150}))
    assert answer.advice == "find_out_first"
    assert answer.reasons[0].check == "inrush"
    assert "measure the first current" in answer.headline.split(". ")[0]


@pytest.mark.parametrize("rating_a", [15, 8])
def test_the_more_a_switch_is_overloaded_the_less_calm_the_advice(run, rating_a):
    """Two lamps of 9 A on one switch: a relay for one of them leaves 9 A."""
    body = lamp_circuit(size="10 AWG", switch_ohm=0.004)
    lamps = body["circuit"]["loads"][0]
    body["circuit"]["loads"].append({**lamps, "name": "fog lamps"})
    for branch in body["circuit"]["branches"]:
        if branch["name"] == "lamp switch":
            branch["rating_a"] = rating_a
    answer = run("relay-retrofit", **body)
    assert answer.advice not in {"insurance", "nothing_needed"}
    assert not works(answer)["as_is", ()]
    assert works(answer)["relay", ()] == (rating_a == 15)


def test_cleaning_makes_no_switch_carry_more(run):
    """By hand: 9.6 A through a worn switch for 5 A: a new one of its kind burns like it."""
    body = lamp_circuit(size="10 AWG", switch_ohm=0.12)
    for branch in body["circuit"]["branches"]:
        if branch["name"] == "lamp switch":
            branch["rating_a"] = 5
    answer = run("relay-retrofit", **body)
    assert answer.advice == "relay"
    assert not works(answer)["mend", ("lamp switch",)]
