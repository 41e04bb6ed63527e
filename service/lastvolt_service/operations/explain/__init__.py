"""Answers explained: the steps from the request to every headline number."""

from collections.abc import Callable, Mapping
from typing import Any

<<<<<<< HEAD
from lastvolt_service.operations.explain.sizing import explain_fuse, explain_sizing
from lastvolt_service.operations.steps import Step, Steps

EXPLAINED: Mapping[str, Callable[[Mapping[str, Any], Any, Steps], None]] = {
    "wire-sizing": explain_sizing,
    "fuse-selection": explain_fuse,
=======
from lastvolt_service.operations.explain.wires import explain_drop, explain_resistance
from lastvolt_service.operations.steps import Step, Steps

EXPLAINED: Mapping[str, Callable[[Mapping[str, Any], Any, Steps], None]] = {
    "wire-resistance": explain_resistance,
    "voltage-drop": explain_drop,
>>>>>>> house
}


def explain(name: str, arguments: Mapping[str, Any], answer: Any) -> tuple[Step, ...]:
    """Explain an answer.

    Parameters
    ----------
    name : str
        Of the operation, as in its path.
    arguments : mapping
        Of the operation, as the schema gives them.
    answer : Result
        What it answered.

    Returns
    -------
    tuple of Step
        In order: what a formula needs stands before it.
    """
    steps = Steps()
    EXPLAINED[name](arguments, answer, steps)
    return steps.all()
