"""What is said of a way that was built, from readings before and after."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When

_GAIN = "{load} gets between {gain.low_v} and {gain.high_v} more in {gain.case}, 19 times of 20"
_FITS = "All readings after fit"
_LEADS = " Read volts with the red lead at {red} and the black one at {black}, then part by part."
_JOINTS = "Look for a loose terminal or a bad crimp." + _LEADS
_CLAMPS = (
    "With {load} on read the volts across each clamp, from the post itself to the clamp: where "
    "next to nothing is lost there, test the battery, and charge or replace it."
)
_WITH = "reading {number} with them"


_ALONE = (
    "What {load} gets rests on reading {part} after alone: were it false, no other would show it. "
    "Read what is lost on the way to {load} and back as well: the battery's volts less that must "
    "come to the same."
)


def _agree(side: str) -> CheckWords:
    return CheckWords(
        name=f"readings {side} against each other",
        passes=f"The readings {side} hold together: none is further from what the others say than "
        "chance allows.",
        fails=(
            When(
                "detail",
                "reading_contradicts",
                f"Of the readings {side} number {{part}} contradicts the rest: take it again. "
                "Nothing rests on it.",
            ),
            When(
                "detail",
                "group_contradicts",
                f"Of the readings {side} one of {{part}} contradicts the rest, and which one "
                "cannot be told: take them again.",
            ),
            When(
                "detail",
                "model_does_not_fit",
                f"The readings {side} contradict the circuit as it is described, whichever of "
                "them is left out.",
            ),
        ),
        unknown=(
            When(
                "detail",
                "not_checked",
                f"Of the readings {side} nothing was read twice over: a false reading would not "
                "show. Read the volts across {load} as well.",
            ),
            When("detail", "rests_on", _ALONE),
        ),
    )


CHECKS = {
    "switches_off": CheckWords(
        name="whether the load goes off with its switch",
        passes="With {switch} off {part} is dead.",
        fails=(
            When(
                "detail",
                None,
                "{part} is live with {switch} off. Take the battery's ground off first.",
            ),
            When(
                "detail",
                "before",
                "{part} was live with {switch} off before, and was not read so after. Take the "
                "battery's ground off first.",
            ),
        ),
        unknown="Whether {part} goes off with {switch} was not read: turn {switch} on and off, and "
        "then read the volts across {part}.",
    ),
    "readings_agree_before": _agree("before"),
    "readings_agree_after": _agree("after"),
    "gain": CheckWords(
        name="gain at the load",
        passes="{part} gets {value} more at least in {case}.",
        fails="{part} gets no more in {case}: {value} at most.",
        unknown="Whether {part} gets more follows from no readings that contradict each other or "
        "the circuit.",
        undecided="It may be that {part} gets no more in {case}: {value}. The readings do not "
        "decide.",
    ),
    "promise": CheckWords(
        name="what was promised",
        passes="The way brings what it promised: no more than {limit} is missing.",
        fails="{value} of what was promised are missing, and no more than {limit} may be: a tenth.",
        undecided="It may be that {value} of what was promised are missing, and no more than "
        "{limit} may be: a tenth. The readings do not decide.",
    ),
    "fitted": CheckWords(
        name="what is new",
        passes="",
        unknown=(
            When(
                "detail",
                "relay",
                "Volts are proven here, and not that fuse, wires and contact of {part} bear what "
                "flows and are protected: relay-retrofit judges those.",
            ),
            When(
                "detail",
                "parts",
                "Volts are proven here, and not that what is new in {part} bears what flows and is "
                "protected: remedy-choice judges that.",
            ),
        ),
    ),
    "no_fuse": CheckWords(
        name="a wire without a fuse",
        passes="",
        fails="No fuse is before {detail}: a chafed wire ends in a fire, whatever is proven. Fit "
        "one where it begins.",
        unknown="No fuse is given before {detail}: a chafed wire ends in a fire, whatever is "
        "proven. Fit one where it begins, or give the one that is there.",
    ),
    "works": CheckWords(
        name="what fails or got worse",
        passes="",
        fails=(
            When(
                "detail",
                None,
                "The readings after go with the circuit as it is described only if {part} fails, "
                "or got worse.",
            ),
            When(
                "detail",
                "one_of",
                "The readings after go with the circuit as it is described only if something on "
                "the way to {part} or back is open or got worse, or {part} changed itself.",
            ),
        ),
    ),
    "wiring": CheckWords(
        name="how the relay is wired",
        passes="The readings go with the relay as it is described, and rule out that {part} "
        "carries the load still.",
        fails="The readings go with a relay that is wired otherwise than it is described.",
        unknown="No reading after rules out that {part} carries the load still: put the clamp "
        "round a lead of it.",
    ),
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{value} at least reach {part} in {case}, and it needs {limit}: {apart} to spare.",
        fails=(
            When(
                "detail",
                None,
                "{value} at most reach {part} in {case}, and it needs {limit}: {apart} short.",
            ),
            When(
                "detail",
                "no_rest",
                "In {case} the circuit comes to no rest: relays chatter, and {part} falls short.",
            ),
        ),
        unknown="What {part} needs in {case} is not known.",
        undecided="It may be that only {value} reach {part} in {case}, and it needs {limit}: up to "
        "{apart} short. Or enough reaches it: what is known does not decide.",
    ),
}

GAIN_PROOF = OperationWords(
    headline=(
        When("proof", "proven", f"Proven: {_GAIN}, and enough in every case."),
        When("proof", "less_than_promised", f"Less than was promised: {_GAIN}."),
        When("proof", "worse", "Worse than before: {load} gets less in {gain.case}."),
        When("proof", "not_proven", "Not proven."),
        "{look_at.0.message}",
        "{rounded}",
    ),
    facts=(
        "Before, {gain.before_v} reach {load} in {gain.case}; after, {gain.after_v} at the same "
        "supply and temperatures. The way promises {promise.load_voltage_v}.",
        "{switch} carries {switch_current.before_a} before, and {switch_current.after_a} after.",
        ("{look_at.1.message}", "{look_at.2.message}", "{look_at.3.message}"),
        "{next_message}",
    ),
    told=("gain", "load_voltage"),
    checks=CHECKS,
    reasons={
        "coil_swapped": f"{_FITS} coil and contact of {{part}} changed about, reading {{number}} "
        "with them: the old wire feeds the contact, and {switch} carries the load still. Put the "
        "old wire on 86, and the feed from {feed} on 30.",
        "old_wire_left_on": f"{_FITS} the old wire left on the load beside {{part}}, reading "
        "{number} with them: {switch} carries a share of the load still. Take the old wire off the "
        "load; it goes to 86 alone. Until then the relay may hold itself with {switch} off: the "
        "battery's ground off first stops it.",
        "fed_from": f"{_FITS} a feed of the relay taken from {{node}}, reading {{number}} with "
        "them. Take it from {feed}.",
        "fed_from_behind": f"{_FITS} a feed of the relay taken from {{node}}, reading {{number}} "
        "with them: {switch} carries the load still. Take it from {feed}.",
        "live_off": "{part} is live with {switch} off, by reading {number} after: first take the "
        "battery's ground off. Something else feeds it: look for the wire that does.",
        "live_off_relay": "{part} is live with {switch} off, by reading {number} after: first take "
        "the battery's ground off. The relay's contact has welded, or the relay holds itself by "
        "an old wire left on the load. Take that wire off; if it is off already, renew the relay.",
        "live_off_before": "{part} is live with {switch} off, by reading {number} before: first "
        "take the battery's ground off. {switch} or a relay sticks, or another wire feeds {part}: "
        "find that first, and then read {part} dead.",
        "was_live": "Before, {part} was live with {switch} off, by reading {number}, and now it is "
        "dead: see that what was wrong there was found, or it comes back.",
        "relay_stays_in": f"{_FITS} {{part}} with its contact closed whatever its coil gets, "
        f"{_WITH}: it has welded. "
        "Renew {part}, and look what flowed through it: a short, or more than it is made for.",
        "relay_stays_out": f"{_FITS} {{part}} with its contact open, {_WITH}. "
        "Read the volts between its 86 and its 85 with {switch} on: where the battery's stand "
        "there, renew {part}; where they do not, the old wire or the coil's ground is off.",
        "coil_open": f"{_FITS} {{part}} with its contact open and nothing through its coil, "
        f"{_WITH}. Read the volts between its 86 and its 85 with {{switch}} on: where the "
        "battery's stand there, the coil is open, and {part} is to be renewed; where they do not, "
        "the old wire or the coil's ground is off.",
        "fuse_open": f"{_FITS} {{part}} blown, {_WITH}. Find the short or the chafed wire that "
        "blew it first; then fit one of the same rating.",
        "part_open": f"{_FITS} a break at {{part}}, {_WITH}: nothing comes through there. Mend it, "
        "and take the readings again.",
        "got_worse": f"{_FITS} {{part}} with {{low}} to {{high}}, {_WITH}, and it had {{most}} at "
        "most: it got loose or worn since. Clean it, tighten it, and take the readings again.",
        "new_part_poor": f"{_FITS} {{part}}, new, with {{low}} to {{high}}, {_WITH}: a bad crimp, "
        "or a loose terminal. Mend it, and take the readings again.",
        "rests_on": "What {part} gets rests on reading {number} after alone: were it false, no "
        "other would show it.",
        "or_false": "Or reading {number} after is false: take it again first.",
        "switch_not_told": "No reading after rules out that {part} carries the load still, as it "
        "does where the feed comes from behind it: put the clamp round an insulated lead of it, in "
        "a case such as {case}.",
        "worse_before": "The readings before go with the circuit only if {part} was not what was "
        "given for it. The way leaves it as it was: see to it, too.",
        "still_poor": "{part} takes {volts} at {amps} after, and {most} are the most of a sound "
        "one: that is still lost. Mend it, too.",
        "poor_now": "{part} takes {volts} at {amps} after, took {before} before, and {most} are "
        "the most of a sound one: it got loose or worn since. Mend it.",
        "still_poor_together": "{part} take {volts} together at {amps} after, and sound ones at "
        "most {most}: one or more of them are still poor. Read the volts across each of them, in "
        "{case}, and mend what takes too much.",
        "may_be_poor_together": "{part} take {volts} together at {amps} after, and sound ones at "
        "most {most}: one of them may take too much of it. Read the volts across each of them, in "
        "{case}.",
        "one_still_poor": "{part} is still poor, and no reading says which. Read the volts across "
        "each of them, in {case}, and mend the one that takes too much.",
        "one_still_open": "{part} is still open, and no reading says which. In {case} leave the "
        "black lead at the ground and go from part to part with the red one: it is where the "
        "volts go away. Mend it, too.",
        "again_before": "Reading {number} before contradicts the rest, and nothing rests on it.",
        "again_after": "Reading {number} after contradicts the rest, and nothing rests on it: take "
        "it again.",
        "untold_before": "The readings before contradict each other or the circuit: take "
        "reading {number} again. The gain cannot be proven with them.",
        "untold_after": "The readings after contradict each other or the circuit with the way, "
        "reading {number} first, and no single fault explains them. See whether all is wired as "
        "it is described; then take the readings again.",
        "untold_together": "The readings before and after do not go together: {part} itself, or a "
        "wire that was left alone, is another now. See whether something else was changed.",
        "other_meters": "The readings before and after go together as those of two meters, and not "
        "of one: each was given an error of its own. Give two meters two names. If it was one, see "
        "whether {part} itself, or a wire that was left alone, is another now.",
        "poor_feed": "The feed of {part} drops between {low} and {high}, and {promised} are due. "
        + "Look for a fuse that sits badly, a loose terminal or a bad crimp."
        + _LEADS,
        "poor_contact": "The contact of {part} drops between {low} and {high}, and {promised} are "
        "due. " + "Look for a relay that sits badly in its socket, or a worn contact." + _LEADS,
        "poor_outlet": "From {part} to the load between {low} and {high} are lost, and {promised} "
        "are due. " + _JOINTS,
        "poor_ground": "The ground of {part} drops between {low} and {high}, and {promised} are "
        "due. " + "Look for paint or rust under a terminal, or a loose bolt." + _LEADS,
        "poor_sound": "{part} drops between {low} and {high}, and sound it would drop {promised}. "
        + "Clean or renew it, and see that its terminals sit tight."
        + _LEADS,
        "poor_replaced": "{part}, new, drops between {low} and {high}, and {promised} are due. "
        + _JOINTS,
        "still_not_sound": f"{_FITS} {{part}} with {{low}} to {{high}}, {_WITH}: it was to be "
        "sound, and is not. Mend it, and take the readings again.",
        "load_takes_more": f"{_FITS} {{part}} with {{low}} to {{high}}, {_WITH}, and it had "
        "{most} before: turns of it are shorted, it drags or stalls, or something else is on "
        "beside it. See to that first; it is not the wiring.",
        "load_takes_less": f"{_FITS} {{part}} with {{low}} to {{high}}, {_WITH}, and {{most}} is "
        "known of it: something in it is open, or another one or a test lamp is there. See to "
        "that first; "
        "it is not the wiring.",
        "supply_after": "The readings after fit {part} from {low} to {high}, and it is given from "
        "{least} to {most}: the battery ran down, was charged or changed, another load drew on it, "
        "or an engine or a charger ran. The gain does not rest on that, for both are compared at "
        "the supply of before.",
        "supply_before": "The readings before fit {part} from {low} to {high}, and it is given "
        "from {least} to {most}: if an engine, a charger or a helper's battery was on, read again "
        "without; if not, give what this battery has.",
        "weak_before": "The readings before fit {part} from {low} to {high}, and it is given from "
        "{least} to {most}: the battery is weak or dying, or a clamp at its posts is bad. "
        + _CLAMPS,
        "weak_after": "The readings after fit {part} from {low} to {high}, and it is given from "
        "{least} to {most}: the battery is weak or dying, or a clamp at its posts is bad. "
        + _CLAMPS
        + " The gain does not rest on that, for both are compared at the supply of before.",
        "supply_after_untold": "The readings after fit another supply than is given, and do not "
        "say which: read the battery's volts at rest. The gain does not rest on that.",
        "supply_before_untold": "The readings before fit another supply than is given, and do not "
        "say which: read the battery's volts at rest, with nothing else on.",
        "lost_not_read": "Between {low} and {high} less than was promised reach {part}, and no "
        "reading after says where they are lost: read volts part by part, from the battery to "
        "{part} and back from it.",
        "one_of": f"{_FITS} a part on the way to {{part}} or back that is open, loose or worn, "
        f"or {{part}} changed itself, {_WITH}, and none says which, {{parts}} or another: read "
        "volts over each, and the amperes.",
        "gain_open": "The gain lies anywhere between {low} and {high}: the readings are too few, "
        "or the meter too coarse.",
        "nothing_gained": "Nothing was gained: between {low} and {high} more, and {promised} were "
        "promised.",
        "nothing_to_gain": "Nothing was to gain: {before} reached {load} in {part} before, and it "
        "needs {needed}; the way promises no more than {most} more.",
        "gained_too_little": "{load} gets between {more} and {most} more in {in_case}, 19 times of "
        "20, and that is too little: in {part} between {low} and {high} reach it, and it needs "
        "{needed}.",
        "promise_open": "Between {low} and {high} of what was promised are missing: the readings "
        "do not tell.",
        "need_short": "In {part} between {low} and {high} reach {load}, and it needs {needed}.",
        "need_open": "In {part} between {low} and {high} reach {load}, and it needs {needed}: the "
        "readings do not tell whether it gets that.",
        "no_rest": "In {part} the circuit comes to no rest: see whether a relay chatters there.",
        "need_not_known": "What {load} needs in {part} is not known.",
    },
)

WORDS = {"gain-proof": GAIN_PROOF}
