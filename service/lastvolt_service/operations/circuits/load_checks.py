"""What the loads of a circuit get, held against what they need and what they are made for."""

from collections.abc import Collection, Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import Any

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.burnt import burnt
from lastvolt_service.operations.circuits.contact_checks import stands
from lastvolt_service.operations.circuits.drawn_past import drawn_past
from lastvolt_service.operations.circuits.load_way import NOTHING_A, Carries, Currents
from lastvolt_service.operations.circuits.loads import LampLoad, MotorLoad, SolenoidLoad
from lastvolt_service.operations.circuits.lost_ways import (
    left_dark,
    loose_end,
    lost_joint,
    resists,
    shunted,
    wire_drop,
)
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.circuits.off_by_design import off_by_design
from lastvolt_service.operations.circuits.parts import Branch
from lastvolt_service.operations.circuits.series import ALIKE_SHARE, Fed, at_fault, beside
from lastvolt_service.operations.fuses.profile import CRANKING, STARTER_MOTOR
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL_SHARE,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    flatly,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.solenoids.descriptions import describe, judge_made_for
from lastvolt_service.operations.solenoids.fault import OPEN_PULL_IN_TIMES
from lastvolt_service.operations.wires.drop_limits import (
    BOTH_WINDINGS,
    BY_DESIGN_V,
    NO_WIRE_OHM,
    judge_path,
)
from lastvolt_service.rows import NOT_GIVEN, optional
from lastvolt_service.tables.limits import PathLimit, drop_limits
from lastvolt_service.tables.short_circuit import CELL_NOMINAL_V, FULL_CELL_V

GIVEN = Given("given by the caller")
# Of all that a source has above what a load needs: more than that to spare is not little.
# Common practice.
SPARE_SHARE = 0.5
# Ends of a cable; other contacts lie between cables.
JOINTS = frozenset({"terminal", "ground"})
# A lamp lives a few hours at more than this of the voltage that is stamped on it, and one of a
# higher system only glows. Common practice.
MOST_LAMP_SHARE = 1.3
HIGHER_SYSTEM = 1.5
# Fields of a load that tell whether what arrives is enough.
NEED, NO_CIRCUIT = "needed_v", "circuit"
# A battery of the one that is flat, or has dead cells, reads as one of the other.
LOWEST_NOMINAL_V, NEXT_NOMINAL_V = 6, 12
# No load hangs behind so much; a lit switch has some hundred. [ohm]. Common practice.
LEAST_PILOT_OHM = 50.0
# Of what a starter's motor takes at a stand, what it takes as it turns. Common practice.
TURNS_SHARE = 1 / 3


