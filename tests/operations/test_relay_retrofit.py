"""Whether a relay is worth it: the advice, its reasons, and the margins of both versions."""

import copy
from dataclasses import replace

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import ImpossibleLoad, UnknownSize
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

from .retrofit_circuits import fan

EXAMPLE = RelayRetrofitRequest.example
HOT = "hot restart, aged switch"


def edited(**fields):
    return {**copy.deepcopy(EXAMPLE), **fields}


def part(body, name):
    proposal = body["proposal"]
    parts = [*body["circuit"]["branches"], *body["circuit"]["loads"]]
    parts += [*proposal.get("feed", ()), *proposal.get("outlet", ()), proposal["relay"]]
    return next(item for item in parts if item["name"] == name)


def ask(run, body=EXAMPLE):
    return run("relay-retrofit", **body)


def told(answer):
    return {(reason.code, reason.part) for reason in answer.reasons}


def healthy():
    body = edited()
    part(body, "key switch").update(resistance_ohm=0.002, rating_a=40)
    part(body, "key fuse")["rating_a"] = 30
    for name in ("feed to key switch", "wire to the rear"):
        part(body, name).update(size="8 AWG", length_m=2)
    return body


def bad_ground(resistance_ohm=0.05):
    """A healthy circuit but for its ground, which a relay leaves in the path."""
    body = healthy()
    part(body, "engine strap")["resistance_ohm"] = resistance_ohm
    return body


def test_the_example_wants_the_relay(run):
    answer = ask(run)
    assert answer.advice == "relay"
    assert answer.verdict == "pass"  # what is published as good fails nothing
    hot = answer.cases[1]
    assert hot.as_is.margin_v < 0 < hot.proposed.margin_v
    assert_allclose(hot.gain_v, hot.proposed.load_voltage_v - hot.as_is.load_voltage_v, rtol=1e-12)
    assert hot.proposed.coil_v > hot.proposed.pick_up_v
    assert hot.as_is.coil_v is None
    assert (answer.reasons[0].code, answer.reasons[0].case) == ("arrives_as_is", HOT)
    assert answer.reasons[0].values["needed_v"] == hot.as_is.needed_v
    assert len(answer.new_risks) == 3
    assert (answer.mend_first[0].name, answer.mend_first[0].regained_v > 0) == ("key switch", True)
    # The switch is left with the relay's coil.
    assert hot.proposed.switch_current_a < 0.25 < 9 < hot.as_is.switch_current_a
    assert hot.proposed.switch_power_w < hot.as_is.switch_power_w / 1000


def test_a_healthy_circuit_needs_nothing(run):
    # 33 A in the frost: more than half of what a switch for 40 A may carry.
    assert ask(run, healthy()).advice == "insurance"
    body = healthy()
    part(body, "key switch")["rating_a"] = 80
    answer = ask(run, body)
    assert answer.advice == "nothing_needed"
    assert all(case.as_is.verdict == "pass" for case in answer.cases)
    assert answer.reasons[0].code == "enough_as_is"
    least_v = min(case.as_is.margin_v for case in answer.cases)
    assert answer.reasons[0].values == {"margin_v": least_v}


def test_a_bad_ground_is_to_be_mended_and_is_named(run):
    answer = ask(run, bad_ground())
    assert answer.advice == "mend"
    assert (answer.reasons[0].code, answer.reasons[0].part) == ("mend_brings", "engine strap")
    assert answer.mend_first[0].name == "engine strap"


def test_a_ground_so_bad_that_the_relay_fails_too_is_to_be_mended(run):
    answer = ask(run, bad_ground(0.3))
    assert (answer.advice, answer.plan.parts) == ("mend", ("engine strap",))
    assert not next(way for way in answer.ways if way.code == "relay").works


def test_wiring_that_starves_the_coil_is_mended_before_the_relay_is_fitted(run):
    body = edited()
    part(body, "key switch")["resistance_ohm"] = 120
    answer = ask(run, body)
    # The long thin wires leave too little with a sound switch, too.
    assert (answer.advice, answer.plan.parts) == ("mend_then_relay", ("key switch",))
    assert all(case.proposed.coil_v < case.proposed.pick_up_v for case in answer.cases)
    assert ("mend_brings", "key switch") in told(answer)
    assert answer.cases[0].proposed.tolerated_contact_ohm is None
    assert answer.cases[0].proposed.hottest_winding_c is None


