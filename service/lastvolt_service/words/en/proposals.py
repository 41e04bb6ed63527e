"""What is said of a proposed relay, of its feed and of where it goes."""

from lastvolt_service.words.catalogue import CheckWords, When
from lastvolt_service.words.en.to_measure import TO_MEASURE

OF_PROPOSALS = {
    "switch_in_charge": CheckWords(
        name="switches stay in charge",
        passes="",
        marginal="With {part} open the proposed feed is still live: if {part} is to cut the "
        "battery off, take it from behind {part}.",
        fails=(
            When(
                "detail",
                "runs_on",
                "With {part} open the proposed relay still closes or its load still runs: feed "
                "the coil so that {part} rules it.",
            ),
            When(
                "detail",
                "not_spared",
                "The proposed feed begins behind {part} and loads what it should relieve: take it "
                "from before {part}.",
            ),
            When(
                "detail",
                "isolator",
                "With {part} open the proposed feed is still live: take it from behind {part}.",
            ),
        ),
    ),
    "feed_fuse": CheckWords(
        name="fuse at the start of the feed",
        passes="{part} stands within {value} of unfused wire, {limit} at most.",
        fails=(
            "{part} stands behind {value} of wire that no fuse protects, {limit} at most: fit it "
            "where the feed begins.",
            When(
                "value",
                None,
                "The feed is to have no fuse: a chafed wire ends in a fire. Fit one where it "
                "begins.",
            ),
        ),
        unknown="Nothing is said of a fuse in the feed. Give its rating, and what lies before it.",
    ),
    "turns_both_ways": CheckWords(
        name="direction of the motor",
        passes="",
        fails="{part} turns both ways: a plain relay turns it one way and leaves the other without "
        "its ground. It takes two changeover relays: to each terminal of the motor 30 of one, the "
        "fused feed to 87 of both, ground to 87a of both, each coil from the old wire of its "
        "direction to ground; a winch takes a set that reverses it. A sheet shows one relay only: "
        "go by this, or for a set by its maker's diagram. If it turns one way only, leave "
        "one_for_each out.",
    ),
    "start": CheckWords(
        name="a whole start",
        passes="",
        fails=(
            When(
                "detail",
                "relay",
                "{part} lets go while the starter draws and {value} are left at the posts of the "
                "battery: it would chatter. Take one that lets go lower, or see first to what the "
                "battery and the heavy cables take.",
            ),
            When(
                "detail",
                "plunger",
                "{part} goes home and lets go again while the starter draws and {value} are left "
                "at the posts of the battery: it would buzz. See to the battery, the heavy cables "
                "and the solenoid.",
            ),
            When(
                "detail",
                "pulls_in",
                "{part} does not go home as the key is turned, with {value} at the posts of the "
                "battery.",
            ),
        ),
    ),
    "rating_given": CheckWords(
        name="rating of a new part",
        passes="",
        unknown="The rating of {part} is not known. Give rating_a: it decides what {part} may "
        "carry.",
    ),
    "wire_judged": CheckWords(
        name="heat of a new wire",
        passes="",
        unknown=(
            When(
                "detail",
                "no_fuse",
                "Whether a fuse protects {part} is not known. Put one with its rating in the feed.",
            ),
            When(
                "detail",
                None,
                "Whether {part} bears its current is not known. Give it as a wire with size, "
                "length and insulation.",
            ),
            When(
                "detail",
                "insulation",
                "The insulation of {part} is not known, and with it what {part} may carry. Give "
                "insulation, as it is printed on it or on its reel.",
            ),
            When(
                "part",
                None,
                "No wire of the feed is given. Give size, length and insulation of each.",
            ),
        ),
    ),
    "advice": TO_MEASURE,
    "by_design": CheckWords(
        name="resistor that the relay goes round",
        passes="",
        unknown="{part} takes {value} from the load, and the relay goes round it. Find out whether "
        "it is there by design, as the ballast of an ignition coil is: then leave it.",
    ),
}
