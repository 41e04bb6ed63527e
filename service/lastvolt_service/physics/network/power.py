"""Loads of constant power behind a resistive network, seen from their own terminals."""

import numpy as np

from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.network.loops import stacked_solve
from lastvolt_service.physics.path import power_load_voltages

# Of the full power: a fold closer than this to the last point found ends the search.
_SMALLEST_STEP = 1e-6
_NEWTON_LIMIT = 100
# The Jacobian may be this far from positive definite, so that the fold itself, where the highest
# power is had, counts as an operating point.
_FOLD_MARGIN = 1e-9
# One load alone has its highest power within this share of it: rounding of a root's inside.
_FOLD_ROUNDING = 5e-13
_STACKED_LIMIT = 40


def stable_voltages(
    *, open_circuit_v: FloatArray, coupling_ohm: FloatArray, power_w: FloatArray
) -> tuple[FloatArray, float]:
    """Voltages at which several loads of constant power rest, the highest there are.

    Parameters
    ----------
    open_circuit_v : ndarray, shape (loads,)
        Voltage at each load's terminals while these loads take no current; above zero. [V]
    coupling_ohm : ndarray, shape (loads, loads)
        Drop at each load's terminals per ampere taken by each. [ohm]
    power_w : ndarray, shape (loads,)
        Power of each load; above zero. [W]

    Returns
    -------
    voltage_v : ndarray, shape (loads,)
        Voltage at each load; NaN where there is no operating point. [V]
    share : float
        1, or the share of all powers up to which an operating point was found.

    Notes
    -----
    ``V = V_open - Z (P / V)``. Stable means that ``1 - Z diag(P / V**2)`` has positive
    eigenvalues only: a little less voltage is then answered by less drop. For a symmetric Z of a
    passive network there is at most one such solution, because ``Z**-1 - diag(P / V**2)`` is the
    Hessian of ``(V - V_open)' Z**-1 (V - V_open) / 2 + sum(P log V)`` and the voltages at which it
    is positive definite form a convex set.

    Newton starts from each load's own stable voltage, as if it were alone. Loads on a common
    ground only lower each other's voltage; then the start lies above the solution and Newton
    descends to it without passing it, so that leaving the stable set proves that there is none.
    For the rare loads that raise each other's voltage the powers are brought up from zero by
    steps that shrink before the fold.
    """
    voltage_v, share, step = open_circuit_v, 0.0, 1.0
    while share < 1.0:
        power_now_w = (share + step) * power_w
        start_v = voltage_v
        if share == 0.0:
            alone_v, _ = power_load_voltages(
                supply_v=open_circuit_v,
                path_resistance_ohm=np.diagonal(coupling_ohm),
                load_power_w=power_now_w,
            )
            start_v = np.where(np.isfinite(alone_v), alone_v, open_circuit_v)
        found_v = _newton(open_circuit_v, coupling_ohm, power_now_w, start_v)
        if found_v is not None:
            voltage_v, share = found_v, share + step
        elif step <= _SMALLEST_STEP:
            return np.full_like(open_circuit_v, np.nan), share
        else:
            step *= 0.5
    return voltage_v, 1.0


def _newton(
    open_circuit_v: FloatArray, coupling_ohm: FloatArray, power_w: FloatArray, voltage_v: FloatArray
) -> FloatArray | None:
    """Follow Newton's steps inside the stable set; None where they leave it."""
    identity = np.eye(len(power_w))
    rounding = 4.0 * (len(power_w) + 1) * np.finfo(float).eps
    for _ in range(_NEWTON_LIMIT):
        drop_v = coupling_ohm @ (power_w / voltage_v)
        excess_v = voltage_v - open_circuit_v + drop_v
        # Scaled to be symmetric: the same eigenvalues as the Jacobian.
        root = np.sqrt(power_w) / voltage_v
        scaled = identity - root[:, None] * coupling_ohm * root
        scale_v = voltage_v + np.abs(open_circuit_v) + np.abs(drop_v)
        converged = bool(np.all(np.abs(excess_v) <= rounding * scale_v))
        if not _positive_definite(scaled + (_FOLD_MARGIN if converged else 0.0) * identity):
            return None
        if converged:
            return voltage_v
        voltage_v = voltage_v - np.linalg.solve(scaled, root * excess_v) / root
        if not np.all(voltage_v > 0.0):
            return None
    return None


