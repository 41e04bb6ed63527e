"""Wires with their insulation where they lie: what is looked up, assumed and said."""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import ConflictingFields, NotCovered, UnknownSize
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heated_wire import (
    HIGHEST_CEILING_C,
    ambient_of,
    heated_wire,
    side_by_side,
)
from lastvolt_service.operations.wires.insulated_wire import UNSTATED_BASIS, UNSTATED_KIND
from lastvolt_service.operations.wires.warming import Warming
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.rows import number
from lastvolt_service.tables.grouping import grouping
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.practice import zones


def wire(**fields):
    return heated_wire(**({"size": "12 AWG", "ambient_c": 30.0, "insulation_kind": "GXL"} | fields))


MIXED = (
    wire(),
    wire(size="18 AWG", insulation_kind="GPT", grouped_conductors=4),
    wire(size="2.5 mm2", insulation_kind="ISO class D", ambient_c=110.0, altitude_m=2500.0),
    wire(size="4/0 AWG", insulation_kind="SGX", material="tinned_copper", ambient_c=50.0),
    wire(size="8 AWG", insulation_limit_c=105.0, construction="solid", material="aluminium"),
)


@pytest.mark.parametrize("zone", zones())
def test_zone_gives_an_ambient_and_says_it_is_practice(zone):
    ambient_c, basis = ambient_of(Zoned(zone=zone))
    assert ambient_c == zones()[zone].ambient_c
    assert all("no source" in text for text in basis)
    assert len(basis) == 1


def test_given_ambient_is_nobody_elses():
    assert ambient_of(Zoned(ambient_c=-12.5)) == (-12.5, ())


# Limits and ceilings. --------------------------------------------------------------------------


@pytest.mark.parametrize("kind", insulation_kinds())
def test_kind_brings_its_limit(kind):
    found = wire(insulation_kind=kind)
    assert found.limit_c == insulation(kind).limit_c
    assert {insulation(kind).citation, insulation(kind).material_citation} <= {*found.basis}
    assert found.ceiling_c > found.limit_c


@pytest.mark.parametrize(
    ("fields", "limit_c", "ceiling_c"),
    [
        ({"insulation_kind": "GXL"}, 125, 250),  # the short-circuit temperature of XLPE
        ({"insulation_kind": "GPT"}, 85, 160),  # and of PVC
        ({"insulation_kind": "ISO class A"}, 85, 185),  # of an unstated material: limit + 100
        ({"insulation_kind": "GXL", "insulation_limit_c": 110}, 110, 250),
        ({"insulation_kind": "GXL", "insulation_limit_c": 300}, 300, 300),
        ({"insulation_kind": None, "insulation_limit_c": 105}, 105, 205),
        ({"insulation_kind": None}, None, HIGHEST_CEILING_C),
    ],
)
def test_limit_and_ceiling(fields, limit_c, ceiling_c):
    found = wire(**fields)
    assert (number(found.limit_c), found.ceiling_c) == (limit_c, ceiling_c)
    assert ("insulation limit given by the caller" in found.basis) == (
        "insulation_limit_c" in fields
    )


def test_unstated_insulation_is_the_poorest_and_says_so():
    found = wire(insulation_kind=None)
    assert UNSTATED_BASIS in found.basis
    assert found.one.insulation.citation not in found.basis
    assert found.one.insulation == insulation(UNSTATED_KIND)
    stated = [insulation(kind) for kind in insulation_kinds()]
    assert found.insulation_w_per_m_k == min(each.conductivity_w_per_m_k for each in stated)
    # It errs on the hot side for the sizes of looms.
    for size in ("20 AWG", "12 AWG", "8 AWG"):
        kinds = (None, *insulation_kinds())
        physics = side_by_side([wire(size=size, insulation_kind=kind) for kind in kinds]).physics
        current_a = {"20 AWG": 8.0, "12 AWG": 25.0, "8 AWG": 60.0}[size]
        hot_c, *others_c = conductor_temperature(
            current_a=current_a, wire=physics, ceiling_c=400.0
        ).conductor_temperature_c
        assert hot_c >= max(others_c) - 1e-6


# Dimensions. -----------------------------------------------------------------------------------


def test_given_outer_diameter_takes_the_place_of_the_tables():
    found = wire(outer_diameter_mm=4.0)
    assert found.outer_diameter_mm == 4.0
    assert found.conductor_diameter_mm == wire().conductor_diameter_mm
    assert wire().one.dimensions.citation in wire().basis
    assert wire().one.dimensions.citation not in found.basis


