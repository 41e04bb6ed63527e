"""What a fit opens to go with readings is opened in a proof, too: one circuit, one judgement.

A ring of 12.4 V, a heater of 2 ohm, a switch given as an interval and a feed given as a number.
"""

import pytest

from ..cost import spread
from .proofs_drawn import DEAD
from .proofs_drawn import asked as drawn
from .test_circuit_fit import between, contact, post, volts

HEATER_OHM, FEED_OHM = 2.0, 0.05


def ring(emf_v, switch_ohm, feed_ohm):
    """Volts by hand: post, over switch, over feed, over the heater; 0.01 ohm inside."""
    amps = emf_v / (0.01 + switch_ohm + feed_ohm + HEATER_OHM)
    drops = [round(amps * ohm, 3) for ohm in (switch_ohm, feed_ohm, HEATER_OHM)]
    post_v = round(amps * (switch_ohm + feed_ohm + HEATER_OHM), 2)
    places = (("post", "in"), ("in", "live"), ("live", "ground"))
    shown = [volts(*ends, value) for ends, value in zip(places, drops, strict=True)]
    rest = volts("post", "ground", round(emf_v, 2), case="off")
    return [rest, volts("post", "ground", post_v), *shown], drops[2]


def asked(before, after, *, emf_v=12.4):
    return {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": emf_v, "internal_resistance_ohm": 0.01},
            "branches": [
                contact("switch", "post", "in", between(0.0, 0.5), "switch"),
                {"name": "feed", "kind": "resistance", "nodes": ["in", "live"],
                 "resistance_ohm": FEED_OHM},
            ],
            "loads": [{"name": "heater", "kind": "resistance", "nodes": ["live", "ground"],
                       "resistance_ohm": between(1.8, 2.2), "needed_v": 9.0}],
        },
        "cases": [{"name": "on"}, {"name": "off", "without": ["switch"]}],
        "load": "heater", "switch": "switch", "worst_case": "on",
        "way": {"name": "switch cleaned", "sound": ["switch"]},
        "before": before, "after": after,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("emf_v", "feed_ohm", "after_v"),
    # As described; a feed that is worn, and stays so; a battery that rests at less than was given;
    # one that ran down between the two.
    [(12.4, FEED_OHM, 12.4), (12.4, 0.25, 12.4), (12.1, FEED_OHM, 12.1), (12.4, FEED_OHM, 12.1)],
)
def test_before_is_fitted_as_a_fit_does(emf_v, feed_ohm, after_v) -> None:
    before, was_v = ring(emf_v, 0.3, feed_ohm)
    after, _ = ring(after_v, 0.005, feed_ohm)
    body = asked(before, after)
    fit = {key: body[key] for key in ("circuit", "cases", "load")} | {"readings": before}
    named = {each["part"] for each in post("circuit-fit", fit)["faults"]}
    answer = post("gain-proof", body)
    # At one supply, that of before.
    gain_v = ring(emf_v, 0.005, feed_ohm)[1] - was_v
    assert answer["proof"] == "proven"
    assert answer["gain"]["low_v"] - 0.01 <= gain_v <= answer["gain"]["high_v"] + 0.01
    worse = {each["part"] for each in answer["look_at"] if each["code"] == "still_poor"}
    assert worse == named == ({"feed"} if feed_ohm != FEED_OHM else set())


@pytest.mark.parametrize(("then_ohm", "lost"), [(0.15, "0.86 V"), (0.0507, None)])
def test_what_is_still_lost_after_half_a_mending_is_said(then_ohm, lost) -> None:
    """Of 0.25 ohm half is mended: by hand 12.4 V / 2.165 ohm x 0.15 ohm = 0.86 V are lost still.

    6 m of 14 AWG have 0.0507 ohm, 1.02 x 6 m / 58 / 2.081 mm2 (IEC 28, ASTM B258).
    """
    before, _ = ring(12.4, 0.1, 0.25)
    after, _ = ring(12.4, 0.005, then_ohm)
    body = asked(before, after)
    body["circuit"]["branches"][1] = {
        "name": "feed", "kind": "wire", "nodes": ["in", "live"], "size": "14 AWG",
        "length_m": 6.0, "insulation": "GXL", "temperature_c": 20,
    }  # fmt: skip
    answer = post("gain-proof", body)
    assert answer["proof"] == "proven"
    said = {each["part"]: each["message"] for each in answer["look_at"]}
    assert set(said) == ({"feed"} if lost else set())
    assert lost is None or said["feed"].startswith(f"feed takes {lost} at 5.")
    assert lost is None or said["feed"] in answer["headline"]


