"""Whether a relay's coil closes, holds and survives where it is mounted.

The pick-up current of a coil is constant, so the voltage that it needs grows with the resistance
of its copper: in a hot engine bay, and again when it has been energised. It is held against the
lowest voltage that reaches the coil; drop-out against the lowest voltage while it must hold; the
charging voltage against what the coil stands at this ambient.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

from lastvolt_service import tables
from lastvolt_service.fields import ABSENT, Broken, Fields, choice, flag, part, quantity
from lastvolt_service.laws import JOULE, OHM, by, named, published
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.judging import MARGINAL, NOT_ASKED, asked_if, reaches, stays_within
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import DEFERENCE, HOT_SURFACE, Given, Result
from lastvolt_service.operations.wires.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.physics import coil as physics
from lastvolt_service.rows import Flags, Numbers, Texts, are, given, negate, pick, plain, text_if
from lastvolt_service.tables.materials import material

SUPPRESSIONS = ("none", "diode", "resistor", "zener")
# Longest continuous coil voltage over nominal where no thermal data is given.
CONTINUOUS_SHARE = 1.2
SCALING = tables.citation("relays", "pick_up_scaling")
LEAST_AMBIENT_C = 20.0
HIGHEST_V = 60.0


class Suppression(Fields):
    """What is wired across a coil against its switch-off peak."""

    kind: Texts = choice("none, diode, resistor or zener", SUPPRESSIONS)
    resistance_ohm: Numbers = quantity(
        "of the resistor across the coil", minimum=1.0, default=ABSENT
    )
    zener_v: Numbers = quantity(
        "clamping voltage of the zener with the diode in series with it",
        minimum=1.0,
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """Each kind has its own value."""
        for kind, name in (("resistor", "resistance_ohm"), ("zener", "zener_v")):
            is_kind, has = are(self.kind, kind), given(getattr(self, name))
            yield negate(has) & is_kind, (name,), f"A {kind} needs this value."
            yield negate(is_kind) & has, (name,), f"Only a {kind} has this value."


class RelayCoilRequest(Fields):
    """A relay's coil where it is mounted."""

    nominal_v: Numbers = supply("nominal voltage of the coil")
    coil_resistance_ohm: Numbers = quantity("of the coil at the reference temperature", minimum=0.1)
    pick_up_v: Numbers = supply(
        "voltage at which the relay is sure to close, at the reference temperature"
    )
    drop_out_v: Numbers = supply(
        "voltage below which the relay opens, at the reference temperature",
        minimum=0.01,
        default=ABSENT,
    )
    reference_temperature_c: Numbers = quantity("temperature of the maker's values", default=20.0)
    ambient_c: Numbers = quantity("temperature around the relay", maximum=200.0)
    available_v: Numbers = supply("lowest voltage at the coil when the relay must close")
    dip_v: Numbers = quantity(
        "lowest voltage at the coil while it must hold, such as in a cranking dip",
        maximum=60.0,
        default=ABSENT,
    )
    maximum_v: Numbers = supply(
        "highest lasting voltage at the coil, such as the charging voltage", default=ABSENT
    )
    thermal_resistance_k_per_w: Numbers = quantity("rise of the coil per watt", default=ABSENT)
    coil_limit_c: Numbers = quantity("highest temperature of the coil's insulation", default=ABSENT)
    energised_before: Flags = flag(
        "whether the headline values are for a coil that was energised until just before",
        default=True,
    )
    suppression: Suppression = part(
        Suppression, "what is wired across the coil", default={"kind": "none"}
    )
    switch_limit_v: Numbers = quantity(
        "highest voltage that the switch or driver of the coil stands",
        minimum=1.0,
        maximum=1e4,
        default=ABSENT,
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
        "suppression": {"kind": "resistor", "resistance_ohm": 680},
    }

    def broken_rules(self) -> Iterator[Broken]:
        """It opens below the voltage that closes it."""
        yield self.drop_out_v >= self.pick_up_v, ("drop_out_v",), "This must be below pick_up_v."


