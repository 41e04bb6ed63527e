"""Blades of relays, and the thickest wire that a receptacle for one is crimped to."""

import math
from collections.abc import Iterable
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.parts import ChainWire
from lastvolt_service.operations.decision.proposal import Proposal
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.tables.sizes import trade_sizes
from lastvolt_service.units import low_end

# Widths of the blades of relays, of their contact and of their coil, in millimetres; a contact for
# more than so many amperes may have the wider one. Common practice.
CONTACT_MM, WIDE_MM, COIL_MM = (6.3,), (6.3, 9.5), (2.8, 6.3)
MOST_OF_6_3_A = 40.0
# Up to such a current a wire that is thick for its drop is spliced to a tail that its terminal
# takes: no larger relay is bought for what a fuse of 10 A carries. Common practice. [A]
TAILED_A = 7.5
# Copper that the largest receptacle for such a blade grips, by its width. Common practice. [mm2]
GRIPS_MM2 = {2.8: 1.5, 6.3: 6.0, 9.5: 10.0}


def of_contact(rating_a: float) -> tuple[float, ...]:
    """Widths that a contact of such a rating may have. [mm]."""
    return WIDE_MM if rating_a > MOST_OF_6_3_A else CONTACT_MM


def thickest(rating_a: float, standard: str) -> str:
    """Size of the thickest wire that is crimped to a contact of such a rating.

    Parameters
    ----------
    rating_a : float
        Of the contact. [A]
    standard : str
        Of the size.
    """
    most_mm2 = GRIPS_MM2[max(of_contact(rating_a))]
    sizes = trade_sizes(standard)
    fits = [each for each in sizes if conductor(each, standard).area_mm2 <= most_mm2]
    return fits[-1]


def grips(widths_mm: Iterable[float], size: str, standard: str | None = None) -> bool:
    """Whether a receptacle for one of some blades is crimped to a wire; a stud takes any.

    Parameters
    ----------
    widths_mm : iterable of float
        Of the blades; one between those of the table is held to be the next wider. [mm]
    size, standard : str, str or None
        Of the wire.
    """
    area_mm2 = conductor(size, standard).area_mm2
    return any(_most_mm2(each) >= area_mm2 for each in widths_mm)


def needs_studs(proposal: Proposal) -> bool:
    """Whether a wire at a proposed contact is too thick for the blades usual for its rating."""
    rating_a = low_end(proposal.relay.rating_a)
    at_contact = (*proposal.feed[-1:], *proposal.outlet[:1])
    wires: list[Any] = [each for each in at_contact if isinstance(each, ChainWire)]
    widths = of_contact(rating_a)
    return known(rating_a) and not all(grips(widths, e.size, e.standard) for e in wires)


def most_mm2_for(size: str, standard: str | None) -> float:
    """Copper of the thickest wire that goes where one of a size is: onto a blade as wide.

    No less than a receptacle of 6.3 mm grips; what none grips is on a stud, which takes any. [mm2].
    """
    area_mm2 = conductor(size, standard).area_mm2
    wide = (GRIPS_MM2[width] for width in WIDE_MM)
    return min((most for most in wide if most >= area_mm2), default=math.inf)


def _most_mm2(width_mm: float) -> float:
    return min((most for width, most in GRIPS_MM2.items() if width >= width_mm), default=math.inf)
