"""Steps to the voltage of a battery, and to what a switch carries."""

from collections.abc import Mapping, Sequence
from typing import Any

from lastvolt_service.laws import JOULE, KIRCHHOFF, OHM
from lastvolt_service.operations.steps import MOST_ITEMS, Steps
from lastvolt_service.operations.switch_loading import SwitchLoading

RATED = "SAE J537: what the cold-cranking rating promises"
POWER = "largest power of a source: E**2 / (4 R)"


def explain_switch(arguments: Mapping[str, Any], answer: SwitchLoading, steps: Steps) -> None:
    """Explain ``switch-loading``."""
    loads = arguments["loads"]
    for symbol, meaning in (
        ("rating_a", "of the switch"),
        ("contact_resistance_ohm", "of the closed switch"),
        ("relay_coil_current_a", "of the coil of each relay"),
        ("supply_v", "at the switch"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    for place, load in enumerate(loads, 1):
        steps.given(f"load_{place}_current_a", load["current_a"], f"of {load['name']}")
    for place, position in enumerate(answer.positions, 1):
        on = [_draws(number, load) for number, load in enumerate(loads, 1)
              if position.position in load["positions"]]  # fmt: skip
        p = f"position_{place}_"
        steps.computed(
            f"{p}current_a",
            " + ".join(on),
            position.current_a,
            f"through the switch in {position.position}",
            KIRCHHOFF,
        )
        for name, formula, source in (
            ("drop_v", f"{p}current_a * contact_resistance_ohm", OHM),
            ("drop_percent", f"100 * {p}drop_v / supply_v", "proportion"),
            ("power_w", f"{p}current_a ** 2 * contact_resistance_ohm", JOULE),
            ("utilisation_percent", f"100 * {p}current_a / rating_a", "proportion"),
        ):
            value = getattr(position, name)
            if value is not None:
                meaning = f"{name.rpartition('_')[0]} in {position.position}"
                steps.computed(p + name, formula, value, meaning, source)
    _relief(steps, loads, answer)
    _cumulative(steps, loads, answer)


def _draws(place: int, load: Mapping[str, Any]) -> str:
    return "relay_coil_current_a" if load["through_relay"] else f"load_{place}_current_a"


def _relief(steps: Steps, loads: Sequence[Mapping[str, Any]], answer: SwitchLoading) -> None:
    numbers = {load["name"]: place for place, load in enumerate(loads, 1)}
    worst = ", ".join(f"position_{n}_power_w" for n in range(1, len(answer.positions) + 1))
    for place, relief in enumerate(answer.relief[:MOST_ITEMS], 1):
        p = f"relief_{place}_"
        now = [
            f"position_{n}_current_a - load_{numbers[relief.name]}_current_a + relay_coil_current_a"
            if position.position in relief.positions
            else f"position_{n}_current_a"
            for n, position in enumerate(answer.positions, 1)
        ]
        steps.computed(
            f"{p}current_after_a",
            f"max({', '.join(now)})",
            relief.current_after_a,
            f"in the then worst position, with a relay for {relief.name}",
            KIRCHHOFF,
        )
        steps.computed(
            f"{p}power_after_w",
            f"{p}current_after_a ** 2 * contact_resistance_ohm",
            relief.power_after_w,
            "heat in the switch there",
            JOULE,
        )
        steps.computed(
            f"{p}power_saved_w",
            f"max({worst}) - {p}power_after_w",
            relief.power_saved_w,
            "heat taken out of the worst position",
            JOULE,
        )


def _cumulative(steps: Steps, loads: Sequence[Mapping[str, Any]], answer: SwitchLoading) -> None:
    places = {position.position: n for n, position in enumerate(answer.positions, 1)}
    numbers = {load["name"]: n for n, load in enumerate(loads, 1)}
    positions = {load["name"]: load["positions"] for load in loads}
    for place, step in enumerate(answer.cumulative[:MOST_ITEMS], 1):
        p = f"relays_{place}_"
        moved = "".join(
            f" - load_{numbers[before.name]}_current_a + relay_coil_current_a"
            for before in answer.cumulative[:place]
            if step.worst_position in positions[before.name]
        )
        steps.computed(
            f"{p}current_a",
            f"position_{places[step.worst_position]}_current_a{moved}",
            step.current_a,
            f"in {step.worst_position}, with {place} relays, the last for {step.name}",
            KIRCHHOFF,
        )
        steps.computed(
            f"{p}power_w",
            f"{p}current_a ** 2 * contact_resistance_ohm",
            step.power_w,
            "heat in the switch there",
            JOULE,
        )
        steps.computed(
            f"{p}utilisation_percent",
            f"100 * {p}current_a / rating_a",
            step.utilisation_percent,
            "of the rating",
            "proportion",
        )
