"""What is said of readings."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When
from lastvolt_service.words.en.paths import NOMINAL_VOLTAGE, OVERHEATS, SOURCE_VOLTAGE
from lastvolt_service.words.en.readings import (
    CONTACT_HEAT,
    DOUBTS,
    LOAD_CURRENT,
    near,
    supply,
    what_opened,
)

_MAKE_UP = (
    "no part drops much more than a sound one, and with the load they make up the supply to "
    "{unaccounted_v}"
)
_SUPPLIES = ("too_low", "low", "low_unless_cranking", "too_high", "unsettled", "of_other_system")
_UNKNOWN_WHOLE = When(
    "unaccounted_v",
    None,
    "no part drops much more than a sound one. Whether they are the whole path is not known.",
)
_RELAY_NEAR = "Or let a relay near the load carry its current."
_LARGER = (
    When(
        "readings.[largest_drop].kind",
        "wire",
        (
            "Of the wires {largest_drop} drops most, {readings.[largest_drop].measured_v}.",
            "Take larger wires, or a shorter way.",
            When("circuit", "starter_control", _RELAY_NEAR),
            When("circuit", "continuous", _RELAY_NEAR),
            When("circuit", "intermittent", _RELAY_NEAR),
        ),
    ),
    When(
        "readings.[largest_drop].kind",
        "contact",
        (
            "Of the contacts {largest_drop} drops most, {readings.[largest_drop].measured_v}.",
            "Clean and tighten it all the same, or take a better or larger part.",
        ),
    ),
)
# Of a path that mending does not cure.
_STILL = "the path drops {sound_path_beyond_v} too much"
_TOO_HOT = (
    "Before that, take a larger size of {too_hot.0}: it is too thin for {current_at_work_a}, and "
    "heats up."
)
_MAY_BE_TOO_HOT = (
    "{may_be_too_hot} may be too thin for {current_at_work_a} all the same: ask wire-heating "
    "before anything else is sought."
)
_TOO_COARSE = (
    "an excess that matters could hide within the errors: use a finer meter or range.",
    "Or read it at the working current, {working_current_a}.",
)
_AT_LEAST = (
    "together all parts drop too much at this current, whatever the errors hide, and a part may "
    "be poor besides."
)
_NEW = "{part} drops {value}, a new one {limit}."

_OVERDRAWN = (
    "{current_a} flow where {working_current_a} are usual: the load sticks or is shorted, or more "
    "hangs on its wire."
)

# All that is read is read at one current, which a feed of several loads exceeds.
_SHARED = "If other loads hang on {worst.name}, too, switch them off first and read it again."

_VERDICT = (
    When("order", "wires_first", "The path is not up to this current"),
    When("order", "wires_after", "Poor parts found"),
    When("order", None, (When("advice", "mend_the_wiring", "Poor parts found"),)),
    When("reason", "too_thin_at_least", "The path is not up to this current"),
    When("advice", "open_part", "A part is open"),
    When("advice", "unmeasured_part", "Read the rest of the path"),
    When("advice", "not_proven", "Nothing is proven"),
    When("reason", "too_thin", "The path is sound, but not up to this current"),
    When("reason", "parts_are_sound", "No poor part was read"),
    When("reason", "may_be_too_thin", "No poor part was read"),
)


DROP_DIAGNOSIS = OperationWords(
    verdict=(
        When("supply_first", True, "Look at the supply first"),
        When("load_is", "overdrawn", "Look at the load first"),
        When("load_is", "shorted", "Look at the load first"),
        When("supply_first", False, (When("load_is", None, _VERDICT),)),
    ),
    headline=(
        When("load_is", "overdrawn", (_OVERDRAWN, "See to that first. Besides,")),
        When("supply_first", True, (*supply("the"), "Besides,")),
        When(
            "order",
            "wires_first",
            (
                f"{_STILL} even with sound contacts.",
                *_LARGER,
                "Besides,",
            ),
        ),
        When(
            "reason",
            "excess_proven",
            (
                When(
                    "working_current_a",
                    None,
                    (
                        "{worst.name} drops {worst.excess_v} more than a sound one, and mending it "
                        "gives the load {worst.regained_v}.",
                        "Then mend {mend_first.1}: together {mend_first} give the load "
                        "{regained_v}.",
                    ),
                ),
                "at {working_current_a} {worst.name} drops {worst.excess_at_work_v} more than a "
                "sound one: mend it.",
                When(
                    "worst.excess_at_work_v",
                    None,
                    "{worst.name} drops {worst.excess_v} more than a sound one, and lets no "
                    "{working_current_a} flow: mend it.",
                ),
                "At {working_current_a} {mend_first.1} comes next: mend {mend_first} in order.",
                When("worst.kind", "wire", _SHARED),
                When(
                    "order",
                    "wires_after",
                    f"Even then {_STILL}: take larger wires, or a shorter way.",
                ),
            ),
        ),
        When(
            "reason",
            "lost_elsewhere",
            "no part that was read shows a fault, but {unaccounted_v} is lost where nothing was "
            "read: read every wire, joint and contact, those of the ground side too.",
        ),
        When(
            "reason",
            "open_part",
            (
                "nearly all of the supply stands across {mend_first}, and no current flows.",
                *what_opened("worst.part"),
                "Then read the path again.",
            ),
        ),
        When(
            "reason",
            "load_open",
            "nearly all of the supply stands at the load, and it takes {current_a}: the load "
            "itself is open, or off. Test the load, not the wiring.",
        ),
        When(
            "reason",
            "shorted",
            "{current_a} flow, and the load keeps {load_voltage_v}: it is shorted, or its wire is "
            "beside it. Switch it off, find that, and read the path again then.",
        ),
        When(
            "reason",
            "leads_swapped",
            "{swapped} reads below zero: swap the leads, and read the path again, all of it in the "
            "direction of the current.",
        ),
        When(
            "reason",
            "read_twice",
            "without {overlap} the readings make up the supply: it was read within another part. "
            "Read each part by itself.",
        ),
        When(
            "reason",
            "current_contradicts",
            "at {current_a} sound wires of these sizes drop something else, all of them: measure "
            "the current again, and look at sizes and lengths.",
        ),
        When(
            "reason",
            "trickle",
            "{current_a} are too little to show a fault in such a circuit. Read it with the load "
            "at work, or give working_current_a. If the load should take more, it is open or off.",
        ),
        When(
            "reason",
            "readings_contradict",
            "readings, load and supply contradict each other: take them again, all at the same "
            "current and each part once.",
        ),
        When("reason", "too_coarse", _TOO_COARSE),
        When(
            "reason",
            "too_thin",
            (
                "{too_hot.0} is too thin for {current_at_work_a}, and heats up: take a larger "
                "size first.",
                When(
                    "too_hot.0",
                    None,
                    (
                        "no part drops much more than a sound one, and together they drop too much "
                        "at this current.",
                        *_LARGER,
                    ),
                ),
            ),
        ),
        When("reason", "too_thin_at_least", (_AT_LEAST, *_LARGER)),
        When(
            "reason",
            "parts_are_sound",
            (
                When("supply_is", None, _MAKE_UP + ": look for the fault elsewhere."),
                *(When("supply_is", each, _MAKE_UP + ".") for each in _SUPPLIES),
                _UNKNOWN_WHOLE,
            ),
        ),
        When("reason", "may_be_too_thin", (_MAKE_UP + ".", _UNKNOWN_WHOLE, _MAY_BE_TOO_HOT)),
        When("reason", "draws_too_much", "no part drops much more than a sound one."),
        When("advice", "mend_the_wiring", _TOO_HOT),
        When("advice", "unmeasured_part", _TOO_HOT),
        When("advice", "not_proven", _TOO_HOT),
        When("supply_first", False, supply("The")),
        When(
            "supply_is",
            "of_other_system",
            "The supply has {supply_v}, which is no system of {nominal_v}: give the nominal "
            "voltage of this one.",
        ),
        When(
            "supply_is",
            "unsettled",
            "It is taken for a 6 V system; if it has 12 V, the battery is flat: give nominal_v.",
        ),
        When(
            "supply_is",
            "too_high",
            "The supply itself has {supply_v}, which gasses or boils the battery: measure what the "
            "regulator holds.",
        ),
    ),
    short_names={"worst": "readings.[mend_first]"},
    facts=("All readings together are {total_measured_v} at {current_a}.", "{next_message}"),
    reasons={
        "next_rest_of_path": "Next, read the volts across what was not read between the supply, "
        "the load and the ground, from one end to the other.",
        "next_finer": "Next, read {part} again in a finer range, or at a larger current: there "
        "most could hide.",
        "next_current": "Next, measure the current again, with the load at work.",
        "next_again": "Next, take all readings again, each part once and in the direction of the "
        "current.",
        "next_once_mended": "Next, once {part} is mended, read across it again, and the volts at "
        "the load.",
        "next_load": "Next, read the ohms of the load by itself, with the power off.",
        "next_battery": "Next, read the volts between the battery's posts, at rest and at work.",
        "next_ends": "Next, read the volts at the supply and at the load, at the same current.",
    },
    checks={
        "wire_drop": CheckWords(
            name="drop of a wire",
            passes=(
                _NEW,
                When(
                    "detail",
                    "drops_less_than_new",
                    "Check its size and length and the current, for it drops less.",
                ),
            ),
            marginal=(
                When(
                    "detail",
                    None,
                    "{part} drops {value}, a new one {limit}; the errors, "
                    "{readings.[part].excess_uncertainty_v}, could hide an excess that matters.",
                ),
                When(
                    "detail",
                    "little_more",
                    _NEW + " That is little more: its length may be more than was given.",
                ),
            ),
            fails="{part} drops {value}, a new one {limit}: look for broken strands, corrosion and "
            "bad crimps, or replace it. If other loads hang on it, too, switch them off first and "
            "read it again.",
            undecided="{part} drops {value}, a new one {limit}, and the meter may be off by "
            "{readings.[part].uncertainty_v}: it may be poor or sound. Read it once more, in a "
            "finer range.",
            unknown=DOUBTS,
        ),
        "contact_drop": CheckWords(
            name="drop of a contact",
            passes="{part} drops {value} of the {limit} allowed.",
            marginal=(
                *near("{part} drops {value}", "{readings.[part].excess_uncertainty_v}"),
                When(
                    "detail",
                    "little_more",
                    "{part} drops {value}, and a sound one {limit} at most: look at it again "
                    "before long. Mending it gives the load {readings.[part].regained_v}.",
                ),
            ),
            fails=(
                When(
                    "detail",
                    "open_part",
                    (
                        "{part} drops {value}, more than {limit}: it is open.",
                        *what_opened("readings.[part].part"),
                    ),
                ),
                When(
                    "detail",
                    None,
                    "{part} drops {value}, more than {limit}: it is poor, or too small. Clean, "
                    "tighten or replace the {readings.[part].part}.",
                ),
            ),
            undecided="{part} drops {value}, a sound one {limit} at most, and the meter may be "
            "off by {readings.[part].uncertainty_v}: it may be poor or sound. Read it once more, "
            "in a finer range.",
            unknown=DOUBTS,
        ),
        "contact_heat": CONTACT_HEAT,
        "cable_drop": CheckWords(
            name="drop of a starter cable",
            passes="As a starter cable, {part} drops {value} of the {limit} allowed.",
            marginal=(
                *near(
                    "As a starter cable, {part} drops {value}", "{readings.[part].uncertainty_v}"
                ),
                When(
                    "detail",
                    "thin",
                    "As a starter cable, {part} drops {value}, over {limit}: it is sound, but thin "
                    "for this current, and its path loses no more than it may.",
                ),
            ),
            fails="As a starter cable, {part} drops {value}, more than {limit}: mend its ends, or "
            "take a larger or shorter cable.",
            unknown=DOUBTS,
        ),
        "path_drop": CheckWords(
            name="drop of the whole path",
            passes="The path drops {value} of the {limit} allowed.",
            marginal=near("The path drops {value}", "{total_uncertainty_v}"),
            fails="The path drops {value}, more than {limit}: mend what drops more than a sound "
            "part, or take larger wires.",
            unknown=DOUBTS,
        ),
        "balance": CheckWords(
            name="readings make up the supply",
            passes="Load and readings make up the supply, within the error of the meter.",
            fails=(
                When(
                    "detail",
                    "not_read",
                    "{value} is lost where nothing was read: read the rest of the path.",
                ),
                When(
                    "detail",
                    "read_twice",
                    "{value} is read twice, or at another current: take the readings again.",
                ),
            ),
            unknown=(
                When(
                    "detail",
                    None,
                    "Give supply_v and load_voltage_v to know what was not read.",
                ),
                When(
                    "detail",
                    "leads_swapped",
                    "Leads are swapped somewhere: what was not read is not known before they are "
                    "put right.",
                ),
            ),
        ),
        "supply": CheckWords(
            name="voltage of the supply",
            passes="",
            marginal=(
                When(
                    "detail",
                    None,
                    "The supply has {value} at {current_a}; a sound one, warm and at half of its "
                    "cold rating, keeps {limit}: it is cold, flat or too small, or the starter "
                    "draws too much. Ask battery-voltage.",
                ),
                When(
                    "detail",
                    "unless_cranking",
                    "The supply has {value} at {current_a}, and a battery that is not flat keeps "
                    "{limit} while the starter does not turn: read it at rest.",
                ),
            ),
            unknown="It is taken for a 6 V system; a flat 12 V battery may read the same: give "
            "nominal_v.",
            fails="The supply has {value} at {current_a} and a battery that is not flat keeps "
            "{limit}: charge it and test it; where its posts have more, read the path from there.",
        ),
        "source_voltage": SOURCE_VOLTAGE,
        "nominal_voltage": NOMINAL_VOLTAGE,
        "load_current": LOAD_CURRENT,
        "wires_heat": CheckWords(
            name="heat of the wires",
            passes="",
            fails=OVERHEATS,
            unknown="Whether {detail} can bear the current was not judged: ask wire-heating.",
        ),
    },
)

WORDS = {"drop-diagnosis": DROP_DIAGNOSIS}
