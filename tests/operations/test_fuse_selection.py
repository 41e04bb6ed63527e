"""Fuse selection: the ends of the window, families, and windows with nothing in them."""

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.errors import NotCovered
from lastvolt_service.tables import fuses as tables
from lastvolt_service.tables.practice import zones

# At 25 degC, where the ratings hold as they are.
BARE = {"load_current_a": 7.5, "permissible_current_a": 1000, "ambient_c": 25}
WIRE = {"load_current_a": 7.5, "size": "12 AWG", "insulation_limit_c": 105, "ambient_c": 30}
# Of the flat blades those whose operating times are known, and that their usual sockets bear.
BLADES_A = [fuse.rating_a for fuse in tables.fuses("blade C") if 3 <= fuse.rating_a <= 30]
# Multiples of the rating at which they must open: the first gates with a longest time.
OPENING = {
    family: next(g.rating_multiple for g in tables.gates(family) if math.isfinite(g.longest_s))
    for family in tables.fuse_families()
    if tables.gates(family)
}
OPENS = OPENING["blade C"]
SHARE = 0.75  # a fuse maker's application note: at 25 degC for ever


def selection(run, base=BARE, **fields):
    return run("fuse-selection", **{**base, **fields})


def verdicts(found):
    return {check.code: check.verdict for check in found.checks}


@pytest.mark.parametrize("rating_a", BLADES_A)
def test_load_of_just_three_quarters_of_a_rating(run, rating_a):
    found = selection(run, load_current_a=SHARE * rating_a)
    assert found.lower_a == found.fuse_rating_a == rating_a
    assert found.fuse_family == "blade C"
    assert verdicts(found)["fuse_carries_load"] == "pass"
    above = selection(run, load_current_a=math.nextafter(SHARE * rating_a, math.inf))
    larger = [each for each in BLADES_A if each > rating_a]
    if larger:
        assert above.fuse_rating_a == larger[0]
    else:
        assert (above.fuse_rating_a > rating_a, above.fuse_family) == (True, "blade E")


@pytest.mark.parametrize(("bears_a", "rating_a"), [(10.001 * OPENS, 10), (9.999 * OPENS, None)])
def test_wire_must_bear_every_current_at_which_the_fuse_may_not_open(run, bears_a, rating_a):
    """A fuse of 10 A is sure to open at its first must-open gate only."""
    found = selection(run, permissible_current_a=bears_a)
    assert found.fuse_rating_a == rating_a
    assert_allclose(found.upper_a, bears_a / OPENS, rtol=1e-14)
    if rating_a:
        check = next(each for each in found.checks if each.code == "fuse_protects_wire")
        assert (check.verdict, check.limit) == ("pass", bears_a)
        assert_allclose(check.value, 10 * OPENS, rtol=1e-14)


@pytest.mark.parametrize("family", tables.fuse_families())
def test_a_rating_at_the_very_end_of_the_window_passes_its_own_check(run, family):
    for fuse in tables.fuses(family):
        if fuse.rating_a < 3:  # of unknown times
            continue
        bears_a = OPENING.get(family, 1.0) * fuse.rating_a
        for _ in range(4):
            bears_a = math.nextafter(bears_a, 0)
        for _ in range(8):
            found = selection(
                run,
                load_current_a=SHARE * fuse.rating_a,
                permissible_current_a=bears_a,
                fuse_family=family,
                holder_rating_a=500,
            )
            assert (found.fuse_rating_a is None) == ("fail" in verdicts(found).values())
            bears_a = math.nextafter(bears_a, math.inf)


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.floats(0.01, 300),
    st.floats(0, 3000),
    st.floats(1e-3, 3600),
    st.floats(0.1, 500),
    st.floats(-40, 125),
    st.none() | st.sampled_from(tables.fuse_families()),
)
def test_answer_is_the_smallest_rating_in_the_window(
    run, load_a, inrush_a, inrush_s, bears_a, ambient_c, family
):
    asked = {} if family is None else {"fuse_family": family}
    found = selection(
        run,
        load_current_a=load_a,
        inrush_current_a=inrush_a,
        inrush_time_s=inrush_s,
        permissible_current_a=bears_a,
        ambient_c=ambient_c,
        fuse_ambient_c=ambient_c,
        **asked,
    )
    if found.fuse_rating_a is None:
        assert found.fuse_family is None
        assert list(verdicts(found).values()) == ["fail"]
        where = family or tables.fuse_families()[0]
    else:
        where = found.fuse_family
        assert {verdict for code, verdict in verdicts(found).items() if verdict != "pass"} == {
            "unknown"
        }
    ratings = [fuse.rating_a for fuse in tables.fuses(where)]
    carries = [each for each in ratings if each >= max(found.lower_a, 3)][:1]
    holder_a = 30 if where in {"blade C", "blade F"} else math.inf
    inside = [each for each in carries if each <= min(found.upper_a, holder_a)]
    assert found.fuse_rating_a == (inside[0] if inside else None)
    assert family in {None, where}


