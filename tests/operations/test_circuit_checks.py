"""Checks of the parts of a circuit: fuses, contacts, the whole path, and what is weakest."""

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.tables.fuses import ambient_factor, band

from .circuit_parts import SOURCE, ask, checks, contact, load, resistance, wire

PROTECTION = "fuse_protection"
FUSED = [
    contact("fuse", "post", "a", 0.002, "fuse", rating_a=20),
    wire("thin", "a", "b", "18 AWG", 2, insulation="GXL"),
    wire("stout", "b", "c", "10 AWG", 2, insulation="GXL"),
]


def test_a_fuse_protects_what_lies_in_series_with_it_only(run):
    branches = [*FUSED, wire("beside", "post", "d", "18 AWG", 2, insulation="GXL")]
    loads = [
        load("lamp", "c", "ground", resistance_ohm=4),
        load("other", "d", "ground", resistance_ohm=4),
    ]
    (state,) = ask(run, branches, loads)
    found = {name: check for name, check in checks(state).items() if name[0] == PROTECTION}
    assert set(found) == {(PROTECTION, "thin"), (PROTECTION, "stout")}
    assert {check.detail for check in found.values()} == {"fuse"}
    # The case is at 20 degC, where a fuse holds a trace more than at 25.
    opens_a = 20 * band("blade C").opening_multiple * ambient_factor(20.0)
    assert_allclose([check.value for check in found.values()], opens_a)
    assert (PROTECTION, "beside") not in checks(state)


BLADE = {**FUSED[0], "fuse_family": "blade C"}


def protected(run, fuse, *wires, lamp_ohm=4):
    last = wires[-1]["nodes"][1]
    (state,) = ask(run, [fuse, *wires], [load("lamp", last, "ground", resistance_ohm=lamp_ohm)])
    return checks(state)


@pytest.mark.parametrize(("family", "verdict"), [("blade C", "pass"), ("blade E", "fail")])
def test_protection_is_that_of_fuse_selection(run, family, verdict):
    """A slow fuse lets a thin wire burn; one of unknown family may be such a one."""
    size, asked = "1.5 mm2", {"insulation": "TXL"}
    fuse = {**FUSED[0], "fuse_family": family}
    found = protected(run, fuse, wire("thin", "a", "b", size, 2, **asked))
    assert found["fuse_overload", "thin"].verdict == verdict
    free = {name: value for name, value in fuse.items() if name != "fuse_family"}
    unsaid = protected(run, free, wire("thin", "a", "b", size, 2, **asked))["fuse_overload", "thin"]
    assert unsaid.verdict == "undecided"
    assert "fuse_family" in unsaid.message
    alone = run(
        "fuse-selection", **asked, size=size, ambient_c=20, load_current_a=14.5,
        load_profile="steady", fuse_family=family,
    )  # fmt: skip
    check = next(each for each in alone.checks if each.code == "fuse_overload")
    assert check.verdict == verdict


def test_times_that_nobody_knows_are_not_passed_in_silence(run):
    stout = wire("stout", "a", "b", "2 AWG", 2, insulation="SGX")
    strip = {**FUSED[0], "rating_a": 60, "fuse_family": "bolt-in SF30"}
    assert protected(run, strip, stout)[PROTECTION, "stout"].verdict == "unknown"
    small = {**BLADE, "rating_a": 2}
    assert protected(run, small, stout, lamp_ohm=40)[PROTECTION, "stout"].verdict == "unknown"


def test_a_wire_without_insulation_is_not_passed_in_silence(run):
    bare = wire("bare", "a", "b", "10 AWG", 2)
    found = protected(run, BLADE, bare)[PROTECTION, "bare"]
    assert found.verdict == "unknown"
    assert "insulation" in found.message


