"""What is asked for first can be read on the vehicle with a meter: nobody knows what a load needs.

Neither the pull-in voltage of a plunger nor the milliohms of a contact can be read there.
"""

import pytest

from .relay_lists import post

UNREADABLE = ("pull in voltage", "needed voltage", "works from voltage", "hold voltage",
              "resistance of plug", "resistance of key", "resistance of ground")  # fmt: skip
STARTERS = (
    {"system_v": 12, "distance_m": 9, "wear": "old", "fails": "hot"},
    {"system_v": 6, "distance_m": 2, "wear": "new", "fails": "hot"},
    {"system_v": 24, "distance_m": 12, "wear": "very_old", "fails": "hot"},
    # What reaches it and what it needs are all open here, so that neither decides by itself.
    {"system_v": 12, "distance_m": 5, "wear": "used", "fails": "hot", "wire": "18 AWG"},
)


@pytest.mark.parametrize("quick", STARTERS)
def test_of_a_starter_terminal_50_is_read(quick):
    whole = post("quick-answer", quick | {"load": "starter_solenoid"})["request"]
    answer = post("remedy-choice", whole)
    assert answer["advice"] == "find_out_first"
    assert "the volts at starter solenoid" in answer["headline"]
    assert "key held to start, from terminal 50, the small one" in answer["headline"]
    told = [check["message"] for check in answer["checks"] if check["verdict"] == "undecided"]
    assert told
    assert not [(each, said) for each in UNREADABLE for said in told if each in said]
