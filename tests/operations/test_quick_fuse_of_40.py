"""What takes up to 30 A gets a fuse of 40 A and a relay with blades, in hot air too.

Common practice, no source: a fan of 30 A has a fuse of 40 A, wire of 8 or 10 AWG and a relay of 40
to 80 A with blades. A fuse carries three quarters of its rating for ever, 30 A of 40 A, in cool
air; in hot air it carries less, and ages.
"""

import pytest

from .test_sheet_like_plan import planned

FAN = {"load": "fan", "distance_m": 3, "return_path": "body"}
COOL = "Hang the fuse where it is cool"


@pytest.mark.parametrize("current_a", [25, 27, 28, 29, 30])
@pytest.mark.parametrize("zone", ["engine_bay", "cabin", "outside"])
def test_up_to_30_a_is_had_with_blades(run, current_a, zone):
    step, sheet = planned(run, **FAN, current_a=current_a, zone=zone)
    assert step["fuse_a"] == 40
    assert step["size"] in {"8 AWG", "10 AWG"}
    assert 40 <= step["relay_a"] <= 80
    assert sheet.sheet == "ready"
    assert "contactor" not in step["message"]


@pytest.mark.parametrize("current_a", [28, 30])
def test_hot_air_round_that_fuse_is_told(run, current_a):
    """At 90 degC a fuse carries a tenth less or more: 40 A no longer bear 30 A for ever."""
    step, _ = planned(run, **FAN, current_a=current_a)
    assert COOL in step["message"]


@pytest.mark.parametrize(
    "more", [{"current_a": 24}, {"current_a": 20}, {"current_a": 10}, {"load": "pump"}]
)
def test_a_fuse_that_carries_it_in_heat_is_not_called_hot(run, more):
    step, _ = planned(run, **FAN | more)
    assert COOL not in step["message"]


@pytest.mark.parametrize("current_a", [33, 36])
def test_more_has_a_larger_fuse(run, current_a):
    answer = run(
        "quick-answer", system_v=12, **FAN, current_a=current_a, fails="always", wear="very_old"
    )
    (fuse_a,) = {each.fuse_a for each in answer.plan if each.fuse_a}
    assert fuse_a > 40
    assert 0.75 * fuse_a >= current_a
    assert not any(COOL in each.message for each in answer.plan)


def test_nobody_hangs_a_starters_fuse_cool(run):
    """One winding holds for as long as the key does: 28 A of 6 V heat no fuse for ever."""
    answer = run("quick-answer", system_v=6, load="starter_solenoid", distance_m=4, fails="hot",
                 wear="old")  # fmt: skip
    assert answer.plan[-1].fuse_a == 40
    assert COOL not in answer.plan[-1].message
