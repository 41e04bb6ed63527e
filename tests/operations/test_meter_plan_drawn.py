"""Bands of a plan against circuits drawn within the intervals, and against all of their corners.

The circuits are put together and brought to rest one by one, without what plans the readings; a
meter errs by its largest error either way.
"""

import copy
import itertools
import math
import random

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.states import node_voltages
from lastvolt_service.operations.decision.proposal import with_relay

from .planned import example, lamp, off_a, off_v, plan

RETROFIT = next(each for each in OPERATIONS if each.name == "relay-retrofit")
# How near two solutions of one network come. [V], [A]
LAST = 1e-8
COLUMNS = {"as_is": "between", "with_way": "between_with_way"}


def vague(body):
    """More that is not known: ambient, ageing, the relay's contact, a wire's length."""
    body = copy.deepcopy(body)
    case = body["cases"][-1]
    case["ambient_c"] = {"low": 10, "high": 40}
    case["ageing_factor"] = {"low": 1.0, "high": 3.0}
    body["way"]["relay"]["contact_resistance_ohm"] = {"low": 0.001, "high": 0.01}
    body["circuit"]["branches"][0] |= (
        {"length_m": {"low": 9.0, "high": 11.5}}
        if body["circuit"]["branches"][0]["kind"] == "wire"
        else {"resistance_ohm": {"low": 0.002, "high": 0.02}}
    )
    return body


VAGUE = {
    "the coach": example,
    "the coach, vaguer": lambda: vague(example()),
    "a lamp": lambda: vague(lamp(switch={"low": 0.01, "high": 0.5})),
}


def intervals(body, path=()):
    """Places of all intervals of a request."""
    if isinstance(body, dict):
        if body.keys() == {"low", "high"}:
            yield path
            return
        body = list(body.items())
    elif isinstance(body, list):
        body = list(enumerate(body))
    else:
        return
    for key, each in body:
        yield from intervals(each, (*path, key))


def at(body, path):
    for key in path:
        body = body[key]
    return body


def settled(body, choose):
    """The request with a number in the place of each interval."""
    body = copy.deepcopy(body)
    for path in list(intervals(body)):
        ends = at(body, path)
        at(body, path[:-1])[path[-1]] = choose(ends["low"], ends["high"])
    return body


def shown(body):
    """Volts of all nodes and amperes of all wires, by case and column."""
    plain = {**body, "proposal": body["way"]}
    del plain["way"]
    # A vehicle is read as it is: with no ageing.
    plain["cases"] = [{**case, "ageing_factor": 1.0} for case in body["cases"]]
    asked = with_usual_starts(RETROFIT.arguments(plain))
    for case in asked.cases:
        for column, circuit in (("as_is", asked.circuit), ("with_way", with_relay(asked))):
            state = rest(circuit, case)
            volts = {each.name: each.voltage_v for each in node_voltages(state)}
            amps = {part.name: amps for part, _, amps in state.carrying("wires")}
            yield case.name, column, volts, amps


def held(answer, case, column, volts, amps):
    """Each reading of a case with its band, what an exact meter shows, and how far one is off."""
    for each in answer["readings"]:
        band = each[column]
        if (
            each["case"] != case
            or each["phase"] in {"at_rest", "cranking", "switched_off"}
            or band is None
        ):
            continue
        if each["clamp"]:
            yield each, band, abs(amps[each["clamp"]]), off_a
        else:
            red, black = each[COLUMNS[column]]
            yield each, band, volts[red] - volts[black], off_v


def hold_drawn(name, count):
    body = VAGUE[name]()
    answer, draw, seen = plan(body), random.Random(15), 0  # no secret

    def choose(low, high):
        return draw.choice([low, high, draw.uniform(low, high), draw.uniform(low, high)])

    for _ in range(count):
        for case, column, volts, amps in shown(settled(body, choose)):
            for each, band, exact, off in held(answer, case, column, volts, amps):
                told = (name, case, column, each["code"], each["part"], exact, band)
                assert band["low"] <= exact - off(exact) + LAST, told
                assert exact + off(exact) <= band["high"] + LAST, told
                seen += 1
    assert seen > 15 * count


@pytest.mark.parametrize("name", VAGUE)
def test_bands_hold_what_drawn_circuits_show(name):
    hold_drawn(name, 50)


@pytest.mark.long
@pytest.mark.parametrize("name", VAGUE)
def test_bands_hold_what_many_drawn_circuits_show(name):
    hold_drawn(name, 1000)


def test_bands_are_no_wider_than_the_corners_and_the_meter():
    """Of all corners one shows the least, one the most: a band ends there, by the meter's error.

    Where the meter takes its next range, it is further off than a little below.
    """
    body = VAGUE["the coach"]()
    answer, found = plan(body), {}
    count = len(list(intervals(body)))
    assert count == 4
    for ends in itertools.product((0, 1), repeat=count):
        turn = iter(ends)
        for case, column, volts, amps in shown(
            settled(body, lambda low, high, turn=turn: high if next(turn) else low)
        ):
            for each, _, exact, _ in held(answer, case, column, volts, amps):
                found.setdefault((each["number"], column), []).append(exact)
    assert len(found) == 2 * (10 + 12)  # of both cases: 10 as it is, 12 with the relay
    for (number, column), values in found.items():
        each = answer["readings"][number - 1]
        off = off_a if each["clamp"] else off_v
        low, high = min(values), max(values)
        ranges = (0.2, 2.0, 20.0) if off is off_v else (20.0, 200.0)
        points = [low, high, *(math.nextafter(v, 1e9) for v in ranges if low < v < high)]
        least, most = (min(v - off(v) for v in points), max(v + off(v) for v in points))
        assert each[column]["low"] == pytest.approx(least, abs=1e-6)
        assert each[column]["high"] == pytest.approx(most, abs=1e-6)
