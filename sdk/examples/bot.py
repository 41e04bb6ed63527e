"""A forum bot's handler: a message comes in, the answer to post goes out.

    supply = 12.2 V; load = 8 A; size = 12 AWG; length = 15 ft; return = body

``python bot.py < message.txt`` prints the answer. Nothing that a person wrote is posted back, so
that a message can make the bot neither ping anyone nor link anywhere.
"""

import re
import sys
from collections.abc import Iterator
from typing import Any

from lastvolt import Client, ErrorAnswer, LastvoltError, units

HOW_TO_ASK = (
    "Write, with units: `supply = 12.2 V; load = 8 A; size = 12 AWG; length = 15 ft; return = wire`"
    " and, if you like, `temperature = 140 degF`. The length is one way; return is wire or body."
)
LONGEST = 500  # characters of a message
RETURNS = ("wire", "body")
REQUIRED = ("supply", "load", "size", "length", "return")
# The unit that each quantity is turned into.
QUANTITIES = {"supply": "V", "load": "A", "length": "m", "temperature": "degC"}
# The key behind each field of the request.
KEYS = {
    "supply_v": "supply",
    "load_current_a": "load",
    "length_m": "length",
    "temperature_c": "temperature",
    "size": "size",
}


class Misunderstood(Exception):
    """A message that is no question; its text is safe to post."""


def understood(message: str) -> dict[str, Any]:
    """Read a message strictly: each key once, all that are needed, and a unit everywhere.

    Parameters
    ----------
    message : str
        As a person wrote it.

    Returns
    -------
    dict
        Numbers by key, and text for size and return.

    Raises
    ------
    Misunderstood
        If it is anything else.
    """
    found: dict[str, Any] = {}
    if len(message) > LONGEST:
        raise Misunderstood("That is too long.")
    for part in filter(None, (each.strip() for each in re.split(r"[;\n]", message))):
        key, equals, text = (each.strip() for each in part.partition("="))
        if not equals or key not in {*REQUIRED, *QUANTITIES}:
            raise Misunderstood("Each part is a known key, an equals sign and a value.")
        if key in found:
            raise Misunderstood(f"{key} is there twice.")
        try:
            found[key] = units.parse(text, QUANTITIES[key]) if key in QUANTITIES else text
        except ValueError:
            allowed = ", ".join(units.ALLOWED[QUANTITIES[key]])
            raise Misunderstood(f"{key} is a number and one of these units: {allowed}.") from None
    if missing := [key for key in REQUIRED if key not in found]:
        raise Misunderstood(f"Missing: {', '.join(missing)}.")
    if found["return"] not in RETURNS:
        raise Misunderstood(f"return is one of: {', '.join(RETURNS)}.")
    return found


def request(question: dict[str, Any]) -> dict[str, Any]:
    """Turn a question into the body of a voltage-drop request.

    Parameters
    ----------
    question : dict
        As `understood` gives it.

    Returns
    -------
    dict
    """
    wire = {"kind": "wire", "size": question["size"], "length_m": question["length"]}
    if "temperature" in question:
        wire["temperature_c"] = question["temperature"]
    names = ["wire out", "wire back"] if question["return"] == "wire" else ["wire out"]
    return {
        "supply_v": question["supply"],
        "load_current_a": question["load"],
        "segments": [{**wire, "name": name} for name in names],
    }


def reasons(error: ErrorAnswer) -> Iterator[str]:
    """Say in the words of the question what the service refuses.

    Parameters
    ----------
    error : ErrorAnswer
        Its refusal.

    Yields
    ------
    str
    """
    for field in error.field_errors:
        key = KEYS.get(field.argument.rpartition(".")[2])
        if key == "size":  # the only text that was passed on, so what is said of it may quote it
            yield "size: it is in no table, or not written as in the example."
        elif key:
            yield f"{key}: {field.detail}"


def answer(message: str, client: Client) -> str:
    """Answer a message.

    Parameters
    ----------
    message : str
        As a person wrote it.
    client : Client
        Asks the service.

    Returns
    -------
    str
        Markdown to post.
    """
    try:
        return client.report("voltage-drop", request(understood(message)))
    except Misunderstood as error:
        return f"{error} {HOW_TO_ASK}"
    except ErrorAnswer as error:
        said = " ".join(dict.fromkeys(reasons(error))) or f"{error.title}."
        return f"{said} {HOW_TO_ASK}"
    except LastvoltError:
        return "The service does not answer at the moment: please ask again later."


if __name__ == "__main__":
    with Client() as asking:
        print(answer(sys.stdin.read(), asking))
