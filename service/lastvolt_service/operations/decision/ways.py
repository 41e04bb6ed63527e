"""The ways to help a load, each solved in the same cases: as it is, battery, mending, relay."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Annotated, Literal, Protocol

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.check import POOR
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.judge import Asked, Judged, judge
from lastvolt_service.operations.circuits.load_checks import JOINTS
from lastvolt_service.operations.circuits.mended import with_ohms
from lastvolt_service.operations.circuits.source_checks import source_condition
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.decision.proposal import DecisionRequest, case_with_relay
from lastvolt_service.operations.decision.to_stay import in_its_start, staying
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Check
from lastvolt_service.operations.sources.condition import Condition
from lastvolt_service.operations.starting.starter import StarterMotor

WayCode = Literal[
    "as_is", "battery", "mend", "battery_and_mend", "relay", "mend_then_relay", "all_of_these"
]


class Changes(Protocol):
    """Parts that a way puts in the place of others, or adds."""

    @property
    def replaced(self) -> frozenset[str]:
        """Names of what is replaced."""

    @property
    def names(self) -> tuple[str, ...]:
        """What is new, or done, in the order of work."""

    @property
    def described(self) -> tuple[str, ...]:
        """The same, a wire with its size."""

    @property
    def unjudged(self) -> Iterable[Checked]:
        """What is not said of it, and decides whether it bears its current."""

    def made(self, circuit: Circuit, asked: DecisionRequest) -> Circuit:
        """Make the circuit so."""


# Each of the parts that mending betters most is tried alone, then all together.
MOST_ALONE = 2
MOST_TOGETHER = 6
BOUNDS = frozenset({"rest_within_bounds"})
# Whether the load and the relays work. What a contact or a path drops is no reason by itself: the
# load's own voltage decides.
WORKS = frozenset(
    {
        "load_voltage",
        "not_joined",
        "pick_up_at_ambient",
        "pick_up_warm",
        "hold",
        "relay_rest",
        "coil_over_break",
    }
)
TOLD_ONLY = frozenset({"contact_drop", "path_drop"})
# A battery that sags under its load is weak where it has this many times what a sound one has.
LEAST_WEAKER = 1.2
FAILS = frozenset({"fail"})
Key = tuple[str | None, str | None, str]
Harm = frozenset[Key]


def key_of(check: Check) -> Key:
    """What a check is known by in all ways."""
    return check.case, check.part, check.code


@dataclass(frozen=True, slots=True)
class Treatment:
    """What a way changes of the circuit.

    Attributes
    ----------
    code : str
        What kind of way it is.
    sound : mapping of str to float
        Parts made sound, and their resistance then. [ohm]
    battery, relay : bool
        Whether the battery is full and sound, and whether the relay is fitted.
    changes : Changes or None
        What else is put in the place of something, or added.
    name : str
        As the caller calls it; empty where he does not.
    available : bool
        Whether it can be had, and so advised.
    """

    code: WayCode
    sound: Mapping[str, float] = field(default_factory=dict)
    battery: bool = False
    relay: bool = False
    changes: "Changes | None" = None
    name: str = ""
    available: bool = True

    @property
    def parts(self) -> tuple[str, ...]:
        """What is made sound."""
        return tuple(self.sound)

    @property
    def new(self) -> tuple[str, ...]:
        """What is new, or replaced, but for a relay's own; a wire with its size."""
        return self.changes.described if self.changes else ()

    @property
    def seen_to(self) -> frozenset[str]:
        """Names of parts that are made sound, or replaced."""
        return frozenset({*self.sound, *(self.changes.replaced if self.changes else ())})


@dataclass(frozen=True, slots=True)
class Way:
    """A way to help the load, and what it comes to."""

    code: Annotated[
        WayCode,
        "as_is, battery, mend, battery_and_mend, relay, mend_then_relay or all_of_these",
    ]
    parts: Annotated[tuple[str, ...], "what is made sound: cleaned, tightened or replaced"]
    new: Annotated[
        tuple[str, ...],
        "what is new, or takes the place of the old, without a relay's own; a wire with its size",
    ]
    works: Annotated[
        bool,
        "whether the load gets what it needs in every case, with a tenth to spare, nothing that "
        "was sound fails, and the relay, where it is fitted, may be built so",
    ]
    case: Annotated[str, "the case in which the load then has the least to spare"]
    load_voltage_v: Annotated[float, "that reaches the load in that case"]
    needed_v: Annotated[float, "lowest voltage that it works at there"]
    margin_v: Annotated[float, "load_voltage_v over needed_v"]
    gain_v: Annotated[float, "more voltage at the load, in the case that is poorest as it is"]


