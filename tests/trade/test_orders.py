"""The whole plan, step by step, of cases that elsewhere tell a verdict, and of two faults at once.

Each was written from the trade before the code was asked: what a careful mechanic does first, next
and last. Common practice; the reasons stand in the cases, or here beside the order.
"""

import copy
import json
from typing import Any

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json

from ..operations.retrofit_circuits import headlamps, starter
from .test_cases import ALSO, CASES

(CHOICE,) = (each for each in OPERATIONS if each.name == "remedy-choice")
# What is done in order, and what is advised; () where nothing is done as it is proposed.
ORDERS: dict[str, tuple[set[str], tuple[str, ...]]] = {
    "c16": ({"nothing_needed"}, ()),
    "c17": ({"unsafe"}, ()),
    "c19": ({"mend"}, ("Pump switch",)),
    "c20": ({"relay"}, ("relay",)),
    "s17": ({"unsafe"}, ()),
    "s18": ({"unsafe", "find_out_first"}, ()),
    "s19": ({"mend"}, ("Body strap",)),
    "s20": ({"mend"}, ("Plus clamp",)),
}
STANDS_BACK = {"unsafe", "find_out_first"}


def answered(body: dict[str, Any], **more: Any) -> Any:
    """What remedy-choice says, the relay that is proposed among the ways."""
    request = copy.deepcopy(body)
    request.pop("explain", None)
    proposal = request.pop("proposal", None)
    ways = [{"name": "as proposed", "relay": proposal}] if proposal else []
    request |= {"ways": ways, **more}
    return json.loads(to_json(CHOICE.compute(CHOICE.arguments(request))))


def planned(answer: Any) -> tuple[str, ...]:
    words = {"battery": "battery", "relay": "relay"}
    return tuple(words.get(step["code"], step["part"]) for step in answer["plan"])


@pytest.mark.parametrize("name", ORDERS)
def test_the_order_is_that_of_a_careful_mechanic(name: str) -> None:
    body = copy.deepcopy(CASES[name]["request"])
    for path, value in ALSO.get(name, {}).items():
        *within_them, field = path.split(".")
        there = body
        for each in within_them:
            there = there[each]
        there[field] = value
    advice, order = ORDERS[name]
    answer = answered(body)
    assert answer["advice"] in advice, answer["headline"]
    if answer["advice"] in STANDS_BACK:
        assert "relay" not in planned(answer)
    else:
        assert planned(answer) == order


def test_a_feed_of_which_no_fuse_is_told_is_asked_about_before_it_is_built() -> None:
    """A croaking horn on a thin wire and a worn button: the relay would do, once it is fused."""
    answer = answered(CASES["c18"]["request"])
    assert answer["advice"] in STANDS_BACK
    assert any(each["check"] == "feed_fuse" for each in answer["reasons"])


def unfused(body: dict[str, Any]) -> dict[str, Any]:
    """The same, with no fuse in the feed of its relay, and that is said."""
    body["proposal"] |= {"feed": body["proposal"]["feed"][1:], "fuse": "none"}
    return body


# Two faults at once: what is asked, what cannot be had, the advice, and the order.
TWO = {
    # 9 A over 100 and 80 mohm are 0.9 V and 0.7 V: both are worn, the worse first.
    "worn switch, rusty ground": (
        headlamps(switch_ohm=0.08, ground_ohm=0.1), (), "mend", ("lamp ground", "switch"),
    ),
    # The relay leaves the ground where it is: that first, then round the switch.
    "switch of which there is no more, rusty ground": (
        headlamps(switch_ohm=0.08, ground_ohm=0.1), ("switch",), "mend_then_relay",
        ("lamp ground", "relay"),
    ),
    # A rusty plug between switch and lamps hides a worn switch; a relay is no cure for dirt.
    "rusty plug, worn switch": (
        headlamps(switch_ohm=0.06, plug_ohm=0.1), (), "mend", ("plug", "switch"),
    ),
    # Nobody blames wiring under a flat battery; the switch takes 0.7 V all the same.
    "flat battery, worn switch": (
        headlamps(switch_ohm=0.08, rest_v=11.8), (), "battery_first", ("battery", "switch"),
    ),
    # A wire too long for both windings, behind a worn key: beside a relay the key carries a coil.
    "long thin wire, worn key": (
        starter(length_m=11, size="14 AWG", ohm=0.5, zone_c=115, switch=0.05, fuse_a=30), (),
        "relay", ("relay",),
    ),
    # Feed without a fuse at its start: nothing is weighed up with that.
    "worn switch, relay without a fuse": (
        unfused(headlamps(switch_ohm=0.08)), (), "unsafe", (),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TWO)
def test_of_two_faults_each_is_seen_to_in_its_turn(name: str) -> None:
    body, not_to_be_had, advice, order = TWO[name]
    answer = answered(body, not_to_be_had=list(not_to_be_had))
    if advice in STANDS_BACK:
        assert answer["advice"] in STANDS_BACK
        assert "relay" not in planned(answer)
    else:
        assert (answer["advice"], planned(answer)) == (advice, order), answer["headline"]
