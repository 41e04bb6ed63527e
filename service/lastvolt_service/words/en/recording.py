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


RECORDING = OperationWords(
    headline=(
        When("switched", False, "nothing is switched on or off in this recording."),
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
            unknown="All that is read lies within {value}, and nothing in it is switched on or "
            "off: begin to record before the switch is closed, and see that the clamp is closed "
            "round one cable.",
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
