"""What strangers send: refused with a problem that says why, never repaired and never a 500."""

import io
import json
import math
import time

import pytest

from lastvolt_service.api.body import MAX_DEPTH, MAX_DIGITS
from lastvolt_service.api.problems import MAX_ERRORS, MEDIA_TYPE, PROBLEMS
from lastvolt_service.config import Config

PATH = "/v1/wire-resistance"
WIRE = {"size": "12 AWG", "length_m": 3.2}
DROP = {"supply_v": 12, "load_current_a": 5}
BODY = json.dumps(WIRE).encode()
LIMIT = Config().max_body_bytes


def assert_problem(response, code):
    """The answer is a problem of that type, whole and without news of our inside."""
    assert response.status_code == PROBLEMS[code].status, response.text[:300]
    assert response.content_type == MEDIA_TYPE
    problem = response.get_json()
    assert problem["type"] == f"/problems/{code}"
    assert problem["status"] == response.status_code
    assert problem["title"] == PROBLEMS[code].title
    assert problem["detail"]
    assert len(response.data) < 20_000
    assert "Traceback" not in response.text
    return problem


def pointers(problem):
    return [error["pointer"] for error in problem["errors"]]


@pytest.fixture
def post(client):
    def send(body, path=PATH, content_type="application/json", **options):
        return client.post(path, data=body, content_type=content_type, **options)

    return send


@pytest.mark.parametrize(
    "content_type", [None, "", "text/plain", "text/json", "application/x-www-form-urlencoded", "x"]
)
def test_wrong_content_type(post, content_type):
    assert_problem(post(BODY, content_type=content_type), "unsupported-media-type")


def test_content_type_may_name_the_charset(post):
    assert post(BODY, content_type="Application/JSON; charset=utf-8").status_code == 200


@pytest.mark.parametrize("encoding", ["gzip", "deflate", "br", "identity, gzip"])
def test_compressed_body(post, encoding):
    found = post(BODY, headers={"Content-Encoding": encoding})
    assert_problem(found, "unsupported-media-type")


@pytest.mark.parametrize(
    "number", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999", "9" * 310 + ".0"]
)
def test_number_that_is_not_finite(post, number):
    assert_problem(post(f'{{"size": "12 AWG", "length_m": {number}}}'), "not-json")


@pytest.mark.parametrize(
    "body",
    [
        '{"size": "12 AWG", "length_m": 1, "length_m": 2}',
        '{"size": "12 AWG", "length_m": 1, "length_\\u006d": 1}',
        '{"size": "12 AWG", "length_m": {"a": 1, "a": 1}}',
    ],
)
def test_duplicate_keys(post, body):
    assert_problem(post(body), "not-json")


def test_duplicate_among_very_many_keys_takes_no_time(post):
    keys = [f'"k{index}":0' for index in range(70_000)]
    start = time.perf_counter()
    assert_problem(post("{" + ",".join([*keys, keys[-1]]) + "}"), "not-json")
    # A quadratic search takes a minute; a linear one a tenth of a second.
    assert time.perf_counter() - start < 10


@pytest.mark.parametrize("digits", [MAX_DIGITS + 1, 400, 5000, 100_000])
def test_integer_of_many_digits(post, digits):
    found = post(f'{{"size": "12 AWG", "length_m": {"9" * digits}}}')
    assert_problem(found, "not-json")


def test_integer_of_thirty_digits_is_only_out_of_range(post):
    found = post(f'{{"size": "12 AWG", "length_m": {"9" * MAX_DIGITS}}}')
    assert pointers(assert_problem(found, "invalid-request")) == ["#/length_m"]


@pytest.mark.parametrize("opening", ["[", '{"a":', '[{"a":'])
@pytest.mark.parametrize("depth", [MAX_DEPTH + 1, 100_000])
def test_deep_nesting(post, opening, depth):
    assert_problem(post(opening * depth), "not-json")


def test_closed_nesting_at_and_beyond_the_limit(post):
    within = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    assert_problem(post(within), "invalid-request")
    assert_problem(post(f"[{within}]"), "not-json")


def test_brackets_in_a_text_are_no_nesting(post):
    body = {**DROP, "segments": [{"kind": "resistance", "name": '[{"' * 20, "resistance_ohm": 0}]}
    assert post(json.dumps(body), "/v1/voltage-drop").status_code == 200


