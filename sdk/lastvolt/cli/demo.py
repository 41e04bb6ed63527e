"""The demo: a coach that does not start hot, from what to do to the proof that it was done."""

from collections.abc import Iterator

import click

from lastvolt import Client
from lastvolt.cli import coach, show
from lastvolt.cli.coach import JSONObject
from lastvolt.display import number
from lastvolt.types import Circuit, CircuitFit, Estimate, GainProof, Option, PlanStep, RemedyChoice

# What a step of a plan does to its part, by its code.
DOES = {
    "battery": "charge or replace the battery",
    "mend": "clean, tighten or replace",
    "own_ground": "lay",
    "new_wire": "lay a new",
    "new_switch": "fit a new",
    "relay": "fit",
}
# Of all reasons those that decide between the ways.
DECIDE = {"mend_leaves_little", "wire_takes"}


def tell(client: Client, width: int, *, whole: bool) -> Iterator[str]:
    """Tell the story line by line, as wide as `width`; all of it is long."""
    data = coach.coach()
    yield from map(_bold, show.wrapped(f"{data['place']}: it does not start hot.", width))
    fit = client.circuit_fit(**coach.fit_of(data))
    found = fit.fitted.circuit
    choice = client.remedy_choice(**coach.choice_of(data, found))
    yield from show.wrapped(choice.headline, width)
    yield from _plan(choice, width)
    yield from _ways(choice, width)
    decide = (f"- {each.message}" for each in choice.reasons if each.code in DECIDE)
    yield from show.wrapped("\n".join(decide), width)
    yield from _measured(fit, data["before"], width)
    made_sound = list(choice.chosen.parts) if choice.chosen else []
    yield from _proof(client.gain_proof(**coach.proof_of(data, made_sound)), width)
    yield ""
    if whole:
        yield from _whole(client, data, found, choice, width)
        yield from show.wrapped("\n".join(choice.cautions), width)
    else:
        yield from show.wrapped(f"{choice.cautions[-1]} All: lastvolt demo --all", width)


def _plan(choice: RemedyChoice, width: int) -> Iterator[str]:
    steps = [
        (f"{place}. {_done(step)}", f"{step.brings_v:+.2f} V", f"{step.load_voltage_v:.2f} V")
        for place, step in enumerate(choice.plan, 1)
    ]
    yield ""
    head = (f"In this order, in {choice.options[0].case}", "brings", "arrive then")
    yield from show.columns([head, *steps], width, numbers={1, 2})


def _done(step: PlanStep) -> str:
    size = f", {step.size}" if step.size else ""
    return " ".join(filter(None, (DOES[step.code], step.part))) + size


def _ways(choice: RemedyChoice, width: int) -> Iterator[str]:
    """The way as it is, those that are given, all mended, and the one that is advised."""
    mends = [each for each in choice.options if each.code == "mend" and not each.new]
    most = max(mends, key=lambda each: each.load_voltage_v, default=None)
    rows = [
        (
            named(each),
            f"{each.load_voltage_v:.2f} V",
            f"{each.margin_v:+.2f} V",
            f"{each.switch_current_a:.1f} A",
            "advised" if each.is_advised else "yes" if each.works else "no",
        )
        for each in choice.options
        if each.code == "as_is" or each.name or each.is_advised or each is most
    ]
    yield ""
    head = ("Ways, each in its poorest case", "arrive", "to spare", "in switch", "enough")
    yield from show.columns([head, *rows], width, numbers={1, 2, 3})


def named(option: Option) -> str:
    """Say what a way does, or what the request calls it."""
    if option.name:
        return option.name if option.available else f"{option.name} (not to be had)"
    done = ["battery seen to"] if option.code.startswith("battery") else []
    done += [f"mend {' and '.join(option.parts)}"] if option.parts else []
    done += [f"new {' and '.join(option.new)}"] if option.new else []
    done += [f"fit {option.relay}"] if option.relay else []
    return ", ".join(done) or "as it is"


def _measured(fit: CircuitFit, readings: list[JSONObject], width: int) -> Iterator[str]:
    """Each reading, with the value that rests on it most."""
    told: dict[int, Estimate] = {}
    for each in sorted(fit.estimates, key=lambda each: len(each.told_by)):
        place = next((place for place in each.told_by if place not in told), None)
        if place is not None:
            told[place] = each
    rows = []
    for place, reading in enumerate(readings, 1):
        value = told.get(place)
        rows.append(
            (value.name, shown(reading), between(value))
            if value
            else (where(reading), shown(reading), "")
        )
    yield ""
    head = (f"Read, {readings[-1]['case']}", "shown", "so it is, 19 times of 20")
    yield from show.columns([head, *rows], width, numbers={1})


