"""Common practice: vehicles have stranded wire, and aluminium has terminals of its own."""

import pytest


@pytest.mark.parametrize(
    ("fields", "solid", "aluminium"),
    [
        ({}, False, False),
        ({"construction": "solid"}, True, False),
        ({"material": "aluminium"}, False, True),
        ({"material": "aluminium", "construction": "solid"}, True, True),
    ],
)
def test_what_is_no_stranded_copper_is_warned_of(run, fields, solid, aluminium):
    heating = run(
        "wire-heating", size="8 AWG", insulation="GXL", ambient_c=40, current_a=10, **fields
    )
    sized = run(
        "wire-sizing", supply_v=12.6, load_current_a=10, length_m=2, insulation="GXL",
        zone="cabin", return_path="wire", load_profile="steady", **fields,
    )  # fmt: skip
    for found in (heating, sized):
        said = " ".join(found.cautions)
        assert ("solid conductor breaks" in said) == solid
        assert ("Aluminium creeps" in said) == aluminium
