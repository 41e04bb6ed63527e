"""A plan of readings: bands by Ohm's law, what is heeded, the jumper, the verdict."""

import copy

import pytest

from lastvolt_service.operations.meter.reading_fields import usual_meter

from .planned import (
    COIL,
    FUSE,
    GROUND,
    INSIDE,
    LAMP,
    NEW_CONTACT,
    NEW_FUSE,
    SWITCH,
    WIRE_OHM,
    as_plan,
    by,
    example,
    lamp,
    off_a,
    off_v,
    plan,
    starter,
)  # fmt: skip
from .retrofit_circuits import contact, cranking, fan
from .test_work_sheet import horn, positive_ground


def held_to(band, expected, off):
    assert band["usual"] == pytest.approx(expected, rel=1e-9, abs=1e-12)
    assert band["low"] == pytest.approx(expected - off(expected), rel=1e-9, abs=1e-9)
    assert band["high"] == pytest.approx(expected + off(expected), rel=1e-9, abs=1e-9)
    assert not band["is_about"]


def assert_dead(reading):
    """With the switch open again: nothing, within two steps of the range that was in use."""
    band = reading["as_is"]
    assert band["usual"] == 0.0
    assert -0.025 <= band["low"] <= 0.0 <= band["high"] <= 0.025


def test_a_lamp_as_it_is_by_ohms_law():
    answer = plan(lamp(way=False))
    amps = 12.0 / (INSIDE + FUSE + SWITCH + WIRE_OHM + LAMP + GROUND)
    expected = {
        ("at_rest", None): 12.0,
        ("supply", None): 12.0 - INSIDE * amps,
        ("across_part", "lamp fuse"): FUSE * amps,
        ("across_switch", "dash switch"): SWITCH * amps,
        ("across_part", "to the lamp"): WIRE_OHM * amps,
        ("live_side", None): (FUSE + SWITCH + WIRE_OHM) * amps,
        ("across_load", None): LAMP * amps,
        ("across_part", "lamp ground"): GROUND * amps,
    }
    for (code, part), volts in expected.items():
        found = by(answer, code, part)
        held_to(found["as_is"], volts, off_v)
        assert (found["kind"], found["unit"], found["with_way"]) == ("volts", "V", None)
    held_to(by(answer, "through_part")["as_is"], amps, off_a)
    assert by(answer, "through_part")["clamp"] == "to the lamp"
    assert_dead(by(answer, "switched_off"))
    assert len(answer["readings"]) == len(expected) + 2
    assert answer["at_load"]["low_v"] == pytest.approx(LAMP * amps)
    assert answer["at_load"]["number"] == by(answer, "across_load")["number"]


def test_a_lamp_with_a_relay_by_ohms_law():
    """The old wire carries the coil; both share the battery's resistance and the lamp's ground."""
    answer = plan(lamp())
    old, new = COIL + FUSE + SWITCH + WIRE_OHM, NEW_FUSE + NEW_CONTACT + LAMP
    both = 1 / (1 / old + 1 / new)
    amps = 12.0 / (INSIDE + GROUND + both)
    coil_a, lamp_a = amps * both / old, amps * both / new
    expected = {
        ("at_rest", None): 12.0,
        ("supply", None): 12.0 - INSIDE * amps,
        ("across_part", "lamp fuse"): FUSE * coil_a,
        ("across_switch", "dash switch"): SWITCH * coil_a,
        ("across_part", "to the lamp"): WIRE_OHM * coil_a,
        ("new_feed", None): NEW_FUSE * lamp_a,
        ("across_contact", None): NEW_CONTACT * lamp_a,
        ("across_coil", None): COIL * coil_a,
        ("live_side", None): (NEW_FUSE + NEW_CONTACT) * lamp_a,
        ("across_load", None): LAMP * lamp_a,
        ("across_part", "lamp ground"): GROUND * amps,
    }
    for (code, part), volts in expected.items():
        held_to(by(answer, code, part)["with_way"], volts, off_v)
    held_to(by(answer, "through_part", "to the lamp")["with_way"], coil_a, off_a)
    for code in ("new_feed", "across_contact", "across_coil"):
        found = by(answer, code)
        assert found["as_is"] is None
        assert found["between"] == []
        assert len(found["between_with_way"]) == 2
    plain = plan(lamp(way=False))
    for each in plain["readings"][:-1]:  # what is there as it is stays as it was
        assert by(answer, each["code"], each["part"])["as_is"] == each["as_is"]


