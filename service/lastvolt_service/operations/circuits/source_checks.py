"""What a circuit says of its battery, before any wiring is blamed: as battery-voltage judges it."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from lastvolt_service.fields import changed, known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.circuits.weakest import EMPTY_PERCENT
from lastvolt_service.operations.common_fields import between_systems
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    MARGINAL_SHARE,
    UNDECIDED,
    Judged,
    flatly,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.operations.sources.battery import BatteryVoltageRequest
from lastvolt_service.operations.sources.battery import solve as judge_battery
from lastvolt_service.operations.sources.charge import (
    FROZEN,
    charge_check,
    charge_told_percent,
    freezing_check,
    load_test_v,
)
from lastvolt_service.operations.sources.condition import (
    DEAD_CELL_SHARE,
    WEAK_MULTIPLE,
    Condition,
    condition,
)
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables import Unproven
from lastvolt_service.tables.battery import AGEING_FACTOR, load_test
from lastvolt_service.tables.limits import GASSES_SHARE, system_voltages

# In the order in which they are told: what bursts, what is flat, what is worn out, what sags.
OF_SOURCES = (
    "source_voltage",
    "freezing",
    "charge",
    "battery_resistance",
    "sag",
    "cranking_rating",
)
# A load test is passed by a good battery with some hundredths to spare. Common practice.
LITTLE_SAG_SHARE = 0.03
# What dries a battery that is not cold, over the nominal voltage, 15.5 V of 12; what charges it at
# all, 13 V, and to the full in its time, 13.5 V. Common practice.
DRIES_SHARE, COLD_C = 15.5 / 12.0, 10.0
CHARGES_SHARE, FILLS_SHARE = 1.08, 13.5 / 12.0
# What a battery gives beside what charges it is told from here on. [A]. Common practice.
LEAST_DRAIN_A = 0.5
# No generator of a vehicle that works gives less at most. [A]. Common practice.
LEAST_CHARGER_A = 2.0
# What is no news of a battery that is jump-started.
OF_A_FLAT_ONE = frozenset({"charge", "sag", "battery_resistance"})
# Of the nominal voltage, what a battery of the next higher system has even when it is low. Common
# practice.
HIGHER_MULTIPLE = 1.9
# Two batteries in a row.
BANK_V = 24
# What of the battery is judged by the voltage that its posts have with all that is joined.
AT_THE_POSTS = frozenset({"source_voltage", "sag", "cranking_rating"})
# A battery of no rating is not blamed for lacking no more than this share of the nominal voltage
# beside a sound one of usual size: it may be a small one, which has up to so many times as much
# inside. Common practice.
OWN_SAG_SHARE, SMALL_MULTIPLE = 1.0 / 24.0, 4.0
# What the battery at `source` is called in checks.
BATTERY = "battery"
CUSTOMARY = Unproven("no system has such a voltage, at rest or charging")
SOUND = Unproven("twice the resistance of a sound battery is its own fault")


def battery_cautions(checks: Iterable[Check]) -> tuple[str, ...]:
    """What to beware of with a battery that was judged so."""
    near = any(check.code == "freezing" and check.verdict != "pass" for check in checks)
    return (FROZEN,) if near else ()


def source_condition(circuit: Circuit, case: Case, state: State, nominal_v: float) -> Condition:
    """How the battery of a circuit is in a case, both in plain numbers.

    One of which no rating is told may be small: it is weak where that matters to what it feeds.
    """
    battery: Any = circuit.source.battery
    ambient_c, model = case.ambient_of(circuit.source.zone), state.model
    if battery is None:
        found = condition(model.emf_v, model.internal_ohm, nominal_v, ambient_c)
        ohm, sound_ohm = found.internal_resistance_ohm, found.sound_ohm
        lacks = (ohm - sound_ohm) * _given_a(state) > OWN_SAG_SHARE * nominal_v
        starts = any(
            each.circuit in OF_CIRCUIT or isinstance(each, SolenoidLoad) for each in circuit.loads
        )
        matters = lacks or starts or ohm > SMALL_MULTIPLE * sound_ohm
        return replace(found, is_weak=found.is_weak and matters)
    here = case.state_of_charge_percent
    charge_percent = here if known(here) else battery.state_of_charge_percent
    return condition(
        model.emf_v,
        model.internal_ohm,
        battery.nominal_v,
        battery.temperature_c if known(battery.temperature_c) else ambient_c,
        battery.cold_cranking_a,
        NOT_GIVEN if known(case.open_circuit_v) else charge_percent,
    )


def _given_a(state: State) -> float:
    """What a circuit's own battery gives. [A]."""
    return max(float(state.flow("sources").current_a[0]), 0.0)


