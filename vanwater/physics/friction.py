"""Friction of water in round hoses and pipes: Darcy-Weisbach, exact Colebrook, a named transition.

The law of this package, named once and used everywhere: *laminar to Re 2000, Colebrook from Re 4000, linear
in Re between* (:func:`friction_factor`). The factor has no jump, so that a solver always finds its root;
what flows in the transition is anyone's guess by some ± 15 % in the factor, whatever the law.
"""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics.friction_law import LAMINAR_LIMIT, TURBULENT_LIMIT, friction_terms
from vanwater.quantities import (
    Array,
    Bore,
    Density,
    Flow,
    Length,
    PressureDifference,
    Ratio,
    Real,
    Roughness,
    Speed,
    Viscosity,
)

__all__ = [
    "LAMINAR_LIMIT",
    "SMOOTH_PLASTIC",
    "TURBULENT_LIMIT",
    "friction_factor",
    "friction_loss",
    "hazen_williams_loss",
    "relative_roughness",
    "reynolds",
    "velocity",
]

SMOOTH_PLASTIC: Roughness[float] = 1.5e-6
"""Roughness of drawn and plastic tube [m]: Moody (1944), Friction Factors for Pipe Flow, drawn tubing."""


def velocity(flow: Flow[Real], bore: Bore[Real]) -> Speed[Array]:
    """Mean speed of the water in a round bore; its sign follows the flow.

    Formula: v = 4 Q / (π D²)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    bore : float or array
        Inside diameter, D [m].

    Returns
    -------
    array
        Mean speed, v [m/s].

    Raises
    ------
    ValueError
        When a bore is not above zero.

    References
    ----------
    Continuity; Crane Co. (2009), Technical Paper 410M, chapter 1.

    Examples
    --------
    >>> round(float(velocity(1e-4, 0.010)), 3)
    1.273
    """
    return np.asarray(flow) * (4.0 / math.pi) / _positive("bore", bore) ** 2


def reynolds(flow: Flow[Real], bore: Bore[Real], density: Density[Real], viscosity: Viscosity[Real]) -> Ratio[Array]:
    """Reynolds number of the flow in a round bore.

    Formula: Re = 4 ρ |Q| / (π D μ)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    bore : float or array
        Inside diameter, D [m].
    density : float or array
        Density of the water, ρ [kg/m³].
    viscosity : float or array
        Dynamic viscosity of the water, μ [Pa·s].

    Returns
    -------
    array
        Reynolds number, never negative [-].

    Raises
    ------
    ValueError
        When bore, density or viscosity is not above zero.

    References
    ----------
    Crane Co. (2009), Technical Paper 410M, chapter 1.

    Examples
    --------
    >>> round(float(reynolds(1e-4, 0.010, 999.1, 1.138e-3)))
    11178
    """
    inertia = np.abs(flow) * _positive("density", density) * (4.0 / math.pi)
    return np.asarray(inertia / (_positive("bore", bore) * _positive("viscosity", viscosity)))


def relative_roughness(roughness: Roughness[Real], bore: Bore[Real]) -> Ratio[Array]:
    """Roughness of the wall as a share of the bore.

    Formula: ε / D

    Parameters
    ----------
    roughness : float or array
        Roughness of the wall, ε [m].
    bore : float or array
        Inside diameter, D [m].

    Returns
    -------
    array
        Relative roughness [-].

    Raises
    ------
    ValueError
        When a bore is not above zero, a roughness is negative, or half the bore or more: it would close the bore.

    References
    ----------
    Moody (1944), Friction Factors for Pipe Flow, Transactions of the ASME 66.

    Examples
    --------
    >>> round(float(relative_roughness(1.5e-6, 0.010)), 6)
    0.00015
    """
    share = _not_negative("roughness", roughness) / _positive("bore", bore)
    if not np.all(share < 0.5):
        raise ValueError(f"roughness is {float(np.max(share)):g} of the bore; expected below half of it everywhere.")
    return share


def friction_factor(reynolds: Ratio[Real], relative_roughness: Ratio[Real]) -> Ratio[Array]:
    """Darcy's friction factor: laminar, Colebrook, and linear in Re between 2000 and 4000.

    Formula: f = 64/Re to 2000; 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51/(Re √f)) from 4000; linear in Re between

    Parameters
    ----------
    reynolds : float or array
        Reynolds number, Re [-].
    relative_roughness : float or array
        Relative roughness, ε/D [-].

    Returns
    -------
    array
        Darcy friction factor, f [-]; infinite at Re 0 (the loss there is zero).

    Raises
    ------
    ValueError
        When a Reynolds number or a roughness is negative.

    Notes
    -----
    Colebrook's root is exact to 1e-10 up to Re 1e8 and relative roughness 0.05. The straight transition is
    a convention: real flow between 2000 and 4000 is unsteady and depends on the inlet.

    References
    ----------
    Hagen-Poiseuille; Colebrook (1939), Turbulent Flow in Pipes, Journal of the ICE 11; Clamond (2009), Efficient
    Resolution of the Colebrook Equation, Ind. Eng. Chem. Res. 48. The straight transition: this package.

    Examples
    --------
    >>> friction_factor(np.array([1000.0, 3000.0, 1e5]), 1e-4).round(6).tolist()
    [0.064, 0.036004, 0.018514]
    """
    re, rough = np.broadcast_arrays(
        _not_negative("reynolds", reynolds), _not_negative("relative_roughness", relative_roughness)
    )
    drag = friction_terms(re, rough).drag
    factor: Array = np.divide(drag, re, out=np.full(drag.shape, np.inf), where=re > 0.0)
    return factor


