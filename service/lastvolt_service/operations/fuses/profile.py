"""What a load takes over time, and the smallest fuse that carries it."""

import math
from typing import ClassVar, NamedTuple

import numpy as np

from lastvolt_service.fields import ABSENT, Fields, Groups, choice, quantity
from lastvolt_service.laws import by, named, published, solved
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.judging import BOTH_WINDINGS_A
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.physics import fuse as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    are,
    given,
    negate,
    pick,
    plain,
    some,
)
from lastvolt_service.tables import fuses as tables
from lastvolt_service.tables.load_profiles import LoadProfile, load_profiles

USUAL_INRUSH_S = 0.1  # of a first current whose time nobody tells
# Times within which a decaying current is held against a fuse, over its time constant.
_WINDOWS = np.geomspace(0.05, 200.0, 80)


class ProfiledLoad(Fields):
    """A load, and what it takes over time."""

    at_most_one_of: ClassVar[Groups] = (("inrush_time_s", "inrush_decay_s"),)
    needs: ClassVar[Groups] = (("off_time_s", "on_time_s"),)

    load_current_a: Numbers = quantity("steady current of the load", minimum=1e-6)
    load_profile: Texts = choice(
        "kind of load, for the usual course of its current where that is not given: first current "
        "and its time, time on, rest",
        tuple(load_profiles()),
        default=ABSENT,
    )
    inrush_current_a: Numbers = quantity(
        "first current of the load, in place of the usual one of its kind", default=ABSENT
    )
    inrush_time_s: Numbers = quantity(
        "how long the first current flows; by default as its kind of load does, else 0.1",
        minimum=1e-3,
        maximum=3600.0,
        default=ABSENT,
    )
    inrush_decay_s: Numbers = quantity(
        "time constant with which the first current falls to that of the load",
        minimum=1e-4,
        maximum=3600.0,
        default=ABSENT,
    )
    on_time_s: Numbers = quantity(
        "how long the load is on; by default as its kind of load is, else without end",
        minimum=1e-3,
        default=ABSENT,
    )
    off_time_s: Numbers = quantity(
        "rest before it is on again; without it the wire is at ambient before",
        minimum=1e-3,
        default=ABSENT,
    )


class Profile(NamedTuple):
    """The course of currents; NaN for what there is not.

    Attributes
    ----------
    load_a, first_a : float or ndarray
        In the end and at first. [A]
    first_time_s, decay_s : float or ndarray
        How long the first current flows, or the time constant with which it decays. [s]
    on_time_s, off_time_s : float or ndarray
        NaN for a load that may be on without end; NaN for a rest that lets all cool. [s]
    basis : tuple of str
        Who says so.
    """

    load_a: Numbers
    first_a: Numbers
    first_time_s: Numbers
    decay_s: Numbers
    on_time_s: Numbers
    off_time_s: Numbers
    basis: tuple[str, ...]

    @property
    def is_brief(self) -> Flags:
        """Whether the load is on for a time only."""
        found: Flags = given(self.on_time_s)
        return found

    def on_current_a(self) -> Numbers:
        """Current that heats as much in the time on as all its course. [A]."""
        load_a, on_s = self.load_a, self.on_time_s
        if not some(self.is_brief):
            return load_a
        first_a = pick(given(self.first_a), self.first_a, load_a)
        first_s = np.fmin(self.first_time_s, on_s)
        by_step = first_a**2 * first_s + load_a**2 * (on_s - first_s)
        by_decay = physics.decaying_integral_a2s(
            first_current_a=first_a,
            load_current_a=load_a,
            decay_s=pick(given(self.decay_s), self.decay_s, 1.0),
            time_s=on_s,
        )
        integral_a2s = pick(given(self.decay_s), by_decay, by_step)
        mean_a = named("on_current_a", (integral_a2s / on_s) ** 0.5, "same heat in the time on")
        # One that begins with less than it ends with is taken at its end.
        larger_a = pick(mean_a > load_a, mean_a, load_a)
        found: Numbers = plain(pick(self.is_brief, larger_a, load_a))
        return found

    def mean_current_a(self, on_a: Numbers) -> Numbers:
        """Current that heats as much without end as another in the time on, with its rests. [A]."""
        if not some(self.is_brief):
            return on_a
        rest_s = pick(given(self.off_time_s), self.off_time_s, math.inf)
        mean_a = on_a * (self.on_time_s / (self.on_time_s + rest_s)) ** 0.5
        found: Numbers = pick(self.is_brief, mean_a, on_a)
        return found


