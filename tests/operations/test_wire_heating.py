"""Wire heating: model and published table, duties, and the limits of both."""

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp

from lastvolt_service.errors import ConflictingFields, UnknownSize
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.practice import zones

WIRE = {"size": "12 AWG", "current_a": 20, "ambient_c": 30, "insulation_limit_c": 105}
TABLE = "33 CFR 183.425 Table 5"
MODEL = "Churchill and Chu"


def heating(run, *left_out, **fields):
    given_fields = {name: value for name, value in WIRE.items() if name not in left_out}
    return run("wire-heating", **{**given_fields, **fields})


def verdicts(found):
    return {check.code: check.verdict for check in found.checks}


# 33 CFR 183.425 Table 5: 45 A for 12 AWG of 105 degC at 30 degC, 0.85 of it in engine spaces, whose
# ambient is 50 degC. NFPA 70, 310.15(B): the square root of the rise left, 0.816 of 20 K of 30.
# E-11 reprints: 0.70 for bundles of 3. MIL-W-5088B as reprinted: 0.94 for 2.
@pytest.mark.parametrize(
    ("fields", "expected_a"),
    [
        ({}, 45),
        ({"ambient_c": -20}, 45),  # the table knows no colder air
        ({"ambient_c": 30.75}, 45 * math.sqrt(74.25 / 75)),
        ({"ambient_c": 50}, 0.85 * 45),
        ({"ambient_c": 57}, 45 * 0.8),  # 48 K of 75 K
        ({"ambient_c": 50.001}, 0.85 * 45),  # where the rise left is above the printed factor
        ({"grouped_conductors": 2}, 0.94 * 45),
        ({"grouped_conductors": 3, "ambient_c": 50}, 0.70 * 0.85 * 45),
        ({"size": "4/0 AWG"}, 445),
        ({"size": "11 AWG"}, math.sqrt(45 * 60)),  # half way between two sizes, in logarithms
        ({"construction": "solid"}, 45),  # stranded wire of its section
        ({"insulation_limit_c": 110}, 45),  # the next lower column
        ({"insulation_limit_c": 75, "size": "8 AWG"}, 65),
        ({"insulation_limit_c": 50}, 25 * math.sqrt(20 / 30)),  # lower than any column
    ],
)
def test_published_table_where_it_is_the_lower(run, fields, expected_a):
    found = heating(run, **fields)
    assert_allclose(found.permissible_current_a, expected_a, rtol=1e-9)
    assert found.permissible_table_a == found.permissible_current_a < found.permissible_model_a
    assert found.permissible_from == "table"
    check = found.checks[1]
    assert (check.code, check.limit) == ("permissible_current", found.permissible_current_a)
    assert TABLE in check.basis
    assert check.basis in found.basis


@pytest.mark.parametrize(
    "fields",
    [
        {"size": "12 SAE"},  # a tenth less copper
        {"size": "2.5 mm2"},
        {"material": "tinned_copper"},
        {"material": "aluminium"},
        {"size": "13 AWG"},
    ],
)
def test_less_copper_and_more_resistance_are_permitted_less_by_the_table(run, fields):
    """Between 14 and 12 AWG, or below: 35 and 45 A."""
    found = heating(run, **fields)
    assert 33 < found.permissible_table_a < 45
    assert TABLE in found.checks[1].basis


@pytest.mark.parametrize(
    ("size", "edge", "exponent"), [("22 AWG", "18 AWG", 0.75), ("120 mm2", "4/0 AWG", 0.5)]
)
def test_beyond_the_tables_sizes_its_current_is_carried_on(run, size, edge, exponent):
    """Below as the 3/4 power of the copper, above as the square root; and it is told."""
    there, here = (heating(run, size=each) for each in (edge, size))
    ohm = [run("wire-resistance", size=each, length_m=1).resistance_ohm for each in (edge, size)]
    expected_a = there.permissible_table_a * (ohm[0] / ohm[1]) ** exponent
    assert_allclose(here.permissible_table_a, expected_a, rtol=1e-9)
    assert any("carried on" in text for text in here.basis)
    assert not any("carried on" in text for text in there.basis)


