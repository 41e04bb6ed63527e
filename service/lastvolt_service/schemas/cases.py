"""Cases laid over a circuit, in requests."""

from collections import Counter
from collections.abc import Mapping
from typing import Any, ClassVar

from marshmallow import ValidationError, fields, validates_schema

from lastvolt_service.schemas.base import JSONObject, Request
from lastvolt_service.schemas.circuits import (
    MAX_BRANCHES,
    Circuit,
    OptionalName,
    Toleranced,
    named_parts,
)
from lastvolt_service.schemas.fields import Count, Many, Name, Part, Quantity
from lastvolt_service.schemas.parts import NOMINALS, supply
from lastvolt_service.work import BOUND, MOST_UNITS, intervals_in, units, weight

MAX_CASES = 20
MAX_TOLERANCED = 16
MAX_ZONES = 50


class ZoneAmbients(fields.Dict):
    """Ambient temperature by zone, each a number or an interval.

    Parameters
    ----------
    description : str
        Meaning.
    """

    toleranced = True

    def __init__(self, description: str) -> None:
        super().__init__(
            keys=Name("zone"),
            values=Quantity("ambient of the zone", maximum=250.0),
            # apispec would publish a length, which is for lists and texts.
            metadata={"description": description, "maxProperties": MAX_ZONES},
            load_default=dict,
            validate=_few,
            error_messages={"invalid": "This must be an object."},
        )

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> Any:
        try:
            return super()._deserialize(value, attr, data, **kwargs)  # type: ignore[no-untyped-call]  # marshmallow is untyped here
        except ValidationError as error:
            if not isinstance(error.messages, dict):
                raise
            # marshmallow says whether the key or the value is wrong; both are at the zone.
            found = {zone: wrong.popitem()[1] for zone, wrong in error.messages.items()}
            raise ValidationError(found) from error


def _few(zones: Mapping[str, object]) -> None:
    if len(zones) > MAX_ZONES:
        raise ValidationError(f"This may name {MAX_ZONES} zones at most.")


class Case(Toleranced):
    """A named condition, laid over the circuit."""

    name = Name("what the answer calls this case")
    ambient_c = Quantity("ambient of all zones that are not named", default=20.0, maximum=250.0)
    zone_ambients_c = ZoneAmbients("ambient by zone")
    open_circuit_v = supply("in place of that of the source", optional=True)
    internal_resistance_ohm = Quantity(
        "in place of that of the source", maximum=10.0, optional=True
    )
    state_of_charge_percent = Quantity("of the battery, in place of its own", optional=True)
    ageing_factor = Quantity(
        "on the resistance of every contact that ages", minimum=0.1, maximum=100.0, default=1.0
    )
    without = Many(
        Name("a part"),
        "parts left out: open switches, loads that are off",
        minimum=0,
        maximum=MAX_BRANCHES,
        optional=True,
    )
    held = Many(
        Name("a part"),
        "relays and solenoids that have pulled in before",
        minimum=0,
        maximum=MAX_BRANCHES,
        optional=True,
    )
    duration_s = Quantity(
        "how long it lasts, from a start at ambient; without it for ever",
        minimum=1e-2,
        maximum=86400.0,
        optional=True,
    )


