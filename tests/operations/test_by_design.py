"""A ballast or a speed resistor takes what it is there to take: that is not lost on the way.

By practice the ballast of an ignition coil and the coil have 1.5 ohm each, and the coil works on
some 7 V; whoever bridges the ballast burns coil and points.
"""

import pytest

from . import retrofit_circuits as retrofit
from .circuit_parts import SOURCE, contact, load, resistance, wire
from .retrofit_circuits import asked, lamps

COIL = {**load("coil", "coil", "ground", resistance_ohm=1.5), "needed_v": 5}
COIL = {**COIL, "circuit": "continuous"}
BLOWER = {
    "name": "blower", "kind": "motor", "nodes": ["coil", "ground"], "resistance_ohm": 0.5,
    "back_v": 4, "needed_v": 4, "circuit": "continuous",
}  # fmt: skip


def checked(run, ohm, *, switch_ohm=0.005, to_it=COIL, length_m=2):
    branches = [
        contact("fuse", "post", "fused", 0.005, part="fuse", rating_a=15),
        wire("feed", "fused", "in", "14 AWG", length_m, insulation="GXL"),
        contact("switch", "in", "out", switch_ohm, part="switch"),
        resistance("resistor", "out", "coil", ohm),
    ]
    source = {**SOURCE, "open_circuit_v": 13.8}
    circuit = {"source": source, "branches": branches, "loads": [to_it]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)
    (path,) = [c for c in answer.checks if c.code == "path_drop"]
    return answer, path


def test_a_ballast_loses_nothing(run):
    """By hand: 4.6 A over 31 milliohm of battery-free path, 0.12 V; the ballast has 6.8 V."""
    _, path = checked(run, 1.5)
    assert path.verdict == "pass"
    assert path.value == pytest.approx(4.6 * (0.005 + 0.0165 + 0.005), abs=0.02)


def test_a_worn_switch_before_a_ballast_leads(run):
    """By hand: 13.8 V over 3.33 ohm are 4.1 A, 1.2 V over the switch."""
    answer, path = checked(run, 1.5, switch_ohm=0.3)
    assert answer.weakest.part == "switch"
    assert answer.weakest.value == pytest.approx(1.24, abs=0.05)
    assert "resistor" not in answer.headline
    assert path.verdict == "fail"


def test_whether_a_speed_resistor_is_there_by_design_is_asked(run):
    """0.6 ohm may be a harness as well: 5 V over it."""
    answer, path = checked(run, 0.6, to_it=BLOWER)
    assert path.verdict == "undecided"
    assert "resistor" in path.message
    assert "by design" in answer.headline
    answer, path = checked(run, 0.6, to_it=BLOWER, switch_ohm=0.1)
    assert (answer.weakest.part, path.detail) == ("switch", "switch")


@pytest.mark.parametrize(("ohm", "needed_v"), [(8, 5), (0.6, 10.8)])
def test_a_resistance_that_starves_its_load_is_named(run, ohm, needed_v):
    """By hand: 8 ohm before 1.5 leave 2.2 V of 13.8; 0.6 ohm, a corroded joint, leave 9.7."""
    answer, _ = checked(run, ohm, to_it={**COIL, "needed_v": needed_v})
    assert (answer.weakest.code, answer.weakest.detail) == ("load_voltage", "resistor")
    assert "Most is lost in resistor" in answer.headline
    assert "by design" in answer.headline


def test_what_starves_a_load_beside_a_resistance_is_no_matter_of_that(run):
    """3 ohm of switch take more than half an ohm of resistor does."""
    answer, _ = checked(run, 0.5, switch_ohm=3, to_it={**COIL, "needed_v": 10.8})
    (voltage,) = [check for check in answer.checks if check.code == "load_voltage"]
    assert (answer.weakest.part, voltage.detail) == ("switch", None)


def test_a_thin_wire_that_starves_its_load_is_no_resistance(run):
    answer, _ = checked(run, 0.01, length_m=100)
    assert next(c for c in answer.checks if c.code == "load_voltage").detail is None


