"""Changes that several operations have in common."""

from lastvolt_service.tables.battery import open_circuit
from lastvolt_service.tables.limits import GASSES_SHARE, contact_limit, system_voltages
from lastvolt_service.tables.sizes import STANDARDS, split, trade_sizes

# Of what a sound contact may drop at most: what a new one is reckoned with. Common practice.
NEW_SHARE = 0.5
# Of the short wire that feeds a relay from the heavy cable beside its load. Common practice.
RELAY_FEED_M = 0.5
MOST_SIZES = 6


def larger_sizes(size: str, standard: str | None) -> tuple[str, ...]:
    """List the sizes above one, smallest first."""
    name, number = split(size, standard)
    rising = STANDARDS[name] == "mm2"
    return tuple(
        each
        for each in trade_sizes(name)
        if (split(each, name)[1] > number if rising else split(each, name)[1] < number)
    )


def system_of(highest_v: float) -> int:
    """Tell the nominal voltage of the least system that a voltage is customary in.

    Parameters
    ----------
    highest_v : float
        Highest voltage that is known of it. [V]

    Returns
    -------
    int
        Of the largest system where the voltage is beyond all. [V]
    """
    systems = system_voltages()
    fitting = (each for each, system in systems.items() if highest_v <= system.limit_v)
    return min(fitting, default=max(systems))


def mended_regulator_v(nominal_v: float) -> float:
    """Tell what a sound regulator holds at the most: no battery gasses at less. [V]."""
    return GASSES_SHARE * nominal_v


def full_battery_v(known_v: float) -> float:
    """Tell what a full battery of a system has at rest: no mended feed brings more from it.

    Parameters
    ----------
    known_v : float
        Voltage that is known of the system; the answer is never below it. [V]

    Returns
    -------
    float
        At rest. [V]
    """
    cells_of_12_v = system_of(known_v) / 12.0
    return max(known_v, max(open_circuit().y) * cells_of_12_v)


def sound_ohm(part: str, current_a: float) -> float:
    """Resistance of a new contact.

    Parameters
    ----------
    part : str
        What makes the contact.
    current_a : float
        Through it. [A]

    Returns
    -------
    float
        That drops `NEW_SHARE` of what a sound one may. [ohm]
    """
    limit = contact_limit(part, current_a).limit_v
    return float(f"{NEW_SHARE * limit / max(abs(current_a), 1e-3):.3g}")
