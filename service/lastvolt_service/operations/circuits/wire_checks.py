"""Currents of the wires of a circuit, judged as wire-heating judges them of a wire alone."""

from collections.abc import Iterator

import numpy as np

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.judging import stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.wires.ampacity import duty_current, permissible
from lastvolt_service.operations.wires.heated_wire import side_by_side
from lastvolt_service.operations.wires.heating import IN_TIME


def wire_currents(state: State, duration_s: float | None) -> Iterator[Checked]:
    """Judge the current of each wire whose insulation has a limit.

    Parameters
    ----------
    state : State
        A circuit at rest.
    duration_s : float or None
        How long the state lasts, from a start at ambient; None for ever. [s]
    """
    limited = [
        (part.name, abs(current), wire)
        for (part, _, current), wire in zip(state.carrying("wires"), state.model.wires, strict=True)
        if wire is not None and known(wire.limit_c)
    ]
    if not limited:
        return
    together = side_by_side([wire for _, _, wire in limited])
    may = permissible(together)
    if duration_s is None:
        for row, ((name, amps, _), may_a) in enumerate(
            zip(limited, np.atleast_1d(may.current_a).tolist(), strict=True)
        ):
            judged = stays_within(amps, may_a)
            yield Checked("permissible_current", judged, "A", may.citation(row), part=name)
        return
    duty_a = duty_current(together, may, duration_s, np.inf)
    for (name, amps, _), may_a in zip(limited, np.atleast_1d(duty_a).tolist(), strict=True):
        yield Checked("duty_current", stays_within(amps, may_a), "A", IN_TIME, part=name)
