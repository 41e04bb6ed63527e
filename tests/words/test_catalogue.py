"""The catalogue fits the operations: a sentence a code, a number a name, and one sense."""

import ast
import re
from collections.abc import Iterator
from dataclasses import asdict, fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

import lastvolt_service
from lastvolt_service.fields import Field, Fields, Kinds, Many, Part
from lastvolt_service.operations.judging import Verdict
from lastvolt_service.words import ENGLISH, catalogue, frame
from lastvolt_service.words import en as language
from lastvolt_service.words.catalogue import OperationWords, Text, Weigh, When

from ..explain.requests import POSTED
from .meaning import (
    CHECKS,
    FRAME,
    HEADLINES,
    PHRASES,
    REASONS,
    REMEDIES,
    TO_THE_LETTER,
    VERDICTS,
    WEIGHED,
)

NAMES = sorted(catalogue())
PACKAGE = Path(lastvolt_service.__file__).parent
OF_CHECKS = {"value", "limit", "apart", "part", "case", "detail"}
PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


def sentences(text: Text) -> Iterator[str]:
    for each in (text,) if isinstance(text, str) else text:
        if isinstance(each, When):
            yield from sentences(each.say)
        elif isinstance(each, Weigh):
            yield from (each.enough, each.short)
        else:
            yield each


def asked_of(text: Text) -> Iterator[str]:
    """Names of the fields that decide what is said."""
    for each in (text,) if isinstance(text, str) else text:
        if isinstance(each, When):
            yield each.field
            yield from asked_of(each.say)
        elif isinstance(each, Weigh):
            yield from (each.value, each.limit)


def of_answers(words: OperationWords) -> Iterator[Text]:
    """Texts that stand outside of checks."""
    yield from (words.headline, words.short, words.verdict, *words.steps, *words.facts)


def of_check(said: Any) -> dict[str, Text]:
    kinds = ("passes", "fails", "unknown", "marginal", "undecided", "within_bounds")
    return {kind: getattr(said, kind) for kind in kinds}


def joined(text: Text) -> str:
    return " ".join(sentences(text))


@pytest.mark.parametrize("name", NAMES)
def test_no_sentence_speaks_of_a_code_that_is_nowhere(name: str) -> None:
    known = literals()
    words = catalogue()[name]
    codes = {*words.checks, *words.remedies, *words.reasons, *words.names}
    assert codes <= known, codes - known


@cache
def literals() -> set[str]:
    """Every text that stands by itself in operations and tables: codes are among them."""
    return (
        {
            node.value
            for folder in ("operations", "tables")
            for file in (PACKAGE / folder).rglob("*.py")
            for node in ast.walk(ast.parse(file.read_text("utf-8")))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        }
        | {name for each in POSTED.values() for name in each.schema.fields}
        | {
            cell
            for file in (PACKAGE / "tables").glob("*.csv")
            for cell in re.split(r"[,\n]", file.read_text("utf-8"))
        }
    )


def test_no_check_is_without_a_sentence() -> None:
    """Codes as they stand in the source; those that are made are met by drawn requests."""
    said = {code for words in catalogue().values() for code in words.checks}
    found = set()
    for file in (PACKAGE / "operations").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Checked":
                first = node.args[0] if node.args else None
                if isinstance(first, ast.Constant):
                    found.add(first.value)
    assert found
    assert found <= said, found - said


@pytest.mark.parametrize("name", NAMES)
def test_each_name_is_a_field(name: str) -> None:
    """A misspelt one would leave its sentence out, and nobody would notice."""
    words = catalogue()[name]
    operation = POSTED[name]
    answer = get_type_hints(type(operation).compute).get("return")
    shapes = (operation.result, request_of(name))
    texts = [(text, set()) for text in of_answers(words)]
    texts += [
        (text, OF_CHECKS | ({"measure"} if kind == "within_bounds" else set()))
        for said in words.checks.values()
        for kind, text in of_check(said).items()
    ]
    assert answer is None or shapes[0] is not None
    for text, own in texts:
        weighed = {"value", "limit", "apart"}
        for placeholder in (
            *(found for each in sentences(text) for found in PLACEHOLDER.findall(each)),
            *asked_of(text),
        ):
            plain = placeholder.partition(":")[0]
            assert plain in own | weighed or any(
                leads(shape, path_of(words, plain)) for shape in shapes
            ), (placeholder, text)


