"""Text and columns on a screen: whole words, numbers with their units, nothing behind a line."""

import pytest

from lastvolt.cli.show import columns, wrapped


def test_what_belongs_to_an_item_stands_under_it() -> None:
    text = "- one two three\n12. four five six\n9.16 V before seven\n\nend"
    assert list(wrapped(text, 9)) == [
        "- one two", "  three", "12. four", "    five", "    six", "9.16 V", "before", "seven", "",
        "end",
    ]  # fmt: skip


@pytest.mark.parametrize("width", range(8, 40))
def test_a_number_keeps_its_unit_and_no_word_is_cut(width: int) -> None:
    text = "with 12.18 V and 0.0523 Ω at -10 °C, 3 m away: terminal 50 to incomprehensible"
    lines = list(wrapped(text, width))
    assert " ".join(lines) == text
    for tied in ("12.18 V", "0.0523 Ω", "-10 °C,", "3 m"):
        assert any(tied in line for line in lines)
    assert all(len(line) <= max(width, len("incomprehensible")) for line in lines)


def test_rows_stand_under_each_other() -> None:
    rows = [("way", "arrive", "so"), ("as it is now", "9.16 V", ""), ("b", "12 V", "yes")]
    assert list(columns(rows, 80, numbers={1})) == [
        "way           arrive  so",
        "as it is now  9.16 V",
        "b               12 V  yes",
    ]
    assert list(columns([("a", "1"), ("as it is and was", "2")], 15, numbers={1})) == [
        "a             1",
        "as it is and  2",
        "was",
    ]
