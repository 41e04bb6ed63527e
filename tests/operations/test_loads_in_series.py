"""Loads in series: glow plugs of an old diesel, and two 6 V lamps at 12 V.

What one takes is not lost on the way to the others. One that has burnt open has all the voltage,
and one that is shorted has none: that one is replaced, and no switch or wire (common practice).
"""

import pytest

from lastvolt_service.api.problems import Refused

from . import retrofit_circuits
from .circuit_parts import contact, wire
from .retrofit_circuits import asked

PLUG_OHM = 0.042


def glow(run, *ohms, switch_ohm=0.0015):
    """Plugs in a row behind their switch, of 1.5 V each at the least."""
    ends = ["feed", *(f"after {place}" for place in range(1, len(ohms))), "ground"]
    branches = [
        {"name": "feed", "kind": "wire", "size": "8 AWG", "length_m": 0.5, "insulation": "GXL",
         "nodes": ["post", "in"]},
        {"name": "switch", "kind": "contact", "part": "switch", "nodes": ["in", "feed"],
         "resistance_ohm": switch_ohm, "rating_a": 100},
    ]  # fmt: skip
    loads = [
        {"name": f"plug {place}", "kind": "resistance", "resistance_ohm": ohm, "needed_v": 1.5,
         "circuit": "continuous", "nodes": [ends[place - 1], ends[place]]}
        for place, ohm in enumerate(ohms, 1)
    ]  # fmt: skip
    return check(run, branches, loads)


def check(run, branches, loads):
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    return run(
        "circuit-check",
        circuit={"source": source, "branches": branches, "loads": loads},
        cases=[{"name": "cold", "ambient_c": 0, "duration_s": 20}],
    )


def of(found, code):
    return {each.part: each.verdict for each in found.cases[0].checks if each.code == code}


def test_what_sound_loads_in_series_share_is_not_lost(run):
    """12.6 V over 4 x 42 + 6 + 2.5 milliohm: 71 A, 3 V a plug, 0.18 V in feed and switch."""
    found = glow(run, *[PLUG_OHM] * 4)
    assert set(of(found, "path_drop").values()) == {"pass"}
    assert "in_series" not in {each.code for each in found.checks}


def test_what_is_lost_before_them_is_that_of_the_switch(run):
    found = glow(run, *[PLUG_OHM] * 4, switch_ohm=0.03)
    assert set(of(found, "path_drop").values()) == {"fail"}
    lost = next(each for each in found.cases[0].checks if each.code == "path_drop")
    amps = 12.6 / (4 * PLUG_OHM + 0.006 + 0.03 + 0.001)
    assert lost.value == pytest.approx(amps * 0.031, rel=0.02)
    assert lost.detail == "switch"


@pytest.mark.parametrize(("ohm", "how"), [(999, "burnt open"), (0.0004, "shorted")])
def test_the_one_that_is_burnt_open_or_shorted_is_named(run, ohm, how):
    found = glow(run, PLUG_OHM, PLUG_OHM, ohm, PLUG_OHM)
    assert (found.weakest.code, found.weakest.part) == ("in_series", "plug 3")
    assert how in found.headline
    assert "fail" not in of(found, "path_drop").values()


@pytest.mark.parametrize("needed", [{}, {"needed_v": 10.0}])
def test_a_tell_tale_that_shines_through_other_lamps_is_sound(run, needed):
    """2 W between the lamps of both sides: these take nothing of it, and are off by design."""
    lamps = [
        {"name": name, "kind": "lamp", "rated_power_w": watts, "rated_v": 12, "nodes": nodes,
         "circuit": "continuous", **more}
        for name, watts, nodes, more in (
            ("left", 42, ["left", "ground"], {}),
            ("right", 42, ["right", "ground"], {"needed_v": 10.5}),
            ("tell-tale", 2, ["left", "right"], needed),
        )
    ]  # fmt: skip
    branches = [
        {"name": "switch", "kind": "contact", "part": "switch", "nodes": ["post", "left"],
         "resistance_ohm": 0.003, "rating_a": 10}
    ]  # fmt: skip
    assert not of(check(run, branches, lamps), "in_series")