class Cases(Request):
    """A circuit and the cases laid over it."""

    bound: ClassVar[str] = BOUND

    circuit = Part(Circuit, "the network")
    cases = Many(Part(Case, "one case"), "named conditions", maximum=MAX_CASES)
    nominal_v = Count(
        "nominal voltage of the system, for limits of drops; by default told from the source",
        choices=NOMINALS,
        optional=True,
    )

    def known_names(self, data: JSONObject) -> set[str]:
        """Collect the names that a case may use.

        Parameters
        ----------
        data : dict
            The request as loaded.

        Returns
        -------
        set of str
        """
        return {part["name"] for _, _, part in named_parts(data["circuit"])}

    @validates_schema
    def _known_names(self, data: JSONObject, **_kwargs: object) -> None:
        known = self.known_names(data)
        counted = Counter(case["name"] for case in data["cases"])
        errors: dict[int, Any] = {}
        for index, case in enumerate(data["cases"]):
            if counted[case["name"]] > 1:
                errors[index] = {"name": ["Another case has this name."]}
            for field in ("without", "held"):
                wrong = {
                    place: ["No part of the circuit has this name."]
                    for place, name in enumerate(case[field])
                    if name not in known
                }
                if wrong:
                    errors[index] = {**errors.get(index, {}), field: wrong}
        if errors:
            raise ValidationError({"cases": errors})
        if intervals_in(data) > MAX_TOLERANCED:
            raise ValidationError(f"At most {MAX_TOLERANCED} inputs may be intervals.")

    @validates_schema
    def _little_enough_work(self, data: JSONObject, **_kwargs: object) -> None:
        asked = units(data)
        if asked > MOST_UNITS:
            raise ValidationError(
                {
                    "cases": [
                        f"This request asks for {asked:,} units of work, and one may ask for "
                        f"{MOST_UNITS:,}. Ask for fewer cases at once."
                    ],
                    "circuit": [
                        f"One solution of this circuit comes to {weight(data):,.0f} units of work, "
                        f"and its {intervals_in(data)} intervals take many. Leave out what the "
                        "question does not need."
                    ],
                }
            )


class CircuitCheckRequest(Cases):
    """A circuit, to be checked in every case."""

    decisive_load = OptionalName(
        "load whose voltage decides what to mend first; by default the first that needs a voltage"
    )

    @validates_schema
    def _known_load(self, data: JSONObject, **_kwargs: object) -> None:
        names = [load["name"] for load in data["circuit"]["loads"]]
        if data.get("decisive_load", names[0]) not in names:
            raise ValidationError({"decisive_load": ["No load of the circuit has this name."]})

    example: ClassVar[JSONObject] = {
        "circuit": {
            "source": {
                "plus": "battery post",
                "open_circuit_v": 12.4,
                "internal_resistance_ohm": 0.006,
            },
            "branches": [
                {
                    "name": "feed to key switch",
                    "kind": "wire",
                    "nodes": ["battery post", "key in"],
                    "size": "12 AWG",
                    "length_m": 10.5,
                    "insulation": "GXL",
                },
                {
                    "name": "key switch",
                    "kind": "contact",
                    "part": "switch",
                    "nodes": ["key in", "key out"],
                    "resistance_ohm": 0.02,
                    "rating_a": 30,
                },
                {
                    "name": "wire to the rear",
                    "kind": "wire",
                    "nodes": ["key out", "terminal 50"],
                    "size": "12 AWG",
                    "length_m": 11.0,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
                {
                    "name": "engine strap",
                    "kind": "contact",
                    "part": "ground",
                    "nodes": ["engine block", "ground"],
                    "resistance_ohm": 0.0004,
                },
            ],
            "loads": [
                {
                    "name": "starter solenoid",
                    "kind": "solenoid",
                    "zone": "starter",
                    "nodes": ["terminal 50", "engine block"],
                    "circuit": "starter_control",
                    "windings": {
                        "pull_in_turns": 190,
                        "pull_in_resistance_ohm": 0.55,
                        "hold_in_turns": 190,
                        "hold_in_resistance_ohm": 1.5,
                        "motor_resistance_ohm": 0.02,
                        "ampere_turns": 3200,
                        "hold_ampere_turns": 480,
                    },
                },
            ],
        },
        "cases": [
            {"name": "frosty morning", "ambient_c": -10, "duration_s": 10},
            {
                "name": "hot restart, aged switch",
                "ambient_c": 35,
                "ageing_factor": 2.5,
                "zone_ambients_c": {"engine bay": 85, "starter": 115},
                "duration_s": 10,
            },
        ],
    }
