"""Advice hangs on no name and no order, and stands at every point of a box that it is given for.

Drawn vehicles and relays; what is compared is the service with itself, in other words or within
bounds: the volts are proved by hand elsewhere.
"""

import copy
import random

import pytest

from lastvolt_service.api.problems import Refused

from .retrofit_circuits import wire
from .test_remedy_promised import drawn

OF_NAMES = {"name", "nodes", "load", "switch", "feed_node", "coil_feed_node", "plus", "minus",
            "ground_node"}  # fmt: skip
AS_GOOD = {"insurance": "nothing_needed"}
FEW, MANY = 4, 1000


def with_more_ways(body):
    """Beside its relay a new switch, a thicker feed, and both."""
    thicker = wire("feed", "6 AWG", 4)
    switch = {"resistance_ohm": 0.002, "rating_a": 40}
    body["ways"] += [
        {"name": "new switch", "switch": switch},
        {"name": "thicker feed", "wires": [thicker]},
        {"name": "both", "wires": [thicker], "switch": switch},
    ]
    return body


def renamed(value, names, key=None):
    """The same with other names, of parts, nodes and ways."""
    if isinstance(value, dict):
        return {at: renamed(each, names, at) for at, each in value.items()}
    if isinstance(value, list):
        return [renamed(each, names, key) for each in value]
    if isinstance(value, str) and key in OF_NAMES:
        return names.setdefault(value, f"{(len(names) * 7919) % 1000} {value[::-1]}")
    return value


def outcome(answer, names):
    """What is advised and done, in the names of the first."""
    back = {new: old for old, new in names.items()}
    way = answer.chosen
    return (
        answer.advice,
        way and (way.code, {back.get(each, each) for each in way.parts}, len(way.new)),
        [(each.code, back.get(each.part, each.part)) for each in answer.plan],
    )


@pytest.mark.parametrize("seed", range(6))
def test_advice_hangs_on_no_name_and_no_order(run, seed):
    stays_the_same(run, seed)


@pytest.mark.long
@pytest.mark.parametrize("hundred", range(3))
def test_advice_of_any_hangs_on_no_name_and_no_order(run, hundred):
    for seed in range(100 * hundred, 100 * hundred + 100):
        stays_the_same(run, seed)


def stays_the_same(run, seed):
    body, _ = drawn(random.Random(seed))
    # The ground keeps its name: a source is joined to it by default.
    body, names = with_more_ways(body), {"ground": "ground"}
    other = renamed(copy.deepcopy(body), names)
    chance = random.Random(seed)
    for some in (other["circuit"]["branches"], other["ways"]):
        chance.shuffle(some)
    try:
        answer = run("remedy-choice", **body)
    except Refused:
        with pytest.raises(Refused):
            run("remedy-choice", **other)
        return
    there = run("remedy-choice", **other)
    assert outcome(there, names) == outcome(answer, {})
    volts = [each.load_voltage_v for each in answer.plan]
    assert [each.load_voltage_v for each in there.plan] == pytest.approx(volts, rel=1e-6)


def boxed(body, chance):
    """Its contacts and its battery within bounds; the ends of each."""
    ends = []
    for part in body["circuit"]["branches"]:
        if part["kind"] == "contact":
            ohm = part["resistance_ohm"]
            ends.append((part, "resistance_ohm", 0.7 * ohm, chance.choice([1.1, 2.0]) * ohm))
    source = body["circuit"]["source"]
    ends.append((source, "open_circuit_v", 0.99 * source["open_circuit_v"],
                 source["open_circuit_v"]))  # fmt: skip
    for part, key, low, high in ends:
        part[key] = {"low": low, "high": high}
    return ends


def holds_within(run, seed, points):
    """Whether a box is settled; where it is, its advice is that of every point."""
    chance = random.Random(seed)
    body, _ = drawn(chance)
    ends = boxed(body, chance)
    try:
        settled = run("remedy-choice", **body).advice
    except Refused:
        return False
    if settled == "find_out_first":
        return False
    for _ in range(points):
        for part, key, low, high in ends:
            part[key] = chance.uniform(low, high)
        there = run("remedy-choice", **body).advice
        assert AS_GOOD.get(there, there) == AS_GOOD.get(settled, settled), (seed, ends)
    return True


def test_advice_for_a_box_holds_at_its_points(run):
    assert sum(holds_within(run, seed, FEW) for seed in range(8)) >= 2


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_advice_for_a_box_holds_at_a_thousand_points(run, seed):
    holds_within(run, seed, MANY)


@pytest.mark.long
def test_advice_for_many_boxes_holds_at_some_points(run):
    assert sum(holds_within(run, seed, 10) for seed in range(100, 200)) >= 20


def test_a_load_that_hangs_on_nothing_has_not_enough(run):
    """Its ground and the battery's have two names: nothing flows, whatever else is sound."""
    body, _ = drawn(random.Random(0))
    ends = [each["nodes"] for each in (*body["circuit"]["branches"], *body["circuit"]["loads"])]
    for nodes in ends:
        nodes[:] = ["chassis" if each == "ground" else each for each in nodes]
    answer = run("remedy-choice", **body)
    assert answer.advice == "find_out_first"
    assert "no way leads from it to both posts" in answer.headline
    assert "enough" not in answer.headline