def test_a_starters_solenoid_by_ohms_law():
    answer = plan(starter())
    amps = 12.6 / (INSIDE + FUSE + SWITCH + WIRE_OHM + 0.4 + GROUND)
    held_to(by(answer, "across_load")["as_is"], 0.4 * amps, off_v)
    held_to(by(answer, "across_switch")["as_is"], SWITCH * amps, off_v)
    held_to(by(answer, "through_part")["as_is"], amps, off_a)
    # What cranking draws the circuit does not say: asked for, and no number made up.
    found = by(answer, "cranking")
    assert found["as_is"] is None
    assert "the motor does not stand in the circuit" in found["how"]


def with_own_relay():
    """The same lamp with that relay in the circuit already; its coil hangs on the dash switch."""
    body = lamp(way=False)
    circuit = body["circuit"]
    (load,) = circuit["loads"]
    coil, ground = load["nodes"]
    load["nodes"] = ["lamp +", ground]
    circuit["branches"].append(contact("new fuse", "fuse", NEW_FUSE, nodes=["post", "fused"]))
    circuit["relays"] = [
        {
            "name": "lamp relay", "nominal_v": 12, "coil_resistance_ohm": COIL, "pick_up_v": 7.0,
            "drop_out_v": 1.2, "contact_resistance_ohm": NEW_CONTACT, "rating_a": 30,
            "suppression": {"kind": "none"}, "coil_nodes": [coil, ground],
            "contact_nodes": ["fused", "lamp +"],
        }
    ]  # fmt: skip
    return body


def test_a_lamp_that_has_a_relay_already_by_ohms_law():
    """What the switch and its wire carry is the coil's; the contact carries the lamp's."""
    answer = plan(with_own_relay())
    old, new = COIL + FUSE + SWITCH + WIRE_OHM, NEW_FUSE + NEW_CONTACT + LAMP
    both = 1 / (1 / old + 1 / new)
    amps = 12.0 / (INSIDE + GROUND + both)
    coil_a, lamp_a = amps * both / old, amps * both / new
    expected = {
        ("across_part", "lamp fuse"): FUSE * coil_a,
        ("across_switch", "dash switch"): SWITCH * coil_a,
        ("across_part", "to the lamp"): WIRE_OHM * coil_a,
        ("across_coil", "lamp relay"): COIL * coil_a,
        ("across_part", "new fuse"): NEW_FUSE * lamp_a,
        ("across_part", "lamp relay"): NEW_CONTACT * lamp_a,
        ("across_load", None): LAMP * lamp_a,
        ("across_part", "lamp ground"): GROUND * amps,
    }
    for (code, part), volts in expected.items():
        held_to(by(answer, code, part)["as_is"], volts, off_v)
    coil, closed = by(answer, "across_coil"), by(answer, "across_part", "lamp relay")
    assert (coil["red"], coil["black"]) == ("lamp relay [86]", "lamp relay [85]")
    assert (closed["red"], closed["black"]) == ("lamp relay [30]", "lamp relay [87]")
    assert "part by part" in coil["means_if_less"]
    assert "does not close" in closed["means_if_more"]
    assert_dead(by(answer, "switched_off"))
    assert "sticks" in by(answer, "switched_off")["means_if_more"]
    assert answer["readings"][-1]["code"] == "switched_off"


