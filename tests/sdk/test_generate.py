"""The generator on a document of oddities: what it makes is run, and checked by mypy."""

import copy
import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from mypy import api as mypy

from generate.names import Unsupported
from generate.render import rendered

SDK = Path(__file__).parents[2] / "sdk" / "lastvolt"
HINTS = "from typing import get_type_hints as hints, is_typeddict\nimport typing\n"


def ref(name: str) -> dict[str, Any]:
    return {"$ref": f"#/components/schemas/{name}"}


def thing(properties: dict[str, Any], *optional: str, description: str = "A thing.") -> Any:
    required = [name for name in properties if name not in optional]
    return {
        "type": "object", "description": description, "properties": properties,
        "required": required,
    }  # fmt: skip


def kinds(**names: str) -> dict[str, Any]:
    mapping = {kind: ref(name)["$ref"] for kind, name in names.items()}
    return {
        "oneOf": [ref(name) for name in names.values()],
        "discriminator": {"propertyName": "kind", "mapping": mapping},
    }


def bounded(low: float, high: float) -> dict[str, Any]:
    number = {"type": "number", "minimum": low, "maximum": high}
    ends = {"low": {**number, "description": "lower"}, "high": {**number, "description": "upper"}}
    return {
        "x-name": "Quantity", "x-unit": "mm",
        "oneOf": [number, {**thing(ends, description="within bounds"), "x-name": "Interval"}],
    }  # fmt: skip


TEXT = {"type": "string", "description": "some text"}
WORDS = {"type": "string", "enum": ["left", "right"], "description": "which side"}
CHECK = thing({"name": TEXT, "verdict": TEXT, "message": TEXT,
               "limit": {"type": ["number", "null"], "description": "limit"},
               "margin": {"type": ["number", "null"], "description": "margin"}})  # fmt: skip
SCHEMAS: dict[str, Any] = {
    "OddRequest": thing(
        {
            "wide_mm": {**bounded(0.5, 20), "description": "how wide", "default": 2.0},
            "gap_mm": {**bounded(1, 2), "description": "how far apart"},
            "from": {**TEXT, "description": 'a path such as "C:\\new" or """, never null'},
            "grid_v": {
                "type": "array",
                "minItems": 2,
                "maxItems": 2,
                "description": "voltages by row",
                "items": {"type": "array", "items": {"type": "number", "x-unit": "V"}},
            },
            "side": WORDS,
            "pieces": {"type": "array", "default": [], "description": "what it is made of",
                       "items": kinds(round="RoundPiece", flat="FlatPiece")},
            "count": {"type": "integer", "default": 3, "minimum": 1, "maximum": 9,
                      "description": "how many, when total_mm is given"},
            "note": {"type": ["string", "null"], "description": "may be left open"},
            "far_mm": {"type": "number", "x-unit": "mm", "minimum": 1e-06, "maximum": 1000000.0,
                       "description": "how far"},
        },
        "wide_mm", "pieces", "count", "note", "far_mm",
        description="An odd question. Give one of wide_mm, gap_mm.",
    ),
    "RoundPiece": thing({"kind": {"const": "round", "description": "round"}, "side": WORDS}),
    "FlatPiece": thing({"kind": {"const": "flat", "description": "flat"}, "import": TEXT},
                       "import"),
    "Odd": thing(
        {
            "checks": {"type": "array", "items": ref("Check"), "description": "all checks"},
            "basis": {"type": "array", "items": TEXT, "description": "what it rests on"},
            "cautions": {"type": "array", "items": TEXT, "description": "cautions"},
            "computed_by": {**ref("ComputedBy"), "description": "versions"},
            "from": {**TEXT, "description": "where it came from"},
            "loss_w": {"type": ["number", "null"], "x-unit": "W", "description": "null where none"},
            "tree": {**ref("Node"), "description": "parts of parts"},
            "shape": {**kinds(bent="Bent", straight="Straight"), "description": "its shape"},
            "grid": {"type": "array", "description": "a grid",
                     "items": {"type": "array", "items": {"type": "integer"}}},
            "by_name": {"type": "object", "description": "numbers by name",
                        "additionalProperties": {"type": "number"}},
            "again": {**ref("RoundPiece"), "description": "a part of a request"},
            "best": {"anyOf": [ref("Bent"), {"type": "null"}], "description": "null where none"},
            "hint": {**TEXT, "description": "only sometimes"},
        },
        "hint",
        description="An odd answer.",
    ),
    "Check": CHECK,
    "ComputedBy": thing({"service": TEXT, "tables": TEXT}),
    "Node": thing({"name": TEXT,
                   "below": {"type": "array", "items": ref("Node"), "description": "its parts"},
                   "twin": {"anyOf": [ref("Node"), {"type": "null"}], "description": "its twin"}}),
    "Bent": thing({"kind": {"const": "bent", "description": "bent"},
                   "radius_mm": {"type": "number", "x-unit": "mm", "description": "of the bend"}}),
    "Straight": thing({"kind": {"const": "straight", "description": "straight"}}),
    "Sizes": thing({"sizes": {"type": "array", "items": TEXT, "description": "names"}}),
}  # fmt: skip


