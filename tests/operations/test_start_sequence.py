"""A start stage by stage, by Kirchhoff with pencil and paper, and what is heard: practice.

Two windings of 200 turns: the pull-in winding of 0.5 ohm returns through the motor of 0.02 ohm, the
hold-in winding of 1.5 ohm to the housing. 12.6 V behind 0.01 ohm; the key with its wires has 0.1.
"""

import copy

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.api.problems import Refused
from lastvolt_service.operations.starting.starter import StartSequenceRequest

from .circuit_parts import contact, resistance

STARTER = {
    "name": "starter", "control_node": "50", "stud_node": "post", "ground_node": "ground",
    "pull_in_turns": 200, "pull_in_resistance_ohm": 0.5, "hold_in_turns": 200,
    "hold_in_resistance_ohm": 1.5, "ampere_turns": 3000, "hold_ampere_turns": 500,
    "contact_resistance_ohm": 0.0, "motor_resistance_ohm": 0.02, "back_v": 5.0, "needed_v": 8.0,
}  # fmt: skip
SOURCE = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
FUSE = {"part": "fuse", "rating_a": 40, "fuse_family": "blade C"}
RELAY = {
    "name": "start relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7,
    "drop_out_v": 1.5, "contact_resistance_ohm": 0.1, "rating_a": 50,
    "coil_nodes": ["key out", "ground"], "contact_nodes": ["post", "50"],
}  # fmt: skip


def ask(
    run, *cases, key_ohm=0.1, key_contact_ohm=0.002, key_rating_a=50, source=None,
    source_only=None, key_end=None, relays=(), branches=(), sources=(), loads=(), fuse=FUSE,
    nominal_v=12, **starter,
):  # fmt: skip
    end = key_end or ("key out" if relays else "50")
    circuit = {
        "source": source_only or {**SOURCE, **(source or {})},
        "branches": [
            contact("key fuse", "post", "fused", 0.002, **fuse),
            resistance("key wires", "fused", "key in", key_ohm - 0.002 - key_contact_ohm),
            contact("key", "key in", end, key_contact_ohm, part="switch", rating_a=key_rating_a),
            *branches,
        ],
        "relays": list(relays),
        "loads": list(loads),
        "further_sources": list(sources),
    }  # fmt: skip
    asked = {name: value for name, value in {**STARTER, **starter}.items() if value is not None}
    return run(
        "start-sequence", circuit=circuit, starter=asked, key="key",
        cases=list(cases) or [{"name": "start"}], **({"nominal_v": nominal_v} if nominal_v else {}),
    )  # fmt: skip


def stages(answer):
    return {stage.name: stage for stage in answer.cases[0].stages}


def codes(answer, verdict="fail"):
    return {check.code for check in answer.checks if check.verdict == verdict}


def test_every_stage_is_that_of_kirchhoff(run):
    found = stages(ask(run))
    # Key on: both windings side by side, the pull-in one through the motor.
    both_ohm = 1 / (1 / 0.52 + 1 / 1.5)
    current_a = 12.6 / (0.01 + 0.1 + both_ohm)
    volts = current_a * both_ohm
    on = found["key_on"]
    assert_allclose(on.control_v, volts, rtol=1e-9)
    assert_allclose(on.ampere_turns, 200 * (volts / 0.52 + volts / 1.5), rtol=1e-9)
    # Motor at a stand on the post: p there, c at 50 behind the key, pull-in between the two.
    # (12.6 - p)/0.01 = p/0.02 + (p - c)/0.1 + (p - c)/0.5 ; (p - c)/0.1 + (p - c)/0.5 = c/1.5
    # so p - c = c/18 and p = 19 c/18: 1260 = 100 p + 50 p + c/1.5.
    c = 1260 / (150 * 19 / 18 + 1 / 1.5)
    stands = found["main_contact"]
    assert_allclose([stands.control_v, stands.motor_v], [c, 19 * c / 18], rtol=1e-9)
    assert_allclose(stands.pull_in_current_a, -c / 18 / 0.5, rtol=1e-9)
    assert_allclose(stands.ampere_turns, 200 * (c / 1.5 - c / 9), rtol=1e-9)
    # It cranks: 50 (p - 5) in place of 50 p.
    c = (1260 + 250) / (150 * 19 / 18 + 1 / 1.5)
    assert_allclose(found["cranking"].motor_v, 19 * c / 18, rtol=1e-9)
    # Key let go: from the motor's terminal back through the pull-in and on through the hold-in.
    off = found["key_off"]
    series_a = off.motor_v / 2.0
    assert_allclose([off.pull_in_current_a, off.hold_in_current_a], [-series_a, series_a])
    assert_allclose(off.ampere_turns, 0, atol=1e-6)  # equal turns cancel
    assert [stage.sound for stage in found.values()] == ["clunk", "clunk", "cranking", "quiet"]


