"""Remedies for relays and solenoids."""

import math
from collections.abc import Iterator

from lastvolt_service.operations.relay_contact import RelayContact
from lastvolt_service.operations.remedies.options import cooler_ambient, sound_ohm
from lastvolt_service.operations.remedies.trials import Arguments, Put, Trials
from lastvolt_service.operations.results import show

RATINGS_A = (10.0, 20.0, 30.0, 40.0, 50.0, 70.0, 100.0, 150.0, 200.0, 300.0)


def _search(
    trials: Trials, arguments: Arguments, field: str, good: float, unit: str, say: str
) -> bool:
    """Search the value of a field that just passes; ``{}`` in the words is the value."""
    now = arguments.get(field)
    if now is None or now == good:
        return False
    return trials.just_passing(
        lambda value: say.format(show(value, unit)),
        lambda value: (Put((field,), value),),
        now,
        good,
    )


def _larger(arguments: Arguments) -> Iterator[tuple[str, tuple[Put, ...]]]:
    """A larger relay of the same make: all of its currents in proportion."""
    for rating in RATINGS_A:
        if rating <= arguments["rating_a"]:
            continue
        factor = rating / arguments["rating_a"]
        puts = [Put(("rating_a",), rating)]
        if arguments.get("make_rating_a") is not None:
            puts.append(Put(("make_rating_a",), arguments["make_rating_a"] * factor))
        puts += [
            Put(("derating", index, "current_a"), point["current_a"] * factor)
            for index, point in enumerate(arguments["derating"])
        ]
        yield f"a relay of {rating:g} A, all its currents in proportion", tuple(puts)


def mend_contact(arguments: Arguments, _answer: RelayContact, trials: Trials) -> None:
    """Look for remedies of ``relay-contact``."""
    name = trials.decisive.name
    if name in {"steady current", "inrush"}:
        trials.first_that_cures(_larger(arguments), most=6)
    if name == "steady current":
        cooler_ambient(trials, arguments, "the relay", arguments["rating_ambient_c"])
    if name == "inrush" and arguments.get("inrush_current_a") is not None:
        say = "the first current held to {}"
        good = arguments["load_current_a"]
        _search(trials, arguments, "inrush_current_a", good, "A", say)
    if name == "rated voltage":
        volts = float(math.ceil(arguments["supply_v"]))
        puts = (Put(("rated_v",), volts),)
        trials.offer(f"a contact made to break {show(volts, 'V')} DC", puts)
    if name == "drop of the contact":
        ohm = sound_ohm("relay", arguments["load_current_a"])
        puts = (Put(("contact_resistance_ohm",), ohm),)
        trials.offer(f"a sound contact of {show(ohm, 'ohm')}", puts)
    if name != "rated voltage":
        say = "a load of {} at most on this contact"
        good = float(f"{0.05 * arguments['load_current_a']:.3g}")
        _search(trials, arguments, "load_current_a", good, "A", say)
