"""What is said of fuses."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When

WIRE_REMEDIES = {
    "size": "{new} for the wire in place of {now}",
    "insulation": "insulation {kind}, good for {new}, for the wire",
    "alone": "the wire alone, out of the loom",
    "zone": "laid in the {place}, {new:down} at most",
    "ambient_c": "the wire where it is {new:down} at most",
}
_WINDOW = "the load asks for {lower_a:up} or more, the wire bears one of {upper_a:down} at most."
_LARGER_WIRE = (
    "take a larger wire, better insulation or a cooler place; several loads may have a fuse each."
)


def fuse_window(too_thin: str, no_rating: str) -> CheckWords:
    """Say that no fuse fits, what to do where the wire bears too little, and where no rating is."""
    shut = Weigh(
        "value",
        "limit",
        enough="The load needs a fuse of {value:up} or more and the wire bears one of "
        "{limit:down} at most: " + too_thin,
        short="No standard rating lies between {value:up} and {limit:down}: " + no_rating,
    )
    return CheckWords(
        name="fuse window",
        passes="",
        fails=(
            When(
                "detail",
                "nothing_left",
                "The air leaves nothing to the wire's insulation, and no fuse protects it: take "
                "better insulation or a cooler place.",
            ),
            When(
                "detail",
                "cranking",
                "No fuse both carries a starter motor and protects its cable: the main cable "
                "customarily has none. Lay it so that nothing can chafe it, and have a way to cut "
                "the battery off.",
            ),
            When(
                "detail",
                "family_ends",
                (
                    "{fuse_family} ends at {limit:down}, and the load asks for a fuse of "
                    "{value:up} or more: take another family of fuses; several loads may have one "
                    "each.",
                    When(
                        "fuse_family",
                        None,
                        "Fuses whose times are known here end at {limit:down}, and the load asks "
                        "for one of {value:up} or more: give several loads one each, or name "
                        "another family (fuse_family).",
                    ),
                ),
            ),
            When("detail", None, (shut,)),
        ),
        undecided="That is with the fuse in a fuse box in the cabin. Where the wire lies no "
        "standard rating fits: say where the fuse is, and give fuse_ambient_c.",
    )


FUSE_CHECKS = {
    "fuse_window": fuse_window(
        _LARGER_WIRE, "take another family of fuses, or the next larger wire."
    ),
    "fuse_carries_load": CheckWords(
        name="fuse carries the load",
        passes="The load needs a fuse of {limit:up} or more.",
        undecided="A fuse of {value} carries the load once it runs. The usual first current of its "
        "kind asks for {limit:up} or more, and that is an estimate: measure it and give "
        "inrush_current_a.",
    ),
    "fuse_protects_wire": CheckWords(
        name="fuse protects the wire",
        passes="The fuse is sure to open at {value:up}, and the wire bears {limit:down} without "
        "limit of time.",
        unknown="The operating times of this family are not known here: hold the wire against the "
        "maker's curve, or take another family.",
    ),
    "fuse_overload": CheckWords(
        name="wire while the fuse opens",
        passes=(
            "At larger currents the wire reaches {value:up} at most before the fuse has opened; "
            "its insulation bears {limit:down} so long.",
            "That is at {overload_current_a}, for {overload_time_s}.",
        ),
        fails=(
            "Before the fuse that the load needs has opened at a larger current, the wire reaches "
            "{value:up} and its insulation bears {limit:down} so long: " + _LARGER_WIRE,
            When(
                "value",
                None,
                "Before the fuse that the load needs has opened at a larger current, the "
                "insulation is gone: " + _LARGER_WIRE,
            ),
        ),
        unknown=(
            When(
                "detail",
                None,
                "What the wire bears while the fuse opens is not known: give size and insulation.",
            ),
            When(
                "detail",
                "unknown_times",
                "What the wire bears while the fuse opens is not known, for the operating times of "
                "this family are not: hold the wire against the maker's curve, or take another "
                "family.",
            ),
        ),
    ),
    "fuse_holder": CheckWords(
        name="holder of the fuse",
        passes="Holder and socket bear {limit:down} and the fuse is one of {value:up}.",
        fails="The load needs a fuse of {value:up} and holder or socket bear {limit:down}: take "
        "one that is rated for it (holder_rating_a), or another family of fuses.",
    ),
    "breaking_capacity": CheckWords(
        name="breaking capacity",
        passes="A fault at the fuse gets {value:up} at most and the fuse interrupts {limit:down}.",
        fails="A fault at the fuse gets {value:up} from a full, warm battery and the fuse "
        "interrupts {limit:down}: it may burst. Put one of larger breaking capacity before it.",
        unknown="Give source_resistance_ohm, of battery and cables up to the fuse, with supply_v: "
        "a fault at the fuse may be more than it can interrupt.",
    ),
    "fuse_voltage": CheckWords(
        name="rated voltage of the fuse",
        passes="The supply reaches {value:up} and the fuse interrupts up to {limit:down}.",
        fails="The supply reaches {value:up} and the fuse interrupts up to {limit:down}: take one "
        "made for that voltage.",
    ),
    "far_short": CheckWords(
        name="fault at the far end",
        passes="A fault at the far end gets {value:down} at least and {limit:up} open the "
        "fuse within 5 s.",
        marginal="A fault at the far end may get no more than {value:down}: the fuse opens "
        "only after more than 5 s, which {limit:up} would take.",
        fails="A fault at the far end may get no more than {value:down}, at which the fuse "
        "need not open; {limit:up} would open it within 5 s: mend what resists on the way there "
        "and back, or take a larger wire.",
        unknown=(
            "When the fuse opens at the {value:down} of a fault at the far end is not known here: "
            "hold it against the maker's curve, or take another family.",
            When(
                "value",
                None,
                "Give loop_resistance_ohm, of all that a fault at the far end runs through behind "
                "the fuse, with supply_v: it may be too little to open the fuse.",
            ),
        ),
    ),
    "inrush": CheckWords(
        name="inrush",
        passes="",
        unknown="Give inrush_current_a or load_profile: the fuse has to carry the first current, "
        "too.",
    ),
}

FUSE_SELECTION = OperationWords(
    headline=(
        "A fuse of {fuse_rating_a} ({fuse_family}), at {fuse_ambient_c}, carries "
        "{load_current_a}: " + _WINDOW,
        When("fuse_rating_a", None, "No standard rating fits: " + _WINDOW),
    ),
    facts=("The wire may carry {permissible_current_a:down} at {ambient_c}.",),
    told=("fuse_carries_load",),
    about=("fuse_window",),
    checks=FUSE_CHECKS,
    remedies={
        **WIRE_REMEDIES,
        "permissible_current_a": "a wire that bears {new:up}",
        "holder_rating_a": "a holder of {new:up}",
        "loop_resistance_ohm": "a loop of {new:down} at most behind the fuse",
        "any_family": "a fuse of any family",
        "fuse_ambient_c": "the fuse where it is {new:down} at most",
        "load_current_a": "a load of {new:down} at most on this fuse, the rest on another",
    },
)

WORDS = {"fuse-selection": FUSE_SELECTION}
