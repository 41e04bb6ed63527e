"""What is said to one who knows little of the circuit."""

from dataclasses import replace

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Unless, When
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS
from lastvolt_service.words.en.decision import MOST_STEPS, OF_ADVICE, START_NOT_JUDGED
from lastvolt_service.words.en.quick_complaints import COMPLAINTS

_ARRIVES = (
    "By what is usual {load_voltage_v.low_v} to {load_voltage_v.high_v} reach {load} "
    "({case}), and {needed_v.high_v} are needed."
)
# What a sound contact takes at most while a key is held is more than a joint may that carries all
# of a starter's current, too.
_OTHERS = {"": "a fuse", "_held": "a clamp or a joint to ground"}
_MORE_IS_LOST = "It works, but more than the usual may be lost on the way:"
_LOST = f"{_MORE_IS_LOST} read it when there is time, with {{load}} on."
_READ = (
    When("plan.0.code", "look_first", "{plan.0.message}"),
    When("plan.0.code", "read_size", "Read the size of the wire first."),
    When(
        "plan.0.code",
        "read_battery",
        (
            "Read the volts of the battery first, with {load} on.",
            When(
                "plan.2.code",
                "relay",
                "If it keeps enough, fit a relay: through that wire too little may arrive, however "
                "sound its contacts are.",
            ),
        ),
    ),
    When(
        "plan.0.code",
        "leave_off",
        (
            When(
                "plan.1.code",
                "read_battery",
                "{plan.0.message} Read the volts of the battery, with {load} on.",
            ),
        ),
    ),
)
# What is left off but for moments stands before the work.
_FIRST = ("First: {plan.0.message}", When("plan.0.code", "leave_off", "{plan.1.message}"))
# What is enough by these numbers and may yet lose too much is read: perhaps a relay follows.
_VERDICT = (
    *(each for each in OF_ADVICE if each.value != "nothing_needed"),
    When(
        "advice",
        "nothing_needed",
        (
            When("plan.0.code", "read_battery", "Nothing is short"),
            When("plan.0.code", "look", "Nothing to mend"),
            When("plan.0.code", "look_for_loss", "Nothing is short"),
            When("plan.0.code", None, "No relay needed"),
        ),
    ),
)
_LESS, _MORE = "If that is less: ", "If that is more: "
_MEND = "with the battery's ground cable off, clean, tighten or replace {part}."
# What it costs to lose more than is usual, by load.
_COSTS = {
    "costs_reserve_of_start": "nothing is left for heat, a stiff plunger and a tired battery.",
    "costs_light": "a tenth less voltage costs lamps a third of their light.",
    "costs_sound": "it sounds weak.",
    "costs_speed": "it turns slower, and starts hard when it is hot or worn.",
    "costs_heat": "a tenth less voltage costs a fifth of the heat.",
    "costs_reserve": "nothing is left for heat, cold and age.",
}
# Of every step that works on wires which no fuse protects.
_OFF = " The battery's ground cable comes off before that, and on last."
_RELAY = (
    "it a relay for {nominal_v} and {rating_a} near the load, with a fuse of {fuse_a} at the "
    "battery or at the heavy cable, and {size} wire; the old wire then feeds its coil only. It "
    f"brings {{brings_v}}.{_OFF}"
)
_WIRE = (
    "raw new wire of {size} all the way, by way of the switch, with a fuse of {fuse_a} at its "
    "start: {at_most_v:up} are lost on it at the most, contacts and all."
)
_PAST = (
    "raw new wire of {size} from the battery straight to the load, with a fuse of {fuse_a} at its "
    "start, switched near the load by a contactor, or a relay with studs, that bears {most_a:up} "
    "for as long as it is on, its coil fed by the old wire: no usual switch, nor the blades of a "
    "usual relay, take so thick a wire or so much."
)
_NONE = "none of these takes too much and the load is still weak: "
_ANOTHER = "another in its place must bear {most_a}, and so must a relay that spares it."
_CHARGE = (
    "charge the battery and have it tested, before any wiring is blamed. Do not charge or "
    "jump-start one that may be frozen."
)
_HELD = (
    "key held to start, while the starter does not pull in (if it does and turns slowly, these "
    "volts do not hold: ask again and say so):"
)


def _may_burn(code: str) -> CheckWords:
    """What is said of a wire at the most that is assumed."""
    return replace(
        OF_CIRCUITS[code],
        undecided="{part}: The wire may carry {limit} and, at the most that is assumed, is "
        "asked for {value}: read the current with a DC clamp meter.",
    )