@pytest.mark.parametrize("text", ["\\ud800", "\\uDFFF", "a\\uD83D", "\\udc00\\ud800"])
def test_lone_surrogate(post, text):
    segment = f'{{"kind": "resistance", "name": "{text}", "resistance_ohm": 0}}'
    body = f'{{"supply_v": 12, "load_current_a": 5, "segments": [{segment}]}}'
    assert_problem(post(body, "/v1/voltage-drop"), "not-json")
    assert_problem(post(f'{{"{text}": 1}}'), "not-json")


def test_pair_of_surrogates_is_a_character(post):
    segment = '{"kind": "resistance", "name": "\\ud83d\\ude8c", "resistance_ohm": 0}'
    body = f'{{"supply_v": 12, "load_current_a": 5, "segments": [{segment}]}}'
    found = post(body, "/v1/voltage-drop")
    assert found.get_json()["segments"][0]["name"] == "\U0001f68c"


@pytest.mark.parametrize(
    "body",
    [b"", b" ", b"{", b"{'a': 1}", b'{"a": 1,}', b"{} {}", b"tru", b"01", b"\xff", b"\x00",
     b'{"\xed\xa0\x80": 1}', b"\xef\xbb\xbf{}", BODY.decode().encode("utf-16"),
     b'{"size": "12\nAWG"}'],
)  # fmt: skip
def test_text_that_is_no_json(post, body):
    assert_problem(post(body), "not-json")


# 1e308 A through 1e-308 mm2, and numbers so small that dividing by them overflows.
@pytest.mark.parametrize(
    ("path", "body", "pointer"),
    [
        ("/v1/voltage-drop", {"load_current_a": 1e308}, "#/load_current_a"),
        ("/v1/voltage-drop", {"load_power_w": 1e308}, "#/load_power_w"),
        ("/v1/voltage-drop", {"load_resistance_ohm": 5e-324}, "#/load_resistance_ohm"),
        ("/v1/voltage-drop", {"supply_v": 5e-324}, "#/supply_v"),
        (PATH, {"length_m": 1e308}, "#/length_m"),
        (PATH, {"length_m": -5e-324}, "#/length_m"),
        (PATH, {"temperature_c": -1e308}, "#/temperature_c"),
    ],
)
def test_number_beyond_anything_in_a_vehicle(post, path, body, pointer):
    whole = {**WIRE, **body} if path == PATH else {**DROP, "segments": [], **body}
    found = assert_problem(post(json.dumps(whole), path), "invalid-request")
    assert pointer in pointers(found)


@pytest.mark.parametrize(
    "value", ["3", "1_0", "\u0663", "nan", True, None, [], {}, [3], {"value": 3}], ids=repr
)
def test_what_only_looks_like_a_number(post, value):
    found = assert_problem(post(json.dumps({**WIRE, "length_m": value})), "invalid-request")
    assert pointers(found) == ["#/length_m"]


@pytest.mark.parametrize(
    ("value", "right"), [(12.0, True), (1.5, False), ("12", False), (7, False)]
)
def test_whole_numbers(post, value, right):
    segment = {"kind": "resistance", "name": "a", "resistance_ohm": 0}
    body = {**DROP, "nominal_v": value, "segments": [segment]}
    found = post(json.dumps(body), "/v1/voltage-drop")
    if right:
        assert found.status_code == 200
    else:
        assert pointers(assert_problem(found, "invalid-request")) == ["#/nominal_v"]


@pytest.mark.parametrize("query", ["x=1", "size=12+AWG", "x", "%2F~=1"])
def test_query_of_a_calculation(client, query):
    found = client.post(f"{PATH}?{query}", json=WIRE)
    assert_problem(found, "invalid-request")


@pytest.mark.parametrize(
    ("query", "pointer"),
    [
        ("x=1", "#/x"),
        ("standard=NEC", "#/standard"),
        ("standard=", "#/standard"),
        ("standard=AWG&standard=SAE", "#/standard"),
    ],
)
def test_query_of_a_table(client, query, pointer):
    found = assert_problem(client.get(f"/v1/conductors?{query}"), "invalid-request")
    assert pointers(found) == [pointer]


def test_many_unknown_fields_get_a_short_answer(post):
    body = {**WIRE, **{f"unknown {index}": index for index in range(15_000)}}
    found = assert_problem(post(json.dumps(body)), "invalid-request")
    assert len(found["errors"]) == MAX_ERRORS
    assert f"first {MAX_ERRORS}" in found["detail"]
    assert "14999 more" in found["detail"]


