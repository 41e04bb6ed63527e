"""Fields that operations on wires share: what a wire is, where it lies, what a path may drop."""

from collections.abc import Iterator
from typing import ClassVar

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    Groups,
    choice,
    count,
    quantity,
    size,
)
from lastvolt_service.operations.common_fields import (
    ASK_NOMINAL,
    MAX_SUPPLY_V,
    between_systems,
    supply,
)
from lastvolt_service.rows import Numbers, Texts, given, negate
from lastvolt_service.tables.insulation import insulation_kinds
from lastvolt_service.tables.limits import drop_limits
from lastvolt_service.tables.materials import material_names
from lastvolt_service.tables.practice import zones
from lastvolt_service.tables.sizes import HOW_WRITTEN, STANDARDS

MAX_GROUPED = 200
MAX_ALTITUDE_M = 6000.0
HIGHEST_CONDUCTOR_C = 300.0
LEAST_PERCENT = 0.2
CONSTRUCTIONS = ("stranded", "solid")
NOMINALS = tuple(sorted({nominal for _, nominal in drop_limits()}))
LENGTH = "length of the wire, one way"
LIMIT = ("insulation", "insulation_limit_c")  # which say what the conductor may reach
CIRCUITS = tuple(dict.fromkeys(circuit for circuit, _ in drop_limits()))


class Metal(Fields):
    """Fields that say what a conductor is made of."""

    material: Texts = choice("metal of the conductor", material_names(), default="copper")
    construction: Texts = choice("stranded or solid", CONSTRUCTIONS, default="stranded")


class WireSize(Metal):
    """Fields that describe a conductor."""

    size: Texts = size(f"conductor size: {HOW_WRITTEN}")
    standard: Texts = choice(
        "standard of the size; by default AWG, SAE or IEC 60228 by the way it is written",
        tuple(STANDARDS),
        default=ABSENT,
    )


class Surroundings(Fields):
    """Fields that say what a wire wears and where it lies."""

    insulation: Texts = choice("kind of insulated wire", insulation_kinds(), default=ABSENT)
    insulation_limit_c: Numbers = quantity(
        "temperature that the conductor may have, in place of that of the kind",
        minimum=40.0,
        maximum=300.0,
        default=ABSENT,
    )
    outer_diameter_mm: Numbers = quantity(
        "over the insulation, in place of the usual one",
        minimum=0.2,
        maximum=60.0,
        default=ABSENT,
    )
    grouped_conductors: Numbers = count(
        "loaded conductors side by side in the loom, itself included",
        maximum=MAX_GROUPED,
        default=1,
    )
    altitude_m: Numbers = quantity("height above the sea", maximum=MAX_ALTITUDE_M, default=0.0)
    ambient_c: Numbers = quantity(
        "temperature of the air around the wire", maximum=250.0, default=ABSENT
    )


class WireInPlace(WireSize, Surroundings):
    """Fields that describe a wire where it lies."""


class Zoned(Surroundings):
    """Surroundings whose ambient may be named by a zone of the vehicle."""

    exactly_one_of: ClassVar[Groups] = (("ambient_c", "zone"),)

    zone: Texts = choice(
        "zone of the vehicle, for its usual highest ambient", tuple(zones()), default=ABSENT
    )


class DropLimit(Fields):
    """Fields that say what a path may drop, with its supply."""

    at_most_one_of: ClassVar[Groups] = (("limit_drop_v", "limit_drop_percent"),)

    supply_v: Numbers = supply("voltage at the start of the path, with the current flowing")
    nominal_v: Numbers = count(
        "nominal voltage of the system, for the default limit of the drop: 6, 12 or 24; by "
        "default told from supply_v, unless that lies between two systems",
        choices=NOMINALS,
        default=ABSENT,
    )
    circuit: Texts = choice(
        "kind of circuit, for the default limit of the drop", CIRCUITS, default="continuous"
    )
    limit_drop_v: Numbers = quantity(
        "largest drop of the whole path", minimum=1e-3, maximum=MAX_SUPPLY_V, default=ABSENT
    )
    limit_drop_percent: Numbers = quantity(
        "largest drop of the whole path, of the supply", minimum=0.01, default=ABSENT
    )
    needed_v: Numbers = quantity(
        "voltage that the load needs; for a solenoid that at which it pulls in, hot as it may be: "
        "where it is known it decides, and the limit of a starter control circuit exceeded is a "
        "small margin",
        maximum=MAX_SUPPLY_V,
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """A supply between two systems does not say which limit holds."""
        settled = given(self.nominal_v) | given(self.limit_drop_v) | given(self.limit_drop_percent)
        yield between_systems(self.supply_v) & negate(settled), ("nominal_v",), ASK_NOMINAL
        # A share of 0.03 is meant by it: 0.03 % of 12 V are 4 mV, which nobody asks for.
        is_share = self.limit_drop_percent < LEAST_PERCENT
        yield is_share, ("limit_drop_percent",), "This is in percent: write 3 for 3 %."
        yield from super().broken_rules()
