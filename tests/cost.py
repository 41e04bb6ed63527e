"""How often tests try an operation: to weigh whole decisions costs a hundred of the others."""

from hypothesis import settings

DEAR = {
    "relay-retrofit",
    "remedy-choice",
    "relay-choice",
    "work-sheet",
    "quick-answer",
    "circuit-fit",
    "meter-plan",
    "gain-proof",
}
SHARE = 8


def tries(name: str, most: int) -> int:
    """Number of examples: in the gate fewer of what is dear, in the long job all of them."""
    if name not in DEAR or settings.get_current_profile_name() == "random":
        return most
    return max(min(3, most // 2), most // SHARE)
