"""What a short circuit gets from a battery."""

from lastvolt_service import tables

# Most that a good 12 V starter battery has, and how often as much a cold one. [ohm], [1]
GOOD_BATTERY_OHM = 0.010
COLD_MULTIPLE = 1 / 0.40
FULL_CELL_V = 12.65 / 6  # open circuit
CELL_NOMINAL_V = 2.0


def battery_citation() -> str:
    """Cite `GOOD_BATTERY_OHM`."""
    return tables.citation("short_circuit", "battery")


def cold_citation() -> str:
    """Cite `COLD_MULTIPLE`."""
    return tables.citation("short_circuit", "cold")


def full_citation() -> str:
    """Cite `FULL_CELL_V`."""
    return tables.citation("short_circuit", "full")


def five_seconds_citation() -> str:
    """Cite how soon a short circuit has to end."""
    return tables.citation("short_circuit", "five_seconds")