def test_a_plug_that_stays_poor_beside_what_was_mended_is_said() -> None:
    """The switch is clean: 0.3 ohm of the plug take 1.6 V still, and a sound one takes 0.1 V."""
    before, _ = ring(12.4, 0.3, 0.3)
    after, _ = ring(12.4, 0.005, 0.3)
    body = asked(before, after)
    body["circuit"]["branches"][1] = contact("plug", "in", "live", between(0.0, 0.5))
    answer = post("gain-proof", body)
    assert answer["proof"] == "proven"
    assert [(each["code"], each["part"]) for each in answer["look_at"]] == [("still_poor", "plug")]


@pytest.mark.parametrize("switch_ohm", [1.5, 1e6])
def test_what_was_mended_is_not_said_to_be_left_as_it_was(switch_ohm) -> None:
    """The switch had more before than anybody thought, or was open; by hand both are seen."""
    before, was_v = ring(12.4, switch_ohm, FEED_OHM)
    after, now_v = ring(12.4, 0.005, FEED_OHM)
    answer = post("gain-proof", asked(before, after))
    assert answer["proof"] == "proven"
    assert answer["gain"]["low_v"] - 0.01 <= now_v - was_v <= answer["gain"]["high_v"] + 0.01
    assert answer["look_at"] == []


def test_where_nothing_flowed_before_the_battery_inside_is_what_it_is_after() -> None:
    """Open before, and 12.01 V at the heater after, by hand: it needs 11.5 V and has them.

    With 0.2 ohm inside, the most that was given, it would have 12.4 V x 2 / 2.255 = 11.0 V.
    """
    before, _ = ring(12.4, 1e6, FEED_OHM)
    after, now_v = ring(12.4, 0.005, FEED_OHM)
    body = asked(before, after)
    body["circuit"]["source"]["internal_resistance_ohm"] = between(0.003, 0.2)
    body["circuit"]["loads"][0]["needed_v"] = 11.5
    answer = post("gain-proof", body)
    assert answer["proof"] == "proven"
    assert answer["by_case"][0]["after_v"] == pytest.approx(now_v, abs=0.06)  # 0.5 % of a meter


def test_what_is_lost_where_the_way_promises_nothing_is_no_poor_part() -> None:
    """The plug was open and was pushed home; that the switch was cleaned promised nothing."""
    before, _ = ring(12.4, 0.005, 1e6)
    after, _ = ring(12.4, 0.02, FEED_OHM)
    body = asked(before, after)
    body["circuit"]["branches"][1] = contact("plug", "in", "live", between(0.0, 0.5))
    answer = post("gain-proof", body)
    assert answer["gain"]["low_v"] > 10.0
    assert not {"poor_sound", "poor_ground"} & {each["code"] for each in answer["look_at"]}


def test_a_switch_that_drops_what_a_sound_one_may_is_made_sound() -> None:
    """By hand 6 A x 0.013 ohm are 0.08 V, where a new one promises 0.05 V and 0.1 V are sound."""
    before, _ = ring(12.4, 0.03, FEED_OHM)
    after, _ = ring(12.4, 0.013, FEED_OHM)
    answer = post("gain-proof", asked(before, after))
    assert answer["proof"] == "proven"
    assert "poor_sound" not in {each["code"] for each in answer["look_at"]}


@pytest.mark.parametrize("name", ["switch", "plug"])
def test_of_parts_that_may_have_been_open_it_was_the_one_that_was_mended(name) -> None:
    """Nobody read over switch or plug: which of them was open the way tells."""
    before, _ = ring(12.4, 0.005, 1e6)
    after, now_v = ring(12.4, 0.005, 0.005)
    body = asked([before[0], before[1], before[4]], [after[0], after[1], after[4]])
    body["circuit"]["branches"][:2] = [
        contact("switch", "post", "in", between(0.0, 0.02), "switch"),
        contact("plug", "in", "live", between(0.0, 0.02)),
    ]
    body["way"] = {"name": f"{name} renewed", "sound": [name]}
    answer = post("gain-proof", body)
    assert answer["proof"] == "proven"
    # Its new contact drops 0.05 V at what flows then, the other one as much as anybody thought.
    assert answer["promise"]["gain_v"] == pytest.approx(now_v, abs=0.05 + 6.2 * 0.02)
    assert "worse_before" not in {each["code"] for each in answer["look_at"]}


