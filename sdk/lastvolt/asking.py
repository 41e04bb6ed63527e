"""What the method of an operation rests on: the mark of what a call leaves out, and the asking."""

import enum
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from typing import Any, Final, TypeVar

from lastvolt.answers import Model

Answer = TypeVar("Answer", bound=Model)


class Omit(enum.Enum):
    """Type of `OMIT`."""

    OMIT = "left to the service"

    def __repr__(self) -> str:
        """Show it in signatures as it is written."""
        return self.name


OMIT: Final = Omit.OMIT
"""Default of an optional argument: the field is left out and the service's default holds."""


class Asking(ABC):
    """Something that can send a request and read its answer."""

    @abstractmethod
    def _ask(self, answer: type[Answer], operation: str, /, **arguments: object) -> Answer:
        """Ask for an operation."""


def request_body(arguments: Mapping[str, object]) -> dict[str, Any]:
    """Make the fields of a request of the arguments of a method.

    Parameters
    ----------
    arguments : mapping
        By name; one that Python keeps for itself, such as ``from``, has an underscore at its end.

    Returns
    -------
    dict
        Without what is `OMIT`, and with a list for any sequence.
    """
    return {
        name.removesuffix("_"): _listed(value)
        for name, value in arguments.items()
        if value is not OMIT
    }


def _listed(value: object) -> object:
    return list(value) if isinstance(value, Sequence) and not isinstance(value, str) else value
