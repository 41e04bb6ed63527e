"""What is said of the start of an engine."""

from dataclasses import replace

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When
from lastvolt_service.words.en.circuits import CHECKS as OF_CIRCUITS

_STAGES = {
    "key_on": "with the key on",
    "main_contact": "as the motor is switched on",
    "cranking": "while it cranks",
}

CHECKS = {
    **OF_CIRCUITS,
    "load_voltage": replace(
        OF_CIRCUITS["load_voltage"],
        marginal=(
            Weigh(
                "value",
                "limit",
                enough="{part}: {value} arrive and {limit} are needed, {apart} to spare. The "
                "margin is small.",
                short="{part}: {value} arrive and {limit} are needed, {apart} short, as long as "
                "the start lasts.",
            ),
        ),
    ),
    "made_for": replace(
        OF_CIRCUITS["made_for"],
        fails=(
            *OF_CIRCUITS["made_for"].fails,
            *(
                When(
                    "detail",
                    f"{one}_apart",
                    f"{{part}}: its {words} winding has {{value}}, and with its {other} winding go "
                    "{limit} at most: the one is as good as open, or the other shorted. Replace "
                    "the solenoid before any switch or wire is blamed.",
                )
                for one, words, other in (
                    ("hold_in", "hold-in", "pull-in"),
                    ("pull_in", "pull-in", "hold-in"),
                )
            ),
        ),
    ),
    "full_voltage": CheckWords(
        name="plunger at the full voltage",
        passes="{part}: {limit} at terminal 50 move its plunger as warm as it is, and the source "
        "has {value}.",
        fails="{part}: its plunger takes {limit} at terminal 50 as warm as it is, and the source "
        "has {value} in all: no wiring cures that. Look at the brushes and the windings, and let "
        "it cool.",
    ),
    "pull_in_force": CheckWords(
        name="pull-in of the plunger",
        passes="{part}: its windings make {value} in all their turns and {limit} move the plunger.",
        fails="{part}: its windings make only {value} in all their turns and {limit} move the "
        "plunger: it does not go home. Look at what it gets between "
        "terminal 50 and its housing.",
    ),
    "hold_force": CheckWords(
        name="hold of the plunger",
        passes="{part}: {value} in all turns keep the plunger, which lets go below {limit}.",
        fails=(
            "{part}: only {value} in all turns are left and the plunger lets go below {limit}: it "
            "clicks over and over.",
            *(When("detail", name, f"That is {words}.") for name, words in _STAGES.items()),
            "Measure the posts and terminal 50 then: where they keep their voltage it is the "
            "hold-in winding.",
        ),
        unknown="{part}: Give hold_ampere_turns to know whether it holds in the sag.",
    ),
    "relay_lets_go": CheckWords(
        name="relay in the sag",
        passes="{part}: {value} are left at its coil and it opens below {limit}: it stays closed.",
        fails=(
            "{part}: {value} are left at its coil and it opens below {limit}: it clicks over and "
            "over.",
            *(When("detail", name, f"That is {words}.") for name, words in _STAGES.items()),
        ),
    ),
    "cranking_voltage": CheckWords(
        name="voltage at the motor",
        passes="{part}: {value} reach the motor and {limit} are needed.",
        fails="{part}: only {value} reach the motor while it cranks and {limit} are needed: it "
        "turns too slowly. Look at the battery, its clamps, the heavy cable and the strap.",
        unknown=(
            When(
                "detail",
                "stands",
                "{part}: Give back_v, the voltage that the motor makes as it turns, to know how it "
                "cranks.",
            ),
            When("detail", None, "{part}: Give needed_v to know whether it cranks fast enough."),
        ),
    ),
    "motor_current": CheckWords(
        name="current of the motor",
        passes="{part}: the motor takes {value}, and {limit} or more turn an engine.",
        fails="{part}: the motor takes only {value}, and hardly less than {limit} turn an engine: "
        "a clunk, and it stands. Look at the main contact, the heavy cable, its ends and the "
        "strap, at its brushes, and whether back_v is right.",
    ),
    "control_drop": CheckWords(
        name="drop before terminal 50",
        passes="",
        fails="{part}: {value} are lost between the battery and terminal 50, the most in it: mend "
        "it, or take a thicker or shorter way, or a relay near the starter.",
    ),
    "coil_unfed": CheckWords(
        name="feed of the start relay's coil",
        passes="",
        fails="{part}: only {value} are at its coil, and it stays open: look at what feeds its "
        "coil and leads it to the ground. Its contact is not to blame.",
    ),
    "lead_drop": CheckWords(
        name="drop of the leads of a helper",
        passes="",
        fails="{part}: the leads from {detail} lose {value} while it cranks, and thick ones "
        "{limit} at most: take thicker or shorter ones.",
    ),
    "motor_stands": CheckWords(
        name="motor at a stand",
        passes="",
        fails="{part}: its motor takes {value} and stands, as back_v is 0: it is seized or "
        "shorted, and no battery or cable is to blame. If it turns, give the back_v that it makes.",
    ),
    "release_force": CheckWords(
        name="release of the plunger",
        passes="{part}: with the key let go {value} in all turns are left and {limit} keep the "
        "plunger: it goes back.",
        fails=(
            "{part}: with the key let go {value} in all turns are left and {limit} keep the "
            "plunger: the starter may run on.",
            When("detail", "fed", "Find what still feeds terminal 50."),
            When(
                "detail",
                "drawn",
                "What else hangs on terminal 50, or a wire rubbed through there, draws through the "
                "pull-in winding: take it to a contact of its own, or mend it.",
            ),
            When(
                "detail",
                "unequal",
                "Nothing feeds terminal 50: its two windings don't cancel. Replace the solenoid, "
                "or give the turns of both again.",
            ),
        ),
        marginal=(
            "{part}: with the key let go {value} in all turns are left and {limit} keep the "
            "plunger: it goes back.",
            When("detail", "unequal", "The margin is small."),
            When(
                "detail",
                "drawn",
                "The margin is small: take what else hangs on terminal 50, and draws through the "
                "pull-in winding, to a contact of its own.",
            ),
            When(
                "detail",
                "fed",
                "But something still feeds terminal 50: find it, before it feeds more.",
            ),
        ),
        unknown="{part}: Give hold_ampere_turns to know whether it lets go with the key.",
    ),
}
CHECKS["at_terminal_50"] = CheckWords(
    name="what is at terminal 50 with the key let go",
    passes="",
    fails=(
        When(
            "detail",
            "fed",
            "{part}: with the key let go {value} come to terminal 50 over it, and nothing should.",
        ),
        When(
            "detail",
            "fed_by_switch",
            "{part}: with the key let go {value} come to terminal 50 over it, and nothing should. "
            "If it is let go as the key is, such as a start button, leave it out of the case.",
        ),
        When(
            "detail",
            "drawn",
            "{part}: with the key let go {value} leave terminal 50 over it: take it to a contact "
            "of its own.",
        ),
    ),
    marginal="{part}: with the key let go {value} come to terminal 50 over it, and nothing should.",
)
_WEAKEST = "In {weakest.case}, {weakest.message}"