@pytest.mark.parametrize("false", spread([1, 3, 4], 3))
def test_a_dead_relay_is_worse_whatever_contradicts_before(false) -> None:
    """The winding had 7 V and more and has none: no reading before needs to be right for that."""
    body, *_ = drawn(0, DEAD)
    field = "value_v" if "value_v" in body["before"][false] else "value_a"
    body["before"][false][field] *= 1.6
    answer = post("gain-proof", body)
    assert answer["agreement_before"] not in {"agrees", "not_checked"}
    assert answer["proof"] == "worse"
    assert answer["headline"].startswith("Worse than before: winding gets less in ")
    assert answer["look_at"][0]["code"] == "relay_stays_out"


def test_where_the_volts_before_are_the_false_ones_nothing_is_worse_for_sure() -> None:
    body, *_ = drawn(0, DEAD)
    body["before"][2]["value_v"] *= 1.6
    answer = post("gain-proof", body)
    assert answer["contradicts_before"] == [3]
    assert answer["proof"] == "not_proven"


def test_a_load_that_keeps_most_of_its_volts_is_not_worse_for_sure() -> None:
    """By hand 11.5 V, then 9.7 V: alive, and before is not to be trusted: 9 V at the post."""
    before, was_v = ring(12.4, 0.1, FEED_OHM)
    before[1]["value_v"] = 9.0
    after, is_v = ring(12.4, 0.5, FEED_OHM)
    assert 0.8 < is_v / was_v < 0.9
    answer = post("gain-proof", asked(before, after))
    assert answer["agreement_before"] not in {"agrees", "not_checked"}
    assert answer["proof"] == "not_proven"


def shared(plug_ohm):
    """A heater of 2 ohm and, behind a plug, a blower of 1.5 ohm: volts of both by hand."""
    both_ohm = 1.0 / (1.0 / HEATER_OHM + 1.0 / (plug_ohm + 1.5))
    amps = 12.4 / (0.03 + 0.004 + both_ohm)
    live_v = amps * both_ohm
    return live_v, [
        volts("post", "ground", 12.4, case="off"),
        volts("post", "ground", round(12.4 - 0.03 * amps, 3)),
        volts("post", "live", round(0.004 * amps, 4)),
        volts("live", "ground", round(live_v, 3)),
        volts("live", "blower in", round(live_v * plug_ohm / (plug_ohm + 1.5), 4)),
    ]


def test_what_another_load_takes_once_it_is_mended_is_no_harm_done() -> None:
    """The blower's plug is cleaned: it takes 3 A more, and the battery keeps 0.1 V less."""
    was_v, before = shared(0.9)
    is_v, after = shared(0.004)
    assert -0.1 < is_v - was_v < -0.09
    body = asked(before, after)
    circuit = body["circuit"]
    circuit["source"]["internal_resistance_ohm"] = between(0.005, 0.05)
    circuit["branches"] = [
        contact("switch", "post", "live", between(0.0, 0.5), "switch"),
        contact("plug", "live", "blower in", between(0.0, 1.5)),
    ]
    blower = {"name": "blower", "kind": "resistance", "nodes": ["blower in", "ground"]}
    circuit["loads"].append(blower | {"resistance_ohm": 1.5})
    body["way"] = {"name": "clean the plug", "sound": ["plug"]}
    body["meters"] = [{"name": "fine", "kind": "volts", "resolution_v": 0.001}]
    for each in (*before, *after):
        each["meter"] = "fine"
    answer = post("gain-proof", body)
    assert answer["gain"]["high_v"] < 0.0
    assert answer["proof"] == "not_proven"
    assert [each["code"] for each in answer["look_at"]] == ["nothing_to_gain"]
    assert "Worse" not in answer["headline"]
