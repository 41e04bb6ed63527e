"""Settings, read from the environment once, when the application is made."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, fields

PREFIX = "LASTVOLT_"


@dataclass(frozen=True, slots=True)
class Config:
    """Settings of one application.

    Attributes
    ----------
    max_body_bytes : int
        Largest request body; from ``LASTVOLT_MAX_BODY_BYTES``.
    """

    max_body_bytes: int = 1024 * 1024

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] = os.environ) -> "Config":
        """Read the settings that are there and keep the defaults of the others.

        Parameters
        ----------
        environment : mapping of str to str
            Where to look.

        Returns
        -------
        Config

        Raises
        ------
        ValueError
            If a setting is no positive whole number; it names the variable.
        """
        given = {}
        for field in fields(cls):
            name = PREFIX + field.name.upper()
            if text := environment.get(name):
                if not (text.isascii() and text.isdigit() and int(text) > 0):
                    raise ValueError(f"{name} must be a positive whole number, not {text!r}.")
                given[field.name] = int(text)
        return cls(**given)
