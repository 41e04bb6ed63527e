"""How sentences are put together: what is not known is left out, and never written."""

import pytest

from lastvolt_service.words import message, say
from lastvolt_service.words.catalogue import CheckWords, Weigh, When
from lastvolt_service.words.named import Named

WORDS = CheckWords(name="a hold", passes="{value} hold.", fails="Short.", unknown="Give it.")


def of(value, limit):
    return Named().of_check(value, limit, "V", {"part": None})


@pytest.mark.parametrize(("value", "limit"), [(None, 2.0), (1.0, None), (None, None)])
def test_a_difference_needs_both(value, limit):
    assert say("They are {apart} apart.", of(value, limit)) == ""


def test_a_difference_adds_up_with_what_is_shown():
    # 9.554 and 9.286 are shown as 9.55 and 9.29: 0.26 apart, though they are 0.268.
    assert say("{value} - {limit} = {apart}", of(9.554, 9.286)) == "9.55 V - 9.29 V = 0.26 V"


def test_a_sentence_without_its_number_is_left_out():
    text = ("{value} arrive.", "{part} loses most.", When("part", None, "None is named."))
    assert say(text, of(1.0, 2.0)) == "1 V arrive. None is named."


@pytest.mark.parametrize(
    ("value", "said"), [(1.9, "0.1 V short."), (2.0, "0 V to spare."), (2.1, "0.1 V to spare.")]
)
def test_what_is_weighed_turns_where_both_are_equal(value, said):
    text = (Weigh("value", "limit", enough="{apart} to spare.", short="{apart} short."),)
    assert say(text, of(value, 2.0)) == said


@pytest.mark.parametrize(
    ("verdict", "said"),
    [
        ("pass", "1 V hold."),
        ("marginal", "1 V hold. The margin is small."),
        ("fail", "Short."),
        ("unknown", "Give it."),
    ],
)
def test_each_verdict_has_its_sentence(verdict, said):
    assert message(WORDS, verdict, of(1.0, 2.0)) == said
