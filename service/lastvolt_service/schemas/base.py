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
    exactly_one_of, at_most_one_of, together : tuple of tuple of str
        Groups of fields of which exactly one, at most one, or all or none must be given.
    """

    class Meta:
        """Refuse what is not known."""

        unknown = RAISE

    error_messages: ClassVar[dict[str, str]] = {  # type: ignore[misc]  # marshmallow's own form
        "unknown": "There is no such field.",
        "type": "This must be an object.",
    }
    example: ClassVar[JSONObject]
    exactly_one_of: ClassVar[Groups] = ()
    at_most_one_of: ClassVar[Groups] = ()
    together: ClassVar[Groups] = ()

    @classmethod
    def rules(cls) -> str:
        """Put the groups into words.

        Returns
        -------
        str
            Sentences for the OpenAPI document; empty without groups.
        """
        said = [f"Give exactly one of {', '.join(names)}." for names in cls.exactly_one_of]
        said += [f"Give at most one of {', '.join(names)}." for names in cls.at_most_one_of]
        said += [f"{' and '.join(names)} belong together." for names in cls.together]
        return " ".join(said)

    @validates_schema
    def _groups(self, data: JSONObject, **_kwargs: object) -> None:
        errors: dict[str, list[str]] = {}
        for names in self.exactly_one_of:
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
        if errors:
            raise ValidationError(errors)
