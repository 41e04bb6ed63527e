"""The relays of a circuit in a case: their coils at temperature, their contacts aged."""

from collections.abc import Sequence
from typing import Any, NamedTuple, cast

from lastvolt_service.fields import known
from lastvolt_service.laws import OHM, by
from lastvolt_service.laws import given as told
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Relay
from lastvolt_service.operations.circuits.model import Part, RelayInCase
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.relays.warm_coil import ASSUMED_TIME_CONSTANT, warm_coil
from lastvolt_service.rows import NOT_GIVEN, Numbers, given


class ContactInCase(NamedTuple):
    """A contact of a relay: its part, resistance, index of the relay, and whether it breaks."""

    part: Part
    resistance_ohm: float
    relay: int
    breaks: bool


def relay_in_case(relay: Relay, case: Case, emf_v: Numbers, prefix: str = "") -> RelayInCase:
    """Bring a relay's coil to temperature; `prefix` is of the symbols, where this is told in steps.

    As warm as the source could make it: it must close again right after it was in use. One that
    has pulled in before may have been on for hours.
    """
    around_c: Any = told(f"{prefix}ambient_c", case.ambient_c_of(relay), "around the relay")
    own_v: Any = relay.maximum_v
    drive_v: Any = (
        own_v if known(own_v) else told(f"{prefix}emf_v", emf_v, "of the source without load")
    )
    duration_s = NOT_GIVEN if relay.name in case.held else case.duration_s
    coil = warm_coil(
        relay, ambient_c=around_c, drive_v=drive_v, duration_s=duration_s, prefix=prefix
    )
    is_warm, warm_c = bool(given(coil.warm_c)), cast("float", coil.warm_c)
    change: Any = coil.change_warm if is_warm else coil.change_cold
    return RelayInCase(
        relay.name,
        drive_v,
        duration_s,
        warm_c if is_warm else around_c,
        _with_resistor(relay, relay.coil_resistance_ohm * change),
        by(SCALING, relay.pick_up_v * change),
        by(SCALING, relay.drop_out_v * change),
        (ASSUMED_TIME_CONSTANT,) if coil.assumed else (),
    )


def _with_resistor(relay: Relay, coil_ohm: Any) -> Any:
    """Resistance between 86 and 85: a suppression resistor takes its current from the same wire."""
    fitted = relay.suppression
    if fitted is None or not known(fitted.resistance_ohm):
        return coil_ohm
    return by(OHM, 1 / (1 / coil_ohm + 1 / fitted.resistance_ohm))


def contacts_in_case(relays: Sequence[Relay], case: Case) -> list[ContactInCase]:
    """Make the contacts of relays, each with its own place among them."""
    found = []
    for index, relay in enumerate(relays):
        ohm = relay.contact_resistance_ohm * (case.ageing_factor if relay.ages else 1.0)
        ambient = case.ambient_c_of(relay)
        for nodes, breaks in ((relay.contact_nodes, False), (relay.break_nodes, True)):
            if nodes:
                part = Part.of(relay, "relay", "contacts", ambient, nodes)
                found.append(ContactInCase(part, ohm, index, breaks))
    return found
