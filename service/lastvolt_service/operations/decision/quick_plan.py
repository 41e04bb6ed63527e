"""What a layman does first, next and last: readings, with what follows from them, and work."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lastvolt_service.operations.decision.blades import TAILED_A
from lastvolt_service.operations.decision.plan import PlanStep
from lastvolt_service.operations.decision.quick_circuit import ONWARD
from lastvolt_service.operations.decision.quick_step import (
    NewRelay,
    QuickStep,
    QuickStepCode,
    When,
    of_hot_fuse,
    told_step,
)
from lastvolt_service.operations.decision.quick_study import ACROSS, POSTS, Studied, Within
from lastvolt_service.operations.decision.quick_wire import Beyond, NewWire
from lastvolt_service.operations.judging import in_a_moment_v
from lastvolt_service.tables.limits import contact_limits

# What it costs to lose more than is usual, by load.
COSTS: Mapping[str, str] = {
    "starter_solenoid": "costs_reserve_of_start",
    "headlamps": "costs_light",
    "horn": "costs_sound",
    "fan": "costs_speed",
    "blower": "costs_speed",
    "pump": "costs_speed",
    "wipers": "costs_speed",
    "power_window": "costs_speed",
    "air_horns": "costs_sound",
    "winch": "costs_speed",
    "glow_plugs": "costs_heat",
    "heated_screen": "costs_heat",
    "other": "costs_reserve",
}

# Of a horn's relay how it is wired where the button is on the ground side.
BY_GROUND = "button_may_ground"
# What else is said with new contacts, mostly of a load that one of them does not serve, by load.
SEVERAL: Mapping[str, str] = {
    "horn": BY_GROUND,
    "air_horns": BY_GROUND,
    "headlamps": "one_for_each_beam",
    "power_window": "one_for_each_way",
    "winch": "reversed_by_a_set",
    "wipers": "one_for_each_speed",
}
# With such a current these get a relay sooner than new wire by way of their switch; what runs two
# ways, or at two speeds, does not. Common practice.
USUALLY_BY_RELAY = frozenset({None, "one_for_each_beam", BY_GROUND})
# Of these the wiring is told with it, and is not that of one contactor.
OF_A_SET = frozenset({"one_for_each_way", "reversed_by_a_set"})


@dataclass(frozen=True, slots=True)
class Reading:
    """What readings are held against.

    Attributes
    ----------
    load : str
        As the full request calls it.
    contacts : dict of str to str
        What makes each contact, by its name.
    volts, needed : Within
        What reaches the load in the case, and what it needs there.
    fails : bool
        Whether it is known to fail.
    studied, case : Studied, str
        What else is to be expected, and in which case.
    when, at : str
        What is said of when to read, and of where at the load.
    worn_out : str or None
        The switch, if it can be neither cleaned nor bought.
    relay : NewRelay or None
        That would help; None where none of the trade does.
    most_a : float
        The most that the load may take. [A]
    may_lose_v : float
        On the way to it and back, by practice. [V]
    costs : str
        What is said of what it costs to lose more.
    wire : NewWire or None
        With which the way loses no more; None where none does.
    beyond : Beyond or None
        What would do where neither relay nor wire does.
    wired_back : bool
        Whether the current comes back through a wire of its own, as long as that to the load.
    several : str or None
        What is said of a load that one new contact does not serve.
    moves : bool
        Whether a plunger is to move while it is read, so that both of its windings take their
        current.
    cable_is_near : bool
        Whether a heavy cable ends at the load, and the battery is so far off that a relay fed from
        it is less work than new wire.
    """

    load: str
    contacts: dict[str, str]
    volts: Within
    needed: Within
    fails: bool
    studied: Studied
    case: str
    when: str
    at: str
    worn_out: str | None
    relay: NewRelay | None
    most_a: float
    may_lose_v: float
    costs: str
    wire: NewWire | None
    beyond: Beyond | None
    wired_back: bool
    several: str | None
    moves: bool
    cable_is_near: bool

    def plan(self, part: str | None, steps: Sequence[PlanStep]) -> Iterator[QuickStep]:
        """Read the posts, then the part that decides or the load, and say what follows.

        `steps` would be done with all in the middle of its bounds; what is worn shows where it is
        read, and what more there is to do follows from that.
        """
        yield self._at_battery()
        yield told_step("charge", None, "less")
        if self.relay is not None and self._is_thin and self._takes_relay(steps):
            high_v, needed_v = self.volts.high_v, self.needed.high_v
            yield self.relay.step("more", told="relay_if_thin", high_v=high_v, needed_v=needed_v)
            yield told_step(
                "see_to_load", self.load, None, said=("see_to_load_then",),
                values={"needed_v": needed_v},
            )  # fmt: skip
            return
        if part in self.contacts:
            yield self._across(part)
            yield from self._if_worn(part)
        else:
            yield self._at_load()
            yield told_step("see_to_load", self.load, "more")
        yield self._others(part)
        yield from self._at_last(part, steps)

    def look(self, *, for_loss: bool) -> QuickStep:
        """Look at what never failed, when there is time; no heavy cable comes off to read it."""
        code: QuickStepCode = "look_for_loss" if for_loss else "look"
        return told_step(code, ", ".join(self.contacts), None, said=("look_when_due",))

    def told(self, steps: Sequence[PlanStep]) -> Iterator[QuickStep]:
        """Tell the plan of remedy-choice in plain words, new wires as one.

        Beside a relay these are the wire back: it is told with the relay.
        """
        drawn = [each for each in steps if each.code == "new_wire"]
        relay = next((each for each in steps if each.code == "relay"), None)
        for each in steps:
            if each not in drawn and each is not relay:
                yield self._done(each)
            elif each in drawn[:1] and relay is None:
                brings_v = sum(one.brings_v for one in drawn)
                if self.wire is not None:
                    yield self._rewired(self.wire, each.part or ONWARD, None, brings_v)
                else:
                    yield self._done(replace(each, brings_v=brings_v))
        if relay is not None and self.relay is not None:
            others_v = sum(e.brings_v for e in steps if e not in drawn and e is not relay)
            told_v = self.relay.brings_v - others_v if self.relay.thin_return else relay.brings_v
            yield replace(self.relay, brings_v=told_v).step(None)

    def _done(self, step: PlanStep) -> QuickStep:
        """Tell what is done to one part."""
        codes: dict[str, QuickStepCode] = {
            "battery": "charge", "mend": "mend", "new_wire": "rewire"
        }  # fmt: skip
        label = f"{step.part} ({step.size})" if step.size else step.part
        return told_step(
            codes[step.code], step.part, None, brings_v=step.brings_v, texts={"part": label}
        )

    def _rewired(
        self, wire: NewWire, part: str, only_if: When | None, brings_v: float | None
    ) -> QuickStep:
        """Draw new wire, with its fuse; past a switch that does not take it."""
        codes = ("rewire_sized", "rewire_if_less"), ("rewire_past", "rewire_past_if_less")
        said = [codes[not wire.fits][only_if is not None]]
        if only_if is None and brings_v is None:
            said = ["rewire_to_spare"]
        if not wire.fits:
            said += [self.several] if self.several in OF_A_SET else ["wired_so"]
            said += [self.several] if self.several and self.several not in OF_A_SET else []
        if wire.is_there and wire.fits and only_if is not None:
            said = ["rewire_as_thick"]
        if wire.hot_c is not None and not wire.fits:
            said.append("thick_by_heat")
        if wire.tailed:
            said.append("by_a_tail")
        thinner = wire.thinner
        if thinner is not None and "thick_by_heat" not in said:
            said.append("thick_by_drop")
        if wire.by_drop is not None:
            said.append("thick_as_pays")
        elif math.isfinite(wire.loses_v):
            said.append("thick_as_there_is")
        if self.wired_back:
            said.append("return_as_thick")
        if wire.hot_fuse is not None:
            said.append("fuse_where_cool")
        told = told_step(
            "rewire", part, only_if, brings_v=brings_v, said=said,
            texts={"size": wire.size, "thinner": thinner.size if thinner else None,
                   "by_drop": wire.by_drop, "load": self.load},
            values={"fuse_a": wire.fuse_a, "may_lose_v": self.may_lose_v,
                    "at_most_v": wire.loses_v if math.isfinite(wire.loses_v) else self.may_lose_v,
                    "thinner_v": thinner.drop_v if thinner else 0.0, "loses_v": wire.loses_v,
                    "most_a": self.most_a, **({"ambient_c": wire.hot_c} if wire.hot_c else {}),
                    **of_hot_fuse(wire.hot_fuse)},
        )  # fmt: skip
        relay_a = None if wire.fits else self.most_a
        return replace(told, size=wire.size, fuse_a=wire.fuse_a, relay_a=relay_a)

    def past_switch(self, wire: NewWire) -> QuickStep:
        """Draw new wire past a switch that is spared by a contactor."""
        return self._rewired(wire, ONWARD, None, None)

    def _if_worn(self, part: str) -> Iterator[QuickStep]:
        """What is done for a contact that takes too much."""
        if part != self.worn_out:
            yield told_step("mend", part, "more")
        elif self.relay is not None:
            yield self.relay.step("more")
        else:
            yield self._another_switch("more")

    def _at_last(self, part: str | None, steps: Sequence[PlanStep]) -> Iterator[QuickStep]:
        """What is done where no contact takes too much, or the switch that cannot be had does."""
        if self.worn_out is not None and self.worn_out != part:
            if self.relay is not None:
                yield self.relay.step("less", self.worn_out, limit_v=self._sound_v("switch"))
                return
            yield self._another_switch("less")
        if self.relay is not None and self._takes_relay(steps):
            yield self.relay.step("less")
        elif self.wire is not None:
            yield self._rewired(self.wire, ONWARD, "less", None)
        elif self.beyond is not None:
            yield self._out_of_reach(self.beyond)

    def _out_of_reach(self, beyond: Beyond) -> QuickStep:
        """Say what would do where no part of the trade does."""
        volts, size = beyond.higher or (math.nan, None)
        said = ["out_of_reach"]
        said += ["battery_nearer"] if math.isfinite(beyond.reach_m) else ["battery_beside"]
        said += ["parallel_cables"] if beyond.count else []
        said += ["higher_system"] if beyond.higher else []
        return told_step(
            "out_of_reach", ONWARD, "less", said=said,
            texts={"size": beyond.size, "count": str(beyond.count), "higher_size": size},
            values={"loses_v": beyond.loses_v, "may_lose_v": self.may_lose_v,
                    "reach_m": beyond.reach_m, "nominal_v": volts},
        )  # fmt: skip

    @property
    def _is_thin(self) -> bool:
        """Whether too little may arrive even with every contact at its best, where it does fail."""
        return self.fails and self.volts.high_v < self.needed.high_v

    def _takes_relay(self, steps: Sequence[PlanStep]) -> bool:
        """Whether a relay is less work, or better, than new wire."""
        planned = any(each.code == "relay" for each in steps)
        usual = self.most_a > TAILED_A and self.several in USUALLY_BY_RELAY and not self.moves
        return (
            self.wire is None
            or not self.wire.fits
            or self.cable_is_near
            or usual
            or (planned and (self.most_a > TAILED_A or self.worn_out is not None))
        )

    def _another_switch(self, only_if: When) -> QuickStep:
        """Where no relay spares it a contactor does, which the last step draws."""
        said = [f"ask_again_if_{only_if}"]
        said += ["or_the_last"] if self.wire is not None and not self.wire.fits else []
        return told_step(
            "ask_again", self.worn_out, only_if, values={"most_a": self.most_a}, said=said,
            limit_v=self._sound_v("switch"),
        )  # fmt: skip

    @property
    def _again(self) -> str:
        """When to read the next: what was taken off for the first one is off still."""
        return "when_still_off" if self.when == "when_held_safely" else self.when

    def _at_load(self) -> QuickStep:
        """Read what reaches the load.

        Enough is what a sound way leaves of what the posts keep, not what it just works from. Where
        it fails, less than what is usual at the worst says that something on the way takes too
        much.
        """
        usual_v = self.studied.spread(POSTS, self.case).low - self.may_lose_v
        limit_v: float = usual_v
        said: tuple[str, ...] = ("expect_lost", self.costs)
        if self.needed.high_v > usual_v:
            limit_v, said = self.needed.high_v, ("expect_need",)
        if self.volts.low_v > limit_v:
            limit_v, said = self.volts.low_v, ("expect_usual",)
        told = ("go_on_if_more", self._again, self.at, *said)
        step = self._reading("read_at_load", self.load, "more", self.volts, limit_v, told)
        return replace(step, may_lose_v=self.may_lose_v)

    def _across(self, part: str) -> QuickStep:
        """Read what a contact takes."""
        spread = self.studied.spread(ACROSS, self.case, part)
        limit_v = self._sound_v(self.contacts[part])
        told = ("go_on_if_more", self._again, "read_across")
        expected = Within(spread.low, spread.high)
        return self._reading("read_across", part, "more", expected, limit_v, told)

    def _sound_v(self, kind: str) -> float:
        """What a sound contact takes at the most while it is read. [V]."""
        limit_v = contact_limits()[kind].limit_v
        return float(in_a_moment_v(limit_v, self.most_a)) if self.moves else limit_v

    def _at_battery(self) -> QuickStep:
        """Read what the battery keeps."""
        spread = self.studied.spread(POSTS, self.case)
        told, expected = (self.when, "read_battery"), Within(spread.low, spread.high)
        return self._reading("read_battery", None, None, expected, spread.low, told)

    def _reading(
        self,
        code: QuickStepCode,
        part: str | None,
        only_if: When | None,
        expected: Within,
        limit_v: float,
        said: tuple[str, ...],
    ) -> QuickStep:
        values = {
            "expected_low_v": expected.low_v, "expected_high_v": expected.high_v,
            "needed_v": self.needed.high_v, "may_lose_v": self.may_lose_v,
        }  # fmt: skip
        texts = {"load": self.load}
        return told_step(
            code, part, only_if, limit_v=limit_v, values=values, said=said, texts=texts
        )

    def _others(self, but: str | None) -> QuickStep:
        """Read every other contact on the way; one that cannot be had is read, and no more."""
        names = [name for name in self.contacts if name != but]
        mended = [name for name in names if name != self.worn_out]
        codes, other = ("mend_others", "mend_those"), "fuse"
        if self.moves:  # clamps and joints to ground carry all that a starter takes, once it turns
            codes, other = ("mend_others_held", "mend_those_held"), "ground"
        then = codes[mended != names]
        return told_step(
            "read_others", ", ".join(names), "less", said=("read_others_if_less", then),
            limit_v=self._sound_v("switch"), values={"other_v": contact_limits()[other].limit_v},
            texts={"mended": ", ".join(mended)},
        )  # fmt: skip
