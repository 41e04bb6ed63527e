"""What is said of wires."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When
from lastvolt_service.words.en.fuses import FUSE_CHECKS, WIRE_REMEDIES, fuse_window
from lastvolt_service.words.en.paths import (
    DROP_LIMIT_IS_FOR,
    LOAD_VOLTAGE,
    NOMINAL_VOLTAGE,
    SOURCE_VOLTAGE,
    SUPPLY,
)

_PLACE = "in air of {ambient_c}"
_TOO_HOT = (
    "Air of {ambient_c} leaves nothing to the insulation: no size helps, only better insulation or "
    "a cooler place."
)
_DUTY = "{size} may carry {duty_current_a} for {on_time_s} " + _PLACE + " and carries {current_a}; "


def _unless_too_hot(advice: str) -> Weigh:
    """Give an advice, unless the air alone is as hot as the insulation may become."""
    return Weigh("ambient_c", "insulation_limit_c", enough=_TOO_HOT, short=advice)


WIRE_HEATING = OperationWords(
    headline=(
        When(
            "duty_current_a",
            None,
            (
                "{size} reaches {conductor_temperature_c} at {current_a} "
                + _PLACE
                + "; its insulation bears {insulation_limit_c}.",
                When(
                    "conductor_temperature_c",
                    None,
                    "{size} heats up without end at {current_a} "
                    + _PLACE
                    + "; its insulation bears {insulation_limit_c}.",
                ),
            ),
        ),
        When(
            "off_time_s",
            None,
            _DUTY + "it reaches {temperature_after_on_time_c}, its insulation bears "
            "{insulation_limit_c}.",
        ),
        # The rest is too short to forget the time before: from cold is the first time only.
        "{size} may carry {duty_current_a} for {on_time_s} after {off_time_s} of rest, over and "
        "over, " + _PLACE + " and carries {current_a}; the first time alone takes it to "
        "{temperature_after_on_time_c}, and each further one begins with what the rest has left of "
        "that. Its insulation bears "
        "{insulation_limit_c}.",
        When(
            "temperature_after_on_time_c",
            None,
            _DUTY + "its insulation, which bears {insulation_limit_c}, is gone before.",
        ),
    ),
    facts=(
        (
            When(
                "duty_current_a",
                None,
                "It may carry {permissible_current_a:down} steadily: {permissible_model_a:down} by "
                "the model, {permissible_table_a:down} by the published table, carried over to it.",
            ),
            "For {on_time_s} it may carry {duty_current_a:down}, steadily "
            "{permissible_current_a:down} only.",
        ),
        "Most of a rise is over after three time constants of {time_constant_s}.",
    ),
    told=("conductor_temperature", "permissible_current", "duty_current"),
    about=("conductor_temperature", "duty_current"),
    checks={
        "conductor_temperature": CheckWords(
            name="conductor temperature",
            passes="The conductor reaches {value}; its insulation bears {limit}.",
            fails=(
                "The conductor reaches {value} and its insulation bears {limit}.",
                When(
                    "value",
                    None,
                    "The wire finds no steady temperature: it heats up without end.",
                ),
                _unless_too_hot(
                    "Take a larger size, better insulation, a cooler place, fewer wires in the "
                    "loom, or less current."
                ),
            ),
        ),
        "permissible_current": CheckWords(
            name="permissible current",
            passes="The wire may carry {limit} steadily and carries {value}.",
            fails=(
                "The wire may carry {limit} steadily and is asked for {value}.",
                _unless_too_hot("Take a larger size."),
            ),
        ),
        "duty_current": CheckWords(
            name="current for the duty",
            passes="For {on_time_s} the wire may carry {limit} and carries {value}.",
            fails=(
                "For {on_time_s} the wire may carry {limit} and is asked for {value}.",
                _unless_too_hot("Shorten the time, lengthen the rest, or take a larger size."),
            ),
        ),
    },
    remedies={
        **WIRE_REMEDIES,
        "on_time_s": "on for {new:down} at most",
        "off_time_s": "off for {new:up} at least",
        "current_a": "a load of {new:down} at most, the rest on another wire",
    },
    names={"model": "the heat balance", "table": "a published table"},
)

WIRE_SIZING = OperationWords(
    headline=(
        "{size} is the smallest size for {load_current_a} over {length_m} one way.",
        When(
            "heat_decides",
            True,
            "Air of {ambient_c} leaves its insulation little: a thinner one does in better "
            "insulation, or in a cooler place.",
        ),
        When(
            "size",
            None,
            (
                When(
                    "no_size_helps", None, "No size up to {candidates.-1.size} passes everything."
                ),
                When(
                    "no_size_helps",
                    "low_supply",
                    "No size helps: the supply has {supply_v} and {needed_v} are needed at the "
                    "load.",
                ),
                When(
                    "no_size_helps",
                    "ambient",
                    "No size helps: in air of {ambient_c} nothing is left to its insulation.",
                ),
                When(
                    "no_size_helps",
                    "fixed_drop",
                    (
                        When(
                            "return_path",
                            "body",
                            "No size helps: body and contacts alone take more than the "
                            "{limit_drop_v} allowed.",
                        ),
                        When(
                            "return_path",
                            "wire",
                            "No size helps: the contacts alone take more than the {limit_drop_v} "
                            "allowed.",
                        ),
                    ),
                ),
            ),
        ),
    ),
    facts=(
        (
            "It loses {drop_v} of the {limit_drop_v} allowed, reaches {conductor_temperature_c} in "
            "air of {ambient_c}, and takes a fuse of {fuse_rating_a} ({fuse_family}).",
            When("size", None, "{candidates.-1.size} fails: {candidates.-1.failing}."),
        ),
        (
            "Of its limit {contacts_drop_v} are for the contacts of the path, which have "
            "{contacts_resistance_ohm}.",
            When(
                "contacts_resistance_ohm",
                None,
                "Of its limit {contacts_drop_v} are kept back for the contacts of the path, which "
                "are not given: fuse and holder, switch, connectors.",
            ),
        ),
        (
            When(
                "candidates.-2.wants_fuse_only",
                False,
                "{candidates.-2.size}, the next below {size}, is too small: "
                "{candidates.-2.failing}.",
            ),
            When(
                "candidates.-2.wants_fuse_only",
                True,
                "{candidates.-2.size}, the next below {size}, would carry the load, but not all "
                "that a fuse for this load lets pass.",
            ),
        ),
    ),
    about=(
        "supply",
        "mechanical_minimum",
        "loop_drop",
        "load_voltage",
        "conductor_temperature",
        "permissible_current",
        "duty_current",
        "both_windings_held",
        # Where no size is found the sentence tells why, and what bursts is named behind it.
        When("size", None, "breaking_capacity"),
        When("size", None, "far_short"),
    ),
    checks={
        "mechanical_minimum": CheckWords(
            name="mechanical minimum",
            passes="{candidates.-1.size} is strong enough to be pulled and crimped.",
            fails="{candidates.-1.size} has {value}, and what lasts in a vehicle at least {limit}.",
        ),
        "loop_drop": CheckWords(
            name="drop of the loop",
            passes=("The loop drops {value} of the {limit} allowed.", *DROP_LIMIT_IS_FOR),
            marginal=(
                Weigh(
                    "limit",
                    "value",
                    enough="The loop drops {limit} of the {value} allowed. The margin is small.",
                    short="The loop drops {limit}, more than {value}: what the solenoid needs "
                    "decides.",
                ),
                *DROP_LIMIT_IS_FOR,
            ),
            fails=(
                When(
                    "no_size_helps",
                    None,
                    "The loop drops {value}, more than {limit}: take a shorter way, or split the "
                    "load between wires.",
                ),
                When("no_size_helps", "ambient", "The loop drops {value}, more than {limit}."),
                When("no_size_helps", "low_supply", "The loop drops {value}, more than {limit}."),
                When(
                    "no_size_helps",
                    "fixed_drop",
                    (
                        When(
                            "return_path",
                            "body",
                            "Body and contacts alone drop more than {limit}, whatever the wire: "
                            "mend them, or lead the current back through a wire.",
                        ),
                        When(
                            "return_path",
                            "wire",
                            "The contacts alone drop more than {limit}, whatever the wire: mend "
                            "them.",
                        ),
                    ),
                ),
                *DROP_LIMIT_IS_FOR,
            ),
            undecided=(
                "The loop drops {value} of the {limit} allowed, and a smaller size may do.",
                When(
                    "detail",
                    "first_current",
                    "That is with the usual first current of its kind, an estimate: measure it and "
                    "give inrush_current_a, or load_current_a as that if it is of both windings.",
                ),
                When(
                    "detail",
                    "body",
                    "Much of it is in a body that nobody measured: measure its drop under load and "
                    "give body_resistance_ohm, or lead the current back through a wire.",
                ),
            ),
            unknown="Wire and contacts drop {value} and may drop {limit} with the body, which "
            "decides and which nobody measured: give body_resistance_ohm.",
        ),
        "supply": SUPPLY,
        "source_voltage": SOURCE_VOLTAGE,
        "nominal_voltage": NOMINAL_VOLTAGE,
        "load_voltage": LOAD_VOLTAGE,
        "conductor_temperature": CheckWords(
            name="conductor temperature",
            passes="The conductor reaches {value}; its insulation bears {limit}.",
            fails=(
                "The conductor reaches {value} and its insulation bears {limit}.",
                When(
                    "value",
                    None,
                    "The wire finds no steady temperature: it heats up without end.",
                ),
                When(
                    "no_size_helps",
                    None,
                    "Take better insulation, a cooler place, fewer wires in the loom, or split the "
                    "load between wires.",
                ),
                When("no_size_helps", "ambient", _TOO_HOT),
            ),
        ),
        "permissible_current": CheckWords(
            name="permissible current",
            passes="The wire may carry {limit} steadily and carries {value}.",
            fails=(
                "The wire may carry {limit} steadily and is asked for {value}.",
                When("no_size_helps", None, "Split the load between wires."),
                When("no_size_helps", "ambient", _TOO_HOT),
            ),
        ),
        "duty_current": CheckWords(
            name="current for the duty",
            passes="For the times of the load the wire may carry {limit} and carries {value}.",
            fails=(
                "For the times of the load the wire may carry {limit} and is asked for {value}.",
                When("no_size_helps", None, "Split the load between wires."),
                When("no_size_helps", "fixed_drop", "Split the load between wires."),
            ),
        ),
        "both_windings_held": CheckWords(
            name="solenoid that does not pull in",
            passes="Where the solenoid does not pull in and the key is held, the conductor reaches "
            "{value}; its insulation bears {limit}. The fuse may open.",
            fails=(
                "Where the solenoid does not pull in and the key is held, the conductor reaches "
                "{value} and its insulation bears {limit}: take better insulation.",
                When(
                    "value",
                    None,
                    "Where the solenoid does not pull in and the key is held, the insulation is "
                    "gone: take better insulation.",
                ),
            ),
        ),
        **FUSE_CHECKS,
        # No larger wire is asked for: the thickest was tried.
        "fuse_window": fuse_window(
            "take better insulation or a cooler place, or split the load between wires with a fuse "
            "each.",
            "take another family of fuses.",
        ),
    },
)

WORDS = {"wire-heating": WIRE_HEATING, "wire-sizing": WIRE_SIZING}
