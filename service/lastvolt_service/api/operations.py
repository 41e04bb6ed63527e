"""Mount operations: read, check, compute, answer. The work itself knows nothing of HTTP."""

import inspect
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any, get_type_hints

from flask import Blueprint, Response, request
from marshmallow import ValidationError

from lastvolt_service.api.answers import to_json
from lastvolt_service.api.body import read_json
from lastvolt_service.api.problems import Refused, invalid, pointer
from lastvolt_service.errors import CalculationError
from lastvolt_service.laws import recording
from lastvolt_service.operations import operation as operations
from lastvolt_service.operations.remedies.mending import remedies
from lastvolt_service.operations.steps import Step
from lastvolt_service.schemas.base import take_explain
from lastvolt_service.schemas.described import Described, schema_class

API_PREFIX = "/v1"
_SECTION = re.compile(r"\n\n(?:Parameters|Returns|Raises|Notes|References)\n-+\n")


@dataclass(frozen=True)
class Operation:
    """An operation at a path.

    Attributes
    ----------
    function : callable
        Its fields in, frozen dataclass out.
    schema : Described
        What it takes.
    method : str
        ``POST``, or ``GET`` for tables, whose request is the query.
    described : lastvolt_service.operations.operation.Operation or None
        The operation; None for a table, whose docstring is the published description.
    """

    function: Callable[..., Any]
    schema: Described
    method: str = "POST"
    described: operations.Operation | None = None

    @classmethod
    def of(cls, described: operations.Operation) -> "Operation":
        """Mount an operation that describes itself."""
        return cls(described.answer, schema_class(described.request)(), described=described)

    @property
    def operation_id(self) -> str:
        """Name in programs."""
        return self.described.name.replace("-", "_") if self.described else self.function.__name__

    @property
    def name(self) -> str:
        """Name in paths."""
        return self.operation_id.replace("_", "-")

    @property
    def path(self) -> str:
        """Path on the service."""
        return f"{API_PREFIX}/{self.name}"

    @cached_property
    def texts(self) -> tuple[str, str]:
        """Summary and description."""
        about = self.described.about if self.described else inspect.getdoc(self.function) or ""
        words = _SECTION.split(about, maxsplit=1)[0]
        summary, _, description = words.partition("\n\n")
        return summary.rstrip("."), " ".join(description.split())

    @cached_property
    def result(self) -> type:
        """Class of the answer."""
        if self.described:
            return self.described.result
        found: type = get_type_hints(self.function)["return"]
        return found

    def compute(self, arguments: Any) -> Any:
        """Answer a request that was checked."""
        return self.function(arguments)

    def steps(self, arguments: Any, answer: Any) -> tuple[Step, ...]:
        """Tell how an answer comes about; a table has no steps."""
        return self.described.steps(arguments, answer) if self.described else ()

    def worked(self, request_object: Any) -> tuple[str, tuple[Step, ...]]:
        """Answer a request for the page of what it rests on: all that it says, and its steps."""
        arguments = self.arguments(request_object)
        answer = self.compute(arguments)
        if self.described is None:
            with recording():  # a table has no steps, but numbers that follow laws
                self.compute(arguments)
        steps = self.steps(arguments, answer)
        return to_json((answer, steps)).decode(), steps

    def arguments(self, request_object: Any) -> Any:
        """Check a request.

        Returns
        -------
        dict
            Arguments of the function.

        Raises
        ------
        Refused
            If the request does not fit.
        """
        return self._read(request_object)[1]

    def _read(self, given: Any) -> tuple[Any, Any, bool]:
        """The request without the wish to be explained, its arguments, and the wish."""
        try:
            body, explained = take_explain(given) if self.method == "POST" else (given, False)
            return body, self.schema.read(body), explained
        except ValidationError as error:
            raise invalid(error) from error

    def answer(self, request_object: Any) -> Any:
        """Check a request and compute its answer.

        Returns
        -------
        dataclass instance or dict
            The answer; a dict of its fields, steps and remedies if it is to be explained.

        Raises
        ------
        Refused
            If the request does not fit.
        CalculationError
            If it fits and has no answer.
        """
        body, arguments, explained = self._read(request_object)
        answer = self.compute(arguments)
        if not explained:
            return answer
        return {
            **{field.name: getattr(answer, field.name) for field in fields(answer)},
            "steps": self.steps(arguments, answer),
            "remedies": remedies(
                self.name,
                body,
                arguments,
                answer,
                mend=self.described.mend if self.described else None,
                again=self._again,
                pointer=pointer,
            ),
        }

    def _again(self, body: Any) -> Any:
        """Arguments and answer of a changed request; None where it has no answer."""
        try:
            arguments = self.schema.read(body)
            answer = self.compute(arguments)
            to_json(answer)
        except (ValidationError, CalculationError, ValueError):
            return None
        return arguments, answer


def respond(answer: Any) -> Response:
    """Send an answer.

    Returns
    -------
    flask.Response
        JSON.

    Raises
    ------
    Refused
        422 if a number of the answer is not finite.
    """
    try:
        text = to_json(answer)
    except ValueError as error:
        raise Refused(
            "out-of-range", "The inputs are too extreme: a result is not a finite number."
        ) from error
    return Response(text, content_type="application/json")


def cacheable(response: Response) -> Response:
    """Let clients ask whether an answer that they have is still good.

    Returns
    -------
    flask.Response
        The same with a strong ETag, or 304 without a body.
    """
    response.add_etag()
    response.make_conditional(request)
    return response


def topic(name: str, operations: Sequence[Operation]) -> Blueprint:
    """Make the blueprint of one topic."""
    blueprint = Blueprint(name, __name__)
    for operation in operations:
        blueprint.add_url_rule(
            operation.path,
            endpoint=operation.name,
            view_func=_view(operation),
            methods=[operation.method],
        )
    return blueprint


def _view(operation: Operation) -> Callable[[], Response]:
    def compute() -> Response:
        if request.query_string and request.args:
            unknown = {name: ["There is no such query parameter."] for name in request.args}
            raise invalid(ValidationError(unknown))
        return respond(operation.answer(read_json(request)))

    def look_up() -> Response:
        return cacheable(respond(operation.answer(query())))

    return look_up if operation.method == "GET" else compute


def query() -> dict[str, str]:
    """Read the query of the request at hand.

    Raises
    ------
    Refused
        If a parameter is given twice.
    """
    twice = [name for name, values in request.args.lists() if len(values) > 1]
    if twice:
        raise invalid(ValidationError({name: ["This may be given once."] for name in twice}))
    return request.args.to_dict()
