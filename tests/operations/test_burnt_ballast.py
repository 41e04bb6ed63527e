"""A ballast that has burnt out feeds its coil in no case but the start: that is no design.

By hand: behind 60 ohm a coil of 1.5 ohm gets 0.3 of 12.6 V, behind 10 ohm 1.6 V. From the trade:
the engine fires while it is cranked, and dies as the key goes back.
"""

import pytest

from .circuit_parts import contact, load, resistance, wire
from .test_off_by_design import lamp

RUNNING = {"name": "running", "without": ["key start", "start bypass"]}
CRANKING = {"name": "cranking"}
COIL = {**load("coil", "c", "ground", resistance_ohm=1.5), "circuit": "continuous"}


def switch(name, *ends):
    return contact(name, *ends, 0.002, part="switch", rating_a=60)


def ask(run, *branches, loads=(COIL,), cases=(RUNNING, CRANKING), volts=12.6, **source):
    sound = [
        contact("fuse", "post", "30", 0.001, part="fuse", rating_a=60),
        switch("key run", "30", "15"),
        switch("key start", "30", "15a"),
        wire("start wire", "15a", "50", "6 AWG", 2, insulation="GXL"),
        wire("bypass wire", "15a", "bp", "6 AWG", 2, insulation="GXL"),
        switch("start bypass", "bp", "c"),
    ]
    solenoid = {
        "name": "solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
        "circuit": "starter_control", "rated": {"pull_in_v": 0.5 * volts, "resistance_ohm": 1},
    }  # fmt: skip
    source = {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.005, **source}
    warning = load("warning", "15", "ground", resistance_ohm=48) | {"circuit": "continuous"}
    circuit = {
        "source": source, "branches": [*sound, *branches], "loads": [*loads, warning, solenoid],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=list(cases))


def told(answer):
    return {(c.case, c.part, c.detail): c for c in answer.checks if c.code == "resistor_open"}


@pytest.mark.parametrize("needed_v", [5, None])
@pytest.mark.parametrize("ohm", [60, 200, 1000, 1e6])
def test_one_that_is_open_is_named_first(run, ohm, needed_v):
    coil = {**COIL, **({"needed_v": needed_v} if needed_v else {})}
    answer = ask(run, resistance("ballast", "15", "c", ohm), loads=[coil])
    (check,) = told(answer).values()
    assert (check.case, check.part, check.detail) == ("running", "ballast", "coil")
    assert check.verdict == "undecided"
    assert check.value == pytest.approx(12.6 * 1.5 / (ohm + 1.5), rel=0.02)
    assert answer.weakest == check
    assert "burnt out" in answer.headline


@pytest.mark.parametrize("ohm", [12, 30, 60])
@pytest.mark.parametrize("volts", [6.3, 12.6, 25.2])
def test_tens_of_ohms_without_a_need_are_named_too(run, ohm, volts):
    answer = ask(run, resistance("ballast", "15", "c", ohm), volts=volts)
    assert told(answer).keys() == {("running", "ballast", "coil")}


@pytest.mark.parametrize("ohm", [10, 30])
def test_where_a_need_is_given_the_load_says_it(run, ohm):
    coil = {**COIL, "needed_v": 5}
    answer = ask(run, resistance("ballast", "15", "c", ohm), loads=[coil])
    assert (answer.weakest.code, answer.weakest.detail) == ("load_voltage", "ballast")


@pytest.mark.parametrize("needed_v", [5, None])
@pytest.mark.parametrize("ohm", [1.2, 1.5, 2])
def test_a_sound_one_is_no_matter(run, ohm, needed_v):
    coil = {**COIL, **({"needed_v": needed_v} if needed_v else {})}
    answer = ask(run, resistance("ballast", "15", "c", ohm), loads=[coil])
    assert not told(answer)
    assert answer.verdict not in {"fail", "undecided"}


