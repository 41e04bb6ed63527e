"""Wire sizing at its limits; `test_wire_sizing_agrees` holds it against the single operations."""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import CalculationError, ConflictingFields, NotCovered
from lastvolt_service.tables.practice import minimum_sizes, zones
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes

from ..cost import some

DUTY = {
    "supply_v": 13.8,
    "load_current_a": 12,
    "length_m": 5.5,
    "return_path": "body",
    "ambient_c": 30,
    "insulation": "GXL",
}

CODES = (
    "mechanical_minimum", "loop_drop", "conductor_temperature", "permissible_current",
    "fuse_window", "fuse_carries_load", "fuse_protects_wire", "fuse_overload", "fuse_holder",
    "breaking_capacity", "fuse_voltage", "far_short", "inrush",
)  # fmt: skip


def sizing(run, *left_out, **fields):
    given_fields = {name: value for name, value in DUTY.items() if name not in left_out}
    return run("wire-sizing", **{**given_fields, **fields})


def test_what_is_kept_back_is_said_and_is_practice(run):
    kept, told = sizing(run), sizing(run, contacts_resistance_ohm=0.01)
    assert_allclose((kept.contacts_drop_v, told.contacts_drop_v), (0.2, 0.12), rtol=1e-12)
    assert any("two fifths" in text and "common practice" in text for text in kept.basis)
    assert not any("two fifths" in text for text in told.basis)


def test_the_limit_of_battery_cables_is_theirs_alone(run):
    """TM 5-2420-230-24-2, p. 13-23: both battery cables together, 0.5 V at 500 A."""
    cable = {"insulation": "SGX", "load_current_a": 300, "length_m": 1, "return_path": "wire"}
    assert sizing(run, **cable, circuit="starter_motor").contacts_drop_v == 0


def test_candidates_run_up_to_the_size_and_say_why_not(run):
    found = sizing(run, limit_drop_percent=4)
    *smaller, last = found.candidates
    assert (last.size, last.failing) == (found.size, ())
    assert all(each.failing for each in smaller)
    sizes = trade_sizes("AWG")
    assert [each.size for each in found.candidates] == [*sizes[: len(found.candidates)]]
    assert {name for each in smaller for name in each.failing} <= {
        "mechanical_minimum",
        "loop_drop",
        "conductor_temperature",
        "permissible_current",
        "fuse_window",
    }
    assert [check.verdict for check in found.checks if check.verdict == "fail"] == []
    assert (last.drop_v, last.fuse_rating_a) == (found.drop_v, found.fuse_rating_a)


@pytest.mark.parametrize("standard", STANDARDS)
def test_small_loads_get_the_mechanical_minimum(run, standard):
    for length_m in (0, 1):
        found = sizing(run, standard=standard, load_current_a=1e-6, length_m=length_m)
        assert found.size == minimum_sizes()[standard].size
        *smaller, _ = found.candidates
        assert all(each.failing == ("mechanical_minimum",) for each in smaller)


@pytest.mark.parametrize("return_path", ["wire", "body"])
def test_way_of_no_length_drops_at_the_body_only(run, return_path):
    found = sizing(run, length_m=0, return_path=return_path)
    assert found.loop_length_m == 0
    # AC 43.13-1B: 0.005 ohm; two fifths of 0.5 V for contacts.
    expected_v = 0.2 + {"wire": 0.0, "body": 12 * 0.005}[return_path]
    assert_allclose(found.drop_v, expected_v, rtol=1e-14)


def test_return_is_counted_once_and_openly(run):
    by_wire = sizing(run, return_path="wire", limit_drop_v=1)
    by_body = sizing(run, length_m=11, body_resistance_ohm=0, limit_drop_v=1)
    assert by_wire.loop_length_m == by_body.loop_length_m == 11
    assert by_wire.body_resistance_ohm == by_body.body_resistance_ohm == 0
    assert (by_wire.size, by_wire.drop_v) == (by_body.size, by_body.drop_v)
    # A return wire has no body in it, whatever is said of the body.
    assert sizing(run, return_path="wire", limit_drop_v=1, body_resistance_ohm=1) == by_wire