def test_a_plunger_is_too_quick_for_a_meter():
    answer = plan(starter())
    for each in answer["readings"]:
        is_short = each["code"] not in {"at_rest", "cranking", "switched_off"}
        assert each["to_be_caught"] == is_short
        assert (each["phase"] == "pull_in") == is_short
        if is_short:
            assert each["least_duration_s"] == 0.1
            for word in ("0.1 s to 0.3 s", "hold", "recording", "a known load of 0.4 Ω"):
                assert word in each["how"], each["code"]
    # Volts that a cranked engine pulls down are lower than what the plunger had.
    assert "hold the least" in by(answer, "across_load")["how"]
    assert "that dips lower" in by(answer, "across_load")["how"]
    assert "hold the most" in by(answer, "across_switch")["how"]
    body = starter()
    body["cases"][0]["held"] = ["reading lamp"]
    held = by(plan(body), "across_load")
    assert (held["phase"], held["to_be_caught"]) == ("held", False)
    steady = by(plan(lamp()), "across_load")
    assert (steady["phase"], steady["to_be_caught"]) == ("steady", False)


def test_a_motor_in_the_circuit_tells_what_cranking_pulls_down():
    body = starter()
    body["circuit"]["loads"].append(
        {"name": "motor", "kind": "resistance", "resistance_ohm": 0.05, "circuit": "starter_motor",
         "nodes": ["post", "ground"]}
    )  # fmt: skip
    answer = plan(body)
    rest = FUSE + SWITCH + WIRE_OHM + 0.4 + GROUND
    both = 1 / (1 / rest + 1 / 0.05)
    found = by(answer, "supply")
    held_to(found["as_is"], 12.6 * both / (both + INSIDE), off_v)
    assert found["phase"] == "cranking"
    assert found["on"] == ["reading lamp", "motor"]
    assert "15 s at most" in found["how"]
    assert "cranking" not in {each["code"] for each in answer["readings"]}


def test_all_off_is_the_battery_alone():
    """No generator runs, no coil draws; a second battery that is joined stays so."""
    body = lamp()
    body["circuit"]["further_sources"] = [
        {"name": "generator", "kind": "charger", "nodes": ["post", "ground"], "regulated_v": 14.4,
         "internal_resistance_ohm": 0.01, "limit_a": 60},
        {"name": "second battery", "kind": "battery", "nodes": ["post", "ground"],
         "open_circuit_v": 12.9, "internal_resistance_ohm": 0.05},
    ]  # fmt: skip
    found = by(plan(body), "at_rest")
    held_to(found["as_is"], 12.45, off_v)  # halfway: both have the same resistance
    assert found["with_way"] == found["as_is"]
    assert found["on"] == []
    assert by(plan(body), "supply")["as_is"]["usual"] > 13


def test_the_red_lead_is_where_plus_is():
    for body in (lamp(), example(), as_plan(horn())):
        turned = positive_ground(copy.deepcopy(body))
        for right, left in zip(plan(body)["readings"], plan(turned)["readings"], strict=True):
            if right["code"] == "across_coil":  # where it may have a diode 86 has plus anyway
                assert "[86]" in right["red"]
            else:
                assert (right["red"], right["black"]) == (left["black"], left["red"])
            assert right["between"] == left["between"][::-1]
            for each in (right["as_is"], left["as_is"], right["with_way"], left["with_way"]):
                assert each is None or each["usual"] >= 0
            for column in ("as_is", "with_way"):
                if right[column]:
                    assert left[column]["usual"] == pytest.approx(right[column]["usual"])


def test_the_sheet_for_the_relay_expects_the_same_volts(run):
    body = fan()
    sheet = {each.code: each.expected[0] for each in run("work-sheet", **body).readings}
    answer = plan(as_plan(body))
    there = {each["code"] for each in answer["readings"]} & sheet.keys()
    assert there == sheet.keys() - {"ground_side"}  # one part: its own reading stands for it
    for code in there:
        found = by(answer, code)
        for column, volts in (("as_is", "as_is_v"), ("with_way", "with_relay_v")):
            expected = getattr(sheet[code], volts)
            assert (found[column] and found[column]["usual"]) == (
                expected if expected is None else pytest.approx(expected, abs=1e-9)
            )


