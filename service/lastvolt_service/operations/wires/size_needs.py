"""What is asked of wires of any size, and what their path has in it beside them."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from lastvolt_service.fields import ABSENT, Groups, choice, quantity
from lastvolt_service.laws import OHM, by, named, published
from lastvolt_service.laws import given as told
from lastvolt_service.operations.fuses.profile import (
    CRANKING,
    STARTER_CONTROL,
    STARTER_SOLENOID,
    profile_of,
)
from lastvolt_service.operations.lookup import Found
from lastvolt_service.operations.wires.drop_limits import (
    AllowedDrop,
)
from lastvolt_service.operations.wires.fields import LIMIT
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire
from lastvolt_service.operations.wires.size_check import STEP, Needs, SizedLoad
from lastvolt_service.operations.wires.size_search import (
    WireOfAnySize,
)
from lastvolt_service.rows import (
    Flags,
    Numbers,
    Texts,
    Words,
    are,
    given,
    negate,
    pick,
)
from lastvolt_service.tables.limits import (
    GROUND_RETURN_OHM,
    KEPT_FOR_CONTACTS,
    contact_limits,
    ground_return_citation,
    kept_back_citation,
)

NO_SIZE_HELPS = ("low_supply", "ambient", "fixed_drop")
# So little above the air a wire bears next to no current, however thick. [K]. Common practice.
NEAR_K = 15.0
WHOLE_SUPPLY = "the whole supply: a path cannot drop more"


class WireSizingRequest(WireOfAnySize, SizedLoad):
    """A load, the way to it, and what the wire may drop and bear."""

    at_least_one_of: ClassVar[Groups] = (LIMIT,)

    length_m: Numbers = quantity("length of the way to the load, one way")
    return_path: Texts = choice(
        "how the current comes back: through a wire of the same size, or through the body",
        ("wire", "body"),
    )
    body_resistance_ohm: Numbers = quantity(
        "of the return through the body with its joints; by default what is satisfactory",
        maximum=1e3,
        default=ABSENT,
    )
    contacts_resistance_ohm: Numbers = quantity(
        "of all contacts of the path together: fuse and holder, switch, relay, connectors; by "
        "default a share of the limit is kept back for them",
        maximum=1e3,
        default=ABSENT,
    )

    example: ClassVar = {
        "supply_v": 13.8,
        "load_current_a": 12,
        "length_m": 5.5,
        "return_path": "body",
        "zone": "engine_bay",
        "insulation": "GXL",
        "grouped_conductors": 4,
        "limit_drop_percent": 4,
        "inrush_current_a": 50,
        "fuse_ambient_c": 60,
        "contacts_resistance_ohm": 0.01,
    }


def needs_of(
    asked: WireSizingRequest, ambient_c: Numbers, allowed: AllowedDrop, strong: Found[InsulatedWire]
) -> Needs:
    """Settle what any size is held against: the loop may drop no more than there is."""
    by_body = are(asked.return_path, "body")
    meaning = "of the return through the body; 0 with a return wire"
    loop_m = pick(by_body, asked.length_m, 2 * asked.length_m)
    whole_v = named("limit_drop_v", asked.supply_v, "what the loop may drop", WHOLE_SUPPLY)
    limit_v = pick(allowed.limit_v <= asked.supply_v, allowed.limit_v, whole_v)
    both_windings = are(asked.circuit, STARTER_CONTROL) | are(asked.load_profile, STARTER_SOLENOID)
    share = published(
        "kept_share", KEPT_FOR_CONTACTS, "of the limit, for contacts", kept_back_citation()
    )
    limits_a = _limits_a(asked, both_windings)
    own_ohm, sound_ohm = asked.body_resistance_ohm, _sound_body_ohm(limits_a, meaning)
    body_ohm = pick(given(own_ohm), own_ohm, sound_ohm)
    kept_ohm = by(OHM, share * limit_v / pick(limits_a > 0, limits_a, asked.load_current_a))
    nothing = told("kept_ohm", 0.0, "kept back for contacts: they are given, or not in the limit")
    kept_ohm = pick(keeps_back(asked, allowed), kept_ohm, nothing)
    none = told("contacts_ohm", 0.0, "of the contacts of the path: none are given")
    contacts_ohm = pick(given(asked.contacts_resistance_ohm), asked.contacts_resistance_ohm, none)
    # What nobody measured decides nothing: it is left out, and the drop is not judged.
    apart_v = limits_a * (contacts_ohm + kept_ohm)
    by_guess = by_body & negate(given(own_ohm)) & (apart_v < limit_v)
    by_guess = by_guess & (apart_v + limits_a * sound_ohm >= limit_v)
    body_ohm = pick(by_guess, told("body_resistance_ohm", 0.0, meaning), body_ohm)
    return Needs(
        asked,
        both_windings,
        allowed.is_for_both_windings,
        are(asked.load_profile, CRANKING),
        asked.supply_v,
        ambient_c,
        named("loop_length_m", loop_m, "length of wire, out and back"),
        pick(by_body, body_ohm, told("body_resistance_ohm", 0.0, meaning)),
        named("contacts_ohm", contacts_ohm, "of the contacts of the path"),
        named("kept_ohm", kept_ohm, "kept back for contacts"),
        limit_v,
        strong.numbers(lambda wire: wire.conductor.area_mm2),
        by_guess,
        by_body & negate(given(own_ohm)),
    )


def _sound_body_ohm(current_a: Numbers, meaning: str) -> Numbers:
    """Of a sound return through the body, where nobody measured it. [ohm].

    No more than what is satisfactory, and no more than what drops what a sound ground does.
    """
    sound = contact_limits()["ground"]
    most_ohm = published(
        "body_resistance_ohm", GROUND_RETURN_OHM, meaning, ground_return_citation()
    )
    sound_v = published("sound_ground_v", sound.limit_v, "drop of a sound ground", sound.citation)
    some_a = pick(current_a > 0, current_a, 1.0)
    least_ohm = named("body_resistance_ohm", by(OHM, sound_v / some_a), meaning)
    found: Numbers = pick(most_ohm * current_a > sound_v, least_ohm, most_ohm)
    return found


def keeps_back(asked: WireSizingRequest, allowed: AllowedDrop) -> Flags:
    """Whether a share is kept: of limits of whole paths, where the contacts are not given."""
    is_open = negate(given(asked.contacts_resistance_ohm))
    found: Flags = is_open & negate(are(allowed.applies_to, CRANKING))
    return found


def no_size_helps(asked: WireSizingRequest, needs: Needs, strong: Found[InsulatedWire]) -> Texts:
    """Say why no size can pass, where the wire is not to blame."""
    limit_c = _insulation_limit_c(asked, strong)
    limits_a = _limits_a(asked, needs.both_windings)
    fixed_v = limits_a * (needs.other_ohm + needs.kept_ohm)
    # Both windings of a solenoid, a resistance, draw less through a poor path.
    fixed_v = pick(
        needs.both_windings, needs.supply_v * fixed_v / (needs.supply_v + fixed_v), fixed_v
    )
    is_low = asked.needed_v > needs.supply_v  # never of one that is not given
    is_hot, is_lost = needs.ambient_c >= limit_c, fixed_v >= needs.limit_drop_v
    codes = pick(is_low, 0, pick(is_hot, 1, pick(is_lost, 2, 3)))
    if not isinstance(codes, np.ndarray):
        return (*NO_SIZE_HELPS, None)[int(codes)]
    return Words((*NO_SIZE_HELPS, None), codes)


def heat_decides(
    asked: WireSizingRequest, needs: Needs, strong: Found[InsulatedWire], held: Mapping[str, Any]
) -> Flags:
    """Whether the air leaves the insulation so little that a size is no matter of its drop."""
    near = _insulation_limit_c(asked, strong) - needs.ambient_c <= NEAR_K
    fixed_v = _limits_a(asked, needs.both_windings) * (needs.other_ohm + needs.kept_ohm)
    smaller_v = held["drop_v"] + (STEP - 1.0) * (held["drop_v"] - fixed_v)
    is_more = held["area_mm2"] > needs.minimum_area_mm2
    found: Flags = near & (smaller_v <= needs.limit_drop_v) & is_more
    return found


def _insulation_limit_c(asked: WireSizingRequest, strong: Found[InsulatedWire]) -> Numbers:
    own_c = asked.insulation_limit_c
    found: Numbers = pick(given(own_c), own_c, strong.numbers(lambda wire: wire.limit_c))
    return found


def contacts_drop_v(asked: WireSizingRequest, needs: Needs) -> Numbers:
    """Of the limit, what is for the contacts of the path. [V]."""
    drop_v = (needs.contacts_ohm + needs.kept_ohm) * _limits_a(asked, needs.both_windings)
    return named("contacts_drop_v", by(OHM, drop_v), "of the limit, for contacts of the path")


def _limits_a(asked: WireSizingRequest, both_windings: Flags) -> Numbers:
    """Current that the limit speaks of. [A]."""
    first_a = profile_of(asked).first_a
    found: Numbers = pick(both_windings & given(first_a), first_a, asked.load_current_a)
    return found