def content(name: str) -> dict[str, Any]:
    return {"content": {"application/json": {"schema": ref(name)}}}


def document() -> dict[str, Any]:
    odd = {"operationId": "odd", "summary": "What is odd", "tags": ["oddities"],
           "description": "Odd, with gap_mm.", "requestBody": content("OddRequest"),
           "responses": {"200": content("Odd")}}  # fmt: skip
    sizes = {"operationId": "sizes", "summary": "All sizes", "tags": ["lists"],
             "responses": {"200": content("Sizes")}}  # fmt: skip
    picture = {"operationId": "report_svg", "tags": ["reports"],
               "parameters": [{"name": "operation", "schema": {"enum": ["odd"]}}],
               "responses": {"200": {"content": {"image/svg+xml": {}}}}}  # fmt: skip
    return copy.deepcopy({
        "tags": [{"name": "oddities", "description": "What is odd."}],
        "paths": {
            "/v1/odd": {"post": odd}, "/v1/sizes": {"get": sizes},
            "/v1/reports/{operation}.svg": {"post": picture},
        },
        "components": {"schemas": SCHEMAS},
        "x-decimals": {"V": 1},
    })  # fmt: skip


ANSWER: dict[str, Any] = {
    "checks": [], "basis": [], "cautions": ["odd"], "from": "here", "loss_w": None,
    "computed_by": {"service": "1", "tables": "2"},
    "tree": {"name": "a", "twin": None, "below": [{"name": "b", "below": [], "twin": None}]},
    "shape": {"kind": "straight"}, "grid": [[1, 2], []], "by_name": {"x": 1.5},
    "again": {"kind": "round", "side": "left"}, "best": None,
}  # fmt: skip


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with what the document of oddities makes of it."""
    folder = tmp_path_factory.mktemp("odd")
    skipped = shutil.ignore_patterns("_generated", "cli", "__pycache__")
    shutil.copytree(SDK, folder / "lastvolt", ignore=skipped)
    for path, text in rendered(document()).items():
        file = folder / "lastvolt" / "_generated" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, "utf-8")
    return folder


@pytest.fixture(scope="module")
def told(package: Path) -> Callable[[str], Any]:
    """Run lines of Python with that package, and give what they leave in `told`."""

    def run(program: str) -> Any:
        lines = (
            f"{HINTS}import json, lastvolt\nfrom lastvolt import types\n"
            f"answer = json.loads({json.dumps(ANSWER)!r})\n{program}\nprint(json.dumps(told))"
        )
        done = subprocess.run(
            [sys.executable, "-c", lines], cwd=package, env={"PYTHONPATH": str(package)},
            capture_output=True, text=True, check=False, timeout=60,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return run


def test_types_of_arguments(told: Callable[[str], Any]) -> None:
    shown = told(
        "found = hints(lastvolt.Client.odd)\n"
        "told = {name: str(hint).replace('lastvolt._generated.types.', '') "
        "for name, hint in found.items()}"
    )
    omit = "lastvolt.asking.Omit"
    number = "float | decimal.Decimal | fractions.Fraction | str"
    interval = f"{number} | odd.Interval"
    assert shown["gap_mm"] == interval
    assert shown["wide_mm"] == f"{interval} | {omit}"
    assert shown["grid_v"] == f"collections.abc.Sequence[collections.abc.Sequence[{number}]]"
    assert shown["note"] == f"str | None | {omit}"
    assert shown["side"] == "typing.Literal['left', 'right']"
    assert shown["count"] == f"int | {omit}"
    assert shown["from_"] == "<class 'str'>"


def test_names_that_python_keeps_are_sent_and_read_as_they_are(told: Callable[[str], Any]) -> None:
    found = told(
        "sent = []\n"
        "class Recording(lastvolt.Client):\n"
        "    def _request(self, operation, body):\n"
        "        sent.append([operation, body])\n"
        "        return answer, None\n"
        "grid = ((1,), [2])\n"
        "said = Recording('http://x').odd(from_='there', gap_mm=1, side='left', grid_v=grid)\n"
        "told = [sent, said.from_, said.to_dict() == answer]"
    )
    body = {"from": "there", "gap_mm": 1, "side": "left", "grid_v": [[1], [2]]}
    assert found == [[["odd", body]], "here", True]


def test_a_key_that_python_keeps(told: Callable[[str], Any]) -> None:
    assert told(
        "kind = types.FlatPiece\n"
        "keys = kind.__required_keys__, kind.__optional_keys__\n"
        "told = [is_typeddict(kind), *map(sorted, keys)]"
    ) == [True, ["kind"], ["import"]]


def test_answers_are_read_by_their_types(told: Callable[[str], Any]) -> None:
    assert told(
        "answer['later'] = 1\n"  # a field of a later version
        "answer['tree']['later'] = {}\n"
        "answer['shape'] = {'kind': 'bent', 'radius_mm': 3}\n"
        "odd = types.Odd.from_json(answer)\n"
        "told = [type(odd.tree.below[0]).__name__, type(odd.shape).__name__, odd.shape.radius_mm,"
        " odd.grid, odd.again['side'], odd.hint, odd.best, hash(odd) == hash(odd),"
        " isinstance(odd, types.Result), 'hint' in odd.to_dict(), 'later' in odd.to_dict()]"
    ) == [
        "Node",
        "Bent",
        3.0,
        [[1, 2], []],
        "left",
        None,
        None,
        True,
        True,
        False,
        False,
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ("answer['shape'] = {'kind': 'wavy'}", "shape: kind: 'wavy' is not 'straight'."),
        ("answer['tree']['below'] = [{'name': 1}]", "tree: below: name: 1 is no str."),
        ("del answer['from']", "from is missing."),
        ("answer['loss_w'] = 'much'", "loss_w: 'much' is no float."),
        ("answer['grid'] = [[1.5]]", "grid: 1.5 is no int."),
    ],
)
def test_what_does_not_fit_is_named(told: Callable[[str], Any], change: str, message: str) -> None:
    assert (
        told(
            f"{change}\ntry:\n    types.Odd.from_json(answer)\n"
            "except ValueError as error:\n    told = str(error)"
        )
        == message
    )


def test_what_is_told_of_arguments(told: Callable[[str], Any]) -> None:
    text = told("import inspect\ntold = inspect.getdoc(lastvolt.Client.odd)")
    assert text.startswith(
        "What is odd.\n\nOdd, with `gap_mm`.\n\nAn odd question. Give one of `wide_mm`, `gap_mm`."
    )
    told_of = [" ".join(part.split()) for part in text.partition("----------\n")[2].split("\n")]
    for argument, meaning in (
        ("gap_mm : Quantity", "How far apart. From 1 to 2. [mm]"),
        ("from_ : str", 'A path such as "C:\\new" or """, never None.'),
        ("grid_v : sequence of sequence of float or str",
         "Voltages by row. Exactly 2 of them. [V]"),
        ('side : {"left", "right"}', "Which side."),
        ("wide_mm : Quantity, optional", "How wide. From 0.5 to 20, by default 2. [mm]"),
        ("pieces : sequence of Piece, optional", "What it is made of. By default none."),
        ("count : int, optional", "How many, when `total_mm` is given. From 1 to 9, by default 3."),
        ("note : str or None, optional", "May be left open."),
        ("far_mm : float or str, optional", "How far. From 0.000001 to 1000000. [mm]"),
    ):  # fmt: skip
        assert told_of[told_of.index(argument) + 1] == meaning


