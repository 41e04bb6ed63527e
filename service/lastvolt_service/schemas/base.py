"""What all requests share."""

from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, validates_schema
from marshmallow.exceptions import SCHEMA

from lastvolt_service.fields import Broken, Grouped
from lastvolt_service.schemas.elsewhere import tell_where
from lastvolt_service.schemas.near import MOST_TOLD, NO_SUCH_FIELD, no_such_field

JSONObject = dict[str, Any]
# A field that every single request takes; those of batches and parts of requests do not.
EXPLAIN = "explain"
EXPLAIN_MEANING = (
    "whether the answer gets the steps of its calculation, and remedies for its failed checks"
)


class Request(Grouped, Schema):
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
    """

    class Meta:
        """Refuse what is not known."""

        unknown = RAISE

    error_messages: ClassVar[dict[str, str]] = {  # type: ignore[misc]  # marshmallow's own form
        "unknown": NO_SUCH_FIELD,
        "type": "This must be an object.",
    }
    example: ClassVar[JSONObject]
    bound: ClassVar[str] = ""
    toleranced: ClassVar[bool] = False

    def made(self, data: Mapping[str, Any]) -> Any:
        """Make of what was read what an operation takes."""
        return data

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

    def handle_error(
        self,
        error: ValidationError,
        data: Any,
        *,
        many: bool,
        **_kwargs: Any,
    ) -> None:
        """Say of unknown fields which ones are like them, and where those live."""
        if isinstance(error.messages, dict):
            unknown = (name for name, told in error.messages.items() if told == [NO_SUCH_FIELD])
            for name in [*islice(unknown, MOST_TOLD)]:
                error.messages[name] = [no_such_field(str(name), self.fields)]
            tell_where(self, error.messages)

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
                for key in path:  # of what holds others that are wrong, too
                    place = place.setdefault(key, {})
                place.setdefault(SCHEMA, []).append(detail)
        if errors:
            raise ValidationError(_with_lists(errors))


def _with_lists(errors: JSONObject) -> JSONObject:
    """Put a list in the place of what holds no others that are wrong."""
    found: JSONObject = {}
    for key, each in errors.items():
        alone = key == SCHEMA or each.keys() == {SCHEMA}
        found[key] = _with_lists(each) if not alone else each if key == SCHEMA else each[SCHEMA]
    return found


def take_explain(given: Any) -> tuple[Any, bool]:
    """Take the wish to be explained off a request.

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
