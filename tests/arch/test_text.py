"""No logic on text: what decides reads codes and numbers, and words only say it.

A sentence may then be put better, or into another language, and nothing else changes.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import lastvolt_service
from lastvolt_service.fields import Choice, Fields

PACKAGE = Path(lastvolt_service.__file__).parent
ROOMS = ("operations", "physics", "tables", "schemas", "api", "reports", "pages")
FILES = sorted(file for room in ROOMS for file in (PACKAGE / room).rglob("*.py"))
SCRIPTS = sorted((PACKAGE / "pages" / "static").glob("*.js"))
# Fields of answers that are for people. A part's name is the caller's own and may be compared; the
# name of a check is a sentence of ours.
FOR_PEOPLE = {"message", "headline", "change", "basis", "meaning"}
# What such a text is called where it stands by itself.
BY_ITSELF = FOR_PEOPLE | {"source", "sources", "citation", "sentence"}
OF_A_CHECK = {"check", "decisive", "failed", "judged", "worst"}
ASKS = {
    "startswith", "endswith", "partition", "rpartition", "split", "rsplit", "find", "index",
    "removeprefix", "removesuffix", "count", "match", "search", "fullmatch", "findall", "get",
}  # fmt: skip


def texts(node: ast.AST) -> Iterator[str]:
    """Texts for people that an expression reads."""
    for each in ast.walk(node):
        if isinstance(each, ast.Attribute):
            of_check = isinstance(each.value, ast.Name) and each.value.id in OF_A_CHECK
            if each.attr in FOR_PEOPLE or (each.attr == "name" and of_check):
                yield ast.unparse(each)


def sentences(node: ast.AST) -> Iterator[str]:
    """Sentences that stand in an expression; a word that a request may use is none."""
    for each in ast.walk(node):
        if not (isinstance(each, ast.Constant) and isinstance(each.value, str)):
            continue
        if " " in each.value.strip() and each.value not in words_of_requests():
            yield repr(each.value)


def words_of_requests() -> set[str]:
    """What fields that are one of some words may be, such as the name of a standard."""
    found: set[str] = set()
    waiting = [Fields]
    while waiting:
        kind = waiting.pop()
        waiting += kind.__subclasses__()
        for field in kind.described.values():
            if isinstance(field, Choice):
                found |= set(field.choices)
    return found


def asked(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and text of every question that is asked of a text."""
    for node in ast.walk(tree):
        found: list[str] = []
        if isinstance(node, ast.Compare) and not is_none(node):
            found = [*texts(node), *sentences(node)]
        elif isinstance(node, ast.Call) and getattr(node.func, "attr", "") in ASKS:
            found = [text for part in (node.func.value, *node.args) for text in texts(part)]
            found += [name for name in names(node.func.value, *node.args) if name in BY_ITSELF]
        elif isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Load):
            found = list(texts(node.slice))
        elif isinstance(node, ast.Match):
            found = [*texts(node.subject)]
        for text in found:
            yield node.lineno, text


def names(*nodes: ast.AST) -> Iterator[str]:
    """Names that stand by themselves, not as what something is looked up by."""
    for node in nodes:
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            yield from names(node.func.value)


def is_none(node: ast.Compare) -> bool:
    """Whether it only asks if there is one."""
    return all(isinstance(each, ast.Constant) and each.value is None for each in node.comparators)


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(PACKAGE)))
def test_nothing_is_decided_by_a_text(file: Path) -> None:
    assert not list(asked(ast.parse(file.read_text("utf-8"))))


ASKED = re.compile(
    r"\.(?:message|headline|change|basis)\b\s*(?:[=!]==?|\.(?:startsWith|endsWith|includes|match|"
    r"indexOf|search|split|replace)\b)|[=!]==?\s*\"[^\"]* [^\"]*\""
)


@pytest.mark.parametrize("file", SCRIPTS, ids=lambda file: file.name)
def test_no_script_decides_by_a_text(file: Path) -> None:
    assert not ASKED.findall(file.read_text("utf-8"))


@pytest.mark.parametrize(
    "line",
    [
        'check.name == "pick-up of the relay"',
        'check.name in {"pick-up"}',
        'answer.headline.startswith("With")',
        're.search("short", check.message)',
        "SAID[check.name]",
        'remedy.change.partition(" ")',
        'word == "two words"',
        "UNPROVEN.search(source)",
        'source.partition(": ")[0]',
        'source.lower().startswith("common")',
    ],
)
def test_a_question_of_a_text_is_seen(line: str) -> None:
    assert list(asked(ast.parse(line)))


@pytest.mark.parametrize(
    "line", ['check.code == "hold"', "part.name == load", "check.message is None", "a.value < 1"]
)
def test_other_questions_are_let_through(line: str) -> None:
    assert not list(asked(ast.parse(line)))
