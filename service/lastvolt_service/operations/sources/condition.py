"""Whether the battery that feeds a circuit is charged and sound, before any wiring is blamed."""

from dataclasses import dataclass

from lastvolt_service.fields import changed, known
from lastvolt_service.operations.sources.battery import Battery, battery_source
from lastvolt_service.operations.sources.charge import charge_told_percent, freezing_check
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables import battery as table

# A resistance above this multiple of a sound battery's is the battery's own fault. Common practice.
WEAK_MULTIPLE = 2.0
# A battery off the charger keeps up to this much more than a full one at rest: 13 V of 12.7 V.
# Common practice.
SURFACE_CHARGE_SHARE = 0.025
# What no flat battery falls below at rest, over its nominal voltage: 10.56 V of 12. Five full cells
# and a dead one have 10.5. Common practice.
DEAD_CELL_SHARE = 0.88


# A flat one seldom has less than this at rest: 10.9 V of 12. Common practice.
MAY_BE_DEAD_SHARE = 0.91


@dataclass(frozen=True, slots=True)
class Condition:
    """A source beside a full and sound battery of its kind.

    Attributes
    ----------
    open_circuit_v, internal_resistance_ohm : float
        As it is. [V], [ohm]
    sound_v, sound_ohm : float
        Of it full and sound, never worse than it is. [V], [ohm]
    charge_percent, temperature_c : float
        State of charge, and temperature. [%], [degC]
    is_at_rest : bool
        Whether it has no more voltage than a full battery, so that nothing charges it.
    is_low, is_weak, may_be_frozen, may_be_dead : bool
        Whether it wants charging, whether its resistance is its own fault, whether it is colder
        than its electrolyte freezes at, or nearly so, and whether it has less than most flat ones.
    """

    open_circuit_v: float
    internal_resistance_ohm: float
    sound_v: float
    sound_ohm: float
    charge_percent: float
    temperature_c: float
    is_at_rest: bool
    is_low: bool
    is_weak: bool
    may_be_frozen: bool
    may_be_dead: bool

    @property
    def is_poor(self) -> bool:
        """Whether anything is wrong with it."""
        return self.is_low or self.is_weak or self.may_be_frozen


def condition(
    open_circuit_v: float,
    internal_resistance_ohm: float,
    nominal_v: float,
    temperature_c: float,
    cold_cranking_a: float = NOT_GIVEN,
    charge_percent: float = NOT_GIVEN,
) -> Condition:
    """Hold a source at rest against a full and sound battery at its temperature.

    Parameters
    ----------
    open_circuit_v, internal_resistance_ohm : float
        Of the source. [V], [ohm]
    nominal_v, temperature_c : float
        Of the battery. [V], [degC]
    cold_cranking_a : float, optional
        Its rating, which tells its resistance when sound. [A]
    charge_percent : float, optional
        State of charge; by default as the voltage tells it. [%]
    """
    rated = known(cold_cranking_a)
    scale = nominal_v / table.TABLE_NOMINAL_V
    # Without a rating one stands in, and what it would have in the warm is that of any sound one.
    full = Battery(
        nominal_v=nominal_v,
        cold_cranking_a=cold_cranking_a if rated else 1.0,
        state_of_charge_percent=100.0,
        temperature_c=max(temperature_c, table.cranking_power().x[0]),
    )
    sound = battery_source(full)
    ohm = float(sound.internal_resistance_ohm)
    if not rated:
        warm = battery_source(changed(full, temperature_c=table.CHARGE_TEMPERATURE_C))
        ohm *= table.SOUND_OHM * scale / float(warm.internal_resistance_ohm)
    if not known(charge_percent):
        charge_percent = charge_told_percent(open_circuit_v, nominal_v)
    return Condition(
        open_circuit_v,
        internal_resistance_ohm,
        sound_v=max(open_circuit_v, float(sound.emf_v)),
        sound_ohm=min(internal_resistance_ohm, ohm),
        charge_percent=charge_percent,
        temperature_c=temperature_c,
        is_at_rest=open_circuit_v <= (1.0 + SURFACE_CHARGE_SHARE) * float(sound.emf_v),
        is_low=charge_percent < table.LOW_PERCENT,
        is_weak=internal_resistance_ohm > WEAK_MULTIPLE * ohm,
        may_be_frozen=freezing_check(charge_percent, temperature_c).verdict != "pass",
        may_be_dead=open_circuit_v < MAY_BE_DEAD_SHARE * nominal_v,
    )
