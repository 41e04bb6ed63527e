"""A gain proven by readings before and after: by Ohm's law, and what each verdict looks at."""

import copy
import math
from dataclasses import replace

import pytest

from .proofs_drawn import WIRED, asked
from .test_circuit_fit import BY_NAME, GAIN, ROOT3, between, contact, post, volts

LAMP_OHM, INTERNAL_OHM = 2.0, 0.01
STILL_OHM = LAMP_OHM + INTERNAL_OHM
# Two steps of the last digit, rectangular, and its rounding.
COARSE, FINE, FINEST = (step * math.hypot(2.0, 0.5) / ROOT3 for step in (1e-2, 1e-3, 1e-4))


def question(before, after, **more):
    """A battery, a switch and a lamp's heater in a ring; the switch was cleaned."""
    return {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": between(9.05, 12.05),
                       "internal_resistance_ohm": INTERNAL_OHM},
            "branches": [contact("switch", "post", "live", between(0.0, 0.6), "switch")],
            "loads": [{"name": "lamp", "kind": "resistance", "nodes": ["live", "ground"],
                       "resistance_ohm": LAMP_OHM, "needed_v": 9.0}],
        },
        "cases": [{"name": "on"}, {"name": "aged", "ageing_factor": 1.5}],
        "load": "lamp",
        "switch": "switch",
        "worst_case": "on",
        "way": {"name": "clean the switch", "sound": ["switch"]},
        "before": before,
        "after": after,
    } | more  # fmt: skip


def read(switch_v, load_v):
    return [volts("post", "live", switch_v), volts("live", "ground", load_v)]


BEFORE = read(0.5, 10.0)  # 5 A, 0.1 ohm
SOUND = read(0.015, 10.5)


def test_the_gain_of_a_lamp_by_ohms_law() -> None:
    """At the supply of before, (2.01 x 10 + 2 x 0.5) / (2.01 + 2 x 0.015 / 10.5) less 10."""
    answer = post("gain-proof", question(BEFORE, SOUND))
    after_ohm = LAMP_OHM * 0.015 / 10.5
    all_ohm = STILL_OHM + after_ohm
    supply = STILL_OHM * 10.0 + LAMP_OHM * 0.5
    gain = supply / all_ohm - 10.0
    found = answer["gain"]
    assert found["before_v"] == pytest.approx(10.0, abs=2e-4)
    assert found["gain_v"] == pytest.approx(gain, abs=2e-4)
    of_after = after_ohm * math.hypot(FINEST / 0.015, COARSE / 10.5)
    wanted = math.sqrt(
        ((STILL_OHM / all_ohm - 1.0) * COARSE) ** 2
        + (LAMP_OHM / all_ohm * FINE) ** 2
        + (supply / all_ohm**2 * of_after) ** 2
        + (gain * GAIN) ** 2  # what the meter errs in common
    )
    assert found["standard_uncertainty_v"] == pytest.approx(wanted, rel=0.01)
    assert found["coverage_factor"] == pytest.approx(1.96)
    assert found["high_v"] - found["gain_v"] == pytest.approx(1.96 * wanted, rel=0.01)
    assert found["correlation"] > 0.99  # the meter's factor is common to both
    assert (answer["proof"], answer["look_at"], answer["next_reading"]) == ("proven", [], None)
    assert "19 times of 20" in answer["headline"]


def test_a_case_that_was_not_measured_is_predicted() -> None:
    """Aged by half, the contact has half as much again, before and after."""
    answer = post("gain-proof", question(BEFORE, SOUND))
    on, aged = answer["by_case"]
    supply = 10.0 + 5.0 * 0.11
    assert (on["is_read"], aged["is_read"]) == (True, False)
    before = supply * LAMP_OHM / (STILL_OHM + 0.15)
    after = supply * LAMP_OHM / (STILL_OHM + 1.5 * LAMP_OHM * 0.015 / 10.5)
    assert aged["before_v"] == pytest.approx(before, abs=1e-3)
    assert aged["after_v"] == pytest.approx(after, abs=1e-3)
    assert aged["gain_v"] == pytest.approx(after - before, abs=1e-3)
    assert aged["met"] == "yes"


def test_the_supply_after_does_not_count() -> None:
    """A battery charged meanwhile brings no gain: all readings after are higher by a tenth."""
    charged = read(0.0165, 11.55)
    plain = post("gain-proof", question(BEFORE, SOUND))["gain"]
    found = post("gain-proof", question(BEFORE, charged))["gain"]
    assert found["gain_v"] == pytest.approx(plain["gain_v"], abs=3e-4)


def test_currents_and_drops_by_ohms_law() -> None:
    answer = post("gain-proof", question(BEFORE, SOUND))
    switch, (drop,) = answer["switch_current"], answer["drops"]
    assert switch["before_a"] == pytest.approx(5.0, abs=1e-3)
    amps = 10.55 / (STILL_OHM + LAMP_OHM * 0.015 / 10.5)
    assert switch["after_a"] == pytest.approx(amps, abs=1e-3)
    assert (drop["what"], drop["part"], drop["between"]) == ("sound", "switch", ["post", "live"])
    assert drop["drop_v"] == pytest.approx(amps * LAMP_OHM * 0.015 / 10.5, abs=1e-4)


