"""Relays of a list in places: what a careful mechanic takes, and what is refused."""

import copy
import random
from typing import get_args

import pytest
from marshmallow import ValidationError

from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.work import MOST_OF_CHOICES
from lastvolt_service.operations.decision.choice_request import RelayChoiceRequest
from lastvolt_service.operations.decision.choice_wires import WhyNot
from lastvolt_service.operations.wires.size_needs import NO_SIZE_HELPS
from lastvolt_service.words import catalogue

from .relay_lists import headlamps_of, place, post, question, relay
from .retrofit_circuits import HEADLAMPS, fan, headlamps, starter


def two_places():
    return [
        place("bulkhead", "engine", "splash", 0.8, 0.8),
        place("on the starter", "starter", "on_the_hot_part", 0.2, 0.2),
    ]


def starting(candidates, places=None, **more):
    zones = {"engine": 85, "starter": 115}
    return question(starter(), candidates, places or two_places(), zones=zones, **more)


def test_wires_are_those_of_wire_sizing():
    """By hand: what the fan takes at 12.6 V, 0.6 ohm, 8 mohm and 1 mohm of ground: 20.7 A."""
    body = question(
        fan(), [relay("one")], [place("front", "front", feed_m=1.0, outlet_m=2.0)],
        zones={"front": 60}, load_kind="motor",
    )  # fmt: skip
    (wired,) = post("relay-choice", body)["places"]
    amps = 12.6 / (0.6 + 0.008 + 0.001)
    assert 0.95 * amps < wired["current_a"] < amps  # with its wires a little less
    assert wired["length_m"] == 3.0
    sized = post(
        "wire-sizing",
        {
            "supply_v": amps * 0.6, "nominal_v": 12, "needed_v": 10.5, "load_current_a": amps,
            "length_m": 3.0, "return_path": "body", "body_resistance_ohm": 0, "insulation": "GXL",
            "ambient_c": 60,
        },
    )  # fmt: skip
    for key in ("size", "fuse_rating_a", "fuse_family"):
        assert wired[key] == sized[key]


def test_not_on_the_hot_part_though_it_is_nearest():
    """Common practice: 115 degC are within this relay's 125, and yet it does not belong there."""
    answer = post("relay-choice", starting([relay("sealed")]))
    assert [(row["place"], row["rank"]) for row in answer["ranking"]] == [
        ("bulkhead", 1),
        ("on the starter", 2),
    ]
    told = {each["code"]: each for each in answer["reasons"]}
    assert told["not_on_the_hot_part"]["part"] == "on the starter"
    assert told["not_on_the_hot_part"]["values"] == {"ambient_c": 115}
    assert "15 to 30 minutes" in told["not_on_the_hot_part"]["message"]
    assert "terminals down" in told["place_splash"]["message"]
    # What it costs in volts: more than the short way would.
    assert told["lengths_cost"]["values"]["length_m"] == pytest.approx(1.6)
    assert told["lengths_would_cost"]["values"]["length_m"] == pytest.approx(0.4)


@pytest.mark.parametrize(("metres", "taken"), [((3.5, 3.0), "wing"), ((0.8, 0.9), "dash")])
def test_near_the_load_with_its_terminals_down_rather_than_dry_and_far(metres, taken):
    """From the trade: near load and battery; nobody draws two harnesses to keep a relay dry."""
    body = question(
        headlamps(switch_ohm=0.02), [relay("sealed")],
        [place("wing", "bay", "splash", 0.6, 0.8), place("dash", "cab", "dry", *metres)],
        zones={"bay": 70, "cab": 40}, load_kind="lamp",
    )  # fmt: skip
    answer = post("relay-choice", body)
    assert answer["best"]["place"] == taken


@pytest.mark.parametrize(("metres", "taken"), [((4.5, 4.5), "bulkhead"), ((1.5, 1.5), "dash")])
def test_a_relay_that_bears_the_heat_stays_near_rather_than_far_off_and_cool(metres, taken):
    """From the trade: nobody draws 9 m of thick wire to a starter to keep a relay for 125 at 50."""
    body = question(
        starter(), [relay("sealed")],
        [place("bulkhead", "bay", "splash", 0.6, 0.8), place("dash", "cab", "dry", *metres)],
        zones={"bay": 90, "cab": 50, "starter": 115},
    )  # fmt: skip
    assert post("relay-choice", body)["best"]["place"] == taken
    # One for 85 degC goes where that is not exceeded, however far.
    body["candidates"][0]["highest_ambient_c"] = 85
    assert post("relay-choice", body)["best"]["place"] == "dash"


