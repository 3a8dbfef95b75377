"""Valves and outlets by their constant: the flow at a pressure of one (Kv, Cv, "litres a minute at 1 bar")."""

from __future__ import annotations

import math

import numpy as np

from vanwater.quantities import Array, Bore, Density, Flow, OutletConstant, PressureDifference, Ratio, Real

__all__ = ["VALVE_DENSITY", "k_from_valve", "outlet_flow", "outlet_pressure", "valve_from_k"]

VALVE_DENSITY: Density[float] = 999.0
"""Density of the water with which Kv and Cv are measured, 5 to 30 °C [kg/m³]."""

_DYNAMIC = 8.0 / math.pi**2  # ρ v²/2 = (8/π²) ρ Q²/D⁴


def k_from_valve(valve_constant: OutletConstant[Real], bore: Bore[Real]) -> Ratio[Array]:
    """Loss coefficient of a valve from its Kv or Cv.

    Formula: K = π² D⁴ / (8 ρ₀ k²)

    Parameters
    ----------
    valve_constant : float or array
        Kv or Cv as flow at a pressure of one, k [m³/(s·√Pa)].
    bore : float or array
        Bore on which K shall stand, D [m].

    Returns
    -------
    array
        Loss coefficient [-].

    Raises
    ------
    ValueError
        When a bore or a valve constant is not above zero.

    Notes
    -----
    Kv is the flow of cold water in cubic metres an hour that one bar drives, Cv that in US gallons a minute of one psi;
    ρ₀ = 999 kg/m³.

    References
    ----------
    IEC 60534-1 for Kv and Cv; Crane, Flow of Fluids, TP-410M, chapter 2.

    Examples
    --------
    >>> round(float(k_from_valve(1.8 / 3600 / 1e5**0.5, 0.010)), 2)
    4.94
    """
    constant = _positive("valve_constant", valve_constant)
    return _positive("bore", bore) ** 4 / (_DYNAMIC * VALVE_DENSITY * constant**2)


def valve_from_k(k: Ratio[Real], bore: Bore[Real]) -> OutletConstant[Array]:
    """Kv or Cv of a piece whose loss coefficient is known.

    Formula: k = π D² / √(8 ρ₀ K)

    Parameters
    ----------
    k : float or array
        Loss coefficient, K [-].
    bore : float or array
        Bore that K stands on, D [m].

    Returns
    -------
    array
        Flow of cold water at a pressure of one [m³/(s·√Pa)].

    Raises
    ------
    ValueError
        When a bore or a loss coefficient is not above zero.

    Notes
    -----
    ρ₀ = 999 kg/m³, as for ``k_from_valve``.

    References
    ----------
    IEC 60534-1 for Kv and Cv; Crane, Flow of Fluids, TP-410M, chapter 2.

    Examples
    --------
    >>> round(float(valve_from_k(4.94, 0.010)) * 3600 * 1e5**0.5, 2)
    1.8
    """
    return _positive("bore", bore) ** 2 / np.sqrt(_DYNAMIC * VALVE_DENSITY * _positive("k", k))


def outlet_flow(pressure: PressureDifference[Real], outlet_constant: OutletConstant[Real]) -> Flow[Array]:
    """Flow of an open outlet at a pressure.

    Formula: Q = k √p

    Parameters
    ----------
    pressure : float or array
        Gauge pressure before the outlet, p [Pa].
    outlet_constant : float or array
        Flow at a pressure of one, k [m³/(s·√Pa)].

    Returns
    -------
    array
        Flow; none without pressure [m³/s].

    Notes
    -----
    A shower head with a flow regulator is flat above 1 to 2 bar: its legal maximum is no outlet constant.

    References
    ----------
    Orifice law; k from a measured flow at a measured pressure.

    Examples
    --------
    >>> round(float(outlet_flow(1.357e5, 6e-3 / 60 / 1e5**0.5)) * 6e4, 2)
    6.99
    """
    return np.asarray(outlet_constant, dtype=np.float64) * np.sqrt(np.maximum(pressure, 0.0))


def outlet_pressure(flow: Flow[Real], outlet_constant: OutletConstant[Real]) -> PressureDifference[Array]:
    """Pressure that an open outlet needs for a flow.

    Formula: p = (Q / k)²

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    outlet_constant : float or array
        Flow at a pressure of one, k [m³/(s·√Pa)].

    Returns
    -------
    array
        Gauge pressure before the outlet [Pa].

    Raises
    ------
    ValueError
        When an outlet constant is not above zero.

    Notes
    -----
    The outlet's own loss and its exit are in k.

    References
    ----------
    Orifice law; k from a measured flow at a measured pressure.

    Examples
    --------
    >>> round(float(outlet_pressure(6e-3 / 60, 6e-3 / 60 / 1e5**0.5)))
    100000
    """
    return (np.asarray(flow, dtype=np.float64) / _positive("outlet_constant", outlet_constant)) ** 2


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name}: {value} must lie above zero.")
    return values
