"""Resistance of one wire: limits and directions."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.tables.sizes import STANDARDS, sizes

SIZES = [(size, standard) for standard in STANDARDS for size in sizes(standard)]


def test_no_length_no_resistance(run):
    found = run("wire-resistance", size="12 AWG", length_m=0)
    assert found.resistance_ohm == 0
    assert found.resistance_ohm_per_m > 0


def test_defaults_are_stranded_copper_at_20_degc_and_that_is_assumed(run):
    short = run("wire-resistance", size="12 AWG", length_m=3)
    full = run(
        "wire-resistance",
        size="12 AWG",
        standard="AWG",
        length_m=3,
        temperature_c=20,
        material="copper",
        construction="stranded",
    )
    assert (short.temperature_c, short.temperature_source) == (20, "assumed")
    assert (full.temperature_c, full.temperature_source) == (20, "given")
    assert short.resistance_ohm == full.resistance_ohm
    assert "which is assumed" in short.headline
    assert "assumed" not in full.headline
    (line,) = set(short.basis) - set(full.basis)
    assert "assumed" in line


@pytest.mark.parametrize(
    ("size", "standard", "named"),
    [
        ("12 AWG", None, "AWG"),
        ("12 SAE", None, "SAE"),
        ("4 mm2", None, "IEC 60228"),
        ("4 mm2", "ISO 6722", "ISO 6722"),
    ],
)
def test_answer_says_which_standard_was_used(run, size, standard, named):
    asked = {} if standard is None else {"standard": standard}
    assert run("wire-resistance", size=size, length_m=1, **asked).standard == named


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(SIZES),
    st.lists(st.floats(0, 1000), min_size=2, max_size=2),
    st.lists(st.floats(-60, 300), min_size=2, max_size=2),
    st.sampled_from(["copper", "aluminium", "copper_clad_aluminium"]),
)
def test_longer_and_hotter_never_lower_it(run, named, lengths_m, temperatures_c, metal):
    size, standard = named
    short, long = (
        run(
            "wire-resistance",
            size=size,
            standard=standard,
            length_m=length_m,
            temperature_c=temperature_c,
            material=metal,
        )
        for length_m, temperature_c in zip(sorted(lengths_m), sorted(temperatures_c), strict=True)
    )
    assert short.resistance_ohm <= long.resistance_ohm
    assert_allclose(
        long.resistance_ohm, long.resistance_ohm_per_m * max(lengths_m), rtol=1e-15, atol=0
    )
