"""The way through a network: where most of the current goes, and the same one every time."""

from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.loads import CurrentLoad, PowerLoad
from lastvolt_service.operations.circuits.parts import CircuitResistance
from lastvolt_service.operations.circuits.sources import Source
from lastvolt_service.reports.pictures.routes import Edge, edges, route
from lastvolt_service.reports.pictures.tracks import tracks


def edge(name: str, first: str, second: str, current_a: float = 0.0) -> Edge:
    return Edge(name, "resistance", (first, second), current_a, None)


def names(parts: list[Edge] | None) -> list[str]:
    return [part.name for part in parts or ()]


def test_the_way_of_most_current_is_taken() -> None:
    parts = [
        edge("thin", "a", "c", 1.0),
        edge("thick", "a", "b", 9.0),
        edge("on", "c", "b", 9.0),
    ]
    assert names(route(parts, "a", "c")) == ["thick", "on"]


def test_of_equal_ways_the_shorter_then_the_first_is_taken() -> None:
    long = [edge("long 1", "a", "b"), edge("long 2", "b", "c")]
    parts = [*long, edge("x", "a", "c"), edge("y", "c", "a")]
    assert names(route(parts, "a", "c")) == ["x"]


def test_no_way_and_no_distance() -> None:
    assert route([edge("x", "a", "b")], "a", "z") is None
    assert route([edge("x", "a", "b")], "a", "a") == []


EARTH = {"kind": "resistance", "resistance_ohm": 0.1, "nodes": ["body", "ground"]}
CIRCUIT = Circuit(
    source=Source(plus="post"),
    branches=[
        CircuitResistance(**{**EARTH, "name": "feed", "nodes": ["post", "bus"]}),
        CircuitResistance(**EARTH, name="earth 1"),
        CircuitResistance(**EARTH, name="earth 2"),
    ],
    loads=[
        PowerLoad(name="lamp", kind="power", power_w=5.0, nodes=["bus", "body"]),
        CurrentLoad(name="fan", kind="current", current_a=5.0, nodes=["ground", "bus"]),
    ],
    relays=[
        Relay(
            name="relay",
            coil_resistance_ohm=80.0,
            coil_nodes=["bus", "ground"],
            contact_nodes=["post", "spare"],
            break_nodes=["post", "rest"],
        ),
    ],
)


def test_parts_left_out_in_a_case_are_no_way() -> None:
    assert [part.name for part in edges(CIRCUIT, {"feed": [1.0]})] == ["feed"]
    both = edges(CIRCUIT, {"relay": [-2.0, 0.0]})
    assert [part.current_a for part in both] == [2.0, 0.0]
    assert [part.nodes for part in both] == [("post", "spare"), ("post", "rest")]


def test_tracks_hold_every_part_once_and_begin_where_others_left_off() -> None:
    found = tracks(CIRCUIT, "fan")
    listed = [(item.name, item.symbol) for track in found for item in track.items]
    assert sorted(listed) == sorted(
        [
            ("feed", "resistance"), ("fan", "current"), ("lamp", "power"),
            ("earth 1", "resistance"), ("earth 2", "resistance"),
            ("relay", "coil"), ("relay", "make"), ("relay", "break"),
        ]
    )  # fmt: skip
    first, second = found[:2]
    assert [item.name for item in first.items] == ["feed", "fan"]  # the decisive load leads
    assert (first.at_post, first.at_ground) == (True, True)
    assert list(second.nodes) == ["bus", "body", "ground"]
    assert all(len(track.nodes) == len(track.items) + 1 for track in found)
