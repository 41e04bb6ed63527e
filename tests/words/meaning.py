"""What sentences mean, written by hand beside the catalogue: which way a number is better, which
words promise success and which failure, and beside which words each number belongs.

A sentence whose numbers or whose verdict change places no longer fits; a new sentence needs a line.
"""

from . import meaning_of_fits as fits
from . import meaning_of_plans as plans
from . import meaning_of_proofs as proofs
from . import meaning_of_quick as quick
from . import meaning_of_recordings as recordings
from . import meaning_of_sheets as sheets
from .meaning_of_circuits import (
    CIRCUITS,
    FUSES,
    HEAT,
    LOAD_VOLTAGE,
    NOMINAL_VOLTAGE,
    OF_SWITCH,
    PERMISSIBLE,
    SOURCE_VOLTAGE,
    SUPPLY,
    SUPPLY_AT_POSTS,
    SUPPLY_OF_PATH,
)
from .meaning_of_numbers import PHRASES
from .meaning_of_reasons import REASONS, REMEDIES
from .means import Means, means

CHECKS: dict[str, dict[str, Means]] = {
    "wire-resistance": {"wires_heat": means("", "", "")},
    "voltage-drop": {
        "path_drop": means(
            "", "of the {limit} allowed", "more than {limit}",
            "path drops {value}", "the {limit} allowed", "more than {limit}",
            "path drops {limit}", "the {value} allowed", "more than {value}",
            "the {needed_v} that the load needs",
            "Start with {begin_with}", "whether {by_design} is there",
        ),
        "supply": SUPPLY_OF_PATH,
        "source_voltage": SOURCE_VOLTAGE,
        "nominal_voltage": NOMINAL_VOLTAGE,
        "load_voltage": LOAD_VOLTAGE,
        "voltage_collapse": means(
            "<", "The path can deliver", "lower its resistance",
            "can deliver {limit}", "the {limit} that the path can deliver", "asks for {value}",
        ),
        "contact_drop": means(
            "<", "as a sound one does", "clean, tighten or replace it",
            "drops {value}", "at most {limit}",
        ),
        "contact_heat": means(
            "<", "", "and {limit} burn", "makes {value} of heat", "{limit} burn what holds it",
            "{limit} burn a relay", "at {current_a} it makes",
        ),
        "contact_current": means(
            "", "of its {limit}", "more than its {limit}", "carries {value}", "its {limit}",
            "carries {limit}", "its {value}", "rated {value} for hours",
        ),
        "fuse_load": means(
            "", "for as long.", "it opens sooner or later",
            "carries {value}", "may carry {limit} for as long",
            "it carries {limit}", "may carry {value} for as long", "practice allows {value}",
        ),
        "conductor_temperature": HEAT._replace(
            phrases=(*HEAT.phrases, "heats up without end at {current_a} (")
        ),
        "permissible_current": means(
            "<", "for as long.", "by the published table",
            "carries {value}", "may carry {limit}",
        ),
        "wires_heat": means(
            "", "", "insulation that bears most", "carries {value}", "may carry {limit}",
            "Whether {detail} can bear the current was not judged",
        ),
        "fuse_protects_wire": means(
            "<", "", "Take a smaller fuse", "{detail} is a fuse", "fuse of {value}",
            "and {part} bears {limit} without",
        ),
    },
    "wire-heating": {
        "conductor_temperature": HEAT,
        "permissible_current": PERMISSIBLE,
        "duty_current": PERMISSIBLE,
    },
    "wire-sizing": {
        "mechanical_minimum": means(
            ">", "is strong enough", "what lasts in a vehicle", "has {value}", "at least {limit}"
        ),
        "loop_drop": means(
            "", "of the {limit} allowed", "more than {limit}",
            "loop drops {value}", "the {limit} allowed", "more than {limit}",
            "loop drops {limit}", "the {value} allowed", "more than {value}",
            "contacts drop {value}", "may drop {limit} with",
        ),
        "supply": SUPPLY,
        "source_voltage": SOURCE_VOLTAGE,
        "nominal_voltage": NOMINAL_VOLTAGE,
        "load_voltage": LOAD_VOLTAGE,
        "conductor_temperature": HEAT,
        "permissible_current": PERMISSIBLE,
        "duty_current": PERMISSIBLE,
        "both_windings_held": means(
            "<", "The fuse may open", "take better insulation",
            "conductor reaches {value}", "insulation bears {limit}",
        ),
        **FUSES,
    },
    "fuse-selection": FUSES,
    "relay-coil": {
        "source_voltage": SOURCE_VOLTAGE._replace(better=""),
        "pick_up_at_ambient": means(
            ">", "closes with", "may not close",
            "{value} arrive", "needs {limit}", "{apart} short", "It is for {nominal_v}",
        ),
        "pick_up_warm": means(
            ">", "closes with", "may not close",
            "{value} arrive", "needs {limit}", "{apart} short", "It is for {nominal_v}",
        ),
        "hold": means(
            ">", "holds down to", "lets go below",
            "holds down to {limit}", "lets go below {limit}", "dip reaches {value}",
        ),
        "continuous_voltage": means(
            "<", "its limit there is {limit}", "gets {value}",
            "coil stands {value} at", "limit there is {limit}",
            "coil stands {limit} at", "gets {value}",
        ),
        "coil_resistance": means(">", "", "as good as open", "has {value}", "more than {limit}"),
        "highest_ambient": means(
            "<", "its place has {value}.", "mount it cooler",
            "may be at {limit}", "place has {value}",
        ),
        "switch_off_peak": means(
            "<", "which stands {limit}.", "clamp the coil lower",
            "Switching off puts {value}", "the switch, which stands {limit}",
        ),
        "suppression_resistor": means(
            "<", "makes {value} while", "a small one burns",
            "makes {value}", "resistance makes {limit}", "resistance {limit} at most",
            "takes {suppression.resistor_current_a}", "switch carries {switch_current_a}",
        ),
        "suppression": means("", "", "and the switch stands", "switch stands {limit}"),
    },
    "relay-contact": {
        "steady_current": means(
            "<", "carries {value} of the {limit}", "ake a larger relay",
            "carries {value} of", "the {limit} that it may carry", "may carry {limit}",
            "load takes {value}",
        ),
        "inrush": means(
            "<", "and the load starts with {value}", "can weld shut",
            "starts with {value}", "may close on {limit}", "to {value}, and the contact",
            "may close on {value}", "load starts with {limit}", "lamps may start with {limit}",
        ),
        "rated_voltage": means(
            "<", "supply reaches {value}.", "arc may not go out",
            "may break {limit} DC", "supply reaches {value}",
        ),
        "contact_heat": means(
            "<", "", "and {limit} burn", "makes {value} of heat", "{limit} burn what holds it"
        ),
        "contact_drop": means(
            "<", "as a sound one does", "worn or too small",
            "contact drops {value}", "at most {limit}",
        ),
        # The two alone decide, but it never fails: it is marginal or passes.
        "smallest_current": means(
            "", "large enough to keep", "", "load takes {value}", "stays clean from {limit} on"
        ),
    },
    "start-sequence": {
        **CIRCUITS,
        "motor_current": means(
            ">", "or more turn", "and it stands", "takes {value}", "takes only {value}",
            "{limit} or more", "less than {limit}",
        ),
        "full_voltage": means(
            "", "move its plunger", "no wiring cures that",
            "{limit} at terminal 50 move its plunger", "the source has {value}",
            "takes {limit} at terminal 50",
        ),
        "pull_in_force": means(
            ">", "move the plunger.", "does not go home",
            "make {value} in all", "make only {value} in all", "{limit} move the plunger",
        ),
        "hold_force": means(
            ">", "keep the plunger, which", "clicks over and over",
            "{value} in all turns", "lets go below {limit}",
        ),
        "relay_lets_go": means(
            "", "stays closed", "clicks over and over", "{value} are left", "opens below {limit}",
        ),
        "cranking_voltage": means(
            ">", "{value} reach the motor and", "turns too slowly",
            "{value} reach the motor", "{limit} are needed",
        ),
        "lead_drop": means(
            "<", "", "thicker or shorter ones", "lose {value}", "ones {limit} at most",
            "leads from {detail}",
        ),
        "coil_unfed": means("", "", "it stays open", "only {value} are at its coil"),
        "control_drop": means("", "", "thicker or shorter", "{value} are lost"),
    "motor_stands": means("", "", "seized or shorted", "motor takes {value}"),
        "at_terminal_50": means(
            "", "", "with the key let go", "{value} come to terminal 50",
            "{value} leave terminal 50",
        ),
        "release_force": means(
            "<", "it goes back", "may run on", "{value} in all turns", "{limit} keep the plunger",
        ),
    },
    "switch-loading": {
        "current": means(
            "<", "of its {limit}.", "more than its {limit}",
            "switch carries {value}", "its {limit}", *OF_SWITCH,
        ),
        "drop": means("<", "as those of a sound switch do", "a sound switch at most", *OF_SWITCH),
        "heat": means("<", "its contacts make {value}.", "they age fast", *OF_SWITCH),
    },
    "solenoid-pull-in": {
        "supply": SUPPLY_AT_POSTS,
        "source_voltage": SOURCE_VOLTAGE._replace(better=""),
        "pull_in": means(
            ">", "solenoid pulls in", "will not pull in",
            "{value} arrive", "needs {limit}", "{apart} short", "From {supply_v} no path helps",
        ),
        "made_for": means(
            "", "", "Take another", "pulls in at {value}", "hardly below {limit}",
            "not below {limit}",
        ),
        "hold_in": means(
            ">", "it holds down to", "it will let go",
            "holds down to {limit}", "needs {limit} to hold", "dip reaches {value}",
        ),
    },
    "battery-voltage": {
        "battery_resistance": means(
            "", "", "replace the battery", "It has {value} inside", "{limit} at most"
        ),
        "charge": means(
            "", "enough to judge it by", "charge is low",
            "charged to {value}", "charge is low, {value}",
        ),
        # What its resistance leaves open decides with the numbers.
        "sag": means(
            "", "{current_a}; a load test", "and a load test asks a sound battery for",
            "posts keep {value}", "sound battery for {limit}", "Hold {value} against",
            "posts keep {terminal_low_v:down}",
        ),
        "cranking_rating": means(
            "<", "takes {value} of the {limit}", "more than the {limit}",
            "load takes {value}", "the {limit} that the battery is rated",
        ),
        "battery_heat": means("", "", "charge nor load", "It is at {value}", "from {limit} on"),
        "freezing": means(
            ">", "freezes at {limit}.", "may be frozen", "freezes at {limit}", "it is {value}"
        ),
    },
    "drop-diagnosis": {
        # Errors of the readings decide with the numbers: what cannot be told is marginal.
        "wire_drop": means(
            "", "a new one {limit}.", "look for broken strands",
            "drops {value}", "new one {limit}",
        ),
        "contact_drop": means(
            "", "of the {limit} allowed", "more than {limit}",
            "gives the load {readings.[part].regained_v}",
            "drops {value}", "sound one {limit} at most",
            "the {limit} allowed", "limit is {limit}", "more than {limit}",
        ),
        "contact_heat": means(
            "", "", "and {limit} burn", "makes {value} of heat", "{limit} burn what holds it",
            "{limit} burn a relay",
        ),
        "cable_drop": means(
            "", "of the {limit} allowed", "more than {limit}",
            "drops {value}", "the {limit} allowed", "limit is {limit}", "more than {limit}",
            "over {limit}",
        ),
        "path_drop": means(
            "", "of the {limit} allowed", "more than {limit}",
            "path drops {value}", "the {limit} allowed", "limit is {limit}", "more than {limit}",
        ),
        "balance": means(
            "", "make up the supply, within", "{value} is",
            "{value} is lost", "{value} is read twice",
        ),
        "supply": means(
            "", "", "battery that is not flat", "supply has {value}", "at {current_a}",
            "keeps {limit}",
        ),
        "nominal_voltage": NOMINAL_VOLTAGE,
        "source_voltage": SOURCE_VOLTAGE._replace(better=""),
        # Within a bar of three times it is marginal.
        "load_current": means(
            "", "", "See to that before", "{value} flow", "where {limit} are usual",
            "load that keeps {load_voltage_v}",
        ),
        "wires_heat": means(
            "", "", "insulation that bears most", "carries {value}", "may carry {limit}",
            "Whether {detail} can bear the current was not judged",
        ),
    },
    "circuit-check": CIRCUITS,
    "relay-retrofit": CIRCUITS | (PROPOSALS := {
        # Held against the system's voltage, or against the least for a relay of it.
        "switch_in_charge": means("", "", "{part} open", "With {part} open", "that {part} rules",
                                  "from behind {part}", "begins behind {part}",
                                  "from before {part}", "if {part} is to cut"),
        "feed_fuse": means(
            "<", "of unfused wire", "that no fuse protects",
            "within {value} of unfused", "behind {value} of wire", "{limit} at most",
            "{part} stands",
        ),
        "rating_given": means("", "", "", "rating of {part}", "what {part} may carry"),
        "turns_both_ways": means("", "", "without its ground", "{part} turns both ways"),
        "start": means(
            "", "", "posts of the battery", "{part} lets go while", "{part} goes home and lets go",
            "{part} does not go home", "and {value} are left", "with {value} at the posts",
        ),
        "wire_judged": means("", "", "", "Whether {part} bears", "fuse protects {part}",
                             "insulation of {part}", "what {part} may carry"),
        "by_design": means("", "", "", "{part} takes {value} from the load"),
        "advice": means(
            "", "", "", "depends on the {measure}", "on one side of it to that on the other",
            "More than {limit} there want mending", "Where it is more than {limit}",
            "With more than {limit} the load", "With less than {limit} the load",
            "{limit} are enough for it in every case, whatever it needs",
            "settles no contact that is not decided", "end, in {case}, with",
            "in {case}, key held to start, from terminal 50",
        ),
    }),
    "relay-choice": CIRCUITS | PROPOSALS | {
        "suitable_relay": means(
            "", "", "None of these relays may be mounted", "up to {limit} flow",
            "Of none of these relays is it known",
            "up to {limit} there",
        ),
    },
}  # fmt: skip

