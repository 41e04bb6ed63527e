"""The wish to be explained, over HTTP and through the package."""

import pytest

from lastvolt import EMBEDDED, Client

from .calculator import redo
from .requests import POSTED, example


@pytest.mark.parametrize("name", POSTED)
def test_nothing_changes_unless_asked(client, worked, name):
    unwished = client.post(POSTED[name].path, json={**example(name), "explain": False})
    assert unwished.status_code == 200
    assert unwished.data == worked(name).data


@pytest.mark.parametrize("name", [name for name in POSTED if name != "relay-retrofit"])
def test_an_explained_answer_is_the_same_and_more(client, worked, name):
    answer = client.post(POSTED[name].path, json={**example(name), "explain": True})
    assert answer.status_code == 200
    found = answer.get_json()
    steps, remedies = found.pop("steps"), found.pop("remedies")
    assert found == worked(name).get_json()
    assert redo(steps)
    assert isinstance(remedies, list)


@pytest.mark.parametrize("wish", [1, "true", None, [], "yes"])
def test_only_true_and_false_are_taken(client, wish):
    path = POSTED["wire-resistance"].path
    answer = client.post(path, json={**example("wire-resistance"), "explain": wish})
    assert answer.status_code == 422
    assert answer.get_json()["errors"][0]["pointer"] == "#/explain"


def test_reports_take_it_as_well(client):
    path = "/v1/reports/wire-resistance.txt"
    plain = client.post(path, json=example("wire-resistance"))
    asked = client.post(path, json={**example("wire-resistance"), "explain": True})
    assert (asked.status_code, asked.data) == (200, plain.data)


def test_tables_and_batches_do_not(client):
    assert client.get("/v1/conductors?explain=true").status_code == 422
    columns = {name: [value] for name, value in example("wire-resistance").items()}
    body = {"columns": columns, "constants": {"explain": True}}
    assert client.post("/v1/batch/wire-resistance", json=body).status_code == 422


def test_the_package_reads_steps_and_remedies():
    body = {**example("voltage-drop"), "explain": True}
    with Client(EMBEDDED) as client:
        raw = client.call("voltage-drop", body)
        answer = client.voltage_drop(**body)
        plain = client.voltage_drop(**example("voltage-drop"))
    assert answer.to_dict() == raw
    assert answer.steps[-1].symbol == raw["steps"][-1]["symbol"]
    assert answer.remedies[0].changes[0].pointer.startswith("#/")
    assert (plain.steps, plain.remedies) == ((), ())
    assert not {"steps", "remedies"} & plain.to_dict().keys()
    assert hash(answer) != hash(plain)
