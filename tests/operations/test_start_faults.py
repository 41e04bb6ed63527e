"""What a start does with a fault in what carries the heavy current. Common practice."""

import pytest

from lastvolt_service.api.problems import Refused

from .circuit_parts import contact, wire
from .test_start_sequence import RELAY, ask

GROUNDED = {"ground_node": "block", "motor_resistance_ohm": 0.02}
STRAP = contact("strap", "block", "ground", 0.0004, part="ground")
CHOKE = wire("choke cable", "block", "ground", "14 AWG", 2, insulation="GXL")
# Of 190 A in 14 AWG, for ten seconds.
SECONDS = {"name": "start", "duration_s": 10, "ambient_c": 40}


@pytest.mark.parametrize(
    ("ohm", "case"),
    [(1000, SECONDS), (0.1, SECONDS), (0.0004, {**SECONDS, "without": ["strap"]})],
)
def test_a_choke_cable_that_carries_the_starter_is_no_reason_for_a_thicker_one(run, ohm, case):
    branches = [{**STRAP, "resistance_ohm": ohm}, CHOKE]
    answer = ask(run, case, branches=branches, needed_v=5.1, **GROUNDED)
    found = {c.code for c in answer.checks if c.part == "choke cable" and c.verdict == "fail"}
    assert "diverted_current" in found
    assert found.isdisjoint({"duty_current", "conductor_temperature"})
    assert "see to strap first" in answer.headline


def test_beside_a_sound_strap_a_wire_is_judged_as_any(run):
    answer = ask(run, SECONDS, branches=[STRAP, CHOKE], needed_v=5.1, **GROUNDED)
    found = {check.code for check in answer.checks if check.part == "choke cable"}
    assert "diverted_current" not in found
    assert "duty_current" in found


@pytest.mark.parametrize("motor_ohm", [0.3, 0.5])
def test_brushes_that_let_24_a_through_turn_no_engine(run, motor_ohm):
    """By hand: 7.6 V over 0.31 or 0.51 ohm are 24.5 or 14.9 A; a short would get 1,260 A."""
    answer = ask(run, motor_resistance_ohm=motor_ohm, needed_v=5.1)
    (check,) = [each for each in answer.checks if each.code == "motor_current"]
    assert (answer.outcome, check.verdict) == ("slow", "fail")
    assert check.value == pytest.approx(7.6 / (0.01 + motor_ohm), rel=0.1)
    assert "brushes" in check.message


@pytest.mark.parametrize(("rating_a", "verdict"), [(100, "unknown"), (20, "fail"), (400, "pass")])
def test_an_isolator_is_rated_for_hours_and_cranked_through_for_seconds(run, rating_a, verdict):
    """250 A: two and a half times what it bears for hours is its maker's word, twelve no one's."""
    isolator = contact("isolator", "post", "stud", 0.0002, part="switch", isolates=True)
    branches = [{**isolator, "rating_a": rating_a}]
    answer = ask(run, SECONDS, branches=branches, stud_node="stud", needed_v=5.1)
    verdicts = {c.verdict for c in answer.checks
                if (c.code, c.part) == ("contact_current", "isolator")}  # fmt: skip
    assert verdict in verdicts
    assert ("fail" in verdicts) == (verdict == "fail")


def test_what_a_starter_is_cranked_through_is_an_isolator_whatever_it_is_called(run):
    branches = [contact("knife", "post", "stud", 0.0002, part="switch", rating_a=100)]
    answer = ask(run, SECONDS, branches=branches, stud_node="stud", needed_v=5.1)
    (check,) = [c for c in answer.checks if (c.code, c.part) == ("contact_current", "knife")]
    assert (check.verdict, check.limit) == ("unknown", 100)
    assert "its maker tells" in check.message


@pytest.mark.parametrize("ohm", [0.05, 0.3, 1.0])
def test_the_worse_a_main_contact_is_the_surer_it_is_named(run, ohm):
    """What is left of the motor's current comes through the pull-in winding; the drop is its."""
    answer = ask(run, SECONDS, contact_resistance_ohm=ohm, needed_v=7.0, **GROUNDED,
                 branches=[STRAP])  # fmt: skip
    assert (answer.outcome, answer.weakest.code) == ("slow", "contact_drop")
    assert answer.weakest.part == "starter [main contact]"
    (path,) = [c for c in answer.checks if (c.code, c.part) == ("path_drop", "starter [motor]")]
    assert path.verdict == "pass" or path.detail == "starter [main contact]"


