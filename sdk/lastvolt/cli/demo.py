"""The demo: the coach's starter circuit as it is, the relay proposed, and what to do."""

import json
from collections.abc import Iterable
from importlib.resources import files
from typing import Any

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from lastvolt import Client
from lastvolt.cli import show
from lastvolt.display import number
from lastvolt.types import Check, DropDiagnosis, RelayRetrofit, Result, SwitchLoading, WireSizing

HOTTEST_C = 400.0  # as far as the service looks for the hottest winding


def coach() -> dict[str, Any]:
    """Read the data of the invented coach.

    Returns
    -------
    dict
        Requests, or parts of them, by topic.
    """
    text = files("lastvolt.cli").joinpath("coach.json").read_text(encoding="utf-8")
    found: dict[str, Any] = json.loads(text)
    return found


def tell(client: Client, console: Console) -> None:
    """Work through the coach and print it for people."""
    data = coach()
    console.print(f"[bold]{data['place']}: will it start?[/]")
    _as_it_is(client, console, data)
    retrofit = client.relay_retrofit(
        **{name: data[name] for name in ("circuit", "cases", "load", "switch", "proposal")}
    )
    _side_by_side(console, retrofit)
    _relay_checks(console, retrofit, data["proposal"])
    sizing = client.wire_sizing(**data["feed"])
    _feed(console, sizing)
    diagnosis = client.drop_diagnosis(**data["readings"])
    _readings(console, diagnosis)
    loading = client.switch_loading(**data["key_switch"])
    _key_switch(console, loading)
    for other in data["others"]:
        console.print(f"\n[bold]{other['title']}[/]")
        drop = client.voltage_drop(**other["request"])
        show.path(console, other["request"]["supply_v"], drop)
        show.checks(console, drop.checks)
    _what_to_do(console, retrofit, sizing, diagnosis, loading)
    _cautions(console, [retrofit, sizing, diagnosis])


def _table(*headings: str) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 2, 0, 0))
    for place, heading in enumerate(headings):
        table.add_column(heading, justify="right" if place else "left")
    return table


def _print(console: Console, table: Table) -> None:
    console.print(Padding(table, (0, 0, 0, 2)))


def _as_it_is(client: Client, console: Console, data: dict[str, Any]) -> None:
    """Walk the path from the post to the solenoid, in the frost and hot."""
    known = {part["name"] for group in ("branches", "loads") for part in data["circuit"][group]}
    cases: list[Any] = [
        {**case, "held": [name for name in case.get("held", ()) if name in known]}
        for case in data["cases"]
    ]
    checked = client.circuit_check(circuit=data["circuit"], cases=cases)
    feed = [part["name"] for part in data["circuit"]["branches"][:3]]
    for state in checked.cases[:2]:
        console.print(f"\nAs it is, {state.name}: from the battery post to the solenoid")
        table = _table("part", "current", "drop", "conductor", "left")
        left = state.source_v
        table.add_row("battery post", "", "", "", f"{left:.2f} V")
        for part in (part for part in state.parts if part.name in feed):
            left -= part.drop_v
            hot = "" if part.temperature_c is None else f"{part.temperature_c:.0f} degC"
            table.add_row(
                escape(part.name),
                f"{part.current_a:.1f} A",
                f"{part.drop_v:.2f} V",
                hot,
                f"{left:.2f} V",
            )
        _print(console, table)
    console.print("  What each part costs the solenoid, and what it gives back when it is sound:")
    for mend in checked.mend_first[:3]:
        console.print(
            f"    {mend.costs_v:.2f} V  {mend.regained_v:.2f} V  {mend.name}", markup=False
        )


def _side_by_side(console: Console, retrofit: RelayRetrofit) -> None:
    console.print("\nAs it is, and with a relay beside the starter fed from its heavy cable")
    table = _table(
        "case", "", "arrives", "needed", "spare", "in the switch", "switch may add", "pulls in to"
    )
    for case in retrofit.cases:
        for version, name in ((case.as_is, "as it is"), (case.proposed, "with relay")):
            table.add_row(
                escape(case.name) if version is case.as_is else "",
                name,
                f"{version.load_voltage_v:.2f} V",
                f"{version.needed_v:.2f} V",
                f"{version.margin_v:+.2f} V",
                f"{version.switch_current_a:.1f} A, {version.switch_power_w:.1f} W",
                _or_never(version.tolerated_contact_ohm, "ohm"),
                _or_never(version.hottest_winding_c, "degC", HOTTEST_C),
            )
    _print(console, table)


