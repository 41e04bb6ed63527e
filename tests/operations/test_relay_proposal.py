"""What is proposed is looked at first: what is wrong with it, what is missing, what is unsafe."""

import pytest

from lastvolt_service.api.problems import Refused

from .retrofit_circuits import (
    RELAYS,
    checked,
    contact,
    fan,
    headlamps,
    starter,
    told,
    wire,
    without,
)

# A proposal that is taken back: what is wrong with it, and the check that says so.
UNFIT = {
    "5 A relay at 20 A": (
        lambda: fan(relay={"rating_a": 5}), ("steady_current", "relay"),
    ),
    "24 V relay at 12 V": (
        lambda: headlamps(relay=RELAYS[24]), ("relay_voltage", "relay"),
    ),
    "12 V relay at 6 V": (
        lambda: starter(6, pull_in_v=3.6, ohm=0.6, relay=RELAYS[12]), ("relay_voltage", "relay"),
    ),
    "6 V relay at 12 V": (
        lambda: headlamps(relay=RELAYS[6]), ("relay_voltage", "relay"),
    ),
    "12 V relay at 24 V": (
        lambda: starter(24, pull_in_v=14, ohm=3.6, relay=RELAYS[12]), ("relay_voltage", "relay"),
    ),
    "10 A fuse at 20 A": (lambda: {**fan()}, ("fuse_load", "relay fuse")),
    "relay that needs more than arrives": (
        lambda: headlamps(relay={"pick_up_v": 11.8}), ("pick_up_warm", "relay"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("need", ["nothing short", "short"])
@pytest.mark.parametrize("name", UNFIT)
def test_what_is_proposed_is_looked_at_first(run, name, need):
    make, wrong = UNFIT[name]
    body = make()
    if name.startswith("10 A fuse"):
        body["proposal"]["feed"][0]["rating_a"] = 10
    if need == "short":
        # A harness so thin that no mending helps.
        body["circuit"]["branches"][0] |= {"size": "20 AWG", "length_m": 8}
    answer = run("relay-retrofit", **body)
    assert answer.advice == "unsafe", [reason.message for reason in answer.reasons]
    assert wrong in checked(answer, "fail")
    assert wrong in {(each.check, each.part) for each in answer.reasons}
    assert answer.verdict == "fail"
    assert not any(way.works for way in answer.ways if way.code == "relay")


def test_a_relay_for_a_charged_system_is_held_against_what_charges_it(run):
    """At 14.2 V a relay that closes at 12.2 V when it is hot closes: little to spare, no more."""
    body = headlamps(rest_v=14.2, relay={"pick_up_v": 10.2})
    answer = run("relay-retrofit", **body)
    assert answer.advice == "insurance"  # 10.5 A through a switch for 20 A
    assert answer.cases[0].proposed.pick_up_v > 12


@pytest.mark.parametrize(("ohm", "advice"), [(0.018, "relay"), (0.08, "unsafe")])
def test_a_relay_contact_bars_the_relay_only_where_it_takes_much(run, ohm, advice):
    """0.16 V when it is aged are told; 0.6 V and more at 9 A make a contact that burns."""
    body = starter(length_m=11, zone_c=120, relay={"contact_resistance_ohm": ohm})
    answer = run("relay-retrofit", **body)
    assert answer.advice == advice
    assert ("own_contact" in told(answer)) == (advice == "relay")


# What is missing, and the check that asks for it.
MISSING = {
    "fuse not stated": (
        lambda body: body["proposal"]["feed"].pop(0), ("feed_fuse", None),
    ),
    "fuse without rating": (
        lambda body: without(body, "rating_a", "relay fuse"), ("rating_given", "relay fuse"),
    ),
    "relay without rating": (
        lambda body: without(body, "rating_a", "relay"), ("rating_given", "relay"),
    ),
    "feed without insulation": (
        lambda body: without(body, "insulation", "relay feed"), ("wire_judged", "relay feed"),
    ),
    "outlet without insulation": (
        lambda body: without(body, "insulation", "relay to load"),
        ("wire_judged", "relay to load"),
    ),
    "no wire at all": (
        lambda body: body["proposal"].update(
            feed=[body["proposal"]["feed"][0]], outlet=[]
        ),
        ("wire_judged", None),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", MISSING)
def test_what_is_missing_is_asked_for_where_the_relay_would_do(run, name):
    change, wanted = MISSING[name]
    body = starter(length_m=11, zone_c=120)
    change(body)
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first", [reason.message for reason in answer.reasons]
    assert wanted in checked(answer, "unknown")
    assert answer.verdict in {"unknown", "undecided"}
    # Where mending does, or nothing is short, it does not decide.
    for other, advice in ((headlamps(switch_ohm=0.2), "mend"), (headlamps(), "nothing_needed")):
        change(other)
        assert run("relay-retrofit", **other).advice == advice


def no_fuse(body):
    body["proposal"]["feed"].pop(0)
    body["proposal"]["fuse"] = "none"


def fuse_at_the_far_end(body):
    body["proposal"]["feed"].reverse()


def fuse_behind_the_contact(body):
    body["proposal"]["outlet"].append(body["proposal"]["feed"].pop(0))


@pytest.mark.parametrize("change", [no_fuse, fuse_at_the_far_end, fuse_behind_the_contact])
def test_a_feed_without_a_fuse_at_its_start_is_unsafe_whatever_else_is_wrong(run, change):
    for body, other in (
        (starter(length_m=11, zone_c=120), None),
        (headlamps(switch_ohm=0.2), "mend"),
        (headlamps(), "as_is"),
    ):
        change(body)
        answer = run("relay-retrofit", **body)
        assert answer.advice == "unsafe"
        assert "feed_fuse" in {each.check for each in answer.reasons}
        assert "feed_fuse" in {code for code, _ in checked(answer, "fail")}
        # The way that would do is named with it.
        assert (answer.plan.code if answer.plan else None) == other


def test_a_short_wire_before_the_fuse_is_as_near_as_it_can_be(run):
    body = starter(length_m=11, zone_c=120)
    body["proposal"]["feed"].insert(0, wire("tap", "10 AWG", 0.15))
    assert run("relay-retrofit", **body).advice == "relay"


def test_a_fuse_in_the_feed_and_none_contradict_each_other(client):
    body = starter()
    body["proposal"]["fuse"] = "none"
    answer = client.post("/v1/relay-retrofit", json=body)
    assert answer.status_code == 422
    assert "/proposal/fuse" in answer.get_data(as_text=True)


def test_old_wires_and_grounds_bar_nothing(run):
    """Ground leads, and wires left as they were, without insulation or fuse: told, at most."""
    body = starter(length_m=11, zone_c=120)
    for branch in body["circuit"]["branches"]:
        branch.pop("insulation", None)
    body["circuit"]["branches"][-1] = {
        **wire("ground lead", "2 AWG", 0.5), "nodes": body["circuit"]["branches"][-1]["nodes"]
    }  # fmt: skip
    del body["circuit"]["branches"][-1]["insulation"]
    assert run("relay-retrofit", **body).advice == "relay"


def test_a_coil_that_the_switch_does_not_rule_is_unsafe(run):
    body = starter(length_m=11, zone_c=120)
    body["proposal"]["coil_feed_node"] = "post"
    answer = run("relay-retrofit", **body)
    assert answer.advice == "unsafe"
    assert ("switch_in_charge", "key switch") in checked(answer, "fail")


def test_going_round_an_interlock_is_unsafe(run):
    """The coil fed behind the key and before the neutral switch: the key rules, neutral not."""
    body = starter(length_m=11, zone_c=120)
    feed, key, on, strap = body["circuit"]["branches"]
    neutral = {
        **contact("neutral switch", "switch", 0.005, rating_a=30),
        "nodes": ["neutral in", on["nodes"][0]],
    }
    key["nodes"] = [key["nodes"][0], "neutral in"]
    body["circuit"]["branches"] = [feed, key, neutral, on, strap]
    assert run("relay-retrofit", **body).advice == "relay"
    body["proposal"]["coil_feed_node"] = "neutral in"
    answer = run("relay-retrofit", **body)
    assert answer.advice == "unsafe"
    assert ("switch_in_charge", "neutral switch") in checked(answer, "fail")


def test_a_feed_from_before_the_isolator_is_unsafe(run):
    body = starter(length_m=11, zone_c=120)
    isolator = {
        **contact("isolator", "switch", 0.0005, rating_a=300, isolates=True),
        "nodes": ["post", "behind it"],
    }
    body["circuit"]["branches"][0]["nodes"][0] = "behind it"
    body["circuit"]["branches"].append(isolator)
    answer = run("relay-retrofit", **body)
    assert answer.advice == "unsafe"
    assert ("switch_in_charge", "isolator") in checked(answer, "fail")
    body["proposal"]["feed_node"] = "behind it"
    assert run("relay-retrofit", **body).advice == "relay"


@pytest.mark.parametrize(("rating_a", "asked_about"), [(300, True), (30, False)])
def test_a_battery_switch_that_nobody_calls_an_isolator_is_asked_about(run, rating_a, asked_about):
    """A feed from its battery side stays live when it is opened; one for 30 A cuts no battery."""
    body = starter(length_m=11, zone_c=120)
    master = contact("master", "switch", 0.0005, rating_a=rating_a)
    body["circuit"]["branches"][0]["nodes"][0] = "behind it"
    body["circuit"]["branches"].append({**master, "nodes": ["post", "behind it"]})
    answer = run("relay-retrofit", **body)
    assert (("switch_in_charge", "master") in checked(answer, "marginal")) == asked_about
    assert answer.advice == "relay"


def test_of_a_wire_that_lacks_its_insulation_only_that_is_asked_for(run):
    """Its size and length are there: to be asked for them again sends one to read them twice."""
    body = without(starter(length_m=11, zone_c=120), "insulation", "relay feed")
    checks = run("relay-retrofit", **body).checks
    told = next(each for each in checks if each.code == "wire_judged")
    assert told.part == "relay feed"
    assert "The insulation of relay feed is not known" in told.message
    assert "length" not in told.message


def test_a_ground_on_the_live_side_is_refused_at_its_field(run):
    body = starter(length_m=11, zone_c=120)
    body["proposal"]["load_ground_node"] = "post"
    with pytest.raises(Refused) as refused:
        run("relay-retrofit", **body)
    (error,) = refused.value.errors
    assert error["pointer"] == "#/proposal/load_ground_node"
    assert "side of the source that the body is on" in error["detail"]


def test_no_way_works_whose_load_is_off_in_a_case(run):
    """Grounded at the block then, whose strap the second case leaves out: it gets nothing there."""
    body = starter(length_m=11, zone_c=120)
    strap = {**contact("block strap", "ground", 0.001), "nodes": ["block", "ground"]}
    lamp = {"name": "lamp", "kind": "lamp", "rated_power_w": 5, "rated_v": 12}
    body["circuit"]["branches"].append(strap)
    body["circuit"]["loads"].append({**lamp, "nodes": ["post", "block"]})
    assert run("relay-retrofit", **body).advice == "relay"
    body["proposal"]["load_ground_node"] = "block"
    assert run("relay-retrofit", **body).advice == "relay"
    body["cases"].append({**body["cases"][0], "name": "strap off", "without": ["block strap"]})
    answer = run("relay-retrofit", **body)
    assert answer.advice != "relay"
    relays = [way for way in answer.ways if "relay" in way.code]
    assert relays
    assert all(way.load_voltage_v < 1.0 and not way.works for way in relays)