def test_outer_diameter_may_be_bare_but_not_less():
    bare_mm = wire().conductor_diameter_mm
    found = wire(outer_diameter_mm=bare_mm)
    for value in (found.physics.insulation_j_per_m_k, permissible(found).model_a):
        assert np.isfinite(value).all()
    with pytest.raises(ConflictingFields, match=r"less than the conductor of 12 AWG itself"):
        wire(outer_diameter_mm=math.nextafter(bare_mm, 0))


@pytest.mark.parametrize(
    ("fields", "error", "path"),
    [
        ({"size": "99 AWG"}, UnknownSize, ("size",)),
        ({"size": "12 AWG", "standard": "SAE"}, UnknownSize, ("standard",)),
        ({"size": "12 SAE", "construction": "solid"}, NotCovered, ("construction",)),
        ({"size": "24 AWG", "material": "tinned_copper"}, NotCovered, ("material",)),
    ],
)
def test_wires_that_no_table_knows(fields, error, path):
    with pytest.raises(error) as caught:
        wire(**fields)
    assert caught.value.path == path


# Side by side. ---------------------------------------------------------------------------------


def test_wires_side_by_side_are_as_alone():
    """Elementwise to rounding: vector instructions may differ in the last digit."""
    together = side_by_side(MIXED)
    may = permissible(together)
    for row, each in enumerate(MIXED):
        alone = permissible(each)
        assert_allclose(may.model_a[row], alone.model_a, rtol=1e-12)
        assert_allclose(may.table_a[row], alone.table_a, rtol=1e-12)
        assert may.citation(row) == alone.citation()
    physics = together.physics
    for name in ("metal_j_per_m_k", "insulation_j_per_m_k"):
        capacities = [getattr(each.physics, name) for each in MIXED]
        assert_allclose(getattr(physics, name), capacities, rtol=1e-14)
    assert physics.conductor_diameter_mm.shape == (5,)
    assert (physics.outer_diameter_mm > physics.conductor_diameter_mm).all()
    assert (np.diff(physics.pressure_pa[[2, 0]]) > 0).all()


def test_grouping_takes_its_factor_and_names_it():
    alone, three = wire(), wire(grouped_conductors=3)
    one, less = permissible(alone), permissible(three)
    # ABYC E-11, bundles of 3: 0.70, the lowest of what is published.
    assert_allclose(less.model_a / one.model_a, 0.70, rtol=1e-12)
    assert_allclose(less.table_a / one.table_a, 0.70, rtol=1e-12)
    cited = grouping(3).citation
    assert cited in three.basis
    assert cited not in alone.basis


def test_lower_of_model_and_table_and_which():
    found = [permissible(each) for each in (*MIXED, wire(altitude_m=6000.0, outer_diameter_mm=2.5))]
    for each in found:
        assert each.current_a == min(each.model_a, each.table_a)
        assert ("33 CFR" in each.citation()) == (each.current_a == each.table_a) == each.by_table
    assert [each.by_table for each in found][-1] is False
    assert any(each.by_table for each in found)


def test_temperatures_for_a_network():
    """Given ones stay, warm ones follow their current, over any leading axes."""
    temperature = Warming((MIXED[0], None, MIXED[1]), (0.0, 42.0, 0.0))
    currents_a = np.array([[5.0, 5.0, 1.0], [20.0, 1e9, 0.0], [1e5, 0.0, 1.0]])
    found_c = temperature(currents_a)
    assert found_c.shape == (3, 3)
    assert (found_c[:, 1] == 42).all()
    assert found_c[1, 2] == 30
    # Beyond that it is no longer a wire, and the rest of the network has an answer.
    assert found_c[2, 0] == MIXED[0].ceiling_c
    assert 30 < found_c[0, 0] < found_c[1, 0]
    assert_allclose(temperature(currents_a[0]), found_c[0], rtol=1e-13)


@pytest.mark.parametrize("duration_s", [None, 20.0])
def test_wires_of_many_scenarios_are_as_warm_as_those_of_each(duration_s):
    """Side by side, and some of them: a row of currents for each scenario."""
    scenarios = [
        Warming((MIXED[0], None), (0.0, 42.0), duration_s),
        Warming((MIXED[1], MIXED[0]), (0.0, 0.0), duration_s),
        Warming((None, MIXED[1]), (7.0, 0.0), duration_s),
    ]
    currents_a = np.array(
        [[[5.0, 1.0], [3.0, 2.0], [1.0, 8.0]], [[6.0, 1.0], [4.0, 3.0], [1.0, 9.0]]]
    )
    found_c = Warming.side_by_side(scenarios)(currents_a)
    for place, each in enumerate(scenarios):
        assert_allclose(found_c[:, place], each(currents_a[:, place]), rtol=1e-9)
    some_c = Warming.side_by_side(scenarios).chosen([2, 0])(currents_a[:, [2, 0]])
    assert_allclose(some_c, found_c[:, [2, 0]], rtol=1e-9)
