"""One step of what a layman does: a reading with a meter, or work, in words and numbers."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from lastvolt_service.operations.circuits.parts import ChainContact, ChainWire
from lastvolt_service.operations.decision.choice_wires import HotFuse
from lastvolt_service.operations.decision.proposal import Proposal
from lastvolt_service.operations.decision.quick_wire import NewWire, area_mm2
from lastvolt_service.operations.results import Check
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

NAME = "quick-answer"
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
When = Literal["less", "more"]
# What is said of a step: in any case, or if only one outcome of a reading leads to it.
SAID: Mapping[tuple[QuickStepCode, When | None], str] = {
    ("relay", None): "fit_relay",
    ("leave_off", None): "leave_off",
    ("charge", None): "charge_first",
    ("mend", None): "mend_and_test",
    ("rewire", None): "rewire",
    ("relay", "less"): "relay_if_less",
    ("relay", "more"): "relay_if_more",
    ("charge", "less"): "charge_if_less",
    ("mend", "more"): "mend_if_more",
    ("rewire", "less"): "rewire_if_less",
    ("ask_again", "less"): "ask_again_if_less",
    ("ask_again", "more"): "ask_again_if_more",
    ("see_to_load", "more"): "see_to_load_if_more",
}


@dataclass(frozen=True, slots=True)
class QuickStep:
    """One step: a reading with a meter, or work."""

    code: Annotated[
        QuickStepCode,
        "look_first: by how it fails, before all else; read_size: by eye; read_battery, "
        "read_at_load, read_across or read_others: with a meter; "
        "look or, where more than the usual may be lost, look_for_loss: by eye, when there is "
        "time, where nothing is to be mended; see_to_load, charge, "
        "mend, rewire or relay: work; out_of_reach: what would do where no new part of the trade "
        "does; leave_off: until that is done, or first of all but for "
        "moments; ask_again",
    ]
    message: Annotated[str, "the same in a sentence: where to read, and what follows"]
    part: Annotated[str | None, "what it is about, as the full request calls it"]
    only_if: Annotated[
        When | None,
        "less or more: only where the last step before it that expects a reading reads so beside "
        "its limit_v; null in any case",
    ]
    expected_low_v: Annotated[float | None, "the least to be expected of the reading"]
    expected_high_v: Annotated[float | None, "the most to be expected of it"]
    limit_v: Annotated[float | None, "that the reading is held against"]
    brings_v: Annotated[float | None, "more voltage at the load; null where that is not known"]
    may_lose_v: Annotated[
        float | None,
        "of read_at_load: how much less than at the battery's posts may be read there, by practice "
        "for such a circuit; limit_v is so with the least that the posts may keep",
    ] = None
    size: Annotated[str | None, "of new wire; null where none is drawn"] = None
    fuse_a: Annotated[float | None, "rating of its fuse; null where none is new"] = None
    relay_a: Annotated[
        float | None,
        "rating of a new relay, or the least of a contactor; null where none is fitted",
    ] = None


@dataclass(frozen=True, slots=True)
class NewRelay:
    """A relay of the trade that would help: what it takes, for `nominal_v`, and what it brings.

    `thin_return` says that the load's return is a wire thinner than its own, and drawn anew;
    `several` is what else is said of it, as of a load that one relay does not serve; `hot_fuse`
    what its fuse carries in hot air, where that is too little.
    """

    proposal: Proposal
    nominal_v: float
    brings_v: float
    thin_return: bool
    several: str | None
    hot_fuse: HotFuse | None

    def step(
        self, only_if: When | None, switch: str = "", told: str = "", **values: float
    ) -> QuickStep:
        """Fit it, with its sizes; also where a switch that cannot be had takes too much.

        Further `values` are told by a sentence of its own.
        """
        feed, outlet = self.proposal.feed, self.proposal.outlet
        fuse_a = next(float(each.rating_a) for each in feed if isinstance(each, ChainContact))
        size = next(str(each.size) for each in outlet if isinstance(each, ChainWire))
        relay = self.proposal.relay
        said = "relay_if_switch" if switch else told or SAID["relay", only_if]
        rating_a = float(relay.rating_a)
        step = told_step(
            "relay", relay.name, only_if, brings_v=self.brings_v,
            said=(
                said,
                *([self.several] if self.several else []),
                *(["return_as_thick"] if self.thin_return else []),
                *(["fuse_where_cool"] if self.hot_fuse else []),
            ),
            texts={"size": size, "switch": switch},
            values={"nominal_v": self.nominal_v, "rating_a": rating_a, "fuse_a": fuse_a}
            | of_hot_fuse(self.hot_fuse) | values,
        )  # fmt: skip
        return replace(step, size=size, fuse_a=fuse_a, relay_a=rating_a)


def of_hot_fuse(found: HotFuse | None) -> dict[str, float]:
    """What is told of a fuse in hot air."""
    return {"fuse_bears_a": found.bears_a, "hot_air_c": found.ambient_c} if found else {}


def leave_off(part: str | None, *, first: bool) -> QuickStep:
    """What burns must not be switched on until it is seen to, nor at all where nothing is said."""
    return told_step("leave_off", part, None, said=("leave_off" if first else "leave_it_off",))


def leave_off_but(heat: Check, wire: NewWire | None) -> QuickStep:
    """What may burn is on for no longer than it must until its current is known."""
    values = {"bears_a": heat.limit or 0.0, "most_a": heat.value or 0.0}
    thicker = wire if wire is not None and not wire.is_there else None
    if thicker is None:
        return told_step("leave_off", heat.part, None, values=values, said=("leave_off_but",))
    return told_step(
        "leave_off", heat.part, None, values={**values, "fuse_a": thicker.fuse_a},
        said=("leave_off_but", "takes_thicker"), texts={"size": thicker.size},
    )  # fmt: skip


def read_size(part: str, size: str, most_a: float, wire: NewWire | None) -> QuickStep:
    """Read the size of a wire that nobody has read, and that may be too thin for its current.

    What is taken in its place loses no more than is usual, either.
    """
    taken = size if wire is None else max(size, wire.size, key=area_mm2)
    return told_step(
        "read_size", part, None, values={"most_a": most_a}, said=("read_size",),
        texts={"size": size, "taken": taken},
    )  # fmt: skip


def told_step(
    code: QuickStepCode,
    part: str | None,
    only_if: When | None,
    *,
    limit_v: float | None = None,
    brings_v: float | None = None,
    values: Mapping[str, float] | None = None,
    said: Sequence[str] = (),
    texts: Mapping[str, str | None] | None = None,
) -> QuickStep:
    """Put one step into words."""
    known = {"limit_v": limit_v, "brings_v": brings_v}
    numbers = {key: value for key, value in known.items() if value is not None} | dict(values or {})
    named = Named(None, numbers).of_check(None, None, "", {"part": part, **(texts or {})})
    reasons = catalogue()[NAME].reasons
    return QuickStep(
        code,
        " ".join(say(reasons[each], named) for each in said or (SAID[code, only_if],)),
        part,
        only_if,
        numbers.get("expected_low_v"),
        numbers.get("expected_high_v"),
        limit_v,
        brings_v,
    )
