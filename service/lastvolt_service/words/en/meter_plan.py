"""What is said of a plan of readings."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Text, When
from lastvolt_service.words.en.circuit_fit import CHECKS as OF_FITS
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS
from lastvolt_service.words.en.work_sheet import MAKE_SAFE, READINGS

_PULL_IN = "While the plunger pulls in, {least_s} to {most_s}, which a meter misses:"
_KNOWN = (
    "Or put a known load of {known_ohm} in the place of {load}: nothing turns, and the meter "
    "stands still. It takes {known_w:up} and gets red hot in seconds: read at once, and let go. "
    "Where the plunger does not move, it lasts as long as {switch} is closed."
)
_CRANKING = (
    "While the engine is cranked, for {at_a_time_s} at most; let the meter hold the least volts "
    "and the most amperes."
)
_TELLS: dict[str, Text] = {
    **READINGS,
    "at_rest": "What the battery holds, all off.",
    "cranking": "What the battery holds while the engine is cranked.",
    "across_part": "What {part} drops.",
    "new_feed": "What is lost from {feed_node} to the relay.",
    "through_part": "What flows through {part}.",
    "pulling_in": "What reaches {load} while its plunger moves: that decides.",
    "switched_off": "Whether {load} is off with {switch} open again.",
}
_HOW: dict[str, Text] = {
    "how_at_rest": "All off, the engine too: the longer it has stood, the truer.",
    "how_steady": "With {switch} closed and {load} on, until the meter is steady.",
    "how_running": "With the engine running, outdoors or its exhaust led out, {switch} closed and "
    "{load} on, until the meter is steady.",
    "how_switched_off": "Once {switch} is open again, before anything else is read.",
    "how_cranking": _CRANKING,
    "how_cranking_unseen": (
        _CRANKING,
        "What it should show is not known: the motor does not stand in the circuit.",
    ),
    "how_pull_in_most": (
        _PULL_IN,
        "let it hold the most, or take a recording.",
        _KNOWN,
    ),
    "how_pull_in_least": (
        _PULL_IN,
        "take a recording, or let it hold the least where no engine is cranked then, for that dips "
        "lower.",
        _KNOWN,
    ),
}
_MEANS: dict[str, Text] = {
    "rest_more": "It was charged just now: put the lamps on for a minute, then off, and read "
    "again.",
    "rest_less": "It is low or worn: charge it and test it before any wiring is blamed.",
    "supply_more": "Less flows than was reckoned: compare the amperes.",
    "supply_less": "The battery is weak, or its clamps are: read on the posts, then on the clamps, "
    "and charge and test it first.",
    "charging_more": "The regulator holds more than was reckoned, or less flows: compare the "
    "amperes.",
    "charging_less": (
        "Too little charges: look at the generator, its belt, its lead and its ground, and read "
        "at its own terminals.",
        "That is {charger}.",
    ),
    "cranking_more": "Cranking draws little: poor main cables or worn brushes.",
    "cranking_less": "The battery is weak, or the engine turns hard: charge it and test it first.",
    "load_more": "Less is lost than was reckoned: no harm.",
    "load_less": "More is lost than was reckoned: the readings of the way there and back say "
    "where.",
    "side_more": "Too much is lost here: its parts, one by one, say where.",
    "side_less": "Less is lost here, or less flows: compare the amperes.",
    "contact_more": "{part} is worn or dirty: clean it or renew it.",
    "fuse_more": "{part} or its holder is corroded: clean it or renew the holder.",
    "joint_more": "{part} is loose or corroded: clean to bare metal and tighten it.",
    "wire_more": "{part} has broken strands or a poor crimp, or is longer or thinner than was "
    "given.",
    "resistance_more": "{part} has more resistance than was given.",
    "part_less": "{part} is better than was given, or less flows: compare the amperes.",
    "through_more": "More flows than was reckoned: a winding of {load} has a short, or something "
    "else is fed through {part}.",
    "through_more_unwound": "More flows than was reckoned: {load} or its wires have a short, or "
    "something else is fed through {part}.",
    "through_less": "Less flows than was reckoned: the way has more resistance, or {load} is open "
    "in part.",
    "new_feed_more": "The new feed is poor: look at its fuse, the holder and the crimps.",
    "new_contact_more": "If it is nearly all that the battery holds, {part} does not close; else "
    "its contact or its terminals are poor.",
    "coil_more": "Less is lost on the old way than was reckoned: no harm.",
    "coil_less": "{part} may not close: the old way is poorer than was reckoned.",
    "own_coil_more": "Less is lost on the way to the coil of {part} than was reckoned: no harm.",
    "own_coil_less": "{part} may not close: its coil gets less than was reckoned. What is lost to "
    "it and back, part by part, says where.",
    "off_more": "{load} is live with {switch} open: the relay is welded, or holds itself. Take the "
    "ground off the battery first, whatever runs; then look at the wires.",
    "off_more_as_is": "{load} is live with {switch} open: {switch} or a relay sticks, or another "
    "wire feeds it. Take the ground off the battery first, whatever runs; then look for it.",
    "off_less": "The leads are the wrong way round.",
}
_WRONG: dict[str, Text] = {
    "see_wiring": "See first how {part} is wired.",
    "shows_where": "About {shown}: {why}.",
    "wired_right": "If it is wired as described: {own}",
    "wrong_coil_swapped": "coil and contact of {part} are changed about, the old wire on 30 and "
    "the feed on 86",
    "wrong_old_wire_left_on": "the old wire is on {load} still, beside {part}",
    "wrong_fed_from": "the feed is taken from {node} and not from {feed_node}",
    "wrong_coil_not_switched": "the coil is joined past {switch}, and {load} cannot be switched "
    "off",
    "wrong_does_not_close": "{part} does not close: its coil is open, or has no feed or no ground",
}
_SOUND: dict[str, Text] = {
    "sound_part": (
        "A sound one takes {most} at most.",
        "That is at {at_a}; with less flowing it takes less.",
    ),
    "sound_wire": "A new one takes {most} at most.",
    "sound_side": "With all sound {most} are lost here at most.",
    "sound_load": "{load} works from {least} on.",
    "sound_amperes": "{load} gets what it works from with {least} and more.",
    "sound_coil": "{part} closes from {least} on.",
    "sound_coil_holds": "{part} holds down to {least}.",
    "sound_at_rest": "A charged battery shows {least} at least.",
    "sound_supply": "A charged and sound battery keeps {least} at least.",
    "sound_cranking": "A charged and sound battery keeps {least} at least.",
    "sound_charging": "What charges keeps {least} at least.",
    "given_may_be_poor": "As it was given it may not be so: then what passes is a fault all the "
    "same.",
    "given_poor": "As it was given it is not so: what passes is a fault all the same.",
    "described_poor": "With the relay as it is described it may not be so: see to that first.",
    "mend_from": (
        "From {worn} on clean, tighten or replace {part}.",
        "As bad as it may be it costs {load} {costs_v}.",
    ),
    "part_may_be_poor": "{part} may be worn as it was given, and then costs {load} up to {costs_v} "
    "in {case}: reading {number} tells.",
    "part_poor": "{part} is worse than sound as it was given, and costs {load} up to {costs_v} in "
    "{case}: reading {number} tells.",
    "way_not_judged": "Whether {part}, its wires and its fuse may be built so is not judged here: "
    "relay-retrofit does that.",
}
_BEFORE: dict[str, Text] = {
    "make_safe": MAKE_SAFE,
    "fans": "Hands, hair, sleeves and leads clear of fans and belts: an electric fan may start "
    "with all off.",
    "sockets": "Leads in the volt sockets of the meter, set to volts of direct current: in the "
    "socket for 10 A they are a short.",
    "clamp": "Amperes by a clamp for direct current, set to zero before each reading, round one "
    "insulated cable: never through the sockets of the meter, never round bare metal.",
    "terminals": "Hold the tips to the metal of the terminals themselves, first the black one, and "
    "let them touch nothing else: a slipped tip is a short.",
    "pauses": "Hold {switch} for {on_s} at most, and let all cool for {off_s} then.",
    "write": "Write each reading down before the next, and what was on.",
}
_JUMPER: dict[str, Text] = {
    "jumper": (
        "If {load} does not work though the battery is sound: out of gear, wheels chocked, hands "
        "clear, {switch} open, clip a jumper to {start}, its fuse there, and hold the other end to "
        "{end} for a second.",
        "It carries {current_a:up}.",
        "A fuse of {fuse_a} holds that: take a wire that this protects.",
    ),
    "jumper_cranks": "It cranks: the way to {load} is at fault, and the readings say where.",
    "jumper_does_not": "It does not, and the ground side is sound: {load} itself, worn brushes, or "
    "the motor.",
    "jumper_again": "Do it once more hot-soaked, when the engine was stopped hot a few minutes "
    "ago: what fails only then is a winding that needs more volts when it is hot.",
}

_WORKS = OF_FITS["load_voltage"]
CHECKS = {
    "load_voltage": CheckWords(
        name=_WORKS.name,
        passes=(
            When("detail", None, _WORKS.passes),
            When(
                "detail",
                "with_relay",
                "{part}: with the relay {value} at least reach it in {case}, and it needs {limit}: "
                "{apart} to spare.",
            ),
        ),
        fails=(
            When("detail", None, _WORKS.fails),
            When(
                "detail",
                "with_relay",
                "{part}: with the relay, too, only {value} reach it in {case}, and it needs "
                "{limit}: {apart} short.",
            ),
        ),
        unknown=_WORKS.unknown,
        undecided=(
            When("detail", None, _WORKS.undecided),
            When(
                "detail",
                "with_relay",
                "{part}: with the relay it may be that only {value} reach it in {case}, and it "
                "needs {limit}: up to {apart} short. What is known does not decide.",
            ),
        ),
    ),
    "relay_closes": CheckWords(
        name="whether the relay closes",
        passes="{part} closes in {case}: {value} at its coil, and it needs {limit}.",
        fails="{part} does not close in {case}: {value} at its coil, and it needs {limit}. Do not "
        "build it so.",
        undecided="It may be that {part} does not close in {case}, or not for long: {value} at its "
        "coil, and it needs {limit}.",
    ),
    "relay_voltage": OF_CIRCUITS["relay_voltage"],
    "switch_spared": CheckWords(
        name="whether the relay spares the switch",
        passes="",
        fails="{part} carries {value} in {case} with the relay, too, and spared it carries less "
        "than {limit}: the feed comes from behind it. Take the feed from the battery.",
    ),
    "way_built": CheckWords(
        name="wires, fuse and ratings of the relay",
        passes="",
        unknown="Whether {part}, its wires and its fuse bear what they carry is not judged here: "
        "ask relay-retrofit before it is built.",
    ),
}

METER_PLAN = OperationWords(
    headline=(
        "{load_message}",
        "{part_message}",
        "{readings.count} readings in all.",
        "{way_message}",
    ),
    facts=(
        "First: {readings.0.text} {readings.0.how}",
        "{jumper.text}",
        ("{jumper.if_it_cranks}", "{jumper.if_it_does_not}"),
    ),
    checks=CHECKS,
    reasons={
        **_TELLS,
        **_HOW,
        **_MEANS,
        **_WRONG,
        **_SOUND,
        **_BEFORE,
        **_JUMPER,
        "round": (
            "{case}: {switch} closed, {ambient_c} round {load}.",
            "On: {on}.",
            "The ageing of {aged} is left out: what is there today is read.",
            "Older by itself and no case to be read today: {older}.",
        ),
        "round_running": "With the engine running.",
        "round_rest": "The battery is read first with all off.",
        "round_no_rest": "No battery rests at {emf_v}: it is not read at rest.",
        "at_load": "As it is, between {low} and {high} reach {load} in {case}: reading {number}.",
        "at_load_sure": "As it is, {low} reach {load} in {case}: reading {number}.",
    },
)

WORDS = {"meter-plan": METER_PLAN}
