"""Temperature of a wire at a current, and the current that its insulation permits.

A heat balance per metre of a horizontal wire in still air: natural convection, radiation and
the insulation's resistance, with published factors for grouped conductors. The published table of
permissible currents is carried over to any size, insulation and ambient, and the lower of model and
table counts, so that nothing worse is permitted more. With `on_time_s` the wire carries its current
for a time only, once or, with `off_time_s`, over and over.
"""

import math
from dataclasses import dataclass
from typing import Annotated, ClassVar

import numpy as np

from lastvolt_service.fields import ABSENT, Groups, quantity
from lastvolt_service.laws import solved
from lastvolt_service.operations.judging import asked_if, stays_within
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import DEFERENCE, HOT_SURFACE, Result, merge
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.ampacity import (
    BY_MODEL,
    BY_TABLE,
    Permissible,
    duty_current,
    judge_temperature,
    permissible,
)
from lastvolt_service.operations.wires.fields import LIMIT, WireInPlace, Zoned
from lastvolt_service.operations.wires.heat_steps import balance_steps, limit_balance_steps
from lastvolt_service.operations.wires.heated_wire import (
    MODEL_BASIS,
    HeatedWire,
    ambient_of,
    lay,
)
from lastvolt_service.operations.wires.insulated_wire import known_wires
from lastvolt_service.operations.wires.metal_cautions import of_metal
from lastvolt_service.operations.wires.remedies import better_insulation, cooler_place, next_sizes
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import temperature_after_c, time_constant_s
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    Words,
    count_of,
    given,
    negate,
    pick,
    plain,
    some,
)

IN_TIME = "heat balance in time with the heat capacity of metal and insulation"
SHORT_DUTY = (
    "The short duty holds only as long as nothing sticks: a contact that stays closed heats the "
    "wire to its steady state, for which no current above permissible_current_a is safe."
)


