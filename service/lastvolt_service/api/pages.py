"""Pages for people: forms to fill in, and the reference with the formulas behind it."""

import json
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from importlib.resources import files
from urllib.parse import urlencode

from flask import Blueprint, Response, request
from werkzeug.exceptions import NotFound

from lastvolt_service import pages
from lastvolt_service.api.document import document_json
from lastvolt_service.api.links import PARAMETER, unpack
from lastvolt_service.api.operations import Operation
from lastvolt_service.api.page import fresh, page
from lastvolt_service.api.start import mount_start
from lastvolt_service.operations.decision.quick_step import NAME as QUICK
from lastvolt_service.pages.formulas import Explained, explain, html
from lastvolt_service.pages.reference import Entry, entries, written
from lastvolt_service.tables.insulation import insulation_kinds
from lastvolt_service.words.amounts import DECIMALS, LAST_DECIMALS, SYMBOLS, TWO_DIGITS_BELOW

BY_SYMBOL = {SYMBOLS.get(unit, unit): decimals for unit, decimals in DECIMALS.items()}
FINER = {"below": TWO_DIGITS_BELOW, "decimals": LAST_DECIMALS}
MEDIA_TYPES = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml; charset=utf-8",
}
JSON = "application/json"
MARKS = {
    "READ": "read in a copy of the publication",
    "MEM": "from memory, unverified",
    "PRACTICE": "common practice, no publication",
}


def mount(operations: Sequence[Operation]) -> Blueprint:
    """Make the blueprint of the pages."""
    blueprint = Blueprint("pages", pages.__name__, template_folder="templates")
    by_name = {operation.name: operation for operation in operations}

    @cache
    def described() -> dict[str, Entry]:
        return entries(json.loads(document_json()))

    @cache
    def explained(name: str) -> Explained | None:
        known = by_name.get(name)
        return explain(name, known.schema.example, known.worked) if known else None

    mount_start(blueprint, by_name[QUICK])

    @blueprint.get("/circuit")
    def circuit() -> Response:
        return page("circuit.html", insulations=insulation_kinds(), decimals=BY_SYMBOL, finer=FINER)

    @blueprint.get("/static/<name>")
    def static(name: str) -> Response:
        if name not in _files():
            raise NotFound
        content_type = MEDIA_TYPES[name.rpartition(".")[2]]
        return fresh(Response(_files()[name], content_type=content_type))

    @blueprint.get("/docs")
    def docs() -> Response:
        topics: dict[str, list[Entry]] = {}
        for entry in described().values():
            topics.setdefault(entry.topic, []).append(entry)
        return page("docs.html", topics=topics)

    @blueprint.get("/docs/<name>")
    def operation(name: str) -> Response:
        if name not in described():
            raise NotFound
        entry, known = described()[name], by_name.get(name)
        linked = request.args.get(PARAMETER) if entry.body_media == JSON else None
        if linked is not None:
            entry = replace(entry, example=written(unpack(linked)))
        return page(
            "operation.html",
            entry=entry,
            description=html(entry.description),
            path=_path(entry, known),
            explained=explained(name),
            marks=MARKS,
        )

    return blueprint


def _path(entry: Entry, known: Operation | None) -> str:
    """Write the path with the query of the example, where the request is a query."""
    query = urlencode(known.schema.example) if known and entry.method == "GET" else ""
    return f"{entry.path}?{query}" if query else entry.example_path


@cache
def _files() -> dict[str, bytes]:
    """Scripts, style and icon: a few small files, read once."""
    folder = files(pages).joinpath("static")
    return {entry.name: entry.read_bytes() for entry in folder.iterdir()}
