"""Pictures of a start: its stages beside each other, its circuit with the starter's own parts."""

import copy
import json
from typing import Any

import pytest

from lastvolt_service.reports import svg

from .conftest import POSTED, solve
from .drawn import NAMESPACE, apart, draw, read, texts

START = POSTED["start-sequence"].schema.example


def start(**changes: Any) -> dict[str, Any]:
    """The example with other ohms of its key switch, or of its starter."""
    body = copy.deepcopy(START)
    if "key_ohm" in changes:
        key = next(e for e in body["circuit"]["branches"] if e["name"] == body["key"])
        key["resistance_ohm"] = changes.pop("key_ohm")
    body["starter"] |= changes
    return body


def fed() -> dict[str, Any]:
    """Terminal 50 is fed past the key, and nobody knows what keeps the plunger."""
    body = start()
    chafed = {"name": "chafed", "kind": "resistance", "resistance_ohm": 0.3}
    body["circuit"]["branches"].append({**chafed, "nodes": ["battery post", "terminal 50"]})
    del body["starter"]["hold_ampere_turns"]
    return body


def many_cases() -> dict[str, Any]:
    """Twelve cases with names of 60 letters."""
    body = start(key_ohm=0.002)
    name = "a case of sixty letters, IN CAPITALS, that goes on and on ..."
    body["cases"] = [{**START["cases"][0], "name": f"{index} {name}"} for index in range(12)]
    return body


def on_positive_ground() -> dict[str, Any]:
    """The metal at the positive post; what is drawn above is the live side all the same."""
    body = start(key_ohm=0.002)
    body["circuit"]["source"] |= {"plus": "ground", "minus": "battery post"}
    return body


BODIES = {
    "example": START,
    "silent": start(key_ohm=1000.0),
    "starts": start(key_ohm=0.002),
    "fed": fed(),
    "many": many_cases(),
    "positive ground": on_positive_ground(),
}


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
@pytest.mark.parametrize("kind", ["stages", "schematic"])
def test_nothing_overlaps(body: dict[str, Any], kind: str) -> None:
    apart(draw("start-sequence", body, kind))


def test_stages_are_drawn_on_one_scale() -> None:
    _, answer = solve("start-sequence", START)
    root = read(draw("start-sequence", START))
    bars = [
        {side: float(each.attrib[side]) for side in ("x", "y", "height", "width")}
        for each in root.iter(f"{NAMESPACE}rect")
        if each.get("width") == "24"
    ]
    worst_first = sorted(answer.cases, key=lambda case: case.name != answer.worst_case)
    volts = [
        each
        for case in worst_first
        for stage in case.stages
        for each in (stage.supply_v, stage.control_v, stage.motor_v)
    ]
    assert len(bars) == len(volts) == 3 * (1 + 4)
    scale = bars[0]["height"] / volts[0]
    for bar, value in zip(bars, volts, strict=True):
        assert bar["height"] == pytest.approx(scale * value, abs=0.15)
    shown = texts(draw("start-sequence", START))
    for value in volts:
        assert f"{value:.2f}".rstrip("0").rstrip(".") in shown
    assert shown.count("not reached") == 3
    assert {"hums", "starts", "a hum", "it cranks"} <= set(shown)


def test_the_pull_stands_beside_what_is_needed() -> None:
    _, answer = solve("start-sequence", START)
    root = read(draw("start-sequence", START))
    pulls = [each for each in root.iter(f"{NAMESPACE}rect") if each.get("height") == "8"]
    needed = [
        float(each.attrib["x1"])
        for each in root.iter(f"{NAMESPACE}line")
        if each.get("stroke") == svg.WARN
    ]
    worst_first = sorted(answer.cases, key=lambda case: case.name != answer.worst_case)
    stages = [stage for case in worst_first for stage in case.stages]
    shown = texts(draw("start-sequence", START))
    assert len(pulls) == len(needed) == len(stages)
    for stage, pull, mark in zip(stages, pulls, needed, strict=True):
        left, width = float(pull.attrib["x"]), float(pull.attrib["width"])
        # The mark is what is needed; the bar ends where the room does.
        share = max(stage.ampere_turns / stage.needed_ampere_turns, 0.0)
        assert width == pytest.approx(min(share, 1 / 0.6) * (mark - left), abs=0.2)
        assert f"pull {stage.ampere_turns:.0f} A" in shown
    assert {"moves from 3200 A", "holds from 480 A", "lets go below 480 A"} <= set(shown)


def test_what_is_not_known_of_the_plunger_is_not_drawn() -> None:
    shown = texts(draw("start-sequence", fed()))
    assert not any(text.startswith(("holds from", "lets go below")) for text in shown)
    assert "it runs on" in shown


def test_cases_that_a_picture_has_no_room_for_are_counted() -> None:
    assert "and 6 more cases" in texts(draw("start-sequence", many_cases()))


@pytest.mark.parametrize("body", [START, on_positive_ground()], ids=["negative", "positive"])
def test_the_schematic_has_the_starters_own_parts_and_numbers(body: dict[str, Any]) -> None:
    picture = draw("start-sequence", body, "schematic")
    shown = texts(picture)
    own = {"main contact": "30", "pull-in winding": "50", "hold-in winding": "50"}
    for name in ("motor", *own, *(each["name"] for each in body["circuit"]["branches"])):
        assert shown.count(name) == 1, name
    starter = body["starter"]
    assert {"0.55 Ω", "1.5 Ω", f"{starter['motor_resistance_ohm']} Ω"} <= set(shown)
    # DIN 72552: 30 battery plus, 50 starter control; each at the end that is nearer to the feed.
    at = {
        each.text or "": (float(each.attrib["x"]), float(each.attrib["y"]))
        for each in read(picture).iter(f"{NAMESPACE}text")
    }
    numbers = [
        (each.text, float(each.attrib["x"]), float(each.attrib["y"]))
        for each in read(picture).iter(f"{NAMESPACE}text")
        if each.text in {"30", "50"}
    ]
    assert len(numbers) == 3
    for name, number in own.items():
        x, y = at[name]
        near = min(numbers, key=lambda each: abs(each[1] - x) + abs(each[2] - y))
        assert near[0] == number
        assert near[2] < y


def test_names_stay_text() -> None:
    text = json.dumps(START).replace('"starter"', '"<script>x</script>"')
    body = json.loads(text)
    body["starter"] = body.pop("<script>x</script>")
    body["starter"]["zone"] = "<script>x</script>"
    for kind in ("stages", "schematic"):
        read(draw("start-sequence", body, kind))
