"""Small losses: elbows, tees, inserts, reducers, valves, strainers. A loss coefficient K and the bore it stands on.

K always belongs to a bore: the same elbow has K 2 on the bore of its insert and K 6 on the bore of its hose.
A constant K and a constant equivalent length part company over a van's range of flows: say which is kept.
"""

from __future__ import annotations

import math

import numpy as np

from vanwater.quantities import (
    Array,
    Bore,
    Density,
    Flow,
    Length,
    PressureDifference,
    Ratio,
    Real,
)

__all__ = [
    "equivalent_length",
    "k_from_length",
    "k_from_loss",
    "k_loss",
    "k_on_bore",
    "sudden_contraction_k",
    "sudden_enlargement_k",
]

_DYNAMIC = 8.0 / math.pi**2  # ρ v²/2 = (8/π²) ρ Q²/D⁴


def k_loss(flow: Flow[Real], bore: Bore[Real], k: Ratio[Real], density: Density[Real]) -> PressureDifference[Array]:
    """Pressure lost at a fitting; its sign follows the flow.

    Formula: Δp = K ρ v |v| / 2

    Parameters
    ----------
    flow : float or array
        Flow, Q = v π D²/4 [m³/s].
    bore : float or array
        Bore that K stands on, D [m].
    k : float or array
        Loss coefficient, K; negative where a branch pulls [-].
    density : float or array
        Density of the water, ρ [kg/m³].

    Returns
    -------
    array
        Pressure lost in the direction of flow, Δp [Pa].

    Raises
    ------
    ValueError
        When a bore is not above zero.

    Notes
    -----
    K is taken as constant: right in turbulent flow, too low in laminar trickles.

    References
    ----------
    Crane, Flow of Fluids, TP-410, chapter 2, resistance coefficient.

    Examples
    --------
    >>> round(float(k_loss(1e-4, 0.010, 9.0, 999.5)))
    7291
    """
    through = np.asarray(flow, dtype=np.float64)
    return _DYNAMIC * np.asarray(k, dtype=np.float64) * density * through * np.abs(through) / _bore(bore) ** 4


def k_from_loss(
    loss: PressureDifference[Real], flow: Flow[Real], bore: Bore[Real], density: Density[Real]
) -> Ratio[Array]:
    """Loss coefficient of a fitting, strainer or filter from its pressure loss at one flow.

    Formula: K = 2 Δp / (ρ v²)

    Parameters
    ----------
    loss : float or array
        Pressure lost at that flow, Δp [Pa].
    flow : float or array
        Flow at which it was measured, Q = v π D²/4 [m³/s].
    bore : float or array
        Bore on which K shall stand, D [m].
    density : float or array
        Density of the water, ρ [kg/m³].

    Returns
    -------
    array
        Loss coefficient [-].

    Raises
    ------
    ValueError
        When a bore or a flow is not above zero.

    Notes
    -----
    A filter's loss rises less than with the square of the flow: below the measured flow this K is too low.

    References
    ----------
    Definition of the resistance coefficient, Crane, Flow of Fluids, TP-410, chapter 2.

    Examples
    --------
    >>> round(float(k_from_loss(7291.0, 1e-4, 0.010, 999.5)), 2)
    9.0
    """
    through = np.asarray(flow, dtype=np.float64)
    if np.any(through <= 0.0):
        raise ValueError(f"flow: {flow} m³/s must lie above zero where a loss was measured.")
    return np.asarray(loss, dtype=np.float64) * _bore(bore) ** 4 / (_DYNAMIC * density * through**2)


def k_on_bore(k: Ratio[Real], bore: Bore[Real], other_bore: Bore[Real]) -> Ratio[Array]:
    """The same loss coefficient referred from one bore to another.

    Formula: K₂ = K (D₂ / D)⁴

    Parameters
    ----------
    k : float or array
        Loss coefficient on its own bore, K [-].
    bore : float or array
        Bore that K stands on, say that of the insert, D [m].
    other_bore : float or array
        Bore it shall stand on, say that of the hose, D₂ [m].

    Returns
    -------
    array
        Loss coefficient on the other bore [-].

    Raises
    ------
    ValueError
        When a bore is not above zero.

    Notes
    -----
    An insert of 7 mm in a 10 mm hose multiplies its K by four.

    References
    ----------
    Crane, Flow of Fluids, TP-410, equation 2-5 (change of the reference bore).

    Examples
    --------
    >>> round(float(k_on_bore(2.0, 0.007, 0.010)), 2)
    8.33
    """
    return np.asarray(k, dtype=np.float64) * (_bore(other_bore) / _bore(bore)) ** 4


