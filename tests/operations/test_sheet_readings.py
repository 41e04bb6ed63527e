"""What is heeded with the meter while the volts of a sheet are read.

From the trade: once a starter turns, it pulls the battery down by volts, and no reading of its
solenoid holds; with its heavy cable off it stays still, and the solenoid draws as long as the key
is held. A plunger moves in a tenth of a second. A meter that holds its least value shows nothing
at the load, as the switch was open before.
"""

import pytest

from .retrofit_circuits import headlamps, starter
from .test_work_sheet import LONG, example, texts

STILL = "take the heavy cable off the starter with all that is on its stud"


def long():
    """A solenoid by its ratings, of which the circuit says that it starts the engine."""
    body = starter(**LONG)
    body["circuit"]["loads"][0]["circuit"] = "starter_control"
    return body


def shut_off_valve():
    """The same harness, to a plunger that starts nothing."""
    body = starter(**LONG)
    body["circuit"]["loads"][0]["name"] = body["load"] = "shut-off valve"
    return body


def motor_told():
    """What the motor draws stands in the circuit, and so in the volts."""
    body = long()
    post = body["circuit"]["source"]["plus"]
    body["circuit"]["loads"].append(
        {"name": "motor", "kind": "current", "circuit": "starter_motor", "current_a": 150,
         "nodes": [post, "ground"]}
    )  # fmt: skip
    return body


@pytest.mark.parametrize("make", [example, long])
def test_the_starter_is_kept_still_while_its_solenoid_is_read(run, make):
    answer = run("work-sheet", **make())
    assert STILL in answer.meter_note
    assert "Hold the key two seconds at a time" in answer.meter_note
    assert "nothing may turn" in texts(answer, "read_before")[0]
    assert "least value" not in answer.meter_note


@pytest.mark.parametrize("make", [headlamps, motor_told, shut_off_valve])
def test_no_heavy_cable_comes_off_where_nothing_cranks_or_cranking_is_told(run, make):
    answer = run("work-sheet", **make())
    assert answer.sheet == "ready", answer.headline
    assert STILL not in answer.meter_note
    assert "nothing may turn" not in texts(answer, "read_before")[0]


def test_a_plunger_moves_faster_than_a_meter_reads(run):
    note = run("work-sheet", **shut_off_valve()).meter_note
    assert "take a recording" in note
    assert "meter misses" in note