@dataclass(frozen=True)
class Tried:
    """A way with its checks.

    Attributes
    ----------
    treatment : Treatment
        What it changes.
    judged : tuple of Judged
        The circuit so, in every case.
    """

    treatment: Treatment
    judged: tuple[Judged, ...]

    def volts(self, place: int, load: str) -> tuple[float, float]:
        """What reaches the load in a case, and what it needs there. [V]."""
        states = load_states(self.judged[place].state)
        found = next(each for each in states if each.name == load)
        return found.voltage_v, found.needed_v or math.nan  # the schema asks for it

    def poorest(self, load: str) -> int:
        """Place of the case in which the load has the least to spare."""
        return min(range(len(self.judged)), key=lambda place: self._share(place, load))

    def least_share(self, load: str) -> float:
        """The least part of what the load needs that reaches it in any case."""
        return min(self._share(place, load) for place in range(len(self.judged)))

    def _share(self, place: int, load: str) -> float:
        volts, needed_v = self.volts(place, load)
        return volts / needed_v

    def found(
        self,
        codes: AbstractSet[str] | None,
        verdicts: AbstractSet[str] = FAILS,
        parts: AbstractSet[str] | None = None,
    ) -> tuple[Check, ...]:
        """Checks of some codes with some verdicts, of some parts or all, case by case."""
        return tuple(
            check
            for each in self.judged
            for check in each.checks
            if (codes is None or check.code in codes)
            and check.verdict in verdicts
            and (parts is None or check.part in parts)
        )

    def short(self, load: str, own: AbstractSet[str]) -> tuple[Check, ...]:
        """What leaves the load too little, or little to spare, or the proposed relay open."""
        opened = self.found(WORKS, FAILS, own) if self.treatment.relay else ()
        return (*opened, *self.found(WORKS, POOR, {load}))

    def undecided(self, parts: AbstractSet[str]) -> tuple[Check, ...]:
        """Checks of some parts that flip within the bounds of the inputs, but for what is told."""
        flip = self.found(None, frozenset({"undecided"}), parts)
        return (
            *self.found(BOUNDS, FAILS, parts),
            *(check for check in dict.fromkeys(flip) if check.code not in TOLD_ONLY),
        )

    @cached_property
    def harm(self) -> Harm:
        """Every failed check but those that are told only, and those within bounds."""
        return frozenset(
            key_of(check)
            for each in self.judged
            for check in each.checks
            if check.verdict == "fail" and check.code not in TOLD_ONLY | BOUNDS
        )

    @property
    def clamps(self) -> set[str]:
        """Names of clamps of batteries: all of a vehicle hangs there, whatever of it is given."""
        model = self.judged[0].state.model
        ground = model.network.node_names[model.network.reference]
        posts = {node for source in model.parts["sources"] for node in source.nodes} - {ground}
        return {
            part.name
            for part in model.parts["resistors"]
            if part.kind == "contact"
            and part.asked.part in JOINTS
            and not posts.isdisjoint(part.nodes)
        }

    def told(self, load: str, works: bool, as_is: "Tried") -> Way:
        """Say what it comes to."""
        least, poorest = self.poorest(load), as_is.poorest(load)
        volts, needed_v = self.volts(least, load)
        return Way(
            self.treatment.code,
            self.treatment.parts,
            self.treatment.new,
            works,
            self.judged[least].case.name,
            volts,
            needed_v,
            volts - needed_v,
            self.volts(poorest, load)[0] - as_is.volts(poorest, load)[0],
        )


