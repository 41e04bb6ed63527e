"""Relays that the caller has, and places where one may be mounted: what requests say of them."""

from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from typing import ClassVar

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    changed,
    choice,
    many,
    quantity,
    with_defaults,
)
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.fields import NEAR, RelayData
from lastvolt_service.operations.circuits.work import BOUND_OF_CHOICES, MOST_OF_CHOICES, Work
from lastvolt_service.operations.common_fields import same_names
from lastvolt_service.operations.decision.proposal import (
    DecisionRequest,
    Proposal,
    RelayRetrofitRequest,
)
from lastvolt_service.tables.insulation import insulation_kinds
from lastvolt_service.tables.limits import inrush
from lastvolt_service.tables.sizes import STANDARDS

MOST_CANDIDATES = 200
MOST_PLACES = 6
MOST_M = 50.0
# By practice a step to a drier place is worth so much more new wire, and not a harness. [m]
DRIER_IS_WORTH_M = 2.0
# The same, to one that is not over what most relays bear.
COOLER_IS_WORTH_M = 4.0
# From the kindest to a relay to the hardest; by judgement.
EXPOSURES = ("dry", "splash", "drips", "stones", "on_the_hot_part")
ON_THE_HOT_PART = EXPOSURES[-1]
FUSE, FEED, OUTLET = NEW_PARTS = ("relay fuse", "relay feed", "relay to load")


class RelayCandidate(RelayData):
    """A relay of the caller's own parts list."""

    cost: float = quantity("of the relay, in the same money as the others'", default=ABSENT)

    def broken_rules(self) -> Iterator[Broken]:
        """Those of a relay; the place says where it lies."""
        yield from super().broken_rules()
        yield self.zone is not None, ("zone",), "The place says where it lies: leave this out."


class RelayPlace(Fields):
    """A place where a relay may be mounted, and how far it is from there."""

    name: str = label("what the answer calls this place")
    zone: str = label("zone that it lies in, for its ambient in each case")
    exposure: str = choice("what it is exposed to", EXPOSURES)
    feed_node: str = label("node that the relay's contact would be fed from, at its fuse")
    feed_length_m: float = quantity("of wire from there to the relay", minimum=0.01, maximum=MOST_M)
    outlet_length_m: float = quantity(
        "of wire from the relay to the load", minimum=0.01, maximum=MOST_M
    )
    insulation: str = choice(
        "kind of insulated wire for its feed and outlet", insulation_kinds(), default="GXL"
    )


