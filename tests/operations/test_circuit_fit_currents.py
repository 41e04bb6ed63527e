"""What a part may drop where the current was not read, and only its bounds are known."""

import pytest

from .test_circuit_fit import between, contact, post


def of_key(key_v, resolution_v=0.01, amps=None):
    """A key of 6 V that feeds a plunger of 0.15 to 0.8 ohm, whose volts alone were read."""
    read = [
        {"case": "held", "between": ends, "value_v": volts, "meter": "m"}
        for ends, volts in ((["post", "ground"], 5.9), (["post", "out"], key_v))
    ]
    clamp = [] if amps is None else [{"case": "held", "through": "plunger", "value_a": amps}]
    answer = post("circuit-fit", {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": between(6.0, 6.5),
                       "internal_resistance_ohm": between(0.003, 0.03)},
            "branches": [
                contact("key", "post", "out", between(0.0, 0.4), "switch"),
                {"name": "lead", "kind": "wire", "nodes": ["out", "end"], "size": "8 AWG",
                 "length_m": 3, "insulation": "GXL"},
            ],
            "loads": [{"name": "plunger", "kind": "solenoid", "nodes": ["end", "ground"],
                       "circuit": "starter_control",
                       "rated": {"pull_in_v": 3.0, "resistance_ohm": between(0.15, 0.8)}}],
        },
        "cases": [{"name": "held", "ambient_c": 20, "duration_s": 5}],
        "load": "plunger", "nominal_v": 6,
        "meters": [{"name": "m", "kind": "volts", "resolution_v": resolution_v,
                    "accuracy_percent": 0.5}],
        "readings": [*read, *clamp],
    })  # fmt: skip
    return next(each for each in answer["parts"] if each["parts"] == ["key"]), answer


@pytest.mark.parametrize("resolution_v", [0.01, 0.1])
def test_a_key_is_not_poor_that_more_current_may_make_sound(resolution_v) -> None:
    """By hand 30 A through 10 milliohm of a sound key are 0.3 V, and 5.4 V / 0.18 ohm are 30 A."""
    key, answer = of_key(0.3, resolution_v)
    assert key["verdict"] == "undecided"
    assert "Clean or replace" not in answer["headline"]
    if resolution_v == 0.01:
        assert "They were not read, and with more it may be sound: read them" in answer["mend"]


@pytest.mark.parametrize(("amps", "verdicts"), [(12.0, {"fail"}), (30.0, {"likely", "marginal"})])
def test_its_amperes_tell(amps, verdicts) -> None:
    """0.3 V are 25 milliohm at 12 A, and 10 at 30 A."""
    key, answer = of_key(0.3, amps=amps)
    assert key["verdict"] in verdicts
    assert ("Clean or replace the switch" in answer["headline"]) == (verdicts == {"fail"})


def test_a_key_is_poor_that_no_current_makes_sound() -> None:
    """A sound key drops 0.3 V at the most, and no more than 0.45 V are a little more than that."""
    key, _ = of_key(1.5)
    assert key["verdict"] == "fail"
    assert key["low_v"] > 1.5 * key["limit_v"]
