"""What is said of which way to take."""

from lastvolt_service.words.catalogue import OperationWords, Weigh, When
from lastvolt_service.words.en.decision import CHECKS, RELAY_RETROFIT

REMEDY_CHOICE = OperationWords(
    verdict=RELAY_RETROFIT.verdict,
    headline=(
        *RELAY_RETROFIT.headline,
        When(
            "relay_to_be_weighed",
            True,
            "No relay is among the ways: give one to be weighed, too.",
        ),
    ),
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
        (
            "First: {plan.0.part} brings {plan.0.brings_v}.",
            "Then: {plan.1.part} brings {plan.1.brings_v}.",
            "Then: {plan.2.part} brings {plan.2.brings_v}.",
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
