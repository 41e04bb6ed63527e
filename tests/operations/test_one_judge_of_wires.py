"""One judge for one wire: what is said of it alone is said of it in a circuit, too."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from .test_one_judge import DRAWN, checks_of, same

WIRES = st.fixed_dictionaries(
    {
        "size": st.sampled_from(["18 AWG", "14 AWG", "10 AWG", "14 SAE", "2.5 mm2", "2/0 AWG"]),
        "insulation": st.sampled_from(["GXL", "GPT", "TXL"]),
        "grouped_conductors": st.sampled_from([1, 4, 12]),
        "altitude_m": st.sampled_from([0.0, 2000.0]),
    }
)


@DRAWN
@given(
    WIRES,
    st.floats(-30, 100),
    st.floats(0.5, 120),
    st.none() | st.floats(0.05, 3600),
)
def test_a_wire_is_judged_alike_alone_and_in_a_circuit(run, wire, ambient_c, current_a, duration_s):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 48, "internal_resistance_ohm": 0.0},
        "branches": [
            {**wire, "name": "wire", "kind": "wire", "nodes": ["post", "end"], "length_m": 0.05}
        ],
        "loads": [
            {
                "name": "load",
                "kind": "current",
                "current_a": current_a,
                "nodes": ["end", "ground"],
            }
        ],
    }
    on = {} if duration_s is None else {"duration_s": duration_s}
    case = {"name": "only", "ambient_c": ambient_c, **on}
    timed = {} if duration_s is None else {"on_time_s": duration_s}
    alone = run("wire-heating", **wire, ambient_c=ambient_c, current_a=current_a, **timed)
    # A wire that heats up without end has no state of rest, and so no circuit.
    assume(alone.conductor_temperature_c is not None or duration_s is not None)
    assume(duration_s is None or alone.temperature_after_on_time_c is not None)
    (state,) = run("circuit-check", circuit=circuit, cases=[case]).cases
    inside = checks_of(state, "wire")
    told = checks_of(alone)
    if duration_s is not None:  # a circuit tells how warm the wire is after the time, too
        verdict, value, limit = inside.pop("conductor_temperature")
        assert value == pytest.approx(alone.temperature_after_on_time_c, rel=1e-6)
        assert limit == alone.insulation_limit_c
        assert (verdict == "fail") == (value > limit)
    same(told, inside)


@pytest.mark.parametrize(("ambient_c", "size_helps"), [(125, False), (130, False), (110, True)])
@pytest.mark.parametrize("duration_s", [None, 60])
def test_no_larger_size_is_advised_where_the_air_leaves_nothing(
    run, ambient_c, size_helps, duration_s
):
    """GXL bears 125 degC, whatever its size."""
    wire = {"name": "feed", "kind": "wire", "nodes": ["post", "lamp"], "size": "16 AWG",
            "length_m": 1.0, "insulation": "GXL"}  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
        "branches": [wire],
        "loads": [
            {"name": "lamp", "kind": "current", "current_a": 60, "nodes": ["lamp", "ground"]}
        ],
    }
    case = {"name": "hot", "ambient_c": ambient_c}
    if duration_s is not None:
        case["duration_s"] = duration_s
    (state,) = run("circuit-check", circuit=circuit, cases=[case]).cases
    codes = {"conductor_temperature", "permissible_current", "duty_current"}
    failed = [each for each in state.checks if each.code in codes and each.verdict == "fail"]
    assert failed
    for check in failed:
        assert ("a larger size" in check.message) == size_helps, check.message
        assert ("no size helps" in check.message) != size_helps
