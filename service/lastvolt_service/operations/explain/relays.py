"""Steps to what a relay's coil and contact do."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service.laws import JOULE, OHM
from lastvolt_service.operations.relay_contact import RelayContact
from lastvolt_service.operations.steps import GIVEN, Steps, interpolated
from lastvolt_service.tables.limits import inrush


def explain_contact(arguments: Mapping[str, Any], answer: RelayContact, steps: Steps) -> None:
    """Explain ``relay-contact``."""
    for symbol, meaning in (
        ("ambient_c", "temperature around the relay"),
        ("load_current_a", "steady current of the load"),
        ("contact_resistance_ohm", "of the closed contact"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    if answer.derated_current_a is not None:
        points = [(arguments["rating_ambient_c"], arguments["rating_a"])]
        points += [(point["ambient_c"], point["current_a"]) for point in arguments["derating"]]
        meaning, value = "current allowed, by the maker's points", answer.derated_current_a
        interpolated(steps, "derated_current_a", "ambient_c", tuple(points), value, meaning, GIVEN)
    _first_current(steps, arguments, answer)
    for symbol, formula, meaning, source in (
        (
            "utilisation_percent",
            "100 * load_current_a / derated_current_a",
            "of the current allowed",
            "proportion",
        ),
        ("contact_drop_v", "load_current_a * contact_resistance_ohm", "across it", OHM),
        ("contact_power_w", "load_current_a ** 2 * contact_resistance_ohm", "heat in it", JOULE),
    ):
        found = getattr(answer, symbol)
        if found is not None:
            steps.computed(symbol, formula, found, meaning, source)


def _first_current(steps: Steps, arguments: Mapping[str, Any], answer: RelayContact) -> None:
    meaning = "first current of the load"
    if answer.inrush_estimated:
        multiple = inrush()[arguments["load_kind"]]
        steps.published(
            "inrush_multiple",
            multiple.highest_multiple,
            "high end of first over steady current",
            multiple.citation,
        )
        formula, source = "inrush_multiple * load_current_a", multiple.citation
    else:
        steps.given("measured_inrush_a", arguments["inrush_current_a"], "first current, measured")
        formula, source = "max(measured_inrush_a, load_current_a)", GIVEN
    steps.computed("inrush_current_a", formula, answer.inrush_current_a, meaning, source)