def test_what_the_client_knows_of_the_service(told: Callable[[str], Any]) -> None:
    assert told(
        "from lastvolt._generated import service\n"
        "from lastvolt.display import number\n"
        "told = [list(service.TABLES), list(service.DRAWN), service.MEDIA_TYPES, number(1.26, 'V')]"
    ) == [["sizes"], ["odd"], {"svg": "image/svg+xml"}, "1.3 V"]


CALLER = """
from collections.abc import Sequence
from lastvolt import Client, types

def ask(client: Client, pieces: Sequence[types.Piece]) -> float | None:
    flat: types.FlatPiece = {"kind": "flat", "import": "x"}
    found = client.odd(
        gap_mm={"low": "1 mm", "high": 2}, from_="x", grid_v=[[1, "2 V"]], side="left",
        pieces=[*pieces, flat, {"kind": "round", "side": "right"}],
    )
    print(client.sizes().sizes, found.tree.below[0].twin, found.failing()[0].name)
    found.shape.radius_mm  # wrong: it may be straight
    client.odd(gap_mm=1, from_="x", grid_v=[1], side="left")  # wrong: no rows
    client.odd(gap_mm=1, from_="x", grid_v=[], side="top")  # wrong: no such side
    client.odd(gap_mm={"low": 1}, from_="x", grid_v=[], side="left")  # wrong: half an interval
    return found.shape.radius_mm if isinstance(found.shape, types.Bent) else found.loss_w
"""


