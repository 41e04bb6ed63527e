"""A load that draws more than it does at work, and limits that are for what it does at work.

Volts by hand: a part of one resistance drops a quarter at a quarter of the current.
"""

import pytest

METER = {"resolution_v": 0.001, "accuracy_percent": 0.5}


def wire(name, measured_v, size="12 AWG", length_m=3):
    return {
        "name": name, "kind": "wire", "size": size, "length_m": length_m, "measured_v": measured_v,
    }  # fmt: skip


def contact(name, part, measured_v):
    return {"name": name, "kind": "contact", "part": part, "measured_v": measured_v}


def diagnose(run, *readings, **fields):
    return run(
        "drop-diagnosis",
        **{"circuit": "continuous", "meter": METER, "readings": list(readings), **fields},
    )


def the(found, code, part=None):
    return next((each for each in found.checks if (each.code, each.part) == (code, part)), None)


def said(found):
    return " ".join((found.headline, *(check.message for check in found.checks)))


# A fan of 15 A that is seized: 1.03 V of the path at 60 A are 0.26 V at 15 A, of 0.5 V allowed.
SEIZED = [
    wire("feed", 0.62, "10 AWG"), contact("r", "relay", 0.13), contact("f", "fuse", 0.2),
    contact("g", "ground", 0.08),
]  # fmt: skip


def test_a_seized_load_is_looked_at_and_its_path_left_alone(run):
    found = diagnose(
        run, *SEIZED, current_a=60, working_current_a=15, load_voltage_v=10.7, supply_v=11.73
    )
    start = "Look at the load first: 60 A flow where 15 A are usual: the load sticks or is shorted"
    assert found.headline.startswith(start)
    assert (found.verdict, found.load_is, found.mend_first) == ("fail", "overdrawn", ())
    assert the(found, "load_current").verdict == "fail"
    assert the(found, "path_drop").verdict == "pass"
    assert the(found, "path_drop").limit == pytest.approx(0.5 * 60 / 15)
    for wrong in ("arger", "elay near", "mend it", "Clean"):
        assert wrong not in said(found)


def test_a_wire_is_not_made_thicker_for_a_short(run):
    """90 A of 10 A burn 14 AWG; its ground, 0.25 V there, drops 0.028 V at 10 A."""
    found = diagnose(
        run, wire("a", 2.3, "14 AWG"), contact("f", "fuse", 0.3), contact("g", "ground", 0.25),
        current_a=90, working_current_a=10, load_voltage_v=7.05, supply_v=9.9, nominal_v=12,
    )  # fmt: skip
    assert found.headline.startswith("Look at the load first")
    assert (found.mend_first, found.too_hot) == ((), ())
    heat = the(found, "wires_heat", "a")
    assert (heat.verdict, heat.value) == ("fail", 90)
    assert "find what draws so much" in heat.message
    for wrong in ("arger", "mend it", "Clean"):
        assert wrong not in said(found)


def test_a_poor_part_is_told_by_what_it_drops_at_work(run):
    """1.6 V across a switch at 60 A are 0.4 V at 15 A: 0.3 V more than a sound one."""
    found = diagnose(
        run, wire("feed", 0.62, "10 AWG"), contact("s", "switch", 1.6),
        current_a=60, working_current_a=15,
    )  # fmt: skip
    assert found.headline.startswith("Look at the load first")
    assert "at 15 A s drops 0.3 V more than a sound one: mend it" in found.headline
    assert found.readings[1].excess_at_work_v == pytest.approx(0.3)


# Read with another on: 0.17 V at 18 A are 0.085 V at 9 A; 0.2 V at 40 A are 0.075 V at 15 A.
@pytest.mark.parametrize(
    ("current_a", "work_a", "part", "drop_v"),
    [(18, 9, "ground", 0.17), (40, 15, "switch", 0.2), (10, 5, "relay", 0.2)],
)
def test_what_is_sound_at_work_is_sound(run, current_a, work_a, part, drop_v):
    lead = wire("a", 0.00532 * 3 * current_a)
    found = diagnose(
        run, lead, contact("x", part, drop_v), current_a=current_a, working_current_a=work_a
    )
    assert the(found, "contact_drop", "x").verdict in {"pass", "marginal"}
    assert (found.advice, found.load_is) == ("path_is_sound", None)
    check = the(found, "load_current")
    assert (check.verdict, check.value, check.limit) == ("marginal", current_a, work_a)
    assert "nothing else is on" in check.message


@pytest.mark.parametrize(("current_a", "told"), [(10, False), (14.9, False), (15.1, True)])
def test_a_little_more_than_usual_is_usual(run, current_a, told):
    found = diagnose(run, contact("x", "ground", 0.01), current_a=current_a, working_current_a=10)
    assert (the(found, "load_current") is not None) == told


