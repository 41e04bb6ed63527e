"""Several sources, what charges, lamps, motors, and loads that are off: by hand."""

import pytest
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from lastvolt_service.api.problems import Refused

from .circuit_parts import checks, contact, load, wire

BATTERY = {"plus": "post", "open_circuit_v": 12.0, "internal_resistance_ohm": 0.05}
HELPER = {
    "name": "helper", "kind": "battery", "nodes": ["clamp", "ground"], "open_circuit_v": 12.6,
    "internal_resistance_ohm": 0.01,
}  # fmt: skip
DYNAMO = {
    "name": "dynamo", "kind": "charger", "nodes": ["post", "ground"], "regulated_v": 14.0,
    "internal_resistance_ohm": 0.02, "limit_a": 20.0,
}  # fmt: skip
LEAD = contact("jump lead", "clamp", "post", 0.01, part="terminal")


def ask(run, loads, *cases, sources=(), branches=(), battery=BATTERY, nominal_v=12):
    circuit = {
        "source": battery, "branches": list(branches), "loads": list(loads),
        "further_sources": list(sources),
    }  # fmt: skip
    cases = list(cases) or [{"name": "only"}]
    return run("circuit-check", circuit=circuit, cases=cases, nominal_v=nominal_v)


def test_two_batteries_share_a_load_by_millman(run):
    """Millman: V = (12/0.05 + 12.6/0.02) / (1/0.05 + 1/0.02 + 1/0.1)."""
    starter = load("starter", "post", "ground", resistance_ohm=0.1)
    (state,) = ask(run, [starter], sources=[HELPER], branches=[LEAD]).cases
    volts = (12 / 0.05 + 12.6 / 0.02) / (1 / 0.05 + 1 / 0.02 + 1 / 0.1)
    assert_allclose(state.loads[0].voltage_v, volts, rtol=1e-12)
    assert_allclose(state.source_current_a, (12 - volts) / 0.05, rtol=1e-9)
    (helper,) = state.further_sources
    assert_allclose(helper.current_a, (12.6 - volts) / 0.02, rtol=1e-9)
    assert_allclose(helper.voltage_v, 12.6 - 0.01 * helper.current_a, rtol=1e-12)


def test_without_load_the_fuller_battery_charges_the_other(run):
    lamp = load("lamp", "post", "ground", resistance_ohm=1e6)
    (state,) = ask(run, [lamp], sources=[HELPER], branches=[LEAD]).cases
    assert_allclose(state.source_current_a, -0.6 / 0.07, rtol=1e-4)


def test_a_source_is_left_out_like_any_part(run):
    lamp = load("lamp", "post", "ground", resistance_ohm=1)
    answer = ask(
        run, [lamp], {"name": "alone", "without": ["helper", "jump lead"]}, {"name": "helped"},
        sources=[HELPER], branches=[LEAD],
    )  # fmt: skip
    alone, helped = answer.cases
    assert_allclose(alone.loads[0].voltage_v, 12 / 1.05, rtol=1e-12)
    assert alone.further_sources == ()
    assert helped.loads[0].voltage_v > 12


@pytest.mark.parametrize(
    ("ohm", "current_a"),
    [
        # Below its limit: (14 - V) / 0.02 and the battery takes (V - 12) / 0.05.
        (0.7, None),
        # 12 V over 0.1 ohm ask for more than 20 A of it.
        (0.1, 20.0),
    ],
)
def test_a_dynamo_holds_its_voltage_up_to_its_limit(run, ohm, current_a):
    dynamo = {**DYNAMO, "limit_a": 20.0 if current_a else 100.0}
    lamp = load("lamp", "post", "ground", resistance_ohm=ohm)
    (state,) = ask(run, [lamp], sources=[dynamo]).cases
    (source,) = state.further_sources
    if current_a:
        volts = (12 / 0.05 + current_a) / (1 / 0.05 + 1 / ohm)
        assert_allclose(source.current_a, current_a, rtol=1e-12)
    else:
        volts = (12 / 0.05 + 14 / 0.02) / (1 / 0.05 + 1 / 0.02 + 1 / ohm)
        assert_allclose(source.current_a, (14 - volts) / 0.02, rtol=1e-9)
    assert_allclose(source.voltage_v, volts, rtol=1e-12)


def test_a_dynamo_below_the_battery_takes_nothing(run):
    lamp = load("lamp", "post", "ground", resistance_ohm=1)
    (state,) = ask(run, [lamp], sources=[{**DYNAMO, "regulated_v": 6.0}]).cases
    assert state.further_sources[0].current_a == 0
    assert_allclose(state.loads[0].voltage_v, 12 / 1.05, rtol=1e-12)


