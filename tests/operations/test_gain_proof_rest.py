"""What stays lost beside what was mended, where no reading lies across any one part of it.

A supply of 12.4 V with 0.01 ohm inside, a heater of 2 ohm; by hand, by Ohm's law on a ring.
"""

import re

import pytest

from .test_circuit_fit import between, contact, post, volts
from .test_gain_proof_opened import asked

OF_ROW = ("clamp", "fuse", "plug")


def shown(switch_ohm, row_ohm):
    """Readings by hand: at rest, at the post, over the switch and over the heater."""
    amps = 12.4 / (0.01 + switch_ohm + row_ohm + 2.0)
    places = (("post", "in", switch_ohm), ("live", "ground", 2.0))
    return [
        volts("post", "ground", 12.4, case="off"),
        volts("post", "ground", round(12.4 - 0.01 * amps, 2)),
        *(volts(red, black, round(amps * ohm, 3)) for red, black, ohm in places),
    ]


def body(before, after):
    made = asked(before, after)
    made["circuit"]["branches"][1:] = [
        contact("clamp", "in", "b", between(0.0, 0.5)),
        contact("fuse", "b", "c", between(0.0, 0.5), "fuse"),
        contact("plug", "c", "live", between(0.0, 0.5)),
    ]
    return made


def of_the_row(answer):
    """What is said of any of the three."""
    return [each for each in answer["look_at"] if set(OF_ROW) & set(_words(each["message"]))]


def _words(message):
    return message.replace(",", " ").replace(":", " ").split()


@pytest.mark.parametrize("row_ohm", [1e6, 1.0])
def test_of_several_of_which_one_is_open_or_poor_none_is_picked(row_ohm) -> None:
    """The switch was cleaned; one of three that nobody read takes 12.4 V, or about 4 V, still."""
    answer = post("gain-proof", body(shown(0.3, row_ohm), shown(0.005, row_ohm)))
    assert answer["proof"] != "proven"
    told = of_the_row(answer)
    assert told
    assert all(set(OF_ROW) <= set(_words(each["message"])) for each in told)
    assert set(OF_ROW) <= set(_words(answer["next_message"]))
    how = "from part to part with the red one" if row_ohm > 10.0 else "across each of them"
    assert any(how in each["message"] for each in told)
    # The switch was cleaned, and is not the one that takes what is lost still.
    gained = next((e for e in answer["look_at"] if e["code"] == "nothing_gained"), None)
    assert gained is None or gained["message"].endswith(" were promised.")
    assert (gained is not None) is (row_ohm > 10.0)


@pytest.mark.parametrize(
    ("row_ohm", "code"), [(0.13, "still_poor_together"), (0.08, "may_be_poor_together")]
)
def test_what_a_row_takes_after_is_said_with_what_to_read(row_ohm, code) -> None:
    """Three in a row lose 0.75 V or 0.47 V, and sound ones take 0.1 V, the fuse 0.2 V, at most."""
    made = body(shown(0.3, row_ohm), shown(0.005, row_ohm))
    made["circuit"]["loads"][0]["needed_v"] = 11.9
    answer = post("gain-proof", made)
    assert answer["proof"] == "not_proven"
    (told,) = of_the_row(answer)
    assert told["code"] == code
    lost_v = row_ohm * 12.4 / (0.01 + 0.005 + row_ohm + 2.0)
    assert f"take {lost_v:.2f} V together" in told["message"]
    assert answer["next_message"].startswith("Next, read the volts across each of clamp, fuse")
    assert answer["next_reading"]["between"] == ["in", "b"]


def test_a_row_that_takes_what_sound_ones_do_is_not_said() -> None:
    answer = post("gain-proof", body(shown(0.3, 0.03), shown(0.005, 0.03)))
    assert answer["proof"] == "proven"
    assert of_the_row(answer) == []


def test_what_was_to_be_mended_and_was_not_is_named_first() -> None:
    """0.3 ohm of the switch before and after: by hand 12.4 V / 2.34 ohm x 0.3 ohm = 1.59 V."""
    answer = post("gain-proof", body(shown(0.3, 0.03), shown(0.3, 0.03)))
    assert answer["proof"] == "less_than_promised"
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == ("poor_sound", "switch")
    low, high = (float(each) for each in re.findall(r"([\d.]+) V", first["message"])[:2])
    assert low < 12.4 * 0.3 / 2.34 < high
    assert first["message"] in answer["headline"]
