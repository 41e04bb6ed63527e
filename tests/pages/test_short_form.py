"""The start page as it is sent: a field for each input, the plan, errors beside their fields."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlencode

import pytest
from flask.testing import FlaskClient

from lastvolt_service.api.document import document_json
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.pages.short_form import request_of

from ..service.test_access import bearer, table

# The least that is answered; small to compute.
ASKED = {"system_v": "24", "load": "horn", "distance_m": "4", "wear": "new"}
POSTED = {"system_v": 24, "load": "horn", "distance_m": 4, "wear": "new"}
VOID = {"input", "meta", "link", "br"}


class Page(HTMLParser):
    """What stands in a page: elements in order, each with its attributes and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str], list[str]]] = []
        self._open: list[int] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}, []))
        if tag not in VOID:
            self._open.append(len(self.elements) - 1)

    def handle_endtag(self, tag: str) -> None:
        while self._open and self.elements[self._open.pop()][0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        for place in self._open:
            self.elements[place][2].append(data)

    def texts(self, tag: str) -> list[str]:
        return [" ".join("".join(text).split()) for name, _, text in self.elements if name == tag]

    def named(self, tag: str, **wanted: str) -> dict[str, str]:
        """Attributes, with its text, of the one element that has these."""
        (found,) = [
            {**attrs, "text": "".join(text).strip()}
            for name, attrs, text in self.elements
            if name == tag and wanted.items() <= attrs.items()
        ]
        return found

    def fields(self) -> dict[str, dict[str, str]]:
        return {
            attrs["name"]: {**attrs, "tag": tag}
            for tag, attrs, _ in self.elements
            if tag in {"input", "select"} and "name" in attrs
        }


def page(client: FlaskClient, typed: dict[str, str], status: int = 200) -> Page:
    response = client.get("/?" + urlencode(typed))
    assert response.status_code == status
    assert response.content_type == "text/html; charset=utf-8"
    assert "script-src 'self'" in response.headers["Content-Security-Policy"]
    return Page(response.text)


def test_every_field_of_the_operation_is_asked_once(client: FlaskClient) -> None:
    markup = client.get("/").text
    shown = Page(markup)
    schema = json.loads(document_json())["components"]["schemas"]["QuickAnswerRequest"]
    told = {key: each for key, each in schema["properties"].items() if key != "explain"}
    names = [attrs["name"] for _, attrs, _ in shown.elements if attrs.get("name") in told]
    assert sorted(names) == sorted(told)
    assert len(told) <= 10
    # Three first, as the page says; that which has a default is among them, since it rarely holds.
    assert list(shown.fields())[:3] == ["system_v", "load", "distance_m"]
    assert shown.texts("legend") == ["Three things", "What else you know"]
    assert [len(re.findall("<label", part)) for part in markup.split("<fieldset")[1:]] == [3, 7]
    options = shown.texts("option")
    for name, field in shown.fields().items():
        label = shown.named("label", **{"for": name})["text"]
        hint = shown.named("p", id=f"{name}-hint")["text"]
        assert field["id"] == name
        assert field["aria-describedby"].split() == [f"{name}-hint", f"{name}-error"]
        assert ("required" in field) == (name in schema["required"])
        # The published meaning, whole, is what a layman reads; so are bounds, unit and words.
        read = f"{label} {hint}".lower()
        for clause in told[name]["description"].lower().replace(":", ";").split(";"):
            assert clause.strip() in read
        for bound in ("minimum", "maximum"):
            assert f"{told[name].get(bound, ''):g}" in hint if bound in told[name] else True
        if field["tag"] == "input" and "x-unit" in told[name]:
            assert f"in {told[name]['x-unit']}" in label
        unit = f" {told[name]['x-unit']}" if "x-unit" in told[name] else ""
        for word in told[name].get("enum", ()):
            assert f"{word}{unit}".replace("_", " ") in options


@pytest.mark.parametrize(
    ("query", "chosen"),
    [
        ("", ["", "other", "body", "", "", "", "yes"]),
        # Neither what is left out nor what there is not looks as if something else were chosen.
        ("?system_v=24&zone=moon", ["24", "other", "body", "", "", "", "yes"]),
        ("?load=moon&fails=hot", ["", "other", "body", "", "", "hot", "yes"]),
    ],
)
def test_what_holds_is_chosen(client: FlaskClient, query: str, chosen: list[str]) -> None:
    shown = Page(client.get(f"/{query}").text)
    selected = [
        attrs for tag, attrs, _ in shown.elements if tag == "option" and "selected" in attrs
    ]
    assert [attrs["value"] for attrs in selected] == chosen


def test_the_page_says_what_the_operation_answers(client: FlaskClient) -> None:
    body = {"system_v": 12, "load": "starter_solenoid", "distance_m": 11, "fails": "hot"}
    answer = client.post("/v1/quick-answer", json=body).get_json()
    shown = page(client, {key: str(value) for key, value in body.items()})
    assert shown.texts("h1") == [answer["headline"]]
    items = shown.texts("li")
    steps = [each["message"] for each in answer["plan"]]
    assert len(steps) > 2
    places = [
        next(place for place, item in enumerate(items) if item.endswith(text))
        for text in [*answer["cautions"], *steps]
    ]
    assert places == sorted(places)
    # What matters most is told with the headline, before anything else.
    first = answer["assumed"][0]
    told = next(text for text in shown.texts("p") if "were assumed" in text)
    assert f"{len(answer['assumed'])} things were assumed" in told
    assert f"{first['matters_v']:.2f}".rstrip("0") in told
    rows = shown.texts("tr")
    for each in answer["assumed"]:
        assert [row for row in rows if each["why"] in row]
    (measured,) = [row for row in rows if "(this decides)" in row]
    decides = next(each for each in answer["assumed"] if each["field"] == answer["measure_first"])
    assert decides["why"] in measured
    assert "+" + f"{max(each['brings_v'] or 0 for each in answer['plan']):.2f} V" in shown.texts(
        "span"
    )


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        # The international foot is 0.3048 m.
        ("distance_m", "21 ft", pytest.approx(6.4008, rel=1e-12)),
        ("distance_m", " 21ft ", pytest.approx(6.4008, rel=1e-12)),
        ("distance_m", "21 Feet", pytest.approx(6.4008, rel=1e-12)),
        ("distance_m", "21'", pytest.approx(6.4008, rel=1e-12)),
        ("distance_m", "11", 11.0),
        ("distance_m", "11 m", 11.0),
        ("distance_m", "4,5", 4.5),
        ("distance_m", ".5", 0.5),
        ("distance_m", "12 foot", pytest.approx(3.6576, rel=1e-12)),
        ("distance_m", "5 metre", 5.0),
        ("current_a", "8.5 A", 8.5),
        ("current_a", "8.5 amps", 8.5),
        ("system_v", "12", 12),
        ("system_v", "12 V", 12),
        ("switch_to_be_had", "no", False),
        ("wire", " 12 AWG", "12 AWG"),
        # What is not understood goes on as it is, and is refused with its field.
        ("distance_m", "1,500", "1,500"),
        ("distance_m", "21 furlongs", "21 furlongs"),
        ("distance_m", "1e1", "1e1"),
        ("distance_m", "21 ft 6", "21 ft 6"),
        ("distance_m", "\u0664", "\u0664"),
        ("distance_m", "nan", "nan"),
        ("current_a", "8 ft", "8 ft"),
        ("system_v", "12.5", 12.5),
        ("there_is_none", "12", "12"),
    ],
)
def test_what_is_typed_is_read_with_its_unit(name: str, text: str, value: object) -> None:
    assert request_of(QuickAnswerRequest, {name: text, "zone": " "}) == {name: value}


