"""The question that a quick answer asks of remedy-choice, with the relay that would help."""

from lastvolt_service.fields import changed, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.decision.choice_wires import greediest
from lastvolt_service.operations.decision.given_ways import GivenWay
from lastvolt_service.operations.decision.quick_circuit import (
    NEAR,
    RETURN,
    ZONE_OF_RELAY,
    Guessed,
    current_a,
    guessed,
    source_node,
    standard,
    usual_sizes,
)
from lastvolt_service.operations.decision.quick_request import ONE_FOR_EACH, QuickAnswerRequest
from lastvolt_service.operations.decision.remedy_choice import RemedyChoiceRequest
from lastvolt_service.operations.decision.usual_relay import usual_relays, usual_way
from lastvolt_service.operations.remedies.options import RELAY_FEED_M
from lastvolt_service.units import high_end

# Less than so much any switch carries, and a coil would take up to a tenth of it: new wire is
# plainer than a relay. Common practice. [A]
WORTH_A = 3.0


class FullQuestion(RemedyChoiceRequest):
    """A request of remedy-choice, made up."""


def full_request(asked: QuickAnswerRequest, found: Guessed) -> FullQuestion:
    """Ask remedy-choice about it, with the relay that would help."""
    way = _way(asked, found.circuit, all_cases(asked))
    alone = as_it_is(asked, found)
    return changed(alone, ways=[way]) if way else alone


def all_cases(asked: QuickAnswerRequest) -> list[Case]:
    """What new parts must stand, whenever it fails: frost, heat, and a usual day."""
    (size, *_) = (sizes := usual_sizes(asked)).names
    return guessed(changed(asked, fails=None), size, sizes).cases


def as_it_is(asked: QuickAnswerRequest, found: Guessed) -> FullQuestion:
    """Ask about what is there alone."""
    switch = asked.usual.switch
    return with_defaults(
        FullQuestion,
        circuit=found.circuit,
        cases=found.cases,
        nominal_v=asked.system_v,
        load=found.circuit.loads[0].name,
        switch=switch,
        ways=[],
        not_to_be_had=[] if asked.switch_to_be_had else [switch],
    )


def _way(asked: QuickAnswerRequest, circuit: Circuit, cases: list[Case]) -> GivenWay | None:
    """A relay of the trade for the most that may flow; None where none does."""
    told, amps = asked.usual, high_end(current_a(asked))
    if amps < WORTH_A and asked.switch_to_be_had:
        return None
    zone = ZONE_OF_RELAY.get(asked.place, NEAR)
    hottest_c = max(high_end(each.ambient_of(zone)) for each in cases)
    fitting = usual_relays(asked.system_v, amps * told.lasting_share, amps, hottest_c)
    if not fitting:
        return None
    circuit, cases = greediest(circuit, cases)
    solenoid = told.kind == "solenoid"
    # The heavy cable of a battery ends at the starter; to others the feed comes from the battery.
    feed_m = RELAY_FEED_M if solenoid else max(asked.distance_m - RELAY_FEED_M, RELAY_FEED_M)
    return usual_way(
        circuit,
        cases,
        circuit.loads[0].name,
        told.switch,
        nominal_v=asked.system_v,
        fitting=fitting,
        feed_node=source_node(asked),
        zone=zone,
        lengths_m=(feed_m, RELAY_FEED_M),
        load_kind=told.relay_load_kind,
        standard=standard(asked),
        back=None if solenoid or asked.return_path != "wire" else RETURN,
        one_for_each=ONE_FOR_EACH.get(asked.load),
        lasting_a=amps * told.lasting_share,
    )
