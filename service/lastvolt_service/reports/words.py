"""The frame of every answer in words: verdict, plan, facts, basis, caution, a line each."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from lastvolt_service.operations.judging import VERDICTS_WORST_FIRST
from lastvolt_service.operations.results import (
    DEFERENCE,
    Check,
    Given,
    Result,
    merge,
    worst,
)
from lastvolt_service.reports.plain import (
    LONGEST_FACT,
    LONGEST_LINE,
    disarm,
    escaped,
    shorten,
    tidy,
    with_short_names,
)
from lastvolt_service.tables import Unproven
from lastvolt_service.words import after_verdict, catalogue, frame, message, opening, say
from lastvolt_service.words.catalogue import OperationWords
from lastvolt_service.words.named import Named

MOST_FACTS = 3
MOST_SOURCES = 2
LONGEST_SOURCE = 140
LONGEST_CAUTION = 260

# Of checks that no sentence tells yet, those that came out like this are told.
_TOLD = ("fail", "undecided", "marginal")


@dataclass(frozen=True, slots=True)
class Told:
    """An answer in sentences, as plain text.

    Attributes
    ----------
    headline : str
        The answer in one sentence.
    steps : tuple of str
        What to do, in this order.
    facts : tuple of str
        What else to know, most important first.
    said : tuple of str
        Names of checks that these sentences already tell.
    verdict : str or None
        In place of the worst of the checks; empty for none.
    said_of : str or None
        Part whose checks of these names the sentences tell; by default all.
    """

    headline: str
    steps: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    verdict: str | None = None
    said_of: str | None = None


def words(operation: str, request: Any, answer: Result, *, markdown: bool, us: bool = False) -> str:
    """Put an answer into words.

    Parameters
    ----------
    operation : str
        As in the path: ``"voltage-drop"``.
    request : mapping
        As loaded.
    answer : Result
        What the operation returned.
    markdown : bool
        Whether it is written in Markdown, or plain.
    us : bool
        Whether feet and degrees Fahrenheit stand beside SI.

    Returns
    -------
    str
        Three to six lines, the verdict first, and a numbered one for each step of a plan.
    """
    known = catalogue()[operation]
    told, checks = _told(known, request, answer, us=us)
    opens = opening(known, Named(known, answer, request), told.headline, checks)
    verdict = told.verdict if told.verdict is not None else _verdict(answer.checks)
    rest = [check for check in checks if check is not opens.lead]
    about = frame()
    facts = (
        *(with_short_names(fact, request) for fact in _facts(told, rest)),
        about.basis.format(text=_basis(answer)),
        about.caution.format(text=_caution(answer)),
    )

    def line(text: str, longest: int = LONGEST_LINE) -> str:
        clean = disarm(shorten(tidy(text), longest))
        return escaped(clean) if markdown else clean

    def strong(text: str) -> str:
        return f"**{text}:** " if markdown else f"{text}: "

    listed = [
        (strong(line(verdict)) if verdict else "") + line(with_short_names(opens.text, request)),
        *([""] if markdown else []),
        *(
            f"{number}. {line(with_short_names(step, request))}"
            for number, step in enumerate(told.steps, 1)
        ),
        *(f"- {line(fact, LONGEST_FACT)}" for fact in facts),
    ]
    return "\n".join(listed) + "\n"


def _told(
    known: OperationWords, request: Any, answer: Any, *, us: bool
) -> tuple[Told, Sequence[Check]]:
    """What the catalogue says of an answer, and its checks as it says them."""
    named = Named(known, answer, request)
    steps, facts = ((say(each, named, us=us) for each in of) for of in (known.steps, known.facts))
    checks = [
        replace(
            check,
            message=message(
                known.checks[check.code],
                check.verdict,
                named.of_check(
                    check.value,
                    check.limit,
                    check.unit,
                    {"part": check.part, "case": check.case, "detail": check.detail},
                ),
                us=us,
            ),
        )
        for check in answer.checks
    ]
    told = Told(
        after_verdict(known, named, us=us),
        (*filter(None, steps),),
        (*filter(None, facts),),
        known.told,
        say(known.verdict, named, us=us) or None,
        said_of=named.get(known.told_part)[0] if known.told_part else None,
    )
    return told, checks


def _verdict(checks: Sequence[Check]) -> str:
    if not checks:
        return ""
    found = worst(check.verdict for check in checks)
    if found == "unknown" and any(check.verdict == "pass" for check in checks):
        return frame().as_far_as_judged
    return frame().verdicts[found]


def _facts(told: Told, checks: Sequence[Check]) -> list[str]:
    """What the operation says for itself, then what else is wrong."""
    bad = [
        check.message
        for verdict in _TOLD
        for check in checks
        if check.verdict == verdict and not _is_said(told, check)
    ]
    if not bad:
        return list(told.facts[:MOST_FACTS])
    own = told.facts[: MOST_FACTS - 1]
    shown = bad[: max(1, MOST_FACTS - len(own) - len(told.steps))]
    if more := len(bad) - len(shown):
        text = frame().one_more if more == 1 else frame().more.format(count=more)
        shown[-1] = f"{shown[-1]} {text}"
    return [*own, *shown]


def _is_said(told: Told, check: Check) -> bool:
    return told.said_of in (None, check.part) and check.code in told.said


def _basis(answer: Result) -> str:
    decisive = sorted(answer.checks, key=lambda item: VERDICTS_WORST_FIRST.index(item.verdict))
    first = [check.basis for check in decisive[:1] if not isinstance(check.basis, Given)]
    sources = merge(first, answer.basis)
    shown, rest = sources[:MOST_SOURCES], sources[MOST_SOURCES:]
    text = "; ".join(shorten(source, LONGEST_SOURCE) for source in shown)
    if rest:
        doubtful = any(isinstance(source, Unproven) for source in rest)
        others = frame().more_sources.format(count=len(rest))
        text = "; ".join((text, f"{others}, {frame().doubtful}" if doubtful else others))
    by = answer.computed_by
    return f"{text}. lastvolt {by.service}, tables {by.tables}."


def _caution(answer: Result) -> str:
    first = (shorten(text, LONGEST_CAUTION) for text in answer.cautions[:1])
    return " ".join(dict.fromkeys((*first, DEFERENCE)))
