"""Remedies for relays and solenoids."""

import math
from collections.abc import Iterator

from lastvolt_service.operations.relay_coil import RelayCoil
from lastvolt_service.operations.relay_contact import RelayContact
from lastvolt_service.operations.remedies.options import cooler_ambient, sound_ohm
from lastvolt_service.operations.remedies.trials import Arguments, Put, Trials
from lastvolt_service.operations.results import show
from lastvolt_service.operations.solenoid_pull_in import SolenoidPullIn

LEAST_AMBIENT_C = 20.0
HIGHEST_V = 60.0
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


def mend_coil(arguments: Arguments, _answer: RelayCoil, trials: Trials) -> None:
    """Look for remedies of ``relay-coil``."""
    name = trials.decisive.name
    if name.startswith("pick-up"):
        most = min(HIGHEST_V, 2.0 * arguments["nominal_v"])
        say = "the coil's feed mended, so that {} reach it"
        _search(trials, arguments, "available_v", most, "V", say)
        least = max(arguments.get("drop_out_v") or 0.1, 0.1) * 1.01
        _search(trials, arguments, "pick_up_v", least, "V", "a relay that closes at {}")
    if name == "hold in a dip":
        most = min(HIGHEST_V, 2.0 * arguments["nominal_v"])
        say = "the coil fed from a point that sags to {} at most"
        _search(trials, arguments, "dip_v", most, "V", say)
        _search(trials, arguments, "drop_out_v", 0.01, "V", "a relay that holds down to {}")
    if name == "continuous voltage":
        most = 10.0 * arguments["coil_resistance_ohm"]
        say = "a coil of {}, with the same pick-up voltage"
        _search(trials, arguments, "coil_resistance_ohm", most, "ohm", say)
    if name == "switch-off peak":
        trials.offer(
            "a diode across the coil",
            (
                Put(("suppression", "kind"), "diode"),
                Put(("suppression", "resistance_ohm"), None),
                Put(("suppression", "zener_v"), None),
            ),
        )
        suppression = arguments["suppression"]
        for field, unit in (("resistance_ohm", "ohm"), ("zener_v", "V")):
            if field in suppression:
                trials.just_passing(
                    lambda value, unit=unit, kind=suppression["kind"]: (  # type: ignore[misc]  # bound now
                        f"a {kind} of {show(value, unit)}"
                    ),
                    lambda value, field=field: (Put(("suppression", field), value),),  # type: ignore[misc]  # bound now
                    suppression[field],
                    1.0,
                )
    else:
        cooler_ambient(trials, arguments, "the relay", LEAST_AMBIENT_C)


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


def mend_solenoid(arguments: Arguments, answer: SolenoidPullIn, trials: Trials) -> None:
    """Look for remedies of ``solenoid-pull-in``."""
    if trials.decisive.name == "hold-in":
        say = "a feed that sags to {} at most"
        _search(trials, arguments, "dip_v", 60.0, "V", say)
        return
    path, current = arguments.get("path_resistance_ohm"), answer.pull_in_current_a
    if path is not None and current is not None:
        ohm = sound_ohm("relay", current)
        if ohm < path:
            puts = (Put(("path_resistance_ohm",), ohm),)
            say = f"a relay beside the solenoid, its contact the whole path: {show(ohm, 'ohm')}"
            trials.offer(say, puts)
        _search(trials, arguments, "path_resistance_ohm", 0.0, "ohm", "a path of {} at most")
    say = "the windings at {} at most: shielded from the exhaust, or left to cool"
    _search(trials, arguments, "temperature_c", LEAST_AMBIENT_C, "degC", say)
    for field in ("supply_v", "available_v"):
        if arguments.get(field) is not None:
            most = min(HIGHEST_V, 3.0 * arguments[field])
            what = "at the start of the path" if field == "supply_v" else "at the terminal"
            _search(trials, arguments, field, most, "V", f"{{}} {what}")