CHECKS["work-sheet"] = CHECKS["remedy-choice"] = CHECKS["relay-retrofit"]
CHECKS["quick-answer"] = CIRCUITS | {
    "load_voltage": LOAD_VOLTAGE,
    "path_drop": means("<", "at most are lost", "", *quick.PATH_DROP),
}
CHECKS["circuit-fit"] = {code: means(*each) for code, each in fits.CHECKS.items()}
CHECKS["meter-plan"] = {
    "load_voltage": means(*fits.CHECKS["load_voltage"], *plans.WITH_RELAY),
    "relay_voltage": CIRCUITS["relay_voltage"],
} | {code: means(*each) for code, each in plans.CHECKS.items()}
CHECKS["gain-proof"] = {code: means(*each) for code, each in proofs.CHECKS.items()}

# The first words of a report, by the worst verdict.
FRAME = {
    "pass": "Passes",
    "marginal": "Passes by little",
    "fail": "Fails",
    "undecided": "Not decided",
    "unknown": "Not judged",
}
# What a headline says where its first number reaches the second, and where it does not.
HEADLINES = {}
# Which number of an answer must reach which, where a headline weighs two.
WEIGHED = {
    "voltage-drop": ("supply_v", "load_voltage_v"),  # their difference alone is told
}
# What the advice and the reasons of decisions are called in words.
VERDICTS = {
    "short": "First",
    "mend": "Mend it",
    "relay": "Fit the relay",
    "mend_then_relay": "Mend, then fit the relay",
    "insurance": "Insurance",
    "not_the_wiring": "Before any wiring",
    "battery_first": "Battery first",
    "nothing_needed": "No relay needed",
    "find_out_first": "Find out first",
    "unsafe": "Do not build it so",
    "none_suffices": "Nothing here suffices",
    "True": "Look at the supply first",
    "mend_the_wiring": "Poor parts found",
    "open_part": "A part is open",
    "unmeasured_part": "Read the rest of the path",
    "not_proven": "Nothing is proven",
    "too_thin_at_least": "The path is not up to this current",
    "too_thin": "The path is sound, but not up to this current",
    "overdrawn": "Look at the load first",
    "shorted": "Look at the load first",
    "parts_are_sound": "No poor part was read",
    "may_be_too_thin": "No poor part was read",
    "wires_first": "The path is not up to this current",
    "wires_after": "Poor parts found",
    # Where no relay of a list suits.
    "none_known": "Find out first",
    "none_suits": "None of these",
}