QUICK_ANSWER = OperationWords(
    verdict=_VERDICT,
    headline=(
        When("advice", "mend", (_ARRIVES, *_FIRST)),
        When("advice", "relay", (_ARRIVES, "{plan.0.message}", *_FIRST[1:])),
        When("advice", "mend_then_relay", (_ARRIVES, *_FIRST)),
        When(
            "advice",
            "insurance",
            (
                _ARRIVES,
                When("plan.0.code", "read_battery", _LOST),
                "A relay would spare the switch: {plan.-1.message}",
            ),
        ),
        When("advice", "not_the_wiring", (_ARRIVES, *_READ)),
        When("advice", "battery_first", (_ARRIVES, *_FIRST)),
        When(
            "advice",
            "nothing_needed",
            (
                _ARRIVES,
                When("plan.0.code", "read_battery", _LOST),
                When("plan.0.code", "look", "It never fails: leave it as it is."),
                When(
                    "plan.0.code",
                    "look_for_loss",
                    f"{_MORE_IS_LOST} look for it when there is time.",
                ),
                When(
                    "plan.0.code",
                    None,
                    (
                        When("fails", "never", "It never fails: leave it as it is."),
                        When("fails", None, "Leave it as it is."),
                    ),
                ),
            ),
        ),
        When("advice", "find_out_first", (Unless("plan.0.code", "look_first", _ARRIVES), *_READ)),
        When("advice", "unsafe", (_ARRIVES, *_READ)),
        When("advice", "none_suffices", (_ARRIVES, *_READ)),
        When("plan.-1.code", "out_of_reach", "{plan.-1.message}"),
        When("plan.-1.code", "leave_off", "{plan.-1.message}"),
        START_NOT_JUDGED,
    ),
    steps=(
        (Unless("plan.0.code", "look_first", "{plan.0.message}"),),  # the headline says that
        *(f"{{plan.{place}.message}}" for place in range(1, MOST_STEPS)),
    ),
    told=("load_voltage",),
    checks={
        **OF_CIRCUITS,
        "load_voltage": CheckWords(
            name="voltage at the load",
            passes=(
                "{part}: in {case},",
                When("detail", None, "whatever is assumed,"),
                When("detail", "middle", "in the middle of what is assumed,"),
                "{value} arrive and {limit} are needed, {apart} to spare.",
            ),
            fails="{part}: in {case}, whatever is assumed, only {value} arrive and {limit} are "
            "needed, {apart} short.",
            undecided="{part}: in {case}, within what is assumed, enough may arrive or not. At the "
            "worst {value} arrive and {limit} are needed, {apart} short.",
        ),
        "path_drop": CheckWords(
            name="drop of the whole way",
            passes="{part}: in {case}, {value} at most are lost on the way; about {limit} are "
            "usual.",
            marginal=(
                "{part}: in {case}, up to {value} may be lost on the way; up to {limit} are "
                "usual. It works, but:",
                *(When("detail", code, said) for code, said in _COSTS.items()),
            ),
        ),
        **{code: _may_burn(code) for code in ("permissible_current", "duty_current")},
    },
    reasons={
        **COMPLAINTS,
        "starter_is_slow": "It pulls in, so the wire and the key to {part} are not what slows it. "
        "While it turns, read the posts of the battery: less than {cranking_v} says that the "
        "battery is low or weak, so charge it and have it tested; a sound one is pulled down so by "
        "a stiff engine, or a starter that drags. Then read from each post to where its cable "
        "ends, at the stud and at the housing of the starter: more than {path_v} on both together "
        "says that a cable, a clamp or the strap wants mending; else it is the starter.",
        "battery_not_charged": "The wiring of {part} has no part in that. Read the posts with "
        "the engine off, then at a fast idle: if that is not {charges_v} more, see to the belt, "
        "the generator, its regulator and the wire to the battery. Test the battery, too.",
        "leave_off": "Leave it off until then, or {part} may burn.",
        "leave_it_off": "Leave it off, or {part} may burn.",
        "leave_off_but": "Leave it off, but for the moments in which a DC clamp meter tells its "
        "current: {part} may get {most_a:up} and bears {bears_a:down} there.",
        "takes_thicker": "With more than that, it needs new wire of {size}, with a fuse of "
        "{fuse_a} at its start.",
        "read_size": "Read the size of {part}, on it or by its copper. If it is thinner than "
        "{size}, leave it off: {most_a:up} are too much for it. Take one of {taken}.",
        "go_on_if_more": "If that is more, go on.",
        "when_on": "Engine off, {load} on:",
        "when_on_hot": "Engine just stopped and hot, {load} on and weak:",
        "when_on_cold": "In the cold, engine not yet started, {load} on and weak:",
        "when_held": f"K{_HELD[1:]}",
        "when_held_hot": f"Hot, {_HELD}",
        "when_held_cold": f"In the cold, {_HELD}",
        "when_held_safely": "Take the battery's ground cable off, then the heavy cable off the "
        "starter with all that is on its stud, together and insulated, so that it does not turn; "
        "put the ground cable on again, and off before the heavy one goes back. Key held to start "
        "for moments:",
        "when_still_off": "With the heavy cable still off the starter, so that it does not turn, "
        "key held to start for moments:",
        "at_two_terminals": "put a meter on volts across the two terminals of {part}.",
        "at_its_terminals": "put a meter on volts at {part}: across the two terminals or, where "
        "there is only one, from that to the bare metal housing.",
        "at_terminal_50": "put a meter on volts, from terminal 50 of {part}, the small one, to its "
        "bare metal housing; not between its heavy terminals.",
        "at_50_and_ground": "put a meter on volts, from terminal 50 of {part}, the small one, to "
        "the terminal of its return wire; not between its heavy terminals.",
        "expect_need": "Expect {expected_low_v} to {expected_high_v}; {limit_v} are needed.",
        "expect_lost": "Expect {expected_low_v} to {expected_high_v}. {needed_v} are the least "
        "that is needed, but a sound way loses no more than {may_lose_v}, so {limit_v} or more "
        "should arrive. With less:",
        **_COSTS,
        "expect_usual": "Expect {expected_low_v} to {expected_high_v}: less than {limit_v} says "
        "that something on the way takes too much.",
        "read_across": "put a meter on volts across {part}, from the metal on one side of it to "
        "that on the other. Expect {expected_low_v} to {expected_high_v}; a sound one takes "
        "{limit_v} at most.",
        "read_battery": "put a meter on volts across the posts of the battery, not its clamps. "
        "Expect {expected_low_v} to {expected_high_v}; a charged and sound one keeps {limit_v}.",
        "read_others_if_less": f"{_LESS}read in the same way across each of {{part}}, and from "
        "each post of the battery to its clamp.",
        **{
            code: f"With the battery's ground cable off, clean, tighten or replace what takes more "
            f"than {{limit_v}}, {other} {{other_v}}{of}; if {none} does, it is the wire: too thin, "
            "too long, or corroded."
            for ending, other in _OTHERS.items()
            for code, of, none in (
                (f"mend_others{ending}", "", "none"),
                (f"mend_those{ending}", ", of {mended} and the clamps", "none of all"),
            )
        },
        "see_to_load_if_more": f"{_MORE}enough arrives. If the trouble stays, it lies in {{part}} "
        "and not in the wiring.",
        "see_to_load_then": "Then test the load again. If the trouble stays though {needed_v} or "
        "more arrive, it lies in {part} and not in the wiring.",
        "look_when_due": "Nothing is to be mended. When there is time, look at {part}, and at the "
        "clamps of the battery: with the battery's ground cable off, clean and tighten what is "
        "loose, green or browned. Once it hesitates, ask again, and say when.",
        "charge_first": f"First, {_CHARGE}",
        "charge_if_less": _LESS + _CHARGE,
        "ask_again_if_more": f"{_MORE}{_ANOTHER}",
        "or_the_last": "Or do at once what the last step says: that spares it.",
        "ask_again_if_less": f"If {{part}} takes more than {{limit_v}}: {_ANOTHER}",
        "mend_and_test": "With the battery's ground cable off, clean, tighten or replace {part}, "
        "then test the load again. It brings "
        "{brings_v}.",
        "rewire": f"Take a thicker {{part}}. It brings {{brings_v}}.{_OFF}",
        "rewire_sized": f"D{_WIRE} It brings {{brings_v}}.{_OFF}",
        "rewire_if_less": f"If {_NONE}d{_WIRE}{_OFF}",
        "rewire_as_thick": f"If {_NONE}the wire is as thick as it must be, so it is corroded, or "
        f"has a joint out of sight: d{_WIRE}{_OFF}",
        "return_as_thick": "Draw the return wire as thick, all the way back. If the load may be "
        "grounded to the body beside it, do that instead: half as thick is then enough.",
        "button_may_ground": "Many horns are live at all times, and their button joins them to the "
        "ground. Then wire it so: 30 and 86 to the fuse, 85 to the wire from the button, 87 to the "
        "horn, and the other terminal of the horn to ground.",
        "one_for_each_beam": "That is for one beam: fit such a relay with its fuse for dipped and "
        "one for main beam, each coil fed by the old wire of its beam; best with a fuse for each "
        "lamp, so that never both go dark at once.",
        "one_for_each_way": "It turns both ways, so it takes two, both changeover relays: to each "
        "terminal of the motor 30 of one, the fused feed to 87 of both, ground to 87a of both, and "
        "each coil from the old wire of its direction to ground. A work sheet shows one relay "
        "only: go by this.",
        "one_for_each_speed": "That is for one speed: each takes its own. Wipers that park by "
        "themselves may overrun behind a plain relay: look at their wiring diagram first.",
        "reversed_by_a_set": "If it pulls both ways, it takes a set that reverses it, in which "
        "never both sides close: go by its maker's diagram.",
        "wired_so": "No work sheet shows a contactor, as each maker's differs. Wire it so: from "
        "the fuse to one stud, from the other stud to {load}; the old wire to one terminal of its "
        "coil, and the other terminal to where the current of {load} comes back.",
        "thick_by_heat": "So thick it is for the heat on its way, {ambient_c}, in which the fuse "
        "must save it: where all of it lies cooler, ask wire-sizing, for a thinner one may do.",
        "fuse_where_cool": "Hang the fuse where it is cool: in air of {hot_air_c} it carries only "
        "{fuse_bears_a:down} for long, and ages; the next larger one asks for wire that no blade "
        "grips.",
        "by_a_tail": "Where a terminal does not take it, splice on a tail, a hand long, as thick "
        "as it takes.",
        "thick_by_drop": "So thick it is for its drop: {thinner} bears the current, too, and loses "
        "{thinner_v:up} where {may_lose_v} are usual.",
        "thick_as_pays": "All the way then loses {loses_v:up} where {may_lose_v} are usual: only "
        "{by_drop} would keep to the usual, and wins little for so much copper.",
        "thick_as_there_is": "All the way then loses {loses_v:up} where {may_lose_v} are usual, "
        "and no wire of the trade keeps to that. With less copper does a battery of its own beside "
        "the load, charged over the long way, or a load for more volts with a system of its own.",
        "out_of_reach": f"If {_NONE}no relay helps over that way and no wire: {{size}}, the "
        "thickest of the trade, loses {loses_v:up} where {may_lose_v} are usual. What would do:",
        "battery_nearer": "A battery of its own no more than {reach_m:down} from the load, by "
        "{size}, charged over the long way and parted from the other while nothing charges.",
        "battery_beside": "A battery of its own beside the load, charged over the long way and "
        "parted from the other while nothing charges.",
        "parallel_cables": "Or {count} such cables side by side, as long as each other, each with "
        "a fuse of its own.",
        "higher_system": "Or such a load for {nominal_v}, with a system of its own: it takes the "
        "less current for it, and {higher_size} does.",
        "rewire_past": f"D{_PAST} It brings {{brings_v}}.{_OFF}",
        "rewire_to_spare": f"To spare the switch, d{_PAST}{_OFF}",
        "rewire_past_if_less": f"If {_NONE}d{_PAST}{_OFF}",
        "mend_if_more": f"{_MORE}{_MEND}",
        "fit_relay": f"F{_RELAY}",
        "relay_to_spare": f"To spare the switch, f{_RELAY}",
        "relay_if_less": f"If {_NONE}f{_RELAY}",
        "relay_if_switch": f"If {{switch}} takes more than {{limit_v}}, or if {_NONE}f{_RELAY}",
        "relay_if_thin": f"{_MORE}through this wire {{high_v}} arrive at the most, however sound "
        f"its contacts are, and {{needed_v}} may be needed. F{_RELAY}",
        "relay_if_more": f"{_MORE}f{_RELAY}",
        "why_charged": "The battery is taken as charged and sound, its generator not running.",
        "why_sound": "The battery is taken as sound.",
        "why_worn": "Nobody has measured {part}: this is what contacts of that age have.",
        "why_about": "The way is only about so long; the other wire is taken as half of it.",
        "why_usual_current": "Nobody has measured the current: it takes so much elsewhere.",
        "why_needed": "So much is needed at {part} to work well.",
        "why_pull_in": "This is what pulls the plunger of {part} in, cold.",
        "why_on_time": "Nobody has said for how long one has {part} on at a time: this is usual.",
        "why_cases": "It must work in these conditions.",
        "why_zone": "That is the usual place of {part}; the heat there decides.",
        "why_usual_size": "Nobody has read the size of the wire: these are usual for it.",
        "why_relay": "A relay of the trade stands for the one that you buy: see its maker's sheet.",
    },
)

WORDS = {"quick-answer": QUICK_ANSWER}
