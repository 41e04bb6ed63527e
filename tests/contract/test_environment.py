"""What stands in the environment for a server does nothing to the service in this process."""

import pytest

from lastvolt import EMBEDDED, Client
from lastvolt.embedded import application

SETTINGS = {
    "LASTVOLT_API_KEYS_FILE": "/there/is/no/such/file.toml",
    "LASTVOLT_RATE_LIMIT": "1/hour",
    "LASTVOLT_METRICS": "127.0.0.1:0",
    "LASTVOLT_OTEL": "on",
    "LASTVOLT_MAX_BODY_BYTES": "10",
    "LASTVOLT_DEADLINE_S": "0.000001",
    "LASTVOLT_WORKERS": "none",
    "LASTVOLT_API_KEY": "schlüssel",
}


@pytest.mark.parametrize("name", SETTINGS)
def test_settings_of_a_server_do_not_reach_it(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(name, SETTINGS[name])
    application.cache_clear()
    with Client(EMBEDDED) as client:
        lengths = [client.wire_resistance(size="12 AWG", length_m=n).resistance_ohm for n in (1, 2)]
    application.cache_clear()
    assert lengths[1] == pytest.approx(2 * lengths[0])
