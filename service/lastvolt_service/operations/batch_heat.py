"""Fuses in columns: texts looked up, the rest as for one request."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from lastvolt_service.operations import fuse_selection
from lastvolt_service.operations.batch import Answered
from lastvolt_service.operations.fuse_window import judge_window, solve_window, window_basis
from lastvolt_service.operations.lookup import Refusal, look_up
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solved import Fault, Solved
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heated_wire import ambient_of, lay
from lastvolt_service.operations.wires.insulated_wire import insulated_wire
from lastvolt_service.rows import Texts, Words, given, pick
from lastvolt_service.tables.fuses import fuse_families

Data = Mapping[str, Any]
TEXTS = ("material", "construction", "insulation")
WIRE_TEXTS = ("size", "standard", *TEXTS)


def fuse_selection_rows(data: Data) -> Answered:
    """Loads and their wires in columns.

    Parameters
    ----------
    data : mapping
        As above.

    Returns
    -------
    Answered
    """
    place = Zoned(**{name: data[name] for name in Zoned.described})
    ambient, basis = ambient_of(place)
    own = data["permissible_current_a"]
    bears = own
    faults: tuple[Fault, ...] = ()
    refusals: list[Refusal] = []
    if not np.all(given(own)):
        found = look_up(insulated_wire, **{name: data[name] for name in WIRE_TEXTS})
        wires, no_room = lay(found, place, ambient)
        may = permissible(wires)
        bears = pick(given(own), own, may.current_a)
        faults, refusals = (no_room,), found.refusals()
        basis = merge(wires.basis, may.basis, basis)
    fuse_ambient = data["fuse_ambient_c"]
    fuse_ambient = pick(given(fuse_ambient), fuse_ambient, ambient)
    inrush = data["inrush_current_a"]
    window = solve_window(
        load_current_a=data["load_current_a"],
        inrush_current_a=pick(given(inrush), inrush, 0.0),
        inrush_time_s=data["inrush_time_s"],
        permissible_current_a=bears,
        fuse_ambient_c=fuse_ambient,
        family=data["fuse_family"],
    )
    columns = {
        **window.columns,
        "fuse_family": family_rows(window),
        "permissible_current_a": bears,
        "ambient_c": ambient,
        "fuse_ambient_c": fuse_ambient,
    }
    rating, lower, upper = window.columns.values()
    own_basis = (fuse_selection.GIVEN_PERMISSIBLE,) if np.any(given(own)) else ()
    return Answered(
        Solved(
            columns,
            judge_window(rating, lower, upper, bears, inrush),
            (*faults, *window.faults),
        ),
        merge(own_basis, basis, fuses_basis(inrush)),
        fuse_selection.CAUTIONS,
        refusals,
    )


def texts_of(data: Data) -> dict[str, Texts]:
    """Take the texts that say what a wire is.

    Parameters
    ----------
    data : mapping
        Columns or constants by field.

    Returns
    -------
    dict
    """
    return {name: data[name] for name in TEXTS}


def fuses_basis(inrush: Any) -> tuple[str, ...]:
    """Say what the choice of fuses rests on.

    Parameters
    ----------
    inrush : float or ndarray
        First currents. [A]

    Returns
    -------
    tuple of str
    """
    has = bool(np.any(inrush > 0))
    return merge(*(window_basis(name, np.inf, inrush=has) for name in fuse_families()))


def family_rows(window: Solved) -> Words:
    """Name the family of each rating found, none where there is none.

    Parameters
    ----------
    window : Solved
        As `solve_window` finds it.

    Returns
    -------
    Words
    """
    family, has = window.aside["family"], given(window.columns["fuse_rating_a"])
    if not isinstance(family, Words):
        family = Words((family, None), np.zeros(np.shape(has), dtype=np.intp))
    return Words(family.values, np.where(has, family.codes, len(family.values) - 1))
