"""A plan, and a proof, of a load behind a relay of its own, with bounds as wide as nobody knows."""

import pytest

from .test_circuit_fit import between, contact, post, volts

CASE = {"name": "on", "ambient_c": 20, "duration_s": 10}


def pump(**given):
    """A pump of 2 ohm behind its relay; the switch feeds its coil, and a blower of 1.5 ohm."""
    body = {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": between(11.0, 13.0),
                       "internal_resistance_ohm": between(0.003, 0.2)},
            "branches": [
                contact("switch", "post", "ign", between(0.001, 1.5), "switch"),
                contact("pump fuse", "post", "r30", between(0.0005, 0.5), "fuse"),
                contact("pump plug", "r87", "p1", between(0.0005, 1.5)),
                contact("body ground", "body", "ground", between(0.0002, 0.5), "ground"),
            ],
            "loads": [
                {"name": "pump", "kind": "resistance", "nodes": ["p1", "body"],
                 "resistance_ohm": between(1.6, 2.4), "needed_v": 10.5},
                {"name": "blower", "kind": "resistance", "nodes": ["ign", "body"],
                 "resistance_ohm": between(1.2, 1.8)},
            ],
            "relays": [{"name": "pump relay", "contact_nodes": ["r30", "r87"],
                        "coil_nodes": ["ign", "ground"], "nominal_v": 12, "pick_up_v": 7,
                        "drop_out_v": 1.2, "coil_resistance_ohm": between(75.0, 100.0),
                        "contact_resistance_ohm": between(0.001, 0.6)}],
        },
        "cases": [CASE], "load": "pump", "switch": "switch",
    }  # fmt: skip
    return body | given


def test_a_plan_within_wide_bounds_is_undecided_and_not_failing() -> None:
    """At its best, by hand: 13 V, and a pump of 2 ohm keeps 12.9 V of it, of 10.5 V needed."""
    answer = post("meter-plan", pump())
    assert answer["at_load"]["low_v"] == pytest.approx(0.0, abs=1e-9)
    assert answer["at_load"]["high_v"] == pytest.approx(12.9, abs=0.1)
    assert answer["checks"][0]["verdict"] == "undecided"
    assert "up to 0 V" not in answer["headline"]


def test_a_relay_that_never_closes_fails() -> None:
    body = pump()
    body["circuit"]["relays"][0]["pick_up_v"] = 14.0
    assert post("meter-plan", body)["checks"][0]["verdict"] == "fail"


def test_a_plug_mended_behind_the_load_s_own_relay_is_proven() -> None:
    """12.4 V at the post and 0.1 V behind; the plug takes 1.6 V before and 0.02 V after."""
    rest = [volts("r30", "r87", 0.02), volts("body", "ground", 0.1), volts("ign", "ground", 12.3)]
    before = [volts("post", "ground", 12.4), volts("p1", "body", 10.6), volts("r87", "p1", 1.6)]
    after = [volts("post", "ground", 12.4), volts("p1", "body", 12.1), volts("r87", "p1", 0.02)]
    answer = post("gain-proof", pump(
        before=before + rest, after=after + rest,
        way={"name": "plug cleaned", "sound": ["pump plug"]},
    ))  # fmt: skip
    assert answer["proof"] == "proven"
    assert answer["gain"]["low_v"] <= 1.5 <= answer["gain"]["high_v"] + 0.05


def weighed(relay_ohm, switch_ohm, ways=()):
    """What helps the pump, its relay's contact and the coil's switch as they were found."""
    body = pump()
    circuit = body["circuit"]
    circuit["source"] |= {"open_circuit_v": 12.6, "internal_resistance_ohm": 0.008}
    for each in circuit["branches"]:
        each["resistance_ohm"] = switch_ohm if each["name"] == "switch" else 0.003
    for each in circuit["loads"]:
        each["resistance_ohm"] = 0.5 * sum(each["resistance_ohm"].values())
    circuit["relays"][0] |= {"coil_resistance_ohm": 85.0, "contact_resistance_ohm": relay_ohm}
    return post("remedy-choice", body | {"cases": [{"name": "on", "ambient_c": 20}], "ways": ways})


RENEWED = {"name": "renewed", "sound": ["pump relay"]}


@pytest.mark.parametrize("ways", [[], [RENEWED]])
def test_a_poor_contact_of_the_load_s_own_relay_is_mended(ways) -> None:
    """By hand 12.6 V over 0.6 and 2 ohm leave some 9.7 V; of a new contact's 0.02 ohm 12.4 V."""
    answer = weighed(0.6, 0.003, ways)
    assert answer["advice"] == "mend"
    assert answer["chosen"]["parts"] == ["pump relay"]
    assert "with pump relay clean, tight or new" in answer["headline"]
    assert "no relay is added" in answer["headline"]


def test_nothing_is_mended_behind_a_relay_that_is_sound() -> None:
    assert weighed(0.003, 0.003)["advice"] == "nothing_needed"
