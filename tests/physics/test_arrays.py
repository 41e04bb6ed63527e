"""Every function of one formula: arrays give what a loop of scalars gives."""

import inspect
import itertools

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import (
    battery,
    coil,
    conductors,
    contact,
    diagnosis,
    interpolation,
    path,
    solenoid,
)

# Values of every argument, the edges of its range among them. Curves stay whole arrays.
COPPER_PER_K = [0.00393, 0.0]
COIL = {
    "resistance_ohm": [90.0, 0.1],
    "ambient_c": [-40.0, 20.0, 125.0],
    "thermal_resistance_k_per_w": [32.0, 1e-3, 1e4],
    "temperature_coefficient_per_k": COPPER_PER_K,
}
SUPPRESSOR = {
    "supply_v": [0.0, 12.0, 60.0],
    "resistance_ohm": [90.0, 0.1],
    "clamp_v": [0.0, 0.7, 24.0],
    "clamp_resistance_ohm": [0.0, 680.0],
}
WINDINGS = {
    "pull_in_resistance_ohm": [0.3, 1e-3],
    "motor_resistance_ohm": [0.0, 0.02],
    "hold_in_resistance_ohm": [1.0, 1e6],
}
CURVE = {
    "curve_ambient_c": np.array([23.0, 85.0, 125.0]),
    "curve_current_a": np.array([60.0, 40.0, 17.0]),
}
CASES = {
    battery.open_circuit_voltage: {
        "rested_v": [11.9, 12.6],
        "temperature_c": [-60.0, 26.7, 100.0],
        "rested_at_c": [26.7, 25.0],
        "rise_v_per_k": [0.0, 0.004],
    },
    battery.terminal_voltage: {
        "open_circuit_v": [6.2, 12.5],
        "internal_resistance_ohm": [1e-5, 0.01, 10.0],
        "current_a": [0.0, 300.0, 2000.0],
    },
    battery.cold_cranking_resistance: {
        "open_circuit_v": [6.2, 12.5],
        "cold_cranking_v": [3.6, 7.2],
        "cold_cranking_a": [1.0, 700.0, 5000.0],
    },
    interpolation.on_line: {
        "at": [-1.0, 0.0, 7.5],
        "low_at": [0.0, -3.0],
        "high_at": [1.0, 10.0],
        "low": [12.0, 0.0],
        "high": [12.0, -4.5],
    },
    interpolation.on_logarithmic_line: {
        "at": [0.2, 1.5, 7.5],
        "low_at": [0.1, 1.0],
        "high_at": [2.0, 10.0],
        "low": [12.0, 0.01],
        "high": [12.0, 4.5],
    },
    battery.resistance_at_power: {
        "resistance_ohm": [0.0, 0.008],
        "reference_percent": [39.6, 40.0],
        "power_percent": [20.0, 100.0],
    },
    battery.aged_resistance: {
        "resistance_ohm": [0.0, 0.008],
        "charge_factor": [1.0, 5.0],
        "ageing_factor": [1.0, 2.0],
    },
    diagnosis.reading_uncertainty: {
        "reading_v": [0.0, 0.2, 60.0],
        "resolution_v": [1e-6, 0.01],
        "accuracy_percent": [0.0, 0.5, 20.0],
    },
    diagnosis.excess_voltage: {
        "measured_v": [0.0, 0.2, 60.0],
        "expected_v": [0.0, 0.2, 0.3],
    },
    diagnosis.regained_voltage: {
        "source_v": [12.0, 60.0],
        "load_voltage_v": [0.01, 9.0],
        "excess_v": [0.0, 2.9],
    },
    conductors.awg_diameter_mm: {"gauge": [40.0, 12.0, 0.0, -3.0]},
    conductors.diameter_over_strands_mm: {"area_mm2": [0.1, 50.0], "strand_ratio": [1.0, 1.15]},
    conductors.circle_area_mm2: {"diameter_mm": [0.0, 0.1, 11.7]},
    conductors.resistance_ratio: {
        "temperature_c": [-60.0, 20.0, 400.0],
        "temperature_coefficient_per_k": COPPER_PER_K,
    },
    conductors.temperature_at_ratio: {
        "ratio": [0.0, 1.0, 2.5],
        "temperature_coefficient_per_k": [0.00393, 0.00403],
    },
    conductors.resistance_change: {
        "temperature_c": [-60.0, 20.0, 400.0],
        "reference_temperature_c": [-60.0, 20.0, 85.0],
        "temperature_coefficient_per_k": COPPER_PER_K,
    },
    conductors.resistance_per_length: {
        "resistivity_ohm_mm2_per_m": [1 / 58, 0.028264],
        "area_mm2": [1e-4, 3.3, 1e5],
        "lay_factor": [1.0, 1.02],
    },
    path.resistive_load_current: {
        "supply_v": [0.0, 12.0],
        "path_resistance_ohm": [0.0, 0.1, 1e6],
        "load_resistance_ohm": [1e-4, 1.25, 1e6],
    },
    path.power_load_voltages: {
        "supply_v": [0.0, 12.0, 60.0],
        "path_resistance_ohm": [0.0, 0.1, 1e6],
        "load_power_w": [0.0, 1e-3, 60.0, 1e6],
    },
    coil.heated_share: {"duration_s": [1e-3, 10.0, 1e5], "time_constant_s": [1.0, 60.0]},
    coil.self_heating_rise: {"coil_v": [0.0, 12.0, 60.0], **COIL},
    coil.voltage_at_rise: {"rise_k": [-30.0, 0.0, 135.0], **COIL},
    coil.switch_off_peak: SUPPRESSOR,
    coil.release_time_constants: {"drop_out_v": [0.01, 1.2, 60.0], **SUPPRESSOR},
    contact.derated_current: {"ambient_c": [-40.0, 23.0, 60.0, 125.0, 126.0], **CURVE},
    contact.joule_power: {"current_a": [0.0, -3.0, 1e4], "resistance_ohm": [0.0, 0.01, 1e6]},
    solenoid.plunger_force: {
        "ampere_turns": [0.0, 5000.0],
        "gap_mm": [1e-3, 3.0],
        "area_mm2": [0.1, 500.0],
    },
    solenoid.ampere_turns_for_force: {
        "force_n": [1e-3, 60.0],
        "gap_mm": [1e-3, 3.0],
        "area_mm2": [0.1, 500.0],
    },
    solenoid.two_winding_resistance: WINDINGS,
    solenoid.two_winding_pull_in: {
        "ampere_turns": [1e-3, 4500.0],
        "pull_in_turns": [1.0, 200.0],
        "hold_in_turns": [1.0, 200.0],
        **WINDINGS,
    },
    solenoid.path_resistance_to_spare: {
        "supply_v": [0.0, 12.0],
        "pull_in_current_a": [0.02, 60.0],
        "winding_resistance_ohm": [1e-3, 0.25],
    },
    solenoid.winding_ratio_to_spare: {
        "supply_v": [0.0, 12.0],
        "pull_in_current_a": [0.02, 60.0],
        "path_resistance_ohm": [0.0, 0.06],
        "winding_resistance_ohm": [1e-3, 0.25],
    },
}


