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


@pytest.mark.parametrize(
    ("turn", "post"), [(lambda b: b, "negative"), (positive_ground, "positive")]
)
def test_the_post_joined_to_the_body_comes_off_first_and_on_last(run, turn, post):
    answer = run("work-sheet", **turn(example()))
    codes = [each.code for each in answer.order]
    (off,), (on,) = texts(answer, "post_off"), texts(answer, "post_on")
    assert f"the {post} post" in off
    assert f"the {post} post" in on
    other = "positive" if post == "negative" else "negative"
    assert f"the {other} post" not in off + on
    touched = {
        "mount", "mount_holder", "cut", "old_lead_off", "coil_with_diode", "join_contact", "lay"
    }  # fmt: skip
    for place, code in enumerate(codes):
        if code in touched:
            assert codes.index("post_off") < place < codes.index("post_on")
    assert codes.index("read_before") < codes.index("post_off")
    assert codes.index("post_on") < codes.index("read_after")


def test_other_batteries_are_taken_off_too(run):
    body = example()
    body["circuit"]["further_sources"] = [
        {"name": "house battery", "kind": "battery", "nodes": ["battery post", "ground"],
         "open_circuit_v": 12.4, "internal_resistance_ohm": 0.01},
    ]  # fmt: skip
    answer = run("work-sheet", **body)
    assert "house battery" in texts(answer, "other_batteries")[0]


def test_interlocks_stay_and_are_tried_before_the_fuse_goes_in(run):
    answer = run("work-sheet", **EXAMPLE)
    assert [each.part for each in answer.interlocks] == ["key switch", "neutral switch"]
    assert {each.code for each in answer.interlocks} == {"alone"}
    (stays,) = texts(answer, "interlocks_stay")
    assert "key switch" in stays
    assert "neutral switch" in stays
    assert texts(answer, "try_interlock") == [each.test for each in answer.interlocks]
    codes = [each.code for each in answer.order]
    # Nothing turns while they are tried: the gear may be in.
    last = max(place for place, code in enumerate(codes) if code == "try_interlock")
    assert codes.index("post_on") < codes.index("try_dry") < last < codes.index("fuse_in")


def test_an_isolator_and_switches_side_by_side_are_told_as_such(run):
    body = example()
    branches = body["circuit"]["branches"]
    branches.append(
        {"name": "start button", "kind": "contact", "part": "switch",
         "nodes": ["key in", "key out"], "resistance_ohm": 0.02, "rating_a": 30}
    )  # fmt: skip
    post = {"name": "isolator", "kind": "contact", "part": "switch", "isolates": True,
            "nodes": ["live post", "battery post"], "resistance_ohm": 0.0005}  # fmt: skip
    branches.append(post)
    body["circuit"]["source"]["plus"] = "live post"
    answer = run("work-sheet", **body)
    assert {each.part: each.code for each in answer.interlocks} == {
        "key switch": "side_by_side",
        "start button": "side_by_side",
        "neutral switch": "alone",
        "isolator": "isolator",
    }


def test_the_old_lead_keeps_its_terminal_and_goes_back_by_the_roadside(run):
    answer = run("work-sheet", **EXAMPLE)
    (off,), (back,) = texts(answer, "old_lead_off"), texts(answer, "roadside")
    assert "wire to the rear" in off
    assert "Leave its terminal on" in off
    assert "wire to the rear back on terminal 50" in back
    spare = {each.code for each in answer.parts}
    assert {"spare_relay", "spare_fuse", "fuse_holder", "relay_socket"} <= spare
    assert texts(answer, "spares")


def on_terminal_50(*branches, loads=(), first=False):
    """The example with more on the solenoid's terminal, listed before all else or after it."""
    body = example()
    listed = body["circuit"]["branches"]
    body["circuit"]["branches"] = [*branches, *listed] if first else [*listed, *branches]
    body["circuit"]["loads"] += loads
    return body


