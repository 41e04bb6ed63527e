"""Conductors: a size, a metal and a construction give an area and a resistance."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from lastvolt_service.errors import NotCovered
from lastvolt_service.laws import published
from lastvolt_service.operations.results import (
    DEFERENCE,
    ComputedBy,
    computed_by,
    merge,
)
from lastvolt_service.physics import conductors as physics
from lastvolt_service.rows import Numbers
from lastvolt_service.tables import materials, sizes

AWG_BASIS = "ASTM B258: AWG diameters by formula"
TINNED_TEMPERATURE_C = 75.0  # of the published resistances of coated copper


@dataclass(frozen=True, slots=True)
class Conductor:
    """A conductor as the formulas need it.

    Attributes
    ----------
    size, standard : str
        As the answer names them.
    area_mm2 : float
        Section of metal; nominal for metric sizes. [mm2]
    resistance_20_ohm_per_m : float
        Resistance at 20 degC. [ohm/m]
    temperature_coefficient_per_k : float
        Of the resistance at 20 degC. [1/K]
    basis : tuple of str
        What the values rest on.
    """

    size: str
    standard: str
    area_mm2: float
    resistance_20_ohm_per_m: float
    temperature_coefficient_per_k: float
    basis: tuple[str, ...]

    def resistance_ohm_per_m(self, temperature_c: float) -> float:
        """Resistance per metre at a temperature.

        Parameters
        ----------
        temperature_c : float
            Temperature of the metal. [degC]

        Returns
        -------
        float
            [ohm/m]
        """
        return self.resistance_20_ohm_per_m * float(
            physics.resistance_ratio(
                temperature_c=temperature_c,
                temperature_coefficient_per_k=self.temperature_coefficient_per_k,
            )
        )


def copper_coefficient_per_k() -> float:
    """Temperature coefficient of the resistance of copper at 20 degC, for windings.

    Returns
    -------
    float
        [1/K]
    """
    copper = materials.material("copper")
    return published(
        "copper_per_k",
        copper.temperature_coefficient_per_k,
        "temperature coefficient of copper at 20 degC",
        copper.citation,
    )


def copper_changes(temperature_c: Numbers, reference_c: Numbers) -> Numbers:
    """Resistance of copper windings at a temperature over that at another.

    Parameters
    ----------
    temperature_c, reference_c : float or ndarray
        Both. [degC]

    Returns
    -------
    float or ndarray
    """
    return physics.resistance_change(
        temperature_c=temperature_c,
        reference_temperature_c=reference_c,
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )


def copper_change(temperature_c: float, reference_c: float) -> float:
    """Resistance of a copper winding at a temperature over that at another.

    Parameters
    ----------
    temperature_c, reference_c : float
        Both. [degC]

    Returns
    -------
    float
    """
    return float(copper_changes(temperature_c, reference_c))


@lru_cache(maxsize=4096)
def conductor(
    size: str,
    standard: str | None = None,
    material: str = "copper",
    construction: str = "stranded",
) -> Conductor:
    """Look up or compute a conductor.

    Parameters
    ----------
    size : str
        For example ``"12 AWG"``, ``"12 SAE"`` or ``"2.5 mm2"``.
    standard : str, optional
        One of `sizes.STANDARDS`; by default the first that writes its sizes this way.
    material : str
        One of `materials.material_names`.
    construction : str
        ``"stranded"`` or ``"solid"``.

    Returns
    -------
    Conductor

    Raises
    ------
    UnknownSize
        If there is no such size.
    NotCovered
        If no publication gives a resistance for the combination.
    """
    standard, number = sizes.split(size, standard)
    metal = materials.material(material)
    if standard == "AWG":
        area, plain, basis = _awg(int(number), construction)
    elif construction == "solid":
        raise NotCovered(
            f"{standard} sizes are stranded conductors: solid wire is sized in AWG.",
            ("construction",),
        )
    elif standard == "SAE":
        area, plain, basis = _sae(int(number))
    else:
        metric = sizes.flexible(standard, number)
        area, plain, basis = metric.area_mm2, metric.plain_ohm_per_m, (metric.citation,)
    if material == "tinned_copper":
        ohm_per_m, why = _tinned(standard, number, construction, area)
        basis = merge(basis, (why,))
    else:
        # The same shape in another metal: scaled by the resistivities.
        copper = materials.material("copper")
        ohm_per_m = plain * metal.resistivity_ohm_mm2_per_m / copper.resistivity_ohm_mm2_per_m
    return Conductor(
        size,
        standard,
        area,
        ohm_per_m,
        metal.temperature_coefficient_per_k,
        merge((metal.citation,), basis),
    )


def _awg(gauge: int, construction: str) -> tuple[float, float, tuple[str, ...]]:
    area = float(physics.circle_area_mm2(diameter_mm=physics.awg_diameter_mm(gauge=gauge)))
    stranded = construction == "stranded"
    basis = (AWG_BASIS, materials.LAY_BASIS) if stranded else (AWG_BASIS,)
    return area, _copper_ohm_per_m(area, stranded=stranded), basis


def _sae(gauge: int) -> tuple[float, float, tuple[str, ...]]:
    area = sizes.sae_areas_cmil()[gauge] * physics.MM2_PER_CIRCULAR_MIL
    basis = (sizes.sae_citation(), materials.LAY_BASIS)
    return area, _copper_ohm_per_m(area, stranded=True), basis


def _copper_ohm_per_m(area_mm2: float, *, stranded: bool) -> float:
    return float(
        physics.resistance_per_length(
            resistivity_ohm_mm2_per_m=materials.material("copper").resistivity_ohm_mm2_per_m,
            area_mm2=area_mm2,
            lay_factor=materials.LAY_FACTOR_STRANDED if stranded else 1.0,
        )
    )


def _tinned(standard: str, number: float, construction: str, area_mm2: float) -> tuple[float, str]:
    """Resistance of tinned copper at 20 degC [ohm/m], and its source."""
    if sizes.STANDARDS[standard] == "mm2":
        metric = sizes.flexible(standard, number)
        return metric.tinned_ohm_per_m, metric.citation
    gauge = int(number)
    published = sizes.awg_coated_ohm_per_m().get((gauge, construction))
    if published is None:
        raise NotCovered(
            f"No published resistance of tinned {construction} copper in this size: "
            "stranded 18 AWG to 4/0 and solid 18 to 8 AWG are published.",
            ("material",),
        )
    hot = physics.resistance_ratio(
        temperature_c=TINNED_TEMPERATURE_C,
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )
    ohm_per_m = published / float(hot)
    if standard == "SAE":  # published for AWG only: the same coat on the smaller SAE area
        ohm_per_m *= _awg(gauge, construction)[0] / area_mm2
    return ohm_per_m, sizes.awg_coated_citation()


@dataclass(frozen=True, slots=True)
class ConductorSize:
    """One size of a standard, as stranded copper."""

    size: Annotated[str, "the size as requests name it"]
    standard: Annotated[str, "the standard that defines the size"]
    area_mm2: Annotated[float, "section of copper: geometric, minimum or nominal by standard"]
    resistance_ohm_per_m: Annotated[float, "stranded copper at 20 degC"]
    basis: Annotated[tuple[str, ...], "where the numbers come from"]


@dataclass(frozen=True, slots=True)
class Conductors:
    """The sizes that requests may name."""

    sizes: Annotated[tuple[ConductorSize, ...], "by standard, smallest first"]
    cautions: Annotated[tuple[str, ...], "who decides"]
    computed_by: Annotated[ComputedBy, "versions that reproduce this answer"]


def conductors(*, standard: str | None = None) -> Conductors:
    """List the conductor sizes with area and resistance.

    All sizes that requests may name, of one standard or of all, as stranded copper at 20 degC.
    SAE sizes hold about a tenth less copper than the AWG of the same number.

    Parameters
    ----------
    standard : str, optional
        One of `sizes.STANDARDS`; by default all of them.

    Returns
    -------
    Conductors
    """
    asked = sizes.STANDARDS if standard is None else (standard,)
    found = (conductor(size, name) for name in asked for size in sizes.sizes(name))
    return Conductors(
        sizes=tuple(
            ConductorSize(
                item.size, item.standard, item.area_mm2, item.resistance_20_ohm_per_m, item.basis
            )
            for item in found
        ),
        cautions=(DEFERENCE,),
        computed_by=computed_by(),
    )
