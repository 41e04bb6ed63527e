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
        Largest rating whose opening current the wire bears. [A]
    overload_current_a : float or None
        The overload that is worst for the wire; None where none was judged. [A]
    overload_time_s : float or None
        Longest time in which the fuse interrupts it. [s]
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
    """Largest rating whose opening current the wire bears. [A]"""
    overload_current_a: float | None
    """The overload that is worst for the wire; None where none was judged. [A]"""
    overload_time_s: float | None
    """Longest time in which the fuse interrupts it. [s]"""
    permissible_current_a: float
    """Steady current that the wire may carry. [A]"""
    ambient_c: float
    """Ambient of the wire that was reckoned with. [degC]"""
    fuse_ambient_c: float
    """Ambient of the fuse that was reckoned with. [degC]"""
