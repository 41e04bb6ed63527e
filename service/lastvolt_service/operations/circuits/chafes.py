"""Contacts that are none: what a chafe drops is no reason to clean it."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact
from lastvolt_service.operations.circuits.ruled import SWITCHES
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Check

# What says of a part that it is to be taken out.
TAKEN_OUT = frozenset({"short", "crossed", "drawn_past"})
# What would have it conduct better.
OF_CONTACTS = frozenset({"contact_drop", "contact_heat"})


def taken_out(
    checks: Sequence[Check | Checked], circuit: Circuit, names: AbstractSet[str]
) -> set[str]:
    """Of some names those of parts that are to be taken out, and so never to conduct better.

    Where something leads past a switch that is each joint without which all is fed, too.
    """
    found = {str(c.part) for c in checks if c.code in TAKEN_OUT and c.verdict == "fail"}
    if any(each.code == "bridged" for each in checks):
        found |= _needless(circuit, names)
    return found & names


def but_chafes(checks: Sequence[Checked], circuit: Circuit) -> tuple[Checked, ...]:
    """The same checks, but for those that would have a chafe cleaned or tightened."""
    poor = {str(c.part) for c in checks if c.code in OF_CONTACTS and c.verdict != "pass"}
    out = taken_out(checks, circuit, poor) if poor else poor
    return tuple(c for c in checks if c.code not in OF_CONTACTS or c.part not in out)


def _needless(circuit: Circuit, names: AbstractSet[str]) -> set[str]:
    """Those of some joints without which every load and coil is fed, all switches closed."""
    joints = [each.name for each in circuit.branches if each.name in names and _is_joint(each)]
    whole = _fed(circuit, frozenset())
    return {name for name in joints if whole <= _fed(circuit, frozenset({name}))}


def _is_joint(each: Branch) -> bool:
    return isinstance(each, CircuitContact) and each.part not in SWITCHES | {"fuse"}


def _fed(circuit: Circuit, left_out: AbstractSet[str]) -> set[str]:
    live, grounded = circuit.sides(left_out)
    ends = {each.name: {*each.nodes} for each in circuit.loads}
    ends |= {each.name: {*each.coil_nodes} for each in circuit.relays}
    return {name for name, nodes in ends.items() if nodes & live and nodes & grounded}
