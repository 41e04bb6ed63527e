"""Pictures: true to the answer, well-formed, light, readable, and deaf to names from strangers."""

import json
import re
from importlib.resources import files
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lastvolt_service.reports import svg
from lastvolt_service.reports.drawing import PICTURES
from lastvolt_service.reports.pictures.axis import Axis, around
from lastvolt_service.reports.plain import LONGEST_NAME, cut, shorten, tidy
from lastvolt_service.reports.svg import fit, wrap

from .conftest import POSTED, solve
from .drawn import NAMESPACE, apart, draw, read, texts

KINDS = [(name, kind) for name, offered in PICTURES.items() for kind in offered]
COACH = json.loads(files("lastvolt.cli").joinpath("coach.json").read_text("utf-8"))
RETROFIT = {name: COACH[name] for name in ("circuit", "cases", "load", "switch")}
RETROFIT["proposal"] = COACH["ways"][0]["relay"]


@pytest.mark.parametrize(("name", "kind"), KINDS)
def test_every_picture_is_sound_and_always_the_same(name: str, kind: str) -> None:
    picture = draw(name, POSTED[name].schema.example, kind)
    assert texts(picture)
    assert draw(name, POSTED[name].schema.example, kind) == picture


@pytest.mark.parametrize(("name", "kind"), KINDS)
def test_no_text_lies_on_another(name: str, kind: str) -> None:
    apart(draw(name, POSTED[name].schema.example, kind))


def steps(picture: str) -> list[float]:
    """The column of values: where it starts, each step, and what arrives."""
    found = [re.fullmatch(r"(\u2212?)(\d+\.\d\d) V", text) for text in texts(picture)]
    return [(-1 if each[1] else 1) * float(each[2]) for each in found if each]


def test_a_path_is_drawn_part_by_part() -> None:
    body = POSTED["voltage-drop"].schema.example
    _, answer = solve("voltage-drop", body)
    start, *drops, end = steps(draw("voltage-drop", body))
    assert start == body["supply_v"]
    assert drops == [pytest.approx(-part.drop_v, abs=0.005) for part in answer.segments]
    assert end == pytest.approx(answer.load_voltage_v, abs=0.005)
    shown = texts(draw("voltage-drop", body))
    assert f"lowest allowed {body['supply_v'] - answer.limit_drop_v:.2f} V" in shown
    assert {part.name for part in answer.segments} <= set(shown)


def test_a_circuit_is_drawn_to_its_load_and_back() -> None:
    body = POSTED["circuit-check"].schema.example
    _, answer = solve("circuit-check", body)
    case = next(each for each in answer.cases if each.name == answer.worst_case)
    load = next(each for each in case.loads if each.name == answer.decisive_load)
    picture = draw("circuit-check", body)
    start, *drops, end = steps(picture)
    assert start == pytest.approx(case.source_v, abs=0.005)
    assert end == pytest.approx(load.voltage_v, abs=0.005)
    # Kirchhoff's voltage law, each number rounded to a hundredth.
    assert start + sum(drops) == pytest.approx(end, abs=0.005 * (len(drops) + 2))
    shown = texts(picture)
    assert f"needed {load.needed_v:.2f} V" in shown
    names = [branch["name"] for branch in body["circuit"]["branches"]]
    places = [shown.index(name) for name in (*names[:3], load.name, names[3])]
    assert places == sorted(places)  # out, the load, and back


def untimed(body: dict[str, Any]) -> dict[str, Any]:
    """Cases that do not say how long they last: a starter's is told by its circuit."""
    cases = [{k: v for k, v in case.items() if k != "duration_s"} for case in body["cases"]]
    return {**body, "cases": cases}


@pytest.mark.parametrize(
    "body",
    [
        POSTED["relay-retrofit"].schema.example,
        untimed(POSTED["relay-retrofit"].schema.example),
        RETROFIT,
    ],
)
def test_a_retrofit_is_drawn_before_and_after(body: dict[str, Any]) -> None:
    _, answer = solve("relay-retrofit", body)
    case = min(answer.cases, key=lambda each: each.as_is.margin_v / each.as_is.needed_v)
    shown = texts(draw("relay-retrofit", body))
    after = shown.index("With the relay")
    assert shown.index("As it is") < after
    for version, part in ((case.as_is, shown[:after]), (case.proposed, shown[after:])):
        assert f"{version.load_voltage_v:.2f} V" in part
        assert f"needed {version.needed_v:.2f} V" in part
        word = "to spare" if version.margin_v >= 0 else "short"
        apart = as_printed(version.load_voltage_v, version.needed_v)
        assert f"arrives: {apart} V {word}" in part
    assert "key switch" in shown[:after]
    assert "start relay, contact" in shown[after:]


def as_printed(one_v: float, other_v: float) -> str:
    """How far two voltages are apart when both stand there with two decimals."""
    hundredths = abs(round(100 * round(one_v, 2)) - round(100 * round(other_v, 2)))
    return f"{hundredths / 100:g}"


