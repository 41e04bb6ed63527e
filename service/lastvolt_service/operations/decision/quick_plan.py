"""What a layman does first, next and last: readings, with what follows from them, and work."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.decision.plan import PlanStep
from lastvolt_service.operations.decision.quick_study import ACROSS, POSTS, Studied, Within
from lastvolt_service.operations.decision.remarks import remark
from lastvolt_service.operations.judging import MARGINAL_SHARE
from lastvolt_service.tables.limits import contact_limits

NAME = "quick-answer"
QuickStepCode = Literal[
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
    "leave_off",
]
When = Literal["less", "more"]
# What is said of a step: in any case, or if only one outcome of the first reading leads to it.
SAID: Mapping[tuple[QuickStepCode, When | None], str] = {
    ("read_across", None): "read_across",
    ("read_battery", None): "read_battery",
    ("relay", None): "fit_relay",
    ("leave_off", None): "leave_off",
    ("charge", None): "charge_first",
    ("mend", None): "mend_and_test",
    ("rewire", None): "rewire",
    ("read_others", "less"): "read_others_if_less",
    ("relay", "less"): "relay_if_less",
    ("relay", "more"): "relay_if_more",
    ("charge", "less"): "charge_if_less",
    ("charge", "more"): "charge_if_more",
    ("mend", "more"): "mend_if_more",
    ("rewire", "more"): "rewire_if_more",
    ("ask_again", "more"): "ask_again_if_more",
    ("see_to_load", "more"): "see_to_load_if_more",
}


@dataclass(frozen=True, slots=True)
class QuickStep:
    """One step: a reading with a meter, or work."""

    code: Annotated[
        QuickStepCode,
        "read_at_load, read_across, read_battery or read_others: readings; see_to_load, charge, "
        "mend, rewire or relay: work; leave_off until that is done; ask_again",
    ]
    message: Annotated[str, "the same in a sentence: where to read, and what follows"]
    part: Annotated[str | None, "what it is about, as the full request calls it"]
    only_if: Annotated[
        When | None,
        "less or more: only where the first step reads so beside its limit_v; null in any case",
    ]
    expected_low_v: Annotated[float | None, "the least to be expected of the reading"]
    expected_high_v: Annotated[float | None, "the most to be expected of it"]
    limit_v: Annotated[float | None, "that the reading is held against"]
    brings_v: Annotated[float | None, "more voltage at the load; null where that is not known"]


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
        What reaches the load in its poorest case, and what it needs there.
    fails : bool
        Whether it is known to fail.
    studied : Studied
        What else is to be expected.
    at : str
        What is said of where to read at the load.
    not_to_be_had : set of str
        Contacts that can be neither cleaned nor bought.
    """

    load: str
    contacts: dict[str, str]
    volts: Within
    needed: Within
    fails: bool
    studied: Studied
    at: str
    not_to_be_had: AbstractSet[str] = frozenset()

    def at_load(self) -> QuickStep:
        """Read what reaches the load.

        Enough by a tenth is enough where nothing is known to fail. Where it fails, less than what
        is usual at the worst says that something on the way takes too much.
        """
        limit_v, said = self.needed.high_v, "expect_need"
        if self.volts.low_v >= limit_v and not self.fails:
            limit_v, said = (1.0 + MARGINAL_SHARE) * limit_v, "expect_reserve"
        elif self.volts.low_v > limit_v:
            limit_v, said = self.volts.low_v, "expect_usual"
        return _reading("read_at_load", self.load, self.volts, limit_v, said=(self.at, said))

    def across(self, part: str) -> QuickStep:
        """Read what a contact takes."""
        spread = self.studied.spread(ACROSS, self.studied.poorest, part)
        limit_v = contact_limits()[self.contacts[part]].limit_v
        return _reading("read_across", part, Within(spread.low, spread.high), limit_v)

    def at_battery(self) -> QuickStep:
        """Read what the battery keeps."""
        spread = self.studied.spread(POSTS, self.studied.poorest)
        return _reading("read_battery", None, Within(spread.low, spread.high), spread.low)

    def others(self, but: str | None = None) -> QuickStep:
        """Read every other contact on the way."""
        names = [name for name in self.contacts if name != but]
        limit_v = contact_limits()["switch"].limit_v
        fuse_v = contact_limits()["fuse"].limit_v
        return _step(
            "read_others", ", ".join(names), "less", limit_v=limit_v, more={"fuse_v": fuse_v}
        )


def first_readings(
    reading: Reading, part: str | None, of_source: bool, steps: Sequence[PlanStep]
) -> Iterator[QuickStep]:
    """Begin with the reading that decides, and say what follows from it.

    Parameters
    ----------
    reading : Reading
        What readings are held against.
    part : str or None
        The part that decides.
    of_source : bool
        Whether the battery does.
    steps : sequence of PlanStep
        What would be done with all in the middle of its bounds.
    """
    # What is worn shows where it is read; what more there is to do follows from that.
    relay = [told(each, "less") for each in steps if each.code == "relay"]
    if of_source:
        yield reading.at_battery()
        yield _step("charge", None, "less")
        yield from (told(each, "more") for each in steps)
        if not steps:
            yield _step("ask_again", None, "more")
    elif part in reading.contacts:
        yield reading.across(part)
        if part in reading.not_to_be_had:
            yield from [told(each, "more") for each in steps] or [_step("ask_again", None, "more")]
            yield reading.others(but=part)
        else:
            yield _step("mend", part, "more")
            yield reading.others(but=part)
            yield from relay
    else:
        yield reading.at_load()
        yield reading.others()
        yield from relay
        yield _step("see_to_load", reading.load, "more")


def told(step: PlanStep, only_if: When | None = None) -> QuickStep:
    """Tell a step of the plan of remedy-choice in plain words."""
    codes: dict[str, QuickStepCode] = {
        "battery": "charge", "mend": "mend", "new_wire": "rewire", "relay": "relay"
    }  # fmt: skip
    label = f"{step.part} ({step.size})" if step.size else step.part
    return _step(codes[step.code], step.part, only_if, brings_v=step.brings_v, label=label)


def leave_off(part: str | None) -> QuickStep:
    """What burns must not be switched on until it is seen to."""
    return _step("leave_off", part, None)


def _reading(
    code: QuickStepCode,
    part: str | None,
    expected: Within,
    limit_v: float,
    said: tuple[str, ...] = (),
) -> QuickStep:
    values = {"expected_low_v": expected.low_v, "expected_high_v": expected.high_v}
    return _step(code, part, None, limit_v=limit_v, more=values, said=said)


def _step(
    code: QuickStepCode,
    part: str | None,
    only_if: When | None,
    *,
    limit_v: float | None = None,
    brings_v: float | None = None,
    more: Mapping[str, float] | None = None,
    said: tuple[str, ...] = (),
    label: str | None = None,
) -> QuickStep:
    values = dict(more or {})
    values |= {
        key: value
        for key, value in (("limit_v", limit_v), ("brings_v", brings_v))
        if value is not None
    }
    sentences = [
        remark(each, part=label or part, values=values, of=NAME).message
        for each in said or (SAID[code, only_if],)
    ]
    return QuickStep(
        code,
        " ".join(sentences),
        part,
        only_if,
        values.get("expected_low_v"),
        values.get("expected_high_v"),
        limit_v,
        brings_v,
    )
