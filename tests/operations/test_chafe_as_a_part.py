"""A chafe that is drawn as a contact: it is taken out, and never cleaned.

From the trade: what has rubbed through conducts badly, and looks like a poor joint to a meter;
made to conduct better it is a dead short, or feeds what its switch should stop.
"""

import pytest

from .circuit_parts import contact, load, wire

CASES = [
    {"name": "both"},
    {"name": "tail", "without": ["brake switch"]},
    {"name": "brake", "without": ["side switch"]},
]


def checked(run, chafe, ground_ohm=0.003):
    """Brake and tail lamps behind their fuses and switches, and a chafe."""
    branches = [
        contact("brake fuse", "post", "s0", 0.003, part="fuse", rating_a=10, fuse_family="blade C"),
        contact("brake switch", "s0", "s1", 0.01, part="switch", rating_a=15),
        wire("brake wire", "s1", "s2", "16 AWG", 4, insulation="GXL"),
        contact("tail fuse", "post", "t0", 0.003, part="fuse", rating_a=10, fuse_family="blade C"),
        contact("side switch", "t0", "t1", 0.01, part="switch", rating_a=15),
        wire("tail wire", "t1", "t2", "16 AWG", 4, insulation="GXL"),
        contact("lamp ground", "g", "ground", ground_ohm, part="ground"),
    ]
    lamps = [
        load("brake lamps", "s2", "g", resistance_ohm=3.4),
        load("tail lamps", "t2", "g", resistance_ohm=14.4),
    ]
    lamps = [{**each, "circuit": "continuous"} for each in lamps]
    answer = run(
        "circuit-check",
        circuit={
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": [*branches, chafe], "loads": lamps,
        },
        cases=CASES,
        nominal_v=12,
    )  # fmt: skip
    assert answer.verdict == "fail"
    return answer


@pytest.mark.parametrize("ohm", [0.05, 0.3, 2])
@pytest.mark.parametrize(
    ("ends", "code", "part"),
    [
        (("s2", "ground"), "short", "chafe"),
        (("s2", "t2"), "crossed", "chafe"),
        (("s0", "s1"), "bridged", "brake switch"),
        (("s0", "t2"), "bridged", "side switch"),
    ],
)
def test_it_is_named_and_neither_cleaned_nor_mended(run, ohm, ends, code, part):
    answer = checked(run, contact("chafe", *ends, ohm))
    assert (answer.weakest.code, answer.weakest.part) == (code, part)
    for check in answer.checks:
        assert check.part != "chafe" or "clean" not in check.message
    assert "chafe" not in {each.name for each in answer.mend_first}


def test_a_poor_joint_of_the_circuit_is_still_to_be_cleaned(run):
    """Without it no lamp is fed: 3.5 A over 0.3 ohm are a volt."""
    answer = checked(run, contact("chafe", "s0", "s1", 0.1), ground_ohm=0.3)
    said = [each.message for each in answer.checks if each.part == "lamp ground"]
    assert any("clean, tighten" in each for each in said)
    assert answer.mend_first[0].name == "lamp ground"
