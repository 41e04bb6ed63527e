"""Which tests see a fault: those that run its line, or use what it makes at import."""

import ast
import json
from collections import defaultdict
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from .faults import SERVICE, Fault

DEEP = 6  # how often a name made at import may lead to another


class Seen:
    """What each test runs, and how long it takes."""

    def __init__(self, file: Path, root: Path) -> None:
        self.root = root
        found = json.loads(file.read_text())
        self.seconds: dict[str, float] = found["seconds"]
        self.failed: list[str] = found["failed"]
        self.modules: list[str] = found["modules"]
        self.lines: dict[str, dict[int, set[str]]] = {
            path: {int(line): set(names) for line, names in lines.items()}
            for path, lines in found["seen"].items()
        }

    def by(self, fault: Fault) -> list[str]:
        """Tests that see a fault, the quickest first; those that fail anyway say nothing."""
        if fault.path.endswith(".csv"):
            names = self._of_table(Path(fault.path))
        elif "/words/en/" in fault.path:
            names = self._of_words(fault)
        elif fault.owner:
            field = self._field(fault)
            names = self._of_name(field, fault.path) if field else set()
            names = names or self._of_name(fault.owner, fault.path)
        else:
            names = self._between(fault.path, *fault.lines)
        names -= set(self.failed)
        return sorted(names, key=lambda name: self.seconds.get(name, 0.0))

    def _between(self, path: str, first: int, last: int) -> set[str]:
        lines = self.lines.get(path, {})
        return set().union(*(lines.get(line, ()) for line in range(first, last + 1)))

    @cached_property
    def _trees(self) -> dict[str, ast.Module]:
        return {
            str(file.relative_to(self.root)): ast.parse(file.read_text("utf-8"))
            for file in sorted((self.root / SERVICE).rglob("*.py"))
        }

    @cached_property
    def _uses(self) -> dict[str, list[tuple[str, int, int, str]]]:
        """Where a name is used: file, lines, and what the statement there makes at import."""
        found = defaultdict(list)
        for path, tree in self._trees.items():
            for statement in tree.body:
                for name, first, last, owner in _used(statement):
                    found[name].append((path, first, last, owner))
        return found

    def _field(self, fault: Fault) -> str:
        """The field of a class that a fault is in: it is seen where the field is read."""
        for statement in self._trees[fault.path].body:
            for each in statement.body if isinstance(statement, ast.ClassDef) else ():
                if isinstance(each, ast.AnnAssign) and fault.lines == (
                    each.lineno,
                    each.end_lineno,
                ):
                    return _made(each)
        return ""

    def _of_name(self, name: str, path: str) -> set[str]:
        found: set[str] = set()
        known = {name}
        for _ in range(DEEP):
            made = set()
            for each in known:
                for file, first, last, owner in self._uses.get(each, ()):
                    if each.startswith("_") and file != path:
                        continue
                    found |= self._between(file, first, last)
                    if owner:
                        made.add(owner)
            if found or not made - known:
                return found
            known |= made
        return found

    def _of_table(self, path: Path) -> set[str]:
        """Tests of tables, and those that read this one, by the functions that name it."""
        found = {name for name in self.seconds if name.startswith("tests/tables/")}
        for file, tree in self._trees.items():
            for statement in tree.body:
                names = {
                    node.value for node in ast.walk(statement) if isinstance(node, ast.Constant)
                }
                if path.stem in names or path.name in names:
                    found |= self._between(file, statement.lineno, statement.end_lineno or 0)
        return found

    def _of_words(self, fault: Fault) -> set[str]:
        """Tests of the operations that say it, and all that are about words."""
        found = {name for name in self.seconds if name.startswith("tests/words/")}
        said = {fault.owner}
        told = {}
        for statement in self._trees[fault.path].body:
            names = {node.id for node in ast.walk(statement) if isinstance(node, ast.Name)}
            owner = _made(statement)
            if names & said:
                said.add(owner)
            if owner == "WORDS":
                pairs = zip(statement.value.keys, statement.value.values, strict=True)
                told = {key.value: value.id for key, value in pairs}
        operations = {name for name, words in told.items() if words in said}
        if not operations:  # it is said of any answer
            operations = set(told)
            found |= {name for name in self.seconds if name.startswith("tests/reports/")}
        for file, tree in self._trees.items():
            nodes = list(ast.walk(tree))
            if any(getattr(node, "value", None) in operations for node in nodes) and any(
                isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Operation"
                for node in nodes
            ):
                for lines in self.lines.get(file, {}).values():
                    found |= lines
        return found


def _made(statement: ast.stmt) -> str:
    """What a statement of a module makes: a class, a function, or the first of its names."""
    found = getattr(statement, "name", "")
    for target in getattr(statement, "targets", [getattr(statement, "target", None)]):
        for node in ast.walk(target) if target is not None else ():
            found = found or getattr(node, "id", "")
    return found


def _used(statement: ast.stmt) -> Iterator[tuple[str, int, int, str]]:
    """Names that a statement of a module uses, with the lines whose tests see them."""
    if isinstance(statement, ast.FunctionDef):
        yield from _in_function(statement)
        return
    owner = _made(statement)
    for node in ast.walk(statement):
        if isinstance(node, ast.FunctionDef):
            yield from _in_function(node)
        for name in _names(node):
            yield name, node.lineno, node.lineno, owner


def _in_function(function: ast.FunctionDef) -> Iterator[tuple[str, int, int, str]]:
    inside = {id(node) for statement in function.body for node in ast.walk(statement)}
    for node in ast.walk(function):
        for name in _names(node):
            if id(node) in inside:
                yield name, node.lineno, node.lineno, ""
            else:  # a default, a decorator or what it takes: all of the function is about it
                yield name, function.body[0].lineno, function.end_lineno or 0, ""
    # Its law and its defaults are about all of it, whoever calls it by whatever way.
    yield function.name, function.body[0].lineno, function.end_lineno or 0, ""


def _names(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
        yield node.id
    elif isinstance(node, ast.Attribute):
        yield node.attr
    elif isinstance(node, ast.keyword):
        return
