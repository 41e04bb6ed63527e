"""One judge for one part: what is said of a part alone is said of it in a circuit, too.

Drawn parts are posted to the operation that knows them, and once more inside a circuit with the
same data; every check is compared by code, verdict, value and limit. What the circuit gives them,
volts and amperes, is worked out here by hand.
"""

import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from lastvolt_service.tables.limits import MOMENT_S, MOST_FOR_A_MOMENT

DRAWN = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
MAYBE = st.booleans()


def some(**fields):
    """Draw fields, each of which may be left out."""
    return st.fixed_dictionaries({}, optional=fields)


COILS = st.tuples(
    st.fixed_dictionaries(
        {
            "coil_resistance_ohm": st.floats(15, 400),
            "pick_up_v": st.floats(3, 18),
            "drop_out_v": st.floats(0.3, 2.9),
            "reference_temperature_c": st.sampled_from([20.0, 23.0]),
        }
    ),
    some(
        nominal_v=st.sampled_from([6.0, 12.0, 24.0]),
        thermal_resistance_k_per_w=st.floats(5, 80),
        thermal_time_constant_s=st.floats(5, 600),
        coil_limit_c=st.sampled_from([130.0, 155.0, 180.0]),
        highest_ambient_c=st.sampled_from([85.0, 105.0, 125.0]),
        suppression=st.sampled_from(
            [
                {"kind": "none"},
                {"kind": "diode"},
                {"kind": "resistor", "resistance_ohm": 680},
                {"kind": "resistor", "resistance_ohm": 60},
                {"kind": "zener", "zener_v": 24},
            ]
        ),
        switch_limit_v=st.floats(20, 400),
        maximum_v=st.floats(6, 30),
    ),
).map(lambda both: {**both[0], **both[1]})

CONTACTS = st.tuples(
    st.fixed_dictionaries(
        {
            "contact_resistance_ohm": st.floats(5e-4, 0.03),
            "rating_a": st.floats(1, 60),
            "rated_v": st.sampled_from([6.0, 12.0, 14.0, 16.0, 24.0, 28.0, 36.0]),
            "load_kind": st.sampled_from(
                ["resistive", "motor", "lamp", "solenoid", "starter_solenoid", "capacitive"]
            ),
        }
    ),
    some(
        rating_ambient_c=st.sampled_from([20.0, 23.0, 40.0]),
        make_rating_a=st.floats(5, 400),
        inrush_current_a=st.floats(0.1, 300),
        minimum_current_a=st.floats(0.01, 5),
        derating=st.just(
            [{"ambient_c": 85, "current_a": 0.8}, {"ambient_c": 125, "current_a": 0.4}]
        ),
    ),
).map(lambda both: {**both[0], **both[1]})

SURROUNDINGS = st.fixed_dictionaries(
    {
        "emf_v": st.sampled_from([6.3, 12.4, 14.4, 25.0, 28.8]),
        "ambient_c": st.floats(-30, 130),
        "key_ohm": st.floats(0.01, 60),
        "load_ohm": st.floats(0.3, 500),
    }
)
INTERNAL_OHM = 0.01


# Which system a part is in, only its circuit knows.
OF_THE_SYSTEM = {"relay_voltage"}


def checks_of(answer, part=None):
    return {
        check.code: (check.verdict, check.value, check.limit)
        for check in answer.checks
        if check.part == part
    }


def same(alone, inside):
    """Whether two sets of checks say the same, to the digits of two ways of solving a circuit."""
    assert alone.keys() == inside.keys() - OF_THE_SYSTEM
    for code, (verdict, *numbers) in alone.items():
        assert inside[code][0] == verdict, (code, alone[code], inside[code])
        for one, other in zip(numbers, inside[code][1:], strict=True):
            if one is None or other is None:
                assert one is other, code
            else:
                assert math.isclose(one, other, rel_tol=1e-7, abs_tol=1e-9), code


def circuit_of(relay, round_it):
    return {
        "source": {
            "plus": "post",
            "open_circuit_v": round_it["emf_v"],
            "internal_resistance_ohm": INTERNAL_OHM,
        },
        "branches": [
            {
                "name": "key",
                "kind": "contact",
                "part": "switch",
                "nodes": ["post", "86"],
                "resistance_ohm": round_it["key_ohm"],
            }
        ],
        "loads": [
            {
                "name": "load",
                "kind": "resistance",
                "nodes": ["87", "ground"],
                "resistance_ohm": round_it["load_ohm"],
            }
        ],
        "relays": [
            {
                **relay,
                "name": "relay",
                "coil_nodes": ["86", "ground"],
                "contact_nodes": ["post", "87"],
            }
        ],
    }


def solved(emf_v, key_ohm, coil_ohm, load_ohm):
    """Volts at the coil and amperes in the load, the contact closed; by hand."""
    coil_way, load_way = key_ohm + coil_ohm, load_ohm
    both = coil_way * load_way / (coil_way + load_way)
    post_v = emf_v * both / (both + INTERNAL_OHM)
    return post_v * coil_ohm / coil_way, post_v / load_way


