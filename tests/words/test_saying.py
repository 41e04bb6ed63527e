"""How sentences are put together: what is not known is left out, and never written."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastvolt_service.words import message, say
from lastvolt_service.words.catalogue import CheckWords, Unless, Weigh, When
from lastvolt_service.words.named import Named

WORDS = CheckWords(name="a hold", passes="{value} hold.", fails="Short.", unknown="Give it.")


def of(value, limit, part=None):
    return Named().of_check(value, limit, "V", {"part": part})


@pytest.mark.parametrize(("value", "limit"), [(None, 2.0), (1.0, None), (None, None)])
def test_a_difference_needs_both(value, limit):
    assert say("They are {apart} apart.", of(value, limit)) == ""


def test_a_difference_adds_up_with_what_is_shown():
    # 9.554 and 9.286 are shown as 9.55 and 9.29: 0.26 apart, though they are 0.268.
    assert say("{value} - {limit} = {apart}", of(9.554, 9.286)) == "9.55 V - 9.29 V = 0.26 V"


@pytest.mark.parametrize(("node", "said"), [("from", '"from"'), ("post", "post"), ("A", "A")])
def test_a_name_that_reads_as_another_word_is_quoted(node, said):
    assert say("Join the lead from {part}.", of(1.0, 2.0, node)) == f"Join the lead from {said}."
    assert say("Read at lamp [{part}].", of(1.0, 2.0, node)) == f"Read at lamp [{node}]."


@pytest.mark.parametrize(
    ("name", "verb"),
    [
        ("headlamps", "are"), ("glow plugs", "are"), ("wipers", "are"), ("air horns", "are"),
        ("fan", "is"), ("chassis", "is"), ("bus", "is"), ("harness", "is"), ("gas", "is"),
        ("wire to the lamps", "is"), ("Trailer lights", "are"),
    ],
)  # fmt: skip
def test_a_verb_agrees_with_the_name_before_it(name, verb):
    assert say("Whether {part} is off.", of(1.0, 2.0, name)) == f"Whether {name} {verb} off."


@pytest.mark.parametrize(
    ("case", "said"),
    [("hot restart, aged", '"hot restart, aged"'), ("hot restart", "hot restart"), ("on", "on")],
)
def test_a_case_whose_name_has_a_comma_is_quoted(case, said):
    told = Named(None, {"worst_case": case, "weakest": {"case": case}})
    assert say("In {worst_case} it hums.", told) == f"In {said} it hums."
    assert say("In {weakest.case}, it hums.", told) == f"In {said}, it hums."
    of_check = told.of_check(1.0, 2.0, "V", {"part": "clip, rear", "case": case})
    assert say("{part}: {value} in {case}.", of_check) == f"clip, rear: 1 V in {said}."


def test_a_sentence_without_its_number_is_left_out():
    text = ("{value} arrive.", "{part} loses most.", When("part", None, "None is named."))
    assert say(text, of(1.0, 2.0)) == "1 V arrive. None is named."


@pytest.mark.parametrize(("part", "said"), [(None, ""), ("fuse", ""), ("key", "key opens.")])
def test_of_one_value_something_else_is_said(part, said):
    text = (Unless("part", "fuse", "{part} opens."),)
    assert say(text, of(1.0, 2.0, part)) == said


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


@pytest.mark.parametrize(
    ("template", "value", "limit", "said"),
    [
        ("{value}, more than {limit}", 0.5034, 0.5, "0.503 V, more than 0.5 V"),
        ("{value}, more than {limit}", 0.500001, 0.5, "0.500001 V, more than 0.5 V"),
        ("{value} of {limit}", 0.4996, 0.5, "0.4996 V of 0.5 V"),
        ("{value} of {limit}", 0.5, 0.5, "0.5 V of 0.5 V"),
        ("{value} of {limit}", 0.3 - 0.1, 0.2, "0.2 V of 0.2 V"),  # a computer's last digit
        ("{value} of {limit}", 0.004, 0.001, "0.004 V of 0.001 V"),
        # Up and down would even turn them round: 0.502 up to 0.51, 0.508 down to 0.5.
        ("between {value:up} and {limit:down}", 0.502, 0.508, "between 0.502 V and 0.508 V"),
        ("between {value:up} and {limit:down}", 0.48, 0.52, "between 0.48 V and 0.52 V"),
        ("{value} arrive, {limit} are needed: {apart}", 9.5521, 9.5544,
         "9.552 V arrive, 9.554 V are needed: 0.002 V"),
        ("{value}, more than {limit}", 0.5, 0.0018, "0.5 V, more than 0.002 V"),
        ("less than {limit}", 0.5, 0.00004, "less than 0.00004 V"),
        # One number alone weighs nothing.
        ("it drops {value}", 0.5034, 0.5, "it drops 0.5 V"),
    ],
)  # fmt: skip
def test_what_is_weighed_is_never_shown_alike(template, value, limit, said):
    assert say(template, of(value, limit)) == said


@given(
    st.floats(-1e4, 1e4), st.floats(-1, 1), st.integers(0, 9),
    st.sampled_from(["V", "A", "degC", "ohm", "s"]),
    st.sampled_from(["", ":up", ":down"]), st.sampled_from(["", ":up", ":down"]),
)  # fmt: skip
def test_the_order_that_is_shown_is_the_order_that_is(value, apart, places, unit, one, other):
    limit = value + apart * 10.0**-places
    if abs(value - limit) <= 1e-8 * max(abs(value), abs(limit)):
        return
    text = say(f"{{value{one}}}|{{limit{other}}}", Named().of_check(value, limit, unit))
    # What is less than can be shown is less than what is shown beside it.
    shown = [float("less" not in each and each.split()[0]) for each in text.split("|")]
    assert (shown[0] < shown[1]) == (value < limit)
    assert shown[0] != shown[1]


@pytest.mark.parametrize(
    ("value", "said"), [(0.05, "0.05 A"), (0.05432, "0.054 A"), (0.96, "0.96 A"), (1.04, "1 A")]
)
def test_a_small_number_has_two_digits(value, said):
    assert say("{value}", Named().of_check(value, 1.0, "A")) == said


@pytest.mark.parametrize(
    ("value", "said"), [(0.0004, "only 0 V arrive"), (0.02, "only 0.02 V arrive")]
)
def test_what_no_meter_shows_is_only_nothing(value, said):
    assert say("only {value} arrive", of(value, 1.0)) == said