def test_two_lamps_in_series_have_half_of_the_voltage_each(run):
    lamps = [
        {"name": name, "kind": "lamp", "rated_v": 6, "rated_power_w": 35, "needed_v": 5.4,
         "circuit": "continuous", "nodes": nodes}
        for name, nodes in (("left", ["lamp", "between"]), ("right", ["between", "socket"]))
    ]  # fmt: skip
    wire = {"name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 2, "insulation": "GXL"}
    joint = {"name": "joint", "kind": "contact", "part": "ground", "nodes": ["socket", "ground"]}
    found = check(
        run, [{**wire, "nodes": ["post", "lamp"]}, {**joint, "resistance_ohm": 0.15}], lamps
    )
    assert found.weakest.part == "joint"  # 6 A: 0.9 V, of both that is lost
    sound = check(
        run, [{**wire, "nodes": ["post", "lamp"]}, {**joint, "resistance_ohm": 0.002}], lamps
    )
    assert set(of(sound, "path_drop").values()) == {"pass"}


def test_lamps_side_by_side_are_not_in_series(run):
    """Each has the whole voltage: 0.9 V at a joint are lost to both."""
    lamps = [
        {"name": name, "kind": "lamp", "rated_v": 12, "rated_power_w": 55, "needed_v": 10.8,
         "circuit": "continuous", "nodes": ["post", "socket"]}
        for name in ("left", "right")
    ]  # fmt: skip
    joint = {"name": "joint", "kind": "contact", "part": "ground", "resistance_ohm": 0.1}
    found = check(run, [{**joint, "nodes": ["socket", "ground"]}], lamps)
    assert of(found, "path_drop") == {"left": "fail", "right": "fail"}


def test_no_wiring_helps_a_row_whose_one_load_has_burnt_open(run):
    """Whatever is asked for one of them: the burnt one is named, and no relay or switch."""
    ohms = [PLUG_OHM, 999, PLUG_OHM]
    ends = ["feed", "one", "two", "ground"]
    loads = [
        {"name": f"plug {place}", "kind": "resistance", "resistance_ohm": ohm, "needed_v": 1.5,
         "circuit": "continuous", "nodes": ends[place - 1 : place + 1]}
        for place, ohm in enumerate(ohms, 1)
    ]  # fmt: skip
    switch = {"name": "switch", "kind": "contact", "part": "switch", "nodes": ["post", "feed"]}
    found = run(
        "remedy-choice",
        circuit={
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
            "branches": [{**switch, "resistance_ohm": 0.002, "rating_a": 100}],
            "loads": loads,
        },
        cases=[{"name": "cold", "ambient_c": 0, "duration_s": 20}],
        load="plug 1", switch="switch",
    )  # fmt: skip
    assert found.advice == "not_the_wiring"
    assert "plug 2" in found.headline
    assert "burnt open" in found.headline


PADS = [
    {"name": name, "kind": "resistance", "resistance_ohm": 1.2, "needed_v": 5, "nodes": nodes}
    for name, nodes in (("left pad", ["seat", "between"]), ("right pad", ["between", "frame"]))
]
SEAT = [
    {"name": "switch", "kind": "contact", "part": "switch", "nodes": ["post", "seat"],
     "resistance_ohm": 0.01, "rating_a": 30},
    {"name": "joint", "kind": "contact", "part": "ground", "nodes": ["frame", "ground"],
     "resistance_ohm": 0.005},
]  # fmt: skip


@pytest.mark.parametrize("ends", [("between", "ground"), ("ground", "between")])
@pytest.mark.parametrize("kind", [{"kind": "resistance"}, {"kind": "contact", "part": "connector"}])
def test_what_chafes_between_two_in_series_is_taken_out_and_no_load_replaced(run, ends, kind):
    """The right pad has 0.5 V; without the chafe 12.6 V of 1.2 / 2.421 ohm, 6.25 V, stand there."""
    chafe = {"name": "chafe", **kind, "nodes": list(ends), "resistance_ohm": 0.05}
    found = check(run, [*SEAT, chafe], PADS)
    assert (found.weakest.code, found.weakest.part) == ("drawn_past", "chafe")
    assert found.weakest.limit == pytest.approx(6.25, rel=2e-3)
    assert not of(found, "in_series")
    assert not of(check(run, SEAT, PADS), "drawn_past")


def test_a_leak_behind_a_ballast_is_told_before_the_ballast(run):
    """4.2 V at the coil, as 0.75 ohm lie behind 1.5; 6.3 V without the leak."""
    coil = {"name": "coil", "kind": "resistance", "resistance_ohm": 1.5, "needed_v": 5.5,
            "nodes": ["coil", "ground"]}  # fmt: skip
    ballast, leak = (
        {"name": name, "kind": "resistance", "resistance_ohm": 1.5, "nodes": nodes}
        for name, nodes in (("ballast", ["post", "coil"]), ("leak", ["coil", "ground"]))
    )
    found = check(run, [ballast, leak], [coil])
    assert found.weakest.part == "leak"  # as what takes volts, or as what may burn
    (taken,) = (each for each in found.cases[0].checks if each.code == "drawn_past")
    assert (taken.part, taken.verdict) == ("leak", "fail")
    assert taken.value == pytest.approx(4.2, rel=0.01)
    assert taken.limit == pytest.approx(6.3, rel=0.01)
    heater = [coil, {**leak, "name": "heater"}]  # as a load it belongs there
    assert not of(check(run, [ballast], heater), "drawn_past")


def test_of_two_in_series_nobody_knows_which_is_at_fault(run):
    """The right pad is shorted in part, or the left one burnt in part: the ohms of both tell."""
    found = check(run, SEAT, [PADS[0], {**PADS[1], "resistance_ohm": 0.2}])
    assert (found.weakest.code, found.weakest.detail) == ("in_series", "either")
    assert "before one is replaced" in found.headline


def retrofit(load, *chafes):
    """A relay for one of two pads in series, made for 6 V each."""
    body = asked(
        retrofit_circuits.wire("feed", "12 AWG", 2),
        retrofit_circuits.contact("switch", "switch", 0.005, rating_a=30),
        PADS[0],
        load=PADS[0],
    )
    left, right = body["circuit"]["loads"][0], {**PADS[1], "nodes": ["between", "ground"]}
    left["nodes"][1] = "between"
    body["circuit"]["loads"].append(right)
    body["circuit"]["branches"] += chafes
    return body | {"load": load}


CHAFE = {"name": "chafe", "kind": "resistance", "nodes": ["between", "ground"],
         "resistance_ohm": 0.05}  # fmt: skip


def test_no_relay_is_fitted_for_a_pad_that_burns_for_a_chafe(run):
    """12.6 V at a pad for 6 V: enough arrive, and the chafe is to be taken out for all that."""
    answer = run("relay-retrofit", **retrofit("left pad", CHAFE))
    assert answer.advice == "find_out_first"
    assert "chafe" in answer.headline.split(".")[0]
    assert run("relay-retrofit", **retrofit("left pad")).advice == "nothing_needed"


@pytest.mark.parametrize("chafes", [[], [CHAFE]])
def test_a_relay_for_the_second_of_two_in_series_is_refused_by_the_name_of_the_first(run, chafes):
    with pytest.raises(Refused, match="left pad lies in series"):
        run("relay-retrofit", **retrofit("right pad", *chafes))


def lamps_in_a_row(run, rated_v=12, *, volts=12.6, watts=(10, 5), **told):
    """A step lamp whose feed was taken from the ground side of the cab lamp."""
    loads = [
        {"name": name, "kind": "lamp", "rated_power_w": power, "rated_v": rated_v,
         "nodes": [*nodes], **told}
        for name, power, nodes in zip(
            ("cab lamp", "step lamp"), watts, (("fed", "c2"), ("c3", "door")), strict=True
        )
    ]  # fmt: skip
    branches = [
        contact("fuse", "post", "fed", 0.003, part="fuse", rating_a=5, fuse_family="blade C"),
        wire("step wire", "c2", "c3", "18 AWG", 1, insulation="GXL"),
        contact("door switch", "door", "ground", 0.03, part="switch", rating_a=10),
    ]
    source = {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.006}
    circuit = {"source": source, "branches": branches, "loads": loads}
    return run("circuit-check", circuit=circuit, cases=[{"name": "open"}])


@pytest.mark.parametrize("told", [{}, {"circuit": "continuous"}])
@pytest.mark.parametrize(
    ("volts", "rated_v", "watts"),
    [(12.6, 12, (10, 5)), (12.6, 12, (5, 5)), (12.6, 12, (5, 10)), (6.3, 6, (5, 5)),
     (25.2, 24, (5, 5))],
)  # fmt: skip
def test_lamps_made_for_all_that_share_it_are_told_whatever_is_known_of_them(
    run, volts, rated_v, watts, told
):
    """By hand: of two alike each has half, and glows; of 5 W and 10 W the larger has less."""
    answer = lamps_in_a_row(run, rated_v, volts=volts, watts=watts, **told)
    assert answer.verdict == "undecided"
    assert answer.weakest.code == "lost_joint"
    assert answer.weakest.part == ("step lamp" if watts == (5, 10) else "cab lamp")
    assert "in series with other loads" in answer.headline


def test_of_lamps_that_are_made_for_half_nothing_is_said(run):
    answer = lamps_in_a_row(run, 6, watts=(5, 5), needed_v=5)
    assert answer.verdict == "pass"


def test_a_motor_in_series_with_a_lamp_is_not_taken_for_a_jammed_one(run):
    """The lamp lets hardly two amperes through, and no motor turns on those."""
    fan = {"name": "fan", "kind": "motor", "resistance_ohm": 0.5, "needed_v": 9,
           "nodes": ["c2", "ground"]}  # fmt: skip
    lamp = {"name": "lamp", "kind": "lamp", "rated_power_w": 21, "rated_v": 12,
            "nodes": ["fed", "c2"]}  # fmt: skip
    fuse = contact("fuse", "post", "fed", 0.003, part="fuse", rating_a=5, fuse_family="blade C")
    found = check(run, [fuse], [lamp, fan])
    assert (found.weakest.code, found.weakest.part) == ("lost_joint", "fan")
