"""A wire too thin for its current is told, whatever its drop; what drops most is named."""

import pytest


def diagnose(run, *readings, **fields):
    return run("drop-diagnosis", **{"circuit": "continuous", "readings": list(readings), **fields})


def wire(measured_v, **fields):
    return {"kind": "wire", "name": "lead", "measured_v": measured_v, **fields}


def heat(found):
    return next(check for check in found.checks if check.code == "wires_heat")


THIN = {"size": "18 AWG", "length_m": 0.3}


# 18 AWG carries 25 A at most in the best of published tables.
@pytest.mark.parametrize("measured_v", [0.38, 0.42])
@pytest.mark.parametrize("step_v", [0.01, 0.0001])
def test_a_wire_that_burns_is_told_first(run, measured_v, step_v):
    meter = {"resolution_v": step_v, "accuracy_percent": 0.5}
    found = diagnose(run, wire(measured_v, **THIN), current_a=60, meter=meter)
    check = heat(found)
    assert (check.verdict, check.part, check.value) == ("fail", "lead", 60)
    assert check.limit <= 25
    assert found.too_hot == ("lead",)
    assert "What fails: heat of the wires (" in found.headline
    assert "more current" not in found.headline
    assert "elsewhere" not in found.headline


def test_a_coarse_meter_is_no_call_for_more_current(run):
    asked = {"current_a": 5, "meter": {"resolution_v": 0.1, "accuracy_percent": 1}}
    found = diagnose(run, wire(0.1, size="18 AWG", length_m=1), **asked)
    assert found.reason == "too_coarse"
    assert "more current" not in found.headline
    found = diagnose(run, wire(0.1, size="18 AWG", length_m=1), working_current_a=12, **asked)
    assert "Or read it at the working current, 12 A." in found.headline


def test_what_it_carries_at_work_counts(run):
    found = diagnose(run, wire(0.007, **THIN), current_a=1, working_current_a=60)
    assert heat(found).verdict == "fail"


# A key is held for seconds: 18 AWG bears more than 25 A so long, and no 200 A.
@pytest.mark.parametrize(("current_a", "verdict"), [(30, "unknown"), (200, "fail")])
def test_a_start_is_short(run, current_a, verdict):
    found = diagnose(
        run, wire(0.0064 * current_a, **THIN), current_a=current_a, circuit="starter_control"
    )
    assert heat(found).verdict == verdict


def test_what_no_reading_tells_is_not_judged(run):
    """12 AWG bears some 30 A at its poorest and 60 A at its best: of 40 A nobody knows."""
    cool = diagnose(run, wire(0.05, size="12 AWG", length_m=1), current_a=10)
    assert "wires_heat" not in {check.code for check in cool.checks}
    found = diagnose(run, wire(0.21, size="12 AWG", length_m=1), current_a=40)
    assert heat(found).verdict == "unknown"
    assert "lead" in heat(found).message
    assert "ask wire-heating" in heat(found).message


def test_sound_contacts_that_drop_most_are_named_and_no_wire_blamed(run):
    """A 6 V starter: 0.25 V for the path, of which a strap and the solenoid take all."""
    found = diagnose(
        run,
        {"kind": "contact", "name": "solenoid", "part": "relay", "measured_v": 0.28},
        {"kind": "contact", "name": "strap", "part": "ground", "measured_v": 0.25},
        wire(0.09, size="2/0 AWG", length_m=1.1),
        current_a=300,
        supply_v=4.8,
        load_voltage_v=4.18,
        nominal_v=6,
        circuit="starter_motor",
        meter={"resolution_v": 0.001, "accuracy_percent": 0.1},
    )
    assert found.reason == "too_thin"
    assert found.largest_drop == "solenoid"
    assert "solenoid drops most, 0.28 V" in found.headline
    assert "larger wires" not in found.headline
    assert "relay near" not in found.headline


@pytest.mark.parametrize(
    ("circuit", "current_a", "helps"), [("continuous", 8, True), ("starter_motor", 300, False)]
)
def test_no_relay_spares_a_starter_motor_its_cable(run, circuit, current_a, helps):
    size, length_m, ohm_per_m = ("12 AWG", 30, 0.00532) if helps else ("2/0 AWG", 8, 0.000267)
    lead = wire(ohm_per_m * length_m * current_a, size=size, length_m=length_m)
    found = diagnose(run, lead, current_a=current_a, circuit=circuit, nominal_v=12)
    assert found.reason == "too_thin"
    assert "larger wires" in found.headline
    assert ("relay near the load" in found.headline) == helps


def test_a_wire_that_may_burn_is_no_reason_to_look_elsewhere(run):
    """18 AWG at 20 A: behind 105 degC in free air it bears that, in a hot bay or a bundle not."""
    ends = {"supply_v": 12.6, "load_voltage_v": 12.47}
    found = diagnose(run, wire(0.13, **THIN), current_a=20, **ends)
    assert heat(found).verdict == "unknown"
    assert found.may_be_too_hot == ("lead",)
    assert "elsewhere" not in found.headline
    assert "lead may be too thin for 20 A all the same: ask wire-heating" in found.headline


GROUND = {"kind": "contact", "name": "g", "part": "ground", "measured_v": 2.0}


@pytest.mark.parametrize(
    ("readings", "meter", "fields"),
    [
        ([GROUND], {}, {}),
        ([], {"resolution_v": 0.1, "accuracy_percent": 1}, {}),
        ([], {}, {"supply_v": 12.6, "load_voltage_v": 10.0}),
        ([GROUND], {}, {"working_current_a": 61}),
    ],
)
def test_nothing_is_mended_or_read_before_a_wire_that_burns(run, readings, meter, fields):
    """Mending a ground of 2 V sends more than 60 A through 18 AWG."""
    asked = {"meter": {"resolution_v": 0.001, "accuracy_percent": 0.5} | meter, **fields}
    found = diagnose(run, wire(0.4, **THIN), *readings, current_a=60, **asked)
    assert found.advice in {"mend_the_wiring", "not_proven", "unmeasured_part"}
    amps = fields.get("working_current_a", 60)
    assert f"Before that, take a larger size of lead: it is too thin for {amps} A" in found.headline


def test_the_current_at_work_is_what_a_wire_is_too_thin_for(run):
    found = diagnose(
        run, wire(0.0064, **THIN), current_a=1, working_current_a=60,
        meter={"resolution_v": 0.0001, "accuracy_percent": 0.1},
    )  # fmt: skip
    assert "lead is too thin for 60 A" in found.headline


def test_a_circuit_that_is_not_told_is_judged_as_by_voltage_drop(run):
    """A load of its own current, on as long as it likes: its plug burns, its supply is flat."""
    plug = {"name": "plug", "kind": "contact", "part": "connector", "measured_v": 0.9}
    charge = run("drop-diagnosis", readings=[plug], current_a=40, supply_v=14.6)
    assert next(c for c in charge.checks if c.code == "contact_heat").verdict == "fail"  # 36 W
    switch = {"name": "switch", "kind": "contact", "part": "switch", "measured_v": 0.05}
    lamps = run("drop-diagnosis", readings=[switch], current_a=9, supply_v=11.2)
    assert (lamps.verdict, lamps.supply_is) == ("fail", "too_low")
