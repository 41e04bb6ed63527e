"""What can be wrong with a request beyond its shape, as the physics and the tables see it.

    CalculationError              base: carries the path of the field and a sentence for the caller
    +-- UnknownSize               no such conductor size, or none in the asked standard
    +-- NotCovered                a published table has no value for this combination
    +-- NoOperatingPoint          the equations of the circuit have no solution
    +-- ConflictingFields         fields that fit one by one, but not together
    +-- NetworkFault              base: a network that has no solution; carries the nodes concerned
        +-- FloatingPart          nodes without a path to the reference
        +-- SourceShort           perfect conductors across a source
        +-- UndeterminedCurrent   parallel perfect conductors: any division of current fits
        +-- ImpossibleLoad        a load that the network cannot feed
        +-- NoSteadyTemperature   a wire whose heating finds no balance

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


class NetworkFault(CalculationError):
    """A network that has no solution.

    Parameters
    ----------
    detail : str
        One plain sentence that says what is wrong and what would help.
    path : tuple of str or int
        Keys and indices that lead to the field in the request; empty for the whole request.
    nodes : tuple of str
        Names of the nodes concerned.
    """

    title = "The network has no solution"

    def __init__(self, detail: str, path: Path = (), nodes: tuple[str, ...] = ()) -> None:
        super().__init__(detail, path)
        self.nodes = nodes

    def below(self, *prefix: str | int) -> "NetworkFault":
        """Give the same error as seen from further up in the request.

        Parameters
        ----------
        *prefix : str or int
            Keys and indices to put before the path.

        Returns
        -------
        NetworkFault
            Of the same class and nodes, with the longer path.
        """
        return type(self)(self.detail, (*prefix, *self.path), self.nodes)


class FloatingPart(NetworkFault):
    """Nodes that no branch joins to the reference, whatever the relays do."""

    title = "Part of the network floats"


class SourceShort(NetworkFault):
    """Perfect conductors across a source, or ideal sources that contradict each other."""

    title = "A source is shorted"


class UndeterminedCurrent(NetworkFault):
    """Perfect conductors in parallel: their voltages are known, their currents are not."""

    title = "The division of the current is not determined"


class ImpossibleLoad(NetworkFault):
    """A load of constant current or power that the network cannot feed."""

    title = "No operating point exists"


class NoSteadyTemperature(NetworkFault):
    """A wire whose heat finds no balance at its current."""

    title = "A wire reaches no steady temperature"
