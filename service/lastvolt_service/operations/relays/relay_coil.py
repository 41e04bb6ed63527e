"""Whether a relay's coil closes, holds and survives where it is mounted.

The pick-up current of a coil is constant, so the voltage that it needs grows with the resistance
of its copper: in a hot engine bay, and again when it has been energised. It is held against the
lowest voltage that reaches the coil; drop-out against the lowest voltage while it must hold; the
charging voltage against what the coil stands at this ambient, for as long as it is on.
"""

from dataclasses import replace

from lastvolt_service.operations.judging import asked_if
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.relays import coil
from lastvolt_service.operations.relays.coil import AMPLE_TIMES, RelayCoil, RelayCoilRequest
from lastvolt_service.operations.relays.misfit import Misfit, is_for_other_system
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.options import (
    full_battery_v,
    mended_regulator_v,
    system_of,
)
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.sources.supply import judge_too_high
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.rows import NOT_GIVEN, given, negate, pick

LEAST_AMBIENT_C = 20.0
# Of a coil of the same pick-up voltage: one of much more turns does not exist.
MOST_TIMES = 1.5
# Checks that a relay for another voltage fails for that reason.
VOLTAGES = frozenset({"pick_up_at_ambient", "pick_up_warm", "continuous_voltage"})
# How long a relay that is made for short use may be on, for a remedy. [s]
MOST_BRIEF_S, LEAST_BRIEF_S = 3600.0, 1.0


def solve(asked: RelayCoilRequest) -> Outcome:
    """Work out one coil or many, and what its supply is."""
    found = coil.solve(asked)
    return replace(found, checks=(*found.checks, _supply(asked)))


def _supply(asked: RelayCoilRequest) -> Checked:
    """Whether the highest lasting voltage boils the battery of the system the coil is for."""
    check = judge_too_high(asked.maximum_v, nominal_of(asked.nominal_v, NOT_GIVEN))
    of_it = given(asked.maximum_v) & negate(is_for_other_system(asked.nominal_v, asked.maximum_v))
    return replace(check, judged=asked_if(of_it, check.judged))


def mend(asked: RelayCoilRequest, answer: RelayCoil, trials: Trials) -> None:
    """Look for what cures a failed check."""
    failed = trials.decisive.code
    if failed == "source_voltage":
        _mend_regulator(asked, trials)
        return
    has_highest = given(asked.maximum_v)
    most_v = float(asked.maximum_v if has_highest else full_battery_v(float(asked.available_v)))
    perhaps = answer.misfit == "perhaps_other_voltage"
    if perhaps and system_of(most_v) < asked.nominal_v:
        _other_voltage(asked, system_of(most_v), trials)
    if failed in VOLTAGES and answer.misfit is not None and not perhaps:
        _mend_misfit(asked, answer.misfit, most_v, trials)
        return
    if failed in {"pick_up_at_ambient", "pick_up_warm"}:
        least_v = max(pick(given(asked.drop_out_v), asked.drop_out_v, 0.1), 0.1) * 1.01
        trials.search("available_v", asked.available_v, most_v)
        trials.search("pick_up_v", asked.pick_up_v, least_v)
    if failed == "hold":
        trials.search("dip_v", asked.dip_v, float(asked.available_v))
        trials.search("drop_out_v", asked.drop_out_v, 0.01)
    if failed == "continuous_voltage":
        trials.search(
            "coil_resistance_ohm", asked.coil_resistance_ohm, MOST_TIMES * asked.coil_resistance_ohm
        )
    if failed in {"switch_off_peak", "suppression_resistor", "suppression"}:
        puts = (
            Put(("suppression", "kind"), "diode"),
            Put(("suppression", "resistance_ohm"), None),
            Put(("suppression", "zener_v"), None),
        )
        trials.offer(Said("diode"), puts)
    if failed == "suppression_resistor":
        now = coil.suppression_of(asked).resistance_ohm
        ample = 2.0 * AMPLE_TIMES * asked.coil_resistance_ohm
        trials.search("resistance_ohm", now, ample, within=("suppression",), code="larger_resistor")
    elif failed == "switch_off_peak":
        for field in ("resistance_ohm", "zener_v"):
            now = getattr(coil.suppression_of(asked), field)
            trials.search(field, now, 1.0, within=("suppression",))
    elif failed != "suppression":
        trials.search("ambient_c", asked.ambient_c, LEAST_AMBIENT_C)


def _mend_regulator(asked: RelayCoilRequest, trials: Trials) -> None:
    volts = mended_regulator_v(float(nominal_of(asked.nominal_v, NOT_GIVEN)))
    trials.offer(Said("maximum_v", {"new": (volts, "V")}), (Put(("maximum_v",), volts),))


def _mend_misfit(asked: RelayCoilRequest, misfit: Misfit, most_v: float, trials: Trials) -> None:
    if misfit == "other_voltage":
        _other_voltage(asked, system_of(most_v), trials)
    elif misfit == "overcharged":
        _mend_regulator(asked, trials)
    else:
        trials.search("duration_s", MOST_BRIEF_S, LEAST_BRIEF_S)


def _other_voltage(asked: RelayCoilRequest, nominal_v: int, trials: Trials) -> None:
    """A relay alike for another voltage: the same ampere-turns and watts."""
    share = nominal_v / asked.nominal_v
    puts = [
        Put(("nominal_v",), float(nominal_v)),
        Put(("coil_resistance_ohm",), float(f"{asked.coil_resistance_ohm * share**2:.3g}")),
        Put(("pick_up_v",), float(f"{asked.pick_up_v * share:.3g}")),
    ]
    if given(asked.drop_out_v):
        puts.append(Put(("drop_out_v",), float(f"{asked.drop_out_v * share:.3g}")))
    resistor_ohm = coil.suppression_of(asked).resistance_ohm
    if given(resistor_ohm):
        here = ("suppression", "resistance_ohm")
        puts.append(Put(here, float(f"{resistor_ohm * share**2:.3g}")))
    trials.offer(Said("other_voltage", {"new": (float(nominal_v), "V")}), puts)


OPERATION = Operation("relay-coil", __doc__, RelayCoilRequest, RelayCoil, solve, mend)