def test_a_strap_that_another_cable_stands_in_for_is_named(run):
    branches = [{**STRAP, "resistance_ohm": 10}, {**CHOKE, "size": "18 AWG"}]
    answer = ask(run, SECONDS, branches=branches, needed_v=9.0, hold_ampere_turns=200, **GROUNDED)
    assert (answer.outcome, answer.weakest.part) == ("slow", "strap")


@pytest.mark.parametrize(("size", "is_thin"), [("14 AWG", True), ("2 AWG", False)])
def test_thin_jump_leads_are_named_before_their_clamps(run, size, is_thin):
    """3 m of 14 AWG out and back: 8.3 milliohm/m at 20 degC, 50 milliohm, 4 V at 80 A."""
    leads = [
        wire("red lead", "helper post", "post", size, 3),
        wire("black lead", "ground", "helper ground", size, 3),
        contact("clamp", "helper ground", "helper minus", 0.002, part="terminal"),
    ]
    helper = {**HELPER, "nodes": ["helper post", "helper minus"]}
    answer = ask(run, SECONDS, branches=leads, sources=[helper], needed_v=11.0,
                 hold_ampere_turns=200, ampere_turns=2500,
                 source={"open_circuit_v": 11.5, "internal_resistance_ohm": 0.05})  # fmt: skip
    assert answer.outcome == "slow"
    lost = [c for c in answer.checks if c.code == "lead_drop"]
    assert bool(lost) == is_thin
    assert ("thicker or shorter" in answer.headline) == is_thin


def test_a_motor_of_unknown_speed_is_not_called_seized(run):
    """Nobody in a garage knows back_v: without it nothing says that it stands."""
    answer = ask(run, motor_resistance_ohm=0.01, back_v=None, needed_v=9.0)
    assert "motor_stands" not in {c.code for c in answer.checks}
    assert (answer.outcome, answer.turns) == ("starts", False)
    assert "cranking_voltage" in {each.code for each in answer.not_judged}


def test_a_dead_battery_is_no_reason_for_another_starter(run):
    """Three of six cells: it reads 6.3 V; a 12 V solenoid pulls in from 6.6 to 7.4 V cold."""
    made_for_12 = {"ampere_turns": 3700, "hold_ampere_turns": 480, "needed_v": 8.0}
    answer = ask(run, source={"open_circuit_v": 6.3}, nominal_v=None, **made_for_12)
    (check,) = [c for c in answer.checks if c.code == "made_for"]
    assert (check.verdict, check.detail) == ("fail", "flat_or_for_more")
    assert "battery is flat" in answer.headline
    assert "Take another" not in answer.headline


def test_a_broken_pull_in_winding_makes_no_starter_of_24_v(run):
    answer = ask(run, pull_in_resistance_ohm=900, needed_v=5.1)
    (check,) = [c for c in answer.checks if c.code == "made_for"]
    assert check.detail == "pull_in_open"
    assert "pull-in winding" in answer.headline


def test_once_the_plunger_is_home_the_key_slows_nothing(run):
    """Brushes of 0.3 ohm, and a key that drops 1 V while both windings are in."""
    answer = ask(run, key_ohm=0.1, key_contact_ohm=0.03, motor_resistance_ohm=0.3, needed_v=5.1)
    assert answer.outcome == "slow"
    assert answer.weakest.code == "motor_current"
    assert "drop of the contact (key)" in answer.headline


def test_the_main_contact_leads_over_the_key_where_it_starts(run):
    """By hand: 1.5 V over 0.01 ohm at 150 A and more, 0.9 V over the key's 0.03."""
    answer = ask(run, key_ohm=0.1, key_contact_ohm=0.03, contact_resistance_ohm=0.01, needed_v=5.1)
    assert answer.outcome == "starts"
    assert answer.weakest.part == "starter [main contact]"


@pytest.mark.parametrize(("rating_a", "verdict"), [(50, "pass"), (25, "marginal"), (10, "fail")])
def test_a_key_closes_on_both_windings_for_a_moment(run, rating_a, verdict):
    """By hand: 12.6 V over 0.11 and 0.39 ohm are 25 to 30 A, until the plunger is home."""
    answer = ask(run, key_rating_a=rating_a, needed_v=5.1)
    (check,) = [c for c in answer.checks if (c.code, c.part) == ("contact_current", "key")]
    assert 25 < check.value < 30
    assert check.verdict == verdict


