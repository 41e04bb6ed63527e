# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.start_sequence`."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import (
    Check,
    CircuitPart,
    FurtherBatteryOrCharger,
    Load,
    Number,
    Relay,
    Result,
    Source,
    Verdict,
)
from lastvolt.answers import Model


class StartCircuit(TypedDict):
    """The circuit round a starter, as it lies in the vehicle, without the starter itself."""

    ground: NotRequired[str]
    """Node at 0 V; by default 'ground'. From 1 to 80 characters."""
    source: Source
    """What feeds the circuit."""
    branches: Sequence[CircuitPart]
    """Wires, contacts and resistances, the body and its joints included. At most 500 of them."""
    loads: NotRequired[Sequence[Load]]
    """What else is fed. At most 500 of them, by default none."""
    relays: NotRequired[Sequence[Relay]]
    """Relays. At most 50 of them, by default none."""
    further_sources: NotRequired[Sequence[FurtherBatteryOrCharger]]
    """Other batteries, and what charges. At most 10 of them, by default none."""


class Starter(TypedDict):
    """A starter: terminal 50 feeds both windings, and the plunger closes 30 on the motor."""

    stud_node: str
    """Node at terminal 30, the end of the heavy cable. From 1 to 80 characters."""
    contact_resistance_ohm: Number
    """Of the closed main contact. From 0 to 1. [ohm]"""
    motor_resistance_ohm: Number
    """Of the motor at a stand, with its brushes: worn ones stop the pull-in winding, too. From
    0.0001 to 1000. [ohm]
    """
    back_v: NotRequired[Number]
    """Voltage that the motor makes while it cranks, 0 for one that stands; without it how it
    cranks is not judged. From 0 to 60. [V]
    """
    needed_v: NotRequired[Number]
    """At the motor, to crank fast enough. From 0.1 to 60. [V]"""
    name: str
    """What the answer calls it. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    control_node: str
    """Node at terminal 50. From 1 to 80 characters."""
    ground_node: str
    """Node at its housing. From 1 to 80 characters."""
    pull_in_turns: Number
    """Turns of the pull-in winding. From 1 to 1000000."""
    pull_in_resistance_ohm: Number
    """Of the pull-in winding, which returns through the motor. From 0.001 to 1000000. [ohm]"""
    hold_in_turns: Number
    """Turns of the hold-in winding. From 1 to 1000000."""
    hold_in_resistance_ohm: Number
    """Of the hold-in winding, which goes to the housing. From 0.001 to 1000000. [ohm]"""
    ampere_turns: Number
    """Of both windings together at which the plunger moves. From 0.001 to 1000000. [A]"""
    hold_ampere_turns: NotRequired[Number]
    """That keep the closed plunger. From 0.001 to 1000000. [A]"""
    reference_temperature_c: NotRequired[Number]
    """Temperature of these resistances. From -60 to 400, by default 20. [degC]"""


Outcome = Literal["silent", "hums", "buzzes", "slow", "runs_on", "starts"]
"""What `outcome` may be."""

Name = Literal["key_on", "main_contact", "cranking", "key_off"]
"""What `StartStage.name` may be."""

Sound = Literal[
    "nothing", "click", "hum", "clunk", "clicking", "cranking", "slow_cranking", "quiet", "runs_on"
]
"""What `StartStage.sound` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StartStage(Model):
    """One stage at rest.

    Attributes
    ----------
    name : {"key_on", "main_contact", "cranking", "key_off"}
        `key_on`: both windings in; `main_contact`: the motor still at a stand; cranking; `key_off`:
        the windings in series, fed from the motor's terminal, while the engine that now runs
        charges and turns the motor.
    sound : Sound
        What is heard: nothing, click of a relay, hum, clunk of the plunger, clicking over and over,
        cranking, `slow_cranking`, quiet, `runs_on`; common practice.
    supply_v : float
        At the posts of the battery. [V]
    control_v : float
        At terminal 50, against the housing. [V]
    motor_v : float
        At the motor. [V]
    motor_current_a : float
        Through the motor. [A]
    pull_in_current_a : float
        Through the pull-in winding towards the motor; below zero the other way. [A]
    hold_in_current_a : float
        Through the hold-in winding to the housing. [A]
    ampere_turns : float
        Of both windings together, each with its sign. [A]
    needed_ampere_turns : float or None
        That move the plunger, or keep it; None where that is not known. [A]
    relays : tuple of str
        Relays that are closed.
    """

    name: Name
    """`key_on`: both windings in; `main_contact`: the motor still at a stand; cranking;
    `key_off`: the windings in series, fed from the motor's terminal, while the engine that now
    runs charges and turns the motor.
    """
    sound: Sound
    """What is heard: nothing, click of a relay, hum, clunk of the plunger, clicking over and
    over, cranking, `slow_cranking`, quiet, `runs_on`; common practice.
    """
    supply_v: float
    """At the posts of the battery. [V]"""
    control_v: float
    """At terminal 50, against the housing. [V]"""
    motor_v: float
    """At the motor. [V]"""
    motor_current_a: float
    """Through the motor. [A]"""
    pull_in_current_a: float
    """Through the pull-in winding towards the motor; below zero the other way. [A]"""
    hold_in_current_a: float
    """Through the hold-in winding to the housing. [A]"""
    ampere_turns: float
    """Of both windings together, each with its sign. [A]"""
    needed_ampere_turns: float | None
    """That move the plunger, or keep it; None where that is not known. [A]"""
    relays: tuple[str, ...]
    """Relays that are closed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StartCase(Model):
    """A start in one case.

    Attributes
    ----------
    name : str
        The case as the request names it.
    outcome : {"silent", "hums", "buzzes", "slow", "runs_on", "starts"}
        Silent: nothing moves; hums: the plunger does not go home; buzzes: it goes home and lets go
        again; slow; `runs_on` after the key is let go; starts.
    fails_in : str or None
        The stage in which it does so; None where it starts.
    stages : tuple of StartStage
        As far as it gets.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst of its checks.
    """

    name: str
    """The case as the request names it."""
    outcome: Outcome
    """Silent: nothing moves; hums: the plunger does not go home; buzzes: it goes home and lets
    go again; slow; `runs_on` after the key is let go; starts.
    """
    fails_in: str | None
    """The stage in which it does so; None where it starts."""
    stages: tuple[StartStage, ...]
    """As far as it gets."""
    verdict: Verdict
    """The worst of its checks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StartSequence(Result):
    """Answer of ``start-sequence``.

    Attributes
    ----------
    cases : tuple of StartCase
        The start in every case.
    worst_case : str
        The case that starts worst; where all start, with the worst check.
    outcome : {"silent", "hums", "buzzes", "slow", "runs_on", "starts"}
        Of that case.
    lets_go : bool or None
        Whether it lets go with the key in every case that gets so far; None where that is not
        known.
    turns : bool
        Whether `back_v` is given: without it the motor is reckoned as it stands.
    is_charged : bool
        Whether no battery is found low in charge: how one that is cranks was not reckoned.
    hazard : Check or None
        What runs on, welds or catches fire beside that; None where nothing does, or that does.
    fed_over : Check or None
        Of one that runs on what feeds terminal 50 with the key let go; None where nothing does.
    weakest : Check or None
        The check that fails most, or has the least to spare; None without any.
    """

    cases: tuple[StartCase, ...]
    """The start in every case."""
    worst_case: str
    """The case that starts worst; where all start, with the worst check."""
    outcome: Outcome
    """Of that case."""
    lets_go: bool | None
    """Whether it lets go with the key in every case that gets so far; None where that is not
    known.
    """
    turns: bool
    """Whether `back_v` is given: without it the motor is reckoned as it stands."""
    is_charged: bool
    """Whether no battery is found low in charge: how one that is cranks was not reckoned."""
    hazard: Check | None
    """What runs on, welds or catches fire beside that; None where nothing does, or that does."""
    fed_over: Check | None
    """Of one that runs on what feeds terminal 50 with the key let go; None where nothing does."""
    weakest: Check | None
    """The check that fails most, or has the least to spare; None without any."""
