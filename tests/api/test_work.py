"""The bound on work: what is over it is refused with both numbers, what is at it is answered."""

import base64
import copy
import json
import re
import zlib

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.document import document_json
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.operations.circuits import work
from lastvolt_service.operations.decision.quick_link import MAX_LINK

CHECK, RETROFIT, SHEET = (
    next(operation for operation in OPERATIONS if operation.name == name)
    for name in ("circuit-check", "relay-retrofit", "work-sheet")
)


@pytest.fixture(scope="module")
def client():
    """With time enough for the dearest requests beside whatever else this machine does."""
    return create_app(Config(deadline_s=120)).test_client()


def with_cases(example, count, **more):
    case = example["cases"][0]
    cases = [{**case, "name": f"case {place}", **more} for place in range(count)]
    return {**copy.deepcopy(example), "cases": cases}


def with_contacts(request, count, *, between, intervals=0):
    """More contacts side by side, some of them known within bounds."""
    made = [
        {"name": f"x{place}", "kind": "contact", "part": "connector", "nodes": list(between),
         "resistance_ohm": {"low": 1.0, "high": 2.0} if place < intervals else 1.5}
        for place in range(count)
    ]  # fmt: skip
    request = copy.deepcopy(request)
    request["circuit"]["branches"] += made
    return request


def by_hand(*, cases, relays, loads, parts, intervals, retrofit=False, sheet=False):
    """The sum as the description says it, term by term."""
    solutions = (1 + relays) ** 2 * (4 + parts / 36 + (parts / 140) ** 3)
    case, points = 200 + 8 * parts + solutions, 0
    if intervals:
        points = 2 + 2 * intervals + min(2**intervals, 4 * (loads + relays))
        points *= 36 + parts + solutions / 2
    if sheet:
        case, points = 5 * case, 3 * points
    elif retrofit:
        case, points = 3 * case, 2 * points
    if sheet or retrofit:
        case += 2 * 24 * (12 + 0.7 * parts + solutions)
    return round(cases * (case + points))


def told(problem):
    """Units asked for and units allowed, as a person reads them."""
    (numbers,) = re.findall(r"asks for ([\d,]+) units of work, and one may ask for ([\d,]+)\.",
                            problem["detail"])  # fmt: skip
    return [int(number.replace(",", "")) for number in numbers]


def assert_too_much(response, asked):
    assert response.status_code == 422
    problem = response.get_json()
    assert problem["type"] == "/problems/invalid-request"
    assert problem["retryable"] is False
    assert told(problem) == [asked, work.MOST_UNITS]
    assert {error["pointer"] for error in problem["errors"]} == {"#/cases", "#/circuit"}


ENDS = ("fused post", "key in")


def test_more_parts_cases_and_intervals_than_the_bound(client):
    request = with_contacts(with_cases(CHECK.schema.example, 20), 100, between=ENDS, intervals=16)
    # Five branches and a load are there, and no relay.
    asked = by_hand(cases=20, relays=0, loads=1, parts=106, intervals=16)
    assert asked > work.MOST_UNITS
    assert_too_much(client.post(CHECK.path, json=request), asked)
    assert_too_much(client.post(CHECK.path, json={**request, "explain": True}), asked)
    assert_too_much(client.post(f"/v1/reports/{CHECK.name}.svg", json=request), asked)


def test_the_edge_of_a_check(client):
    """One part more than is answered is refused."""

    def request(contacts):
        return with_contacts(with_cases(CHECK.schema.example, 10), contacts, between=ENDS,
                             intervals=16)  # fmt: skip

    most = max(
        contacts
        for contacts in range(16, 200)
        if by_hand(cases=10, relays=0, loads=1, parts=6 + contacts, intervals=16) <= work.MOST_UNITS
    )
    assert client.post(CHECK.path, json=request(most)).status_code == 200
    asked = by_hand(cases=10, relays=0, loads=1, parts=7 + most, intervals=16)
    assert_too_much(client.post(CHECK.path, json=request(most + 1)), asked)


def test_the_edge_of_a_retrofit(client):
    """Its proposal counts: a relay, a fuse and two wires beside five branches and a load."""

    def asked(cases, contacts):
        return by_hand(cases=cases, relays=1, loads=1, parts=10 + contacts, intervals=4,
                       retrofit=True)  # fmt: skip

    def request(cases):
        return with_contacts(with_cases(RETROFIT.schema.example, cases), 60, between=ENDS,
                             intervals=4)  # fmt: skip

    most = work.MOST_UNITS // asked(1, 60)
    assert 1 < most < 20
    assert client.post(RETROFIT.path, json=request(most)).status_code == 200
    assert_too_much(client.post(RETROFIT.path, json=request(most + 1)), asked(most + 1, 60))


def test_a_sheet_counts_each_case_five_times(client):
    """Six branches and a load, a relay, a fuse and two wires."""

    def asked(cases):
        return by_hand(cases=cases, relays=1, loads=1, parts=71, intervals=4, sheet=True)

    def request(cases):
        return with_contacts(with_cases(SHEET.schema.example, cases), 60, between=ENDS,
                             intervals=4)  # fmt: skip

    most = work.MOST_UNITS // asked(1)
    assert 1 < most < 20
    assert client.post(SHEET.path, json=request(most)).status_code == 200
    assert_too_much(client.post(SHEET.path, json=request(most + 1)), asked(most + 1))


