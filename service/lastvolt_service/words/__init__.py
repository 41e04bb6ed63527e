"""Every sentence of the service, by language, operation and code.

Logic yields codes and numbers; what is said of them stands in a module a topic below the folder of
a language, and is put together here. No logic reads what comes out.
"""

from collections.abc import Container, Iterable, Mapping, Sequence
from functools import cache
from importlib import import_module
from string import Formatter
from typing import NamedTuple, Protocol

from lastvolt_service.words.amounts import (
    ROUNDINGS,
    amount,
    decimals_apart,
    decimals_shown,
    difference,
    rounded,
)
from lastvolt_service.words.catalogue import CheckWords, Frame, OperationWords, Text, Weigh, When
from lastvolt_service.words.named import Named

ENGLISH = "en"
# Of what does not pass, a first line names so many of each verdict, and all that can hurt someone;
# the answer lists all.
MOST_NAMED = 3
# A node or part may be called so; within a sentence it is then quoted: not "the lead from from".
# Cases are called on and off: those read well.
LITTLE = frozenset({"a", "and", "at", "by", "for", "from", "in", "of", "or", "out", "the", "to"})
# A verb right after a name, and the same after that of several: headlamps, glow plugs.
PLURAL = {"is": "are", "has": "have", "needs": "need", "gets": "get", "stays": "stay",
          "takes": "take", "works": "work", "carries": "carry", "keeps": "keep"}  # fmt: skip
UNSOUND = ("fail", "undecided", "unknown")
TOPICS = (
    "choice",
    "circuit_fit",
    "circuits",
    "decision",
    "fuses",
    "gain_proof",
    "meter",
    "meter_plan",
    "paths",
    "quick",
    "recording",
    "relays",
    "remedy_choice",
    "solenoids",
    "starting",
    "sources",
    "switches",
    "wires",
    "work_sheet",
)


class Opening(NamedTuple):
    """What stands first in an answer."""

    text: str
    lead: "Judged | None"  # the check whose own words it begins with


class Judged(Protocol):
    """What a check asks, in a few words, and how it came out."""

    @property
    def code(self) -> str:
        """Which check it is."""

    @property
    def name(self) -> str:
        """What is checked."""

    @property
    def part(self) -> str | None:
        """What the request calls what is checked."""

    @property
    def verdict(self) -> str:
        """How it came out."""

    @property
    def message(self) -> str:
        """What is said of it."""

    @property
    def way(self) -> str | None:
        """The circuit that it is checked in, where there are several."""

    @property
    def is_harmful(self) -> bool:
        """Whether what fails here can hurt someone."""

    @property
    def is_of_a_load(self) -> bool:
        """Whether it asks if a load gets enough, which all wiring is for."""


@cache
def catalogue(language: str = ENGLISH) -> Mapping[str, OperationWords]:
    """Give a language's words, by operation as in its path."""
    found: dict[str, OperationWords] = {}
    for topic in TOPICS:
        found |= import_module(f"{__name__}.{language}.{topic}").WORDS
    return found


@cache
def frame(language: str = ENGLISH) -> Frame:
    """Give what a language says round every answer."""
    found: Frame = import_module(f"{__name__}.{language}.frame").FRAME
    return found


@cache
def _pieces(template: str) -> tuple[tuple[str, str | None, str | None, str], ...]:
    return tuple(
        (text, name, spec, spec if spec and spec in ROUNDINGS else "")
        for text, name, spec, _ in Formatter().parse(template)
    )


@cache
def _sides(template: str) -> tuple[str, str] | None:
    """How a sentence that weighs value and limit rounds them; None where it does not weigh."""
    sides = {name: side for _, name, _, side in _pieces(template) if name in {"value", "limit"}}
    return (sides["value"], sides["limit"]) if len(sides) > 1 else None