class RelayChoiceRequest(DecisionRequest):
    """A circuit as it is, relays that one has, and places for one of them."""

    bound: ClassVar[str] = BOUND_OF_CHOICES

    candidates: Sequence[RelayCandidate] = many(
        RelayCandidate, "the relays to choose from", maximum=MOST_CANDIDATES
    )
    places: Sequence[RelayPlace] = many(
        RelayPlace, "the places to choose from", maximum=MOST_PLACES
    )
    load_kind: str | None = choice(
        "kind of load, for the inrush on the contacts of relays that do not say theirs; that of "
        "lamps is told from the circuit",
        tuple(inrush()),
        default=ABSENT,
    )
    standard: str = choice("standard of the sizes of new wires", tuple(STANDARDS), default="AWG")

    example: ClassVar = {
        **{
            key: RelayRetrofitRequest.example[key] for key in ("circuit", "cases", "load", "switch")
        },
        "candidates": [
            {
                "name": "sealed relay of the spares box",
                "nominal_v": 12,
                "coil_resistance_ohm": 90,
                "pick_up_v": 6.9,
                "drop_out_v": 1.2,
                "thermal_resistance_k_per_w": 30,
                "highest_ambient_c": 105,
                "suppression": {"kind": "diode"},
                "contact_resistance_ohm": 0.0015,
                "rating_a": 50,
                "derating": [
                    {"ambient_c": 85, "current_a": 40},
                    {"ambient_c": 125, "current_a": 20},
                ],
                "rated_v": 12,
                "cost": 9,
            },
            {
                "name": "small relay from the dash",
                "nominal_v": 12,
                "coil_resistance_ohm": 100,
                "pick_up_v": 7.2,
                "drop_out_v": 1.2,
                "thermal_resistance_k_per_w": 40,
                "highest_ambient_c": 85,
                "suppression": {"kind": "diode"},
                "contact_resistance_ohm": 0.004,
                "rating_a": 20,
                "rated_v": 12,
                "cost": 4,
            },
            {
                "name": "relay of the old lorry",
                "nominal_v": 24,
                "coil_resistance_ohm": 320,
                "pick_up_v": 14.8,
                "drop_out_v": 2.4,
                "contact_resistance_ohm": 0.002,
                "rating_a": 40,
                "rated_v": 24,
            },
        ],
        "places": [
            {
                "name": "bulkhead, behind the battery",
                "zone": "engine bay",
                "exposure": "splash",
                "feed_node": "battery post",
                "feed_length_m": 0.6,
                "outlet_length_m": 0.8,
            },
            {
                "name": "on the starter",
                "zone": "starter",
                "exposure": "on_the_hot_part",
                "feed_node": "battery post",
                "feed_length_m": 0.2,
                "outlet_length_m": 0.2,
            },
        ],
    }

    @property
    def proposed_work(self) -> Work:
        """Work of the circuit with one of the relays in it, in every case."""
        return self._work(is_retrofit=False)

    @property
    def last_look(self) -> Work:
        """Work of relay-retrofit for one of them."""
        return self._work(is_retrofit=True)

    def _work(self, *, is_retrofit: bool) -> Work:
        here = Work.of(self)
        return Work(
            here.parts + 1 + len(NEW_PARTS),
            here.loads,
            here.relays + 1,
            here.everywhere,
            here.in_cases,
            is_retrofit=is_retrofit,
            is_start=False,
        )

    def broken_rules(self) -> Iterator[Broken]:
        """As for any cases; names tell apart, and each place fits circuit and cases."""
        yield from super().broken_rules()
        taken = self.known_names()
        for index, each in enumerate(self.candidates):
            clash = each.name in taken
            yield clash, ("candidates", index, "name"), f"Another part is called {each.name!r}."
        yield from same_names("candidates", self.candidates)
        yield from same_names("places", self.places)
        yield from self._zones()
        yield from self._as_proposals()
        units = self.least_units
        yield (
            units > MOST_OF_CHOICES,
            ("circuit",),
            f"To look at one relay of these takes {units:,} units of work, and one request may ask "
            f"for {MOST_OF_CHOICES:,}. Leave out cases, and parts that the question does not need.",
        )

    @property
    def least_units(self) -> int:
        """Units of work for the circuit as it is, the places, one relay, and a last look at it."""
        return (2 + len(self.places)) * self.proposed_work.units + self.last_look.units

    def _zones(self) -> Iterator[Broken]:
        """A zone that no case names has the ambient of all others, which may be a slip."""
        known_zones = {zone for case in self.cases for zone in case.zone_ambients_c}
        for index, place in enumerate(self.places):
            if place.zone in known_zones:
                continue
            path = ("places", index, "zone")
            meant = get_close_matches(place.zone, sorted(known_zones), 1, NEAR)
            yield bool(meant), path, f"No case has this zone: did you mean {''.join(meant)!r}?"
            hot = not meant and place.exposure == ON_THE_HOT_PART
            yield hot, path, "Give its ambient in a case: on the hot part it decides."

    def _as_proposals(self) -> Iterator[Broken]:
        """What relay-retrofit would refuse of a relay in each place."""
        for index, place in enumerate(self.places):
            relay = with_defaults(RelayData, name=unused(self.known_names(), "the relay"))
            proposal = with_defaults(Proposal, relay=relay, feed_node=place.feed_node)
            for broken, path, text in self.asked_of(proposal).broken_rules():
                if broken and path == ("proposal", "feed_node"):
                    yield True, ("places", index, "feed_node"), text


def unused(taken: set[str], name: str) -> str:
    """Make a name that no other part has."""
    found, count = name, 1
    while found in taken:
        count += 1
        found = f"{name} {count}"
    return found


def relay_in(asked: RelayChoiceRequest, candidate: RelayCandidate, place: RelayPlace) -> RelayData:
    """Put a relay of the list into a place."""
    values = {key: getattr(candidate, key) for key in RelayData.described}
    relay = RelayData(**values)
    load = next(each for each in asked.circuit.loads if each.name == asked.load)
    usual = asked.load_kind or ("lamp" if load.kind == "lamp" else None)
    return changed(relay, zone=place.zone, load_kind=relay.load_kind or usual)
