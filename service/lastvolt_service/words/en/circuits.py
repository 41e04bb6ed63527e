"""What is said of whole circuits."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Unless, Weigh, When
from lastvolt_service.words.en import circuit_loads, circuit_relays, circuit_sources, circuit_wires

CHECKS = {
    **circuit_loads.CHECKS,
    **circuit_sources.CHECKS,
    **circuit_relays.CHECKS,
    **circuit_wires.CHECKS,
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{part}: {value} arrive and {limit} are needed, {apart} to spare.",
        fails=(
            "{part}: only {value} arrive and {limit} are needed, {apart} short.",
            "Most is lost in {detail}: measure the ohms of {part} first, for one that is shorted "
            "inside draws too much over it; then find out whether {detail} is there by design, and "
            "as it should be, before anything else is done for it.",
        ),
        unknown=(
            When("detail", None, "{part}: Give what keeps it closed to judge whether it holds."),
            Unless(
                "detail", None, "{part}: {value} arrive. Whether that is enough was not judged:"
            ),
            When("detail", "needed_v", "give its needed_v."),
            When("detail", "circuit", "give its needed_v, or its circuit."),
        ),
    ),
    "in_series": CheckWords(
        name="loads in series",
        passes="",
        fails=(
            When(
                "detail",
                "open",
                "{part}: it takes {value} and leaves too little to what is in series with it: it "
                "has burnt open, or is not of its kind. Replace it.",
            ),
            When(
                "detail",
                "shorted",
                "{part}: only {value} stand across it, and what is in series with it has enough: "
                "it is shorted. Replace it.",
            ),
            When(
                "detail",
                "either",
                "{part}: it takes {value} and leaves too little to what is in series with it: one "
                "of the two has burnt open, or is shorted, or is not of its kind. Hold their ohms "
                "against each other before one is replaced.",
            ),
        ),
    ),
    "made_for": CheckWords(
        name="load for this voltage",
        passes=(
            When("detail", "for_less", "{part} pulls in at {value}: it is made for this voltage."),
            When(
                "detail",
                "lamp_for_less",
                "{part} gets {value} and stands {limit}: it is made for this voltage.",
            ),
        ),
        marginal="{part} pulls in at {value} cold already, and one for this voltage hardly below "
        "{limit}: if it is made for a lower one, its windings burn.",
        fails=(
            When(
                "detail",
                "for_less",
                "{part} pulls in at {value} cold already, and one for this voltage not below "
                "{limit}: it is made for a lower one, and its windings burn. Take another.",
            ),
            When(
                "detail",
                "for_more",
                "{part} pulls in at {value} even when cold, and this system has {limit}: it is "
                "made for a higher voltage. Take another.",
            ),
            When(
                "detail",
                "flat_or_for_more",
                "{part} pulls in at {value} even when cold, and this system has {limit}: in a "
                "12 V car the battery is flat or has dead cells, charge and test it first; at 6 V "
                "it is made for a higher voltage.",
            ),
            When(
                "detail",
                "pull_in_open",
                "{part} pulls in at {value} even when cold, and this system has {limit}: its "
                "pull-in winding is as good as open, or the other shorted. Replace the solenoid.",
            ),
            When(
                "detail",
                "motor",
                "{part} makes {limit} itself at its speed and no source has more than {value}: it "
                "cannot keep that speed. Take another, or give its back_v for what it gets.",
            ),
            When(
                "detail",
                "lamp_for_less",
                "{part} gets {value} and burns out soon above {limit}: it is made for a lower "
                "voltage. Take another.",
            ),
            When(
                "detail",
                "lamp_for_more",
                "{part} is made for {value}, and no lamp of this system for more than {limit}: it "
                "only glows. Take another.",
            ),
        ),
    ),
    "full_voltage": CheckWords(
        name="what the load needs at all",
        passes="",
        fails=(
            "{part} needs {limit} and its sources have {value} without load: no wiring cures that. "
            "Charge the battery, or take a part for this system.",
            When(
                "detail",
                "solenoid",
                "If it is for this system, let it cool, and look at its windings and the "
                "starter's brushes.",
            ),
        ),
    ),
    "open_end": CheckWords(
        name="an end that leads nowhere",
        passes="",
        unknown="{part}: nothing else is at {detail}. If it is to lead on, give that node the name "
        "that the next part has for it.",
    ),
    "operating_point": CheckWords(
        name="operating point of a load",
        passes="",
        fails="{part}: it cannot work here, and is taken as off. {detail} Look at "
        "the battery, its clamps and the size of the cables.",
    ),
    "resists": CheckWords(
        name="what keeps a load off",
        passes="",
        fails="{part}: its {value} are most of what resists on the way to {detail}, which cannot "
        "work for that: clean, tighten or replace it; of a wire take a thicker or shorter one.",
    ),
    "order": CheckWords(
        name="order of switching on",
        passes="",
        fails="",
        undecided="{part}: what is switched on first decides whether it works: {limit} at its coil "
        "do not move it, and had it pulled in before, {value} would keep it.",
    ),
    "not_joined": CheckWords(
        name="way to the source",
        passes="",
        fails=(
            When(
                "detail",
                None,
                "{part}: no way leads from it to both posts of the source, and nothing flows. See "
                "whether the nodes at its ends, and at the ground, have the same names as the "
                "others'.",
            ),
            "{part}: without {detail} it does not work: no way leads from it to both posts of the "
            "source.",
        ),
    ),
    "coil_open": CheckWords(
        name="way from a relay's coil to the source",
        passes="",
        fails=(
            "{part}: it never closes, whatever is switched on, and what it feeds stays dark.",
            When(
                "detail",
                None,
                "Both ends of its coil lead to the same post: find where one is joined wrongly, or "
                "hangs behind its own contact.",
            ),
            "No way leads from its coil at {detail} to a post: find the feed or the ground that "
            "{detail} has lost.",
        ),
    ),
    "path_drop": CheckWords(
        name="drop of the whole path",
        passes="{part}: {value} of the {limit} allowed are lost on the way.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: {limit} of the {value} allowed are lost on the way. The margin is "
                "small.",
                short="{part}: {limit} are lost on the way, more than {value}: what it needs "
                "decides.",
            ),
            When("detail", "needed_v", "Give its needed_v to know whether that is too much."),
            Unless("detail", "needed_v", "The most in {detail}."),
        ),
        undecided="{part}: {value} are lost on the way, more than {limit}, the most in {detail}: "
        "find out whether that is there by design, as a speed resistor is: then leave it.",
        fails=(
            "{part}: {value} are lost on the way, more than {limit}.",
            "The most in {detail}.",
        ),
    ),
    "motor_stands": CheckWords(
        name="motor at a stand",
        passes="",
        undecided="{part}: it takes {value} and stands, as back_v is 0: find out whether it is "
        "jammed or seized before anything else is mended for it. If it turns, give the back_v that "
        "it makes.",
    ),
    "stall": CheckWords(
        name="motor that stalls",
        passes="",
        marginal="{part}: if {detail} stalls it carries {value}, more than its {limit}, and no "
        "fuse is sure to open by that: it wears until somebody looks.",
        fails="{part}: if {detail} stalls it carries {value}, more than its {limit}, and no fuse "
        "is sure to open by that: fit one that is, and still carries {detail}, or a part that "
        "bears more.",
        unknown="{part}: whether it bears {detail} if that is a motor and stalls was not judged: "
        "give {detail} as a motor, with resistance_ohm and back_v.",
    ),
    "short": CheckWords(
        name="a short",
        passes="",
        fails=(
            "{part}: it joins the live side to the ground past every load, and {value} flow "
            "there and may set it alight: the battery's ground cable off first, then take it out, "
            "do not tighten it.",
            When("detail", "resistance", "If it belongs there, give it as a load."),
        ),
        undecided="{part}: it joins the live side to the ground past every load, and {value} flow "
        "there: if that is a chafe it may catch fire, and its fuse never opens. Pull the fuse and "
        "find it; if it belongs there, give it as a load.",
    ),
    "short_once_on": CheckWords(
        name="a short once it is switched on",
        passes="",
        fails="{part}: it joins the live side to the ground past every load as soon as {detail} "
        "closes: a fuse opens then, or a wire burns. Leave that off, pull the fuse, and find where "
        "the wire chafes; take it out, do not tighten it.",
        undecided="{part}: it joins the live side to the ground past every load as soon as "
        "{detail} closes: if that is a chafe it may catch fire, and its fuse never opens. Pull the "
        "fuse and find it; if it belongs there, give it as a load.",
    ),
    "resistor_open": CheckWords(
        name="resistor before a load",
        passes="",
        fails="",
        undecided="{part}: {detail} gets {value} past it, next to nothing. Take one end of each "
        "off and measure their ohms: {detail} with next to none is shorted inside, and {part} with "
        "tens, if it is a ballast or a speed resistor, burnt out: replace that one. If {detail} is "
        "to be off here, leave it.",
        unknown="{part}: {detail} gets {value} past it, next to nothing. Give its needed_v if that "
        "is to be enough, as where a resistor excites a field; else it is burnt out, or {detail} "
        "is shorted inside: take one end of each off and measure their ohms.",
    ),
    "resistor_heat": CheckWords(
        name="heat of a resistor",
        passes="",
        fails="{part}: all that flows through {detail} flows through it, too, and makes {value} of "
        "heat there: it glows before a fuse opens, and burns what lies near. Let it cool, and "
        "look at it before it is used again.",
    ),
    "contact_drop": CheckWords(
        name="drop of the contact",
        passes="{part}: it drops {value}, as a sound {detail} does.",
        marginal="{part}: it drops {value}, and a sound {detail} at most {limit}: look at it "
        "again before long.",
        fails="{part}: it alone drops {value}, a sound {detail} at most {limit}: clean, tighten or "
        "replace it.",
    ),
    "contact_heat": CheckWords(
        name="heat of the contact",
        passes="",
        fails="{part}: it makes {value} of heat, and {limit} burn what holds it: clean, tighten or "
        "replace it before it is used again, and read its amperes: a winding behind it that is "
        "shorted draws too much.",
    ),
    "contact_current": CheckWords(
        name="current through the contact",
        passes="{part}: it carries {value} of its {limit}.",
        marginal=(
            Weigh(
                "limit",
                "value",
                enough="{part}: it carries {limit} of its {value}. The margin is small.",
                short="{part}: for a moment it carries {limit}, and is rated {value} for hours: it "
                "wears.",
            ),
        ),
        fails="{part}: it carries {value}, more than its {limit}: find out whether what it feeds "
        "should draw so much; then less on it, or one that is rated for more.",
        unknown=(
            When(
                "limit",
                None,
                "{part}: it carries {value}. Give rating_a to know whether it bears that.",
            ),
            "{part}: it carries {value} for seconds and is rated {limit} for hours: its maker "
            "tells whether it bears that.",
        ),
    ),
    "rest_within_bounds": CheckWords(
        name="state of rest within all bounds",
        passes="",
        fails="{part}: at some ends it has no state of rest: {detail}",
    ),
}

REMEDIES = {
    "size": "{new} for {part} in place of {now}",
    "insulation": "insulation {kind}, good for {new}, for {part}",
    "sound_contact": "a sound contact of {new:down} at {part}, kept so",
    "sound_contacts": "sound contacts at {parts}, kept so",
    "smaller_fuse": "{part} of {new}",
}

_WEAKEST = (
    When("is_everywhere", True, "Weakest in every case, {weakest.message}"),
    When("is_everywhere", False, "Weakest in {weakest.case}, {weakest.message}"),
)
_NEAREST = (
    When("is_everywhere", True, "Nearest to its limit in every case, {weakest.message}"),
    When("is_everywhere", False, "Nearest to its limit in {weakest.case}, {weakest.message}"),
)

CIRCUIT_CHECK = OperationWords(
    tells="weakest",
    headline=(
        *(
            When("weakest.verdict", verdict, _WEAKEST)
            for verdict in ("fail", "undecided", "unknown", "marginal")
        ),
        When("weakest.verdict", "pass", _NEAREST),
        When("weakest", None, "Nothing could be judged."),
        "After that: in {starves.case}, {starves.message}",
    ),
    facts=(
        (
            Weigh(
                "decisive.voltage_v",
                "decisive.needed_v",
                enough="In {worst_case}, {value} arrive at {decisive_load} and {limit} are needed, "
                "{apart} to spare.",
                short="In {worst_case}, {value} arrive at {decisive_load} and {limit} are needed, "
                "{apart} short.",
            ),
            When(
                "decisive.needed_v",
                None,
                "In {worst_case}, {decisive.voltage_v} arrive at {decisive_load}.",
            ),
            When(
                "spread.is_about",
                False,
                "Within the bounds of the inputs: {spread.low_v} to {spread.high_v}.",
            ),
            When(
                "spread.is_about",
                True,
                "Within the bounds of the inputs: about {spread.low_v} to {spread.high_v}, for "
                "something switches within them.",
            ),
        ),
        (
            "{mend_first.0.name} costs {decisive_load} {mend_first.0.costs_v}, and made sound it "
            "gives back {mend_first.0.regained_v}.",
            "{mend_first.1.name} costs {mend_first.1.costs_v} and gives back "
            "{mend_first.1.regained_v}.",
        ),
        "{sound_cases} of {cases.count} cases have nothing to mend.",
    ),
    told=tuple(CHECKS),
    checks=CHECKS,
    remedies=REMEDIES,
    short_names={
        "decisive": "cases.[worst_case].loads.[decisive_load]",
        "spread": "cases.[worst_case].spreads.[decisive_load]",
    },
)

WORDS = {"circuit-check": CIRCUIT_CHECK}
