"""The demo's story: the coach's starter circuit as it is, the relay proposed, and what to do."""

from collections.abc import Iterable
from dataclasses import dataclass

from rich.console import Console
from rich.markup import escape

from lastvolt import Client, RelayCoil, RelayContact, Result, SolenoidPullIn, VoltageDrop
from lastvolt.cli import coach, show
from lastvolt.inputs import Segment


@dataclass(frozen=True, slots=True)
class Start:
    """The solenoid at the end of one path, with its windings at one temperature."""

    drop: VoltageDrop
    pull_in: SolenoidPullIn


def tell(client: Client, console: Console) -> None:
    """Work through the coach and print it for people.

    Parameters
    ----------
    client : Client
        Who computes.
    console : Console
        Where to.
    """
    console.print("[bold]Mobile-library coach of Lindwater County (invented): will it start?[/]\n")
    console.print("Starter circuit as it is, solenoid hot")
    now = {winding: _start(client, coach.HARNESS, winding) for winding in _WINDINGS_C}
    show.path(console, coach.BATTERY_V, now[coach.HOT_C].drop)
    show.checks(console, now[coach.HOT_C].drop.checks)
    _margins(console, now)

    console.print("\nProposed: a relay beside the starter, fed from its heavy cable, solenoid hot")
    then = {winding: _start(client, coach.BESIDE_STARTER, winding) for winding in _WINDINGS_C}
    show.path(console, coach.BATTERY_V, then[coach.HOT_C].drop)
    _margins(console, then)

    coil_feed = _coil_feed(client)
    coil = _coil(client, coil_feed.load_voltage_v)
    contact = _contact(client, then[coach.COLD_C])
    console.print(
        f"\nThe relay's coil on the old harness takes "
        f"{show.number(coil_feed.current_a, 'A')}; {coil_feed.load_voltage_v:.2f} V reach it"
    )
    show.checks(console, coil.checks)
    console.print("\nThe relay's contact")
    show.checks(console, contact.checks)

    console.print("\n[bold]What to do[/]")
    for line in _advice(now, then, coil, contact):
        console.print(f"  {escape(line)}")
    _others(client, console)
    _cautions(console, [now[coach.HOT_C].drop, coil, contact])


_WINDINGS_C = (coach.COLD_C, coach.HOT_C)


def _start(client: Client, segments: list[Segment], winding_c: float) -> Start:
    # The winding's resistance first: it does not depend on what reaches it.
    solenoid = client.solenoid_pull_in(
        windings=coach.SOLENOID, temperature_c=winding_c, available_v=coach.BATTERY_V
    )
    drop = client.voltage_drop(
        supply_v=coach.BATTERY_V,
        load_resistance_ohm=solenoid.resistance_ohm or 0.0,
        segments=segments,
        circuit="starter_control",
    )
    pull_in = client.solenoid_pull_in(
        windings=coach.SOLENOID,
        temperature_c=winding_c,
        supply_v=coach.BATTERY_V,
        path_resistance_ohm=drop.path_resistance_ohm,
        # The path drops less once only the hold-in winding draws: this errs on the safe side.
        dip_v=coach.CRANKING_V - drop.drop_v,
    )
    return Start(drop, pull_in)


def _coil_feed(client: Client) -> VoltageDrop:
    return client.voltage_drop(
        supply_v=coach.BATTERY_V,
        load_resistance_ohm=coach.COIL_RESISTANCE_OHM,
        segments=coach.HARNESS,
        circuit="starter_control",
    )


def _coil(client: Client, available_v: float) -> RelayCoil:
    return client.relay_coil(
        nominal_v=12,
        coil_resistance_ohm=coach.COIL_RESISTANCE_OHM,
        pick_up_v=coach.PICK_UP_V,
        drop_out_v=coach.DROP_OUT_V,
        ambient_c=coach.BAY_C,
        available_v=available_v,
        dip_v=coach.CRANKING_V - (coach.BATTERY_V - available_v),
        maximum_v=coach.CHARGING_V,
        thermal_resistance_k_per_w=coach.COIL_K_PER_W,
        coil_limit_c=coach.COIL_LIMIT_C,
        suppression={"kind": "resistor", "resistance_ohm": 680},
        switch_limit_v=200,
    )


def _contact(client: Client, cold: Start) -> RelayContact:
    # The solenoid draws most when it is cold; all of it is its steady pull-in current.
    return client.relay_contact(
        rating_a=60,
        rating_ambient_c=23,
        derating=[{"ambient_c": 85, "current_a": 40}, {"ambient_c": 125, "current_a": 17}],
        make_rating_a=120,
        supply_v=coach.CHARGING_V,
        rated_v=16,
        load_current_a=cold.drop.current_a,
        load_kind="solenoid",
        inrush_current_a=cold.drop.current_a,
        contact_resistance_ohm=0.003,
        ambient_c=coach.BAY_C,
    )


def _margins(console: Console, starts: dict[float, Start]) -> None:
    for winding_c, start in starts.items():
        label = "cold" if winding_c == coach.COLD_C else "hot"
        console.print(f"\n  Pull-in with {label} windings, {winding_c:.0f} degC")
        show.checks(console, start.pull_in.checks)


def _advice(
    now: dict[float, Start], then: dict[float, Start], coil: RelayCoil, contact: RelayContact
) -> Iterable[str]:
    hot_now, hot_then = now[coach.HOT_C].pull_in, then[coach.HOT_C].pull_in
    yield (
        f"Hot margin to pull-in: {hot_now.margin_v:+.2f} V as it is, {hot_then.margin_v:+.2f} V "
        "with the relay."
    )
    worst = now[coach.HOT_C].drop.worst_segment
    relay_faults = [check.message for check in (*coil.failing(), *contact.failing())]
    if relay_faults:
        yield "Do not fit this relay:"
        yield from (f"- {fault}" for fault in relay_faults)
    elif hot_then.failing():
        yield "The relay alone will not do: mend the supply and the heavy cables first."
    elif hot_now.verdict in {"fail", "marginal"}:
        yield "Fit the relay, fused at the heavy cable, its coil on the old key-switch wire."
        yield f"The harness may stay: with the coil's small current, {worst} no longer matters."
    else:
        yield "The circuit is sound: a relay would be insurance only."
    yield (
        "Prove it: with a helper cranking, measure from the solenoid's terminal 50 to its case "
        "before and after."
    )


def _others(client: Client, console: Console) -> None:
    for other in coach.OTHERS:
        console.print(f"\n{other['title']}")
        drop = client.voltage_drop(
            supply_v=other["supply_v"],
            load_current_a=other["load_current_a"],
            segments=other["segments"],
            circuit=other["circuit"],
        )
        show.path(console, other["supply_v"], drop)
        show.checks(console, drop.checks)


def _cautions(console: Console, results: Iterable[Result]) -> None:
    console.print("\n[bold]Cautions[/]")
    for text in dict.fromkeys(text for result in results for text in result.cautions):
        console.print(f"  {text}", markup=False)
