"""What no mechanic draws, buys or reads: wire, relays and readings that bring next to nothing.

Common practice, no source, but for Ohm's law.
"""

import pytest

QUICK = "quick-answer"


@pytest.mark.parametrize(
    ("amps", "metres", "way_back"), [(8, 18, "body"), (15, 5, "wire"), (10, 13, "body")]
)
def test_no_larger_relay_is_bought_for_the_blades_of_its_wire(run, amps, metres, way_back):
    """8 A over 18 m: 8 AWG for 10 AWG gives 0.18 V warm, by 3.28 and 2.06 mohm/m of copper.

    A relay for 40 A carries them several times over; one for 80 A is bought for the blades only.
    """
    answer = run(
        QUICK, system_v=12, load="other", current_a=amps, distance_m=metres, wear="old",
        fails="always", return_path=way_back,
    )  # fmt: skip
    (relay,) = [each for each in answer.plan if each.code == "relay"]
    assert (relay.relay_a, relay.size) == (40, "10 AWG")


def test_a_larger_relay_is_bought_where_the_wire_pays(run):
    """17 A over 14 m lose 1 V with 10 AWG in a hot engine bay, and 0.6 V with 8 AWG."""
    answer = run(QUICK, system_v=12, load="other", current_a=17, distance_m=14, wear="old",
                 fails="always")  # fmt: skip
    (relay,) = [each for each in answer.plan if each.code == "relay"]
    assert relay.relay_a == 80


@pytest.mark.parametrize(
    ("volts", "low_a", "high_a"),
    # Two lamps of 35 to 45 W of 6 V; of 50 to 65 W of 12 V; the same watts of 24 V.
    [(6, 70 / 6, 90 / 6), (12, 100 / 12, 130 / 12), (24, 100 / 24, 130 / 24)],
)
def test_headlamps_have_the_watts_of_their_voltage(run, volts, low_a, high_a):
    answer = run(QUICK, system_v=volts, load="headlamps", distance_m=4)
    (amps,) = [each for each in answer.assumed if each.code == "current_a"]
    assert amps.low == pytest.approx(low_a, rel=0.03)
    assert amps.high == pytest.approx(high_a, rel=0.03)


def test_other_loads_of_6_v_have_the_watts_of_12_v(run):
    answer = run(QUICK, system_v=6, load="horn", distance_m=4)
    (amps,) = [each for each in answer.assumed if each.code == "current_a"]
    assert (amps.low, amps.high) == (8, 14)


@pytest.mark.parametrize(
    ("load", "volts", "metres"), [("pump", 12, 5), ("blower", 12, 6), ("wipers", 24, 8)]
)
def test_what_never_fails_is_looked_at_and_not_measured(run, load, volts, metres):
    answer = run(QUICK, system_v=volts, load=load, distance_m=metres, wear="used", fails="never")
    assert answer.advice == "nothing_needed"
    (only,) = answer.plan
    lost = [each for each in answer.checks if each.code == "path_drop"]
    assert only.code == ("look_for_loss" if lost else "look")
    assert ("more than the usual may be lost" in answer.headline) == bool(lost)


def test_what_fails_at_times_is_measured(run):
    answer = run(QUICK, system_v=12, load="pump", distance_m=5, wear="used", fails="hot")
    assert answer.plan[0].code == "read_battery"


@pytest.mark.parametrize(("volts", "metres"), [(12, 3), (24, 8), (6, 2)])
def test_a_starter_with_new_wiring_that_fails_cold_is_seen_to_before_its_wire(run, volts, metres):
    """Battery, oil, main cables and the starter's own draw come first; new wire is no cure."""
    answer = run(QUICK, system_v=volts, load="starter_solenoid", distance_m=metres, wear="new",
                 fails="cold")  # fmt: skip
    first = answer.plan[0]
    assert first.code == "look_first"
    said = [first.message.index(each) for each in ("battery", "oil", "main cables", "draw of")]
    assert said == sorted(said)
    assert not {"rewire", "relay"} & {each.code for each in answer.plan}
    assert answer.advice == "find_out_first"


@pytest.mark.parametrize(
    "more", [{"fails": "hot"}, {"wear": "very_old"}, {"load": "fan"}, {"wear": "old"}]
)
def test_others_are_read_first_and_not_told_of_oil(run, more):
    body = {"load": "starter_solenoid", "distance_m": 3, "wear": "new", "fails": "cold"} | more
    assert " oil " not in " ".join(e.message for e in run(QUICK, system_v=12, **body).plan)