# Ambient. --------------------------------------------------------------------------------------


@pytest.mark.parametrize("fuse_ambient_c", [-40, -7.5, 25, 55, 85, 125])
def test_ambient_of_the_fuse_shifts_its_window(run, fuse_ambient_c):
    """Heat asks for a larger fuse; cold lets it hold more, for which the wire must be fit."""
    factor = tables.ambient_factor(fuse_ambient_c)
    found = selection(run, fuse_ambient_c=fuse_ambient_c, permissible_current_a=50)
    assert_allclose(found.lower_a, 10 / factor, rtol=1e-14)
    assert_allclose(found.upper_a, 50 / OPENS / max(factor, 1), rtol=1e-14)
    assert (found.ambient_c, found.fuse_ambient_c) == (25, fuse_ambient_c)
    check = next(each for each in found.checks if each.code == "fuse_protects_wire")
    assert_allclose(check.value, OPENS * max(factor, 1) * found.fuse_rating_a, rtol=1e-14)


@pytest.mark.parametrize(
    ("name", "ambient_c"),
    [
        ("ambient_c", -40.001), ("fuse_ambient_c", -40.001), ("fuse_ambient_c", 125.001),
        ("fuse_ambient_c", 250),
    ],
)  # fmt: skip
def test_ambient_beyond_the_curve_of_fuses(client, run, ambient_c, name):
    body = {**BARE, name: ambient_c}
    with pytest.raises(NotCovered, match="from -40 to 125 degC"):
        run("fuse-selection", **body)
    answer = client.post("/v1/fuse-selection", json=body)
    assert answer.status_code == 422
    assert [error["pointer"] for error in answer.json["errors"]] == [f"#/{name}"]
    assert "give fuse_ambient_c" in answer.text


def test_fuse_is_at_the_ambient_of_its_wire_unless_told(run):
    hot = selection(run, ambient_c=85)
    assert hot.fuse_ambient_c == hot.ambient_c == 85
    assert selection(run, ambient_c=200, fuse_ambient_c=85).lower_a == hot.lower_a
    base = {name: value for name, value in BARE.items() if name != "ambient_c"}
    by_zone = selection(run, base, zone="engine_bay")
    assert by_zone.fuse_ambient_c == by_zone.ambient_c == zones()["engine_bay"].ambient_c


# Inrush. ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("load_a", "family"),
    [(0.5, "blade C"), (22.5, "blade C"), (23, "blade E"), (200, "bolt-in SF51")],
)
def test_first_family_that_fits(run, load_a, family):
    assert selection(run, load_current_a=load_a).fuse_family == family


def test_family_asked_for_is_kept(run):
    found = selection(run, fuse_family="blade F")
    assert (found.fuse_family, found.fuse_rating_a) == ("blade F", 10)
    largest_a = tables.fuses("blade F")[-1].rating_a
    none = selection(run, fuse_family="blade F", load_current_a=largest_a)
    assert (none.fuse_family, none.fuse_rating_a) == (None, None)
    assert "another family" in none.checks[0].message


def test_crossed_window_says_what_to_change(run):
    found = selection(run, permissible_current_a=8)
    (check,) = found.checks
    assert (check.code, check.verdict) == ("fuse_window", "fail")
    assert (check.value, check.limit) == (found.lower_a, found.upper_a)
    assert check.margin == found.upper_a - found.lower_a < 0
    for change in ("larger wire", "better insulation", "cooler place", "several loads"):
        assert change in check.message


def test_window_between_two_ratings_says_so(run):
    """Between 7.5 A and 10 A there is none."""
    found = selection(run, load_current_a=6, permissible_current_a=9.55 * OPENS)
    (check,) = found.checks
    assert 7.5 < found.lower_a < found.upper_a < 10
    assert check.verdict == "fail"
    assert check.message.startswith("No standard rating lies between 8 A and 9.5 A: ")


def test_load_beyond_all_fuses(run):
    found = selection(run, load_current_a=1e4, permissible_current_a=1e4)
    assert verdicts(found) == {"fuse_window": "fail"}


def test_tiny_load_gets_the_smallest_fuse(run):
    found = selection(run, load_current_a=1e-6)
    assert (found.fuse_rating_a, found.fuse_family) == (BLADES_A[0], "blade C")


# Wires. ----------------------------------------------------------------------------------------


