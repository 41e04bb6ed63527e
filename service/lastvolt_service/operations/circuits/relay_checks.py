"""Relays of a circuit, judged by what relay-coil and relay-contact know of them alone."""

import math
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.chatter import chatter_checks
from lastvolt_service.operations.circuits.fields import RelayData
from lastvolt_service.operations.circuits.load_way import NOTHING_A
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, RelayInCase, State
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL, STARTER_MOTOR
from lastvolt_service.operations.judging import (
    FAIL,
    NOT_ASKED,
    UNKNOWN,
    flatly,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays import coil, contact
from lastvolt_service.operations.relays.data import CoilData, ContactData
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.limits import Limit, starting_voltages

PICK_UP = frozenset({"pick_up_at_ambient", "pick_up_warm"})
HOLD = frozenset({"hold"})
# A relay for this system closes, hot, at its nominal voltage, and cold not below this share of it:
# relays close at half to three quarters of the voltage that they are made for. Common practice.
LEAST_PICK_UP_SHARE = 0.4
# Across a coil these conduct if they are joined the other way round.
ONE_WAY_ROUND = frozenset({"diode", "zener"})
# What is judged of a relay whose coil is off.
AT_REST = frozenset({"highest_ambient"})


def relay_checks(
    state: State,
    metal: Metal,
    open_coil_v: Mapping[str, float],
    nominal: int,
    off: AbstractSet[str] = frozenset(),
) -> Iterator[Checked]:
    """Make every check of coils and contacts that applies.

    Parameters
    ----------
    state, metal : State, Metal
        A circuit at rest, and what its metal joins.
    open_coil_v : mapping of str to float
        Voltage at the coil of each relay that has pulled in, before its contact closed. [V]
    nominal : int
        Nominal voltage of the system. [V]
    off : set of str
        Relays that nothing is to close.
    """
    least_v = starting_voltages()[nominal] if _starts(metal) else None
    yield from chatter_checks(state, metal)
    for index, part in enumerate(state.model.parts["coils"]):
        is_off = part.name in off and not state.solution.energised[index]
        yield _made_for(state, index, part, nominal)
        yield from _polarity(state, metal, part)
        for check in _coil(state, index, part, open_coil_v):
            if is_off and check.code in PICK_UP | HOLD:
                continue
            yield _in_a_dip(check, state, least_v) if check.code == "hold" and least_v else check
    for index, (part, _, current) in enumerate(state.carrying("contacts")):
        if abs(current) > NOTHING_A:
            yield from _contact(state, metal, index, part, abs(current))


def _polarity(state: State, metal: Metal, part: Part) -> Iterator[Checked]:
    """Ask which way round a coil with a diode is, where 86 does not lead to the positive side."""
    suppression = part.asked.suppression
    if suppression is None or suppression.kind not in ONE_WAY_ROUND:
        return
    live, grounded = metal.all_sides
    plus, minus = (live, grounded) if state.model.sign > 0 else (grounded, live)
    of_86, of_85 = part.asked.coil_nodes
    if (of_86 in minus and of_86 not in plus) or (of_85 in plus and of_85 not in minus):
        judged = flatly(UNKNOWN)
        yield Checked("coil_polarity", judged, "V", COMMON_PRACTICE, part=part.name)


def _made_for(state: State, index: int, part: Part, nominal: int) -> Checked:
    """Judge whether a relay is one for this voltage."""
    asked: Any = part.asked
    if asked.nominal_v == nominal and asked.pick_up_v > asked.nominal_v:
        # No coil of this voltage: one that senses what charges, and does not drift as copper does.
        judged = flatly(UNKNOWN, asked.pick_up_v)
        return Checked("relay_voltage", judged, "V", COMMON_PRACTICE, part=part.name)
    # What charges the battery may close it; a battery that is low closes no worse than a full one.
    most_v = max(nominal, state.model.drive_v)
    judged = stays_within(state.model.relays[index].pick_up_v, most_v, 0.0)
    detail = "for_more"
    if judged.verdict != FAIL and asked.nominal_v != nominal:
        drive_v = asked.maximum_v if known(asked.maximum_v) else nominal
        judged = reaches(asked.pick_up_v, LEAST_PICK_UP_SHARE * drive_v, 0.0)
        detail = "for_less"
    return Checked("relay_voltage", judged, "V", COMMON_PRACTICE, part=part.name, detail=detail)


def _starts(metal: Metal) -> bool:
    """Whether a starter is switched on and its motor is not among the loads."""
    circuits = {load.asked.circuit for load in metal.loads}
    return STARTER_CONTROL in circuits and STARTER_MOTOR not in circuits


def _in_a_dip(check: Checked, state: State, least: Limit) -> Checked:
    """The same check; not known where the dip that nobody told of might let the relay go."""
    posts_v = float(state.flow("sources").drop_v[0])
    dip_v = float(check.judged.value) * min(least.limit_v / posts_v, 1.0)
    if check.verdict == "fail" or dip_v >= check.judged.limit:
        return check
    judged = check.judged._replace(verdict=UNKNOWN)
    return replace(check, judged=judged, basis=f"{check.basis}; {least.citation}")


def _coil(
    state: State, index: int, part: Part, open_coil_v: Mapping[str, float]
) -> Iterator[Checked]:
    model, solution, relay = state.model, state.solution, state.model.relays[index]
    volts = abs(float(state.flow("coils").drop_v[index]))
    closed, held = bool(solution.energised[index]), model.held[index]
    chatters = index in solution.chatter
    left_out: AbstractSet[str] = frozenset()
    if held or chatters:
        left_out = PICK_UP
    if not (held or closed) or chatters:
        left_out |= HOLD
    # One that is meant to pull in, too: a released coil has no voltage to speak of.
    in_use = held or closed or chatters or volts >= relay.drop_out_v
    before = open_coil_v.get(relay.name, volts) if closed else volts
    asked = coil_request(part, relay, available_v=before, dip_v=volts)
    for check in coil.solve(asked).checks:
        if check.judged.verdict == NOT_ASKED or check.code in left_out:
            continue
        if in_use or check.code in AT_REST:
            yield replace(check, part=relay.name)


def coil_request(
    part: Part, relay: RelayInCase, *, available_v: float, dip_v: float
) -> coil.RelayCoilRequest:
    """Ask relay-coil about the coil of a relay in a circuit."""
    return coil.RelayCoilRequest(
        **{
            **_fields(part.asked, CoilData),
            # What was said of it is not believed where the circuit gives it more.
            "maximum_v": max(relay.drive_v, available_v, dip_v),
            "ambient_c": part.ambient_c,
            "available_v": available_v,
            "dip_v": dip_v,
            "duration_s": relay.duration_s,
            "energised_before": True,
        }
    )


def _contact(state: State, metal: Metal, index: int, part: Part, amps: float) -> Iterator[Checked]:
    relay: RelayData = part.asked
    here = state.model.network.contacts
    own = _fields(relay, ContactData)
    breaks = bool(here.normally_closed[index])
    if breaks:  # the maker's curve is that of the make contact
        own |= {"rating_a": relay.break_rating_a, "derating": [], "make_rating_a": NOT_GIVEN}
    loads = metal.loads_behind(part)
    if _is_coil(metal, part) or (loads and all(map(_is_winding, loads))):
        own["load_kind"] = "solenoid"  # the circuit knows its current
    elif (
        loads and all(load.kind == "motor" for load in loads) and not known(own["inrush_current_a"])
    ):
        # At a stand nothing but their resistance limits them.
        first_a = [state.model.drive_v / load.asked.resistance_ohm for load in loads]
        own["inrush_current_a"] = sum(first_a)
    elif own["load_kind"] is None and loads and all(load.kind == "lamp" for load in loads):
        own["load_kind"] = "lamp"
    asked = contact.RelayContactRequest(
        **{
            **own,
            "contact_resistance_ohm": float(here.resistance_ohm[index]),  # aged, if it ages
            "supply_v": state.model.drive_v,
            "load_current_a": amps,
            "path_resistance_ohm": _before_ohm(state, loads, amps),
            "ambient_c": part.ambient_c,
        }
    )
    for check in contact.solve(asked).checks:
        detail = "relay" if check.code == "contact_drop" else None
        check = replace(check, part=relay.name, detail=detail)
        if breaks and check.code == "inrush":
            check = _of_break_contact(check)
        yield check


def _of_break_contact(check: Checked) -> Checked:
    """The same; what the other contact may close on tells nothing of it, and is not asked for."""
    if check.judged.verdict != UNKNOWN or not known(check.judged.value):
        return check
    return replace(check, code="break_inrush", judged=flatly(UNKNOWN, check.judged.value))


def _before_ohm(state: State, loads: Sequence[Part], amps: float) -> float:
    """Of all that lies between the sources and loads, which take so much together. [ohm]."""
    across_v = max((abs(state.across_v(load.name)) for load in loads), default=math.inf)
    return max(state.model.drive_v - across_v, 0.0) / amps


def _is_coil(metal: Metal, part: Part) -> bool:
    return any(each.kind == "coil" for each in metal.in_series(part))


def _is_winding(load: Part) -> bool:
    """Whether a load's current rises to voltage over resistance and no further.

    That of a starter's control circuit is of both windings, as the limit of its drop is.
    """
    is_copper = getattr(load.asked, "copper", False)
    return load.kind == "solenoid" or is_copper or load.asked.circuit == STARTER_CONTROL


def _fields(relay: RelayData, of: type[CoilData] | type[ContactData]) -> dict[str, Any]:
    return {name: getattr(relay, name) for name in of.described}
