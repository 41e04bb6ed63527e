"""The stages of a start, each a state of rest of one network."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed, known
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bridging import mending
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.load_way import in_the_way
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.ruled import Ruled
from lastvolt_service.operations.starting.starter import (
    HOLD_IN,
    MAIN,
    MOTOR,
    PULL_IN,
    Starter,
    StartSequenceRequest,
    with_starter,
)
from lastvolt_service.tables.short_circuit import CELL_NOMINAL_V

StageName = Literal["key_on", "main_contact", "cranking", "key_off"]
Sound = Literal[
    "nothing", "click", "hum", "clunk", "clicking", "cranking", "slow_cranking", "quiet", "runs_on"
]
# Windings with less than this of the voltage there is make no sound. Common practice.
SILENT_SHARE = 0.1
# A motor's force goes with its current: with less than this of it no engine turns. Common practice.
TURNS_SHARE = 0.5
MOST_BACK_SHARE = 0.75
# Nor does one that takes so little of what its battery gives a short: its own brushes let no more
# through. Common practice.
LEAST_OF_A_SHORT = 1 / 50
# No vehicle's battery has less: 2 mohm of 12 V. [ohm/V]. Common practice.
LEAST_BATTERY_OHM_PER_V = 0.002 / 12.0
# A contact costs much from here on. [V]. Common practice.
MUCH_V = 0.3
# Less than this of a winding's current, from elsewhere, keeps no plunger. Common practice.
LEAST_FEED_SHARE = 0.01
# A closed plunger is kept by a sixth of what moves the open one, and by less. Common practice.
FED_SHARE = 0.1
# Where a current can flow.
CONDUCTS = ("wires", "contacts", *LOAD_GROUPS)
# What charges holds each cell of a battery at: 14.2 V of 12. Common practice.
CHARGED_CELL_V = 14.2 / 6


@dataclass(frozen=True, slots=True)
class StartStage:
    """One stage at rest."""

    name: Annotated[
        StageName,
        "key_on: both windings in; main_contact: the motor still at a stand; cranking; key_off: "
        "the windings in series, fed from the motor's terminal, while the engine that now runs "
        "charges and turns the motor",
    ]
    sound: Annotated[
        Sound,
        "what is heard: nothing, click of a relay, hum, clunk of the plunger, clicking over and "
        "over, cranking, slow_cranking, quiet, runs_on; common practice",
    ]
    supply_v: Annotated[float, "at the posts of the battery"]
    control_v: Annotated[float, "at terminal 50, against the housing"]
    motor_v: Annotated[float, "at the motor"]
    motor_current_a: Annotated[float, "through the motor"]
    pull_in_current_a: Annotated[
        float, "through the pull-in winding towards the motor; below zero the other way"
    ]
    hold_in_current_a: Annotated[float, "through the hold-in winding to the housing"]
    ampere_turns: Annotated[float, "of both windings together, each with its sign"]
    needed_ampere_turns: Annotated[
        float | None, "that move the plunger, or keep it; null where that is not known"
    ]
    relays: Annotated[tuple[str, ...], "relays that are closed"]


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage, and the state that it was read from.

    Attributes
    ----------
    name : str
        See `StartStage`.
    state : State
        The network at rest.
    starter : Starter
        As requested.
    shall_hold : tuple of str
        Relays that were closed before and must be so still.
    """

    name: StageName
    state: State
    starter: Starter
    shall_hold: tuple[str, ...]

    @property
    def ampere_turns(self) -> float:
        """Of both windings, each with its sign; above zero they pull. [A]."""
        starter = self.starter
        return starter.pull_in_turns * self.current_a(
            PULL_IN
        ) + starter.hold_in_turns * self.current_a(HOLD_IN)

    @property
    def needed(self) -> float:
        """Ampere-turns that move the plunger, or keep it; NaN where that is not known. [A]."""
        first = self.name == "key_on"
        return self.starter.ampere_turns if first else self.starter.hold_ampere_turns

    @property
    def lets_go_below(self) -> float:
        """Ampere-turns that keep the plunger: what moves an open one keeps it, if no less. [A].

        With something that feeds terminal 50 it is not relied on to let go at what its maker, or a
        guess, says of it.
        """
        starter = self.starter
        most = FED_SHARE * starter.ampere_turns if self.comes_in == "fed" else starter.ampere_turns
        return float(np.fmin(starter.hold_ampere_turns, most))

    @property
    def comes_in(self) -> Literal["unequal", "fed", "drawn"]:
        """What comes to terminal 50 beside what one winding sends the other."""
        pull_in_a, hold_in_a = self.current_a(PULL_IN), self.current_a(HOLD_IN)
        if math.isclose(pull_in_a, -hold_in_a, rel_tol=LEAST_FEED_SHARE):
            return "unequal"
        return "fed" if pull_in_a + hold_in_a > 0 else "drawn"

    @property
    def incoming_a(self) -> float:
        """What comes to terminal 50 from elsewhere; below zero it goes from there. [A]."""
        return self.current_a(PULL_IN) + self.current_a(HOLD_IN)

    @property
    def way_to_50(self) -> list[tuple[float, str]]:
        """Parts over which that current comes, or goes, from terminal 50 on, and what each takes.

        A relay that is closed takes infinitely much: it is told before its wires. [V].
        """
        windings = {self.starter.called(part) for part in (PULL_IN, HOLD_IN)}
        parts = [
            (part, abs(drop_v), abs(current))
            for part, drop_v, current in self.state.carrying(*CONDUCTS)
            if part.name not in windings and abs(current) > LEAST_FEED_SHARE * abs(self.incoming_a)
        ]
        node, way = self.starter.control_node, list[tuple[float, str]]()
        while here := [each for each in parts if node in each[0].nodes]:
            part, drop_v, _ = most = max(here, key=lambda each: each[2])
            way.append((math.inf if part.group == "contacts" else drop_v, part.name))
            parts.remove(most)
            node = part.nodes[1] if part.nodes[0] == node else part.nodes[0]
            if node in self.state.model.fed_from or node in self.state.model.posts:
                break
        return way

    @property
    def hardly_turns(self) -> bool:
        """Whether the motor takes so little that it turns no engine."""
        return self.current_a(MOTOR) < self.least_motor_a

    @property
    def least_motor_a(self) -> float:
        """What turns an engine: half of what its battery would give it with sound cables. [A].

        A worn motor is no measure of its own: nothing turns with less than a share of a short.
        """
        model, starter = self.state.model, self.starter
        # At no speed does it make more itself than this leaves, and turn anything.
        sound_v = max(model.drive_v - starter.turning_v, (1.0 - MOST_BACK_SHARE) * model.drive_v)
        sound_a = sound_v / (model.internal_ohm + starter.motor_resistance_ohm)
        # One that is given as ideal is no measure of what an engine takes.
        least_ohm = LEAST_BATTERY_OHM_PER_V * model.drive_v
        short_a = model.drive_v / max(model.internal_ohm, least_ohm) if model.internal_ohm else 0.0
        return max(TURNS_SHARE * sound_a, LEAST_OF_A_SHORT * short_a)

    @property
    def pulls(self) -> bool:
        """Whether the plunger moves, or stays; it stays where nobody knows what it needs."""
        return not abs(self.ampere_turns) < self.needed

    @property
    def dropped(self) -> tuple[str, ...]:
        """Relays that were closed before, must be so still, and are not."""
        return tuple(each for each in self.shall_hold if each not in self.relays)

    @property
    def breaks_off(self) -> bool:
        """Whether a relay drops out or chatters, or the plunger goes back."""
        return bool(self.dropped or self.state.solution.chatter) or not self.pulls

    @property
    def relays(self) -> tuple[str, ...]:
        """Relays that are closed."""
        model, energised = self.state.model, self.state.solution.energised
        return tuple(each.name for each, on in zip(model.relays, energised, strict=True) if on)

    def current_a(self, part: str) -> float:
        """Current of a part of the starter, in the direction of its windings. [A]."""
        return self._way_round(part) * self.state.current_a(self.starter.called(part))

    def across_v(self, part: str) -> float:
        """Voltage across a part of the starter, in the direction of its windings. [V]."""
        return self._way_round(part) * self.state.across_v(self.starter.called(part))

    def _way_round(self, part: str) -> float:
        """-1 of a part that stands in the network the other way round than the starter has it."""
        found = self.state.named(self.starter.called(part))
        return 1.0 if found is None or found.nodes == (*found.asked.nodes,) else -1.0

    def told(self, sound: Sound) -> StartStage:
        """Say it with what is heard."""
        return StartStage(
            name=self.name,
            sound=sound,
            supply_v=float(self.state.flow("sources").drop_v[0]),
            control_v=self.across_v(HOLD_IN),
            motor_v=self.across_v(MOTOR),
            motor_current_a=self.current_a(MOTOR),
            pull_in_current_a=self.current_a(PULL_IN),
            hold_in_current_a=self.current_a(HOLD_IN),
            ampere_turns=self.ampere_turns,
            needed_ampere_turns=None if math.isnan(self.needed) else self.needed,
            relays=self.relays,
        )


