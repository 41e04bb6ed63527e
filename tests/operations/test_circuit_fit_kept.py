"""What a fit keeps to: bounds that were given, times that were not, and readings easily taken."""

import copy

import pytest

from .test_circuit_fit import BY_NAME, between, contact, post, question, volts

REST = volts("post", "ground", 11.0, case="off")


def test_what_decides_stays_within_what_the_bounds_allow() -> None:
    """Nothing tells of the switch: 11 V over 2 of 2.01 to 2.51 ohm, whatever 1.96 times it is."""
    decisive = post("circuit-fit", question([REST], emf=11.0))["decisive"]
    assert decisive["low_v"] == pytest.approx(22 / 2.51, rel=1e-5)
    assert decisive["high_v"] == pytest.approx(22 / 2.01, rel=1e-5)
    assert decisive["voltage_v"] - 1.96 * decisive["standard_uncertainty_v"] < 22 / 2.51


def test_a_reading_at_the_load_is_asked_for_before_one_over_two_parts() -> None:
    """Over both open contacts volts are few and read finer, but hardly tell more."""
    body = question([REST], emf=11.0)
    body["circuit"]["branches"].append(contact("plug", "live", "end", between(0.0, 0.5)))
    body["circuit"]["loads"][0]["nodes"] = ["end", "ground"]
    assert post("circuit-fit", body)["next_reading"]["between"] == ["end", "ground"]


def test_no_reading_is_asked_of_years_to_come_though_it_would_tell_more() -> None:
    """Aged, the contact drops one and a half times as much."""
    cases = [{"name": "aged", "ageing_factor": 1.5}, {"name": "on"},
             {"name": "off", "without": ["switch"]}]  # fmt: skip
    asked = question([REST], cases=cases, worst_case="aged")
    assert post("circuit-fit", asked)["next_reading"]["case"] == "on"


def test_a_time_that_was_not_given_stays_open() -> None:
    """A usual one is reckoned with, and not sent on as if it had been asked for."""
    body = copy.deepcopy(BY_NAME["circuit-fit"].schema.example)
    body["circuit"]["loads"][0]["circuit"] = "starter_control"
    body["cases"][1].pop("duration_s")
    told = post("circuit-fit", body)["fitted"]["cases"]
    assert ["duration_s" in each for each in told] == [False, False, True]
