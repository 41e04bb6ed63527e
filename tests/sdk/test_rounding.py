"""Numbers as people read them: the SDK rounds as the service does, by the table it publishes."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lastvolt import display
from lastvolt._generated.service import DECIMALS, SYMBOLS
from lastvolt_service.words import amounts

UNITS = [*amounts.DECIMALS, "ohm", "mm2", "K/W", "A2s", "ohm/m", "N", "K"]
BY_HAND = [
    (1000, "W", "1000 W"),
    (999.7, "W", "1000 W"),
    (1234.5, "W", "1234 W"),
    (1234.4, "ohm", "1234 Ω"),
    (999.7, "ohm", "1000 Ω"),
    (0.00001, "ohm", "0.00001 Ω"),
    (0.004, "V", "less than 0.01 V"),
    (0.006, "V", "0.01 V"),
    (11.96, "V", "11.96 V"),
    (12.0, "V", "12 V"),
    (0.217, "V", "0.22 V"),
    (-0.0, "V", "0 V"),
    (-0.0, "ohm", "0 Ω"),
    (1e-9, "A", "less than 0.1 A"),
    (320.44, "A", "320.4 A"),
    (85.4, "degC", "85 °C"),
    (-0.4, "degC", "0 °C"),
]


@pytest.mark.parametrize(("value", "unit", "shown"), BY_HAND)
def test_numbers_as_they_are_read(value: float, unit: str, shown: str) -> None:
    assert display.number(value, unit) == shown
    assert amounts.amount(value, unit) == shown


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


def test_a_number_without_a_unit_stands_alone() -> None:
    assert display.number(3.14159) == "3.14"
