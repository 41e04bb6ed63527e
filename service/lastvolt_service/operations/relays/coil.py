"""What a relay's coil needs, holds and bears, by itself or in a circuit."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service import tables
from lastvolt_service.fields import ABSENT, Broken, flag, quantity
from lastvolt_service.laws import JOULE, KIRCHHOFF, OHM, by, named, published
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    MARGINAL_SHARE,
    NOT_ASKED,
    PASS,
    UNKNOWN,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.relays.data import CoilData, Suppression, customary
from lastvolt_service.operations.relays.misfit import MEANING, Misfit, as_good_as_open, misfit
from lastvolt_service.operations.relays.warm_coil import ASSUMED_TIME_CONSTANT, WarmCoil, warm_coil
from lastvolt_service.operations.results import DEFERENCE, HOT_SURFACE, Given, Result, merge
from lastvolt_service.physics import coil as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    are,
    given,
    negate,
    pick,
    plain,
    some,
    text_if,
)
from lastvolt_service.tables.materials import material

# Continuous coil voltage over nominal up to which all is well, where no thermal data is given.
CONTINUOUS_PERCENT = 120.0
POLARITY = (
    "A relay with a diode or zener across its coil has marked terminals: joined the wrong way "
    "round the diode shorts the coil's feed, and wire or switch burn. On positive ground the live "
    "wire goes to the terminal that is marked for ground."
)
SCALING = tables.citation("relays", "pick_up_scaling")
# Of the insulation of published relay coils, where a coil's own limit is not known.
USUAL_LIMIT_C = 155.0
USUAL_LIMIT = tables.citation("relays", "coil_limit")
OWN_LIMIT = Given("coil_limit_c and thermal_resistance_k_per_w given by the caller")
# A resistor across a coil has at least so many times its resistance, and from the second number on
# little is left to wish: less takes more current than the coil itself, for as long as it is on.
LEAST_TIMES, AMPLE_TIMES = 3.0, 5.0

# What a coil without suppression reaches at least.
UNSUPPRESSED_V = 1000.0


class RelayCoilRequest(CoilData):
    """A relay's coil where it is mounted."""

    nominal_v: Numbers = supply("nominal voltage of the coil")
    ambient_c: Numbers = quantity("temperature around the relay", maximum=200.0)
    available_v: Numbers = supply("lowest voltage at the coil when the relay must close")
    dip_v: Numbers = quantity(
        "lowest voltage at the coil while it must hold, such as in a cranking dip",
        maximum=60.0,
        default=ABSENT,
    )
    duration_s: Numbers = quantity(
        "how long the coil is on at a time, from a start at ambient; without it for hours",
        minimum=1e-2,
        maximum=86400.0,
        default=ABSENT,
    )
    energised_before: Flags = flag(
        "whether the headline values are for a coil that was energised until just before",
        default=True,
    )

    example: ClassVar = {
        "nominal_v": 12,
        "coil_resistance_ohm": 90,
        "pick_up_v": 6.9,
        "drop_out_v": 1.2,
        "ambient_c": 85,
        "available_v": 11.4,
        "dip_v": 6.5,
        "maximum_v": 14.4,
        "thermal_resistance_k_per_w": 32,
        "coil_limit_c": 155,
        "highest_ambient_c": 105,
        "suppression": {"kind": "resistor", "resistance_ohm": 680},
    }

    def broken_rules(self) -> Iterator[Broken]:
        """The highest lasting voltage is not below the lowest ones."""
        yield from CoilData.broken_rules(self)
        for name in ("available_v", "dip_v"):
            wrong = self.maximum_v < getattr(self, name)
            yield wrong, ("maximum_v",), f"This must not be below {name}."


