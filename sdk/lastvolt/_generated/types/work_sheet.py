# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.work_sheet`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.circuits import Advice
from lastvolt._generated.types.common import Result
from lastvolt.answers import Model

Sheet = Literal["ready", "not_safe", "not_known", "falls_short"]
"""What `WorkSheet.sheet` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing(Model):
    """Why there is no sheet.

    Attributes
    ----------
    code : str
        Code of the check.
    part : str or None
        The part that it is about.
    message : str
        What is wrong, or what to find out.
    """

    code: str
    """Code of the check."""
    part: str | None
    """The part that it is about."""
    message: str
    """What is wrong, or what to find out."""


Slack = Literal["as_given", "usual", "moving_engine", "least"]
"""What `CutWire.slack` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWire(Model):
    """A lead to be cut.

    Attributes
    ----------
    name : str
        The wire as the request names it, or what a lead is for that it implies.
    size : str
        Of the conductor.
    material : str
        Metal of the conductor.
    insulation : str or None
        Kind of insulated wire; None where none is given.
    colour : str or None
        As the request writes it; None: fill it in.
    length_m : float or None
        Along its way; None: measure it and fill it in. [m]
    slack : {"as_given", "usual", "moving_engine", "least"}
        `as_given`; usual; `moving_engine`, where it goes to an engine on its mounts; least, where
        the usual share of a short lead would be too little for a drip loop and a new crimp.
    slack_m : float or None
        Added to the length; None where the length is. [m]
    cut_length_m : float or None
        Length to cut; None where the length is. [m]
    why : str
        Of size and slack, in a sentence.
    """

    name: str
    """The wire as the request names it, or what a lead is for that it implies."""
    size: str
    """Of the conductor."""
    material: str
    """Metal of the conductor."""
    insulation: str | None
    """Kind of insulated wire; None where none is given."""
    colour: str | None
    """As the request writes it; None: fill it in."""
    length_m: float | None
    """Along its way; None: measure it and fill it in. [m]"""
    slack: Slack
    """`as_given`; usual; `moving_engine`, where it goes to an engine on its mounts; least, where
    the usual share of a short lead would be too little for a drip loop and a new crimp.
    """
    slack_m: float | None
    """Added to the length; None where the length is. [m]"""
    cut_length_m: float | None
    """Length to cut; None where the length is. [m]"""
    why: str
    """Of size and slack, in a sentence."""