def test_wire_bears_what_wire_heating_permits(run):
    """33 CFR 183.425 Table 5: 45 A for 12 AWG of 105 degC at 30 degC."""
    found = selection(run, WIRE)
    assert found.permissible_current_a == 45
    assert_allclose(found.upper_a, 45 / OPENS, rtol=1e-14)
    check = next(each for each in found.checks if each.code == "fuse_protects_wire")
    assert "33 CFR 183.425 Table 5" in check.basis
    assert any("33 CFR 183.425 Table 5" in text for text in found.basis)


def test_wire_in_its_loom(run):
    fields = {"grouped_conductors": 5, "altitude_m": 2000, "outer_diameter_mm": 4}
    heating = run(
        "wire-heating",
        size="12 AWG",
        insulation_limit_c=105,
        ambient_c=60,
        current_a=7.5,
        **fields,
    )
    found = selection(run, WIRE, ambient_c=60, **fields)
    assert found.permissible_current_a == heating.permissible_current_a


def test_wire_too_hot_for_any_current(run):
    found = selection(run, WIRE, ambient_c=110)
    assert (found.permissible_current_a, found.upper_a, found.fuse_rating_a) == (0, 0, None)
    assert verdicts(found) == {"fuse_window": "fail"}


def test_given_current_is_named_as_such(run):
    assert "permissible current given by the caller" in selection(run).basis


def test_cautions(run):
    assert any("0.2 m" in text for text in selection(run).cautions)


@pytest.mark.parametrize(
    ("left_out", "fields", "pointer"),
    [
        ((), {"permissible_current_a": 20}, "#/permissible_current_a"),
        (("size",), {}, "#"),
        (("insulation_limit_c",), {}, "#/insulation"),
        (("ambient_c",), {}, "#"),
        ((), {"load_current_a": 0}, "#/load_current_a"),
        ((), {"inrush_time_s": 0}, "#/inrush_time_s"),
        ((), {"fuse_family": "glass"}, "#/fuse_family"),
    ],
)
def test_refused(client, left_out, fields, pointer):
    body = {name: value for name, value in WIRE.items() if name not in left_out}
    answer = client.post("/v1/fuse-selection", json={**body, **fields})
    assert answer.status_code == 422
    assert pointer in [error["pointer"] for error in answer.json["errors"]]


# Words. ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "headline"),
    [
        (
            {"permissible_current_a": 30 * OPENS},
            "A fuse of 10 A (blade C), at 25 °C, carries 7.5 A: the load asks for 10 A or more, "
            "the wire bears one of 30 A at most.",
        ),
        (
            {"load_current_a": 6, "permissible_current_a": 9.6 * OPENS},
            "No standard rating fits: the load asks for 8 A or more, the wire bears one of 9.6 A "
            "at most.",
        ),
    ],
)
def test_headline_says_which_fuse(run, fields, headline):
    found = selection(run, **fields)
    assert found.headline.startswith(headline)


def test_checks_say_what_they_weigh(run):
    messages = {check.code: check.message for check in selection(run).checks}
    assert messages == {
        "fuse_carries_load": "The load needs a fuse of 10 A or more.",
        "fuse_protects_wire": f"The fuse is sure to open at {10 * OPENS:g} A, and the wire bears "
        "1000 A without limit of time.",
        "fuse_overload": "What the wire bears while the fuse opens is not known: give size and "
        "insulation.",
        "fuse_holder": "Holder and socket bear 30 A and the fuse is one of 10 A.",
        "breaking_capacity": "Give source_resistance_ohm, of battery and cables up to the fuse, "
        "with supply_v: a fault at the fuse may be more than it can interrupt.",
        "far_short": "Give loop_resistance_ohm, of all that a fault at the far end runs through "
        "behind the fuse, with supply_v: it may be too little to open the fuse.",
        "inrush": "Give inrush_current_a or load_profile: the fuse has to carry the first current, "
        "too.",
    }


def test_where_the_air_leaves_nothing_no_larger_wire_is_asked_for(run):
    """Air of 85 degC round an insulation for 85 degC: common sense, and no source."""
    found = run(
        "fuse-selection", size="12 AWG", insulation_limit_c=85, ambient_c=85, load_current_a=5
    )
    (window,) = (each for each in found.checks if each.code == "fuse_window")
    assert (window.verdict, window.detail) == ("fail", "nothing_left")
    assert "larger wire" not in window.message
    assert "cooler place" in window.message


@pytest.mark.parametrize(
    ("asked", "is_offered"),
    [
        ({"load_current_a": 300, "on_time_s": 60, "off_time_s": 300}, False),  # a winch
        ({"load_current_a": 120}, False),  # an inverter
        ({"load_current_a": 30}, True),  # lamps
    ],
)
def test_one_machine_is_not_spread_over_two_fuses(run, asked, is_offered):
    found = selection(run, explain=True, **{"permissible_current_a": 20, **asked})
    assert ("load_current_a" in {each.code for each in found["remedies"]}) == is_offered