def path_of(words: OperationWords, name: str) -> list[str]:
    first, dot, rest = name.partition(".")
    return (words.short_names.get(first, first) + dot + rest).split(".")


def request_of(name: str) -> Any:
    return type(POSTED[name].arguments(POSTED[name].schema.example))


def leads(shape: Any, path: list[str]) -> bool:
    """Whether a path leads to a field."""
    if not path:
        return True
    key, rest = path[0], path[1:]
    if key == "count":
        return not rest
    if key.startswith("[") or key.lstrip("-").isdigit():
        return leads(shape, rest)
    if isinstance(shape, type) and issubclass(shape, Fields):
        field = shape.described.get(key)
        return field is not None and (
            not rest or any(leads(each, rest) for each in parts_of(field))
        )
    if is_dataclass(shape) and key in {field.name for field in fields(shape)}:
        hint = get_type_hints(shape)[key]
        return not rest or any(leads(kind, rest) for kind in classes_in(hint))
    return False


def parts_of(field: Field) -> Iterator[Any]:
    """What the objects of a field may be."""
    if isinstance(field, Many):
        yield from parts_of(field.item)
    elif isinstance(field, Part):
        yield field.fields
    elif isinstance(field, Kinds):
        yield from field.kinds.values()


def classes_in(hint: Any) -> Iterator[Any]:
    if isinstance(hint, type):
        yield hint
    for inner in get_args(hint):
        yield from classes_in(inner)


@pytest.mark.parametrize("name", NAMES)
def test_each_check_has_one_sense(name: str) -> None:
    """Against the table by hand: what promises success, what failure, and where numbers stand."""
    assert set(CHECKS[name]) == set(catalogue()[name].checks)
    for code, said in catalogue()[name].checks.items():
        means = CHECKS[name][code]
        passes, fails = joined(said.passes), joined(said.fails)
        for word, here, there in ((means.good, passes, fails), (means.bad, fails, passes)):
            if word:
                assert word in here, (name, code, word)
                assert word not in there, (name, code, word)
                assert word not in joined(said.unknown), (name, code, word)
            else:
                assert not here or code in {"suppression", "smallest_current"}, (name, code)
        assert "to spare" not in fails
        assert "short" not in passes
        for kind, text in of_check(said).items():
            for each in sentences(text):
                uncovered = not_covered(each, (*means.phrases, *PHRASES))
                assert not uncovered, (name, code, kind, uncovered, each)


def not_covered(sentence: str, phrases: tuple[str, ...]) -> set[str]:
    """Numbers and names in a sentence that stand in none of the phrases."""
    covered = {
        place
        for phrase in phrases
        if phrase in sentence  # first: more patterns than `re` keeps cost seconds a sentence
        for match in re.finditer(re.escape(phrase), sentence)
        for place in range(match.start(), match.end())
    }
    return {match[0] for match in PLACEHOLDER.finditer(sentence) if match.start() not in covered}


# Held against another number that stands beside it, and rounded as that is.
IN_PAIRS = {"value", "limit", "hot_hold_in_v", "derated_current_a", "rating_a"}
AT_MOST = re.compile(
    r"(?:\{([^{}]*)\} (?:at most|or less|or more))|(?:up to|may carry) \{([^{}]*)\}"
)


@pytest.mark.parametrize("name", NAMES)
def test_what_may_be_at_most_or_must_be_at_least_is_rounded_to_its_side(name: str) -> None:
    words = catalogue()[name]
    texts = [*of_answers(words), *words.remedies.values()]
    for check in words.checks.values():
        texts += of_check(check).values()
    for each in (one for text in texts for one in sentences(text)):
        if "and carries" in each:  # a pair
            continue
        for groups in AT_MOST.findall(each):
            field, _, side = "".join(groups).partition(":")
            if field not in IN_PAIRS and not field.endswith("size") and field not in OF_CHECKS:
                assert side in {"up", "down"}, each


