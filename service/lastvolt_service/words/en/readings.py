"""Texts of readings that several sentences share: near limits, open parts, doubts, the supply."""

from lastvolt_service.words.catalogue import CheckWords, When


def near(said: str, error: str) -> tuple[When, ...]:
    """Say of a reading that its limit is near, or too near to tell."""
    return (
        When(
            "detail",
            "within_the_error",
            f"{said}; the limit is {{limit}}, too near to tell: it may be off by {error}.",
        ),
        When("detail", None, f"{said} of the {{limit}} allowed. The margin is small."),
    )


def what_opened(part: str) -> tuple[When, ...]:
    """What to do about a part that is open, by what it is."""
    mend = "Find where it is loose, corroded or broken, and mend it."
    return (
        When(part, "switch", "Switch it on; if it is on, replace it."),
        When(part, "relay", "See that its coil is fed; if it pulls in, replace it."),
        When(
            part,
            "fuse",
            "It is blown: find what blew it, a short behind it or a load that sticks, before one "
            "of the same rating goes in, and none larger.",
        ),
        *(
            When(part, each, mend)
            for each in ("connector", "terminal", "ground", "wire", "resistance", None)
        ),
    )


def supply(the: str) -> tuple[When, ...]:
    """What is wrong with the supply, at the beginning of a sentence or after a colon."""
    return (
        When(
            "supply_is",
            "too_low",
            f"{the} supply itself has {{supply_v}}, too little at {{current_a}}: charge and test "
            "the battery; where its posts have more, read the path from there.",
        ),
        When(
            "supply_is",
            "low",
            f"{the} supply itself has {{supply_v}} at {{current_a}}, little for a warm battery: "
            "ask battery-voltage whether it is flat, too small or cold, or the starter draws too "
            "much.",
        ),
        When(
            "supply_is",
            "low_unless_cranking",
            f"{the} supply itself has {{supply_v}} at {{current_a}}: unless the starter turned "
            "meanwhile, the battery is flat or weak. Read it at rest, charge and test it.",
        ),
    )


# Why a check of a reading is none.
DOUBTS = (
    When(
        "detail",
        "leads_swapped",
        "Leads are swapped somewhere: put them right and read it again.",
    ),
    When(
        "detail",
        "open_part",
        "While a part is open no current flows, and a drop tells nothing: read it again then.",
    ),
    When("detail", "shorted", "Through a short all drop too much: read it again without it."),
    When("detail", "load_open", "While the load takes nothing, a drop tells nothing."),
    When("detail", "read_twice", "A part is read within another: read each by itself."),
    When("detail", "readings_contradict", "The readings contradict each other: read it again."),
    When(
        "detail",
        "current_contradicts",
        "The wires drop what they cannot at {current_a}: the current or a size is wrong. Measure "
        "the current again.",
    ),
    When(
        "detail",
        "trickle",
        "A drop of {value} at {current_a} tells nothing: read it with the load at work.",
    ),
)

_MAKES = "it makes {value} of heat, and {limit}"
_CLEAN = "clean, tighten or replace it before it is used again."
_RELAY_BURNS = (
    "burn a relay that sits in a plastic socket: replace it before it is used again. One for 100 A "
    "and more, bolted down, bears that."
)
CONTACT_HEAT = CheckWords(
    name="heat of a contact",
    passes="",
    fails=(
        When("detail", None, f"{{part}}: {_MAKES} burn what holds it: {_CLEAN}"),
        When(
            "detail",
            "overdrawn",
            f"{{part}}: at {{current_a}} {_MAKES} burn what holds it: switch it off, and {_CLEAN}",
        ),
    ),
    unknown=DOUBTS,
    undecided=(
        When("detail", None, f"{{part}}: {_MAKES} {_RELAY_BURNS}"),
        When("detail", "overdrawn", f"{{part}}: at {{current_a}} {_MAKES} {_RELAY_BURNS}"),
    ),
)
LOAD_CURRENT = CheckWords(
    name="current of the load",
    passes="",
    marginal="{value} flow where {limit} are usual: if the load does not start, and "
    "nothing else is on, it sticks or is shorted.",
    fails=(
        When(
            "detail",
            None,
            "{value} flow where {limit} are usual: the load sticks or is shorted, or more "
            "hangs on its wire. See to that before any wire or contact.",
        ),
        When(
            "detail",
            "shorted",
            "{value} flow through a load that keeps {load_voltage_v}: no load takes so "
            "much of so little. See to that before any wire or contact.",
        ),
    ),
    unknown=DOUBTS,
)
