# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.meter_plan`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.common import Result
from lastvolt._generated.types.diagnosis import Kind
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class AtLoad(Model):
    """What decides: the voltage at the load in the case in which it has the least to spare.

    Attributes
    ----------
    case : str
        The case.
    number : int
        Of the reading that tells it.
    low_v : float
        Least as it is, within the bounds of all inputs. [V]
    high_v : float
        Most as it is. [V]
    needed_v : float or None
        Lowest voltage that it works at there. [V]
    """

    case: str
    """The case."""
    number: int
    """Of the reading that tells it."""
    low_v: float
    """Least as it is, within the bounds of all inputs. [V]"""
    high_v: float
    """Most as it is. [V]"""
    needed_v: float | None
    """Lowest voltage that it works at there. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Before(Model):
    """What is done before the first reading.

    Attributes
    ----------
    number : int
        Of the step.
    code : str
        Which step it is, in a word that stays the same.
    text : str
        What to do.
    """

    number: int
    """Of the step."""
    code: str
    """Which step it is, in a word that stays the same."""
    text: str
    """What to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Round(Model):
    """One walk: the readings of a case.

    Attributes
    ----------
    case : str
        The case as the request names it.
    ambient_c : float
        At the load, in the middle of its bounds. [degC]
    first : int
        Number of its first reading.
    last : int
        Number of its last reading.
    text : str
        What is on, and how warm it is.
    """

    case: str
    """The case as the request names it."""
    ambient_c: float
    """At the load, in the middle of its bounds. [degC]"""
    first: int
    """Number of its first reading."""
    last: int
    """Number of its last reading."""
    text: str
    """What is on, and how warm it is."""


PlannedReadingCode = Literal[
    "at_rest",
    "supply",
    "cranking",
    "across_switch",
    "across_part",
    "new_feed",
    "across_contact",
    "across_coil",
    "live_side",
    "across_load",
    "pulling_in",
    "through_part",
    "ground_side",
    "switched_off",
]
"""What `PlannedReading.code` may be."""

Phase = Literal["at_rest", "steady", "pull_in", "held", "cranking", "switched_off"]
"""What `PlannedReading.phase` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band(Model):
    """What a reading shows that passes.

    Attributes
    ----------
    usual : float
        With all inputs in the middle, by a meter without error.
    low : float
        Least that passes.
    high : float
        Most that passes.
    step : float
        Of the last digit of the meter there.
    is_about : bool
        Whether a relay or a load switches, chatters or finds no rest within the bounds, so that
        there may be less or more.
    """

    usual: float
    """With all inputs in the middle, by a meter without error."""
    low: float
    """Least that passes."""
    high: float
    """Most that passes."""
    step: float
    """Of the last digit of the meter there."""
    is_about: bool
    """Whether a relay or a load switches, chatters or finds no rest within the bounds, so that
    there may be less or more.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundReading(Model):
    """What a meter shows where what it is held to is sound, whatever was given of it.

    Attributes
    ----------
    least : float or None
        Not less; of a load, of a coil: what it works from.
    most : float or None
        Not more.
    at_a : float or None
        Current that it is for, of a contact as it is: what flows with all sound; else None. [A]
    given : {"sound", "may_be_poor", "poor"}
        What the circuit has there: sound; `may_be_poor`, where some of what was given is; poor:
        what passes is at fault.
    costs_v : float or None
        What the load gains at most once this part is sound, all others being so; None where it is,
        or is no single contact. [V]
    shown : str
        `most`, else `least`, as a meter shows it.
    text : str
        The same in words.
    """

    least: float | None
    """Not less; of a load, of a coil: what it works from."""
    most: float | None
    """Not more."""
    at_a: float | None
    """Current that it is for, of a contact as it is: what flows with all sound; else None. [A]"""
    given: Literal["sound", "may_be_poor", "poor"]
    """What the circuit has there: sound; `may_be_poor`, where some of what was given is; poor:
    what passes is at fault.
    """
    costs_v: float | None
    """What the load gains at most once this part is sound, all others being so; None where it
    is, or is no single contact. [V]
    """
    shown: str
    """`most`, else `least`, as a meter shows it."""
    text: str
    """The same in words."""


