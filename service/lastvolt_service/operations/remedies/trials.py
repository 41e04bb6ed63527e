"""Remedies: what a change to a request would bring, found by asking again with the change made."""

import math
from collections.abc import Callable, Iterable

from lastvolt_service.errors import Path
from lastvolt_service.operations.judging import VERDICTS_WORST_FIRST
from lastvolt_service.operations.remedies.asking import Asking, Change, Found, Put, Remedy, Said
from lastvolt_service.operations.results import Check, Result, relative_margin, worst
from lastvolt_service.rows import Numbers
from lastvolt_service.units import unit_of
from lastvolt_service.words import frame
from lastvolt_service.words.amounts import amount

MOST_TRIALS = 30
MOST_REMEDIES = 8
# A search for the value that just passes ends after so many trials.
SEARCH_TRIALS = 6
# What lessens a shortfall by less than this share, and cures nothing, is not worth telling.
LEAST_GAIN = 0.1
TINY = 1e-9
# What does not cure.
UNSURE = frozenset({"fail", "undecided"})


class Trials:
    """Trials for one failed check.

    Parameters
    ----------
    asking : Asking
        The request.
    decisive : Check
        The failed check that remedies are looked for.
    base : Found, optional
        A remedy that is made first.
    before : Check, optional
        That check without it; by default `decisive`.
    """

    def __init__(
        self,
        asking: Asking,
        decisive: Check,
        base: Found | None = None,
        before: Check | None = None,
    ) -> None:
        self.decisive = decisive
        self._asking = asking
        self._base = base
        self._before = before or decisive

    def ask(self, puts: Iterable[Put]) -> Result | None:
        """Ask again with changes; None where there is no answer, or no trial left."""
        first = () if self._base is None else self._base.puts
        found = self._asking.ask((*first, *puts))
        return None if found is None else found[1]

    def check_of(self, answer: Result) -> Check | None:
        """Find the decisive check in another answer."""
        return next((c for c in answer.checks if same_question(c, self.decisive)), None)

    def search(
        self, field: str, now: Numbers, good: Numbers, *, within: Path = (), code: str = ""
    ) -> bool:
        """Search the value of a field that just passes, between what it is and what may do."""
        bad, ends = float(now), float(good)
        if bad != bad or bad == ends:
            return False
        unit = unit_of(field)
        symbol = unit.symbol if unit else ""
        return self.just_passing(
            lambda value: Said(code or field, {"new": (value, symbol)}),
            lambda value: (Put((*within, field), value),),
            bad,
            ends,
        )

    def shortfall(self, answer: Result | None) -> float:
        """By how much the decisive check fails in another answer; infinite without one."""
        if answer is None:
            return math.inf
        check = self.check_of(answer)
        if check is None:
            return -math.inf
        if check.margin is None:
            return math.inf if check.verdict == "fail" else -math.inf
        # One that fails with a margin does so for another reason than its value.
        return max(-check.margin, TINY) if check.verdict == "fail" else -check.margin

    def offer(self, change: Said, puts: Iterable[Put], answer: Result | None = None) -> bool:
        """Keep a change if it betters the decisive check.

        Parameters
        ----------
        change : str or Said
            In words.
        puts : iterable of Put
            In fields.
        answer : Result, optional
            What it brings, if that is known already.

        Returns
        -------
        bool
            Whether the decisive check no longer fails.
        """
        puts = tuple(puts)
        if answer is None:
            answer = self.ask(puts)
        if answer is None or not self._betters(answer):
            return False
        code, told = change.code, self._asking.text(change)
        if self._base is not None:
            first = self._base.remedy
            code = f"{first.code}+{code}"
            told = frame().both_changes.format(first=first.change, then=told)
            puts = (*self._base.puts, *puts)
        remedy = self._remedy(code, told, puts, answer)
        failing = sum(check.verdict == "fail" for check in answer.checks)
        cured = remedy.check_verdict != "fail"
        known = self._asking.found
        rank = (int(not cured), failing, len(known))
        harmless = not makes_worse(self._asking.answer, answer, more_flows=change.repairs)
        known.setdefault(puts, Found(rank, puts, remedy, (cured or change.repairs) and harmless))
        return cured

    def _betters(self, answer: Result) -> bool:
        now, before = self.shortfall(answer), _shortfall(self.decisive)
        return now < (before * (1.0 - LEAST_GAIN) if math.isfinite(before) else before)

    def _remedy(self, code: str, change: str, puts: tuple[Put, ...], answer: Result) -> Remedy:
        check, before = self.check_of(answer), self._before
        verdict = worst(each.verdict for each in answer.checks)
        return Remedy(
            code=code,
            change=change,
            changes=tuple(Change(self._asking.pointer(put.path), put.value) for put in puts),
            verdict=verdict,
            check=before.name,
            check_code=before.code,
            check_part=before.part,
            check_case=before.case,
            check_way=before.way,
            check_detail=before.detail,
            check_verdict="pass" if check is None else check.verdict,
            value_before=before.value,
            value_after=None if check is None else check.value,
            limit_before=before.limit,
            limit_after=None if check is None else check.limit,
            unit=before.unit,
            message=frame().change_brings.format(
                change=change, brings=_brings(before, check), verdict=verdict
            ),
        )

    def first_that_cures(
        self, options: Iterable[tuple[Said, tuple[Put, ...]]], *, most: int
    ) -> bool:
        """Try options in order until one cures; of those that do not, the last that betters.

        Parameters
        ----------
        options : iterable of (str or Said, tuple of Put)
            Change in words and in fields, the least first.
        most : int
            Trials at most.

        Returns
        -------
        bool
            Whether one cures.
        """
        best: tuple[float, Said, tuple[Put, ...], Result] | None = None
        for (change, puts), _ in zip(options, range(most), strict=False):
            answer = self.ask(puts)
            if answer is None:
                continue
            short = self.shortfall(answer)
            check = self.check_of(answer)
            if check is None or check.verdict not in UNSURE:
                return self.offer(change, puts, answer)
            if best is None or short < best[0]:
                best = (short, change, puts, answer)
        if best is not None:
            self.offer(*best[1:])
        return False

    def just_passing(
        self,
        tell: Callable[[float], Said],
        make: Callable[[float], tuple[Put, ...]],
        bad: float,
        good: float,
    ) -> bool:
        """Search between a value that fails and one that may pass, for the one that just passes.

        Parameters
        ----------
        tell, make : callable
            The change in words and in fields, from the value.
        bad, good : float
            Ends of the search.

        Returns
        -------
        bool
            Whether one cures.
        """
        at_good = self.ask(make(good))
        short_good, short_bad = self.shortfall(at_good), _shortfall(self.decisive)
        if at_good is None or short_good > 0:
            return False
        found, answer = good, at_good
        for _ in range(SEARCH_TRIALS):
            straight = math.isfinite(short_good) and math.isfinite(short_bad)
            share = short_bad / (short_bad - short_good) if straight else 0.5
            # A little to the good side of the straight line, and never beyond the middle's half.
            middle = bad + (good - bad) * min(max(1.02 * share, 0.05), 0.95)
            middle = _rounded(middle, towards=good)
            if middle in (bad, good):
                break
            answer_here = self.ask(make(middle))
            short = self.shortfall(answer_here)
            if short <= 0 and answer_here is not None:
                good, short_good, found, answer = middle, short, middle, answer_here
            else:
                bad, short_bad = middle, short
        return self.offer(tell(found), make(found), answer)


