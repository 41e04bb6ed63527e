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
    """More ways than a picture holds, each with a name of all that needs an escape."""
    body = copy.deepcopy(WAYS)
    body["ways"] = []
    for index in range(5):
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
    *heads, last = [block[0] for block in blocks(draw("remedy-choice", WAYS, "ageing"))]
    assert heads == [
        "1. as it is",
        "2. mend key switch",
        "3. new key switch",
        "4. thicker feed",
        "5. relay at the starter",
        "6. mend key switch and fit start relay",
        "7. mend key switch and new wire to the rear (10 AWG)",
    ]
    # Long for its column: the middle is left out, and both ends are seen.
    assert last.startswith("8. mend key switch and new wire")
    assert last.endswith("feed to key switch (10 AWG)")
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


RELAYS = POSTED["relay-choice"].schema.example


def crowded() -> dict[str, Any]:
    """Six places and many relays, most of them of another system, with names of 60 letters."""
    body = copy.deepcopy(RELAYS)
    name = "relay of the library coach by the WIDE LOCKER behind the door, low"
    body["candidates"] += [
        {**RELAYS["candidates"][-1], "name": f"{index} {name}"[:60]} for index in range(30)
    ]
    body["places"] += [
        {**RELAYS["places"][0], "name": f"{index} {name}"[:60], "feed_length_m": 0.6 + index}
        for index in range(4)
    ]
    return body


def cells(picture: str) -> dict[tuple[float, float], str]:
    """Texts of a table by where each field begins: lines below each other belong together."""
    found: dict[tuple[float, float], str] = {}
    last = (0.0, 0.0, (0.0, 0.0))
    for each in read(picture).iter(f"{NAMESPACE}text"):
        x, y, text = float(each.attrib["x"]), float(each.attrib["y"]), each.text or ""
        goes_on = x == last[0] and 0 < y - last[1] <= 12
        begin = last[2] if goes_on else (x, y)
        found[begin] = f"{found[begin]} {text}" if goes_on else text
        last = (x, y, begin)
    return found


def test_relays_and_places_are_a_table() -> None:
    _, answer = solve("relay-choice", RELAYS)
    picture = draw("relay-choice", RELAYS)
    apart(picture)
    table = cells(picture)
    at = {text: where for where, text in table.items()}
    (first,) = answer.ranking
    row = next(y for (_, y), text in table.items() if text == first.candidate)
    ranks = {where: text for where, text in table.items() if text.startswith("no. ")}
    assert list(ranks.values()) == [f"no. 1 {first.margin_v:.2f} V to spare"]
    ((x, y),) = ranks
    wired = next(each for each in answer.places if each.name == first.place)
    assert x == at[wired.name][0]
    wiring = f"{wired.ambient_c:.0f} °C, {wired.length_m} m, 12 AWG, fuse 20 A"
    assert at[wiring][0] == x
    assert y == pytest.approx(row, abs=4)
    # The winner is framed, and each other field says why not.
    (frame,) = [each for each in read(picture).iter(f"{NAMESPACE}rect") if "stroke" in each.attrib]
    assert float(frame.attrib["x"]) < x < float(frame.attrib["x"]) + float(frame.attrib["width"])
    assert float(frame.attrib["y"]) < y < float(frame.attrib["y"]) + float(frame.attrib["height"])
    reasons = [text for text in table.values() if text.startswith(("current", "pick", "highest"))]
    assert sorted(reasons) == [
        "current through the relay's contact",
        "current through the relay's contact",
        "highest ambient of the relay",
        "pick-up of the relay, coil cold",
        "pick-up of the relay, coil cold",
    ]


def test_a_crowded_table_stays_readable_and_light() -> None:
    _, answer = solve("relay-choice", crowded())
    picture = draw("relay-choice", crowded())
    apart(picture)
    shown = texts(picture)
    assert f"and {len(crowded()['candidates']) - 24} more relays" in shown
    ranks = [int(text.removeprefix("no. ")) for text in shown if text.startswith("no. ")]
    known = {each.rank for each in answer.ranking}
    assert ranks
    assert set(ranks) <= known
    assert min(ranks) == 1


def test_places_that_do_for_no_relay_say_why() -> None:
    body = copy.deepcopy(RELAYS)
    for case in body["cases"]:
        case["zone_ambients_c"] = {**case.get("zone_ambients_c", {}), "exhaust": 240}
    for each in body["places"]:
        each["zone"] = "exhaust" if each["zone"] == "starter" else each["zone"]
    _, answer = solve("relay-choice", body)
    found = [each for each in answer.rejected if each.candidate is None]
    assert found
    picture = draw("relay-choice", body)
    apart(picture)
    assert sum("too hot for any wire" in text for text in texts(picture)) == 3
