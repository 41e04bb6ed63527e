"""What is wrong with the battery by readings: by itself, or by what its posts keep at a current."""

from collections.abc import Iterator

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.judge import NAME as CIRCUIT_CHECK
from lastvolt_service.operations.circuits.source_checks import OF_SOURCES, source_checks
from lastvolt_service.operations.common_fields import between_systems
from lastvolt_service.operations.judging import FAIL, MARGINAL
from lastvolt_service.operations.meter.checks import UNLESS_CRANKING, judge_supply_voltage
from lastvolt_service.operations.meter.fit_outputs import across
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_told import bounds, sentence
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.words import catalogue
from lastvolt_service.words.amounts import amount


def poor_battery(asked: CircuitFitRequest, solved: Solved) -> str | None:
    """Say what is wrong with the battery whatever is left open; None for nothing."""
    return _by_itself(asked, solved) or next(_at_its_posts(asked, solved), None)


def _by_itself(asked: CircuitFitRequest, solved: Solved) -> str | None:
    """What circuit-check says of a battery that is poor whatever of it is left open."""
    model = solved.problem.model
    own = [
        place for place, each in enumerate(model.unknowns) if each.path[:2] == ("circuit", "source")
    ]
    ends = {place: bounds(model.unknowns[place], solved) for place in own}
    points = [solved.point]
    for low in (True, False):
        point = solved.point.copy()
        for place, each in ends.items():
            # The strongest is of most volts and least ohms.
            is_ohm = model.unknowns[place].unit == "ohm"
            point[place] = each.low if low != is_ohm else each.high
        points.append(point)
    words = catalogue()[CIRCUIT_CHECK]
    for place in sorted(solved.problem.cases):
        failed = [_failing(asked, solved, place, point) for point in points]
        shared = [code for code in OF_SOURCES if all(code in each for each in failed)]
        if shared:
            return failed[0][shared[0]].told(words).message
    return None


def _failing(
    asked: CircuitFitRequest, solved: Solved, place: int, point: FloatArray
) -> dict[str, Checked]:
    """Checks of the battery that fail, by code."""
    model = solved.problem.model
    circuit, case = model.pins[place].put([float(point[k]) for k in model.of_case[place]])
    try:
        state = rest(circuit, case)
    except CalculationError:
        return {}
    nominal = nominal_of(state.model.emf_v, asked.sure_v)
    checks = source_checks(circuit, case, state, float(nominal), asked.sure_v)
    return {check.code: check for check in checks if check.verdict == "fail"}


def _at_its_posts(asked: CircuitFitRequest, solved: Solved) -> Iterator[str]:
    """Cases in which its posts keep less than those of a flat one, as drop-diagnosis has it.

    Volts under a load tell that, whether it has too few volts or too many ohms.
    """
    model = solved.problem.model
    source = model.circuit.source
    posts = source.plus, source.minus or model.circuit.ground_node
    for place in sorted(solved.problem.cases):
        here = model.here(place, solved.point)
        emf_v, load = here.state.model.emf_v, here.state.named(asked.load)
        if load is None or (not known(asked.sure_v) and between_systems(emf_v)):
            continue
        at = [across(here.state.model, *posts)]
        volts = abs(float(here.told(at)[0]))
        most_v = volts + COVERAGE_FACTOR * solved.of(here.slopes(at)[0])
        amps = max(float(here.state.flow("sources").current_a[0]), 0.0)
        nominal_v = float(nominal_of(emf_v, asked.sure_v))
        found = judge_supply_voltage(most_v, nominal_v, amps, load.asked.circuit or "")
        if found.judged.verdict in {FAIL, MARGINAL}:
            code = "keeps_little" if found.judged.verdict == FAIL else "keeps_rather_little"
            yield sentence(
                "unless_cranking" if found.detail == UNLESS_CRANKING else code,
                volts=amount(volts, "V"),
                amps=amount(amps, "A"),
                most=amount(float(found.judged.limit), "V"),
                case=model.cases[place].name,
            )