def source_checks(
    circuit: Circuit, case: Case, state: State, nominal_v: float, case_nominal_v: float
) -> Iterator[Checked]:
    """Judge every source of a circuit in a case, both in plain numbers: its battery first.

    A battery of more voltage than one at rest has is charging: nothing is said of it. Nor is where
    no load test is published: the voltage at the loads tells.
    """
    further = [
        *_own_too_low(circuit, state, nominal_v),
        *_further_checks(circuit, state, nominal_v),
    ]
    misjoined = [check for check in further if check.code == "source_voltage"]
    yield from misjoined
    for check in _battery_checks(circuit, case, state, nominal_v, case_nominal_v):
        # What one that must not be joined makes of the posts is no fault of the battery.
        if not (misjoined and check.code in AT_THE_POSTS):
            yield replace(check, part=BATTERY)
    yield from (check for check in further if check.code != "source_voltage")
    yield from _without_battery(circuit, case, state)


def _battery_checks(
    circuit: Circuit, case: Case, state: State, nominal_v: float, case_nominal_v: float
) -> Iterator[Checked]:
    """Judge the battery of a circuit, at what it delivers."""
    emf_v, told = state.model.emf_v, known(case_nominal_v) or circuit.source.battery is not None
    if not told and between_systems(emf_v):
        judged = flatly(UNDECIDED, emf_v)
        yield Checked("source_voltage", judged, "V", CUSTOMARY)
        return
    most, posts = system_voltages()[int(nominal_v)], state.flow("sources")
    posts_v, current_a = float(posts.drop_v[0]), _given_a(state)
    if max(emf_v, posts_v) > most.limit_v:
        judged = stays_within(max(emf_v, posts_v), most.limit_v)
        # No regulator that runs away doubles its voltage.
        is_other = emf_v >= HIGHER_MULTIPLE * nominal_v
        detail = "higher_system" if is_other else None
        yield Checked("source_voltage", judged, "V", most.citation, detail=detail)
    found = source_condition(circuit, case, state, nominal_v)
    if not found.is_at_rest:
        if max(emf_v, posts_v) <= most.limit_v:
            yield from _gassing(max(emf_v, posts_v), nominal_v, found.temperature_c)
        return
    if circuit.source.battery is None or known(case.open_circuit_v):
        poor = _of_a_voltage(found, posts_v, nominal_v)
        # A voltage tells the charge to some percent: what is a little low is left alone.
        checks = [
            check
            for check in poor
            if check.verdict == "fail" or (check.code == "freezing" and check.verdict != "pass")
        ]
    else:
        checks = list(judge_battery(_rated(circuit.source.battery, case, found, current_a)).checks)
    for check in checks:
        if check.code != "sag" or known(float(check.judged.limit)):
            cared = _with_care(check, found, nominal_v)
            of_flat = check.code in OF_A_FLAT_ONE and check.verdict == "fail"
            helped = of_flat and cared.detail is None and _is_helped(circuit, state, nominal_v)
            yield _eased(cared, "helped") if helped else cared
    yield from _drained(state)


