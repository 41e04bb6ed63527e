"""The charge of a battery: what it says of frost, and what a load test asks for."""

import numpy as np

from lastvolt_service.laws import published
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL_SHARE,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    reaches,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, pick
from lastvolt_service.tables import battery as table

FROZEN = (
    "Never charge or jump-start a battery whose electrolyte may be frozen: it can burst. Warm it "
    "up first."
)
MAY_BE_FROZEN = (
    "As it is charged it may be frozen: neither charge it nor jump-start it, warm it up first."
)
# A freezing point counts as near within a tenth of this, 5 K; common practice, no source.
FREEZING_SCALE_K = 50.0
# The charge is a small margin above half up to three quarters.
CHARGE_SCALE = (table.CHARGED_PERCENT - table.LOW_PERCENT) / MARGINAL_SHARE
FULL_PERCENT = 100.0


def charge_or_full(charge_percent: Numbers) -> Numbers:
    """Take a battery as full where nothing is said of its charge. [%]."""
    full: Numbers = pick(given(charge_percent), charge_percent, FULL_PERCENT)
    return full


def charge_check(charge_percent: Numbers) -> Checked:
    """Judge whether a battery is charged well enough to be judged, and its wiring with it."""
    judged = reaches(charge_percent, table.LOW_PERCENT, CHARGE_SCALE)  # unknown where not given
    return Checked("charge", judged, "%", table.charged_citation())


def freezing_check(charge_percent: Numbers, temperature_c: Numbers) -> Checked:
    """Judge whether the electrolyte of a battery may be frozen.

    Without its charge it is held against a flat one, and is unknown where that might be.
    """
    curve, told = table.freezing(), given(charge_percent)
    freezing_c = read_off(
        curve,
        pick(told, charge_percent, 0.0),
        "freezing_c",
        "freezing point of the electrolyte",
        along="state_of_charge_percent",
    )
    judged = reaches(temperature_c, freezing_c, FREEZING_SCALE_K)
    sure = told | (judged.verdict == PASS)
    judged = judged._replace(verdict=pick(sure, judged.verdict, UNKNOWN))
    return Checked("freezing", judged, "degC", curve.citation)


def charge_told_percent(open_circuit_v: float, nominal_v: float) -> float:
    """Tell the state of charge of a battery at rest from its voltage; 100 of any higher one.

    What temperature does to that voltage is disputed, and nobody knows how warm the battery is that
    was measured: it is left out. In the cold that tells the charge, and its frost, no better.
    """
    curve = table.open_circuit()
    table_v = open_circuit_v * table.TABLE_NOMINAL_V / nominal_v
    return float(np.interp(table_v, curve.y, curve.x))


def load_test_v(nominal_v: Numbers, temperature_c: Numbers) -> Numbers:
    """What a load test asks a sound battery for; NaN where it is colder than is published. [V]."""
    test = table.load_test()
    return (
        read_off(
            test,
            temperature_c,
            "table_load_test_v",
            "least voltage in a load test of the published battery",
            along="temperature_c",
            below=NOT_GIVEN,
        )
        * nominal_v
        / published("table_nominal_v", table.TABLE_NOMINAL_V, "of that battery", test.citation)
    )


def judge_sag(value_v: Numbers, low_v: Numbers, high_v: Numbers, limit_v: Numbers) -> Judged:
    """Judge the sag at both ends of the resistance: what flips between them is undecided."""
    verdict = pick(
        high_v < limit_v,
        FAIL,
        pick(low_v < limit_v, UNDECIDED, reaches(low_v, limit_v).verdict),
    )
    return Judged(value_v, limit_v, value_v - limit_v, verdict)