def test_a_good_start_passes(run):
    answer = ask(run)
    assert (answer.outcome, answer.cases[0].fails_in) == ("starts", None)
    # Nobody tells what the key's wires bear, and of which family its fuse is.
    assert {check.verdict for check in answer.checks} <= {"pass", "marginal", "unknown"}
    assert codes(answer, "unknown") == {"ohms_heat"}


def test_a_hot_starter_hums(run):
    """Copper at 120 degC has 354.5/254.5 times its resistance: 39 % more, 28 % less force."""
    cold, hot = (ask(run, {"name": "start", "ambient_c": each}) for each in (20, 120))
    need = 0.9 * cold.cases[0].stages[0].ampere_turns
    answer = ask(run, {"name": "hot", "ambient_c": 120}, ampere_turns=need)
    assert hot.cases[0].stages[0].ampere_turns < need
    assert (answer.outcome, answer.cases[0].fails_in) == ("hums", "key_on")
    assert answer.cases[0].stages[-1].sound == "hum"
    assert "hum" in answer.headline


def test_worn_brushes_stop_the_pull_in_winding(run):
    """With 20 ohm in the motor's way the pull-in winding carries next to nothing."""
    answer = ask(run, motor_resistance_ohm=20)
    assert answer.outcome == "hums"
    assert "brushes" in answer.headline


def test_an_open_key_is_silent_and_a_relay_alone_clicks(run):
    assert ask(run, key_ohm=1000).cases[0].stages[0].sound == "nothing"
    dead = {**RELAY, "contact_resistance_ohm": 500}
    answer = ask(run, relays=[dead])
    assert (answer.outcome, answer.cases[0].stages[0].sound) == ("silent", "click")


def test_a_start_relay_that_lets_go_in_the_sag_clicks(run):
    """12.6 V behind 0.02 ohm over a motor of 0.02 ohm: 6.3 V are left as it is switched on."""
    weak = {"internal_resistance_ohm": 0.02}
    answer = ask(run, source=weak, relays=[{**RELAY, "drop_out_v": 6.6}])
    assert (answer.outcome, answer.cases[0].fails_in) == ("buzzes", "main_contact")
    assert "relay_lets_go" in codes(answer)
    assert ask(run, source=weak, relays=[RELAY]).outcome in {"starts", "slow"}


def test_a_plunger_that_is_not_held_in_the_sag_clicks(run):
    """A flat battery's buzz: 0.1 ohm inside leave 2 V, and the hold-in winding some 200 A turns."""
    answer = ask(run, source={"internal_resistance_ohm": 0.1}, ampere_turns=2000)
    assert (answer.outcome, answer.cases[0].fails_in) == ("buzzes", "main_contact")
    # The battery comes before all that it makes fail.
    assert answer.weakest.code in {"sag", "battery_resistance", "charge"}
    assert {"hold_force", "sag"} <= codes(answer)


def test_a_motor_that_gets_too_little_cranks_slowly(run):
    answer = ask(run, needed_v=11.5)
    assert (answer.outcome, codes(answer)) == ("slow", {"cranking_voltage"})
    assert "cranks too slowly" in answer.headline


def test_a_feed_past_the_key_lets_it_run_on(run):
    past = contact("welded relay", "post", "50", 0.1, part="relay")
    answer = ask(run, branches=[past])
    assert (answer.outcome, answer.cases[0].fails_in) == ("runs_on", "key_off")
    assert "cut the battery off" in answer.headline


