"""A chafe past a contact, whatever lies between: it is named and parted, and never cleaned.

From the trade: what is on with its switch off is fed by something else, and that is looked for
along all of its wires, past every switch, fuse and relay on the way. What a chafe drops tells how
badly it conducts; cleaned it welds.
"""

import pytest

from .circuit_parts import contact, load, resistance, wire

SOURCE = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
OHMS = [0.05, 0.6, 3, 30]
WET_OHM = 10  # over so much nothing is said beside a closed switch, where next to nothing flows
CLEANS = {"contact_drop", "contact_heat"}


def fuse(name, start, end, rating_a=20):
    fields = {"part": "fuse", "rating_a": rating_a, "fuse_family": "blade C"}
    return contact(name, start, end, 0.002, **fields)


def switch(name, start, end, **fields):
    return contact(name, start, end, 0.004, part="switch", rating_a=30, **fields)


def lead(name, start, end):
    return wire(name, start, end, "14 AWG", 1, insulation="GXL")


def lamp(name, node, ohm=4, ground="ground"):
    made = load(name, node, ground, resistance_ohm=ohm)
    return made | {"needed_v": 9, "circuit": "continuous"}


def relay(name, coil, made, rest=None):
    found = {
        "name": name, "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7,
        "drop_out_v": 1.5, "contact_resistance_ohm": 0.002, "rating_a": 40,
        "coil_nodes": [coil, "ground"], "contact_nodes": made,
    }  # fmt: skip
    return found | ({"break_nodes": rest, "break_rating_a": 30} if rest else {})


def ask(run, branches, loads, *cases, relays=(), **more):
    circuit = {"source": SOURCE, "branches": branches, "loads": loads, "relays": relays, **more}
    named = [{"name": ", ".join(each) or "on", "without": each} for each in cases or [[]]]
    return run("circuit-check", circuit=circuit, cases=named, nominal_v=12)


def told(answer, *codes):
    made = (check for state in answer.cases for check in state.checks)
    sure = (c for c in made if c.verdict in {"fail", "undecided"})
    return {check.part: check for check in sure if check.code in codes}


def is_left_alone(answer):
    """Whether nobody is sent to clean the chafe, nor told that it is a sound contact."""
    made = {(check.part, check.code) for state in answer.cases for check in state.checks}
    mended = {each.name for each in answer.mend_first}
    return made.isdisjoint({("chafe", code) for code in CLEANS}) and "chafe" not in mended


def is_parted(answer):
    """Whether it is what is told first, and is left alone."""
    first = answer.weakest
    told_first = "chafe" in {first.part, first.detail} and first.verdict == "fail"
    return told_first and is_left_alone(answer)


# A main switch, and behind it one that feeds the one lamp or the other.
SELECTOR = [
    fuse("fuse", "post", "f"), switch("main", "f", "m"), lead("main lead", "m", "n"),
    switch("left", "n", "l"), lead("left lead", "l", "left end"),
    switch("right", "n", "r"), lead("right lead", "r", "right end"),
]  # fmt: skip
LAMPS = [lamp("left lamp", "left end"), lamp("right lamp", "right end", 6)]


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize(
    ("ends", "off", "past"),
    [
        (("f", "left end"), ["main"], {"main", "left"}),  # the row, the selector towards it
        (("f", "left end"), ["main", "right"], {"main", "left"}),
        (("post", "l"), ["main", "left"], {"main", "left"}),
        (("post", "n"), ["main", "right"], {"main"}),
        (("n", "right end"), ["right"], {"right"}),
    ],
)
def test_past_a_main_switch_and_a_selector_behind_it(run, ohm, ends, off, past):
    chafe = contact("chafe", *ends, ohm)
    answer = ask(run, [*SELECTOR, chafe], LAMPS, off)
    assert told(answer, "bridged").keys() == past
    assert is_parted(answer)


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize("leads", [(True, False), (False, True), (True, True)])
def test_drawn_with_leads_of_its_own_it_is_the_same(run, ohm, leads):
    ends = [f"chafed {end}" if has else end for end, has in zip(("f", "l"), leads, strict=True)]
    own = [lead(f"stub {e}", e, f"chafed {e}") for e, has in zip("fl", leads, strict=True) if has]
    answer = ask(run, [*SELECTOR, *own, contact("chafe", *ends, ohm)], LAMPS, ["main"], [])
    assert told(answer, "bridged").keys() == {"main", "left"}
    assert is_parted(answer)


