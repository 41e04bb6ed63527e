"""Sentences about paths and whole circuits."""

from collections.abc import Callable, Mapping
from typing import Any

from lastvolt_service.operations.results import worst
from lastvolt_service.reports.amounts import amount
from lastvolt_service.reports.sentences import Told

Request = Mapping[str, Any]
_MOST_MENDS = 2


def _v(value: float) -> str:
    return amount(value, "V")


def _a(value: float) -> str:
    return amount(abs(value), "A")


def _spare(margin_v: float) -> str:
    return f"{_v(margin_v)} to spare" if margin_v >= 0 else f"{_v(-margin_v)} short"


def _voltage_drop(request: Request, answer: Any) -> Told:
    facts = []
    if answer.worst_segment is not None:
        most = max(answer.segments, key=lambda part: part.drop_v)
        facts.append(
            f"{most.name} loses most: {_v(most.drop_v)}, {amount(most.share_percent, '%')} of it."
        )
    return Told(
        f"{_v(answer.load_voltage_v)} of {_v(request['supply_v'])} reach the load at "
        f"{_a(answer.current_a)}; the path loses {_v(answer.drop_v)} and may lose "
        f"{_v(answer.limit_drop_v)}.",
        tuple(facts),
        ("drop of the whole path",),
    )


def _circuit_check(_request: Request, answer: Any) -> Told:
    case = next(each for each in answer.cases if each.name == answer.worst_case)
    facts = []
    load = next((each for each in case.loads if each.name == answer.decisive_load), None)
    if load is not None and load.needed_v is not None:
        facts.append(
            f"In {case.name}, {_v(load.voltage_v)} arrive at {load.name} and {_v(load.needed_v)} "
            f"are needed, {_spare(load.margin_v)}.{_bounds(case, load.name)}"
        )
    elif load is not None:
        facts.append(
            f"In {case.name}, {_v(load.voltage_v)} arrive at {load.name}.{_bounds(case, load.name)}"
        )
    mends = [f"{mend.name} ({_v(mend.regained_v)})" for mend in answer.mend_first[:_MOST_MENDS]]
    if mends:
        facts.append(f"What costs {answer.decisive_load} most: {', then '.join(mends)}.")
    good = sum(each.verdict not in {"fail", "marginal"} for each in answer.cases)
    facts.append(f"{good} of {len(answer.cases)} cases have nothing to mend.")
    verdict = {
        "fail": "Fails", "marginal": "Passes by little", "pass": "Passes",
        "unknown": "Passes as far as it was judged",
    }[worst(each.verdict for each in answer.cases)]  # fmt: skip
    weakest = answer.weakest_part
    headline = (
        "Nothing could be judged."
        if weakest is None
        else f"Weakest in {weakest.case}, {weakest.check.message}"
    )
    return Told(headline, tuple(facts), (), verdict, lists_checks=False)


def _bounds(case: Any, load: str) -> str:
    spread = next((item for item in case.spreads if item.output == f"voltage at {load}"), None)
    if spread is None:
        return ""
    return f" Within the bounds of the inputs: {_v(spread.low_v)} to {_v(spread.high_v)}."


def poorest_case(answer: Any) -> Any:
    """Find the case in which the load of a retrofit has the least to spare as it is.

    Parameters
    ----------
    answer : RelayRetrofit
        The answer.

    Returns
    -------
    RetrofitCase
    """
    return min(answer.cases, key=lambda case: case.as_is.margin_v / case.as_is.needed_v)


def _relay_retrofit(request: Request, answer: Any) -> Told:
    verdict, _, rest = answer.advice_text.partition(": ")
    case = poorest_case(answer)
    old, new = case.as_is, case.proposed
    compared = (
        f"In {case.name}, {request['load']} needs {_v(old.needed_v)}: {_v(old.load_voltage_v)} "
        f"arrive as it is ({_spare(old.margin_v)}), {_v(new.load_voltage_v)} with the relay "
        f"({_spare(new.margin_v)})."
    )
    relieved = (
        f"{request['switch']} carries {_a(new.switch_current_a)} in place of "
        f"{_a(old.switch_current_a)} and makes {amount(new.switch_power_w, 'W')} in place of "
        f"{amount(old.switch_power_w, 'W')}."
    )
    last = answer.new_risks[-1] if answer.advice == "worth_it" else answer.reasons[0]
    return Told(
        rest[:1].upper() + rest[1:], (compared, relieved, last), (), verdict, lists_checks=False
    )


CIRCUIT_SENTENCES: Mapping[str, Callable[[Request, Any], Told]] = {
    "voltage-drop": _voltage_drop,
    "circuit-check": _circuit_check,
    "relay-retrofit": _relay_retrofit,
}