def test_feet_are_answered_and_shown_both_ways(client: FlaskClient) -> None:
    shown = page(client, ASKED | {"distance_m": "21 ft"})
    answer = client.post("/v1/quick-answer", json=POSTED | {"distance_m": 6.4008}).get_json()
    assert shown.texts("h1") == [answer["headline"]]
    assert any("distance 6.4 m (21 ft)" in text for text in shown.texts("p"))
    assert shown.fields()["distance_m"]["value"] == "21 ft"


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("system_v", "", "This is required."),
        ("system_v", "13", "This must be one of: 6, 12, 24."),
        ("load", "moon", "This must be one of: starter_solenoid"),
        ("distance_m", "", "This is required."),
        ("distance_m", "far", "This must be a number."),
        ("distance_m", "-3", "This must be"),
        ("distance_m", "60", "This must be from 0.2 to 50 m."),
        ("distance_m", "200 ft", "This must be from 0.2 to 50 m."),
        ("current_a", "3 V", "This must be a number."),
        ("current_a", "200", "Up to 100 A are told of here."),
        ("return_path", "air", "This must be one of: body"),
        ("wear", "rusty", "This must be one of: new"),
        ("zone", "moon", "This must be one of: cabin"),
        ("fails", "often", "This must be one of: never"),
        ("wire", "13 XWG", "This is no conductor size"),
        ("switch_to_be_had", "perhaps", "This must be true or false."),
    ],
)
def test_an_error_stands_beside_its_field(
    client: FlaskClient, name: str, text: str, said: str
) -> None:
    shown = page(client, ASKED | {name: text}, status=422)
    assert shown.texts("h1") == ["No answer yet"]
    assert shown.named("p", id=f"{name}-error")["text"].startswith(said)
    fields = shown.fields()
    assert [each for each, attrs in fields.items() if attrs.get("aria-invalid")] == [name]
    assert [each for each, attrs in fields.items() if "autofocus" in attrs] == [name]
    assert (
        shown.named("a", href=f"#{name}")["text"] in shown.named("label", **{"for": name})["text"]
    )
    if fields[name]["tag"] == "input":
        assert fields[name]["value"] == text


