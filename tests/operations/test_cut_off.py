"""Parts that a case cuts off from all others: they are dead, and no reason to refuse the rest.

From the trade: one traveller of a pair of two-way switches is always dead; a trailer that is
unplugged, a coil between two open switches, and what hangs behind an open switch are every day's.
"""

import pytest

from lastvolt_service.errors import FloatingPart, SourceShort

from .circuit_parts import SOURCE, ask, contact, load, wire

LAMP = load("lamp", "out", "ground", resistance_ohm=6) | {"needed_v": 11}
OTHER = load("other", "post", "ground", resistance_ohm=6) | {"needed_v": 11}


def switch(name, start, end, **fields):
    return contact(name, start, end, 0.01, part="switch", rating_a=20, **fields)


def of(state, name):
    return next(each for each in state.loads if each.name == name)


TWO_WAY = [
    switch("A1", "post", "t1"), switch("A2", "post", "t2"),
    wire("traveller 1", "t1", "s1", "14 AWG", 5), wire("traveller 2", "t2", "s2", "14 AWG", 5),
    switch("B1", "s1", "out"), switch("B2", "s2", "out"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("without", "is_lit"),
    [(["A2", "B2"], True), (["A1", "B1"], True), (["A2", "B1"], False), (["A1", "B2"], False)],
)
def test_two_way_switches_have_a_dead_traveller(run, without, is_lit):
    """By hand: 5 m of 8.3 mohm/m and two switches take 0.061 of 6.061 ohm, and both lamps
    0.004 ohm of the battery: 12.6 - 4.2 * 0.004 = 12.583 V, of which 12.456 reach the lamp."""
    case = {"name": "as thrown", "without": without}
    (state,) = ask(run, TWO_WAY, [LAMP, OTHER], case)
    assert {check.verdict for check in state.checks} <= {"pass", "unknown"}
    assert of(state, "lamp").voltage_v == pytest.approx(12.456 if is_lit else 0.0, abs=0.005)
    assert of(state, "other").voltage_v > 12.5


@pytest.mark.parametrize("value", [{"current_a": 3}, {"power_w": 30}])
@pytest.mark.parametrize("without", [["on"], ["on", "ground joint"]])
def test_what_takes_its_current_at_any_voltage_is_off_behind_an_open_switch(run, value, without):
    branches = [
        switch("on", "post", "a"), wire("to it", "a", "b", "14 AWG", 2),
        wire("back", "c", "d", "14 AWG", 1), switch("ground joint", "d", "ground"),
    ]  # fmt: skip
    loads = [load("controller", "b", "c", **value), OTHER]
    on, off = ask(run, branches, loads, {"name": "on"}, {"name": "off", "without": without})
    assert of(on, "controller").current_a == pytest.approx(value.get("current_a", 2.4), rel=0.02)
    # By hand: 12.6 V * 6 / 6.004 is left to the other, as if there were nothing else.
    assert of(off, "other").voltage_v == pytest.approx(12.6 * 6 / 6.004, rel=1e-9)
    assert "controller" not in {each.name for each in off.loads if each.current_a}
    assert {check.verdict for check in off.checks} <= {"pass", "unknown"}


def test_what_nothing_joins_in_any_case_is_refused_still(run):
    branches = [switch("on", "post", "out"), wire("lost", "x", "y", "14 AWG", 2)]
    lost = [LAMP, load("lost lamp", "x", "y", resistance_ohm=6)]
    for without in ([], ["on"]):
        with pytest.raises(FloatingPart, match=r"x.* Parts between these: lost, lost lamp\."):
            ask(run, branches, lost, {"name": "only", "without": without})


def test_a_short_without_resistance_names_every_part_of_its_way(run):
    """Fuse, lead and chafe in a row join the posts; the lamp behind a switch does not."""
    branches = [
        contact("fuse", "post", "x", 0, part="fuse", rating_a=20),
        wire("lead", "x", "y", "14 AWG", 0), contact("chafe", "y", "ground", 0),
        switch("on", "post", "out"),
    ]  # fmt: skip
    with pytest.raises(SourceShort, match=r" Parts between these: fuse, lead, chafe\.$"):
        ask(run, branches, [LAMP], {"name": "only"})


@pytest.mark.parametrize("unplugged", [["plus plug"], ["minus plug"], ["plus plug", "minus plug"]])
def test_a_charger_that_is_unplugged_charges_nothing(run, unplugged):
    """Parked with its shore lead off, a battery gives what its lamp takes: nobody's fault."""
    branches = [
        contact("plus plug", "post", "c+", 0.002),
        contact("minus plug", "c-", "ground", 0.002),
    ]
    charger = {
        "name": "charger", "kind": "charger", "nodes": ["c+", "c-"], "regulated_v": 14,
        "internal_resistance_ohm": 0.05, "limit_a": 1,
    }  # fmt: skip
    circuit = {
        "source": SOURCE, "branches": branches, "loads": [OTHER], "further_sources": [charger],
    }  # fmt: skip
    cases = [{"name": "plugged in"}, {"name": "unplugged", "without": unplugged}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    found = {c.case for s in answer.cases for c in s.checks if c.code == "drained"}
    assert found == {"plugged in"}  # 2.1 A are wanted, and it gives 1


@pytest.mark.parametrize("missing", ["return wire", "strap"])
def test_a_return_that_is_a_wire_is_missed_as_a_ground_is(run, missing):
    branches = [
        switch("on", "post", "out"), wire("return wire", "back", "frame", "14 AWG", 3),
        wire("strap", "frame", "ground", "6 AWG", 0.3),
    ]  # fmt: skip
    lamp = {**LAMP, "nodes": ["out", "back"]}
    case = {"name": "on", "without": [missing]}
    (state,) = ask(run, branches, [lamp, OTHER], case)
    (told,) = [c for c in state.checks if c.code == "not_joined"]
    assert (told.part, told.detail, told.verdict) == ("lamp", missing, "fail")
    (state,) = ask(run, branches, [lamp, OTHER], {**case, "without": [missing, "on"]})
    assert "not_joined" not in {c.code for c in state.checks}
