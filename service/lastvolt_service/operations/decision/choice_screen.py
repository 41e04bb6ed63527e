"""All relays in all places looked at alone, in columns, before any circuit is solved with them.

Each gets what a relay without fault would get there, so that what fails here fails in the circuit.
"""

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.fields import Fields, Quantity
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.fields import RelayData
from lastvolt_service.operations.circuits.intervals import intervals
from lastvolt_service.operations.decision.choice_request import RelayChoiceRequest, relay_in
from lastvolt_service.operations.decision.choice_wires import LEAST_A, InCase, Wired
from lastvolt_service.operations.decision.worn import WORTH_GAINING_SHARE
from lastvolt_service.operations.judging import FAIL, Judged
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays import coil, contact
from lastvolt_service.operations.relays.coil import RelayCoilRequest
from lastvolt_service.operations.relays.contact import RelayContactRequest
from lastvolt_service.operations.relays.data import (
    CoilData,
    ContactData,
    DeratingPoint,
    Suppression,
)
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.rows import NOT_GIVEN, Texts, Words, one_text, row_of
from lastvolt_service.words import catalogue

# Checks that a relay fails wherever it fails alone, and their units; in this order they are told.
LOOKED_AT = {
    "pick_up_at_ambient": "V",
    "pick_up_warm": "V",
    "continuous_voltage": "V",
    "rated_voltage": "V",
    "steady_current": "A",
    "highest_ambient": "degC",
}
# Pick-up of what has pulled in before is not asked for.
PICK_UP = frozenset({"pick_up_warm", "pick_up_at_ambient"})
OF_PLACE = frozenset({"maximum_v", "ambient_c"})


class Alone(NamedTuple):
    """What was found of relays alone, by their place in the list.

    Attributes
    ----------
    failed : dict of int to Check
        What fails first, for each that fails.
    contact_use, coil_use : ndarray
        Highest current over what the contact may carry, and voltage that closes the coil over what
        it gets, in the worst case; infinite where it is not known.
    """

    failed: dict[int, Check]
    contact_use: NDArray[np.float64]
    coil_use: NDArray[np.float64]


def look_alone(
    asked: RelayChoiceRequest, wired: Wired, best: Sequence[InCase], worst: Sequence[InCase]
) -> Alone:
    """Look at every relay in one place.

    Parameters
    ----------
    asked, wired : RelayChoiceRequest, Wired
        The question, and the place.
    best, worst : sequence of InCase
        What load and coil get in each case, through a contact without resistance and through the
        poorest that is looked at here.
    """
    relays = [relay_in(asked, each, wired.place) for each in asked.candidates]
    sure = [place for place, each in enumerate(relays) if not any(True for _ in intervals(each))]
    failed: dict[int, Check] = {}
    uses = np.full((2, len(relays)), np.inf)
    if not sure:
        return Alone(failed, *uses)
    some = [relays[place] for place in sure]
    uses[:, sure] = -np.inf
    for case, most, least in zip(asked.cases, best, worst, strict=True):
        _, here = plain(asked.circuit, case)
        ambient_c = here.ambient_of(wired.place.zone)
        of_coil = coil.solve(_coils(some, ambient_c, most))
        of_contact = contact.solve(_contacts(some, ambient_c, most))
        carried_a = min(most.load_a, least.load_a)
        judged = {each.code: each.judged for each in (*of_coil.checks, *of_contact.checks)}
        may_a = np.asarray(of_contact.columns["derated_current_a"])
        # The contact is judged at its lowest current, of those that are no burden themselves.
        aged = np.where([each.ages for each in some], here.ageing_factor, 1.0)
        is_sound = _column(some, "contact_resistance_ohm") * aged <= most_ohm(asked, most)
        too_much = _contacts(some, ambient_c, most._replace(load_a=carried_a))
        judged["steady_current"] = contact.solve(too_much).checks[0].judged
        for code, unit in LOOKED_AT.items():
            if most.held and code in PICK_UP:
                continue
            fails = np.broadcast_to(judged[code].verdict == FAIL, len(some))
            if code == "steady_current":
                fails = fails & is_sound
            for row in np.flatnonzero(fails).tolist():
                check = _told(code, unit, judged[code], row, (some[row].name, case.name))
                failed.setdefault(sure[row], check)
        closes_v = np.asarray(of_coil.columns["hot_pick_up_v"])
        with np.errstate(divide="ignore", invalid="ignore"):
            ratios = most.load_a / may_a, closes_v / np.float64(most.coil_v)
        for use, ratio in zip(uses, ratios, strict=True):
            known_here = np.where(np.isfinite(ratio), ratio, np.inf)
            use[sure] = np.fmax(use[sure], known_here)
    return Alone(failed, *uses)


