"""Fuses: the window between load and wire, by hand."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import fuse


@pytest.mark.parametrize(
    ("current_a", "multiple", "ambient_factor", "rating_a"),
    [
        (9.0, 0.75, 1.0, 12.0),
        (40.0, 4.0, 1.0, 10.0),
        (9.0, 0.75, 0.8, 15.0),
        (9.0, 0.75, 1.2, 10.0),
        (60.0, 4.0, 0.75, 20.0),
        (0.0, 0.75, 1.0, 0.0),
    ],
)
def test_rating_that_carries(current_a, multiple, ambient_factor, rating_a):
    found = fuse.carrying_rating_a(
        current_a=current_a, carried_multiple=multiple, ambient_factor=ambient_factor
    )
    assert_allclose(found, rating_a, rtol=1e-15)


@pytest.mark.parametrize(
    ("ambient_factor", "rating_a"),
    [(1.0, 20.0), (0.8, 20.0), (1.25, 16.0)],  # a weak fuse may turn cold, a strong one is strong
)
def test_largest_rating(ambient_factor, rating_a):
    found = fuse.largest_rating_a(
        permissible_current_a=25.0, opening_multiple=1.25, ambient_factor=ambient_factor
    )
    assert_allclose(found, rating_a, rtol=1e-15)


def test_wire_that_bears_nothing_has_no_fuse():
    found = fuse.largest_rating_a(
        permissible_current_a=0.0, opening_multiple=1.1, ambient_factor=1.0
    )
    assert found == 0


def test_opening_current_of_a_cold_fuse():
    shared = {"rating_a": 20.0, "opening_multiple": 1.35}
    for factor, opens_a in ((1.0, 27.0), (0.8, 27.0), (1.1, 29.7)):
        found = fuse.opening_current_a(ambient_factor=factor, **shared)
        assert_allclose(found, opens_a, rtol=1e-14)


@pytest.mark.parametrize("time_s", [1e-3, 0.02, 0.5, 30.0])
def test_melting_integral_of_a_current_that_decays(time_s):
    """Against the sum over a hundred thousand steps."""
    edges_s = np.linspace(0, time_s, 100_001)
    middle_s = (edges_s[1:] + edges_s[:-1]) / 2
    current_a = 9.0 + 126.0 * np.exp(-middle_s / 0.01)
    found = fuse.decaying_integral_a2s(
        first_current_a=135.0, load_current_a=9.0, decay_s=0.01, time_s=time_s
    )
    # Middle sums are off by the step's square over 24: here 3e-4 / 24 of a time constant at most.
    assert_allclose(found, (current_a**2).sum() * time_s / 1e5, rtol=1e-5)
    mean_a = fuse.equal_current_a(integral_a2s=found, time_s=time_s)
    assert_allclose(mean_a**2 * time_s, found, rtol=1e-14)


def test_arrays_equal_scalars():
    currents_a, factors = np.array([[1.0], [9.0], [30.0]]), np.array([0.8, 1.0, 1.2])
    found = fuse.carrying_rating_a(
        current_a=currents_a, carried_multiple=4.0, ambient_factor=factors
    )
    expected = [
        [
            fuse.carrying_rating_a(
                current_a=current_a, carried_multiple=4.0, ambient_factor=ambient_factor
            )
            for ambient_factor in factors
        ]
        for current_a in currents_a[:, 0]
    ]
    assert found.shape == (3, 3)
    assert_allclose(found, expected, rtol=1e-15)