@pytest.mark.parametrize(
    ("branches", "most"),
    [
        ([{**STRAP, "resistance_ohm": 0.004}], "strap"),
        ([STRAP, wire("main cable", "post", "stud", "8 AWG", 2, insulation="GXL")], "main cable"),
    ],
)
def test_the_part_that_takes_most_of_the_path_is_named(run, branches, most):
    at = {"stud_node": "stud"} if len(branches) > 1 else {}
    answer = ask(run, SECONDS, branches=branches, needed_v=5.1, **GROUNDED, **at)
    assert answer.headline.split(". Else")[0].count(most) >= 1
    (path,) = [each for each in answer.checks if each.code == "path_drop"]
    assert path.detail == most


@pytest.mark.parametrize(
    ("chafe_ohm", "fault"),
    [
        (5.0, {"key_ohm": 2.5, "key_contact_ohm": 2.0}),  # it hums
        (0.3, {"contact_resistance_ohm": 0.2}),  # it clicks
        (5.0, {"motor_resistance_ohm": 0.5}),  # it cranks slowly
    ],
)
def test_a_feed_past_the_key_is_told_whatever_else_keeps_it_from_starting(run, chafe_ohm, fault):
    """Mended, the other fault leaves a starter that runs on; and nobody tightens a chafe."""
    chafe = contact("chafe", "post", "50", chafe_ohm, part="terminal")
    answer = ask(run, branches=[chafe], **fault)
    assert answer.outcome != "starts"
    assert (answer.hazard or answer.weakest).code == "release_force"
    told = "chafe: with the key let go" if answer.fed_over else "still feeds terminal 50"
    assert told in answer.headline
    drops = {
        check.part for check in answer.checks if check.code in {"contact_drop", "contact_heat"}
    }
    assert "chafe" not in drops


def test_a_relay_that_can_weld_is_told_whatever_else_is_wrong(run):
    """It closes on 25 A and more and may on 10, and the main contact is burnt."""
    relay = {**RELAY, "make_rating_a": 10, "load_kind": "solenoid"}
    answer = ask(run, relays=[relay], contact_resistance_ohm=0.2)
    assert (answer.outcome, answer.weakest.part) == ("slow", "starter [main contact]")
    assert answer.hazard.code == "inrush"
    assert "weld" in answer.headline


def test_a_key_in_series_with_a_rubbed_wire_is_no_short(run):
    rub = contact("rub", "50", "ground", 0.5, part="terminal")
    answer = ask(run, branches=[rub], key_ohm=0.2, key_contact_ohm=0.1)
    assert {check.part for check in answer.checks if check.code == "short"} == {"rub"}
    assert ("contact_drop", "key") in {(c.code, c.part) for c in answer.checks}
    assert "rub" in answer.headline


def test_how_an_empty_battery_cranks_is_not_praised(run):
    low = ask(run, source={"open_circuit_v": 11.5}, back_v=4.0, needed_v=5.1)
    assert (low.outcome, low.is_charged) == ("starts", False)
    assert "not reckoned" in low.headline
    assert ask(run, needed_v=5.1).is_charged


@pytest.mark.parametrize(
    ("key_ohm", "strap_ohm", "leads"), [(0.1, 0.0022, "key"), (0.03, 0.008, "strap")]
)
def test_where_it_starts_what_loses_more_volts_leads(run, key_ohm, strap_ohm, leads):
    """A key that loses 2.6 V at pull-in and a strap of 0.4 V; one of 0.8 V and one of 1.4 V."""
    strap = {**STRAP, "resistance_ohm": strap_ohm}
    answer = ask(run, branches=[strap], key_ohm=0.14, key_contact_ohm=key_ohm, needed_v=5.1,
                 ampere_turns=2500, **GROUNDED)  # fmt: skip
    assert answer.outcome == "starts"
    assert answer.weakest.part == leads


def test_a_relay_closes_on_both_windings_for_a_moment(run):
    """25 A and more for a tenth of a second, on a contact for 20."""
    relay = {**RELAY, "rating_a": 20, "make_rating_a": 100, "contact_resistance_ohm": 0.002}
    answer = ask(run, relays=[relay], needed_v=5.1)
    (check,) = [each for each in answer.checks if each.code == "steady_current"]
    assert check.verdict == "marginal"
    assert "for a moment" in check.message


HELPER = {
    "name": "helper", "kind": "battery", "nodes": ["clamp", "ground"],
    "open_circuit_v": 12.7, "internal_resistance_ohm": 0.008,
}  # fmt: skip


