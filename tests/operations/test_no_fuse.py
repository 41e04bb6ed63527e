"""A wire that the source feeds through no fuse is always named: chafed, it ends in a fire."""

from .circuit_parts import SOURCE, ask, contact, load, wire

LAMP = load("lamp", "end", "ground", resistance_ohm=1.5)


def named(run, branches, loads=(LAMP,)):
    (state,) = ask(run, branches, list(loads), source=SOURCE)
    (found,) = [each for each in state.checks if each.code == "no_fuse"] or [None]
    if found is not None:
        assert found.verdict == "unknown"
        assert "no fuse protects" in found.message.lower()
    return None if found is None else found.detail


def test_a_harness_without_a_fuse_is_named_with_all_its_wires(run):
    feed = wire("feed", "post", "in", "10 AWG", 2)
    switch = contact("switch", "in", "out", 0.004, part="switch")
    rest = wire("rest", "out", "end", "14 AWG", 3)
    assert named(run, [feed, switch, rest]) == "feed, rest"


def test_a_fuse_protects_what_is_behind_it_and_nothing_before_it(run):
    fuse = contact("fuse", "in", "out", 0.003, part="fuse", rating_a=20)
    rest = wire("rest", "out", "end", "12 AWG", 3)
    assert named(run, [wire("feed", "post", "in", "10 AWG", 2), fuse, rest]) == "feed"
    # So short a lead before the fuse is common practice.
    assert named(run, [wire("feed", "post", "in", "10 AWG", 0.3), fuse, rest]) is None


def test_a_way_round_the_fuse_is_none(run):
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20)
    rest = wire("rest", "in", "end", "12 AWG", 3)
    around = wire("around", "post", "end", "12 AWG", 3)
    assert named(run, [fuse, rest]) is None
    assert named(run, [fuse, rest, around]) == "rest, around"


def test_what_is_given_as_ohms_alone_may_be_a_wire(run):
    feed = {"name": "feed", "kind": "resistance", "resistance_ohm": 0.02, "nodes": ["post", "end"]}
    assert named(run, [feed]) == "feed"
    (state,) = ask(run, [feed], [LAMP], source=SOURCE)
    (heat,) = [each for each in state.checks if each.code == "ohms_heat"]
    assert (heat.verdict, heat.detail) == ("unknown", "feed")


def test_return_wires_need_none(run):
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20)
    lamp = load("lamp", "end", "back", resistance_ohm=1.5)
    back = wire("back wire", "back", "ground", "12 AWG", 3)
    assert named(run, [fuse, wire("rest", "in", "end", "12 AWG", 3), back], [lamp]) is None


def test_the_main_cable_alone_of_a_starter_motor_is_excepted(run):
    motor = {**load("starter", "stud", "ground", resistance_ohm=0.03), "circuit": "starter_motor"}
    cable = wire("cable", "post", "stud", "2/0 AWG", 1.5)
    tapped = wire("tapped", "stud", "end", "14 AWG", 2)
    assert named(run, [cable], [motor]) is None
    assert named(run, [cable, tapped], [motor, LAMP]) == "tapped"


def test_the_main_cable_of_a_motor_that_a_case_leaves_out_is_excepted_too(run):
    motor = {**load("starter", "stud", "ground", resistance_ohm=0.03), "circuit": "starter_motor"}
    cable = wire("cable", "post", "stud", "2/0 AWG", 1.5)
    fuse = contact("fuse", "post", "end", 0.003, part="fuse", rating_a=20)
    case = {"name": "before the start", "without": ["starter"]}
    (state,) = ask(run, [cable, fuse], [motor, LAMP], case, source=SOURCE)
    assert not [each for each in state.checks if each.code == "no_fuse"]


def test_what_charges_at_the_stud_asks_for_no_fuse_in_the_main_cable(run):
    motor = {**load("starter", "stud", "ground", resistance_ohm=0.03), "circuit": "starter_motor"}
    cable = wire("cable", "post", "stud", "2/0 AWG", 1.5, insulation="SGX")
    dynamo = {
        "name": "dynamo", "kind": "charger", "nodes": ["stud", "ground"], "regulated_v": 14.2,
        "internal_resistance_ohm": 0.02, "limit_a": 45,
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [cable], "loads": [motor]}
    answer = run(
        "circuit-check",
        circuit={**circuit, "further_sources": [dynamo]},
        cases=[{"name": "start"}],
    )
    assert not [check for check in answer.checks if check.code == "no_fuse"]