@pytest.mark.parametrize(
    ("name", "change", "said"),
    [
        (
            "start relay",
            {"rating_a": 5, "derating": [{"ambient_c": 125, "current_a": 5}]},
            ("steady_current", "start relay"),
        ),
        ("relay fuse", {"rating_a": 7.5}, ("fuse_load", "relay fuse")),
        (
            "relay fuse",
            {"rating_a": 100},
            ("fuse_overload", "relay to solenoid"),
        ),
    ],
)
def test_a_part_that_does_not_suit_must_not_be_built_in(run, name, change, said):
    body = edited()
    part(body, name).update(change)
    answer = ask(run, body)
    assert answer.advice == "unsafe"
    assert said in {(reason.check, reason.part) for reason in answer.reasons}


def test_an_overloaded_switch_alone_is_reason_enough(run):
    body = healthy()
    part(body, "key switch")["rating_a"] = 10
    # Wires that cost more than the short harness that they replace.
    part(body, "relay to solenoid")["length_m"] = 2.5
    answer = ask(run, body)
    assert answer.advice == "relay"
    assert ("contact_current", "key switch") in {(each.check, each.part) for each in answer.reasons}
    # What the relay gives or takes is told as what it is.
    gains = {case.name: case.gain_v for case in answer.cases}
    assert min(gains.values()) < 0
    (told_of,) = [each for each in answer.reasons if each.code in {"relay_brings", "relay_takes"}]
    change_v = told_of.values.get("gain_v", -told_of.values.get("loss_v", 0.0))
    assert change_v == gains[told_of.case]


def test_both_versions_are_those_of_circuit_check(run):
    answer = ask(run)
    as_is = run("circuit-check", circuit=EXAMPLE["circuit"], cases=EXAMPLE["cases"])
    proposed = run("circuit-check", circuit=by_hand(EXAMPLE), cases=EXAMPLE["cases"])
    for told, before, after in zip(answer.cases, as_is.cases, proposed.cases, strict=True):
        assert told.as_is.load_voltage_v == before.loads[0].voltage_v
        assert told.as_is.needed_v == before.loads[0].needed_v
        assert_allclose(told.proposed.load_voltage_v, after.loads[0].voltage_v, rtol=1e-9)
        assert_allclose(told.proposed.pick_up_v, after.relays[0].pick_up_v, rtol=1e-12)
        (key,) = [item for item in after.parts if item.name == "key switch"]
        assert_allclose(told.proposed.switch_current_a, key.current_a, rtol=1e-9)


def by_hand(body):
    """The circuit of the example as one would wire the relay in."""
    circuit, proposal = copy.deepcopy(body["circuit"]), copy.deepcopy(body["proposal"])
    fuse, feed = proposal["feed"]
    (outlet,) = proposal["outlet"]
    (solenoid,) = circuit["loads"]
    old = solenoid["nodes"][0]
    circuit["branches"] += [
        {**fuse, "nodes": [proposal["feed_node"], "behind fuse"]},
        {**feed, "nodes": ["behind fuse", "30"]},
        {**outlet, "nodes": ["87", "new 50"]},
    ]
    solenoid["nodes"][0] = "new 50"
    relay = {
        **proposal["relay"],
        "coil_nodes": [old, "engine block"],
        "contact_nodes": ["30", "87"],
    }
    return {**circuit, "relays": [relay]}


def with_switch_at(body, case, extra_ohm):
    """The body in one case, the switch worse by so much, its age worked in beforehand."""
    moved = copy.deepcopy(body)
    moved["cases"] = [case]
    switch = part(moved, body["switch"])
    switch["resistance_ohm"] = switch["resistance_ohm"] * case.get("ageing_factor", 1) + extra_ohm
    switch["ages"] = False
    return moved


def fails(version):
    starved = version.coil_v is not None and version.coil_v < version.pick_up_v
    return starved or version.margin_v < 0


@pytest.mark.parametrize("version", ["as_is", "proposed"])
@pytest.mark.parametrize("place", [0, 1])
@pytest.mark.parametrize("body", [EXAMPLE, healthy()], ids=["example", "healthy"])
def test_tolerated_contact_is_where_the_margin_changes_sign(run, body, place, version):
    case = body["cases"][place]
    told = getattr(ask(run, body).cases[place], version)
    if told.tolerated_contact_ohm is None:
        assert fails(told)
        return
    assert told.tolerated_contact_ohm > 0
    # A thousandth less and it works, a thousandth more and it does not.
    for share, failed in ((0.999, False), (1.001, True)):
        moved = with_switch_at(body, case, share * told.tolerated_contact_ohm)
        assert fails(getattr(ask(run, moved).cases[0], version)) == failed


