"""Keys: who may ask, who may not, and that no key is ever told."""

import hashlib
import json
import logging
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from lastvolt_service import keys
from lastvolt_service.app import create_app
from lastvolt_service.config import Config

from .conftest import WIRE

BOT, SHOP, STRANGER = "lv_bot-key", "lv_shop-key", "lv_stranger"
PATH = "/v1/wire-resistance"


def table(name: str, key: str, more: str = "") -> str:
    hashed = hashlib.sha256(key.encode()).hexdigest()
    return f'[[keys]]\nname = "{name}"\nsha256 = "{hashed}"\n{more}\n'


@pytest.fixture
def keyed(tmp_path: Path) -> FlaskClient:
    file = tmp_path / "keys.toml"
    file.write_text(table("bot", BOT, 'paths = ["/v1/conductors"]') + table("shop", SHOP))
    return create_app(Config(api_keys_file=str(file))).test_client()


def bearer(key: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {key}"}


@pytest.mark.parametrize(
    "headers",
    [{}, bearer(""), bearer(STRANGER), bearer(BOT[:-1]), bearer(f"{BOT}x"), bearer(f"{BOT} {BOT}"),
     bearer("\u00e9"), {"Authorization": BOT}, {"Authorization": f"Basic {BOT}"},
     {"Authorization": "Bearer"}, {"X-Api-Key": BOT},
     bearer(hashlib.sha256(SHOP.encode()).hexdigest())],
)  # fmt: skip
def test_without_a_known_key_nothing_is_computed(
    keyed: FlaskClient, headers: dict[str, str]
) -> None:
    response = keyed.post(PATH, json=WIRE, headers=headers)
    assert response.status_code == 401
    assert response.headers["WWW-Authenticate"].startswith('Bearer realm="lastvolt"')
    assert response.get_json()["type"] == "/problems/no-key"


@pytest.mark.parametrize("headers", [bearer(SHOP), {"Authorization": f"bearer  {SHOP}"}])
def test_a_known_key_opens(keyed: FlaskClient, headers: dict[str, str]) -> None:
    assert keyed.post(PATH, json=WIRE, headers=headers).status_code == 200


def test_a_key_opens_only_what_it_is_for(keyed: FlaskClient) -> None:
    assert keyed.get("/v1/conductors", headers=bearer(BOT)).status_code == 200
    response = keyed.post(PATH, json=WIRE, headers=bearer(BOT))
    assert response.status_code == 403
    assert response.get_json()["type"] == "/problems/forbidden"
    assert BOT not in response.text


@pytest.mark.parametrize("path", ["/livez", "/readyz", "/openapi.json", "/problems/no-key"])
def test_probes_and_explanations_are_open(keyed: FlaskClient, path: str) -> None:
    assert keyed.get(path).status_code == 200


@pytest.mark.parametrize(
    "path", ["/v1/conductors/", "/v1//conductors", "//v1/conductors", "/v1/%63onductors"]
)
def test_no_spelling_of_a_path_gets_around(keyed: FlaskClient, path: str) -> None:
    response = keyed.get(path, follow_redirects=True)
    assert response.status_code in {401, 404}


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_tables_need_a_key_too(keyed: FlaskClient, method: str) -> None:
    assert keyed.open("/v1/conductors", method=method).status_code == 401


def test_no_key_is_logged(keyed: FlaskClient, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    for key in (BOT, SHOP, STRANGER):
        keyed.post(PATH, json=WIRE, headers=bearer(key))
        keyed.post(PATH, data="{", headers=bearer(key))
    written = caplog.text + json.dumps([str(record.__dict__) for record in caplog.records])
    assert len(caplog.records) == 6
    assert "'key': 'shop'" in written
    assert not any(key in written for key in (BOT, SHOP, STRANGER))


def test_a_key_is_compared_in_constant_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every key is compared, by the function that is made for it, also after one that fits."""
    compared: list[tuple[str, str]] = []

    def compare(one: str, other: str) -> bool:
        compared.append((one, other))
        return one == other

    monkeypatch.setattr(keys.hmac, "compare_digest", compare)
    known = [keys.Key(name, keys.digest(name)) for name in ("a", "b", "c")]
    assert keys.find(known, "a") == known[0]
    assert len(compared) == 3


def test_a_key_is_made(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "lastvolt_service.keys", "forum-bot"]
    runs = [subprocess.run(command, capture_output=True, text=True, check=True) for _ in range(2)]
    made = [run.stderr.rsplit(maxsplit=1)[1] for run in runs]
    assert made[0] != made[1]
    assert len(made[0]) > 40
    assert made[0] not in runs[0].stdout
    file = tmp_path / "keys.toml"
    file.write_text(runs[0].stdout)
    (key,) = keys.load(file)
    assert keys.find([key], made[0]) == key
    assert tomllib.loads(runs[0].stdout)["keys"][0]["name"] == "forum-bot"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no \\[\\[keys\\]\\]"),
        ("keys = []", "no \\[\\[keys\\]\\]"),
        ('[[keys]]\nname = "a"', "name and sha256"),
        (table("a", "k", "role = 1"), "may have rate and paths"),
        (table("a b", "k"), "name must be"),
        ('[[keys]]\nname = "a"\nsha256 = "secret"', "sha256 must be"),
        (table("a", "k", 'rate = "often"'), "rate must be"),
        (table("a", "k", "rate = 5"), "rate must be"),
        (table("a", "k", 'paths = ["/livez"]'), "paths must be"),
        (table("a", "k", 'paths = "/v1"'), "paths must be"),
        (table("a", "k") + table("a", "l"), "same name"),
    ],
)
def test_a_wrong_file_is_refused(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "keys.toml"
    file.write_text(text)
    with pytest.raises(ValueError, match=said):
        create_app(Config(api_keys_file=str(file)))
