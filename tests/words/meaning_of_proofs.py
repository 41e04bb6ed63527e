"""What the sentences of a proof mean, by hand beside the catalogue; see `meaning`.

Each tuple is as of `meaning.means`.
"""

_AGREE = {
    side: (
        "<", f"The readings {side} hold together", "contradict",
        "number {part} contradicts", "one of {part} contradicts", "volts across {load} as well",
        "What {load} gets rests on reading {part} after", "way to {load} and back",
    )
    for side in ("before", "after")
}  # fmt: skip
CHECKS = {
    "switches_off": (
        "", "is dead", "is live",
        "With {switch} off {part} is dead", "{part} is live with {switch} off",
        "{part} was live with {switch} off before",
        "{part} goes off with {switch}", "turn {switch} on and off", "volts across {part}",
    ),
    "fitted": ("", "", "", "contact of {part} bear", "new in {part} bears"),
    "no_fuse": (
        "", "", "No fuse is before", "No fuse is before {detail}", "No fuse is given before "
        "{detail}",
    ),
    "works": ("", "", "only if", "only if {part} fails", "way to {part}", "{part} changed"),
    "readings_agree_before": _AGREE["before"],
    "readings_agree_after": _AGREE["after"],
    "gain": (
        ">", "more at least", "gets no more",
        "{part} gets {value} more", "in {case}", "{part} gets no more", "{value} at most",
        "Whether {part} gets", "in {case}: {value}",
    ),
    "promise": (
        "<", "brings what it promised", "are missing",
        "no more than {limit} is missing", "{value} of what was promised",
        "no more than {limit} may",
    ),
    "wiring": (
        "", "rule out that", "wired otherwise",
        "rule out that {part} carries", "rules out that {part} carries",
    ),
    "load_voltage": (
        ">", "to spare", "short",
        "{value} at least reach", "{value} at most reach", "reach {part} in {case}",
        "needs {limit}", "{apart} to spare", "{apart} short", "What {part} needs",
        "in {case} is not",
        "only {value} reach", "In {case} the circuit", "and {part} falls",
    ),
}  # fmt: skip
REASONS = {
    "coil_swapped": "changed about, reading {number} with them: the old wire feeds the contact, "
    "and {switch} carries the load still",
    "old_wire_left_on": "the old wire left on the load beside {part}",
    "fed_from": "a feed of the relay taken from {node}, reading {number} with them. Take it from "
    "{feed}",
    "fed_from_behind": "{switch} carries the load still. Take it from {feed}",
    "live_off": "{part} is live with {switch} off, by reading {number} after: first take the "
    "battery's ground off",
    "live_off_relay": "{part} is live with {switch} off, by reading {number} after: first take the "
    "battery's ground off. The relay's contact has welded",
    "live_off_before": "{part} is live with {switch} off, by reading {number} before: first take "
    "the battery's ground off. {switch} or a relay sticks",
    "was_live": "Before, {part} was live with {switch} off, by reading {number}, and now it is "
    "dead",
    "relay_stays_in": "{part} with its contact closed whatever its coil gets, reading {number}",
    "relay_stays_out": "{part} with its contact open, reading {number}",
    "coil_open": "{part} with its contact open and nothing through its coil, reading {number}",
    "fuse_open": "{part} blown, reading {number}",
    "part_open": "a break at {part}, reading {number}",
    "got_worse": "{part} with {low} to {high}, reading {number} with them, and it had {most} at "
    "most",
    "new_part_poor": "{part}, new, with {low} to {high}, reading {number}",
    "rests_on": "What {part} gets rests on reading {number} after alone",
    "nothing_gained": "between {low} and {high} more, and {promised} were promised",
    "poor_now": "{part} takes {volts} at {amps} after, took {before} before, and "
    "{most} are the most",
    "nothing_to_gain": "{before} reached {load} in {part} before, and it needs {needed}; the way "
    "promises no more than {most} more",
    "gained_too_little": "{load} gets between {more} and {most} more in {in_case}, 19 times of 20, "
    "and that is too little: in {part} between {low} and {high} reach it, and it needs {needed}",
    "or_false": "Or reading {number} after is false",
    "switch_not_told": "No reading after rules out that {part} carries the load still",
    "still_poor": "{part} takes {volts} at {amps} after, and {most} are the most of a sound one",
    "still_poor_together": "{part} take {volts} together at {amps} after, and sound ones at most "
    "{most}: one or more of them are still poor. Read the volts across each of them, in {case}",
    "may_be_poor_together": "{part} take {volts} together at {amps} after, and sound ones at most "
    "{most}: one of them may take too much of it",
    "one_still_poor": "{part} is still poor, and no reading says which. Read the volts across each "
    "of them, in {case}",
    "one_still_open": "{part} is still open, and no reading says which. In {case} leave the black "
    "lead at the ground",
    "worse_before": "only if {part} was not what was given for it",
    "again_before": "Reading {number} before contradicts the rest",
    "again_after": "Reading {number} after contradicts the rest",
    "untold_before": "readings before contradict each other or the circuit: take reading {number}",
    "untold_after": "readings after contradict each other or the circuit with the way, reading "
    "{number} first",
    "still_not_sound": "fit {part} with {low} to {high}, reading {number} with them: it was to be "
    "sound, and is not",
    "other_meters": "go together as those of two meters, and not of one",
    "untold_together": "before and after do not go together: {part} itself",
    "poor_feed": "feed of {part} drops between {low} and {high}, and {promised} are due",
    "poor_contact": "contact of {part} drops between {low} and {high}, and {promised} are due",
    "poor_outlet": "From {part} to the load between {low} and {high} are lost, and {promised}",
    "poor_ground": "ground of {part} drops between {low} and {high}, and {promised} are due",
    "poor_sound": "{part} drops between {low} and {high}, and sound it would drop {promised}",
    "poor_replaced": "{part}, new, drops between {low} and {high}, and {promised} are due",
    "load_takes_more": "{part} with {low} to {high}, reading {number} with them, and it had {most} "
    "before: turns of it are shorted",
    "load_takes_less": "{part} with {low} to {high}, reading {number} with them, and {most} "
    "is known of it: something in it is open",
    "weak_before": "before fit {part} from {low} to {high}, and it is given from {least} to "
    "{most}: the battery is weak or dying",
    "weak_after": "after fit {part} from {low} to {high}, and it is given from {least} to "
    "{most}: the battery is weak or dying",
    "supply_after": "after fit {part} from {low} to {high}, and it is given from {least} to {most}",
    "supply_before": "before fit {part} from {low} to {high}, and it is given from {least} to "
    "{most}",
    "supply_after_untold": "The readings after fit another supply than is given",
    "supply_before_untold": "The readings before fit another supply than is given",
    "lost_not_read": "Between {low} and {high} less than was promised reach {part}, and no reading "
    "after says where",
    "one_of": "a part on the way to {part} or back that is open, loose or worn, or {part} "
    "changed itself, reading {number} with them, and none says which, {parts} or another",
    "gain_open": "The gain lies anywhere between {low} and {high}",
    "promise_open": "Between {low} and {high} of what was promised are missing",
    "need_short": "In {part} between {low} and {high} reach {load}, and it needs {needed}.",
    "need_open": "In {part} between {low} and {high} reach {load}, and it needs {needed}: the",
    "no_rest": "In {part} the circuit comes to no rest",
    "need_not_known": "What {load} needs in {part} is not known",
}
PHRASES = (
    "see whether {part} itself",
    "{part} takes {volts} at {amps} after, took {before} before",
    "{part} is still poor", "{part} is still open", "In {case} leave", "of them, in {case}",
    "{part} takes {volts} at {amps} after", "and {most} are the most", "{rounded}",
    "only if {part} was not what",
    "fit {part} from {low} to {high}", "given from {least} to {most}", "it had {most} before",
    "and {most} is known of it", "With {load} on read the volts across each clamp",
    "Between {low} and {high} less than was promised reach {part}", "on the way to {part} or back",
    "or {part} changed itself", "from the battery to {part} and back",
    "says which, {parts} or another",
    "{part} is live with {switch} off", "by reading {number} after", "by reading {number} before",
    "{part} was live with {switch} off", "by reading {number}, and", "wire feeds {part}",
    "read {part} dead", "{switch} or a relay sticks", "fit {part} with its contact",
    "85 with {switch} on", "renew {part};", "and {part} is to be renewed", "Renew {part}",
    "fit {part} blown", "break at {part}",
    "fit {part} with {low} to {high}", "it had {most} at most", "fit {part}, new, with {low} to "
    "{high}",
    "What {part} gets rests on reading {number}", "between {low} and {high} more",
    "and {promised} were promised", "{before} reached {load} in {part} before",
    "no more than {most} more", "{load} gets between {more} and {most} more in {in_case}",
    "in {part} between {low} and {high} reach it",
    "may hold itself with {switch} off",
    "{load} gets between {gain.low_v} and {gain.high_v} more in {gain.case}, 19 times of 20",
    "{load} gets less in {gain.case}", "{look_at.0.message}", "{look_at.1.message}",
    "{look_at.2.message}", "{look_at.3.message}",
    "Before, {gain.before_v} reach {load} in {gain.case}", "after, {gain.after_v} at the same",
    "The way promises {promise.load_voltage_v}",
    "{switch} carries {switch_current.before_a} before", "and {switch_current.after_a} after",
    "Reading {number} before", "Reading {number} after",
    "coil and contact of {part}", "reading {number}", "and {switch} carries", "feed from {feed} on",
    "on the load beside {part}", ": {switch} carries", "taken from {node}", "Take it from {feed}",
    "rules out that {part} carries", "such as {case}", "go together: {part} itself",
    "The feed of {part} drops", "The contact of {part} drops", "From {part} to the load",
    "The ground of {part} drops", "{part} drops between {low} and {high}",
    "drops between {low} and {high}", "between {low} and {high} are lost", "and {promised} are due",
    "it would drop {promised}", "{part}, new, drops", "red lead at {red}", "black one at {black}",
    "anywhere between {low} and {high}", "Between {low} and {high} of what",
    "between {low} and {high} reach {load}", "In {part} between", "it needs {needed}",
    "In {part} the circuit", "What {load} needs in {part}",
)  # fmt: skip
