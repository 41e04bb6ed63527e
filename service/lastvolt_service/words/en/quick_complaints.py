"""What is looked at first where a load comes and goes, a fuse blows or a part gets hot."""

_CHAFED = (
    "if it blows again, a wire on the way is chafed, or what else that fuse feeds is shorted; if "
    "it holds,"
)
_LOOSE = "see whether the fuse sits loose in its holder"
# A winch that pulls nothing takes a third of its most, or less.
_MORE, _MORE_UNLOADED = "clearly more than", "more than half of"
_NO_CURE = " Volts tell little of that, and no relay cures it."


def _blows(off: str, on: str, fault: str, more: str = _MORE) -> str:
    """Try a fuse without its load, then with it; all loads but a starter's, whose plunger moves."""
    return (
        f"Fit no larger fuse. {off}, fit a new fuse of the rating that belongs there and switch "
        f"on: {_CHAFED} {on} and read the current there with a DC clamp meter: {more} "
        f"{{most_a:up}} puts the fault in {{part}}: {fault}. With less {_LOOSE}, and shake the "
        f"harness: a wire may touch at times only.{_NO_CURE}"
    )


def _is_hot(off: str, why: str, read: str, fault: str, more: str = _MORE) -> str:
    """Replace what melted, then read what flows."""
    return (
        f"{off} What gets hot or has melted has a bad contact, or carries more than it bears{why}. "
        "With the battery's ground cable off, replace it with the terminals on it, on bright "
        "copper, and see that the fuse is no larger than the wire bears. Then "
        f"{read} with a DC clamp meter: {more} {{most_a:up}} puts the fault in "
        f"{{part}}{fault}."
    )


_UNPLUG, _PLUG_IN = "Unplug {part}", "plug {part} in again"
_OFF, _CURRENT = "Leave {part} off.", "read the current of {part}"
_LOOSE_OR_WORN = "What comes and goes is loose, broken or worn as a rule, seldom too thin."
COMPLAINTS = {
    "comes_and_goes": f"{_LOOSE_OR_WORN} Keep hands off what turns or winds, and shake nothing in "
    "fuel vapour. With {part} on, shake and press the fuse, the switch, each plug, each ground and "
    "the wires between, one after the other: where it flickers, stops or comes back, that is it. "
    "With the battery's ground cable off, clean, tighten or replace it. "
    "If nothing shows, clip a meter on volts to {part} and read it while it fails: about what the "
    "battery holds puts the fault in {part} itself, less puts it on the way.",
    "starter_comes_and_goes": f"{_LOOSE_OR_WORN} If it clatters, charge the battery and have it "
    "tested. If it clicks once and does not turn, see to the heavy cables, their clamps and the "
    "strap, then to the main contact and the brushes of the starter. If nothing is heard, hold the "
    "key and read while it fails, from terminal 50 of {part}, the small one, to its bare metal "
    "housing: about what the battery holds puts the fault in {part} itself, less puts it on the "
    "way: key switch, switch at the gearbox or clutch, plugs, grounds. It may turn at any moment.",
    "starter_is_cold": "With sound wiring the cold itself is the likelier cause. First charge the "
    "battery and have it tested: it gives least in frost, and what it loses cranking is not seen "
    "at rest. See that the oil is of the grade for such cold. Clean and tighten the clamps, the "
    "main cables and the strap from engine to body, with the battery's ground cable off. Have the "
    "draw of the starter tested: one that drags takes more than its fellows. Only if it still "
    "does not pull in, read:",
    "hot_switch_stays": "If what got hot is {switch}, which cannot be had, it must carry no more "
    "than the coil that comes next, until another is found.",
    "fuse_blows": _blows(_UNPLUG, _PLUG_IN, "shorted or, if it turns, stiff"),
    "motor_blows_fuse": _blows(_UNPLUG, _PLUG_IN, "stiff, or a winding is shorted"),
    "lamps_blow_fuse": _blows(
        _UNPLUG, _PLUG_IN, "a bulb of more watts than belong there, or a shorted holder"
    ),
    "glow_plugs_blow_fuse": _blows(
        "With the battery's ground cable off take the feed off {part} and insulate its end; "
        "ground cable on again",
        "put the feed on again",
        "one is shorted, and has far fewer ohms than the others, each read by itself",
    ),
    "winch_blows_fuse": _blows(
        "With the battery's ground cable off take the cables off the motor of {part} and insulate "
        "their ends; ground cable on again",
        "put them on again, without a load on the rope,",
        "its brake or gear is stiff, or a winding shorted",
        _MORE_UNLOADED,
    ),
    "starter_fuse_blows": "Fit no larger fuse. With the battery's ground cable off, take the "
    "small wire off terminal 50 of {part} and insulate its end. Ground cable on again, fit a "
    f"new fuse of the rating that belongs there and hold the key to start: {_CHAFED} {_LOOSE}, "
    "then have {part} tested: its plunger sticks, or a winding is shorted."
    f"{_NO_CURE}",
    "part_gets_hot": _is_hot(_OFF, "", _CURRENT, " itself"),
    "glow_plugs_get_hot": _is_hot(
        _OFF,
        ", or glows for too long: see that it goes off once the engine runs",
        _CURRENT,
        ": one is shorted, and has far fewer ohms than the others, each read by itself",
    ),
    "winch_gets_hot": _is_hot(
        _OFF,
        ", or for too long: after minutes of pulling a winch cools as long",
        "without a load on the rope read the current of {part}",
        ": its brake or gear is stiff",
        _MORE_UNLOADED,
    ),
    "starter_gets_hot": _is_hot(
        "Do not start with it.",
        "",
        "take the heavy cable off the starter as well, insulated, so that it does not turn; ground "
        "cable on again, hold the key to start for moments and read the current of the small wire",
        " itself",
    ),
}