@pytest.mark.parametrize("ohm", [60, 200, 1000])
def test_the_lamp_of_a_lit_switch_is_no_ballast(run, ohm):
    """It lies across the one switch that is open: what that feeds is off, and rightly so."""
    pump = load("pump", "p", "ground", resistance_ohm=3) | {"circuit": "continuous"}
    answer = ask(
        run, switch("pump switch", "15", "p"), resistance("lit", "15", "p", ohm),
        resistance("ballast", "15", "c", 1.5), loads=[COIL, pump],
        cases=[{"name": "off", "without": [*RUNNING["without"], "pump switch"]}],
    )  # fmt: skip
    assert not told(answer)
    off = {c.part for c in answer.checks if c.code == "load_off"}
    assert "pump" not in {c.part for c in answer.checks if c.verdict in {"fail", "undecided"}}
    assert off <= {"pump", "solenoid"}


def test_a_starter_behind_a_leak_is_not_to_be_fed(run):
    answer = ask(run, resistance("leak", "15", "50", 60), resistance("ballast", "15", "c", 1.5))
    assert not told(answer)


def test_a_lamp_behind_a_tell_tale_stays_dark_by_design(run):
    right = lamp("right lamp", "r", "ground", 21)
    answer = ask(
        run, switch("right", "30", "r"), resistance("tell-tale", "15", "r", 60),
        resistance("ballast", "15", "c", 1.5), loads=[COIL, right],
        cases=[{"name": "left on", "without": [*RUNNING["without"], "right"]}],
    )  # fmt: skip
    assert not told(answer)


def test_a_field_behind_its_resistor_is_asked_about_only(run):
    """Nothing leads past: a resistor that excites a field leaves it so little by design."""
    field = load("field", "f", "ground", resistance_ohm=4) | {"circuit": "continuous"}
    answer = ask(
        run, resistance("exciter", "15", "f", 50), resistance("ballast", "15", "c", 1.5),
        loads=[COIL, field],
    )  # fmt: skip
    assert {check.verdict for check in told(answer).values()} <= {"unknown"}
    assert answer.verdict == "unknown"
    assert ask(
        run, resistance("exciter", "15", "f", 50), resistance("ballast", "15", "c", 1.5),
        loads=[COIL, {**field, "needed_v": 0.5}],
    ).weakest.part != "exciter"  # fmt: skip


@pytest.mark.parametrize("ohm", [60, 1000])
def test_with_a_positive_ground_it_is_named_as_well(run, ohm):
    answer = ask(
        run, resistance("ballast", "15", "c", ohm), plus="ground", minus="post", volts=12.6
    )
    assert answer.weakest.part == "ballast"


@pytest.mark.parametrize("ohm", [0.7, 1, 1.5, 2, 5])
@pytest.mark.parametrize("needed_v", [3, None])
def test_one_that_is_given_as_a_contact_is_asked_about_and_not_taken_out(run, ohm, needed_v):
    """Nothing else feeds the coil while the engine runs."""
    coil = {**COIL, **({"needed_v": needed_v} if needed_v else {})}
    answer = ask(run, contact("ballast", "15", "c", ohm), loads=[coil])
    found = {c.verdict for c in answer.checks if (c.code, c.part) == ("crossed", "ballast")}
    assert found == {"undecided"}
    said = [c.message for c in answer.checks if "ballast" in {c.part, c.detail}]
    assert not any("take it out" in each for each in [answer.headline, *said])


@pytest.mark.parametrize(("ohm", "volts"), [(0.06, 12.6), (0.4, 12.6), (0.25, 6.3), (1.1, 25.2)])
def test_a_contact_of_fewer_ohms_than_a_ballast_still_comes_out(run, ohm, volts):
    answer = ask(run, contact("chafe", "15", "c", ohm), volts=volts)
    assert (answer.weakest.code, answer.weakest.part) == ("crossed", "chafe")
    assert answer.weakest.verdict == "fail"


@pytest.mark.parametrize("ohm", [0.001, 0.1, 0.3])
@pytest.mark.parametrize("needed_v", [5, None])
def test_a_coil_that_is_shorted_inside_is_asked_about_with_its_sound_ballast(run, ohm, needed_v):
    """12.6 V over 1.5 ohm are 8 A, which no burnt ballast lets through."""
    coil = {**load("coil", "c", "ground", resistance_ohm=ohm), "circuit": "continuous"}
    coil |= {"needed_v": needed_v} if needed_v else {}
    answer = ask(run, resistance("ballast", "15", "c", 1.5), loads=[coil], cases=[RUNNING])
    assert "shorted inside" in answer.headline
    first, _, _ = answer.headline.partition("shorted inside")
    assert "coil" in first
    assert "ohms" in first