def test_of_another_load_its_current_is_asked_for(client: FlaskClient) -> None:
    shown = page(client, {"system_v": "12", "load": "other", "distance_m": "4"}, status=422)
    assert "of another load it is not known" in shown.named("p", id="current_a-error")["text"]


@pytest.mark.parametrize("query", ["x", "&", "system_v=12&system_v=24", "wire=%00%ff", "=1"])
def test_no_query_is_too_strange_for_a_page(client: FlaskClient, query: str) -> None:
    response = client.get(f"/?{query}")
    assert response.status_code == 422
    assert Page(response.text).texts("h1") == ["No answer yet"]


EVIL = "\"'><script>alert(1)</script><img src=x onerror=alert(1)>"


@pytest.mark.parametrize("name", [*QuickAnswerRequest.described, EVIL])
def test_what_is_echoed_runs_nothing(client: FlaskClient, name: str) -> None:
    shown = page(client, ASKED | {name: EVIL}, status=422)
    assert [attrs.get("src", "") for tag, attrs, _ in shown.elements if tag == "script"] == [
        "/static/start.js"
    ]
    assert not [tag for tag, _, _ in shown.elements if tag in {"img", "style"}]
    assert not [key for _, attrs, _ in shown.elements for key in attrs if key.startswith("on")]
    field = shown.fields().get(name, {"tag": "none"})
    assert field["tag"] != "input" or field["value"] == EVIL


def test_links_lead_on_to_the_whole_circuit(client: FlaskClient) -> None:
    answer = client.post("/v1/quick-answer", json=POSTED).get_json()
    shown = page(client, ASKED)
    links = [attrs["href"] for tag, attrs, _ in shown.elements if tag == "a"]
    (circuit,) = [each for each in links if each.startswith("/docs/remedy-choice?request=")]
    (words,) = [each for each in links if each.startswith("/v1/reports/remedy-choice.txt?request=")]
    whole = json.loads(Page(client.get(circuit).text).named("textarea", id="body")["text"])
    reports = [
        client.post("/v1/reports/remedy-choice.txt", json=each).data
        for each in (whole, answer["request"])
    ]
    assert [client.get(words).data] * 2 == reports
    assert client.get("/docs/remedy-choice?request=garbled").status_code == 422


def test_the_example_is_answered(client: FlaskClient) -> None:
    links = [attrs["href"] for tag, attrs, _ in Page(client.get("/").text).elements if tag == "a"]
    (example,) = [each for each in links if each.startswith("?")]
    assert client.get(f"/{example}").status_code == 200


def test_a_key_is_needed_where_others_need_one(tmp_path: Path) -> None:
    file = tmp_path / "keys.toml"
    file.write_text(
        table("wires", "lv_wires", 'paths = ["/v1/wire-resistance"]')
        + table("quick", "lv_quick", 'paths = ["/v1/quick-answer"]')
    )
    client = create_app(Config(api_keys_file=str(file))).test_client()
    assert client.get("/").status_code == 200
    path = "/?" + urlencode(ASKED)
    for headers, status in (({}, 401), (bearer("lv_wires"), 403), (bearer("lv_no"), 401)):
        response = client.get(path, headers=headers)
        assert response.status_code == status
        assert ("WWW-Authenticate" in response.headers) == (status == 401)
        shown = Page(response.text)
        assert shown.named("input", id="key")["type"] == "password"
        assert "name" not in shown.named("input", id="key")  # it never stands in an address
        assert shown.texts("h1") == ["No answer yet"]
    answered = client.get(path, headers=bearer("lv_quick"))
    assert answered.status_code == 200
    # A link cannot carry a key.
    assert "?request=" not in answered.text


def test_the_page_counts_as_a_call_where_calls_are_counted() -> None:
    client = create_app(Config(rate_limit="1/minute")).test_client()
    assert [client.get("/").status_code for _ in range(3)] == [200] * 3
    statuses = [client.get("/?x=1") for _ in range(2)]
    assert [each.status_code for each in statuses] == [422, 429]
    assert int(statuses[1].headers["Retry-After"]) > 0
    assert Page(statuses[1].text).texts("h1") == ["No answer yet"]