@pytest.mark.parametrize(
    ("fields", "failing"),
    [
        ({"load_current_a": 1e4}, "conductor_temperature"),
        ({"ambient_c": 125}, "permissible_current"),
        ({"ambient_c": 200, "fuse_ambient_c": 25}, "conductor_temperature"),
        ({"body_resistance_ohm": 1}, "loop_drop"),
        ({"fuse_family": "blade F", "load_current_a": 25}, "fuse_window"),
        ({"inrush_current_a": 1e4, "inrush_time_s": 3600}, "fuse_window"),
        ({"outer_diameter_mm": 1.2, "length_m": 30}, "loop_drop"),
    ],
)
def test_none_passes(run, fields, failing):
    found = sizing(run, **fields)
    assert (found.size, found.drop_v, found.fuse_rating_a, found.load_voltage_v) == (None,) * 4
    assert all(each.failing for each in found.candidates)
    assert failing in found.candidates[-1].failing
    assert failing in [check.code for check in found.checks if check.verdict == "fail"]


@pytest.mark.parametrize(
    ("fields", "why", "said"),
    [
        ({"ambient_c": 125}, "ambient", "better insulation or a cooler place"),
        ({"insulation": "GPT", "zone": "engine_bay"}, "ambient", "better insulation"),
        ({"body_resistance_ohm": 0.05}, "fixed_drop", "Body and contacts alone"),
        ({"contacts_resistance_ohm": 0.05}, "fixed_drop", "Body and contacts alone"),
        ({"load_current_a": 150}, None, None),  # a sound body drops 0.1 V, of whatever current
        ({"length_m": 200}, None, "shorter way"),
        ({"length_m": 1}, None, None),
    ],
)
def test_where_no_size_can_help_it_says_so_and_what_does(run, fields, why, said):
    left_out = ("ambient_c",) if "zone" in fields else ()
    found = sizing(run, *left_out, **fields)
    assert found.no_size_helps == why
    assert (found.size is None) == (said is not None)
    messages = [check.message for check in found.checks if check.verdict == "fail"]
    if said:
        assert any(said in each for each in messages), messages
    if why:
        of_wire = [each for each in messages if "fuse" not in each]
        assert not any("larger size" in each for each in of_wire), of_wire


def test_a_path_cannot_drop_more_than_the_supply(run):
    found = sizing(run, supply_v=6, limit_drop_v=10, length_m=60, load_current_a=10)
    assert found.limit_drop_v == 6
    assert found.load_voltage_v >= 0
    assert any(each.drop_v > 6 and "loop_drop" in each.failing for each in found.candidates)
    # The supply that the defaults are held against is the nominal one: below it they give way too.
    assert sizing(run, supply_v=0.3, nominal_v=12, load_current_a=1).limit_drop_v == 0.3


def test_outer_diameter_leaves_out_what_does_not_fit(run):
    """The conductor of 8 AWG is thicker than 3 mm, that of 10 AWG is not."""
    narrow, wide = (sizing(run, outer_diameter_mm=each, length_m=2) for each in (2.9, 3))
    assert narrow.size == wide.size
    found = sizing(run, outer_diameter_mm=3, length_m=30)
    assert (found.size, found.candidates[-1].size) == (None, "10 AWG")
    with pytest.raises(ConflictingFields) as caught:
        sizing(run, outer_diameter_mm=0.3)
    assert caught.value.path == ("outer_diameter_mm",)


def test_outer_diameter_that_only_takes_what_does_not_last_is_refused(run):
    """24 AWG, 0.51 mm of copper (ASTM B258), would fit; 18 AWG, 1.02 mm without gaps, does not."""
    with pytest.raises(ConflictingFields) as caught:
        sizing(run, outer_diameter_mm=1.0)
    assert caught.value.path == ("outer_diameter_mm",)


def test_sizes_without_a_published_resistance_are_left_out(run):
    tinned = sizing(run, material="tinned_copper", load_current_a=0.1)
    assert [each.size for each in tinned.candidates] == ["18 AWG"]
    with pytest.raises(NotCovered, match="stranded conductors") as caught:
        sizing(run, standard="ISO 6722", construction="solid")
    assert caught.value.path == ("construction",)


