"""What a call may cost: time, attempts, and the size of its answer."""

import math
from dataclasses import dataclass, replace

from lastvolt.errors import WrongArgument

Timeouts = float | tuple[float, float]

TIMEOUT_S = (3.05, 10.0)  # connect, read; connect just above TCP's first retransmission
TOTAL_TIMEOUT_S = 60.0
RETRIES = 3
MAX_ANSWER_BYTES = 64 * 1024 * 1024

# A piece of a batch: the service may compute for 60 s, and a lost piece ends the whole batch.
PIECE_READ_S = 65.0
PIECE_RETRIES = 4
PIECE_FACTOR = 5


@dataclass(frozen=True, slots=True)
class Limits:
    """What a call may cost.

    Attributes
    ----------
    timeout : float or tuple of float
        For each attempt: one for both, or connect and read. [s]
    total_timeout : float
        For all attempts, the waits between them, and reading the answer. [s]
    retries : int
        Attempts after the first.
    max_answer_bytes : int
        Largest answer, unpacked.

    Raises
    ------
    WrongArgument
        If one makes no sense.
    """

    timeout: Timeouts
    total_timeout: float
    retries: int
    max_answer_bytes: int

    def __post_init__(self) -> None:
        """Refuse what would fail in the middle of a call."""
        pair = self.timeout if isinstance(self.timeout, tuple) else (self.timeout, self.timeout)
        if len(pair) != 2 or not all(map(_is_time, pair)):
            raise WrongArgument(
                "timeout must be a positive number of seconds, or two: connect, read."
            )
        if not _is_time(self.total_timeout):
            raise WrongArgument("total_timeout must be a positive number of seconds.")
        if not _is_count(self.retries, least=0):
            raise WrongArgument("retries must be a whole number from 0.")
        if not _is_count(self.max_answer_bytes, least=1):
            raise WrongArgument("max_answer_bytes must be a whole number from 1.")

    def attempt(self, left_s: float) -> tuple[float, float]:
        """Give connect and read time-out of an attempt that may take no longer than is left."""
        connect, read = (
            self.timeout if isinstance(self.timeout, tuple) else (self.timeout, self.timeout)
        )
        return min(connect, left_s), min(read, left_s)

    def of_a_piece(self) -> "Limits":
        """Give the limits for a piece of a batch."""
        connect, read = self.attempt(math.inf)
        return replace(
            self,
            timeout=(connect, max(read, PIECE_READ_S)),
            total_timeout=self.total_timeout * PIECE_FACTOR,
            retries=self.retries and self.retries + PIECE_RETRIES,
            max_answer_bytes=self.max_answer_bytes * PIECE_FACTOR,
        )


def _is_time(value: object) -> bool:
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and 0 < value <= 1e6  # far beyond it the system takes none
    )


def _is_count(value: object, *, least: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= least
