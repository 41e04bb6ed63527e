"""What is said of the relays of a circuit."""

from lastvolt_service.words.catalogue import CheckWords, Unless, Weigh, When
from lastvolt_service.words.en.relays import NO_SUPPRESSION

# How what goes on with its switch open is stopped, and cured.
_STOP = (
    "To stop it pull the fuse of what it feeds or take off a battery clamp; then take that way off "
    "its coil."
)

# Within the bounds of what is given.
_MEASURE = (
    "Measure {measure} first, or with its switch open the voltage at its coil, before anything is "
    "done about it."
)
_MAY_STAY = (
    "{part}: it may not let go: with its switch open up to {value} are left at its coil over "
    "{detail}, and it opens below {limit}.",
    _MEASURE,
)

CHECKS = {
    "pick_up_at_ambient": CheckWords(
        name="pick-up of the relay, coil cold",
        passes="{part}: {value} reach its coil before it closes and {limit} close it, cold.",
        fails="{part}: only {value} reach its coil and {limit} are needed to close it, cold.",
    ),
    "coil_resistance": CheckWords(
        name="resistance of the relay's coil",
        passes="",
        fails="{part}: its coil has {value}, and one for this voltage no more than {limit}: it is "
        "as good as open, and closes nothing. Replace the relay.",
    ),
    "pick_up_warm": CheckWords(
        name="pick-up of the relay, coil warm from use",
        passes="{part}: {value} reach its coil before it closes and {limit} close it, warm.",
        fails="{part}: only {value} reach its coil and {limit} are needed to close it, warm from "
        "use.",
        unknown="{part}: Give thermal_resistance_k_per_w to know how warm its coil gets.",
    ),
    "coil_polarity": CheckWords(
        name="which way round the relay's coil is",
        passes="",
        fails="",
        unknown="{part}: with a diode across its coil it is for one way round only, 86 on the "
        "positive side, which with positive ground is the ground's. The other way round the diode "
        "shorts the switch and its wire. Mind that, or take one with a resistor.",
    ),
    "relay_voltage": CheckWords(
        name="relay for this voltage",
        passes="{part} closes at {value}: it is made for this voltage.",
        fails=(
            When(
                "detail",
                "for_more",
                "{part} needs {value} to close when it is hot, and this system has {limit}: it is "
                "made for a higher voltage, or its coil gets too hot. Take another relay.",
            ),
            When(
                "detail",
                "for_less",
                "{part} closes at {value}, and a relay for this voltage not below {limit}: it is "
                "made for a lower voltage, and its coil will burn. Take another.",
            ),
        ),
        unknown="{part} closes at {value}, above its own nominal voltage: if it senses what "
        "charges, give it as a switch, and leave that out where it is open; else look up its data.",
    ),
    "hold": CheckWords(
        name="hold of the relay",
        passes="{part}: {value} at the coil hold it; it opens below {limit}.",
        fails="{part}: {value} at the coil do not hold it: it opens below {limit}.",
        unknown="{part}: it opens below {limit}, and no case tells how far the voltage falls while "
        "the starter cranks: add one with the starter motor among the loads, or take a relay that "
        "opens lower.",
    ),
    "highest_ambient": CheckWords(
        name="highest ambient of the relay",
        passes="{part}: it may be at {limit} and its place has {value}.",
        fails="{part}: it may be at {limit} at most and its place has {value}: mount it cooler.",
        unknown="{part}: Give highest_ambient_c, up to which its maker allows it.",
    ),
    "continuous_voltage": CheckWords(
        name="heat of the relay's coil",
        passes="{part}: its coil stands {limit} for as long as it is on and gets {value} at most.",
        fails="{part}: its coil gets {value} and stands only {limit} for as long as it is on: take "
        "a relay of the right voltage, or mount it cooler. If a resistor lies before it by design, "
        "give maximum_v.",
        unknown="{part}: Give nominal_v, or coil_limit_c with thermal_resistance_k_per_w, to know "
        "what its coil stands.",
    ),
    "suppression_resistor": CheckWords(
        name="heat in the resistor across the relay's coil",
        passes="{part}: the resistor across its coil makes {value}; one of a few times the coil's "
        "resistance makes {limit} at most.",
        marginal="{part}: the resistor across its coil makes {value}, and one of a few times the "
        "coil's resistance {limit} at most: it must be made for that heat.",
        fails="{part}: the resistor across its coil makes {value} for as long as the coil is on, "
        "all of it through the coil's wire and switch; one of a few times the coil's resistance "
        "makes {limit} at most. Take one, or a diode: a small one burns.",
    ),
    "switch_off_peak": CheckWords(
        name="switch-off peak of the relay's coil",
        passes=(
            "{part}: switching its coil off puts {value} across the switch, which stands {limit}.",
            When(
                "limit",
                None,
                "{part}: switching its coil off puts {value} across the switch, little more than "
                "the supply.",
            ),
        ),
        fails="{part}: switching its coil off puts {value} across the switch, which stands only "
        "{limit}: clamp the coil lower.",
        unknown="{part}: switching its coil off puts {value} across the switch. Give "
        "switch_limit_v to judge it.",
    ),
    "suppression": CheckWords(
        name="suppression of the relay's coil",
        passes="",
        fails="{part}: nothing limits the peak when its coil is switched off: 1000 V and more, and "
        "the switch stands {limit}. Fit a resistor, diode or zener.",
        marginal=f"{{part}}: {NO_SUPPRESSION}",
        unknown="{part}: Give suppression, what is wired across its coil: without any, 1000 V and "
        "more appear when it is switched off.",
    ),
    "steady_current": CheckWords(
        name="current through the relay's contact",
        passes="{part}: its contact carries {value} of the {limit} that it may carry at its "
        "ambient.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: its contact carries {limit} of the {value} that it may carry at "
                "its ambient. The margin is small.",
                short="{part}: for a moment its contact carries {limit}, and may carry {value} for "
                "hours: it wears.",
            ),
        ),
        fails="{part}: its contact carries {value}, more than the {limit} that it may carry at "
        "its ambient: find out whether its loads should draw so much; else mount it cooler, or "
        "take a larger relay.",
        unknown="{part}: its contact carries {value}, and what it may carry in the heat there is "
        "not known: give rating_a, of the break contact break_rating_a, and where it is hotter "
        "than that is for, the maker's derating up to there.",
    ),
    "inrush": CheckWords(
        name="inrush through the relay's contact",
        passes="{part}: its contact may close on {limit} and its load starts with {value} at most.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: its contact may close on {value} and its load starts with {limit} "
                "at most. The margin is small.",
                short="{part}: its lamps may start with {limit}, and less is as likely, and its "
                "contact may close on {value}: a contact of its rating is usually given as many.",
            ),
        ),
        fails="{part}: its load starts with {value} and its contact may close on {limit}: it can "
        "weld shut.",
        unknown=(
            "{part}: its load may start with {value}: give make_rating_a to judge it.",
            When("value", None, "{part}: Give load_kind or inrush_current_a to judge its inrush."),
        ),
        undecided="{part}: its load may start with {value}, and less is as likely, and its contact "
        "may close on {limit}: measure the first current and give inrush_current_a.",
    ),
    "break_inrush": CheckWords(
        name="inrush through the relay's break contact",
        passes="",
        unknown="{part}: its load at 87a may start with {value}, and make_rating_a is that of 87: "
        "ask its maker what 87a may close on.",
    ),
    "rated_voltage": CheckWords(
        name="rated voltage of the relay's contact",
        passes="{part}: its contact may break {limit} DC and the source reaches {value}.",
        fails="{part}: its contact may break {limit} DC and the source reaches {value}: its arc "
        "may not go out. Take a relay made for this voltage.",
        unknown="{part}: Give rated_v, the DC voltage that its contact is rated for.",
    ),
    "smallest_current": CheckWords(
        name="smallest current of the relay's contact",
        passes="{part}: its load is large enough to keep its contact clean.",
        marginal="{part}: its contact carries {value} and stays clean from {limit} on: with "
        "less it may fail to conduct in time. Take a relay made for small loads.",
    ),
    "closes_alone": CheckWords(
        name="relay with its switch open",
        passes="",
        fails=(
            "{part}: with its switch open {value} reach its coil over {detail} and {limit} close "
            "it: it switches on by itself.",
            _STOP,
        ),
        within_bounds=(
            "{part}: with its switch open up to {value} may reach its coil over {detail} and "
            "{limit} close it: it may switch on by itself, and not let go.",
            _MEASURE,
        ),
    ),
    "holds_itself": CheckWords(
        name="relay with its switch open",
        passes="",
        fails=(
            "{part}: once closed it feeds its own coil: with its switch open {value} are left "
            "there, it opens below {limit}, and what it feeds runs on.",
            "It does so over {detail}.",
            _STOP,
        ),
        unknown="{part}: once closed it holds itself over {detail}, until another of its switches "
        "opens. If it is to, as with a start and a stop button, leave it; else take {detail} off.",
        within_bounds=_MAY_STAY,
    ),
    "does_not_stop": CheckWords(
        name="switch that is to let the relay go",
        passes="",
        fails="{part}: opening it does not let {detail} go, though another switch in the same way "
        "does.",
        unknown="{part}: opening it does not stop {detail}: another switch in the same way does, "
        "which may be meant so, as with a start and a stop button.",
    ),
    "kept_closed": CheckWords(
        name="relay with its switch open",
        passes="{part}: with its switch open {value} are left at its coil over {detail}, and it "
        "opens below {limit}: it lets go.",
        fails=(
            "{part}: with its switch open {value} are left at its coil over {detail}, it opens "
            "below {limit}, and what it feeds runs on.",
            _STOP,
        ),
        within_bounds=_MAY_STAY,
    ),
    "bridged": CheckWords(
        name="way past an open contact",
        passes="",
        fails=(
            When(
                "value",
                None,
                "{part}: {detail} leads past its contact, or that has welded: what it feeds runs "
                "on with it open. To stop it pull its fuse or take off a battery clamp; then take "
                "that way off, or lead it to where {part} rules it, or replace {part}.",
            ),
            Unless(
                "value",
                None,
                "{part}: {detail} leads past it and what is in a row with it, {value} in all: what "
                "they feed runs on with every one of them open. To stop it pull its fuse or take "
                "off a battery clamp; then take that way off, or lead it to where they rule it.",
            ),
        ),
        unknown="{part}: {detail} leads past its contact over a small fuse: find out what for. A "
        "clock's or an alarm's belongs there; else what it feeds runs on with {part} open.",
    ),
    "crossed": CheckWords(
        name="two switched circuits joined",
        passes="",
        fails=(
            When(
                "value",
                None,
                "{part}: it joins what {detail} switch apart: either of them runs what the other "
                "feeds, too, over wires and a fuse that are not for it. Look where their wires "
                "chafe each other, and take it out, unless it belongs there.",
            ),
            Unless(
                "value",
                None,
                "{part}: it joins what both contacts of {detail} switch apart: what is on one of "
                "them runs with the other, too. Look where their wires chafe each other, and take "
                "it out, unless it belongs there.",
            ),
        ),
        unknown="{part}: it joins what {detail} switch apart, and either of them runs what the "
        "other feeds, too: if it is to, leave it; else take it out.",
        undecided="{part}: it joins what {detail} switch apart, and either of them runs what the "
        "other feeds, too, over its own wires and fuse. Switch each on alone and see what runs: if "
        "that is to be so, leave it; else look there for leads that chafe, or are plugged wrongly.",
    ),
    "isolates_one": CheckWords(
        name="isolator of one battery alone",
        passes="",
        fails="{part}: with it open {detail} feeds everything on, for its ground leads past it: "
        "nothing is dead. Take off that battery's ground clamp, too, before any work; then lead "
        "the grounds of both to the same side of {part}.",
    ),
    "cranks_alone": CheckWords(
        name="starter with its switches open",
        passes="",
        fails="{part}: with a switch of it open {value} are at it over {detail}, past every "
        "switch: the engine is cranked with the key let go. Take off a battery clamp; then take "
        "that way off.",
    ),
    "fed_past_isolator": CheckWords(
        name="second battery past the isolator",
        passes="",
        fails="{part}: with it open {detail} feeds everything on, for it is joined past it: "
        "nothing is dead. Take off that battery's ground clamp, too, before any work; then lead "
        "the live cables of both to the same side of {part}.",
        unknown="{part}: with it open {detail} feeds on what lies behind it. If it is there to "
        "part two batteries, leave it, and before any work take off the ground clamps of both.",
    ),
    "switches_nothing": CheckWords(
        name="relay that switches nothing",
        passes="",
        fails="",
        undecided="{part}: nothing else is at its contact's end {detail}, so it switches nothing, "
        "and what it is to switch is on or off whatever it does: see whether its wire or its feed "
        "is at another terminal, and lead it to {detail}.",
        unknown="{part}: nothing else is at its make contact's end {detail}: what hangs on its "
        "break contact goes off when it pulls in. If it is to go on then, lead its wire to "
        "{detail}.",
    ),
    "always_closed": CheckWords(
        name="switch of the relay's coil",
        passes="",
        fails="",
        undecided="{part}: no switch leads to its coil: it is closed day and night, and what it "
        "feeds is on. Its coil alone draws {value} and empties the battery. Feed it from what the "
        "key switches; if a switch lies before it, give that.",
        unknown=(
            When(
                "detail",
                None,
                "{part}: no switch leads to its coil, and without one it is closed day and night, "
                "what it feeds is on, and its coil alone draws {value} and empties the battery. "
                "Give the switch.",
            ),
            "{part}: its coil hangs behind {detail}: at D+ it is fed only while that charges, as "
            "it should be; where it is live with the engine at rest it draws {value} day and "
            "night. Measure there.",
        ),
    ),
    "relay_rest": CheckWords(
        name="relay at rest",
        passes="",
        fails=(
            "{part}: it neither holds nor releases: its contact takes away its own coil's voltage.",
            When("detail", None, "Feed the coil from a point that sags less."),
            "That is lost in {detail}: clean, tighten or replace that first.",
        ),
    ),
    "coil_over_break": CheckWords(
        name="relay at rest",
        passes="",
        fails="{part}: its coil is fed over the break contact, 87a, of {detail}, which opens as "
        "soon as it has pulled in: it buzzes. Unless it is to be a buzzer, feed its coil from "
        "before that contact.",
    ),
    "first_wins": CheckWords(
        name="which of two relays is first",
        passes="",
        fails="",
        unknown="{part}: with all switched on at once it and another relay bar each other, and the "
        "one that is on first keeps the other off. Give that one in held.",
    ),
}