def friction_loss(
    flow: Flow[Real],
    bore: Bore[Real],
    length: Length[Real],
    roughness: Roughness[Real],
    density: Density[Real],
    viscosity: Viscosity[Real],
    friction_multiplier: Ratio[Real] = 1.0,
) -> PressureDifference[Array]:
    """Pressure lost by friction along a round run; its sign follows the flow.

    Formula: Δp = k f (L/D) ρ v |v| / 2

    Parameters
    ----------
    flow : float or array
        Flow, Q = v π D²/4 [m³/s].
    bore : float or array
        Inside diameter, D [m].
    length : float or array
        Length of the run, L [m].
    roughness : float or array
        Roughness of the wall, ε [m].
    density : float or array
        Density of the water, ρ [kg/m³].
    viscosity : float or array
        Dynamic viscosity of the water, μ [Pa·s].
    friction_multiplier : float or array
        Friction of this hose against a straight one with that roughness, k [-]: corrugated or coiled hose above 1,
        as its maker measured it.

    Returns
    -------
    array
        Pressure lost in the direction of flow, Δp [Pa].

    Raises
    ------
    ValueError
        When bore, density or viscosity is not above zero, length or roughness is negative, or the multiplier below
        1: no hose loses less than a straight one.

    Notes
    -----
    f by :func:`friction_factor`. Fully developed flow: the first 50 bores behind an inlet or a bend lose more.

    References
    ----------
    Darcy-Weisbach; Crane Co. (2009), Technical Paper 410M, equation 1-4.

    Examples
    --------
    >>> round(float(friction_loss(1e-4, 0.010, 2.0, 1.5e-6, 999.1, 1.138e-3)))
    4897
    """
    re, rough = np.broadcast_arrays(reynolds(flow, bore, density, viscosity), relative_roughness(roughness, bore))
    # Δp = k (f Re) (L/D) μ v / (2 D): no division by the flow
    drag = friction_terms(re, rough).drag * _one_or_above("friction_multiplier", friction_multiplier)
    viscous = np.asarray(viscosity) * velocity(flow, bore) / (2.0 * np.asarray(bore) ** 2)
    return np.asarray(drag * viscous * _not_negative("length", length))


def hazen_williams_loss(
    flow: Flow[Real], bore: Bore[Real], length: Length[Real], coefficient: Ratio[Real], density: Density[Real]
) -> PressureDifference[Array]:
    """Pressure lost along a run by Hazen and Williams, to compare with published tables of plastic tube.

    Formula: Δp = ρ g 10.667 L |Q|^1.852 / (C^1.852 D^4.871)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    bore : float or array
        Inside diameter, D [m].
    length : float or array
        Length of the run, L [m].
    coefficient : float or array
        Hazen-Williams coefficient, C [-]: 150 for plastic tube.
    density : float or array
        Density of the water, ρ [kg/m³].

    Returns
    -------
    array
        Pressure lost in the direction of flow, Δp [Pa].

    Raises
    ------
    ValueError
        When bore, coefficient or density is not above zero, or a length is negative.

    Notes
    -----
    Empirical, for cold water in bores above 50 mm at about 1 m/s. At a van's flows (4 to 15 L/min in half-inch
    tube) it lies 20 to 7 % below Darcy-Weisbach, and it knows no laminar flow: for comparison only, nothing else
    here uses it.

    References
    ----------
    Hazen, Williams (1905), Hydraulic Tables; constant in SI units as in Rossman (2000), EPANET 2 Users Manual,
    table 3.1 (4.727 in feet and cubic feet a second).

    Examples
    --------
    >>> round(float(hazen_williams_loss(1e-4, 0.010, 2.0, 150.0, 999.1)))
    4208
    """
    q = np.asarray(flow, dtype=float)
    head = 10.667 * np.abs(q) ** 1.852 / (_positive("coefficient", coefficient) ** 1.852)
    head = head * _not_negative("length", length) / _positive("bore", bore) ** 4.871
    return np.asarray(np.copysign(head * _positive("density", density) * 9.80665, q))


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=float)
    if not np.all(values > 0.0):
        raise ValueError(f"{name} is {float(np.min(values)):g}; expected above zero everywhere.")
    return values


def _not_negative(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=float)
    if not np.all(values >= 0.0):
        raise ValueError(f"{name} is {float(np.min(values)):g}; expected zero or above everywhere.")
    return values


def _one_or_above(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=float)
    if not np.all(values >= 1.0):
        raise ValueError(f"{name} is {float(np.min(values)):g}; expected 1 or above everywhere.")
    return values
