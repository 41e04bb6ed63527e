"""Reports over HTTP: the operation's own rules, links that carry the request, PNG and its extra."""

import base64
import json
import struct
import sys
import tracemalloc
import zlib
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from lastvolt_service.api.document import document_json
from lastvolt_service.api.links import MAX_UNPACKED, unpack
from lastvolt_service.api.problems import MEDIA_TYPE, Refused
from lastvolt_service.api.reports import MEDIA_TYPES, forms
from lastvolt_service.gunicorn_conf import limit_request_line
from lastvolt_service.operations.decision.quick_link import MAX_LINK
from lastvolt_service.reports import drawing

from ..cost import DEAR
from .conftest import POSTED

REPORTS = [(name, form) for name, operation in POSTED.items() for form in forms(operation)]
# What is dear is asked for as Markdown and as a drawing here, in every form in the long job.
ASKED = [
    pytest.param(name, form, marks=[pytest.mark.long] * (name in DEAR and form in {"txt", "png"}))
    for name, form in REPORTS
]
BODY = POSTED["voltage-drop"].schema.example


def packed(body: Any) -> str:
    text = body if isinstance(body, bytes) else json.dumps(body).encode()
    return base64.urlsafe_b64encode(zlib.compress(text, 9)).rstrip(b"=").decode()


def problem(response: TestResponse, code: str) -> dict[str, Any]:
    assert response.mimetype == MEDIA_TYPE
    found: dict[str, Any] = json.loads(response.data)
    assert found["type"] == f"/problems/{code}", found
    assert found["status"] == response.status_code
    return found


def get(client: FlaskClient, path: str, **query: str) -> TestResponse:
    return client.get(f"/v1/reports/{path}", query_string=query)


@pytest.mark.parametrize(("name", "form"), ASKED)
def test_a_link_gives_what_a_post_gives(client: FlaskClient, name: str, form: str) -> None:
    body = POSTED[name].schema.example
    posted = client.post(f"/v1/reports/{name}.{form}", json=body)
    linked = get(client, f"{name}.{form}", request=packed(body))
    assert posted.status_code == linked.status_code == 200
    assert posted.data == linked.data
    assert posted.content_type == linked.content_type == MEDIA_TYPES[form]
    for response in (posted, linked):
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        assert "default-src 'none'" in response.headers["Content-Security-Policy"]
    assert posted.headers["Cache-Control"] == "no-store"
    assert linked.headers["Cache-Control"] == "max-age=3600"


def test_a_link_can_be_kept_and_asked_for_again(client: FlaskClient) -> None:
    first = get(client, "voltage-drop.svg", request=packed(BODY))
    again = client.get(
        "/v1/reports/voltage-drop.svg",
        query_string={"request": packed(BODY)},
        headers={"If-None-Match": first.headers["ETag"]},
    )
    assert (again.status_code, again.data) == (304, b"")
    head = client.head("/v1/reports/voltage-drop.svg", query_string={"request": packed(BODY)})
    assert (head.status_code, head.data) == (200, b"")
    other = get(client, "voltage-drop.md", request=packed({**BODY, "supply_v": 12.3}))
    assert other.headers["ETag"] != first.headers["ETag"]


def test_a_link_may_be_packed_without_compression_and_with_padding(client: FlaskClient) -> None:
    plain = base64.urlsafe_b64encode(json.dumps(BODY).encode()).decode()
    expected = get(client, "voltage-drop.md", request=packed(BODY)).data
    for text in (plain, plain.rstrip("=")):
        assert get(client, "voltage-drop.md", request=text).data == expected


def test_a_link_that_is_too_long_is_told_its_limit(client: FlaskClient) -> None:
    found = problem(get(client, "voltage-drop.md", request="A" * (MAX_LINK + 1)), "link-too-long")
    assert found["status"] == 414
    assert str(MAX_LINK) in found["detail"]
    # One of the greatest length is read, and the server's request line holds it.
    problem(get(client, "voltage-drop.md", request="A" * MAX_LINK), "invalid-request")
    line = f"GET /v1/reports/relay-retrofit.svg?picture=schematic&request={'A' * MAX_LINK} HTTP/1.1"
    assert len(line) + 2 <= limit_request_line


