"""The whole circuit of a load of which little is known, what is not known within bounds."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.fields import known, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import (
    AnyLoad,
    CircuitRated,
    LampLoad,
    ResistanceLoad,
    SolenoidLoad,
)
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitWire
from lastvolt_service.operations.circuits.sources import Source
from lastvolt_service.operations.decision.quick_numbers import (
    Value,
    as_number,
    over,
    rounded,
    times,
)
from lastvolt_service.operations.decision.quick_request import (
    OTHER,
    WEAR,
    ZONES,
    QuickAnswerRequest,
)
from lastvolt_service.operations.decision.usual_relay import INSULATION
from lastvolt_service.operations.remedies.options import RELAY_FEED_M
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables import usual
from lastvolt_service.tables.insulation import insulation
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.tables.practice import GROUND, zones
from lastvolt_service.tables.sizes import split
from lastvolt_service.tables.usual import OF_V
from lastvolt_service.units import Interval, high_end, low_end

POST, HEAVY = "battery post", "heavy cable"
FUSE, FEED, PLUG, ONWARD, RETURN, JOINT = (
    "fuse",
    "feed wire",
    "plug",
    "wire to the load",
    "return wire",
    "ground joint",
)
# How far "about" is off. Common practice.
ABOUT = 0.1
# Of the way, what lies before the switch. Common practice.
TO_SWITCH = 0.5
# What old harnesses are made of. Common practice, no source.
OLD_INSULATION = "GPT"
# The relay lies near the load, where that is not the hottest place. Common practice.
ZONE_OF_RELAY = {"cabin": "cabin"}
NEAR = "engine_bay"
# What gets hot is looked at in the heat of its place as well: that adds to its own.
WHEN_SAID = {"gets_hot": "hot"}


@dataclass(frozen=True, slots=True)
class Guess:
    """Something that nobody said.

    Attributes
    ----------
    field : str
        What it is, as a code with words of its own.
    part : str or None
        That it belongs to; None of the battery and of all.
    path : tuple
        Where it stands in the full request; empty where it stands in several places.
    value : Interval or str
        Bounds, or a word.
    mark : str
        Who says so.
    """

    field: str
    part: str | None
    path: Path
    value: Interval | str
    mark: str


@dataclass(slots=True)
class Guessed:
    """A circuit in its cases, of which some things are guessed."""

    circuit: Circuit
    cases: list[Case]
    guesses: list[Guess] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Sizes:
    """Size of the wire as given, else the thinnest and the thickest that are usual; who says so."""

    names: tuple[str, ...]
    citation: str = ""

    def from_size(self, thinnest: str) -> "Sizes":
        """Only those from one on."""
        thickest = max(thinnest, self.names[-1], key=usual.sizes().index)
        return Sizes(tuple(dict.fromkeys((thinnest, thickest))), self.citation)


def usual_sizes(asked: QuickAnswerRequest) -> Sizes:
    """Of such a wire, whatever the heat where it lies."""
    if asked.wire is not None:
        return Sizes((asked.wire,))
    found = usual_wire(asked)
    return Sizes((found.thin, found.thick), found.citation)


def usual_wire(asked: QuickAnswerRequest) -> usual.UsualWire:
    """What wire a harness has for such a load."""
    most_a = high_end(current_a(asked)) * asked.usual.lasting_share
    wires = usual.wires()
    return next((each for each in wires if most_a <= each.up_to_a), wires[-1])


def current_a(asked: QuickAnswerRequest) -> Value:
    """What the load takes at the nominal voltage. [A]."""
    if known(asked.current_a) or asked.usual.current_a is None:
        return asked.current_a
    if asked.system_v == usual.SIX_V and asked.usual.of_6_v_a is not None:
        return asked.usual.of_6_v_a
    return times(asked.usual.current_a, OF_V / asked.system_v)


def on_time_s(asked: QuickAnswerRequest) -> float:
    """How long it is on at a time; NaN for ever, or while a key is held. [s]."""
    usual_one = asked.usual.load_profile
    return NOT_GIVEN if usual_one is None else load_profiles()[usual_one].on_time_s


def guessed(asked: QuickAnswerRequest, size: str, sizes: Sizes) -> Guessed:
    """Build the circuit with one of the sizes that its wire may have."""
    builder = _Builder(asked, size, sizes)
    builder.words()
    return Guessed(builder.circuit(), builder.cases(), builder.guesses)


def standard(asked: QuickAnswerRequest) -> str:
    """Of the sizes of new wires: that in which its own is told."""
    return split(asked.wire)[0] if asked.wire else "AWG"


def source_node(asked: QuickAnswerRequest) -> str:
    """Node where a relay's feed is tapped: at the starter the heavy cable ends."""
    return HEAVY if asked.usual.kind == "solenoid" else POST