@dataclass(frozen=True, slots=True)
class SuppressionResult:
    """What happens when the coil is switched off."""

    kind: Annotated[str, "none, diode, resistor or zener"]
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

    coil_temperature_c: Annotated[
        float, "at ambient, or warm from maximum_v (nominal_v without it) if energised before"
    ]
    warm_temperature_c: Annotated[
        float | None, "of a coil warm from use; null without thermal_resistance_k_per_w"
    ]
    hot_coil_resistance_ohm: Annotated[float, "of the coil at coil_temperature_c"]
    coil_current_a: Annotated[float, "at maximum_v (nominal_v without it) and coil_temperature_c"]
    coil_power_w: Annotated[float, "the same as heat"]
    hot_pick_up_v: Annotated[float, "voltage that closes the relay at coil_temperature_c"]
    hot_drop_out_v: Annotated[float | None, "voltage below which it opens at coil_temperature_c"]
    pick_up_margin_v: Annotated[float, "available_v over hot_pick_up_v"]
    hold_margin_v: Annotated[float | None, "dip_v over hot_drop_out_v"]
    maximum_continuous_v: Annotated[
        float | None, "voltage that heats the coil to coil_limit_c at this ambient"
    ]
    suppression: Annotated[SuppressionResult, "what happens at switch-off"]


def solve(asked: RelayCoilRequest) -> Outcome:
    """Work out one coil or many."""
    drive_v = named(
        "drive_v",
        pick(given(asked.maximum_v), asked.maximum_v, asked.nominal_v),
        "highest lasting voltage at the coil",
    )
    change_cold = named(
        "change_cold",
        copper_changes(asked.ambient_c, asked.reference_temperature_c),
        "resistance of copper at ambient_c over that at the reference",
    )
    cold_ohm = named(
        "cold_resistance_ohm", asked.coil_resistance_ohm * change_cold, "of the coil at ambient_c"
    )
    thermal = {
        "resistance_ohm": cold_ohm,
        "ambient_c": asked.ambient_c,
        "thermal_resistance_k_per_w": asked.thermal_resistance_k_per_w,
        "temperature_coefficient_per_k": copper_coefficient_per_k(),
    }
    rise_k = plain(physics.self_heating_rise(coil_v=drive_v, **thermal))
    warm_c = named("warm_temperature_c", asked.ambient_c + rise_k, "of a coil warm from use")
    change_warm = named(
        "change_warm",
        copper_changes(warm_c, asked.reference_temperature_c),
        "resistance of copper at warm_temperature_c over that at the reference",
    )
    longest_v = plain(
        physics.voltage_at_rise(rise_k=asked.coil_limit_c - asked.ambient_c, **thermal)
    )
    is_warm = asked.energised_before & given(warm_c)
    change = pick(is_warm, change_warm, change_cold)
    ohm = by("linear law", asked.coil_resistance_ohm * change)
    needed_v = named(
        "hot_pick_up_v", by(SCALING, asked.pick_up_v * change), "voltage that closes the relay"
    )
    released_v = named(
        "hot_drop_out_v", by(SCALING, asked.drop_out_v * change), "voltage below which it opens"
    )
    off = _switch_off(asked, drive_v, cold_ohm, asked.drop_out_v * change_cold)
    return Outcome(
        {
            "coil_temperature_c": pick(is_warm, warm_c, asked.ambient_c),
            "warm_temperature_c": warm_c,
            "hot_coil_resistance_ohm": ohm,
            "coil_current_a": by(OHM, drive_v / ohm),
            "coil_power_w": by(JOULE, drive_v**2 / ohm),
            "hot_pick_up_v": needed_v,
            "hot_drop_out_v": released_v,
            "pick_up_margin_v": asked.available_v - needed_v,
            "hold_margin_v": asked.dip_v - released_v,
            "maximum_continuous_v": longest_v,
            "suppression_kind": asked.suppression.kind,
            **off,
        },
        _checks(asked, change_cold, change_warm, longest_v, off["suppression_peak_v"]),
        (SCALING, material("copper").citation),
        (HOT_SURFACE, DEFERENCE),
    )