def _starts(begins: str) -> tuple[When, ...]:
    """Praise it as far as it was judged."""
    cranks = (
        When("lets_go", True, f"{begins}he starter pulls in, cranks and lets go in every case."),
        When("lets_go", None, f"{begins}he starter pulls in and cranks in every case."),
    )
    return (
        When(
            "turns",
            True,
            (
                When("is_charged", True, cranks),
                When("is_charged", False, "How it cranks with so little charge was not reckoned."),
            ),
        ),
        When(
            "turns",
            False,
            f"{begins}he starter pulls in. How it cranks was not reckoned: give back_v.",
        ),
    )


START_SEQUENCE = OperationWords(
    tells="weakest",
    headline=(
        When(
            "outcome",
            "starts",
            (
                When("weakest.verdict", "fail", ("{weakest.message}", *_starts("Else t"))),
                When("weakest.verdict", "undecided", ("{weakest.message}", *_starts("Else t"))),
                When(
                    "weakest.verdict",
                    "marginal",
                    (*_starts("T"), "Nearest to its limit in {weakest.case}, {weakest.message}"),
                ),
                When("weakest.verdict", "unknown", _starts("T")),
                When("weakest.verdict", "pass", _starts("T")),
            ),
        ),
        When(
            "outcome",
            "silent",
            (
                "In {worst_case} nothing is heard but, at most, the click of a relay.",
                _WEAKEST,
            ),
        ),
        When(
            "outcome",
            "hums",
            ("In {worst_case} a hum or one faint click is heard.", _WEAKEST),
        ),
        When(
            "outcome",
            "buzzes",
            ("In {worst_case} it clicks over and over.", _WEAKEST),
        ),
        When(
            "outcome",
            "slow",
            ("In {worst_case} it cranks too slowly, if at all.", _WEAKEST),
        ),
        When(
            "outcome",
            "runs_on",
            (
                "In {worst_case} it may run on when the key is let go, or start by itself: have a "
                "way to cut the battery off.",
                "In {fed_over.case}, {fed_over.message}",
                When("weakest.code", "release_force", (When("fed_over", None, _WEAKEST),)),
                *(When("weakest.code", code, _WEAKEST) for code in ("source_voltage", "freezing")),
            ),
        ),
        "Whatever else is done: in {hazard.case}, {hazard.message}",
    ),
    checks=CHECKS,
)

WORDS = {"start-sequence": START_SEQUENCE}
