"""Whether a relay opens with its switch where a leak is known within bounds only.

12.6 V without resistance; a coil of 100 ohm that opens below 2 V is kept by a leak of less than
100 x (12.6 - 2) / 2 = 530 ohm, by hand, and closed by one of less than 57.5 ohm.
"""

from copy import deepcopy

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

from .circuit_parts import contact, load, resistance
from .test_letting_go import OFF, ON, RELAY, SWITCH, ask, told

LOW, WIDE = {"low": 300.0, "high": 480.0}, {"low": 400.0, "high": 1600.0}


def leak(ohm):
    return resistance("lit switch", "post", "86", ohm)


@pytest.mark.parametrize("case", [ON, OFF])
def test_a_leak_that_may_keep_it_is_told_at_its_worst(run, case):
    """1,000 ohm in the middle let go; 400 leave 2.52 V of the 2 V that keep it."""
    answer = ask(run, leak(WIDE), cases=[case])
    (check,) = told(answer).values()
    assert (check.code, check.verdict, check.part) == ("kept_closed", "undecided", "relay")
    assert_allclose(check.value, 12.6 * 100 / 500, rtol=2e-2)
    assert "may not let go" in check.message
    assert "resistance of lit switch" in check.message
    assert "pull the fuse" not in check.message
    assert answer.weakest == check


def test_what_keeps_it_at_both_ends_is_sure(run):
    (check,) = told(ask(run, leak(LOW), cases=[ON])).values()
    assert (check.code, check.verdict) == ("kept_closed", "fail")
    (check,) = told(ask(run, leak({"low": 700.0, "high": 2400.0}), cases=[ON])).values()
    assert check.verdict == "pass"


def test_what_closes_it_at_one_end_and_keeps_it_at_the_other_is_told_once(run):
    """At 30 ohm 9.7 V close it, at 400 ohm 2.5 V keep it: it never lets go."""
    (check,) = told(ask(run, leak({"low": 30.0, "high": 400.0}), cases=[ON])).values()
    assert check.verdict == "fail"
    # At 30 ohm they close it, at 2,000 it lets go.
    (check,) = told(ask(run, leak({"low": 30.0, "high": 2000.0}), cases=[ON])).values()
    assert (check.code, check.verdict) == ("closes_alone", "undecided")


def test_leak_and_coil_are_worst_together(run):
    """560 ohm leave a coil of 100 ohm 1.91 V, and one of 120 ohm 2.22 V of the 2 V that keep it."""
    coil = {"low": 80.0, "high": 120.0}
    both = {"low": 560.0, "high": 2000.0}
    assert 12.6 * 120 / (120 + 560) > 2.0 > 12.6 * 100 / (100 + 560)
    (check,) = told(ask(run, leak(both), cases=[ON], coil_resistance_ohm=coil)).values()
    assert check.verdict == "undecided"
    assert_allclose(check.value, 12.6 * 120 / 680, rtol=2e-2)


def test_a_solenoid_that_may_be_kept_is_told(run):
    """1 ohm, held from 3 V on: a leak of 3.2 ohm keeps it; by 12.6 / 3 = 4.2 less 1."""
    key = contact("key", "post", "50", 0.001, part="switch", rating_a=30)
    solenoid = {
        "name": "solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
        "rated": {"pull_in_v": 8.0, "hold_in_v": 3.0, "resistance_ohm": 1.0},
    }  # fmt: skip
    lead = resistance("alarm lead", "post", "50", {"low": 2.5, "high": 30.0})
    for case in (ON, {**OFF, "without": ["key"]}):
        answer = ask(run, lead, switches=(SWITCH, key), loads=[solenoid], cases=[case])
        (check,) = told(answer).values()
        assert (check.code, check.verdict, check.part) == ("kept_closed", "undecided", "solenoid")


def test_an_interval_elsewhere_asks_nothing_of_a_relay_that_is_off(run):
    """A leak with the switch open leaves .6 to 3 V at the coil: nobody is sent to feed it more."""
    answer = ask(
        run, leak({"low": 320.0, "high": 2000.0}), cases=[OFF],
        loads=[load("other", "post", "ground", resistance_ohm=20)],
    )  # fmt: skip
    wanted = {(c.code, c.verdict) for c in answer.checks if c.verdict in {"fail", "undecided"}}
    assert wanted == {("kept_closed", "undecided")}


@pytest.mark.parametrize("ohm", [{"low": 300.0, "high": 2400.0}])
def test_no_relay_is_sure_where_a_lead_over_the_key_may_hold_it(run, ohm):
    """A coil of 90 ohm that opens at 1.2 V: 300 ohm leave it 2.9 V, 1,350 ohm .8 V."""
    example = deepcopy(RelayRetrofitRequest.example)
    example["circuit"]["branches"].append(resistance("alarm lead", "key in", "key out", ohm))
    answer = run("relay-retrofit", **example)
    assert answer.advice == "find_out_first"
    assert "alarm lead" in answer.headline
    sheet = run("work-sheet", **example)
    assert sheet.order == ()


def test_what_is_not_near_the_relay_leaves_the_answer_as_it_is(run):
    other = load("other", "post", "ground", resistance_ohm=20)
    wide = {**other, "resistance_ohm": {"low": 10.0, "high": 40.0}}
    one, two = (
        {(c.code, c.part): c.verdict for c in ask(run, leak(1000), loads=[it]).checks}
        for it in (other, wide)
    )
    assert one == two
    assert RELAY["drop_out_v"] == 2.0
