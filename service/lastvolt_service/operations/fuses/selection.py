"""Standard fuse rating between what the load needs and what the wire bears.

At least the load over 0.75, corrected for the ambient of the fuse, and at least what carries
the first current; at most what protects the wire at its own ambient: the wire bears every
current up to that at which the fuse is sure to open, and each larger one for the longest time
that the fuse may take. The smallest standard rating inside is the answer. An empty window is a
failed check that says what to change.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service.fields import ABSENT, Groups, quantity, size
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.fuses.overload import FusedWire
from lastvolt_service.operations.fuses.profile import CRANKING, NO_FUSE
from lastvolt_service.operations.fuses.shorts import Feed
from lastvolt_service.operations.fuses.window import (
    FusedLoad,
    fuse_window,
)
from lastvolt_service.operations.fuses.window_checks import window_basis, window_checks
from lastvolt_service.operations.judging import Fault
from lastvolt_service.operations.lookup import Refusal
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Given,
    Result,
    merge,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.ampacity import Permissible, permissible
from lastvolt_service.operations.wires.fields import LIMIT, WireInPlace, Zoned
from lastvolt_service.operations.wires.heat_steps import limit_balance_steps
from lastvolt_service.operations.wires.heated_wire import ambient_of, lay
from lastvolt_service.operations.wires.insulated_wire import known_wires
from lastvolt_service.operations.wires.remedies import (
    better_insulation,
    cooler_place,
    next_sizes,
)
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.rows import Numbers, Texts, are, given, negate, pick, plain, some
from lastvolt_service.tables.fuses import near_source_citation
from lastvolt_service.tables.practice import zones

GIVEN_PERMISSIBLE = Given("permissible current given by the caller")
CAUTIONS = (f"{FUSE_NEAR_SOURCE} ({near_source_citation()})", SHORT_CIRCUIT, DEFERENCE)
MOST_SIZES = 6
LEAST_LOOP_OHM = 1e-3


class FuseSelectionRequest(WireInPlace, Zoned, FusedLoad):
    """A load and the wire that its fuse must protect."""

    exactly_one_of: ClassVar[Groups] = (
        *Zoned.exactly_one_of,
        ("size", "permissible_current_a"),
    )
    needs: ClassVar[Groups] = (("size", *LIMIT),)

    size: Texts = size(WireInPlace.described["size"].meaning, default=ABSENT)
    permissible_current_a: Numbers = quantity(
        "steady current that the wire may carry at its ambient, in place of the wire",
        minimum=1e-3,
        default=ABSENT,
    )

    supply_v: Numbers = supply(
        "voltage before the fuse, for short circuits behind it", default=ABSENT
    )
    loop_resistance_ohm: Numbers = quantity(
        "of all behind the fuse that a short at the far end runs through, hot",
        maximum=1e3,
        default=ABSENT,
    )

    example: ClassVar = {
        "load_current_a": 12,
        "inrush_current_a": 60,
        "size": "12 AWG",
        "insulation": "GXL",
        "zone": "engine_bay",
        "fuse_ambient_c": 60,
        "supply_v": 13.8,
        "source_resistance_ohm": 0.016,
        "loop_resistance_ohm": 0.06,
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseSelection(Result):
    """Answer of ``fuse-selection``."""

    fuse_rating_a: Annotated[
        float | None, "smallest standard rating inside the window; null where there is none"
    ]
    fuse_family: Annotated[str | None, "family of that rating"]
    lower_a: Annotated[float, "smallest rating that carries the load and its inrush"]
    upper_a: Annotated[float, "largest rating whose opening current the wire bears"]
    overload_current_a: Annotated[
        float | None, "the overload that is worst for the wire; null where none was judged"
    ]
    overload_time_s: Annotated[float | None, "longest time in which the fuse interrupts it"]
    permissible_current_a: Annotated[float, "steady current that the wire may carry"]
    ambient_c: Annotated[float, "ambient of the wire that was reckoned with"]
    fuse_ambient_c: Annotated[float, "ambient of the fuse that was reckoned with"]


def solve(asked: FuseSelectionRequest) -> Outcome:
    """Work out one fuse or many."""
    ambient_c, zone_basis = ambient_of(asked)
    own = given(asked.permissible_current_a)
    fused = FusedWire(asked.permissible_current_a)
    bears_basis: str = GIVEN_PERMISSIBLE
    basis: tuple[str, ...] = (GIVEN_PERMISSIBLE,) if some(own) else ()
    faults: tuple[Fault, ...] = ()
    refusals: Sequence[Refusal] = ()
    if some(negate(own)):
        may, no_room, refusals = _permissible(asked, ambient_c)
        wire = may.wire
        start = conductor_temperature(
            current_a=asked.load_current_a, wire=wire.physics, ceiling_c=wire.ceiling_c
        )
        bears_a = pick(own, asked.permissible_current_a, may.current_a)
        fused = FusedWire(bears_a, negate(own), wire, plain(start.conductor_temperature_c))
        basis, faults = merge(basis, wire.basis, may.basis), (no_room,)
        bears_basis = may.basis[0] if may.basis else bears_basis
    feed = Feed(asked.supply_v, asked.source_resistance_ohm, asked.loop_resistance_ohm)
    window = fuse_window(asked, fused, feed, ambient_c)
    return Outcome(
        {
            **window.columns,
            "permissible_current_a": fused.permissible_a,
            "ambient_c": ambient_c,
            "fuse_ambient_c": window.ambient_c,
        },
        window_checks(asked, window.judged, window.columns["fuse_family"], bears_basis),
        merge(
            basis,
            zone_basis,
            window_basis(asked, window.columns["fuse_rating_a"], window.columns["fuse_family"]),
        ),
        (*((NO_FUSE,) if some(are(asked.load_profile, CRANKING)) else ()), *CAUTIONS),
        (*faults, window.beyond),
        refusals,
    )


def _permissible(
    asked: FuseSelectionRequest, ambient_c: Numbers
) -> tuple[Permissible, Fault, Sequence[Refusal]]:
    """What the wires may carry, and rows whose wires there are not."""
    known = known_wires(asked)
    wire, no_room = lay(known, asked, ambient_c)
    return permissible(wire), no_room, known.refusals()


# Loads that cannot be spread over two fuses; nor can what takes so much, as a winch or an inverter
# does, or is on for a time of its own. [A]. Common practice.
ONE_MACHINE = frozenset({"motor", "horn", "starter_solenoid", "cranking"})
ONE_MACHINES_A = 80.0


def mend(asked: FuseSelectionRequest, answer: FuseSelection, trials: Trials) -> None:
    """Look for what cures a failed check."""
    if given(asked.size):
        trials.first_that_cures(next_sizes(asked), most=MOST_SIZES)
        trials.first_that_cures(better_insulation(asked), most=3)
        cooler_place(asked, trials)
    else:
        now_a = answer.permissible_current_a
        most_a = float(f"{max(4.0 * now_a, 2.0 * answer.lower_a):.3g}")
        trials.search("permissible_current_a", now_a, most_a)
    holder_a = asked.holder_rating_a
    if given(holder_a):
        trials.search("holder_rating_a", holder_a, float(f"{max(4 * holder_a, 500):.3g}"))
    if given(asked.loop_resistance_ohm):
        opens_ohm = _loop_that_opens(asked, answer)
        trials.search("loop_resistance_ohm", asked.loop_resistance_ohm, opens_ohm)
    if given(asked.fuse_family):
        trials.offer(Said("any_family"), (Put(("fuse_family",), None),))
    cabin_c = zones()["cabin"].ambient_c
    if answer.fuse_ambient_c > cabin_c:
        cooler = Said("fuse_ambient_c", {"new": (cabin_c, "degC")})
        trials.offer(cooler, (Put(("fuse_ambient_c",), cabin_c),))
    is_one = asked.load_profile in ONE_MACHINE or given(asked.on_time_s)
    if not is_one and asked.load_current_a < ONE_MACHINES_A:
        least_a = float(f"{asked.load_current_a * 0.1:.3g}")
        trials.search("load_current_a", asked.load_current_a, least_a)


def _loop_that_opens(asked: FuseSelectionRequest, answer: FuseSelection) -> float:
    """A little less than the loop through which a fault at the far end opens the fuse. [ohm]."""
    for check in answer.checks:
        if check.code == "far_short" and check.value and check.limit:
            too_much_ohm = float(asked.supply_v) * (1.0 / check.value - 1.0 / check.limit)
            return max(0.95 * (float(asked.loop_resistance_ohm) - too_much_ohm), LEAST_LOOP_OHM)
    return LEAST_LOOP_OHM


def tell(asked: FuseSelectionRequest, outcome: Outcome, steps: Steps) -> None:
    """Verify what was found by trial: no formula leads to the root of a heat balance."""
    if given(asked.size):
        may, _, _ = _permissible(asked, outcome.columns["ambient_c"])
        limit_balance_steps(steps, may.wire, may.model_a)


OPERATION = Operation(
    "fuse-selection", __doc__, FuseSelectionRequest, FuseSelection, solve, mend, tell
)