def _decimals(template: str, named: Named) -> int | None:
    """Decimals that value and limit need so that the sentence shows which is the larger."""
    sides = _sides(template)
    if sides is None:
        return None
    (value, unit), (limit, _) = named.get("value"), named.get("limit")
    return None if value is None or limit is None else decimals_apart(value, limit, unit, sides)


def case_name(name: str) -> str:
    """Write the name of a case so that the words after it are not read as its own."""
    return f'"{name}"' if "," in name else name


def _sentence(template: str, named: Named, *, us: bool) -> str:
    written: list[str] = []
    last: object = None
    finer = _decimals(template, named)
    for text, name, spec, side in _pieces(template):
        written.append(_agreeing(text, last))
        if name is None:
            continue
        value, unit = named.get(name)
        last = value
        if value is None:
            return ""
        if name == "apart" and finer is not None:
            (one, unit), (other, _) = named.get("value"), named.get("limit")
            value = difference(one, other, unit, finer)
        if type(value) is not str:
            decimals = finer if name in {"value", "limit"} else None
            if decimals is None and not side and text.endswith("than "):  # not "than less than"
                decimals = decimals_shown(value, unit)
            size = abs(value) if spec == "size" else value
            if text.endswith("only ") and not float(rounded(size, unit)):
                size = 0.0  # as a meter shows it, and not "only less than"
            value = amount(size, unit, us=us, side=side, decimals=decimals)
        elif value in LITTLE and not text.endswith("["):
            value = f'"{value}"'
        elif name.endswith("case"):
            value = case_name(value)
        written.append(value)
    return "".join(written)


def _agreeing(text: str, name: object) -> str:
    """The words after a name, their verb in the plural where the name is: headlamps are off."""
    first, space, others = text[1:].partition(" ")
    words = name.split() if type(name) is str else []
    if first not in PLURAL or not words or not text.startswith(" "):
        return text
    head, *more = words
    one = head if set(more) & LITTLE else [head, *more][-1]  # a wire to the lamps is one
    several = one.endswith("s") and not one.endswith(("ss", "us", "is", "as", "ens"))
    return f" {PLURAL[first]}{space}{others}" if several else text


def say(text: Text, named: Named, *, us: bool = False) -> str:
    """Put numbers into sentences; one whose number is not there is left out."""
    if type(text) is str:
        return _sentence(text, named, us=us)
    said = []
    for each in text:
        if type(each) is str:
            said.append(_sentence(each, named, us=us))
        elif isinstance(each, Weigh):
            said.append(_weighed(each, named, us=us))
        elif isinstance(each, When) and each.holds(named.get(each.field)[0]):
            said.append(say(each.say, named, us=us))
    return " ".join(filter(None, said))


def _weighed(text: Weigh, named: Named, *, us: bool) -> str:
    (value, unit), (limit, _) = named.get(text.value), named.get(text.limit)
    if value is None or limit is None:
        return ""
    template = text.short if value < limit else text.enough
    return _sentence(template, named.of_check(value, limit, unit), us=us)


def message(words: CheckWords, verdict: str, named: Named, *, us: bool = False) -> str:
    """Say what a check came to."""
    if verdict == "pass":
        return say(words.passes, named, us=us)
    if verdict == "marginal":
        if words.marginal:
            return say(words.marginal, named, us=us)
        return f"{say(words.passes, named, us=us)} {frame().small_margin}"
    texts = {"fail": words.fails, "undecided": words.undecided, "unknown": words.unknown}
    return say(texts[verdict], named, us=us)


def unsure(words: CheckWords, named: Named, *, us: bool = False) -> str:
    """Say of a check that the bounds of an input decide, and which."""
    return say(words.within_bounds or (frame().unsure, frame().unsure_by), named, us=us)


def headline(words: OperationWords, named: Named, *, us: bool = False) -> str:
    """Say what an answer comes to, in one sentence that stands alone."""
    verdict = say(words.verdict, named, us=us)
    text = after_verdict(words, named, us=us)
    return f"{verdict}: {text}" if verdict else text


