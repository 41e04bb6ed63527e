"""What to look at where a gain is not proven, and which reading says so."""

from collections.abc import Iterator, Sequence
from typing import Literal

from lastvolt_service.errors import Path
from lastvolt_service.operations.circuits.intervals import intervals
from lastvolt_service.operations.meter.fit_mending import either
from lastvolt_service.operations.meter.fit_told import both, named
from lastvolt_service.operations.meter.fit_verdict import Verdict
from lastvolt_service.operations.meter.proof_answer import LookAt, NewDrop, ProofOfCase
from lastvolt_service.operations.meter.proof_both import OF_THE_SUPPLY, Side
from lastvolt_service.operations.meter.proof_circuits import Built, ends_of
from lastvolt_service.operations.meter.proof_faults import Fault
from lastvolt_service.operations.meter.proof_left import Left, mended, more_than_promised_v, rivals
from lastvolt_service.operations.meter.proof_read import is_read, is_within_read
from lastvolt_service.operations.meter.proof_told import NOTHING_V, Told
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.amounts import amount
from lastvolt_service.words.named import Named

NAME = "gain-proof"
POOR = {
    "feed": "poor_feed",
    "contact": "poor_contact",
    "outlet": "poor_outlet",
    "ground": "poor_ground",
    "sound": "poor_sound",
    "replaced": "poor_replaced",
}
# What is no thing to be done: it is told last.
NOTHING = frozenset({"nothing_gained", "nothing_to_gain"})
# Of what is missing, so much is lost where parts take more than was promised.
MOST_OF_IT = 0.5
# Of a supply that had something else than it was given, and of one that may have had it.
_IS_OTHER = {"before": "supply_before", "after": "supply_after"}
# Of one that keeps back more than it is given to.
_IS_WEAK = {"before": "weak_before", "after": "weak_after"}
_MAY_BE_OTHER = {"before": "supply_before_untold", "after": "supply_after_untold"}


def looks(told: Told, drops: Sequence[NewDrop], lost: Sequence[Left]) -> tuple[LookAt, ...]:
    """What to look at, what is wrong for sure first; of what is proven what it rests on alone."""
    if told.verdict == "proven":
        found = (
            [] if told.rests_on is None else [_look("rests_on", told.asked.load, (told.rests_on,))]
        )
    else:
        found = [*_looks(told, drops, lost)]
    was_live, proof = told.proof.off_before.live, told.proof
    if was_live and proof.off.dead and not proof.off.live:
        found.append(_look("was_live", told.asked.load, was_live, switch=told.asked.switch))
    named_ = {each.part for each in found}
    still = [each for each in lost if named_.isdisjoint({each.part, *each.parts})]
    found += [_still_poor(each) for each in still]
    others = (each for each in told.proof.worse_before if each not in told.proof.new)
    known = {*mended(told), *(name for each in still for name in each.parts)}
    unknown = [either(rivals(told, each)) for each in others if each not in known]
    found += [_look("worse_before", each, ()) for each in unknown]
    found += _supplies("after", told.proof.after, told)
    if told.proof.other_meters:
        found.append(_look("other_meters", told.asked.load, ()))
    sides = (
        ("untold_before", "again_before", told.proof.before),
        ("untold_after", "again_after", told.proof.after),
    )
    for untold, again, side in sides:
        numbers = _numbers(told, side)
        is_said = any(each.code in {untold, again} for each in found)
        if side.agreement == "reading_contradicts" and numbers and not is_said:
            found.append(_look(again, None, numbers))
    # What is to be done comes before what was not gained.
    return tuple(sorted(found, key=lambda each: each.code in NOTHING))


