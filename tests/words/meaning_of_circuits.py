"""What is said of wires, contacts, fuses and sources, and of whole circuits."""

from .means import means

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
        "which {limit:up} would take", "{limit:up} would open it", "at the {value:down} of a fault",
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
    "load_off": means(
        "", "off in this case", "past every switch", "way round in this case, by {value}"
    ),
    "load_voltage": means(
        ">", "to spare", "short",
        "{value} arrive", "{limit} are needed", "{apart} to spare", "{apart} short",
        "Most is lost in {detail}", "measure the ohms of {part} first",
        "whether {detail} is there by design",
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
    "coil_resistance": means(">", "", "as good as open", "has {value}", "more than {limit}"),
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
    "short_once_on": means("", "", "do not tighten", "as soon as {detail} closes"),
    "resistor_open": means(
        "", "", "", "{detail} gets {value}", "If {detail} is to be off here",
        "{detail} with next to none is shorted inside", "{part} with tens",
        "or {detail} is shorted inside",
    ),
    "resistor_heat": means(
        "", "", "glows before a fuse opens",
        "flows through {detail} flows", "makes {value} of heat",
    ),
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
        "contact carries {value}", "stays clean from {limit} on",
    ),
    "relay_rest": means("", "", "neither holds nor releases", "That is lost in {detail}"),
    "coil_over_break": means("", "", "it buzzes", "87a, of {detail}"),
    "first_wins": means("", "", "", "bar each other"),
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
    "does_not_stop": means(
        "", "", "though another switch", "may be meant so", "does not let {detail} go",
        "does not stop {detail}",
    ),
    "kept_closed": means(
        "<", "it lets go", "what it feeds runs on",
        "{value} are left at its coil over {detail}", "opens below {limit}",
        "Measure {measure} first",
    ),
    "bridged": means(
        "", "", "take that way off", "{detail} leads past", "where {part} rules it",
        "replace {part}", "with {part} open", "{value} in all",
    ),
    "crossed": means(
        "", "", "take it out, unless", "joins what {detail} switch apart",
        "both contacts of {detail} switch apart",
    ),
    "isolates_one": means("", "", "nothing is dead", "{detail} feeds everything", "side of {part}"),
    "fed_past_isolator": means(
        "", "", "nothing is dead", "{detail} feeds", "side of {part}",
    ),
    "switches_nothing": means(
        "", "", "", "contact's end {detail}", "lead it to {detail}", "lead its wire to {detail}",
    ),
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
        "no source has more than {value}", "winding has {value}", "go {limit} at most",
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
        "that {detail} lacks",
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
