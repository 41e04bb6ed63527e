"""What a proof refuses, and where its error points."""

import pytest

from .proofs_drawn import asked
from .test_gain_proof import BEFORE, SOUND, question, volts


def refused(client, body):
    response = client.post("/v1/gain-proof", json=body)
    assert response.status_code == 422, response.get_json()
    return {each["pointer"]: each["detail"] for each in response.get_json()["errors"]}


def without_unknowns(body):
    body["circuit"]["source"]["open_circuit_v"] = 11.0
    body["circuit"]["branches"][0]["resistance_ohm"] = 0.1


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        (lambda b: b["way"].update(battery=True), "/way/battery"),
        (lambda b: b["way"].update(sound=["none"]), "/way/sound/0"),
        (lambda b: b["way"].update(sound=[]), "/way"),
        (without_unknowns, "/circuit"),
        (lambda b: b.update(before=[volts("post", "nowhere", 1)]), "/before/0/between/1"),
        (lambda b: b.update(after=[volts("post", "ground", 1, case="off")]), "/after/0/case"),
        (lambda b: b["after"][1].update(meter="none"), "/after/1/meter"),
        (lambda b: b.update(worst_case="none"), "/worst_case"),
        (lambda b: [case.update(without=["lamp"]) for case in b["cases"]], "/cases"),
        (lambda b: b.update(load="none"), "/load"),
        (lambda b: b["circuit"]["loads"][0].pop("needed_v"), "/load"),
    ],
)
def test_what_is_wrong_is_pointed_at(client, change, pointer) -> None:
    body = question([dict(each) for each in BEFORE], [dict(each) for each in SOUND])
    change(body)
    assert f"#{pointer}" in refused(client, body)


def test_a_reading_of_the_relay_before_it_was_there(client) -> None:
    body, *_ = asked(0)
    body["before"].append(body["after"][6])
    assert set(refused(client, body)) == {"#/before/7/between/0", "#/before/7/between/1"}


def test_a_part_left_out_where_it_is_read_after(client) -> None:
    """What a fit finds wrong on one side points at that side."""
    body, *_ = asked(0)
    body["after"].append({"case": "off", "between": ["start [87]", "ground"], "value_v": 0.0})
    body["circuit"]["branches"].append(
        {"name": "open", "kind": "resistance", "nodes": ["key in", "tap"], "resistance_ohm": 1}
    )
    body["after"][-1] = {"case": "off", "through": "switch", "value_a": 0.0}
    assert set(refused(client, body)) == {"#/after/8/through"}


def test_a_proof_over_its_bound_on_work_is_refused(client) -> None:
    body, *_ = asked(0)
    body["cases"] += [{"name": f"case {place}", "ambient_c": place} for place in range(3)]
    details = refused(client, body)
    assert "#/cases" in details
    assert "4,800" in details["#/cases"]
