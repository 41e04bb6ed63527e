"""What is said of fuses."""

from lastvolt_service.words.catalogue import CheckWords, OperationWords, Weigh, When

WIRE_REMEDIES = {
    "size": "{new} for the wire in place of {now}",
    "insulation": "insulation {kind}, good for {new}, for the wire",
    "alone": "the wire alone, out of the loom",
    "zone": "laid in the {place}, {new:down} at most",
    "ambient_c": "the wire where it is {new:down} at most",
}
_WINDOW = "the load asks for {lower_a:up} or more, the wire is protected up to {upper_a:down}."

FUSE_CHECKS = {
    "fuse_window": CheckWords(
        name="fuse window",
        passes="",
        fails=(
            Weigh(
                "value",
                "limit",
                enough="The load needs a fuse of {value:up} or more and the wire bears one of "
                "{limit:down} at most: take a larger wire, better insulation or a cooler place, or "
                "split the load.",
                short="No standard rating lies between {value} and {limit}: take the next larger "
                "wire, or another family of fuses.",
            ),
        ),
    ),
    "fuse_carries_load": CheckWords(
        name="fuse carries the load",
        passes="The load needs a fuse of {limit:up} or more.",
    ),
    "fuse_protects_wire": CheckWords(
        name="fuse protects the wire",
        passes="The fuse holds {value} at most for ever and the wire bears {limit}.",
    ),
    "inrush": CheckWords(
        name="inrush", passes="", unknown="Give inrush_current_a to be sure of it."
    ),
}

FUSE_SELECTION = OperationWords(
    headline=(
        "A fuse of {fuse_rating_a} ({fuse_family}) carries {load_current_a} and protects the wire: "
        + _WINDOW,
        When("fuse_rating_a", None, "No standard rating fits: " + _WINDOW),
    ),
    facts=("The wire may carry {permissible_current_a:down} at {ambient_c}.",),
    told=("fuse_carries_load", "fuse_protects_wire"),
    checks=FUSE_CHECKS,
    remedies={
        **WIRE_REMEDIES,
        "permissible_current_a": "a wire that bears {new:up}",
        "any_family": "a fuse of any family",
        "fuse_ambient_c": "the fuse where it is {new:down} at most",
        "load_current_a": "a load of {new:down} at most on this fuse, the rest on another",
    },
)

WORDS = {"fuse-selection": FUSE_SELECTION}