@pytest.mark.parametrize(
    "fields", [{"ambient_c": -41}, {"fuse_ambient_c": -41}, {"fuse_ambient_c": 126}]
)
def test_fuses_are_known_for_some_ambients_only(run, fields):
    with pytest.raises(NotCovered) as caught:
        sizing(run, insulation="ISO class D", **fields)
    assert caught.value.path == tuple(fields)


def test_zone_stands_for_its_ambient(run):
    found = sizing(run, "ambient_c", zone="engine_bay")
    assert found.ambient_c == zones()["engine_bay"].ambient_c
    assert any("no source" in text for text in found.basis)
    by_degrees = sizing(run, ambient_c=found.ambient_c)
    assert found.candidates == by_degrees.candidates


def test_heavier_duty_never_gets_a_smaller_size(run):
    def area_mm2(**fields):
        return sizing(run, standard="ISO 6722", **fields).area_mm2 or math.inf

    for name, values in (
        ("load_current_a", (1, 5, 12, 30, 60, 120)),
        ("length_m", (0, 2, 6, 15, 40)),
        ("ambient_c", (-20, 30, 60, 90, 110)),
        ("grouped_conductors", (1, 2, 3, 5, 8, 30)),
        ("inrush_current_a", (0, 12, 60, 120, 600)),
    ):
        areas = [area_mm2(**{name: value}) for value in values]
        assert areas == sorted(areas), name


@pytest.mark.parametrize("standard", STANDARDS)
@pytest.mark.parametrize("kind", ["GPT", "TXL", "SGX", "ISO class B"])
def test_hotter_air_never_gets_a_smaller_size(run, kind, standard):
    """Across the table's 50 degC: 40 A over 1 m took 8 AWG at 50 degC and 10 AWG at 51."""
    load = {"load_current_a": 40, "length_m": 1, "insulation": kind, "standard": standard}
    load |= {"return_path": "wire", "fuse_ambient_c": 25, "limit_drop_v": 2}
    ambients_c = (-20, 20, 29.9, 30, 30.1, 40, 49.9, 50, 50.1, 51, 60, 70, 80)
    areas = [sizing(run, **load, ambient_c=each).area_mm2 or math.inf for each in ambients_c]
    assert areas == sorted(areas)


def test_a_lower_rating_never_gets_a_smaller_size_or_a_larger_fuse(run):
    limits_c = (60, 74.9, 75, 80, 84.9, 85, 90, 100, 105, 110, 125, 150, 200, 250)
    load = {"load_current_a": 25, "length_m": 2, "ambient_c": 55, "fuse_ambient_c": 25}
    for standard in STANDARDS:
        found = [
            sizing(run, "insulation", **load, standard=standard, insulation_limit_c=each)
            for each in limits_c
        ]
        areas = [each.area_mm2 or math.inf for each in found]
        assert areas == sorted(areas, reverse=True)
    largest = [
        run(
            "fuse-selection",
            load_current_a=5,
            size="12 AWG",
            ambient_c=55,
            fuse_ambient_c=25,
            insulation_limit_c=each,
        ).upper_a
        for each in limits_c
    ]
    assert largest == sorted(largest)


def test_cautions_place_the_fuse_near_the_source(run):
    assert any("close to the source" in text for text in sizing(run).cautions)


