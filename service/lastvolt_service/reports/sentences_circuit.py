"""Sentences about paths and whole circuits."""

from collections.abc import Callable, Mapping
from typing import Any

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


CIRCUIT_SENTENCES: Mapping[str, Callable[[Request, Any], Told]] = {
    "voltage-drop": _voltage_drop,
}