def _profile(load_profile: str | None) -> LoadProfile | None:
    return None if load_profile is None else load_profiles()[load_profile]


# The load at the end of a kind of circuit, where the caller does not tell its profile.
STARTER_CONTROL, STARTER_MOTOR = "starter_control", "starter_motor"
STARTER_SOLENOID, CRANKING = "starter_solenoid", "cranking"
NO_FUSE = (
    "The main cable of a starter motor has no fuse: lay it so that nothing can chafe or crush it, "
    "cover its ends, and keep it short."
)
OF_CIRCUIT = {STARTER_CONTROL: STARTER_SOLENOID, STARTER_MOTOR: CRANKING}


def profile_named(load_profile: Texts, circuit: Texts) -> Texts:
    """Name the profile of loads: as the caller does, else by the kind of circuit."""

    def named_so(load_profile: str | None, circuit: str | None) -> str | None:
        return load_profile or OF_CIRCUIT.get(circuit or "")

    return look_up(named_so, load_profile=load_profile, circuit=circuit).words(lambda each: each)


def profile_of(asked: ProfiledLoad) -> Profile:
    """Settle what loads take over time: by the caller's word, else as their kind does."""
    kind = look_up(_profile, load_profile=asked.load_profile)
    basis = kind.basis(lambda each: (each.citation,))

    def usual(name: str, meaning: str) -> Numbers:
        value = kind.numbers(lambda each: getattr(each, name))
        named_so: Numbers = value
        if given(value) is True:
            named_so = published(name, value, meaning, "".join(basis))
        return named_so

    multiple = usual("first_multiple", "first current over that of the load")
    own_a, own_s, own_decay_s = asked.inrush_current_a, asked.inrush_time_s, asked.inrush_decay_s
    has_own, has_time, has_decay = given(own_a), given(own_s), given(own_decay_s)
    decay_s = pick(has_decay, own_decay_s, usual("decay_s", "with which the first current decays"))
    decay_s = pick(has_time, NOT_GIVEN, decay_s)
    first_s = pick(has_time, own_s, usual("first_time_s", "time of the first current"))
    first_s = pick(given(first_s), first_s, USUAL_INRUSH_S)
    on_s, off_s = usual("on_time_s", "time on"), usual("off_time_s", "rest")
    has_on = given(asked.on_time_s)
    first_a: Numbers = pick(has_own, own_a, _usual_first_a(asked, multiple))
    return Profile(
        asked.load_current_a,
        first_a,
        pick(given(decay_s), NOT_GIVEN, first_s),
        decay_s,
        pick(has_on, asked.on_time_s, on_s),
        pick(has_on, asked.off_time_s, off_s),
        tuple(basis),
    )


def _usual_first_a(asked: ProfiledLoad, multiple: Numbers) -> Numbers:
    """First current as a kind takes it; what is more than a solenoid ever does is of both. [A]."""
    first_a = multiple * asked.load_current_a
    most_a = pick(asked.load_current_a > BOTH_WINDINGS_A, asked.load_current_a, BOTH_WINDINGS_A)
    found: Numbers = pick(
        are(asked.load_profile, STARTER_SOLENOID) & (first_a > most_a), most_a, first_a
    )
    return found


def least_rating_a(profile: Profile, ambient_factor: Numbers, family: str) -> Numbers:
    """Find the rating that carries a load over all its course. [A]."""
    rating_a = _continuous_a(profile, ambient_factor)
    for part_a in (_brief_a(profile, ambient_factor), _first_a(profile, ambient_factor, family)):
        if part_a is not None:
            rating_a = pick(given(part_a) & (part_a > rating_a), part_a, rating_a)
    lower_a: Numbers = plain(rating_a)
    return named("lower_a", lower_a, "smallest rating that carries the load and its inrush")


def _continuous_a(profile: Profile, ambient_factor: Numbers) -> Numbers:
    """Rating for the heat of all the time, the rests with it."""
    found: Numbers = physics.carrying_rating_a(
        current_a=profile.mean_current_a(profile.load_a),
        carried_multiple=published(
            "continuous_share",
            tables.CONTINUOUS_SHARE,
            "share of its rating that it carries without end",
            tables.continuous_citation(),
        ),
        ambient_factor=ambient_factor,
    )
    return found


