"""A starter's solenoid by itself: whether it is one for its system, and its windings sound."""

from collections.abc import Iterator, Sequence

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.load_checks import solenoid_made_for
from lastvolt_service.operations.circuits.part_checks import Rested
from lastvolt_service.operations.judging import FAIL, reaches, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.solenoids.fault import OPEN_HOLD_IN_TIMES, OPEN_PULL_IN_TIMES
from lastvolt_service.operations.starting.stages import Stage
from lastvolt_service.operations.starting.starter import StartSequenceRequest
from lastvolt_service.operations.wires.conductors import copper_changes
from lastvolt_service.physics.solenoid import two_winding_pull_in
from lastvolt_service.tables import citation

WINDINGS = citation("solenoids", "two_windings")


def of_plunger(
    asked: StartSequenceRequest, case: Case, rested: Rested, found: Sequence[Stage]
) -> Iterator[Checked]:
    """Judge whether any wiring could move the plunger, and whether it is one for this voltage.

    Parameters
    ----------
    asked : StartSequenceRequest
        What was asked.
    case : Case
        Where.
    rested : Rested
        With the key on, as its parts are judged.
    found : sequence of Stage
        As far as it gets.
    """
    starter, drive_v = asked.starter, rested.state.model.drive_v
    warm = copper_changes(case.ambient_c_of(starter), starter.reference_temperature_c)
    cold, here = (
        float(
            two_winding_pull_in(
                ampere_turns=starter.ampere_turns,
                pull_in_turns=starter.pull_in_turns,
                pull_in_resistance_ohm=starter.pull_in_resistance_ohm * change,
                motor_resistance_ohm=motor_ohm,
                hold_in_turns=starter.hold_in_turns,
                hold_in_resistance_ohm=starter.hold_in_resistance_ohm * change,
            )
        )
        # What it is made for is told by its windings alone, whatever its brushes are.
        for change, motor_ohm in ((1.0, 0.0), (float(warm), starter.motor_resistance_ohm))
    )
    ohms = starter.pull_in_resistance_ohm, starter.hold_in_resistance_ohm
    made_for = solenoid_made_for(cold, rested.nominal, drive_v, starter.name, ohms)
    yield (made_for.judged.verdict != FAIL and _winding_out(found)) or made_for
    judged = reaches(drive_v, here, 0.0)
    yield Checked("full_voltage", judged, "V", WINDINGS, part=starter.name)


def _winding_out(found: Sequence[Stage]) -> Checked | None:
    """Say that one winding is open, or the other shorted, where the plunger does not stay home.

    A solenoid of one winding has no such measure of the other, and works.
    """
    if all(stage.pulls for stage in found if stage.name != "key_off"):
        return None
    starter = found[0].starter
    pull_in_ohm, hold_in_ohm = starter.pull_in_resistance_ohm, starter.hold_in_resistance_ohm
    for ohm, most_ohm, detail in (
        (hold_in_ohm, OPEN_HOLD_IN_TIMES * pull_in_ohm, "hold_in_apart"),
        (pull_in_ohm, OPEN_PULL_IN_TIMES * hold_in_ohm, "pull_in_apart"),
    ):
        judged = stays_within(ohm, most_ohm, 0.0)
        if judged.verdict == FAIL:
            name = starter.name
            return Checked("made_for", judged, "Ω", COMMON_PRACTICE, part=name, detail=detail)
    return None
