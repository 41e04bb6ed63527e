"""Wire sizing against the single operations: each says of the size what sizing says of it."""

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import Fields
from lastvolt_service.operations.fuses.selection import FuseSelectionRequest
from lastvolt_service.operations.wires.drop_request import VoltageDropRequest
from lastvolt_service.operations.wires.heating import WireHeatingRequest
from lastvolt_service.operations.wires.path_parts import WireSegment
from lastvolt_service.operations.wires.resistance import WireResistanceRequest
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.materials import material_names
from lastvolt_service.tables.practice import minimum_sizes, zones
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes

from ..cost import some


def log_floats(low, high):
    return st.floats(math.log(low), math.log(high)).map(math.exp).map(lambda x: float(f"{x:.6g}"))


def one_of_fields(**strategies):
    """Draw one of several fields."""
    return st.one_of(*(st.fixed_dictionaries({name: each}) for name, each in strategies.items()))


@st.composite
def duties(draw):
    nominal_v = draw(st.sampled_from([6, 12, 24]))
    duty = {
        "supply_v": nominal_v * draw(st.floats(0.9, 1.2)),
        "load_current_a": draw(log_floats(0.5, 300)),
        "length_m": draw(log_floats(0.1, 30)),
        "return_path": draw(st.sampled_from(["wire", "body"])),
        "standard": draw(st.sampled_from([*STANDARDS])),
    }
    groups = [
        one_of_fields(
            ambient_c=st.floats(-40, 125),
            zone=st.sampled_from([*zones()]),
        ),
        one_of_fields(
            insulation=st.sampled_from(insulation_kinds()),
            insulation_limit_c=st.floats(60, 250),
        ),
        one_of_fields(
            circuit=st.sampled_from(["continuous", "intermittent"]),
            limit_drop_v=log_floats(0.05, 4),
            limit_drop_percent=log_floats(1, 25),
        ),
        st.fixed_dictionaries(
            {},
            optional={
                "nominal_v": st.just(nominal_v),
                "grouped_conductors": st.integers(1, 30),
                "altitude_m": st.floats(0, 6000),
                "material": st.sampled_from(material_names()),
                "fuse_ambient_c": st.floats(-40, 125),
                "fuse_family": st.sampled_from(fuse_families()),
                "inrush_time_s": log_floats(1e-3, 60),
            },
        ),
    ]
    for group in groups:
        duty |= draw(group)
    if duty["return_path"] == "body" and draw(st.booleans()):
        duty["body_resistance_ohm"] = draw(st.floats(0, 0.05))
    if draw(st.booleans()):
        duty["inrush_current_a"] = duty["load_current_a"] * draw(st.floats(1, 12))
    if draw(st.booleans()):
        duty["contacts_resistance_ohm"] = draw(st.floats(0, 0.05))
    if duty["standard"] == "AWG" and draw(st.booleans()):
        duty["construction"] = "solid"
    if draw(st.integers(0, 4)) == 0:
        duty["outer_diameter_mm"] = draw(log_floats(2, 30))
    return duty


def asked_of(schema, duty):
    names = schema.described if issubclass(schema, Fields) else schema().fields
    return {name: value for name, value in duty.items() if name in names}


def contacts_of(found, duty):
    """What the answer reckons with for contacts, as a resistance. [ohm]."""
    given_ohm = duty.get("contacts_resistance_ohm")
    return found.contacts_drop_v / duty["load_current_a"] if given_ohm is None else given_ohm


def hot_loop_ohm(run, duty, size, loop_length_m, body_ohm):
    """Resistance of the loop at the limit of its insulation: a short circuit heats it."""
    limit_c = duty.get("insulation_limit_c") or insulation(duty["insulation"]).limit_c
    wire = asked_of(WireResistanceRequest, duty) | {"size": size, "length_m": loop_length_m}
    return run("wire-resistance", **wire, temperature_c=limit_c).resistance_ohm + body_ohm


def single_answers(run, duty, size, ambient_c, loop_length_m, body_ohm, kept_ohm):
    """Ask the three single operations about one size; each an answer or its error."""
    short_ohm = body_ohm - kept_ohm  # what is kept back is in no short circuit
    try:
        loop_ohm = hot_loop_ohm(run, duty, size, loop_length_m, short_ohm)
    except CalculationError:  # which the others say as well
        loop_ohm = short_ohm
    wire = {"kind": "wire", "name": "loop", "size": size, "length_m": loop_length_m}
    wire |= asked_of(WireSegment, duty) | {"ambient_c": ambient_c, "length_m": loop_length_m}
    body = {"kind": "resistance", "name": "body and contacts", "resistance_ohm": body_ohm}
    requests = {
        "wire-heating": asked_of(WireHeatingRequest, duty)
        | {"size": size, "current_a": duty["load_current_a"]},
        "voltage-drop": asked_of(VoltageDropRequest, duty) | {"segments": [wire, body]},
        "fuse-selection": asked_of(FuseSelectionRequest, duty)
        | {"size": size, "loop_resistance_ohm": loop_ohm},
    }
    found = {}
    for name, request in requests.items():
        try:
            found[name] = run(name, **request)
        except CalculationError as error:
            found[name] = error
    return found


