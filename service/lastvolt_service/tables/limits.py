"""Published limits and multiples for whole circuits, contacts and loads."""

import math
from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables

# Of the return through the body with its joints, where nothing better is known.
GROUND_RETURN_OHM = 0.005
# From this current on a contact is reckoned to be one of a starter motor's main circuit. [A]
CRANKING_A = 100.0
# Of the nominal voltage: what charges a battery that is not cold with more gasses it.
GASSES_SHARE = 1.25
# A contact that makes and breaks, is rated for a current, and burns beyond it.
RATED = "switch"
# Of its rating: what a contact makes and carries while a plunger moves, for less than these
# seconds. Common practice.
MOMENT_S, MOST_FOR_A_MOMENT = 1.0, 2.0
# A contact that drops more than this multiple of what a sound one does, and makes so much heat,
# burns what holds it: plastic, or metal that leads it away. [W]. One that is brief has less time
# to: it takes about a minute to get hot. [s]. Common practice.
BURNS_W = {
    "switch": 10.0,
    "fuse": 10.0,
    "connector": 10.0,
    "relay": 10.0,
    "terminal": 30.0,
    "ground": 30.0,
}
HOTTEST_MULTIPLE, GETS_HOT_S = 2.0, 60.0
# A relay that is rated for less sits in a plastic socket, others are bolted down and bear more. [A]
SOCKET_A = 100.0
# Of what a whole path may lose, for its contacts where they are not given: a new fuse with its
# holder takes 0.1 V, a switch and a connector 0.05 V each, of 0.5 V.
KEPT_FOR_CONTACTS = 0.4


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit and where it comes from.

    Attributes
    ----------
    limit_v : float
        Largest voltage drop, or highest voltage. [V]
    citation : str
        Source in one line.
    """

    limit_v: float
    citation: str


@dataclass(frozen=True, slots=True)
class PathLimit(Limit):
    """A limit of a whole path, and what it speaks of.

    Attributes
    ----------
    applies_to : str
        ``load``, ``both_windings`` or ``cranking``.
    at_current_a : float
        Current that it was published for; NaN for none. [A]
    temperature_c : float
        Of the path; NaN for any. [degC]
    """

    applies_to: str
    at_current_a: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Inrush:
    """First current over steady current of a kind of load.

    Attributes
    ----------
    lowest_multiple, highest_multiple : float
        Ends of the published range.
    citation : str
        Source in one line.
    """

    lowest_multiple: float
    highest_multiple: float
    citation: str


@cache
def drop_limits() -> dict[tuple[str, int], PathLimit]:
    """Read the drop limits of whole paths.

    Returns
    -------
    dict of (str, int) to PathLimit
        By kind of circuit and nominal voltage.
    """
    return {
        (row["circuit"], int(row["nominal_v"])): PathLimit(
            float(row["limit_v"]),
            tables.citation("drop_limits", row["source"]),
            row["applies_to"],
            float(row["at_current_a"] or "nan"),
            float(row["temperature_c"] or "nan"),
        )
        for row in tables.rows("drop_limits")
    }


@cache
def contact_limits() -> dict[str, Limit]:
    """Read the drop limits of single contacts.

    Returns
    -------
    dict of str to Limit
        By part.
    """
    return {
        row["part"]: Limit(float(row["limit_v"]), tables.citation("contact_limits", row["source"]))
        for row in tables.rows("contact_limits")
    }


@cache
def cranking_contact_limits() -> dict[str, Limit]:
    """Read the drop limits of contacts that carry `CRANKING_A` and more.

    Returns
    -------
    dict of str to Limit
        By part, of those that have one of their own.
    """
    return {
        row["part"]: Limit(
            float(row["limit_v"]), tables.citation("cranking_contact_limits", row["source"])
        )
        for row in tables.rows("cranking_contact_limits")
    }


def contact_limit(part: str, current_a: float) -> Limit:
    """Tell what a sound contact may drop at a current.

    Parameters
    ----------
    part : str
        What makes the contact.
    current_a : float
        Through it; the sign does not matter. [A]

    Returns
    -------
    Limit
    """
    usual = contact_limits()[part]
    return cranking_contact_limits().get(part, usual) if abs(current_a) >= CRANKING_A else usual


def burns_w(part: str, rating_a: float) -> float:
    """Tell what heat burns what holds a contact; endless where none is known to.

    Parameters
    ----------
    part : str
        What makes the contact.
    rating_a : float
        Of the contact; NaN where it is not known. [A]

    Returns
    -------
    float
        [W]
    """
    bears = part == "relay" and not rating_a < SOCKET_A
    return math.inf if bears else BURNS_W.get(part, math.inf)


@cache
def system_voltages() -> dict[int, Limit]:
    """Read the highest customary voltages of systems.

    Returns
    -------
    dict of int to Limit
        By nominal voltage.
    """
    return _of_systems("highest_v")


@cache
def starting_voltages() -> dict[int, Limit]:
    """Read the lowest voltages that what must work during a start is customarily made for.

    Returns
    -------
    dict of int to Limit
        By nominal voltage.
    """
    return _of_systems("lowest_starting_v")


def _of_systems(column: str) -> dict[int, Limit]:
    return {
        int(row["nominal_v"]): Limit(
            float(row[column]), tables.citation("system_voltages", row["source"])
        )
        for row in tables.rows("system_voltages")
    }


@cache
def inrush() -> dict[str, Inrush]:
    """Read the inrush multiples.

    Returns
    -------
    dict of str to Inrush
        By kind of load.
    """
    return {
        row["load_kind"]: Inrush(
            float(row["lowest_multiple"]),
            float(row["highest_multiple"]),
            tables.citation("inrush", row["source"]),
        )
        for row in tables.rows("inrush")
    }


def ground_return_citation() -> str:
    """Cite `GROUND_RETURN_OHM`."""
    return tables.citation("grounds", "ac43")


def kept_back_citation() -> str:
    """Cite `KEPT_FOR_CONTACTS`."""
    return tables.citation("kept_back", "practice")
