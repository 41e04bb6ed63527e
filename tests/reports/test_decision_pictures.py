"""Pictures of the decision: the ways as stairs of volts, and the ohms that each leaves."""

import copy
import json
import re
from itertools import pairwise
from typing import Any

import pytest

from lastvolt_service.reports import svg

from .conftest import POSTED, solve
from .drawn import NAMESPACE, apart, draw, read, texts

WAYS = POSTED["remedy-choice"].schema.example


def long_names(body: dict[str, Any]) -> dict[str, Any]:
    """The same with each part, case, node and way named in 60 letters, capitals among them."""
    text = json.dumps(body)
    circuit = body["circuit"]
    named = [*circuit["branches"], *circuit["loads"], *body["cases"], *body["ways"]]
    for name in ("battery post", "start relay", *(each["name"] for each in named)):
        longer = f"{name} of the library coach by the WIDE LOCKER behind the door"[:60]
        text = text.replace(json.dumps(name), json.dumps(longer))
    changed: dict[str, Any] = json.loads(text)
    return changed


def with_ohms(ohm: float, *names: str) -> dict[str, Any]:
    """No ways but those that are made, some parts with other ohms."""
    body = copy.deepcopy(WAYS)
    body["ways"] = []
    for branch in body["circuit"]["branches"]:
        if "resistance_ohm" in branch and branch["name"] in names:
            branch["resistance_ohm"] = ohm
    return body


def sound() -> dict[str, Any]:
    """Nothing is lost anywhere: one way only, to leave it as it is."""
    body = with_ohms(0.0, *(each["name"] for each in WAYS["circuit"]["branches"]))
    for branch in body["circuit"]["branches"]:
        if "length_m" in branch:
            branch["length_m"] = 0.001
    return body


def many() -> dict[str, Any]:
    """As many relays as may be given, each with a name of all that needs an escape."""
    body = copy.deepcopy(WAYS)
    body["ways"] = []
    for index in range(8):
        way = copy.deepcopy(WAYS["ways"][0])
        way["name"] = f"{index} " + "&\"'<>" * 15
        way["relay"]["relay"]["name"] = f"relay {index}"
        body["ways"].append(way)
    plugs = {"part": "connector", "kind": "contact", "resistance_ohm": 0.05}
    poor = {**plugs, "name": "poor plug", "nodes": ["plug", "terminal 50"]}
    to_the_rear(body)["nodes"][1] = "plug"
    body["circuit"]["branches"].append(poor)
    return body


def to_the_rear(body: dict[str, Any]) -> dict[str, Any]:
    """The last wire before the load."""
    branches: list[dict[str, Any]] = body["circuit"]["branches"]
    return next(each for each in branches if each["name"] == "wire to the rear")


def in_a_row() -> dict[str, Any]:
    """A path of many parts, of which a picture shows those that take most."""
    body = copy.deepcopy(WAYS)
    body["ways"] = []
    last = to_the_rear(body)
    node = last["nodes"][1]
    for index in range(12):
        last["nodes"][1] = f"plug {index}"
        last = {
            "kind": "contact", "part": "connector", "name": f"plug number {index}",
            "resistance_ohm": 0.001, "nodes": [f"plug {index}", node],
        }  # fmt: skip
        body["circuit"]["branches"].append(last)
    return body


BODIES = {
    "example": WAYS,
    "long names": long_names(WAYS),
    "open switch": with_ohms(1000.0, "key switch"),
    "nothing lost": sound(),
    "many": many(),
    "in a row": in_a_row(),
}


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
@pytest.mark.parametrize("kind", ["voltage", "ageing"])
def test_nothing_overlaps(body: dict[str, Any], kind: str) -> None:
    apart(draw("remedy-choice", body, kind))


def test_ways_that_a_picture_has_no_room_for_are_counted() -> None:
    _, answer = solve("remedy-choice", many())
    assert len(answer.options) > 12
    shown = texts(draw("remedy-choice", many()))
    assert f"and {len(answer.options) - 12} more ways" in shown
    assert "1. as it is" in shown
    assert any(text.endswith(": advised") for text in shown)


def blocks(picture: str) -> list[list[str]]:
    """The texts of each way, which begin with its number."""
    shown = texts(picture)
    starts = [place for place, text in enumerate(shown) if re.match(r"\d+\. ", text)]
    return [shown[first:last] for first, last in pairwise([*starts, len(shown)])]


