"""What is said of an answer is true of it: drawn requests, every sentence read back."""

import inspect
import json
import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from lastvolt_service.errors import CalculationError
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

from ..cost import is_spared
from ..explain.requests import POSTED, VARIED
from .meaning import CHECKS, HEADLINES
from .reading import Place, digits, read_back, unit_of

NAMES = sorted(catalogue())
SMALL_MARGIN = "The margin is small."
# Held against a rule of thumb, or the high end of an estimate: a little over it is marginal.
ABOUT = {
    "contact_drop", "contact_current", "steady_current", "fuse_load", "drop", "heat", "path_drop",
    "inrush",
}  # fmt: skip
# Told as "about so much is usual", where enough arrives: up to a quarter more is about that, and
# passes; what is more is marginal.
EASED, QUARTER_MORE = {("quick-answer", "path_drop")}, 1.25
# What no sentence may hold, whatever was asked.
SLIPS = ("None", "nan", "inf ", "{", "}", "  ", "..", " .", " ,")
SLOW = {
    "circuit-check": 12, "relay-retrofit": 5, "relay-choice": 5, "remedy-choice": 4,
    "wire-sizing": 15, "work-sheet": 3, "quick-answer": 4, "circuit-fit": 6,
    "meter-plan": 6, "gain-proof": 3,
}  # fmt: skip
IN_FULL = 20  # examples at least, of whatever the gate does not spare
NO_SHRINKING = (Phase.explicit, Phase.generate)  # a request that fails is as good as a smaller one
UNHURRIED = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


@cache
def answered(name: str, body: str) -> tuple[Any, Any]:
    """An answer with what was asked; once for all checks, which the gate gives the same draws."""
    arguments = POSTED[name].arguments(json.loads(body))
    return arguments, POSTED[name].compute(arguments)


def of_each_operation(check):
    """Try a check on answers to drawn requests of one operation, and on its example."""

    @pytest.mark.hypothesis
    @pytest.mark.parametrize("name", NAMES)
    def tried(name):
        seen = []

        def picked(*given: Any) -> dict[str, Any]:
            wanted = inspect.signature(check).parameters
            return {
                k: v for k, v in zip(("name", "asked", "answer"), given, strict=True) if k in wanted
            }

        most = SLOW.get(name, 40)
        if not is_spared(name):
            most = max(most, IN_FULL)

        @settings(max_examples=most, suppress_health_check=UNHURRIED, phases=NO_SHRINKING)
        @given(VARIED[name])
        def drawn(body: dict[str, Any]) -> None:
            try:
                arguments, answer = answered(name, json.dumps(body))
            except CalculationError:
                return
            seen.append(check(**picked(name, arguments, answer)))

        drawn()
        example = json.dumps(POSTED[name].schema.example)
        seen.append(check(**picked(name, *answered(name, example))))
        has_numbers = any("{" in str(said) for said in catalogue()[name].checks.values())
        assert sum(filter(None, seen)) or not has_numbers

    tried.__name__, tried.__doc__ = check.__name__, check.__doc__
    return tried


def told(words, check) -> tuple[str, Any]:
    """The message of a check without the remark on its margin, and its template."""
    of_verdict = {"pass": "passes", "fail": "fails", "marginal": "passes"}
    said = check.message
    template = getattr(words, of_verdict.get(check.verdict, check.verdict))
    if check.verdict == "marginal":
        template = words.marginal or words.passes
        if not words.marginal:
            assert said.endswith(SMALL_MARGIN)
            said = said.removesuffix(SMALL_MARGIN).strip()
    return said, template


@of_each_operation
def test_every_message_is_read_back(name, asked, answer):
    words = catalogue()[name]
    count = 0
    for check in answer.checks:
        assert check.message, check
        assert check.name == words.checks[check.code].name
        said, template = told(words.checks[check.code], check)
        count += read_back(said, template, Place(words, answer, asked).of_check(check))
    return count


@of_each_operation
def test_every_headline_and_fact_is_read_back(name, asked, answer):
    words = catalogue()[name]
    place = Place(words, answer, asked)
    if words.weighs:
        value, limit = (place.look(each) for each in words.weighs)
        place = replace(place, value=value, limit=limit, unit=unit_of(words.weighs[0]))
        short = None not in (value, limit) and value < limit
        headline = words.short if short else words.headline
    else:
        headline = words.headline
    verdict = say(words.verdict, Named(words, answer, asked))
    said = answer.headline.removeprefix(f"{verdict}: ") if verdict else answer.headline
    count = read_back(alone(said, answer, words), headline, place)
    plain = Place(words, answer, asked)
    for fact in (*words.steps, *words.facts):
        count += read_back(say(fact, Named(words, answer, asked)), fact, plain)
    return count + 1


BEGINS = {"fail": "What fails", "undecided": "Not decided", "unknown": "Not judged"}
# What burns, bursts or catches fire, or goes on cranking: no list may cut it.
HURTS = {
    "voltage of the source", "freezing of the electrolyte", "heat of the battery", "a short",
    "a wire without a fuse",
    "rating of the fuse", "wire protected by its fuse", "fuse protects the wire",
    "wire while its fuse opens", "fuse carries its load", "fault at the far end",
    "wire while the fuse opens", "rated voltage of the fuse", "breaking capacity",
    "heat of the wires", "heat of the wire", "heat of a wire", "conductor temperature",
    "permissible current", "current that the wire may carry", "current for the duty",
    "current that the wire may carry for the time", "current through a contact",
    "most that a charger gives", "a way past a fuse", "inrush through the relay's contact",
    "inrush",
    "current through the contact", "current of a poor joint", "wire once a contact is mended",
    "heat of the contact", "heat of a contact",
    "current through the relay's contact",
    "steady current",
    "rated voltage of the relay's contact", "rated voltage", "release of the plunger",
}  # fmt: skip


