"""Why a decision is as it is: its reasons in order of weight."""

from collections.abc import Iterator, Mapping, Sequence

from lastvolt_service.operations.circuits.bridging import MOST_OF_ALL_SHARE
from lastvolt_service.operations.circuits.load_way import in_the_way
from lastvolt_service.operations.decision.advice import Decision
from lastvolt_service.operations.decision.blades import needs_studs
from lastvolt_service.operations.decision.in_the_sag import may_let_go
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.start_in_way import leaves_start_open
from lastvolt_service.operations.decision.to_measure import to_measure
from lastvolt_service.operations.decision.versions import Both
from lastvolt_service.operations.decision.ways import Tried, WayCode, Ways, key_of
from lastvolt_service.operations.results import Check, relative_margin

# The most that a manual lets a cable of a starter drop (NAVEDTRA 14050, 12 V).
NOTEWORTHY_V = 0.2
# Wires that are named for what they take, where something is to be done.
MOST_WIRES = 2
# Advice beside which it is told what the relay brings.
GAINS = frozenset({"relay", "mend_then_relay", "find_out_first", "insurance"})
_STAYS = frozenset({"as_is"})
_FALLS_SHORT: Mapping[WayCode, str] = {
    "battery": "battery_falls_short",
    "mend": "mend_falls_short",
}
_LEAVES_LITTLE: Mapping[WayCode, str] = {
    "battery": "battery_leaves_little",
    "mend": "mend_leaves_little",
}


def reasons_for(decision: Decision, ways: Ways, both: Sequence[Both]) -> tuple[Remark, ...]:
    """Give the reasons, what weighs most first."""
    asked, plan = ways.asked, decision.plan
    found = [
        *(remark("failed_check", check=each) for each in decision.beyond),
        *(
            remark("failed_check" if each.case else "screened", check=each)
            for each in decision.wrong
        ),
    ]
    if plan is not None and not found:
        found += _blown(decision.tried[0][0], plan, float(asked.system_v))
    if decision.advice == "find_out_first":
        found += [remark("screened", check=each) for each in decision.missing]
        found += _to_measure(decision, ways)
    # What is wrong with the battery, before any wiring is blamed.
    needed = plan is None or plan.treatment.code != "as_is"
    found += _battery(ways, plan)
    if plan is not None and plan.treatment.sound and not plan.treatment.relay:
        found += _mended(plan, ways)
    found += _needs(decision, ways, both) if needed else _enough(ways, both)
    if plan is None or plan.treatment.relay:
        found += _too_little(decision, asked.load)
        if plan is not None:
            found += _mended(plan, ways)
    if decision.advice == "none_suffices":
        found += _open_relay(decision, ways)
    weighs_relay = asked.proposal is not None
    if weighs_relay and decision.advice in GAINS:
        weak = {check.case for check in decision.tried[0][0].short(asked.load, frozenset())}
        poorest = min(both, key=lambda each: each.share)
        told = [each for each in both if each.told.name in weak] or [poorest]
        found += [_gain(each) for each in told if each.told.proposed.margin_v >= 0]
    if plan is None or plan.treatment.code not in _STAYS:
        found += _wires(decision, ways)
    found += _starts(decision, ways)
    if plan is not None and not decision.wrong and ways.starter is None:
        found += may_let_go(ways, plan)
    proposal = ways.asked.proposal
    fits_it = (plan is not None and plan.treatment.relay) or decision.advice in GAINS
    if proposal is not None and fits_it and needs_studs(proposal):
        found += [remark("needs_studs", part=proposal.relay.name)]
    found += _worn(decision, ways)
    found += _resistances(decision, asked.load)
    return tuple(found)


def _blown(as_is: Tried, plan: Tried, nominal_v: float) -> Iterator[Remark]:
    """Fuses that have opened and are renewed: what they feed may have a short."""
    drops = as_is.found(frozenset({"contact_drop"}), parts=plan.treatment.sound.keys())
    most_v = MOST_OF_ALL_SHARE * nominal_v
    blown = [each for each in drops if each.detail == "fuse" and (each.value or 0.0) > most_v]
    for part in dict.fromkeys(each.part for each in blown):
        yield remark("blown_fuse", part=part)


