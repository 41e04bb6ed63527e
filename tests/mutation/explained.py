"""Faults that may survive, each with its reason."""

import tomllib
from pathlib import Path

FILE = Path(__file__).with_name("explained.toml")

# File, the line that changes first, and what becomes of it: "" is anything.
Change = tuple[str, str, str]


def explained() -> dict[Change, str]:
    entries = tomllib.loads(FILE.read_text("utf-8")).get("fault", [])
    return {
        (each["file"], each["before"], each.get("after", "")): each["reason"] for each in entries
    }