def _switch_off(
    asked: RelayCoilRequest, drive_v: Numbers, cold_ohm: Numbers, cold_drop_out_v: Numbers
) -> dict[str, Numbers]:
    """What happens at switch-off; NaN without suppression."""
    kind, clamp_ohm = asked.suppression.kind, asked.suppression.resistance_ohm
    forward_v = published(
        "diode_forward_v",
        physics.DIODE_FORWARD_V,
        "forward voltage of a silicon diode",
        "common practice",
    )
    fixed_v = pick(are(kind, "diode"), forward_v, asked.suppression.zener_v)
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


def _checks(
    asked: RelayCoilRequest,
    change_cold: Numbers,
    change_warm: Numbers,
    longest_v: Numbers,
    peak_v: Numbers,
) -> tuple[Checked, ...]:
    change = pick(given(change_warm), change_warm, change_cold)
    stands_v = pick(given(longest_v), longest_v, CONTINUOUS_SHARE * asked.nominal_v)
    open_coil = are(asked.suppression.kind, "none")
    peak = stays_within(peak_v, asked.switch_limit_v)
    return (
        Checked(
            "pick_up_at_ambient",
            reaches(asked.available_v, asked.pick_up_v * change_cold),
            "V",
            SCALING,
        ),
        Checked(
            "pick_up_warm", reaches(asked.available_v, asked.pick_up_v * change_warm), "V", SCALING
        ),
        Checked("hold", reaches(asked.dip_v, asked.drop_out_v * change), "V", SCALING),
        Checked(
            "continuous_voltage",
            stays_within(asked.maximum_v, stands_v),
            "V",
            text_if(
                given(longest_v),
                Given("coil_limit_c and thermal_resistance_k_per_w given by the caller"),
                tables.citation("relays", "continuous_voltage"),
            ),
        ),
        Checked(
            "switch_off_peak",
            asked_if(negate(open_coil), peak),
            "V",
            text_if(
                given(asked.switch_limit_v),
                Given("switch_limit_v given by the caller"),
                text_if(
                    are(asked.suppression.kind, "diode"),
                    tables.citation("relays", "diode_release"),
                    SCALING,
                ),
            ),
        ),
        # Without suppression the peak has no figure, but is known to be high.
        Checked(
            "no_suppression",
            peak._replace(verdict=pick(open_coil, MARGINAL, NOT_ASKED)),
            "V",
            tables.citation("relays", "unsuppressed_peak"),
        ),
    )


def mend(asked: RelayCoilRequest, _answer: RelayCoil, trials: Trials) -> None:
    """Look for what cures a failed check."""
    failed = trials.decisive.code
    most_v = min(HIGHEST_V, 2.0 * asked.nominal_v)
    if failed in {"pick_up_at_ambient", "pick_up_warm"}:
        least_v = max(pick(given(asked.drop_out_v), asked.drop_out_v, 0.1), 0.1) * 1.01
        trials.search("available_v", asked.available_v, most_v)
        trials.search("pick_up_v", asked.pick_up_v, least_v)
    if failed == "hold":
        trials.search("dip_v", asked.dip_v, most_v)
        trials.search("drop_out_v", asked.drop_out_v, 0.01)
    if failed == "continuous_voltage":
        trials.search(
            "coil_resistance_ohm", asked.coil_resistance_ohm, 10.0 * asked.coil_resistance_ohm
        )
    if failed == "switch_off_peak":
        puts = (
            Put(("suppression", "kind"), "diode"),
            Put(("suppression", "resistance_ohm"), None),
            Put(("suppression", "zener_v"), None),
        )
        trials.offer(Said("diode"), puts)
        for field in ("resistance_ohm", "zener_v"):
            trials.search(field, getattr(asked.suppression, field), 1.0, within=("suppression",))
    else:
        trials.search("ambient_c", asked.ambient_c, LEAST_AMBIENT_C)


OPERATION = Operation("relay-coil", __doc__, RelayCoilRequest, RelayCoil, solve, mend)
