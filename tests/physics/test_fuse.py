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
        permissible_current_a=25.0, protection_multiple=1.25, ambient_factor=ambient_factor
    )
    assert_allclose(found, rating_a, rtol=1e-15)


def test_wire_that_bears_nothing_has_no_fuse():
    found = fuse.largest_rating_a(
        permissible_current_a=0.0, protection_multiple=1.1, ambient_factor=1.0
    )
    assert found == 0


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