class _Builder:
    """Builds the circuit, and notes what nobody said."""

    def __init__(self, asked: QuickAnswerRequest, size: str, sizes: Sizes) -> None:
        self.asked, self.size, self.sizes = asked, size, sizes
        self.guesses: list[Guess] = []
        self.current = current_a(asked)
        # Its contacts drop what is usual with the load on a full battery, whatever it takes.
        full = usual.batteries()["warm"].rest_v.high / OF_V
        self.least_a, self.most_a = (full * end(self.current) for end in (low_end, high_end))
        self.share = asked.system_v / OF_V
        self.name = "the load" if asked.load == OTHER else asked.load.replace("_", " ")

    def circuit(self) -> Circuit:
        """Source, fuse, feed, switch, plug, wire, load, ground."""
        asked, grounded = self.asked, self.asked.return_path != "wire"
        parts: list[Any] = [
            self._contact(FUSE, "fuse", 0),
            self._wire(FEED, TO_SWITCH, 1, None),
            self._contact(asked.usual.switch, "switch", 2),
            self._contact(PLUG, "connector", 3),
            self._wire(ONWARD, 1.0 - TO_SWITCH, 4, ZONE_OF_RELAY.get(asked.place, NEAR)),
        ]
        back: list[Any] = [] if grounded else [self._wire(RETURN, self._share_back, 5, None)]
        back.append(self._contact(JOINT, "ground", 5 + len(back)))
        post = source_node(asked)
        nodes = [post, "fused", "switch in", "switch out", "behind the plug", "load in"]
        ends = ["load out", *(["return"] if back[1:] else []), GROUND]
        branches = [*_joined(parts, nodes), *_joined(back, ends)]
        source = {"plus": GROUND, "minus": post} if self._positive else {"plus": post}
        battery = usual.batteries()["warm"]
        rest_v, inside_ohm = (
            times(battery.rest_v, self.share),
            times(battery.internal_ohm, self.share),
        )
        self._add("open_circuit_v", None, ("circuit", "source", "open_circuit_v"), rest_v,
                  battery.citation)  # fmt: skip
        self._add("internal_resistance_ohm", None, ("circuit", "source", "internal_resistance_ohm"),
                  inside_ohm, battery.citation)  # fmt: skip
        return with_defaults(
            Circuit,
            source=with_defaults(
                Source, open_circuit_v=rest_v, internal_resistance_ohm=inside_ohm, **source
            ),
            branches=branches,
            loads=[self._load(("load in", "load out"))],
        )

    @property
    def _share_back(self) -> float:
        """Of the way, what a return wire is long: at the starter the heavy one back begins."""
        if self.asked.usual.kind != "solenoid":
            return 1.0
        return min(1.0, RELAY_FEED_M / self.asked.distance_m)

    @property
    def _positive(self) -> bool:
        return self.asked.return_path == "positive_body"

    def cases(self) -> list[Case]:
        """The conditions in which the load fails, or may."""
        fails = self.asked.fails
        when = WHEN_SAID.get(str(fails), fails)
        wanted = {"always"} | ({when} if self.asked.fails_at_times else {"hot", "cold"})
        found: list[Case] = []
        for each in usual.cases():
            if each.fails in wanted:
                found.append(self._case(each, len(found)))
        if known(on_s := on_time_s(self.asked)):
            mark = load_profiles()[str(self.asked.usual.load_profile)].citation
            self._add(
                "on_time_s", self.name, ("cases", 0, "duration_s"), Interval(on_s, on_s), mark
            )
        self._add("cases", None, ("cases",), ", ".join(each.name for each in found),
                  usual.cases()[0].citation)  # fmt: skip
        return found

    def words(self) -> None:
        """Note what is guessed and is no number."""
        if self.asked.zone is None:
            mark = zones()[ZONES[self.asked.place]].citation
            self._add("zone", self.name, ("circuit", "loads", 0, "zone"), self.asked.place, mark)
        if self.asked.wire is None:
            path = ("circuit", "branches", 1, "size")
            self._add("size", FEED, path, " or ".join(self.sizes.names), self.sizes.citation)

    def _case(self, usual_case: usual.UsualCase, place: int) -> Case:
        values: dict[str, Any] = {"name": usual_case.name, "ambient_c": usual_case.ambient_c}
        if known(on_s := on_time_s(self.asked)):
            values["duration_s"] = on_s
        if usual_case.zones_are_hot:
            values["zone_ambients_c"] = {
                name: max(usual_case.ambient_c, zones()[zone].ambient_c)
                for name, zone in ZONES.items()
            }
        if usual_case.battery != "warm":
            battery = usual.batteries()[usual_case.battery]
            key = "internal_resistance_ohm"
            values[key] = times(battery.internal_ohm, self.share)
            self._add(key, None, ("cases", place, key), values[key], battery.citation)
        return with_defaults(Case, **values)

    def _load(self, nodes: tuple[str, str]) -> AnyLoad:
        asked, told = self.asked, self.asked.usual
        volts = asked.system_v
        needed_v = as_number(times(told.needed_share, volts))
        at: Path = ("circuit", "loads", 0)
        common = {"name": self.name, "zone": asked.place, "nodes": list(nodes),
                  "circuit": told.circuit}  # fmt: skip
        if told.kind == "solenoid":
            self._of_load("current_a", (*at, "rated", "resistance_ohm"), self.current)
            self._of_load("pull_in_v", (*at, "rated", "pull_in_v"), needed_v)
            rated = with_defaults(
                CircuitRated,
                pull_in_v=needed_v,
                resistance_ohm=over(volts, self.current),
                # At its least: what its relay, fuse and wire must bear.
                held_resistance_ohm=volts / high_end(self.current) / told.lasting_share,
            )
            return with_defaults(SolenoidLoad, kind="solenoid", rated=rated, **common)
        self._of_load("needed_v", (*at, "needed_v"), needed_v)
        if told.kind == "lamp":
            self._of_load("current_a", (*at, "rated_power_w"), self.current)
            power_w = times(self.current, volts)
            return with_defaults(
                LampLoad, kind="lamp", rated_power_w=power_w, rated_v=volts, needed_v=needed_v,
                **common,
            )  # fmt: skip
        self._of_load("current_a", (*at, "resistance_ohm"), self.current)
        return with_defaults(
            ResistanceLoad, kind="resistance", resistance_ohm=over(volts, self.current),
            needed_v=needed_v, **common,
        )  # fmt: skip

    def _wire(self, name: str, share: float, place: int, zone: str | None) -> dict[str, Any]:
        metres, off_m = share * self.asked.distance_m, ABOUT * self.asked.distance_m
        length_m: Value = rounded(metres)
        if name == ONWARD:  # what the whole way is off by
            length_m = Interval(rounded(metres - off_m), rounded(metres + off_m))
            path = ("circuit", "branches", place, "length_m")
            self._add("length_m", name, path, length_m, ABOUT_SO_FAR)
        return {
            "kind": "wire", "name": name, "size": self.size, "length_m": length_m,
            "insulation": _insulation(zone), "zone": zone,
        }  # fmt: skip

    def _contact(self, name: str, part: str, place: int) -> dict[str, Any]:
        ages = usual.wear()
        rows = [ages[each][part] for each in ([self.asked.wear] if self.asked.wear else WEAR)]
        volts = Interval(rows[0][0].low, rows[-1][0].high)
        ohm = Interval(rounded(volts.low / self.least_a), rounded(volts.high / self.most_a))
        self._add("resistance_ohm", name, ("circuit", "branches", place, "resistance_ohm"), ohm,
                  rows[0][1])  # fmt: skip
        return {"kind": "contact", "name": name, "part": part, "resistance_ohm": ohm}

    def _of_load(self, name: str, path: Path, value: Value) -> None:
        """Note what is usual of the load, unless it was given."""
        if name != "current_a" or not known(self.asked.current_a):
            self._add(name, self.name, path, value, self.asked.usual.citation)

    def _add(self, name: str, part: str | None, path: Path, value: Any, mark: str) -> None:
        told = value if isinstance(value, str | Interval) else Interval(value, value)
        self.guesses.append(Guess(name, part, path, told, mark))


def _insulation(zone: str | None) -> str:
    """Of a wire that is there: PVC, but where that does not stand the air."""
    bears_c = insulation(OLD_INSULATION).limit_c
    return INSULATION if zone and zones()[ZONES[zone]].ambient_c > bears_c else OLD_INSULATION


ABOUT_SO_FAR = "common practice: a length that is told is off by a tenth, no source"


def _joined(parts: list[dict[str, Any]], nodes: list[str]) -> Iterator[Branch]:
    for place, part in enumerate(parts):
        kind: Any = CircuitWire if part["kind"] == "wire" else CircuitContact
        yield with_defaults(kind, **part, nodes=nodes[place : place + 2])