def test_a_fuse_answers_for_all_branches_behind_it(run):
    """A fault in the thinnest of them gets all that the fuse lets through."""
    branches = [*FUSED, wire("branch", "b", "d", "18 AWG", 2, insulation="GXL")]
    loads = [
        load("lamp", "c", "ground", resistance_ohm=4),
        load("other", "d", "ground", resistance_ohm=4),
    ]
    (state,) = ask(run, branches, loads)
    found = {name[1] for name in checks(state) if name[0] == PROTECTION}
    assert found == {"thin", "stout", "branch"}
    assert checks(state)[PROTECTION, "branch"].verdict == "fail"
    # A fuse of its own, and the wires behind that are no longer the first one's.
    own = [
        contact("own fuse", "b", "e", 0.002, "fuse", rating_a=10),
        wire("branch", "e", "d", "18 AWG", 2, insulation="GXL"),
    ]
    (state,) = ask(run, [*FUSED, *own], loads)
    assert {
        name[1]: check.detail for name, check in checks(state).items() if name[0] == PROTECTION
    } == {"thin": "fuse", "stout": "fuse", "branch": "own fuse"}
    assert checks(state)[PROTECTION, "branch"].verdict == "pass"


@pytest.mark.parametrize(("more_ohm", "verdict"), [(0.0, "pass"), (0.28, "marginal")])
def test_a_fault_at_a_load_opens_the_fuse(run, more_ohm, verdict):
    """By hand: battery, fuse, and the wires at the 125 degC of their insulation."""
    far = {"kind": "resistance", "name": "far", "nodes": ["c", "d"], "resistance_ohm": more_ohm}
    lamp = load("lamp", "d", "ground", resistance_ohm=4)
    blade = {**FUSED[0], "fuse_family": "blade C"}
    (state,) = ask(run, [blade, *FUSED[1:], far], [lamp])
    found = checks(state)["far_short", "fuse"]
    wires_ohm = sum(
        run("wire-resistance", size=size, length_m=2, temperature_c=125).resistance_ohm
        for size in ("18 AWG", "10 AWG")
    )
    loop_ohm = SOURCE["internal_resistance_ohm"] + 0.002 + wires_ohm + more_ohm
    assert_allclose(found.value, SOURCE["open_circuit_v"] / loop_ohm, rtol=1e-9)
    assert (found.verdict, found.detail) == (verdict, "lamp")


@pytest.mark.parametrize(
    ("more_ohm", "rating_a", "told"), [(0.5, 20, False), (0.5, 40, False), (0.35, 40, True)]
)
def test_a_fault_that_every_wire_bears_need_open_no_fuse(run, more_ohm, rating_a, told):
    """Some 22 A and 31 A at most; 18 AWG of 125 degC bears some 23."""
    far = {"kind": "resistance", "name": "far", "nodes": ["c", "d"], "resistance_ohm": more_ohm}
    lamp = load("lamp", "d", "ground", resistance_ohm=4)
    blade = {**FUSED[0], "fuse_family": "blade C", "rating_a": rating_a}
    (state,) = ask(run, [blade, *FUSED[1:], far], [lamp])
    found = checks(state).get(("far_short", "fuse"))
    assert (found is not None and found.verdict == "fail") == told


def test_what_a_dropper_leads_to_gets_no_more_by_design(run):
    """A blower's slow speed: 12.6 V over 1.2 ohm are 10 A, at which 10 A need not open."""
    dropper = {"kind": "resistance", "name": "dropper", "nodes": ["in", "b"], "resistance_ohm": 1.2}
    fuse = contact("fuse", "post", "in", 0.002, "fuse", rating_a=10, fuse_family="blade C")
    blower = load("blower", "b", "ground", resistance_ohm=2)
    (state,) = ask(run, [fuse, dropper], [blower])
    assert ("far_short", "fuse") not in checks(state)
    # The fast speed is fed past it, over ohms that are none by design.
    (state,) = ask(run, [fuse, dropper, contact("fast", "in", "b", 1.0)], [blower])
    assert checks(state)["far_short", "fuse"].verdict == "fail"