@dataclass(frozen=True, slots=True)
class Ways:
    """What all ways have in common: the circuit, the proposal, and what is poor in it.

    Attributes
    ----------
    asked, new : DecisionRequest, Circuit
        The question, and the circuit with the relay.
    batteries : mapping of str to Condition
        Of each case, how the battery is.
    mends : tuple of Mend
        Poor contacts, the one that mending betters most first.
    given, last : tuple of Treatment
        Ways beside these, the plainest first; and those that come after any relay.
    not_to_be_had : set of str
        Contacts that can be neither cleaned nor bought.
    starter : StarterMotor or None
        That the load, a starter's solenoid, closes on the battery, where it is given.
    hidden : set of str
        Contacts that are worn, and show it once what is open before them is mended.
    """

    asked: DecisionRequest
    new: Circuit
    batteries: Mapping[str, Condition]
    mends: tuple[Mend, ...]
    given: tuple[Treatment, ...] = ()
    last: tuple[Treatment, ...] = ()
    not_to_be_had: AbstractSet[str] = frozenset()
    starter: StarterMotor | None = None
    hidden: AbstractSet[str] = frozenset()

    @property
    def battery_first(self) -> bool:
        """Whether the battery is seen to before all else.

        Not where it is low in some cases only: these ask what happens if it is.
        """
        found = self.batteries.values()
        return all(each.is_poor for each in found) or any(
            each.is_weak or each.may_be_frozen for each in found
        )

    def treatments(self) -> Iterator[Treatment]:
        """List what may be done, the plainest first; without what needs no doing."""
        all_sound = {each.name: each.sound_ohm or 0.0 for each in self.mends[:MOST_TOGETHER]}
        alone = [{each.name: each.sound_ohm or 0.0} for each in self.mends[:MOST_ALONE]]
        sounds = [*alone, *([all_sound] if len(all_sound) > 1 else [])]
        poor = any(each.is_poor for each in self.batteries.values())
        if poor:
            yield Treatment("battery", battery=True)
        yield from (Treatment("mend", sound) for sound in sounds)
        if poor and all_sound:
            yield Treatment("battery_and_mend", all_sound, battery=True)
        yield from (each for each in self.given if not each.relay)
        if self.asked.proposal is not None:
            yield Treatment("relay", relay=True)
            yield from (Treatment("mend_then_relay", sound, relay=True) for sound in sounds)
            yield from (each for each in self.given if each.relay)
            if poor:
                for sound in ({}, all_sound)[: 1 + bool(all_sound)]:
                    yield Treatment("all_of_these", sound, battery=True, relay=True)
        yield from self.last

    def solve(self, treatments: Sequence[Treatment], *, within_bounds: bool = False) -> list[Tried]:
        """Solve ways in every case, intervals at their middle or within all of their bounds.

        One that has no state of rest in some case is left out.
        """
        cases = self.asked.cases
        found = judge(
            [
                self.question(treatment, case, within_bounds=within_bounds)
                for treatment in treatments
                for case in cases
            ]
        )
        rows = [found[at : at + len(cases)] for at in range(0, len(found), len(cases))]
        solved = []
        for treatment, row in zip(treatments, rows, strict=True):
            some = (each for each in row if isinstance(each, Judged))
            judged = tuple(staying(each, self.not_to_be_had) for each in some)
            if self.starter is not None:
                judged = tuple(map(in_its_start, judged))
            if len(judged) == len(cases):
                solved.append(Tried(treatment, judged))
        return solved

    def question(self, treatment: Treatment, case: Case, *, within_bounds: bool = False) -> Asked:
        """The circuit so in a case, intervals at their middle or as they are."""
        load, circuit = self.asked.load, self.new if treatment.relay else self.asked.circuit
        here = case_with_relay(case, load, self.asked.proposal) if treatment.relay else case
        circuit = with_ohms(circuit, treatment.sound)
        fitted: tuple[str, ...] = ()
        if treatment.changes:
            fitted = treatment.changes.names
            circuit = treatment.changes.made(circuit, self.asked)
        if not within_bounds:
            circuit, here = plain(circuit, here)
        battery = self.batteries[case.name]
        if treatment.battery and battery.is_poor:
            here = changed(
                here, open_circuit_v=battery.sound_v, internal_resistance_ohm=battery.sound_ohm
            )
        return Asked(circuit, here, self.asked.system_v, load, treatment.code, frozenset(fitted))


def battery_of(asked: DecisionRequest, judged: Judged) -> Condition:
    """How the battery of a case is; one that sags and could be sounder is weak, too."""
    circuit, case = plain(asked.circuit, judged.case)
    found = source_condition(circuit, case, judged.state, asked.system_v)
    sags = any(check.code == "sag" and check.verdict == "fail" for check in judged.checks)
    sounder = found.internal_resistance_ohm > LEAST_WEAKER * found.sound_ohm
    return replace(found, is_weak=True) if sags and sounder else found


def poor_contacts(
    as_is: Tried, proposed: Tried | None, load: str, relay: str | None
) -> tuple[Mend, ...]:
    """What is worth mending: contacts that drop more than sound ones do, in any case."""
    tried_for = [(as_is, load)]
    if proposed is not None and relay is not None:
        tried_for += [(proposed, load), (proposed, relay)]
    names = {check.part for each, _ in tried_for for check in each.found({"contact_drop"})}
    best: dict[str, Mend] = {}
    for tried, decisive in tried_for:
        for judged in tried.judged:
            if not any(c.code == "contact_drop" and c.verdict == "fail" for c in judged.checks):
                continue
            for mend in mending(judged.state, decisive, judged.case.usual_ageing):
                if mend.name in names and mend.sound_ohm is not None:
                    known_one = best.get(mend.name, mend)
                    best[mend.name] = replace(
                        max(mend, known_one, key=lambda each: each.regained_v),
                        sound_ohm=min(mend.sound_ohm, known_one.sound_ohm or mend.sound_ohm),
                    )
    return tuple(sorted(best.values(), key=lambda each: -each.regained_v))


def part_at(path: Sequence[str], circuit: Circuit) -> str | None:
    """Name of the part that an input belongs to; None of the source and of a case."""
    parts = getattr(circuit, path[1], None) if path[0] == "circuit" else None
    return str(parts[int(path[2])].name) if isinstance(parts, list) else None
