"""What is said of what to do about a circuit."""

from lastvolt_service.words.catalogue import OperationWords, Unless, Weigh, When
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS
from lastvolt_service.words.en.circuits import REMEDIES
from lastvolt_service.words.en.proposals import OF_PROPOSALS

_ENOUGH, _SHORT = "{value} arrive, {apart} to spare.", "{value} arrive, {apart} short."

CHECKS = {**OF_CIRCUITS, **OF_PROPOSALS}

_FIRST = "{reasons.0.message}"
_BLOWN = When("reasons.0.code", "blown_fuse", _FIRST)
_LOW = (
    When(
        "battery_state",
        "frozen",
        "The battery is low, and so cold that it may be frozen: neither charge nor jump-start it, "
        "but warm it up first.",
    ),
    When(
        "battery_state",
        "frozen_or_dead",
        "The battery has less than any flat one, and may be frozen: neither charge nor jump-start "
        "it; warm it up first, then find out whether a cell is dead.",
    ),
    When("battery_state", "dead", "Find out whether a cell of the battery is dead."),
    When("battery_state", "low", "Where the battery is low, charge it before anything else."),
)

# A relay of which something is not known is no reason to leave what is poor.
_MEND_ANYWAY = (
    When(
        "taken.code",
        "mend_then_relay",
        "mend {taken.parts} in any case; of the relay this is open.",
    ),
)

_AS_IS = (
    Weigh(
        "poorest.as_is.load_voltage_v",
        "poorest.as_is.needed_v",
        enough="as it is {value} arrive, {apart} to spare, which is little.",
        short="as it is {value} arrive, {apart} short.",
    ),
)

# What burns already, and not only in a fault.
_UNTIL = "Leave it off until then, or {burns_as_it_is.part} may burn."
_LEAVE_OFF = tuple(
    When("burns_as_it_is.code", code, _UNTIL)
    for code in ("conductor_temperature", "wires_heat", "contact_heat", "short")
)


def without_short(*said: str | When | Weigh) -> tuple[When, ...]:
    """What is said only where no short stays: with one no volts tell what is right."""
    return When("burns.code", None, said), Unless("burns.code", "short", said)


SHORT_FIRST = When(
    "burns.code", "short", "in {burns.case}, {burns.message} Then ask again without it."
)
OF_FIRE = (
    *without_short("Whatever else is done: in {burns.case}, {burns.message}"),
    When("burns.code", None, _LEAVE_OFF),
)
# Of answers that weigh no start.
START_NOT_JUDGED = When(
    "leaves_start_open",
    True,
    "Whether {load} stays in while the motor draws is not judged.",
)
# What is said of a poor battery, before all else.
POOR_BATTERY = (
    When(
        "battery_state",
        "frozen",
        "it is low, and so cold that it may be frozen. Neither charge it nor jump-start it: warm "
        "it up, then charge it, before any wiring is blamed.",
    ),
    When(
        "battery_state",
        "frozen_or_dead",
        "it has less than any flat one, and is so cold that it may be frozen: a cell may be dead, "
        "or it is another system's. Neither charge it nor jump-start it: warm it up, then find "
        "out, before any wiring is blamed.",
    ),
    When(
        "battery_state",
        "dead",
        "it has less than any flat one: a cell may be dead, or it is another "
        "system's. Find out before it is charged, and before any wiring is blamed.",
    ),
    When(
        "battery_state",
        "low",
        "charge or replace the battery before any wiring is blamed.",
    ),
    When(
        "battery_state",
        "weak",
        "test it, and replace it if it fails, before any wiring is blamed.",
    ),
)
# What is done, one after the other: each is said where it is.
_DONE = ("with {taken.parts} clean, tight or new,", "with new {taken.new},")
_ALL = "{taken.load_voltage_v} reach {load} in its poorest case, {taken.margin_v} more than needed"
# What comes nearest, where nothing that was weighed suffices.
_NEAREST = (
    When("nearest.code", "battery", "even with a full and sound battery"),
    When("nearest.code", "battery_and_mend", "even with a full and sound battery,"),
    When("nearest.code", "relay", "even with the relay"),
    When("nearest.code", "mend_then_relay", "even with the relay,"),
    When("nearest.code", "all_of_these", "even with a full and sound battery, the relay,"),
    When("nearest.code", "mend", "even"),
    "with {nearest.parts} clean, tight or new,",
    "with new {nearest.new},",
    Weigh(
        "nearest.load_voltage_v",
        "nearest.needed_v",
        enough="enough reaches {load} in its poorest case, {apart} to spare, but: "
        "{barred_by.message}",
        short="{value} reach {load} in its poorest case, {apart} short.",
    ),
    When(
        "barred_by.code",
        "load_voltage",
        "Most is lost in {barred_by.detail}: measure the ohms of {load} first, for one that is "
        "shorted inside draws too much over it; then find out whether that is there by design, "
        "and as it should be.",
    ),
    When("nearest.code", None, "there is no other way that was weighed."),
    When("barred_by.detail", "ground", "Give {load} a ground of its own."),
)

