"""What is said round every answer."""

from lastvolt_service.words.catalogue import Frame

FRAME = Frame(
    verdicts={
        "pass": "Passes",
        "marginal": "Passes by little",
        "fail": "Fails",
        "undecided": "Not decided",
        "unknown": "Not judged",
    },
    as_far_as_judged="Passes as far as it was judged",
    first_line={
        "fail": "What fails: {checks}.",
        "undecided": "Not decided: {checks}.",
        "unknown": "Not judged: {checks}.",
    },
    first_line_else={
        "fail": "What else fails: {checks}.",
        "undecided": "Not decided either: {checks}.",
        "unknown": "Not judged: {checks}.",
    },
    fails_as_it_is="What fails as it is: {checks}.",
    small_margin="The margin is small.",
    unsure="{part}: within the bounds of what is given it may pass or fail: measure {measure} "
    "first.",
    unsure_by="At the worst {value} stand against {limit}.",
    one_more="1 more check did not pass.",
    more="{count} more checks did not pass.",
    check_of_part="{check}, {part}",
    check_of_parts="{check} ({parts})",
    check_becomes="{value}",
    limit_becomes="held against {value}",
    in_place_of=" in place of {value}",
    check_is_gone="{check} is no longer in question",
    both_changes="{first}; and {then}",
    change_brings="{change}: {brings}. The worst check is then: {verdict}.",
    basis="Basis: {text}",
    more_sources="{count} more",
    doubtful="some of them practice or unverified",
    caution="Caution: {text}",
)