def test_a_fuse_with_a_way_past_it_answers_for_nothing_behind(run):
    past = wire("past", "post", "b", "18 AWG", 2, insulation="GXL")
    loads = [load("lamp", "c", "ground", resistance_ohm=4)]
    (state,) = ask(run, [*FUSED, past], loads)
    assert {name[1] for name in checks(state) if name[0] == PROTECTION} == {"thin"}


def test_a_fuse_without_a_rating_is_not_passed_in_silence(run):
    nameless = {name: value for name, value in FUSED[0].items() if name != "rating_a"}
    loads = [load("lamp", "c", "ground", resistance_ohm=4)]
    (state,) = ask(run, [nameless, *FUSED[1:]], loads)
    assert checks(state)["fuse_rating", "fuse"].verdict == "unknown"
    assert "rating_a" in checks(state)["fuse_rating", "fuse"].message


def test_a_wire_thinner_than_its_fuse_fails(run):
    fuse = {**FUSED[0], "rating_a": 60}
    (state,) = ask(run, [fuse, *FUSED[1:]], [load("lamp", "c", "ground", resistance_ohm=4)])
    assert checks(state)[PROTECTION, "thin"].verdict == "fail"
    alone = run("wire-heating", size="18 AWG", current_a=1, ambient_c=20, insulation="GXL")
    assert checks(state)[PROTECTION, "thin"].limit == alone.permissible_current_a


@pytest.mark.parametrize(
    ("amps", "seconds", "verdict"),
    [
        (10, None, "pass"),
        (14.9, None, "marginal"),
        (15.1, None, "marginal"),  # more than practice allows, and no more than its rating
        (20.1, None, "fail"),
        (19, 10, "pass"),
        (30, 10, "fail"),
    ],
)
def test_fuse_carries_three_quarters_for_ever_and_its_rating_for_a_while(
    run, amps, seconds, verdict
):
    # A fuse maker's application note: at 25 degC no more than 75 % of the rating for ever. A whole
    # rating is borne for ten seconds by any fuse; one and a half of it is not.
    case = {"name": "case", "ambient_c": 25}
    if seconds is not None:
        case["duration_s"] = seconds
    (state,) = ask(run, FUSED, [load("lamp", "c", "ground", current_a=amps)], case)
    assert checks(state)["fuse_load", "fuse"].verdict == verdict


def test_contact_rating_and_drop(run):
    branches = [contact("switch", "post", "a", 0.05, "switch", rating_a=15)]
    (state,) = ask(run, branches, [load("lamp", "a", "ground", current_a=16)])
    rating = checks(state)["contact_current", "switch"]
    assert (rating.verdict, rating.value, rating.limit) == ("fail", 16, 15)
    # 16 A through 0.05 ohm is 0.8 V; the limit is the one that voltage-drop has for a switch.
    switch = {"kind": "contact", "name": "switch", "part": "switch", "resistance_ohm": 0.05}
    path = run("voltage-drop", supply_v=12.5, segments=[switch], load_current_a=16)
    (alone,) = [check for check in path.checks if check.code == "contact_drop"]
    drop = checks(state)["contact_drop", "switch"]
    assert drop.basis == alone.basis
    assert (drop.verdict, drop.limit) == ("fail", alone.limit)
    assert_allclose(drop.value, 0.8, rtol=1e-9)


def test_drop_of_the_whole_path_is_held_against_practice(run):
    lamp = {**load("lamp", "a", "b", current_a=10), "circuit": "continuous"}
    branches = [
        resistance("out", "post", "a", 0.02),
        resistance("back", "b", "ground", 0.04),
    ]
    (state,) = ask(run, branches, [lamp])
    check = checks(state)["path_drop", "lamp"]
    assert_allclose(check.value, 0.6, rtol=1e-9)
    (path,) = [
        check
        for check in run(
            "voltage-drop",
            supply_v=12.56,
            segments=[{"kind": "resistance", "name": "all", "resistance_ohm": 0.06}],
            load_current_a=10,
            circuit="continuous",
        ).checks
        if check.code == "path_drop"
    ]
    assert check.limit == path.limit
    assert check.basis == path.basis
    (six,) = ask(run, branches, [lamp], nominal_v=24)
    assert checks(six)["path_drop", "lamp"].limit > check.limit


