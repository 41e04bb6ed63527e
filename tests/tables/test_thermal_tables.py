"""Tables of the thermal part: against other publications, and whole."""

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import NotCovered
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.tables import (
    ampacity,
    fuses,
    grouping,
    insulation,
    materials,
    metals,
    practice,
    sizes,
)

# ABYC E-11, 105 degC insulation, outside / inside engine spaces, as four reprints give it: the
# same currents as 33 CFR 183.425 Table 5, and 0.85 times them to the ampere.
ABYC_A = {
    "18": (20, 17),
    "16": (25, 21),
    "14": (35, 30),
    "12": (45, 38),
    "10": (60, 51),
    "8": (80, 68),
    "6": (120, 102),
    "4": (160, 136),
    "3": (180, 153),
    "2": (210, 178),
    "1": (245, 208),
    "1/0": (285, 242),
    "2/0": (330, 280),
    "3/0": (385, 327),
    "4/0": (445, 378),
}
# 33 CFR 183.425 Table 5, 75 degC: identical in NFPA 70, table of single conductors in free air.
CFR_75_A = {"6": 95, "4": 125, "2": 170, "1": 195, "1/0": 230, "2/0": 265, "3/0": 310, "4/0": 360}


def column(rating_c):
    (found,) = (each for each in ampacity.columns() if each.rating_c == rating_c)
    return found


def current_a(gauge, rating_c):
    found = column(rating_c)
    return found.currents_a[found.gauges.index(sizes.gauge_number(gauge))]


@pytest.mark.parametrize(("gauge", "printed"), CFR_75_A.items())
def test_currents_of_75_degrees(gauge, printed):
    assert current_a(gauge, 75.0) == printed


# The whole of it, in the columns of 60, 75, 80, 90, 105, 125 and 200 degC.
CFR_A = """
18   10  10  15  20  20  25  25
16   15  15  20  25  25  30  35
14   20  20  25  30  35  40  45
12   25  25  35  40  45  50  55
10   40  40  50  55  60  70  70
8    55  65  70  70  80  90 100
6    80  95 100 100 120 125 135
4   105 125 130 135 160 170 180
3   120 145 150 155 180 195 210
2   140 170 175 180 210 225 240
1   165 195 210 210 245 265 280
1/0 195 230 245 245 285 305 325
2/0 225 265 285 285 330 355 370
3/0 260 310 330 330 385 410 430
4/0 300 360 385 385 445 475 510
"""


@pytest.mark.parametrize("row", CFR_A.strip().splitlines())
def test_currents_of_the_regulation(row):
    gauge, *printed = row.split()
    assert [
        current_a(gauge, limit_c) for limit_c in (60.0, 75.0, 80.0, 90.0, 105.0, 125.0, 200.0)
    ] == [float(each) for each in printed]


@pytest.mark.parametrize(("gauge", "printed"), ABYC_A.items())
def test_currents_of_abyc(gauge, printed):
    outside = current_a(gauge, 105.0)
    assert outside == printed[0]
    inside = column(105.0).engine_space_factor * outside
    assert_allclose(inside, printed[1], atol=0.5001)
    assert "unverified" not in column(105.0).factor_citation


def test_currents_grow_with_rating_and_size():
    currents = np.array([each.currents_a for each in ampacity.columns()])
    assert currents.shape == (7, 15)
    assert np.all(np.diff(currents, axis=0) >= 0)
    assert np.all(np.diff(currents, axis=1) > 0)
    ratings = [each.rating_c for each in ampacity.columns()]
    factors = [each.engine_space_factor for each in ampacity.columns()]
    assert ratings == sorted(ratings)
    assert factors == sorted(factors)


def test_remembered_factors_say_so():
    assert column(90.0).engine_space_factor == 0.82
    assert "unverified" in column(90.0).factor_citation


