"""Fuses: the window between load and wire, by hand."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import fuse

# A made-up fuse: twice its rating for 1 s, four times for 0.01 s, eight times for 0.001 s.
MULTIPLE = np.array([2.0, 4.0, 8.0])
SHORTEST_S = np.array([1.0, 0.01, 0.001])


def carried(time_s):
    return fuse.carried_multiple(time_s=time_s, gate_multiple=MULTIPLE, gate_shortest_s=SHORTEST_S)


@pytest.mark.parametrize(
    ("time_s", "multiple"),
    [
        (1.0, 2.0),
        (0.01, 4.0),
        (0.001, 8.0),
        (0.1, 2 * 2**0.5),  # half way between 1 and 0.01 on a logarithmic scale
        (10**-0.5, 2 * 2**0.25),  # a quarter of the way
        (10**-2.5, 4 * 2**0.5),
        (3600.0, 2.0),  # beyond the points nothing is extrapolated
        (1e-6, 8.0),
    ],
)
def test_carried_multiple(time_s, multiple):
    assert_allclose(carried(time_s), multiple, rtol=1e-14)


def test_longer_is_never_more():
    times_s = np.geomspace(1e-5, 1e3, 200)
    found = carried(times_s)
    assert (np.diff(found) <= 0).all()
    assert_allclose(found, [carried(time_s) for time_s in times_s], rtol=1e-15)


def smallest(**fields):
    given = {
        "load_current_a": 9.0,
        "continuous_share": 0.75,
        "inrush_current_a": 0.0,
        "carried_multiple": 4.0,
        "ambient_factor": 1.0,
    }
    return fuse.smallest_rating_a(**(given | fields))


@pytest.mark.parametrize(
    ("fields", "rating_a"),
    [
        ({}, 12.0),
        ({"inrush_current_a": 40.0}, 12.0),
        ({"inrush_current_a": 60.0}, 15.0),
        ({"ambient_factor": 0.8}, 15.0),
        ({"ambient_factor": 1.2}, 10.0),
        ({"inrush_current_a": 60.0, "ambient_factor": 0.75}, 20.0),
        ({"load_current_a": 0.0}, 0.0),
    ],
)
def test_smallest_rating(fields, rating_a):
    assert_allclose(smallest(**fields), rating_a, rtol=1e-15)


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
    loads_a, factors = np.array([[1.0], [9.0], [30.0]]), np.array([0.8, 1.0, 1.2])
    found = smallest(load_current_a=loads_a, ambient_factor=factors, inrush_current_a=40.0)
    expected = [
        [
            smallest(load_current_a=load_a, ambient_factor=factor, inrush_current_a=40.0)
            for factor in factors
        ]
        for load_a in loads_a[:, 0]
    ]
    assert found.shape == (3, 3)
    assert_allclose(found, expected, rtol=1e-15)
