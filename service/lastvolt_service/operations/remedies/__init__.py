"""Remedies for failed checks, each computed by asking again with its change made."""

from collections.abc import Callable, Mapping
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.remedies.circuits import mend_circuit, mend_retrofit
from lastvolt_service.operations.remedies.heat import mend_fuse, mend_heating
from lastvolt_service.operations.remedies.paths import mend_drop
from lastvolt_service.operations.remedies.relays import mend_coil, mend_contact, mend_solenoid
from lastvolt_service.operations.remedies.trials import (
    MOST_REMEDIES,
    MOST_TRIALS,
    Arguments,
    Remedy,
    Trials,
    decisive_check,
)
from lastvolt_service.operations.results import Result
from lastvolt_service.operations.tolerance import intervals

MENDED: Mapping[str, Callable[[Arguments, Any, Trials], None]] = {
    "voltage-drop": mend_drop,
    "wire-heating": mend_heating,
    "fuse-selection": mend_fuse,
    "relay-coil": mend_coil,
    "relay-contact": mend_contact,
    "solenoid-pull-in": mend_solenoid,
    "circuit-check": mend_circuit,
    "relay-retrofit": mend_retrofit,
}
# Large circuits get fewer trials: this many parts may be solved in all, and a retrofit solves each
# case many times.
MOST_SOLVED_PARTS = 6000
_RETROFIT_SOLUTIONS = 40


def remedies(
    name: str,
    body: Any,
    arguments: Arguments,
    answer: Result,
    *,
    again: Callable[[Any], Result | None],
    pointer: Callable[[Path], str],
) -> tuple[Remedy, ...]:
    """Look for changes that cure the failed check that is furthest beyond its limit.

    Parameters
    ----------
    name : str
        Of the operation, as in its path.
    body : object
        The request, as JSON says it.
    arguments : mapping
        Of the operation, as the schema gives them.
    answer : Result
        What it answered.
    again : callable
        Answers a changed request; None where it has no answer.
    pointer : callable
        Writes a path into the request.

    Returns
    -------
    tuple of Remedy
        Those that cure first, of them those that leave the fewest failed checks, of them in the
        order of effort; empty where nothing fails or nothing helps.
    """
    decisive, mend = decisive_check(answer), MENDED.get(name)
    if decisive is None or mend is None:
        return ()
    trials = Trials(body, again, pointer, _allowance(name, arguments), decisive)
    mend(arguments, answer, trials)
    ranked = sorted(trials.found, key=lambda item: item[0])
    return tuple(remedy for _, remedy in ranked[:MOST_REMEDIES])


def _allowance(name: str, arguments: Arguments) -> int:
    """Trials that a request gets, by what each costs: the same for the same request."""
    circuit = arguments.get("circuit")
    if not isinstance(circuit, Mapping):
        return MOST_TRIALS
    parts = sum(len(circuit[group]) for group in ("branches", "loads", "relays"))
    corners = 1 + 4 * sum(1 for _ in intervals(arguments))
    cost = (parts + 5) * len(arguments["cases"]) * corners
    if name == "relay-retrofit":
        cost *= _RETROFIT_SOLUTIONS
    return min(MOST_TRIALS, MOST_SOLVED_PARTS // cost)
