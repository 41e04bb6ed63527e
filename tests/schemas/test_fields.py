"""Fields: what JSON says is what is taken, or refused."""

import math

import pytest
from marshmallow import ValidationError

from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.fields import Choice, Count, Flag, Kinded, Many, Name, Part, Quantity


class Inner(Request):
    kind = Choice("kind", ("inner",))
    length_m = Quantity("length")


class Sample(Request):
    current_a = Quantity("current", minimum=0.5, maximum=10, optional=True)
    count = Count("count", minimum=1, maximum=3, optional=True)
    nominal_v = Count("nominal", choices=(6, 12), optional=True)
    far_m = Quantity("length", minimum=1e-5, maximum=2.5e6, optional=True)
    flag = Flag("flag", default=True)
    word = Choice("word", ("one", "two"), default="one")
    name = Name("name")
    many = Many(Kinded({"inner": Inner}), "many", maximum=2, optional=True)
    part = Part(Inner, "part", optional=True)


def load(**fields):
    return Sample().load({"name": "a", **fields})


def refused(**fields):
    with pytest.raises(ValidationError) as caught:
        load(**fields)
    return caught.value.messages


def test_defaults():
    assert load() == {"name": "a", "flag": True, "word": "one", "many": []}


@pytest.mark.parametrize("value", [0.5, 10, 10.0, 3])
def test_number_within_bounds(value):
    found = load(current_a=value)["current_a"]
    assert found == value
    assert isinstance(found, float)


@pytest.mark.parametrize("value", [0.4999, 10.001, -3, 10**40, 1e300, 5e-324, 0, -0.0])
def test_number_out_of_bounds_names_them(value):
    assert refused(current_a=value) == {"current_a": ["This must be from 0.5 to 10 A."]}


def test_bounds_are_written_without_powers_of_ten():
    told = "This must be from 0.00001 to 2,500,000 m."
    assert refused(far_m=3e6) == {"far_m": [told]}


@pytest.mark.parametrize("value", ["3", "1_0", True, False, [], {}, [1]])
def test_what_is_no_number(value):
    assert refused(current_a=value) == {"current_a": ["This must be a number."]}


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 10**400])
def test_what_no_double_holds(value):
    assert refused(current_a=value) == {"current_a": ["This number is too large."]}


@pytest.mark.parametrize("field", ["current_a", "count", "flag", "word", "many", "part"])
def test_null_is_not_left_out(field):
    assert refused(**{field: None}) == {field: ["This may not be null: leave it out."]}


@pytest.mark.parametrize("value", [1, 3.0])
def test_whole_number(value):
    found = load(count=value)["count"]
    assert found == value
    assert isinstance(found, int)


@pytest.mark.parametrize("value", [1.5, "3", True, math.nan, math.inf, [], 1e-320])
def test_what_is_no_whole_number(value):
    assert refused(count=value) == {"count": ["This must be a whole number."]}


@pytest.mark.parametrize("value", [0, 4, -1, 10**30])
def test_whole_number_out_of_bounds(value):
    assert refused(count=value) == {"count": ["This must be from 1 to 3."]}


def test_whole_number_of_a_few():
    assert load(nominal_v=12.0)["nominal_v"] == 12
    assert refused(nominal_v=7) == {"nominal_v": ["This must be one of: 6, 12."]}


@pytest.mark.parametrize("value", [1, 0, "true", "yes", [], {}])
def test_what_is_neither_true_nor_false(value):
    assert refused(flag=value) == {"flag": ["This must be true or false."]}


@pytest.mark.parametrize("value", ["three", "on", ""])
def test_word_that_is_not_offered(value):
    assert refused(word=value) == {"word": ["This must be one of: one, two."]}


@pytest.mark.parametrize("value", ["ONE", " one", "one\n", "O-n_e"])
def test_word_that_is_only_written_otherwise(value):
    said = "This must be one of: one, two. Did you mean 'one'?"
    assert refused(word=value) == {"word": [said]}


@pytest.mark.parametrize("value", [1, True, [], {}])
def test_what_is_no_text(value):
    for field in ("word", "name"):
        assert refused(**{field: value}) == {field: ["This must be text."]}


@pytest.mark.parametrize("value", ["", "a" * 81, "a\n", "a\x00", "\x7f"])
def test_name_that_is_no_label(value):
    assert list(refused(name=value)) == ["name"]


