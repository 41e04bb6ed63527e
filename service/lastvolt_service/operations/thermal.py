"""Wires with their insulation, where they lie: from the tables to the heat balance."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import ConflictingFields
from lastvolt_service.operations.conductors import Conductor, conductor
from lastvolt_service.operations.laid import Laid, ceiling, no_room
from lastvolt_service.operations.results import merge
from lastvolt_service.physics import Real
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import temperature_after_c
from lastvolt_service.rows import optional
from lastvolt_service.tables.grouping import ALONE, Grouping, grouping
from lastvolt_service.tables.insulation import Dimensions, Insulation, dimensions, insulation
from lastvolt_service.tables.metals import metal
from lastvolt_service.tables.practice import zones

# Where the kind of insulation is not given: thin and of the poorest material, which errs on the
# hot side but for large cables.
UNSTATED_KIND = "ISO class A"
UNSTATED_BASIS = "insulation not stated: reckoned as a thin wall of the poorest material"
MODEL_BASIS = (
    "heat balance of a horizontal wire in still air: Churchill and Chu 1975 natural convection, "
    "radiation with an emissivity of 0.9"
)
GIVEN_LIMIT = "insulation limit given by the caller"


@dataclass(frozen=True, slots=True)
class HeatedWire:
    """A wire with its insulation where it lies.

    Attributes
    ----------
    conductor : Conductor
        Its metal.
    material, construction : str
        As in requests.
    insulation : Insulation
        What it wears.
    dimensions : Dimensions
        Its diameters.
    limit_c : float or None
        Temperature that the conductor may have; None where no insulation was given. [degC]
    grouping : Grouping
        Factor on the permissible current.
    ambient_c : float
        Temperature around it. [degC]
    altitude_m : float
        Height above the sea. [m]
    basis : tuple of str
        What all this rests on.
    """

    conductor: Conductor
    material: str
    construction: str
    insulation: Insulation
    dimensions: Dimensions
    limit_c: float | None
    grouping: Grouping
    ambient_c: float
    altitude_m: float
    basis: tuple[str, ...]

    @property
    def ceiling_c(self) -> float:
        """Temperature beyond which it is no longer a wire. [degC]."""
        return float(ceiling(optional(self.limit_c), optional(self.insulation.short_circuit_c)))


def ambient_of(ambient_c: float | None, zone: str | None) -> tuple[float, tuple[str, ...]]:
    """Settle the ambient temperature.

    Parameters
    ----------
    ambient_c : float or None
        As given. [degC]
    zone : str or None
        Zone of the vehicle in its place.

    Returns
    -------
    ambient_c : float
        [degC]
    basis : tuple of str
        Who says so; empty where the caller does.
    """
    if ambient_c is not None:
        return ambient_c, ()
    found = zones()[zone or ""]
    return found.ambient_c, (found.citation,)


@lru_cache(maxsize=4096)
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
    """Look up a wire and its insulation.

    Parameters
    ----------
    size, standard, material, construction : str
        As for `conductor`.
    ambient_c : float
        Temperature around it. [degC]
    insulation_kind : str, optional
        One of the kinds that the tables know.
    insulation_limit_c : float, optional
        In place of the kind's own limit. [degC]
    grouped_conductors : int
        Loaded conductors side by side, itself included.
    altitude_m : float
        Height above the sea. [m]
    outer_diameter_mm : float, optional
        In place of the tables' diameter. [mm]

    Returns
    -------
    HeatedWire

    Raises
    ------
    UnknownSize, NotCovered
        If the tables do not know the wire.
    ConflictingFields
        If the insulation does not fit round the conductor.
    """
    metal_wire = conductor(size, standard, material, construction)
    kind = insulation(insulation_kind or UNSTATED_KIND)
    diameters = dimensions(
        kind=kind.kind, size=size, area_mm2=metal_wire.area_mm2, construction=construction
    )
    limit = insulation_limit_c
    if limit is None and insulation_kind is not None:
        limit = kind.limit_c
    basis = [*metal_wire.basis]
    basis += [kind.citation, kind.material_citation] if insulation_kind else [UNSTATED_BASIS]
    if insulation_limit_c is not None:
        basis.append(GIVEN_LIMIT)
    if outer_diameter_mm is None:
        basis.append(diameters.citation)
    elif outer_diameter_mm < diameters.conductor_diameter_mm:
        raise ConflictingFields(
            no_room(outer_diameter_mm, size, diameters.conductor_diameter_mm),
            ("outer_diameter_mm",),
        )
    else:
        diameters = Dimensions(
            diameters.conductor_diameter_mm, outer_diameter_mm, "outer diameter given by the caller"
        )
    group = grouping(grouped_conductors)
    if group is not ALONE:
        basis.append(group.citation)
    return HeatedWire(
        metal_wire,
        material,
        construction,
        kind,
        diameters,
        limit,
        group,
        ambient_c,
        altitude_m,
        merge(basis, (MODEL_BASIS,)),
    )


def temperature_of(
    wires: Sequence[HeatedWire | None],
    given_c: Sequence[float],
    duration_s: float | None = None,
) -> Callable[[NDArray[np.float64]], NDArray[np.float64]]:
    """Make the function that tells a network how warm its wires get.

    Parameters
    ----------
    wires : sequence of HeatedWire or None
        The wires; None for one that keeps its given temperature.
    given_c : sequence of float
        Temperatures of those. [degC]
    duration_s : float, optional
        How long the currents flow, from a start at ambient; by default for ever. [s]

    Returns
    -------
    callable
        Currents in, temperatures out, wires along the last axis; NaN where there is none.
    """
    heated = [index for index, wire in enumerate(wires) if wire is not None]
    warmed = _warming(tuple(wire for wire in wires if wire is not None), duration_s)

    def temperature(current_a: NDArray[np.float64]) -> NDArray[np.float64]:
        found = np.broadcast_to(_column(given_c), current_a.shape).copy()
        if heated:
            chosen_a = current_a[..., heated]
            found[..., heated] = warmed(chosen_a.tobytes(), chosen_a.shape)
        return found

    return temperature


# A network is solved over and over with one of its parts changed: its wires stay, and every
# solution begins with them cold.
@lru_cache(maxsize=32)
def _warming(
    wires: tuple[HeatedWire, ...], duration_s: float | None
) -> Callable[[bytes, tuple[int, ...]], Real]:
    side_by_side = laid(wires)
    physics, ceilings = side_by_side.physics, side_by_side.ceiling_c
    capacities = side_by_side.heat_capacity_j_per_m_k

    @lru_cache(maxsize=16)
    def warmed(currents: bytes, shape: tuple[int, ...]) -> Real:
        current_a = np.frombuffer(currents).reshape(shape)
        if duration_s is None:
            return conductor_temperature(
                current_a=current_a, wire=physics, ceiling_c=ceilings
            ).conductor_temperature_c
        return temperature_after_c(
            current_a=current_a,
            on_time_s=duration_s,
            start_c=physics.ambient_c,
            ceiling_c=ceilings,
            wire=physics,
            heat_capacity_j_per_m_k=capacities,
        )

    return warmed


def _column(values: Sequence[float]) -> NDArray[np.float64]:
    return np.array(values, dtype=np.float64)


def laid(wires: Sequence[HeatedWire]) -> Laid:
    """Put wires side by side.

    Parameters
    ----------
    wires : sequence of HeatedWire
        Any number of them.

    Returns
    -------
    Laid
        Arrays of that length.
    """
    return Laid(
        resistance_20_ohm_per_m=_column([w.conductor.resistance_20_ohm_per_m for w in wires]),
        temperature_coefficient_per_k=_column(
            [w.conductor.temperature_coefficient_per_k for w in wires]
        ),
        area_mm2=_column([w.conductor.area_mm2 for w in wires]),
        metal_j_per_m3_k=_column([metal(w.material).heat_capacity_j_per_m3_k for w in wires]),
        conductor_diameter_mm=_column([w.dimensions.conductor_diameter_mm for w in wires]),
        outer_diameter_mm=_column([w.dimensions.outer_diameter_mm for w in wires]),
        insulation_w_per_m_k=_column([w.insulation.conductivity_w_per_m_k for w in wires]),
        insulation_j_per_m3_k=_column([w.insulation.heat_capacity_j_per_m3_k for w in wires]),
        limit_c=_column([optional(w.limit_c) for w in wires]),
        short_circuit_c=_column([optional(w.insulation.short_circuit_c) for w in wires]),
        grouping_factor=_column([w.grouping.factor for w in wires]),
        ambient_c=_column([w.ambient_c for w in wires]),
        altitude_m=_column([w.altitude_m for w in wires]),
    )


def physics_wire(wires: Sequence[HeatedWire]) -> Wire:
    """Put wires side by side for the heat balance.

    Parameters
    ----------
    wires : sequence of HeatedWire
        Any number of them.

    Returns
    -------
    Wire
        Arrays of that length.
    """
    return laid(wires).physics
