"""Batches: many rows of an operation in one request, as columns."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import orjson
from flask import Blueprint, Response, current_app, g, request
from marshmallow import ValidationError

from lastvolt_service.api.body import parse, read_bytes
from lastvolt_service.api.operations import API_PREFIX
from lastvolt_service.api.problems import Refused, invalid
from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.batch import compute
from lastvolt_service.operations.fuses import selection
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.relays import contact, relay_coil
from lastvolt_service.operations.solenoids import pull_in
from lastvolt_service.operations.sources import battery
from lastvolt_service.operations.wires import heating, resistance, sizing, voltage_drop
from lastvolt_service.schemas import columns
from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.described import schema_class

BATCH_PREFIX = f"{API_PREFIX}/batch"
MEMBERS: dict[str, type] = {"columns": dict, "constants": dict, "results": list}


@dataclass(frozen=True)
class BatchOperation:
    """An operation in columns.

    Attributes
    ----------
    name : str
        Name in paths, that of the operation on one request.
    schema : Request
        Of one row.
    rows : callable
        The operation in columns.
    """

    name: str
    schema: Request
    rows: Callable[[Any], Outcome]

    @classmethod
    def of(cls, described: Operation) -> "BatchOperation":
        """Mount an operation that describes itself."""
        return cls(described.name, schema_class(described.request)(), described.solve)

    @property
    def path(self) -> str:
        """Path on the service."""
        return f"{BATCH_PREFIX}/{self.name}"

    def answer(self, given: Any, *, max_rows: int) -> dict[str, Any]:
        """Check rows and compute their answers.

        Parameters
        ----------
        given : object
            As JSON says it: columns and constants.
        max_rows : int
            Most rows taken.

        Returns
        -------
        dict
            With arrays of numpy among its columns.

        Raises
        ------
        Refused
            If the request as a whole does not fit.
        """
        given_columns, constants, wanted = _members(given)
        longest = max((len(c) for c in given_columns.values() if isinstance(c, list)), default=0)
        if longest > max_rows:
            raise Refused("too-large", f"A batch may have at most {max_rows} rows: split it.")
        try:
            rows = columns.read(self.schema, given_columns, constants)
        except ValidationError as error:
            raise invalid(error) from error
        try:
            found = compute(self.rows, rows.data, rows.good, wanted)
        except CalculationError as error:  # of constants alone
            raise error.below("constants") from error
        if unknown := [name for name in wanted or () if name not in found.columns]:
            raise invalid(ValidationError({"results": [f"There is no result {unknown[0]!r}."]}))
        refused = [
            columns.RowError(row, "_".join(map(_counted, path)), detail)
            for row, path, detail in found.refusals
        ]
        return {
            "rows": found.rows,
            "columns": found.columns,
            "verdicts": found.verdicts,
            "errors": [each._asdict() for each in sorted([*rows.errors, *refused])],
            "basis": found.basis,
            "cautions": found.cautions,
            "computed_by": found.computed_by,
        }


def _counted(key: str | int) -> str:
    return str(key + 1) if isinstance(key, int) else key


def _members(given: Any) -> tuple[dict[str, Any], dict[str, Any], list[str] | None]:
    if not isinstance(given, dict):
        raise invalid(ValidationError(["This must be an object."]))
    wrong = {name: ["There is no such field."] for name in given if name not in MEMBERS}
    for name, kind in MEMBERS.items():
        if not isinstance(given.get(name, kind()), kind):
            word = "a list of names" if kind is list else "an object"
            wrong[name] = [f"This must be {word}."]
    if not wrong and not all(isinstance(name, str) for name in given.get("results", ())):
        wrong["results"] = ["This must be a list of names."]
    if wrong:
        raise invalid(ValidationError(wrong))
    return given.get("columns", {}), given.get("constants", {}), given.get("results")


BATCHES = (
    BatchOperation.of(resistance.OPERATION),
    BatchOperation.of(voltage_drop.OPERATION),
    BatchOperation.of(heating.OPERATION),
    BatchOperation.of(sizing.OPERATION),
    BatchOperation.of(selection.OPERATION),
    BatchOperation.of(relay_coil.OPERATION),
    BatchOperation.of(contact.OPERATION),
    BatchOperation.of(pull_in.OPERATION),
    BatchOperation.of(battery.OPERATION),
)

blueprint = Blueprint("batch", __name__)


def parse_fast(data: bytes) -> Any:
    """Parse strict JSON of many numbers.

    Returns
    -------
    object
        What the text says.

    Raises
    ------
    Refused
        As `body.parse`, but that integers of any length are taken as numbers.

    Notes
    -----
    orjson refuses NaN, Infinity, numbers beyond a double, bad UTF-8 and lone surrogates. Of a key
    that stands twice it takes the last: every key has one colon, so that text with more colons
    than keys, which only odd names could be the reason of otherwise, is read again, slowly.
    """
    try:
        given = orjson.loads(data)
    except orjson.JSONDecodeError:
        return parse(data)  # which says what is wrong, and where
    return given if data.count(b":") == _keys(given) else parse(data)


def _keys(given: Any) -> int:
    """Count the keys of an object and of those in it; lists hold none, or are refused later."""
    if not isinstance(given, dict):
        return 0
    return len(given) + sum(map(_keys, given.values()))


def refuse_query() -> None:
    """Refuse query parameters, of which there are none.

    Raises
    ------
    Refused
        422 that names each.
    """
    if request.args:
        query = {name: ["There is no such query parameter."] for name in request.args}
        raise invalid(ValidationError(query))


def _view(operation: BatchOperation) -> Callable[[], Response]:
    def compute_rows() -> Response:
        refuse_query()
        given = parse_fast(read_bytes(request))
        answer = operation.answer(given, max_rows=current_app.config["MAX_BATCH_ROWS"])
        g.rows = answer["rows"]
        return Response(
            orjson.dumps(answer, option=orjson.OPT_SERIALIZE_NUMPY), content_type="application/json"
        )

    return compute_rows


for _operation in BATCHES:
    blueprint.add_url_rule(
        _operation.path,
        endpoint=_operation.name,
        view_func=_view(_operation),
        methods=["POST"],
    )
