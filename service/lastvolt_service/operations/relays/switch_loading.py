"""What a switch carries in each position, and which loads should get a relay.

The heat in its contacts grows with the square of the current, so the last load added costs most. A
load with a relay leaves only the relay's coil on the switch. Current, drop and heat of every
position are held against the rating and published practice. Of all sets of relays with which every
position passes, the smallest is told, and of those the one that leaves the switch coolest.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from copy import deepcopy
from dataclasses import dataclass
from functools import reduce
from operator import add
from typing import Annotated, Any, NamedTuple

from lastvolt_service import tables
from lastvolt_service.errors import NoOperatingPoint
from lastvolt_service.laws import KIRCHHOFF, OHM, by, is_recording, named
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    Fault,
    stays_about,
    stays_within,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.relays.relay_sets import Relief, fewest, heaviest_first
from lastvolt_service.operations.relays.switch import SwitchLoad, SwitchLoadingRequest
from lastvolt_service.operations.relays.switch_parts import (
    SwitchPosition,
    SwitchRelief,
    SwitchStep,
)
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    Given,
    Result,
)
from lastvolt_service.operations.steps import MOST_ITEMS
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.rows import Numbers
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.words.amounts import amount

GIVEN = Given("rating given by the caller")
# First currents and what it breaks are a contact's, whatever it carries once the load runs.
ASK_RELAY_CONTACT = (
    "Whether a switch bears the loads' first currents, and breaks them at this voltage, is not "
    "judged here: ask relay-contact."
)
BEARS = frozenset({PASS, MARGINAL})
# What relays are for; what worn contacts drop, and their heat, is mended at the contacts.
OF_SOUND_ONES = frozenset({"current"})
RELIEVED = OF_SOUND_ONES | {"heat"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchLoading(Result):
    """Answer of ``switch-loading``."""

    worst_position: Annotated[str, "position that carries most"]
    positions: Annotated[tuple[SwitchPosition, ...], "every position, as they are first named"]
    relief: Annotated[
        tuple[SwitchRelief, ...],
        "one relay for each load that has none and takes more than a relay's coil, the one that "
        "relieves the switch most first",
    ]
    cumulative: Annotated[
        tuple[SwitchStep, ...],
        "the fewest relays with which the switch bears the current and the heat of every position, "
        "and of these sets the coolest; one after the other, the one that relieves most first. "
        "Positions that no relays can save are left out",
    ]
    worn: Annotated[
        bool,
        "whether its contacts have more resistance than a sound switch of its rating, so that no "
        "relay is reckoned for their heat: they are mended",
    ]
    relays_suffice: Annotated[
        bool, "whether with these the switch bears current and heat of every position"
    ]
    fewest_proven: Annotated[
        bool, "whether every set of relays was looked at; else a smaller or cooler one may do, too"
    ]


def currents(asked: SwitchLoadingRequest, relayed: AbstractSet[str]) -> dict[str, float]:
    """Current in each position [A] with relays for these loads."""
    fed: dict[str, list[float]] = {}
    for load in asked.loads:
        current = asked.relay_coil_current_a if load.name in relayed else load.current_a
        for position in load.positions:
            fed.setdefault(position, []).append(current)
    return {position: by(KIRCHHOFF, reduce(add, draws)) for position, draws in fed.items()}


def ranked(asked: SwitchLoadingRequest, relayed: AbstractSet[str]) -> list[SwitchLoad]:
    """Loads that a relay would lighten, the one that relieves the switch most first."""
    lightened = (
        load
        for load in asked.loads
        if load.name not in relayed and load.current_a > asked.relay_coil_current_a
    )
    # The worst position decides, then the next one: a relay that relieves one of two equal
    # positions is a step, though the worst current stays.
    return sorted(
        lightened, key=lambda load: heaviest_first(currents(asked, relayed | {load.name}))
    )


def _worst(carried: Mapping[str, float]) -> str:
    return max(carried, key=carried.__getitem__)


def solve(asked: SwitchLoadingRequest) -> Outcome:
    """Work out one switch."""
    relayed = frozenset(load.name for load in asked.loads if load.through_relay)
    ohm = asked.contact_resistance_ohm
    positions, carried = _positions(asked, currents(asked, relayed))
    worst = _worst(carried)
    # Trials need no memory, of which there would be millions.
    trials = deepcopy(asked) if is_recording() else asked
    lightened = ranked(trials, relayed)
    relays = _relays(trials, relayed)
    worst_w = positions[f"positions_{[*carried].index(worst) + 1}_power_w"]
    limit = contact_limits()["switch"]

    def fed_there(position: str) -> list[str]:
        return [load.name for load in lightened if position in load.positions]

    return Outcome(
        {
            "worst_position": worst,
            **positions,
            **_relief(asked, trials, relayed, lightened, worst_w),
            **_cumulative(asked, trials, relayed, relays.names),
            "worn": _is_worn(asked),
            "relays_suffice": relays.suffice,
            "fewest_proven": relays.proven,
        },
        (
            *(
                check
                for place, (position, current_a) in enumerate(carried.items(), 1)
                for check in _checks(
                    asked,
                    current_a,
                    place=f"positions_{place}",
                    part=position,
                    detail=_first_relay(asked, current_a, relays.names, fed_there(position)),
                )
            ),
        ),
        (
            GIVEN,
            limit.citation,
            tables.citation("switches", "heat"),
            tables.citation("switches", "relay_coil"),
        ),
        (ASK_RELAY_CONTACT, FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE),
        (
            Fault(
                carried[worst] * ohm > asked.supply_v,
                NoOperatingPoint,
                ("contact_resistance_ohm",),
                lambda: (
                    f"No operating point exists: in position {worst} the contacts alone would "
                    f"drop {amount(carried[worst] * ohm, 'V')}, more than the supply's "
                    f"{amount(asked.supply_v, 'V')}."
                ),
            ),
        ),
    )


def _first_relay(
    asked: SwitchLoadingRequest, current_a: float, names: Sequence[str], fed: Sequence[str]
) -> str | None:
    """Name the load of a position that should get a relay, or could where little is left."""
    wanted = [name_ for name_ in names if name_ in fed]
    if stays_within(current_a, asked.rating_a).verdict == MARGINAL:
        wanted += fed
    return next(iter(wanted), None)


def _power_w(asked: SwitchLoadingRequest, symbol: str, current_a: float, meaning: str) -> Numbers:
    power_w = joule_power(current_a=current_a, resistance_ohm=asked.contact_resistance_ohm)
    return named(symbol, power_w, meaning)


def _positions(
    asked: SwitchLoadingRequest, carried: Mapping[str, float]
) -> tuple[dict[str, Any], dict[str, float]]:
    """Columns of every position, and the current in each by name."""
    columns: dict[str, Any] = {}
    named_a: dict[str, float] = {}
    for place, (position, current_a) in enumerate(carried.items(), 1):
        p = f"positions_{place}_"
        current = named(f"{p}current_a", current_a, f"through the switch in {position}")
        drop_v = named(
            f"{p}drop_v",
            by(OHM, current * asked.contact_resistance_ohm),
            f"across its contacts in {position}",
        )
        columns |= {
            f"{p}name": position,
            f"{p}current_a": current,
            f"{p}drop_v": drop_v,
            f"{p}drop_percent": named(
                f"{p}drop_percent", 100 * drop_v / asked.supply_v, "the same, of the supply"
            ),
            f"{p}power_w": _power_w(asked, f"{p}power_w", current, f"heat in it in {position}"),
            f"{p}utilisation_percent": named(
                f"{p}utilisation_percent", 100 * current / asked.rating_a, "current of the rating"
            ),
            f"{p}loads": tuple(load.name for load in asked.loads if position in load.positions),
        }
        named_a[position] = current
    return columns, named_a


def _relief(
    asked: SwitchLoadingRequest,
    trials: SwitchLoadingRequest,
    relayed: AbstractSet[str],
    lightened: Iterable[SwitchLoad],
    worst_w: Numbers,
) -> dict[str, Any]:
    """Columns of what one relay for each of some loads takes off."""
    columns: dict[str, Any] = {}
    for place, load in enumerate(lightened, 1):
        p = f"relief_{place}_"
        after_a = named(
            f"{p}current_after_a",
            max(currents(_told(asked, trials, place), relayed | {load.name}).values()),
            f"in the then worst position, with a relay for {load.name}",
        )
        after_w = _power_w(asked, f"{p}power_after_w", after_a, "heat in the switch there")
        columns |= {
            f"{p}name": load.name,
            f"{p}positions": tuple(load.positions),
            f"{p}current_after_a": after_a,
            f"{p}power_after_w": after_w,
            f"{p}power_saved_w": named(
                f"{p}power_saved_w", worst_w - after_w, "heat taken out of the worst position"
            ),
        }
    return columns


def _told(
    asked: SwitchLoadingRequest, trials: SwitchLoadingRequest, place: int
) -> SwitchLoadingRequest:
    """Of long lists, steps are told for the first items."""
    return asked if place <= MOST_ITEMS else trials


class _Relays(NamedTuple):
    """What should get relays, in order, and what is known of it."""

    names: tuple[str, ...]
    suffice: bool
    proven: bool


def _relays(asked: SwitchLoadingRequest, relayed: AbstractSet[str]) -> _Relays:
    """Search all sets of relays for one that lets every position do as well as it can."""
    reliefs = [
        Relief(load.name, frozenset(load.positions), load.current_a - asked.relay_coil_current_a)
        for load in ranked(asked, relayed)
    ]
    highest_a = max(currents(asked, relayed).values())
    bearing_a = _most_a(asked, highest_a)
    at_best = currents(asked, relayed | {relief.name for relief in reliefs})
    most_a = {
        position: bearing_a if amps <= bearing_a else math.inf for position, amps in at_best.items()
    }
    found = fewest(lambda names: currents(asked, relayed | names), reliefs, most_a)
    return _Relays(
        _in_order(asked, relayed, found.names), math.inf not in most_a.values(), found.proven
    )


def _most_a(asked: SwitchLoadingRequest, high_a: float) -> float:
    """The largest current, up to one, that the switch bears; below zero where it bears none."""

    def does(amps: float) -> bool:
        return all(
            check.judged.verdict in BEARS
            for check in _checks(asked, amps)
            if check.code in (OF_SOUND_ONES if _is_worn(asked) else RELIEVED)
        )

    if does(high_a):
        return high_a
    low_a = 0.0 if does(0.0) else -1.0
    while low_a < (middle_a := 0.5 * (low_a + high_a)) < high_a:
        if does(middle_a):
            low_a = middle_a
        else:
            high_a = middle_a
    return low_a


def _in_order(
    asked: SwitchLoadingRequest, relayed: AbstractSet[str], names: AbstractSet[str]
) -> tuple[str, ...]:
    """The one that relieves most first, then the one that relieves most on top of it."""
    order: list[str] = []
    while len(order) < len(names):
        order += next(
            [load.name]
            for load in ranked(asked, relayed | {*order})
            if load.name in names and load.name not in order
        )
    return tuple(order)


def _cumulative(
    asked: SwitchLoadingRequest,
    trials: SwitchLoadingRequest,
    relayed: AbstractSet[str],
    names: Sequence[str],
) -> dict[str, Any]:
    """Columns of one relay after the other."""
    columns: dict[str, Any] = {}
    for place, name_ in enumerate(names, 1):
        relayed |= {name_}
        carried = currents(_told(asked, trials, place), relayed)
        worst, p = _worst(carried), f"cumulative_{place}_"
        current = named(
            f"{p}current_a",
            carried[worst],
            f"in {worst}, with a relay for {name_} on top of those before",
        )
        columns |= {
            f"{p}name": name_,
            f"{p}worst_position": worst,
            f"{p}current_a": current,
            f"{p}power_w": _power_w(asked, f"{p}power_w", current, "heat in the switch there"),
            f"{p}utilisation_percent": named(
                f"{p}utilisation_percent", 100 * current / asked.rating_a, "current of the rating"
            ),
        }
    return columns


def _is_worn(asked: SwitchLoadingRequest) -> bool:
    """Whether the contacts would drop more than sound ones do at the switch's own rating."""
    at_its_rating = stays_about(
        asked.rating_a * asked.contact_resistance_ohm, contact_limits()["switch"].limit_v
    )
    return bool(at_its_rating.verdict == FAIL)


def _checks(
    asked: SwitchLoadingRequest,
    current_a: float,
    *,
    place: str = "",
    part: str | None = None,
    detail: str | None = None,
) -> tuple[Checked, ...]:
    """Hold one position against the rating and practice; `detail` should get a relay first."""
    limit = contact_limits()["switch"]
    ohm, cited = asked.contact_resistance_ohm, limit.citation
    heat_w = joule_power(current_a=current_a, resistance_ohm=ohm)
    heat_basis = f"{tables.citation('switches', 'heat')}; {cited}"
    return tuple(
        Checked(code, judged, unit, basis, place=place, part=part, detail=detail)
        for code, judged, unit, basis in (
            ("current", stays_within(current_a, asked.rating_a), "A", GIVEN),
            ("drop", stays_about(current_a * ohm, limit.limit_v), "V", cited),
            ("heat", stays_about(heat_w, asked.rating_a * limit.limit_v), "W", heat_basis),
        )
    )


OPERATION = Operation("switch-loading", __doc__, SwitchLoadingRequest, SwitchLoading, solve)
