"""What a field of a form is called: short beside its input, the rest below it."""

import re

from lastvolt_service.units import unit_of


def label_and_hints(text: str) -> tuple[str, list[str]]:
    """Set the first clause of a description apart, as a label; nothing hangs on where it ends."""
    clause, *rest = re.split("[;:] *", text, maxsplit=1)
    return clause[:1].upper() + clause[1:], rest


def called(name: str) -> str:
    """Name a field for people: without the unit at its end."""
    unit = unit_of(name)
    return name.removesuffix(unit.suffix if unit else "").replace("_", " ")


def quantity(name: str) -> str:
    """Name what is measured, too, where the name does not: pull in voltage, but length."""
    unit, stem = unit_of(name), called(name)
    return stem if unit is None or stem.endswith(unit.quantity) else f"{stem} {unit.quantity}"
