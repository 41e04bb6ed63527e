"""What is known of a relay's coil and of its contact, wherever the relay is wired."""

from collections.abc import Iterator
from typing import NamedTuple

from lastvolt_service.fields import ABSENT, Broken, Fields, choice, many, part, quantity
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.rows import Numbers, Texts, are, given, negate, pick, text_if
from lastvolt_service.tables.limits import inrush, system_voltages
from lastvolt_service.units import high_end, low_end

SUPPRESSIONS = ("none", "diode", "resistor", "zener")


class Customary(NamedTuple):
    """What a part of a rated voltage is fit for.

    Attributes
    ----------
    limit_v : float or ndarray
        Highest voltage. [V]
    citation : str
        Of one row that is rated for a system: who says what is customary in it; else empty.
    """

    limit_v: Numbers
    citation: str


def customary(rated_v: Numbers) -> Customary:
    """Tell what a part is fit for: rated for a 6, 12 or 24 V system, for all that is customary."""
    limit_v, citation = rated_v, ""
    for nominal_v, system in system_voltages().items():
        made_for = (rated_v >= nominal_v) & (rated_v < system.limit_v)
        limit_v = pick(made_for, system.limit_v, limit_v)
        citation = text_if(made_for, system.citation, citation)
    return Customary(limit_v, citation)


class Suppression(Fields):
    """What is wired across a coil against its switch-off peak."""

    kind: Texts = choice("none, diode, resistor or zener", SUPPRESSIONS)
    resistance_ohm: Numbers = quantity(
        "of the resistor across the coil", minimum=1.0, default=ABSENT
    )
    zener_v: Numbers = quantity(
        "clamping voltage of the zener with the diode in series with it",
        minimum=1.0,
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """Each kind has its own value."""
        for kind, name in (("resistor", "resistance_ohm"), ("zener", "zener_v")):
            is_kind, has = are(self.kind, kind), given(getattr(self, name))
            yield negate(has) & is_kind, (name,), f"A {kind} needs this value."
            yield negate(is_kind) & has, (name,), f"Only a {kind} has this value."


class CoilData(Fields):
    """What is known of a relay's coil."""

    nominal_v: Numbers = supply("nominal voltage of the coil", default=ABSENT)
    coil_resistance_ohm: Numbers = quantity("of the coil at the reference temperature", minimum=0.1)
    pick_up_v: Numbers = supply(
        "voltage at which the relay is sure to close, at the reference temperature"
    )
    drop_out_v: Numbers = supply(
        "voltage below which the relay opens, at the reference temperature",
        minimum=0.01,
        default=ABSENT,
    )
    reference_temperature_c: Numbers = quantity("temperature of the maker's values", default=20.0)
    maximum_v: Numbers = supply(
        "highest lasting voltage at the coil, such as the charging voltage", default=ABSENT
    )
    thermal_resistance_k_per_w: Numbers = quantity("rise of the coil per watt", default=ABSENT)
    thermal_time_constant_s: Numbers = quantity(
        "of the coil's warming, for one that is on for a time; by default a short one, as practice "
        "has it",
        minimum=0.1,
        default=ABSENT,
    )
    coil_limit_c: Numbers = quantity("highest temperature of the coil's insulation", default=ABSENT)
    highest_ambient_c: Numbers = quantity(
        "highest temperature around the relay that its maker allows", maximum=250.0, default=ABSENT
    )
    suppression: Suppression | None = part(
        Suppression, "what is wired across the coil; kind none where nothing is", default=ABSENT
    )
    switch_limit_v: Numbers = quantity(
        "highest voltage that the switch or driver of the coil stands",
        minimum=1.0,
        maximum=1e4,
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """It opens below the voltage that closes it, at any ends of both."""
        wrong = high_end(self.drop_out_v) >= low_end(self.pick_up_v)
        yield wrong, ("drop_out_v",), "This must be below pick_up_v."


class DeratingPoint(Fields):
    """One point of a maker's derating curve."""

    ambient_c: Numbers = quantity("temperature around the part", maximum=250.0)
    current_a: Numbers = quantity("current allowed at it")


class ContactData(Fields):
    """What is known of a relay's contact and of what it switches."""

    rating_a: Numbers = quantity(
        "steady current that the contact is rated for", minimum=1e-3, default=ABSENT
    )
    rating_ambient_c: Numbers = quantity(
        "ambient temperature of that rating", default=23.0, maximum=250.0
    )
    derating: list[DeratingPoint] = many(
        DeratingPoint,
        "the maker's points above the rating's ambient, in rising order of temperature",
        minimum=0,
        maximum=20,
    )
    make_rating_a: Numbers = quantity(
        "current that the contact may close on", minimum=1e-3, default=ABSENT
    )
    rated_v: Numbers = quantity(
        "DC voltage that the contact is rated for; one of 6, 12 or 24 V is fit for the customary "
        "voltages of such a system",
        minimum=1.0,
        default=ABSENT,
    )
    load_kind: Texts = choice("kind of load, for its inrush", tuple(inrush()), default=ABSENT)
    inrush_current_a: Numbers = quantity(
        "first current of the load, measured or from its maker", default=ABSENT
    )
    contact_resistance_ohm: Numbers = quantity("of the closed contact", maximum=1e3, default=ABSENT)
    minimum_current_a: Numbers = quantity(
        "smallest current that keeps the contact material clean", default=ABSENT
    )

    def broken_rules(self) -> Iterator[Broken]:
        """The curve falls, from any ends of the rating on."""
        ambient, current = high_end(self.rating_ambient_c), low_end(self.rating_a)
        for place, point in enumerate(self.derating):
            yield (
                point.ambient_c <= ambient,
                ("derating", place, "ambient_c"),
                "This must be above the temperature of the point before.",
            )
            yield (
                point.current_a > current,
                ("derating", place, "current_a"),
                "This must not exceed the current of the point before.",
            )
            here = given(point.ambient_c)
            ambient = pick(here, point.ambient_c, ambient)
            current = pick(here, point.current_a, current)
