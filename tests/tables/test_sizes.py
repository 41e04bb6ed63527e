"""Conductor sizes: how they are read, and what is said of those that do not exist."""

import pytest

from lastvolt_service.errors import UnknownSize
from lastvolt_service.tables.sizes import STANDARDS, gauge_name, gauge_number, sizes, spelt, split


@pytest.mark.parametrize("standard", STANDARDS)
def test_every_listed_size_is_read(standard):
    assert sizes(standard)
    for size in sizes(standard):
        assert split(size, standard)[0] == standard


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ("12 AWG", ("AWG", 12)),
        ("1/0 AWG", ("AWG", 0)),
        ("0 AWG", ("AWG", 0)),
        ("4/0 SAE", ("SAE", -3)),
        ("2.5 mm2", ("IEC 60228", 2.5)),
        ("2.50 mm2", ("IEC 60228", 2.5)),
    ],
)
def test_standard_follows_from_the_ending(size, expected):
    assert split(size) == expected


@pytest.mark.parametrize(
    ("written", "spelling"),
    [
        ("12 AWG", "12 AWG"),
        ("awg 12", "12 AWG"),
        ("AWG12", "12 AWG"),
        ("12awg", "12 AWG"),
        ("12 gauge", "12 AWG"),
        ("12-gauge", "12 AWG"),
        ("14 ga", "14 AWG"),
        ("2/0 awg", "2/0 AWG"),
        ("12 sae", "12 SAE"),
        ("2.5mm\u00b2", "2.5 mm2"),
        ("2.5 MM2", "2.5 mm2"),
        ("2.50 mm2", "2.5 mm2"),
        ("50mm2", "50 mm2"),
        # A comma for a point on the continent, aughts for 2/0 and more, a hash for a gauge.
        ("2,5 mm2", "2.5 mm2"),
        ("2.5 mm^2", "2.5 mm2"),
        ("16 sq mm", "16 mm2"),
        ("16 sq. mm", "16 mm2"),
        ("35sqmm", "35 mm2"),
        ("#12", "12 AWG"),
        ("#4 AWG", "4 AWG"),
        ("10 ga.", "10 AWG"),
        ("00 AWG", "2/0 AWG"),
        ("000 gauge", "3/0 AWG"),
        ("AWG 0000", "4/0 AWG"),
        ("00 SAE", "2/0 SAE"),
    ],
)
def test_a_size_is_understood_as_the_trade_writes_it(written, spelling):
    assert spelt(written) == spelling


@pytest.mark.parametrize(
    "text",
    ["", "AWG", " 12 AWG", "12 AWG\n", "5/0 AWG", "1e3 mm2", "2,5,1 mm2",
     "05 awg", "00000 AWG", "#", "# AWG", "#2.5 mm2", "2.5 sq",
     "\u0661\u0662 AWG", "12 AWG 12", "awg 12 awg", "12 gaug", "-1 mm2"],
)  # fmt: skip
def test_what_is_no_size_is_not_guessed(text):
    with pytest.raises(UnknownSize, match="no conductor size"):
        spelt(text)


@pytest.mark.parametrize("text", ["2.5 mm", "2,5 mm", "2.5mm", "35MM"])
def test_a_length_may_be_a_section_or_a_diameter(text):
    """Common practice: cable is sold by its section, and measured with a caliper."""
    with pytest.raises(UnknownSize, match=r"is a length: if that is its section, write '\d"):
        spelt(text)


@pytest.mark.parametrize(
    ("size", "beside"), [("3.3 mm2", "2.5 mm2 and 4 mm2"), ("5 mm2", "4 mm2 and 6 mm2")]
)
def test_a_section_that_nobody_sells_is_told_its_neighbours(size, beside):
    with pytest.raises(UnknownSize, match=f"beside it {beside}"):
        split(size, "IEC 60228")


@pytest.mark.parametrize(
    ("number", "meant"),
    [
        ("12", "'12 AWG' or '12 SAE' or '12 mm2'"),
        ("2.5", "'2.5 mm2'"),
        ("2/0", "'2/0 AWG' or '2/0 SAE'"),
        ("00", "'2/0 AWG' or '2/0 SAE'"),
        ("0000", "'4/0 AWG' or '4/0 SAE'"),
        ("0", "'0 AWG' or '0 SAE'"),
    ],
)
def test_a_bare_number_is_asked_for_its_standard(number, meant):
    with pytest.raises(UnknownSize) as caught:
        spelt(number)
    assert str(caught.value).endswith(f"is it {meant}?")


@pytest.mark.parametrize("gauge", range(-3, 41))
def test_gauges_are_written_and_read(gauge):
    assert gauge_number(gauge_name(gauge)) == gauge


@pytest.mark.parametrize(
    "size",
    ["", "12", "AWG", "12AWG", "12 awg", " 12 AWG", "12 AWG\n", "5/0 AWG", "41 AWG", "20 SAE",
     "2.5 mm", "0 mm2", "-1 mm2", "1e3 mm2", "\u0661\u0662 AWG", "7 mm2", "0/0 AWG", "00 AWG",
     "05 AWG"],
)  # fmt: skip
def test_no_such_size(size):
    with pytest.raises(UnknownSize) as caught:
        split(size)
    assert caught.value.path == ("size",)


def test_size_of_another_standard_is_told():
    with pytest.raises(UnknownSize, match="ISO 6722 has it"):
        split("8 mm2")
    assert split("8 mm2", "ISO 6722") == ("ISO 6722", 8)


def test_size_and_standard_that_differ():
    with pytest.raises(UnknownSize, match="12 SAE"):
        split("12 SAE", "AWG")