def volts(block: list[str]) -> list[float]:
    found = [re.fullmatch(r"(\u2212?)(\d+\.\d\d) V", text) for text in block]
    return [(-1 if each[1] else 1) * float(each[2]) for each in found if each]


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
def test_stairs_lead_from_the_source_to_what_arrives(body: dict[str, Any]) -> None:
    _, answer = solve("remedy-choice", body)
    drawn = blocks(draw("remedy-choice", body))
    assert len(drawn) == min(len(answer.options), 12)
    for block in drawn:
        number = int(block[0].partition(".")[0])
        option = answer.options[number - 1]
        start, *drops, end = volts(block)
        assert len(drops) <= 8
        # Kirchhoff's voltage law, each number rounded to a hundredth.
        assert start + sum(drops) == pytest.approx(end, abs=0.005 * (len(drops) + 2))
        assert end == pytest.approx(option.load_voltage_v, abs=0.005)
        assert f"needed {option.needed_v:.2f} V" in block
        assert any(text.endswith(": advised") for text in block) == option.is_advised
        spare = "to spare" if option.margin_v >= 0 else "short"
        assert any(f" V {spare}" in text for text in block)


def test_the_numbers_of_the_ways_are_those_of_the_answer() -> None:
    """The first part of each path, worked out by Ohm's law from what the answer tells."""
    _, answer = solve("remedy-choice", WAYS)
    drawn = blocks(draw("remedy-choice", WAYS))
    # Through the key fuse flows what the switch carries, the coil's and the load's current alike.
    fuse = next(e for e in WAYS["circuit"]["branches"] if e["name"] == "key fuse")
    for option, block in zip(answer.options, drawn, strict=True):
        if option.relay is None:
            case = next(e for e in WAYS["cases"] if e["name"] == option.case)
            ohm = fuse["resistance_ohm"] * case.get("ageing_factor", 1.0)
            drop_v = ohm * option.switch_current_a
            assert volts(block)[1] == pytest.approx(-drop_v, abs=0.0051)


def test_the_ways_are_called_by_what_they_do() -> None:
    heads = [block[0] for block in blocks(draw("remedy-choice", WAYS, "ageing"))]
    assert heads == [
        "1. as it is",
        "2. mend key switch",
        "3. new key switch",
        "4. thicker feed",
        "5. relay at the starter",
        "6. mend key switch and fit start relay",
        "7. mend key switch and new wire to the rear (4 AWG)",
    ]
    assert any(text.endswith("; not to be had") for text in texts(draw("remedy-choice", WAYS)))


def test_parts_that_take_little_are_drawn_as_one() -> None:
    block = blocks(draw("remedy-choice", in_a_row()))[0]
    assert "10 others" in block  # of 17 parts, seven by themselves
    assert {"key switch", "wire to the rear"} <= set(block)


def test_ohms_that_are_left_are_drawn_by_decades() -> None:
    _, answer = solve("remedy-choice", WAYS)
    root = read(draw("remedy-choice", WAYS, "ageing"))
    marks = {
        float(each.text or "nan"): float(each.attrib["x"])
        for each in root.iter(f"{NAMESPACE}text")
        if re.fullmatch(r"[\d.]+", each.text or "")
    }
    assert sorted(marks) == [1e-3, 1e-2, 0.1, 1, 10, 100, 1000]
    bars = [each for each in root.iter(f"{NAMESPACE}rect") if "stroke" in each.attrib]
    left = [option for option in answer.options if option.tolerated_contact_ohm is not None]
    assert len(bars) == len(left) == len(answer.options) - 1  # as it is it falls short
    for option, bar in zip(left, bars, strict=True):
        end = float(bar.attrib["x"]) + float(bar.attrib["width"])
        low = max(mark for mark in marks if mark <= option.tolerated_contact_ohm)
        share = (end - marks[low]) / (marks[10 * low] - marks[low])
        assert low * 10**share == pytest.approx(option.tolerated_contact_ohm, rel=0.01)
        assert (bar.attrib["fill"] == svg.INK) == option.is_advised
    shown = texts(draw("remedy-choice", WAYS, "ageing"))
    assert "falls short as it is" in shown
    assert "46.3 Ω" in shown  # 46.33, rounded down
