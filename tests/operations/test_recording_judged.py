"""What a recorded level is held against, and what can be where nothing is switched.

Limits by hand from the tables: 7.2 V a 12 V battery keeps at its cold rating, 9.6 V at a load test;
0.1 V over a switch. Shapes are drawn here, square and without noise but that of a digit.
"""

import numpy as np
import pytest

from .test_recording import ask, codes, said

TIME_S = np.arange(0.0, 3.0, 0.005)
ON = (TIME_S > 0.5) & (TIME_S < 2.5)
# Up and down every 0.1 s.
BUZZ = (np.floor((TIME_S - 0.5) / 0.05) % 2 == 0) & ON


def recorded(values, channel="volts_v", **more):
    return ask(time_s=TIME_S.tolist(), **{channel: np.asarray(values, float).tolist()}, **more)


def dips(lowest_v, level_v, rest_v=12.6):
    """A battery as a starter is switched on: down at once, and up again within 0.3 s."""
    sags = level_v - (level_v - lowest_v) * np.exp(-np.clip(TIME_S - 0.505, 0.0, None) / 0.1)
    return recorded(np.where(ON, sags, rest_v).round(2), between="battery")


@pytest.mark.parametrize(
    ("lowest_v", "level_v", "rest_v", "verdict", "words"),
    [
        (9.0, 10.2, 12.6, "pass", "keeps 10.2 V"),
        (8.5, 9.0, 12.6, "marginal", "9.6 V"),
        (6.0, 10.0, 12.6, "marginal", "dips to 6 V"),
        (6.0, 6.0, 12.6, "fail", "less than the 7.2 V"),
        (9.0, 9.7, 11.2, "fail", "At rest the battery has 11.2 V"),
        (12.0, 12.0, 25.2, "fail", "less than the 14.4 V"),
    ],
)
def test_a_battery_at_work_is_judged(lowest_v, level_v, rest_v, verdict, words):
    answer = dips(lowest_v, level_v, rest_v)
    assert ("supply", verdict) in codes(answer)
    assert words in said(answer, "supply")


@pytest.mark.parametrize(
    ("level_v", "amps", "drags"),
    # By hand 4.5 V / 420 A = 0.0107 ohm, a sound battery has 0.010; 4.5 V / 180 A = 0.025 ohm.
    [(8.1, 420.0, True), (8.1, 180.0, False), (10.4, 180.0, False)],
)
def test_a_strong_battery_that_sags_turns_something_that_draws_too_much(level_v, amps, drags):
    answer = ask(
        time_s=TIME_S.tolist(), between="battery",
        volts_v=np.where(ON, level_v, 12.6).tolist(), current_a=np.where(ON, amps, 0.0).tolist(),
    )  # fmt: skip
    assert ("strong one: what it turns draws too much" in answer.headline) is drags
    assert f"{amps:.0f} A flow" in answer.headline
    assert ("Ask battery-voltage" in answer.headline) is (not drags and level_v < 9.0)


def test_a_battery_of_which_the_system_is_not_known_is_not_judged():
    """8.5 V at rest are no 6 V system and no 12 V one that anybody could name."""
    answer = dips(6.0, 7.0, rest_v=8.5)
    assert ("supply", "unknown") in codes(answer)
    assert "nominal_v" in said(answer, "supply")
    assert "battery at work" in answer.headline


@pytest.mark.parametrize(
    ("load_v", "needed_v", "verdict"),
    [(11.0, 8.0, "pass"), (6.5, 8.0, "fail"), (8.02, 8.0, "undecided"), (11.0, None, "unknown")],
)
def test_volts_at_a_load_are_held_against_what_it_needs(load_v, needed_v, verdict):
    need = {} if needed_v is None else {"needed_v": needed_v}
    answer = recorded(np.where(ON, load_v, 0.0), between="load", **need)
    assert ("load_voltage", verdict) in codes(answer)
    assert ("voltage at the load" in answer.headline) == (verdict != "pass")


@pytest.mark.parametrize(
    ("drop_v", "part", "verdict"),
    [(0.05, "switch", "pass"), (0.6, "switch", "fail"), (0.6, None, "unknown")],
)
def test_a_contact_is_judged_by_its_drop_while_it_is_closed(drop_v, part, verdict):
    """12.4 V stand over it while it is open: that is off, and no level of it."""
    more = {} if part is None else {"part": part}
    answer = recorded(np.where(ON, drop_v, 12.4), between="path", **more)
    assert answer.volts.plateau.value_v == pytest.approx(drop_v)
    assert ("contact_drop", verdict) in codes(answer)


def test_a_contact_whose_current_was_not_read_is_sound_only_if_the_load_was_at_work():
    answer = recorded(np.where(ON, 0.02, 12.4), between="path", part="switch")
    assert "if the load was at work" in said(answer, "contact_drop")


@pytest.mark.parametrize(
    ("values", "channel", "between"),
    [
        (np.where(BUZZ, 8.0, 10.5 * ON), "volts_v", "load"),
        (np.where(BUZZ, 8.0, np.where(ON, 12.2, 12.6)), "volts_v", "battery"),
        (np.where(BUZZ, 40.0, 12.0 * ON), "current_a", None),
        (np.where(BUZZ, 40.0, 0.0), "current_a", None),
    ],
)
def test_a_solenoid_that_chatters_is_told_though_it_never_goes_off(values, channel, between):
    """Both windings and the one that holds by turns; the volts fall and rise with them."""
    answer = recorded(values, channel, **({} if between is None else {"between": between}))
    assert answer.timing.chatters_every_s == pytest.approx(0.1, abs=0.005)
    assert ("bounces", "fail") in codes(answer)


def test_an_engine_that_is_cranked_does_not_chatter():
    """Its compression moves volts and amperes like a sine, six times a second."""
    sine = np.sin(2 * np.pi * 6 * TIME_S)
    volts = recorded(np.where(ON, 10.0 + 0.9 * sine, 12.6), between="battery")
    amperes = recorded(np.where(ON, 200.0 + 60.0 * sine, 0.0), "current_a")
    assert volts.timing.chatters_every_s is None
    assert amperes.timing.chatters_every_s is None


@pytest.mark.parametrize(
    ("level", "channel", "between", "words"),
    [
        (0.0, "volts_v", "load", "No volts reach the load"),
        (12.6, "volts_v", "load", "first take the battery's ground off"),
        (12.6, "volts_v", "path", "the path is open"),
        (0.0, "volts_v", "path", "open elsewhere"),
        (12.6, "volts_v", "battery", "next to nothing was drawn"),
        (0.0, "current_a", None, "open elsewhere"),
        (40.0, "current_a", None, "something runs on"),
        (0.8, "volts_v", "path", "begin to record before"),
    ],
)
def test_what_stays_as_it_is_is_told_as_what_it_can_be(level, channel, between, words):
    more = {} if between is None else {"between": between}
    answer = recorded(np.full(len(TIME_S), level), channel, **more)
    assert words in said(answer, "switching")
