"""What a fit refuses, each at the field."""

import pytest

from lastvolt_service.errors import CalculationError

from .test_circuit_fit import TWO, between, contact, post, question, volts

REFUSED = {
    "nothing to find": (question(TWO, switch=0.12, emf=12.0), "circuit", "interval"),
    "bounds without width": (
        question(TWO, switch=between(0.1, 0.1), emf=12.0), "circuit", "interval",
    ),
    "no such node": (question([volts("post", "lve", 1.0)]), "readings/0/between/1", "node"),
    "no such case": (question([volts("post", "live", 1, "hot")]), "readings/0/case", "case"),
    "one node": (question([volts("post", "post", 1.0)]), "readings/0/between", "Both leads"),
    "no such meter": (
        question([volts("post", "live", 1.0, meter="mine")]), "readings/0/meter", "No meter",
    ),
    "a meter of another kind": (
        question([volts("post", "live", 1.0, meter="m")],
                 meters=[{"name": "m", "kind": "ohms"}]),
        "readings/0/meter", "does not read volts",
    ),
    "a resolution of another kind": (
        question(TWO, meters=[{"name": "m", "kind": "ohms", "resolution_v": 0.1}]),
        "meters/0/resolution_v", "the meter reads ohms",
    ),
    "one meter twice": (
        question(TWO, meters=[{"name": "m", "kind": "ohms"}, {"name": "m", "kind": "volts"}]),
        "meters/1/name", "name",
    ),
    "a part that is left out": (
        question([{"case": "off", "through": "switch", "value_a": 1.0}]),
        "readings/0/through", "leaves the part out",
    ),
    "too short for a meter": (
        question([volts("post", "live", 1.0, duration_s=0.2)]), "readings/0/duration_s", "min/max",
    ),
    "an uncertainty of its own and a meter": (
        question([volts("post", "live", 1.0, meter="m", standard_uncertainty_v=0.01)],
                 meters=[{"name": "m", "kind": "volts"}]),
        "readings/0/meter", "its own",
    ),
    "an uncertainty of another kind": (
        question([volts("post", "live", 1.0, standard_uncertainty_a=0.01)]),
        "readings/0/standard_uncertainty_a", "of amperes",
    ),
    "no such part": (
        question([{"case": "on", "through": "fuse", "value_a": 1.0}]),
        "readings/0/through", "has this name",
    ),
    "amperes between nodes": (
        question([{"case": "on", "between": ["post", "live"], "value_a": 1.0}]),
        "readings/0/through", "through a part",
    ),
    "volts through a part": (
        question([{"case": "on", "through": "switch", "value_v": 1.0}]),
        "readings/0/through", "value_a",
    ),
    "no such load": (question(TWO, load_name="x") | {"load": "lamp"}, "load", "No load"),
    "no such worst case": (question(TWO, worst_case="hot"), "worst_case", "No case"),
}  # fmt: skip
for _each in REFUSED.values():
    _each[0].pop("load_name", None)


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_wrong_is_pointed_at(client, name) -> None:
    body, pointer, said = REFUSED[name]
    response = client.post("/v1/circuit-fit", json=body)
    assert response.status_code == 422
    told = {error["pointer"]: error["detail"] for error in response.get_json()["errors"]}
    assert f"#/{pointer}" in told, told
    assert said in told[f"#/{pointer}"]


WITHOUT_ANSWER = {
    "all ohms are noise": (
        [{"case": "on", "of": "switch", "value_ohm": 0.4}], ("readings", 0, "value_ohm"), "noise",
    ),
    "ohms of the battery alone": (
        [{"case": "off", "between": ["post", "ground"], "value_ohm": 10}],
        ("readings", 0, "between"), "nothing joins these but the battery",
    ),
    "a node that a case leaves out": (
        [volts("post", "live", 1.0, "off")], ("readings", 0, "between", 1), "contacts part",
    ),
}  # fmt: skip


def test_what_has_no_answer_is_refused_at_the_reading() -> None:
    for readings, path, said in WITHOUT_ANSWER.values():
        body = question(readings)
        body["circuit"]["relays"] = []
        if path[-1] == 1:  # a relay's contact that is open parts it
            body = with_an_open_relay(body)
        with pytest.raises(CalculationError, match=said) as refused:
            post("circuit-fit", body)
        assert refused.value.path == path


def with_an_open_relay(body):
    circuit = body["circuit"]
    circuit["relays"] = [
        {"name": "relay", "coil_nodes": ["live", "ground"], "contact_nodes": ["post", "far"],
         "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 8.0, "drop_out_v": 1.0,
         "contact_resistance_ohm": 0.05},
    ]  # fmt: skip
    circuit["loads"].append(
        {"name": "lamp", "kind": "resistance", "nodes": ["far", "end"], "resistance_ohm": 3.0}
    )
    circuit["relays"].append(
        circuit["relays"][0] | {"name": "other", "contact_nodes": ["end", "ground"]}
    )
    body["readings"] = [volts("post", "far", 1.0, "off")]
    return body


def test_chatter_is_told() -> None:
    """A relay whose break contact feeds its own coil."""
    body = question([volts("coil", "ground", 6.0)])
    circuit = body["circuit"]
    circuit["branches"][0]["nodes"] = ["post", "live"]
    circuit["relays"] = [
        {"name": "buzzer", "coil_nodes": ["coil", "ground"], "contact_nodes": ["live", "spare"],
         "break_nodes": ["live", "coil"], "nominal_v": 12, "coil_resistance_ohm": 90,
         "pick_up_v": 6.0, "drop_out_v": 1.0, "contact_resistance_ohm": 0.05},
    ]  # fmt: skip
    with pytest.raises(CalculationError, match="chatter in on") as refused:
        post("circuit-fit", body)
    assert refused.value.path == ("cases", 0)


def test_a_fit_over_its_bound_on_work_is_refused(client) -> None:
    body = question([volts("post", "live", 0.6)] * 60)
    body["circuit"]["branches"] += [
        contact(f"x{place}", "post", "live", between(0.1, 0.2) if place < 12 else 0.1)
        for place in range(150)
    ]
    body["cases"] = [{"name": f"case {place}"} for place in range(20)]
    for each in body["readings"]:
        each["case"] = "case 0"
    parts, intervals = 152, 14
    units = 20 * (1 + intervals) * (25 + parts)
    response = client.post("/v1/circuit-fit", json=body)
    assert response.status_code == 422
    said = " ".join(error["detail"] for error in response.get_json()["errors"])
    assert f"asks for {units:,} units of work, and one may ask for 2,000" in said
