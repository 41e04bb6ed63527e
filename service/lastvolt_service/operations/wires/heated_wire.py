"""Wires with their insulation where they lie: from the tables to numbers, for one wire or many."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

import numpy as np

from lastvolt_service.errors import ConflictingFields
from lastvolt_service.laws import REQUEST, Traced, is_recording, published
from lastvolt_service.laws import given as told
from lastvolt_service.operations.judging import Fault, refuse
from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.results import Given, merge
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.fields import Surroundings, Zoned
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire, insulated_wire
from lastvolt_service.physics import air
from lastvolt_service.physics.conductors import diameter_over_strands_mm
from lastvolt_service.physics.cooling import EMISSIVITY, Wire
from lastvolt_service.physics.fusing import adiabatic_a2s
from lastvolt_service.physics.transient import heat_capacities_j_per_m_k
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    given,
    negate,
    optional,
    pick,
    plain,
    some,
)
from lastvolt_service.tables.grouping import grouping
from lastvolt_service.tables.insulation import STRANDED_DIAMETER_RATIO
from lastvolt_service.tables.metals import metal
from lastvolt_service.tables.practice import Zone, zones

MODEL_BASIS = (
    "heat balance of a horizontal wire in still air: Churchill and Chu 1975 natural convection, "
    "radiation with an emissivity of 0.9"
)
GIVEN_LIMIT = Given("insulation limit given by the caller")
# Beyond its limit by this much an insulation is gone, where no short-circuit temperature is known.
BEYOND_LIMIT_K = 100.0
# Where no limit is given at all, the search for a steady temperature ends here.
HIGHEST_CEILING_C = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatedWire:
    """One wire where it lies, or many in columns; NaN where nothing is known.

    Attributes
    ----------
    resistance_20_ohm_per_m, temperature_coefficient_per_k, area_mm2 : float or ndarray
        Of the conductor. [ohm/m], [1/K], [mm2]
    metal_j_per_m3_k, insulation_j_per_m3_k : float or ndarray
        Heat capacities. [J/(m3*K)]
    conductor_diameter_mm, outer_diameter_mm : float or ndarray
        Over the strands and over the insulation. [mm]
    insulation_w_per_m_k : float or ndarray
        Thermal conductivity. [W/(m*K)]
    limit_c, short_circuit_c : float or ndarray
        What the insulation bears, for ever and after a short circuit. [degC]
    grouped_conductors, grouping_factor : float or ndarray
        Loaded conductors side by side, and the factor on the permissible current. [1]
    ambient_c, altitude_m : float or ndarray
        Where they lie. [degC], [m]
    known : Found of InsulatedWire
        As the tables know them.
    basis : tuple of str
        What all this rests on.
    """

    resistance_20_ohm_per_m: Numbers
    temperature_coefficient_per_k: Numbers
    area_mm2: Numbers
    metal_j_per_m3_k: Numbers
    conductor_diameter_mm: Numbers
    outer_diameter_mm: Numbers
    insulation_w_per_m_k: Numbers
    insulation_j_per_m3_k: Numbers
    limit_c: Numbers
    short_circuit_c: Numbers
    grouped_conductors: Numbers
    grouping_factor: Numbers
    ambient_c: Numbers
    altitude_m: Numbers
    known: Found[InsulatedWire] = field(compare=False)
    basis: tuple[str, ...] = field(compare=False)

    @property
    def one(self) -> InsulatedWire:
        """The wire, of one, as the tables know it."""
        (found,) = self.known.items
        if found is None:
            raise TypeError("There is no wire.")
        return found

    @property
    def conductor(self) -> Conductor:
        """The metal of one wire."""
        return self.one.conductor

    @property
    def lost_c(self) -> float:
        """That at which one is no longer a wire; no less than the air round it. [degC]."""
        return max(float(self.ceiling_c), float(self.ambient_c))

    @property
    def physics(self) -> Wire:
        """As the heat balance takes them."""
        metal_j_per_m_k, insulation_j_per_m_k = heat_capacities_j_per_m_k(
            area_mm2=self.area_mm2,
            metal_j_per_m3_k=self.metal_j_per_m3_k,
            conductor_diameter_mm=self.conductor_diameter_mm,
            outer_diameter_mm=self.outer_diameter_mm,
            insulation_j_per_m3_k=self.insulation_j_per_m3_k,
        )
        return Wire(
            resistance_20_ohm_per_m=self.resistance_20_ohm_per_m,
            temperature_coefficient_per_k=self.temperature_coefficient_per_k,
            conductor_diameter_mm=self.conductor_diameter_mm,
            outer_diameter_mm=self.outer_diameter_mm,
            insulation_w_per_m_k=self.insulation_w_per_m_k,
            ambient_c=self.ambient_c,
            pressure_pa=air.pressure_at_altitude_pa(altitude_m=self.altitude_m),
            emissivity=published("emissivity", EMISSIVITY, "of the surface", MODEL_BASIS),
            grouping_factor=self.grouping_factor,
            metal_j_per_m_k=metal_j_per_m_k,
            insulation_j_per_m_k=insulation_j_per_m_k,
        )

    @property
    def ceiling_c(self) -> Numbers:
        """Temperature beyond which they are no longer wires. [degC]."""
        short_circuit_c, limit_c = self.short_circuit_c, self.limit_c
        gone = pick(given(short_circuit_c), short_circuit_c, limit_c + BEYOND_LIMIT_K)
        found: Numbers = pick(
            given(limit_c), pick(gone > limit_c, gone, limit_c), HIGHEST_CEILING_C
        )
        return found

    @property
    def short_circuit_a2s(self) -> Numbers:
        """Let-through from the limit to the short-circuit temperature. [A2s]."""
        # Metal alone: in the time that this law is good for, the insulation takes up nothing.
        let_through = adiabatic_a2s(
            start_c=self.limit_c,
            end_c=self.short_circuit_c,
            heat_capacity_j_per_m_k=self.area_mm2 * self.metal_j_per_m3_k / 1e6,
            resistance_20_ohm_per_m=self.resistance_20_ohm_per_m,
            temperature_coefficient_per_k=self.temperature_coefficient_per_k,
        )
        found: Numbers = pick(self.short_circuit_c > self.limit_c, plain(let_through), NOT_GIVEN)
        return found


NUMBERS = tuple(name for name in HeatedWire.__slots__ if name not in {"known", "basis"})


def ambient_of(asked: Zoned) -> tuple[Numbers, tuple[str, ...]]:
    """Settle ambients, and say whose they are: nobody's where the caller gives them. [degC]."""
    known = look_up(_zone, zone=asked.zone)
    basis = known.basis(lambda zone: (zone.citation,))
    usual_c = known.numbers(lambda zone: zone.ambient_c)
    if is_recording():
        usual_c = published("ambient_c", usual_c, f"usual in {asked.zone}", "".join(basis))
    return pick(given(asked.ambient_c), asked.ambient_c, usual_c), tuple(basis)