def test_a_relay_for_another_voltage_is_told_from_one_that_is_too_small():
    """12.6 V never close a coil for 24 V; a 12 V solenoid of 0.9 ohm takes some 13 A."""
    body = starting(
        [relay("of the lorry", volts=24), relay("small", rating_a=5, derating=[]), relay("right")]
    )
    answer = post("relay-choice", body)
    why = {each["candidate"]: each for each in answer["rejected"]}
    assert why["of the lorry"]["code"] == "pick_up_at_ambient"
    assert why["small"]["code"] == "steady_current"
    # In both places alike: told once.
    assert why["small"]["places"] == ["bulkhead", "on the starter"]
    assert answer["best"]["candidate"] == "right"


def test_a_six_volt_relay_is_burnt_in_a_twelve_volt_system():
    """22 ohm are 23.7 at 40 degC: 6.7 W x 30 K/W, less what copper gains, are 130 K: 170 degC."""
    answer = post("relay-choice", question(
        headlamps(), [relay("old stock", volts=6, coil_limit_c=155)], [place("front", "front")],
        zones={"front": 40}, load_kind="resistive",
    ))  # fmt: skip
    assert answer["best"] is None
    (why,) = answer["rejected"]
    assert why["code"] == "continuous_voltage"
    assert answer["wanted"]["nominal_v"] == 12


def test_the_cheaper_of_two_that_do():
    body = starting([relay("dear", cost=20), relay("cheap", cost=6), relay("of unknown price")])
    answer = post("relay-choice", body)
    in_bulkhead = [r["candidate"] for r in answer["ranking"] if r["place"] == "bulkhead"]
    assert in_bulkhead == ["cheap", "dear", "of unknown price"]


def test_two_that_nothing_tells_apart_have_one_rank():
    answer = post("relay-choice", starting([relay("one"), relay("another")]))
    assert [row["rank"] for row in answer["ranking"]] == [1, 1, 3, 3]


def test_one_without_a_rating_is_to_be_asked_for_and_not_taken():
    bare = relay("unmarked")
    del bare["rating_a"], bare["derating"]
    answer = post("relay-choice", starting([bare]))
    assert answer["best"] is None
    (why,) = answer["rejected"]
    assert (why["code"], why["verdict"]) == ("rating_given", "unknown")


def test_where_no_relay_bears_the_heat_the_answer_says_which_would():
    """Only on the starter, 115 degC, and a relay for 85."""
    only = [place("on the starter", "starter", "on_the_hot_part", 0.2, 0.2)]
    answer = post("relay-choice", starting([relay("of the dash", highest_ambient_c=85)], only))
    assert answer["best"] is answer["advice"] is None
    assert answer["verdict"] == "fail"
    assert answer["rejected"][0]["code"] == "highest_ambient"
    wanted = answer["wanted"]
    assert (wanted["place"], wanted["ambient_c"]) == ("on the starter", 115)
    # 0.9 ohm of copper at 20 degC are 0.9 x (1 + 0.00393 x 95) = 1.236 ohm at 115 degC, behind
    # 8 mohm of battery: 12.6 V / 1.244 ohm = 10.13 A, and wires take little of that.
    assert 10.13 * 0.98 < wanted["current_a"] < 10.13
    assert "115" in answer["headline"]


def test_insulation_that_is_no_cooler_than_the_air_leaves_a_place_out():
    """GXL is for 125 degC: at 130 no size of it carries anything."""
    hot = [place("at the manifold", "manifold", "dry", 0.5, 0.5)]
    body = question(starter(), [relay("one")], hot, zones={"manifold": 130})
    answer = post("relay-choice", body)
    (why,) = answer["rejected"]
    assert (why["candidate"], why["code"]) == (None, "ambient")
    assert answer["places"][0]["size"] is None
    assert answer["wanted"] is None


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"kind": "current", "current_a": 0.0}, "no_current"),
        ({"kind": "resistance", "resistance_ohm": 1e6}, None),
        ({"kind": "resistance", "resistance_ohm": 1e-4}, "low_supply"),
    ],
)
def test_a_load_that_takes_next_to_nothing_or_everything_is_no_fault_of_ours(changes, code):
    load = {"name": "headlamps", "needed_v": 1.0, **changes}
    here = [place("front", "front")]
    body = question(headlamps_of(load, 12, 0.003), [relay("one")], here, zones={"front": 40})
    answer = post("relay-choice", body)
    whys = [each["code"] for each in answer["rejected"] if each["candidate"] is None]
    assert whys == ([] if code is None else [code])


