"""The pages as they are sent: complete, from this origin alone, and escaped."""

import json
import re
from html.parser import HTMLParser
from importlib.resources import files

import pytest
from flask.testing import FlaskClient
from markupsafe import escape

from lastvolt_service import tables
from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.document import document_json
from lastvolt_service.laws import FUNCTIONS, LAWS, REQUEST
from lastvolt_service.operations.steps import ARITHMETIC
from lastvolt_service.pages.formulas import formula, html, requests
from lastvolt_service.units import unit_of

ANSWERED = "/?system_v=24&load=horn&distance_m=4&wear=new"
PAGES = ("/", ANSWERED, "/circuit", "/docs", "/docs/circuit-check")
BY_NAME = {operation.name: operation for operation in OPERATIONS}
CITATIONS = {
    source.citation: entry.name.removesuffix(".toml")
    for entry in files(tables).iterdir()
    if entry.name.endswith(".toml")
    for source in tables.sources(entry.name.removesuffix(".toml")).values()
}
# A first line may be that of several laws.
LINES: dict[tuple[str, str], set[str]] = {}
for each in LAWS.values():
    for line in each.lines:
        LINES.setdefault((line.meaning, each.source), set()).add(each.name)
NOT_SHOWN = {
    "plunger_force": "the inverse of ampere_turns_for_force, for tests to hold that against",
}


class Tags(HTMLParser):
    """All tags of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


@pytest.mark.parametrize("path", PAGES)
def test_nothing_comes_from_elsewhere_or_stands_inline(client: FlaskClient, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 200
    policy = response.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    tags = Tags(response.text).found
    assert {"link", "a"} <= {tag for tag, _ in tags}
    for tag, attributes in tags:
        assert tag not in {"style", "iframe", "object", "base"}
        assert tag != "script" or attributes.get("src")
        assert not [name for name in attributes if name == "style" or name.startswith("on")]
        for name in ("src", "href"):
            assert re.match(r"[#/?](?!/)", attributes.get(name) or "/"), attributes


def test_scripts_and_style_name_no_other_origin() -> None:
    for entry in files("lastvolt_service.pages").joinpath("static").iterdir():
        text = entry.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?://|//[a-z]+\.|@import|\burl\(", text), entry.name


@pytest.mark.parametrize("path", [*PAGES, "/static/circuit.js", "/static/page.css"])
def test_what_a_browser_has_is_not_sent_again(client: FlaskClient, path: str) -> None:
    tag = client.get(path).headers["ETag"]
    again = client.get(path, headers={"If-None-Match": tag})
    assert (again.status_code, again.data) == (304, b"")
    assert again.headers["Cache-Control"] == "no-cache"
    head = client.head(path)
    assert (head.status_code, head.data) == (200, b"")


@pytest.mark.parametrize("path", ["/docs/nothing", "/static/nothing.js", "/static/../pages.py"])
def test_what_is_not_there_is_a_problem(client: FlaskClient, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 404
    assert response.content_type == "application/problem+json"


def test_the_reference_has_every_operation_of_the_document(client: FlaskClient) -> None:
    page = client.get("/docs").text
    for path, item in json.loads(document_json())["paths"].items():
        for method, operation in item.items():
            name = operation["operationId"].replace("_", "-")
            assert f'href="/docs/{name}"' in page
            assert f"{method.upper()} {path}" in page


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
def test_every_field_is_told(client: FlaskClient, operation) -> None:
    page = client.get(f"/docs/{operation.name}").text
    for name, field in operation.schema.fields.items():
        assert f"<code>{name}</code>" in page
        # The description of a list or an object stands there too, whatever else is told of it.
        assert str(html(field.metadata["description"])) in page


def headings(page: str) -> set[str]:
    """Laws and tables that a page shows; no law has the name of a table."""
    return set(re.findall(r"<h3><code>(\w+)</code></h3>", page))


@pytest.mark.parametrize("name", BY_NAME)
def test_formulas_and_sources_are_complete(client: FlaskClient, name: str) -> None:
    page = client.get(f"/docs/{name}").text
    shown = headings(page)
    operation = BY_NAME[name]
    for body in requests(name, operation.schema.example):
        answer, steps = operation.worked(body)
        # Each step that follows a law's line by its own words has that law on the page.
        told = {(step.meaning, step.source) for step in steps if step.kind == "computed"}
        assert [each for each in told & LINES.keys() if not LINES[each] & shown] == []
        # Each principle that a step names stands there, as do its tables.
        for step in steps:
            if step.kind in {"computed", "solved"} and step.source not in {REQUEST, ARITHMETIC}:
                assert str(escape(step.source)) in page or step.source in CITATIONS, step.source
        cited = {table for citation, table in CITATIONS.items() if citation in answer}
        assert cited
        assert cited <= shown


def test_every_law_and_every_table_is_on_a_page(client: FlaskClient) -> None:
    shown = set().union(*(headings(client.get(f"/docs/{name}").text) for name in BY_NAME))
    assert LAWS.keys() - shown == NOT_SHOWN.keys()
    assert set(CITATIONS.values()) <= shown


@pytest.mark.parametrize("name", LAWS)
def test_a_law_is_told_with_all_its_symbols(name: str) -> None:
    law = LAWS[name]
    told = {symbol: (unit, meaning) for symbol, unit, meaning in formula(law).symbols}
    used = re.findall(r"(?<![\w.])[A-Za-z_]\w*", " ".join(line.formula for line in law.lines))
    assert (set(used) | {line.symbol for line in law.lines}) - FUNCTIONS.keys() == told.keys()
    for symbol, (unit, meaning) in told.items():
        assert meaning, symbol
        known = unit_of(symbol)
        assert unit == (known.symbol if known else unit)


@pytest.mark.parametrize(
    ("operation", "texts"),
    [
        # The law in one line, its symbols, and the range of validity and the source with it.
        ("wire-resistance", ["resistivity_ohm_mm2_per_m * lay_factor / area_mm2",
                             "</code> [mm2]", "from -60 to 250 degC", "ASTM B258"]),
        ("solenoid-pull-in", ["gap_mm * sqrt(2 * force_n / (magnetic_constant * area_mm2))",
                              "no saturation", "[N/A2]", "CODATA"]),
        # A network is told by what its steps name.
        ("circuit-check", ["loop currents of the whole network", "Kirchhoff&#39;s laws"]),
    ],
)  # fmt: skip
def test_a_formula_its_validity_and_its_source(
    client: FlaskClient, operation: str, texts: list[str]
) -> None:
    page = client.get(f"/docs/{operation}").text
    assert [text for text in texts if text not in page] == []


def test_texts_are_escaped() -> None:
    assert str(html("a < b & `c<d`")) == "a &lt; b &amp; <code>c&lt;d</code>"
