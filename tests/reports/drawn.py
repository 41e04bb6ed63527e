"""Pictures read back: what every one must be, and its texts."""

from typing import Any
from xml.etree import ElementTree

from lastvolt_service.reports import svg
from lastvolt_service.reports.drawing import PICTURES

from .conftest import solve

NAMESPACE = "{http://www.w3.org/2000/svg}"
# Nothing that runs, links, loads or brings styles of its own.
ELEMENTS = {"svg", "title", "desc", "rect", "line", "polyline", "polygon", "circle", "text"}
HEAVIEST = 60_000


def draw(name: str, body: dict[str, Any], kind: str | None = None) -> str:
    """Draw the answer to a body."""
    offered = PICTURES[name]
    return offered[kind or next(iter(offered))](*solve(name, body))


def read(picture: str) -> ElementTree.Element:
    """Parse a picture and hold it to what every picture must be."""
    root = ElementTree.fromstring(picture)
    assert root.tag == f"{NAMESPACE}svg"
    assert root.get("role") == "img"
    named = (root.get("aria-labelledby") or "").split()
    described = [root.find(f"{NAMESPACE}{tag}") for tag in ("title", "desc")]
    assert [each is not None and each.get("id") for each in described] == named
    assert all(each is not None and each.text for each in described)
    width, height = (float(root.get(side) or 0) for side in ("width", "height"))
    assert width == svg.WIDTH
    for element in root.iter():
        assert element.tag.removeprefix(NAMESPACE) in ELEMENTS
        for attribute, value in element.attrib.items():
            assert not attribute.startswith("on")
            assert "href" not in attribute
            assert attribute != "style"
            assert "url(" not in value
        for name, value in element.attrib.items():
            most = {"x": width, "y": height}.get(name[0]) if name[1:] in {"", "1", "2"} else None
            assert most is None or -0.1 <= float(value) <= most + 0.1, element.attrib
        for point in element.get("points", "").split():
            x, y = map(float, point.split(","))
            assert -0.1 <= x <= width + 0.1
            assert -0.1 <= y <= height + 0.1
        if element.tag == f"{NAMESPACE}text":
            assert 0 <= float(element.get("x", "-1")) <= width
            assert 0 <= float(element.get("y", "-1")) <= height
            assert float(element.get("font-size", "0")) >= 10
    assert len(picture.encode()) < HEAVIEST
    return root


def texts(picture: str) -> list[str]:
    """All that is written in a picture, in its order."""
    return [each.text or "" for each in read(picture).iter(f"{NAMESPACE}text")]


def apart(picture: str) -> None:
    """No text lies on another, by the estimate that the drawing goes by, on the wide side."""
    boxes = []
    for each in read(picture).iter(f"{NAMESPACE}text"):
        size = float(each.attrib["font-size"])
        wide = svg.text_width(each.text or "", size, bold=each.get("font-weight") == "bold")
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[each.get("text-anchor", "start")]
        left, base = float(each.attrib["x"]) - shift * wide, float(each.attrib["y"])
        boxes.append((left, base - 0.72 * size, left + wide, base, each.text))
    for place, (left, top, right, bottom, text) in enumerate(boxes):
        assert left >= -1, text
        assert right <= svg.WIDTH + 1, text
        for other in boxes[place + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart, (text, other[4])
