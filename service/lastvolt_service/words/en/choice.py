"""What is said of a choice among relays."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Unless, When
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS
from lastvolt_service.words.en.decision import (
    OF_FIRE,
    POOR_BATTERY,
    RELAY_RETROFIT,
    SHORT_FIRST,
    START_NOT_JUDGED,
    without_short,
)
from lastvolt_service.words.en.proposals import OF_PROPOSALS

_BEST = (
    "Its place: {best.place}. Through a fuse of {best.fuse_rating_a} and {best.size} "
    "{best.load_voltage_v} reach {load} in its poorest case, {best.margin_v} more than needed."
)
# Advice that stands before the relay.
_OTHERS = (
    "mend",
    "mend_then_relay",
    "insurance",
    "nothing_needed",
    "not_the_wiring",
    "find_out_first",
    "none_suffices",
)

# With a poor battery no relay can be told from another, nor whether one is wanted.
_BATTERY = (*POOR_BATTERY, "Then ask again: how it is then shows whether a relay is wanted.")

# Advice beside which no relay is wanted.
_NO_RELAY = frozenset({"mend", "nothing_needed"})


def _take(advice: str) -> str:
    if advice in _NO_RELAY:
        return "Should one be wanted all the same, take {best.candidate}."
    return "Of these relays take {best.candidate}."


CHECKS = {
    **OF_CIRCUITS,
    **OF_PROPOSALS,
    "suitable_relay": CheckWords(
        name="relay that suits",
        passes="",
        fails="None of these relays may be mounted in any of these places: up to "
        "{limit} flow there.",
        unknown="Of none of these relays is it known whether it may be mounted in any of these "
        "places: up to {limit} flow there. Find out first what the answer says of the "
        "nearest.",
    ),
}

# What is told where none suits, before what the lengths cost.
_FIRST = (
    "find_out", "mend_instead", "mend_then_ask", "mend_before_any", "battery_before",
    "battery_frozen_before", "no_place_helps", "would_do",
)  # fmt: skip

RELAY_CHOICE = OperationWords(
    verdict=(
        *RELAY_RETROFIT.verdict,
        When(
            "advice",
            None,
            (
                When("reasons.0.code", "none_known", "Find out first"),
                When("reasons.0.code", "none_suits", "None of these"),
            ),
        ),
    ),
    headline=(
        SHORT_FIRST,
        When("advice", "mend", "it is enough to mend {mend}, without a relay."),
        When("advice", "mend_then_relay", "{mend} first, whatever else is done."),
        When("advice", "insurance", without_short("nothing is short without the relay.")),
        When("advice", "nothing_needed", without_short("enough reaches {load} as it is.")),
        When("advice", "battery_first", _BATTERY),
        When("advice", "not_the_wiring", "{first.message}"),
        When("advice", "find_out_first", ("{first.message}", "Mend {mend}, whatever comes of it.")),
        When("advice", "none_suffices", without_short("what is burnt must be mended first.")),
        When("advice", "relay", "of these relays take {best.candidate}."),
        *(When("advice", each, _take(each)) for each in _OTHERS),
        When("suits", True, (Unless("advice", "battery_first", _BEST),)),
        When(
            "advice",
            None,
            (
                "{reasons.0.message}",
                *(When("reasons.1.code", each, "{reasons.1.message}") for each in _FIRST),
                "{nearest.message}",
                When("reasons.2.code", "would_do", "{reasons.2.message}"),
            ),
        ),
        *OF_FIRE,
        START_NOT_JUDGED,
    ),
    facts=((When("suits", True, ("{reasons.0.message}", "{reasons.1.message}")),),),
    told=tuple(CHECKS),
    checks=CHECKS,
    reasons={
        "none_suits": "None of these relays suits any of these places.",
        "none_known": "None of these relays is known to suit, and one may: find out what keeps it "
        "out.",
        "find_out": "{check}",
        "mend_instead": "Clean, tighten or replace {part}: {load_voltage_v} reach the load then in "
        "its poorest case, {margin_v} more than it needs, without a relay.",
        "mend_then_ask": "Clean, tighten or replace {part}: {load_voltage_v} reach the load then "
        "in its poorest case, {margin_v} more than it needs, which is little. Then ask again.",
        "mend_before_any": "Clean, tighten or replace {part} first, then ask again.",
        "battery_before": "The battery is poor: see to it first.",
        "battery_frozen_before": "The battery is low, and so cold that it may be frozen: neither "
        "charge nor jump-start it, but warm it up first.",
        "no_place_helps": "No relay would help there: see why each place is left out.",
        "would_do": "What would do ({part}): a relay for {nominal_v} whose contact may carry "
        "{current_a:up} at {ambient_c}, and whose coil closes, warm there, on less than "
        "{coil_v:down}.",
        "needs_studs": "{part} must have studs: no receptacle for the blades that are usual for "
        "its rating is crimped to so thick a wire, and a thinner one leaves the load too little, "
        "or does not bear its fuse. If it has blades, take a larger relay.",
        "place_dry": "{part}: it is dry, and has {ambient_c} at most.",
        "place_splash": "{part}: it gets splashes, and has {ambient_c} at most: mount "
        "the relay with its terminals down, and let the wires hang in a loop that drips below it.",
        "place_drips": "{part}: water drips on it, and it has {ambient_c} at most: "
        "its relay must be sealed; cover it, mount it with its terminals down, and let the wires "
        "hang in a loop that drips below it.",
        "place_stones": "{part}: stones hit it, and it has {ambient_c} at most: its "
        "relay must be sealed; put a guard before it and its wires.",
        "place_on_the_hot_part": "{part}: it is on the hot part. In the 15 to 30 minutes after a "
        "stop it soaks through and is hotter than on the road. The {ambient_c} of the cases must "
        "be those; by practice mount it elsewhere.",
        "not_on_the_hot_part": "Not {part}: what is mounted on the hot part soaks through in "
        "the 15 to 30 minutes after a stop, to {ambient_c} by these cases.",
        "lengths_cost": "{part}: {length_m} of new wire take {drop_v} at most.",
        "lengths_would_cost": "{part}: {length_m} would take {drop_v} at most.",
        "not_looked_at": "{pairs} more that pass alone were not put into the circuit: kinder "
        "places and cheaper relays were.",
        "ambient": "{part}: it has {ambient_c}, which is as hot as {detail} may become: no size "
        "helps. Take a cooler place, or an insulation for more heat.",
        "low_supply": "{part}: what feeds the load there, or takes its current back, leaves it "
        "less than it needs before any new wire: no size helps.",
        "fixed_drop": "{part}: contacts and body alone lose what the path may: no size helps.",
        "no_size": "{part}: no size of {detail} does for {length_m}.",
        "no_fuse": "{part}: no standard fuse carries the load and protects the wire.",
        "no_current": "{part}: in some case the load takes nothing there.",
        "no_answer": "{check}",
        "mend_before": "Those that seemed best are not safe once what is poor here is mended: "
        "mend it, then ask again.",
    },
)

WORDS = {"relay-choice": RELAY_CHOICE}
