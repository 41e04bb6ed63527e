"""What is said of what feeds a circuit."""

from lastvolt_service.words.catalogue import CheckWords, When

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
            When(
                "detail",
                "helped",
                "What is joined to it bears the load: charge it afterwards, and test it.",
            ),
            When("detail", "charging", "What is joined to it charges it: give it time."),
            When("detail", None, "Charge it to three quarters first."),
            When("detail", "frozen", "Warm it up before it is charged: it may be frozen."),
        ),
        fails=(
            "{part}: it is charged to {value} only.",
            When("detail", None, "Charge it, and test it, before any wiring is blamed."),
            When(
                "detail",
                "bank",
                "It is two batteries in a row: measure each by itself before it is charged. A good "
                "one beside one with a dead cell would be overcharged.",
            ),
            When(
                "detail",
                "joined",
                "Take it off what it is joined to, which drives all it can into it; charge it by "
                "itself, and test it, before any wiring is blamed.",
            ),
            When("detail", "frozen", "Warm it up before it is charged: it may be frozen."),
            When("detail", "frozen_or_dead", "Warm it up first: it may be frozen."),
            *(
                When(
                    "detail",
                    detail,
                    "Hardly a flat battery of this system has so little at rest: a cell may be "
                    "dead, or it is empty, or one of another system. Find out which before it is "
                    "left on charge, as sound cells beside a dead one gas: charge it by itself, "
                    "and test it under load.",
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
                "charges_slowly",
                "{part}: {value} keep a full battery full, and charge a low one slowly, which "
                "takes {limit} or more: of an engine's, measure what the regulator holds.",
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
            When(
                "detail",
                "higher_system",
                "{part}: its {value} are too much for this system, {limit} at most: it is of a "
                "higher one, or two stand in a row. What is made for this system burns out: take "
                "it off, or give the nominal_v of this vehicle.",
            ),
            When("detail", "gasses", _GASSES),
            When(
                "detail",
                "lower_system",
                "{part}: its {value} are too little for what is joined to it, {limit} at least: "
                "a cell is dead, or it is of another system. Do not join them: "
                "neither it nor the cables bear the current that is driven into it.",
            ),
            When(
                "detail",
                "charges_nothing",
                "{part}: {value} charge nothing, which takes {limit} or more: the battery feeds it "
                "all. Look at the regulator, the brushes and the belt.",
            ),
            When(
                "detail",
                "lower_charger",
                "{part}: its {value} are too little for this system, {limit} at least: it is made "
                "for a lower one, and charges nothing. Take another.",
            ),
            When(
                "detail",
                "turned",
                "{part}: its posts, or the battery's, are joined the wrong way round: do not join "
                "them so, for cables burn and batteries burst.",
            ),
        ),
        undecided="{part}: {value} are too much for one system and too little for the next: give "
        "nominal_v. If it is the lower one, stop charging: the regulator runs away.",
    ),
    "drained": CheckWords(
        name="battery while it is charged",
        passes="",
        marginal=(
            When(
                "detail",
                None,
                "{part}: with all this on it gives {value} beside what charges it, and is "
                "drained: switch something off, or take a larger generator.",
            ),
            When(
                "detail",
                "charges_nothing",
                "{part}: with all this on it gives {value} and is drained, for next to nothing "
                "comes from what should charge it: mend what charges it.",
            ),
        ),
    ),
    "no_battery": CheckWords(
        name="battery beside what charges",
        passes="",
        fails="{part}: it feeds {value} with no battery beside it, and nothing holds its voltage: "
        "lamps and regulators burn out. Join the battery before it is run.",
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
        marginal="{part}: it has {value} inside, and a sound one about {limit}: what is joined to "
        "it bears the load. Charge it afterwards, and test it.",
        fails="{part}: it has {value} inside, and a sound one about {limit}: test it, and replace "
        "it if it fails, before any wiring is blamed.",
    ),
    "sag": CheckWords(
        name="sag of the battery",
        passes="{part}: {value} are left at its posts, and a load test asks a sound one for "
        "{limit}.",
        marginal=(
            When(
                "detail",
                "helped",
                "{part}: {value} are left at its posts, less than the {limit} of a load test: what "
                "is joined to it bears the load. Charge it afterwards, and test it.",
            ),
            When(
                "detail",
                None,
                "{part}: {value} are left at its posts, and a load test asks a sound one for "
                "{limit}. The margin is small.",
            ),
        ),
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
}