def equivalent_length(k: Ratio[Real], bore: Bore[Real], friction_factor: Ratio[Real]) -> Length[Array]:
    """Length of straight run that loses as much as a fitting.

    Formula: L = K D / f

    Parameters
    ----------
    k : float or array
        Loss coefficient on the run's bore, K [-].
    bore : float or array
        Bore of the run, D [m].
    friction_factor : float or array
        Darcy's friction factor of the run at the flow in question, f [-].

    Returns
    -------
    array
        Equivalent length [m].

    Raises
    ------
    ValueError
        When a bore or a friction factor is not above zero.

    Notes
    -----
    Holds at one flow only, since f changes with it.

    References
    ----------
    Crane, Flow of Fluids, TP-410, equation 2-4.

    Examples
    --------
    >>> round(float(equivalent_length(3.6, 0.154, 0.015)), 1)
    37.0
    """
    return np.asarray(k, dtype=np.float64) * _bore(bore) / _bore(friction_factor, "friction_factor")


def k_from_length(length: Length[Real], bore: Bore[Real], friction_factor: Ratio[Real]) -> Ratio[Array]:
    """Loss coefficient of a fitting given as a length of straight run.

    Formula: K = f L / D

    Parameters
    ----------
    length : float or array
        Equivalent length, L [m].
    bore : float or array
        Bore of the run, D [m].
    friction_factor : float or array
        Darcy's friction factor of the run at the flow in question, f [-].

    Returns
    -------
    array
        Loss coefficient on the run's bore [-].

    Raises
    ------
    ValueError
        When a bore or a friction factor is not above zero.

    Notes
    -----
    Holds at one flow only, since f changes with it.

    References
    ----------
    Crane, Flow of Fluids, TP-410, equation 2-4.

    Examples
    --------
    >>> round(float(k_from_length(2.86, 0.0121, 0.028)), 2)
    6.62
    """
    return np.asarray(length, dtype=np.float64) / _bore(bore) * _bore(friction_factor, "friction_factor")


def sudden_contraction_k(bore: Bore[Real], wide_bore: Bore[Real]) -> Ratio[Array]:
    """Loss coefficient of a sudden contraction, on the narrow bore.

    Formula: K = (1 − (D / D_wide)²) / 2

    Parameters
    ----------
    bore : float or array
        Narrow bore, D [m].
    wide_bore : float or array
        Wide bore before it, D_wide [m].

    Returns
    -------
    array
        Loss coefficient on the narrow bore: 0.5 out of a tank [-].

    Raises
    ------
    ValueError
        When a bore is not above zero or the wide one is the narrower.

    Notes
    -----
    Sharp edge; a rounded one loses next to nothing.

    References
    ----------
    Crane, Flow of Fluids, TP-410, appendix A-26, sudden contraction at 180°.

    Examples
    --------
    >>> round(float(sudden_contraction_k(0.007, 0.010)), 3)
    0.255
    """
    return 0.5 * (1.0 - _area_ratio(bore, wide_bore))


def sudden_enlargement_k(bore: Bore[Real], wide_bore: Bore[Real]) -> Ratio[Array]:
    """Loss coefficient of a sudden enlargement, on the narrow bore.

    Formula: K = (1 − (D / D_wide)²)²

    Parameters
    ----------
    bore : float or array
        Narrow bore, D [m].
    wide_bore : float or array
        Wide bore behind it, D_wide [m].

    Returns
    -------
    array
        Loss coefficient on the narrow bore: 1 into a tank [-].

    Raises
    ------
    ValueError
        When a bore is not above zero or the wide one is the narrower.

    Notes
    -----
    Sudden step; a cone of 7 to 15° loses a fifth of it.

    References
    ----------
    Borda-Carnot; Crane, Flow of Fluids, TP-410, appendix A-26, sudden enlargement at 180°.

    Examples
    --------
    >>> round(float(sudden_enlargement_k(0.007, 0.010)), 3)
    0.26
    """
    return (1.0 - _area_ratio(bore, wide_bore)) ** 2


def _bore(bore: Real, name: str = "bore") -> Array:
    values = np.asarray(bore, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name}: {bore} must lie above zero.")
    return values


def _area_ratio(bore: Real, wide_bore: Real) -> Array:
    ratio = _bore(bore) / _bore(wide_bore, "wide_bore")
    if np.any(ratio > 1.0):
        raise ValueError(f"wide_bore: {wide_bore} m is narrower than bore {bore} m.")
    return ratio**2