# 0.8 V at 8 A are 0.1 ohm: 2 V and 40 W at 20 A; 0.4 V and 1.6 W at 4 A.
@pytest.mark.parametrize(("work_a", "heat_w"), [(20, 40), (4, None)])
def test_a_contact_is_as_hot_as_it_gets_at_work(run, work_a, heat_w):
    found = diagnose(
        run, contact("plug", "connector", 0.8), current_a=8, working_current_a=work_a,
        supply_v=12.4,
    )  # fmt: skip
    check = the(found, "contact_heat", "plug")
    assert (check and check.value) == (heat_w and pytest.approx(heat_w))


def test_a_current_that_cannot_flow_is_not_reckoned_with(run):
    """9 V at 0.5 A are 18 ohm, through which 12.4 V send 0.7 A and never 8 A."""
    found = diagnose(
        run, wire("feed", 0.01, "14 AWG"), contact("sw", "switch", 9.0), current_a=0.5,
        working_current_a=8, supply_v=12.4, load_voltage_v=3.39,
    )  # fmt: skip
    assert found.readings[1].excess_at_work_v is None
    assert "sw drops 8.99 V more than a sound one, and lets no 8 A flow: mend it" in found.headline
    assert the(found, "contact_heat", "sw") is None


def test_what_is_told_to_be_watched_is_not_called_sound(run):
    """A strap may drop 0.3 V while cranking; 0.4 V are a little more."""
    found = diagnose(run, contact("strap", "ground", 0.4), current_a=180, circuit="starter_motor")
    assert "look at it again before long" in the(found, "contact_drop", "strap").message
    assert "sound:" not in found.headline
    assert found.headline.startswith("No poor part was read: ")


# 0.2 V at 230 A are 0.9 milliohm, 1 V at 120 A are 8: no load, whatever it takes at work.
@pytest.mark.parametrize(
    ("current_a", "load_v", "supply_v", "drops_v"),
    [(230, 0.2, 9.5, (6.2, 0.9, 2.1)), (120, 1.0, 6.0, (4.2, 0.5, 0.3)), (60, 0.5, 12, (9, 2, 0.5)),
     (230, 0.1, 9.5, (8.8, 0.3, 0.3))],
)  # fmt: skip
def test_a_load_that_keeps_next_to_nothing_of_much_is_shorted(
    run, current_a, load_v, supply_v, drops_v
):
    feed, fuse, ground = drops_v
    found = diagnose(
        run, wire("a", feed, "14 AWG"), contact("f", "fuse", fuse), contact("g", "ground", ground),
        current_a=current_a, load_voltage_v=load_v, supply_v=supply_v, nominal_v=12,
    )  # fmt: skip
    assert (found.verdict, found.load_is, found.reason) == ("fail", "shorted", "shorted")
    assert (found.mend_first, found.too_hot, found.supply_is) == ((), (), None)
    assert found.headline.startswith(f"Look at the load first: {current_a} A flow, and the load ")
    assert "find what draws so much" in the(found, "wires_heat", "a").message
    assert the(found, "load_current").verdict == "fail"
    for wrong in ("arger", "mend", "Clean", "gives the load", "charge"):
        assert wrong not in said(found)


# A bad joint leaves little to a sound load, too: 2 V at 20 A are 0.1 ohm, a fan that stands still.
@pytest.mark.parametrize(("current_a", "load_v"), [(20, 2.0), (0.5, 0.1), (4, 0.9), (30, 3)])
def test_a_bad_joint_is_no_short(run, current_a, load_v):
    found = diagnose(
        run, wire("a", 0.016 * current_a), contact("g", "ground", 11.6 - load_v),
        current_a=current_a, load_voltage_v=load_v, supply_v=12,
    )  # fmt: skip
    assert found.load_is is None
    assert found.mend_first == ("g",)


# 0.05 ohm: 5 W at 10 A, 45 W at 30 A.
@pytest.mark.parametrize(("current_a", "told"), [(11, False), (13, False), (20, True), (60, True)])
def test_a_contact_that_burns_now_is_told_now(run, current_a, told):
    found = diagnose(
        run, contact("plug", "connector", 0.05 * current_a), current_a=current_a,
        working_current_a=10, supply_v=12.4,
    )  # fmt: skip
    check = the(found, "contact_heat", "plug")
    assert (check is not None) == told
    if told:
        assert check.value == pytest.approx(0.05 * current_a**2)
        assert check.verdict == "fail"
        assert f"at {current_a} A" in check.message
        assert "before it is used again" in check.message


def test_a_wire_that_only_what_flows_now_burns_is_not_replaced_first(run):
    """14 AWG bears 25 A alone in cool air, and never 50 A."""
    found = diagnose(
        run, wire("a", 1.3, "14 AWG"), current_a=50, working_current_a=25, load_voltage_v=11.1,
        supply_v=12.4,
    )  # fmt: skip
    assert found.load_is == "overdrawn"
    assert found.headline.startswith("Look at the load first: 50 A flow where 25 A are usual")
