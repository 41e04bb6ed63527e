# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.fuse_selection`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseSelection(Result):
    """Answer of ``fuse-selection``.

    Attributes
    ----------
    fuse_rating_a : float or None
        Smallest standard rating inside the window; None where there is none. [A]
    fuse_family : str or None
        Family of that rating.
    lower_a : float
        Smallest rating that carries the load and its inrush. [A]
    upper_a : float
        Largest rating that protects the wire. [A]
    permissible_current_a : float
        Steady current that the wire may carry. [A]
    ambient_c : float
        Ambient of the wire that was reckoned with. [degC]
    fuse_ambient_c : float
        Ambient of the fuse that was reckoned with. [degC]
    """

    fuse_rating_a: float | None
    """Smallest standard rating inside the window; None where there is none. [A]"""
    fuse_family: str | None
    """Family of that rating."""
    lower_a: float
    """Smallest rating that carries the load and its inrush. [A]"""
    upper_a: float
    """Largest rating that protects the wire. [A]"""
    permissible_current_a: float
    """Steady current that the wire may carry. [A]"""
    ambient_c: float
    """Ambient of the wire that was reckoned with. [degC]"""
    fuse_ambient_c: float
    """Ambient of the fuse that was reckoned with. [degC]"""
