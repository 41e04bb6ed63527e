"""What is said to one who knows little of the circuit."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS
from lastvolt_service.words.en.decision import RELAY_RETROFIT

_ARRIVES = (
    "By what is usual {load_voltage_v.low_v} to {load_voltage_v.high_v} reach {load} in "
    "{case}, and it works from {needed_v.high_v}."
)
_READ = (
    When("plan.0.code", "read_at_load", "Read the volts at {load} first, with it on."),
    When(
        "plan.0.code", "read_across", "Read the volts across {plan.0.part} first, with {load} on."
    ),
    When("plan.0.code", "read_battery", "Read the volts of the battery first, with {load} on."),
)
_LESS, _MORE = "If that is less: ", "If that is more: "
_MEND = "clean, tighten or replace {part}."
_RELAY = (
    "it a relay near the load, with its fuse at the battery or at the heavy cable; the old wire "
    "then feeds its coil only. It brings {brings_v}. The full request has wire, fuse and relay."
)
_OTHERS = (
    "read across each of {part} in the same way. Clean, tighten or replace what takes more than "
    "{limit_v}, a fuse {fuse_v}; if none does, the wire is too thin or too long."
)
_CHARGE = (
    "charge the battery and have it tested, before any wiring is blamed. Do not charge or "
    "jump-start one that may be frozen."
)

QUICK_ANSWER = OperationWords(
    verdict=RELAY_RETROFIT.verdict,
    headline=(
        When("advice", "mend", (_ARRIVES, "First: {plan.0.message}")),
        When("advice", "relay", (_ARRIVES, "{plan.0.message}")),
        When("advice", "mend_then_relay", (_ARRIVES, "First: {plan.0.message}")),
        When("advice", "insurance", (_ARRIVES, "A relay would spare the switch.")),
        When("advice", "not_the_wiring", (_ARRIVES, *_READ)),
        When("advice", "battery_first", (_ARRIVES, "First: {plan.0.message}")),
        When("advice", "nothing_needed", (_ARRIVES, "Leave it as it is.")),
        When("advice", "find_out_first", (_ARRIVES, *_READ)),
        When("advice", "unsafe", (_ARRIVES, *_READ)),
        When("advice", "none_suffices", (_ARRIVES, *_READ)),
        When("plan.-1.code", "leave_off", "{plan.-1.message}"),
    ),
    facts=(
        ("{plan.0.message}", "{plan.1.message}"),
        "{plan.2.message}",
        "{plan.3.message}",
    ),
    told=("load_voltage",),
    checks={
        **OF_CIRCUITS,
        "load_voltage": CheckWords(
            name="voltage at the load",
            passes="{part}: whatever is assumed, {value} arrive and {limit} are needed, {apart} "
            "to spare.",
            fails="{part}: whatever is assumed, only {value} arrive and {limit} are needed, "
            "{apart} short.",
            undecided="{part}: within what is assumed enough may arrive or not. At the worst "
            "{value} arrive and {limit} are needed, {apart} short.",
        ),
    },
    reasons={
        "leave_off": "Leave it off until then, or {part} may burn.",
        "at_two_terminals": "With the load on, put a meter on volts across the two terminals of "
        "{part}.",
        "at_one_terminal": "With the load on, put a meter on volts, from the terminal of {part} to "
        "its bare metal housing.",
        "at_terminal_50": "While the key is turned, put a meter on volts, from terminal 50 of "
        "{part}, the small one, to its bare metal housing; not between its heavy terminals.",
        "expect_need": "Expect {expected_low_v} to {expected_high_v}; it works from {limit_v}.",
        "expect_reserve": "Expect {expected_low_v} to {expected_high_v}; {limit_v} are what it "
        "needs with a tenth to spare.",
        "expect_usual": "Expect {expected_low_v} to {expected_high_v}: less than {limit_v} says "
        "that something on the way takes too much.",
        "read_across": "With the load on, put a meter on volts across {part}, from one of its "
        "terminals to the other. Expect {expected_low_v} to {expected_high_v}; a sound one takes "
        "{limit_v} at most.",
        "read_battery": "With the load on, put a meter on volts across the posts of the battery. "
        "Expect {expected_low_v} to {expected_high_v}; a charged and sound one keeps {limit_v}.",
        "read_others_if_less": _LESS + _OTHERS,
        "see_to_load_if_more": f"{_MORE}enough arrives. If it is weak all the same, see "
        "to {part} itself.",
        "charge_first": f"First, {_CHARGE}",
        "charge_if_less": _LESS + _CHARGE,
        "charge_if_more": "If it is full and the load is still weak, have the battery tested.",
        "ask_again_if_more": f"{_MORE}put what was read into the full request and ask again.",
        "mend_and_test": "Clean, tighten or replace {part}, then test the load again. It brings "
        "{brings_v}.",
        "rewire": "Take a thicker {part}. It brings {brings_v}.",
        "rewire_if_more": f"{_MORE}take a thicker {{part}}, and fuse it for its size.",
        "mend_if_more": f"{_MORE}{_MEND}",
        "fit_relay": f"F{_RELAY}",
        "relay_if_less": f"If none of these takes too much and the load is still weak: f{_RELAY}",
        "relay_if_more": f"{_MORE}f{_RELAY}",
        "why_charged": "The battery is taken as charged and sound, its generator not running.",
        "why_sound": "The battery is taken as sound.",
        "why_worn": "Nobody has measured {part}: this is what contacts of that age have.",
        "why_about": "The way is only about so long; the other wire is taken as half of it.",
        "why_usual_current": "Nobody has measured the current: it takes so much elsewhere.",
        "why_needed": "This is what {part} needs to work well.",
        "why_pull_in": "This is what pulls the plunger of {part} in, cold.",
        "why_cases": "It must work in these conditions.",
        "why_zone": "That is where {part} usually lies; the heat there decides.",
        "why_usual_size": "Nobody has read the size of the wire: these are usual for it.",
        "why_relay": "A relay of the trade stands for the one that you buy: see its maker's sheet.",
    },
)

WORDS = {"quick-answer": QUICK_ANSWER}
