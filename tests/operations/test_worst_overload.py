"""The worst overload of many wires is looked for where it may be: all points say the same."""

import numpy as np
import pytest

from lastvolt_service.operations.fuses import overload as overloads
from lastvolt_service.operations.wires.heated_wire import heated_wire, side_by_side
from lastvolt_service.tables.fuses import band, fuse_families

COUNT = 400
SIZES = ("22 AWG", "18 AWG", "14 AWG", "12 AWG", "8 AWG", "4 AWG", "2/0 AWG")


def drawn(seed):
    """Wires at their loads, behind fuses from far too small to far too large."""
    draw = np.random.default_rng(seed)
    wires = [
        heated_wire(
            size=str(draw.choice(SIZES)),
            standard="AWG",
            material="copper",
            construction="stranded",
            ambient_c=float(draw.uniform(-20.0, 80.0)),
            insulation_kind="GXL",
            insulation_limit_c=None,
            grouped_conductors=int(draw.integers(1, 8)),
            altitude_m=0.0,
            outer_diameter_mm=None,
        )
        for _ in range(COUNT)
    ]
    whole = side_by_side(wires)
    start_c = whole.ambient_c + draw.uniform(0.0, 1.0, COUNT) * (whole.limit_c - whole.ambient_c)
    rating_a = 4.0 * whole.area_mm2**0.75 * np.exp(draw.uniform(-1.0, 1.5, COUNT))
    permissible_a = np.full(COUNT, 20.0)
    live_s = np.where(draw.random(COUNT) < 0.5, np.inf, 30.0)
    return overloads.FusedWire(permissible_a, True, whole, start_c, live_s), rating_a


@pytest.mark.parametrize("family", [name for name in fuse_families() if band(name) is not None])
def test_it_is_the_worst_of_all_points(family, monkeypatch):
    fused, rating_a = drawn(len(family))
    found = overloads.overload(fused, band(family), rating_a)
    monkeypatch.setattr(overloads, "_MANY", np.inf)
    every = overloads.overload(fused, band(family), rating_a)
    verdicts = set(every.judged.verdict.tolist())
    assert len(verdicts) > 1
    np.testing.assert_array_equal(found.judged.verdict, every.judged.verdict)
    for one, other in zip(
        (*found.judged[:3], found.current_a, found.time_s),
        (*every.judged[:3], every.current_a, every.time_s),
        strict=True,
    ):
        np.testing.assert_allclose(one, other, rtol=1e-12)