NeededPartCode = Literal[
    "relay",
    "relay_socket",
    "fuse",
    "fuse_holder",
    "contact",
    "resistance",
    "spare_relay",
    "spare_fuse",
]
"""What `NeededPart.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NeededPart(Model):
    """A part to have at hand.

    Attributes
    ----------
    code : NeededPartCode
        What kind of part it is.
    name : str
        The part as the request names it.
    rating_a : float or None
        That it is rated for; None where that is not known. [A]
    text : str
        What to take, in a sentence.
    """

    code: NeededPartCode
    """What kind of part it is."""
    name: str
    """The part as the request names it."""
    rating_a: float | None
    """That it is rated for; None where that is not known. [A]"""
    text: str
    """What to take, in a sentence."""


TerminalCode = Literal["blade", "ring", "as_there", "of_the_part", "joint"]
"""What `Terminal.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal(Model):
    """What is crimped to one end of a lead.

    Attributes
    ----------
    part : str
        Part or node that it goes on.
    terminal : str or None
        Terminal of the part; None of a node.
    wire : str
        The lead that it is crimped to.
    size : str
        Conductor that it must take.
    code : {"blade", "ring", "as_there", "of_the_part", "joint"}
        Blade: a receptacle; ring: by the stud; `as_there`: to fit what is there; `of_the_part`: as
        the fuse holder or the part wants it; joint: two leads crimped together.
    blades_mm : tuple of float
        Widths of the blade: as given, or those that are common and take the wire, all where none
        does; empty of anything else. [mm]
    is_given : bool
        Whether the request gives the width.
    is_gripped : bool
        False where no receptacle for such a blade is crimped to so thick a wire (common practice):
        the relay must have studs.
    """

    part: str
    """Part or node that it goes on."""
    terminal: str | None
    """Terminal of the part; None of a node."""
    wire: str
    """The lead that it is crimped to."""
    size: str
    """Conductor that it must take."""
    code: TerminalCode
    """Blade: a receptacle; ring: by the stud; `as_there`: to fit what is there; `of_the_part`:
    as the fuse holder or the part wants it; joint: two leads crimped together.
    """
    blades_mm: tuple[float, ...]
    """Widths of the blade: as given, or those that are common and take the wire, all where none
    does; empty of anything else. [mm]
    """
    is_given: bool
    """Whether the request gives the width."""
    is_gripped: bool
    """False where no receptacle for such a blade is crimped to so thick a wire (common
    practice): the relay must have studs.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class Connection(Model):
    """One line of a wiring table.

    Attributes
    ----------
    number : int
        Of the line, to mark the lead with.
    from_part : str
        A part or a node, as the request names it.
    from_terminal : str or None
        Which of its terminals; None of a node.
    to_part : str
        A part or a node, as the request names it.
    to_terminal : str or None
        Which of its terminals; None of a node.
    wire : str or None
        The lead between; None where the two are joined without one.
    size : str or None
        Of the lead.
    colour : str or None
        Of the lead, as the request writes it; None: fill it in.
    """

    number: int
    """Of the line, to mark the lead with."""
    from_part: str
    """A part or a node, as the request names it."""
    from_terminal: str | None
    """Which of its terminals; None of a node."""
    to_part: str
    """A part or a node, as the request names it."""
    to_terminal: str | None
    """Which of its terminals; None of a node."""
    wire: str | None
    """The lead between; None where the two are joined without one."""
    size: str | None
    """Of the lead."""
    colour: str | None
    """Of the lead, as the request writes it; None: fill it in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OldWire(Model):
    """A wire of the vehicle as it is, to find it by.

    Attributes
    ----------
    name : str
        The wire as the request names it.
    nodes : tuple of str
        The two nodes that it joins.
    size : str
        Of the conductor.
    colour : str or None
        As the request writes it.
    comes_off : bool
        Whether its end comes off the load, for the relay.
    """

    name: str
    """The wire as the request names it."""
    nodes: tuple[str, ...]
    """The two nodes that it joins."""
    size: str
    """Of the conductor."""
    colour: str | None
    """As the request writes it."""
    comes_off: bool
    """Whether its end comes off the load, for the relay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interlock(Model):
    """A contact that rules the load, and goes on ruling the relay's coil.

    Attributes
    ----------
    part : str
        The switch or relay as the request names it.
    code : {"alone", "side_by_side", "isolator"}
        Alone; `side_by_side`: only with those beside it; isolator: of it the feed is dead, too.
    test : str
        How to try it when all is done, in a sentence.
    """

    part: str
    """The switch or relay as the request names it."""
    code: Literal["alone", "side_by_side", "isolator"]
    """Alone; `side_by_side`: only with those beside it; isolator: of it the feed is dead, too."""
    test: str
    """How to try it when all is done, in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task(Model):
    """One step of the work.

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


SheetReadingCode = Literal[
    "supply",
    "across_load",
    "live_side",
    "ground_side",
    "across_switch",
    "across_contact",
    "across_coil",
]
"""What `SheetReading.code` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected(Model):
    """What the meter should show in one case.

    Attributes
    ----------
    case : str
        The case as the request names it.
    as_is_v : float or None
        Before; None where there is nothing to measure yet. [V]
    with_relay_v : float or None
        With the relay, and nothing else changed. [V]
    """

    case: str
    """The case as the request names it."""
    as_is_v: float | None
    """Before; None where there is nothing to measure yet. [V]"""
    with_relay_v: float | None
    """With the relay, and nothing else changed. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetReading(Model):
    """One reading, with the switch closed and the load on.

    Attributes
    ----------
    number : int
        Of the line.
    code : SheetReadingCode
        What is measured.
    red : str
        Where the red lead goes: a node, or a part with its terminal.
    black : str
        Where the black lead goes.
    expected : tuple of Expected
        In every case, in the order of the request.
    text : str
        What it tells.
    """

    number: int
    """Of the line."""
    code: SheetReadingCode
    """What is measured."""
    red: str
    """Where the red lead goes: a node, or a part with its terminal."""
    black: str
    """Where the black lead goes."""
    expected: tuple[Expected, ...]
    """In every case, in the order of the request."""
    text: str
    """What it tells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank(Model):
    """A column that is left to be filled in by hand.

    Attributes
    ----------
    table : str
        Which of the lists of this answer; sheet of what stands once.
    column : str
        What to write there.
    """

    table: str
    """Which of the lists of this answer; sheet of what stands once."""
    column: str
    """What to write there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkSheet(Result):
    """Answer of ``work-sheet``; all lists but `missing` are empty where there is no sheet.

    Attributes
    ----------
    sheet : {"ready", "not_safe", "not_known", "falls_short"}
        Ready; `not_safe`: the proposal must not be built so; `not_known`: what is missing decides
        whether it may be; `falls_short`: with it the load does not get what it needs.
    vehicle : str or None
        Title of the sheet, as the request has it.
    advice : Advice
        Of relay-retrofit on the same proposal.
    advice_headline : str
        The same in a sentence.
    poorest_case : str
        The case in which the load has the least to spare as it is.
    missing : tuple of Missing
        Why there is no sheet; empty where there is one.
    wires : tuple of CutWire
        Leads to be cut.
    parts : tuple of NeededPart
        Parts to have at hand.
    terminals : tuple of Terminal
        What is crimped to the ends of the leads.
    wiring : tuple of Connection
        Every terminal of every new part, once.
    old_wires : tuple of OldWire
        Those that come off the load, and those whose colour is given.
    interlocks : tuple of Interlock
        What goes on ruling the relay's coil, to be tried when all is done.
    order : tuple of Task
        The work, step by step.
    readings : tuple of SheetReading
        With a voltmeter, before and after.
    meter_note : str or None
        What to heed with the meter; None without readings.
    blanks : tuple of Blank
        What is left to be filled in by hand.
    """

    sheet: Sheet
    """Ready; `not_safe`: the proposal must not be built so; `not_known`: what is missing decides
    whether it may be; `falls_short`: with it the load does not get what it needs.
    """
    vehicle: str | None
    """Title of the sheet, as the request has it."""
    advice: Advice
    """Of relay-retrofit on the same proposal."""
    advice_headline: str
    """The same in a sentence."""
    poorest_case: str
    """The case in which the load has the least to spare as it is."""
    missing: tuple[Missing, ...]
    """Why there is no sheet; empty where there is one."""
    wires: tuple[CutWire, ...]
    """Leads to be cut."""
    parts: tuple[NeededPart, ...]
    """Parts to have at hand."""
    terminals: tuple[Terminal, ...]
    """What is crimped to the ends of the leads."""
    wiring: tuple[Connection, ...]
    """Every terminal of every new part, once."""
    old_wires: tuple[OldWire, ...]
    """Those that come off the load, and those whose colour is given."""
    interlocks: tuple[Interlock, ...]
    """What goes on ruling the relay's coil, to be tried when all is done."""
    order: tuple[Task, ...]
    """The work, step by step."""
    readings: tuple[SheetReading, ...]
    """With a voltmeter, before and after."""
    meter_note: str | None
    """What to heed with the meter; None without readings."""
    blanks: tuple[Blank, ...]
    """What is left to be filled in by hand."""
