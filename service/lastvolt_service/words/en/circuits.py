"""What is said of whole circuits."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Unless, Weigh, When
from lastvolt_service.words.en import circuit_relays, circuit_sources, circuit_wires

_BARRED = (
    "{part}: it is in, with {value} at its coil, and its break contact keeps {detail} from its "
    "feed: while the engine runs it is meant to; else find what feeds its coil."
)

CHECKS = {
    **circuit_sources.CHECKS,
    **circuit_relays.CHECKS,
    **circuit_wires.CHECKS,
    "load_voltage": CheckWords(
        name="voltage at the load",
        passes="{part}: {value} arrive and {limit} are needed, {apart} to spare.",
        fails=(
            "{part}: only {value} arrive and {limit} are needed, {apart} short.",
            "Most is lost in {detail}: find out whether that is there by design, and as it should "
            "be, before anything else is done for it.",
        ),
        unknown="{part}: Give what keeps it closed to judge whether it holds.",
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
                "pull-in winding is as good as open. Replace the solenoid.",
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
                "Both ends of its coil lead to the same post: find where one is joined wrongly.",
            ),
            "No way leads from its coil at {detail} to a post: find the feed or the ground that "
            "{detail} has lost.",
        ),
    ),
    "never_on": CheckWords(
        name="load that no case switches on",
        passes="",
        unknown="{part}: it is off in every case that is given: give one in which it is on. If it "
        "is to be on in one of these, a feed or a ground of it is missing there.",
    ),
    "load_off": CheckWords(
        name="load that is off",
        passes=(
            When(
                "detail",
                None,
                "{part}: it is off in this case, with what is left out of its way.",
            ),
            When(
                "detail",
                "thrown",
                "{part}: it is off in this case, with a relay in its way thrown the other way.",
            ),
            When(
                "detail",
                "both_live",
                "{part}: it is off in this case: both its ends are live, as those of a charge lamp "
                "are while the battery is charged.",
            ),
        ),
        fails="{part}: both its ends are joined to the ground, past every switch, and nothing is "
        "left to it: find where its wire has chafed through, or is joined wrongly.",
        unknown=(
            When(
                "detail",
                "both_live",
                "{part}: both its ends are live in this case, and nothing flows. If it is to be "
                "on, see where the end that should lead to the ground is joined.",
            ),
            When(
                "detail",
                "coil_live",
                "{part}: both ends of the coil of the relay that feeds it are live in this case, "
                "as where one lamp puts another out. If it is to be on, see where the end of that "
                "coil that should lead to the ground is joined.",
            ),
            When(
                "detail",
                "turned",
                "{part}: it is fed the other way round in this case, by {value}, and its back_v is "
                "taken for the first way: it seems to take more than it does. Judge this way in a "
                "circuit of its own, with its nodes the other way round.",
            ),
        ),
    ),
    "barred": CheckWords(
        name="start barred by a relay",
        passes="",
        fails=_BARRED,
        undecided=_BARRED,
    ),
    "lost_joint": CheckWords(
        name="a joint that is missing",
        passes="",
        fails="{part}: no metal joins its end at {detail} to either post, and its current goes "
        "through other loads there, {value} are left to it: find the ground or the feed that "
        "{detail} has lost.",
    ),
    "left_dark": CheckWords(
        name="load that is dark for a part left out",
        passes="",
        unknown="{part}: without {detail} it is dark in this case. If that is no trial, put it "
        "back.",
    ),
    "shunted": CheckWords(
        name="way past a resistor",
        passes="",
        fails="{part}: {detail} leads past it, and what it is there for gets {value} in place of "
        "about {limit}, which are enough: it overheats, or reads wrong. Take that way off.",
        undecided="{part}: {detail} leads past it to the frame, and what it is there for gets "
        "{value} in place of about {limit}: it reads wrong, unless that belongs there.",
    ),
    "drawn_past": CheckWords(
        name="way past a load",
        passes="",
        fails="{part}: current flows through it past {detail}, which gets {value} and would get "
        "{limit} without it: take it out, do not tighten it, unless it belongs there.",
    ),
    "wire_drop": CheckWords(
        name="drop of a wire",
        passes="",
        fails="{part}: it alone loses {value} of what {detail} lacks, more than any other part: "
        "take a thicker or shorter one.",
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
            "there and may set it alight: take it out, do not tighten it.",
            When("detail", "resistance", "If it belongs there, give it as a load."),
        ),
        undecided="{part}: it joins the live side to the ground past every load, and {value} flow "
        "there: if that is a chafe it may catch fire, and its fuse never opens. Pull the fuse and "
        "find it; if it belongs there, give it as a load.",
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
        "replace it before it is used again.",
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
        fails="{part}: it carries {value}, more than its {limit}: less on it, or one that is rated "
        "for more.",
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
