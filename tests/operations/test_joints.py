"""The shortest way over joints, on a square with a diagonal drawn by hand."""

import pytest

from lastvolt_service.operations.circuits.joints import shortest_way

#   a - b
#   | / |
#   c - d - e
SQUARE = {"ab": "ab", "ac": "ac", "bc": "bc", "bd": "bd", "cd": "cd", "de": "de"}


def beside(node, but=()):
    return [
        (name, end.replace(node, ""))
        for name, end in SQUARE.items()
        if node in end and name not in but
    ]


@pytest.mark.parametrize(
    ("start", "goals", "but", "way"),
    [
        ("a", {"e"}, (), ["ab", "bd", "de"]),
        ("a", {"d", "c"}, (), ["ac"]),  # the nearest of both
        ("a", {"d"}, ("bd", "ab"), ["ac", "cd"]),
        ("a", {"e"}, ("de",), None),
        ("a", {"a"}, (), []),
        ("a", {"a", "e"}, (), ["ab", "bd", "de"]),  # to another one
    ],
)
def test_the_way_has_the_fewest_joints(start, goals, but, way):
    assert shortest_way(start, goals, lambda node: beside(node, but)) == way