def _own_too_low(circuit: Circuit, state: State, nominal_v: float) -> Iterator[Checked]:
    """Judge whether what is joined to the battery drives a current into one that is not sound."""
    least_v, emf_v = DEAD_CELL_SHARE * nominal_v, state.model.emf_v
    if circuit.further_sources and emf_v < least_v < state.model.drive_v:
        so = {"part": BATTERY, "detail": "lower_system"}
        yield Checked("source_voltage", reaches(emf_v, least_v), "V", COMMON_PRACTICE, **so)


def _further_checks(circuit: Circuit, state: State, nominal_v: float) -> Iterator[Checked]:
    """Judge what feeds beside the battery: which way round it is, its voltage, its condition."""
    most = system_voltages()[int(nominal_v)]
    for part, _, current_a in state.carrying("sources", "chargers"):
        if part.asked is circuit.source:
            continue
        charges = isinstance(part.asked, Charger)
        volts = part.asked.regulated_v if charges else part.asked.open_circuit_v
        if part.name in state.model.turned:
            wrong = flatly(FAIL, volts)
            yield Checked("source_voltage", wrong, "V", CUSTOMARY, part=part.name, detail="turned")
        elif volts > most.limit_v:
            judged, detail = stays_within(volts, most.limit_v), None if charges else "other_system"
            yield Checked(
                "source_voltage", judged, "V", most.citation, part=part.name, detail=detail
            )
        elif volts < DEAD_CELL_SHARE * nominal_v:
            least_v = DEAD_CELL_SHARE * nominal_v
            detail = "lower_charger" if charges else "lower_system"
            judged = reaches(volts, least_v)
            yield Checked(
                "source_voltage", judged, "V", COMMON_PRACTICE, part=part.name, detail=detail
            )
        elif charges and volts < FILLS_SHARE * nominal_v:
            judged, detail = reaches(volts, CHARGES_SHARE * nominal_v), "charges_nothing"
            if judged.verdict != FAIL:
                judged = reaches(volts, FILLS_SHARE * nominal_v)._replace(verdict=MARGINAL)
                detail = "charges_slowly"
            so = {"part": part.name, "detail": detail}
            yield Checked("source_voltage", judged, "V", COMMON_PRACTICE, **so)
        elif charges:
            for check in _gassing(volts, nominal_v, part.ambient_c):
                yield replace(check, part=part.name)
        else:
            ohm = part.asked.internal_resistance_ohm
            found = condition(volts, ohm, nominal_v, part.ambient_c)
            for check in _of_a_voltage(found, volts, nominal_v):
                near = check.code == "freezing" and check.verdict != "pass"
                if check.code != "sag" and (check.verdict == "fail" or near):
                    told = replace(_with_care(check, found, nominal_v), part=part.name)
                    low = check.code == "charge" and told.detail is None
                    yield _beside_others(told, current_a) if low else told


def _gassing(volts: float, nominal_v: float, temperature_c: float) -> Iterator[Checked]:
    """Say of a charging voltage that it gasses a battery which is not cold."""
    share = volts / nominal_v
    if share > GASSES_SHARE and temperature_c > COLD_C:
        least_v = GASSES_SHARE * nominal_v
        verdict = FAIL if share > DRIES_SHARE else MARGINAL
        judged = Judged(volts, least_v, least_v - volts, verdict)
        yield Checked("source_voltage", judged, "V", COMMON_PRACTICE, detail="gasses")


def _is_helped(circuit: Circuit, state: State, nominal_v: float) -> bool:
    """Whether a charged battery stands beside the circuit's own, as in a jump start."""
    return any(
        not isinstance(part.asked, Charger)
        and part.asked is not circuit.source
        and charge_check(charge_told_percent(part.asked.open_circuit_v, nominal_v)).verdict
        != "fail"
        for part in state.model.parts["sources"]
    )


def _beside_others(check: Checked, current_a: float) -> Checked:
    """A low charge of a battery beside others: one that is not empty may be charged by them."""
    is_empty = float(check.judged.value) < EMPTY_PERCENT
    if not is_empty and current_a < 0.0:
        return _eased(check, "charging")
    return replace(check, detail="joined") if is_empty else check


