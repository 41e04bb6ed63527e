"""What feeds a circuit in a case, in plain numbers."""

from typing import NamedTuple

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed, known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.sources import Source
from lastvolt_service.operations.judging import refuse
from lastvolt_service.operations.sources.battery import battery_source
from lastvolt_service.operations.sources.charge import MAY_BE_FROZEN, freezing_check


class Supply(NamedTuple):
    """A battery in a case: voltage behind a resistance, and what these rest on. [V], [ohm]."""

    emf_v: float
    internal_ohm: float
    basis: tuple[str, ...]


def supply_in_case(source: Source, case: Case) -> Supply:
    """Bring the battery of a circuit into a case.

    Raises
    ------
    CalculationError
        If it is colder than any that is published; the path points at it.
    """
    basis: tuple[str, ...] = ()
    battery = source.battery
    if battery is None:
        emf_v, internal_ohm = source.open_circuit_v, source.internal_resistance_ohm
    else:
        charge, own_c = case.state_of_charge_percent, battery.temperature_c
        here = changed(
            battery,
            state_of_charge_percent=charge if known(charge) else battery.state_of_charge_percent,
            temperature_c=own_c if known(own_c) else case.ambient_of(source.zone),
        )
        try:
            found = battery_source(here)
            refuse([found.fault])
        except CalculationError as error:
            told = error
            frozen = freezing_check(here.state_of_charge_percent, here.temperature_c)
            if frozen.verdict == "fail":
                told = type(error)(f"{error.detail} {MAY_BE_FROZEN}", error.path)
            raise told.below("circuit", "source", "battery") from error
        emf_v, internal_ohm = float(found.emf_v), float(found.internal_resistance_ohm)
        basis = found.basis
    return Supply(
        case.open_circuit_v if known(case.open_circuit_v) else emf_v,
        case.internal_resistance_ohm if known(case.internal_resistance_ohm) else internal_ohm,
        basis,
    )
