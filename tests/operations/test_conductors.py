"""Conductors by size, metal and construction."""

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import NotCovered, UnknownSize
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.tables.materials import material, material_names
from lastvolt_service.tables.sizes import STANDARDS


def test_all_standards_are_listed(run):
    listed = run("conductors").sizes
    assert {size.standard for size in listed} == set(STANDARDS)
    for standard in STANDARDS:
        sizes = run("conductors", standard=standard).sizes
        assert list(sizes) == [size for size in listed if size.standard == standard]
        assert all(size.basis for size in sizes)
        areas = [size.area_mm2 for size in sizes]
        assert areas == sorted(set(areas))
        ohms = [size.resistance_ohm_per_m for size in sizes]
        assert ohms == sorted(set(ohms), reverse=True)


def test_standard_from_memory_says_so(run):
    for size in run("conductors", standard="ISO 6722").sizes:
        assert any("(unverified)" in text for text in size.basis)


@pytest.mark.parametrize("size", ["12 AWG", "12 SAE", "2.5 mm2"])
@pytest.mark.parametrize("metal", ["aluminium", "copper_clad_aluminium"])
def test_other_metals_scale_with_resistivity(size, metal):
    copper, other = conductor(size), conductor(size, material=metal)
    assert_allclose(
        other.resistance_20_ohm_per_m / copper.resistance_20_ohm_per_m,
        material(metal).resistivity_ohm_mm2_per_m / material("copper").resistivity_ohm_mm2_per_m,
        rtol=1e-14,
    )
    assert other.area_mm2 == copper.area_mm2
    assert other.temperature_coefficient_per_k == material(metal).temperature_coefficient_per_k


def test_clad_aluminium_lies_between_its_metals():
    ohms = [material(name).resistivity_ohm_mm2_per_m for name in material_names()[:3]]
    copper, aluminium, clad = ohms
    assert copper < clad < aluminium


@pytest.mark.parametrize(
    ("size", "metal", "construction", "field"),
    [
        ("12 SAE", "copper", "solid", "construction"),
        ("2.5 mm2", "copper", "solid", "construction"),
        ("6 AWG", "tinned_copper", "solid", "material"),
        ("20 AWG", "tinned_copper", "stranded", "material"),
    ],
)
def test_combinations_that_no_publication_covers(size, metal, construction, field):
    with pytest.raises(NotCovered) as caught:
        conductor(size, material=metal, construction=construction)
    assert caught.value.path == (field,)


def test_tinned_sae_scales_the_awg_of_the_same_number():
    awg, sae = (
        conductor(f"12 {standard}", material="tinned_copper") for standard in ("AWG", "SAE")
    )
    assert_allclose(
        awg.resistance_20_ohm_per_m * awg.area_mm2,
        sae.resistance_20_ohm_per_m * sae.area_mm2,
        rtol=1e-14,
    )


def test_unknown_size():
    with pytest.raises(UnknownSize):
        conductor("99 AWG")