def _zone(zone: str | None) -> Zone | None:
    return None if zone is None else zones()[zone]


def lay(
    known: Found[InsulatedWire], place: Surroundings, ambient_c: Numbers
) -> tuple[HeatedWire, Fault]:
    """Lay wires where they are.

    Parameters
    ----------
    known : Found of InsulatedWire
        The wires, as the tables know them.
    place : Surroundings
        What they wear, and where they lie.
    ambient_c : float or ndarray
        Around them. [degC]

    Returns
    -------
    wire : HeatedWire
    no_room : Fault
        Where insulation does not fit round its conductor.
    """
    limit_c, outer_mm = place.insulation_limit_c, place.outer_diameter_mm
    numbers = known.numbers
    usual_outer_mm = numbers(lambda w: w.dimensions.outer_diameter_mm)
    conductor_mm = numbers(lambda w: w.dimensions.conductor_diameter_mm)
    factor, groups = _grouping(place.grouped_conductors)
    wire = HeatedWire(
        resistance_20_ohm_per_m=numbers(lambda w: w.conductor.resistance_20_ohm_per_m),
        temperature_coefficient_per_k=numbers(lambda w: w.conductor.temperature_coefficient_per_k),
        area_mm2=numbers(lambda w: w.conductor.area_mm2),
        metal_j_per_m3_k=numbers(lambda w: metal(w.material).heat_capacity_j_per_m3_k),
        conductor_diameter_mm=conductor_mm,
        # What does not fit is refused; until then it is reckoned with as a bare wire.
        outer_diameter_mm=pick(
            given(outer_mm), pick(outer_mm < conductor_mm, conductor_mm, outer_mm), usual_outer_mm
        ),
        insulation_w_per_m_k=numbers(lambda w: w.insulation.conductivity_w_per_m_k),
        insulation_j_per_m3_k=numbers(lambda w: w.insulation.heat_capacity_j_per_m3_k),
        limit_c=pick(given(limit_c), limit_c, numbers(lambda w: w.limit_c)),
        short_circuit_c=numbers(lambda w: w.insulation.short_circuit_c),
        grouped_conductors=place.grouped_conductors,
        grouping_factor=factor,
        ambient_c=ambient_c,
        altitude_m=place.altitude_m,
        known=known,
        basis=merge(
            known.basis(lambda w: w.basis),
            (GIVEN_LIMIT,) if some(given(limit_c)) else (),
            known.basis(lambda w: (w.dimensions.citation,))
            if some(negate(given(outer_mm)))
            else (),
            groups,
            (MODEL_BASIS,),
        ),
    )
    no_room = Fault(
        outer_mm < conductor_mm,
        ConflictingFields,
        ("outer_diameter_mm",),
        lambda outer, size, inner: (
            f"{outer:g} mm is less than the conductor of {size} itself, {inner:.2f} mm."
        ),
        (outer_mm, known.words(lambda w: w.conductor.size), conductor_mm),
    )
    return (remembering(wire) if is_recording() else wire), no_room


