"""Faults that may survive, each with its reason."""

import csv
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


# What no publication holds, by the mark of its source. Answers that rest on it say so.
UNHELD = {
    "MEM": "A number from memory, told as unverified: no test may rest on it.",
    "PRACTICE": "A number of common practice, told as such: there is no print to hold it against.",
}


def unheld(table: Path, line: int) -> str:
    """Say of a row of a table why no test need hold it; "" of one that was read in print."""
    if table.suffix != ".csv":
        return ""
    sources = tomllib.loads(table.with_suffix(".toml").read_text("utf-8"))["sources"]
    row = list(csv.DictReader(table.read_text("utf-8").splitlines()))[line - 2]
    source = sources[row["source"]] if "source" in row else next(iter(sources.values()))
    return UNHELD.get(source["mark"], "")
