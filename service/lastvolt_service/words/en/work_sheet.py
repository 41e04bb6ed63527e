"""What is said on a work sheet."""

from lastvolt_service.words.catalogue import OperationWords, Text, When
from lastvolt_service.words.en.decision import CHECKS

_FIRST = "{missing.0.message}"
# Advice that is told beside a sheet, for the relay is not all of it.
_ADVICE = "Before it is built: {advice_headline}"
_ASIDE = (
    "mend", "mend_then_relay", "not_the_wiring", "battery_first", "nothing_needed",
    "find_out_first", "none_suffices",
)  # fmt: skip

# What a shop calls the families of ISO 8820. Common practice.
_PLAIN_FAMILIES = (
    When("family", "blade C", "That is the standard blade fuse."),
    When("family", "blade F", "That is the small blade fuse, called mini."),
    When("family", "blade E", "That is the large blade fuse, called maxi."),
)
# Leads, parts and terminals.
_CUT: dict[str, Text] = {
    "length_not_known": "Measure its way.",
    "size_of_old": "As thick as {lead}, whose fuse protects both.",
    "size_like": "As thick as {lead}.",
    "as_given": "Slack as given.",
    "usual": "A tenth of slack, by practice.",
    "moving_engine": "A quarter of slack, by practice: the engine moves.",
    "least": "0.1 m of slack at least, by practice, for a drip loop and a new crimp.",
    "relay": (
        "{name}.",
        "Coil for {nominal_v}.",
        "Contact for {rating_a}.",
        "One for each {one_for_each}.",
    ),
    "relay_socket": (
        "Socket for {name}, with locking receptacles and a hole to mount it by.",
        "Good for {rating_a}.",
        "One for each {one_for_each}.",
    ),
    "fuse": (
        "{name}.",
        "Rated {rating_a}.",
        "Family {family}.",
        *_PLAIN_FAMILIES,
        "One for each {one_for_each}.",
    ),
    "fuse_holder": (
        "Closed holder for {name}, next to {feed_node}.",
        "Good for {rating_a} or more.",
        "One for each {one_for_each}.",
    ),
    "contact": ("{name}.", "Rated {rating_a}."),
    "resistance": "{name}.",
    "spare_relay": "A second {name}, to stay in the vehicle.",
    "spare_fuse": ("A second {name}, to stay in the vehicle.", "Rated {rating_a}."),
}
_POST_OFF = (
    When(
        "positive",
        False,
        "All off, key out. Take the cable off the negative post of the battery, the one joined to "
        "the body, and tie it back: first off, last on.",
    ),
    When(
        "positive",
        True,
        "All off, key out. Positive ground: take the cable off the positive post of the battery, "
        "the one joined to the body, and tie it back: first off, last on.",
    ),
)
MAKE_SAFE: Text = (
    When(
        "starts",
        True,
        "Neutral or park, brake on, wheels chocked, ignition disabled; hands clear of belts "
        "and ring gear.",
    ),
    When("starts", False, "Brake on, wheels chocked."),
)
# In the first step: the whole of the advice, with its numbers, is in the headline.
_ADVICE_FIRST: Text = (
    "Before any of this:",
    When(
        "advice",
        "find_out_first",
        "measure what the headline names; only then is it known whether this relay is what helps.",
    ),
    When(
        "advice",
        "mend",
        "mend what the headline names, once the first readings are taken, and take them again: it "
        "may be all it takes.",
    ),
    When("advice", "not_the_wiring", "see to the load itself, as the headline says."),
    When("advice", "battery_first", "charge the battery and have it tested."),
    When("advice", "nothing_needed", "ask whether it is worth it: nothing is short as it is."),
    When("advice", "none_suffices", "read the headline: with this relay it is not enough, either."),
)
# What is weak only when it is hot is read when it is: common practice.
_READ_SOAKED = (
    "Those of a hot case are taken a few minutes after a stop, the engine hot, hands clear of "
    "what burns."
)
_ORDER: dict[str, Text] = {
    "advice_first": _ADVICE_FIRST,
    "mend_first": "Mend {parts} before the relay is fitted: with both {mended_v} reach the load.",
    "shows_one_beam": "This sheet shows the relay for one beam of {load}, dipped or main. The "
    "other takes a relay, a fuse and leads of its own, wired in the same way, its coil fed by the "
    "old wire of its own beam. Best is a fuse for each lamp, so that never both go dark at once.",
    "shows_one_speed": "This sheet shows the relay for one speed of {load}. Each other speed "
    "takes a relay, a fuse and leads of its own. Wipers that park by themselves may overrun behind "
    "a plain relay: look at their wiring diagram first.",
    "make_safe": MAKE_SAFE,
    "read_before": (
        When("still", False, "Take the first readings, with all as it is, and write them down."),
        When("still", True, "Take the first readings as it is said above them: nothing may turn."),
        When("soaked", True, _READ_SOAKED),
    ),
    "try_side": (
        "With {switch} off, read from {lead}, at {load}, to the body: it must be dead. If the "
        "battery's voltage is there, stop: {switch} joins {load} to the other side. Ask again with "
        "the switch there.",
        When(
            "positive",
            False,
            "The wiring is then: 30 and 86 to the fuse, 85 to the wire from {switch}, 87 to "
            "{load}, its other terminal to the body.",
        ),
    ),
    "post_off": _POST_OFF,
    "other_batteries": "Do the same at {batteries}.",
    "mount": (
        "Mount {relay} on the body, off the engine and away from what gets hot, terminals down.",
        "Its zone: {zone}.",
        When(
            "soaked",
            True,
            "For 15 to 30 minutes after a stop heat soaks through: not above exhaust or radiator.",
        ),
    ),
    "mount_holder": "Mount the holder of {fuse} as close to {feed_node} as it goes, the fuse out.",
    "cut": "Cut and crimp the leads of the list, and mark both ends with their number.",
    "old_lead_off": (
        "Take {lead} off {load} [{terminal}].",
        When("several", False, "Leave its terminal on; tag it."),
        When(
            "several",
            True,
            "Leave the terminals on, joined to one another; tag them.",
        ),
        "If any other wire is there, stop, and ask again with it: left on, it can hold the relay.",
    ),
    "old_lead_unused": "Cover the end of {lead} and tie it back: it is not used.",
    "draw_anew": "Draw {wire} anew, {size}, all the way, and take the old one out: it is too thin "
    "for what the relay is to bring.",
    "coil_with_diode": "Join {at_86} to 86 and {at_85} to 85: 86 has plus. A diode lies across "
    "the coil of {relay}: the other way round it is a short.",
    "coil_may_have_diode": "Join {at_86} to 86 and {at_85} to 85: 86 has plus. Whether a diode "
    "lies across the coil of {relay} is not known: the other way round it would be a short.",
    "coil_as_you_like": "Join {at_86} to 86 and {at_85} to 85. No diode lies across the coil of "
    "{relay}: it may be turned round.",
    "join_contact": "Join 30 to the lead from {feed_node}, and 87 to that to {load} [{terminal}].",
    "load_ground": "Ground {load} at {node}.",
    "interlocks_stay": "Leave {parts} in the branch of the coil, and let nothing go round.",
    "lay": (
        "Lay the leads clear of exhaust and steering, through grommets, tied down, each with a "
        "drip loop below its terminal.",
        When("starts", True, "Leave the slack where the engine moves."),
    ),
    "check_cold": "Post off, fuse out: check every line of the wiring, and that 30 of {relay} has "
    "no continuity to the body.",
    "fuse_in": ("Put {fuse} in.", "{rating_a}, and no larger one."),
    "post_on": (
        When("positive", False, "Put the cable back on the negative post, last of all cables."),
        When("positive", True, "Put the cable back on the positive post, last of all cables."),
    ),
    "try_dry": (
        When("fused", True, "Leave the fuse out yet, so that nothing turns while you try:"),
        When("fused", False, "Take the lead off 87 and cover it, so that nothing turns:"),
        "with the switch on {relay} closes, with it off {relay} opens.",
    ),
    "end_dry": "Post off, the lead back on 87, post on.",
    "alone": "With {part} open and the others closed, try: {relay} must not close.",
    "side_by_side": "With {part} and those beside it open, try: {relay} must not close.",
    "isolator": "With {part} open, try: {relay} must not close, and {feed_node} must be dead.",
    "try_all": (
        "Switch on: {relay} closes once, without buzzing, and {load} must work. Switch off: {load} "
        "must be off at once. If it goes on, the contact has welded, or something holds the relay:",
        "pull {fuse}.",
        When("fuse", None, "take the cable off the post."),
    ),
    "read_after": (
        "Take the readings again, and hold them against what is expected.",
        When("soaked", True, _READ_SOAKED),
    ),
    "roadside": (
        "By the roadside, should the relay fail: post off, the lead from 87 off {load} and "
        "covered,",
        When("regrounded", True, "its new ground lead off,"),
        "{leads} back on {terminals}.",
    ),
    "spares": "Leave the spare relay and fuse in the vehicle, and this sheet with them.",
}
# What a reading tells, by its code; a plan of readings says the same.
READINGS: dict[str, Text] = {
    "supply": "What the battery holds, all on.",
    "across_load": "What reaches {load}.",
    "live_side": "What is lost on the way to {load}.",
    "ground_side": "What is lost on the way back.",
    "across_switch": "What {switch} drops.",
    "across_contact": "What the relay's contact drops.",
    "across_coil": "What the relay's coil has.",
}
_METER: dict[str, Text] = {
    "meter_note": (
        "With {switch} closed and {load} on, leads in the volt sockets of the meter: in that for "
        "10 A they are a short.",
        When(
            "pulls_in",
            "starter",
            "These volts hold until it turns: with the battery's ground cable off, take the heavy "
            "cable off the starter with all that is on its stud, insulated together; ground cable "
            "on, and off before the heavy one goes back. Hold the key two seconds at a time.",
        ),
        When(
            "pulls_in",
            "other",
            "These are the volts while its plunger moves, a tenth of a second, which a meter "
            "misses: where more reaches it once it is in, take a recording.",
        ),
    ),
    "no_sheet": "There is no sheet to work by: what stands in the way comes first.",
}