def test_a_motor_is_a_resistance_behind_its_back_voltage(run):
    motor = {
        "name": "motor", "kind": "motor", "nodes": ["post", "ground"], "resistance_ohm": 0.15,
        "back_v": 4.0,
    }  # fmt: skip
    (state,) = ask(run, [motor]).cases
    assert_allclose(state.loads[0].current_a, 8 / 0.2, rtol=1e-12)
    assert_allclose(state.loads[0].voltage_v, 12 - 0.05 * 40, rtol=1e-12)
    (state,) = ask(run, [{**motor, "back_v": 13.0}]).cases
    assert state.loads[0].current_a == 0  # it does not charge the battery


def test_a_lamp_takes_less_at_less_voltage_but_not_in_proportion(run):
    """Common practice: the current of a filament goes with the power 0.55 of its voltage."""
    lamp = {
        "name": "lamp", "kind": "lamp", "nodes": ["post", "ground"], "rated_power_w": 60,
        "rated_v": 13.5,
    }  # fmt: skip
    battery = {**BATTERY, "internal_resistance_ohm": 0.5}
    (state,) = ask(run, [lamp], battery=battery).cases
    rated_a = 60 / 13.5
    volts = brentq(lambda v: (12 - v) / 0.5 - rated_a * (v / 13.5) ** 0.55, 1, 12, xtol=1e-12)
    assert_allclose(state.loads[0].voltage_v, volts, rtol=1e-9)


def test_what_lacks_its_working_voltage_draws_nothing_and_is_told(run):
    pump = load("pump", "post", "ground", current_a=5.0, works_from_v=12.5)
    (state,) = ask(run, [pump]).cases
    assert (state.loads[0].current_a, state.loads[0].voltage_v) == (0, 12)
    check = checks(state)["load_voltage", "pump"]
    assert (check.verdict, check.limit) == ("fail", 12.5)


def test_a_bystander_that_cannot_be_fed_spoils_no_answer(run):
    """12 V behind 0.05 ohm deliver 720 W at most."""
    lamp = {**load("lamp", "post", "ground", resistance_ohm=2), "needed_v": 10}
    inverter = load("inverter", "post", "ground", power_w=3000)
    answer = ask(run, [lamp, inverter])
    (state,) = answer.cases
    assert_allclose(state.loads[0].voltage_v, 12 * 2 / 2.05, rtol=1e-9)
    check = checks(state)["operating_point", "inverter"]
    assert check.verdict == "fail"
    assert "taken as off" in check.message


def test_positive_ground_turns_the_other_sources_as_well(run):
    def volts(battery, sources, loads):
        answer = ask(run, loads, sources=sources, battery=battery)
        (state,) = answer.cases
        nodes = {node.name: node.voltage_v for node in state.nodes}
        return nodes["post"], state.further_sources, state.loads

    lamp = load("lamp", "post", "ground", resistance_ohm=0.5)
    usual = volts(BATTERY, [{**HELPER, "nodes": ["post", "ground"]}, DYNAMO], [lamp])
    turned = volts(
        {**BATTERY, "plus": "ground", "minus": "post"},
        [{**each, "nodes": ["ground", "post"]} for each in (HELPER, DYNAMO)],
        [lamp],
    )
    assert usual[0] == -turned[0]
    assert usual[1:] == turned[1:]


def test_names_of_sources_are_names_of_parts(run):
    lamp = load("helper", "post", "ground", resistance_ohm=1)
    with pytest.raises(Refused) as refused:
        ask(run, [lamp], sources=[HELPER], branches=[LEAD])
    pointers = {error["pointer"] for error in refused.value.errors}
    assert pointers == {"#/circuit/loads/0/name", "#/circuit/further_sources/0/name"}


def test_a_wire_from_another_battery_wants_a_fuse_too(run):
    lead = {
        "name": "lead", "kind": "wire", "nodes": ["second post", "lamp"], "size": "12 AWG",
        "length_m": 3, "insulation": "GXL",
    }  # fmt: skip
    second = {**HELPER, "name": "second", "nodes": ["second post", "ground"]}
    fuse = contact("fuse", "post", "lamp", 0.003, part="fuse", rating_a=20)
    lamp = load("lamp", "lamp", "ground", resistance_ohm=2)
    (state,) = ask(run, [lamp], sources=[second], branches=[fuse, lead]).cases
    (found,) = [check for check in state.checks if check.code == "no_fuse"]
    assert found.detail == "lead"


