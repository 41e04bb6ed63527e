"""Whether a battery is too hot to be charged or loaded."""

from lastvolt_service.operations.judging import FAIL, MARGINAL, NOT_ASKED, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.rows import Numbers, pick
from lastvolt_service.tables import Unproven

# Above the first, makers commonly forbid charging; from the second on it gasses and runs away.
NO_CHARGE_C, TOO_HOT_C = 50.0, 60.0
PRACTICE = Unproven("a battery above 50 degC is not charged, at 60 degC left alone, no source")


def judge_battery_heat(temperature_c: Numbers) -> Checked:
    """Judge how hot a battery is; of one that is not, nothing is said."""
    judged = stays_within(temperature_c, TOO_HOT_C)
    verdict = pick(
        temperature_c >= TOO_HOT_C, FAIL, pick(temperature_c > NO_CHARGE_C, MARGINAL, NOT_ASKED)
    )
    return Checked("battery_heat", judged._replace(verdict=verdict), "degC", PRACTICE)