@pytest.mark.parametrize("clamp_ohm", [0.0003, 0.05])
def test_a_jump_start_is_not_told_that_its_battery_is_flat(run, clamp_ohm):
    """That is why he jumps; what stands in the helper's way is what to know."""
    jump = contact("jump clamp", "clamp", "post", clamp_ohm, part="terminal")
    answer = ask(run, branches=[jump], sources=[HELPER], source={"open_circuit_v": 11.6},
                 needed_v=5.1, back_v=3.0)  # fmt: skip
    (charge,) = [each for each in answer.checks if each.code == "charge"]
    assert (charge.verdict, charge.detail) == ("marginal", "helped")
    assert "charged to" not in answer.headline.split(". ")[0]
    assert ("jump clamp" in answer.headline) == (clamp_ohm > 0.01)


def test_a_battery_run_down_to_six_volts_is_asked_about(run):
    with pytest.raises(Refused) as refused:
        ask(run, source={"open_circuit_v": 6.0}, sources=[HELPER], nominal_v=None,
            branches=[contact("jump clamp", "clamp", "post", 0.001, part="terminal")])  # fmt: skip
    assert refused.value.errors[0]["pointer"] == "#/nominal_v"


def test_a_bare_choke_cable_glows_by_its_size_alone(run):
    """170 A in 14 AWG are 80 A/mm2; the drop beside the strap is the strap's."""
    bare = {key: value for key, value in CHOKE.items() if key != "insulation"}
    branches = [{**STRAP, "resistance_ohm": 0.05}, bare]
    answer = ask(run, SECONDS, branches=branches, needed_v=5.1, **GROUNDED)
    told = {c.part: c for c in answer.checks if c.code == "diverted_current"}
    assert "see to strap first" in told["choke cable"].message
    (path,) = [each for each in answer.checks if each.code == "path_drop"]
    assert path.detail == "strap"


def test_a_motor_that_stands_is_told_and_not_its_battery(run):
    """12.6 V over 0.02 ohm: 630 A, of which a battery of 10 milliohm keeps half its volts."""
    answer = ask(run, motor_resistance_ohm=0.01, back_v=0.0, needed_v=5.1)
    assert answer.weakest.code == "motor_stands"
    assert "seized or shorted" in answer.headline
    calm = ask(run, motor_resistance_ohm=0.1, back_v=0.0, needed_v=5.1)
    assert (calm.outcome, calm.turns) == ("starts", False)
    assert "give back_v" in calm.headline


def test_a_battery_of_unknown_charge_is_not_called_low(run):
    rated = {"plus": "post", "battery": {"nominal_v": 12, "cold_cranking_a": 600}}
    assert ask(run, source_only=rated, needed_v=5.1).is_charged


def test_a_second_battery_that_helps_fails_no_cable(run):
    """The motor hangs on the battery that gives it most; what a split cable takes is another's."""
    helper = {**HELPER, "nodes": ["far", "ground"], "open_circuit_v": 12.6}
    split = wire("split cable", "far", "stud", "6 AWG", 3, insulation="GXL")
    cable = wire("main cable", "post", "stud", "2/0 AWG", 1.5, insulation="GXL")
    answer = ask(run, SECONDS, branches=[split, cable], sources=[helper], stud_node="stud",
                 needed_v=5.1)  # fmt: skip
    (path,) = [each for each in answer.checks if each.code == "path_drop"]
    assert path.verdict != "fail"


@pytest.mark.parametrize("key_ohm", [0.003, 0.008])
def test_a_sound_key_drops_what_it_drops_for_a_moment(run, key_ohm):
    """By hand: 8 milliohm at the 27 A of both windings are 0.22 V, until the plunger is home."""
    answer = ask(run, key_ohm=0.05, key_contact_ohm=key_ohm, needed_v=5.1)
    (check,) = [c for c in answer.checks if (c.code, c.part) == ("contact_drop", "key")]
    assert check.verdict == "pass"


def test_a_fuse_that_holds_until_the_plunger_is_home_is_sound(run):
    fuse = {"part": "fuse", "rating_a": 20, "fuse_family": "blade C"}
    answer = ask(run, key_ohm=0.02, fuse=fuse, needed_v=5.1, pull_in_resistance_ohm=0.36)
    (check,) = [c for c in answer.checks if c.code == "fuse_load"]
    assert check.value > 1.4 * 20
    assert check.verdict != "fail"


