"""The test with a jumper: whether the way to a starter's solenoid is at fault, or the starter."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.fields import changed, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.parts import CircuitResistance
from lastvolt_service.operations.circuits.switching import switched_side
from lastvolt_service.operations.meter.plan_bands import Held, shown
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_stages import motors
from lastvolt_service.operations.meter.plan_told import sentence
from lastvolt_service.tables.fuses import fuse_families, fuses

# Two metres of 4 mm2 with its clips and its fuse. Common practice. [ohm]
JUMPER_OHM = 0.02


@dataclass(frozen=True, slots=True)
class JumperTest:
    """A fused jumper round the way to the solenoid, for as long as it takes to hear it."""

    start: Annotated[str, "node that it is clipped to first, its fuse there"]
    end: Annotated[str, "node of the solenoid that it is held to, the switch being open"]
    current_a: Annotated[float, "most that the solenoid takes through it, in any case"]
    fuse_a: Annotated[
        float | None, "least standard rating of a fuse that carries it; null above all of them"
    ]
    text: Annotated[str, "what to do"]
    if_it_cranks: Annotated[str, "what it means when the engine is cranked"]
    if_it_does_not: Annotated[str, "what it means when it is not"]
    again: Annotated[str, "when to do it once more"]


def jumper(asked: MeterPlanRequest, load: AnyLoad) -> JumperTest:
    """Plan the test: from the post that the switch keeps from the solenoid."""
    circuit, cases, switch = asked.circuit, asked.cases, asked.switch
    terminals = Sides(circuit).live_first(load.nodes)
    side = int(switched_side(circuit, load, switch) == "ground")
    start, end = circuit.posts[side], terminals[side]
    lead = with_defaults(
        CircuitResistance,
        name=_unused({each.name for each in circuit.parts}),
        kind="resistance",
        nodes=[start, end],
        resistance_ohm=JUMPER_OHM,
    )
    jumped = changed(circuit, branches=[*circuit.branches, lead])
    current_a = max(_most_a(jumped, case, load.name, switch) for case in cases)
    ratings = {each.rating_a for family in fuse_families() for each in fuses(family)}
    fuse_a = min((each for each in ratings if each >= current_a), default=None)
    return JumperTest(
        start,
        end,
        current_a,
        fuse_a,
        sentence("jumper", start=start, end=end, load=load.name, switch=switch,
                 current_a=current_a, fuse_a=fuse_a),
        sentence("jumper_cranks", load=load.name),
        sentence("jumper_does_not", load=load.name),
        sentence("jumper_again"),
    )  # fmt: skip


def _most_a(circuit: Circuit, case: Case, load: str, switch: str) -> float:
    # Both windings, before the motor pulls the battery down.
    off = [*case.without, switch, *motors(circuit, case)]
    opened = changed(case, without=off, held=[])
    found = shown(circuit, opened, {"load": Held(through=load)}).spreads["load"]
    return max(abs(found.low), abs(found.high))


def _unused(names: set[str]) -> str:
    name = "jumper"
    while name in names:
        name += "'"
    return name
