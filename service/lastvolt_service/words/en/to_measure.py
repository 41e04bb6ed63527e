"""What is said of what to measure first: how it is found out, and the value that decides."""

from lastvolt_service.words.catalogue import CheckWords, When

_LITTLE = "the load has too little, or less than a tenth to spare."

_SETTLES = (
    "{limit} are enough for it in every case, whatever it needs; with less it may have too little."
)


def _read_at(detail: str, how: str) -> tuple[When, ...]:
    """Say how, and what it does not tell where a contact on the way may be worn."""
    return (
        When("detail", detail, (how, _SETTLES)),
        When(
            "detail",
            f"{detail}_not_worn",
            (how, _SETTLES, "That settles no contact that is not decided: read across that, too."),
        ),
    )


TO_MEASURE = CheckWords(
    name="what is right to do",
    passes="",
    fails="",
    within_bounds=(
        "What is right to do depends on the {measure}.",
        When(
            "detail",
            "across",
            (
                "With the load on, read them from the metal on one side of it to that on the "
                "other.",
                "More than {limit} there want mending, less may stay.",
            ),
        ),
        *_read_at(
            "at_load",
            "Read them with a meter where its wires end, in {case}, with the load on.",
        ),
        *_read_at(
            "at_terminal_50",
            "Read them with a meter in {case}, key held to start, from terminal 50, the small "
            "one, to where its current goes back, the bare metal housing as a rule; it may "
            "turn at any moment.",
        ),
        When(
            "detail",
            "needs",
            (
                "Its maker's sheet says how much that is, or a trial: the least volts read at it "
                "with which it still works.",
                f"Where it is more than {{limit}}, {_LITTLE}",
            ),
        ),
        When(
            "detail",
            "current",
            ("Read it with a DC clamp meter.", f"With more than {{limit}} {_LITTLE}"),
        ),
        When(
            "detail",
            "load_resistance",
            (
                "Read both with the load on: volts over amperes are its resistance.",
                f"With less than {{limit}} {_LITTLE}",
            ),
        ),
        When(
            "detail",
            "posts",
            (
                "Read it at the posts with nothing on, rested for an hour.",
                f"With less than {{limit}} {_LITTLE}",
            ),
        ),
        When(
            "detail",
            "sags",
            (
                "Read the volts at the posts with nothing on, then with the load on, and its "
                "current with a DC clamp meter: what the posts lose, over the amperes, is that "
                "resistance.",
                f"With more than {{limit}} {_LITTLE}",
            ),
        ),
        When(
            "detail",
            "length",
            ("Measure it along its way.", f"With more than {{limit}} {_LITTLE}"),
        ),
        When("detail", None, "Find that out first."),
    ),
)