@pytest.mark.parametrize("at", ["ahead", "return"])
def test_a_resistance_that_no_way_cures_is_found_out_first(run, at):
    """In the ground, 0.3 ohm of 1.31 take 2.3 of 12.6 V from the relay's load, too."""
    dropper = {"name": "dropper", "kind": "resistance", "resistance_ohm": 0.3}
    load_ = lamps()
    behind = [load_, dropper] if at == "return" else [dropper, load_]
    body = asked(
        retrofit.contact("fuse", "fuse", 0.003, rating_a=15),
        retrofit.wire("feed", "12 AWG", 2),
        retrofit.contact("switch", "switch", 0.004, rating_a=20),
        *behind,
        load=load_,
    )
    proposal = body.pop("proposal")
    for answer in (
        run("remedy-choice", **body),
        *([run("relay-retrofit", **body, proposal=proposal)] if at == "return" else ()),
    ):
        assert answer.advice == "find_out_first"
        assert "dropper" in answer.headline
        assert "by design" in answer.headline


def test_a_resistance_that_is_left_once_all_else_is_mended_is_named(run):
    """A switch of as much hides it as it is; with a sound one it takes 2.3 of 12.6 V."""
    load_ = lamps()
    body = asked(
        retrofit.wire("feed", "12 AWG", 2),
        retrofit.contact("switch", "switch", 0.3, rating_a=20),
        {"name": "dropper", "kind": "resistance", "resistance_ohm": 0.3},
        load_,
        load=load_,
    )
    body.pop("proposal")
    answer = run("remedy-choice", **body)
    assert answer.advice == "none_suffices"
    assert answer.nearest.parts == ("switch",)
    assert "Most is lost in dropper" in answer.headline


def test_a_path_that_loses_too_much_beside_a_ballast_fails(run):
    """By hand: 4.6 A over 25 m of 14 AWG, 0.2 ohm: 0.9 V."""
    _, path = checked(run, 1.5, length_m=25)
    assert (path.verdict, path.detail) == ("fail", "feed")


def test_what_a_measured_lead_takes_is_lost(run):
    """A hundredth of an ohm takes 0.09 V of the 0.5 V allowed: no cable is a ballast by that."""
    _, path = checked(run, 0.01)
    assert path.verdict in {"pass", "marginal"}
    assert path.value == pytest.approx(9 * (0.0265 + 0.01), abs=0.04)


@pytest.mark.parametrize("needed_v", [6, 9])
def test_nobody_puts_a_resistor_before_a_starters_motor(run, needed_v):
    """The gearbox mount stands in for a lost strap: 7.6 V over 44 milliohm, 3.5 V of it there."""
    mount = resistance("gearbox mount", "block", "ground", 0.02)
    motor = {
        "name": "starter", "kind": "motor", "nodes": ["post", "block"], "resistance_ohm": 0.02,
        "back_v": 5, "needed_v": needed_v, "circuit": "starter_motor",
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [mount], "loads": [motor]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "crank", "duration_s": 5}])
    (path,) = [c for c in answer.checks if c.code == "path_drop"]
    assert (path.verdict, path.detail) == ("fail", "gearbox mount")
    assert path.value == pytest.approx(7.6 / 0.044 * 0.02, abs=0.02)
    assert "gearbox mount" in answer.headline
    assert "by design" not in answer.headline


def test_a_drop_before_a_starters_motor_counts_a_resistance_as_a_cable(run):
    """By hand: 200 A over 20 milliohm are 4 V, and the switch beside it has a limit of its own."""
    mount = {"name": "mount", "kind": "resistance", "resistance_ohm": 0.02}
    switch = {"name": "switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.0003}
    found = run(
        "voltage-drop",
        supply_v=10.5, load_current_a=200, circuit="starter_motor", duration_s=5,
        segments=[mount, switch],
    )  # fmt: skip
    (path,) = [c for c in found.checks if c.code == "path_drop"]
    assert path.verdict == "fail"
    assert path.value == pytest.approx(4.0)
    assert "mount" in path.message


@pytest.mark.parametrize(("needed_v", "said"), [(7, "The most in strap"), (None, "needed_v")])
def test_what_loses_most_is_named_where_what_the_motor_needs_decides(run, needed_v, said):
    """253 A over 2.1 milliohm of 1 m of 8 AWG are 0.53 V; cables may lose 0.5 V."""
    strap = wire("strap", "block", "ground", "8 AWG", 1)
    motor = {
        "name": "starter", "kind": "motor", "nodes": ["post", "block"], "resistance_ohm": 0.02,
        "back_v": 6, "circuit": "starter_motor", **({"needed_v": needed_v} if needed_v else {}),
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [strap], "loads": [motor]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "crank", "duration_s": 5}])
    (path,) = [c for c in answer.checks if c.code == "path_drop"]
    assert path.verdict == "marginal"
    assert said in path.message
