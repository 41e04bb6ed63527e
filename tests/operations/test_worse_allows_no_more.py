"""With worse conditions no permission grows: on grids that cross every edge of every table.

Worse is less copper, an insulation that bears less, hotter air, more loaded wires, thinner air, a
longer load or a shorter rest. What is permitted is a current for ever and for a time, and the
largest fuse.
"""

import itertools

import numpy as np
import pytest

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.wires.ampacity import duty_current, permissible
from lastvolt_service.operations.wires.fields import Surroundings
from lastvolt_service.operations.wires.heated_wire import lay
from lastvolt_service.operations.wires.insulated_wire import insulated_wire
from lastvolt_service.rows import Words
from lastvolt_service.tables.ampacity import columns
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.materials import material_names
from lastvolt_service.tables.practice import zones
from lastvolt_service.tables.sizes import STANDARDS, sizes

from ..cost import spread

NEAR = 1e-3
RATINGS = sorted({column.rating_c for column in columns()})
KINDS = insulation_kinds()
LIMITS = sorted(
    {40.0, 55.0, 300.0}
    | {insulation(kind).limit_c for kind in KINDS}
    | {rating + step for rating in RATINGS for step in (-NEAR, 0.0, NEAR)}
    | {float(each) for each in range(60, 260, 20)}
)
AMBIENTS = sorted(
    {-60.0, -20.0, 0.0, 84.9, 99.0, 110.0, 124.0}
    | {edge + step for edge in (20.0, 30.0, 40.0, 50.0) for step in (-NEAR, 0.0, NEAR)}
    | {zone.ambient_c + step for zone in zones().values() for step in (-1.0, 0.0, 1.0)}
)
LOOMS = [1, 2, 3, 4, 5, 6, 7, 8, 24, 25, 200]
ALTITUDES_M = [0.0, 1000.0, 3000.0, 6000.0]
LOADS_S = [0.01, 0.3, 2.0, 15.0, 120.0, 1800.0, 1e5]
RESTS_S = [1.0, 60.0, 3000.0]


def known_sizes():
    """Every size of every standard, in every metal that it is known in."""
    found = []
    for standard, material in itertools.product(STANDARDS, material_names()):
        for size in sizes(standard):
            for construction in ("stranded", "solid"):
                try:
                    wire = insulated_wire(
                        size=size,
                        standard=standard,
                        material=material,
                        construction=construction,
                        insulation="TXL",
                    )
                except CalculationError:
                    continue
                if wire.conductor.area_mm2 > 0.1:
                    found.append((size, standard, material, construction))
    return found


SIZES = known_sizes()
SOME_SIZES = [each for each in SIZES if each[2:] == ("copper", "stranded")][::3] + SIZES[::17]


def wires_of(wires, kinds, limits_c, ambients_c, looms, altitudes_m):
    """Lay the whole grid at once: columns of wires, and the grid's shape."""
    shape = tuple(map(len, (wires, kinds, limits_c, ambients_c, looms, altitudes_m)))
    wire, kind, limit, ambient, loom, altitude = (each.reshape(-1) for each in np.indices(shape))
    texts = [Words(tuple(column), wire) for column in zip(*wires, strict=True)]
    names = ("size", "standard", "material", "construction")
    known = look_up(
        insulated_wire, **dict(zip(names, texts, strict=True)), insulation=Words(tuple(kinds), kind)
    )
    own_c = np.array([np.nan if each is None else each for each in limits_c])[limit]
    place = Surroundings(
        insulation_limit_c=own_c,
        outer_diameter_mm=np.nan,
        grouped_conductors=np.array(looms, dtype=float)[loom],
        altitude_m=np.array(altitudes_m)[altitude],
    )
    laid, _ = lay(known, place, np.array(ambients_c)[ambient])
    return laid, shape


def permitted(wires, on_s=None, off_s=np.inf):
    may = permissible(wires)
    return may.current_a if on_s is None else duty_current(wires, may, on_s, off_s)


def grows(found, axis, share=1e-9):
    """Hold that what is permitted never falls along an axis on which things get better."""
    assert np.isfinite(found).all()
    better, worse = (np.take(found, range(*part), axis=axis) for part in _halves(found, axis))
    assert (better >= worse * (1 - share)).all(), (better - worse).min()


def _halves(found, axis):
    return ((1, found.shape[axis]), (0, found.shape[axis] - 1))


# The course of heat in time is good to a tenth of a percent, and so is what it permits.
IN_TIME = 1e-3


def test_an_insulation_that_bears_less():
    wires, shape = wires_of(SIZES, ["TXL", "SGT"], LIMITS, [-20, 30, 39, 50, 70], [1, 4], [0.0])
    grows(permitted(wires).reshape(shape), axis=2)