def test_what_is_made_is_typed(package: Path) -> None:
    caller = package / "caller.py"
    caller.write_text(CALLER)
    config = package / "mypy.ini"
    config.write_text(f"[mypy]\nstrict = true\nmypy_path = {package}\n")
    report, trouble, _ = mypy.run(
        ["--config-file", str(config), "--no-error-summary", "--hide-error-context",
         "--cache-dir", str(package / "cache"), str(caller), str(package / "lastvolt")]
    )  # fmt: skip
    assert trouble == ""
    found = {line.partition(": error:")[0] for line in report.splitlines() if ": error:" in line}
    marked = {
        f"{caller}:{number}"
        for number, line in enumerate(CALLER.splitlines(), 1)
        if "# wrong" in line
    }
    assert found == marked, report


def change(path: str, value: Any) -> dict[str, Any]:
    """The document with something else at a path below its schemas."""
    changed = document()
    place = changed["components"]["schemas"]
    *parents, last = path.split("/")
    for part in parents:
        place = place[part]
    place[last] = value
    return changed


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        ("Odd/properties/hint", {"description": "of any type"}, "No type is given"),
        ("Odd/properties/hint", {"allOf": [ref("Bent")]}, "No type is given"),
        ("Odd/properties/hint", thing({"a": TEXT}), "An object needs a component or x-name"),
        ("Odd/properties/hint", ref("Nowhere"), "Nowhere is no object with properties"),
        ("Odd/properties/hint", {"$ref": "other.json#/Bent"}, "A component is needed here"),
        ("Odd/properties/what-else", TEXT, "'what-else' can be no name in Python"),
        ("Odd/properties/_mine", TEXT, "'_mine' can be no name in Python"),
        ("Odd/properties/late_", TEXT, "'late_' can be no name in Python"),
        ("Bent/properties/side", {**WORDS, "x-name": "Odd"}, "Odd would name two types"),
        ("Bent/properties/size", {**bounded(1, 2), "x-name": "Size"}, "Interval would name two"),
        ("Odd/properties/hint", {**kinds(a="Bent"), "x-name": "Check"}, "Check would name two"),
    ],
)
def test_what_no_rule_covers_is_refused(path: str, value: Any, message: str) -> None:
    with pytest.raises(Unsupported, match=message):
        rendered(change(path, value))


def test_a_list_that_recurs_gets_a_name_and_one_that_does_not_is_shown() -> None:
    words = {"type": "string", "enum": ["up", "down", "level"], "description": "which way"}
    once = rendered(change("Bent/properties/slope", words))["types/odd.py"]
    assert 'slope: Literal["up", "down", "level"]' in once
    twice = document()
    for name in ("Bent", "Straight"):
        twice["components"]["schemas"][name]["properties"]["slope"] = words
    assert 'Slope = Literal["up", "down", "level"]' in rendered(twice)["types/odd.py"]


def test_the_same_document_makes_the_same_files() -> None:
    assert rendered(document()) == rendered(document())