COIL = [fuse("coil fuse", "post", "k", 5), switch("key", "k", "86")]
FED = [*COIL, fuse("fuse", "post", "30", 30), lead("out", "87", "end")]


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize("off", [["key"], []])
@pytest.mark.parametrize(
    ("ends", "others"),
    [
        (("30", "end"), []),
        (("clock", "end"), [fuse("clock fuse", "post", "clock", 10)]),
        (("clock", "87"), [fuse("clock fuse", "post", "clock", 10)]),
    ],
)
def test_past_the_contact_of_a_relay_from_its_own_feed_or_another(run, ohm, off, ends, others):
    loads = [lamp("lamp", "end"), *(lamp("clock lamp", "clock", 40) for _ in others)]
    relays = [relay("relay", "86", ["30", "87"])]
    answer = ask(run, [*FED, *others, contact("chafe", *ends, ohm)], loads, off, relays=relays)
    if off or ohm < WET_OHM:
        assert told(answer, "bridged")["relay"].detail == "chafe"
        assert is_parted(answer)
    assert is_left_alone(answer)


@pytest.mark.parametrize("ohm", [0.05, 0.3, 3])
@pytest.mark.parametrize("start", ["86", "k2"])
def test_from_an_output_to_the_own_coil_it_holds_the_relay(run, ohm, start):
    """The coil draws a seventh of an ampere through it, or the lamp 3 A with the relay out."""
    own = [lead("coil lead", "k2", "86"), switch("key", "k", "k2"), *COIL[:1], *FED[2:]]
    relays = [relay("relay", "86", ["30", "87"])]
    answer = ask(run, [*own, contact("chafe", start, "end", ohm)], [lamp("lamp", "end")],
                 [], ["key"], relays=relays)  # fmt: skip
    assert "chafe" in told(answer, "holds_itself")["relay"].detail.split(", ")
    assert answer.weakest.code == "holds_itself"
    assert is_left_alone(answer)


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize("off", [["key"], []])
@pytest.mark.parametrize("ends", [("87", "87a"), ("end", "rest end"), ("87a", "end")])
def test_between_both_outputs_of_a_changeover_relay(run, ohm, off, ends):
    """At rest it feeds the lamp at 87, and pulled in that at 87a."""
    relays = [relay("relay", "86", ["30", "87"], ["30", "87a"])]
    branches = [*FED, lead("rest lead", "87a", "rest end"), contact("chafe", *ends, ohm)]
    loads = [lamp("lamp", "end"), lamp("rest lamp", "rest end", 6)]
    answer = ask(run, branches, loads, off, relays=relays)
    assert told(answer, "crossed").keys() == {"chafe"}
    assert is_parted(answer)


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize(
    ("part", "at", "off"),
    [
        ("lamp", "end", ["switch"]),  # on the lead of a lamp that is off
        ("lamp", "s", ["switch"]),
        ("horn", ("f", "horn end"), ["switch", "button"]),  # past a horn that its button grounds
    ],
)
def test_to_the_ground_of_a_load_that_is_off_in_every_case(run, ohm, part, at, off):
    branches = [fuse("fuse", "post", "f"), switch("switch", "f", "s"), lead("lead", "s", "end"),
                lead("horn lead", "horn end", "b"), switch("button", "b", "ground")]  # fmt: skip
    loads = [lamp("lamp", "end"), lamp("horn", "f", ground="horn end")]
    ends = (at, "ground") if part == "lamp" else at
    answer = ask(run, [*branches, contact("chafe", *ends, ohm)], loads, off)
    check = told(answer, "short_once_on")["chafe"]
    assert (check.verdict, check.detail) == ("fail", "switch" if part == "lamp" else "button")
    assert is_parted(answer)
    # Switched on it is a short like others, and says so once.
    answer = ask(run, [*branches, contact("chafe", *ends, ohm)], loads)
    assert not told(answer, "short_once_on")
    assert told(answer, "short").keys() == {"chafe"}


@pytest.mark.parametrize("ohm", OHMS)
@pytest.mark.parametrize("cases", [([], ["main"]), (["main"], []), ([],), ([], ["right"])])
def test_no_case_has_it_cleaned_that_another_has_parted(run, ohm, cases):
    """With all switches closed it carries its share of a lamp's current beside them."""
    answer = ask(run, [*SELECTOR, contact("chafe", "f", "left end", ohm)], LAMPS, *cases)
    assert is_left_alone(answer)
    assert ohm > WET_OHM or is_parted(answer)


def test_nor_has_one_of_which_the_ohms_are_not_sure(run):
    chafe = contact("chafe", "f", "left end", {"low": 0.3, "high": 3})
    assert is_parted(ask(run, [*SELECTOR, chafe], LAMPS, [], ["main"]))


@pytest.mark.parametrize("ohm", [0.05, 0.3])
def test_a_resistance_is_asked_the_same(run, ohm):
    """Of 12.6 V 0.3 ohm before 4 take 0.9 V, too little to dim a lamp by design."""
    off = ["main", "right"]
    answer = ask(run, [*SELECTOR, resistance("chafe", "f", "left end", ohm)], LAMPS, off)
    assert told(answer, "bridged").keys() == {"main", "left"}
    assert answer.weakest.detail == "chafe"


