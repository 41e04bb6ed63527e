"""Wires of any size held against what one load or many ask of them."""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from lastvolt_service.laws import KIRCHHOFF, OHM, by, named, solved
from lastvolt_service.operations.fuses.overload import FusedWire, heated_c
from lastvolt_service.operations.fuses.profile import Profile, profile_of
from lastvolt_service.operations.fuses.shorts import Feed
from lastvolt_service.operations.fuses.window import FusedLoad, Window, fuse_window
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    NOT_ASKED,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.wires.ampacity import (
    Permissible,
    duty_current,
    judge_temperature,
    permissible,
)
from lastvolt_service.operations.wires.drop_limits import BOTH_WINDINGS_C, judge_need, judge_path
from lastvolt_service.operations.wires.fields import DropLimit
from lastvolt_service.operations.wires.heated_wire import MODEL_BASIS, HeatedWire
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    given,
    negate,
    pick,
    plain,
    some,
    texts_where,
)

# So long a key is held where the solenoid does not pull in; common practice, no source.
HELD_S = 10.0
# What no size of the wire changes is told, and keeps none from being found.
OF_NO_SIZE = frozenset({"breaking_capacity", "fuse_voltage"})
FUSE_COLUMNS = ("fuse_rating_a", "fuse_family", "overload_current_a", "overload_time_s")
# Resistance of a size over that of the next larger one, at most, in any standard.
STEP = 1.7
# A body that takes less of the limit than this is no matter of sizes; by judgement.
MUCH_SHARE = 0.25


class SizedLoad(DropLimit, FusedLoad):
    """A load with its supply, its course in time, and what its path may drop."""


class Needs(NamedTuple):
    """What is asked of any size, by one load or by many.

    Attributes
    ----------
    load : SizedLoad
        As in requests.
    both_windings, at_limit_c, has_no_fuse : bool or ndarray of bool
        Whether the drop is that with both windings of a solenoid in, whether it is that at the
        temperature which the limit for those speaks of, and whether the wire is the main cable of a
        starter motor.
    supply_v, ambient_c : float or ndarray
        At the start of the path, and around the wire. [V], [degC]
    loop_length_m : float or ndarray
        Length of wire that the drop is reckoned over. [m]
    body_resistance_ohm, contacts_ohm, kept_ohm : float or ndarray
        What the body and the contacts add, and what is kept back for contacts that are not given:
        the drop has that, a short circuit does not. [ohm]
    limit_drop_v : float or ndarray
        Limit of the drop. [V]
    minimum_area_mm2 : float or ndarray
        Section of the least size that lasts. [mm2]
    by_guess : bool or ndarray of bool
        Whether a body that nobody measured would decide: it is left out then.
    body_is_assumed : bool or ndarray of bool
        Whether nobody measured the body.
    """

    load: SizedLoad
    both_windings: Flags
    at_limit_c: Flags
    has_no_fuse: Flags
    supply_v: Numbers
    ambient_c: Numbers
    loop_length_m: Numbers
    body_resistance_ohm: Numbers
    contacts_ohm: Numbers
    kept_ohm: Numbers
    limit_drop_v: Numbers
    minimum_area_mm2: Numbers
    by_guess: Flags
    body_is_assumed: Flags

    @property
    def other_ohm(self) -> Numbers:
        """What is known to be in the loop beside the wire. [ohm]."""
        return self.body_resistance_ohm + self.contacts_ohm


class Held(NamedTuple):
    """Wires held against needs.

    Attributes
    ----------
    columns : mapping of str to float, str, None, ndarray or Words
        What was found, by name of the result.
    judged : mapping of str to Judged
        By code of the check.
    surface_c : float or ndarray
        Of the insulation. [degC]
    may : Permissible
        What they may carry.
    window : Window
        Of their fuses.
    profile : Profile
        Of the load.
    """

    columns: Mapping[str, Any]
    judged: Mapping[str, Judged]
    surface_c: Numbers
    may: Permissible
    window: Window
    profile: Profile

    @property
    def failing(self) -> tuple[str, ...]:
        """Codes of the checks that one wire fails."""
        return tuple(code for code, each in self.of_size.items() if each.verdict == FAIL)

    @property
    def of_size(self) -> Mapping[str, Judged]:
        """Checks that another size may pass."""
        return {code: each for code, each in self.judged.items() if code not in OF_NO_SIZE}


