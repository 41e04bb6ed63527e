"""A start that a relay bars, or whose relay gets nothing at its coil. Common practice."""

import pytest

from .circuit_parts import contact, resistance, wire
from .test_start_sequence import RELAY, ask


def relay(**more):
    return {**RELAY, **more}


def causes(answer):
    return answer.weakest.code, answer.weakest.part


LOCK = [contact("lock switch", "post", "lock", 0.002, part="switch", rating_a=10)]
LOCK_OUT = relay(name="lock-out relay", coil_nodes=["lock", "ground"],
                 contact_nodes=["key out", "spare"], break_nodes=["key out", "50"],
                 break_rating_a=30)  # fmt: skip


def test_a_lock_out_relay_that_is_in_bars_the_start_by_design(run):
    """Its 87a is open: 12.6 V stand across a contact that nobody is to mend."""
    answer = ask(run, branches=LOCK, relays=[LOCK_OUT], key_end="key out")
    assert answer.outcome == "silent"
    assert causes(answer) == ("barred", "lock-out relay")
    assert "while the engine runs" in answer.headline
    assert not [check for check in answer.checks if check.code == "control_drop"]


def test_with_its_coil_off_it_bars_nothing(run):
    case = {"name": "start", "without": ["lock switch"]}
    answer = ask(run, case, branches=LOCK, relays=[LOCK_OUT], key_end="key out")
    assert answer.outcome == "starts"


@pytest.mark.parametrize("ohm", [150, 900])
def test_a_start_relay_that_stays_open_is_not_mended_at_its_contact(run, ohm):
    """A poor ground of its coil keeps it open: its contact has nothing to do with it."""
    poor = contact("neutral switch", "85", "ground", ohm, part="switch", rating_a=10)
    started = relay(coil_nodes=["key out", "85"])
    answer = ask(run, branches=[poor], relays=[started])
    assert answer.outcome == "silent"
    assert causes(answer) == ("contact_drop", "neutral switch")
    assert not [c for c in answer.checks if (c.code, c.part) == ("control_drop", started["name"])]


def test_a_coil_that_nothing_feeds_is_looked_at_before_its_contact(run):
    started = relay(coil_nodes=["elsewhere", "ground"])
    idle = resistance("idle wire", "elsewhere", "nowhere", 0.1)
    answer = ask(run, branches=[idle], relays=[started])
    assert causes(answer) == ("coil_unfed", started["name"])
    assert "contact is not to blame" in answer.headline


def test_a_short_that_takes_most_is_told_before_the_key_in_its_way(run):
    """0.05 ohm at terminal 50 take more than both windings of 0.39 ohm do."""
    chafe = resistance("chafe", "50", "ground", 0.05)
    answer = ask(run, branches=[chafe], key_ohm=0.03)
    assert answer.outcome in {"hums", "silent", "buzzes"}
    assert causes(answer) == ("short", "chafe")


def test_what_draws_at_terminal_50_is_not_the_wire_that_feeds_it(run):
    """Rubbed through between key and starter: the wire from there on is the starter's own."""
    branches = [wire("last wire", "between", "50", "10 AWG", 0.5),
                resistance("chafe", "between", "ground", 1.0)]  # fmt: skip
    answer = ask(run, branches=branches, key_end="between")
    (check,) = [each for each in answer.checks if each.code == "at_terminal_50"]
    assert check.part == "chafe"


def test_what_draws_nearly_too_much_at_terminal_50_is_to_be_moved(run):
    """4 ohm beside 1.5 ohm, fed by 14.2 V through 0.51 ohm, draw 2.42 A: that in 200 turns is left.

    From 500 A on it runs on.
    """
    coil = {"name": "coil", "kind": "resistance", "nodes": ["50", "ground"], "resistance_ohm": 4}
    answer = ask(run, loads=[coil], key_ohm=0.03)
    (check,) = [each for each in answer.checks if each.code == "release_force"]
    assert (check.verdict, check.detail) == ("marginal", "drawn")
    assert check.value == pytest.approx(200 * 2.419, abs=0.1)
    assert "to a contact of its own" in answer.headline


def test_a_fuse_that_bears_no_start_blames_no_winding(run):
    """10 A for some 20: what both windings take is their own."""
    answer = ask(run, fuse={"part": "fuse", "rating_a": 10, "fuse_family": "blade C"})
    (check,) = [each for each in answer.checks if each.code == "fuse_load"]
    assert (check.verdict, check.detail) == ("fail", None)