def test_the_load_that_is_off_everywhere_is_said_so() -> None:
    body = POSTED["circuit-check"].schema.example
    cases = [{**case, "without": ["starter solenoid"]} for case in body["cases"]]
    lamp = {"name": "lamp", "kind": "power", "power_w": 5, "nodes": ["key in", "ground"]}
    loads = [*body["circuit"]["loads"], lamp]
    body = {"circuit": {**body["circuit"], "loads": loads}, "cases": cases}
    assert "starter solenoid is off in every case" in texts(draw("circuit-check", body))


def curve(picture: str) -> list[tuple[float, float]]:
    found = read(picture).findall(f"{NAMESPACE}polyline")[-1]
    return [tuple(map(float, point.split(","))) for point in found.attrib["points"].split()]


def test_heat_rises_to_the_limit_at_the_permissible_current() -> None:
    """Where the heat balance permits it; a published table that permits less lies before."""
    place = {"ambient_c": 30, "altitude_m": 6000, "insulation_limit_c": 105}
    body = {"size": "12 AWG", "current_a": 20, "outer_diameter_mm": 2.4, **place}
    _, answer = solve("wire-heating", body)
    picture = draw("wire-heating", body)
    points = curve(picture)
    assert all(y2 <= y1 for (_, y1), (_, y2) in pairwise(points))  # pixels count downwards
    shown = texts(picture)
    assert f"insulation limit {answer.insulation_limit_c:.0f} °C" in shown
    assert f"may carry {answer.permissible_current_a:.1f} A" in shown
    assert f"20 A: {answer.conductor_temperature_c:.0f} °C" in shown
    root = read(picture)
    lines = [
        each.attrib
        for each in root.findall(f"{NAMESPACE}line")
        if "stroke-dasharray" in each.attrib
    ]
    limit = float(next(each["y1"] for each in lines if each["stroke-width"] == "2"))
    may = float(next(each["x1"] for each in lines if each["x1"] == each["x2"]))
    (x1, y1), (x2, y2) = next(pair for pair in pairwise(points) if pair[1][0] >= may)
    crossing = y1 + (may - x1) / (x2 - x1) * (y2 - y1)
    assert crossing == pytest.approx(limit, abs=1.5)  # a chord of the curve, in pixels


def test_a_wire_without_steady_state_is_drawn() -> None:
    body = {"size": "18 AWG", "current_a": 200, "ambient_c": 60, "insulation_limit_c": 105}
    assert solve("wire-heating", body)[1].conductor_temperature_c is None
    assert "200 A: no end" in texts(draw("wire-heating", body))


def test_a_solenoid_shows_what_is_left() -> None:
    body = POSTED["solenoid-pull-in"].schema.example
    _, answer = solve("solenoid-pull-in", body)
    shown = texts(draw("solenoid-pull-in", body))
    apart = as_printed(answer.available_v, answer.hot_pull_in_v)
    assert f"110 °C: {apart} V to spare" in shown
    assert f"limit {answer.maximum_temperature_c:.0f} °C" in shown
    assert {"arrives", "needed to pull in"} <= set(shown)


def test_a_schematic_has_every_part_once_and_the_terminal_numbers() -> None:
    shown = texts(draw("relay-retrofit", RETROFIT, "schematic"))
    circuit, proposal = RETROFIT["circuit"], RETROFIT["proposal"]
    parts = [*circuit["branches"], *circuit["loads"], *proposal["feed"], *proposal["outlet"]]
    for part in parts:
        assert shown.count(part["name"]) == 1, part["name"]
    assert shown.count(proposal["relay"]["name"]) == 2  # its coil and its contact
    # DIN 72552: 30 battery plus and feed of the contact, 87 its outlet, 85 and 86 the coil,
    # 50 starter control, 31 ground.
    assert {"30", "87", "86", "85", "50"} <= set(shown)
    assert any(text.startswith("31 ") for text in shown)


def test_a_large_circuit_is_cut_short_and_says_so() -> None:
    part = {"kind": "contact", "part": "connector", "resistance_ohm": 0.001}
    name = '& <plug> "of the long row" ' * 3
    branches = [
        {**part, "name": f"{name[:70]} {index}", "nodes": [f"n{index}", f"n{index + 1}"]}
        for index in range(190)
    ]
    load = {"kind": "current", "current_a": 2, "nodes": ["n190", "ground"]}
    body = {
        "circuit": {
            "source": {"plus": "n0", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": branches,
            "loads": [{**load, "name": "lamp"}, {**load, "name": "fan"}],
        },
        "cases": [{"name": "day"}],
    }  # fmt: skip
    for kind in PICTURES["circuit-check"]:
        read(draw("circuit-check", body, kind))
    assert any(
        text.endswith(" more parts") for text in texts(draw("circuit-check", body, "schematic"))
    )


def test_a_hundred_segments_with_long_names_stay_light() -> None:
    segments = [
        {"name": f"{index} " + "&\"'<>" * 15, "kind": "contact", "part": "connector",
         "resistance_ohm": 0.001}
        for index in range(100)
    ]  # fmt: skip
    read(draw("voltage-drop", {"supply_v": 12, "load_current_a": 5, "segments": segments}))


def test_long_names_that_differ_at_one_end_stay_apart() -> None:
    wires = [f"brown wire of the main harness from the fuse box to the {to}" for to in "abc"]
    wires += [f"{way} wire of the main harness from the fuse box to the dash" for way in "abc"]
    assert all(len(cut(each)) <= LONGEST_NAME and "…" in cut(each) for each in wires)
    assert len({cut(each) for each in wires}) == len(wires)
    assert len({fit(each, 120, 11) for each in wires}) == len(wires)


def test_a_long_sentence_loses_its_end_only() -> None:
    """What it would lose in its middle may be the word that it turns on."""
    told = "The relay does not help: " + "the strap takes most of it, " * 20
    for short in (shorten(told, 60), fit(told, 200, 11, shorter=shorten)):
        assert short.endswith("…")
        assert told.startswith(short[:-1])
    *first, last = wrap(told, 200, 11, 2, shorter=shorten)
    assert told.startswith(" ".join([*first, last[:-1]]))


NAMES = st.one_of(
    st.sampled_from(["<script>x</script>", "]]>", "&amp;", "<!--", "\"'", "</text><image/>"]),
    st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1, max_size=80),
)


