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
    small_margin="The margin is small.",
    one_more="1 more check did not pass.",
    more="{count} more checks did not pass.",
    basis="Basis: {text}",
    more_sources="{count} more",
    doubtful="some of them practice or unverified",
    caution="Caution: {text}",
)