def test_heat_that_no_fuse_is_known_for_leaves_a_place_out():
    """Fuses are published up to 125 degC or less: not to 180, whatever the insulation bears."""
    hot = place("by the turbine", "turbine", insulation="GXL")
    body = question(starter(), [relay("one")], [hot, place("cool", "cool")],
                    zones={"turbine": 180, "cool": 40})  # fmt: skip
    answer = post("relay-choice", body)
    assert answer["best"]["place"] == "cool"
    (why,) = answer["rejected"]
    assert why["candidate"] is None
    assert why["places"] == ["by the turbine"]


def test_a_contact_that_may_carry_nothing_when_hot_is_no_fault_of_ours():
    spent = relay("spent", derating=[{"ambient_c": 50, "current_a": 0}])
    answer = post("relay-choice", starting([spent, relay("one")]))
    whys = {each["candidate"]: each["verdict"] for each in answer["rejected"]}
    assert "spent" in whys


def test_dry_and_farther_before_wet_and_near():
    """Common practice: half a metre more of wire costs hundredths of a volt, water a relay."""
    places = [place("in the wing", "engine", "stones", 0.5, 0.5),
              place("under the dash", "engine", "dry", 1.0, 1.0)]  # fmt: skip
    answer = post("relay-choice", starting([relay("one")], places))
    assert answer["best"]["place"] == "under the dash"


def test_sound_lamps_need_no_relay_and_the_first_line_says_so():
    body = question(
        headlamps(), [relay("one")], [place("front", "front")], zones={"front": 40},
        load_kind="lamp",
    )  # fmt: skip
    answer = post("relay-choice", body)
    kept = {key: body[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    single = post("relay-retrofit", kept | {"proposal": answer["best"]["proposal"]})
    assert answer["advice"] == single["advice"]
    assert single["advice"] == "nothing_needed"
    assert answer["headline"].startswith("No relay needed: enough reaches headlamps as it is.")


@pytest.mark.parametrize("seed", range(3))
def test_names_and_order_decide_nothing(seed):
    candidates = [
        relay("a", cost=5), relay("b", cost=5, rating_a=60),
        relay("c", cost=4, rating_a=5, derating=[]),
        relay("d", cost=9, contact_resistance_ohm=0.001),
        relay("e", volts=24),
    ]  # fmt: skip
    places = [*two_places(), place("by the battery", "engine", "splash", 0.5, 1.1)]
    body = starting(candidates, places)
    renamed = {"a": "z", "b": "y", "c": "x", "d": "w", "e": "v", "bulkhead": "2",
               "on the starter": "1", "by the battery": "0"}  # fmt: skip
    other = copy.deepcopy(body)
    for each in (*other["candidates"], *other["places"]):
        each["name"] = renamed[each["name"]]
    draw = random.Random(seed)  # no secret
    draw.shuffle(other["candidates"])
    draw.shuffle(other["places"])
    first, second = (post("relay-choice", each) for each in (body, other))
    told = {(renamed[r["candidate"]], renamed[r["place"]], r["rank"]) for r in first["ranking"]}
    assert told == {(r["candidate"], r["place"], r["rank"]) for r in second["ranking"]}
    why = {
        (renamed[each["candidate"]], frozenset(map(renamed.get, each["places"])), each["code"])
        for each in first["rejected"]
    }
    assert why == {
        (each["candidate"], frozenset(each["places"]), each["code"]) for each in second["rejected"]
    }


def test_what_is_known_within_bounds_is_not_taken_for_known():
    """8 to 40 A at 23 degC before some 10 A of a hot solenoid: it may burn, or may not."""
    curve = [{"ambient_c": 125, "current_a": 8}]
    vague = relay("vague", rating_a={"low": 8, "high": 40}, derating=curve)
    answer = post("relay-choice", starting([vague, relay("known", cost=1)]))
    assert {row["candidate"] for row in answer["ranking"]} == {"known"}
    (why,) = answer["rejected"]
    assert (why["candidate"], why["code"]) == ("vague", "steady_current")
    assert why["verdict"] == "undecided"


def test_a_bad_strap_is_to_be_mended_and_the_first_line_names_it():
    """Common practice: a relay hides a bad joint. 0.05 ohm of strap at 10 to 13 A: 0.6 V."""
    body = question(
        starter(strap=0.05), [relay("one")], [place("bulkhead", "engine")], zones={"engine": 70},
    )  # fmt: skip
    answer = post("relay-choice", body)
    assert answer["advice"] == "mend"
    assert answer["mend"] == ["engine strap"]
    assert answer["headline"].startswith("Mend it: it is enough to mend engine strap")


def test_positive_ground():
    """A 6 V saloon with its positive post on the body: the feed is taken from the negative one."""
    body = question(
        headlamps_of({**HEADLAMPS, "resistance_ohm": 0.6, "needed_v": 5.0}, 6, 0.1),
        [relay("six", volts=6)], [place("front", "front")], zones={"front": 40},
        load_kind="resistive",
    )  # fmt: skip
    plus = post("relay-choice", body)
    body["circuit"]["source"] |= {"plus": "ground", "minus": "post"}
    minus = post("relay-choice", body)
    assert plus["best"] is not None
    assert minus["best"]["load_voltage_v"] == pytest.approx(plus["best"]["load_voltage_v"])
    assert minus["best"]["size"] == plus["best"]["size"]


def changed_at(body, path, value):
    body = copy.deepcopy(body)
    *above, last = path
    inner = body
    for key in above:
        inner = inner[key]
    inner[last] = value
    return body


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (("places", 0, "feed_node"), "nowhere", "no such node"),
        (("places", 0, "feed_node"), "ground", "live side"),
        (("places", 0, "zone"), "engin", "did you mean 'engine'"),
        (("places", 1, "zone"), "moon", "on the hot part it decides"),
        (("places", 1, "name"), "bulkhead", "Another one has this name"),
        (("places", 0, "feed_length_m"), 0, ""),
        (("places", 0, "exposure"), "wet", ""),
        (("candidates", 0, "zone"), "engine", "The place says where it lies"),
        (("candidates", 0, "name"), "key switch", "Another part is called"),
        (("candidates", 0, "cost"), -1, ""),
        (("switch",), "nothing", "No contact of the circuit has this name"),
        (("switch",), "engine strap", "Name a switch or a plug"),
        (("load",), "nothing", "No load of the circuit has this name"),
    ],
)
def test_bad_input_is_told_where_it_stands(path, value, says):
    with pytest.raises((ValidationError, Refused)) as caught:
        post("relay-choice", changed_at(starting([relay("one")]), path, value))
    told = {
        (tuple(each["pointer"].removeprefix("#/").split("/")), each["detail"])
        for each in caught.value.errors
    }
    pointer = tuple(map(str, path))
    assert any(where == pointer and says in text for where, text in told), told


