"""What to measure first where bounds leave open what is right to do: how, and what decides."""

import math
from collections.abc import Mapping, Sequence

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import NEEDS, CasePins, Voltage, measured, volts_at
from lastvolt_service.operations.circuits.contact_checks import sound_contact
from lastvolt_service.operations.circuits.judge import Judged
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.circuits.weakest import UNSOUND
from lastvolt_service.operations.decision.to_stay import OF_STAYING
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


def to_measure(
    path: Sequence[str | int], judged: Judged, cases: Sequence[Judged], load: str
) -> Check:
    """Tell what decides within its bounds, how it is found out, and the value that decides.

    A contact that may itself be worn is read first: what reaches the load says nothing of it.

    Parameters
    ----------
    path : sequence of str or int
        Of the input, with a case by its name.
    judged : Judged
        The case in which it does most.
    cases : sequence of Judged
        All of them.
    load : str
        That is to get enough.
    """
    keys = _first_read(cases, load)
    if keys:
        return _across(keys, cases, load, _limits(keys, cases, load, "across"))
    keys = tuple(map(str, path))
    how = HOW.get((keys[1], keys[-1])) if keys[0] == "circuit" else None
    if how == "needs" and _much_is_open(keys, judged, load):
        return _at_load(judged, cases, load)
    found = _limits(keys, cases, load, how) if how else {}
    if how == "across" and found:
        return _across(keys, cases, load, found)
    if how and judged.case.name not in found:  # by itself it decides nothing, and this does
        return _at_load(judged, cases, load)
    least = (max if how in LESS_IS_WORSE else min)(found, key=found.__getitem__, default=None)
    return _told(keys, judged, how, found[least] if least else math.nan, least)


def _limits(
    keys: tuple[str, ...], cases: Sequence[Judged], load: str, how: str
) -> dict[str, float]:
    """Amounts that decide, by the names of cases."""
    found = ((judged.case.name, _deciding(keys, judged, load, how)) for judged in cases)
    return {name: amount for name, amount in found if amount is not None}


def _told(
    keys: tuple[str, ...], judged: Judged, how: str | None, limit: float, case: str | None
) -> Check:
    circuit, unit = judged.within.circuit, unit_of(keys[-1])
    told = Checked(
        "advice",
        flatly(UNDECIDED, limit=limit),
        "V" if how == "across" or unit is None else unit.symbol,
        COMMON_PRACTICE,
        part=part_at(keys, circuit),
        case=case,
        detail=how,
        measure=measured(keys, circuit),
    )
    return told.told(catalogue()["relay-retrofit"])


def _in_doubt(cases: Sequence[Judged]) -> set[str | tuple[str, ...] | None]:
    """Contacts that are worn within their bounds, in any case."""
    return {
        check.part
        for judged in cases
        for check in judged.checks
        if check.code in OF_STAYING and check.verdict in UNSOUND
    }


def _first_read(cases: Sequence[Judged], load: str) -> tuple[str, ...]:
    """Path of the bounds of a contact that may be worn; empty where none is to be read first.

    It is one that may burn, or whose bounds do more than all else to what reaches the load.
    """
    hot = {c.part for each in cases for c in each.checks if c.code == "contact_heat"}
    doubtful, found = _in_doubt(cases), dict[tuple[str, ...], float]()
    for judged in cases:
        effects = {
            tuple(map(str, path)): abs(change_v)
            for path, change_v in judged.within.effects("load_voltage", load).items()
        }
        most_v = max(effects.values(), default=0.0)
        for keys, change_v in effects.items():
            part = part_at(keys, judged.within.circuit)
            matters = change_v > 0.0 and (change_v == most_v or part in hot)
            if keys[-1] == "resistance_ohm" and part in doubtful and matters:
                found[keys] = max(found.get(keys, 0.0), change_v)
    return max(found, key=found.__getitem__, default=())


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