class WireHeatingRequest(WireInPlace, Zoned):
    """A wire, its current, and where it lies."""

    at_least_one_of: ClassVar[Groups] = (LIMIT,)
    needs: ClassVar[Groups] = (("off_time_s", "on_time_s"),)

    current_a: Numbers = quantity("current in the wire")
    on_time_s: Numbers = quantity(
        "how long the current flows; without it all the time", minimum=1e-3, default=ABSENT
    )
    off_time_s: Numbers = quantity(
        "rest before it flows again; without it the wire is at ambient before",
        minimum=1e-3,
        default=ABSENT,
    )

    example: ClassVar = {
        "size": "14 AWG",
        "current_a": 20,
        "zone": "engine_bay",
        "insulation": "GXL",
        "grouped_conductors": 4,
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class WireHeating(Result):
    """Answer of ``wire-heating``."""

    ambient_c: Annotated[float, "ambient that was reckoned with"]
    insulation_limit_c: Annotated[float, "temperature that the conductor may have"]
    conductor_temperature_c: Annotated[
        float | None,
        "steady temperature at the current; null where the wire heats up without end",
    ]
    surface_temperature_c: Annotated[float | None, "of the insulation, likewise"]
    permissible_current_a: Annotated[float, "steady current, the lower of model and table"]
    permissible_model_a: Annotated[float, "the same by the heat balance"]
    permissible_table_a: Annotated[
        float,
        "the same by a published table, carried over to section, rating, ambient and loom",
    ]
    permissible_from: Annotated[str, "which of both is the lower one: model or table"]
    time_constant_s: Annotated[
        float | None, "of the rise about the steady state; null where there is none"
    ]
    temperature_after_on_time_c: Annotated[
        float | None,
        "conductor after on_time_s from ambient; null without on_time_s, or where the insulation "
        "is gone before",
    ]
    duty_current_a: Annotated[
        float | None, "current permissible for on_time_s and off_time_s; null without on_time_s"
    ]
    short_circuit_a2s: Annotated[
        float | None,
        "let-through that takes the conductor from the insulation limit to its short-circuit "
        "temperature; null where that is not known",
    ]


def solve(asked: WireHeatingRequest) -> Outcome:
    """Work out one wire or many."""
    ambient_c, zone_basis = ambient_of(asked)
    known = known_wires(asked)
    wire, no_room = lay(known, asked, ambient_c)
    physics, ceiling_c = wire.physics, wire.ceiling_c
    may = permissible(wire, physics)
    steady = conductor_temperature(current_a=asked.current_a, wire=physics, ceiling_c=ceiling_c)
    hot_c = solved(
        "conductor_temperature_c",
        plain(steady.conductor_temperature_c),
        "steady temperature of the conductor",
        MODEL_BASIS,
    )
    surface_c = solved(
        "surface_temperature_c", plain(steady.surface_temperature_c), "of its surface", MODEL_BASIS
    )
    settles_s = time_constant_s(current_a=asked.current_a, surface_c=surface_c, wire=physics)
    after_c, duty_a = _in_time(asked, wire, ceiling_c, may)
    by_duty = given(duty_a)
    limited_by = (
        Words((BY_MODEL, BY_TABLE), may.by_table.astype(np.intp))
        if isinstance(may.by_table, np.ndarray)
        else (BY_TABLE if may.by_table else BY_MODEL)
    )
    return Outcome(
        {
            "ambient_c": ambient_c,
            "insulation_limit_c": wire.limit_c,
            "conductor_temperature_c": hot_c,
            "surface_temperature_c": surface_c,
            "permissible_current_a": may.current_a,
            "permissible_model_a": may.model_a,
            "permissible_table_a": may.table_a,
            "permissible_from": limited_by,
            "time_constant_s": pick(np.isfinite(settles_s), settles_s, NOT_GIVEN),
            "temperature_after_on_time_c": after_c,
            "duty_current_a": duty_a,
            "short_circuit_a2s": wire.short_circuit_a2s,
        },
        _checks(asked, wire, may, hot_c, duty_a),
        merge(wire.basis, zone_basis, may.basis),
        (
            *of_metal(asked.material, asked.construction),
            HOT_SURFACE,
            *((SHORT_DUTY,) if some(by_duty) else ()),
            DEFERENCE,
        ),
        (no_room,),
        known.refusals(),
    )


def _in_time(
    asked: WireHeatingRequest, wire: HeatedWire, ceiling_c: Numbers, may: Permissible
) -> tuple[Numbers, Numbers]:
    """Temperature after a load for a time, and the current permissible for it; NaN for none."""
    if not some(given(asked.on_time_s)):
        return NOT_GIVEN, NOT_GIVEN
    after_c = temperature_after_c(
        current_a=asked.current_a,
        on_time_s=asked.on_time_s,
        start_c=wire.ambient_c,
        ceiling_c=ceiling_c,
        wire=wire.physics,
    )
    rest_s = pick(given(asked.off_time_s), asked.off_time_s, math.inf)
    duty_a = duty_current(wire, may, asked.on_time_s, rest_s)
    return (
        solved(
            "temperature_after_on_time_c",
            plain(after_c),
            "conductor after on_time_s, from ambient",
            IN_TIME,
        ),
        pick(
            given(asked.on_time_s),
            solved("duty_current_a", duty_a, "current permissible for these times", IN_TIME),
            NOT_GIVEN,
        ),
    )


def _checks(
    asked: WireHeatingRequest,
    wire: HeatedWire,
    may: Permissible,
    hot_c: Numbers,
    duty_a: Numbers,
) -> tuple[Checked, ...]:
    by_duty = given(duty_a)
    steadily = negate(by_duty)
    is_one = count_of(asked) is None
    return (
        Checked(
            "conductor_temperature",
            asked_if(steadily, judge_temperature(hot_c, wire.limit_c, wire.ambient_c)),
            "degC",
            wire.one.insulation.citation if is_one else MODEL_BASIS,
        ),
        Checked(
            "permissible_current",
            asked_if(steadily, stays_within(asked.current_a, may.current_a)),
            "A",
            may.citation() if is_one else MODEL_BASIS,
        ),
        Checked(
            "duty_current",
            asked_if(by_duty, stays_within(asked.current_a, duty_a)),
            "A",
            IN_TIME,
        ),
    )


# A remedy leaves a task possible: on for a tenth of the time, or resting sixty times as long.
MOST_SHORTENED, MOST_REST = 10.0, 60.0


def mend(asked: WireHeatingRequest, answer: WireHeating, trials: Trials) -> None:
    """Look for what cures a failed check."""
    trials.first_that_cures(next_sizes(asked), most=10)
    trials.first_that_cures(better_insulation(asked), most=3)
    cooler_place(asked, trials)
    if given(asked.on_time_s):
        trials.search("on_time_s", asked.on_time_s, float(asked.on_time_s) / MOST_SHORTENED)
        if given(asked.off_time_s):
            trials.search("off_time_s", asked.off_time_s, MOST_REST * float(asked.on_time_s))
    elif answer.permissible_current_a > 0:
        most_a = float(f"{0.8 * answer.permissible_current_a:.3g}")
        trials.search("current_a", asked.current_a, most_a)


def tell(asked: WireHeatingRequest, outcome: Outcome, steps: Steps) -> None:
    """Verify what was found by trial: no formula leads to the root of a heat balance."""
    wire, _ = lay(known_wires(asked), asked, outcome.columns["ambient_c"])
    found = outcome.columns
    balance_steps(
        steps,
        wire,
        current_a=asked.current_a,
        conductor_c=found["conductor_temperature_c"],
        surface_c=found["surface_temperature_c"],
    )
    limit_balance_steps(steps, wire, found["permissible_model_a"])


OPERATION = Operation("wire-heating", __doc__, WireHeatingRequest, WireHeating, solve, mend, tell)