def load_checks(
    state: State,
    metal: Metal,
    nominal: int,
    off: AbstractSet[str] = frozenset(),
    joints_out: Sequence[Branch] = (),
    *,
    is_partial: bool,
) -> Iterator[Checked]:
    """Judge every load: what arrives, what is lost on the way, and whether it is for this system.

    Parameters
    ----------
    state, metal : State, Metal
        A circuit at rest, and what its metal joins.
    nominal : int
        Nominal voltage of the system. [V]
    off : set of str
        Relays whose switch the case leaves out.
    joints_out : sequence of Branch
        Joints that it leaves out, which no switch makes or breaks.
    is_partial : bool
        Whether the case leaves parts out: a load that then has no way to both posts is off.
    """
    by_design = off_by_design(state, metal, joints_out)
    at_rest, is_open = _meant_open(state, off) | _pilots(state), state.open_contacts
    currents, of_rows, starved = Currents(state), dict[str, Checked](), list[Part]()
    now = metal.sides(is_open) if state.model.parts["motors"] else metal.all_sides
    switched_on = metal.sides(at_rest) if is_partial else metal.all_sides
    for part, across_v, current_a in state.carrying(*LOAD_GROUPS):
        if not part.is_load:
            continue
        if part.name in by_design:
            yield by_design[part.name]
            continue
        # What a motor makes itself does not arrive.
        unfed = part.kind == "motor" and not now.feed(part)
        voltage = 0.0 if unfed else abs(across_v)
        loose = loose_end(state, metal, part, voltage)
        # Over a sender, which is a resistance as a pilot lamp is, a gauge has what it needs.
        works = part.needed_v is not None and voltage >= part.needed_v > 0.0
        if loose is None and is_partial and not (works or switched_on.feed(part)):
            off_now = Checked("load_off", flatly(PASS, voltage), "V", GIVEN, part=part.name)
            is_burnt = burnt(state, currents, part, voltage)
            is_burnt = is_burnt if is_burnt and is_burnt.verdict == "undecided" else None
            yield left_dark(state, metal, part) or is_burnt or off_now
            continue
        if loose is not None:
            of_rows.setdefault(loose[0], lost_joint(part, *loose, voltage))
        if part.name in state.unfed:
            yield from resists(state, metal, part)
            judged = flatly(FAIL)
            detail = state.unfed[part.name].detail
            yield Checked("operating_point", judged, "V", GIVEN, part=part.name, detail=detail)
            continue
        if not is_partial and abs(current_a) < NOTHING_A and not metal.all_sides.feed(part):
            judged = flatly(FAIL, voltage)
            yield Checked("not_joined", judged, "V", GIVEN, part=part.name)
            continue
        drive_v = state.model.drive_v
        yield from _made_for(state, part, voltage, nominal)
        if loose is None and stands(part) and abs(current_a) > NOTHING_A:
            judged = flatly(UNDECIDED, abs(current_a))
            yield Checked("motor_stands", judged, "A", COMMON_PRACTICE, part=part.name)
        if part.needed_v is not None:
            basis = SCALING if part.kind == "solenoid" else GIVEN
            judged = reaches(voltage, part.needed_v, _reserve_v(part.needed_v, drive_v, nominal))
            lost_in = None
            if judged.verdict == FAIL:
                row = beside(currents, part)
                lost_in = _starving(currents, part, row)
                of_rows |= _of_row([Fed.of(part, voltage), *row]) if loose is None else {}
                behind = row or (lost_in and currents.through(part))
                starved += [part] if behind and loose is None else []
            yield Checked("load_voltage", judged, "V", basis, part=part.name, detail=lost_in)
            if judged.verdict == FAIL and (thin := wire_drop(state, currents, part, voltage)):
                yield thin
        elif part.kind == "solenoid":
            judged = flatly(UNKNOWN, voltage)
            yield Checked("load_voltage", judged, "V", SCALING, part=part.name)
        if part.needed_v is None and loose is None:
            yield from filter(None, [burnt(state, currents, part, voltage)])
        asks: str | None = NO_CIRCUIT
        if part.asked.circuit is not None:
            drop = _path_drop(state, metal, currents, part, voltage, nominal)
            asks = drop.detail if drop.detail == NEED else None
            yield _at_a_stand(state, part, drop) or drop
        asks = asks if loose is None else None
        if part.needed_v is None and part.kind != "solenoid" and asks is not None:
            judged = flatly(UNKNOWN, voltage)
            yield Checked("load_voltage", judged, "V", GIVEN, part=part.name, detail=asks)
    past = [*drawn_past(state, currents, starved)] if starved else []
    yield from (each for each in of_rows.values() if not past or each.code != "in_series")
    yield from past
    yield from shunted(state, metal, currents)


def _of_row(row: list[Fed]) -> dict[str, Checked]:
    """Name the load that keeps those in series with it from their voltage."""
    found = at_fault(row)
    if found is None:
        return {}
    (part, across_v, _), how = found
    judged = flatly(FAIL, across_v)
    name = part.name
    return {name: Checked("in_series", judged, "V", COMMON_PRACTICE, part=name, detail=how)}


def _path_drop(
    state: State, metal: Metal, currents: Currents, load: Part, voltage: float, nominal: int
) -> Checked:
    """Judge what is lost on the way to a load, but for what a resistor there is meant to take."""
    limit = drop_limits()[load.asked.circuit, nominal]
    lost_v = _at_source_v(state, metal, load) - voltage
    if limit.applies_to == CRANKING:
        lost_v -= _between_cables_v(state, load)
    if lost_v > limit.limit_v:
        lost_v -= sum(each.across_v for each in beside(currents, load))
    # Nobody puts a resistor before a starter's motor.
    resistors = {} if limit.applies_to == CRANKING else _by_design(currents, load)
    lost_v -= sum(volts for volts, is_sure in resistors.values() if is_sure)
    rest_v = lost_v - sum(volts for volts, is_sure in resistors.values() if not is_sure)
    judged, detail = _judge_path(limit, load, lost_v), None
    if judged.verdict == FAIL and rest_v < lost_v:
        rest = _judge_path(limit, load, rest_v)
        if rest.verdict == FAIL:
            judged = rest
        else:
            judged = judged._replace(verdict=UNDECIDED)
            detail = max(resistors, key=lambda name: resistors[name][0])
    if detail is None and judged.margin < 0.0:
        most = costliest(currents, load, but=resistors)
        asks = judged.verdict != FAIL and load.needed_v is None
        detail = NEED if asks else most and most.part.name
    return Checked("path_drop", judged, "V", limit.citation, part=load.name, detail=detail)


