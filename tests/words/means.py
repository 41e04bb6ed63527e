"""The form in which the sense of a check is written down."""

from typing import NamedTuple


class Means(NamedTuple):
    """Of one check.

    `better` is ">" where the value must reach its limit, "<" where it must stay within, "" where
    the two alone do not decide. `good` stands in what is said of a pass and nowhere in what is said
    of a failure, `bad` the other way round; "" where there is no such sentence. Each of `phrases`
    is a place where one of its own numbers may stand.
    """

    better: str
    good: str
    bad: str
    phrases: tuple[str, ...] = ()


def means(better: str, good: str, bad: str, *phrases: str) -> Means:
    return Means(better, good, bad, phrases)
