"""What hangs behind a part, against its definition: what loses every way to an end without it."""

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part

NODES = ("ground", "post", "alternator", *"abcdefgh")
ENDS = frozenset({"ground", "post", "alternator"})
GROUPS = ("wires", *LOAD_GROUPS, "sources", "chargers", "contacts")


def part(name: str, group: str, nodes: tuple[str, str], *, is_load: bool = False) -> Part:
    return Part(name, group, group, nodes, SimpleNamespace(part=""), 20.0, is_load=is_load)


def drawn(random: np.random.Generator) -> Any:
    """A circuit of wires, a relay's contacts and loads between a few nodes; some are cut off."""

    def ends() -> tuple[str, str]:
        first, second = random.choice(len(NODES), 2, replace=False)
        return NODES[first], NODES[second]

    parts: dict[str, list[Part]] = {group: [] for group in GROUPS}
    for index in range(random.integers(4, 12)):
        group = ("wires", "contacts")[index % 3 == 0]
        parts[group].append(part(f"{group} {index}", group, ends()))
    for index in range(4):
        parts["motors"].append(part(f"load {index}", "motors", ends(), is_load=True))
    parts["sources"].append(part("", "sources", ("post", "ground")))
    parts["chargers"].append(part("alternator", "chargers", ("alternator", "ground")))
    network = SimpleNamespace(node_names=NODES, reference=0)
    return SimpleNamespace(
        parts=parts,
        network=network,
        posts=("post", "ground"),
        fed_from=("post", "alternator"),
        fed_by=(*parts["sources"], *parts["chargers"]),
        fed_between=(("post", "ground"), ("alternator", "ground")),
        cranked=(),
        drive_v=12.0,
    )


def joined(start: str, conductors: list[Part]) -> set[str]:
    """All nodes that some conductors join to one, whatever lies between."""
    found = {start}
    while more := {n for p in conductors if found & {*p.nodes} for n in p.nodes} - found:
        found |= more
    return found


@pytest.mark.parametrize("seed", range(60))
def test_what_hangs_behind_a_part_loses_every_way_to_an_end(seed):
    model = drawn(np.random.default_rng(seed))
    metal, conductors = Metal(model), [*model.parts["wires"], *model.parts["contacts"]]
    for each in conductors:
        others = [other for other in conductors if other is not each]
        far = next((n for n in each.nodes if not joined(n, others) & ENDS), None)
        nodes = set() if far is None else joined(far, others)
        expected = sorted(
            load.name for load in model.parts["motors"] for node in load.nodes if node in nodes
        )
        assert sorted(load.name for load in metal.loads_behind(each)) == expected


def test_the_draws_have_bridges_rings_and_what_is_cut_off():
    """Else the test above would compare nothing with nothing."""
    kinds = set()
    for seed in range(60):
        model = drawn(np.random.default_rng(seed))
        metal, conductors = Metal(model), [*model.parts["wires"], *model.parts["contacts"]]
        for each in conductors:
            fed = bool(joined(each.nodes[0], conductors) & ENDS)
            kinds.add((fed, bool(metal.loads_behind(each))))
    assert kinds == {(True, True), (True, False), (False, True), (False, False)}
