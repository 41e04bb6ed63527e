"""A case in which nothing reaches the load decides nothing about a relay for it.

In gear, its neutral switch open, a starter gets 0 V: that is no reason to mend its key, nor enough.
"""

from copy import deepcopy

import pytest

from lastvolt_service.api.problems import Refused
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

from .circuit_parts import contact

HOT = {"name": "hot", "ambient_c": 80}


def with_neutral_switch(*left_out):
    body = deepcopy(RelayRetrofitRequest.example)
    for branch in body["circuit"]["branches"]:
        if branch["name"] == "wire to the rear":
            branch["nodes"] = ["neutral out", "terminal 50"]
    neutral = contact("neutral switch", "key out", "neutral out", 0.01, part="switch", rating_a=30)
    body["circuit"]["branches"].append(neutral)
    body["cases"] = [HOT, {"name": "other", "without": [*left_out]}]
    return body


@pytest.mark.parametrize("left_out", ["neutral switch", "engine strap", "key fuse"])
def test_it_is_pointed_at(run, left_out):
    with pytest.raises(Refused, match="#/cases/1/without: Nothing reaches the load"):
        run("relay-retrofit", **with_neutral_switch(left_out))


def with_starter_motor():
    body = deepcopy(RelayRetrofitRequest.example)
    body["circuit"]["branches"].append(
        contact("solenoid contact", "battery post", "motor terminal", 0.0002, part="switch")
    )
    body["circuit"]["loads"].append(
        {"name": "starter motor", "kind": "motor", "nodes": ["motor terminal", "engine block"],
         "resistance_ohm": 0.012}
    )  # fmt: skip
    body["cases"] = [{"name": "pull in", "without": ["solenoid contact"], "duration_s": 1}]
    return body


def test_a_feed_that_is_dead_until_the_solenoid_has_closed_is_pointed_at(run):
    body = with_starter_motor()
    body["proposal"]["feed_node"] = "motor terminal"
    told = "#/proposal/feed_node: In the case pull in nothing reaches this node"
    with pytest.raises(Refused, match=told):
        run("relay-retrofit", **body)
    proposal = body.pop("proposal")
    body["ways"] = [{"name": "a relay", "relay": proposal}]
    with pytest.raises(Refused, match="#/ways/0/relay/feed_node: In the case pull in"):
        run("remedy-choice", **body)


def test_a_feed_that_is_live_beside_it_is_weighed(run):
    answer = run("relay-retrofit", **with_starter_motor())
    relay = next(each for each in answer.ways if each.code == "relay")
    assert relay.margin_v > 0


def test_a_case_in_which_it_works_is_weighed(run):
    body = with_neutral_switch("pilot switch")
    pilot = contact("pilot switch", "key out", "pilot", 0.01, part="switch", rating_a=5)
    lamp = {"name": "pilot", "kind": "resistance", "nodes": ["pilot", "ground"],
            "resistance_ohm": 60}  # fmt: skip
    body["circuit"]["branches"].append(pilot)
    body["circuit"]["loads"].append(lamp)
    answer = run("relay-retrofit", **body)
    assert answer.advice == run("relay-retrofit", **with_neutral_switch()).advice


@pytest.mark.parametrize(
    ("field", "given", "said"),
    [
        (("cases", 0, "without"), ["neutrl switch"], "#/cases/0/without/0: .*'neutral switch'"),
        (("cases", 0, "without"), ["zzz"], "#/cases/0/without/0: No part of the .* name[.]$"),
        (("load",), "starter solonoid", "#/load: No load .* did you mean 'starter solenoid'"),
        (("switch",), "keyswitch", "#/switch: No contact .* did you mean 'key switch'"),
        (("proposal", "feed_node"), "batery post", "#/proposal/feed_node: .*'battery post'"),
    ],
)
def test_a_misspelt_name_is_refused_with_the_one_that_is_near(run, field, given, said):
    body = deepcopy(with_neutral_switch())
    *way, last = field
    inner = body
    for step in way:
        inner = inner[step]
    inner[last] = given
    with pytest.raises(Refused, match=said):
        run("relay-retrofit", **body)
