"""Faults as people make them: a comparison the wrong way round, a digit changed, two words swapped.

Each is a change of one place in one file. Texts for people are left alone but for those in
`words/`; so are the bounds of requests, which the published document holds.
"""

import ast
import builtins
import csv
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

SERVICE = "service/lastvolt_service"
# Of a sample, the share of each part; within it every fault is as likely as another.
SHARES = {"operations": 0.4, "words": 0.2, "physics": 0.25, "tables": 0.15}

FLIPPED = {
    "<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "==",
    "is": "is not", "is not": "is", "in": "not in", "not in": "in",
}  # fmt: skip
SWAPPED = {
    "+": "-", "-": "+", "*": "/", "/": "*", "//": "*", "%": "*", "**": "*", "&": "|", "|": "&",
    "and": "or", "or": "and",
}  # fmt: skip
NAMES = {
    "PASS": "FAIL", "FAIL": "PASS", "MARGINAL": "PASS", "UNKNOWN": "PASS", "NOT_ASKED": "PASS",
    "reaches": "stays_within", "stays_within": "reaches", "min": "max", "max": "min",
    "minimum": "maximum", "maximum": "minimum", "any": "all", "all": "any",
}  # fmt: skip
IN_LAWS = [(" + ", " - "), (" - ", " + "), (" * ", " / "), (" / ", " * "), ("**", "*")]
IN_WORDS = [
    (re.compile(r" not\b"), ""),
    (re.compile(r"to spare"), "short"), (re.compile(r"\} short\b"), "} to spare"),
    (re.compile(r"too much"), "to spare"), (re.compile(r"more than"), "less than"),
    (re.compile(r"up to"), "at least"), (re.compile(r"down to"), "up to"),
]  # fmt: skip
# Keywords that are let alone: bounds of a request, which the published document holds, and what
# makes no difference to an answer.
LET_ALONE = {"minimum", "maximum", "most", "least", "max_length", "strict", "maxsize"}


@dataclass(frozen=True, order=True)
class Fault:
    """One change of one file.

    `owner` is what the statement defines, where it stands outside of functions; `lines` are those
    of the statement.
    """

    path: str
    line: int
    start: int
    end: int
    new: str
    kind: str
    lines: tuple[int, int]
    owner: str = ""

    def applied(self, text: str) -> str:
        return text[: self.start] + self.new + text[self.end :]

    def told(self, text: str) -> tuple[str, str]:
        """The line that changes first, before and after."""
        changed = self.applied(text)
        lines = zip(text.splitlines(), changed.splitlines(), strict=False)
        return next(
            ((a.strip(), b.strip()) for a, b in lines if a != b), (text[self.start :].strip(), "")
        )


def faults(root: Path) -> dict[str, list[Fault]]:
    """All faults that can be put in, by part of the service."""
    found = {}
    for part in SHARES:
        folder = root / SERVICE / part
        files = sorted((*folder.rglob("*.py"), *folder.rglob("*.csv")))
        found[part] = [fault for file in files for fault in faults_of(file, root)]
    return found


def sample(found: dict[str, list[Fault]], number: int, seed: int) -> list[Fault]:
    """Draw some, so many of each part as its share is."""
    draw = random.Random(seed)
    return [
        fault
        for part, share in SHARES.items()
        for fault in draw.sample(found[part], min(len(found[part]), round(number * share)))
    ]


def faults_of(file: Path, root: Path, before: set[str] | None = None) -> list[Fault]:
    """Faults of one file: all, or those whose first line that changes is one of `before`."""
    path, text = str(file.relative_to(root)), file.read_text("utf-8")
    if file.suffix == ".csv":
        found = _in_table(path, text)
        return [fault for fault in found if before is None or fault.told(text)[0] in before]
    return sorted(_Finder(path, text, before).found)


def _in_table(path: str, text: str) -> Iterator[Fault]:
    """One digit of a number, drawn from it alone so that a table that grows keeps its faults."""
    offset = 0
    for place, line in enumerate(text.splitlines(keepends=True)):
        column = 0
        for cell in next(csv.reader([line])) if place else ():
            at = line.index(cell, column)
            column = at + len(cell)
            if re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", cell):
                draw = random.Random(f"{path} {line} {at}")
                digits = [i for i, character in enumerate(cell) if character.isdigit()]
                first = next((i for i in digits if cell[i] != "0"), digits[0])
                # One of the first three that count: more is a matter of rounding.
                chosen = draw.choice([i for i in digits if i >= first][:3])
                digit = str((int(cell[chosen]) + draw.randint(1, 9)) % 10)
                start = offset + at + chosen
                yield Fault(path, place + 1, start, start + 1, digit, "digit", (place + 1,) * 2)
        offset += len(line)


