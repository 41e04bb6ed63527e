"""What is said of sources."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, When

BATTERY_VOLTAGE = OperationWords(
    headline=(
        When(
            "may_be_frozen",
            True,
            (
                When("flat", True, "The battery is flat, and so cold that it may be frozen:"),
                When("flat", False, "The battery may be frozen:"),
                "neither charge it nor jump-start it, warm it up first.",
            ),
        ),
        When(
            "may_be_frozen",
            False,
            (
                When(
                    "too_hot",
                    True,
                    "Do not charge it so hot: let the battery cool, and find what heats it.",
                ),
                When(
                    "flat",
                    True,
                    (
                        "The battery is flat.",
                        When("too_hot", False, "Charge it first."),
                        When("too_hot", True, "Charge it when it is cold."),
                    ),
                ),
                When(
                    "terminal_v",
                    None,
                    "What the posts keep is not known so cold: give a measured "
                    "internal_resistance_ohm.",
                ),
                When(
                    "internal_resistance_estimated",
                    True,
                    (
                        "By its charge and age, the posts keep between {terminal_low_v:down} and "
                        "{terminal_high_v:up} at {current_a}, charged to "
                        "{state_of_charge_percent}, at {temperature_c}.",
                        When(
                            "state_of_charge_percent",
                            None,
                            "By its age, the posts keep between {terminal_low_v:down} and "
                            "{terminal_high_v:up} at {current_a}, if it is full, at "
                            "{temperature_c}.",
                        ),
                    ),
                ),
                When(
                    "internal_resistance_estimated",
                    False,
                    (
                        "The posts keep {terminal_v} at {current_a}, charged to "
                        "{state_of_charge_percent}, at {temperature_c}.",
                        When(
                            "state_of_charge_percent",
                            None,
                            "The posts keep {terminal_v} at {current_a}, if it is full, at "
                            "{temperature_c}.",
                        ),
                    ),
                ),
            ),
        ),
    ),
    about=(
        When("may_be_frozen", True, "freezing"),
        When("may_be_frozen", True, "charge"),
        When("too_hot", True, "battery_heat"),
        When("flat", True, "charge"),
    ),
    facts=(
        (
            When(
                "flat",
                False,
                (
                    When(
                        "internal_resistance_estimated",
                        True,
                        "A sound one keeps {terminal_v}.",
                    ),
                ),
            ),
            When(
                "internal_resistance_estimated",
                True,
                "It has {open_circuit_v} without load and {internal_resistance_ohm} inside, "
                "estimated from its rating.",
            ),
            When(
                "internal_resistance_estimated",
                False,
                "It has {open_circuit_v} without load and {internal_resistance_ohm} inside.",
            ),
        ),
    ),
    checks={
        "charge": CheckWords(
            name="state of charge",
            passes="It is charged to {value}: enough to judge it by.",
            unknown="Its charge is not given and taken as full: measure its voltage at rest.",
            marginal=(
                "It is charged to {value}.",
                When("may_be_frozen", False, "Charge it to three quarters before it is tested."),
            ),
            fails=(
                "Its charge is low, {value}.",
                When("may_be_frozen", True, "Charge it only when it is sure to have thawed."),
                When("may_be_frozen", False, "Charge it before anything else is looked at."),
            ),
        ),
        "sag": CheckWords(
            name="sag under the load",
            passes="The posts keep {value} at {current_a}; a load test asks a sound battery for "
            "{limit} at {load_test_a}.",
            marginal="As aged as it may be the posts keep {terminal_low_v:down} at {current_a}; "
            "a load test asks a sound battery for {limit} at {load_test_a}. The margin is small.",
            fails=(
                "The posts keep {value} at {current_a}, and a load test asks a sound battery for "
                "{limit} at {load_test_a}.",
                When(
                    "may_be_frozen",
                    False,
                    "Charge it, test it again, and replace it if it fails.",
                ),
            ),
            undecided="Its charge and age leave {terminal_low_v:down} to {terminal_high_v:up}, and "
            "a load test asks a sound battery for {limit}. Measure its internal resistance: the "
            "sag at a known current, over that current.",
            unknown=(
                When(
                    "limit",
                    None,
                    "Load tests draw half of the cold-cranking rating, {load_test_a}, and ask for "
                    "{load_test_v}: there is no published limit for {current_a}. It may keep as "
                    "little as {terminal_low_v:down}: hold that against what the load needs.",
                ),
                When("load_test_v", None, "No load test is published for {temperature_c}."),
                When(
                    "terminal_v",
                    None,
                    "Nor is cranking power: give a measured internal_resistance_ohm to know what "
                    "the posts keep.",
                ),
            ),
        ),
        "cranking_rating": CheckWords(
            name="current within the cold-cranking rating",
            passes="The load takes {value} of the {limit} that the battery is rated for in the "
            "cold.",
            fails="The load takes {value}, more than the {limit} that the battery is rated for in "
            "the cold: take a larger battery, or look for what makes the load so heavy.",
        ),
        "battery_resistance": CheckWords(
            name="resistance of the battery itself",
            passes="",
            fails="It has {value} inside, and one of its rating, flat and aged, {limit} at most: "
            "measure it again, and replace the battery if that is so.",
        ),
        "battery_heat": CheckWords(
            name="heat of the battery",
            passes="",
            marginal="It is at {value}: do not charge it above 50 °C. Let it cool, and find what "
            "heats it.",
            fails="It is at {value}, and from {limit} on a battery gasses and may run away: "
            "neither charge nor load it. Let it cool, keep sparks away, and find what heats it.",
        ),
        "freezing": CheckWords(
            name="freezing of the electrolyte",
            passes=(
                "At {state_of_charge_percent} charge the electrolyte freezes at {limit}.",
                When("state_of_charge_percent", None, "A flat one freezes at {limit}."),
            ),
            unknown="Its charge is not known, a flat one freezes at {limit}, and it is {value}: "
            "measure its voltage at rest before it is charged or jump-started.",
            fails="At {state_of_charge_percent} charge the electrolyte freezes at {limit}, and it "
            "is {value}: it may be frozen. Do not charge it or jump-start it; warm it up, then "
            "charge it.",
        ),
    },
)

WORDS = {"battery-voltage": BATTERY_VOLTAGE}