def _at_load(judged: Judged, cases: Sequence[Judged], load: str) -> Check:
    """Read what reaches it: that settles all on the way at once, and what it needs at the most.

    But whether a contact on the way is worn.
    """
    circuit = judged.within.circuit
    starts = next(each for each in circuit.loads if each.name == load).circuit == STARTER_CONTROL
    enough_v = [
        needed_v + _more_at_most_v(judged, each, load)
        for each in cases
        if (needed_v := _needed_at_most_v(each, load)) is not None
    ]
    worn = "_not_worn" if _in_doubt(cases) else ""
    told = Checked(
        "advice",
        flatly(UNDECIDED, limit=max(enough_v, default=math.nan)),
        "V",
        COMMON_PRACTICE,
        part=load,
        case=judged.case.name,
        detail=("at_terminal_50" if starts else "at_load") + worn,
        measure=volts_at(load),
    )
    return told.told(catalogue()["relay-retrofit"])


def _needed_at_most_v(judged: Judged, load: str) -> float | None:
    circuit = judged.within.circuit
    pins = CasePins(circuit, judged.case)
    at_most = pins.plain
    for at, (path, interval) in enumerate(judged.within.given):
        if path[-1] in NEEDS and part_at([*map(str, path)], circuit) == load:
            at_most = pins.moved(*at_most, at, interval.high)
    return next((e.needed_v for e in load_states(rest(*at_most)) if e.name == load), None)


def _more_at_most_v(judged: Judged, other: Judged, load: str) -> float:
    """How much more reaches it than in another case, where all bounds do most to that. [V]."""
    one, two = judged.within, other.within
    key: Voltage = ("load_voltage", load)
    if one is two or key not in one.found.spreads or key not in two.found.spreads:
        return 0.0
    here, there = one.effects(*key), two.effects(*key)
    moves = (here.get(path, 0.0) - there.get(path, 0.0) for path in {*here, *there})
    middle_v = one.found.spreads[key].nominal - two.found.spreads[key].nominal
    return middle_v + sum(map(abs, moves)) / 2


def _across(
    keys: tuple[str, ...], cases: Sequence[Judged], load: str, found: Mapping[str, float]
) -> Check:
    """Read what a contact drops: most that it may in any case, all else in its middle."""
    at, interval = _given(keys, cases[0])
    least = min(found.values(), default=interval.low)
    part = str(part_at(keys, cases[0].within.circuit))
    limits_v = list[float]()
    for judged in cases:
        pins = CasePins(judged.within.circuit, judged.case)
        state = rest(*pins.moved(*pins.plain, at, least))
        if abs(state.current_a(load)) > 0.0:
            limits_v.append(_worn_v(state, part))
            limits_v += [abs(state.across_v(part))] if found else []
    case = min(found, key=found.__getitem__, default=cases[0].case.name)
    return _told(keys, cases[0], "across", min(limits_v, default=math.nan), case)


def _worn_v(state: State, part: str) -> float:
    """From what on a contact is worn; endless of what is none. [V]."""
    contact = state.named(part)
    if contact is None or contact.kind != "contact":
        return math.inf
    sound = sound_contact(contact.asked.part, abs(state.current_a(part)), math.inf)
    return WORN_MULTIPLE * sound.limit_v


def _given(keys: tuple[str, ...], judged: Judged) -> tuple[int, Interval]:
    """Where an input stands among all that are known within bounds, and its own."""
    given = judged.within.given
    at = next(i for i, (path, _) in enumerate(given) if tuple(map(str, path)) == keys)
    return at, given[at][1]


def _deciding(keys: tuple[str, ...], judged: Judged, load: str, how: str) -> float | None:
    """Where within its bounds the load begins to have too little, or a contact to be worn.

    All else in its middle. None where it does so nowhere.
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
            return sign * found
    return None


def _short(state: State, load: str, part: str, share: float) -> float:
    """How far the load is short of what it needs with a reserve, or a contact beyond sound. [V]."""
    told = next((each for each in load_states(state) if each.name == load), None)
    short = math.inf
    if told is not None and load not in state.unfed:
        short = (1.0 + share) * (told.needed_v or 0.0) - told.voltage_v
    return max(short, abs(state.across_v(part)) - _worn_v(state, part))
