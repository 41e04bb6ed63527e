"""What is said of which way to take."""

from lastvolt_service.words.catalogue import OperationWords, Text, Unless, Weigh, When
from lastvolt_service.words.en.decision import CHECKS, MOST_STEPS, RELAY_RETROFIT

_DOES = {
    "battery": "Charge the battery, or replace it.",
    "mend": "Clean, tighten or replace {part}.",
    "own_ground": "Lay {part}, {size}.",
    "new_wire": "Lay a new {part}, {size}.",
    "new_switch": "Fit a new {part}.",
    "relay": "Fit {part}.",
}


def _step(place: str) -> Text:
    def of(said: str) -> str:
        return said.replace("{", f"{{{place}.")

    return (
        *(When(f"{place}.code", code, of(said)) for code, said in _DOES.items()),
        of("It brings {brings_v}: {load_voltage_v} arrive then."),
    )


REMEDY_CHOICE = OperationWords(
    verdict=RELAY_RETROFIT.verdict,
    headline=(
        Unless(
            "cranking_loss.part",
            "",
            "first mend {cranking_loss.part}, which takes too much while the starter cranks;",
        ),
        *RELAY_RETROFIT.headline,
        When(
            "relay_to_be_weighed",
            True,
            "No relay is among the ways: give one to be weighed, too.",
        ),
    ),
    steps=tuple(_step(f"plan.{place}") for place in range(MOST_STEPS)),
    facts=(
        (
            "In {options.0.case}, {load} needs {options.0.needed_v}.",
            Weigh(
                "options.0.load_voltage_v",
                "options.0.needed_v",
                enough="As it is, {value} arrive, {apart} to spare.",
                short="As it is, {value} arrive, {apart} short.",
            ),
        ),
        "With the relay {switch} carries {spared.with_relay.switch_current_a:size} in place of "
        "{spared.as_is.switch_current_a:size}, and may have "
        "{spared.with_relay.tolerated_contact_ohm} more until {load} fails.",
        "{new_risks.-1.message}",
    ),
    told=tuple(CHECKS),
    checks=CHECKS,
    reasons=RELAY_RETROFIT.reasons,
    short_names={"taken": "chosen", "poorest": "spared"},
)

WORDS = {"remedy-choice": REMEDY_CHOICE}
