"""What a proof keeps to: one load before and after, drops of parts, the circuit as it is now."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

from lastvolt_service.operations.meter.fit_model import Unknown
from lastvolt_service.operations.meter.proof_both import narrowed
from lastvolt_service.operations.meter.proof_read import part_is_read
from lastvolt_service.units import Interval

from .test_circuit_fit import between, post, volts
from .test_gain_proof import BEFORE, INTERNAL_OHM, LAMP_OHM, SOUND, question


@pytest.mark.parametrize(("amps", "goes"), [(5.25, True), (3.5, False)])
def test_a_load_that_is_another_after_proves_nothing(amps, goes) -> None:
    """10 V drive 5 A before: 10.5 V drive 5.25 A through the same heater, and 3.5 A never."""
    clamps = [{"case": "on", "through": "lamp", "value_a": each} for each in (5.0, amps)]
    body = question([*BEFORE, clamps[0]], [*SOUND, clamps[1]])
    body["circuit"]["loads"][0]["resistance_ohm"] = between(1.0, 4.0)
    answer = post("gain-proof", body)
    assert (answer["proof"] == "proven") is goes
    found = [each["code"] for each in answer["look_at"]]
    assert found == ([] if goes else ["untold_together"])


METER, CLAMP = 0.005, 0.02  # shares that a usual meter, and a usual clamp, may be off


@pytest.mark.parametrize(
    ("volt_gain", "clamp_gain", "goes"),
    [(0.991, 1.038, "two"), (1.009, 0.962, "two"), (1.0, 1.0, "one"), (0.98, 1.08, "neither")],
)
def test_a_second_meter_of_the_same_name_is_no_other_lamp(volt_gain, clamp_gain, goes) -> None:
    """Two sound meters differ by no more than 1 % and two clamps by 4 %, and read 10 V and 5 A.

    Within that their ohms are of two meters, beyond it of another lamp; one meter's would be 2 ohm.
    """
    before = [*BEFORE, {"case": "on", "through": "lamp", "value_a": 5.0}]
    after_a = 10.5 / LAMP_OHM * clamp_gain
    after = [
        *(each | {"value_v": round(each["value_v"] * volt_gain, 4)} for each in SOUND),
        {"case": "on", "through": "lamp", "value_a": round(after_a, 2)},
    ]
    assert (abs(volt_gain - 1) <= 2 * METER and abs(clamp_gain - 1) <= 2 * CLAMP) is (
        goes != "neither"
    )
    body = question(before, after)
    body["circuit"]["loads"][0]["resistance_ohm"] = between(1.0, 4.0)
    answer = post("gain-proof", body)
    codes = [each["code"] for each in answer["look_at"]]
    wanted = {"one": [], "two": ["other_meters"], "neither": ["untold_together"]}
    assert codes == wanted[goes]
    assert answer["proof"] == ("not_proven" if goes == "neither" else "proven")
    if goes == "neither":
        return
    gain = answer["gain"]
    supply_v = 5.0 * (LAMP_OHM + INTERNAL_OHM + 0.1)
    lamp_v = supply_v * LAMP_OHM / (LAMP_OHM + INTERNAL_OHM + LAMP_OHM * 0.015 / 10.5)
    assert gain["low_v"] <= lamp_v - 10.0 <= gain["high_v"]
    # It is the switch's drop less what it takes now, so that a meter's 0.5 % are of half a volt.
    assert gain["high_v"] - gain["low_v"] < 0.01


def test_no_contact_gives_volts() -> None:
    """Neither it nor the posts are read: its interval is wider than its drop, to one side."""
    body = question(BEFORE, [volts("live", "ground", 10.5)])
    (drop,) = post("gain-proof", body)["drops"]
    assert drop["low_v"] == 0.0 <= 2 * drop["drop_v"] < drop["high_v"]


def test_what_was_before_is_not_asked_for_any_more() -> None:
    """Before, volts over the switch would have told most; now it is another."""
    body = question([volts("live", "ground", 10.0)], SOUND)
    body["circuit"]["loads"][0]["resistance_ohm"] = between(1.0, 4.0)
    answer = post("gain-proof", body)
    assert answer["proof"] == "not_proven"
    assert answer["next_reading"] is None


def test_what_is_new_may_be_off_as_far_as_its_far_end() -> None:
    """0.1 of 0 to 0.5 ohm: 0.4 ohm off at most, rectangular."""
    found = Unknown(("circuit", "branches", 0, "resistance_ohm"), Interval(0.0, 0.5), 0.1)
    assert found.begin == 0.1
    assert found.deviation == pytest.approx(0.4 / math.sqrt(3.0))


def test_no_new_contact_has_more_than_the_sum_of_them_that_is_told() -> None:
    """Together 0.2 ohm with 0.02 ohm of standard uncertainty: 0.26 ohm, and no 0.5, for one."""
    bounds = Interval(0.0, 0.5)
    unknowns = [Unknown(("circuit", "branches", k), bounds, 0.01) for k in range(2)]
    model = SimpleNamespace(unknowns=unknowns, ends=(np.zeros(2), np.full(2, 0.5)))
    apart, both = np.array([[1.0, -1.0], [-1.0, 1.0]]), np.ones((2, 2))
    covariance = 0.04 * apart + 0.25 * 0.02**2 * both
    solved = SimpleNamespace(point=np.array([0.1, 0.1]), covariance=covariance)
    for each in narrowed(model, solved).values():
        assert 0.2 < each.given.high <= 0.26


@pytest.mark.parametrize(
    ("through", "is_told"), [("left lamp", False), ("right lamp", True), ("feed", True)]
)
def test_a_clamp_round_one_lamp_tells_nothing_of_the_other(through, is_told) -> None:
    """Round what feeds both it does, less what the other takes."""
    lamps = [SimpleNamespace(name=f"{side} lamp") for side in ("left", "right")]
    circuit = SimpleNamespace(loads=lamps, branches=[SimpleNamespace(name="feed")])
    readings = [
        SimpleNamespace(through=None, of=None, between=("live", "ground")),
        SimpleNamespace(through=through, of=None, between=()),
    ]
    assert part_is_read(readings, circuit, "right lamp") is is_told