def _rounded(value: float, *, towards: float) -> float:
    """To three digits, rounded to a side."""
    if value == 0 or not math.isfinite(value):
        return value
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 2)
    count = value / step
    whole = math.ceil(count) if towards > value else math.floor(count)
    return float(f"{whole * step:.12g}")


def _shortfall(failed: Check) -> float:
    return math.inf if failed.margin is None else max(-failed.margin, TINY)


def _brings(before: Check, after: Check | None) -> str:
    """What becomes of a check."""
    said = frame()
    what = said.check_of_part.format(check=before.name, part=before.part)
    what = what if before.part else before.name
    if after is None:
        return said.check_is_gone.format(check=what)
    parts = []
    for text, new, old in (
        (said.check_becomes, after.value, before.value),
        (said.limit_becomes, after.limit, before.limit),
    ):
        if new is not None:
            told = text.format(value=amount(new, before.unit))
            if old is not None and old != new:
                told += said.in_place_of.format(value=amount(old, before.unit))
            parts.append(told)
    return f"{what}: {', '.join(parts)}"


# Checks whose detail says why they fail, or what to do first, and not what they are of.
_SAYS_WHY = frozenset(
    {"path_drop", "conductor_temperature", "permissible_current", "duty_current", "fuse_window"}
)


def same_question(one: Check, other: Check) -> bool:
    """Say whether two answers ask the same of the same part."""
    return all(
        getattr(one, name) == getattr(other, name)
        for name in ("code", "part", "case", "way", "detail", "name")
        if name != "detail" or one.code not in _SAYS_WHY
    )


def makes_worse(before: Result, after: Result, *, more_flows: bool) -> bool:
    """Say whether a change mends one thing at the cost of another.

    A smaller margin that is still one is no harm, nor is a new part of which something is not
    known yet; a check that falls below a pass, or fails by more than before, is. Where a part is
    mended, `more_flows`, and what fails anyway may fail by more.
    """
    return any(
        _is_worse(next((old for old in before.checks if same_question(old, new)), None), new)
        or (not more_flows and _fails_by_more(before, new))
        for new in after.checks
        if new.verdict not in {"pass", "marginal"}
    )


def _is_worse(old: Check | None, new: Check) -> bool:
    if old is None:
        return new.verdict == "fail"
    return VERDICTS_WORST_FIRST.index(new.verdict) < VERDICTS_WORST_FIRST.index(old.verdict)


def _fails_by_more(before: Result, new: Check) -> bool:
    old = next((each for each in failed_checks(before) if same_question(each, new)), None)
    if old is None or old.margin is None or new.margin is None:
        return False
    return relative_margin(new) < relative_margin(old) - TINY


def failed_checks(answer: Result) -> tuple[Check, ...]:
    """List the failed checks, the one that is furthest beyond its limit first."""
    failed = [check for check in answer.checks if check.verdict == "fail"]
    return tuple(sorted(failed, key=relative_margin))