def lamp_behind(node, **more):
    wire = contact("plug", "post", "lamp in", 0.01)
    lamp = {**load("lamp", node, "ground", resistance_ohm=2), **more}
    return [wire], [lamp]


def test_a_misspelt_node_is_asked_about(run):
    branches, loads = lamp_behind("lamp inn")
    with pytest.raises(Refused) as refused:
        ask(run, loads, branches=branches)
    details = {error["pointer"]: error["detail"] for error in refused.value.errors}
    assert "did you mean 'lamp in'" in details["#/circuit/loads/0/nodes/0"]


def test_an_open_end_is_told_and_answered(run):
    branches, loads = lamp_behind("lamp in")
    spare = contact("spare plug", "post", "nowhere yet", 0.01)
    answer = ask(run, loads, branches=[*branches, spare])
    assert [(check.code, check.part) for check in answer.not_judged] == [
        ("open_end", "spare plug"),
        ("load_voltage", "lamp"),
    ]
    assert answer.cases[0].loads[0].voltage_v > 11


@pytest.mark.parametrize(("first", "second"), [("30", "31"), ("87", "87a"), ("n1", "n2")])
def test_names_that_differ_by_their_numbers_are_good_names(run, first, second):
    branches = [contact("a", "post", first, 0.01), contact("b", first, "lamp", 0.01)]
    spare = contact("c", "post", second, 0.01)
    answer = ask(
        run, [load("lamp", "lamp", "ground", resistance_ohm=2)], branches=[*branches, spare]
    )
    open_ends = [check.part for check in answer.not_judged if check.code == "open_end"]
    assert open_ends == ["c"]


def sources_of(run, *sources, battery=BATTERY, **case):
    lamp = load("lamp", "post", "ground", resistance_ohm=2)
    answer = ask(run, [lamp], {"name": "only", **case}, sources=sources, battery=battery)
    return answer, {
        (check.code, check.part)
        for check in answer.checks
        if check.verdict == "fail" and check.part not in {"battery", "lamp"}
    }


