# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.quick_answer`."""

from dataclasses import dataclass, field
from typing import Literal

from lastvolt._generated.types.circuits import Advice, StarterMotor
from lastvolt._generated.types.common import Case, Circuit, GivenWay, Nominal, Result
from lastvolt.answers import Model

QuickAnswerLoad = Literal[
    "starter_solenoid",
    "headlamps",
    "horn",
    "fan",
    "blower",
    "pump",
    "glow_plugs",
    "heated_screen",
    "wipers",
    "power_window",
    "air_horns",
    "winch",
    "other",
]
"""What `QuickAnswer.load` may be."""

Wear = Literal["new", "used", "old", "very_old"]
"""What `QuickAnswer.wear` may be."""

QuickAnswerZone = Literal["cabin", "engine_bay", "on_the_engine", "outside"]
"""What `QuickAnswer.zone` may be."""

Fails = Literal[
    "never",
    "hot",
    "cold",
    "always",
    "sometimes",
    "blows_fuse",
    "gets_hot",
    "turns_slowly",
    "not_charged",
]
"""What `QuickAnswer.fails` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Within(Model):
    """A voltage within all that is guessed.

    Attributes
    ----------
    low_v : float
        The least. [V]
    high_v : float
        The most. [V]
    """

    low_v: float
    """The least. [V]"""
    high_v: float
    """The most. [V]"""


QuickStepCode = Literal[
    "look_first",
    "read_size",
    "read_at_load",
    "read_across",
    "read_battery",
    "read_others",
    "see_to_load",
    "charge",
    "ask_again",
    "mend",
    "rewire",
    "relay",
    "out_of_reach",
    "leave_off",
    "look",
    "look_for_loss",
]
"""What `QuickStep.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickStep(Model):
    """One step: a reading with a meter, or work.

    Attributes
    ----------
    code : QuickStepCode
        `look_first`: by how it fails, before all else; `read_size`: by eye; `read_battery`,
        `read_at_load`, `read_across` or `read_others`: with a meter; look or, where more than the
        usual may be lost, `look_for_loss`: by eye, when there is time, where nothing is to be
        mended; `see_to_load`, charge, mend, rewire or relay: work; `out_of_reach`: what would do
        where no new part of the trade does; `leave_off`: until that is done, or first of all but
        for moments; `ask_again`.
    message : str
        The same in a sentence: where to read, and what follows.
    part : str or None
        What it is about, as the full request calls it.
    only_if : {"less", "more"} or None
        Less or more: only where the last step before it that expects a reading reads so beside its
        `limit_v`; None in any case.
    expected_low_v : float or None
        The least to be expected of the reading. [V]
    expected_high_v : float or None
        The most to be expected of it. [V]
    limit_v : float or None
        That the reading is held against. [V]
    brings_v : float or None
        More voltage at the load; None where that is not known. [V]
    may_lose_v : float or None
        Of `read_at_load`: how much less than at the battery's posts may be read there, by practice
        for such a circuit; `limit_v` is so with the least that the posts may keep. [V]
    size : str or None
        Of new wire; None where none is drawn.
    fuse_a : float or None
        Rating of its fuse; None where none is new. [A]
    relay_a : float or None
        Rating of a new relay, or the least of a contactor; None where none is fitted. [A]
    """

    code: QuickStepCode
    """`look_first`: by how it fails, before all else; `read_size`: by eye; `read_battery`,
    `read_at_load`, `read_across` or `read_others`: with a meter; look or, where more than the
    usual may be lost, `look_for_loss`: by eye, when there is time, where nothing is to be
    mended; `see_to_load`, charge, mend, rewire or relay: work; `out_of_reach`: what would do
    where no new part of the trade does; `leave_off`: until that is done, or first of all but for
    moments; `ask_again`.
    """
    message: str
    """The same in a sentence: where to read, and what follows."""
    part: str | None
    """What it is about, as the full request calls it."""
    only_if: Literal["less", "more"] | None
    """Less or more: only where the last step before it that expects a reading reads so beside
    its `limit_v`; None in any case.
    """
    expected_low_v: float | None
    """The least to be expected of the reading. [V]"""
    expected_high_v: float | None
    """The most to be expected of it. [V]"""
    limit_v: float | None
    """That the reading is held against. [V]"""
    brings_v: float | None
    """More voltage at the load; None where that is not known. [V]"""
    may_lose_v: float | None
    """Of `read_at_load`: how much less than at the battery's posts may be read there, by
    practice for such a circuit; `limit_v` is so with the least that the posts may keep. [V]
    """
    size: str | None
    """Of new wire; None where none is drawn."""
    fuse_a: float | None
    """Rating of its fuse; None where none is new. [A]"""
    relay_a: float | None
    """Rating of a new relay, or the least of a contactor; None where none is fitted. [A]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed(Model):
    """Something that the request did not say, and what was taken in its place.

    Attributes
    ----------
    code : str
        `open_circuit_v`, `internal_resistance_ohm`, `resistance_ohm`, `length_m`, `current_a`,
        `needed_v`, `pull_in_v`, `on_time_s`, size, zone, cases or relay.
    field : str
        JSON Pointer to where it stands in the full request.
    part : str or None
        That it belongs to, as the full request calls it.
    low : float or None
        The least, in `unit`; None of what is no number.
    high : float or None
        The most, in `unit`; None of what is no number.
    value : str or None
        What is no number, such as a size; None of numbers.
    unit : str
        Of low and high; empty where there are none.
    why : str
        Why it is taken so, in a sentence.
    mark : str
        Publication, or common practice.
    matters_v : float
        How much it moves what the load has to spare, from one end to the other. [V]
    """

    code: str
    """`open_circuit_v`, `internal_resistance_ohm`, `resistance_ohm`, `length_m`, `current_a`,
    `needed_v`, `pull_in_v`, `on_time_s`, size, zone, cases or relay.
    """
    field: str
    """JSON Pointer to where it stands in the full request."""
    part: str | None
    """That it belongs to, as the full request calls it."""
    low: float | None
    """The least, in `unit`; None of what is no number."""
    high: float | None
    """The most, in `unit`; None of what is no number."""
    value: str | None
    """What is no number, such as a size; None of numbers."""
    unit: str
    """Of low and high; empty where there are none."""
    why: str
    """Why it is taken so, in a sentence."""
    mark: str
    """Publication, or common practice."""
    matters_v: float
    """How much it moves what the load has to spare, from one end to the other. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FullQuestion(Model):
    """A request of remedy-choice, made up.

    Attributes
    ----------
    circuit : Circuit
        The network.
    cases : tuple of Case
        Named conditions. From 1 to 20 of them.
    nominal_v : {6, 12, 24} or None
        Nominal voltage of the system, for limits of drops; by default told from the source. [V]
    load : str
        The load to be relieved; its old wire will feed the relay's coil instead. From 1 to 80
        characters.
    switch : str
        The switch or other contact to be spared. From 1 to 80 characters.
    ways : tuple of GivenWay
        Ways beside those that are made. At most 8 of them, by default none.
    not_to_be_had : tuple of str
        Contacts that can be neither cleaned nor bought, such as an old key switch. At most 100 of
        them, by default none.
    starter : StarterMotor or None
        Main contact and motor of the starter whose solenoid the load is: each way is held against a
        whole start, and one in which a relay or the plunger lets go is not advised.
    """

    circuit: Circuit = field(hash=False)
    """The network."""
    cases: tuple[Case, ...] = field(hash=False)
    """Named conditions. From 1 to 20 of them."""
    nominal_v: Nominal | None = None
    """Nominal voltage of the system, for limits of drops; by default told from the source. [V]"""
    load: str
    """The load to be relieved; its old wire will feed the relay's coil instead. From 1 to 80
    characters.
    """
    switch: str
    """The switch or other contact to be spared. From 1 to 80 characters."""
    ways: tuple[GivenWay, ...] = field(default=(), hash=False)
    """Ways beside those that are made. At most 8 of them, by default none."""
    not_to_be_had: tuple[str, ...] = ()
    """Contacts that can be neither cleaned nor bought, such as an old key switch. At most 100 of
    them, by default none.
    """
    starter: StarterMotor | None = field(default=None, hash=False)
    """Main contact and motor of the starter whose solenoid the load is: each way is held against
    a whole start, and one in which a relay or the plunger lets go is not advised.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickAnswer(Result):
    """Answer of ``quick-answer``.

    Attributes
    ----------
    advice : Advice
        As remedy-choice has it, and the same within all that is assumed; relay where the wires
        beside it are drawn with it, in one step; `find_out_first` where that decides, or where the
        load fails though by these numbers it should not.
    load : str
        The load, as the full request calls it.
    case : str
        The case in which it fails, where that is said, else that with the least to spare.
    load_voltage_v : Within
        That reaches the load in that case as it is.
    needed_v : Within
        Lowest voltage that it works at there.
    plan : tuple of QuickStep
        What to do first, next and last.
    assumed : tuple of Assumed
        What was not said, what matters most first.
    measure_first : str or None
        Field of the assumption that decides; None where none does.
    request : FullQuestion
        The whole, as remedy-choice takes it, to go on with.
    leaves_start_open : bool
        True of a starter's solenoid: whether it and a relay stay while the motor draws is not
        judged here, but by remedy-choice with its starter; false of any other load.
    link : str or None
        Path of the report of that request; None where it is too long for a link.
    """

    advice: Advice
    """As remedy-choice has it, and the same within all that is assumed; relay where the wires
    beside it are drawn with it, in one step; `find_out_first` where that decides, or where the
    load fails though by these numbers it should not.
    """
    load: str
    """The load, as the full request calls it."""
    case: str
    """The case in which it fails, where that is said, else that with the least to spare."""
    load_voltage_v: Within
    """That reaches the load in that case as it is."""
    needed_v: Within
    """Lowest voltage that it works at there."""
    plan: tuple[QuickStep, ...]
    """What to do first, next and last."""
    assumed: tuple[Assumed, ...]
    """What was not said, what matters most first."""
    measure_first: str | None
    """Field of the assumption that decides; None where none does."""
    request: FullQuestion
    """The whole, as remedy-choice takes it, to go on with."""
    leaves_start_open: bool
    """True of a starter's solenoid: whether it and a relay stay while the motor draws is not
    judged here, but by remedy-choice with its starter; false of any other load.
    """
    link: str | None
    """Path of the report of that request; None where it is too long for a link."""
