"""Whether a battery is too hot to be charged or loaded, or worn out inside."""

from lastvolt_service.operations.judging import FAIL, MARGINAL, NOT_ASKED, asked_if, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.rows import Numbers, pick
from lastvolt_service.tables import Unproven
from lastvolt_service.tables import battery as table

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


def judge_resistance(measured_ohm: Numbers, estimated_ohm: Numbers) -> Checked:
    """Judge whether a battery has more inside than its rating lets it have, flat and aged."""
    most_ohm = estimated_ohm * table.AGEING_FACTOR * max(table.charge_resistance().y)
    judged = stays_within(measured_ohm, most_ohm, 0.0)
    cited = f"{table.ageing_citation()}; {table.charge_resistance().citation}"
    worn = asked_if(judged.verdict == FAIL, judged)
    return Checked("battery_resistance", worn, "ohm", Unproven(cited))
