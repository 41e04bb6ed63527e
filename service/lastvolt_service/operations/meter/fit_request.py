"""What a fit takes: a circuit in cases, with what is not known as intervals, and readings."""

from collections.abc import Iterator, Sequence
from typing import Any, ClassVar

from lastvolt_service.fields import ABSENT, Broken
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.cases import Cases
from lastvolt_service.operations.circuits.work import BOUND
from lastvolt_service.operations.common_fields import NO_SUCH_LOAD, named_there, same_names
from lastvolt_service.operations.meter.fit_model import bounds_of, leaves_open
from lastvolt_service.operations.meter.reading_fields import (
    METERS,
    READINGS,
    MeterData,
    MeterReading,
    broken_readings,
)

# Some 2 s of one core of 2026 where readings contradict each other, and most where cases are many:
# they are left out, and bounds opened, in turn. Else a fifth. Of no more than 60 readings it hardly
# matters how many there are.
MOST_FIT = 2_000
BOUND_OF_FITS = (
    f"{BOUND} A fit may ask for {MOST_FIT:,} more: the number of cases, times one more than the "
    "number of intervals, times the sum of 25 and the number of parts."
)
NO_UNKNOWNS = (
    "Nothing is left to find: give what is not known as an interval, such as "
    '{"low": 0.0, "high": 0.3} ohm of a switch.'
)


def units_of(unknowns: int, parts: int) -> int:
    """Units of work that a fit comes to in each case."""
    return (1 + unknowns) * (25 + parts)


def volts(case: str, between: list[str], value_v: float) -> dict[str, Any]:
    """A reading of an example."""
    return {"case": case, "between": between, "value_v": value_v, "meter": "shop meter"}


def amperes(case: str, through: str, value_a: float) -> dict[str, Any]:
    """As `volts`, by a clamp."""
    return {"case": case, "through": through, "value_a": value_a, "meter": "shop clamp"}


class CircuitFitRequest(Cases):
    """A circuit in cases, and what was read of it."""

    bound: ClassVar[str] = BOUND_OF_FITS

    load: str = label("load whose voltage decides")
    worst_case: str | None = label(
        "case in which it decides; by default that in which it has the least to spare",
        default=ABSENT,
    )
    meters: Sequence[MeterData] = METERS
    readings: Sequence[MeterReading] = READINGS

    example: ClassVar = {
        "circuit": {
            "source": {
                "plus": "battery post",
                "open_circuit_v": {"low": 12.2, "high": 12.9},
                "internal_resistance_ohm": {"low": 0.004, "high": 0.03},
            },
            "branches": [
                {
                    "name": "key fuse",
                    "kind": "contact",
                    "part": "fuse",
                    "nodes": ["battery post", "fused post"],
                    "resistance_ohm": {"low": 0.001, "high": 0.02},
                    "rating_a": 20,
                },
                {
                    "name": "feed to key switch",
                    "kind": "wire",
                    "nodes": ["fused post", "key in"],
                    "size": "12 AWG",
                    "length_m": 10.5,
                    "insulation": "GXL",
                },
                {
                    "name": "key switch",
                    "kind": "contact",
                    "part": "switch",
                    "nodes": ["key in", "key out"],
                    "resistance_ohm": {"low": 0.0, "high": 0.4},
                },
                {
                    "name": "firewall connector",
                    "kind": "contact",
                    "part": "connector",
                    "nodes": ["key out", "firewall"],
                    "resistance_ohm": {"low": 0.0, "high": 0.4},
                },
                {
                    "name": "wire to the rear",
                    "kind": "wire",
                    "nodes": ["firewall", "terminal 50"],
                    "size": "12 AWG",
                    "length_m": 11.0,
                    "insulation": "GXL",
                },
                {
                    "name": "engine strap",
                    "kind": "contact",
                    "part": "ground",
                    "nodes": ["engine block", "ground"],
                    "resistance_ohm": {"low": 0.0002, "high": 0.05},
                },
            ],
            "loads": [
                {
                    "name": "starter solenoid",
                    "kind": "solenoid",
                    "nodes": ["terminal 50", "engine block"],
                    "rated": {"pull_in_v": 7.8, "resistance_ohm": {"low": 0.7, "high": 1.1}},
                },
            ],
        },
        "cases": [
            {"name": "key off", "ambient_c": 20, "without": ["key switch"]},
            {"name": "key held", "ambient_c": 20, "duration_s": 5},
            {"name": "hot restart, aged", "ambient_c": 85, "ageing_factor": 1.5, "duration_s": 10},
        ],
        "load": "starter solenoid",
        "worst_case": "hot restart, aged",
        "meters": [
            {"name": "shop meter", "kind": "volts", "accuracy_percent": 0.5, "accuracy_digits": 2},
            {"name": "shop clamp", "kind": "amperes", "accuracy_percent": 2.0},
        ],
        "readings": [
            volts("key off", ["battery post", "ground"], 12.58),
            volts("key held", ["battery post", "ground"], 12.44),
            amperes("key held", "wire to the rear", 9.31),
            volts("key held", ["battery post", "fused post"], 0.0291),
            volts("key held", ["key in", "firewall"], 2.86),
            volts("key held", ["engine block", "ground"], 0.0422),
        ],
    }

    @property
    def fit_units(self) -> int:
        """Units of work that a fit comes to beside those of the cases."""
        return len(self.cases) * units_of(len(bounds_of(self)), len(self.circuit.parts))

    def broken_rules(self) -> Iterator[Broken]:
        """As for any cases; readings are of what is there, and something is left to find."""
        yield from super().broken_rules()
        yield not leaves_open(self), ("circuit",), NO_UNKNOWNS
        names = {load.name for load in self.circuit.loads}
        yield named_there(self.load, names, ("load",), NO_SUCH_LOAD)
        left_out = {case.name: case.without for case in self.cases}
        if self.worst_case is not None:
            missing = self.worst_case not in left_out
            yield missing, ("worst_case",), "No case has this name."
            off = self.load in left_out.get(self.worst_case, ())
            yield off, ("worst_case",), "This case leaves the load out."
        off = all(self.load in each for each in left_out.values())
        yield off, ("load",), "Every case leaves the load out."
        units = self.fit_units
        too_much = (
            f"A fit in {len(self.cases)} cases of a circuit of "
            f"{len(self.circuit.parts)} parts asks for {units:,} units of work, and one may ask "
            f"for {MOST_FIT:,}. Ask for fewer cases, intervals or parts at once."
        )
        yield units > MOST_FIT, ("cases",), too_much
        yield from same_names("meters", self.meters)
        yield from broken_readings(self.readings, self.meters, self.circuit, left_out)


class FittedCases(Cases):
    """A circuit in cases, its intervals narrowed by readings, as any operation takes them."""