def stages(asked: StartSequenceRequest, case: Case) -> Iterator[Stage]:
    """Go through a start until something breaks it off, and then let go of the key.

    Raises
    ------
    CalculationError
        If the network of a stage has no state of rest.
    """
    starter = asked.starter
    main = starter.called(MAIN)
    standing = with_starter(asked, back_v=0.0)
    turning = with_starter(asked, back_v=starter.turning_v)
    closed: tuple[str, ...] = ()
    planned: tuple[tuple[StageName, Circuit, str | None], ...] = (
        ("key_on", standing, main),
        ("main_contact", standing, None),
        ("cranking", turning, None),
    )
    for name, circuit, left_out in planned:
        without = [*case.without, *([left_out] if left_out else [])]
        state = rest(circuit, changed(case, without=without, held=list(closed)))
        stage = Stage(name, state, starter, closed)
        yield stage
        if stage.breaks_off:
            return
        closed = stage.relays
    yield _key_off(asked, case, closed, stage.state.model.drive_v)


def _key_off(
    asked: StartSequenceRequest, case: Case, closed: Sequence[str], drive_v: float
) -> Stage:
    """The key let go because the engine runs: it charges, and its starter takes nothing more."""
    cells = asked.system_v / CELL_NOMINAL_V
    charged_v = max(drive_v, CHARGED_CELL_V * cells)
    running = changed(
        case,
        open_circuit_v=charged_v,
        without=[*case.without, *let_go_with(asked)],
        held=list(closed),
    )
    state = rest(with_starter(asked, back_v=charged_v), running)
    return Stage("key_off", state, asked.starter, ())  # relays shall let go