def test_what_keeps_the_plunger_is_asked_for(run):
    starter = {key: value for key, value in STARTER.items() if key != "hold_ampere_turns"}
    body = copy.deepcopy(StartSequenceRequest.example)
    del body["starter"]["hold_ampere_turns"]
    answer = run("start-sequence", **{**body, "starter": {**starter, **body["starter"]}})
    assert {check.code for check in answer.not_judged} >= {"hold_force", "release_force"}


def test_positive_ground_starts_alike(run):
    usual = ask(run)
    turned = ask(run, source={"plus": "ground", "minus": "post"})
    assert usual.cases == turned.cases


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"key": "no key"}, "#/key"),
        ({"starter": {**STARTER, "stud_node": "nowhere"}}, "#/starter/stud_node"),
        ({"cases": [{"name": "a", "held": ["key"]}]}, "#/cases/0/held/0"),
        ({"cases": [{"name": "a", "without": ["key"]}]}, "#/cases/0/without/0"),
        ({"cases": [{"name": "a", "ambient_c": {"low": 0, "high": 20}}]}, "#/cases/0/ambient_c"),
    ],
)
def test_what_makes_no_start_is_refused_by_field(run, change, pointer):
    branches = [contact("key", "post", "50", 0.1, part="switch")]
    body = {
        "circuit": {"source": SOURCE, "branches": branches},
        "starter": STARTER, "key": "key", "cases": [{"name": "a"}], "nominal_v": 12, **change,
    }  # fmt: skip
    with pytest.raises(Refused) as refused:
        run("start-sequence", **body)
    assert pointer in {error["pointer"] for error in refused.value.errors}


def test_the_first_line_is_of_the_case_that_does_not_start(run):
    """A flat battery in one case says nothing of the other, in which the plunger stays."""
    flat = {"name": "flat", "open_circuit_v": 12.0}
    hot = {"name": "hot", "ambient_c": 120}
    answer = ask(run, flat, hot, ampere_turns=4200)
    assert [case.outcome for case in answer.cases] == ["starts", "hums"]
    assert (answer.worst_case, answer.outcome) == ("hot", "hums")
    assert "in every case" not in answer.headline


def test_a_start_with_a_frozen_battery_is_not_praised(run):
    answer = ask(run, {"name": "frost", "ambient_c": -30, "open_circuit_v": 11.9})
    assert answer.headline.index("jump-start") < answer.headline.index("cranks")


def test_worn_brushes_are_told_before_the_wiring(run):
    """Even 12.6 V at terminal 50 make 200 (12.6 / 20.5 + 12.6 / 1.5) = 1803 of 3000 A."""
    answer = ask(run, motor_resistance_ohm=20)
    (check,) = [each for each in answer.checks if each.code == "full_voltage"]
    assert_allclose(check.limit, 12.6 * 3000 / (200 * (12.6 / 20.5 + 12.6 / 1.5)), rtol=1e-9)
    assert (check.verdict, answer.weakest) == ("fail", check)


def test_a_starter_for_another_voltage_is_told_first(run):
    """Cold, and with sound brushes, 4000 A take 4000 / (200 (1 / 0.5 + 1 / 1.5)) = 7.5 V."""
    for nominal_v, said in ((24, "made for a lower one"), (6, "made for a higher voltage")):
        full = {"open_circuit_v": 1.05 * nominal_v}
        answer = ask(run, source=full, nominal_v=nominal_v, ampere_turns=4000)
        assert answer.weakest.code == "made_for"
        assert_allclose(answer.weakest.value, 4000 / (200 * (1 / 0.5 + 1 / 1.5)), rtol=1e-9)
        assert said in answer.headline


def of_parts(answer):
    return {(check.code, check.part): check for check in answer.checks}


def test_fuse_key_and_strap_are_judged_as_in_any_circuit(run):
    # Some 26 A flow through the key while both windings are in, for a third of a second.
    found = of_parts(ask(run))
    assert_allclose(found["contact_current", "key"].value, 12.6 / (0.11 + 1 / (1 / 0.52 + 1 / 1.5)))
    strap = contact("strap", "block", "ground", 0.02, part="ground")
    answer = ask(run, branches=[strap], ground_node="block")
    assert ("contact_drop", "strap") in {
        about for about, check in of_parts(answer).items() if check.verdict == "fail"
    }
    bare = ask(run, branches=[resistance("second feed", "post", "key in", 1.0)])
    assert "a wire without a fuse" in bare.headline