@pytest.mark.hypothesis  # for the long job, which tries more
def test_many_rows_get_the_sizes_that_each_gets_alone(client, run):
    """So many that they try one size after the other, while one request tries all at once."""
    random = np.random.default_rng(1127)
    count = some(60, 300)
    varied = {
        "load_current_a": np.exp(random.uniform(np.log(0.5), np.log(300), count)),
        "length_m": random.uniform(0, 20, count),
        "standard": random.choice([*STANDARDS], count),
        "return_path": random.choice(["wire", "body"], count),
        "ambient_c": random.uniform(-30, 110, count),
        "outer_diameter_mm": random.uniform(0.3, 12, count),
    }
    columns = {name: values.tolist() for name, values in varied.items()}
    body = {"columns": columns, "constants": {"supply_v": 13.8, "insulation": "GXL"}}
    answer = client.post("/v1/batch/wire-sizing", json=body).get_json()
    refused = {error["row"]: error["detail"] for error in answer["errors"]}
    assert 0 < len(refused) < count / 2
    sizes = set()
    for row in range(count):
        asked = {**body["constants"], **{name: each[row] for name, each in columns.items()}}
        if row in refused:
            with pytest.raises(CalculationError) as caught:
                run("wire-sizing", **asked)
            assert caught.value.detail == refused.pop(row)
            continue
        alone = run("wire-sizing", **asked)
        for name in ("size", "fuse_family"):
            assert answer["columns"][name][row] == getattr(alone, name)
        for name in ("drop_v", "load_voltage_v", "permissible_current_a", "fuse_rating_a"):
            found, expected = answer["columns"][name][row], getattr(alone, name)
            assert found == expected or math.isclose(found, expected, rel_tol=1e-9)
        codes = {code: answer["columns"][f"check_{code}"][row] for code in CODES}
        told = {check.code: check.verdict for check in alone.checks}
        assert {c: answer["verdicts"][str(v)] for c, v in codes.items() if c in told} == told
        sizes.add(alone.size)
    assert len(sizes) > 20  # of all standards, and none where none passes
    assert None in sizes


# Words. ----------------------------------------------------------------------------------------


def test_headline_says_the_size_or_that_there_is_none(run):
    found = sizing(run)
    assert found.headline.partition(" Not judged: ")[0] == (
        f"{found.size} is the smallest size for 12 A over 5.5 m one way."
    )
    none = sizing(run, load_current_a=2000)
    assert none.headline.startswith("No size up to 4/0 AWG passes everything. What fails: ")


@pytest.mark.parametrize(("back", "has_body"), [("wire", False), ("body", True)])
def test_no_body_is_blamed_where_the_current_comes_back_through_a_wire(run, back, has_body):
    found = run(
        "wire-sizing", supply_v=13.8, load_current_a=10, length_m=3, return_path=back,
        contacts_resistance_ohm=0.2, insulation="GXL", zone="cabin", load_profile="steady",
    )  # fmt: skip
    told = next(check.message for check in found.checks if check.code == "loop_drop")
    for text in (found.headline.lower(), told.lower()):
        assert "contacts alone" in text
        assert ("body" in text) == has_body
    assert ("lead the current back through a wire" in told) == has_body


def test_no_larger_size_is_asked_for_where_none_helps(run):
    """GPT is good for 85 degC, and an engine bay has 90 degC."""
    found = run(
        "wire-sizing", load_current_a=15, length_m=2, zone="engine_bay", insulation="GPT",
        supply_v=13.8, return_path="body", load_profile="horn",
    )  # fmt: skip
    assert found.headline.startswith("No size helps")
    (duty,) = (check for check in found.checks if check.code == "duty_current")
    assert duty.verdict == "fail"
    assert "larger size" not in duty.message


@pytest.mark.parametrize("ambient_c", [75, 80, 83])
def test_in_hot_air_better_insulation_is_told_before_a_thick_wire_is_bought(run, ambient_c):
    """GPT bears 85 degC: what is left to it asks for a size that 30 A need nowhere else."""
    asked = {
        "supply_v": 12.6, "load_current_a": 30, "length_m": 2, "return_path": "body",
        "circuit": "continuous", "ambient_c": ambient_c,
    }  # fmt: skip
    poor, good = (run("wire-sizing", **asked, insulation=each) for each in ("GPT", "GXL"))
    assert (poor.heat_decides, good.heat_decides) == (True, False)
    assert good.area_mm2 < poor.area_mm2
    assert "better insulation" in poor.headline
    assert "better insulation" not in good.headline


def test_where_the_drop_decides_no_better_insulation_is_told(run):
    far = run(
        "wire-sizing", supply_v=12.6, load_current_a=1, length_m=40, return_path="body",
        circuit="continuous", ambient_c=75, insulation="GPT",
    )  # fmt: skip
    assert far.heat_decides is False
