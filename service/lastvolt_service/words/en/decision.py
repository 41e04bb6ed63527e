"""What is said of what to do about a circuit."""

from lastvolt_service.words.catalogue import OperationWords, Weigh, When
from lastvolt_service.words.en.circuits import CHECKS, REMEDIES

_ENOUGH, _SHORT = "{value} arrive, {apart} to spare.", "{value} arrive, {apart} short."

RELAY_RETROFIT = OperationWords(
    verdict=(
        When("advice", "worth_it", "Worth it"),
        When("advice", "insurance_only", "Insurance only"),
        When("advice", "not_the_remedy", "Not the remedy"),
        When("advice", "change_the_proposal", "Change the proposal"),
    ),
    headline=(
        When(
            "advice",
            "worth_it",
            "the circuit as it is fails or has little to spare; with the relay the load gets what "
            "it needs.",
        ),
        When("advice", "insurance_only", "in every case the load has enough to spare as it is."),
        When("advice", "not_the_remedy", "mend the wiring or the ground first."),
        When(
            "advice",
            "change_the_proposal",
            "the relay would help, but a proposed part does not suit: change it.",
        ),
    ),
    facts=(
        (
            "In {poorest_case}, {load} needs {poorest.as_is.needed_v}.",
            Weigh(
                "poorest.as_is.load_voltage_v",
                "poorest.as_is.needed_v",
                enough=f"As it is, {_ENOUGH}",
                short=f"As it is, {_SHORT}",
            ),
            Weigh(
                "poorest.proposed.load_voltage_v",
                "poorest.proposed.needed_v",
                enough=f"With the relay, {_ENOUGH}",
                short=f"With the relay, {_SHORT}",
            ),
        ),
        "{switch} carries {poorest.proposed.switch_current_a:size} in place of "
        "{poorest.as_is.switch_current_a:size} and makes {poorest.proposed.switch_power_w} in "
        "place of {poorest.as_is.switch_power_w}.",
        (
            When("advice", "worth_it", "{new_risks.-1.message}"),
            When("advice", "insurance_only", "{reasons.0.message}"),
            When("advice", "not_the_remedy", "{reasons.0.message}"),
            When("advice", "change_the_proposal", "{reasons.0.message}"),
        ),
    ),
    told=tuple(CHECKS),
    checks=CHECKS,
    remedies=REMEDIES,
    reasons={
        "enough_as_is": "Even in {case} the load has {margin_v} to spare as it is.",
        "worn_contact": "Mend it all the same: in {case}, {check}",
        "arrives_as_is": "In {case}, {load_voltage_v} arrive as it is and {needed_v} are needed.",
        "failed_check": "In {case}, {check}",
        "relay_brings": "In {case}, the relay brings {gain_v} more to the load, which then has "
        "{margin_v} above what it needs, and the switch carries {proposed_current_a} in place of "
        "{as_is_current_a}.",
        "relay_takes": "In {case}, the relay takes {loss_v} from the load, which then has "
        "{margin_v} above what it needs, and the switch carries {proposed_current_a} in place of "
        "{as_is_current_a}.",
        "costs_load": "{part} costs the load {regained_v} with the relay too: mend it first.",
        "costs_coil": "{part} costs the relay's coil {regained_v} with the relay too: mend it "
        "first.",
        "cured_by_mending": "{part} costs the load {regained_v}, and the relay does not bypass it: "
        "mended, the circuit has enough without a relay.",
        "one_more_part": "One more part can fail: its coil, its contact and their joints stand in "
        "the way of the load.",
        "rough_place": "Where it is mounted it must stand the heat, shaking and splashing; a "
        "welded contact keeps the load on with the switch off.",
        "live_feed": "Its feed is live at all times from the heavy cable: without its own fuse "
        "close to the tap, chafed insulation there ends in a fire.",
    },
    short_names={"poorest": "cases.[poorest_case]"},
)

WORDS = {"relay-retrofit": RELAY_RETROFIT}
