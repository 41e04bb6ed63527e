"""Switches against NAVEDTRA 14050 and common practice."""

import pytest
from numpy.testing import assert_allclose

# Common practice, no source: an ignition coil takes 4 to 5 A, a fuel pump 8 to 10 A and a starter
# solenoid 8 to 10 A, together about 25 A on an old key switch; the coil of a relay about 0.2 A.
KEY_SWITCH = [
    {"name": "ignition coil", "current_a": 5, "positions": ["run", "start"]},
    {"name": "fuel pump", "current_a": 10, "positions": ["run", "start"]},
    {"name": "starter solenoid", "current_a": 10, "positions": ["start"]},
]


def test_old_key_switch(run):
    found = run("switch-loading", rating_a=15, contact_resistance_ohm=0.01, loads=KEY_SWITCH)
    currents_a = {each.name: each.current_a for each in found.positions}
    assert currents_a == {"run": 15, "start": 25}


def test_old_key_switch_with_relays(run):
    relayed = [{**load, "through_relay": True} for load in KEY_SWITCH]
    found = run("switch-loading", rating_a=15, contact_resistance_ohm=0.01, loads=relayed)
    currents_a = {each.name: each.current_a for each in found.positions}
    assert_allclose([currents_a["run"], currents_a["start"]], [0.4, 0.6], rtol=1e-12)


# NAVEDTRA 14050, starter circuit: 0.1 V for each switch; by practice one of half more is worn.
@pytest.mark.parametrize(
    ("ohm", "verdict"), [(0.0085, "pass"), (0.0101, "marginal"), (0.0151, "fail")]
)
def test_drop_of_a_switch(run, ohm, verdict):
    load = {"name": "fuel pump", "current_a": 10, "positions": ["run"]}
    found = run("switch-loading", rating_a=15, contact_resistance_ohm=ohm, loads=[load])
    check = next(item for item in found.checks if item.code == "drop")
    assert (check.limit, check.verdict) == (0.1, verdict)