def test_a_nail_across_a_fuse_is_named_first(run):
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20)
    nail = contact("nail", "post", "in", 0.001)
    rest = wire("rest", "in", "end", "14 AWG", 9, insulation="GXL")
    circuit = {"source": SOURCE, "branches": [fuse, nail, rest], "loads": [LAMP]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_bypassed", "fuse")
    assert "over nail, and" in answer.headline
    # Across the holder it is no other nail.
    holder = [
        contact("upper clip", "post", "upper", 0.001, part="terminal"),
        {**fuse, "nodes": ["upper", "lower"]},
        contact("lower clip", "lower", "in", 0.001, part="terminal"),
    ]
    circuit["branches"] = [*holder, nail, rest]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_bypassed", "fuse")
    assert answer.weakest.detail == "upper clip, nail, lower clip"
    # Nor is a hot wire to the end of the switch's own.
    hot = wire("hot wire", "post", "end", "14 AWG", 3, insulation="GXL")
    circuit["branches"] = [fuse, rest, hot]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert "over hot wire, rest" in answer.headline


def test_a_lamp_that_tells_of_a_blown_fuse_is_no_way_past_it(run):
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20)
    tells = {"name": "tells", "kind": "resistance", "resistance_ohm": 1000, "nodes": ["post", "in"]}
    rest = wire("rest", "in", "end", "12 AWG", 2, insulation="GXL")
    (state,) = ask(run, [fuse, tells, rest], [LAMP])
    assert not [check for check in state.checks if check.code == "fuse_bypassed"]


def charged(run, size, fuse_a, limit_a=55):
    """An alternator whose wire to the battery has its fuse at the battery's end."""
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=fuse_a)
    lead = wire("charge wire", "in", "stud", size, 2, insulation="GXL")
    dynamo = {
        "name": "alternator", "kind": "charger", "nodes": ["stud", "ground"], "regulated_v": 14.2,
        "internal_resistance_ohm": 0.02, "limit_a": limit_a,
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": [fuse, lead], "further_sources": [dynamo]}
    circuit["loads"] = [load("lamp", "in", "ground", resistance_ohm=1.5)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    return [check.detail for check in answer.checks if check.code == "no_fuse"]


def test_a_charge_wire_needs_its_fuse_at_the_battery_alone(run):
    """8 AWG of 125 degC bears some 90 A: more than the alternator ever gives."""
    assert charged(run, "8 AWG", 60) == []
    assert charged(run, "14 AWG", 30) == ["charge wire"]


def in_series(run, main_a, own_a):
    """A main fuse before thick wire, and a circuit's own fuse before thin."""
    blade = {"part": "fuse", "fuse_family": "blade C"}
    branches = [
        contact("main", "post", "box feed", 0.001, rating_a=main_a, **blade),
        wire("thick", "box feed", "box", "8 AWG", 1, insulation="GXL"),
        contact("own", "box", "in", 0.002, rating_a=own_a, **blade),
        wire("thin", "in", "end", "12 AWG", 2, insulation="GXL"),
    ]
    (state,) = ask(run, branches, [LAMP], {"name": "summer", "ambient_c": 40})
    return {
        (check.part, check.detail)
        for check in state.checks
        if check.code in {"fuse_protection", "fuse_overload"}
    }, [check for check in state.checks if check.verdict == "fail"]


def test_a_wire_is_protected_by_the_last_fuse_before_it(run):
    """The main fuse answers for the thick wire, the circuit's own for the thin one."""
    pairs, failed = in_series(run, 60, 15)
    assert pairs == {("thick", "main"), ("thin", "own")}
    assert not failed


def test_a_memory_fuse_across_an_isolator_is_by_design(run):
    isolator = contact("isolator", "post", "bus", 0.0005, part="switch", rating_a=200)
    memory = contact("memory fuse", "post", "bus", 0.01, part="fuse", rating_a=10)
    fuse = contact("fuse", "bus", "in", 0.003, part="fuse", rating_a=20)
    rest = wire("rest", "in", "end", "12 AWG", 2, insulation="GXL")
    (state,) = ask(run, [isolator, memory, fuse, rest], [LAMP])
    assert not [check for check in state.checks if check.code == "fuse_bypassed"]


def test_a_chafe_beyond_the_load_gets_no_more_than_that_lets_through(run):
    """A horn's ground-side button wire is no matter of its fuse."""
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20, fuse_family="blade C")
    feed = wire("feed", "in", "horn", "12 AWG", 2, insulation="GXL")
    button = wire("button wire", "low", "ground", "18 AWG", 2, insulation="GXL")
    horn = load("horn", "horn", "low", resistance_ohm=2.5)
    (state,) = ask(run, [fuse, feed, button], [horn], {"name": "summer", "ambient_c": 40})
    assert {c.part for c in state.checks if c.code == "fuse_protection"} == {"feed"}


def test_a_ballast_is_no_wire(run):
    """1.5 ohm are given as what they are: nobody asks for their size and length."""
    ballast = {"name": "ballast", "kind": "resistance", "resistance_ohm": 1.5}
    fuse = contact("fuse", "post", "in", 0.003, part="fuse", rating_a=20)
    (state,) = ask(run, [fuse, {**ballast, "nodes": ["in", "end"]}], [LAMP])
    assert not {check.code for check in state.checks} & {"ohms_heat", "no_fuse"}
    # A long thin harness may well have a fifth of an ohm.
    harness = {**ballast, "name": "harness", "resistance_ohm": 0.2, "nodes": ["post", "end"]}
    (state,) = ask(run, [harness], [LAMP])
    assert {check.code for check in state.checks} >= {"ohms_heat", "no_fuse"}
