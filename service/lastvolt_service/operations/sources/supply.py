"""Whether a supply that is read or given can be that of its system at all."""

import numpy as np

from lastvolt_service.operations.common_fields import LEAST_OF_12_V, LEAST_OF_24_V
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    Judged,
    asked_if,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.rows import Flags, Numbers, negate, pick
from lastvolt_service.tables import Unproven
from lastvolt_service.tables import battery as table
from lastvolt_service.tables.limits import GASSES_SHARE, system_voltages

FLAT = Unproven("less than a flat battery of twice a sound one's resistance keeps at this current")


def judge_too_high(supply_v: Numbers, nominal_v: Numbers) -> Checked:
    """Judge whether a supply boils the battery; of a sound one nothing is said."""
    judged = stays_within(supply_v, _most_v(nominal_v), 0.0)
    gasses = (judged.verdict == PASS) & (supply_v > GASSES_SHARE * nominal_v)
    judged = judged._replace(verdict=pick(gasses, MARGINAL, judged.verdict))
    systems = system_voltages()  # columns carry no such texts: any of them
    cited = systems[12 if isinstance(nominal_v, np.ndarray) else int(nominal_v)].citation
    its = negate(is_of_larger_system(supply_v, nominal_v))
    return Checked("source_voltage", asked_if((judged.verdict != PASS) & its, judged), "V", cited)


def judge_system(supply_v: Numbers, nominal_v: Numbers) -> Checked:
    """Judge whether a supply can be of the system that is said; of one that can nothing is said."""
    lowest_v = table.COLD_CRANKING_V * nominal_v / table.TABLE_NOMINAL_V
    is_low, is_high = supply_v <= lowest_v, is_of_larger_system(supply_v, nominal_v)
    limit_v = pick(is_low, lowest_v, _most_v(nominal_v))
    margin_v = -abs(supply_v - limit_v)
    judged = Judged(supply_v, limit_v, margin_v, FAIL)
    cited = f"{table.cold_cranking_citation()}; {system_voltages()[12].citation}"
    return Checked("nominal_voltage", asked_if(is_low | is_high, judged), "V", cited)


def is_of_larger_system(supply_v: Numbers, nominal_v: Numbers) -> Flags:
    """Say where a supply is too high for its system, and one of the next."""
    next_v = pick(nominal_v == 6, LEAST_OF_12_V, pick(nominal_v == 12, LEAST_OF_24_V, np.inf))
    found: Flags = supply_v >= next_v
    return found


def _most_v(nominal_v: Numbers) -> Numbers:
    most_v: Numbers = 0.0
    for nominal, limit in system_voltages().items():
        most_v = pick(nominal_v == nominal, limit.limit_v, most_v)
    return most_v


def judge_too_low(
    supply_v: Numbers, nominal_v: Numbers, current_a: Numbers, *, starts: Flags
) -> Checked:
    """Judge whether a battery that delivers a current has failed; of a sound one nothing is said.

    While it may be cranking it fails below what a full one keeps at its cold rating, and is low
    below what a load test asks of a warm one.
    """
    scale = nominal_v / table.TABLE_NOMINAL_V
    flat_v = table.open_circuit().y[0] - current_a * table.AGEING_FACTOR * table.SOUND_OHM
    judged = reaches(supply_v, pick(starts, table.COLD_CRANKING_V, flat_v) * scale, 0.0)
    test = table.load_test()
    warm = reaches(supply_v, test.y[-1] * scale, 0.0)
    is_low = starts & (judged.verdict == PASS) & (warm.verdict == FAIL)
    judged = Judged(*map(pick, [is_low] * 4, warm._replace(verdict=MARGINAL), judged))
    cited: str = FLAT  # columns carry no such texts: any of them
    if starts is True:
        cited = test.citation if is_low is True else table.cold_cranking_citation()
    return Checked("supply", asked_if(judged.verdict != PASS, judged), "V", cited)