def test_a_fuse_bears_the_pull_in_for_a_moment_and_a_hum_hardly(run):
    """25.4 A through 20 A: for a third of a second, or for as long as the key is turned."""
    small = {**FUSE, "rating_a": 20}
    found = {
        name: of_parts(ask(run, fuse=small, **more))["fuse_load", "key fuse"].verdict
        for name, more in (("starts", {}), ("hums", {"ampere_turns": 8000}))
    }
    assert found == {"starts": "pass", "hums": "marginal"}


def test_a_start_relay_is_judged_as_in_any_circuit(run):
    found = of_parts(ask(run, relays=[{**RELAY, "rating_a": 10}]))
    assert found["steady_current", "start relay"].verdict == "fail"
    # Windings take no more at first than their resistance lets through.
    assert found["inrush", "start relay"].verdict != "fail"
    lower = {**RELAY, "nominal_v": 6, "pick_up_v": 3.5, "coil_resistance_ohm": 20}
    assert ask(run, relays=[lower]).weakest.code == "relay_voltage"
    higher = {**RELAY, "nominal_v": 24, "pick_up_v": 15, "coil_resistance_ohm": 300}
    answer = ask(run, relays=[higher])
    assert (answer.outcome, answer.weakest.code) == ("silent", "relay_voltage")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        # 200 and 240 turns in series at one current leave 40 times that.
        ({"pull_in_turns": 240, "hold_ampere_turns": 100}, "don't cancel"),
        (
            {"branches": [contact("welded relay", "post", "50", 0.5, part="relay")]},
            "come to terminal 50 over it",
        ),
    ],
)
def test_a_wrong_solenoid_is_told_from_a_feed(run, change, said):
    answer = ask(run, **change)
    assert answer.outcome == "runs_on"
    assert said in answer.headline


# The part that resists leads, not the fault behind the fuse that gets too little for it.
@pytest.mark.parametrize(
    ("change", "part"),
    [
        ({"key_ohm": 0.5, "worn": True}, "key"),
        ({"branches": [contact("strap", "block", "ground", 0.2, part="ground")]}, "strap"),
    ],
)
def test_what_resists_leads(run, change, part):
    change = dict(change)
    if change.pop("worn", False):
        change["key_contact_ohm"] = change["key_ohm"] - 0.01
    ground = "block" if part == "strap" else "ground"
    answer = ask(run, ground_node=ground, **change)
    assert answer.outcome != "starts"
    assert (answer.weakest.code, answer.weakest.part) == ("contact_drop", part)


def test_what_may_be_frozen_leads_in_whatever_case(run):
    frost = {"name": "frost", "ambient_c": -15, "open_circuit_v": 11.9}
    hot = {"name": "hot", "ambient_c": 120, "open_circuit_v": 11.9}
    answer = ask(run, frost, hot, ampere_turns=4200)
    assert answer.worst_case == "hot"
    assert "Do not charge it" in answer.headline


def without_hold(run, *branches, **changed):
    starter = {**STARTER, **changed}
    body = copy.deepcopy(StartSequenceRequest.example)
    body["starter"] = {**body["starter"], **starter, "control_node": "terminal 50"}
    body["starter"] |= {"stud_node": "starter stud", "ground_node": "engine block"}
    del body["starter"]["hold_ampere_turns"]
    body["circuit"]["branches"] += branches
    return run("start-sequence", **body)


def test_letting_go_is_not_promised_where_nobody_knows(run):
    answer = without_hold(run)
    assert (answer.outcome, answer.lets_go) == ("starts", None)
    assert "lets go" not in answer.headline
    for ohm in (0.05, 0.3, 1.0):
        feed = contact("chafed", "starter stud", "terminal 50", ohm, part="terminal")
        answer = without_hold(run, feed)
        assert (answer.outcome, answer.lets_go) == ("runs_on", False)
        assert answer.weakest.code == "release_force"  # and not the chafe, to be tightened
        assert "chafed: with the key let go" in answer.headline
        assert "cut the battery off" in answer.headline
    # What makes more than the 900 A that move the open plunger keeps the closed one.
    strong = without_hold(run, feed | {"resistance_ohm": 0.05}, ampere_turns=900)
    assert (strong.outcome, strong.lets_go) == ("runs_on", False)


