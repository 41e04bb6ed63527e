"""Every table: units in the names of its columns, and a source for every row."""

import tomllib
from importlib.resources import files

import pytest

from lastvolt_service import tables
from lastvolt_service.units import unit_of

FOLDER = files(tables)
CSV = sorted(entry.name[:-4] for entry in FOLDER.iterdir() if entry.name.endswith(".csv"))
TOML = sorted(entry.name[:-5] for entry in FOLDER.iterdir() if entry.name.endswith(".toml"))
# Units of trade that tables keep as printed and nothing else uses, and numbers without a unit.
AS_PRINTED = ("_cmil", "_ohm_per_km", "_ohm_per_kft")
PLAIN_NUMBERS = ("gauge", "factor", "_multiple", "_conductors")
MARKS = {"READ", "MEM", "PRACTICE"}


def is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def test_every_csv_has_a_toml():
    assert set(CSV) <= set(TOML)


@pytest.mark.parametrize("table", CSV)
def test_numbers_have_units(table):
    for column in tables.rows(table)[0]:
        texts = [row[column] for row in tables.rows(table)]
        if any(is_number(text) for text in texts):
            assert unit_of(column) or column.endswith(AS_PRINTED + PLAIN_NUMBERS), column


@pytest.mark.parametrize("table", CSV)
def test_rows_are_whole(table):
    """No row is shorter or longer than the header, and no key stands twice."""
    rows = tables.rows(table)
    assert rows
    for row in rows:
        assert None not in row
        assert None not in row.values()
    values = [tuple(value for name, value in row.items() if name != "source") for row in rows]
    assert len(set(values)) == len(values)


@pytest.mark.parametrize("table", CSV)
def test_every_row_has_a_source(table):
    known = set(tables.sources(table))
    if "source" in tables.rows(table)[0]:
        assert {row["source"] for row in tables.rows(table)} <= known
    else:
        assert len(known) == 1


@pytest.mark.parametrize("table", TOML)
def test_sources_are_complete(table):
    written = tomllib.loads(FOLDER.joinpath(f"{table}.toml").read_text(encoding="utf-8"))
    assert set(written) == {"sources"}
    for name, source in tables.sources(table).items():
        assert source.mark in MARKS, name
        assert source.title, name
        if source.mark == "MEM":
            assert source.citation.endswith("(unverified)")
        if source.mark == "PRACTICE":
            assert source.citation.startswith("common practice: ")
            assert not source.publisher


def numbers(table: str, column: str) -> dict[float, float]:
    return {float(row["area_mm2"]): float(row[column]) for row in tables.rows(table)}


# The resistances of ISO 6722 are from memory and held against no print. What can be held: a cable
# has no less resistance than solid copper of its nominal area (17.241 ohm/km at 1 mm2, IEC 28) and
# no more than IEC 60228 allows class 5, where both list the size.
@pytest.mark.parametrize(("area_mm2", "ohm_per_km"), numbers("iso6722", "plain_ohm_per_km").items())
def test_iso_6722_lies_between_copper_and_class_5(area_mm2, ohm_per_km):
    assert ohm_per_km >= 17.241 / area_mm2
    most = numbers("iec60228", "plain_ohm_per_km").get(area_mm2)
    assert most is None or ohm_per_km <= most


@pytest.mark.parametrize("table", ["iso6722", "iec60228"])
def test_tin_adds_resistance_and_area_takes_it(table):
    plain, tinned = (numbers(table, f"{coat}_ohm_per_km") for coat in ("plain", "tinned"))
    assert all(plain[area] < tinned[area] for area in plain)
    for column in (plain, tinned):
        assert list(column) == sorted(column)
        assert list(column.values()) == sorted(column.values(), reverse=True)


def test_version_names_the_content():
    version = tables.version()
    assert len(version) == 12
    assert int(version, 16) >= 0