@settings(deadline=None, max_examples=60)
@given(NAMES)
def test_names_stay_text(name: str) -> None:
    part = {"name": name, "kind": "contact", "part": "switch", "resistance_ohm": 0.05}
    shown = texts(draw("voltage-drop", {"supply_v": 12, "load_current_a": 5, "segments": [part]}))
    begin = tidy(name)[:3]
    assert any(text.startswith(cut(begin)) or text == "…" for text in shown)


@settings(deadline=None, max_examples=30)
@given(NAMES.filter(lambda name: name not in {"ground", "post", "lamp"}))
def test_names_stay_text_in_a_schematic(name: str) -> None:
    body = {
        "circuit": {
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": [{"name": name, "kind": "resistance", "resistance_ohm": 0.1,
                          "nodes": ["post", f"{name[:79]}\u00e9"]}],
            "loads": [{"name": "lamp", "kind": "power", "power_w": 20,
                       "nodes": [f"{name[:79]}\u00e9", "ground"]}],
        },
        "cases": [{"name": name}],
    }  # fmt: skip
    for kind in PICTURES["circuit-check"]:
        read(draw("circuit-check", body, kind))


def luminance(colour: str) -> float:
    """Relative luminance: WCAG 2.1, definition of that name."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [
        share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4 for share in shares
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("ink", [svg.INK, svg.SOFT, svg.ACCENT, svg.WARN])
def test_inks_can_be_read_on_white(ink: str) -> None:
    # WCAG 2.1, success criterion 1.4.3: a contrast of 4.5 to 1 for text.
    assert 1.05 / (luminance(ink) + 0.05) >= 4.5


def test_marks_of_an_axis_are_round_and_inside() -> None:
    assert Axis(0, 10, 0, 100).marks(5) == [0, 2, 4, 6, 8, 10]
    assert Axis(9.1, 12.7, 0, 100).marks(6) == [10, 11, 12]
    assert Axis(0, 10, 0, 100).at(2.5) == 25
    assert Axis(0, 10, 0, 100).at(11) == 100
    assert around([12.0, 12.0], 0, 100).high > 12.0


# Advance widths of DejaVu Sans 2.37 and its bold, in thousandths of the letters' height: table hmtx
# of the font files, over 2048.
WIDTHS = {
    "a": (613, 675), "e": (615, 678), "f": (352, 435), "i": (278, 343), "l": (278, 343),
    "m": (974, 1042), "o": (612, 687), "s": (521, 595), "t": (392, 478), "w": (818, 924),
    "A": (684, 774), "E": (632, 683), "I": (295, 372), "M": (863, 995), "O": (787, 850),
    "S": (635, 720), "T": (611, 682), "p": (635, 716), "W": (989, 1103),
    "0": (636, 696), "7": (636, 696), " ": (318, 348),
    "-": (361, 415), ".": (318, 380), "(": (390, 457), "%": (950, 1002), "\u2026": (1000, 1000),
    "\u03a9": (764, 850),
}  # fmt: skip


@pytest.mark.parametrize("text", [*WIDTHS, "SAME SEAT", "Wammms", "fits a lamp.", "0.77 \u03a9"])
def test_no_letter_is_wider_than_it_is_taken_for(text: str) -> None:
    regular, bold = (sum(WIDTHS[each][k] for each in text) / 100 for k in (0, 1))
    taken = svg.text_width(text, 10)
    assert regular <= taken <= regular + 0.13 * 10 * len(text)
    assert bold <= svg.text_width(text, 10, bold=True)


@pytest.mark.parametrize(
    ("text", "width", "short"), [("key switch", 200, "key switch"), ("key switch", 35, "key…")]
)
def test_texts_fit_their_room(text: str, width: float, short: str) -> None:
    assert svg.fit(text, width, 10) == short
    assert svg.text_width(svg.fit(text, width, 10), 10) <= width
