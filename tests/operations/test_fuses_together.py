"""Fuses that feed the same wires together let through what all of them do.

By hand: of equal fuses side by side each carries its part of a fault, and all open at the same
multiple of their ratings: they are one fuse of the sum. Where two feeds meet, a fault on one of
them gets to each of its points from one side, and behind the meeting from both.
"""

import pytest

from lastvolt_service.tables.fuses import band

from .circuit_parts import SOURCE, ask, checks, contact, load, resistance, wire

LAMP = load("lamp", "end", "ground", resistance_ohm=1.5)
BLADE = {"fuse_family": "blade C", "part": "fuse"}
HOT = {"name": "summer", "ambient_c": 40}
# The loop of a fault is reckoned over one of them: their own resistance must not count.
NEXT_TO_NOTHING_OHM = 1e-7
OF_FUSES = ("fuse_protection", "fuse_overload", "far_short")


def gxl(name, start, end, size="14 AWG"):
    return wire(name, start, end, size, 3, insulation="GXL")


def judged(run, *branches):
    (state,) = ask(run, list(branches), [LAMP], HOT)
    return state


def numbers(state):
    """What is judged of fuses, as numbers."""
    return [
        (each.code, each.verdict, each.value, each.limit)
        for each in state.checks
        if each.code in OF_FUSES
    ]


@pytest.mark.parametrize(("count", "each_a", "sum_a"), [(2, 10, 20), (2, 15, 30), (3, 10, 30)])
def test_fuses_side_by_side_are_one_of_the_sum(run, count, each_a, sum_a):
    rest = gxl("rest", "in", "end")
    several = [
        contact(f"fuse {place}", "post", "in", NEXT_TO_NOTHING_OHM, rating_a=each_a, **BLADE)
        for place in range(count)
    ]
    one = contact("fuse", "post", "in", NEXT_TO_NOTHING_OHM, rating_a=sum_a, **BLADE)
    found, expected = (numbers(judged(run, *fuses, rest)) for fuses in (several, [one]))
    assert {code for code, *_ in expected} == set(OF_FUSES)
    for (*words, value, limit), (*other, one_value, one_limit) in zip(found, expected, strict=True):
        assert words == other
        assert (value, limit) == pytest.approx((one_value, one_limit), rel=1e-5)


def test_a_second_fuse_beside_one_that_kept_blowing_is_told_before_the_drop(run):
    several = [
        contact(f"fuse {place}", "post", "in", 0.003, rating_a=30, **BLADE) for place in range(4)
    ]
    lamp = {**LAMP, "circuit": "continuous"}
    answer = run(
        "circuit-check",
        circuit={
            "source": SOURCE,
            "branches": [*several, wire("rest", "in", "end", "14 AWG", 10, insulation="GXL")],
            "loads": [lamp],
        },
        cases=[HOT],
    )
    assert answer.weakest.code in OF_FUSES
    assert "fuse 0 + fuse 1 + fuse 2 + fuse 3" in answer.headline
    assert "drop of the whole path" in answer.headline.partition("What else fails: ")[2]


def test_where_two_feeds_meet_both_fuses_count(run):
    state = judged(
        run,
        contact("left fuse", "post", "a", 0.003, rating_a=20, **BLADE),
        contact("right fuse", "post", "b", 0.003, rating_a=30, **BLADE),
        gxl("left", "a", "key"),
        gxl("right", "b", "key"),
        gxl("rest", "key", "end"),
    )
    opens = band("blade C").opening_multiple
    found = {
        (each.part, each.detail): each.value
        for each in state.checks
        if each.code == "fuse_protection"
    }
    assert found == {
        ("left", "left fuse"): pytest.approx(20 * opens),
        ("left", "right fuse"): pytest.approx(30 * opens),
        ("right", "left fuse"): pytest.approx(20 * opens),
        ("right", "right fuse"): pytest.approx(30 * opens),
        ("rest", "left fuse + right fuse"): pytest.approx(50 * opens),
    }


def linked(run, *link, volts=12.6):
    """Two circuits behind 10 A and 20 A: by (wire, fuse), as far as fuses are judged."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.01},
        "branches": [
            contact("small", "post", "a", 0.003, rating_a=10, **BLADE),
            contact("large", "post", "b", 0.003, rating_a=20, **BLADE),
            gxl("small wire", "a", "end", "18 AWG"), gxl("large wire", "b", "other"), *link,
        ],
        "loads": [LAMP, load("other lamp", "other", "ground", resistance_ohm=1.5)],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[HOT])
    return {
        (each.part, each.detail): each.verdict
        for each in answer.cases[0].checks
        if each.code == "fuse_protection"
    }


@pytest.mark.parametrize(("ohm", "volts"), [(50, 12.6), (13, 12.6), (300, 12.6), (30, 25.2)])
def test_a_link_that_carries_less_than_an_ampere_adds_no_fuse(run, ohm, volts):
    """12.6 V over 13 ohm are 0.97 A: no fault on one wire gets the other's fuse."""
    found = linked(run, resistance("link", "end", "other", ohm), volts=volts)
    assert found == linked(run, volts=volts)
    assert found.keys() == {("small wire", "small"), ("large wire", "large")}


