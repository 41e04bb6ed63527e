"""What reaches a load within all that is guessed of its circuit, and which guess matters most."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.operations.circuits.assembly import rest_all
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.intervals import Pins, Spread, study
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.decision.remedy_choice import RemedyChoiceRequest
from lastvolt_service.rows import optional

VOLTS, MARGIN, NEEDED, POSTS = "volts", "margin", "needed", "posts"
LOST, ACROSS = "lost", "across"
Key = tuple[str, str, str]  # which voltage, in which case, across which part


@dataclass(frozen=True, slots=True)
class Within:
    """A voltage within all that is guessed."""

    low_v: Annotated[float, "the least"]
    high_v: Annotated[float, "the most"]


@dataclass(frozen=True, slots=True)
class Studied:
    """The voltages of a circuit within all of its bounds.

    Attributes
    ----------
    spreads : dict to Spread
        By voltage, case and part. [V]
    effects : dict to dict of path to float
        What each interval does to what the load has to spare, by case. [V]
    cases : tuple of str
        In order.
    """

    spreads: dict[Key, Spread]
    effects: dict[str, dict[Path, float]]
    cases: tuple[str, ...]

    @property
    def poorest(self) -> str:
        """The case in which the load has the least to spare for what it needs."""
        return min(
            self.cases,
            key=lambda case: (
                self.spreads[VOLTS, case, ""].nominal / self.spreads[NEEDED, case, ""].nominal
            ),
        )

    def spread(self, what: str, case: str, part: str = "") -> Spread:
        """What a voltage does. [V]."""
        return self.spreads[what, case, part]


def studied(asked: RemedyChoiceRequest) -> Studied:
    """Solve the circuit as it is at the ends of all that is guessed.

    Raises
    ------
    CalculationError
        If it has no state of rest.
    """
    asked = with_usual_starts(asked)
    pins = Pins((asked.circuit, asked.cases))
    contacts = [each.name for each in asked.circuit.branches if isinstance(each, CircuitContact)]

    def outputs(points: Sequence[tuple[float, ...]]) -> list[dict[Key, float] | CalculationError]:
        here = [pins.put(iter(point)) for point in points]
        states = rest_all([(circuit, case) for circuit, cases in here for case in cases])
        count, found = len(asked.cases), []
        for at in range(0, len(states), count):
            told: dict[Key, float] = {}
            wrong = None
            for state, case in zip(states[at : at + count], asked.cases, strict=True):
                if isinstance(state, CalculationError):
                    wrong = state
                    break
                (load,) = load_states(state)
                model = state.model
                volts, needed_v = load.voltage_v, optional(load.needed_v)
                told[VOLTS, case.name, ""] = volts
                told[NEEDED, case.name, ""] = needed_v
                told[MARGIN, case.name, ""] = volts - needed_v
                posts_v = abs(model.emf_v) - abs(load.current_a) * model.internal_ohm
                told[POSTS, case.name, ""] = posts_v
                told[LOST, case.name, ""] = posts_v - volts
                for name in contacts:
                    told[ACROSS, case.name, name] = abs(state.across_v(name))
            found.append(wrong if wrong is not None else told)
        return found

    found = study([each for _, each in pins.given], outputs)
    paths = [_of_request(path) for path, _ in pins.given]
    names = tuple(case.name for case in asked.cases)
    effects = {
        name: dict(zip(paths, found.effects[MARGIN, name, ""], strict=True)) for name in names
    }
    return Studied(dict(found.spreads), effects, names)


def _of_request(path: Path) -> Path:
    return (("circuit", "cases")[int(path[0])], *path[1:])
