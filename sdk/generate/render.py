"""The files of `lastvolt._generated`: templates filled, imports sorted, lines laid by ruff."""

import subprocess
import sys
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generate.kinds import Field, Kind, Kinds
from generate.names import camel
from generate.sentences import Schema

_COLUMNS = 100
_LINES = "application/x-ndjson"
_RUFF_CONFIG = Path(__file__).parents[2] / "pyproject.toml"


def rendered(document: Schema) -> dict[str, str]:
    """Make the files of a document.

    Returns
    -------
    dict of str to str
        Text by path, as the formatter leaves it.

    Raises
    ------
    Unsupported
        If the document has what no rule covers.
    """
    kinds = Kinds(document)
    tags = {tag["name"]: tag.get("description", "") for tag in document.get("tags", ())}
    modules = {name: found for name, found in kinds.modules().items() if found}
    places = {kind.name: name for name, found in modules.items() for kind in found}
    files = {"__init__.py": _fill("package")}
    files["service.py"] = _fill("service", **_facts(document, kinds))
    files["types/__init__.py"] = _fill("types", modules=modules)
    for name, found in modules.items():
        imports = sorted(
            (places[used], used)
            for used in set().union(*(kind.uses for kind in found))
            if places[used] != name
        )
        files[f"types/{name}.py"] = _fill(
            "module", title=_title(name, tags), kinds=found, imports=imports
        )
    by_tag = {
        tag: [method for method in kinds.methods if method.operation.tag == tag]
        for tag in dict.fromkeys(method.operation.tag for method in kinds.methods)
    }
    for tag, methods in by_tag.items():
        title = tags.get(tag) or f"{camel(tag)}."
        files[f"methods/{tag}.py"] = _fill("methods", tag=tag, title=title, methods=methods)
    files["methods/__init__.py"] = _fill("operations", tags=list(by_tag))
    return _formatted(files)


def _title(module: str, tags: dict[str, str]) -> str:
    if module == "common":
        return "Types that several topics share."
    tag = module.removesuffix("_answers")
    if tag in tags:
        kind = "Answers" if tag != module else "Types"
        return f"{kind} that several operations share. {tags[tag]}".strip()
    return f"Types of `lastvolt.Client.{module}`."


def _facts(document: Schema, kinds: Kinds) -> dict[str, object]:
    """What the client must know of the service beside its operations."""
    media_types, drawn, lined = {}, [], []
    for path, methods in document["paths"].items():
        spec = methods.get("post", {})
        if "batch" in spec.get("tags", ()) and _LINES in spec["requestBody"]["content"]:
            lined.append(path.rpartition("/")[2])
        if "reports" in spec.get("tags", ()):
            form = path.rpartition(".")[2]
            media_types[form] = next(iter(spec["responses"]["200"]["content"]))
            if form == "svg":
                covered = (each for each in spec["parameters"] if each["name"] == "operation")
                drawn = next(covered)["schema"]["enum"]
    tables = [each.operation.path for each in kinds.methods if each.operation.verb == "get"]
    decimals, symbols = document.get("x-decimals", {}), document.get("x-symbols", {})
    check = document["components"]["schemas"].get("Check", {"properties": {}})
    verdicts = tuple(check["properties"].get("verdict", {}).get("enum", ()))
    return {
        "verdicts": verdicts,
        "tables": tables,
        "drawn": drawn,
        "lined": lined,
        "media_types": media_types,
        "decimals": decimals,
        "two_digits_below": document.get("x-two-digits-below", {}),
        "symbols": symbols,
    }


def _fill(template: str, **values: object) -> str:
    return _ENVIRONMENT.get_template(f"{template}.py.jinja").render(values)


def _docstring(
    texts: Sequence[str], indent: int, fields: Iterable[Field] = (), title: str = "Parameters"
) -> str:
    """Write a docstring, its first line not indented: paragraphs, then the fields listed."""
    first, *others = texts
    lines = _wrapped(f'"""{_escaped(first)}', indent + 3)  # the closing quotes may follow
    for text in others:
        lines += ["", *_wrapped(_escaped(text), indent)]
    listed = list(fields)
    lines += ["", title, "-" * len(title)] if listed else []
    for each in listed:
        optional = ", optional" if title == "Parameters" and not each.required else ""
        lines.append(f"{each.name} : {_escaped(each.hint.words)}{optional}")
        lines += [f"    {line}" for line in _wrapped(_escaped(each.meaning), indent + 4)]
    if len(lines) == 1:
        return f'{lines[0]} """' if lines[0].endswith('"') else f'{lines[0]}"""'
    return "\n".join(line and " " * indent + line for line in [*lines, '"""']).lstrip()


def _wrapped(text: str, used: int) -> list[str]:
    return textwrap.wrap(text, _COLUMNS - used, break_long_words=False, break_on_hyphens=False)


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"""', '\\"\\"\\"')


def _paragraphs(text: str) -> list[str]:
    """Part the first sentence from the rest."""
    first, stop, rest = text.partition(". ")
    return [f"{first}{stop.strip()}", rest] if rest else [text]


def _remark(text: str, indent: int) -> str:
    """Write a comment, its first line not indented."""
    return f"\n{' ' * indent}".join(f"# {line}" for line in _wrapped(text, indent + 2))


def _asked(each: Field) -> str:
    """Write the type of a key."""
    return each.hint.text() if each.required else f"NotRequired[{each.hint.text()}]"


def _assigned(each: Field) -> str:
    """Write what an attribute is set to: its default, and whether it stays out of the hash."""
    if each.required:
        return "" if each.hint.hashable else " = field(hash=False)"
    default = "()" if each.hint.words.startswith("tuple") else "None"
    return f" = {default}" if each.hint.hashable else f" = field(default={default}, hash=False)"


def _keyworded(kind: Kind) -> bool:
    """Tell whether a key is a word that Python keeps, so that no class can have it."""
    return kind.form == "TypedDict" and any(each.name != each.key for each in kind.fields)


def _formatted(files: dict[str, str]) -> dict[str, str]:
    """Take out the imports that nothing needs, sort the others, and lay out the lines."""
    with TemporaryDirectory() as folder:
        root = Path(folder) / "lastvolt" / "_generated"
        for path, text in files.items():
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_text(text, "utf-8")
        for command in (["check", "--fix", "--select", "F401,I"], ["format"]):
            how = ["--quiet", "--no-cache", "--config", str(_RUFF_CONFIG)]
            how += ["--config", 'lint.isort.known-first-party = ["lastvolt"]']
            subprocess.run(  # noqa: S603  our own formatter on our own files
                [sys.executable, "-m", "ruff", *command, *how, folder], check=True
            )
        return {path: (root / path).read_text("utf-8") for path in files}


_ENVIRONMENT = Environment(  # noqa: S701  it makes Python, not HTML
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_ENVIRONMENT.globals.update(docstring=_docstring, remark=_remark)
_ENVIRONMENT.filters.update(camel=camel, asked=_asked, assigned=_assigned, paragraphs=_paragraphs)
_ENVIRONMENT.tests.update(keyworded=_keyworded)