@dataclass(frozen=True, slots=True)
class SuppressionResult:
    """What happens when the coil is switched off."""

    kind: Annotated[str | None, "none, diode, resistor or zener; null where it was not given"]
    peak_v: Annotated[
        float | None, "peak across the switch that opens the coil; null without suppression"
    ]
    resistor_current_a: Annotated[float | None, "lasting extra current of a resistor"]
    resistor_power_w: Annotated[float | None, "heat made in a resistor while the coil is on"]
    release_time_constants: Annotated[
        float | None,
        "time until the current falls to drop-out, in multiples of the coil's L/R; null without "
        "drop_out_v",
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayCoil(Result):
    """Answer of ``relay-coil``."""

    misfit: Annotated[Misfit | None, MEANING]
    drive_v: Annotated[
        float, "maximum_v; without it what is known to come: the larger of nominal_v, available_v"
    ]
    feed_can_help: Annotated[bool, "whether maximum_v, where it is known, closes the warm coil"]
    air_too_hot: Annotated[bool, "whether the air alone is as hot as the coil may be"]
    coil_temperature_c: Annotated[float, "at ambient, or warm from drive_v if energised before"]
    warm_temperature_c: Annotated[
        float | None, "of a coil warm from use; null without thermal_resistance_k_per_w"
    ]
    warming_time_constant_s: Annotated[
        float | None, "that was reckoned with for duration_s; null where it is on for hours"
    ]
    hot_coil_resistance_ohm: Annotated[float, "of the coil at coil_temperature_c"]
    coil_current_a: Annotated[float, "at drive_v and coil_temperature_c"]
    coil_power_w: Annotated[float, "the same as heat"]
    switch_current_a: Annotated[
        float, "through what switches the coil: the coil's, and that of a resistor across it"
    ]
    hot_pick_up_v: Annotated[float, "voltage that closes the relay at coil_temperature_c"]
    hot_drop_out_v: Annotated[float | None, "voltage below which it opens at coil_temperature_c"]
    pick_up_margin_v: Annotated[float, "available_v over hot_pick_up_v"]
    hold_margin_v: Annotated[float | None, "dip_v over hot_drop_out_v"]
    maximum_continuous_v: Annotated[
        float | None,
        "voltage that heats the coil to coil_limit_c at this ambient, in duration_s where given",
    ]
    suppression: Annotated[SuppressionResult, "what happens at switch-off"]


def solve(asked: RelayCoilRequest) -> Outcome:
    """Work out one coil or many."""
    drive_v = named(
        "drive_v",
        _highest_known_v(asked),
        "highest lasting voltage at the coil",
    )
    coil = warm_coil(asked, ambient_c=asked.ambient_c, drive_v=drive_v, duration_s=asked.duration_s)
    change_cold, change_warm, warm_c = coil.change_cold, coil.change_warm, coil.warm_c
    cold_ohm = coil.thermal["resistance_ohm"]
    longest_v = plain(
        physics.voltage_at_rise(rise_k=asked.coil_limit_c - asked.ambient_c, **coil.thermal)
    )
    borne = _borne(asked, coil, longest_v)
    limit_c = pick(given(asked.coil_limit_c), asked.coil_limit_c, USUAL_LIMIT_C)
    is_warm = asked.energised_before & given(warm_c)
    change = pick(is_warm, change_warm, change_cold)
    ohm = by("linear law", asked.coil_resistance_ohm * change)
    needed_v = named(
        "hot_pick_up_v", by(SCALING, asked.pick_up_v * change), "voltage that closes the relay"
    )
    released_v = named(
        "hot_drop_out_v", by(SCALING, asked.drop_out_v * change), "voltage below which it opens"
    )
    fitted = suppression_of(asked).kind
    off = _switch_off(asked, drive_v, cold_ohm, asked.drop_out_v * change_cold)
    warmest = pick(given(change_warm), change_warm, change_cold)
    coil_a = named("coil_current_a", by(OHM, drive_v / ohm), "through the coil")
    resistor_a = off["suppression_resistor_current_a"]
    return Outcome(
        {
            "misfit": misfit(
                asked, asked.available_v, drive_v, asked.duration_s, limit_c, coil.thermal
            ),
            "drive_v": drive_v,
            "feed_can_help": negate(asked.pick_up_v * warmest > asked.maximum_v),
            "air_too_hot": borne.judged.limit <= 0.0,
            "coil_temperature_c": pick(is_warm, warm_c, asked.ambient_c),
            "warm_temperature_c": warm_c,
            "warming_time_constant_s": coil.time_constant_s,
            "hot_coil_resistance_ohm": ohm,
            "coil_current_a": coil_a,
            "coil_power_w": by(JOULE, drive_v**2 / ohm),
            "switch_current_a": pick(given(resistor_a), by(KIRCHHOFF, coil_a + resistor_a), coil_a),
            "hot_pick_up_v": needed_v,
            "hot_drop_out_v": released_v,
            "pick_up_margin_v": asked.available_v - needed_v,
            "hold_margin_v": asked.dip_v - released_v,
            "maximum_continuous_v": longest_v,
            "suppression_kind": fitted,
            **off,
        },
        (
            as_good_as_open(asked),
            *_closing(asked, coil),
            borne,
            _resistor(asked, off["suppression_resistor_power_w"], drive_v),
            *_switching_off(asked, off["suppression_peak_v"]),
        ),
        merge(
            (SCALING, material("copper").citation),
            (ASSUMED_TIME_CONSTANT,) if some(coil.assumed) else (),
        ),
        (
            *((POLARITY,) if some(are(fitted, "diode") | are(fitted, "zener")) else ()),
            HOT_SURFACE,
            DEFERENCE,
        ),
    )


def _highest_known_v(asked: RelayCoilRequest) -> Numbers:
    """What may last at the coil: no less than arrives when it must close. [V]."""
    arrives = asked.available_v > asked.nominal_v
    known_v = pick(arrives, asked.available_v, asked.nominal_v)
    found: Numbers = pick(given(asked.maximum_v), asked.maximum_v, known_v)
    return found


def _switch_off(
    asked: RelayCoilRequest, drive_v: Numbers, cold_ohm: Numbers, cold_drop_out_v: Numbers
) -> dict[str, Numbers]:
    """What happens at switch-off; NaN without suppression."""
    fitted = suppression_of(asked)
    kind, clamp_ohm = fitted.kind, fitted.resistance_ohm
    forward_v = published(
        "diode_forward_v",
        physics.DIODE_FORWARD_V,
        "forward voltage of a silicon diode",
        "common practice",
    )
    fixed_v = pick(are(kind, "diode"), forward_v, fitted.zener_v)
    is_resistor = are(kind, "resistor")
    shared = {
        "supply_v": drive_v,
        "resistance_ohm": cold_ohm,  # the peak is highest with the largest current: cold yet
        "clamp_v": pick(is_resistor, 0.0, fixed_v),
        "clamp_resistance_ohm": pick(is_resistor, clamp_ohm, 0.0),
    }
    resistor_a = named(
        "suppression_resistor_current_a",
        by(OHM, drive_v / clamp_ohm),
        "lasting current of the resistor",
    )
    return {
        "suppression_peak_v": physics.switch_off_peak(**shared),
        "suppression_resistor_current_a": resistor_a,
        "suppression_resistor_power_w": by(JOULE, resistor_a * drive_v),
        "suppression_release_time_constants": plain(
            physics.release_time_constants(drop_out_v=cold_drop_out_v, **shared)
        ),
    }


def suppression_of(asked: CoilData) -> Suppression:
    """What is across the coil; of an unknown kind where it was not given."""
    return asked.suppression or Suppression(kind=None)


def _with_time(basis: str, coil: WarmCoil) -> str:
    """Say what else a limit rests on where the coil is on for a time that is known, and no more."""
    return text_if(coil.assumed, f"{basis}; {ASSUMED_TIME_CONSTANT}", basis)


def _closing(asked: RelayCoilRequest, coil: WarmCoil) -> tuple[Checked, ...]:
    change_cold, change_warm = coil.change_cold, coil.change_warm
    change = pick(given(change_warm), change_warm, change_cold)
    warm = _with_time(SCALING, coil)
    return (
        Checked(
            "pick_up_at_ambient",
            reaches(asked.available_v, asked.pick_up_v * change_cold),
            "V",
            SCALING,
        ),
        Checked(
            "pick_up_warm", reaches(asked.available_v, asked.pick_up_v * change_warm), "V", warm
        ),
        Checked("hold", reaches(asked.dip_v, asked.drop_out_v * change), "V", warm),
        # A limit of the maker's is made to be used in full: reaching it is no small margin.
        Checked(
            "highest_ambient",
            stays_within(asked.ambient_c, asked.highest_ambient_c, 0.0),
            "degC",
            Given("highest_ambient_c given by the caller"),
        ),
    )


def _borne(asked: RelayCoilRequest, coil: WarmCoil, longest_v: Numbers) -> Checked:
    """Whether the coil bears its highest lasting voltage for as long as it is on.

    By its own limit where that is known. Else by practice: well up to a share of its nominal
    voltage, with little to spare up to what is customary in such a system. And never beyond what
    heats it to the limit of published coils, which alone lets no coil pass.
    """
    hottest_c = published("usual_coil_limit_c", USUAL_LIMIT_C, "of published coils", USUAL_LIMIT)
    usual_v = plain(physics.voltage_at_rise(rise_k=hottest_c - asked.ambient_c, **coil.thermal))
    easy_v = asked.nominal_v * CONTINUOUS_PERCENT / 100.0
    made_for = customary(asked.nominal_v)
    practice_v = pick(made_for.limit_v > easy_v, made_for.limit_v, easy_v)
    by_own, has_nominal = given(longest_v), given(practice_v)
    by_heat = (usual_v < practice_v) | (given(usual_v) & negate(has_nominal))
    stands_v = pick(by_own, longest_v, pick(by_heat, usual_v, practice_v))
    # What reaches it, where the most that does is not known: that fails, or proves nothing.
    has_most = given(asked.maximum_v)
    most_v = pick(has_most, asked.maximum_v, asked.available_v)
    easy = negate(by_own | by_heat) & (most_v <= easy_v)
    judged = stays_within(most_v, stands_v, pick(easy, 0.0, stands_v))
    unproved = negate((by_own | has_nominal) & has_most) & (judged.verdict != FAIL)
    told = has_most | (judged.verdict == FAIL)
    return Checked(
        "continuous_voltage",
        judged._replace(
            value=pick(told, judged.value, NOT_GIVEN),
            margin=pick(told, judged.margin, NOT_GIVEN),
            verdict=pick(unproved, UNKNOWN, judged.verdict),
        ),
        "V",
        text_if(
            by_own,
            _with_time(OWN_LIMIT, coil),
            text_if(
                by_heat,
                _with_time(USUAL_LIMIT, coil),
                "; ".join(
                    filter(
                        None, (tables.citation("relays", "continuous_voltage"), made_for.citation)
                    )
                ),
            ),
        ),
    )


def _resistor(asked: RelayCoilRequest, power_w: Numbers, drive_v: Numbers) -> Checked:
    """Whether a resistor across the coil takes no more than a share of what the coil takes."""
    most_w = by(JOULE, drive_v**2 / (LEAST_TIMES * asked.coil_resistance_ohm))
    small = 1.0 - LEAST_TIMES / AMPLE_TIMES
    judged = stays_within(power_w, most_w, most_w * small / MARGINAL_SHARE)
    return Checked(
        "suppression_resistor",
        asked_if(are(suppression_of(asked).kind, "resistor"), judged),
        "W",
        tables.citation("relays", "suppression_resistor"),
    )


def _switching_off(asked: RelayCoilRequest, peak_v: Numbers) -> tuple[Checked, ...]:
    kind = suppression_of(asked).kind
    is_none, is_diode = are(kind, "none"), are(kind, "diode")
    peak = stays_within(peak_v, asked.switch_limit_v)
    # A diode adds less than a volt to the supply, which any switch of it stands.
    harmless = is_diode & negate(given(asked.switch_limit_v))
    peak = peak._replace(verdict=pick(harmless, PASS, peak.verdict))
    return (
        Checked(
            "switch_off_peak",
            asked_if(given(kind) & negate(is_none), peak),
            "V",
            text_if(
                given(asked.switch_limit_v),
                Given("switch_limit_v given by the caller"),
                text_if(is_diode, tables.citation("relays", "diode_release"), SCALING),
            ),
        ),
        # Without suppression the peak has no figure, but is known to be beyond a switch's limit.
        Checked(
            "suppression",
            Judged(
                NOT_GIVEN,
                asked.switch_limit_v,
                NOT_GIVEN,
                pick(
                    is_none,
                    pick(asked.switch_limit_v < UNSUPPRESSED_V, FAIL, MARGINAL),
                    pick(given(kind), NOT_ASKED, UNKNOWN),
                ),
            ),
            "V",
            tables.citation("relays", "unsuppressed_peak"),
        ),
    )
