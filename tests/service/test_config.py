"""Settings: every one is read, and a wrong one is named."""

import re
from dataclasses import fields

import pytest

from lastvolt_service.config import PREFIX, Config

RIGHT = {
    "bind": ("[::1]:80", "[::1]:80"),
    "workers": ("3", 3),
    "threads": ("2", 2),
    "max_body_bytes": ("10", 10),
    "max_batch_body_bytes": ("20", 20),
    "max_batch_rows": ("7", 7),
    "deadline_s": ("0.5", 0.5),
    "batch_deadline_s": ("90", 90.0),
    "stall_s": ("2", 2.0),
    "probes": ("0.0.0.0:8753", "0.0.0.0:8753"),
    "trusted_proxies": ("0", 0),
    "api_keys_file": ("/keys.toml", "/keys.toml"),
    "rate_limit": ("60/minute", "60/minute"),
    "rate_storage": ("redis://127.0.0.1:6379/0", "redis://127.0.0.1:6379/0"),
    "cors_origins": (
        "https://a.example http://b.example:81",
        ("https://a.example", "http://b.example:81"),
    ),
    "hsts_s": ("31536000", 31536000),
    "request_log": ("off", False),
    "metrics": ("127.0.0.1:9752", "127.0.0.1:9752"),
    "otel": ("on", True),
}
WRONG = [
    *(("workers", text) for text in ("0", "-1", "1.5", "many", "\u0661")),
    *(("deadline_s", text) for text in ("0", "-1", "nan", "1e3", "inf", "1_0")),
    *(("bind", text) for text in ("8752", "host", ":8752", "a b:1")),
    *(("rate_limit", text) for text in ("60", "0/minute", "60 per minute", "60/year")),
    *(("rate_storage", text) for text in ("file:///", "redis")),
    *(("cors_origins", text) for text in ("*", "https://a.example/", "a.example", "https://*.a.b")),
    ("hsts_s", "-1"),
    ("metrics", "on"),
    ("otel", "yes"),
]


def test_every_setting_is_tried() -> None:
    assert RIGHT.keys() == {field.name for field in fields(Config)}


@pytest.mark.parametrize("name", RIGHT)
def test_setting_is_read(name: str) -> None:
    text, value = RIGHT[name]
    assert getattr(Config.from_environment({PREFIX + name.upper(): text}), name) == value


@pytest.mark.parametrize(("name", "text"), WRONG)
def test_wrong_setting_is_named(name: str, text: str) -> None:
    variable = PREFIX + name.upper()
    with pytest.raises(ValueError, match=f"{variable} must be .*{re.escape(repr(text))}"):
        Config.from_environment({variable: text})


@pytest.mark.parametrize("name", RIGHT)
def test_setting_is_documented(name: str) -> None:
    assert re.search(rf"\b{name}\b", Config.__doc__ or "")
