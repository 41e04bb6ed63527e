"""Readings on a live circuit: what each is held against, and what their errors leave open."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.conductors import conductor
from lastvolt_service.physics.diagnosis import reading_uncertainty, regained_voltage
from lastvolt_service.tables.limits import contact_limits

Meter = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Reading:
    """What the meter shows across one part, and what a sound part would drop.

    Attributes
    ----------
    name, kind, part : str
        As the request has them; a wire's part is ``wire``.
    measured_v, uncertainty_v : float
        What the meter shows, and its largest error. [V]
    expected_v, expected_uncertainty_v : float
        Of a new wire, or the most that a sound contact drops, and its largest error. [V]
    basis : tuple of str
        What the expectation rests on.
    """

    name: str
    kind: str
    part: str
    measured_v: float
    uncertainty_v: float
    expected_v: float
    expected_uncertainty_v: float
    basis: tuple[str, ...]

    @property
    def excess_v(self) -> float:
        """Measured over expected; 0 where it drops no more."""
        return max(0.0, self.measured_v - self.expected_v)

    @property
    def error_v(self) -> float:
        """Largest error of the excess."""
        return self.uncertainty_v + self.expected_uncertainty_v

    @property
    def hidden_v(self) -> float:
        """Largest excess that the reading leaves possible."""
        return max(0.0, self.measured_v - self.expected_v + self.error_v)


@dataclass(frozen=True, slots=True)
class Readings:
    """All readings along a path, with those of supply and load.

    Attributes
    ----------
    parts : tuple of Reading
        In order.
    supply_v, load_voltage_v : float or None
        Measured at both ends of the path. [V]
    end_uncertainty_v : float
        Largest error of these two together. [V]
    """

    parts: tuple[Reading, ...]
    supply_v: float | None
    load_voltage_v: float | None
    end_uncertainty_v: float

    @property
    def total_v(self) -> float:
        """Sum of the readings along the path."""
        return math.fsum(part.measured_v for part in self.parts)

    @property
    def total_uncertainty_v(self) -> float:
        """Largest error of the sum."""
        return math.fsum(part.uncertainty_v for part in self.parts)

    @property
    def unaccounted_v(self) -> float | None:
        """Supply less load less readings."""
        if self.supply_v is None or self.load_voltage_v is None:
            return None
        return self.supply_v - self.load_voltage_v - self.total_v

    @property
    def unaccounted_uncertainty_v(self) -> float | None:
        """Largest error of that."""
        if self.unaccounted_v is None:
            return None
        return self.end_uncertainty_v + self.total_uncertainty_v

    @property
    def missing_v(self) -> float:
        """Lost for certain where nothing was read."""
        return self._beyond(self.unaccounted_v)

    @property
    def contradiction_v(self) -> float:
        """By how much the readings are wrong for certain, beyond the error of the meter."""
        return self._beyond(None if self.unaccounted_v is None else -self.unaccounted_v)

    def _beyond(self, value_v: float | None) -> float:
        if value_v is None:
            return 0.0
        return max(0.0, value_v - (self.unaccounted_uncertainty_v or 0.0))

    def regained_v(self, excess_v: float) -> float:
        """Voltage that the load gains when an excess is mended.

        Parameters
        ----------
        excess_v : float
            Taken out of the path. [V]

        Returns
        -------
        float
            For a load of constant resistance; the excess itself where its voltage is not
            known. [V]
        """
        if self.load_voltage_v is None:
            return excess_v
        # What is read along the path stands before the load, whatever the supply reads.
        source = max(self.supply_v or 0.0, self.load_voltage_v + self.total_v)
        return float(
            regained_voltage(source_v=source, load_voltage_v=self.load_voltage_v, excess_v=excess_v)
        )


def take_readings(
    readings: Sequence[Mapping[str, Any]],
    meter: Meter,
    current_a: float,
    current_accuracy_percent: float,
    temperature_accuracy_k: float,
    supply_v: float | None,
    load_voltage_v: float | None,
) -> Readings:
    """Put an expectation and an error beside every reading.

    Parameters
    ----------
    readings : sequence of mapping
        As the request has them.
    meter : mapping
        ``resolution_v`` and ``accuracy_percent`` of the voltmeter.
    current_a, current_accuracy_percent : float
        Current round the path and its largest error. [A], [%]
    temperature_accuracy_k : float
        Largest error of the wires' temperatures. [K]
    supply_v, load_voltage_v : float or None
        Measured at both ends. [V]

    Returns
    -------
    Readings

    Raises
    ------
    UnknownSize, NotCovered
        If a wire is in no table.
    """
    parts = []
    for index, reading in enumerate(readings):
        try:
            expected, error, basis = (
                _new_wire(reading, current_a, current_accuracy_percent, temperature_accuracy_k)
                if reading["kind"] == "wire"
                else _sound_contact(reading)
            )
        except CalculationError as refused:
            raise refused.below("readings", index) from refused
        parts.append(
            Reading(
                name=reading["name"],
                kind=reading["kind"],
                part=reading.get("part", "wire"),
                measured_v=reading["measured_v"],
                uncertainty_v=_error(reading["measured_v"], meter),
                expected_v=expected,
                expected_uncertainty_v=error,
                basis=basis,
            )
        )
    ends = (_error(value, meter) for value in (supply_v, load_voltage_v) if value is not None)
    return Readings(tuple(parts), supply_v, load_voltage_v, math.fsum(ends))


def _error(reading_v: float, meter: Meter) -> float:
    return float(reading_uncertainty(reading_v=reading_v, **meter))


def _new_wire(
    reading: Mapping[str, Any], current_a: float, accuracy_percent: float, error_k: float
) -> tuple[float, float, tuple[str, ...]]:
    wire = conductor(
        reading["size"], reading.get("standard"), reading["material"], reading["construction"]
    )
    temperature = reading["temperature_c"]
    ohm, warmer_ohm = (
        wire.resistance_ohm_per_m(each) * reading["length_m"]
        for each in (temperature, temperature + error_k)
    )
    error = current_a * (accuracy_percent / 100 * ohm + (warmer_ohm - ohm))
    return current_a * ohm, error, wire.basis


def _sound_contact(reading: Mapping[str, Any]) -> tuple[float, float, tuple[str, ...]]:
    # What is allowed to a contact is allowed at any current: it has no error.
    limit = contact_limits()[reading["part"]]
    return limit.limit_v, 0.0, (limit.citation,)
