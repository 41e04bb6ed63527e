"""What answers rest on: each source is named where it is used, and nowhere else."""

import pytest

from ..explain.requests import POSTED, example

OWN_OHM = {"internal_resistance_ohm": 0.01}
OWN_LIMIT = {"limit_drop_percent": None, "limit_drop_v": 0.5}
PRACTICE = {"limit_drop_percent": None}
# Operation, changes of its example, what is named, and what is not.
CASES = [
    ("battery-voltage", {}, ["cranking power by temperature"], ["internal resistance given"]),
    ("battery-voltage", OWN_OHM, ["internal resistance given"], ["cranking power by temperature"]),
    ("wire-sizing", OWN_LIMIT, ["limit given by the caller"], ["voltage drop"]),
    ("wire-sizing", {"limit_drop_percent": None, "supply_v": 12, "limit_drop_v": 13},
     ["the whole supply"], ["limit given by the caller"]),
    ("wire-sizing", {"return_path": "body"}, ["ground return"], []),
    ("wire-sizing", {"return_path": "wire", "body_resistance_ohm": None}, [], ["ground return"]),
    ("wire-heating", {"zone": "engine_bay", "ambient_c": None}, ["ambient of the zone"], []),
    ("wire-heating", {"zone": None, "ambient_c": 60}, [], ["ambient of the zone"]),
    ("wire-heating", {"grouped_conductors": 3}, ["bundles of current-carrying"], []),
    ("wire-heating", {"insulation": "GXL"}, ["J1128"], ["insulation limit given"]),
    ("fuse-selection", {"size": None, "permissible_current_a": 30},
     ["permissible current given"], ["J1128", "heat balance"]),
    ("fuse-selection", {}, ["heat balance"], ["permissible current given"]),
    ("relay-contact", {"inrush_current_a": 30}, [], ["multiples"]),
    ("relay-contact", {"inrush_current_a": None, "load_kind": "lamp"}, ["multiples"], []),
]  # fmt: skip


def basis(name, changes):
    operation = POSTED[name]
    return operation.compute(operation.arguments(example(name, **changes))).basis


@pytest.mark.parametrize(("name", "changes", "named", "not_named"), CASES)
def test_sources_are_named_where_they_are_used(name, changes, named, not_named):
    found = " | ".join(basis(name, changes))
    assert [each for each in named if each not in found] == []
    assert [each for each in not_named if each in found] == []


def test_no_source_stands_twice(worked):
    for name in POSTED:
        found = worked(name).get_json()["basis"]
        assert len(set(found)) == len(found)
