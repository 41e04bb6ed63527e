"""What to make of a circuit solved as it is and with a relay: the advice, and its reasons."""

from collections.abc import Callable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from typing import Annotated, Literal

from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.check import POOR, Judged
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.decision.versions import Both
from lastvolt_service.operations.judging import MARGINAL_SHARE
from lastvolt_service.operations.results import Check
from lastvolt_service.units import UNITS
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

Advice = Literal["worth_it", "insurance_only", "not_the_remedy", "change_the_proposal"]
NEW_RISKS = ("one_more_part", "rough_place", "live_feed")
BOUNDS = frozenset({"within_bounds", "rest_within_bounds"})
# The checks that tell whether a part works, and whether it bears what it carries. A contact that
# drops too much is no reason by itself: the load's own voltage decides.
WORKS = BOUNDS | {"load_voltage", "relay_pick_up", "relay_hold", "relay_rest"}
CARRIES = frozenset(
    {"contact_current", "fuse_load", "conductor_temperature", "fuse_protection", "fuse_overload"}
)
FAILS = frozenset({"fail"})
_SUFFIXES = {unit.symbol: unit.suffix for unit in UNITS}


@dataclass(frozen=True, slots=True)
class Remark:
    """One sentence about a decision, with its code and its numbers."""

    code: Annotated[str, "what kind of remark it is, in a word that stays the same"]
    message: Annotated[str, "the same in a sentence"]
    case: Annotated[str | None, "the case that shows it, as the request names it"] = None
    part: Annotated[str | None, "the part that it is about, as the request names it"] = None
    check: Annotated[str | None, "code of the check that it repeats"] = None
    values: Annotated[dict[str, Annotated[float, "the number"]], "its numbers by name"] = field(
        default_factory=dict
    )


def remark(
    code: str,
    *,
    case: str | None = None,
    part: str | None = None,
    check: Check | None = None,
    values: Mapping[str, float] | None = None,
) -> Remark:
    """Put a remark into words."""
    told = dict(values or {})
    if check is not None:
        case, part, suffix = check.case, check.part, _SUFFIXES[check.unit]
        numbers = {"value": check.value, "limit": check.limit}
        told = {f"{name}{suffix}": found for name, found in numbers.items() if found is not None}
    texts = {"case": case, "part": part, "check": check.message if check else None}
    named = Named(None, told).of_check(None, None, "", texts)
    message = say(catalogue()["relay-retrofit"].reasons[code], named)
    return Remark(code, message, case, part, check.code if check else None, told)


def advise(
    both: Sequence[Both],
    poorest: Both,
    mend_first: Sequence[Mend],
    load: str,
    switch: str,
    own: AbstractSet[str],
) -> tuple[Advice, tuple[Remark, ...]]:
    """Weigh both versions, and give the reasons in order of weight.

    Parameters
    ----------
    both : sequence of Both
        Every case.
    poorest : Both
        The case with the least to spare as it is.
    mend_first : sequence of Mend
        What bridging each part would bring in that case, as it is.
    load, switch : str
        Names of the load and of the switch.
    own : set of str
        Names of the proposed parts.
    """
    weak = [item for item in both if _found(item.as_is, {load}, WORKS, POOR)]
    overloaded = _failed(both, {switch}, CARRIES, _as_is)
    if not weak and not overloaded:
        spare = min(both, key=lambda item: item.told.as_is.margin_v)
        margin_v = spare.told.as_is.margin_v
        enough = remark("enough_as_is", case=spare.told.name, values={"margin_v": margin_v})
        return "insurance_only", (enough, *_worn(spare, own))
    unsure = _failed(both, {load}, BOUNDS, _as_is)
    needs_it = (*map(_arrives, weak), *unsure, *overloaded)
    lost = [item for item in both if _found(item.proposed, {load} | own, WORKS, FAILS)]
    if lost:
        # A relay that stays open first: it is why the load then gets nothing.
        why = (*_failed(both, own, WORKS, _proposed), *_failed(both, {load}, WORKS, _proposed))
        return "not_the_remedy", (*why, *_costliest(lost[0].proposed.state, load))
    cure = _cured_by_mending(poorest, mend_first, load) if weak else ()
    if cure:
        return "not_the_remedy", (*cure, *needs_it)
    unfit = _failed(both, own, CARRIES, _proposed)
    if unfit:
        return "change_the_proposal", (*unfit, *needs_it)
    return "worth_it", (*needs_it, *map(_gain, weak or both))


def _as_is(item: Both) -> Judged:
    return item.as_is


def _proposed(item: Both) -> Judged:
    return item.proposed


def _found(
    judged: Judged,
    parts: AbstractSet[str],
    codes: AbstractSet[str],
    verdicts: AbstractSet[str],
) -> list[Check]:
    return [
        check
        for check in judged.checks
        if check.part in parts and check.code in codes and check.verdict in verdicts
    ]


def _failed(
    both: Sequence[Both],
    parts: AbstractSet[str],
    codes: AbstractSet[str],
    version: Callable[[Both], Judged],
) -> tuple[Remark, ...]:
    return tuple(
        remark("failed_check", check=check)
        for item in both
        for check in _found(version(item), parts, codes, FAILS)
    )


def _worn(item: Both, own: AbstractSet[str]) -> tuple[Remark, ...]:
    """Contacts that drop more than sound ones do, though the load can spare it."""
    return tuple(
        remark("worn_contact", check=check)
        for check in item.as_is.checks
        if check.code == "contact_drop" and check.verdict == "fail" and check.part not in own
    )


def _arrives(item: Both) -> Remark:
    told = item.told.as_is
    return remark(
        "arrives_as_is",
        case=item.told.name,
        values={"load_voltage_v": told.load_voltage_v, "needed_v": told.needed_v},
    )


def _gain(item: Both) -> Remark:
    told = item.told
    change = {"gain_v": told.gain_v} if told.gain_v >= 0 else {"loss_v": -told.gain_v}
    return remark(
        "relay_brings" if told.gain_v >= 0 else "relay_takes",
        case=told.name,
        values={
            **change,
            "margin_v": told.proposed.margin_v,
            "proposed_current_a": abs(told.proposed.switch_current_a),
            "as_is_current_a": abs(told.as_is.switch_current_a),
        },
    )


def _costliest(state: State, load: str) -> tuple[Remark, ...]:
    """What stands in the way of the load with the relay, or of the coil that does not close it."""
    relay, closed = state.model.relays[-1], bool(state.solution.energised[-1])
    found = mending(state, load if closed else relay.name)
    code = "costs_load" if closed else "costs_coil"
    return tuple(_costs(code, each) for each in found[:1])


def _costs(code: str, part: Mend) -> Remark:
    return remark(code, part=part.name, values={"regained_v": part.regained_v})


def _cured_by_mending(poorest: Both, mend_first: Sequence[Mend], load: str) -> tuple[Remark, ...]:
    """Whether the costliest part is one that the relay leaves in the load's path, and the cure."""
    if not mend_first:
        return ()
    top, version, state = mend_first[0], poorest.told.as_is, poorest.proposed.state
    enough = version.margin_v + top.regained_v >= MARGINAL_SHARE * version.needed_v
    stays = abs(state.current_a(top.name)) >= 0.5 * abs(state.current_a(load)) > 0
    if not (enough and stays):
        return ()
    return (_costs("cured_by_mending", top),)
