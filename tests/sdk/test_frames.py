"""Readings in a table: each row an item of a list argument."""

import numpy as np
import pandas
import pytest

from lastvolt import EMBEDDED, Client, InvalidRequest, WrongArgument, records
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest


def test_a_row_is_an_item_and_what_is_empty_is_left_out():
    frame = pandas.DataFrame(
        {
            "case": ["hot", "hot", "cold"],
            "between_1": ["post", None, "key out"],
            "between_2": ["ground", None, "50"],
            "through": [None, "key", ""],
            "value_v": [12.41, np.nan, 0.31],
            "value_a": [np.nan, 21.5, np.nan],
        },
        index=[7, 8, 9],
    )
    assert records(frame) == [
        {"case": "hot", "value_v": 12.41, "between": ["post", "ground"]},
        {"case": "hot", "through": "key", "value_a": 21.5},
        {"case": "cold", "value_v": 0.31, "between": ["key out", "50"]},
    ]


def test_ten_items_stand_in_their_order():
    columns = {f"between_{place}": [f"n{place}"] for place in (10, 2, 1)}
    assert records(columns) == [{"between": ["n1", "n2", "n10"]}]


def test_text_with_a_unit_is_read():
    assert records({"value_v": ["310 mV"]}) == [{"value_v": 0.31}]


def test_a_fit_of_a_frame_is_that_of_the_list():
    example = CircuitFitRequest.example
    pairs = [each.get("between", [None, None]) for each in example["readings"]]
    frame = pandas.DataFrame(example["readings"]).drop(columns="between")
    frame["between_1"], frame["between_2"] = zip(*pairs, strict=True)
    with Client(EMBEDDED) as client:
        of_list = client.circuit_fit(**example)
        assert client.circuit_fit(**{**example, "readings": records(frame)}) == of_list


@pytest.mark.parametrize(
    ("table", "error"),
    [
        ({"value_v": [1.0, 2.0], "case": ["hot"]}, WrongArgument),
        (12.0, WrongArgument),
        ({"value_v": ["far"]}, InvalidRequest),
        ({"value_v": [float("inf")]}, InvalidRequest),
    ],
)
def test_what_is_no_table_of_values_is_refused(table, error):
    with pytest.raises(error):
        records(table)
