"""A short behind a ballast: the part that is named is the one to take out, and the ballast glows.

By hand: 12.6 V over a ballast of 1.5 ohm are 8 A and 97 W there, whatever joins its far end to the
ground. Taking out the ballast would end the short as well, and feed nothing: from the trade, it is
left in, and what has rubbed through is found.
"""

import pytest

from .circuit_parts import contact, load, resistance, wire


def feed(volts):
    source = {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.005}
    return source, [
        contact("fuse", "post", "30", 0.003, part="fuse", rating_a=20, fuse_family="blade C"),
        contact("key", "30", "15", 0.005, part="switch", rating_a=20),
        wire("feed", "15", "b", "14 AWG", 3, insulation="GXL"),
    ]


def ask(run, *branches, volts=12.6, needed_v=5, ohm=1.5, loads=None):
    source, sound = feed(volts)
    coil = load("coil", "c", "ground", resistance_ohm=ohm)
    coil |= {"circuit": "continuous", "needed_v": needed_v}
    circuit = {"source": source, "branches": [*sound, *branches], "loads": loads or [coil]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on", "duration_s": 600}])
    return answer, {(c.code, c.part): c for c in answer.cases[0].checks}


def chafe(kind, *ends):
    return {
        "wire": wire("chafe", *ends, "16 AWG", 0.3),
        "contact": contact("chafe", *ends, 0.05),
        "poor": contact("chafe", *ends, 0.3),
        "ohms": resistance("chafe", *ends, 0.05),
    }[kind]


@pytest.mark.parametrize("kind", ["wire", "contact", "poor", "ohms"])
@pytest.mark.parametrize(
    ("volts", "ohm", "needed_v"), [(12.6, 1.5, 5), (25.2, 6, 9), (6.3, 0.5, 2.5)]
)
def test_the_chafe_behind_a_ballast_is_named_and_the_ballast_glows(run, kind, volts, ohm, needed_v):
    ballast = resistance("ballast", "b", "c", ohm)
    answer, found = ask(
        run, ballast, chafe(kind, "c", "ground"), volts=volts, ohm=ohm, needed_v=needed_v
    )
    assert ("short", "ballast") not in found
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")
    rub_ohm = 0.3 if kind == "poor" else 0.05 if kind != "wire" else 0.004
    parallel_ohm = 1 / (1 / rub_ohm + 1 / ohm)
    amps = volts / (ohm + parallel_ohm + 0.04)
    watts = amps**2 * ohm
    told = found.get(("resistor_heat", "ballast"))
    if watts > 62:
        assert told.detail == "chafe"
        assert told.value == pytest.approx(watts, rel=0.05)
    elif watts < 58:
        assert told is None


@pytest.mark.parametrize("kind", ["wire", "contact", "poor", "ohms"])
def test_before_the_ballast_the_chafe_is_named_and_the_ballast_stays_cool(run, kind):
    ballast = resistance("ballast", "b", "c", 1.5)
    answer, found = ask(run, ballast, chafe(kind, "b", "ground"))
    assert answer.weakest.part == "chafe"
    assert not {code for code, _ in found} & {"resistor_heat"}


@pytest.mark.parametrize("kind", ["wire", "contact", "ohms"])
def test_of_two_ballasts_the_one_before_the_short_glows(run, kind):
    ballasts = [resistance("one", "b", "c", 1.5), resistance("two", "b", "d", 1.5)]
    coils = [load("coil", "c", "ground", resistance_ohm=1.5),
             load("other", "d", "ground", resistance_ohm=1.5)]  # fmt: skip
    coils = [{**each, "circuit": "continuous", "needed_v": 5} for each in coils]
    answer, found = ask(run, *ballasts, chafe(kind, "c", "ground"), loads=coils)
    assert answer.weakest.part == "chafe"
    assert {part for code, part in found if code == "resistor_heat"} == {"one"}


@pytest.mark.parametrize("kind", ["wire", "contact", "ohms"])
def test_a_live_wire_on_a_ground_lead_is_named_and_not_the_lead(run, kind):
    lead = contact("ground lead", "g", "ground", 0.05, part="ground")
    coil = load("coil", "b", "g", resistance_ohm=3) | {"circuit": "continuous", "needed_v": 10}
    answer, found = ask(run, lead, chafe(kind, "15", "g"), loads=[coil])
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")
    assert ("short", "ground lead") not in found


def test_a_sound_ballast_is_no_matter(run):
    answer, found = ask(run, resistance("ballast", "b", "c", 1.5))
    assert not {code for code, _ in found} & {"short", "resistor_heat"}
    assert answer.verdict != "fail"


def test_a_heater_that_is_drawn_as_ohms_is_asked_for_as_before(run):
    """Nothing hangs behind a resistance to the ground: it may be a load, and is its own heat."""
    heater = resistance("heater", "b", "ground", 1.5)
    coil = load("coil", "b", "ground", resistance_ohm=12) | {"circuit": "continuous"}
    _, found = ask(run, heater, loads=[coil])
    assert found["short", "heater"].detail == "resistance"
    assert ("resistor_heat", "heater") not in found


def beside_a_poor_joint(run, ohm, at="15"):
    """A horn that gets too little over a joint, and something to the ground elsewhere."""
    horn = load("horn", "h", "ground", resistance_ohm=4) | {"circuit": "continuous", "needed_v": 12}
    joint = contact("joint", "b", "h", 0.3)
    return ask(run, joint, resistance("rub", at, "ground", ohm), loads=[horn])


@pytest.mark.parametrize("ohm", [3, 8, 20])
@pytest.mark.parametrize("at", ["15", "b", "30"])
def test_what_may_be_a_chafe_that_burns_is_told_before_a_poor_joint(run, ohm, at):
    """12.6 V over 20 ohm are 8 W in one spot, and no fuse minds."""
    answer, found = beside_a_poor_joint(run, ohm, at)
    assert found["contact_drop", "joint"].verdict == "fail"
    assert (answer.weakest.code, answer.weakest.part) == ("short", "rub")
    assert answer.weakest.verdict == "undecided"
    assert answer.verdict == "fail"


@pytest.mark.parametrize("ohm", [50, 500])
def test_a_pilot_lamp_beside_one_is_not_told_before_it(run, ohm):
    answer, found = beside_a_poor_joint(run, ohm)
    assert ("short", "rub") not in found
    assert answer.weakest.part == "joint"