def test_amperes_are_read_by_a_clamp_round_an_insulated_wire():
    for body in (lamp(), starter(), example()):
        answer = plan(body)
        for each in answer["readings"]:
            is_clamp = each["kind"] == "amperes"
            assert (each["red"] is None) == (each["black"] is None) == is_clamp
            assert (each["clamp"] is not None) == is_clamp
            said = " ".join(each["cautions"])
            assert ("Amperes by a clamp only, round insulated cable" in said) == is_clamp
        assert any("never through the sockets" in each["text"] for each in answer["before"])
    body = lamp(way=False)
    bare = {**body["circuit"]["branches"][2], "name": "bare lead", "nodes": ["n3", "n3b"]}
    del bare["insulation"]
    body["circuit"]["branches"].append(bare)
    body["circuit"]["loads"][0]["nodes"][0] = "n3b"
    assert by(plan(body), "through_part")["clamp"] == "to the lamp"


def test_what_can_hurt_someone_is_told_where_it_can():
    answer = plan(example())
    codes = [each["code"] for each in answer["before"]]
    assert codes == ["make_safe", "fans", "sockets", "clamp", "terminals", "pauses", "write"]
    assert "wheels chocked, ignition disabled" in answer["before"][0]["text"]
    assert "10 s at most" in answer["before"][5]["text"]
    for each in answer["readings"]:
        said = " ".join(each["cautions"])
        assert ("can move the vehicle" in said) == (each["phase"] != "at_rest")
        assert ("burn skin" in said) == (each["case"] == "hot restart, aged switch")
    assert "can move the vehicle" in answer["cautions"][0]
    assert any("local codes" in each for each in answer["cautions"])


def test_a_jumper_parts_the_way_from_the_starter():
    body = starter()
    found = plan(body)["jumper"]
    amps = 12.6 / (INSIDE + 0.02 + 0.4 + GROUND)  # of the jumper 20 milliohm, by practice
    assert found["current_a"] == pytest.approx(amps)
    assert found["fuse_a"] == 30  # of 25.7 A
    assert (found["start"], found["end"]) == ("post", "n3")
    for word in ("out of gear", "wheels chocked", "dash switch open", "a fuse", "25.8 A", "30 A"):
        assert word.lower() in found["text"].lower(), word
    assert "the way to reading lamp is at fault" in found["if_it_cranks"]
    assert "brushes" in found["if_it_does_not"]
    assert "hot-soaked" in found["again"]
    body["circuit"]["source"]["open_circuit_v"] = {"low": 12.0, "high": 13.0}
    assert plan(body)["jumper"]["current_a"] == pytest.approx(amps * 13.0 / 12.6)
    turned = plan(positive_ground(starter()))["jumper"]
    assert (turned["start"], turned["end"]) == ("post", "n3")
    # A switch in the ground lead keeps the ground from it.
    body = starter()
    body["circuit"]["branches"][1]["nodes"] = ["n4", "n5"]
    body["circuit"]["branches"][0]["nodes"] = ["post", "n2"]
    body["circuit"]["branches"][3]["nodes"] = ["n5", "ground"]
    found = plan(body)["jumper"]
    assert (found["start"], found["end"]) == ("ground", "n4")
    amps = 12.6 / (INSIDE + FUSE + WIRE_OHM + 0.4 + 0.02)
    assert found["current_a"] == pytest.approx(amps)


@pytest.mark.parametrize("make", [lamp, lambda: as_plan(fan()), lambda: as_plan(horn())])
def test_without_a_starter_nothing_is_said_of_one(make):
    answer = plan(make())
    assert answer["jumper"] is None
    said = str(answer)
    for word in ("starter circuit can move", "cranked", "plunger", "ignition"):
        assert word not in said
    assert "pauses" not in {each["code"] for each in answer["before"]}
    assert answer["before"][0]["text"] == "Brake on, wheels chocked."