def a_whole_vehicle():
    """Thirty parts: two loads, and a lamp's relay beside the load's switch; four are not known."""
    request = with_contacts(with_cases(SHEET.schema.example, 3), 21, between=ENDS, intervals=4)
    circuit = request["circuit"]
    lamp = {"name": "lamp", "kind": "resistance", "resistance_ohm": 2.6, "needed_v": 11}
    circuit["loads"].append({**lamp, "nodes": ["lamp fed", "engine block"]})
    circuit["relays"] = [
        {"name": "lamp relay", "coil_nodes": ["key in", "engine block"], "pick_up_v": 7.0,
         "contact_nodes": ["fused post", "lamp fed"], "coil_resistance_ohm": 90,
         "drop_out_v": 1.2, "contact_resistance_ohm": 0.003},
    ]  # fmt: skip
    return request


@pytest.mark.parametrize("name", ["circuit-check", "relay-retrofit", "work-sheet"])
def test_a_whole_vehicle_in_three_cases_is_answered(client, name):
    """Thirty parts and what is new, cold, usual and hot: no vehicle's question asks for more."""
    given = {operation.name: operation for operation in (CHECK, RETROFIT, SHEET)}[name]
    fields = given.schema.example.keys()
    request = {key: each for key, each in a_whole_vehicle().items() if key in fields}
    answer = client.post(f"/v1/{name}", json=request)
    assert answer.status_code == 200, answer.text[:300]


def test_remedies_for_a_whole_vehicle_are_answered(client):
    """Its relay stands beside ways that are made, and is looked for in three cases."""
    request = a_whole_vehicle()
    way = {"name": "relay", "relay": request["proposal"]}
    asked = {key: request[key] for key in ("circuit", "cases", "load", "switch")}
    answer = client.post("/v1/remedy-choice", json={**asked, "ways": [way]})
    assert answer.status_code == 200, answer.text[:300]


def test_an_interval_of_a_case_counts_in_that_case_alone():
    request = with_cases(CHECK.schema.example, 2)
    request["cases"][1]["ageing_factor"] = {"low": 1, "high": 2}
    alone = by_hand(cases=1, relays=0, loads=1, parts=6, intervals=0)
    within = by_hand(cases=1, relays=0, loads=1, parts=6, intervals=1)
    assert work.Work.of(CHECK.arguments(request)).units == alone + within


def test_intervals_of_circuit_proposal_and_cases_add_up():
    request = with_contacts(with_cases(RETROFIT.schema.example, 2), 2, between=ENDS, intervals=2)
    request["proposal"]["relay"]["pick_up_v"] = {"low": 6, "high": 7}
    request["cases"][1]["ageing_factor"] = {"low": 1, "high": 2}
    asked = work.Work.of(RETROFIT.arguments(request))
    assert asked.intervals == 2 + 1 + 1
    fields = {"cases": 1, "relays": 1, "loads": 1, "parts": 12, "retrofit": True}
    one, other = (by_hand(intervals=intervals, **fields) for intervals in (3, 4))
    assert abs(asked.units - (one + other)) <= 1  # each was rounded


def test_a_link_may_ask_for_no_more(client):
    """Twenty cases and sixteen intervals pack into 1 KB."""
    request = with_contacts(with_cases(RETROFIT.schema.example, 20), 16, between=ENDS, intervals=16)
    packed = zlib.compress(json.dumps(request).encode(), 9)
    text = base64.urlsafe_b64encode(packed).decode()
    assert len(text) < MAX_LINK
    answer = client.get(f"/v1/reports/{RETROFIT.name}.md?request={text}")
    asked = by_hand(cases=20, relays=1, loads=1, parts=26, intervals=16, retrofit=True)
    assert_too_much(answer, asked)


def test_a_line_of_a_batch_may_ask_for_no_more_and_spoils_no_other(client):
    dear = with_contacts(with_cases(CHECK.schema.example, 20), 100, between=ENDS, intervals=16)
    lines = [json.dumps(each) for each in (CHECK.schema.example, dear, CHECK.schema.example)]
    answer = client.post(
        "/v1/batch/circuit-check", data="\n".join(lines), content_type="application/x-ndjson"
    )
    statuses = [json.loads(line)["status"] for line in answer.text.splitlines()]
    assert statuses == [200, 422, 200]


@pytest.mark.parametrize(
    "operation", [CHECK, RETROFIT, SHEET], ids=lambda operation: operation.name
)
def test_the_bound_is_published(operation):
    described = json.loads(document_json())["paths"][operation.path]["post"]["description"]
    assert f"{work.MOST_UNITS:,} units of work" in described
    assert "intervals" in described
    assert "relays" in described


def test_remedies_ask_for_what_is_left_and_a_quarter_more(client, monkeypatch):
    """Each trial is the request once more: near the bound there is no room for any."""
    spent = []
    of = work.Work.of

    def counted(arguments):
        spent.append(of(arguments).units)
        return of(arguments)

    monkeypatch.setattr(work.Work, "of", counted)
    request = with_cases(CHECK.schema.example, 20, ageing_factor=20)
    answer = client.post(CHECK.path, json={**request, "explain": True})
    assert answer.status_code == 200
    assert answer.get_json()["remedies"]
    # The request itself, and once more to know how many trials there may be.
    own, again, *trials = spent
    assert own == again
    assert trials
    assert own + sum(trials) <= work.MOST_UNITS * 5 // 4
