"""What leads past a load and starves it: a chafe between loads in series, or behind a ballast."""

from collections.abc import Iterator, Sequence

from lastvolt_service.operations.circuits.bridging import with_resistances
from lastvolt_service.operations.circuits.load_way import Currents
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.judging import FAIL, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE

# In its place, what is taken out; and of how many that draw most this is asked. [ohm].
OUT_OHM, MOST_ASKED = 1e6, 10
# Of what the load that is starved draws: less starves nothing. Common practice.
LEAST_SHARE = 0.2
# Of its current: what draws less, once a part is out, is fed by that part. Common practice.
KEPT_SHARE = 0.5
# What is given as ohms is a chafe sooner than a contact, and that sooner than a wire.
CHAFES = ("resistance", "contact", "wire")


def drawn_past(state: State, currents: Currents, starved: Sequence[Part]) -> Iterator[Checked]:
    """Say which part, once it is out, leaves starved loads enough, and takes it from no other.

    Parameters
    ----------
    state : State
        The circuit at rest.
    currents : Currents
        Its currents.
    starved : sequence of Part
        Loads that get too little, and most of what they lack stands across loads or resistances.
    """
    asked = _asked(state, currents, starved)
    places = [(part.group, state.model.parts[part.group].index(part), OUT_OHM) for part in asked]
    for part, then in zip(asked, with_resistances(state, places), strict=True):
        if then is None or not _keeps_others(state, then):
            continue
        for load in starved:
            now_v, then_v = abs(state.across_v(load.name)), abs(then.across_v(load.name))
            if then_v >= (load.needed_v or 0.0) > now_v:
                judged = flatly(FAIL, now_v, then_v)
                so = {"part": part.name, "detail": load.name}
                yield Checked("drawn_past", judged, "V", COMMON_PRACTICE, **so)
                return


def _asked(state: State, currents: Currents, starved: Sequence[Part]) -> list[Part]:
    """Parts that a starved load's current does not run through, the likeliest first."""
    through = {each.part for load in starved for each in currents.through(load)}
    least_a = LEAST_SHARE * min((currents.of[load].amps for load in starved), default=0.0)
    beside = [
        each
        for group in ("resistors", "wires")
        for part in state.model.parts[group]
        if (each := currents.of[part]).amps > least_a and not part.is_load and part not in through
    ]
    beside.sort(key=lambda each: (CHAFES.index(each.part.kind), -each.across_v, -each.amps))
    return [each.part for each in beside[:MOST_ASKED]]


def _keeps_others(now: State, then: State) -> bool:
    """Whether all that is fed, and a starter that is at the circuit, goes on drawing.

    A motor that is cut off makes its own voltage still.
    """
    left = then.carrying(*LOAD_GROUPS, "coils")
    return all(
        abs(then_a) >= KEPT_SHARE * abs(now_a)
        for (part, _, now_a), (_, _, then_a) in zip(
            now.carrying(*LOAD_GROUPS, "coils"), left, strict=True
        )
        if part.is_load or part.kind not in CHAFES
    )
