"""Readings that contradict each other: each fault is looked at, and few are fitted."""

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.meter import fit_readings

from .dear_circuits import dear_fit, dear_proof

SHAPE = {"parts": 20, "unknown": 2, "cases": 2, "readings": 20}

# In each of two cases: a start at each end of two bounds, and four fits of ten steps, two more with
# each length about what it is given as, two each with contacts and with the supply so, and one with
# all parts open; each suspect (eight) and each bound and contact (six) is looked at from three
# starts.
A_FIT = 2 * (5 + 11 * 10 + 14 * 3)


@pytest.mark.parametrize(
    ("name", "body", "most"),
    [
        ("circuit-fit", dear_fit(**SHAPE), A_FIT),
        # Before it is fitted as that. Some fifty faults, of which none is fitted, are looked at
        # from two starts, twice; and half a dozen fits of ten steps: after, with another supply,
        # and both together.
        ("gain-proof", dear_proof(**SHAPE), A_FIT + 2 * (50 * 2 * 2 + 6 * 10)),
    ],
)  # fmt: skip
def test_what_contradicts_is_looked_at_and_seldom_fitted(monkeypatch, name, body, most) -> None:
    """Slopes are worked out in no more states than that; every fault fitted takes thrice as many.

    Counted, not timed: how fast the machine is has no part in it.
    """
    looks: list[int] = []
    told = fit_readings.Readings._at

    def counted(self, here):
        looks.append(1)
        return told(self, here)

    monkeypatch.setattr(fit_readings.Readings, "_at", counted)
    operation = next(each for each in OPERATIONS if each.name == name)
    operation.answer(body)
    assert 0 < len(looks) <= most
