# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.wire_resistance`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.common import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class WireResistance(Result):
    """Answer of ``wire-resistance``.

    Attributes
    ----------
    size : str
        The size as asked.
    standard : str
        The standard whose size it is.
    area_mm2 : float
        Section of metal: geometric, minimum or nominal by standard. [mm2]
    temperature_c : float
        Of the conductor, that was reckoned with. [degC]
    temperature_source : {"given", "assumed"}
        Whose it is.
    resistance_ohm_per_m : float
        At that temperature. [ohm/m]
    resistance_ohm : float
        Of the whole length, at that temperature. [ohm]
    """

    size: str
    """The size as asked."""
    standard: str
    """The standard whose size it is."""
    area_mm2: float
    """Section of metal: geometric, minimum or nominal by standard. [mm2]"""
    temperature_c: float
    """Of the conductor, that was reckoned with. [degC]"""
    temperature_source: Literal["given", "assumed"]
    """Whose it is."""
    resistance_ohm_per_m: float
    """At that temperature. [ohm/m]"""
    resistance_ohm: float
    """Of the whole length, at that temperature. [ohm]"""
