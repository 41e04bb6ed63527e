"""What a path may drop: by the caller's word, or by practice for its kind and nominal voltage."""

from collections.abc import Mapping
from functools import cache
from operator import itemgetter
from typing import NamedTuple

import numpy as np

from lastvolt_service.laws import by, is_recording, named, published
from lastvolt_service.operations.common_fields import MOST_OF_6_V, MOST_OF_12_V
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.fields import NOMINALS, DropLimit
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    Texts,
    Words,
    given,
    negate,
    pick,
    some,
)
from lastvolt_service.tables.limits import drop_limits

GIVEN = Given("limit given by the caller")
NOMINAL = (
    "a supply up to 7.5 V counts as a 6 V system, from 9 to 16 V as 12 V, from 20 V as 24 V; "
    "between them the nominal voltage is asked for where it decides"
)


_PRACTICE = [(nominal, itemgetter(nominal)) for nominal in NOMINALS]


class AllowedDrop(NamedTuple):
    """What paths may drop.

    Attributes
    ----------
    nominal_v, limit_v : float or ndarray
        Of the system, and of the whole path. [V]
    source : str
        Who says so, in one request.
    basis : tuple of str
        The same for all rows.
    """

    nominal_v: Numbers
    limit_v: Numbers
    source: str
    basis: tuple[str, ...]


def allowed_drop(asked: DropLimit) -> AllowedDrop:
    """Settle what paths may drop: by the caller's word, else by practice for their circuits."""
    nominal_v = nominal_of(asked.supply_v, asked.nominal_v)
    if not some(given(asked.nominal_v)):
        nominal_v = published("nominal_v", nominal_v, "nominal voltage of the system", NOMINAL)
    known = look_up(published_drops, circuit=asked.circuit)
    practice_v = {nominal: known.numbers(at) for nominal, at in _PRACTICE}
    is_own = given(asked.limit_drop_v) | given(asked.limit_drop_percent)
    sources: list[str] = [GIVEN] if some(is_own) else []
    if some(negate(is_own)):
        told = NOMINALS if isinstance(nominal_v, np.ndarray) else (int(nominal_v),)
        sources += [drop_limits()[c, n].citation for c in different(asked.circuit) for n in told]
    if is_recording() and not is_own:
        practice_v = {
            nominal: published("limit_drop_v", volts, "what the path may drop", sources[0])
            for nominal, volts in practice_v.items()
        }
    limit_v = limit_of(
        asked.supply_v, nominal_v, practice_v, asked.limit_drop_v, asked.limit_drop_percent
    )
    limit_v = named("limit_drop_v", by(GIVEN, limit_v), "what the path may drop")
    return AllowedDrop(
        nominal_v, limit_v, next(iter(sources), GIVEN), tuple(dict.fromkeys(sources))
    )


def different(texts: Texts) -> tuple[str, ...]:
    """List the texts of a column, or the one of a request, each once."""
    values = texts.values if isinstance(texts, Words) else (texts,)
    return tuple(text for text in values if text is not None)


def nominal_voltage(supply_v: float) -> int:
    """Guess the nominal voltage of a system from its supply.

    Parameters
    ----------
    supply_v : float
        Voltage at the start of the path. [V]

    Returns
    -------
    int
        6, 12 or 24. [V]
    """
    return int(nominal_of(supply_v, NOT_GIVEN))


def nominal_of(supply_v: Numbers, nominal_v: Numbers) -> Numbers:
    """Settle the nominal voltage of a system.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    nominal_v : float or ndarray
        As given; NaN to have it told from the supply. [V]

    Returns
    -------
    float or ndarray
        6, 12 or 24. [V]
    """
    told = pick(supply_v <= MOST_OF_6_V, 6.0, pick(supply_v <= MOST_OF_12_V, 12.0, 24.0))
    found: Numbers = pick(given(nominal_v), nominal_v, told)
    return found


@cache
def published_drops(circuit: str) -> dict[int, float]:
    """Look up what the paths of a kind of circuit may drop.

    Returns
    -------
    dict of int to float
        By nominal voltage. [V]
    """
    return {nominal: drop_limits()[circuit, nominal].limit_v for nominal in (6, 12, 24)}


def limit_of(
    supply_v: Numbers,
    nominal_v: Numbers,
    published_v: Mapping[int, Numbers],
    drop_v: Numbers,
    percent: Numbers,
) -> Numbers:
    """Settle what a path may drop.

    Parameters
    ----------
    supply_v, nominal_v : float or ndarray
        Voltage at the start of the path; 6, 12 or 24. [V]
    published_v : mapping of int to float or ndarray
        As `published_drops` gives it. [V]
    drop_v, percent : float or ndarray
        Limit of the caller, as a voltage or as a share of the supply; NaN for none. [V], [%]

    Returns
    -------
    float or ndarray
        [V]
    """
    known = pick(
        nominal_v == 6, published_v[6], pick(nominal_v == 12, published_v[12], published_v[24])
    )
    by_share = pick(given(percent), supply_v * percent / 100, known)
    found: Numbers = pick(given(drop_v), drop_v, by_share)
    return found
