"""Formulas and sources behind an operation, read from the code that computes it.

A page that is written from docstrings and tables cannot tell another story than the code does.
What an operation rests on is found by following the names that its code uses.
"""

import ast
import inspect
import re
import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import takewhile
from types import CodeType, FunctionType, ModuleType
from typing import Any

from markupsafe import Markup, escape

from lastvolt_service import physics, tables

_PACKAGE = physics.__name__.partition(".")[0]
_SECTION = re.compile(r"^([A-Z][A-Za-z ]+)\n-+\n", re.MULTILINE)
_CODE = re.compile(r"(``?)([^`]+)\1")
_ITEM = re.compile(r"^(\w[\w, ]*) : .*\n((?:[ ]{4}.*\n?)+)", re.MULTILINE)  # name : type, meaning
# A longer function is an algorithm; its notes tell what it solves.
MAX_LINES = 4
_MEMBERS = (FunctionType, property, staticmethod, classmethod)


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula as its function tells it; each text is safe HTML.

    Attributes
    ----------
    name : str
        Of the function.
    summary : str
        What it gives.
    equation : str
        The lines that compute it, where a few lines do; else empty.
    notes, references : list of markupsafe.Markup
        Paragraphs: the equation with its range of validity, and where it comes from.
    symbols : list of (str, markupsafe.Markup)
        Names and meanings, with units.
    """

    name: str
    summary: Markup
    equation: str
    notes: list[Markup]
    references: list[Markup]
    symbols: list[tuple[str, Markup]]


@dataclass(frozen=True, slots=True)
class Table:
    """One table of published data.

    Attributes
    ----------
    name, title : str
        Of the file, and what it holds.
    sources : list of Source
        Where its rows come from.
    """

    name: str
    title: str
    sources: list[tables.Source]


@dataclass(frozen=True, slots=True)
class Explained:
    """What an operation rests on.

    Attributes
    ----------
    formulas : list of Formula
    tables : list of Table
    """

    formulas: list[Formula]
    tables: list[Table]


@cache
def explain(function: Callable[..., Any]) -> Explained:
    """Collect what an operation rests on.

    Parameters
    ----------
    function : callable
        The operation.

    Returns
    -------
    Explained
    """
    used, texts = _reach(function)
    told = [formula(each) for each in used if each.__module__.startswith(physics.__name__)]
    found = {name for name, given in _citations() if texts & given}
    return Explained(
        [each for each in told if each.equation or each.notes],
        [Table(name, _title(name), list(tables.sources(name).values())) for name in sorted(found)],
    )


def formula(function: FunctionType) -> Formula:
    """Read a formula from its function.

    Parameters
    ----------
    function : function
        Of `lastvolt_service.physics`.

    Returns
    -------
    Formula
    """
    head, *rest = _SECTION.split(inspect.getdoc(function) or "")
    sections = dict(zip(rest[::2], rest[1::2], strict=True))
    listed = sections.get("Parameters", "") + "\n" + sections.get("Returns", "")
    returned = ", ".join(name for name, _ in _ITEM.findall(sections.get("Returns", "")))
    return Formula(
        name=function.__name__,
        summary=html(head),
        equation=_lines(function, returned),
        notes=_paragraphs(sections.get("Notes", "")),
        references=_paragraphs(sections.get("References", "")),
        symbols=[(name, html(meaning)) for name, meaning in _ITEM.findall(listed)],
    )


def _lines(function: FunctionType, result: str) -> str:
    """Write the formula of a function that does little more than return one, else nothing."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    body = tree.body[0].body[1:]  # type: ignore[attr-defined]  # a function; its docstring is first
    if len(body) > MAX_LINES or not all(isinstance(line, ast.Assign | ast.Return) for line in body):
        return ""
    return re.sub("^return ", f"{result} = ", "\n".join(map(ast.unparse, body)), flags=re.MULTILINE)


def html(text: str) -> Markup:
    """Escape a text; what stands in backticks is code.

    Parameters
    ----------
    text : str
        From a docstring.

    Returns
    -------
    markupsafe.Markup
    """
    plain = str(escape(" ".join(text.split())))
    return Markup(_CODE.sub(r"<code>\2</code>", plain))  # noqa: S704  (escaped one line above)


def _paragraphs(text: str) -> list[Markup]:
    return [html(part) for part in re.split(r"\n\s*\n", text) if part.strip()]


def _reach(start: Callable[..., Any]) -> tuple[list[FunctionType], set[str]]:
    """Follow the names in the code of a function, as far as they stay in this service.

    Returns the public functions in the order they are met, and all texts that the code uses:
    names of tables among them, and citations that a module keeps in a constant.
    """
    seen: dict[int, Any] = {}
    texts: set[str] = set()
    waiting: list[Any] = [start]
    while waiting:
        item = inspect.unwrap(waiting.pop(0))
        if id(item) in seen or not getattr(item, "__module__", "").startswith(_PACKAGE):
            continue
        seen[id(item)] = item
        if isinstance(item, type):
            waiting += map(_function_of, filter(_is_member, vars(item).values()))
        elif isinstance(item, FunctionType):
            # A docstring may name the function that it inverts, where the validity is told.
            named = (name for _, name in _CODE.findall(item.__doc__ or ""))
            names = {*_texts(item.__code__), *named}
            # Outside of the tables a word such as "relays" need not be the name of one.
            if item.__module__.startswith(tables.__name__) or "citation" in names:
                texts |= names
            for value in _values(item, names):
                if isinstance(value, str):
                    texts.add(value)
                elif callable(value):
                    waiting.append(value)
    functions = [each for each in seen.values() if isinstance(each, FunctionType)]
    return [each for each in functions if re.fullmatch(r"[a-z]\w*", each.__qualname__)], texts


def _values(function: FunctionType, names: set[str]) -> Iterator[Any]:
    """Give what the names in a function's code stand for, members of modules and lists too."""
    for name in sorted(names & function.__globals__.keys()):
        value = function.__globals__[name]
        if isinstance(value, ModuleType):
            yield from (vars(value)[member] for member in sorted(names & vars(value).keys()))
        elif isinstance(value, dict):
            yield from value.values()
        elif isinstance(value, tuple | list):
            yield from value
        else:
            yield value


def _texts(code: CodeType) -> Iterator[str]:
    yield from code.co_names
    for constant in code.co_consts:
        if isinstance(constant, str):
            yield constant
        elif isinstance(constant, CodeType):
            yield from _texts(constant)


def _is_member(value: object) -> bool:
    return isinstance(value, _MEMBERS)


def _function_of(member: Any) -> Any:
    return member.fget if isinstance(member, property) else getattr(member, "__func__", member)


@cache
def _citations() -> tuple[tuple[str, frozenset[str]], ...]:
    """All tables, each with the texts by which code refers to it."""
    names = sorted(
        entry.name.removesuffix(".toml")
        for entry in files(tables).iterdir()
        if entry.name.endswith(".toml")
    )
    return tuple(
        (name, frozenset({name, *(source.citation for source in tables.sources(name).values())}))
        for name in names
    )


def _title(table: str) -> str:
    """Read the comment at the head of a table's sources."""
    lines = files(tables).joinpath(f"{table}.toml").read_text("utf-8").splitlines()
    return " ".join(line.lstrip("# ") for line in takewhile(lambda line: line[:1] == "#", lines))