def test_every_function_has_a_case():
    public = {
        function
        for module in (battery, conductors, diagnosis, interpolation, path, coil, contact, solenoid)
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    }
    assert public == set(CASES)


@pytest.mark.parametrize("function", CASES, ids=lambda function: function.__name__)
def test_array_equals_loop_of_scalars(function):
    varied = {name: values for name, values in CASES[function].items() if isinstance(values, list)}
    whole = {name: values for name, values in CASES[function].items() if name not in varied}
    rows = list(itertools.product(*varied.values()))
    columns = dict(zip(varied, np.array(rows).T, strict=True))
    scalars = [function(**dict(zip(varied, row, strict=True)), **whole) for row in rows]
    at_once = function(**columns, **whole)
    assert np.shape(scalars[0]) == np.shape(at_once)[:-1]
    # Vector and scalar routines of numpy may round the last of 16 digits differently.
    assert_allclose(at_once, np.array(scalars).T, rtol=1e-14)


@pytest.mark.parametrize("function", CASES, ids=lambda function: function.__name__)
def test_arguments_broadcast(function):
    """Each varied argument on an axis of its own gives the full grid."""
    varied = {name: values for name, values in CASES[function].items() if isinstance(values, list)}
    whole = {name: values for name, values in CASES[function].items() if name not in varied}
    grid = np.meshgrid(*varied.values(), indexing="ij", sparse=True)
    expected = tuple(len(values) for values in varied.values())
    found = function(**dict(zip(varied, grid, strict=True)), **whole)
    for part in found if isinstance(found, tuple) else (found,):
        assert part.shape == expected


@pytest.mark.parametrize("function", CASES, ids=lambda function: function.__name__)
def test_keyword_only(function):
    kinds = {parameter.kind for parameter in inspect.signature(function).parameters.values()}
    assert kinds == {inspect.Parameter.KEYWORD_ONLY}
