# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.conductors`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import ComputedBy
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorSize(Model):
    """One size of a standard, as stranded copper.

    Attributes
    ----------
    size : str
        The size as requests name it.
    standard : str
        The standard that defines the size.
    area_mm2 : float
        Section of copper: geometric, minimum or nominal by standard. [mm2]
    resistance_ohm_per_m : float
        Stranded copper at 20 degC. [ohm/m]
    basis : tuple of str
        Where the numbers come from.
    """

    size: str
    """The size as requests name it."""
    standard: str
    """The standard that defines the size."""
    area_mm2: float
    """Section of copper: geometric, minimum or nominal by standard. [mm2]"""
    resistance_ohm_per_m: float
    """Stranded copper at 20 degC. [ohm/m]"""
    basis: tuple[str, ...]
    """Where the numbers come from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductors(Model):
    """The sizes that requests may name.

    Attributes
    ----------
    sizes : tuple of ConductorSize
        By standard, smallest first.
    cautions : tuple of str
        Who decides.
    computed_by : ComputedBy
        Versions that reproduce this answer.
    """

    sizes: tuple[ConductorSize, ...]
    """By standard, smallest first."""
    cautions: tuple[str, ...]
    """Who decides."""
    computed_by: ComputedBy
    """Versions that reproduce this answer."""
