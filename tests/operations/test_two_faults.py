"""Two faults at once: what an open contact hides is mended with it, by the trade.

Each is written from what a mechanic does, before any answer: he mends the one, holds the key again,
and finds the other by the volts across it.
"""

import pytest

from .retrofit_circuits import asked, contact, wire

SOLENOID = {
    "name": "solenoid", "kind": "solenoid", "circuit": "starter_control",
    "rated": {"pull_in_v": 7.8, "resistance_ohm": 0.6},
}  # fmt: skip


def way(*, switch=0.004, plug=0.004, strap=0.001, size="12 AWG", length_m=2, ambient_c=20):
    """A solenoid of 20 A behind two lengths of sound wire; contacts in ohm."""
    return asked(
        wire("feed", size, length_m),
        contact("switch", "switch", switch, rating_a=40),
        contact("plug", "connector", plug),
        wire("to the solenoid", size, length_m),
        SOLENOID,
        contact("strap", "ground", strap),
        load=SOLENOID,
        kind="starter_solenoid",
        rest_v=12.7,
        fuse_a=25,
        case={"ambient_c": ambient_c},
    )


@pytest.mark.parametrize("with_relay", [True, False])
@pytest.mark.parametrize(
    ("ohms", "mended"),
    [
        ({"switch": 5.0, "strap": 0.04}, {"switch", "strap"}),
        ({"strap": 5.0, "switch": 0.04}, {"switch", "strap"}),
        ({"plug": 3.0, "strap": 0.04}, {"plug", "strap"}),
        ({"switch": 0.04, "strap": 0.03}, {"switch", "strap"}),
        ({"switch": 5.0, "strap": 0.002}, {"switch"}),
    ],
)
def test_what_an_open_contact_hides_is_mended_with_it(run, ohms, mended, with_relay):
    """By hand: at 12.7 V and 0.65 ohm 19 A flow, 0.04 ohm take 0.8 V of them and 0.002 ohm 0.04 V.

    Behind 5 ohm 2.2 A flow: the same 0.04 ohm take 0.09 V, less than the 0.1 V of a sound contact.
    """
    body = way(**ohms)
    if not with_relay:
        del body["proposal"]
    name = "relay-retrofit" if with_relay else "remedy-choice"
    answer = run(name, **body)
    assert answer.advice == "mend"
    told = answer.plan.parts if with_relay else [each.part for each in answer.plan]
    assert {*told} == mended


def test_what_a_relay_goes_round_is_not_mended_though_it_was_hidden(run):
    """Hot, 9 m of 18 AWG leave too little, however sound the rest is: 0.23 ohm, 0.65 in the load.

    The relay's contact carries the current past switch and plug; the plug then feeds its coil
    alone, 0.13 A: 0.05 ohm take 7 mV of it.
    """
    body = way(switch=5.0, plug=0.05, size="18 AWG", length_m=4.5, ambient_c=80)
    answer = run("relay-retrofit", **body)
    assert answer.advice in {"relay", "mend_then_relay"}
    assert "plug" not in (answer.plan.parts if answer.plan else [])