def between(value: Estimate) -> str:
    """Write the ends of a value, the unit once."""
    low, high = (number(end, value.unit) for end in (value.low, value.high))
    return f"{low.rpartition(' ')[0]} to {high}"


def where(reading: JSONObject) -> str:
    """Say where a reading was taken."""
    if "through" in reading:
        return f"clamp at {reading['through']}"
    return " to ".join(reading["between"])


def shown(reading: JSONObject) -> str:
    """Say what the meter showed."""
    return f"{reading['value_v']:g} V" if "value_v" in reading else f"{reading['value_a']:g} A"


def _proof(proof: GainProof, width: int) -> Iterator[str]:
    gain, switch = proof.gain, proof.switch_current
    yield ""
    yield from show.wrapped(proof.headline, width)
    volts = ((gain.before_v, "before"), (gain.after_v, "after"))
    told = [f"{number(value, 'V')} {when}" for value, when in volts]
    told.append(f"{number(proof.promise.load_voltage_v, 'V')} promised")
    amperes = (number(value, "A") for value in (switch.before_a, switch.after_a))
    yield from show.wrapped(f"{', '.join(told)}; switch: {', then '.join(amperes)}.", width)


def _whole(
    client: Client, data: JSONObject, found: Circuit, choice: RemedyChoice, width: int
) -> Iterator[str]:
    """What there is besides: before the readings, every way, each case, the start, the sheets."""
    yield _bold("Before anybody measured")
    before = client.remedy_choice(**coach.choice_of(data, coach.not_measured(data)))
    yield from show.wrapped(before.headline, width)
    yield from _titled("Every way, and what is against it")
    for each in choice.options:
        works = "; it works" if each.works else ""
        text = f"- {named(each)}: {number(each.load_voltage_v, 'V')} in {each.case}{works}."
        yield from show.wrapped(" ".join((text, *each.against)), width)
    yield from _titled("Why, and what a relay brings with it")
    for reason in (*choice.reasons, *choice.new_risks):
        yield from show.wrapped(f"- {reason.message}", width)
    yield from _titled("What was read")
    for title in ("before", "after"):
        for reading in data[title]:
            yield from show.wrapped(
                f"- {title}, {reading['case']}: {where(reading)} {shown(reading)}", width
            )
    yield from _by_case(client, data, found, width)
    yield from _start(client, data, width)
    for title, operation, asked in (
        ("The readings to take", "meter-plan", coach.plan_of(data)),
        ("The work sheet", "work-sheet", coach.sheet_of(data)),
    ):
        yield from _titled(title)
        yield from show.wrapped(client.report(operation, asked, "txt"), width)
    yield from _titled("Cautions")


def _by_case(client: Client, data: JSONObject, found: Circuit, width: int) -> Iterator[str]:
    checked = client.circuit_check(circuit=found, cases=data["cases"])
    for state in checked.cases:
        yield from _titled(f"As it is: {state.name}")
        rows = [
            (
                part.name,
                f"{part.current_a:.1f} A",
                f"{part.drop_v:.2f} V",
                "" if part.temperature_c is None else f"{part.temperature_c:.0f} °C",
            )
            for part in state.parts
        ]
        yield from show.columns(
            [("part", "current", "drop", "metal"), *rows], width, numbers={1, 2, 3}
        )
        for check in checked.checks:
            if check.case == state.name:
                yield from show.wrapped(f"- {check.verdict}: {check.message}", width)


def _start(client: Client, data: JSONObject, width: int) -> Iterator[str]:
    start = client.start_sequence(**coach.start_of(data))
    yield from _titled("What is heard at the key")
    yield from show.wrapped(start.headline, width)
    rows = [
        (
            f"{case.name}: {stage.name.replace('_', ' ')}",
            f"{stage.control_v:.2f} V",
            f"{stage.motor_current_a:.0f} A",
            stage.sound.replace("_", " "),
        )
        for case in start.cases
        for stage in case.stages
    ]
    head = ("Stage", "at terminal 50", "motor", "sound")
    yield from show.columns([head, *rows], width, numbers={1, 2})


def _titled(title: str) -> Iterator[str]:
    yield from ("", _bold(title))


def _bold(text: str) -> str:
    return click.style(text, bold=True)
