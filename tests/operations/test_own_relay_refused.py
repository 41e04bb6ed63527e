"""A relay proposed for a load that a relay feeds already: all that ask say what is the matter.

From the trade: the switch of such a load carries its relay's coil, a tenth of an ampere. A second
relay spares it nothing; what is poor is the relay, its feed, or the way to the load.
"""

from typing import Any

import pytest

from lastvolt_service.api.problems import Refused

from .circuit_parts import SOURCE, contact, load
from .retrofit_circuits import RELAYS, wire

OWN = {"name": "pump relay", "contact_nodes": ["fused", "pump"], "coil_nodes": ["86", "ground"],
       "nominal_v": 12, "contact_resistance_ohm": 0.005, **RELAYS[12]}  # fmt: skip
PROPOSED = {
    "relay": {"name": "new relay", "nominal_v": 12, "contact_resistance_ohm": 0.005,
              "rating_a": 30, **RELAYS[12]},
    "feed_node": "post", "feed": [wire("new feed", "12 AWG", 1)], "fuse": "none",
}  # fmt: skip
READ = {"case": "on", "between": ["pump", "ground"], "value_v": 11.0}
ASKING: dict[str, dict[str, Any]] = {
    "relay-retrofit": {"proposal": PROPOSED},
    "remedy-choice": {"ways": [{"name": "a relay", "relay": PROPOSED}]},
    "gain-proof": {
        "way": {"name": "a relay", "relay": PROPOSED}, "before": [READ], "after": [READ]
    },
    "meter-plan": {"way": PROPOSED},
}  # fmt: skip


def question(switch: str, *more: dict[str, Any]) -> dict[str, Any]:
    return {
        "circuit": {
            "source": SOURCE,
            "branches": [
                contact("fuse", "post", "fused", 0.003, "fuse", rating_a=15),
                contact("switch", "post", "86", 0.01, "switch", rating_a=10),
                *more,
            ],
            "relays": [OWN],
            "loads": [load("pump", "pump", "ground", resistance_ohm=2) | {"needed_v": 10.5},
                      load("lamp", "lamp", "ground", resistance_ohm=6) | {"needed_v": 10.5}],
        },
        "cases": [{"name": "on"}], "load": "pump", "switch": switch,
    }  # fmt: skip


@pytest.mark.parametrize("operation", ASKING)
def test_a_second_relay_for_a_load_is_refused_by_the_name_of_the_first(run, operation) -> None:
    lamp = contact("lamp switch", "post", "lamp", 0.01, "switch", rating_a=10)
    with pytest.raises(Refused, match=r"pump relay feeds this load already.*remedy-choice"):
        run(operation, **question("switch", lamp), **ASKING[operation])
    # The switch of something else is no switch of this load, by whatever feeds it.
    with pytest.raises(Refused, match="No current of the load runs through this contact"):
        run(operation, **question("lamp switch", lamp), **ASKING[operation])


def test_without_a_relay_such_a_load_is_judged(run) -> None:
    """What the refusal asks for is to be had."""
    lamp = contact("lamp switch", "post", "lamp", 0.01, "switch", rating_a=10)
    answer = run("remedy-choice", **question("switch", lamp))
    assert answer.advice == "nothing_needed"
