"""What is not said of a proposed relay: never a reason to fit it."""

import pytest

from .retrofit_circuits import fan, headlamps, starter

BOLD = {"relay", "mend_then_relay", "insurance"}
# A relay that must not be fitted, or not before something is known of it. Common practice.
POOR = {
    "a fan's start may weld it shut": lambda: fan(relay={"make_rating_a": 60}),
    "a lamp's start welds it shut": lambda: headlamps(switch_ohm=0.2, relay={"make_rating_a": 50}),
    "its contact is too small": lambda: fan(relay={"rating_a": 10}),
    "it is made for 6 V": lambda: fan(relay={"nominal_v": 6, "pick_up_v": 3.6}),
    "it burns": lambda: fan(
        relay={"nominal_v": 6, "coil_limit_c": 155, "thermal_resistance_k_per_w": 150}
    ),
    "nobody knows what it carries hot": lambda: starter(
        length_m=11, zone_c=120, relay={"rating_a": 20, "rating_ambient_c": 23, "zone": "starter"}
    ),
}
LEFT_OUT = (
    "load_kind", "make_rating_a", "nominal_v", "coil_limit_c", "thermal_resistance_k_per_w",
    "rating_a", "rating_ambient_c",
)  # fmt: skip


@pytest.mark.parametrize("poor", POOR)
def test_leaving_a_field_out_never_turns_caution_into_a_relay(run, poor):
    body = POOR[poor]()
    advised = run("relay-retrofit", **body)
    assert advised.advice not in BOLD
    for field in LEFT_OUT:
        relay = {key: value for key, value in body["proposal"]["relay"].items() if key != field}
        less = {**body, "proposal": {**body["proposal"], "relay": relay}}
        found = run("relay-retrofit", **less)
        assert found.advice not in BOLD, (poor, field)


def test_what_to_find_out_is_said_first(run):
    body = fan(rating_a=15)
    del body["proposal"]["relay"]["load_kind"]
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first"
    assert answer.reasons[0].code == "screened"
    assert "load_kind" in answer.headline.split(". ")[0]
