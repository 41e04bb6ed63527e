"""Requests about readings taken on a live circuit."""

from typing import ClassVar

from marshmallow import validates_schema

from lastvolt_service.schemas.base import JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Count, Kinded, Many, Name, Part, Quantity
from lastvolt_service.schemas.parts import (
    CIRCUITS,
    MAX_SUPPLY_V,
    NOMINALS,
    WireSize,
    refuse_same_names,
    supply,
)
from lastvolt_service.schemas.wires import HIGHEST_CONDUCTOR_C, LENGTH
from lastvolt_service.tables.limits import contact_limits


class Meter(Request):
    """The voltmeter: what its last digit is worth, and how far off it may be."""

    resolution_v = Quantity(
        "one step of the last digit, in the range of these readings",
        minimum=1e-6,
        maximum=1.0,
        default=0.01,
    )
    accuracy_percent = Quantity("error of the meter, of what it reads", maximum=20.0, default=0.5)


class Reading(Request):
    """What the meter shows across one part."""

    name = Name("what the answer calls this part")
    measured_v = Quantity("across the part, with the current flowing", maximum=MAX_SUPPLY_V)


class WireReading(Reading, WireSize):
    """A reading across a wire, from one end of its metal to the other."""

    kind = Choice("wire", ("wire",))
    length_m = Quantity(LENGTH)
    temperature_c = Quantity(
        "temperature of the conductor", maximum=HIGHEST_CONDUCTOR_C, default=20.0
    )


class ContactReading(Reading):
    """A reading across a contact or a joint."""

    kind = Choice("contact", ("contact",))
    part = Choice("what makes the contact", tuple(contact_limits()))


class DropDiagnosisRequest(Request):
    """Readings along a path, all at the same current."""

    current_a = Quantity("current round the path during the readings", minimum=1e-3)
    current_accuracy_percent = Quantity("error of that current", maximum=50.0, default=1.0)
    temperature_accuracy_k = Quantity(
        "error of the temperatures given for the wires: 10 K are 4 % of their resistance",
        maximum=100.0,
        default=10.0,
    )
    meter = Part(Meter, "the voltmeter", default={"resolution_v": 0.01, "accuracy_percent": 0.5})
    supply_v = supply("measured at the start of the path, with the current flowing", optional=True)
    load_voltage_v = Quantity(
        "measured at the load, with the current flowing",
        minimum=0.01,
        maximum=MAX_SUPPLY_V,
        optional=True,
    )
    circuit = Choice(
        "kind of circuit, for the limit of the whole path", CIRCUITS, default="starter_control"
    )
    nominal_v = Count(
        "nominal voltage of the system, for published limits: 6, 12 or 24; by default told from "
        "supply_v, or from load_voltage_v and the readings; 12 without them",
        choices=NOMINALS,
        optional=True,
    )
    readings = Many(
        Kinded({"wire": WireReading, "contact": ContactReading}),
        "parts that the current runs through, out and back, each read once",
    )

    example: ClassVar[JSONObject] = {
        "current_a": 9.4,
        "supply_v": 12.21,
        "load_voltage_v": 9.86,
        "meter": {"resolution_v": 0.001, "accuracy_percent": 0.5},
        "readings": [
            {
                "name": "battery lead to switch",
                "kind": "wire",
                "size": "12 AWG",
                "length_m": 6.5,
                "temperature_c": 35,
                "measured_v": 0.342,
            },
            {"name": "key switch", "kind": "contact", "part": "switch", "measured_v": 0.872},
            {"name": "bulkhead plug", "kind": "contact", "part": "connector", "measured_v": 0.295},
            {
                "name": "switch to solenoid",
                "kind": "wire",
                "size": "14 AWG",
                "length_m": 7.5,
                "temperature_c": 50,
                "measured_v": 0.678,
            },
            {"name": "engine ground", "kind": "contact", "part": "ground", "measured_v": 0.121},
        ],
    }

    @validates_schema
    def _each_name_once(self, data: JSONObject, **_kwargs: object) -> None:
        refuse_same_names("readings", data["readings"])
