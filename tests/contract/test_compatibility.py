"""Within /v1 the API only grows: nothing that the last release took or answered is gone.

``openapi/released.json`` is the document of the last release. `Comparison` walks it beside the
present one. What callers send must still be taken, with the same meaning; what they are sent must
still be what they were told. New paths, new optional fields of requests, wider bounds and new
fields of answers are no breaks. A word more in a closed list of an answer is one: generated clients
refuse words that they do not know.
"""

import copy
import json
import math
import re
from pathlib import Path

import pytest
from packaging.version import Version

from lastvolt_service.api.document import document_json

FOLDER = Path(__file__).parents[2] / "openapi"
RELEASED = json.loads((FOLDER / "released.json").read_text(encoding="utf-8"))
PRESENT = json.loads(document_json())
CHANGES = (FOLDER / "CHANGELOG.md").read_text(encoding="utf-8")

LEAST = ("minimum", "minLength", "minItems", "minProperties")
MOST = ("maximum", "maxLength", "maxItems", "maxProperties")


def at(document, ref):
    for part in ref.split("/")[1:]:
        document = document[part.replace("~1", "/").replace("~0", "~")]
    return document


class Comparison:
    """Two documents side by side: what the new one breaks of the old one."""

    def __init__(self, old, new):
        self.old, self.new = old, new
        self.known = {}

    def breaks(self):
        optional = [{} in document.get("security", [{}]) for document in (self.old, self.new)]
        found = ["now asks for a key"] if optional == [True, False] else []
        for path, methods in self.old["paths"].items():
            for method, old in methods.items():
                where = f"{method.upper()} {path}"
                new = self.new["paths"].get(path, {}).get(method)
                found += [f"{where}: gone"] if new is None else self.operation(where, old, new)
        return list(dict.fromkeys(found))

    def operation(self, where, old, new):
        if old["operationId"] != new["operationId"]:
            yield f"{where}: another operationId"
        yield from self.parameters(where, old.get("parameters", ()), new.get("parameters", ()))
        bodies = [part.get("requestBody", {}) for part in (old, new)]
        if bodies[1].get("required", False) > bodies[0].get("required", False):
            yield f"{where}: now needs a body"
        yield from self.content(f"{where} request", *bodies, sent=True)
        answers = [
            {status: answer for status, answer in part["responses"].items() if status < "300"}
            for part in (old, new)
        ]
        for status in set(answers[0]) ^ set(answers[1]):
            yield f"{where}: {status} is {'gone' if status in answers[0] else 'new'}"
        for status in set(answers[0]) & set(answers[1]):
            pair = (answer[status] for answer in answers)
            yield from self.content(f"{where} answer", *pair, sent=False)

    def parameters(self, where, old, new):
        olds, news = ({(each["in"], each["name"]): each for each in part} for part in (old, new))
        for key, parameter in olds.items():
            place = f"{where} {' '.join(key)}"
            if key not in news:
                yield f"{place}: no longer taken"
                continue
            if news[key].get("required", False) > parameter.get("required", False):
                yield f"{place}: now required"
            pair = (part.get("schema", {}) for part in (parameter, news[key]))
            yield from self.schema(place, *pair, sent=True)
        for key in set(news) - set(olds):
            if news[key].get("required", False):
                yield f"{where} {' '.join(key)}: now required"

    def content(self, where, old, new, *, sent):
        for kind, medium in old.get("content", {}).items():
            other = new.get("content", {}).get(kind)
            if other is None:
                yield f"{where}: no longer {kind}"
            else:
                pair = (part.get("schema", {}) for part in (medium, other))
                yield from self.schema(where, *pair, sent=sent)

    def schema(self, where, old, new, *, sent):
        """Compare schemas; `sent` tells those of requests from those of answers."""
        key = (json.dumps(old, sort_keys=True), json.dumps(new, sort_keys=True), sent)
        if key not in self.known:
            self.known[key] = []  # schemas may hold one another
            if "$ref" in old:
                where = old["$ref"].rpartition("/")[2]
            old = {**at(self.old, old["$ref"]), **old} if "$ref" in old else old
            new = {**at(self.new, new["$ref"]), **new} if "$ref" in new else new
            self.known[key] = list(self.resolved(where, old, new, sent=sent))
        return self.known[key]

    def resolved(self, where, old, new, *, sent):
        if old.get("x-unit") != new.get("x-unit"):
            yield f"{where}: another unit"
        if sent and old.get("default") != new.get("default"):
            yield f"{where}: another default"
        choices = [part.get("oneOf") or part.get("anyOf") for part in (old, new)]
        if any(choices):
            either = [found or [part] for found, part in zip(choices, (old, new), strict=True)]
            yield from self.choices(where, *either, sent=sent)
            return
        yield from values(where, old, new, sent=sent)
        yield from self.properties(where, old, new, sent=sent)
        for name in ("items", "propertyNames", "additionalProperties"):
            pair = [part.get(name, {}) for part in (old, new)]
            pair = [{} if part is True else part for part in pair]
            if False not in pair:
                yield from self.schema(f"{where}/{name}", *pair, sent=sent)
            elif pair.index(False) == sent and pair != [False, False]:
                yield f"{where}: {'closed' if sent else 'open'} now"

    def choices(self, where, old, new, *, sent):
        """What one side may say, the other must know."""
        said, known = (old, new) if sent else (new, old)
        for choice in said:
            pairs = [(choice, other) if sent else (other, choice) for other in known]
            alike = [pair for pair in pairs if "$ref" in choice and pair[0] == pair[1]]
            found = [self.schema(where, *pair, sent=sent) for pair in (alike or pairs)]
            if alike:
                yield from found[0]
            elif all(found):
                name = choice.get("$ref", json.dumps(choice)[:80]).rpartition("/")[2]
                yield f"{where}: {'no longer takes' if sent else 'may now be'} {name}"

    def properties(self, where, old, new, *, sent):
        olds, news = (part.get("properties", {}) for part in (old, new))
        required, now = (set(part.get("required", ())) for part in (old, new))
        for name in sorted(now - required if sent else required - now):
            yield f"{where}/{name}: {'now required' if sent else 'no longer sure to be there'}"
        for name, schema in olds.items():
            if name not in news:
                yield f"{where}/{name}: gone"
            else:
                yield from self.schema(f"{where}/{name}", schema, news[name], sent=sent)


