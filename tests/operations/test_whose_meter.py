"""Which meter read what: told by the meter, not by what somebody calls it, and cited as such."""

import pytest

from .test_circuit_fit import estimate, post, question, volts
from .test_gain_proof import BEFORE, SOUND
from .test_gain_proof import question as proof

RECORDED = {
    "case": "on", "through": "heater", "value_a": 5.0, "standard_uncertainty_a": 0.05,
    "duration_s": 0.1,
}  # fmt: skip
CLAMPED = {"case": "on", "through": "heater", "value_a": 5.0}


def read_by(meter, further):
    return question(
        [volts("post", "live", 0.6, meter="one"), volts("live", "ground", 10), further],
        meters=[{"name": "one", "kind": "volts", "accuracy_percent": 3.0} | meter],
    )


@pytest.mark.parametrize("name", ["as recorded", "usual amperes", "usual volts"])
@pytest.mark.parametrize("further", [RECORDED, CLAMPED], ids=["recorded", "clamped"])
def test_no_name_of_a_meter_makes_it_another(name, further) -> None:
    plain = post("circuit-fit", read_by({}, further))
    body = read_by({"name": name}, further)
    body["readings"][0]["meter"] = name
    found = post("circuit-fit", body)
    for end in ("branches/0/resistance_ohm", "source/open_circuit_v"):
        assert estimate(found, end) == estimate(plain, end)


def usual_of(answer):
    return [each for each in answer["basis"] if "a usual" in each]


def test_practice_is_cited_where_a_meter_is_as_usual_in_part() -> None:
    whole = {"accuracy_percent": 0.5, "accuracy_digits": 2}
    for given, cited in (({}, 1), ({"accuracy_percent": 0.5}, 1), (whole, 0)):
        meters = [{"name": "shop", "kind": "volts", **given}]
        before, after = ([each | {"meter": "shop"} for each in side] for side in (BEFORE, SOUND))
        told = post("gain-proof", proof(before, after, meters=meters))
        assert len(usual_of(told)) == cited
        fitted = post("circuit-fit", question([volts("post", "live", 0.6, meter="shop")],
                                              meters=meters))  # fmt: skip
        assert len(usual_of(fitted)) == cited
