"""Numbers as people read them: the SDK rounds as the service does, by the table it publishes."""

from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lastvolt import display
from lastvolt._generated.service import DECIMALS, SYMBOLS, TWO_DIGITS_BELOW
from lastvolt_service.words import amounts

UNITS = [*amounts.DECIMALS, "ohm", "mm2", "K/W", "A2s", "ohm/m", "N", "K"]
BY_HAND = [
    (1000, "W", "1000 W"),
    (999.7, "W", "1000 W"),
    (1234.5, "W", "1234 W"),
    (1234.4, "ohm", "1234 Ω"),
    (999.7, "ohm", "1000 Ω"),
    (0.00001, "ohm", "0.00001 Ω"),
    (0.0004, "V", "less than 0.001 V"),
    (0.004, "V", "0.004 V"),
    (0.0057, "V", "0.006 V"),
    (0.014, "V", "0.01 V"),
    (11.96, "V", "11.96 V"),
    (12.0, "V", "12 V"),
    (0.217, "V", "0.22 V"),
    (-0.0, "V", "0 V"),
    (-0.0, "ohm", "0 Ω"),
    (1e-9, "A", "less than 0.001 A"),
    (0.05, "A", "0.05 A"),
    (0.02, "A", "0.02 A"),
    (0.154, "A", "0.15 A"),
    (0.996, "A", "1 A"),
    (0.25, "s", "0.25 s"),
    (0.0004, "ohm", "0.0004 Ω"),
    (320.44, "A", "320.4 A"),
    (85.4, "degC", "85 °C"),
    (-0.4, "degC", "0 °C"),
    (1.67, "m", "1.67 m"),
    (0.04, "m", "0.04 m"),
]
# Number, unit, what is told of a maximum, and of a minimum.
TO_A_SIDE = [
    (1.678, "m", "1.67 m", "1.68 m"),
    (86.9, "degC", "86 °C", "87 °C"),
    (-0.4, "degC", "-1 °C", "0 °C"),
    (14.96, "A", "14.9 A", "15 A"),
    (15.0, "A", "15 A", "15 A"),
    (0.1 + 0.2, "A", "0.3 A", "0.3 A"),  # a computer's third
    (0.0684, "A", "0.068 A", "0.069 A"),
    (0.0004, "A", "less than 0.001 A", "0.001 A"),
    (9.999, "V", "9.99 V", "10 V"),
    (0.012345, "ohm", "0.0123 Ω", "0.0124 Ω"),
    (1234.5, "ohm", "1234 Ω", "1235 Ω"),
    (0.0, "ohm", "0 Ω", "0 Ω"),
]


@pytest.mark.parametrize(("value", "unit", "shown"), BY_HAND)
def test_numbers_as_they_are_read(value: float, unit: str, shown: str) -> None:
    assert display.number(value, unit) == shown
    assert amounts.amount(value, unit) == shown


@pytest.mark.parametrize(("value", "unit", "most", "least"), TO_A_SIDE)
def test_a_maximum_goes_down_and_a_minimum_up(
    value: float, unit: str, most: str, least: str
) -> None:
    assert amounts.amount(value, unit, side="down") == most
    assert amounts.amount(value, unit, side="up") == least


@given(st.floats(-2000, 2000), st.sampled_from(UNITS))
def test_a_side_is_never_beyond_the_number_and_never_far_from_it(value: float, unit: str) -> None:
    most, least = (Decimal(amounts.rounded(value, unit, side)) for side in ("down", "up"))
    hair = abs(Decimal(value)) * Decimal("1e-11")
    assert most - hair <= Decimal(value) <= least + hair
    decimals = amounts.DECIMALS.get(unit)
    one_step = (
        Decimal(1).scaleb(-decimals)
        if decimals is not None
        else max(Decimal(1), abs(Decimal(value))) * Decimal("0.01")
    )
    assert least - most <= one_step


def test_feet_and_fahrenheit_go_to_the_same_side() -> None:
    assert amounts.amount(1.678, "m", us=True, side="down") == "1.67 m (5.5 ft)"  # 5.5052
    assert amounts.amount(1.678, "m", us=True, side="up") == "1.68 m (5.6 ft)"
    assert amounts.amount(86.9, "degC", us=True, side="down") == "86 °C (188 °F)"  # 188.42
    assert amounts.amount(86.9, "degC", us=True, side="up") == "87 °C (189 °F)"


@pytest.mark.parametrize(
    ("larger", "smaller", "unit", "apart"),
    [
        (8.3, 8.26, "A", "less than 0.1 A"),
        (8.3, 8.3, "A", "0 A"),
        (10.004, 9.996, "V", "less than 0.01 V"),
        (9.1, 8.0, "V", "1.1 V"),
    ],
)
def test_what_is_short_is_never_told_as_nothing(
    larger: float, smaller: float, unit: str, apart: str
) -> None:
    assert amounts.difference(larger, smaller, unit) == apart


@given(
    st.one_of(
        st.floats(-1e300, 1e300),
        st.floats(-2000, 2000),
        st.integers(-(10**7), 10**7).map(lambda steps: steps / 2000),  # halves, where ties lie
    ),
    st.sampled_from(UNITS),
)
@example(9.995, "V")
@example(0.005, "V")
@example(99.95, "A")
@example(999.5, "ohm")
@example(-999.7, "W")
def test_sdk_and_service_round_alike(value: float, unit: str) -> None:
    shown = display.number(value, unit)
    assert shown == amounts.amount(value, unit)
    assert "e+" not in shown


def test_the_tables_are_the_published_ones() -> None:
    assert DECIMALS == amounts.DECIMALS
    assert SYMBOLS == amounts.SYMBOLS
    assert TWO_DIGITS_BELOW == amounts.TWO_DIGITS_BELOW


def test_a_number_without_a_unit_stands_alone() -> None:
    assert display.number(3.14159) == "3.14"