@pytest.mark.parametrize("version", ["as_is", "proposed"])
@pytest.mark.parametrize("place", [0, 1])
def test_hottest_winding_is_where_the_margin_changes_sign(run, place, version):
    body = healthy()
    told = getattr(ask(run, body).cases[place], version)
    assert 100 < told.hottest_winding_c < 250  # or no zone could be as hot
    for off_k, failed in ((-0.1, False), (0.1, True)):
        moved = copy.deepcopy(body)
        case = moved["cases"][place]
        zones = case.get("zone_ambients_c", {})
        moved["cases"] = [
            {**case, "zone_ambients_c": {**zones, "starter": told.hottest_winding_c + off_k}}
        ]
        assert fails(getattr(ask(run, moved).cases[0], version)) == failed


PLAIN = {
    "circuit": {
        "source": {"plus": "post", "open_circuit_v": 12.4, "internal_resistance_ohm": 0.01},
        "branches": [
            {
                "name": "switch",
                "kind": "contact",
                "part": "switch",
                "nodes": ["post", "50"],
                "resistance_ohm": 0.05,
            }
        ],
        "loads": [
            {
                "name": "solenoid",
                "kind": "solenoid",
                "nodes": ["50", "ground"],
                "rated": {"pull_in_v": 7.8, "resistance_ohm": 0.9},
            }
        ],
    },
    "cases": [{"name": "warm", "ambient_c": 60}],
    "load": "solenoid",
    "switch": "switch",
    "proposal": {
        "relay": {
            "name": "relay",
            "coil_resistance_ohm": 90,
            "pick_up_v": 6.9,
            "drop_out_v": 1.2,
            "contact_resistance_ohm": 0.003,
        },
        "feed_node": "post",
    },
}


def test_plain_series_case_has_the_closed_form_of_solenoid_pull_in(run):
    told = ask(run, PLAIN).cases[0].as_is
    alone = run(
        "solenoid-pull-in",
        rated={"pull_in_v": 7.8, "resistance_ohm": 0.9},
        temperature_c=60,
        supply_v=12.4,
        path_resistance_ohm=0.06,
    )
    assert_allclose(told.margin_v, alone.margin_v, rtol=1e-9)
    # The search ends within a microohm, and within a ten-thousandth of the temperature.
    assert_allclose(
        told.tolerated_contact_ohm, alone.maximum_path_resistance_ohm - 0.06, atol=1.1e-6
    )
    assert_allclose(told.hottest_winding_c, alone.maximum_temperature_c, rtol=1.1e-4)


def test_plain_proposal_by_hand(run):
    told = ask(run, PLAIN).cases[0].proposed
    # Copper at 60 degC by IEC 60028; 12.4 V behind 0.01 ohm feed the coil through the switch, and
    # the solenoid through the relay's contact.
    change = 1 + 0.00393 * 40
    coil_ohm, solenoid_ohm = 90 * change, 0.9 * change
    both_ohm = 1 / (1 / (0.05 + coil_ohm) + 1 / (0.003 + solenoid_ohm))
    post_v = 12.4 * both_ohm / (both_ohm + 0.01)
    assert_allclose(told.load_voltage_v, post_v * solenoid_ohm / (0.003 + solenoid_ohm), rtol=1e-9)
    assert_allclose(told.coil_v, 12.4 * coil_ohm / (coil_ohm + 0.06), rtol=1e-9)
    assert_allclose(told.pick_up_v, 6.9 * change, rtol=1e-9)
    # The coil keeps its pick-up voltage until the switch has this much more.
    expected_ohm = coil_ohm * (12.4 / (6.9 * change) - 1) - 0.06
    assert_allclose(told.tolerated_contact_ohm, expected_ohm, rtol=1e-5)


def test_a_relay_that_chatters_tolerates_nothing(run):
    body = copy.deepcopy(PLAIN)
    # Fed from its own coil's wire behind the switch, it takes away what closes it.
    part(body, "switch")["resistance_ohm"] = 0.9
    body["proposal"]["relay"]["drop_out_v"] = 6.8
    body["proposal"]["feed_node"] = "50"
    answer = ask(run, body)
    assert answer.advice == "unsafe"  # and it spares the switch nothing
    assert answer.plan.code == "mend"
    assert answer.cases[0].proposed.verdict == "fail"
    assert answer.cases[0].proposed.tolerated_contact_ohm is None
    assert answer.cases[0].proposed.hottest_winding_c is None