def first_line(sentence: str, checks: Iterable[Judged], told: Judged | None = None) -> str:
    """Add to the sentence that stands first what fails, what is open, and what was not judged.

    What can hurt someone comes first, and is never left out, and of what was not judged whether
    loads get enough. One check may be told by the sentence.
    """
    return " ".join([sentence, *_unsound(checks, told)])


def opening(
    words: OperationWords, named: Named, sentence: str, checks: Sequence[Judged]
) -> Opening:
    """Put together what stands first: the answer, what fails, what is open or was not judged.

    Where the words say which failures the sentence tells, what else fails comes before it: the
    worst in its own words, and what can hurt someone is worse.
    """
    if not words.about:
        told = named.get(words.tells)[0] if words.tells else None
        return Opening(first_line(sentence, checks, told), None)
    whens = (each for each in words.about if isinstance(each, When))
    in_case = {each.say for each in whens if each.holds(named.get(each.field)[0])}
    own = {*words.about, *in_case}
    worst = min(
        (check for check in checks if _is_bad(check, in_case)),
        key=lambda check: (not check.is_harmful, check.code not in own),
        default=None,
    )
    if worst is None or worst.code in own:
        return Opening(first_line(sentence, checks), None)
    return Opening(" ".join([worst.message, *_unsound(checks, worst), sentence]), worst)


def _is_bad(check: Judged, in_case: Container[Text]) -> bool:
    """Whether it fails, or nearly and the sentence warns of it, such as of a battery near ice."""
    nearly = check.verdict == "marginal" and check.is_harmful and check.code in in_case
    return nearly or check.verdict == "fail"


def _unsound(checks: Iterable[Judged], told: Judged | None = None) -> list[str]:
    """Sentences that name what fails, is open or was not judged, besides the one that is told."""
    said, found = frame(), {verdict: dict[str, list[Judged]]() for verdict in UNSOUND}
    for check in checks:
        is_told = told is not None and (check.name, check.part) == (told.name, told.part)
        if check.verdict in found and not is_told:
            found[check.verdict].setdefault(check.name, []).append(check)
    lines = []
    for verdict, by_name in found.items():
        names = sorted(by_name, key=lambda name: not _is_first(by_name[name][0]))
        if not names:
            continue
        most = max(MOST_NAMED, sum(each[0].is_harmful for each in by_name.values()))
        shown, more = [_with_parts(by_name[name]) for name in names[:most]], len(names) - most
        if more > 0:
            shown.append(said.more_sources.format(count=more))
        is_more = told is not None and told.verdict == verdict
        says = (said.first_line_else if is_more else said.first_line)[verdict]
        ways = {each.way for some in by_name.values() for each in some}
        if verdict == "fail" and ways == {"as_is"} and not is_more:
            says = said.fails_as_it_is
        lines.append(says.format(checks=", ".join(shown)))
    return lines


def _is_first(check: Judged) -> bool:
    return check.is_harmful or (check.verdict == "unknown" and check.is_of_a_load)


def _with_parts(checks: Sequence[Judged]) -> str:
    """Name what is checked, with its parts; of what was not judged the loads only."""
    name, said = checks[0].name, frame()
    parts = list(dict.fromkeys(check.part for check in checks if check.part))
    if not parts or (checks[0].verdict == "unknown" and not checks[0].is_of_a_load):
        return name
    shown, more = parts[:MOST_NAMED], len(parts) - MOST_NAMED
    if more > 0:
        shown.append(said.more_sources.format(count=more))
    return said.check_of_parts.format(check=name, parts=", ".join(shown))


def after_verdict(words: OperationWords, named: Named, *, us: bool) -> str:
    """Say the same, for those who say the verdict before it."""
    if words.weighs is None:
        return say(words.headline, named, us=us)
    (first, unit), (second, _) = map(named.get, words.weighs)
    known = first is not None and second is not None
    text = words.short if known and first < second else words.headline
    return say(text, named.of_check(first, second, unit), us=us)
