"""Every status that an operation answers stands in the document, with the headers it brings."""

import json

import pytest

from lastvolt_service.api.document import document_json
from lastvolt_service.api.problems import MEDIA_TYPE
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.keys import digest

DOCUMENT = json.loads(document_json())
CALLS = [(path, method) for path, methods in DOCUMENT["paths"].items() for method in methods]
PATH = "/v1/wire-resistance"
WIRE = {"size": "12 AWG", "length_m": 3.2}
SIZES = "lv_a-key-for-the-sizes-alone"
# Met by any call: no key, a key for other paths, a wrong field, too many calls, the deadline; by
# any body: not JSON, too slow, too large, another type.
ANY_CALL, ANY_BODY = {"401", "403", "422", "429", "503"}, {"400", "408", "413", "415"}


@pytest.mark.parametrize(("path", "method"), CALLS)
def test_all_statuses_are_told(path, method):
    told = DOCUMENT["paths"][path][method]["responses"]
    assert set(told) >= ANY_CALL | (ANY_BODY if method == "post" else set())


def settings(kind, folder):
    keys = folder / "keys.toml"
    keys.write_text(
        f'[[keys]]\nname = "sizes"\nsha256 = "{digest(SIZES)}"\npaths = ["/v1/conductors"]\n',
        encoding="utf-8",
    )
    return {
        "keys": Config(api_keys_file=str(keys)),
        "rates": Config(rate_limit="1/day"),
        "size": Config(max_body_bytes=10),
        "none": Config(),
    }[kind]


@pytest.mark.parametrize(
    ("status", "kind", "options"),
    [
        (400, "none", {"data": "{", "content_type": "application/json"}),
        (401, "keys", {"json": WIRE}),
        (403, "keys", {"json": WIRE, "headers": {"Authorization": f"Bearer {SIZES}"}}),
        (413, "size", {"json": WIRE}),
        (415, "none", {"data": "12 AWG", "content_type": "text/plain"}),
        (422, "none", {"json": {}}),
        (429, "rates", {"json": WIRE}),
    ],
)
def test_answer_is_as_told(tmp_path, status, kind, options):
    client = create_app(settings(kind, tmp_path)).test_client()
    if status == 429:
        assert client.post(PATH, **options).status_code == 200
    answer = client.post(PATH, **options)
    assert answer.status_code == status
    told = DOCUMENT["paths"][PATH]["post"]["responses"][str(status)]
    told = DOCUMENT["components"]["responses"][told["$ref"].rpartition("/")[2]]
    assert list(told["content"]) == [MEDIA_TYPE] == [answer.content_type]
    for name in told.get("headers", ()):
        assert answer.headers[name], name
    assert f"({answer.get_json()['type']})" in told["description"]
