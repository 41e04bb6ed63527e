"""Remedies for fuses that fit nothing."""

from lastvolt_service.operations.fuse_selection import FuseSelection
from lastvolt_service.operations.remedies.options import (
    MOST_SIZES,
    better_insulation,
    cooler_ambient,
    cooler_places,
    next_sizes,
)
from lastvolt_service.operations.remedies.trials import Arguments, Put, Trials
from lastvolt_service.operations.results import show

LEAST_AMBIENT_C = 20.0
FUSE_PLACE_C = 25.0


def _cooler(arguments: Arguments, trials: Trials) -> None:
    if arguments["grouped_conductors"] > 1:
        trials.offer("the wire alone, out of the loom", (Put(("grouped_conductors",), 1),))
    if not trials.first_that_cures(cooler_places(arguments), most=3):
        cooler_ambient(trials, arguments, "the wire", LEAST_AMBIENT_C)


def mend_fuse(arguments: Arguments, answer: FuseSelection, trials: Trials) -> None:
    """Look for remedies of ``fuse-selection``."""
    if arguments.get("size") is not None:
        trials.first_that_cures(next_sizes(arguments, (), "the wire"), most=MOST_SIZES)
        trials.first_that_cures(better_insulation(arguments, (), "the wire"), most=3)
        _cooler(arguments, trials)
    else:
        now = answer.permissible_current_a
        trials.just_passing(
            lambda value: f"a wire that bears {show(value, 'A')}",
            lambda value: (Put(("permissible_current_a",), value),),
            now,
            float(f"{max(4.0 * now, 2.0 * answer.lower_a):.3g}"),
        )
    if arguments.get("fuse_family") is not None:
        trials.offer("a fuse of any family", (Put(("fuse_family",), None),))
    if answer.fuse_ambient_c > FUSE_PLACE_C:
        puts = (Put(("fuse_ambient_c",), FUSE_PLACE_C),)
        trials.offer(f"the fuse where it is {FUSE_PLACE_C:g} degC at most", puts)
    trials.just_passing(
        lambda value: f"a load of {show(value, 'A')} at most on this fuse, the rest on another",
        lambda value: (Put(("load_current_a",), value),),
        arguments["load_current_a"],
        float(f"{arguments['load_current_a'] * 0.1:.3g}"),
    )