def _brief_a(profile: Profile, ambient_factor: Numbers) -> Numbers | None:
    """Rating for the time on alone: no more than the fuse is rated for."""
    if not some(profile.is_brief):
        return None
    whole_a = physics.carrying_rating_a(
        current_a=profile.load_a, carried_multiple=1.0, ambient_factor=ambient_factor
    )
    found: Numbers = pick(profile.is_brief, whole_a, NOT_GIVEN)
    return found


def _first_a(profile: Profile, ambient_factor: Numbers, family: str) -> Numbers | None:
    """Rating for the first current."""
    has_first = profile.first_a > 0
    if not some(has_first):
        return None
    decays = given(profile.decay_s)
    current_a, time_s = profile.first_a, profile.first_time_s
    if some(decays):
        worst_s = solved(
            "inrush_window_s",
            plain(_worst_window_s(profile, family)),
            "from the first instant, that asks most of the fuse",
            "tried one after the other",
        )
        integral_a2s = physics.decaying_integral_a2s(
            first_current_a=profile.first_a,
            load_current_a=profile.load_a,
            decay_s=profile.decay_s,
            time_s=worst_s,
        )
        integral_a2s = named("inrush_a2s", integral_a2s, "melting integral of the first current")
        mean_a = plain(physics.equal_current_a(integral_a2s=integral_a2s, time_s=worst_s))
        current_a, time_s = pick(decays, mean_a, current_a), pick(decays, worst_s, time_s)
    found = physics.carrying_rating_a(
        current_a=current_a,
        carried_multiple=carried_multiple(family, time_s),
        ambient_factor=ambient_factor,
    )
    rating_a: Numbers = pick(has_first, found, NOT_GIVEN)
    return rating_a


def _worst_window_s(profile: Profile, family: str) -> Numbers:
    """Time from the first instant in which the current asks most of a fuse. [s]."""
    decay_s = np.atleast_1d(np.asarray(profile.decay_s, dtype=float))
    times_s = _WINDOWS[:, None] * decay_s
    integral_a2s = physics.decaying_integral_a2s(
        first_current_a=np.asarray(profile.first_a, dtype=float),
        load_current_a=np.asarray(profile.load_a, dtype=float),
        decay_s=decay_s,
        time_s=times_s,
    )
    asks = np.sqrt(integral_a2s / times_s) / carried_multiple(family, times_s)
    worst = np.where(np.isnan(asks), 0.0, asks).argmax(axis=0)
    found_s = np.take_along_axis(times_s, worst[None, :], axis=0)[0]
    many = isinstance(profile.first_a, np.ndarray) or len(found_s) > 1
    return found_s if many else float(found_s[0])


def carried_multiple(family: str, time_s: Numbers) -> Numbers:
    """Multiple of its rating that a family is sure to carry for a time. [s].

    Pulses shorter than those of the gates need no less integral than the least of all gates.
    """
    curve = tables.carried_curve(family)
    if curve is None:
        return published(
            "carried_multiple", 1.0, "of its rating, and no more", gates_citation(family)
        )
    line = read_off(
        curve,
        time_s,
        "carried_multiple",
        "multiple of its rating that it is sure to carry so long",
        along="inrush_time_s",
        logarithmic=True,
    )
    is_shorter = time_s < curve.x[0]
    if not some(is_shorter):
        return line
    least_s = published(
        "melting_square_s",
        tables.melting_multiple_square_s(family),
        "least melting integral over the rating's square",
        curve.citation,
    )
    by_integral = by(curve.citation, (least_s / time_s) ** 0.5)
    found: Numbers = pick(is_shorter & (by_integral > line), by_integral, line)
    return found


def gates_citation(family: str) -> str:
    """Say who tells the operating times of a family."""
    curve = tables.carried_curve(family)
    if curve is None:
        return f"{family}: operating times not known, taken for as slow as the slowest known"
    return curve.citation


def inrush_is_known(profile: Profile) -> Flags:
    """Whether anything is known of the first current."""
    found: Flags = given(profile.first_a)
    return found


def no_inrush(profile: Profile) -> Flags:
    """Where nothing is known of the first current."""
    found: Flags = negate(inrush_is_known(profile))
    return found
