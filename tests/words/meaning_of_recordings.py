"""What the sentences of a recording mean, by hand beside the catalogue; see `meaning`."""

# Value and limit alone do not decide: what was asked, and how often it was read, do, too.
CHECKS = {
    "switching": ("", "", "", ("lies within {value}",)),
    # It dips below in a good start, too; and half of its rating is asked of a warm one.
    "supply": (
        "",
        "a load test asks a sound one",
        "less than the {limit}",
        (
            "battery keeps {value}",
            "sound one, warm and at half of its cold rating, for {limit}",
            "a sound one at what is usual {limit}",
            "dips to {value}",
            "below the {limit}",
            "than the {limit} that",
            "At rest the battery has {value}",
            "than the {limit} of",
        ),
    ),
    "load_voltage": (
        ">",
        "at least reach the load",
        "at most reach the load",
        ("{value} at least reach", "needs {limit}", "{value} at most reach", "only {value} reach"),
    ),
    "contact_drop": (
        "<",
        "allowed to such a contact",
        "of a sound contact",
        (
            "drops {value} of the {limit} allowed",
            "drops {value}, more than the {limit} of",
            "keeps {value}, and no",
        ),
    ),
    "sampling": (
        "",
        "The inrush is seen: it stands on several samples",
        "far higher",
        ("none lasted longer than {value}", "no longer than {value} may", "longer than {limit}."),
    ),
    "gaps": ("", "", "", ("lies more than {limit}", "no less than {value}: what")),
    "range": (
        "<",
        "within their range",
        "beyond its range",
        ("the volts is flat for {value} samples", "the amperes is flat for {value} samples"),
    ),
    "clamp_direction": ("", "", "", ()),
    "leads_direction": ("", "below zero", "", ()),
    "bounces": (
        "<",
        "without a bounce",
        "still bounces",
        (
            "no later than {value} after",
            "later than {value} after",
            "the {limit} of a sound one",
            "closes again within {value}",
        ),
    ),
    "rest_current": ("", "", "", ("{value} are read while it is off",)),
    "resistance": (
        "",
        "is known to within {value}",
        "",
        ("to within {value}", "more than {value}"),
    ),
}
PHRASES = (
    "{level_message}",
    "{volts.plateau.value_v} stand at the load", "{volts.plateau.value_v} stay over the path",
    "{current.plateau.value_a} flow all the while",
    "{current.plateau.value_a} flow", "between {current.plateau.low_a} and",
    "and {current.plateau.high_a}, 19",
    "{volts.plateau.value_v} stand there", "between {volts.plateau.low_v} and",
    "and {volts.plateau.high_v}, 19",
    "It starts with {current.peak_a}.", "may have been {current.peak_limit_a:up}.",
    "no later than {timing.pull_in_after_s} after it is switched on",
    "The path has {resistance.value_ohm}", "The battery has {resistance.value_ohm} inside",
    "before the load has {resistance.value_ohm}", "between {resistance.low_ohm} and",
    "and {resistance.high_ohm}, 19", "has no more than {resistance.high_ohm}",
    "winding warms by {warming.value_k}", "between {warming.low_k} and",
    "and {warming.high_k}, 19",
    "{sampling.samples} samples were taken", "as {line.new_samples} that are new",
    "The load itself has {load_resistance.value_ohm}", "between {load_resistance.low_ohm} and",
    "and {load_resistance.high_ohm}, 19",
)  # fmt: skip
