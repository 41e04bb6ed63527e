"""Headlines that weigh two numbers: the one for enough and the one for too little."""

import pytest

from lastvolt_service.words import catalogue

WEIGHING = [name for name, words in catalogue().items() if words.weighs]


@pytest.mark.parametrize("name", WEIGHING)
def test_a_headline_is_short_of_nothing_where_there_is_enough(name: str) -> None:
    words = catalogue()[name]
    assert "} short" not in repr(words.headline)
    assert "to spare" not in repr(words.short)
