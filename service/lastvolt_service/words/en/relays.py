"""What is said of relays."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When
from lastvolt_service.words.en.paths import SOURCE_VOLTAGE

NO_SUPPRESSION = (
    "Nothing limits the peak when the coil is switched off: 1000 V and more wear the switch and "
    "destroy electronics. Fit a resistor, diode or zener."
)
_SLOW = "The plain diode makes the relay open slowly, which wears its contacts."

_OTHER_VOLTAGE = "This relay is for another voltage: take one that is made for this system."
_REGULATOR = "No system has {drive_v}: mend the regulator."
_PERHAPS_OTHER = (
    "It is for {nominal_v}: if this system has less, take a relay that is made for it, else mend "
    "the coil's feed."
)
_SHORT_USE = "If it is made for short use, give duration_s, how long it is on at a time."
_OF_MISFITS = (
    When("misfit", "other_voltage", _OTHER_VOLTAGE),
    When("misfit", "overcharged", _REGULATOR),
    When("misfit", "short_use", _SHORT_USE),
)
_MEND_FEED = (
    When(
        "feed_can_help",
        True,
        "Mend the coil's feed or take a relay with a lower pick-up voltage.",
    ),
    When(
        "feed_can_help",
        False,
        "No feed brings that: take a relay with a lower pick-up voltage, or mount it cooler.",
    ),
)
_TO_CLOSE = (
    When("misfit", "other_voltage", _OTHER_VOLTAGE),
    When("misfit", "perhaps_other_voltage", _PERHAPS_OTHER),
    When("misfit", "short_use", _SHORT_USE),
    When("misfit", "overcharged", _MEND_FEED),
    When("misfit", None, _MEND_FEED),
)
_TO_BEAR = (
    When("air_too_hot", True, "There the air alone is too hot for it: mount it cooler."),
    When("air_too_hot", False, "Mount it cooler, or take a coil of higher resistance."),
)
_CLOSES = (
    "With its coil at {coil_temperature_c} the relay needs {hot_pick_up_v} to close and "
    "{available_v} arrive, {apart} "
)
_WEIGHED = Weigh(
    "available_v", "hot_pick_up_v", enough=_CLOSES + "to spare.", short=_CLOSES + "short."
)

_BURNS = Weigh(
    "maximum_continuous_v",
    "drive_v",
    enough="",
    short="Its coil burns: it stands {maximum_continuous_v:down} in air of {ambient_c} and may get "
    "{drive_v}.",
)

_LESSER = ("hold", "highest_ambient", "suppression", "suppression_resistor", "switch_off_peak")

RELAY_COIL = OperationWords(
    headline=(
        When("misfit", None, (_BURNS, _WEIGHED)),
        When(
            "misfit",
            "other_voltage",
            "This relay of {nominal_v} is for another voltage, {drive_v} may reach its coil: "
            "take one that is made for this system.",
        ),
        When("misfit", "overcharged", (_REGULATOR, _WEIGHED)),
        When("misfit", "perhaps_other_voltage", (_WEIGHED, _PERHAPS_OTHER)),
        When(
            "misfit",
            "short_use",
            "For hours the coil does not stand its own {nominal_v}. " + _SHORT_USE,
        ),
    ),
    about=(
        "pick_up_at_ambient",
        When("energised_before", True, "pick_up_warm"),
        "continuous_voltage",
        When("misfit", "overcharged", "source_voltage"),
        # A relay for another voltage is to be fed, cooled or clamped in no other way.
        *(When("misfit", "other_voltage", code) for code in _LESSER),
    ),
    facts=(
        (
            "Then it has {hot_coil_resistance_ohm} and takes {coil_power_w}.",
            "It lets go below {hot_drop_out_v}.",
            When("duration_s", None, "It stands {maximum_continuous_v:down} for hours."),
            "It stands {maximum_continuous_v:down} for {duration_s}.",
            "It is reckoned to warm with a time constant of {warming_time_constant_s}.",
        ),
    ),
    checks={
        "coil_resistance": CheckWords(
            name="resistance of the coil",
            passes="",
            fails="The coil has {value}, and one for this voltage no more than {limit}: it is as "
            "good as open. Replace the relay.",
        ),
        "pick_up_at_ambient": CheckWords(
            name="pick-up, coil at ambient",
            passes="The relay closes with its coil at {ambient_c}: {value} arrive and it needs "
            "{limit}.",
            fails=(
                "The relay may not close with its coil at {ambient_c}: it needs {limit} and only "
                "{value} arrive, {apart} short.",
                *_TO_CLOSE,
            ),
        ),
        "pick_up_warm": CheckWords(
            name="pick-up, coil warm from use",
            passes="The relay closes with its coil at {warm_temperature_c}: {value} arrive and it "
            "needs {limit}.",
            fails=(
                "The relay may not close with its coil at {warm_temperature_c}: it needs {limit} "
                "and only {value} arrive, {apart} short.",
                *_TO_CLOSE,
            ),
            unknown="Give thermal_resistance_k_per_w to know how warm the coil gets.",
        ),
        "hold": CheckWords(
            name="hold in a dip",
            passes="The relay holds down to {limit}; the dip reaches {value}.",
            fails="The relay lets go below {limit} and the dip reaches {value}: it would chatter. "
            "Feed its coil from a point that sags less.",
            unknown=(
                When("drop_out_v", None, "Give drop_out_v to know whether it holds."),
                When("dip_v", None, "Give dip_v to know whether it holds."),
            ),
        ),
        "continuous_voltage": CheckWords(
            name="continuous voltage",
            passes=(
                When("duration_s", None, "For hours:"),
                "For {duration_s}:",
                "The coil stands {value} at {ambient_c}; its limit there is {limit}.",
            ),
            fails=(
                When("duration_s", None, "For hours:"),
                "For {duration_s}:",
                "The coil stands {limit} at {ambient_c} and gets {value}.",
                *_OF_MISFITS,
                When("misfit", "perhaps_other_voltage", _TO_BEAR),
                When("misfit", None, _TO_BEAR),
            ),
            unknown=(
                When("maximum_v", None, "Give maximum_v, the charging voltage."),
                When("nominal_v", None, "Give nominal_v, or coil_limit_c."),
            ),
        ),
        "source_voltage": SOURCE_VOLTAGE,
        "highest_ambient": CheckWords(
            name="highest ambient",
            passes="The relay may be at {limit} and its place has {value}.",
            fails="The relay may be at {limit} at most and its place has {value}: mount it cooler.",
            unknown="Give highest_ambient_c, up to which its maker allows the relay.",
        ),
        "suppression_resistor": CheckWords(
            name="heat in the resistor across the coil",
            passes="The resistor across the coil makes {value} while the coil is on; one of a few "
            "times the coil's resistance makes {limit} at most.",
            marginal="The resistor across the coil makes {value} while the coil is on, and one of "
            "a few times the coil's resistance {limit} at most: it must be made for that heat.",
            fails="The resistor across the coil takes {suppression.resistor_current_a} and makes "
            "{value} for as long as the coil is on, and the switch carries {switch_current_a}; one "
            "of a few times the coil's resistance makes {limit} at most. Take one, or a diode: "
            "a small one burns.",
        ),
        "switch_off_peak": CheckWords(
            name="switch-off peak",
            passes=(
                "Switching off puts {value} across the switch, which stands {limit}.",
                When(
                    "limit",
                    None,
                    "Switching off puts {value} across the switch, little more than the supply.",
                ),
                When("suppression.kind", "diode", _SLOW),
            ),
            fails="Switching off puts {value} across the switch, which stands {limit}: clamp the "
            "coil lower.",
            unknown=(
                "Switching off puts {value} across the switch.",
                "Give switch_limit_v to judge it.",
            ),
        ),
        "suppression": CheckWords(
            name="suppression of the coil",
            passes="",
            fails="Nothing limits the peak when the coil is switched off: 1000 V and more, and the "
            "switch stands {limit}. Fit a resistor, diode or zener.",
            marginal=NO_SUPPRESSION,
            unknown="Give suppression, what is wired across the coil: without any, 1000 V and more "
            "appear when it is switched off.",
        ),
    },
    remedies={
        "available_v": "the coil's feed mended, so that {new:up} reach it",
        "pick_up_v": "a relay that closes at {new:down}",
        "dip_v": "the coil fed from a point that sags to {new:up} at most",
        "drop_out_v": "a relay that holds down to {new:down}",
        "maximum_v": "the regulator mended, so that {new:down} reach the coil at most",
        "duration_s": "the coil on for {new:down} at a time at most",
        "coil_resistance_ohm": "a coil of {new:up}, with the same pick-up voltage",
        "other_voltage": "a relay made for {new}, otherwise alike",
        "ambient_c": "the relay where it is {new:down} at most",
        "diode": "a diode across the coil",
        "resistance_ohm": "a resistor of {new:down} across the coil",
        "larger_resistor": "a resistor of {new:up} across the coil",
        "zener_v": "a zener of {new:down} across the coil",
    },
)

_ESTIMATE = When(
    "inrush_estimated",
    True,
    "It is an estimate at the high end of published multiples; measure it.",
)

_NO_SYSTEM = "No system has {supply_v}: mend the regulator before the relay is judged."
_CARRIES = (
    Weigh(
        "derated_current_a",
        "load_current_a",
        enough="The contact carries {load_current_a} of the {derated_current_a} that it may "
        "carry at {ambient_c}, {apart} to spare.",
        short="The contact may carry {derated_current_a} at {ambient_c} and the load takes "
        "{load_current_a}, {apart} too much.",
    ),
    When(
        "derated_current_a",
        None,
        (
            Weigh(
                "most_current_a",
                "load_current_a",
                enough="What the contact may carry at {ambient_c} is not known; the load takes "
                "{load_current_a}.",
                short="The contact may carry {most_current_a:down} at its last rating, and less at "
                "{ambient_c}; the load takes {load_current_a}, too much there.",
            ),
        ),
    ),
)
_PULLS_IN = When(
    "load_kind",
    "starter_solenoid",
    (
        When(
            "inrush_estimated",
            True,
            "If {load_current_a} are what both its windings take at pull-in, it starts with no "
            "more: give them as inrush_current_a.",
        ),
    ),
)

_COOLER = (
    When("air_too_hot", False, "Mount it cooler, or take a larger relay."),
    When("air_too_hot", True, "Mount it cooler."),
)
_LARGER = (
    When("air_too_hot", False, "Take a larger relay."),
    When("air_too_hot", True, "Mount it cooler, and take a larger relay."),
)

RELAY_CONTACT = OperationWords(
    headline=(
        When("overcharged", True, _NO_SYSTEM),
        When(
            "wrong_voltage",
            True,
            "This contact is not made to break {supply_v} DC: take a relay made for that voltage.",
        ),
        When("overcharged", False, (When("wrong_voltage", False, _CARRIES),)),
    ),
    facts=(
        (
            When("inrush_estimated", False, "The load starts with {first_current_a}."),
            When(
                "inrush_estimated",
                True,
                "The load starts with {lowest_first_current_a} to {first_current_a}, estimated for "
                "this kind of load.",
            ),
        ),
        "The closed contact loses {contact_drop_v} and makes {contact_power_w}.",
    ),
    told=("steady_current",),
    about=("steady_current", "rated_voltage"),
    checks={
        "steady_current": CheckWords(
            name="steady current",
            passes="The contact carries {value} of the {limit} that it may carry at {ambient_c}.",
            fails=(
                Weigh(
                    "derated_current_a",
                    "load_current_a",
                    enough="",
                    short="The contact may carry {derated_current_a} at {ambient_c} and the load "
                    "takes {load_current_a}, {apart} too much.",
                ),
                When(
                    "derated_current_a",
                    None,
                    "The contact may carry {limit} at its last rating, and less at {ambient_c}; "
                    "the load takes {value}.",
                ),
                When("cooler_helps", True, _COOLER),
                When("cooler_helps", False, _LARGER),
            ),
            unknown="No rating is given for {ambient_c}, and none is extrapolated: add the "
            "maker's derating up to there.",
        ),
        "inrush": CheckWords(
            name="inrush",
            passes=(
                "The contact may close on {limit} and the load starts with {value}.",
                _ESTIMATE,
            ),
            marginal=(
                Weigh(
                    "limit",
                    "value",
                    enough="The contact may close on {value} and the load starts with {limit}. The "
                    "margin is small.",
                    short="The lamps may start with {limit}, and less is as likely, and the "
                    "contact may close on {value}: one of its rating is usually given as many.",
                ),
                _ESTIMATE,
            ),
            fails=(
                "The load starts with {value} and the contact may close on {limit}: it can weld "
                "shut.",
                _ESTIMATE,
                _PULLS_IN,
            ),
            unknown=(
                "The load starts with {value}, above the steady rating: give make_rating_a to "
                "judge it.",
                _ESTIMATE,
            ),
            undecided=(
                "The load starts with {lowest_first_current_a} to {value}, and the contact may "
                "close on {limit}: it can weld shut. Measure the first current and give "
                "inrush_current_a.",
                _PULLS_IN,
            ),
        ),
        "rated_voltage": CheckWords(
            name="rated voltage",
            passes="The contact may break {limit} DC and the supply reaches {value}.",
            fails=(
                "The contact may break {limit} DC and the supply reaches {value}: its arc may not "
                "go out.",
                When("overcharged", True, _NO_SYSTEM),
                When("overcharged", False, "Take a relay made for this voltage."),
            ),
        ),
        "contact_drop": CheckWords(
            name="drop of the contact",
            passes="The contact drops {value}, as a sound one does.",
            marginal="The contact drops {value}, and a sound one at most {limit}: look at it "
            "again before long.",
            fails="The contact drops {value}, a sound one at most {limit}: it is worn or too "
            "small.",
            unknown="Give contact_resistance_ohm, or measure it.",
        ),
        "contact_heat": CheckWords(
            name="heat of the contact",
            passes="",
            fails="The contact makes {value} of heat, and {limit} burn what holds it: replace the "
            "relay before it is used again.",
        ),
        "smallest_current": CheckWords(
            name="smallest current",
            passes="The load is large enough to keep the contact clean.",
            marginal="The load takes {value} and a contact stays clean from {limit} on: with "
            "less it may fail to conduct in time. Take a relay made for small loads.",
        ),
    },
    remedies={
        "rating_a": "a relay of {new:up}, all its currents in proportion",
        "ambient_c": "the relay where it is {new:down} at most",
        "inrush_current_a": "the first current held to {new:down}",
        "supply_v": "the regulator mended, so that the supply reaches {new:down} at most",
        "rated_v": "a contact made to break {new:up} DC",
        "contact_resistance_ohm": "a sound contact of {new:down}",
        "load_current_a": "a load of {new:down} at most on this contact",
    },
)

WORDS = {
    "relay-coil": RELAY_COIL,
    "relay-contact": RELAY_CONTACT,
}