SECOND = wire("second wire", "12 AWG", 11) | {"nodes": ["neutral out", "terminal 50"]}
PILOT = {
    "name": "pilot", "kind": "lamp", "rated_power_w": 2, "rated_v": 12,
    "nodes": ["terminal 50", "ground"],
}  # fmt: skip


@pytest.mark.parametrize("first", [False, True])
@pytest.mark.parametrize(
    ("more", "names"),
    [
        ({"branches": [SECOND]}, {"second wire", "wire to the rear"}),
        ({"branches": [], "loads": [PILOT]}, {"pilot", "wire to the rear"}),
    ],
)
def test_all_that_is_on_the_loads_terminal_comes_off_and_stays_together(run, first, more, names):
    """Left on, the second wire would lead from 87 over the load's terminal back to 86."""
    body = on_terminal_50(*more["branches"], loads=more.get("loads", ()), first=first)
    answer = run("work-sheet", **body)
    assert answer.sheet == "ready"
    (off,) = texts(answer, "old_lead_off")
    assert all(name in off for name in names)
    assert "joined to one another" in off
    assert all(name in joined_to(answer).text for name in names)
    assert at(answer, "start relay", "86") in (names if first else {"wire to the rear"})
    wires = names - {"pilot"}
    assert {each.name for each in answer.old_wires if each.comes_off} == wires
    together = [each for each in answer.wiring if {each.from_part, each.to_part} == names]
    assert len(together) == 1
    assert all(name in texts(answer, "roadside")[0] for name in names)


def test_no_sheet_where_what_is_there_holds_the_relay(run):
    """A ballast's bypass, fed from the run contact: half of 12.4 V stay at a coil for 1.2 V."""
    bypass = wire("bypass", "14 AWG", 1) | {"nodes": ["terminal 50", "coil in"]}
    ballast = {
        "name": "ballast", "kind": "resistance", "nodes": ["run out", "coil in"],
        "resistance_ohm": 1.5,
    }  # fmt: skip
    run_contact = contact("run contact", "switch", 0.005, rating_a=20) | {
        "nodes": ["key in", "run out"]
    }
    coil = {
        "name": "ignition coil", "kind": "resistance", "nodes": ["coil in", "engine block"],
        "resistance_ohm": 1.5,
    }  # fmt: skip
    answer = run("work-sheet", **on_terminal_50(bypass, ballast, run_contact, loads=[coil]))
    assert (answer.sheet, answer.order) == ("not_safe", ())
    assert "kept_closed" in {each.code for each in answer.missing}
    assert "bypass" in answer.headline


def test_of_a_plug_at_the_load_the_wire_is_named(run):
    body = example()
    rear = next(e for e in body["circuit"]["branches"] if e["name"] == "wire to the rear")
    rear["nodes"] = ["neutral out", "plug"]
    spade = contact("spade", "connector", 0.003) | {"nodes": ["plug", "terminal 50"]}
    body["circuit"]["branches"].append(spade)
    answer = run("work-sheet", **body)
    assert texts(answer, "old_lead_off")[0].startswith("Take wire to the rear off")
    assert "Join wire to the rear to 86" in joined_to(answer).text
    assert at(answer, "start relay", "86") == "wire to the rear"


def test_a_switch_in_the_ground_lead_takes_both_leads_off(run):
    answer = run("work-sheet", **horn())
    assert at(answer, "relay", "86") == "to the horns"
    assert at(answer, "relay", "85") == "from the horns"
    assert len(texts(answer, "old_lead_off")) == 2
    assert texts(answer, "load_ground") == ["Ground horns at ground."]
    assert at(answer, "ground", None) == "horns"
    (back,) = texts(answer, "roadside")
    # Left on, the new ground lead would sound the horns for ever.
    assert "its new ground lead off" in back
    assert "to the horns, from the horns back on" in back


def test_a_coil_fed_from_elsewhere_leaves_the_old_lead_covered(run):
    body = example()
    body["proposal"]["coil_feed_node"] = "neutral out"
    answer = run("work-sheet", **body)
    assert at(answer, "start relay", "86") == "neutral out"
    assert "wire to the rear" in texts(answer, "old_lead_unused")[0]


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