def test_factor_of_engine_spaces_is_named(run):
    assert "factor inside engine spaces" in heating(run, ambient_c=50).checks[1].basis
    assert "factor inside engine spaces" not in heating(run).checks[1].basis


def test_looms_whose_factor_is_disputed_say_so(run):
    """E-11 says 0.70 for three wires, MIL-W-5088B 0.89; for seven nobody else says anything."""
    (text,) = (each for each in heating(run, grouped_conductors=3).basis if "E-11" in each)
    assert "disputed" in text
    assert "0.89" in text
    assert not any("disputed" in each for each in heating(run, grouped_conductors=7).basis)


def test_model_where_it_is_the_lower(run):
    """The table knows no altitude."""
    found = heating(run, altitude_m=6000, outer_diameter_mm=2.4)
    assert found.permissible_model_a < found.permissible_table_a == 45
    assert found.permissible_current_a == found.permissible_model_a
    assert found.permissible_from == "model"
    assert MODEL in found.checks[1].basis
    assert not any(TABLE in text for text in found.basis)


@settings(max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(["22 AWG", "14 AWG", "6 AWG", "2/0 AWG", "1.5 mm2", "8 SAE"]),
    st.sampled_from(insulation_kinds()),
    st.floats(-40, 84),
    st.integers(1, 12),
    st.floats(0, 6000),
)
def test_permissible_model_heats_to_the_limit(run, size, kind, ambient_c, grouped, altitude_m):
    place = {
        "insulation": kind,
        "ambient_c": ambient_c,
        "grouped_conductors": grouped,
        "altitude_m": altitude_m,
    }
    found = heating(run, "insulation_limit_c", size=size, **place)
    limit_c = insulation(kind).limit_c
    assert found.insulation_limit_c == limit_c
    assert found.permissible_current_a == min(found.permissible_model_a, found.permissible_table_a)
    at_limit = heating(
        run, "insulation_limit_c", size=size, **{**place, "current_a": found.permissible_model_a}
    )
    assert_allclose(at_limit.conductor_temperature_c, limit_c, atol=1e-6)
    assert ambient_c < at_limit.surface_temperature_c < limit_c


@pytest.mark.parametrize("ambient_c", [-60, 20, 105])
def test_no_current_leaves_the_wire_at_ambient(run, ambient_c):
    found = heating(run, current_a=0, ambient_c=ambient_c)
    assert found.conductor_temperature_c == found.surface_temperature_c == ambient_c
    assert set(verdicts(found).values()) == {"pass"}


@pytest.mark.parametrize("current_a", [1e-9, 1e-3])
def test_tiny_current_hardly_warms(run, current_a):
    found = heating(run, current_a=current_a)
    assert_allclose(found.conductor_temperature_c, 30, atol=1e-6)


@pytest.mark.parametrize("current_a", [500, 1e4])
def test_huge_current_finds_no_rest(run, current_a):
    found = heating(run, current_a=current_a)
    assert found.conductor_temperature_c is found.surface_temperature_c is None
    assert found.time_constant_s is None
    assert verdicts(found) == {"conductor_temperature": "fail", "permissible_current": "fail"}
    assert "heats up without end" in found.checks[0].message
    assert found.checks[0].value is found.checks[0].margin is None


def test_current_above_the_limit_still_finds_rest(run):
    """Too hot for the insulation, but not without end."""
    found = heating(run, current_a=60)
    assert 105 < found.conductor_temperature_c < 205
    assert verdicts(found)["conductor_temperature"] == "fail"
    assert "better insulation" in found.checks[0].message


@pytest.mark.parametrize("ambient_c", [105, 105.001, 250])
def test_ambient_at_the_limit_permits_nothing(run, ambient_c):
    found = heating(run, ambient_c=ambient_c, current_a=1)
    assert (found.permissible_current_a, found.permissible_model_a) == (0, 0)
    assert verdicts(found) == {"conductor_temperature": "fail", "permissible_current": "fail"}
    short = heating(run, ambient_c=ambient_c, current_a=1, on_time_s=1)
    assert (short.duty_current_a, verdicts(short)) == (0, {"duty_current": "fail"})


