"""A solenoid: the voltage that moves its plunger when hot, and what may stand in the way."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Annotated

from lastvolt_service import tables
from lastvolt_service.errors import ConflictingFields
from lastvolt_service.operations.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Result,
    merge,
    show,
    spoken,
    unknown,
)
from lastvolt_service.operations.solved import (
    UNKNOWN,
    Fault,
    Judged,
    Solved,
    reaches,
    refuse,
)
from lastvolt_service.physics import solenoid as physics
from lastvolt_service.physics.conductors import temperature_at_ratio
from lastvolt_service.physics.path import resistive_load_current
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, one_row, optional, pick, plain
from lastvolt_service.tables.materials import material

SCALING = tables.citation("solenoids", "scaling")
CAUTIONS = (STARTER, SHORT_CIRCUIT, HOT_SURFACE, DEFERENCE)
Description = Mapping[str, Numbers] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SolenoidPullIn(Result):
    """Answer of ``solenoid-pull-in``."""

    pull_in_v: Annotated[float, "voltage at the terminal that moves the plunger"]
    pull_in_current_a: Annotated[
        float | None, "current at which it moves, the same at any temperature"
    ]
    resistance_ohm: Annotated[
        float | None, "between terminal and ground before it closes, at temperature_c"
    ]
    available_v: Annotated[float, "voltage that reaches the terminal with its current flowing"]
    margin_v: Annotated[float, "available_v over pull_in_v"]
    hold_in_v: Annotated[
        float | None, "voltage that keeps it closed, with the pull-in winding shorted out"
    ]
    hold_margin_v: Annotated[float | None, "dip_v over hold_in_v"]
    maximum_path_resistance_ohm: Annotated[
        float | None,
        "largest path resistance from supply_v at which it still pulls in (beyond available_v, if "
        "that was given); null where none is small enough or the resistance is not known",
    ]
    maximum_temperature_c: Annotated[
        float | None,
        "highest winding temperature at which it still pulls in; null where there is none",
    ]


@dataclass(frozen=True, slots=True)
class Solenoid:
    """Any of the three descriptions, reduced to what answers need, at its reference.

    Attributes
    ----------
    pull_in_v, hold_in_v : float or ndarray
        Voltages at the terminal; NaN where not known, as all of these. [V]
    resistance_ohm, hold_resistance_ohm : float or ndarray
        Between terminal and ground, before and after it has closed. [ohm]
    reference_c : float or ndarray
        Temperature of all of these. [degC]
    """

    pull_in_v: Numbers
    hold_in_v: Numbers
    resistance_ohm: Numbers
    hold_resistance_ohm: Numbers
    reference_c: Numbers


def solenoid_pull_in(
    *,
    temperature_c: float,
    rated: Mapping[str, float] | None = None,
    windings: Mapping[str, float] | None = None,
    plunger: Mapping[str, float] | None = None,
    available_v: float | None = None,
    supply_v: float | None = None,
    path_resistance_ohm: float | None = None,
    dip_v: float | None = None,
) -> SolenoidPullIn:
    """Whether a solenoid pulls in, hot, with what reaches it.

    The plunger moves at a number of ampere-turns, so the voltage it needs grows with the
    resistance of its copper. A starter solenoid's pull-in winding returns through the motor and
    is shorted once the main contacts close; from then on only the hold-in winding holds. All
    resistances of the solenoid, the motor's included, are taken to warm alike.

    Returns
    -------
    SolenoidPullIn

    Raises
    ------
    ConflictingFields
        If a path is given for a solenoid of unknown resistance.
    """
    solved = solve(
        solenoid=describe(rated, windings, plunger),
        temperature_c=temperature_c,
        available_v=optional(available_v),
        supply_v=optional(supply_v),
        path_resistance_ohm=optional(path_resistance_ohm),
        dip_v=optional(dip_v),
    )
    refuse(solved.faults)
    found = one_row(solved.columns)
    pull_in, hold = solved.checks.items()
    return SolenoidPullIn(
        **found,
        checks=(
            _pull_in_check(
                *pull_in,
                temperature_c,
                found["maximum_path_resistance_ohm"],
                found["maximum_temperature_c"],
            ),
            _hold_check(*hold),
        ),
        basis=(SCALING, *described_by(rated, windings, plunger), material("copper").citation),
        cautions=CAUTIONS,
    )


def describe(rated: Description, windings: Description, plunger: Description) -> Solenoid:
    """Reduce one of the three descriptions; in columns, each row's own.

    Parameters
    ----------
    rated, windings, plunger : mapping or None
        As in requests; exactly one is given, of which the others are NaN in columns.

    Returns
    -------
    Solenoid
    """
    found = [
        *((_from_rating(rated),) if rated is not None else ()),
        *((_from_windings(windings),) if windings is not None else ()),
        *((_from_plunger(plunger),) if plunger is not None else ()),
    ]
    one = Solenoid(*[NOT_GIVEN] * len(fields(Solenoid)))
    for other in found:
        here = given(other.pull_in_v)
        names = [field.name for field in fields(Solenoid)]
        one = Solenoid(*(pick(here, getattr(other, name), getattr(one, name)) for name in names))
    return one


def described_by(
    rated: Description, windings: Description, plunger: Description
) -> tuple[str, ...]:
    """Say what a description rests on; parameters as in `describe`.

    Returns
    -------
    tuple of str
    """
    return merge(
        ("pull-in voltage given by the caller",) if rated is not None else (),
        (tables.citation("solenoids", "two_windings"),) if windings is not None else (),
        (tables.citation("solenoids", "force"),) if plunger is not None else (),
    )


def _from_rating(rated: Mapping[str, Numbers]) -> Solenoid:
    ohm = rated.get("resistance_ohm", NOT_GIVEN)
    hold = rated.get("hold_in_v", NOT_GIVEN)
    return Solenoid(rated["pull_in_v"], hold, ohm, ohm, rated["reference_temperature_c"])


def _from_windings(windings: Mapping[str, Numbers]) -> Solenoid:
    ohms = {
        name: windings[name]
        for name in ("pull_in_resistance_ohm", "motor_resistance_ohm", "hold_in_resistance_ohm")
    }
    pull_in = physics.two_winding_pull_in(
        ampere_turns=windings["ampere_turns"],
        pull_in_turns=windings["pull_in_turns"],
        hold_in_turns=windings["hold_in_turns"],
        **ohms,
    )
    hold_ohm = windings["hold_in_resistance_ohm"]
    hold = windings.get("hold_ampere_turns", NOT_GIVEN) * (hold_ohm / windings["hold_in_turns"])
    ohm = physics.two_winding_resistance(**ohms)
    return Solenoid(pull_in, hold, ohm, hold_ohm, windings["reference_temperature_c"])


def _from_plunger(plunger: Mapping[str, Numbers]) -> Solenoid:
    ohm = plunger["resistance_ohm"]

    def volts(force_n: Numbers, gap_mm: Numbers) -> Numbers:
        ampere_turns: Numbers = plain(
            physics.ampere_turns_for_force(
                force_n=force_n, gap_mm=gap_mm, area_mm2=plunger["area_mm2"]
            )
        )
        return ampere_turns / plunger["turns"] * ohm

    hold = volts(plunger.get("hold_force_n", NOT_GIVEN), plunger.get("hold_gap_mm", NOT_GIVEN))
    return Solenoid(
        volts(plunger["force_n"], plunger["gap_mm"]),
        hold,
        ohm,
        ohm,
        plunger["reference_temperature_c"],
    )


def solve(
    *,
    solenoid: Solenoid,
    temperature_c: Numbers,
    available_v: Numbers,
    supply_v: Numbers,
    path_resistance_ohm: Numbers,
    dip_v: Numbers,
) -> Solved:
    """Work out one solenoid or many; parameters as in requests, NaN where not given.

    Parameters
    ----------
    solenoid : Solenoid
        As `describe` gives it.

    Returns
    -------
    Solved
    """
    change = copper_changes(temperature_c, solenoid.reference_c)
    needed, hold = solenoid.pull_in_v * change, solenoid.hold_in_v * change
    ohm = solenoid.resistance_ohm * change
    # Ampere-turns are constant and all copper warms alike, so this current is constant too.
    current = solenoid.pull_in_v / solenoid.resistance_ohm
    by_path = given(supply_v)
    source_v = pick(by_path, supply_v, available_v)
    path_ohm = pick(by_path, path_resistance_ohm, 0.0)
    flowing = resistive_load_current(
        supply_v=source_v, path_resistance_ohm=path_ohm, load_resistance_ohm=ohm
    )
    arrives = pick(path_ohm > 0, ohm * flowing, source_v)
    spare = physics.path_resistance_to_spare(
        supply_v=source_v, pull_in_current_a=current, winding_resistance_ohm=ohm
    )
    return Solved(
        {
            "pull_in_v": needed,
            "pull_in_current_a": current,
            "resistance_ohm": ohm,
            "available_v": arrives,
            "margin_v": arrives - needed,
            "hold_in_v": hold,
            "hold_margin_v": dip_v - hold,
            "maximum_path_resistance_ohm": pick(spare >= 0, spare, NOT_GIVEN),
            "maximum_temperature_c": _hottest(source_v, path_ohm, current, solenoid),
        },
        {"pull-in": reaches(arrives, needed), "hold-in": reaches(dip_v, hold)},
        (
            Fault(
                by_path > given(ohm),
                ConflictingFields,
                ("rated", "resistance_ohm"),
                lambda: (
                    "A path needs the solenoid's resistance_ohm to know its current; give "
                    "it, or give available_v in place of supply_v."
                ),
            ),
        ),
    )


def _hottest(source_v: Numbers, path_ohm: Numbers, current: Numbers, solenoid: Solenoid) -> Numbers:
    """Highest temperature at which it still pulls in; NaN where there is none. [degC]."""
    through_path = physics.winding_ratio_to_spare(
        supply_v=source_v,
        pull_in_current_a=current,
        path_resistance_ohm=path_ohm,
        winding_resistance_ohm=solenoid.resistance_ohm,
    )
    ratio = pick(given(solenoid.resistance_ohm), through_path, source_v / solenoid.pull_in_v)
    hottest = temperature_at_ratio(
        ratio=ratio * copper_changes(solenoid.reference_c, 20.0),
        temperature_coefficient_per_k=copper_coefficient_per_k(),
    )
    found: Numbers = pick(ratio > 0, hottest, NOT_GIVEN)
    return found


def _pull_in_check(
    name: str,
    judged: Judged,
    temperature_c: float,
    spare_ohm: float | None,
    hottest: float | None,
) -> Check:
    arrives, needed = show(judged.value, "V"), show(judged.limit, "V")
    at = f"with its windings at {show(temperature_c, 'degC')}"
    path = "" if spare_ohm is None else f" The path may have up to {show(spare_ohm, 'ohm')}."
    heat = (
        "" if hottest is None else f" It would pull in with windings up to {show(hottest, 'degC')}."
    )
    return spoken(
        name,
        judged,
        "V",
        SCALING,
        {
            "pass": f"The solenoid pulls in {at}: {arrives} arrives and it needs {needed}."
            f"{path}{heat}",
            "fail": f"The solenoid will not pull in {at}: it needs {needed} and only {arrives} "
            f"arrives.{path}{heat} Lower the path's resistance.",
        },
    )


def _hold_check(name: str, judged: Judged) -> Check:
    if judged.verdict == UNKNOWN:
        return unknown(
            name, "V", SCALING, "Give dip_v and what keeps the plunger closed to judge holding."
        )
    limit = show(judged.limit, "V")
    return spoken(
        name,
        judged,
        "V",
        SCALING,
        {
            "pass": f"Once closed it holds down to {limit}; the dip stays above it.",
            "fail": f"Once closed it needs {limit} to hold and the dip reaches "
            f"{show(judged.value, 'V')}: it will let go and chatter.",
        },
    )
