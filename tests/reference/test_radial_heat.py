"""Heat of a wire in time against the equation of heat in its insulation, solved on a fine grid.

The same material data and the same law of cooling at the surface; all between is the test's own:
rings of insulation, thin near the metal, each with its heat capacity and its conductance to the
next, and scipy's solver of stiff differential equations.
"""

import dataclasses
import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.sparse import diags

from lastvolt_service.physics import heating, transient
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.tables import insulation, metals
from lastvolt_service.tables.insulation import STRANDED_DIAMETER_RATIO

COPPER_PER_K = 3.93e-3
OHM_MM2_PER_M = 1.02 / 58  # IEC 28 (1913), strands 2 % longer than the wire
AMBIENT_C, LIMIT_C = 25.0, 105.0
# No insulation is a wire any more beyond this. [degC], and the same as a rise.
CEILING_C = 400.0
MOST_K = CEILING_C - AMBIENT_C
RINGS = 120
TIMES_S = np.array([0.01, 0.03, 0.1, 0.3, 1, 2, 5, 10, 30, 100, 300, 1e3, 3e3, 1e4, 1e5])
# What a conductor may come out colder, and hotter, of its rise.
COLDER, HOTTER = 0.02, 0.15
KINDS = {"PVC": "GPT", "XLPE": "TXL"}


def wire_of(area_mm2, wall_mm, material, ambient_c=AMBIENT_C):
    kind = insulation.insulation(KINDS[material])
    inner_mm = STRANDED_DIAMETER_RATIO * math.sqrt(4 * area_mm2 / math.pi)
    outer_mm = inner_mm + 2 * wall_mm
    of_metal, of_wall = transient.heat_capacities_j_per_m_k(
        area_mm2=area_mm2,
        metal_j_per_m3_k=metals.metal("copper").heat_capacity_j_per_m3_k,
        conductor_diameter_mm=inner_mm,
        outer_diameter_mm=outer_mm,
        insulation_j_per_m3_k=kind.heat_capacity_j_per_m3_k,
    )
    return Wire(
        resistance_20_ohm_per_m=OHM_MM2_PER_M / area_mm2,
        temperature_coefficient_per_k=COPPER_PER_K,
        conductor_diameter_mm=inner_mm,
        outer_diameter_mm=outer_mm,
        insulation_w_per_m_k=kind.conductivity_w_per_m_k,
        ambient_c=ambient_c,
        metal_j_per_m_k=of_metal,
        insulation_j_per_m_k=of_wall,
    )


def rings(wire, area_mm2, material):
    """Slopes of the rises of metal and rings, as a function of the current."""
    inner_m, outer_m = wire.conductor_diameter_mm / 2e3, wire.outer_diameter_mm / 2e3
    part = np.expm1(3.0 * np.linspace(0, 1, RINGS + 1)) / math.expm1(3.0)
    edges = inner_m + (outer_m - inner_m) * part
    middle = (edges[1:] + edges[:-1]) / 2
    kind = insulation.insulation(KINDS[material])
    capacity = math.pi * np.diff(edges**2) * kind.heat_capacity_j_per_m3_k
    metal = 1e-6 * area_mm2 * metals.metal("copper").heat_capacity_j_per_m3_k
    points = np.concatenate(([inner_m], middle, [outer_m]))
    conductance = 2 * math.pi * kind.conductivity_w_per_m_k / np.diff(np.log(points))
    # Heat given off, by the rise of the last ring, from that of the surface.
    surface = np.concatenate(([0.0], np.geomspace(1e-3, MOST_K, 2000)))
    given_off = surface * surface_cooling(rise_k=surface, wire=wire).w_per_m_k
    last = surface + given_off / conductance[-1]

    def slopes(_, rise, current_a):
        ohm_per_m = wire.resistance_20_ohm_per_m * (
            1 + COPPER_PER_K * (wire.ambient_c + rise[0] - 20)
        )
        flow = np.empty(RINGS + 1)
        flow[:-1] = conductance[:-1] * (rise[:-1] - rise[1:])
        flow[-1] = np.interp(rise[-1], last, given_off)
        warmer = np.empty(RINGS + 1)
        warmer[0] = (current_a**2 * ohm_per_m - flow[0]) / metal
        warmer[1:] = (flow[:-1] - flow[1:]) / capacity
        return warmer

    return slopes


def followed(slopes, start, times_s, current_a):
    """Rises of metal and rings at times, up to the ceiling."""

    def ends(_, rise, __):
        return rise[0] - MOST_K

    ends.terminal = True
    neighbours = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(RINGS + 1, RINGS + 1))
    return solve_ivp(
        slopes,
        (0, times_s[-1]),
        start,
        method="BDF",
        t_eval=times_s,
        args=(current_a,),
        events=ends,
        rtol=1e-6,
        atol=1e-6,
        jac_sparsity=neighbours,
    ).y