def test_worst_case_and_weakest_part(run):
    branches = [
        contact("switch", "post", "a", 0.05, "switch", rating_a=15),
        contact("plug", "a", "b", 0.01),
    ]
    lamp = {**load("lamp", "b", "ground", resistance_ohm=3.6), "needed_v": 10.5}
    answer = run(
        "circuit-check",
        circuit={"source": SOURCE, "branches": branches, "loads": [lamp]},
        cases=[{"name": "new"}, {"name": "old", "ageing_factor": 8}],
    )
    assert answer.worst_case == "old"
    assert answer.weakest.case == "old"
    assert answer.weakest.verdict == "fail"
    ratios = [
        check.margin / check.limit
        for state in answer.cases
        for check in state.checks
        if check.margin is not None
    ]
    assert answer.weakest.margin / answer.weakest.limit == min(ratios)
    # The answer lists what decides and what is not passed, each with its case.
    told = {(check.case, check.code, check.part) for check in answer.checks}
    assert {("new", "load_voltage", "lamp"), ("old", "load_voltage", "lamp")} <= told
    assert {case for case, _, _ in told} == {"new", "old"}


def test_nothing_to_judge_is_said(run):
    answer = run(
        "circuit-check",
        circuit={
            "source": SOURCE,
            "branches": [],
            "loads": [load("lamp", "post", "ground", resistance_ohm=5)],
        },
        cases=[{"name": "only"}],
    )
    assert answer.weakest is None
    assert answer.cases[0].verdict == "unknown"
    assert {check.verdict for check in answer.checks} == {"unknown"}
    assert answer.headline == "Nothing could be judged. Not judged: voltage at the load (lamp)."


def test_cases_with_nothing_to_mend_are_counted(run):
    """By hand: 2 ohm behind 0.054 ohm get 14.61, 13.63 and 12.85 V of the 13.4 V that they need.

    A margin of less than a tenth of that, and of half of what the source has to spare, is small.
    """
    lamp = {**load("lamp", "in", "ground", resistance_ohm=2), "needed_v": 13.4}
    supplies = {"high": 15.0, "usual": 14.0, "idling": 13.2}
    source = {**SOURCE, "internal_resistance_ohm": 0.05}
    plug = contact("plug", "post", "in", 0.004)
    answer = run(
        "circuit-check",
        circuit={"source": source, "branches": [plug], "loads": [lamp]},
        cases=[{"name": name, "open_circuit_v": volts} for name, volts in supplies.items()],
    )
    assert [case.verdict for case in answer.cases] == ["pass", "marginal", "fail"]
    assert answer.sound_cases == 1
    assert answer.worst_case == "idling"


def test_what_a_load_needs_is_the_callers_word_or_follows_from_its_winding(run):
    lamp = {**load("lamp", "post", "ground", resistance_ohm=2), "needed_v": 10}
    solenoid = {
        "name": "solenoid",
        "kind": "solenoid",
        "nodes": ["post", "ground"],
        "rated": {"pull_in_v": 8, "resistance_ohm": 1.2},
    }
    made = {"source": SOURCE, "branches": [], "loads": [lamp, solenoid]}
    (state,) = run("circuit-check", circuit=made, cases=[{"name": "only"}]).cases
    basis = {check.part: check.basis for check in state.checks if check.code == "load_voltage"}
    assert basis["lamp"] == "given by the caller"
    assert "resistance" in basis["solenoid"]


def test_a_fault_behind_a_ballast_burdens_nothing(run):
    """Behind 1.5 ohm no fault takes more than 8.4 A: a fuse of 20 A is there to carry that."""
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=20, fuse_family="blade C")
    ballast = resistance("ballast", "in", "coil", 1.5)
    (state,) = ask(run, [fuse, ballast], [load("coil", "coil", "ground", resistance_ohm=1.5)])
    assert ("far_short", "fuse") not in checks(state)
