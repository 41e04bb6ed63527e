"""Whether a relay's contact carries, closes on and breaks its load.

The steady current is held against the rating at this ambient, interpolated between the maker's
points and never beyond them; the inrush against the make rating; the supply against the rated DC
voltage, a contact rated for a 6, 12 or 24 V system being fit for what is customary there. An inrush
that is not given lies between published multiples for the kind of load, and a verdict that flips
between them is undecided.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service import tables
from lastvolt_service.fields import ABSENT, Broken, Groups, choice, quantity
from lastvolt_service.laws import OHM, by, named, published
from lastvolt_service.operations.common_fields import of_no_system, supply
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNDECIDED,
    UNKNOWN,
    Judged,
    asked_if,
    reaches,
    stays_about,
    stays_within,
    within_rating,
)
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.relays.data import ContactData, customary
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.options import mended_regulator_v, sound_ohm
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    Given,
    Result,
)
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.physics.contact import derated_current, joule_power
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    are,
    given,
    negate,
    pick,
    some,
    text_if,
)
from lastvolt_service.tables.limits import (
    BURNS_W,
    CRANKING_A,
    HOTTEST_MULTIPLE,
    SOCKET_A,
    contact_limits,
    cranking_contact_limits,
    inrush,
)

MINIMUM_CURRENT_A = 0.1  # silver contacts; common practice, no source
GIVEN = Given("rating given by the caller")
# Lamps that a contact closes on all its life, over its steady rating for resistive loads.
LAMP_SHARE = 0.2
# Across a sound contact that carries its rating, and of that in proportion with less. [V]
AT_ITS_RATING_V = 0.25
INDUCTIVE = (
    "A contact's ratings are for resistive loads as a rule: a motor or a solenoid keeps the arc "
    "alight as it is switched off, which is not judged here. Hold its current against what the "
    "maker gives for such loads."
)
STEADY = "steady rating, for want of a make rating"
RATINGS_A = (10.0, 20.0, 30.0, 40.0, 50.0, 70.0, 100.0, 150.0, 200.0, 300.0)
LARGER_RELAYS = 6


class RelayContactRequest(ContactData):
    """A relay's contact with its load."""

    at_least_one_of: ClassVar[Groups] = (("load_kind", "inrush_current_a"),)

    rating_a: Numbers = quantity("steady current that the contact is rated for", minimum=1e-3)
    rated_v: Numbers = quantity(ContactData.described["rated_v"].meaning, minimum=1.0)
    load_kind: Texts = choice(
        "kind of load, for its inrush where that is not measured", tuple(inrush()), default=ABSENT
    )
    supply_v: Numbers = supply("highest voltage that the contact breaks")
    load_current_a: Numbers = quantity(
        "steady current of the load; of a solenoid with its winding cold", minimum=1e-6
    )
    path_resistance_ohm: Numbers = quantity(
        "of all that feeds the load, its battery, wires and contacts: it limits a first current "
        "that is not measured",
        maximum=1e3,
        default=0.0,
    )
    ambient_c: Numbers = quantity("temperature around the relay", maximum=250.0)

    def broken_rules(self) -> Iterator[Broken]:
        """The path lets the steady current through: else the first would look small, too."""
        yield from ContactData.broken_rules(self)
        lost_v = self.path_resistance_ohm * self.load_current_a
        message = "Over this the load's steady current would lose all of supply_v: give ohms."
        yield lost_v >= self.supply_v, ("path_resistance_ohm",), message

    example: ClassVar = {
        "rating_a": 40,
        "rating_ambient_c": 23,
        "derating": [{"ambient_c": 85, "current_a": 30}, {"ambient_c": 125, "current_a": 17}],
        "make_rating_a": 120,
        "supply_v": 14.4,
        "rated_v": 16,
        "load_current_a": 10,
        "load_kind": "starter_solenoid",
        "inrush_current_a": 48,
        "contact_resistance_ohm": 0.003,
        "ambient_c": 95,
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayContact(Result):
    """Answer of ``relay-contact``."""

    derated_current_a: Annotated[
        float | None, "current allowed at this ambient; null above the maker's last point"
    ]
    utilisation_percent: Annotated[float | None, "load current of that"]
    first_current_a: Annotated[
        float,
        "first current of the load, given or at the high end of an estimate, and no less than its "
        "steady one",
    ]
    lowest_first_current_a: Annotated[float, "the same at the low end of an estimate"]
    most_current_a: Annotated[
        float, "the same where it is known, else at the maker's last point, which is more"
    ]
    wrong_voltage: Annotated[
        bool, "whether the contact is not made to break supply_v, a voltage that a system has"
    ]
    overcharged: Annotated[
        bool, "whether it is not, and no system has supply_v: the regulator is at fault"
    ]
    cooler_helps: Annotated[bool, "whether the contact may carry the load in a cooler place"]
    air_too_hot: Annotated[bool, "whether the contact may carry nothing at ambient_c"]
    inrush_estimated: Annotated[bool, "whether the inrush comes from a published multiple"]
    contact_drop_v: Annotated[float | None, "voltage across the closed contact"]
    contact_power_w: Annotated[float | None, "heat made in the closed contact"]


def solve(asked: RelayContactRequest) -> Outcome:
    """Work out one contact or many."""
    kinds = look_up(lambda load_kind: inrush().get(load_kind), load_kind=asked.load_kind)
    load_a, estimated = asked.load_current_a, negate(given(asked.inrush_current_a))
    cited = ", ".join(kinds.basis(lambda kind: (kind.citation,)))
    most = published(
        "inrush_multiple",
        kinds.numbers(lambda kind: kind.highest_multiple),
        "high end of first over steady current",
        cited,
    )
    least = published(
        "lowest_inrush_multiple",
        kinds.numbers(lambda kind: kind.lowest_multiple),
        "low end of first over steady current",
        cited,
    )
    measured = pick(asked.inrush_current_a < load_a, load_a, asked.inrush_current_a)
    points = asked.derating
    allowed_a = named(
        "derated_current_a",
        derated_current(
            ambient_c=asked.ambient_c,
            curve_ambient_c=[asked.rating_ambient_c, *(point.ambient_c for point in points)],
            curve_current_a=[asked.rating_a, *(point.current_a for point in points)],
        ),
        "current allowed at this ambient",
    )
    # The cold load has so much less resistance, and its path what it has.
    in_path = asked.path_resistance_ohm * load_a / asked.supply_v
    first_a, least_a = (
        pick(estimated, by(cited, each * load_a / (1 + (each - 1) * in_path)), measured)
        for each in (most, least)
    )
    usual, cranking = contact_limits()["relay"], cranking_contact_limits()["relay"]
    heavy, of_rating_v = load_a >= CRANKING_A, _at_its_rating_v(load_a, asked.rating_a)
    usual_v = pick(heavy, cranking.limit_v, usual.limit_v)
    near = of_rating_v > usual_v
    sound_v = pick(near, of_rating_v, usual_v)
    sound_cited = text_if(heavy, cranking.citation, usual.citation)
    sound_cited = text_if(near, tables.citation("relays", "contact_drop"), sound_cited)
    breaks = _voltage_check(asked)
    too_high, no_system = breaks.judged.verdict == FAIL, of_no_system(asked.supply_v)
    drop_v = by(OHM, load_a * asked.contact_resistance_ohm)
    made_w = joule_power(current_a=load_a, resistance_ohm=asked.contact_resistance_ohm)
    # A starter's solenoid is held for seconds.
    burns = (asked.rating_a < SOCKET_A) & negate(are(asked.load_kind, STARTER_SOLENOID))
    burns = burns & (drop_v > HOTTEST_MULTIPLE * usual_v) & (made_w > BURNS_W["relay"])
    # What a sound contact makes is the load's doing.
    burns = burns & (drop_v > sound_v)
    heat = asked_if(burns, stays_within(made_w, BURNS_W["relay"]))
    return Outcome(
        {
            "derated_current_a": allowed_a,
            "utilisation_percent": 100 * load_a / pick(allowed_a > 0, allowed_a, NOT_GIVEN),
            "first_current_a": first_a,
            "lowest_first_current_a": least_a,
            "most_current_a": pick(given(allowed_a), allowed_a, _hottest_a(asked)),
            "wrong_voltage": too_high & negate(no_system),
            "overcharged": too_high & no_system,
            "cooler_helps": (asked.ambient_c > asked.rating_ambient_c) & (load_a <= asked.rating_a),
            "air_too_hot": allowed_a <= 0.0,
            # What starts with what it takes for good is no estimate.
            "inrush_estimated": estimated & (most > 1.0),
            "contact_drop_v": drop_v,
            "contact_power_w": made_w,
        },
        (
            Checked("steady_current", _steady(asked, load_a, allowed_a), "A", GIVEN),
            _inrush_check(
                asked, first_a, least_a, LAMP_SHARE * most * asked.rating_a, estimated, cited
            ),
            breaks,
            Checked("contact_drop", stays_about(drop_v, sound_v), "V", sound_cited),
            Checked("contact_heat", heat, "W", COMMON_PRACTICE),
            _smallest_check(asked),
        ),
        (GIVEN, *((cited,) if some(estimated) else ())),
        (FUSE_NEAR_SOURCE, *_of_windings(asked.load_kind), HOT_SURFACE, DEFERENCE),
    )


def _of_windings(load_kind: Texts) -> tuple[str, ...]:
    """Say what is not judged of a load that keeps the arc alight."""
    return (INDUCTIVE,) if some(are(load_kind, "motor") | are(load_kind, "solenoid")) else ()


def _at_its_rating_v(load_a: Numbers, rating_a: Numbers) -> Numbers:
    """What a sound contact drops at most for what it is made to carry. [V]."""
    share: Numbers = load_a / rating_a
    found: Numbers = AT_ITS_RATING_V * pick(share > 1.0, 1.0, share)
    return found


def _steady(asked: RelayContactRequest, load_a: Numbers, allowed_a: Numbers) -> Judged:
    """Hold the load against what is allowed; where that is not known, in the heat, it is less."""
    hottest_a = _hottest_a(asked)
    too_much = negate(given(allowed_a)) & (load_a > hottest_a)
    return within_rating(load_a, pick(too_much, hottest_a, allowed_a))


def _hottest_a(asked: RelayContactRequest) -> Numbers:
    """What is allowed at the maker's last point. [A]."""
    hottest_a = asked.rating_a
    for point in asked.derating:
        hottest_a = pick(given(point.current_a), point.current_a, hottest_a)
    return hottest_a


def _inrush_check(
    asked: RelayContactRequest,
    first_a: Numbers,
    least_a: Numbers,
    of_lamps_a: Numbers,
    estimated: Flags,
    cited: str,
) -> Checked:
    """Judge the first current; `of_lamps_a` is that of the lamps which the rating stands for.

    By the same estimate these make no more than it may close on, whatever is given for that.
    """
    own_limit = given(asked.make_rating_a)
    of_lamps = are(asked.load_kind, "lamp") & estimated
    by_lamps = negate(own_limit) & of_lamps
    may_a = pick(own_limit, asked.make_rating_a, pick(by_lamps, of_lamps_a, asked.rating_a))
    closing = stays_within(first_a, may_a)
    flips = (closing.verdict == FAIL) & (least_a <= may_a)
    is_usual = flips & own_limit & of_lamps & (first_a <= of_lamps_a)
    # A rating for steady current says that a lower inrush is good, not that a higher one is bad.
    unproved = (first_a > may_a) & negate(own_limit)
    of_estimate = pick(is_usual, MARGINAL, UNDECIDED)
    verdict = pick(unproved, UNKNOWN, pick(flips, of_estimate, closing.verdict))
    limit_from = text_if(
        by_lamps | is_usual,
        f"{GIVEN}; {tables.citation('relays', 'lamp_share')}",
        text_if(own_limit, GIVEN, STEADY),
    )
    return Checked(
        "inrush",
        closing._replace(verdict=verdict),
        "A",
        text_if(estimated, f"{limit_from}; {cited}", limit_from),
    )


def _voltage_check(asked: RelayContactRequest) -> Checked:
    made_for = customary(asked.rated_v)
    # A rated voltage is made to be used in full: reaching it is no small margin.
    return Checked(
        "rated_voltage",
        stays_within(asked.supply_v, made_for.limit_v, 0.0),
        "V",
        f"{GIVEN}; {made_for.citation}" if made_for.citation else GIVEN,
    )


def _smallest_check(asked: RelayContactRequest) -> Checked:
    own_limit = given(asked.minimum_current_a)
    smallest = reaches(
        asked.load_current_a, pick(own_limit, asked.minimum_current_a, MINIMUM_CURRENT_A)
    )
    # It may work for years: a matter of material, so never worse than marginal.
    verdict = pick(smallest.verdict == FAIL, MARGINAL, smallest.verdict)
    return Checked(
        "smallest_current",
        smallest._replace(verdict=verdict),
        "A",
        text_if(own_limit, GIVEN, tables.citation("relays", "minimum_current")),
    )


def mend(asked: RelayContactRequest, answer: RelayContact, trials: Trials) -> None:
    """Look for what cures a failed check."""
    failed = trials.decisive.code
    if failed in {"steady_current", "inrush"}:
        trials.first_that_cures(_larger(asked), most=LARGER_RELAYS)
    if failed == "steady_current" and asked.ambient_c > asked.rating_ambient_c:
        trials.search("ambient_c", asked.ambient_c, asked.rating_ambient_c)
    if failed == "inrush":
        trials.search("inrush_current_a", asked.inrush_current_a, asked.load_current_a)
    if failed == "rated_voltage" and answer.overcharged:
        volts = mended_regulator_v(float(nominal_of(asked.rated_v, NOT_GIVEN)))
        trials.offer(Said("supply_v", {"new": (volts, "V")}), (Put(("supply_v",), volts),))
    elif failed == "rated_voltage":
        volts = float(math.ceil(asked.supply_v))
        trials.offer(Said("rated_v", {"new": (volts, "V")}), (Put(("rated_v",), volts),))
    else:
        if failed in {"contact_drop", "contact_heat"}:
            ohm = sound_ohm("relay", float(asked.load_current_a))
            puts = (Put(("contact_resistance_ohm",), ohm),)
            trials.offer(Said("contact_resistance_ohm", {"new": (ohm, "ohm")}), puts)
        least_a = float(f"{0.05 * asked.load_current_a:.3g}")
        trials.search("load_current_a", asked.load_current_a, least_a)


def _larger(asked: RelayContactRequest) -> Iterator[tuple[Said, tuple[Put, ...]]]:
    """A larger relay of the same make: all of its currents in proportion."""
    for rating in RATINGS_A:
        if rating <= asked.rating_a:
            continue
        factor = rating / asked.rating_a
        puts = [Put(("rating_a",), rating)]
        if given(asked.make_rating_a):
            puts.append(Put(("make_rating_a",), float(asked.make_rating_a * factor)))
        puts += [
            Put(("derating", place, "current_a"), float(point.current_a * factor))
            for place, point in enumerate(asked.derating)
        ]
        yield Said("rating_a", {"new": (rating, "A")}), tuple(puts)


OPERATION = Operation("relay-contact", __doc__, RelayContactRequest, RelayContact, solve, mend)