def let_go_with(asked: StartSequenceRequest) -> list[str]:
    """The key, and switches side by side with it, such as a start button: all are let go."""
    branches = asked.circuit.branches
    ends = next({*each.nodes} for each in branches if each.name == asked.key)
    return [
        each.name
        for each in branches
        if each.name == asked.key
        or (isinstance(each, CircuitContact) and each.part == "switch" and {*each.nodes} == ends)
    ]


def as_it_cranks(asked: StartSequenceRequest, case: Case, found: Sequence[Stage]) -> State | None:
    """The state while it cranks, also where its plunger or a relay would not hold until then.

    None where the plunger does not go home.
    """
    for stage in found:
        if stage.name == "cranking":
            return stage.state
    first = found[0]
    if first.breaks_off:
        return None
    turning = with_starter(asked, back_v=asked.starter.turning_v)
    return rest(turning, changed(case, held=list(first.relays)))


def let_go(asked: StartSequenceRequest, case: Case, found: Sequence[Stage]) -> Stage | None:
    """The key let go with the plunger home, also where another fault keeps that from getting there.

    None where that finds no rest.
    """
    if found[-1].name == "key_off":
        return found[-1]
    first = found[0]
    # One that is too weak to close yet, too, once it is mended.
    ruled = Ruled.of(asked.circuit, case).by.get(frozenset({asked.key}), frozenset())
    try:
        return _key_off(asked, case, [*{*first.relays, *ruled}], first.state.model.drive_v)
    except CalculationError:
        return None


def off_the_motors_way(found: Sequence[Stage]) -> frozenset[str]:
    """Parts that do not carry the motor's current as it cranks; none where it does not get there.

    With the plunger home the key and its wires have no part in how fast the engine turns. A contact
    that hardly conducts is in its way all the same, where a jumper across it betters the motor.
    """
    cranks = next((each for each in found if each.name == "cranking" and not each.breaks_off), None)
    if cranks is None:
        return frozenset()
    on = {each.part for each in in_the_way(cranks.state, cranks.starter.called(MOTOR))}
    parts = cranks.state.carrying("wires", "resistors", "contacts")
    off = {part: abs(drop_v) for part, drop_v, _ in parts if part not in on}
    poor = {part.name for part, volts in off.items() if part.kind == "contact" and volts > MUCH_V}
    mends = mending(cranks.state, cranks.starter.called(MOTOR)) if poor else ()
    in_its_way = {each.name for each in mends if each.costs_v > MUCH_V}
    return frozenset(part.name for part in off) - in_its_way


def heard(stage: Stage) -> Sound:
    """What a stage sounds like at the key. Common practice."""
    if stage.name == "key_on":
        return _at_first(stage)
    if stage.name == "key_off":
        return "runs_on" if _runs_on(stage) else "quiet"
    if stage.breaks_off:
        return "clicking"
    if stage.name == "main_contact":
        return "clunk"
    # A motor that stands leaves less than one that turns.
    turns = known(stage.starter.back_v)
    short = turns and stage.across_v(MOTOR) < stage.starter.needed_v
    return "slow_cranking" if short or stage.hardly_turns else "cranking"


def _runs_on(stage: Stage) -> bool:
    return abs(stage.ampere_turns) > stage.lets_go_below


def _at_first(stage: Stage) -> Sound:
    if stage.state.solution.chatter:
        return "clicking"
    if stage.pulls:
        return "clunk"
    share = abs(stage.across_v(HOLD_IN)) / stage.state.model.drive_v
    if share >= SILENT_SHARE:
        return "hum"
    return "click" if stage.relays else "nothing"
