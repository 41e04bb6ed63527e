"""What is said of conductors, and of paths in series."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Unless, Weigh, When

NOTHING_LEFT = (
    "its air leaves nothing to the insulation, so no size helps: take better insulation, or a "
    "cooler place."
)
# Even in the best of insulation and place.
OVERHEATS = (
    When(
        "detail",
        None,
        "{part} carries {value} and may carry {limit}, even alone in cool air and with insulation "
        "that bears most: take a larger size, and let no such current flow before.",
    ),
    When(
        "detail",
        "overdrawn",
        "{part} carries {value} and may carry {limit}, even alone in cool air and with insulation "
        "that bears most: switch it off, and find what draws so much.",
    ),
)
WIRE_RESISTANCE = OperationWords(
    headline=(
        When(
            "temperature_source",
            "given",
            "{length_m} of {size} have {resistance_ohm} at {temperature_c}.",
        ),
        When(
            "temperature_source",
            "assumed",
            "{length_m} of {size} have {resistance_ohm} at {temperature_c}, which is assumed.",
        ),
    ),
    facts=("That is {resistance_ohm_per_m}; {area_mm2} of metal, size by {standard}.",),
    checks={
        "wires_heat": CheckWords(
            name="heat of the wire",
            passes="",
            unknown="What current it may carry was not judged: ask wire-heating.",
        ),
    },
)

DROP_LIMIT_IS_FOR = (
    When(
        "limit_applies_to",
        "both_windings",
        "That limit is for both windings of the solenoid in, at 20 °C, the whole control circuit "
        "with its contacts.",
    ),
    When(
        "limit_applies_to",
        "cranking",
        "That limit is for both battery cables together while cranking, without other contacts: "
        "500 A at 6 V and 12 V, 250 A at 24 V.",
    ),
    When(
        "limit_applies_to",
        "load",
        "That limit is for the load's own current, out and back, contacts included.",
    ),
)
SUPPLY = CheckWords(
    name="voltage of the supply",
    passes="",
    fails="The supply itself has {value} and {limit} are needed at the load: no wire, contact or "
    "relay makes good what is not there. Charge the battery, or find what costs it that.",
)
_LOW = (
    "a sound one, warm and at half of its cold rating, keeps {limit}: it is cold, flat or too "
    "small, or much is drawn. Ask battery-voltage."
)
_FLAT = (
    "a battery that is not flat keeps {limit}. Charge the battery and test it; where its posts "
    "have more, take the path from there."
)
SUPPLY_OF_SOLENOID = CheckWords(
    name="voltage of the supply",
    passes="",
    marginal="The supply has {value}; " + _LOW,
    fails="The supply has {value}; " + _FLAT,
)
# A battery that cranks, or one that brings what is needed though it is flat.
_SUPPLY_OF_PATH = CheckWords(
    name="voltage of the supply",
    passes="",
    marginal=(
        When("needed_v", None, "The supply has {value} at {current_a}; " + _LOW),
        "The supply has {value} at {current_a}; {needed_v} are needed, but " + _FLAT,
    ),
    fails=(
        When("detail", "of_the_battery", "The supply has {value} at {current_a}; " + _FLAT),
        When("detail", None, SUPPLY.fails),
    ),
)
SOURCE_VOLTAGE = CheckWords(
    name="voltage of the source",
    passes="",
    marginal="{value} are no more than {limit}, the most for this system, and still gas a battery "
    "that is not cold, and wear lamps: measure what the regulator holds, warm.",
    fails="{value} are too much for this system, {limit} at most: stop charging and mend the "
    "regulator before anything else, for the battery boils and lamps burn out.",
)
NOMINAL_VOLTAGE = CheckWords(
    name="nominal voltage for this supply",
    passes="",
    fails=(
        Weigh(
            "value",
            "limit",
            enough="{value} are those of a larger system than nominal_v, {limit} at most: give the "
            "nominal voltage of this one, and join nothing that is made for less.",
            short="{value} are less than a battery of nominal_v keeps in any start, {limit}: give "
            "the nominal voltage of this system; if it is right, the battery is flat.",
        ),
    ),
)
LOAD_VOLTAGE = CheckWords(
    name="voltage at the load",
    passes="{value} arrive and {limit} are needed, {apart} to spare.",
    fails="Only {value} arrive and {limit} are needed, {apart} short.",
    unknown=(
        "{value} arrive where the part of the path that nobody measured drops nothing, and {limit} "
        "are needed: measure it.",
        When(
            "value",
            None,
            "What reaches the load is not known: the wire finds no steady temperature.",
        ),
        When(
            "limit",
            None,
            "{value} arrive. Whether that is enough was not judged: give needed_v.",
        ),
    ),
)

# Of a path that loses a little more than practice allows.
_MUCH_OF_IT = "The path drops {limit} of the {value} allowed. The margin is small."
_OVER_KNOWN = Weigh(
    "limit",
    "value",
    enough=_MUCH_OF_IT,
    short="The path drops {limit}, more than {value}: the {needed_v} that the load needs decide.",
)
_OVER_UNKNOWN = Weigh(
    "limit",
    "value",
    enough=_MUCH_OF_IT,
    short="The path drops {limit}, more than {value}, and what its load needs was not given: give "
    "needed_v to know whether that is too much.",
)

_LOSES = "{load_voltage_v} of {supply_v} reach the load at {current_a}; "
_PATH_LOSES = _LOSES + "the path loses {apart} and may lose {limit_drop_v}."
_HEADLINE = (
    When("limit_applies_to", None, _PATH_LOSES),
    When("limit_applies_to", "load", _PATH_LOSES),
    When("limit_applies_to", "both_windings", _PATH_LOSES),
    When(
        "limit_applies_to",
        "cranking",
        _LOSES + "the path loses {apart}, of which the cables lose {limited_drop_v} and may lose "
        "{limit_drop_v}.",
    ),
    "Of that {by_design_v} may be meant, as in {by_design}.",
)

_RELAY = (
    "a relay beside the load, fed from the heavy cable there through a fuse of its own at the tap, "
    "and through {length} for each wire: "
)

VOLTAGE_DROP = OperationWords(
    headline=_HEADLINE,
    short=_HEADLINE,
    weighs=("supply_v", "load_voltage_v"),
    facts=(
        "{worst_segment} loses most: {worst_drop_v}, {worst_share_percent} of it.",
        "Wires whose temperature is not given are assumed to be at {assumed_wire_c}: hot ones lose "
        "more.",
    ),
    told=("path_drop",),
    about=("path_drop",),
    checks={
        "path_drop": CheckWords(
            name="drop of the whole path",
            passes=("The path drops {value} of the {limit} allowed.", *DROP_LIMIT_IS_FOR),
            marginal=(
                When("needed_v", None, (_OVER_UNKNOWN,)),
                Unless("needed_v", None, (_OVER_KNOWN,)),
                *DROP_LIMIT_IS_FOR,
            ),
            undecided="The path drops {value}, more than {limit}: find out whether {by_design} is "
            "there by design, as a ballast is. Then leave it; else start there.",
            fails=(
                When(
                    "detail",
                    None,
                    "The path drops {value}, more than {limit}: {worst_segment} drops most, "
                    "{worst_drop_v} ({worst_share_percent} of all that is lost). Start there.",
                ),
                When(
                    "detail",
                    "by_design",
                    "The path drops {value} beside what may be there by design, more than {limit}. "
                    "Start with {begin_with}.",
                ),
                When(
                    "detail",
                    "poor_contacts",
                    "The path drops {value}, more than {limit}; with sound contacts it drops no "
                    "more than it may. Start with {begin_with}.",
                ),
                When(
                    "detail",
                    "overdrawn",
                    "The path drops {value}, more than {limit}, at a current that its fuse does "
                    "not hold: look for what draws so much before any part of the path.",
                ),
                *DROP_LIMIT_IS_FOR,
            ),
        ),
        "supply": _SUPPLY_OF_PATH,
        "source_voltage": SOURCE_VOLTAGE,
        "nominal_voltage": NOMINAL_VOLTAGE,
        "load_voltage": LOAD_VOLTAGE,
        "voltage_collapse": CheckWords(
            name="distance from voltage collapse",
            passes="The path can deliver {limit} and the load asks for {value}.",
            fails="The load asks for {value}, more than the {limit} that the path can deliver: "
            "lower its resistance.",
        ),
        "contact_drop": CheckWords(
            name="drop of a contact",
            passes="{part}: it drops {value}, as a sound one does.",
            marginal="{part}: it drops {value}, and a sound one at most {limit}: look at it "
            "again before long.",
            fails="{part}: it alone drops {value}, a sound one at most {limit}: clean, "
            "tighten or replace it.",
        ),
        "contact_heat": CheckWords(
            name="heat of a contact",
            passes="",
            fails="{part}: it makes {value} of heat, and {limit} burn what holds it: clean, "
            "tighten or replace it before it is used again.",
            undecided="{part}: it makes {value} of heat, and {limit} burn a relay that sits in a "
            "plastic socket: replace it before it is used again. One for 100 A and more, bolted "
            "down, bears that.",
        ),
        "contact_current": CheckWords(
            name="current through a contact",
            passes="{part} carries {value} of its {limit}.",
            marginal=(
                Weigh(
                    "limit",
                    "value",
                    enough="{part} carries {limit} of its {value}. The margin is small.",
                    short="{part} carries {limit} for a moment, and is rated {value} for hours: it "
                    "wears.",
                ),
            ),
            fails=(
                "{part} carries {value}, more than its {limit}:",
                When("detail", None, "take the load off it with a relay, or fit a larger part."),
                When("detail", "relay", "fit a larger one."),
            ),
            unknown="{part} carries {value}. Give rating_a to know whether it bears that.",
        ),
        "fuse_load": CheckWords(
            name="fuse carries its load",
            passes="{part}: it carries {value} and may carry {limit} for as long.",
            marginal=(
                Weigh(
                    "limit",
                    "value",
                    enough="{part}: it carries {limit} and may carry {value} for as long. The "
                    "margin is small.",
                    short="{part}: it carries {limit}, and practice allows {value} for as long: it "
                    "ages, and opens some day.",
                ),
            ),
            fails="{part}: it carries {value} and may carry {limit} for as long: it opens sooner "
            "or later. Look for what draws so much; a larger fuse only if the wire bears it, which "
            "fuse-selection tells.",
        ),
        "conductor_temperature": CheckWords(
            name="heat of a wire",
            passes="{part}: the conductor reaches {value}; its insulation bears {limit}.",
            fails=(
                When(
                    "detail",
                    None,
                    "{part}: the conductor reaches {value} and its insulation bears {limit}: take "
                    "a larger size, better insulation, a cooler place or fewer wires in the loom.",
                ),
                When(
                    "detail",
                    "nothing_left",
                    "{part}: the conductor reaches {value} and its insulation bears {limit}: "
                    + NOTHING_LEFT,
                ),
                When(
                    "detail",
                    "overdrawn",
                    "{part}: the conductor reaches {value} and its insulation bears {limit}: find "
                    "what draws so much; if the load is sound, take a larger size.",
                ),
                When(
                    "value",
                    None,
                    (
                        "{part}: it heats up without end at {current_a} (volts and ohms are those "
                        "of cold wires): find what draws so much; if the load is sound,",
                        When("detail", None, "take a larger size."),
                        When("detail", "overdrawn", "take a larger size."),
                        When("detail", "nothing_left", NOTHING_LEFT),
                    ),
                ),
            ),
            unknown="{part}: the conductor reaches {value}. Give insulation or insulation_limit_c "
            "to judge that.",
        ),
        "permissible_current": CheckWords(
            name="current that the wire may carry",
            passes="{part}: it carries {value} and may carry {limit} for as long.",
            fails=(
                "{part}: it carries {value} and may carry {limit} for as long, by the published "
                "table:",
                When(
                    "detail",
                    None,
                    "take a larger size, better insulation, a cooler place or fewer wires in the "
                    "loom.",
                ),
                When("detail", "nothing_left", NOTHING_LEFT),
                When(
                    "detail",
                    "overdrawn",
                    "find what draws so much; if the load is sound, take a larger size.",
                ),
            ),
        ),
        "fuse_protects_wire": CheckWords(
            name="fuse protects its wire",
            passes="",
            marginal="{detail} is a fuse of {value}, and {part} bears {limit} without limit of "
            "time: whether it opens in time tells fuse-selection.",
            fails="{detail} is a fuse of {value}, and {part} bears {limit} without limit of time: "
            "in a short the wire burns first. Take a smaller fuse or a larger wire; fuse-selection "
            "tells which.",
        ),
        "wires_heat": CheckWords(
            name="heat of the wires",
            passes="",
            fails=OVERHEATS,
            unknown="Whether {detail} can bear the current was not judged: give ambient_c and "
            "insulation in place of a temperature.",
        ),
    },
    remedies={
        "sound_contact": "a sound contact of {new:down} at {part}",
        "sound_contacts": "sound contacts at {parts}",
        "more_contacts": "sound contacts at {parts} and {more} more",
        "own_ground": "an own ground wire of {size}, {length}, in place of {part}",
        "size": "{new} for {part} in place of {now}",
        "insulation": "insulation {kind}, good for {new}, for {part}",
        "all_larger": "all wires larger by {steps} sizes, as far as there are any",
        "length_m": "{part} of {new:down} at most",
        "relay": f"{_RELAY}{{part}} and the long wires then feed its coil only",
        "relay_past_worn_switch": f"{_RELAY}{{part}} and the long wires then feed its coil only; "
        "{part} is worn and stays in the way of the coil: mend it, too",
    },
)

WORDS = {"wire-resistance": WIRE_RESISTANCE, "voltage-drop": VOLTAGE_DROP}