def _positive_definite(matrix: FloatArray) -> bool:
    try:
        np.linalg.cholesky(matrix)
    except np.linalg.LinAlgError:
        return False
    return True


def stacked_voltages(
    *, open_circuit_v: FloatArray, coupling_ohm: FloatArray, power_w: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Find the voltages of `stable_voltages` for many scenarios at once.

    Parameters
    ----------
    open_circuit_v, power_w : ndarray, shape (scenarios, loads)
        [V], [W]
    coupling_ohm : ndarray, shape (scenarios, loads, loads)
        [ohm]

    Returns
    -------
    voltage_v : ndarray, shape (scenarios, loads)
        NaN where there is no operating point. [V]
    share : ndarray, shape (scenarios,)
        As of `stable_voltages`.
    """
    own_ohm = np.diagonal(coupling_ohm, axis1=1, axis2=2)
    alone_v = np.asarray(
        power_load_voltages(
            supply_v=open_circuit_v, path_resistance_ohm=own_ohm, load_power_w=power_w
        )[0]
    )
    lost = np.isnan(alone_v)
    if power_w.shape[1] == 1:
        short = lost[:, 0]
        if not short.any():
            return alone_v, np.ones(len(alone_v))
        with np.errstate(divide="ignore"):
            share = (open_circuit_v**2 / (4.0 * power_w * own_ohm))[:, 0]
        fold = short & (share >= 1.0 - _FOLD_ROUNDING)
        found = np.where(fold[:, None], 0.5 * open_circuit_v, alone_v)
        return found, np.where(short & ~fold, share, 1.0)
    voltage_v = np.where(lost, open_circuit_v, alone_v)
    root = np.sqrt(power_w)
    identity = np.eye(power_w.shape[1])
    rounding = 4.0 * (power_w.shape[1] + 1) * np.finfo(float).eps
    open_ = np.ones(len(power_w), dtype=np.bool_)
    with np.errstate(all="ignore"):
        for _ in range(_STACKED_LIMIT):
            drop_v = (coupling_ohm @ (power_w / voltage_v)[:, :, None])[:, :, 0]
            excess_v = voltage_v - open_circuit_v + drop_v
            scale_v = voltage_v + np.abs(open_circuit_v) + np.abs(drop_v)
            open_ = np.any(np.abs(excess_v) > rounding * scale_v, axis=1)
            if not open_.any():
                break
            weight = root / voltage_v
            scaled = identity - weight[:, :, None] * coupling_ohm * weight[:, None, :]
            step_v = (
                stacked_solve(matrices=scaled, rights=(weight * excess_v)[:, :, None])[:, :, 0]
                / weight
            )
            voltage_v = np.where(open_[:, None], voltage_v - step_v, voltage_v)
        weight = root / voltage_v
        scaled = identity - weight[:, :, None] * coupling_ohm * weight[:, None, :]
    sure = ~open_ & np.all(voltage_v > 0.0, axis=1)
    sure[sure] = np.linalg.eigvalsh(scaled[sure])[:, 0] > 0.0
    share = np.ones(len(power_w))
    # Newton from loads alone may leave the stable set without proof: the careful search decides.
    for row in np.flatnonzero(~sure).tolist():
        voltage_v[row], share[row] = stable_voltages(
            open_circuit_v=open_circuit_v[row],
            coupling_ohm=coupling_ohm[row],
            power_w=power_w[row],
        )
    return voltage_v, share