def most_ohm(asked: RelayChoiceRequest, most: InCase) -> float:
    """Resistance of a contact beyond which it takes too much of the load's voltage. [ohm]."""
    return WORTH_GAINING_SHARE * asked.system_v / max(most.load_a, LEAST_A)


def _told(code: str, unit: str, judged: Judged, row: int, at: tuple[str, str]) -> Check:
    name, case = at
    one = Judged(*(row_of(each, row) for each in judged))
    return Checked(code, one, unit, COMMON_PRACTICE, part=name, case=case, detail="for_more").told(
        catalogue()["circuit-check"]
    )


def _coils(relays: Sequence[RelayData], ambient_c: float, most: InCase) -> RelayCoilRequest:
    """Ask relay-coil about all of them, each with all that a relay without fault would get."""
    own_v = _column(relays, "maximum_v")
    across = [each.suppression or Suppression(kind=None) for each in relays]
    drive_v = np.where(np.isnan(own_v), most.drive_v, own_v)
    return RelayCoilRequest(
        **_columns(relays, CoilData),
        suppression=Suppression(
            kind=_words([one_text(each.kind) for each in across]),
            resistance_ohm=_numbers(each.resistance_ohm for each in across),
            zener_v=_numbers(each.zener_v for each in across),
        ),
        maximum_v=np.fmax(drive_v, most.coil_v),
        ambient_c=np.full(len(relays), ambient_c),
        available_v=np.full(len(relays), most.coil_v),
        duration_s=NOT_GIVEN if most.held else most.duration_s,
        energised_before=True,
    )


def _contacts(relays: Sequence[RelayData], ambient_c: float, most: InCase) -> RelayContactRequest:
    """Ask relay-contact about all of them."""
    points = max(len(each.derating) for each in relays)
    derating = [
        DeratingPoint(
            ambient_c=_numbers(_point(each, place, "ambient_c") for each in relays),
            current_a=_numbers(_point(each, place, "current_a") for each in relays),
        )
        for place in range(points)
    ]
    return RelayContactRequest(
        **_columns(relays, ContactData),
        derating=derating,
        load_kind=_words([each.load_kind for each in relays]),
        supply_v=np.full(len(relays), most.drive_v),
        load_current_a=np.full(len(relays), max(most.load_a, LEAST_A)),
        ambient_c=np.full(len(relays), ambient_c),
    )


def _point(relay: RelayData, place: int, name: str) -> float:
    return float(getattr(relay.derating[place], name)) if place < len(relay.derating) else NOT_GIVEN


def _columns(relays: Sequence[RelayData], of: type[Fields]) -> dict[str, NDArray[np.float64]]:
    """Put the numbers of relays side by side, but those that a place decides."""
    return {
        name: _column(relays, name)
        for name, each in of.described.items()
        if isinstance(each, Quantity) and name not in OF_PLACE
    }


def _column(relays: Sequence[RelayData], name: str) -> NDArray[np.float64]:
    return _numbers(getattr(each, name) for each in relays)


def _numbers(values: Iterable[Any]) -> NDArray[np.float64]:
    return np.array([float(each) for each in values])


def _words(texts: Sequence[str | None]) -> Texts:
    values = tuple(dict.fromkeys(texts))
    return Words(values, np.array([values.index(each) for each in texts]))
