"""What is said of a circuit that readings tell."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Text, Unless, When
from lastvolt_service.words.en.readings import what_opened

_TOLD = (
    "{load} gets between {decisive.low_v} and {decisive.high_v}, 19 times of 20, in "
    "{decisive.case}."
)
_FACTS = (
    ("{estimates.0.message}", "{estimates.1.message}", "{estimates.2.message}"),
    ("{estimates.3.message}", "{estimates.4.message}", "{estimates.5.message}"),
    ("{confounded.0.message}",),
)
_TOLD_OF = ("agrees", "not_checked")

# What to do about a poor part, by what it is.
_ITS_ENDS = "Look at its ends first, then along it for broken strands, corrosion and chafes."
_CLEAN = "Take it apart, clean it to bright metal and tighten it."
_DO = (
    When("kind", "switch", "Clean or replace the switch."),
    When("kind", "relay", "Replace the relay."),
    When("kind", "fuse", "Clean its holder, and replace fuse or holder if that does not help."),
    *(When("kind", each, _CLEAN) for each in ("connector", "terminal", "ground")),
    *(When("kind", each, _ITS_ENDS) for each in ("wire", "resistance")),
)

CHECKS = {
    "readings_agree": CheckWords(
        name="readings against each other",
        passes="The readings hold together: none is further from what the others say than chance "
        "allows.",
        fails=(
            When(
                "detail",
                "reading_contradicts",
                "Reading {part} contradicts the rest: take it again. The values do not rest on it.",
            ),
            When(
                "detail",
                "group_contradicts",
                "One of the readings {part} contradicts the rest, and which one cannot be told: "
                "take them again.",
            ),
            When(
                "detail",
                "model_does_not_fit",
                "The readings contradict the circuit as it is described, whichever of them is left "
                "out: a part or a way is missing, a bound is wrong, or something changed between "
                "the readings.",
            ),
        ),
        unknown="Nothing was read twice over: a false reading would not show. Read the volts "
        "across {load} as well, and the parts that are in doubt.",
    ),
    "parts": CheckWords(
        name="parts by what they drop",
        passes="{part}: {value} in {case}, no more than the {limit} of sound ones.",
        marginal="{part}: {value} in {case}, a little more than the {limit} of sound ones: look at "
        "it again before long.",
        fails="{part}: {value} in {case}, and {limit} are the most of sound ones: mend what "
        "is poor.",
        undecided="{part}: {value} in {case}, give or take what the readings leave open, and "
        "{limit} are the most of sound ones: read volts across it.",
    ),
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{value} at least reach {part} in {case}, and it needs {limit}: {apart} to spare.",
        fails="{value} at most reach {part} in {case}, and it needs {limit}: {apart} short.",
        unknown=(
            When("detail", "needed_v", "What {part} needs is not known: give needed_v."),
            When(
                "detail",
                "model_does_not_fit",
                "What reaches {part} follows from no readings that contradict each other or the "
                "circuit.",
            ),
        ),
        undecided="It may be that only {value} reach {part} in {case}, and it needs {limit}: up to "
        "{apart} short. Or enough reaches it: what is known does not decide.",
    ),
}

# What hurts, what is poor, and what is sound.
_WEAK = (
    "the battery is weak or dying, or a clamp at its posts is bad. With the load on read the volts "
    "across each clamp, from the post itself to the clamp: where next to nothing is lost there, "
    "test the battery."
)
_FIRST = ("{danger}", "{charging}", "{battery}", "{mend}")
# What would explain all readings, one fault of a part first, unless another costs more.
_IF_RIGHT: tuple[str | When, ...] = (
    When("part_first", False, "{mend}"),
    "{next_message}",
    "{sound}",
    "{likely}",
    "{unread}",
)
# What stands in the way of a fit, what else would explain the readings, and what to do next.
_THEN = ("{faults.0.message}", "{beyond.0.message}", "{next_message}")
_LAST = ("{fuse}", "{rounded}")
_AGREES = (*_FIRST, _TOLD, *_THEN, "{sound}", "{likely}", "{unread}", *_LAST)
_CONTRADICTS = {
    "reading_contradicts": "Reading {contradicts.0} contradicts the rest: nothing is told of "
    "{load} yet.",
    "group_contradicts": "One of these readings contradicts the others: nothing is told of {load} "
    "yet.",
    "model_does_not_fit": "These readings contradict the circuit as it is described: nothing is "
    "told of {load} yet.",
}
_ELSE_WRONG = {
    "reading_contradicts": ("Or else reading {contradicts.0} is wrong.",),
    "group_contradicts": ("Or else one of these readings is wrong.",),
}


def _contradicting(said: str, else_wrong: tuple[str, ...]) -> tuple[When, ...]:
    """Say of readings that go together if a part is at fault which, else that they do not."""
    hurts, fault = ("{danger}", "{charging}", "{battery}"), "{faults.0.message}"
    costs_more = When("part_first", True, "{mend}")
    others = (*else_wrong, *_IF_RIGHT, *_LAST)
    named: Text = ("{beyond.0.message}", *else_wrong)
    beyond = (When("beyond.0.name", None, said), Unless("beyond.0.name", "", named))
    return (
        *(
            When("faults.0.fault", each, (*hurts, costs_more, fault, *others))
            for each in (
                *("worn_part", "perhaps_worn", "takes_more"),
                *("open_part", "stays_out", "stays_in"),
            )
        ),
        # What was given and alone explains all readings comes before the readings.
        When("faults.0.fault", None, (*_FIRST, *beyond, "{next_message}", *_LAST)),
    )


CIRCUIT_FIT = OperationWords(
    headline=(
        When("faults.0.fault", "stays_live", ("{faults.0.message}", "{next_message}")),
        *(When("agreement", each, _AGREES) for each in _TOLD_OF),
        *(
            When("agreement", each, _contradicting(said, _ELSE_WRONG.get(each, ())))
            for each, said in _CONTRADICTS.items()
        ),
    ),
    facts=tuple(tuple(When("agreement", each, fact) for each in _TOLD_OF) for fact in _FACTS),
    told=("load_voltage",),
    checks=CHECKS,
    reasons={
        "told": "{part}: between {low} and {high}, 19 times of 20.",
        "not_told": "{part}: these readings leave it anywhere between {low} and {high}.",
        "shared": "{part}: {high} at most, 19 times of 20, and what of that is in {others} instead "
        "these readings do not tell.",
        "together": "{part} cannot be told apart; together they are {sum}, between {low} and "
        "{high}. To tell them apart read volts with the red lead at {red} and the black one at "
        "{black}, in {case}.",
        "apart": "{part} cannot be told apart by these readings. To tell them apart read volts "
        "with the red lead at {red} and the black one at {black}, in {case}.",
        "between": "red lead at {red}, black at {black}",
        "through": "clamp round the lead of {part}",
        "of": "ohms of {part} by itself",
        "set_aside": "Reading {number} is noise: of less than {least} an ohmmeter and its leads "
        "tell nothing. Read volts there in its place, the red lead at {red} and the black one at "
        "{black}, with the load on.",
        "next_volts": "Next, read volts in {case}, the red lead at {red} and the black one at "
        "{black}: expect {low} to {high}.",
        "next_amperes": "Next, read amperes in {case}, the clamp round the insulated lead of "
        "{part}: expect {low} to {high}.",
        "charging": "In {case} {volts} stand at the battery, and none rests at more than {most}: "
        "something charges it. Stop the engine, or take off the charger, and read again; or give "
        "it among the further_sources.",
        "uncharged": "Next, take all readings again with nothing that charges.",
        "rounded": "All volts are multiples of {step}, and their meter shows more: if they were "
        "rounded, give the meter's resolution_v, as each is taken for exact to its last digit.",
        "keeps_little": "The battery keeps {volts} at {amps} in {case}, and one that is not flat "
        "{most}: charge it and test it, before any wiring is blamed; where its posts have more, "
        "read from there.",
        "keeps_rather_little": "The battery keeps {volts} at {amps} in {case}, and a warm one that "
        "is sound {most}: it is cold, flat or too small, or the starter draws too much. Ask "
        "battery-voltage.",
        "unless_cranking": "The battery keeps {volts} at {amps} in {case}, and one that is not "
        "flat {most} while the starter does not turn: unless it turned, read the battery at rest, "
        "charge and test it.",
        "stop": "Switch it off, and leave it off: in {case} {text}",
        "poor": ("{part} takes {volts} at {amps}, and a sound {kind} at most {most}.", *_DO),
        "poor_wire": (
            "{part} takes {volts} at {amps}, and as it is described at most {most}.",
            *_DO,
        ),
        "poor_together": "{part} take {volts} together at {amps}, and sound ones at most {most}: "
        "one or more of them are poor. Read the volts across each of them, in {case}.",
        "straddles": "{part} takes {low} to {high}, and a sound one at most {most}: it may be "
        "poor or sound. Read volts in {case}, the red lead at {red} and the black one at {black}.",
        "straddles_read": "{part} takes {low} to {high}, and a sound one at most {most}: it may be "
        "poor or sound. Read it once more in {case}, in a finer range or by a meter that shows a "
        "digit more: the red lead at {red}, the black one at {black}.",
        "straddles_amps": "{part} takes {volts}, more than the {most} of a sound one if {amps} "
        "flow. They were not read, and with more it may be sound: read them in {case}, the clamp "
        "round a lead of {part}.",
        "straddles_together": "{part} take {low} to {high} together, and sound ones at most "
        "{most}: one of them may be poor. Read the volts across each of them, in {case}.",
        "hides_together": "{part} take {low} to {high} together, and sound ones at most {most}, "
        "but one of them alone may take too much of it: read the volts across each of them, in "
        "{case}.",
        "worn": "{part} takes {volts} at {amps}, a little more than the {most} of a sound one: "
        "look at it again before long.",
        "sound": "{part} is sound: it takes {volts} at {amps}.",
        "likely": "{part} is sound as far as this meter tells: it takes {low} to {high}, and a "
        "sound one at most {most}. A finer range, or a digit more, makes it sure.",
        "likely_unread": "{part} is sound as far as these readings tell: it takes {low} to {high}, "
        "and a sound one at most {most}. To be sure read volts in {case}, the red lead at {red} "
        "and the black one at {black}.",
        "likely_together": "{part} are sound as far as these readings tell: they take {low} to "
        "{high} together, and sound ones at most {most}. To be sure read the volts across each of "
        "them, in {case}.",
        "sound_together": "{part} are sound: they take {volts} together at {amps}.",
        "unread": "No reading tells of {part}. Read volts in {case}, the red lead at {red} and the "
        "black one at {black}.",
        "held_down_together": "{part} take {low} to {high} together at {amps}, and so little flows "
        "that no sound one is told from a poor one: find first what holds the current down, and "
        "then read the volts across each of them, in {case}.",
        "all_sound": "Sound by these readings: {part}.",
        "all_likely": "Sound as far as the meter tells: {part}. A finer range makes it sure.",
        "all_unread": "No reading tells of {part}.",
        "ask_each": "Next, read the volts across each of {part}, in {case}.",
        "mend_worn": "Read the volts across it once more, and mend it; or else take the readings "
        "that contradict again.",
        "read_finer": "Read the volts across it once more, in a finer range or by a meter that "
        "shows a digit more; or else take the readings that contradict again.",
        "give_more": "Read the volts across it once more, and give it more length or ohms where it "
        "takes that; or else take the readings that contradict again.",
        "too_thin": "No part on the way to {part} is poor by itself: together they take too much. "
        "A thicker or shorter wire helps, or a relay near it: ask remedy-choice.",
        "beyond": "If all readings are right, {part} is {low} to {high}, and {least} to {most} "
        "were given: then that is the fault, or the bound is wrong.",
        "weak_beyond": "If all readings are right, {part} is {low} to {high}, and {least} to "
        f"{{most}} were given: {_WEAK}",
        "weak_battery": "If all readings are right, the battery has {volts} to {most} at rest and "
        f"{{ohm}} to {{most_ohm}} inside, and not what was given: {_WEAK}",
        "battery_beyond": "If all readings are right, the battery has {volts} to {most} at rest "
        "and {ohm} to {most_ohm} inside, and not what was given: then that is the fault, or what "
        "was given is wrong.",
        "stays_live": "With {part} off {volts} were read in {case} where nothing should be: first "
        "take the battery's ground off (on positive ground the positive clamp), whatever runs. "
        "Then see whether {part} opens, whether a relay has welded, and what feeds it past these.",
        "open_part": (
            "{part} is open: {volts} stand across it in {case}.",
            *what_opened("kind"),
        ),
        "open_part_if": (
            "If all readings are right, {part} is open: {volts} stand across it in {case}.",
            *what_opened("kind"),
        ),
        "one_is_open": "If all readings are right, {part} is open. In {case} leave the black lead "
        "at the ground and go from part to part with the red one: it is where the volts go away.",
        "one_is_open_relay": "If all readings are right, {part} is open, or the coil of {relay} "
        "gets nothing. See first whether {relay} clicks in {case}: where it does not, read the "
        "volts across its coil. Where it does, leave the black lead at the ground and go from "
        "part to part with the red one: it is where the volts go away.",
        "worn_part": (
            "If all readings are right, {part} takes {volts} in {case}, {more} more than what was "
            "given for it.",
            *_DO,
        ),
        "perhaps_worn": "If all readings are right, {part} takes {low} to {high} in {case}, {more} "
        "more than what was given for it, and a sound one at most {most}: it may be poor or sound.",
        "takes_more": "If all readings are right, {part} takes {more} more in {case} than what was "
        "given for it, and a sound one may take that: it needs no mending.",
        "one_is_worn": "If all readings are right, one of these takes more in {case} than what was "
        "given for it: {each}. Look first at the ends of the one that does.",
        "some_are_worn": "If all readings are right, {part}, or several of them, take {more} more "
        "in {case} than what was given: read the volts across each, and look first at the ends of "
        "wires.",
        "stays_out": "If all readings are right, {part} does not close its contact in {case}, "
        "though {volts} reach its coil: replace it.",
        "stays_in": "If all readings are right, {part} stays closed in {case}, though its coil has "
        "{volts} only: replace it.",
        "or_battery": "It may as well be {part}: read the volts at its posts with all off, too.",
        "or_another": "It may as well be {part}: read the volts across each.",
        "or_load": "Or else {part} alone is another than was given: put the clamp round it.",
        "mend_open": "Mend that first, and read again: behind an open part no reading tells more.",
        "mend_live": "Mend that first, and read again.",
        "again": "First take the readings that contradict again, or look for what the description "
        "of the circuit leaves out.",
        "nothing_more": "No single reading more is worth taking: none would narrow this by much.",
    },
)

WORDS = {"circuit-fit": CIRCUIT_FIT}