def test_a_meter_that_is_given_counts_in_the_bands():
    body = lamp(way=False)
    body["meters"] = [
        {"name": "shop meter", "kind": "volts", "accuracy_percent": 2, "accuracy_digits": 0,
         "resolution_v": 0.1},
        {"name": "shop clamp", "kind": "amperes", "accuracy_percent": 5, "accuracy_digits": 3},
    ]  # fmt: skip
    answer = plan(body)
    held_to(by(answer, "at_rest")["as_is"], 12.0, lambda v: 0.02 * v + 0.05)
    amps = by(answer, "through_part")["as_is"]["usual"]
    held_to(by(answer, "through_part")["as_is"], amps, lambda a: 0.05 * a + 3.5 * 0.01)
    assert [each["name"] for each in answer["meters_used"]] == ["shop meter", "shop clamp"]
    assert not any("usual" in each for each in answer["basis"])
    usual = plan(lamp(way=False))
    assert [each["name"] for each in usual["meters_used"]] == [None, None]
    assert sum("a usual" in each for each in usual["basis"]) == 2


def test_where_a_meter_takes_its_next_range_it_is_further_off():
    """At 2 V its digit goes from 1 to 10 mV: 2.00 V may be shown as less than 1.99 V is."""
    meter = usual_meter("volts")
    least, most = meter.least_and_most(1.99, 2.01)
    assert least == pytest.approx(2.0 - 0.01 - 0.025, abs=1e-6)
    assert most == pytest.approx(2.01 + 0.01005 + 0.025)
    assert meter.least_and_most(-2.01, -1.99) == pytest.approx((-most, -least))
    assert meter.least_and_most(1.5, 1.6) == pytest.approx((1.49, 1.6105))  # of one range


VERDICTS = {
    "pass": ({"needed_v": 8.0}, "to spare"),
    "fail": ({"needed_v": 11.9}, "short"),
    "undecided": ({"needed_v": 11.1, "switch": {"low": 0.0, "high": 0.4}}, "does not decide"),
}


@pytest.mark.parametrize("verdict", VERDICTS)
def test_what_reaches_the_load_is_judged_by_the_whole_of_its_bounds(verdict):
    fields, said = VERDICTS[verdict]
    answer = plan(lamp(way=False, **fields))
    (check,) = answer["checks"]
    assert (check["code"], check["verdict"]) == ("load_voltage", verdict)
    assert said in check["message"]
    if verdict == "undecided":
        ohms = INSIDE + FUSE + WIRE_OHM + LAMP + GROUND
        assert check["value"] == pytest.approx(12.0 * LAMP / (ohms + 0.4))
        assert answer["at_load"]["high_v"] == pytest.approx(12.0 * LAMP / ohms)


def test_a_reading_that_passes_reads_as_the_circuit_that_was_asked(run):
    """The nodes of a reading are those of the request: it can be posted to `circuit-fit`."""
    body = example()
    answer = plan(body)
    case = body["cases"][0]["name"]
    readings = [
        {"case": case, "between": each["between"], "value_v": each["as_is"]["usual"]}
        for each in answer["readings"]
        if each["case"] == case and each["phase"] == "pull_in" and each["between"]
    ]
    readings += [
        {"case": case, "through": each["clamp"], "value_a": each["as_is"]["usual"]}
        for each in answer["readings"]
        if each["case"] == case and each["clamp"] and each["as_is"]
    ]
    fitted = run("circuit-fit", circuit=body["circuit"], cases=body["cases"], load=body["load"],
                 readings=readings)  # fmt: skip
    assert fitted.agreement == "agrees"
    for each in fitted.residuals:
        assert each.read == pytest.approx(each.fitted, rel=2e-3, abs=2e-4)


def test_a_held_relay_and_a_held_solenoid_are_read_as_held():
    answer = plan(as_plan(cranking(inside_ohm=0.03, hold_v=4.0)))
    assert by(answer, "across_load")["with_way"]["usual"] > 5
    assert by(answer, "across_contact")["with_way"]["usual"] < 0.1
