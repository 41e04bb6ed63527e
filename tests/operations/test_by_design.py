"""A ballast or a speed resistor takes what it is there to take: that is not lost on the way.

By practice the ballast of an ignition coil and the coil have 1.5 ohm each, and the coil works on
some 7 V; whoever bridges the ballast burns coil and points.
"""

import pytest

from .circuit_parts import SOURCE, contact, load, resistance, wire

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


def test_a_path_that_loses_too_much_beside_a_ballast_fails(run):
    """By hand: 4.6 A over 25 m of 14 AWG, 0.2 ohm: 0.9 V."""
    _, path = checked(run, 1.5, length_m=25)
    assert (path.verdict, path.detail) == ("fail", "feed")


def test_what_a_measured_lead_takes_is_lost(run):
    """A hundredth of an ohm takes 0.09 V of the 0.5 V allowed: no cable is a ballast by that."""
    _, path = checked(run, 0.01)
    assert path.verdict in {"pass", "marginal"}
    assert path.value == pytest.approx(9 * (0.0265 + 0.01), abs=0.04)