def test_coil_may_be_grounded_elsewhere(run):
    body = bad_ground(0.3)
    at_engine = ask(run, body).cases[0].proposed.coil_v
    body["proposal"]["coil_ground_node"] = "ground"
    assert ask(run, body).cases[0].proposed.coil_v > at_engine


def test_a_held_load_is_judged_by_what_holds_it(run):
    body = edited(cases=[{"name": "running", "held": ["starter solenoid"]}])
    told = ask(run, body).cases[0].as_is
    # 480 ampere-turns through 190 turns of 1.5 ohm.
    assert_allclose(told.needed_v, 480 / 190 * 1.5, rtol=1e-9)


@pytest.mark.parametrize(
    ("switch_ohm", "relay_ohm", "version"),
    [(5, 0.003, "as it is"), (0.05, 5, "with the relay")],
)
def test_faults_tell_case_and_version(run, switch_ohm, relay_ohm, version):
    # By hand: 12.4 V behind 5 ohm feed a constant power of 12.4**2 / 20 = 7.7 W at most.
    body = copy.deepcopy(PLAIN)
    part(body, "switch")["resistance_ohm"] = switch_ohm
    part(body, "relay")["contact_resistance_ohm"] = relay_ohm
    inverter = {"name": "solenoid", "kind": "power", "power_w": 20, "needed_v": 8}
    body["circuit"]["loads"] = [{**inverter, "nodes": ["50", "ground"]}]
    with pytest.raises(ImpossibleLoad, match=f"^In warm, {version}: ") as caught:
        ask(run, body)
    assert "ground" in caught.value.nodes


def test_intervals_are_taken_at_their_middle(run):
    body = copy.deepcopy(PLAIN)
    part(body, "switch")["resistance_ohm"] = {"low": 0.02, "high": 0.08}
    part(body, "relay")["pick_up_v"] = {"low": 6.8, "high": 7.0}
    for found, plain in zip(ask(run, body).cases, ask(run, PLAIN).cases, strict=True):
        for version in ("as_is", "proposed"):
            numbers = replace(getattr(found, version), spreads=(), influences=())
            assert numbers == getattr(plain, version)


@pytest.mark.parametrize("field", ["feed", "outlet"])
def test_a_proposed_wire_in_no_table_is_pointed_at_where_it_stands(run, field):
    body = edited()
    body["proposal"][field][-1]["size"] = "99 AWG"
    with pytest.raises(UnknownSize) as caught:
        ask(run, body)
    assert caught.value.path == ("proposal", field, len(body["proposal"][field]) - 1, "size")


def test_intervals_are_weighed_at_their_worst_ends(run):
    def switch(ohm):
        body = copy.deepcopy(EXAMPLE)
        part(body, "key switch")["resistance_ohm"] = ohm
        body["cases"] = body["cases"][1:]
        return ask(run, body)

    within = switch({"low": 0.0, "high": 0.016})
    found, middle, worst = within.cases[0].as_is, switch(0.008).cases[0], switch(0.016).cases[0]
    assert middle.as_is.spreads == ()
    assert_allclose(found.margin_v, middle.as_is.margin_v, rtol=1e-9)
    margin = next(item for item in found.spreads if item.code == "load_margin")
    assert_allclose(margin.low_v, worst.as_is.margin_v, rtol=1e-9)
    assert [item.input for item in found.influences] == ["circuit/branches/1/resistance_ohm"]
    assert found.influences[0].change_v < 0
    # This switch may be good enough or not: that is undecided, and a reason for the relay.
    assert margin.low_v < 0 <= margin.nominal_v
    said = [item for item in within.checks if item.code == "load_voltage"]
    assert [item.verdict for item in said] == ["undecided"]
    assert said[0].margin == margin.low_v
    assert within.advice == "find_out_first"
    assert ("measure", "key switch") in told(within)
    assert "load_voltage" in {reason.check for reason in within.reasons}


@pytest.mark.parametrize(("size", "rating_a", "studs"), [
    ("10 AWG", 40, False), ("8 AWG", 40, True), ("8 AWG", 80, False), ("6 AWG", 80, True),
])  # fmt: skip
def test_wire_that_no_blade_takes_is_told(run, size, rating_a, studs):
    """A receptacle for 6.3 mm is crimped to 6 mm2 at the most, one for 9.5 mm to 10 (practice)."""
    body = fan(rating_a=15, size=size, relay={"rating_a": rating_a})
    told = [each for each in run("relay-retrofit", **body).reasons if each.code == "needs_studs"]
    assert [each.part for each in told] == (["relay"] if studs else [])
