"""What all requests share."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, validates_schema

from lastvolt_service.rows import Flags

JSONObject = dict[str, Any]
Groups = tuple[tuple[str, ...], ...]
# A field that every single request takes; those of batches and parts of requests do not.
EXPLAIN = "explain"
EXPLAIN_MEANING = (
    "whether the answer gets the steps of its calculation, and remedies for its failed checks"
)
# Where a rule is broken, the path of the field at fault, and what to say.
Broken = tuple[Flags, tuple[str | int, ...], str]


class Request(Schema):
    """A request body: unknown fields are refused.

    Attributes
    ----------
    example : dict
        A worked example, published in the OpenAPI document and posted by a test.
    bound : str
        How much one request may ask for beyond the bounds of its fields, in words for the
        description of the operation.
    toleranced : bool
        Whether every quantity of it may be given as an interval.
    exactly_one_of, at_least_one_of, at_most_one_of, together : tuple of tuple of str
        Groups of fields of which exactly one, at least one, at most one, or all or none must be
        given.
    needs : tuple of tuple of str
        Groups whose first field, where it is given, needs one of the others.
    """

    class Meta:
        """Refuse what is not known."""

        unknown = RAISE

    error_messages: ClassVar[dict[str, str]] = {  # type: ignore[misc]  # marshmallow's own form
        "unknown": "There is no such field.",
        "type": "This must be an object.",
    }
    example: ClassVar[JSONObject]
    bound: ClassVar[str] = ""
    toleranced: ClassVar[bool] = False
    exactly_one_of: ClassVar[Groups] = ()
    at_least_one_of: ClassVar[Groups] = ()
    at_most_one_of: ClassVar[Groups] = ()
    together: ClassVar[Groups] = ()
    needs: ClassVar[Groups] = ()

    @classmethod
    def rules(cls) -> str:
        """Put the groups into words.

        Returns
        -------
        str
            Sentences for the OpenAPI document; empty without groups.
        """
        said = [f"Give exactly one of {', '.join(names)}." for names in cls.exactly_one_of]
        said += [f"Give at least one of {', '.join(names)}." for names in cls.at_least_one_of]
        said += [f"Give at most one of {', '.join(names)}." for names in cls.at_most_one_of]
        said += [f"{' and '.join(names)} belong together." for names in cls.together]
        said += [f"{first} needs {' or '.join(others)}." for first, *others in cls.needs]
        return " ".join(said)

    @classmethod
    def grouped(cls) -> tuple[str, ...]:
        """List the fields that stand in any group.

        Returns
        -------
        tuple of str
        """
        groups = (
            cls.exactly_one_of + cls.at_least_one_of + cls.at_most_one_of + cls.together + cls.needs
        )
        return tuple(dict.fromkeys(name for names in groups for name in names))

    @classmethod
    def broken_groups(cls, has: Mapping[str, Any]) -> Iterator[Broken]:
        """Hold what is given against the groups, for one request or for columns of them.

        Parameters
        ----------
        has : mapping of str to bool or ndarray of bool
            Whether each field of `grouped` is given.

        Yields
        ------
        tuple
            See `Broken`; without a path where nothing of a group is given.
        """
        for names in cls.exactly_one_of + cls.at_least_one_of:
            yield _any(has, names) < True, (), f"Give one of: {', '.join(names)}."
        for names in cls.exactly_one_of + cls.at_most_one_of:
            for place, name in enumerate(names[1:], 1):
                twice = has[name] & _any(has, names[:place])
                yield twice, (name,), f"Give only one of: {', '.join(names)}."
        for names in cls.together:
            for name in names:
                absent = _any(has, names) > has[name]
                yield absent, (name,), f"These belong together: {', '.join(names)}."
        for first, *others in cls.needs:
            wanting = has[first] > _any(has, others)
            yield wanting, (others[0],), f"{first} needs {' or '.join(others)}."

    def broken_rules(self, _data: Mapping[str, Any]) -> Iterator[Broken]:
        """Hold fields against each other, for one request or for columns of them.

        Parameters
        ----------
        _data : mapping
            Values by field; in columns, arrays with NaN where nothing is given.

        Yields
        ------
        tuple
            See `Broken`.
        """
        return iter(())

    @validates_schema
    def _groups(self, data: JSONObject, **_kwargs: object) -> None:
        has = {name: name in data for name in self.grouped()}
        errors: dict[str, list[str]] = {}
        for wrong, path, detail in self.broken_groups(has):
            if wrong and not path:
                raise ValidationError(detail)
            if wrong:
                errors[str(path[0])] = [detail]
        if errors:
            raise ValidationError(errors)

    @validates_schema
    def _rules(self, data: JSONObject, **_kwargs: object) -> None:
        errors: JSONObject = {}
        for wrong, path, detail in self.broken_rules(data):
            if wrong:
                place: Any = errors
                for key in path[:-1]:
                    place = place.setdefault(key, {})
                place.setdefault(path[-1], []).append(detail)
        if errors:
            raise ValidationError(errors)


def _any(has: Mapping[str, Any], names: Iterable[str]) -> Any:
    found: Any = False
    for name in names:
        found = found | has[name]
    return found


def take_explain(given: Any) -> tuple[Any, bool]:
    """Take the wish to be explained off a request.

    Parameters
    ----------
    given : object
        As JSON says it.

    Returns
    -------
    rest : object
        The request without it.
    explain : bool
        Whether it was asked for.

    Raises
    ------
    ValidationError
        If it is neither true nor false.
    """
    if not isinstance(given, dict) or EXPLAIN not in given:
        return given, False
    explain = given[EXPLAIN]
    if not isinstance(explain, bool):
        raise ValidationError({EXPLAIN: ["This must be true or false."]})
    return {name: value for name, value in given.items() if name != EXPLAIN}, explain
