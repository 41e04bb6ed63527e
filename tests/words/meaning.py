"""What sentences mean, written by hand beside the catalogue: which way a number is better, which
words promise success and which failure, and beside which words each number belongs.

A sentence whose numbers or whose verdict change places no longer fits; a new sentence needs a line.
"""

from typing import NamedTuple

from . import meaning_of_fits as fits
from . import meaning_of_plans as plans
from . import meaning_of_proofs as proofs
from . import meaning_of_quick as quick
from . import meaning_of_recordings as recordings
from . import meaning_of_sheets as sheets


class Means(NamedTuple):
    """Of one check.

    `better` is ">" where the value must reach its limit, "<" where it must stay within, "" where
    the two alone do not decide. `good` stands in what is said of a pass and nowhere in what is said
    of a failure, `bad` the other way round; "" where there is no such sentence. Each of `phrases`
    is a place where one of its own numbers may stand.
    """

    better: str
    good: str
    bad: str
    phrases: tuple[str, ...] = ()


def means(better: str, good: str, bad: str, *phrases: str) -> Means:
    return Means(better, good, bad, phrases)


HEAT = means(
    "<", "; its insulation bears {limit}", "and its insulation bears {limit}",
    "conductor reaches {value}", "insulation bears {limit}", "Air of {ambient_c} leaves",
)  # fmt: skip
LOAD_VOLTAGE = means(
    ">", "to spare", "short",
    "{value} arrive", "{limit} are needed", "{apart} to spare", "{apart} short",
)  # fmt: skip
SUPPLY = means(
    ">", "", "no wire, contact or relay", "supply itself has {value}", "{limit} are needed"
)
SUPPLY_AT_POSTS = means(">", "", "Charge the battery", "supply has {value}", "keeps {limit}")
SUPPLY_OF_PATH = means(
    ">", "", "Charge the battery", *SUPPLY.phrases, "supply has {value}", "keeps {limit}",
    "at {current_a}; a battery", "at {current_a}; a sound one", "at {current_a}; {needed_v} are",
)  # fmt: skip
SOURCE_VOLTAGE = means(
    "<", "", "too much for this system", "{value} are too much", "{limit} at most",
    "{value} are no more", "more than {limit}",
)  # fmt: skip
NOMINAL_VOLTAGE = means(
    "", "", "the nominal voltage of this", "{value} are those of a larger", "{limit} at most",
    "{value} are less than a battery", "in any start, {limit}",
)  # fmt: skip
UNJUDGED_HEAT = means("", "", "", "Whether {detail} can bear the current was not judged")
PERMISSIBLE = means(
    "<", "and carries {value}", "is asked for {value}",
    "may carry {limit}", "carries {value}", "asked for {value}", "Air of {ambient_c} leaves",
)  # fmt: skip
FUSES = {
    # Value and limit are the ends of the window: none lies between where the first is larger.
    "fuse_window": means(
        "", "", "leaves nothing to the wire's insulation",
        "fuse of {value:up} or more", "one of {limit:down} at most",
        "between {value:up} and {limit:down}", "{fuse_family} ends at {limit:down}",
        "here end at {limit:down}", "one of {value:up} or more",
    ),
    "fuse_carries_load": means(
        ">", "needs a fuse of {limit:up} or more", "", "of {limit:up} or",
        "fuse of {value} carries", "asks for {limit:up} or",
    ),
    "fuse_protects_wire": means(
        "", "bears {limit:down} without limit of time", "",
        "open at {value:up}", "wire bears {limit:down}",
    ),
    "fuse_overload": means(
        "<", "bears {limit:down} so long.", "take a larger wire",
        "at {overload_current_a}", "for {overload_time_s}",
        "reaches {value:up} at most before", "reaches {value:up} and",
        "insulation bears {limit:down}",
    ),
    "fuse_holder": means(
        "<", "the fuse is one of {value:up}.", "take one that is rated",
        "socket bear {limit:down}", "one of {value:up}", "needs a fuse of {value:up}",
    ),
    "breaking_capacity": means(
        "<", "at most and the fuse interrupts", "it may burst",
        "the fuse gets {value:up}", "interrupts {limit:down}",
    ),
    "fuse_voltage": means(
        "<", "interrupts up to {limit:down}.", "made for that voltage",
        "reaches {value:up}", "up to {limit:down}",
    ),
    # Below its limit it is marginal, and fails only where the fuse need not open at all.
    "far_short": means(
        "", "at least and {limit:up} open the fuse", "need not open",
        "gets {value:down} at least", "{limit:up} open", "no more than {value:down}",
        "which {limit:up} would take", "{limit:up} would open it",
    ),
    "inrush": means("", "", ""),
}  # fmt: skip
OF_SOURCES = (
    "charge", "source_voltage", "freezing", "battery_resistance", "sag", "cranking_rating"
)  # fmt: skip
CIRCUITS = {
    "permissible_current": PERMISSIBLE,
    "duty_current": PERMISSIBLE,
    "charge": means(
        "", "well enough", "before any wiring", "charged to {value}", "enough, to {value}"
    ),
    "source_voltage": means(
        "<", "", "too much for this system", "{value} are too much", "{limit} at most",
        "{value} gas a battery", "from {limit} on", "{value} are too little", "{limit} at least",
        "{value} charge nothing", "takes {limit}", "{value} keep a full battery",
    ),
    "freezing": means(
        ">", "it is {value}.", "may be frozen", "freezes at {limit}", "it is {value}"
    ),
    "drained": means("", "", "", "it gives {value}"),
    "no_battery": means("", "", "no battery beside it", "it feeds {value}"),
    "battery_resistance": means(
        "", "", "replace it", "has {value} inside", "a sound one about {limit}"
    ),
    # What its resistance leaves open decides with the numbers.
    "sag": means(
        "", "{part}: {value} are left", "only {value} are left", "less than the {limit} of a load",
        "{value} are left at its posts", "a sound one for {limit}", "less at its posts than the "
        "{limit} that a load test asks for",
    ),
    "cranking_rating": means(
        "<", "{value} are drawn of the", "more than the {limit}",
        "{value} are drawn", "the {limit} that it is rated for",
    ),
    "open_end": means("", "", "", "{part}: nothing else", "nothing else is at {detail}"),
    "operating_point": means("", "", "taken as off", "{detail}"),
    "resists": means("", "", "replace it", "its {value} are", "on the way to {detail}"),
    "load_off": means("", "off in this case", "", "way round in this case, by {value}"),
    "load_voltage": means(
        ">", "to spare", "short",
        "{value} arrive", "{limit} are needed", "{apart} to spare", "{apart} short",
        "Most is lost in {detail}",
    ),
    # The limit with both windings in is at worst a small margin where it is known what is needed.
    "path_drop": means(
        "", "of the {limit} allowed", "more than {limit}",
        ": {value} of", "the {limit} allowed", ": {value} are lost", "more than {limit}",
        ": {limit} of", "the {value} allowed", ": {limit} are lost", "more than {value}",
        "ost in {detail}",
    ),
    "pick_up_at_ambient": means(
        ">", "and {limit} close it", "only {value} reach",
        "{value} reach its coil", "{limit} close it", "{limit} are needed",
    ),
    "pick_up_warm": means(
        ">", "and {limit} close it", "only {value} reach",
        "{value} reach its coil", "{limit} close it", "{limit} are needed",
    ),
    "hold": means(
        ">", "hold it; it", "do not hold it", "{value} at the coil", "opens below {limit}",
    ),
    "highest_ambient": means(
        "<", "its place has {value}.", "mount it cooler",
        "may be at {limit}", "place has {value}",
    ),
    "continuous_voltage": means(
        "<", "stands {limit} for as long", "of the right voltage",
        "coil stands {limit}", "gets {value}", "only {limit} for as long",
    ),
    "switch_off_peak": means(
        "<", "which stands {limit}.", "clamp the coil lower",
        "off puts {value}", "which stands {limit}", "stands only {limit}",
    ),
    "suppression_resistor": means(
        "<", "makes {value}; one of a few", "a small one burns",
        "across its coil makes {value}", "resistance makes {limit}", "resistance {limit} at most",
    ),
    "suppression": means("", "", "and the switch stands", "switch stands {limit}"),
    "coil_polarity": means("", "", ""),
    "short": means("", "", "do not tighten", "{value} flow there"),
    "motor_stands": means("", "", "", "it takes {value} and stands"),
    "in_series": means("", "", "eplace it", "it takes {value} and", "only {value} stand across"),
    "fuse_bypassed": means("", "", "it protects nothing", "over {detail}"),
    "full_voltage": means(
        ">", "", "no wiring cures that", "{part} needs {limit}", "sources have {value}"
    ),
    "charger_current": means(
        "<", "gives {value} at most", "take one that bears more",
        "{detail} gives {value} at most", "{detail} gives up to {value}", "it bears {limit}",
    ),
    "charger_fuse": means(
        "<", "and it bears {limit}.", "opens sooner or later",
        "up to {value} flow there", "it bears {limit}", "See to {detail} first",
        "bears less than {value}",
    ),
    "steady_current": means(
        "<", "carries {value} of the {limit}", "take a larger relay",
        "contact carries {value}", "the {limit} that it may carry",
        "contact carries {limit}", "the {value} that it may carry", "may carry {value} for hours",
    ),
    "inrush": means(
        "<", "starts with {value} at most", "can weld shut",
        "may close on {limit}", "starts with {value}", "may start with {value}",
        "may close on {value}", "starts with {limit} at most", "lamps may start with {limit}",
    ),
    "rated_voltage": means(
        "<", "source reaches {value}.", "arc may not go out",
        "may break {limit} DC", "source reaches {value}",
    ),
    # The two alone decide, but it never fails: it is marginal or passes.
    "smallest_current": means(
        "", "large enough to keep", "",
        "contact carries {value:fine}", "stays clean from {limit} on",
    ),
    "relay_rest": means("", "", "neither holds nor releases", "That is lost in {detail}"),
    "closes_alone": means(
        "", "", "switches on by itself", "{value} reach its coil over {detail}",
        "and {limit} close", "{value} may reach its coil over {detail}", "Measure {measure} first",
    ),
    "holds_itself": means(
        "", "", "what it feeds runs on", "It does so over {detail}", "{value} are left there",
        "holds itself over {detail}", "else take {detail} off", "opens below {limit}",
        "{value} are left at its coil over {detail}",
        "Measure {measure} first",
    ),
    "kept_closed": means(
        "<", "it lets go", "what it feeds runs on",
        "{value} are left at its coil over {detail}", "opens below {limit}",
        "Measure {measure} first",
    ),
    "bridged": means(
        "", "", "has welded", "{detail} leads past", "where {part} rules it", "replace {part}",
        "with {part} open",
    ),
    "isolates_one": means("", "", "nothing is dead", "{detail} feeds everything", "side of {part}"),
    "always_closed": means(
        "", "", "", "coil alone draws {value}", "hangs behind {detail}", "it draws {value} day",
    ),
    "relay_voltage": means(
        "", "it is made for this voltage", "not below {limit}",
        "{part} closes at {value}", "{part} needs {value} to close", "this system has {limit}",
        "not below {limit}",
    ),
    "made_for": means(
        "", "it is made for this voltage", "Take another", "{part} pulls in at {value}",
        "hardly below {limit}", "not below {limit}", "this system has {limit}",
        "{part} gets {value}", "stands {limit}", "soon above {limit}",
        "{part} is made for {value}", "more than {limit}", "{part} makes {limit} itself",
        "no source has more than {value}",
    ),
    "contact_drop": means(
        "<", "as a sound {detail} does", "clean, tighten or replace it",
        "drops {value}", "at most {limit}", "sound {detail}",
    ),
    # Neither is a limit: they are what it gets in the one order and in the other.
    "order": means("", "", "", "{limit} at its coil", "before, {value} would"),
    "break_inrush": means("", "", "", "start with {value}"),
    "cranks_alone": means("", "", "is cranked", "{value} are at it", "over {detail}"),
    "coil_open": means("", "", "it never closes", "coil at {detail}", "{detail} has lost"),
    "never_on": means("", "", "", "off in every case"),
    "not_joined": means("", "", "no way leads", "without {detail} it does not work"),
    "stall": means(
        "<", "", "that bears more", "it carries {value}", "its {limit}", "if {detail} stalls",
        "carries {detail}, or", "whether it bears {detail}", "give {detail} as a motor",
    ),
    "barred": means(
        "", "", "keeps {detail} from its feed", "{value} at its coil", "keeps {detail} from",
    ),
    "lost_joint": means(
        "", "", "no metal joins", "{value} are left to it", "end at {detail}", "that {detail} has",
    ),
    "left_dark": means("", "", "", "without {detail} it is dark"),
    "drawn_past": means(
        ">", "", "take it out", "past {detail}", "gets {value}", "would get {limit} without",
    ),
    "shunted": means(
        "", "", "Take that way off", "{detail} leads past it", "gets {value} in place",
        "about {limit}",
    ),
    "wire_drop": means(
        "", "", "thicker or shorter one", "loses {value} of", "what {detail} lacks",
    ),
    "contact_heat": means(
        "<", "", "and {limit} burn", "makes {value} of heat", "{limit} burn what holds it"
    ),
    "burns_once_mended": means(
        "", "", "before that", "carries {value}", "may carry {limit}", "soon as {detail} is",
    ),
    "diverted_current": means(
        "", "", "see to {detail} first",
        "carries {value}", "which is {detail}'s", "to {detail} first", "bears {limit} without",
    ),
    "contact_current": means(
        "<", "of its {limit}", "more than its {limit}", "carries {value}", "its {limit}",
        "is rated {limit} for hours", "carries {limit} of its {value}", "it carries {limit}, and",
        "rated {value} for hours", "its {value}",
    ),
    "fuse_load": means(
        "<", "for as long.", "it opens sooner or later",
        "carries {value}", "may carry {limit} for as long", ": {detail}",
        "so much for {detail}", "look there first",
        "it carries {limit}", "may carry {value} for as long", "practice allows {value}",
    ),
    "conductor_temperature": HEAT,
    "wires_heat": means(
        "", "", "take a larger size", "carries {value}", "may carry {limit}",
        "Whether {detail} can bear the current was not judged",
    ),
    "ohms_heat": UNJUDGED_HEAT,
    "fuse_rating": means("", "", ""),
    "no_fuse": means("", "", "", "protects {detail}"),
    # Of which family the fuse is may decide, too.
    "fuse_protection": means(
        "", "without limit of time", "fit a smaller fuse",
        "open at {value:up}", "wire bears {limit:down}", "bears only {limit:down}",
        "below {value:up}", "holds at least {value:up}", "holds up to {value:up}",
        "{detail} is sure", "{detail} may", "{detail} holds", "whether {detail} protects",
    ),
    "fuse_overload": means(
        "", "at most before {detail}", "fit a smaller fuse",
        "reaches {value:up}", "insulation bears {limit:down}", "efore {detail}",
    ),
    "far_short": means(
        "", "at least and {limit:up} open it", "need not open",
        "gets {value:down} at least", "{limit:up} open it", "no more than {value:down}",
        "which {limit:up} would take", "{limit:up} would open it", "5 s at {limit:up} only",
        "fault at {detail}",
    ),
    "rest_within_bounds": means("", "", "no state of rest", "rest: {detail}"),
}  # fmt: skip
OF_SWITCH = ("drop {value}", "make {value}", "at most {limit}", "Move {detail} to a relay",
             "A relay for {detail}, fed")  # fmt: skip

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
            "", "large enough to keep", "", "load takes {value:fine}", "stays clean from {limit} on"
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
        "wire_judged": means("", "", "", "Whether {part} bears", "fuse protects {part}"),
        "by_design": means("", "", "", "{part} takes {value} from the load"),
        "advice": means("", "", ""),
    }),
    "relay-choice": CIRCUITS | PROPOSALS | {
        "suitable_relay": means(
            "", "", "None of these relays may be mounted", "{load} takes up to",
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

# Beside which words a number or a name of an answer or a request may stand.
PHRASES = (
    "whether {part} and a relay stay",
    "{part} stays home", "Whether {load} stays in while the motor draws",
    "for the heat on its way, {ambient_c}",
    "{part} must have studs",
    "{next_message}", "read {part} again", "once {part} is mended", "itself has {supply_v}",
    "at {current_a}: unless", "Give {load} a ground of its own",
    "In {weakest.case}", "in {burns.case}, {burns.message}",
    "any larger size is fitted: {detail} opens by it",
    "in {hazard.case}, {hazard.message}", "In {fed_over.case}, {fed_over.message}",
    "Most is lost in {barred_by.detail}",
    "After that: in {starves.case}, {starves.message}",
    "{current_a} flow, and the load keeps", "the load keeps {load_voltage_v}",
    "Air of {ambient_c} leaves its insulation little",
    "{current_a} flow where {working_current_a} are usual", "lets no {working_current_a} flow",
    # the choice
    # readings
    "the path drops {sound_path_beyond_v} too much",
    "drops most, {readings.[largest_drop].measured_v}",
    "Of that {by_design_v} may be meant", "as in {by_design}",
    "{part} alone takes {drop_v}", "In {case}, {part} alone",
    "{part}: it alone drops {value}, a sound {detail} at most {limit}, and it can be neither",
    "{part}: it makes {value} of heat, and {limit} burn what holds it: lead",
    "Find out why {part} blew",
    "In {options.0.case}, {load} needs {options.0.needed_v}",
    "First: {plan.0.part} brings {plan.0.brings_v}", "Then: {plan.1.part} brings {plan.1.brings_v}",
    "Then: {plan.2.part} brings {plan.2.brings_v}",
    "carries {spared.with_relay.switch_current_a:size} in place",
    "in place of {spared.as_is.switch_current_a:size}",
    "may have {spared.with_relay.tolerated_contact_ohm} more until {load} fails",
    "the relay {switch} carries",
    # batteries
    "posts keep {terminal_v}", "sound one keeps {terminal_v}",
    "between {terminal_low_v:down} and {terminal_high_v:up}",
    "at {current_a}", "limit for {current_a}",
    "charged to {state_of_charge_percent}",
    "charged to {state_of_charge_percent}", "only, and has {temperature_c}",
    "{state_of_charge_percent} charge", "at {temperature_c}", "published for {temperature_c}",
    "leave {terminal_low_v:down} to {terminal_high_v:up}",
    "{open_circuit_v} without load", "{internal_resistance_ohm} inside", "{limit} at {load_test_a}",
    "cold-cranking rating, {load_test_a}", "ask for {load_test_v}",
    # circuits
    "Weakest in {weakest.case}, {weakest.message}",
    "Nearest to its limit in {weakest.case}, {weakest.message}",
    "In {worst_case}", "arrive at {decisive_load}",
    "{decisive.voltage_v} arrive",
    "{spread.low_v} to {spread.high_v}",
    "{mend_first.0.name} costs {decisive_load} {mend_first.0.costs_v}",
    "gives back {mend_first.0.regained_v}",
    "{load_voltage_v} reach the load then in", "{margin_v} more than it needs",
    "{mend_first.1.name} costs {mend_first.1.costs_v}", "gives back {mend_first.1.regained_v}",
    "{sound_cases} of {cases.count} cases",
    "In {poorest_case}, {load} needs {poorest.as_is.needed_v}", "{switch} carries",
    "carries {poorest.proposed.switch_current_a:size} in place",
    "in place of {poorest.as_is.switch_current_a:size} and makes",
    "makes {poorest.proposed.switch_power_w} in place of {poorest.as_is.switch_power_w}",
    "{new_risks.-1.message}", "{reasons.0.message}", "{weakest.message}",
    "{reasons.2.message}", "{nearest.message}",
    "in {case}, {check}", "In {case}, {check}", "In {case}, the relay",
    "In {case}, {load_voltage_v} arrive",
    "Even in {case}", "load has {margin_v} to spare", "then has {margin_v} above what it needs",
    "{needed_v} are needed", "brings {gain_v} more", "takes {loss_v} from the load",
    "carries {proposed_current_a} in place of {as_is_current_a}",
    "with {taken.parts} clean", "with new {taken.new}", "with {nearest.parts} clean",
    "with new {nearest.new}", "reaches {load} in its poorest case, {apart} to spare",
    "{value} reach {load} in its poorest case, {apart} short", "{barred_by.message}",
    "or {burns_as_it_is.part} may burn",
    "{taken.parts} first, whatever else", "mend {taken.parts} in any case",
    "{taken.load_voltage_v} reach {load}",
    "{taken.margin_v} more than needed", "spares {switch}", "reaches {load} as it is",
    "{check}", "In {case} the battery",
    "{charged_v} when it is full", "itself has {internal_resistance_ohm}",
    "sound one about {sound_ohm}", "{part}, clean, tight or new",
    "brings the load {regained_v} by itself", "Mending {part} brings {gain_v}",
    "in {case} {short_v} are still wanting", "in {case} leaves {margin_v} to spare",
    "sound battery brings {gain_v}", "In {case}, {part} carries {current_a} of its {rating_a}",
    "its {rating_a}, {share_percent}",
    "In {case}, {part} drops {drop_v}", "Measure {part} first",
    "the load gets {change_v} more or less",
    "over and over, in air of {ambient_c}", "after {off_time_s} of rest",
    "alone takes it to {temperature_after_on_time_c}",
    "This relay of {nominal_v} is for another voltage", "{drive_v} may reach its coil",
    "may get {drive_v}",
    "No system has {drive_v}", "It is for {nominal_v}: if", "does not stand its own {nominal_v}",
    "No system has {supply_v}", "not made to break {supply_v}",
    "contact may carry {most_current_a:down} at its last rating", "and less at {ambient_c}",
    "the load takes {load_current_a}, too much there",
    "If {load_current_a} are what",
    "which has {windings.motor_resistance_ohm}: look at", "From {supply_v} the path",
    "cables lose {limited_drop_v}", "as little as {terminal_low_v:down}",
    "enough to mend {mend}", "{mend} first, whatever else",
    "these relays take {best.candidate}", "all the same, take {best.candidate}",
    "Its place: {best.place}.",
    "Through a fuse of {best.fuse_rating_a}",
    "and {best.size} {best.load_voltage_v}", "{best.load_voltage_v} reach",
    "reach {load} in its poorest case", "{best.margin_v} more than needed",
    "{load} has enough as it is", "{first.message}", "Mend {mend}, whatever comes of it",
    "{reasons.1.message}", "What would do ({part})", "a relay for {nominal_v} whose",
    "may carry {current_a:up} at {ambient_c}", "on less than {coil_v:down}", "{part}: it ",
    "and has {ambient_c} at most", "{part}: water drips", "and it has {ambient_c} at most",
    "{part}: stones hit it", "The {ambient_c} of the cases", "Not {part}: what",
    "to {ambient_c} by",
    "{part}: {length_m} of new wire", "take {drop_v} at most", "{part}: {length_m} would",
    "{pairs} more that pass alone", "it has {ambient_c}, which is as hot as {detail} may",
    "{part}: contacts and body", "{part}: no size of {detail} does for {length_m}.",
    "no size of {detail} does", "does for {length_m}", "{part}: no standard fuse",
    "{part}: in some case",
    # readings
    "The supply itself has {supply_v}", "the supply itself has {supply_v}",
    "The supply has {supply_v}", "no system of {nominal_v}",
    "too little at {current_a}",
    "the working current, {working_current_a}", "{too_hot.0} is too thin for {current_at_work_a}",
    "{may_be_too_hot} may be too thin for {current_at_work_a}", "larger size of {too_hot.0}",
    "it is too thin for {current_at_work_a}",
    "Of the wires {largest_drop} drops most, {readings.[largest_drop].measured_v}",
    "Of the contacts {largest_drop} drops most, {readings.[largest_drop].measured_v}",
    "at {working_current_a} {worst.name} drops {worst.excess_at_work_v} more",
    "At {working_current_a} {mend_first.1} comes next: mend {mend_first} in",
    "other loads hang on {worst.name}, too",
    "{worst.name} drops {worst.excess_v} more", "gives the load {worst.regained_v}",
    "{unaccounted_v} is lost",
    "make up the supply to {unaccounted_v}", "mend {mend_first.1}", "give the load {regained_v}",
    "together {mend_first} give", "at the load, and it takes {current_a}",
    "together are {total_measured_v}", "errors, {readings.[part].excess_uncertainty_v}",
    "off by {readings.[part].excess_uncertainty_v}", "off by {readings.[part].uncertainty_v}",
    "A drop of {value} at", "supply stands across {mend_first}", "{swapped} reads below zero",
    "without {overlap} the readings", "{current_a} are too little",
    "off by {total_uncertainty_v}", "replace the {readings.[part].part}",
    # fuses
    "fuse of {fuse_rating_a} ({fuse_family})", "at {fuse_ambient_c}, carries",
    "which have {contacts_resistance_ohm}", "at {assumed_wire_c}: hot ones",
    "limit {contacts_drop_v} are kept back", "limit {contacts_drop_v} are for the contacts",
    "carries {load_current_a}", "carries {load_current_a:fine}",
    "asks for {lower_a:up} or more",
    "bears one of {upper_a:down} at most", "{permissible_current_a:down} at {ambient_c}",
    "may carry {permissible_current_a:down}",
    # relays
    "coil at {coil_temperature_c}", "needs {hot_pick_up_v} to close", "{available_v} arrive",
    "has {hot_coil_resistance_ohm}", "takes {coil_power_w}", "lets go below {hot_drop_out_v}",
    "stands {maximum_continuous_v:down}", "coil at {ambient_c}", "For {duration_s}:",
    "{value} at {ambient_c}", "{maximum_continuous_v:down} for {duration_s}",
    "time constant of {warming_time_constant_s}",
    "coil at {warm_temperature_c}", "load takes {load_current_a}",
    "of the {derated_current_a} that it may carry", "may carry {derated_current_a}",
    "carry at {ambient_c}",
    "given for {ambient_c}", "{limit} at {ambient_c}", "{derated_current_a} at {ambient_c}",
    "starts with {first_current_a}", "with {lowest_first_current_a} to {first_current_a}",
    "with {lowest_first_current_a} to", "loses {contact_drop_v}", "makes {contact_power_w}",
    "position {worst_position} the switch", "carries {worst.current_a} of its {rating_a}",
    "({worst.utilisation_percent})", "lose {worst.drop_v}", "make {worst.power_w}",
    "relay for {cumulative.0.name} first", "leaves {cumulative.0.current_a}",
    "switch at its {rating_a}", "position {part}",
    # solenoids
    "windings at {temperature_c}", "needs {hot_pull_in_v}",
    "up to {maximum_path_resistance_ohm:down}",
    "windings up to {maximum_temperature_c:down}", "holds down to {hot_hold_in_v}",
    "dip reaches {dip_v}",
    # paths and wires
    "{load_voltage_v} of {supply_v}", "path loses {apart}", "may lose {limit_drop_v}",
    "{worst_segment} loses most", "{worst_segment} drops most", "most: {worst_drop_v}",
    "most, {worst_drop_v}", "({worst_share_percent} of all that is lost)",
    "{worst_share_percent} of it",
    "{size} reaches {conductor_temperature_c}", "{size} heats up", "{size} may carry",
    "carries {current_a}",
    "air of {ambient_c}", "bears {insulation_limit_c}", "may carry {duty_current_a}",
    "may carry {duty_current_a:down}",
    "for {on_time_s}", "For {on_time_s}", "reaches {temperature_after_on_time_c}",
    "steadily {permissible_current_a:down} only", "{permissible_model_a:down} by the model",
    "{permissible_table_a:down} by the published table",
    "three time constants of {time_constant_s}",
    "{length_m} of {size}", "have {resistance_ohm}", "That is {resistance_ohm_per_m}",
    "{area_mm2} of metal",
    "size by {standard}", "{size} is the smallest", "over {length_m}", "up to {candidates.-1.size}",
    "the supply has {supply_v} and", "and {needed_v} are needed at the load.",
    "{candidates.-1.size} fails: {candidates.-1.failing}", "{candidates.-1.size} is",
    "{candidates.-1.size} has",
    "loses {drop_v}",
    "the {limit_drop_v} allowed", "reaches {conductor_temperature_c}",
    "{candidates.-2.size}, the next below {size}",
    "too small: {candidates.-2.failing}",
    # two numbers that are weighed
    "{value} arrive", "{limit} are needed", "{apart} to spare", "{apart} short", "{apart} too much",
    "{part}:", "{part} drops", "{part} carries",
)  # fmt: skip

# What to do, by operation and code, as far as one word tells it from the others.
REMEDIES: dict[str, dict[str, str]] = {
    "battery-voltage": {},
    "wire-resistance": {},
    "drop-diagnosis": {},
    "start-sequence": {},
    "relay-choice": {},
    "switch-loading": {},
    "wire-sizing": {},
    "voltage-drop": {
        "sound_contact": "a sound contact of {new:down} at {part}",
        "sound_contacts": "sound contacts at {parts}",
        "more_contacts": "at {parts} and {more} more",
        "own_ground": "an own ground wire of {size}, {length}, in place of {part}",
        "size": "{new} for {part} in place of {now}",
        "insulation": "insulation {kind}, good for {new}",
        "all_larger": "larger by {steps} sizes",
        "length_m": "{part} of {new:down} at most",
        "relay": "through {length} for each wire: {part} and",
        "relay_past_worn_switch": "through {length} for each wire: {part} and the long wires then "
        "feed its coil only; {part} is worn and stays",
    },
    "wire-heating": {
        "size": "{new} for the wire in place of {now}",
        "insulation": "insulation {kind}, good for {new}",
        "alone": "out of the loom",
        "zone": "laid in the {place}, {new:down} at most",
        "ambient_c": "the wire where it is {new:down} at most",
        "on_time_s": "on for {new:down} at most",
        "off_time_s": "off for {new:up} at least",
        "current_a": "a load of {new:down} at most",
    },
    "fuse-selection": {
        "size": "{new} for the wire in place of {now}",
        "insulation": "insulation {kind}, good for {new}",
        "alone": "out of the loom",
        "zone": "laid in the {place}, {new:down} at most",
        "ambient_c": "the wire where it is {new:down} at most",
        "permissible_current_a": "a wire that bears {new:up}",
        "any_family": "of any family",
        "fuse_ambient_c": "the fuse where it is {new:down} at most",
        "holder_rating_a": "a holder of {new:up}",
        "loop_resistance_ohm": "a loop of {new:down} at most",
        "load_current_a": "a load of {new:down} at most",
    },
    "relay-coil": {
        "available_v": "feed mended, so that {new:up} reach it",
        "pick_up_v": "closes at {new:down}",
        "dip_v": "sags to {new:up} at most",
        "drop_out_v": "holds down to {new:down}",
        "maximum_v": "so that {new:down} reach the coil at most",
        "duration_s": "the coil on for {new:down} at a time",
        "coil_resistance_ohm": "a coil of {new:up}",
        "ambient_c": "relay where it is {new:down} at most",
        "diode": "a diode across",
        "resistance_ohm": "a resistor of {new:down} across",
        "other_voltage": "made for {new}",
        "larger_resistor": "a resistor of {new:up} across",
        "zener_v": "a zener of {new:down} across",
    },
    "relay-contact": {
        "rating_a": "a relay of {new:up}",
        "ambient_c": "relay where it is {new:down} at most",
        "inrush_current_a": "first current held to {new:down}",
        "supply_v": "so that the supply reaches {new:down}",
        "rated_v": "made to break {new:up} DC",
        "contact_resistance_ohm": "a sound contact of {new:down}",
        "load_current_a": "a load of {new:down} at most",
    },
    "solenoid-pull-in": {
        "dip_v": "sags to {new:up} at most",
        "relay": "its contact the whole path: {new}",
        "path_resistance_ohm": "a path of {new:down} at most",
        "temperature_c": "the windings at {new:down} at most",
        "supply_v": "{new:up} at the start of the path",
        "available_v": "{new:up} at the terminal",
        "regulator": "the supply has {new:down} at most",
    },
}
_PARTS = {
    "size": "{new} for {part} in place of {now}",
    "insulation": "insulation {kind}, good for {new}, for {part}",
    "sound_contact": "a sound contact of {new:down} at {part}",
    "sound_contacts": "sound contacts at {parts}",
    "smaller_fuse": "{part} of {new}",
}
REMEDIES |= {"circuit-check": _PARTS, "relay-retrofit": _PARTS}
# Why a decision is what it is, and what it brings along.
REASONS = {
    "next_rest_of_path": "across what was not read between the supply, the load and the ground",
    "next_finer": "read {part} again in a finer range",
    "next_current": "measure the current again, with the load at work",
    "next_again": "take all readings again, each part once",
    "next_once_mended": "once {part} is mended, read across it again",
    "next_load": "read the ohms of the load by itself, with the power off",
    "next_battery": "between the battery's posts, at rest and at work",
    "next_ends": "read the volts at the supply and at the load",
    "enough_as_is": "to spare as it is",
    "as_good": "{part} leaves {other_v}, this {load_voltage_v}, which nobody can tell apart",
    "may_let_go": "{part} gets {load_voltage_v} and lets go below {needed_v}: it may buzz",
    "start_not_judged": "whether {part} and a relay stay while the motor draws",
    "start_goes_through": "{part} stays home, and no relay lets go",
    "worn_contact": "Mend it all the same",
    "wire_takes": "alone takes {drop_v}",
    "arrives_as_is": "{load_voltage_v} arrive as it is and {needed_v} are needed",
    "failed_check": "In {case}, {check}",
    "relay_brings": "brings {gain_v} more to the load",
    "relay_takes": "takes {loss_v} from the load",
    "screened": "{check}",
    "with_the_relay": "With the relay, in {case}, {check}",
    "battery_frozen": "is charged to {state_of_charge_percent} only, and has {temperature_c}: it",
    "battery_low": "it has {open_circuit_v} without load, and {charged_v} when it is full",
    "battery_weak": "itself has {internal_resistance_ohm}, and a sound one about {sound_ohm}",
    "mend_brings": "{part}, clean, tight or new, brings the load {regained_v}",
    "mend_falls_short": "Mending {part} brings {gain_v}, and in {case} {short_v} are still wanting",
    "mend_leaves_little": "Mending {part} brings {gain_v}, and in {case} leaves {margin_v}",
    "battery_falls_short": "brings {gain_v}, and in {case} {short_v} are still wanting",
    "battery_leaves_little": "brings {gain_v}, and in {case} leaves {margin_v} to spare",
    "blown_fuse": "Find out why {part} blew before a new one is fitted",
    "drop_that_stays": "{part}: it alone drops {value}, a sound {detail} at most {limit}, and it "
    "can be neither mended nor bought",
    "heat_that_stays": "{part}: it makes {value} of heat, and {limit} burn what holds it: lead the "
    "current round it",
    "own_contact": "The load has enough all the same, but take a better contact",
    "path_drops": "By practice that is too much, but the load has what it needs",
    "resistance_costs": "if it is not there by design, mend it",
    "switch_carries": "{part} carries {current_a} of its {rating_a}",
    "measure": "Measure {part} first",
    "measure_source": "Measure the source first",
    "one_more_part": "One more part can fail",
    "rough_place": "a welded contact keeps the load on",
    "live_feed": "without its own fuse close to the tap",
    "none_suits": "None of these relays suits any of these places",
    "find_out": "{check}",
    "mend_instead": "Clean, tighten or replace {part}: {load_voltage_v} reach the load then",
    "mend_then_ask": "{margin_v} more than it needs, which is little. Then ask again",
    "mend_before_any": "Clean, tighten or replace {part} first, then ask again",
    "battery_before": "The battery is poor: see to it first",
    "battery_frozen_before": "is low, and so cold that it may be frozen: neither charge nor",
    "no_place_helps": "No relay would help there",
    "would_do": "whose coil closes, warm there, on less than {coil_v:down}",
    "place_dry": "it is dry",
    "place_splash": "gets splashes",
    "place_drips": "water drips on it",
    "place_stones": "stones hit it",
    "place_on_the_hot_part": "must be those; by practice mount it elsewhere.",
    "not_on_the_hot_part": "Not {part}: what is mounted on the hot part soaks through",
    "lengths_cost": "of new wire take {drop_v} at most",
    "lengths_would_cost": "would take {drop_v} at most",
    "not_looked_at": "were not put into the circuit",
    "needs_studs": "{part} must have studs",
    "none_known": "None of these relays is known to suit",
    "ambient": "which is as hot as {detail} may become",
    "low_supply": "leaves it less than it needs before any new wire",
    "fixed_drop": "contacts and body alone lose what the path may",
    "no_size": "no size of {detail} does",
    "no_fuse": "no standard fuse carries the load and protects the wire",
    "no_current": "in some case the load takes nothing there",
    "no_answer": "{check}",
    "mend_before": "not safe once what is poor here is mended",
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
        "more than needed, without a relay.",
    ),
    "relay-choice": (
        "it is enough to mend {mend}, without a relay.",
        "{mend} first, whatever else is done.",
        "nothing is short without the relay.",
        "{load} has enough as it is.",
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
