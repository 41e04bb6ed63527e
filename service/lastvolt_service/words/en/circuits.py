"""What is said of whole circuits."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When

CHECKS = {
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{part}: {value} arrive and {limit} are needed, {apart} to spare.",
        fails="{part}: only {value} arrive and {limit} are needed, {apart} short.",
        unknown="{part}: Give what keeps it closed to judge whether it holds.",
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
    "relay_pick_up": CheckWords(
        name="pick-up of the relay",
        passes="{part}: {value} reach the coil and {limit} close it.",
        fails="{part}: only {value} reach the coil and {limit} are needed to close it.",
    ),
    "relay_hold": CheckWords(
        name="hold of the relay",
        passes="{part}: {value} at the coil hold it; it opens below {limit}.",
        fails="{part}: {value} at the coil do not hold it: it opens below {limit}.",
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
        fails="{part}: it alone drops {value}, a sound {detail} at most {limit}: clean, tighten or "
        "replace it.",
    ),
    "contact_current": CheckWords(
        name="current through the contact",
        passes="{part}: it carries {value} of its {limit}.",
        fails="{part}: it carries {value}, more than its {limit}.",
    ),
    "fuse_load": CheckWords(
        name="fuse carries its load",
        passes="{part}: it carries {value} and may carry {limit} for as long.",
        fails="{part}: it carries {value} and may carry {limit} for as long: it will open.",
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
    "fuse_rating": CheckWords(
        name="rating of the fuse",
        passes="",
        unknown="{part}: Give rating_a to judge whether it carries its load and protects its "
        "wires.",
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
        "need not open; {limit:up} would open it within 5 s: take larger wires.",
        undecided="{part}: A fault at {detail} may get no more than {value:down}, and a fuse of a "
        "slow family opens within 5 s at {limit:up} only: give its fuse_family.",
    ),
    "within_bounds": CheckWords(
        name="within all bounds",
        passes="",
        fails="{part}: it works with all inputs in the middle of their bounds, and falls short by "
        "{apart} at the worst of their ends.",
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
    headline=(
        "Weakest in {weakest.case}, {weakest.message}",
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
            "Within the bounds of the inputs: {spread.low_v} to {spread.high_v}.",
        ),
        (
            "What costs {decisive_load} most is {mend_first.0.name}: {mend_first.0.regained_v}.",
            "Next is {mend_first.1.name}: {mend_first.1.regained_v}.",
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
