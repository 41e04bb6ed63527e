"""The sheet for a relay: every terminal once, lengths, polarity, interlocks, volts, colours.

Lengths are done by hand. What the trade does is common practice, no source: 86 has plus where a
diode lies across the coil, the post joined to the body comes off first, interlocks stay.
"""

import copy
from collections import Counter

import pytest

from lastvolt_service.api import OPERATIONS

from .retrofit_circuits import asked, contact, cranking, fan, headlamps, starter, wire

EXAMPLE = next(each for each in OPERATIONS if each.name == "work-sheet").schema.example
LONG = {"length_m": 11, "zone_c": 120}  # a relay is advised: see the cases of its advice


def example():
    return copy.deepcopy(EXAMPLE)


def needs_relay(**relay):
    """A starter behind a long thin harness, of whose relay some things are said."""
    return starter(**LONG, relay=relay)


def positive_ground(body):
    """The same vehicle with its battery the other way round."""
    source = body["circuit"]["source"]
    source["plus"], source["minus"] = "ground", source["plus"]
    return body


def horn():
    """A ring in the ground lead of the horns, which go to the body with the relay."""
    horns = {"name": "horns", "kind": "resistance", "resistance_ohm": 1.2, "needed_v": 10.5}
    return asked(
        contact("horn fuse", "fuse", 0.003, rating_a=20),
        wire("to the horns", "14 AWG", 3),
        horns,
        wire("from the horns", "14 AWG", 4),
        contact("horn ring", "switch", 0.03, rating_a=15),
        load=horns,
        switch="horn ring",
    )


def ends(answer):
    return [
        end
        for each in answer.wiring
        for end in ((each.from_part, each.from_terminal), (each.to_part, each.to_terminal))
    ]


def at(answer, part, terminal):
    """What is joined to a terminal."""
    for each in answer.wiring:
        if (each.to_part, each.to_terminal) == (part, terminal):
            return each.from_part
        if (each.from_part, each.from_terminal) == (part, terminal):
            return each.to_part
    return None


def texts(answer, code):
    return [each.text for each in answer.order if each.code == code]


def joined_to(answer):
    """The step that joins the coil."""
    return next(each for each in answer.order if each.code.startswith("coil_"))


MAKES = {"example": example, "starter": needs_relay, "fan": fan, "lamps": headlamps, "horn": horn}


@pytest.mark.parametrize("name", MAKES)
def test_every_terminal_of_every_new_part_stands_once(run, name):
    body = MAKES[name]()
    answer = run("work-sheet", **body)
    assert answer.sheet == "ready"
    proposal, counted = body["proposal"], Counter(ends(answer))
    relay = proposal["relay"]["name"]
    assert [counted[relay, each] for each in ("30", "85", "86", "87")] == [1, 1, 1, 1]
    new = [*proposal["feed"], *proposal["outlet"]]
    for each in new:
        if each["kind"] == "wire":
            assert [row.wire for row in answer.wiring].count(each["name"]) == 1
        else:
            assert (counted[each["name"], "in"], counted[each["name"], "out"]) == (1, 1)
    laid = [row.wire for row in answer.wiring if row.wire]
    assert sorted(laid) == sorted(each.name for each in answer.wires)
    # Both ends of every lead are crimped.
    assert Counter(each.wire for each in answer.terminals) == Counter(laid + laid)
    assert [row.number for row in answer.wiring] == [*range(1, len(answer.wiring) + 1)]


def test_the_way_of_the_current_is_told_in_order(run):
    answer = run("work-sheet", **EXAMPLE)
    rows = [(each.from_part, each.wire, each.to_part, each.to_terminal) for each in answer.wiring]
    assert rows == [
        ("battery post", None, "relay fuse", "in"),
        ("relay fuse", "starter cable to relay", "start relay", "30"),
        ("start relay", "relay to solenoid", "starter solenoid", "terminal 50"),
        ("wire to the rear", "lead to 86", "start relay", "86"),
        ("engine block", "lead to 85", "start relay", "85"),
    ]