class _Finder(ast.NodeVisitor):
    def __init__(self, path: str, text: str, before: set[str] | None) -> None:
        self.path, self.text, self.before = path, text, before
        self.starts = [0]
        for line in text.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))
        self.rows = text.splitlines()
        self.found: list[Fault] = []
        self.statement: tuple[int, int] = (1, 1)
        self.owner = ""
        self.depth = 0  # of functions
        self.words = "/words/en/" in path
        self.visit(ast.parse(text))

    # Places in the text.

    def at(self, line: int, column: int) -> int:
        """Columns of the tree count bytes."""
        row = self.rows[line - 1].encode()[:column].decode()
        return self.starts[line - 1] + len(row)

    def start(self, node: ast.expr) -> int:
        return self.at(node.lineno, node.col_offset)

    def end(self, node: ast.expr) -> int:
        return self.at(node.end_lineno or 0, node.end_col_offset or 0)

    def put(self, start: int, end: int, new: str, kind: str) -> None:
        if self.text[start:end] == new:
            return
        line = self.text.count("\n", 0, start) + 1
        owner = "" if self.depth else self.owner
        fault = Fault(self.path, line, start, end, new, kind, self.statement, owner)
        if self.before is not None and fault.told(self.text)[0] not in self.before:
            return  # before a whole file is parsed for it
        try:
            ast.parse(fault.applied(self.text))
        except SyntaxError:
            return
        self.found.append(fault)

    def replace(self, node: ast.expr, new: str, kind: str) -> None:
        self.put(self.start(node), self.end(node), new, kind)

    def segment(self, node: ast.expr) -> str:
        return self.text[self.start(node) : self.end(node)]

    def operator(self, left: ast.expr, right: ast.expr, table: dict[str, str], kind: str) -> None:
        """Put another operator between two operands."""
        start, end = self.end(left), self.start(right)
        pattern = r"(?<![\w])(is\s+not|not\s+in|is|in|and|or)(?!\w)|[<>=!]=|\*\*|//|[-+*/%&|<>]"
        match = re.search(pattern, self.text[start:end])
        if match and (symbol := " ".join(match[0].split())) in table:
            self.put(start + match.start(), start + match.end(), table[symbol], kind)

    # What is visited.

    def visit(self, node: ast.AST) -> None:
        if isinstance(node, ast.stmt):
            outer = self.statement, self.owner
            has_body = hasattr(node, "body")
            header = node.body[0].lineno - 1 if has_body else node.end_lineno
            self.statement = (node.lineno, max(node.lineno, header or 0))
            if not self.depth and (not self.owner or not isinstance(node, ast.Expr)):
                self.owner = self.owner or _defined(node)
            super().visit(node)
            self.statement, self.owner = outer
        else:
            super().visit(node)

    def visit_Expr(self, node: ast.Expr) -> None:
        if not isinstance(node.value, ast.Constant):  # a docstring
            self.generic_visit(node)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        for decorator in node.decorator_list:
            self.law(decorator)
        for default in (*node.args.defaults, *filter(None, node.args.kw_defaults)):
            self.visit(default)
        self.depth += 1
        for statement in node.body:
            self.visit(statement)
        self.depth -= 1

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        for statement in node.body:
            self.visit(statement)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None and "ClassVar" not in ast.dump(node.annotation):
            self.visit(node.value)

    def visit_Raise(self, node: ast.Raise) -> None:
        """Its text is for people."""

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """A text for people."""

    def visit_Import(self, node: ast.Import) -> None:
        """Nothing."""

    def visit_ImportFrom(self, node: ast.ImportFrom) -> None:
        """Nothing."""

    def visit_arg(self, node: ast.arg) -> None:
        """An annotation at most."""

    def visit_Compare(self, node: ast.Compare) -> None:
        for left, right in pairwise((node.left, *node.comparators)):
            self.operator(left, right, FLIPPED, "comparison")
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        texts = (ast.JoinedStr, ast.List, ast.Tuple)
        if not any(
            isinstance(side, texts)
            or (isinstance(side, ast.Constant) and isinstance(side.value, str))
            for side in (node.left, node.right)
        ):
            self.operator(node.left, node.right, SWAPPED, "operator")
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        for left, right in pairwise(node.values):
            self.operator(left, right, SWAPPED, "and, or")
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.Not):
            self.replace(node, f"bool({self.segment(node.operand)})", "negation")
        elif isinstance(node.op, ast.USub):
            self.replace(node, self.segment(node.operand), "sign")
        self.generic_visit(node)

    def condition(self, test: ast.expr) -> None:
        self.replace(test, f"not ({self.segment(test)})", "condition")

    def visit_If(self, node: ast.If) -> None:
        self.condition(node.test)
        self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self.condition(node.test)
        self.generic_visit(node)

    def visit_While(self, node: ast.While) -> None:
        self.condition(node.test)
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        for test in node.ifs:
            self.condition(test)
        self.generic_visit(node)

    def visit_Name(self, node: ast.Name) -> None:
        new = NAMES.get(node.id, "")
        # One that the file does not know would be found by any test that comes along.
        known = new in vars(builtins) or re.search(rf"\b{new}\b", self.text)
        if new and known and isinstance(node.ctx, ast.Load):
            self.replace(node, new, "name")

    def visit_Attribute(self, node: ast.Attribute) -> None:
        if node.attr in NAMES:
            at = self.end(node) - len(node.attr)
            self.put(at, at + len(node.attr), NAMES[node.attr], "name")
        self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:
        value = node.value
        if isinstance(value, bool):
            self.replace(node, str(not value), "constant")
        elif isinstance(value, int):
            self.replace(node, str(value + 1), "constant")
        elif isinstance(value, float):
            self.replace(node, repr(value * 1.5 or 1.0), "constant")
        elif isinstance(value, str) and self.words and " " in value:
            self.sentence(node)

    def visit_Call(self, node: ast.Call) -> None:
        called = node.func.id if isinstance(node.func, ast.Name) else ""
        if called == "pick" and len(node.args) == 3:
            self.swap(node.args[1], node.args[2], "pick")
        if called == "negate" and len(node.args) == 1:
            self.replace(node, self.segment(node.args[0]), "negation")
        if called in {"CheckWords", "OperationWords"}:
            said = {keyword.arg: keyword.value for keyword in node.keywords}
            for one, other in (("passes", "fails"), ("passes", "unknown"), ("headline", "short")):
                if one in said and other in said:
                    self.swap(said[one], said[other], f"{one}, {other}")
            remedies = getattr(said.get("remedies"), "values", [])
            for left, right in pairwise(remedies):
                self.swap(left, right, "remedies")
        self.visit(node.func)
        for argument in node.args:
            self.visit(argument)
        for keyword in node.keywords:
            if keyword.arg not in LET_ALONE:
                self.visit(keyword.value)

    def swap(self, left: ast.expr, right: ast.expr, kind: str) -> None:
        between = self.text[self.end(left) : self.start(right)]
        new = self.segment(right) + between + self.segment(left)
        self.put(self.start(left), self.end(right), new, kind)

    def law(self, decorator: ast.expr) -> None:
        """Each operator of the formula that stands above a function."""
        if not isinstance(decorator, ast.Call) or getattr(decorator.func, "id", "") != "law":
            return
        text = decorator.args[0]
        start, said = self.start(text), self.segment(text)
        formulas = re.sub(r"#[^\n]*", lambda match: "#" * len(match[0]), said)
        for old, new in IN_LAWS:
            for match in re.finditer(re.escape(old), formulas):
                self.put(start + match.start(), start + match.end(), new, "law")

    def sentence(self, node: ast.Constant) -> None:
        start, said = self.start(node), self.segment(node)
        for pattern, new in IN_WORDS:
            for match in pattern.finditer(said):
                self.put(start + match.start(), start + match.end(), new, "sentence")
        names = list(re.finditer(r"\{[^{}]*\}", said))
        for one, other in pairwise(names):
            between = said[one.end() : other.start()]
            new = other[0] + between + one[0]
            self.put(start + one.start(), start + other.end(), new, "placeholders")
        if len(names) == 1 and names[0][0] in {"{value}", "{limit}"}:
            new = "{limit}" if names[0][0] == "{value}" else "{value}"
            self.put(start + names[0].start(), start + names[0].end(), new, "placeholders")


def _defined(node: ast.stmt) -> str:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return node.name
    targets = getattr(node, "targets", [getattr(node, "target", None)])
    names = (each for target in targets if target is not None for each in ast.walk(target))
    return next((each.id for each in names if isinstance(each, ast.Name)), "")