def _eased(check: Checked, detail: str) -> Checked:
    return replace(check, judged=check.judged._replace(verdict=MARGINAL), detail=detail)


def _drained(state: State) -> Iterator[Checked]:
    """Say that a battery gives current beside what charges it, but for an engine's start."""
    model = state.model
    starts = any(
        part.is_load and part.asked.circuit in OF_CIRCUIT
        for group in LOAD_GROUPS
        for part in model.parts[group]
    )
    given_a = float(state.flow("sources").current_a[0])
    if not model.parts["chargers"] or starts or given_a <= LEAST_DRAIN_A:
        return
    sides = Sides(model.circuit, {*model.case.without})
    both = sides.live, sides.grounded
    # One that is unplugged on either side charges nothing.
    joined = [
        charger.asked.limit_a
        for charger in model.parts["chargers"]
        if all(any(node in side for node in charger.nodes) for side in both)
    ]
    if joined:
        judged = flatly(MARGINAL, given_a)
        most_a = sum(joined)
        detail = "charges_nothing" if most_a < LEAST_CHARGER_A else None
        yield Checked("drained", judged, "A", COMMON_PRACTICE, detail=detail)


def _without_battery(circuit: Circuit, case: Case, state: State) -> Iterator[Checked]:
    """Say of a charger that it feeds loads with no battery beside it, which holds its voltage."""
    joined = circuit.joined({*case.without}, most_ohm=MOST_OHM)
    for part, _, given_a in state.carrying("chargers"):
        if given_a <= LEAST_DRAIN_A:
            continue
        near = [reached(node, joined) for node in part.nodes]
        # Whichever way round it is.
        if not any(
            all(node in side for node, side in zip(ends, near, strict=True))
            for battery in state.model.parts["sources"]
            for ends in (battery.nodes, battery.nodes[::-1])
        ):
            judged = flatly(FAIL, given_a)
            yield Checked("no_battery", judged, "A", COMMON_PRACTICE, part=part.name)


def _with_care(check: Checked, found: Condition, nominal_v: float) -> Checked:
    """The same check; of a low charge with what to beware of before it is charged."""
    if check.code != "charge":
        return check
    if found.may_be_frozen:
        return replace(check, detail="frozen_or_dead" if found.may_be_dead else "frozen")
    if found.may_be_dead:
        return replace(check, detail="dead_cell")
    return replace(check, detail="bank") if nominal_v == BANK_V else check


def _rated(battery: Any, case: Case, found: Condition, current_a: float) -> BatteryVoltageRequest:
    """The question that battery-voltage answers of it."""
    ohm = battery.internal_resistance_ohm
    told = known(case.state_of_charge_percent) or known(battery.state_of_charge_percent)
    here = changed(
        battery,
        state_of_charge_percent=found.charge_percent if told else NOT_GIVEN,
        temperature_c=found.temperature_c,
        internal_resistance_ohm=found.internal_resistance_ohm
        if known(case.internal_resistance_ohm)
        else ohm,
    )
    return BatteryVoltageRequest(**vars(here), current_a=current_a, ageing_factor=AGEING_FACTOR)


def _of_a_voltage(found: Condition, posts_v: float, nominal_v: float) -> Iterator[Checked]:
    """Judge a battery of which voltage and resistance are all that is known."""
    yield freezing_check(found.charge_percent, found.temperature_c)
    yield charge_check(found.charge_percent)
    least_v = load_test_v(nominal_v, found.temperature_c)
    little_v = LITTLE_SAG_SHARE * least_v / MARGINAL_SHARE
    yield Checked("sag", reaches(posts_v, least_v, little_v), "V", load_test().citation)
    if found.is_weak:
        ohm, sound_ohm = found.internal_resistance_ohm, found.sound_ohm
        judged = Judged(ohm, sound_ohm, WEAK_MULTIPLE * sound_ohm - ohm, FAIL)
        yield Checked("battery_resistance", judged, "ohm", SOUND)