@pytest.mark.parametrize("kind", insulation.insulation_kinds())
@pytest.mark.parametrize("standard", sizes.STANDARDS)
def test_every_size_has_dimensions(kind, standard):
    last_mm = 0.0
    for size in sizes.sizes(standard):
        area_mm2 = conductor(size, standard).area_mm2
        found = insulation.dimensions(kind=kind, size=size, area_mm2=area_mm2)
        wall_mm = (found.outer_diameter_mm - found.conductor_diameter_mm) / 2
        assert 0.15 < wall_mm < 2.5
        assert found.conductor_diameter_mm > math.sqrt(4 / math.pi * area_mm2)
        assert found.outer_diameter_mm > last_mm - 0.2  # published and usual walls alternate
        assert found.citation
        last_mm = found.outer_diameter_mm


# Maker's sheet of thin-wall cable (maximum diameters) and of cross-linked medium wall.
@pytest.mark.parametrize(
    ("kind", "size", "printed_mm"),
    [
        ("ISO class B", "0.5 mm2", 1.7),
        ("ISO class B", "0.75 mm2", 1.9),
        ("ISO class B", "1 mm2", 2.1),
        ("ISO class B", "1.5 mm2", 2.4),
        ("ISO class B", "2 mm2", 2.8),
        ("ISO class B", "2.5 mm2", 3.0),
        ("ISO class B", "3 mm2", 3.4),
        ("ISO class B", "4 mm2", 3.7),
        ("ISO class B", "6 mm2", 4.3),
        ("ISO class B", "10 mm2", 6.0),
        ("TXL", "6 mm2", 4.3),
        ("GXL", "18 SAE", 2.6),
        ("GXL", "16 SAE", 3.0),
        ("GXL", "14 SAE", 3.5),
        ("GXL", "12 SAE", 4.1),
        ("GXL", "10 SAE", 4.8),
        ("GXL", "8 SAE", 5.9),
    ],
)
def test_published_diameters(kind, size, printed_mm):
    area_mm2 = conductor(size, "ISO 6722" if "mm2" in size else "SAE").area_mm2
    found = insulation.dimensions(kind=kind, size=size, area_mm2=area_mm2)
    assert found.outer_diameter_mm == printed_mm
    # The usual wall, for where nothing is printed, is not thicker than the printed one: less
    # surface is the safe side.
    usual = insulation.dimensions(kind=kind, size="none", area_mm2=area_mm2)
    assert usual.outer_diameter_mm <= printed_mm
    assert usual.outer_diameter_mm == pytest.approx(printed_mm, rel=0.2)


def test_wall_of_gpt():
    """SAE J1128 type GPT: 0.023 in for gauges 20 to 14."""
    found = insulation.dimensions(kind="GPT", size="14 AWG", area_mm2=2.08)
    wall_mm = (found.outer_diameter_mm - found.conductor_diameter_mm) / 2
    assert_allclose(wall_mm / 25.4, 0.023, atol=0.0005)


def test_no_wall_for_giants():
    with pytest.raises(NotCovered):
        insulation.dimensions(kind="TXL", size="500 mm2", area_mm2=500.0)


def test_solid_is_thinner_than_stranded():
    stranded, solid = (
        insulation.dimensions(kind="GPT", size="14 AWG", area_mm2=2.08, construction=construction)
        for construction in ("stranded", "solid")
    )
    assert_allclose(solid.conductor_diameter_mm, math.sqrt(4 / math.pi * 2.08))
    assert stranded.conductor_diameter_mm > solid.conductor_diameter_mm


@pytest.mark.parametrize(
    ("kind", "limit_c", "unverified"),
    [
        ("GPT", 85, False),
        ("TXL", 125, False),
        ("SGX", 125, False),
        ("ISO class A", 85, True),
        ("ISO class D", 150, True),
        ("TWP", 85, True),
    ],
)
def test_insulation_limits(kind, limit_c, unverified):
    found = insulation.insulation(kind)
    assert found.limit_c == limit_c
    assert ("unverified" in found.citation) == unverified
    assert found.short_circuit_c is None or found.short_circuit_c > found.limit_c


