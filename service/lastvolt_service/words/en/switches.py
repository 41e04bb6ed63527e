"""What is said of switches and their loads."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When

_NO_RELAY = When("detail", None, "No relay helps: take a sound switch, or one of a higher rating.")
_ADVICE = ("Move {detail} to a relay first, fed through its own fuse.", _NO_RELAY)

_WORN_OR_LOADED = (
    When("worn", True, "They are worn: clean or replace the switch."),
    When("worn", False, ("They carry too much.", *_ADVICE)),
)

SWITCH_LOADING = OperationWords(
    headline="In position {worst_position} the switch carries {worst.current_a} of its {rating_a} "
    "({worst.utilisation_percent}).",
    short_names={"worst": "positions.[worst_position]"},
    facts=(
        "Its contacts lose {worst.drop_v} and make {worst.power_w} there.",
        "A relay for {cumulative.0.name} first leaves {cumulative.0.current_a} in its worst "
        "position.",
        (When("relays_suffice", False, "Relays alone do not suffice."),),
    ),
    told=("current", "drop", "heat"),
    told_part="worst_position",
    about=("current",),
    checks={
        "current": CheckWords(
            name="current through the switch",
            passes="In position {part} the switch carries {value} of its {limit}.",
            marginal=(
                "In position {part} the switch carries {value} of its {limit}; little is left.",
                "A relay for {detail}, fed through its own fuse, would spare it.",
                _NO_RELAY,
            ),
            fails=(
                "In position {part} the switch carries {value}, more than its {limit}.",
                *_ADVICE,
            ),
        ),
        "drop": CheckWords(
            name="drop of its contacts",
            passes="In position {part} its contacts drop {value}, as those of a sound switch do.",
            marginal="In position {part} its contacts drop {value}, those of a sound switch at "
            "most {limit}: look at it again before long.",
            fails=(
                "In position {part} its contacts drop {value}, those of a sound switch at most "
                "{limit}.",
                *_WORN_OR_LOADED,
            ),
        ),
        "heat": CheckWords(
            name="heat in its contacts",
            passes="In position {part} its contacts make {value}.",
            marginal="In position {part} its contacts make {value}, and a sound switch at its "
            "{rating_a} at most {limit}: look at it again before long.",
            fails=(
                "In position {part} its contacts make {value}, and a sound switch at its "
                "{rating_a} at most {limit}: they age fast.",
                *_WORN_OR_LOADED,
            ),
        ),
    },
)

WORDS = {"switch-loading": SWITCH_LOADING}
