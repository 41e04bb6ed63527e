"""API keys: named, known to the service by their hash only.

``python -m lastvolt_service.keys NAME`` makes a key. It prints the key on standard error, once,
and the table for the file of `LASTVOLT_API_KEYS_FILE` on standard output::

    [[keys]]
    name = "forum-bot"
    sha256 = "…"
    rate = "60/minute"                  # of this key alone; without it, LASTVOLT_RATE_LIMIT
    paths = ["/v1/conductors"]          # what it may ask, and all below; without it, everything

The file is read when the service starts. A key holds 256 random bits: nobody guesses it, so one
round of SHA-256 hides it as well as a slow hash would, which is for passwords.
"""

import hashlib
import hmac
import re
import secrets
import sys
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from lastvolt_service.config import WrongSetting, parse_rate

KEY_PREFIX = "lv_"  # lets scanners of published code find a key that slipped in
_NAME = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)
_PATH = re.compile(r"/v1(?:/[a-z0-9-]+)*", re.ASCII)


@dataclass(frozen=True, slots=True)
class Key:
    """What the service knows of a key.

    Attributes
    ----------
    name : str
        Shown in logs.
    sha256 : str
        Hash of the key, in hexadecimal.
    rate : str
        What it may ask, such as ``60/minute``; empty for the rate of everyone.
    paths : tuple of str
        Where it may ask, and below; empty for everywhere.
    """

    name: str
    sha256: str
    rate: str = ""
    paths: tuple[str, ...] = ()

    def may_ask(self, path: str) -> bool:
        """Say whether the key is good for a path."""
        return not self.paths or any(
            path == allowed or path.startswith(f"{allowed}/") for allowed in self.paths
        )


def digest(key: str) -> str:
    """Hash a key.

    Returns
    -------
    str
        SHA-256 in hexadecimal.
    """
    return hashlib.sha256(key.encode()).hexdigest()


def find(keys: Sequence[Key], given: str) -> Key | None:
    """Find the key that a caller gave; the time that it takes does not tell how close it was."""
    hashed = digest(given)
    found = None
    for key in keys:
        if hmac.compare_digest(key.sha256, hashed):
            found = key
    return found


def load(path: Path) -> tuple[Key, ...]:
    """Read a file of keys.

    Parameters
    ----------
    path : pathlib.Path
        TOML as the text of this module shows.

    Raises
    ------
    WrongSetting
        If the file cannot be read or holds no key, or one that makes no sense; it names the key.
    """
    try:
        tables = tomllib.loads(path.read_text("utf-8")).get("keys")
    except OSError as error:
        raise WrongSetting(f"The keys cannot be read: {error.strerror}: {path}.") from error
    except UnicodeDecodeError as error:
        raise WrongSetting(f"{path} is not UTF-8 text.") from error
    except tomllib.TOMLDecodeError as error:
        raise WrongSetting(f"{path} is not TOML: {error}.") from error
    if not tables or not isinstance(tables, list):
        raise WrongSetting(f"{path} holds no [[keys]].")
    keys = tuple(_key(table, f"{path}, key {number}") for number, table in enumerate(tables, 1))
    if len({key.name for key in keys}) < len(keys):
        raise WrongSetting(f"{path}: two keys have the same name.")
    return keys


def _key(table: Any, where: str) -> Key:
    known = {field.name for field in fields(Key)}
    if not isinstance(table, dict) or not {"name", "sha256"} <= set(table) <= known:
        raise WrongSetting(f"{where}: it needs name and sha256, and may have rate and paths.")
    name, sha256 = table["name"], table["sha256"]
    rate, paths = table.get("rate", ""), table.get("paths", [])
    if not (isinstance(name, str) and _NAME.fullmatch(name)):
        raise WrongSetting(f"{where}: name must be 1 to 64 of A-Z a-z 0-9 . _ and -.")
    if not (isinstance(sha256, str) and _SHA256.fullmatch(sha256)):
        raise WrongSetting(f"{where}: sha256 must be 64 hexadecimal digits.")
    if not (
        isinstance(paths, list) and all(isinstance(p, str) and _PATH.fullmatch(p) for p in paths)
    ):
        raise WrongSetting(f"{where}: paths must be a list of paths that begin with /v1.")
    try:
        rate = rate and parse_rate(rate)
    except (TypeError, ValueError) as error:
        raise WrongSetting(f"{where}: rate must be {error}.") from error
    return Key(name=name, sha256=sha256, rate=rate, paths=tuple(paths))


def main(name: str) -> None:
    """Make a key and print it."""
    key = KEY_PREFIX + secrets.token_urlsafe(32)
    table = _key({"name": name, "sha256": digest(key)}, "NAME")
    sys.stderr.write(f"Key of {table.name}, shown this once: {key}\n")
    sys.stdout.write(f'[[keys]]\nname = "{table.name}"\nsha256 = "{table.sha256}"\n')


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: python -m lastvolt_service.keys NAME")
    main(sys.argv[1])
