# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_retrofit`."""

from dataclasses import dataclass

from lastvolt._generated.types.circuits import Advice, BatteryState
from lastvolt._generated.types.circuits_answers import Mend, Remark, Version, Way
from lastvolt._generated.types.common import Check, Result
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class RetrofitCase(Model):
    """Both versions in one case.

    Attributes
    ----------
    name : str
        The case as the request names it.
    as_is : Version
        The circuit as it is.
    proposed : Version
        The circuit with the relay.
    gain_v : float
        More voltage at the load with the relay. [V]
    """

    name: str
    """The case as the request names it."""
    as_is: Version
    """The circuit as it is."""
    proposed: Version
    """The circuit with the relay."""
    gain_v: float
    """More voltage at the load with the relay. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of ``relay-retrofit``.

    Its checks are those of the proposal, and where something is to be mended or charged those of
    the circuit as it is: a verdict of ``pass`` never stands beside something to mend.

    Attributes
    ----------
    advice : Advice
        Mend, relay, `mend_then_relay`; insurance: nothing is short, but the switch is at risk or
        the relay brings much; `not_the_wiring`: what feeds it, or it, is wrong; `battery_first`;
        `nothing_needed`; `find_out_first`: what is not known decides; unsafe: the proposal must not
        be built as it stands; `none_suffices`.
    battery_state : {"frozen_or_dead", "frozen", "dead", "low", "weak"} or None
        The poorest in any case: `frozen_or_dead`; frozen, or nearly so; dead, with less than a flat
        one has; low; weak, by its resistance; None of a sound one.
    plan : Way or None
        The way that is advised; of a proposal that is unsafe or not known well enough, the one that
        would do; None where none does.
    reasons : tuple of Remark
        Why, in order of weight.
    burns : Check or None
        What runs on or catches fire in what stays, whatever is advised; None where nothing does.
    burns_as_it_is : Check or None
        What catches fire until that is done; None where nothing does.
    nearest : Way or None
        Where no way suffices, the one that leaves the load most; else None.
    barred_by : Check or None
        What speaks against that way first; else None.
    ways : tuple of Way
        What was weighed, the plainest first.
    new_risks : tuple of Remark
        What the relay brings with it.
    cases : tuple of RetrofitCase
        As it is and with the relay, in every case.
    poorest_case : str
        The case in which the load has the least to spare as it is.
    mend_first : tuple of Mend
        Parts by what mending them brings the load as it is, in its poorest case.
    """

    advice: Advice
    """Mend, relay, `mend_then_relay`; insurance: nothing is short, but the switch is at risk or
    the relay brings much; `not_the_wiring`: what feeds it, or it, is wrong; `battery_first`;
    `nothing_needed`; `find_out_first`: what is not known decides; unsafe: the proposal must not
    be built as it stands; `none_suffices`.
    """
    battery_state: BatteryState | None
    """The poorest in any case: `frozen_or_dead`; frozen, or nearly so; dead, with less than a
    flat one has; low; weak, by its resistance; None of a sound one.
    """
    plan: Way | None
    """The way that is advised; of a proposal that is unsafe or not known well enough, the one
    that would do; None where none does.
    """
    reasons: tuple[Remark, ...]
    """Why, in order of weight."""
    burns: Check | None
    """What runs on or catches fire in what stays, whatever is advised; None where nothing does."""
    burns_as_it_is: Check | None
    """What catches fire until that is done; None where nothing does."""
    nearest: Way | None
    """Where no way suffices, the one that leaves the load most; else None."""
    barred_by: Check | None
    """What speaks against that way first; else None."""
    ways: tuple[Way, ...]
    """What was weighed, the plainest first."""
    new_risks: tuple[Remark, ...]
    """What the relay brings with it."""
    cases: tuple[RetrofitCase, ...]
    """As it is and with the relay, in every case."""
    poorest_case: str
    """The case in which the load has the least to spare as it is."""
    mend_first: tuple[Mend, ...]
    """Parts by what mending them brings the load as it is, in its poorest case."""