def test_long_names_get_a_short_answer(post):
    body = {**WIRE, **{f"{index}" + "\u00e9" * 10_000: 1 for index in range(20)}}
    assert_problem(post(json.dumps(body, ensure_ascii=False).encode()), "invalid-request")


def test_pointers_escape_what_json_pointers_escape(post):
    found = assert_problem(post(json.dumps({**WIRE, "a/b~c d%\u00e9": 1})), "invalid-request")
    assert pointers(found) == ["#/a~1b~0c%20d%25%C3%A9"]


def chunked(client, body):
    """Post without a Content-Length, as a server does that has taken the chunks apart."""
    return client.post(
        PATH,
        input_stream=io.BytesIO(body),
        content_type="application/json",
        environ_overrides={"wsgi.input_terminated": True, "HTTP_TRANSFER_ENCODING": "chunked"},
    )


def padded(length):
    return BODY + b" " * (length - len(BODY))


def test_body_of_the_limit(post):
    assert post(padded(LIMIT)).status_code == 200
    assert_problem(post(padded(LIMIT + 1)), "too-large")


def test_chunked_body(client):
    assert chunked(client, BODY).status_code == 200
    assert chunked(client, padded(LIMIT - 1)).status_code == 200


# At the limit nobody can tell whether more would have come: the body may be a torn one.
@pytest.mark.parametrize("length", [LIMIT, LIMIT + 1, 3 * LIMIT])
def test_chunked_body_at_the_limit_and_over_it(client, length):
    assert_problem(chunked(client, padded(length)), "too-large")


def test_body_shorter_than_announced(client):
    found = client.post(
        PATH,
        input_stream=io.BytesIO(BODY),
        content_type="application/json",
        environ_overrides={"CONTENT_LENGTH": "5000"},
    )
    assert_problem(found, "bad-request")


@pytest.mark.parametrize(
    ("fields", "pointer"),
    [
        ({"size": None}, "#/size"),
        ({"size": "12 AWG\n"}, "#/size"),
        ({"size": "twelve"}, "#/size"),
        ({"size": ["12 AWG"]}, "#/size"),
        ({"length_m": -1}, "#/length_m"),
        ({"lenght_m": 1}, "#/lenght_m"),
        ({"material": "gold"}, "#/material"),
        ({"standard": "AWG "}, "#/standard"),
    ],
)
def test_wrong_field_is_pointed_at(post, fields, pointer):
    found = assert_problem(post(json.dumps({**WIRE, **fields})), "invalid-request")
    assert pointers(found) == [pointer]
    assert found["errors"][0]["detail"].endswith((".", "?"))
    assert pointer in found["detail"]


def test_missing_fields_are_pointed_at(post):
    assert pointers(assert_problem(post("{}"), "invalid-request")) == ["#/size", "#/length_m"]


@pytest.mark.parametrize("body", ["null", "[]", "3", '"text"', "true"])
def test_request_that_is_no_object(post, body):
    assert pointers(assert_problem(post(body), "invalid-request")) == ["#"]


@pytest.mark.parametrize(
    ("segments", "pointer"),
    [
        ([], "#/segments"),
        ({}, "#/segments"),
        ([{}] * 101, "#/segments"),
        ([3], "#/segments/0"),
        ([{"kind": "lamp"}], "#/segments/0/kind"),
        ([{"kind": ["wire"]}], "#/segments/0/kind"),
        (
            [{"kind": "resistance", "name": "a", "resistance_ohm": -1}],
            "#/segments/0/resistance_ohm",
        ),
        ([{"kind": "resistance", "name": "", "resistance_ohm": 1}], "#/segments/0/name"),
    ],
)
def test_wrong_segment_is_pointed_at(post, segments, pointer):
    found = post(json.dumps({**DROP, "segments": segments}), "/v1/voltage-drop")
    assert pointers(assert_problem(found, "invalid-request")) == [pointer]


def test_answers_are_strict_json(post):
    """No NaN and no Infinity goes out: they are no JSON."""

    def refuse(text):
        raise AssertionError(text)

    body = {**WIRE, "length_m": 0}
    found = json.loads(post(json.dumps(body)).text, parse_constant=refuse)
    assert math.isfinite(found["resistance_ohm"])
