"""The order of work of a sheet: what comes off, what stays joined, and what goes on again."""

import pytest

from .retrofit_circuits import contact, wire
from .test_work_sheet import EXAMPLE, at, example, horn, joined_to, positive_ground, texts


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
