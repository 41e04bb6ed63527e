"""The same readings of one path, told by its quick form and by the fit of its circuit."""

import pytest

from .test_drop_diagnosis import CURRENT_A, FINE, contact, diagnose, new_wire_v, wire


@pytest.mark.parametrize("nominal_v", [6, 12, 24])
@pytest.mark.parametrize(("share", "is_low"), [(0.9, True), (1.03, False)])
def test_a_fit_and_a_diagnosis_tell_of_the_same_parts_and_battery(run, nominal_v, share, is_low):
    """A path of feed, key, plug and lamp with each contact worn in turn, and none.

    Volts by hand: 8 A, 0.02 V over what is sound, 0.9 V over what is worn.
    """
    post_v, feed_v = share * nominal_v, new_wire_v(run)
    nodes = ["post", "a", "b", "c", "ground"]
    for worn in (None, "key", "plug", "joint"):
        kinds = {"key": "switch", "plug": "connector", "joint": "ground"}
        drops = {name: 0.9 if name == worn else 0.02 for name in kinds}
        load_v = post_v - feed_v - sum(drops.values())
        path = diagnose(
            run, wire("feed", feed_v), *(contact(n, drops[n], kinds[n]) for n in kinds),
            supply_v=post_v, load_voltage_v=load_v, nominal_v=nominal_v,
        )  # fmt: skip
        places = {"key": nodes[:2], "plug": nodes[1:3], "joint": ["d", "ground"]}
        branches = [
            {"name": n, "kind": "contact", "part": kinds[n], "nodes": places[n],
             "resistance_ohm": {"low": 0.0005, "high": 1.0}} for n in kinds
        ]  # fmt: skip
        branches.append({"name": "feed", "kind": "wire", "nodes": ["b", "c"], "size": "12 AWG",
                         "length_m": 5, "insulation": "GXL", "temperature_c": 20})  # fmt: skip
        ohm, scale = load_v / CURRENT_A, nominal_v / 12
        read = [(["post", "ground"], post_v), (["c", "d"], load_v), (["b", "c"], feed_v)]
        read += [(places[n], drops[n]) for n in kinds]
        fit = run(
            "circuit-fit",
            circuit={
                "source": {"plus": "post",
                           "open_circuit_v": {"low": 9 * scale, "high": 13.2 * scale},
                           "internal_resistance_ohm": {"low": 0.003, "high": 0.5}},
                "branches": branches,
                "loads": [{"name": "lamp", "kind": "resistance", "nodes": ["c", "d"],
                           "resistance_ohm": {"low": 0.8 * ohm, "high": 1.2 * ohm},
                           "circuit": "continuous"}],
            },
            cases=[{"name": "on", "ambient_c": 20}], load="lamp", nominal_v=nominal_v,
            meters=[{"name": "m", "kind": "volts", **FINE}],
            readings=[
                *({"case": "on", "between": ends, "value_v": round(v, 3), "meter": "m"}
                  for ends, v in read),
                {"case": "on", "through": "lamp", "value_a": CURRENT_A},
            ],
        )  # fmt: skip
        blamed = {each.parts for each in fit.parts if each.verdict == "fail"}
        assert path.mend_first == ((worn,) if worn else ()), worn
        assert blamed == ({(worn,)} if worn else set()), worn
        assert (path.supply_is == "too_low") is is_low
        assert (fit.battery is not None) is is_low
