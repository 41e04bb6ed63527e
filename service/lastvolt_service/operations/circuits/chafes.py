"""Contacts that are none: what a chafe drops is no reason to clean it."""

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.operations.circuits.load_way import NOTHING_A
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.needless import Contact, Needless, how_surely
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitResistance
from lastvolt_service.operations.circuits.short_checks import LEAST_CHAFE_W, LEAST_SHORT_W
from lastvolt_service.operations.judging import FAIL, UNDECIDED, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.units import low_end

# Of the source's voltage, what a resistance past an open switch takes at most that leaves its load
# on: with more it dims a lamp, or spares a coil, by design. Common practice.
LEAK_SHARE = 0.1
# But nobody fits a contact that conducts badly for that: past one its load draws current, whatever
# share that takes. With more ohms it is a wet plug, and coils mind, which draw less than so much.
# [ohm], [A]. Common practice.
MOST_CHAFE_OHM, LEAST_LEAK_A = 10.0, 0.2
# What says of a part that it is to be taken out.
TAKEN_OUT = frozenset({"short", "short_once_on", "crossed", "drawn_past"})
# What says so of one that keeps a coil in, in its detail.
KEPT = frozenset({"holds_itself", "kept_closed", "closes_alone"})
# What would have it conduct better.
OF_CONTACTS = frozenset({"contact_drop", "contact_heat"})


def chafed(checks: Sequence[Check | Checked], chafes: Sequence[Needless]) -> set[str]:
    """Names of parts that are to be taken out, and so never to conduct better."""
    out = {str(c.part) for c in checks if c.code in TAKEN_OUT and c.verdict == "fail"}
    keep = [c for c in checks if c.code in KEPT and c.verdict == "fail"]
    kept = {name for check in keep for name in str(check.detail).split(", ")}
    return out | {
        each.part.name
        for each in chafes
        if each.past or each.shorts or each.between or each.part.name in kept
    }


def but_chafes(checks: Iterable[Checked], out: AbstractSet[str]) -> tuple[Checked, ...]:
    """The same checks, but for those that would have what is to be taken out cleaned."""
    return tuple(c for c in checks if c.code not in OF_CONTACTS or c.part not in out)


def lead_past(state: State, chafes: Sequence[Needless]) -> Iterator[Checked]:
    """Say which switches and relays rule nothing, for a chafe leads past them."""
    for each in chafes:
        together = len(each.past)
        if each.past and _leaves_on(state, each):
            judged = flatly(FAIL, together if together > 1 else NOT_GIVEN)
            for contact in each.past:
                so = {"part": contact.name, "detail": each.part.name}
                yield Checked("bridged", judged, "1", COMMON_PRACTICE, **so)


def _leaves_on(state: State, chafe: Needless) -> bool:
    """Whether a chafe feeds what should be off: one that is a contact does at any time."""
    part, drive_v = chafe.part, state.model.drive_v
    amps, lost_v = abs(state.current_a(part.name)), abs(state.across_v(part.name))
    flows = amps > NOTHING_A and any(_is_open(state, contact) for contact in chafe.past)
    if isinstance(part, CircuitContact):
        always = bool(low_end(part.resistance_ohm) <= MOST_CHAFE_OHM)
        return always or (flows and amps >= LEAST_LEAK_A)
    return flows and (how_surely(part, drive_v) == FAIL or lost_v <= LEAK_SHARE * drive_v)


def joins_once_on(state: State, chafes: Sequence[Needless]) -> Iterator[Checked]:
    """Say what becomes a short as soon as what is open closes."""
    left_out = {*state.model.case.without}
    for each in chafes:
        opened = [contact.name for contact in each.shorts if _is_open(state, contact)]
        verdict = _shorts(each.part, state.model.drive_v)
        if opened and verdict is not None and each.part.name not in left_out:
            so = {"part": each.part.name, "detail": ", ".join(dict.fromkeys(opened))}
            yield Checked("short_once_on", flatly(verdict), "A", COMMON_PRACTICE, **so)


def _shorts(part: Branch, drive_v: float) -> int | None:
    """How sure it is that a part would be a short; None of what may be a lamp, or a sense lead."""
    if not isinstance(part, CircuitResistance):
        return FAIL
    makes_w = drive_v**2 / float(low_end(part.resistance_ohm))
    if makes_w <= LEAST_CHAFE_W:
        return None
    return FAIL if makes_w > LEAST_SHORT_W else UNDECIDED


def _is_open(state: State, contact: Contact) -> bool:
    if contact.name in state.model.case.without:
        return True
    is_relay = any(relay.name == contact.name for relay in state.model.relays)
    return is_relay and state.is_closed(contact.name) == contact.breaks
