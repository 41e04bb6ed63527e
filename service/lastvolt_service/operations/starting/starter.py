"""A starter in a circuit: its solenoid's two windings, its main contact and its motor."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from lastvolt_service.errors import Path
from lastvolt_service.fields import ABSENT, Broken, Fields, known, many, part, quantity
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.cases import Cases
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.circuits.fields import MAX_BRANCHES, Circuit
from lastvolt_service.operations.circuits.intervals import intervals
from lastvolt_service.operations.circuits.loads import LOADS, AnyLoad, MotorLoad, ResistanceLoad
from lastvolt_service.operations.circuits.parts import BRANCHES, ZONE, CircuitContact
from lastvolt_service.operations.circuits.work import BOUND_OF_STARTS
from lastvolt_service.operations.common_fields import MAX_SUPPLY_V, NO_SUCH_CONTACT, named_there
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.wires.conductors import copper_changes

PULL_IN, HOLD_IN, MAIN, MOTOR = "pull-in winding", "hold-in winding", "main contact", "motor"


class StartCircuit(Circuit):
    """The circuit round a starter, as it lies in the vehicle, without the starter itself."""

    loads: Sequence[AnyLoad] = many(
        LOADS, "what else is fed", minimum=0, optional=True, maximum=MAX_BRANCHES
    )

    def open_ends(self) -> Iterator[tuple[Path, str, str]]:
        """None: the starter is at some of its nodes."""
        return iter(())


class StarterMotor(Fields):
    """A starter's main contact and motor."""

    stud_node: str = label("node at terminal 30, the end of the heavy cable")
    contact_resistance_ohm: float = quantity("of the closed main contact", maximum=1.0)
    motor_resistance_ohm: float = quantity(
        "of the motor at a stand, with its brushes: worn ones stop the pull-in winding, too",
        minimum=1e-4,
        maximum=1e3,
    )
    back_v: float = quantity(
        "voltage that the motor makes while it cranks, 0 for one that stands; without it how it "
        "cranks is not judged",
        maximum=MAX_SUPPLY_V,
        default=ABSENT,
    )
    needed_v: float = quantity(
        "at the motor, to crank fast enough", minimum=0.1, maximum=MAX_SUPPLY_V, default=ABSENT
    )


class Starter(StarterMotor):
    """A starter: terminal 50 feeds both windings, and the plunger closes 30 on the motor."""

    name: str = label("what the answer calls it")
    zone: str | None = label(ZONE, default=ABSENT)
    control_node: str = label("node at terminal 50")
    ground_node: str = label("node at its housing")
    pull_in_turns: float = quantity("turns of the pull-in winding")
    pull_in_resistance_ohm: float = quantity(
        "of the pull-in winding, which returns through the motor", minimum=1e-3
    )
    hold_in_turns: float = quantity("turns of the hold-in winding")
    hold_in_resistance_ohm: float = quantity(
        "of the hold-in winding, which goes to the housing", minimum=1e-3
    )
    ampere_turns: float = quantity("of both windings together at which the plunger moves")
    hold_ampere_turns: float = quantity("that keep the closed plunger", default=ABSENT)
    reference_temperature_c: float = quantity("temperature of these resistances", default=20.0)

    def called(self, part_of_it: str) -> str:
        """Name of a part of it, among those of the circuit."""
        return f"{self.name} [{part_of_it}]"

    @property
    def nodes(self) -> frozenset[str]:
        """Those of the circuit that it is at."""
        return frozenset({self.control_node, self.stud_node, self.ground_node})

    @property
    def turning_v(self) -> float:
        """What the motor makes, as far as that is known: none by one that stands. [V]."""
        return self.back_v if known(self.back_v) else 0.0

    @property
    def motor_node(self) -> str:
        """Node between main contact, pull-in winding and motor."""
        return self.called("motor terminal")


