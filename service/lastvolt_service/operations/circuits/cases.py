"""Cases laid over a circuit, in requests."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, ClassVar, TypeVar

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Quantity,
    by_name,
    changed,
    count,
    known,
    many,
    part,
    quantity,
)
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.fields import MAX_BRANCHES, Circuit
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.parts import Toleranced
from lastvolt_service.operations.circuits.work import BOUND, MOST_UNITS, Work
from lastvolt_service.operations.common_fields import (
    ASK_NOMINAL,
    between_systems,
    named_there,
    supply,
)
from lastvolt_service.operations.fuses.profile import (
    OF_CIRCUIT,
    STARTER_CONTROL,
    STARTER_MOTOR,
)
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.operations.wires.fields import NOMINALS
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.units import Interval

MAX_CASES = 20
MAX_TOLERANCED = 16
MAX_ZONES = 50
NO_RATINGS = (
    "The source is given by its voltage, which tells its charge: give open_circuit_v here, or the "
    "source's battery by its ratings."
)
# What a battery run down is of, and what it looks like. [V]
RUN_DOWN_V, RUN_DOWN_LOOKS_LIKE_V = 12, 6


class Case(Toleranced):
    """A named condition, laid over the circuit."""

    name: str = label("what the answer calls this case")
    ambient_c: float = quantity(
        "ambient of all zones that are not named", default=20.0, maximum=250.0
    )
    zone_ambients_c: Mapping[str, float] = by_name(
        "ambient by zone",
        Quantity(meaning="ambient of the zone", maximum=250.0),
        maximum=MAX_ZONES,
    )
    open_circuit_v: float = supply("in place of that of the source", default=ABSENT)
    internal_resistance_ohm: float = quantity(
        "in place of that of the source", maximum=10.0, default=ABSENT
    )
    state_of_charge_percent: float = quantity("of the battery, in place of its own", default=ABSENT)
    ageing_factor: float = quantity(
        "on the resistance of every contact that ages", minimum=0.1, maximum=100.0, default=1.0
    )
    without: Sequence[str] = many(
        label("a part"),
        "parts left out: open switches, loads that are off",
        minimum=0,
        maximum=MAX_BRANCHES,
    )
    held: Sequence[str] = many(
        label("a part"),
        "relays and solenoids that have pulled in before",
        minimum=0,
        maximum=MAX_BRANCHES,
    )
    duration_s: float = quantity(
        "how long it lasts, from a start at ambient; by default as long as a key is held in a "
        "start and where nothing but a starter is fed, else for ever",
        minimum=1e-2,
        maximum=86400.0,
        default=ABSENT,
    )

    @property
    def usual_ageing(self) -> float:
        """The ageing factor, or the middle of its bounds."""
        return _middle(self.ageing_factor)

    @property
    def usual_duration_s(self) -> float:
        """How long it lasts, or the middle of its bounds; NaN for ever. [s]."""
        return _middle(self.duration_s)

    def ambient_c_of(self, part: Any) -> float:
        """Tell the ambient of a part: its own, or that of its zone. [degC]."""
        own = getattr(part, "ambient_c", None)
        return float(own if own is not None and known(own) else self.ambient_of(part.zone))

    def ambient_of(self, zone: str | None) -> float:
        """Tell the ambient of a zone. [degC]."""
        return self.zone_ambients_c.get(zone or "", self.ambient_c)


def _middle(value: float | Interval) -> float:
    return 0.5 * (value.low + value.high) if isinstance(value, Interval) else value


AskedCases = TypeVar("AskedCases", bound="Cases")


def with_usual_starts(asked: AskedCases) -> AskedCases:
    """Say of a start what is not told: which solenoid is the starter's, and how long it lasts.

    One solenoid of no circuit, beside a starter's motor, is that's; a case in which nothing but a
    starter is fed lasts as long as a key is held.
    """
    loads = asked.circuit.loads
    nobodys = [each for each in loads if isinstance(each, SolenoidLoad) and each.circuit is None]
    circuits = {each.circuit for each in loads}
    if STARTER_MOTOR in circuits and STARTER_CONTROL not in circuits and len(nobodys) == 1:
        its = changed(nobodys[0], circuit=STARTER_CONTROL)
        loads = [its if each is nobodys[0] else each for each in loads]
        asked = changed(asked, circuit=changed(asked.circuit, loads=loads))
    fed = [
        {str(load.circuit) for load in loads if load.name not in off}
        for off in (set(case.without) for case in asked.cases)
    ]
    return _timed(asked, [found if found <= OF_CIRCUIT.keys() else () for found in fed])


def as_long_as_held(asked: AskedCases, circuits: Iterable[str]) -> AskedCases:
    """Say of cases that do not tell that they last as long as what starts an engine is on."""
    return _timed(asked, [circuits] * len(asked.cases))


def _timed(asked: AskedCases, circuits: Sequence[Iterable[str]]) -> AskedCases:
    """Let each case that does not tell last as long as the longest of its circuits is on."""
    held_s = [[load_profiles()[OF_CIRCUIT[each]].on_time_s for each in fed] for fed in circuits]
    timed = [
        changed(case, duration_s=max(each)) if each and not known(case.duration_s) else case
        for case, each in zip(asked.cases, held_s, strict=True)
    ]
    return changed(asked, cases=timed) if any(held_s) else asked


class Cases(Toleranced):
    """A circuit and the cases laid over it."""

    bound: ClassVar[str] = BOUND

    circuit: Circuit = part(Circuit, "the network")
    cases: Sequence[Case] = many(Case, "named conditions", maximum=MAX_CASES)
    nominal_v: float = count(
        "nominal voltage of the system, for limits of drops; by default told from the source",
        choices=NOMINALS,
        default=ABSENT,
    )

    @property
    def depends_on_nominal(self) -> bool:
        """Whether anything is held against a limit of its system."""
        return any(known(load.circuit) for load in self.circuit.loads)

    @property
    def system_v(self) -> float:
        """Nominal voltage: as given, else of the battery, else told from the source. [V]."""
        battery: Any = self.circuit.source.battery  # of one row, so that its numbers are plain
        if known(self.nominal_v):
            return self.nominal_v
        if battery is not None:
            return float(battery.nominal_v)
        return float(nominal_of(self._rest_v, NOT_GIVEN))

    @property
    def sure_v(self) -> float:
        """Nominal voltage, NaN where the source lies between two systems and nobody tells. [V]."""
        told = known(self.nominal_v) or self.circuit.source.battery is not None
        return self.system_v if told or not between_systems(self._rest_v) else NOT_GIVEN

    @property
    def _rest_v(self) -> float:
        volts = self.circuit.source.open_circuit_v
        return 0.5 * (volts.low + volts.high) if isinstance(volts, Interval) else volts

    @property
    def _may_be_run_down(self) -> bool:
        """Whether what looks like a 6 V battery stands beside 12 V: it may be one run down."""
        if known(self.nominal_v) or self.circuit.source.battery is not None:
            return False
        volts = [self._rest_v, *(_middle(each.drive_v) for each in self.circuit.further_sources)]
        own, *others = (int(nominal_of(each, NOT_GIVEN)) for each in volts)
        return own == RUN_DOWN_LOOKS_LIKE_V and RUN_DOWN_V in others

    def known_names(self) -> set[str]:
        """Collect the names of parts that a case may use."""
        return {each.name for each in self.circuit.parts}

    def broken_rules(self) -> Iterator[Broken]:
        """Each case has a name of its own and names parts that are there; few are intervals."""
        battery: Any = self.circuit.source.battery
        told_v = self.system_v if battery is None else battery.nominal_v
        differs = known(self.nominal_v) and told_v != self.nominal_v
        yield differs, ("nominal_v",), "The battery of the circuit is for another voltage."
        names = self.known_names()
        counted = Counter(case.name for case in self.cases)
        for index, case in enumerate(self.cases):
            twice = counted[case.name] > 1
            yield twice, ("cases", index, "name"), "Another case has this name."
            if battery is None:
                of_charge = ("cases", index, "state_of_charge_percent")
                yield known(case.state_of_charge_percent), of_charge, NO_RATINGS
            for field in ("without", "held"):
                for place, part_name in enumerate(getattr(case, field)):
                    path = ("cases", index, field, place)
                    yield named_there(
                        part_name, names, path, "No part of the circuit has this name"
                    )
        settled = known(self.nominal_v) or not self.depends_on_nominal
        unsettled = self._may_be_run_down or (not settled and between_systems(self._rest_v))
        yield unsettled, ("nominal_v",), ASK_NOMINAL
        work = Work.of(self)
        too_many = work.intervals > MAX_TOLERANCED
        yield too_many, (), f"At most {MAX_TOLERANCED} inputs may be intervals."
        too_much = work.units > MOST_UNITS
        yield (
            too_much,
            ("cases",),
            f"This request asks for {work.units:,} units of work, and one may ask for "
            f"{MOST_UNITS:,}. Ask for fewer cases at once.",
        )
        yield (
            too_much,
            ("circuit",),
            f"One case of this circuit of {work.parts} parts and {work.relays} relays takes many "
            f"units of work, and its {work.intervals} intervals more. Leave out what the question "
            "does not need.",
        )