# What must be said to the letter, for it would say the opposite with one word changed: operation,
# and the texts beside its checks, its remedies and its reasons.
TO_THE_LETTER = {
    "drop-diagnosis": (
        "no part drops much more than a sound one, and together they drop too much at this current",
        "no part drops much more than a sound one",
        "no part that was read shows a fault",
        "more than a sound one, and mending it gives the load",
        "{current_a} flow where {working_current_a} are usual: the load sticks or is shorted",
        "more than a sound one, and lets no {working_current_a} flow",
        "nearly all of the supply stands across {mend_first}, and no current flows.",
        "at {current_a} sound wires of these sizes drop something else, all of them",
        "{current_a} are too little to show a fault in such a circuit.",
    ),
    "remedy-choice": ("No relay is among the ways: give one to be weighed, too.",),
    "relay-retrofit": (
        "as it is {value} arrive, {apart} short",
        "With the relay {taken.load_voltage_v} reach {load}",
        "nothing is short as it is; the relay spares {switch}, or brings much.",
        "charge or replace the battery before any wiring is blamed.",
        "there is no other way that was weighed.",
        "{value} reach {load} in its poorest case, {apart} short.",
        "enough reaches {load} as it is in every case.",
        "{taken.parts} first, whatever else is done;",
        "more than needed, and no relay is added.",
    ),
    "relay-choice": (
        "it is enough to mend {mend}, without a relay.",
        "{mend} first, whatever else is done.",
        "nothing is short without the relay.",
        "enough reaches {load} as it is.",
        "it is low, and so cold that it may be frozen. Neither charge it nor jump-start it:",
        "charge or replace the battery before any wiring is blamed.",
        "what is burnt must be mended first.",
    ),
    "relay-contact": (
        "What the contact may carry at {ambient_c} is not known",
        "{lowest_first_current_a} to {first_current_a}, estimated for this kind of load.",
    ),
    "wire-sizing": ("is too small", "No size up to {candidates.-1.size} passes everything."),
    "fuse-selection": ("carries {load_current_a}: the load", "No standard rating fits"),
    "wire-heating": ("heats up without end", "is gone before"),
    "circuit-check": ("cases have nothing to mend.", "Nothing could be judged."),
}
REMEDIES["work-sheet"] = REMEDIES["remedy-choice"] = {}
REASONS |= sheets.REASONS
VERDICTS |= sheets.VERDICTS
PHRASES += sheets.PHRASES
REMEDIES["quick-answer"] = {}
VERDICTS |= quick.VERDICTS
REASONS |= quick.REASONS
PHRASES += quick.PHRASES
PHRASES += (
    "{part} leaves {other_v}, this {load_voltage_v}, which nobody",
    "If {supply_v} are left while",
    "{part} gets {load_voltage_v} and lets go below {needed_v}: it may",
)
CHECKS["recording"] = {code: Means(*each) for code, each in recordings.CHECKS.items()}
PHRASES += recordings.PHRASES
REMEDIES["recording"] = {}
REMEDIES["circuit-fit"] = {}
REASONS |= fits.REASONS
PHRASES += fits.PHRASES
REMEDIES["meter-plan"] = {}
REASONS |= plans.REASONS
PHRASES += plans.PHRASES
REMEDIES["gain-proof"] = {}
REASONS |= proofs.REASONS
PHRASES += proofs.PHRASES