@pytest.mark.parametrize("name", NAMES)
def test_each_number_stands_where_it_belongs(name: str) -> None:
    words = catalogue()[name]
    for text in (*of_answers(words), *words.reasons.values()):
        for each in sentences(text):
            assert not not_covered(each, PHRASES), each


def test_no_phrase_is_left_over() -> None:
    said = [
        each
        for words in catalogue().values()
        for text in (
            *of_answers(words),
            *words.reasons.values(),
            *(text for check in words.checks.values() for text in of_check(check).values()),
        )
        for each in sentences(text)
    ]
    for phrase in PHRASES:
        assert any(phrase in each for each in said), phrase


@pytest.mark.parametrize("name", NAMES)
def test_each_remedy_and_reason_says_its_own(name: str) -> None:
    words = catalogue()[name]
    assert set(words.remedies) == set(REMEDIES[name])
    for code, phrase in REMEDIES[name].items():
        assert phrase in words.remedies[code], code
        assert not not_covered(words.remedies[code], (phrase, "for {part}", "for {new}"))
    for code, text in words.reasons.items():
        assert REASONS[code] in joined(text), code


@pytest.mark.parametrize("name", NAMES)
def test_each_headline_has_one_sense(name: str) -> None:
    words = catalogue()[name]
    assert (words.weighs is not None) == (name in WEIGHED)
    assert words.weighs == WEIGHED.get(name)
    if name in HEADLINES:
        enough, short = HEADLINES[name]
        assert all(enough in each or "not known" in each for each in sentences(words.headline))
        assert short in joined(words.short)
        assert short not in joined(words.headline)
    for each in unnested(words.verdict):
        assert each.say == VERDICTS[str(each.value)]


def unnested(text: Any) -> Iterator[When]:
    """Every condition of a text that says something itself."""
    for each in text:
        assert isinstance(each, When)
        if isinstance(each.say, str):
            yield each
        else:
            yield from unnested(each.say)


@pytest.mark.parametrize("name", TO_THE_LETTER)
def test_what_would_turn_round_is_said_to_the_letter(name: str) -> None:
    said = [each for text in of_answers(catalogue()[name]) for each in sentences(text)]
    for phrase in TO_THE_LETTER[name]:
        assert any(phrase in each for each in said), phrase


def test_every_language_says_the_same() -> None:
    """Another language has the same operations, codes and names of numbers as English."""
    folders = sorted(
        path.name
        for path in Path(language.__file__).parents[1].iterdir()
        if (path / "__init__.py").exists()
    )
    assert ENGLISH in folders
    for folder in folders:
        assert shape(catalogue(folder)) == shape(catalogue(ENGLISH)), folder
        assert framed(folder) == framed(ENGLISH), folder


def test_each_verdict_has_its_words() -> None:
    assert frame().verdicts == FRAME
    assert set(FRAME) == set(get_args(Verdict))


def framed(language: str) -> Any:
    """What is said round an answer: its names, and the names of its numbers."""
    return {
        name: set(said) if isinstance(said, dict) else set(PLACEHOLDER.findall(said))
        for name, said in asdict(frame(language)).items()
    }


def shape(words: Any) -> Any:
    """Codes of a language, with the names of the numbers that each of its texts may carry."""
    return {
        name: {
            "checks": {code: sorted(set(numbers(said))) for code, said in each.checks.items()},
            "remedies": set(each.remedies),
            "reasons": set(each.reasons),
            "weighs": each.weighs,
            "told": each.told,
            "names": set(each.names),
        }
        for name, each in words.items()
    }


def numbers(said: Any) -> Iterator[str]:
    for text in of_check(said).values():
        for each in sentences(text):
            yield from PLACEHOLDER.findall(each)