@pytest.mark.parametrize(("ohm", "volts"), [(0, 12.6), (0.5, 12.6), (4, 12.6), (13, 25.2)])
def test_one_that_carries_more_does(run, ohm, volts):
    found = linked(run, resistance("link", "end", "other", ohm), volts=volts)
    assert found["small wire", "large"] == "fail"


def test_what_is_behind_a_lamps_resistor_alone_is_still_its_fuses(run):
    tail = gxl("tail", "far", "pilot", "22 AWG")
    found = linked(run, resistance("dropper", "end", "far", 50), tail)
    assert found.keys() == {(f"{n} wire", n) for n in ("small", "large")} | {("tail", "small")}


def test_a_ring_of_fuses_that_leads_nowhere_feeds_nothing(run):
    state = judged(
        run,
        contact("main", "post", "in", 0.003, rating_a=20, **BLADE),
        gxl("rest", "in", "end"),
        contact("there", "in", "radio", 0.003, rating_a=30, **BLADE),
        contact("back", "in", "radio", 0.003, rating_a=30, **BLADE),
        gxl("tail", "radio", "box"),
    )
    found = {(e.part, e.detail) for e in state.checks if e.code == "fuse_protection"}
    assert found == {("rest", "main"), ("tail", "there + back")}


def test_one_without_a_rating_leaves_the_sum_open(run):
    state = judged(
        run,
        contact("one", "post", "in", 0.003, rating_a=20, **BLADE),
        contact("other", "post", "in", 0.003, part="fuse"),
        gxl("rest", "in", "end"),
    )
    assert checks(state)["fuse_rating", "other"].verdict == "unknown"
    assert ("fuse_protection", "rest") not in checks(state)


def test_what_a_small_fuse_feeds_before_a_large_one_is_the_small_ones(run):
    """A wire that bears 30 A past an open isolator, behind 10 A and before 80 A."""
    branches = [
        contact("isolator", "post", "board", 0.001, part="switch", rating_a=100),
        contact("memory fuse", "post", "memory", 0.002, part="fuse", rating_a=10),
        wire("memory wire", "memory", "board", "16 AWG", 1, insulation="GXL"),
        contact("main fuse", "board", "feed", 0.002, part="fuse", rating_a=80),
    ]
    case = {"name": "laid up", "without": ["isolator"], "ambient_c": 40}
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("clock", "feed", "ground", resistance_ohm=100)]
    answer = run("circuit-check", circuit=circuit, cases=[case])
    about = {c.detail: c.verdict for c in answer.cases[0].checks if c.part == "memory wire"
             and c.code in {"fuse_protection", "fuse_overload"}}  # fmt: skip
    assert about == {"memory fuse": "pass"}


@pytest.mark.parametrize(
    ("seconds", "place", "verdict"),
    [(10, "behind", "pass"), (None, "behind", "fail"), (10, "before", "fail")],
)
def test_what_a_key_makes_live_burns_for_no_longer_than_it_is_turned(run, seconds, place, verdict):
    """12 AWG behind 30 A in a bay of 80 degC: a fault of 41 A takes minutes to hurt it."""
    key = contact("key", "fused", "50", 0.003, part="switch", rating_a=50)
    bay = wire("bay wire", "50", "coil", "12 AWG", 4, insulation="GXL", ambient_c=80)
    if place == "before":
        key["nodes"], bay["nodes"] = ["coil", "50"], ["fused", "coil"]
    branches = [contact("fuse", "post", "fused", 0.003, part="fuse", rating_a=30,
                        fuse_family="blade C"), key, bay]  # fmt: skip
    end = "coil" if place == "behind" else "50"
    case = {"name": "hot"} | ({"duration_s": seconds} if seconds else {})
    circuit = {"source": SOURCE, "branches": branches}
    circuit["loads"] = [load("solenoid", end, "ground", resistance_ohm=1.5)]
    answer = run("circuit-check", circuit=circuit, cases=[case])
    found = [c for c in answer.cases[0].checks if c.part == "bay wire"
             and c.code in {"fuse_protection", "fuse_overload"}]  # fmt: skip
    assert ("fail" in {check.verdict for check in found}) == (verdict == "fail")
    assert found