@DRAWN
@given(COILS, CONTACTS, SURROUNDINGS, st.none() | st.floats(0.5, 600), st.sampled_from([1.0, 2.5]))
def test_a_relay_is_judged_alike_alone_and_in_a_circuit(
    run, coil, contact, round_it, duration_s, ageing_factor
):
    assume(coil["pick_up_v"] > 1.5 * coil["drop_out_v"])
    if "derating" in contact:
        shares = contact["derating"]
        curve = [
            {**point, "current_a": point["current_a"] * contact["rating_a"]} for point in shares
        ]
        contact = {**contact, "derating": curve}
    emf_v, ambient_c = round_it["emf_v"], round_it["ambient_c"]
    case = {"name": "only", "ambient_c": ambient_c, "ageing_factor": ageing_factor}
    on = {} if duration_s is None else {"duration_s": duration_s}
    (state,) = run(
        "circuit-check",
        circuit=circuit_of({**coil, **contact, "ages": False}, {**round_it}),
        cases=[{**case, **on}],
    ).cases
    shared = {
        "nominal_v": 60.0,  # relay-coil asks for it; where it was not given, see below
        "maximum_v": emf_v,
        **coil,
        "ambient_c": ambient_c,
        **on,
    }
    hot_ohm = run("relay-coil", **shared, available_v=1.0).hot_coil_resistance_ohm
    # The key ages by the case, the relay does not.
    key_ohm = round_it["key_ohm"] * ageing_factor
    contact_ohm = contact["contact_resistance_ohm"]
    # A resistor across the coil is in its way, too.
    across_ohm = coil.get("suppression", {}).get("resistance_ohm", math.inf)
    hot_ohm = 1 / (1 / hot_ohm + 1 / across_ohm)
    before_v = emf_v * hot_ohm / (hot_ohm + key_ohm + INTERNAL_OHM)
    coil_v, load_a = solved(emf_v, key_ohm, hot_ohm, round_it["load_ohm"] + contact_ohm)
    closed = state.relays[0].energised
    held_v = {"dip_v": coil_v} if closed else {}
    assume(shared["maximum_v"] >= before_v)  # else a slip of the pen, which relay-coil refuses
    alone = run("relay-coil", **shared, available_v=before_v, **held_v)
    assume(before_v > alone.hot_drop_out_v * 1.01)  # below, a coil counts as off
    told, inside = checks_of(alone), checks_of(state, "relay")
    told.pop("source_voltage", None)  # of a circuit, its source's
    inside.pop("stall", None)  # of what a relay feeds, which one alone knows nothing of
    if not closed:
        told.pop("hold")
    if "nominal_v" not in coil and "coil_limit_c" not in coil:
        # Without a nominal voltage nothing lets the coil pass.
        told.pop("continuous_voltage")
        assert inside.pop("continuous_voltage")[0] in {"unknown", "fail"}
    if "nominal_v" not in coil and "thermal_resistance_k_per_w" not in coil:
        told.pop("continuous_voltage", None)
        inside.pop("continuous_voltage", None)
    if closed:
        told |= checks_of(
            run(
                "relay-contact",
                **contact,
                supply_v=emf_v,
                load_current_a=load_a,
                path_resistance_ohm=emf_v / load_a - round_it["load_ohm"],
                ambient_c=ambient_c,
            )
        )
    if closed and duration_s is not None and duration_s < MOMENT_S:
        # relay-contact knows of no time: for a moment a contact carries more than its rating.
        verdict, value, limit = told.pop("steady_current")
        bears = verdict == "fail" and value <= MOST_FOR_A_MOMENT * limit
        assert inside.pop("steady_current")[0] == ("marginal" if bears else verdict)
    same(told, inside)


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({"nominal_v": 6}, "fail"),
        ({}, "fail"),  # hotter than any coil of the published sheets
        ({"thermal_resistance_k_per_w": None}, "unknown"),
        ({"nominal_v": 6, "thermal_resistance_k_per_w": None}, "fail"),
        # For a time it does not get so hot, but 6 V coils are not made for 12 V.
        ({"nominal_v": 6, "duration_s": 5}, "fail"),
        ({"coil_limit_c": 155, "duration_s": 5}, "pass"),
    ],
)
def test_a_6_v_relay_in_a_12_v_lamp_circuit(run, changes, verdict):
    """By hand: 14.4 V on 22 ohm are 9.4 W, at 30 K/W some 170 K once its copper is hot."""
    case = {"name": "only", "open_circuit_v": 14.4}
    if "duration_s" in changes:
        case["duration_s"] = changes.pop("duration_s")
    relay = {
        "coil_resistance_ohm": 22,
        "pick_up_v": 3.6,
        "drop_out_v": 0.6,
        "thermal_resistance_k_per_w": 30,
        "contact_resistance_ohm": 0.003,
        "rating_a": 30,
        **changes,
    }
    relay = {key: value for key, value in relay.items() if value is not None}
    round_it = {"emf_v": 14.4, "key_ohm": 0.02, "load_ohm": 2.0}
    (state,) = run("circuit-check", circuit=circuit_of(relay, round_it), cases=[case]).cases
    assert checks_of(state, "relay")["continuous_voltage"][0] == verdict


