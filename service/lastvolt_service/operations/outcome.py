"""What an operation finds in one request or in many rows, before it is put into words."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.judging import VERDICTS, Fault, Judged, Verdict
from lastvolt_service.operations.lookup import Refusal
from lastvolt_service.operations.results import Check
from lastvolt_service.rows import Texts, number
from lastvolt_service.words import message, unsure
from lastvolt_service.words.catalogue import OperationWords
from lastvolt_service.words.named import Named

NO_NAMES = Named()


@dataclass(frozen=True, slots=True)
class Checked:
    """One check, of one row or of many.

    Attributes
    ----------
    code : str
        Which check it is, stable and documented in `lastvolt_service.words`.
    judged : Judged
        How it came out.
    unit : str
        Of value, limit and margin.
    basis : str
        Where the limit comes from, in one request; columns carry no such texts.
    place : str
        Path of the part that is checked, where there are several: ``"segments_1"``.
    part : str or None
        What the caller calls that part.
    case, way, detail : str or None
        As in a `Check`.
    measure : str or None
        The input to measure first, where its bounds leave it undecided.
    """

    code: str
    judged: Judged
    unit: str
    basis: str
    place: str = ""
    part: Texts = None
    case: str | None = None
    way: str | None = None
    detail: str | None = None
    measure: str | None = None

    @property
    def verdict(self) -> Verdict:
        """Of one row."""
        return VERDICTS[int(self.judged.verdict)]

    @property
    def column(self) -> str:
        """Name of its column in a batch."""
        return "_".join(filter(None, ("check", self.place, self.code)))

    def told(self, words: OperationWords, named: Named = NO_NAMES) -> Check:
        """Put a check of one row into words."""
        said, verdict = words.checks[self.code], self.verdict
        value, limit = number(self.judged.value), number(self.judged.limit)
        part = self.part if isinstance(self.part, str) else None
        texts = {"part": part, "case": self.case, "detail": self.detail, "measure": self.measure}
        names = named.of_check(value, limit, self.unit, texts)
        return Check(
            name=said.name,
            code=self.code,
            part=part,
            case=self.case,
            way=self.way,
            detail=self.detail,
            verdict=verdict,
            value=value,
            limit=limit,
            unit=self.unit,
            margin=number(self.judged.margin),
            basis=self.basis,
            message=message(said, verdict, names) if self.measure is None else unsure(said, names),
        )


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was found.

    Attributes
    ----------
    columns : mapping of str to float, bool, str, None, ndarray or Words
        By name of the result, in the order of its class; NaN or None where there is none. Those
        of an object within it, or of an item of a list, carry its name before their own.
    checks : tuple of Checked
        In the order in which an answer lists them.
    basis, cautions : iterable of str
        What the answers rest on, and what can hurt someone here.
    faults : tuple of Fault
        Rows without an answer, and why.
    refusals : sequence of Refusal
        Rows of columns that the tables do not know; of one request the tables refuse it at once.
    told_checks : tuple of Check
        Of one request, those that were put into words already; they stand first.
    """

    columns: Mapping[str, Any]
    checks: tuple[Checked, ...]
    basis: Iterable[str]
    cautions: Iterable[str]
    faults: tuple[Fault, ...] = ()
    refusals: Sequence[Refusal] = ()
    told_checks: tuple[Check, ...] = ()
