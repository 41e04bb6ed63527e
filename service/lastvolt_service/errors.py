"""What can be wrong with a request beyond its shape, as the physics and the tables see it.

    CalculationError              base: carries the path of the field and a sentence for the caller
    +-- UnknownSize               no such conductor size, or none in the asked standard
    +-- NotCovered                a published table has no value for this combination
    +-- NoOperatingPoint          the equations of the circuit have no solution
    +-- ConflictingFields         fields that fit one by one, but not together

The texts are written for the caller and safe to send. They know nothing of HTTP.
"""

Path = tuple[str | int, ...]


class CalculationError(Exception):
    """A request of the right shape that has no answer.

    Parameters
    ----------
    detail : str
        One plain sentence that says what is wrong and what would help.
    path : tuple of str or int
        Keys and indices that lead to the field in the request; empty for the whole request.
    """

    title = "The calculation has no answer"

    def __init__(self, detail: str, path: Path = ()) -> None:
        super().__init__(detail)
        self.detail = detail
        self.path = path

    def below(self, *prefix: str | int) -> "CalculationError":
        """Give the same error as seen from further up in the request.

        Parameters
        ----------
        *prefix : str or int
            Keys and indices to put before the path.

        Returns
        -------
        CalculationError
            Of the same class, with the longer path.
        """
        return type(self)(self.detail, (*prefix, *self.path))


class UnknownSize(CalculationError):
    """No such conductor size, or none in the asked standard."""

    title = "Unknown conductor size"


class NotCovered(CalculationError):
    """A published table has no value for this combination."""

    title = "Not covered by the published tables"


class NoOperatingPoint(CalculationError):
    """The equations of the circuit have no solution."""

    title = "No operating point exists"


class ConflictingFields(CalculationError):
    """Fields that fit one by one, but not together."""

    title = "Fields contradict each other"