def hold(wires: HeatedWire, needs: Needs) -> Held:
    """Hold wires, each with a limit, against needs: each against its own, or all against one's."""
    profile = profile_of(needs.load)
    may = permissible(wires, wires.physics)
    heat = _heat(wires, may, profile)
    loop_ohm = named(
        "loop_resistance_ohm",
        _ohm_per_m(wires, heat.hot_c) * needs.loop_length_m + needs.other_ohm + needs.kept_ohm,
        "of the whole loop, hot",
    )
    drop_v, load_v = _drop(wires, needs, profile, loop_ohm)
    may_a = named("permissible_current_a", may.current_a, "steady current that it may carry")
    hot_loop_ohm = named(
        "hot_loop_ohm",
        _ohm_per_m(wires, wires.limit_c) * needs.loop_length_m + needs.other_ohm,
        "of the loop at the limit of the insulation",
    )
    feed = Feed(needs.supply_v, needs.load.source_resistance_ohm, hot_loop_ohm)
    window = fuse_window(
        needs.load, FusedWire(may_a, True, wires, heat.hot_c), feed, needs.ambient_c
    )
    window = _without_fuse(window, needs.has_no_fuse)
    brief = profile.is_brief
    return Held(
        {
            "area_mm2": wires.area_mm2,
            "drop_v": drop_v,
            "load_voltage_v": named("load_voltage_v", load_v, "voltage that reaches the load"),
            "conductor_temperature_c": heat.hot_c,
            "permissible_current_a": may_a,
            "duty_current_a": heat.duty_a,
            **{name: window.columns[name] for name in FUSE_COLUMNS},
        },
        {
            # Sizes are steps: the least one is meant to be used.
            "mechanical_minimum": reaches(wires.area_mm2, needs.minimum_area_mm2, 0.0),
            "loop_drop": _unless_assumed(
                needs, profile, _judge_drop(needs, drop_v), loop_ohm, wires.area_mm2
            ),
            "load_voltage": _need(needs, profile, load_v),
            "conductor_temperature": judge_temperature(heat.hot_c, wires.limit_c, wires.ambient_c),
            "permissible_current": asked_if(negate(brief), stays_within(profile.load_a, may_a)),
            "duty_current": asked_if(brief, stays_within(heat.on_a, heat.duty_a)),
            "both_windings_held": _held(wires, profile, needs.both_windings),
            **window.judged,
        },
        heat.surface_c,
        may,
        window,
        profile,
    )


def _need(needs: Needs, profile: Profile, load_v: Numbers) -> Judged:
    """Judge the voltage at the load; not where a body that nobody measured makes it too little."""
    judged = _unless_guessed(needs, judge_need(needs.load, load_v).judged)
    spared_v = load_v + profile.load_a * needs.body_resistance_ohm
    spared = judge_need(needs.load, spared_v).judged
    guessed = needs.body_is_assumed & (judged.verdict == FAIL) & (spared.verdict != FAIL)
    spared = spared._replace(verdict=UNKNOWN)
    return Judged(*(pick(guessed, *each) for each in zip(spared, judged, strict=True)))


def _unless_guessed(needs: Needs, judged: Judged) -> Judged:
    """Judge no drop that hangs on what nobody measured, unless it is too much without that."""
    passes = (judged.verdict != FAIL) & (judged.verdict != NOT_ASKED)
    return judged._replace(verdict=pick(needs.by_guess & passes, UNKNOWN, judged.verdict))


def _judge_drop(needs: Needs, drop_v: Numbers) -> Judged:
    judged = judge_path(
        needs.limit_drop_v,
        needs.load.needed_v,
        drop_v,
        is_for_both_windings=needs.at_limit_c,
    )
    return _unless_guessed(needs, judged)


def _unless_assumed(
    needs: Needs, profile: Profile, judged: Judged, loop_ohm: Numbers, area_mm2: Numbers
) -> Judged:
    """Leave a drop undecided that asks for this size only for a current or body that was assumed.

    That is where the next smaller one would do with the steady current as the first one, or with
    next to no resistance in the body.
    """
    drop_v, other_ohm = judged.value, needs.other_ohm + needs.kept_ohm
    loop_ohm = pick(loop_ohm > 0, loop_ohm, 1.0)  # of no length: it drops nothing
    smaller_v = drop_v * (other_ohm + STEP * (loop_ohm - other_ohm)) / loop_ohm
    body_v = drop_v * needs.body_resistance_ohm / loop_ohm
    by_body = needs.body_is_assumed & (body_v > MUCH_SHARE * needs.limit_drop_v)
    by_body = by_body & (smaller_v - body_v <= needs.limit_drop_v)
    by_first = needs.both_windings & negate(given(needs.load.inrush_current_a))
    by_first = by_first & (smaller_v * profile.load_a <= needs.limit_drop_v * profile.first_a)
    fits = drop_v <= needs.limit_drop_v
    decides = fits & (smaller_v > needs.limit_drop_v) & (area_mm2 > needs.minimum_area_mm2)
    passes = (judged.verdict == PASS) | (judged.verdict == MARGINAL)
    undecided = (by_body | by_first) & decides & passes
    return judged._replace(verdict=pick(undecided, UNDECIDED, judged.verdict))


