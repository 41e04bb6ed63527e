"""What all requests share."""

from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, validates_schema

JSONObject = dict[str, Any]
Groups = tuple[tuple[str, ...], ...]


class Request(Schema):
    """A request body: unknown fields are refused.

    Attributes
    ----------
    example : dict
        A worked example, published in the OpenAPI document and posted by a test.
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

    @validates_schema
    def _groups(self, data: JSONObject, **_kwargs: object) -> None:
        errors: dict[str, list[str]] = {}
        for names in (*self.exactly_one_of, *self.at_least_one_of):
            if not any(name in data for name in names):
                raise ValidationError(f"Give one of: {', '.join(names)}.")
        for names in (*self.exactly_one_of, *self.at_most_one_of):
            given = [name for name in names if name in data]
            for name in given[1:]:
                errors[name] = [f"Give only one of: {', '.join(names)}."]
        for names in self.together:
            absent = [name for name in names if name not in data]
            if len(absent) < len(names):
                for name in absent:
                    errors[name] = [f"These belong together: {', '.join(names)}."]
        for first, *others in self.needs:
            if first in data and not any(name in data for name in others):
                errors[others[0]] = [f"{first} needs {' or '.join(others)}."]
        if errors:
            raise ValidationError(errors)
