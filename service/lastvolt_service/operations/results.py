"""What every answer carries: checks with verdicts, basis, cautions, and what computed it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache
from importlib import metadata
from typing import Annotated

from lastvolt_service import tables
from lastvolt_service.operations.judging import VERDICTS_WORST_FIRST, Verdict


class Given(str):
    """A basis that is the caller's own: no publication, and so not told as one."""

    __slots__ = ()


COMMON_PRACTICE = tables.Unproven("common practice, no source")
DEFERENCE = (
    "This is a calculation, not an inspection: local codes, the vehicle maker's instructions and "
    "licensed practice decide."
)
SHORT_CIRCUIT = (
    "A battery post can deliver hundreds of amperes into a slipped tool: disconnect the ground "
    "cable before work, and keep flame and sparks away from the hydrogen of a charging battery."
)
STARTER = (
    "Energising the starter circuit can move the vehicle: neutral or park, brake on, wheels "
    "chocked, ignition disabled, hands clear of belts and ring gear."
)
FUSE_NEAR_SOURCE = (
    "Every wire from the battery needs a fuse that protects that wire, as close to the source as "
    "it can be mounted; a short upstream of the fuse has nothing to stop it."
)
# What burns, bursts or catches fire, or runs on: told before all else, and never left out.
HARMFUL = frozenset(
    {
        "source_voltage",
        "freezing",
        "battery_heat",
        "no_battery",
        "no_fuse",
        "fuse_rating",
        "fuse_bypassed",
        "fuse_protection",
        "fuse_protects_wire",
        "fuse_overload",
        "fuse_load",
        "short",
        "far_short",
        "resistor_heat",
        "fuse_voltage",
        "breaking_capacity",
        "wires_heat",
        "ohms_heat",
        "conductor_temperature",
        "permissible_current",
        "duty_current",
        "diverted_current",
        "burns_once_mended",
        "charger_current",
        "contact_current",
        "contact_heat",
        "steady_current",
        "inrush",
        "rated_voltage",
        "switches_off",
        "release_force",
        "closes_alone",
        "holds_itself",
        "kept_closed",
        "bridged",
        "crossed",
        "fed_past_isolator",
    }
)
CLAMP = (
    "Amperes by a clamp only, round insulated cable: a starter's circuit blows a meter's 10 A "
    "socket, or the meter."
)
SPARKS = (
    "A spark lights fuel vapour and gas: near a tank and its sender, a fuel pump, a gas bottle or "
    "a heater that burns, mend leaks first and air the place; join or part nothing there while it "
    "is live, and clip a meter on before the switch goes on."
)
PYROTECHNIC = (
    "Keep meter, test lamp and new wires off the circuits of air bags and belt tensioners, yellow "
    "as a rule: before work beside them, as in a steering wheel, take the battery off and wait as "
    "long as the vehicle's maker says."
)
# Where one works on a vehicle, whatever its circuit.
ON_THE_VEHICLE = (SHORT_CIRCUIT, SPARKS, PYROTECHNIC)
HOT_SURFACE = "Coils, windings and poor contacts can be hot enough to burn skin."


@dataclass(frozen=True, slots=True)
class Check:
    """One question that a practitioner would ask of the circuit, and its answer."""

    name: Annotated[str, "what is checked"]
    verdict: Annotated[
        Verdict,
        "worst first: fail; undecided, where it flips within what is known; unknown, where an "
        "input that it needs was not given; marginal; pass",
    ]
    value: Annotated[float | None, "the number that is judged, in `unit`"]
    limit: Annotated[float | None, "the number that it is judged against, in `unit`"]
    unit: Annotated[str, "unit of value, limit and margin"]
    margin: Annotated[
        float | None, "distance from the limit in `unit`: positive is on the good side"
    ]
    basis: Annotated[str, "publication of the limit, or common practice, or given by the caller"]
    message: Annotated[str, "one sentence to act on"]
    code: Annotated[str, "which check it is, in a word that stays the same"] = ""
    part: Annotated[str | None, "what the request calls the part that is checked"] = None
    case: Annotated[str | None, "the case that it is checked in, as the request names it"] = None
    way: Annotated[str | None, "the circuit that it is checked in: as_is or proposed"] = None
    detail: Annotated[
        str | None,
        "what else it is about: the kind of contact, the fuse that protects a wire, the load that "
        "should get a relay first, why there is no answer, or what a reading tells",
    ] = None

    @property
    def is_harmful(self) -> bool:
        """Whether what fails here can hurt someone."""
        return self.code in HARMFUL

    @property
    def is_of_a_load(self) -> bool:
        """Whether it asks if a load gets enough, which all wiring is for."""
        return self.code == "load_voltage"


@dataclass(frozen=True, slots=True)
class NotJudged:
    """What a reader would expect to be judged, and was not."""

    code: Annotated[str, "code of the check"]
    name: Annotated[str, "what is checked"]
    part: Annotated[str | None, "what the request calls the part"]
    message: Annotated[str, "why, and what to give"]


@dataclass(frozen=True, slots=True)
class ComputedBy:
    """Versions that reproduce an answer."""

    service: Annotated[str, "version of the service"]
    tables: Annotated[str, "hash of the published tables that the service carries"]


@cache
def computed_by() -> ComputedBy:
    """Name the versions at work."""
    return ComputedBy(service=metadata.version("lastvolt"), tables=tables.version())


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """Common part of every answer."""

    headline: Annotated[str, "what it comes to, in one sentence that stands alone"] = ""
    verdict: Annotated[Verdict, "the worst of all checks"] = field(init=False)
    not_judged: Annotated[
        tuple[NotJudged, ...],
        "what a reader would expect to be judged and was not, for lack of an input: the unknown "
        "checks, each once though it is so in several cases",
    ] = field(init=False)
    checks: Annotated[tuple[Check, ...], "every question asked of the circuit, with its verdict"]
    basis: Annotated[tuple[str, ...], "publications, formulas and practice the answer rests on"]
    cautions: Annotated[tuple[str, ...], "what can hurt someone here, and who decides"]
    computed_by: Annotated[ComputedBy, "versions that reproduce this answer"] = field(
        default_factory=computed_by
    )

    def __post_init__(self) -> None:
        """Take the worst of all verdicts, and list what was not judged."""
        object.__setattr__(self, "verdict", worst(check.verdict for check in self.checks))
        object.__setattr__(self, "not_judged", unjudged(self.checks))


def unjudged(checks: Iterable[Check]) -> tuple[NotJudged, ...]:
    """List what was not judged."""
    found: dict[tuple[str, str | None], NotJudged] = {}
    for check in checks:
        if check.verdict == "unknown":
            about = NotJudged(check.code, check.name, check.part, check.message)
            found.setdefault((check.code, check.part), about)
    return tuple(found.values())


def merge(*groups: Iterable[str]) -> tuple[str, ...]:
    """Join texts in order, each once.

    Parameters
    ----------
    *groups : iterable of str
        Texts such as the basis of several parts.
    """
    return tuple(dict.fromkeys(text for group in groups for text in group))


def relative_margin(check: Check) -> float:
    """Tell the margin over the limit: what is furthest beyond its limit has the least."""
    if check.margin is None:
        return -math.inf
    return check.margin / max(abs(check.limit or 0.0), 1e-9)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Find the worst of verdicts.

    Returns
    -------
    str
        ``unknown`` where there is none: nothing was judged.
    """
    given = set(verdicts)
    return next((verdict for verdict in VERDICTS_WORST_FIRST if verdict in given), "unknown")
