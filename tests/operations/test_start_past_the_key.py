"""A start that nothing is to make: what leads past the key, and what bars it. Common practice.

A mechanic wants the part: the jumper, the button, the relay that does not let go; and nobody mends
the key of a car that was left in gear.
"""

import pytest

from .circuit_parts import contact, resistance, wire
from .test_start_sequence import RELAY, ask

IN_GEAR = {"name": "in gear", "without": ["neutral switch"]}


def fed_over(run, *branches, **fields):
    answer = ask(run, branches=branches, **fields)
    assert answer.outcome == "runs_on"
    assert answer.fed_over.message in answer.headline
    assert "Find what" not in answer.headline
    return answer.fed_over


@pytest.mark.parametrize(
    "past",
    [
        contact("culprit", "key in", "50", 0.004, part="terminal"),
        contact("culprit", "post", "50", 0.01, part="terminal"),
        contact("culprit", "post", "50", 0.5, part="switch", rating_a=50),
        contact("culprit", "fused", "50", 0.01, part="switch", rating_a=50),
        wire("culprit", "key in", "50", "12 AWG", 0.3),
        resistance("culprit", "post", "50", 0.3),
    ],
)
def test_what_leads_past_the_key_is_named_first_and_no_wire_of_its_own(run, past):
    told = fed_over(run, past)
    assert (told.code, told.part) == ("at_terminal_50", "culprit")
    # A start button under the bonnet is let go as the key is: the case has it pressed for ever.
    may_be_a_button = past.get("part") == "switch"
    assert ("leave it out of the case" in told.message) == may_be_a_button


@pytest.mark.parametrize(
    ("past", "code", "detail"),
    [
        (resistance("lead", "key in", "key out", 600), "kept_closed", "lead"),
        (resistance("chafe", "key out", "50", 0.1), "holds_itself", "chafe"),
    ],
)
def test_of_a_relay_that_stays_in_what_keeps_it_there_is_told(run, past, code, detail):
    told = fed_over(run, past, relays=[RELAY])
    assert (told.code, told.part, told.detail) == (code, "start relay", detail)


def test_a_starter_that_lets_go_is_fed_over_nothing(run):
    assert ask(run).fed_over is None


def test_what_is_bridged_is_told_once(run):
    """A lead past the neutral switch: it starts in gear. The key is sound, and so is the rest."""
    switch = contact("neutral switch", "block", "ground", 0.0004, part="switch", rating_a=900)
    lead = contact("lead", "block", "ground", 0.0004, part="terminal")
    answer = ask(run, branches=[switch, lead], ground_node="block")
    assert answer.weakest.code == "bridged"
    assert answer.headline.count("leads past its contact") == 1


@pytest.mark.parametrize("part", ["switch", "ground"])
@pytest.mark.parametrize("key_ohm", [0.02, 0.6])
def test_what_bars_a_start_is_named_and_no_part_mended_for_it(run, part, key_ohm):
    rating = {"rating_a": 900} if part == "switch" else {}
    bars = contact("neutral switch", "block", "ground", 0.0004, part=part, **rating)
    change = {"key_ohm": key_ohm, "key_contact_ohm": key_ohm - 0.01}
    answer = ask(run, IN_GEAR, branches=[bars], ground_node="block", **change)
    assert answer.outcome == "silent"
    told = answer.weakest
    assert (told.code, told.part, told.detail) == ("not_joined", "starter", "neutral switch")
    assert "mend" not in answer.headline
    poor = {c.code for c in answer.checks if c.verdict == "fail"}
    assert poor == {"not_joined", "pull_in_force"}


def test_a_strap_that_is_a_wire_is_missed_as_one_that_is_a_contact(run):
    strap = wire("neutral switch", "block", "ground", "1/0 AWG", 0.4, insulation="SGX")
    choke = wire("choke cable", "block", "ground", "14 AWG", 2, insulation="GXL")
    answer = ask(
        run, {**IN_GEAR, "duration_s": 10, "ambient_c": 40},
        branches=[strap, choke], ground_node="block", needed_v=5.1,
    )  # fmt: skip
    found = {c.code for c in answer.checks if c.part == "choke cable" and c.verdict == "fail"}
    assert "diverted_current" in found
    assert found.isdisjoint({"duty_current", "conductor_temperature"})


@pytest.mark.parametrize("key_contact_ohm", [0.002, 0.03])
def test_a_main_cable_that_is_off_is_named_and_no_key(run, key_contact_ohm):
    """The plunger goes home and nothing turns: whatever the key takes, it is not for that."""
    cable = contact("main cable", "post", "stud", 0.0004, part="terminal")
    answer = ask(
        run, {"name": "start", "without": ["main cable"]}, branches=[cable], stud_node="stud",
        key_contact_ohm=key_contact_ohm, needed_v=5.1,
    )  # fmt: skip
    assert answer.outcome == "slow"
    told = answer.weakest
    assert (told.code, told.part, told.detail) == ("not_joined", "starter", "main cable")


def test_one_lead_past_two_switches_of_an_interlock_is_told_of_both(run):
    """Neutral and clutch switch lie in a row before the block's strap."""
    neutral = contact("neutral switch", "block", "n", 0.0004, part="switch", rating_a=900)
    clutch = contact("clutch switch", "n", "ground", 0.0004, part="switch", rating_a=900)
    lead = contact("lead", "block", "ground", 0.0004, part="terminal")
    answer = ask(run, branches=[neutral, clutch, lead], ground_node="block")
    told = {check.part for check in answer.checks if check.code == "bridged"}
    assert told == {"neutral switch", "clutch switch"}
    assert answer.weakest.code == "bridged"