def _looks(told: Told, drops: Sequence[NewDrop], lost: Sequence[Left]) -> Iterator[LookAt]:
    proof = told.proof
    if told.proof.off.live:
        code = "live_off" if told.asked.way.relay is None else "live_off_relay"
        yield _look(code, told.asked.load, told.proof.off.live, switch=told.asked.switch)
    elif proof.off_before.live and not proof.off.dead:
        numbers = proof.off_before.live
        yield _look("live_off_before", told.asked.load, numbers, switch=told.asked.switch)
    if proof.faults:
        yield from _faults(told)
    elif told.still_loaded:
        yield _look("switch_not_told", told.asked.switch, (), case=told.case_to_read)
    before = proof.before_with_any_supply
    of_before = [] if before is None else [*_supplies("before", before, told)]
    yield from of_before
    for code, side in (("untold_before", proof.before), ("untold_after", proof.after)):
        if side is proof.before and of_before:
            continue
        numbers = _numbers(told, side)
        if not side.is_told and numbers:
            is_one = side is proof.after and side.agreement == "reading_contradicts"
            yield _look("again_after" if is_one else code, None, numbers)
    if proof.before.is_told and proof.after.is_told and not proof.goes_together:
        yield _look("untold_together", told.asked.load, ())
    if not told.is_told:
        return
    read = _read(told, drops)
    gain = [*_of_the_gain(told)]
    yield from (each for each in gain if each.code != "promise_open")
    if not proof.faults:  # else that is why
        yield from _lost(told, drops, read, lost)
    yield from (each for each in gain if each.code == "promise_open")
    short = [each for each in told.by_case if each.met != "yes"]
    if told.verdict == "not_proven" and told.gained.low > 0.0:
        worst = min(short, key=_spare_v, default=None)
        if worst is not None and worst.met == "no" and worst.after_v is not None:
            short.remove(worst)
            yield _short(told, worst, is_more=True)
    yield from (_short(told, each) for each in short)


def _still_poor(each: Left) -> LookAt:
    """Tell a part, or several, that take too much after, whatever was gained."""
    most = amount(each.most_v, "V")
    texts = {"volts": amount(each.drop_v, "V"), "amps": amount(each.amps, "A"), "most": most}
    if each.before_v is not None:
        texts["before"] = amount(each.before_v, "V")
    return _look(each.code, each.part, (), case=each.case, **texts)


def _spare_v(each: ProofOfCase) -> float:
    return (each.after_v or 0.0) - (each.needed_v or 0.0)


def _of_the_gain(told: Told) -> Iterator[LookAt]:
    """Say what the readings tell of a gain, or of a promise, that is not sure."""
    gained, promised_v = told.gained, told.promised.value
    if gained.low <= 0.0 and not told.is_worse:
        low, high = both(gained.low, gained.high, "V")
        if told.nothing_to_gain:
            yield _nothing_to_gain(told)
        elif gained.high <= told.most_missing_v:
            promised = amount(promised_v, "V")
            yield _look("nothing_gained", None, (), low=low, high=high, promised=promised)
        else:
            yield _look("gain_open", None, (), low=low, high=high)
    elif told.falls_short and told.missing.low <= 0.0:
        low, high = both(told.missing.low, told.missing.high, "V")
        yield _look("promise_open", None, (), low=low, high=high)


def _supplies(when: Literal["before", "after"], side: Side, told: Told) -> Iterator[LookAt]:
    """Say what a supply had that surely had something else than it was given."""
    solved, circuit = side.verdict.solved, told.proof.circuit
    given = dict(intervals(circuit, ("circuit",)))
    names = named(side.model.unknowns, side.model.circuit)
    is_other = is_sure = False
    for place, each in enumerate(side.model.unknowns):
        own = given.get(each.path)
        if each.path[1] not in OF_THE_SUPPLY or own is None or own == each.given:
            continue
        value, half = solved.point[place], COVERAGE_FACTOR * solved.deviations[place]
        is_other = side.is_told
        if not side.is_told or (value - half <= own.high and value + half >= own.low):
            continue
        is_sure = True
        low, high = both(max(value - half, 0.0), value + half, each.unit)
        least, most = both(*own, each.unit)
        texts = {"low": low, "high": high, "least": least, "most": most, "load": told.asked.load}
        is_weak = each.unit == "ohm" and value > own.high
        code = _IS_WEAK[when] if is_weak else _IS_OTHER[when]
        yield _look(code, names[place], (), **texts)
    if is_other and not is_sure and (side is not told.proof.after or told.proof.supply_moved):
        yield _look(_MAY_BE_OTHER[when], None, ())


