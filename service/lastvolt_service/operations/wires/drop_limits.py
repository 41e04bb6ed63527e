"""What a path may drop: by the caller's word, or by practice for its kind and nominal voltage."""

from collections.abc import Callable, Mapping
from functools import cache
from typing import NamedTuple

import numpy as np

from lastvolt_service.laws import by, is_recording, named, published
from lastvolt_service.operations.common_fields import MOST_OF_6_V, MOST_OF_12_V
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.fields import NOMINALS, DropLimit
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    Words,
    are,
    given,
    negate,
    pick,
    some,
    texts_where,
)
from lastvolt_service.tables.limits import PathLimit, drop_limits

GIVEN = Given("limit given by the caller")
GIVEN_NEED = Given("voltage needed given by the caller")
NOMINAL = (
    "a supply up to 7.5 V counts as a 6 V system, from 9 to 16 V as 12 V, from 20 V as 24 V; "
    "between them the nominal voltage is asked for where it decides"
)


BOTH_WINDINGS, CRANKING, OF_LOAD = "both_windings", "cranking", "load"
# A path that loses so little more than practice allows is no fault yet. Common practice.
ABOUT_MULTIPLE = 1.25
# A known resistance that takes this much of a load's voltage may be there by design, [V]; and one
# of so much is no wire, however long a harness is. [ohm]. Common practice.
BY_DESIGN_V, NO_WIRE_OHM = 0.1, 1.0
BOTH_WINDINGS_C = 20.0  # of the whole path, for the limit with both windings in


def _limit_at(nominal: int) -> Callable[[Mapping[int, PathLimit]], float]:
    return lambda known: known[nominal].limit_v


_PRACTICE = [(nominal, _limit_at(nominal)) for nominal in NOMINALS]


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
    applies_to : str, None or Words
        What the limit speaks of; None for one of the caller's.
    """

    nominal_v: Numbers
    limit_v: Numbers
    applies_to: Texts
    source: str
    basis: tuple[str, ...]

    @property
    def is_practice(self) -> Flags:
        """Whether it is no limit of the caller's."""
        return (
            are(self.applies_to, BOTH_WINDINGS)
            | are(self.applies_to, CRANKING)
            | are(self.applies_to, OF_LOAD)
        )

    @property
    def is_for_both_windings(self) -> Flags:
        """Whether it speaks of both windings of a starter's solenoid."""
        return are(self.applies_to, BOTH_WINDINGS)


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
        nominal_v,
        limit_v,
        texts_where(negate(is_own), known.words(lambda each: each[12].applies_to)),
        next(iter(sources), GIVEN),
        tuple(dict.fromkeys(sources)),
    )


LIMIT_APPLIES_TO = (
    "what the limit speaks of: load (its own current, the whole path out and back with its "
    "contacts), both_windings (of a starter's solenoid in, at 20 degC, the whole path), or "
    "cranking (both battery cables together); null for a limit of the caller's"
)


def judge_path(
    limit_v: Numbers,
    needed_v: Numbers,
    drop_v: Numbers,
    *,
    is_for_both_windings: Flags,
    is_practice: Flags = False,
) -> Judged:
    """Judge a drop under the conditions of its limit.

    Parameters
    ----------
    limit_v, needed_v, drop_v : float or ndarray
        What the path may drop, what the load needs (NaN where it is not known), and the drop in the
        phase and at the temperature that the limit speaks of. [V]
    is_for_both_windings, is_practice : bool or ndarray of bool
        Whether the limit is that of a starter's control circuit; and a rule of thumb, which a
        little more is no fault by.
    """
    judged = stays_within(drop_v, limit_v)
    # One manual's rule of thumb: where it is known what the solenoid needs, that decides.
    eased = is_for_both_windings & given(needed_v)
    eased = (eased | (is_practice & (drop_v <= ABOUT_MULTIPLE * limit_v))) & (
        judged.verdict == FAIL
    )
    verdict = pick(eased, MARGINAL, judged.verdict)
    return asked_if(given(drop_v), judged._replace(verdict=verdict))


def judge_need(asked: DropLimit, load_v: Numbers, *, decides: Flags = False) -> Checked:
    """Judge whether a load gets the voltage that it needs; `decides` where no limit does that."""
    judged = reaches(load_v, asked.needed_v)
    is_open = decides & negate(given(asked.needed_v))
    judged = judged._replace(verdict=pick(is_open, UNKNOWN, judged.verdict))
    asked_for = asked_if(given(asked.needed_v) | is_open, judged)
    return Checked("load_voltage", asked_for, "V", GIVEN_NEED)


def judge_supply(asked: DropLimit) -> Checked:
    """Judge whether there is enough at the start of the path: else no wire is to blame."""
    judged = reaches(asked.supply_v, asked.needed_v)
    asked_for = asked_if(judged.verdict == FAIL, judged)
    return Checked("supply", asked_for, "V", GIVEN_NEED)


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
def published_drops(circuit: str) -> dict[int, PathLimit]:
    """Look up what the paths of a kind of circuit may drop.

    Returns
    -------
    dict of int to PathLimit
        By nominal voltage. [V]
    """
    return {nominal: drop_limits()[circuit, nominal] for nominal in NOMINALS}


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
        By nominal voltage. [V]
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
