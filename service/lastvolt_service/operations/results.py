"""What every answer carries: checks with verdicts, basis, cautions, and what computed it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache
from importlib import metadata
from typing import Annotated

from lastvolt_service import tables
from lastvolt_service.operations.solved import (
    VERDICTS,
    Judged,
    Verdict,
    reaches,
    stays_within,
    verdict_code,
)
from lastvolt_service.rows import number

# Unknown is worse than pass, as something is left unproved, and better than marginal.
VERDICTS_WORST_FIRST: tuple[Verdict, ...] = ("fail", "marginal", "unknown", "pass")

COMMON_PRACTICE = "common practice, no source"
DEFERENCE = (
    "This is a calculation, not an inspection: local codes, the vehicle maker's instructions and "
    "licensed practice decide."
)
SHORT_CIRCUIT = (
    "A battery post can deliver hundreds of amperes into a slipped tool: disconnect the ground "
    "cable before work, and keep flame and sparks away from the hydrogen of a charging battery."
)
STARTER = (
    "Energising the starter circuit can move the vehicle: neutral or park, brake on, wheels "
    "chocked, ignition disabled, hands clear of belts and ring gear."
)
FUSE_NEAR_SOURCE = (
    "Every wire from the battery needs a fuse that protects that wire, as close to the source as "
    "it can be mounted; a short upstream of the fuse has nothing to stop it."
)
HOT_SURFACE = "Coils, windings and poor contacts can be hot enough to burn skin."


@dataclass(frozen=True, slots=True)
class Check:
    """One question that a practitioner would ask of the circuit, and its answer."""

    name: Annotated[str, "what is checked"]
    verdict: Annotated[
        Verdict, "pass, marginal, fail, or unknown where an input that it needs was not given"
    ]
    value: Annotated[float | None, "the number that is judged, in `unit`"]
    limit: Annotated[float | None, "the number that it is judged against, in `unit`"]
    unit: Annotated[str, "unit of value, limit and margin"]
    margin: Annotated[
        float | None, "distance from the limit in `unit`: positive is on the good side"
    ]
    basis: Annotated[str, "publication of the limit, or common practice, or given by the caller"]
    message: Annotated[str, "one sentence to act on"]
    code: Annotated[str, "which check it is, in a word that stays the same"] = ""
    part: Annotated[str | None, "what the request calls the part that is checked"] = None
    case: Annotated[str | None, "the case that it is checked in, as the request names it"] = None
    way: Annotated[str | None, "the circuit that it is checked in: as_is or proposed"] = None
    detail: Annotated[
        str | None,
        "what else it is about: the kind of contact, the least size that lasts, the fuse that "
        "protects a wire, the load that should get a relay first, why there is no answer, or what "
        "a reading tells",
    ] = None


@dataclass(frozen=True, slots=True)
class ComputedBy:
    """Versions that reproduce an answer."""

    service: Annotated[str, "version of the service"]
    tables: Annotated[str, "hash of the published tables that the service carries"]


@cache
def computed_by() -> ComputedBy:
    """Name the versions at work.

    Returns
    -------
    ComputedBy
    """
    return ComputedBy(service=metadata.version("lastvolt"), tables=tables.version())


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """Common part of every answer."""

    headline: Annotated[str, "what it comes to, in one sentence that stands alone"] = ""
    verdict: Annotated[Verdict, "the worst of all checks"] = field(init=False)
    checks: Annotated[tuple[Check, ...], "every question asked of the circuit, with its verdict"]
    basis: Annotated[tuple[str, ...], "publications, formulas and practice the answer rests on"]
    cautions: Annotated[tuple[str, ...], "what can hurt someone here, and who decides"]
    computed_by: Annotated[ComputedBy, "versions that reproduce this answer"] = field(
        default_factory=computed_by
    )

    def __post_init__(self) -> None:
        """Take the worst of all verdicts."""
        object.__setattr__(self, "verdict", worst(check.verdict for check in self.checks))


def show(value: float, unit: str) -> str:
    """Write a quantity for people, to three digits.

    Parameters
    ----------
    value : float
        The number.
    unit : str
        Its unit.

    Returns
    -------
    str
        For example ``"0.217 V"`` or ``"1450 W"``.
    """
    value += 0.0  # there is no -0
    text = f"{value:.0f}" if abs(value) >= 999.5 else f"{value:.3g}"
    return f"{text} {unit}"


def judge(margin: float, scale: float) -> Verdict:
    """Turn a margin into a verdict.

    Parameters
    ----------
    margin : float
        Distance from the limit, positive on the good side.
    scale : float
        The limit itself, or what else the margin is measured by.

    Returns
    -------
    str
        ``fail`` below zero, ``marginal`` within `MARGINAL_SHARE` of the scale, else ``pass``.
    """
    return VERDICTS[int(verdict_code(margin, scale))]


def at_least(
    name: str,
    value: float,
    limit: float,
    unit: str,
    basis: str,
    messages: dict[Verdict, str],
    scale: float | None = None,
) -> Check:
    """Check that a value reaches its limit.

    Parameters
    ----------
    name : str
        What is checked.
    value, limit : float
        Both in `unit`.
    unit : str
        Unit of both.
    basis : str
        Where the limit comes from.
    messages : dict of str to str
        A sentence for ``pass`` and ``fail``; ``marginal`` falls back on ``pass``.
    scale : float, optional
        What a small margin is judged by, in place of the limit; 0 where no margin is needed.

    Returns
    -------
    Check
    """
    return spoken(name, reaches(value, limit, scale), unit, basis, messages)


def at_most(
    name: str,
    value: float,
    limit: float,
    unit: str,
    basis: str,
    messages: dict[Verdict, str],
    scale: float | None = None,
) -> Check:
    """Check that a value stays within its limit; parameters as in `at_least`.

    Returns
    -------
    Check
    """
    return spoken(name, stays_within(value, limit, scale), unit, basis, messages)


def spoken(name: str, judged: Judged, unit: str, basis: str, messages: dict[Verdict, str]) -> Check:
    """Put a check of one row into words.

    Parameters
    ----------
    name : str
        What is checked.
    judged : Judged
        How it came out.
    unit, basis, messages
        As for `at_least`.

    Returns
    -------
    Check
    """
    verdict = VERDICTS[judged.verdict]
    message = messages.get(verdict, messages["pass"])
    if verdict == "marginal" and "marginal" not in messages:
        message = f"{message} The margin is small."
    return Check(
        name,
        verdict,
        number(judged.value),
        number(judged.limit),
        unit,
        number(judged.margin),
        basis,
        message,
    )


def unknown(name: str, unit: str, basis: str, message: str, value: float | None = None) -> Check:
    """Report a check that could not be made.

    Parameters
    ----------
    name : str
        What would be checked.
    unit : str
        Unit it would have.
    basis : str
        Where the limit would come from.
    message : str
        What is missing.
    value : float, optional
        The number that could not be judged, where there is one.

    Returns
    -------
    Check
    """
    return Check(name, "unknown", value, None, unit, None, basis, message)


def renamed(check: Check, name: str, message: str) -> Check:
    """Say in a check what it is about.

    Parameters
    ----------
    check : Check
        The check.
    name, message : str
        In place of its own.

    Returns
    -------
    Check
        As `dataclasses.replace` would make it, at a fifth of the time.
    """
    return Check(
        name,
        check.verdict,
        check.value,
        check.limit,
        check.unit,
        check.margin,
        check.basis,
        message,
    )


def merge(*groups: Iterable[str]) -> tuple[str, ...]:
    """Join texts in order, each once.

    Parameters
    ----------
    *groups : iterable of str
        Texts such as the basis of several parts.

    Returns
    -------
    tuple of str
    """
    return tuple(dict.fromkeys(text for group in groups for text in group))


def relative_margin(check: Check) -> float:
    """Tell the margin over the limit: what is furthest beyond its limit has the least."""
    if check.margin is None:
        return -math.inf
    return check.margin / max(abs(check.limit or 0.0), 1e-9)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Find the worst of verdicts.

    Parameters
    ----------
    verdicts : iterable of str
        Any number.

    Returns
    -------
    str
        ``unknown`` where there is none: nothing was judged.
    """
    given = set(verdicts)
    return next((verdict for verdict in VERDICTS_WORST_FIRST if verdict in given), "unknown")