def test_two_wires_in_a_row_meet_in_a_joint(run):
    body = example()
    more = {**body["proposal"]["feed"][1], "name": "more of it", "length_m": 0.2}
    body["proposal"]["feed"].append(more)
    answer = run("work-sheet", **body)
    joint = "starter cable to relay / more of it"
    assert [each.code for each in answer.terminals if each.part == joint] == ["joint", "joint"]
    assert at(answer, "start relay", "30") == joint


def test_lengths_are_cut_with_slack(run):
    body = example()
    feed, outlet = body["proposal"]["feed"][1], body["proposal"]["outlet"][0]

    def cut(**more):
        found = run("work-sheet", **{**body, **more})
        return [(each.slack, each.cut_length_m) for each in found.wires]

    # A tenth of 0.6 m is too little for a loop: 0.1 m. A quarter of 0.4 m is as much.
    assert cut()[:2] == [("least", pytest.approx(0.7)), ("moving_engine", pytest.approx(0.5))]
    feed["length_m"], outlet["length_m"] = 2.0, {"low": 1.0, "high": 1.2}
    # 2.0 m and 0.2 m; of a length that is not known the longest, 1.2 m and 0.3 m.
    assert cut()[:2] == [("usual", pytest.approx(2.2)), ("moving_engine", pytest.approx(1.5))]
    # 2.0 m and 0.1 m, 1.2 m and 0.06 m.
    given = [("as_given", pytest.approx(2.1)), ("as_given", pytest.approx(1.26))]
    assert cut(slack_percent=5)[:2] == given
    own = cut(slack_percent=5, slack_of_wire_percent={outlet["name"]: 50})
    assert own[1] == ("as_given", pytest.approx(1.8))
    # Nobody has measured the leads of the coil.
    assert [each for _, each in cut()[2:]] == [None, None]


def test_only_an_engine_moves(run):
    for body in (fan(), headlamps()):
        codes = {each.slack for each in run("work-sheet", **body).wires}
        assert "moving_engine" not in codes
    body = example()
    # Taken from the starter's own stud, the feed has an end on the engine, too.
    main = {**body["proposal"]["feed"][1], "nodes": ["battery post", "stud"]}
    body["circuit"]["branches"].append({**main, "name": "main cable", "size": "2/0 AWG"})
    body["proposal"]["feed_node"] = "stud"
    body["proposal"]["feed"][1]["length_m"] = 2.0
    answer = run("work-sheet", **body)
    assert answer.wires[0].slack == "moving_engine"
    assert answer.wires[0].cut_length_m == pytest.approx(2.5)


def test_the_leads_of_the_coil_are_as_thick_as_the_wire_that_feeds_them(run):
    body = example()
    body["circuit"]["branches"][2]["size"] = "14 AWG"
    found = {each.name: each for each in run("work-sheet", **body).wires}
    assert found["lead to 86"].size == found["lead to 85"].size == "14 AWG"


DIODES = {
    "diode": {"suppression": {"kind": "diode"}},
    "zener": {"suppression": {"kind": "zener", "zener_v": 24}},
    "not known": {},
}
FREE = {
    "none": {"suppression": {"kind": "none"}},
    "resistor": {"suppression": {"kind": "resistor", "resistance_ohm": 470}},
}


@pytest.mark.parametrize("kind", DIODES)
def test_86_has_plus_where_a_diode_lies_or_may_lie_across_the_coil(run, kind):
    body = needs_relay(**DIODES[kind])
    answer = run("work-sheet", **body)
    code = "coil_may_have_diode" if kind == "not known" else "coil_with_diode"
    assert joined_to(answer).code == code
    assert "86 has plus" in joined_to(answer).text
    old = "to the starter"
    assert at(answer, "relay", "86") == old
    other = at(answer, "relay", "85")
    turned = run("work-sheet", **positive_ground(body))
    assert at(turned, "relay", "85") == old  # the switched lead has minus there
    assert at(turned, "relay", "86") == other
    assert joined_to(turned).code == code