ON_THE_POSTS = {**HELPER, "nodes": ["post", "ground"]}
FULL = {**BATTERY, "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}


@pytest.mark.parametrize(
    ("source", "code", "said"),
    [
        # 24 V beside 12 V, and one the wrong way round: batteries burst. Common practice.
        ({**ON_THE_POSTS, "open_circuit_v": 25.2}, "source_voltage", "do not join them"),
        ({**ON_THE_POSTS, "nodes": ["ground", "post"]}, "source_voltage", "wrong way round"),
        ({**DYNAMO, "nodes": ["ground", "post"]}, "source_voltage", "wrong way round"),
        # A regulator that runs away, whatever the battery holds it to at the moment.
        ({**DYNAMO, "regulated_v": 17.5}, "source_voltage", "mend the regulator"),
        # Flat: 11.5 V. Worn out: 0.2 ohm.
        ({**ON_THE_POSTS, "open_circuit_v": 11.5}, "charge", "charge it by itself"),
        ({**ON_THE_POSTS, "internal_resistance_ohm": 0.2}, "battery_resistance", "test it"),
    ],
)
def test_a_further_source_that_harms_is_named_first(run, source, code, said):
    answer, failed = sources_of(run, source, battery=FULL)
    assert (code, source["name"]) in failed
    (first, *_) = [check for check in answer.checks if check.verdict == "fail"]
    assert said in first.message
    assert answer.weakest.code in {"source_voltage", code}


def test_a_further_battery_may_be_frozen(run):
    answer, failed = sources_of(
        run, {**ON_THE_POSTS, "open_circuit_v": 11.5}, battery=FULL, ambient_c=-20
    )
    assert ("freezing", "helper") in failed
    assert "Do not charge it" in answer.headline


def test_sound_sources_are_not_named(run):
    _, failed = sources_of(run, ON_THE_POSTS, DYNAMO, battery=FULL)
    assert not failed


def of_source(run, *, battery=FULL, sources=(), branches=(), **case):
    lamp = load("lamp", "post", "ground", resistance_ohm=2)
    cases = [{"name": "only", **case}]
    answer = ask(run, [lamp], *cases, sources=sources, branches=branches, battery=battery)
    return checks(answer.cases[0])


# A lead battery gasses from 2.4 to 2.5 V a cell on unless it is cold. Common practice.
@pytest.mark.parametrize(
    ("volts", "ambient_c", "verdict"),
    [
        (14.6, 40, None),
        (15.3, 40, "marginal"),
        (15.8, 40, "fail"),
        (15.8, -15, None),
        (16.5, 40, "fail"),
    ],
)
def test_what_gasses_a_warm_battery_is_looked_at(run, volts, ambient_c, verdict):
    charged = of_source(run, battery={**BATTERY, "open_circuit_v": volts}, ambient_c=ambient_c).get(
        ("source_voltage", "battery")
    )
    charger = of_source(run, sources=[{**DYNAMO, "regulated_v": volts}], ambient_c=ambient_c).get(
        ("source_voltage", "dynamo")
    )
    for check in (charged, charger):
        assert (check and check.verdict) == verdict


@pytest.mark.parametrize(("volts", "told"), [(11.5, False), (10.2, True), (6.3, True)])
def test_a_dead_cell_is_not_charged_unseen(run, volts, told):
    """Six flat cells have 11 to 12 V at rest; with one of them dead 10.5 at most."""
    check = of_source(run, battery={**FULL, "open_circuit_v": volts})["charge", "battery"]
    assert check.verdict == "fail"
    assert ("a cell may be dead" in check.message) == told


def test_a_resistance_that_may_be_sound_replaces_no_battery(run):
    known = {"low": 0.004, "high": 0.06}
    check = of_source(run, battery={**FULL, "internal_resistance_ohm": known})[
        "battery_resistance", "battery"
    ]
    assert check.verdict == "undecided"
    assert "measure internal resistance of source" in check.message
    worn = {"low": 0.05, "high": 0.06}
    check = of_source(run, battery={**FULL, "internal_resistance_ohm": worn})[
        "battery_resistance", "battery"
    ]
    assert check.verdict == "fail"


@pytest.mark.parametrize(
    ("limit_a", "fuse_a", "failed"),
    [(30, None, set()), (60, None, {"charge wire"}), (60, 30, {"charge fuse"}), (25, 30, set())],
)
def test_a_charge_wire_must_bear_all_that_the_charger_gives(run, limit_a, fuse_a, failed):
    """14 AWG of 125 degC bears some 38 A at 40 degC, by the published curve of `wire-heating`."""
    end = "fused" if fuse_a else "post"
    lead = wire("charge wire", "out", end, "14 AWG", 2, insulation="GXL")
    fuse = contact("charge fuse", "fused", "post", 0.002, part="fuse", rating_a=fuse_a or 1)
    dynamo = {**DYNAMO, "nodes": ["out", "ground"], "limit_a": limit_a}
    found = of_source(
        run, sources=[dynamo], branches=[lead, *([fuse] if fuse_a else [])], ambient_c=40
    )
    assert {
        part
        for (code, part), c in found.items()
        if code in {"charger_current", "charger_fuse"} and c.verdict == "fail"
    } == failed
    assert ("charger_current", "charge wire") in found


@pytest.mark.parametrize(
    ("source", "verdict", "said"),
    [
        # 6 V beside 12 V: hundreds of amperes flow into it.
        ({**ON_THE_POSTS, "open_circuit_v": 6.3}, "fail", "Do not join them"),
        ({**ON_THE_POSTS, "open_circuit_v": 10.0}, "fail", "Do not join them"),
        ({**DYNAMO, "regulated_v": 7.2}, "fail", "charges nothing"),
        # A full battery takes more than 13 V: with less its charge is never full.
        ({**DYNAMO, "regulated_v": 12.8}, "fail", "charge nothing"),
        ({**DYNAMO, "regulated_v": 13.3}, "marginal", "charge a low one slowly"),
    ],
)
def test_a_source_of_a_lower_system_or_that_charges_nothing_is_told(run, source, verdict, said):
    check = of_source(run, sources=[source])["source_voltage", source["name"]]
    assert check.verdict == verdict
    assert said in check.message


def test_batteries_in_series_are_given_as_one(run):
    """A helper of two, one above the other: each is sound alone, and both together burst ours."""
    lower = {**HELPER, "name": "lower", "nodes": ["between", "ground"]}
    upper = {**HELPER, "name": "upper", "nodes": ["post", "between"]}
    with pytest.raises(Refused) as refused:
        of_source(run, sources=[lower, upper])
    pointers = {error["pointer"] for error in refused.value.errors}
    assert pointers == {f"#/circuit/further_sources/{index}/nodes" for index in (0, 1)}
    assert "give both as one source" in str(refused.value.errors)


def test_a_source_whose_cable_was_not_given_is_asked_for_it(run):
    with pytest.raises(Refused) as refused:
        of_source(run, sources=[{**DYNAMO, "nodes": ["B+", "ground"]}])
    (error,) = refused.value.errors
    assert error["pointer"] == "#/circuit/further_sources/0/nodes"
    assert "joins 'B+' of dynamo" in error["detail"]
    assert "give the cable" in error["detail"]


def test_a_frozen_battery_is_told_beside_a_helper_that_bursts_it(run):
    found = of_source(
        run, battery={**FULL, "open_circuit_v": 11.5},
        sources=[{**ON_THE_POSTS, "open_circuit_v": 25.2}], ambient_c=-20,
    )  # fmt: skip
    assert found["freezing", "battery"].verdict == "fail"
    assert found["source_voltage", "helper"].verdict == "fail"


def test_what_may_be_frozen_within_bounds_is_not_to_be_charged(run):
    lamp = load("lamp", "post", "ground", resistance_ohm=2)
    case = {"name": "winter", "ambient_c": {"low": -40, "high": 10}}
    answer = ask(run, [lamp], case, battery={**FULL, "open_circuit_v": 12.2})
    assert answer.weakest.code == "freezing"
    (charge,) = [c for c in answer.checks if c.code == "charge"]
    assert "Warm it up before it is charged" in charge.message


def test_both_a_dead_cell_and_frost_are_told(run):
    check = of_source(run, battery={**FULL, "open_circuit_v": 10.0}, ambient_c=-15)
    assert "may be frozen" in check["charge", "battery"].message
    assert "a cell may be dead" in check["charge", "battery"].message


def test_a_load_at_the_post_of_a_charger_is_fed(run):
    """What hangs on the alternator's stud is on, though a case leaves another part out."""
    cable = contact("cable lug", "post", "stud", 0.001)
    lamps = [load(name, "stud", "ground", resistance_ohm=2) for name in ("lamp", "other")]
    dynamo = {**DYNAMO, "nodes": ["stud", "ground"]}
    case = {"name": "one off", "without": ["other"]}
    (state,) = ask(run, lamps, case, sources=[dynamo], branches=[cable]).cases
    assert ("load_off", "lamp") not in checks(state)


def test_what_bursts_leads_over_what_may_be_frozen(run):
    lamp = load("lamp", "post", "ground", resistance_ohm=2)
    case = {"name": "winter", "ambient_c": {"low": -40, "high": 10}}
    turned = {**ON_THE_POSTS, "nodes": ["ground", "post"]}
    answer = ask(
        run, [lamp], case, battery={**FULL, "open_circuit_v": 12.2}, sources=[turned]
    )  # fmt: skip
    assert (answer.weakest.code, answer.weakest.part) == ("source_voltage", "helper")


def test_a_dead_battery_is_not_joined_to_a_sound_one(run):
    found = of_source(run, battery={**FULL, "open_circuit_v": 9.0}, sources=[ON_THE_POSTS])
    check = found["source_voltage", "battery"]
    assert check.verdict == "fail"
    assert "Do not join them" in check.message
    alone = of_source(run, battery={**FULL, "open_circuit_v": 9.0})
    assert ("source_voltage", "battery") not in alone


def test_a_fault_gets_what_all_sources_give(run):
    """A worn-out battery of 0.5 ohm beside a helper of 0.01: 12.6 V over 0.0098 ohm and more."""
    worn = {**FULL, "internal_resistance_ohm": 0.5, "open_circuit_v": 12.6}
    fuse = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=15, fuse_family="blade C")
    lamp = load("lamp", "in", "ground", resistance_ohm=2)
    answer = ask(run, [lamp], sources=[ON_THE_POSTS], branches=[fuse], battery=worn)
    check = checks(answer.cases[0])["far_short", "fuse"]
    assert_allclose(check.value, 12.6 / (1 / (1 / 0.5 + 1 / 0.01) + 0.002), rtol=1e-6)


@pytest.mark.parametrize(
    ("volts", "detail", "said"), [(25.2, "higher_system", "in a row"), (17.0, None, "regulator")]
)
def test_two_batteries_in_a_row_are_no_regulator_that_runs_away(run, volts, detail, said):
    """25.2 V at rest on 12 V: nothing charges there. 17 V are what a regulator lets through."""
    lamp = load("lamp", "post", "ground", resistance_ohm=3)
    circuit = {"source": {**BATTERY, "open_circuit_v": volts}, "branches": [], "loads": [lamp]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)
    (check,) = [each for each in answer.checks if each.code == "source_voltage"]
    assert (check.verdict, check.detail) == ("fail", detail)
    assert said in check.message
