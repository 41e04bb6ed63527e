"""Random circuits: refused with a reason, or solved so that the circuit laws hold in the answer."""

from collections import defaultdict

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lastvolt_service.api.problems import MEDIA_TYPE
from lastvolt_service.tables.sizes import sizes

from ..cost import some

PATH = "/v1/circuit-check"
NODES = ("ground", "post", "a", "b", "c", "d")
# Of the largest current of a circuit; the solver works in doubles and ends its iterations at 1e-9.
CLOSE = 1e-6


def amounts(low, high, *usual):
    """Values of a field: the usual ones, its bounds, and any between; nothing or a billionth."""
    return st.sampled_from((low, *usual, high)) | st.floats(low or 1e-9, high)


PAIRS = st.lists(st.sampled_from(NODES), min_size=2, max_size=2, unique=True)
BRANCHES = st.one_of(
    st.fixed_dictionaries(
        {
            "kind": st.just("wire"),
            "nodes": PAIRS,
            "size": st.sampled_from((*sizes("AWG"), *sizes("SAE"), *sizes("IEC 60228"))),
            "length_m": amounts(0.0, 100.0, 1e-6, 0.5, 3.2, 11.0),
        },
        optional={"temperature_c": amounts(-40.0, 120.0)},
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("contact"),
            "nodes": PAIRS,
            "part": st.sampled_from(("switch", "connector", "fuse", "ground")),
            "resistance_ohm": amounts(0.0, 1e3, 1e-9, 0.001, 0.05),
        }
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("resistance"),
            "nodes": PAIRS,
            "resistance_ohm": amounts(0.0, 1e6, 1e-9, 0.1, 5.0),
        }
    ),
)
LOADS = st.one_of(
    st.fixed_dictionaries(
        {
            "kind": st.just("resistance"),
            "nodes": PAIRS,
            "resistance_ohm": amounts(1e-4, 1e6, 0.5, 6.0),
        }
    ),
    st.fixed_dictionaries(
        {"kind": st.just("current"), "nodes": PAIRS, "current_a": amounts(0.0, 1e4, 0.4, 20.0)}
    ),
    st.fixed_dictionaries(
        {"kind": st.just("power"), "nodes": PAIRS, "power_w": amounts(0.0, 1e5, 5.0, 60.0)}
    ),
)
RELAYS = st.fixed_dictionaries(
    {
        "coil_nodes": PAIRS,
        "contact_nodes": PAIRS,
        "coil_resistance_ohm": amounts(0.1, 1e4, 85.0),
        "pick_up_v": st.sampled_from((7.5, 8.4, 14.0)),
        "drop_out_v": st.sampled_from((1.2, 3.0, 7.0)),
        "contact_resistance_ohm": amounts(0.0, 1e3, 0.003),
    },
    optional={"break_nodes": PAIRS, "thermal_resistance_k_per_w": amounts(0.0, 200.0, 40.0)},
)


@st.composite
def circuits(draw, relays):
    """A circuit of few nodes, so that most of what is drawn hangs together."""
    groups = {
        "branches": draw(st.lists(BRANCHES, max_size=10)),
        "loads": draw(st.lists(LOADS, min_size=1, max_size=4)),
        "relays": draw(st.lists(RELAYS, max_size=relays)),
    }
    for group, parts in groups.items():
        for index, part in enumerate(parts):
            part["name"] = f"{group} {index}"
    source = {
        "plus": "post",
        "open_circuit_v": draw(amounts(1.0, 60.0, 6.3, 12.6, 25.2)),
        "internal_resistance_ohm": draw(amounts(0.0, 10.0, 0.006)),
    }
    return {"source": source, **groups}


def ask(client, circuit):
    """Post a circuit: the answer's only case, or None where it is refused in so many words."""
    found = client.post(PATH, json={"circuit": circuit, "cases": [{"name": "only"}]})
    answer = found.get_json()
    if found.status_code == 200:
        (case,) = answer["cases"]
        return case
    assert found.status_code == 422, (circuit, found.text[:500])
    assert found.content_type == MEDIA_TYPE
    assert answer["type"] != "/problems/out-of-range", circuit
    assert answer["detail"], circuit
    return None


def check_laws(circuit, case):
    """Kirchhoff's two laws and Ohm's, from what the answer says of nodes and parts alone."""
    volts = {node["name"]: node["voltage_v"] for node in case["nodes"]}
    found = {part["name"]: part for part in (*case["parts"], *case["loads"])}
    highest_v = max(map(abs, volts.values()))
    largest_a = max(
        abs(case["source_current_a"]), *(abs(part["current_a"]) for part in found.values())
    )
    into = defaultdict(float, {"post": case["source_current_a"]})
    off = {check["part"] for check in case["checks"] if check["code"] == "operating_point"}
    dark = {check["part"] for check in case["checks"] if check["code"] == "load_off"}
    for part in (*circuit["branches"], *circuit["loads"]):
        start, end = part["nodes"]
        told = found[part["name"]]
        across_v = told["drop_v"] if "drop_v" in told else told["voltage_v"]
        if "voltage_v" in told and across_v * (volts[start] - volts[end]) < 0:
            start, end = end, start  # a load given the other way round is the same load
        assert across_v == pytest.approx(volts[start] - volts[end], abs=CLOSE * highest_v + 1e-9)
        if "resistance_ohm" in part:
            expected_v = part["resistance_ohm"] * told["current_a"]
            assert across_v == pytest.approx(expected_v, rel=CLOSE, abs=CLOSE * highest_v + 1e-9)
        if part["name"] in off:
            assert told["current_a"] == 0
        elif part["name"] in dark and told["current_a"] == 0:
            assert part["kind"] in {"current", "power"} or across_v == 0
        elif part["kind"] == "current":
            assert told["current_a"] == pytest.approx(part["current_a"])
        elif part["kind"] == "power":
            assert told["power_w"] == pytest.approx(part["power_w"], rel=CLOSE, abs=1e-9)
        into[start] -= told["current_a"]
        into[end] += told["current_a"]
    into.pop("ground", None)  # where the source's current comes back
    for node, current_a in into.items():
        assert current_a == pytest.approx(0, abs=CLOSE * largest_a + 1e-9), node


def fuzz(client, relays, examples):
    seen = {"answered": 0, "refused": 0}

    @settings(max_examples=examples, deadline=None, suppress_health_check=list(HealthCheck))
    @given(circuits(relays))
    def check(circuit):
        case = ask(client, circuit)
        seen["refused" if case is None else "answered"] += 1
        if case is None:
            return
        if not circuit["relays"]:
            check_laws(circuit, case)
        elif not any(relay["chatters"] for relay in case["relays"]):
            largest_a = max(abs(part["current_a"]) for part in (*case["parts"], *case["loads"]))
            assert case["residual_a"] <= CLOSE * largest_a + 1e-9

    check()
    # A test that is refused everything tests nothing.
    assert min(seen.values()) > examples / 10, seen


@pytest.mark.hypothesis
@pytest.mark.parametrize("relays", [0, 2])
def test_circuits_are_solved_or_refused(client, relays):
    fuzz(client, relays, some(50, 150))


@pytest.mark.long
@pytest.mark.parametrize("relays", [0, 2])
def test_circuits_are_solved_or_refused_for_long(client, relays):
    fuzz(client, relays, 10_000)
