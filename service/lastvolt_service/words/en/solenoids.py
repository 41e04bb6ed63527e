"""What is said of solenoids."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When
from lastvolt_service.words.en.paths import SOURCE_VOLTAGE, SUPPLY_OF_SOLENOID

# Before a terminal whose voltage is known there may be any path: what names supply_v is left out.
_PATH = "From {supply_v} the path may have up to {maximum_path_resistance_ohm:down}."
_HEAT = When(
    "cooling_can_help", True, "It would pull in with windings up to {maximum_temperature_c:down}."
)
_BRUSHES = (
    "Its pull-in winding returns through the motor, which has {windings.motor_resistance_ohm}: "
    "look at the brushes."
)
_WEIGHED = Weigh(
    "available_v",
    "hot_pull_in_v",
    enough="With its windings at {temperature_c} the solenoid pulls in: it needs {hot_pull_in_v} "
    "and {available_v} arrive, {apart} to spare.",
    short="With its windings at {temperature_c} the solenoid will not pull in: it needs "
    "{hot_pull_in_v} and {available_v} arrive, {apart} short.",
)
_POST = (
    "Measure at the battery's posts at the same moment: if they have much more, the path between "
    "is at fault, key switch and harness first (drop-diagnosis finds where); if not, charge and "
    "test the battery; and if that is sound, the solenoid is made for a higher voltage."
)
_MEND = (
    When(
        "path_can_help",
        True,
        (
            _PATH + " Lower the path's resistance.",
            When(
                "battery_can_help",
                True,
                "A full battery would pull it in through this path, too: test its charge.",
            ),
        ),
    ),
    When(
        "path_can_help",
        False,
        (
            When(
                "cooling_can_help",
                True,
                "From {supply_v} no path helps: charge and test the battery, or let the solenoid "
                "cool.",
            ),
            When(
                "cooling_can_help",
                False,
                "From {supply_v} no path helps: charge and test the battery first.",
            ),
        ),
    ),
    When(
        "supply_v",
        None,
        (
            When("path_can_help", True, _POST),
            When(
                "path_can_help",
                False,
                "No path helps, its heat is the fault: let it cool, shield it from what heats it, "
                "or take one that bears more.",
            ),
        ),
    ),
)
_REGULATOR = "No system has such a voltage: mend the regulator, the solenoid is not at fault."
_HOLD_IN_OPEN = (
    "Its hold-in winding is as good as open, or its pull-in winding shorted: replace the solenoid."
)
_PULL_IN_OPEN = (
    "Its pull-in winding is as good as open, or its hold-in winding shorted: replace the solenoid."
)
_HOLD_IN_DATA = (
    "What keeps it closed is more than what moves it: ampere-turns, turns or resistance of the "
    "hold-in winding do not fit; check what was given."
)
_PLATE = "Look at its plate: if it is made for a lower voltage, its windings burn."
_FOR_MORE = "It is made for a higher voltage, or the supply is at fault."

SOLENOID_PULL_IN = OperationWords(
    headline=(
        When("fault", None, (_WEIGHED,)),
        When("fault", "overcharged", (_REGULATOR, _WEIGHED)),
        When("fault", "for_less", "This solenoid is made for a lower voltage: take another."),
        When("fault", "for_more", "Even cold this solenoid would not pull in. " + _FOR_MORE),
        When("fault", "brushes", ("This solenoid will not pull in.", _BRUSHES)),
        When("fault", "pull_in_open", ("This solenoid will not pull in.", _PULL_IN_OPEN)),
        When("fault", "hold_in_open", (_WEIGHED, _HOLD_IN_OPEN)),
        When("fault", "hold_in_data", (_WEIGHED, _HOLD_IN_DATA)),
        When("fault", "perhaps_for_less", (_WEIGHED, _PLATE)),
    ),
    facts=(
        (_PATH, _HEAT),
        "Once closed it holds down to {hot_hold_in_v}; the dip reaches {dip_v}.",
    ),
    told=("pull_in", "hold_in"),
    about=(
        "pull_in",
        "made_for",
        When("fault", "overcharged", "source_voltage"),
        When("fault", "hold_in_open", "hold_in"),
        When("fault", "hold_in_data", "hold_in"),
    ),
    checks={
        "pull_in": CheckWords(
            name="pull-in",
            passes=(
                "The solenoid pulls in with its windings at {temperature_c}: {value} arrive and "
                "it needs {limit}.",
                _PATH,
                _HEAT,
            ),
            fails=(
                "The solenoid will not pull in with its windings at {temperature_c}: it needs "
                "{limit} and only {value} arrive, {apart} short.",
                _HEAT,
                When("fault", "for_more", _FOR_MORE),
                When("fault", "brushes", _BRUSHES),
                When("fault", None, _MEND),
                When("fault", "overcharged", _MEND),
                *(
                    When("fault", each, _MEND)
                    for each in ("hold_in_open", "hold_in_data", "perhaps_for_less")
                ),
                When("fault", "pull_in_open", _PULL_IN_OPEN),
            ),
        ),
        "supply": SUPPLY_OF_SOLENOID,
        "source_voltage": SOURCE_VOLTAGE,
        "made_for": CheckWords(
            name="solenoid for this voltage",
            passes="",
            fails="It pulls in at {value} cold already, and one for this voltage not below "
            "{limit}: it is made for a lower one, and its windings burn. Take another.",
            marginal="It pulls in at {value} cold already, and one for this voltage hardly below "
            "{limit}. " + _PLATE,
        ),
        "hold_in": CheckWords(
            name="hold-in",
            passes="Once closed it holds down to {limit}; the dip reaches {value}.",
            fails=(
                "Once closed it needs {limit} to hold and the dip reaches {value}: it will let go "
                "and chatter.",
                When("fault", "hold_in_open", _HOLD_IN_OPEN),
                When("fault", "hold_in_data", _HOLD_IN_DATA),
            ),
            unknown=(
                When("dip_v", None, "Give dip_v to judge holding."),
                When("hot_hold_in_v", None, "Give what keeps the plunger closed to judge holding."),
            ),
        ),
    },
    remedies={
        "regulator": "the regulator mended, so that the supply has {new:down} at most",
        "dip_v": "a feed that sags to {new:up} at most",
        "relay": "a relay beside the solenoid, fed from the heavy cable there through a fuse of "
        "its own at the tap, its contact the whole path: {new}",
        "path_resistance_ohm": "a path of {new:down} at most",
        "temperature_c": "the windings at {new:down} at most: shielded from the exhaust, or left "
        "to cool",
        "supply_v": "{new:up} at the start of the path",
        "available_v": "{new:up} at the terminal",
    },
)

WORDS = {"solenoid-pull-in": SOLENOID_PULL_IN}