def test_marginal_is_judged_by_the_rise_that_is_left(run):
    model_a = heating(run).permissible_model_a
    near, far = (heating(run, current_a=share * model_a).checks[0] for share in (0.97, 0.9))
    assert (near.verdict, far.verdict) == ("marginal", "pass")
    assert near.margin < 0.1 * (105 - 30) < far.margin


# Duty. -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("fields", [{}, {"grouped_conductors": 7}, {"size": "4/0 AWG"}])
def test_shorter_loads_may_be_larger_and_long_ones_tend_to_what_is_steady(run, fields):
    times_s = [1e-3, 0.1, 10, 300, 3000, 1e6]
    found = [heating(run, on_time_s=time_s, **fields) for time_s in times_s]
    duties_a = [each.duty_current_a for each in found]
    steady_a = found[0].permissible_current_a
    assert duties_a == sorted(duties_a, reverse=True)
    assert duties_a[-3] < duties_a[-4]
    assert min(duties_a) >= steady_a * (1 - 1e-9)
    assert_allclose(duties_a[-1], steady_a, rtol=1e-6)


def test_shorter_rests_allow_less(run):
    once_a = heating(run, on_time_s=20).duty_current_a
    duties_a = [
        heating(run, on_time_s=20, off_time_s=rest_s).duty_current_a
        for rest_s in (1e-3, 1, 60, 600, 1e6)
    ]
    assert duties_a == sorted(duties_a)
    assert_allclose(duties_a[0], heating(run).permissible_current_a, rtol=1e-3)
    assert_allclose(duties_a[-1], once_a, rtol=1e-6)


@pytest.mark.parametrize("on_time_s", [0.01, 0.05, 0.2])
def test_short_duty_takes_the_wire_to_its_limit(run, on_time_s):
    """Within the 0.1 % of the rise that the course in time is good for."""
    duty_a = heating(run, on_time_s=on_time_s).duty_current_a
    found = heating(run, on_time_s=on_time_s, current_a=duty_a)
    assert_allclose(found.temperature_after_on_time_c, 105, atol=1e-3 * (105 - 30))
    check = found.checks[0]
    assert (check.code, check.verdict, check.limit) == ("duty_current", "marginal", duty_a)


def test_temperature_after_a_load(run):
    steady_c = heating(run).conductor_temperature_c
    after_c = [
        heating(run, on_time_s=time_s).temperature_after_on_time_c
        for time_s in (1e-3, 30, 300, 1e5)
    ]
    assert after_c == sorted(after_c)
    assert_allclose(after_c[0], 30, atol=1e-3)
    assert_allclose(after_c[-1], steady_c, rtol=1e-9)
    assert heating(run).temperature_after_on_time_c is None
    gone = heating(run, current_a=1000, on_time_s=60)
    assert gone.temperature_after_on_time_c is None
    assert verdicts(gone) == {"duty_current": "fail"}


def test_time_constant_is_that_of_the_course_in_time(run):
    """After one time constant: 1 - 1/e of the rise, less what the law of cooling takes.

    Heat goes as a power n of the rise: 1 for radiation, 5/4 for laminar natural convection. With
    ``x`` the share of the rise and ``s`` the time over the time constant, ``n dx/ds = 1 - x**n``.
    """
    found = heating(run, current_a=5)
    after = heating(run, current_a=5, on_time_s=found.time_constant_s)
    reached = (after.temperature_after_on_time_c - 30) / (found.conductor_temperature_c - 30)
    convection = solve_ivp(lambda _, x: (1 - x**1.25) / 1.25, (0, 1), [0.0], rtol=1e-8).y[0, -1]
    assert convection < reached < 1 - 1 / math.e


def test_short_duty_is_cautioned(run):
    assert any("contact that stays closed" in text for text in heating(run, on_time_s=1).cautions)
    assert not any("contact that stays closed" in text for text in heating(run).cautions)