def _or_never(value: float | None, unit: str, highest: float = float("inf")) -> str:
    if value is None:
        return "fails"
    return number(value, unit) if value < highest else f"beyond {number(value, unit)}"


def _relay_checks(console: Console, retrofit: RelayRetrofit, proposal: dict[str, Any]) -> None:
    relay = proposal["relay"]["name"]
    console.print("\nThe proposed relay, in its hardest case of each kind")
    hardest: dict[str, Check] = {}
    for check in retrofit.checks:
        if check.way == "relay" and check.part == relay:
            known = hardest.get(check.code)
            if known is None or _margin(check) < _margin(known):
                hardest[check.code] = check
    show.checks(console, hardest.values())


def _margin(check: Check) -> float:
    return float("-inf") if check.margin is None else check.margin


def _feed(console: Console, sizing: WireSizing) -> None:
    console.print("\nThe relay's own wire, from the heavy cable through its contact")
    console.print(
        f"  {sizing.size} with a fuse of {number(sizing.fuse_rating_a or 0, 'A')} at "
        f"{number(sizing.ambient_c, 'degC')}; smaller sizes fail:"
    )
    for candidate in sizing.candidates[:-1]:
        console.print(
            f"    {candidate.size}: {', '.join(candidate.failing).replace('_', ' ')}", markup=False
        )


def _readings(console: Console, diagnosis: DropDiagnosis) -> None:
    console.print("\nReadings taken on it, solenoid energised")
    table = _table("part", "meter", "sound part", "too much", "proven", "mended, it gains")
    for part in diagnosis.readings:
        table.add_row(
            escape(part.name),
            f"{part.measured_v:.3f} V",
            f"{part.expected_v:.3f} V",
            f"{part.excess_v:.3f} V",
            "yes" if part.proven else "no",
            f"{part.regained_v:.2f} V",
        )
    _print(console, table)
    console.print(f"  {diagnosis.headline}", markup=False)


def _key_switch(console: Console, loading: SwitchLoading) -> None:
    console.print("\nWhat its key switch carries")
    table = _table("position", "current", "of rating", "heat")
    for position in loading.positions:
        table.add_row(
            escape(position.name),
            f"{position.current_a:.1f} A",
            f"{position.utilisation_percent:.0f} %",
            f"{position.power_w:.1f} W",
        )
    _print(console, table)


def _what_to_do(
    console: Console,
    retrofit: RelayRetrofit,
    sizing: WireSizing,
    diagnosis: DropDiagnosis,
    loading: SwitchLoading,
) -> None:
    console.print("\n[bold]What to do[/]")
    lines = [retrofit.headline, *(f"- {reason.message}" for reason in retrofit.reasons)]
    if retrofit.advice in {"relay", "mend_then_relay"}:
        lines.append(
            f"Fit it close to the starter: {sizing.size} from the heavy cable, a fuse of "
            f"{number(sizing.fuse_rating_a or 0, 'A')} at the tap, its coil on the old wire."
        )
    lines += [
        f"The readings agree: {', '.join(diagnosis.mend_first) or 'no part'} drops too much, and "
        f"sound it gives the solenoid {diagnosis.regained_v:.2f} V.",
        f"Next on the key switch: {loading.relief[0].name} leaves it with "
        f"{number(loading.relief[0].current_after_a, 'A')} in its worst position.",
        "Prove it: with a helper at the key, measure from terminal 50 to the starter's case "
        "before and after.",
        "What the relay brings with it:",
        *(f"- {risk.message}" for risk in retrofit.new_risks),
    ]
    for line in lines:
        console.print(f"  {line}", markup=False)


def _cautions(console: Console, results: Iterable[Result]) -> None:
    console.print("\n[bold]Cautions[/]")
    for text in dict.fromkeys(text for result in results for text in result.cautions):
        console.print(f"  {text}", markup=False)
