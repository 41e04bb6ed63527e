"""How a number is judged against its limit, in one row or in many, and rows without an answer."""

from collections.abc import Callable, Iterable
from typing import Any, Literal, NamedTuple, get_args

import numpy as np

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.rows import NOT_GIVEN, Numbers, pick, row_of

# Worst first: unknown is worse than marginal, as nothing is known of what was not given, and
# undecided, which flips within what is known, worse than both.
Verdict = Literal["fail", "undecided", "unknown", "marginal", "pass"]
VERDICTS_WORST_FIRST: tuple[Verdict, ...] = get_args(Verdict)

# By code in columns. There a check may have nothing to judge in some rows, of which a single
# answer says nothing.
VERDICTS: tuple[Verdict, ...] = ("pass", "marginal", "fail", "unknown", "undecided")
PASS, MARGINAL, FAIL, UNKNOWN, UNDECIDED, NOT_ASKED = range(6)
# A row's worst verdict is that of the highest severity.
SEVERITY = np.array([0, 1, 4, 2, 3, 0], dtype=np.int8)
BY_SEVERITY = np.array([PASS, MARGINAL, UNKNOWN, UNDECIDED, FAIL], dtype=np.int8)

# A check that passes by less than this share of its limit is marginal: meters, contacts and
# temperatures are seldom known better. Common practice, no source.
MARGINAL_SHARE = 0.10
# What exceeds a rating by less than this share exceeds it by nothing that a meter, or whoever rated
# it, can tell. Common practice.
NOTHING_SHARE = 0.001
# A contact that drops this many times what a sound one may, at most, is worn. Common practice.
WORN_MULTIPLE = 1.5
# What a sound key with its plugs drops at the most while a plunger moves, and its resistance; the
# most that both windings take. [V], [ohm], [A]. Common practice.
MOST_OF_A_KEY_V, KEY_OHM, BOTH_WINDINGS_A = 0.3, 0.01, 40.0


class Judged(NamedTuple):
    """One check of one row or of many.

    Attributes
    ----------
    value, limit : float or ndarray
        What is judged, and by what; NaN where it is not known.
    margin : float or ndarray
        Distance from the limit, positive on the good side.
    verdict : int or ndarray of int
        Code of the verdict.
    """

    value: Any
    limit: Any
    margin: Any
    verdict: Any


class Fault(NamedTuple):
    """Rows that have no answer, and why.

    Attributes
    ----------
    where : bool or ndarray of bool
        Which rows.
    kind : type of CalculationError
        What it is.
    path : tuple
        Leads to the field at fault.
    say : callable
        Makes the sentence from the values of a row.
    values : tuple of float or ndarray
        What it needs.
    """

    where: Any
    kind: type[CalculationError]
    path: Path
    say: Callable[..., str]
    values: tuple[Any, ...] = ()

    def error(self, row: int = 0) -> CalculationError:
        """Make the error of one row."""
        return self.kind(self.say(*(row_of(value, row) for value in self.values)), self.path)


def flatly(verdict: Any, value: Any = NOT_GIVEN, limit: Any = NOT_GIVEN) -> Judged:
    """Judge without a margin: what is told decides by being so, or nobody gave what would."""
    return Judged(value, limit, NOT_GIVEN, verdict)


def asked_if(where: Any, judged: Judged) -> Judged:
    """Keep a check to the rows that it is for."""
    if where is True:
        return judged
    return judged._replace(verdict=pick(where, judged.verdict, NOT_ASKED))


def verdict_code(margin: Any, scale: Any) -> Any:
    """Turn margins into codes of verdicts.

    Parameters
    ----------
    margin : float or ndarray
        Distance from the limit, positive on the good side.
    scale : float or ndarray
        The limit itself, or what else the margin is measured by.

    Returns
    -------
    int or ndarray of int
        Fail below zero, marginal within `MARGINAL_SHARE` of the scale, unknown for NaN, else pass.
    """
    bad = margin < 0
    small = (margin < MARGINAL_SHARE * abs(scale)) > bad
    return FAIL * bad + MARGINAL * small + UNKNOWN * (margin != margin)


def reaches(value: Numbers, limit: Numbers, scale: Numbers | None = None) -> Judged:
    """Judge whether a value reaches its limit.

    Parameters
    ----------
    value, limit : float or ndarray
        In the same unit.
    scale : float or ndarray, optional
        What a small margin is judged by, in place of the limit; 0 where no margin is needed.
    """
    margin = value - limit
    return Judged(value, limit, margin, verdict_code(margin, limit if scale is None else scale))


def surely_reaches(low: float, high: float, limit: float) -> Judged:
    """Judge whether what lies anywhere between two ends reaches its limit: all of it, or none."""
    if low < limit <= high:
        return Judged(low, limit, low - limit, UNDECIDED)
    return reaches(low if low >= limit else high, limit)


def stays_within(value: Numbers, limit: Numbers, scale: Numbers | None = None) -> Judged:
    """Judge whether a value stays within its limit; parameters as in `reaches`."""
    margin = limit - value
    return Judged(value, limit, margin, verdict_code(margin, limit if scale is None else scale))


def within_rating(current_a: Numbers, rating_a: Numbers) -> Judged:
    """Judge whether a current stays within a rating; what exceeds it by nothing is at it."""
    is_at_it = (current_a > rating_a) & (current_a <= (1.0 + NOTHING_SHARE) * rating_a)
    return stays_within(pick(is_at_it, rating_a, current_a), rating_a)


def stays_about(value: Numbers, limit: Numbers) -> Judged:
    """Judge whether a contact drops about what a sound one may: by half more is no fault yet."""
    judged = stays_within(value, limit)
    little = (judged.verdict == FAIL) & (value <= WORN_MULTIPLE * limit)
    return judged._replace(verdict=pick(little, MARGINAL, judged.verdict))


def in_a_moment_v(limit_v: Numbers, current_a: Numbers) -> Numbers:
    """What a contact may drop while a plunger moves: as much as a sound key, or its limit. [V]."""
    sound_v = KEY_OHM * current_a
    key_v = pick(sound_v < MOST_OF_A_KEY_V, sound_v, MOST_OF_A_KEY_V)
    found: Numbers = pick(limit_v < key_v, key_v, limit_v)
    return found


def refuse(faults: Iterable[Fault]) -> None:
    """Raise the first fault of one row, if it has any.

    Raises
    ------
    CalculationError
        Of the class of the fault.
    """
    for fault in faults:
        if fault.where:
            raise fault.error()