def test_a_jump_start_that_fails_at_its_clamp_is_told_by_the_clamp(run):
    """A flat battery of 30 milliohm, and 0.2 ohm in the black clamp: 5 V are lost there."""
    jump = contact("black clamp", "clamp", "post", 0.2, part="terminal")
    flat = {"open_circuit_v": 11.0, "internal_resistance_ohm": 0.03}
    answer = ask(run, branches=[jump], sources=[HELPER], source=flat, needed_v=8.0)
    assert answer.weakest.part in {"black clamp", "starter"}
    assert "black clamp" in answer.headline
    assert not [c for c in answer.checks if c.part == "battery" and c.verdict == "fail"]


def test_a_harness_that_is_too_long_is_named_by_its_wire(run):
    """30 m of 16 AWG: 0.4 ohm before 0.38 of both windings, half of the volts; a sound key."""
    long = wire("long wire", "late", "50", "16 AWG", 30, insulation="GXL")
    key_end = {"control_node": "50"}
    body = ask(run, SECONDS, branches=[long], key_end="late", key_ohm=0.02, **key_end)
    assert body.outcome == "hums"
    assert body.weakest.part == "long wire"
    assert "thicker or shorter way, or a relay" in body.headline


@pytest.mark.parametrize(("key_ohm", "leads"), [(20.0, "key"), (0.002, "battery")])
def test_a_gross_fault_is_not_a_battery_that_is_low(run, key_ohm, leads):
    """12.0 V at rest, some 40 %: with a key of 20 ohm it is silent however full the battery is."""
    answer = ask(run, source={"open_circuit_v": 12.0}, key_ohm=key_ohm + 0.05,
                 key_contact_ohm=key_ohm, needed_v=5.1)  # fmt: skip
    assert answer.weakest.part == leads


def test_of_two_bad_contacts_the_one_that_brings_more_volts_leads(run):
    """A clamp of 10 milliohm and a main contact of 30: a third of the volts, and by limits less."""
    clamp = contact("clamp", "post", "stud", 0.01, part="terminal")
    answer = ask(run, branches=[clamp], stud_node="stud", contact_resistance_ohm=0.03)
    assert answer.outcome == "slow"
    assert answer.weakest.part == "starter [main contact]"


def test_a_bad_strap_leads_over_the_clamp_of_a_jump_lead_that_loses_less(run):
    """By hand: two batteries over 0.04 and 0.01 ohm; a fifth of 271 A in the strap are 1.6 V.

    The rest in the black clamp's 2 milliohm are 0.4 V.
    """
    helper = {**HELPER, "nodes": ["post", "far"], "open_circuit_v": 12.6}
    strap = contact("strap", "block", "ground", 0.03, part="ground")
    clamp = contact("black clamp", "far", "block", 0.002, part="terminal")
    answer = ask(run, branches=[strap, clamp], sources=[helper], ground_node="block")
    assert answer.weakest.part == "strap"
    assert answer.weakest.value == pytest.approx(0.03 * 271 / 5, rel=0.02)
    (path,) = [each for each in answer.checks if each.code == "path_drop"]
    assert path.detail == "strap"


def test_the_starters_own_contact_is_no_cable(run):
    """237 A in strap, clamp and main contact: 0.28, 0.09 and 0.28 V; a cable may take 0.5 V."""
    strap = contact("strap", "block", "ground", 0.0012, part="ground")
    clamp = contact("clamp", "post", "stud", 0.0004, part="terminal")
    answer = ask(run, branches=[strap, clamp], ground_node="block", stud_node="stud",
                 contact_resistance_ohm=0.0012)  # fmt: skip
    (path,) = [each for each in answer.checks if each.code == "path_drop"]
    assert path.value == pytest.approx(0.0016 * 7.6 / 0.0328, rel=0.02)
    assert path.verdict == "pass"


def test_a_start_button_beside_the_key_is_let_go_with_it(run):
    button = contact("start button", "key in", "50", 0.003, part="switch", rating_a=50)
    assert ask(run, branches=[button], needed_v=5.1).lets_go


@pytest.mark.parametrize("contact_nodes", [["30", "50"], ["key in", "spare"]])
def test_a_relay_whose_contact_leads_nowhere_is_no_matter_of_its_coils_wires(run, contact_nodes):
    """It clicks, and nothing flows to terminal 50: no part loses volts that could be mended."""
    relay = {**RELAY, "contact_nodes": contact_nodes}
    away = contact("clamp", "far", "50", 0.001, part="terminal")
    answer = ask(run, relays=[relay], branches=[away])
    assert (answer.weakest.code, answer.weakest.part) == ("not_joined", "starter")
    assert "no way leads from it" in answer.headline
    assert "control_drop" not in {check.code for check in answer.checks}
    assert ask(run, relays=[RELAY]).outcome == "starts"
