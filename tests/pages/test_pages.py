"""The pages as they are sent: complete, from this origin alone, and escaped."""

import re
from html.parser import HTMLParser
from importlib.resources import files

import pytest
from flask.testing import FlaskClient

from lastvolt_service import tables
from lastvolt_service.api import OPERATIONS
from lastvolt_service.openapi import document
from lastvolt_service.pages.formulas import explain, html

PAGES = ("/", "/docs", "/docs/circuit-check")
CITATIONS = {
    source.citation
    for entry in files(tables).iterdir()
    if entry.name.endswith(".toml")
    for source in tables.sources(entry.name.removesuffix(".toml")).values()
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
            assert re.match(r"[#/](?!/)", attributes.get(name) or "/"), attributes


def test_scripts_and_style_name_no_other_origin() -> None:
    for entry in files("lastvolt_service.pages").joinpath("static").iterdir():
        text = entry.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?://|//[a-z]+\.|@import|\burl\(", text), entry.name


@pytest.mark.parametrize("path", [*PAGES, "/static/start.js", "/static/page.css"])
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
    for path, item in document()["paths"].items():
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


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
def test_formulas_and_sources_are_complete(client: FlaskClient, operation) -> None:
    explained = explain(operation.code)
    assert explained.formulas
    page = client.get(f"/docs/{operation.name}").text
    assert all(f"<h3><code>{formula.name}</code></h3>" in page for formula in explained.formulas)
    # Whatever table the worked example's answer cites is among the sources.
    example = operation.schema.example
    how = {"query_string": example} if operation.method == "GET" else {"json": example}
    answer = client.open(operation.path, method=operation.method, **how).text
    cited = {citation for citation in CITATIONS if citation in answer}
    told = {source.citation for table in explained.tables for source in table.sources}
    assert cited
    assert cited <= told


@pytest.mark.parametrize(
    ("operation", "texts"),
    [
        # As the physics has it in one line, and the range of validity and the source with it.
        ("wire-resistance", ["resistivity_ohm_mm2_per_m * lay_factor / area_mm2",
                             "from -60 to 250 degC", "ASTM B258"]),
        # The force formula stands in the docstring of the inverse that is used.
        ("solenoid-pull-in", ["F = mu_0 * (N*I)**2 * A / (2 * g**2)", "no saturation"]),
    ],
)  # fmt: skip
def test_a_formula_its_validity_and_its_source(
    client: FlaskClient, operation: str, texts: list[str]
) -> None:
    page = client.get(f"/docs/{operation}").text
    assert [text for text in texts if text not in page] == []


def test_texts_are_escaped() -> None:
    assert str(html("a < b & `c<d`")) == "a &lt; b &amp; <code>c&lt;d</code>"