def _nothing_to_gain(told: Told) -> LookAt:
    case = told.proof.cases[told.worst].name
    here = next(each for each in told.by_case if each.case == case)
    return _look(
        "nothing_to_gain",
        case,
        (),
        load=told.asked.load,
        before=amount(here.before_v or 0.0, "V", side="down"),
        needed=amount(here.needed_v or 0.0, "V", side="up"),
        most=amount(NOTHING_V, "V"),
    )


def _faults(told: Told) -> Iterator[LookAt]:
    """Tell each fault that the readings go with, and whether one of them may be false instead."""
    verdict = told.proof.as_described.verdict
    numbers = suspects(verdict)
    if told.nobody_read:
        names = list(dict.fromkeys(each.part for each in told.proof.faults))
        parts, load = ", ".join(names), told.asked.load
        yield _look("one_of", load, numbers, parts=parts)
    else:
        yield from (_fault(told, each, numbers) for each in told.proof.faults)
    others = tuple(each for each in numbers if each not in told.proof.off.live)
    # A fault and another supply at once are hardly likelier than one false reading.
    is_twofold = told.proof.supply_moved
    if others and (verdict.contradicts or told.proof.is_wrong or is_twofold):
        yield _look("or_false", None, others)


def _fault(told: Told, fault: Fault, numbers: tuple[int, ...]) -> LookAt:
    """Tell a fault; what is new was given no bounds that it could leave."""
    if fault.built.wired != "as_described":
        return _wrong(told, fault.built, numbers)
    code: str = fault.code
    texts: dict[str, str | None] = {"switch": told.asked.switch}
    if fault.ohm is not None:
        texts["low"], texts["high"] = both(*fault.ohm, fault.unit)
        texts["most"] = amount(fault.most_ohm, fault.unit)
        new = told.proof.new
        is_new = fault.part in {*new, *map(ends_of, new)}
        if is_new and code == "got_worse":
            code = "still_not_sound" if fault.part in told.asked.way.sound else "new_part_poor"
    return _look(code, fault.part, numbers, **texts)


def suspects(verdict: Verdict) -> tuple[int, ...]:
    """Numbers of the reading that goes least with a circuit, and of those that go with it."""
    if verdict.contradicts:
        return tuple(sorted(index + 1 for index in verdict.contradicts))
    taken = verdict.whole.problem.taken
    return (taken[verdict.whole.check.worst()[0]].index + 1,)


def _numbers(told: Told, side: Side) -> tuple[int, ...]:
    """Numbers of the suspects of a side; that the load is live is no false reading."""
    is_before = side is told.proof.before
    live = (told.proof.off_before if is_before else told.proof.off).live
    return tuple(each for each in suspects(side.verdict) if each not in live)


def _wrong(told: Told, each: Built, numbers: tuple[int, ...]) -> LookAt:
    relay = told.asked.way.relay
    feed = relay.feed_node if relay else None
    code: str = each.wired
    if code == "fed_from" and told.is_loaded:
        code = "fed_from_behind"
    part = each.node or (relay.relay.name if relay else None)
    return _look(code, part, numbers, node=each.node, feed=feed, switch=told.asked.switch)


def _read(told: Told, drops: Sequence[NewDrop]) -> list[NewDrop]:
    """Where too much is lost; what was not read by itself is not blamed."""
    readings, circuit = told.proof.after.readings, told.proof.built.circuit
    wholes = (circuit.posts, *(each.nodes for each in circuit.loads))
    return [
        each
        for each in drops
        if _is_poor(told, each)
        and (
            is_read(readings, circuit, each.between)
            or is_within_read(readings, each.between, wholes)
        )
    ]