def test_what_draws_through_the_pull_in_winding_is_told_from_a_feed(run):
    """An ignition coil of 1.5 ohm on terminal 50 takes current the wrong way through it."""
    coil = resistance("ballast feed", "50", "coil", 0.01)
    load = {"name": "coil", "kind": "resistance", "nodes": ["coil", "ground"]}
    answer = ask(run, branches=[coil], loads=[{**load, "resistance_ohm": 1.5}])
    (check,) = [c for c in answer.checks if c.code == "release_force"]
    assert check.detail == "drawn"
    assert answer.outcome == "runs_on"
    assert "draws through the pull-in winding" in answer.headline


def test_a_motor_with_a_tenth_of_its_current_does_not_crank(run):
    """12.6 V behind 0.03 ohm in all, 5 V of its own: 253 A; through 0.5 ohm more 14 A."""
    burnt = ask(run, contact_resistance_ohm=0.5, needed_v=5.1)
    (check,) = [c for c in burnt.checks if c.code == "motor_current"]
    assert (burnt.outcome, check.verdict) == ("slow", "fail")
    assert_allclose(check.limit, 0.5 * 7.6 / 0.03, rtol=1e-9)
    assert "main contact" in burnt.headline  # what resists leads
    assert "current of the motor" in burnt.headline
    (check,) = [c for c in ask(run).checks if c.code == "motor_current"]
    assert check.verdict == "pass"


def test_little_to_spare_is_named(run):
    answer = ask(run, needed_v=9.3)
    assert (answer.verdict, answer.outcome) in {("marginal", "starts"), ("unknown", "starts")}
    assert "Nearest to its limit in start, " in answer.headline


def test_a_feed_is_a_fault_whatever_the_plunger_is_said_to_need(run):
    """404 A of 480 are no margin that a plunger's maker would swear to."""
    feed = contact("chafed", "post", "50", 1.0, part="terminal")
    answer = ask(run, branches=[feed], hold_ampere_turns=480)
    assert answer.outcome == "runs_on"
    assert "chafed: with the key let go" in answer.headline


@pytest.mark.parametrize("ohm", [4, 60, 1000])
@pytest.mark.parametrize("source", [{}, {"plus": "ground", "minus": "post"}])
def test_what_hangs_between_terminal_50_and_ground_turns_no_winding(run, ohm, source):
    """By hand, key let go: p on the stud, c at 50; (p - c)/0.5 = c/1.5 + c/R, pull-in backwards."""
    pilot = resistance("pilot", "50", "ground", ohm)
    off = stages(ask(run, branches=[pilot], source=source))["key_off"]
    motor_v, share = off.motor_v, (1 / 0.5) / (1 / 0.5 + 1 / 1.5 + 1 / ohm)
    assert_allclose(off.control_v, motor_v * share, rtol=1e-9)
    assert_allclose(off.pull_in_current_a, -(motor_v - off.control_v) / 0.5, rtol=1e-9)
    assert off.hold_in_current_a > 0


def test_a_runaway_is_told_however_slowly_it_cranks(run):
    feed = contact("chafed", "post", "50", 0.3, part="terminal")
    answer = ask(run, branches=[feed], needed_v=11)
    assert (answer.outcome, answer.cases[0].fails_in) == ("runs_on", "key_off")
    assert "cut the battery off" in answer.headline


def test_what_feeds_a_little_is_told_too(run):
    feed = contact("chafed", "post", "50", 20, part="terminal")
    answer = ask(run, branches=[feed])
    assert (answer.outcome, answer.lets_go) == ("starts", None)
    assert "lets go" not in answer.headline
    (check,) = [c for c in answer.checks if c.code == "release_force"]
    assert check.verdict == "marginal"
    assert "something still feeds terminal 50" in answer.headline
    assert "contact_drop" not in {c.code for c in answer.checks if c.part == "chafed"}


def test_both_a_runaway_and_what_bursts_stand_in_the_first_line(run):
    feed = contact("chafed", "post", "50", 0.3, part="terminal")
    frost = {"name": "frost", "ambient_c": -20, "open_circuit_v": 11.8}
    answer = ask(run, frost, branches=[feed])
    assert "may run on" in answer.headline
    assert "Do not charge it" in answer.headline


