"""What is said of whole circuits."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When
from lastvolt_service.words.en.relays import NO_SUPPRESSION

_GASSES = (
    "{part}: {value} gas a battery that is not cold, from {limit} on, and wear lamps: measure what "
    "the regulator holds, warm, and mend it."
)

CHECKS = {
    "charge": CheckWords(
        name="state of charge",
        passes="{part}: it is charged well enough, to {value}.",
        unknown="{part}: its charge is not given and taken as full: measure its voltage at rest.",
        marginal=(
            "{part}: it is charged to {value}.",
            When("detail", None, "Charge it to three quarters first."),
            When("detail", "frozen", "Warm it up before it is charged: it may be frozen."),
        ),
        fails=(
            "{part}: it is charged to {value} only.",
            When("detail", None, "Charge it, and test it, before any wiring is blamed."),
            When("detail", "frozen", "Warm it up before it is charged: it may be frozen."),
            When("detail", "frozen_or_dead", "Warm it up first: it may be frozen."),
            *(
                When(
                    "detail",
                    detail,
                    "No flat battery of this system has so little at rest: a cell may be dead, or "
                    "it is one of another system. Find out before it is charged: the sound cells "
                    "gas.",
                )
                for detail in ("dead_cell", "frozen_or_dead")
            ),
        ),
    ),
    "source_voltage": CheckWords(
        name="voltage of the source",
        passes="",
        marginal=(
            When("detail", "gasses", _GASSES),
            When(
                "detail",
                "charges_nothing",
                "{part}: {value} charge no full battery, which takes {limit} or more: mend the "
                "regulator, or measure what it holds.",
            ),
        ),
        fails=(
            When(
                "detail",
                None,
                "{part}: {value} are too much for this system, {limit} at most: stop charging and "
                "mend the regulator before anything else, for the battery boils and lamps burn "
                "out.",
            ),
            When(
                "detail",
                "other_system",
                "{part}: its {value} are too much for this system, {limit} at most: do not join "
                "them, for the battery bursts and lamps burn out.",
            ),
            When("detail", "gasses", _GASSES),
            When(
                "detail",
                "lower_system",
                "{part}: its {value} are too little beside this battery, {limit} at least: a cell "
                "is dead, or it is of another system. Do not join them: the battery drives a "
                "current into it that cables and it don't bear.",
            ),
            When(
                "detail",
                "turned",
                "{part}: its posts are joined the wrong way round: do not join them so, for cables "
                "burn and batteries burst.",
            ),
        ),
        undecided="{part}: {value} are too much for one system and too little for the next: give "
        "nominal_v. If it is the lower one, stop charging: the regulator runs away.",
    ),
    "freezing": CheckWords(
        name="freezing of the electrolyte",
        passes="{part}: as it is charged its electrolyte freezes at {limit}, and it is {value}.",
        unknown="{part}: its charge is not known, a flat one freezes at {limit}, and it is "
        "{value}: measure its voltage at rest before it is charged or jump-started.",
        fails="{part}: as it is charged its electrolyte freezes at {limit}, and it is {value}: it "
        "may be frozen. Do not charge it or jump-start it; warm it up first.",
        undecided="{part}: within what is known of it its electrolyte freezes at {limit}, and it "
        "is {value}: it may be frozen. Do not charge it or jump-start it; warm it up first.",
    ),
    "battery_resistance": CheckWords(
        name="resistance of the battery itself",
        passes="",
        fails="{part}: it has {value} inside, and a sound one about {limit}: test it, and replace "
        "it if it fails, before any wiring is blamed.",
    ),
    "sag": CheckWords(
        name="sag of the battery",
        passes="{part}: {value} are left at its posts, and a load test asks a sound one for "
        "{limit}.",
        fails="{part}: only {value} are left at its posts, and a load test asks a sound one for "
        "{limit}: test it, and look for what draws too much, before any wiring is blamed.",
        undecided="{part}: by its charge and age it may be left with less at its posts than the "
        "{limit} that a load test asks for. Measure its internal resistance: the sag at a known "
        "current, over that current.",
    ),
    "cranking_rating": CheckWords(
        name="current within the cold-cranking rating",
        passes="{part}: {value} are drawn of the {limit} that it is rated for in the cold.",
        fails="{part}: {value} are drawn, more than the {limit} that it is rated for in the cold: "
        "take a larger battery, or look for what draws so much.",
    ),
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{part}: {value} arrive and {limit} are needed, {apart} to spare.",
        fails="{part}: only {value} arrive and {limit} are needed, {apart} short.",
        unknown="{part}: Give what keeps it closed to judge whether it holds.",
    ),
    "made_for": CheckWords(
        name="load for this voltage",
        passes=(
            When("detail", "for_less", "{part} pulls in at {value}: it is made for this voltage."),
            When(
                "detail",
                "lamp_for_less",
                "{part} gets {value} and stands {limit}: it is made for this voltage.",
            ),
        ),
        marginal="{part} pulls in at {value} cold already, and one for this voltage hardly below "
        "{limit}: if it is made for a lower one, its windings burn.",
        fails=(
            When(
                "detail",
                "for_less",
                "{part} pulls in at {value} cold already, and one for this voltage not below "
                "{limit}: it is made for a lower one, and its windings burn. Take another.",
            ),
            When(
                "detail",
                "for_more",
                "{part} pulls in at {value} even when cold, and this system has {limit}: it is "
                "made for a higher voltage. Take another.",
            ),
            When(
                "detail",
                "motor",
                "{part} makes {limit} itself at its speed and gets {value}: it takes no current "
                "and cannot keep that speed. Take another, or give its back_v for what it gets.",
            ),
            When(
                "detail",
                "lamp_for_less",
                "{part} gets {value} and burns out soon above {limit}: it is made for a lower "
                "voltage. Take another.",
            ),
            When(
                "detail",
                "lamp_for_more",
                "{part} is made for {value}, and no lamp of this system for more than {limit}: it "
                "only glows. Take another.",
            ),
        ),
    ),
    "full_voltage": CheckWords(
        name="what the load needs at all",
        passes="",
        fails=(
            "{part} needs {limit} and its sources have {value} without load: no wiring cures that. "
            "Charge the battery, or take a part for this system.",
            When(
                "detail",
                "solenoid",
                "If it is for this system, let it cool, and look at its windings and the "
                "starter's brushes.",
            ),
        ),
    ),
    "open_end": CheckWords(
        name="an end that leads nowhere",
        passes="",
        unknown="{part}: nothing else is at {detail}. If it is to lead on, give that node the name "
        "that the next part has for it.",
    ),
    "operating_point": CheckWords(
        name="operating point of a load",
        passes="",
        fails="{part}: it cannot work here, and is taken as off. {detail}",
    ),
    "load_off": CheckWords(
        name="load that is off",
        passes="{part}: it is off in this case, with what is left out of its way.",
        fails="",
    ),
    "path_drop": CheckWords(
        name="drop of the whole path",
        passes="{part}: {value} of the {limit} allowed are lost on the way.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: {limit} of the {value} allowed are lost on the way. The margin is "
                "small.",
                short="{part}: {limit} are lost on the way, more than {value}: what it needs "
                "decides.",
            ),
        ),
        fails="{part}: {value} are lost on the way, more than {limit}.",
    ),
    "pick_up_at_ambient": CheckWords(
        name="pick-up of the relay, coil cold",
        passes="{part}: {value} reach its coil before it closes and {limit} close it, cold.",
        fails="{part}: only {value} reach its coil and {limit} are needed to close it, cold.",
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
    ),
    "hold": CheckWords(
        name="hold of the relay",
        passes="{part}: {value} at the coil hold it; it opens below {limit}.",
        fails="{part}: {value} at the coil do not hold it: it opens below {limit}.",
        unknown="{part}: it opens below {limit}, and no case tells how far the voltage falls while "
        "the starter cranks: add one with the starter motor among the loads.",
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
        fails="",
        marginal=f"{{part}}: {NO_SUPPRESSION}",
        unknown="{part}: Give suppression, what is wired across its coil: without any, 1000 V and "
        "more appear when it is switched off.",
    ),
    "steady_current": CheckWords(
        name="current through the relay's contact",
        passes="{part}: its contact carries {value} of the {limit} that it may carry at its "
        "ambient.",
        fails="{part}: its contact carries {value}, more than the {limit} that it may carry at "
        "its ambient: mount it cooler, or take a larger relay.",
        unknown="{part}: its contact carries {value}, and no rating is given for its ambient: give "
        "rating_a, of the break contact break_rating_a, and the maker's derating up to there.",
    ),
    "inrush": CheckWords(
        name="inrush through the relay's contact",
        passes="{part}: its contact may close on {limit} and its load starts with {value} at most.",
        fails="{part}: its load starts with {value} and its contact may close on {limit}: it can "
        "weld shut.",
        unknown=(
            "{part}: its load may start with {value}: give make_rating_a to judge it.",
            When("value", None, "{part}: Give load_kind or inrush_current_a to judge its inrush."),
        ),
        undecided="{part}: its load may start with {value}, and less is as likely, and its contact "
        "may close on {limit}: measure the first current and give inrush_current_a.",
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
        marginal="{part}: its contact carries {value} and stays clean from {limit} on: with less "
        "it may fail to conduct in time. Take a relay made for small loads.",
    ),
    "relay_rest": CheckWords(
        name="relay at rest",
        passes="",
        fails="{part}: it neither holds nor releases: its contact takes away its own coil's "
        "voltage. Feed the coil from a point that sags less.",
    ),
    "contact_drop": CheckWords(
        name="drop of the contact",
        passes="{part}: it drops {value}, as a sound {detail} does.",
        marginal="{part}: it drops {value}, and a sound {detail} at most {limit}: look at it "
        "again before long.",
        fails="{part}: it alone drops {value}, a sound {detail} at most {limit}: clean, tighten or "
        "replace it.",
    ),
    "contact_current": CheckWords(
        name="current through the contact",
        passes="{part}: it carries {value} of its {limit}.",
        fails="{part}: it carries {value}, more than its {limit}.",
        unknown="{part}: it carries {value}. Give rating_a to know whether it bears that.",
    ),
    "fuse_load": CheckWords(
        name="fuse carries its load",
        passes="{part}: it carries {value} and may carry {limit} for as long.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: it carries {limit} and may carry {value} for as long. The margin "
                "is small.",
                short="{part}: it carries {limit}, and practice allows {value} for as long: it "
                "ages, and opens some day.",
            ),
        ),
        fails="{part}: it carries {value} and may carry {limit} for as long: it will "
        "open. Find out whether its loads should draw so much; only then take a larger one, which "
        "its wires must bear.",
        unknown="{part}: {detail}",
    ),
    "conductor_temperature": CheckWords(
        name="conductor temperature",
        passes="{part}: The conductor reaches {value}; its insulation bears {limit}.",
        fails=(
            "{part}: The conductor reaches {value} and its insulation bears {limit}: take a larger "
            "size, better insulation, a cooler place or fewer wires in the loom.",
            When(
                "value",
                None,
                "{part}: The wire finds no steady temperature: it heats up without end. Take a "
                "larger size or less current.",
            ),
        ),
    ),
    "wires_heat": CheckWords(
        name="heat of the wires",
        passes="",
        unknown="Whether {detail} can bear the current was not judged: give it as a wire, with "
        "size, length and insulation.",
    ),
    "permissible_current": CheckWords(
        name="current that the wire may carry",
        passes="{part}: The wire may carry {limit} steadily and carries {value}.",
        fails="{part}: The wire may carry {limit} steadily and is asked for {value}: take a larger "
        "size, better insulation, a cooler place or fewer wires in the loom.",
    ),
    "duty_current": CheckWords(
        name="current that the wire may carry for the time",
        passes="{part}: The wire may carry {limit} for so long and carries {value}.",
        fails="{part}: The wire may carry {limit} for so long and is asked for {value}: take a "
        "larger size, or a shorter time.",
    ),
    "charger_current": CheckWords(
        name="most that a charger gives",
        passes="{part}: {detail} gives {value} at most and it bears {limit}.",
        fails="{part}: {detail} gives up to {value} into a flat battery and it bears {limit}: take "
        "a larger one, or fuse it for what it bears.",
    ),
    "fuse_rating": CheckWords(
        name="rating of the fuse",
        passes="",
        unknown="{part}: Give rating_a to judge whether it carries its load and protects its "
        "wires.",
    ),
    "fuse_bypassed": CheckWords(
        name="a way past a fuse",
        passes="",
        fails="{part}: {detail} leads straight past it, and it protects nothing: take that out "
        "before anything else is done.",
    ),
    "no_fuse": CheckWords(
        name="a wire without a fuse",
        passes="",
        unknown="No fuse protects {detail}: a chafed wire ends in a fire. Fit one where it begins, "
        "or give the one that is there.",
    ),
    "fuse_protection": CheckWords(
        name="wire protected by its fuse",
        passes="{part}: {detail} is sure to open at {value:up}, and the wire bears {limit:down} "
        "without limit of time.",
        fails="{part}: {detail} may never open below {value:up} and the wire bears only "
        "{limit:down}: fit a smaller fuse or a larger wire.",
        unknown=(
            "{part}: {detail} holds at least {value:up}, the wire bears {limit:down}, and from "
            "which current it opens is not known here: give fuse_family, or hold the wire against "
            "the maker's curve.",
            When(
                "value",
                None,
                "{part}: Give insulation and ambient to judge whether {detail} protects it.",
            ),
        ),
        undecided="{part}: {detail} may be of a family that holds up to {value:up}, and the wire "
        "bears {limit:down}: give its fuse_family.",
    ),
    "fuse_overload": CheckWords(
        name="wire while its fuse opens",
        passes="{part}: At larger currents the wire reaches {value:up} at most before {detail} has "
        "opened; its insulation bears {limit:down} so long.",
        fails=(
            "{part}: Before {detail} has opened at a larger current the wire reaches {value:up} "
            "and its insulation bears {limit:down} so long: fit a smaller fuse or a larger wire.",
            When(
                "value",
                None,
                "{part}: Before {detail} has opened at a larger current the insulation is gone: "
                "fit a smaller fuse or a larger wire.",
            ),
        ),
        undecided=(
            "{part}: Before {detail}, if it is of a slow family, has opened at a larger current "
            "the wire reaches {value:up} and its insulation bears {limit:down} so long: give its "
            "fuse_family.",
            When(
                "value",
                None,
                "{part}: Before {detail}, if it is of a slow family, has opened at a larger "
                "current the insulation is gone: give its fuse_family.",
            ),
        ),
    ),
    "far_short": CheckWords(
        name="fault at the far end",
        passes="{part}: A fault at {detail} gets {value:down} at least and {limit:up} open it "
        "within 5 s.",
        marginal="{part}: A fault at {detail} may get no more than {value:down}: the fuse opens "
        "only after more than 5 s, which {limit:up} would take.",
        fails="{part}: A fault at {detail} may get no more than {value:down}, at which the fuse "
        "need not open; {limit:up} would open it within 5 s: mend what resists on the way there "
        "and back, or take larger wires.",
        undecided="{part}: A fault at {detail} may get no more than {value:down}, and a fuse of a "
        "slow family opens within 5 s at {limit:up} only: give its fuse_family.",
    ),
    "rest_within_bounds": CheckWords(
        name="state of rest within all bounds",
        passes="",
        fails="{part}: at some ends it has no state of rest: {detail}",
    ),
}

REMEDIES = {
    "size": "{new} for {part} in place of {now}",
    "insulation": "insulation {kind}, good for {new}, for {part}",
    "sound_contact": "a sound contact of {new:down} at {part}, kept so",
    "sound_contacts": "sound contacts at {parts}, kept so",
    "smaller_fuse": "{part} of {new}",
}

CIRCUIT_CHECK = OperationWords(
    tells="weakest",
    headline=(
        When("weakest.verdict", "fail", "Weakest in {weakest.case}, {weakest.message}"),
        When("weakest.verdict", "undecided", "Weakest in {weakest.case}, {weakest.message}"),
        When("weakest.verdict", "unknown", "Weakest in {weakest.case}, {weakest.message}"),
        When("weakest.verdict", "marginal", "Weakest in {weakest.case}, {weakest.message}"),
        When(
            "weakest.verdict", "pass", "Nearest to its limit in {weakest.case}, {weakest.message}"
        ),
        When("weakest", None, "Nothing could be judged."),
    ),
    facts=(
        (
            Weigh(
                "decisive.voltage_v",
                "decisive.needed_v",
                enough="In {worst_case}, {value} arrive at {decisive_load} and {limit} are needed, "
                "{apart} to spare.",
                short="In {worst_case}, {value} arrive at {decisive_load} and {limit} are needed, "
                "{apart} short.",
            ),
            When(
                "decisive.needed_v",
                None,
                "In {worst_case}, {decisive.voltage_v} arrive at {decisive_load}.",
            ),
            When(
                "spread.is_about",
                False,
                "Within the bounds of the inputs: {spread.low_v} to {spread.high_v}.",
            ),
            When(
                "spread.is_about",
                True,
                "Within the bounds of the inputs: about {spread.low_v} to {spread.high_v}, for "
                "something switches within them.",
            ),
        ),
        (
            "{mend_first.0.name} costs {decisive_load} {mend_first.0.costs_v}, and made sound it "
            "gives back {mend_first.0.regained_v}.",
            "{mend_first.1.name} costs {mend_first.1.costs_v} and gives back "
            "{mend_first.1.regained_v}.",
        ),
        "{sound_cases} of {cases.count} cases have nothing to mend.",
    ),
    told=tuple(CHECKS),
    checks=CHECKS,
    remedies=REMEDIES,
    short_names={
        "decisive": "cases.[worst_case].loads.[decisive_load]",
        "spread": "cases.[worst_case].spreads.[decisive_load]",
    },
)

WORDS = {"circuit-check": CIRCUIT_CHECK}
