"""What to measure first where bounds leave open what is right to do: how, and what decides."""

import math
from collections.abc import Mapping, Sequence

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import NEEDS, CasePins, measured, volts_at
from lastvolt_service.operations.circuits.contact_checks import sound_contact
from lastvolt_service.operations.circuits.judge import Judged
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.decision.ways import part_at
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL
from lastvolt_service.operations.judging import MARGINAL_SHARE, UNDECIDED, WORN_MULTIPLE, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.physics.roots import rising_crossing
from lastvolt_service.units import Interval, unit_of
from lastvolt_service.words import catalogue

# How it is found out, by the list that it stands in and its field.
HOW: Mapping[tuple[str, str], str] = {
    ("branches", "resistance_ohm"): "across",
    ("branches", "length_m"): "length",
    ("loads", "resistance_ohm"): "load_resistance",
    ("loads", "current_a"): "current",
    **dict.fromkeys((("loads", field) for field in NEEDS), "needs"),
    **dict.fromkeys(((each, "open_circuit_v") for each in ("source", "sources")), "posts"),
    **dict.fromkeys(((each, "internal_resistance_ohm") for each in ("source", "sources")), "sags"),
}
# Of these the less there is, the less the load has to spare; of all others the more there is.
LESS_IS_WORSE = frozenset({"load_resistance", "posts"})


def to_measure(path: Sequence[str | int], judged: Judged, load: str) -> Check:
    """Tell what decides within its bounds, how it is found out, and the value that decides.

    Parameters
    ----------
    path : sequence of str or int
        Of the input, with a case by its name.
    judged : Judged
        The case in which it does most.
    load : str
        That is to get enough.
    """
    keys = tuple(map(str, path))
    circuit = judged.within.circuit
    how = HOW.get((keys[1], keys[-1])) if keys[0] == "circuit" else None
    if how == "needs" and _much_is_open(keys, judged, load):
        return _at_load(judged, load)
    limit = _deciding(keys, judged, load, how) if how else None
    if how and limit is None:  # by itself it decides nothing, and this does
        return _at_load(judged, load)
    unit = unit_of(keys[-1])
    told = Checked(
        "advice",
        flatly(UNDECIDED, limit=math.nan if limit is None else limit),
        "V" if how == "across" or unit is None else unit.symbol,
        COMMON_PRACTICE,
        part=part_at(keys, circuit),
        case=judged.case.name if limit is not None else None,
        detail=how,
        measure=measured(keys, circuit),
    )
    return told.told(catalogue()["relay-retrofit"])


def _much_is_open(keys: tuple[str, ...], judged: Judged, load: str) -> bool:
    """Whether what reaches the load is known no better than half as well as what it needs."""
    within = judged.within
    needs = next(
        change_v
        for path, change_v in within.effects("load_margin", load).items()
        if tuple(map(str, path)) == keys
    )
    arrives = sum(map(abs, within.effects("load_voltage", load).values()))
    return arrives >= 0.5 * abs(needs)


def _at_load(judged: Judged, load: str) -> Check:
    """Read what reaches it: that settles all on the way at once, and what it needs at the most."""
    circuit = judged.within.circuit
    pins = CasePins(circuit, judged.case)
    at_most = pins.plain
    for at, (path, interval) in enumerate(judged.within.given):
        if path[-1] in NEEDS and part_at([*map(str, path)], circuit) == load:
            at_most = pins.moved(*at_most, at, interval.high)
    needed_v = next((e.needed_v for e in load_states(rest(*at_most)) if e.name == load), None)
    starts = next(each for each in circuit.loads if each.name == load).circuit == STARTER_CONTROL
    told = Checked(
        "advice",
        flatly(UNDECIDED, limit=math.nan if needed_v is None else needed_v),
        "V",
        COMMON_PRACTICE,
        part=load,
        case=judged.case.name,
        detail="at_terminal_50" if starts else "at_load",
        measure=volts_at(load),
    )
    return told.told(catalogue()["relay-retrofit"])


def _given(keys: tuple[str, ...], judged: Judged) -> tuple[int, Interval]:
    """Where an input stands among all that are known within bounds, and its own."""
    given = judged.within.given
    at = next(i for i, (path, _) in enumerate(given) if tuple(map(str, path)) == keys)
    return at, given[at][1]


def _deciding(keys: tuple[str, ...], judged: Judged, load: str, how: str) -> float | None:
    """Where within its bounds the load begins to have too little, or a contact to be worn.

    All else in its middle. Of a contact the volts across it there. None where it does so nowhere.
    """
    bounds = judged.within
    at, interval = _given(keys, judged)
    pins, part = CasePins(bounds.circuit, judged.case), str(part_at(keys, bounds.circuit))
    sign = -1.0 if how in LESS_IS_WORSE else 1.0
    ends = sorted((sign * interval.low, sign * interval.high))
    middle = pins.plain

    def at_rest(amount: float) -> State | None:
        try:
            return rest(*pins.moved(*middle, at, sign * amount))
        except CalculationError:
            return None

    for share in (MARGINAL_SHARE, 0.0):

        def short(amount: float, share: float = share) -> float:
            state = at_rest(amount)
            return math.inf if state is None else _short(state, load, part, share)

        near = 1e-4 * (ends[1] - ends[0])
        found = rising_crossing(function=short, low=ends[0], high=ends[1], tolerance=near)
        if found is not None and ends[0] < found < ends[1]:
            state = at_rest(found)
            if how != "across":
                return sign * found
            return abs(state.across_v(part)) if state else None
    return None


def _short(state: State, load: str, part: str, share: float) -> float:
    """How far the load is short of what it needs with a reserve, or a contact beyond sound. [V]."""
    told = next((each for each in load_states(state) if each.name == load), None)
    short = math.inf
    if told is not None and load not in state.unfed:
        short = (1.0 + share) * (told.needed_v or 0.0) - told.voltage_v
    contact = state.named(part)
    if contact is None or contact.kind != "contact":
        return short
    drop_v, amps = abs(state.across_v(part)), abs(state.current_a(part))
    sound = sound_contact(contact.asked.part, amps, math.inf)
    return max(short, drop_v - WORN_MULTIPLE * sound.limit_v)
