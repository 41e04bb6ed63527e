"""What a proof takes: a circuit, the way that was built, and readings before and after."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from lastvolt_service.fields import ABSENT, Broken, many, part
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.cases import Case, Cases
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.work import BOUND
from lastvolt_service.operations.common_fields import same_names
from lastvolt_service.operations.decision.given_ways import GivenWay
from lastvolt_service.operations.decision.proposal import (
    DecisionRequest,
    Proposal,
    RelayRetrofitRequest,
)
from lastvolt_service.operations.meter.fit_model import bounds_of, leaves_open
from lastvolt_service.operations.meter.fit_request import (
    NO_UNKNOWNS,
    CircuitFitRequest,
    amperes,
    units_of,
    volts,
)
from lastvolt_service.operations.meter.proof_circuits import new_names, promised, settled_way
from lastvolt_service.operations.meter.reading_fields import (
    MAX_READINGS,
    METERS,
    MeterData,
    MeterReading,
    broken_readings,
)
from lastvolt_service.operations.meter.walk import own_coil

# Some 4 s of one core of 2026, and up to 10 where wires are followed in time: readings contradict
# each other, and no fault goes with them. The example asks for nearly as much.
# Each fault is tried in each case, however few parts there are: measured it is as these units more.
MOST_PROOF, UNITS_OF_FAULTS = 4_800, 500
BOUND_OF_PROOFS = (
    f"{BOUND} A proof may ask for {MOST_PROOF:,} more: as a fit, for the circuit before and for "
    "that after, in which each contact and each end of a wire that is new is an interval, too, and "
    f"{UNITS_OF_FAULTS} for each case."
)
BATTERY = (
    "Before and after are compared at one supply, so that what a battery brings is not proven "
    "here: read its volts at rest and at work, and say what else was done."
)


class GainProofRequest(DecisionRequest):
    """A circuit as it was, the way that was built, and what was read before and after."""

    bound: ClassVar[str] = BOUND_OF_PROOFS

    way: GivenWay = part(
        GivenWay,
        "what was done; a relay's nodes are then `NAME [30]`, `NAME [87]` and, at the load, "
        "`NAME [load]` where it has an outlet",
    )
    worst_case: str | None = label(
        "case in which before and after are compared; by default that in which the load had the "
        "least to spare",
        default=ABSENT,
    )
    meters: Sequence[MeterData] = METERS
    before: Sequence[MeterReading] = many(
        MeterReading, "what was read before", maximum=MAX_READINGS
    )
    after: Sequence[MeterReading] = many(
        MeterReading, "what was read once the way was built", maximum=MAX_READINGS
    )

    example: ClassVar = {
        **{
            key: CircuitFitRequest.example[key]
            for key in ("circuit", "cases", "load", "worst_case", "meters")
        },
        "switch": "key switch",
        "way": {
            "name": "relay at the starter",
            "relay": RelayRetrofitRequest.example["proposal"],
        },
        "before": CircuitFitRequest.example["readings"],
        "after": [
            volts("key off", ["battery post", "ground"], 12.61),
            volts("key held", ["battery post", "ground"], 12.42),
            amperes("key held", "relay to solenoid", 13.45),
            volts("key held", ["start relay [load]", "engine block"], 12.27),
            volts("key held", ["battery post", "start relay [30]"], 0.0571),
            amperes("key held", "key switch", 0.13),
            volts("key held", ["key in", "firewall"], 0.0415),
        ],
    }

    @property
    def proposal(self) -> Proposal | None:
        """The relay that was fitted, if one was."""
        return self.way.relay

    @property
    def as_promised(self) -> Circuit:
        """The circuit as it is to become, contacts that are made sound as they were."""
        return promised(self, settled_way(self.way), {})

    @property
    def fit_units(self) -> int:
        """Units of work that both fits come to beside those of the cases."""
        unknowns, parts = len(bounds_of(self)), len(self.circuit.parts)
        new = 2 * len(new_names(self, self.way))
        before, after = units_of(unknowns, parts), units_of(unknowns + new, parts + new)
        return len(self.cases) * (before + after + UNITS_OF_FAULTS)

    def known_names(self) -> set[str]:
        """As for any decision, and what else is new."""
        return super().known_names() | new_names(self, self.way)

    def broken_rules(self) -> Iterator[Broken]:
        """As for any decision; the way fits, and readings are of what is there."""
        wrong = [each for each in self._of_the_question() if each[0]]
        yield from wrong
        if wrong:
            return
        units = self.fit_units
        too_much = (
            f"A proof in {len(self.cases)} cases asks for {units:,} units of work, and one may "
            f"ask for {MOST_PROOF:,}. Ask for fewer cases, intervals or parts at once."
        )
        yield units > MOST_PROOF, ("cases",), too_much
        left_out = {case.name: case.without for case in self.cases}
        yield from same_names("meters", self.meters)
        sides = (("before", self.before, self.circuit), ("after", self.after, self.as_promised))
        for field, readings, circuit in sides:
            yield from broken_readings(readings, self.meters, circuit, left_out, field)

    def _of_the_question(self) -> Iterator[Broken]:
        yield from super().broken_rules()
        yield not leaves_open(self), ("circuit",), NO_UNKNOWNS
        yield self.way.battery, ("way", "battery"), BATTERY
        yield from self.way.fits(self, Cases.known_names(self), ("way",))

    def _is_ruled(self, load: AnyLoad) -> bool:
        """A plug may be mended behind the load's own relay, whose coil the switch feeds."""
        own = self.way.relay is None and own_coil(self.circuit, load, self.switch) is not None
        return own or super()._is_ruled(load)

    def _fits_the_cases(self, load: AnyLoad) -> Iterator[Broken]:
        """Readings at rest are wanted, too: a case may leave out the load or the switch."""
        needed = {load.name, self.switch}
        compared = [case.name for case in self.cases if needed.isdisjoint(case.without)]
        yield not compared, ("cases",), "The load and the switch must be there in some case."
        wrong = self.worst_case is not None and self.worst_case not in compared
        yield wrong, ("worst_case",), "No case with the load and the switch has this name."
        relay = self.way.relay
        if relay is not None:
            for index, case in enumerate(self.cases):
                for place, name in enumerate(case.without):
                    path = ("cases", index, "without", place)
                    yield name == relay.relay.name, path, "The relay is there in every case."
        yield from self._holds(load)

    def side(
        self, circuit: Circuit, cases: Sequence[Case], readings: Sequence[MeterReading]
    ) -> CircuitFitRequest:
        """What is asked of one fit."""
        return CircuitFitRequest(
            circuit=circuit,
            cases=list(cases),
            nominal_v=self.nominal_v,
            load=self.load,
            meters=self.meters,
            readings=readings,
        )