def test_what_hurts_elsewhere_is_not_told_as_the_cause(run):
    """It hums for its worn key, whatever a heater's fuse would let through."""
    heater = [
        contact("heater fuse", "post", "h", 0.002, part="fuse", rating_a=80),
        {"name": "heater wire", "kind": "wire", "nodes": ["h", "heater"], "size": "18 AWG",
         "length_m": 2, "insulation": "GXL"},
    ]  # fmt: skip
    load = {"name": "heater", "kind": "resistance", "nodes": ["heater", "ground"]}
    answer = ask(
        run, key_ohm=0.6, key_contact_ohm=0.55, branches=heater,
        loads=[{**load, "resistance_ohm": 3}],
    )  # fmt: skip
    assert answer.outcome == "hums"
    assert (answer.weakest.code, answer.weakest.part) == ("contact_drop", "key")
    assert "wire protected by its fuse" in answer.headline


@pytest.mark.parametrize(("charger_v", "charged_v"), [(None, 14.2), (14.6, 14.6)])
def test_it_is_let_go_while_the_engine_charges(run, charger_v, charged_v):
    """A feed of 1.9 ohm on 50: 220 A in all turns as it cranks at 10 V, 310 as the engine charges.

    By hand: (p - c)/0.5 + (p - c)/1.9 = c/1.5, so c = 0.7912 p, with p on the posts behind 0.01 ohm
    or so; 300 A keep the plunger, whoever says 500.
    """
    feed = contact("chafed", "post", "50", 1.9, part="terminal")
    sources = []
    if charger_v:
        sources = [
            {
                "name": "alternator", "kind": "charger", "nodes": ["post", "ground"],
                "regulated_v": charger_v, "internal_resistance_ohm": 0.01, "limit_a": 60,
            }
        ]  # fmt: skip
    answer = ask(run, branches=[feed], sources=sources)
    share = (2 + 1 / 1.9) / (2 + 1 / 1.9 + 1 / 1.5)
    p = charged_v / (1 + 0.01 * share / 1.5)
    off = {stage.name: stage for stage in answer.cases[0].stages}["key_off"]
    assert_allclose(off.supply_v, p, rtol=5e-3)
    assert off.motor_current_a == 0  # the engine turns it
    assert_allclose(off.ampere_turns, 200 * (1 - share) * p / 1.9, rtol=5e-3)
    assert answer.outcome == "runs_on"
    (told,) = [c for c in answer.checks if c.code == "at_terminal_50"]
    assert (told.part, told.verdict) == ("chafed", "fail")
    assert_allclose(told.value, (1 - share) * p / 1.9, rtol=5e-3)


def test_what_draws_at_terminal_50_is_named(run):
    """A ballast coil's bypass straight on 50: the pull-in winding feeds the coil through it."""
    bypass = resistance("bypass", "50", "coil", 0.01)
    coil = {"name": "coil", "kind": "resistance", "nodes": ["coil", "ground"]}
    answer = ask(run, branches=[bypass], loads=[{**coil, "resistance_ohm": 1.5}])
    (told,) = [c for c in answer.checks if c.code == "at_terminal_50"]
    assert (told.part, told.detail) == ("bypass", "drawn")


def test_a_lead_over_the_key_that_holds_the_start_relay_is_named(run):
    """600 ohm leave 14.2 x 90/690 = 1.85 V at a coil that opens below 1.5 V."""
    lead = resistance("alarm lead", "key in", "key out", 600)
    answer = ask(run, branches=[lead], relays=[RELAY])
    assert answer.outcome == "runs_on"
    found = {c.code: c for c in answer.checks if c.verdict == "fail"}
    assert found["kept_closed"].detail == "alarm lead"
    assert found["at_terminal_50"].part == "start relay"


def test_a_relay_too_weak_to_close_runs_on_once_that_is_mended(run):
    """A key of 150 ohm: 4.7 V at the coil. A lead of 600 over it is no less a runaway for that."""
    lead = resistance("alarm lead", "key in", "key out", 600)
    answer = ask(run, key_contact_ohm=150, key_ohm=150.1, branches=[lead], relays=[RELAY])
    assert answer.outcome == "silent"
    assert answer.hazard is not None
    assert answer.hazard.code == "release_force"
