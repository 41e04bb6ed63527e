"""Fuses of loads whose first current is larger: pulses, lamps, integrals of melting."""

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.tables import fuses as tables

from .test_fuse_selection import SHARE, selection, verdicts


@pytest.mark.parametrize("family", ["blade C", "blade E", "bolt-in SF51"])
def test_inrush_time_lies_between_gates(run, family):
    """At a gate its multiple holds, half way on the logarithmic scale the geometric mean."""
    gates = tables.gates(family)
    for slow, fast in pairwise(gates[1:]):
        middle_s = math.sqrt(slow.shortest_s * fast.shortest_s)
        middle = math.sqrt(slow.rating_multiple * fast.rating_multiple)
        for time_s, multiple in ((slow.shortest_s, slow.rating_multiple), (middle_s, middle)):
            found = selection(run, inrush_current_a=500, inrush_time_s=time_s, fuse_family=family)
            assert_allclose(found.lower_a, 500 / multiple, rtol=1e-12)
            assert gates[0].citation in found.basis


def test_inrush_of_an_hour_is_less_than_the_slowest_gate(run):
    asked = {"inrush_current_a": 300, "inrush_time_s": 3600, "fuse_family": "bolt-in SF51"}
    gates = tables.gates("bolt-in SF51")
    lower_a = selection(run, **asked).lower_a
    assert 300 / gates[0].rating_multiple > lower_a > 300 / gates[1].rating_multiple


@pytest.mark.parametrize("family", ["blade C", "blade E", "bolt-in SF51"])
def test_a_pulse_shorter_than_all_gates_needs_the_least_integral_of_all(run, family):
    """No heat leaves a fuse so soon: what melts it at a gate is more than a short pulse needs."""
    gates = tables.gates(family)
    least_s = min(gate.rating_multiple**2 * gate.shortest_s for gate in gates)
    found = selection(run, inrush_current_a=900, inrush_time_s=1e-3, fuse_family=family)
    assert_allclose(found.lower_a, 900 / math.sqrt(least_s / 1e-3), rtol=1e-12)
    # Never less than the last gate itself holds.
    last = gates[-1]
    near_s = 0.99 * last.shortest_s
    near = selection(run, inrush_current_a=500, inrush_time_s=near_s, fuse_family=family)
    assert near.lower_a <= 500 / last.rating_multiple * (1 + 1e-12)


# Loads that decay. -------------------------------------------------------------------------------


def lamp_asks(load_a, multiple, decay_s, family):
    """Largest of all windows from the first instant: heat of the current over what melts, by sums.

    Between the gates the fuse is sure to carry what a straight line on logarithmic scales says.
    """
    step_s = decay_s / 400
    times_s = np.arange(step_s, 60 * decay_s, step_s)
    current_a = load_a * (1 + (multiple - 1) * np.exp(-(times_s - step_s / 2) / decay_s))
    mean_a = np.sqrt(np.cumsum(current_a**2) * step_s / times_s)
    gates = tables.gates(family)[::-1]
    fastest, least_s = gates[0], min(g.rating_multiple**2 * g.shortest_s for g in gates)
    carries = np.exp(
        np.interp(
            np.log(times_s),
            np.log([gate.shortest_s for gate in gates]),
            np.log([gate.rating_multiple for gate in gates]),
        )
    )
    shorter = np.maximum(carries, np.sqrt(least_s / times_s))
    carries = np.where(times_s < fastest.shortest_s, shorter, carries)
    return (mean_a / carries).max()


@pytest.mark.parametrize("family", ["blade C", "blade E"])
@pytest.mark.parametrize(("multiple", "decay_s"), [(15, 0.01), (6, 0.1), (2, 3.0), (10, 0.002)])
def test_a_first_current_that_decays_is_no_rectangle(run, family, multiple, decay_s):
    load_a = 9.0
    found = selection(
        run,
        load_current_a=load_a,
        inrush_current_a=multiple * load_a,
        inrush_decay_s=decay_s,
        fuse_family=family,
    )
    expected_a = max(lamp_asks(load_a, multiple, decay_s, family), load_a / SHARE)
    # 80 windows on a logarithmic scale are tried, and here sums of 400 steps a time constant.
    assert_allclose(found.lower_a, expected_a, rtol=0.01)


@pytest.mark.parametrize(("watts", "rating_a"), [(2 * 55, 15), (4 * 5, 3), (2 * 21, 7.5)])
def test_fuses_of_lamps(run, watts, rating_a):
    """Common practice, no source: 15 A for two headlamps, not 40 A."""
    found = selection(run, load_current_a=watts / 12.2, load_profile="lamp")
    assert found.fuse_rating_a == rating_a


def test_an_own_first_current_counts_and_not_that_of_the_kind(run):
    kind = {"load_current_a": 9, "load_profile": "lamp"}
    usual, own = selection(run, **kind), selection(run, **kind, inrush_current_a=180)
    assert own.lower_a > usual.lower_a
    rectangle = selection(run, **kind, inrush_current_a=180, inrush_time_s=0.1)
    plain = selection(run, load_current_a=9, inrush_current_a=180, inrush_time_s=0.1)
    assert rectangle.lower_a == plain.lower_a > own.lower_a
    assert any("filament" in text for text in usual.basis)
    assert "inrush" not in verdicts(usual)


# Loads that are on for a time. -------------------------------------------------------------------


def test_a_load_that_rests_needs_a_fuse_for_its_mean_heat(run):
    """20 A for 10 s of every minute are a mean of 8.16 A; while it is on, no more than a rating."""
    found = selection(run, load_current_a=20, on_time_s=10, off_time_s=50, inrush_current_a=0)
    assert_allclose(found.lower_a, 20, rtol=1e-12)
    busy = selection(run, load_current_a=20, on_time_s=50, off_time_s=10, inrush_current_a=0)
    assert_allclose(busy.lower_a, 20 * math.sqrt(50 / 60) / SHARE, rtol=1e-12)
    once = selection(run, load_current_a=20, on_time_s=50, inrush_current_a=0)
    assert_allclose(once.lower_a, 20, rtol=1e-12)


def test_family_of_unknown_times_is_trusted_with_its_rating_only(run):
    assert tables.gates("bolt-in SF30") == ()
    found = selection(run, inrush_current_a=95, inrush_time_s=1e-3, fuse_family="bolt-in SF30")
    assert (found.lower_a, found.fuse_rating_a) == (95, 100)


def test_small_inrush_does_not_count(run):
    assert selection(run, inrush_current_a=8).lower_a == selection(run).lower_a == 10


def test_unknown_inrush_is_said_to_be_unknown(run):
    assert verdicts(selection(run))["inrush"] == "unknown"
    assert "inrush" not in verdicts(selection(run, inrush_current_a=0))
    assert "inrush" not in verdicts(selection(run, inrush_current_a=20))


# Families and empty windows. --------------------------------------------------------------------