def _lost(
    told: Told, drops: Sequence[NewDrop], read: Sequence[NewDrop], lost: Sequence[Left]
) -> Iterator[LookAt]:
    """Say where too much is lost, or that nobody read it."""
    yield from (_poor(told, each) for each in read)
    poor = any(_is_poor(told, each) for each in drops)
    if read or not (poor or told.verdict == "less_than_promised"):
        return
    if more_than_promised_v(told, lost) >= MOST_OF_IT * told.missing.value:
        yield from map(_still_poor, lost)
    else:
        low, high = both(told.missing.low, told.missing.high, "V")
        yield _look("lost_not_read", told.asked.load, (), low=low, high=high)


def _is_poor(told: Told, drop: NewDrop) -> bool:
    """Whether surely more is lost there than was promised, and so much that it counts.

    A contact that drops no more than a sound one may is none.
    """
    if drop.drop_v <= told.most_of_sound_v.get(drop.part, 0.0):
        return False
    over = drop.drop_v - drop.promised_v
    counts = told.promised.value > 0.0 and over > 0.5 * told.most_missing_v
    return counts and drop.low_v > drop.promised_v


def _poor(told: Told, drop: NewDrop) -> LookAt:
    low, high = both(drop.low_v, drop.high_v, "V")
    red, black = drop.between
    return _look(
        POOR[drop.what],
        drop.part,
        _told_by(told, drop),
        low=low,
        high=high,
        promised=amount(drop.promised_v, "V"),
        red=red,
        black=black,
    )


def _told_by(told: Told, drop: NewDrop) -> tuple[int, ...]:
    """Readings that tell what is new between the nodes of a drop, or the contacts of the ground."""
    names = set(_parts(told, drop))
    circuit, paths = told.proof.built.circuit, list[Path]()
    for unknown in told.proof.after.model.unknowns:
        path = unknown.path
        if path[0] == "circuit" and path[1] in {"branches", "relays"}:
            part = getattr(circuit, str(path[1]))[int(path[2])]
            if part.name in names:
                paths.append(path)
    return tuple(sorted({number for path in paths for number in told.proof.told_by(path)}))


def _parts(told: Told, drop: NewDrop) -> Iterator[str]:
    relay = told.asked.way.relay
    if drop.what == "feed" and relay:
        named = [each.name for each in relay.feed]
    elif drop.what == "outlet" and relay:
        named = [each.name for each in relay.outlet]
    elif drop.what == "ground":
        ends = set(drop.between)
        named = [each.name for each in told.proof.promise.branches if ends & set(each.nodes)]
    else:
        named = [drop.part]
    for name in named:
        yield from (name, ends_of(name))


def _short(told: Told, each: ProofOfCase, *, is_more: bool = False) -> LookAt:
    """Tell a case in which the need is not met; `is_more` than before for sure, and too little."""
    if each.after_v is None or each.after_low_v is None or each.after_high_v is None:
        code = "no_rest" if each.met == "no" else "need_not_known"
        return _look(code, each.case, (), load=told.asked.load)
    low, high = both(each.after_low_v, each.after_high_v, "V")
    code = "need_short" if each.met == "no" else "need_open"
    texts = {"load": told.asked.load, "low": low, "high": high}
    texts["needed"] = amount(each.needed_v or 0.0, "V", side="up")
    if is_more:
        code, texts["in_case"] = "gained_too_little", told.proof.cases[told.worst].name
        texts["more"], texts["most"] = both(told.gained.low, told.gained.high, "V")
    return _look(code, each.case, (), **texts)


def _look(code: str, part: str | None, numbers: tuple[int, ...], **texts: str | None) -> LookAt:
    """Put something to look at into words."""
    told = {"part": part, "number": " and ".join(map(str, numbers)) or None} | texts
    message = say(catalogue()[NAME].reasons[code], Named(None, told))
    return LookAt(code, part, numbers, message)