def _at_a_stand(state: State, load: Part, drop: Checked) -> Checked | None:
    """Say that a starter's motor without back_v stands, where its way would do as it turns."""
    turns = load.kind != "motor" or load.asked.back_v != 0.0
    if turns or load.asked.circuit != STARTER_MOTOR or drop.judged.verdict != FAIL:
        return None
    if TURNS_SHARE * drop.judged.value > drop.judged.limit:
        return None
    judged = flatly(UNDECIDED, abs(state.current_a(load.name)))
    return Checked("motor_stands", judged, "A", COMMON_PRACTICE, part=load.name)


def _judge_path(limit: PathLimit, load: Part, lost_v: float) -> Judged:
    return judge_path(
        limit.limit_v,
        optional(load.needed_v),
        lost_v,
        is_for_both_windings=limit.applies_to == BOTH_WINDINGS,
        is_practice=True,
    )


def _by_design(currents: Currents, load: Part) -> dict[str, tuple[float, bool]]:
    """Resistances before a load that take much: how much, and whether that is sure to be meant."""
    return {
        each.part.name: (each.across_v, each.part.asked.resistance_ohm >= NO_WIRE_OHM)
        for each in currents.in_the_way(load)
        if each.part.kind == "resistance" and each.across_v >= BY_DESIGN_V
    }


def _starving(currents: Currents, load: Part, row: list[Fed]) -> str | None:
    """A resistance that takes most of what a load lacks: nobody knows whether it is meant."""
    most = costliest(currents, load)
    if most is None or most.part.kind != "resistance" or most.across_v < BY_DESIGN_V:
        return None
    if load.asked.circuit == STARTER_MOTOR:
        return None
    return most.part.name if most.across_v > sum(each.across_v for each in row) else None


def _reserve_v(needed_v: float, drive_v: float, nominal: int) -> float:
    """What a small margin is judged by: half of what the source can have to spare. [V].

    What charges brings more than a full battery has, and is no reason to want more.
    """
    full_v = nominal * FULL_CELL_V / CELL_NOMINAL_V
    usual_v = max(full_v - needed_v, MARGINAL_SHARE * needed_v)
    to_spare_v = max(min(drive_v - needed_v, usual_v), 0.0)
    return min(needed_v, to_spare_v * SPARE_SHARE / MARGINAL_SHARE)


def _pilots(state: State) -> frozenset[Part]:
    """Resistances that feed nothing but tell, as the lamp of a lit switch does."""
    return frozenset(
        part
        for part in state.model.parts["resistors"]
        if part.kind == "resistance"
        and not part.is_load
        and part.asked.resistance_ohm >= LEAST_PILOT_OHM
    )


def _meant_open(state: State, off: AbstractSet[str]) -> frozenset[Part]:
    """Contacts that are open and meant to be: their coil gets nothing, or is off."""
    model, solution = state.model, state.solution
    volts = state.flow("coils").drop_v.tolist()
    idle = [
        not on and (relay.name in off or abs(volt) < relay.drop_out_v)
        for relay, volt, on in zip(model.relays, volts, solution.energised.tolist(), strict=True)
    ]
    relays = model.network.contacts.relay.tolist()
    of_relays = zip(model.parts["contacts"], relays, strict=True)
    return state.open_contacts & {part for part, relay in of_relays if idle[relay]}


