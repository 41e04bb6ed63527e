"""What is said of the wires and fuses of a circuit."""

from lastvolt_service.words.catalogue import CheckWords, Unless, Weigh, When
from lastvolt_service.words.en.paths import NOTHING_LEFT

_LARGER = "take a larger size, better insulation, a cooler place or fewer wires in the loom."
# Of wires behind a fuse that opens by what flows.
_DRAWS = "find what draws so much before any larger size is fitted: {detail} opens by it."
_REACHES = "{part}: The conductor reaches {value} and its insulation bears {limit}: "
_RUNS_AWAY = "{part}: The wire finds no steady temperature: it heats up without end"
CHECKS = {
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
        fails=(
            "{part}: it carries {value} and may carry {limit} for as long: it opens sooner or "
            "later.",
            "It is so much for {detail}: look there first.",
            "Find out whether its loads should draw so much; only then take a larger one, which "
            "its wires must bear.",
        ),
        unknown="{part}: {detail}",
    ),
    "conductor_temperature": CheckWords(
        name="conductor temperature",
        passes="{part}: The conductor reaches {value}; its insulation bears {limit}.",
        fails=(
            When("detail", None, _REACHES + _LARGER),
            When("detail", "nothing_left", _REACHES + NOTHING_LEFT),
            Unless("detail", "nothing_left", _REACHES + _DRAWS),
            When(
                "value",
                None,
                (
                    When("detail", None, _RUNS_AWAY + ". Take a larger size or less current."),
                    When("detail", "nothing_left", _RUNS_AWAY + ", and " + NOTHING_LEFT),
                    Unless("detail", "nothing_left", _RUNS_AWAY + "; " + _DRAWS),
                ),
            ),
        ),
    ),
    "wires_heat": CheckWords(
        name="heat of the wires",
        passes="",
        fails="{part} carries {value} and may carry {limit}, even alone in cool air and with "
        "insulation that bears most: take a larger size, and let no such current flow before.",
        unknown="Whether {detail} can bear the current was not judged: give its insulation, and "
        "no temperature_c.",
    ),
    "ohms_heat": CheckWords(
        name="heat of what may be a wire",
        passes="",
        unknown="Whether {detail} can bear the current was not judged: give it as a wire, with "
        "size, length and insulation.",
    ),
    "permissible_current": CheckWords(
        name="current that the wire may carry",
        passes="{part}: The wire may carry {limit} steadily and carries {value}.",
        fails=(
            "{part}: The wire may carry {limit} steadily and is asked for {value}:",
            When("detail", None, _LARGER),
            When("detail", "nothing_left", NOTHING_LEFT),
            Unless("detail", "nothing_left", _DRAWS),
        ),
    ),
    "duty_current": CheckWords(
        name="current that the wire may carry for the time",
        passes="{part}: The wire may carry {limit} for so long and carries {value}.",
        fails=(
            "{part}: The wire may carry {limit} for so long and is asked for {value}:",
            When("detail", None, "take a larger size, or a shorter time."),
            When("detail", "nothing_left", NOTHING_LEFT),
            Unless("detail", "nothing_left", _DRAWS),
        ),
    ),
    "diverted_current": CheckWords(
        name="current of a poor joint",
        passes="",
        fails=(
            "{part}: it carries {value}, which is {detail}'s to carry: see to {detail} first, and "
            "fit no larger wire for it.",
            "It bears {limit} without limit of time.",
        ),
    ),
    "burns_once_mended": CheckWords(
        name="wire once a contact is mended",
        passes="",
        fails="{part}: as soon as {detail} is mended it carries {value} and may carry {limit}: "
        "give it a fuse, and a larger size if its load should draw so much, before that.",
    ),
    "charger_current": CheckWords(
        name="most that a charger gives",
        passes="{part}: {detail} gives {value} at most and it bears {limit}.",
        fails="{part}: {detail} gives up to {value} into a flat battery and it bears {limit}: take "
        "one that bears more, or fuse it for what it bears.",
    ),
    "charger_fuse": CheckWords(
        name="fuse at the most that a charger gives",
        passes="{part}: up to {value} flow there into a flat battery and it bears {limit}.",
        fails=(
            "{part}: up to {value} flow there into a flat battery and it bears {limit}: it opens "
            "sooner or later.",
            When("detail", None, "Take a larger one, which its wires must bear."),
            "See to {detail} first, which bears less than {value}; only then take a larger one.",
        ),
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
        fails="{part}: past it leads a way without a fuse, over {detail}, and it protects nothing: "
        "take out what does not belong there before anything else is done.",
    ),
    "no_fuse": CheckWords(
        name="a wire without a fuse",
        passes="",
        unknown="No fuse protects {detail}: a chafed wire ends in a fire. Fit one where it begins, "
        "at each end that a source feeds, or give the one that is there.",
    ),
    "fuse_protection": CheckWords(
        name="wire protected by its fuse",
        passes="{part}: {detail} is sure to open at {value:up}, and the wire bears {limit:down} "
        "without limit of time.",
        fails="{part}: {detail} may never open below {value:up} and the wire bears only "
        "{limit:down}: fit a smaller fuse or a larger wire.",
        unknown=(
            "{part}: {detail} holds at least {value:up}, the wire bears {limit:down}, and from "
            "which current it opens is not known here: hold the wire against the maker's curve, or "
            "give its fuse_family if none is given.",
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
}
