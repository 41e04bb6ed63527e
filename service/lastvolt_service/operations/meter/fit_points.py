"""Points within the bounds of what is not known, and the states of rest of cases there."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.assembly import Posed, rest_each
from lastvolt_service.operations.circuits.building import build
from lastvolt_service.operations.meter.fit_model import CircuitModel, Here, chatters
from lastvolt_service.physics.network.elements import FloatArray


def first_points(
    model: CircuitModel, cases: Sequence[int]
) -> tuple[list[FloatArray], CalculationError | None]:
    """Points to begin at, one for each set of states that relays and loads take within the bounds.

    What is thought beforehand comes first, where it has a state of rest. With why some point has
    none.
    """
    low, high = model.ends
    middle = np.array([each.begin for each in model.unknowns])
    points = [middle, *_ends(middle, low, high), low, high]
    patterns, error = [b""] * len(points), None
    alive = [True] * len(points)
    for here, shared in rested(model, dict.fromkeys(cases), points):
        if isinstance(here, CalculationError):
            error = error or here
            alive = [rests and at not in shared for at, rests in enumerate(alive)]
            continue
        solution = here.state.solution
        for at in shared:
            patterns[at] += solution.energised.tobytes() + solution.drawing.tobytes() + b"|"
    seen: dict[bytes, FloatArray] = {}
    for point, pattern, rests in zip(points, patterns, alive, strict=True):
        if rests:
            seen.setdefault(pattern, point)
    return list(seen.values()), error


def rested(
    model: CircuitModel,
    cases: Mapping[int, Mapping[str, bool] | None],
    points: Sequence[FloatArray],
) -> Iterator[tuple[Here | CalculationError, list[int]]]:
    """Bring cases, each with relays that are stuck in it, to rest at many points, side by side.

    Gives each state once, or why there is none, with the places of the points that share it.
    """
    asked = [
        (place, values, posed._replace(stuck=model.stuck_in(place, stuck)), shared)
        for place, stuck in cases.items()
        for posed, values, shared in _at_points(model, place, points)
    ]
    states = rest_each([posed for *_, posed, _ in asked])
    for (place, values, _, shared), state in zip(asked, states, strict=True):
        if isinstance(state, CalculationError):
            yield state, shared
        elif state.solution.chatter:
            yield chatters(model, place), shared
        else:
            yield Here(model, place, values, state), shared


def _at_points(
    model: CircuitModel, place: int, points: Sequence[FloatArray]
) -> list[tuple[Posed, list[float], list[int]]]:
    """A case at points: its values, and the places of those that are the same in this case.

    What is as it was at the first point is the same object: one value moves one part.
    """
    own, pins = model.of_case[place], model.pins[place]
    groups: dict[tuple[float, ...], list[int]] = {}
    for at, point in enumerate(points):
        groups.setdefault(tuple([float(point[k]) for k in own]), []).append(at)
    first = list(next(iter(groups)))
    circuit, case = pins.put(first)
    like = model.built.get(place)
    with suppress(CalculationError):  # it is told of each point then
        like = build(circuit, case, like)
    found = []
    for values, shared in groups.items():
        moved = [at for at, (old, new) in enumerate(zip(first, values, strict=True)) if old != new]
        pair = circuit, case
        for at in moved:
            pair = pins.moved(*pair, at, values[at])
        found.append((Posed(*pair, like=like), list(values), shared))
    return found


def open_points(model: CircuitModel) -> list[FloatArray]:
    """Points with all at their low ends, and then one after the other at its high end."""
    low, high = model.ends
    return [low, *(np.where(np.arange(len(low)) == k, high, low) for k in range(len(low)))]


def _ends(middle: FloatArray, low: FloatArray, high: FloatArray) -> Iterator[FloatArray]:
    """The middle with each unknown at either end."""
    for k in range(len(middle)):
        for end in (low, high):
            point = middle.copy()
            point[k] = end[k]
            yield point
