"""A relay's coil that is as good as open, given by the ohms that a meter shows there.

From the trade: at 12 V a coil has some 60 to 130 ohm, and hardly ever a thousand; an open one
shows the resistor beside it, or nothing.
"""

import pytest

from .circuit_parts import contact, load
from .test_letting_go import RELAY, ask

COIL = {
    "nominal_v": 12, "pick_up_v": 7.2, "drop_out_v": 1.2, "ambient_c": 40, "available_v": 12.0,
    "maximum_v": 14.4, "thermal_resistance_k_per_w": 30, "coil_limit_c": 155,
    "highest_ambient_c": 105, "suppression": {"kind": "diode"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("nominal_v", "ohm", "is_open"),
    [(12, 90, False), (12, 1000, False), (12, 1e4, True), (12, 1e5, True), (6, 22, False),
     (6, 1e4, True), (24, 320, False), (24, 2000, False), (24, 1e5, True)],
)  # fmt: skip
def test_a_coil_of_so_many_ohms_closes_nothing_whatever_arrives(run, nominal_v, ohm, is_open):
    scaled = {name: COIL[name] * nominal_v / 12 for name in COIL if name.endswith("_v")}
    answer = run("relay-coil", **COIL | scaled, coil_resistance_ohm=ohm)
    found = [each for each in answer.checks if each.code == "coil_resistance"]
    assert [each.verdict for each in found] == (["fail"] if is_open else [])
    assert answer.headline.startswith(f"The coil has {ohm:.0f} Ω") == is_open


@pytest.mark.parametrize("ohm", [1e4, 1e5])
def test_in_a_circuit_it_is_told_first(run, ohm):
    answer = ask(run, **RELAY | {"coil_resistance_ohm": ohm})
    assert answer.verdict == "fail"
    assert (answer.weakest.code, answer.weakest.part) == ("coil_resistance", "relay")
    assert "as good as open" in answer.headline


def test_what_its_contact_would_carry_is_told_after_it(run):
    """The lamp's 4 A open a fuse of 2 A, were the relay to close."""
    fuse = contact("fuse", "87", "lamp", 0.01, part="fuse", rating_a=2, fuse_family="blade C")
    lamp = load("second lamp", "lamp", "ground", resistance_ohm=3) | {"needed_v": 10}
    answer = ask(run, fuse, loads=[lamp], coil_resistance_ohm=5e4)
    assert (answer.weakest.code, answer.weakest.part) == ("coil_resistance", "relay")
    assert ("fuse_load", "fail") in {(each.code, each.verdict) for each in answer.checks}