@pytest.mark.parametrize("value", ["a" * 80, "Schl\u00fcssel <b>", "\U0001f68c"])
def test_name_is_kept(value):
    assert load(name=value)["name"] == value


def test_list_of_kinds():
    item = {"kind": "inner", "length_m": 1}
    assert load(many=[item])["many"] == [{"kind": "inner", "length_m": 1.0}]
    assert refused(many=[item] * 3) == {"many": ["This must list from 1 to 2 items."]}
    assert refused(many={}) == {"many": ["This must be a list."]}
    assert refused(many=[item, 3]) == {"many": {1: ["This must be an object."]}}
    lacks = {"kind": ["This is required. This must be one of: inner."]}
    assert refused(many=[item, {}]) == {"many": {1: lacks}}
    assert refused(many=[{**item, "kind": ["inner"]}]) == {
        "many": {0: {"kind": ["This must be one of: inner."]}}
    }
    assert refused(many=[{**item, "length_m": -1}]) == {
        "many": {0: {"length_m": ["This must be from 0 to 1000 m."]}}
    }


def test_long_list_is_refused_unread():
    assert refused(many=[None] * 1000) == {"many": ["This must list from 1 to 2 items."]}


def test_part_is_an_object():
    assert refused(part=[]) == {"part": {"_schema": ["This must be an object."]}}
    assert refused(part={"kind": "inner"}) == {"part": {"length_m": ["This is required."]}}


def test_required_and_unknown():
    with pytest.raises(ValidationError) as caught:
        Sample().load({"nme": "a"})
    assert caught.value.messages == {
        "name": ["This is required."],
        "nme": ["There is no such field: one like it is name."],
    }


@pytest.mark.parametrize(
    ("sent", "meant"),
    [
        ("curent_a", "current_a, in A"),
        ("currentA", "current_a, in A"),
        ("Current_A", "current_a, in A"),
        ("current-a", "current_a, in A"),
        ("current", "current_a, in A"),
        ("current_ma", "current_a, in A"),  # to be converted
        ("flags", "flag"),
    ],
)
def test_the_field_that_may_have_been_meant_is_told_with_its_unit(sent, meant):
    told = f"There is no such field: one like it is {meant}."
    assert refused(**{sent: 1}) == {sent: [told]}


@pytest.mark.parametrize(
    "sent", ["voltage", "x", "", "current_a" * 100_000, "\u0417\u0430\u043c\u043e\u043a"]
)
def test_what_is_like_no_field_has_none_told(sent):
    assert refused(**{sent: 1}) == {sent: ["There is no such field."]}


def test_a_field_of_a_part_is_told_of_that_part():
    item = {"kind": "inner", "length_m": 1, "lenght_m": 1}
    told = {"lenght_m": ["There is no such field: one like it is length_m, in m."]}
    assert refused(part=item, many=[item]) == {"part": told, "many": {0: told}}


@pytest.mark.parametrize("sent", ["length_m", "lenght_m", "Length-M"])
def test_a_field_of_a_part_that_stands_beside_it_is_told_with_its_place(sent):
    told = refused(**{sent: 1})[sent]
    assert told == ["There is no such field here: one like it is many[].length_m, in m."]


@pytest.mark.parametrize("sent", ["current_a", "curent_a"])
def test_a_field_that_stands_in_a_part_is_told_to_stand_beside_that(sent):
    item = {"kind": "inner", "length_m": 1, sent: 1}
    here = "There is no such field here: one like it is current_a, beside {}, in A."
    assert refused(part=item, many=[item]) == {
        "part": {sent: [here.format("part")]},
        "many": {0: {sent: [here.format("many")]}},
    }


def test_what_is_required_is_not_to_be_left_out():
    assert refused(name=None) == {"name": ["This may not be null."]}
    assert refused(part={"kind": "inner", "length_m": None}) == {
        "part": {"length_m": ["This may not be null."]}
    }
    assert refused(many=[None]) == {"many": {0: ["This must be an object."]}}


@pytest.mark.parametrize("value", [None, [], "text", 3, True])
def test_request_is_an_object(value):
    with pytest.raises(ValidationError) as caught:
        Sample().load(value)
    assert caught.value.messages == {"_schema": ["This must be an object."]}


def test_quantity_needs_a_unit_in_its_name():
    class Wrong(Request):
        plain = Quantity("no unit")

    with pytest.raises(TypeError, match="plain"):
        Wrong()