WiredWrongCode = Literal[
    "coil_swapped", "old_wire_left_on", "fed_from", "coil_not_switched", "does_not_close"
]
"""What `WiredWrong.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WiredWrong(Model):
    """A fault of the new wiring, and what this reading shows with it.

    Attributes
    ----------
    code : WiredWrongCode
        `coil_swapped` with the contact; `old_wire_left_on` the load; `fed_from` another node;
        `coil_not_switched`: joined past the switch; `does_not_close`: its coil is open, or without
        feed or ground.
    node : str or None
        Where the relay's contact is fed from then.
    shows : float
        What the meter shows, with all inputs in the middle.
    text : str
        What is wrong, in words.
    """

    code: WiredWrongCode
    """`coil_swapped` with the contact; `old_wire_left_on` the load; `fed_from` another node;
    `coil_not_switched`: joined past the switch; `does_not_close`: its coil is open, or without
    feed or ground.
    """
    node: str | None
    """Where the relay's contact is fed from then."""
    shows: float
    """What the meter shows, with all inputs in the middle."""
    text: str
    """What is wrong, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedReading(Model):
    """One reading of a plan.

    Attributes
    ----------
    number : int
        In the order in which they are taken.
    code : PlannedReadingCode
        What is read.
    case : str
        The case in which it is read, as the request names it.
    phase : Phase
        What is going on: `at_rest`, all is off; steady; `pull_in`, the plunger of a solenoid moves,
        or would; held, it has moved before; cranking: of a starter's windings the hold-in one alone
        draws; `switched_off` again.
    part : str or None
        The part that it is about.
    kind : {"volts", "amperes", "ohms"}
        What the meter reads; amperes by a clamp.
    unit : str
        V or A.
    red : str or None
        Where the red lead goes, in words; None of a clamp.
    black : str or None
        Where the black lead goes.
    clamp : str or None
        What the clamp lies round; None of volts.
    between : tuple of str
        Nodes of the red and the black lead as it is; empty where there is none.
    between_with_way : tuple of str
        The same with the relay.
    on : tuple of str
        Loads that are on.
    as_is : Band or None
        What passes as it is; None where there is nothing to read yet.
    with_way : Band or None
        What passes with the relay; None without one.
    sound_as_is : SoundReading or None
        What is sound there, whatever was given: what passes may be at fault; None where nobody can
        say.
    sound_with_way : SoundReading or None
        The same with the relay.
    wired_wrong : tuple of WiredWrong
        Faults of the new wiring that this reading shows.
    least_duration_s : float
        What is read lasts so long at least. [s]
    to_be_caught : bool
        Whether it is too short for a meter to settle: by hold, recording, or a known load.
    text : str
        What it tells.
    how : str
        How it is taken.
    means_if_more : str
        What it means when the meter shows more.
    means_if_less : str
        What it means when it shows less.
    means_if_more_with_way : str or None
        What more means with the relay, what is wired wrong first; None without one.
    means_if_less_with_way : str or None
        What less means with the relay.
    cautions : tuple of str
        What can hurt someone at this reading.
    """

    number: int
    """In the order in which they are taken."""
    code: PlannedReadingCode
    """What is read."""
    case: str
    """The case in which it is read, as the request names it."""
    phase: Phase
    """What is going on: `at_rest`, all is off; steady; `pull_in`, the plunger of a solenoid
    moves, or would; held, it has moved before; cranking: of a starter's windings the hold-in one
    alone draws; `switched_off` again.
    """
    part: str | None
    """The part that it is about."""
    kind: Kind
    """What the meter reads; amperes by a clamp."""
    unit: str
    """V or A."""
    red: str | None
    """Where the red lead goes, in words; None of a clamp."""
    black: str | None
    """Where the black lead goes."""
    clamp: str | None
    """What the clamp lies round; None of volts."""
    between: tuple[str, ...]
    """Nodes of the red and the black lead as it is; empty where there is none."""
    between_with_way: tuple[str, ...]
    """The same with the relay."""
    on: tuple[str, ...]
    """Loads that are on."""
    as_is: Band | None
    """What passes as it is; None where there is nothing to read yet."""
    with_way: Band | None
    """What passes with the relay; None without one."""
    sound_as_is: SoundReading | None
    """What is sound there, whatever was given: what passes may be at fault; None where nobody
    can say.
    """
    sound_with_way: SoundReading | None
    """The same with the relay."""
    wired_wrong: tuple[WiredWrong, ...]
    """Faults of the new wiring that this reading shows."""
    least_duration_s: float
    """What is read lasts so long at least. [s]"""
    to_be_caught: bool
    """Whether it is too short for a meter to settle: by hold, recording, or a known load."""
    text: str
    """What it tells."""
    how: str
    """How it is taken."""
    means_if_more: str
    """What it means when the meter shows more."""
    means_if_less: str
    """What it means when it shows less."""
    means_if_more_with_way: str | None
    """What more means with the relay, what is wired wrong first; None without one."""
    means_if_less_with_way: str | None
    """What less means with the relay."""
    cautions: tuple[str, ...]
    """What can hurt someone at this reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JumperTest(Model):
    """A fused jumper round the way to the solenoid, for as long as it takes to hear it.

    Attributes
    ----------
    start : str
        Node that it is clipped to first, its fuse there.
    end : str
        Node of the solenoid that it is held to, the switch being open.
    current_a : float
        Most that the solenoid takes through it, in any case. [A]
    fuse_a : float or None
        Least standard rating of a fuse that carries it; None above all of them. [A]
    text : str
        What to do.
    if_it_cranks : str
        What it means when the engine is cranked.
    if_it_does_not : str
        What it means when it is not.
    again : str
        When to do it once more.
    """

    start: str
    """Node that it is clipped to first, its fuse there."""
    end: str
    """Node of the solenoid that it is held to, the switch being open."""
    current_a: float
    """Most that the solenoid takes through it, in any case. [A]"""
    fuse_a: float | None
    """Least standard rating of a fuse that carries it; None above all of them. [A]"""
    text: str
    """What to do."""
    if_it_cranks: str
    """What it means when the engine is cranked."""
    if_it_does_not: str
    """What it means when it is not."""
    again: str
    """When to do it once more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanMeter(Model):
    """A meter that the bands allow for.

    Attributes
    ----------
    kind : {"volts", "amperes", "ohms"}
        What it reads.
    name : str or None
        As the request calls it; None of a usual one.
    accuracy_percent : float
        Largest error as a share of what it reads. [%]
    accuracy_digits : int
        Largest error in steps of its last digit, beside rounding.
    """

    kind: Kind
    """What it reads."""
    name: str | None
    """As the request calls it; None of a usual one."""
    accuracy_percent: float
    """Largest error as a share of what it reads. [%]"""
    accuracy_digits: int
    """Largest error in steps of its last digit, beside rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterPlan(Result):
    """Answer of ``meter-plan``.

    Attributes
    ----------
    at_load : AtLoad
        What decides.
    load_message : str
        The same in a sentence.
    part_message : str or None
        The contact that may cost the load most, as it was given; None where none is.
    way_message : str or None
        That the relay itself is not judged here; None without one.
    before : tuple of Before
        What is done before the first reading.
    rounds : tuple of Round
        The walks, in order.
    readings : tuple of PlannedReading
        All readings, in the order of the walks.
    jumper : JumperTest or None
        The test that parts the way from the starter; None without a starter.
    meters_used : tuple of PlanMeter
        What the bands allow for.
    """

    at_load: AtLoad
    """What decides."""
    load_message: str
    """The same in a sentence."""
    part_message: str | None
    """The contact that may cost the load most, as it was given; None where none is."""
    way_message: str | None
    """That the relay itself is not judged here; None without one."""
    before: tuple[Before, ...]
    """What is done before the first reading."""
    rounds: tuple[Round, ...]
    """The walks, in order."""
    readings: tuple[PlannedReading, ...]
    """All readings, in the order of the walks."""
    jumper: JumperTest | None
    """The test that parts the way from the starter; None without a starter."""
    meters_used: tuple[PlanMeter, ...]
    """What the bands allow for."""