@pytest.mark.parametrize("kind", DIODES)
def test_a_coil_named_the_wrong_way_round_is_still_joined_by_polarity(run, kind):
    body = needs_relay(**DIODES[kind])
    right = run("work-sheet", **body)
    nodes = body["circuit"]["loads"][0]["nodes"]
    body["circuit"]["loads"][0]["nodes"] = nodes[::-1]
    turned = run("work-sheet", **body)
    assert at(turned, "relay", "86") == at(right, "relay", "86") == "to the starter"


@pytest.mark.parametrize("kind", FREE)
def test_without_a_diode_the_coil_may_be_turned_round(run, kind):
    for body in (needs_relay(**FREE[kind]), positive_ground(needs_relay(**FREE[kind]))):
        answer = run("work-sheet", **body)
        assert joined_to(answer).code == "coil_as_you_like"
        assert at(answer, "relay", "86") == "to the starter"


COLOURS = ["BK/YE", " noir  (fil jaune) ", "<b>rot</b>", "緑 & 白", "{load}", "a\u00a0b"]


@pytest.mark.parametrize("colour", COLOURS)
def test_colours_are_kept_to_the_letter(run, colour):
    body = {**example(), "colours": {"wire to the rear": colour, "relay to solenoid": colour}}
    answer = run("work-sheet", **body)
    found = {each.wire: each.colour for each in answer.wiring}
    assert found["relay to solenoid"] == colour
    assert found["lead to 86"] == colour  # it goes on from the old wire
    assert found["lead to 85"] is None
    assert [each.colour for each in answer.old_wires] == [colour]


def test_blades_are_those_given_else_those_of_practice(run):
    body = example()
    body["blade_mm"] = {"30": 9.5, "85": 4.8}
    found = {
        each.terminal: (each.blades_mm, each.is_given)
        for each in run("work-sheet", **body).terminals
        if each.code == "blade"
    }
    # A contact for 50 A may have blades of either width; the old wire, and so the lead to 86, has
    # more than the 1.5 mm2 that go onto one of 2.8 mm.
    assert found == {
        "30": ((9.5,), True),
        "87": ((6.3, 9.5), False),
        "85": ((4.8,), True),
        "86": ((6.3,), False),
    }
    body["proposal"]["relay"]["rating_a"] = 40
    blades = {each.terminal: each.blades_mm for each in run("work-sheet", **body).terminals}
    assert blades["87"] == (6.3,)


@pytest.mark.parametrize("name", MAKES)
def test_volts_are_those_of_the_other_operations(run, name):
    body = MAKES[name]()
    sheet = run("work-sheet", **body)
    asks = ("circuit", "cases", "load", "switch", "proposal", "nominal_v")
    retrofit = run("relay-retrofit", **{key: body[key] for key in asks if key in body})
    as_is = run("circuit-check", circuit=body["circuit"], cases=body["cases"])
    found = {each.code: each.expected for each in sheet.readings}
    for place, case in enumerate(retrofit.cases):
        load = found["across_load"][place]
        assert load.case == case.name
        assert load.as_is_v == pytest.approx(case.as_is.load_voltage_v, abs=1e-9)
        assert load.with_relay_v == pytest.approx(case.proposed.load_voltage_v, abs=1e-9)
        switch = next(p for p in as_is.cases[place].parts if p.name == body["switch"])
        assert found["across_switch"][place].as_is_v == pytest.approx(switch.drop_v, abs=1e-9)
        assert found["supply"][place].as_is_v == pytest.approx(as_is.cases[place].source_v)
        # What the battery holds is what reaches the load and what is lost both ways.
        for version in ("as_is_v", "with_relay_v"):
            parts = ("across_load", "live_side", "ground_side")
            total = sum(getattr(found[each][place], version) for each in parts)
            assert total == pytest.approx(getattr(found["supply"][place], version))
        assert found["across_contact"][place].as_is_v is None
        if "resistance_ohm" in (of_load := body["circuit"]["loads"][0]):
            # The contact drops what its 3 milliohm ask of the load's current, by Ohm's law.
            amps = load.with_relay_v / of_load["resistance_ohm"]
            assert found["across_contact"][place].with_relay_v == pytest.approx(0.003 * amps)
        assert found["across_coil"][place].with_relay_v > body["proposal"]["relay"]["drop_out_v"]