def test_a_link_does_not_unpack_to_more_than_its_limit(client: FlaskClient) -> None:
    bomb = packed(b" " * (40 * MAX_UNPACKED))
    assert len(bomb) <= MAX_LINK
    assert problem(get(client, "voltage-drop.md", request=bomb), "too-large")["status"] == 413
    tracemalloc.start()
    with pytest.raises(Refused):
        unpack(bomb)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 5 * MAX_UNPACKED  # in full it would take forty times the limit
    just = packed(b"{}" + b" " * (MAX_UNPACKED - 2))
    assert get(client, "voltage-drop.md", request=just).status_code == 422  # read; fields missing


@pytest.mark.parametrize(
    "text",
    ["", "e", "!", "eyJ9 ", "é", "eJw", packed({})[:-4], packed({}) + "AAAA", "=", "AAAA=A",
     packed({}) + "\n"],
)  # fmt: skip
def test_garbled_links_are_refused(client: FlaskClient, text: str) -> None:
    found = problem(get(client, "voltage-drop.md", request=text), "invalid-request")
    assert found["errors"][0]["pointer"] == "#/request"


@pytest.mark.parametrize(
    "text", [b"{", b'{"a":1,"a":2}', b'{"a":NaN}', b"\xff", b'{"a":1e999}', b'{"a":"\\ud800"}']
)
def test_json_in_a_link_is_read_as_strictly_as_in_a_body(client: FlaskClient, text: bytes) -> None:
    by_link = problem(get(client, "voltage-drop.md", request=packed(text)), "not-json")
    by_body = client.post("/v1/voltage-drop", data=text, content_type="application/json").get_json()
    assert by_link["detail"] == by_body["detail"]


WRONG = [
    {},
    {**BODY, "surprise": 1},
    {**BODY, "supply_v": "12"},
    {**BODY, "load_resistance_ohm": 1e-4, "segments": [{**BODY["segments"][0], "size": "99 AWG"}]},
]


@pytest.mark.parametrize("body", WRONG)
def test_errors_are_those_of_the_operation(client: FlaskClient, body: dict[str, Any]) -> None:
    expected = client.post("/v1/voltage-drop", json=body)
    for form in forms(POSTED["voltage-drop"]):
        posted = client.post(f"/v1/reports/voltage-drop.{form}", json=body)
        linked = get(client, f"voltage-drop.{form}", request=packed(body))
        for response in (posted, linked):
            assert response.status_code == expected.status_code == 422
            instance = {"instance": f"/v1/reports/voltage-drop.{form}"}
            assert json.loads(response.data) == {**expected.get_json(), **instance}


def test_a_calculation_without_answer_is_an_error_here_too(client: FlaskClient) -> None:
    body = {"supply_v": 12, "load_current_a": 1000, "segments": BODY["segments"]}
    problem(client.post("/v1/reports/voltage-drop.svg", json=body), "no-operating-point")


@pytest.mark.parametrize(
    ("path", "query", "pointer"),
    [
        ("voltage-drop.md", {}, "#/request"),
        ("voltage-drop.md", {"request": packed(BODY), "units": "imperial"}, "#/units"),
        ("voltage-drop.svg", {"request": packed(BODY), "units": "us"}, "#/units"),
        ("voltage-drop.svg", {"request": packed(BODY), "picture": "schematic"}, "#/picture"),
        ("voltage-drop.md", {"request": packed(BODY), "picture": "voltage"}, "#/picture"),
        ("voltage-drop.md", {"request": packed(BODY), "size": "9"}, "#/size"),
    ],
)
def test_unknown_options_are_refused(
    client: FlaskClient, path: str, query: dict[str, str], pointer: str
) -> None:
    found = problem(get(client, path, **query), "invalid-request")
    assert [error["pointer"] for error in found["errors"]] == [pointer]


def test_a_post_takes_no_link_and_no_option_twice(client: FlaskClient) -> None:
    path = "/v1/reports/voltage-drop.md"
    problem(client.post(f"{path}?request={packed(BODY)}", json=BODY), "invalid-request")
    problem(client.post(f"{path}?units=si&units=us", json=BODY), "invalid-request")
    problem(client.post(path, data="x", content_type="text/plain"), "unsupported-media-type")


