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