def test_what_has_pulled_in_before_is_read_as_held(run):
    """In the sag the relay would not close any more, and stays closed all the same."""
    body = cranking(inside_ohm=0.03, hold_v=4.0)
    sheet = run("work-sheet", **body)
    (case,) = run("relay-retrofit", **body).cases
    (load,) = next(each for each in sheet.readings if each.code == "across_load").expected
    assert load.with_relay_v < body["proposal"]["relay"]["pick_up_v"]
    assert load.with_relay_v == pytest.approx(case.proposed.load_voltage_v, abs=1e-9)
    assert load.with_relay_v > 5


def test_the_red_lead_is_where_plus_is(run):
    for body in (example(), positive_ground(example())):
        for each in run("work-sheet", **body).readings:
            assert all(one.with_relay_v >= 0 for one in each.expected), each.code
    first = run("work-sheet", **positive_ground(example())).readings[0]
    assert (first.red, first.black) == ("ground", "battery post")


def test_a_wire_that_no_blade_takes_is_told(run):
    """Common practice: a receptacle of 6.3 mm grips up to 6 mm2, one of 9.5 mm up to 10.

    4 AWG has 21 mm2, 8 AWG 8.4, 10 AWG 5.3.
    """

    def gripped(size, rating_a):
        body = example()
        body["proposal"]["relay"]["rating_a"] = rating_a
        for each in (*body["proposal"]["feed"], *body["proposal"]["outlet"]):
            if each["kind"] == "wire":
                each["size"] = size
        ends = run("work-sheet", **body).terminals
        assert all(each.is_gripped for each in ends if each.terminal in {None, "85", "86"})
        return {each.is_gripped for each in ends if each.terminal in {"30", "87"}}

    assert gripped("4 AWG", 80) == {False}
    assert gripped("8 AWG", 80) == {True}
    assert gripped("8 AWG", 40) == {False}
    assert gripped("10 AWG", 40) == {True}


@pytest.mark.parametrize(
    ("size", "rating_a", "old", "widths"),
    [
        ("8 AWG", 80, "12 AWG", {"30": (9.5,), "87": (9.5,), "85": (6.3,), "86": (6.3,)}),
        ("10 AWG", 80, "16 AWG", {"30": (6.3, 9.5), "86": (2.8, 6.3)}),
        ("4 AWG", 80, "16 AWG", {"30": (6.3, 9.5)}),  # none takes it: studs
    ],
)
def test_no_blade_is_named_that_takes_no_such_wire(run, size, rating_a, old, widths):
    """Common practice: 2.8 mm grip up to 1.5 mm2, 6.3 mm up to 6, 9.5 mm up to 10.

    16 AWG have 1.3 mm2, 12 AWG 3.3, 10 AWG 5.3, 8 AWG 8.4.
    """
    body = example()
    del body["blade_mm"]
    body["proposal"]["relay"]["rating_a"] = rating_a
    for each in (*body["proposal"]["feed"], *body["proposal"]["outlet"]):
        if each["kind"] == "wire":
            each["size"] = size
    for each in body["circuit"]["branches"]:
        if each["kind"] == "wire":
            each["size"] = old
    found = {each.terminal: each.blades_mm for each in run("work-sheet", **body).terminals}
    assert {key: found[key] for key in widths} == widths
