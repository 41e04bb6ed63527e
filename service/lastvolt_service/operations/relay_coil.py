"""A relay's coil: closing when hot, holding in a dip, charging voltage and switch-off."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service import tables
from lastvolt_service.operations.conductors import copper_change, copper_coefficient_per_k
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    Check,
    Result,
    at_least,
    at_most,
    show,
    unknown,
)
from lastvolt_service.physics import coil as physics
from lastvolt_service.tables.materials import material

# Longest continuous coil voltage over nominal where no thermal data is given.
CONTINUOUS_SHARE = 1.2
SCALING = tables.citation("relays", "pick_up_scaling")


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
    coil_resistance_ohm: Annotated[float, "at that temperature"]
    coil_current_a: Annotated[float, "at maximum_v (nominal_v without it) and that temperature"]
    coil_power_w: Annotated[float, "the same as heat"]
    pick_up_v: Annotated[float, "voltage that closes the relay at that temperature"]
    drop_out_v: Annotated[float | None, "voltage below which it opens at that temperature"]
    pick_up_margin_v: Annotated[float, "available_v over pick_up_v"]
    hold_margin_v: Annotated[float | None, "dip_v over drop_out_v"]
    maximum_continuous_v: Annotated[
        float | None, "voltage that heats the coil to coil_limit_c at this ambient"
    ]
    suppression: Annotated[SuppressionResult, "what happens at switch-off"]


@dataclass(frozen=True, slots=True)
class _Coil:
    """A coil with its copper, as the functions below share it."""

    resistance_ohm: float
    pick_up_v: float
    drop_out_v: float | None
    reference_c: float
    ambient_c: float
    drive_v: float
    k_per_w: float | None

    def change(self, temperature_c: float) -> float:
        return copper_change(temperature_c, self.reference_c)

    @property
    def ambient_resistance_ohm(self) -> float:
        return self.resistance_ohm * self.change(self.ambient_c)

    @property
    def warm_c(self) -> float | None:
        if self.k_per_w is None:
            return None
        return self.ambient_c + float(
            physics.self_heating_rise(
                coil_v=self.drive_v,
                resistance_ohm=self.ambient_resistance_ohm,
                ambient_c=self.ambient_c,
                thermal_resistance_k_per_w=self.k_per_w,
                temperature_coefficient_per_k=copper_coefficient_per_k(),
            )
        )


def relay_coil(
    *,
    nominal_v: float,
    coil_resistance_ohm: float,
    pick_up_v: float,
    reference_temperature_c: float,
    ambient_c: float,
    available_v: float,
    energised_before: bool,
    suppression: Mapping[str, Any],
    drop_out_v: float | None = None,
    dip_v: float | None = None,
    maximum_v: float | None = None,
    thermal_resistance_k_per_w: float | None = None,
    coil_limit_c: float | None = None,
    switch_limit_v: float | None = None,
) -> RelayCoil:
    """Whether a relay's coil closes, holds and survives where it is mounted.

    The pick-up current of a coil is constant, so the voltage that it needs grows with the
    resistance of its copper: in a hot engine bay, and again when it has been energised. It is
    held against the lowest voltage that reaches the coil; drop-out against the lowest voltage
    while it must hold; the charging voltage against what the coil stands at this ambient.

    Returns
    -------
    RelayCoil
    """
    drive = nominal_v if maximum_v is None else maximum_v
    coil = _Coil(
        coil_resistance_ohm,
        pick_up_v,
        drop_out_v,
        reference_temperature_c,
        ambient_c,
        drive,
        thermal_resistance_k_per_w,
    )
    warm = coil.warm_c
    temperature = warm if energised_before and warm is not None else ambient_c
    change = coil.change(temperature)
    resistance = coil_resistance_ohm * change
    needed = pick_up_v * change
    released = None if drop_out_v is None else drop_out_v * change
    longest = _maximum_continuous_v(coil, coil_limit_c)
    off = _switch_off(coil, suppression)
    return RelayCoil(
        coil_temperature_c=temperature,
        coil_resistance_ohm=resistance,
        coil_current_a=drive / resistance,
        coil_power_w=drive**2 / resistance,
        pick_up_v=needed,
        drop_out_v=released,
        pick_up_margin_v=available_v - needed,
        hold_margin_v=None if dip_v is None or released is None else dip_v - released,
        maximum_continuous_v=longest,
        suppression=off,
        checks=(
            _pick_up_check("pick-up, coil at ambient", coil, ambient_c, available_v),
            _warm_pick_up_check(coil, warm, available_v),
            _hold_check(coil, ambient_c if warm is None else warm, dip_v),
            _continuous_check(longest, maximum_v, nominal_v, ambient_c),
            _peak_check(off, switch_limit_v),
        ),
        basis=(SCALING, material("copper").citation),
        cautions=(HOT_SURFACE, DEFERENCE),
    )


def _maximum_continuous_v(coil: _Coil, coil_limit_c: float | None) -> float | None:
    if coil.k_per_w is None or coil_limit_c is None:
        return None
    return float(
        physics.voltage_at_rise(
            rise_k=coil_limit_c - coil.ambient_c,
            resistance_ohm=coil.ambient_resistance_ohm,
            ambient_c=coil.ambient_c,
            thermal_resistance_k_per_w=coil.k_per_w,
            temperature_coefficient_per_k=copper_coefficient_per_k(),
        )
    )


def _pick_up_check(name: str, coil: _Coil, temperature_c: float, available_v: float) -> Check:
    needed = coil.pick_up_v * coil.change(temperature_c)
    at = f"at a coil temperature of {show(temperature_c, 'degC')}"
    return at_least(
        name,
        available_v,
        needed,
        "V",
        SCALING,
        {
            "pass": f"The relay closes {at}: {show(available_v, 'V')} arrives and it needs "
            f"{show(needed, 'V')}.",
            "fail": f"The relay may not close {at}: it needs {show(needed, 'V')} and only "
            f"{show(available_v, 'V')} arrives. Mend the coil's feed or take a relay with a "
            "lower pick-up voltage.",
        },
    )


def _warm_pick_up_check(coil: _Coil, warm: float | None, available_v: float) -> Check:
    name = "pick-up, coil warm from use"
    if warm is None:
        return unknown(
            name, "V", SCALING, "Give thermal_resistance_k_per_w to know how warm the coil gets."
        )
    return _pick_up_check(name, coil, warm, available_v)


def _hold_check(coil: _Coil, temperature_c: float, dip_v: float | None) -> Check:
    name = "hold in a dip"
    if dip_v is None or coil.drop_out_v is None:
        return unknown(name, "V", SCALING, "Give drop_out_v and dip_v to know whether it holds.")
    limit = coil.drop_out_v * coil.change(temperature_c)
    return at_least(
        name,
        dip_v,
        limit,
        "V",
        SCALING,
        {
            "pass": f"The relay holds down to {show(limit, 'V')}; the dip stays above it.",
            "fail": f"The relay lets go below {show(limit, 'V')} and the dip reaches "
            f"{show(dip_v, 'V')}: it would chatter. Feed its coil from a point that sags less.",
        },
    )


def _continuous_check(
    longest: float | None, maximum_v: float | None, nominal_v: float, ambient_c: float
) -> Check:
    name = "continuous voltage"
    if maximum_v is None:
        return unknown(
            name, "V", "coil limit given by the caller", "Give maximum_v, the charging voltage."
        )
    basis = "coil_limit_c and thermal_resistance_k_per_w given by the caller"
    if longest is None:
        longest = CONTINUOUS_SHARE * nominal_v
        basis = tables.citation("relays", "continuous_voltage")
    return at_most(
        name,
        maximum_v,
        longest,
        "V",
        basis,
        {
            "pass": f"The coil stands {show(maximum_v, 'V')} for hours at "
            f"{show(ambient_c, 'degC')}; its limit there is {show(longest, 'V')}.",
            "fail": f"The coil stands {show(longest, 'V')} for hours at "
            f"{show(ambient_c, 'degC')} and gets {show(maximum_v, 'V')}: mount it cooler, or "
            "take a coil of higher resistance.",
        },
    )


def _switch_off(coil: _Coil, suppression: Mapping[str, Any]) -> SuppressionResult:
    kind = suppression["kind"]
    if kind == "none":
        return SuppressionResult(kind, None, None, None, None)
    clamp_v = {"diode": physics.DIODE_FORWARD_V, "zener": suppression.get("zener_v", 0.0)}
    clamp_ohm = suppression.get("resistance_ohm", 0.0)
    # The peak is highest with the coil's largest current: at ambient, before it has warmed up.
    shared = {
        "supply_v": coil.drive_v,
        "resistance_ohm": coil.ambient_resistance_ohm,
        "clamp_v": clamp_v.get(kind, 0.0),
        "clamp_resistance_ohm": clamp_ohm,
    }
    release = None
    if coil.drop_out_v is not None:
        drop_out = coil.drop_out_v * coil.change(coil.ambient_c)
        release = float(physics.release_time_constants(drop_out_v=drop_out, **shared))
    resistor = coil.drive_v / clamp_ohm if clamp_ohm else None
    return SuppressionResult(
        kind=kind,
        peak_v=float(physics.switch_off_peak(**shared)),
        resistor_current_a=resistor,
        resistor_power_w=None if resistor is None else resistor * coil.drive_v,
        release_time_constants=release,
    )


def _peak_check(off: SuppressionResult, switch_limit_v: float | None) -> Check:
    name = "switch-off peak"
    if off.peak_v is None:
        return Check(
            name,
            "marginal",
            None,
            switch_limit_v,
            "V",
            None,
            tables.citation("relays", "unsuppressed_peak"),
            "Nothing limits the peak when the coil is switched off: 1000 V and more wear the "
            "switch and destroy electronics. Fit a resistor, diode or zener.",
        )
    slower = (
        " The plain diode makes the relay open slowly, which wears its contacts."
        if off.kind == "diode"
        else ""
    )
    said = f"Switching off puts {show(off.peak_v, 'V')} across the switch."
    if switch_limit_v is None:
        basis = tables.citation("relays", "diode_release") if slower else SCALING
        message = f"{said}{slower} Give switch_limit_v to judge it."
        return unknown(name, "V", basis, message, value=off.peak_v)
    return at_most(
        name,
        off.peak_v,
        switch_limit_v,
        "V",
        "switch_limit_v given by the caller",
        {
            "pass": f"{said}{slower}",
            "fail": f"{said} It stands {show(switch_limit_v, 'V')}: clamp the coil lower.",
        },
    )