def test_a_single_conductor_has_no_factor():
    assert grouping.grouping(1) == grouping.ALONE
    factors = [grouping.grouping(number).factor for number in range(1, 40)]
    assert np.all(np.diff(factors) <= 0)


@pytest.mark.parametrize("family", fuses.fuse_families())
def test_fuses(family):
    ratings = [fuse.rating_a for fuse in fuses.fuses(family)]
    assert np.all(np.diff(ratings) > 0)
    assert all("unverified" in fuse.citation for fuse in fuses.fuses(family))
    found = fuses.gates(family)
    assert found or family == "bolt-in SF30"
    for slow, fast in pairwise(found):
        assert fast.rating_multiple > slow.rating_multiple
        assert fast.shortest_s < slow.shortest_s
        assert fast.longest_s < slow.longest_s
    assert all(gate.shortest_s < gate.longest_s for gate in found)


# ISO 8820-5:2007: SF30 and SF51, 30 to 500 A. ISO 8820-3: 15 A blue, 20 A yellow, as an article
# has it.
def test_published_ratings():
    bolt_in = [*fuses.fuses("bolt-in SF30"), *fuses.fuses("bolt-in SF51")]
    assert min(fuse.rating_a for fuse in bolt_in) == 30
    assert max(fuse.rating_a for fuse in bolt_in) == 500
    colours = {fuse.rating_a: fuse.colour for fuse in fuses.fuses("blade C")}
    assert (colours[15], colours[20]) == ("blue", "yellow")


def test_fuses_in_the_heat():
    assert fuses.ambient_factor(fuses.REFERENCE_AMBIENT_C) == 1.0
    factors = [fuses.ambient_factor(ambient_c) for ambient_c in (-40, 0, 25, 60, 85, 125)]
    assert np.all(np.diff(factors) < 0)
    assert fuses.ambient_factor(55.0) == pytest.approx(0.95)
    for ambient_c in (-41.0, 126.0, math.nan):
        with pytest.raises(NotCovered):
            fuses.ambient_factor(ambient_c)
    assert fuses.ambient_citation().startswith("common practice")


# ITS-90: tin freezes at 231.928 degC, zinc at 419.527 degC. The element of a road-vehicle fuse is
# of zinc, or of copper with tin that dissolves it.
@pytest.mark.parametrize("ambient_c", [-40, 0, 60, 85, 125])
def test_a_fuse_shifts_as_its_metal_lets_it(ambient_c):
    """At the current that melts it, its heat goes with what is left up to the melting point."""
    by_law = [
        math.sqrt((melts_c - ambient_c) / (melts_c - fuses.REFERENCE_AMBIENT_C))
        for melts_c in (231.928, 419.527)
    ]
    assert min(by_law) < fuses.ambient_factor(ambient_c) < max(by_law)


def test_continuous_share():
    """A fuse maker's application note: no more than 75 % of the rating at 25 degC."""
    assert fuses.CONTINUOUS_SHARE == 0.75
    assert "75 %" in fuses.continuous_citation()
    assert fuses.near_source_citation().startswith("common practice")


def test_every_metal_has_heat():
    for name in materials.material_names():
        assert metals.metal(name).melting_c > 600
    # 386 J/(kg K) and 8.89 kg/dm3.
    assert_allclose(metals.metal("copper").heat_capacity_j_per_m3_k, 386 * 8890, rtol=5e-4)


def test_practice_says_so():
    assert set(practice.minimum_sizes()) == set(sizes.STANDARDS)
    for standard, smallest in practice.minimum_sizes().items():
        assert smallest.size in sizes.sizes(standard)
        assert smallest.citation.startswith("common practice")
    for zone in practice.zones().values():
        assert 20 <= zone.ambient_c <= 150
        assert zone.citation.startswith("common practice")