@pytest.mark.parametrize("share_of_permissible", [0.7, 3.0, 12.0])
@pytest.mark.parametrize("material", KINDS)
@pytest.mark.parametrize(
    ("area_mm2", "wall_mm"),
    [(0.35, 0.2), (0.35, 0.6), (0.35, 2), (2.5, 0.3), (2.5, 2), (16, 0.8), (120, 0.2), (120, 2)],
)
def test_rise_in_time(area_mm2, wall_mm, material, share_of_permissible):
    wire = wire_of(area_mm2, wall_mm, material)
    permitted_a = heating.permissible_current_a(limit_c=LIMIT_C, wire=wire)
    current_a = share_of_permissible * permitted_a
    slopes = rings(wire, area_mm2, material)
    expected = followed(slopes, np.zeros(RINGS + 1), TIMES_S, current_a)[0]
    found = transient.temperature_after_c(
        current_a=current_a,
        on_time_s=TIMES_S[: len(expected)],
        start_c=AMBIENT_C,
        ceiling_c=1.2 * CEILING_C,
        wire=wire,
    )
    ratio = (found - AMBIENT_C) / expected
    assert len(ratio) >= 3  # 0.1 s and longer
    assert ratio.min() >= 1 - COLDER, ratio
    assert ratio.max() <= 1 + HOTTER, ratio


@pytest.mark.parametrize(
    ("area_mm2", "wall_mm", "on_time_s", "off_time_s"),
    [(2.5, 0.6, 1, 4), (2.5, 0.6, 20, 40), (16, 0.8, 10, 60), (0.5, 0.3, 2, 2)],
)
def test_duty_current(area_mm2, wall_mm, on_time_s, off_time_s):
    """The peak of the cycle that repeats is near the limit, and hardly beyond it."""
    wire = wire_of(area_mm2, wall_mm, "PVC")
    current_a = transient.duty_current_a(
        limit_c=LIMIT_C, on_time_s=on_time_s, off_time_s=off_time_s, wire=wire
    )
    slopes = rings(wire, area_mm2, "PVC")
    rises, peak, before = np.full(RINGS + 1, LIMIT_C - AMBIENT_C), 1.0, 0.0
    while abs(peak - before) > 1e-3:
        before = peak
        rises = followed(slopes, rises, [off_time_s], 0.0)[:, -1]
        rises = followed(slopes, rises, [on_time_s], current_a)[:, -1]
        peak = rises[0]
    assert 1 / (1 + HOTTER) <= peak / (LIMIT_C - AMBIENT_C) <= 1 / (1 - COLDER)


@pytest.mark.parametrize("wall_mm", [0.3, 1.0])
def test_starts_from_a_wire_that_carries_a_load(wall_mm):
    """An overload on a warm wire: metal and insulation start where the load has brought them."""
    wire = wire_of(4.0, wall_mm, "XLPE")
    load_a = 0.8 * heating.permissible_current_a(limit_c=LIMIT_C, wire=wire)
    slopes = rings(wire, 4.0, "XLPE")
    warm = followed(slopes, np.zeros(RINGS + 1), [1e5], load_a)[:, -1]
    times_s = np.array([0.1, 0.5, 2.0, 10.0])
    expected = followed(slopes, warm, times_s, 4 * load_a)[0] - warm[0]
    found = transient.temperature_after_c(
        current_a=4 * load_a,
        on_time_s=times_s,
        start_c=AMBIENT_C + warm[0],
        ceiling_c=CEILING_C,
        wire=wire,
    )
    ratio = (found - AMBIENT_C - warm[0]) / expected
    assert ratio.min() >= 1 - COLDER, ratio
    assert ratio.max() <= 1 + HOTTER, ratio


def test_a_loom_heats_as_one_alone_with_a_larger_current():
    """At rest; in a short load no neighbour matters."""
    alone = wire_of(2.5, 0.6, "PVC")
    loom = dataclasses.replace(alone, grouping_factor=0.5)
    after = [
        transient.temperature_after_c(
            current_a=current_a,
            on_time_s=np.array([0.01, 1e6]),
            start_c=AMBIENT_C,
            ceiling_c=CEILING_C,
            wire=wire,
        )
        - AMBIENT_C
        for wire, current_a in ((alone, 20.0), (loom, 20.0), (loom, 10.0))
    ]
    assert after[1][0] == pytest.approx(after[0][0], rel=0.05)
    assert after[2][1] == pytest.approx(after[0][1], rel=1e-6)


@pytest.mark.parametrize("wall_mm", [0.3, 1.5])
def test_time_constant(wall_mm):
    """What is left of a small step away from rest, when its quick parts are over."""
    wire = wire_of(2.5, wall_mm, "PVC")
    current_a = heating.permissible_current_a(limit_c=LIMIT_C, wire=wire)
    surface_c = heating.conductor_temperature(
        current_a=current_a, wire=wire, ceiling_c=CEILING_C
    ).surface_temperature_c
    tau = float(transient.time_constant_s(current_a=current_a, surface_c=surface_c, wire=wire))
    slopes = rings(wire, 2.5, "PVC")
    rest = followed(slopes, np.zeros(RINGS + 1), [100 * tau], current_a)[:, -1]
    left = rest[0] - followed(slopes, 0.98 * rest, [tau, 2 * tau, 3 * tau], current_a)[0]
    # 8 %: the law adds the times of all parts, of which the slowest is nearly all.
    assert left[1] / left[0] == pytest.approx(math.exp(-1), rel=0.08)
    assert left[2] / left[1] == pytest.approx(math.exp(-1), rel=0.08)