def test_no_list_without_end():
    many = [relay(f"relay {number}") for number in range(201)]
    with pytest.raises((ValidationError, Refused)):
        post("relay-choice", starting(many))


def test_what_is_over_the_bound_on_work_is_told_and_refused():
    """Relays that pass alone and fail in the circuit, more than the units of work allow."""
    many = [relay(f"relay {number}", cost=number) for number in range(200)]
    answer = post("relay-choice", starting(many))
    seen = len(answer["ranking"]) + sum(len(each["places"]) for each in answer["rejected"])
    assert seen + answer["not_looked_at"] == 400
    assert answer["not_looked_at"] > 0
    assert answer["best"]["candidate"] == "relay 0"
    unrated = copy.deepcopy(many)
    for each in unrated:
        del each["make_rating_a"], each["rating_a"], each["derating"]
    with pytest.raises(
        CalculationError, match=rf"400 relays in places .* {MOST_OF_CHOICES:,} units"
    ):
        post("relay-choice", starting(unrated))


@pytest.mark.parametrize(
    ("part", "ohm"), [("engine strap", 0.1), ("engine strap", 2), ("key switch", 50)]
)
def test_what_keeps_every_relay_from_helping_is_named(run, part, ohm):
    """An open key closes no relay, and a lost strap starves any: no other one is bought for it."""
    body = copy.deepcopy(RelayChoiceRequest.example)
    poor = next(each for each in body["circuit"]["branches"] if each["name"] == part)
    poor["resistance_ohm"] = ohm
    answer = run("relay-choice", **body)
    assert not answer.suits
    assert part in answer.mend
    assert part in answer.headline
    assert "No relay would help" not in answer.headline


def test_what_burns_is_told_whatever_relay_is_chosen(run):
    """20 W in a plastic switch: it is left off until it is mended."""
    body = copy.deepcopy(RelayChoiceRequest.example)
    switch = next(e for e in body["circuit"]["branches"] if e["name"] == body["switch"])
    switch["resistance_ohm"] = 0.2
    answer = run("relay-choice", **body)
    assert answer.suits
    assert answer.burns_as_it_is.part == body["switch"]
    assert f"Leave it off until then, or {body['switch']} may burn." in answer.headline


