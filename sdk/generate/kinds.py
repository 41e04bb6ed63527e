"""The named types of the SDK and the arguments of its methods, in Python's words.

A component that any request holds becomes a TypedDict, so that an answer that has it too can be
sent on as it is; the others are answers and become dataclasses.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass, field

from generate.names import Place, Unsupported, identifier, list_names, union_name
from generate.reading import Operation, component, operations, referred, walk
from generate.sentences import Schema, prose, sentence

COMMON = "common"
RESULT = "Result"
_CHECKS = "checks"  # what an answer that judges has
_SIMPLE = {"string": "str", "number": "float", "integer": "int", "boolean": "bool", "null": "None"}
_LONGEST = 60  # of a list of words that a docstring shows


class Named(str):
    """Name of a type, in a `Hint`."""

    __slots__ = ()


@dataclass(frozen=True)
class Hint:
    """A type: how it is written, and how a docstring tells it.

    It is `ahead` if it names what is defined only later.
    """

    parts: tuple[str, ...]
    words: str
    hashable: bool = True
    ahead: bool = False

    def text(self, prefix: str = "") -> str:
        """Write it, with a prefix to each named type."""
        parts = (prefix + part if isinstance(part, Named) else part for part in self.parts)
        return f'"{"".join(parts)}"' if self.ahead else "".join(parts)

    def inside(self, before: str, after: str, words: str, *, hashable: bool = True) -> "Hint":
        """Put it inside another type."""
        parts = (before, *self.parts, after)
        return Hint(parts, f"{words} {self.words}", self.hashable and hashable, self.ahead)

    @property
    def names(self) -> set[str]:
        """The named types in it."""
        return {part for part in self.parts if isinstance(part, Named)}


@dataclass(frozen=True)
class Field:
    """An argument, a key or an attribute; `key` is its name in JSON."""

    key: str
    hint: Hint
    meaning: str
    required: bool

    @property
    def name(self) -> str:
        """Its name in Python."""
        return identifier(self.key)


@dataclass
class Kind:
    """A named type: a TypedDict or a dataclass of fields, or an alias of a hint.

    A class that judges has the name of its checks' class in `judges`.
    """

    name: str
    form: str
    meaning: str
    fields: list[Field] = field(default_factory=list)
    hint: Hint = Hint((), "")
    base: str = ""
    judges: str = ""

    @property
    def uses(self) -> set[str]:
        """The named types that it needs itself."""
        below = (each.hint.names for each in self.fields)
        return self.hint.names.union({self.base} - {""}, *below)


@dataclass(frozen=True)
class Method:
    """An operation with its arguments, the required ones first."""

    operation: Operation
    fields: list[Field]

    @property
    def uses(self) -> set[str]:
        """The named types that it needs itself."""
        return {self.operation.answer}.union(*(each.hint.names for each in self.fields))


def _joined(hints: list[Hint]) -> Hint:
    """Make alternatives of several types."""
    parts = tuple(part for hint in hints for part in (" | ", *hint.parts))[1:]
    words = [hint.words for hint in hints]
    told = " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))
    hashable, ahead = all(each.hashable for each in hints), any(each.ahead for each in hints)
    return Hint(parts, told, hashable, ahead)


class Kinds:
    """Everything of a document: `methods`, and `named` in an order fit to be defined."""

    def __init__(self, document: Schema) -> None:
        self.schemas: Schema = document["components"]["schemas"]
        found = list(operations(document))
        places: list[Place] = []
        sent: set[str] = set()
        seen: set[str] = set()
        for operation in found:
            for name, schema in operation.properties.items():
                below = list(walk(self.schemas, (operation.owner, name, schema), seen))
                places += below
                sent |= {referred(each) for _, _, each in below if "$ref" in each}
        for operation in found:
            root = {"$ref": f"#/components/schemas/{operation.answer}"}
            places += list(walk(self.schemas, ("", "", root), seen))[1:]
        self._sent: set[str] = sent
        taken = [*self.schemas, *_unions(schema for *_, schema in places)]
        self._lists = list_names((each for each in places if "enum" in each[2]), taken)
        self._making: set[str] = set()
        self.named: dict[str, Kind] = {}
        self._judged = [
            name
            for name in dict.fromkeys(operation.answer for operation in found)
            if name not in sent and _CHECKS in component(self.schemas, name)["properties"]
        ]
        self._shared: dict[str, Schema] = self._common()
        self.methods = [self._method(operation) for operation in found]

    def modules(self) -> dict[str, list[Kind]]:
        """Divide the types: what one operation, one tag, or several tags need."""
        users: dict[str, list[Operation]] = {name: [] for name in self.named}
        for method in self.methods:
            reached: set[str] = set()
            names = method.uses
            while names:
                reached |= names
                names = set().union(*(self.named[name].uses for name in names)) - reached
            for name in reached:
                users[name].append(method.operation)
        found: dict[str, list[Kind]] = {COMMON: []}
        for name, kind in self.named.items():
            tags = {operation.tag for operation in users[name]}
            if len(users[name]) == 1:
                own = users[name][0].name
            elif len(tags) > 1:
                own = COMMON
            else:
                own = tags.pop() + ("_answers" if kind.form == "dataclass" else "")
            found.setdefault(own, []).append(kind)
        return found

    def _common(self) -> dict[str, Schema]:
        """The fields that all answers with checks share; they make up `RESULT`."""
        judged = [component(self.schemas, name)["properties"] for name in self._judged]
        return {
            name: schema
            for name, schema in (judged[0] if judged else {}).items()
            if all(each.get(name) == schema for each in judged)
        }

    def _method(self, operation: Operation) -> Method:
        fields = self._fields(operation.properties, operation.required, sent=True)
        self._component(operation.answer)
        return Method(operation, sorted(fields, key=lambda each: not each.required))

    def _fields(self, properties: Schema, required: frozenset[str], *, sent: bool) -> list[Field]:
        found = []
        for name, schema in properties.items():
            hint = self.hint(schema, sent=sent)
            if not sent and name not in required and "array" not in schema.get("type", ""):
                hint = _joined([hint, Hint(("None",), "None")])
            found.append(Field(name, hint, sentence(schema), name in required))
        return found

    def _component(self, name: str) -> Hint:
        """Make the type of a component, and of all that it needs before."""
        sent = name in self._sent
        hint = Hint((Named(name),), name, hashable=not sent)
        if name in self._making:  # it holds itself: its name is all that is known
            return Hint(hint.parts, name, hint.hashable, ahead=True)
        if name not in self.named:
            self._making.add(name)
            found = component(self.schemas, name)
            properties, required = found["properties"], frozenset(found.get("required", ()))
            judged = name in self._judged
            if judged:
                self._result(required)
                properties = {
                    key: each for key, each in properties.items() if key not in self._shared
                }
            self.named[name] = Kind(
                name,
                "TypedDict" if sent else "dataclass",
                prose(found.get("description", "")),
                self._fields(properties, required, sent=sent),
                base=RESULT if judged else "",
            )
            self._making.remove(name)
        return hint

    def _result(self, required: frozenset[str]) -> None:
        if RESULT not in self.named:
            fields = self._fields(self._shared, required, sent=False)
            check = referred(self._shared[_CHECKS]["items"])
            meaning = "What every answer with checks has."
            self._define(Kind(RESULT, "dataclass", meaning, fields, judges=check))

    def _alias(self, name: str, hint: Hint, meaning: str) -> Hint:
        if hint.ahead:
            raise Unsupported(f"{name} would need itself to be defined.")
        self._define(Kind(name, "alias", meaning, hint=hint))
        return Hint((Named(name),), name, hint.hashable)

    def _define(self, kind: Kind) -> None:
        """Keep a type that is no component."""
        if kind.name in self.schemas or self.named.setdefault(kind.name, kind) != kind:
            raise Unsupported(f"{kind.name} would name two types.")

    def hint(self, schema: Schema, *, sent: bool) -> Hint:
        """Find the type of a schema, of a request if `sent`, else of an answer."""
        if "$ref" in schema:
            return self._component(referred(schema))
        if "const" in schema:
            return self.hint({"enum": [schema["const"]]}, sent=sent)
        if "enum" in schema:
            return self._words(schema)
        if either := schema.get("oneOf") or schema.get("anyOf"):
            return self._either(schema, either, sent=sent)
        kinds = schema.get("type", [])
        if isinstance(kinds, list):
            if not kinds:
                raise Unsupported(f"No type is given: {dict(schema)!r:.200}.")
            # What may be a truth value too is no quantity, so that text there is text.
            plain = {} if "boolean" in kinds else schema
            return _joined([self.hint({**plain, "type": kind}, sent=sent) for kind in kinds])
        if kinds == "array":
            inner = self.hint(schema["items"], sent=sent)
            if sent:
                return inner.inside("Sequence[", "]", "sequence of")
            return inner.inside("tuple[", ", ...]", "tuple of")
        if kinds == "object":
            return self._object(schema, sent=sent)
        if kinds == "number" and sent and "x-unit" in schema:
            number = Hint(("float | Decimal | Fraction | str",), "float or str")
            text = (
                "A number in the unit that its name ends in, or text with a unit: ``15 ft``. An "
                "object that carries a unit of its own is refused: its number alone could be in "
                "another one."
            )
            self._alias("Number", number, text)
            return Hint((Named("Number"),), number.words)
        return Hint((_SIMPLE[kinds],), _SIMPLE[kinds])

    def _words(self, schema: Schema) -> Hint:
        words = tuple(schema["enum"])
        told = ", ".join(json.dumps(word, ensure_ascii=False) for word in words)
        literal = Hint((f"Literal[{', '.join(map(repr, words))}]",), f"{{{told}}}")
        if words not in self._lists:
            return literal
        name, meaning = self._lists[words]
        alias = self._alias(name, literal, meaning)
        return Hint(alias.parts, literal.words if len(told) <= _LONGEST else alias.words)

    def _either(self, schema: Schema, either: list[Schema], *, sent: bool) -> Hint:
        outer = {key: schema[key] for key in ("x-unit",) if key in schema}
        hints = [self.hint({**outer, **each}, sent=sent) for each in either]
        joined = _joined(hints)
        refs = [referred(each) for each in either if "$ref" in each]
        if "x-name" not in schema and len(refs) < 2:
            return joined
        name = schema.get("x-name") or union_name(refs)
        told = " or ".join(f"`{hint.text()}`" for hint in hints)
        if "discriminator" in schema:
            told += f", told apart by `{schema['discriminator']['propertyName']}`"
        return self._alias(name, joined, f"{told}.")

    def _object(self, schema: Schema, *, sent: bool) -> Hint:
        if "properties" in schema:
            return self._inline(schema, sent=sent)
        inner = self.hint(schema["additionalProperties"], sent=sent)
        return inner.inside("Mapping[str, ", "]", "mapping of str to", hashable=False)

    def _inline(self, schema: Schema, *, sent: bool) -> Hint:
        """An object that stands where it is used: of one name are those of like fields."""
        name = schema.get("x-name")
        if name is None:
            raise Unsupported(f"An object needs a component or x-name: {dict(schema)!r:.200}.")
        # Its bounds and its unit are those of the place: what holds everywhere is the meaning.
        unit = {key: schema[key] for key in ("x-unit",) if key in schema}
        required = schema.get("required", ())
        fields = [
            Field(
                key,
                self.hint({**unit, **below}, sent=sent),
                sentence({"description": below.get("description", "")}),
                key in required,
            )
            for key, below in schema["properties"].items()
        ]
        form = "TypedDict" if sent else "dataclass"
        made = Kind(name, form, sentence({"description": schema.get("description", "")}), fields)
        self._define(made)
        return Hint((Named(name),), name, hashable=not sent)


def _unions(schemas: Iterable[Schema]) -> set[str]:
    """Names of alternatives without a name of their own."""
    found = set()
    for schema in schemas:
        refs = [referred(each) for each in schema.get("oneOf", ()) if "$ref" in each]
        if "x-name" not in schema and len(refs) > 1:
            found.add(union_name(refs))
    return found