def alone(said, answer, words):
    """The sentence without what fails, is open or was not judged.

    That follows upon it, unless the words say what the sentence is about, and it is another check
    that fails: then it follows upon that, and the sentence comes last.
    """
    wrong = [check for check in answer.checks if check.verdict in {"fail", "marginal"}]
    told = getattr(answer, words.tells, None) if words.tells else None
    lead = next((each for each in wrong if words.about and said.startswith(each.message)), None)
    lines = [of_verdict(answer, verdict, lead or told) for verdict in BEGINS]
    lines = [f"{begins}: {names}." for begins, names in lines if names]
    if lead:
        before = " ".join([lead.message, *lines])
        assert said.startswith(before)
        return said.removeprefix(before).strip()
    after = " ".join(lines)
    assert said.endswith(after)
    return said.removesuffix(after).strip()


def of_verdict(answer, verdict, told):
    """What the first line must name of a verdict, each question once, and what it begins with.

    What hurts stands first and whole; three are named at least, and three parts of each.
    """
    begins = BEGINS[verdict]
    if told and told.verdict == verdict and verdict in {"fail", "undecided"}:
        begins = {"fail": "What else fails", "undecided": "Not decided either"}[verdict]
    parts, ways = {}, set()
    for check in answer.checks:
        of_told = told and (check.name, check.part) == (told.name, told.part)
        if check.verdict == verdict and not of_told:
            parts.setdefault(check.name, []).append(check.part)
            ways.add(check.way)
    if begins == "What fails" and ways == {"as_is"}:
        begins = "What fails as it is"
    first = [name for name in parts if name in HURTS]
    names = first + [name for name in parts if name not in HURTS]
    said = {name: name for name in names}
    if verdict != "unknown":
        for name in names:
            of = [part for part in dict.fromkeys(parts[name]) if part]
            said[name] += f" ({', '.join(cut(of, 3))})" if of else ""
    return begins, ", ".join(cut([said[name] for name in names], max(3, len(first))))


def cut(texts, most):
    """So many of them, and how many more there are."""
    return texts[:most] + ([f"{len(texts) - most} more"] if len(texts) > most else [])


def stands(phrase: str, text: str) -> bool:
    """Whether a phrase stands in a text, whatever its numbers are."""
    pattern = "[^,;:]+?".join(map(re.escape, re.split(r"\{[^{}]*\}", phrase)))
    return re.search(rf"{pattern}(?!\d)", text) is not None


@of_each_operation
def test_a_message_says_what_the_numbers_say(name, answer):
    """The words of success stand where the margin is on the good side, and only there."""
    count = 0
    for check in answer.checks:
        assert check.message or check.verdict == "pass", check
        means = CHECKS[name][check.code]
        if check.value is None or check.limit is None or not means.better:
            continue
        margin = check.value - check.limit if means.better == ">" else check.limit - check.value
        assert check.margin == pytest.approx(margin, abs=1e-12)
        eased = (name, check.code) in EASED and check.verdict == "pass" and margin < 0
        assert not eased or check.value <= QUARTER_MORE * check.limit
        if check.verdict not in {"unknown", "undecided"}:  # those two are more than their numbers
            about = check.code in ABOUT and check.verdict == "marginal" and margin < 0
            assert (check.verdict == "fail" or about or eased) == (margin < 0)
        right, wrong = (means.good, means.bad)[:: -1 if margin < 0 and not eased else 1]
        has_own = check.verdict == "marginal" and catalogue()[name].checks[check.code].marginal
        if not has_own and check.verdict != "unknown":  # what is not known is no success
            assert not right or stands(right, check.message), check
        assert not wrong or not stands(wrong, check.message), check
        count += 1
    return count or not any(means.better for means in CHECKS[name].values())


@of_each_operation
def test_a_headline_says_what_the_numbers_say(name, asked, answer):
    weighs = catalogue()[name].weighs
    if weighs is None or name not in HEADLINES:
        return 1
    value, limit = (Place(catalogue()[name], answer, asked).look(each) for each in weighs)
    if value is None or limit is None:
        return 1
    enough, short = HEADLINES[name]
    assert (enough in answer.headline) == (value >= limit), answer.headline
    assert (short in answer.headline) == (value < limit), answer.headline
    return 1


@of_each_operation
def test_a_verdict_of_unknown_names_what_was_not_judged(answer):
    assert (answer.verdict == "unknown") <= bool(answer.not_judged)
    for each in answer.not_judged:
        assert each.name in answer.headline or "more" in answer.headline
    assert all(each.message for each in answer.checks)
    return 1


@of_each_operation
def test_nothing_slips_through(answer):
    said = [answer.headline, *(check.message for check in answer.checks)]
    said += [each.message for each in getattr(answer, "reasons", ()) if hasattr(each, "message")]
    for text in said:
        assert not [slip for slip in SLIPS if slip in text], text
        assert text.endswith("."), text
    return len(said)


@given(st.floats(-1e6, 1e6), st.sampled_from([0, 1, 2, None]))
def test_numbers_are_rounded_as_decimals_are(value, decimals):
    """The rounding of these tests against Python's own, which the service uses."""
    number = float(digits(value, decimals))
    step = 10.0**-decimals if decimals is not None else max(abs(value) / 100, 1e-300)
    assert abs(number - value) <= step / 2 + 1e-9 * abs(value) or abs(value) >= 100
