"""Bounds say what can be, and nothing of what is likely: at their ends nothing contradicts.

Readings contradict a description where no values within its bounds explain them within what the
meters can tell. Worked by hand: a battery, contacts in a row and a heater are one loop, so that the
amperes are the volts over the sum of the ohms.
"""

from itertools import pairwise

import pytest

from .test_circuit_fit import between, contact, post, question, volts

EMF_V, INSIDE, HEATER = 12.6, 0.008, 2.52
METERS = [
    {"name": "meter", "kind": "volts", "accuracy_percent": 0.5, "accuracy_digits": 2},
    {"name": "clamp", "kind": "amperes", "accuracy_percent": 2.0, "accuracy_digits": 3},
]


def row(ohms, most, *, of_meter=1.0):
    """Contacts of one resistance each, asked for between 1 mohm and `most`, and what is read."""
    amps = EMF_V / (INSIDE + HEATER + sum(ohms))
    nodes = ["post", *(f"n{place}" for place in range(1, len(ohms))), "live"]
    body = question(
        [
            volts("post", "ground", round(of_meter * (EMF_V - INSIDE * amps), 2), meter="meter"),
            volts("live", "ground", round(of_meter * HEATER * amps, 2), meter="meter"),
            {"case": "on", "through": "heater", "value_a": round(amps, 2), "meter": "clamp"},
        ],
        emf=between(12.5, 12.7),
        load=between(0.98 * HEATER, 1.02 * HEATER),
    )
    body["circuit"]["source"]["internal_resistance_ohm"] = between(0.006, 0.01)
    body["circuit"]["branches"] = [
        contact(f"plug {place}", *ends, between(0.001, most), "connector")
        for place, ends in enumerate(pairwise(nodes), 1)
    ]
    return body | {"meters": METERS, "cases": [{"name": "on"}]}


@pytest.mark.parametrize("of_meter", [0.996, 1.0, 1.004])
@pytest.mark.parametrize(("count", "most"), [(4, 0.01), (8, 0.005), (8, 0.01), (12, 0.005)])
def test_sound_parts_all_at_their_best_contradict_nothing(count, most, of_meter) -> None:
    """Each has the least that was given for it: that circuit explains all that was read."""
    answer = post("circuit-fit", row([0.001] * count, most, of_meter=of_meter))
    assert answer["agreement"] in {"agrees", "not_checked"}
    assert not answer["faults"]
    assert not answer["beyond"]
    true_v = HEATER * EMF_V / (INSIDE + HEATER + 0.001 * count)
    assert answer["decisive"]["low_v"] <= true_v <= answer["decisive"]["high_v"]
    for each in answer["residuals"]:
        assert each["fitted"] == pytest.approx(each["read"], rel=0.01), each["reading"]


@pytest.mark.parametrize("count", [4, 8, 12])
def test_a_part_beyond_what_all_bounds_together_allow_contradicts(count) -> None:
    """Half an ohm more takes 2 V; all the contacts at their worst take no 0.6 V at 4.9 A."""
    ohms = [0.001] * (count - 1) + [0.501]
    answer = post("circuit-fit", row(ohms, 0.01))
    assert answer["agreement"] not in {"agrees", "not_checked"}


def test_a_load_with_more_volts_than_its_battery_contradicts() -> None:
    """No contact brings volts: 0.5 V more at the load than at the post is in no bounds."""
    body = row([0.001] * 8, 0.005)
    body["readings"][1]["value_v"] = body["readings"][0]["value_v"] + 0.5
    answer = post("circuit-fit", body)
    assert answer["agreement"] not in {"agrees", "not_checked"}


def battery(emf_v, inside, *, given, at_rest):
    """Sound contacts at some 5 A behind a battery of these volts and ohms, which gave others."""
    amps = emf_v / (inside + HEATER + 0.02)
    body = row([0.005] * 4, 0.02)
    post_v = emf_v - inside * amps
    body["readings"] = [
        volts("post", "ground", round(post_v, 2), meter="meter"),
        volts("live", "ground", round(HEATER * amps, 2), meter="meter"),
        {"case": "on", "through": "heater", "value_a": round(amps, 2), "meter": "clamp"},
    ]
    if at_rest:
        body["cases"].append({"name": "off", "without": ["plug 1"]})
        body["readings"].append(volts("post", "ground", emf_v, "off", meter="meter"))
    body["circuit"]["source"] |= given
    return post("circuit-fit", body)


BOUNDS = {"open_circuit_v": between(12.5, 12.7), "internal_resistance_ohm": between(0.006, 0.01)}
NUMBERS = {"open_circuit_v": 12.6, "internal_resistance_ohm": 0.008}


@pytest.mark.parametrize(
    ("emf_v", "inside", "given", "at_rest"),
    [
        (11.2, 0.008, BOUNDS, False),  # flat
        (12.0, 0.008, BOUNDS, True),
        (12.6, 0.2, BOUNDS, True),  # weak
        (12.6, 0.08, BOUNDS, False),
        (11.0, 0.1, BOUNDS, True),  # both
        (12.6, 0.2, NUMBERS, True),
        (11.0, 0.1, NUMBERS, True),
    ],
)
def test_a_battery_that_alone_explains_the_readings_is_named_first(
    emf_v, inside, given, at_rest
) -> None:
    """All was read right, and only the battery is another than was given."""
    answer = battery(emf_v, inside, given=given, at_rest=at_rest)
    assert answer["agreement"] not in {"agrees", "not_checked"}
    assert answer["beyond"][0]["input"].startswith("circuit/source/")
    if at_rest:
        told = next(each for each in answer["beyond"] if each["input"].startswith("circuit/source"))
        true = inside if told["unit"] == "ohm" else emf_v
        assert told["low"] <= true <= told["high"]
    said = answer["headline"]
    assert said.startswith(("battery", "The battery", "If all readings are right, "))
    assert "contradicts the" not in said
    assert "contradict the circuit" not in said
    assert answer["beyond"][0]["message"] in said


def test_where_its_posts_were_not_read_no_battery_is_blamed_for_two_parts() -> None:
    """Without volts at its posts any contact may take what is missing at the load."""
    body = row([0.005] * 4, 0.02)
    body["circuit"]["source"] |= NUMBERS
    amps = 12.6 / (0.008 + HEATER + 0.02 + 0.6)
    body["readings"] = [
        volts("live", "ground", round(HEATER * amps, 2), meter="meter"),
        volts("post", "n1", round(0.305 * amps, 2), meter="meter"),
        volts("n1", "n2", round(0.305 * amps, 2), meter="meter"),
    ]
    answer = post("circuit-fit", body)
    assert "the battery has" not in answer["headline"]
