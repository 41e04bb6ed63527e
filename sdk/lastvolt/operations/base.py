"""What the methods of all operations rest on."""

from abc import ABC, abstractmethod
from typing import TypeVar

from lastvolt.models import Model

Answer = TypeVar("Answer", bound=Model)


class Asking(ABC):
    """Something that can send a request and read its answer."""

    @abstractmethod
    def _ask(self, answer: type[Answer], operation: str, **fields: object) -> Answer:
        """Ask for an operation; fields that are `OMIT` are left out."""
