"""Voltage that a battery keeps under a load, by charge and temperature.

The open-circuit voltage follows from the state of charge. The internal resistance is estimated:
from the cold-cranking rating at -18 degC, and from published cranking power at other temperatures,
never below the coldest published one. Charge and age make it an interval, and a verdict that flips
within it is undecided; a measured resistance replaces it. A low charge is said first. The sag is
held against what a load test asks for.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from lastvolt_service.errors import NoOperatingPoint, NotCovered
from lastvolt_service.fields import ABSENT, Broken, Fields, count, quantity
from lastvolt_service.laws import OHM, by, named, published
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    Fault,
    stays_within,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import DEFERENCE, SHORT_CIRCUIT, Given, merge
from lastvolt_service.operations.sources.battery_answer import BatteryVoltage
from lastvolt_service.operations.sources.battery_heat import (
    NO_CHARGE_C,
    judge_battery_heat,
    judge_resistance,
)
from lastvolt_service.operations.sources.charge import (
    FROZEN,
    charge_check,
    charge_or_full,
    freezing_check,
    judge_sag,
    load_test_v,
)
from lastvolt_service.operations.wires.fields import NOMINALS
from lastvolt_service.physics import battery as physics
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, given, negate, pick, some
from lastvolt_service.tables import Unproven
from lastvolt_service.tables import battery as table
from lastvolt_service.units import high_end
from lastvolt_service.words.amounts import amount

CHARGE_BASIS = Unproven(
    "state of charge acts on the open-circuit voltage and on the most resistance that is reckoned "
    "with; the estimated resistance is that of a charged battery"
)
MEASURED_BASIS = Given("internal resistance given by the caller")
RATING_BASIS = Given("cold-cranking rating given by the caller")
ESTIMATED = Unproven(
    "The internal resistance is an estimate from the cold-cranking rating and the temperature: a "
    "discharged, sulphated or old battery has more. Measure it where it decides: the sag at a "
    "known current, over that current."
)
HALF = 0.5  # of the cold-cranking rating is drawn in a load test


class Battery(Fields):
    """A lead-acid starter battery by its ratings and state."""

    nominal_v: Numbers = count("nominal voltage: 6, 12 or 24", choices=NOMINALS)
    cold_cranking_a: Numbers = quantity(
        "cold-cranking rating: the current that it delivers for 30 s at -18 degC",
        minimum=1.0,
        maximum=5000.0,
    )
    state_of_charge_percent: Numbers = quantity(
        "state of charge; left out it is taken as full, and told as not judged", default=ABSENT
    )
    temperature_c: Numbers = quantity(
        "temperature of the electrolyte; by default the ambient of the case",
        maximum=100.0,
        default=ABSENT,
    )
    internal_resistance_ohm: Numbers = quantity(
        "measured at this temperature and state of charge, in place of the estimate",
        minimum=1e-5,
        maximum=10.0,
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """No charge is known to a part of a percent: a share of it is meant."""
        charge = self.state_of_charge_percent
        is_share = (high_end(charge) > 0.0) & (high_end(charge) < 1.0)
        yield is_share, ("state_of_charge_percent",), "This is in percent: write 80 for 80 %."
        yield from super().broken_rules()


class BatteryVoltageRequest(Battery):
    """A battery with a load on it."""

    temperature_c: Numbers = quantity("temperature of the electrolyte", maximum=100.0)
    current_a: Numbers = quantity("current that is drawn from it")
    ageing_factor: Numbers = quantity(
        "most that age may have multiplied its resistance by; 1 of a new battery",
        minimum=1.0,
        maximum=10.0,
        default=table.AGEING_FACTOR,
    )

    example: ClassVar = {
        "nominal_v": 12,
        "cold_cranking_a": 700,
        "state_of_charge_percent": 75,
        "temperature_c": -10,
        "current_a": 300,
    }


@dataclass(frozen=True, slots=True)
class BatterySource:
    """A battery as a circuit sees it.

    Attributes
    ----------
    emf_v : float or ndarray
        Open-circuit voltage. [V]
    internal_resistance_ohm, estimated_ohm : float or ndarray
        Behind it, and as its ratings tell that. [ohm]
    estimated : bool or ndarray of bool
        Whether the resistance is told from the ratings.
    basis : tuple of str
        What the values rest on.
    fault : Fault
        Where it is colder than the published cranking power and no resistance is given.
    """

    emf_v: Numbers
    internal_resistance_ohm: Numbers
    estimated_ohm: Numbers
    estimated: Flags
    basis: tuple[str, ...]
    fault: Fault


def battery_source(battery: Battery) -> BatterySource:
    """Tell what a battery, or each of many, is to a circuit: a voltage behind a resistance."""
    scale = battery.nominal_v / published(
        "table_nominal_v",
        table.TABLE_NOMINAL_V,
        "of the published battery",
        table.cold_cranking_citation(),
    )
    emf_v = named(
        "open_circuit_v",
        _table_v(charge_or_full(battery.state_of_charge_percent), battery.temperature_c, "")
        * scale,
        "at the posts without load, at its temperature",
    )
    own = given(battery.internal_resistance_ohm)
    estimate = _estimated_ohm(battery, scale)
    ohm = pick(own, battery.internal_resistance_ohm, estimate)
    basis = merge(
        (table.open_circuit().citation, table.temperature_citation()),
        (MEASURED_BASIS,) if some(own) else (),
        (table.cold_cranking_citation(), table.cranking_power().citation, CHARGE_BASIS)
        if some(negate(own))
        else (),
    )
    coldest_c = table.cranking_power().x[0]
    fault = Fault(
        (battery.temperature_c < coldest_c) & negate(own),
        NotCovered,
        ("temperature_c",),
        lambda: (
            f"No published cranking power reaches below {amount(coldest_c, 'degC')}, and none is "
            "extrapolated: give a measured internal_resistance_ohm."
        ),
    )
    return BatterySource(emf_v, ohm, estimate, negate(own), basis, fault)


def _table_v(charge_percent: Numbers, temperature_c: Numbers, prefix: str) -> Numbers:
    """Of the published battery without load."""
    curve = table.open_circuit()
    volts = physics.open_circuit_voltage(
        rested_v=read_off(
            curve,
            charge_percent,
            f"{prefix}rested_v",
            "voltage of the published battery at rest",
            along="state_of_charge_percent",
        ),
        temperature_c=temperature_c,
        rested_at_c=published(
            "rested_at_c",
            table.CHARGE_TEMPERATURE_C,
            "temperature of the published voltages",
            curve.citation,
        ),
        rise_v_per_k=published(
            "rise_v_per_k",
            table.TEMPERATURE_COEFFICIENT_V_PER_K,
            "of the published battery's voltage with temperature",
            table.temperature_citation(),
        ),
    )
    return named(f"{prefix}table_v", volts, "of the published battery without load")


def _estimated_ohm(battery: Battery, scale: Numbers) -> Numbers:
    """From the rating and the temperature; NaN where no cranking power is published."""
    cited = table.cold_cranking_citation()
    rating_c = published(
        "rating_c", table.COLD_CRANKING_TEMPERATURE_C, "temperature of the rating", cited
    )
    cranking_v = published("cranking_v", table.COLD_CRANKING_V, "that the rating promises", cited)
    rating_percent, percent = (
        read_off(
            table.cranking_power(),
            at,
            symbol,
            "cranking power, of that in the warm",
            along="temperature_c",
            below=NOT_GIVEN,
        )
        for at, symbol in (
            (rating_c, "rating_power_percent"),
            (battery.temperature_c, "power_percent"),
        )
    )
    rated_ohm = physics.cold_cranking_resistance(
        open_circuit_v=_table_v(100.0, rating_c, "full_") * scale,
        cold_cranking_v=cranking_v * scale,
        cold_cranking_a=battery.cold_cranking_a,
    )
    return named(
        "internal_resistance_ohm",
        physics.resistance_at_power(
            resistance_ohm=named(
                "rated_resistance_ohm",
                rated_ohm,
                "that the rating stands for, at its temperature",
            ),
            reference_percent=rating_percent,
            power_percent=percent,
        ),
        "of the battery at its temperature",
    )


def _resistance_bounds(
    asked: BatteryVoltageRequest, source: BatterySource
) -> tuple[Numbers, Numbers]:
    """Least and most internal resistance by charge and age; what is measured is both. [ohm]."""
    ohm = source.internal_resistance_ohm
    new_share = published(
        "new_share",
        table.NEW_SHARE,
        "of the resistance that the rating stands for, at the best",
        table.ageing_citation(),
    )
    factor = read_off(
        table.charge_resistance(),
        charge_or_full(asked.state_of_charge_percent),
        "charge_factor",
        "resistance by charge over that of a full battery",
        along="state_of_charge_percent",
    )
    most_ohm = physics.aged_resistance(
        resistance_ohm=ohm, charge_factor=factor, ageing_factor=asked.ageing_factor
    )
    least_ohm = by(OHM, new_share * ohm)
    return (
        named(
            "internal_resistance_low_ohm",
            pick(source.estimated, least_ohm, ohm),
            "least that it may have",
        ),
        named(
            "internal_resistance_high_ohm",
            pick(source.estimated, most_ohm, ohm),
            "most that it may have",
        ),
    )


def solve(asked: BatteryVoltageRequest) -> Outcome:
    """Work out one battery or many."""
    return _solve(asked, battery_source(asked))


def _solve(asked: BatteryVoltageRequest, source: BatterySource) -> Outcome:
    emf_v, ohm = source.emf_v, source.internal_resistance_ohm
    least_ohm, most_ohm = _resistance_bounds(asked, source)
    short_a = by(OHM, emf_v / ohm)
    terminal_v, low_v, high_v = (
        physics.terminal_voltage(
            open_circuit_v=emf_v, internal_resistance_ohm=inside_ohm, current_a=asked.current_a
        )
        for inside_ohm in (ohm, most_ohm, least_ohm)
    )
    test_a = HALF * asked.cold_cranking_a
    test_v = load_test_v(asked.nominal_v, asked.temperature_c)
    freezing = freezing_check(asked.state_of_charge_percent, asked.temperature_c)
    # Near its freezing point, too: neither temperature nor charge is known that well.
    verdict = freezing.judged.verdict
    may_be_frozen = (verdict == FAIL) | (verdict == MARGINAL)
    return Outcome(
        {
            "open_circuit_v": emf_v,
            "internal_resistance_ohm": ohm,
            "internal_resistance_low_ohm": least_ohm,
            "internal_resistance_high_ohm": most_ohm,
            "internal_resistance_estimated": source.estimated,
            "terminal_v": terminal_v,
            "terminal_low_v": low_v,
            "terminal_high_v": high_v,
            "flat": asked.state_of_charge_percent <= table.FLAT_PERCENT,
            "too_hot": asked.temperature_c > NO_CHARGE_C,
            "may_be_frozen": may_be_frozen,
            "short_circuit_a": short_a,
            "load_test_a": test_a,
            "load_test_v": test_v,
        },
        (
            charge_check(asked.state_of_charge_percent),
            Checked(
                "sag",
                judge_sag(
                    terminal_v,
                    low_v,
                    high_v,
                    pick(asked.current_a <= test_a, test_v, NOT_GIVEN),
                ),
                "V",
                table.load_test().citation,
            ),
            Checked(
                "cranking_rating",
                stays_within(asked.current_a, asked.cold_cranking_a),
                "A",
                RATING_BASIS,
            ),
            freezing,
        ),
        merge(
            source.basis,
            (table.ageing_citation(), table.charge_resistance().citation)
            if some(source.estimated)
            else (),
            (RATING_BASIS, table.charged_citation()),
        ),
        (
            SHORT_CIRCUIT,
            *((ESTIMATED,) if some(source.estimated) else ()),
            *((FROZEN,) if some(verdict != PASS) else ()),
            DEFERENCE,
        ),
        (
            Fault(
                asked.current_a > short_a,
                NoOperatingPoint,
                ("current_a",),
                lambda current, short: (
                    f"No operating point exists: {amount(current, 'A')} is asked for, and a dead "
                    f"short across the posts would draw {amount(short, 'A')}."
                ),
                (asked.current_a, short_a),
            ),
        ),
    )


def solve_alone(asked: BatteryVoltageRequest) -> Outcome:
    """Work out batteries with no circuit round them, and judge their own heat, too."""
    source = battery_source(asked)
    found = _solve(asked, source)
    own = (
        judge_battery_heat(asked.temperature_c),
        judge_resistance(asked.internal_resistance_ohm, source.estimated_ohm),
    )
    return replace(found, checks=(*found.checks, *own))


OPERATION = Operation(
    "battery-voltage", __doc__, BatteryVoltageRequest, BatteryVoltage, solve_alone
)