def _wires(decision: Decision, ways: Ways) -> Iterator[Remark]:
    """Wires that take so much that the path is too long, or too thin, for its load."""
    as_is, load = decision.tried[0][0], ways.asked.load
    judged = as_is.judged[as_is.poorest(load)]
    drops = [
        (each.across_v, each.part.name)
        for each in in_the_way(judged.state, load)
        if each.part.group == "wires" and each.across_v >= NOTEWORTHY_V
    ]
    for drop_v, name in sorted(drops, reverse=True)[:MOST_WIRES]:
        yield remark("wire_takes", case=judged.case.name, part=name, values={"drop_v": drop_v})


def _starts(decision: Decision, ways: Ways) -> Iterator[Remark]:
    """What breaks a start off, of each part once; or that no start was gone through."""
    plan, load = decision.plan, ways.asked.load
    if ways.starter is None:
        if leaves_start_open(ways.asked.circuit, load):
            yield remark("start_not_judged", part=load)
        return
    weighing, broken = decision.weighing, dict[str | None, Check]()
    for tried, _ in decision.tried:
        short = any(each.verdict == "fail" for each in tried.short(load, ways.asked.new_names))
        for check in () if short else weighing.start_breaks(tried):
            broken.setdefault(check.part, check)
    yield from (remark("failed_check", check=each) for each in broken.values())
    for check in decision.lost_as_it_cranks:
        yield remark("lost_as_it_cranks", check=check)
    if plan is not None and not weighing.start_breaks(plan):
        yield remark("start_goes_through", part=load)


def _battery(ways: Ways, plan: Tried | None) -> Iterator[Remark]:
    """The poorest case in which the battery is low, and in which it is weak and matters."""
    poor = {name: each for name, each in ways.batteries.items() if each.is_poor}
    frozen = {name: each for name, each in poor.items() if each.may_be_frozen}
    if frozen:
        name, each = min(frozen.items(), key=lambda item: item[1].temperature_c)
        values = {
            "temperature_c": each.temperature_c,
            "state_of_charge_percent": each.charge_percent,
        }
        yield remark("battery_frozen", case=name, values=values)
    low = {name: each for name, each in poor.items() if each.is_low}
    if low and not frozen:
        name, each = min(low.items(), key=lambda item: item[1].open_circuit_v)
        values = {"open_circuit_v": each.open_circuit_v, "charged_v": each.sound_v}
        yield remark("battery_low", case=name, values=values)
    weak = {name: each for name, each in poor.items() if each.is_weak}
    if weak and (plan is None or plan.treatment.code not in {"as_is", "mend", "relay"}):
        name, each = max(weak.items(), key=lambda item: item[1].internal_resistance_ohm)
        values = {
            "internal_resistance_ohm": each.internal_resistance_ohm,
            "sound_ohm": each.sound_ohm,
        }
        yield remark("battery_weak", case=name, values=values)


def _mended(plan: Tried, ways: Ways) -> Iterator[Remark]:
    mends = {each.name: each for each in ways.mends}
    for name in plan.treatment.sound:
        yield remark("mend_brings", part=name, values={"regained_v": mends[name].regained_v})


def _needs(decision: Decision, ways: Ways, both: Sequence[Both]) -> Iterator[Remark]:
    """Why it cannot stay as it is."""
    as_is, load = decision.tried[0][0], ways.asked.load
    weak = {check.case for check in as_is.short(load, frozenset())}
    for each in both:
        told = each.told.as_is
        if each.told.name in weak:
            values = {"load_voltage_v": told.load_voltage_v, "needed_v": told.needed_v}
            yield remark("arrives_as_is", case=each.told.name, values=values)
    kept = frozenset().union(*(tried.harm for tried, works in decision.tried if works))
    mended = as_is.harm - kept
    for judged in as_is.judged:
        for check in judged.checks:
            if check.part != load and key_of(check) in mended:
                yield remark("failed_check", check=check)


def _enough(ways: Ways, both: Sequence[Both]) -> Iterator[Remark]:
    spare = min(both, key=lambda item: item.told.as_is.margin_v)
    values = {"margin_v": spare.told.as_is.margin_v}
    yield remark("enough_as_is", case=spare.told.name, values=values)
    for each in both:
        rated = (
            check
            for check in each.as_is.checks
            if check.code == "contact_current" and check.part == ways.asked.switch
        )
        for check in rated:
            if check.value is not None and check.limit is not None and check.limit > 0:
                values = {
                    "current_a": check.value,
                    "rating_a": check.limit,
                    "share_percent": 100 * check.value / check.limit,
                }
                yield remark("switch_carries", case=each.told.name, part=check.part, values=values)
                return


