"""A path's wires are judged as wire-heating judges them: by model and by published table."""

import pytest


def wire(**fields):
    return {"kind": "wire", "name": "feed", "length_m": 0.2, "insulation": "GXL", **fields}


def drop(run, segment, current_a, **fields):
    asked = {"supply_v": 12.6, "circuit": "continuous", "load_current_a": current_a, **fields}
    return run("voltage-drop", segments=[segment], **asked)


def verdict(found, code):
    return next((each.verdict for each in found.checks if each.code == code), None)


# Currents between what the table and what the heat balance permit.
@pytest.mark.parametrize(
    ("place", "current_a"),
    [
        ({"size": "14 AWG", "ambient_c": 40}, 39.5),
        ({"size": "2/0 AWG", "ambient_c": 40, "insulation": "SGX"}, 395),
        ({"size": "14 AWG", "ambient_c": 60, "grouped_conductors": 4}, 20),
        ({"size": "14 AWG", "ambient_c": 60, "grouped_conductors": 3}, 24),
        ({"size": "10 AWG", "ambient_c": 30, "grouped_conductors": 3}, 50),
    ],
)
def test_the_lower_of_model_and_table_counts_in_a_path_too(run, place, current_a):
    fields = {name: wire(**place)[name] for name in ("insulation", *place)}
    heating = run("wire-heating", current_a=current_a, **fields)
    assert verdict(heating, "permissible_current") == "fail"
    found = drop(run, wire(**place), current_a)
    (check,) = (each for each in found.checks if each.code == "permissible_current")
    assert (check.verdict, check.part, check.value) == ("fail", "feed", current_a)
    assert check.limit == pytest.approx(heating.permissible_table_a)
    assert found.headline.startswith(check.message)
    sound = drop(run, wire(**place), 0.5 * heating.permissible_table_a)
    assert verdict(sound, "permissible_current") == "pass"


def test_a_start_is_short_for_the_table_too(run):
    """A key is held for ten seconds: 14 AWG bears 39.5 A so long."""
    short = drop(run, wire(size="14 AWG", ambient_c=40), 39.5, circuit="starter_control")
    assert verdict(short, "permissible_current") == "pass"


# GPT is good for 85 degC.
@pytest.mark.parametrize(
    ("limit", "temperature_c", "judged"),
    [({"insulation": "GPT"}, 150, "fail"), ({"insulation": "GPT"}, 60, None),
     ({"insulation": None, "insulation_limit_c": 105}, 110, "fail"),
     ({"insulation": None}, 150, None)],
)  # fmt: skip
def test_a_given_temperature_beyond_the_insulation_fails(run, limit, temperature_c, judged):
    fields = wire(size="12 AWG", temperature_c=temperature_c) | limit
    found = drop(run, {name: each for name, each in fields.items() if each is not None}, 5)
    assert verdict(found, "conductor_temperature") == judged
    assert found.verdict == (judged or "unknown")