def test_hotter_air():
    kinds = ["GPT", "TXL", "ISO class A", "ISO class H"]
    wires, shape = wires_of(SIZES, kinds, [None], AMBIENTS, [1, 3], [0.0, 6000.0])
    grows(permitted(wires).reshape(shape)[:, :, :, ::-1], axis=3)


def test_more_loaded_wires():
    wires, shape = wires_of(SIZES, KINDS, [None], [20.0, 50.0, 80.0], LOOMS, [0.0])
    grows(permitted(wires).reshape(shape)[..., ::-1, :], axis=4)


def test_thinner_air():
    wires, shape = wires_of(SIZES, KINDS, [None], [20.0, 50.0, 80.0], [1], ALTITUDES_M)
    grows(permitted(wires).reshape(shape)[..., ::-1], axis=5)


def less_copper(kind, on_s=None):
    """What pairs of sizes are permitted, of all standards, the first with less of the metal."""
    wires, shape = wires_of(SIZES, [kind], [None, 100.0], [20.0, 31.0, 60.0, 84.0], [1, 3], [0.0])
    found = permitted(wires, on_s).reshape(len(SIZES), -1)
    area_mm2, ohm = (
        each.reshape(shape)[:, 0, 0, 0, 0, 0]
        for each in (wires.area_mm2, wires.resistance_20_ohm_per_m)
    )
    less = (area_mm2[:, None] <= area_mm2) & (ohm[:, None] >= ohm)
    # Solid wire is thinner than stranded, and another metal takes up another heat.
    shapes = np.unique([each[2:] for each in SIZES], axis=0, return_inverse=True)[1]
    here, other = np.nonzero(less & (shapes[:, None] == shapes))
    assert len(here) > len(SIZES) * 20
    return found[here], found[other]


@pytest.mark.parametrize("kind", KINDS)
def test_less_copper(kind):
    """Of two wires of any standard, one with less section and more resistance."""
    less, more = less_copper(kind)
    assert (less <= more * (1 + 1e-9)).all()


def test_an_sae_size_carries_less_than_the_awg_of_its_number():
    for kind, number, on_s in itertools.product(
        KINDS, ("18", "14", "10", "6", "2", "1/0", "4/0"), (None, 0.1, 5.0, 200.0)
    ):
        pair = [(f"{number} {each}", each, "copper", "stranded") for each in ("SAE", "AWG")]
        wires, shape = wires_of(pair, [kind], [None], [25.0, 45.0, 80.0], [1], [0.0])
        sae, awg = permitted(wires, on_s).reshape(shape)
        assert (sae < awg).all(), (kind, number, on_s)


# In time. --------------------------------------------------------------------------------------


@pytest.mark.parametrize("off_s", spread([np.inf, *RESTS_S], 3))
def test_for_a_time(off_s):
    """Each axis; the longest load permits what is permitted for ever, and no load less."""
    axes = [["GPT", "SXL"], [60.0, 85.0, 104.0, 105.0, 160.0], [-20.0, 30.0, 50.0], [1, 7]]
    wires, shape = wires_of(SOME_SIZES[::2], *axes, [0.0, 6000.0])
    steady = permitted(wires).reshape(shape)
    found = np.stack(
        [permitted(wires, on_s, off_s).reshape(shape) for on_s in LOADS_S[::-1]], axis=-1
    )
    grows(found, axis=6, share=IN_TIME)  # a longer load
    grows(found, axis=2, share=IN_TIME)
    grows(found[:, :, :, ::-1], axis=3, share=IN_TIME)
    grows(found[..., ::-1, :, :], axis=4, share=IN_TIME)
    grows(found[..., ::-1, :], axis=5, share=IN_TIME)
    assert (found >= steady[..., None] * (1 - 1e-9)).all()
    np.testing.assert_allclose(found[..., 0], steady, rtol=2e-3)


def test_a_shorter_rest():
    wires, _ = wires_of(SOME_SIZES, ["GPT", "SGX"], [None], [-20.0, 30.0, 70.0], [1, 7], [0.0])
    for on_s in LOADS_S:
        found = np.stack([permitted(wires, on_s, off_s) for off_s in (0.1, *RESTS_S, np.inf)])
        grows(found, axis=0, share=IN_TIME)


@pytest.mark.parametrize("kind", ["SXL", "SGT", "SGX"])
def test_less_copper_for_a_time(kind):
    """With usual walls: a published diameter of one size may hold more insulation, and its heat."""
    for on_s in (0.05, 5.0, 300.0):
        less, more = less_copper(kind, on_s)
        assert (less <= more * (1 + IN_TIME)).all(), on_s
