"""What voltage-drop asks for, and how long its current flows."""

from collections.abc import Sequence
from typing import ClassVar

from lastvolt_service.fields import ABSENT, Groups, changed, many, quantity
from lastvolt_service.laws import is_recording, published
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT, STARTER_CONTROL
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.wires.fields import DropLimit
from lastvolt_service.operations.wires.path_parts import SEGMENTS, Segment
from lastvolt_service.rows import Flags, Numbers, are, given, negate, pick
from lastvolt_service.tables.limits import MOMENT_S
from lastvolt_service.tables.load_profiles import LoadProfile, load_profiles


class VoltageDropRequest(DropLimit):
    """A load at the end of a series path, out and back."""

    exactly_one_of: ClassVar[Groups] = (("load_current_a", "load_resistance_ohm", "load_power_w"),)

    load_current_a: Numbers = quantity(
        "load that takes this current at any voltage", default=ABSENT
    )
    load_resistance_ohm: Numbers = quantity(
        "load that keeps this resistance", minimum=1e-4, default=ABSENT
    )
    load_power_w: Numbers = quantity("load that takes this power at any voltage", default=ABSENT)
    duration_s: Numbers = quantity(
        "how long the current flows, from wires at their ambient; by default as long as a key is "
        "held in the circuits of a starter, else without end",
        minimum=1e-2,
        maximum=86400.0,
        default=ABSENT,
    )
    segments: Sequence[Segment] = many(
        SEGMENTS,
        "parts that the current runs through, out and back, in order; the load is not one of them",
        made=Segment,
    )

    example: ClassVar = {
        "supply_v": 12.2,
        "load_resistance_ohm": 1.25,
        "circuit": "starter_control",
        "segments": [
            {
                "name": "battery lead to switch",
                "kind": "wire",
                "size": "12 AWG",
                "length_m": 6.5,
                "temperature_c": 40,
            },
            {
                "name": "key switch",
                "kind": "contact",
                "part": "switch",
                "resistance_ohm": 0.06,
                "rating_a": 15,
            },
            {
                "name": "switch to solenoid",
                "kind": "wire",
                "size": "14 AWG",
                "length_m": 7.5,
                "temperature_c": 60,
            },
            {"name": "engine ground", "kind": "contact", "part": "ground", "resistance_ohm": 0.004},
        ],
    }


def for_a_time(asked: VoltageDropRequest) -> VoltageDropRequest:
    """Say how long the current flows where the kind of circuit tells it."""
    usual = look_up(_profile_at, circuit=asked.circuit)
    usual_s = usual.numbers(lambda profile: profile.on_time_s)
    if is_recording() and given(usual_s):
        cited = usual.basis(lambda profile: (profile.citation,))[0]
        usual_s = published("duration_s", usual_s, "how long the current flows", cited)
    return changed(asked, duration_s=pick(given(asked.duration_s), asked.duration_s, usual_s))


def _profile_at(circuit: str | None) -> LoadProfile | None:
    profile = OF_CIRCUIT.get(circuit or "")
    return None if profile is None else load_profiles()[profile]


def flows_for_a_moment(own_s: Numbers, asked: VoltageDropRequest, load_v: Numbers) -> Flags:
    """Whether the current flows while a plunger moves only; `own_s` is the caller's time. [s]."""
    moves = are(asked.circuit, STARTER_CONTROL) & negate(load_v < asked.needed_v)
    found: Flags = pick(given(own_s), own_s < MOMENT_S, moves)
    return found
