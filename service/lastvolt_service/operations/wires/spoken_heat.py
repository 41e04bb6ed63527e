"""Checks of heat in English, for operations whose words are not in `lastvolt_service.words` yet."""

from lastvolt_service.operations.results import Check, show, spoken
from lastvolt_service.operations.solved import Judged
from lastvolt_service.operations.wires.ampacity import judge_temperature
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.rows import number, optional


def temperature_check(hot_c: float | None, wire: HeatedWire) -> Check:
    """Judge the steady temperature of a conductor."""
    return spoken_temperature(
        judge_temperature(optional(hot_c), wire.limit_c, wire.ambient_c), wire
    )


def spoken_temperature(judged: Judged, wire: HeatedWire) -> Check:
    """Put the check of a conductor's temperature into words."""
    name, basis = "conductor temperature", wire.one.insulation.citation
    limit = show(judged.limit, "degC")
    if number(judged.value) is None:
        ceiling = show(float(wire.ceiling_c), "degC")
        return Check(
            name,
            "fail",
            None,
            number(judged.limit),
            "degC",
            None,
            basis,
            f"The wire finds no steady temperature below {ceiling}: it heats up without end. "
            "Take a larger size or less current.",
        )
    hot = show(judged.value, "degC")
    return spoken(
        name,
        judged,
        "degC",
        basis,
        {
            "pass": f"The conductor reaches {hot}; its insulation bears {limit}.",
            "fail": f"The conductor reaches {hot} and its insulation bears {limit}: take a larger "
            "size, better insulation, a cooler place or fewer wires in the loom.",
        },
    )