def _grouping(conductors: Numbers) -> tuple[Numbers, list[str]]:
    """Factor for loaded conductors side by side, and who says so."""
    if not isinstance(conductors, np.ndarray):
        one = grouping(int(conductors))
        return one.factor, [one.citation] if conductors > 1 else []
    counts, index = np.unique(conductors, return_inverse=True)
    groups = [grouping(int(count)) for count in counts]
    cited = [each.citation for count, each in zip(counts, groups, strict=True) if count > 1]
    return np.array([each.factor for each in groups])[index], cited


def heated_wire(
    *,
    size: str,
    ambient_c: float,
    standard: str | None = None,
    material: str = "copper",
    construction: str = "stranded",
    insulation_kind: str | None = None,
    insulation_limit_c: float | None = None,
    grouped_conductors: int = 1,
    altitude_m: float = 0.0,
    outer_diameter_mm: float | None = None,
) -> HeatedWire:
    """Lay one wire of a circuit where it is, as requests describe it.

    Raises
    ------
    UnknownSize, NotCovered
        If the tables do not know the wire.
    ConflictingFields
        If the insulation does not fit round the conductor.
    """
    # Numbers that remember are not kept for those who do not ask.
    work_out = _heated_wire.__wrapped__ if is_recording() else _heated_wire
    return work_out(
        (size, standard, material, construction, insulation_kind),
        insulation_limit_c,
        grouped_conductors,
        altitude_m,
        outer_diameter_mm,
        ambient_c,
    )


@lru_cache(maxsize=4096)
def _heated_wire(
    texts: tuple[str, str | None, str, str, str | None],
    insulation_limit_c: float | None,
    grouped_conductors: int,
    altitude_m: float,
    outer_diameter_mm: float | None,
    ambient_c: float,
) -> HeatedWire:
    size, standard, material, construction, insulation = texts
    wire, no_room = lay(
        look_up(
            insulated_wire,
            size=size,
            standard=standard,
            material=material,
            construction=construction,
            insulation=insulation,
        ),
        Surroundings(
            insulation_limit_c=optional(insulation_limit_c),
            outer_diameter_mm=optional(outer_diameter_mm),
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
        ),
        ambient_c,
    )
    refuse((no_room,))
    return wire


def side_by_side(wires: Sequence[HeatedWire]) -> HeatedWire:
    """Put wires, each for itself, into columns."""
    columns: dict[str, Any] = {
        name: np.array([getattr(wire, name) for wire in wires], dtype=np.float64)
        for name in NUMBERS
    }
    known: Found[InsulatedWire] = Found([wire.one for wire in wires], np.arange(len(wires)), {})
    return HeatedWire(**columns, known=known, basis=merge(*(wire.basis for wire in wires)))


def remembering(wire: HeatedWire) -> HeatedWire:
    """Let the numbers of one wire remember where they come from, for the steps of an answer."""
    known, covers, diameters = wire.one, wire.one.insulation, wire.one.dimensions
    metal_wire = conductor(
        known.conductor.size, known.conductor.standard, known.material, known.construction
    )
    stuff, group = metal(known.material), grouping(int(wire.grouped_conductors))
    is_stranded = known.construction == "stranded"
    strand_ratio = published(
        "strand_ratio",
        STRANDED_DIAMETER_RATIO if is_stranded else 1.0,
        "diameter over the strands, over that of solid metal",
        "geometry of 19 strands in two layers" if is_stranded else "solid wire",
    )
    numbers = {
        "resistance_20_ohm_per_m": metal_wire.resistance_20_ohm_per_m,
        "temperature_coefficient_per_k": metal_wire.temperature_coefficient_per_k,
        "area_mm2": metal_wire.area_mm2,
        "conductor_diameter_mm": plain(
            diameter_over_strands_mm(area_mm2=metal_wire.area_mm2, strand_ratio=strand_ratio)
        ),
    }
    of_material = covers.material_citation
    for name, usual, meaning, source in (
        ("metal_j_per_m3_k", stuff.heat_capacity_j_per_m3_k, "capacity of metal", stuff.citation),
        (
            "outer_diameter_mm",
            diameters.outer_diameter_mm,
            "over the insulation",
            diameters.citation,
        ),
        ("insulation_w_per_m_k", covers.conductivity_w_per_m_k, "conductivity", of_material),
        ("insulation_j_per_m3_k", covers.heat_capacity_j_per_m3_k, "capacity", of_material),
        ("limit_c", known.limit_c, "temperature that the conductor may have", covers.citation),
        ("short_circuit_c", covers.short_circuit_c, "left by a short circuit", of_material),
        (
            "grouping_factor",
            group.factor,
            "permissible current in the loom over that of the wire alone",
            group.citation,
        ),
        ("ambient_c", None, "temperature around the wire", REQUEST),
        ("altitude_m", None, "height above the sea", REQUEST),
    ):
        value = getattr(wire, name)
        symbol = "insulation_limit_c" if name == "limit_c" else name
        if not isinstance(value, Traced):
            by_table = value == usual
            value = (
                published(symbol, value, meaning, source)
                if by_table
                else told(symbol, value, meaning)
            )
        numbers[name] = value
    return replace(wire, **numbers)
