"""What feeds terminal 50, and what it is fed without."""

from collections.abc import Sequence

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.starting.stages import let_go_with
from lastvolt_service.operations.starting.starter import StartSequenceRequest, with_starter

# Parts of a way, each with how much it carries.
Way = Sequence[tuple[float, str]]


class Feeds:
    """Whether terminal 50 is fed without some parts: followed once for all cases.

    Parameters
    ----------
    asked : StartSequenceRequest
        The circuit and its starter.
    """

    def __init__(self, asked: StartSequenceRequest) -> None:
        self._circuit = with_starter(asked, back_v=0.0)
        self._ends = asked.starter.control_node, asked.starter.ground_node
        self._key = frozenset(let_go_with(asked))
        branches = asked.circuit.branches
        contacts = [each for each in branches if isinstance(each, CircuitContact)]
        self.switches = {each.name for each in contacts if each.part == "switch"}
        self._found: dict[frozenset[str], bool] = {}

    def without(self, names: frozenset[str]) -> bool:
        """Whether it is."""
        if names not in self._found:
            self._found[names] = live(self._circuit, names).feeds(self._ends)
        return self._found[names]

    def past_key(self, case: Case, way: Way) -> list[tuple[float, str]]:
        """Of a way over which terminal 50 is fed those that it gets nothing over by design.

        The key feeds it without each of them, and nothing does without that and the key.
        """
        left_out = frozenset(case.without)
        return [
            each
            for each in way
            if self.without(left_out | {each[1]})
            and not self.without(left_out | {each[1]} | self._key)
        ]

    def beside(self, case: Case, way: Way) -> list[tuple[float, str]]:
        """Of a way over which current leaves terminal 50 those that the key feeds it without."""
        left_out = frozenset(case.without)
        return [each for each in way if self.without(left_out | {each[1]})]
