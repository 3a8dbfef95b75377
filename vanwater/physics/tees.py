"""Tees and wyes that join or part two flows: their K depends on how the flow divides.

K stands on the bore and the speed of the combined flow. A negative K is meant: the faster stream pulls the
slower one along. Bores of run and branch as in the fitting, not those of the hose beside it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from vanwater.quantities import Angle, Array, Bore, Flow, Ratio, Real

__all__ = ["joining_branch_k", "joining_run_k", "parting_branch_k", "parting_run_k"]

_RIGHT = math.pi / 2


def joining_branch_k(
    run_flow: Flow[Real],
    branch_flow: Flow[Real],
    run_bore: Bore[Real],
    branch_bore: Bore[Real],
    angle: Angle[Real] = _RIGHT,
) -> Ratio[Array]:
    """Loss coefficient from the branch to the combined flow where two flows join.

    Parameters
    ----------
    run_flow : float or array
        Flow that comes straight through, Q_r [m³/s].
    branch_flow : float or array
        Flow that comes in by the branch, Q_b [m³/s].
    run_bore : float or array
        Bore of the straight way, D_r [m].
    branch_bore : float or array
        Bore of the branch, D_b [m].
    angle : float or array
        Angle between branch and run: a right angle in a tee, less in a wye [rad].

    Returns
    -------
    array
        Loss coefficient on the combined flow; negative where the branch is pulled along [-].

    Raises
    ------
    ValueError
        When a flow is negative, both are zero, or a bore is not above zero.

    Notes
    -----
    Piecewise in the share Q_b / (Q_r + Q_b) and in (D_b / D_r)²; for angles of 30 to 90°. Turbulent flow.

    References
    ----------
    Crane, Flow of Fluids, TP-410 (2009 and later), converging tees and wyes, as coded in ``fluids.fittings``.

    Examples
    --------
    >>> round(float(joining_branch_k(3e-4, 1e-4, 0.010, 0.010)), 4)
    -0.0422
    """
    from fluids.fittings import K_branch_converging_Crane

    return _crane(K_branch_converging_Crane, run_flow, branch_flow, run_bore, branch_bore, angle)


def joining_run_k(
    run_flow: Flow[Real],
    branch_flow: Flow[Real],
    run_bore: Bore[Real],
    branch_bore: Bore[Real],
    angle: Angle[Real] = _RIGHT,
) -> Ratio[Array]:
    """Loss coefficient straight through where a second flow joins.

    Parameters
    ----------
    run_flow : float or array
        Flow that comes straight through, Q_r [m³/s].
    branch_flow : float or array
        Flow that comes in by the branch, Q_b [m³/s].
    run_bore : float or array
        Bore of the straight way, D_r [m].
    branch_bore : float or array
        Bore of the branch, D_b [m].
    angle : float or array
        Angle between branch and run: a right angle in a tee, less in a wye [rad].

    Returns
    -------
    array
        Loss coefficient on the combined flow [-].

    Raises
    ------
    ValueError
        When a flow is negative, both are zero, or a bore is not above zero.

    Notes
    -----
    A tee (from 75°): 1.55 s − s² with s = Q_b / (Q_r + Q_b); wyes by the book's table of angles. Turbulent flow.

    References
    ----------
    Crane, Flow of Fluids, TP-410 (2009 and later), converging tees and wyes, as coded in ``fluids.fittings``.

    Examples
    --------
    >>> round(float(joining_run_k(3e-4, 1e-4, 0.010, 0.010)), 4)
    0.325
    """
    from fluids.fittings import K_run_converging_Crane

    return _crane(K_run_converging_Crane, run_flow, branch_flow, run_bore, branch_bore, angle)


def parting_branch_k(
    run_flow: Flow[Real],
    branch_flow: Flow[Real],
    run_bore: Bore[Real],
    branch_bore: Bore[Real],
    angle: Angle[Real] = _RIGHT,
) -> Ratio[Array]:
    """Loss coefficient from the combined flow into the branch where a flow parts.

    Parameters
    ----------
    run_flow : float or array
        Flow that goes on straight through, Q_r [m³/s].
    branch_flow : float or array
        Flow that leaves by the branch, Q_b [m³/s].
    run_bore : float or array
        Bore of the straight way, D_r [m].
    branch_bore : float or array
        Bore of the branch, D_b [m].
    angle : float or array
        Angle between branch and run: a right angle in a tee, less in a wye [rad].

    Returns
    -------
    array
        Loss coefficient on the combined flow [-].

    Raises
    ------
    ValueError
        When a flow is negative, both are zero, or a bore is not above zero.

    Notes
    -----
    Piecewise in the share Q_b / (Q_r + Q_b) and in (D_b / D_r)²; between wye and tee the law changes at 75°.

    References
    ----------
    Crane, Flow of Fluids, TP-410 (2009 and later), diverging tees and wyes, as coded in ``fluids.fittings``.

    Examples
    --------
    >>> round(float(parting_branch_k(4e-4, 2.5e-4, 0.010, 0.010, 0.25 * np.pi)), 4)
    0.4646
    """
    from fluids.fittings import K_branch_diverging_Crane

    return _crane(K_branch_diverging_Crane, run_flow, branch_flow, run_bore, branch_bore, angle)


def parting_run_k(
    run_flow: Flow[Real],
    branch_flow: Flow[Real],
    run_bore: Bore[Real],
    branch_bore: Bore[Real],
    angle: Angle[Real] = _RIGHT,
) -> Ratio[Array]:
    """Loss coefficient straight through where part of a flow leaves by a branch.

    Parameters
    ----------
    run_flow : float or array
        Flow that goes on straight through, Q_r [m³/s].
    branch_flow : float or array
        Flow that leaves by the branch, Q_b [m³/s].
    run_bore : float or array
        Bore of the straight way, D_r [m].
    branch_bore : float or array
        Bore of the branch, D_b [m].
    angle : float or array
        Angle between branch and run: a right angle in a tee, less in a wye [rad].

    Returns
    -------
    array
        Loss coefficient on the combined flow; negative where the run regains pressure [-].

    Raises
    ------
    ValueError
        When a flow is negative, both are zero, or a bore is not above zero.

    Notes
    -----
    Piecewise in the share Q_b / (Q_r + Q_b) and in (D_b / D_r)²; the angle plays no part. Turbulent flow.

    References
    ----------
    Crane, Flow of Fluids, TP-410 (2009 and later), diverging tees and wyes, as coded in ``fluids.fittings``.

    Examples
    --------
    >>> round(float(parting_run_k(4e-4, 2.5e-4, 0.010, 0.010, 0.25 * np.pi)), 4)
    -0.0683
    """
    from fluids.fittings import K_run_diverging_Crane

    return _crane(K_run_diverging_Crane, run_flow, branch_flow, run_bore, branch_bore, angle)


def _crane(
    one_k: Callable[..., float], run_flow: Real, branch_flow: Real, run_bore: Real, branch_bore: Real, angle: Real
) -> Array:
    run, branch = np.asarray(run_flow, dtype=np.float64), np.asarray(branch_flow, dtype=np.float64)
    if np.any(run < 0.0) or np.any(branch < 0.0) or np.any(run + branch <= 0.0):
        raise ValueError(f"run_flow: {run_flow} and branch_flow: {branch_flow} must not be negative, nor both zero.")
    if np.any(np.asarray(run_bore) <= 0.0) or np.any(np.asarray(branch_bore) <= 0.0):
        raise ValueError(f"run_bore: {run_bore} m and branch_bore: {branch_bore} m must lie above zero.")
    every = np.vectorize(one_k, otypes=[np.float64])
    return np.asarray(every(run_bore, branch_bore, run, branch, np.degrees(angle)))
