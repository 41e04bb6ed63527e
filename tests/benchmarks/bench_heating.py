"""Time per wire of the heat balance, beside eight fixed sweeps of the same balance in bare numpy.

Run it by hand; it prints times and ratios of one run, and judges nothing. The bare sweeps are what
one writes in an afternoon: the same formulas inline, damped, eight times, with no bracket, no test
of convergence and no word about runaway.
"""

import argparse
import dataclasses
import sys
import time
from collections.abc import Callable
from functools import partial

import numpy as np

from lastvolt_service.physics import blocks, conductors, cooling, heating

AMBIENT_C = 40.0
CEILING_C = 250.0
SWEEPS = 8


def wires(rows: int) -> tuple[cooling.Wire, np.ndarray]:
    """Draw wires from 24 AWG to 4/0 at up to the current of 105 degC."""
    random = np.random.default_rng(20)
    gauge = random.integers(-3, 25, rows).astype(float)
    diameter = conductors.awg_diameter_mm(gauge=gauge)
    wire = cooling.Wire(
        resistance_20_ohm_per_m=0.0175 / conductors.circle_area_mm2(diameter_mm=diameter),
        temperature_coefficient_per_k=0.00393,
        conductor_diameter_mm=1.15 * diameter,
        outer_diameter_mm=1.15 * diameter + 1.0,
        insulation_w_per_m_k=0.2,
        ambient_c=random.uniform(0.5, 1.0, rows) * AMBIENT_C,
    )
    full = heating.permissible_current_a(limit_c=105.0, wire=wire)
    return wire, full * random.uniform(0.3, 1.0, rows)


def bare(current: np.ndarray, wire: cooling.Wire) -> np.ndarray:
    """Eight damped sweeps; constants before the loop, no call of the package inside."""
    diameter = wire.outer_diameter_mm / 1000
    ambient = wire.ambient_c + 273.15
    heat_20 = current**2 * wire.resistance_20_ohm_per_m
    insulation = np.log(wire.outer_diameter_mm / wire.conductor_diameter_mm) / (
        2 * np.pi * wire.insulation_w_per_m_k
    )
    prandtl_factor = 0.387 / (1 + (0.559 / 0.70) ** (9 / 16)) ** (8 / 27)
    buoyancy = 9.80665 * diameter**3
    area = np.pi * diameter
    surface = ambient + 30.0
    conductor = surface
    for _ in range(SWEEPS):
        heat = heat_20 * (1 + wire.temperature_coefficient_per_k * (conductor - 293.15))
        film = 0.5 * (surface + ambient)
        root = np.sqrt(film)
        conductivity = 2.4951e-3 * film * root / (film + 194)
        volume = 287.05287 / 101325 * film
        viscosity = 1.458e-6 * film * root / (film + 110.4) * volume
        diffusivity = conductivity * volume / 1007
        rayleigh = buoyancy * np.abs(surface - ambient) / (film * viscosity * diffusivity)
        nusselt = (0.60 + prandtl_factor * rayleigh ** (1 / 6)) ** 2
        radiation = 0.9 * 5.670374419e-8 * (surface**2 + ambient**2) * (surface + ambient)
        coefficient = nusselt * conductivity / diameter + radiation
        surface = 0.2 * surface + 0.8 * (ambient + heat / (area * coefficient))
        conductor = surface + heat * insulation
    return conductor - 273.15


def best_s(call: Callable[[], object], *, repeats: int, target_s: float = 0.05) -> float:
    """Shortest time of a call, each sample long enough to be read."""
    start = time.perf_counter()
    call()
    loops = max(1, int(target_s / max(time.perf_counter() - start, 1e-7)))
    samples = []
    for _ in range(repeats):
        start = time.perf_counter()
        for _ in range(loops):
            call()
        samples.append((time.perf_counter() - start) / loops)
    return min(samples)


def bare_by_blocks(current: np.ndarray, wire: cooling.Wire) -> list[np.ndarray]:
    """Give the bare sweeps the same help from the processor's cache."""
    columns = {field.name: getattr(wire, field.name) for field in dataclasses.fields(wire)}
    found = []
    for start in range(0, len(current), blocks.BLOCK_ROWS):
        rows = slice(start, start + blocks.BLOCK_ROWS)
        block = {name: c[rows] if np.ndim(c) else c for name, c in columns.items()}
        found.append(bare(current[rows], cooling.Wire(**block)))
    return found


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=7)
    repeats = parser.parse_args().repeats
    say("  wires  temperature  permissible  bare sweeps  in blocks  temperature / bare, in blocks")
    for rows in (1, 6, 1_000, 100_000):
        wire, current = wires(rows)
        settle = partial(
            heating.conductor_temperature, current_a=current, wire=wire, ceiling_c=CEILING_C
        )
        calls = [
            settle,
            partial(heating.permissible_current_a, limit_c=105.0, wire=wire),
            partial(bare, current, wire),
            partial(bare_by_blocks, current, wire),
        ]
        solved, permissible, swept, blocked = (
            1e6 / rows * best_s(call, repeats=repeats) for call in calls
        )
        say(
            f"{rows:7,d} {solved:9.3f} us {permissible:9.3f} us {swept:9.3f} us {blocked:7.3f} us"
            f" {solved / swept:15.2f} {solved / blocked:12.2f}"
        )
    exact = settle()
    apart = np.abs(bare(current, wire) - exact.conductor_temperature_c).max()
    say(
        f"Times are per wire. Largest balance left open: {np.abs(exact.residual).max():.1e}, "
        f"evaluations {exact.iterations.mean():.1f} on average, {exact.iterations.max()} at most; "
        f"the bare sweeps are off by up to {apart:.2g} K."
    )


def say(line: str) -> None:
    """Print a line."""
    sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