def _at_source_v(state: State, metal: Metal, load: Part) -> float:
    """Voltage at the posts that a load hangs on: the battery's where it does, or another's. [V]."""
    near = set(metal.near_sources(load))
    posts = [
        abs(drop_v) for part, drop_v, _ in state.carrying("sources", "chargers") if part in near
    ]
    own_v, own = float(state.flow("sources").drop_v[0]), state.model.parts["sources"][0]
    return own_v if own in near else max(posts, default=own_v)


def costliest(currents: Currents, load: Part, but: Collection[str] = ()) -> Carries | None:
    """The part that takes most of what is lost on the way to a load, of all but some."""
    on_it = [each for each in currents.leading(load) if each.part.name not in but]
    least_a = currents.least_a(load)
    carrying = [each for each in on_it if each.amps >= least_a]
    if not carrying:
        return None
    most = max(carrying, key=lambda each: each.across_v)
    # Of what lies side by side the contact is the cause, and the wire beside it carries for it.
    alike = [
        each
        for each in on_it
        if each.part.kind == "contact"
        and ALIKE_SHARE * most.across_v <= each.across_v <= most.across_v
    ]
    return max(alike, key=lambda each: each.across_v, default=most)


def _between_cables_v(state: State, load: Part) -> float:
    """What contacts between the cables of a load take, of which its limit does not speak. [V]."""
    least_a = ALIKE_SHARE * abs(state.current_a(load.name))
    return sum(
        abs(drop_v)
        for part, drop_v, current in state.carrying("resistors", "contacts")
        if abs(current) >= least_a
        and (part.kind == "relay" or (part.kind == "contact" and part.asked.part not in JOINTS))
    )


def _made_for(state: State, part: Part, voltage: float, nominal: int) -> Iterator[Checked]:
    """Judge whether a load that tells is made for this voltage."""
    asked: Any = part.asked
    drive_v = state.model.drive_v
    if part.needed_v is not None and part.needed_v > drive_v:
        judged = reaches(drive_v, part.needed_v)
        yield Checked("full_voltage", judged, "V", GIVEN, part=part.name, detail=part.kind)
    if isinstance(asked, SolenoidLoad):
        # What it is made for is told by its windings alone, whatever the motor's brushes are.
        windings = asked.windings and changed(asked.windings, motor_resistance_ohm=0.0)
        pull_in_v = float(describe(asked.rated, windings, asked.plunger).pull_in_v)
        two = asked.windings
        ohms = (
            float(two.pull_in_resistance_ohm if two else NOT_GIVEN),
            float(two.hold_in_resistance_ohm if two else NOT_GIVEN),
        )
        yield solenoid_made_for(pull_in_v, nominal, drive_v, part.name, ohms)
    elif isinstance(asked, MotorLoad) and drive_v < asked.back_v:
        judged = reaches(drive_v, asked.back_v)
        yield Checked("made_for", judged, "V", COMMON_PRACTICE, part=part.name, detail="motor")
    elif isinstance(asked, LampLoad):
        judged = stays_within(asked.rated_v, HIGHER_SYSTEM * nominal, 0.0)
        detail = "lamp_for_more"
        if judged.verdict != FAIL:
            judged = stays_within(abs(voltage), MOST_LAMP_SHARE * asked.rated_v, 0.0)
            detail = "lamp_for_less"
        yield Checked("made_for", judged, "V", COMMON_PRACTICE, part=part.name, detail=detail)


def solenoid_made_for(
    pull_in_v: float, nominal: int, drive_v: float, name: str, ohms: tuple[float, float]
) -> Checked:
    """Judge whether a solenoid that pulls in, cold, at a voltage is one for this system.

    `ohms` are those of the winding that pulls and of the one that holds; NaN of what there is not.
    """
    # What charges the battery may close it; a battery that is low closes no worse than a full one.
    judged, detail = stays_within(pull_in_v, max(nominal, drive_v), 0.0), "for_more"
    pull_in_ohm, hold_in_ohm = ohms
    if judged.verdict != FAIL:
        judged, detail = judge_made_for(pull_in_v, nominal), "for_less"
    elif pull_in_ohm >= OPEN_PULL_IN_TIMES * hold_in_ohm:
        detail = "pull_in_open"
    elif nominal == LOWEST_NOMINAL_V and pull_in_v < NEXT_NOMINAL_V:
        detail = "flat_or_for_more"
    return Checked("made_for", judged, "V", COMMON_PRACTICE, part=name, detail=detail)