WORK_SHEET = OperationWords(
    verdict=(
        When("sheet", "ready", "Work sheet"),
        When("sheet", "not_safe", "No sheet, do not build it so"),
        When("sheet", "not_known", "No sheet, find out first"),
        When("sheet", "falls_short", "No sheet, this relay does not do it"),
    ),
    headline=(
        When(
            "sheet",
            "ready",
            (
                "{proposal.relay.name} for {load}, {wires.count} leads to cut, {wiring.count} "
                "connections, {order.count} steps.",
                "That is for one {proposal.one_for_each}: each takes its own.",
                *(When("advice", each, _ADVICE) for each in _ASIDE),
            ),
        ),
        When("sheet", "not_safe", _FIRST),
        When("sheet", "not_known", _FIRST),
        When("sheet", "falls_short", ("In {poorest_case} it falls short:", _FIRST)),
    ),
    facts=(
        (
            When(
                "sheet",
                "ready",
                "30 takes its feed from {proposal.feed_node}, 87 goes to {load}; the sheet itself "
                "has every terminal and every step.",
            ),
        ),
        "First: {order.0.text}",
        "{meter_note}",
    ),
    checks=CHECKS,
    reasons={**_CUT, **_ORDER, **READINGS, **_METER},
)

WORDS = {"work-sheet": WORK_SHEET}