@pytest.mark.parametrize(("more", "assumed"), [({}, True), ({"held": ["relay"]}, False)])
def test_a_coil_is_charged_the_heat_of_its_time_on(run, more, assumed):
    """Ten seconds of it; of one that was held before, as if it had been on for hours."""
    relay = {
        "coil_resistance_ohm": 22,
        "pick_up_v": 5.0,
        "drop_out_v": 1.2,
        "thermal_resistance_k_per_w": 30,
        "contact_resistance_ohm": 0.003,
    }
    round_it = {"emf_v": 12.6, "key_ohm": 0.02, "load_ohm": 2.0}
    case = {"name": "only", "duration_s": 10, **more}
    answer = run("circuit-check", circuit=circuit_of(relay, round_it), cases=[case])
    (told,) = answer.cases[0].relays
    # By hand: 12.6 V on 22 ohm at 30 K/W, of which 10 s bring 15 % at a time constant of 60 s.
    rise_k = 30 * 12.6**2 / 22 * (1 - math.exp(-10 / 60))
    if assumed:
        assert told.coil_temperature_c == pytest.approx(20 + rise_k, rel=1e-9)
    else:
        assert told.coil_temperature_c > 20 + 4 * rise_k
    assert any("60 s" in text for text in answer.basis) == assumed


def test_what_is_not_known_of_a_relay_is_said(run):
    relay = {
        "coil_resistance_ohm": 90,
        "pick_up_v": 7.0,
        "drop_out_v": 1.2,
        "contact_resistance_ohm": 0.003,
    }
    round_it = {"emf_v": 12.6, "key_ohm": 0.02, "load_ohm": 2.0}
    (state,) = run(
        "circuit-check", circuit=circuit_of(relay, round_it), cases=[{"name": "only"}]
    ).cases
    asks_for = {
        "pick_up_warm": "thermal_resistance_k_per_w",
        "highest_ambient": "highest_ambient_c",
        "continuous_voltage": "nominal_v",
        "suppression": "suppression",
        "steady_current": "rating_a",
        "inrush": "load_kind",
        "rated_voltage": "rated_v",
    }
    unknown = {
        check.code: check.message
        for check in state.checks
        if (check.part, check.verdict) == ("relay", "unknown")
    }
    assert unknown.keys() == asks_for.keys()
    for code, field in asks_for.items():
        assert field in unknown[code]
    assert state.verdict == "unknown"


SOLENOID = {
    "name": "load",
    "kind": "solenoid",
    "nodes": ["87", "ground"],
    "windings": {
        "pull_in_turns": 200,
        "pull_in_resistance_ohm": 0.4,
        "hold_in_turns": 200,
        "hold_in_resistance_ohm": 1.6,
        "ampere_turns": 4000,
        "hold_ampere_turns": 600,
    },
}


def test_the_current_of_a_solenoid_rises_to_volts_over_ohms_and_no_further(run):
    relay = {
        "coil_resistance_ohm": 90,
        "pick_up_v": 7.0,
        "drop_out_v": 1.2,
        "contact_resistance_ohm": 0.003,
        "rating_a": 50,
    }
    round_it = {"emf_v": 12.6, "key_ohm": 0.02, "load_ohm": 2.0}
    circuit = circuit_of(relay, round_it) | {"loads": [SOLENOID]}
    (state,) = run("circuit-check", circuit=circuit, cases=[{"name": "only"}]).cases
    verdict, value, limit = checks_of(state, "relay")["inrush"]
    assert (verdict, limit) == ("pass", 50)
    assert value == pytest.approx(state.loads[0].current_a, rel=1e-12)
    # By hand, the coil's 0.14 A left out: both windings side by side behind contact and source.
    both_ohm = 1 / (1 / 0.4 + 1 / 1.6)
    assert value == pytest.approx(12.6 / (both_ohm + 0.013), rel=0.01)


def test_a_break_contact_has_a_rating_of_its_own(run):
    relay = {
        "coil_resistance_ohm": 90,
        "pick_up_v": 7.0,
        "drop_out_v": 1.2,
        "contact_resistance_ohm": 0.003,
        "rating_a": 60,
        "rated_v": 12,
        "load_kind": "resistive",
        "break_nodes": ["post", "rest"],
    }
    round_it = {"emf_v": 12.6, "key_ohm": 0.02, "load_ohm": 2.0}
    lamp = {
        "name": "idle",
        "kind": "resistance",
        "nodes": ["rest", "ground"],
        "resistance_ohm": 0.25,
    }

    def current(**more):
        circuit = circuit_of({**relay, **more}, round_it)
        circuit["loads"] = [*circuit["loads"], lamp]
        (state,) = run(
            "circuit-check", circuit=circuit, cases=[{"name": "off", "without": ["key"]}]
        ).cases
        return checks_of(state, "relay")["steady_current"]

    # By hand: 12.6 V over 0.25 + 0.003 + 0.01 ohm.
    assert current()[0] == "unknown"
    verdict, value, limit = current(break_rating_a=45)
    assert (verdict, limit) == ("fail", 45)
    assert value == pytest.approx(12.6 / 0.263, rel=1e-9)