def is_over(check):
    """Whether a path drops more than by practice it may: one that is laid anew is not to do so."""
    return check.code == "path_drop" and check.value is not None and check.value > check.limit


def refusals(answers):
    """Names of what says no: failed checks, and questions without an answer."""
    said = []
    for name, found in answers.items():
        if isinstance(found, CalculationError):
            said.append(f"{name}: {found.detail}")
        else:
            # That the battery is flat is no matter of size.
            failed = [each for each in found.checks if each.verdict == "fail" or is_over(each)]
            said += [each.name for each in failed if each.code != "supply"]
    return said


@settings(
    max_examples=some(20, 200),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(duties())
def test_size_passes_and_no_smaller_one_does(run, duty):
    """No size that the single operations refuse, and none larger than needed."""
    found = run("wire-sizing", **duty)
    standard = duty["standard"]
    sizes = trade_sizes(standard)
    other_ohm = found.body_resistance_ohm + contacts_of(found, duty)
    kept_ohm = 0.0 if "contacts_resistance_ohm" in duty else contacts_of(found, duty)
    around = (found.ambient_c, found.loop_length_m, other_ohm, kept_ohm)
    by_wire = duty["return_path"] == "wire"
    assert found.loop_length_m == duty["length_m"] * (2 if by_wire else 1)
    if found.size is None:
        assert refusals(single_answers(run, duty, sizes[-1], *around))
        assert all(each.failing for each in found.candidates)
        return
    answers = single_answers(run, duty, found.size, *around)
    assert refusals(answers) == []
    heating, drop, fuse = answers.values()
    assert_allclose(found.conductor_temperature_c, heating.conductor_temperature_c, rtol=1e-12)
    assert_allclose(found.permissible_current_a, heating.permissible_current_a, rtol=1e-12)
    assert_allclose(found.drop_v, drop.drop_v, rtol=1e-12)
    assert_allclose(found.load_voltage_v, drop.load_voltage_v, rtol=1e-12, atol=1e-12)
    assert found.limit_drop_v == drop.limit_drop_v
    assert (found.fuse_rating_a, found.fuse_family) == (fuse.fuse_rating_a, fuse.fuse_family)
    here, least = sizes.index(found.size), sizes.index(minimum_sizes()[standard].size)
    assert here >= least
    assert all(each.failing for each in found.candidates[:-1])
    if here > least:
        assert refusals(single_answers(run, duty, sizes[here - 1], *around))


# Common practice for what is new: half of what a sound part may take. NAVEDTRA 14050 for a switch.
NEW_V = {"fuse": 0.1, "switch": 0.05, "connector": 0.05}


@settings(
    max_examples=some(8, 80),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    supply_v=st.sampled_from([12.6, 13.8, 25.6, 28.0]),
    load_current_a=log_floats(1, 60),
    length_m=log_floats(0.3, 12),
    circuit=st.sampled_from(["continuous", "intermittent"]),
    standard=st.sampled_from([*STANDARDS]),
    return_path=st.sampled_from(["wire", "body"]),
    zone=st.sampled_from(["cabin", "engine_bay", "underbody"]),
    is_given=st.booleans(),
)
def test_the_same_path_with_sound_contacts_passes(run, is_given, **duty):
    """A size found for a path holds in voltage-drop with fuse, switch and connector in it."""
    load_a = duty["load_current_a"]
    contacts = {part: volts / load_a for part, volts in NEW_V.items()}
    own = {"contacts_resistance_ohm": sum(contacts.values())} if is_given else {}
    found = run("wire-sizing", **duty, **own, insulation="TXL")
    if found.size is None:
        return
    wire = {"kind": "wire", "name": "loop", "size": found.size, "length_m": found.loop_length_m}
    place = {"standard": duty["standard"], "ambient_c": found.ambient_c, "insulation": "TXL"}
    body = {"kind": "resistance", "name": "body", "resistance_ohm": found.body_resistance_ohm}
    parts = [
        {"kind": "contact", "name": part, "part": part, "resistance_ohm": ohm}
        for part, ohm in contacts.items()
    ]
    drop = run(
        "voltage-drop",
        supply_v=duty["supply_v"],
        circuit=duty["circuit"],
        load_current_a=load_a,
        segments=[wire | place, *parts, body],
    )
    assert [check.code for check in drop.checks if check.verdict == "fail"] == []
