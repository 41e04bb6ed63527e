"""The service in a process of its user's: small, silent, and without what it does not need."""

import subprocess
import sys

import pytest

EXTRAS = (
    "apispec", "flask_limiter", "gunicorn", "limits", "opentelemetry", "prometheus_client", "redis",
)  # fmt: skip


def run(code: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True, text=True, check=False, env=environment,
    )  # fmt: skip


def test_the_embedded_service_needs_no_extra() -> None:
    found = run(
        f"""
import sys
for name in {EXTRAS}:
    sys.modules[name] = None  # importing it fails
from lastvolt import Client
with Client() as client:
    assert client.wire_resistance(size="12 AWG", length_m=3.2).resistance_ohm > 0
"""
    )
    assert (found.returncode, found.stdout, found.stderr) == (0, "", "")


@pytest.mark.parametrize(
    ("setting", "value", "package"),
    [
        ("LASTVOLT_METRICS", "127.0.0.1:9752", "prometheus_client"),
        ("LASTVOLT_OTEL", "on", "opentelemetry"),
    ],
)
def test_a_missing_extra_is_named(setting: str, value: str, package: str) -> None:
    found = run(
        f"""
import sys
sys.modules[{package!r}] = None
from lastvolt_service.app import create_app
create_app()
""",
        **{setting: value},
    )
    assert found.returncode == 1
    assert setting in found.stderr
    assert "pip install" in found.stderr