def test_where_the_feed_is_wrong_no_other_relay_is_asked_for(run):
    """All that keeps the relay of the spares box out is that it is fed from behind the key."""
    body = copy.deepcopy(RelayChoiceRequest.example)
    switch = next(e for e in body["circuit"]["branches"] if e["name"] == body["switch"])
    body["candidates"] = body["candidates"][:1]
    body["places"] = [body["places"][0] | {"feed_node": switch["nodes"][1]}]
    answer = run("relay-choice", **body)
    assert not answer.suits
    assert answer.nearest.code == "switch_in_charge"
    assert answer.nearest.message in answer.headline
    assert "What would do" not in answer.headline


@pytest.mark.parametrize(
    ("rating_a", "metres", "size", "studs"),
    [(40, 3, "10 AWG", False), (40, 8, "10 AWG", False), (80, 8, "8 AWG", False)],
)
def test_wire_goes_onto_the_blades_of_its_relay(rating_a, metres, size, studs):
    """By drop alone 8 m want 6 AWG (13 mm2): blades of 6.3 mm grip 6 mm2, of 9.5 mm 10 (practice).

    The fan works through what they grip: 8 m of 10 AWG are 26 mohm at 20 degC, 0.6 V of 12.6.
    """
    body = question(
        fan(), [relay("one", rating_a=rating_a)],
        [place("front", "front", feed_m=metres / 2, outlet_m=metres / 2)],
        zones={"front": 60}, load_kind="motor",
    )  # fmt: skip
    answer = post("relay-choice", body)
    assert answer["best"]["size"] == size
    assert any(each["code"] == "needs_studs" for each in answer["reasons"]) is studs
    new = answer["best"]["proposal"]
    assert {each["size"] for each in (*new["feed"][1:], *new["outlet"])} == {size}
    (row,) = answer["ranking"]
    assert row["size"] == size  # as it was reckoned with, whatever the place would get
    assert (answer["places"][0]["size"] == size) is (metres == 3)


def test_where_no_blade_takes_what_the_load_needs_the_relay_needs_studs():
    """20 m of 10 AWG are 65 mohm at 20 degC, 1.4 V at 20.7 A: the fan has 10.5 V no more."""
    body = question(
        fan(), [relay("one")], [place("front", "front", feed_m=10, outlet_m=10)],
        zones={"front": 60}, load_kind="motor",
    )  # fmt: skip
    answer = post("relay-choice", body)
    assert answer["best"]["size"] == "2 AWG"
    (told,) = [each for each in answer["reasons"] if each["code"] == "needs_studs"]
    assert told["part"] == "one"


@pytest.mark.parametrize(
    ("unknown", "asked_for"),
    [
        ({"rating_a": None, "derating": None, "make_rating_a": None, "rated_v": None}, "rating_a"),
        ({"pick_up_v": {"low": 6.0, "high": 11.3}}, "pick up voltage of sealed"),
        ({"contact_resistance_ohm": {"low": 0.001, "high": 0.3}}, "contact resistance of sealed"),
    ],
)
def test_what_is_only_not_known_is_found_out_and_not_called_unfit(unknown, asked_for):
    """From the trade: a relay that nothing speaks against is not sent back; its data are asked for.

    10 A over 0.3 ohm are 3 V of 12, over 1 mohm nothing; 11.3 V, hot, are more than there is.
    """
    one = {key: each for key, each in (relay("sealed") | unknown).items() if each is not None}
    answer = post("relay-choice", starting([one]))
    assert answer["best"] is None
    assert answer["headline"].startswith("Find out first")
    assert asked_for in answer["headline"]
    assert "None of these relays suits" not in answer["headline"]
    assert answer["verdict"] == "unknown"


def test_what_is_known_to_fail_is_still_called_unfit():
    """A coil for 24 V closes on 14.8 V by its sheet: no battery of 12 V has that."""
    answer = post("relay-choice", starting([relay("lorry's", volts=24)]))
    assert answer["headline"].startswith("None of these")
    assert answer["verdict"] == "fail"


def test_whatever_keeps_any_wire_from_helping_has_its_words():
    """wire-sizing may say each of these of a place: none of them is a fault of ours."""
    reasons = catalogue()["relay-choice"].reasons
    for code in NO_SIZE_HELPS:
        assert code in get_args(WhyNot)
        assert code in reasons
