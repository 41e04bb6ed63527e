"""A battery that keeps volts back: named, with its clamps; and rows that are told by difference."""

import pytest

from lastvolt_service.operations.meter.fit_told import both

from .stories import ALONG, POSTS, Meter, np, readings, request, vehicle
from .test_circuit_fit import post

THREE = [POSTS, ("terminal", "block")]


def asked(each, where, **source):
    body = request(each.system)
    body["circuit"]["source"] |= source
    return body | {"readings": readings(each, Meter(np.random.default_rng(5)), where)}


@pytest.mark.parametrize("where", [ALONG, THREE], ids=["all", "three"])
@pytest.mark.parametrize("inside", [0.1, 0.3, 0.45, 0.6])
def test_a_battery_of_many_ohms_is_weak_or_its_clamps_are_bad(inside, where) -> None:
    answer = post("circuit-fit", asked(vehicle(12, 0.03, 0.004, inside=inside), where))
    (told,) = answer["beyond"]
    assert told["low"] <= inside <= told["high"]
    assert "the battery is weak or dying, or a clamp" in told["message"]
    assert "across each clamp" in answer["headline"]


@pytest.mark.parametrize("inside", [0.3, 0.6])
def test_so_it_is_where_three_readings_stand_against_two_numbers(inside: float) -> None:
    """12.6 V and 0.01 ohm were given: no one number more makes the volts at work hold."""
    sound = {"open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    answer = post("circuit-fit", asked(vehicle(12, 0.03, 0.004, inside=inside), THREE, **sound))
    (told,) = answer["beyond"]
    assert "the battery is weak or dying, or a clamp" in told["message"]


def test_a_battery_with_fewer_ohms_than_given_is_not_weak() -> None:
    more = {"low": 0.2, "high": 0.3}
    body = asked(vehicle(12, 0.03, 0.004), ALONG, internal_resistance_ohm=more)
    answer = post("circuit-fit", body)
    assert "weak or dying" not in answer["headline"]


def test_a_sound_battery_is_not_named() -> None:
    answer = post("circuit-fit", asked(vehicle(12, 0.03, 0.004), ALONG))
    assert answer["beyond"] == []
    assert answer["battery"] is None


@pytest.mark.parametrize(("system", "times", "worths"), [
    (12, 1, {"pass"}), (24, 1, {"pass", "undecided"}), (24, 40, {"likely"}),
])  # fmt: skip
def test_a_row_that_is_told_by_difference_is_not_called_untold(system, times, worths) -> None:
    """All but fuse and wires were read: these take the rest of what the load lacks.

    At a fortieth of the current they take 0.04 V, and two digits of 0.1 V leave 0.3 V open; sound
    wires as they are described take 0.2 V at most, 4 % of 24 V as a tenth of it.
    """
    sound = vehicle(system, 0.004, 0.003)
    ohm = times * sound.parts["load"][2]
    body = asked(sound.with_(load=ohm), ALONG)
    body["circuit"]["loads"][0]["resistance_ohm"] = {"low": 0.7 * ohm, "high": 1.35 * ohm}
    answer = post("circuit-fit", body)
    (rest,) = (each for each in answer["parts"] if "feed" in each["parts"])
    assert rest["verdict"] in worths
    assert "wire aft" in rest["parts"]
    assert "feed" not in (answer["unread"] or "")


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [(0.0, 0.00005, ("0 V", "0.0001 V")), (-0.00003, 0.00004, ("-0.0001 V", "0.0001 V")),
     (1.00001, 1.00002, ("1 V", "1.0001 V")), (0.0288, 0.0294, ("0.0288 V", "0.0294 V"))],
)  # fmt: skip
def test_no_end_is_finer_than_a_usual_meter_shows(low, high, shown) -> None:
    """Its finest step is 0.0001 V (common practice): what is finer is rounded outwards."""
    assert both(low, high, "V") == shown
