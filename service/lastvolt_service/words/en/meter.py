"""What is said of readings."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When

_NEW = "{part} drops {value}, a new one {limit}."


def _near(said: str, error: str) -> tuple[When, ...]:
    return (
        When(
            "detail",
            "within_the_error",
            f"{said}; the limit is {{limit}}, too near to tell: it may be off by {error}.",
        ),
        When("detail", None, f"{said} of the {{limit}} allowed. The margin is small."),
    )


DROP_DIAGNOSIS = OperationWords(
    verdict=(
        When("advice", "mend_the_wiring", "Poor parts found"),
        When("advice", "unmeasured_part", "Read the rest of the path"),
        When("advice", "not_proven", "Nothing is proven"),
        When("reason", "too_thin", "The path is sound, but too thin or too long"),
        When("reason", "parts_are_sound", "The path is sound"),
    ),
    headline=(
        When(
            "reason",
            "excess_proven",
            "{worst.name} drops {worst.excess_v} more than a sound one, and mending it gives the "
            "load {worst.regained_v}.",
        ),
        When(
            "reason",
            "lost_elsewhere",
            "No part that was read shows a fault, but {unaccounted_v} is lost where nothing was "
            "read: read every wire, joint and contact, those of the ground side too.",
        ),
        When(
            "reason",
            "readings_contradict",
            "Readings, load and supply contradict each other: take them again, all at the same "
            "current and each part once.",
        ),
        When(
            "reason",
            "too_coarse",
            "An excess that matters could hide within the errors: use a finer meter or range, or "
            "more current.",
        ),
        When(
            "reason",
            "too_thin",
            "No part drops more than a sound one, and together they drop too much at this current: "
            "take larger wires, or a relay near the load.",
        ),
        When(
            "reason",
            "parts_are_sound",
            "No part drops more than a sound one: look for the fault elsewhere.",
        ),
    ),
    short_names={"worst": "readings.[mend_first]"},
    facts=(
        "Then mend {mend_first.1}: all that is proven gives the load {regained_v}.",
        "All readings together are {total_measured_v} at {current_a}.",
    ),
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
            marginal="{part} drops {value}, a new one {limit}; the errors, "
            "{readings.[part].excess_uncertainty_v}, could hide an excess that matters.",
            fails="{part} drops {value}, a new one {limit}: look for broken strands, corrosion and "
            "bad crimps, or replace it.",
        ),
        "contact_drop": CheckWords(
            name="drop of a contact",
            passes="{part} drops {value} of the {limit} allowed.",
            marginal=_near(
                "{part} drops {value}",
                "{readings.[part].excess_uncertainty_v}",
            ),
            fails="{part} drops {value}, more than {limit}: clean, tighten or replace the "
            "{readings.[part].part}.",
        ),
        "cable_drop": CheckWords(
            name="drop of a starter cable",
            passes="As a starter cable, {part} drops {value} of the {limit} allowed.",
            marginal=_near(
                "As a starter cable, {part} drops {value}", "{readings.[part].uncertainty_v}"
            ),
            fails="As a starter cable, {part} drops {value}, more than {limit}: mend its ends, or "
            "take a larger or shorter cable.",
        ),
        "path_drop": CheckWords(
            name="drop of the whole path",
            passes="The path drops {value} of the {limit} allowed.",
            marginal=_near("The path drops {value}", "{total_uncertainty_v}"),
            fails="The path drops {value}, more than {limit}: mend what drops more than a sound "
            "part, or take larger wires.",
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
            unknown="Give supply_v and load_voltage_v to know what was not read.",
        ),
    },
)

WORDS = {"drop-diagnosis": DROP_DIAGNOSIS}