def _too_little(decision: Decision, load: str) -> Iterator[Remark]:
    """The best of the plainer ways, and what it leaves."""
    as_is = decision.tried[0][0]
    plainer = [
        each for each, works in decision.tried if each.treatment.code in _FALLS_SHORT and not works
    ]
    if not plainer:
        return
    told = {id(each): each.told(load, works=False, as_is=as_is) for each in plainer}
    best = max(plainer, key=lambda each: told[id(each)].margin_v / told[id(each)].needed_v)
    way = told[id(best)]
    short = way.margin_v < 0
    code = (_FALLS_SHORT if short else _LEAVES_LITTLE)[way.code]
    left = {"short_v": -way.margin_v} if short else {"margin_v": way.margin_v}
    yield remark(
        code,
        case=way.case,
        part=" and ".join((*way.parts, *way.new)) or None,
        values={"gain_v": way.gain_v, **left},
    )


def _open_relay(decision: Decision, ways: Ways) -> Iterator[Remark]:
    """What keeps the relay from helping, too."""
    own = ways.asked.new_names
    relay = next((each for each, _ in decision.tried if each.treatment.code == "relay"), None)
    if relay is not None:
        for check in relay.short(ways.asked.load, own)[:2]:
            yield remark("with_the_relay", check=check)


def _gain(item: Both) -> Remark:
    told = item.told
    change = {"gain_v": told.gain_v} if told.gain_v >= 0 else {"loss_v": -told.gain_v}
    return remark(
        "relay_brings" if told.gain_v >= 0 else "relay_takes",
        case=told.name,
        values={
            **change,
            "margin_v": told.proposed.margin_v,
            "proposed_current_a": abs(told.proposed.switch_current_a),
            "as_is_current_a": abs(told.as_is.switch_current_a),
        },
    )


def _worn(decision: Decision, ways: Ways) -> Iterator[Remark]:
    """Contacts that drop more than sound ones do, beyond those that are mended anyway."""
    plan, own = decision.plan, ways.asked.new_names
    mended = set() if plan is None else set(plan.treatment.sound)
    worst: dict[str | None, Check] = {}
    for check in decision.tried[0][0].found(frozenset({"contact_drop"})):
        known = worst.get(check.part, check)
        worst[check.part] = min(check, known, key=relative_margin)
    told = {check.part for check in decision.lost_as_it_cranks}
    for part, check in worst.items():
        if part not in mended | told:
            stays = part in ways.not_to_be_had
            yield remark("failed_check" if stays else "worn_contact", check=check)
    if plan is not None and plan.treatment.relay and decision.advice != "unsafe":
        drops = plan.found(frozenset({"contact_drop"}), parts=own)
        for check in sorted(drops, key=relative_margin)[:1]:
            yield remark("own_contact", check=check)
    if plan is not None and plan.treatment.code == "as_is":
        drops = plan.found(frozenset({"path_drop"}), parts={ways.asked.load})
        for check in sorted(drops, key=relative_margin)[:1]:
            yield remark("path_drops", check=check)


def _resistances(decision: Decision, load: str) -> Iterator[Remark]:
    """Known resistances that drop as much as a sound cable never does: by design, or poor."""
    worst: dict[str, tuple[float, str]] = {}
    for judged in decision.tried[0][0].judged:
        for each in in_the_way(judged.state, load):
            if each.part.kind == "resistance":
                found = (each.across_v, judged.case.name)
                worst[each.part.name] = max(found, worst.get(each.part.name, found))
    asked_about = {check.part for check in decision.missing}
    for name, (drop_v, case) in worst.items():
        if drop_v >= NOTEWORTHY_V and name not in asked_about:
            yield remark("resistance_costs", case=case, part=name, values={"drop_v": drop_v})


def _to_measure(decision: Decision, ways: Ways) -> Iterator[Remark]:
    """What flips within bounds, and the input that does most to it."""
    for each in decision.asked_first:
        yield remark("measure" if each.code == "advice" else "screened", check=each)
    way = decision.measured
    if way is None:
        return
    load, own = ways.asked.load, ways.asked.new_names
    effects = [
        (abs(change_v), path, judged)
        for judged in way.judged
        for path, change_v in judged.within.effects("load_margin", load).items()
    ]
    if effects and way.undecided({load}):
        _, path, judged = max(effects, key=lambda each: each[0])
        yield remark("measure", check=to_measure(path, judged, way.judged, load))
    for check in way.undecided({load, *own}):
        yield remark("failed_check", check=check)
