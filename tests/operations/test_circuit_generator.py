"""What a circuit says where its battery or its generator is what fails."""

import pytest

from .circuit_parts import load
from .test_circuit_sources import BATTERY, DYNAMO, FULL, ask


def test_a_load_that_cannot_be_fed_is_answered_by_what_is_poor(run):
    """A worn battery of 0.05 ohm delivers 794 W, its voltage squared over 0.2 ohm."""
    answer = ask(run, [load("inverter", "post", "ground", power_w=1000)], battery={
        **BATTERY, "open_circuit_v": 12.6})  # fmt: skip
    assert (answer.weakest.code, answer.weakest.part) == ("battery_resistance", "battery")
    (check,) = [c for c in answer.checks if c.code == "operating_point"]
    assert check.verdict == "fail"
    assert "the battery, its clamps and the size of the cables" in check.message


@pytest.mark.parametrize(
    ("limit_a", "said"), [(0.5, "mend what charges it"), (8, "take a larger generator")]
)
def test_a_generator_that_gives_nothing_is_not_too_small(run, limit_a, said):
    """By hand 12.6 V over 1.2 ohm are 10.5 A, which the dynamo gives in part."""
    lamp = load("lamp", "post", "ground", resistance_ohm=1.2)
    answer = ask(run, [lamp], sources=[{**DYNAMO, "limit_a": limit_a}], battery=FULL)
    (check,) = [c for c in answer.checks if c.code == "drained"]
    assert said in check.message
