"""What to make of a circuit solved as it is and with a relay: the advice, and its reasons."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.circuit import Data, State
from lastvolt_service.operations.circuit_bounds import NAME as WITHIN_BOUNDS
from lastvolt_service.operations.circuit_check import Judged
from lastvolt_service.operations.circuit_state import Influence, OutputSpread
from lastvolt_service.operations.mending import Mend, mending
from lastvolt_service.operations.results import Check, show
from lastvolt_service.operations.solved import MARGINAL_SHARE, Verdict

Advice = Literal["worth_it", "insurance_only", "not_the_remedy", "change_the_proposal"]
ADVICE: Mapping[Advice, str] = {
    "worth_it": "Worth it: the circuit as it is fails or has little to spare, and with the relay "
    "it does not.",
    "insurance_only": "Insurance only: in every case the load has enough to spare as it is.",
    "not_the_remedy": "Not the remedy: mend the wiring or the ground first.",
    "change_the_proposal": "The relay would help, but a proposed part does not suit: change it.",
}
NEW_RISKS = (
    "One more part can fail: its coil, its contact and their joints stand in the way of the load.",
    "Where it is mounted it must stand the heat, shaking and splashing; a welded contact keeps "
    "the load on with the switch off.",
    "Its feed is live at all times from the heavy cable: without its own fuse close to the tap, "
    "chafed insulation there ends in a fire.",
)
# How the checks begin that tell whether a part works, and whether it bears what it carries. A
# contact that drops too much is no reason by itself: the load's own voltage decides.
WORKS = ("voltage", "pick-up", "hold", "relay at rest", WITHIN_BOUNDS)
CARRIES = ("current", "fuse", "conductor temperature", "protection")
FAILS: tuple[Verdict, ...] = ("fail",)
SHORT: tuple[Verdict, ...] = ("fail", "marginal")


@dataclass(frozen=True, slots=True)
class Version:
    """The circuit as it is, or as proposed, in one case."""

    load_voltage_v: Annotated[float, "voltage that reaches the load"]
    needed_v: Annotated[float, "lowest voltage that it works at in this case"]
    margin_v: Annotated[float, "load_voltage_v over needed_v"]
    switch_current_a: Annotated[float, "through the switch"]
    switch_power_w: Annotated[float, "heat made in the switch"]
    tolerated_contact_ohm: Annotated[
        float | None,
        "further resistance of the switch until the load fails, at most 1000; null where it fails "
        "as it is",
    ]
    hottest_winding_c: Annotated[
        float | None,
        "highest temperature of the load at which it still works, at most 400; null where it "
        "works at none",
    ]
    coil_v: Annotated[float | None, "at the relay's coil before it closes; null as it is"]
    pick_up_v: Annotated[float | None, "that closes the relay, its coil warm; null as it is"]
    spreads: Annotated[tuple[OutputSpread, ...], "empty where no input is an interval"]
    influences: Annotated[tuple[Influence, ...], "of the inputs that are, strongest first"]
    verdict: Annotated[Verdict, "the worst check of the load and of the proposed parts"]


@dataclass(frozen=True, slots=True)
class RetrofitCase:
    """Both versions in one case."""

    name: Annotated[str, "the case as the request names it"]
    as_is: Annotated[Version, "the circuit as it is"]
    proposed: Annotated[Version, "the circuit with the relay"]
    gain_v: Annotated[float, "more voltage at the load with the relay"]


@dataclass(frozen=True, slots=True)
class Both:
    """One case of both versions.

    Attributes
    ----------
    case : mapping
        As in the request.
    as_is, proposed : Judged
        Both versions at rest, with their checks.
    told : RetrofitCase
        What the answer says of them.
    """

    case: Data
    as_is: Judged
    proposed: Judged
    told: RetrofitCase


def advise(
    both: Sequence[Both],
    poorest: Both,
    mend: Sequence[Mend],
    load: str,
    switch: str,
    own: set[str],
) -> tuple[Advice, tuple[str, ...]]:
    """Weigh both versions.

    Parameters
    ----------
    both : sequence of Both
        Every case.
    poorest : Both
        The case with the least to spare as it is.
    mend : sequence of Mend
        What bridging each part would bring in that case, as it is.
    load, switch : str
        Names of the load and of the switch.
    own : set of str
        Names of the proposed parts.

    Returns
    -------
    advice : str
    reasons : tuple of str
        In order of weight.
    """
    weak = [item for item in both if _said(item.as_is, {load}, WORKS, SHORT)]
    overloaded = _reasons(both, {switch}, CARRIES, lambda item: item.as_is)
    if not weak and not overloaded:
        spare = min(both, key=lambda item: item.told.as_is.margin_v)
        return "insurance_only", (
            f"Even in {spare.case['name']} the load has "
            f"{show(spare.told.as_is.margin_v, 'V')} to spare as it is.",
            *_worn(spare, own),
        )
    unsure = _reasons(both, {load}, (WITHIN_BOUNDS,), lambda item: item.as_is)
    needs_it = (*(_as_is_reason(item) for item in weak), *unsure, *overloaded)
    lost = [item for item in both if _said(item.proposed, {load} | own, WORKS, FAILS)]
    if lost:
        # A relay that stays open first: it is why the load then gets nothing.
        why = (
            *_reasons(both, own, WORKS, lambda item: item.proposed),
            *_reasons(both, {load}, WORKS, lambda item: item.proposed),
        )
        return "not_the_remedy", (*why, *_costliest(lost[0].proposed.state, load))
    cure = _cured_by_mending(poorest, mend, load) if weak else ()
    if cure:
        return "not_the_remedy", (*cure, *needs_it)
    unfit = _reasons(both, own, CARRIES, lambda item: item.proposed)
    if unfit:
        return "change_the_proposal", (*unfit, *needs_it)
    return "worth_it", (*needs_it, *(_gain_reason(item) for item in weak or both))


def _worn(item: Both, own: set[str]) -> tuple[str, ...]:
    """Contacts that drop more than sound ones do, though the load can spare it."""
    return tuple(
        f"Mend it all the same: in {item.case['name']}, {check.message}"
        for part, check in item.as_is.checks
        if check.name.startswith("drop: ") and check.verdict == "fail" and part not in own
    )


def _said(
    judged: Judged, parts: set[str], names: tuple[str, ...], verdicts: tuple[Verdict, ...]
) -> list[Check]:
    return [
        check
        for part, check in judged.checks
        if part in parts and check.name.startswith(names) and check.verdict in verdicts
    ]


def _reasons(
    both: Sequence[Both],
    parts: set[str],
    names: tuple[str, ...],
    version: Callable[[Both], Judged],
) -> tuple[str, ...]:
    return tuple(
        f"In {item.case['name']}, {check.message}"
        for item in both
        for check in _said(version(item), parts, names, FAILS)
    )


def _as_is_reason(item: Both) -> str:
    version = item.told.as_is
    return (
        f"In {item.case['name']}, {show(version.load_voltage_v, 'V')} arrive as it is and "
        f"{show(version.needed_v, 'V')} are needed."
    )


def _gain_reason(item: Both) -> str:
    gain = item.told.gain_v
    moved = f"brings {show(gain, 'V')} more to" if gain >= 0 else f"takes {show(-gain, 'V')} from"
    return (
        f"In {item.case['name']}, the relay {moved} the load, which then has "
        f"{show(item.told.proposed.margin_v, 'V')} above what it needs, and the switch carries "
        f"{show(abs(item.told.proposed.switch_current_a), 'A')} in place of "
        f"{show(abs(item.told.as_is.switch_current_a), 'A')}."
    )


def _costliest(state: State, load: str) -> tuple[str, ...]:
    """What stands in the way of the load with the relay, or of the coil that does not close it."""
    relay, closed = state.model.relays[-1], bool(state.solution.energised[-1])
    mend = mending(state, load if closed else relay.name)
    if not mend:
        return ()
    whom = "the load" if closed else "the relay's coil"
    return (
        f"{mend[0].name} costs {whom} {show(mend[0].regained_v, 'V')} with the relay too: mend "
        "it first.",
    )


def _cured_by_mending(poorest: Both, mend: Sequence[Mend], load: str) -> tuple[str, ...]:
    """Whether the costliest part is one that the relay leaves in the load's path, and the cure."""
    if not mend:
        return ()
    top = mend[0]
    version = poorest.told.as_is
    enough = version.margin_v + top.regained_v >= MARGINAL_SHARE * version.needed_v
    load_a = poorest.proposed.state.current_a(load)
    stays = abs(poorest.proposed.state.current_a(top.name)) >= 0.5 * abs(load_a) > 0
    if not (enough and stays):
        return ()
    return (
        f"{top.name} costs the load {show(top.regained_v, 'V')}, and the relay does not bypass "
        "it: mended, the circuit has enough without a relay.",
    )
