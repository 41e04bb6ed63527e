"""What is said of recordings."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When


def _ohms(where: str, between: str, place: str = "") -> When:
    known = f"{place}, between {{resistance.low_ohm}} and {{resistance.high_ohm}}, 19 times of 20."
    return When(
        "between",
        between,
        (
            When("resistance.is_told", True, f"{where} has {{resistance.value_ohm}}{known}"),
            When(
                "resistance.is_told",
                False,
                f"{where} has no more than {{resistance.high_ohm}}{place}.",
            ),
        ),
    )


_OPEN = "fuse, switch, relay, a plug or a wire"
_STAYS = (
    When(
        "detail",
        "dead_load",
        "No volts reach the load all the while. If the switch was on, the way to it is open, at "
        f"{_OPEN}: read volts to ground along it from the battery, to where they end.",
    ),
    When(
        "detail",
        "live_load",
        "{volts.plateau.value_v} stand at the load all the while. If the switch was off meanwhile, "
        "the load is live with it off: first take the battery's ground off.",
    ),
    When(
        "detail",
        "open_path",
        "{volts.plateau.value_v} stay over the path all the while, and no closed one keeps so "
        f"much. If the switch was on, the path is open, at {_OPEN}: read it part by part; what "
        "keeps all the volts is open.",
    ),
    When(
        "detail",
        "no_current",
        "Next to nothing flows all the while. If the switch was on, the way of the current is open "
        f"elsewhere, at {_OPEN} or in the load, or the clamp lies round two cables.",
    ),
    When(
        "detail",
        "steady_battery",
        "The battery's volts do not move. If the switch was on, next to nothing was drawn: the way "
        f"to the load is open, at {_OPEN}, or in the load.",
    ),
    When(
        "detail",
        "runs_on",
        "{current.plateau.value_a} flow all the while. If the switch was off meanwhile, something "
        "runs on without it: first take the battery's ground off.",
    ),
)

_DRAGS = (
    "The battery keeps {value}, and a sound one at what is usual {limit}; its own resistance is "
    "that of a strong one: what it turns draws too much. Look for a stiff engine, and for a "
    "starter that drags or has shorted turns."
)

RECORDING = OperationWords(
    headline=(
        When("switched", False, "Nothing is switched on or off in this recording."),
        "{level_message}",
        "{current.plateau.value_a} flow, between {current.plateau.low_a} and "
        "{current.plateau.high_a}, 19 times of 20.",
        When(
            "current",
            None,
            "{volts.plateau.value_v} stand there, between {volts.plateau.low_v} and "
            "{volts.plateau.high_v}, 19 times of 20.",
        ),
        When("current.settles", False, "They do not settle."),
        When(
            "current.is_inrush",
            True,
            (
                "It starts with {current.peak_a}.",
                When("current.peak_limit_a", None, "How much more that was is not known."),
                "Between two samples that may have been {current.peak_limit_a:up}.",
            ),
        ),
        "It pulls in no later than {timing.pull_in_after_s} after it is switched on.",
        _ohms("The path", "path"),
        _ohms("The battery", "battery", " inside"),
        _ohms("What lies before the load", "load"),
        When(
            "warming.is_told",
            True,
            "The winding warms by {warming.value_k} meanwhile, between {warming.low_k} and "
            "{warming.high_k}, 19 times of 20.",
        ),
    ),
    facts=(
        "{sampling.samples} samples were taken; they tell as much of the resistance as "
        "{line.new_samples} that are new each.",
        "The load itself has {load_resistance.value_ohm}, between {load_resistance.low_ohm} and "
        "{load_resistance.high_ohm}, 19 times of 20.",
    ),
    checks={
        "switching": CheckWords(
            name="something is switched",
            passes="",
            unknown=(
                "All that is read lies within {value}, and nothing in it is switched on or off: "
                "begin to record before the switch is closed, and see that the clamp is closed "
                "round one cable.",
                *_STAYS,
            ),
        ),
        "supply": CheckWords(
            name="the battery at work",
            passes="The battery keeps {value}, and a load test asks a sound one, warm and at half "
            "of its cold rating, for {limit}.",
            marginal=(
                When(
                    "detail",
                    None,
                    "The battery keeps {value}, and a load test asks a sound one, warm and at half "
                    "of its cold rating, for {limit}: it is cold, flat or too small, or what it "
                    "turns draws too much. Ask battery-voltage.",
                ),
                When("detail", "drags", _DRAGS),
                When(
                    "detail",
                    "dips",
                    "As it is switched on the battery dips to {value}, below the {limit} that a "
                    "full one keeps at its cold rating: relays may let go meanwhile. Clean and "
                    "tighten its posts, charge it and test it.",
                ),
            ),
            fails=(
                When(
                    "detail",
                    None,
                    "The battery keeps {value}, less than the {limit} that a full one keeps at its "
                    "cold rating: charge it and test it before any wiring is blamed.",
                ),
                When("detail", "drags", _DRAGS),
                When(
                    "detail",
                    "flat",
                    "At rest the battery has {value}, less than the {limit} of a flat one: charge "
                    "it and test it before any wiring is blamed.",
                ),
            ),
            unknown="Whether the battery holds up was not judged: record it from before the switch "
            "is closed, or give nominal_v.",
        ),
        "load_voltage": CheckWords(
            name="voltage at the load",
            passes="{value} at least reach the load, and it needs {limit}.",
            marginal="{value} at least reach the load, and it needs {limit}: little is left.",
            fails="{value} at most reach the load, and it needs {limit}: read the path to it and "
            "back part by part, and ask drop-diagnosis.",
            undecided="It may be that only {value} reach the load, and it needs {limit}: the "
            "recording does not decide.",
            unknown="Whether that is enough for the load was not judged: give needed_v, or ask "
            "voltage-drop with the volts read here.",
        ),
        "contact_drop": CheckWords(
            name="drop of the contact",
            passes=(
                When("detail", None, "It drops {value} of the {limit} allowed to such a contact."),
                When(
                    "detail",
                    "current_not_read",
                    "It drops {value} of the {limit} allowed to such a contact, if the load was at "
                    "work: without it no contact drops anything.",
                ),
            ),
            marginal="It drops {value} of the {limit} allowed to such a contact: little is left.",
            fails=(
                When(
                    "detail",
                    None,
                    "It drops {value}, more than the {limit} of a sound contact: clean, tighten or "
                    "replace it.",
                ),
                When(
                    "detail",
                    "open",
                    "It keeps {value}, and no closed contact does: it is open, or does not close.",
                ),
            ),
            unknown="What the path may drop was not judged: of one contact give part; of a longer "
            "path ask drop-diagnosis with the volts and amperes read here.",
        ),
        "sampling": CheckWords(
            name="samples at the beginning",
            passes=(
                When("detail", "inrush", "The inrush is seen: it stands on several samples."),
                When(
                    "detail",
                    "no_inrush",
                    "No inrush is seen, and none lasted longer than {value}.",
                ),
            ),
            marginal="No inrush is seen, but one that lasted no longer than {value} may have "
            "passed between two samples: by practice record in steps no longer than {limit}.",
            fails="The inrush stands on one sample, and its peak may have been far higher: record "
            "it in much shorter steps.",
        ),
        "gaps": CheckWords(
            name="gaps in the recording",
            passes="",
            marginal="Between two samples lies more than {limit}, up to no less than {value}: what "
            "happened meanwhile is not known.",
        ),
        "range": CheckWords(
            name="range of the channels",
            passes=(
                When("detail", "volts", "The volts stay within their range."),
                When("detail", "current", "The amperes stay within their range."),
            ),
            fails=(
                When(
                    "detail",
                    "volts",
                    "The top of the volts is flat for {value} samples: the channel was driven "
                    "beyond its range. Take a larger one; what it cut off is not known.",
                ),
                When(
                    "detail",
                    "current",
                    "The top of the amperes is flat for {value} samples: the clamp or its channel "
                    "was driven beyond its range. Take a larger one; what it cut off is not known.",
                ),
            ),
        ),
        "clamp_direction": CheckWords(
            name="direction of the clamp",
            passes="",
            marginal="The amperes read below zero: the clamp sits the wrong way round. Their signs "
            "are turned here; turn the clamp.",
        ),
        "leads_direction": CheckWords(
            name="direction of the leads",
            passes="The volts read below zero: the leads sit the wrong way round, or the ground is "
            "positive. Their signs are turned here, and not in the readings to post on.",
        ),
        "rest_current": CheckWords(
            name="current at rest",
            passes="",
            marginal="{value} are read while it is off, and stand in what is read while it is on, "
            "too. Open the clamp round nothing: what it still shows is its zero, so set that and "
            "record again; if it shows none, another load is on.",
        ),
        "bounces": CheckWords(
            name="bounces of the contact",
            passes=(
                When("detail", None, "The contact closes without a bounce."),
                When(
                    "detail",
                    "bounced",
                    "The contact bounces, and is closed for good no later than {value} after it "
                    "first closed.",
                ),
            ),
            fails=(
                When(
                    "detail",
                    "bounced",
                    "The contact still bounces later than {value} after it first closed, more than "
                    "the {limit} of a sound one: it is worn, dirty or loose, or what closes it "
                    "gets too little.",
                ),
                When(
                    "detail",
                    "chatters",
                    "It opens and closes again within {value}, over and over: unless a controller "
                    "pulses it, the relay or solenoid chatters. Read the volts at its coil "
                    "meanwhile; too little of them lets go of it.",
                ),
            ),
        ),
        "resistance": CheckWords(
            name="how well the resistance is known",
            passes="The resistance is known to within {value}, 19 times of 20.",
            marginal="The resistance is known to no more than {value}, 19 times of 20: record it "
            "with more change of the current, or with finer meters.",
            unknown=(
                When(
                    "detail",
                    "no_swing",
                    "The amperes change too little while the switch is closed, or the volts not "
                    "with them: record the switching on, with both channels, in shorter steps.",
                ),
                When(
                    "detail",
                    "cut_off",
                    "What was cut off spoils volts over amperes: record within the range.",
                ),
                When(
                    "detail",
                    "not_told",
                    "The samples tell no resistance from none at all: record it with more change "
                    "of the current, in shorter steps, or with finer meters.",
                ),
                When(
                    "detail",
                    "leads_swapped",
                    "The volts change the wrong way round with the amperes: see that the leads are "
                    "not swapped, and that they are held where `between` says.",
                ),
            ),
        ),
    },
)

WORDS = {"recording": RECORDING}
