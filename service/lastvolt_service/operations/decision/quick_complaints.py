"""What is looked at first where a load fails in a way that volts at it tell little of."""

from collections.abc import Iterator

from lastvolt_service.operations.decision.quick_plan import Reading
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.decision.quick_step import QuickStep, told_step
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR, STARTER_SOLENOID
from lastvolt_service.tables.limits import drop_limits
from lastvolt_service.tables.usual import OF_V

# What is said, by complaint; of a load with words of its own, by both.
SAID = {
    "sometimes": "comes_and_goes",
    "blows_fuse": "fuse_blows",
    "gets_hot": "part_gets_hot",
    "turns_slowly": "starter_is_slow",
    "not_charged": "battery_not_charged",
}
_TURNS = ("fan", "blower", "pump", "wipers", "power_window", "air_horns")
# The fuse of a starter is tried with the key held: on alone feeds nothing there.
OF_LOADS = {
    (STARTER_SOLENOID, "sometimes"): "starter_comes_and_goes",
    (STARTER_SOLENOID, "blows_fuse"): "starter_fuse_blows",
    (STARTER_SOLENOID, "gets_hot"): "starter_gets_hot",
    ("headlamps", "blows_fuse"): "lamps_blow_fuse",
    ("glow_plugs", "blows_fuse"): "glow_plugs_blow_fuse",
    ("glow_plugs", "gets_hot"): "glow_plugs_get_hot",
    ("winch", "blows_fuse"): "winch_blows_fuse",
    ("winch", "gets_hot"): "winch_gets_hot",
    **{(load, "blows_fuse"): "motor_blows_fuse" for load in _TURNS},
}
# Of the nominal voltage the least that a sound battery keeps while it cranks, and by how much a
# generator lifts 12 V. Common practice.
CRANKING_SHARE, CHARGES_V = 0.8, 1.0


def look_first(asked: QuickAnswerRequest, reading: Reading) -> Iterator[QuickStep]:
    """Say what to look at; a switch that gets hot is spared by a relay, or by a contactor."""
    volts = asked.system_v
    values = {
        "most_a": reading.most_a,
        "cranking_v": CRANKING_SHARE * volts,
        "path_v": drop_limits()[STARTER_MOTOR, int(volts)].limit_v,
        "charges_v": CHARGES_V * volts / OF_V,
    }
    said = [OF_LOADS.get((asked.load, str(asked.fails)), SAID[str(asked.fails)])]
    spared = tuple(past_switch(reading)) if asked.fails == "gets_hot" else ()
    if spared and reading.worn_out is not None:
        said.append("hot_switch_stays")
    texts = {"switch": reading.worn_out}
    yield told_step("look_first", reading.load, None, values=values, said=said, texts=texts)
    yield from spared


def cold_starter(reading: Reading) -> QuickStep:
    """What makes a starter fail in the cold where its wiring is sound."""
    return told_step("look_first", reading.load, None, said=("starter_is_cold",))


def past_switch(reading: Reading) -> Iterator[QuickStep]:
    """Take the load off the switch, by a relay or a contactor."""
    if reading.relay is not None:
        yield reading.relay.step(None, told="relay_to_spare")
    elif reading.wire is not None and not reading.wire.fits:
        yield reading.past_switch(reading.wire)