# Words. ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "said", "not_said"),
    [
        ({}, ("12 AWG reaches", "at 20 A in air of 30 °C"), ("without end", "may carry")),
        ({"current_a": 500}, ("heats up without end at 500 A",), ("reaches", "may carry")),
        ({"on_time_s": 60}, ("for 60 s in air", "and carries 20 A; it reaches"), ("gone",)),
        (
            {"on_time_s": 60, "current_a": 1000},
            ("and carries 1000 A; its insulation, which bears 105 °C, is gone before",),
            ("reaches", "without end"),
        ),
    ],
)
def test_headline_says_what_becomes_of_the_wire(run, fields, said, not_said):
    headline, _, fails = heating(run, **fields).headline.partition(" What fails: ")
    assert bool(fails) == (heating(run, **fields).verdict == "fail")
    assert all(text in headline for text in said), headline
    assert not any(text in headline for text in not_said), headline
    assert headline.endswith("105 °C.") or headline.endswith("before.")


# Short circuit. --------------------------------------------------------------------------------


# Insulated-cable practice for copper, (I/A)**2 t = 0.0297 log10((T2 + 234) / (T1 + 234)) with A in
# circular mils; XLPE from 125 to 250 degC, 12 AWG 6530 cmil. 1 % as for the formula itself.
def test_short_circuit_of_a_solid_conductor(run):
    found = heating(run, "insulation_limit_c", insulation="GXL", construction="solid")
    expected = 0.0297 * math.log10((250 + 234) / (125 + 234)) * 6530**2
    assert_allclose(found.short_circuit_a2s, expected, rtol=0.01)


@pytest.mark.parametrize(
    "fields", [{}, {"insulation": "ISO class C"}, {"insulation": "GXL", "insulation_limit_c": 250}]
)
def test_no_short_circuit_limit_where_none_is_known_or_left(run, fields):
    assert heating(run, **fields).short_circuit_a2s is None


# Requests. -------------------------------------------------------------------------------------


def test_zone_stands_for_its_ambient(run):
    found = heating(run, "ambient_c", zone="underbody")
    assert found.ambient_c == zones()["underbody"].ambient_c
    by_degrees = heating(run, ambient_c=found.ambient_c)
    assert found.conductor_temperature_c == by_degrees.conductor_temperature_c
    assert set(found.basis) - set(by_degrees.basis) == {zones()["underbody"].citation}


@pytest.mark.parametrize(
    ("left_out", "fields", "pointer"),
    [
        ((), {"zone": "cabin"}, "#/zone"),
        (("ambient_c",), {}, "#"),
        (("insulation_limit_c",), {}, "#"),
        ((), {"off_time_s": 5}, "#/on_time_s"),
        ((), {"on_time_s": 0}, "#/on_time_s"),
        ((), {"grouped_conductors": 0}, "#/grouped_conductors"),
        ((), {"insulation": "wool"}, "#/insulation"),
        ((), {"zone": "boot"}, "#/zone"),
    ],
)
def test_refused(client, left_out, fields, pointer):
    body = {name: value for name, value in WIRE.items() if name not in left_out}
    answer = client.post("/v1/wire-heating", json={**body, **fields})
    assert answer.status_code == 422
    assert pointer in [error["pointer"] for error in answer.json["errors"]]


def test_size_and_diameter_that_cannot_be(run):
    with pytest.raises(UnknownSize):
        heating(run, size="2.6 mm2")
    with pytest.raises(ConflictingFields, match="less than the conductor") as caught:
        heating(run, outer_diameter_mm=2)
    assert caught.value.path == ("outer_diameter_mm",)


def test_the_first_pulse_is_not_told_for_all_of_them(run):
    """45 A are too much for 14 AWG with a second of rest; from cold 30 s of it are little."""
    asked = {"size": "14 AWG", "insulation": "GXL", "current_a": 45, "ambient_c": 40,
             "on_time_s": 30}  # fmt: skip
    often = run("wire-heating", **asked, off_time_s=1)
    assert often.verdict == "fail"
    assert "it reaches" not in often.headline
    assert (
        "the first time alone takes it to 64 °C, and each further one begins with what the rest "
        "has left of that."
    ) in often.headline
    once = run("wire-heating", **asked)
    assert "it reaches 64 °C" in once.headline
    assert "first time" not in once.headline
