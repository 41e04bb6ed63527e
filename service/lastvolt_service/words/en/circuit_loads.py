"""What is said of loads that are off, and of current that goes past them."""

from lastvolt_service.words.catalogue import CheckWords, When

_BARRED = (
    "{part}: it is in, with {value} at its coil, and its break contact keeps {detail} from its "
    "feed: while the engine runs it is meant to; else find what feeds its coil."
)

CHECKS = {
    "never_on": CheckWords(
        name="load that no case switches on",
        passes="",
        unknown="{part}: it is off in every case that is given: give one in which it is on. If it "
        "is to be on in one of these, a feed or a ground of it is missing there.",
    ),
    "load_off": CheckWords(
        name="load that is off",
        passes=(
            When(
                "detail",
                None,
                "{part}: it is off in this case, with what is left out of its way.",
            ),
            When(
                "detail",
                "thrown",
                "{part}: it is off in this case, with a relay in its way thrown the other way.",
            ),
            When(
                "detail",
                "both_live",
                "{part}: it is off in this case: both its ends are live, as those of a charge lamp "
                "are while the battery is charged.",
            ),
        ),
        fails="{part}: both its ends are joined to the ground, past every switch, and nothing is "
        "left to it: find where its wire has chafed through, or is joined wrongly.",
        unknown=(
            When(
                "detail",
                "both_live",
                "{part}: both its ends are live in this case, and nothing flows. If it is to be "
                "on, see where the end that should lead to the ground is joined.",
            ),
            When(
                "detail",
                "coil_live",
                "{part}: both ends of the coil of the relay that feeds it are live in this case, "
                "as where one lamp puts another out. If it is to be on, see where the end of that "
                "coil that should lead to the ground is joined.",
            ),
            When(
                "detail",
                "turned",
                "{part}: it is fed the other way round in this case, by {value}, and its back_v is "
                "taken for the first way: it seems to take more than it does. Judge this way in a "
                "circuit of its own, with its nodes the other way round.",
            ),
        ),
    ),
    "barred": CheckWords(
        name="start barred by a relay",
        passes="",
        fails=_BARRED,
        undecided=_BARRED,
    ),
    "lost_joint": CheckWords(
        name="a joint that is missing",
        passes="",
        fails="{part}: no metal joins its end at {detail} to either post, and its current goes "
        "through other loads there, {value} are left to it: find the ground or the feed that "
        "{detail} has lost.",
        undecided="{part}: past its end at {detail} it is in series with other loads, and {value} "
        "are left to it: if it is to be bright, find the ground or the feed that {detail} lacks.",
    ),
    "left_dark": CheckWords(
        name="load that is dark for a part left out",
        passes="",
        unknown="{part}: without {detail} it is dark in this case. If that is no trial, put it "
        "back.",
    ),
    "shunted": CheckWords(
        name="way past a resistor",
        passes="",
        fails="{part}: {detail} leads past it, and what it is there for gets {value} in place of "
        "about {limit}, which are enough: it overheats, or reads wrong. Take that way off.",
        undecided="{part}: {detail} leads past it to the frame, and what it is there for gets "
        "{value} in place of about {limit}: it reads wrong, unless that belongs there.",
    ),
    "drawn_past": CheckWords(
        name="way past a load",
        passes="",
        fails="{part}: current flows through it past {detail}, which gets {value} and would get "
        "{limit} without it: take it out, do not tighten it, unless it belongs there.",
    ),
    "wire_drop": CheckWords(
        name="drop of a wire",
        passes="",
        fails="{part}: it alone loses {value} of what {detail} lacks, more than any other part: "
        "take a thicker or shorter one.",
    ),
}
