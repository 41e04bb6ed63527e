"""Steps to the resistance of a conductor."""

from lastvolt_service.operations.conductors import AWG_BASIS, TINNED_TEMPERATURE_C, Conductor
from lastvolt_service.operations.steps import Steps
from lastvolt_service.physics import conductors as physics
from lastvolt_service.tables import materials, sizes

LINEAR = "IEC 28 (1913): the resistance of copper rises on a straight line from 20 degC"
RESISTIVITY = "resistance of a conductor: resistivity times length over section"
DEFINITION = "definition of the circular mil"


def conductor_steps(
    steps: Steps, wire: Conductor, material: str, construction: str, prefix: str = ""
) -> None:
    """Take the steps from a size to section, resistance at 20 degC and temperature coefficient.

    Parameters
    ----------
    steps : Steps
        Where to.
    wire : Conductor
        As the operation has it.
    material, construction : str
        As in requests.
    prefix : str
        Before each symbol.
    """
    metal, copper = materials.material(material), materials.material("copper")
    standard, number = sizes.split(wire.size, wire.standard)
    what = f"{wire.size} {material.replace('_', ' ')}"
    steps.published(
        f"{prefix}temperature_coefficient_per_k",
        wire.temperature_coefficient_per_k,
        f"temperature coefficient of {what} at 20 degC",
        metal.citation,
    )
    tinned = material == "tinned_copper"
    goal = f"{prefix}resistance_20_ohm_per_m"
    meaning = f"resistance of {what} at 20 degC"
    plain = goal if material == "copper" else f"{prefix}as_copper_ohm_per_m"
    if sizes.STANDARDS[standard] == "mm2":
        metric = sizes.flexible(standard, number)
        steps.published(f"{prefix}area_mm2", wire.area_mm2, "nominal section", metric.citation)
        if tinned:
            steps.published(goal, wire.resistance_20_ohm_per_m, meaning, metric.citation)
            return
        steps.published(
            plain, metric.plain_ohm_per_m, f"maximum for {wire.size} plain copper", metric.citation
        )
    else:
        _section(steps, wire, standard, int(number), prefix)
        if tinned:
            _tinned(steps, wire, standard, int(number), construction, prefix)
            return
        _of_section(steps, wire, construction, plain, prefix)
    if material != "copper":
        rho, rho_copper = (
            steps.published(
                f"{each.name.replace('_', '')}_resistivity_ohm_mm2_per_m",
                each.resistivity_ohm_mm2_per_m,
                f"resistivity of {each.name.replace('_', ' ')} at 20 degC",
                each.citation,
            )
            for each in (metal, copper)
        )
        steps.computed(
            goal,
            f"{plain} * {rho} / {rho_copper}",
            wire.resistance_20_ohm_per_m,
            meaning,
            RESISTIVITY,
        )


def _section(steps: Steps, wire: Conductor, standard: str, gauge: int, prefix: str) -> None:
    steps.pi()
    if standard == "AWG":
        _awg_area(steps, gauge, prefix, f"{prefix}area_mm2")
        return
    steps.published(
        f"{prefix}area_cmil",
        sizes.sae_areas_cmil()[gauge],
        f"minimum area of {wire.size}",
        sizes.sae_citation(),
        unit="cmil",
    )
    steps.computed(
        f"{prefix}area_mm2",
        f"{prefix}area_cmil * pi / 4 * (25.4 / 1000) ** 2",
        wire.area_mm2,
        "section",
        DEFINITION,
    )


def _awg_area(steps: Steps, gauge: int, prefix: str, goal: str) -> None:
    diameter = float(physics.awg_diameter_mm(gauge=gauge))
    steps.given(f"{prefix}gauge", gauge, "gauge number: 1/0 is 0, 2/0 is -1 and so on")
    steps.computed(
        f"{prefix}solid_diameter_mm",
        f"0.005 * 25.4 * 92 ** ((36 - {prefix}gauge) / 39)",
        diameter,
        "diameter of the solid wire",
        AWG_BASIS,
    )
    area = float(physics.circle_area_mm2(diameter_mm=diameter))
    steps.computed(
        goal, f"pi / 4 * {prefix}solid_diameter_mm ** 2", area, "section of metal", "geometry"
    )


def _of_section(steps: Steps, wire: Conductor, construction: str, goal: str, prefix: str) -> None:
    copper = materials.material("copper")
    factor = materials.LAY_FACTOR_STRANDED if construction == "stranded" else 1.0
    rho = steps.published(
        "copper_resistivity_ohm_mm2_per_m",
        copper.resistivity_ohm_mm2_per_m,
        "resistivity of copper at 20 degC",
        copper.citation,
    )
    why = materials.LAY_BASIS if construction == "stranded" else "solid wire has no lay"
    steps.published(f"{prefix}lay_factor", factor, "length of a strand over that of the wire", why)
    steps.computed(
        goal,
        f"{rho} * {prefix}lay_factor / {prefix}area_mm2",
        float(
            physics.resistance_per_length(
                resistivity_ohm_mm2_per_m=copper.resistivity_ohm_mm2_per_m,
                area_mm2=wire.area_mm2,
                lay_factor=factor,
            )
        ),
        f"resistance of {wire.size} {construction} copper at 20 degC",
        RESISTIVITY,
    )


def _tinned(
    steps: Steps, wire: Conductor, standard: str, gauge: int, construction: str, prefix: str
) -> None:
    citation = sizes.awg_coated_citation()
    hot = steps.published(
        f"{prefix}published_ohm_per_m",
        sizes.awg_coated_ohm_per_m()[gauge, construction],
        f"published for coated {construction} copper of this gauge",
        citation,
    )
    at = steps.published("published_at_c", TINNED_TEMPERATURE_C, "temperature of that", citation)
    formula = f"{hot} / (1 + {prefix}temperature_coefficient_per_k * ({at} - 20))"
    if standard == "SAE":
        _awg_area(steps, gauge, prefix, f"{prefix}awg_area_mm2")
        formula += f" * {prefix}awg_area_mm2 / {prefix}area_mm2"
    steps.computed(
        f"{prefix}resistance_20_ohm_per_m",
        formula,
        wire.resistance_20_ohm_per_m,
        f"resistance of {wire.size} tinned copper at 20 degC",
        LINEAR,
    )