def types(schema):
    found = schema.get("type", [])
    found = {found} if isinstance(found, str) else set(found)
    return found | ({"integer"} if "number" in found else set())


def values(where, old, new, *, sent):
    """All that the one side may say must lie within what the other side knows."""
    said, known = (old, new) if sent else (new, old)
    if types(known) and not (types(said) and types(said) <= types(known)):
        yield f"{where}: another type"
    words, expected = (part.get("enum") for part in (said, known))
    if expected is not None and not (words is not None and set(words) <= set(expected)):
        yield f"{where}: other words"
    if not sent and "enum" in old and not set(old["enum"]) <= set(new.get("enum", old["enum"])):
        yield f"{where}: a word is gone"
    for name in LEAST:
        if known.get(name, -math.inf) > said.get(name, -math.inf):
            yield f"{where}: {name} is narrower"
    for name in MOST:
        if known.get(name, math.inf) < said.get(name, math.inf):
            yield f"{where}: {name} is narrower"
    for name in ("pattern", "const", "format"):
        if name in known and known[name] != said.get(name):
            yield f"{where}: another {name}"


def test_nothing_of_the_last_release_is_broken():
    assert Comparison(RELEASED, PRESENT).breaks() == []


def test_every_change_is_told():
    """The change log has a section of a version since the last release, or of what is to come."""
    released, present = (Version(part["info"]["version"]) for part in (RELEASED, PRESENT))
    assert present >= released
    sections = re.split(r"^## ", CHANGES, flags=re.M)[1:]
    told = {}
    for section in sections:
        heading, _, text = section.partition("\n")
        (name,) = re.findall(r"^\[(Unreleased|\d+\.\d+\.\d+)\](?: - \d{4}-\d\d-\d\d)?$", heading)
        told[name] = re.findall(
            r"^### (Added|Changed|Deprecated|Removed|Fixed|Security)$", text, re.M
        )
    assert next(iter(told)) == "Unreleased"
    versions = [Version(name) for name in told if name != "Unreleased"]
    assert versions == sorted(versions, reverse=True)
    assert released in versions
    if PRESENT != RELEASED:
        assert told["Unreleased"] or max(versions) > released


SCHEMAS = "#/components/schemas"
ASKED = f"{SCHEMAS}/WireResistanceRequest"
ANSWER = f"{SCHEMAS}/WireResistance"
LENGTH = f"{ASKED}/properties/length_m"
SIZE = f"{ASKED}/properties/size"
VERDICT = f"{SCHEMAS}/Check/properties/verdict"
PATHS = "#/paths"
POST = f"{PATHS}/~1v1~1wire-resistance/post"
GET = f"{PATHS}/~1v1~1conductors/get"


def put(ref, key, value):
    def change(document):
        at(document, ref)[key] = value

    return change


def drop(ref, key):
    def change(document):
        del at(document, ref)[key]

    return change


def add(ref, value):
    def change(document):
        at(document, ref).append(value)

    return change


def remove(ref, value):
    def change(document):
        at(document, ref).remove(value)

    return change


