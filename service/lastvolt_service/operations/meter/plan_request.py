"""What a plan of readings takes: a circuit in cases, a load, its switch, a relay, meters."""

from collections.abc import Iterator, Sequence
from typing import Any, ClassVar

from lastvolt_service.fields import ABSENT, Broken, many, part
from lastvolt_service.operations.circuits.cases import Cases
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.work import BOUND_OF_RETROFITS
from lastvolt_service.operations.decision.proposal import (
    DecisionRequest,
    Proposal,
    RelayRetrofitRequest,
    proposal_fits,
)
from lastvolt_service.operations.meter.reading_fields import MeterData
from lastvolt_service.operations.meter.walk import own_coil, walk

# Of parts between source and load and back: what is more, nobody reads.
MOST_PARTS = 40


def _example() -> dict[str, Any]:
    """That of ``relay-retrofit``, with what nobody knows of it as intervals."""
    base = RelayRetrofitRequest.example
    unknown = {
        "key switch": {"low": 0.01, "high": 0.08},
        "engine strap": {"low": 0.0003, "high": 0.004},
    }
    branches = [
        {**each, "resistance_ohm": unknown.get(each["name"], each.get("resistance_ohm"))}
        if each["kind"] == "contact"
        else each
        for each in base["circuit"]["branches"]
    ]
    source = {
        "plus": "battery post",
        "open_circuit_v": {"low": 12.3, "high": 12.7},
        "internal_resistance_ohm": {"low": 0.005, "high": 0.012},
    }
    return {
        "circuit": {**base["circuit"], "source": source, "branches": branches},
        "cases": base["cases"],
        "load": base["load"],
        "switch": base["switch"],
        "way": base["proposal"],
    }


class MeterPlanRequest(DecisionRequest):
    """A circuit as it is, a load of it and its switch, and what may become of them."""

    bound: ClassVar[str] = (
        f"{BOUND_OF_RETROFITS} At most {MOST_PARTS} parts may lie on the way of the load's current."
    )

    way: Proposal | None = part(
        Proposal, "a relay for the load, as relay-retrofit takes it", default=ABSENT
    )
    meters: Sequence[MeterData] = many(
        MeterData,
        "the voltmeter and the clamp, where they are known; by default usual ones",
        minimum=0,
        maximum=2,
    )

    example: ClassVar = _example()

    @property
    def proposal(self) -> Proposal | None:
        """The relay that is weighed, if one is."""
        return self.way

    @property
    def with_way(self) -> RelayRetrofitRequest | None:
        """The same as ``relay-retrofit`` takes it; None without a relay."""
        if self.way is None:
            return None
        names = ("circuit", "cases", "nominal_v", "load", "switch")
        return RelayRetrofitRequest(
            **{name: getattr(self, name) for name in names}, proposal=self.way
        )

    def broken_rules(self) -> Iterator[Broken]:
        """As for any decision; and there is one meter of a kind."""
        yield from super().broken_rules()
        for place, each in enumerate(self.meters):
            ohms = each.kind == "ohms"
            yield ohms, ("meters", place, "kind"), "A plan reads volts, and amperes by a clamp."
            again = each.kind in {other.kind for other in self.meters[:place]}
            yield again, ("meters", place, "kind"), "Another meter reads this."

    def _fits_the_circuit(self) -> Iterator[Broken]:
        yield from super()._fits_the_circuit()
        if self.way is not None:
            yield from proposal_fits(self.circuit, self.way, Cases.known_names(self), ("way",))

    def _is_ruled(self, load: AnyLoad) -> bool:
        """A load with a relay of its own already is read as it is: its coil, and its contact."""
        own = self.way is None and own_coil(self.circuit, load, self.switch) is not None
        return own or super()._is_ruled(load)

    def _fits_the_question(self) -> Iterator[Broken]:
        found = [each for each in super()._fits_the_question() if each[0]]
        yield from found
        if self.way is not None:
            unfed = self.way.feed_node not in Sides(self.circuit).live
            yield unfed, ("way", "feed_node"), "Take the feed from the live side of the source."
        if found:
            return
        load = next(each for each in self.circuit.loads if each.name == self.load)
        for index, case in enumerate(self.cases):
            way = walk(self.circuit, load, self.switch, set(case.without))
            count = len(way.there) + len(way.back)
            yield (
                count > MOST_PARTS,
                ("cases", index),
                f"{count} parts lie on the way of the load's current, and a plan reads "
                f"{MOST_PARTS} at most. Take parts that follow each other as one.",
            )
            yield (
                not way.there,
                ("cases", index, "without"),
                "Without these parts no way leads from the source to the load.",
            )