# Of a plan: more than any has.
MOST_STEPS = 10
OF_ADVICE = (
    When("advice", "mend", "Mend it"),
    When("advice", "relay", "Fit the relay"),
    When("advice", "mend_then_relay", "Mend, then fit the relay"),
    When("advice", "insurance", "Insurance"),
    When("advice", "not_the_wiring", "Before any wiring"),
    When("advice", "battery_first", "Battery first"),
    When("advice", "nothing_needed", "No relay needed"),
    When("advice", "find_out_first", "Find out first"),
    When("advice", "unsafe", "Do not build it so"),
    When("advice", "none_suffices", "Nothing here suffices"),
)
RELAY_RETROFIT = OperationWords(
    verdict=(When("burns.code", "short", "First"), *without_short(*OF_ADVICE)),
    headline=(
        SHORT_FIRST,
        When(
            "advice",
            "mend",
            (
                *_DONE,
                f"{_ALL}, and no relay is added.",
                _BLOWN,
                *_LOW,
            ),
        ),
        When(
            "advice",
            "relay",
            (
                *without_short(
                    When("reasons.0.code", "arrives_as_is", _AS_IS),
                    When("reasons.0.code", "battery_low", _AS_IS),
                    When("reasons.0.code", "battery_frozen", _AS_IS),
                    When("reasons.0.code", "battery_weak", _AS_IS),
                    When("reasons.0.code", "failed_check", _FIRST),
                    "With the relay {taken.load_voltage_v} reach {load} in its poorest case, "
                    "{taken.margin_v} more than needed.",
                ),
                *_LOW,
            ),
        ),
        When(
            "advice",
            "mend_then_relay",
            (
                "{taken.parts} first, whatever else is done;",
                *_DONE,
                f"and with the relay {_ALL}.",
                _BLOWN,
                *_LOW,
            ),
        ),
        When(
            "advice",
            "insurance",
            (
                *without_short(
                    "nothing is short as it is; the relay spares {switch}, or brings much."
                ),
                *_LOW,
            ),
        ),
        When(
            "advice",
            "battery_first",
            (
                *POOR_BATTERY,
                When(
                    "taken.code",
                    "battery",
                    "With a full and sound one {taken.load_voltage_v} reach {load} in its poorest "
                    "case, {taken.margin_v} more than needed.",
                ),
                When(
                    "taken.code",
                    "battery_and_mend",
                    ("Then,", *_DONE, f"{_ALL}."),
                ),
                When("taken.code", None, ("It alone is not enough:", *_NEAREST)),
                When(
                    "taken.code",
                    "all_of_these",
                    ("It alone is not enough:", *_DONE, f"with the relay {_ALL}."),
                ),
            ),
        ),
        When(
            "advice",
            "nothing_needed",
            (
                *without_short(
                    When("taken.works", True, "enough reaches {load} as it is in every case."),
                    When(
                        "taken.works",
                        False,
                        "enough reaches {load} as it is in every case, {taken.margin_v} more than "
                        "needed, which is little; nothing that was weighed gives it enough more.",
                    ),
                ),
                *_LOW,
            ),
        ),
        When(
            "advice",
            "find_out_first",
            (
                *(
                    When("reasons.0.code", code, _MEND_ANYWAY)
                    for code in ("screened", "failed_check")
                ),
                _FIRST,
                *_LOW,
            ),
        ),
        When("advice", "not_the_wiring", _FIRST),
        When(
            "advice",
            "unsafe",
            (
                _FIRST,
                When(
                    "taken.code",
                    "as_is",
                    "Nor is a relay needed: as it is {taken.load_voltage_v} reach {load} in its "
                    "poorest case, {taken.margin_v} more than needed.",
                ),
                When(
                    "taken.code",
                    "mend",
                    ("Without a relay,", *_DONE, f"{_ALL}."),
                ),
                *_LOW,
            ),
        ),
        When(
            "advice",
            "none_suffices",
            (*without_short(*_NEAREST), *_LOW),
        ),
        *OF_FIRE,
    ),
    facts=(
        (
            "In {poorest_case}, {poorest.as_is.needed_v} are needed at {load}.",
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
        "With the relay {switch} carries {poorest.proposed.switch_current_a:size} in place of "
        "{poorest.as_is.switch_current_a:size} and makes {poorest.proposed.switch_power_w} in "
        "place of {poorest.as_is.switch_power_w}.",
        (
            When("advice", "relay", "{new_risks.-1.message}"),
            When("advice", "mend_then_relay", "{new_risks.-1.message}"),
            When("advice", "mend", _FIRST),
            When("advice", "insurance", _FIRST),
            When("advice", "battery_first", _FIRST),
            When("advice", "nothing_needed", _FIRST),
            When("advice", "none_suffices", _FIRST),
        ),
    ),
    told=tuple(CHECKS),
    checks=CHECKS,
    remedies=REMEDIES,
    reasons={
        "screened": "{check}",
        "measure": "{check}",
        "failed_check": "In {case}, {check}",
        "with_the_relay": "With the relay, in {case}, {check}",
        "battery_frozen": "In {case} the battery is charged to {state_of_charge_percent} only, and "
        "has {temperature_c}: it may be frozen. Neither charge nor jump-start it; warm it up "
        "first.",
        "battery_low": "In {case} the battery is low: it has {open_circuit_v} without load, and "
        "{charged_v} when it is full. Charge it, then look again.",
        "battery_weak": "In {case} the battery itself has {internal_resistance_ohm}, and a sound "
        "one about {sound_ohm}: test it, and replace it if it fails.",
        "mend_brings": "{part}, clean, tight or new, brings the load {regained_v} by itself.",
        "mend_falls_short": "Mending {part} brings {gain_v}, and in {case} {short_v} are still "
        "wanting.",
        "mend_leaves_little": "Mending {part} brings {gain_v}, and in {case} leaves {margin_v} to "
        "spare.",
        "battery_falls_short": "A full and sound battery brings {gain_v}, and in {case} {short_v} "
        "are still wanting.",
        "battery_leaves_little": "A full and sound battery brings {gain_v}, and in {case} leaves "
        "{margin_v} to spare.",
        "enough_as_is": "Even in {case} the load has {margin_v} to spare as it is.",
        "switch_carries": "In {case}, {part} carries {current_a} of its {rating_a}, "
        "{share_percent}.",
        "blown_fuse": "Find out why {part} blew before a new one is fitted: what it feeds may be "
        "shorted.",
        "drop_that_stays": "{part}: it alone drops {value}, a sound {detail} at most {limit}, and "
        "it can be neither mended nor bought: let it carry no more than a relay's coil, and never "
        "bridge a switch.",
        "heat_that_stays": "{part}: it makes {value} of heat, and {limit} burn what holds it: "
        "leave it off until it carries no more than a relay's coil, and never bridge a switch.",
        "needs_studs": "{part} must have studs: no receptacle for the blades that are usual for "
        "its rating is crimped to so thick a wire. If it has blades, take thinner wire where that "
        "leaves the load enough and bears its fuse, else a larger relay.",
        "own_contact": "The load has enough all the same, but take a better contact: in {case}, "
        "{check}",
        "path_drops": "By practice that is too much, but the load has what it needs: in {case}, "
        "{check}",
        "resistance_costs": "In {case}, {part} drops {drop_v}: if it is not there by design, mend "
        "it.",
        "wire_takes": "In {case}, {part} alone takes {drop_v}.",
        "as_good": "{part} leaves {other_v}, this {load_voltage_v}, which nobody can tell apart: "
        "the plainer is taken.",
        "may_let_go": "If {supply_v} are left while the starter cranks, {part} gets "
        "{load_voltage_v} and lets go below {needed_v}: it may buzz, whatever is done to wires.",
        "start_not_judged": "The start itself was not judged: whether {part} and a relay stay "
        "while the motor draws. Give the starter's motor to have it judged.",
        "lost_as_it_cranks": "While the starter cranks, in {case}, {part} alone takes {value_v}, "
        "and a sound one at most {limit_v}: the motor lacks that, and so does what hangs on the "
        "same joint. Mend it first, whatever else is done.",
        "start_goes_through": "With what is advised a whole start goes through in every case: "
        "{part} stays home, and no relay lets go while the motor draws.",
        "worn_contact": "Mend it all the same: in {case}, {check}",
        "arrives_as_is": "In {case}, {load_voltage_v} arrive as it is and {needed_v} are needed.",
        "relay_brings": "In {case}, the relay brings {gain_v} more to the load, which then has "
        "{margin_v} above what it needs, and the switch carries {proposed_current_a} in place of "
        "{as_is_current_a}.",
        "relay_takes": "In {case}, the relay takes {loss_v} from the load, which then has "
        "{margin_v} above what it needs, and the switch carries {proposed_current_a} in place of "
        "{as_is_current_a}.",
        "one_more_part": "One more part can fail: its coil, its contact and their joints stand in "
        "the way of the load.",
        "rough_place": "Where it is mounted it must stand the heat, shaking and splashing; a "
        "welded contact keeps the load on with the switch off.",
        "live_feed": "Its feed is live at all times from the heavy cable: without its own fuse "
        "close to the tap, chafed insulation there ends in a fire.",
    },
    short_names={"poorest": "cases.[poorest_case]", "taken": "plan"},
)

WORDS = {"relay-retrofit": RELAY_RETROFIT}
