"""Whether the load goes off with its switch, by readings."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_outputs import output
from lastvolt_service.operations.meter.reading_fields import MeterReading

# Of what is there with the switch on, so little is none. Common practice.
NONE_SHARE = 0.1


@dataclass(frozen=True, slots=True)
class Off:
    """Readings, by their number from 1 on.

    Attributes
    ----------
    dead, live : tuple of int
        Those with the switch off that say so: nothing is there, or what only the switch should let
        through.
    apart : frozenset of int
        Places of all readings of a case in which one is live: the circuit was in another state.
    """

    dead: tuple[int, ...]
    live: tuple[int, ...]
    apart: frozenset[int]


def off(model: CircuitModel, readings: Sequence[MeterReading], load: str, switch: str) -> Off:
    """Look at what was read with the switch off where there is something with it on."""
    cases = [_on(each, switch) for each in model.cases]
    on = CircuitModel(model.circuit, cases, model.described)
    points = [np.array([each.begin for each in of.unknowns]) for of in (model, on)]
    dead, live = list[int](), list[int]()
    for index, reading in enumerate(readings):
        place = model.place_of(reading.case, index)
        case = model.cases[place]
        if reading.kind == "ohms" or switch not in case.without or load in case.without:
            continue
        try:
            least, most = (
                abs(float(here.told([output(here.state, reading, index)])[0]))
                for here in (
                    each.here(place, point) for each, point in zip((model, on), points, strict=True)
                )
            )
        except CalculationError:
            continue
        if least < NONE_SHARE * most:
            is_live = abs(reading.value) > max(NONE_SHARE * most, least)
            (live if is_live else dead).append(index + 1)
    read_live = {readings[number - 1].case for number in live}
    apart = (index for index, each in enumerate(readings) if each.case in read_live)
    return Off(tuple(dead), tuple(live), frozenset(apart))


def _on(case: Case, switch: str) -> Case:
    return changed(case, without=[each for each in case.without if each != switch])