class _Heat(NamedTuple):
    """What a load makes of wires: conductor, surface, current while on, and current permissible."""

    hot_c: Numbers
    surface_c: Numbers
    on_a: Numbers
    duty_a: Numbers


def _heat(wires: HeatedWire, may: Permissible, profile: Profile) -> _Heat:
    physics, brief = wires.physics, profile.is_brief
    on_a = profile.on_current_a()
    steady = conductor_temperature(
        current_a=profile.mean_current_a(on_a), wire=physics, ceiling_c=wires.ceiling_c
    )
    hot_c, duty_a, basis = plain(steady.conductor_temperature_c), NOT_GIVEN, MODEL_BASIS
    if some(brief):
        # From the mean of all its time, which is warmer than the end of its rest.
        on_s = pick(brief, profile.on_time_s, 1.0)
        start_c = pick(given(hot_c), hot_c, wires.ceiling_c)
        hot_c = plain(pick(brief, heated_c(wires, on_a, on_s, start_c), hot_c))
        rest_s = pick(given(profile.off_time_s), profile.off_time_s, math.inf)
        permitted_a = duty_current(wires, may, on_s, rest_s)
        duty_a, basis = plain(pick(brief, permitted_a, NOT_GIVEN)), IN_TIME
    surface_c = plain(steady.surface_temperature_c)
    return _Heat(
        solved("conductor_temperature_c", hot_c, "temperature of the conductor", basis),
        solved("surface_temperature_c", surface_c, "of its surface", MODEL_BASIS),
        on_a,
        solved("duty_current_a", duty_a, "current permissible for these times", IN_TIME),
    )


def _ohm_per_m(wires: HeatedWire, temperature_c: Numbers) -> Numbers:
    ratio = resistance_ratio(
        temperature_c=temperature_c,
        temperature_coefficient_per_k=wires.temperature_coefficient_per_k,
    )
    found: Numbers = wires.resistance_20_ohm_per_m * ratio
    return found


def _drop(
    wires: HeatedWire, needs: Needs, profile: Profile, loop_ohm: Numbers
) -> tuple[Numbers, Numbers]:
    """Drop in the phase that its limit speaks of, and the voltage that then reaches the load."""
    meaning = "voltage lost on the whole loop"
    drop_v = by(OHM, profile.load_a * loop_ohm)
    left_v = by(KIRCHHOFF, needs.supply_v - drop_v)
    # A path that would drop more than there is leaves nothing.
    load_v = pick(left_v < 0, 0.0, left_v)
    if not some(needs.both_windings):
        return named("drop_v", drop_v, meaning), load_v
    # Both windings are a resistance: the current that they take at the supply tells it, and is no
    # less than that of the one which holds.
    first_a, load_a = profile.first_a, profile.load_a
    both_a = pick(given(first_a) & (first_a > load_a), first_a, load_a)
    windings_ohm = named(
        "both_windings_ohm", needs.supply_v / both_a, "both windings of the solenoid"
    )
    cold_ohm = named(
        "cold_loop_ohm",
        _ohm_per_m(wires, BOTH_WINDINGS_C) * needs.loop_length_m + needs.other_ohm + needs.kept_ohm,
        "of the whole loop at the temperature that the limit is for",
    )
    cold_ohm = pick(needs.at_limit_c, cold_ohm, loop_ohm)
    both_v = by(OHM, needs.supply_v * cold_ohm / (cold_ohm + windings_ohm))
    pulled_v = by(OHM, needs.supply_v * windings_ohm / (loop_ohm + windings_ohm))
    return (
        named("drop_v", pick(needs.both_windings, both_v, drop_v), meaning),
        pick(needs.both_windings, pulled_v, load_v),
    )


def _held(wires: HeatedWire, profile: Profile, both_windings: Flags) -> Judged:
    """Judge a wire that feeds both windings for as long as the key is held: it did not pull in."""
    if not some(both_windings):
        return Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_ASKED)
    first_a = pick(given(profile.first_a), profile.first_a, 0.0)
    time_s = pick(given(profile.on_time_s), profile.on_time_s, HELD_S)
    hot_c = plain(heated_c(wires, first_a, time_s, wires.ambient_c))
    judged = judge_temperature(hot_c, wires.limit_c, wires.ambient_c)
    return asked_if(both_windings, judged)


def _without_fuse(window: Window, where: Flags) -> Window:
    """Ask nothing of a fuse where there is none: the main cable of a starter motor."""
    if not some(where):
        return window
    has_fuse = negate(where)
    columns = {
        name: texts_where(has_fuse, value)
        if name == "fuse_family"
        else pick(has_fuse, value, NOT_GIVEN)
        for name, value in window.columns.items()
    }
    return window._replace(
        columns=columns,
        judged={code: asked_if(has_fuse, each) for code, each in window.judged.items()},
        beyond=window.beyond._replace(where=has_fuse & window.beyond.where),
    )
