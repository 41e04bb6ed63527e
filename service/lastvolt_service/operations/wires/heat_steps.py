"""Steps that verify a steady temperature of a wire by its heat balance.

They are asked for by hand: a balance is solved by trial, and no formula on the way leads to its
root. What is then told is what the solver's own functions compute there.
"""

from lastvolt_service.laws import named, recording
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.heated_wire import HeatedWire, remembering
from lastvolt_service.physics.heating import balance
from lastvolt_service.rows import Numbers

NOTHING = "left over: nothing, but for rounding"
BALANCE = "heat balance: in the steady state nothing is left over"


def balance_steps(
    steps: Steps,
    wire: HeatedWire,
    *,
    current_a: Numbers,
    conductor_c: Numbers,
    surface_c: Numbers | None = None,
) -> None:
    """Verify a steady temperature: what the current makes is what the surface gives off.

    Parameters
    ----------
    steps : Steps
        Where to.
    wire : HeatedWire
        One, whose numbers remember.
    current_a, conductor_c : float
        Likewise.
    surface_c : float, optional
        Of the insulation, where that was solved, too.
    """
    heat, drop = balance(
        current_a=current_a, conductor_c=conductor_c, wire=wire.physics, surface_c=surface_c
    )
    steps.result("heat_left_w_per_m", named("heat_left_w_per_m", heat, NOTHING, BALANCE), NOTHING)
    if surface_c is not None:
        left = named("conductor_left_k", drop, NOTHING, BALANCE)
        steps.result("conductor_left_k", left, NOTHING)


def limit_balance_steps(steps: Steps, wire: HeatedWire, permissible_model_a: Numbers) -> None:
    """Verify the current that heats a wire to its limit."""
    if wire.limit_c > wire.ambient_c:
        with steps.within("limit_"):
            balance_steps(steps, wire, current_a=permissible_model_a, conductor_c=wire.limit_c)


def told_balance_steps(
    steps: Steps, wire: HeatedWire, prefix: str, current: str, conductor: str
) -> None:
    """Verify the temperature of a wire whose current and temperature have steps, by symbol."""
    if current in steps and conductor in steps:
        with recording(), steps.within(prefix):
            balance_steps(
                steps,
                remembering(wire),
                current_a=steps.number(current),
                conductor_c=steps.number(conductor),
            )
