"""Conductor sizes: how they are written, and what the standards print for them."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache, lru_cache

from lastvolt_service import tables
from lastvolt_service.errors import UnknownSize

M_PER_KFT = 304.8

# Standard -> how its sizes end. The first one of an ending is taken when none is named.
STANDARDS = {"AWG": "AWG", "SAE": "SAE", "IEC 60228": "mm2", "ISO 6722": "mm2"}
HOW_WRITTEN = "'12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'"
_GAUGE = "(?:[1-9]?[0-9]|[1-4]/0)"
# In the trade "00" is 2/0; no other number begins with a zero. Common practice.
_SAID = "(?:[1-9]?[0-9]|[1-4]/0|0{2,4})"
_OF = "(?:[Aa][Ww][Gg]|[Ss][Aa][Ee]|[Gg][Aa](?:[Uu][Gg][Ee])?)"
_SQUARED = "(?:[Mm][Mm](?:[2\u00b2]|\\^2)|[Ss][Qq]\\.? ?[Mm][Mm])"
# What is understood: "12 AWG", "awg 12", "12 gauge", "#12", "00 AWG", "2.5mm\u00b2", "2,5 sq mm".
SIZE_PATTERN = (
    rf"^#?{_SAID}[ -]?{_OF}\.?$|^{_OF} ?#?{_SAID}$|^#{_SAID}$|"
    rf"^[0-9]{{1,3}}(?:[.,][0-9]{{1,2}})? ?{_SQUARED}$"
)

_UNDERSTOOD = re.compile(SIZE_PATTERN, re.ASCII)
_SIZE = re.compile(rf"{_GAUGE} (?:AWG|SAE)|(?!0 )[0-9]{{1,3}}(?:\.[0-9]{{1,2}})? mm2", re.ASCII)
_BARE = re.compile(rf"{_SAID}|[0-9]{{1,3}}\.[0-9]{{1,2}}", re.ASCII)
_LENGTH = re.compile(r"([0-9]{1,3}(?:[.,][0-9]{1,2})?) ?[Mm][Mm]", re.ASCII)
_AWG_GAUGES = (*range(40, 0, -1), 0, -1, -2, -3)
# The gauges that wire is sold in: those of NEC Chapter 9 Table 8, and the even ones below.
_AWG_TRADE = (24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3)


@dataclass(frozen=True, slots=True)
class Flexible:
    """A metric conductor as its standard prints it.

    Attributes
    ----------
    area_mm2 : float
        Nominal section. [mm2]
    plain_ohm_per_m, tinned_ohm_per_m : float
        Maximum resistance at 20 degC. [ohm/m]
    citation : str
        Where the values come from.
    """

    area_mm2: float
    plain_ohm_per_m: float
    tinned_ohm_per_m: float
    citation: str


def gauge_name(gauge: int) -> str:
    """Write a gauge number the way it is said.

    Parameters
    ----------
    gauge : int
        -1 for 2/0 and so on.
    """
    return str(gauge) if gauge > 0 else f"{1 - gauge}/0"


def gauge_number(name: str) -> int:
    """Read a gauge number.

    Parameters
    ----------
    name : str
        For example ``"12"`` or ``"2/0"``.

    Returns
    -------
    int
        -1 for 2/0 and so on.
    """
    return 1 - int(name[0]) if name.endswith("/0") else int(name)


@cache
def _metric(standard: str) -> dict[float, Flexible]:
    table = {"IEC 60228": "iec60228", "ISO 6722": "iso6722"}[standard]
    only = next(iter(tables.sources(table)))
    return {
        float(row["area_mm2"]): Flexible(
            float(row["area_mm2"]),
            float(row["plain_ohm_per_km"]) / 1000,
            float(row["tinned_ohm_per_km"]) / 1000,
            tables.citation(table, row.get("source") or only),
        )
        for row in tables.rows(table)
    }


@cache
def sae_areas_cmil() -> dict[int, float]:
    """Read the minimum areas of SAE sizes.

    Returns
    -------
    dict of int to float
        Circular mils by gauge number.
    """
    return {gauge_number(row["gauge"]): float(row["area_cmil"]) for row in tables.rows("sae")}


@cache
def awg_coated_ohm_per_m() -> dict[tuple[int, str], float]:
    """Read the published resistances of coated copper at 75 degC.

    Returns
    -------
    dict of (int, str) to float
        Resistance in ohm/m by gauge number and construction.
    """
    return {
        (gauge_number(row["gauge"]), construction): float(text) / M_PER_KFT
        for row in tables.rows("awg_coated")
        for construction in ("solid", "stranded")
        if (text := row[f"{construction}_coated_ohm_per_kft"])
    }


def sae_citation() -> str:
    """Cite the minimum areas of SAE sizes."""
    return tables.citation("sae", "sae")


def awg_coated_citation() -> str:
    """Cite the published resistances of coated copper."""
    return tables.citation("awg_coated", "nec")


@cache
def sizes(standard: str) -> tuple[str, ...]:
    """List the sizes of a standard, smallest conductor first.

    Parameters
    ----------
    standard : str
        One of `STANDARDS`.
    """
    if standard == "AWG":
        return tuple(f"{gauge_name(gauge)} AWG" for gauge in _AWG_GAUGES)
    if standard == "SAE":
        return tuple(f"{gauge_name(gauge)} SAE" for gauge in sae_areas_cmil())
    return tuple(f"{area:g} mm2" for area in _metric(standard))


def trade_sizes(standard: str) -> tuple[str, ...]:
    """List the sizes of a standard that wire is sold in, smallest conductor first.

    Parameters
    ----------
    standard : str
        One of `STANDARDS`.
    """
    if standard == "AWG":
        return tuple(f"{gauge_name(gauge)} AWG" for gauge in _AWG_TRADE)
    return sizes(standard)


@lru_cache(maxsize=1024)
def spelt(text: str) -> str:
    """Write a size the one way that answers have it, for example ``"12 AWG"`` for ``"awg 12"``.

    Raises
    ------
    UnknownSize
        If the text is no size; whether a standard has it is for `split` to say.
    """
    if _BARE.fullmatch(text):
        number = _aughts(text)
        sizes_of_it = (f"{number} {ending}" for ending in dict.fromkeys(STANDARDS.values()))
        meant = " or ".join(f"'{size}'" for size in sizes_of_it if _SIZE.fullmatch(size))
        raise UnknownSize(f"{text!r} is a number without its standard: is it {meant}?", ("size",))
    if of_length := _LENGTH.fullmatch(text):
        raise UnknownSize(
            f"{text!r} is a length: if that is its section, write '{of_length[1]} mm2'; of a "
            "diameter a quarter of its square times 3.14 is.",
            ("size",),
        )
    if not _UNDERSTOOD.fullmatch(text):
        raise UnknownSize(f"This is no conductor size: write it as {HOW_WRITTEN}.", ("size",))
    number, said = re.findall("[0-9.,/]+", text)[0], text.lower()
    if "mm" in said:
        return f"{float(number.replace(',', '.')):g} mm2"
    return f"{_aughts(number)} {'SAE' if 'sae' in said else 'AWG'}"


def _aughts(number: str) -> str:
    return f"{len(number)}/0" if number.startswith("00") else number


def split(size: str, standard: str | None = None) -> tuple[str, float]:
    """Read a size and find the standard that it belongs to.

    Parameters
    ----------
    size : str
        For example ``"12 AWG"``, ``"2/0 AWG"``, ``"12 SAE"`` or ``"2.5 mm2"``.
    standard : str, optional
        One of `STANDARDS`; by default the first that writes its sizes this way.

    Returns
    -------
    standard : str
    number : float
        Gauge number, or nominal area in mm2.

    Raises
    ------
    UnknownSize
        If the text is no size, or the standard has no such size.
    """
    if not _SIZE.fullmatch(size):
        raise UnknownSize(f"{size!r} is no conductor size: write it as {HOW_WRITTEN}.", ("size",))
    text, _, ending = size.partition(" ")
    standard = standard or next(name for name, end in STANDARDS.items() if end == ending)
    if STANDARDS[standard] != ending:
        raise UnknownSize(
            f"{size!r} is no size of {standard}, whose sizes end in {STANDARDS[standard]!r}.",
            ("standard",),
        )
    number = float(text) if ending == "mm2" else float(gauge_number(text))
    if number not in _known(standard):
        known = sizes(standard)
        elsewhere = [
            f" {name} has it: name the standard."
            for name, end in STANDARDS.items()
            if end == ending and number in _known(name)
        ]
        raise UnknownSize(
            f"{standard} has no {size!r}: its {len(known)} sizes run from {known[0]} to "
            f"{known[-1]}{_beside(standard, number)}.{''.join(elsewhere)}",
            ("size",),
        )
    return standard, number


def _beside(standard: str, number: float) -> str:
    """Name the metric sizes on both sides of a section that is none, as 3.3 mm2 of 12 AWG."""
    if STANDARDS[standard] != "mm2" or not min(_known(standard)) < number < max(_known(standard)):
        return ""
    below = max(each for each in _known(standard) if each < number)
    above = min(each for each in _known(standard) if each > number)
    return f", beside it {below:g} mm2 and {above:g} mm2"


def _known(standard: str) -> Collection[float]:
    if standard == "AWG":
        return _AWG_GAUGES
    return sae_areas_cmil() if standard == "SAE" else _metric(standard)


def flexible(standard: str, area_mm2: float) -> Flexible:
    """Look up a metric conductor.

    Parameters
    ----------
    standard : str
        ``"IEC 60228"`` or ``"ISO 6722"``.
    area_mm2 : float
        Nominal section, one that the standard lists. [mm2]
    """
    return _metric(standard)[area_mm2]
