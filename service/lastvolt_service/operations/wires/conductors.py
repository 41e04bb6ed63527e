"""Conductors: a size, a metal and a construction give an area and a resistance."""

from dataclasses import dataclass
from functools import lru_cache

from lastvolt_service.errors import NotCovered
from lastvolt_service.laws import given, is_recording, named, published
from lastvolt_service.operations.results import (
    merge,
)
from lastvolt_service.physics import conductors as physics
from lastvolt_service.rows import Numbers, plain
from lastvolt_service.tables import materials, sizes

AWG_BASIS = "ASTM B258: AWG diameters by formula"
RESISTIVITY = "resistance of a conductor: resistivity times length over section"
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
    """
    return physics.resistance_change(
        temperature_c=temperature_c,
        reference_temperature_c=reference_c,
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )


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

    Raises
    ------
    UnknownSize
        If there is no such size.
    NotCovered
        If no publication gives a resistance for the combination.
    """
    # Numbers that remember are not kept for those who do not ask.
    work_out = _conductor.__wrapped__ if is_recording() else _conductor
    return work_out(size, standard, material, construction)


@lru_cache(maxsize=4096)
def _conductor(size: str, standard: str | None, material: str, construction: str) -> Conductor:
    standard, number = sizes.split(size, standard)
    metal = materials.material(material)
    if standard == "AWG":
        area, plain_ohm_per_m, basis = _awg(int(number), construction)
    elif construction == "solid":
        raise NotCovered(
            f"{standard} sizes are stranded conductors: solid wire is sized in AWG.",
            ("construction",),
        )
    elif standard == "SAE":
        area, plain_ohm_per_m, basis = _sae(int(number), size)
    else:
        area, plain_ohm_per_m, basis = _metric(standard, number, size)
    if material == "tinned_copper":
        ohm_per_m, why = _tinned(standard, number, construction, area)
        basis = merge(basis, (why,))
    elif material == "copper":
        ohm_per_m = plain_ohm_per_m
    else:
        # The same shape in another metal: scaled by the resistivities.
        as_copper = named("as_copper_ohm_per_m", plain_ohm_per_m, "the same shape in copper")
        ohm_per_m = as_copper * _resistivity(material) / _resistivity("copper")
    what = f"{size} {material.replace('_', ' ')}"
    return Conductor(
        size,
        standard,
        named("area_mm2", area, "section of metal"),
        named("resistance_20_ohm_per_m", ohm_per_m, f"of {what} at 20 degC", RESISTIVITY),
        published(
            "temperature_coefficient_per_k",
            metal.temperature_coefficient_per_k,
            f"temperature coefficient of {what} at 20 degC",
            metal.citation,
        ),
        merge((metal.citation,), basis),
    )


def _resistivity(material: str) -> float:
    metal = materials.material(material)
    return published(
        f"{material.replace('_', '')}_resistivity_ohm_mm2_per_m",
        metal.resistivity_ohm_mm2_per_m,
        f"resistivity of {material.replace('_', ' ')} at 20 degC",
        metal.citation,
    )


def _awg(gauge: int, construction: str) -> tuple[float, float, tuple[str, ...]]:
    area = _awg_area(gauge)
    stranded = construction == "stranded"
    basis = (AWG_BASIS, materials.LAY_BASIS) if stranded else (AWG_BASIS,)
    return area, _copper_ohm_per_m(area, stranded=stranded), basis


def _awg_area(gauge: int) -> float:
    number = given("gauge", gauge, "gauge number: 1/0 is 0, 2/0 is -1 and so on")
    diameter = plain(physics.awg_diameter_mm(gauge=number))
    area: float = plain(physics.circle_area_mm2(diameter_mm=diameter))
    return area


def _sae(gauge: int, size: str) -> tuple[float, float, tuple[str, ...]]:
    cmil = published(
        "area_cmil",
        sizes.sae_areas_cmil()[gauge],
        f"minimum area of {size}",
        sizes.sae_citation(),
        unit="cmil",
    )
    area = named(
        "area_mm2", cmil * physics.MM2_PER_CIRCULAR_MIL, "section", "definition of the circular mil"
    )
    basis = (sizes.sae_citation(), materials.LAY_BASIS)
    return area, _copper_ohm_per_m(area, stranded=True), basis


def _metric(standard: str, number: float, size: str) -> tuple[float, float, tuple[str, ...]]:
    metric = sizes.flexible(standard, number)
    why = metric.citation
    area = published("area_mm2", metric.area_mm2, "nominal section", why)
    meaning = f"maximum for {size} of plain copper at 20 degC"
    return area, published("published_ohm_per_m", metric.plain_ohm_per_m, meaning, why), (why,)


def _copper_ohm_per_m(area_mm2: float, *, stranded: bool) -> float:
    ohm_per_m: float = plain(
        physics.resistance_per_length(
            resistivity_ohm_mm2_per_m=_resistivity("copper"),
            area_mm2=area_mm2,
            lay_factor=published(
                "lay_factor",
                materials.LAY_FACTOR_STRANDED if stranded else 1.0,
                "length of a strand over that of the wire",
                materials.LAY_BASIS if stranded else "solid wire has no lay",
            ),
        )
    )
    return ohm_per_m


def _tinned(standard: str, number: float, construction: str, area_mm2: float) -> tuple[float, str]:
    """Resistance of tinned copper at 20 degC [ohm/m], and its source."""
    meaning = f"published for coated {construction} copper of this size"
    if sizes.STANDARDS[standard] == "mm2":
        metric = sizes.flexible(standard, number)
        why = metric.citation
        return published("published_ohm_per_m", metric.tinned_ohm_per_m, meaning, why), why
    gauge, why = int(number), sizes.awg_coated_citation()
    coated = sizes.awg_coated_ohm_per_m().get((gauge, construction))
    if coated is None:
        raise NotCovered(
            f"No published resistance of tinned {construction} copper in this size: "
            "stranded 18 AWG to 4/0 and solid 18 to 8 AWG are published.",
            ("material",),
        )
    hot = physics.resistance_ratio(
        temperature_c=published("published_at_c", TINNED_TEMPERATURE_C, "temperature of that", why),
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )
    ohm_per_m = published("published_ohm_per_m", coated, meaning, why) / plain(hot)
    if standard == "SAE":  # published for AWG only: the same coat on the smaller SAE area
        ohm_per_m *= named("awg_area_mm2", _awg_area(gauge), "section of the gauge") / area_mm2
    return ohm_per_m, why
