"""Paths as columns: parts of different kinds, temperatures given and found, in one batch."""

import pytest
from flask.testing import FlaskClient

from .test_requests import ask

DROP = "/v1/batch/voltage-drop"
PATHS = {
    "segments_1_kind": ["wire", "wire", "contact"],
    "segments_1_name": ["feed"] * 3,
    "segments_1_size": ["12 AWG", "14 AWG", None],
    "segments_1_length_m": [5, 6, None],
    "segments_1_ambient_c": [None, 85, None],
    "segments_1_part": [None, None, "switch"],
    "segments_1_resistance_ohm": [None, None, 0.004],
    "segments_2_kind": ["contact", "wire", None],
    "segments_2_name": ["key", "back", None],
    "segments_2_part": ["switch", None, None],
    "segments_2_resistance_ohm": [0.03, None, None],
    "segments_2_rating_a": [5, None, None],
    "segments_2_size": [None, "4 mm2", None],
    "segments_2_length_m": [None, 6, None],
    "segments_2_ambient_c": [None, 40, None],
    "segments_2_insulation": [None, "GXL", None],
}


def test_paths_differ_in_kind_heat_and_number_of_parts(client: FlaskClient) -> None:
    fixed = {"supply_v": 12.6, "load_resistance_ohm": 1.5}
    answer = ask(client, PATHS, fixed, DROP).get_json()
    assert answer["errors"] == []
    columns, verdicts = answer["columns"], answer["verdicts"]
    for row in range(3):
        segments = []
        for place in (1, 2):
            before = f"segments_{place}_"
            cells = {
                name.removeprefix(before): column[row]
                for name, column in PATHS.items()
                if name.startswith(before) and column[row] is not None
            }
            if cells:
                segments.append(cells)
        single = client.post("/v1/voltage-drop", json={**fixed, "segments": segments}).get_json()
        for place, part in enumerate(single["segments"], 1):
            for name in ("drop_v", "temperature_c", "share_percent"):
                told = columns[f"segments_{place}_{name}"][row]
                assert told == (part[name] and pytest.approx(part[name], rel=1e-12))
            assert (
                columns[f"segments_{place}_temperature_source"][row] == part["temperature_source"]
            )
        for name in ("load_voltage_v", "worst_drop_v"):
            assert columns[name][row] == pytest.approx(single[name], rel=1e-12)
        assert columns["worst_segment"][row] == single["worst_segment"]
        assert columns["begin_with"][row] == single["begin_with"]
    judged = {
        name.removeprefix("check_"): [verdicts[str(code)] for code in column]
        for name, column in columns.items()
        if name.startswith("check_segments_")
    }
    nothing = "nothing to check in this row"
    assert judged == {
        "segments_1_contact_drop": [nothing, nothing, "pass"],
        "segments_1_contact_current": [nothing, nothing, "unknown"],
        "segments_1_contact_heat": [nothing, nothing, nothing],
        "segments_2_contact_heat": [nothing, nothing, nothing],
        "segments_1_fuse_load": [nothing, nothing, nothing],
        # It is sound for its rating, and carries more.
        "segments_2_contact_drop": [nothing, nothing, nothing],
        "segments_2_contact_current": ["fail", nothing, nothing],
        "segments_2_fuse_load": [nothing, nothing, nothing],
        "segments_1_conductor_temperature": [nothing, "unknown", nothing],
        "segments_2_conductor_temperature": [nothing, "pass", nothing],
        "segments_1_permissible_current": [nothing, nothing, nothing],
        "segments_2_permissible_current": [nothing, "pass", nothing],
        "segments_1_fuse_protects_wire": [nothing] * 3,
        "segments_2_fuse_protects_wire": [nothing] * 3,
        "segments_1_wires_heat": [nothing] * 3,
        "segments_2_wires_heat": [nothing] * 3,
    }


def test_given_and_solved_temperatures_are_judged_in_one_column(client: FlaskClient) -> None:
    """GPT is good for 85 degC, whether the conductor is said to be hotter or gets so."""
    columns = {
        "segments_1_kind": ["wire"] * 3, "segments_1_name": ["feed"] * 3,
        "segments_1_size": ["14 AWG"] * 3, "segments_1_length_m": [1] * 3,
        "segments_1_insulation": ["GPT"] * 3, "segments_1_temperature_c": [150, None, 60],
        "segments_1_ambient_c": [None, 84, None],
    }  # fmt: skip
    answer = ask(client, columns, {"supply_v": 12.6, "load_current_a": 20}, DROP).get_json()
    codes = answer["columns"]["check_segments_1_conductor_temperature"]
    told = [answer["verdicts"][str(code)] for code in codes]
    assert told == ["fail", "fail", "nothing to check in this row"]


def test_what_results_there_are_depends_on_no_cell(client: FlaskClient) -> None:
    """Pieces of one table are put together again by whoever cut it."""
    fixed = {"supply_v": 12.6, "load_resistance_ohm": 1.5}
    whole = ask(client, PATHS, fixed, DROP).get_json()["columns"]
    for row in range(3):
        piece = {name: column[row : row + 1] for name, column in PATHS.items()}
        assert list(ask(client, piece, fixed, DROP).get_json()["columns"]) == list(whole)


def test_a_wire_that_runs_away_or_is_not_known_spoils_no_other_row(client: FlaskClient) -> None:
    given = {
        "segments_1_size": ["22 AWG", "22 AWG", "7 AWG", "99 AWG"],
        "segments_1_ambient_c": [60, None, 60, 60],
        "segments_1_length_m": [0.1] * 4,
    }
    fixed = {
        "supply_v": 12.6, "load_current_a": 80, "segments_1_name": "feed",
        "segments_1_kind": "wire",
    }  # fmt: skip
    answer = ask(client, given, fixed, DROP).get_json()
    assert [(error["row"], error["field"]) for error in answer["errors"]] == [
        (3, "segments_1_size"),
    ]
    heat = answer["columns"]["check_segments_1_conductor_temperature"]
    assert answer["verdicts"][str(heat[0])] == "fail"
    hot_c = answer["columns"]["segments_1_temperature_c"]
    assert (hot_c[0], hot_c[1], hot_c[3]) == (None, 20, None)
    assert 60 < hot_c[2] < 125


def test_a_derating_curve_must_fall_in_every_row(client: FlaskClient) -> None:
    given = {"derating_1_ambient_c": [85, 10, None], "derating_1_current_a": [30, 30, None]}
    fixed = {
        "rating_a": 40, "supply_v": 14, "rated_v": 16, "load_current_a": 10,
        "load_kind": "motor", "ambient_c": 20,
    }  # fmt: skip
    answer = ask(client, given, fixed, "/v1/batch/relay-contact").get_json()
    assert [(e["row"], e["field"]) for e in answer["errors"]] == [(1, "derating_1_ambient_c")]
    assert answer["columns"]["derated_current_a"] == [40, None, 40]