def guards():
    """Sound circuits of which each has a poor joint that is to be cleaned, and what is off."""
    two_doors = [
        fuse("fuse", "post", "f"), switch("front door", "f", "front"),
        contact("joint", "front", "lamp", 0.3), switch("rear door", "f", "lamp"),
    ]  # fmt: skip
    yield "two door switches", two_doors, [lamp("light", "lamp")], [["rear door"], []], []
    two_feeds = [
        fuse("day fuse", "post", "d"), switch("day", "d", "d1"), lead("day lead", "d1", "d2"),
        contact("joint", "d2", "lamp", 0.3), fuse("night fuse", "post", "n"),
        switch("night", "n", "n1"), lead("night lead", "n1", "lamp"),
    ]  # fmt: skip
    yield "day and night", two_feeds, [lamp("light", "lamp")], [["night"], []], []
    row = [fuse("fuse", "post", "f"), switch("key", "f", "k"), contact("joint", "k", "k1", 0.3),
           switch("seat", "k1", "s"), lead("lead", "s", "lamp")]  # fmt: skip
    loads = [lamp("light", "lamp"), lamp("key lamp", "k", 40), lamp("seat lamp", "k1", 40)]
    yield "in a row", row, loads, [[]], []
    yield "in a row, lit", row, [*loads, lamp("pilot", "f", 60, ground="k")], [[]], []
    ballast = [
        switch("run", "post", "15"), resistance("ballast", "15", "coil", 1.5),
        switch("start", "post", "s"), contact("joint", "s", "coil", 0.3),
    ]  # fmt: skip
    loads = [lamp("ignition coil", "coil", 1.5) | {"needed_v": 5}, lamp("fan", "15", 12)]
    yield "a ballast and its start contact", ballast, loads, [["run"], []], []
    hazard = [
        fuse("flasher fuse", "post", "u"), switch("indicator", "u", "49"),
        fuse("hazard fuse", "post", "z"), contact("joint", "z", "z1", 0.3),
        switch("hazard", "z1", "49"), switch("left", "49", "l"), switch("right", "49", "r"),
        switch("hazard left", "49", "l"), switch("hazard right", "49", "r"),
    ]  # fmt: skip
    sides = [lamp("left lamp", "l"), lamp("right lamp", "r")]
    yield "hazard and indicators", hazard, sides, [["indicator"], ["indicator", "left"]], []
    over = [
        *COIL, fuse("fuse", "post", "30", 30), contact("joint", "87", "end", 0.3),
        contact("rest joint", "87a", "rest end", 0.01),
    ]  # fmt: skip
    changes = relay("relay", "86", ["30", "87"], ["30", "87a"])
    loads = [lamp("lamp", "end"), lamp("rest lamp", "rest end", 6)]
    yield "a changeover relay", over, loads, [[]], [changes]
    straps = [fuse("fuse", "post", "f"), switch("switch", "f", "s"),
              lead("strap", "frame", "strap end"), contact("joint", "strap end", "ground", 0.3),
              lead("shield", "frame", "shield end"),
              contact("shield joint", "shield end", "ground", 0.3)]  # fmt: skip
    yield "two straps", straps, [lamp("lamp", "s", 1, ground="frame")], [[]], []


@pytest.mark.parametrize(
    ("branches", "loads", "cases", "relays"),
    [pytest.param(*each, id=name) for name, *each in guards()],
)
def test_what_is_there_by_design_is_no_chafe_and_its_joint_is_cleaned(
    run, branches, loads, cases, relays
):
    answer = ask(run, branches, loads, *cases, relays=relays)
    assert not told(answer, "bridged", "crossed", "short_once_on", "short")
    assert told(answer, "contact_drop")["joint"].verdict == "fail"


@pytest.mark.parametrize("ohm", [0.05, 0.3])
@pytest.mark.parametrize("off", [["key"], []])
def test_two_batteries_that_a_relay_joins_and_what_charges_them(run, ohm, off):
    """Poor posts and a poor charging wire are cleaned; nothing leads past the relay."""
    branches = [
        *COIL, fuse("link fuse", "post", "30", 100), contact("link joint", "30", "30a", ohm),
        lead("link", "87", "second"), contact("post joint", "second", "second post", ohm),
        contact("charge joint", "B+", "post", ohm), lead("service lead", "second", "end"),
    ]  # fmt: skip
    battery = {"name": "second battery", "kind": "battery", "nodes": ["second post", "ground"],
               "open_circuit_v": 12.2, "internal_resistance_ohm": 0.01}  # fmt: skip
    charger = {"name": "dynamo", "kind": "charger", "nodes": ["B+", "ground"],
               "regulated_v": 14.2, "limit_a": 40, "internal_resistance_ohm": 0.02}  # fmt: skip
    relays = [relay("relay", "86", ["30a", "87"])]
    loads = [lamp("light", "end"), lamp("main light", "post", 6)]
    answer = ask(run, branches, loads, off, relays=relays, further_sources=[battery, charger])
    assert not told(answer, "bridged", "crossed", "short_once_on", "short")
    assert told(answer, "contact_drop")["charge joint"].verdict == "fail"