@pytest.mark.parametrize(
    ("after", "verdict", "code"),
    [
        (read(0.3, 10.2), "less_than_promised", "poor_sound"),
        (read(1.5, 9.0), "worse", "poor_sound"),
        (read(0.5, 10.0), "less_than_promised", "poor_sound"),
        ([volts("post", "ground", 10.5)], "not_proven", "gain_open"),
        ([volts("post", "ground", 10.52), *read(0.015, 9.0)], "not_proven", "untold_after"),
    ],
)
def test_what_each_verdict_looks_at(after, verdict, code) -> None:
    answer = post("gain-proof", question(BEFORE, after))
    assert answer["proof"] == verdict
    looks = {each["code"]: each for each in answer["look_at"]}
    assert code in looks
    if code == "poor_sound":
        assert 1 in looks[code]["readings"]  # the volts across the switch say so
        assert "switch" in looks[code]["message"]


def test_a_need_that_is_not_met_is_not_proven() -> None:
    body = question(BEFORE, SOUND)
    body["circuit"]["loads"][0]["needed_v"] = 10.6
    answer = post("gain-proof", body)
    assert answer["proof"] == "not_proven"
    assert [each["code"] for each in answer["look_at"]] == ["gained_too_little", "need_short"]
    assert answer["verdict"] == "fail"
    body["circuit"]["loads"][0]["needed_v"] = 10.5
    answer = post("gain-proof", body)
    assert {each["code"] for each in answer["look_at"]} == {"need_open"}
    assert answer["next_reading"] is None or answer["next_message"]


def test_readings_before_that_contradict_prove_nothing() -> None:
    wrong = [volts("post", "ground", 11.5), *BEFORE]
    answer = post("gain-proof", question(wrong, SOUND))
    assert answer["proof"] == "not_proven"
    assert "untold_before" in {each["code"] for each in answer["look_at"]}
    assert {each["code"]: each["verdict"] for each in answer["checks"]}["gain"] == "unknown"


def test_a_reading_left_out_is_told_of() -> None:
    """One across the switch that no supply within its bounds allows: first it is taken again.

    The others would prove the gain; but the one that is left out may be the fault.
    """
    answer = post("gain-proof", question(BEFORE, [volts("post", "live", 3.0), *SOUND]))
    assert answer["proof"] == "not_proven"
    assert answer["contradicts_after"] == [1]
    assert ("again_after", [1]) in [(each["code"], each["readings"]) for each in answer["look_at"]]


def test_what_is_promised_is_the_relay_as_described() -> None:
    """Against the nodes solved apart: the relay's path as it is given, the rest as it is."""
    body, before, _ = asked(3)
    answer = post("gain-proof", body)
    promised = replace(before, built=True, new=WIRED).hot().load_v
    spread = 2.5 * answer["gain"]["after_standard_uncertainty_v"]
    assert answer["promise"]["load_voltage_v"] == pytest.approx(promised, abs=spread)
    assert [each["what"] for each in answer["drops"]] == ["feed", "contact", "outlet", "ground"]


def test_the_switch_that_nobody_measured_is_not_proven_spared() -> None:
    """Volts alone: a relay whose old wire was left on the load shows the same."""
    body, *_ = asked(0)
    assert post("gain-proof", body)["proof"] == "proven"
    for fault in ("", "old_wire_left_on"):
        body, *_ = asked(0, fault)
        body["after"] = [each for each in body["after"] if "through" not in each]
        answer = post("gain-proof", body)
        assert answer["proof"] == "not_proven"
        assert "switch_not_told" in [each["code"] for each in answer["look_at"]]
        assert not answer["switch_current"]["told"]


def test_the_example_is_proven_and_its_numbers_are_where_they_belong() -> None:
    answer = post("gain-proof", copy.deepcopy(BY_NAME["gain-proof"].schema.example))
    assert answer["proof"] == "proven"
    assert answer["wired"] == "as_described"
    assert answer["gain"]["case"] == "hot restart, aged"
    names = [each["case"] for each in answer["by_case"]]
    assert names == ["key held", "hot restart, aged"]  # at rest nothing is compared
    assert answer["gain"]["after_v"] > 9.8  # of a hot winding


@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize("fault", ["", "old_wire_left_on"])
def test_no_relay_is_proven_whose_switch_nobody_clamped(seed, fault) -> None:
    """With the old wire left on, the load has as much, and the relay holds itself."""
    body, *_ = asked(seed, fault)
    body["after"] = [each for each in body["after"] if each.get("through") != "switch"]
    answer = post("gain-proof", body)
    assert answer["proof"] != "proven"
    assert any("see that the load stops" in each for each in answer["cautions"])
    fitted = next(each for each in answer["not_judged"] if each["code"] == "fitted")
    assert "relay-retrofit judges" in fitted["message"]


def test_a_way_without_a_relay_needs_no_clamp_round_the_switch() -> None:
    answer = post("gain-proof", question(BEFORE, SOUND))
    assert answer["proof"] == "proven"
    assert not any("see that the load stops" in each for each in answer["cautions"])


@pytest.mark.parametrize(("step", "is_rounded"), [(0.1, True), (0.015, False)])
def test_volts_without_their_last_digits_are_noticed_in_a_proof(step, is_rounded) -> None:
    """Four of four volts are tenths, and the meter shows thousandths and hundredths."""
    answer = post("gain-proof", question(BEFORE, read(step, 10.4)))
    assert (answer["rounded"] is not None) is is_rounded
    if is_rounded:
        assert "multiples of 0.1 V" in answer["headline"]
