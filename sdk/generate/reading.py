"""What the document holds: its operations, and every schema that they reach."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generate.names import Place, Unsupported, camel
from generate.sentences import Schema, prose

# Their paths take any operation: the client's own methods ask for them.
BY_HAND = {"batch", "reports"}
PREFIX = "/v1/"
_JSON = "application/json"


@dataclass(frozen=True)
class Operation:
    """An operation as the document has it; `owner` names whose fields its request has."""

    name: str
    path: str
    verb: str
    tag: str
    texts: tuple[str, ...]
    owner: str
    properties: Mapping[str, Schema]
    required: frozenset[str]
    answer: str


def referred(schema: Schema) -> str:
    """Name the component that a schema points at."""
    reference = str(schema.get("$ref", ""))
    if not reference.startswith("#/components/schemas/"):
        raise Unsupported(f"A component is needed here, not {dict(schema)!r:.200}.")
    return reference.rpartition("/")[2]


def operations(document: Schema) -> Iterator[Operation]:
    """Give the operations that get a method each."""
    schemas = document["components"]["schemas"]
    for path, methods in document["paths"].items():
        for verb, spec in methods.items():
            if BY_HAND & set(spec["tags"]):
                continue
            texts = [f"{spec['summary'].removesuffix('.')}.", spec.get("description", "")]
            if "requestBody" in spec:
                owner = referred(spec["requestBody"]["content"][_JSON]["schema"])
                request = component(schemas, owner)
                texts.append(request.get("description", ""))
                properties, required = request["properties"], request.get("required", ())
            else:
                owner, given = camel(spec["operationId"]), spec.get("parameters", ())
                properties = {
                    each["name"]: {"description": each.get("description", ""), **each["schema"]}
                    for each in given
                }
                required = [each["name"] for each in given if each.get("required")]
            yield Operation(
                name=spec["operationId"],
                path=path.removeprefix(PREFIX),
                verb=verb,
                tag=spec["tags"][0],
                texts=tuple(prose(text) for text in texts if text),
                owner=owner,
                properties=properties,
                required=frozenset(required),
                answer=referred(spec["responses"]["200"]["content"][_JSON]["schema"]),
            )


def component(schemas: Schema, name: str) -> Schema:
    """Find a component that is an object."""
    found: Schema = schemas.get(name, {})
    if "properties" not in found:
        raise Unsupported(f"{name} is no object with properties.")
    return found


def walk(schemas: Schema, place: Place, seen: set[str]) -> Iterator[Place]:
    """Give a schema and all below it with their owners and fields, each component once."""
    owner, name, schema = place
    yield place
    if "$ref" in schema:
        owner = referred(schema)
        if owner in seen:
            return
        seen.add(owner)
        schema = component(schemas, owner)
    for field, below in schema.get("properties", {}).items():
        yield from walk(schemas, (owner, field, below), seen)
    below = [schema.get("items"), schema.get("additionalProperties")]
    for each in (*below, *schema.get("oneOf", ()), *schema.get("anyOf", ())):
        if isinstance(each, Mapping):
            yield from walk(schemas, (owner, name, each), seen)