class StartSequenceRequest(Cases):
    """A starter in its circuit, and the key that switches it."""

    bound: ClassVar[str] = BOUND_OF_STARTS

    circuit: StartCircuit = part(StartCircuit, "the network round the starter")
    starter: Starter = part(Starter, "the starter")
    key: str = label("the contact that opens when the key is let go")

    example: ClassVar = {
        "circuit": {
            "source": CircuitCheckRequest.example["circuit"]["source"],
            "branches": [
                *CircuitCheckRequest.example["circuit"]["branches"],
                {
                    "name": "main cable",
                    "kind": "wire",
                    "nodes": ["battery post", "starter stud"],
                    "size": "1/0 AWG",
                    "length_m": 1.4,
                    "insulation": "SGX",
                    "zone": "engine bay",
                },
            ],
        },
        "starter": {
            "name": "starter",
            "zone": "starter",
            "control_node": "terminal 50",
            "stud_node": "starter stud",
            "ground_node": "engine block",
            "pull_in_turns": 190,
            "pull_in_resistance_ohm": 0.55,
            "hold_in_turns": 190,
            "hold_in_resistance_ohm": 1.5,
            "ampere_turns": 3200,
            "hold_ampere_turns": 480,
            "contact_resistance_ohm": 0.0004,
            "motor_resistance_ohm": 0.02,
            "back_v": 5,
            "needed_v": 8,
        },
        "key": "key switch",
        "cases": CircuitCheckRequest.example["cases"],
    }

    @property
    def depends_on_nominal(self) -> bool:
        """The drop of the motor's cables is held against a limit of its system."""
        return True

    def broken_rules(self) -> Iterator[Broken]:
        """As for any cases; and the starter and its key are in the circuit."""
        yield from super().broken_rules()
        for path, _ in intervals(self):
            yield True, path, "Give one number: a start is reckoned in none of its bounds."
        nodes = self.circuit.node_names()
        for field in ("control_node", "stud_node", "ground_node"):
            node, path = getattr(self.starter, field), ("starter", field)
            yield named_there(node, nodes, path, "The circuit has no such node")
        contacts = {each.name for each in self.circuit.branches if isinstance(each, CircuitContact)}
        yield named_there(self.key, contacts, ("key",), NO_SUCH_CONTACT)
        for index, case in enumerate(self.cases):
            for place, name in enumerate(case.without):
                path = ("cases", index, "without", place)
                yield name == self.key, path, "The key must be there in every case."
            for place in range(len(case.held)):
                path = ("cases", index, "held", place)
                yield True, path, "A start begins with nothing held: leave it out."


def with_starter(asked: StartSequenceRequest, *, back_v: float) -> Circuit:
    """Put the starter into its circuit."""
    starter, circuit = asked.starter, asked.circuit
    to_20_c = float(copper_changes(20.0, starter.reference_temperature_c))
    control, motor, ground = starter.control_node, starter.motor_node, starter.ground_node
    windings = [
        ResistanceLoad(
            name=starter.called(name),
            kind="resistance",
            zone=starter.zone,
            nodes=nodes,
            resistance_ohm=ohm * to_20_c,
            copper=True,
        )
        for name, nodes, ohm in (
            (PULL_IN, [control, motor], starter.pull_in_resistance_ohm),
            (HOLD_IN, [control, ground], starter.hold_in_resistance_ohm),
        )
    ]
    turning = MotorLoad(
        name=starter.called(MOTOR),
        kind="motor",
        circuit=STARTER_MOTOR,
        needed_v=starter.needed_v,
        nodes=[motor, ground],
        resistance_ohm=starter.motor_resistance_ohm,
        back_v=back_v,
    )
    main = BRANCHES["contact"](
        name=starter.called(MAIN),
        kind="contact",
        part="relay",
        nodes=[starter.stud_node, motor],
        resistance_ohm=starter.contact_resistance_ohm,
    )
    given = vars(circuit)
    return Circuit(
        **{
            **given,
            "branches": [*circuit.branches, main],
            "loads": [*circuit.loads, *windings, turning],
        }
    )