SEGMENTS = f"{SCHEMAS}/VoltageDropRequest/properties/segments/items/oneOf"
BREAKING = {
    "path gone": drop(PATHS, "/v1/wire-resistance"),
    "method gone": drop(f"{PATHS}/~1v1~1wire-resistance", "post"),
    "other operationId": put(POST, "operationId", "resistance"),
    "key needed": put("#", "security", [{"key": []}]),
    "answer's media type gone": drop(f"{POST}/responses/200/content", "application/json"),
    "request's media type gone": drop(f"{POST}/requestBody/content", "application/json"),
    "other status": put(f"{POST}/responses", "201", {"description": "made"}),
    "parameter gone": put(GET, "parameters", []),
    "new parameter required": add(
        f"{GET}/parameters", {"in": "query", "name": "colour", "required": True}
    ),
    "field of an answer gone": drop(f"{ANSWER}/properties", "resistance_ohm"),
    "field of an answer optional": remove(f"{ANSWER}/required", "resistance_ohm"),
    "field of an answer null": put(f"{ANSWER}/properties/area_mm2", "type", ["number", "null"]),
    "field of an answer in another unit": put(f"{ANSWER}/properties/area_mm2", "x-unit", "cmil"),
    "word of an answer gone": remove(f"{VERDICT}/enum", "marginal"),
    "word of an answer new": add(f"{VERDICT}/enum", "perhaps"),
    "words of an answer open": drop(VERDICT, "enum"),
    "field of a request gone": drop(f"{ASKED}/properties", "temperature_c"),
    "field of a request required": add(f"{ASKED}/required", "temperature_c"),
    "new field of a request required": add(f"{ASKED}/required", "colour"),
    "higher minimum": put(LENGTH, "minimum", 0.1),
    "lower maximum": put(LENGTH, "maximum", 999.0),
    "no more fractions": put(LENGTH, "type", "integer"),
    "other pattern": put(SIZE, "pattern", "^[0-9]+ AWG$"),
    "shorter text": put(SIZE, "maxLength", 3),
    "word of a request gone": remove(f"{ASKED}/properties/material/enum", "aluminium"),
    "words of a request closed": put(SIZE, "enum", ["12 AWG"]),
    "other default": put(f"{ASKED}/properties/temperature_c", "default", 25.0),
    "default gone": drop(f"{ASKED}/properties/material", "default"),
    "shorter list": put(f"{SCHEMAS}/Circuit/properties/relays", "maxItems", 1),
    "kind of part gone": remove(SEGMENTS, {"$ref": f"{SCHEMAS}/WireSegment"}),
    "kind of part narrower": put(f"{SCHEMAS}/WireSegment/properties/length_m", "maximum", 1.0),
    "names narrower": put(
        f"{SCHEMAS}/Case/properties/zone_ambients_c/propertyNames", "maxLength", 5
    ),
    "interval no longer taken": put(
        f"{SCHEMAS}/CircuitWire/properties/length_m", "oneOf", [{"type": "number"}]
    ),
}
GROWING = {
    "path": put(PATHS, "/v1/new", {"post": {}}),
    "optional field of a request": put(f"{ASKED}/properties", "colour", {"type": "string"}),
    "field of an answer": put(f"{ANSWER}/properties", "colour", {"type": "string"}),
    "field of an answer that is sure": add(f"{ANSWER}/required", "colour"),
    "lower minimum": put(LENGTH, "minimum", -1.0),
    "higher maximum": put(LENGTH, "maximum", 1e6),
    "bound gone": drop(LENGTH, "maximum"),
    "field of a request optional": remove(f"{ASKED}/required", "length_m"),
    "word of a request": add(f"{ASKED}/properties/material/enum", "silver"),
    "kind of part": add(SEGMENTS, {"$ref": f"{SCHEMAS}/Check"}),
    "optional parameter": add(f"{GET}/parameters", {"in": "query", "name": "colour"}),
    "answer that is unchanged": put(f"{POST}/responses", "304", {"description": "The same."}),
    "problem": put(f"{POST}/responses", "418", {"description": "I am a teapot."}),
    "other words": put("#/info", "description", "The same, said better."),
    "other example": put(f"{POST}/requestBody/content/application~1json", "examples", {}),
}


def changed(change):
    document = copy.deepcopy(PRESENT)
    change(document)
    assert document != PRESENT
    return document


@pytest.mark.parametrize("change", BREAKING.values(), ids=BREAKING)
def test_break_is_found(change):
    assert Comparison(PRESENT, changed(change)).breaks()


@pytest.mark.parametrize("change", GROWING.values(), ids=GROWING)
def test_growth_is_no_break(change):
    assert Comparison(PRESENT, changed(change)).breaks() == []


@pytest.mark.parametrize("document", [PRESENT, RELEASED], ids=["present", "released"])
def test_document_does_not_break_itself(document):
    assert Comparison(document, copy.deepcopy(document)).breaks() == []