def test_options_choose(client: FlaskClient) -> None:
    body = POSTED["wire-resistance"].schema.example
    us = client.post("/v1/reports/wire-resistance.md?units=us", json=body).text
    assert "°F" in us
    body = POSTED["circuit-check"].schema.example
    pictures = {
        client.post(f"/v1/reports/circuit-check.svg?picture={kind}", json=body).text
        for kind in ("voltage", "schematic")
    }
    assert len(pictures) == 2


@pytest.mark.parametrize(
    ("path", "code"),
    [
        ("nonsense.md", "not-found"),
        ("conductors.md", "not-found"),
        ("voltage-drop.pdf", "not-found"),
        ("fuse-selection.svg", "not-found"),
        ("voltage-drop", "not-found"),
    ],
)
def test_what_there_is_not(client: FlaskClient, path: str, code: str) -> None:
    problem(get(client, path, request=packed(BODY)), code)


def test_other_methods_are_refused(client: FlaskClient) -> None:
    response = client.put("/v1/reports/voltage-drop.md", json=BODY)
    problem(response, "method-not-allowed")
    assert {"GET", "POST"} <= set(response.headers["Allow"].split(", "))


def pixels(png: bytes) -> tuple[int, int, bytes]:
    """Decode a PNG as far as needed (W3C Portable Network Graphics, sections 5 and 11)."""
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    place, chunks = 8, []
    while place < len(png):
        (length,) = struct.unpack(">I", png[place : place + 4])
        kind, data = png[place + 4 : place + 8], png[place + 8 : place + 8 + length]
        (sum_,) = struct.unpack(">I", png[place + 8 + length : place + 12 + length])
        assert zlib.crc32(kind + data) == sum_
        chunks.append((kind, data))
        place += 12 + length
    assert (chunks[0][0], chunks[-1][0]) == (b"IHDR", b"IEND")
    width, height, depth, colour = struct.unpack(">IIBB", chunks[0][1][:10])
    assert (depth, colour) == (8, 6)  # eight bits each of red, green, blue and opacity
    rows = zlib.decompress(b"".join(data for kind, data in chunks if kind == b"IDAT"))
    assert len(rows) == height * (1 + 4 * width)
    return width, height, rows


def test_a_png_decodes_and_is_no_blank_page(client: FlaskClient) -> None:
    response = client.post("/v1/reports/voltage-drop.png", json=BODY)
    width, height, rows = pixels(response.data)
    assert width >= 600
    assert height >= 100
    assert len(set(rows)) > 10
    assert len(response.data) < 60_000


def test_a_heavy_png_is_drawn_in_single_size(monkeypatch: pytest.MonkeyPatch) -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="600" height="40"/>'
    assert pixels(drawing.to_png(svg))[0] == 900
    monkeypatch.setattr(drawing, "HEAVY", 10)
    assert pixels(drawing.to_png(svg))[0] == 600


def test_without_the_extra_a_png_is_refused_and_says_so(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawing._has_font.cache_clear()
    monkeypatch.setitem(sys.modules, "resvg_py", None)
    found = problem(client.post("/v1/reports/voltage-drop.png", json=BODY), "no-pictures")
    assert found["status"] == 501
    assert "lastvolt[pictures]" in found["detail"]
    assert client.post("/v1/reports/voltage-drop.svg", json=BODY).status_code == 200


def test_without_a_font_a_png_is_refused_and_says_so(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawing._has_font.cache_clear()
    monkeypatch.setattr(drawing, "_render", lambda *_: b"blank")
    found = problem(client.post("/v1/reports/voltage-drop.png", json=BODY), "no-pictures")
    assert "font" in found["detail"]
    drawing._has_font.cache_clear()


def test_the_document_describes_every_report() -> None:
    described = json.loads(document_json())["paths"]
    paths = {path: item for path, item in described.items() if "/reports/" in path}
    assert set(paths) == {f"/v1/reports/{{operation}}.{form}" for form in MEDIA_TYPES}
    for form, media_type in MEDIA_TYPES.items():
        item = paths[f"/v1/reports/{{operation}}.{form}"]
        for method in ("get", "post"):
            assert list(item[method]["responses"]["200"]["content"]) == [media_type.split(";")[0]]
            listed = next(
                each for each in item[method]["parameters"] if each["name"] == "operation"
            )
            expected = [name for name, other in REPORTS if other == form]
            assert listed["schema"]["enum"] == expected
        examples = item["post"]["requestBody"]["content"]["application/json"]["examples"]
        assert list(examples) == expected
